"""Figures of more than a pair: a row of gears, the triangle of an idler, cones, a planetary set."""

from __future__ import annotations

import math

import numpy as np

from ...parts import Mesh
from ..scene import Scene
from ..shapes import Arc, Circle, Line, Outline, Shape
from .letters import Letters, dot, polar, right_angle, scene


def row(letters: Letters, mesh: Mesh) -> Scene:
    """Three gears in a row, the middle one an idler."""
    del mesh
    radii, x, places = (9.0, 12.0, 21.0), 0.0, []
    for number, radius in enumerate(radii):
        x += radius + (radii[number - 1] if number else -radius)
        places.append(x)
    shapes: list[Shape] = [Line((0, 0), (places[-1], 0), "line of centres")]
    for number, (side, radius, x) in enumerate(zip(("first", "second", "third"), radii, places, strict=True)):
        of = ("driver", "gear", "driven")[number]
        ends = (130, 50) if number % 2 == 0 else (50, 130)
        shapes += [
            Circle((x, 0), radius, "pitch circle", of),
            Arc((x, 0), 0.66 * radius, *ends, "turning arrow", of, head=True),
            letters.at((x, 0.66 * radius), f"{side}_speed", 0, -18, of=of),
            letters.at((x, -0.5 * radius), f"{side}_teeth", of=of),
            *dot((x, 0)),
        ]
    shapes += [
        letters.length((places[0], 0), (places[1], 0), "first_centre_distance", -1.12 * radii[2]),
        letters.length((places[1], 0), (places[2], 0), "second_centre_distance", -1.12 * radii[2]),
    ]
    text = (
        "Three gears in a row: at each mesh the direction changes, so the first and the third turn the "
        "same way; the idler between them carries the teeth on."
    )
    return scene(shapes, text)


def idler(letters: Letters, mesh: Mesh) -> Scene:
    """The triangle of three shafts: where an idler may stand."""
    del mesh
    spacing, first, second = 60.0, 34.0, 42.0
    x = (spacing**2 + first**2 - second**2) / (2 * spacing)
    top = (x, math.sqrt(first**2 - x**2))
    angle = math.degrees(math.atan2(top[1], x))
    shapes: list[Shape] = [
        *letters.line((0, 0), top, "first_centre_distance", -8, 8),
        *letters.line(top, (spacing, 0), "second_centre_distance", 8, 8),
        Line((0, 0), (spacing, 0), "outline"),
        letters.length((0, 0), (spacing, 0), "shaft_spacing", -10.0),
        Line(top, (x, 0), "construction"),
        letters.length((0, 0), (x, 0), "idler_x", -4.0),
        letters.at((x, 0.45 * top[1]), "idler_y", 7),
        *right_angle((x, 0), 90, 2.0),
        *letters.angle((0, 0), 10.0, 0, angle, "idler_angle", 13),
        *dot((0, 0), "first", 0, 13),
        *dot((spacing, 0), "last", 0, 13),
        *dot(top, "idler", 0, 14),
    ]
    text = (
        "The shafts of the first gear, the idler and the last gear are the corners of a triangle whose "
        "three sides are known."
    )
    return scene(shapes, text, width=520.0)


def compound(letters: Letters, mesh: Mesh) -> Scene:
    """Two stages on three shafts, with counts, seen from above."""
    del mesh
    radii, gap = (8.0, 16.0, 9.0, 19.0), 6.0
    shafts = (0.0, radii[0] + radii[1], radii[0] + radii[1] + radii[2] + radii[3])
    shapes: list[Shape] = []
    for number, side in enumerate(("first", "second", "third", "fourth")):
        x, y, radius = shafts[(number + 1) // 2], (number // 2) * gap, radii[number]
        of = ("driver", "gear", "gear", "driven")[number]
        box = [(x - radius, y - 1.6), (x + radius, y - 1.6), (x + radius, y + 1.6), (x - radius, y + 1.6)]
        shapes += [Outline(np.array(box), of, of), letters.at((x - 0.45 * radius, y), f"{side}_teeth", of=of)]
    for number, x in enumerate(shafts):
        low, high = (-8.0, 4.0) if number == 0 else (-4.0, 12.0) if number == 1 else (3.0, 15.0)
        shapes.append(Line((x, low), (x, high), "line of centres"))
    shapes += [
        letters.length((shafts[0], -1.6), (shafts[1], -1.6), "first_centre_distance", -8.0),
        letters.length((shafts[1], gap + 1.6), (shafts[2], gap + 1.6), "second_centre_distance", 9.0),
    ]
    text = "Two stages on three shafts: the second and the third gear sit on one shaft and turn together."
    return scene(shapes, text)


def cones(letters: Letters, mesh: Mesh) -> Scene:
    """Two pitch cones on shafts that stand square, with a common slant line."""
    del mesh
    radius, other_radius = 20.0, 30.0  # large radii; the apex is the origin, the driver's axis points right
    corner = (other_radius, radius)
    angle = math.degrees(math.atan2(radius, other_radius))
    shapes: list[Shape] = [
        Line((0, 0), (1.25 * other_radius, 0), "line of centres"),
        Line((0, 0), (0, 1.45 * radius), "line of centres"),
        Line((0, 0), corner, "line of action"),
        letters.at((0.62 * other_radius, 0.62 * radius), "cone_distance", -6, 12),
        Line((0, 0), (other_radius, -radius), "outline", "driver"),
        Line((other_radius, -radius), corner, "outline", "driver"),
        Line((0, 0), (-other_radius, radius), "outline", "driven"),
        Line((-other_radius, radius), corner, "outline", "driven"),
        letters.length((other_radius, 0), corner, "driver_pitch_radius", -0.22 * other_radius, "driver"),
        letters.length((0, radius), corner, "driven_pitch_radius", 0.14 * other_radius, "driven"),
        *letters.angle((0, 0), 0.42 * other_radius, 0, angle, "driver_cone_angle", 14, of="driver"),
        *letters.angle((0, 0), 0.28 * other_radius, angle, 90, "driven_cone_angle", 14, of="driven"),
        *dot((0, 0), "apex", -8, -12),
        *dot(corner, "pitch point", 8, 12),
    ]
    text = (
        "Two pitch cones with one apex roll on each other along a common line, the cone distance; their "
        "cone angles together are the shaft angle."
    )
    return scene(shapes, text, width=560.0)


def leaning(letters: Letters, mesh: Mesh) -> Scene:
    """A bevel gear cut along its axis: the addendum stands square to the cone and leans from the axis."""
    del mesh
    slant, angle, addendum = 36.0, 33.7, 7.0
    shapes: list[Shape] = [Line((-4, 0), (44, 0), "line of centres")]
    large, tips = polar((0, 0), slant, angle), polar(polar((0, 0), slant, angle), addendum, 90 + angle)
    for sign in (1, -1):
        at, tip = (large[0], sign * large[1]), (tips[0], sign * tips[1])
        shapes += [Line((0, 0), at, "pitch circle", "driver"), Line(at, tip, "outline", "driver"), *dot(at)]
    shapes += [
        Line((0, 0), tips, "construction"),
        letters.at(((large[0] + tips[0]) / 2, (large[1] + tips[1]) / 2), "addendum", 7, 5),
        *right_angle(large, 90 + angle, 1.6),
        *letters.angle((0, 0), 13.0, 0, angle, "driver_cone_angle", 14, of="driver"),
        letters.length((large[0], -large[1]), large, "driver_pitch_diameter", -7.0, "driver"),
        letters.length((tips[0], -tips[1]), tips, "driver_cone_outside_diameter", -22.0, "driver"),
        *dot((0, 0), "apex", -8, -12),
    ]
    text = (
        "A bevel gear cut along its axis: at the large end the addendum is square to the pitch cone, so "
        "only the cosine of the cone angle of it counts across the axis, once on either side."
    )
    return scene(shapes, text, width=440.0)


def planetary(letters: Letters, mesh: Mesh) -> Scene:
    """Sun, three planets, ring and carrier with their speeds."""
    del mesh
    sun, planet = 12.0, 9.0
    ring, arm = sun + 2 * planet, sun + planet
    shapes: list[Shape] = [
        Circle((0, 0), ring, "pitch circle", "driven"),
        Circle((0, 0), sun, "pitch circle", "driver"),
    ]
    for angle in (90, 210, 330):
        at = polar((0, 0), arm, angle)
        shapes += [Circle(at, planet, "pitch circle", "gear"), Line((0, 0), at, "outline"), *dot(at)]
    shapes += [
        Arc((0, 0), 0.62 * sun, 240, 300, "turning arrow", "driver", head=True),
        letters.at((0, -0.62 * sun), "sun_speed", 0, 15, of="driver"),
        letters.at((0.55 * sun, 0.25 * sun), "sun_teeth", of="driver"),
        letters.at(polar((0, 0), arm, 90), "planet_teeth", 10, 12, of="gear"),
        letters.at(polar((0, 0), ring, 45), "ring_teeth", 8, 6, of="driven"),
        Arc((0, 0), ring * 1.08, 140, 165, "turning arrow", "driven", head=True),
        letters.at(polar((0, 0), ring * 1.08, 152), "ring_speed", -10, 8, of="driven"),
        Arc((0, 0), arm * 0.78, 14, 40, "turning arrow", head=True),
        letters.at(polar((0, 0), arm * 0.78, 27), "carrier_speed", 10, 2),
        letters.at(polar((0, 0), 0.84 * arm, 210), "carrier_radius", 0, 14),
        *dot((0, 0)),
    ]
    text = (
        "A sun, three planets on a carrier and a ring around them: from the middle to the ring are the "
        "sun's radius and a planet's diameter."
    )
    return scene(shapes, text, width=480.0)


FIGURES = (
    (row, "third_speed second_speed first_speed direction_factor first_teeth"),
    (idler, "idler_angle idler_x idler_y idler_bend shaft_spacing"),
    (compound, "train_ratio fourth_teeth fourth_speed equal_stage_ratio first_stage_ratio"),
    (cones, "driver_cone_angle driven_cone_angle cone_distance shaft_angle"),
    (leaning, "driver_cone_outside_diameter driven_cone_outside_diameter"),
    (
        planetary,
        "carrier_speed ring_teeth reduction planet_speed sun_teeth ring_speed sun_speed carrier_radius",
    ),
)
