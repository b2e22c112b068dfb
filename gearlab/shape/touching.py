"""Where two teeth touch first: one gear is turned until its tooth comes to rest against the other's.

Driver and driven stand one centre distance apart. A tooth of the driver stands at a relative angle
`turn` from the line of centres where the teeth mesh. For every place on its left side the driven gear
would have to turn to some angle to touch there; the least of these is where the two come to rest. It is
found on the exact curves, with the normals to close in on it: flank on flank, a tip's corner, or a fillet.

The driven angle is counted as `rest`: its own relative angle, for an internal gear with the sign changed,
so that it falls at an even rate as the driver turns on. Lengths are in modules, angles in radians.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from gearlab.shape.side import LOOKS, Spot, side_of

if TYPE_CHECKING:
    from gearlab.shape.form import Form

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
