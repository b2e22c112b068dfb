"""A worked solution says a way once: what an answer shares with one before it is "as above", with its number.

Held against the ways themselves: over all answers of a question each step stands once, whatever is said as
above stood before it with the same number, and no number of the way is lost.
"""

import re

import pytest

from gearlab.contents import lesson_bank
from gearlab.practice.bank import load_bank
from gearlab.practice.solution import said_above, told_once
from gearlab.theory.quantities import QUANTITIES

BANKS = (
    "07_contact", "08_backlash", "10_on_the_plate", "14_mitre_and_bevel", "17_measuring",
)  # fmt: skip


def questions(lesson):
    bank = load_bank(lesson_bank(lesson))
    return [q for q in bank if q.numbers and len(q.answers) > 1]


def parts(question, form="text"):
    """The solution, cut where another answer begins."""
    text = question.solution(question.draw("above", 3), form)
    heads = [f"{answer.label[0].upper()}{answer.label[1:]}:\n" for answer in question.answers]
    places = [text.index(head) for head in heads]
    assert places == sorted(places)
    return [text[start:end] for start, end in zip(places, [*places[1:], len(text)])]


@pytest.mark.parametrize("lesson", BANKS)
def test_each_step_stands_once_and_what_is_above_stood_there(lesson):
    shared = 0
    for question in questions(lesson):
        stood = ""
        for answer, text, above in zip(question.answers, parts(question), said_above(question.answers)):
            lines = text.split("\n")
            for step in answer.way.steps:
                told = [line for line in lines if line.startswith(f"{_meaning(step.quantity)}: ")]
                assert len(told) == (step.quantity not in above), (question.id, answer.id, step.quantity)
            seen = [line for line in lines if line.startswith("as above: ")]
            assert len(seen) == bool(above)
            for equation in re.split(r", (?=[^,]* = )", seen[0].removeprefix("as above: ")) if seen else ():
                letter, number = equation.split(" = ")
                # the line before it ends with this letter's number, and begins with the letter
                before = rf"(?m)^[^\n]*: {re.escape(letter)} = (?:[^\n]* = )?{re.escape(number)}$"
                assert re.search(before, stood), (question.id, answer.id, equation)
                shared += 1
            stood += text
    assert shared


def _meaning(word):
    return QUANTITIES[word].meaning


def test_inch_and_iso_say_it_in_their_own_letters():
    inch = load_bank(lesson_bank("10_on_the_plate"))["centre-the-pair-inch"]
    assert re.search(r"as above: r_o1 = [\d.]+ in\n", parts(inch)[1])
    iso = load_bank(lesson_bank("08_backlash"))["feel-the-gap"]
    assert re.search(r"as above: α_w = [\d.]+°\n", parts(iso)[1])


def test_a_page_says_it_with_a_spoken_line_and_markdown_with_a_formula():
    question = load_bank(lesson_bank("14_mitre_and_bevel"))["where-the-axes-cross"]
    html = question.solution(question.draw("above", 3), "html")
    told = re.search(r"<p>As above: (.*?)\.</p>", html)
    assert told and re.findall(r'<math aria-label="([^"]*) equals [\d.]+', told[1]) == [
        "cone angle of the driver", "cone distance",
    ]  # fmt: skip
    assert html.count("<ol class='derivation'>") == 2 and html.count("Cone distance.</strong>") == 1
    markdown = question.solution(question.draw("above", 3), "markdown")
    assert re.search(r"\n\nAs above: \$[^$]*= \{?[\d.]+[^$]*\$, \$[^$]*\$\.\n\n", markdown)


BANK = """
[bank]
title = "Pinions"
lesson = "Pinions"

[[question]]
id = "both"
title = "Both"
of = "pair"
prompt = "{driver_teeth} and {driven_teeth} teeth, module {module} mm."
givens = { driver_teeth = { one_of = [18] }, driven_teeth = { one_of = [45] }, module = { one_of = [2.5] } }

[[question.answers]]
asked = "centre_distance"
[[question.answers]]
asked = "driver_pitch_diameter"
[[question.answers]]
asked = "driver_outside_diameter"
uses = ["driver_pitch_diameter"]
[[question.answers]]
asked = "driver_base_diameter"
given = ["driver_teeth", "module", "pressure_angle"]
"""


def test_an_answer_that_was_a_step_on_the_way_is_told_in_one_line(tmp_path):
    """d1 = m N1 = 45 mm is a step towards C = 78.75 mm, and then asked itself; by hand."""
    path = tmp_path / "bank.toml"
    text = BANK.replace(
        "module = { one_of = [2.5] } }", "module = { one_of = [2.5] }, pressure_angle = { one_of = [20] } }"
    )
    path.write_text(text, encoding="utf-8")
    centre, pitch, outside, base = parts(load_bank(path)["both"])
    assert "d1 = N1·m = 18·2.5 mm = 45 mm" in centre and "78.75 mm" in centre
    assert (
        pitch
        == "Pitch diameter of the driver:\nas above: d1 = 45 mm\nPitch diameter of the driver: 45 mm\n\n"
    )
    # it goes on from the answer, which a student may have given otherwise: no step of a way, so not "above"
    assert "as above" not in outside and "= 45 mm + 2·2.5 mm = 50 mm" in outside
    assert "as above: d1 = 45 mm" in base and "45 mm·cos(20°) = 42.2862 mm" in base


def test_two_unknown_answers_are_told_their_common_way_once():
    question = load_bank(lesson_bank("14_mitre_and_bevel"))["where-the-axes-cross"]
    draw = question.draw("above", 3)
    first, second = (answer.id for answer in question.answers)
    wrong = question.judge(draw, {first: "1.37 mm", second: "2.91 mm"})
    told = told_once(question, wrong)
    assert told[first] == wrong[first].sentence and "The way: Equal numbers of teeth pass" in told[first]
    assert told[second].endswith("The way: as above, and: Both cone angles together are the shaft angle.")
    # nothing is "above" where the answer before it was right, or there is none
    right = question.keys(draw)[first].value
    alone = question.judge(draw, {first: f"{right:.4f} mm", second: "2.91 mm"})
    assert told_once(question, alone)[second] == wrong[second].sentence
