"""Slips that students make and nothing knew: each, worked out by a closed form of its own, has to be named.

The numbers follow from what a student does, as the row says in words (common practice); the formulas are
written here and owe nothing to the bank or to theory.
"""

import math
from math import acos, cos, degrees, pi, radians, sin, tan

import pytest

from gearlab.contents import content_folder
from gearlab.practice import load_bank
from gearlab.theory.quantities import QUANTITIES

# lesson, question, answer, wrong number from the draw's numbers, words of the sentence
REACHED = {
    "angle added to the tangent": (
        "06_why_the_involute",
        "involute-function",
        "involute_angle",
        lambda v: tan(radians(v["pressure_angle"])) + radians(v["pressure_angle"]),
        "taken off the tangent",
    ),
    "sine in the involute function": (
        "06_why_the_involute",
        "involute-function",
        "involute_angle",
        lambda v: radians(v["pressure_angle"]) - sin(radians(v["pressure_angle"])),
        "not the sine",
    ),
    "one minus left out": (
        "07_contact",
        "shift-that-clears",
        "least_shift_for_rack",
        lambda v: v["teeth"] * sin(radians(v["pressure_angle"])) ** 2 / 2,
        "left out the 1",
    ),
    "to the wrong side of the hole": (
        "10_on_the_plate",
        "second-hole-level",
        "other_hole_x",
        lambda v: v["hole_x"] - v["centre_distance"],
        "plus and minus",
    ),
    "rise of the chord taken off": (
        "17_measuring",
        "tooth-caliper",
        "chordal_addendum",
        lambda v: v["module"] - v["module"] * v["teeth"] / 2 * (1 - cos(pi / 2 / v["teeth"])),
        "plus and minus",
    ),
    "degrees for turns": (
        "13_rack_and_pinion",
        "turns-for-a-travel",
        "turns",
        lambda v: 360 * v["travel"] / (pi * v["module"] * v["teeth"]),
        "Those are degrees",
    ),
    "change of the backlash alone": (
        "17_measuring",
        "backlash-limits",
        "least_backlash",
        lambda v: 2 * v["distance_variation"] * tan(radians(v["profile_angle"])),
        "left out the design backlash",
    ),
    "losses multiplied, near foot-pounds": (
        "18_design_review",
        "hand-force",
        "crank_torque",
        lambda v: (
            v["design_force"]
            * v["module"]
            * v["vent_pinion_teeth"]
            / 2000
            * v["driver_teeth"]
            / v["driven_teeth"]
            * v["efficiency"] ** 3
        ),
        "Divide by the efficiency",
    ),
    "angle at the rack shaft": (
        "05_idlers_and_trains",
        "idler-off-the-line",
        "idler_angle",
        lambda v: _angle(v, "second"),
        "at the other end of the line",
    ),
    "angle at the idler": (
        "05_idlers_and_trains",
        "idler-off-the-line",
        "idler_angle",
        lambda v: _angle(v, "idler"),
        "at the idler's shaft",
    ),
    "a loss for each gear": (
        "12_power_and_tooth_load",
        "torque-up",
        "driven_torque",
        lambda v: v["driver_torque"] * v["driven_teeth"] / v["driver_teeth"] * v["efficiency"] ** 2,
        "to a mesh, not to a gear",
    ),
    "turns for radians": (
        "13_rack_and_pinion",
        "rack-speed",
        "rack_speed",
        lambda v: v["module"] * v["teeth"] / 2 * v["speed"] / 60,
        "two pi of them",
    ),
    "torques added": (
        "15_planetary_sets",
        "torque-on-the-ring",
        "ring_torque",
        lambda v: v["sun_torque"] * (2 + v["ring_teeth"] / v["sun_teeth"]),
        "more than the sun",
    ),
    "kelvins from absolute zero": (
        "17_measuring",
        "warm-greenhouse",
        "distance_growth",
        lambda v: v["expansion"] * (v["warming"] + 273) * v["nominal_distance"] / 1000,
        "nothing is added",
    ),
    "hub turned outwards": (
        "10_on_the_plate",
        "overhung-moment",
        "overhung_moment",
        lambda v: v["shaft_force"] * (v["axial_gap"] + v["face_width"] / 2),
        "hub turned outwards",
    ),
    "gap of the first gear left out": (
        "10_on_the_plate",
        "level-faces",
        "other_gap",
        lambda v: (
            v["overall_length"] - v["face_width"] / 2 - v["other_overall_length"] + v["other_face_width"] / 2
        ),
        "a gap of its own",
    ),
}


def _angle(v, at):
    """An angle of the triangle of three shafts by the law of cosines [deg]."""
    line = v["shaft_spacing"]
    first = v["module"] * (v["first_teeth"] + v["second_teeth"]) / 2
    second = v["module"] * (v["second_teeth"] + v["third_teeth"]) / 2
    opposite, one, other = {"second": (first, second, line), "idler": (line, first, second)}[at]
    return degrees(acos((one**2 + other**2 - opposite**2) / (2 * one * other)))


@pytest.mark.parametrize("case", REACHED)
def test_a_slip_is_named(case):
    lesson, question_id, answer_id, wrong, words = REACHED[case]
    question = load_bank(content_folder("exercises") / lesson)[question_id]
    told = tried = 0
    for number in range(8):
        draw = question.draw("reached", number)
        value = wrong(draw.values)
        text = f"{value:.5g}" if abs(value) < 1e5 else f"{value:.0f}"
        texts = dict(zip((answer.id for answer in question.answers), (f"{key:.8g}" for key in draw.keys)))
        verdict = question.judge(draw, texts | {answer_id: text})[answer_id]
        if math.isclose(value, 0, abs_tol=1e-9) or verdict.right:
            continue
        tried += 1
        told += words in verdict.sentence
        assert "the the" not in verdict.sentence and "the what" not in verdict.sentence
    assert tried >= 5 and told >= 0.75 * tried


def test_no_length_of_a_sum_is_turned_over():
    """A keyway's depth is taken off a wall: nobody divides by it, so nobody is told not to."""
    question = load_bank(content_folder("exercises") / "11_hub_bore_key")["keyway-under-a-space"]
    answer = question.answers[0]
    assert not [
        cause.sentence
        for cause in question.slips_of(answer).causes
        if "by the depth of the keyway" in cause.sentence
    ]


def test_every_quantity_can_be_read_after_the():
    spoilt = {"the", "a", "an", "what", "whether", "how", "which", "where"}
    assert not [word for word, row in QUANTITIES.items() if row.meaning.split()[0].lower() in spoilt]


@pytest.mark.parametrize(("left", "together", "carried"), [("0", "1", True), ("1", "1", False)])
def test_nothing_left_over_is_carried_on(left, together, carried):
    """Without a remainder the set goes together: a wrong zero, followed rightly, earns the second part."""
    question = load_bank(content_folder("exercises") / "15_planetary_sets")["will-they-fit"]
    draw = next(d for n in range(50) if (d := question.draw("zero", n)).keys[0] > 1)
    verdicts = question.judge(draw, {"assembly_remainder": left, "goes_together": together})
    assert not verdicts["assembly_remainder"].right
    assert verdicts["goes_together"].carried is carried
