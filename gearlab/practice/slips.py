"""Wrong answers worked out beforehand.

The bank's listed slips, other quantities, and ordinary slips of the derivation.

Theory's own steps are varied one at a time: a sibling quantity put in (the outside diameter where the pitch
diameter belongs), a term dropped or its sign exchanged, a factor left out or put on the wrong side of the
line, a function confused, a unit forgotten.  Nothing here is written for one question.  All variations of an
answer are compiled into one function of floats when they are first needed.

A number may have a cause only if few numbers have one: the variations are ranked, and the less likely ones
are left out where together they would name more than a small share of all numbers near the right one.
"""

from __future__ import annotations

import math
import random
from dataclasses import replace

from gearlab.practice.answer import apart
from gearlab.practice.cause import Cause
from gearlab.practice.expression import compile_formula
from gearlab.practice.formula import ENVIRONMENT, compile_steps
from gearlab.practice.mistake import Variation
from gearlab.practice.variation import variations
from gearlab.practice.verdict import FURTHEST, NEAREST
from gearlab.theory.quantities import QUANTITIES

__all__ = ["BUDGET", "Slips"]

BUDGET = 0.02  # share of the numbers within a factor of four that may get a cause
# the same where numbers count up to a period: the mirror image takes a share as well
BUDGET_OF_A_PERIOD = 0.012
_SPAN = math.log(16.0)
_TYPICAL = 0.0009  # typical relative half-width within which a cause is recognised
_SAMPLES = 12
# share of the whole numbers near the right one that may get a cause, where only whole numbers can be right
_WHOLE_SHARE = 0.06


class Slips:
    """The wrong answers of one answer.

    Attributes
    ----------
    listed : list of (Cause, formula, conditions)
        The bank's own, as functions of the shown numbers.
    causes : tuple of Cause
        The others, in the order of the numbers that `values` gives.
    """

    def __init__(self, question, answer):
        self.question, self.answer = question, answer
        names = question.names if question.kind == "expression" else question.shown_names
        self.names = names
        self.listed = [
            (
                Cause(slip.name, slip.title, slip.says, slip.credit, "listed slip"),
                compile_formula(slip.formula, names),
                [compile_formula(text, names) for text in slip.where],
            )
            for slip in answer.table.slips
        ]
        self._compile()

    # -- compiling ---------------------------------------------------------------------------------------------------------------  # noqa: E501
    def _compile(self) -> None:
        answer, question = self.answer, self.question
        self.words = tuple(
            dict.fromkeys(
                [
                    *(answer.table.symbols if question.kind == "expression" else question.known_names),
                    *answer.inputs,
                ]
            )
        )
        used = {
            one.used_as: question.answers.index(one)
            for one in (answer.used if question.kind == "number" else ())
        }
        if question.kind == "number":
            self.places = [
                (True, used[word]) if word in used else (False, question.shown_names.index(word))
                for word in self.words
            ]
        world, found = variations(question, answer, self.words)
        if answer.table.preferred:
            found = []
        samples = [
            self._arguments(draw) for draw in (question.draw("slips", number) for number in range(_SAMPLES))
        ]
        world = self._sound(world, samples)
        alive = {name for name, _ in world}
        found = [one for one in found if one.needs <= alive]
        out = repr(answer.out_factor)
        while True:
            lines, results = self._source(world, found, out)
            function = compile_steps([f"v{i}" for i in range(len(self.words))], lines, results)
            table, bad = self._table(function, found, samples, world, out)
            if not bad:
                break
            found = [one for one in found if one not in bad]
        kept = self._kept(found, table, self._at_any_numbers(function, samples[0]))
        lines, results = self._source(world, [found[i] for i in kept], out)
        self.values = compile_steps([f"v{i}" for i in range(len(self.words))], lines, results)
        self.causes = tuple(found[i].cause for i in kept)
        self._repeats_listed = self._which_repeat_listed([[row[1 + i] for row in table] for i in kept])

    def _inputs(self) -> list[str]:
        factors = {
            **{word: self.question.factor(word) for word in self.words if word in self.question.table.givens},
            **self.answer.inputs,
        }
        return [
            f"t_{word} = v{i}" + ("" if factors[word] == 1.0 else f" * {factors[word]!r}")
            for i, word in enumerate(self.words)
        ]

    def _source(self, world, found: list[Variation], out: str) -> tuple[list[str], list[str]]:
        needed = set().union(*(one.needs for one in found)) if found else set()
        lines = self._inputs()
        keep = self._closure(world, needed | {f"c_{self.answer.asked}"})
        lines += [f"{name} = {text}" for name, (text, _) in world if name in keep]
        results = [f"c_{self.answer.asked} * {out}"]
        for number, one in enumerate(found):
            lines += [f"{name}_{number} = {text.replace('@', f'_{number}')}" for name, text in one.lines]
            results.append(
                f"abs({one.result.replace('@', f'_{number}')} * {out})"
                if one.scaled
                else f"abs({one.result.replace('@', f'_{number}')})"
            )
        return lines, results

    @staticmethod
    def _closure(world, names: set[str]) -> set[str]:
        needs = {name: need for name, (_, need) in world}
        keep, open_ = set(), [name for name in names if name in needs]
        while open_:
            name = open_.pop()
            if name not in keep:
                keep.add(name)
                open_ += [need for need in needs[name] if need in needs]
        return keep

    def _sound(self, world, samples):
        """The lines of the world that have a value for every sample."""
        codes = [(name, compile(text, "<world>", "eval"), text, needs) for name, (text, needs) in world]
        inputs = [compile(line, "<inputs>", "exec") for line in self._inputs()]
        dead: set[str] = set()
        for sample in samples:
            space = {**ENVIRONMENT, **{f"v{i}": value for i, value in enumerate(sample)}}
            for line in inputs:
                exec(line, space)  # noqa: S102 (our own source)
            for name, code, _, needs in codes:
                if name in dead or needs & dead:
                    dead.add(name)
                    continue
                try:
                    value = eval(code, space)  # noqa: S307
                    if isinstance(value, complex) or not math.isfinite(value):
                        raise ValueError
                    space[name] = value
                except (ArithmeticError, ValueError):
                    dead.add(name)
        return [(name, (text, needs)) for name, _, text, needs in codes if name not in dead]

    def _table(self, function, found, samples, world, out):
        try:
            return [function(*sample) for sample in samples], []
        except (ArithmeticError, ValueError, TypeError):
            bad = []
            for one in found:
                lines, results = self._source(world, [one], out)
                single = compile_steps([f"v{i}" for i in range(len(self.words))], lines, results)
                try:
                    for sample in samples:
                        single(*sample)
                except (ArithmeticError, ValueError, TypeError):
                    bad.append(one)
            return [], bad

    def _at_any_numbers(self, function, sample) -> list[tuple]:
        """The variations at numbers no question would give.

        What agrees here is the same thing, not a coincidence.
        """
        some, rows = random.Random(1), []
        while len(rows) < 4:
            numbers = [
                float(some.randint(17, 97)) if QUANTITIES[word].whole else value * some.uniform(0.8, 1.25)
                for word, value in zip(self.words, sample)
            ]
            try:
                rows.append(function(*numbers))
            except (ArithmeticError, ValueError, TypeError):
                rows.append(())
        return [row for row in rows if row]

    def _kept(self, found, table, anywhere) -> list[int]:
        """Which variations stay: none that gives the right number, none twice, and few enough."""
        answer = self.answer
        kept: list[int] = []
        whole: list[set] = [set() for _ in table]
        covered = [[] for _ in table]
        seen: list[tuple] = []
        periods = (
            [answer.period(self.question.draw("slips", number).shown) for number in range(len(table))]
            if answer.modular
            else []
        )
        for i, _one in sorted(enumerate(found), key=lambda item: item[1].rank):
            row = [values[1 + i] for values in table]
            keys = [
                abs(answer.rounded(values[0])) if self.question.kind == "number" else abs(values[0])
                for values in table
            ]
            if not all(math.isfinite(value) and (value > 1e-9 or periods) for value in row):
                continue
            near = sum(
                apart(value, key, period)
                <= (
                    1.5 * max(answer.tolerance(key), FURTHEST * key)
                    if self.question.kind == "number"
                    else 1e-6 * key
                )
                for value, key, period in zip(row, keys, periods or [0.0] * len(keys))
            )
            if near > len(keys) // 4:
                continue
            same = tuple(values[1 + i] for values in anywhere or table)
            if any(all(abs(a - b) <= 1e-7 * abs(b) for a, b in zip(same, other)) for other in seen):
                continue
            if self.question.kind == "number":
                if answer.whole:
                    rounding = answer.rounded if answer.table.whole in ("up", "down") else None
                    after = [
                        _with_whole(spans, value, key, rounding)
                        for spans, value, key in zip(whole, row, keys)
                    ]
                    if (
                        after != whole
                        and sum(len(spans) / max(1.0, 3.75 * key) for spans, key in zip(after, keys))
                        / len(keys)
                        > _WHOLE_SHARE
                    ):
                        continue
                    whole = after
                if periods:
                    after = [
                        _with_turned(spans, value / period)
                        for spans, value, period in zip(covered, row, periods)
                    ]
                else:
                    after = [
                        _with(spans, value / key) if key else spans
                        for spans, value, key in zip(covered, row, keys)
                    ]
                share = sum(_length(spans) for spans in after) / len(after) / (1.0 if periods else _SPAN)
                if share > (BUDGET_OF_A_PERIOD if periods else BUDGET) and after != covered:
                    continue
                covered = after
            kept.append(i)
            seen.append(same)
        return kept

    def _which_repeat_listed(self, rows) -> list[bool]:
        """Whether a variation is the same thing as a listed slip, at every sample."""
        draws = [self.question.draw("slips", number) for number in range(_SAMPLES)]
        repeats = []
        for row in rows:
            same = False
            for _, formula, _ in self.listed:
                try:
                    same = all(
                        self._one_number(formula(*self._formula_numbers(draw)), value)
                        for draw, value in zip(draws, row)
                    )
                except (ArithmeticError, ValueError):
                    same = False
                if same:
                    break
            repeats.append(same)
        return repeats

    def _one_number(self, one: float, other: float) -> bool:
        """Whether two wrong numbers are the same to the eyes of this answer."""
        if self.answer.whole:
            return abs(self.answer.rounded(one)) == abs(self.answer.rounded(other))
        return abs(abs(one) - abs(other)) <= 1e-7 * abs(other)

    def _formula_numbers(self, draw) -> tuple:
        return tuple(draw.values[name] for name in self.names)

    def _arguments(self, draw) -> list[float]:
        if self.question.kind == "expression":
            return [draw.values[word] for word in self.words]
        return [draw.keys[place] if used else draw.shown[place] for used, place in self.places]

    # -- recognising -------------------------------------------------------------------------------------------------------------  # noqa: E501
    def matching(self, draw, value: float, fine: float, listed: bool) -> list[Cause]:
        """The causes that give this number [unit asked].

        `fine` is half a unit in its last typed place; `listed` says that a listed slip gives it too, so that
        what is the same thing by another name stays out.
        """
        try:
            numbers = self.values(*self._arguments(draw))
        except (ArithmeticError, ValueError, TypeError):
            return []
        size = abs(value)
        if size == 0 and not self.answer.modular:
            return []  # nothing typed as 0 tells what was done
        key = abs(numbers[0])
        # the question's own tolerance, for a number of this size
        fair = self.answer.tolerance(key) * max(1.0, size / key) if key else size
        width = min(max(fine, min(NEAREST * size, fair)), FURTHEST * size)
        if self.answer.whole:
            width = min(0.01, width)
            if self.answer.table.whole in ("up", "down") and value == round(value):
                numbers = (numbers[0], *[self.answer.rounded(number) for number in numbers[1:]])
        low, high = size - width, size + width
        period = self.answer.period(draw.shown)
        if period:  # a number a period away is the same one, and nobody asked for the size alone
            size, width = 0.0, min(max(fine, min(NEAREST * period, self.answer.absolute)), FURTHEST * period)
            low, high = -width, width
            numbers = [min(apart(value, number, period), apart(value, -number, period)) for number in numbers]
        causes = []
        for place, number in enumerate(numbers):
            if low <= number <= high and place:
                cause = self.causes[place - 1]
                if listed and self._repeats_listed[place - 1]:
                    continue
                if self.answer.signed and not period and (value < 0) != (numbers[0] < 0):
                    cause = replace(cause, sentence=f"{cause.sentence} And the sign is not right.")
                causes.append(cause)
        return causes

    def agreeing(self, points: list[dict], mine: list[float], listed: bool):
        """For an expression's values at the points of comparison: (kind, causes), the likeliest first."""
        table = [self.values(*[point[word] for word in self.words]) for point in points]
        keys = [row[0] for row in table]
        if self.answer.table.size_only:
            keys, mine = [abs(key) for key in keys], [abs(value) for value in mine]
        if _same(mine, keys):
            yield "right", ()
            return
        found: list[Cause] = []
        if listed:
            for cause, formula, _conditions in self.listed:
                if _same(mine, [formula(*[point[name] for name in self.names]) for point in points]):
                    found.append(cause)
        if self.answer.signed and _same(mine, [-key for key in keys]):
            yield (
                "wrong sign",
                found
                or [
                    Cause(
                        "sign",
                        "right size, wrong sign",
                        "The size is right, the sign is not.",
                        0.5,
                        "wrong sign",
                    )
                ],
            )
            return
        for place, cause in enumerate(self.causes, start=1):
            if listed and self._repeats_listed[place - 1]:
                continue
            if _same([abs(value) for value in mine], [row[place] for row in table]):
                found.append(cause)
        for kind in ("listed slip", "another quantity", "ordinary slip"):
            if any(cause.kind == kind for cause in found):
                yield kind, found
                return


def _same(one: list[float], two: list[float]) -> bool:
    return all(abs(a - b) <= 1e-6 * abs(b) + 1e-12 for a, b in zip(one, two))


def _with(spans: list[tuple[float, float]], ratio: float) -> list[tuple[float, float]]:
    """Spans of the logarithm of (number / key) that have a cause, joined by the one of another variation."""
    middle = math.log(ratio)
    return spans if abs(middle) > _SPAN / 2 else _joined(spans, middle)


def _with_turned(spans: list[tuple[float, float]], ratio: float) -> list[tuple[float, float]]:
    """Spans of (number / period) that have a cause, between 0 and 1, joined by those of another variation
    with either sign.
    """
    return _joined(_joined(spans, ratio % 1.0), -ratio % 1.0)


def _joined(spans: list[tuple[float, float]], middle: float) -> list[tuple[float, float]]:
    low, high = middle - _TYPICAL, middle + _TYPICAL
    apart = []
    for one in spans:
        if one[1] < low or one[0] > high:
            apart.append(one)
        else:
            low, high = min(low, one[0]), max(high, one[1])
    return sorted([*apart, (low, high)])


def _with_whole(numbers: set[int], value: float, key: float, rounding) -> set[int]:
    """Whole numbers near the right one that have a cause, joined by the one of another variation."""
    if rounding:
        value = rounding(value)
    near = round(value)
    return numbers | {near} if abs(value - near) < 0.02 and key / 4 <= near <= 4 * key else numbers


def _length(spans) -> float:
    return sum(high - low for low, high in spans)
