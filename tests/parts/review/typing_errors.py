"""Numbers as a hand may mistype them, put into a design one at a time."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, NamedTuple

from gearlab.parts.design import Design

#: Tables of which a design has one.
_SINGLE = ("design", "plate", "load", "guard")


class Slip(NamedTuple):
    """What was mistyped, in words, and as an edit of the design."""

    where: str
    edit: dict[str, Any]


class Spoilt(NamedTuple):
    """A design of which one number is mistyped."""

    where: str
    design: Design


def mistyped(value: float) -> dict[str, float]:
    """What may stand where a number should, by how it came about.

    >>> mistyped(20)["digits swapped"], mistyped(0.375)["inch for mm"]
    (2, 0.0147638)
    """
    wrong = {
        "twice": value * 2,
        "half": value / 2,
        "point to the right": value * 10,
        "point to the left": value / 10,
        "one more": value + 1,
        "one less": value - 1,
        "digits swapped": _swapped(value),
        "mm for inch": value * 25.4,
        "inch for mm": value / 25.4,
        "nothing": 0.0,
        "the other sign": -value,
    }
    whole = isinstance(value, int)
    written = {how: round(number) if whole else float(f"{number:.6g}") for how, number in wrong.items()}
    return {how: number for how, number in written.items() if number != value}


def _swapped(value: float) -> float:
    """The first two digits that differ in each other's place."""
    text = repr(value)
    places = [place for place, sign in enumerate(text) if sign.isdigit()]
    for first, second in zip(places, places[1:]):
        if text[first] != text[second]:
            signs = list(text)
            signs[first], signs[second] = signs[second], signs[first]
            return type(value)("".join(signs))
    return value


def _numbers(fields: Mapping[str, Any]) -> Iterator[tuple[str, int | None, float]]:
    for field, value in fields.items():
        if isinstance(value, (tuple, list)):
            for place, part in enumerate(value):
                if isinstance(part, (int, float)):
                    yield field, place, part
        elif isinstance(value, (int, float)) and not isinstance(value, bool):
            yield field, None, value


def slips(base: Design) -> list[Slip]:
    """Every number of a design as it may be mistyped, one at a time."""
    return [
        _slip(kind, name, fields, field, place, value, how, wrong)
        for kind, name, fields in _members(base)
        for field, place, value in _numbers(fields)
        for how, wrong in mistyped(value).items()
    ]


def _slip(kind, name, fields, field, place, value, how, wrong) -> Slip:
    put = wrong if place is None else [*fields[field][:place], wrong, *fields[field][place + 1 :]]
    edit = {field: put} if kind in _SINGLE else {name: {field: put}}
    return Slip(f"[{kind}] {name} {field} {value:g}: {how}, {wrong:g}", {kind: edit})


def spoilt(base: Design, chosen: Iterable[Slip]) -> Iterator[Spoilt]:
    """The designs that some slips make of a base, as far as their files could be read at all."""
    for slip in chosen:
        try:
            design = base.with_(**slip.edit)
        except ValueError:
            continue  # refused when it is read, in words of its own
        yield Spoilt(slip.where, design)


def _members(base: Design) -> Iterator[tuple[str, str, dict[str, Any]]]:
    """Kind and name of every table, and the fields that it states."""
    for kind in type(base).model_fields:
        tables = getattr(base, kind)
        if tables is None or tables == ():
            continue
        for table in tables if isinstance(tables, (tuple, list)) else [tables]:
            yield kind, "" if kind in _SINGLE else table.name, table.model_dump(exclude_unset=True)
