"""Sentences that were said of wrong answers of which they do not hold.

The wrong numbers are worked out here from the givens, as students make them (common practice of marking, from
memory); what may not be said of each is what the number itself contradicts.
"""

import math

import pytest


def sentence_on(question, draw, answer, value):
    """The sentence on a number typed in full."""
    return question.judge(draw, {answer: f"{value:.7g}"})[answer].sentence


DRAWS = range(12)


@pytest.mark.parametrize("number", DRAWS)
def test_a_count_not_rounded_is_not_another_pressure_angle(number, banks):
    question = banks["06_why_the_involute"]["root-outside-base"]
    draw = question.draw("not misled", number)
    exact = 2.5 / (1 - math.cos(math.radians(draw.values["pressure_angle"])))
    sentence = sentence_on(question, draw, question.answers[0].id, exact)
    assert "20 degrees" not in sentence and "whole number" in sentence


@pytest.mark.parametrize("number", DRAWS)
def test_a_quarter_of_the_hole_is_not_called_half_of_it(number, banks):
    question = banks["10_on_the_plate"]["edge-distance"]
    draw = question.draw("not misled", number)
    quarter = draw.values["edge_distance"] - draw.values["hole_diameter"] / 4
    sentence = sentence_on(question, draw, question.answers[0].id, quarter)
    assert "You took half" not in sentence  # half of it is right


@pytest.mark.parametrize("number", DRAWS)
def test_a_right_angle_is_not_to_be_halved(number, banks):
    question = banks["06_why_the_involute"]["draw-the-line-of-action"]
    draw = question.draw("not misled", number)
    straight = 180 - draw.values["pressure_angle"]
    sentence = sentence_on(question, draw, "action_angle_to_centres", straight)
    assert "half of the right angle" not in sentence
    assert "Take a right angle, not half a turn" in sentence


@pytest.mark.parametrize("number", DRAWS)
def test_four_teeth_under_the_size_over_tips_are_no_outside_diameter(number, banks):
    question = banks["01_teeth_and_diameter"]["module-of-scrap-gear"]
    draw = question.draw("not misled", number)
    four = draw.values["outside_diameter"] / (draw.values["teeth"] + 4)
    sentence = sentence_on(question, draw, "module", four)
    assert "You used the outside diameter" not in sentence  # it was to be used
    assert "two teeth's worth too many" in sentence
