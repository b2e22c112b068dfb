"""What does not fit in the tables of a file, in words: pydantic's findings told one way in the whole package.

This module stands below all the others and imports none of them but `quoting`.
"""

from __future__ import annotations

import difflib
import re
import typing
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from gearlab.quoting import one_line

if TYPE_CHECKING:
    from pydantic import BaseModel

__all__ = ["fields_at", "near", "spot", "table_at", "told"]

Place = Sequence[str | int]


def near(word: str, words: Iterable[str]) -> str:
    """Words like a wrong one, as the end of a message.

    >>> near("hieght", ["height", "width"]), near("depth", ["x"])
    ('; near: height', '')
    """
    like = difflib.get_close_matches(word, list(words), 3, 0.55)
    return f"; near: {', '.join(map(one_line, like))}" if like else ""


def spot(place: Place, between: str = ".") -> str:
    """A place in a file as it is written, lists counted from 1.

    >>> spot(("answers", 0, "unit"))
    'answers.1.unit'
    """
    parts = (part for part in place if part != "function-after")
    return between.join(str(part + 1) if isinstance(part, int) else one_line(part) for part in parts)


def table_at(model: type[BaseModel], place: Place) -> type[BaseModel]:
    """The table that stands at a place of a file; of a list or a dictionary of tables, the table itself."""
    for part in place:
        fields = {field.alias or name: field for name, field in model.model_fields.items()}
        if part in fields:
            model = next(iter(_tables(fields[str(part)].annotation)), model)
    return model


def fields_at(model: type[BaseModel], place: Place) -> list[str]:
    """Names of the fields of the table at a place, as they are written in the file."""
    return [field.alias or name for name, field in table_at(model, place).model_fields.items()]


def _tables(annotation: Any) -> list[type[BaseModel]]:
    """Tables that stand anywhere in a type."""
    if hasattr(annotation, "model_fields"):
        return [annotation]
    return [table for part in typing.get_args(annotation) for table in _tables(part)]


# How what is wanted is written in a file.
_AS_WRITTEN = {
    "model_type": "should be a table, { name = value, ... }",
    "dict_type": "should be a table, { name = value, ... }",
    "list_type": "should be a list: [ ... ], or [[...]] with two brackets before each table",
    "string_type": "should be a text in quotation marks",
    "bool_type": "should be true or false",
    "int_type": "should be a whole number",
    "float_type": "should be a number",
    "date_type": "should be a date, without quotation marks: 2026-11-20",
}


def told(error: Mapping[str, Any], model: type[BaseModel]) -> str:
    """What is wrong at the place of a finding, in words; `model` is the table that its place begins in."""
    place = error["loc"]
    if error["type"] == "extra_forbidden":
        fields = fields_at(model, place[:-1])
        return "is not a field known here" + (
            near(str(place[-1]), fields) or f"; the fields are {', '.join(fields)}"
        )
    if error["type"] == "missing":
        return "is missing"
    if error["type"] == "string_pattern_mismatch":
        return _of_pattern(str(error["input"]), str(error["ctx"]["pattern"]))
    message = _AS_WRITTEN.get(error["type"]) or _without_input(error["msg"])
    if isinstance(error.get("input"), (str, int, float, Decimal, bool)):
        value = error["input"]
        message += f" (it is {str(value) if isinstance(value, Decimal) else repr(value)})"
    if error["type"] == "literal_error" and isinstance(error.get("input"), str):
        message += near(error["input"], re.findall(r"'([^']*)'", error["ctx"]["expected"]))
    return message


def _without_input(message: str) -> str:
    """pydantic's sentence as the end of one that begins with the place.

    >>> _without_input("Input should be greater than 0")
    'should be greater than 0'
    """
    message = message.removeprefix("Input ")
    return message[:1].lower() + message[1:]


def _of_pattern(text: str, pattern: str) -> str:
    """That a name is not written as names are, with the pattern and the name as it may be."""
    small = "_" not in pattern
    kept = re.sub(r"[^A-Za-z0-9]+" if small else r"[^A-Za-z0-9_.-]+", "-", text).strip("-")
    kept = kept.lower() if small else kept.lstrip("0123456789_.-")
    letters = (
        "small letters and digits with single hyphens" if small else "letters, digits, _ . and -, no spaces"
    )
    return f"{text[:80]!r} does not fit the pattern {pattern} ({letters})" + (
        f"; write {kept[:80]!r}, say" if re.match(pattern, kept[:80]) else ""
    )
