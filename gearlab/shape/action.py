"""The path of contact.

Where two flanks have a common normal, from the end of one curve to the end of another.

Contact of one pair of teeth begins where the driven gear's tip meets the driver's flank, or at the
driver's form circle where that tip would reach past it; it ends likewise at the driver's tip. Each end
is found by turning one gear's curve end about its centre until the other flank there faces it.
Driver at the origin, driven gear on the +x axis; lengths are in modules, angles in radians.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from gearlab.shape.curves import find_zero
from gearlab.shape.side import FLANK_END, side_of

if TYPE_CHECKING:
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
