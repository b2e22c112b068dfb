"""Figures of two gears: centres, motion, path of contact, shafts apart, backlash, marks, forces."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from ...parts import Gear, Mesh
from ..scene import Scene
from ..shapes import Arc, Circle, Line, Outline, Shape
from .letters import XY, Letters, dot, named, polar, right_angle, scene


def vent_drive() -> Mesh:
    """The pair of the vent drive, drawn where no other is asked for.

    >>> vent_drive().centre_distance
    78.75
    """
    return Mesh(Gear(18, module=2.5), Gear(45, module=2.5))


def _pitch_circles(mesh: Mesh) -> tuple[list[Shape], float, float, float]:
    radius, other_radius = (diameter / 2 for diameter in mesh.operating_pitch_diameters)
    distance = mesh.centre_distance
    return (
        [
            Circle((0, 0), radius, "pitch circle", "driver"),
            Circle((distance, 0), other_radius, "pitch circle", "driven"),
            Line((0, 0), (distance, 0), "line of centres"),
            *dot((0, 0)),
            *dot((distance, 0)),
            *dot((radius, 0)),
        ],
        radius,
        other_radius,
        distance,
    )


def centres(letters: Letters, mesh: Mesh) -> Scene:
    """Two pitch circles that touch, with radii, counts and centre distance."""
    shapes, radius, other_radius, distance = _pitch_circles(mesh)
    below = -1.25 * radius
    shapes += [
        letters.length((0, 0), (radius, 0), "driver_pitch_radius", 0.25 * radius, "driver"),
        letters.length((radius, 0), (distance, 0), "driven_pitch_radius", 0.25 * radius, "driven"),
        letters.length((0, 0), (distance, 0), "centre_distance", below),
        letters.at((-0.5 * radius, 0), "driver_teeth", of="driver"),
        letters.at((distance + 0.5 * other_radius, 0), "driven_teeth", of="driven"),
        named((radius, 0), "pitch point", -6, -12),
    ]
    text = (
        "Two pitch circles touch at the pitch point on the line of centres; both radii together are the "
        "centre distance."
    )
    return scene(shapes, text, unit=mesh.driver.unit)


def speeds(letters: Letters, mesh: Mesh) -> Scene:
    """Two pitch circles that roll on each other, with counts and speeds."""
    shapes, radius, other_radius, distance = _pitch_circles(mesh)
    shapes += [
        Arc((0, 0), 0.62 * radius, 130, 50, "turning arrow", "driver", head=True),
        Arc((distance, 0), 0.75 * other_radius, 50, 130, "turning arrow", "driven", head=True),
        letters.at((0, 0.62 * radius), "driver_speed", 0, -16, of="driver"),
        letters.at((distance, 0.75 * other_radius), "driven_speed", 0, -18, of="driven"),
        letters.at((0, -0.5 * radius), "driver_teeth", of="driver"),
        letters.at((distance, -0.5 * other_radius), "driven_teeth", of="driven"),
    ]
    text = (
        "Two pitch circles roll on each other: equal numbers of teeth pass the mesh, so the gears turn "
        "opposite ways and the larger one slower."
    )
    return scene(shapes, text, unit=mesh.driver.unit)


def path(letters: Letters, mesh: Mesh) -> Scene:
    """The two right triangles that overlap along the line of action."""
    base = [gear.base_diameter / 2 for gear in (mesh.driver, mesh.driven)]
    out = [gear.outside_diameter / 2 for gear in (mesh.driver, mesh.driven)]
    angle, distance = mesh.operating_pressure_angle, mesh.centre_distance
    first, second = polar((0, 0), base[0], angle), polar((distance, 0), base[1], 180 + angle)
    along = angle - 90
    piece = [math.sqrt(o * o - b * b) for o, b in zip(out, base, strict=True)]
    end, begin = polar(first, piece[0], along), polar(second, piece[1], along + 180)

    def beside(start: XY, length: float, word: str, off: float) -> Shape:
        return letters.length(start, polar(start, length, along), word, off)

    # the two dimensions of the pieces lie one on each side of the line of action
    shapes: list[Shape] = [
        Arc((0, 0), base[0], -45, 60, "base circle", "driver"),
        Arc((distance, 0), base[1], 150, 222, "base circle", "driven"),
        Arc((0, 0), out[0], -45, 50, "outside circle", "driver"),
        Arc((distance, 0), out[1], 150, 218, "outside circle", "driven"),
        Line((0, 0), (distance, 0), "line of centres"),
        Line(first, second, "line of action"),
        *letters.line((0, 0), first, "driver_base_radius", -4, 10, of="driver"),
        *letters.line((0, 0), end, "driver_outside_radius", -6, -8, of="driver"),
        *letters.line((distance, 0), second, "driven_base_radius", 0, -14, of="driven"),
        *letters.line((distance, 0), begin, "driven_outside_radius", 0, 12, of="driven"),
        *right_angle(first, along - 90, 0.05 * distance * 0.6),
        *right_angle(second, along + 90, 0.05 * distance * 0.6),
        beside(first, piece[0], "driver_piece", 0.055 * distance),
        beside(begin, piece[1], "driven_piece", -0.055 * distance),
        beside(begin, mesh.length_of_action, "length_of_action", 0.15 * distance),
        beside(first, math.dist(first, second), "tangent_point_distance", 0.25 * distance),
        *letters.angle((0, 0), 0.13 * distance, 0, angle, "operating_pressure_angle", 16),
        *dot((0, 0)),
        *dot((distance, 0)),
        *dot(first),
        *dot(second),
    ]
    text = (
        "The line of action touches both base circles, at the tangent points. At each gear a right "
        "triangle of base radius, outside radius and a piece of the line: the pieces overlap, and what "
        "they share is the path of contact."
    )
    return scene(shapes, text, unit=mesh.driver.unit, margin=40.0, width=645.0)


def apart(letters: Letters, mesh: Mesh) -> Scene:
    """Shafts further apart: the same base circles, a larger operating pressure angle."""
    letters = replace(letters, same={})  # here these words are told apart
    base = [gear.base_diameter / 2 for gear in (mesh.driver, mesh.driven)]
    distance = mesh.reference_centre_distance * 1.05
    angle = math.degrees(math.acos(sum(base) / distance))
    first, second = polar((0, 0), base[0], angle), polar((distance, 0), base[1], 180 + angle)
    radius = distance * base[0] / sum(base)
    shapes: list[Shape] = [
        Circle((0, 0), base[0], "base circle", "driver"),
        Arc((distance, 0), base[1], 100, 260, "base circle", "driven"),
        Line((0, 0), (distance, 0), "line of centres"),
        Line(first, second, "line of action"),
        *letters.line((0, 0), first, "driver_base_radius", -6, 8, of="driver"),
        *letters.line((distance, 0), second, "driven_base_radius", 8, -10, of="driven"),
        *right_angle(first, angle + 180, 0.03 * distance),
        *right_angle(second, angle, 0.03 * distance),
        *letters.angle((0, 0), 0.17 * distance, 0, angle, "operating_pressure_angle", 16),
        *letters.angle((distance, 0), 0.22 * distance, 180, 180 + angle, "operating_pressure_angle", 18),
        letters.length((0, 0), (radius, 0), "driver_operating_pitch_radius", -1.4 * base[0], "driver"),
        letters.length((radius, 0), (distance, 0), "driven_operating_pitch_radius", -1.4 * base[0], "driven"),
        letters.length((0, 0), (distance, 0), "centre_distance", -1.12 * base[1]),
        *dot((radius, 0)),
        *dot((0, 0)),
        *dot((distance, 0)),
    ]
    text = (
        "The base circles stay as they are when the shafts move apart: the line of action leans more, at "
        "the operating pressure angle, and the centre distance is divided anew."
    )
    return scene(shapes, text, unit=mesh.driver.unit)


def retreat(letters: Letters, mesh: Mesh) -> Scene:
    """A rack tooth moved out by the opening: each flank draws back; and the play between tooth and space."""
    del mesh
    angle, opening, half = 20.0, 1.1, 1.9
    lean = math.tan(math.radians(angle))

    def trapezoid(x: float, up: float, half: float, turned: int) -> np.ndarray:
        top, low = half - turned * 2.0 * lean, half + turned * 2.2 * lean
        return np.array([[x - low, up - 2.2], [x - top, up + 2.0], [x + top, up + 2.0], [x + low, up - 2.2]])

    tooth, moved = trapezoid(0, 0, half, 1), trapezoid(0, -opening, half, 1)
    shrunk = opening * lean
    shapes: list[Shape] = [
        Outline(np.vstack([[-5.2, -2.2], tooth, [5.2, -2.2]]), "construction", closed=False),
        Outline(
            np.vstack([[-5.2, -2.2 - opening], moved, [5.2, -2.2 - opening]]),
            "outline",
            "driver",
            closed=False,
        ),
        Line((-5.2, 0), (5.2, 0), "line of centres"),
        letters.length((3.6, -2.2 - opening), (3.6, -2.2), "distance_opening", 0.0),
        letters.length((half - shrunk, 0), (half, 0), "flank_retreat", 1.0, text_at=1),
        letters.length((-half, 0), (-half + shrunk, 0), "flank_retreat", 1.0, text_at=-1),
        Line((half + 2.2 * lean, -2.2), (half + 2.2 * lean, 1.2), "construction"),
        *letters.angle((half + 2.2 * lean, -2.2), 2.6, 90, 90 + angle, "pressure_angle", 12),
    ]
    text = (
        "A tooth moved out by the opening of the centre distance: each of its leaning flanks moves back "
        "by the opening times the tangent of the pressure angle, and there are two."
    )
    return scene(shapes, text, margin=26.0)


def play(letters: Letters, mesh: Mesh) -> Scene:
    """A tooth of the driver in a space of the driven gear on the operating pitch circles, rolled out flat."""
    letters = replace(letters, same={})  # here these words are told apart
    del mesh
    pitch, thick, gap = 7.0, 3.2, 0.6

    def flanks(left: float, right: float, up: int, of: str) -> list[Shape]:
        lean = 0.5 * up
        rows = [(left - lean, -1.4), (left + lean, 1.4), (right - lean, 1.4), (right + lean, -1.4)]
        return [Outline(np.array(rows), of, of)]

    second = pitch - thick - gap
    shapes: list[Shape] = [
        *flanks(-thick / 2, thick / 2, 1, "driver"),
        *flanks(thick / 2, thick / 2 + second, -1, "driven"),
        *flanks(-thick / 2 - gap - second, -thick / 2 - gap, -1, "driven"),
        Line((-6.0, 0), (6.0, 0), "line of centres"),
        letters.length((-thick / 2, 0), (thick / 2, 0), "driver_operating_thickness", -2.1, "driver"),
        letters.length((thick / 2, 0), (thick / 2 + second, 0), "driven_operating_thickness", 2.1, "driven"),
        letters.length((-thick / 2 - gap, 0), (-thick / 2, 0), "backlash", 2.1, text_at=-1),
        letters.length((-thick / 2 - gap, 0), (thick / 2 + second, 0), "operating_circular_pitch", 3.2),
    ]
    text = (
        "On the operating pitch circles, rolled out flat: a tooth of the driver, a tooth of the driven "
        "gear and the backlash fill one operating circular pitch."
    )
    return scene(shapes, text, margin=26.0)


def marks(letters: Letters, mesh: Mesh) -> Scene:
    """Two gears on a line of centres that leans, each with a marked tooth."""
    radius, other_radius = mesh.driver.pitch_diameter / 2, mesh.driven.pitch_diameter / 2
    lean, first, second = 30.0, 62.0, 24.0
    other = polar((0, 0), radius + other_radius, lean)
    shapes: list[Shape] = [
        Circle((0, 0), radius, "pitch circle", "driver"),
        Circle(other, other_radius, "pitch circle", "driven"),
        Line((0, 0), other, "line of centres"),
        Line((0, 0), (1.15 * radius, 0), "construction"),
        Line(other, (other[0] + 1.1 * other_radius, other[1]), "construction"),
        Line((0, 0), polar((0, 0), radius, first), "mark"),
        Line(other, polar(other, other_radius, second), "mark"),
        named(polar((0, 0), radius, first), "marked tooth", -4, 26),
        named(polar(other, 0.62 * other_radius, second), "marked tooth", -4, 14),
        *letters.angle((0, 0), 0.85 * radius, 0, lean, "line_angle", 10),
        *letters.angle((0, 0), 0.36 * radius, 0, first, "driver_mark_angle", 14, of="driver"),
        *letters.angle(other, 0.4 * other_radius, 0, second, "driven_mark_angle", 18, of="driven"),
        letters.at(polar((0, 0), 0.55 * radius, 230), "driver_teeth", of="driver"),
        letters.at(polar(other, 0.55 * other_radius, 230), "driven_teeth", of="driven"),
        *dot((0, 0)),
        *dot(other),
    ]
    text = (
        "The line of centres leans from the level; on each gear one tooth is marked, and its angle is "
        "counted from the level too."
    )
    return scene(shapes, text, unit=mesh.driver.unit, width=560.0)


def forces(letters: Letters, mesh: Mesh) -> Scene:
    """The push of the flanks at the pitch point and its two parts."""
    radius, angle = mesh.driver.pitch_diameter / 2, mesh.operating_pressure_angle
    push = 1.3 * radius
    tip = (radius + push * math.sin(math.radians(angle)), push * math.cos(math.radians(angle)))
    across = (radius, tip[1])
    shapes: list[Shape] = [
        Circle((0, 0), radius, "pitch circle", "driver"),
        Arc((radius + 1.6 * radius, 0), 1.6 * radius, 145, 215, "pitch circle", "driven"),
        Line((0, 0), (2.2 * radius, 0), "line of centres"),
        Line((radius, 0), tip, "string"),
        Line((radius, 0), across, "line of action"),
        Line(across, tip, "line of action"),
        letters.at((radius + 0.5 * (tip[0] - radius), 0.5 * tip[1]), "normal_force", 12, -4),
        letters.at((radius, 0.6 * tip[1]), "tangential_force", -8, 0),
        letters.at(((radius + tip[0]) / 2, tip[1]), "separating_force", 0, 14),
        *letters.angle((radius, 0), 0.55 * push, 90 - angle, 90, "pressure_angle", 13),
        *right_angle(across, -90, 0.06 * radius),
        Arc((0, 0), 0.5 * radius, 120, 200, "turning arrow", "driver", head=True),
        letters.at(polar((0, 0), 0.5 * radius, 160), "driver_torque", -12, of="driver"),
        letters.length((0, 0), (radius, 0), "driver_pitch_radius", -0.22 * radius, "driver"),
        *dot((0, 0)),
        *dot((radius, 0), "pitch point", 8, -14),
    ]
    text = (
        "The flanks push along the line of action. The part across the line of centres turns the gear; "
        "the part along it pushes the shafts apart."
    )
    return scene(shapes, text, unit=mesh.driver.unit, width=520.0)


FIGURES = (
    (
        centres,
        "centre_distance reference_centre_distance driver_teeth driven_teeth driver_pitch_diameter "
        "driven_pitch_diameter spaces_met",
    ),
    (
        speeds,
        "ratio driven_speed driver_speed pitch_line_speed driven_turns driver_turns driver_turns_to_repeat",
    ),
    (
        path,
        "length_of_action length_of_approach length_of_recess contact_ratio two_pair_share "
        "tangent_point_distance",
    ),
    (apart, "operating_pressure_angle driver_operating_pitch_diameter driven_operating_pitch_diameter"),
    (retreat, "quick_backlash distance_opening"),
    (play, "backlash operating_circular_pitch driver_operating_thickness driven_operating_thickness"),
    (marks, "driven_mark_angle driver_mark_angle line_angle mesh_turn"),
    (
        forces,
        "separating_force normal_force tangential_force driver_torque driven_torque power",
    ),
)
