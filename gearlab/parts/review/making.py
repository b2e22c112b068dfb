"""What the checks of shafts, hubs and fastenings share: torques, screws, and edits in which all that hangs
together moves together."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from gearlab.theory.units import convert

from ..design import Design, GearTable, MeasuredTable, ShaftTable
from ..published.fastening import Key, SetScrew, key, set_screw
from ..published.fits import NAMED, Fit, fit
from .advice import Way, together
from .finding import PLACES, SIZES, Edit, Unmade, down, said, up
from .sentences import unmade

RULE_HUB = 1.8  # hub over bore; common practice
#: Hole in the plate over the shaft that turns in it; common practice for drilled and cut plates, of which a
#: close running fit (ISO 286-1) is the finest.
LOOSE_HOLE = {"mm": 0.2, "in": 0.008}
LEAST_HUB = 1.5  # below it the wall is called thin
LEAST_ROOM = 0.3  # between hub and root circle [modules]
RUNOUT = 3  # pitches below the last full thread
LEAST_THREADS = 3  # pitches of thread that hold a set screw; common practice
#: Lengths in which small set screws are sold [mm] and [in]; common practice.
LENGTHS = {
    "mm": (2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 30.0),
    "in": (1 / 16, 3 / 32, 0.125, 5 / 32, 0.1875, 0.25, 0.3125, 0.375, 0.5, 0.625, 0.75, 1.0),
}
SCREW_FIELDS = ("set_screw", "screw_length", "drill_depth", "drill_reach", "thread_length")


def level(torque: float, unit: str) -> float:
    """A torque in the design's length unit [N mm, or lbf in]."""
    return convert(torque, "N*m", "N*mm") if unit == "mm" else torque


def same_unit(design: Design, table: GearTable) -> bool:
    """Whether a gear's teeth are measured in the unit of the file; where not, that is said elsewhere."""
    return design.toothed[table.name].unit == design.unit


def screw_of(design: Design, table: GearTable) -> SetScrew | None:
    """The set screw of a gear in the unit of the design; None where its size is not known.

    A metric screw in an inch design, and the reverse, is the same screw: its sizes are converted.
    """
    return known_screw(table.set_screw or "", design.unit)


def known_screw(size: str, unit: str) -> SetScrew | None:
    """A set screw by its size, in a unit; None for one that the tables do not hold."""
    try:
        return converted(set_screw(size), unit)
    except ValueError:
        return None


def converted(screw: SetScrew, unit: str) -> SetScrew:
    """A set screw told in the other unit."""
    if screw.unit == unit:
        return screw
    torque = ("N*m", "lbf*in") if screw.unit == "mm" else ("lbf*in", "N*m")
    return SetScrew(
        screw.size,
        convert(screw.diameter, screw.unit, unit),
        convert(screw.pitch, screw.unit, unit),
        convert(screw.seating_torque, *torque),
        unit,
    )


def standard_key(diameter: float, unit: str) -> Key | None:
    """The standard's key for a shaft; None for a shaft that gets none."""
    try:
        return key(diameter, unit)
    except ValueError:
        return None


@lru_cache(maxsize=512)
def limits_of(letters: str, size: float, unit: str) -> tuple[Fit, str] | str:
    """A fit and its kind, or why there is none."""
    try:
        limits = fit(letters, size, unit)
    except ValueError as error:
        return str(error)
    return limits, limits.kind


def pressed(design: Design, table: GearTable) -> bool:
    """Whether a gear is held by a press fit; at the smallest sizes H7/p6 need not press at its limits."""
    if table.fit in ("press", NAMED["press"]):
        return True
    limits = limits_of(table.fit, table.bore, design.unit) if table.fit else ""
    return not isinstance(limits, str) and limits[1] == "interference"


def works(design: Design, table: GearTable) -> bool:
    """Whether anything hands a torque to a gear, or takes one from it."""
    return bool(design.meshes_of(table.name)) or any(rack.pinion == table.name for rack in design.rack)


def on_a_pin(design: Design, table: GearTable) -> bool:
    """Whether a gear may run on its shaft: it is loose, or an idler that has its shaft to itself."""
    if table.loose:
        return True
    ends = {link.driver for link in design.links if link.kind != "mesh"}
    ends |= {link.driven for link in design.links if link.kind != "mesh"}
    load = design.load.shaft if design.load is not None else None
    return (
        len(design.on(table.shaft)) == 1
        and table.shaft not in ends
        and table.shaft != load
        and any(pair.driven == table.name for pair in design.mesh)
        and any(pair.driver == table.name for pair in design.mesh)
    )


def torque_on(design: Design, shaft: str) -> float | None:
    """Torque that a shaft hands on [N m, or lbf in]: none where it only carries an idler.

    Returns None where it is not known.
    """
    gears = design.on(shaft)
    if gears and all(on_a_pin(design, table) for table in gears):
        return 0.0
    return design.torques.get(shaft)


def peak(design: Design) -> float | None:
    """How many times the running torque comes at a stall, or until the clutch slips; None if not stated."""
    load = design.load
    if load is None or load.stall_torque is None:
        return None
    return min(load.stall_torque, load.slip_torque or math.inf) / load.torque


def held(design: Design) -> Iterator[GearTable]:
    """Gears that have to be held on their shafts."""
    return (table for table in design.gear if works(design, table) and not on_a_pin(design, table))


def no_load(design: Design, where: str, what: str) -> Unmade:
    """Not decisive: where a load is missing, the strength of the shaft is said to hang on it."""
    return unmade("load" if design.load is None else "load on its shaft", design, where, what=what)


# -- edits ---------------------------------------------------------------------------------------------
def sold(room: float, unit: str) -> float | None:
    """The longest set screw sold that is not longer than its room [unit]."""
    return max((length for length in LENGTHS[unit] if length <= room + 1e-9), default=None)


def hub_fields(design: Design, table: GearTable, **fields: Any) -> dict[str, Any]:
    """Fields of a gear with its hub changed; hole and length of its screw follow where they are stated."""
    after = table.model_dump() | fields
    if after["hub_diameter"] is None or after["set_screw"] is None:
        return fields
    wall, unit = (after["hub_diameter"] - after["bore"]) / 2, design.unit
    if after["drill_depth"] is not None:
        depth, screw = wall + after["bore"] / 2, known_screw(after["set_screw"], unit)
        if screw is not None and after["thread_length"] is not None:
            depth = max(depth, min(after["thread_length"] + RUNOUT * screw.pitch, wall + after["bore"]))
        fields.setdefault("drill_depth", min(up(depth, unit, PLACES), wall + after["bore"]))
    length = sold(wall + (after["flat"] or 0.0), unit)
    if after["screw_length"] is not None and length is not None:
        fields.setdefault("screw_length", length)
    return fields


def hub_edit(design: Design, table: GearTable, **fields: Any) -> Edit:
    """An edit of a gear's hub after which its screw fits still."""
    return {"gear": {table.name: hub_fields(design, table, **fields)}}


def hub_widths(design: Design, table: GearTable, bore: float | None = None) -> list[float]:
    """Widths of hub that suit a bore, best first: 1.8 bores, then wider, then up to what the root leaves."""
    bore, unit = table.bore if bore is None else bore, design.unit
    gear = design.toothed[table.name]
    most = down(gear.root_diameter - 2 * LEAST_ROOM * gear.scale, unit) if not table.internal else math.inf
    rule = up(RULE_HUB * bore, unit)
    step = SIZES[unit]
    wanted = [rule, rule + step, rule + 2 * step, rule + 4 * step, rule + 8 * step]
    wanted += [up(LEAST_HUB * bore, unit, PLACES), min(most, wanted[-1])]
    return list(dict.fromkeys(width for width in wanted if bore < width <= most + 1e-9))


def given_hub(
    design: Design, table: GearTable, screw: SetScrew, widths: int, more: str = "", **fields: Any
) -> Iterator[Way]:
    """A hub of some widths, twice as long as its screw is thick, on either side, with more fields."""
    unit = design.unit
    long = up(2 * screw.diameter, unit)
    for width in hub_widths(design, table)[:widths]:
        sizes = f"{said(width, unit)} wide and {said(long, unit)} long"
        says = f"Give it a hub {sizes}{more}, gaps and shafts to suit"
        for side in ("plate", "away"):
            grown = table.model_copy(update={"hub_side": side})
            whole = {"hub_diameter": width, "hub_projection": long, "hub_side": side, **fields}
            for edit in raised(design, grown, long, whole):
                yield Way(says, edit)


def screw_gone(table: GearTable) -> dict[str, None]:
    """Fields of a gear without its set screw."""
    return {field: None for field in SCREW_FIELDS if getattr(table, field) is not None}


def key_fields(design: Design, table: GearTable, diameter: float | None = None) -> dict[str, Any] | None:
    """Fields of a gear with the standard's keyway for its shaft; None for a shaft that gets none."""
    standard = standard_key(diameter or design.shaft_of(table.name).diameter, design.unit)
    if standard is None:
        return None
    return {"keyway_depth": standard.hub_depth, "keyway_width": standard.width}


def thicker(design: Design, shaft: ShaftTable, diameter: float) -> Edit:
    """An edit that makes a shaft thicker or thinner, with its hole and all bores and hubs on it."""
    by, unit = diameter - shaft.diameter, design.unit
    fields: dict[str, Any] = {"diameter": diameter}
    if shaft.hole is not None:
        fields["hole"] = _running_hole(shaft, diameter, unit)
    edits: list[Edit] = [{"shaft": {shaft.name: fields}}]
    for table in design.on(shaft.name):
        bore = diameter if table.fit is not None else round(table.bore + by, 6)
        own: dict[str, Any] = {"bore": bore}
        if table.hub_diameter is not None:
            own["hub_diameter"] = max(table.hub_diameter, up(RULE_HUB * bore, unit))
        if table.keyway_depth:
            own |= key_fields(design, table, diameter) or {}
        edits.append(hub_edit(design, table, **own))
    return together(*edits)


def _running_hole(shaft: ShaftTable, diameter: float, unit: str) -> float:
    """A hole for a shaft of another diameter: with the clearance that it had, or the usual one."""
    hole, most = shaft.hole or diameter, LOOSE_HOLE[unit]
    for size in (hole, diameter + hole - shaft.diameter):
        if 0 < size - diameter <= most:
            return round(size, 6)
    return round(diameter + most / 2, 6)


def diameters(design: Design, least: float) -> Iterator[float]:
    """Diameters of shafts that are sold, from a least one up [unit]."""
    step = 1.0 if design.unit == "mm" else 1 / 16
    first = math.ceil(least / step - 1e-9)
    for count in (*range(first, first + 6), first + 8, first + 12):
        yield round(count * step, 6)


def raised(design: Design, table: GearTable, by: float, fields: dict[str, Any]) -> Iterator[Edit]:
    """Edits of a gear that grows by a length below its face: the washers under it give way, or every face
    that is level with it goes up with it."""
    unit = design.unit
    if table.hub_side == "plate" and table.gap - by >= (0.5 if unit == "mm" else 0.02):
        yield {"gear": {table.name: fields | {"gap": round(table.gap - by, 6)}}}
    grown = {"gear": {table.name: fields}}
    if table.hub_side == "away":
        yield together(grown, *_longer(design, [table.shaft], by))
        return
    group, waiting = {table.name}, [table.name]
    while waiting:
        for pair in design.meshes_of(name := waiting.pop()):
            if (other := pair.mate_of(name)) not in group:
                group.add(other)
                waiting.append(other)
    lifted: list[Edit] = [
        {"gear": {name: {"gap": round(design.of(name).gap + by, 6)}}} for name in group - {table.name}
    ]
    shafts = list(dict.fromkeys(design.of(name).shaft for name in group))
    yield together(grown, *lifted, *_longer(design, shafts, by))


def _longer(design: Design, shafts: list[str], by: float) -> list[Edit]:
    edits: list[Edit] = []
    for shaft in design.shaft:
        rod = design.rods.get(shaft.name)
        if shaft.name in shafts and rod is not None and rod.length - needed_length(design, shaft) < by:
            edits.append(
                {"shaft": {shaft.name: {"length": rod.next_stock(needed_length(design, shaft) + by)}}}
            )
    return edits


def needed_length(design: Design, shaft: ShaftTable) -> float:
    """Length that the pieces along a shaft take, each as it was measured, or as drawn [unit]."""
    gears = design.on(shaft.name)
    reach = max(design.foot(table.name) + design.overall_length(table.name) for table in gears)
    for reading in lengths_read(design, shaft):
        drawn = design.on_plate.thickness if reading.part == "plate" else design.overall_length(reading.part)
        reach += reading.value - drawn
    thick = design.plate.thickness if design.plate is not None else 0.0
    return shaft.behind + thick + reach + shaft.end


def lengths_read(design: Design, shaft: ShaftTable) -> list[MeasuredTable]:
    """What was measured of the pieces along a shaft: the plate, and its gears over all."""
    parts = [(table.name, "overall_length") for table in design.on(shaft.name)]
    if design.plate is not None:
        parts.append(("plate", "thickness"))
    return [reading for part in parts if (reading := design.reading(*part)) is not None]
