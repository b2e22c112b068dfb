"""Sizes that were typed in the other unit: what is 25.4 times too large or too small beside its gear."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

from gearlab.theory.units import MM_PER_INCH

from ..design import Design, GearTable, ShaftTable
from .advice import Way
from .finding import Edit, Held, Outcome, said
from .ledger import Checks
from .making import hub_edit, needed_length, same_unit
from .moves import long_enough, told
from .sentences import NAMES_OF_UNITS, finding

# What sizes may be, taken so widely that no part of one unit falls out (common practice: faces of 3 to 16
# modules, bores of a tenth to a half of the pitch diameter, plates of a quarter to two shafts).
FACE = (0.8, 60.0)  # modules; a gear of card may be thinner, and its mates are then
MUCH_NARROWER = 8.0  # times than the widest face: that a mate of one unit never is
PROJECTION = (0.4, 60.0)  # modules
BORE = (0.015, 1.0)  # pitch diameters
HUB = (0.025, 1.6)  # pitch diameters
THICKNESS = (0.04, 8.0)  # of the thickest shaft
LENGTH = (0.12, 8.0)  # of what stands on the shaft


# And where what was meant must lie, for the other unit to explain it.
USUAL_FACE, USUAL_PROJECTION, USUAL_BORE = (1.5, 30.0), (1.0, 30.0), (0.04, 0.85)
USUAL_HUB, USUAL_THICKNESS, USUAL_LENGTH = (1.15, 6.0), (0.1, 4.0), (0.7, 3.0)  # hubs in bores
FAR = 2.0  # plates from its corner: there no hole was meant
CHECKS = Checks()


class Size(NamedTuple):
    """A size of a part, between what it may lie, and where one typed in the other unit does [unit]."""

    where: str
    what: str
    value: float
    may: tuple[float, float]
    usual: tuple[float, float]
    edits: Callable[[float], tuple[Edit, ...]]


def _times(limits: tuple[float, float], of: float) -> tuple[float, float]:
    return limits[0] * of, limits[1] * of


def _sizes(design: Design) -> Iterator[Size]:
    for table in design.gear:
        if same_unit(design, table):
            yield from _of_gear(design, table)
    for shaft in design.shaft:
        yield from _of_shaft(design, shaft)
    thicknesses = [shaft.diameter for shaft in design.shaft]
    if design.plate is not None and thicknesses:
        thinnest, thickest = min(thicknesses), max(thicknesses)
        most = min(THICKNESS[1] * thickest, design.plate.length, design.plate.height)
        may = THICKNESS[0] * thinnest, most
        usual = USUAL_THICKNESS[0] * thinnest, USUAL_THICKNESS[1] * thickest

        def edits(meant: float) -> tuple[Edit, ...]:
            return ({"plate": {"thickness": meant}},)

        yield Size("the plate", "thick", design.plate.thickness, may, usual, edits)


def _of_gear(design: Design, table: GearTable) -> Iterator[Size]:
    gear = design.toothed[table.name]
    pitch, module = gear.pitch_diameter, gear.scale
    widest = max(other.face_width for other in design.gear)
    face = min(FACE[0], widest / MUCH_NARROWER / module), FACE[1]
    own = {
        "face_width": ("wide", _times(face, module), _times(USUAL_FACE, module)),
        "hub_diameter": ("over its hub", _times(HUB, pitch), _times(USUAL_HUB, table.bore)),
        "hub_projection": (
            "of hub beyond its face",
            _times(PROJECTION, module),
            _times(USUAL_PROJECTION, module),
        ),
    }
    if not table.internal and abs(table.bore - design.shaft_of(table.name).diameter) > 1e-6:
        own["bore"] = ("of bore", _times(BORE, pitch), _times(USUAL_BORE, pitch))  # else told of the shaft
    for field, (what, may, usual) in own.items():
        value = getattr(table, field)
        if not value:
            continue

        def edits(meant: float, field=field) -> tuple[Edit, ...]:
            return {"gear": {table.name: {field: meant}}}, hub_edit(design, table, **{field: meant})

        yield Size(table.name, what, value, may, usual, edits)


def _of_shaft(design: Design, shaft: ShaftTable) -> Iterator[Size]:
    gears = [table for table in design.on(shaft.name) if same_unit(design, table) and not table.internal]
    if not gears:
        return
    where = f"shaft {shaft.name}"
    pitch = [design.toothed[table.name].pitch_diameter for table in gears]
    bored = [table.name for table in gears if abs(table.bore - shaft.diameter) < 1e-6]

    def edits(meant: float) -> tuple[Edit, ...]:
        alone: Edit = {"shaft": {shaft.name: {"diameter": meant}}}
        return {**alone, "gear": {name: {"bore": meant} for name in bored}}, alone

    may = BORE[0] * max(pitch), BORE[1] * min(pitch)
    usual = USUAL_BORE[0] * min(pitch), USUAL_BORE[1] * min(pitch)
    yield Size(where, "thick", shaft.diameter, may, usual, edits)


def _lengths(design: Design) -> Iterator[Size]:
    """Lengths of shafts, beside what stands on them: looked at where that is in one unit."""
    for shaft in design.shaft:
        if shaft.length is None or not design.on(shaft.name):
            continue
        needed = needed_length(design, shaft)

        def edits(meant: float, name=shaft.name) -> tuple[Edit, ...]:
            return ({"shaft": {name: {"length": meant}}},)

        may, usual = _times(LENGTH, needed), _times(USUAL_LENGTH, needed)
        yield Size(f"shaft {shaft.name}", "long", shaft.length, may, usual, edits)


def _meant(design: Design, size: Size) -> tuple[float, ...]:
    """What was meant, if it was typed in the other unit: as a workshop writes it, then in full [unit]."""
    places = {"mm": 2, "in": 4}[design.unit]
    meant = size.value * _factor(size)
    return tuple(dict.fromkeys(round(meant, digits) for digits in (places - 1, places)))


def _looked_at(design: Design) -> Iterator[Size]:
    """All sizes; lengths of shafts, which hang on what stands there, where that is in one unit."""
    sizes = list(_sizes(design))
    yield from sizes
    if not any(_explained(size) for size in sizes):
        yield from _lengths(design)


@CHECKS.row("sizes in one unit", "Is each size in the file's unit?", "units-look-mixed", of=_looked_at)
def _size(design: Design, size: Size) -> Outcome:
    """Of what is far from any usual size, whether a factor of 25.4 explains it."""
    if not _explained(size):
        return Held(size.where, f"in the file's unit: {size.what}", size.value, None, design.unit)
    unit, other = design.unit, "in" if design.unit == "mm" else "mm"
    number = said(size.value, unit)

    def ways() -> Iterator[list[Way]]:
        yield [way for meant in _meant(design, size) for edit in size.edits(meant) for way in written(edit)]

    def written(edit: Edit) -> Iterator[Way]:
        says = f"Write {said(_first_number(edit), unit)} for {number}{_and_bore(edit)}"
        yield Way(says, edit)
        whole, own = long_enough(design, edit), edit.get("shaft", {})
        longer = {
            name: {"length": fields["length"]}
            for name, fields in whole.get("shaft", {}).items()
            if "length" in fields and "length" not in own.get(name, {})
        }
        if longer:
            yield Way(f"{says}{told(design, {'shaft': longer})}", whole)

    return finding(
        "units-look-mixed, of a size",
        design,
        size.where,
        ways,
        size=f"{number} {size.what}",
        less="less" if size.value < size.may[0] else "more",
        other=said(size.value, other),
        meant=size.value * _factor(size),
        unit_named=NAMES_OF_UNITS[unit],
    )


def _explained(size: Size) -> bool:
    """Whether a size is none of its kind, and would be a usual one in the other unit."""
    if size.may[0] <= size.value <= size.may[1]:
        return False
    return size.usual[0] <= size.value * _factor(size) <= size.usual[1]


def _factor(size: Size) -> float:
    return MM_PER_INCH if size.value < size.may[0] else 1 / MM_PER_INCH


def _first_number(edit: Edit) -> float:
    """The new number of an edit: of a shaft's edit the shaft's, else the first of its fields."""
    fields: Any = edit["shaft"] if "shaft" in edit else next(iter(edit.values()))
    while isinstance(fields, dict):
        fields = next(iter(fields.values()))
    return fields


def _and_bore(edit: Edit) -> str:
    if edit.get("shaft") and edit.get("gear"):
        return f", and for the bore of {' and '.join(edit['gear'])}"
    return ""


# -- places ------------------------------------------------------------------------------------------------
@CHECKS.row("places in one unit", "Is each place in the file's unit?", "units-look-mixed", of="standing")
def _place(design: Design, shaft: ShaftTable) -> Outcome | None:
    """Whether holes that lie far off the plate would lie on it in the other unit."""
    if design.plate is None:
        return None
    board = {"x": design.plate.length, "y": design.plate.height}
    strayed = {
        shaft.name: axes
        for shaft in design.standing
        if (
            axes := {
                axis: round(at / MM_PER_INCH, 3)
                for axis, at in zip("xy", shaft.place)
                if at > FAR * board[axis] and at / MM_PER_INCH < board[axis]
            }
        )
    }
    if shaft.name not in strayed:
        return Held(f"shaft {shaft.name}", "its place is given in the file's unit")
    unit, other = design.unit, "in" if design.unit == "mm" else "mm"
    axis, inside = next(iter(strayed[shaft.name].items()))
    at = dict(zip("xy", shaft.place))[axis]

    def ways() -> Iterator[list[Way]]:
        numbers = ", ".join(f"{said(value, unit)} for {word}" for word, value in strayed[shaft.name].items())
        others = f", and the places of {' and '.join(strayed)} so" if len(strayed) > 1 else ""
        yield [
            Way(f"Write {numbers}", {"shaft": {shaft.name: strayed[shaft.name]}}),
            Way(f"Write {numbers}{others}", {"shaft": strayed}),
        ]

    return finding(
        "units-look-mixed, of a place",
        design,
        f"shaft {shaft.name}",
        ways,
        axis=axis,
        at=at,
        other=said(at, other),
        inside=inside,
        unit_named=NAMES_OF_UNITS[unit],
    )
