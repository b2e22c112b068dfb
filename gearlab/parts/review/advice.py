"""Advice that is proved: of some ways to mend a finding, those that mend it and spoil nothing else.

A subject names ways, each as candidates from the best to the least wanted; the first candidate of a way after
which the finding is gone, and none has come that is as bad, is the advice. The search takes a review for each
candidate, so it is made when the advice is first asked for, and not by a review.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cached_property, partial
from itertools import islice
from typing import Any, NamedTuple, TypeVar

from ..design import Design
from ..design.written import changed
from ..naming import read_mounted, write_mounted
from .finding import GRADES, Edit, Finding, said

MOST_WAYS = 2  # that are told
MOST_CANDIDATES = 24  # that are tried of one way
FIRST_CANDIDATES = 3  # that are tried of each way of another finding
_Part = TypeVar("_Part")


class Way(NamedTuple):
    """A change in words, as the end of "Change: ...", and as an edit of the design."""

    says: str
    edit: Edit


_reviews: list[Callable[[Design], Any]] = []


def proved_by(review: Callable[[Design], Any]) -> None:
    """Hand in what makes a review: the table of checks is built on its subjects, and they on this file."""
    _reviews[:] = [review]


MIXED = "units-look-mixed"


class Advised(Finding):
    """A finding whose ``change`` and ``edits`` are searched when they are first asked for.

    ways: what gives the ways, each some candidates of which the first that is proved is taken.
    otherwise: the change in words where none is, as what a person has to decide.
    """

    def __init__(
        self,
        name: str,
        grade: str,
        where: str,
        what: str,
        limit: str,
        why: str,
        source: str = "common practice",
        *,
        design: Design,
        ways: Callable[[], Iterable[Iterable[Way]]],
        otherwise: str,
    ):
        self.__dict__.update(name=name, grade=grade, where=where, what=what, limit=limit, why=why)
        self.__dict__.update(source=source, _design=design, _ways=ways, _otherwise=otherwise, _causes=())
        self.__post_init__()

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Finding) and all(
            getattr(self, word) == getattr(other, word) for word in ("name", "grade", "where", "what")
        )

    __hash__ = Finding.__hash__

    def follows(self, causes: Sequence[Advised]) -> None:
        """What may have brought it: what mends those is tried before its own ways."""
        self.__dict__["_causes"] = tuple(cause for cause in causes if cause is not self)

    @cached_property
    def _own(self) -> tuple[Way, ...]:
        design, ways = self.__dict__["_design"], self.__dict__["_ways"]
        mending = (next(iter(proved(design, self, way)), None) for way in _made(ways))
        advice: list[Way] = []
        for way in mending:
            if way is not None and all(way.edit != other.edit for other in advice):
                advice.append(way)
            if len(advice) == MOST_WAYS:
                break
        return tuple(advice)

    @cached_property
    def _advice(self) -> tuple[Way, ...]:
        design = self.__dict__["_design"]
        if self.name != MIXED:  # what comes of units that are mixed is mended by putting them right first
            mixed = (way for other in self.__dict__["_causes"] if other.name == MIXED for way in other._own)
            first = tuple(islice(proved(design, self, mixed), 1))
            if first:
                return first
        return self._own or tuple(islice(proved(design, self, self._beside()), 1))

    def _beside(self) -> Iterator[Way]:
        """What mends other findings of the design, those alike or of the same part first."""
        others: list[Advised] = sorted(
            self.__dict__["_causes"],
            key=lambda other: (other.name != self.name, not _parts(other.where) & _parts(self.where)),
        )
        for other in others:
            yield from other._own
        for other in others:
            for way in _made(other.__dict__["_ways"]):
                yield from islice(_made(partial(iter, way)), FIRST_CANDIDATES)

    @cached_property
    def change(self) -> str:  # type: ignore[override]
        """What to change, in words: of each way what is proved to mend it."""
        if not self._advice:
            return self.__dict__["_otherwise"]
        design = self.__dict__["_design"]
        first, *others = (f"{way.says.rstrip('.')}{untold(design, *way)}" for way in self._advice)
        return ". Or: ".join([first, *(f"{other[0].lower()}{other[1:]}" for other in others)]) + "."

    @cached_property
    def edits(self) -> tuple[Edit, ...]:  # type: ignore[override]
        """The change as edits of the design, one of which is to be chosen."""
        return tuple(renamed(self.__dict__["_design"], way.edit) for way in self._advice)

    @cached_property
    def decision(self) -> str:  # type: ignore[override]
        """What a person has to decide, where no edit is proved; else empty."""
        return "" if self._advice else self.__dict__["_otherwise"]


def _made(parts: Callable[[], Iterable[_Part]]) -> Iterator[_Part]:
    """As many of them as can be worked out: numbers far off lead to where theory answers no more."""
    try:
        yield from parts()
    except ValueError:
        return


def proved(design: Design, finding: Finding, candidates: Iterable[Way]) -> Iterable[Way]:
    """Those of some candidates that take a finding away and bring none that is as bad or worse."""
    before = _reviewed(design)
    for way in islice(_made(lambda: candidates), MOST_CANDIDATES):
        edit = renamed(design, way.edit)
        names = _new_names(edit)
        try:
            after = _reviews[0](Design(**changed(design.tables, edit)))
        except ValueError:
            continue
        if _mends(before, after, finding, names):
            yield way


def _reviewed(design: Design) -> Any:
    if not _reviews:
        raise RuntimeError("nothing reviews yet: import gearlab.parts.review, which hands it in (proved_by)")
    return _reviews[0](design)


def _parts(where: str) -> set[str]:
    """The names in the words that say where something is."""
    for joint in (" with ", " and ", "shaft ", "hole ", "holes ", "shafts "):
        where = where.replace(joint, "\n")
    return set(filter(None, where.split("\n")))


def _mends(before, after, finding: Finding, names: Mapping[str, str]) -> bool:
    """Whether a finding is gone, and no other came that is as bad, nor a gap in what is known."""
    grade = {(earlier.name, _under(earlier.where, names)): GRADES.index(earlier.grade) for earlier in before}
    own, limit = (finding.name, _under(finding.where, names)), GRADES.index(finding.grade)
    gaps = {(_under(gap.where, names), gap.what) for gap in before.undecided}
    return all(
        (later.name, later.where) != own
        and (
            GRADES.index(later.grade) > limit
            or grade.get((later.name, later.where), 9) <= GRADES.index(later.grade)
        )
        for later in after
    ) and all((gap.where, gap.what) in gaps for gap in after.undecided)


def _new_names(edit: Edit) -> dict[str, str]:
    return {
        old: fields["name"]
        for old, fields in edit.get("gear", {}).items()
        if isinstance(fields, Mapping) and "name" in fields
    }


def _under(where: str, names: Mapping[str, str]) -> str:
    for old, new in names.items():
        where = where.replace(old, new)
    return where


def renamed(design: Design, edit: Edit) -> Edit:
    """An edit after which names that told the numbers of their gears tell them still."""
    gears = dict(edit.get("gear", {}))
    for name, fields in gears.items():
        table = next((table for table in design.gear if table.name == name), None)
        if table is None or not isinstance(fields, Mapping) or "name" in fields:
            continue
        try:
            told = read_mounted(name)
        except ValueError:
            continue
        stated: dict[str, Any] = table.model_dump()
        before = _numbers(stated)
        after = _numbers({**stated, **fields})
        moved = {
            word: after[word] for word, value in told.items() if abs((before[word] or 0.0) - value) < 1e-6
        }
        if len(moved) == len(told) and any(moved[word] != before[word] for word in moved):
            told_now: dict[str, Any] = dict(moved)
            teeth = int(told_now.pop("teeth"))
            if told_now.get("module") or told_now.get("diametral_pitch"):
                gears[name] = dict(fields) | {"name": write_mounted(name.split("_")[0], teeth, **told_now)}
    return dict(edit) | {"gear": gears} if gears else edit


def _numbers(fields: Mapping[str, Any]) -> dict[str, Any]:
    return {word: fields.get(word) for word in ("teeth", "module", "diametral_pitch", "bore")} | {
        "length": fields["face_width"] + (fields.get("hub_projection") or 0.0)
    }


_NUMBER = re.compile(r"-?\d[\d,]*(?:\.\d+)?")
#: Fields without a unit, or with one of their own.
_COUNTED = (
    "teeth",
    "screws",
    "ratio",
    "diametral_pitch",
    "profile_shift",
    "sun",
    "planet",
    "ring",
    "planets",
)
_UNITS = {
    "angle": ("deg", "deg"),
    "stress": ("MPa", "psi"),
    "shear": ("MPa", "psi"),
    "bearing": ("MPa", "psi"),
}
_UNITS |= {"torque": ("N·m", "lbf·in"), "force": ("N", "lbf"), "speed": ("rev/min", "rev/min")}


def untold(design: Design, says: str, edit: Edit) -> str:
    """The numbers that an edit changes and its words do not tell, as their end: all that goes with it.

    A number is told by itself or by how far it moves.
    """
    numbers = [float(text.replace(",", "")) for text in _NUMBER.findall(_nameless(design, says))]
    parts = []
    shafts = edit.get("shaft", {})
    if "apart" in says and sum("x" in fields or "y" in fields for fields in shafts.values()) == 1:
        # one shaft along the line to its mate: their spacing says where it comes to stand
        places = {
            name: {word: value for word, value in fields.items() if word not in "xy"}
            for name, fields in shafts.items()
        }
        edit = {**edit, "shaft": places}
    for kind, members in edit.items():
        single = not all(isinstance(fields, Mapping) for fields in members.values())
        for name, fields in {"": members}.items() if single else members.items():
            now = _now(design, kind, name)
            texts = [
                f"{field.replace('_', ' ')} {_with_unit(design.unit, field, value)}"
                for field, value in fields.items()
                if _is_number(value)
                and value != now.get(field)
                and not _told(value, now.get(field), numbers, design.unit)
            ]
            if texts:
                part = f"{kind} {name}".rstrip() if kind == "shaft" or single else name
                parts.append(f"{part}: {', '.join(texts)}")
    return f" ({'; '.join(parts)})" if parts else ""


def _nameless(design: Design, says: str) -> str:
    """Words without the names of gears, which may hold numbers."""
    for table in sorted(design.gear, key=lambda table: -len(table.name)):
        says = says.replace(table.name, "")
    return says


def _now(design: Design, kind: str, name: str) -> dict[str, Any]:
    """The fields of a member as they are; none of one that is new."""
    tables = getattr(design, kind, None)
    if isinstance(tables, tuple):
        tables = next((table for table in tables if table.name == name), None)
    return {} if tables is None else tables.model_dump()


def _is_number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _told(value: float, now: Any, numbers: Sequence[float], unit: str) -> bool:
    told = [value, abs(value - now)] if _is_number(now) else [value]
    least = 5.1e-5 if unit == "in" else 5.1e-4  # half of the last digit that is written
    return any(
        abs(number - each) <= max(least, 5.1e-4 * min(abs(each), 1)) for number in numbers for each in told
    )


def _with_unit(unit: str, field: str, value: float) -> str:
    if field in _COUNTED:
        return f"{value:.6g}"
    units = _UNITS.get(field.split("_")[-1], (unit, unit))
    return said(value, units[unit == "in"])


def together(*edits: Edit) -> Edit:
    """Several edits as one; of a field that two of them set, the later one's.

    >>> together({"gear": {"a": {"bore": 8}}}, {"gear": {"a": {"flat": 0.5}}, "plate": {"length": 200}})
    {'gear': {'a': {'bore': 8, 'flat': 0.5}}, 'plate': {'length': 200}}
    """
    joined: dict[str, Any] = {}
    for edit in edits:
        for kind, members in edit.items():
            table = joined.setdefault(kind, {})
            for name, fields in members.items():
                if isinstance(fields, Mapping):
                    table[name] = {**(table.get(name) or {}), **fields}
                else:
                    table[name] = fields
    return joined


def stepped(start: float, step: float, count: int = 8) -> Sequence[float]:
    """Sizes from a first one on, in steps [unit]; a step below 0 goes down, and ends above 0.

    >>> stepped(33.5, 0.5, 3), stepped(1.0, -0.5)
    ((33.5, 34.0, 34.5), (1.0, 0.5))
    """
    sizes = (round(start + number * step, 6) for number in range(count))
    return tuple(size for size in sizes if size > 0)
