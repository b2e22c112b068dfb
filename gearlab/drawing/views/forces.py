"""The force on a tooth, with the part along the pitch circle and the part towards the gear's own centre."""

from __future__ import annotations

import math

import numpy as np

from ...parts import Gear
from .. import numerals
from ..scene import Scene
from ..shapes import Circle, Dot, Label, Line, Outline, Shape
from .body import tooth_outline


def forces(
    gear: Gear, normal: float, along: float, apart: float, *, unit: str = "N", width: float = 560.0
) -> Scene:
    """One tooth with the force that the driver's tooth puts on it at the pitch point, and two parts that
    should make it up.

    The tooth stands upright; the driver pushes it to the right. The force leans from the common tangent by
    the pressure angle, towards the gear's centre.

    normal: size of the force along the line of action, above 0 [unit].
    along, apart: the two parts, drawn end to end: along the pitch circle, and towards the centre [unit].
    unit: "N" or "lbf".
    width: of the picture [points].
    Arrows to one scale of force; lengths of the tooth in true proportions [gear.unit].

    >>> from gearlab.parts import Gear
    >>> print(forces(Gear(18, module=2.5), 91.5, 86.0, 31.3).text)
    A tooth is pushed with 91.5 N along the line of action, 20° from the common tangent; 86 N along
    the pitch circle and 31.3 N towards the centre make it up.
    """
    places = 1 if unit == "N" else 2
    phi, size, radius = math.radians(gear.pressure_angle), gear.scale, gear.pitch_diameter / 2
    tooth = tooth_outline(gear)
    upright = np.column_stack([-tooth[:, 1], tooth[:, 0]])
    # the left flank on the pitch circle: half a tooth to the left of the middle
    half = gear.tooth_thickness / gear.pitch_diameter
    point = -radius * math.sin(half), radius * math.cos(half)
    per = 5.2 * size / normal  # the force is drawn five modules long
    turn = half  # the tangent at that point leans by half a tooth
    tangent = np.array([math.cos(turn), math.sin(turn)])
    inward = np.array([math.sin(turn), -math.cos(turn)])
    start = np.array(point)
    force = normal * per * (math.cos(phi) * tangent + math.sin(phi) * inward)
    first = along * per * tangent
    second = apart * per * inward
    low, high = radius - 3.2 * size, radius + 2.4 * size
    shapes: list[Shape] = [
        Outline(np.vstack([upright, [[upright[-1, 0], low], [upright[0, 0], low]]]), "driven")
    ]
    shapes.append(Circle((0.0, 0.0), radius, "pitch circle", "driven"))
    shapes.append(
        Line(tuple(start - 3.2 * size * tangent), tuple(start + 6.4 * size * tangent), "construction")
    )
    action = force / np.hypot(*force)
    shapes.append(
        Line(tuple(start - 3.2 * size * action), tuple(start + 6.6 * size * action), "line of action")
    )
    both = first + second
    for end, begin, role, words, offset in (
        (start + force, start, "driver", f"force {numerals.plain(normal, places)} {unit}", (-10, -28)),
        (start + first, start, "driven", f"along {numerals.plain(along, places)} {unit}", (0, 16)),
        (start + both, start + first, "gear", f"apart {numerals.plain(apart, places)} {unit}", (56, 0)),
    ):
        if np.hypot(*(end - begin)) < 1e-6 * size:
            continue
        shapes += _arrow(begin, end, role, size)
        middle = (begin + end) / 2 if role != "driver" else begin + 0.55 * (end - begin)
        shapes.append(Label(tuple(middle), words, offset, size="small", role="letter", of=role))
    shapes.append(Dot(tuple(start), "pitch point"))
    fits = np.hypot(*(both - force)) <= 0.02 * normal * per
    does = "make it up" if fits else "do not make it up"
    text = (
        f"A tooth is pushed with {numerals.plain(normal, places)} {unit} along the line of action,"
        f" {numerals.plain(gear.pressure_angle, 2)}\u00b0 from the common tangent;"
        f" {numerals.plain(along, places)} {unit} along the pitch circle and {numerals.plain(apart, places)}"
        f" {unit} towards the centre {does}."
    )
    left, right = point[0] - 3.4 * size, point[0] + 7.4 * size
    return Scene(
        tuple(shapes),
        text,
        gear.unit,
        title="force on a tooth",
        margin=(20.0, 20.0, 20.0, 20.0),
        width=width,
        bounds=(left, low, right, high),
    )


def _arrow(begin, end, role: str, size: float) -> list[Shape]:
    """A stout arrow from point to point, as outline."""
    along = (end - begin) / np.hypot(*(end - begin))
    across = np.array([-along[1], along[0]])
    wide, head = 0.09 * size, min(0.7 * size, 0.6 * float(np.hypot(*(end - begin))))
    neck = end - head * along
    points = [
        begin + wide * across,
        neck + wide * across,
        neck + 3.2 * wide * across,
        end,
        neck - 3.2 * wide * across,
        neck - wide * across,
        begin - wide * across,
    ]
    return [Outline(np.array(points), "marked tooth", role)]
