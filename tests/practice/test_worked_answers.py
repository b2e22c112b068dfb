"""The question banks of the lessons against the worked answers, which know nothing of theory.

Source of every closed form and sample value: worked answers of the project, closed form verified by a
second evaluator (tests/practice/data/worked_*.toml, one file for a few lessons).
"""

import re
import tomllib
from pathlib import Path

import pytest
from algebra import worked_out

DATA = [
    tomllib.loads(path.read_text(encoding="utf-8"))
    for path in sorted((Path(__file__).parent / "data").glob("worked_*.toml"))
]
WORKED = [row for data in DATA for row in data["worked"]]
EXPRESSIONS = [row for data in DATA for row in data.get("expression", [])]
# How many worked answers with numbers each lesson has: [counts] of its file.
COUNTS = {lesson: count for data in DATA for lesson, count in data["counts"].items()}
DRAWS = 40


def numbers_of(worked: dict, draw) -> dict:
    return {symbol: draw.values[word] for symbol, word in worked["symbols"].items()}


def names(rows):
    return [row["id"] for row in rows]


def test_the_files_hold_every_worked_answer_of_their_lessons():
    wanted = {f"{lesson}.{number}" for lesson, count in COUNTS.items() for number in range(1, count + 1)}
    assert wanted <= set(names(WORKED))
    assert len(WORKED) == len(set(names(WORKED)))


@pytest.mark.parametrize("worked", WORKED, ids=names(WORKED))
def test_every_worked_answer_is_a_question_with_all_its_answers(worked, banks):
    question = banks[worked["bank"]][worked["question"]]
    assert question.kind == "number"
    assert question.worked_row == worked["id"]
    assert [(answer.id, answer.unit) for answer in question.answers] == [
        (answer["id"], "" if answer["unit"] == "1" else answer["unit"]) for answer in worked["answers"]
    ]


@pytest.mark.parametrize("worked", WORKED, ids=names(WORKED))
def test_the_sample_value_is_the_closed_form_at_the_sample(worked):
    for answer in worked["answers"]:
        assert worked_out(answer["closed_form"], worked["sample"]) == pytest.approx(
            answer["sample_value"], rel=1e-9, abs=1e-9
        ), answer["id"]


@pytest.mark.parametrize("worked", WORKED, ids=names(WORKED))
def test_the_key_equals_the_closed_form_at_every_draw(worked, banks):
    question = banks[worked["bank"]][worked["question"]]
    for number in range(DRAWS):
        draw = question.draw(seed="worked answers", number=number)
        numbers = numbers_of(worked, draw)
        for answer, key in zip(worked["answers"], draw.keys, strict=True):
            right = worked_out(answer["closed_form"], numbers)
            assert key == pytest.approx(right, rel=1e-9, abs=1e-9), (number, answer["id"], draw.values)


@pytest.mark.parametrize("worked", WORKED, ids=names(WORKED))
def test_the_key_at_the_sample_is_the_sample_value(worked, banks):
    question = banks[worked["bank"]][worked["question"]]
    by_word = {word: float(worked["sample"][symbol]) for symbol, word in worked["symbols"].items()}
    shown = tuple(by_word[name] for name in question.shown_names)
    keys = []
    for asked, answer in zip(question.answers, worked["answers"], strict=True):
        keys.append(asked.key(shown, keys))
        assert keys[-1] == pytest.approx(answer["sample_value"], rel=1e-9, abs=1e-9), answer["id"]


@pytest.mark.parametrize("expression", EXPRESSIONS, ids=names(EXPRESSIONS))
def test_the_worked_formula_is_accepted(expression, banks):
    question = banks[expression["bank"]][expression["question"]]
    assert question.kind == "expression" and question.worked_row == expression["id"]
    draw = question.draw(seed="worked answers")
    texts = {
        answer.id: in_words(form, expression["symbols"])
        for answer, form in zip(question.answers, expression["closed_forms"], strict=True)
    }
    verdicts = question.judge(draw, texts)
    assert {name: verdict.kind for name, verdict in verdicts.items()} == dict.fromkeys(texts, "right")


def in_words(form: str, symbols: dict) -> str:
    """The closed form with each symbol replaced by its quantity word, as a student may also type it."""
    return re.sub(r"[A-Za-z_]\w*", lambda found: symbols.get(found[0], found[0]), form)
