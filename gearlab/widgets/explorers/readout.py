"""The numbers and the words beside a picture, as the page is told of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from ...drawing import numerals
from .inputs import near_word

KINDS = ("task", "note", "warning", "stop", "good")


class Cells:
    """Cells of a readout from the numbers of a thing, by their words; a number given is one's own.

    >>> Cells({"centre_distance": 78.75}, "mm").length("centre_distance")["text"]
    '78.75 mm'
    """

    def __init__(self, numbers: Mapping[str, float], unit: str):
        self.numbers, self.unit = numbers, unit

    def __getitem__(self, word: str) -> float:
        try:
            return self.numbers[word]
        except KeyError:
            near = near_word(word, self.numbers)
            raise LookupError(
                f"a readout has no word {word!r}{near}; give the number with it if it is your own"
            ) from None

    def _cell(self, word: str, value: float | None, write, explained: bool | None, **options: Any) -> dict:
        own = value is not None
        number = self[word] if value is None else value
        return cell(
            word, number, write(number), explained=not own if explained is None else explained, **options
        )

    def length(self, word: str, value: float | None = None, *, explained: bool | None = None, **options: Any):
        """A length [unit]."""
        return self._cell(
            word, value, lambda number: numerals.length(number, self.unit), explained, **options
        )

    def plain(
        self,
        word: str,
        value: float | None = None,
        places: int = 4,
        *,
        explained: bool | None = None,
        **options: Any,
    ) -> dict:
        """A number with no more places than it needs."""
        return self._cell(word, value, lambda number: numerals.plain(number, places), explained, **options)

    def number(
        self,
        word: str,
        value: float | None = None,
        places: int = 3,
        unit: str = "",
        *,
        explained: bool | None = None,
        **options: Any,
    ) -> dict:
        """A number with fixed places."""
        tail = f" {unit}" if unit else ""
        return self._cell(
            word, value, lambda number: numerals.number(number, places) + tail, explained, **options
        )

    def angle(
        self,
        word: str,
        value: float | None = None,
        places: int = 2,
        *,
        plain: bool = False,
        explained: bool | None = None,
        **options: Any,
    ) -> dict:
        """An angle [deg]."""
        size = (numerals.plain if plain else numerals.number)(self[word] if value is None else value, places)
        options = {"spoken": f"{size} degrees"} | options
        return self._cell(word, value, lambda _: f"{size}\u00b0", explained, **options)

    def distance(self, word: str, value: float) -> dict:
        """A length of one's own, written without its sign [unit]."""
        return self.said(word, value, numerals.length(abs(value), self.unit))

    def said(self, word: str, value: float, text: str, **options: Any) -> dict:
        """A number of one's own, written in one's own way."""
        return cell(word, value, text, **{"explained": False} | options)


def cell(
    word: str, value: float, text: str, *, explained: bool = True, alarm: bool = False, spoken: str = ""
) -> dict:
    """One number of a readout.

    Its quantity's word, its value, how it is written and, if not the same, spoken.
    """
    return {
        "word": word,
        "value": value,
        "text": text,
        "explained": explained,
        "alarm": alarm,
        "spoken": spoken or text,
    }


def speed_cell(word: str, speed: float, **options: Any) -> dict:
    """A signed speed of a readout: an arrow for the eye, words for the ear [rpm]."""
    return cell(word, speed, turning(speed), spoken=numerals.speed(speed), **options)


def turning(speed: float) -> str:
    """A signed speed for a table: size and a turning arrow [rpm].

    >>> turning(-6.0), turning(15.0), turning(0.0)
    ('6 rpm \u21bb', '15 rpm \u21ba', '0 rpm')
    """
    arrow = " \u21ba" if speed > 0 else " \u21bb" if speed < 0 else ""
    return f"{numerals.plain(abs(speed), 3)} rpm{arrow}"


def row(label: str, *cells: dict) -> dict:
    """A row of a readout; two cells stand under driver and driven."""
    return {"label": label, "cells": list(cells)}


def group(title: str, rows: list[dict], columns: tuple[str, ...] = (), *, sides: bool = True) -> dict:
    """A table of a readout; two columns have the looks of driver and driven gear, without ``sides`` none."""
    plain = {} if sides else {"sides": False}
    return {"title": title, "columns": list(columns), "rows": rows} | plain


def cells_of(readout: Iterable[dict]) -> list[dict]:
    """Every cell of a readout, in order."""
    return [cell for table in readout for line in table["rows"] for cell in line["cells"]]


def shape_of(given: Any) -> str:
    """What a thing is that stands where it does not belong."""
    marks = {"rows": "a group", "cells": "a row", "word": "a cell", "kind": "a remark"}
    named = [name for mark, name in marks.items() if isinstance(given, dict) and mark in given]
    return named[0] if named else repr(given)[:60]


_LEVELS = (("rows", "group(title, rows)"), ("cells", "row(label, cell, ...)"), ("word", "a cell"))


def check_readout(name: str, readout: Any, remarks: Any) -> None:
    """Refuse a readout that is no list of groups of rows of cells, and remarks that are none."""

    def check(items: Any, depth: int) -> None:
        key, wanted = _LEVELS[depth]
        whole = "write it as [group(title, [row(label, cell, ...), ...]), ...]"
        if not isinstance(items, (list, tuple)):
            raise TypeError(f"the readout of {name} is {shape_of(items)} where a list belongs: {whole}")
        for item in items:
            if not isinstance(item, dict) or key not in item:
                raise TypeError(
                    f"the readout of {name} holds {shape_of(item)} where {wanted} belongs: {whole}"
                )
            if depth + 1 < len(_LEVELS):
                check(item[key], depth + 1)

    check(readout, 0)
    for item in remarks if isinstance(remarks, (list, tuple)) else [remarks]:
        if not isinstance(item, dict) or "kind" not in item:
            raise TypeError(
                f"the remarks of {name} hold {shape_of(item)}: write them as a list, such as [note(text)]"
            )


def remark(
    kind: str,
    text: str,
    *,
    lead: str = "",
    advice: str = "",
    does: Iterable[dict] = (),
    more: Iterable[str] = (),
) -> dict:
    """A remark under the picture: "task", "note", "warning", "stop" or "good".

    lead: the word before it in place of that of its kind; advice: what to do, on a line of its own.
    does: buttons that do it (``button``); more: rows that are shown when they are asked for.
    """
    if kind not in KINDS:
        raise ValueError(f"remark of kind {kind!r} is not known: {', '.join(KINDS)}{near_word(kind, KINDS)}")
    beside = {"lead": lead, "advice": advice, "does": list(does), "more": list(more)}
    return {"kind": kind, "text": text} | {name: value for name, value in beside.items() if value}


def button(text: str, name: str, value: Any, title: str = "") -> dict:
    """A button of a remark: it gives a control, by its name, a value."""
    return {"text": text, "name": name, "value": value, "title": title or text}


def task(text: str) -> dict:
    """What the reader is asked to reach."""
    return remark("task", text)


def note(text: str) -> dict:
    """What is the case."""
    return remark("note", text)


def warning(text: str) -> dict:
    """What will give trouble."""
    return remark("warning", text)


def caution(text: str) -> dict:
    """What can do harm; the one remark that is led by "Caution"."""
    return {**remark("warning", text), "lead": "Caution"}


def stop(text: str) -> dict:
    """What cannot work."""
    return remark("stop", text)


def good(text: str) -> dict:
    """That the task is done."""
    return remark("good", text)
