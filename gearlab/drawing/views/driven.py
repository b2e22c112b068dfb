"""What a drive moves beside its gears: racks with their teeth in those of the pinion, bevel pairs and
planetary sets as circles where their shafts stand on the plate; each in words as well.

A design that has no gears on a plate, or none that can be cut, is a rack, a bevel pair or a planetary set by
itself; else plate, shafts and pitch circles.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

import numpy as np

from ...parts import Planetary, RackDrive
from ...parts.design import BevelTable, Design, PlanetaryTable, RackTable
from ...parts.made import BevelPart
from ...parts.made.otherdata import cone_of
from .. import numerals
from ..motion import Slide
from ..scene import Scene
from ..shapes import Box, Circle, Dimension, Dot, Label, Line, Outline, Shape, rectangle
from .cones import cones
from .planetary import planetary


def letters(design: Design) -> dict[str, str]:
    """A letter for each gear, A for the first driver, in the order of the file, and then for each rack."""
    names = [table.name for table in design.gear]
    if design.mesh:
        names.sort(key=lambda name: name != design.mesh[0].driver)
    names += [table.name for table in design.rack if table.name not in names]
    return {name: chr(ord("A") + number % 26) for number, name in enumerate(names)}


def drive_of(design: Design, table: RackTable) -> RackDrive | None:
    """A rack with the pinion that moves it; none where they cannot be drawn together."""
    try:
        return design.rack_drive_of(table) if design.shaft_of(table.pinion or "").placed else None
    except (ValueError, StopIteration):
        return None


def rack(design: Design, table: RackTable, stand: float, scale: float) -> tuple[list[Shape], Box]:
    """A rack where its pinion has it, in the middle of its travel, and what it takes up; nothing where it
    cannot be drawn.

    stand: where tooth 0 of the pinion points [deg].
    """
    drive = drive_of(design, table)
    if drive is None:
        return [], (math.inf, math.inf, -math.inf, -math.inf)
    bar, place = drive.rack, design.shaft_of(table.pinion or "").place
    turned = math.radians(table.angle + 90)  # a rack that lies below has its teeth up
    cos, sin = math.cos(turned), math.sin(turned)
    level = table.pitch_height - table.mounting_height
    pitch = bar.circular_pitch
    first = drive.alignment(stand - table.angle - 90)
    first += pitch * round((-(bar.teeth - 1) * pitch / 2 - first) / pitch)

    def put(points: np.ndarray) -> np.ndarray:
        return points @ np.array([[cos, sin], [-sin, cos]]) + np.asarray(place)

    def at(x: float, y: float) -> tuple[float, float]:
        point = put(np.array([x, y]))
        return float(point[0]), float(point[1])

    outline = put(bar.outline()[:-1] + (first, level))
    turns = design.turns.get(design.shaft_of(table.pinion or "").name, 0.0)
    motion = Slide((cos, sin), drive.travel(1.0) * turns)
    ends = first - pitch / 2, first - pitch / 2 + bar.toothed_length
    name = at(ends[1] - 1.2 * pitch, level - 0.55 * table.pitch_height)
    shapes: list[Shape] = [
        Outline(outline, "driven", "driven", motion=motion),
        Line(at(ends[0], level), at(ends[1], level), "pitch circle", "driven", motion=motion),
        Label(name, letters(design)[table.name], size="large", role="letter", of="driven", motion=motion),
    ]
    low, high = outline.min(axis=0), outline.max(axis=0)
    return shapes, (float(low[0]), float(low[1]), float(high[0]), float(high[1]))


def limits(design: Design) -> tuple[float, float] | None:
    """How far the first shaft turns until a rack is at the end of its travel; none without a rack [deg]."""
    angles = []
    for table in design.rack:
        drive = drive_of(design, table)
        if drive is not None:
            turns = design.turns.get(design.shaft_of(table.pinion or "").name, 0.0)
            travel = min(drive.largest_travel, table.travel)
            if turns and travel > 0:
                angles.append(travel / 2 / abs(drive.travel(1.0) * turns))
    return (-min(angles), min(angles)) if angles else None


def circles(design: Design) -> list[Shape]:
    """Pitch circles of bevel gears and planetary sets whose shafts stand on the plate."""
    places = {shaft.name: shaft.place for shaft in design.standing}
    shapes: list[Shape] = []
    for table in design.bevels:
        if table.size:
            for shaft, teeth in zip((table.driver, table.driven), table.teeth):
                if shaft in places:
                    shapes.append(_circle(places[shaft], teeth, table.size))
    for each in design.planetary:
        place = next((places[name] for name in each.shafts.values() if name in places), None)
        if place is not None and each.size:
            shapes += set_circles(each, place)
    return shapes


def set_circles(table: PlanetaryTable, place: tuple[float, float]) -> list[Shape]:
    """The pitch circles of a planetary set about a place."""
    size = table.size or {"module": 1.0}
    orbit = _radius(table.sun, size) + _radius(table.planet, size)
    shapes: list[Shape] = [_circle(place, table.sun, size), _circle(place, table.ring, size)]
    for number in range(table.planets):
        turn = 2 * math.pi * number / table.planets + math.pi / 2
        at = place[0] + orbit * math.cos(turn), place[1] + orbit * math.sin(turn)
        shapes.append(_circle(at, table.planet, size))
        if table.second_planet is not None:
            shapes.append(_circle(at, table.second_planet, size))
    return shapes


def _radius(teeth: int, size: Mapping[str, float]) -> float:
    return teeth / 2 * size["module"] if "module" in size else teeth / 2 / size["diametral_pitch"]


def _circle(place: tuple[float, float], teeth: int, size: Mapping[str, float]) -> Circle:
    return Circle(place, _radius(teeth, size), "pitch circle", "gear")


def listed(design: Design) -> Iterator[str]:
    """What each letter stands for, and what has no letter."""
    named = letters(design)
    for table in design.gear:
        kind = " inside a ring" if table.internal else ""
        loose = ", loose" if table.loose else ""
        yield f"{named[table.name]}, {table.name}: {table.teeth} teeth{kind} on {table.shaft}{loose}"
    for rack_table in design.rack:
        by = f", moved by {named[rack_table.pinion]}" if rack_table.pinion in named else ""
        travel = f"{numerals.plain(rack_table.travel, 4)} {design.unit}"
        called = "" if rack_table.name == "rack" else f", {rack_table.name}"
        yield f"{named[rack_table.name]}{called}: rack of {rack_table.teeth} teeth{by}, travel {travel}"
    yield from (_bevel(design, table) for table in design.bevels)
    yield from (_set(table) for table in design.planetary)


def _bevel(design: Design, table: BevelTable) -> str:
    first, second = table.teeth
    angle = "" if table.shaft_angle == 90 else f" at {numerals.plain(table.shaft_angle, 2)} degrees"
    shafts = f", {table.driver} drives {table.driven}{angle}" if table.driver and table.driven else angle
    return f"{table.name}: {first} and {second} teeth{shafts}"


def _set(table: PlanetaryTable) -> str:
    planet = f"{table.planet}" if table.second_planet is None else f"{table.planet} and {table.second_planet}"
    shafts = ", ".join(f"{member} on {shaft}" for member, shaft in table.shafts.items())
    return (
        f"{table.name}: sun {table.sun}, {table.planets} planets of {planet}, ring {table.ring} teeth,"
        f" {table.held} held{f', {shafts}' if shafts else ''}"
    )


TALL = 420.0  # of a picture of plate and circles [points of the picture]


def alone(design: Design, sentence: str, *, turning: float = 1.0, width: float = 640.0) -> Scene:
    """The first member of a design without gears on a plate, or its outlines."""
    if design.bevels:
        return _bevel_alone(design, design.bevels[0], sentence, turning, width)
    if design.planetary:
        return _set_alone(design, design.planetary[0], sentence, turning, width)
    return _rack(design, design.rack[0], sentence, width)


def outlines(design: Design, sentence: str, why: str) -> Scene:
    """Plate, shafts and pitch circles of a design of which something cannot be drawn; those that cannot be
    cut stand out."""
    shapes: list[Shape] = []
    if design.plate is not None:
        length, height = design.plate.length, design.plate.height
        shapes.append(Outline(rectangle(0, 0, length, height), "gear", "gear"))
    for shaft in design.standing:
        shapes += [Circle(shaft.place, shaft.diameter / 2, "hole"), Dot(shaft.place, "centre")]
    for table in design.gear:
        try:
            design.cut(table)
            role = "pitch circle"
        except ValueError:
            role = "clash"
        size = table.module or 1 / (table.diametral_pitch or 1)
        place = design.shaft_of(table.name).place
        shapes.append(Circle(place, table.teeth * size / 2, role, "gear"))
        shapes.append(Label(place, table.name, (0.0, 16.0), size="small"))
    reach = [shape.radius for shape in shapes if isinstance(shape, Circle)]
    tall = (design.plate.height if design.plate else 0.0) + max(reach, default=1.0)
    wide = (design.plate.length if design.plate else 0.0) + max(reach, default=1.0)
    words = f"{sentence} It cannot be drawn with its teeth: {why}"
    return Scene(tuple(shapes), words, design.unit, title=design.name, width=TALL * wide / tall)


def _bevel_alone(design: Design, table: BevelTable, sentence: str, turning: float, width: float) -> Scene:
    try:
        pair = design.bevel_of(table)
    except ValueError as error:
        return _said(design, sentence, str(error))
    ends = [cone_of(BevelPart(name, pair, side)) for side, name in enumerate(("driver", "driven"))]
    scene = cones(
        *table.teeth,
        table.module or 1 / (table.diametral_pitch or 1),
        *pair.cone_angles,
        shaft_angle=table.shaft_angle,
        unit=design.unit,
        turning=turning,
        pressure_angle=pair.pressure_angle,
        depths=tuple((cone.addendum, cone.dedendum) for cone in ends),
        width=width,
    )
    return _named(scene, design, sentence)


def _set_alone(design: Design, table: PlanetaryTable, sentence: str, turning: float, width: float) -> Scene:
    plain = table.second_planet is None and table.ring == table.sun + 2 * table.planet
    try:
        if plain and table.size:
            gears = Planetary(
                table.sun,
                table.planet,
                **table.size,
                planets=table.planets,
                held=table.held,
                pressure_angle=table.pressure_angle,
                must_fit=False,
            )
            return _named(planetary(gears, turning=turning, width=width), design, sentence)
    except ValueError:
        pass  # planets that collide, for one: the circles show it
    shapes = tuple(set_circles(table, (0.0, 0.0)))
    return Scene(shapes, sentence, design.unit, title=design.name, width=width)


def _rack(design: Design, table: RackTable, sentence: str, width: float) -> Scene:
    try:
        bar = design.rack_of(table)
    except ValueError as error:
        return _said(design, sentence, str(error))
    long, low = bar.toothed_length, -bar.pitch_height
    left = -bar.circular_pitch / 2
    scale = (width - 60) / long
    size = f"{table.teeth} teeth, {numerals.length(long, design.unit)}"
    shapes = (
        Outline(bar.outline()[:-1], "driven", "driven"),
        Line((left, 0.0), (left + long, 0.0), "pitch circle", "driven"),
        Dimension((left, low), (left + long, low), size, -24 / scale),
    )
    return Scene(shapes, sentence, design.unit, title=design.name, width=width)


def _said(design: Design, sentence: str, why: str) -> Scene:
    shapes = (Label((0.0, 0.0), "cannot be drawn", size="large"), Circle((0.0, 0.0), 10.0, "clash"))
    return Scene(shapes, f"{sentence} It cannot be drawn: {why}", design.unit, title=design.name, width=320.0)


def _named(scene: Scene, design: Design, sentence: str) -> Scene:
    return replace(scene, text=f"{sentence} {scene.text}", title=design.name)
