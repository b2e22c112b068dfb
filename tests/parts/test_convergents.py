"""Continued fractions against their defining property, tried out, and against published expansions."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlab.parts.convergents import continued_fraction, convergents


# J. L. Lagrange's theorem: a convergent comes nearer than any fraction with a smaller denominator (reference:
# trying them all).
@given(st.fractions(0, 9, max_denominator=400))
def test_convergents_are_the_nearest_of_their_size(number):
    for one in list(convergents(number))[1:]:
        nearest = min(
            abs(number - Fraction(round(number * below), below)) for below in range(1, one.denominator + 1)
        )
        assert abs(number - one) == nearest
    assert list(convergents(number))[-1] == number


def test_pi_by_continued_fraction():
    """OEIS A001203: pi = [3; 7, 15, 1, 292, ...]; convergents 3, 22/7, 333/106, 355/113."""
    assert continued_fraction(math.pi)[:5] == (3, 7, 15, 1, 292)
    assert [str(one) for one in convergents(math.pi, 4)] == ["3", "22/7", "333/106", "355/113"]


def test_a_number_below_nought_is_refused():
    with pytest.raises(ValueError, match="give 0 or more"):
        continued_fraction(Fraction(-1, 2))
