"""What is said of a text that cannot be read, and of a key of zero: no example of ours is the right number by chance."""  # noqa: E501

import re

import pytest

from gearlab.contents import content_folder
from gearlab.practice import load_bank
from gearlab.practice.formulas.expression import ExpressionError, parse

BANKS = sorted(path.parent for path in content_folder("exercises").glob("[0-9]*/bank.toml"))
# One of every kind that is refused; what is typed may stand in the sentence, for it is the student's own.
UNREADABLE = """
about | 7 8 | 7-8-9 | 7:8:9 | 7 to 8 | 7-8/7 | 3 -1/2 | 2*(1-7/8) | 7/8/9 | 7/0 | 1:0 | 7 or 8
7 furlong | (7 | 7) | 7* | = | 7 = | 7+8 = 16 | 7**8**9 | 2^99 | 7.8.9 | 1,23,456 | nan | inf
1e99 | 7±8 | <7 | 7° 80' | 7.5° 20' | 20°30 | 7 mm*3 | 5/2π | sqrt(0-1) | 2 = C | 7 cw ccw
-7 cw | 7 mm cw | --7 | x | 0x1F | half | C: | 1,234*2 | 1,234/2 | 5' | 7? | 7 mm kg | 7 8/7
7 backlash | 7 of it | 7 (8) | (7 8 | sin 7 8 | ((((((((((((((((7)))))))))))))))) | 7 - 8
"""
TEXTS = [text.strip() for text in UNREADABLE.strip().replace("\n", "|").split("|")]
TEXTS += ["9" * 201, "9" * 50, "(" * 200, "2^" * 99]


def numbers(text):
    return {number.rstrip(".") for number in re.findall(r"\d[\d.]*", text)}


@pytest.mark.parametrize("folder", BANKS, ids=[folder.name[:2] for folder in BANKS])
def test_no_example_is_the_key_by_chance(folder):
    for question in load_bank(folder):
        if question.kind != "number":
            continue
        for number in range(4):
            draw = question.draw("help", number)
            for answer, key in zip(question.answers, draw.keys, strict=True):
                for text in TEXTS:
                    verdict = question.judge(draw, {answer.id: text})[answer.id]
                    if verdict.kind != "cannot read":
                        continue
                    sentence = verdict.sentence.replace(f"unit here is {answer.unit}", "")
                    told = numbers(sentence) - numbers(text)
                    assert not any(answer.accepts(float(one), abs(key)) for one in told), (
                        text,
                        sentence,
                        key,
                    )
                    assert not told, (text, sentence)


def test_a_comma_in_an_expression_is_told_without_a_number():
    with pytest.raises(ExpressionError) as told:
        parse("2,5,1*3", {})
    assert not numbers(str(told.value))


def test_most_of_these_texts_are_refused():
    question = next(one for one in load_bank(BANKS[2]) if one.kind == "number")
    draw, answer = question.draw("help"), question.answers[0]
    kinds = [question.judge(draw, {answer.id: text})[answer.id].kind for text in TEXTS]
    assert kinds.count("cannot read") > 0.9 * len(TEXTS)


@pytest.mark.parametrize("typed", ["1", "0.3", "1000", "-1"])
def test_a_key_of_zero_has_no_wrong_unit(typed):
    """1 was called the right 0 in per cent, whose tolerance it is within."""
    zeros = 0
    for folder in BANKS:
        for question in load_bank(folder):
            if question.kind != "number":
                continue
            for number in range(6):
                draw = question.draw("zero", number)
                for answer, key in zip(question.answers, draw.keys, strict=True):
                    if key == 0:
                        zeros += 1
                        assert question.judge(draw, {answer.id: typed})[answer.id].kind != "wrong unit"
    assert zeros > 3
