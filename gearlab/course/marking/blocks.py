"""Students marked in any process: plain data go in, plain data come out.

A block of students is marked by the recipe of its set. What comes of a student is a row that can be written
as it is, in the order of the class list; counts are added up afterwards. So one process, all cores and a
cluster give the same bytes.
"""

from __future__ import annotations

import gc
import hashlib
import pickle
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cached_property
from hashlib import blake2b

from gearlab.contents import PACKAGE
from gearlab.course.coursekey import CourseKey
from gearlab.course.decisions.marks import Settled, out_of, shares
from gearlab.course.decisions.reasonmarks import ReasonMarks
from gearlab.course.decisions.tables import Decisions
from gearlab.course.gradebook import gradebook_line
from gearlab.course.handout.edition import Edition, SheetMaker
from gearlab.course.intake.taking import NOT_MARKED, Refused, opened
from gearlab.course.marking.books import Records, practice_lines
from gearlab.course.marking.feedback import FeedbackPages, Handed
from gearlab.course.marking.reasons import texts_to_mark
from gearlab.course.marks import MarkedTask, Marker, comment
from gearlab.course.report.pairs import Traces
from gearlab.course.report.tally import SectionTallies
from gearlab.course.roster import Student, file_name
from gearlab.practice.handin import HandIn
from gearlab.writing import write_new

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
    content: of the file that counts, as it came; None if there is none.
    remarks: for the student's page.
    given: whether a person decided that it is theirs, whatever id stands in it.
    sheet: id of the student with whose numbers it is marked by a decision; "" where nobody decided it.
    """

    number: int
    student: Student
    content: bytes | None
    remarks: tuple[str, ...]
    given: bool = False
    sheet: str = ""


class Block(list[Came]):
    """Students who are marked together.

    limits: of the wrong values that are counted by now (`SectionTallies.limits`): those beyond are not made.
    """

    limits: list[int] = []

    @cached_property
    def name(self) -> str:
        """A name that is the same whenever the same came in."""
        told = blake2b(digest_size=20)
        for came in self:
            who, content = came.student, came.content
            sheet = (who.id, who.name, who.email, who.section), came.given, came.sheet
            length = -1 if content is None else len(content)
            parts = f"{came.number} {sheet} {came.remarks} {length}\0"
            told.update(parts.encode("utf-8", "surrogatepass"))
            told.update(content or b"")
        return told.hexdigest()


@dataclass(slots=True)
class Row:
    """What is written of one student.

    points: None for no mark.
    marked: whether a hand-in was.
    line: of the gradebook.
    refused: why the file that came was not.
    code: the sheet code in the file, and whether it is the student's own (`own_code`).
    has_givens, changed: whether it has givens, and which of them are not those of the sheet.
    met: what another program did to it.
    evidence: records for the evidence, with commas between.
    practised: lines of the table of practice.
    texts: what people are to mark, as `texts_to_mark` gives it.
    paged: whether there is a feedback page.
    digest: of the page, as the record of the results has it.
    page: the page; None where it is written already.
    """

    points: float | None
    marked: bool
    line: str = ""
    refused: Refused | None = None
    code: str = ""
    own_code: bool = False
    has_givens: bool = False
    changed: list[str] = field(default_factory=list)
    met: str = ""
    evidence: bytes = b""
    practised: str = ""
    texts: list[dict[str, str]] = field(default_factory=list)
    paged: bool = False
    digest: str = ""
    page: bytes | None = None


@dataclass(slots=True)
class Done:
    """What came of a block."""

    rows: list[Row]
    tallies: SectionTallies
    traces: Traces


@dataclass(slots=True)
class _Own:
    """One student of a block while it is marked; `marked` is empty where nothing was handed in."""

    came: Came
    packet: str
    hand_in: HandIn | None
    marked: list[MarkedTask]
    settled: Settled
    row: Row

    @property
    def remarks(self) -> list[str]:
        """What the student's page says of the file that came."""
        remarks, row = list(self.came.remarks), self.row
        if row.refused is not None:
            remarks.append(NOT_MARKED)
        if self.hand_in is None:
            has_mark = self.settled.points is not None or not self.settled.told
            return remarks or (["Nothing was handed in."] if has_mark else [])
        altered = not self.came.sheet and (row.changed or not row.own_code)
        return [*remarks, ALTERED] if altered else remarks


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

    def mark(self, block: Iterable[Came], limits: Iterable[int] = ()) -> Done:
        """Mark a block, each step for all of its students: so it is much quicker than student by student.

        limits: see `Block`.
        """
        with _all_kept():
            return self._marked(list(block), limits)

    def _marked(self, block: list[Came], limits: Iterable[int]) -> Done:
        students = self._settled(block)
        counts = self.counts().bounded(limits)
        done = Done([own.row for own in students], counts, Traces(self.set))
        for own in students:
            self._count(own, done)
        for own in students:
            self._tell(own)
        self._write_pages([own for own in students if own.row.paged])
        return done

    def _settled(self, block: list[Came]) -> list[_Own]:
        """Each student's answers and mark in all."""
        files = [
            None if came.content is None else opened(came.content, self.set.name, came.student.id, came.given)
            for came in block
        ]
        typed = [
            (came.student.id, file, came.sheet)
            for came, file in zip(block, files)
            if isinstance(file, HandIn)
        ]
        marks = iter(self._marker.mark_all(typed))
        students = []
        for came, file in zip(block, files):
            packet = self.maker.packet(came.sheet or came.student.id)
            hand_in = file if isinstance(file, HandIn) else None
            marked = None if hand_in is None else next(marks)
            settled = self._marker.settle(came.student.id, marked)
            row = Row(settled.points, marked is not None)
            row.paged = row.marked or bool(settled.told)
            if hand_in is not None:
                row.code, row.own_code = hand_in.packet, hand_in.packet == packet
                row.has_givens, row.met = bool(hand_in.givens), hand_in.met
                row.changed = Marker.changed_givens(hand_in, marked or [])
            elif isinstance(file, Refused):
                row.refused = file
            students.append(_Own(came, packet, hand_in, marked or [], settled, row))
        return students

    def _count(self, own: _Own, done: Done) -> None:
        """Add a student to the counts."""
        student, hand_in, marked, row = own.came.student, own.hand_in, own.marked, own.row
        if hand_in is None:
            return
        practice = hand_in.practice if self.set.attempts else None
        done.tallies.add(student, marked, own.settled.points or 0.0, practice)
        done.traces.add(own.came.number, marked)
        if self.set.attempts:
            row.practised = practice_lines(student.id, hand_in, self._questions)
        if self.recipe.reasons is not None:
            row.texts = texts_to_mark(self.recipe.reasons.codes, student.id, marked)

    def _tell(self, own: _Own) -> None:
        """Write a student's line of the gradebook, and evidence."""
        student, settled, row = own.came.student, own.settled, own.row
        if row.marked:
            told = comment(own.marked)
        else:
            told = next(
                iter((*own.came.remarks, *([NOT_MARKED] if row.refused else ()))), "nothing handed in"
            )
        told = "; ".join(filter(None, (settled.comment, told)))
        row.line = gradebook_line(student.id, student.name, settled.points, settled.out_of, told)
        lines = self._records.of(student.id, own.marked)
        lines += self._records.settled(student.id, settled, row.marked)
        row.evidence = b",\n".join(lines)

    def _write_pages(self, students: list[_Own]) -> None:
        """Write the feedback pages, or put them into the rows."""
        handed = [
            Handed(own.came.student, own.packet, own.marked, own.remarks, own.settled) for own in students
        ]
        for own, page in zip(students, self._pages.pages(handed)):
            own.row.digest = hashlib.sha256(page).hexdigest()
            if self.recipe.pages:
                # a killed marking may have left it
                write_new(f"{self.recipe.pages}/{page_name(own.came.student.id)}", page, over=True)
            else:
                own.row.page = page


@contextmanager
def _all_kept() -> Iterator[None]:
    """Nothing is looked for that nobody has any more: all of a block is there until it is done."""
    before = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if before:
            gc.enable()


def page_name(identity: str) -> str:
    """The name of a student's feedback page."""
    return f"{file_name(identity)}.html"


_serving: dict[bytes, Workshop] = {}  # this process's workshop, by its recipe


def serve(told: bytes, workshop: Workshop) -> None:
    """Let this process mark by a recipe with a workshop that is there already."""
    workshop.recipe = pickle.loads(told)
    _serving.clear()
    _serving[told] = workshop


def mark_block(told: bytes, block: Block) -> bytes:
    """Mark a block by a recipe (pickled by our own marking), in whatever process this is.

    Returns a `Done`, pickled once for the way and for the disk.
    """
    if told not in _serving:  # the first block of it
        serve(told, Workshop(pickle.loads(told)))
    return pickle.dumps(_serving[told].mark(block, block.limits))


def unpacked(done: bytes) -> Done:
    """What `mark_block` gave, from our own process or sealed by it."""
    return pickle.loads(done)
