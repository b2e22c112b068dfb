"""An answer that theory does not derive: by a formula of the bank's own, in the units shown.

The formula becomes the one step of a derivation: numbers, worked solution, slips and what is carried on come
about as for what theory derives. What goes into it is a quantity of theory where it is shown in theory's own
unit, and else a quantity that the question brings along (`gearlab.theory.quantities.own`), which has the unit
shown. `check_formula` proves it: by a second formula, an equation that it solves, or theory.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import cached_property
from typing import TYPE_CHECKING

import sympy as sp

from gearlab.practice.answer import Answer
from gearlab.practice.checks.keys import numbers_shown
from gearlab.practice.draw import Draw
from gearlab.practice.formulas.expression import compile_formula, parse
from gearlab.practice.formulas.formula import Node
from gearlab.practice.precision import apart
from gearlab.practice.tables import BankError
from gearlab.theory import Derivation
from gearlab.theory.boundary import unit_of
from gearlab.theory.functions import arcinv
from gearlab.theory.kinds import rows_of
from gearlab.theory.quantities import QUANTITIES, Quantity, own
from gearlab.theory.relation import Relation
from gearlab.theory.scope import scope_for, symbol
from gearlab.theory.systems import system
from gearlab.theory.units import factor, shown_unit, theory_unit
from gearlab.theory.way import Step

if TYPE_CHECKING:
    from gearlab.practice.question import Question

__all__ = ["FormulaAnswer", "as_sympy", "check_formula"]

_DEGREE = sp.pi / 180
_EXACT = 1e-9  # relative; two formulas for one number differ by no more
_CHANGES = (1.3, 0.8, 2.0, -1.0)  # what an earlier answer is multiplied by
_NUDGE = 1.001  # by which an answer is changed to see whether its proof notices


class FormulaAnswer(Answer):
    """One number asked for, by the bank's own formula; see `gearlab.practice.kinds.ownanswer`."""

    derived = False

    def _quantity(self) -> Quantity:
        table, unit = self.table, self.table.unit or "1"
        if table.asked:
            entry = QUANTITIES[table.asked]
            unit = table.unit or shown_unit(entry.dimension, self.question.table.length_unit)
            if _of_theory(entry, unit, self.question.table.length_unit):
                return entry
            return own(entry.word, replace(entry, dimension=_dimension(unit, False), unit=unit))
        low, high = (table.range.start, table.range.stop) if table.range else (0.0, math.inf)
        whole, letter = table.whole is not None, table.symbol or _letter(table.id or "")
        angle = unit == "deg"
        return own(
            table.id or "",
            Quantity(
                "",
                table.label or "",
                "angle" if angle else _dimension(unit, whole),
                letter,
                letter,
                min(low, 0.0),
                high,
                "pair",
                whole,
                zero=True,
                unit="" if angle else unit,
            ),
        )

    # -- what goes in ----------------------------------------------------------------------------------
    @cached_property
    def _before(self) -> dict[str, Answer]:
        answers = self.question.answers
        return {other.id: other for other in answers[: answers.index(self)]}

    @cached_property
    def _names(self) -> tuple[list[str], list[str]]:
        """Names in the formula: givens, and earlier answers, in the order of the bank."""
        shown = self.question.shown_names
        words = parse(self.table.formula or "", {n: n for n in (*self._before, *shown)}, bank=True).words
        return (
            [name for name in shown if name in words],
            [name for name in self._before if name in words and name not in shown],
        )

    @cached_property
    def _terms(self) -> dict[str, tuple[str, float]]:
        """Word of each name in the formula, and the factor from the unit shown to that of the step."""
        question, terms = self.question, {}
        for name in self._names[0]:
            table, unit = question.table.givens[name], question.unit(name)
            letter = table.symbol or _letter(name)
            label = table.label or name.replace("_", " ")
            signed = min(question.grids[name].values, default=0.0) < 0 if name in question.grids else False
            entry = (
                Quantity("", label, "number", letter, letter, -math.inf if signed else 0.0, zero=True)
                if table.local
                else QUANTITIES[name]
            )
            terms[name] = self._term(name, entry, unit)
        for name in self._names[1]:
            other = self._before[name]
            entry = other.quantity if name == other.asked else replace(other.quantity, meaning=other.label)
            terms[name] = (
                (other.asked, 1.0 / other.out_factor)
                if not other.derived
                else self._term(name, entry, other.shown_unit)
            )
        return terms

    def _term(self, name: str, entry: Quantity, unit: str) -> tuple[str, float]:
        length_unit = self.question.table.length_unit
        if entry.word == name and _of_theory(entry, unit, length_unit):
            return name, factor(unit, theory_unit(entry.dimension, length_unit))
        if unit == "deg":
            return own(name, replace(entry, dimension="angle", unit="")).word, math.pi / 180
        return own(name, replace(entry, dimension=_dimension(unit, entry.whole), unit=unit)).word, 1.0

    @property
    def words(self) -> dict[str, str]:
        """The word of each name in the formula."""
        return {name: word for name, (word, _) in self._terms.items()}

    @property
    def given(self) -> tuple[str, ...]:
        return tuple(self._terms[name][0] for name in self._names[0])

    @cached_property
    def used(self) -> tuple[Answer, ...]:
        return tuple(self._before[name] for name in self._names[1])

    @property
    def used_as(self) -> str:
        return self.asked

    def input_of(self, earlier: Answer) -> str:
        return self._terms[earlier.id][0]

    def shown_place(self, word: str) -> int:
        names = {self._terms[name][0]: name for name in self._names[0]}
        return self.question.shown_names.index(names.get(word, word))

    @cached_property
    def given_places(self) -> tuple[int, ...]:
        return tuple(self.question.shown_names.index(name) for name in self._names[0])

    @cached_property
    def inputs(self) -> dict[str, float]:
        return dict(self._terms[name] for name in (*self._names[0], *self._names[1]))

    @cached_property
    def out_factor(self) -> float:
        if self.quantity.dimension == "angle" and not self.quantity.unit:
            return 180 / math.pi
        return 1.0

    # -- the way ---------------------------------------------------------------------------------------
    @cached_property
    def _graph(self) -> Derivation | None:
        return None  # theory has no way into which earlier answers could be cut

    @cached_property
    def way(self) -> Derivation:
        table, question = self.table, self.question.table
        names = [*self._names[0], *self._names[1]]
        put = {
            name: symbol(word) / _DEGREE if QUANTITIES[word].dimension == "angle" else symbol(word)
            for name, (word, _) in self._terms.items()
        }
        tree = parse(table.formula or "", {name: name for name in names}, bank=True).tree
        try:
            expression = as_sympy(tree, put)
        except ValueError as error:
            place = f"{self.question.path}: question {self.question.id!r}: answers.{self.id}"
            raise BankError([f"{place}: formula: {error}"]) from None
        if self.out_factor != 1.0:
            expression *= _DEGREE
        rule = table.rule or ""
        relation = Relation(self.asked, lambda q: expression, rule, table.source or "")
        row = system(question.tooth_system, 20.0)
        scope = scope_for(
            question.of, question.length_unit, rows_of(question.of, row), frozenset(question.features)
        )
        steps = (Step(self.asked, relation, expression, "direct"),)
        return Derivation(self.asked, tuple(self.inputs), steps, scope, question.notation)


def _of_theory(entry: Quantity, unit: str, length_unit: str) -> bool:
    """Whether a quantity of theory is shown in theory's own unit, or as an angle in degrees."""
    if entry.word not in QUANTITIES or entry.unit:
        return False
    if entry.dimension == "angle":
        return unit == "deg"
    return unit == theory_unit(entry.dimension, length_unit) and unit_of(entry.word, length_unit) in (
        unit,
        "",
    )


def _dimension(unit: str, whole: bool) -> str:
    """What is alike to what among quantities that a question brings along: what has the same unit."""
    return ("count" if whole else "number") if unit == "1" else unit


def _letter(name: str) -> str:
    head, _, tail = name.partition("_")
    return f"{head}_{tail.replace('_', '')}" if tail else head


_IN_DEGREES = {"acos": sp.acos, "asin": sp.asin, "atan": sp.atan, "arcinv": arcinv}
_PLAIN = {
    "sqrt": sp.sqrt,
    "abs": sp.Abs,
    "rad": lambda angle: angle * _DEGREE,
    "deg": lambda angle: angle / _DEGREE,
    "sin": sp.sin,
    "cos": sp.cos,
    "tan": sp.tan,
    "sin_rad": sp.sin,
    "cos_rad": sp.cos,
    "tan_rad": sp.tan,
    "inv": lambda angle: sp.tan(angle) - angle,
    "min": sp.Min,
    "max": sp.Max,
}


def as_sympy(tree: Node, put: Mapping[str, sp.Expr]) -> sp.Expr:
    """A formula of a bank as an expression; `put` gives what stands for each name.

    ValueError for what has no place in a formula that is to be explained: comparisons, rounding, remainders.
    """
    kind = tree[0]
    if kind == "number":
        return sp.Rational(str(Decimal(tree[2])))
    if kind == "name":
        return put[tree[1]]
    if kind == "pi":
        return sp.pi
    if kind == "call":
        arguments = [as_sympy(part, put) for part in tree[2]]
        if tree[1] in _IN_DEGREES:
            return _IN_DEGREES[tree[1]](*arguments) / _DEGREE
        if tree[1] in _PLAIN:
            return _PLAIN[tree[1]](*arguments)
        raise ValueError(
            f"{tree[1]}(...) cannot stand in the formula of an answer; for a whole number write whole ="
            " 'nearest', 'up' or 'down' beside it"
        )
    if kind not in ("negative", "+", "-", "*", "/", "^"):
        raise ValueError(f"{kind!r} compares or joins conditions; an answer's formula gives one number")
    parts = [as_sympy(part, put) for part in tree[1:]]
    if kind == "negative":
        return -parts[0]
    left, right = parts
    return {
        "+": left + right,
        "-": left - right,
        "*": left * right,
        "/": left / right if right != 0 else sp.nan,
        "^": left**right if kind == "^" else sp.nan,
    }[kind]


# -- what `gearlab check` proves -----------------------------------------------------------------------
Proof = Callable[[float, Sequence[float], Sequence[float]], str]


def check_formula(question: Question, answer: FormulaAnswer, place: int, drawn: Sequence[Draw]) -> list[str]:
    """Problems of an answer by a formula: its letters, its range, and its proof at every draw."""
    names = [other.id for other in question.answers[:place]]
    formula = compile_formula(answer.table.formula or "", [*names, *question.shown_names])
    problems, proofs = _letters(answer), _proofs(question, answer, names)
    stated = answer.table.range
    for draw in drawn:
        earlier, key, at = list(draw.keys[:place]), draw.keys[place], f"for {numbers_shown(draw)}"
        value = formula(*earlier, *draw.shown)
        if apart(answer.rounded(value), key) > _EXACT * abs(key) + 1e-12:
            problems.append(f"formula: comes to {value:.10g} {at}, but the key is {key:.10g}")
        if stated is not None and not stated.start <= key <= stated.stop:
            problems.append(
                f"range: {key:.6g} {answer.unit} {at} lies outside {stated.start:g} to {stated.stop:g}: keep"
                " such numbers out by a condition (where), or mend the formula, its units or the range"
            )
        for proof, named in proofs:
            try:
                told = proof(value, earlier, draw.shown)
            except (ArithmeticError, ValueError) as error:
                told = f"proof: has no value ({error})"
            if told:
                where = "" if told.endswith("nothing") else f" {at}"
                problems.append(f"{told}{where}: mend the formula, its proof or their units")
                continue
            for changed, why in _changed(question, earlier, named):
                try:
                    told = proof(formula(*changed, *draw.shown), changed, draw.shown)
                except (ArithmeticError, ValueError):
                    continue
                if told:
                    problems.append(f"{told} with {why} {at}: mend the formula or its proof")
                    break
        if problems:
            break
    return problems


def _changed(question: Question, earlier: list[float], named: Collection[str]):
    """The earlier answers with one of those named changed, as a student may have it, and how."""
    for place, right in enumerate(earlier):
        other = question.answers[place]
        for change in _CHANGES if other.id in named else ():
            wrong = [*earlier]
            wrong[place] = other.rounded(right * change) if right else 1.0
            yield wrong, f"{other.id} = {wrong[place]:.6g}"


def _letters(answer: FormulaAnswer) -> list[str]:
    """That two quantities of the formula have one letter, so that its solution could not be read."""
    letters: dict[str, str] = {answer.quantity.symbol(answer.question.notation): answer.id}
    for name, word in answer.words.items():
        letter = QUANTITIES[word].symbol(answer.question.notation)
        if letters.setdefault(letter, name) != name:
            return [
                f"symbol: {letters[letter]} and {name} are both written {letter}; give one another symbol"
            ]
    return []


def _proofs(
    question: Question, answer: FormulaAnswer, names: list[str]
) -> list[tuple[Proof, Collection[str]]]:
    """Functions of value, earlier answers and shown givens that say what is wrong, "" for nothing.

    With each the earlier answers that it names: when one of those is changed, it has to hold as well.
    """
    proofs: list[tuple[Proof, Collection[str]]] = []
    if answer.table.asked:
        derived = Answer(question, answer.table.model_copy(update={"formula": None}))

        def by_theory(value: float, earlier: Sequence[float], shown: Sequence[float]) -> str:
            second = derived.unrounded(tuple(shown), earlier)
            return "" if _same(value, second) else f"formula: comes to {value:.10g}, theory to {second:.10g}"

        proofs.append((by_theory, ()))
    text = answer.table.proof
    if text is None:
        return proofs
    words = parse(text, {n: n for n in (*names, answer.id, *question.shown_names)}, bank=True).words
    return [
        *proofs,
        (_equation if "==" in text else _second)(question, answer, text, names) + (words - {answer.id},),
    ]


def _second(question: Question, answer: FormulaAnswer, text: str, names: list[str]) -> tuple[Proof]:
    """A second formula for the same number."""
    second_formula = compile_formula(text, [*names, *question.shown_names])
    twice = _written_once(text, answer.table.formula or "", [*names, *question.shown_names])

    def proof(value: float, earlier: Sequence[float], shown: Sequence[float]) -> str:
        if twice:
            return "proof: is the formula once more, which proves nothing"
        second = second_formula(*earlier, *shown)
        return "" if _same(value, second) else f"proof: comes to {second:.10g}, the formula to {value:.10g}"

    return (proof,)


def _equation(question: Question, answer: FormulaAnswer, text: str, names: list[str]) -> tuple[Proof]:
    """An equation that the answer has to solve, and no other number."""
    left, _, right = text.partition("==")
    sides = [compile_formula(side, [*names, answer.id, *question.shown_names]) for side in (left, right)]

    def proof(value: float, earlier: Sequence[float], shown: Sequence[float]) -> str:
        left, right = (side(*earlier, value, *shown) for side in sides)
        if not _same(left, right):
            return f"proof: {left:.10g} is not {right:.10g} with {answer.id} = {value:.10g}"
        try:
            if _same(*(side(*earlier, value * _NUDGE, *shown) for side in sides)):
                return "proof: holds for other answers too, which proves nothing"
        except (ArithmeticError, ValueError):
            pass  # another answer has no value there
        return ""

    return (proof,)


def _written_once(text: str, other: str, names: Sequence[str]) -> bool:
    """Whether two formulas are the same but for the order of what is added and multiplied."""
    put = {name: sp.Symbol(name, positive=True) for name in names}
    try:
        trees = [parse(each, {n: n for n in names}, bank=True).tree for each in (text, other)]
        return as_sympy(trees[0], put) == as_sympy(trees[1], put)
    except ValueError:
        return False  # one rounds or compares: another way of writing


def _same(value: float, other: float) -> bool:
    return abs(value - other) <= _EXACT * max(abs(value), abs(other)) + 1e-12
