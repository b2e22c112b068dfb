"""All numbers at once are the numbers one by one."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from gearlab import Gear, Mesh, derive
from gearlab.theory import QUANTITIES, system
from gearlab.theory.numbers import all_numbers
from gearlab.theory.scope import scope_for


@settings(max_examples=6, deadline=None)
@given(st.integers(12, 90), st.integers(12, 90), st.sampled_from([4, 10, 24]))
def test_a_pairs_numbers_equal_derive(n1, n2, p):
    pair = Mesh(Gear(n1, diametral_pitch=p), Gear(n2, diametral_pitch=p))
    numbers = pair.numbers
    givens = {"driver_teeth": n1, "driven_teeth": n2, "diametral_pitch": p, "pressure_angle": 20}
    for word in (
        "centre_distance",
        "ratio",
        "driver_outside_diameter",
        "driven_root_diameter",
        "driven_base_diameter",
        "contact_ratio",
        "length_of_recess",
        "driver_turns_to_repeat",
        "share_of_spaces",
        "whole_depth",
        "driver_chordal_thickness",
    ):
        try:
            derived = derive(word, givens).result
        # a formula that does not hold for this pair tells nothing: the number is measured
        except ValueError as error:
            assert word in pair.measured and "this formula holds" in str(error), word
        else:
            assert numbers[word] == pytest.approx(derived, rel=1e-12), word


@settings(max_examples=20, deadline=None)
@given(st.integers(8, 120), st.floats(-0.4, 0.8), st.floats(0, 0.05))
def test_explain_ends_at_the_number(n, shift, thinning):
    try:
        gear = Gear(n, module=2.5, profile_shift=round(shift, 3), tooth_thinning=round(thinning, 3))
    except ValueError:
        assume(False)  # pointed, or cut away: no such gear (tests/shape)
    for word in ("outside_diameter", "root_diameter", "tooth_thickness", "chordal_addendum"):
        assert gear.explain(word).result == pytest.approx(gear.numbers[word], rel=1e-12, abs=1e-12), word


def test_every_number_is_finite_and_known():
    for part in (
        Gear(18, module=2.5),
        Gear(9, diametral_pitch=10, profile_shift=0.5),
        Mesh(Gear(18, module=2.5), Gear(45, module=2.5)),
        Mesh(Gear(12, module=3, profile_shift=0.6), Gear(24, module=3, profile_shift=0.36)),
        Mesh(Gear(18, module=2.5), Gear(45, module=2.5), 79.0),
    ):
        assert all(word in QUANTITIES and math.isfinite(number) for word, number in part.numbers.items())
        assert len(part.numbers) > 25


def test_what_has_no_real_value_is_left_out():
    """A pin far too small lies below the base circle: no angle, no size over pins."""
    gear = Gear(18, module=2.5)
    numbers = all_numbers(
        scope_for("gear", "mm", (system(),)), ("teeth", "module", "pressure_angle", "pin_diameter")
    )
    assert "over_pins" in numbers(18.0, 2.5, math.radians(20), 4.5)
    found = numbers(18.0, 2.5, math.radians(20), 0.01)
    assert "pin_parity" in found and not {"pin_angle", "over_pins"} & set(found)
    with pytest.raises(ValueError, match="drop to the bottom of the space"):
        gear.explain("pin_angle", pin_diameter=0.01)
