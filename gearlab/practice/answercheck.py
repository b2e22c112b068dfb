"""What has to fit together in the answers of a bank: for the kinds that ask for numbers or expressions."""

from __future__ import annotations

from collections.abc import Callable

from gearlab.practice.findings import check_formulas, check_unit, near
from gearlab.practice.tables import AnswerTable, QuestionTable
from gearlab.theory.quantities import QUANTITIES

__all__ = ["check_answers", "check_modulo"]

# Of one answer: its problems that only this kind of question has, and the names its slips may use.
OfKind = Callable[[AnswerTable, QuestionTable, list[str]], tuple[list[str], list[str]]]


def check_answers(question: QuestionTable, shown: list[str], of_kind: OfKind) -> list[str]:
    """Problems of every answer: "answers.name: field: what is expected"."""
    problems = [] if question.answers else ["answers: at least one is needed"]
    before: list[str] = []
    for number, answer in enumerate(question.answers, start=1):
        name = answer.id or answer.asked
        if name in before or name in ("choice", "reason"):
            problems.append(
                f"answers.{number}: id: {name!r} stands twice or is reserved; give this answer an id of"
                " its own"
            )
        problems += [
            f"answers.{name}: {problem}"
            for problem in _check_answer(answer, question, shown, before, of_kind)
        ]
        before.append(name)
    return problems


def _check_answer(
    answer: AnswerTable, question: QuestionTable, shown: list[str], before: list[str], of_kind: OfKind
) -> list[str]:
    if answer.asked not in QUANTITIES:
        return [f"asked: {answer.asked!r} is not a quantity of theory{near(answer.asked, QUANTITIES)}"]
    problems = check_unit(answer.unit, answer.asked, question)
    usable = [name for name in shown if not question.givens[name].local]
    problems += [
        f"given: {name!r} is not a shown given of this question{near(name, usable)}"
        for name in answer.given or ()
        if name not in usable
    ]
    problems += [
        f"uses: {name!r} is not an answer that stands before this one{near(name, before)}"
        for name in answer.uses
        if name not in before
    ]
    if answer.carry is not None:
        problems += check_formulas("carry", [answer.carry], [*before, *shown])
    if answer.proof is not None:
        problems += check_formulas("proof", [answer.proof], [*before, *shown])
        if answer.carry is not None and answer.proof.split() == answer.carry.split():
            problems.append("proof: is the carry once more, which proves nothing: write it another way")
    special, allowed = of_kind(answer, question, shown)
    problems += special
    if answer.whole and answer.preferred:
        problems.append("whole and preferred exclude each other")
    names = [slip.name for slip in answer.slips]
    for slip in answer.slips:
        if names.count(slip.name) > 1:
            problems.append(f"slips.{slip.name}: name stands twice")
        problems += check_formulas(f"slips.{slip.name}.formula", [slip.formula], allowed)
        problems += check_formulas(f"slips.{slip.name}.where", slip.where, allowed)
    return problems


def check_modulo(answer: AnswerTable, modulo: str, shown: list[str]) -> list[str]:
    """Problems of an answer that is right a whole number of periods away too."""
    problems = check_formulas("modulo", [modulo], shown)
    problems += [
        f"modulo: does not go with {name}"
        for name in ("whole", "preferred", "size_only")
        if getattr(answer, name)
    ]
    if answer.tolerance is None or answer.tolerance.relative or not answer.tolerance.absolute:
        problems.append(
            "modulo: needs tolerance = { absolute = ... } and no relative one: numbers a whole period apart"
            " are the same answer"
        )
    return problems
