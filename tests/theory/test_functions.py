"""The involute function and its inverse against mpmath (reference library), the common factor against
math.gcd.
"""

import math

import mpmath
import numpy as np
import pytest
import sympy as sp
from hypothesis import given
from hypothesis import strategies as st

from gearlab.shape import involute
from gearlab.theory.functions import (
    ARRAY_TWINS,
    arcinv,
    arcinv_number,
    best_ratio_error_number,
    common_factor,
    common_factor_number,
    common_multiple_number,
    even_factor_number,
    inv,
    inv_number,
    odd_factor,
    odd_factor_number,
    opened_angle,
    opened_angle_number,
    remainder_number,
)


def precise(x):
    with mpmath.workdps(40):
        return mpmath.tan(mpmath.mpf(x)) - mpmath.mpf(x)


LAST = math.radians(89)
# Densely about 0.3 rad too, where the series hands over to tan x - x and each has lost the most.
ANGLES = [*np.geomspace(1e-9, 0.1, 200), *np.linspace(0.1, LAST, 400), *np.linspace(0.28, 0.32, 200)]


def off(value, exact):
    """Relative distance of a float from a number of 40 digits."""
    with mpmath.workdps(40):
        return float(abs(mpmath.mpf(value) / exact - 1))


def undone(y, near):
    """The angle whose exact involute function is the float given (reference library: mpmath)."""
    with mpmath.workdps(40):
        return mpmath.findroot(lambda a: mpmath.tan(a) - a - mpmath.mpf(y), mpmath.mpf(near))


def test_inv_and_its_inverse_keep_14_digits_from_0_to_89_degrees():
    for x in map(float, ANGLES):
        y = inv_number(x)
        assert off(y, precise(x)) < 1e-14, x
        assert off(arcinv_number(y), undone(y, x)) < 1e-14, x
    assert ARRAY_TWINS["inv"](ANGLES) == pytest.approx([inv_number(x) for x in ANGLES], rel=0, abs=0)


@given(st.floats(1e-9, LAST))
def test_inv_and_its_inverse_against_mpmath(x):
    y = inv_number(x)
    assert off(y, precise(x)) < 1e-14
    assert off(arcinv_number(y), undone(y, x)) < 1e-14


@given(st.floats(1e-3, 1.4))
def test_theory_and_shape_agree(x):
    assert inv_number(x) == pytest.approx(float(involute.inv(x)), rel=1e-12)
    assert arcinv_number(inv_number(x)) == pytest.approx(x, rel=1e-12)


def test_edges():
    assert inv_number(0.0) == 0.0 == arcinv_number(0.0)
    assert math.isnan(arcinv_number(-1e-9)) and math.isnan(arcinv_number(math.nan))
    assert inv_number(-0.3) == -inv_number(0.3)


def test_they_undo_each_other_as_symbols():
    x = sp.Symbol("x", positive=True)
    assert inv(arcinv(x)) == x and arcinv(inv(x)) == x
    assert sp.diff(inv(x), x) == sp.tan(x) ** 2
    y = 0.05
    assert float(sp.diff(arcinv(x), x).subs(x, y)) == pytest.approx(
        (arcinv_number(y + 1e-6) - arcinv_number(y - 1e-6)) / 2e-6, rel=1e-6
    )
    # inv 20 degrees, tables of the handbooks
    assert float(inv(sp.pi / 9)) == pytest.approx(0.0149044, abs=1e-7)


@given(st.integers(1, 500), st.integers(1, 500))
def test_common_factor(one, two):
    assert (
        common_factor_number(float(one), float(two))
        == math.gcd(one, two)
        == common_factor(sp.Integer(one), sp.Integer(two))
    )


def test_common_factor_of_what_is_not_whole_is_one():
    assert common_factor_number(18.5, 45.0) == 1.0


@given(st.integers(4, 400), st.integers(4, 400), st.floats(-1e-3, 1e-3))
def test_counts_that_rounding_left_beside_a_whole_number_count_as_whole(one, two, rest):
    assert common_factor_number(one + rest, two - rest) == math.gcd(one, two)
    assert common_multiple_number(one - rest, two + rest) == math.lcm(one, two)
    assert even_factor_number(one + rest) == 1 - one % 2
    assert odd_factor_number(one - rest) == odd_factor_number(one)


def test_a_count_that_is_not_whole_is_neither_odd_nor_even():
    for count in (45.4, 18.5, 44.99, math.nan, math.inf):
        assert math.isnan(even_factor_number(count)) and math.isnan(odd_factor_number(count))


def test_a_count_found_on_the_way_is_whole_for_what_comes_after():
    from gearlab.theory import derive

    # By hand: C = 3.15 in, P = 10, ratio 2.5 are 18 and 45 teeth: common factor 9, 5 driver turns. 2 * 3.15 *
    # 10 / 3.5 leaves 18.000000000000004 or so.
    givens = {"centre_distance": 3.15, "diametral_pitch": 10, "ratio": 2.5}
    assert derive("common_factor", givens).result == 9
    assert derive("driver_turns_to_repeat", givens).result == pytest.approx(5)
    assert derive("common_factor", list(givens)).value(
        centre_distance=[3.15, 6.3], diametral_pitch=10, ratio=2.5
    ).tolist() == [9, 18]


@given(st.integers(6, 300))
def test_odd_factor_is_the_chord_between_spaces(n):
    """Independent route: two points on a circle, in the two spaces nearest to opposite."""
    spaces = np.exp(2j * np.pi * np.arange(n) / n)
    assert odd_factor_number(n) == pytest.approx(np.abs(spaces - spaces[0]).max() / 2, rel=1e-12)
    assert float(odd_factor(sp.Integer(n)).evalf()) == pytest.approx(odd_factor_number(n))


def test_arrays():
    angles = np.radians([14.5, 20, 25])
    assert ARRAY_TWINS["inv"](angles) == pytest.approx(np.tan(angles) - angles, rel=1e-12)
    assert ARRAY_TWINS["common_factor"](np.array([18, 30]), np.array([45, 60])).tolist() == [9, 30]


@given(st.floats(0.2, 0.5), st.floats(0.0, 0.2))
def test_opened_angle_solves_its_equation(phi, share):
    angle = opened_angle_number(inv_number(phi), share)
    assert phi - 1e-12 <= angle < math.pi / 2
    assert inv_number(angle) - inv_number(phi) == pytest.approx(share * math.cos(angle), abs=1e-12)
    assert float(opened_angle(sp.Float(inv_number(phi)), sp.Float(share)).evalf()) == pytest.approx(
        angle, rel=1e-12
    )


def test_opened_angle_below_any_touch_is_none():
    assert math.isnan(opened_angle_number(0.01, -0.02))


@given(st.integers(1, 400), st.integers(1, 400))
def test_common_multiple(one, two):
    assert common_multiple_number(one, two) == math.lcm(one, two)


@given(st.floats(-1e3, 1e3), st.floats(0.01, 50))
def test_remainder_lies_within_one_step(number, step):
    left = remainder_number(number, step)
    assert 0 <= left < step
    assert (number - left) / step == pytest.approx(round((number - left) / step), abs=1e-6)


def test_even_factor_is_written_in_words():
    from gearlab.theory import derive

    turn = derive("mesh_turn", {"driven_teeth": 46})
    for written in (turn.text(), turn.mathml(), turn.markdown()):
        assert "1 for even" in written.replace(r"\text{", "").replace("  ", " ")


def test_even_factor():
    assert [even_factor_number(n) for n in (18, 45, 46)] == [1, 0, 1]


# 22/7 is the best whole-number ratio for pi in this range (common practice; A. M. Legendre's convergents of
# pi: 3, 22/7, 333/106).
def test_best_ratio_error_of_pi():
    assert best_ratio_error_number(math.pi) == pytest.approx(22 / 7 / math.pi - 1, rel=1e-12)
