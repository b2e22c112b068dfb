"""Measurements on the cut tooth against printed spans, thicknesses and base pitches, and a caliper on
polygons.
"""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from teeth import STANDARD, forms

from gearlab.shape import ToothForm
from gearlab.shape.internal import InternalToothForm
from gearlab.shape.measuring import base_pitch, flank_point, span, thickness

# (module, teeth, shift, teeth spanned, printed span, tolerance)
SPANS = [
    # Source: Elements of Metric Gear Technology, span table (from memory).
    (3, 24, 0.4, 4, 32.8266, 5e-5),
    # Source: internal gear pair calculation sheet, unit span W* and span at module 2.05.
    (1, 26, 0.0, 3, 7.7445, 5e-5),
    (2.05, 26, 0.0, 3, 15.8762, 1.2e-4),
    # Source: base-tangent table for module 1, 20 degrees (gear handbooks; Khurmi & Gupta), from memory.
    (1, 17, 0.0, 2, 4.6663, 1.1e-4),
    (1, 18, 0.0, 3, 7.6324, 1.1e-4),
    (1, 20, 0.0, 3, 7.6604, 1.1e-4),
    (1, 24, 0.0, 3, 7.7165, 1.1e-4),
    (1, 25, 0.0, 3, 7.7305, 1.1e-4),
    (1, 30, 0.0, 4, 10.7526, 1.1e-4),
    (1, 36, 0.0, 5, 13.7888, 1.1e-4),
    (1, 40, 0.0, 5, 13.8448, 1.1e-4),
    (1, 50, 0.0, 6, 16.9370, 1.1e-4),
    (1, 60, 0.0, 7, 20.0292, 1.1e-4),
    (1, 100, 0.0, 12, 35.3500, 1.1e-4),
]

# (teeth, chordal thickness, chordal addendum) at module 1.
# Source: Machinery's Handbook, chordal thicknesses and addenda (Brown & Sharpe table), from memory.
CHORDS = [
    (8, 1.5607, 1.0769),
    (9, 1.5628, 1.0684),
    (10, 1.5643, 1.0616),
    (11, 1.5654, 1.0559),
    (28, 1.5700, 1.0220),
    (30, 1.5701, 1.0206),
    (35, 1.5702, 1.0176),
    (40, 1.5704, 1.0154),
    (50, 1.5705, 1.0123),
    (60, 1.5706, 1.0103),
    (80, 1.5707, 1.0077),
    (100, 1.5707, 1.0062),
    (135, 1.5708, 1.0046),
]


@pytest.mark.parametrize("module, count, shift, over, printed, tolerance", SPANS)
def test_span_agrees_with_printed_tables(module, count, shift, over, printed, tolerance):
    assert module * span(ToothForm(count, STANDARD, shift), over) == pytest.approx(
        printed, abs=tolerance, rel=0
    )


@pytest.mark.parametrize("count, chord, height", CHORDS)
def test_chordal_thickness_and_addendum_agree_with_the_table(count, chord, height):
    form = ToothForm(count, STANDARD)
    right, left = flank_point(form, count / 2, -1), flank_point(form, count / 2, 1)
    assert math.dist(right, left) == pytest.approx(chord, abs=1.1e-4, rel=0)
    assert form.tip_radius - (right[0] + left[0]) / 2 == pytest.approx(height, abs=1.6e-4, rel=0)


def test_thickness_of_a_shifted_tooth():
    """Source: Elements of Metric Gear Technology, tables 10-1 and 10-2, page T-81 (z 12, x +0.3, module 10)."""  # noqa: E501
    form = ToothForm(12, STANDARD, 0.3)
    right, left = flank_point(form, 6.0, -1), flank_point(form, 6.0, 1)
    assert 10 * thickness(form, 6.0) == pytest.approx(17.8918, abs=5.1e-5, rel=0)
    assert math.degrees(math.atan2(left[1], left[0])) == pytest.approx(8.5427, abs=5.1e-5, rel=0)
    assert 10 * math.dist(left, right) == pytest.approx(17.8256, abs=5.1e-5, rel=0)
    assert 10 * (form.tip_radius - left[0]) == pytest.approx(13.6657, abs=5.1e-5, rel=0)


@settings(max_examples=60, deadline=None)
@given(forms())
def test_thickness_at_the_reference_circle_is_the_space_the_rack_leaves(form):
    """Source: rolling without slip: the arc equals the tool's space on its pitch line."""
    assume(form.form_radius < form.reference_radius < form.tip_radius)
    on_rack = math.pi / 2 + 2 * form.profile_shift * math.tan(form.rack.pressure_angle) - form.thinning
    assert thickness(form, form.reference_radius) == pytest.approx(on_rack, abs=1e-12, rel=0)


@settings(max_examples=60, deadline=None)
@given(forms(), st.floats(0.0, 0.999))  # at the tip circle itself the polygon lies on the circle
def test_thickness_agrees_with_the_polygon(form, share):
    """Independent route: where a circle crosses a fine polygon of the tooth, by linear interpolation."""
    radius = form.form_radius + share * (form.tip_radius - form.form_radius)
    points = form.tooth_points(1e-8)
    upper = points[points[:, 1] >= 0]
    radii, angles = np.hypot(*upper.T)[::-1], np.arctan2(upper[:, 1], upper[:, 0])[::-1]
    angles = np.interp(radius, radii, angles)
    assert thickness(form, radius) == pytest.approx(2 * radius * angles, abs=1e-5, rel=0)


@settings(max_examples=40, deadline=None)
@given(forms(), st.data())
def test_span_agrees_with_a_caliper_on_the_points(form, data):
    """Independent route: a caliper closes on the outermost of many flank points; no normals are used."""
    over = data.draw(st.integers(1, max(1, form.teeth // 4)))
    try:
        measured = span(form, over)
    except ValueError as error:
        assert "parallel plates do not touch" in str(error)
        return
    half_turn = (over - 1) * math.pi / form.teeth
    points = form.flank(np.linspace(*form.flank_range, 20_001))[0]
    # square to the middle line
    reach = math.cos(half_turn) * points[:, 1] + math.sin(half_turn) * points[:, 0]
    assert measured == pytest.approx(2 * reach.max(), abs=1e-7, rel=0)


@settings(max_examples=25, deadline=None)
@given(forms(st.integers(6, 30)))
def test_span_grows_by_one_base_pitch_a_tooth(form):
    """Source: base-tangent length note: each further tooth adds pi cos(pressure angle)."""
    spans = {}
    for over in range(1, 9):
        try:
            spans[over] = span(form, over)
        except ValueError:
            continue
    neighbours = [over for over in spans if over + 1 in spans]
    assume(neighbours)
    for over in neighbours:
        added = spans[over + 1] - spans[over]
        assert added == pytest.approx(math.pi * math.cos(form.rack.pressure_angle), abs=1e-12, rel=0)


@settings(max_examples=60, deadline=None)
@given(forms())
def test_base_pitch_is_that_of_the_rack(form):
    """Source: law of gearing.

    Gear and rack of one system have the same base pitch, pi cos(pressure angle).
    """
    try:
        measured = base_pitch(form)
    except ValueError as error:
        assert "shorter than one base pitch" in str(error)
        low, high = form.flank_range
        assert form.base_radius * (high - low) < math.pi * math.cos(form.rack.pressure_angle) + 1e-12
    else:
        assert measured == pytest.approx(math.pi * math.cos(form.rack.pressure_angle), abs=1e-12, rel=0)


def test_base_pitch_at_20_degrees():
    """Source: base-tangent length note, constants for 20 degrees (coefficient of k - 0.5)."""
    assert base_pitch(ToothForm(45, STANDARD)) == pytest.approx(2.9521, abs=5.1e-5, rel=0)


def test_circles_that_miss_the_flank_are_refused():
    form = ToothForm(20, STANDARD)
    for radius in (form.form_radius - 1e-6, form.tip_radius + 1e-6, -10.0):
        with pytest.raises(ValueError, match="misses the flank, which runs from 9.41.* to 11.0"):
            thickness(form, radius)
    for radius in (math.nan, math.inf, "10", None, True):
        with pytest.raises(ValueError, match="radius = .* Give a finite number"):
            thickness(form, radius)
    assert thickness(form, form.tip_radius) == pytest.approx(
        2 * form.tip_range[1] * form.tip_radius, abs=1e-12
    )
    assert thickness(form, form.form_radius) > 1.5


def test_spans_that_touch_no_flanks_are_refused_and_the_possible_ones_named():
    form = ToothForm(24, STANDARD)
    for over in (0, 1, 9, 24, 2.5, math.nan, math.inf, "3", None, True):
        with pytest.raises(ValueError, match="Possible here: 2, 3, 4"):
            span(form, over)


def test_too_short_a_flank_has_no_base_pitch():
    with pytest.raises(ValueError, match="shorter than one base pitch"):
        base_pitch(ToothForm(6, STANDARD))


def test_a_ring_is_measured_from_inside():
    ring = InternalToothForm(72, STANDARD, thinning=0.05)
    # half a pitch less the thinning
    assert thickness(ring, 36.0) == pytest.approx(math.pi / 2 - 0.05, abs=1e-12)
    with pytest.raises(ValueError, match="misses the flank, which runs from 35.0* to 37"):
        thickness(ring, 34.0)
    with pytest.raises(ValueError, match="jaws cannot reach round the teeth of an internal gear"):
        span(ring, 3)
