"""Tooth counts for a ratio, held against trying everything with exact fractions (an independent route) and
published fractions.
"""

import itertools
import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlab.parts.choosing import Choices, pairs, two_stages


@settings(max_examples=30)
@given(st.fractions(1, 4, max_denominator=40), st.integers(12, 24))
def test_pairs_are_all_there_is(ratio, low):
    high = low + 30
    found = pairs(float(ratio), low=low, high=high, within=0.02, count=10_000)
    tried = {
        (one, two)
        for one in range(low, high + 1)
        for two in range(low, high + 1)
        if abs(Fraction(two, one) / ratio - 1) <= Fraction(2, 100)
    }
    assert {(one.driver_teeth, one.driven_teeth) for one in found} == tried
    assert [abs(one.error) for one in found] == sorted(
        (abs(one.error) for one in found), key=lambda error: round(error, 12)
    )


@pytest.mark.parametrize("ratio", [2.0, 3.7, 6.2831853, 5.05])
def test_the_best_two_stages_are_the_best_of_all(ratio):
    low, high = 12, 26
    stages = {Fraction(two, one) for one in range(low, high + 1) for two in range(low, high + 1)}
    wanted = Fraction(repr(ratio))
    errors = sorted(
        {abs(one * two / wanted - 1) for one, two in itertools.combinations_with_replacement(stages, 2)}
    )
    found = two_stages(ratio, low=low, high=high, within=0.1, count=5)
    if errors[0] > Fraction(1, 10):
        assert not found
        return
    assert abs(found[0].error) == pytest.approx(float(errors[0]), abs=1e-12)
    for one in found:
        assert all(
            low <= teeth <= high
            for teeth in (one.first_teeth, one.second_teeth, one.third_teeth, one.fourth_teeth)
        )
        assert one.ratio / ratio - 1 == pytest.approx(one.error, abs=1e-12)


@pytest.mark.parametrize("ratio", [4.0, 5.0, 6.0, 8.0])
def test_reverted_trains_have_one_sum(ratio):
    found = two_stages(ratio, low=18, high=60, within=0.01, reverted=True, count=1000)
    tried = set()
    for one, two, three in itertools.product(range(18, 61), repeat=3):
        four = one + two - three
        if 18 <= four <= 60 and abs(two * four / (one * three * ratio) - 1) <= 0.01 + 1e-12:
            tried.add((*sorted((one, three)), *sorted((two, four))))
    assert all(one.reverted for one in found)
    got = {
        (*sorted((one.first_teeth, one.third_teeth)), *sorted((one.second_teeth, one.fourth_teeth)))
        for one in found
    }
    assert got == tried if len(tried) <= 1000 else got <= tried


# Shigley's Mechanical Engineering Design, 9th ed., chapter 13 (from memory): a reverted 30 : 1 with 6 x 5 and
# pinions of 16 and more has 18 and 21 teeth, 108 and 105.
def test_thirty_to_one():
    assert any(
        (one.first_teeth, one.second_teeth, one.third_teeth, one.fourth_teeth)
        in {(18, 108, 21, 105), (21, 105, 18, 108)}
        for one in two_stages(30.0, low=16, high=120, reverted=True, count=200)
    )


def test_the_hand_winch():
    """Two stages of 78.75 mm at module 2.5.

    63 teeth a stage, 18/45 and 21/42 make 5 : 1 (common practice).
    """
    assert any(
        {one.first_teeth, one.third_teeth} == {18, 21} and {one.second_teeth, one.fourth_teeth} == {45, 42}
        for one in two_stages(5.0, low=18, high=60, reverted=True, count=100)
    )


def test_hunting_pairs_have_no_common_factor():
    found = pairs(2.5, within=0.06, hunting=True, count=100)
    assert found and all(
        math.gcd(one.driver_teeth, one.driven_teeth) == 1 and one.driver_turns_to_repeat == one.driven_teeth
        for one in found
    )
    assert all(one.common_factor > 1 for one in pairs(2.5, within=0.06, hunting=False, count=100))


def test_choices_print_and_show_as_a_table():
    found = pairs(2.4, centre_distance=80.0, module=2.5)
    assert str(found).splitlines()[0].split()[:2] == ["driver", "driven"]
    assert "<table>" in found._repr_html_() and "<td>19</td>" in found._repr_html_()
    assert str(Choices()) == "no choice within the limits"


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: pairs(0.0), "ratio = 0 is out of range"),
        (lambda: pairs(2.0, low=30, high=20), "hold no tooth counts"),
        (lambda: pairs(2.0, centre_distance=80.0), "go together"),
        (lambda: two_stages(5.0, within=0.3), "give a share from 0 to 0.1"),
        (lambda: two_stages(5.0, count=0), "count = 0 is out of range"),
    ],
)
def test_limits_are_said(call, says):
    with pytest.raises(ValueError, match=says):
        call()
