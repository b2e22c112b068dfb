"""What one file holds about a student, and the same file without it: by kind of file.

Each reader gives a `Held`: what is there, in words, and the content that stays. Nothing is written here.
"""

from __future__ import annotations

import csv
import io
import json
import re
import unicodedata
import zipfile
from collections.abc import Callable
from dataclasses import dataclass, field
from html import unescape
from pathlib import Path

from gearlab.course.decisions.file import head_lines
from gearlab.course.gradebook import harmless
from gearlab.course.roster import file_name
from gearlab.practice.handin import FILE_LIMIT, RETURNED_NAME, read_hand_in
from gearlab.quoting import one_line, parting
from gearlab.toml import tables_of

REMOVED = "(removed)"
LARGEST = 300_000_000  # bytes of a file that is looked into
_SHOWN = 160  # characters of a row that are shown
# SET_ID.ipynb, SET_ID.html: the name of a set has no underscore
_OWN = re.compile(
    r"^[a-z0-9-]{1,80}_(?P<id>.+?)(?:[ _]*\(\d+\)|[ _-]*copy\d*)?\.(?:ipynb|html|pdf)$", re.IGNORECASE
)
_ROW = re.compile(r"[ \t]*<(tr|li)\b[^>]*>(?:(?!<(?:tr|li)\b).)*?</\1>\n?", re.DOTALL)  # the innermost rows
_CLASS_PAGES = {
    "report.html": "gearlab mark",
    "pairs.html": "gearlab mark",
    "term.html": "gearlab term",
    "all_sheets.html": "gearlab hand-out",
}


@dataclass(frozen=True, slots=True)
class Person:
    """Whose data is looked for."""

    id: str
    name: str = ""
    email: str = ""

    def is_id(self, text: str) -> bool:
        """Whether a text spells this student's id, as in a file name too."""
        spelt = unicodedata.normalize("NFC", text.strip()).casefold()
        return spelt in (self.id.casefold(), file_name(self.id).casefold(), harmless(self.id).casefold())

    @property
    def mentions(self) -> re.Pattern[str]:
        """How lists about other students name this one."""
        ways = [re.escape(repr(self.id)), self._in_file_name]
        if self.name:
            ways.append(re.escape(f"{one_line(self.id)} ({one_line(self.name)})"))
        return re.compile("|".join(ways))

    @property
    def _in_file_name(self) -> str:
        return rf"(?<=_){re.escape(file_name(self.id))}(?=(?: \(\d+\))?\.(?:json|ipynb|html))"

    @property
    def named(self) -> re.Pattern[str]:
        """How a page of the class names this student."""
        ways = [rf"(?<![\w.-]){re.escape(way)}(?![\w.-])" for way in (self.id, self.name) if len(way) > 2]
        ways += [rf">{re.escape(self.id)}[< ]"]  # a short id may be any number of the page
        return re.compile("|".join([*ways, self._in_file_name]))

    @property
    def words(self) -> re.Pattern[str]:
        """The id, or the whole name, standing alone in a text."""
        ways = [self.id] if len(self.id) >= 3 else []
        ways += [self.name] if len(self.name) >= 5 and " " in self.name else []
        return re.compile("|".join(rf"(?<![\w-]){re.escape(way)}(?![\w-])" for way in ways) or r"(?!)")


@dataclass(slots=True)
class Held:
    """What a file holds about a student.

    what: in words, one line each.
    whole: the file is about this student alone, or is made anew by a command: it goes as a whole.
    stays: the content without the student, where only a part of it goes.
    left: what would be left, with the reason; while there is any, nothing is removed.
    """

    path: Path
    what: list[str] = field(default_factory=list)
    whole: bool = False
    stays: bytes | None = None
    left: list[str] = field(default_factory=list)


def held_in(path: Path, person: Person) -> Held | None:
    """What a file holds about a student; None for nothing."""
    held = Held(path)
    name = path.name
    if _named_after(path, person):
        _own(held, person)
    elif path.stat().st_size > LARGEST:
        held.left.append(f"is larger than {LARGEST // 1_000_000} MB and was not looked into")
    else:
        reader = _READERS.get(path.suffix.lower(), _plain)
        if name == "evidence.json":
            reader = _evidence
        reader(held, person)
    return held if held.what or held.left else None


def _named_after(path: Path, person: Person) -> bool:
    """Whether a file's name says that it is this student's."""
    hand_in, own = RETURNED_NAME.search(path.name), _OWN.match(path.name)
    if hand_in is not None and path.suffix.lower() == ".json":
        return person.is_id(hand_in["id"])
    if own is not None and path.name not in _CLASS_PAGES:
        return person.is_id(own["id"])
    return path.parent.name in ("feedback", "students") and person.is_id(path.stem)


def _own(held: Held, person: Person) -> None:
    """A file of this student's; a hand-in that names somebody else inside is nobody's to remove."""
    held.whole = True
    held.what.append("the whole file")
    if held.path.suffix.lower() == ".json":
        inside = _id_inside(held.path.read_bytes()[: FILE_LIMIT + 1])
        if inside is not None and not person.is_id(inside):
            held.left.append(f"has this student's id in its name and {inside!r} inside: see whose it is")


def _id_inside(content: bytes) -> str | None:
    try:
        return read_hand_in(content).student
    except ValueError:
        return None


def _json(held: Held, person: Person) -> None:
    content = held.path.read_bytes()
    inside = _id_inside(content[: FILE_LIMIT + 1])
    if inside is None:
        _plain(held, person)
    elif person.is_id(inside):
        held.whole = True
        held.what.append("the whole file: the id is inside")


# -- tables --------------------------------------------------------------------------------------------
def _table(held: Held, person: Person) -> None:
    """Rows of a CSV file whose id is this one; where other rows mention the student, the mention goes."""
    content = held.path.read_bytes()
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        held.left.append("is not UTF-8 text and was not looked into")
        return
    mark = b"\xef\xbb\xbf" if content.startswith(b"\xef\xbb\xbf") else b""
    lines = text.splitlines(keepends=True) if "\x0b" not in text else text.split("\n")
    if "".join(lines) != text:
        lines = [*(line + "\n" for line in text.split("\n"))]
    rows = csv.reader(iter(lines), delimiter=parting(lines[0] if lines else ""))
    kept: list[str] = []
    ids: list[int] | None = None
    before = 0
    try:
        for row in rows:
            raw = "".join(lines[before : rows.line_num])
            before = rows.line_num
            if ids is None:
                ids = [place for place, cell in enumerate(row) if cell.strip().casefold() == "id"]
            elif _is_row_of(row, ids, person):
                held.what.append(f"row: {one_line(', '.join(row))[:_SHOWN]}")
                continue
            elif person.mentions.search(raw):
                held.what.append(f"a mention in another's row: {one_line(', '.join(row))[:_SHOWN]}")
                raw = person.mentions.sub(REMOVED, raw)
            kept.append(raw)
    except csv.Error as error:
        held.left.append(
            f"line {rows.line_num} is not a CSV line ({one_line(str(error))}); it was not looked into"
        )
        return
    if held.what:
        held.stays = mark + "".join(kept).encode("utf-8")


def _is_row_of(row: list[str], ids: list[int], person: Person) -> bool:
    cells = [row[place] for place in ids if place < len(row)] if ids else row
    if any(person.is_id(cell) for cell in cells):
        return True
    return (
        not ids and bool(person.email) and any(c.strip().casefold() == person.email.casefold() for c in row)
    )


def _evidence(held: Held, person: Person) -> None:
    """Records of the evidence; its totals go down by them."""
    head: list[bytes] = []
    records: list[bytes] = []
    tail: list[bytes] = []
    points, answers, gone = 0.0, 0, 0
    for raw in held.path.read_bytes().split(b"\n"):
        line = raw.rstrip(b",")
        if not line.startswith(b'{"student":'):
            (tail if records or head else head).append(raw)
            continue
        try:
            record = json.loads(line)
            if not person.is_id(str(record["student"])):
                records.append(line)
                continue
            points += float(record["points"])
        except (ValueError, KeyError, TypeError, RecursionError):
            held.left.append("a record of it is damaged; mark again first")
            return
        answers += "verdict" in record
        gone += 1
    if not gone:
        return
    held.what.append(f"{gone} records")
    totals = re.fullmatch(rb'\],"totals":(\{[^{}]*\})\}', b"".join(tail).strip())
    if totals is None:
        held.left.append("its totals are damaged; mark again first")
        return
    sums = json.loads(totals[1])
    sums["students"] -= bool(answers)
    sums["points"] = round(sums["points"] - points, 6)
    closing = b'],"totals":' + json.dumps(sums, separators=(",", ":")).encode() + b"}\n"
    body = b",\n".join(records)
    held.stays = b"\n".join([*head, *([body] if records else []), closing])


# -- decisions -----------------------------------------------------------------------------------------
def _decisions(held: Held, person: Person) -> None:
    """Tables about this student alone go; from others the id goes."""
    try:
        text = held.path.read_bytes().decode("utf-8")
        before = tables_of(text)
    except ValueError:
        held.left.append("is not valid TOML and was not looked into")
        return
    lines = text.split("\n")
    starts = sorted(number - 1 for numbers in head_lines(lines).values() for number in numbers)
    kept: list[str] = []
    for start, end in zip([0, *starts], [*starts, len(lines)]):
        kept += _block(held, person, lines[start:end], kept)
    if not held.what:
        _mentions(held, person, text)
        return
    after = "\n".join(kept)
    try:
        as_wanted = tables_of(after) == _without(before, person)
    except ValueError:
        as_wanted = False
    if not as_wanted:
        held.left.append("is written so that the id cannot be taken out safely: take it out by hand")
        return
    held.stays = after.encode("utf-8")
    _mentions(held, person, after)


def _block(held: Held, person: Person, block: list[str], above: list[str]) -> list[str]:
    """What stays of the lines of one table."""
    text = "\n".join(block)
    try:
        tables = [table for value in tables_of(text).values() if isinstance(value, list) for table in value]
    except ValueError:
        return block
    if len(tables) != 1 or not isinstance(tables[0], dict):
        return block
    named = _named(tables[0])
    if not any(person.is_id(name) for name in named):
        return block
    held.what.append(
        f"a decision: {one_line(' '.join(line.strip() for line in block if line.strip()))[:_SHOWN]}"
    )
    if all(person.is_id(name) for name in named) and not tables[0].get("sections"):
        signs = re.compile(rf"{re.escape(json.dumps(person.id))}|{person.words.pattern}")
        while above and above[-1].startswith("#") and signs.search(above[-1]):
            above.pop()
        end = len(block)
        while end > 1 and (not block[end - 1].strip() or block[end - 1].lstrip().startswith("#")):
            end -= 1
        return block[end:]
    others = [name for name in tables[0].get("students", []) if not person.is_id(name)]
    text = re.sub(
        r"(?m)^([ \t]*students[ \t]*=[ \t]*)\[[^\]]*\]",
        lambda match: match[1] + "[" + ", ".join(json.dumps(name) for name in others) + "]",
        text,
    )
    if person.is_id(str(tables[0].get("student", ""))):
        text = re.sub(r"(?m)^[ \t]*student[ \t]*=.*\n", "", text)
    return text.split("\n")


def _named(table: dict) -> list[str]:
    students = table.get("students", [])
    names = [table.get("student"), *(students if isinstance(students, list) else [])]
    return [name for name in names if isinstance(name, str)]


def _without(data: dict, person: Person) -> dict:
    """A file of decisions without a student, as data: what the edited text has to say."""
    after: dict = {}
    for kind, tables in data.items():
        if not isinstance(tables, list):
            after[kind] = tables
            continue
        rest = []
        for table in tables:
            named = _named(table) if isinstance(table, dict) else []
            if not any(person.is_id(name) for name in named):
                rest.append(table)
            elif table.get("sections") or not all(person.is_id(name) for name in named):
                table = dict(table)
                if person.is_id(str(table.get("student", ""))):
                    del table["student"]
                if "students" in table:
                    table["students"] = [name for name in table["students"] if not person.is_id(name)]
                rest.append(table)
        if rest:
            after[kind] = rest
    return after


def _mentions(held: Held, person: Person, text: str) -> None:
    for number, line in enumerate(text.split("\n"), start=1):
        if person.words.search(line):
            held.left.append(f"line {number} mentions the student: {one_line(line.strip())[:_SHOWN]}")


# -- pages, zips and the rest --------------------------------------------------------------------------
def _page(held: Held, person: Person) -> None:
    """Rows of a class report go; a page that names the student elsewhere goes as a whole, to be made anew."""
    name = "report.html" if held.path.parent.name == "sections" else held.path.name
    if name.startswith("all_sheets_"):  # those of a section
        name = "all_sheets.html"
    if (maker := _CLASS_PAGES.get(name)) is None:
        return  # a page of another student, named after them
    text = held.path.read_bytes().decode("utf-8", "replace")
    if not person.named.search(unescape(text)):
        return
    rest = _ROW.sub(lambda row: "" if person.named.search(unescape(row[0])) else row[0], text)
    if not person.named.search(unescape(rest)):
        held.what.append("rows of the class report")
        held.stays = rest.encode("utf-8")
    else:
        held.whole = True
        held.what.append(f"names the student; the page of the class goes, `{maker}` makes it anew")


def _zip(held: Held, person: Person) -> None:
    """Files of the student inside a zip; it is packed anew without them."""
    try:
        with zipfile.ZipFile(held.path) as archive:
            gone = [entry for entry in archive.infolist() if _in_zip(held, archive, entry, person)]
            if not gone or held.left:
                return
            if sum(entry.file_size for entry in archive.infolist()) > LARGEST:
                held.left.append(
                    f"{len(gone)} files in it, and it is too large to be packed anew: unpack it first"
                )
                return
            target = io.BytesIO()
            with zipfile.ZipFile(target, "w") as fresh:
                for entry in archive.infolist():
                    if entry not in gone:
                        fresh.writestr(entry, archive.read(entry), entry.compress_type)
            held.stays = target.getvalue()
    except (zipfile.BadZipFile, OSError, RuntimeError, NotImplementedError, EOFError) as error:
        held.left.append(f"is a zip that cannot be read ({one_line(str(error))})")


def _in_zip(held: Held, archive: zipfile.ZipFile, entry: zipfile.ZipInfo, person: Person) -> bool:
    path = Path(entry.filename)
    suffix = path.suffix.lower()
    if suffix == ".zip":
        held.left.append(f"{one_line(entry.filename)} in it is a zip as well: unpack it first")
        return False
    mine = _named_after(path, person)
    if suffix == ".json" and entry.file_size <= FILE_LIMIT:
        inside = _id_inside(archive.read(entry))
        if inside is not None and mine and not person.is_id(inside):
            held.left.append(f"{one_line(entry.filename)} in it has {inside!r} inside: see whose it is")
        mine = mine or (inside is not None and person.is_id(inside))
    if mine:
        held.what.append(f"in the zip: {one_line(entry.filename)}")
    return mine


def _plain(held: Held, person: Person) -> None:
    """Any other file: what mentions the student is told, and left to be taken out by hand."""
    content = held.path.read_bytes()
    if b"\0" not in content[:1000]:
        _mentions(held, person, content.decode("utf-8", "replace"))


def _nothing(held: Held, person: Person) -> None:
    """A notebook or a picture of somebody else."""


_READERS: dict[str, Callable[[Held, Person], None]] = {
    ".csv": _table,
    ".json": _json,
    ".toml": _decisions,
    ".html": _page,
    ".zip": _zip,
    ".ipynb": _nothing,
}
