"""One student's sheet: the questions of a set with this student's own numbers."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gearlab.course.coursekey import CourseKey
from gearlab.course.files import file_name
from gearlab.course.handout.edition import Edition
from gearlab.course.roster import Student
from gearlab.practice import Draw, SetEntry
from gearlab.practice.handin import EDITION, HAND_OUT
from gearlab.practice.handin import file_name as hand_in_name

if TYPE_CHECKING:
    from gearlab.course.marks import MarkedTask


@dataclass(frozen=True, slots=True)
class Task:
    """One question of a sheet, drawn for one student.

    entry: the question and what it is worth in this set.
    """

    entry: SetEntry
    draw: Draw


class SheetMaker:
    """Draws the sheets of one edition of a set.

    edition: the edition that is handed out.
    """

    def __init__(self, edition: Edition, key: CourseKey):
        self.set = edition.load()
        self.digest = edition.digest
        self._key = key

    def packet(self, student: str) -> str:
        """The code of a student's sheet."""
        return self._key.packet_code(self.set.name, self.digest, student)

    def tasks(self, student: str) -> list[Task]:
        """The questions with a student's numbers: the same whenever they are drawn.

        They come in the order of the set.
        ValueError if a question has no fair numbers for this student.
        """
        return [Task(entry, self.draws(entry, [student])[0]) for entry in self.set.entries]

    def draws(self, entry: SetEntry, students: Iterable[str]) -> list[Draw]:
        """The numbers of one question for several students.

        ValueError if it has no fair numbers for one of them.
        """
        draw, secret, name = entry.question.draw, self._key.secret, self.set.name
        drawn = []
        for student in students:
            try:
                drawn.append(draw(key=secret, set=name, student=student))
            except ValueError as error:
                # the edition was loaded from a passing folder
                reason = re.sub(r"\S*gearlab-edition-[^/\\]*[/\\]", "", str(error))
                raise ValueError(f"set {name!r}, student {student!r}: {reason}") from None
        return drawn

    def sheet(self, student: Student, tasks: list[Task]) -> dict:
        """What the student's notebook knows: questions and numbers, no key, no tolerance, no slips.

        Returns plain data, ready for JSON.
        """
        return {
            "gearlab": HAND_OUT,
            "edition": EDITION,
            "set": self.set.name,
            "title": self.set.title,
            "student": student.id,
            "packet": self.packet(student.id),
            "file": hand_in_name(self.set.name, file_name(student.id)),
            "questions": [self._question(task) for task in tasks],
            **({"attempts": "kept"} if self.set.attempts else {}),
        }

    @staticmethod
    def _question(task: Task) -> dict:
        question, draw = task.entry.question, task.draw
        return {
            "id": question.id,
            "version": question.version,
            "kind": question.kind,
            "title": question.title,
            "prompt": draw.prompt,
            "points": task.entry.points,
            "givens": {given.name: given.text for given in draw.givens},
            **question.sheet(draw),
            "contracts": {name: contract.to_json() for name, contract in question.contracts.items()},
        }


def shown_givens(task: Task | MarkedTask) -> dict[str, str]:
    """The givens as they stand on the sheet; an expression question shows symbols, no numbers."""
    texts, shown = task.draw.texts, task.entry.question.shown_names
    if len(texts) == len(shown):  # nothing is hidden, in most questions
        return texts
    return {name: texts[name] for name in shown}
