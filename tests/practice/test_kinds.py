"""Questions about trains and about pairs with features: answers, wrong answers, worked solutions.

Numbers are worked out by hand beside each question.
"""

import pytest

from gearlab.practice import check_bank, load_bank

HEAD = '[bank]\ntitle = "Vent drive"\nlesson = "05"\n'

# The vent drive with an idler: 18, 30 and 45 teeth, crank at +40 rpm; the last gear turns at 40 * 18/45 = +16 rpm, the idler at -24 rpm.
IDLER = HEAD + """
[[question]]
id = "q"
of = "idler train"
length_unit = "mm"
title = "T"
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

# The same pair set at 79.5 mm in place of 78.75: cos of the working angle is 78.75/79.5 cos 20 = 0.930828, so 21.4379 degrees.
SET = HEAD + """
[[question]]
id = "q"
of = "pair"
features = ["set distance"]
length_unit = "mm"
title = "T"
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


@pytest.fixture
def drawn(bank_file):
    """The question of a bank, with its first values."""

    def draw(text):
        question = load_bank(bank_file(text=text))["q"]
        first = {name: str(given.one_of[0]) for name, given in question.table.givens.items()}
        return question, question.draw_with(first)

    return draw


@pytest.mark.parametrize("text, kind, said", [
    ("16", "right", ""), ("+16 rpm", "right", ""),
    ("-24", "another quantity", "the speed of the second gear"),  # stopped at the idler
    ("100", "ordinary slip", "You exchanged the first gear and the third gear"),  # 40 * 45/18
    ("-16", "wrong sign", "Count the meshes."),  # the bank's own words go before the general ones
])
def test_a_row_of_three(drawn, text, kind, said):
    question, draw = drawn(IDLER)
    verdict = question.judge(draw, {"third_speed": text})["third_speed"]
    assert verdict.kind == kind and said.lower() in verdict.sentence.lower(), verdict
    if kind == "wrong sign":
        assert verdict.points == 0.25
        assert "every mesh turns the direction round" in question.judge(draw, {"third_speed": text}, listed_slips=False)["third_speed"].sentence


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
