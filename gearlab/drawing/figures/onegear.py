"""Figures of one gear: its circles, its tooth, the string that draws its flank, the rack that cuts it."""

from __future__ import annotations

import math

import numpy as np

from ...parts import Mesh
from ..scene import Scene
from ..shapes import Arc, Circle, Dimension, Line, Outline, Shape
from .letters import Letters, dot, named, polar, right_angle, scene


def circles(letters: Letters, mesh: Mesh) -> Scene:
    """A gear with its pitch, outside and root circle, and their diameters."""
    gear, of = mesh.driver, "driver"
    shapes: list[Shape] = [Outline(gear.outline(), of, of)]
    far = gear.outside_diameter / 2
    for number, (word, role) in enumerate(
        (
            ("root_diameter", "root circle"),
            ("pitch_diameter", "pitch circle"),
            ("outside_diameter", "outside circle"),
        )
    ):
        radius = getattr(gear, word) / 2
        shapes += [
            Circle((0, 0), radius, role, of),
            letters.length((-radius, 0), (radius, 0), word, -(far * (1.16 + 0.2 * number))),
        ]
    shapes += dot((0, 0))
    text = f"A gear of {gear.teeth} teeth with the diameters of its root, pitch and outside circle."
    return scene(shapes, text, width=460.0, unit=gear.unit)


def tooth(letters: Letters, mesh: Mesh) -> Scene:
    """Two teeth at the top of a gear: addendum, dedendum, whole depth, circular pitch, tooth thickness."""
    gear, of = mesh.driven, "driven"
    half = 180 / gear.teeth
    pitch, out, root = gear.pitch_diameter / 2, gear.outside_diameter / 2, gear.root_diameter / 2
    points = gear.outline()
    turns = np.degrees(np.arctan2(points[:, 1], points[:, 0]))
    near = points[np.abs(turns) < 3.6 * half]
    near = near[np.argsort(np.arctan2(near[:, 1], near[:, 0]))]
    shapes: list[Shape] = [Outline(np.column_stack([-near[:, 1], near[:, 0]]), "outline", of, closed=False)]
    wide = 3.6 * half
    for radius, role in ((pitch, "pitch circle"), (out, "outside circle"), (root, "root circle")):
        shapes.append(Arc((0, 0), radius, 90 - wide, 90 + wide, role, of))
    left = polar((0, 0), pitch, 90 + wide)[0]
    for number, (low, high, word) in enumerate(
        ((pitch, out, "addendum"), (root, pitch, "dedendum"), (root, out, "whole_depth"))
    ):
        x = left - (0.25 + 0.5 * (number == 2)) * (out - root)
        shapes += [letters.length((x, low), (x, high), word, 0.0), *(_ends(x, left, low, high))]
    above = out + 0.35 * (out - root)
    start, end = (polar((0, 0), pitch, 90 + angle) for angle in (half / 2, -half / 2))
    shapes.append(letters.length(start, end, "tooth_thickness", above - start[1]))
    start, end = (polar((0, 0), pitch, 90 + angle) for angle in (half / 2, -1.5 * half))
    shapes.append(Dimension(start, end, letters.of("circular_pitch"), above + 0.5 * (out - root) - start[1]))
    text = (
        "Teeth between root circle and outside circle, with addendum, dedendum, whole depth, tooth "
        "thickness and circular pitch."
    )
    return scene(shapes, text, unit=gear.unit)


def _ends(x: float, far: float, low: float, high: float) -> list[Shape]:
    return [Line((x, y), (far, y), "construction") for y in (low, high)]


def triangle(letters: Letters, mesh: Mesh) -> Scene:
    """The right triangle of pitch radius and base radius."""
    gear, of = mesh.driver, "driver"
    pitch, base, angle = gear.pitch_diameter / 2, gear.base_diameter / 2, mesh.operating_pressure_angle
    touch = polar((0, 0), base, 90 - angle)
    shapes: list[Shape] = [
        Arc((0, 0), pitch, 20, 160, "pitch circle", of),
        Arc((0, 0), base, 20, 160, "base circle", of),
        *letters.line((0, 0), (0, pitch), "pitch_radius", -8, of=of),
        *letters.line((0, 0), touch, "base_radius", 8, -6, of=of),
        Line(
            polar(touch, 0.5 * pitch, -angle), polar((0, pitch), 0.75 * pitch, 180 - angle), "line of action"
        ),
        *right_angle(touch, 180 - angle, 0.07 * pitch),
        *letters.angle((0, 0), 0.34 * pitch, 90 - angle, 90, "pressure_angle"),
        *letters.angle((0, pitch), 0.5 * pitch, 180 - angle, 180, "pressure_angle"),
        Line((-0.75 * pitch, pitch), (0.4 * pitch, pitch), "construction"),
        *dot((0, pitch), "pitch point", 6, 14),
        *dot(touch, "tangent point", 10, 4),
        *dot((0, 0)),
    ]
    text = (
        "Centre, tangent point and pitch point make a right triangle: base radius and line of action meet "
        "at a right angle, the pitch radius is the long side."
    )
    return scene(shapes, text, unit=gear.unit)


def string(letters: Letters, mesh: Mesh) -> Scene:
    """The string unwound to the pitch circle; drawn at 45 degrees, so that inv can be seen."""
    del mesh
    base, angle = 20.0, 45.0
    roll = math.degrees(math.tan(math.radians(angle)))
    start = 118.0
    leaves = start - roll
    point = polar((0, 0), base / math.cos(math.radians(angle)), leaves + angle)
    touch = polar((0, 0), base, leaves)
    curve = np.array(
        [
            np.array(polar((0, 0), base, start - t))
            + math.radians(t) * base * np.array(polar((0, 0), 1.0, start - t + 90))
            for t in np.linspace(0, roll * 1.12, 40)
        ]
    )
    pitch = math.hypot(*point)
    seen = leaves + angle
    shapes: list[Shape] = [
        Arc((0, 0), base, 35, 150, "base circle"),
        Arc((0, 0), pitch, 55, 130, "pitch circle"),
        Outline(curve, "flank", "driver", closed=False),
        Line((0, 0), polar((0, 0), base, start), "construction"),
        *letters.line((0, 0), touch, "base_radius", 10, -4),
        Line((0, 0), point, "outline"),
        letters.at(polar((0, 0), 0.93 * base, seen), "pitch_radius", -8, 0),
        *letters.line(touch, point, "tangent_line", 10, 8, "string"),
        *right_angle(touch, leaves + 90, 1.1),
        *letters.angle((0, 0), 0.36 * base, leaves, seen, "pressure_angle"),
        *letters.angle((0, 0), 0.58 * base, seen, start, "involute_angle", 13),
        *letters.angle((0, 0), 0.2 * base, leaves, start, "pitch_roll_angle", -11),
        *dot(polar((0, 0), base, start), "flank starts", -10, -4),
        *dot(point, "pitch point", -8, 12),
        *dot(touch),
        *dot((0, 0)),
    ]
    text = (
        "A string unwound from the base circle ends at the pitch point; the roll angle is the pressure "
        "angle and the involute function together (drawn at 45 degrees)."
    )
    return scene(shapes, text, width=520.0)


def limit(letters: Letters, mesh: Mesh) -> Scene:
    """How deep below the pitch circle the tangent point lies, and the tip line of a rack."""
    gear, of = mesh.driver, "driver"
    pitch, base, angle = gear.pitch_diameter / 2, gear.base_diameter / 2, 20.0
    touch = polar((0, 0), base, 90 - angle)
    shapes: list[Shape] = [
        Arc((0, 0), pitch, 55, 112, "pitch circle", of),
        Arc((0, 0), base, 55, 112, "base circle", of),
        Line((-0.4 * pitch, pitch), (0.75 * pitch, pitch), "line of centres"),
        Line((-0.4 * pitch, touch[1]), (0.75 * pitch, touch[1]), "construction"),
        named((-0.4 * pitch, touch[1]), "tip line of the rack", 1, -14),
        named((0.75 * pitch, pitch), "pitch line of the rack", -1, 12),
        *letters.line((0, 0), (0, pitch), "pitch_radius", -8, of=of),
        *letters.line((0, 0), touch, "base_radius", 12, of=of),
        *letters.line((0, pitch), touch, "tangent_line", 6, 12, "line of action"),
        *letters.angle((0, 0), 0.3 * pitch, 90 - angle, 90, "pressure_angle"),
        *right_angle(touch, 180 - angle, 0.04 * pitch),
        letters.length((0.5 * pitch, touch[1]), (0.5 * pitch, pitch), "tangent_depth", 0.0),
        *dot((0, pitch), "pitch point", -8, 14),
        *dot(touch, "tangent point", 12, -14),
        *dot((0, 0)),
    ]
    text = (
        "The tangent point lies r sin of the pressure angle from the pitch point and r sin squared below "
        "the pitch line; the tip line of a rack may just reach it."
    )
    return scene(shapes, text, unit=gear.unit)


def jaws(letters: Letters, mesh: Mesh) -> Scene:
    """Two jaws over three teeth: along the base tangent two base pitches and one tooth of the base circle."""
    gear, of, over = mesh.driver, "driver", 3
    base, half, pitch = gear.base_diameter / 2, gear.span(over) / 2, gear.base_pitch
    turn = math.radians(90 - 360 / gear.teeth)  # the middle one of teeth 0, 1 and 2 stands upright
    points = gear.outline()
    points = np.column_stack(
        [
            points[:, 0] * math.cos(turn) - points[:, 1] * math.sin(turn),
            points[:, 0] * math.sin(turn) + points[:, 1] * math.cos(turn),
        ]
    )
    near = points[points[:, 1] > 0.72 * base]
    near = near[np.argsort(np.arctan2(near[:, 1], near[:, 0]))]
    top, foot, name = 1.16 * gear.outside_diameter / 2, 0.8 * base, 1.035 * gear.outside_diameter / 2
    shapes: list[Shape] = [
        Outline(near, "outline", of, closed=False),
        Arc((0, 0), base, 35, 145, "base circle", of),
        Line((-1.35 * half, base), (1.35 * half, base), "line of action"),
        letters.length((-half, top), (half, top), "span", 0.0),
        Line((0, base), (0, name), "construction"),
        *dot((0, base)),
        named((0, name), "tangent point", 0, 9),  # above the tips, clear of every tooth
    ]
    for x in (-half, half):
        shapes += [Line((x, foot), (x, 1.05 * top), "outline"), *dot((x, base))]
    ends = [-half, *(half - pitch * number for number in range(over - 1, -1, -1))]
    for number, (start, end) in enumerate(zip(ends, ends[1:])):
        word = "base_pitch" if number else "base_thickness"
        low = base - 0.2 * base
        shapes += [letters.length((start, low), (end, low), word, 0.0)]
        shapes += [Line((end, base), (end, low), "construction")]
    text = (
        "Two jaws over three teeth, square to a line that touches the base circle: between them lie one "
        "tooth as thick as on the base circle, and two base pitches."
    )
    return scene(shapes, text, unit=gear.unit)


FIGURES = (
    (circles, "pitch_diameter outside_diameter root_diameter teeth module diametral_pitch"),
    (tooth, "addendum dedendum whole_depth tooth_thickness circular_pitch tooth_space"),
    (triangle, "base_diameter base_radius base_pitch pressure_angle"),
    (string, "involute_angle pitch_roll_angle point_radius free_string roll_angle"),
    (limit, "least_teeth_with_rack least_shift_for_rack least_teeth least_shift"),
    (jaws, "span next_span span_teeth span_shortfall thinning_by_span"),
)
