"""A month of a student, driven through the real functions: questions drawn, answers judged, tries recorded.

Nothing here knows the schedule: a student opens the course page's data each day and does what it says.
"""

from __future__ import annotations

from datetime import UTC, date, timedelta
from pathlib import Path

from gearlab.contents import lesson_bank
from gearlab.practice import load_bank
from gearlab.practice.workbook.attempts import attempts, record
from gearlab.practice.workbook.lessons import lessons
from gearlab.practice.workbook.progress import Answers
from gearlab.practice.workbook.standing import Standing, standing

FIRST = date(2026, 11, 2)


class Student:
    """A folder of answers and what is done in it; each draw is answered wrongly ``slips`` times first."""

    def __init__(self, folder: Path, slips: int = 0):
        self.folder, self.slips, self.today, self.clock = folder, slips, FIRST, 0
        self.banks, self.draws = {}, {}

    def page(self) -> Standing:
        return standing(Answers(self.folder).all(), attempts(self.folder), self.today, UTC)

    def wait(self, days: int = 1) -> None:
        self.today, self.clock = self.today + timedelta(days=days), 0

    def _record(self, **fields) -> None:
        self.clock += 1
        hour, minute = divmod(self.clock // 60, 60)
        at = f"{self.today.isoformat()}T{8 + hour:02d}:{minute:02d}:{self.clock % 60:02d}Z"
        record(self.folder, at=at, **fields)

    def answer(self, bank: str, name: str) -> None:
        """Answer a question with new numbers, after so many slips; what is right or wrong is judged."""
        if bank not in self.banks:
            self.banks[bank] = load_bank(lesson_bank(bank))
        question = self.banks[bank][name]
        number = self.draws[bank, name] = self.draws.get((bank, name), -1) + 1
        draw = question.draw(seed="month", number=number)
        right = {field.id: self._right(question, draw, field) for field in question.fields}
        for attempt in range(1, self.slips + 2):
            texts = right if attempt > self.slips else {key: self._wrong(text) for key, text in right.items()}
            read = question.readings(texts)
            for identity, verdict in question.judge(draw, texts, read=read).items():
                self._record(
                    event="answer",
                    bank=bank,
                    question=name,
                    version=question.version,
                    draw=number,
                    answer=identity,
                    typed=texts.get(identity, ""),
                    verdict=verdict.kind,
                    share=verdict.points / verdict.out_of if verdict.out_of else 0.0,
                    hints=0,
                    solution=False,
                    **{"try": attempt},
                )

    @staticmethod
    def _right(question, draw, field) -> str:
        key = question.keys(draw)[field.id]
        return f"{key.value!r} {field.unit or ''}".strip() if key.value is not None else key.text

    @staticmethod
    def _wrong(text: str) -> str:
        number = text.split(" ")[0]
        return text.replace(number, repr(float(number) * 1.7 + 3), 1)

    def lesson(self, number: int) -> None:
        """Predict, answer the number questions that stand in it, and read to the end."""
        one = lessons()[number]
        self._record(event="predicted", bank=one.name, question="surprise", typed="so")
        for bank, name in self.numbers(number):
            self.answer(bank, name)
        self._record(event="read", lesson=one.name)

    @staticmethod
    def numbers(number: int) -> list[tuple[str, str]]:
        """The questions of a lesson that ask for numbers alone."""
        one = lessons()[number]
        kinds = {question.name: question.kind for question in one.questions}
        return [(bank, name) for bank, name in one.asked if kinds.get(f"{bank}/{name}") == "number"]

    def review(self) -> list[str]:
        """Answer everything that is due; returns what that was."""
        asked = [one.question for one in self.page().due]
        for question in asked:
            self.answer(question.lesson, question.id)
        return [question.name for question in asked]
