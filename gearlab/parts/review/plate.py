"""What can be wrong on the plate: units, holes, edges, margins."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from itertools import combinations
from typing import Any

from gearlab.theory.units import MM_PER_INCH

from ..design import Design, GearTable
from ..plate import Hole
from .advice import Advised, Way
from .finding import Held, Outcome, Unmade, both, said, up
from .ledger import Check
from .moves import EDGE, housed, places_told, spaced, tip_radii, told
from .room import SAME
from .standings import standings

#: Between two holes, in diameters of the smaller one (common practice).
LEAST_WALL = 0.5
#: A plate that is so many times as large as what stands on it was written in another unit.
TOO_LARGE, TOO_SMALL = 12.0, 5.0
#: Between what a plate measures and what its gears need, where a factor of 25.4 explains the difference.
_STEEL_RULE = MM_PER_INCH
_NAMES = {"mm": "millimetres", "in": "inches"}


# -- units -------------------------------------------------------------------------------------------------
def _units(design: Design) -> Iterator[Outcome]:
    yield from _plate_units(design)
    for table in design.gear:
        gear = design.toothed[table.name]
        if gear.unit == design.unit:
            yield Held(table.name, f"its teeth are given in the file's unit, {design.unit}")
            continue
        yield Advised(
            "units-look-mixed",
            "will not work",
            table.name,
            f"its size is given as {_size(table)}, the file is in {_NAMES[design.unit]}.",
            "A file has one unit.",
            "A module and a diametral pitch never mesh, and sizes are off by 25.4.",
            design=design,
            ways=partial(_ways_to_own_unit, design, table),
            otherwise="Give the gear's size in the unit of the file.",
        )


def _size(table: GearTable) -> str:
    return (
        f"module {said(table.module, 'mm')}"
        if table.module is not None
        else f"a diametral pitch of {said(table.diametral_pitch or 0.0)} to the inch"
    )


def _ways_to_own_unit(design: Design, table: GearTable) -> list[Iterator[Way]]:
    return [_own_unit(design, table)]


def _own_unit(design: Design, table: GearTable) -> Iterator[Way]:
    """The size of a mate in the file's unit; else that of another gear of it, or what comes out by 25.4."""
    word, other = ("module", "diametral_pitch") if design.unit == "mm" else ("diametral_pitch", "module")
    mates = [
        design.of(name)
        for pair in design.mesh
        if table.name in (pair.driver, pair.driven)
        for name in (pair.driver, pair.driven)
        if name != table.name
    ]
    sizes: list[float] = [
        getattr(mate, word) for mate in (*mates, *design.gear) if getattr(mate, word) is not None
    ]
    sizes.append(round(_STEEL_RULE / getattr(table, other), 4))
    for size in dict.fromkeys(sizes):
        text = f"module {said(size, 'mm')}" if word == "module" else f"diametral pitch {said(size)}"
        edits: dict[str, Any] = {word: size, other: None}
        yield Way(f"Give it {text}", {"gear": {table.name: edits}})
    everywhere = {
        gear.name: {word: round(_STEEL_RULE / getattr(gear, other), 4), other: None}
        for gear in design.gear
        if getattr(gear, other) is not None
    }
    yield Way(f"Give the {word.replace('_', ' ')} of all gears", {"gear": everywhere})


def _plate_units(design: Design) -> Iterator[Outcome]:
    """Whether the plate is one that its gears could stand on."""
    radii = tip_radii(design)
    if design.plate is None or not radii:
        return
    unit, size = design.unit, max(design.plate.length, design.plate.height)
    largest = 2 * max(radii.values())
    reach = max(
        max(place) + radius for name, radius in radii.items() for place in [design.shaft_of(name).place]
    )
    small, large = size < largest / TOO_SMALL, size > 60 * largest or (reach > 0 and size > TOO_LARGE * reach)
    if not small and not large:
        yield Held(
            "the plate",
            f"it is of the size of its gears: largest gear {said(largest, unit)}, plate",
            size,
            largest / TOO_SMALL,
            unit,
        )
        return
    factor = _STEEL_RULE if small else 1 / _STEEL_RULE
    yield Advised(
        "units-look-mixed",
        "will not work",
        "the plate",
        f"it measures {said(size, unit)}, the largest gear {said(largest, unit)}.",
        "A plate is usually one to ten gears long.",
        "Somewhere inches and millimetres were exchanged: a factor of 25.4.",
        design=design,
        ways=lambda: [_other_plate(design, factor)],
        otherwise="Check the unit of the file against a line of known length.",
    )


def _other_plate(design: Design, factor: float) -> Iterator[Way]:
    table, unit, places = design.on_plate, design.unit, 1 if design.unit == "mm" else 3
    sizes = {word: round(getattr(table, word) * factor, places) for word in ("length", "height")}
    for edit in (
        {"plate": sizes},
        {"plate": sizes | {"thickness": round(table.thickness * factor, places + 1)}},
    ):
        edit = dict(housed(design, edit))
        sizes_told = (
            f"{said(edit['plate']['length'], unit)} long and {said(edit['plate']['height'], unit)} high"
        )
        yield Way(f"Make the plate {sizes_told}", edit)


# -- holes -------------------------------------------------------------------------------------------------
def _hole(design: Design, hole: Hole) -> Hole:
    """A hole as it was measured, where it was."""
    reading = design.reading(hole.name, "hole")
    return hole if reading is None else Hole(hole.name, hole.x, hole.y, reading.value)


def _edges(design: Design) -> Iterator[Outcome]:
    if design.plate is None:
        for shaft in design.standing:
            give = "add [plate] with length, height and thickness"
            yield Unmade(
                f"hole {shaft.name}", "material to the edge", "there is no plate", give, decisive=True
            )
        return
    unit = design.unit
    for hole in (_hole(design, hole) for hole in design.holes):
        left, where = design.board.edge_distance(hole) - hole.diameter / 2, f"hole {hole.name}"
        least = EDGE * hole.diameter
        if left >= least - 1e-9:
            yield Held(where, "material to the edge of the plate", left, least, unit)
            continue
        broken = left <= 0
        value, limit = both(left, least, unit)
        yield Advised(
            "hole-breaks-edge" if broken else "hole-near-edge",
            "will not work" if broken else "will trouble",
            where,
            f"it comes {said(-left, unit)} over the edge of the plate."
            if broken
            else f"{value} of material are left to the edge.",
            f"A diameter, {limit}, should be left.",
            "There is no hole any more."
            if broken
            else "The plate splits there; acrylic and wood do so easily.",
            design=design,
            ways=lambda: [_larger_plate(design)],
            otherwise="Take a larger plate, or move the hole inwards.",
        )


def _larger_plate(design: Design, tips: bool = False) -> Iterator[Way]:
    """The plate grown, at its lower edges by moving all shafts alike: no spacing changes."""
    edit = dict(housed(design, {}, tips))
    if not edit:
        return
    moved = edit.get("shaft", {})
    plate = told(design, {"plate": edit["plate"]}).removeprefix(" and ")
    says = plate[0].upper() + plate[1:]
    if moved:
        name, fields = next(iter(moved.items()))
        shaft = next(shaft for shaft in design.shaft if shaft.name == name)
        steps = [
            f"{said(fields[axis] - getattr(shaft, axis), design.unit)} to the {way}"
            for axis, way in (("x", "right"), ("y", "top"))
            if axis in fields
        ]
        says += f", and move all shafts {' and '.join(steps)}: their spacing stays"
    yield Way(says, edit)


def _between(design: Design) -> Iterator[Outcome]:
    unit = design.unit
    holes = [_hole(design, hole) for hole in design.holes]
    for hole, other in combinations(holes, 2):
        apart = ((hole.x - other.x) ** 2 + (hole.y - other.y) ** 2) ** 0.5
        wall, least = (
            apart - (hole.diameter + other.diameter) / 2,
            LEAST_WALL * min(hole.diameter, other.diameter),
        )
        where = f"holes {hole.name} and {other.name}"
        if apart <= SAME:
            continue  # shafts in one place are looked at by themselves
        if wall >= least - 1e-9:
            yield Held(where, "material between them", wall, least, unit)
            continue
        meet = wall <= 0
        value, limit = both(wall, least, unit)
        yield Advised(
            "holes-meet" if meet else "holes-near",
            "will not work" if meet else "will trouble",
            where,
            f"they stand {said(apart, unit)} apart and meet."
            if meet
            else f"{value} of material are left between them.",
            f"Their radii make {said(apart - wall, unit)}."
            if meet
            else f"Half a diameter, {limit}, should be left.",
            "Neither shaft is held." if meet else "The plate breaks out between them.",
            design=design,
            ways=partial(_where_meshes_want, design, (hole.name, other.name)),
            otherwise="Look at the coordinates: one of them is wrong.",
        )


def _where_meshes_want(design: Design, shafts: tuple[str, str]) -> Iterator[list[Way]]:
    """A mesh of one of them that is not at its spacing set right."""
    ways = []
    for standing in standings(design):
        distance = standing.wanted_distance
        if {design.of(name).shaft for name in standing.names} & set(shafts) and distance is not None:
            pair = standing.pair
            edit = spaced(design, pair.driver, pair.driven, distance)
            says = (
                f"Set {pair.driver} and {pair.driven} {said(distance, design.unit)} apart{told(design, edit)}"
            )
            ways.append(Way(says, edit))
    yield ways
    for name, other in (shafts, shafts[::-1]):
        if not design.on(name):
            yield list(_moved_away(design, name, other))


def _moved_away(design: Design, name: str, other: str) -> Iterator[Way]:
    """A shaft that carries nothing set further from another: straight away from it, then to other sides."""
    rods = {shaft.name: shaft for shaft in design.standing}
    (x, y), (left, low) = rods[name].place, rods[other].place
    # room for both, for the wall between them, and for a gear on the other one
    radius = max(
        [rods[other].diameter / 2, *(tip_radii(design).get(on.name, 0.0) for on in design.on(other))]
    )
    angle = math.atan2(y - low, x - left)
    for least in (rods[other].diameter / 2, radius):
        distance = up(least + (0.5 + LEAST_WALL) * rods[name].diameter, design.unit)
        for turn in (0, 45, -45, 90, -90, 135, -135, 180):
            along = angle + math.radians(turn)
            place = {
                "x": round(left + distance * math.cos(along), 2),
                "y": round(low + distance * math.sin(along), 2),
            }
            edit = housed(design, {"shaft": {name: place}})
            yield Way(f"Set shaft {places_told(design, edit, [name])}{told(design, edit)}", edit)


# -- margins -----------------------------------------------------------------------------------------------
def _margins(design: Design) -> Iterator[Outcome]:
    """Nothing that a file knows stands beside a plate: what reaches over its edge is worth knowing."""
    radii, unit = tip_radii(design), design.unit
    if design.plate is None:
        return
    for table in design.gear:
        if table.name not in radii:
            give = "give its size in the unit of the file"
            yield Unmade(table.name, "margin to the edge of the plate", "its size is in another unit", give)
            continue
        tip, (x, y) = radii[table.name], design.shaft_of(table.name).place
        over = {
            "left": tip - x,
            "right": x + tip - design.board.length,
            "lower": tip - y,
            "upper": y + tip - design.board.height,
        }
        side = max(over, key=lambda edge: over[edge])
        if over[side] <= 1e-9:
            yield Held(table.name, "its tips stay within the plate by", max(-over[side], 0.0), 0.0, unit)
            continue
        yield Advised(
            "tips-over-edge",
            "worth knowing",
            table.name,
            f"its tips stand {said(over[side], unit)} over the {side} edge.",
            "Within the plate nothing meets them.",
            "They may meet the bench, a guard or a hand, should one be there.",
            design=design,
            ways=lambda: [_larger_plate(design, tips=True)],
            otherwise="Take a larger plate, or leave the place beside it free.",
        )


CHECKS = (
    Check("units", "Is everything in one unit?", ("units-look-mixed",), _units),
    Check(
        "edges",
        "Is there material between each hole and the edge?",
        ("hole-breaks-edge", "hole-near-edge"),
        _edges,
    ),
    Check(
        "material between holes",
        "Is there material between the holes?",
        ("holes-meet", "holes-near"),
        _between,
    ),
    Check("margins", "Do all tips stay within the plate?", ("tips-over-edge",), _margins),
)
