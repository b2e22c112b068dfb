"""The class list: who is in the course."""

import csv
import io
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

ID_LENGTH = 64
NAME_LENGTH = 200


@dataclass(frozen=True, slots=True)
class Student:
    """One student of the course.

    id: the institution's id, as text with its leading zeros.
    name: the name as it stands in the class list; may be empty.
    email: the address, or empty.
    section: the section of the course, or empty.
    """

    id: str
    name: str = ""
    email: str = ""
    section: str = ""


class Roster:
    """The students of a course, in the order of the class list.

    students: the students; two with the same id are refused.
    ValueError if an id is empty, too long, or there twice.

    >>> roster = Roster([Student("007", "Ada"), Student("012", "Ben")])
    >>> len(roster), roster.find("012").name, "12" in roster
    (2, 'Ben', False)
    """

    def __init__(self, students: Iterable[Student]):
        self._students: dict[str, Student] = {}
        capitals: dict[str, str] = {}  # small spelling to id, for the ids that have capitals
        for student in students:
            _check_id(student.id, "roster")
            small = student.id.casefold()
            other = capitals.get(small) or (small if small in self._students else None)
            if other is not None:
                raise ValueError(
                    f"roster: id {student.id!r} stands there twice (also as {other!r}); "
                    "each student needs an id of their own, different in more than capitals"
                )
            if small != student.id:
                capitals[small] = student.id
            self._students[student.id] = student

    def __iter__(self) -> Iterator[Student]:
        return iter(self._students.values())

    def __len__(self) -> int:
        return len(self._students)

    def __contains__(self, identity: str) -> bool:
        return identity in self._students

    def find(self, identity: str) -> Student:
        """The student with this id.

        ValueError if nobody in the class list has this id.
        """
        try:
            return self._students[identity]
        except KeyError:
            raise ValueError(f"id {identity!r} is not in the roster of {len(self)} students") from None


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


def read_roster(path: Path) -> Roster:
    """Read a class list from a CSV file.

    The first line names the columns: ``id``, ``name`` and, if wanted, ``email``; others are left
    alone. UTF-8 with or without a byte order mark; columns parted by comma, semicolon or tab. Ids are
    text: leading zeros stay.

    Returns the students in the order of the file.
    ValueError if the file is not such a list; the message names the line and what to do.
    """
    try:
        text = Path(path).read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise ValueError(f"roster {path}: cannot be read ({error.strerror}); check the file name") from None
    except UnicodeDecodeError:
        raise ValueError(f"roster {path}: is not UTF-8 text; save it again as 'CSV UTF-8'") from None
    first = text.split("\n", 1)[0]
    parting = max(",;\t", key=first.count)
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=parting, strict=True)
    try:
        columns = [cell.strip().casefold() for cell in next(rows, [])]
        for column in ("id", "name"):
            if columns.count(column) != 1:
                raise ValueError(
                    f"roster {path}: line 1 names the columns {', '.join(columns) or '(none)'}; "
                    f"exactly one must be called {column!r}"
                )
        return Roster(_students(rows, columns, path))
    except csv.Error as error:
        raise ValueError(
            f"roster {path}: line {rows.line_num} is not a CSV line ({error}); save it again as CSV"
        ) from None


def _students(rows, columns: list[str], path: Path) -> Iterator[Student]:
    """Each line as a student, with the line named in every complaint."""
    lines: dict[str, int] = {}
    for row in rows:
        if not any(cell.strip() for cell in row):
            continue
        line = rows.line_num
        cells = dict(zip(columns, (unicodedata.normalize("NFC", cell.strip()) for cell in row)))
        identity, name = cells.get("id", ""), cells.get("name", "")
        _check_id(identity, f"roster {path}, line {line}")
        if len(name) > NAME_LENGTH:
            raise ValueError(
                f"roster {path}, line {line}: the name has {len(name)} characters; at most {NAME_LENGTH} are"
                " allowed"
            )
        small = identity.casefold()
        before = lines.setdefault(identity if identity == small else small, line)
        if before != line:
            raise ValueError(
                f"roster {path}: id {identity!r} stands in line {before} and in line {line} (capitals make no"
                " difference); give each student one line"
            )
        yield Student(identity, name, cells.get("email", ""))
    if not lines:
        raise ValueError(f"roster {path}: no student in it; write one line for each below the column names")
