"""Wrong answers worked by a wrong method that a teacher would name, and what is said of them.

The numbers are worked out here from the givens by that method, never taken from the slips (common practice of
marking; from memory).
"""

from math import acos, atan, cos, degrees, pi, radians, tan

import pytest

from gearlab.contents import content_folder
from gearlab.practice import load_bank


def answers(folder, question):
    """The question, a draw, its shown givens by word, and the right numbers by answer."""
    found = load_bank(content_folder("exercises") / folder)[question]
    draw = found.draw("teacher", 1)
    return found, draw, draw.values, {a.id: key for a, key in zip(found.answers, draw.keys)}


def told(folder, question, answer, number, text="{:.5g}"):
    """What is said of a number, with the right answers before it."""
    found, draw, _, keys = answers(folder, question)
    typed = {}
    for each, key in keys.items():
        typed[each] = text.format(number) if each == answer else f"{key:.10g}"
    return found.judge(draw, typed)[answer]


# folder, question, answer, the wrong method over the givens g and the right answers k, words of the sentence
METHODS = [
    ("06_why_the_involute", "two-pressure-angles", "separating_force_increase", "share of the other one",
     lambda g, k: 100 * (1 - 1 / (1 + k["separating_force_increase"] / 100))),
    ("10_on_the_plate", "stack-tolerances", "likely_variation", "you took the mean",
     lambda g, k: k["worst_case"] / 3),
    ("11_hub_bore_key", "chuck-reach", "chuck_reach", "whole diameters",
     lambda g, k: g["module"] * (g["teeth"] + 2) - g["hub_diameter"] + g["drill_depth"]),
    ("12_power_and_tooth_load", "torque-from-power", "driver_torque", "two pi radians",
     lambda g, k: g["power"] / g["driver_speed"]),
    ("04_ratio_speed_direction", "angular-speed", "driver_angular_speed", "other way round",
     lambda g, k: g["driver_speed"] * 60 / (2 * pi)),
    ("08_backlash", "backlash-from-opening", "quick_backlash", "other way round",
     lambda g, k: g["distance_opening"] / (2 * tan(radians(g["pressure_angle"])))),
    ("05_idlers_and_trains", "idler-off-the-line", "idler_angle", "no right angle",
     lambda g, k: degrees(acos(k["first_centre_distance"] / g["shaft_spacing"]))),
    ("18_design_review", "opening-angle", "opening_angle", "no right angle",
     lambda g, k: degrees(atan(g["rack_travel"] / g["joint_distance"]))),
    ("14_mitre_and_bevel", "cone-angles", "driver_cone_angle", "in proportion",
     lambda g, k: 90 * g["driver_teeth"] / (g["driver_teeth"] + g["driven_teeth"])),
    ("06_why_the_involute", "involute-function", "involute_angle", "as radians",
     lambda g, k: tan(g["pressure_angle"]) - g["pressure_angle"]),
    ("15_planetary_sets", "will-they-fit", "assembly_remainder", "not what is left over",
     lambda g, k: (g["sun_teeth"] + g["ring_teeth"]) / g["planets"]),
    ("13_rack_and_pinion", "length-of-the-rack", "rack_teeth", "other way",
     lambda g, k: k["rack_teeth"] - 1),
]  # fmt: skip


@pytest.mark.parametrize("row", METHODS, ids=[f"{row[1]}: {row[3]}" for row in METHODS])
def test_the_method_is_named(row):
    folder, question, answer, words, method = row
    _, _, givens, keys = answers(folder, question)
    verdict = told(folder, question, answer, method(givens, keys))
    assert words in verdict.sentence, verdict.sentence


def test_the_usual_pressure_angle_in_place_of_the_given_one():
    """Base diameter d cos(20 deg) where the question gives another angle."""
    found = load_bank(content_folder("exercises") / "06_why_the_involute")["base-circle"]
    for number in range(20):
        draw = found.draw("teacher", number)
        g = draw.values
        if g["pressure_angle"] == 20:
            continue
        wrong = g["module"] * g["teeth"] * cos(radians(20))
        verdict = found.judge(draw, {"base_diameter": f"{wrong:.6g}"})["base_diameter"]
        assert "You worked with 20 degrees" in verdict.sentence, verdict.sentence
        return
    pytest.fail("no draw has another pressure angle than 20 degrees")


def test_a_count_that_needs_no_rounding_was_not_rounded_the_other_way():
    """A ratio of 2 from 18 teeth asks for 36: who says 35 has rounded nothing."""
    found = load_bank(content_folder("exercises") / "04_ratio_speed_direction")["wheel-for-a-ratio"]
    for number in range(20):
        draw = found.draw("teacher", number)
        exact = draw.values["ratio"] * draw.values["driver_teeth"]
        if exact == round(exact):
            verdict = found.judge(draw, {"driven_teeth": str(round(exact) - 1)})["driven_teeth"]
            assert "ounded" not in verdict.sentence


TYPED = [
    (
        "12_power_and_tooth_load",
        "torque-from-power",
        "driver_torque",
        "in newton millimetres",
        lambda k: 1000 * k,
    ),
    ("04_ratio_speed_direction", "signed-speed", "driven_speed", "in rad/s", lambda k: k * 2 * pi / 60),
    ("04_ratio_speed_direction", "angle-after-a-time", "driven_angle", "whole turn", lambda k: k + 360),
    (
        "14_mitre_and_bevel",
        "cone-angles",
        "driver_cone_angle",
        "for the angle itself",
        lambda k: tan(radians(k)),
    ),
]


@pytest.mark.parametrize("row", TYPED, ids=[row[1] for row in TYPED])
def test_another_unit_a_turn_more_and_the_tangent_are_named(row):
    """1 N m = 1000 N mm, 1 rpm = 2 pi/60 rad/s by definition; a tangent is no angle."""
    folder, question, answer, words, of_key = row
    keys = answers(folder, question)[3]
    verdict = told(folder, question, answer, of_key(keys[answer]), "{:.6g}")
    assert words in verdict.sentence, verdict.sentence


def test_the_difference_of_the_teeth_is_named_with_either_sign():
    """375 rpm less the difference of the counts, with the direction put right."""
    _, _, g, _ = answers("04_ratio_speed_direction", "signed-speed")
    wrong = g["driver_speed"] - (g["driven_teeth"] - g["driver_teeth"])
    verdict = told("04_ratio_speed_direction", "signed-speed", "driven_speed", -wrong)
    assert "difference of the teeth" in verdict.sentence


@pytest.mark.parametrize(
    ("folder", "question", "answer"),
    [
        ("01_teeth_and_diameter", "pitch-diameter-inch", "pitch_diameter"),
        ("02_pitch_and_proportions", "base-pitch", "base_pitch"),
    ],
)
def test_a_number_rounded_too_far_is_told_so(folder, question, answer):
    """Two figures of a number that is asked to three or more; a number that is merely near is not."""
    found = load_bank(content_folder("exercises") / folder)[question]
    seen = 0
    for number in range(40):
        draw = found.draw("teacher", number)
        (key,) = draw.keys
        verdict = found.judge(draw, {answer: f"{key:.1f}" if key < 10 else f"{key:.0f}"})[answer]
        if verdict.kind == "not recognised":
            seen += 1
            assert verdict.sentence.startswith("Not exact enough") and verdict.points == 0
    assert seen
    beside = found.judge(draw, {answer: f"{key * 1.07:.4g}"})[answer]
    assert "Not exact enough" not in beside.sentence


@pytest.mark.parametrize(
    ("folder", "question", "answer", "says", "not_said"),
    [
        ("05_idlers_and_trains", "direction-in-a-row", "direction_factor", "follow it from", "order"),
        ("13_rack_and_pinion", "direction-below", "rack_direction", "", "order"),
        ("03_centre_distance", "caliper-over-pins", "spacing_miss", "order", "follow"),
        ("08_backlash", "backlash-from-opening", "quick_backlash", "sign", "order"),
    ],
)
def test_of_a_wrong_sign_only_a_difference_is_told_of_its_order(folder, question, answer, says, not_said):
    """A direction is followed from part to part; two numbers are subtracted in an order."""
    key = answers(folder, question)[3][answer]
    sentence = told(folder, question, answer, -key).sentence
    assert says in sentence and not_said not in sentence, sentence
