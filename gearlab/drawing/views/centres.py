"""Gears on their centres, seen along the shafts: what every picture of gears is built from."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ...parts import Gear, InternalGear, Mesh
from .. import numerals
from ..motion import Carry, Motion, Point, Swing, Turn
from ..shapes import (
    LETTERS,
    Arc,
    Circle,
    Dimension,
    Dot,
    Label,
    Outline,
    Shape,
    Strokes,
    Teeth,
    points_turned,
)

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
