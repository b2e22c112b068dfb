"""What can be wrong on the plate and along the shafts: lengths and fits."""

from __future__ import annotations

from collections.abc import Iterator

from ..design import Design, GearTable
from ..fits import fit
from .finding import Finding, said
from .ledger import Check

TOO_LONG = {"mm": 12.0, "in": 0.5}  # bare shaft beyond what is needed
LOOSE = {"mm": 0.1, "in": 0.004}  # bore over shaft without a named fit


def findings(design: Design) -> Iterator[Finding]:
    """Findings about plate, shafts and bores."""
    for shaft in design.shaft:
        yield from _length(design, shaft)
    for one in design.gear:
        yield from _bore(design, one)


def _length(design: Design, shaft) -> Iterator[Finding]:
    rod, unit = design.rods.get(shaft.name), design.unit
    gears = [one for one in design.gear if one.shaft == shaft.name]
    if rod is None or not gears:
        return
    reach = max(design.foot(one.name) + design.overall_length(one.name) for one in gears)
    needed = rod.needed(
        behind=shaft.behind, plate=design.on_plate.thickness, gap=0.0, gear=reach, end=shaft.end
    )
    spare = rod.length - needed
    if spare < -1e-6:
        yield Finding(
            "shaft-too-short",
            "will not work",
            f"shaft {shaft.name}",
            f"it is {said(rod.length, unit)} long, {said(-spare, unit)} short.",
            f"Collar, plate, gap, gear and end need {said(needed, unit)}.",
            "The gear has no hold at its end, or the shaft none in the plate.",
            f"Take {said(rod.next_stock(needed), unit)}.",
        )
    elif spare > TOO_LONG[unit]:
        yield Finding(
            "shaft-too-long",
            "will trouble",
            f"shaft {shaft.name}",
            f"it stands out {said(spare, unit)} more than needed.",
            f"Some {said(TOO_LONG[unit], unit)} are plenty.",
            "A bare turning end catches sleeves and bends easily.",
            f"Take {said(rod.next_stock(needed), unit)}, or cover the end.",
        )


def _bore(design: Design, table: GearTable) -> Iterator[Finding]:
    if table.fit is None:
        yield from _unnamed_fit(design, table)
    else:
        yield from _named_fit(design, table, table.fit)


def _named_fit(design: Design, table: GearTable, letters: str) -> Iterator[Finding]:
    shaft, unit = design.shaft_of(table.name), design.unit
    try:
        limits = fit(letters, table.bore, unit)
    except ValueError as error:
        yield Finding(
            "fit-unknown",
            "will trouble",
            table.name,
            str(error) + ".",
            "A fit is named by letters or by a known word.",
            "Nobody can make what is not named.",
            "Name a fit of the table.",
            "ISO 286-1:2010",
        )
        return
    if abs(table.bore - shaft.diameter) > 1e-6:
        yield Finding(
            "bore-is-not-the-shaft",
            "will not work",
            table.name,
            f"a fit is named, but the bore is {said(table.bore, unit)} and the shaft"
            f" {said(shaft.diameter, unit)}.",
            "A fit belongs to one nominal size.",
            "The gear rattles, or does not go on.",
            "Give bore and shaft the same nominal size.",
            "ISO 286-1:2010",
        )
    elif limits.kind == "interference" and table.set_screw is not None:
        yield Finding(
            "press-fit-with-screw",
            "worth knowing",
            table.name,
            f"{limits.name} is pressed on: the set screw has nothing to do.",
            "A press fit holds by itself.",
            "The screw only pushes the gear off its centre.",
            "Leave the screw out, or choose a sliding fit.",
            "ISO 286-1:2010",
        )


def _unnamed_fit(design: Design, table: GearTable) -> Iterator[Finding]:
    shaft, unit = design.shaft_of(table.name), design.unit
    clearance = table.bore - shaft.diameter
    if clearance < -1e-6:
        yield Finding(
            "bore-tighter-than-shaft",
            "will not work",
            table.name,
            f"its bore is {said(-clearance, unit)} smaller than the shaft.",
            "Without a named press fit the bore must not be smaller.",
            "The gear cannot be pushed on.",
            f"Bore it to {said(shaft.diameter, unit)} by a named fit.",
        )
    elif clearance > LOOSE[unit]:
        yield Finding(
            "bore-looser-than-shaft",
            "will trouble",
            table.name,
            f"its bore is {said(clearance, unit)} wider than the shaft.",
            f"About {said(LOOSE[unit] / 4, unit)} is a running fit.",
            "The screw pushes the gear off centre, and it wobbles.",
            f"Bore it to {said(shaft.diameter, unit)} by a named fit.",
        )
    elif abs(clearance) <= 1e-6:
        yield Finding(
            "fit-not-named",
            "worth knowing",
            table.name,
            f"bore and shaft are both {said(table.bore, unit)}, and no fit is named.",
            "A fit states limits for both.",
            "It depends on chance whether the gear goes on, sticks or falls off.",
            'Name a fit, such as fit = "sliding".',
            "ISO 286-1:2010",
        )


CHECKS = (
    Check(
        "plate and shafts",
        "Does everything stand where it should, and fit?",
        (
            "shaft-too-short",
            "shaft-too-long",
            "fit-unknown",
            "bore-is-not-the-shaft",
            "press-fit-with-screw",
            "bore-tighter-than-shaft",
            "bore-looser-than-shaft",
            "fit-not-named",
        ),
        findings,
    ),
)
