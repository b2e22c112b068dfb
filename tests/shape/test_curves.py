"""The small curve tools, against closed forms and mpmath."""

import math

import mpmath
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlab.shape.curves import arc_angles, chord_parameters, find_zero

# (function, bracket, zero). Source of each zero: closed form, or mpmath's root finder at 30 digits.
ZEROS = [
    (lambda x: x * x - 2.0, 0.0, 2.0, math.sqrt(2.0)),
    (lambda x: math.cos(x) - x, 0.0, 1.0, float(mpmath.findroot(lambda x: mpmath.cos(x) - x, 0.7))),
    (lambda x: x**9 - 1e-9, 0.0, 4.0, 0.1),
    (lambda x: math.expm1(x) - 1e-12, -1.0, 5.0, float(mpmath.log1p(mpmath.mpf(1e-12)))),
    (lambda x: -1.0 if x < 0.3 else 1.0, 0.0, 1.0, 0.3),
    (lambda x: x - 1e-13, 0.0, 1.5, 1e-13),
]


@pytest.mark.parametrize("function, low, high, zero", ZEROS)
def test_find_zero_reaches_the_last_digits(function, low, high, zero):
    assert find_zero(function, low, high) == pytest.approx(zero, rel=2e-15, abs=0)
    assert find_zero(function, high, low) == pytest.approx(zero, rel=2e-15, abs=0)


@given(st.floats(1e-14, 100.0))
def test_find_zero_keeps_the_digits_of_small_zeros(zero):
    assert find_zero(lambda x: x * x * x - zero * zero * zero, 0.0, 200.0) == pytest.approx(
        zero, rel=2e-15, abs=0
    )


def test_find_zero_takes_an_end_that_is_zero_and_refuses_equal_signs():
    assert find_zero(lambda x: x, 0.0, 1.0) == 0.0
    assert find_zero(lambda x: x - 1.0, 0.0, 1.0) == 1.0
    with pytest.raises(ValueError, match="No change of sign"):
        find_zero(lambda x: x * x + 1.0, -1.0, 1.0)


@given(st.floats(0.1, 300.0), st.floats(-3.0, 3.0), st.floats(-3.0, 3.0), st.sampled_from((1e-2, 1e-4, 1e-6)))
def test_arc_angles_use_the_sagitta_and_no_more_points_than_needed(radius, start, end, tolerance):
    angles = arc_angles(start, end, radius, tolerance)
    assert angles[0] == start and angles[-1] == end
    half = abs(end - start) / (len(angles) - 1) / 2
    assert radius * (1 - math.cos(half)) <= tolerance * (1 + 1e-6)
    if len(angles) > 2:
        coarser = abs(end - start) / (len(angles) - 2) / 2
        assert radius * (1 - math.cos(coarser)) > tolerance * (1 - 1e-6)


def test_chord_parameters_spread_the_error_evenly():
    """Closed form: on the parabola y = x^2/2 the largest gap between chord and curve, measured along y, is
    step^2/8, so even steps in x are right when the density is that of y."""
    places = chord_parameters(0.0, 3.0, np.ones_like, 1e-3)
    steps = np.diff(places)
    assert np.allclose(steps, steps[0], rtol=1e-12)
    assert (steps**2 / 8).max() <= 1e-3
    assert places[0] == 0.0 and places[-1] == 3.0
    assert np.allclose(chord_parameters(3.0, 0.0, np.ones_like, 1e-3), places[::-1], rtol=0, atol=1e-12)
