"""What can be wrong on the plate: units, holes, edges, margins."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

from gearlab.theory.units import MM_PER_INCH

from ..design import Design, GearTable
from ..plate import Hole
from .advice import Way
from .finding import Held, Outcome, said, up
from .ledger import Checks
from .moves import EDGE, housed, places_told, spaced, tip_radii, told
from .room import SAME
from .sentences import NAMES_OF_UNITS, finding, unmade
from .standings import standings

#: Between two holes, in diameters of the smaller one (common practice).
LEAST_WALL = 0.5
#: A plate that is so many times as large as what stands on it was written in another unit.
TOO_LARGE, TOO_SMALL = 12.0, 5.0
#: Thinner than this share of a shaft's diameter, a plate does not hold it upright (common practice: a bearing
#: is as long as its shaft is thick, or half of that).
THIN = 0.2
CHECKS = Checks()


# -- units -------------------------------------------------------------------------------------------------
@CHECKS.row("units", "Is everything in one unit?", "units-look-mixed")
def _units(design: Design) -> Iterator[Outcome]:
    yield from _plate_units(design)
    for table in design.gear:
        if design.toothed[table.name].unit == design.unit:
            yield Held(table.name, f"its teeth are given in the file's unit, {design.unit}")
        else:
            yield _other_unit(design, table)


def _other_unit(design: Design, table: GearTable) -> Outcome:
    size = (
        f"module {said(table.module, 'mm')}"
        if table.module is not None
        else f"a diametral pitch of {said(table.diametral_pitch or 0.0)} to the inch"
    )
    return finding(
        "units-look-mixed, of a gear",
        design,
        table.name,
        lambda: [_own_unit(design, table)],
        size=size,
        unit_named=NAMES_OF_UNITS[design.unit],
    )


def _own_unit(design: Design, table: GearTable) -> Iterator[Way]:
    """The size of a mate in the file's unit; else that of another gear of it, or what comes out by 25.4."""
    word, other = ("module", "diametral_pitch") if design.unit == "mm" else ("diametral_pitch", "module")
    mates = [design.of(pair.mate_of(table.name)) for pair in design.meshes_of(table.name)]
    sizes: list[float] = [
        getattr(mate, word) for mate in (*mates, *design.gear) if getattr(mate, word) is not None
    ]
    sizes.append(round(MM_PER_INCH / getattr(table, other), 4))
    for size in dict.fromkeys(sizes):
        text = f"module {said(size, 'mm')}" if word == "module" else f"diametral pitch {said(size)}"
        yield Way(f"Give it {text}", {"gear": {table.name: {word: size, other: None}}})
    everywhere = {
        gear.name: {word: round(MM_PER_INCH / getattr(gear, other), 4), other: None}
        for gear in design.gear
        if getattr(gear, other) is not None
    }
    yield Way(f"Give the {word.replace('_', ' ')} of all gears", {"gear": everywhere})


def _plate_units(design: Design) -> Iterator[Outcome]:
    """Whether the plate is one that its gears could stand on."""
    radii = tip_radii(design)
    if design.plate is None or not radii:
        return
    size, largest = max(design.plate.length, design.plate.height), 2 * max(radii.values())
    reach = max(max(design.shaft_of(name).place) + radius for name, radius in radii.items())
    small, large = size < largest / TOO_SMALL, size > 60 * largest or (reach > 0 and size > TOO_LARGE * reach)
    if not small and not large:
        what = f"it is of the size of its gears: largest gear {said(largest, design.unit)}, plate"
        yield Held("the plate", what, size, largest / TOO_SMALL, design.unit)
        return
    factor = MM_PER_INCH if small else 1 / MM_PER_INCH
    yield finding(
        "units-look-mixed, of the plate",
        design,
        "the plate",
        lambda: [_other_plate(design, factor)],
        size=size,
        largest=largest,
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


@CHECKS.row("bearing in the plate", "Is the plate thick enough to hold its shafts?", "plate-too-thin")
def _thickness(design: Design) -> Iterator[Outcome]:
    if design.plate is None or not (shafts := [shaft for shaft in design.standing if design.on(shaft.name)]):
        return
    reading, thickest = design.reading("plate", "thickness"), max(shaft.diameter for shaft in shafts)
    thick, least = reading.value if reading is not None else design.plate.thickness, THIN * thickest
    if thick >= least * (1 - 1e-9):
        yield Held("the plate", "its thickness, to hold its shafts,", thick, least, design.unit)
        return
    yield finding(
        "plate-too-thin",
        design,
        "the plate",
        lambda: [_thicker_plate(design, 0.5 * thickest)],
        compared=(thick, least),
        shaft=thickest,
    )


def _thicker_plate(design: Design, wanted: float) -> Iterator[Way]:
    """A plate half as thick as its shafts, these longer by as much."""
    drawn, thick = design.on_plate.thickness, up(wanted, design.unit)
    again: dict = {"measured": {"plate thickness": None}} if design.reading("plate", "thickness") else {}
    longer = {
        shaft.name: {"length": round(shaft.length + thick - drawn, 6)}
        for shaft in design.standing
        if shaft.length is not None
    }
    shafts: dict = {"shaft": longer} if longer else {}
    says = f"Take a plate of {said(thick, design.unit)}{told(design, shafts)}"
    yield Way(says, {"plate": {"thickness": thick}} | shafts | again)


# -- holes -------------------------------------------------------------------------------------------------
def _hole(design: Design, hole: Hole) -> Hole:
    """A hole as it was measured, where it was."""
    reading = design.reading(hole.name, "hole")
    return hole if reading is None else Hole(hole.name, hole.x, hole.y, reading.value)


def _holes(design: Design) -> Iterator[Outcome | Hole]:
    if design.plate is None:
        for shaft in design.standing:
            yield unmade("plate", design, f"hole {shaft.name}", decisive=True)
        return
    yield from (_hole(design, hole) for hole in design.holes)


@CHECKS.row(
    "edges",
    "Is there material between each hole and the edge?",
    "hole-breaks-edge",
    "hole-near-edge",
    of=_holes,
)
def _edge(design: Design, hole: Hole) -> Outcome:
    left, where = design.board.edge_distance(hole) - hole.diameter / 2, f"hole {hole.name}"
    least = EDGE * hole.diameter
    if left >= least - 1e-9:
        return Held(where, "material to the edge of the plate", left, least, design.unit)
    return finding(
        "hole-breaks-edge" if left <= 0 else "hole-near-edge",
        design,
        where,
        lambda: [_larger_plate(design)],
        compared=(left, least),
        over=-left,
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


def _pairs_of_holes(design: Design) -> Iterator[tuple[Hole, Hole]]:
    return combinations([_hole(design, hole) for hole in design.holes], 2)


@CHECKS.row(
    "material between holes",
    "Is there material between the holes?",
    "holes-meet",
    "holes-near",
    of=_pairs_of_holes,
)
def _between(design: Design, hole: Hole, other: Hole) -> Outcome | None:
    apart, radii = math.dist((hole.x, hole.y), (other.x, other.y)), (hole.diameter + other.diameter) / 2
    wall, least = apart - radii, LEAST_WALL * min(hole.diameter, other.diameter)
    where = f"holes {hole.name} and {other.name}"
    if apart <= SAME:
        return None  # shafts in one place are looked at by themselves
    if wall >= least - 1e-9:
        return Held(where, "material between them", wall, least, design.unit)
    return finding(
        "holes-meet" if wall <= 0 else "holes-near",
        design,
        where,
        lambda: _where_meshes_want(design, (hole.name, other.name)),
        compared=(wall, least),
        apart=apart,
        radii=apart - wall,
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
def _tips(design: Design) -> Iterator[Outcome | tuple[GearTable, float]]:
    radii = tip_radii(design)
    for table in design.gear if design.plate is not None else ():
        if table.name in radii:
            yield table, radii[table.name]
        else:
            yield unmade("margin in another unit", design, table.name)


@CHECKS.row("margins", "Do all tips stay within the plate?", "tips-over-edge", of=_tips)
def _margin(design: Design, table: GearTable, tip: float) -> Outcome:
    """Nothing that a file knows stands beside a plate: what reaches over its edge is worth knowing."""
    x, y = design.shaft_of(table.name).place
    over = {
        "left": tip - x,
        "right": x + tip - design.board.length,
        "lower": tip - y,
        "upper": y + tip - design.board.height,
    }
    side = max(over, key=lambda edge: over[edge])
    if over[side] <= 1e-9:
        return Held(table.name, "its tips stay within the plate by", max(-over[side], 0.0), 0.0, design.unit)
    return finding(
        "tips-over-edge",
        design,
        table.name,
        lambda: [_larger_plate(design, tips=True)],
        over=over[side],
        side=side,
    )
