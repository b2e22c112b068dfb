"""Causes that no bank lists: how many wrong answers they name, and how many numbers that mean nothing."""

import sys
from pathlib import Path

import pytest

from gearlab.contents import content_folder
from gearlab.practice import load_bank

sys.path.insert(0, str(Path(__file__).parents[1] / "bench"))
import causes  # noqa: E402


@pytest.fixture(scope="module")
def cases():
    return list(causes.collected(causes.DATA / "slips_L01_L06.toml", causes.DATA / "blueprints_L01_L06.toml"))


def test_most_collected_wrong_answers_are_named_without_being_listed(cases):
    shares = causes.slips_named(cases, draws=6)
    assert len(shares) > 100
    assert sum(share >= 0.5 for share in shares.values()) / len(shares) >= 0.85


def test_few_random_numbers_get_a_cause(cases):
    questions = {id(case[0]): case[0] for case in cases}.values()
    ways, by_answer = causes.random_named(questions, draws=2, each=40)
    shares = [ways[way] for way in ("3 digits", "4 digits", "in full")]
    assert sum(shares) / 3 <= 0.012 and max(shares) <= 0.02
    assert max(by_answer.values()) <= 0.06  # of 240 numbers for each answer
    assert ways["whole"] <= 0.15  # whole numbers are few: one near the right one means something more often
    with_lists, _ = causes.random_named(questions, draws=1, each=30, listed=True)
    assert max(with_lists[way] for way in ("3 digits", "4 digits", "in full")) <= 0.03


# Question, answer, what a student did, the number from the shown values, the cause that has to be named.
BY_HAND = [
    ("01_teeth_and_diameter", "pitch-diameter-inch", "pitch_diameter", lambda v: (v["teeth"] + 2) / v["diametral_pitch"], "outside_diameter"),
    ("01_teeth_and_diameter", "pitch-diameter-inch", "pitch_diameter", lambda v: v["teeth"] * v["diametral_pitch"], "inverted diametral_pitch (pitch_diameter)"),
    ("01_teeth_and_diameter", "pitch-diameter-metric", "pitch_diameter", lambda v: 3.14159265 * v["teeth"] * v["module"], "pitch_circumference"),
    ("01_teeth_and_diameter", "teeth-from-blank", "teeth", lambda v: round(v["diametral_pitch"] * v["outside_diameter"]) - 1, "coefficient (pitch_diameter)"),
    ("01_teeth_and_diameter", "teeth-from-blank", "teeth", lambda v: round(v["diametral_pitch"] * v["outside_diameter"]) + 2, "sign (pitch_diameter)"),
    ("02_pitch_and_proportions", "base-pitch", "base_pitch", lambda v: 3.14159265 * v["module"] * __import__("math").cos(v["pressure_angle"]), "radian mode (base_pitch)"),
    ("02_pitch_and_proportions", "base-pitch", "base_pitch", lambda v: 3.14159265 * v["module"] * __import__("math").sin(v["pressure_angle"] / 57.29578), "sine (base_pitch)"),
    ("02_pitch_and_proportions", "tooth-heights", "dedendum", lambda v: 1.157 / v["diametral_pitch"], "older tooth system"),
    ("02_pitch_and_proportions", "outside-diameter-inch", "outside_diameter", lambda v: (v["teeth"] + 1) / v["diametral_pitch"], "coefficient (outside_diameter)"),
    ("02_pitch_and_proportions", "outside-diameter-inch", "outside_diameter", lambda v: (v["teeth"] + 2.5) / v["diametral_pitch"], "dedendum for addendum"),
    ("02_pitch_and_proportions", "outside-diameter-inch", "outside_diameter", lambda v: v["teeth"] / v["diametral_pitch"] + 2, "without diametral_pitch (addendum)"),
    ("02_pitch_and_proportions", "module-from-depth", "module", lambda v: v["whole_depth"] / 2, "whole_depth as working_depth"),
    ("03_centre_distance", "spacing-metric", "centre_distance", lambda v: v["module"] * (2 * v["driver_teeth"] + v["driven_teeth"]) / 2, "coefficient (centre_distance)"),
    ("03_centre_distance", "spacing-metric", "centre_distance", lambda v: (v["driver_teeth"] + v["driven_teeth"]) / 2, "without module (pitch_diameter)"),
    ("03_centre_distance", "inch-gears-metric-plate", "centre_distance",
     lambda v: (v["driver_teeth"] + 25.4 * v["driven_teeth"]) / 2 / v["diametral_pitch"], "half converted"),
    ("04_ratio_speed_direction", "speed-ratio", "ratio", lambda v: (v["driven_teeth"] + 2) / (v["driver_teeth"] + 2), "tips"),
    ("04_ratio_speed_direction", "driven-speed", "driven_speed", lambda v: v["driver_speed"] * (v["driver_teeth"] / v["driven_teeth"]) ** 2, "ratio twice"),
    ("04_ratio_speed_direction", "marks-meet-again", "driver_turns_to_repeat", lambda v: v["driven_teeth"], "driven_teeth"),
    ("04_ratio_speed_direction", "pitch-line-speed", "pitch_line_speed", lambda v: v["module"] * v["driver_teeth"] * v["driver_speed"] / 60000, "pi missing"),
]


@pytest.mark.parametrize("folder, question, answer, number, name", BY_HAND, ids=[f"{row[1]}-{row[4]}" for row in BY_HAND])
def test_cause(folder, question, answer, number, name):
    question = load_bank(content_folder("exercises") / folder)[question]
    named = 0
    for turn in range(10):
        draw = question.draw("by hand", turn)
        verdict = question.judge(draw, {answer: f"{number(draw.values):.6g}"}, listed_slips=False)[answer]
        named += any(cause.name == name for cause in verdict.causes)
        assert not verdict.right
    assert named >= 8, [cause.name for cause in verdict.causes]
