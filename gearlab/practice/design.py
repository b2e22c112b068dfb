"""Questions with many right answers: the student chooses numbers, and conditions say whether they will do.

A condition is a formula of the bank over the fields, the givens shown, and any quantity that theory derives from them.
Each is derived and compiled once for its question; after that a condition is held against numbers in plain float arithmetic.
"""

from __future__ import annotations

import math
from functools import cached_property

from gearlab.practice import formula as formulas
from gearlab.practice import tree as trees
from gearlab.practice.answer import derivation
from gearlab.practice.bank import BankError
from gearlab.practice.cause import Cause
from gearlab.practice.expression import compile_formula, parse
from gearlab.practice.field import Field
from gearlab.practice.formula import source
from gearlab.practice.reading import LONGEST, Reading, number_text
from gearlab.practice.tables import ConditionTable, QuestionTable
from gearlab.practice.verdict import Verdict
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import factor, shown_unit, theory_unit

__all__ = ["Condition", "Derived", "Design"]

NEAR_CREDIT = 0.5  # share of the points where a condition is only nearly met
_DIGITS = 6
_SAID = {"<=": "at most", ">=": "at least", "<": "less than", ">": "more than", "==": "exactly", "!=": "other than"}


class Derived:
    """A quantity theory derives from the fields and the givens; a worked solution is written from it as from an answer."""

    modular = whole = False

    def __init__(self, design: Design, word: str):
        self.design, self.question, self.asked = design, design.question, word
        self.id, self.table = f"derived {word}", _Plain
        quantity = QUANTITIES[word]
        self.label = quantity.meaning
        self.shown_unit = shown_unit(quantity.dimension, self.question.length_unit)
        self.unit = "" if self.shown_unit == "1" or (quantity.dimension == "count" and not word.endswith("teeth")) else self.shown_unit
        self.out_factor = factor(theory_unit(quantity.dimension, self.question.length_unit), self.shown_unit)
        self.way = self._way()
        self.inputs = {name: design.factors[name] for name in self.way.used}

    def _way(self):
        """From the fields alone where they suffice, else with the givens."""
        design = self.design
        fields = [field.id for field in design.fields if field.asked]
        for given in (fields, [*fields, *design.givens]):
            try:
                return derivation(self.question.table, self.asked, given)
            except ValueError as error:
                problem = str(error)
        raise BankError([f"{self.question.path}: question {self.question.id!r}: conditions: {self.asked}: {problem}"])

    def numbers(self, values: dict[str, float]) -> list[float]:
        """What goes into the derivation [units shown], from all numbers by name."""
        return [values[name] for name in self.inputs]


class _Plain:
    """What the table of a plain answer says of rounding: nothing."""

    preferred = whole = None
    size_only = False


class Condition:
    """One condition: what it is called, what it is worth, and whether numbers meet it.

    Attributes
    ----------
    id, label : str
        Name and short title.
    points : float
        What it is worth [-].
    """

    kind, unit, asked, several, modular, symbols = "design", "", "", False, False, ()

    def __init__(self, design: Design, table: ConditionTable, number: int):
        self.design, self.table = design, table
        self.id = table.id or f"condition-{number}"
        self.label = table.title
        self.points = float(table.points)

    def __repr__(self) -> str:
        return f"Condition({self.id!r})"

    # -- what is in it -----------------------------------------------------------------------------------------------------
    @cached_property
    def _trees(self) -> dict[str, tuple]:
        known = {name: name for name in (*self.design.names, *QUANTITIES)}
        read = {"met": parse(self.table.formula, known, bank=True)}
        if self.table.near:
            read["near"] = parse(self.table.near, known, bank=True)
        compared = _compared(read["met"].tree)
        if self.table.shows:
            read["shows"] = parse(self.table.shows, known, bank=True)
        elif compared:
            read["shows"] = parse(compared[0][1][1], known, bank=True)
        return {name: (one.tree, one.words) for name, one in read.items()} | {
            f"side {place}": (right, frozenset()) for place, (_, _, right) in enumerate(compared if self.table.wanted is None else ())}

    @cached_property
    def words(self) -> tuple[str, ...]:
        """Names of quantities that theory has to derive."""
        found = frozenset().union(*(words for _, words in self._trees.values()))
        return tuple(sorted(found - set(self.design.names)))

    @cached_property
    def rests_on(self) -> tuple[Field, ...]:
        """The fields it hangs on."""
        names = set().union(*(words for _, words in self._trees.values()))
        for word in self.words:
            names |= set(self.design.derived(word).inputs)
        return tuple(field for field in self.design.fields if field.id in names)

    @cached_property
    def noun(self) -> str:
        """What the number told is a number of."""
        tree = self._trees["shows"][0] if "shows" in self._trees else ("",)
        if tree[0] != "name":
            return "it"
        field = next((one for one in self.design.fields if one.id == tree[1]), None)
        if field:
            return field.label
        return QUANTITIES[tree[1]].meaning.partition(",")[0] if tree[1] in QUANTITIES else tree[1].replace("_", " ")

    @cached_property
    def shown_unit(self) -> str:
        """Unit of the number told, "" for none."""
        tree = self._trees["shows"][0] if "shows" in self._trees else ("",)
        unit = self.table.unit or (self.design.unit(tree[1]) if tree[0] == "name" else "1")
        return "" if unit == "1" else unit

    @cached_property
    def _compiled(self):
        """A function of all names: whether it is met, whether nearly, the number told, and the numbers it is compared with."""
        places = {name: place for place, name in enumerate(self.design.names)}
        lines = []
        for word in self.words:
            derived = self.design.derived(word)
            names = {}
            for name, scale in derived.inputs.items():
                names[name] = f"v{places[name]}" if scale == 1.0 else f"(v{places[name]} * {scale!r})"
            lines.append(f"v{len(places)} = {source(derived.way.raw, names)} * {derived.out_factor!r}")
            places[word] = len(places)
        parts = self._trees
        results = [trees.as_source(parts[name][0], places) if name in parts else "None" for name in ("met", "near", "shows")]
        results += [trees.as_source(tree, places) for name, (tree, _) in parts.items() if name.startswith("side")]
        body = "\n    ".join([*lines, f"return ({', '.join(results)})"])
        space = {**trees.ENVIRONMENT, **formulas.ENVIRONMENT}
        exec(f"def held({', '.join(f'v{place}' for place in range(len(self.design.names)))}):\n    {body}\n", space)  # noqa: S102 (our own source)
        return space["held"]

    # -- numbers held against it -----------------------------------------------------------------------------------------------
    def held(self, numbers: list[float]) -> tuple | None:
        """Met, nearly met, number told and numbers compared with; None where the numbers give nothing real."""
        function = self._compiled
        try:
            found = function(*numbers)
        except (ArithmeticError, ValueError, TypeError):
            return None
        shows = found[2]
        return None if shows is not None and (isinstance(shows, complex) or not math.isfinite(shows)) else found

    def met(self, numbers: list[float]) -> bool:
        """Whether the numbers meet it."""
        found = self.held(numbers)
        return found is not None and bool(found[0])

    def wanted(self, draw, found: tuple) -> str:
        """What is wanted, in words, "" where the bank says it in its own sentence only."""
        if self.table.wanted is not None:
            return self.design.question.filled(self.table.wanted, draw)
        unit = f" {self.shown_unit}" if self.shown_unit else ""
        signs = [operator for operator, _, _ in _compared(self._trees["met"][0])]
        sides = [number_text(float(number), _DIGITS) for number in found[3:]]
        if signs == [">=", "<="]:
            return f"{sides[0]} to {sides[1]}{unit}"
        return " and ".join(f"{_SAID[sign]} {side}{unit}" for sign, side in zip(signs, sides))

    def told(self, draw, found: tuple) -> str:
        """The number that came out and what is wanted, as a sentence, "" where there is no number to tell."""
        wanted = self.wanted(draw, found)
        if found[2] is None:
            return f"Wanted: {wanted}." if wanted else ""
        number = f"{self.noun[0].upper()}{self.noun[1:]} comes out as {number_text(float(found[2]), _DIGITS)}{' ' + self.shown_unit if self.shown_unit else ''}"
        return f"{number}; wanted: {wanted}." if wanted else f"{number}."

    def verdict(self, draw, numbers: list[float], readings: dict[str, Reading]) -> Verdict:
        """What became of the condition for the numbers that could be read."""
        for field in self.rests_on:
            reading = readings[field.id]
            if reading.empty:
                return Verdict("not answered", False, 0.0, self.points, sentence=f"Nothing was typed for “{field.label}”.")
            if not reading.ok:
                return Verdict("cannot read", False, 0.0, self.points, sentence=f"“{field.label}”: {reading.problem}")
        found = self.held(numbers)
        says = self.design.question.filled(self.table.says, draw)
        if found is None:
            cause = Cause(self.id, f"{self.label}: not met", f"With these numbers nothing real comes out. {says}", 0.0, "not met")
            return Verdict("not met", False, 0.0, self.points, causes=(cause,), sentence=cause.sentence)
        told = self.told(draw, found)
        read = "" if found[2] is None else f"read as {self.noun} = {number_text(float(found[2]), _DIGITS)}{' ' + self.shown_unit if self.shown_unit else ''}"
        if found[0]:
            return Verdict("right", True, self.points, self.points, read, sentence=f"Met. {told}".strip())
        near = bool(found[1])
        sentence = " ".join(one for one in (told, "Nearly, but not quite." if near else "", says) if one)
        cause = Cause(self.id, f"{self.label}: {'nearly met' if near else 'not met'}", sentence, NEAR_CREDIT if near else 0.0, "close" if near else "not met")
        return Verdict(cause.kind, False, cause.credit * self.points, self.points, read, causes=(cause,), sentence=sentence)


def _compared(tree: tuple) -> list[tuple]:
    """(sign, left, right) of a comparison with one name on its left, or of several of the same name; otherwise nothing."""
    if tree[0] in _SAID and tree[1][0] == "name":
        return [tree]
    if tree[0] == "and":
        left, right = _compared(tree[1]), _compared(tree[2])
        if left and right and left[0][1] == right[0][1]:
            return left + right
    return []


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
    """

    def __init__(self, question):
        table: QuestionTable = question.table
        self.question = question
        self.fields = tuple(Field(one, table.length_unit) for one in table.fields)
        self.conditions = tuple(Condition(self, one, number) for number, one in enumerate(table.conditions, start=1))
        self.givens = question.known_names
        self.names = (*(field.id for field in self.fields), *question.shown_names)
        self._derived: dict[str, Derived] = {}
        self._examples: dict[str, list] = {}

    @cached_property
    def factors(self) -> dict[str, float]:
        """Factor from the unit shown to theory's unit [-], by name."""
        return {**{field.id: field.factor for field in self.fields}, **{name: self.question.factor(name) for name in self.givens}}

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

    # -- examples ------------------------------------------------------------------------------------------------------------------
    def example(self, values: tuple, which: str = "example") -> list[float]:
        """A choice of the bank's own for drawn numbers (hidden ones too) [units of the fields]: "example", "bad_example", or what fails a condition, by its id."""
        if which not in self._examples:
            chosen = next((one.table.fails_for for one in self.conditions if one.id == which), None) or getattr(self.question.table, which)
            self._examples[which] = [compile_formula(str(chosen[field.id]), self.question.names) for field in self.fields]
        return [float(function(*values)) for function in self._examples[which]]

    def solvable(self, values: tuple, shown: tuple) -> bool:
        """Whether the example meets every condition for these numbers."""
        numbers = [*self.example(values), *shown]
        return all(condition.met(numbers) for condition in self.conditions)

    # -- judging -------------------------------------------------------------------------------------------------------------------
    def typed(self, texts: dict) -> str:
        """What was typed, in one line."""
        return ", ".join(f"{field.id} = {text}" for field in self.fields if (text := _text(texts, field.id)).strip())

    def judge(self, draw, texts: dict, chosen: dict) -> dict[str, Verdict]:
        """A verdict on each condition, by its id."""
        readings, numbers = {}, []
        for field in self.fields:
            reading = field.read(_text(texts, field.id))
            if reading.alternatives and chosen.get(field.id) == 1:
                reading = reading.alternatives[1]
            readings[field.id] = reading
            numbers.append(field.number(reading) or 0.0)
        numbers += draw.shown
        if all(reading.empty for reading in readings.values()):
            return {one.id: Verdict("not answered", False, 0.0, one.points, sentence="Nothing was typed here.") for one in self.conditions}
        return {one.id: one.verdict(draw, numbers, readings) for one in self.conditions}


def _text(texts: dict, name: str) -> str:
    text = texts.get(name)
    return "" if text is None else str(text)[: LONGEST + 1]
