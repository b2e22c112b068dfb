"""Questions as a textbook exercise puts them, in its letters and with its numbers.

Expected numbers are worked out here from the textbook's own formulas (from memory), never taken from derive.
"""

from math import acos, cos, degrees, pi, radians, tan

import pytest

from gearlab import derive
from gearlab.theory.othernames import OTHER_NAMES_ROWS
from gearlab.theory.quantities import QUANTITIES

PHI = radians(20)


def inv(angle):
    """Involute function [rad]."""
    return tan(angle) - angle


OPENED = {"m": "3 mm", "N1": 24, "N2": 60, "C": "127 mm", "pressure_angle": "20 deg"}
OPERATING = acos(126 * cos(PHI) / 127)  # C cos(phi_w) = C0 cos(phi), C0 = m (N1 + N2)/2 = 126 mm
PLAY = 2 * 127 * (inv(OPERATING) - inv(PHI))  # of teeth that are not thinned: 2 C (inv phi_w - inv phi)


def length_of_action(radii, centre_distance, operating):
    """Tip circles on the line of action less the way between the base circles [mm]."""
    tips = sum(((r + 3) ** 2 - (r * cos(PHI)) ** 2) ** 0.5 for r in radii)
    return tips - centre_distance * (1 - cos(operating) ** 2) ** 0.5


@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        ("backlash", PLAY),
        ("operating_pressure_angle", degrees(OPERATING)),
        ("contact_ratio", length_of_action((36, 90), 127, OPERATING) / (3 * pi * cos(PHI))),
        ("length_of_action", length_of_action((36, 90), 127, OPERATING)),
        ("driver_play_angle", degrees(PLAY / (127 * 24 / 84))),
    ],
)
def test_a_distance_given_beside_all_that_fixes_it_is_a_number_of_its_own(asked, expected):
    """The two shafts of an exercise on backlash do not stand at the sum of the pitch radii."""
    assert derive(asked, OPENED).result == pytest.approx(expected, rel=1e-9)
    assert derive(asked, list(OPENED)).formula != 0


def test_a_wanted_backlash_gives_the_distance():
    """The same formula turned round."""
    given = {"m": "3 mm", "N1": 24, "N2": 60, "pressure_angle": 20, "backlash": f"{PLAY} mm"}
    assert derive("C", given).result == pytest.approx(127, rel=1e-9)


def test_a_distance_that_changes_nothing_asked_is_still_a_contradiction():
    """A ratio does not hang on the distance: a wrong one is told, with the way out."""
    with pytest.raises(ValueError, match='contradict each other.*"set distance"'):
        derive("ratio", OPENED)
    # Nothing settles the distance here: it is the plain one.
    assert derive("N2", {"m": "3 mm", "N1": 24, "C": "126 mm"}).result == pytest.approx(60)


@pytest.mark.parametrize(
    ("asked", "given", "notation", "expected"),
    [
        ("train_ratio", {"N1": 20, "N2": 60, "N3": 18, "N4": 72}, "inch", 60 / 20 * 72 / 18),
        ("N4", {"N1": 20, "N2": 60, "N3": 18, "train_ratio": 12}, "inch", 72),
        ("n4", {"z1": 20, "z2": 60, "z3": 18, "z4": 72, "n1": "1200 rpm"}, "iso", 1200 * 20 * 18 / 60 / 72),
        ("n3", {"N1": 20, "N2": 33, "N3": 60, "n1": "1200 rpm"}, "inch", 1200 * 20 / 60),
        (
            "distance_growth",
            {"C": "80 mm", "expansion": "70e-6 /K", "warming": "30 K"},
            "inch",
            80 * 70e-6 * 30,
        ),
    ],
)
def test_a_letter_means_what_it_means_in_the_kind_that_the_others_speak_of(asked, given, notation, expected):
    """N1 beside N4 is the first gear of a train, not the driver of a pair."""
    assert derive(asked, given, notation=notation).result == pytest.approx(expected, rel=1e-12)


def test_nothing_needs_no_unit():
    """A lower deviation of 0 is 0 in millimetres and in inches (H7/g6 at 20 mm: ISO 286-2, from memory)."""
    given = {"hole_lower": 0, "shaft_upper": "-0.007 mm"}
    assert derive("least_clearance", given).result == pytest.approx(0.007)


@pytest.mark.parametrize("name", ["pinion_teeth", "wheel_speed"])
def test_an_everyday_owner_is_answered_by_the_words_of_theory(name):
    """The message names what to write."""
    base = name.split("_")[1]
    with pytest.raises(ValueError, match=f"unknown; near words: {base}, driver_{base}, driven_{base}"):
        derive("rack_speed", [name, "module"])


@pytest.mark.parametrize(
    ("asked", "given", "number", "within"),
    [
        # Shigley, equations 13-33 and 13-34 (from memory): 63,025 H/n lbf in; 9549 kW/n N m
        ("driven_torque", {"power": "5 hp", "driven_speed": "500 rpm", "efficiency": 1}, 630.25, 0.05),
        ("T_2", {"P_w": "5 kW", "n2": 500, "eta": 0.9}, 9.549 * 10 * 0.9, 0.01),
        ("power", {"T_2": "95.49 N m", "n2": 500, "eta": 1}, 5000, 0.5),
        ("shaft_torque", {"power": "5 hp", "speed": 1750}, 180.07, 0.01),
        ("last_torque", {"power": "5 hp", "fourth_speed": 350, "mesh_efficiency": 1}, 900.36, 0.05),
        ("last_torque", {"power": "5 hp", "third_speed": 350, "mesh_efficiency": 1}, 900.36, 0.05),
        ("sun_torque", {"power": "1 kW", "sun_speed": 1000}, 9.549, 0.001),
        # Khurmi & Gupta, Machine Design, example 14.1 (from memory): 20 kW at 200 rpm, 42 MPa, 48.7 mm
        ("bore_diameter", {"power": "20 kW", "speed": 200, "shaft_shear": "42 MPa"}, 48.7, 0.06),
        # statics: the key's force is torque over radius (statics)
        ("key_force", {"power": "5 hp", "speed": 1750, "bore_diameter": "3/4 in"}, 180.07 / 0.375, 0.1),
        ("driver_torque", {"power": "5 hp", "driver_speed": 600, "shaft_angle": 90}, 525.2, 0.05),
        # Mott, Machine Elements in Mechanical Design, example 10-3 (from memory): 312 lbf
        (
            "mean_force",
            {"N1": 16, "N2": 48, "P": 8, "face_width": "1 in", "power": "2.5 hp", "driver_speed": 600},
            312,
            0.6,
        ),
        # Shigley, the example of an idler (from memory): 2.5 kW at 1750 rpm, 20 teeth of module 2.5: 0.546 kN
        (
            "idler_tangential_push",
            {"power": "2.5 kW", "first_speed": 1750, "first_teeth": 20, "m": 2.5},
            2 * 546,
            1.5,
        ),
    ],
)
def test_power_and_speed_of_any_shaft_tell_its_torque(asked, given, number, within):
    assert derive(asked, given).result == pytest.approx(number, abs=within)


@pytest.mark.parametrize(
    ("name", "word"),
    [  # names of text books and standards, common practice
        ("tip_diameter", "outside_diameter"),
        ("addendum circle", "outside_diameter"),
        ("center_distance", "centre_distance"),
        ("velocity_ratio", "ratio"),
        ("pitch_line_velocity", "pitch_line_speed"),
        ("transmitted_load", "tangential_force"),
        ("radial_force", "separating_force"),
        ("working_pressure_angle", "operating_pressure_angle"),
        ("path_of_contact", "length_of_action"),
        ("measurement_over_wires", "over_pins"),
        ("base_tangent_length", "span"),
        ("pinion_tip_diameter", "driver_outside_diameter"),
        ("output_torque", "driven_torque"),
        ("formative_teeth", "driver_virtual_teeth"),
        ("dynamic_factor", "speed_factor"),
    ],
)
def test_a_name_of_another_book_is_answered_with_the_word_here(name, word):
    with pytest.raises(ValueError, match=f"here it is called .*{word}"):
        derive(name, ["N1", "N2", "P"])


@pytest.mark.parametrize(
    ("asked", "given", "notation", "number"),
    [
        ("a", {"z_1": 20, "z_2": 40, "m": 2}, "iso", 60),
        ("C", {"N_1": 20, "N_2": 40, "P": 2}, "inch", 15),
        ("Ft", {"T1": "10 N m", "d_1": "50 mm"}, "iso", 10 / 0.025),
        ("da", {"z": 20, "m": 2}, "iso", 44),
        ("db", {"d": "50 mm", "α": 20}, "iso", 50 * cos(PHI)),
        ("Wt", {"P_w": "5 hp", "v": "1000 ft/min"}, "inch", 33000 * 5 / 1000),
        ("T2", {"T1": "10 N m", "z1": 20, "z2": 40, "η": 1}, "iso", 20),
        # power is torque times angular speed: 10 N m at 100 rad/s
        ("power", {"driver_torque": "10 N m", "driver_angular_speed": "100 rad/s"}, "inch", 1000),
        ("shaft_torque", {"power": "1 kW", "angular_speed": "100 rad/s"}, "inch", 10),
    ],
)
def test_a_symbol_may_be_written_a_little_otherwise(asked, given, notation, number):
    """With an underscore more or less, or as the Greek letter itself."""
    assert derive(asked, given, notation=notation).result == pytest.approx(number)


def test_a_symbol_written_in_two_ways_is_given_twice():
    with pytest.raises(ValueError, match="number of teeth of the driver is given twice: leave one out"):
        derive("a", {"z_1": 20, "z1": 21, "z2": 40, "m": 2}, notation="iso")


def test_what_no_formula_tells_is_said_to_be_so():
    with pytest.raises(ValueError, match="'mass' is unknown: gearlab has no formula for it"):
        derive("mass", ["N", "P"])


def test_other_names_lead_to_words_and_are_none():
    for row in OTHER_NAMES_ROWS.strip().splitlines():
        names, _, words = row.partition("|")
        assert all(word in QUANTITIES for word in words.split()), row
        assert not [name for name in names.split(",") if name.strip() in QUANTITIES], row
    names = [
        name.strip() for row in OTHER_NAMES_ROWS.split("\n") for name in row.partition("|")[0].split(",")
    ]
    assert len({name for name in names if name}) == len([name for name in names if name])


def test_a_direction_among_sizes_is_named():
    with pytest.raises(ValueError, match="told as a size; give driver_torque and driver_speed as sizes"):
        derive("power", {"driver_torque": "45 N m", "driver_speed": -1450})


def test_of_two_readings_the_refusal_that_names_what_is_missing_is_told():
    with pytest.raises(ValueError, match=r"also needs one of efficiency \(1 where no losses are counted\)"):
        derive("T_2", {"T_1": "45 N m", "N1": 20, "N2": 40})
