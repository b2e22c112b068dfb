"""Small tools for plane curves: directions, arcs within a chord tolerance, zeros in a bracket.

They know nothing of gears. Angles are radians, lengths whatever the caller uses.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def direction(angle: ArrayLike) -> np.ndarray:
    """Unit vectors at polar angles.

    angle: polar angle [rad].
    Returns unit vectors [-], of the shape of `angle` + (2,).

    >>> direction(0.0).tolist()
    [1.0, 0.0]

    Source: definition.
    """
    angle = np.asarray(angle, dtype=float)
    return np.stack((np.cos(angle), np.sin(angle)), axis=-1)


def arc_angles(start: float, end: float, radius: float, tolerance: float) -> np.ndarray:
    """Angles that divide an arc so that no chord leaves it by more than the tolerance.

    start, end: polar angles of the ends [rad]; both are among the angles returned.
    radius: radius of the arc [any length], more than the tolerance.
    tolerance: largest distance between chord and arc [the length of radius], more than 0.
    Returns evenly spaced angles [rad], at least the two ends.

    >>> len(arc_angles(0.0, math.pi / 2, 1.0, 1.0 - math.cos(math.pi / 8)))
    3

    Source: sagitta of a chord, radius (1 - cos(half the step)).
    """
    step = 2.0 * math.acos(1.0 - tolerance / radius)
    # The small allowance keeps an exact division from rounding up to one chord more.
    count = max(1, math.ceil(abs(end - start) / step - 1e-9))
    return np.linspace(start, end, count + 1)


def chord_parameters(
    start: float, end: float, density: Callable[[np.ndarray], np.ndarray], tolerance: float, grid: int = 257
) -> np.ndarray:
    """Parameters that divide a smooth curve so that every chord keeps within the tolerance.

    A chord over a short step du leaves the curve by ``speed * turning * du**2 / 8``, where speed
    is arc length and turning is tangent angle per unit of the parameter. Points are placed evenly
    in the integral of the square root of that product, the density.

    start, end: ends of the parameter range [any unit]; both are among the parameters returned.
    density: from an array of parameters to ``sqrt(speed * turning)`` [sqrt(length) per unit].
    tolerance: largest distance between chord and curve [length], more than 0.
    grid: number of places at which the density is looked at [-].
    Returns parameters from start to end [any unit], at least three.

    >>> chord_parameters(0.0, 1.0, np.ones_like, 0.125 / 16).round(3).tolist()
    [0.0, 0.2, 0.4, 0.6, 0.8, 1.0]

    Source: sagitta of a short chord, from the osculating circle.
    """
    places = np.linspace(start, end, grid)
    heights = density(places)
    # Where a curve goes straight for a moment the density is 0, but a chord must not reach far across.
    heights = np.maximum(heights, 0.25 * heights.max())
    steps = np.maximum(heights[1:], heights[:-1]) * abs(end - start) / (grid - 1)
    total = np.concatenate(([0.0], np.cumsum(steps)))
    # Ten per cent in reserve: the rule is exact only for short steps.
    count = max(2, math.ceil(1.1 * total[-1] / math.sqrt(8.0 * tolerance)))
    parameters = np.interp(np.linspace(0.0, total[-1], count + 1), total, places)
    parameters[0], parameters[-1] = start, end
    return parameters


def find_zero(function: Callable[[float], float], low: float, high: float) -> float:
    """Zero of a continuous function between two places where its signs differ [the unit of low and high].

    Bisection that takes an interpolated step wherever one is safe, down to neighbouring
    floating-point numbers (relative to the zero, so that tiny zeros keep all their digits).

    function: from float to float.
    low, high: ends of the bracket [any unit].
    ValueError if the function has the same sign at both ends.

    >>> round(find_zero(lambda x: x * x - 2.0, 1.0, 2.0), 12)
    1.414213562373

    Source: T. R. Chandrupatla, Advances in Engineering Software 28 (1997), 145-149.
    """
    a, b = high, low
    fa, fb = function(a), function(b)
    if fa == 0.0:
        return a
    if fb == 0.0:
        return b
    if (fa > 0.0) == (fb > 0.0):
        raise ValueError(
            f"No change of sign between {low!r} and {high!r}: the function is {fb!r} and {fa!r} there. "
            "Give two places between which it passes through zero."
        )
    share = 0.5
    for _ in range(300):
        new = a + share * (b - a)
        value = function(new)
        if (value > 0.0) == (fa > 0.0):
            c, fc = a, fa
        else:
            c, fc, b, fb = b, fb, a, fa
        a, fa = new, value
        best = a if abs(fa) < abs(fb) else b
        slack = 4e-16 * abs(best) / abs(b - a) if b != a else 1.0
        if value == 0.0 or slack > 0.5:
            return best
        xi, eta = (a - b) / (c - b), (fa - fb) / (fc - fb)
        if 1.0 - math.sqrt(1.0 - xi) < eta < math.sqrt(xi):
            share = fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
        else:
            share = 0.5
        share = min(1.0 - slack, max(slack, share))
    return best
