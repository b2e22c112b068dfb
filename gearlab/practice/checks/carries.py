"""Whether wrong earlier answers are carried on as they should be."""

from __future__ import annotations

import itertools
import math

from gearlab.practice.answer import Answer
from gearlab.practice.draw import Draw
from gearlab.practice.formulas.expression import compile_formula
from gearlab.practice.precision import apart
from gearlab.practice.question import Question

__all__ = ["check_carry"]

_CHANGES = (1.3, 0.8, 2.0, -1.0)  # what an earlier answer is multiplied by
_ENOUGH = 12  # draws
_EXACT = 1e-7  # relative; two formulas for one number differ by no more


def check_carry(question: Question, answer: Answer, place: int, drawn: list[Draw]) -> list[str]:
    """Problems of going on from earlier answers.

    With the right ones it leads to the right answer; the answer moves with each earlier one that it is
    said to follow from; and where the bank states a proof, it moves as the proof does, or not at all.
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
    return problems + _against_proof(answer, place, draws)


def _against_proof(answer: Answer, place: int, draws: list[Draw]) -> list[str]:
    """Problems of the key and of what follows from each changed earlier answer, by the bank's own proof."""
    if answer.table.proof is None or not answer.derived:  # the others prove it at every draw
        return []
    names = [other.id for other in answer.question.answers[:place]]
    formula = compile_formula(answer.table.proof, [*names, *answer.question.shown_names])
    compared = dict.fromkeys(range(place), 0)
    for draw in draws:
        right, period = list(draw.keys[:place]), answer.period(draw.shown)
        proven = _proven(answer, formula, draw, right)
        if proven is None or apart(proven, draw.keys[place], period) > _near(draw.keys[place]):
            return [f"proof: comes to {proven}, not to the key {draw.keys[place]:.8g} of draw {draw.number}"]
        for earlier, change in itertools.product(range(place), _CHANGES):
            wrong = [*right]
            wrong[earlier] = _changed(answer.question.answers[earlier], wrong[earlier], change)
            proven, follows = _proven(answer, formula, draw, wrong), _followed(answer, draw, wrong)
            if proven is None or follows is None:
                continue
            compared[earlier] += 1
            if apart(proven, follows, period) > _near(proven):
                name = names[earlier]
                return [
                    f"with {name} = {wrong[earlier]:.8g} in place of {right[earlier]:.8g} (draw"
                    f" {draw.number}) it comes to {follows:.8g}, but to {proven:.8g} by its proof: mend its"
                    " carry, its uses or the proof"
                ]
    return [
        f"proof: has no value with any other {names[earlier]}, so nothing is proven of it"
        for earlier, times in compared.items()
        if not times
    ]


def _near(value: float) -> float:
    return _EXACT * abs(value) + 1e-9


def _changed(earlier: Answer, right: float, change: float) -> float:
    """An earlier answer as a student may have it: a count stays whole."""
    if earlier.whole:
        return math.copysign(math.ceil(abs(right * change)), right * change) or 1.0
    return right * change if right else 1.0


def _proven(answer: Answer, formula, draw: Draw, earlier: list[float]) -> float | None:
    try:
        value = formula(*earlier, *draw.shown)
    except (ArithmeticError, ValueError):
        return None
    return answer.rounded(value) if math.isfinite(value) else None


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
