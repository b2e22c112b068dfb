"""What is written of each student as it comes: gradebooks, evidence, and how a class practised.

The evidence is one record for each answer. Only a set with ``attempts = "kept"`` asks for the table of
practice: it comes from the disks of the students, which anybody can edit. So it is information for a talk,
and no mark is ever worked out from it.
"""

from collections.abc import Iterable, Mapping
from contextlib import ExitStack
from importlib.metadata import version
from pathlib import Path
from typing import Any, BinaryIO

from pydantic_core import to_json

from gearlab.course.decisions.marks import Settled, Told
from gearlab.course.gradebook import COLUMNS, csv_line, gradebook_files, harmless
from gearlab.course.handout.edition import shown_givens
from gearlab.course.marks import Gist, MarkedTask
from gearlab.course.shelf import Remembered
from gearlab.practice import HomeworkSet, Question
from gearlab.practice.answer import Key
from gearlab.practice.handin import HandIn
from gearlab.practice.workbook.attempts import COUNTED, MOST_CAUSES

MADE_KEPT = 1000  # pieces of records that are remembered: 1 MB
PRACTICE = "practice.csv"  # written for a set that keeps attempts
PRACTISED = ("id", "question", *COUNTED, "causes")
LARGEST = 10**6  # a count that is believed


class Records:
    """Makes the records of students, each as it stands in the file.

    Of a record only the student, what was typed and what was read of it are written anew each time: the rest
    is the same for all who have the same numbers, or the same verdict.
    """

    def __init__(self) -> None:
        self._heads: dict[str, list[bytes]] = {}
        self._numbers: Remembered[list[bytes]] = Remembered(MADE_KEPT)
        self._outcomes: Remembered[bytes] = Remembered(MADE_KEPT)

    def of(self, student: str, marked: list[MarkedTask]) -> list[bytes]:
        """The records of one student's answers, and of what was decided about them."""
        who = b'{"student":' + to_json(student)
        lines = []
        for task in marked:
            question, texts = task.entry.question, task.texts
            heads, gists = self._heads.get(question.id) or self._heads_of(question), task.gists
            for answer, head, numbers in zip(question.answers, heads, self._of_numbers(task)):
                gist = gists[answer.id]
                typed = to_json(question.typed(texts, answer.id))
                read = to_json(task.verdicts[answer.id].read.removeprefix("read as "))
                outcome = self._outcomes.get((gist,)) or self._of_verdict(gist)
                more = self._more(task, answer.id) if task.told or "reason" in texts else b""
                lines.append(
                    b'%s%s%s,"typed":%s,"read":%s,%s%s}' % (who, head, numbers, typed, read, outcome, more)
                )
            if task.told:
                lines += [self._decided(to_json(student), told) for told in task.told_of()]
        return lines

    @staticmethod
    def _more(task: MarkedTask, identity: str) -> bytes:
        """What few records have: what was decided about the answer, and the student's own reason."""
        more: dict[str, Any] = {}
        if decided := [_told(told) for told in task.told_of(identity)]:
            more["decided"] = decided
        if "reason" in task.texts:
            more["reason"] = task.texts["reason"]
        return b"," + to_json(more)[1:-1] if more else b""

    def _of_numbers(self, task: MarkedTask) -> list[bytes]:
        """What the records of a question tell of the numbers drawn, answer by answer."""
        question, draw = task.entry.question, task.draw
        # the numbers of an expression question are shown nowhere
        same = (question.id, *(() if question.same_for_all else draw.texts.values()), draw.order)
        lines = self._numbers.get(same)
        if lines is None:
            givens = shown_givens(task)
            lines = self._numbers[same] = [
                to_json({"givens": givens, "key": value, "tolerance": tolerance})[1:-1]
                for value, tolerance in self._keys(task.keys)
            ]
        return lines

    def _of_verdict(self, gist: Gist) -> bytes:
        """What a record tells of a verdict."""
        verdict, scale = gist.verdict, gist.scale
        record = {
            "verdict": verdict.kind,
            "causes": [cause.name for cause in verdict.causes],
            "carried": verdict.carried,
            "note": verdict.note,
            "points": round(verdict.points * scale, 6),
            "out_of": round(verdict.out_of * scale, 6),
        }
        outcome = self._outcomes[gist,] = to_json(record)[1:-1]
        return outcome

    def settled(self, student: str, settled: Settled, marked: bool) -> list[bytes]:
        """The records of what was decided about a student's mark in all.

        marked: whether there are records of answers, which tell what could be reached.
        """
        most = None if marked or settled.points is None else settled.out_of
        who = to_json(student)
        return [self._decided(who, told, most if not n else None) for n, told in enumerate(settled.told)]

    @staticmethod
    def _decided(who: bytes, told: Told, out_of: float | None = None) -> bytes:
        """A record of a decision; its points are those that no answer has."""
        record = {"question": told.question, "decision": _told(told), "points": round(told.change, 6)}
        if out_of is not None:
            record["out_of"] = out_of
        return b'{"student":' + who + b"," + to_json(record)[1:]

    def _heads_of(self, question: Question) -> list[bytes]:
        """What is the same in everybody's records of a question, answer by answer."""
        heads = [
            {
                "question": question.id,
                "version": question.version,
                "answer": answer.id,
                "asked": answer.label,
                "unit": answer.unit,
            }
            for answer in question.answers
        ]
        self._heads[question.id] = [b"," + to_json(head)[1:-1] + b"," for head in heads]
        return self._heads[question.id]

    @staticmethod
    def _keys(keys: dict[str, Key]) -> list[tuple[float | str, float | None]]:
        """Key and tolerance of each answer.

        A number, the letters of a choice, a formula, or the condition of a design.
        """
        return [
            (key.text, None) if key.value is None else (round(key.value, 8), key.tolerance)
            for key in keys.values()
        ]


def practice_lines(student: str, hand_in: HandIn, questions: Iterable[str]) -> str:
    """The lines of one student in the table of practice, a question of the set that they practised each.

    What is not as the workbook saves it is left out.
    """
    practice = hand_in.practice if isinstance(hand_in.practice, dict) else {}
    lines = []
    for question in questions:
        row = practice.get(question)
        if isinstance(row, Mapping):
            counts = [_count(row.get(name)) for name in COUNTED]
            lines.append(
                csv_line([harmless(student), question, *counts, harmless(_causes(row.get("causes")))])
            )
    return "".join(lines)


def _count(value: Any) -> str:
    sound = isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= LARGEST
    return str(value) if sound else ""


def _causes(value: Any) -> str:
    named = value.items() if isinstance(value, dict) else ()
    words = [
        f"{name[:60]}: {_count(count)}" for name, count in named if isinstance(name, str) and _count(count)
    ]
    return ", ".join(words[:MOST_CAUSES])


class Books:
    """The files of a marking that are written row by row, inside `with`.

    fresh: their folder.
    sections: those that get a gradebook of their own.
    """

    def __init__(self, fresh: Path, homework: HomeworkSet, edition: str, sections: tuple[str, ...]):
        if sections:
            (fresh / "gradebooks").mkdir()
        with ExitStack() as opened:

            def begun(place: str, head: str) -> BinaryIO:
                file = opened.enter_context(open(fresh / place, "wb"))
                file.write(head.encode())
                return file

            places = gradebook_files(sections)
            self._books = {name: begun(place, csv_line(COLUMNS)) for name, place in places.items()}
            self._practice = begun(PRACTICE, csv_line(PRACTISED)) if homework.attempts else None
            self._evidence = begun("evidence.json", "")
            self._open = opened.pop_all()
        head = {"set": homework.name, "edition": edition, "library": version("gearlab")}
        self._evidence.write(to_json(head)[:-1] + b',"records":[')
        self._between = b"\n"

    def __enter__(self) -> "Books":
        return self

    def __exit__(self, *_) -> None:
        self._open.close()

    def add(self, section: str, line: str, evidence: bytes, practised: str) -> None:
        """Write what there is of one student: line of the gradebook, records, lines of practice."""
        for name in {"", section} & self._books.keys():
            self._books[name].write(line.encode())
        if evidence:
            self._evidence.write(self._between + evidence)
            self._between = b",\n"
        if self._practice:
            self._practice.write(practised.encode())

    def close(self, students: int, points: float) -> None:
        """Write the totals, which the records add up to.

        students: how many hand-ins were marked [-].
        """
        totals = to_json({"students": students, "points": round(points, 6)})
        self._evidence.write(b'\n],"totals":' + totals + b"}\n")


def _told(told: Told) -> dict:
    """A decision as plain data."""
    data = {"kind": told.kind, "words": told.words, "by": told.by, "why": told.why}
    return data | ({"when": told.when} if told.when else {})
