"""What decisions do to the verdicts of each kind of question, one answer at a time.

Expected verdicts follow from the words of the decision and from geometry by hand (base diameter = d cos of
the pressure angle), never from our own output.
"""

import math

import pytest
from decidedcourse import ROSTER, write_class

from gearlab.contents import content_folder
from gearlab.course.decisions.checks import checked
from gearlab.course.decisions.file import read_tables
from gearlab.course.decisions.marks import Judgement, accepts, shares
from gearlab.course.handout.edition import frozen_edition
from gearlab.practice import HomeworkSet, SetEntry, load_bank

WHO = '\nby = "B. Instructor"\nwhy = "because"\n'


def set_of(question):
    return HomeworkSet(
        "s", "S", "marked", question.path, (SetEntry(question, question.points, question.path),)
    )


def decided(question, text):
    return list(checked(read_tables("d.toml", (text + WHO).encode()), set_of(question), ROSTER).all)


def verdicts(question, draw, texts, decisions):
    read = question.readings(texts)
    found = question.judge(draw, texts, read=read)
    return Judgement(question, draw, read, found, decisions)


def bank_question(lesson, name):
    return load_bank(content_folder("exercises") / lesson)[name]


def test_an_option_of_several_that_counts_either_way():
    question = bank_question("09_lining_up_the_teeth", "which-wheels-go-together")
    draw = question.draw("decisions")
    letter = {text: name for name, text in draw.options}
    right = [o.text for o in question.table.options if o.right]
    also, other = [o.text for o in question.table.options if not o.right][:2]
    text = f'[[%s]]\nquestion = "{question.id}"\noption = "{also}"'
    ticked = {
        "right": right,
        "right and also": [*right, also],
        "also alone": [also],
        "right and another": [*right, other],
        "all but one": right[1:],
    }

    def outcome(kind):
        decisions = decided(question, text % kind)
        return [
            name
            for name, options in ticked.items()
            if verdicts(question, draw, {"choice": ", ".join(letter[o] for o in options)}, decisions)
            .verdicts["choice"]
            .right
        ]

    assert outcome("also_right") == ["right", "right and also"]  # neither for nor against
    assert outcome("wrong_key") == ["right", "right and also"]  # the old key stands
    text += '\nold = "falls"'
    assert outcome("wrong_key") == ["right and also"]


def test_a_condition_of_a_design_may_be_another_one():
    question = bank_question("16_choosing_tooth_counts", "design-a-hunting-pair")
    draw = question.draw("decisions")
    row = decided(
        question,
        f'[[also_right]]\nquestion = "{question.id}"\nanswer = "spacing"\nformula = "driver_teeth +'
        f' driven_teeth >= 60"',
    )
    for driver, driven, met in (("20", "40", True), ("20", "39", False), ("20", "", False)):
        texts = {"driver_teeth": driver, "driven_teeth": driven}
        assert accepts(row[0].table, question, draw, "spacing", question.readings(texts)) is met
        before = question.judge(draw, texts)["spacing"].right
        assert verdicts(question, draw, texts, row).verdicts["spacing"].right is (before or met)


@pytest.fixture(scope="module")
def pinion(tmp_path_factory):
    course = write_class(tmp_path_factory.mktemp("kinds"))
    return frozen_edition(course[3], "homework-1").load()["pinion"].question


@pytest.mark.parametrize("old", ["stands", "falls"])
def test_a_corrected_key_is_carried_on_to_later_answers(pinion, old):
    """The key of the pitch diameter is corrected to twice of it: d_b = d cos follows from either."""
    draw = pinion.draw("decisions")
    m, z, angle = (draw.values[name] for name in ("module", "teeth", "pressure_angle"))
    decisions = decided(
        pinion,
        f'[[wrong_key]]\nquestion = "pinion"\nanswer = "pitch_diameter"\nformula ='
        f' "2*module*teeth"\nold = "{old}"',
    )
    cos = math.cos(math.radians(angle))

    def right(pitch, base):
        texts = {"pitch_diameter": f"{pitch:.5f}", "base_diameter": f"{base:.5f}"}
        found = verdicts(pinion, draw, texts, decisions).verdicts
        return found["pitch_diameter"].right, found["base_diameter"].right

    assert right(2 * m * z, 2 * m * z * cos) == (True, True)
    assert right(m * z, m * z * cos) == (old == "stands", True)  # carried on from the own number
    assert right(3 * m * z, 3 * m * z * cos) == (False, True)
    assert right(2 * m * z, 1.7 * m * z) == (True, False)


def test_a_key_may_be_another_quantity_that_theory_derives(pinion):
    """d_o = m (z + 2), full depth: the plain definition."""
    draw = pinion.draw("decisions")
    m, z = draw.values["module"], draw.values["teeth"]
    text = '[[wrong_key]]\nquestion = "pinion"\nanswer = "pitch_diameter"\nold = "falls"\nquantity = "%s"'
    decisions = decided(pinion, text % "outside_diameter")
    for number, right in ((m * (z + 2), True), (m * z, False)):
        found = verdicts(pinion, draw, {"pitch_diameter": f"{number} mm"}, decisions)
        assert found.verdicts["pitch_diameter"].right is right
        assert f"Right with your numbers is {m * (z + 2):g} mm." in found.told[0].words
    for word, told in (
        ("outside_diametre", "near: outside_diameter"),
        ("ratio", "of another kind"),
        ("centre_distance", "quantity"),
    ):
        with pytest.raises(ValueError, match=told):
            decided(pinion, text % word)


def test_a_number_that_counts_too_is_judged_like_any_other(pinion):
    """In another unit, within the tolerance of the question, and later answers are told plainly."""
    draw = pinion.draw("decisions")
    decisions = decided(
        pinion, '[[also_right]]\nquestion = "pinion"\nanswer = "pitch_diameter"\nvalue = "10 in"\ncredit = 1'
    )
    cos = math.cos(math.radians(draw.values["pressure_angle"]))
    for text, right in (
        ("254 mm", True),
        ("10 in", True),
        ("254.1", True),
        ("255", False),
        ("-254", False),
        ("", False),
    ):
        assert (
            verdicts(pinion, draw, {"pitch_diameter": text}, decisions).verdicts["pitch_diameter"].right
            is right
        )
    found = verdicts(pinion, draw, {"pitch_diameter": "254", "base_diameter": f"{254 * cos:.4f}"}, decisions)
    assert found.verdicts["base_diameter"].sentence == "Right with your own earlier number."
    assert [told.kind for told in found.told] == ["also_right"]


def test_points_of_what_is_left_out_are_spread_in_proportion(tmp_path):
    """By hand: 12 points; pitch (1) over the other 11, base diameter (1) over the 2 left of its question."""
    homework = frozen_edition(write_class(tmp_path)[3], "homework-1").load()
    text = f'[[leave_out]]\nquestion = "pitch"\npoints = "spread"{WHO}'
    text += f'[[leave_out]]\nquestion = "pinion"\nanswer = "base_diameter"\npoints = "spread"{WHO}'
    parts = shares(homework, checked(read_tables("d", text.encode()), homework, ROSTER), "0001")
    assert parts["shafts"].weight == pytest.approx(12 / 11)
    assert parts["pinion"].weight == pytest.approx(3 / 2 * 12 / 11)
    assert parts["pinion"].left_out == {"base_diameter"} and parts["pitch"].left_out == {"circular_pitch"}
