"""A taut string unwinds from the base circle: its end draws the flank of a tooth."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from ...parts import Gear
from ...shape.involute import inv
from .. import numerals
from ..motion import Swing
from ..scene import Scene
from ..shapes import Arc, Dot, Label, Line, Outline, Shape, point
from .centres import OnCentre


def unwinding(
    gear: Gear,
    roll_angle: float,
    *,
    tooth: bool = False,
    most: float = 50.0,
    control: str = "roll_angle",
    width: float = 720.0,
) -> Scene:
    """A string unwound from a gear's base circle by some angle, and the curve its end has drawn.

    gear: the gear; the curve is the right-hand flank of its tooth at the top.
    roll_angle: angle by which the string has unwound, 0 or more [deg].
    tooth: whether the teeth are drawn as they are cut.
    most: largest roll angle that the picture has room for [deg].
    control: name of the number that carrying the string's end changes.
    width: of the picture [points].
    Lengths in the unit of the gear [in or mm].
    ValueError if the roll angle is outside 0 to ``most``.

    >>> from gearlab.parts import Gear
    >>> unwinding(Gear(18, module=2.5), 20.0).text[-72:]
    'its end is 22.39 mm from the centre, 0.106 mm short of the pitch circle.'
    """
    if not 0 <= roll_angle <= most:
        raise ValueError(
            f"roll_angle is {roll_angle:g} deg; the picture has room for 0 to {most:g} deg: give an angle in"
            " these limits"
        )
    base, pitch, unit = gear.base_diameter / 2, gear.pitch_diameter / 2, gear.unit
    half_tooth = gear.tooth_thickness / gear.pitch_diameter
    start = math.pi / 2 - half_tooth - float(inv(math.radians(gear.pressure_angle)))
    turn = math.radians(roll_angle)
    top = base * math.hypot(1.0, math.radians(most)) + gear.scale
    bounds = (-1.06 * base, -0.05 * base, 0.84 * base, top)
    scale = (width - 36) / (bounds[2] - bounds[0])
    leaves, end = _on(base, start + turn), point(involute(base, start, turn))
    seen = OnCentre(gear, "gear", angle=90.0)
    shapes: list[Shape] = [seen.teeth()] if tooth else []
    shapes += [replace(seen.circle(kind), of="driver") for kind in ("base circle", "pitch circle")]
    shapes += [
        Dot((0.0, 0.0), "centre"),
        Line((0.0, 0.0), _on(base, start), "construction"),
        Line((0.0, 0.0), leaves, "construction"),
    ]
    wound = np.linspace(start + turn, start + math.radians(most) + 1.9, 90)
    drawn = involute(base, start, np.linspace(0.0, turn, 2 + int(roll_angle)))
    swing = Swing(control, (0.0, 0.0), "End of the string: roll angle", end, 20 / scale, base)
    shapes += [
        Outline(base * np.column_stack([np.cos(wound), np.sin(wound)]), "string", closed=False),
        Outline(drawn, "flank", "driver", closed=False),
        Dot(_on(base, start), "hole"),
        Line(leaves, end, "string", motion=swing),
        Dot(end, "contact point", motion=swing),
        *_circle_names(base, pitch),
    ]
    free, distance = numerals.length(base * turn, unit), math.hypot(*end)
    # what comes and goes stands last: the string's end keeps its place in the picture, and the focus with it
    if base * turn * scale > 40:
        middle = ((end[0] + leaves[0]) / 2, (end[1] + leaves[1]) / 2)
        shapes.append(Label(middle, f"free string {free}", (-12, 14), "end", role="string"))
    if roll_angle > 2:
        shapes += _roll_angle(0.46 * base, start, roll_angle, scale)
    return Scene(
        tuple(shapes),
        f"A taut string unwound by {numerals.number(roll_angle, 1)} degrees from a base circle of radius"
        f" {numerals.length(base, unit)}: {free} of it are free, and its end is"
        f" {numerals.length(distance, unit)} from the centre, {standing(distance - pitch, unit)}.",
        unit,
        title=f"{gear.teeth} teeth, {numerals.pitch_name(gear)}, {numerals.plain(gear.pressure_angle)}\u00b0",
        margin=(12.0, 24.0, 12.0, 12.0),
        focus=(*_on(pitch, math.pi / 2), 10 * gear.scale),
        width=width,
        bounds=bounds,
    )


def _circle_names(base: float, pitch: float) -> list[Label]:
    return [
        Label(_on(radius, math.radians(angle)), kind, offset, align, "small", kind, "driver")
        for kind, radius, angle, offset, align in (
            ("base circle", base, 42, (-8, -6), "end"),
            ("pitch circle", pitch, 62, (6, 10), "start"),
        )
    ]


def _roll_angle(radius: float, start: float, roll_angle: float, scale: float) -> list[Shape]:
    """The angle by which the string has unwound, as an arc with its words; its head is taken off the end."""
    words = f"roll angle {numerals.number(roll_angle, 1)}\u00b0"
    end = math.degrees(start + math.radians(roll_angle) - 9 / scale / radius)
    return [
        Label(_on(radius, start), words, (10, -2), "start", role="dimension"),
        Arc((0.0, 0.0), radius, math.degrees(start), end, "dimension", head=roll_angle > 12),
    ]


def involute(base: float, start: float, turn) -> np.ndarray:
    """Ends of the string unwound by angles ``turn`` from ``start`` [rad] on a circle of radius ``base``,
    shape of turn + (2,) [unit of the base].
    """
    angle = start + np.asarray(turn, dtype=float)
    return base * np.stack(
        [np.cos(angle) + turn * np.sin(angle), np.sin(angle) - turn * np.cos(angle)], axis=-1
    )


def standing(past: float, unit: str) -> str:
    """Where the end stands beside the pitch circle, in words, from how far it is past it [unit].

    >>> standing(0.001, "mm"), standing(-0.5, "mm")
    ('on the pitch circle', '0.500 mm short of the pitch circle')
    """
    if numerals.vanishes(past, unit):
        return "on the pitch circle"
    return f"{numerals.length(abs(past), unit)} {'past' if past > 0 else 'short of'} the pitch circle"


def _on(radius: float, angle: float) -> tuple[float, float]:
    return radius * math.cos(angle), radius * math.sin(angle)
