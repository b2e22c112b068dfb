"""Sizes that were typed in the other unit: what is 25.4 times too large or too small beside its gear."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import Any, NamedTuple

from gearlab.theory.units import MM_PER_INCH

from ..design import Design, GearTable, ShaftTable
from .advice import Advised, Way
from .finding import Edit, Held, Outcome, said
from .ledger import Check
from .making import hub_edit, needed_length, same_unit

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
_NAMES = {"mm": "millimetres", "in": "inches"}


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
        thickness = design.plate.thickness
        yield Size(
            "the plate",
            "thick",
            thickness,
            (
                THICKNESS[0] * thinnest,
                min(THICKNESS[1] * thickest, design.plate.length, design.plate.height),
            ),
            (USUAL_THICKNESS[0] * thinnest, USUAL_THICKNESS[1] * thickest),
            lambda meant: ({"plate": {"thickness": meant}},),
        )


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
            return (
                {"gear": {table.name: {field: meant}}},
                hub_edit(design, table, **{field: meant}),
            )

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
        yield Size(
            f"shaft {shaft.name}",
            "long",
            shaft.length,
            _times(LENGTH, needed),
            _times(USUAL_LENGTH, needed),
            partial(_of_length, shaft.name),
        )


def _of_length(shaft: str, meant: float) -> tuple[Edit, ...]:
    return ({"shaft": {shaft: {"length": meant}}},)


def _meant(design: Design, size: Size) -> tuple[float, ...]:
    """What was meant, if it was typed in the other unit: as a workshop writes it, then in full [unit]."""
    places = {"mm": 2, "in": 4}[design.unit]
    meant = size.value * _factor(size)
    return tuple(dict.fromkeys(round(meant, digits) for digits in (places - 1, places)))


def _units(design: Design) -> Iterator[Outcome]:
    """Of what is far from any usual size, whether a factor of 25.4 explains it."""
    one_unit = True
    for size in _sizes(design):
        if _explained(size):
            one_unit = False
            yield _mixed(design, size)
        else:
            yield Held(size.where, f"in the file's unit: {size.what}", size.value, None, design.unit)
    if not one_unit:
        return
    for size in _lengths(design):
        if _explained(size):
            yield _mixed(design, size)
        else:
            yield Held(size.where, f"in the file's unit: {size.what}", size.value, None, design.unit)


def _explained(size: Size) -> bool:
    """Whether a size is none of its kind, and would be a usual one in the other unit."""
    if size.may[0] <= size.value <= size.may[1]:
        return False
    return size.usual[0] <= size.value * _factor(size) <= size.usual[1]


def _factor(size: Size) -> float:
    return MM_PER_INCH if size.value < size.may[0] else 1 / MM_PER_INCH


def _mixed(design: Design, size: Size) -> Outcome:
    unit, other = design.unit, "in" if design.unit == "mm" else "mm"
    number = said(size.value, unit)

    def ways() -> Iterator[Iterator[Way]]:
        yield (
            Way(f"Write {said(_first_number(edit), unit)} for {number}{_and_bore(edit)}", edit)
            for meant in _meant(design, size)
            for edit in size.edits(meant)
        )

    small = size.value < size.may[0]
    return Advised(
        "units-look-mixed",
        "will not work",
        size.where,
        f"it is {number} {size.what}, far {'less' if small else 'more'} than any such part.",
        f"{said(size.value, other)} are {said(size.value * _factor(size), unit)}, which is usual.",
        "Somewhere inches and millimetres were exchanged: a factor of 25.4.",
        design=design,
        ways=ways,
        otherwise=f"Write it in {_NAMES[unit]}, as all of the file.",
    )


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
def _places(design: Design) -> Iterator[Outcome]:
    """Whether holes that lie far off the plate would lie on it in the other unit."""
    if design.plate is None:
        return
    board = {"x": design.plate.length, "y": design.plate.height}
    strayed = {
        shaft.name: {
            axis: round(at / MM_PER_INCH, 3)
            for axis, at in zip("xy", shaft.place)
            if at > FAR * board[axis] and at / MM_PER_INCH < board[axis]
        }
        for shaft in design.standing
    }
    for shaft in design.standing:
        if not strayed[shaft.name]:
            yield Held(f"shaft {shaft.name}", "its place is given in the file's unit")
            continue
        yield _strayed(design, shaft, {name: axes for name, axes in strayed.items() if axes})


def _strayed(design: Design, shaft: ShaftTable, strayed: dict[str, dict[str, float]]) -> Outcome:
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

    return Advised(
        "units-look-mixed",
        "will not work",
        f"shaft {shaft.name}",
        f"its {axis} is {said(at, unit)}, far off the plate.",
        f"{said(at, other)} are {said(inside, unit)}, which lies on it.",
        "Somewhere inches and millimetres were exchanged: a factor of 25.4.",
        design=design,
        ways=ways,
        otherwise=f"Write it in {_NAMES[unit]}, as all of the file.",
    )


CHECKS = (
    Check("sizes in one unit", "Is each size in the file's unit?", ("units-look-mixed",), _units),
    Check("places in one unit", "Is each place in the file's unit?", ("units-look-mixed",), _places),
)
