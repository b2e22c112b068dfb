"""What was measured of a design, beside what is drawn: which of the two a check uses, and how well it reads.

A difference counts where the instrument can see it: beyond what it reads to.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import NamedTuple

from ..design import Design, MeasuredTable
from ..gear import Gear
from ..internal import InternalGear
from .advice import Way
from .finding import Held, Outcome, said
from .ledger import Checks
from .moves import spaced, told
from .sentences import finding, unmade
from .standings import standings, usual_count

#: Quantities that are a field of the part's own table, and that table.
FIELDS = {
    "bore": "gear",
    "face_width": "gear",
    "hub_diameter": "gear",
    "diameter": "shaft",
    "length": "shaft",
    "hole": "shaft",
    "thickness": "plate",
}
CHECKS = Checks()


class Nominal(NamedTuple):
    """What a reading should be [unit]; or why that cannot be told, and what to give."""

    value: float | None
    why: str = ""
    give: str = ""


def _of_mesh(design: Design, reading: MeasuredTable) -> Nominal:
    standing = next(standing for standing in standings(design) if standing.where == reading.part)
    drawn = design.distance(*standing.pair.gears)
    if reading.quantity == "hole_spacing":
        return Nominal(drawn)
    if reading.quantity == "spacing_over_pins":
        return Nominal(drawn + standing.pins)
    play = standing.drawn_play
    if play is None:
        return Nominal(None, "the teeth have no play that could be worked out", "mend the mesh first")
    return Nominal(max(play, 0.0))


def _of_gear(design: Design, reading: MeasuredTable) -> Nominal:
    table, gear = design.of(reading.part), design.toothed[reading.part]
    if reading.quantity in ("bore", "face_width", "hub_diameter"):
        value = getattr(table, reading.quantity)
        return Nominal(value) if value is not None else Nominal(None, "it has no hub", "give hub_diameter")
    if reading.quantity == "overall_length":
        return Nominal(design.overall_length(reading.part))
    if gear.unit != design.unit:
        return Nominal(None, "its size is in another unit than the file", "give it in the file's unit")
    try:
        return Nominal(_of_teeth(gear, reading))
    except ValueError as error:
        return Nominal(None, str(error), "measure over other pins or teeth")


def _of_teeth(gear: Gear | InternalGear, reading: MeasuredTable) -> float:
    if isinstance(gear, InternalGear):
        if reading.quantity == "over_pins":
            return gear.between_pins(reading.pin_diameter)
        raise ValueError(f"a ring has no {reading.quantity.replace('_', ' ')}")
    if reading.quantity == "outside_diameter":
        return gear.outside_diameter
    if reading.quantity == "span":
        return gear.span(usual_count(gear, reading))
    return gear.over_pins(reading.pin_diameter)


def _of_shaft(design: Design, reading: MeasuredTable) -> Nominal:
    shaft = next(shaft for shaft in design.shaft if shaft.name == reading.part)
    value = getattr(shaft, reading.quantity)
    if value is None:
        return Nominal(None, f"the file gives no {reading.quantity}", f"give {reading.quantity} of the shaft")
    return Nominal(value)


def _of_plate(design: Design, reading: MeasuredTable) -> Nominal:
    if design.plate is None:
        return Nominal(None, "the design has no plate", "add [plate]")
    return Nominal(design.plate.thickness)


_NOMINAL: dict[str, Callable[[Design, MeasuredTable], Nominal]] = {
    "mesh": _of_mesh,
    "gear": _of_gear,
    "shaft": _of_shaft,
    "plate": _of_plate,
}


def nominal(design: Design, reading: MeasuredTable) -> Nominal:
    """What a reading should be [unit of the design]."""
    from ..design.tables import MEASURED

    return _NOMINAL[MEASURED[reading.quantity]](design, reading)


@CHECKS.row(
    "readings",
    "Is each part as it is drawn, as far as the instrument can see?",
    "measured-differs",
    of="measured",
)
def _reading(design: Design, reading: MeasuredTable) -> Outcome:
    words, unit = reading.quantity.replace("_", " "), design.unit
    where = reading.part if reading.part != "plate" else "the plate"
    value, why, give = nominal(design, reading)
    if value is None:
        return unmade("reading", design, where, words=words, why=why, give=give)
    difference, reads_to = abs(reading.value - value), reading.reads_to
    if difference <= reads_to * (1 + 1e-9) + 1e-12:
        what = f"measured {words} {said(reading.value, unit)}, as drawn; the difference"
        return Held(where, what, difference, reads_to, unit, least=False)
    again = Way(
        f"Make it again as it is drawn, and measure its {words} again", {"measured": {reading.name: None}}
    )
    return finding(
        "measured-differs",
        design,
        where,
        lambda: [_taken_over(design, reading), [again]],
        compared=(reading.value, value),
        words=words,
        reads_to=reads_to,
        difference=difference,
    )


def _taken_over(design: Design, reading: MeasuredTable) -> Iterator[Way]:
    """The drawing made to say what was measured."""
    part, value, unit = reading.part, reading.value, design.unit
    words = f"Draw it as it is: {reading.quantity.replace('_', ' ')} {said(value, unit)}"
    if reading.quantity in FIELDS:
        kind, field = FIELDS[reading.quantity], {reading.quantity: value}
        yield Way(words, {kind: field if kind == "plate" else {part: field}})
    elif reading.quantity == "overall_length":
        hub = value - design.of(part).face_width
        if hub > 0 and design.of(part).hub_diameter is not None:
            longer = {"gear": {part: {"hub_projection": round(hub, 6)}}}
            yield Way(f"{words}, its hub {said(hub, unit)}", longer)
    elif reading.quantity in ("hole_spacing", "spacing_over_pins"):
        standing = next(standing for standing in standings(design) if standing.where == part)
        distance = standing.spacing.value
        edit = spaced(design, *standing.pair.gears, distance)
        yield Way(f"Draw the holes as they are, {said(distance, unit)} apart{told(design, edit)}", edit)
    elif reading.quantity in ("span", "over_pins"):
        gear = design.gears.get(part)
        thinner = None if gear is None else _thinned(gear, reading)
        if thinner is not None:
            says = f"Draw the teeth as they are: tooth_thinning {said(thinner, unit)}"
            yield Way(says, {"gear": {part: {"tooth_thinning": thinner}}})


def _thinned(gear: Gear, reading: MeasuredTable) -> float | None:
    """The thinning at which a gear measures as it did [unit], from how it changes; None without."""
    thinning = gear.tooth_thinning
    for _ in range(4):
        try:
            more = replace(gear, tooth_thinning=thinning + 0.01 * gear.scale)
            now = _of_teeth(replace(gear, tooth_thinning=thinning), reading)
            slope = (_of_teeth(more, reading) - now) / (0.01 * gear.scale)
        except ValueError:
            return None
        thinning = thinning + (reading.value - now) / slope
        if thinning < 0:
            return None
    return round(thinning, 6)
