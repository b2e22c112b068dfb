"""The list of all texts that people mark: without names, filled in with a spreadsheet, read again each time.

A row is a text. Its code does not tell whose it is, cannot be guessed, and is the same in every marking:
eight letters for who wrote it, four for the text. What people entered is never changed; a text that a student
changed gets a row of its own.
"""

import csv
import io
import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from gearlab.course.coursekey import CourseKey
from gearlab.course.decisions.reasonmarks import CODE, Codes, ReasonMarks
from gearlab.course.gradebook import harmless, points_text
from gearlab.course.marks import MarkedTask
from gearlab.practice import HomeworkSet, Question
from gearlab.practice.verdict import Award
from gearlab.quoting import one_line, parting
from gearlab.writing import write_whole

STEP = 0.5  # points are given in steps of this [-]; two readers who differ by more are asked to agree
OURS = ("question", "code", "numbers", "text", "out of")  # columns that marking writes, with "state"
THEIRS = ("points", "by", "remark", "second points", "second by", "agreed points")  # that people write
COLUMNS = (*OURS, *THEIRS, "state")
NEEDED = ("question", "code", "points", "by")
UNMARKED, MARKED, DIFFER = "not marked yet", "marked", "readers differ"
CHANGED, GONE = "text changed since", "not among the hand-ins now"
LARGEST = 50_000_000  # bytes of a list
MOST_FAULTS = 8  # bad cells named at once
LONGEST_CELL = 1000  # characters of a name or a remark
_POINTS = re.compile(r"[0-9]{1,3}(?:[.,][0-9]{1,3})?")


def reasons_path(key: CourseKey, set_name: str) -> Path:
    """Where the list of a set lies: in a course folder in ``reasons``, else beside the key."""
    if (key.path.parent / "course.toml").is_file():
        return key.path.parent / "reasons" / f"{set_name}.csv"
    return key.path.with_name(f"{set_name}.reasons.csv")


def still_open(path: Path) -> int:
    """Texts of a list that wait for a reader, or for two of them to agree, as the last marking found [-].

    0 where there is no list, or none that can be read: marking says what is wrong with it.
    """
    try:
        rows = _Table.read(path, path.read_bytes()).rows
    except (OSError, ValueError):
        return 0
    return sum(row["state"] in (UNMARKED, DIFFER) for row in rows)


@dataclass(slots=True)
class Row:
    """A row of the list: its cells by column, and its number as a spreadsheet counts it (0 for a new one)."""

    cells: dict[str, str]
    number: int = 0

    def __getitem__(self, column: str) -> str:
        return self.cells.get(column, "")

    @property
    def code(self) -> str:
        """Its code, however a spreadsheet or a hand left it."""
        return self["code"].strip().upper().replace(" ", "")

    @property
    def filled(self) -> bool:
        """Whether people entered points."""
        return any(self[column].strip() for column in ("points", "second points", "agreed points"))


class ReasonList:
    """The list of a set as it lies on the disk, and the texts of this marking.

    ValueError if the file is no such list, or a cell in it cannot be what it says: each with row and limits.
    """

    def __init__(self, path: Path, homework: HomeworkSet, key: CourseKey):
        self.path, self.codes = Path(path), Codes.of(key, homework.name)
        self._homework = homework
        self._questions = {
            entry.question.id: entry.question for entry in homework if entry.question.for_people
        }
        self._texts: dict[str, Row] = {}
        self._content = self._read()
        self._table = _Table.read(self.path, self._content)
        self.marks = ReasonMarks(self.codes, _awards(self._table, self._questions, self.path))

    def _read(self) -> bytes:
        try:
            if self.path.stat().st_size > LARGEST:
                raise ValueError(f"reasons {self.path}: is larger than {LARGEST // 10**6} MB; no list is")
            return self.path.read_bytes()
        except FileNotFoundError:
            return b""
        except OSError as error:
            raise ValueError(
                f"reasons {self.path}: cannot be read ({error.strerror}); close what has it open"
            ) from None

    def take(self, texts: Iterable[dict[str, str]]) -> None:
        """Take in what `texts_to_mark` handed over, in any order."""
        for cells in texts:
            self._texts[cells["code"]] = Row(cells)

    def notes(self) -> list[str]:
        """What is still to do, for those who mark the class."""
        given, notes = self.marks.given, []
        open_ = sum(code not in given for code in self._texts)
        if open_:
            notes.append(
                f"{open_} of {len(self._texts)} texts not marked yet, their points are open: fill in"
                f" {self.path.name} and mark again."
            )
        rows = [row for row in self._table.rows if row.code in self._texts]
        differ = [row.number for row in rows if row.code in given and given[row.code].points is None]
        if differ:
            notes.append(
                f"Two readers differ by more than {STEP:g} on {_texts(len(differ))} (rows {_few(differ)} of"
                f" {self.path.name}): enter the agreed points."
            )
        stray = [row.number for row in self._table.rows if row.filled and row.code not in self._texts]
        if stray:
            notes.append(
                f"Points in {self.path.name} for {_texts(len(stray))} that changed since or are not among the"
                f" hand-ins now (rows {_few(stray)}) count for nobody: look at the new texts."
            )
        return notes

    def write(self) -> list[str]:
        """Write the list with the new texts and what became of each; what people entered stays.

        Nothing is written where nothing changed. Returns remarks, in words.
        """
        remarks = []
        if (now := self._read()) != self._content:  # somebody saved it while the class was marked
            self._content, self._table = now, _Table.read(self.path, now)
            remarks.append(f"{self.path.name} was saved while the class was marked: mark again to count it.")
        if not self._texts and not self._table.rows:
            return remarks
        given = _awards(self._table, self._questions, self.path)
        heads = {code.rpartition("-")[0] for code in self._texts}
        for row in self._table.rows:
            if row.code in self._texts:
                row.cells |= self._texts[row.code].cells
            row.cells["state"] = self._state(row, given, heads)
        known = {row.code for row in self._table.rows}
        self._table.take(self._shuffled(known))
        content = self._table.written()
        if content != self._content:
            try:
                write_whole(self.path, content, rights=0o600)
                write_whole(self.path.with_name(f"{self.path.stem}.guide.txt"), self._guide())
            except OSError as error:  # a spreadsheet holds it: the marks are there, new texts come next time
                remarks.append(
                    f"{self.path.name} cannot be written ({error.strerror}): close it and mark again."
                )
        return remarks

    def _state(self, row: Row, given: dict[str, Award], heads: set[str]) -> str:
        if row.code not in self._texts:
            return CHANGED if row.code.rpartition("-")[0] in heads else GONE
        award = given.get(row.code)
        return UNMARKED if award is None else DIFFER if award.points is None else MARKED

    def _shuffled(self, known: set[str]) -> list[Row]:
        """The new texts, question by question, in the order of their codes, equal ones together."""
        fresh = [row for code, row in sorted(self._texts.items()) if code not in known]
        first: dict[tuple[str, str], str] = {}
        for row in fresh:
            row.cells["state"] = UNMARKED
            first.setdefault(_alike(row), row.code)
        place = {name: number for number, name in enumerate(self._questions)}
        return sorted(fresh, key=lambda row: (place[row["question"]], first[_alike(row)], row.code))

    def _guide(self) -> str:
        """What earns points, to lie beside the list."""
        parts = []
        for number, entry in enumerate(self._homework, start=1):
            if (question := entry.question).for_people:
                title = f"{number}. {question.title} ({question.id}), {points_text(question.points)} points"
                if entry.points != question.points:
                    title += f" (counted as {points_text(entry.points)} in this set)"
                told = question.solution(question.draw("guide"), "text")
                parts.append(f"{title}\n{'=' * len(title)}\n\n{question.table.prompt}\n\n{told}\n")
        steps = f"Points in steps of {STEP:g}; write your name under by."
        return "\n\n".join([*parts, steps]) + "\n"


def texts_to_mark(codes: Codes, student: str, marked: Iterable[MarkedTask]) -> list[dict[str, str]]:
    """One student's texts for people to read, as cells by column: plain data, for another process too."""
    texts = []
    for task in marked:
        question = task.entry.question
        for answer, text in question.to_mark(task.texts).items():
            code = codes.code(student, question.id, answer, text)
            numbers = ", ".join(f"{given.name} = {given.shown}" for given in task.draw.givens)
            cells = (question.id, code, numbers, harmless(_on_one_line(text)), points_text(question.points))
            texts.append(dict(zip(OURS, cells, strict=True)))
    return texts


# -- the file --------------------------------------------------------------------------------------------
@dataclass
class _Table:
    """A list as people left it: its rows in their order, and how its program writes."""

    columns: list[str]
    rows: list[Row]
    part: str = ","
    encoding: str = "utf-8-sig"
    ending: str = "\n"
    lead: str = ""

    @classmethod
    def read(cls, path: Path, content: bytes) -> "_Table":
        """A list from its bytes: commas, semicolons or tabs, UTF-8, UTF-16 or the old Windows letters."""
        if not content.strip(b"\xef\xbb\xbf\xff\xfe\x00 \t\r\n"):
            return cls(list(COLUMNS), [])
        text, encoding = _decoded(content)
        first, _, rest = text.partition("\n")
        lead = (
            first + "\n" if first.strip().casefold().startswith("sep=") else ""
        )  # as some spreadsheets want
        text = rest if lead else text
        part = parting(text)
        lines = csv.reader(io.StringIO(text, newline=""), delimiter=part)
        try:
            columns = [" ".join(cell.split()).casefold() for cell in next(lines, [])]
            for column in NEEDED:
                if columns.count(column) != 1:
                    names = one_line(", ".join(columns))[:200] or "(none)"
                    raise ValueError(
                        f"reasons {path}: row 1 names the columns {names}; exactly one must be called"
                        f" {column!r}; take the first row of an earlier list"
                    )
            rows = [
                Row(dict(zip(columns, cells)), number)
                for number, cells in enumerate(lines, start=3 if lead else 2)
                if any(cell.strip() for cell in cells)
            ]
        except csv.Error as error:
            raise ValueError(
                f"reasons {path}: line {lines.line_num} is no line of CSV ({one_line(str(error))}); save it"
                " again as CSV"
            ) from None
        columns += [column for column in COLUMNS if column not in columns]
        return cls(columns, rows, part, encoding, "\r\n" if "\r\n" in text else "\n", lead)

    def take(self, fresh: list[Row]) -> None:
        """Put each new row below the last one with an equal text, else at the end."""
        last = {_alike(row): row for row in self.rows}
        below: dict[tuple[str, str], list[Row]] = {}
        for row in fresh:
            below.setdefault(_alike(row), []).append(row)
        rows = self.rows
        self.rows = [
            placed
            for row in rows
            for placed in (row, *(below[_alike(row)] if _ends(row, last, below) else ()))
        ]
        self.rows += [row for row in fresh if _alike(row) not in last]

    def written(self) -> bytes:
        """The file, in the way in which it was found."""
        file = io.StringIO(newline="")
        lines = csv.writer(file, delimiter=self.part, lineterminator=self.ending)
        lines.writerow(self.columns)
        lines.writerows([row[column] for column in self.columns] for row in self.rows)
        return (self.lead + file.getvalue()).encode(self.encoding, "replace")


def _decoded(content: bytes) -> tuple[str, str]:
    """The text of a file, and how it is written again."""
    if content[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return content.decode("utf-16", "replace"), "utf-16"
    if content.startswith(b"\xef\xbb\xbf"):  # UTF-8 as it says itself, whatever a byte of it is
        return content.decode("utf-8-sig", "replace"), "utf-8-sig"
    try:
        return content.decode("utf-8-sig"), "utf-8-sig"
    except UnicodeDecodeError:
        return content.decode("cp1252", "replace"), "utf-8-sig"  # as a spreadsheet of old saves "CSV"


def _ends(row: Row, last: dict[tuple[str, str], Row], below: dict[tuple[str, str], list[Row]]) -> bool:
    """Whether a row is the last one with its text, and new ones have that text too."""
    return last[_alike(row)] is row and _alike(row) in below


def _alike(row: Row) -> tuple[str, str]:
    return row["question"], row.code.rpartition("-")[2]


# -- what people entered ---------------------------------------------------------------------------------
def _awards(table: _Table, questions: dict[str, Question], path: Path) -> dict[str, Award]:
    """What was entered, by code. ValueError that names each bad cell, its row and its limits."""
    given: dict[str, Award] = {}
    seen: dict[str, Row] = {}
    faults: list[str] = []
    for row in table.rows:
        if not row.filled:
            continue
        told = _faults(row, questions)
        before = row if told else seen.setdefault(row.code, row)
        if any(before[column].strip() != row[column].strip() for column in THEIRS):
            told = [f"code {row.code} is in row {before.number} too, with other entries: leave one"]
        faults += [f"row {row.number}: {fault}" for fault in told]
        if not told:
            given[row.code] = _award(row)
    if faults:
        more = f"\n... and {len(faults) - MOST_FAULTS} more" if len(faults) > MOST_FAULTS else ""
        raise ValueError("\n".join(f"reasons {path}, {fault}" for fault in faults[:MOST_FAULTS]) + more)
    return given


def _faults(row: Row, questions: dict[str, Question]) -> list[str]:
    """What is wrong with a row that has points."""
    question = questions.get(row["question"].strip())
    if not CODE.fullmatch(row.code):
        return [f"code {_short(row['code'])} is no code of a text; copy the row of an earlier list"]
    if question is None:
        return [
            f"question {_short(row['question'])} is not marked by people here; use {', '.join(questions)}"
        ]
    faults = []
    for column in ("points", "second points", "agreed points"):
        if (text := row[column].strip()) and _points(text, question.points) is None:
            faults.append(
                f"{column} {_short(text)}: give 0 to {question.points:g} points in steps of {STEP:g}, such as"
                f" {min(STEP, question.points):g}"
            )
    for points, by in (("points", "by"), ("second points", "second by")):
        if row[points].strip() and not row[by].strip():
            faults.append(
                f"{by}: there are {points}, but not who gave them; write a name (1 character or more)"
            )
    faults += [
        f"{column}: has {len(row[column])} characters, at most {LONGEST_CELL} are taken; shorten it"
        for column in ("by", "second by", "remark")
        if len(row[column]) > LONGEST_CELL
    ]
    return faults


def _points(text: str, out_of: float) -> float | None:
    """Points as they were typed, with a point or a comma; None where they cannot be given."""
    if not _POINTS.fullmatch(text):
        return None
    points = float(text.replace(",", "."))
    return points if points <= out_of and (points / STEP).is_integer() else None


def _award(row: Row) -> Award:
    """What counts of what one or two readers entered."""
    names = [_on_one_line(row[by]) for by in ("by", "second by") if row[by].strip()]
    by = " and ".join(dict.fromkeys(names)) or "agreement"
    remark = _on_one_line(row["remark"])
    entered = [
        float(row[column].strip().replace(",", "."))
        for column in ("agreed points", "points", "second points")
        if row[column].strip()
    ]
    if row["agreed points"].strip() or len(entered) == 1:
        return Award(entered[0], by, remark)
    apart = abs(entered[0] - entered[1])
    return Award(None if apart > STEP else sum(entered) / 2, by, remark)


def _on_one_line(text: str) -> str:
    """A text of several lines in one, with a sign where a line ended, and nothing that a page could obey."""
    return one_line(" ¶ ".join(" ".join(line.split()) for line in text.splitlines() if line.strip()))


def _texts(count: int) -> str:
    return f"{count} text{'' if count == 1 else 's'}"


def _short(text: str) -> str:
    text = one_line(text.strip())
    return repr(text if len(text) <= 30 else text[:27] + "...")


def _few(numbers: list[int]) -> str:
    return ", ".join(map(str, numbers[:10])) + (" ..." if len(numbers) > 10 else "")
