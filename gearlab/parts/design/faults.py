"""What is wrong with the tables of a design, in words.

Which field, what stands there, what may stand there and in which unit.
"""

from __future__ import annotations

import difflib
import re
import typing
from collections.abc import Mapping
from pathlib import Path
from types import NoneType
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from gearlab.quoting import short

#: Units of fields by metric and inch file; a number not listed is a length [mm, in].
_UNITS = {
    "module": ("mm", "mm"),
    "diametral_pitch": ("1/in", "1/in"),
    "pressure_angle": ("deg", "deg"),
    "key_angle": ("deg", "deg"),
    "profile_shift": ("modules", "modules"),
    "torque": ("N m", "lbf in"),
    "stall_torque": ("N m", "lbf in"),
    "slip_torque": ("N m", "lbf in"),
    "allowable_stress": ("MPa", "psi"),
    "speed": ("rpm", "rpm"),
    "warming": ("K", "K"),
    "allowable_shear": ("MPa", "psi"),
    "allowable_bearing": ("MPa", "psi"),
    "force": ("N", "lbf"),
    "angle": ("deg", "deg"),
    "shaft_angle": ("deg", "deg"),
    "efficiency": ("", ""),
    "ratio": ("", ""),
    "ratio_within": ("", ""),
}


def missing(data: Any, needed: list[str]) -> list[ErrorDetails]:
    """Faults for tables that a design needs and does not have, beside those that pydantic found."""
    given = data if isinstance(data, Mapping) else {}
    return [
        ErrorDetails(type="missing", loc=(name,), msg="", input=data) for name in needed if name not in given
    ] + [
        ErrorDetails(type="too_short", loc=(name,), msg="", input=given[name])
        for name in needed
        if name in given and given[name] in ([], ())
    ]


def faults(model: type[BaseModel], data: Any, errors: list[ErrorDetails]) -> list[str]:
    """A sentence for each fault that pydantic found in a design's tables."""
    inch = (
        isinstance(data, dict) and isinstance(data.get("design"), dict) and data["design"].get("unit") == "in"
    )
    meant = {
        (error["loc"][:-1], word)
        for error in errors
        if error["type"] == "extra_forbidden"
        for word in [_near(model, error["loc"])]
        if word
    }
    sentences = []
    for error in errors:
        if error["type"] == "missing" and (error["loc"][:-1], error["loc"][-1]) in meant:
            continue  # it stands there, misspelt: that is said
        sentences.append(_sentence(model, data, error, inch))
    return list(dict.fromkeys(sentences))


def _sentence(model: type[BaseModel], data: Any, error: ErrorDetails, inch: bool) -> str:
    place, kind, given = error["loc"], error["type"], error["input"]
    if kind == "value_error" and (not place or _field(model, place) is None or isinstance(given, dict)):
        return str(error["ctx"]["error"])  # a check of our own, over several fields
    where, name = _where(data, place[:-1]), place[-1]
    if kind == "extra_forbidden":
        known = sorted(_table(model, place[:-1]).model_fields)
        near = _near(model, place)
        if not place[:-1]:
            return f"[{name}] is not a table of a design" + (
                f": did you mean {_heading(model, near)}?"
                if near
                else (
                    "; there are"
                    f" {', '.join(_heading(model, word) for word in _table(model, ()).model_fields)}"
                )
            )
        return f"{where}{name} is not known there" + (
            f": did you mean {near}?" if near else f"; there are {', '.join(known)}"
        )
    inner = _known(model, place)
    wanted = _wanted(model, place, inch)
    if kind == "missing":
        return (
            f"{where}{_heading(model, name) if len(place) == 1 else _spoken(name)} is missing: give {wanted}"
        )
    if len(place) == 1 and kind in ("list_type", "tuple_type"):
        return f"{name} is not a list of tables: write [[{name}]], with two brackets, above each {name}"
    if len(place) == 1 and kind == "too_short":
        return f"there is no {name}: give {wanted}"
    if _model(inner) is not None:
        return f"{where}{_spoken(name)} = {given!r} is not a table: give {wanted}"
    number = isinstance(given, (int, float)) and not isinstance(given, bool)
    shown = f"{_value(given)} {_unit(inner, name, inch)}".rstrip() if number else _value(given)
    quoted = ", without quotes" if isinstance(given, str) and wanted.startswith("a ") else ""
    return f"{where}{_spoken(name)} = {shown} cannot be used: give {wanted}{quoted}"


def _where(data: Any, place: tuple) -> str:
    """Table and its name, as ``gear 'wheel': `` or ``plate: ``."""
    if not place:
        return ""
    here: Any = data
    words: list[str] = []
    for part in place:
        try:
            if isinstance(part, int) and isinstance(here, dict):
                continue  # one table where several could stand
            here = here[part]
        except (KeyError, IndexError, TypeError):
            here = None
        if (
            isinstance(part, int)
            and words
            and isinstance(here, dict)
            and isinstance(here.get("name"), str)
            and here["name"]
        ):
            words.append(f"{here['name']!r}")
        else:
            words.append(str(part + 1) if isinstance(part, int) else part)
    return " ".join(words) + ": "


def _spoken(name: str | int) -> str:
    return f"number {name + 1}" if isinstance(name, int) else str(name)


def _value(given: Any) -> str:
    if isinstance(given, str):
        return f"{given!r}"
    return str(given).lower() if isinstance(given, bool) else f"{given}"


def _table(model: type[BaseModel], place: tuple) -> type[BaseModel]:
    """The table that stands at a place."""
    for part in place:
        if not isinstance(part, int):
            model = _model(model.model_fields[part]) or model
    return model


def _known(model: type[BaseModel], place: tuple) -> FieldInfo:
    """The field at a place that the tables have."""
    field = _field(model, place)
    assert field is not None
    return field


def _field(model: type[BaseModel], place: tuple) -> FieldInfo | None:
    """The field at a place, or None where there is none; of a list or pair of numbers, the whole of it."""
    names = [part for part in place if not isinstance(part, int)]
    return _table(model, tuple(names[:-1])).model_fields.get(names[-1]) if names else None


def _model(field: FieldInfo | None) -> type[BaseModel] | None:
    """The table that a field holds, once or many times."""
    if field is None:
        return None
    return next(
        (kind for kind in _types(field.annotation) if isinstance(kind, type) and issubclass(kind, BaseModel)),
        None,
    )


def _types(annotation: Any) -> list:
    inner = typing.get_args(annotation)
    if not inner or typing.get_origin(annotation) is typing.Literal:
        return [annotation]
    return [kind for part in inner if part is not NoneType for kind in _types(part)]


def _heading(model: type[BaseModel], name: str | int) -> str:
    return f"[[{name}]]" if _several(model.model_fields[str(name)]) else f"[{name}]"


def _several(field: FieldInfo) -> bool:
    """Whether a design has several of these tables."""
    return typing.get_origin(field.annotation) is tuple and _model(field) is not None


def _near(model: type[BaseModel], place: tuple) -> str:
    near = difflib.get_close_matches(
        str(place[-1]), list(_table(model, place[:-1]).model_fields), 1, 0.6
    ) or [
        name
        for name in _table(model, place[:-1]).model_fields
        if name.casefold() == str(place[-1]).casefold()
    ]
    return near[0] if near else ""


def _wanted(model: type[BaseModel], place: tuple, inch: bool) -> str:
    """What may stand at a place, with limits and unit."""
    field, name = _known(model, place), next(part for part in reversed(place) if not isinstance(part, int))
    table, kinds = _model(field), _types(field.annotation)
    if table is not None:
        needed = [word for word, inner in table.model_fields.items() if inner.is_required()]
        several = _several(field)
        return (
            f"{f'a [[{name}]] table for each {name}' if several else f'a [{name}] table'} with"
            f" {', '.join(needed) or 'its fields'}"
        )
    literal = next(
        (typing.get_args(kind) for kind in kinds if typing.get_origin(kind) is typing.Literal), None
    )
    if literal:
        return " or ".join(f'"{word}"' for word in literal)
    if bool in kinds:
        return "true or false, without quotes"
    limits = {
        type(limit).__name__.lower(): getattr(limit, type(limit).__name__.lower())
        for limit in _metadata(field)
        if type(limit).__name__.lower() in ("gt", "ge", "lt", "le")
    }
    if str in kinds:
        longest = next((limit.max_length for limit in field.metadata if hasattr(limit, "max_length")), None)
        return "words in quotes on one line" + (f", 1 to {longest} letters" if longest else "")
    what = "a whole number" if int in kinds else "a number"
    if typing.get_origin(field.annotation) is tuple:
        what = f"{len(typing.get_args(field.annotation))} whole numbers, such as [20, 20], each"
    low = (
        f"above {limits['gt']:.12g}"
        if "gt" in limits
        else f"from {limits['ge']:.12g}"
        if "ge" in limits
        else ""
    )
    high = (
        f"{'and ' if 'gt' in limits else 'up to '}below {limits['lt']:.12g}"
        if "lt" in limits
        else f"to {limits['le']:.12g}"
        if "le" in limits
        else ""
    )
    unit = _unit(field, name, inch)
    return " ".join(filter(None, (what, low, high, unit if low or high or not unit else f"in {unit}")))


def _unit(field: FieldInfo, name: str | int, inch: bool) -> str:
    """Unit of a number; none for words, counts and ratios."""
    return _UNITS.get(str(name), ("mm", "in"))[inch] if float in _types(field.annotation) else ""


def _metadata(field: FieldInfo) -> list:
    """Limits of a field, or of each number of a pair."""
    limits = list(field.metadata)
    for part in typing.get_args(field.annotation):
        for limit in getattr(part, "__metadata__", ()):
            limits += getattr(limit, "metadata", [limit])
    return limits


def text_of(source: str | Path) -> str:
    """The text of a design file; raises ValueError that says why it cannot be read."""
    asked = "give the path of a TOML file with [design], [plate], [[shaft]] and [[gear]]"
    if not str(source).strip():
        raise ValueError(f"no design is named: {asked}")
    path = Path(source)
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError as error:
        raise ValueError(
            f"{path} cannot be read: byte {error.start + 1} is not UTF-8; save the file again as UTF-8 text"
        ) from None
    except OSError as error:
        shown = short(str(path), 200)  # a text without a line break is taken for a path
        raise ValueError(f"{shown} cannot be read: {error.strerror or error}; {asked}") from None
    except ValueError as error:  # a path that no disk can hold
        raise ValueError(f"{short(str(path), 200)!r} cannot be read: {error}; {asked}") from None


def line_of(text: str, error: str) -> str:
    """The line that a TOML error speaks of, and what to do."""
    place = re.search(r"line (\d+)", error)
    lines = text.split("\n")
    if place is None or int(place[1]) > len(lines):
        return '; a line is a [table], or a word = a number, or a word = "words in quotes"'
    return (
        f"; that line reads {lines[int(place[1]) - 1].strip()!r}: correct it. A line is a [table], or a word"
        ' = a number, or a word = "words in quotes"'
    )
