"""The sentences of the review: a row of ``findings.toml`` or ``unmade.toml``, filled with a design's numbers.

What a check finds is told in these two tables; the checks reckon, and name a row.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path
from typing import Any

from gearlab.theory.units import usual_unit, written

from ..design import Design
from .advice import Advised, Way
from .finding import Edit, Finding, Unmade, both, said

NAMES_OF_UNITS = {"mm": "millimetres", "in": "inches"}


@cache
def rows(table: str) -> dict[str, dict[str, str]]:
    """The rows of "findings" or "unmade", by name; "a, b" says what is other than in "a"."""
    told = tomllib.loads(Path(__file__).with_name(f"{table}.toml").read_text(encoding="utf-8"))

    def whole(name: str) -> dict[str, str]:
        first = name.rpartition(", ")[0]
        return (whole(first) if first else {}) | told.get(name, {})

    return {name: whole(name) for name in told}


def unit_of(design: Design, dimension: str) -> str:
    """The usual unit of a dimension in a design's file, as it is written."""
    return written(usual_unit(dimension, design.unit))


def finding(
    row: str,
    design: Design,
    where: str,
    ways: Callable[[], Iterable[Iterable[Way]]] | None = None,
    *,
    compared: tuple[float, float] | None = None,
    unit: str | None = None,
    edits: tuple[Edit, ...] = (),
    **words: Any,
) -> Finding:
    """What a check finds at a part.

    row: the finding's name; where it has several rows, with a comma and which.
    ways: those to mend it, searched when they are asked for; without, ``edits`` are the change.
    compared: the {number} and {limit} of the sentences, in a unit, or in the design's.
    words: whatever else they name: a float is a length of the design [unit], all else is written as it is.
    """
    if compared is not None:
        words["number"], words["limit"] = both(*compared, design.unit if unit is None else unit)
    told = _filled("findings", row, design, words)
    change, decision = told.pop("change"), told.pop("decision", "")
    told = {"name": row.partition(",")[0], "where": where, "source": "common practice"} | told
    if ways is None:
        return Finding(**told, change=change, edits=edits, decision=decision)
    return Advised(**told, design=design, ways=ways, otherwise=change)


def unmade(row: str, design: Design, where: str, *, decisive: bool = False, **words: Any) -> Unmade:
    """A check that could not be made at a part.

    words: as in ``finding``. decisive: whether the design claims something that hangs on it.
    """
    return Unmade(where, **_filled("unmade", row, design, words), decisive=decisive)


def _filled(table: str, row: str, design: Design, words: dict[str, Any]) -> dict[str, str]:
    texts = {
        word: said(value, design.unit) if isinstance(value, float) else value for word, value in words.items()
    }
    return {field: sentence.format(**texts) for field, sentence in rows(table)[row].items()}
