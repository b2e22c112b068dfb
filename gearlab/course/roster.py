"""The class list: who is in the course, and in which section."""

import csv
import io
import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from gearlab.course.shelf import Shelf
from gearlab.quoting import one_line, parting, text_of
from gearlab.schema import near

ID_LENGTH = 64
NAME_LENGTH = 200
SECTION = "section"
MOST_SECTIONS = 200
PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,63}")
# Names that a Windows disk keeps for devices.
RESERVED = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])", re.IGNORECASE)
_SHORTENED = re.compile(r"\d([.,]\d+)?E\+\d+", re.IGNORECASE)  # a long number as spreadsheets write it


@dataclass(frozen=True, slots=True)
class Student:
    """One student of the course.

    id: the institution's id, as text with its leading zeros.
    name: the name as it stands in the class list; may be empty.
    email: the address, or empty.
    section: the section, or empty.
    """

    id: str
    name: str = ""
    email: str = ""
    section: str = ""


def plain_id(identity: str) -> str:
    """An id without what programs change in it: capitals, blanks around it, leading zeros.

    >>> plain_id(" S017 "), plain_id("007"), plain_id("000")
    ('s017', '7', '0')
    """
    plain = unicodedata.normalize("NFC", identity).strip().casefold()
    return plain.lstrip("0") or plain[-1:]


def file_name(identity: str) -> str:
    """A student's id as part of a file name: safe on every disk, and no two ids alike.

    Letters, digits, ``-`` and ``_`` stay; any other character becomes ``~`` and its code point, and a
    name that a disk keeps for itself gets a ``~`` at its end.

    >>> file_name("00123"), file_name("a/b"), file_name("con")
    ('00123', 'a~2f~b', 'con~')
    """
    if PLAIN.fullmatch(identity):
        return identity + "~" if RESERVED.fullmatch(identity) else identity
    return "".join(c if PLAIN.fullmatch(c) or c in "-_" else f"~{ord(c):x}~" for c in identity)


def same_id(spelling: str, identity: str) -> bool:
    """Whether a spelling is an id of the class list: capitals and parted accents make no difference."""
    return spelling == identity or (
        unicodedata.normalize("NFC", spelling).casefold() == unicodedata.normalize("NFC", identity).casefold()
    )


class Roster:
    """The students of a course, in the order of the class list.

    students: the students; two with the same id are refused.
    remarks: what was met in reading it, a sentence each.
    ValueError if an id is empty, too long, or there twice.

    >>> roster = Roster([Student("007", "Ada", section="A"), Student("012", "Ben", section="B")])
    >>> len(roster), roster.find("012").name, "12" in roster, roster.sections
    (2, 'Ben', False, ('A', 'B'))
    """

    def __init__(self, students: Iterable[Student], remarks: Iterable[str] = ()):
        self._students = Shelf()
        self._alike: Shelf | None = None
        self._sections: set[str] = set()
        spelt: dict[str, str] = {}  # id by its spelling without capitals; held while the list is read
        for student in students:
            _check_id(student.id, "roster")
            small = student.id.casefold()
            if small in spelt:
                raise ValueError(
                    f"roster: id {student.id!r} is there twice (also as {spelt[small]!r}); each student"
                    " needs an id of their own, different in more than capitals"
                )
            spelt[small] = student.id
            self._students[student.id] = "\0".join((student.id, student.name, student.email, student.section))
            self._sections.add(student.section)
        self.remarks = tuple(remarks)
        if len(self.sections) > MOST_SECTIONS:
            raise ValueError(
                f"roster: {len(self.sections)} different sections for {len(self)} students, at most"
                f" {MOST_SECTIONS} are allowed; is this the column of the sections?"
            )

    def __iter__(self) -> Iterator[Student]:
        return (Student(*text.split("\0")) for text in self._students.values_in_order())

    def __len__(self) -> int:
        return len(self._students)

    def __contains__(self, identity: str) -> bool:
        return identity in self._students

    def find(self, identity: str) -> Student:
        """The student with this id.

        ValueError if nobody in the class list has this id.
        """
        try:
            return Student(*self._students[identity].split("\0"))
        except KeyError:
            raise ValueError(f"id {identity!r} is not in the roster of {len(self)} students") from None

    def like(self, spelling: str) -> Student | None:
        """The one student whose id differs from a spelling in capitals, blanks or leading zeros only.

        Returns None if nobody's does, or more than one's.
        """
        alike = self._by_plain_id().get(plain_id(spelling), "").split("\0")
        return self.find(alike[0]) if len(alike) == 1 and alike[0] else None

    def _by_plain_id(self) -> Shelf:
        if self._alike is None:
            self._alike = Shelf()
            for identity in self._students:
                self._alike.append(plain_id(identity), identity, "\0")
        return self._alike

    def doubts(self) -> list[str]:
        """Ids that may be one student twice, a sentence each: two that differ in leading zeros only."""
        return [
            f"ids {', '.join(map(one_line, alike))} differ in leading zeros only and are taken for"
            f" {len(alike)} students; strike off a line if it is one"
            for text in self._by_plain_id().values_in_order()
            if len(alike := text.split("\0")) > 1
        ]

    @property
    def sections(self) -> tuple[str, ...]:
        """The sections there are, in the order of their names; students without one are in none."""
        return tuple(sorted(self._sections - {""}))

    def section(self, name: str) -> "Roster":
        """The students of one section.

        ValueError if there is no such section; those there are are listed.
        """
        there = [section for section in self.sections if section.casefold() == name.strip().casefold()]
        chosen = name if name in self.sections else there[0] if len(there) == 1 else None
        if chosen is None:
            raise ValueError(
                f"section {name!r}: nobody in the roster is in it{near(name, self.sections)}; there are"
                f" {', '.join(map(one_line, self.sections)) or 'none (the roster has no column section)'}"
            )
        return Roster(student for student in self if student.section == chosen)


def _check_id(identity: str, where: str) -> None:
    if not identity:
        raise ValueError(f"{where}: a student without an id; fill in the column id")
    if len(identity) > ID_LENGTH:
        raise ValueError(
            f"{where}: id {identity[:20]!r}... has {len(identity)} characters; at most {ID_LENGTH} are"
            " allowed"
        )
    if not identity.isprintable():
        raise ValueError(f"{where}: id {identity!r} holds a control character; type it again")


def read_roster(path: Path, section: str = SECTION) -> Roster:
    """Read a class list from a CSV file.

    The first line names the columns: ``id``, ``name`` and, if wanted, ``email`` and ``section``; others are
    left alone. UTF-8, UTF-16 or Windows-1252, with or without a byte order mark; columns parted by comma,
    semicolon or tab. Ids are text: leading zeros stay.

    section: name of the column that tells the section.
    Returns the students in the order of the file, with remarks on what was met.
    ValueError if the file is not such a list; the message names the line and what to do.
    """
    try:
        text, encoding = text_of(Path(path).read_bytes())
    except OSError as error:
        raise ValueError(f"roster {path}: cannot be read ({error.strerror}); check the file name") from None
    except ValueError:
        raise ValueError(
            f"roster {path}: is not text (UTF-8, UTF-16, Windows-1252); save it again as 'CSV UTF-8'"
        ) from None
    if "\0" in text:
        raise ValueError(f"roster {path}: is not CSV text (zero bytes in it); save it again as 'CSV UTF-8'")
    remarks = []
    if encoding == "Windows-1252":
        remarks.append(
            f"The roster {path} was read as Windows-1252: look at names with accents, and save it as"
            " 'CSV UTF-8' if one is wrong."
        )
    # a first line "sep=;" is for spreadsheets only
    hint = re.match(r'"?sep=([,;\t])"?\r?\n', text)
    text = text[hint.end() :] if hint else text
    between = hint[1] if hint else parting(text)
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=between, strict=True)
    try:
        columns = [cell.strip().casefold() for cell in next(rows, [])]
        wanted = section.strip().casefold()
        for column in ("id", "name", *([wanted] if wanted != SECTION or columns.count(wanted) > 1 else [])):
            if columns.count(column) != 1:
                raise ValueError(
                    f"roster {path}: line 1 names the columns "
                    f"{one_line(', '.join(columns))[:200] or '(none)'}; "
                    f"exactly one must be called {column!r}"
                )
        roster = Roster(_students(rows, columns, wanted, path, bool(hint)), remarks)
    except csv.Error as error:
        raise ValueError(
            f"roster {path}: line {rows.line_num} is not a CSV line ({one_line(str(error))});"
            " save it again as CSV"
        ) from None
    roster.remarks += tuple(f"Roster: {doubt}." for doubt in roster.doubts())
    return roster


def _students(rows, columns: list[str], section: str, path: Path, below: bool) -> Iterator[Student]:
    """Each line as a student, with the line named in every complaint; `below`: one line stood above."""
    lines: dict[str, int] = {}  # id to its line
    for row in rows:
        if not any(cell.strip() for cell in row):
            continue
        line = rows.line_num + below
        if len(row) > len(columns) and any(cell.strip() for cell in row[len(columns) :]):
            raise ValueError(
                f"roster {path}, line {line}: has {len(row)} columns, the first line names {len(columns)};"
                " put a name with a comma in it into quotation marks"
            )
        cells = dict(zip(columns, (unicodedata.normalize("NFC", cell.strip()) for cell in row)))
        identity, name = cells.get("id", ""), cells.get("name", "")
        _check_id(identity, f"roster {path}, line {line}")
        if _SHORTENED.fullmatch(identity):
            raise ValueError(
                f"roster {path}, line {line}: id {identity!r} is a number that a spreadsheet shortened; set"
                " the column to text there, fill the ids in again and save it as CSV"
            )
        for word, text in (("name", name), ("section", cells.get(section, ""))):
            if len(text) > NAME_LENGTH:
                raise ValueError(
                    f"roster {path}, line {line}: the {word} has {len(text)} characters; at most"
                    f" {NAME_LENGTH} are allowed"
                )
        small = identity.casefold()
        if small in lines:
            raise ValueError(
                f"roster {path}: id {identity!r} is in line {lines[small]} and in line {line} (capitals"
                " make no difference); give each student one line"
            )
        lines[small] = line
        yield Student(identity, name, cells.get("email", ""), cells.get(section, ""))
    if not lines:
        raise ValueError(f"roster {path}: no student in it; write one line for each below the column names")
