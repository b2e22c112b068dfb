"""Sections: what a part looks like cut open along its axis, hatched where there is material."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from gearlab.theory.units import convert

from ..shapes import Box, Outline, Shape, Strokes, rectangle

SPACING = 2.2  # between the strokes of a hatching [mm on paper]


def paper(unit: str) -> float:
    """A millimetre on paper in the unit of a true-size scene.

    >>> paper("mm"), round(paper("in"), 4)
    (1.0, 0.0394)
    """
    return convert(1.0, "mm", unit)


def cut_open(box: Box, spacing: float, slope: float = 1.0) -> list[Shape]:
    """A rectangle of material that the section cuts: left, low, right, high; its edge and its hatching."""
    shapes: list[Shape] = [Outline(rectangle(*box), "outline", "gear")]
    strokes = hatching(box, spacing, slope)
    return [*shapes, Strokes(strokes, "hatch", "gear")] if len(strokes) else shapes


def cut_through(corners: np.ndarray, spacing: float, slope: float = 1.0) -> list[Shape]:
    """A convex piece of material that the section cuts, (n, 2): its edge and its hatching."""
    step, strokes = spacing * 2**0.5, []
    offsets = corners[:, 1] - slope * corners[:, 0]
    for k in range(int(np.floor(offsets.min() / step)) + 1, int(np.ceil(offsets.max() / step))):
        ends = []
        for (start, off), (end, far) in zip(
            zip(corners, offsets), zip(np.roll(corners, -1, 0), np.roll(offsets, -1))
        ):
            if (off - k * step) * (far - k * step) < 0:
                ends.append(start + (end - start) * (k * step - off) / (far - off))
        if len(ends) == 2:
            strokes.append(ends)
    shapes: list[Shape] = [Outline(corners, "outline", "gear")]
    return [*shapes, Strokes(np.array(strokes), "hatch", "gear")] if strokes else shapes


def hatching(box: Box, spacing: float, slope: float = 1.0) -> np.ndarray:
    """Strokes at 45 degrees within a rectangle, (n, 2, 2); they go on where a neighbour's leave off.

    >>> hatching((0, 0, 2, 1), 1.0).shape
    (2, 2, 2)
    """
    x0, y0, x1, y1 = box
    step = spacing * 2**0.5
    # lines y = slope * x + c, counted from the origin, so that two boxes side by side share them
    cs = sorted(y - slope * x for x in (x0, x1) for y in (y0, y1))
    strokes = []
    for k in range(int(np.floor(cs[0] / step)) + 1, int(np.ceil(cs[-1] / step))):
        ends = _within(k * step, slope, box)
        if ends is not None:
            strokes.append(ends)
    return np.array(strokes).reshape(-1, 2, 2)


def _within(c: float, slope: float, box: Box) -> Sequence[tuple[float, float]] | None:
    x0, y0, x1, y1 = box
    low, high = sorted(((y0 - c) / slope, (y1 - c) / slope))
    left, right = max(x0, low), min(x1, high)
    return None if right - left < 1e-9 else ((left, slope * left + c), (right, slope * right + c))
