"""Which gears of a picture lie in front of others, and what they cover.

Gears whose motion has a ``plane`` may cover one another: those of a higher plane lie nearer. What a nearer
gear covers of an outline is drawn once more above it, dashed. ``widgets/page/behind.js`` does the same.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from .motion import Turn
from .shapes import Shape, Teeth

HIDDEN = "hidden outline"


def plane_of(shape: Shape) -> int | None:
    """The plane of a gear's shape; none where it lies in no particular one."""
    return shape.motion.plane if isinstance(shape.motion, Turn) else None


def by_depth(shapes: Iterable[Shape]) -> list[Shape]:
    """Shapes in drawing order: gears of farther planes first, what is covered of them dashed above all gears.

    What belongs to no plane keeps its place before or behind the gears.
    """
    given = list(shapes)
    places = [k for k, shape in enumerate(given) if plane_of(shape) is not None and shape.role != HIDDEN]
    if not places:
        return given
    first, last, gears = places[0], places[-1], [given[k] for k in places]
    between = [shape for shape in given[first : last + 1] if plane_of(shape) is None]
    gears.sort(key=lambda shape: plane_of(shape) or 0)
    behind = [shape for shape in given[last + 1 :] if plane_of(shape) is None]
    return [*given[:first], *gears, *between, *_covered(gears), *behind]


def _covered(gears: list[Shape]) -> list[Shape]:
    bodies = [
        shape for shape in gears if isinstance(shape, Teeth) and shape.role in ("driver", "driven", "gear")
    ]
    hidden: list[Shape] = []
    for far in bodies:
        if isinstance(far.motion, Turn) and any(covers(near, far) for near in bodies):
            motion = Turn(far.motion.about, far.motion.speed, plane=far.motion.plane)
            hidden.append(replace(far, role=HIDDEN, of=far.role, motion=motion))
    return hidden


def covers(near: Teeth, far: Teeth) -> bool:
    """Whether a gear in a nearer plane covers part of another one's outline."""
    apart = math.dist(near.centre, far.centre)
    (_, tip), (root, far_tip) = _radii(near), _radii(far)
    return (plane_of(near) or 0) > (plane_of(far) or 0) and apart < tip + far_tip and apart + tip > root


def _radii(teeth: Teeth) -> tuple[float, float]:
    radii = np.hypot(*teeth.tooth.T)
    return float(radii.min()), float(radii.max())
