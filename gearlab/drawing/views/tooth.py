"""The anatomy of a tooth: a section with its circles and its depths."""

from __future__ import annotations

import math

import numpy as np

from ...parts import Gear
from .. import numerals
from ..scene import Scene
from ..shapes import Arc, Dimension, Label, Outline, Shape, points_turned, turned
from .body import tooth_outline

#: What an arrow of the anatomy can show: quantity word and name, in the order of the numbers on the arrows.
ANATOMY = (
    ("addendum", "addendum"),
    ("dedendum", "dedendum"),
    ("whole_depth", "whole depth"),
    ("clearance", "clearance"),
    ("tooth_thickness", "tooth thickness"),
)

CIRCLES = (
    ("outside circle", "outside_diameter"),
    ("pitch circle", "pitch_diameter"),
    ("base circle", "base_diameter"),
    ("root circle", "root_diameter"),
)


def tooth(gear: Gear, *, named: bool = True, width: float = 720.0) -> Scene:
    """Three teeth, enlarged, with their circles, depths and thickness.

    named: True writes name and size on each arrow; False writes the numbers 1 to 5 of ``ANATOMY``.
    width: of the picture [points].
    Lengths in the unit of the gear [in or mm], the middle tooth upright.
    ValueError if the gear is so small that the section would be wider than its root circle.

    >>> from gearlab.parts import Gear
    >>> "whole depth 5.625 mm" in tooth(Gear(18, module=2.5)).text
    True
    """
    pitch = gear.circular_pitch
    left, right = -1.22 * pitch, 1.08 * pitch
    if gear.root_diameter / 2 <= -left:
        raise ValueError(
            f"{gear.teeth} teeth are too few for a section of three teeth: the root diameter is"
            f" {gear.root_diameter:.4g} {gear.unit} and must be above {-2 * left:.4g} {gear.unit}; give"
            " more teeth"
        )
    margins = (104.0, 96.0 if named else 36.0)  # right, left: for the words
    scale = (width - sum(margins)) / (right - left + 0.35 * pitch)
    shapes: list[Shape] = [Outline(_section(gear, left, right), "gear", "gear")]
    shapes += _circles(gear, left, right, scale)
    shapes += _depths(gear, left, scale, named)
    shapes += _thickness(gear, named)
    what = f"Section of the teeth of a gear with {gear.teeth} teeth, {numerals.pitch_name(gear)}"
    if named:
        sizes = [f"{name} {numerals.length(getattr(gear, word), gear.unit)}" for word, name in ANATOMY]
        text = f"{what}: {', '.join(sizes)}."
    else:
        text = (
            f"{what}, with five numbered arrows: 1 from the pitch circle to the outside circle; 2 from the"
            " root circle to the pitch circle; 3 from the root circle to the outside circle; 4 from the root"
            " circle up to where the other gear's tips reach; 5 across the tooth along the pitch circle."
        )
    return Scene(
        tuple(shapes),
        text,
        gear.unit,
        title="tooth anatomy",
        margin=(16.0, margins[0], 14.0, margins[1]),
        width=width,
    )


def _circles(gear: Gear, left: float, right: float, scale: float) -> list[Shape]:
    """The four circles between two upright cuts, with their names on the right."""
    sizes = sorted(CIRCLES, key=lambda row: -getattr(gear, row[1]))
    radii = [getattr(gear, size) / 2 for _, size in sizes]
    at_edge = [math.sqrt(radius**2 - right**2) for radius in radii]
    shapes: list[Shape] = []
    for (role, _), radius, edge, height in zip(sizes, radii, at_edge, _apart(at_edge, 20 / scale)):
        of = "driver" if role == "pitch circle" else ""
        near, far = (math.degrees(math.asin(side / radius)) for side in (left, right))
        tail = (right + 8 / scale, height)
        shapes += [
            Arc((0.0, 0.0), radius, 90 - near, 90 - far, role, of),
            Outline(np.array([[right, edge], tail]), "construction", closed=False),
            Label(tail, role, (4, 0), "start", "small", role, of),
        ]
    return shapes


def _depths(gear: Gear, left: float, scale: float, named: bool) -> list[Shape]:
    """Depths along radii: the dimension lines stand left of the teeth, square to the middle tooth."""
    pitch, radius = gear.circular_pitch, gear.pitch_diameter / 2
    outside, root = gear.outside_diameter / 2, gear.root_diameter / 2

    def tag(number: int, value: float) -> str:
        name = ANATOMY[number][1]
        return f"{name}\n{numerals.length(value, gear.unit)}" if named else str(number + 1)

    near, far = left - 0.13 * pitch, left - 0.35 * pitch
    shapes: list[Shape] = [Dimension((near, outside), (near, root), tag(2, outside - root), text_at=1)]
    for low, high, number in ((radius, outside, 0), (root, radius, 1)):
        shapes.append(Dimension((far, low), (far, high), tag(number, high - low)))
    for level in (outside, radius, root):
        line = np.array([[far - 6 / scale, level], [0.0, level]])
        shapes.append(Outline(line, "construction", closed=False))
    working = root + gear.clearance
    x, y = turned((0.0, 1.0), (0.0, 0.0), -180 / gear.teeth)  # the middle of a space
    return [
        *shapes,
        Arc((0.0, 0.0), working, 90 - 330 / gear.teeth, 90 - 30 / gear.teeth, "construction"),
        Dimension((x * root, y * root), (x * working, y * working), tag(3, gear.clearance), text_at=-1),
    ]


def _thickness(gear: Gear, named: bool) -> list[Shape]:
    """The thickness of the middle tooth as an arc of the pitch circle with two heads."""
    radius, thick = gear.pitch_diameter / 2, gear.tooth_thickness
    half = math.degrees(thick / 2 / radius)
    words = f"tooth\nthickness\n{numerals.length(thick, gear.unit)}" if named else "5"
    below = (0, -34 if named else -16)
    return [
        Arc((0.0, 0.0), radius, 90, 90 + half, "dimension", head=True),
        Arc((0.0, 0.0), radius, 90, 90 - half, "dimension", head=True),
        Label((0.0, radius), words, below, size="normal", role="speed", of="gear", room=thick),
    ]


def _section(gear: Gear, left: float, right: float) -> np.ndarray:
    """The teeth between two upright cuts, tooth 0 upright, with a straight lower edge below the root."""
    outline = tooth_outline(gear)[:-1]
    points = np.vstack([points_turned(outline, 90 + k * 360 / gear.teeth) for k in (-2, -1, 0, 1, 2)])
    inside = (points[:, 0] > left) & (points[:, 0] < right)
    kept = points[inside]
    order = np.flatnonzero(inside)

    def crossing(i, j, x):
        (x0, y0), (x1, y1) = points[i], points[j]
        return [x, y0 + (y1 - y0) * (x - x0) / (x1 - x0)]

    first = crossing(order[0] - 1, order[0], right)
    last = crossing(order[-1], order[-1] + 1, left)
    low = gear.root_diameter / 2 - max(1.4 * gear.scale, 0.0)
    low = min(
        low,
        math.sqrt((gear.root_diameter / 2) ** 2 - min(left**2, 0.9 * (gear.root_diameter / 2) ** 2))
        - 0.8 * gear.scale,
    )
    return np.vstack([[first], kept, [last], [[left, low], [right, low]]])


def _apart(heights: list[float], least: float) -> list[float]:
    """Heights in falling order, moved apart so that words do not lie on each other."""
    moved = list(heights)
    for _ in range(60):
        for i in range(len(moved) - 1):
            lack = least - (moved[i] - moved[i + 1])
            if lack > 1e-12:
                moved[i] += lack / 2
                moved[i + 1] -= lack / 2
    return moved
