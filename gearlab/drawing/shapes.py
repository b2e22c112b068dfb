"""Shapes: what a picture is made of, as plain data in true size.

Coordinates are lengths in ``scene.unit``, x to the right, y upwards, angles in degrees,
counter-clockwise positive, seen from the gear side of the plate. A shape says what it is (its role),
never how it looks: looks belong to ``style``. Shapes stand where they are while the driver's angle
is zero; a shape that moves carries a motion. Only type, arrow heads and dots have a size on paper
(in points of the picture): everything else is true size and can be measured.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .motion import Motion, Point

ROLES = (
    "driver",
    "driven",
    "gear",
    "outline",
    "marked tooth",
    "hatch",
    "pitch circle",
    "base circle",
    "outside circle",
    "root circle",
    "line of centres",
    "line of action",
    "pitch point",
    "contact point",
    "centre",
    "mark",
    "hole",
    "dimension",
    "turning arrow",
    "construction",
    "letter",
    "speed",
    "note",
    "string",
    "flank",
    "cutter",
    "sweep",
    "shade",
    "overlap",
    "paper",
    "hidden outline",
    "clash",
    "gauge",
    "tooth side",
    "land",
    "tooth end",
)

#: Letters that tell the two gears of a pair apart without colour.
LETTERS = {"driver": "A", "driven": "B"}


@dataclass(frozen=True)
class Teeth:
    """A closed outline of one tooth repeated around a centre.

    ``tooth`` is one pitch of outline, (n, 2) [unit], from the middle of one space to the middle of
    the next, about the origin, its tooth on the +x axis; tooth 0 stands at ``angle`` [deg].
    """

    tooth: np.ndarray
    count: int
    centre: Point
    angle: float
    role: str
    of: str = ""
    motion: Motion = None

    def points(self) -> np.ndarray:
        """The whole outline, closed, shape (count * (n - 1) + 1, 2) [unit of the scene]."""
        open_tooth = self.tooth[:-1]
        turns = math.radians(self.angle) + 2 * math.pi * np.arange(self.count)[:, None] / self.count
        cos, sin = np.cos(turns), np.sin(turns)
        x = cos * open_tooth[:, 0] - sin * open_tooth[:, 1] + self.centre[0]
        y = sin * open_tooth[:, 0] + cos * open_tooth[:, 1] + self.centre[1]
        outline = np.column_stack([x.ravel(), y.ravel()])
        return np.vstack([outline, outline[:1]])


@dataclass(frozen=True)
class Outline:
    """A line through points, (n, 2) [unit of the scene]; ``closed`` ones may be filled."""

    points: np.ndarray
    role: str
    of: str = ""
    closed: bool = True
    motion: Motion = None


@dataclass(frozen=True)
class Strokes:
    """Separate strokes, (n, 2, 2).

    Hatching; or n broken lines of k points each, (n, k, 2) [unit of the scene].
    """

    points: np.ndarray
    role: str
    of: str = ""
    motion: Motion = None


@dataclass(frozen=True)
class Circle:
    """A circle; ``of`` names the gear it belongs to, if one [unit of the scene]."""

    centre: Point
    radius: float
    role: str
    of: str = ""
    motion: Motion = None


@dataclass(frozen=True)
class Line:
    """A straight line [unit of the scene]."""

    start: Point
    end: Point
    role: str
    of: str = ""
    motion: Motion = None


@dataclass(frozen=True)
class Arc:
    """Part of a circle from one angle to another [deg], with a head where it ends if ``head``."""

    centre: Point
    radius: float
    start: float
    end: float
    role: str
    of: str = ""
    head: bool = False
    motion: Motion = None


@dataclass(frozen=True)
class Dot:
    """A small mark whose size does not change with the picture: pitch point, contact point, centre."""

    at: Point
    role: str
    of: str = ""
    motion: Motion = None


@dataclass(frozen=True)
class Label:
    """Words beside a point.

    at: the point [unit of the scene].
    text: the words; a line break begins a new line.
    offset: how far the words stand from the point, right and up [points of the picture].
    align: which end of the words stands there: start, middle or end.
    size: small, normal, large or letter.
    role, of: how it looks; ``of`` gives it that gear's colour.
    room: width that the words may take [unit of the scene]; they are left out where it is too small.
    """

    at: Point
    text: str
    offset: Point = (0.0, 0.0)
    align: str = "middle"
    size: str = "normal"
    role: str = "note"
    of: str = ""
    room: float = math.inf
    motion: Motion = None


@dataclass(frozen=True)
class Dimension:
    """A length between two points, with heads, extension lines and its words.

    ``offset`` [unit of the scene] is how far the dimension line stands from the points, to the left
    when looking from start to end. The words stand over the middle; where the length is too short for
    both heads they stand outside. ``text_at`` (-1 start side, 0 middle, 1 end side) puts them elsewhere.
    """

    start: Point
    end: Point
    text: str
    offset: float = 0.0
    role: str = "dimension"
    of: str = ""
    text_at: int = 0
    motion: Motion = None

    def line(self) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Both ends of the dimension line and its unit normal (to the left) [unit of the scene]."""
        start, end = np.asarray(self.start, float), np.asarray(self.end, float)
        along = end - start
        length = math.hypot(*along)
        if length == 0:
            raise ValueError(
                f"dimension {self.text!r} has no length: its two points are the same, {self.start}; "
                "leave it out of the scene where there is nothing to measure"
            )
        normal = np.array([-along[1], along[0]]) / length
        return start + self.offset * normal, end + self.offset * normal, normal


Shape = Teeth | Outline | Strokes | Circle | Line | Arc | Dot | Label | Dimension
Box = tuple[float, float, float, float]


def rectangle(left: float, low: float, right: float, high: float) -> np.ndarray:
    """The corners of a rectangle, counter-clockwise from the lower left one, (4, 2) [unit of the scene]."""
    return np.array([[left, low], [right, low], [right, high], [left, high]])


def cross(at: Point, reach: float) -> list[Shape]:
    """Two thin lines through a centre, so far to each side [unit of the scene]."""
    x, y = at
    return [
        Line((x - reach, y), (x + reach, y), "construction"),
        Line((x, y - reach), (x, y + reach), "construction"),
    ]


def point(pair: np.ndarray) -> Point:
    """Two numbers of an array as a point [unit of the scene]."""
    return float(pair[0]), float(pair[1])


def turned(point: Point, about: Point, angle: float) -> Point:
    """A point turned about another by an angle [deg].

    >>> [round(v, 6) for v in turned((2.0, 0.0), (1.0, 0.0), 90.0)]
    [1.0, 1.0]
    """
    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    x, y = point[0] - about[0], point[1] - about[1]
    return about[0] + cos * x - sin * y, about[1] + sin * x + cos * y


def points_turned(points: np.ndarray, angle: float) -> np.ndarray:
    """Points, (..., 2), turned about the origin by an angle [deg]."""
    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    return points @ np.array([[cos, sin], [-sin, cos]])


def _corners(shape: Shape) -> np.ndarray:
    if isinstance(shape, (Teeth, Circle)):
        radius = shape.radius if isinstance(shape, Circle) else float(np.max(np.hypot(*shape.tooth.T)))
        return np.array(shape.centre) + radius * np.array([[-1, -1], [1, 1]])
    if isinstance(shape, Arc):
        low, high = sorted((shape.start, shape.end))
        turns = [low, high] + [a for a in range(-720, 721, 90) if low < a < high]
        return np.array(shape.centre) + shape.radius * np.array(
            [[math.cos(math.radians(a)), math.sin(math.radians(a))] for a in turns]
        )
    if isinstance(shape, Line):
        return np.array([shape.start, shape.end])
    if isinstance(shape, Dimension):
        first, last, _ = shape.line()
        return np.array([first, last, shape.start, shape.end])
    if isinstance(shape, (Dot, Label)):
        return np.array([shape.at])
    return np.asarray(shape.points, float).reshape(-1, 2)


def bounds_of(shapes: Sequence[Shape]) -> Box:
    """Left, low, right and high end of what shapes take up [unit of the scene]."""
    if not shapes:
        raise ValueError("a scene has no shapes: give at least one")
    corners = np.vstack([_corners(shape) for shape in shapes])
    if not np.all(np.isfinite(corners)):
        raise ValueError(
            "a scene has a shape whose coordinates are not finite numbers: check the sizes it was made from"
        )
    (x0, y0), (x1, y1) = corners.min(axis=0), corners.max(axis=0)
    return float(x0), float(y0), float(x1), float(y1)
