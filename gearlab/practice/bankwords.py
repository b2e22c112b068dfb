"""Words of a bank: whether a unit, a quantity, the names in a formula are known, and what is near if not."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from typing import TYPE_CHECKING

from gearlab.practice.formulas.expression import ExpressionError, compile_formula
from gearlab.practice.formulas.formula import ANGLE_FUNCTIONS, BANK_FUNCTIONS, PLAIN_FUNCTIONS
from gearlab.practice.typed.units import BY_SPELLING, UNITS
from gearlab.schema import near
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import alike, shown_unit

if TYPE_CHECKING:
    from gearlab.practice.tables import QuestionTable

__all__ = ["check_formulas", "check_unit", "no_quantity", "unknown_unit"]


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
