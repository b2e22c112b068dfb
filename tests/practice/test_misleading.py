"""What is said of a wrong answer is true of it: formulas rewritten by the test, not by our slips."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "bench"))
import misleading  # noqa: E402


@pytest.fixture(scope="module")
def told():
    return list(misleading.judged(draws=1))


def test_no_sentence_is_untrue(told):
    assert len(told) > 2000 and sum(bool(sentence) for *_, sentence, _ in told) > 1000
    untrue = [
        (question.id, answer.id, wrong, key, sentence, fault)
        for question, answer, _, wrong, key, sentence, fault in told
        if fault
    ]
    assert not untrue, untrue


def test_the_sentences_that_are_held_against_the_number_are_said(told):
    said = " ".join(sentence for *_, sentence, _ in told)
    for part in (
        "factor pi too many",
        "factor pi is missing",
        "You left out pi",
        "does not come in here",
        "exchanged plus and minus",
        "is twice the",
        "is half the",
        "in radians",
        "read the angle as radians",
        "which was given",
        "25.4 times too large",
    ):
        assert part in said, part


def test_a_right_sign_is_not_called_wrong(told):
    for _, answer, _, wrong, key, sentence, _ in told:
        assert not (answer.signed and wrong * key > 0 and "the sign is not right" in sentence), sentence
