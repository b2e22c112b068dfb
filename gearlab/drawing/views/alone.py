"""Designs that have no gears on a plate, or none that can be cut: a rack, a bevel pair or a planetary set by
itself; else plate, shafts and pitch circles."""

from __future__ import annotations

from dataclasses import replace

from ...parts import Planetary
from ...parts.design import BevelTable, Design, PlanetaryTable, RackTable
from ...parts.made import BevelPart
from ...parts.made.otherdata import cone_of
from .. import numerals
from ..scene import Scene
from ..shapes import Circle, Dimension, Dot, Label, Line, Outline, Shape, rectangle
from .cones import cones
from .driven import set_circles
from .planetary import planetary

TALL = 420.0  # of a picture of plate and circles [points of the picture]


def alone(design: Design, sentence: str, *, turning: float = 1.0, width: float = 640.0) -> Scene:
    """The first member of a design without gears on a plate, or its outlines."""
    if design.bevels:
        return _bevel(design, design.bevels[0], sentence, turning, width)
    if design.planetary:
        return _set(design, design.planetary[0], sentence, turning, width)
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


def _bevel(design: Design, table: BevelTable, sentence: str, turning: float, width: float) -> Scene:
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


def _set(design: Design, table: PlanetaryTable, sentence: str, turning: float, width: float) -> Scene:
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
