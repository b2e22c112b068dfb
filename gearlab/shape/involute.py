"""The involute of a circle: its function inv, the inverse, and the curve itself.

Unwind a taut string from a circle: its end draws an involute. Where the free string is at
``alpha`` to the radius of the point it has reached, the point stands ``inv(alpha)`` further round
than the place where the curve left the circle. Every flank in this package is such a curve.

Angles are radians here, as everywhere inside `gearlab.shape`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NoReturn, overload

import numpy as np

from gearlab.shape.given import LARGEST, as_numbers, is_number

# tan x - x = x^3 (c0 + c1 x^2 + ...): the Maclaurin coefficients of tan, from the Bernoulli
# numbers (Abramowitz and Stegun, Handbook of Mathematical Functions, 4.3.67).
_BERNOULLI = (  # |B_2n| for n = 2 .. 19, as numerator, denominator (A&S table 23.2)
    (1, 30),
    (1, 42),
    (1, 30),
    (5, 66),
    (691, 2730),
    (7, 6),
    (3617, 510),
    (43867, 798),
    (174611, 330),
    (854513, 138),
    (236364091, 2730),
    (8553103, 6),
    (23749461029, 870),
    (8615841276005, 14322),
    (7709321041217, 510),
    (2577687858367, 6),
    (26315271553053477373, 1919190),
    (2929993913841559, 6),
)
_SERIES = tuple(
    4**n * (4**n - 1) * top / (bottom * math.factorial(2 * n))
    for n, (top, bottom) in enumerate(_BERNOULLI, start=2)
)
# Below this angle tan x and x agree in so many digits that their difference would lose them.
_SWITCH = 0.55


@overload
def inv(alpha: float) -> float: ...
@overload
def inv(alpha: np.ndarray | Sequence[float]) -> np.ndarray: ...
def inv(alpha: float | np.ndarray | Sequence[float]) -> float | np.ndarray:
    """Involute function, inv(alpha) = tan(alpha) - alpha.

    alpha: angle [rad], from 0 to below pi/2. A scalar gives a float, an array an array of its shape.
    Returns inv(alpha) [rad], to a relative 1e-14 up to 89 degrees.
    ValueError if an angle is negative, pi/2 or more, or not a number.

    >>> round(inv(math.radians(20)), 7)
    0.0149044

    Source: Machinery's Handbook, 'Involute functions' (the tabulated value above).
    """
    if np.ndim(alpha) == 0 and not isinstance(alpha, np.ndarray | Sequence):
        if not is_number(alpha) or not 0.0 <= alpha < math.pi / 2:
            _refuse_angle(alpha)
        return _inv_scalar(float(alpha))
    angles = as_numbers(alpha)
    if angles is None:
        _refuse_angle(alpha)
    outside = ~((angles >= 0.0) & (angles < math.pi / 2))
    if outside.any():
        _refuse_angle(float(angles[outside].flat[0]))
    small = np.minimum(angles, _SWITCH)
    square = small * small
    series = np.full_like(small, _SERIES[-1])
    for coefficient in reversed(_SERIES[:-1]):
        series = series * square + coefficient
    return np.where(angles < _SWITCH, small * square * series, np.tan(angles) - angles)


@overload
def arcinv(value: float) -> float: ...
@overload
def arcinv(value: np.ndarray | Sequence[float]) -> np.ndarray: ...
def arcinv(value: float | np.ndarray | Sequence[float]) -> float | np.ndarray:
    """Inverse involute function: the angle alpha with inv(alpha) = value.

    value: involute of the angle sought [rad], 0 or more. A scalar gives a float, an array an array.
    Returns the angle alpha [rad], from 0 to below pi/2, to a relative 1e-14.
    ValueError if a value is negative, infinite or not a number.

    >>> round(math.degrees(arcinv(0.0149044)), 3)
    20.0

    Source: Newton's rule on tan(alpha) - alpha; the value above from Machinery's Handbook.
    """
    values = as_numbers(value)
    if values is None or not ((values >= 0.0) & (values <= LARGEST)).all():
        raise ValueError(
            f"The involute of an angle is value = {value!r:.200} rad, but it lies between 0 rad "
            "(at 0 degrees) and infinity (towards 90 degrees). Give a finite value of 0 or more."
        )
    if values.ndim == 0 and not isinstance(value, np.ndarray):
        return _arcinv_scalar(float(values))
    return np.vectorize(_arcinv_scalar, otypes=[float])(values) if values.size else values.copy()


def unwind(base_radius: float, roll: float | np.ndarray, start: float = 0.0) -> tuple[np.ndarray, np.ndarray]:
    """Points and normals of an involute, by unwinding a string clockwise from its circle.

    The string leaves the circle at the polar angle `start`; after it has unwound by `roll` its
    touching point stands at ``start - roll`` and its free length is ``base_radius * roll``. This
    is the left (counter-clockwise) flank of a tooth; the normal points out of the tooth.

    base_radius: radius of the base circle [any length], more than 0.
    roll: unwound angle [rad], the tangent of the pressure angle at the point; 0 or more.
    start: polar angle at which the involute leaves the base circle [rad].
    Returns points, normals: points [the length of base_radius] and unit normals [-], each of the shape of
        `roll` + (2,).

    >>> points, normals = unwind(1.0, math.pi / 2)
    >>> [round(float(c), 6) for c in points]          # string horizontal, one quarter turn long
    [1.570796, -1.0]

    Source: Machinery's Handbook, 'Involute curve' (construction with a string).
    """
    roll = np.asarray(roll, dtype=float)
    touching = start - roll
    cosine, sine = np.cos(touching), np.sin(touching)
    normals = np.stack((-sine, cosine), axis=-1)
    points = np.stack((cosine - roll * sine, sine + roll * cosine), axis=-1) * base_radius
    return points, normals


def _inv_scalar(alpha: float) -> float:
    if alpha >= _SWITCH:
        return math.tan(alpha) - alpha
    square = alpha * alpha
    series = 0.0
    for coefficient in reversed(_SERIES):
        series = series * square + coefficient
    return alpha * square * series


def _arcinv_scalar(value: float) -> float:
    if value == 0.0:
        return 0.0
    if value < 0.5:
        cube_root = math.cbrt(3.0 * value)  # from tan x - x = x^3/3 + 2 x^5/15 + ...
        alpha = cube_root * (1.0 - 2.0 / 15.0 * cube_root**2 * (1.0 - 0.2 * cube_root**2))
    else:
        reach = value + math.pi / 2  # tan x = value + x, and x is close to pi/2 - 1/tan x
        alpha = math.atan(value + math.atan(reach - 1.0 / reach))
    for _ in range(30):
        tangent = math.tan(alpha)
        change = (value - _inv_scalar(alpha)) / (tangent * tangent)
        alpha += change
        if abs(change) <= 2e-16 * alpha:
            break
    return alpha


def _refuse_angle(value: float | np.ndarray | Sequence[float]) -> NoReturn:
    hint = (
        " It looks like degrees: convert it with math.radians."
        if is_number(value) and value >= math.pi / 2
        else ""
    )
    raise ValueError(
        f"Angle alpha = {value!r} rad has no involute function; it is defined from 0 rad to below pi/2 ="
        f" 1.5708 rad (90 degrees). Give an angle in that range.{hint}"
    )
