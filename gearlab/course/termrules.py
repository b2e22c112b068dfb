"""How a term's mark is made of the sets: the table `[term]` of a course's file, read and checked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from gearlab.quoting import one_line
from gearlab.schema import near, spot, told
from gearlab.toml import tables_of

TERM = "term"  # the table, and the folder of its results
MOST_SETS = 200

Name = Annotated[str, Field(min_length=1, max_length=100)]
Weight = Annotated[float, Field(ge=0, le=10_000, allow_inf_nan=False)]
Missing = Literal["zero", "left out"]


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)

    sets: Annotated[list[Name], Field(min_length=1, max_length=MOST_SETS)] | None = None
    weights: Annotated[dict[str, Weight], Field(max_length=MOST_SETS)] = {}
    best: Annotated[int, Field(ge=1, le=MOST_SETS)] | None = None
    missing: Missing | None = None


class _Group(_Table):
    name: Name
    weight: Weight | None = None


class _Term(_Table):
    title: Annotated[str, Field(min_length=1, max_length=200)] = "Term"
    count: Literal["per cent", "points"] = "per cent"
    out_of: Annotated[float, Field(gt=0, le=100_000, allow_inf_nan=False)] | None = None
    places: Annotated[int, Field(ge=0, le=2)] = 1
    rounding: Literal["nearest", "up", "down"] = "nearest"
    sections: Annotated[list[Name], Field(min_length=1, max_length=500)] | None = None
    group: Annotated[list[_Group], Field(min_length=1, max_length=50)] | None = None


@dataclass(frozen=True)
class Group:
    """Sets that are added up among themselves.

    name: "" where there are no groups.
    weights: of each set [-].
    weight: of the group beside the others [-].
    best: how many of its sets count; None for all [-].
    zero: whether a missing set counts 0; else it is left out.
    """

    name: str
    sets: tuple[str, ...]
    weights: tuple[Fraction, ...]
    weight: Fraction
    best: int | None
    zero: bool


@dataclass(frozen=True)
class Rules:
    """How the mark of a term is made.

    by_points: whether points are added up as they are; else per cents by weight.
    grouped: whether groups count by weights of their own; else points of all groups are one sum.
    out_of: what the mark is out of; None for as many points as could be reached [-].
    places: decimal places of the mark [-].
    sections: those it is made for; None for everybody.
    """

    title: str
    groups: tuple[Group, ...]
    by_points: bool
    grouped: bool
    out_of: Fraction | None
    places: int
    rounding: str
    sections: tuple[str, ...] | None

    @property
    def sets(self) -> tuple[str, ...]:
        """All sets, in the order of the groups."""
        return tuple(name for group in self.groups for name in group.sets)


def course_tables(path: Path) -> dict[str, Any]:
    """The tables of a course's file.

    ValueError if it cannot be read or is not TOML.
    """
    try:
        return tables_of(path.read_text(encoding="utf-8-sig"))
    except OSError as error:
        raise ValueError(f"course {path}: cannot be read ({error.strerror})") from None
    except ValueError as error:
        raise ValueError(f"course {path}: is not TOML ({error}); correct that line") from None


def read_rules(path: Path, handed_out: Sequence[str], others: Sequence[str] = ()) -> Rules:
    """The rules in a course's file, or those that hold where it says nothing.

    handed_out: names of the sets that were handed out.
    others: names of further sets that may be named.
    ValueError if something in the table is not in order; the message names the place and what to do.
    """
    try:
        table = _Term.model_validate(course_tables(path).get(TERM, {}))
    except ValidationError as error:
        first = error.errors(include_url=False, include_context=True)[0]
        place = spot(first["loc"], " > ")
        raise ValueError(
            f"course {path}: [term]{f' {place}:' if place else ''} {told(first, _Term)}"
        ) from None
    faults = list(_faults(table, handed_out, others))
    if faults:
        raise ValueError(f"course {path}: [term] {faults[0]}")
    return _rules(table, handed_out)


def _plain(name: str) -> str:
    return name.removesuffix(".toml").replace("_", "-")


def _faults(table: _Term, handed_out: Sequence[str], others: Sequence[str]) -> Iterator[str]:
    """What does not fit together, in words."""
    if table.group:
        for field in ("sets", "weights", "best"):
            if getattr(table, field):
                yield f"{field}: is beside [[term.group]]; write it into the groups"
        names = [group.name.casefold() for group in table.group]
        for name in names:
            if names.count(name) > 1:
                yield f"group {one_line(name)!r}: is there twice; give each group a name of its own"
        for own in table.group:
            if own.sets is None:
                yield f"group {one_line(own.name)!r}: sets: is missing; name its sets"
    elif not table.sets and not handed_out:
        yield "sets: no set was handed out yet; hand one out with `gearlab hand-out SET`"
    known = [*dict.fromkeys([*handed_out, *others])]
    seen: set[str] = set()
    parts: Sequence[_Table] = table.group or [table]
    for group in parts:
        where = f"group {one_line(group.name)!r}: " if isinstance(group, _Group) else ""
        yield from (f"{where}{fault}" for fault in _of_group(group, handed_out, known, seen))
    yield from _of_weights(table)


def _of_group(
    group: _Table, handed_out: Sequence[str], known: Sequence[str], seen: set[str]
) -> Iterator[str]:
    sets = [_plain(name) for name in group.sets or handed_out]
    for name in sets:
        if name not in known:
            yield (
                f"sets: {one_line(name)!r} is no set of this course"
                + (near(name, known) or f"; there are {', '.join(known) or 'none yet'}")
            )
        if name in seen:
            yield f"sets: {one_line(name)!r} is there twice; each set counts once"
        seen.add(name)
    for name in group.weights:
        if _plain(name) not in sets:
            yield f"weights: {one_line(name)!r} is none of its sets" + (
                near(_plain(name), sets) or f"; they are {', '.join(sets)}"
            )
    if group.best is not None and group.best > len(sets):
        yield f"best: is {group.best}, but there are {len(sets)} sets; at most that many can count"
    weights = {_plain(name): weight for name, weight in group.weights.items()}
    if sets and not any(weights.get(name, 1.0) for name in sets):
        yield "weights: all are 0; give at least one set a weight above 0"


def _of_weights(table: _Term) -> Iterator[str]:
    groups = table.group or []
    if table.count == "points" and (table.weights or any(group.weights for group in groups)):
        yield (
            'weights: say nothing where count = "points" adds points up as they are; leave them out, or'
            ' write count = "per cent"'
        )
    given = [group.weight for group in groups if group.weight is not None]
    if given and len(given) < len(groups):
        without = next(group.name for group in groups if group.weight is None)
        yield f"group {one_line(without)!r}: weight: is missing; other groups have one"
    if given and not any(given):
        yield "group: weight: all are 0; give at least one group a weight above 0"


def _rules(table: _Term, handed_out: Sequence[str]) -> Rules:
    def group(own: _Table, name: str = "", weight: float | None = None) -> Group:
        sets = tuple(_plain(name) for name in own.sets or handed_out)
        weights = {_plain(name): _exact(weight) for name, weight in own.weights.items()}
        in_order = tuple(weights.get(name, Fraction(1)) for name in sets)
        zero = (own.missing or table.missing or "zero") == "zero"
        return Group(name, sets, in_order, _exact(1.0 if weight is None else weight), own.best, zero)

    groups = [group(own, own.name, own.weight) for own in table.group or []] or [group(table)]
    by_points = table.count == "points"
    grouped = not by_points or any(group.weight is not None for group in table.group or [])
    default = None if by_points and not grouped else Fraction(100)
    return Rules(
        table.title,
        tuple(groups),
        by_points,
        grouped,
        default if table.out_of is None else _exact(table.out_of),
        table.places,
        table.rounding,
        tuple(table.sections) if table.sections else None,
    )


def _exact(number: float) -> Fraction:
    """The number as it was written."""
    return Fraction(repr(float(number)))
