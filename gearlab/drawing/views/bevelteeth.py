"""Straight bevel teeth after Tredgold: a profile on the back cone that shrinks straight to the apex.

On the back cone, developed into a plane, a tooth looks like that of a spur gear with the back cone's length
for its pitch radius. Rolled up again it gives the large end of the tooth; every line of it runs to the apex.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..motion import Point, Round, Turn
from ..shapes import Circle, Outline, Shape

#: A corner: along the axis from the apex, off it [unit], round it from the tooth's middle [deg].
Corner = tuple[float, float, float]


def half_profile(
    radius: float,
    thickness: float,
    addendum: float,
    dedendum: float,
    pressure_angle: float,
    steps: int = 24,
    through: tuple[float, ...] = (),
) -> np.ndarray:
    """Half a tooth on the developed back cone, from its root to its middle at the tip, (n, 2).

    An involute down to the base circle, straight to the root from there; it never crosses the tooth's middle.

    radius: of the back cone's pitch circle; thickness: of the tooth on it; addendum, dedendum: above and
        below it [unit].
    pressure_angle: [deg]. steps: along the involute. through: distances that are among those returned [unit].
    Returns distance from the back cone's apex [unit] and angle from the tooth's middle [deg].

    >>> half_profile(30.0, 4.0, 2.5, 3.125, 20.0)[-1].round(3).tolist()
    [32.5, 1.647]

    Source: Tredgold's construction (standard texts on bevel gears).
    """
    pressure = math.radians(pressure_angle)
    base, tip, root = radius * math.cos(pressure), radius + addendum, radius - dedendum
    half = thickness / 2 / radius + math.tan(pressure) - pressure  # at the base circle [rad]
    radii = np.union1d(np.linspace(max(base, root), tip, steps + 1), through)
    along = np.arccos(np.clip(base / radii, -1.0, 1.0))
    turns = np.maximum(half - (np.tan(along) - along), 0.0)
    points = np.column_stack([radii, np.degrees(turns)])
    return np.vstack([[root, points[0, 1]], points]) if root < base else points


@dataclass(frozen=True)
class BevelTeeth:
    """The straight teeth of one bevel gear, its apex at the origin of its axis.

    teeth: number of teeth [-]. module: at the large end [mm or in]. angle: of the pitch cone [deg].
    addendum, dedendum: at the large end, along the back cone [unit]. pressure_angle: [deg].
    share: face width, as a share of the cone distance [-].

    >>> teeth = BevelTeeth(20, 2.5, 36.869898, 2.5, 3.125, 20.0, 0.3)
    >>> round(teeth.virtual_teeth, 3), round(teeth.height(), 4), round(teeth.height(small=True), 4)
    (25.0, 5.625, 3.9375)
    """

    teeth: int
    module: float
    angle: float
    addendum: float
    dedendum: float
    pressure_angle: float
    share: float

    @property
    def radius(self) -> float:
        """Of the large pitch circle [unit]."""
        return self.module * self.teeth / 2

    @property
    def distance(self) -> float:
        """Along the pitch cone, from the apex to the large pitch circle [unit]."""
        return self.radius / math.sin(math.radians(self.angle))

    @property
    def virtual_teeth(self) -> float:
        """Teeth of the spur gear that the developed back cone looks like [-]."""
        return self.teeth / math.cos(math.radians(self.angle))

    def height(self, small: bool = False) -> float:
        """Whole depth of a tooth at its large or small end [unit]."""
        return (self.addendum + self.dedendum) * (1 - self.share if small else 1.0)

    @cached_property
    def half(self) -> list[Corner]:
        """Half a tooth at the large end, from its root to its middle at the tip, on the back cone."""
        cone = math.radians(self.angle)
        back = self.radius / math.cos(cone)
        thick = math.pi * self.module / 2
        flat = half_profile(
            back, thick, self.addendum, self.dedendum, self.pressure_angle, steps=6, through=(back,)
        )
        apex = self.distance / math.cos(cone)  # of the back cone, along the axis
        return [
            (float(apex - r * math.sin(cone)), float(r * math.cos(cone)), float(turn / math.cos(cone)))
            for r, turn in flat
        ]

    def small(self, corner: Corner) -> Corner:
        """The corner at the small end on the same line to the apex."""
        return (1 - self.share) * corner[0], (1 - self.share) * corner[1], corner[2]

    @property
    def root(self) -> tuple[Corner, Corner]:
        """Where the root cone ends: at the small end and at the large one."""
        return self.small(self.half[0]), self.half[0]

    def pieces(self) -> list[tuple[str, tuple[Corner, ...]]]:
        """What a tooth shows from outside, by role: its two flanks, its tip land, its large end."""
        left = self.half
        right = [(along, off, -turn) for along, off, turn in left]
        flanks = [(*(self.small(corner) for corner in side), *reversed(side)) for side in (left, right)]
        land = (left[-1], right[-1], self.small(right[-1]), self.small(left[-1]))
        return [
            ("tooth side", flanks[0]),
            ("tooth side", flanks[1]),
            ("land", land),
            ("tooth end", (*left, *reversed(right))),
        ]

    def from_aside(self, way: Point, speed: float, start: float, role: str) -> list[Shape]:
        """The gear from the side: root cone, then flanks, lands and ends of all teeth, which go round.

        Lands and ends lie on the outside of the whole gear, where nothing of it covers them: they come last.

        way: along its axis, away from the apex. start: where the first tooth stands round it [deg].
        """
        ux, uy = way
        corners = [(along, side * off) for side in (1, -1) for along, off, _ in self.root[::side]]
        body = np.array([(a * ux - s * uy, a * uy + s * ux) for a, s in corners])
        shapes: list[Shape] = [Outline(body, "tooth side", role)]
        pitch = 360.0 / self.teeth
        for look, piece in sorted(self.pieces(), key=lambda each: each[0] != "tooth side"):
            for k in range(self.teeth):
                motion = Round((0.0, 0.0), way, speed, (start + k * pitch) % 360.0, piece)
                # one tooth stands out, to be followed with the eye
                marked = look == "land" and k == self.teeth // 4
                shapes.append(
                    Outline(np.array(motion.outline()), "mark" if marked else look, role, motion=motion)
                )
        return shapes

    def from_apex(self, centre: Point, motion: Turn, role: str) -> list[Shape]:
        """The gear seen from the apex along its axis: every tooth from its large end to its small one."""
        left = self.half
        right = [(along, off, -turn) for along, off, turn in left]
        large = [*right, *reversed(left)]

        def ring(tooth: list[Corner]) -> np.ndarray:
            return np.vstack([self._seen(tooth, k, centre) for k in range(self.teeth)])

        shapes: list[Shape] = [Outline(ring(large), "tooth side", role, motion=motion)]
        for k in range(self.teeth):
            for look, piece in self.pieces():
                if look == "land":
                    land = self._seen(list(piece), k, centre)
                    shapes.append(Outline(land, "land" if k else "mark", role, motion=motion))
        small = [self.small(corner) for corner in large]
        shapes += [
            Outline(ring(small), "tooth end", role, motion=motion),
            Circle(centre, self.radius, "pitch circle", role),
        ]
        return shapes

    def _seen(self, corners: list[Corner], tooth: int, centre: Point) -> np.ndarray:
        turns = np.radians([turn + 360.0 * tooth / self.teeth for _, _, turn in corners])
        off = np.array([radius for _, radius, _ in corners])
        return np.column_stack([off * np.cos(turns), off * np.sin(turns)]) + np.asarray(centre)
