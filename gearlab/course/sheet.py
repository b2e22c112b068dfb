"""One student's sheet: the questions of a set with this student's own numbers."""

import re
from dataclasses import dataclass

from gearlab.course.coursekey import CourseKey
from gearlab.course.edition import Edition
from gearlab.course.files import file_name
from gearlab.course.roster import Student
from gearlab.practice import Draw, SetEntry


@dataclass(frozen=True, slots=True)
class Task:
    """One question of a sheet, drawn for one student.

    Parameters
    ----------
    entry : gearlab.practice.SetEntry
        The question and what it is worth in this set [-].
    draw : gearlab.practice.Draw
        The numbers of this student [-].
    """

    entry: SetEntry
    draw: Draw


class SheetMaker:
    """Draws the sheets of one edition of a set.

    Parameters
    ----------
    edition : Edition
        The edition that is handed out [-].
    key : CourseKey
        The key of the course [-].
    """

    def __init__(self, edition: Edition, key: CourseKey):
        self.set = edition.load()
        self.digest = edition.digest
        self._key = key

    def packet(self, student: str) -> str:
        """The code of a student's sheet.

        Parameters
        ----------
        student : str
            Id of the student [-].

        Returns
        -------
        str
            The code [-].
        """
        return self._key.packet_code(self.set.name, self.digest, student)

    def tasks(self, student: str) -> list[Task]:
        """The questions with a student's numbers: the same whenever they are drawn.

        Parameters
        ----------
        student : str
            Id of the student [-].

        Returns
        -------
        list of Task
            In the order of the set [-].

        Raises
        ------
        ValueError
            If a question has no fair numbers for this student.
        """
        secret, name = self._key.secret, self.set.name
        try:
            return [
                Task(entry, entry.question.draw(key=secret, set=name, student=student))
                for entry in self.set.entries
            ]
        except ValueError as error:
            # the edition was loaded from a passing folder
            reason = re.sub(r"\S*gearlab-edition-[^/\\]*[/\\]", "", str(error))
            raise ValueError(f"set {name!r}, student {student!r}: {reason}") from None

    def sheet(self, student: Student, tasks: list[Task]) -> dict:
        """What the student's notebook knows: questions and numbers, no key, no tolerance, no slips.

        Parameters
        ----------
        student : Student
            The student [-].
        tasks : list of Task
            Their questions [-].

        Returns
        -------
        dict
            Plain data, ready for JSON [-].
        """
        return {
            "gearlab": "hand-out",
            "edition": 1,
            "set": self.set.name,
            "title": self.set.title,
            "student": student.id,
            "packet": self.packet(student.id),
            "file": f"HAND-IN_{self.set.name}_{file_name(student.id)}.json",
            "questions": [self._question(task) for task in tasks],
        }

    @staticmethod
    def _question(task: Task) -> dict:
        question, draw = task.entry.question, task.draw
        sheet = {
            "id": question.id,
            "version": question.version,
            "kind": question.kind,
            "title": question.title,
            "prompt": draw.prompt,
            "points": task.entry.points,
            "givens": {given.name: given.text for given in draw.givens},
            "answers": [
                {
                    "id": answer.id,
                    "label": answer.label,
                    "unit": answer.unit,
                    "asked": answer.asked,
                    "symbols": [symbol for symbol, *_ in answer.symbols],
                }
                for answer in question.fields
            ],
        }
        if question.kind == "design":
            for answer, field in zip(sheet["answers"], question.fields):
                answer |= {"from": field.low, "to": field.high, "whole": field.whole}
        if question.kind == "choice":
            sheet["options"] = [text for _, text in draw.options]
            sheet["several"] = question.answers[0].several
            sheet["reason"] = REASON
        return sheet


def shown_givens(task: Task) -> dict[str, str]:
    """The givens as they stand on the sheet; an expression question shows symbols, no numbers.

    Parameters
    ----------
    task : Task
        A question drawn for a student [-].

    Returns
    -------
    dict
        Name to text [-].
    """
    question = task.entry.question
    return (
        {}
        if question.kind == "expression"
        else {name: task.draw.texts[name] for name in question.shown_names}
    )


# A choice alone can be guessed or computed; the reason is for the instructor to read.
REASON = "why? (one or two sentences)"
