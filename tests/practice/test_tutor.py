"""What a tutor says at the first, second and third wrong try, for each class of cause, without a browser."""

from __future__ import annotations

import re
from functools import lru_cache

import pytest

from gearlab.contents import content_folder, lesson_bank
from gearlab.practice import Verdict, load_bank, tutor
from gearlab.practice.tutor import FIRST_WORDS, SECOND_WORDS, Tries, first, help_with, idea, second, third

BANKS = sorted(path.parent.name for path in content_folder("exercises").glob("*/bank.toml"))


@lru_cache
def bank_of(lesson: str):
    return load_bank(lesson_bank(lesson))


def question(lesson: str, name: str):
    return bank_of(lesson)[name]


@pytest.fixture(scope="module")
def spacing():
    """18 and 45 teeth of module 2.5: C = m (N1 + N2)/2 = 78.75 mm (Mott, 4th ed., section 8-5)."""
    asked = question("03_centre_distance", "spacing-metric")
    return asked, asked.draw_with({"driver_teeth": "18", "driven_teeth": "45", "module": "2.5"})


def told(asked, draw, typed: str, level: int, answer: str = "centre_distance") -> tutor.Help:
    verdict = asked.judge(draw, {answer: typed})[answer]
    assert not verdict.right
    return help_with(asked, draw, answer, verdict, level)


# Each number worked out by hand from 18, 45 and 2.5 mm, by the mistake beside it.
FIRST = {
    "157.5": "Did you add diameters instead of radii?",  # listed: m (N1 + N2)
    "33.75": "Did you subtract the radii?",  # listed: m (N2 - N1)/2
    "83.75": "Did you use the outside diameters?",  # listed: m (N1 + N2 + 4)/2
    "45": "Is that the pitch diameter of the driver?",  # a neighbour: m N1
    "112.5": "Is that the pitch diameter of the driven gear?",  # m N2
    "-78.75": "Which is taken from which: has it a sign, and which one?",
    "78.75 rpm": "Which unit did you type, and what does it measure?",
    "78.75 in": "Which unit did you type behind your number?",
    "3.1004": "In which unit is your number, and in which one is it asked?",  # 78.75 mm in inches
    "78.9": "Did you round on the way?",  # within three tolerances of 0.1 %
    "787.5": "Is the decimal point in its place, and every number in the unit you meant?",
}


@pytest.mark.parametrize("typed", FIRST)
def test_the_first_help_asks_for_the_cause(spacing, typed):
    asked, draw = spacing
    assert told(asked, draw, typed, 1).texts == (FIRST[typed],)


@pytest.mark.parametrize("typed", FIRST)
def test_the_second_help_says_what_happened_and_the_third_the_way(spacing, typed):
    asked, draw = spacing
    [text] = told(asked, draw, typed, 2).texts
    assert text and not text.startswith("The way") and len(text.split()) <= SECOND_WORDS
    *before, way = told(asked, draw, typed, 3).texts
    assert before == [text] and way.startswith("The way: ")
    rules = [step.relation.says for step in asked.answers[0].way.steps if step.relation]
    assert all(rule in way for rule in rules)
    assert "78.75" not in text + way


@pytest.mark.parametrize(
    "typed, step",
    [
        ("24", "Step 1 of 3, where the pitch diameter is worked out: Multiply by the module"),  # 40/2 + 4
        ("44", "Step 1 of 3, where the pitch diameter is worked out: You left out the module"),  # 40 + 4
        ("82", "Step 3 of 3, where the outside diameter is worked out: Take the addendum twice"),  # 80 + 2
        ("80", "You stopped after step 1 of 3. That is the pitch diameter"),  # 40 x 2
    ],
)
def test_the_step_in_which_it_happened_is_named(typed, step):
    """40 teeth, module 2 mm: pitch diameter 80, addendum 2, outside diameter 84 mm (ISO 53, ISO 54)."""
    asked = question("02_pitch_and_proportions", "tip-and-root-metric")
    draw = asked.draw_with({"teeth": "40", "module": "2"})
    verdict = asked.judge(draw, {"outside_diameter": typed}, listed_slips=False)["outside_diameter"]
    text = second(asked, "outside_diameter", verdict)
    assert text.startswith(step) and text.count("when working out the pitch diameter") == 0, text


def _verdict(cause) -> Verdict:
    return Verdict(cause.kind, False, 0.0, 1.0, causes=(cause,))


@pytest.mark.parametrize("lesson", BANKS)
def test_every_cause_of_every_bank_gets_its_helps(lesson):
    """The first asks, is short, and never tells the right number or the rule; the second is bounded."""
    asks: list[str] = []
    for asked in bank_of(lesson):
        draw = asked.draw("tutor")
        for place, answer in enumerate(asked.answers):
            if answer.kind not in ("number", "expression"):
                continue
            slips = asked.slips_of(answer)
            rules = [step.relation.says for step in answer.way.steps if step.relation is not None]
            for cause in [*slips.causes, *(row[0] for row in slips.listed)]:
                text = first(asked, draw, answer.id, _verdict(cause))
                assert text.endswith("?") and len(text.split()) <= FIRST_WORDS, text
                assert not any(rule in text for rule in rules), text
                if draw.keys:
                    numbers = map(float, re.findall(r"\d+(?:\.\d+)?", text))
                    assert not any(answer.accepts(number, abs(draw.keys[place])) for number in numbers), text
                asks.append(text)
                more = second(asked, answer.id, _verdict(cause))
                assert 0 < len(more.split()) <= SECOND_WORDS, more
    # verbs and titles of the banks are known: "was it this" is a way out, not the rule
    poor = [text for text in asks if text.startswith("Was it this") or text == tutor._NOTHING_KNOWN]
    assert len(poor) <= 0.03 * len(asks), poor


def test_several_causes_are_asked_together_while_there_is_room(spacing):
    asked, draw = spacing
    causes = [row[0] for row in asked.slips_of(asked.answers[0]).listed[:3]]
    text = first(asked, draw, "centre_distance", Verdict("listed slip", False, 0, 1, causes=tuple(causes)))
    assert text.count("?") == text.count("Did you") and " Or: Did you" in text
    assert len(text.split()) <= FIRST_WORDS


def test_an_unrecognised_answer_gets_one_hint_after_another_then_the_way(spacing):
    asked, draw = spacing
    verdict = asked.judge(draw, {"centre_distance": "71.317"})["centre_distance"]
    assert verdict.kind == "not recognised"
    helps = [help_with(asked, draw, "centre_distance", verdict, level, level - 1) for level in (1, 2, 3)]
    assert [each.hint for each in helps] == [1, 2, 3]
    assert all(each.texts == ("We do not recognise this mistake.",) for each in helps)
    last = help_with(asked, draw, "centre_distance", verdict, 4, 3)
    assert last.hint == 0 and last.texts == (third(asked, "centre_distance"),)


def test_a_carried_answer_is_right_and_holds_its_idea():
    """Diameters from a wrong count, then the distance from them: carried, so no help, but the rule."""
    asked = question("03_centre_distance", "diameters-then-spacing")
    draw = asked.draw("tutor")
    one, two, last = (answer.id for answer in asked.answers)
    keys = dict(zip((one, two, last), draw.keys))
    wrong = keys[one] * 1.37
    texts = {one: f"{wrong:.5f}", two: f"{keys[two]:.5f}", last: f"{(wrong + keys[two]) / 2:.5f}"}
    verdicts = asked.judge(draw, texts)
    assert verdicts[last].right and verdicts[last].carried and not verdicts[one].right
    assert idea(asked, last, verdicts[last])
    check = Tries(asked, draw).add(texts)
    assert (check.right, check.wrong, check.counts) == ((two, last), (one,), True)


@pytest.mark.parametrize("lesson", BANKS)
def test_every_number_and_formula_has_an_idea_of_one_sentence(lesson):
    for asked in bank_of(lesson):
        for answer in asked.answers:
            if answer.kind in ("number", "expression"):
                text = idea(asked, answer.id, Verdict("right", True, 1, 1))
                assert text.endswith((".", "?", "!")) and len(text.split()) <= 60, text


def test_the_same_value_in_any_writing_is_no_try(spacing):
    asked, draw = spacing
    tries = Tries(asked, draw)
    assert tries.add({"centre_distance": "45"}).wrong == ("centre_distance",)
    for writing in ("45.0", "45,00", "4.5 cm", "90/2", "4.5e1 mm", "+45", "0.045 m"):
        check = tries.add({"centre_distance": writing})
        assert check.again == ("centre_distance",) and not check.counts, writing
    assert tries.add({"centre_distance": "45.1"}).counts and tries.level("centre_distance") == 2
    for empty in ("", "about forty"):
        check = tries.add({"centre_distance": empty})
        assert not (check.wrong or check.again or check.counts)
    assert Tries(asked, draw, tries.checks).level("centre_distance") == 2
    assert tries.add({"centre_distance": "78.75"}).right == ("centre_distance",)


def test_a_design_is_a_new_try_when_any_choice_is_new():
    asked = next(
        one for name in BANKS for one in bank_of(name) if one.kind == "design" and one.table.bad_example
    )
    draw = asked.draw("tutor")
    bad = {field.id: str(asked.table.bad_example.get(field.id, "")) for field in asked.fields}
    tries = Tries(asked, draw)
    assert tries.add(bad).counts and not tries.add(dict(bad)).counts


@pytest.mark.parametrize("typed", ["2.5", "45/18", "N2/N2*2.5", "sqrt(2)"])
def test_a_number_in_place_of_a_formula_is_answered_as_that(typed):
    """45/18 = 2.5 is right for one drive: what is asked holds for each."""
    asked = question("04_ratio_speed_direction", "speed-ratio-formula")
    help_ = told(asked, asked.draw(seed="s", number=0), typed, 1, "ratio")
    assert help_.texts[0].startswith("A formula is asked, with N1 and N2 in it") and not help_.hint
