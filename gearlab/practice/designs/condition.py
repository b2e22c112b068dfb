"""One condition of a design question.

A formula of the bank over the fields, the givens shown, and any quantity that theory derives from them.

Each is derived and compiled once for its question; after that a condition is held against numbers in plain
float arithmetic. A condition may also be decided by the review of a whole design.
"""

from __future__ import annotations

import math
from functools import cached_property
from typing import TYPE_CHECKING, Any

from gearlab.digits import number_text
from gearlab.practice.contract import NEAR_CREDIT
from gearlab.practice.draw import Draw
from gearlab.practice.formulas.expression import parse
from gearlab.practice.formulas.formula import ENVIRONMENT, as_source, source
from gearlab.practice.tables import ConditionTable
from gearlab.practice.typed.reading import Reading
from gearlab.practice.verdict import Cause, Verdict
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import written

if TYPE_CHECKING:
    from gearlab.practice.designs.design import Design, Field, ReviewedDesign

__all__ = ["Condition", "ReviewCondition"]

_DIGITS = 6
_TOLD = 3  # findings of a review told in one sentence
_SAID = {
    "<=": "at most",
    ">=": "at least",
    "<": "less than",
    ">": "more than",
    "==": "exactly",
    "!=": "other than",
}


class Condition:
    """One condition: its name and title, its points [-], and whether numbers meet it."""

    kind, unit, asked, several, modular, symbols = "design", "", "", False, False, ()

    def __init__(self, design: Design, table: ConditionTable, number: int):
        self.design, self.table = design, table
        self.id = table.id or f"condition-{number}"
        self.label = table.title
        self.points = float(table.points)
        self._formula = table.formula or ""  # none where a review decides

    def __repr__(self) -> str:
        return f"Condition({self.id!r})"

    @property
    def rule(self) -> str:
        """What has to hold, for the instructor's eyes."""
        return self._formula

    # -- what is in it ---------------------------------------------------------------------------------
    @cached_property
    def _trees(self) -> dict[str, tuple]:
        known = {name: name for name in (*self.design.names, *QUANTITIES)}
        read = {"met": parse(self._formula, known, bank=True)}
        if self.table.near:
            read["near"] = parse(self.table.near, known, bank=True)
        compared = _compared(read["met"].tree)
        if self.table.shows:
            read["shows"] = parse(self.table.shows, known, bank=True)
        elif compared:
            read["shows"] = parse(compared[0][1][1], known, bank=True)
        return {name: (expression.tree, expression.words) for name, expression in read.items()} | {
            f"side {place}": (right, frozenset())
            for place, (_, _, right) in enumerate(compared if self.table.wanted is None else ())
        }

    @cached_property
    def words(self) -> tuple[str, ...]:
        """Names of quantities that theory has to derive."""
        words = frozenset().union(*(words for _, words in self._trees.values()))
        return tuple(sorted(words - set(self.design.names)))

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
        tree: tuple[Any, ...] = self._trees["shows"][0] if "shows" in self._trees else ("",)
        if tree[0] != "name":
            return "it"
        field = next((own for own in self.design.fields if own.id == tree[1]), None)
        if field:
            return field.label
        return (
            QUANTITIES[tree[1]].meaning.partition(",")[0]
            if tree[1] in QUANTITIES
            else tree[1].replace("_", " ")
        )

    @cached_property
    def shown_unit(self) -> str:
        """Unit of the number told, "" for none."""
        tree: tuple[Any, ...] = self._trees["shows"][0] if "shows" in self._trees else ("",)
        unit = self.table.unit or (self.design.unit(tree[1]) if tree[0] == "name" else "1")
        return "" if unit == "1" else unit

    @cached_property
    def _compiled(self):
        """A function of all names.

        Whether it is met, whether nearly, the number told, and the numbers it is compared with.
        """
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
        results = [
            as_source(parts[name][0], places) if name in parts else "None"
            for name in ("met", "near", "shows")
        ]
        results += [as_source(tree, places) for name, (tree, _) in parts.items() if name.startswith("side")]
        body = "\n    ".join([*lines, f"return ({', '.join(results)})"])
        space = dict(ENVIRONMENT)
        exec(
            f"def held({', '.join(f'v{place}' for place in range(len(self.design.names)))}):\n    {body}\n",
            space,
        )  # noqa: S102 (our own source)
        return space["held"]

    # -- numbers held against it -----------------------------------------------------------------------
    def held(self, numbers: list[float]) -> tuple | None:
        """Met, nearly met, number told and numbers compared with.

        None where the numbers give nothing real.
        """
        function = self._compiled
        try:
            outcome = function(*numbers)
        except (ArithmeticError, ValueError, TypeError):
            return None
        shows = outcome[2]
        return (
            None
            if shows is not None and (isinstance(shows, complex) or not math.isfinite(shows))
            else outcome
        )

    def met(self, numbers: list[float]) -> bool:
        """Whether the numbers meet it."""
        outcome = self.held(numbers)
        return outcome is not None and bool(outcome[0])

    def wanted(self, draw: Draw, outcome: tuple) -> str:
        """What is wanted, in words, "" where the bank says it in its own sentence only."""
        if self.table.wanted is not None:
            return self.design.question.filled(self.table.wanted, draw)
        unit = f" {written(self.shown_unit)}" if self.shown_unit else ""
        signs = [operator for operator, _, _ in _compared(self._trees["met"][0])]
        sides = [number_text(float(number), _DIGITS) for number in outcome[3:]]
        if signs == [">=", "<="]:
            return f"{sides[0]} to {sides[1]}{unit}"
        return " and ".join(f"{_SAID[sign]} {side}{unit}" for sign, side in zip(signs, sides))

    def _written(self, number: float) -> str:
        """A number that came out, with the unit it is told in."""
        unit = f" {written(self.shown_unit)}" if self.shown_unit else ""
        return number_text(float(number), _DIGITS) + unit

    def told(self, draw: Draw, outcome: tuple) -> str:
        """The number that came out and what is wanted, as a sentence, "" where there is no number to tell."""
        wanted = self.wanted(draw, outcome)
        if outcome[2] is None:
            return f"Wanted: {wanted}." if wanted else ""
        number = f"{self.noun[0].upper()}{self.noun[1:]} comes out as {self._written(outcome[2])}"
        return f"{number}; wanted: {wanted}." if wanted else f"{number}."

    def unread(self, readings: dict[str, Reading]) -> Verdict | None:
        """The verdict where a field it hangs on is empty or cannot be read; None where all are read."""
        for field in self.rests_on:
            reading = readings[field.id]
            if reading.empty:
                return Verdict(
                    "not answered",
                    False,
                    0.0,
                    self.points,
                    sentence=f"Nothing was typed for “{field.label}”.",
                )
            if not reading.ok:
                return Verdict(
                    "cannot read", False, 0.0, self.points, sentence=f"“{field.label}”: {reading.problem}"
                )
        return None

    def verdict(self, draw: Draw, numbers: list[float], readings: dict[str, Reading]) -> Verdict:
        """What became of the condition for the numbers that could be read."""
        unread = self.unread(readings)
        if unread is not None:
            return unread
        outcome = self.held(numbers)
        says = self.design.question.filled(self.table.says, draw)
        if outcome is None:
            cause = Cause(
                self.id,
                f"{self.label}: not met",
                f"With these numbers nothing real comes out. {says}",
                0.0,
                "not met",
            )
            return Verdict("not met", False, 0.0, self.points, causes=(cause,), sentence=cause.sentence)
        told = self.told(draw, outcome)
        read = "" if outcome[2] is None else f"read as {self.noun} = {self._written(outcome[2])}"
        if outcome[0]:
            return Verdict("right", True, self.points, self.points, read, sentence=f"Met. {told}".strip())
        near = bool(outcome[1])
        sentence = " ".join(part for part in (told, "Nearly, but not quite." if near else "", says) if part)
        cause = Cause(
            self.id,
            f"{self.label}: {'nearly met' if near else 'not met'}",
            sentence,
            NEAR_CREDIT if near else 0.0,
            "close" if near else "not met",
        )
        return Verdict(
            cause.kind,
            False,
            cause.credit * self.points,
            self.points,
            read,
            causes=(cause,),
            sentence=sentence,
        )


def _compared(tree: tuple) -> list[tuple]:
    """(sign, left, right) of a comparison with one name on its left, or of several of the same name.

    Otherwise nothing.
    """
    if tree[0] in _SAID and tree[1][0] == "name":
        return [tree]
    if tree[0] == "and":
        left, right = _compared(tree[1]), _compared(tree[2])
        if left and right and left[0][1] == right[0][1]:
            return left + right
    return []


class ReviewCondition(Condition):
    """A condition that a review decides.

    That one finding is absent, or that nothing else worse than worth knowing is found.
    """

    words, shown_unit, noun = (), "", "the review"

    @property
    def rule(self) -> str:
        """What has to hold, for the instructor's eyes."""
        return (
            f"no finding {self.table.finding}"
            if self.table.finding
            else "nothing else found that is worse than worth knowing"
        )

    @cached_property
    def rests_on(self) -> tuple:
        """The fields it hangs on."""
        return tuple(
            field for field in self.design.fields if field.id in (self.table.hangs_on or self._reviewed.used)
        )

    @property
    def _reviewed(self) -> ReviewedDesign:
        reviewed = self.design.reviewed
        assert reviewed is not None  # a bank with such a condition and no design does not load
        return reviewed

    @cached_property
    def _elsewhere(self) -> set[str]:
        """Findings that other conditions of the question decide."""
        return {condition.table.finding for condition in self.design.conditions if condition.table.finding}

    def _against(self, numbers: list[float]) -> tuple[list, list]:
        """Findings that speak against the choice, and others that are worth telling."""
        findings = self._reviewed.findings(numbers)
        if self.table.finding:
            return [finding for finding in findings if finding.name == self.table.finding], []
        mine = [finding for finding in findings if finding.name not in self._elsewhere]
        return [finding for finding in mine if finding.grade != "worth knowing"], [
            finding for finding in mine if finding.grade == "worth knowing"
        ]

    def held(self, numbers: list[float]) -> tuple:
        """Met, nearly met (never), and the findings against the choice and beside it."""
        against, beside = self._against(numbers)
        return not against, None, against, beside

    def wanted(self, draw: Draw, outcome: tuple) -> str:
        """What is wanted, in words."""
        return ""

    def told(self, draw: Draw, outcome: tuple) -> str:
        """What the review says, as sentences."""
        _, _, against, beside = outcome
        if against:
            more = len(against) - _TOLD
            return " ".join(
                [_sentences(finding) for finding in against[:_TOLD]]
                + ([f"And {more} more."] if more > 0 else [])
            )
        clear = (
            f"The review does not find “{_plain(self.table.finding)}”."
            if self.table.finding
            else "The review finds nothing that will not work or will trouble."
        )
        return " ".join(
            [clear, *(f"Worth knowing: {finding.where}: {finding.what}" for finding in beside[:_TOLD])]
        )

    def verdict(self, draw: Draw, numbers: list[float], readings: dict) -> Verdict:
        """What became of the condition for the numbers that could be read."""
        unread = self.unread(readings)
        if unread is not None:
            return unread
        # others may not be read: the bank's own choice stands for them
        if self.table.hangs_on and not all(reading.ok for reading in readings.values()):
            choice = self.design.example(tuple(draw.values.values()))
            typed = [
                number if readings[field.id].ok else own
                for field, number, own in zip(self.design.fields, numbers, choice)
            ]
            numbers = [*typed, *numbers[len(typed) :]]
        outcome = self.held(numbers)
        told = self.told(draw, outcome)
        if outcome[0]:
            return Verdict("right", True, self.points, self.points, sentence=f"Met. {told}")
        says = self.design.question.filled(self.table.says, draw)
        first = {finding.name: finding for finding in reversed(outcome[2])}
        causes = tuple(
            Cause(name, f"{self.label}: {_plain(name)}", f"{_sentences(finding)} {says}", 0.0, "not met")
            for name, finding in list(reversed(first.items()))[:_TOLD]
        )
        return Verdict(
            "not met",
            False,
            0.0,
            self.points,
            f"read as a design with {', '.join(_plain(cause.name) for cause in causes)}",
            causes=causes,
            sentence=f"{told} {says}",
        )


def _plain(name: str) -> str:
    return name.replace("-", " ")


def _sentences(finding) -> str:
    """A finding with its name, its number, its limit and why it matters."""
    where = finding.where
    return f"{_plain(finding.name).capitalize()} ({where}): {finding.what} {finding.limit} {finding.why}"
