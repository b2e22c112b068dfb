"""Gears on their centres, seen along the shafts: what every picture of gears in mesh is built from."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ...parts import Gear, InternalGear, Mesh
from .. import numerals
from ..motion import Carry, Motion, Point, Swing, Turn
from ..shapes import LETTERS, Circle, Dimension, Dot, Label, Shape, Teeth
from .body import body, middle, tooth_outline

SIDES = 24.0  # room beside the gears, left and right together [points of the picture]
BELOW = 34.0  # from the lowest tip to the first dimension line [points of the picture]


@dataclass(frozen=True)
class OnCentre:
    """A gear where it stands in a picture.

    role: "driver", "driven" or "gear".
    centre: where its shaft stands [unit of the gear].
    angle: where its tooth 0 stands, counter-clockwise from +x [deg].
    speed: how it turns for one turn of the driver, negative against it [-].
    """

    gear: Gear | InternalGear
    role: str
    centre: Point = (0.0, 0.0)
    angle: float = 0.0
    speed: float = 1.0

    @property
    def tip(self) -> float:
        """Radius of its outside circle [unit of the gear]."""
        return self.gear.outside_diameter / 2

    @property
    def letter(self) -> str:
        """A for the driver, B for the driven gear."""
        return LETTERS[self.role]

    @property
    def name(self) -> str:
        """What a screen reader calls it, as in "Driver A, 18 teeth"."""
        return f"{self.role.capitalize()} {self.letter}, {self.gear.teeth} teeth"

    def turn(self, named: bool = True) -> Turn:
        """Turning with the driver; a handle of its own if it is named."""
        name = self.name if named else ""
        return Turn(self.centre, self.speed, name, 360 / self.gear.teeth, self.tip)

    def carry(self, control: str | None) -> Carry | None:
        """Carried along a level line of centres by hand, where a control of that name is given."""
        if not control:
            return None
        name = f"{self.name}: place along the line of centres"
        return Carry(control, (1.0, 0.0), name, self.centre, self.tip)

    def swing(self, control: str | None) -> Swing | None:
        """Turned by hand, where a control of that name is given."""
        if not control:
            return None
        return Swing(control, self.centre, f"{self.name}: turn by hand", self.centre, self.tip)

    def teeth(self, role: str = "", motion: Motion = None) -> Teeth:
        """Its outline filled, or as a line of the role given, in its colour."""
        tooth, count = tooth_outline(self.gear), self.gear.teeth
        return Teeth(
            tooth, count, self.centre, self.angle, role or self.role, self.role if role else "", motion
        )

    def body(
        self, scale: float, motion: Motion = None, marked: int | None = 0, slope: float | None = None
    ) -> list[Shape]:
        """Teeth, hatching and a marked tooth; see ``body``."""
        return body(self.gear, self.role, self.centre, self.angle, motion, scale, marked, slope)

    def circle(self, kind: str = "pitch circle", diameter: float | None = None) -> Circle:
        """Its pitch, base, outside or root circle; the pitch circle may be that of the mesh [unit]."""
        size = getattr(self.gear, kind.replace(" circle", "_diameter")) if diameter is None else diameter
        return Circle(self.centre, size / 2, kind, self.role)

    def middle(self, scale: float, turning: float = 0.0, words: str = "") -> list[Shape]:
        """Its letter, turning arrow and speed; see ``middle``."""
        return middle(self.gear, self.role, self.centre, scale, turning, words)

    def plate_marks(self, bore: float, scale: float, small: float, below: float) -> list[Shape]:
        """Bore, centre and letter where it sits on a plate [unit].

        The letter stands lower on gears whose root circle is under ``small`` points of the picture wide.
        """
        above = 20 if self.gear.root_diameter * scale > small else below
        return [
            Circle(self.centre, bore / 2, "hole"),
            Dot(self.centre, "centre"),
            Label(self.centre, self.letter, (0, above), size="large", role="letter", of=self.role),
        ]


Couple = tuple[OnCentre, OnCentre]


def at_distance(driver: Gear, driven: Gear, distance: float) -> Couple:
    """Two gears at any distance, a space of the driven gear facing the driver's tooth [unit of the gears].

    ValueError if the units differ.
    """
    check_units(driver, driven)
    return OnCentre(driver, "driver"), OnCentre(
        driven, "driven", (distance, 0.0), 180.0 - 180.0 / driven.teeth, 0.0
    )


def in_mesh(mesh: Mesh, turning: float = 1.0) -> Couple:
    """Driver and driven gear of a pair with their driving flanks touching; any backlash lies behind them.

    ``turning`` is positive where the driver turns counter-clockwise.
    """
    play = max(mesh.backlash, 0.0) / mesh.operating_pitch_diameters[1]
    angle = mesh.alignment(0.0) + math.copysign(math.degrees(play), turning)
    place = (mesh.centre_distance, 0.0)
    return OnCentre(mesh.driver, "driver"), OnCentre(mesh.driven, "driven", place, angle, mesh.speed(1.0))


def check_units(driver: Gear, driven: Gear) -> None:
    """Refuse gears of different units."""
    if driver.unit != driven.unit:
        raise ValueError(
            f"the gears have different units, {driver.unit} and {driven.unit}: give both a module or both a"
            " diametral pitch"
        )


def extent(gears: Sequence[OnCentre], axis: int = 0) -> tuple[float, float]:
    """How far some gears reach to the left and to the right, or down and up (axis 1) [unit]."""
    return (
        min(seen.centre[axis] - seen.tip for seen in gears),
        max(seen.centre[axis] + seen.tip for seen in gears),
    )


def fitted(gears: Sequence[OnCentre], width: float) -> float:
    """Scale at which gears fill a picture of that width [points of the picture per unit]."""
    low, high = extent(gears)
    return (width - SIDES) / (high - low)


def lowest_tip(gears: Sequence[OnCentre]) -> float:
    """How far the largest gear reaches below a level line of centres [unit]."""
    return max(seen.tip for seen in gears)


def pitch_point(mesh: Mesh, first: Point = (0.0, 0.0), second: Point | None = None) -> Point:
    """Where the pitch circles of a mesh touch, for shafts at two places; a level line if left out [unit]."""
    to_pitch_point = mesh.operating_pitch_diameters[0] / 2
    if second is None:
        return first[0] + to_pitch_point, first[1]
    share = to_pitch_point / mesh.centre_distance
    return first[0] + share * (second[0] - first[0]), first[1] + share * (second[1] - first[1])


def centre_distance(gears: Couple, scale: float) -> Dimension:
    """The distance of two shafts on a level line, measured below the gears."""
    driver, driven = gears
    distance = driven.centre[0] - driver.centre[0]
    words = f"centre distance {numerals.length(distance, driver.gear.unit)}"
    return Dimension(driver.centre, driven.centre, words, -lowest_tip(gears) - BELOW / scale)


def counts(driver: Gear, driven: Gear) -> str:
    """The heading of a pair: "18 and 45 teeth"."""
    return f"{driver.teeth} and {driven.teeth} teeth"


def both(driver: Gear, driven: Gear) -> str:
    """The pair in a sentence: "Driver A with 18 teeth and driven B with 45 teeth, module 2.5"."""
    return (
        f"Driver A with {driver.teeth} teeth and driven B with {driven.teeth} teeth,"
        f" {numerals.pitch_name(driver)}"
    )
