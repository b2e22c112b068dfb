"""The evidence behind every mark: one record for each answer, written as it comes."""

from typing import Any, BinaryIO

from pydantic_core import to_json

from gearlab.course.decisions.marks import Told
from gearlab.course.decisions.totals import Settled
from gearlab.course.handout.sheet import shown_givens
from gearlab.course.marks import Gist, MarkedTask
from gearlab.course.shelf import Remembered
from gearlab.practice import Question
from gearlab.practice.answer import Key

MADE_KEPT = 1000  # pieces of records that are remembered: 1 MB


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


class Evidence:
    """Writes records into one JSON file, in the order in which they come.

    file: opened for writing.
    head: what holds for all records: the set, its edition, the version of gearlab.
    """

    def __init__(self, file: BinaryIO, head: dict):
        self._file = file
        self._between = b"\n"
        file.write(to_json(head)[:-1] + b',"records":[')

    def add(self, records: bytes) -> None:
        """Write records, with commas between them; none is nothing."""
        if records:
            self._file.write(self._between + records)
            self._between = b",\n"

    def close(self, students: int, points: float) -> None:
        """Write the totals, which the records add up to.

        students: how many hand-ins were marked [-].
        """
        self._file.write(
            b'\n],"totals":' + to_json({"students": students, "points": round(points, 6)}) + b"}\n"
        )


def _told(told: Told) -> dict:
    """A decision as plain data."""
    data = {"kind": told.kind, "words": told.words, "by": told.by, "why": told.why}
    return data | ({"when": told.when} if told.when else {})
