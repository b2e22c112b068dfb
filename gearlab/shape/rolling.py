"""Rolling two cut gears on each other: contact, play, path, ratio, on the exact curves.

The driver stands at the origin, the driven gear one centre distance away on the +x axis; the pinion in
a ring meshes on the far side, at 180 degrees. Nothing is taken from the theory of the involute: teeth
are turned until their curves touch. Lengths are in modules, angles in radians, counter-clockwise positive.

The path of contact is where two flanks have a common normal. Contact of one pair of teeth begins where the
driven gear's tip meets the driver's flank, or at the driver's form circle where that tip would reach past
it; it ends likewise at the driver's tip. Each end is found by turning one gear's curve end about its centre
until the other flank there faces it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple, overload

import numpy as np

from gearlab.shape.curves import find_zero
from gearlab.shape.given import external, number, numbers
from gearlab.shape.side import FLANK_END, first_touch, side_of

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from gearlab.shape.form import Form


class Path(NamedTuple):
    """Flank on flank, from where one pair of teeth meets to where it parts (lengths in modules, angles in
    rad).
    """

    start: np.ndarray
    end: np.ndarray
    start_turn: float  # relative angle of the driver's tooth
    end_turn: float
    start_rest: float  # angle of the driven gear there, counted as in `touching`
    end_rest: float
    start_by: str  # what begins it: "driven tip" or "driver form circle"
    end_by: str  # what ends it: "driver tip" or "driven form circle"

    @property
    def length(self) -> float:
        """Distance from start to end [modules]."""
        return float(math.dist(self.start, self.end))


def path_of_contact(driver: Form, driven: Form, distance: float) -> Path:
    """The way of the contact point while one pair of teeth touches flank on flank, driver counter-clockwise.

    driver: the gear at the origin (lengths in modules).
    driven: the other gear (lengths in modules).
    distance: centre distance [modules].
    Returns ends of the path [modules], relative angles of the driver's tooth [rad] and what bounds them.
    ValueError if the flanks never touch at this distance.

    >>> from gearlab.shape import Rack, ToothForm
    >>> form = ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38))
    >>> round(2 * path_of_contact(form, form, 20.0).length / 2, 3)         # approach at module 2
    4.596

    Source: common normals at the curves' ends; 4.596 mm from a gearbox course project (module 2, 20/20).
    """
    ends = []
    for tries in (
        (("driven", 2.0, "driven tip"), ("driver", 1.0, "driver form circle")),
        (("driver", 2.0, "driver tip"), ("driven", 1.0, "driven form circle")),
    ):
        meetings = [
            (*meeting, name)
            for gear, place, name in tries
            if (meeting := _common_normal(driver, driven, distance, gear, place)) is not None
        ]
        if not meetings:
            raise ValueError(
                f"At centre_distance = {distance:.6g} modules the flanks of the two gears never touch: only"
                " tips or fillets would. Bring the gears to their usual distance, or take teeth with a"
                " longer flank."
            )
        ends.append(meetings[0])
    (start, turn_1, rest_1, by_1), (end, turn_2, rest_2, by_2) = ends
    return Path(start, end, turn_1, turn_2, rest_1, rest_2, by_1, by_2)


def _common_normal(
    driver: Form, driven: Form, distance: float, gear: str, place: float
) -> tuple[np.ndarray, float, float] | None:
    """Where the flank of the other gear has a common normal with this place of one gear's.

    None if nowhere.
    """
    sense = -1.0 if driven.internal else 1.0
    fixed, other = (driver, driven) if gear == "driver" else (driven, driver)
    spot = tuple(float(value[0]) for value in side_of(fixed).evaluate(np.array([min(place, FLANK_END)])))
    mate = side_of(other)
    mate_radii = sorted((other.form_radius, other.tip_radius))

    def state(angle: float) -> tuple[float, float, tuple[float, ...], float]:
        """With the place at an angle about its own centre.

        Error of the normals, the driver's angle and spot there, the driven gear's rest.
        """
        if gear == "driver":
            x, y = distance - sense * spot[0] * math.cos(angle), -sense * spot[0] * math.sin(angle)
        else:
            x, y = sense * (distance - spot[0] * math.cos(angle)), -sense * spot[0] * math.sin(angle)
        radius = min(max(math.hypot(x, y), mate_radii[0]), mate_radii[1])
        met = mate.on_flank(radius)
        psi = math.atan2(y, x)
        on_driver, on_driven = (spot, met) if gear == "driver" else (met, spot)
        at, to = (angle, psi) if gear == "driver" else (psi, angle)
        error = (
            at
            + on_driver[2]
            - on_driver[1]
            - to
            - sense * (on_driven[2] - on_driven[1])
            - (0.0 if sense > 0 else math.pi)
        )
        return math.remainder(error, 2.0 * math.pi), at, on_driver, sense * to - on_driven[1]

    def angle_for(radius: float) -> float:
        sign = sense if gear == "driver" else 1.0
        return math.acos(
            min(1.0, max(-1.0, sign * (spot[0] ** 2 + distance**2 - radius**2) / (2.0 * distance * spot[0])))
        )

    inner, outer = sorted(angle_for(radius) for radius in mate_radii)
    # In a ring close to its pinion's size the angles run wide, and the error of the normals may go round:
    # look in steps.
    steps = np.linspace(inner, outer, 2 if sense > 0 else 17).tolist()
    for low, high in [
        *zip(steps[:-1], steps[1:], strict=True),
        *((-b, -a) for a, b in zip(steps[:-1], steps[1:], strict=True)),
    ]:
        first, last = state(low)[0], state(high)[0]
        if abs(first) < 1.5 and abs(last) < 1.5 and (first <= 0.0) != (last <= 0.0):
            angle = find_zero(lambda a: state(a)[0], low, high)
            _, at, on_driver, rest = state(angle)
            if math.cos(at + on_driver[2] - on_driver[1]) <= 0.0:
                continue  # in a ring the base circles have a second common tangent, on which no drive lies
            return (
                on_driver[0] * np.array((sense * math.cos(at), sense * math.sin(at))),
                at - on_driver[1],
                rest,
            )
    return None


# Teeth that would have to overlap by more than this are in each other's way [modules].
_SLACK = 1e-9


class Contact(NamedTuple):
    """Two teeth touching.

    Angles [rad], the point [modules], the driver's normal there [-], the curves' names, the ratio [-].
    """

    driver_angle: float
    driven_angle: float
    point: np.ndarray
    normal: np.ndarray
    driver_curve: str
    driven_curve: str
    ratio: float  # driver turns per driven turn, by the law of gearing; below 0 for external gears


@dataclass(frozen=True)
class Rolling:
    """Two cut gears in mesh at a centre distance.

    driver: the gear at the origin, external (lengths in modules).
    driven: the gear on the +x axis (lengths in modules).
    centre_distance: distance of the centres [modules].
    ValueError if the driver is a ring, or at this distance the tips do not reach each other or run into a
        root.

    >>> from gearlab.shape import Rack, ToothForm
    >>> rack = Rack(math.radians(20), 1.0, 1.25, 0.38)
    >>> pair = Rolling(ToothForm(20, rack), ToothForm(50, rack), 35.0)
    >>> round(pair.contact_ratio(), 4), round(pair.contact(0.1).ratio, 9), abs(pair.backlash(25.0)) < 1e-12
    (1.6558, -2.5, True)

    Source: geometry alone; the contact ratio from a gearbox course project (module 2, 20/50 teeth).
    """

    driver: Form
    driven: Form
    centre_distance: float

    def __post_init__(self) -> None:
        driver, driven, distance = (
            external("driver", self.driver),
            self.driven,
            number("centre_distance", self.centre_distance),
        )
        if not hasattr(driven, "internal"):
            raise ValueError(
                f"driven = {driven!r} is no tooth form. Give a ToothForm or an InternalToothForm."
            )
        object.__setattr__(self, "centre_distance", distance)
        if driven.internal:
            least, most = (
                driven.tip_radius - driver.tip_radius,
                min(driven.root_radius - driver.tip_radius, driven.tip_radius - driver.root_radius),
            )
            near, far = "the tips no longer reach each other", "the tips run into the roots"
        else:
            least, most = (
                max(driver.tip_radius + driven.root_radius, driver.root_radius + driven.tip_radius),
                driver.tip_radius + driven.tip_radius,
            )
            near, far = "the tips run into the roots", "the tips no longer reach each other"
        if not least < distance < most:
            raise ValueError(
                f"centre_distance = {distance:.6g} modules is out of range:"
                f" {near if distance <= least else far}. "
                f"Give a distance between {max(0.0, least):.6g} and {most:.6g} modules."
            )

    @property
    def _sense(self) -> float:
        return -1.0 if self.driven.internal else 1.0

    @property
    def _zero(self) -> float:
        """Direction from the driver's centre in which the teeth mesh.

        From the driven gear's it is always pi.
        """
        return math.pi if self.driven.internal else 0.0

    def _reach(self) -> float:
        """Largest relative angle at which a tip of the driver is within reach of the driven teeth."""
        driver_tip, driven_tip, distance = (
            self.driver.tip_radius,
            self.driven.tip_radius,
            self.centre_distance,
        )
        cosine = (
            self._sense
            * (driver_tip * driver_tip + distance * distance - driven_tip * driven_tip)
            / (2.0 * distance * driver_tip)
            if distance
            else -1.0
        )
        return math.acos(min(1.0, max(-1.0, cosine)))

    def _rests(self, turn: ArrayLike) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Least rest over all pairs of teeth for relative driver angles, with the pair's turn and place."""
        turn = np.asarray(turn, dtype=float)
        pitch, driven_pitch = self.driver.pitch_angle, self.driven.pitch_angle
        count = math.ceil(self._reach() / pitch + 1.0)
        steps = np.round(turn / pitch)
        near = turn - steps * pitch
        pairs = np.arange(-count, count + 1)
        turns = near[..., None] + pairs * pitch
        lifts = pairs * driven_pitch
        rest, place = first_touch(self.driver, self.driven, self.centre_distance, turns, lifts)
        rest = rest + lifts
        best = np.argmin(rest, axis=-1)[..., None]

        def pick(values: np.ndarray) -> np.ndarray:
            return np.take_along_axis(values, best, axis=-1)[..., 0]

        return pick(rest) - steps * driven_pitch, pick(turns), pick(place)

    @overload
    def driven_angle(self, driver_angle: float, direction: int = 1) -> float: ...
    @overload
    def driven_angle(self, driver_angle: np.ndarray | Sequence[float], direction: int = 1) -> np.ndarray: ...
    def driven_angle(
        self, driver_angle: float | np.ndarray | Sequence[float], direction: int = 1
    ) -> float | np.ndarray:
        """Angle of the driven gear when it rests against the turning driver.

        driver_angle: polar angle of the driver's tooth 0 [rad], any value.
        direction: 1 where the driver pushes counter-clockwise, -1 clockwise [-].
        Returns polar angle of one driven tooth, followed without jumps [rad].
        ValueError if direction is neither 1 nor -1.

        >>> from gearlab.shape import Rack, ToothForm
        >>> rack = Rack(math.radians(20), 1.0, 1.25, 0.38)
        >>> pair = Rolling(ToothForm(20, rack), ToothForm(40, rack), 30.0)
        >>> turned = pair.driven_angle([0.0, 0.2])
        >>> round(float(turned[1] - turned[0]), 12)
        -0.1

        Source: one-sided limit of turning until the curves touch.
        """
        _check_direction(direction)
        turn = direction * (numbers("driver_angle", driver_angle) - self._zero)
        rest, _, _ = self._rests(turn)
        # Clockwise, the mirrored pair: the same driven tooth then stands one pitch further.
        rest = rest if direction == 1 else -rest - self.driven.pitch_angle
        angle = math.pi + self._sense * rest
        return angle if np.ndim(driver_angle) else float(angle)

    def contact(self, driver_angle: float, direction: int = 1) -> Contact:
        """Where the gears touch at a driver angle.

        driver_angle: polar angle of the driver's tooth 0 [rad], any value.
        direction: 1 where the driver pushes counter-clockwise, -1 clockwise [-].
        Returns angles [rad], point [modules], normal, names of the curves and ratio.
        ValueError if direction is neither 1 nor -1.

        >>> from gearlab.shape import Rack, ToothForm
        >>> rack = Rack(math.radians(20), 1.0, 1.25, 0.38)
        >>> touch = Rolling(ToothForm(20, rack), ToothForm(40, rack), 30.0).contact(0.0)
        >>> touch.driver_curve, touch.driven_curve
        ('flank', 'flank')

        Source: common point and normal of the two curves; ratio by the law of gearing.
        """
        driver_angle = number("driver_angle", driver_angle, "rad")
        angle = self.driven_angle(driver_angle, direction)
        turn = direction * (driver_angle - self._zero)
        _, pair_turn, place = self._rests(np.array([turn]))
        side, other = side_of(self.driver), side_of(self.driven)
        spot = side.evaluate(place)
        at, facing = (
            float(pair_turn[0] + spot.angle[0]) + self._zero,
            float(pair_turn[0] + spot.facing[0]) + self._zero,
        )
        point = float(spot.radius[0]) * np.array((math.cos(at), math.sin(at)))
        normal = np.array((math.cos(facing), math.sin(facing)))
        radius = math.hypot(point[0] - self.centre_distance, point[1])
        met = other.curve_at(float(other.at_radius(np.array([radius]))[0]))
        arm = point[0] * normal[1] - point[1] * normal[0]
        ratio = float((arm - self.centre_distance * normal[1]) / arm)
        mirror = np.array((1.0, direction))
        return Contact(
            driver_angle, angle, point * mirror, normal * mirror, side.curve_at(float(place[0])), met, ratio
        )

    def free_window(self, driver_angle: float = 0.0) -> tuple[float, float]:
        """Angles between which the driven gear is free, the driver held.

        driver_angle: polar angle of the driver's tooth 0 [rad], any value.
        Returns centre, width: middle of the free angles, from 0 to one driven pitch [rad], and their extent
            [rad]; a width below 0 means that the teeth would overlap by that much.

        >>> from gearlab.shape import Rack, ToothForm
        >>> rack = Rack(math.radians(20), 1.0, 1.25, 0.38)
        >>> centre, width = Rolling(
        ...     ToothForm(18, rack, thinning=0.04), ToothForm(46, rack), 32.0
        ... ).free_window()
        >>> round(math.degrees(centre), 3), round(width * 23.0, 9)
        (3.913, 0.04)

        Source: contact on either side, turned until the curves touch.
        """
        forward, backward = (
            self.driven_angle(number("driver_angle", driver_angle, "rad"), direction) for direction in (1, -1)
        )
        pitch = self.driven.pitch_angle
        centre = math.fmod((forward + backward) / 2, pitch) % pitch
        return (0.0 if pitch - centre < 1e-12 else centre), self._sense * (forward - backward)

    def play(self) -> float:
        """Angle through which the driven gear can turn, the driver held with a tooth on the line of centres.

        Returns angle [rad]; below 0 the teeth would overlap.

        Source: contact on either side.
        """
        return self.free_window(self._zero)[1]

    def backlash(self, radius: float) -> float:
        """Play of the driven gear as an arc of a circle about its centre.

        radius: radius of that circle [modules], more than 0; usually the operating pitch radius.
        Returns arc [modules]; below 0 the teeth would overlap.

        >>> from gearlab.shape import Rack, ToothForm
        >>> rack = Rack(math.radians(20), 1.0, 1.25, 0.38)
        >>> round(Rolling(ToothForm(18, rack, thinning=0.05), ToothForm(45, rack), 31.5).backlash(22.5), 9)
        0.05

        Source: backlash at the pitch circle is the thinning (common practice).
        """
        return number("radius", radius, above=0.0) * self.play()

    def path(self) -> Path:
        """The way of the contact point while one pair of teeth touches flank on flank, driver
        counter-clockwise.

        Returns ends of the path [modules], relative angles of the driver's tooth [rad] and what bounds them.
        ValueError if the flanks never touch at this distance.

        Source: `action.path_of_contact`.
        """
        return path_of_contact(self.driver, self.driven, self.centre_distance)

    def contact_ratio(self) -> float:
        """Driver angle over which one pair of teeth stays flank on flank, in pitches [-].

        ValueError if the flanks never touch at this distance.

        >>> from gearlab.shape import Rack, ToothForm
        >>> rack = Rack(math.radians(20), 1.0, 1.25, 0.38)
        >>> # 1.6836 in the source
        >>> round(Rolling(ToothForm(30, rack), ToothForm(40, rack), 35.0).contact_ratio(), 3)
        1.684

        Source: gearbox course project (module 2, 30/40 teeth).
        """
        path = self.path()
        return (path.end_turn - path.start_turn) / self.driver.pitch_angle

    def interference(self, looks: int = 121) -> float:
        """How far contact off the flanks (a tip against a fillet, or tip against tip) would hold the teeth
        out of mesh.

        looks: number of driver angles at which the pair is looked at [-].
        Returns arc on the driven gear's reference circle by which the teeth would overlap if the flanks drove
            evenly [modules]; 0.0 if nothing is in the way.
        ValueError if the flanks never touch at this distance.

        >>> from gearlab.shape import Rack, ToothForm
        >>> rack = Rack(math.radians(20), 1.0, 1.25, 0.38)
        >>> Rolling(ToothForm(18, rack), ToothForm(45, rack), 31.5).interference()
        0.0

        Source: the even motion of conjugate flanks against the first touch of all curves.
        """
        path = self.path()
        rate = self.driver.teeth / self.driven.teeth
        reach = self._reach() + self.driver.pitch_angle / 2
        near = np.geomspace(1e-6, 0.5, 25) * self.driver.pitch_angle
        turns = np.concatenate(
            (np.linspace(-reach, reach, looks), path.start_turn - near, path.end_turn + near)
        )
        rest, _ = first_touch(self.driver, self.driven, self.centre_distance, turns)
        depth = (
            float(np.max(path.start_rest - rate * (turns - path.start_turn) - rest))
            * self.driven.reference_radius
        )
        return depth if depth > _SLACK else 0.0


def _check_direction(direction: int) -> None:
    if direction not in (1, -1):
        raise ValueError(
            f"direction = {direction!r} is neither 1 (the driver pushes counter-clockwise) nor -1"
            " (clockwise). Give one of the two."
        )
