"""One answer of a question.

What is asked, in which unit, how exact, and the function that gives the right number.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from gearlab.digits import number_text
from gearlab.practice.draw import Grid
from gearlab.practice.formulas.expression import compile_formula, spellings
from gearlab.practice.formulas.formula import compile_outputs, compile_steps, source
from gearlab.practice.precision import Precision, apart
from gearlab.practice.tables import AnswerTable, BankError, QuestionTable
from gearlab.practice.typed.reading import Reading
from gearlab.practice.typed.units import UNITS
from gearlab.theory import Derivation, derive
from gearlab.theory.quantities import QUANTITIES, Quantity
from gearlab.theory.sizes import PREFERRED
from gearlab.theory.systems import system
from gearlab.theory.units import factor, shown_unit, theory_unit
from gearlab.theory.way import Step

if TYPE_CHECKING:
    from gearlab.practice.question import Question

__all__ = ["Answer", "Key", "derivation"]

WORD = re.compile(r"[a-z]\w*")


def derivation(table: QuestionTable, asked: str, given: Iterable[str]) -> Derivation:
    """Theory's way to a quantity for a question of a bank.

    ValueError where the givens do not determine it; the message says what is missing.
    """

    def way(tooth_system) -> Derivation:
        return derive(
            asked,
            given=list(given),
            notation=table.notation,
            tooth_system=tooth_system,
            kind=table.of,
            length_unit=table.length_unit,
            features=table.features,
        )

    derived = way(table.tooth_system)
    angles = _angles(table) if "pressure_angle" in given and derived.row_words else ()
    rows = {
        tuple(getattr(row, name) for name in sorted(derived.row_words)): row
        for row in (system(table.tooth_system, angle) for angle in angles)
    }
    if len(rows) > 1:
        raise ValueError(
            f"{QUANTITIES[asked].meaning} hangs on the row of the tooth system, and the pressure angles drawn"
            f" ({', '.join(f'{angle:g}' for angle in angles)} deg) choose different rows: draw angles of one"
            " row, or ask a question for each"
        )
    own = tuple(getattr(derived.scope.systems[0], name) for name in sorted(derived.row_words))
    return derived if not rows or own in rows else way(*rows.values())


def _angles(table: QuestionTable) -> tuple[float, ...]:
    """The pressure angles that a question may draw [deg]."""
    given = table.givens.get("pressure_angle")
    if given is None or given.derived:
        return ()
    if given.one_of is not None:
        grid = Grid(given.one_of)
    elif given.start is None or given.stop is None or given.step is None:
        return ()
    else:
        grid = Grid.steps(given.start, given.stop, given.step)
    return tuple(number * factor(given.unit or "deg", "deg") for number in grid.values)


def _cut_back(steps: Sequence[Step], asked: str, before: Mapping[str, int]) -> tuple[list[Step], list[str]]:
    """The steps that still lead there when earlier answers stand in for theirs, and those answers."""
    wanted, kept, cut = {asked}, [], []
    for step in reversed(steps):
        if step.quantity not in wanted:
            continue
        if step.quantity in before:
            cut.append(step.quantity)
            continue
        kept.append(step)
        if step.role != "carried":
            wanted |= {part.name for part in step.expression.free_symbols}
    return kept[::-1], cut[::-1]


class Key(NamedTuple):
    """A right answer, for the instructor's eyes.

    value: the number [unit asked]; None for expressions and choices.
    words: the formula of an expression question, the letters of a choice; "" for a number.
    tolerance: how far a right answer may be off [unit asked].
    """

    value: float | None
    words: str
    unit: str
    tolerance: float

    @property
    def text(self) -> str:
        """The words, or the number as text."""
        return self.words if self.value is None else number_text(self.value, 8)


class Answer(Precision):
    """One thing a question asks for.

    asked, unit: its quantity word and its unit, "" for none.
    whole: whether only a whole number can be right.
    several: whether more than one option may be ticked.
    symbols: symbol, word and meaning of what may stand in an expression.
    """

    kind, several, may_be_whole = "", False, True
    derived = True  # by theory, whose relations prove it

    def __init__(self, question: Question, table: AnswerTable):
        self.question = question
        self.table = table
        quantity = self.quantity = self._quantity()
        self.asked = quantity.word
        self.id = table.id or table.asked
        self.label = table.label or quantity.meaning
        self.shown_unit = (
            table.unit or quantity.unit or shown_unit(quantity.dimension, question.table.length_unit)
        )
        self.dimension = UNITS[self.shown_unit].dimension if quantity.unit else quantity.dimension
        self.unit = "" if self.shown_unit == "1" else self.shown_unit
        self.points = float(table.points)
        self.whole = self.may_be_whole and (table.whole is not None or quantity.whole)
        self._rounds = bool(table.preferred or table.whole or self.whole or table.size_only)
        self.signed = quantity.signed and not table.size_only
        self.symbols = tuple(
            (QUANTITIES[word].symbol(question.notation), word, QUANTITIES[word].meaning)
            for word in table.symbols
        )
        self._state_precision(table, question.shown_names)

    def __repr__(self) -> str:
        return f"Answer({self.id!r})"

    def _quantity(self) -> Quantity:
        return QUANTITIES[self.table.asked]

    def read(self, text: str) -> Reading:
        """What is understood of a typed text."""
        raise NotImplementedError

    @cached_property
    def place(self) -> int:
        """Its place among the answers of the question."""
        return self.question.answers.index(self)

    @cached_property
    def either_sign(self) -> bool:
        """Whether the right answer is negative for some students and positive for others."""
        place = self.question.answers.index(self)
        return len({self.question.draw("signs", number).keys[place] < 0 for number in range(16)}) > 1

    # -- the way to the answer --
    @property
    def given(self) -> tuple[str, ...]:
        """Words of the shown givens theory may use."""
        question = self.question
        if self.kind == "expression":
            return tuple(self.table.symbols)
        return tuple(question.known_names if self.table.given is None else self.table.given)

    @cached_property
    def used(self) -> tuple[Answer, ...]:
        """Earlier answers of the question this one is worked out from."""
        return tuple(
            next(earlier for earlier in self.question.answers if earlier.id == name)
            for name in self.table.uses
        )

    @property
    def used_as(self) -> str:
        """The quantity that later answers take this one for.

        What its id names (a made-whole ``ideal_driven_teeth`` as ``driven_teeth``), else what is asked.
        """
        return self.id if self.id in QUANTITIES else self.asked

    @cached_property
    def inputs(self) -> dict[str, float]:
        """Factor from the unit shown to theory's unit, by word: givens, then earlier answers used."""
        question = self.question
        factors = {word: question.factor(word) for word in self.given}
        for earlier in self.used:
            factors[earlier.used_as] = 1.0 / earlier.out_factor
        return factors

    @cached_property
    def out_factor(self) -> float:
        """Factor from theory's unit to the unit asked [-]."""
        return factor(theory_unit(self.dimension, self.question.table.length_unit), self.shown_unit)

    @cached_property
    def _graph(self) -> Derivation | None:
        """Theory's way from the shown givens, into which earlier answers are cut; None where it has none.

        It runs forwards only: nothing that the givens tell is worked back from an earlier answer.
        """
        known = self.question.known_names
        if not known or self.asked in known:
            return None
        try:
            return derivation(self.question.table, self.asked, known)
        except ValueError:
            return None

    def _cut_at(self, places: Mapping[str, int]) -> tuple[list[Step], list[str]] | None:
        """The steps of the graph with some answers cut in, and which; None where it cannot be cut."""
        if self._graph is None or not places:
            return None
        steps, cut = _cut_back(self._graph.steps, self.asked, places)
        plain = all(step.role in ("direct", "rearranged", "carried") for step in steps)
        return (steps, cut) if plain and cut else None

    @cached_property
    def way(self) -> Derivation:
        """Theory's derivation of what is asked: the graph of the question, the answers used cut into it."""
        used = {earlier.used_as: place for earlier, place in zip(self.used, self.used_places)}
        cut = self._cut_at(used)
        if cut is not None and set(cut[1]) == set(used) and self._graph is not None:
            steps = tuple(cut[0])
            needed = {part.name for step in steps for part in step.expression.free_symbols}
            if needed <= {*self.inputs, *(step.quantity for step in steps)}:
                return replace(self._graph, given=tuple(self.inputs), steps=steps)
        try:
            return derivation(self.question.table, self.asked, self.inputs)
        except ValueError as error:
            raise BankError(
                [f"{self.question.path}: question {self.question.id!r}: answers.{self.id}: asked: {error}"]
            ) from None

    @cached_property
    def _function(self):
        """From numbers of the inputs: (number [unit asked], before it is rounded,)."""
        return compile_outputs({self.asked: self.way.raw}, self.inputs, self.out_factor)

    @cached_property
    def _carry(self):
        """The bank's own formula for carrying a wrong earlier answer on, with the names it takes."""
        before = [earlier.id for earlier in self.question.answers[: self.question.answers.index(self)]]
        return compile_formula(self.table.carry or "0", [*before, *self.question.shown_names]), before

    @cached_property
    def given_places(self) -> tuple[int, ...]:
        """Places of this answer's givens among the shown ones."""
        return tuple(self.question.shown_names.index(word) for word in self.given)

    @cached_property
    def used_places(self) -> tuple[int, ...]:
        """Places of the earlier answers used among the answers."""
        return tuple(self.question.answers.index(earlier) for earlier in self.used)

    def input_of(self, earlier: Answer) -> str:
        """The word by which an earlier answer goes into this one."""
        return earlier.used_as

    def shown_place(self, word: str) -> int:
        """Place of an input among the shown givens."""
        return self.question.shown_names.index(word)

    def rounded(self, value: float) -> float:
        """A worked-out number as the bank asks for it: whole, or from the preferred list."""
        if not self._rounds:
            return value
        table = self.table
        if table.preferred:
            return min(PREFERRED[table.preferred], key=lambda preferred: abs(preferred - value))
        if table.whole == "down":
            return float(math.floor(value + 1e-9))
        if table.whole == "up":
            return float(math.ceil(value - 1e-9))
        if self.whole:
            return math.copysign(float(math.floor(abs(value) + 0.5)), value)
        return abs(value) if table.size_only else value

    def numbers(self, shown: tuple, earlier: Sequence[float]) -> list[float]:
        """What goes into the derivation.

        The shown numbers [units shown] and the earlier answers used [units asked].
        """
        numbers = [shown[place] for place in self.given_places]
        return numbers + [earlier[place] for place in self.used_places] if self.used_places else numbers

    def key(self, shown: tuple, earlier: Sequence[float]) -> float:
        """The right answer [unit] for the shown numbers and the answers that stand before it."""
        return self.rounded(self._function(*self.numbers(shown, earlier))[0])

    def unrounded(self, shown: tuple, earlier: Sequence[float]) -> float:
        """The right answer [unit] before it is made whole or brought to a preferred size."""
        return self._function(*self.numbers(shown, earlier))[0]

    # -- carrying a wrong earlier answer on ------------------------------------------------------------
    @cached_property
    def _cut(self) -> tuple[Callable[..., float], tuple[int, ...]] | None:
        """The way from the shown givens with earlier answers cut into it: (function, places cut in).

        None where no earlier answer lies on that way, or where theory does not go all of it (an answer made
        whole).
        """
        question, place = self.question, self.question.answers.index(self)
        before = {other.used_as: number for number, other in enumerate(question.answers[:place])}
        if self.asked in before:  # the same once more, made whole or brought to a preferred size
            place = before[self.asked]
            share = self.out_factor / question.answers[place].out_factor
            return (lambda shown, earlier: earlier[place] * share), (place,)
        cut_graph = self._cut_at(before)
        if cut_graph is None or not {other.used_as for other in self.used} <= set(cut_graph[1]):
            return None
        (steps, cut), known = cut_graph, question.known_names
        inputs = {word: question.factor(word) for word in known}
        names = {word: f"t{number}" for number, word in enumerate(known)}
        lines = [f"t{number} = v{number} * {factor!r}" for number, factor in enumerate(inputs.values())]
        for word in cut:
            names[word] = f"e{before[word]}"
        for step in steps:
            names[step.quantity] = f"c_{step.quantity}"
            put = "1.0" if step.role == "carried" else source(step.expression, names)
            lines.append(f"c_{step.quantity} = {put}")
        places = tuple(before[word] for word in cut)
        arguments = [f"v{number}" for number in range(len(known))]
        arguments += [f"e{number}" for number in places]
        compiled = compile_steps(arguments, lines, [f"{names[self.asked]} * {self.out_factor!r}"])
        outs = [question.answers[number].out_factor for number in places]
        shown_places = [question.shown_names.index(word) for word in known]

        def function(shown: tuple, earlier: Sequence[float]) -> float:
            own = [earlier[number] / out for number, out in zip(places, outs)]
            return compiled(*[shown[number] for number in shown_places], *own)[0]

        return (function, places) if self._agrees(function) else None

    def _agrees(self, function: Callable[..., float]) -> bool:
        """Whether a way with the right earlier answers cut in leads to the right answer."""
        place = self.question.answers.index(self)
        for number in range(4):
            draw = self.question.draw("carry", number)
            try:
                value = self.rounded(function(draw.shown, draw.keys))
            except (ArithmeticError, ValueError):
                return False
            if apart(value, draw.keys[place], self.period(draw.shown)) > 1e-7 * abs(draw.keys[place]) + 1e-12:
                return False
        return True

    def carried(self, shown: tuple, earlier: Sequence[float]) -> float:
        """The answer that follows from the student's own earlier numbers [unit].

        By the bank's carry where it states one, else by the graph with those numbers cut in.
        """
        if self.table.carry is not None:
            function, before = self._carry
            return self.rounded(function(*earlier[: len(before)], *shown))
        if self._cut is not None:
            return self.rounded(self._cut[0](shown, earlier))
        return self.key(shown, earlier)

    def consistent(self, shown: tuple, earlier: Sequence[float]) -> list[float]:
        """Every number that follows from the student's own earlier ones [unit].

        Beside the bank's own carry stands the graph: who goes on by theory's formula is consistent too.
        """
        ways = [self.carried]
        if self.table.carry is not None and self._cut is not None:
            function = self._cut[0]
            ways.append(lambda shown, earlier: self.rounded(function(shown, earlier)))
        numbers = []
        for way in ways:
            try:
                numbers.append(way(shown, earlier))
            except (ArithmeticError, ValueError):
                continue
        return numbers

    @cached_property
    def carried_places(self) -> tuple[int, ...]:
        """Places, among the answers, of the earlier ones that this one follows from."""
        if self.table is None or not self.question.shown_names:
            return ()
        if self.table.carry is not None:
            words = set(WORD.findall(self.table.carry))
            before = self.question.answers[: self.question.answers.index(self)]
            return tuple(place for place, other in enumerate(before) if other.id in words)
        return self._cut[1] if self._cut is not None else self.used_places

    @property
    def carries(self) -> bool:
        """Whether a wrong earlier answer is carried on to this one."""
        return bool(self.carried_places)

    @cached_property
    def names(self) -> dict[str, str]:
        """Spellings understood in an expression."""
        return spellings({word: symbol for symbol, word, _ in self.symbols})
