"""Two cones with a common apex, seen square to both axes: do they touch all along, and roll on each other?"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from ...parts.bevel import BevelPair
from .. import numerals
from ..motion import Round, Turn
from ..scene import Scene
from ..shapes import LETTERS, Arc, Dot, Label, Line, Outline, Shape

SHARE = 0.3  # face, as a share of the cone distance
SHAFT = 4.0  # length of a shaft beyond the back of its cone [modules]
NEAR_ANGLE = 0.3  # how near the angles must come [deg]


def cones(
    driver_teeth: int,
    driven_teeth: int,
    module: float,
    driver_angle: float,
    driven_angle: float,
    *,
    shaft_angle: float = 90.0,
    side: int = 1,
    unit: str = "mm",
    turning: float = 1.0,
    width: float = 640.0,
) -> Scene:
    """Two bevel gears, as cones of any angles with their apexes at the crossing of the axes.

    The driver's axis lies level, its wide end to the right. If both cones touch all along and their large
    circles meet, they roll on each other; else they stand still.

    driver_teeth, driven_teeth: numbers of teeth [-].
    module: at the large end [mm or in].
    driver_angle, driven_angle: angle between axis and pitch cone, 5 to 85 [deg].
    shaft_angle: between the axes [deg].
    side: 1 if the driven gear stands above the driver's axis, -1 below [-].
    unit: "mm" or "in".
    turning: which way the driver turns, seen from its wide end, +1 counter-clockwise or -1 clockwise [-].
    width: of the picture [points].
    Lengths in the unit given [in or mm]; the axes cross at (0, 0).

    >>> cones(20, 30, 2.5, 33.7, 56.3).text[-56:]
    'touch all along and roll on each other, apexes together.'
    """
    rolls = rolling(driver_teeth, driven_teeth, driver_angle, driven_angle, shaft_angle)
    turn = math.radians(side * shaft_angle)
    along = (1.0, 0.0), (math.cos(turn), math.sin(turn))
    teeth, angles = (driver_teeth, driven_teeth), (driver_angle, driven_angle)
    speeds = (1.0, _pair(driver_teeth, driven_teeth, shaft_angle).speed(1.0)) if rolls else (0.0, 0.0)
    driver, driven = parts = [
        _Cone(count, module, angle, way, speed, role)
        for count, angle, way, speed, role in zip(teeth, angles, along, speeds, ("driver", "driven"))
    ]
    reach = max(driver.high, driven.high)
    back = 0.22 * (max(reach, driver.radius, driven.radius) + SHAFT * module)
    # at the common line, the edge of either cone that faces the other, stands a tooth of the driver and a
    # space of the driven gear
    starts = (0.0, 180.0 + 180.0 / driven_teeth) if side > 0 else (180.0, 180.0 / driven_teeth)
    shapes: list[Shape] = [
        Line(cone.at(-back, 0.0), cone.at(reach + 6 * module, 0.0), "line of centres") for cone in parts
    ]
    for cone, start in zip(parts, starts):
        shapes += cone.shapes(start)
    for cone in parts:
        shapes += cone.arrow(turning, rolls)
    if rolls:
        touch = math.radians(side * driver_angle)
        far = 1.12 * driver.radius / math.sin(math.radians(driver_angle))
        shapes.append(Line((0.0, 0.0), (far * math.cos(touch), far * math.sin(touch)), "line of action"))
    shapes.append(Dot((0.0, 0.0), "pitch point"))
    shapes.append(Label((0.0, 0.0), "apex", (-12, -14 * side), "end", "normal", "note"))
    return Scene(
        tuple(shapes),
        sentence(driver_teeth, driven_teeth, driver_angle, driven_angle, shaft_angle, side),
        unit,
        title=(
            f"cones of {numerals.number(driver_angle, 1)}\u00b0 and {numerals.number(driven_angle, 1)}\u00b0"
            f" for {driver_teeth} and {driven_teeth} teeth"
        ),
        width=width,
        margin=(20.0, 20.0, 20.0, 20.0),
    )


def rolling(
    driver_teeth: int, driven_teeth: int, driver_angle: float, driven_angle: float, shaft_angle: float
) -> bool:
    """Whether cones of these angles [deg] touch all along with their large circles meeting, to 0.3 degrees.

    >>> rolling(20, 30, 33.7, 56.3, 90.0), rolling(20, 30, 45.0, 45.0, 90.0)
    (True, False)
    """
    try:
        right = _pair(driver_teeth, driven_teeth, shaft_angle).cone_angles[0]
    except ValueError:  # the larger cone would be flat or hollow
        return False
    return (
        abs(driver_angle - right) <= NEAR_ANGLE + 1e-9
        and abs(driver_angle + driven_angle - shaft_angle) <= NEAR_ANGLE + 1e-9
    )


@lru_cache(maxsize=64)
def _pair(driver_teeth: int, driven_teeth: int, shaft_angle: float) -> BevelPair:
    """The bevel gears of these counts, of any size."""
    return BevelPair(driver_teeth, driven_teeth, module=1.0, shaft_angle=shaft_angle)


class _Cone:
    """One gear: its cone as a body, its teeth as stripes that go round, its shaft."""

    def __init__(
        self, teeth: int, module: float, angle: float, way: tuple[float, float], speed: float, role: str
    ):
        self.teeth, self.module, self.way, self.speed, self.role = teeth, module, way, speed, role
        self.radius = module * teeth / 2
        self.high = self.radius / math.tan(math.radians(angle))  # apex to large circle, along the axis

    def at(self, along: float, aside: float) -> tuple[float, float]:
        """A point by its place along the axis and beside it."""
        ux, uy = self.way
        return along * ux - aside * uy, along * uy + aside * ux

    def shapes(self, start: float) -> list[Shape]:
        """Its shaft, its pitch cone between small and large circle, and the teeth on it as stripes."""
        module, role, inner = self.module, self.role, 1 - SHARE
        shaft, back = min(0.4 * self.radius, 1.8 * module), self.high + SHAFT * module
        shapes: list[Shape] = [
            Outline(
                np.array(
                    [
                        self.at(self.high, shaft),
                        self.at(back, shaft),
                        self.at(back, -shaft),
                        self.at(self.high, -shaft),
                    ]
                ),
                "gear",
                "gear",
            )
        ]
        near, far = (inner * self.high, inner * self.radius), (self.high, self.radius)
        shapes.append(
            Outline(
                np.array(
                    [self.at(*near), self.at(*far), self.at(far[0], -far[1]), self.at(near[0], -near[1])]
                ),
                role,
                role,
            )
        )
        pitch = 360.0 / self.teeth
        for k in range(self.teeth):
            strip = Round((0.0, 0.0), self.way, self.speed, (start + k * pitch) % 360.0, pitch / 4, near, far)
            shapes.append(
                Outline(
                    np.array(strip.outline()),
                    "marked tooth" if k != self.teeth // 4 else "mark",
                    role,
                    motion=strip,
                )
            )
        # the pitch cone, from apex to large circle
        for side in (1, -1):
            shapes.append(Line((0.0, 0.0), self.at(self.high, side * self.radius), "pitch circle", role))
        shapes.append(
            Line(self.at(self.high, self.radius), self.at(self.high, -self.radius), "pitch circle", role)
        )
        name = f"{role.capitalize()} {LETTERS[role]}, {self.teeth} teeth"
        if self.speed:
            middle = self.at((1 - SHARE / 2) * self.high, 0.0)
            shapes.append(Label(middle, "", motion=Turn(middle, self.speed, name, pitch, 1.05 * self.radius)))
        return shapes

    def arrow(self, turning: float, rolls: bool) -> list[Shape]:
        """The way its near side goes, as an arrow over the shaft, and its letter behind it."""
        module, heading = self.module, math.degrees(math.atan2(self.way[1], self.way[0]))
        at = self.high
        shapes: list[Shape] = [
            Label(
                self.at(at + (SHAFT + 2.4) * module, 0.0),
                LETTERS[self.role],
                size="letter",
                role="letter",
                of=self.role,
            )
        ]
        if rolls:
            way = math.copysign(1.0, turning * self.speed)
            shapes.append(
                Arc(
                    self.at(at + 0.2 * module, 0.0),
                    3.4 * module,
                    heading + way * 66,
                    heading - way * 66,
                    "turning arrow",
                    self.role,
                    head=True,
                )
            )
        return shapes


def gap(driver_angle: float, driven_angle: float, shaft_angle: float) -> float:
    """Angle between the two cones [deg]; negative where they overlap."""
    return shaft_angle - driver_angle - driven_angle


def sentence(
    driver_teeth: int,
    driven_teeth: int,
    driver_angle: float,
    driven_angle: float,
    shaft_angle: float,
    side: int,
) -> str:
    """What is shown, with the numbers."""
    text = (
        "Two cones with their apexes at the crossing of their axes, seen square to both: driver A for"
        f" {driver_teeth} teeth with a cone angle of {numerals.number(driver_angle, 1)} degrees, driven B for"
        f" {driven_teeth} teeth with {numerals.number(driven_angle, 1)} degrees, shafts at"
        f" {numerals.plain(shaft_angle, 1)} degrees, B {'above' if side > 0 else 'below'} the axis of A;"
        " stripes show the teeth. "
    )
    apart = gap(driver_angle, driven_angle, shaft_angle)
    if rolling(driver_teeth, driven_teeth, driver_angle, driven_angle, shaft_angle):
        return text + "They touch all along and roll on each other, apexes together."
    if apart > NEAR_ANGLE:
        return text + f"A gap of {numerals.number(apart, 1)} degrees is between them."
    if apart < -NEAR_ANGLE:
        return text + f"They overlap by {numerals.number(-apart, 1)} degrees."
    return text + "They touch, but their large circles do not meet."
