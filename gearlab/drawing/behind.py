"""Which gears of a picture lie in front of others, and a picture as it is seen from behind.

Gears whose motion has a ``plane`` may cover one another: those of a higher plane lie nearer. What a nearer
gear covers of an outline is drawn once more above it, dashed.

Seen from behind a picture is turned over about its upright, the words not mirrored. Clockwise becomes
counter-clockwise, left becomes right; of two gears in different planes the one that was covered lies in
front. Numbers keep their signs, which count as seen from the gear side. ``widgets/page/behind.js`` does the
same to a living picture, without the kernel.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from .motion import Carry, Motion, Point, Press, Round, Slide, Swing, Turn
from .scene import Scene
from .shapes import Arc, Circle, Dot, Label, Line, Outline, Shape, Strokes, Teeth

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


LEAD = "Seen from behind: "
OTHER = {
    "counter-clockwise": "clockwise",
    "clockwise": "counter-clockwise",
    "Counter-clockwise": "Clockwise",
    "Clockwise": "Counter-clockwise",
    "\u21ba": "\u21bb",
    "\u21bb": "\u21ba",
    "left": "right",
    "right": "left",
}
TURNING = re.compile(r"[Cc]ounter-clockwise|[Cc]lockwise|[\u21ba\u21bb]")
SIDE = re.compile(
    r"\b(the|its|lower|upper|from|to|and|on|mm|in) (left|right)\b"
    r"(?! (?:angle|distance|hand|out|over|whole)\b)"
)
ALIGN = {"start": "end", "end": "start", "middle": "middle"}


def words_from_behind(text: str) -> str:
    """Words of turning and of sides, as they are seen from behind.

    >>> words_from_behind("driver 15 rpm counter-clockwise, to the right; a right angle is left")
    'driver 15 rpm clockwise, to the left; a right angle is left'
    """
    text = TURNING.sub(lambda match: OTHER[match[0]], text)
    return SIDE.sub(lambda match: f"{match[1]} {OTHER[match[2]]}", text)


def can_turn_over(scene: Scene) -> bool:
    """Whether it is a picture of gears, seen along their axes."""
    return any(isinstance(shape, Teeth) for shape in scene.shapes)


def behind(scene: Scene) -> Scene:
    """A picture of gears as it is seen from behind; twice, it is what it was.

    ValueError for a picture that shows no teeth, such as a section or a chart.

    >>> from gearlab.drawing.views import pair
    >>> from gearlab.parts import Gear, Mesh
    >>> scene = behind(pair(Mesh(Gear(18, module=2.5), Gear(45, module=2.5))))
    >>> scene.text[:46]
    'Seen from behind: Two spur gears in mesh, modu'
    """
    if not can_turn_over(scene):
        raise ValueError(
            f"the picture {scene.title!r} shows no teeth from the front, so there is no view from behind:"
            " give a picture of gears, seen along their axes"
        )
    x0, y0, x1, y1 = scene.bounds
    top, right, bottom, left = scene.margin
    focus = None if scene.focus is None else (-scene.focus[0], *scene.focus[1:])
    text = scene.text.removeprefix(LEAD) if scene.text.startswith(LEAD) else LEAD + scene.text
    return replace(
        scene,
        shapes=tuple(by_depth(_turned_over(shape) for shape in scene.shapes)),
        text=words_from_behind(text),
        margin=(top, left, bottom, right),
        focus=focus,
        bounds=(-x1, y0, -x0, y1),
    )


def _point(at: Point) -> Point:
    return -at[0] + 0.0, at[1]


def _points(points: np.ndarray) -> np.ndarray:
    return np.asarray(points, float) * (-1.0, 1.0) + 0.0


def _turned_over(shape: Shape) -> Shape:
    shape = replace(shape, motion=_motion(shape.motion))
    if isinstance(shape, Teeth):
        # mirrored about the axis of its first tooth; that axis stands as far from -x as it did from +x
        tooth = (shape.tooth * (1.0, -1.0))[::-1] + 0.0
        return replace(shape, tooth=tooth, centre=_point(shape.centre), angle=180.0 - shape.angle)
    if isinstance(shape, (Outline, Strokes)):
        return replace(shape, points=_points(shape.points))
    if isinstance(shape, Circle):
        return replace(shape, centre=_point(shape.centre))
    if isinstance(shape, Arc):
        return replace(shape, centre=_point(shape.centre), start=180.0 - shape.start, end=180.0 - shape.end)
    if isinstance(shape, Line):
        return replace(shape, start=_point(shape.start), end=_point(shape.end))
    if isinstance(shape, Dot):
        return replace(shape, at=_point(shape.at))
    words = words_from_behind(shape.text)
    if isinstance(shape, Label):
        offset, align = _point(shape.offset), ALIGN[shape.align]
        return replace(shape, at=_point(shape.at), text=words, offset=offset, align=align)
    start, end = _point(shape.start), _point(shape.end)
    return replace(shape, start=start, end=end, text=words, offset=-shape.offset)


def _motion(motion: Motion) -> Motion:
    if isinstance(motion, Turn):
        around = None if motion.around is None else _point(motion.around)
        about = _point(motion.about)
        plane = None if motion.plane is None else -motion.plane  # what lay behind lies in front
        speed, orbit = -motion.speed, -motion.orbit
        return replace(motion, about=about, around=around, speed=speed, orbit=orbit, plane=plane)
    if isinstance(motion, Round):
        about, direction = _point(motion.about), _point(motion.direction)
        corners = tuple((along, off, -turn) for along, off, turn in motion.corners)
        angle, speed = 180.0 - motion.angle, -motion.speed
        return replace(motion, about=about, direction=direction, speed=speed, angle=angle, corners=corners)
    if isinstance(motion, Slide):
        return replace(motion, direction=_point(motion.direction))
    if isinstance(motion, Carry):
        return replace(motion, direction=_point(motion.direction), centre=_point(motion.centre))
    if isinstance(
        motion, Swing
    ):  # the angle of its control counts as before: it is not to be swung from here
        return None
    if isinstance(motion, Press):
        return replace(motion, centre=_point(motion.centre), name=words_from_behind(motion.name))
    return None
