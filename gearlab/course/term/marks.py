"""What each set of a term gave a student, read from the results as they are."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import datetime
from fractions import Fraction
from itertools import groupby
from pathlib import Path

from gearlab.course.coursekey import CourseKey
from gearlab.course.decisions.checks import decisions_place
from gearlab.course.folder import Course
from gearlab.course.gradebook import harmless, points_text
from gearlab.course.handout.edition import frozen_edition
from gearlab.course.intake.came import problem_rows
from gearlab.course.marking.changes import BOOK, EVIDENCE, evidence_records, typed_marks
from gearlab.course.marking.reasons import reasons_path
from gearlab.course.results import DIGESTS, Results
from gearlab.course.roster import Roster
from gearlab.practice.verdict import UNMARKED
from gearlab.quoting import one_line

#: What came of a student of whom nothing could be marked, by kind of problem; it names nobody else.
WHAT_CAME = {
    "unreadable": "a file came that could not be read",
    "other set": "the file that came holds answers to another set",
    "foreign": "the file that came has somebody else's id in it",
    "notebook only": "a notebook came without its HAND-IN file",
}


@dataclass(frozen=True, slots=True)
class Decided:
    """A decision about a student's mark in a set, as the set's results tell it.

    change: points it added or took off [-].
    """

    kind: str
    words: str
    by: str
    why: str
    change: float


@dataclass(frozen=True, slots=True)
class SetMark:
    """What a set gave one student, with two decimals as its gradebook shows it.

    points: None for no mark.
    questions: the sum over the questions, before what was decided about the mark in all [-].
    open: points that nobody has given or refused yet [-].
    came: what came and could not be marked, of `WHAT_CAME`, where there is no mark.
    """

    points: Fraction | None
    out_of: Fraction
    questions: Fraction
    open: Fraction
    decided: tuple[Decided, ...] = ()
    came: str = ""

    @property
    def excused(self) -> bool:
        """Whether the student is excused from the set."""
        return self.points is None and any(told.kind == "excused" for told in self.decided)


NOTHING = SetMark(None, Fraction(0), Fraction(0), Fraction(0))


@dataclass
class SetMarks:
    """The marks of a set.

    marked: when its results were written, the latest of them; None if it is not marked yet.
    notes: what the instructor should know, a sentence each.
    waiting: sections that are not marked yet, where others are.
    """

    name: str
    title: str = ""
    marked: datetime | None = None
    notes: list[str] = field(default_factory=list)
    waiting: frozenset[str] = frozenset()
    marks: dict[str, SetMark] = field(default_factory=dict)

    def of(self, student: str) -> SetMark:
        """The mark of a student; of one who is not in the results, as if nothing came."""
        return self.marks.get(student, NOTHING)


def read_set(course: Course, key: CourseKey, roster: Roster, name: str) -> SetMarks:
    """What the results of a set say, those of the whole class and of sections that were marked apart.

    A student's mark comes from the newest results that they are in.
    ValueError if results are damaged, or are being written now.
    """
    summed = SetMarks(name, _title(key, name) or name)
    places = []
    for section in ("", *roster.sections):
        marked_on = Results(course.results(name, section or None)).made()
        if marked_on is not None:
            places.append((marked_on, section))
    if not places:
        return summed
    summed.marked = max(marked_on for marked_on, _ in places)
    if all(section for _, section in places):
        summed.waiting = frozenset(roster.sections) - {section for _, section in places}
    came: dict[str, str] = {}
    for marked_on, section in sorted(places):
        folder = course.results(name, section or None)
        before = _digests(folder)
        marks, typed = _marks(folder, roster), [mark.student for mark in typed_marks(folder, roster)]
        if _digests(folder) != before:
            raise ValueError(f"results {folder}: were marked just now; run `gearlab term` again")
        summed.marks.update(marks)
        came = {
            student: words
            for student, words in came.items()
            if section and roster.find(student).section != section
        } | _came(folder, roster)
        where = f"{name}, section {one_line(section)}" if section else name
        summed.notes += [f"{where}: {note}" for note in _older(key, name, marked_on)]
        if typed:
            many = f"{len(typed)} marks were" if len(typed) > 1 else "1 mark was"
            summed.notes.append(
                f"{where}: {many} typed into {BOOK} ({_some(typed)}) and counts once it is a decision:"
                f" `gearlab mark {name}` gives the lines to paste."
            )
    lost = {student: words for student, words in came.items() if student not in summed.marks}
    summed.marks.update((student, replace(NOTHING, came=words)) for student, words in lost.items())
    if lost:
        summed.notes.append(
            f"{name}: {len(lost)} {'counts' if len(lost) == 1 else 'count'} as missing, but something came"
            f" that could not be marked ({_some(lost)}): problems.csv in its results says what to do; then"
            f" `gearlab mark {name}` and `gearlab term`."
        )
    return summed


def _some(students: Iterable[str]) -> str:
    """The first five ids, to be told."""
    told = [one_line(student) for student in students]
    return ", ".join(told[:5]) + (" and others" if len(told) > 5 else "")


def _came(folder: Path, roster: Roster) -> dict[str, str]:
    """What came and could not be marked, by the ids of the class list; nothing where no list lies there."""
    written = {harmless(student.id): student.id for student in roster}
    rows = [(row.get("id"), row.get("kind")) for row in problem_rows(folder)]
    return {
        written[student]: WHAT_CAME[kind]
        for student, kind in rows
        if student in written and kind in WHAT_CAME
    }


def _digests(folder: Path) -> bytes:
    try:
        return (folder / DIGESTS).read_bytes()
    except OSError as error:
        raise ValueError(f"results {folder}: cannot be read ({error.strerror}); try again") from None


def _older(key: CourseKey, name: str, marked_on: datetime) -> Iterator[str]:
    """What is newer than the results of a set, and so does not stand in them."""
    decisions, texts = decisions_place(key, name), reasons_path(key, name)
    for path, what in ((decisions, "its decisions"), (texts, "the points for its texts")):
        if path.is_file() and path.stat().st_mtime > marked_on.timestamp():
            yield (
                f"its marks are older than {what} ({path.name}): `gearlab mark {name}`, then `gearlab term`."
            )


def _title(key: CourseKey, name: str) -> str:
    """The title that the set was handed out with."""
    edition = frozen_edition(key, name)
    if edition is None:
        return ""
    try:
        return str(tomllib.loads(edition.files[edition.set_file])["set"]["title"])
    except (ValueError, KeyError, TypeError):
        return ""


def _marks(folder: Path, roster: Roster) -> dict[str, SetMark]:
    """The marks by the ids of the class list, in whatever spelling the sheets have them."""
    marks = {}
    for student, records in groupby(
        evidence_records(folder / EVIDENCE), key=lambda record: record["student"]
    ):
        owner = roster.find(student) if student in roster else roster.like(student)
        if owner is not None:
            marks[owner.id] = _mark(list(records))
    return marks


def _seen(points: float) -> Fraction:
    """Points as a gradebook shows them."""
    return Fraction(points_text(points))


def _mark(records: list[dict]) -> SetMark:
    """A student's mark, from the records behind it."""
    total = questions = possible = open_ = 0.0
    decided = []
    for record in records:
        points, out_of = record["points"], float(record.get("out_of") or 0.0)
        total += points
        possible += out_of
        told = record.get("decision")
        if record.get("question"):
            questions += points
        if record.get("verdict") == UNMARKED:
            open_ += out_of
        if isinstance(told, dict) and not record.get("question"):
            kind, words, by, why = (str(told.get(word, "")) for word in ("kind", "words", "by", "why"))
            decided.append(Decided(kind, words, by, why, points))
    no_mark = any(told.kind == "excused" for told in decided)
    return SetMark(
        None if no_mark else _seen(total),
        _seen(possible),
        _seen(questions),
        _seen(open_),
        tuple(decided),
    )
