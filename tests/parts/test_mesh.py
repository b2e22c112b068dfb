"""Two gears in mesh.

Theory against the cut outlines, brought together by shapely or rolled by small steps.
"""

import math
import random
import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Polygon

from gearlab import Gear, Mesh

teeth = st.integers(18, 110)
metric = st.sampled_from([1.0, 2.5, 4.0])


def pair(n1=18, n2=45, distance=None, **options):
    options = {"module": 2.5} | options
    return Mesh(Gear(n1, **options), Gear(n2, **options), distance)


def overlap(mesh, driver_angle, driven_angle, tolerance=1e-4):
    """Area that the two outlines share [module squared], by shapely."""
    one, two = (Polygon(gear.outline(tolerance)) for gear in (mesh.driver, mesh.driven))
    one = affinity.rotate(one, driver_angle, origin=(0, 0))
    two = affinity.translate(affinity.rotate(two, driven_angle, origin=(0, 0)), mesh.centre_distance, 0)
    return one.intersection(two).area / mesh.driver.scale**2


# -- alignment -----------------------------------------------------------------------------------------
def random_pairs(count=50):
    draw = random.Random(1845)
    for _ in range(count):
        size = draw.choice([{"module": draw.choice([1.0, 2.5])}, {"diametral_pitch": draw.choice([8, 10])}])
        shift = draw.choice([0.0, 0.0, 0.2])
        thin = draw.choice([0.02, 0.05]) * (
            size["module"] if "module" in size else 1 / size["diametral_pitch"]
        )
        one, two = (
            Gear(draw.randint(18, 60), pressure_angle=20, profile_shift=shift, tooth_thinning=thin, **size)
            for _ in range(2)
        )
        yield Mesh(one, two), draw.uniform(-720, 720)


def test_outlines_do_not_overlap_at_the_answer_and_do_half_a_pitch_away():
    for mesh, angle in random_pairs():
        answer = mesh.alignment(angle)
        assert 0 <= answer < 360 / mesh.driven.teeth
        assert overlap(mesh, angle, answer, 1e-3) == 0, (mesh, angle)
        assert overlap(mesh, angle, answer + 180 / mesh.driven.teeth, 1e-3) > 0.1, (mesh, angle)


def test_the_answer_stands_in_the_middle_of_the_free_window():
    """Backlash measured by turning until the outlines touch, to either side."""
    mesh = pair(tooth_thinning=0.1)
    answer = mesh.alignment(7.3)
    sides = []
    for direction in (1, -1):
        low, high = 0.0, 90.0 / mesh.driven.teeth
        for _ in range(30):
            middle = (low + high) / 2
            low, high = (
                (middle, high)
                if overlap(mesh, 7.3, answer + direction * middle, 2e-5) < 1e-9
                else (low, middle)
            )
        sides.append(low)
    assert sides[0] == pytest.approx(sides[1], rel=0.02)
    turned = math.radians(sum(sides)) * mesh.operating_pitch_diameters[1] / 2
    assert turned == pytest.approx(mesh.backlash, rel=0.02) == pytest.approx(0.2, rel=0.02)


@settings(max_examples=40, deadline=None)
@given(teeth, teeth, st.floats(-1e4, 1e4))
def test_alignment_repeats_with_every_tooth_of_the_driver(n1, n2, angle):
    mesh = pair(n1, n2, module=1.0)
    pitch = 360 / n2
    difference = (mesh.alignment(angle + 360 / n1) - mesh.alignment(angle)) % pitch
    assert min(difference, pitch - difference) < 1e-6
    ahead = (mesh.alignment(angle) - mesh.alignment(angle + 1e-3 * 360 / n1)) % pitch
    assert ahead == pytest.approx(1e-3 * pitch, rel=1e-3)  # the driven gear turns back


def test_alignment_takes_arrays():
    mesh = pair()
    angles = np.linspace(-30, 400, 7)
    assert mesh.alignment(angles) == pytest.approx([mesh.alignment(float(angle)) for angle in angles])
    assert isinstance(mesh.alignment(3), float) and mesh.alignment(3) == mesh.alignment(3.0)


# -- contact and backlash ------------------------------------------------------------------------------
@settings(max_examples=30, deadline=None)
@given(teeth, teeth, metric, st.sampled_from([20.0, 25.0]))
def test_contact_ratio_by_arithmetic_of_the_cut_flanks(n1, n2, module, angle):
    """Contact begins where the driven tip meets the line of action and ends where the driver tip does.

    Both found on the cut tips.
    """
    mesh = pair(n1, n2, module=module, pressure_angle=angle)
    if mesh.interference or mesh.undercut:
        return
    length = 0.0
    for gear in (mesh.driver, mesh.driven):
        form = gear.tooth
        point, normal = form.flank(form.flank_range[1])
        # Along the tip's normal from the tip to the foot below the centre, less the foot to the pitch point.
        along = abs(float(point @ normal)) * gear.scale
        base = abs(float(point[0] * normal[1] - point[1] * normal[0])) * gear.scale
        to_pitch_point = math.sqrt((gear.pitch_diameter / 2) ** 2 - base**2)
        length += along - to_pitch_point
    assert mesh.length_of_action == pytest.approx(length, rel=1e-9)
    assert mesh.contact_ratio == pytest.approx(length / gear.base_pitch, rel=1e-9)


@settings(max_examples=30, deadline=None)
@given(teeth, teeth, metric, st.floats(0.02, 1.5))
def test_opening_the_centres_opens_the_pressure_angle_and_the_backlash(n1, n2, module, opening):
    near = pair(n1, n2, module=module)
    far = pair(n1, n2, near.centre_distance + opening * module, module=module)
    assert far.operating_pressure_angle > near.operating_pressure_angle
    assert math.cos(math.radians(far.operating_pressure_angle)) * far.centre_distance == pytest.approx(
        math.cos(math.radians(20)) * near.centre_distance
    )
    assert far.backlash > 0 == near.backlash
    assert sum(far.operating_pitch_diameters) == pytest.approx(2 * far.centre_distance)
    assert far.contact_ratio < near.contact_ratio and far.ratio == near.ratio


@settings(max_examples=30, deadline=None)
@given(teeth, teeth, st.floats(0.0, 0.4), st.floats(0.0, 0.4))
def test_profile_shift_runs_without_backlash(n1, n2, x1, x2):
    mesh = Mesh(Gear(n1, module=2.5, profile_shift=x1), Gear(n2, module=2.5, profile_shift=x2))
    assert mesh.backlash == pytest.approx(0, abs=1e-10)
    assert mesh.centre_distance >= mesh.reference_centre_distance
    again = Mesh(mesh.driver, mesh.driven, mesh.centre_distance)
    assert again == mesh and again.contact_ratio == mesh.contact_ratio


# -- interference --------------------------------------------------------------------------------------
# Norton, table of largest gears without interference, 20 degrees full depth (from memory): pinion and largest mate.  # noqa: E501
@pytest.mark.parametrize(("pinion", "largest"), [(13, 16), (14, 26), (15, 45), (16, 101)])
def test_interference_begins_after_the_largest_mate(pinion, largest):
    assert not pair(pinion, largest).interference and not pair(largest, pinion).interference
    assert pair(pinion, largest + 1).interference and pair(largest + 1, pinion).interference


def test_undercut_of_either_gear():
    assert pair(12, 45).undercut and pair(45, 12).undercut and not pair(18, 45).undercut


# -- the drive itself ----------------------------------------------------------------------------------
def test_the_greenhouse_drive_by_hand():
    drive = pair()  # (18 + 45) * 2.5 / 2 = 78.75 mm; 45/18 = 2.5
    assert (drive.centre_distance, drive.ratio, drive.speed(15), drive.unit) == (78.75, 2.5, -6.0, "mm")
    assert (
        drive.reference_centre_distance == 78.75
        and drive.operating_pressure_angle == pytest.approx(20)
        and drive.backlash == 0
    )
    # gcd(18, 45) = 9
    assert drive.numbers["driver_turns_to_repeat"] == 5 and drive.numbers["driven_turns_to_repeat"] == 2


@settings(max_examples=30, deadline=None)
@given(teeth, teeth, st.floats(-1e4, 1e4))
def test_speed_is_theorys_driven_speed(n1, n2, rpm):
    mesh = pair(n1, n2)
    assert mesh.speed(rpm) == pytest.approx(
        mesh.explain("driven_speed", driver_speed=rpm).result, rel=1e-9, abs=1e-9
    )
    assert mesh.speed([rpm, 0.0]) == pytest.approx([mesh.speed(rpm), 0.0])


@pytest.mark.parametrize("distance", [None, 79.2])
def test_every_property_explains_itself(distance):
    mesh = pair(distance=distance)
    for word in (
        "centre_distance",
        "reference_centre_distance",
        "operating_pressure_angle",
        "contact_ratio",
        "length_of_action",
        "backlash",
        "ratio",
    ):
        way = mesh.explain(word)
        assert way.result == pytest.approx(getattr(mesh, word), abs=1e-12), word
        assert way.steps or way.asked in way.given
    assert mesh.explain("driver_operating_pitch_diameter").result == pytest.approx(
        mesh.operating_pitch_diameters[0]
    )


def test_thinned_teeth_are_each_gears_own():
    mesh = Mesh(Gear(18, module=2.5, tooth_thinning=0.1), Gear(45, module=2.5))
    assert mesh.numbers["driver_tooth_thickness"] == pytest.approx(
        mesh.numbers["driven_tooth_thickness"] - 0.1
    )
    assert mesh.backlash == pytest.approx(0.1)


def test_gears_of_two_tooth_systems_have_each_their_own_depth():
    mesh = Mesh(Gear(18, module=2.5), Gear(45, module=2.5, tooth_system="stub"))
    # By hand: a full tip of 2.5 mm in a stub space of 2.5 mm leaves nothing.
    assert mesh.numbers["driven_clearance"] == pytest.approx(0, abs=1e-12)
    assert (
        mesh.numbers["driven_outside_diameter"] == mesh.driven.outside_diameter
        and mesh.numbers["driver_outside_diameter"] == mesh.driver.outside_diameter
    )


# -- refusals ------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "other", [Gear(45, module=2.0), Gear(45, module=2.5, pressure_angle=25), Gear(45, diametral_pitch=10)]
)
def test_gears_that_cannot_mesh_raise_with_both_base_pitches(other):
    with pytest.raises(ValueError, match="cannot mesh") as caught:
        Mesh(Gear(18, module=2.5), other)
    base = [
        math.pi * 2.5 * math.cos(math.radians(20)),
        other.base_pitch * (25.4 if other.unit == "in" else 1),
    ]
    said = [float(number) for number in re.findall(r"([\d.]+) mm", str(caught.value))]
    assert said == pytest.approx(base, rel=1e-5)


# base circles touch; tips touch
NEAREST, FARTHEST = 63 * 2.5 * math.cos(math.radians(20)) / 2, (63 * 2.5 + 10) / 2


@pytest.mark.parametrize("distance", [0, -5, math.nan, math.inf, "far"])
def test_what_is_no_distance_is_refused_by_its_name(distance):
    with pytest.raises(ValueError, match="centre_distance"):
        pair(distance=distance)


@pytest.mark.parametrize(
    ("distance", "limit"), [(60.0, NEAREST), (73.9, NEAREST), (84.0, FARTHEST), (1e6, FARTHEST)]
)
def test_a_distance_out_of_range_raises_with_the_limit_that_it_passes(distance, limit):
    with pytest.raises(ValueError, match="centre_distance") as caught:
        pair(distance=distance)
    assert f"{limit:.6g}" in str(caught.value)
    assert "usually 78.75 mm" in str(caught.value)


def test_an_unknown_word_is_refused():
    with pytest.raises(ValueError, match="unknown"):
        pair().explain("colour")


def test_a_metric_pair_explains_itself_in_either_notation():
    drive = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
    assert drive.explain("C", notation="inch").lines("text")[-1].math.startswith("C = ")
    assert drive.explain("a").lines("text")[-1].math.startswith("a = ")  # ISO 21771: a is the centre distance


def test_equal_teeth_in_two_units_are_not_called_unequal():
    """A diametral pitch of 10 is a module of 2.54 mm by definition."""
    with pytest.raises(ValueError, match=r"teeth fit.*module of 2\.54 mm; give both"):
        Mesh(Gear(20, module=2.54), Gear(40, diametral_pitch=10))
