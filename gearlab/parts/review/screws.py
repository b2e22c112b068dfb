"""Set screws: size, place in the hub, hole, thread and length."""

from __future__ import annotations

from collections.abc import Iterator

from gearlab.care import hazard
from gearlab.theory.units import convert

from ..design import Design, GearTable
from ..design.beginning import SCREWS
from ..published.fastening import LENGTHS as COMMON_LENGTHS
from ..published.fastening import SetScrew, set_screw
from .advice import Way, stepped
from .finding import PLACES, SIZES, Held, Outcome, said, up
from .ledger import Checks
from .making import (
    LEAST_THREADS,
    LENGTHS,
    RULE_HUB,
    RUNOUT,
    converted,
    given_hub,
    hub_edit,
    hub_widths,
    key_fields,
    raised,
    same_unit,
    screw_gone,
    screw_of,
    sold,
)
from .sentences import finding, unmade

#: Of a diameter of thread: a tenth less is no trouble, nor is the longest of the common ones that fits.
ENOUGH = 0.9
LEAST_PROJECTION = 1.5  # of the hub, in diameters of its set screw
_NEAR = 1e-9
CHECKS = Checks()


def _screwed(design: Design) -> Iterator[tuple[GearTable, SetScrew]]:
    """Gears with a set screw of known size in a hub that has a wall."""
    for table in design.gear:
        screw = screw_of(design, table) if table.set_screw is not None else None
        if screw is not None and table.name in design.hubs and same_unit(design, table):
            yield table, screw


def _shown(screw: SetScrew) -> str:
    """A screw by its size, and how wide its thread is in both units where the design has the other one."""
    own = set_screw(screw.size).unit
    if own == screw.unit:
        return f"{screw.size} ({said(screw.diameter, screw.unit)})"
    other = said(convert(screw.diameter, screw.unit, own), own)
    return f"{screw.size} ({other}, that is {said(screw.diameter, screw.unit)})"


# -- size ----------------------------------------------------------------------------------------------
@CHECKS.row(
    "set screw", "Is each set screw one, and in a hub?", "screw-unknown", "screw-without-hub", of="gear"
)
def _size(design: Design, table: GearTable) -> Outcome | None:
    if table.set_screw is None or not same_unit(design, table):
        return None
    screw = screw_of(design, table)
    if screw is None:
        return finding(
            "screw-unknown", design, table.name, lambda: [_other_screws(design, table)], size=table.set_screw
        )
    if table.hub_diameter is None:
        return finding(
            "screw-without-hub",
            design,
            table.name,
            lambda: [given_hub(design, table, screw, 3), _otherwise_fastened(design, table)],
            deep=design.toothed[table.name].whole_depth,
        )
    drill = said(screw.tap_drill, design.unit)
    return Held(table.name, f"its set screw is {_shown(screw)}; it is drilled {drill} and tapped")


def _other_screws(design: Design, table: GearTable, below: float | None = None) -> Iterator[Way]:
    """Screws about half as thick as the bore, then thinner ones, then the others; those below a size."""
    known = {size: converted(set_screw(size), design.unit).diameter for size in SCREWS[design.unit]}
    for size in sorted(
        known, key=lambda size: (known[size] > 0.52 * table.bore, abs(known[size] - table.bore / 2))
    ):
        if below is None or known[size] < below - _NEAR:
            yield Way(f"Take a set screw {size}", hub_edit(design, table, set_screw=size))


def _otherwise_fastened(design: Design, table: GearTable) -> Iterator[Way]:
    without = screw_gone(table) | {"flat": None}
    keyed = key_fields(design, table)
    if keyed is not None:
        yield Way("Fasten it by a key in place of the screw", {"gear": {table.name: without | keyed}})
    pressed = {"gear": {table.name: without | {"fit": "press"}}}
    yield Way('Press it on, fit = "press", in place of the screw', pressed)


# -- place ---------------------------------------------------------------------------------------------
@CHECKS.row(
    "place of the set screw", "Is each hub long enough for its screw?", "hub-too-short-for-screw", of=_screwed
)
def _place(design: Design, table: GearTable, screw: SetScrew) -> Outcome:
    out, least = table.hub_projection, LEAST_PROJECTION * screw.diameter
    if out >= least - _NEAR:
        return Held(table.name, "its hub projects for the screw by", out, least, design.unit)
    return finding(
        "hub-too-short-for-screw",
        design,
        table.name,
        lambda: [
            _other_screws(design, table, below=out / LEAST_PROJECTION + 1e-6),
            _longer_hub(design, table, up(least, design.unit)),
        ],
        compared=(out, least),
        screw=_shown(screw),
        diameters=said(LEAST_PROJECTION),
    )


def _longer_hub(design: Design, table: GearTable, projection: float) -> Iterator[Way]:
    for pair in design.meshes_of(table.name) if table.hub_side == "plate" else ():
        mate = pair.mate_of(table.name)
        level = table.hub_projection + design.face_height(mate) - design.face_height(table.name)
        if level >= projection - _NEAR:  # its face comes to the mate's then
            says = f"Let the hub project {said(level, design.unit)}"
            yield Way(says, {"gear": {table.name: {"hub_projection": round(level, 6)}}})
    says = f"Let the hub project {said(projection, design.unit)}, with gaps and shafts to suit"
    by = projection - table.hub_projection
    for edit in raised(design, table, by, {"hub_projection": projection}):
        yield Way(says, edit)


# -- hole ----------------------------------------------------------------------------------------------
@CHECKS.row(
    "hole of the set screw",
    "Does each hole end between bore and far wall?",
    "hole-short-of-shaft",
    "hole-into-far-wall",
    of=_screwed,
)
def _hole(design: Design, table: GearTable, _: SetScrew) -> Outcome:
    depth, (least, most) = table.drill_depth, design.hubs[table.name].drill_window
    if depth is None:
        return unmade("drill_depth", design, table.name, least=least, most=most)
    if least - _NEAR <= depth <= most + _NEAR:
        return Held(table.name, "depth of the hole for its set screw", depth, most, design.unit, False)
    wanted = [up(least + share * (most - least), design.unit, PLACES) for share in (0.5, 0.25, 0.75, 1.0)]
    row, limit = ("hole-short-of-shaft", least) if depth < least else ("hole-into-far-wall", most)
    return finding(
        row,
        design,
        table.name,
        lambda: [_depths(table, design.unit, wanted)],
        compared=(depth, limit),
        least=least,
        most=most,
    )


def _depths(table: GearTable, unit: str, wanted: list[float]) -> Iterator[Way]:
    for depth in wanted:
        says, fields = f"Drill {said(depth, unit)} deep", {"drill_depth": depth}
        yield Way(says, {"gear": {table.name: fields}})
        if table.drill_reach is not None:
            reach = up(table.drill_reach + abs(depth - (table.drill_depth or 0.0)), unit)
            edit = {"gear": {table.name: fields | {"drill_reach": reach}}}
            yield Way(f"{says}, with {said(reach, unit)} of drill out of the chuck", edit)


@CHECKS.row("reach of the drill", "Does each drill reach past the teeth?", "chuck-hits-teeth", of=_screwed)
def _chuck(design: Design, table: GearTable, _: SetScrew) -> Outcome | None:
    if table.drill_depth is None or table.internal:
        return None  # without a depth there is nothing to reach
    needed = design.hubs[table.name].chuck_reach(design.toothed[table.name], table.drill_depth)
    if table.drill_reach is None:
        return unmade("drill_reach", design, table.name, needed=needed)
    if table.drill_reach >= needed - _NEAR:
        what = "reach of the drill past the teeth"
        return Held(table.name, what, table.drill_reach, needed, design.unit)
    longer = up(needed, design.unit)
    return finding(
        "chuck-hits-teeth",
        design,
        table.name,
        compared=(table.drill_reach, needed),
        longer=longer,
        edits=({"gear": {table.name: {"drill_reach": longer}}},),
    )


@CHECKS.row("run-out of the thread", "Is each hole deeper than its thread?", "no-thread-runout", of=_screwed)
def _runout(design: Design, table: GearTable, screw: SetScrew) -> Outcome | None:
    if table.drill_depth is None:
        return None
    if table.thread_length is None:
        return unmade("thread_length", design, table.name)
    unit, (_, most) = design.unit, design.hubs[table.name].drill_window
    needed = min(table.thread_length + RUNOUT * screw.pitch, most)
    if table.drill_depth >= needed - _NEAR:
        return Held(table.name, "depth of the hole below its thread", table.drill_depth, needed, unit)
    return finding(
        "no-thread-runout",
        design,
        table.name,
        lambda: [_depths(table, unit, [min(up(needed, unit, PLACES), most), most])],
        compared=(table.drill_depth, needed),
        thread=table.thread_length,
        pitches=RUNOUT,
    )


# -- length --------------------------------------------------------------------------------------------
@CHECKS.row(
    "thread in the wall",
    "Does each wall hold the thread of its screw?",
    "hub-too-thin-for-screw",
    of=_screwed,
)
def _wall(design: Design, table: GearTable, screw: SetScrew) -> Outcome:
    hub, unit = design.hubs[table.name], design.unit
    least, room = LEAST_THREADS * screw.pitch, hub.longest_screw
    if hub.wall >= least - _NEAR and (sold(room, unit) or 0.0) >= least - _NEAR:  # one that fits is sold
        return Held(table.name, "wall for the thread of its set screw", hub.wall, least, unit)
    turns = said(hub.wall / screw.pitch)
    return finding(
        "hub-too-thin-for-screw",
        design,
        table.name,
        lambda: [_other_screws(design, table, below=screw.diameter), _wider_hub(design, table)],
        compared=(min(hub.wall, room), max(least, LENGTHS[unit][0])),
        turns=f"{turns} turn{'' if turns == '1' else 's'}",
        screw=_shown(screw),
        threads=LEAST_THREADS,
    )


def _wider_hub(design: Design, table: GearTable) -> Iterator[Way]:
    present, unit = table.hub_diameter or 0.0, design.unit
    widths = stepped(up(max(RULE_HUB * table.bore, present), unit), SIZES[unit], 8)
    for width in sorted({*hub_widths(design, table), *widths}):
        if width > present:
            says = f"Make the hub {said(width, unit)} wide, with hole and screw to suit"
            yield Way(says, hub_edit(design, table, hub_diameter=width))


@CHECKS.row(
    "length of the set screw",
    "Does each screw end below the surface, and hold?",
    "screw-stands-out",
    "screw-too-short",
    of=_screwed,
)
def _length(design: Design, table: GearTable, screw: SetScrew) -> Outcome:
    unit, room, length = design.unit, design.hubs[table.name].longest_screw, table.screw_length
    if length is None:
        return unmade("screw_length", design, table.name, room=room)
    # in a thin wall the longest screw that fits may be shorter than its diameter, and has to do
    least = min(screw.diameter, sold(room, unit) or room)
    if length > room + _NEAR:
        return finding(
            "screw-stands-out",
            design,
            table.name,
            lambda: [_lengths(table, screw, room, unit), _wider_hub(design, table)],
            length=length,
            over=length - room,
            room=room,
            harm=hazard("shafts").capitalize(),
        )
    if length >= least - _NEAR:
        return Held(table.name, "length of its set screw", length, room, unit, False)
    poor = length < ENOUGH * least and (
        length < LEAST_THREADS * screw.pitch or any(length < other <= room for other in COMMON_LENGTHS[unit])
    )
    return finding(
        "screw-too-short" if poor else "screw-too-short, a little",
        design,
        table.name,
        lambda: [_lengths(table, screw, room, unit)],
        compared=(length, least),
        diameter=screw.diameter,
    )


def _lengths(table: GearTable, screw: SetScrew, room: float, unit: str) -> Iterator[Way]:
    for length in reversed(LENGTHS[unit]):
        if LEAST_THREADS * screw.pitch <= length <= room + _NEAR:
            edit = {"gear": {table.name: {"screw_length": length}}}
            yield Way(f"Take a set screw {said(length, unit)} long", edit)
