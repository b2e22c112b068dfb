"""A pair turned by its cut teeth: what turns, by counting teeth."""

from __future__ import annotations

from fractions import Fraction

import pytest

from gearlab import Gear, InternalGear, Mesh, roll


@pytest.mark.parametrize("turns", [1, -1, 0.25, -2.5])
@pytest.mark.parametrize("counts", [(18, 45), (45, 18), (20, 20), (23, 51)])
def test_the_teeth_that_pass_are_as_many_on_both_gears(counts, turns):
    # each tooth takes one space with it: definition of the ratio (ISO 1122-1), with fractions
    driver, driven = counts
    turned = roll(Mesh(Gear(driver, module=2.5), Gear(driven, module=2.5)), turns)
    assert turned.driver_turns == turns
    assert abs(turned.driven_turns - float(-Fraction(turns) * Fraction(driver, driven))) < 1e-9
    assert turned.driver_teeth == turned.driven_teeth == int(abs(turns) * driver)


def test_a_ring_turns_the_same_way():
    turned = roll(Mesh(Gear(18, module=2.5), InternalGear(60, module=2.5)))
    assert abs(turned.driven_turns - 0.3) < 1e-9 and turned.driven_teeth == 18


def test_at_a_wrong_distance_the_teeth_count_as_before():
    turned = roll(Mesh(Gear(18, module=2.5), Gear(45, module=2.5), centre_distance=80.0), 5)
    assert abs(turned.driven_turns + 2) < 1e-9


def test_teeth_that_are_missing_are_noticed():
    """The measurement takes no ratio from the pair: other teeth on the driven gear, other turns."""
    pair = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
    other = Mesh(Gear(18, module=2.5), Gear(46, module=2.5))
    assert abs(roll(other).driven_turns + 18 / 46) < 1e-9 and pair.ratio != other.ratio


@pytest.mark.parametrize("turns", [0, 0.05, 21, -21, float("nan"), float("inf")])
def test_how_far_it_may_be_turned(turns):
    with pytest.raises(ValueError, match="driver_turns = .* 20 turns"):
        roll(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), turns)
