"""Students marked in any process: plain data go in, plain data come out.

A block of students is marked by the recipe of its set. What comes of a student is a row that can be written
as it is, in the order of the class list; counts are added up afterwards. So one process, all cores and a
cluster give the same bytes.
"""

from __future__ import annotations

import hashlib
import pickle
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path

from gearlab.contents import PACKAGE
from gearlab.course.coursekey import CourseKey
from gearlab.course.decisions.marks import out_of, shares
from gearlab.course.decisions.reasonmarks import ReasonMarks
from gearlab.course.decisions.tables import Decisions
from gearlab.course.files import file_name
from gearlab.course.handout.edition import Edition
from gearlab.course.handout.sheet import SheetMaker
from gearlab.course.intake.handin import HandIn
from gearlab.course.marking.evidence import Records
from gearlab.course.marking.feedback import FeedbackPages
from gearlab.course.marking.reasons import texts_to_mark
from gearlab.course.marks import MarkedTask, Marker, comment
from gearlab.course.report.pairs import Traces
from gearlab.course.report.practised import practice_rows
from gearlab.course.report.tally import SectionTallies
from gearlab.course.roster import Student

BLOCK = 50  # students marked together
ALTERED = "The file was changed outside the workbook. It was marked with the numbers of your own sheet."


@dataclass(frozen=True)
class Recipe:
    """What a process needs to mark the students of a set, the same for all of them.

    sections: those that are counted apart.
    pages: folder into which the pages are written; "" where they come back in the rows.
    """

    edition: Edition
    key: CourseKey
    decisions: Decisions
    reasons: ReasonMarks | None
    sections: tuple[str, ...]
    pages: str = ""

    @property
    def digest(self) -> str:
        """What makes marks: equal for recipes, and versions of gearlab, that give the same rows."""
        told = hashlib.sha256()
        for part in (
            self.edition.digest,
            self.key.secret.hex(),
            repr(self.decisions),
            repr(self.reasons),
            repr(self.sections),
            *(f"{path} {path.stat().st_mtime_ns}" for path in sorted(PACKAGE.rglob("*.py"))),
        ):
            told.update(part.encode("utf-8", "surrogatepass") + b"\0")
        return told.hexdigest()


@dataclass(frozen=True, slots=True)
class Came:
    """What came of one student.

    number: place in the class list, from 0.
    packet: the code of the sheet it is marked by.
    hand_in: the one that counts; None if there is none.
    remarks: for the student's page.
    sheet: id of the student with whose numbers it is marked by a decision; "" where nobody decided it.
    """

    number: int
    student: Student
    packet: str
    hand_in: HandIn | None
    remarks: tuple[str, ...]
    sheet: str = ""

    def told(self) -> str:
        """All of it as text, the same whenever the same came."""
        typed = self.hand_in
        came = None if typed is None else [(name, getattr(typed, name)) for name in type(typed).model_fields]
        return repr((self.number, self.student, self.packet, came, self.remarks, self.sheet))


@dataclass(slots=True)
class Row:
    """What is written of one student.

    points: None for no mark.
    marked: whether a hand-in was.
    changed: givens in the file that are not those of the sheet.
    evidence: records for the evidence, with commas between.
    practised: cells of the table of practice.
    texts: what people are to mark, as `texts_to_mark` gives it.
    paged: whether there is a feedback page.
    page: the page; None where it is written already.
    """

    points: float | None
    out_of: float
    comment: str
    marked: bool
    changed: list[str] = field(default_factory=list)
    evidence: bytes = b""
    practised: list[list[str]] = field(default_factory=list)
    texts: list[dict[str, str]] = field(default_factory=list)
    paged: bool = False
    page: bytes | None = None


@dataclass(slots=True)
class Done:
    """What came of a block."""

    rows: list[Row]
    tallies: SectionTallies
    traces: Traces


class Workshop:
    """One process's tools for a recipe: questions compiled, templates filled."""

    def __init__(self, recipe: Recipe):
        self.recipe = recipe
        self.maker = SheetMaker(recipe.edition, recipe.key)
        self.set = self.maker.set
        self.out_of = out_of(self.set, shares(self.set, recipe.decisions, ""))
        self._marker = Marker(self.maker, recipe.decisions, recipe.reasons)
        self._pages = FeedbackPages(self.set)
        self._records = Records()
        self._questions = tuple(entry.question.id for entry in self.set)

    def worth(self, student: str, hand_in: HandIn) -> float:
        """Points that a hand-in would get [-]."""
        return sum(task.points for task in self._marker.mark(student, hand_in))

    def counts(self) -> SectionTallies:
        """Counts of nobody yet."""
        return SectionTallies(self.set, self.recipe.sections, self.out_of)

    def mark(self, block: Iterable[Came]) -> Done:
        """Mark a block."""
        done = Done([], self.counts(), Traces(self.set))
        for came in block:
            done.rows.append(self._row(came, done))
        return done

    def _row(self, came: Came, done: Done) -> Row:
        student, hand_in, remarks = came.student, came.hand_in, list(came.remarks)
        marked = None if hand_in is None else self._marker.mark(student.id, hand_in, came.sheet)
        settled = self._marker.settle(student.id, marked)
        row = Row(settled.points, settled.out_of, "", marked is not None)
        if marked is None or hand_in is None:
            told = remarks[0] if remarks else "nothing handed in"
            if settled.points is not None or not settled.told:
                remarks = remarks or ["Nothing was handed in."]
        else:
            told = comment(marked)
            remarks += self._count(came, hand_in, marked, settled.points or 0.0, row, done)
        row.comment = "; ".join(filter(None, (settled.comment, told)))
        lines = self._records.of(student.id, marked or []) + self._records.settled(
            student.id, settled, marked is not None
        )
        row.evidence = b",\n".join(lines)
        if marked is not None or settled.told:
            page = self._pages.page(student, came.packet, marked or [], remarks, settled).encode("utf-8")
            row.paged = True
            if self.recipe.pages:
                Path(self.recipe.pages, page_name(student.id)).write_bytes(page)
            else:
                row.page = page
        return row

    def _count(
        self,
        came: Came,
        hand_in: HandIn,
        marked: list[MarkedTask],
        points: float,
        row: Row,
        done: Done,
    ) -> list[str]:
        """Add a student to the counts; remarks on a file that is not as it was handed out."""
        practice = hand_in.practice if self.set.attempts else None
        done.tallies.add(came.student, marked, points, practice)
        done.traces.add(came.number, marked)
        if self.set.attempts:
            row.practised = practice_rows(came.student.id, hand_in, self._questions)
        if self.recipe.reasons is not None:
            row.texts = texts_to_mark(self.recipe.reasons.codes, came.student.id, marked)
        row.changed = Marker.changed_givens(hand_in, marked)
        return [ALTERED] if not came.sheet and (row.changed or hand_in.packet != came.packet) else []


def page_name(identity: str) -> str:
    """The name of a student's feedback page."""
    return f"{file_name(identity)}.html"


@lru_cache(maxsize=1)
def workshop(told: bytes) -> Workshop:
    """This process's workshop for a recipe (pickled by our own marking), made when the first block comes."""
    return Workshop(pickle.loads(told))


def mark_block(told: bytes, block: list[Came]) -> Done:
    """Mark a block by a recipe, in whatever process this is."""
    return workshop(told).mark(block)
