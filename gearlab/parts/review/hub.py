"""What can be wrong with hubs, keyways, set screws and how they hold."""

from __future__ import annotations

from collections.abc import Iterator

from ..design import Design, GearTable
from ..fastening import SetScrew, set_screw
from .finding import Finding, said
from .ledger import Check

# material under a tooth, in whole depths: below, a thin-rim check is due (Mott, section 9-9, from memory)
LEAST_RIM = 1.2
LEAST_HUB = 1.5  # hub over bore; 1.8 is the usual rule of thumb
LEAST_ROOM = 0.3  # between hub and root circle [modules]
SAFE_HOLD = 3.0  # times the torque that a set screw on a round shaft should hold
LEAST_PROJECTION = 1.5  # of the hub, in diameters of its set screw
RUNOUT = 3  # pitches below the last full thread


def findings(design: Design) -> Iterator[Finding]:
    """Findings about every hub and its fastening."""
    for table in design.gear:
        if design.gears[table.name].unit == design.unit:
            yield from _hub(design, table)
            yield from _screw(design, table)
    yield from _slip(design)


def _hub(design: Design, table: GearTable) -> Iterator[Finding]:
    width = table.hub_diameter
    if width is not None:
        if width <= table.bore:
            yield _no_wall(design, table, width)
            return
        yield from _below_root(design, table, width)
        yield from _wall(design, table, width)
        yield from _over_keyway(design, table, width)
    yield from _rim(design, table)


def _no_wall(design: Design, table: GearTable, width: float) -> Finding:
    unit = design.unit
    return Finding(
        "hub-thinner-than-bore",
        "will not work",
        table.name,
        f"a hub of {said(width, unit)} cannot hold a bore of {said(table.bore, unit)}.",
        "A hub is 1.8 to 2 bores wide.",
        "There is no wall.",
        f"Make the hub about {said(1.8 * table.bore, unit)}.",
    )


def _below_root(design: Design, table: GearTable, width: float) -> Iterator[Finding]:
    gear, unit = design.gears[table.name], design.unit
    room = (gear.root_diameter - width) / 2
    if room < 0 and table.hub_projection > 0:
        yield Finding(
            "hub-fills-spaces",
            "will not work",
            table.name,
            f"its hub of {said(width, unit)} is wider than the root circle of"
            f" {said(gear.root_diameter, unit)}.",
            f"The hub must stay below {said(gear.root_diameter, unit)}.",
            "It covers the bottoms of the tooth spaces: the mate's tips strike it.",
            f"Make the hub {said(gear.root_diameter - gear.scale, unit)} or less.",
        )
    elif room < LEAST_ROOM * gear.scale and table.hub_projection > 0:
        yield Finding(
            "hub-near-root",
            "worth knowing",
            table.name,
            f"its hub ends {said(room, unit)} below the root circle.",
            f"About {said(LEAST_ROOM * gear.scale, unit)} are wanted.",
            "The mate's tips pass close by.",
            "Make the hub a little smaller.",
        )


def _wall(design: Design, table: GearTable, width: float) -> Iterator[Finding]:
    unit = design.unit
    if width < LEAST_HUB * table.bore:
        yield Finding(
            "thin-wall",
            "will trouble",
            table.name,
            f"its hub is only {said(width / table.bore)} bores wide.",
            "1.8 to 2 bores is the rule of thumb.",
            "The wall has no room for threads, and may crack.",
            f"Make the hub about {said(1.8 * table.bore, unit)}.",
            "common practice; Khurmi & Gupta (from memory)",
        )


def _over_keyway(design: Design, table: GearTable, width: float) -> Iterator[Finding]:
    unit = design.unit
    if table.keyway_depth == 0:
        return
    wall = (width - table.bore) / 2
    left = wall - table.keyway_depth
    if left <= 0:
        yield Finding(
            "keyway-breaks-through",
            "will not work",
            table.name,
            f"the keyway is {said(table.keyway_depth, unit)} deep, the wall {said(wall, unit)}.",
            "The wall must be deeper than the keyway.",
            "The keyway comes out of the hub.",
            "Make the hub wider.",
        )
    elif left < max(table.keyway_depth, 0.3 * table.bore):
        yield Finding(
            "thin-over-keyway",
            "will trouble",
            table.name,
            f"{said(left, unit)} of wall are left above the keyway.",
            "At least the keyway's depth and 0.3 of the bore,"
            f" {said(max(table.keyway_depth, 0.3 * table.bore), unit)}.",
            "The hub cracks from the corner of the keyway.",
            "Make the hub wider, or the bore smaller.",
        )


def _rim(design: Design, table: GearTable) -> Iterator[Finding]:
    gear, unit = design.gears[table.name], design.unit
    rim = (gear.root_diameter - table.bore) / 2 - table.keyway_depth
    depth = gear.whole_depth
    if rim <= 0:
        yield Finding(
            "bore-reaches-spaces",
            "will not work",
            table.name,
            f"bore and keyway reach {said(-rim, unit)} beyond the root circle.",
            f"About {said(LEAST_RIM)} whole depths should be left.",
            "The bore opens into the tooth spaces.",
            "Use a smaller bore or more teeth.",
        )
    elif rim < LEAST_RIM * depth:
        yield Finding(
            "thin-rim",
            "will trouble",
            table.name,
            f"{said(rim, unit)} are left between {'keyway' if table.keyway_depth else 'bore'} and root"
            f" circle, {said(rim / depth)} whole depths.",
            f"About {said(LEAST_RIM)} whole depths, {said(LEAST_RIM * depth, unit)}.",
            "A thin rim bends and breaks through a tooth space.",
            "Use a smaller bore, more teeth, or put the keyway under a tooth.",
            "Mott, section 9-9 (from memory)",
        )


def _screw(design: Design, table: GearTable) -> Iterator[Finding]:
    if table.set_screw is None:
        return
    if table.hub_diameter is None:
        yield _without_hub(design, table)
        return
    if table.name not in design.hubs:
        return
    try:
        screw = set_screw(table.set_screw)
    except ValueError as error:
        yield Finding(
            "screw-unknown",
            "will trouble",
            table.name,
            str(error) + ".",
            "The tables hold common sizes.",
            "Its thread is not known.",
            "Name a size of the table.",
        )
        return
    yield from _beside_screw(design, table, screw)
    if table.drill_depth is not None:
        yield from _drilled(design, table, table.drill_depth, screw)
    if table.screw_length is not None:
        yield from _long_and_short(design, table, table.screw_length, screw)


def _without_hub(design: Design, table: GearTable) -> Finding:
    unit, gear = design.unit, design.gears[table.name]
    return Finding(
        "screw-without-hub",
        "will trouble",
        table.name,
        f"a set screw is named, but no hub: the hole starts {said(gear.whole_depth, unit)} deep, between"
        " two teeth.",
        "A set screw sits in a hub.",
        "The drill starts on a narrow floor and cuts into the flanks beside it.",
        "Give the gear a hub, or fasten it by a key or a press fit.",
    )


def _beside_screw(design: Design, table: GearTable, screw: SetScrew) -> Iterator[Finding]:
    unit = design.unit
    if table.hub_projection < LEAST_PROJECTION * screw.diameter:
        yield Finding(
            "hub-too-short-for-screw",
            "will trouble",
            table.name,
            f"its hub stands out {said(table.hub_projection, unit)}, the screw's thread is"
            f" {said(screw.diameter, unit)} wide.",
            f"About {said(LEAST_PROJECTION)} thread diameters are needed:"
            f" {said(LEAST_PROJECTION * screw.diameter, unit)}.",
            "The thread breaks out of the end of the hub, or the tap meets the teeth.",
            "Make the hub longer, or take a smaller screw.",
        )


def _drilled(design: Design, table: GearTable, depth: float, screw: SetScrew) -> Iterator[Finding]:
    unit, hub = design.unit, design.hubs[table.name]
    least, most = hub.drill_window
    if depth < least - 1e-9:
        yield Finding(
            "hole-short-of-shaft",
            "will not work",
            table.name,
            f"the hole for the set screw is {said(depth, unit)} deep, the wall {said(least, unit)}.",
            f"It must be {said(least, unit)} or more.",
            "The screw never touches the shaft: the gear spins on it.",
            f"Drill {said(least, unit)} to {said(most, unit)} deep.",
        )
    elif depth > most + 1e-9:
        yield Finding(
            "hole-into-far-wall",
            "will trouble",
            table.name,
            f"the hole for the set screw is {said(depth, unit)} deep.",
            f"From {said(most, unit)} on it bites into the far wall.",
            "The bore is scratched and the gear sits off its centre.",
            f"Drill {said(least, unit)} to {said(most, unit)} deep.",
        )
    if table.drill_reach is not None:
        needed = hub.chuck_reach(design.gears[table.name], depth)
        if table.drill_reach < needed - 1e-9:
            yield Finding(
                "chuck-hits-teeth",
                "will trouble",
                table.name,
                f"the drill stands {said(table.drill_reach, unit)} out of the chuck.",
                f"It must reach {said(needed, unit)}.",
                "The chuck meets the tips of the teeth before the hole is deep enough.",
                "Use a longer drill, or drill from a larger hub.",
            )
    if table.thread_length is not None:
        needed = table.thread_length + RUNOUT * screw.pitch
        if depth < min(needed, most):
            yield Finding(
                "no-thread-runout",
                "will trouble",
                table.name,
                f"the hole is {said(depth, unit)} deep for {said(table.thread_length, unit)} of full thread.",
                f"{RUNOUT} pitches more are needed: {said(needed, unit)}.",
                "The tap strikes the bottom and breaks.",
                f"Drill {said(needed, unit)} deep, or through.",
            )


def _long_and_short(design: Design, table: GearTable, length: float, screw: SetScrew) -> Iterator[Finding]:
    unit, hub = design.unit, design.hubs[table.name]
    if length > hub.longest_screw + 1e-9:
        yield Finding(
            "screw-stands-out",
            "will trouble",
            table.name,
            f"a set screw of {said(length, unit)} stands"
            f" {said(length - hub.longest_screw, unit)} out of the hub.",
            f"Up to {said(hub.longest_screw, unit)} it stays below the surface.",
            "On a turning shaft it catches sleeves and fingers.",
            "Take a shorter screw.",
            "common practice; guards: local code",
        )
    elif length < screw.diameter:
        yield Finding(
            "screw-too-short",
            "will trouble",
            table.name,
            f"a set screw of {said(length, unit)} has less thread than its diameter of"
            f" {said(screw.diameter, unit)}.",
            "About one diameter of thread should hold.",
            "The thread strips when it is tightened.",
            "Take a longer screw.",
            "thread engagement rule (a fastener column)",
        )


def _slip(design: Design) -> Iterator[Finding]:
    unit = design.unit
    for table in design.gear:
        shaft = design.shaft_of(table.name)
        held_by_form = table.keyway_depth > 0 or table.flat > 0
        torque = design.torques.get(table.shaft)
        if (
            table.set_screw is None
            and not held_by_form
            and table.fit not in ("press", "H7/p6")
            and design.load is not None
        ):
            yield Finding(
                "no-fastening",
                "will not work",
                table.name,
                "nothing fastens it to its shaft.",
                "A key, a flat with a set screw, or a press fit.",
                "The shaft turns in the gear.",
                "Add a set screw on a flat, or a key.",
            )
        if table.set_screw is None or held_by_form or torque is None:
            continue
        try:
            least, _ = set_screw(table.set_screw).holding_torque(shaft.diameter)
        except ValueError:
            continue
        word = "N·m" if unit == "mm" else "lbf·in"
        if least < SAFE_HOLD * torque:
            grade = "will not work" if least < torque else "will trouble"
            yield Finding(
                "slips-on-shaft",
                grade,
                table.name,
                f"one {table.set_screw} on a round shaft holds about {said(least)} {word}, the shaft carries"
                f" {said(torque)} {word}.",
                f"It should hold {said(SAFE_HOLD)} times the torque: holding forces scatter widely.",
                "The gear slips on its shaft under load.",
                "File a flat on the shaft, or use a key.",
                "Shigley, table 7-4 (from memory); an estimate for teaching",
            )


CHECKS = (
    Check(
        "hubs",
        "Is every hub sound, and does it hold its gear?",
        (
            "hub-thinner-than-bore",
            "hub-fills-spaces",
            "hub-near-root",
            "thin-wall",
            "keyway-breaks-through",
            "thin-over-keyway",
            "bore-reaches-spaces",
            "thin-rim",
            "screw-unknown",
            "screw-without-hub",
            "hub-too-short-for-screw",
            "hole-short-of-shaft",
            "hole-into-far-wall",
            "chuck-hits-teeth",
            "screw-stands-out",
            "screw-too-short",
            "no-thread-runout",
            "no-fastening",
            "slips-on-shaft",
        ),
        findings,
    ),
)
