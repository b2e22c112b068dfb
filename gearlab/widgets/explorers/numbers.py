"""Every number of every member of a design that can be edited: its words, unit, limits and steps."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

from ...drawing import numerals
from ...parts.design import Design
from ...parts.design.tables import LoadTable, Table
from .controls import Scale

#: Tables of which a design has one; the others hold members by name.
SINGLE = ("design", "plate", "load", "mitre")
SEVERAL = ("shaft", "gear", "mesh", "rack", "bevel", "planetary", "measured")
#: What the members of a table are called.
CALLED = {
    "design": "what is wanted of the drive",
    "plate": "plate",
    "load": "load",
    "mitre": "mitre pair",
    "shaft": "shaft",
    "gear": "gear",
    "mesh": "mesh",
    "rack": "rack",
    "bevel": "bevel pair",
    "planetary": "planetary set",
    "measured": "reading",
}
SIZE = ("module", "diametral_pitch")  # one of them, as the file says it
ANGLES = ("pressure_angle", "key_angle", "angle", "shaft_angle")
TORQUES = ("torque", "stall_torque", "slip_torque")
STRESSES = ("allowable_stress", "allowable_shear", "allowable_bearing")
BARE = ("ratio", "ratio_within", "efficiency", "profile_shift")
OWN = {"speed": "rpm", "warming": "K", "diametral_pitch": "1/in"}
#: Steps and pages of the keys, and places, by what a number is: (step, page, places) in mm and in inches.
PLACES = {"mm": (0.25, 5.0, 2), "in": (0.01, 0.25, 3)}
SMALL = {"mm": (0.01, 0.1, 3), "in": (0.0005, 0.005, 4)}
TURNED = {"mm": (0.05, 1.0, 2), "in": (0.001, 0.0625, 4)}  # diameters of what is turned or reamed
SIZES = {"mm": (0.5, 5.0, 2), "in": (0.0625, 0.5, 4)}
STEPS: dict[str, Mapping[str, tuple[float, float, int]]] = {
    **dict.fromkeys(("x", "y"), PLACES),
    **dict.fromkeys(
        ("tooth_thinning", "least_backlash", "most_backlash", "bore_offset", "reads_to", "flat"), SMALL
    ),
    **dict.fromkeys(("diameter", "hole", "bore", "value", "keyway_depth", "pin_diameter"), TURNED),
    **dict.fromkeys(("mounting_height", "mounting"), PLACES),
    "module": {"mm": (0.25, 1.0, 2), "in": (0.005, 0.05, 4)},
}
FREE: dict[str, tuple[float, float, int]] = {
    "rpm": (1.0, 10.0, 2),
    "K": (1.0, 10.0, 1),
    "1/in": (1.0, 4.0, 2),
    "deg": (0.5, 15.0, 2),
    "N*m": (0.1, 1.0, 3),
    "lbf*in": (1.0, 10.0, 2),
    "N": (5.0, 50.0, 1),
    "lbf": (1.0, 10.0, 1),
    "MPa": (1.0, 10.0, 1),
    "psi": (100.0, 1000.0, 0),
    "": (0.05, 0.5, 3),
    "modules": (0.05, 0.25, 3),
}
#: Where a number begins that is not given yet, in millimetres or inches and their usual units.
BEGIN: dict[str, tuple[float, float]] = {
    "length": (50.0, 2.0),
    "allowable_stress": (20.0, 3000.0),
    "allowable_shear": (40.0, 6000.0),
    "allowable_bearing": (80.0, 12000.0),
    "torque": (1.0, 10.0),
    "stall_torque": (4.0, 40.0),
    "slip_torque": (2.0, 20.0),
    "speed": (15.0, 15.0),
    "warming": (20.0, 20.0),
    "ratio": (2.0, 2.0),
    "force": (50.0, 10.0),
    "least_backlash": (0.05, 0.002),
    "most_backlash": (0.15, 0.006),
    "screw_length": (8.0, 0.25),
    "drill_depth": (12.0, 0.5),
    "key_length": (12.0, 0.5),
    "keyway_width": (3.0, 0.125),
    "face_width": (12.0, 0.5),
    "pressure_angle": (20.0, 20.0),
    "second_planet": (18.0, 18.0),
    "over": (3.0, 3.0),
    "pin_diameter": (5.0, 0.1875),
    "foot": (3.0, 0.125),
    "module": (2.5, 0.1),
    "diametral_pitch": (10.0, 12.0),
}
USUAL = (10.0, 0.5)


@dataclass(frozen=True)
class Number:
    """A number of a member: its field, and of two values in it which one.

    value: as it stands; None where it is not given. suggested: where it begins then.
    least, most: what the table can hold; open_below: whether the least itself is left out.
    """

    table: str
    member: str
    field: str
    value: float | None
    whole: bool
    unit: str
    least: float
    most: float
    open_below: bool
    optional: bool
    suggested: float
    place: int | None = None
    both: tuple[float, ...] = ()

    @property
    def key(self) -> str:
        """By which it is chosen."""
        return self.field if self.place is None else f"{self.field} {self.place + 1}"

    @property
    def words(self) -> str:
        """How it is called."""
        return self.key.replace("_", " ")

    @property
    def given(self) -> bool:
        """Whether the design says it."""
        return self.value is not None

    @property
    def at(self) -> float:
        """Its value, or where it begins."""
        return float(self.suggested if self.value is None else self.value)

    def edit(self, value: float | None) -> dict[str, Any]:
        """The edit of the design that gives it a value, or takes it out; ValueError for half a tooth."""
        put: Any = value
        if value is not None and self.whole and value != int(value):
            raise ValueError(
                f"{self.words} = {numerals.plain(value)} is no whole number: give a whole number"
            )
        if value is not None and value == int(value):
            put = int(value)
        if self.place is not None:
            put = [put if i == self.place else each for i, each in enumerate(self.both)]
        fields = {self.field: put}
        return {self.table: fields if self.table in SINGLE else {self.member: fields}}

    def said(self, value: float | None) -> str:
        """A value of it with its unit."""
        if value is None:
            return "not given"
        return f"{numerals.plain(value, 6)} {shown(self.unit)}".rstrip()

    def steps(self, unit: str) -> tuple[float, float, int]:
        """Step and page of the keys, and places, in a design of this unit."""
        if self.whole:
            return 1.0, 5.0, 0
        if self.unit in ("mm", "in"):
            return STEPS.get(self.field, SIZES)[unit]
        return (0.01, 0.05, 3) if self.field in ("efficiency", "ratio_within") else FREE[self.unit]

    def scale(self, began: float, unit: str) -> Scale:
        """The range of its slider: about where it began and where it is; what is typed may go beyond."""
        step, page, places = self.steps(unit)
        low = max(self.least, step if self.open_below else 0.0)
        if self.least < 0:
            reach = max(_round(2 * max(abs(began), abs(self.at), page)), page)
            low = max(self.least, -reach)
        high = _round(2 * max(abs(began), step * 5))
        if self.at > high:
            high = _round(2 * self.at)
        if self.unit == "deg":
            low, high = max(self.least, -180.0 if self.least < 0 else step), 180.0
        high = min(self.most, high)
        return Scale(self.at, min(low, self.at), max(high, self.at, low + step), step, page, places)


def _round(value: float) -> float:
    """The next number up of the row 1, 2, 3, 5."""
    size = 10 ** math.floor(math.log10(value))
    return next(round(size * times, 9) for times in (1, 2, 3, 5, 10) if size * times >= value * (1 - 1e-9))


def shown(unit: str) -> str:
    """A unit as it stands beside a number."""
    return {"N*m": "N m", "lbf*in": "lbf in", "deg": "°", "1/in": "per in"}.get(unit, unit)


def members(design: Design) -> dict[str, str]:
    """Every member that has numbers, by its key, and how it is called."""
    keys = {}
    for kind in ("design", "plate", "shaft", "gear", "mesh", "load", *SEVERAL[3:6], "mitre", "measured"):
        if kind in SINGLE:
            if getattr(design, kind) is not None or kind == "load":
                keys[kind] = CALLED[kind]
        else:
            for table in getattr(design, kind):
                called = CALLED[kind]
                keys[f"{kind} {table.name}"] = (
                    table.name if table.name.startswith(called) else f"{called} {table.name}"
                )
    return keys


def parted(key: str) -> tuple[str, str]:
    """The table and the name of a member, from its key."""
    kind, _, name = key.partition(" ")
    return kind, name


def numbers(design: Design, key: str) -> dict[str, Number]:
    """The numbers of a member, by their keys; those that are given first."""
    kind, name = parted(key)
    table = getattr(design, kind) if kind in SINGLE else _named(design, kind, name)
    cls: type[Table] = LoadTable if table is None else type(table)
    listed = [number for field in _fields(cls) for number in _of_field(design, kind, name, table, field)]
    if table is None:  # no load yet: it begins with its torque
        listed = [number for number in listed if number.field == "torque"]
    listed = [number for number in listed if number.given or number.field not in SIZE]
    listed.sort(key=lambda number: (not number.given, number.field != "teeth"))
    return {number.key: number for number in listed}


def _named(design: Design, kind: str, name: str) -> Table | None:
    return next((table for table in getattr(design, kind) if table.name == name), None)


class _Field(NamedTuple):
    """What the class of a table says of a field that holds a number, or two."""

    field: str
    whole: bool
    several: bool
    least: float
    most: float
    open_below: bool
    optional: bool


@lru_cache(maxsize=32)
def _fields(cls: type[Table]) -> tuple[_Field, ...]:
    rows = []
    for field, info in cls.model_fields.items():
        kinds = str(info.annotation)
        if not any(word in kinds for word in ("int", "float")) or "Literal" in kinds:
            continue
        marks = [*info.metadata, *_inner(info.annotation)]
        bounds = {
            word: getattr(mark, word)
            for mark in marks
            for word in ("gt", "ge", "lt", "le")
            if hasattr(mark, word)
        }
        least = bounds.get("ge", bounds.get("gt", -math.inf))
        most = bounds.get("le", bounds.get("lt", math.inf))
        whole, several = "int" in kinds, "tuple" in kinds
        rows.append(_Field(field, whole, several, least, most, "gt" in bounds, info.default is None))
    return tuple(rows)


def _of_field(design: Design, kind: str, name: str, table: Table | None, of: _Field) -> Iterator[Number]:
    value = None if table is None else getattr(table, of.field)
    common: dict[str, Any] = {
        "table": kind,
        "member": name,
        "field": of.field,
        "whole": of.whole,
        "unit": _unit(design, of.field, of.whole),
        "least": of.least,
        "most": of.most,
        "open_below": of.open_below,
        "optional": of.optional and table is not None and of.field not in SIZE and not of.several,
    }
    if not of.several:
        yield Number(value=value, suggested=_begin(design, table, of.field), **common)
    elif value is not None:
        for place, each in enumerate(value):
            yield Number(value=each, suggested=each, place=place, both=tuple(value), **common)


def _inner(annotation: Any) -> Iterator[Any]:
    """What is said of a number inside a type, such as one of a pair."""
    yield from (
        mark for field in getattr(annotation, "__metadata__", ()) for mark in getattr(field, "metadata", ())
    )
    for inner in getattr(annotation, "__args__", ()):
        yield from _inner(inner)


def _unit(design: Design, field: str, whole: bool) -> str:
    metric = design.unit == "mm"
    if whole:
        return ""
    if field in OWN:
        return OWN[field]
    if field in ANGLES:
        return "deg"
    if field in TORQUES:
        return "N*m" if metric else "lbf*in"
    if field in STRESSES:
        return "MPa" if metric else "psi"
    if field == "force":
        return "N" if metric else "lbf"
    if field in BARE:
        return "modules" if field == "profile_shift" else ""
    return design.unit


def _begin(design: Design, table: Any, field: str) -> float:
    """Where a number begins that is not given: from its neighbours where they tell, else a usual size."""
    if field == "hole":
        return round(table.diameter * 1.005, 3 if design.unit == "mm" else 4)
    if field in ("x", "y") and design.plate is not None:
        return (design.plate.length if field == "x" else design.plate.height) / 2
    if field == "hub_diameter":
        return 2 * table.bore
    if field == "rim_diameter":
        size = table.module or 1 / (table.diametral_pitch or 1)
        return (table.teeth + 12) * size
    if field in ("screw_length", "drill_depth", "drill_reach", "thread_length") and table.hub_diameter:
        return round((table.hub_diameter - table.bore) / 2, 3)
    return BEGIN.get(field, USUAL)[design.unit == "in"]
