"""The line of action of a pair: where the teeth touch, and how the points of contact run along it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ...parts import Mesh
from ..motion import Slide
from ..shapes import Dot, Line


@dataclass(frozen=True)
class Action:
    """The line of action, measured from the pitch point along it, in the direction in which contact runs.

    pitch_point: x of the pitch point; the driver stands at the origin [unit of the gears].
    along: unit vector of the line [-].
    low, high: where contact begins and ends [unit].
    to_first, to_second: from the pitch point to the tangent points on the base circles [unit].
    start: where the driving flank of the driver's tooth 0 touches while the driver's angle is 0 [unit].
    period: the base pitch, from one contact to the next [unit].
    per_degree: how far contact runs for a degree of the driver [unit].
    """

    pitch_point: float
    along: tuple[float, float]
    low: float
    high: float
    to_first: float
    to_second: float
    start: float
    period: float
    per_degree: float

    def at(self, s: float) -> tuple[float, float]:
        """The point of the line at ``s`` from the pitch point [unit]."""
        return self.pitch_point + s * self.along[0], s * self.along[1]

    def line(self) -> Line:
        """The line between its tangent points on both base circles [unit]."""
        return Line(self.at(-self.to_first), self.at(self.to_second), "line of action")

    def contacts(self) -> list[Dot]:
        """One dot for each pair of teeth that may touch at once.

        They run along the line as the driver turns [unit].
        """
        first = math.ceil((self.low - self.start) / self.period)
        count = math.ceil((self.high - self.low) / self.period) + 1
        dots = []
        for k in range(first, first + count):
            s = self.start + k * self.period
            motion = Slide(self.along, self.per_degree, count * self.period, self.low - s, self.high - s)
            dots.append(Dot(self.at(s), "contact point", motion=motion))
        return dots


def action(mesh: Mesh, turning: float = 1.0) -> Action:
    """The line of action of a pair.

    turning: its sign is the direction of the driver, positive for counter-clockwise [-].
    Lengths in the unit of the gears [in or mm].

    >>> from gearlab.parts import Gear, Mesh
    >>> line = action(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)))
    >>> round(line.to_first + line.to_second, 2), round(line.high - line.low, 2)
    (26.93, 12.05)
    """
    driver = mesh.driver
    angle, way = math.radians(mesh.operating_pressure_angle), math.copysign(1.0, turning)
    pitch_point, other = (diameter / 2 for diameter in mesh.operating_pitch_diameters)
    base_1 = driver.base_diameter / 2
    to_first, to_second = pitch_point * math.sin(angle), other * math.sin(angle)
    # Where the flanks nowhere meet, there is no length of approach and none of recess.
    low, high = -mesh.numbers.get("length_of_approach", 0.0), mesh.numbers.get("length_of_recess", 0.0)
    half = mesh.numbers["driver_operating_thickness"] / mesh.numbers["driver_operating_pitch_diameter"]
    return Action(
        pitch_point,
        (math.sin(angle), way * math.cos(angle)),
        low,
        high,
        to_first,
        to_second,
        base_1 * half,
        driver.base_pitch,
        way * base_1 * math.pi / 180,
    )
