"""How shapes of a scene move: turned by the gears, or moved by the reader's hand.

Angles are in degrees, counter-clockwise positive; lengths and places in the unit of the scene.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

Point = tuple[float, float]


@dataclass(frozen=True)
class Turn:
    """Turns about a point: by ``speed`` times the driver's angle.

    about: (x, y) of the axis [unit of the scene].
    speed: turning relative to the driver [-]; negative is the opposite direction.
    name: what is turned, as a screen reader says it; empty if it is no handle of its own.
    pitch: angle from one tooth to the next [deg].
    radius: how far out it reaches, for the focus ring [unit of the scene].
    around: axis about which its own axis is carried, if it is (a planet on its carrier) [unit of the scene].
    orbit: turning of what carries it, relative to the driver; ``speed`` then is seen from the carrier [-].
    plane: of gears that may cover one another, which lies nearer: the higher one; None for all others.
    """

    about: Point
    speed: float = 1.0
    name: str = ""
    pitch: float = 0.0
    radius: float = 0.0
    around: Point | None = None
    orbit: float = 0.0
    plane: int | None = None


@dataclass(frozen=True)
class Round:
    """A piece of a turning body, seen from the side, that goes round the body's axis by ``speed`` times the
    driver's angle: a flank or a land of a bevel gear's tooth.

    The axis lies in the picture; positive turning is counter-clockwise seen against ``direction``.

    about: (x, y) of a point of the axis [unit of the scene].
    direction: the way along the axis, a unit vector, towards the wide end [-].
    speed: turning relative to the driver [-].
    angle: where its middle stands round the axis; 0 to 180 is the side that is seen [deg].
    corners: distance from ``about`` along the axis, distance off the axis [unit of the scene], and angle
        from its middle [deg], of each corner.
    """

    about: Point
    direction: Point
    speed: float
    angle: float
    corners: tuple[tuple[float, float, float], ...]

    @property
    def hidden(self) -> bool:
        """Whether it lies behind while the driver's angle is zero."""
        turns = self._seen()
        return max(turns) <= 0.0 or min(turns) >= 180.0

    def _seen(self) -> list[float]:
        """Where its corners are seen round the axis; what lies behind stands at the edge [deg]."""
        middle = self.angle % 360.0
        middle -= 360.0 if middle > 270.0 else 0.0
        return [min(max(middle + turn, 0.0), 180.0) for _, _, turn in self.corners]

    def outline(self) -> list[Point]:
        """Its corners as they are seen while the driver's angle is zero.

        All in one place on the axis where it is hidden [unit of the scene].
        """
        (x, y), (ux, uy) = self.about, self.direction
        if self.hidden:
            along = self.corners[0][0]
            return [(x + along * ux, y + along * uy)] * len(self.corners)
        sides = [
            (along, off * math.cos(math.radians(turn)))
            for (along, off, _), turn in zip(self.corners, self._seen())
        ]
        return [(x + along * ux - side * uy, y + along * uy + side * ux) for along, side in sides]


@dataclass(frozen=True)
class Slide:
    """Slides along a straight line: by ``per_degree`` for each degree of the driver.

    With a ``period`` it comes again every period, and is seen only from ``low`` to ``high``
    (all three are lengths along the line from where the shape stands) [unit of the scene].
    """

    direction: Point
    per_degree: float
    period: float = 0.0
    low: float = -math.inf
    high: float = math.inf


@dataclass(frozen=True)
class Carry:
    """Is carried along a straight line by the reader's hand: it changes the control of that name.

    control: name of the control whose number is the place along the line.
    direction: the way in which the number grows, a unit vector [-].
    name: what is carried, as a screen reader says it.
    centre, radius: where the focus ring is drawn [unit of the scene].
    per: length along the line for one unit of the number [unit of the scene].
    """

    control: str
    direction: Point
    name: str
    centre: Point
    radius: float
    per: float = 1.0


@dataclass(frozen=True)
class Swing:
    """Is swung about a point by the reader's hand: it changes the control of that name, an angle [deg].

    The angle is that of a taut string from the hand to a circle of radius ``circle`` [unit] about the point
    (0: of the ray to the point); ``sense`` -1 counts clockwise. The rest is as for ``Carry``.
    """

    control: str
    about: Point
    name: str
    centre: Point
    radius: float
    circle: float = 0.0
    sense: float = 1.0


@dataclass(frozen=True)
class Press:
    """Is pressed by the reader: each press gives the control of that name the next of its values.

    control: name of the control.
    name: what is pressed and how it stands now, as a screen reader says it.
    centre, radius: the round place that answers to a click, and its focus ring [unit of the scene].
    values: whole numbers, gone through in this order and then from the start [-].
    """

    control: str
    name: str
    centre: Point
    radius: float
    values: tuple[int, ...]


Motion = Turn | Round | Slide | Carry | Swing | Press | None
