"""Bevel pairs: published examples, cones that roll in space, directions by vectors."""

import math

import numpy as np
import pytest

from gearlab import BevelPair


def test_published_pair_of_16_and_48_teeth():
    # R. L. Mott, Machine Elements in Mechanical Design, 4th ed., Example 8-6, p. 337
    pair = BevelPair(16, 48, diametral_pitch=8, face_width=1.0)
    assert pair.ratio == 3 and not pair.mitre
    assert pair.cone_angles == pytest.approx((18.43, 71.57), abs=0.005)
    assert pair.pitch_diameters == (2, 6)
    assert pair.largest_face == pytest.approx(1.054, abs=5e-4)
    assert pair.numbers["mean_cone_distance"] == pytest.approx(2.662, abs=5e-4)


def test_mitre_pair_is_the_plain_case():
    # geometry of a square: 45 degrees each; the addendum stands square to the cone
    pair = BevelPair(20, 20, module=2.5)
    assert pair.mitre and pair.cone_angles == pytest.approx((45, 45))
    assert pair.outside_diameters == pytest.approx((50 + 2.5 * math.sqrt(2),) * 2)
    assert pair.apex_distances == pytest.approx((25, 25)) and pair.cone_distance == pytest.approx(
        25 * math.sqrt(2)
    )
    assert not BevelPair(20, 20, module=2.5, shaft_angle=60).mitre


@pytest.mark.parametrize(
    "one, two, shafts", [(20, 20, 90), (20, 30, 90), (30, 20, 90), (20, 30, 120), (18, 40, 60), (24, 24, 150)]
)
def test_the_cones_roll_on_each_other_in_space(one, two, shafts):
    # kinematics by vectors, apart from theory: the common line must move alike as part of both cones
    pair = BevelPair(one, two, module=2, shaft_angle=shafts)
    axis_1 = np.array([1.0, 0.0, 0.0])
    axis_2 = np.array([math.cos(math.radians(shafts)), math.sin(math.radians(shafts)), 0.0])
    cone_1, cone_2 = np.radians(pair.cone_angles)
    touching = np.array([math.cos(cone_1), math.sin(cone_1), 0.0])
    assert touching @ axis_2 == pytest.approx(math.cos(cone_2))
    # both counter-clockwise seen from outside, towards the apex: about axes that point outwards
    speed_2 = pair.speed(10.0)
    assert np.cross(10.0 * axis_1, touching) == pytest.approx(np.cross(speed_2 * axis_2, touching))
    # both large circles pass through the end of the common line
    assert pair.cone_distance * math.sin(cone_1) == pytest.approx(pair.pitch_diameters[0] / 2)
    assert pair.cone_distance * math.sin(cone_2) == pytest.approx(pair.pitch_diameters[1] / 2)
    assert pair.cone_distance * math.cos(cone_2) == pytest.approx(pair.apex_distances[1])


def test_the_other_side_reverses_the_output():
    # kinematics by vectors: the driven axis points the other way, the shaft is seen from the same end
    pair = BevelPair(20, 20, module=2.5)
    assert pair.speed(6) == -pair.speed(6, side=-1) == -6 and pair.speed(-6) == 6 and pair.speed(0) == 0
    for side in (1, -1):
        seat = np.array([0.0, side, 0.0])  # where the driven gear stands
        touching = np.array([1.0, 0.0, 0.0]) + seat
        turning = pair.speed(6, side=side) * np.array([0.0, 1.0, 0.0])  # seen from the +y end
        assert np.cross([6.0, 0, 0], touching) == pytest.approx(np.cross(turning, touching))
    with pytest.raises(ValueError, match="give 1 or -1"):
        pair.speed(6, side=0)


def test_thrust_of_one_is_the_radial_force_of_the_other():
    # at a right angle the driver's axis lies across the driven one's: action and reaction
    forces = BevelPair(20, 30, module=2.5).forces(80)
    assert forces["thrust"] == pytest.approx(forces["radial"][::-1])
    # Jindal, Machine Design, Example 27-1 p. 712: 1061 N, 20 degrees, ratio 2: 172.7 N along the pinion's
    # axis
    assert BevelPair(20, 40, module=4).forces(1061)["thrust"][0] == pytest.approx(172.7, abs=0.1)


@pytest.mark.parametrize(
    "make, says",
    [
        (lambda: BevelPair(20, 30, module=2.5, face_width=20), "teeth grow too small.*give up to 15.02 mm"),
        (lambda: BevelPair(20, 30, module=2.5, shaft_angle=135), "flat at 131.8 deg and hollow beyond"),
        (lambda: BevelPair(20, 30, module=2.5, shaft_angle=175), "from 10 to 170 deg"),
        (lambda: BevelPair(20, 30), "exactly one"),
        (lambda: BevelPair(4, 30, module=2), "driver_teeth = 4"),
        (lambda: BevelPair(20, 30, module=2, pressure_angle=5), "pressure"),
        (lambda: BevelPair(20, 30, module=2).forces(0), "above 0"),
    ],
)
def test_errors_say_what_would_work(make, says):
    with pytest.raises(ValueError, match=says):
        make()


def test_values_named_in_the_errors_work():
    assert BevelPair(20, 30, module=2.5, face_width=15.02).face_width == 15.02
    assert BevelPair(20, 30, module=2.5, shaft_angle=131.7).cone_angles[1] == pytest.approx(90, abs=0.5)


def test_explains_with_its_own_numbers():
    pair = BevelPair(20, 30, module=2.5, shaft_angle=75)
    assert pair.explain("cone_distance").result == pytest.approx(pair.cone_distance)
    assert pair.explain("driver_thrust", mean_force=80.0).result == pytest.approx(
        pair.forces(80)["thrust"][0]
    )
    assert repr(pair) == "BevelPair(20, 30, module=2.5, shaft_angle=75)"


def test_long_and_short_addenda():
    # proportions by hand: both addenda make two modules, the wheel's is the shorter; equal counts share
    # equally; tips run parallel to the mate's roots
    pair = BevelPair(20, 40, module=3, long_addendum=True)
    one, two = pair.numbers["driver_cone_addendum"], pair.numbers["driven_cone_addendum"]
    assert one + two == pytest.approx(6) and two < 3 < one
    assert pair.numbers["driver_tip_cone_angle"] + pair.numbers["driven_root_cone_angle"] == pytest.approx(90)
    equal = BevelPair(20, 20, module=3, long_addendum=True)
    assert equal.outside_diameters == pytest.approx(BevelPair(20, 20, module=3).outside_diameters)
    assert equal.crown_distances == pytest.approx((30 - 3 / math.sqrt(2),) * 2)
    with pytest.raises(ValueError, match="give the smaller count first"):
        BevelPair(40, 20, module=3, long_addendum=True)
