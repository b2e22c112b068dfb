"""What a bench measures or counts: the row of a run sheet, and the question of kind `reading` that it is.

A row that names its instrument is judged like any reading of a bank: read in any unit of its kind, plausible
or not and why, measured minus computed in steps of the instrument. One that names none, as in labs handed
out before, is a plain number held against `within`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from functools import cached_property
from pathlib import Path
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from gearlab.practice.draw import Draw
from gearlab.practice.formulas.expression import compile_formula
from gearlab.practice.kinds.reading import ReadingAnswer, ReadingQuestion, faults_of_reading
from gearlab.practice.kinds.reading import ReadingTable as AnswerTable
from gearlab.practice.tables import Kebab, PlausibleTable, Text
from gearlab.theory import derive
from gearlab.theory.boundary import unit_of
from gearlab.theory.units import convert

_ON_THE_BOARD = "It goes on the board as measured minus computed, without names, and earns no points."


class ReadingTable(BaseModel):
    """Something the bench measures or counts, and what theory or a formula says it should be.

    computed: a quantity word, derived from the words of `given`; formula: else, in the bench's numbers.
    resolution: what the instrument can see; within: the largest difference that needs no second look [unit].
    instrument: what it is read from, and plausible: what a reading of it can be at all, as in a bank.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    id: Kebab
    title: Text
    prompt: Text
    label: Text
    unit: str = "1"
    resolution: Annotated[float, Field(gt=0)]
    within: Annotated[float, Field(gt=0)]
    instrument: Annotated[str, Field(max_length=60)] = ""
    plausible: PlausibleTable | None = None
    computed: str = ""
    given: tuple[str, ...] = ("driver_teeth", "driven_teeth", "module")
    formula: str = ""

    @cached_property
    def _answer(self) -> AnswerTable:
        """It as an answer of a bank."""
        return AnswerTable.model_validate(
            {
                "id": "reading",
                "label": self.label,
                "unit": None if self.unit == "1" else self.unit,
                "instrument": self.instrument,
                "resolution": self.resolution,
                "plausible": self.plausible,
                "bands": [{"within": self.within, "points": 1}],
                **({"asked": self.computed} if self.computed else {"formula": self.formula}),
            }
        )

    @property
    def faults(self) -> list[str]:
        """What does not fit in instrument, plausible range and limit."""
        if self.instrument:
            return faults_of_reading(self._answer)
        return [] if self.plausible is None else ["plausible: goes with an instrument; name it as well"]

    @cached_property
    def question(self) -> ReadingQuestion | None:
        """The question that it is; None where no instrument is named."""
        if not self.instrument:
            return None
        names = {"id": reading_id(self), "kind": ReadingQuestion.kind}
        texts = {"title": self.title, "prompt": self.prompt}
        table = ReadingQuestion.Table.model_validate({**names, **texts, "answers": [self._answer]})
        return ReadingQuestion(table, Path("run sheet"))

    def draw(self, computed: float) -> Draw:
        """The question with what it should come to [unit]; its numbers are a bench's and are not drawn."""
        assert self.question is not None
        return Draw(self.question, 0, 1, {}, {}, (computed,))

    @property
    def sheet(self) -> dict:
        """What a bench's sheet says of the question, but for its numbers."""
        if self.question is None:
            unit = "" if self.unit == "1" else self.unit
            answer = {"id": "reading", "label": self.label, "unit": unit, "asked": "", "symbols": []}
            return {"kind": "number", "answers": [answer]}
        contract = replace(self.question.contracts["reading"], more=(_ON_THE_BOARD,))
        fields = self.question.sheet(self.draw(0.0))
        return {"kind": self.question.kind, **fields, "contracts": {"reading": contract.to_json()}}

    def worked_out(self, numbers: Mapping[str, float]) -> float:
        """What it should come to with a bench's numbers [unit]. ValueError where they do not tell it."""
        if self.formula:
            words = sorted(numbers)
            return float(compile_formula(self.formula, words)(*[numbers[word] for word in words]))
        value = derive(self.computed, {word: numbers[word] for word in self.given}, length_unit="mm").result
        return float(convert(float(value), unit_of(self.computed, "mm") or "1", self.unit))

    def doubts(self, benches: Iterable[Mapping[str, float]]) -> Iterator[str]:
        """What does not hold with some bench's numbers: no value, a range in which slips of the hand lie."""
        told: set[str] = set()
        for numbers in benches:
            try:
                value = self.worked_out(numbers)
                lines = self._doubts(value)
            except (ArithmeticError, ValueError) as error:
                lines = [str(error)]
            for line in lines:
                if line not in told and len(told) < 3:
                    told.add(line)
                    where = ", ".join(f"{word} {number:g}" for word, number in numbers.items())
                    yield f"{line} (at {where})"

    def _doubts(self, computed: float) -> list[str]:
        if self.question is None:
            return []
        (answer,) = self.question.answers
        assert isinstance(answer, ReadingAnswer)
        return self.question.reading_faults(answer, self.draw(computed))


def reading_id(table: ReadingTable) -> str:
    """Under which name a reading stands in a hand-in."""
    return f"read-{table.id}"
