"""Bores on their shafts, and shafts in the holes of the plate."""

from __future__ import annotations

from collections.abc import Iterator

from ..design import Design, GearTable, ShaftTable
from .advice import Way
from .finding import Edit, Held, Outcome, said
from .ledger import Checks
from .making import LOOSE_HOLE, hub_edit, limits_of, on_a_pin, screw_gone, thicker
from .sentences import finding, unmade

LOOSE = {"mm": 0.1, "in": 0.004}  # bore over shaft without a named fit; common practice
SAME = 1e-6  # sizes nearer than this are one
CHECKS = Checks()


@CHECKS.row(
    "bores",
    "Does each bore suit its shaft?",
    "fit-unknown",
    "bore-is-not-the-shaft",
    "press-fit-with-screw",
    "bore-tighter-than-shaft",
    "bore-looser-than-shaft",
    "fit-not-named",
    of="gear",
)
def _bore(design: Design, table: GearTable) -> Outcome:
    if table.fit is None:
        return _unnamed_fit(design, table)
    where, shaft = table.name, design.shaft_of(table.name)
    limits = limits_of(table.fit, table.bore, design.unit)
    if isinstance(limits, str):
        return finding("fit-unknown", design, where, lambda: [_refits(design, table)], why=limits)
    if abs(table.bore - shaft.diameter) > SAME:
        return finding(
            "bore-is-not-the-shaft",
            design,
            where,
            lambda: _to_one_size(design, table, shaft),
            compared=(table.bore, shaft.diameter),
        )
    fitting, kind = limits
    if kind == "interference" and table.set_screw is not None:
        return finding(
            "press-fit-with-screw", design, where, lambda: _screw_or_press(table), fit=fitting.name
        )
    by_name = f"bore and shaft are both {said(table.bore, design.unit)}, by the {kind} fit {fitting.name}"
    clearances = fitting.least_clearance, fitting.largest_clearance
    measured = _as_measured(design, table, shaft, clearances)
    if measured is None and fitting.largest_clearance > LOOSE[design.unit] and not on_a_pin(design, table):
        return _misfit(design, table, fitting.largest_clearance, LOOSE[design.unit], fit=fitting.name)
    return measured or Held(where, by_name)


def _as_measured(
    design: Design, table: GearTable, shaft: ShaftTable, limits: tuple[float, float]
) -> Outcome | None:
    """What the caliper says of a fit, as far as it can see; None where bore or shaft were not measured."""
    bore, rod = design.reading(table.name, "bore"), design.reading(shaft.name, "diameter")
    if bore is None or rod is None:
        return None
    clearance, sees = bore.value - rod.value, bore.reads_to + rod.reads_to
    if clearance < limits[0] - sees - 1e-9 or clearance > limits[1] + sees + 1e-9:
        return _misfit(design, table, clearance, limits[1] + sees, measured=True)
    what = "clearance of bore and shaft, as measured,"
    return Held(table.name, what, clearance, limits[1], design.unit, False)


def _unnamed_fit(design: Design, table: GearTable) -> Outcome:
    shaft, unit = design.shaft_of(table.name), design.unit
    measured = _as_measured(design, table, shaft, (0.0, LOOSE[unit]))
    if measured is not None:
        return measured
    clearance = table.bore - shaft.diameter
    if clearance < -SAME or clearance > LOOSE[unit] + SAME:
        return _misfit(design, table, clearance, LOOSE[unit])
    if clearance <= SAME:
        return finding("fit-not-named", design, table.name, lambda: [_refits(design, table)], size=table.bore)
    return Held(table.name, "its bore is wider than its shaft by", clearance, LOOSE[unit], unit, False)


def _misfit(
    design: Design, table: GearTable, clearance: float, most: float, measured: bool = False, fit: str = ""
) -> Outcome:
    """A bore that is tighter than its shaft, or looser by more than the most clearance [unit].

    fit: the name of the fit by which it is.
    """
    fields = {"fit": _word(design, table)}
    return finding(
        "bore-tighter-than-shaft" if clearance < most else "bore-looser-than-shaft",
        design,
        table.name,
        lambda: [_rebored(design, table, fields, again=measured)],
        compared=(clearance, most),
        by=-clearance,
        measured=", as measured" if measured else f", at most, by the fit {fit}" if fit else "",
        shaft=design.shaft_of(table.name).diameter,
        usual=LOOSE[design.unit] / 4,
    )


def _word(design: Design, table: GearTable) -> str:
    return "running" if on_a_pin(design, table) else "sliding"


def _refits(design: Design, table: GearTable) -> Iterator[Way]:
    for letters in (_word(design, table), "sliding", "running", "close running"):
        yield Way(f'Name a fit, fit = "{letters}"', {"gear": {table.name: {"fit": letters}}})
    diameter = design.shaft_of(table.name).diameter
    says = f'Bore it to {said(diameter, design.unit)} by the fit "sliding"'
    yield Way(says, hub_edit(design, table, bore=diameter, fit="sliding"))
    yield Way("Leave the fit out, and state bore and shaft", {"gear": {table.name: {"fit": None}}})


def _screw_or_press(table: GearTable) -> Iterator[list[Way]]:
    yield [Way("Leave the set screw out", {"gear": {table.name: screw_gone(table) | {"flat": None}}})]
    yield [Way('Choose a sliding fit, fit = "sliding"', {"gear": {table.name: {"fit": "sliding"}}})]


def _rebored(design: Design, table: GearTable, fields: dict, again: bool = False) -> Iterator[Way]:
    """The bore as wide as the shaft; of a bore that was measured, what was measured is taken back."""
    diameter = design.shaft_of(table.name).diameter
    edit = dict(hub_edit(design, table, bore=diameter, **fields))
    words = f'by a named fit, fit = "{fields["fit"]}"' if fields else "as the fit needs it"
    if again:
        edit["measured"] = {f"{table.name} bore": None}
        words += ", and measure it again"
    yield Way(f"Bore it to {said(diameter, design.unit)} {words}", edit)


def _to_one_size(design: Design, table: GearTable, shaft: ShaftTable) -> list[Iterator[Way]]:
    """Bore and shaft of one size: the shaft first where its hole suits the bore, and not the shaft."""
    ways, most = [_rebored(design, table, {}), _other_shaft(design, table, shaft)], LOOSE_HOLE[design.unit]
    suits = [
        shaft.hole is not None and 0 < shaft.hole - size <= most for size in (table.bore, shaft.diameter)
    ]
    return ways[::-1] if suits == [True, False] else ways


def _other_shaft(design: Design, table: GearTable, shaft: ShaftTable) -> Iterator[Way]:
    if {other.bore for other in design.on(shaft.name)} == {table.bore}:
        yield Way(f"Take a shaft of {said(table.bore, design.unit)}", thicker(design, shaft, table.bore))


# -- in the plate --------------------------------------------------------------------------------------
@CHECKS.row(
    "running in the plate",
    "Can each shaft turn in its hole?",
    "hole-tighter-than-shaft",
    "hole-looser-than-shaft",
    of="standing",
)
def _hole(design: Design, shaft: ShaftTable) -> Outcome:
    unit, where, most = design.unit, f"hole {shaft.name}", LOOSE_HOLE[design.unit]
    hole, rod = design.reading(shaft.name, "hole"), design.reading(shaft.name, "diameter")
    if hole is None and shaft.hole is None:
        return unmade("hole", design, f"shaft {shaft.name}", such_as=said(shaft.diameter + most / 2))
    wide = hole.value if hole is not None else shaft.hole or 0.0
    clearance = wide - (rod.value if rod is not None else shaft.diameter)
    sees = sum(reading.reads_to for reading in (hole, rod) if reading is not None)
    gears = design.on(shaft.name)
    if gears and all(on_a_pin(design, table) for table in gears) and clearance <= most + SAME:
        return Held(where, "its gear runs on it, so it may sit fast in the plate")
    told = ", as measured," if sees else ""
    if clearance + sees < -SAME:
        row = "hole-tighter-than-shaft"
    elif clearance + sees <= SAME:
        row = "hole-tighter-than-shaft, exactly as wide"
    elif clearance - sees > most + SAME:
        row = "hole-looser-than-shaft"
    else:
        return Held(where, f"clearance of the running shaft{told}", clearance, most, unit, False)
    return finding(
        row,
        design,
        where,
        lambda: [_redrilled(design, shaft)],
        compared=(clearance, most),
        told=told,
        by=-clearance,
        most=most,
        usual=most / 2,
    )


def _redrilled(design: Design, shaft: ShaftTable) -> Iterator[Way]:
    for share in (0.5, 0.25, 0.9):
        size = round(shaft.diameter + share * LOOSE_HOLE[design.unit], 6)
        edit: dict[str, Edit] = {"shaft": {shaft.name: {"hole": size}}}
        if design.reading(shaft.name, "hole") is not None:
            edit["measured"] = {f"{shaft.name} hole": None}
        yield Way(f"Make the hole {said(size, design.unit)} wide", edit)
