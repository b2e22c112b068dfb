"""Questions with many right answers: the student chooses numbers, and conditions say whether they will do.

A condition (`condition.py`) is a formula, or what the review of parts finds in a whole design.
The design stands in the bank as TOML with ``{...}`` in the place of numbers: a field, a given, or a formula
over both. It is read once, with marks in those places; what a student typed is a number by the time it takes
the place of a mark, and is never part of a text that is read.
"""

from __future__ import annotations

import re
from collections.abc import Container
from functools import cached_property
from typing import TYPE_CHECKING

from gearlab.practice.answer import derivation
from gearlab.practice.designs.condition import Condition, ReviewCondition
from gearlab.practice.formulas.expression import compile_formula
from gearlab.practice.tables import BankError, FieldTable, QuestionTable
from gearlab.practice.typed.reading import Reading, in_unit, read_within
from gearlab.practice.typed.wording import naming
from gearlab.theory import Derivation
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.scope import KINDS, scope_for, symbol
from gearlab.theory.systems import system
from gearlab.theory.units import factor, shown_unit, theory_unit
from gearlab.toml import tables_of

if TYPE_CHECKING:
    from gearlab.parts.review import Ledger
    from gearlab.practice.question import Question

__all__ = ["Condition", "Derived", "Design", "Field", "NAME", "ReviewedDesign", "names_in", "with_marks"]


class Field:
    """One number a student chooses, from `low` to `high` [unit].

    `asked` is its quantity word, "" for a name of the bank's own; `unit` is "" for none.
    """

    kind, several, symbols = "number", False, ()

    def __init__(self, table: FieldTable, length_unit: str):
        quantity = None if table.local else QUANTITIES[table.word]
        self.id = table.word
        self.asked = "" if quantity is None else table.word
        self.label = table.label or (quantity.meaning if quantity else table.word.replace("_", " "))
        self.shown_unit = table.unit or (shown_unit(quantity.dimension, length_unit) if quantity else "1")
        self.unit = "" if self.shown_unit == "1" else self.shown_unit
        self.low, self.high = float(table.start), float(table.stop)
        self.whole = bool(quantity and quantity.whole)
        self.factor = (
            factor(self.shown_unit, theory_unit(quantity.dimension, length_unit)) if quantity else 1.0
        )

    def __repr__(self) -> str:
        return f"Field({self.id!r})"

    def read(self, text: str) -> Reading:
        """What is understood of a typed text, within the field's range."""
        names = naming(self.asked, self.label)
        return read_within(text, self.shown_unit, self.low, self.high, self.whole, names)

    def number(self, reading: Reading) -> float | None:
        """A number that was read [unit of the field]."""
        return None if reading.value is None else in_unit(reading, self.shown_unit)


_BRACES = re.compile(r"\{([^{}\n]*)\}")
_MARK = "\ue000"  # a private character: nothing else in a bank uses it
NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
# reviews kept: of the same numbers one is asked for by each condition, and by many students for the bank's
# own choice
_KEPT = 256


def with_marks(text: str) -> tuple[dict, list[str]]:
    """A design's tables with a mark in the place of each ``{...}``, and what stands in the braces, by the
    number of the mark.

    >>> data, formulas = with_marks("[plate]\\nlength = {plate_length}\\nheight = 160\\n")
    >>> formulas, data["plate"]["height"]
    (['plate_length'], 160)
    """
    formulas: list[str] = []

    def mark(match) -> str:
        formulas.append(match[1].strip())
        return f'"{_MARK}{len(formulas) - 1}"'

    return tables_of(_BRACES.sub(mark, text)), formulas


def names_in(formulas: list[str], known: Container[str]) -> set[str]:
    """Which of the known names stand in formulas."""
    return {name for formula in formulas for name in NAME.findall(formula) if name in known}


class ReviewedDesign:
    """The design of a question, with numbers put in and reviewed.

    A formula in braces may name what `names` lists: fields, then the givens shown; the review hangs on those
    in `used`.
    """

    def __init__(self, text: str, names: tuple[str, ...]):
        self.names = names
        self._data, formulas = with_marks(text)
        self._functions = [compile_formula(formula, names) for formula in formulas]
        self.used = names_in(formulas, names)
        self._places = [names.index(name) for name in names if name in self.used]
        self._kept: dict[tuple[float, ...], Ledger] = {}

    def design(self, numbers: list[float]):
        """The design for numbers of all names; raises ValueError where it does not fit."""
        from gearlab.parts.design import design_of  # parts are needed by such questions only

        values = [function(*numbers) for function in self._functions]
        return design_of(_filled(self._data, values))

    def findings(self, numbers: list[float]) -> Ledger:
        """What the review finds for numbers of all names."""
        from gearlab.parts.review import Finding, Ledger, review

        key = tuple(numbers[place] for place in self._places)
        if key not in self._kept:
            try:
                ledger = review(self.design(numbers))
            except (ArithmeticError, ValueError) as error:
                impossible = Finding(
                    "gear-cannot-be",
                    "will not work",
                    "the design",
                    " ".join(str(error).split()) + ".",
                    "Each number must be one that a part can have.",
                    "There is no such part.",
                    "Change the number.",
                    "the design's own limits",
                )
                ledger = Ledger([(None, impossible)])
            if len(self._kept) >= _KEPT:
                self._kept.pop(next(iter(self._kept)))
            self._kept[key] = ledger
        return self._kept[key]


def _filled(part, values: list[float]):
    """A copy of tables with numbers in the place of marks."""
    if isinstance(part, dict):
        return {name: _filled(inner, values) for name, inner in part.items()}
    if isinstance(part, list):
        return [_filled(inner, values) for inner in part]
    if isinstance(part, str) and part.startswith(_MARK):
        return values[int(part[1:])]
    return part


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

    A condition's formulas may name, besides quantities of theory, what `names` lists: fields, then the givens
    shown. `reviewed` is the design that conditions have reviewed, if any.
    """

    def __init__(self, question: Question):
        table: QuestionTable = question.table
        self.question = question
        self.fields = tuple(Field(field, table.length_unit) for field in table.fields)
        self.conditions = tuple(
            (Condition if condition.formula else ReviewCondition)(self, condition, number)
            for number, condition in enumerate(table.conditions, start=1)
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
        field = next((own for own in self.fields if own.id == name), None)
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
                (condition.table.fails_for for condition in self.conditions if condition.id == which), None
            ) or getattr(self.question.table, which)
            self._examples[which] = [
                compile_formula(str(chosen[field.id]), self.question.names) for field in self.fields
            ]
        return [float(function(*values)) for function in self._examples[which]]

    def solvable(self, values: tuple, shown: tuple) -> bool:
        """Whether the example meets every condition for these numbers."""
        numbers = [*self.example(values), *shown]
        return all(condition.met(numbers) for condition in self.conditions)
