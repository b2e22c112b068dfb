"""Bevel gears as cones that roll on each other, and their teeth seen from the side."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from ...parts.bevel import BevelPair
from ...theory.systems import system
from .. import numerals
from ..motion import Point, Round, Turn
from ..scene import Scene
from ..shapes import LETTERS, Arc, Circle, Dot, Label, Line, Outline, Shape

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


SHARE = 0.3  # face, as a share of the cone distance
SHAFT = 4.0  # length of a shaft beyond the back of its gear [modules]
APART = 3.0  # between two faces [modules]
SIDE, FACES = "side", "faces"  # from where they are seen
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
    seen: str = SIDE,
    pressure_angle: float = 20.0,
    depths: tuple[tuple[float, float], ...] | None = None,
    width: float = 640.0,
) -> Scene:
    """Two bevel gears on cones of any angles with their apexes at the crossing of the axes.

    The driver's axis lies level, its wide end to the right. If both cones touch all along and their large
    circles meet, they roll on each other; else they stand still.

    driver_teeth, driven_teeth: numbers of teeth [-].
    module: at the large end [mm or in].
    driver_angle, driven_angle: angle between axis and pitch cone, 5 to 85 [deg].
    shaft_angle: between the axes [deg].
    side: 1 if the driven gear stands above the driver's axis, -1 below [-].
    unit: "mm" or "in".
    turning: which way the driver turns, seen from its wide end, +1 counter-clockwise or -1 clockwise [-].
    seen: "side", square to both axes, or "faces", each along its axis from the apex.
    depths: addendum and dedendum of either gear at the large end [mm or in]; full depth if left out.
    width: of the picture [points].
    Lengths in the unit given [in or mm]; the axes cross at (0, 0).

    >>> cones(20, 30, 2.5, 33.7, 56.3, seen="faces").text.split(". ")[-1]
    'They touch all along and roll on each other, apexes together.'
    """
    rolls = rolling(driver_teeth, driven_teeth, driver_angle, driven_angle, shaft_angle)
    turn = math.radians(side * shaft_angle)
    along = (1.0, 0.0), (math.cos(turn), math.sin(turn))
    teeth, angles = (driver_teeth, driven_teeth), (driver_angle, driven_angle)
    speeds = (1.0, _pair(driver_teeth, driven_teeth, shaft_angle).speed(1.0)) if rolls else (0.0, 0.0)
    if depths is None:
        row = system("full depth", pressure_angle)
        depths = 2 * ((row.addendum * module, row.dedendum * module + row.extra(unit)),)
    driver, driven = parts = [
        _Cone(BevelTeeth(count, module, angle, above, below, pressure_angle, SHARE), way, speed, role)
        for count, angle, (above, below), way, speed, role in zip(
            teeth, angles, depths, along, speeds, ("driver", "driven")
        )
    ]
    told = sentence(driver_teeth, driven_teeth, driver_angle, driven_angle, shaft_angle, side)
    title = (
        f"cones of {numerals.number(driver_angle, 1)}\u00b0 and {numerals.number(driven_angle, 1)}\u00b0"
        f" for {driver_teeth} and {driven_teeth} teeth"
    )
    if seen == FACES:
        shapes = _faces(parts, turning, rolls)
        stand = how_they_stand(driver_teeth, driven_teeth, driver_angle, driven_angle, shaft_angle)
        text = f"{_faces_in_words(parts, unit, shaft_angle)} {stand}"
        margin = (20.0, 12.0, 44.0, 12.0)
    else:
        shapes = _from_aside(parts, side, turning, rolls)
        text, margin = f"{told} {_teeth_in_words(parts, unit)}", (20.0, 20.0, 20.0, 20.0)
    return Scene(tuple(shapes), text, unit, title=title, width=width, margin=margin)


def _from_aside(parts: list[_Cone], side: int, turning: float, rolls: bool) -> list[Shape]:
    driver, driven = parts
    module, driven_teeth = driver.module, driven.teeth
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
        touch = math.radians(side * driver.cut.angle)
        far = 1.12 * driver.cut.distance
        shapes.append(Line((0.0, 0.0), (far * math.cos(touch), far * math.sin(touch)), "line of action"))
    shapes.append(Dot((0.0, 0.0), "pitch point"))
    shapes.append(Label((0.0, 0.0), "apex", (-12, -14 * side), "end", "normal", "note"))
    return shapes


def _faces(parts: list[_Cone], turning: float, rolls: bool) -> list[Shape]:
    """Both gears along their axes, side by side: from the apex each turns the other way round."""
    shapes: list[Shape] = []
    x = 0.0
    for cone in parts:
        x += cone.outer
        name = f"{cone.name}, seen from the apex"
        motion = Turn((x, 0.0), -cone.speed, name if cone.speed else "", 360.0 / cone.teeth, cone.outer)
        shapes += cone.cut.from_apex((x, 0.0), motion, cone.role)
        inner = 0.86 * cone.cut.root[0][1]
        shapes += [
            Circle((x, 0.0), inner, cone.role, cone.role, motion),
            Circle((x, 0.0), min(0.5 * inner, 1.8 * cone.module), "hole"),
            Dot((x, 0.0), "centre"),
            Label((x, -cone.outer), f"{cone.teeth} teeth", (0.0, -18.0), role=cone.role, of=cone.role),
            Label((x, 0.0), LETTERS[cone.role], (0.0, 24.0), size="letter", role="letter", of=cone.role),
        ]
        if rolls:
            half = math.copysign(55.0, -turning * cone.speed)
            shapes.append(
                Arc((x, 0.0), 0.8 * inner, 90.0 - half, 90.0 + half, "turning arrow", cone.role, head=True)
            )
        x += cone.outer + APART * cone.module
    return shapes


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
    """One gear: its pitch cone, its teeth, its shaft."""

    def __init__(self, cut: BevelTeeth, way: tuple[float, float], speed: float, role: str):
        self.cut, self.way, self.speed, self.role = cut, way, speed, role
        self.teeth, self.module, self.radius = cut.teeth, cut.module, cut.radius
        self.high = self.radius / math.tan(math.radians(cut.angle))  # apex to large circle, along the axis
        self.back = cut.root[1][0]  # apex to the back of the gear
        self.outer = cut.half[-1][1]  # of the tips at the large end

    @property
    def name(self) -> str:
        return f"{self.role.capitalize()} {LETTERS[self.role]}, {self.teeth} teeth"

    def at(self, along: float, aside: float) -> tuple[float, float]:
        """A point by its place along the axis and beside it."""
        ux, uy = self.way
        return along * ux - aside * uy, along * uy + aside * ux

    def shapes(self, start: float) -> list[Shape]:
        """Its shaft, its teeth, its pitch cone from the apex."""
        module, role = self.module, self.role
        shaft, end = min(0.4 * self.radius, 1.8 * module), self.back + SHAFT * module
        rod = [(self.back, shaft), (end, shaft), (end, -shaft), (self.back, -shaft)]
        shapes: list[Shape] = [Outline(np.array([self.at(*corner) for corner in rod]), "gear", "gear")]
        shapes += self.cut.from_aside(self.way, self.speed, start, role)
        # the pitch cone, from apex to large circle
        for side in (1, -1):
            shapes.append(Line((0.0, 0.0), self.at(self.high, side * self.radius), "pitch circle", role))
        shapes.append(
            Line(self.at(self.high, self.radius), self.at(self.high, -self.radius), "pitch circle", role)
        )
        if self.speed:
            middle = self.at((1 - SHARE / 2) * self.high, 0.0)
            turn = Turn(middle, self.speed, self.name, 360.0 / self.teeth, 1.05 * self.radius)
            shapes.append(Label(middle, "", motion=turn))
        return shapes

    def arrow(self, turning: float, rolls: bool) -> list[Shape]:
        """The way its near side goes, as an arrow over the shaft, and its letter behind it."""
        module, heading = self.module, math.degrees(math.atan2(self.way[1], self.way[0]))
        at = self.back
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
        " straight teeth whose lines all run to the apex. "
    )
    return text + how_they_stand(driver_teeth, driven_teeth, driver_angle, driven_angle, shaft_angle)


def how_they_stand(
    driver_teeth: int, driven_teeth: int, driver_angle: float, driven_angle: float, shaft_angle: float
) -> str:
    """Whether the cones roll on each other, in words."""
    apart = gap(driver_angle, driven_angle, shaft_angle)
    if rolling(driver_teeth, driven_teeth, driver_angle, driven_angle, shaft_angle):
        return "They touch all along and roll on each other, apexes together."
    if apart > NEAR_ANGLE:
        return f"A gap of {numerals.number(apart, 1)} degrees is between them."
    if apart < -NEAR_ANGLE:
        return f"They overlap by {numerals.number(-apart, 1)} degrees."
    return "They touch, but their large circles do not meet."


def _teeth_in_words(parts: list[_Cone], unit: str) -> str:
    """How high the teeth are at either end."""
    heights = [[numerals.length(cone.cut.height(small), unit) for small in (False, True)] for cone in parts]
    if heights[0] == heights[1]:
        large, small = heights[0]
        return f"The teeth are {large} high at the large end and {small} at the small one."
    return " ".join(
        f"The teeth of {LETTERS[cone.role]} are {large} high at the large end and {small} at the small one."
        for cone, (large, small) in zip(parts, heights)
    )


def _faces_in_words(parts: list[_Cone], unit: str, shaft_angle: float) -> str:
    counts = " and ".join(f"{cone.role} {LETTERS[cone.role]} with {cone.teeth} teeth" for cone in parts)
    angles = [numerals.number(cone.cut.angle, 1) for cone in parts]
    return (
        f"Two bevel gears, each seen along its axis from the apex, side by side: {counts}."
        f" {_teeth_in_words(parts, unit)} Their pitch cones have {angles[0]} and {angles[1]} degrees,"
        f" the shafts are at {numerals.plain(shaft_angle, 1)} degrees."
    )
