"""One side of a tooth as a single curve from root to tip, in polar form, readable both ways.

A place on the curve is one number: 0 to 1 runs along the root fillet, 1 to 2 along the flank, 2 to 3
along the tip arc to the middle of the tooth. Seen from the other gear it is the radius that counts:
`at_radius` finds the place that stands on a circle. Points and normals come from the tooth's own
exact curves. Lengths are in modules, angles in radians; the tooth stands on the +x axis and the side
is its left (counter-clockwise) one.

Where two teeth touch first is found on two such sides. Driver and driven stand one centre distance apart. A
tooth of the driver stands at a relative angle `turn` from the line of centres where the teeth mesh. For
every place on its left side the driven gear would have to turn to some angle to touch there; the least of
these is where the two come to rest. It is found on the exact curves, with the normals to close in on it:
flank on flank, a tip's corner, or a fillet.

The driven angle is counted as `rest`: its own relative angle, for an internal gear with the sign changed,
so that it falls at an even rate as the driver turns on.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from gearlab.shape.form import Form

CURVES = ("fillet", "flank", "tip")
# Places between which the curves are looked at; every join is one of them.
LOOKS = np.concatenate((np.linspace(0, 1, 17), np.linspace(1, 2, 33)[1:], np.linspace(2, 3, 9)[1:]))
# A circle may miss the end of the curve by this much, from rounding [modules].
_ROUNDING = 1e-12
FLANK_END = float(np.nextafter(2.0, 0.0))


class Spot(NamedTuple):
    """Points of a side: arrays of radius [modules], polar angle and angle of the outward normal [rad]."""

    radius: np.ndarray
    angle: np.ndarray
    facing: np.ndarray


class Side:
    """The left side of tooth 0 of a gear or an internal gear.

    >>> from gearlab.shape import Rack, ToothForm
    >>> side = Side(ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38)))
    >>> side.evaluate(np.array([0.0, 2.0])).radius.round(6).tolist()
    [8.75, 11.0]
    >>> float(side.at_radius(np.array([8.75]))[0])
    0.0

    Source: the curves of the form.
    """

    def __init__(self, form: Form):
        self.form = form
        self.low, self.high = sorted((form.root_radius, form.tip_radius))
        # Along a fillet that leaves the root circle smoothly this depth grows evenly; the radius does not.
        self._tilts = np.linspace(*form.fillet_range, 129)
        points = form.fillet(self._tilts)[0]
        self._depths = self._depth(np.hypot(points[:, 0], points[:, 1]))

    def evaluate(self, place: np.ndarray) -> Spot:
        """Points and normals at places.

        place: places [-], 0 to 3.
        Returns arrays of the shape of place [modules, rad].

        >>> from gearlab.shape import Rack, ToothForm
        >>> side = Side(ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38)))
        >>> side.evaluate(np.array([3.0])).angle.tolist()
        [0.0]

        Source: the curves of the form.
        """
        place = np.asarray(place, dtype=float)
        points, normals = np.empty(place.shape + (2,)), np.empty(place.shape + (2,))
        form = self.form
        curve = np.minimum(place.astype(int), 2)
        curves: tuple[tuple[Callable, tuple[float, float]], ...] = (
            (form.fillet, form.fillet_range),
            (form.flank, form.flank_range),
            (form.tip, (form.tip_range[1], 0.0)),
        )
        for number, (draw, (start, end)) in enumerate(curves):
            here = curve == number
            if here.all():
                share = place - number
                points, normals = draw(start * (1.0 - share) + end * share)
                break
            if here.any():
                share = place[here] - number
                points[here], normals[here] = draw(start * (1.0 - share) + end * share)
        x, y = points[..., 0], points[..., 1]
        return Spot(np.hypot(x, y), np.arctan2(y, x), np.arctan2(normals[..., 1], normals[..., 0]))

    def at_radius(self, radius: np.ndarray) -> np.ndarray:
        """Places on fillet and flank that stand on circles about the gear's centre.

        radius: radii of the circles [modules], from the root circle to the tip circle.
        Returns places [-], 0 to 2.

        >>> from gearlab.shape import Rack, ToothForm
        >>> side = Side(ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38)))
        >>> places = np.array([0.5, 0.9, 1.3])
        >>> bool(np.allclose(side.at_radius(side.evaluate(places).radius), places, rtol=0, atol=1e-12))
        True

        Source: inverse of `evaluate`; on the flank by Pythagoras (string square to the base circle's radius).
        """
        radius = np.asarray(radius, dtype=float)
        form = self.form
        start, end = form.flank_range
        on_flank = (radius - form.form_radius) * (form.tip_radius - form.form_radius) >= 0.0
        base = form.base_radius
        u = np.sqrt(np.maximum(radius - base, 0.0) * (radius + base)) / base
        # A last digit short of the tip's corner, where the normal is still that of the flank.
        place = np.minimum(1.0 + np.clip((u - start) / (end - start), 0.0, 1.0), FLANK_END)
        if not on_flank.all():
            below = ~on_flank
            place[below] = self._fillet_place(radius[below])
        return place

    @cached_property
    def looks(self) -> Spot:
        """Points and normals at `LOOKS`."""
        return self.evaluate(LOOKS)

    def on_flank(self, radius: float) -> tuple[float, float, float]:
        """One spot of the flank, on a circle about the gear's centre; a fraction of the time of arrays.

        radius: radius of the circle [modules]; beyond the flank's ends they are taken.
        Returns radius [modules], polar angle and angle of the outward normal [rad].

        >>> from gearlab.shape import Rack, ToothForm
        >>> side = Side(ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38)))
        >>> spot = side.evaluate(side.at_radius(np.array([10.0])))
        >>> bool(np.allclose(side.on_flank(10.0), np.ravel(spot), rtol=0, atol=1e-14))
        True

        Source: string construction of the involute: along it the angle changes as inv, the normal as roll.
        """
        base = self.form.base_radius
        roll = math.sqrt(max(radius - base, 0.0) * (radius + base)) / base
        low, high = sorted(self.form.flank_range)
        roll = min(max(roll, low), high)
        end, angle, facing = self._flank_end
        sense = -1.0 if self.form.internal else 1.0
        turned = (end - math.atan(end)) - (roll - math.atan(roll))
        return base * math.hypot(1.0, roll), angle + sense * turned, facing + sense * (end - roll)

    @cached_property
    def _flank_end(self) -> tuple[float, float, float]:
        """Unwound angle at the flank's end on the tip circle, its polar angle and its normal's [rad]."""
        roll = self.form.flank_range[1]
        (x, y), (across, up) = (pair.tolist() for pair in self.form.flank(roll))
        return roll, math.atan2(y, x), math.atan2(up, across)

    def reaches(self, radius: np.ndarray) -> np.ndarray:
        """Whether circles about the gear's centre cut this side.

        radius: radii [modules].
        Returns true where the circle lies between root and tip circle [-].

        >>> from gearlab.shape import Rack, ToothForm
        >>> Side(ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38))).reaches(
        ...     np.array([8.0, 10.0])
        ... ).tolist()
        [False, True]

        Source: definition.
        """
        return (radius >= self.low - _ROUNDING) & (radius <= self.high + _ROUNDING)

    def curve_at(self, place: float) -> str:
        """Name of the curve at a place; the corner at the tip counts as tip.

        place: place [-], 0 to 3.
        Returns "fillet", "flank" or "tip".

        >>> from gearlab.shape import Rack, ToothForm
        >>> side = Side(ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38)))
        >>> side.curve_at(0.9), side.curve_at(1.0), side.curve_at(2.0)
        ('fillet', 'flank', 'tip')

        Source: definition.
        """
        return CURVES[min(2, math.floor(place + 1e-9))]

    def _depth(self, radius: np.ndarray) -> np.ndarray:
        root = self.form.root_radius
        return np.sqrt(np.abs(radius - root) * (radius + root))

    def _fillet_place(self, radius: np.ndarray) -> np.ndarray:
        wanted = np.clip(self._depth(radius), 0.0, self._depths[-1])
        right = np.clip(np.searchsorted(self._depths, wanted), 1, len(self._depths) - 1)
        slope = (self._tilts[right] - self._tilts[right - 1]) / (
            self._depths[right] - self._depths[right - 1]
        )
        tilt = self._tilts[right - 1] + (wanted - self._depths[right - 1]) * slope
        low, high = self._tilts[0], self._tilts[-1]
        for _ in range(6):  # the chord's slope is within a hundredth of the curve's: two digits a round
            points = self.form.fillet(np.clip(tilt, low, high))[0]
            tilt = tilt + (wanted - self._depth(np.hypot(points[..., 0], points[..., 1]))) * slope
        return np.clip((tilt - low) / (high - low), 0.0, 1.0)


@lru_cache(maxsize=64)
def side_of(form: Form) -> Side:
    """The side of a form, kept for the forms looked at last.

    Returns its left side.

    >>> from gearlab.shape import Rack, ToothForm
    >>> form = ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38))
    >>> side_of(form) is side_of(form)
    True

    Source: definition.
    """
    return Side(form)


# Every round looks at so many places between two and keeps one part.
_FAN = np.linspace(0.0, 1.0, 17)
_ROUNDS = 12


def rest_at(
    driver: Form, driven: Form, distance: float, turn: np.ndarray, place: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Driven angle at which a place on the driver's tooth is touched.

    driver: the gear at the origin (lengths in modules).
    driven: the other gear (lengths in modules).
    distance: centre distance [modules].
    turn: relative angle of the driver's tooth [rad].
    place: place on its left side [-], 0 to 3; broadcast against turn.
    Returns rest, slope: driven angle [rad], infinite where the driven tooth does not reach the place, and a
        number [-] that is below 0 where the rest falls on along the side and above 0 where it rises.

    >>> from gearlab.shape import Rack, ToothForm
    >>> form = ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38))
    >>> rest, _ = rest_at(form, form, 20.0, np.array([0.0]), np.array([2.9]))
    >>> bool(np.isfinite(rest[0]))
    True

    Source: geometry of two turning points; law of gearing for the slope.
    """
    return _rest_of(side_of(driver).evaluate(place), driven, distance, turn)


def _rest_of(spot: Spot, driven: Form, distance: float, turn: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """As `rest_at`, of spots of the driver's side."""
    sense, other = -1.0 if driven.internal else 1.0, side_of(driven)
    at = turn + spot.angle
    across, along = distance - sense * spot.radius * np.cos(at), -sense * spot.radius * np.sin(at)
    radius = np.hypot(across, along)
    reached = other.reaches(radius)
    turned = math.pi if sense > 0 else 0.0
    if reached.all():
        met = other.evaluate(other.at_radius(radius))
        rest = sense * np.arctan2(along, across) - met.angle
        return rest, np.sin(turn + spot.facing - sense * (rest + met.facing) - turned)
    rest, slope = np.full(radius.shape, np.inf), np.zeros(radius.shape)
    met = other.evaluate(other.at_radius(radius[reached]))
    rest[reached] = sense * np.arctan2(along[reached], across[reached]) - met.angle
    slope[reached] = np.sin((turn + spot.facing)[reached] - sense * (rest[reached] + met.facing) - turned)
    return rest, slope


def first_touch(
    driver: Form, driven: Form, distance: float, turn: np.ndarray, lifts: np.ndarray | None = None
) -> tuple[np.ndarray, np.ndarray]:
    """Driven angle at which one pair of teeth comes to rest, and the place on the driver's tooth.

    driver: the gear at the origin (lengths in modules).
    driven: the other gear (lengths in modules).
    distance: centre distance [modules].
    turn: relative angles of the driver's tooth [rad].
    lifts: angles [rad] added to the rests along the last axis of turn before they are compared, where only
        the least of them is wanted; rests that cannot be it are left infinite.
    Returns rest, place: driven angle [rad], infinite where the teeth do not reach each other, and place [-],
        of the shape of turn.

    >>> from gearlab.shape import Rack, ToothForm
    >>> form = ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38))
    >>> rest, place = first_touch(form, form, 20.0, np.array([0.0]))
    >>> round(float(rest[0] * 20 / math.pi), 9)                  # half a pitch: teeth without play
    -1.0

    Source: the least of `rest_at` over the side.
    """
    turn = np.asarray(turn, dtype=float)
    flat = turn.ravel()
    look, _ = _rest_of(side_of(driver).looks, driven, distance, flat[:, None])
    padded = np.pad(look, ((0, 0), (1, 1)), constant_values=np.inf)
    lowest = np.isfinite(look) & (look <= padded[:, :-2]) & (look <= padded[:, 2:])
    # Places well above the lowest cannot come below it on closing in.
    well_above = 0.1 * driven.pitch_angle
    least = look.min(axis=1)
    lowest &= look <= least[:, None] + well_above
    if lifts is not None:
        lifted = least.reshape(turn.shape) + lifts
        lowest &= (lifted <= lifted.min(axis=-1, keepdims=True) + well_above).reshape(-1, 1)
    row, column = np.nonzero(lowest)
    best, where = look[row, column], LOOKS[column]
    low, high = LOOKS[np.maximum(column - 1, 0)], LOOKS[np.minimum(column + 1, len(LOOKS) - 1)]
    for _ in range(_ROUNDS if len(row) else 0):
        fan = low[:, None] + (high - low)[:, None] * _FAN
        look, slope = rest_at(driver, driven, distance, flat[row][:, None], fan)
        number = np.arange(len(_FAN))
        reached = np.isfinite(look)
        # Before the first reached place the rest is taken to fall, after the last to rise.
        rises = np.where(reached, slope > 0.0, number > np.argmax(reached, axis=1)[:, None])
        turning = np.where(rises.any(axis=1), np.argmax(rises, axis=1), len(_FAN) - 1)
        every = np.arange(len(row))
        low, high = fan[every, np.maximum(turning - 1, 0)], fan[every, np.maximum(turning, 1)]
        least = np.argmin(look, axis=1)
        lower = look[every, least] < best
        best, where = np.where(lower, look[every, least], best), np.where(lower, fan[every, least], where)
    middle = np.stack((low, (low + high) / 2, high), axis=-1) if len(row) else np.empty((0, 3))
    last, _ = rest_at(driver, driven, distance, flat[row][:, None], middle)
    # At the bottom rests agree to rounding: the place comes from the normals, which tell it more closely.
    pick = np.where(np.isfinite(last[:, 1]), 1, np.argmin(last, axis=1)) if len(row) else np.empty(0, int)
    every = np.arange(len(row))
    closed = last[every, pick] <= best + 1e-13
    where = np.where(closed, middle[every, pick], where)
    rest, place = np.full(flat.shape, np.inf), np.full(flat.shape, np.nan)
    order = np.argsort(-best, kind="stable")  # the lowest of a row is written last
    rest[row[order]], place[row[order]] = best[order], where[order]
    return rest.reshape(turn.shape), place.reshape(turn.shape)
