"""Backlash that strays: small errors held against the exact pair, and against the trade's rules."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlab import Gear, Mesh
from gearlab.parts.tolerances import EXPANSION, backlash_budget, distance_for_backlash, warmed

PAIR = Mesh(Gear(18, module=2.5), Gear(45, module=2.5), centre_distance=78.95)


# A small error moves the exact backlash by what the budget says (independent route: two exact pairs, a little
# apart).
@settings(max_examples=25)
@given(st.integers(17, 60), st.integers(17, 90), st.floats(0.05, 0.8))
def test_the_slope_is_that_of_the_exact_backlash(n1, n2, opening):
    gears = Gear(n1, module=2.5), Gear(n2, module=2.5)
    distance = 1.25 * (n1 + n2) + opening
    little = 1e-4
    budget = backlash_budget(Mesh(*gears, centre_distance=distance), distance=little)
    exact = (
        Mesh(*gears, centre_distance=distance + little).backlash
        - Mesh(*gears, centre_distance=distance - little).backlash
    ) / 2
    assert budget.worst_case == pytest.approx(exact, rel=1e-5)


def test_worst_case_and_likely_add_up_as_taught():
    """Three contributions of 3, 4 and 12 parts: 19 at worst, 13 by root sum square (Pythagoras)."""
    slope = 2 * math.tan(math.radians(PAIR.operating_pressure_angle)) + PAIR.backlash / PAIR.centre_distance
    budget = backlash_budget(PAIR, distance=0.03 / slope, thickness=(0.04, 0.12))
    assert budget.worst_case == pytest.approx(0.19) and budget.likely == pytest.approx(0.13)
    assert budget.least == pytest.approx(PAIR.backlash - 0.19) and budget.can_jam


# Common practice: an offset bore swings the indicator by twice the offset and the backlash by 4 e tan(phi),
# to either side of its mean by half of that.
def test_an_offset_bore_swings_the_backlash():
    plain = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
    assert 2 * backlash_budget(plain, bore_offset=(0.1, 0.0)).worst_case == pytest.approx(
        4 * 0.1 * math.tan(math.radians(20))
    )


def test_a_warm_acrylic_plate_of_the_greenhouse():
    """70 millionths over 30 K and 78.75 mm: 165 micrometres, about 0.12 mm of backlash (worked by hand)."""
    cold = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
    warm = warmed(cold, 30.0, plate="acrylic")
    assert warm.centre_distance - cold.centre_distance == pytest.approx(70e-6 * 30 * 78.75, abs=1e-9)
    assert warm.backlash == pytest.approx(0.12, abs=0.003)


def test_plate_and_gears_of_one_material_keep_their_play():
    assert warmed(PAIR, 25.0, plate="steel", gears="steel").backlash == pytest.approx(
        PAIR.backlash, abs=1e-12
    )


@settings(max_examples=25)
@given(st.integers(17, 60), st.integers(17, 90), st.floats(0.0, 0.5))
def test_the_distance_for_a_wanted_backlash_has_it(n1, n2, wanted):
    plain = Mesh(Gear(n1, module=2.5), Gear(n2, module=2.5))
    distance = distance_for_backlash(plain, wanted)
    assert Mesh(plain.driver, plain.driven, centre_distance=distance).backlash == pytest.approx(
        wanted, abs=1e-9
    )


def test_a_budget_prints_and_shows_as_a_table():
    budget = backlash_budget(PAIR, distance=0.3)
    assert "it can jam" in str(budget) and "<th scope=row>centre distance</th>" in budget._repr_html_()


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: backlash_budget(PAIR, distance=-0.1), "distance"),
        (lambda: backlash_budget(PAIR, distance=5.0), "distance"),
        (lambda: warmed(PAIR, 500.0, plate="acrylic"), "warming"),
        (lambda: warmed(PAIR, 30.0, plate="wood"), f"use one of {next(iter(EXPANSION))}"),
        (
            lambda: distance_for_backlash(
                Mesh(Gear(18, module=2.5, profile_shift=0.2), Gear(45, module=2.5)), 0.1
            ),
            "have profile shift",
        ),
        (lambda: distance_for_backlash(PAIR, -0.1), "backlash"),
    ],
)
def test_what_is_no_small_error_is_refused(call, says):
    with pytest.raises(ValueError, match=says):
        call()
