"""Which gear is it? Gears are cut (shape, no theory) and measured.

The measurements alone must lead back to them.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlab import Gear
from gearlab.parts.identify import (
    shift_from_pins,
    shift_from_span,
    thickness_from_pins,
    thickness_from_span,
    which_gear,
)
from gearlab.shape import measuring, pins

SIZES = [
    ("module", 1.0),
    ("module", 1.25),
    ("module", 2.0),
    ("module", 2.5),
    ("module", 3.0),
    ("diametral_pitch", 8.0),
    ("diametral_pitch", 10.0),
    ("diametral_pitch", 12.0),
    ("diametral_pitch", 24.0),
]


def measured(gear):
    """Span over two numbers of teeth, measured on the cut curves [gear.unit]."""
    spans = {}
    # where one tooth more cannot be reached by the jaws, one fewer
    for k in range(gear.span_teeth + 1, 1, -1):
        try:
            spans[k] = measuring.span(gear.tooth, k) * gear.scale
        except ValueError:
            continue
    return dict(list(spans.items())[:2])


@settings(max_examples=25, deadline=None)
@given(
    st.integers(17, 60),
    st.sampled_from(SIZES),
    st.sampled_from([14.5, 20.0, 25.0]),
    st.sampled_from([0.0, 0.15, 0.3]),
)
def test_cut_gears_are_recognised(teeth, size, angle, shift):
    gear = Gear(teeth, **dict([size]), pressure_angle=angle, profile_shift=shift)
    found = which_gear(teeth, gear.unit, outside_diameter=gear.outside_diameter, spans=measured(gear))
    best = found[0].gear
    assert best.unit == gear.unit and best.scale == pytest.approx(gear.scale, rel=1e-12)
    assert best.pressure_angle == angle and best.profile_shift == pytest.approx(shift, abs=1e-3)


# The lab's own trap (common practice): module 2.5 and P = 10 look alike, 2.5 against 2.54 mm; the span over
# two counts tells them apart.
def test_module_and_pitch_that_look_alike():
    pinion = Gear(20, diametral_pitch=10)
    spans = {k: span * 25.4 for k, span in measured(pinion).items()}
    best = which_gear(20, "mm", outside_diameter=pinion.outside_diameter * 25.4, spans=spans)[0].gear
    assert best.diametral_pitch == 10


def test_more_than_one_gear_may_fit_and_all_are_named():
    found = which_gear(20, "mm", outside_diameter=55.0)
    assert {one.gear.pressure_angle for one in found if one.gear.module == 2.5} == {14.5, 20.0, 25.0}
    assert all(one.shift_from == "taken as none" for one in found if one.gear.module == 2.5)


def test_what_is_no_standard_gear_fits_nothing():
    assert not which_gear(20, "mm", outside_diameter=47.3, spans={3: 16.9, 4: 23.35})
    assert (
        str(which_gear(20, "mm", outside_diameter=47.3, spans={3: 16.9, 4: 23.35}))
        == "no choice within the limits"
    )


@settings(max_examples=20, deadline=None)
@given(st.integers(17, 60), st.floats(0.0, 0.15))
def test_thinning_is_found_from_span_and_pins_of_the_cut_tooth(teeth, thinning):
    full, thin = Gear(teeth, module=2.5), Gear(teeth, module=2.5, tooth_thinning=thinning)
    k = full.span_teeth
    assert thickness_from_span(full, measuring.span(thin.tooth, k) * 2.5, k) == pytest.approx(
        full.tooth_thickness - thinning, abs=1e-6
    )
    over = pins.over_pins(thin.tooth, 1.75) * 2.5
    assert thickness_from_pins(full, over, 1.75 * 2.5) == pytest.approx(
        full.tooth_thickness - thinning, abs=1e-6
    )


@settings(max_examples=20, deadline=None)
@given(st.integers(17, 60), st.floats(0.0, 0.4))
def test_shift_is_found_from_span_and_pins_of_the_cut_tooth(teeth, shift):
    plain, shifted = Gear(teeth, module=2.5), Gear(teeth, module=2.5, profile_shift=shift)
    k = shifted.span_teeth
    assert shift_from_span(plain, measuring.span(shifted.tooth, k) * 2.5, k) == pytest.approx(shift, abs=1e-6)
    assert shift_from_pins(plain, pins.over_pins(shifted.tooth, 1.9) * 2.5, 1.9 * 2.5) == pytest.approx(
        shift, abs=1e-6
    )


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: which_gear(20, "mm"), "nothing to go by"),
        (lambda: which_gear(20, "cm", outside_diameter=5.0), "unit 'cm' is unknown"),
        (lambda: which_gear(3, "mm", outside_diameter=5.0), "teeth = 3 is out of range"),
        (lambda: which_gear(20, "mm", spans={3: 19.0, 4: 18.0}), "do not grow"),
        (lambda: which_gear(20, "mm", spans={11: 19.0}), "from 2 up to 10"),
        (lambda: which_gear(20, "mm", outside_diameter=-55.0), "out of range"),
        (lambda: thickness_from_span(Gear(19, module=2.5), -3.0, 3), "span = -3 mm is out of range"),
    ],
)
def test_what_is_no_measurement_is_refused(call, says):
    with pytest.raises(ValueError, match=says):
        call()
