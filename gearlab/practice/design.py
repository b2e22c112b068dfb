"""Questions with many right answers: the student chooses numbers, and conditions say whether they will do.

A condition is a formula (`gearlab.practice.condition`), or what the review of parts finds in a whole design
(`gearlab.practice.reviewed`).
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from gearlab.practice.answer import derivation
from gearlab.practice.condition import Condition, ReviewCondition
from gearlab.practice.expression import compile_formula
from gearlab.practice.field import Field
from gearlab.practice.reviewed import ReviewedDesign
from gearlab.practice.tables import BankError, QuestionTable
from gearlab.theory import Derivation
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.scope import KINDS, scope_for, symbol
from gearlab.theory.systems import system
from gearlab.theory.units import factor, shown_unit, theory_unit

if TYPE_CHECKING:
    from gearlab.practice.question import Question

__all__ = ["Condition", "Derived", "Design"]


class Derived:
    """A quantity theory derives from the fields and the givens.

    A worked solution is written from it as from an answer.
    """

    modular = whole = False
    question: Question
    asked: str
    label: str
    unit: str
    way: Derivation
    inputs: dict[str, float]

    def __init__(self, design: Design, word: str):
        self.design, self.question, self.asked = design, design.question, word
        self.id, self.table = f"derived {word}", _Plain
        quantity = QUANTITIES[word]
        self.label = quantity.meaning
        self.shown_unit = shown_unit(quantity.dimension, self.question.length_unit)
        self.unit = (
            ""
            if self.shown_unit == "1" or (quantity.dimension == "count" and not word.endswith("teeth"))
            else self.shown_unit
        )
        self.out_factor = factor(theory_unit(quantity.dimension, self.question.length_unit), self.shown_unit)
        self.way = self._way()
        self.inputs = {name: design.factors[name] for name in self.way.used}

    def _way(self) -> Derivation:
        """From the fields alone where they suffice, else with the givens."""
        design = self.design
        fields = [word for word in design.of_kind if word not in design.givens]
        for given in (fields, list(design.of_kind)):
            try:
                return derivation(self.question.table, self.asked, given)
            except ValueError as error:
                problem = str(error)
        raise BankError(
            [f"{self.question.path}: question {self.question.id!r}: conditions: {self.asked}: {problem}"]
        )

    def numbers(self, values: dict[str, float]) -> list[float]:
        """What goes into the derivation [units shown], from all numbers by name."""
        return [values[name] for name in self.inputs]


class _Plain:
    """What the table of a plain answer says of rounding: nothing."""

    preferred = whole = None
    size_only = False


class Design:
    """The fields, conditions and examples of one question.

    Attributes
    ----------
    fields : tuple of Field
        What is chosen.
    conditions : tuple of Condition
        What the chosen numbers have to meet.
    names : tuple of str
        What a condition's formulas may name besides quantities of theory: fields, then the givens shown.
    reviewed : ReviewedDesign or None
        The design that conditions have reviewed.
    """

    def __init__(self, question: Question):
        table: QuestionTable = question.table
        self.question = question
        self.fields = tuple(Field(one, table.length_unit) for one in table.fields)
        self.conditions = tuple(
            (Condition if one.formula else ReviewCondition)(self, one, number)
            for number, one in enumerate(table.conditions, start=1)
        )
        self.givens = question.known_names
        self.names = (*(field.id for field in self.fields), *question.shown_names)
        self.reviewed = ReviewedDesign(table.design, self.names) if table.design else None
        self._derived: dict[str, Derived] = {}
        self._examples: dict[str, list] = {}

    @cached_property
    def factors(self) -> dict[str, float]:
        """Factor from the unit shown to theory's unit [-], by name."""
        return {
            **{field.id: field.factor for field in self.fields},
            **{name: self.question.factor(name) for name in self.givens},
        }

    @cached_property
    def of_kind(self) -> tuple[str, ...]:
        """Fields and givens that occur in the question's kind of theory.

        A design that is reviewed has others beside them, such as a length of shaft.
        """
        table = self.question.table
        rows = (system(table.tooth_system),) * (2 if len(KINDS[table.of].sides) == 2 else 1)
        scope = scope_for(table.of, table.length_unit, rows, frozenset(table.features))
        words = [*(field.id for field in self.fields if field.asked), *self.givens]
        return tuple(word for word in words if self.reviewed is None or symbol(word) in scope.symbols)

    def unit(self, name: str) -> str:
        """The unit a name of a condition is told in, "" or "1" for none."""
        field = next((one for one in self.fields if one.id == name), None)
        if field:
            return field.shown_unit
        return self.question.unit(name) if name in self.question.shown_names else self.derived(name).unit

    def derived(self, word: str) -> Derived:
        """A quantity that theory derives from the fields and the givens."""
        if word not in self._derived:
            self._derived[word] = Derived(self, word)
        return self._derived[word]

    # -- examples --
    def example(self, values: tuple, which: str = "example") -> list[float]:
        """A choice of the bank's own for drawn numbers (hidden ones too) [units of the fields].

        "example", "bad_example", or what fails a condition, by its id.
        """
        if which not in self._examples:
            chosen = next(
                (one.table.fails_for for one in self.conditions if one.id == which), None
            ) or getattr(self.question.table, which)
            self._examples[which] = [
                compile_formula(str(chosen[field.id]), self.question.names) for field in self.fields
            ]
        return [float(function(*values)) for function in self._examples[which]]

    def solvable(self, values: tuple, shown: tuple) -> bool:
        """Whether the example meets every condition for these numbers."""
        numbers = [*self.example(values), *shown]
        return all(condition.met(numbers) for condition in self.conditions)
