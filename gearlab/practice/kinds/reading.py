"""Questions answered by a reading of the student's own, and by what is worked out from it."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property
from typing import Annotated

from pydantic import Field

from gearlab.digits import number_text
from gearlab.practice.checks.answers import check_answers
from gearlab.practice.contract import Contract, number_contract, share_text
from gearlab.practice.draw import Draw
from gearlab.practice.judging import judge_number
from gearlab.practice.kinds.measured import judge_reading, mistaken
from gearlab.practice.kinds.number import NumberAnswer, NumberQuestion
from gearlab.practice.kinds.ownanswer import FormulaAnswer
from gearlab.practice.tables import AnswerTable, BandTable, PlausibleTable, QuestionTable
from gearlab.practice.typed.reading import Reading
from gearlab.practice.typed.units import unit_in_words
from gearlab.practice.verdict import Verdict
from gearlab.theory.units import MM_PER_INCH, written

__all__ = ["ReadingAnswer", "ReadingQuestion", "faults_of_reading"]

_OWN = "Right with your own reading."
_ALIKE = 1e-6  # of a step: what floats leave


class ReadingTable(AnswerTable):
    """A reading, where an instrument and what it can see are named; else an answer that is worked out."""

    instrument: Annotated[str, Field(min_length=1, max_length=60)] | None = None
    resolution: float | None = Field(None, gt=0)
    plausible: PlausibleTable | None = None
    bands: list[BandTable] = []


class ReadingsTable(QuestionTable):
    """A question with at least one reading."""

    answers: list[ReadingTable] = []  # type: ignore[assignment]


class ReadingAnswer(NumberAnswer):
    """A number that is read from an instrument or counted."""

    measured = True
    table: ReadingTable

    def __init__(self, question: ReadingQuestion, table: ReadingTable):
        super().__init__(question, table)
        assert table.plausible is not None and table.resolution is not None and table.bands
        self.instrument, self.resolution, self.bands = (
            table.instrument or "instrument",
            table.resolution,
            table.bands,
        )
        self._range = table.plausible
        self.points = float(self.bands[0].points)
        self.relative, self.absolute, self._half = 0.0, self.bands[0].within, 0.0  # no figures are counted
        self.behind = f" {written(self.unit)}" if self.unit else ""
        self.step = f"{number_text(self.resolution)}{self.behind}"
        self.counted = self.dimension in ("count", "turns")

    def contract(self) -> Contract:
        """How it is read and how it earns its points, in words that do not hang on the computed value."""
        first, *others = self.bands
        more = [
            f"Within {number_text(band.within)}{self.behind} of it,"
            f" {share_text(band.points / first.points)} of the points."
            for band in others
        ]
        return Contract(
            unit_in_words(self.shown_unit) if self.unit and not self.counted else "",
            f"your own reading: {self.instrument}, to {self.step}",
            f"within {number_text(first.within)}{self.behind} of the computed value",
            (*more, "Any other reading earns nothing."),
        )

    def shows(self, value: float) -> bool:
        """Whether the instrument can show it: a whole number of its steps."""
        steps = value / self.resolution
        return abs(steps - round(steps)) <= _ALIKE * max(1.0, abs(steps))

    def as_asked(self, value: float) -> str:
        """What the instrument shows of it."""
        return number_text(round(round(value / self.resolution) * self.resolution, 10))

    def limits(self, key: float) -> tuple[float, float]:
        """From where to where a reading is plausible [unit]."""
        stated = self._range
        if stated.low is not None and stated.high is not None:
            return stated.low, stated.high
        off = max(stated.absolute or 0.0, (stated.relative or 0.0) * abs(key))
        return key - off, key + off

    def plausible(self, value: float, key: float) -> bool:
        """Whether it can be a reading of this at all."""
        low, high = self.limits(key)
        return low <= value <= high

    def earned(self, value: float, key: float) -> float:
        """Points of the narrowest band that a plausible reading lies in [-]."""
        off = abs(value - key)
        return next(
            (band.points for band in self.bands if off <= band.within + _ALIKE * self.resolution), 0.0
        )


class OwnReadingAnswer(FormulaAnswer, ReadingAnswer):
    """A reading whose computed value is a formula of the bank's own."""


class ReadingQuestion(NumberQuestion):
    """A question answered at the bench: readings, and numbers that go on from them."""

    kind, Table = "reading", ReadingsTable
    table: ReadingsTable
    answers: tuple

    def _answer(self, table: AnswerTable) -> NumberAnswer:
        assert isinstance(table, ReadingTable)
        if table.resolution is None:
            return super()._answer(table)
        return (OwnReadingAnswer if table.formula else ReadingAnswer)(self, table)

    @classmethod
    def faults(cls, table: QuestionTable, shown: list[str]) -> list[str]:
        """Each reading says what its instrument sees, what is plausible and what earns points."""
        assert isinstance(table, ReadingsTable)
        problems = check_answers(table, shown, _answer_faults)
        if table.answers and not any(answer.resolution is not None for answer in table.answers):
            problems.append('answers: none is a reading; give one its resolution, or make it kind = "number"')
        return problems

    # -- judging --
    def judge_read(
        self, draw: Draw, read: dict[str, Reading], listed: bool, chosen: dict[str, int]
    ) -> dict[str, Verdict]:
        """Every number that goes on from a reading may go on from the student's own."""
        verdicts: dict[str, Verdict] = {}
        numbers: list[float] = []
        own = False
        for place, answer in enumerate(self.answers):
            reading, which = read[answer.id], chosen.get(answer.id, 0)
            if answer.measured:
                verdict, number = judge_reading(answer, draw, reading, which)
            else:
                earlier = numbers if own and answer.carries else None
                verdict, number = judge_number(draw, answer, reading, listed, which, earlier)
                if verdict.carried and self._rests_on_readings(answer, verdicts):
                    verdict = replace(verdict, sentence=_OWN)
            verdicts[answer.id] = verdict
            numbers.append(draw.keys[place] if number is None else number)
            own = own or (number is not None and (answer.measured or not verdict.right or verdict.carried))
        return verdicts

    def _rests_on_readings(self, answer: NumberAnswer, verdicts: dict[str, Verdict]) -> bool:
        """Whether every earlier answer that it goes on from is a plausible reading, or right."""
        earlier = [self.answers[place] for place in answer.carried_places]
        good = ("right", "close", "outside the bands")
        return all(
            verdicts[other.id].kind in good if other.measured else verdicts[other.id].right
            for other in earlier
        )

    # -- on a page --
    @cached_property
    def contracts(self) -> dict[str, Contract]:
        """A reading earns its points by its bands; what goes on from it, as any number."""
        return {
            answer.id: answer.contract() if answer.measured else number_contract(answer)
            for answer in self.answers
        }

    # -- in a practice box --
    def tells_at_once(self, answer_id: str) -> bool:
        return any(answer.id == answer_id and answer.measured for answer in self.answers)

    # -- checking --
    def check_draws(self, drawn: list[Draw]) -> list[str]:
        """Besides what is checked of numbers: honest readings earn all, slips of the hand are told apart."""
        problems = super().check_draws(drawn)
        for answer in self.answers:
            if answer.measured:
                told = {line: None for draw in drawn for line in self.reading_faults(answer, draw)}
                problems += [f"answers.{answer.id}: {line}" for line in list(told)[:3]]
        return problems

    def reading_faults(self, answer: ReadingAnswer, draw: Draw) -> list[str]:
        """What is wrong with bands and plausible range at one draw."""
        key, lines = draw.keys[answer.place], []
        nearest = float(answer.as_asked(key))
        if not judge_reading(answer, draw, Reading(nearest, "", answer.shown_unit), 0)[0].right:
            lines.append("the computed value, read to a step of the instrument, does not earn all the points")
        low, high = answer.limits(key)
        if not low <= key - answer.bands[-1].within <= key + answer.bands[-1].within <= high:
            lines.append("plausible: does not reach as far as the widest band")
        factors = (10.0, 0.1, *((MM_PER_INCH, 1 / MM_PER_INCH) if answer.dimension == "length" else ()))
        for factor in factors if key else ():  # of nothing no multiple can be told
            if not answer.counted and answer.plausible(key * factor, key):
                lines.append(
                    f"plausible: a reading {factor:.3g} times the computed value passes; make it narrower"
                )
            elif not answer.counted and not mistaken(answer, key * factor, key) and factor > 1:
                lines.append(f"a reading {factor:.3g} times the computed value gets no cause")
        return lines


def _answer_faults(
    answer: AnswerTable, table: QuestionTable, shown: list[str]
) -> tuple[list[str], list[str]]:
    """Problems of one answer, and the names that its slips may use."""
    assert isinstance(answer, ReadingTable)
    problems = [f"{name}: belongs to expression questions only" for name in ("symbols",) if answer.symbols]
    if answer.modulo is not None:
        problems.append("modulo: does not go with a question of kind 'reading'")
    if answer.resolution is None:
        problems += [
            f"{name}: goes with a reading: give its resolution too"
            for name in ("instrument", "plausible", "bands")
            if getattr(answer, name)
        ]
        return problems, shown
    if not answer.instrument:
        problems.append('instrument: is needed, such as "caliper"')
    problems += [
        f"{name}: does not go with a reading, which is judged by its bands"
        for name in (
            *("tolerance", "places", "figures", "slips", "uses", "carry", "preferred", "points"),
            *(() if answer.formula else ("proof",)),
        )
        if name in answer.model_fields_set and getattr(answer, name) not in (None, [])
    ]
    return problems + faults_of_reading(answer), shown


def faults_of_reading(answer: ReadingTable) -> list[str]:
    """What does not fit in the plausible range and the bands of a reading."""
    return _plausible_faults(answer.plausible) + _band_faults(answer)


def _plausible_faults(stated: PlausibleTable | None) -> list[str]:
    if stated is None:
        return [
            "plausible: is needed: { from, to }, or { absolute } or { relative } around the computed value"
        ]
    ends = (stated.low is not None) + (stated.high is not None)
    around = stated.absolute is not None or stated.relative is not None
    if ends == 1 or bool(ends) == around:
        return ["plausible: give either from and to, or absolute or relative"]
    if stated.low is not None and stated.high is not None and stated.low >= stated.high:
        return [f"plausible: from {stated.low:g} to {stated.high:g} holds no reading"]
    return []


def _band_faults(answer: ReadingTable) -> list[str]:
    if not answer.bands:
        return ["bands: at least one { within = ..., points = ... } is needed"]
    problems = []
    widths, points = [band.within for band in answer.bands], [band.points for band in answer.bands]
    if sorted(set(widths)) != widths or sorted(set(points), reverse=True) != points:
        problems.append("bands: go from the narrowest with the most points to the widest with the fewest")
    if answer.resolution is not None and widths[0] < answer.resolution / 2:
        problems.append(
            f"bands: within {widths[0]:g} is less than half a step of the instrument"
            f" ({answer.resolution / 2:g}): nobody can read so exactly"
        )
    return problems
