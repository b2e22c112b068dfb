"""A student's own line of code is judged like a typed answer, and counts like one."""

from __future__ import annotations

import re
from fractions import Fraction

import numpy as np
import pytest
import sympy

from gearlab.practice.workbook.attempts import attempts
from gearlab.widgets import ask, check, given

LESSON, QUESTION = "03_centre_distance", "spacing-metric"


@pytest.fixture
def numbers(answers_folder):
    return given(LESSON, QUESTION)


def distance(numbers):
    """C = m (N1 + N2) / 2 (Mott, Machine Elements in Mechanical Design, 4th ed., sec. 8-5)."""
    return numbers.module * (numbers.driver_teeth + numbers["driven_teeth"]) / 2


def test_the_numbers_are_those_of_the_box(numbers):
    box = ask(LESSON, QUESTION)
    assert dict(numbers) == {name: value for name, value in box.draw.values.items() if name in numbers}
    assert isinstance(numbers.driver_teeth, int) and box.draw.prompt in " ".join(repr(numbers).split())
    assert max(map(len, repr(numbers).splitlines())) <= 88, "no word is broken by the page"
    assert re.search(r"module +[\d.]+ mm$", repr(numbers), re.M)
    with pytest.raises(AttributeError, match="near: module"):
        numbers.modul  # noqa: B018
    assert "driven_teeth" in dir(numbers)


def test_planets_are_counted_in_no_unit(answers_folder):
    shown = repr(given("15_planetary_sets", "will-they-fit"))
    assert re.search(r"^planets +[345]$", shown, re.M) and re.search(r"^sun_teeth +\d+ teeth$", shown, re.M)


@pytest.mark.parametrize(
    "form",
    [
        float,
        np.float64,
        lambda number: np.array(number),
        lambda number: sympy.nsimplify(str(number)),
        lambda number: sympy.Float(number, 30),
        Fraction,
        lambda number: f"{number} mm",
        lambda number: f"{number / 10:.6g} cm",
        lambda number: {"centre_distance": number},
    ],
)
def test_a_right_value_in_any_form(numbers, capsys, form):
    check(LESSON, QUESTION, form(distance(numbers)))
    assert capsys.readouterr().out.startswith("✓ centre distance: Right.")
    [row] = attempts()
    assert (row["event"], row["question"], row["verdict"], row["share"]) == ("answer", QUESTION, "right", 1.0)
    assert ask(LESSON, QUESTION).done, "the box knows it as well"


def test_a_wrong_value_is_helped_as_in_the_box(numbers, capsys):
    typed = ask(LESSON, QUESTION)
    check(LESSON, QUESTION, 2 * distance(numbers))
    first = capsys.readouterr().out
    report = {"n": 1, "key": typed.view["key"], "texts": {"centre_distance": str(2 * distance(numbers))}}
    typed.set_state({"action": {**report, "act": "check"}})
    [says] = typed.status["verdicts"]["centre_distance"]["says"]
    assert first.splitlines() == [f"✗ centre distance: Not right. {says}", "2 of 3 tries left"]
    check(LESSON, QUESTION, 2 * distance(numbers))
    assert "tried" in capsys.readouterr().out and len([row for row in attempts() if row["try"] == 1]) == 2
    check(LESSON, QUESTION, distance(numbers) + numbers.module)
    second = capsys.readouterr().out
    assert "1 of 3 tries left" in second and second.splitlines()[0] != first.splitlines()[0]
    check(LESSON, QUESTION, distance(numbers))
    assert "✓" in capsys.readouterr().out
    count = len(attempts())
    check(LESSON, QUESTION, 3.0)
    assert "✗" in capsys.readouterr().out and len(attempts()) == count, "once it is over nothing counts"


def test_three_dots_are_no_answer(numbers, capsys):
    check(LESSON, QUESTION, ...)
    assert capsys.readouterr().out.startswith("Not answered yet") and not attempts()


def test_an_expression_in_symbols(answers_folder, capsys):
    lesson, question = "04_ratio_speed_direction", "driven-speed-formula"
    symbols = given(lesson, question)
    n1, N1, N2 = sympy.symbols("n1 N1 N2")
    assert dict(symbols) == {"driver_speed": n1, "driver_teeth": N1, "driven_teeth": N2}
    check(lesson, question, n1 * N2 / N1)
    assert "✗" in capsys.readouterr().out
    check(lesson, question, sympy.solve(sympy.Eq(n1 * N1, sympy.Symbol("n2") * N2), sympy.Symbol("n2"))[0])
    assert "✓ driven speed n2: Right." in capsys.readouterr().out


def test_several_answers_are_given_by_name(answers_folder, capsys):
    from gearlab.contents import lesson_bank
    from gearlab.practice import load_bank

    bank = load_bank(lesson_bank("04_ratio_speed_direction"))
    question = next(one for one in bank if one.kind == "number" and len(one.answers) > 1)
    draw = ask(bank.name, question.id).draw
    keys = {name: key.value for name, key in question.keys(draw).items()}
    with pytest.raises(ValueError, match="give them by name"):
        check(bank.name, question.id, 1.0)
    with pytest.raises(ValueError, match="near"):
        check(bank.name, question.id, {next(iter(keys)) + "s": 1.0})
    check(bank.name, question.id, ...)
    assert "Not answered yet" in capsys.readouterr().out
    check(bank.name, question.id, {**keys, list(keys)[-1]: ...})
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("✓") and any("Not answered." in line for line in lines)
    check(bank.name, question.id, keys)
    assert capsys.readouterr().out.count("✓") == len(keys)


@pytest.mark.parametrize(
    "value, told",
    [
        (True, "of type bool"),
        (None, "of type NoneType"),
        ([1.0], "of type list"),
        (np.array([1.0, 2.0]), "of type ndarray"),
        (2j, "of type complex"),
        (2.5 * sympy.Symbol("N1"), "still holds N1"),
        (sympy.sqrt(-2), "no real number"),
        (print, "of type builtin"),
    ],
)
def test_what_is_no_answer_is_told(numbers, value, told):
    with pytest.raises(ValueError, match=told):
        check(LESSON, QUESTION, value)
    assert not attempts()


@pytest.mark.parametrize("value", [float("nan"), float("inf"), 10**40, "", "abc", 1e-30])
def test_odd_numbers_are_judged_not_raised(numbers, capsys, value):
    check(LESSON, QUESTION, value)
    assert "✓" not in capsys.readouterr().out


def test_a_choice_by_its_letter(answers_folder, capsys):
    box = ask("07_contact", "what-undercut-does")
    check("07_contact", "what-undercut-does", box.question.keys(box.draw)["choice"].text)
    assert "✓" in capsys.readouterr().out


@pytest.mark.parametrize(
    "lesson, question, told", [("3", QUESTION, "03_centre"), (LESSON, "spacing-metrc", QUESTION)]
)
def test_near_names(answers_folder, lesson, question, told):
    for call in (lambda: check(lesson, question, 1.0), lambda: given(lesson, question)):
        with pytest.raises(ValueError, match=told):
            call()
