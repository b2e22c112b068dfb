"""Questions whose answers are numbers, which may go on from one another."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property

from gearlab.practice.answer import Answer, Key
from gearlab.practice.checks.answers import check_answers, check_modulo
from gearlab.practice.checks.carries import check_carry
from gearlab.practice.checks.keys import check_key, check_slips
from gearlab.practice.checks.precisions import check_precision, check_wording
from gearlab.practice.contract import Contract, number_contract
from gearlab.practice.draw import Draw
from gearlab.practice.formulas.expression import compile_formula
from gearlab.practice.judging import judge_numbers
from gearlab.practice.kinds.ownanswer import FormulaAnswer, check_formula
from gearlab.practice.precision import apart
from gearlab.practice.question import Question
from gearlab.practice.solution import joined
from gearlab.practice.tables import AnswerTable, QuestionTable
from gearlab.practice.typed.reading import Reading, read_number
from gearlab.practice.typed.wording import Naming, naming

__all__ = ["NumberQuestion", "number_boxes", "sheet_boxes"]

_TOO_NEAR = 3.0  # tolerances a listed wrong answer must stay away from the right one


class NumberAnswer(Answer):
    """One number asked for."""

    kind = "number"

    @cached_property
    def naming(self) -> Naming:
        """What the number may be called."""
        return naming(self.table.asked or self.id, self.label, self.question.table.prompt)

    def read(self, text: str) -> Reading:
        return read_number(text, self.shown_unit, self.naming)


class OwnNumberAnswer(FormulaAnswer, NumberAnswer):
    """One number asked for by a formula of the bank's own."""


class NumberQuestion(Question):
    """A question whose answers are numbers."""

    kind, numbers = "number", True

    def _answers(self) -> tuple[NumberAnswer, ...]:
        answers = tuple(self._answer(table) for table in self.table.answers)
        self._modular, self._no_periods = any(answer.modular for answer in answers), (0.0,) * len(answers)
        return answers

    def _answer(self, table: AnswerTable) -> NumberAnswer:
        return (OwnNumberAnswer if table.formula else NumberAnswer)(self, table)

    @classmethod
    def faults(cls, table: QuestionTable, shown: list[str]) -> list[str]:
        """Answers have quantities, units and slips that fit."""
        return check_answers(table, shown, _answer_faults)

    # -- drawing --
    @cached_property
    def _listed(self) -> list[tuple]:
        """(answer's place, formula, conditions) of every listed slip."""
        names = self.shown_names
        return [
            (
                place,
                compile_formula(slip.formula, names),
                [compile_formula(text, names) for text in slip.where],
            )
            for place, answer in enumerate(self.answers)
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

    def fair(
        self, values: dict[str, float], shown: tuple[float, ...], proven: bool
    ) -> tuple[float, ...] | None:
        """The right numbers, where neither a given copied nor a listed slip is right."""
        keys: list[float] = []
        for answer in self.answers:
            keys.append(answer.key(shown, keys))
        near = [answer.tolerance(key) for answer, key in zip(self.answers, keys)]
        periods = [answer.period(shown) for answer in self.answers] if self._modular else self._no_periods
        for place, name in self._copied:
            if apart(values[name], keys[place], periods[place]) <= near[place]:
                return None  # a number copied from the question would be right
        for place, formula, conditions in self._listed:
            if apart(formula(*shown), keys[place], periods[place]) <= _TOO_NEAR * near[place] and all(
                condition(*shown) for condition in conditions
            ):
                return None
        return tuple(keys)

    # -- judging --
    judge_read = judge_numbers

    def keys(self, draw: Draw) -> dict[str, Key]:
        return {
            answer.id: Key(value, "", answer.unit, answer.tolerance(value))
            for answer, value in zip(self.answers, draw.keys)
        }

    def times_key(self, draw: Draw, answer_id: str, reading: Reading) -> float | None:
        answer = self.answer(answer_id)
        key = draw.keys[answer.place]
        foreign_unit = reading.unit and reading.unit != answer.unit
        if reading.value is None or not key or answer.modular or foreign_unit:
            return None
        return reading.value / key

    # -- on a page --
    def sheet(self, draw: Draw) -> dict:
        sheet = super().sheet(draw)
        for entry, answer in zip(sheet["answers"], self.answers, strict=True):
            entry["asked"] = answer.table.asked or answer.id
        return sheet

    def _solution(self, draw: Draw, form: str) -> str:
        parts = [
            worked.filled(answer.numbers(draw.shown, draw.keys), key, answer.period(draw.shown))
            for worked, answer, key in zip(self.worked(self.answers, form), self.answers, draw.keys)
        ]
        return joined(parts, form)

    @cached_property
    def contracts(self) -> dict[str, Contract]:
        return {answer.id: number_contract(answer) for answer in self.answers}

    def form(self, draw: Draw) -> list[dict]:
        return number_boxes((answer.id, answer.label, answer.unit) for answer in self.answers)

    @classmethod
    def sheet_form(cls, sheet: dict) -> list[dict]:
        return sheet_boxes(sheet)

    @classmethod
    def read_on_sheet(cls, answer: dict, text: str) -> Reading | None:
        names = naming(answer.get("asked") or answer["id"], answer.get("label") or "", answer.get("prompt"))
        return read_number(text, answer.get("unit", ""), names)

    # -- checking --
    def check_draws(self, drawn: list[Draw]) -> list[str]:
        """Every key by a second way, typed and judged; every listed slip."""
        problems = check_wording(self)
        for place, answer in enumerate(self.answers):
            if answer.modular and not all(
                6 * answer.absolute <= answer.period(draw.shown) < 1e15 for draw in drawn
            ):
                problems.append(
                    f"answers.{answer.id}: modulo: the formula must give a positive number, at least six"
                    " tolerances, for every draw"
                )
                continue
            if isinstance(answer, FormulaAnswer) and (faults := check_formula(self, answer, place, drawn)):
                problems += [f"answers.{answer.id}: {line}" for line in faults]
                continue
            told = [
                *check_key(self, answer, place, drawn),
                *check_precision(self, answer, place, drawn),
                *check_carry(self, answer, place, drawn),
            ]
            problems += [f"answers.{answer.id}: {line}" for line in told]
            problems += [
                f"answers.{answer.id}: slips.{name}: {problem}"
                for name, problem in check_slips(self, answer, drawn)
            ]
        return problems


def number_boxes(fields: Iterable[tuple[str, str, str]]) -> list[dict]:
    """Boxes for numbers, from id, label and unit."""
    return [
        {"id": identity, "kind": "number", "label": label, "unit": unit} for identity, label, unit in fields
    ]


def sheet_boxes(sheet: dict) -> list[dict]:
    """Boxes for numbers, from a question as it stands on a sheet."""
    return number_boxes(
        (answer["id"], answer.get("label") or answer["id"], answer.get("unit", ""))
        for answer in sheet["answers"]
    )


def _answer_faults(
    answer: AnswerTable, table: QuestionTable, shown: list[str]
) -> tuple[list[str], list[str]]:
    """Problems of one answer, and the names that its slips may use."""
    problems = []
    if answer.symbols:
        problems.append("symbols: belong to expression questions only, this one is of kind 'number'")
    if answer.modulo is not None:
        problems += check_modulo(answer, answer.modulo, shown)
    return problems, shown
