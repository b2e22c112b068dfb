"""Internal gears: the ring as its counterpart's space, its outline, and a pinion rolling inside it."""

import math
import re

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from teeth import STANDARD, SYSTEMS, any_racks, rings

from gearlab.shape import Rack, ToothForm
from gearlab.shape.internal import InternalToothForm
from gearlab.shape.rolling import Rolling


@settings(max_examples=60, deadline=None)
@given(rings())
def test_the_space_is_the_tooth_of_the_external_counterpart(ring):
    """Source: ISO 21771 (internal gears).

    Flanks of the ring and of the external gear of the same rack and shift coincide.
    """
    # only the involute between the two flank ends is compared
    outer = Rack(ring.rack.pressure_angle, 0.5, 1.0, 0.1)
    try:
        mate = ToothForm(ring.teeth, outer, ring.profile_shift)
    except ValueError:
        assume(False)
    u = np.linspace(
        max(mate.flank_range[0], ring.flank_range[1]), min(mate.flank_range[1], ring.flank_range[0]), 7
    )
    assume(u[0] < u[-1])
    turn = math.pi / ring.teeth - ring.thinning / ring.teeth  # thinning opens the space on either side
    points, normals = (values[:, 0] + 1j * values[:, 1] for values in mate.flank(u, -1))
    mine, facing = (values[:, 0] + 1j * values[:, 1] for values in ring.flank(u, 1))
    assert np.abs(mine - points * np.exp(1j * turn)).max() < 1e-11
    assert np.abs(facing + normals * np.exp(1j * turn)).max() < 1e-12


@settings(max_examples=60, deadline=None)
@given(rings())
def test_curves_join_smoothly_and_normals_point_into_the_space(ring):
    form, tip = ring.flank_range
    for side in (1, -1):
        assert math.dist(ring.tip(side * ring.tip_range[1])[0], ring.flank(tip, side)[0]) < 1e-11
        for one, two in zip(ring.fillet(ring.fillet_range[1], side), ring.flank(form, side), strict=True):
            assert math.dist(one, two) < 1e-10
    for one, two in zip(ring.root(ring.root_range[0]), ring.fillet(0.0), strict=True):
        assert math.dist(one, two) < 1e-10
    hole = shapely.Polygon(ring.outline(1e-5))
    for curve, limits in (
        (ring.flank, ring.flank_range),
        (ring.fillet, ring.fillet_range),
        (ring.tip, ring.tip_range),
    ):
        points, normals = curve(np.linspace(*limits, 7)[1:-1])
        assert shapely.contains_xy(hole, points + 5e-5 * normals).all()
        assert not shapely.contains_xy(hole, points - 5e-5 * normals).any()


@settings(max_examples=40, deadline=None)
@given(rings(), st.sampled_from((1e-2, 1e-4)))
def test_outline_is_closed_simple_and_within_the_tolerance(ring, tolerance):
    outline = ring.outline(tolerance)
    assert (outline[0] == outline[-1]).all()
    line = shapely.LinearRing(outline)
    assert line.is_simple and line.is_ccw
    radii = np.hypot(*outline.T)
    assert radii.min() == pytest.approx(ring.tip_radius, abs=1e-11) and radii.max() == pytest.approx(
        ring.root_radius, abs=1e-11
    )
    tooth = shapely.LineString(ring.tooth_points(tolerance))
    for curve, limits in (
        (ring.flank, ring.flank_range),
        (ring.fillet, ring.fillet_range),
        (ring.tip, ring.tip_range),
    ):
        errors = shapely.distance(tooth, shapely.points(curve(np.linspace(*limits, 301))[0]))
        assert errors.max() <= tolerance * (1 + 1e-9) + 1e-12


@pytest.mark.parametrize("rack, least", [(STANDARD, 34), (SYSTEMS["stub 20"], 27)])
def test_tip_circle_outside_the_base_circle(rack, least):
    """Source: z > 2 h / (1 - cos 20).

    Least ring teeth 34 at full depth (Elements of Metric Gear Technology), 27 at 0.8 (the formula).
    """
    InternalToothForm(least, rack)
    with pytest.raises(ValueError, match=f"inside the base circle .*teeth must be at least {least}.$"):
        InternalToothForm(least - 1, rack)


@pytest.mark.parametrize(
    "given_, words",
    [
        ({"teeth": 72, "fillet_radius": 0.9}, "full round"),
        ({"teeth": 72, "fillet_radius": 0.0}, "full round"),
        ({"teeth": 72, "tip_shortening": 3.0}, "root circle"),
        ({"teeth": 72, "thinning": 2.0}, "no tooth is left"),
        ({"teeth": 72, "thinning": 1.5}, "come to a point"),
        ({"teeth": 40.5}, "whole number"),
        ({"teeth": 72, "thinning": -0.1}, "thinning"),
    ],
)
def test_rings_that_cannot_be_cut_are_refused(given_, words):
    with pytest.raises(ValueError, match=words):
        InternalToothForm(**{"rack": STANDARD, **given_})


@settings(max_examples=40)
@given(st.integers(8, 120), any_racks, st.floats(-2.5, 3.0), st.floats(0.0, 2.0), st.floats(0.0, 2.5))
def test_every_ring_is_either_cut_or_explained_with_values_that_work(
    count, rack, shift, thinning, shortening
):
    given_ = {
        "teeth": count,
        "rack": rack,
        "profile_shift": shift,
        "thinning": thinning,
        "tip_shortening": shortening,
    }
    try:
        assert shapely.LinearRing(InternalToothForm(**given_).outline(1e-3)).is_simple
    except ValueError as error:
        said = str(error)
        assert "cannot be cut: " in said and "To get a ring, " in said
        for name, side, limit, good in re.findall(
            r"(\w+) must lie (below|above) (-?[\d.]+) modules \((-?[\d.]+) works\)", said
        ):
            InternalToothForm(**{**given_, name: float(good)})
            with pytest.raises(ValueError):
                InternalToothForm(**{**given_, name: float(limit) + (0.001 if side == "below" else -0.001)})
        for least in re.findall(r"teeth must be at least (\d+)", said):
            InternalToothForm(**{**given_, "teeth": int(least)})


# A ring's tip must stay outside the pinion's tangent point (common practice): shortened here so that it does.
PAIRS = [(18, 72, 0.3), (24, 60, 0.3), (30, 120, 0.2)]


@pytest.mark.parametrize("one, two, shortening", PAIRS)
def test_a_pinion_rolls_in_the_ring(one, two, shortening):
    """Sources: contact ratio of an internal pair, ISO 21771 (string lengths to the two tip circles).

    Law of gearing; thinning is backlash.
    """
    pair = Rolling(
        ToothForm(one, STANDARD),
        InternalToothForm(two, STANDARD, thinning=0.03, tip_shortening=shortening),
        (two - one) / 2,
    )
    base, sine = math.cos(math.radians(20)), math.sin(math.radians(20))
    strings = [
        math.sqrt(tip**2 - (count / 2 * base) ** 2)
        for tip, count in ((one / 2 + 1, one), (two / 2 - 1 + shortening, two))
    ]
    expected = (strings[0] - strings[1] + (two - one) / 2 * sine) / (math.pi * base)
    assert pair.path().start_by == "driven tip" and pair.path().end_by == "driver tip"
    assert pair.contact_ratio() == pytest.approx(expected, abs=1e-10)
    assert pair.interference() == 0.0
    assert pair.backlash(two / 2) == pytest.approx(0.03, abs=1e-11)
    turns = np.linspace(-0.2, 0.2 + pair.driver.pitch_angle, 17)
    for direction in (1, -1):
        assert np.ptp(pair.driven_angle(turns, direction) - one / two * turns) < 1e-11
    contact = pair.contact(0.1)
    if "tip" not in (
        contact.driver_curve,
        contact.driven_curve,
    ):  # a corner of a tip has no normal of its own
        assert contact.ratio == pytest.approx(two / one, rel=1e-9)


@pytest.mark.parametrize("one, two, shortening", PAIRS[:2])
def test_pinion_and_ring_touch_where_polygons_do(one, two, shortening):
    """Independent route.

    The pinion's polygon leaves the hole's polygon when the ring is turned past the limits, not before.
    """
    pair = Rolling(
        ToothForm(one, STANDARD),
        InternalToothForm(two, STANDARD, thinning=0.03, tip_shortening=shortening),
        (two - one) / 2,
    )
    pinion, hole = (form.outline(1e-7) for form in (pair.driver, pair.driven))
    step = 3e-5 / (two / 2)
    for angle in (0.0, 0.05, 0.17):
        driver = shapely.Polygon(turned(pinion, angle))
        low, high = sorted(pair.driven_angle(angle, direction) for direction in (1, -1))
        for place, touches in (
            (low + step, False),
            (low - step, True),
            (high - step, False),
            (high + step, True),
        ):
            space = shapely.Polygon(turned(hole, place) + (pair.centre_distance, 0.0))
            assert (shapely.difference(driver, space).area > 1e-9) == touches


def turned(points, angle):
    cosine, sine = math.cos(angle), math.sin(angle)
    return points @ np.array(((cosine, sine), (-sine, cosine)))


def test_a_full_depth_ring_digs_into_a_small_pinion():
    """Source: common practice.

    Tips of a full-depth ring pass the tangent point on a small pinion and dig into its root.
    """
    pair = Rolling(ToothForm(18, STANDARD), InternalToothForm(72, STANDARD, thinning=0.05), 27.0)
    assert pair.path().start_by == "driver form circle" and pair.interference() > 1e-3


@settings(max_examples=25, deadline=None)
@given(st.integers(12, 120), st.integers(4, 150), st.floats(0.2, 0.4))
def test_contact_ratio_in_any_ring(one, more, shortening):
    """Source: ISO 21771, transverse contact ratio of an internal pair, also where the ring is hardly larger
    than the pinion.
    """
    two = one + more
    assume(two >= 34)
    pair = Rolling(
        ToothForm(one, STANDARD), InternalToothForm(two, STANDARD, tip_shortening=shortening), more / 2
    )
    try:
        path = pair.path()
    except ValueError:
        assume(False)
    assume((path.start_by, path.end_by) == ("driven tip", "driver tip"))
    base, sine = math.cos(math.radians(20)), math.sin(math.radians(20))
    strings = [
        math.sqrt(tip**2 - (count / 2 * base) ** 2)
        for tip, count in ((one / 2 + 1, one), (two / 2 - 1 + shortening, two))
    ]
    assert pair.contact_ratio() == pytest.approx(
        (strings[0] - strings[1] + more / 2 * sine) / (math.pi * base), abs=1e-9
    )


@pytest.mark.parametrize("more", [5, 6, 7, 12])
def test_too_few_teeth_between_pinion_and_ring_foul(more):
    """Independent route: polygons under even motion overlap exactly where the tips are said to foul."""
    pair = Rolling(
        ToothForm(30, STANDARD),
        InternalToothForm(30 + more, STANDARD, thinning=0.05, tip_shortening=0.25),
        more / 2,
    )
    path, rate, area = pair.path(), 30 / (30 + more), 0.0
    for turn in np.linspace(0.0, pair.driver.pitch_angle, 6):
        pinion = shapely.Polygon(turned(pair.driver.outline(1e-4), math.pi + path.start_turn + turn))
        ring_turn = math.pi - (path.start_rest - rate * turn) + 1e-4  # a hair off the driving flank
        area = max(
            area,
            shapely.difference(
                pinion, shapely.Polygon(turned(pair.driven.outline(1e-4), ring_turn) + (more / 2, 0.0))
            ).area,
        )
    assert (area > 1e-4) == (pair.interference() > 0.0) == (more < 7)
