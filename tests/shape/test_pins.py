"""Pins, chords and jaws on the cut shape, against printed values and brute force."""

import math
import re

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from teeth import STANDARD, forms, rings

from gearlab.shape import ToothForm
from gearlab.shape.internal import InternalToothForm
from gearlab.shape.pins import across_tips, chord, over_pins, pin_centre, pin_range


def test_size_over_pins_agrees_with_the_printed_value():
    """Source: metric gear technical reference, over-pin table, z = 20, pin 1.7 (from memory).

    22.2941, angle 24.135 degrees.
    """
    form = ToothForm(20, STANDARD)
    assert over_pins(form, 1.7) == pytest.approx(22.2941, abs=5.1e-5)
    assert math.degrees(math.acos(form.base_radius / pin_centre(form, 1.7))) == pytest.approx(
        24.135, abs=5.1e-5
    )


def test_size_over_wires_of_32_teeth():
    """Source: Van Keuren wire table as quoted by a gear maker.

    N = 32, 1.728 wire: 34.413 at one tooth per inch.
    """
    assert over_pins(ToothForm(32, STANDARD), 1.728) == pytest.approx(34.413, abs=6e-4)


def test_an_ideal_pin_touches_at_the_reference_circle():
    """Source: metric gear technical reference, ideal pin of z = 20.

    1.7245 (from memory); it touches where the circle z + 2x does.
    """
    form = ToothForm(20, STANDARD)
    centre = pin_centre(form, 1.7245)
    touch = math.sqrt(form.base_radius**2 + (math.sqrt(centre**2 - form.base_radius**2) - 1.7245 / 2) ** 2)
    assert touch == pytest.approx(10.0, abs=1e-4)


@settings(max_examples=40, deadline=None)
@given(st.integers(10, 200), st.floats(-0.2, 0.5), st.floats(1.5, 1.9), st.booleans())
def test_a_pin_rests_on_many_points(count, shift, pin, internal):
    """Independent route.

    The pin's centre is one pin radius from the nearest of a fine polygon of the teeth.
    """
    try:
        form = (InternalToothForm if internal else ToothForm)(count, STANDARD, shift)
        centre = pin_centre(form, pin)
    except ValueError:
        assume(False)
    at = shapely.Point(centre * math.cos(math.pi / count), centre * math.sin(math.pi / count))
    tooth = form.tooth_points(1e-8)
    assert shapely.distance(shapely.LineString(tooth), at) == pytest.approx(pin / 2, abs=2e-8)


def test_between_pins_of_an_internal_gear():
    """Sources: constant 1.44 for internal gears (Van Keuren, from memory).

    Closed form: Machinery's Handbook, 'between wires' (inv at the pin's centre).
    """
    for count in (40, 41):
        ring = InternalToothForm(count, STANDARD)
        phi = STANDARD.pressure_angle
        wanted = math.pi / (2 * count) + math.tan(phi) - phi - 1.44 / (count * math.cos(phi))
        low, high = 0.0, 1.0
        for _ in range(80):
            middle = (low + high) / 2
            low, high = (middle, high) if math.tan(middle) - middle < wanted else (low, middle)
        size = (
            count * math.cos(phi) / math.cos(low) * (math.cos(math.pi / 2 / count) if count % 2 else 1.0)
            - 1.44
        )
        assert over_pins(ring, 1.44) == pytest.approx(size, abs=1e-10)


@settings(max_examples=40)
@given(st.one_of(forms(), rings()))
def test_the_pins_that_are_named_measure_and_others_do_not(form):
    try:
        least, most = pin_range(form)
    except ValueError as error:
        assert "No pin measures" in str(error)
        for pin in (0.5, 1.0, 1.44, 1.728, 2.5):
            with pytest.raises(ValueError):
                over_pins(form, pin)
        return
    for pin in (least + 1e-6, (least + most) / 2, most - 1e-6):
        assert over_pins(form, pin) > 0
    for pin in (least - 1e-6, most + 1e-6):
        with pytest.raises(ValueError, match="Give (a pin|pins) between"):
            over_pins(form, pin)


@pytest.mark.parametrize(
    "form, pin, words",
    [
        (ToothForm(20, STANDARD), 0.5, "drops to the bottom of the space. Give a pin between"),
        (ToothForm(20, STANDARD), 4.0, "rests on the corners of the tips. Give a pin between"),
        (
            ToothForm(20, STANDARD),
            1.3,
            "below the tips of this 20-tooth gear, where no jaw reaches them. Give pins between",
        ),
        (InternalToothForm(60, STANDARD), 4.0, "rests on the corners of the tips. Give a pin between"),
        (InternalToothForm(60, STANDARD), 0.3, "drops to the bottom"),
        (ToothForm(20, STANDARD), math.nan, "finite number above 0"),
        (ToothForm(20, STANDARD), -1.0, "finite number above 0"),
        (ToothForm(20, STANDARD), "1.7", "finite number above 0"),
    ],
)
def test_pins_that_do_not_measure_say_what_they_do(form, pin, words):
    with pytest.raises(ValueError, match=words) as caught:
        over_pins(form, pin)
    if "between" in str(caught.value):
        # as printed, they work
        for limit in re.findall(r"between ([\d.]+) and ([\d.]+)", str(caught.value))[0]:
            over_pins(form, float(limit))


# Source: Machinery's Handbook, chordal thicknesses and addenda (Brown & Sharpe table), from memory.
@pytest.mark.parametrize(
    "count, thickness, height",
    [
        (8, 1.5607, 1.0769),
        (11, 1.5654, 1.0559),
        (28, 1.5700, 1.0220),
        (60, 1.5706, 1.0103),
        (135, 1.5708, 1.0046),
    ],
)
def test_chord_agrees_with_the_table(count, thickness, height):
    one, two = chord(ToothForm(count, STANDARD), count / 2)
    assert one == pytest.approx(thickness, abs=1.1e-4) and two == pytest.approx(height, abs=1.6e-4)


@pytest.mark.parametrize("count", [7, 18, 19, 45, 46, 101])
def test_reading_across_the_tips_is_the_width_of_the_outline(count):
    """Independent route: the extent of a fine outline along the axis through tooth 0."""
    form = ToothForm(count, STANDARD)
    assert across_tips(form) == pytest.approx(np.ptp(form.outline(1e-7)[:, 0]), abs=1e-7)
    assert (across_tips(form) < 2 * form.tip_radius - 1e-9) == (count % 2 == 1)


def test_jaws_do_not_close_on_a_ring():
    with pytest.raises(ValueError, match="between pins"):
        across_tips(InternalToothForm(60, STANDARD))
    with pytest.raises(ValueError, match="misses the flank"):
        chord(ToothForm(20, STANDARD), 12.0)
