"""Set screws: size, place in the hub, hole, thread and length."""

from __future__ import annotations

from collections.abc import Iterator

from gearlab.care import hazard
from gearlab.theory.units import convert

from ..design import Design, GearTable
from ..published.fastening import LENGTHS as COMMON_LENGTHS
from ..published.fastening import SetScrew
from .advice import Advised, Way, stepped
from .finding import PLACES, SIZES, Finding, Held, Outcome, Unmade, both, said, up
from .ledger import Check
from .making import (
    LEAST_THREADS,
    LENGTHS,
    RULE_HUB,
    RUNOUT,
    SCREWS,
    converted,
    hub_edit,
    hub_widths,
    key_fields,
    raised,
    same_unit,
    screw_gone,
    screw_of,
    set_screw,
    sold,
)

#: Of a diameter of thread: a tenth less is no trouble, nor is the longest of the common ones that fits.
ENOUGH = 0.9
LEAST_PROJECTION = 1.5  # of the hub, in diameters of its set screw
_NEAR = 1e-9


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
def sizes(design: Design) -> Iterator[Outcome]:
    """Whether each set screw is one, and sits in a hub."""
    for table in design.gear:
        if table.set_screw is None or not same_unit(design, table):
            continue
        screw = screw_of(design, table)
        if screw is None:
            yield _unknown(design, table, table.set_screw)
        elif table.hub_diameter is None:
            yield _without_hub(design, table, screw)
        else:
            drill = said(screw.tap_drill, design.unit)
            yield Held(table.name, f"its set screw is {_shown(screw)}; it is drilled {drill} and tapped")


def _unknown(design: Design, table: GearTable, size: str) -> Finding:
    return Advised(
        "screw-unknown",
        "will trouble",
        table.name,
        f"set screw {size!r} is not in the tables.",
        'A metric thread is written "M5", an inch thread "#10" or "1/4", in a design of either unit; the'
        " tables hold M3 to M10, #0 to #10, and 1/4 to 3/4.",
        "Its thread is not known.",
        design=design,
        ways=lambda: [_other_screws(design, table)],
        otherwise="Name a size of the table.",
    )


def _other_screws(design: Design, table: GearTable, below: float | None = None) -> Iterator[Way]:
    """Screws about half as thick as the bore, then thinner ones, then the others; those below a size."""
    unit = design.unit
    known = {size: converted(set_screw(size), unit).diameter for size in SCREWS[unit]}
    for size in sorted(
        known, key=lambda size: (known[size] > 0.52 * table.bore, abs(known[size] - table.bore / 2))
    ):
        if below is None or known[size] < below - _NEAR:
            yield Way(f"Take a set screw {size}", hub_edit(design, table, set_screw=size))


def _without_hub(design: Design, table: GearTable, screw: SetScrew) -> Finding:
    unit, gear = design.unit, design.toothed[table.name]
    return Advised(
        "screw-without-hub",
        "will trouble",
        table.name,
        f"a set screw is named, but no hub: the hole starts {said(gear.whole_depth, unit)} deep, between"
        " two teeth.",
        "A set screw sits in a hub.",
        "The drill starts on a narrow floor and cuts into the flanks beside it.",
        design=design,
        ways=lambda: [_with_hub(design, table, screw), _otherwise_fastened(design, table)],
        otherwise="Give the gear a hub, or fasten it by a key or a press fit.",
    )


def _with_hub(design: Design, table: GearTable, screw: SetScrew) -> Iterator[Way]:
    unit = design.unit
    long = up(2 * screw.diameter, unit)
    for width in hub_widths(design, table)[:3]:
        for side in ("plate", "away"):
            grown = table.model_copy(update={"hub_side": side})
            fields = {"hub_diameter": width, "hub_projection": long, "hub_side": side}
            for edit in raised(design, grown, long, fields):
                yield Way(
                    f"Give it a hub {said(width, unit)} wide and {said(long, unit)} long, gaps and shafts to"
                    " suit",
                    edit,
                )


def _otherwise_fastened(design: Design, table: GearTable) -> Iterator[Way]:
    keyed = key_fields(design, table)
    if keyed is not None:
        yield Way(
            "Fasten it by a key in place of the screw",
            {"gear": {table.name: screw_gone(table) | {"flat": None} | keyed}},
        )
    yield Way(
        'Press it on, fit = "press", in place of the screw',
        {"gear": {table.name: screw_gone(table) | {"flat": None, "fit": "press"}}},
    )


# -- place ---------------------------------------------------------------------------------------------
def places(design: Design) -> Iterator[Outcome]:
    """Whether each hub is long enough for its screw."""
    for table, screw in _screwed(design):
        unit, least = design.unit, LEAST_PROJECTION * screw.diameter
        if table.hub_projection < least - _NEAR:
            out, needed = both(table.hub_projection, least, unit)
            yield Advised(
                "hub-too-short-for-screw",
                "will trouble",
                table.name,
                f"its hub stands out {out}, the thread of the screw is that of {_shown(screw)}.",
                f"About {said(LEAST_PROJECTION)} thread diameters are needed: {needed}.",
                "The thread breaks out of the end of the hub, or the tap meets the teeth.",
                design=design,
                ways=_places_ways(design, table, screw, least),
                otherwise="Make the hub longer, or take a smaller screw.",
            )
        else:
            yield Held(table.name, "its hub stands out for the screw by", table.hub_projection, least, unit)


def _places_ways(design: Design, table: GearTable, screw: SetScrew, least: float):
    return lambda: [
        _other_screws(design, table, below=table.hub_projection / LEAST_PROJECTION + 1e-6),
        _longer_hub(design, table, up(least, design.unit)),
    ]


def _longer_hub(design: Design, table: GearTable, projection: float) -> Iterator[Way]:
    by = projection - table.hub_projection
    for pair in design.mesh if table.hub_side == "plate" else ():
        if table.name in (pair.driver, pair.driven):
            mate = pair.driven if table.name == pair.driver else pair.driver
            level = table.hub_projection + design.face_height(mate) - design.face_height(table.name)
            if level >= projection - _NEAR:  # its face comes to the mate's then
                says = f"Make the hub stand out {said(level, design.unit)}"
                yield Way(says, {"gear": {table.name: {"hub_projection": round(level, 6)}}})
    for edit in raised(design, table, by, {"hub_projection": projection}):
        yield Way(
            f"Make the hub stand out {said(projection, design.unit)}, with gaps and shafts to suit",
            edit,
        )


# -- hole ----------------------------------------------------------------------------------------------
def depths(design: Design) -> Iterator[Outcome]:
    """Whether each hole for a set screw reaches the bore, and no further than the far wall."""
    for table, _ in _screwed(design):
        unit, (least, most) = design.unit, design.hubs[table.name].drill_window
        if table.drill_depth is None:
            yield Unmade(
                table.name,
                "the depth of the hole for its set screw",
                "the depth is not given",
                f"give drill_depth, from {said(least, unit)} to {said(most, unit)}",
            )
        elif table.drill_depth < least - _NEAR:
            depth, wall = both(table.drill_depth, least, unit)
            yield Advised(
                "hole-short-of-shaft",
                "will not work",
                table.name,
                f"the hole for the set screw is {depth} deep, the wall {wall}.",
                f"It must be {wall} or more.",
                "The screw never touches the shaft: the gear spins on it.",
                design=design,
                ways=_depth_ways(design, table),
                otherwise=f"Drill {said(least, unit)} to {said(most, unit)} deep.",
            )
        elif table.drill_depth > most + _NEAR:
            depth, far = both(table.drill_depth, most, unit)
            yield Advised(
                "hole-into-far-wall",
                "will trouble",
                table.name,
                f"the hole for the set screw is {depth} deep.",
                f"From {far} on it bites into the far wall.",
                "The bore is scratched and the gear sits off its centre.",
                design=design,
                ways=_depth_ways(design, table),
                otherwise=f"Drill {said(least, unit)} to {said(most, unit)} deep.",
            )
        else:
            yield Held(
                table.name, "depth of the hole for its set screw", table.drill_depth, most, unit, False
            )


def _depth_ways(design: Design, table: GearTable):
    least, most = design.hubs[table.name].drill_window
    unit = design.unit

    def ways() -> list[Iterator[Way]]:
        return [
            _depths(
                table,
                unit,
                [up(least + share * (most - least), unit, PLACES) for share in (0.5, 0.25, 0.75, 1.0)],
            )
        ]

    return ways


def _depths(table: GearTable, unit: str, wanted: list[float]) -> Iterator[Way]:
    for depth in wanted:
        fields: dict = {"drill_depth": depth}
        yield Way(f"Drill {said(depth, unit)} deep", {"gear": {table.name: fields}})
        if table.drill_reach is not None:
            reach = up(table.drill_reach + abs(depth - (table.drill_depth or 0.0)), unit)
            yield Way(
                f"Drill {said(depth, unit)} deep, with {said(reach, unit)} of drill out of the chuck",
                {"gear": {table.name: fields | {"drill_reach": reach}}},
            )


def chucks(design: Design) -> Iterator[Outcome]:
    """Whether each drill reaches past the teeth."""
    for table, _ in _screwed(design):
        if table.drill_depth is None or table.internal:
            continue  # without a depth there is nothing to reach
        unit, needed = (
            design.unit,
            design.hubs[table.name].chuck_reach(design.toothed[table.name], table.drill_depth),
        )
        if table.drill_reach is None:
            yield Unmade(
                table.name,
                "the reach of the drill past the teeth",
                "how far the drill stands out of its chuck is not given",
                f"give drill_reach, {said(needed, unit)} or more",
            )
        elif table.drill_reach < needed - _NEAR:
            out, least = both(table.drill_reach, needed, unit)
            longer = up(needed, unit)
            yield Finding(
                "chuck-hits-teeth",
                "will trouble",
                table.name,
                f"the drill stands {out} out of the chuck.",
                f"It must reach {least}.",
                "The chuck meets the tips of the teeth before the hole is deep enough.",
                f"Use a longer drill, {said(longer, unit)} out of the chuck.",
                edits=({"gear": {table.name: {"drill_reach": longer}}},),
            )
        else:
            yield Held(table.name, "reach of the drill past the teeth", table.drill_reach, needed, unit)


def threads(design: Design) -> Iterator[Outcome]:
    """Whether each hole goes deeper than its thread."""
    for table, screw in _screwed(design):
        if table.drill_depth is None:
            continue
        unit, (_, most) = design.unit, design.hubs[table.name].drill_window
        if table.thread_length is None:
            yield Unmade(
                table.name,
                "the run-out below the thread of its set screw",
                "the length of the thread is not given",
                "give thread_length",
            )
            continue
        needed = min(table.thread_length + RUNOUT * screw.pitch, most)
        if table.drill_depth < needed - _NEAR:
            depth, least = both(table.drill_depth, needed, unit)
            yield Advised(
                "no-thread-runout",
                "will trouble",
                table.name,
                f"the hole is {depth} deep for {said(table.thread_length, unit)} of full thread.",
                f"{RUNOUT} pitches more are needed: {least}.",
                "The tap strikes the bottom and breaks.",
                design=design,
                ways=_runout_ways(table, unit, needed, most),
                otherwise=f"Drill {least} deep, or through.",
            )
        else:
            yield Held(table.name, "depth of the hole below its thread", table.drill_depth, needed, unit)


def _runout_ways(table: GearTable, unit: str, needed: float, most: float):
    return lambda: [_depths(table, unit, [min(up(needed, unit, PLACES), most), most])]


# -- length --------------------------------------------------------------------------------------------
def engagements(design: Design) -> Iterator[Outcome]:
    """Whether the wall of each hub holds the thread, and a screw is sold that fits into it."""
    for table, screw in _screwed(design):
        hub, unit = design.hubs[table.name], design.unit
        least = LEAST_THREADS * screw.pitch
        room = hub.longest_screw
        if hub.wall < least - _NEAR or (sold(room, unit) or 0.0) < least - _NEAR:
            wall, needed = both(min(hub.wall, room), max(least, LENGTHS[unit][0]), unit)
            turns = said(hub.wall / screw.pitch)
            yield Advised(
                "hub-too-thin-for-screw",
                "will trouble",
                table.name,
                f"its wall of {wall} holds {turns} turn{'' if turns == '1' else 's'} of the thread of"
                f" {_shown(screw)}.",
                f"At least {LEAST_THREADS} turns, {needed}.",
                "A screw that holds stands out of the hub, and one that does not stand out strips.",
                design=design,
                ways=_thin_ways(design, table, screw),
                otherwise="Make the hub wider, or take a smaller screw.",
            )
        else:
            yield Held(table.name, "wall for the thread of its set screw", hub.wall, least, unit)


def _thin_ways(design: Design, table: GearTable, screw: SetScrew):
    return lambda: [_other_screws(design, table, below=screw.diameter), _wider_hub(design, table)]


def _wider_hub(design: Design, table: GearTable) -> Iterator[Way]:
    widths = hub_widths(design, table)
    widths += stepped(
        up(max(RULE_HUB * table.bore, table.hub_diameter or 0.0), design.unit), SIZES[design.unit], 8
    )
    for width in sorted(set(widths)):
        if width > (table.hub_diameter or 0.0):
            yield Way(
                f"Make the hub {said(width, design.unit)} wide, with hole and screw to suit",
                hub_edit(design, table, hub_diameter=width),
            )


def lengths(design: Design) -> Iterator[Outcome]:
    """Whether each set screw ends below the surface, and holds by enough thread."""
    for table, screw in _screwed(design):
        unit, room = design.unit, design.hubs[table.name].longest_screw
        if table.screw_length is None:
            yield Unmade(
                table.name,
                "the length of its set screw",
                "the length is not given",
                f"give screw_length, up to {said(room, unit)}",
            )
            continue
        # in a thin wall the longest screw that fits may be shorter than its diameter, and has to do
        least = min(screw.diameter, sold(room, unit) or room)
        if table.screw_length > room + _NEAR:
            yield _stands_out(design, table, table.screw_length, room)
        elif table.screw_length < least - _NEAR:
            length, needed = both(table.screw_length, least, unit)
            poor = table.screw_length < ENOUGH * least and (
                table.screw_length < LEAST_THREADS * screw.pitch
                or any(table.screw_length < other <= room for other in COMMON_LENGTHS[unit])
            )
            yield Advised(
                "screw-too-short",
                "will trouble" if poor else "worth knowing",
                table.name,
                f"a set screw of {length} has less thread than the {needed} that should hold.",
                f"A diameter of thread, {said(screw.diameter, unit)}, or all that fits into the wall.",
                "The thread strips when it is tightened."
                if poor
                else "It is a little less than the rule asks for: tighten it with feeling.",
                "thread engagement rule (a fastener column)",
                design=design,
                ways=_length_ways(design, table, screw, room),
                otherwise="Take a longer screw.",
            )
        else:
            yield Held(table.name, "length of its set screw", table.screw_length, room, unit, False)


def _stands_out(design: Design, table: GearTable, length: float, room: float) -> Finding:
    unit = design.unit
    over = length - room
    return Advised(
        "screw-stands-out",
        "will trouble",
        table.name,
        f"a set screw of {said(length, unit)} stands {said(over, unit)} out of the hub.",
        f"Up to {said(room, unit)} it stays below the surface.",
        f"{hazard('shafts').capitalize()}.",
        "common practice; guards: local code",
        design=design,
        ways=lambda: [
            *_length_ways(design, table, screw_of(design, table) or set_screw("M3"), room)(),
            _wider_hub(design, table),
        ],
        otherwise="Take a shorter screw.",
    )


def _length_ways(design: Design, table: GearTable, screw: SetScrew, room: float):
    unit = design.unit

    def ways() -> list[list[Way]]:
        fitting = [
            length for length in LENGTHS[unit] if LEAST_THREADS * screw.pitch <= length <= room + _NEAR
        ]
        return [
            [
                Way(
                    f"Take a set screw {said(length, unit)} long",
                    {"gear": {table.name: {"screw_length": length}}},
                )
                for length in reversed(fitting)
            ]
        ]

    return ways


CHECKS = (
    Check("set screw", "Is each set screw one, and in a hub?", ("screw-unknown", "screw-without-hub"), sizes),
    Check(
        "place of the set screw",
        "Is each hub long enough for its screw?",
        ("hub-too-short-for-screw",),
        places,
    ),
    Check(
        "hole of the set screw",
        "Does each hole end between bore and far wall?",
        ("hole-short-of-shaft", "hole-into-far-wall"),
        depths,
    ),
    Check("reach of the drill", "Does each drill reach past the teeth?", ("chuck-hits-teeth",), chucks),
    Check("run-out of the thread", "Is each hole deeper than its thread?", ("no-thread-runout",), threads),
    Check(
        "thread in the wall",
        "Does each wall hold the thread of its screw?",
        ("hub-too-thin-for-screw",),
        engagements,
    ),
    Check(
        "length of the set screw",
        "Does each screw end below the surface, and hold?",
        ("screw-stands-out", "screw-too-short"),
        lengths,
    ),
)
