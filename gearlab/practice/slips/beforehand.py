"""Wrong answers worked out beforehand: the bank's listed slips, and those that theory's way leads to.

A slip is an edit of the whole way (`variation.py`); all slips of an answer are compiled into
one function of floats when they are first needed.

A number may have a cause only if few numbers have one: the slips are ranked, and the less likely ones are
left out where together they would name more than a small share of all numbers near the right one. The fewer
digits are typed, the likelier a slip has to be.
"""

from __future__ import annotations

import copy
import math
import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from gearlab.practice.answer import Answer
from gearlab.practice.draw import Draw
from gearlab.practice.formulas.expression import compile_formula
from gearlab.practice.precision import apart
from gearlab.practice.slips.finished import finished
from gearlab.practice.slips.habit import habits
from gearlab.practice.slips.misuse import misused_givens, steps_varied, unconverted
from gearlab.practice.slips.neighbours import neighbours, siblings
from gearlab.practice.slips.variation import Slip, Way
from gearlab.practice.verdict import FURTHEST, NEAREST, Cause
from gearlab.theory.quantities import QUANTITIES

if TYPE_CHECKING:
    from gearlab.practice.question import Question

__all__ = ["SHARE", "Slips"]

# Share of the numbers within a factor of four of the right one that may get a cause: typed with at least
# four digits, and with fewer. The same where numbers count up to a period (the mirror image takes a share as
# well), and of the whole numbers, where only whole numbers can be right.
SHARE, SHARE_OF_FEW_DIGITS, SHARE_OF_A_PERIOD, SHARE_OF_WHOLE = 0.0145, 0.028, 0.012, 0.06
# The same of the numbers of two digits. Few of them lie near an answer, and slips often lead to one of them
# exactly (a given copied, twice an answer): they are counted apart.
SHARE_OF_TWO_DIGITS = 0.1
_SPAN = math.log(16.0)
_PERIODIC = 0.0009  # half-width, of a period, within which a cause is recognised
_LIKELIER = 0.9  # ranks by which a slip is so much likelier than another that only the first is told
_LISTED_RANK = 2.0  # up to which slips are told beside one that the bank lists
_ALIVE = 0.4  # share of the samples for which a slip has to have a value of its own


def slips_of_way(way: Way) -> Iterator[Slip]:
    """Every slip on the way to an answer, and on the way straight from the givens where that is another."""
    yield from neighbours(way)
    yield from finished(way)
    yield from _on_the_way(way)
    straight = way.straight()
    if straight:
        other = copy.copy(way)
        other.steps = straight
        other.inputs = tuple(word for word in way.given if word in way.question.known_names)
        yield from _on_the_way(other)


def _on_the_way(way: Way) -> Iterator[Slip]:
    for maker in (siblings, steps_varied, habits, misused_givens, unconverted):
        yield from maker(way)


@dataclass
class _Sample:
    """A draw at which the slips are compared before any is kept."""

    key: float
    numbers: list[float | None]  # of the slips, in their order
    period: float
    spans: list[tuple[float, float]]
    round_spans: list[tuple[float, float]]  # of the numbers of two digits
    whole: frozenset[int] = frozenset()
    length: float = 0.0  # of the spans together
    round_length: float = 0.0


class Slips:
    """The wrong answers of one answer.

    Attributes
    ----------
    listed : list of (Cause, formula, conditions)
        The bank's own, as functions of the shown numbers.
    causes : tuple of Cause
        The others, the likeliest first, in the order of the numbers that `values` gives after the right one.
    """

    def __init__(self, question: Question, answer: Answer):
        self.question, self.answer = question, answer
        self._numbers = bool(question.shown_names)  # a formula in symbols has none
        self.names = question.shown_names if self._numbers else question.names
        self.listed = [
            (
                Cause(slip.name, slip.title, slip.says, slip.credit, "listed slip"),
                compile_formula(slip.formula, self.names),
                [compile_formula(text, self.names) for text in slip.where],
            )
            for slip in answer.table.slips
        ]
        known = question.known_names if self._numbers else answer.table.symbols
        self.words = tuple(dict.fromkeys([*known, *answer.inputs]))
        used = {answer.input_of(earlier): earlier.place for earlier in answer.used} if self._numbers else {}
        self._way = Way(question, answer, self.words)
        self._places = (
            [
                *((True, used[w]) if w in used else (False, answer.shown_place(w)) for w in self.words),
                *((True, question.answers.index(other)) for other in self._way.others),
            ]
            if self._numbers
            else []
        )
        self._compile()

    # -- compiling -------------------------------------------------------------------------------------
    def _compile(self) -> None:
        draws = self.question.draws_of_slips
        slips, variables = self._with_variables()
        program = self._way.program
        inputs = [self.arguments(draw) for draw in draws]
        tables = [program.values(numbers) for numbers in inputs]
        key = self._way.key
        samples = [
            _Sample(
                table[key],
                [table.get(name) for name in variables],
                self.answer.period(draw.shown) if self.answer.modular else 0.0,
                [],
                [],
            )
            for table, draw in zip(tables, draws)
        ]
        anywhere = [[table.get(name) for name in variables] for table in self._at_any_numbers(inputs[0])]
        kept = _Chooser(self.answer, self._numbers, samples, anywhere).kept(slips)
        self._variables = [key, *(variables[i] for i, *_ in kept)]
        self._function = program.function(len(inputs[0]), self._variables)
        self.causes = tuple(self._way.placed(slips[i]) for i, *_ in kept)
        self._ranks = tuple(slips[i].rank for i, *_ in kept)
        self._shares = tuple(share for _, share, _ in kept)
        self._round_shares = tuple(share for _, _, share in kept)
        rows = self._listed_at(draws) if kept else []
        self._repeats_listed = [
            any(self._agrees([sample.numbers[i] for sample in samples], row) for row in rows)
            for i, *_ in kept
        ]

    def _with_variables(self) -> tuple[list[Slip], list[str]]:
        """The slips that lead to a number, and the variable of each; the same variable is the same thing."""
        if self.answer.table.preferred:
            return [], []
        slips, variables, seen = [], [], {self._way.key}
        for slip in sorted(slips_of_way(self._way), key=lambda slip: slip.rank):
            try:
                variable = self._way.result(slip)
            except (KeyError, ValueError, TypeError):
                continue
            if variable not in seen:
                seen.add(variable)
                slips.append(slip)
                variables.append(variable)
        return slips, variables

    def _at_any_numbers(self, sample: Sequence[float]) -> list[dict[str, float]]:
        """The variables at numbers no question would give: what agrees here is the same thing."""
        some = random.Random(1)
        tables = []
        for _ in range(4):
            numbers = [
                float(some.randint(17, 97)) if QUANTITIES[word].whole else value * some.uniform(0.8, 1.25)
                for word, value in zip(self.words, sample)
            ]
            numbers += [value * some.uniform(0.8, 1.25) for value in sample[len(numbers) :]]
            tables.append(self._way.program.values(numbers))
        return tables

    def _listed_at(self, draws: Sequence[Draw]) -> list[list[float | None]]:
        """The number of each listed slip at every draw, None where it has none."""
        rows: list[list[float | None]] = []
        for _, formula, _ in self.listed:
            rows.append([])
            for draw in draws:
                try:
                    rows[-1].append(formula(*[draw.values[name] for name in self.names]))
                except (ArithmeticError, ValueError):
                    rows[-1].append(None)
        return rows

    def _agrees(self, numbers: list[float | None], listed: list[float | None]) -> bool:
        """Whether a slip is the same thing as a listed one, at every sample where it has a number."""
        return all(
            other is not None and self._one_number(other, number)
            for number, other in zip(numbers, listed)
            if number is not None
        )

    def _one_number(self, value: float, other: float) -> bool:
        """Whether two wrong numbers are the same to the eyes of this answer."""
        if self.answer.whole:
            return abs(self.answer.rounded(value)) == abs(self.answer.rounded(other))
        return abs(abs(value) - abs(other)) <= 1e-7 * abs(other)

    def arguments(self, draw: Draw) -> list[float]:
        """What goes into the compiled function: the shown numbers and the other right answers."""
        if not self._numbers:
            return [draw.values[word] for word in self.words]
        return [draw.keys[place] if asked else draw.shown[place] for asked, place in self._places]

    def values(self, *numbers: float) -> tuple[float, ...]:
        """The right number and that of each cause [unit asked]; nan where one has no value."""
        try:
            return self._function(*numbers)
        except (ArithmeticError, ValueError, TypeError):
            table = self._way.program.values(numbers)
            return tuple(table.get(name, math.nan) for name in self._variables)

    # -- recognising -----------------------------------------------------------------------------------
    def matching(self, draw: Draw, value: float, fine: float, listed: bool) -> list[Cause]:
        """The causes that give this number [unit asked], the likeliest first.

        `fine` is half a unit in its last typed place; `listed` says that a listed slip gives it too, so that
        what is the same thing by another name stays out.
        """
        answer = self.answer
        right, *numbers = self.values(*self.arguments(draw))
        key, size, period = abs(right), abs(value), answer.period(draw.shown)
        if size == 0 and not period:
            return [_NOTHING] if key and not listed else []
        width, limit = self._nearness(size, key, period, fine * (1 + 1e-9))  # 273.05 is typed as 273.1
        if answer.table.whole in ("up", "down") and value == round(value):
            numbers = [answer.rounded(number) if math.isfinite(number) else number for number in numbers]
        if period:
            places = [
                place
                for place, number in enumerate(numbers)
                if math.isfinite(number)
                and min(apart(value, number, period), apart(value, -number, period)) <= width
            ]
        else:
            low, high = size - 1.001 * width, size + 1.001 * width  # too wide: few of fifty go on
            places = [place for place, number in enumerate(map(abs, numbers)) if low <= number <= high]
            places = [place for place in places if abs(abs(numbers[place]) - size) <= width]
        two_digits = bool(places) and not period and _in_two_digits(size) == size
        causes: list[Cause] = []
        farthest = _LISTED_RANK if listed else math.inf  # a chance slip beside a likelier one says nothing
        for place in places:
            if abs(numbers[place] - right) <= 1e-9 * key:
                continue  # here it is no slip: who took 20 degrees took the angle that is given
            if two_digits and (
                abs(abs(numbers[place]) - size) > NEAREST * size
                or self._round_shares[place] > SHARE_OF_TWO_DIGITS
            ):
                continue
            if self._shares[place] > limit or (listed and self._repeats_listed[place]):
                continue
            if self._ranks[place] > farthest:
                break
            cause = self.causes[place] if period else self._with_sign(place, value, numbers[place], right)
            if cause is not None:
                causes.append(cause)
                farthest = min(farthest, self._ranks[place] + _LIKELIER)
        return _said_once(causes)

    def _nearness(self, size: float, key: float, period: float, fine: float) -> tuple[float, float]:
        """How near a slip's number has to come, and the share of numbers up to which slips are told."""
        answer = self.answer
        if period:  # a number a period away is the same one, and its mirror image is told as well
            width = min(max(fine, min(NEAREST * period, answer.absolute)), FURTHEST * period)
            limit = math.inf
        else:
            # the question's own tolerance, for a number of this size
            fair = answer.tolerance(key) * max(1.0, size / key) if key else size
            width = min(max(fine, min(NEAREST * size, fair)), FURTHEST * size)
            limit = min(SHARE, SHARE_OF_FEW_DIGITS * NEAREST * size / width)
        return (min(0.01, width), math.inf) if answer.whole else (width, limit)

    def _with_sign(self, place: int, value: float, number: float, key: float) -> Cause | None:
        """The cause of a number that has the size of a slip's; None where their signs do not go together."""
        cause = self.causes[place]
        if value * number > 0 or (self.answer.table.size_only and self._whatever_sign(place, number, key)):
            return cause
        if not self.answer.signed or cause.name.startswith("sign"):
            return None
        if value * key < 0:
            return replace(cause, sentence=f"{cause.sentence} And the sign is not right.")
        return cause if cause.kind == "another quantity" else None  # copied, and the sign put right

    def _whatever_sign(self, place: int, number: float, key: float) -> bool:
        """Whether a number may be told by its size: an exchanged sign does not turn it round as well."""
        return number * key > 0 or not self.causes[place].name.startswith("sign")

    def agreeing(self, points: list[dict], mine: list[float], listed: bool):
        """For an expression's values at the points of comparison: (kind, causes), the likeliest first."""
        table = [self.values(*[point[word] for word in self.words]) for point in points]
        keys = [row[0] for row in table]
        if self.answer.table.size_only:
            keys, mine = [abs(key) for key in keys], [abs(value) for value in mine]
        if _same(mine, keys):
            yield "right", ()
            return
        causes: list[Cause] = []
        if listed:
            for cause, formula, _conditions in self.listed:
                if _same(mine, [formula(*[point[name] for name in self.names]) for point in points]):
                    causes.append(cause)
        if self.answer.signed and _same(mine, [-key for key in keys]):
            title, sentence = "right size, wrong sign", "The size is right, the sign is not."
            yield "wrong sign", causes or [Cause("sign", title, sentence, 0.5, "wrong sign")]
            return
        for place, cause in enumerate(self.causes, start=1):
            if listed and self._repeats_listed[place - 1]:
                continue
            if _same(mine, [row[place] for row in table]):
                causes.append(cause)
        for kind in ("listed slip", "another quantity", "ordinary slip"):
            if any(cause.kind == kind for cause in causes):
                yield kind, _said_once(causes)
                return


_NOTHING = Cause("nothing", "gave nothing", "You gave zero, but it does not come to nothing here.", 0.0)


def _said_once(causes: list[Cause]) -> list[Cause]:
    """No sentence twice: the better credit counts."""
    best: dict[str, Cause] = {}
    for cause in causes:
        kept = best.get(cause.sentence)
        best[cause.sentence] = cause if kept is None or cause.credit > kept.credit else kept
    return list(best.values())


def _same(values: list[float], others: list[float]) -> bool:
    return all(abs(a - b) <= 1e-6 * abs(b) + 1e-12 for a, b in zip(values, others))


class _Chooser:
    """Which slips stay: none that gives the right number, none twice, and few enough."""

    def __init__(self, answer: Answer, numbers: bool, samples: list[_Sample], anywhere: list[list]):
        self.answer, self.numbers = answer, numbers
        self.samples, self.anywhere = samples, anywhere
        self.periodic = any(sample.period for sample in samples)
        self.share = self.whole_share = 0.0
        for sample in samples:
            sample.key = abs(answer.rounded(sample.key)) if numbers else abs(sample.key)
        self.rounding = answer.rounded if numbers and answer.table.whole in ("up", "down") else None
        self._seen: dict[int, list[tuple]] = {}
        self._named: dict[str, list[tuple]] = {}

    def kept(self, slips: list[Slip]) -> list[tuple[int, float, float]]:
        """Place of every slip kept, the likeliest first, and the shares of numbers named by then.

        The second share is of the numbers of two digits.
        """
        kept = []
        for place in range(len(slips)):
            if (
                self._counts(place)
                and self._is_new(place, slips[place].cause.name)
                and (not self.numbers or self._fits(place))
            ):
                near = self._is_near(place)
                kept.append((place, self.share if near else 0.0, self._round_share() if near else 0.0))
        return kept

    def _round_share(self) -> float:
        """Share of the numbers of two digits that have a cause by now."""
        return sum(sample.round_length for sample in self.samples) / len(self.samples) / _SPAN

    def _is_near(self, place: int) -> bool:
        """Whether a slip stays within a factor of four: what is farther off is hardly met by chance."""
        near = [
            sample.key / 4 <= abs(value) <= 4 * sample.key
            for sample in self.samples
            if (value := sample.numbers[place]) is not None
        ]
        return 2 * sum(near) >= len(near)

    def _counts(self, place: int) -> bool:
        """Whether a slip has a number of its own at most samples."""
        own = 0
        for sample in self.samples:
            value = sample.numbers[place]
            if value is None or (abs(value) <= 1e-9 and not sample.period):
                continue
            if self.numbers:
                near = 1.2 * max(self.answer.tolerance(sample.key), 2 * NEAREST * sample.key)
            else:
                near = 1e-6 * sample.key
            own += apart(abs(value), sample.key, sample.period) > near
        return own >= _ALIVE * len(self.samples)

    def _is_new(self, place: int, name: str) -> bool:
        """Whether no likelier slip gives the same numbers everywhere, or the same here by one name."""
        here = tuple(sample.numbers[place] for sample in self.samples)
        there = tuple(row[place] for row in self.anywhere)
        same = here if None in there else there
        if same[0] is not None and None not in same:
            bucket = round(math.log(abs(same[0]) or 1e-300) * 1e5)
            near = [row for step in (-1, 0, 1) for row in self._seen.get(bucket + step, ())]
            if any(_all_agree(same, row) for row in near):
                return False
            self._seen.setdefault(bucket, []).append(same)
        if any(_all_agree(here, row) for row in self._named.get(name, ())):
            return False
        self._named.setdefault(name, []).append(here)
        return True

    def _fits(self, place: int) -> bool:
        """Whether few enough numbers have a cause with this slip too; then it is counted in."""
        if self.answer.whole:
            after = [_with_whole(sample, sample.numbers[place], self.rounding) for sample in self.samples]
            share = sum(
                len(numbers) / max(1.0, 3.75 * sample.key) for numbers, sample in zip(after, self.samples)
            ) / len(after)
            if share > SHARE_OF_WHOLE and any(
                numbers != sample.whole for numbers, sample in zip(after, self.samples)
            ):
                return False
        spans = [_with(sample, sample.numbers[place]) for sample in self.samples]
        lengths = [s.length if span is s.spans else _length(span) for span, s in zip(spans, self.samples)]
        more = sum(lengths) / len(spans) / (1.0 if self.periodic else _SPAN)
        if more > self.share and more > (SHARE_OF_A_PERIOD if self.periodic else SHARE):
            return False
        self.share = more
        for number, sample in enumerate(self.samples):
            sample.spans, sample.length = spans[number], lengths[number]
            round_spans = _with_round(sample, sample.numbers[place])
            if round_spans is not sample.round_spans:
                sample.round_spans, sample.round_length = round_spans, _length(round_spans)
            if self.answer.whole:
                sample.whole = after[number]
        return True


def _all_agree(values: tuple, others: tuple) -> bool:
    return len(values) == len(others) and all(
        a is b if a is None or b is None else abs(a - b) <= 1e-7 * abs(b) for a, b in zip(values, others)
    )


def _with(sample: _Sample, value: float | None) -> list[tuple[float, float]]:
    """Spans of the logarithm of (number / key), or of number / period, that have a cause, with one more."""
    if value is None or not (sample.key or sample.period):
        return sample.spans
    if sample.period:
        turns = value / sample.period
        return _joined(_joined(sample.spans, turns % 1.0, _PERIODIC), -turns % 1.0, _PERIODIC)
    if not value:
        return sample.spans
    middle = math.log(abs(value) / sample.key)
    return sample.spans if abs(middle) > _SPAN / 2 else _joined(sample.spans, middle, NEAREST)


def _in_two_digits(value: float) -> float:
    """The number of two digits next to another."""
    return float(f"{value:.1e}")


def _with_round(sample: _Sample, value: float | None) -> list[tuple[float, float]]:
    """Spans of the logarithm of (number / key) whose number of two digits has a cause, with one more."""
    if not value or not sample.key or sample.period:
        return sample.round_spans
    size = _in_two_digits(abs(value))
    middle = math.log(size / sample.key)
    if abs(middle) > _SPAN / 2 or abs(abs(value) - size) > NEAREST * size:
        return sample.round_spans
    return _joined(sample.round_spans, middle, 0.5 * 10 ** (math.floor(math.log10(size)) - 1) / size)


def _joined(spans: list[tuple[float, float]], middle: float, half: float) -> list[tuple[float, float]]:
    low, high = middle - half, middle + half
    others = []
    for span in spans:
        if span[1] < low or span[0] > high:
            others.append(span)
        else:
            low, high = min(low, span[0]), max(high, span[1])
    return sorted([*others, (low, high)])


def _with_whole(sample: _Sample, value: float | None, rounding) -> frozenset[int]:
    """Whole numbers near the right one that have a cause, joined by the one of another slip."""
    if value is None:
        return sample.whole
    if rounding:
        value = rounding(value)
    near = round(abs(value))
    if abs(abs(value) - near) < 0.02 and sample.key / 4 <= near <= 4 * sample.key:
        return sample.whole | {near}
    return sample.whole


def _length(spans: list[tuple[float, float]]) -> float:
    return sum(high - low for low, high in spans)
