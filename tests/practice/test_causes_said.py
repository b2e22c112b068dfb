"""What is said of wrong answers that a student would really give: the cause, and no sentence that misleads.

Every wrong number is worked out here by hand from the numbers drawn.
"""

import math

import pytest

from gearlab.contents import content_folder
from gearlab.practice import load_bank, tutor


def judged(lesson, question, givens, answer, number):
    """Titles of the causes that are named, all that is said, and what the box asks first."""
    asked = load_bank(content_folder("exercises") / lesson)[question]
    draw = asked.draw_with({word: str(value) for word, value in givens.items()})
    verdict = asked.judge(draw, {answer: f"{number:.5g}"})[answer]
    assert not verdict.right
    return (
        [cause.title for cause in verdict.causes],
        verdict.sentence,
        tutor.first(asked, draw, answer, verdict),
    )


@pytest.mark.parametrize(
    ("lesson", "question", "givens", "answer", "number", "title"),
    [
        # 0.1 hp are 3300 ft lbf a minute, 39,600 lbf in; by 75 turns a minute, not 75 times two pi radians
        (
            "12_power_and_tooth_load",
            "motor-to-teeth-inch",
            {"power": 0.1, "driver_speed": 75, "driver_teeth": 28, "diametral_pitch": 10},
            "driver_torque",
            0.1 * 33_000 * 12 / 75,
            "left out 2 pi",
        ),
        # a third of the cone distance of 19 and 32 teeth is 0.62 in; ten modules are 1 in
        (
            "14_mitre_and_bevel",
            "cone-distance-and-face-inch",
            {"driver_teeth": 19, "driven_teeth": 32, "diametral_pitch": 10},
            "largest_face",
            10 / 10,
            "took the larger limit",
        ),
        # 0.13 mm on a radius of 97.5 mm, in minutes of arc
        (
            "08_backlash",
            "rocking-angle",
            {"backlash": 0.13, "driven_pitch_diameter": 195},
            "driven_play_angle",
            60 * math.degrees(0.13 / 97.5),
            "degrees and minutes of arc",
        ),
        # 48 lbf on a tooth 0.375 in wide of P = 8, Y = 0.309: 3313.9 psi, at 145.038 psi to the megapascal
        (
            "12_power_and_tooth_load",
            "stall-inch",
            {
                "driver_torque": 54,
                "driver_teeth": 18,
                "diametral_pitch": 8,
                "face_width": 0.375,
                "form_factor": 0.309,
                "allowable_stress": 3500,
            },
            "bending_stress",
            48 * 8 / 0.375 / 0.309 / 145.038,
            "answer in MPa",
        ),
        # a span over six teeth in place of seven: half a base pitch less than 6.5 of them, twice
        (
            "17_measuring",
            "span-over-teeth-inch",
            {"teeth": 55, "diametral_pitch": 10, "span_teeth": 7},
            "span",
            0.1 * math.cos(math.radians(20)) * (5.5 * math.pi + 55 * 0.0149044),
            "teeth in the span: one too few",
        ),
    ],
)
def test_the_cause_is_named(lesson, question, givens, answer, number, title):
    titles, sentence, first = judged(lesson, question, givens, answer, number)
    assert titles == [title]
    assert "per second" not in sentence + first and first.endswith("?")


def test_no_diameter_is_spoken_of_where_teeth_are_counted():
    """28 and 35 teeth: all spaces, 100 %, is what no common factor would give; nothing was measured."""
    titles, sentence, _ = judged(
        "04_ratio_speed_direction",
        "how-many-partners",
        {"driver_teeth": 28, "driven_teeth": 35},
        "share_of_spaces",
        100,
    )
    assert not any("diameter" in title for title in titles) and "diameter" not in sentence


def test_minutes_and_seconds_stay_where_something_runs():
    titles, sentence, _ = judged(
        "06_why_the_involute",
        "contact-point-speed",
        {"teeth": 44, "module": 1.25, "pressure_angle": 25, "speed": 235},
        "action_speed",
        math.pi * 0.055 * math.cos(math.radians(25)) * 235 / 60 / 60,
    )
    assert titles == ["minutes and seconds"] and "per minute or per second" in sentence
