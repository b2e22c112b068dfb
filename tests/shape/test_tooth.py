"""The cut tooth against exact curves in mpmath, the rack itself, the undercut limit, and its mate."""

import ast
import math
import pathlib
import re
import time

import mpmath
import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

import gearlab.shape
from gearlab.shape import Rack, ToothForm

# Source of the proportions: ISO 53:1998 profile A (full depth 20); stub and 25 degrees after AGMA and
# common practice; 14.5 degrees after the Brown & Sharpe system (from memory).
SYSTEMS = {
    "full depth 20": Rack(math.radians(20), 1.0, 1.25, 0.38),
    "full depth 14.5": Rack(math.radians(14.5), 1.0, 1.157, 0.209),
    "full depth 25": Rack(math.radians(25), 1.0, 1.25, 0.30),
    "stub 20": Rack(math.radians(20), 0.8, 1.0, 0.30),
    "full round 20": Rack(math.radians(20), 1.0, 1.4, Rack(math.radians(20), 1.0, 1.4, 0.0).full_round()),
    "sharp tool 20": Rack(math.radians(20), 1.0, 1.25, 0.0),
}
STANDARD = SYSTEMS["full depth 20"]

teeth = st.one_of(st.integers(6, 40), st.integers(6, 500))
racks = st.sampled_from(list(SYSTEMS.values()))
shifts = st.floats(-0.6, 1.0)


@st.composite
def forms(draw):
    """Teeth that exist, over counts, systems, shifts, thinning and tip shortening."""
    try:
        return ToothForm(
            draw(teeth), draw(racks), draw(shifts), draw(st.sampled_from((0.0, 0.05))), draw(st.sampled_from((0.0, 0.1)))
        )
    except ValueError:
        assume(False)


def undercut_limit(rack, shift):
    """Tooth count below which the rack undercuts. Source: AGMA 913 and ISO 21771 (limit of undercut with the
    end of the tool's straight flank in place of its tip line); the usual 17.1 is its special case."""
    sine = math.sin(rack.pressure_angle)
    return 2 * (rack.dedendum - rack.tip_radius * (1 - sine) - shift) / sine**2


def distance_to_tool(form, points, roll):
    """Signed distance of gear points to the rack tool when the gear has rolled by `roll`; below 0 is inside.

    `roll` is one angle for all points or one for each.

    Independent route: built from the rack's drawing alone. Roll the gear back, shift the pitch line by the
    same arc, fold the points into half a tool tooth, and measure to that straight-sided tooth whose
    corner is rounded.
    """
    rack, r = form.rack, form.teeth / 2
    phi, rho = rack.pressure_angle, rack.tip_radius
    cosine, sine = np.cos(roll), np.sin(roll)
    height = cosine * points[:, 0] + sine * points[:, 1] - r
    along = -sine * points[:, 0] + cosine * points[:, 1] + r * roll
    along = np.abs((along - math.pi / 2 + math.pi / 2) % math.pi - math.pi / 2)  # tool teeth stand at pi/2 + n pi
    tip_line = form.profile_shift - rack.dedendum
    half_tip = math.pi / 4 + form.thinning / 2 - rack.dedendum * math.tan(phi)
    corner = half_tip - rho * math.tan(math.pi / 4 - phi / 2)
    down = (tip_line + rho) - height  # beyond the core's lower edge
    aside = (along - corner) * math.cos(phi) + down * math.sin(phi)  # beyond the core's slanting edge
    by_corner = (down * math.cos(phi) - (along - corner) * math.sin(phi) < 0) | (along < corner)
    core = np.where(by_corner, np.maximum(down, aside), np.hypot(down, along - corner))
    return core - rho


# --- the curves -----------------------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(forms())
def test_flank_is_the_exact_involute(form):
    """Reference library: mpmath, polar form of the involute with the thickness the rack leaves."""
    rolls = np.linspace(*form.flank_range, 7)
    for side in (1, -1):
        points, normals = form.flank(rolls, side)
        for roll, point, normal in zip(rolls, points, normals, strict=True):
            with mpmath.workdps(40):
                phi = mpmath.mpf(form.rack.pressure_angle)
                thickness = mpmath.pi / 2 + 2 * mpmath.mpf(form.profile_shift) * mpmath.tan(phi) - mpmath.mpf(form.thinning)
                alpha = mpmath.atan(mpmath.mpf(roll))
                radius = form.teeth * mpmath.cos(phi) / 2 / mpmath.cos(alpha)
                angle = thickness / form.teeth + (mpmath.tan(phi) - phi) - (mpmath.tan(alpha) - alpha)
                exact = float(radius * mpmath.cos(angle)), float(radius * mpmath.sin(angle)) * side
                facing = angle + mpmath.pi / 2 - alpha
                exact_normal = float(mpmath.cos(facing)), float(mpmath.sin(facing)) * side
            assert math.dist(point, exact) < 1e-12
            assert math.dist(normal, exact_normal) < 1e-13


@settings(max_examples=150, deadline=None)
@given(forms())
def test_curves_join_end_to_end(form):
    tip, flank, fillet, root = form.tip_range, form.flank_range, form.fillet_range, form.root_range
    for side in (1, -1):
        top, bottom = form.flank(flank[1], side), form.flank(flank[0], side)
        assert math.dist(form.tip(side * tip[1])[0], top[0]) < 1e-12
        assert math.dist(form.fillet(fillet[1], side)[0], bottom[0]) < 1e-12
    assert math.dist(form.root(root[0])[0], form.fillet(fillet[0])[0]) < 1e-12
    assert math.dist(form.root(root[0])[1], form.fillet(fillet[0])[1]) < 1e-12
    if not form.undercut:  # then the fillet runs into the flank without a corner
        assert math.dist(form.fillet(fillet[1])[1], form.flank(flank[0])[1]) < 1e-12
    assert math.hypot(*form.flank(flank[0])[0]) == pytest.approx(form.form_radius, abs=1e-12, rel=0)


@settings(max_examples=80, deadline=None)
@given(forms())
def test_normals_are_square_to_the_curves_and_point_out(form):
    """Independent route: central differences of the points; a step along the normal leaves the polygon."""
    gear = shapely.Polygon(form.outline(1e-5))
    for curve, limits in ((form.flank, form.flank_range), (form.fillet, form.fillet_range)):
        low, high = limits
        places = np.linspace(low, high, 9)[1:-1]
        step = 1e-4 * (high - low)
        points, normals = curve(places)
        tangent = curve(places + step)[0] - curve(places - step)[0]
        assert np.allclose(np.hypot(*normals.T), 1.0, rtol=0, atol=1e-14)
        slope = (tangent * normals).sum(axis=1) / np.hypot(*tangent.T)
        assert np.abs(slope).max() < 1e-6
        assert not shapely.contains_xy(gear, points + 5e-5 * normals).any()
        assert shapely.contains_xy(gear, points - 5e-5 * normals).all()


@settings(max_examples=60, deadline=None)
@given(forms(), st.sampled_from((1e-2, 1e-3, 1e-4, 1e-5)))
def test_chords_keep_within_the_tolerance(form, tolerance):
    polygon = shapely.LineString(form.tooth_points(tolerance))
    curves = [
        form.tip(np.linspace(*form.tip_range, 301))[0],
        form.root(np.linspace(form.root_range[0], math.pi / form.teeth, 301))[0],
        form.flank(np.linspace(*form.flank_range, 1501))[0],
        form.flank(np.linspace(*form.flank_range, 1501), -1)[0],
        form.fillet(np.linspace(*form.fillet_range, 1501))[0],
        form.fillet(np.linspace(*form.fillet_range, 1501), -1)[0],
    ]
    errors = shapely.distance(polygon, shapely.points(np.concatenate(curves)))
    assert errors.max() <= tolerance * (1 + 1e-9) + 1e-12


def test_chords_keep_within_the_tolerance_where_the_fillet_turns_from_hollow_to_round():
    """A far shifted tooth: the round's centre lies above the pitch line, and the fillet has an inflection."""
    form = ToothForm(137, Rack(0.164, 1.16, 0.62, 0.36), 2.02, 0.34, 0.16)
    assert form.generated_fillet.centre_height > 0
    for tolerance in (1e-3, 1e-4, 1e-5):
        fillet = form.fillet(np.linspace(*form.fillet_range, 4001))[0]
        assert shapely.distance(shapely.LineString(form.tooth_points(tolerance)), shapely.points(fillet)).max() <= tolerance


# --- the outline ----------------------------------------------------------------------------------


@settings(max_examples=150, deadline=None)
@given(forms(), st.sampled_from((0.05, 1e-2, 1e-3, 1e-4)))
def test_outline_is_closed_simple_and_counter_clockwise(form, tolerance):
    outline = form.outline(tolerance)
    assert outline.ndim == 2 and outline.shape[1] == 2
    assert (outline[0] == outline[-1]).all()
    ring = shapely.LinearRing(outline)
    assert ring.is_simple and ring.is_ccw
    radii = np.hypot(*outline.T)
    assert radii.max() == pytest.approx(form.tip_radius, abs=1e-12, rel=0)
    assert radii.min() == pytest.approx(form.root_radius, abs=1e-12, rel=0)
    assert np.hypot(*np.diff(outline, axis=0).T).min() > 1e-10  # no point twice


@pytest.mark.parametrize("count", [6, 7, 17, 18, 45, 60, 500])
def test_tooth_points_are_one_pitch_centred_on_the_x_axis(count):
    form = ToothForm(count, STANDARD)
    points = form.tooth_points()
    assert np.allclose(points[::-1] * (1, -1), points, rtol=0, atol=1e-12)
    angles = np.arctan2(points[:, 1], points[:, 0])
    assert angles[-1] == pytest.approx(math.pi / count, abs=1e-14) and angles[0] == pytest.approx(-math.pi / count, abs=1e-14)
    assert any((point == (form.tip_radius, 0.0)).all() for point in points)
    assert len(form.outline()) == count * (len(points) - 1) + 1
    points[:] = 0.0  # a caller's array is its own
    assert form.tooth_points().any()


def test_area_agrees_with_the_integral_along_the_curves():
    """Independent route: area = half the closed integral of x dy - y dx, by Simpson's rule on each exact curve."""
    form = ToothForm(18, STANDARD, 0.1)

    def swept(curve, limits):
        places = np.linspace(*limits, 2001)
        (x, y), step = curve(places)[0].T, (limits[1] - limits[0]) / 2000
        turned = x * np.gradient(y, step, edge_order=2) - y * np.gradient(x, step, edge_order=2)
        weights = np.ones(2001)
        weights[1:-1:2], weights[2:-1:2] = 4.0, 2.0
        return abs((turned * weights).sum() * step / 3) / 2

    arcs = (form.tip_range[1] * form.tip_radius**2 + (math.pi / 18 - form.root_range[0]) * form.root_radius**2) / 2
    half_tooth = arcs + swept(form.flank, form.flank_range) + swept(form.fillet, form.fillet_range)
    assert shapely.Polygon(form.outline(1e-8)).area == pytest.approx(36 * half_tooth, rel=1e-6)


def test_outline_of_60_teeth_takes_a_millisecond():
    """Budget: 1 ms for a new 60-tooth gear at the default tolerance. The least of many is the machine's own."""
    times = []
    for k in range(40):
        start = time.perf_counter()
        ToothForm(60, STANDARD, k * 1e-4).outline()
        times.append(time.perf_counter() - start)
    assert min(times) < 1e-3


# --- cut by the rack ------------------------------------------------------------------------------


@settings(max_examples=40, deadline=None)
@given(forms())
def test_rack_never_cuts_into_the_outline_and_touches_all_of_it(form):
    """Independent route: sweep the rack through many positions and measure its distance to the outline."""
    points = np.concatenate((
        form.flank(np.linspace(*form.flank_range, 25))[0],
        form.fillet(np.linspace(*form.fillet_range, 25))[0],
        form.root(np.linspace(form.root_range[0], math.pi / form.teeth, 5))[0],
    ))  # fmt: skip
    reach = 6.0 / form.teeth + 0.6  # beyond this the tool is out of the gear
    rolls = np.linspace(-reach, reach, 1601)
    step = rolls[1] - rolls[0]
    distances = np.stack([distance_to_tool(form, points, roll) for roll in rolls])
    tip = form.tip(np.linspace(*form.tip_range, 9))[0]
    assert min(distance_to_tool(form, tip, roll).min() for roll in rolls) > -1e-12
    assert distances.min() > -1e-12
    # Closing in on each point's nearest roll: the outline is touched, not merely cleared.
    low = rolls[distances.argmin(axis=0)] - step
    for _ in range(12):
        fan = low + np.linspace(0, 2 * step, 9)[:, None]  # rolls of its own for every point
        near = np.stack([distance_to_tool(form, points, row) for row in fan])
        assert near.min() > -1e-12
        low = fan[near.argmin(axis=0), np.arange(len(points))] - step / 4
        step /= 4
    assert near.min(axis=0).max() < 1e-9


# --- form radius and undercut ---------------------------------------------------------------------


@settings(max_examples=100, deadline=None)
@given(forms())
def test_form_radius_without_undercut(form):
    """Source: form radius of a rack-cut gear, Buckingham, Analytical Mechanics of Gears (from memory)."""
    assume(not form.undercut)
    rack = form.rack
    sine = math.sin(rack.pressure_angle)
    depth = rack.dedendum - rack.tip_radius * (1 - sine) - form.profile_shift
    along = form.teeth / 2 * sine - depth / sine
    assert form.form_radius == pytest.approx(math.hypot(form.base_radius, along), abs=1e-12, rel=0)


def exact_meeting(form, tilt, roll):
    """Fillet and involute solved together in 50 digits, in the usual roll-angle form of the trochoid.

    Reference library: mpmath. The centre of the tool's round traces a trochoid; the fillet runs at the
    round's radius beside it, on the side away from the pitch point.
    """
    with mpmath.workdps(50):
        rack, z = form.rack, form.teeth
        phi, rho, shift = mpmath.mpf(rack.pressure_angle), mpmath.mpf(rack.tip_radius), mpmath.mpf(form.profile_shift)
        half_tip = mpmath.pi / 4 + mpmath.mpf(form.thinning) / 2 - mpmath.mpf(rack.dedendum) * mpmath.tan(phi)
        offset = mpmath.pi / 2 - half_tip + rho * (1 - mpmath.sin(phi)) / mpmath.cos(phi)
        height = shift - mpmath.mpf(rack.dedendum) + rho
        r, base = mpmath.mpf(z) / 2, mpmath.mpf(z) / 2 * mpmath.cos(phi)
        start = (mpmath.pi / 2 + 2 * shift * mpmath.tan(phi) - mpmath.mpf(form.thinning)) / z + mpmath.tan(phi) - phi

        def fillet(theta):
            along = offset - r * theta
            length = mpmath.sqrt(height**2 + along**2)
            h, s = height * (1 + rho / length), along * (1 + rho / length)
            return (r + h) * mpmath.expj(theta) + s * 1j * mpmath.expj(theta)

        def gap(theta, u):
            difference = fillet(theta) - base * (1 + 1j * u) * mpmath.expj(start - u)
            return difference.real, difference.imag

        theta = (offset - height * mpmath.tan(mpmath.mpf(tilt))) / r
        theta, u = mpmath.findroot(gap, (theta, mpmath.mpf(roll)), tol=1e-60, maxsteps=60)
        return fillet(theta), u, base * mpmath.sqrt(1 + u * u)


def least_shift(rack, count):
    """The shift at which the undercut limit equals the tooth count (the limit formula solved for the shift)."""
    sine = math.sin(rack.pressure_angle)
    return rack.dedendum - rack.tip_radius * (1 - sine) - count * sine**2 / 2


@settings(max_examples=60, deadline=None)
@given(st.integers(6, 30), racks, st.floats(-0.3, 0.6))
def test_form_radius_of_an_undercut_tooth(count, rack, shift):
    assume(rack.tip_radius > 0)
    try:
        form = ToothForm(count, rack, shift)
    except ValueError:
        assume(False)
    assume(form.undercut)
    assume(shift < least_shift(rack, count) - 1e-3)
    point, roll, radius = exact_meeting(form, form.fillet_range[1], form.flank_range[0])
    assert roll > 0
    assert form.form_radius == pytest.approx(float(radius), abs=1e-12, rel=0)
    assert math.dist(form.fillet(form.fillet_range[1])[0], (float(point.real), float(point.imag))) < 1e-12
    assert math.dist(form.flank(form.flank_range[0])[0], (float(point.real), float(point.imag))) < 1e-12


@pytest.mark.parametrize("exponent", range(1, 13))
@pytest.mark.parametrize("count", [8, 14, 16])
def test_meeting_point_close_to_the_undercut_limit(count, exponent):
    """The crossing closes in on the base circle, where a coarse search misses it. Reference library: mpmath."""
    form = ToothForm(count, STANDARD, least_shift(STANDARD, count) - 10.0**-exponent, tip_shortening=0.4)
    assert form.undercut
    assert form.flank_range[0] > 0
    assert form.base_radius <= form.form_radius < form.base_radius + 30 * 10.0 ** (-2 * exponent) + 1e-14
    assert math.dist(form.fillet(form.fillet_range[1])[0], form.flank(form.flank_range[0])[0]) < 1e-14 * count
    _, roll, radius = exact_meeting(form, form.fillet_range[1], form.flank_range[0])
    assert form.form_radius == pytest.approx(float(radius), abs=3e-15, rel=0)
    if exponent <= 9:  # nearer, the last digits of the shift itself decide
        assert form.flank_range[0] == pytest.approx(float(roll), rel=1e-4)


@settings(max_examples=300, deadline=None)
@given(teeth, racks, shifts)
def test_undercut_appears_exactly_at_the_limit(count, rack, shift):
    limit = undercut_limit(rack, shift)
    assume(abs(count - limit) > 1e-6)
    try:
        form = ToothForm(count, rack, shift)
    except ValueError:
        assume(False)
    assert form.undercut == (count < limit)
    # What undercut means: the involute does not reach down to where the tool's flank would end it.
    corner = math.dist(form.fillet(form.fillet_range[1])[1], form.flank(form.flank_range[0])[1])
    assert (corner > 1e-9) == form.undercut


@pytest.mark.parametrize("name", SYSTEMS)
def test_undercut_appears_within_a_millionth_of_a_tooth_of_the_limit(name):
    rack, tried = SYSTEMS[name], 0
    for count in range(6, 41):
        edge = least_shift(rack, count)
        aside = 1.1e-6 * math.sin(rack.pressure_angle) ** 2 / 2  # so that the limit lies 1.1e-6 teeth away
        try:
            below, above = (ToothForm(count, rack, edge + off, tip_shortening=0.3) for off in (-aside, aside))
        except ValueError:
            continue
        assert below.undercut and not above.undercut
        assert undercut_limit(rack, below.profile_shift) > count > undercut_limit(rack, above.profile_shift)
        tried += 1
    assert tried > 15


# Source: least shift without undercut, Elements of Metric Gear Technology (1 - z sin^2(20)/2), from memory.
@pytest.mark.parametrize("count, printed", [(10, 0.415), (12, 0.298), (14, 0.181), (16, 0.064)])
def test_undercut_begins_at_the_printed_shift(count, printed):
    # The printed values hold for a tool whose straight flank ends one module below the datum line.
    rack = Rack(math.radians(20), 1.0, 1.25, 0.25 / (1 - math.sin(math.radians(20))))
    assert ToothForm(count, rack, printed - 0.0005, tip_shortening=0.2).undercut
    assert not ToothForm(count, rack, printed + 0.0005, tip_shortening=0.2).undercut


# Source: least teeth with a rack: 17.1 at 20 degrees (Shigley), 32 at 14.5 degrees (Elements of Metric Gear
# Technology), 12 at 25 degrees (Mott), 14 for 20-degree stub (Khurmi & Gupta); the next whole number is free.
@pytest.mark.parametrize("degrees, depth, last_undercut", [(20, 1.0, 17), (14.5, 1.0, 31), (25, 1.0, 11), (20, 0.8, 13)])
def test_least_teeth_without_undercut(degrees, depth, last_undercut):
    rack = Rack(math.radians(degrees), depth, depth, 0.0)
    assert ToothForm(last_undercut, rack).undercut
    assert not ToothForm(last_undercut + 1, rack).undercut


# --- the mate -------------------------------------------------------------------------------------


def overlap(driver, driven, phase, off=0.0):
    """Area in common of two gears at the exact centre distance; `off` slides the driven along its pitch circle."""
    distance = (driver.teeth + driven.teeth) / 2
    angle = phase * driver.pitch_angle
    mate = math.pi + driven.pitch_angle / 2 - angle * driver.teeth / driven.teeth + off / (driven.teeth / 2)
    return shapely.intersection(sector(driver, angle, 0.0), shapely.transform(
        sector(driven, mate, math.pi), lambda xy: xy + (distance, 0.0))).area  # fmt: skip


def sector(form, turn, facing):
    """Five teeth about the direction `facing` of a gear turned by `turn`, joined to the gear's centre."""
    tooth = form.tooth_points(1e-7)
    nearest = round((facing - turn) / form.pitch_angle)
    turns = turn + (nearest + np.arange(-2, 3)) * form.pitch_angle
    turned = np.exp(1j * turns)[:, None] * (tooth[:-1, 0] + 1j * tooth[:-1, 1])
    ring = np.append(turned.ravel(), 0.0)
    return shapely.Polygon(np.stack((ring.real, ring.imag), axis=-1))


PAIRS = [
    (ToothForm(18, STANDARD), ToothForm(45, STANDARD)),
    (ToothForm(20, STANDARD), ToothForm(20, STANDARD)),
    (ToothForm(24, STANDARD, 0.3), ToothForm(50, STANDARD, -0.3)),
    (ToothForm(40, SYSTEMS["full depth 14.5"]), ToothForm(61, SYSTEMS["full depth 14.5"])),
    (ToothForm(15, SYSTEMS["full depth 25"]), ToothForm(36, SYSTEMS["full depth 25"])),
    (ToothForm(16, SYSTEMS["stub 20"]), ToothForm(29, SYSTEMS["stub 20"])),
]


@pytest.mark.parametrize("driver, driven", PAIRS)
def test_mates_roll_without_overlap_and_without_play(driver, driven):
    """Law of gearing: over a whole cycle the mates touch (no overlap), and any play is taken up within 0.002."""
    assert len(driver.tooth_points(1e-7)) > 2 * 40
    for phase in np.linspace(-0.5, 0.5, 21):
        assert overlap(driver, driven, phase) < 1e-6
        assert overlap(driver, driven, phase, 0.002) > 1e-5
        assert overlap(driver, driven, phase, -0.002) > 1e-5


def test_thinned_teeth_have_that_much_play():
    """Source: backlash at the pitch circle is the sum of the thinnings (common practice)."""
    driver, driven = ToothForm(18, STANDARD, thinning=0.02), ToothForm(45, STANDARD, thinning=0.02)
    for phase in (0.0, 0.3):
        for off in (-0.0199, 0.0, 0.0199):
            assert overlap(driver, driven, phase, off) < 1e-6
        for off in (-0.0220, 0.0220):
            assert overlap(driver, driven, phase, off) > 1e-5


# --- what cannot be cut ---------------------------------------------------------------------------


@pytest.mark.parametrize("given_, words", [
    (dict(teeth=8, profile_shift=0.8), "meet in a point"),
    (dict(teeth=20, thinning=1.2), "meet in a point"),
    (dict(teeth=8, thinning=2.0), "nothing is left standing"),
    (dict(teeth=12, profile_shift=-1.6), "no involute is left"),
    (dict(teeth=20, tip_shortening=2.0), "no involute is left"),
    (dict(teeth=6, profile_shift=-2.0), "past the centre"),
    (dict(teeth=6, profile_shift=-0.85), "cuts the tooth off"),
])  # fmt: skip
def test_a_tooth_that_cannot_be_cut_is_explained_with_values_that_work(given_, words):
    given_ = {"rack": STANDARD, **given_}
    with pytest.raises(ValueError, match=words) as caught:
        ToothForm(**given_)
    remedies = re.findall(r"(\w+) must lie (below|above) (-?[\d.]+) modules \((-?[\d.]+) works\)", str(caught.value))
    least_teeth = re.findall(r"teeth must be at least (\d+)", str(caught.value))
    assert remedies or least_teeth
    for name, side, limit, good in remedies:
        ToothForm(**{**given_, name: float(good)})
        beyond = float(limit) + (0.001 if side == "below" else -0.001)
        with pytest.raises(ValueError):
            ToothForm(**{**given_, name: beyond})
    for count in least_teeth:
        ToothForm(**{**given_, "teeth": int(count)})


@settings(max_examples=60, deadline=None)
@given(st.integers(6, 60), racks, st.floats(-2.5, 3.0), st.floats(0.0, 2.0), st.floats(0.0, 2.0))
def test_every_tooth_is_either_cut_whole_or_explained(count, rack, shift, thinning, shortening):
    try:
        form = ToothForm(count, rack, shift, thinning, shortening)
    except ValueError as error:
        assert "To get a tooth" in str(error)
    else:
        assert shapely.LinearRing(form.outline(1e-3)).is_simple
        assert form.root_radius < form.form_radius < form.tip_radius


@pytest.mark.parametrize("count", [5, 501, 20.5, math.nan, True, -20, "20", None])
def test_tooth_counts_outside_6_to_500_are_refused(count):
    with pytest.raises(ValueError, match="whole number from 6 to 500"):
        ToothForm(count, STANDARD)


@pytest.mark.parametrize("name, value", [
    ("profile_shift", math.nan), ("profile_shift", math.inf), ("thinning", -0.1), ("tip_shortening", -0.1),
])  # fmt: skip
def test_lengths_out_of_range_are_refused(name, value):
    with pytest.raises(ValueError, match=name):
        ToothForm(20, STANDARD, **{name: value})


@pytest.mark.parametrize("tolerance", [0.0, -1e-4, 0.06, 1e-10, math.nan])
def test_tolerances_out_of_range_are_refused(tolerance):
    form = ToothForm(20, STANDARD)
    for lay in (form.outline, form.tooth_points):
        with pytest.raises(ValueError, match="tolerance"):
            lay(tolerance)


def test_parameters_off_a_curve_are_refused():
    form = ToothForm(20, STANDARD)
    for curve, limits in (
        (form.flank, form.flank_range), (form.fillet, form.fillet_range), (form.tip, form.tip_range), (form.root, form.root_range),
    ):  # fmt: skip
        for value in (limits[0] - 1e-6, limits[1] + 1e-6, math.nan):
            with pytest.raises(ValueError, match="leaves the curve"):
                curve(value)
    with pytest.raises(ValueError, match="side"):
        form.flank(form.flank_range[0], 0)


@pytest.mark.parametrize("change, words", [
    (dict(pressure_angle=20.0), "looks like degrees"),
    (dict(pressure_angle=0.01), "5 to 45 degrees"),
    (dict(addendum=2.2), "come to a point"),
    (dict(dedendum=2.2), "come to a point"),
    (dict(addendum=0.0), "addendum"),
    (dict(tip_radius=0.48), "full round"),
    (dict(tip_radius=-0.1), "tip_radius"),
    (dict(dedendum=math.nan), "finite"),
])  # fmt: skip
def test_racks_that_no_tool_can_have_are_refused(change, words):
    good = dict(pressure_angle=math.radians(20), addendum=1.0, dedendum=1.25, tip_radius=0.38)
    with pytest.raises(ValueError, match=words):
        Rack(**{**good, **change})


# Source: ISO 53:1998: profile A has 0.38 (0.25 clearance under the round), profile D a full round of 0.39;
# full round at dedendum 1.25 about 0.47 (from memory of DIN 867 discussions).
@pytest.mark.parametrize("dedendum, printed, half_unit", [(1.4, 0.39, 0.005), (1.25, 0.47, 0.006)])
def test_full_round_agrees_with_the_standard(dedendum, printed, half_unit):
    rack = Rack(math.radians(20), 1.0, dedendum, 0.2)
    assert rack.full_round() == pytest.approx(printed, abs=half_unit, rel=0)
    Rack(math.radians(20), 1.0, dedendum, rack.full_round())  # the limit itself is allowed


def test_full_round_leaves_no_root_arc_and_thinning_gives_it_back():
    form = ToothForm(30, SYSTEMS["full round 20"])
    assert form.root_range[0] == pytest.approx(math.pi / 30, abs=1e-12)
    assert form.root_range[1] == pytest.approx(math.pi / 30, abs=1e-12)
    thinned = ToothForm(30, SYSTEMS["full round 20"], thinning=0.1)
    # The tool's teeth are 0.1 wider on the pitch line, so its tip keeps a flat of 0.1.
    assert (thinned.root_range[1] - thinned.root_range[0]) * 15 == pytest.approx(0.1, abs=1e-12)
    assert thinned.root_radius == form.root_radius


def test_forms_are_values():
    one, other = ToothForm(20, STANDARD, 0.1), ToothForm(20.0, STANDARD, 0.1)
    assert one == other and hash(one) == hash(other) and other.teeth == 20 and isinstance(other.teeth, int)
    assert one != ToothForm(20, STANDARD, 0.2)
    with pytest.raises(AttributeError):
        one.teeth = 21


def test_shape_reads_nothing_but_numpy_and_itself():
    for path in pathlib.Path(gearlab.shape.__file__).parent.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text())):
            names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            names += [node.module] if isinstance(node, ast.ImportFrom) else []
            for name in names:
                assert name.startswith("gearlab.shape") or name.split(".")[0] in {
                    "math", "numpy", "dataclasses", "functools", "numbers", "typing",
                }, f"{path.name} imports {name}"  # fmt: skip
