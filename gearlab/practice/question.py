"""A question: its text, its numbers for a student, its answers judged, its worked solution."""

from __future__ import annotations

import re
from functools import cached_property
from pathlib import Path

from gearlab.practice import judging, solution
from gearlab.practice.answer import Answer, Key, apart, derivation
from gearlab.practice.design import Design
from gearlab.practice.draw import (
    MOST_TRIES,
    PRACTICE_KEY,
    Draw,
    Given,
    Grid,
    Stream,
    message,
    rounded,
    set_by_hand,
)
from gearlab.practice.expression import compile_formula
from gearlab.practice.formula import compile_outputs
from gearlab.practice.number import read_number
from gearlab.practice.reading import Reading, number_text, read_choice, read_expression
from gearlab.practice.slips import Slips
from gearlab.practice.tables import BankError, QuestionTable
from gearlab.practice.verdict import Verdict
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import factor, shown_unit, theory_unit

__all__ = ["Question"]

_BRACES = re.compile(r"\{([^{}]*)\}")
TEST_POINTS = 10  # at which an expression is compared with the key
_TOO_NEAR = 3.0  # tolerances a listed wrong answer must stay away from the right one


class Question:
    """A question of a bank; made by `load_bank`.

    Attributes
    ----------
    id, version, kind, title, level, minutes, hints, notation, length_unit, blueprint
        As in the bank ("number", "expression", "choice" or "design"; minutes [min]).
    answers : tuple of Answer
        What gets a verdict; a choice has one answer, "choice", a design its conditions.
    fields : tuple of Answer or Field
        What is typed: the answers themselves, but for a design.
    design : Design or None
        Fields, conditions and examples of a question of kind "design".
    points : float
        Points of all answers together [-].
    """

    def __init__(self, table: QuestionTable, path: Path):
        self.table = table
        self.path = path
        self.id, self.version, self.kind, self.title = table.id, table.version, table.kind, table.title
        self.level, self.minutes, self.hints = table.level, table.minutes, tuple(table.hints)
        self.notation, self.length_unit, self.blueprint = table.notation, table.length_unit, table.blueprint
        self.names = tuple(table.givens)
        self.shown_names = (
            () if self.kind == "expression" else tuple(n for n, g in table.givens.items() if not g.hidden)
        )
        self.known_names = tuple(n for n in self.shown_names if not table.givens[n].local)
        self.design = Design(self) if self.kind == "design" else None
        if self.design:
            self.answers, self.fields = self.design.conditions, self.design.fields
        else:
            self.answers = (
                tuple(Answer(self, one) for one in table.answers)
                if self.kind != "choice"
                else (Answer(self, None),)
            )
            self.fields = self.answers
        self.points = sum(one.points for one in self.answers)
        self._modular, self._no_periods = any(one.modular for one in self.answers), (0.0,) * len(self.answers)

    def __repr__(self) -> str:
        return f"Question({self.id!r})"

    def answer(self, answer_id: str) -> Answer:
        """The answer of that id."""
        for one in (*self.answers, *self.fields):
            if one.id == answer_id:
                return one
        raise KeyError(
            f"question {self.id!r} has no answer {answer_id!r}: it has"
            f" {', '.join(one.id for one in self.fields)}"
        )

    # -- units -----------------------------------------------------------------------------------------------------------------  # noqa: E501
    def unit(self, name: str) -> str:
        """The unit a given is shown in, "1" for none."""
        table = self.table.givens[name]
        if table.unit or table.local:
            return table.unit or "1"
        return shown_unit(QUANTITIES[name].dimension, self.length_unit)

    def factor(self, name: str) -> float:
        """Factor from the unit a given is shown in to theory's unit [-]."""
        dimension = QUANTITIES[name].dimension
        return factor(self.unit(name), theory_unit(dimension, self.length_unit))

    # -- drawing ---------------------------------------------------------------------------------------------------------------  # noqa: E501
    @cached_property
    def grids(self) -> dict[str, Grid]:
        """The values each given may take."""
        grids = {}
        for name, table in self.table.givens.items():
            if table.one_of is not None:
                grids[name] = Grid(table.one_of)
            elif not table.derived:
                grids[name] = Grid.steps(table.start, table.stop, table.step)
        return grids

    @cached_property
    def _derived(self) -> list[tuple]:
        """(name, names that go in, function to the unit shown, decimals, name of what is added) of each
        derived given.
        """
        made = []
        for name, table in self.table.givens.items():
            if not table.derived:
                continue
            before = [n for n in self.names[: self.names.index(name)] if not self.table.givens[n].local]
            drawn = [n for n in before if n in self.grids]
            try:
                try:
                    way, names = derivation(self.table, name, drawn), drawn
                except ValueError:
                    way, names = derivation(self.table, name, before), before
            except ValueError as error:
                raise BankError([f"{self.path}: question {self.id!r}: givens.{name}: {error}"]) from None
            compiled = compile_outputs({name: way.raw}, {n: self.factor(n) for n in names})
            out = 1.0 / self.factor(name)
            made.append((name, tuple(names), compiled, out, table.places, table.plus))
        return made

    @cached_property
    def _conditions(self) -> list:
        return [compile_formula(text, self.names) for text in self.table.where]

    @cached_property
    def _slips(self) -> list[tuple]:
        """(answer's place, slip's table, formula, conditions) of every listed slip."""
        names = self.names if self.kind == "expression" else self.shown_names
        return [
            (
                place,
                slip,
                compile_formula(slip.formula, names),
                [compile_formula(text, names) for text in slip.where],
            )
            for place, answer in enumerate(self.answers)
            if self.kind != "design" and answer.table
            for slip in answer.table.slips
        ]

    @cached_property
    def _copied(self) -> list[tuple[int, str]]:
        """(answer's place, given) where both are shown in one unit."""
        return [
            (place, name)
            for place, answer in enumerate(self.answers)
            for name in self.known_names
            if answer.shown_unit == self.unit(name) and not answer.table.copied
        ]

    def draw(
        self,
        seed: str | None = None,
        number: int = 0,
        *,
        key: bytes | None = None,
        set: str = "",
        student: str = "",
    ) -> Draw:
        """Draw numbers.

        Parameters
        ----------
        seed : str
            For practice: any text; without a key anybody draws the same numbers from it [-].
        number : int
            Draw number; another number gives new numbers [-].
        key, set, student : bytes, str, str
            For hand-outs: the course key, the name of the set, the student's id [-].

        Raises
        ------
        ValueError
            If none of 6000 draws meets the conditions with every listed wrong answer three tolerances off the
            right one, and no given of the same unit equal to it.
        """
        if key is None:
            key, about = (
                PRACTICE_KEY,
                message("practice", self.id, self.version, str(seed or ""), int(number)),
            )
        else:
            if len(key) < 8:
                raise ValueError(f"the course key has {len(key)} bytes: at least 8 are needed")
            about = message("hand-out", str(set), self.id, self.version, str(student), int(number))
        for attempt in range(MOST_TRIES):
            drawn = self.attempt(Stream(key, about + b"%d" % attempt), number, attempt + 1)
            if drawn is not None:
                return drawn
        raise BankError(
            [
                f"{self.path}: question {self.id!r}: none of {MOST_TRIES} draws is fair: the conditions"
                " (where) cannot be met, a listed slip always gives the right answer, or the example never"
                " does; widen the ranges, give the slip a where, or mend the example"
            ]
        )

    def draw_with(self, givens: dict[str, str], seed: str | None = None) -> Draw:
        """Numbers of which some are set by hand, off the grid too; the others are drawn for practice.

        Parameters
        ----------
        givens : dict of str
            Given's name to its number as text, in the unit it is shown in.
        seed : str
            For the others: any text [-].

        Raises
        ------
        ValueError
            If the question has no such given to set, its value is not a number within the quantity's range,
            or the numbers break the question's conditions.
        """
        fixed = {name: set_by_hand(self, name, text) for name, text in givens.items()}
        about = message("practice", self.id, self.version, str(seed or ""), 0)
        for attempt in range(MOST_TRIES if len(fixed) < len(self.grids) else 1):
            drawn = self.attempt(Stream(PRACTICE_KEY, about + b"%d" % attempt), 0, attempt + 1, fixed)
            if drawn is not None:
                return drawn
        shown = ", ".join(f"{name}={text}" for name, (text, _) in fixed.items())
        raise ValueError(
            f"question {self.id!r} with {shown}: these numbers break its conditions"
            f" ({'; '.join(self.table.where) or 'none is written'}), have no answer, or make a listed slip"
            " right; choose others"
        )

    def attempt(  # noqa: C901
        self, stream: Stream, number: int, tries: int, fixed: dict | None = None, proven: bool = True
    ) -> Draw | None:
        """One draw, or None where its numbers are not fair.

        `proven` asks that the example of a design meets its conditions.
        """
        texts: dict[str, str] = {}
        values: dict[str, float] = {}
        for name, grid in self.grids.items():
            place = stream.below(len(grid.texts))
            texts[name], values[name] = grid.texts[place], grid.values[place]
        for name, (text, value) in (fixed or {}).items():
            texts[name], values[name] = text, value
        if self.kind == "choice":
            count = len(self.table.options)
            order = tuple(range(count)) if self.table.keep_order else tuple(stream.shuffled(count))
        else:
            order = ()
        try:
            for name, names, function, out, places, plus in self._derived:
                exact = function(*[values[n] for n in names])[0] * out
                texts[name] = rounded(exact + (values[plus] if plus else 0.0), places)
                values[name] = float(texts[name])
            if len(texts) > 1 and self._derived:  # back into the order of the bank
                texts, values = {n: texts[n] for n in self.names}, {n: values[n] for n in self.names}
            everything = tuple(values.values())
            for condition in self._conditions:
                if not condition(*everything):
                    return None
            if self.design:
                shown = tuple([values[n] for n in self.shown_names])
                return (
                    Draw(self, number, tries, texts, values, (), order, shown)
                    if not proven or self.design.solvable(everything, shown)
                    else None
                )
            if self.kind != "number":
                return Draw(self, number, tries, texts, values, (), order)
            shown = tuple([values[n] for n in self.shown_names])
            keys: list[float] = []
            for answer in self.answers:
                keys.append(answer.key(shown, keys))
            periods = [answer.period(shown) for answer in self.answers] if self._modular else self._no_periods
            if any(
                apart(values[name], keys[place], periods[place]) <= self.answers[place].tolerance(keys[place])
                for place, name in self._copied
            ):
                return None  # a number copied from the question would be right
            limits = [_TOO_NEAR * answer.tolerance(right) for answer, right in zip(self.answers, keys)]
            for place, _, formula, conditions in self._slips:
                if apart(formula(*shown), keys[place], periods[place]) <= limits[place] and all(
                    condition(*shown) for condition in conditions
                ):
                    return None
        except BankError:
            raise
        except (ArithmeticError, ValueError):
            return None  # these numbers have no answer
        return Draw(self, number, tries, texts, values, tuple(keys), order, shown)

    @cached_property
    def points_of_comparison(self) -> list[dict[str, float]]:
        """Numbers at which expressions are compared: ten draws of the givens, never shown."""
        return [self.draw("points of comparison", number).values for number in range(TEST_POINTS)]

    @cached_property
    def _causes(self) -> dict:
        return {}

    def slips_of(self, answer: Answer):
        """The wrong answers of an answer that can be recognised, worked out when first needed."""
        if answer.id not in self._causes:
            self._causes[answer.id] = Slips(self, answer)
        return self._causes[answer.id]

    def shown_givens(self, draw: Draw) -> tuple[Given, ...]:
        """The givens of a draw as the student sees them."""
        made = []
        for name in self.shown_names:
            unit = self.unit(name)
            quantity = QUANTITIES.get(name)
            label = quantity.meaning if quantity else name.replace("_", " ")
            made.append(
                Given(
                    name,
                    label,
                    quantity.symbol(self.notation) if quantity else "",
                    draw.texts[name],
                    "" if unit == "1" else unit,
                    draw.values[name],
                )
            )
        return tuple(made)

    def filled(self, text: str, draw: Draw) -> str:
        """A text of the bank with this draw's numbers put in."""
        return _BRACES.sub(lambda found: draw.texts[found[1]], text) if "{" in text else text

    # -- judging ---------------------------------------------------------------------------------------------------------------  # noqa: E501
    def read(self, answer_id: str, text: str) -> Reading:
        """What is understood of a typed answer, without judging it."""
        answer = self.answer(answer_id)
        if self.kind == "choice":
            return read_choice(str(text), len(self.table.options))
        if self.kind == "design":
            return answer.read(str(text))
        if self.kind == "expression":
            return read_expression(text, answer.symbols)
        return read_number(text, answer.shown_unit)

    def judge(
        self,
        draw: Draw,
        texts: dict[str, str],
        listed_slips: bool = True,
        readings: dict[str, int] | None = None,
    ) -> dict[str, Verdict]:
        """Judge typed answers.

        Parameters
        ----------
        draw : Draw
            The numbers the student had [-].
        texts : dict of str
            What was typed, by answer id; missing ones count as not answered, others are ignored.
        listed_slips : bool
            Whether the bank's own wrong answers are recognised too [-].
        readings : dict of int, optional
            Which reading of an ambiguous comma was meant, by answer id: 0 decimal (the default), 1 thousands.

        Returns
        -------
        dict of Verdict
            By answer id, every answer of the question.
        """
        return judging.judge(self, draw, texts, listed_slips, readings or {})

    def keys(self, draw: Draw) -> dict[str, Key]:
        """The right answers, for the instructor's eyes."""
        if self.kind == "choice":
            right = ", ".join(
                chr(97 + place) for place, one in enumerate(draw.order) if self.table.options[one].right
            )
            return {"choice": Key(None, right, "", 0.0)}
        if self.design:
            return {one.id: Key(None, one.rule, "", 0.0) for one in self.answers}
        if self.kind == "expression":
            return {one.id: Key(None, str(one.way.formula), one.unit, 0.0) for one in self.answers}
        return {
            one.id: Key(value, number_text(value, 8), one.unit, one.tolerance(value))
            for one, value in zip(self.answers, draw.keys)
        }

    # -- explaining ------------------------------------------------------------------------------------------------------------  # noqa: E501
    def solution(self, draw: Draw, form: str = "markdown") -> str:
        """The worked solution with this draw's numbers; form "markdown", "html" (with MathML) or "text"."""
        return solution.worked(self, draw, form)

    def worked(self, answer: Answer, form: str):
        """The solution template of an answer, typeset when first needed."""
        if (answer.id, form) not in self._templates:
            self._templates[answer.id, form] = solution.Worked(answer, form)
        return self._templates[answer.id, form]

    @cached_property
    def _templates(self) -> dict:
        return {}

    def way_in_words(self, answer: Answer) -> str:
        """The method of one answer as sentences, without numbers."""
        if answer.id not in self._sentences:
            self._sentences[answer.id] = solution.way_in_words(answer)
        return self._sentences[answer.id]

    @cached_property
    def _sentences(self) -> dict:
        return {}

    def method(self, form: str = "text") -> str:
        """The method without numbers, as sentences."""
        return solution.method(self, form)
