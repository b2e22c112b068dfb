"""Areas in which two gears overlap.

Against whole outlines cut by shapely, and an integral that knows no polygon.
"""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from teeth import STANDARD, USUAL, existing

from gearlab.shape import ToothForm
from gearlab.shape.internal import InternalToothForm
from gearlab.shape.overlap import overlap_area, overlaps
from gearlab.shape.side import Side

CLOSE = 1e-4  # modules squared


def whole(form, turn, place):
    """All of a gear as a polygon; of a ring a disc with the hole in it."""
    cosine, sine = math.cos(turn), math.sin(turn)
    outline = form.outline(1e-6) @ np.array(((cosine, sine), (-sine, cosine))) + place
    if not form.internal:
        return shapely.Polygon(outline)
    return shapely.Polygon(
        shapely.Point(place).buffer(form.root_radius + 2.0, quad_segs=256).exterior.coords, [outline]
    )


@st.composite
def placed(draw):
    """A pair anywhere on any line: jammed, with play, at rest or tooth on tooth."""
    rack, count = draw(st.sampled_from(USUAL)), draw(st.integers(8, 70))
    one = existing(ToothForm, count, rack, draw(st.floats(0.0, 0.4)))
    if draw(st.booleans()):
        two = existing(InternalToothForm, count + draw(st.integers(8, 120)), rack, 0.0, 0.0, 0.2)
        distance = (two.teeth - one.teeth) / 2
    else:
        two = existing(ToothForm, draw(st.integers(8, 150)), rack, draw(st.floats(0.0, 0.4)))
        distance = (one.teeth + two.teeth) / 2
    return (one, two, distance + draw(st.floats(-0.1, 0.3)), *(draw(st.floats(-7.0, 7.0)) for _ in range(3)))


@settings(max_examples=25)
@given(placed())
def test_area_is_that_of_the_whole_outlines(pair):
    """Reference library: shapely, on all teeth of both gears."""
    one, two, distance, first, second, line = pair
    place = np.array((distance * math.cos(line), distance * math.sin(line)))
    expected = shapely.intersection(whole(one, first, np.zeros(2)), whole(two, second, place)).area
    assert overlap_area(*pair) == pytest.approx(expected, abs=CLOSE, rel=0)
    pieces = overlaps(*pair)  # for pictures: chords of 1e-4
    assert sum(shapely.Polygon(piece).area for piece in pieces) == pytest.approx(expected, abs=5e-3, rel=0)


@pytest.mark.parametrize(
    "one, two, distance, first, second",
    [
        (ToothForm(18, STANDARD), ToothForm(45, STANDARD), 31.5, 0.0, 0.05),
        (ToothForm(18, STANDARD), ToothForm(45, STANDARD), 31.4, 0.3, -0.12),
        (ToothForm(9, STANDARD, 0.3), ToothForm(60, USUAL[0]), 34.6, 0.1, 0.03),
    ],
)
def test_area_is_that_of_an_integral_over_circles(one, two, distance, first, second):
    """Independent route.

    On circles about the driver's centre, the arcs that lie in teeth of both gears, by half angles of the
    teeth on the exact curves.
    """

    def half_angle(form):
        side = Side(form)
        radii = np.linspace(form.root_radius, form.tip_radius, 20_001)
        angles = side.evaluate(side.at_radius(radii)).angle
        return lambda radius: np.where(
            radius <= form.root_radius, form.pitch_angle, np.interp(radius, radii, angles)
        )

    def inside(form, wide, radius, angle):
        """How far a point is inside the nearest tooth, beside its flank or below its tip.

        Below 0 it lies outside.
        """
        beside = wide(radius) - np.abs(
            np.remainder(angle + form.pitch_angle / 2, form.pitch_angle) - form.pitch_angle / 2
        )
        return np.minimum(beside, 1.0 - radius / form.tip_radius)

    reach = (
        math.acos((one.tip_radius**2 + distance**2 - two.tip_radius**2) / (2 * distance * one.tip_radius))
        + 0.05
    )
    angles = np.linspace(-reach, reach, 4_001)
    radii = np.linspace(distance - two.tip_radius, one.tip_radius, 601)
    radii = (radii[1:] + radii[:-1]) / 2
    mine, other, area = half_angle(one), half_angle(two), 0.0
    for radius in radii:
        x, y = radius * np.cos(angles) - distance, radius * np.sin(angles)
        deep = np.minimum(
            inside(one, mine, np.full_like(angles, radius), angles - first),
            inside(two, other, np.hypot(x, y), np.arctan2(y, x) - second),
        )
        low, high = np.minimum(deep[1:], deep[:-1]), np.maximum(deep[1:], deep[:-1])
        # of a step, where the edge is crossed
        share = np.where(low >= 0, 1.0, np.where(high <= 0, 0.0, high / np.maximum(high - low, 1e-300)))
        area += radius * share.sum()
    area *= (angles[1] - angles[0]) * (one.tip_radius - distance + two.tip_radius) / len(radii)
    assert area > 0.05
    assert overlap_area(one, two, distance, first, second) == pytest.approx(area, abs=CLOSE, rel=0)


def test_touching_is_not_overlapping():
    """Gears at their reference distance touch without play.

    Not one piece is in both, though chords of hollow flanks cut corners.
    """
    for one, two, distance in (
        (ToothForm(18, STANDARD), ToothForm(45, STANDARD), 31.5),
        (ToothForm(18, STANDARD), InternalToothForm(72, STANDARD, tip_shortening=0.3), 27.0),
    ):
        for turn in np.linspace(0.0, one.pitch_angle, 7):
            meet = math.pi if two.internal else 0.0
            other = (
                math.pi
                + two.pitch_angle / 2
                + (1 if two.internal else -1) * (turn - meet) * one.teeth / two.teeth
            )
            assert (
                overlap_area(one, two, distance, turn, other) == 0.0
                and overlaps(one, two, distance, turn, other) == []
            )


@pytest.mark.parametrize(
    "place, value, words",
    [
        (0, InternalToothForm(72, STANDARD), "rolling turns the pinion"),
        (2, math.nan, "centre_distance"),
        (3, "0", "driver_angle"),
        (4, math.inf, "driven_angle"),
        (5, None, "line_angle"),
    ],
)
def test_what_cannot_be_placed_is_refused(place, value, words):
    given_ = [ToothForm(18, STANDARD), ToothForm(45, STANDARD), 31.5, 0.0, 0.0, 0.0]
    given_[place] = value
    with pytest.raises(ValueError, match=words):
        overlap_area(*given_)


def test_gears_out_of_reach_do_not_overlap():
    assert overlap_area(ToothForm(18, STANDARD), ToothForm(45, STANDARD), 34.0, 0.0, 0.1) == 0.0
    assert overlap_area(ToothForm(18, STANDARD), InternalToothForm(72, STANDARD), 0.0, 0.0, 0.1) == 0.0
