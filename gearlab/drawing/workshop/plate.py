"""The drawing of the plate for the workshop: size, holes, edges, and the spacings as such."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ...parts.made import PlatePart
from .. import numerals
from ..scene import Scene
from ..shapes import Circle, Dimension, Dot, Label, Line, Outline, Shape
from .section import paper

BETWEEN = 8.0  # between two level dimension lines [mm on paper]
BESIDE = 14.0  # between two upright ones: their words stand beside them [mm on paper]


def plate_drawing(part: PlatePart) -> Scene:
    """The plate in true size when put on a sheet.

    Level dimensions stand within it and upright ones beside it, so that it keeps to its page.

    >>> from gearlab.parts.made import PlateHole
    >>> crank = PlateHole("crank", 53.75, 80, 10.05, True, 53.75)
    >>> plate_drawing(PlatePart("plate_220x160x6", 220, 160, 6, "mm", (crank,))).text
    'plate_220x160x6, 220 x 160 x 6 mm: crank at (53.75, 80) mm, diameter 10.05 mm, from the lower left
    corner.'
    """
    unit, mm, places = part.unit, paper(part.unit), 3 if part.unit == "mm" else 4

    def say(value: float) -> str:
        return numerals.plain(value, places)

    length, height = part.length, part.height
    edge = np.array([[0, 0], [length, 0], [length, height], [0, height]])
    shapes: list[Shape] = [Outline(edge, "outline", "gear")]
    for hole in part.holes:
        reach = hole.diameter / 2 + 4 * mm
        words = f"{hole.name} \u2300 {say(hole.diameter)}" + (
            "" if hole.stated else ", as its shaft: not stated"
        )
        shapes += [
            Circle((hole.x, hole.y), hole.diameter / 2, "hole"),
            Line((hole.x - reach, hole.y), (hole.x + reach, hole.y), "construction"),
            Line((hole.x, hole.y - reach), (hole.x, hole.y + reach), "construction"),
            Dot((hole.x, hole.y), "centre"),
            Label((hole.x, hole.y + reach + 3 * mm), words, size="small"),
            Label((hole.x, hole.y - reach - 3 * mm), f"{say(hole.edge)} from the edge", size="small"),
        ]
    shapes += _from_the_edges(part, mm, say)
    for row, spacing in enumerate(part.spacings):
        first, second = (next(hole for hole in part.holes if hole.name == name) for name in spacing.holes)
        words = f"{say(spacing.distance)} \u00b1 {say(spacing.within)}"
        left, right = sorted(((first.x, first.y), (second.x, second.y)))
        shapes.append(Dimension(left, right, words, (18 + BETWEEN * row) * mm))
    material = f", {part.material}" if part.material else ""
    shapes.append(
        Label(
            (6 * mm, height - 14 * mm),
            f"{part.name}{material}, {say(part.thickness)} {unit} thick",
            size="small",
            align="start",
        )
    )
    told = "; ".join(
        f"{hole.name} at ({say(hole.x)}, {say(hole.y)}) {unit}, diameter {say(hole.diameter)} {unit}"
        for hole in part.holes
    )
    text = f"{part.name}, {say(length)} x {say(height)} x {say(part.thickness)} {unit}: {told or 'no holes'}"
    text += ", from the lower left corner." if told else "."
    bounds = (0.0, 0.0, length + (BESIDE * len(_heights(part)) + 1) * mm, height)
    return Scene(tuple(shapes), text, unit, title=part.name, bounds=bounds)


def _from_the_edges(part: PlatePart, mm: float, say: Callable[[float], str]) -> list[Shape]:
    """Size of the plate, and where its holes stand from the lower left corner."""
    length, height = part.length, part.height
    shapes: list[Shape] = [Dimension((0.0, height), (length, height), say(length), -8 * mm)]
    for row, place in enumerate(sorted({hole.x for hole in part.holes if hole.x > 0})):
        shapes.append(Dimension((0.0, 0.0), (place, 0.0), say(place), (6 + BETWEEN * row) * mm))
    for row, place in enumerate(_heights(part)):
        shapes.append(Dimension((length, 0.0), (length, place), say(place), -BESIDE * (row + 1) * mm))
    return shapes


def _heights(part: PlatePart) -> list[float]:
    """Heights of holes above the lower edge, then that of the plate."""
    return [*sorted({hole.y for hole in part.holes if hole.y > 0}), part.height]
