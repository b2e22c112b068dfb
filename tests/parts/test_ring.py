"""Rings: numbers against published sizes and the cut teeth, a pinion in a ring, names, and what cannot be."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from gearlab import Gear, InternalGear, Mesh

WORDS = {
    "inside_diameter",
    "ring_root_diameter",
    "addendum",
    "dedendum",
    "whole_depth",
    "tooth_thickness",
    "tooth_space",
}


def pair(one=18, two=72, distance=None, ring=(), **size):
    size = {"module": 2.5} | size
    return Mesh(Gear(one, **size), InternalGear(two, **size, **dict(ring)), distance)


# -- one ring ------------------------------------------------------------------------------------------
# By hand: d = N m, inside d - 2 m, root d + 2.5 m (ISO 53 proportions, teeth inwards).
@pytest.mark.parametrize(
    ("teeth", "module", "pitch", "inside", "root"),
    [(72, 2.5, 180.0, 175.0, 186.25), (60, 2.0, 120.0, 116.0, 125.0), (96, 1.0, 96.0, 94.0, 98.5)],
)
def test_circles_by_hand(teeth, module, pitch, inside, root):
    ring = InternalGear(teeth, module=module)
    assert (ring.pitch_diameter, ring.inside_diameter, ring.root_diameter) == pytest.approx(
        (pitch, inside, root)
    )
    assert ring.internal and not Gear(18, module=2.5).internal and not ring.undercut and not ring.measured
    radii = np.hypot(*ring.outline().T)
    assert (2 * radii.min(), 2 * radii.max()) == pytest.approx((inside, root), abs=1e-9)


@settings(max_examples=30)
@given(st.integers(40, 300), st.floats(-0.3, 0.4), st.floats(0.0, 0.1), st.floats(0.0, 0.3))
def test_what_shift_thinning_and_shortening_change(teeth, shift, thinning, shortening):
    """Source: ISO 21771.

    The teeth move outwards with the shift; the space is the external counterpart's tooth. Module 2, by hand.
    """
    try:
        ring = InternalGear(
            teeth, module=2.0, profile_shift=shift, tooth_thinning=thinning, tip_shortening=shortening
        )
    except ValueError:
        assume(False)
    numbers = ring.numbers
    assert ring.inside_diameter == pytest.approx(2 * (teeth + 2 * shift - 2) + 2 * shortening)
    assert ring.root_diameter == pytest.approx(2 * (teeth + 2 * shift + 2.5))
    assert ring.whole_depth == pytest.approx(4.5 - shortening) == pytest.approx(ring.addendum + ring.dedendum)
    assert ring.tooth_thickness == pytest.approx(
        math.pi - 4 * shift * math.tan(math.radians(20)) - thinning, abs=1e-9
    )
    assert ring.tooth_thickness + numbers["tooth_space"] == pytest.approx(ring.circular_pitch)
    assert ring.measured == (WORDS if ring.features else set())
    for word in ("pitch_diameter", "base_diameter", "base_pitch", "pitch_angle"):
        assert numbers[word] == pytest.approx(Gear(teeth, module=2.0).numbers[word])


def test_plain_numbers_explain_themselves_and_measured_ones_say_so():
    ring = InternalGear(72, module=2.5)
    for word in (
        "pitch_diameter",
        "inside_diameter",
        "ring_root_diameter",
        "base_diameter",
        "tooth_thickness",
        "whole_depth",
    ):
        assert ring.explain(word).result == pytest.approx(ring.numbers[word]), word
    with pytest.raises(
        ValueError, match="measured on the cut teeth: theory tells of rings without tooth_thinning"
    ):
        InternalGear(72, module=2.5, tooth_thinning=0.1).explain("tooth_thickness")
    assert InternalGear(72, module=2.5, tooth_thinning=0.1).explain("pitch_diameter").result == 180.0


@pytest.mark.parametrize(
    "ring",
    [
        InternalGear(72, module=2.5),
        InternalGear(60, diametral_pitch=10, pressure_angle=14.5, tip_shortening=0.03),
        InternalGear(80, module=1.0, tooth_system="stub", profile_shift=-0.1, face_width=8),
    ],
)
def test_names_are_read_back(ring):
    assert ring.name.startswith("ring_") and InternalGear.from_name(ring.name) == ring
    assert ring != Gear.from_name(ring.name.replace("ring", "gear"))
    with pytest.raises(
        ValueError, match="is that of a ring, not of a gear: read it with InternalGear.from_name"
    ):
        Gear.from_name(ring.name)
    with pytest.raises(ValueError, match="is that of a gear, not of a ring"):
        InternalGear.from_name("gear_18T_m2p5")
    assert repr(ring).startswith(f"InternalGear({ring.teeth}, ")


@pytest.mark.parametrize(
    ("given_", "words"),
    [
        ({"teeth": 30}, "inside the base circle .* teeth must be at least 34"),
        ({"teeth": 0}, "whole number from 1 to 500"),
        (
            {"teeth": 72, "tip_shortening": 6.0},
            r"inside its tip circle .* tip_shortening must lie below 2.0228 modules \(2.02 works\). \(One module is 2.5 mm here",  # noqa: E501
        ),
        ({"teeth": 72, "tooth_thinning": 5.0}, "no tooth is left"),
        ({"teeth": 72, "diametral_pitch": 10}, "exactly one"),
    ],
)
def test_rings_that_cannot_be(given_, words):
    with pytest.raises(ValueError, match=words):
        InternalGear(**({"module": 2.5} | given_))


def test_pins_that_do_not_measure_a_ring():
    with pytest.raises(
        ValueError,
        match=(
            r"pin_diameter 20 mm does not measure ring_72T_m2p5: .* Give a pin between .* One module is"
            r" 2.5 mm"
        ),
    ):
        InternalGear(72, module=2.5).between_pins(20.0)


# -- a pinion in a ring --------------------------------------------------------------------------------
def test_a_pinion_in_a_ring_by_hand():
    mesh = pair()
    # (72 - 18) 2.5 / 2 = 67.5; 72/18 = 4; both turn the same way.
    assert (mesh.centre_distance, mesh.ratio, mesh.speed(60), mesh.direction) == (67.5, 4.0, 15.0, 1)
    assert (mesh.operating_pressure_angle, mesh.operating_pitch_diameters) == (20.0, (45.0, 180.0))
    assert Mesh(Gear(18, module=2.5), Gear(72, module=2.5)).direction == -1
    assert mesh.explain("driven_speed", driver_speed=60.0).result == pytest.approx(15.0)
    assert mesh.numbers["driver_turns_to_repeat"] == 4
    for word in ("centre_distance", "ratio"):
        assert mesh.explain(word).result == pytest.approx(getattr(mesh, word)), word


def test_a_full_depth_ring_fouls_a_small_pinion_and_a_shortened_one_does_not():
    """Common practice: the ring's tips must stay outside the pinion's base tangent."""
    assert pair().interference and not pair(ring={"tip_shortening": 0.75}).interference
    assert (
        pair(40, 45, ring={"tip_shortening": 0.75}).interference
        and not pair(40, 60, ring={"tip_shortening": 0.75}).interference
    )


def test_measured_numbers_are_named():
    plain, thinned = (
        pair(40, 100, pressure_angle=30),
        pair(40, 100, pressure_angle=30, ring={"tooth_thinning": 0.1}),
    )
    assert "contact_ratio" not in plain.measured and {"contact_ratio", "backlash"} <= thinned.measured
    assert not Mesh(Gear(18, module=2.5), Gear(45, module=2.5, tooth_thinning=0.1)).measured
    assert thinned.backlash == pytest.approx(0.1, abs=1e-9) and thinned.contact_ratio == pytest.approx(
        plain.contact_ratio, abs=1e-9
    )
    assert thinned.numbers["driven_tooth_thickness"] == pytest.approx(plain.numbers["tooth_thickness"] - 0.1)
    assert thinned.numbers["driver_outside_diameter"] == 105.0 and thinned.numbers["inside_diameter"] == 245.0
    with pytest.raises(ValueError, match="measured on the cut teeth"):
        thinned.explain("contact_ratio")


@settings(max_examples=25)
@given(st.integers(14, 60), st.integers(16, 90), st.floats(-400, 400), st.floats(-400, 400))
def test_lined_up_teeth_do_not_overlap_and_half_a_pitch_off_they_do(one, more, driver, line):
    mesh = pair(one, max(one + more, 36), ring={"tip_shortening": 0.75, "tooth_thinning": 0.2})
    angle = mesh.alignment(driver, line)
    assert 0 <= angle < 360 / mesh.driven.teeth
    assert mesh.overlap_area(driver, angle, line) == 0.0
    for way in (1, -1):  # just within the free window, and beyond it
        assert mesh.overlap_area(driver, angle + way * 0.49 * mesh.free_window(), line) == 0.0
        assert mesh.overlap_area(driver, angle + way * 0.8 * mesh.free_window(), line) > 0.0
    assert mesh.overlap_area(driver, angle + 180 / mesh.driven.teeth, line) > 0.5 * mesh.driver.scale**2
    assert mesh.overlaps(driver, angle + 180 / mesh.driven.teeth, line)


def test_alignment_takes_arrays_inside_a_ring():
    mesh, angles = pair(), np.linspace(-30, 400, 7)
    assert mesh.alignment(angles, 20.0) == pytest.approx(
        [mesh.alignment(float(angle), 20.0) for angle in angles]
    )
    turned = mesh.alignment(1e-3) - mesh.alignment(0.0)
    assert turned == pytest.approx(1e-3 / 4)  # the ring turns along


def test_a_tip_in_a_fillet_takes_play_away():
    """Full depth: the ring's tips reach below the pinion's form circle (by strings.

    3.24 of the 3.92 modules that the flank has), so play is less than the thinning.
    """
    mesh = pair(40, 100, ring={"tooth_thinning": 0.1})
    assert mesh.interference and 0.0 < mesh.backlash < 0.099
    assert 0.0 < mesh.free_window(3.0) < 0.06


@pytest.mark.parametrize(("one", "two"), [(34, 36), (18, 20)])
def test_fouling_tips_are_told_from_a_wrong_distance(one, two):
    with pytest.raises(
        ValueError,
        match=f"tips foul, {one} teeth in a ring of {two} would have to overlap by .* give the ring",
    ) as caught:
        pair(one, two, ring={"tip_shortening": 2.0 if two < 30 else 1.25}).free_window()
    more = int(str(caught.value).split("give the ring ")[1].split()[0])
    assert not pair(one, more, ring={"tip_shortening": 2.0 if two < 30 else 1.25}).interference


def test_a_jammed_pinion_says_where_it_has_room():
    with pytest.raises(
        ValueError,
        match=r"jams: at centre_distance = 67.6 mm .* give at most 67.5 mm, or thin the teeth by 0.0\d+ mm",
    ) as caught:
        pair(ring={"tip_shortening": 0.75}, distance=67.6).free_window()
    thin = float(str(caught.value).split("thin the teeth by ")[1].split()[0])
    assert pair(ring={"tip_shortening": 0.75, "tooth_thinning": thin}, distance=67.6).free_window() >= 0.0
    assert pair(ring={"tip_shortening": 0.75}, distance=67.4).free_window() > 0.0


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (
            lambda: Mesh(InternalGear(72, module=2.5), Gear(18, module=2.5)),
            "is a ring: give the pinion as driver",
        ),
        (lambda: pair(45, 45), "a pinion of 45 teeth does not fit into a ring of 45"),
        (lambda: pair(60, 45), "does not fit into a ring"),
        (
            lambda: Mesh(Gear(18, module=2.0), InternalGear(72, module=2.5)),
            "cannot mesh: the base pitch of the driver",
        ),
        (
            lambda: pair(distance=70.0),
            "the tips run into the roots; give a distance between 63.4293 and 68.125 mm, usually 67.5 mm",
        ),
        (lambda: pair(distance=60.0), "no line touches both base circles"),
        (lambda: pair(distance=math.nan), "centre_distance"),
        (
            lambda: pair(distance=64.0).contact_ratio,
            "centre_distance = 64 mm: .* never touch.* Usual is 67.5 mm",
        ),
    ],
)
def test_pinion_and_ring_that_cannot_mesh(make, words):
    with pytest.raises(ValueError, match=words):
        make()
