"""The parts of a design, made from its tables: what the workshop makes, and what is bought."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations
from typing import Any

from gearlab.theory.units import convert

from ..design import BevelTable, Design, GearTable, MeshTable, PlanetaryTable, RackTable, ShaftTable
from ..gear import Gear
from ..internal import InternalGear
from ..published.fastening import key, set_screw
from ..published.fits import fit
from .part import (
    BevelPart,
    BoughtPart,
    Flat,
    GearPart,
    Keyway,
    Limits,
    Part,
    PartsList,
    PlateHole,
    PlatePart,
    RackPart,
    ScrewHole,
    ShaftPart,
    Spacing,
)

#: How far the spacing of two holes may be off where the play is not named [unit].
SPACING_WITHIN = {"mm": 0.05, "in": 0.002}
SPACING_STEP = {"mm": 0.01, "in": 0.001}  # in which it is set out [unit]


def gear_part(design: Design, table: GearTable) -> GearPart:
    """The record of a gear of a design; ValueError where the gear cannot be."""
    return GearPart(
        table.name,
        design.toothed[table.name],
        table.face_width,
        _limits(table.bore, table.fit, design.unit, "hole"),
        fit=table.fit,
        hub_diameter=table.hub_diameter,
        hub_projection=table.hub_projection,
        hub_side=table.hub_side,
        rim_diameter=table.rim_diameter,
        keyway=_keyway(design, table),
        screw=_screw_hole(design, table),
        flat_depth=table.flat,
        material=table.material,
        shaft=table.shaft,
        foot=design.foot(table.name) if design.shaft_of(table.name).placed else None,
    )


def _limits(size: float, name: str | None, unit: str, which: str) -> Limits:
    if name is None:
        return Limits(size)
    try:
        limits = fit(name, size, unit)
    except ValueError:
        return Limits(size)  # the review says that the fit is unknown
    upper, lower = (
        (limits.hole_upper, limits.hole_lower)
        if which == "hole"
        else (limits.shaft_upper, limits.shaft_lower)
    )
    return Limits(size, size + lower, size + upper)


def _keyway(design: Design, table: GearTable) -> Keyway | None:
    if not table.keyway_depth:
        return None
    length = table.key_length or design.overall_length(table.name)
    width = table.keyway_width
    if width is None:
        try:
            width = key(design.shaft_of(table.name).diameter, design.unit).width
        except ValueError:
            width = design.shaft_of(table.name).diameter / 4  # common practice for a shaft off the table
    return Keyway(width, table.keyway_depth, length, table.keyway_on)


def _screw_hole(design: Design, table: GearTable) -> ScrewHole | None:
    if table.set_screw is None or table.hub_diameter is None or not table.hub_projection:
        return None
    try:
        screw = set_screw(table.set_screw)
    except ValueError:
        return None  # the review says that the size is unknown
    scale = convert(1.0, screw.unit, design.unit)
    half = table.hub_projection / 2
    wall = (table.hub_diameter - table.bore) / 2
    return ScrewHole(
        screw.size,
        screw.diameter * scale,
        screw.tap_drill * scale,
        half if table.hub_side == "plate" else table.face_width + half,
        table.drill_depth or wall,
        table.screws,
        table.screw_length,
    )


def shaft_part(design: Design, shaft: ShaftTable) -> ShaftPart:
    """The record of a shaft of a design."""
    gears = design.on(shaft.name)
    up = shaft.behind + (design.plate.thickness if design.plate is not None and shaft.placed else 0.0)
    flats, keyways = [], []
    for gear in gears:
        low = up + design.foot(gear.name)
        if gear.flat:
            flats.append(Flat(low, low + design.overall_length(gear.name), gear.flat))
        keyway = _keyway(design, gear)
        if keyway is not None:
            try:
                depth = key(shaft.diameter, design.unit).shaft_depth
            except ValueError:
                depth = gear.keyway_depth
            seat = low + (design.overall_length(gear.name) - keyway.length) / 2  # in the middle of its gear
            keyways.append(Keyway(keyway.width, depth, keyway.length, low=seat))
    fits = {gear.fit for gear in gears if gear.fit}
    top = max((design.foot(gear.name) + design.overall_length(gear.name) for gear in gears), default=0.0)
    return ShaftPart(
        shaft.name,
        _limits(shaft.diameter, next(iter(fits)) if len(fits) == 1 else None, design.unit, "shaft"),
        shaft.length,
        design.unit,
        behind=shaft.behind,
        flats=tuple(flats),
        keyways=tuple(keyways),
        material=shaft.material,
        place=shaft.place if shaft.placed else None,
        plate=up - shaft.behind,
        end=shaft.end,
        needed=up + top + shaft.end if gears else 0.0,
        fits=tuple((name, _limits(shaft.diameter, name, design.unit, "shaft")) for name in sorted(fits)),
    )


def plate_part(design: Design) -> PlatePart:
    """The record of the plate of a design; ValueError for a design without one."""
    plate, board = design.on_plate, design.board
    holes = tuple(
        PlateHole(hole.name, hole.x, hole.y, hole.diameter, shaft.hole is not None, board.edge_distance(hole))
        for hole, shaft in zip(design.holes, design.standing)
    )
    return PlatePart(
        board.name,
        plate.length,
        plate.height,
        plate.thickness,
        design.unit,
        holes,
        tuple(_spacings(design)),
        plate.material,
    )


def _spacings(design: Design) -> Iterator[Spacing]:
    """The spacings that matter: those of two gears in mesh."""
    for first, second in combinations(design.standing, 2):
        pair = next(
            (
                pair
                for pair in design.mesh
                if {design.of(pair.driver).shaft, design.of(pair.driven).shaft} == {first.name, second.name}
            ),
            None,
        )
        if pair is not None:
            apart = math.dist(first.place, second.place)
            yield Spacing((first.name, second.name), apart, _within(design, pair), pair.name)


def _within(design: Design, pair: MeshTable) -> float:
    """How far a spacing may be off [unit]: half of what the wanted play leaves to it."""
    if pair.least_backlash is None or pair.most_backlash is None:
        return SPACING_WITHIN[design.unit]
    angle = math.radians(design.of(pair.driver).pressure_angle)
    room = (pair.most_backlash - pair.least_backlash) / 2 / (2 * math.tan(angle)) / 2
    step = SPACING_STEP[design.unit]
    return min(SPACING_WITHIN[design.unit], max(step, math.floor(room / step) * step))


def rack_part(design: Design, table: RackTable) -> RackPart:
    """The record of a rack of a design; ValueError where the rack cannot be."""
    width = table.face_width
    if width is None and table.pinion is not None:
        width = design.of(table.pinion).face_width
    return RackPart(
        table.name,
        design.rack_of(table),
        width,
        table.material,
        pinion=table.pinion,
        mounting_height=table.mounting_height,
        travel=table.travel,
        stops=table.stops,
        guided=table.guided,
    )


def bevel_parts(design: Design, table: BevelTable) -> list[BevelPart]:
    """Both gears of a bevel pair; ValueError where the pair cannot be."""
    pair, names = design.bevel_of(table), (f"{table.name} driver", f"{table.name} driven")
    sizes = {shaft.name: shaft.diameter for shaft in design.shaft}
    return [
        BevelPart(
            names[side],
            pair,
            side,
            table.face_width,
            table.material,
            shaft=shaft,
            mounting=table.mounting[side] if table.mounting is not None else None,
            bore=sizes.get(shaft or ""),
            mate=names[1 - side],
        )
        for side, shaft in enumerate((table.driver, table.driven))
    ]


def parts_of(design: Design) -> PartsList:
    """Every part of a design: plate, shafts, gears, racks, bevel gears, gears of sets, what is bought.

    >>> from gearlab.parts.design import Design
    >>> design = Design(
    ...     design={"name": "one gear"},
    ...     plate={"length": 100, "height": 80, "thickness": 6},
    ...     shaft=[{"name": "A", "x": 50, "y": 40, "diameter": 10, "length": 40, "behind": 8}],
    ...     gear=[{"name": "wheel", "shaft": "A", "teeth": 24, "module": 2.5, "face_width": 12, "bore": 10}],
    ... )
    >>> [(part.kind, part.name) for part in parts_of(design).parts]
    [('plate', 'plate_100x80x6'), ('shaft', 'A'), ('gear', 'wheel'), ('collar', 'collar on A')]
    """
    parts: list[Part] = []
    left_out: list[tuple[str, str]] = []
    if design.plate is not None:
        parts.append(plate_part(design))
    parts += [shaft_part(design, shaft) for shaft in design.shaft]
    parts += [gear_part(design, table) for table in design.gear]
    for rack in design.rack:
        try:
            parts.append(rack_part(design, rack))
        except ValueError as error:
            left_out.append((rack.name, str(error)))
    for table in design.bevels:
        try:
            parts += bevel_parts(design, table)
        except ValueError as error:
            left_out.append((table.name, str(error)))
    for planetary in design.planetary:
        try:
            parts += set_parts(design, planetary)
        except ValueError as error:
            left_out.append((planetary.name, str(error)))
    parts += _bought(design)
    return PartsList(tuple(parts), tuple(left_out))


def set_parts(design: Design, table: PlanetaryTable) -> list[GearPart]:
    """The gears of a planetary set, with the second planets of a stepped one; ValueError without a size."""
    if not table.size:
        raise ValueError(
            f"planetary {table.name!r}: the size of its teeth is missing; give module [mm] or diametral_pitch"
            " [1/in]"
        )

    def made(word: str, toothed: Gear | InternalGear, quantity: int = 1) -> GearPart:
        return GearPart(
            f"{table.name} {word}",
            toothed,
            table.face_width,
            material=table.material,
            quantity=quantity,
            shaft=table.shafts.get(word),
        )

    def gear(teeth: int) -> Gear:
        return Gear(teeth, **size)

    size: dict[str, Any] = {
        **table.size,
        "pressure_angle": table.pressure_angle,
        "face_width": table.face_width,
    }
    parts = [made("sun", gear(table.sun)), made("planet", gear(table.planet), table.planets)]
    if table.second_planet is not None:
        parts.append(made("second planet", gear(table.second_planet), table.planets))
    return [*parts, made("ring", InternalGear(table.ring, **size))]


def _bought(design: Design) -> Iterator[BoughtPart]:
    """What is bought or cut off: keys, set screws, washers, collars."""
    unit = design.unit
    for table in design.gear:
        where = f"in the hub of {table.name}" if table.hub_diameter else f"in {table.name}"
        keyway = _keyway(design, table)
        if keyway is not None:
            try:
                height = key(design.shaft_of(table.name).diameter, unit).height
            except ValueError:
                height = keyway.width
            size = f"{keyway.width:g} x {height:g} x {keyway.length:g} {unit}"
            yield BoughtPart(f"key of {table.name}", "key", size, where, unit)
        if table.set_screw:
            length = f" x {table.screw_length:g} {unit}" if table.screw_length else ", length not stated"
            yield BoughtPart(
                f"set screw of {table.name}",
                "set screw",
                f"{_thread(table.set_screw)}{length}",
                where,
                unit,
                table.screws,
            )
        if table.gap:
            size = f"bore {design.shaft_of(table.name).diameter:g} {unit}, {table.gap:g} {unit} thick in all"
            yield BoughtPart(f"washers under {table.name}", "washers", size, f"under {table.name}", unit)
    for shaft in design.standing:
        if shaft.behind:
            size = f"bore {shaft.diameter:g} {unit}, {shaft.behind:g} {unit} wide"
            yield BoughtPart(
                f"collar on {shaft.name}", "collar", size, f"behind the plate, on {shaft.name}", unit
            )
    sizes = {shaft.name: shaft.diameter for shaft in design.shaft}
    for bevel in design.bevels:
        for word, name in (
            (("driver", bevel.driver), ("driven", bevel.driven)) if bevel.thrust_collars else ()
        ):
            size = (
                f"bore {sizes[name]:g} {unit}" if name in sizes else "bore as its shaft, which is not stated"
            )
            part = f"thrust collar of {bevel.name} {word}"
            yield BoughtPart(part, "collar", size, f"behind {bevel.name} {word}", unit)


def _thread(size: str) -> str:
    """A thread as it is ordered: of an inch screw with its threads to the inch."""
    try:
        screw = set_screw(size)
    except ValueError:
        return size  # the review says that the size is unknown
    return screw.size if screw.unit == "mm" else f"{screw.size}-{1 / screw.pitch:.0f}"
