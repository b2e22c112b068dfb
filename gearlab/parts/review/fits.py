"""Bores on their shafts, and shafts in the holes of the plate."""

from __future__ import annotations

from collections.abc import Iterator

from ..design import Design, GearTable, ShaftTable
from .advice import Advised, Way
from .finding import Held, Outcome, Unmade, both, said
from .ledger import Check
from .making import LOOSE_HOLE, hub_edit, limits_of, on_a_pin, screw_gone, thicker

LOOSE = {"mm": 0.1, "in": 0.004}  # bore over shaft without a named fit; common practice
SAME = 1e-6  # sizes nearer than this are one
ISO = "ISO 286-1:2010"


def bores(design: Design) -> Iterator[Outcome]:
    """How each bore suits its shaft."""
    for table in design.gear:
        if table.fit is None:
            yield _unnamed_fit(design, table)
        else:
            yield _named_fit(design, table, table.fit)


def _named_fit(design: Design, table: GearTable, letters: str) -> Outcome:
    shaft, unit = design.shaft_of(table.name), design.unit
    limits = limits_of(letters, table.bore, unit)
    if isinstance(limits, str):
        return Advised(
            "fit-unknown",
            "will trouble",
            table.name,
            limits + ".",
            "A fit is named by letters or by a known word.",
            "Nobody can make what is not named.",
            ISO,
            design=design,
            ways=lambda: [_refits(design, table)],
            otherwise="Name a fit of the table.",
        )
    if abs(table.bore - shaft.diameter) > SAME:
        bore, rod = both(table.bore, shaft.diameter, unit)
        return Advised(
            "bore-is-not-the-shaft",
            "will not work",
            table.name,
            f"a fit is named, but the bore is {bore} and the shaft {rod}.",
            "A fit belongs to one nominal size.",
            "The gear rattles, or does not go on.",
            ISO,
            design=design,
            ways=lambda: _to_one_size(design, table, shaft),
            otherwise="Give bore and shaft the same nominal size.",
        )
    fitting, kind = limits
    if kind == "interference" and table.set_screw is not None:
        return Advised(
            "press-fit-with-screw",
            "worth knowing",
            table.name,
            f"{fitting.name} is pressed on: the set screw has nothing to do.",
            "A press fit holds by itself.",
            "The screw only pushes the gear off its centre.",
            ISO,
            design=design,
            ways=lambda: [
                [Way("Leave the set screw out", {"gear": {table.name: screw_gone(table) | {"flat": None}}})],
                [Way('Choose a sliding fit, fit = "sliding"', {"gear": {table.name: {"fit": "sliding"}}})],
            ],
            otherwise="Leave the screw out, or choose a sliding fit.",
        )
    return _as_measured(design, table, shaft, (fitting.least_clearance, fitting.largest_clearance)) or Held(
        table.name,
        f"bore and shaft are both {said(table.bore, unit)}, by the {kind} fit {fitting.name}",
    )


def _as_measured(
    design: Design, table: GearTable, shaft: ShaftTable, limits: tuple[float, float]
) -> Outcome | None:
    """What the caliper says of a fit, as far as it can see; None where bore or shaft were not measured."""
    bore, rod = design.reading(table.name, "bore"), design.reading(shaft.name, "diameter")
    if bore is None or rod is None:
        return None
    clearance, sees = bore.value - rod.value, bore.reads_to + rod.reads_to
    if clearance < limits[0] - sees - 1e-9:
        return _tighter(design, table, -clearance, measured=True)
    if clearance > limits[1] + sees + 1e-9:
        return _looser(design, table, clearance, limits[1] + sees, measured=True)
    return Held(
        table.name, "clearance of bore and shaft, as measured,", clearance, limits[1], design.unit, False
    )


def _unnamed_fit(design: Design, table: GearTable) -> Outcome:
    shaft, unit = design.shaft_of(table.name), design.unit
    measured = _as_measured(design, table, shaft, (0.0, LOOSE[unit]))
    if measured is not None:
        return measured
    clearance = table.bore - shaft.diameter
    if clearance < -SAME:
        return _tighter(design, table, -clearance)
    if clearance > LOOSE[unit] + SAME:
        return _looser(design, table, clearance, LOOSE[unit])
    if clearance <= SAME:
        return Advised(
            "fit-not-named",
            "worth knowing",
            table.name,
            f"bore and shaft are both {said(table.bore, unit)}, and no fit is named.",
            "A fit states limits for both.",
            "It depends on chance whether the gear goes on, sticks or falls off.",
            ISO,
            design=design,
            ways=lambda: [_refits(design, table)],
            otherwise='Name a fit, such as fit = "sliding".',
        )
    return Held(table.name, "its bore is wider than its shaft by", clearance, LOOSE[unit], unit, False)


def _tighter(design: Design, table: GearTable, by: float, measured: bool = False) -> Outcome:
    unit, shaft = design.unit, design.shaft_of(table.name)
    return Advised(
        "bore-tighter-than-shaft",
        "will not work",
        table.name,
        f"its bore is {said(by, unit)} smaller than the shaft{', as measured' if measured else ''}.",
        "Without a named press fit the bore must not be smaller.",
        "The gear cannot be pushed on.",
        design=design,
        ways=lambda: [_rebored(design, table, {"fit": _word(design, table)}, again=measured)],
        otherwise=f"Bore it to {said(shaft.diameter, unit)} by a named fit, and measure again.",
    )


def _looser(
    design: Design, table: GearTable, clearance: float, most: float, measured: bool = False
) -> Outcome:
    unit, shaft = design.unit, design.shaft_of(table.name)
    wide, limit = both(clearance, most, unit)
    return Advised(
        "bore-looser-than-shaft",
        "will trouble",
        table.name,
        f"its bore is {wide} wider than the shaft{', as measured' if measured else ''}.",
        f"Up to {limit} will do; about {said(LOOSE[unit] / 4, unit)} is a running fit.",
        "The screw pushes the gear off centre, and it wobbles.",
        design=design,
        ways=lambda: [_rebored(design, table, {"fit": _word(design, table)}, again=measured)],
        otherwise=f"Make another gear with a bore of {said(shaft.diameter, unit)}, by a named fit.",
    )


def _word(design: Design, table: GearTable) -> str:
    return "running" if on_a_pin(design, table) else "sliding"


def _refits(design: Design, table: GearTable) -> Iterator[Way]:
    for letters in (_word(design, table), "sliding", "running", "close running"):
        yield Way(f'Name a fit, fit = "{letters}"', {"gear": {table.name: {"fit": letters}}})
    diameter = design.shaft_of(table.name).diameter
    yield Way(
        f'Bore it to {said(diameter, design.unit)} by the fit "sliding"',
        hub_edit(design, table, bore=diameter, fit="sliding"),
    )
    yield Way("Leave the fit out, and state bore and shaft", {"gear": {table.name: {"fit": None}}})


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
    ways = [_rebored(design, table, {}), _other_shaft(design, table, shaft)]
    suits = shaft.hole is not None and 0 < shaft.hole - table.bore <= LOOSE_HOLE[design.unit]
    return (
        ways[::-1]
        if suits and not 0 < (shaft.hole or 0.0) - shaft.diameter <= LOOSE_HOLE[design.unit]
        else ways
    )


def _other_shaft(design: Design, table: GearTable, shaft: ShaftTable) -> Iterator[Way]:
    if {other.bore for other in design.on(shaft.name)} == {table.bore}:
        yield Way(
            f"Take a shaft of {said(table.bore, design.unit)}",
            thicker(design, shaft, table.bore),
        )


# -- in the plate --------------------------------------------------------------------------------------
def holes(design: Design) -> Iterator[Outcome]:
    """Whether each shaft can turn in its hole."""
    for shaft in design.standing:
        hole, rod = design.reading(shaft.name, "hole"), design.reading(shaft.name, "diameter")
        if hole is None and shaft.hole is None:
            yield Unmade(
                f"shaft {shaft.name}",
                "how it runs in its hole in the plate",
                "the diameter of the hole is not given",
                f"give it to the shaft, such as hole = {said(shaft.diameter + LOOSE_HOLE[design.unit] / 2)}",
            )
            continue
        wide = hole.value if hole is not None else shaft.hole or 0.0
        thick = rod.value if rod is not None else shaft.diameter
        sees = sum(reading.reads_to for reading in (hole, rod) if reading is not None)
        yield _running(design, shaft, wide - thick, sees)


def _running(design: Design, shaft: ShaftTable, clearance: float, sees: float) -> Outcome:
    unit, where = design.unit, f"hole {shaft.name}"
    gears = design.on(shaft.name)
    if gears and all(on_a_pin(design, table) for table in gears) and clearance <= LOOSE_HOLE[unit] + SAME:
        return Held(where, "its gear runs on it, so it may sit fast in the plate")
    told = ", as measured," if sees else ""
    if clearance + sees < -SAME:
        name, grade, what = (
            "hole-tighter-than-shaft",
            "will not work",
            f"the hole{told} is {said(-clearance, unit)} smaller than the shaft that is to turn in it.",
        )
        why = "The shaft does not go in."
    elif clearance + sees <= SAME:
        name, grade, what = (
            "hole-tighter-than-shaft",
            "will trouble",
            f"the hole{told} is exactly as wide as the shaft that is to turn in it.",
        )
        why = "It depends on chance whether the shaft goes in, and it binds when it turns."
    elif clearance - sees > LOOSE_HOLE[unit] + SAME:
        wide, limit = both(clearance, LOOSE_HOLE[unit], unit)
        name, grade, what = (
            "hole-looser-than-shaft",
            "will trouble",
            f"the hole{told} is {wide} wider than the shaft, more than {limit}.",
        )
        why = "The shaft leans, and the backlash comes and goes with it."
    else:
        return Held(where, f"clearance of the running shaft{told}", clearance, LOOSE_HOLE[unit], unit, False)
    return Advised(
        name,
        grade,
        where,
        what,
        f"From above 0 up to {said(LOOSE_HOLE[unit], unit)}; {said(LOOSE_HOLE[unit] / 2, unit)} is usual.",
        why,
        "common practice; running fits: ISO 286-1",
        design=design,
        ways=lambda: [_redrilled(design, shaft)],
        otherwise="Ream the hole for a running fit, or bush it, and measure again.",
    )


def _redrilled(design: Design, shaft: ShaftTable) -> Iterator[Way]:
    for share in (0.5, 0.25, 0.9):
        size = round(shaft.diameter + share * LOOSE_HOLE[design.unit], 6)
        edit: dict = {"shaft": {shaft.name: {"hole": size}}}
        if design.reading(shaft.name, "hole") is not None:
            edit["measured"] = {f"{shaft.name} hole": None}
        yield Way(f"Make the hole {said(size, design.unit)} wide", edit)


CHECKS = (
    Check(
        "bores",
        "Does each bore suit its shaft?",
        (
            "fit-unknown",
            "bore-is-not-the-shaft",
            "press-fit-with-screw",
            "bore-tighter-than-shaft",
            "bore-looser-than-shaft",
            "fit-not-named",
        ),
        bores,
    ),
    Check(
        "running in the plate",
        "Can each shaft turn in its hole?",
        ("hole-tighter-than-shaft", "hole-looser-than-shaft"),
        holes,
    ),
)
