"""The body of one gear as shapes: teeth, hatching, a marked tooth, its letter and its turning arrow."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from ...parts import Gear, InternalGear
from ..motion import Motion, Point
from ..shapes import LETTERS, Arc, Dot, Label, Outline, Shape, Strokes, Teeth, points_turned

TOLERANCE = 4e-4  # chord error of a drawn tooth [modules]; a hundredth of a pixel on a wide screen
SLOPE = {"driver": 45.0, "driven": -45.0, "gear": 45.0}


@lru_cache(maxsize=128)  # the gear that did not change is not cut again
def tooth_outline(gear: Gear | InternalGear) -> np.ndarray:
    """One pitch of a gear's outline in true size, (n, 2), not to be written to [gear.unit]."""
    points = gear.tooth.tooth_points(TOLERANCE) * gear.scale
    points.flags.writeable = False
    return points


def body(
    gear: Gear,
    role: str,
    centre: Point,
    angle: float,
    motion: Motion,
    scale: float,
    marked: int | None = 0,
    slope: float | None = None,
) -> list[Shape]:
    """Teeth, hatching and one marked tooth of a gear.

    ``scale`` [points of the picture per unit] sets how far apart the hatching stands; ``marked`` is the
    number of the tooth that is filled (None: no tooth), ``slope`` that of the hatching if not its role's
    [deg].
    """
    tooth = tooth_outline(gear)
    shapes: list[Shape] = [Teeth(tooth, gear.teeth, centre, angle, role, motion=motion)]
    strokes = hatch(centre, *rim(gear), SLOPE[role] if slope is None else slope, 8.0 / scale)
    if len(strokes):
        shapes.append(Strokes(strokes, "hatch", role, motion=motion))
    if marked is not None:
        points = points_turned(above_root(tooth, gear.root_diameter / 2), angle + marked * 360 / gear.teeth)
        shapes.append(Outline(points + np.asarray(centre), "marked tooth", role, motion=motion))
    return shapes


def above_root(tooth: np.ndarray, root: float) -> np.ndarray:
    """The tooth by itself, closed along the root circle, (n, 2) [unit of the scene]."""
    radius = np.hypot(tooth[:, 0], tooth[:, 1])
    standing = np.flatnonzero(radius > root + 0.01 * (radius.max() - root))
    flanks = tooth[standing[0] : standing[-1] + 1]
    last, first = np.arctan2(flanks[-1, 1], flanks[-1, 0]), np.arctan2(flanks[0, 1], flanks[0, 0])
    foot = np.linspace(last, first, 8)
    return np.vstack([flanks, root * np.column_stack([np.cos(foot), np.sin(foot)])])


def rim(gear: Gear) -> tuple[float, float]:
    """Inner and outer radius of the hatched ring.

    The disc inside stays plain for letter and arrow [gear.unit].
    """
    outer = gear.root_diameter / 2 - 0.8 * gear.scale
    return max(0.68 * outer, outer - 5.5 * gear.scale), outer


def hatch(centre: Point, inner: float, outer: float, slope: float, spacing: float) -> np.ndarray:
    """Parallel strokes at ``slope`` [deg] that fill a ring, (n, 2, 2) [unit of the scene]."""
    strokes = []
    count = int(outer / spacing)
    for i in range(-count, count + 1):
        height = i * spacing
        far = math.sqrt(max(outer**2 - height**2, 0.0))
        if far < 0.25 * spacing:
            continue
        if abs(height) >= inner:
            strokes.append([(-far, height), (far, height)])
        else:
            near = math.sqrt(inner**2 - height**2)
            strokes += [[(-far, height), (-near, height)], [(near, height), (far, height)]]
    if not strokes:
        return np.empty((0, 2, 2))
    return points_turned(np.array(strokes), slope) + np.asarray(centre)


def middle(
    gear: Gear,
    role: str,
    centre: Point,
    scale: float,
    turning: float,
    words: str = "",
    words_below: bool = True,
) -> list[Shape]:
    """What stands still in the middle of a gear: its letter, its turning arrow and its speed.

    ``turning`` is positive for counter-clockwise, negative for clockwise, 0 for no arrow. On a gear too
    small for both, the arrow runs round the outside.
    """
    plain = rim(gear)[0]
    roomy = plain * scale > 40
    letter = LETTERS.get(role, "")
    low = (0.0, 5.0 if roomy and words and words_below else 0.0)
    shapes: list[Shape] = [Dot(centre, "centre")]
    if letter:
        shapes = [Label(centre, letter, low, size="letter", role="letter", of=role)]
    if words and words_below:
        shapes.append(Label(centre, words, (0, -18), size="small", role="speed", of=role, room=1.8 * plain))
    if turning:
        reach, radius = (60.0, 0.80 * plain) if roomy else (48.0, gear.outside_diameter / 2 + 9.0 / scale)
        middle_of_arc = 90.0 if roomy or role == "gear" else {"driver": 180.0, "driven": 0.0}[role]
        side = math.copysign(1.0, turning)
        shapes.append(
            Arc(
                centre,
                radius,
                middle_of_arc - side * reach,
                middle_of_arc + side * reach,
                "turning arrow",
                role,
                head=True,
            )
        )
    return shapes
