"""Points for the gradebook: a plain file, or the instructor's own filled in."""

import csv
import re
from collections.abc import Callable, Iterable
from functools import lru_cache
from pathlib import Path

from gearlab.course.roster import Roster, file_name, plain_id
from gearlab.digits import placed_text
from gearlab.quoting import one_line, parting
from gearlab.writing import write_whole

COLUMNS = ("id", "name", "points", "out of", "comment")
COMMENT_LENGTH = 500
_RISKY = frozenset("=+-@\t\r\n\uff1d\uff0b\uff0d\uff20")  # how a cell begins that a spreadsheet runs


def harmless(text: str) -> str:
    """A text cell that no spreadsheet runs as a formula.

    Returns one line; an apostrophe stands before a leading ``=``, ``+``, ``-``, ``@``, tab or return.

    >>> harmless("=1+1"), harmless("Ada")
    ("'=1+1", 'Ada')
    """
    risky = text.lstrip(" ")[:1] in _RISKY
    return "'" * risky + one_line(text)


@lru_cache(maxsize=4096)
def points_text(points: float | None) -> str:
    """Points as a gradebook holds them: a decimal point, at most two places, nothing for none.

    points: the points; None where nothing is to be marked.
    Returns the number as text, or empty.

    >>> points_text(7.5), points_text(8.0), points_text(None)
    ('7.5', '8', '')
    """
    return "" if points is None else placed_text(points, 2)


class _Through:
    """Hands on what is written to it, which `csv` gives back as a line."""

    @staticmethod
    def write(text: str) -> str:
        return text


csv_line = csv.writer(_Through, lineterminator="\n").writerow  # cells as a line of a table


def gradebook_line(identity: str, name: str, points: float | None, out_of: float, comment: str) -> str:
    """The line of one student as it stands in a gradebook.

    points: points reached; None leaves the cell blank.
    comment: one line about it.

    >>> gradebook_line("007", "Ada", 7.5, 10.0, "3 right, 1 close")
    '007,Ada,7.5,10,"3 right, 1 close"\\n'
    """
    comment = harmless(comment)[:COMMENT_LENGTH]
    return csv_line((harmless(identity), harmless(name), points_text(points), points_text(out_of), comment))


def gradebook_files(sections: Iterable[str]) -> dict[str, str]:
    """Where the gradebook of a class lies in its results and, by section, those of its sections.

    >>> gradebook_files(["B 2"])
    {'': 'gradebook.csv', 'B 2': 'gradebooks/B~20~2.csv'}
    """
    return {"": "gradebook.csv"} | {name: f"gradebooks/{file_name(name)}.csv" for name in sections}


# One cell of a CSV line as it stands in the file, with its quotes; then what ends it.
_CELL = r'("(?:[^"]|"")*"|[^{part}\r\n"]*)({part}|\r\n|\n|\r|\Z)'


class Template:
    """An instructor's own gradebook file, as it was downloaded: every character of it is kept.

    path: the CSV file; its first line names the columns.
    ValueError if it is not such a file.
    """

    def __init__(self, path: Path):
        self.path = Path(path)
        try:
            content = self.path.read_bytes()
            text = content.decode("utf-8-sig")
        except OSError as error:
            raise ValueError(
                f"gradebook {path}: cannot be read ({error.strerror}); check the file name"
            ) from None
        except UnicodeDecodeError:
            raise ValueError(f"gradebook {path}: is not UTF-8 text; download it again as CSV") from None
        self._mark = content[:3] if content.startswith(b"\xef\xbb\xbf") else b""
        self._part = parting(text)
        self._lines = self._cut(text)
        if len(self._lines) < 2:
            raise ValueError(
                f"gradebook {path}: has no line below its column names; download it with the students in it"
            )
        self.columns = [self._plain(cell) for cell in self._lines[0][0]]

    def _cut(self, text: str) -> list[tuple[list[str], str]]:
        """The lines as lists of raw cells, each with what ended the line."""
        cell = re.compile(_CELL.format(part=re.escape(self._part)))
        lines: list[tuple[list[str], str]] = []
        cells: list[str] = []
        place = 0
        while place < len(text) or cells:
            match = cell.match(text, place)
            if match is None:
                raise ValueError(
                    f"gradebook {self.path}: line {len(lines) + 1} has a quotation mark in the wrong place;"
                    " download it again"
                )
            cells.append(match[1])
            place = match.end()
            if match[2] != self._part:
                lines.append((cells, match[2]))
                cells = []
        return lines

    @staticmethod
    def _plain(cell: str) -> str:
        cell = cell.strip()
        return cell[1:-1].replace('""', '"').strip() if cell.startswith('"') else cell

    def fill(
        self, points: dict[str, float], roster: Roster, column: str
    ) -> tuple[bytes, list[str], list[str]]:
        """The file with the points filled in, nothing else changed.

        points: id to points, for those who have any; the others' cells are left as they are.
        roster: the class list; a line is found by its id or its address.
        column: name of the points column; it is added at the end if missing.
        Returns the file; the changes in words; what did not fit in words.
        ValueError if the student column or the points column cannot be told for sure.
        """
        keys = {plain_id(student.id): student.id for student in roster if roster.like(student.id)}
        keys |= {student.id.casefold(): student.id for student in roster}
        keys |= {student.email.casefold(): student.id for student in roster if student.email}
        ids = self._id_column(keys)
        wanted = [i for i, name in enumerate(self.columns) if name.casefold() == column.casefold()]
        wanted = wanted or [
            i for i, name in enumerate(self.columns) if name.casefold().startswith(column.casefold())
        ]
        if len(wanted) > 1:
            raise ValueError(
                f"gradebook {self.path}: {len(wanted)} columns are called {column!r}; name the right one in"
                " full"
            )
        target = wanted[0] if wanted else len(self.columns)
        lines, unmatched = [], []
        changes: list[str] = []
        seen: dict[str, int] = {}
        for number, (cells, ending) in enumerate(self._lines, start=1):
            cells = list(cells)
            if number == 1:
                if not wanted:
                    cells.append(self._quoted(column))
            elif any(cells):
                student = _whose(self._plain(cells[ids]), keys) if ids < len(cells) else None
                if student is None:
                    unmatched.append(
                        f"line {number}: {one_line(self._plain(cells[ids])) if ids < len(cells) else ''!r} is"
                        " not in the roster"
                    )
                elif student in seen:
                    raise ValueError(
                        f"gradebook {self.path}: id {student!r} is in line {seen[student]} and in line"
                        f" {number}; leave one"
                    )
                else:
                    seen[student] = number
                    self._fill_line(cells, target, points.get(student), student, changes)
                if not wanted and len(cells) == target:
                    cells.append("")
            lines.append(self._part.join(cells) + ending)
        unmatched += [
            f"id {student.id!r} has no line in the gradebook" for student in roster if student.id not in seen
        ]
        return self._mark + "".join(lines).encode("utf-8"), changes, unmatched

    def _fill_line(
        self, cells: list[str], target: int, points: float | None, student: str, changes: list[str]
    ) -> None:
        if points is None:
            return
        cells.extend([""] * (target + 1 - len(cells)))
        new, old = points_text(points), self._plain(cells[target])
        if new != old:
            changes.append(f"{student}: {one_line(old) or '(blank)'} becomes {new}")
            cells[target] = f'"{new}"' if cells[target].startswith('"') else new

    def _id_column(self, keys: dict[str, str]) -> int:
        """The one column whose cells are ids or addresses of the class list."""
        hits = self._hits(keys, lambda cell, keys: keys.get(cell.casefold()))
        hits = hits if max(hits) else self._hits(keys, _whose)
        best = max(hits)
        columns = [i for i, count in enumerate(hits) if count == best]
        if best == 0:
            raise ValueError(
                f"gradebook {self.path}: no column holds ids or addresses of the roster; check that both are"
                " of one course"
            )
        # An id and an address column that fit equally well name the same students: the first will do.
        rows = self._lines[1:]
        for i in columns[1:]:
            for cells, _ in rows:
                student, other = (
                    _whose(self._plain(cells[j]), keys) if j < len(cells) else None for j in (columns[0], i)
                )
                if student != other:
                    names = " and ".join(repr(self.columns[j]) for j in (columns[0], i))
                    raise ValueError(
                        f"gradebook {self.path}: the columns {names} name different students of the roster;"
                        " remove one"
                    )
        return columns[0]

    def _hits(self, keys: dict[str, str], whose: Callable[[str, dict[str, str]], str | None]) -> list[int]:
        """How many cells of each column name a student."""
        hits = [0] * len(self.columns)
        for cells, _ in self._lines[1:]:
            for i, cell in enumerate(cells[: len(hits)]):
                hits[i] += whose(self._plain(cell), keys) is not None
        return hits

    def _quoted(self, text: str) -> str:
        text = harmless(text)
        return (
            '"' + text.replace('"', '""') + '"'
            if re.search(r'["\r\n]|' + re.escape(self._part), text)
            else text
        )


def _whose(cell: str, keys: dict[str, str]) -> str | None:
    """The id of the student whom a cell names, also where a spreadsheet dropped leading zeros."""
    return keys.get(cell.casefold()) or keys.get(plain_id(cell))


def fill_template(
    template: Path, target: Path, points: dict[str, float], roster: Roster, column: str
) -> tuple[list[str], list[str]]:
    """Fill the points into a copy of the instructor's own gradebook file.

    template: the file as downloaded; it is not touched.
    target: the filled copy.
    points: id to points.
    column: name of the points column.
    Returns the changes, and what did not fit, in words.
    ValueError if the file is not clear enough to be filled; nothing is written then.
    """
    content, changes, unmatched = Template(template).fill(points, roster, column)
    write_whole(target, content)
    return changes, unmatched


def filled_in(
    template: Path, results: Path, points: dict[str, float], roster: Roster, column: str
) -> list[str]:
    """The same into a folder of results, as `gradebook_filled.csv`; what came of it, a line each."""
    target = results / "gradebook_filled.csv"
    changes, unmatched = fill_template(template, target, points, roster, column)
    return [f"{target.name}: {len(changes)} cells filled", *(f"  not matched: {line}" for line in unmatched)]
