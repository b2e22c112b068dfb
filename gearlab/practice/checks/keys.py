"""Checking the answers of questions as an instructor would: every key by a second way, every listed slip."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from gearlab.digits import number_text
from gearlab.practice.answer import Answer
from gearlab.practice.draw import Draw
from gearlab.practice.formulas.formula import compile_steps, source
from gearlab.practice.precision import apart
from gearlab.theory.derivation import Derivation
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.scope import FULL_TURN, Equation, symbol
from gearlab.theory.solving import evaluate

if TYPE_CHECKING:
    from gearlab.practice.question import Question

__all__ = ["check_key", "check_slips", "numbers_shown", "solved_numerically"]

_SLIP_DRAWS = 30
_FAR_STARTS = (1.15, 1.003)  # where the numerical solution starts, over numbers near the solution


def check_key(question: Question, answer: Answer, place: int, drawn: list[Draw]) -> list[str]:
    """Every key by a second way, and typed as a student types it."""
    problems: dict[str, str] = {}  # the first of a kind is enough
    for draw in drawn:
        key = draw.keys[place]
        period = answer.period(draw.shown)
        for far in (1, -1, 45) if period else ():
            if not question.judge(draw, {answer.id: number_text(key + far * period)})[answer.id].right:
                problems.setdefault(
                    "far",
                    f"the right answer {far} periods away is not judged right for {numbers_shown(draw)}",
                )
        if key == 0 and not (answer.table.tolerance and answer.table.tolerance.absolute):
            problems.setdefault(
                "zero", f"the right answer is 0 for {numbers_shown(draw)}: give it an absolute tolerance"
            )
        for text in (
            number_text(key),
            f"{number_text(key)} {answer.unit}".strip(),
            number_text(key).replace(".", ","),
        ):
            if text.count(",") and len(text.partition(",")[2]) == 3:
                continue  # a comma before three digits is asked about
            verdict = question.judge(draw, {answer.id: text})[answer.id]
            if not verdict.right:
                missed = f"the right answer typed as {text!r} is judged {verdict.kind!r}"
                problems.setdefault("right", f"{missed} for {numbers_shown(draw)}")
    for draw in drawn:
        numbers = answer.numbers(draw.shown, draw.keys)
        refused = answer.way.refusal(
            dict(zip(answer.inputs, (n * f for n, f in zip(numbers, answer.inputs.values()))))
        )
        if refused is not None:
            problems.setdefault(
                "range",
                f"the key is a number that theory does not tell for {numbers_shown(draw)}:"
                f" {refused.sentence(QUANTITIES[answer.asked].meaning, question.length_unit)}. Keep such"
                " numbers out by a condition (where), or ask something else",
            )
    equations = _Equations(answer.way, answer.inputs)
    for draw in drawn[:20] if answer.derived else ():
        numbers = answer.numbers(draw.shown, draw.keys)
        exact = answer.unrounded(draw.shown, draw.keys)
        second = equations.solved(
            dict(zip(answer.inputs, (n * f for n, f in zip(numbers, answer.inputs.values()))))
        )
        if second is None or apart(second * answer.out_factor, exact, answer.period(draw.shown)) > max(
            1e-8 * abs(exact), 1e-6 * answer.absolute
        ):
            problems.setdefault(
                "relations",
                f"the key {exact:.10g} does not solve the relations it comes from for {numbers_shown(draw)}",
            )
    return list(problems.values())


def numbers_shown(draw: Draw) -> str:
    """A draw in words."""
    return ", ".join(f"{given.name} = {given.shown}" for given in draw.givens) or "every draw"


def check_slips(question: Question, answer: Answer, drawn: list[Draw]) -> list[tuple[str, str]]:
    """(slip, problem): every listed slip applies, is recognised and is worth less than the right answer."""
    drawn, problems = drawn[:_SLIP_DRAWS], []
    for cause, formula, conditions in question.slips_of(answer).listed:
        applied = named = 0
        for draw in drawn:
            if not all(condition(*draw.shown) for condition in conditions):
                continue
            try:
                wrong = formula(*draw.shown)
            except (ArithmeticError, ValueError) as error:
                problems.append((cause.name, f"formula has no value for {numbers_shown(draw)}: {error}"))
                break
            if not -1e15 < wrong < 1e15:
                problems.append((cause.name, f"formula gives {wrong:g} for {numbers_shown(draw)}"))
                break
            applied += 1
            verdict = question.judge(draw, {answer.id: number_text(wrong)})[answer.id]
            named += any(told.name == cause.name for told in verdict.causes)
        else:
            if not applied:
                problems.append(
                    (cause.name, f"where holds in none of {len(drawn)} draws, so the slip never applies")
                )
            elif named < 0.9 * applied:
                problems.append(
                    (
                        cause.name,
                        (
                            f"typed by a student it is recognised in {named} of {applied} draws only; another"
                            f" verdict comes first (the last was {verdict.kind!r})"
                        ),
                    )
                )
        if cause.credit >= 1:
            problems.append((cause.name, "credit must be below 1"))
    return problems


def solved_numerically(way: Derivation, inputs: dict[str, float]) -> float | None:
    """The asked quantity [theory's unit] by Newton's method on the relations as they are written.

    None of them is rearranged: the way's steps and closed form give the start only, from the numbers of the
    givens [theory units, angles in rad]. None where the method does not settle.
    """
    return _Equations(way, inputs).solved(inputs)


class _Equations:
    """The relations of a way as they are written, for any numbers of its givens."""

    def __init__(self, way: Derivation, words: Iterable[str]):
        self.way, self.words = way, list(words)
        steps = [step for step in way.steps if step.relation is not None]
        self.unknown = list(
            dict.fromkeys(
                [*(step.quantity for step in way.steps if step.quantity not in self.words), way.asked]
            )
        )
        self.equations: list[Equation] = []
        for step in steps:
            for equation in way.scope.equations:
                words_of_it = {symbol.name for symbol in equation.symbols}
                if (
                    equation.relation is step.relation
                    and (step.role == "closed" or step.quantity in words_of_it)
                    and words_of_it <= {*self.words, *self.unknown}
                    and equation not in self.equations
                ):
                    self.equations.append(equation)

    @cached_property
    def residuals(self) -> Callable:
        """By how much each relation misses, as a function of the unknowns and the givens."""
        names = {
            **{word: f"g_{word}" for word in self.words},
            **{word: f"u[{i}]" for i, word in enumerate(self.unknown)},
        }
        residuals = [
            f"({source(equation.right, names)} - {names[equation.left.name]}) / max(1e-12,"
            f" abs({names[equation.left.name]}))"
            for equation in self.equations
        ]
        return compile_steps(["u", *(f"g_{word}" for word in self.words)], [], residuals)

    def solved(self, inputs: dict[str, float]) -> float | None:
        """The asked quantity [theory's unit]; None where the method does not settle."""
        way, unknown = self.way, self.unknown
        if way.asked in inputs and not self.equations:
            return inputs[way.asked]
        function, given = self.residuals, tuple(inputs.values())
        start = _start(way, inputs, unknown)
        if start is None:
            return None
        begin = np.array([start[word] for word in unknown])
        for (
            far
        ) in _FAR_STARTS:  # the nearer ones for relations with an absolute value, which have two branches
            u = _newton(function, begin * np.linspace(far, 1 / far, len(unknown) + 1)[:-1], given)
            if u is not None:
                return float(u[unknown.index(way.asked)])
        return _put_in(self.equations, inputs, way.asked)


def _put_in(equations, inputs: dict[str, float], asked: str) -> float | None:
    """The asked quantity by putting known numbers into the relations as written, until none has anything left
    to give.

    For the arithmetic of whole numbers (common factors and multiples), which has no slope to follow.
    """
    known = dict(inputs)
    for _ in equations:
        for equation in equations:
            word, needed = (
                equation.left.name,
                [symbol.name for symbol in equation.symbols if symbol != equation.left],
            )
            if word not in known and all(name in known for name in needed):
                names = {name: f"v{i}" for i, name in enumerate(needed)}
                try:
                    known[word] = compile_steps(names.values(), [], [source(equation.right, names)])(
                        *(known[name] for name in needed)
                    )[0]
                except (ArithmeticError, ValueError):
                    return None
    return known.get(asked)


def _newton(function, u: np.ndarray, given: tuple) -> np.ndarray | None:
    """The unknowns at which every residual vanishes, from a start; None where the method does not settle."""
    try:
        for _ in range(60):
            value = np.array(function(u, *given))
            if np.max(np.abs(value), initial=0.0) < 1e-13:
                break
            jacobian = np.empty((len(value), len(u)))
            for i in range(len(u)):
                nudge = np.zeros_like(u)
                nudge[i] = 1e-7 * max(1e-9, abs(u[i]))
                jacobian[:, i] = (
                    np.array(function(u + nudge, *given)) - np.array(function(u - nudge, *given))
                ) / (2 * nudge[i])
            change = np.linalg.lstsq(jacobian, -value, rcond=None)[0]
            size = np.max(np.abs(change) / np.maximum(1e-12, np.abs(u)))
            u = u + change * min(1.0, 0.3 / size if size > 0 else 1.0)
    except (ArithmeticError, ValueError, TypeError, np.linalg.LinAlgError):
        return None
    return u if np.max(np.abs(np.array(function(u, *given))), initial=0.0) < 1e-9 else None


def _start(way: Derivation, inputs: dict[str, float], unknown: list[str]) -> dict[str, float] | None:
    """Numbers near the solution for every unknown.

    From the steps where they can be worked out, else from a real pair.
    """
    values = {symbol(word): number for word, number in inputs.items()} | {FULL_TURN: 2 * np.pi}
    for step in way.steps:
        if step.role == "closed":
            values[symbol(step.quantity)] = evaluate(step.expression, values)
    for step in way.steps:
        if step.role in ("direct", "rearranged") and all(
            symbol in values for symbol in step.expression.free_symbols
        ):
            values[symbol(step.quantity)] = evaluate(step.expression, values)
    numbers = {**way.scope.worlds[0], **values}
    try:
        return {word: float(numbers[symbol(word)]) for word in unknown}
    except (KeyError, TypeError):
        return None
