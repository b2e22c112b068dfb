"""Reading a file of decisions: its tables, each with its line, and what is wrong with it in words."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, StringConstraints, ValidationError

from gearlab.course.decisions.tables import KINDS, Table
from gearlab.quoting import one_line
from gearlab.schema import near, spot, told
from gearlab.toml import tables_of

FILE_LIMIT = 1_000_000  # bytes
LINE_LIMIT = 10_000  # characters: a longer line makes the reading of dotted names slow
DOTS = 60  # in a line, outside quotation marks: dotted names of thousands of parts take minutes to read
MOST = 5000  # decisions in a file
MOST_TOLD = 12  # problems told at once
DEEPEST = 8  # levels of tables and lists: a file of decisions has three
_QUOTED = re.compile(r"\"[^\"]*\"|'[^']*'")
_LARGEST = 10**12  # no number of a decision is larger


class Refused(ValueError):
    """A file of decisions is not in order; the message names every place, up to a dozen."""

    def __init__(self, path: Path, problems: Iterable[str]):
        lines = [_short(problem) for problem in problems]
        more = f"\n(and {len(lines) - MOST_TOLD} more)" if len(lines) > MOST_TOLD else ""
        if len(lines) == 1:
            super().__init__(f"decisions {path}{lines[0]}")
        else:
            told = "\n".join(f"  {line.lstrip(',: ')}" for line in lines[:MOST_TOLD])
            super().__init__(f"decisions {path}:\n{told}{more}")


def _short(text: str) -> str:
    return one_line(text if len(text) <= 600 else text[:600] + " ...")


@dataclass(frozen=True)
class Tables:
    """What stands in a file of decisions, each table with its line, before names are checked."""

    path: Path
    set_name: str
    rows: tuple[tuple[Table, int], ...]
    lines: tuple[str, ...] = ()

    def place(self, table: Table, line: int, name: str = "") -> str:
        """Where something stands, for a message: the line of a field, else that of its table."""
        number = field_line(self.lines, line, name) if line else 0
        return f"{f', line {number}' if number else ''}: [[{table.kind}]]{f' {name}' if name else ''}"


class _Head(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)
    set: Annotated[str, StringConstraints(max_length=80)] = ""


def read_tables(path: Path, content: bytes | None = None) -> Tables:
    """Read a file of decisions; what the names in it mean is not looked at yet.

    Refused (a ValueError) if it is none; the message names each line and what to do.
    """
    path = Path(path)
    text = _text(path, content)
    data = _parsed(path, text)
    lines = tuple(text.split("\n"))
    heads = head_lines(lines)
    problems: list[str] = []
    rows: list[tuple[Table, int]] = []
    set_name = data.pop("set", "")
    try:
        _Head.model_validate({"set": set_name})
    except ValidationError as error:
        problems.append(f": set: {told(error.errors()[0], _Head)}")
        set_name = ""
    for name, tables in data.items():
        kind = KINDS.get(name)
        if kind is None:
            line = heads.get(name, [0])[0]
            problems.append(
                f"{f', line {line}' if line else ''}: {name!r} is no decision{near(name, KINDS)}; there are"
                f" {', '.join(KINDS)}"
            )
        elif not isinstance(tables, list):
            problems.append(f": {name}: begins with [[{name}]], in two pairs of brackets")
        else:
            known = heads.get(name, [])
            known = known if len(known) == len(tables) else [0] * len(tables)
            rows += _rows(kind, tables, known, lines, problems)
    if len(rows) > MOST:
        problems.append(f": holds {len(rows)} decisions; at most {MOST}: name several students in one")
    if problems:
        raise Refused(path, problems)
    rows.sort(key=lambda row: row[1])
    return Tables(path, set_name, tuple(rows), lines)


def _text(path: Path, content: bytes | None) -> str:
    if content is None:
        try:
            with open(path, "rb") as file:
                content = file.read(FILE_LIMIT + 1)
        except OSError as error:
            raise ValueError(
                f"decisions {path}: cannot be read ({error.strerror}); check the file name"
            ) from None
    if len(content) > FILE_LIMIT:
        raise ValueError(
            f"decisions {path}: is larger than {FILE_LIMIT // 1000} kB; name several students in one decision"
        )
    try:
        text = content.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError:
        raise ValueError(
            f"decisions {path}: is not UTF-8 text; save it again with the encoding UTF-8 (some editors"
            " ask for it under 'Save as')"
        ) from None
    for number, line in enumerate(text.split("\n"), start=1):
        if len(line) > LINE_LIMIT:
            raise ValueError(
                f"decisions {path}, line {number}: has {len(line)} characters; at most {LINE_LIMIT}: a list"
                " may go over several lines"
            )
        if line.count(".") > DOTS and _QUOTED.sub("", line).count(".") > DOTS:
            raise ValueError(
                f"decisions {path}, line {number}: has more than {DOTS} dots outside quotation marks; a name"
                " of a decision has none, and a long text may go over several lines"
            )
    return text


def _parsed(path: Path, text: str) -> dict[str, Any]:
    try:
        data = tables_of(text)
    except ValueError as error:
        raise Refused(path, [f": is not valid TOML: {error}"]) from None
    if not _plain(data):
        raise Refused(
            path, [f": a number is larger than {_LARGEST:g}, or tables lie more than {DEEPEST} deep"]
        )
    return data


def _plain(data: Any) -> bool:
    """Whether nothing in it is too deep or too large to be told."""
    layer: list[Any] = [data]
    for _ in range(DEEPEST):
        inner: list[Any] = []
        for value in layer:
            if isinstance(value, dict):
                inner += value.values()
            elif isinstance(value, list):
                inner += value
            elif isinstance(value, (int, float)) and not abs(value) <= _LARGEST:  # nan compares as false
                return False
        layer = inner
    return not layer


def _rows(
    kind: type[Table], tables: list, heads: list[int], lines: tuple[str, ...], problems: list[str]
) -> list[tuple[Table, int]]:
    rows = []
    for number, (data, line) in enumerate(zip(tables, heads), start=1):
        where = f": [[{kind.kind}]] number {number}"
        try:
            table = kind.model_validate(data)
        except ValidationError as error:
            faults: dict[tuple, Any] = {}
            for fault in error.errors():  # which of several forms a value may have says nothing to a person
                faults.setdefault(fault["loc"][:1], fault)
            for place, fault in faults.items():
                name = str(place[0]) if place else ""
                at = f", line {field_line(lines, line, name)}: [[{kind.kind}]]" if line else where
                problems.append(f"{at} {spot(place) or 'table'}: {told(fault, kind)}")
            continue
        at = f", line {line}: [[{kind.kind}]]" if line else where
        problems += [f"{at} {words}" for words in table.faults()]
        rows.append((table, line))
    return rows


_HEADER = re.compile(r"\s*\[{1,2}\s*[\"']?([\w-]+)[\"']?\s*\]{1,2}\s*(?:#.*)?$")


def head_lines(lines: Iterable[str]) -> dict[str, list[int]]:
    """The lines in which tables begin, by the name of the table, counted from 1."""
    heads: dict[str, list[int]] = {}
    inside = ""
    for number, line in enumerate(lines, start=1):
        if inside:
            if line.count(inside) % 2:
                inside = ""
            continue
        if header := _HEADER.match(line):
            heads.setdefault(header[1], []).append(number)
        for quotes in ('"""', "'''"):
            if line.count(quotes) % 2:
                inside = quotes
    return heads


def field_line(lines: tuple[str, ...], head: int, name: str) -> int:
    """The line of a field in the table that begins in a line; that line where it is not found."""
    if name:
        for number in range(head, len(lines)):
            if _HEADER.match(lines[number]):
                break
            if re.match(rf"\s*[\"']?{re.escape(name)}[\"']?\s*=", lines[number]):
                return number + 1
    return head
