"""What marking again changes, held against the results that were there, and what people typed into those.

The evidence is read as it was written, a record a line and a student after the other, so that a large class
is never held in memory; of a mark only the sum is kept.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import groupby, zip_longest
from pathlib import Path
from typing import NamedTuple

from gearlab.course.decisions.tables import Decisions, SetPoints
from gearlab.course.gradebook import COLUMNS, csv_line, harmless, points_text
from gearlab.course.intake.came import Problem
from gearlab.course.results import CHANGES, as_written
from gearlab.course.roster import Roster
from gearlab.quoting import one_line, parting
from gearlab.toml import toml_text
from gearlab.writing import write_whole

EDITED = "edited_by_hand.toml"
BOOK, EVIDENCE = "gradebook.csv", "evidence.json"
IN_ALL, OTHERWISE = "in all", "marked otherwise"
KEPT = 1000  # changes kept for the terminal; all of them stand in the file
_SEEN = 0.005  # a smaller difference is not seen in two decimals
_READ_LIMIT = 100_000_000  # bytes of a gradebook


class Change(NamedTuple):
    """Points of a student that are others than before: the columns of the list of changes.

    question: its id, or "in all".
    before, after, out_of_before, out_of_after: as a gradebook shows them; "" for none.
    why: the decision, or what else changed.
    """

    id: str
    name: str
    question: str
    before: str
    after: str
    out_of_before: str
    out_of_after: str
    why: str


@dataclass(slots=True)
class Changes:
    """What marking again changed: all counted; kept are the first thousand, and the first of marks in all."""

    kept: list[Change] = field(default_factory=list)
    in_all: list[Change] = field(default_factory=list)
    count: int = 0
    students: int = 0
    _last: str | None = None

    def add(self, change: Change) -> None:
        """Take in one more; those of a student follow one another."""
        self.count += 1
        self.students += change.id != self._last
        self._last = change.id
        for changes in (self.kept, *([self.in_all] if change.question == IN_ALL else [])):
            if len(changes) < KEPT:
                changes.append(change)


@dataclass(frozen=True, slots=True)
class Edited:
    """A mark that somebody typed into the gradebook of a marking; `was` is what marking had written."""

    student: str
    typed: str
    was: str


def ready_lines(edited: Iterable[Edited]) -> str:
    """The decisions that keep marks typed by hand, to be pasted into the file of decisions."""
    pieces = []
    for mark in edited:
        number = _number(mark.typed)
        was = mark.was or "nothing"
        if number is None:
            head = "[[excused]]   # or [[absent]], or [[set_points]] with points = ..."
            points = ""
        else:
            head, points = "[[set_points]]", f"points = {points_text(number)}\n"
        why = f"{mark.typed or 'nothing'} was typed in {BOOK}, where {was} stood"
        pieces.append(
            f"# {json.dumps([mark.student, mark.typed, mark.was])}\n{head}\n"
            f"student = {toml_text(mark.student)}\n"
            f'{points}by = ""   # who decided\nwhy = {toml_text(why)}\n'
        )
    return "\n".join(pieces)


def to_look_at(decisions: Decisions) -> list[Problem]:
    """What somebody is still to look at, as rows of the list of problems."""
    rows = []
    for decision in decisions.open():
        students = sorted(decision.who or ())
        what = f"question {decision.question}"
        if len(decision.answers) == 1:
            what += f", {decision.answers[0]}"
        if len(students) > 1:
            names = f"{', '.join(students[:5])}{', ...' if len(students) > 5 else ''}"
            what += f", {len(students)} students ({names})"
        table = decision.table
        reason = one_line(f"{what}: {' '.join(table.why.split())} ({table.by})")
        rows.append(Problem("look again", students[0] if len(students) == 1 else "", "", reason))
    return rows


# -- evidence as it was written ------------------------------------------------------------------------
@dataclass(slots=True)
class _Marks:
    """What the evidence says of one question of a student, or of the mark in all."""

    points: float = 0.0
    out_of: float = 0.0
    asked: bool = False  # answers were marked
    typed: list[str] = field(default_factory=list)
    verdicts: list[str] = field(default_factory=list)
    decided: set[str] = field(default_factory=set)
    no_mark: bool = False  # excused


_WHO = re.compile(rb'\{"student":("(?:[^"\\]|\\.)*"),')


def _record(path: Path, line: bytes) -> dict:
    """One record of an evidence file.

    ValueError if it is damaged.
    """
    try:
        record = json.loads(line)
        record["points"] = float(record["points"])
        if not isinstance(record["student"], str):
            raise ValueError
    except (ValueError, KeyError, TypeError, RecursionError):
        raise ValueError(f"{path}: a record of it is damaged") from None
    return record


def _no_mark(record: dict) -> bool:
    """Whether a record says that there is no mark: the student is excused."""
    told = record.get("decision")
    return isinstance(told, dict) and told.get("kind") == "excused"


def _head(path: Path, name: str) -> str:
    """What the first line of an evidence file says: its set, or the version of gearlab that wrote it."""
    with open(path, "rb") as file:
        match = re.search(rb'"' + name.encode() + rb'":"([\w.+-]{1,80})"', file.readline(10_000))
    return match[1].decode() if match else ""


def _lines(path: Path) -> Iterator[tuple[bytes, list[bytes]]]:
    """Each student's records as they stand in the file, with the student's id as it stands there."""
    with open(path, "rb") as file:
        records = (line.strip().rstrip(b",") for line in file)
        told = ((_WHO.match(line), line) for line in records if line.startswith(b'{"student":'))
        for who, lines in groupby(told, key=lambda pair: pair[0] and pair[0][1]):
            if who is None:
                raise ValueError(f"{path}: a record of it is damaged")
            yield who, [line for _, line in lines]


def evidence_records(path: Path) -> Iterator[dict]:
    """The records of an evidence file, one after the other.

    ValueError if it is damaged.
    """
    for _, lines in _lines(path):
        for line in lines:
            yield _record(path, line)


def _marks(path: Path, lines: list[bytes] | None) -> dict[str, _Marks] | None:
    """A student's marks by question; "" holds what was decided about the mark in all."""
    if lines is None:
        return None
    marks: dict[str, _Marks] = {}
    for line in lines:
        record = _record(path, line)
        of = marks.setdefault(str(record.get("question", "")), _Marks())
        of.points += record["points"]
        of.out_of += float(record.get("out_of", 0.0))
        of.no_mark = of.no_mark or _no_mark(record)
        if "verdict" in record:
            of.asked = True
            of.typed.append(str(record.get("typed", "")))
            of.verdicts.append(str(record["verdict"]))
        told = [*record.get("decided", []), *([record["decision"]] if "decision" in record else [])]
        of.decided |= {f"{it.get('kind', '')} ({it.get('by', '')}: {it.get('why', '')})" for it in told}
    return marks


def compared(before: Path, after: Path, roster: Roster) -> Iterator[Change]:
    """The points that two markings of one set give differently, from their folders.

    roster: whose points are compared; one section may be marked after the whole class.
    Records that are the same byte for byte are not read.
    ValueError if the evidence of one of them is damaged.
    """
    places = before / EVIDENCE, after / EVIDENCE
    versions = _head(places[0], "library"), _head(places[1], "library")
    for who, lines in _paired(*map(_lines, places)):
        if lines[0] == lines[1]:
            continue
        student = str(json.loads(who))
        if student not in roster:
            continue
        name = roster.find(student).name
        was, now = (_marks(place, of) for place, of in zip(places, lines))
        yield from _changes(student, name, was, now, versions)


def _paired(
    early: Iterator[tuple[bytes, list[bytes]]], late: Iterator[tuple[bytes, list[bytes]]]
) -> Iterator[tuple[bytes, tuple[list[bytes] | None, list[bytes] | None]]]:
    """What two files hold of the same student; None where one of them holds nothing."""
    waiting: tuple[dict[bytes, list[bytes]], ...] = ({}, {})  # both in the order of the class list: few wait
    for pair in zip_longest(early, late):
        for place, item in enumerate(pair):
            if item is None:
                continue
            who, lines = item
            other = waiting[1 - place].pop(who, None)
            if other is None:
                waiting[place][who] = lines
            else:
                yield who, (lines, other) if place == 0 else (other, lines)
    yield from ((who, (lines, None)) for who, lines in waiting[0].items())
    yield from ((who, (None, lines)) for who, lines in waiting[1].items())


def _changes(
    student: str,
    name: str,
    before: dict[str, _Marks] | None,
    after: dict[str, _Marks] | None,
    versions: tuple[str, str],
) -> Iterator[Change]:
    """The rows of one student: question by question, then the mark in all."""
    reasons: list[str] = []
    for question in dict.fromkeys((*(before or {}), *(after or {}))):
        was, now = (before or {}).get(question), (after or {}).get(question)
        earlier, later = (None if marks is None else [marks] for marks in (was, now))
        if _same(earlier, later) and (question or _decided(was) == _decided(now)):
            continue
        words, weighs = _why(was, now, versions), _weighs(was, now)
        reasons += words
        if question:
            why = "; ".join([*words, *weighs]) or OTHERWISE
            yield Change(student, name, question, *_cells(earlier, later), why)
    old, new = (None if marks is None else list(marks.values()) for marks in (before, after))
    if not _same(old, new):
        why = "; ".join(dict.fromkeys(reasons)) or OTHERWISE
        yield Change(student, name, IN_ALL, *_cells(old, new), why)


def _decided(marks: _Marks | None) -> set[str]:
    return set() if marks is None else marks.decided


def _sums(marks: list[_Marks] | None) -> tuple[float, float] | None:
    if marks is None or any(m.no_mark for m in marks):
        return None
    return sum(m.points for m in marks), sum(m.out_of for m in marks)


def _same(before: list[_Marks] | None, after: list[_Marks] | None) -> bool:
    """Whether two lots of marks come to the same points out of the same."""
    was, now = _sums(before), _sums(after)
    if was is None or now is None:
        return was is now
    return all(abs(earlier - later) <= _SEEN for earlier, later in zip(was, now))


def _cells(before: list[_Marks] | None, after: list[_Marks] | None) -> tuple[str, str, str, str]:
    """Points before and after, then what could be reached before and after."""
    was, now = _sums(before) or (None, None), _sums(after) or (None, None)
    return points_text(was[0]), points_text(now[0]), points_text(was[1]), points_text(now[1])


def _weighs(before: _Marks | None, after: _Marks | None) -> list[str]:
    """That a question has another weight, because points of others are spread over it or no longer are."""
    was, now = (marks.out_of if marks else 0.0 for marks in (before, after))
    if not was or not now or abs(was - now) <= _SEEN:
        return []
    return [f"counts {points_text(now)} in place of {points_text(was)}"]


def _why(before: _Marks | None, after: _Marks | None, versions: tuple[str, str]) -> list[str]:
    """What made the difference: decisions first, then what else is another."""
    new, old = _decided(after) - _decided(before), _decided(before) - _decided(after)
    words = [f"decision: {told}" for told in sorted(new)] + [f"taken back: {told}" for told in sorted(old)]
    was, now = before or _Marks(), after or _Marks()
    if was.asked != now.asked:
        words.append("a hand-in came" if now.asked else "no hand-in is marked any more")
    elif was.typed != now.typed:
        words.append("another hand-in counts")
    elif not words and was.asked:
        if versions[0] != versions[1]:
            words.append(f"marked with gearlab {versions[1]}, before with {versions[0]}")
        if was.verdicts != now.verdicts:
            words.append(f"judged {', '.join(now.verdicts)}, before {', '.join(was.verdicts)}")
    return words


# -- the results that were there -----------------------------------------------------------------------
class Before:
    """The results of an earlier marking in the same place: what people typed into them, what changes.

    edited: marks typed by hand that no decision keeps yet.
    problems: the same, and what could not be read, for the list of problems.
    """

    def __init__(self, folder: Path, set_name: str, roster: Roster, decisions: Decisions):
        self._folder, self._roster, self._decisions = Path(folder), roster, decisions
        self.problems: list[Problem] = []
        there = (self._folder / BOOK).is_file() and (self._folder / EVIDENCE).is_file()
        self._there = there and _head(self._folder / EVIDENCE, "set") == set_name  # not those of another set
        waiting = {mark.student: mark for mark in self._waiting()} if self._there else {}
        try:
            if self._there and not as_written(self._folder, BOOK):
                waiting |= {mark.student: mark for mark in typed_marks(self._folder, roster)}
        except (ValueError, OSError) as error:
            self._problem("", f"whether marks were edited cannot be told: {one_line(str(error))}")
        order = {student.id: place for place, student in enumerate(roster)}
        marks = sorted(waiting.values(), key=lambda mark: order.get(mark.student, len(order)))
        self.edited = tuple(mark for mark in marks if not self._kept(mark))
        for mark in self.edited:
            self._problem(
                mark.student,
                f"{one_line(mark.typed) or 'nothing'} was typed where {mark.was or 'nothing'} stood; it"
                f" counts once it is a decision (the lines to paste are in {EDITED})",
            )

    def _problem(self, student: str, reason: str) -> None:
        self.problems.append(Problem("edited", student, BOOK, reason))

    def write(self, fresh: Path) -> Changes | None:
        """Write what changed, and the marks typed by hand, beside the new results.

        Returns the changes; None where there were no results before.
        """
        if self.edited:
            head = (
                "# Marks that were typed into gradebook.csv. They count once they are decisions: say who\n"
                "# decided, and move the lines into the file of decisions.\n\n"
            )
            write_whole(fresh / EDITED, head + ready_lines(self.edited))
        if not self._there:
            return None
        changes = Changes()
        with open(fresh / CHANGES, "w", encoding="utf-8", newline="") as file:
            file.write(csv_line(column.replace("_", " ") for column in Change._fields))
            try:
                for change in compared(self._folder, fresh, self._roster):
                    changes.add(change)
                    file.write(csv_line(map(harmless, change)))
            except (ValueError, OSError) as error:
                file.write(csv_line([*[""] * 7, harmless(f"not compared any further: {error}")]))
        return changes

    def _kept(self, mark: Edited) -> bool:
        """Whether a mark typed by hand is a decision by now."""
        mine = self._decisions.of(mark.student, "set_points", "excused", "absent")
        return any(not isinstance(d.table, SetPoints) or not d.question for d in mine)

    def _waiting(self) -> Iterator[Edited]:
        """Marks typed by hand into earlier results, of which nobody has made a decision yet."""
        try:
            lines = (self._folder / EDITED).read_text(encoding="utf-8").splitlines()
        except (OSError, UnicodeDecodeError):
            return
        for line in lines:
            if line.startswith("# ["):
                try:
                    student, typed, was = json.loads(line[2:])
                except (ValueError, TypeError, RecursionError):
                    continue
                if all(isinstance(text, str) for text in (student, typed, was)):
                    yield Edited(student, typed, was)


def typed_marks(folder: Path, roster: Roster) -> Iterator[Edited]:
    """Cells of the gradebook that hold other points than the evidence beside it adds up to."""
    totals: dict[str, float] = {}
    excused: set[str] = set()
    for record in evidence_records(folder / EVIDENCE):
        totals[record["student"]] = totals.get(record["student"], 0.0) + record["points"]
        if _no_mark(record):
            excused.add(record["student"])
    ids = {harmless(student.id): student.id for student in roster}
    bare = {student.id.lstrip("0"): student.id for student in roster}
    for identity, cell in _book(folder / BOOK):
        student = ids.get(identity) or bare.get(identity.lstrip("0"))  # a spreadsheet drops leading zeros
        if student is None:
            continue
        was = totals.get(student) if student not in excused else None
        number = _number(cell)
        if was is None and number is None and not cell:
            continue
        if was is not None and number is not None and abs(number - was) <= _SEEN + 1e-9:
            continue
        yield Edited(student, cell, points_text(None if was is None else round(was, 6)))


def _book(path: Path) -> Iterator[tuple[str, str]]:
    """Id and points of each row of the gradebook as it stands."""
    if path.stat().st_size > _READ_LIMIT:
        raise ValueError(f"{path} is larger than {_READ_LIMIT // 1_000_000} MB")
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        raise ValueError(f"{path} is not UTF-8 text any more; save it as 'CSV UTF-8'") from None
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=parting(text))
    try:
        head = [cell.strip().casefold() for cell in next(rows, [])]
        if not {COLUMNS[0], COLUMNS[2]} <= set(head):
            raise ValueError(f"{path} has no columns {COLUMNS[0]!r} and {COLUMNS[2]!r} any more")
        identity, points = head.index(COLUMNS[0]), head.index(COLUMNS[2])
        for row in rows:
            if len(row) > max(identity, points):
                yield row[identity].strip(), row[points].strip()
    except csv.Error as error:
        raise ValueError(f"{path}: line {rows.line_num} is not a CSV line ({one_line(str(error))})") from None


def _number(cell: str) -> float | None:
    """The number in a cell, with a decimal point or comma; None for anything else."""
    if not re.fullmatch(r"[+-]?\d{1,6}([.,]\d{1,6})?", cell.strip()):
        return None
    return float(cell.strip().replace(",", "."))
