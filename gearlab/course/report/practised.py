"""How a class practised the questions of a set: a table for the instructor, from what hand-ins say of it.

Only a set with ``attempts = "kept"`` asks for it. It comes from the student's own disk, which anybody can
edit: it is information for a talk, and no mark is ever worked out from it.
"""

import csv
from collections.abc import Mapping
from typing import Any, TextIO

from gearlab.course.gradebook import harmless
from gearlab.course.intake.handin import HandIn
from gearlab.practice.workbook.attempts import COUNTED, MOST_CAUSES

COLUMNS = ("id", "question", *COUNTED, "causes")
LARGEST = 10**6  # a count that is believed


def practice_rows(student: str, hand_in: HandIn, questions: tuple[str, ...]) -> list[list[str]]:
    """The rows of one student, a question of the set that they practised each.

    What is not as the workbook saves it is left out.
    """
    practice = hand_in.practice if isinstance(hand_in.practice, dict) else {}
    rows = []
    for question in questions:
        row = practice.get(question)
        if isinstance(row, Mapping):
            cells = [_count(row.get(name)) for name in COUNTED]
            rows.append([harmless(student), question, *cells, harmless(_causes(row.get("causes")))])
    return rows


class PracticeTable:
    """Written row by row.

    file: opened for writing with ``newline=""``.
    """

    def __init__(self, file: TextIO):
        self._rows = csv.writer(file, lineterminator="\n")
        self._rows.writerow(COLUMNS)

    def add(self, rows: list[list[str]]) -> None:
        """Write the rows of a student."""
        self._rows.writerows(rows)


def _count(value: Any) -> str:
    sound = isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= LARGEST
    return str(value) if sound else ""


def _causes(value: Any) -> str:
    named = value.items() if isinstance(value, dict) else ()
    words = [
        f"{name[:60]}: {_count(count)}" for name, count in named if isinstance(name, str) and _count(count)
    ]
    return ", ".join(words[:MOST_CAUSES])
