"""The cut shape against the relations of theory, over random gears, rings and pairs.

Neither knows of the other.

The shape measures on its exact curves (a caliper, pins, two gears rolled on each other); theory calculates.
Lengths are in modules throughout: every gear here has module 1.
"""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from gearlab import Gear, InternalGear, Mesh
from gearlab.shape.measuring import span
from gearlab.shape.pins import over_pins
from gearlab.shape.rolling import Rolling
from gearlab.theory.functions import arcinv_number as arcinv
from gearlab.theory.functions import inv_number as inv
from gearlab.theory.systems import system as tooth_system

CLOSE = 1e-6  # modules
teeth = st.one_of(st.integers(6, 40), st.integers(6, 300))
# Every tooth system, and full depth at other pressure angles with the tip radius that fits the rack.
systems = st.sampled_from(
    [("full depth", 14.5), ("full depth", 20.0), ("full depth", 25.0), ("stub", 20.0), ("fine pitch", 20.0)]
)
kinds = st.one_of(systems, st.tuples(st.just("full depth"), st.floats(14.5, 30.0)))
# Fewer angles: theory puts its relations together for each anew.
few_kinds = st.one_of(systems, st.tuples(st.just("full depth"), st.sampled_from([16.3, 30.0])))
shifts = st.one_of(st.just(0.0), st.floats(-0.5, 0.9))


def made(kind, count, system, **more):
    try:
        return kind(count, module=1.0, tooth_system=system[0], pressure_angle=system[1], **more)
    except ValueError:
        assume(False)


@st.composite
def gears(draw, kind):
    return made(
        Gear,
        draw(teeth),
        draw(kind),
        profile_shift=draw(shifts),
        tooth_thinning=draw(st.sampled_from((0.0, 0.04))),
    )


def whole(count, system, shift, **more):
    """A gear with this much shift, or as much more as keeps its teeth from undercut."""
    row, sine = tooth_system(*system), math.sin(math.radians(system[1]))
    least = row.dedendum + row.extra("mm") - row.tip_radius * (1 - sine) - count * sine**2 / 2
    return made(Gear, count, system, profile_shift=max(shift, least + 1e-3), **more)


@st.composite
def pairs(draw, opening=st.floats(0.01, 0.3), most=0.05):
    """Two gears without undercut, their tips shortened as shifts call for it, a little further apart than
    without play.
    """
    system, more = (
        draw(few_kinds),
        {
            "tooth_thinning": draw(st.floats(0.001, most)),
            "tip_shortening": draw(st.floats(0.05, 0.2)),
        },
    )
    one, two = (whole(draw(teeth), system, draw(st.floats(-0.5, 0.7)), **more) for _ in range(2))
    try:
        return Mesh(one, two, Mesh(one, two).centre_distance + draw(opening))
    except ValueError:
        assume(False)


def rolled(mesh):
    """The pair on its curves, where flanks alone drive it.

    No tip in the way, another pair taking over in time.
    """
    assert not mesh.undercut
    assume(not mesh.interference and mesh.contact_ratio > 1.01)
    try:
        pair = mesh.rolling
    except ValueError as error:
        # gears with much shift, drawn together until they have no play
        assert "run into the roots" in str(error)
        assume(False)
    # What the textbooks' interference leaves out: a fillet that stands higher than the tangent point.
    assume((pair.path().start_by, pair.path().end_by) == ("driven tip", "driver tip"))
    return pair


# --- one gear ---------------------------------------------------------------------------------------


@settings(max_examples=50)
@given(gears(kinds))
def test_undercut_and_form_radius(gear):
    limit = gear.numbers["least_teeth"]
    assume(abs(gear.teeth - limit) > 1e-6)
    assert gear.tooth.undercut == (gear.teeth < limit) == gear.undercut
    assert gear.tooth.form_radius == pytest.approx(gear.numbers["form_radius"], abs=CLOSE, rel=0)


@settings(max_examples=30)
@given(gears(few_kinds))
def test_span_over_every_number_of_teeth(gear):
    """Where the jaws touch, and how much they then read; outside that, both say so."""
    for over in range(max(1, gear.span_teeth - 3), min(gear.teeth - 1, gear.span_teeth + 3) + 1):
        try:
            measured = span(gear.tooth, over)
        except ValueError:
            # A last digit at the flank's end may decide otherwise, nothing more.
            told = gear.numbers_with(span_teeth=float(over))
            touch = math.hypot(gear.base_diameter, told.get("span", told.beyond.get("span"))) / 2
            if gear.tooth.form_radius + 1e-9 < touch < gear.tooth.tip_radius - 1e-9:
                raise
            continue
        assert gear.span(over) == pytest.approx(measured, abs=CLOSE, rel=0)


@settings(max_examples=40)
@given(gears(few_kinds), st.floats(1.4, 2.2))
def test_size_over_pins_of_even_and_odd_counts(gear, pin):
    try:
        size = gear.over_pins(pin)
    except ValueError:
        with pytest.raises(ValueError):
            over_pins(gear.tooth, pin)
    else:
        assert over_pins(gear.tooth, pin) == pytest.approx(size, abs=CLOSE, rel=0)


@st.composite
def rings(draw):
    return made(
        InternalGear,
        draw(st.integers(24, 300)),
        draw(kinds),
        profile_shift=draw(st.floats(-0.3, 0.5)),
        tooth_thinning=draw(st.sampled_from((0.0, 0.04))),
        tip_shortening=draw(st.sampled_from((0.0, 0.2))),
    )


@settings(max_examples=50)
@given(rings(), st.floats(1.2, 1.9))
def test_size_between_pins_of_a_ring(ring, pin):
    """Source: Machinery's Handbook, measurement between pins.

    Inv(angle of the pin's centre) = half the space angle + inv(phi) - pin / base diameter.
    """
    phi, count = math.radians(ring.pressure_angle), ring.teeth
    space = math.pi / 2 + 2 * ring.profile_shift * math.tan(phi) + ring.tooth_thinning
    try:
        measured = ring.between_pins(pin)
    except ValueError:
        assume(False)
    centre = (
        count * math.cos(phi) / 2 / math.cos(arcinv(space / count + inv(phi) - pin / (count * math.cos(phi))))
    )
    assert measured == pytest.approx(
        2 * centre * (math.cos(math.pi / 2 / count) if count % 2 else 1.0) - pin, abs=CLOSE, rel=0
    )


# --- two gears --------------------------------------------------------------------------------------


@settings(max_examples=30)
@given(pairs())
def test_contact_ratio_path_and_backlash(mesh):
    pair = rolled(mesh)
    assert pair.contact_ratio() == pytest.approx(mesh.contact_ratio, abs=CLOSE, rel=0)
    path, pitch_point = pair.path(), np.array((mesh.operating_pitch_diameters[0] / 2, 0.0))
    assert math.dist(path.start, pitch_point) == pytest.approx(
        abs(mesh.numbers["length_of_approach"]), abs=CLOSE, rel=0
    )
    assert math.dist(path.end, pitch_point) == pytest.approx(
        abs(mesh.numbers["length_of_recess"]), abs=CLOSE, rel=0
    )
    assert pair.backlash(mesh.operating_pitch_diameters[1] / 2) == pytest.approx(
        mesh.backlash, abs=CLOSE, rel=0
    )


@settings(max_examples=20)
@given(pairs(st.floats(-0.1, -0.05), 0.01))
def test_teeth_drawn_together_overlap_by_as_much_as_theory_says(mesh):
    pair = rolled(mesh)
    assert mesh.backlash < 0
    overlap = pair.backlash(mesh.operating_pitch_diameters[1] / 2)
    room = min(
        mesh.centre_distance - (tips.outside_diameter + roots.root_diameter) / 2
        for tips, roots in ((mesh.driver, mesh.driven), (mesh.driven, mesh.driver))
    )
    # The formula tells of the flanks; tips that come near the roots dig into their fillets before.
    if room > 0.1 * mesh.driver.scale:
        assert overlap == pytest.approx(mesh.backlash, abs=CLOSE, rel=0)
    else:
        assert overlap <= mesh.backlash + CLOSE
    with pytest.raises(ValueError, match="jams"):
        mesh.free_window()


@settings(max_examples=20)
@given(pairs(), st.floats(-4.0, 4.0))
def test_speed_ratio_is_constant_over_a_whole_cycle(mesh, start):
    """Law of gearing, at twelve places of a cycle.

    From the normal at the point of contact, and from angles turned.
    """
    pair = rolled(mesh)
    assume(pair.interference() == 0.0)
    angles = start + np.linspace(0.0, pair.driver.pitch_angle, 13)
    for direction in (1, -1):
        turned = pair.driven_angle(angles, direction)
        assert np.abs((turned - turned[0]) * mesh.ratio + (angles - angles[0])).max() < 1e-9
    for angle in angles[:-1]:
        touch = pair.contact(float(angle))
        if touch[4:6] == ("flank", "flank"):  # on a tip's very corner the normal is not the flank's
            assert touch.ratio == pytest.approx(-mesh.ratio, rel=1e-9)


@settings(max_examples=30)
@given(pairs(), st.floats(-720.0, 720.0), st.floats(-360.0, 360.0))
def test_alignment_is_the_middle_of_the_free_window_on_any_line(mesh, driver, line):
    pair = rolled(mesh)
    centre, width = pair.free_window(math.radians(driver - line))
    pitch = 360.0 / mesh.driven.teeth
    assert abs(math.remainder(math.degrees(centre) + line - mesh.alignment(driver, line), pitch)) < 1e-5
    assert math.degrees(width) == pytest.approx(mesh.free_window(), abs=1e-5)


# --- a pinion in a ring -----------------------------------------------------------------------------


@st.composite
def ringed(draw, plain=False):
    """A pinion in a ring of the same system; a plain ring of few teeth more fouls."""
    system, count = draw(few_kinds), draw(st.integers(12, 120))
    more = (
        {}
        if plain
        else {"tip_shortening": draw(st.floats(0.1, 0.4)), "tooth_thinning": draw(st.floats(0.0, 0.1))}
    )
    return made(Gear, count, system), made(InternalGear, count + draw(st.integers(12, 180)), system, **more)


@settings(max_examples=20)
@given(ringed(plain=True))
def test_contact_ratio_in_a_plain_ring(pair):
    mesh = Mesh(*pair)
    path = mesh.rolling.path()
    assume((path.start_by, path.end_by) == ("driven tip", "driver tip"))
    assert "contact_ratio" not in mesh.measured
    assert mesh.rolling.contact_ratio() == pytest.approx(mesh.contact_ratio, abs=CLOSE, rel=0)
    assert mesh.backlash == pytest.approx(0.0, abs=CLOSE)


@settings(max_examples=20)
@given(ringed(), st.floats(0.0, 0.3), st.floats(-300.0, 300.0), st.floats(-300.0, 300.0))
def test_a_pinion_moved_inwards_in_its_ring(pair, closer, driver, line):
    """Source: ISO 21771, backlash of an internal pair.

    Space of the ring less tooth of the pinion on the operating circles; contact ratio from the strings.
    """
    one, two = pair
    reference, phi = (two.teeth - one.teeth) / 2, math.radians(one.pressure_angle)
    try:
        mesh = Mesh(one, two, reference - closer)
        path = mesh.rolling.path()
    except ValueError:
        assume(False)
    assume((path.start_by, path.end_by) == ("driven tip", "driver tip") and not one.undercut)
    angle = math.acos(reference * math.cos(phi) / mesh.centre_distance)
    tooth, space = (
        2 * mesh.centre_distance / (two.teeth - one.teeth) * (wide + count * (inv(phi) - inv(angle)))
        for wide, count in ((math.pi / 2, one.teeth), (math.pi / 2 + two.tooth_thinning, two.teeth))
    )
    strings = [math.sqrt(gear.tooth.tip_radius**2 - gear.tooth.base_radius**2) for gear in pair]
    contact = (strings[0] - strings[1] + mesh.centre_distance * math.sin(angle)) / (math.pi * math.cos(phi))
    assume(contact > 1.01)
    assert math.radians(mesh.operating_pressure_angle) == pytest.approx(angle, abs=CLOSE)
    assert mesh.operating_pitch_diameters == pytest.approx(
        [2 * mesh.centre_distance * gear.teeth / (two.teeth - one.teeth) for gear in pair], abs=CLOSE, rel=0
    )
    assert mesh.contact_ratio == pytest.approx(contact, abs=CLOSE, rel=0)
    # tips of a ring little larger than its pinion foul aside of the path, and take play away
    assume(not mesh.interference)
    assert mesh.backlash == pytest.approx(space - tooth, abs=CLOSE, rel=0)
    centre, _ = mesh.rolling.free_window(math.radians(driver - line))
    assert (
        abs(math.remainder(math.degrees(centre) + line - mesh.alignment(driver, line), 360.0 / two.teeth))
        < 1e-5
    )


@settings(max_examples=8)
@given(st.integers(12, 60), st.integers(14, 120), st.floats(-0.2, 0.4), st.floats(-0.2, 0.3))
def test_shifted_pinion_and_ring_stand_where_they_have_no_play(count, more, one, two):
    """Source: ISO 21771, working pressure angle of an internal pair.

    Inv(angle) = inv(phi) + 2 tan(phi) (x2 - x1) / (z2 - z1).
    """
    phi = math.radians(20)
    wanted = inv(phi) + 2 * math.tan(phi) * (two - one) / more
    assume(count + more >= 36 and wanted > inv(math.radians(8)))
    pinion, ring = (
        made(Gear, count, ("full depth", 20.0), profile_shift=one),
        made(InternalGear, count + more, ("full depth", 20.0), profile_shift=two, tip_shortening=0.3),
    )
    distance = more / 2 * math.cos(phi) / math.cos(arcinv(wanted))
    try:
        assert Rolling(pinion.tooth, ring.tooth, distance).play() == pytest.approx(0.0, abs=1e-9)
        mesh = Mesh(pinion, ring)
    except ValueError:
        assume(False)
    assert mesh.centre_distance == pytest.approx(distance, abs=CLOSE, rel=0)
