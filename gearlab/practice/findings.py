"""What is found wrong in a bank, in words: what several checks share."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable

from gearlab.practice.expression import ExpressionError, compile_formula
from gearlab.practice.spelling import BY_SPELLING
from gearlab.practice.tables import QuestionTable
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import UNITS, shown_unit

__all__ = ["BRACES", "check_formulas", "check_unit", "near", "unknown_unit"]

BRACES = re.compile(r"\{([^{}]*)\}")


def near(word: str, words: Iterable[str]) -> str:
    """Words like a wrong one, as the end of a message."""
    near = difflib.get_close_matches(word, list(words), 3, 0.55)
    return f"; near: {', '.join(near)}" if near else ""


def unknown_unit(unit: str) -> str:
    """That a unit is not known, and which it may be: as students spell it, or near by its letters."""
    spelled = BY_SPELLING.get(unit.casefold().replace(" ", "").replace("*", ""), [])
    return f"unit: {unit!r} is not known" + (
        f"; a bank writes it {' or '.join(map(repr, spelled))}" if spelled else near(unit, UNITS)
    )


def check_unit(unit: str | None, word: str, question: QuestionTable) -> list[str]:
    """Whether a unit is known and measures a quantity."""
    if unit is None:
        return []
    dimension = QUANTITIES[word].dimension
    if unit not in UNITS:
        return [unknown_unit(unit)]
    counting = {"count", "number", "turns"}
    if UNITS[unit].dimension != dimension and not {UNITS[unit].dimension, dimension} <= counting:
        usual = shown_unit(dimension, question.length_unit)
        return [
            f"unit: {unit!r} measures a {UNITS[unit].dimension}, but {word} is a {dimension} (for example"
            f" {usual!r})"
        ]
    return []


def check_formulas(place: str, formulas: list[str], names: Iterable[str]) -> list[str]:
    """Formulas that cannot be read, or name what is not there."""
    problems = []
    for formula in formulas:
        try:
            compile_formula(formula, names)
        except ExpressionError as error:
            problems.append(f"{place}: {formula!r}: {error}")
    return problems
