"""Questions about trains and about pairs with features: answers, wrong answers, worked solutions.

Numbers are worked out by hand beside each question.
"""

import pytest

from gearlab.practice import check_bank, load_bank

HEAD = '[bank]\ntitle = "Vent drive"\nlesson = "05"\n'

# The vent drive with an idler: 18, 30 and 45 teeth, crank at +40 rpm; the last gear turns at 40 * 18/45 = +16
# rpm, the idler at -24 rpm.
IDLER = (
    HEAD
    + """
[[question]]
id = "q"
of = "idler train"
length_unit = "mm"
title = "T"
hints = ["What is asked?", "What is given?", "Put one into the other."]
prompt = "P"
[question.givens]
first_teeth = { one_of = [18, 19] }
second_teeth = { one_of = [30, 31] }
third_teeth = { one_of = [45, 46] }
first_speed = { one_of = [40, 50] }
[[question.answers]]
asked = "third_speed"
unit = "rpm"
tolerance = { relative = 0.005 }
[[question.answers.slips]]
name = "one-mesh"
title = "counted one mesh"
formula = "-first_speed * first_teeth / third_teeth"
says = "Count the meshes."
credit = 0.25
"""
)

# The same pair set at 79.5 mm in place of 78.75: cos of the working angle is 78.75/79.5 cos 20 = 0.930828, so
# 21.4379 degrees.
SET = (
    HEAD
    + """
[[question]]
id = "q"
of = "pair"
features = ["set distance"]
length_unit = "mm"
title = "T"
hints = ["What is asked?", "What is given?", "Put one into the other."]
prompt = "P"
[question.givens]
driver_teeth = { one_of = [18, 19] }
driven_teeth = { one_of = [45, 46] }
module = { one_of = [2.5] }
pressure_angle = { one_of = [20] }
centre_distance = { one_of = [79.5, 82.5] }
[[question.answers]]
asked = "operating_pressure_angle"
unit = "deg"
tolerance = { absolute = 0.01 }
"""
)


@pytest.fixture
def drawn(bank_file):
    """The question of a bank, with its first values."""

    def draw(text):
        question = load_bank(bank_file(text=text))["q"]
        first = {name: str(given.one_of[0]) for name, given in question.table.givens.items()}
        return question, question.draw_with(first)

    return draw


@pytest.mark.parametrize(
    "text, kind, said",
    [
        ("16", "right", ""),
        ("+16 rpm", "right", ""),
        ("-24", "another quantity", "the speed of the second gear"),  # stopped at the idler
        ("100", "ordinary slip", "You exchanged the first gear and the third gear"),  # 40 * 45/18
        ("-16", "wrong sign", "Count the meshes."),  # the bank's own words go before the general ones
    ],
)
def test_a_row_of_three(drawn, text, kind, said):
    question, draw = drawn(IDLER)
    verdict = question.judge(draw, {"third_speed": text})["third_speed"]
    assert verdict.kind == kind and said.lower() in verdict.sentence.lower(), verdict
    if kind == "wrong sign":
        assert verdict.points == 0.25
        assert (
            "every mesh reverses the direction"
            in question.judge(draw, {"third_speed": text}, listed_slips=False)["third_speed"].sentence
        )


def test_a_distance_of_its_own(drawn):
    question, draw = drawn(SET)
    assert question.judge(draw, {"operating_pressure_angle": "21.438"})["operating_pressure_angle"].right
    verdict = question.judge(draw, {"operating_pressure_angle": "20"})["operating_pressure_angle"]
    assert verdict.kind == "another quantity" and "pressure angle" in verdict.sentence
    assert "78.75" in question.solution(draw, "text") and "21.43" in question.solution(draw, "text")


@pytest.mark.parametrize("text", [IDLER, SET])
def test_such_a_bank_is_in_order(bank_file, text):
    assert check_bank(bank_file(text=text), draws=20) == []


def test_without_the_feature_the_distance_is_not_free(bank_file):
    path = bank_file(text=SET.replace('features = ["set distance"]\n', ""))
    assert any("operating_pressure_angle" in line for line in check_bank(path, draws=5))


# The marks of the vent drive (published in no table; the geometry of two gears): the driver of 18 teeth
# stands at 4 degrees, the wheel of 45 lies to its right.  The turn 4 degrees clockwise of the line of centres
# is worth 4 * 18/45 = 1.6 degrees of the wheel; seen back along the line it starts at 180 degrees, and half a
# pitch of 8 degrees makes a space: 180 + 4 - 1.6 = 182.4 degrees, which is 6.4 within one pitch.
MARKS = (
    HEAD
    + """
[[question]]
id = "q"
of = "pair"
length_unit = "mm"
title = "T"
hints = ["What is asked?", "What is given?", "Put one into the other."]
prompt = "P"
[question.givens]
driver_teeth = { one_of = [18, 20] }
driven_teeth = { one_of = [45, 46] }
line_angle = { one_of = [0] }
driver_mark_angle = { one_of = [4, 5] }
[[question.answers]]
asked = "driven_mark_angle"
unit = "deg"
modulo = "360 / driven_teeth"
tolerance = { absolute = 0.05 }
[[question.answers.slips]]
name = "tooth"
title = "put a tooth there"
formula = "180 - driver_mark_angle * driver_teeth / driven_teeth"
says = "A space belongs there, not a tooth."
credit = 0.5
"""
)


@pytest.mark.parametrize(
    "text, kind, points",
    [
        ("6.4", "right", 1),
        ("6.4 deg", "right", 1),
        ("-1.6", "right", 1),
        ("182.4", "right", 1),
        ("14.4°", "right", 1),
        ("-353.6", "right", 1),
        ("0.1117 rad", "right", 1),  # 6.4 degrees
        ("6.36", "right", 1),
        ("14.35", "right", 1),  # within 0.05 degrees, a pitch on as well
        ("6.5", "close", 0.75),
        ("-1.5", "close", 0.75),  # within three tolerances
        ("-6.4", "wrong sign", 0.5),
        ("1.6", "wrong sign", 0.5),  # the mirror image: 8 - 6.4
        # half a pitch off: 180 - 1.6, up to whole pitches
        ("178.4", "listed slip", 0.5),
        ("2.4", "listed slip", 0.5),
        ("-5.6", "listed slip", 0.5),
        ("3.13", "not recognised", 0),
    ],
)
def test_angles_up_to_whole_pitches(drawn, text, kind, points):
    question, draw = drawn(MARKS)
    verdict = question.judge(draw, {"driven_mark_angle": text})["driven_mark_angle"]
    assert (verdict.kind, verdict.points) == (kind, points), verdict


def test_slips_of_such_an_angle_are_named_without_a_list(drawn):
    question, draw = drawn(MARKS)
    # forgot the half turn: 4 - 1.6 = 2.4 is also half a pitch off here; forgot the ratio: 184 - 4 = 180,
    # which is 4 within one pitch
    for text in ("4", "180", "-4"):
        verdict = question.judge(draw, {"driven_mark_angle": text}, listed_slips=False)["driven_mark_angle"]
        assert verdict.causes, text


def test_the_solution_says_that_others_are_right_too(drawn, bank_file):
    question, draw = drawn(MARKS)
    for form in ("text", "markdown", "html"):
        assert "whole multiple of 8 deg are right too" in question.solution(draw, form)
    assert check_bank(bank_file(text=MARKS), draws=20) == []


@pytest.mark.parametrize(
    "old, new, says",
    [
        ("{ absolute = 0.05 }", "{ relative = 0.01 }", "modulo: needs tolerance"),
        ("360 / driven_teeth", "360 / wheel_teeth", "modulo: '360 / wheel_teeth'"),
        ("360 / driven_teeth", "driven_teeth - 45", "modulo: the formula must give a positive number"),
        ('unit = "deg"\n', 'unit = "deg"\nsize_only = true\n', "modulo: does not go with size_only"),
    ],
)
def test_a_wrong_period_is_told(bank_file, old, new, says):
    assert any(says in line for line in check_bank(bank_file(text=MARKS.replace(old, new)), draws=10))
