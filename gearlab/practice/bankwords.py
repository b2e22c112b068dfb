"""Words of a bank: whether a unit, a quantity, the names in a formula are known, and what is near if not."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from typing import TYPE_CHECKING

from gearlab.practice.expression import ExpressionError, compile_formula
from gearlab.practice.formula import ANGLE_FUNCTIONS, BANK_FUNCTIONS, PLAIN_FUNCTIONS
from gearlab.practice.units import BY_SPELLING, UNITS
from gearlab.schema import near
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import alike, shown_unit

if TYPE_CHECKING:
    from gearlab.practice.tables import AnswerTable, QuestionTable

__all__ = ["check_formula_answer", "check_formulas", "check_unit", "no_quantity", "unknown_unit"]


def unknown_unit(unit: str) -> str:
    """That a unit is not known, and which it may be: as students spell it, or near by its letters."""
    letters = unit.casefold().replace(" ", "").replace("*", "")
    spelled = BY_SPELLING.get(letters) or [
        name
        for spelling in difflib.get_close_matches(letters, BY_SPELLING, 1, 0.8)
        for name in BY_SPELLING[spelling]
        if len(letters) > 4
    ]
    return f"unit: {unit!r} is not known" + (
        f"; a bank writes it {' or '.join(map(repr, spelled))}"
        if spelled
        else near(unit, UNITS) or f"; the units are {', '.join(UNITS)}"
    )


def check_unit(unit: str | None, word: str, question: QuestionTable) -> list[str]:
    """Whether a unit is known and measures a quantity."""
    if unit is None:
        return []
    dimension = QUANTITIES[word].dimension
    if unit not in UNITS:
        return [unknown_unit(unit)]
    if not alike(UNITS[unit].dimension, dimension):
        usual = shown_unit(dimension, question.length_unit)
        return [
            f"unit: {unit!r} measures a {UNITS[unit].dimension}, but {word} is a {dimension} (for example"
            f" {usual!r})"
        ]
    return []


def check_formulas(place: str, formulas: list[str], names: Iterable[str]) -> list[str]:
    """Formulas that cannot be read, or name what is not there."""
    problems, known = [], list(names)
    for formula in formulas:
        try:
            compile_formula(formula, known)
        except ExpressionError as error:
            like = near(error.unknown, [*known, *PLAIN_FUNCTIONS, *ANGLE_FUNCTIONS, *BANK_FUNCTIONS])
            problems.append(f"{place}: {formula!r}: {str(error).removesuffix('.') if like else error}{like}")
    return problems


def no_quantity(word: str) -> str:
    """That a word is no quantity of theory, with the near ones, and where all are listed."""
    return f"is not a quantity of theory{near(word, QUANTITIES)}; `gearlab check --words KIND` lists them"


def check_formula_answer(
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
