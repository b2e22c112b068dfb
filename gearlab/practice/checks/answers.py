"""What has to fit together in the answers of a question: quantities, units, formulas, precision, slips."""

from __future__ import annotations

from collections.abc import Callable

from gearlab.practice.bankwords import check_formulas, check_unit, no_quantity, unknown_unit
from gearlab.practice.tables import AnswerTable, QuestionTable
from gearlab.practice.typed.units import UNITS
from gearlab.schema import near
from gearlab.theory.quantities import QUANTITIES

__all__ = ["check_answers", "check_modulo"]

# Of one answer: its problems that only this kind of question has, and the names its slips may use.
OfKind = Callable[[AnswerTable, QuestionTable, list[str]], tuple[list[str], list[str]]]


def check_answers(question: QuestionTable, shown: list[str], of_kind: OfKind) -> list[str]:
    """Problems of every answer: "answers.name: field: what is expected"."""
    problems = [] if question.answers else ["answers: at least one is needed"]
    before: list[str] = []
    for number, answer in enumerate(question.answers, start=1):
        name = answer.id or answer.asked or f"number {number}"
        if name in before or name in ("choice", "reason"):
            problems.append(
                f"answers.{number}: id: {name!r} stands twice or is reserved; give this answer an id of"
                " its own"
            )
        faults = _check_formula(answer, question, shown, before) if answer.formula else None
        problems += [
            f"answers.{name}: {problem}"
            for problem in faults or _check_answer(answer, question, shown, before, of_kind)
        ]
        before.append(name)
    return problems


def _check_answer(
    answer: AnswerTable, question: QuestionTable, shown: list[str], before: list[str], of_kind: OfKind
) -> list[str]:
    if not answer.formula and answer.asked not in QUANTITIES:
        return [
            f"asked: {answer.asked!r} {no_quantity(answer.asked)}"
            if answer.asked
            else "asked: is missing: name a quantity of theory, or give a formula of your own and its proof"
        ]
    problems = [
        f"{name}: belongs to an answer with a formula of its own"
        for name in ("symbol", "range", "rule", "source")
        if not answer.formula and getattr(answer, name) is not None
    ]
    problems += check_unit(answer.unit, answer.asked, question) if answer.asked else []
    formulas = {answer.id for answer in question.answers if answer.formula}
    problems += [
        f"uses: {name!r} is asked by a formula of its own, and theory cannot go on from it: give this answer"
        " a formula too"
        for name in answer.uses
        if name in formulas
    ]
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
        equation = [answer.id] if answer.formula and answer.id else []
        problems += check_formulas("proof", [answer.proof], [*before, *equation, *shown])
        if answer.carry is not None and answer.proof.split() == answer.carry.split():
            problems.append("proof: is the carry once more, which proves nothing: write it another way")
    special, allowed = of_kind(answer, question, shown)
    problems += special
    if answer.whole and answer.preferred:
        problems.append("whole and preferred exclude each other")
    problems += _check_precision(answer)
    names = [slip.name for slip in answer.slips]
    for slip in answer.slips:
        if names.count(slip.name) > 1:
            problems.append(f"slips.{slip.name}: name stands twice")
        problems += check_formulas(f"slips.{slip.name}.formula", [slip.formula], allowed)
        problems += check_formulas(f"slips.{slip.name}.where", slip.where, allowed)
    return problems


def _check_precision(answer: AnswerTable) -> list[str]:
    """Problems of the precision that an answer states."""
    unknown = [word for word in answer.same_as if word not in QUANTITIES]
    if unknown:
        return [f"same_as: {unknown[0]!r} is not a quantity of theory{near(unknown[0], QUANTITIES)}"]
    stated = [name for name in ("places", "figures") if getattr(answer, name) is not None]
    if len(stated) == 2:
        return ["places and figures exclude each other: state one precision"]
    whole = answer.whole or answer.preferred or (answer.asked and QUANTITIES[answer.asked].whole)
    if stated and whole:
        return [f"{stated[0]}: only one number is right here, which needs no precision: leave it out"]
    if answer.figures is not None and answer.modulo is not None:
        return ["figures: numbers a whole period apart are the same answer: state places instead"]
    return []


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


def _check_formula(
    answer: AnswerTable, question: QuestionTable, shown: list[str], before: list[str]
) -> list[str]:
    """Problems of an answer by a formula of its own, before those that other answers may have as well."""
    problems = []
    if question.kind == "expression":
        problems.append("formula: an expression question asks for what theory derives; name that in asked")
    if answer.asked and answer.asked not in QUANTITIES:
        problems.append(f"asked: {answer.asked!r} {no_quantity(answer.asked)}; leave it out beside a formula")
    if answer.id is None or answer.id in shown:
        problems.append("id: an answer by a formula needs a name of its own, which is no given")
    if answer.label is None and not answer.asked:
        problems.append("label: an answer by a formula needs one, such as 'mass of the blank'")
    if answer.range is None:
        problems.append("range: say between which numbers it may come out, range = { from = 0.1, to = 5 }")
    elif answer.range.stop <= answer.range.start:
        problems.append(f"range: from {answer.range.start:g} to {answer.range.stop:g} has no room")
    problems += [
        f"{name}: belongs to what theory derives; here the formula names what it needs"
        for name in ("given", "uses", "preferred", "symbols")
        if getattr(answer, name)
    ]
    if answer.unit is not None and answer.unit not in UNITS:
        problems.append(unknown_unit(answer.unit))
    problems += check_formulas("formula", [answer.formula or ""], [*before, *shown])
    if answer.proof is None and not answer.asked:
        problems.append(
            "proof: a second formula for the same number, written another way, or an equation that it solves,"
            " such as 'diameter == sqrt(4 * mass / ...)'; or name what theory derives in asked"
        )
    return problems
