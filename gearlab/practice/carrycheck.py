"""Whether wrong earlier answers are carried on as they should be."""

from __future__ import annotations

from gearlab.practice.answer import Answer, apart
from gearlab.practice.draw import Draw
from gearlab.practice.question import Question

__all__ = ["check_carry"]

_CHANGES = (1.3, 0.8, 2.0, -1.0)  # what an earlier answer is multiplied by
_ENOUGH = 12  # draws


def check_carry(question: Question, answer: Answer, place: int, drawn: list[Draw]) -> list[str]:
    """Problems of going on from earlier answers.

    With the right ones it leads to the right answer, and the answer moves with each earlier one that it is
    said to follow from, or the bank says so of too many.
    """
    problems = []
    draws = drawn[:_ENOUGH]
    for draw in draws if answer.carries else ():
        follows = _followed(answer, draw, list(draw.keys[:place]))
        key, period = draw.keys[place], answer.period(draw.shown)
        if follows is None or apart(follows, key, period) > answer.tolerance(key):
            problems.append(
                f"carried on from the right earlier answers of draw {draw.number} it comes to"
                f" {follows}, not to {key:.8g}: mend its carry or its uses"
            )
            break
    stated = {question.answers.index(other) for other in answer.used}
    for earlier in sorted(stated | set(answer.carried_places)):
        if not any(_moves(answer, draw, place, earlier) for draw in draws):
            problems.append(
                f"does not move with the earlier answer {question.answers[earlier].id!r}, which it is said"
                " to follow from: strike that off its uses or mend its carry"
            )
    return problems


def _followed(answer: Answer, draw: Draw, earlier: list[float]) -> float | None:
    try:
        return answer.carried(draw.shown, earlier)
    except (ArithmeticError, ValueError):
        return None


def _moves(answer: Answer, draw: Draw, place: int, earlier: int) -> bool:
    """Whether changing one earlier answer changes this one; no number at all is a change too."""
    right = list(draw.keys[:place])
    before = _followed(answer, draw, right)
    for change in _CHANGES:
        wrong = [*right]
        wrong[earlier] = wrong[earlier] * change if wrong[earlier] else 1.0
        if _followed(answer, draw, wrong) != before:
            return True
    return False
