"""The files of predictions: each lesson has one, they hold together, and what is wrong is told in words."""

from __future__ import annotations

import ast
import math
import re

import nbformat
import pytest

from gearlab.contents import content_folder, lesson_predictions
from gearlab.practice.tables import BankError
from gearlab.practice.workbook.predictions import load_predictions, prediction_of

LESSONS = sorted(path.stem for path in content_folder("notebooks").glob("[0-9][0-9]_*.ipynb"))
GOOD = """
[[prediction]]
id = "which-way"
question = "Which way?"
surprise = "**Left.**"
texts = { why = "Because." }
[[prediction.options]]
text = "Left."
held = true
says = "The teeth push that way."
[[prediction.options]]
text = "Right."
held = false
says = "It is tempting from behind."
[[prediction.options]]
text = "Neither."
held = "it stands still while it is held"
says = "Let go of it."
"""


def asked_in(lesson: str) -> set[str]:
    """The keys of the predictions that a notebook asks, opens and looks back at."""
    notebook = nbformat.read(content_folder("notebooks") / f"{lesson}.ipynb", as_version=4)
    return {
        node.args[0].value
        for cell in notebook.cells
        if cell.cell_type == "code"
        for node in ast.walk(ast.parse(cell.source))
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") in ("predict", "surprise", "look_back")
    }


@pytest.mark.parametrize("lesson", LESSONS)
def test_every_prediction_of_a_lesson_has_its_entry(lesson):
    there = load_predictions(lesson_predictions(lesson))
    assert asked_in(lesson) == {f"{lesson}/{name}" for name in there}
    for prediction in there.values():
        assert len(prediction.options) >= 3
        says = [option.says for option in prediction.options]
        assert len(set(says)) == len(says)
        for text in (prediction.question, *prediction.choices, *says):
            assert not re.search(r"[*`<>]|&nbsp;", text), f"plain text, shown as it is: {text!r}"
            assert len(text) < 400, "a paragraph that is read in one go"


# The number that held, worked out here by the textbook's way, not by gearlab.
HELD = {
    "01_teeth_and_diameter/twice-the-teeth": (
        2.5 * (36 + 2),
        "95 mm",
    ),  # module times teeth and two (Mott, sec. 8-4)
    "02_pitch_and_proportions/spare-pinion": (
        math.pi * 2.5 / 4 / (math.pi * (25.4 / 10 - 2.5)),
        "After about 16 teeth.",
    ),
    "13_rack_and_pinion/one-turn": (math.pi * 50, "About 157 mm: once around its pitch circle."),
    "16_choosing_tooth_counts/spaces-of-one-tooth": (45 / math.gcd(18, 45), "5, always the same ones."),
    # two tips of 19 that face each other are half a pitch angle from a straight line
    "17_measuring/caliper-over-tips": (52.5 * math.cos(math.pi / 38), "About 52.3 mm, a little less."),
}


@pytest.mark.parametrize("key", HELD)
def test_the_number_that_held_is_the_right_one(key):
    number, text = HELD[key]
    [held] = [option for option in prediction_of(key).options if option.held is True]
    stated = re.search(r"\d+(?:\.\d+)?", text)[0]
    places = len(stated.partition(".")[2])
    assert held.text == text and round(number, places) == float(stated)


def test_a_choice_without_a_full_stop_gets_one_before_what_is_said():
    said = prediction_of("01_teeth_and_diameter/twice-the-teeth").told("100 mm")
    assert said[1].startswith("What held: 95 mm. The pitch diameter doubles")


def test_what_is_said_of_a_choice(tmp_path):
    (tmp_path / "predictions.toml").write_text(GOOD, encoding="utf-8")
    prediction = load_predictions(tmp_path)["which-way"]
    held = "What held: Left. The teeth push that way."
    assert prediction.told("Left.") == ["That held. The teeth push that way."]
    assert prediction.told("Right.") == ["That did not hold. It is tempting from behind.", held]
    assert prediction.told("Neither.") == [
        "That depends: it stands still while it is held. Let go of it.",
        held,
    ]
    assert prediction.told() == prediction.told("an option that was reworded") == [held]
    assert prediction.text() == "**Left.**" and prediction.text("why") == "Because."
    with pytest.raises(ValueError, match="near: why"):
        prediction.text("whys")


@pytest.mark.parametrize(
    "before, after, told",
    [
        ("says = ", "say = ", "options.1.say: is not a field known here; near: says"),
        ("held = true", "held = 1", "options.1.held: value error, write true or false without quotes"),
        ("held = true", 'held = "true"', "options.1.held: value error, write true or false without quotes"),
        ('held = "it stands still while it is held"', "held = true", None),
        ('surprise = "**Left.**"', "", "surprise: is missing"),
        ('"Right."', '"Left."', "options: two have the same text"),
        ("why = ", "surprise = ", "texts.surprise: this name belongs to the field"),
        ("[[prediction]]", "[[predictions]]", "predictions: is not a field known here; near: prediction"),
        ("[[prediction]]", "[[prediction]", "is not valid TOML"),
        ("held = false\nsays", "held = true\nsays", None),
    ],
)
def test_a_fault_is_told_with_its_place(tmp_path, before, after, told):
    file = tmp_path / "predictions.toml"
    assert before in GOOD
    file.write_text(GOOD.replace(before, after), encoding="utf-8")
    if told is None:
        assert len(load_predictions(file)) == 1
        return
    with pytest.raises(BankError) as caught:
        load_predictions(file)
    assert any(told in line and str(file) in line for line in caught.value.problems), caught.value


def test_something_held_and_something_did_not(tmp_path):
    file = tmp_path / "predictions.toml"
    for held, told in (("false", "options: none held"), ("true", "options: every one held")):
        file.write_text(re.sub(r"held = .+", f"held = {held}", GOOD), encoding="utf-8")
        with pytest.raises(BankError, match=told):
            load_predictions(file)


def test_a_question_in_free_words_needs_words_of_its_own(tmp_path):
    file = tmp_path / "predictions.toml"
    free = '[[prediction]]\nid = "free"\nquestion = "What do you hear?"\nsurprise = "A click."\n'
    file.write_text(free, encoding="utf-8")
    with pytest.raises(BankError, match="says: a question without options"):
        load_predictions(file)
    file.write_text(free + 'says = "A click at each tooth."\n', encoding="utf-8")
    assert load_predictions(file)["free"].told("a hum") == ["A click at each tooth."]


def test_the_same_id_twice_is_told(tmp_path):
    file = tmp_path / "predictions.toml"
    file.write_text(GOOD + GOOD, encoding="utf-8")
    with pytest.raises(BankError, match="stands twice"):
        load_predictions(file)


@pytest.mark.parametrize(
    "key, told",
    [
        ("07_contact/ten-tooth", "near: ten-teeth"),
        ("07_contacts/ten-teeth", "did you mean 07_contact"),
        ("7/ten-teeth", "did you mean 07_contact"),
        ("ten-teeth", "name the lesson and the prediction"),
    ],
)
def test_a_near_name_is_told(key, told):
    with pytest.raises(ValueError, match=re.escape(told)):
        prediction_of(key)
