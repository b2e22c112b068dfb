"""Questions with many right answers: the student chooses numbers, conditions say whether they will do."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from html import escape

from gearlab.digits import number_text
from gearlab.practice.answer import Key
from gearlab.practice.contract import Contract, design_contract
from gearlab.practice.designs.check import check_design, proven
from gearlab.practice.designs.design import Design, Field
from gearlab.practice.draw import PRACTICE_KEY, Draw, Stream, message
from gearlab.practice.kinds.number import number_boxes, sheet_boxes
from gearlab.practice.question import Question
from gearlab.practice.solution import DIGITS, joined, way_in_words
from gearlab.practice.tables import QuestionTable
from gearlab.practice.typed.reading import Reading, cut, read_number, read_within
from gearlab.practice.typed.wording import naming
from gearlab.practice.verdict import Verdict
from gearlab.theory.units import written

__all__ = ["DesignQuestion"]


class DesignQuestion(Question):
    """A question whose answers are conditions on freely chosen numbers, all held in its `design`."""

    kind, judges_fields = "design", False
    own_fields = ("fields", "conditions", "design", "example", "bad_example")
    has_own = "a question of kind 'design' has them"

    def _answers(self) -> tuple:
        self.design = Design(self)
        return self.design.conditions

    def _fields(self) -> tuple[Field, ...]:
        return self.design.fields

    @classmethod
    def faults(cls, table: QuestionTable, shown: list[str]) -> list[str]:
        """What `check_design` finds."""
        return check_design(table, shown)

    def fair(
        self, values: dict[str, float], shown: tuple[float, ...], proven: bool
    ) -> tuple[float, ...] | None:
        """The example meets every condition."""
        return () if not proven or self.design.solvable(tuple(values.values()), shown) else None

    def judge_read(
        self, draw: Draw, read: dict[str, Reading], listed: bool, chosen: dict[str, int]
    ) -> dict[str, Verdict]:
        read = {
            name: reading.alternatives[1] if reading.alternatives and chosen.get(name) == 1 else reading
            for name, reading in read.items()
        }
        if all(reading.empty for reading in read.values()):
            return {
                condition.id: Verdict(
                    "not answered", False, 0.0, condition.points, sentence="Nothing was typed here."
                )
                for condition in self.answers
            }
        numbers = [field.number(read[field.id]) or 0.0 for field in self.fields]
        numbers += draw.shown
        return {condition.id: condition.verdict(draw, numbers, read) for condition in self.answers}

    def keys(self, draw: Draw) -> dict[str, Key]:
        """The rules of the conditions."""
        return self._keys

    @cached_property
    def _keys(self) -> dict[str, Key]:  # the same for everybody
        return {condition.id: Key(None, condition.rule, "", 0.0) for condition in self.answers}

    def typed(self, texts: Mapping[str, str | None], answer_id: str) -> str:
        """What stands in all fields: every condition is held against them."""
        pairs = ((field.id, cut(texts.get(field.id))) for field in self.fields)
        return ", ".join(f"{name} = {text}" for name, text in pairs if text.strip())

    def _solution(self, draw: Draw, form: str) -> str:
        """The bank's own choice, what follows from it, and each condition held against it."""
        design = self.design
        chosen = design.example(tuple(draw.values.values()))
        numbers = [*chosen, *draw.shown]
        values = dict(zip(design.names, numbers))
        texts = [
            (field.label, f"{number_text(number, DIGITS)}{' ' + written(field.unit) if field.unit else ''}")
            for field, number in zip(design.fields, chosen)
        ]
        parts = []
        ways = [design.derived(word) for word in self._words()]
        for derived, worked in zip(ways, self.worked(ways, form)):
            inputs = derived.numbers(values)
            parts.append(worked.filled(inputs, worked.value(inputs)))
        told = []
        for condition in design.conditions:
            outcome = condition.held(numbers)
            assert outcome is not None  # the bank's own choice meets every condition
            told.append((condition.label, condition.told(draw, outcome)))
        opening = "One choice that will do; others are right too."
        if form == "html":
            rows = "".join(
                f"<li>{escape(label)}: <strong>{escape(text)}</strong></li>" for label, text in texts
            )
            held = "".join(
                f"<li><strong>{escape(label)}</strong>: met. {escape(sentence)}</li>"
                for label, sentence in told
            )
            return (
                f'<div class="worked"><p>{opening}</p><ul>{rows}</ul>{"".join(parts)}<h4>Every'
                f" condition</h4><ul>{held}</ul></div>"
            )
        bold = "**" if form == "markdown" else ""
        first = "\n".join([opening, "", *(f"- {label}: {bold}{text}{bold}" for label, text in texts)])
        last = "\n".join(f"- {bold}{label}{bold}: met. {sentence}".rstrip() for label, sentence in told)
        return joined([first, *parts, last], form)

    def _words(self) -> list[str]:
        """The quantities that conditions have derived, each once."""
        return list(dict.fromkeys(word for condition in self.answers for word in condition.words))

    def method(self, form: str = "text") -> str:
        """The ways to the quantities that conditions name."""
        ways = [way_in_words(self.design.derived(word)) for word in self._words()]
        return joined([f"<p>{escape(way)}</p>" if form == "html" else way for way in ways], form)

    @cached_property
    def contracts(self) -> dict[str, Contract]:
        return {"": design_contract()}

    def form(self, draw: Draw) -> list[dict]:
        return number_boxes((field.id, field.label, field.unit) for field in self.fields)

    def sheet(self, draw: Draw) -> dict:
        """With the range of each field."""
        sheet = super().sheet(draw)
        for answer, field in zip(sheet["answers"], self.fields):
            answer |= {"from": field.low, "to": field.high, "whole": field.whole}
        return sheet

    @classmethod
    def sheet_form(cls, sheet: dict) -> list[dict]:
        return sheet_boxes(sheet)

    @classmethod
    def read_on_sheet(cls, answer: dict, text: str) -> Reading | None:
        low, high = answer.get("from"), answer.get("to")
        names = naming(answer["id"], answer.get("label") or "")
        if isinstance(low, (int, float)) and isinstance(high, (int, float)):
            whole = answer.get("whole") is True
            return read_within(text, answer.get("unit", ""), low, high, whole, names)
        return read_number(text, answer.get("unit", ""), names)

    def check(self, draws: int) -> list[str]:
        """The example and the conditions first: without them no draw is fair."""
        raw = [
            self.attempt(Stream(PRACTICE_KEY, message("check", self.id, number)), number, 1, proven=False)
            for number in range(8 * draws)
        ]
        fair = [draw for draw in raw if draw is not None][:draws]
        if not fair:
            return [f"where: none of {8 * draws} draws meets it; make the ranges fit the conditions"]
        return proven(self, fair) or super().check(draws)
