"""Figures of the bench: holes on a plate, hub and bore, rack and pinion."""

from __future__ import annotations

import math

import numpy as np

from ...parts import Mesh
from ..scene import Scene
from ..shapes import Arc, Circle, Line, Outline, Shape, rectangle
from .letters import Letters, dot, named, polar, scene


def holes(letters: Letters, mesh: Mesh) -> Scene:
    """Two holes of a pair on a plate."""
    radius, other_radius, distance = (
        mesh.driver.outside_diameter / 2,
        mesh.driven.outside_diameter / 2,
        mesh.centre_distance,
    )
    lean, (x, y) = 24.0, (1.35 * radius, 1.9 * radius)
    other = polar((x, y), distance, lean)
    length, height = other[0] + 1.1 * other_radius, other[1] + 1.1 * other_radius
    frame = rectangle(0, 0, length, height)
    shapes: list[Shape] = [
        Outline(frame, "outline", closed=True),
        Circle((x, y), radius, "outside circle", "driver"),
        Circle(other, other_radius, "outside circle", "driven"),
        Line((x, y), other, "line of centres"),
        Line((x, y), (other[0], y), "construction"),
        Circle((x, y), 0.12 * radius, "hole"),
        Circle(other, 0.12 * radius, "hole"),
        *letters.angle((x, y), 0.6 * radius, 0, lean, "line_angle", 13),
        letters.length((x, y), other, "centre_distance", 0.35 * radius),
        letters.length((0, 0), (x, 0), "hole_x", -0.35 * radius),
        letters.length((0, 0), (other[0], 0), "other_hole_x", -0.85 * radius),
        letters.length((0, 0), (length, 0), "plate_length", -1.35 * radius),
        letters.length((0, 0), (0, y), "hole_y", 0.35 * radius),
        letters.length((0, 0), (0, other[1]), "other_hole_y", 0.95 * radius),
    ]
    text = (
        "Two holes on a plate, each with its distances from the left and the lower edge; the centre "
        "distance leans from the level by the angle of the line of centres."
    )
    return scene(shapes, text, unit=mesh.driver.unit, width=560.0)


def stack(letters: Letters, mesh: Mesh) -> Scene:
    """Plate, gap, hub and face of a gear on its shaft, seen from the side."""
    del mesh
    plate, gap, overall, face, end, behind = 6.0, 2.5, 27.0, 13.0, 6.0, 7.0
    low, high = plate + gap, plate + gap + overall
    middle = high - face / 2

    def block(left: float, right: float, low: float, high: float, role: str, of: str = "") -> Outline:
        return Outline(rectangle(left, low, right, high), role, of)

    shapes: list[Shape] = [
        block(-30, 30, 0, plate, "outline"),
        block(-3.5, 3.5, -behind, high + end, "outline"),
        block(-9, 9, low, high - face, "driver", "driver"),
        block(-20, 20, high - face, high, "driver", "driver"),
        Line((-26, middle), (26, middle), "construction"),
        letters.length((22, high - face), (22, high), "face_width", -5.0),
        letters.length((22, low), (22, high), "overall_length", -14.0),
        letters.length((22, plate), (22, low), "axial_gap", -5.0, text_at=-1),
        letters.length((-24, plate), (-24, middle), "face_height", 2.0),
        letters.length((-30, 0), (-30, plate), "plate_thickness", 6.0),
        letters.length((-3.5, high), (-3.5, high + end), "end_length", 8.0),
        letters.length((-3.5, -behind), (-3.5, 0), "behind_plate", 8.0),
        letters.length((3.5, -behind), (3.5, high + end), "shaft_length", -44.0),
    ]
    text = (
        "A gear on its shaft above the plate, seen from the side: gap, overall length, face width, and "
        "the height of the middle of the face."
    )
    return scene(shapes, text, width=520.0)


def hub(letters: Letters, mesh: Mesh) -> Scene:
    """Root circle, hub and bore of a gear, the room between hub and root circle, and the way of the drill."""
    gear, of = mesh.driver, "driver"
    root, bore = gear.root_diameter / 2, 0.26 * gear.root_diameter / 2
    hub_radius = 0.76 * root
    shapes: list[Shape] = [
        Outline(gear.outline(), "outline", of),
        Circle((0, 0), root, "root circle", of),
        Circle((0, 0), hub_radius, "outline", of),
        Circle((0, 0), bore, "hole"),
        Line(polar((0, 0), bore, 90), polar((0, 0), hub_radius, 90), "line of centres"),
        letters.length((-bore, 0), (bore, 0), "bore_diameter", -1.3 * root),
        letters.length((-hub_radius, 0), (hub_radius, 0), "hub_diameter", -1.55 * root),
        letters.length((-root, 0), (root, 0), "root_diameter", -1.8 * root, of),
        letters.length((hub_radius, 0), (root, 0), "hub_room", 0.0, text_at=1),
        letters.length(polar((0, 0), bore, 90), polar((0, 0), hub_radius, 90), "hub_wall", -0.25 * root),
        named((0, 0.7 * hub_radius), "way of the drill", -8),
    ]
    text = (
        "A gear with its root circle, hub and bore: room is left between hub and root circle, and the "
        "wall of the hub is what lies between hub and bore."
    )
    return scene(shapes, text, width=460.0, unit=gear.unit)


def rack(letters: Letters, mesh: Mesh) -> Scene:
    """A pinion's pitch circle that rolls on the pitch line of a rack."""
    radius, of = mesh.driver.pitch_diameter / 2, "driver"
    back = 0.55 * radius
    start, end = -1.5 * radius, 2.4 * radius
    moved = 1.35 * radius
    frame = np.array([[start, -radius], [end, -radius], [end, -radius - back], [start, -radius - back]])
    shapes: list[Shape] = [
        Outline(frame, "outline", "driven"),
        Circle((0, 0), radius, "pitch circle", of),
        Arc((0, 0), 0.55 * radius, 200, 340, "turning arrow", of, head=True),
        *letters.line((0, 0), polar((0, 0), radius, 40), "pitch_radius", -6, 10, of=of),
        *dot((0, 0)),
        *dot((0, -radius)),
        *dot((moved, -radius)),
        letters.length((0, -radius), (moved, -radius), "travel", 0.35 * radius),
        letters.length((start, -radius - back), (start, -radius), "rack_pitch_height", 0.25 * radius),
        letters.length((start, -radius - back), (start, 0), "mounting_height", 0.7 * radius),
        Line((start, 0), (0, 0), "construction"),
        letters.at((0, -0.55 * radius), "turns", 0, 12, of=of),
    ]
    text = (
        "The pitch circle of a pinion rolls on the pitch line of a rack: while it turns, the rack "
        "travels; the pinion's centre is one pitch radius above the pitch line."
    )
    return scene(shapes, text, unit=mesh.driver.unit, width=560.0)


def beam(letters: Letters, mesh: Mesh) -> Scene:
    """One tooth as a beam: held at its weakest section, pushed where the line of force crosses its middle."""
    gear, of = mesh.driver, "driver"
    y, x = gear.outline().T  # the tooth that points to the right is turned to point up
    near = np.abs(np.arctan2(x, y)) < np.pi / gear.teeth
    x, y = -x[near], y[near]
    tip, base = gear.outside_diameter / 2, gear.base_diameter / 2
    corner = np.abs(np.arctan2(x, y)[np.hypot(x, y) > tip - 1e-4 * tip]).max()
    top = base / np.cos(np.arccos(base / tip) - corner)  # the line of force touches the base circle
    right = (x > 0) & (y < top - 0.3 * gear.scale)
    place = np.argmin(x[right] ** 2 / (top - y[right]))
    half, foot = x[right][place], y[right][place]
    order, out = np.argsort(np.arctan2(-x, y)), 2.4 * gear.scale
    shapes: list[Shape] = [
        Outline(np.column_stack((x, y))[order], "outline", of, closed=False),
        Line((0, foot - 0.5 * gear.scale), (0, tip + 0.4 * gear.scale), "line of centres"),
        Line((2.1 * gear.scale, top), (0, top), "string"),
        letters.at((1.3 * gear.scale, top), "tangential_force", 0, 12),
        Line((-half, foot), (half, foot), "construction"),
        letters.length((-half, foot), (half, foot), "beam_thickness", -0.75 * gear.scale),
        letters.length((-half, foot), (-half, top), "beam_height", 0.8 * gear.scale),
        *dot((0, top)),
        Line((half, foot), (half + out, foot), "construction"),
        named((half + out, foot), "weakest section", -2, 9),
        letters.at((half + 0.35 * out, top - 0.55 * (top - foot)), "face_width", -2),
        named((half + 0.35 * out, top - 0.55 * (top - foot)), "square to the page", 4),
    ]
    text = (
        "A tooth as a beam: at its weakest section it is held, and the force pushes it at a height above "
        "that section, where its line crosses the middle of the tooth."
    )
    return scene(shapes, text, unit=gear.unit, width=480.0)


def vent(letters: Letters, mesh: Mesh) -> Scene:
    """Hinge and rack joint of a vent, closed and open: a triangle with two equal sides."""
    del mesh
    side, half = 560.0, math.degrees(math.asin(200 / 560))
    level = -20.0
    closed, opened = (polar((0, 0), side, level + turn) for turn in (0, 2 * half))
    free = 720.0
    shapes: list[Shape] = [
        Line((0, 0), polar((0, 0), free, level), "outline", "driver"),
        Line((0, 0), polar((0, 0), free, level + 2 * half), "outline", "driven"),
        letters.at(polar((0, 0), side / 2, level), "joint_distance", 0, -14),
        letters.at(polar((0, 0), side / 2, level + 2 * half), "joint_distance", 0, 14),
        *letters.line(closed, opened, "rack_travel", 12, 8, "string"),
        Line((0, 0), polar((0, 0), side * math.cos(math.radians(half)), level + half), "construction"),
        *letters.angle((0, 0), 0.3 * side, level, level + 2 * half, "opening_angle", 16),
        *dot((0, 0), "hinge", 4, 22),
        *dot(closed, "joint, closed", -8, -14),
        *dot(opened, "joint, open", -8, 14),
    ]
    text = (
        "Seen from the side: the hinge and the two places of the rack joint make a triangle with two equal "
        "sides; the travel of the rack is its base, the opening angle lies at the hinge."
    )
    return scene(shapes, text, width=440.0)


FIGURES = (
    (holes, "hole_x hole_y other_hole_x other_hole_y plate_length end_margin"),
    (stack, "face_height outward_face_height shaft_length other_gap overall_length axial_gap"),
    (
        hub,
        "largest_hub hub_room greatest_drill_depth screw_room hub_diameter bore_diameter hub_wall "
        "holding_safety",
    ),
    (beam, "bending_stress form_factor"),
    (rack, "travel travel_per_turn rack_teeth mounting_height rack_speed"),
    (vent, "opening_angle joint_distance"),
)
