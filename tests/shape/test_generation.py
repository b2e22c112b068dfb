"""How a tooth is generated: against the sweeping rack, the undercut limit, and the mate it rolls with."""

import math

import mpmath
import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from teeth import STANDARD, SYSTEMS, any_racks, counts, forms, shifts

from gearlab.shape import Rack, ToothForm


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
    # tool teeth stand at pi/2 + n pi
    along = np.abs((along - math.pi / 2 + math.pi / 2) % math.pi - math.pi / 2)
    tip_line = form.profile_shift - rack.dedendum
    half_tip = math.pi / 4 + form.thinning / 2 - rack.dedendum * math.tan(phi)
    corner = half_tip - rho * math.tan(math.pi / 4 - phi / 2)
    down = (tip_line + rho) - height  # beyond the core's lower edge
    aside = (along - corner) * math.cos(phi) + down * math.sin(phi)  # beyond the core's slanting edge
    by_corner = (down * math.cos(phi) - (along - corner) * math.sin(phi) < 0) | (along < corner)
    core = np.where(by_corner, np.maximum(down, aside), np.hypot(down, along - corner))
    return core - rho


# --- cut by the rack ------------------------------------------------------------------------------


@settings(max_examples=30, deadline=None)
@given(forms())
def test_rack_never_cuts_into_the_outline_and_touches_all_of_it(form):
    """Independent route: sweep the rack through many positions and measure its distance to the outline."""
    points = np.concatenate(
        (
            form.flank(np.linspace(*form.flank_range, 25))[0],
            form.fillet(np.linspace(*form.fillet_range, 25))[0],
            form.root(np.linspace(form.root_range[0], math.pi / form.teeth, 5))[0],
        )
    )
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
        phi, rho, shift = (
            mpmath.mpf(rack.pressure_angle),
            mpmath.mpf(rack.tip_radius),
            mpmath.mpf(form.profile_shift),
        )
        half_tip = mpmath.pi / 4 + mpmath.mpf(form.thinning) / 2 - mpmath.mpf(rack.dedendum) * mpmath.tan(phi)
        offset = mpmath.pi / 2 - half_tip + rho * (1 - mpmath.sin(phi)) / mpmath.cos(phi)
        height = shift - mpmath.mpf(rack.dedendum) + rho
        r, base = mpmath.mpf(z) / 2, mpmath.mpf(z) / 2 * mpmath.cos(phi)
        start = (
            (mpmath.pi / 2 + 2 * shift * mpmath.tan(phi) - mpmath.mpf(form.thinning)) / z
            + mpmath.tan(phi)
            - phi
        )

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
    """The shift at which the undercut limit equals the tooth count (the limit formula solved for the shift)."""  # noqa: E501
    sine = math.sin(rack.pressure_angle)
    return rack.dedendum - rack.tip_radius * (1 - sine) - count * sine**2 / 2


@settings(max_examples=60, deadline=None)
@given(st.integers(6, 30), any_racks, st.floats(-0.3, 0.6))
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
    """The crossing closes in on the base circle, where a coarse search misses it.

    Reference library: mpmath.
    """
    form = ToothForm(count, STANDARD, least_shift(STANDARD, count) - 10.0**-exponent, tip_shortening=0.4)
    assert form.undercut
    assert form.flank_range[0] > 0
    assert form.base_radius <= form.form_radius < form.base_radius + 30 * 10.0 ** (-2 * exponent) + 1e-14
    assert math.dist(form.fillet(form.fillet_range[1])[0], form.flank(form.flank_range[0])[0]) < 1e-14 * count
    _, roll, radius = exact_meeting(form, form.fillet_range[1], form.flank_range[0])
    assert form.form_radius == pytest.approx(float(radius), abs=3e-15, rel=0)
    if exponent <= 9:  # nearer, the last digits of the shift itself decide
        assert form.flank_range[0] == pytest.approx(float(roll), rel=1e-4)


@settings(max_examples=150, deadline=None)
@given(counts, any_racks, shifts)
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
@pytest.mark.parametrize(
    "degrees, depth, last_undercut", [(20, 1.0, 17), (14.5, 1.0, 31), (25, 1.0, 11), (20, 0.8, 13)]
)
def test_least_teeth_without_undercut(degrees, depth, last_undercut):
    rack = Rack(math.radians(degrees), depth, depth, 0.0)
    assert ToothForm(last_undercut, rack).undercut
    assert not ToothForm(last_undercut + 1, rack).undercut


# --- the mate -------------------------------------------------------------------------------------


def overlap(driver, driven, phase, off=0.0):
    """Area in common of two gears at the exact centre distance.

    `off` slides the driven along its pitch circle.
    """
    distance = (driver.teeth + driven.teeth) / 2
    angle = phase * driver.pitch_angle
    mate = math.pi + driven.pitch_angle / 2 - angle * driver.teeth / driven.teeth + off / (driven.teeth / 2)
    return shapely.intersection(
        sector(driver, angle, 0.0),
        shapely.transform(sector(driven, mate, math.pi), lambda xy: xy + (distance, 0.0)),
    ).area


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
    """Law of gearing: over a whole cycle the mates touch (no overlap), and any play is taken up within 0.002."""  # noqa: E501
    assert len(driver.tooth_points(1e-7)) > 2 * 40
    for phase in np.linspace(-0.5, 0.5, 12):
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
