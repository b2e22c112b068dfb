"""What can be wrong with hubs, with the keyways in them, and with the rim between bore and teeth."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ..design import Design, GearTable
from .advice import Way, stepped
from .finding import SIZES, Held, Outcome, both, down, said, up
from .ledger import Checks
from .making import LEAST_HUB, LEAST_ROOM, RULE_HUB, hub_edit, hub_widths, same_unit, standard_key, thicker
from .refit import more_teeth
from .sentences import finding, unmade
from .standings import standings

# material under a tooth, in whole depths: below, a thin-rim check is due (Mott, section 9-9, from memory)
LEAST_RIM = 1.2
#: From here on the rim takes its share and is no trouble: 1.6 ln(2.242 / 1.0) = 1.29 times the stress; rim
#: thickness factor of AGMA 2001, Mott section 9-9 (from memory) [whole depths].
POOR_RIM = 1.0
LEAST_OVER_KEYWAY = 0.2  # wall above a keyway, in bores: a hub of 1.8 bores keeps it with any standard key
TIP_CLEARANCE = 0.25  # between tips and the mate's root circle [modules]; nearer than that they graze
END_PLAY = {"mm": 1.5, "in": 0.06}  # how far gears may wander along their shafts; common practice
CHECKS = Checks()


def _with_hubs(design: Design) -> Iterator[tuple[GearTable, float]]:
    for table in design.gear:
        if table.hub_diameter is not None and same_unit(design, table):
            yield table, table.hub_diameter


def _all_hubs(design: Design) -> Iterator[tuple[GearTable, float] | Outcome]:
    """Those with hubs; before them why the others of another unit are not looked at, here and further on."""
    for table in design.gear:
        if not same_unit(design, table):
            yield unmade("hub in another unit", design, table.name, unit=design.unit)
    yield from _with_hubs(design)


def _wide(design: Design, table: GearTable, widths: Iterable[float]) -> Iterator[Way]:
    """A hub of other widths, with what follows of its screw."""
    follows = [
        word
        for word, value in (("hole", table.drill_depth), ("length of the screw", table.screw_length))
        if table.set_screw is not None and value is not None
    ]
    and_so = f", with {' and '.join(follows)} to suit" if follows else ""
    for width in widths:
        edit = hub_edit(design, table, hub_diameter=width)
        yield Way(f"Make the hub {said(width, design.unit)} wide{and_so}", edit)


def _wider(design: Design, table: GearTable) -> Iterator[Way]:
    yield from _wide(design, table, hub_widths(design, table))


def _thinner_shaft(design: Design, table: GearTable) -> Iterator[Way]:
    shaft, step = design.shaft_of(table.name), 1.0 if design.unit == "mm" else 1 / 16
    for size in stepped(down(min(table.bore, shaft.diameter) - step, design.unit), -step, 12):
        yield Way(f"Make bore and shaft {said(size, design.unit)}", thicker(design, shaft, size))


# -- wall ----------------------------------------------------------------------------------------------
@CHECKS.row("hub wall", "Has each hub a wall?", "hub-thinner-than-bore", "thin-wall", of=_all_hubs)
def _wall(design: Design, table: GearTable, width: float) -> Outcome:
    if width >= LEAST_HUB * table.bore - 1e-9:
        return Held(table.name, "its hub is in bores", width / table.bore, LEAST_HUB)
    ratio, least = both(width / table.bore, LEAST_HUB)
    return finding(
        "hub-thinner-than-bore" if width <= table.bore else "thin-wall",
        design,
        table.name,
        lambda: [_wider(design, table), _thinner_shaft(design, table)],
        width=width,
        bore=table.bore,
        ratio=ratio,
        least=least,
        rule=up(RULE_HUB * table.bore, design.unit),
    )


# -- below the teeth -----------------------------------------------------------------------------------
@CHECKS.row(
    "hub below the teeth",
    "Does each hub stay below the teeth?",
    "hub-fills-spaces",
    "hub-near-root",
    of=_with_hubs,
)
def _below_teeth(design: Design, table: GearTable, width: float) -> Outcome | None:
    """And clear of the mate's face: how much a hub that is wider matters hangs on what stands beside it."""
    if table.internal or table.hub_projection <= 0:
        return None
    gear, unit = design.toothed[table.name], design.unit
    room, least = (gear.root_diameter - width) / 2, LEAST_ROOM * gear.scale
    if room >= least - 1e-9:
        return Held(table.name, "room between hub and root circle", room, least, unit)
    row, numbers, mate, by = "hub-near-root", (room, least), "", 0.0
    if room < -1e-9:
        mate, by = _beside_mate(design, table, width) or ("", 0.0)
        beside = (
            "" if not mate else ", struck" if by < -1e-9 else ", close" if by < END_PLAY[unit] else ", clear"
        )
        row, numbers = f"hub-fills-spaces{beside}", (width, gear.root_diameter)
    return finding(
        row,
        design,
        table.name,
        lambda: [_narrower(design, table)],
        compared=numbers,
        most=gear.root_diameter - 2 * least,
        mate=mate,
        by=abs(by),
    )


def _beside_mate(design: Design, table: GearTable, width: float) -> tuple[str, float] | None:
    """The mate whose tips reach over a hub, and how far its face stands beside it along the axis [unit].

    Returns the nearest one, below 0 where they meet; None where no mate reaches over it.
    """
    hub = design.hub_ends(table.name)
    nearest: tuple[str, float] | None = None
    for pair in design.meshes_of(table.name):
        mate = design.of(pair.mate_of(table.name))
        if mate.internal:
            continue
        reach = design.toothed[mate.name].outside_diameter / 2 + width / 2
        graze = TIP_CLEARANCE * design.toothed[mate.name].scale
        if reach <= design.distance(table.name, mate.name) - graze:
            continue
        low, high = design.face_ends(mate.name)
        apart = max(hub[0] - high, low - hub[1])
        if nearest is None or apart < nearest[1]:
            nearest = mate.name, apart
    return nearest


def _narrower(design: Design, table: GearTable) -> Iterator[Way]:
    gear, unit = design.toothed[table.name], design.unit
    most = down(gear.root_diameter - 2 * LEAST_ROOM * gear.scale, unit)
    sizes = [*stepped(most, -SIZES[unit], 4), up(RULE_HUB * table.bore, unit), LEAST_HUB * table.bore]
    present = table.hub_diameter or 0.0
    yield from _wide(design, table, (size for size in sizes if table.bore < size < present))


# -- keyway --------------------------------------------------------------------------------------------
@CHECKS.row(
    "wall above the keyway",
    "Is enough of the hub left above each keyway?",
    "keyway-breaks-through",
    "thin-over-keyway",
    of=_with_hubs,
)
def _over_keyway(design: Design, table: GearTable, width: float) -> Outcome | None:
    deep, wall = table.keyway_depth, (width - table.bore) / 2
    if deep == 0 or wall <= 0:
        return None  # a hub without a wall is said above
    left, least = wall - deep, max(deep, LEAST_OVER_KEYWAY * table.bore)
    if left >= least - 1e-9 and left > 1e-9:
        return Held(table.name, "wall above the keyway", left, least, design.unit)
    through = left <= 1e-9
    return finding(
        "keyway-breaks-through" if through else "thin-over-keyway",
        design,
        table.name,
        lambda: [_standard_depth(design, table), _wider(design, table), _thinner_shaft(design, table)],
        compared=(deep, wall) if through else (left, least),
        bores=str(LEAST_OVER_KEYWAY),
    )


def _standard_depth(design: Design, table: GearTable) -> Iterator[Way]:
    standard = standard_key(design.shaft_of(table.name).diameter, design.unit)
    if standard is not None and table.keyway_depth > standard.hub_depth:
        says = f"Cut the keyway as deep as the standard has it, {said(standard.hub_depth, design.unit)}"
        yield Way(says, {"gear": {table.name: {"keyway_depth": standard.hub_depth}}})


# -- rim -----------------------------------------------------------------------------------------------
@CHECKS.row("rim", "Is enough left under the teeth?", "bore-reaches-spaces", "thin-rim", of="gear")
def _rim(design: Design, table: GearTable) -> Outcome | None:
    """Between bore (of a ring: its outside) and root circle."""
    if not same_unit(design, table):
        return None
    if table.internal and table.rim_diameter is None:
        return unmade("rim_diameter", design, table.name)
    gear, unit = design.toothed[table.name], design.unit
    rim = (
        ((table.rim_diameter or 0.0) - gear.root_diameter) / 2
        if table.internal
        else (gear.root_diameter - table.bore) / 2 - table.keyway_depth
    )
    least = LEAST_RIM * gear.whole_depth
    if rim >= least - 1e-9 and rim > 1e-9:
        return Held(table.name, "material under the teeth", rim, least, unit)
    if rim <= 1e-9:
        row = "bore-reaches-spaces, of a ring" if table.internal else "bore-reaches-spaces"
    else:
        row = "thin-rim" if rim < POOR_RIM * gear.whole_depth else "thin-rim, a little"
    return finding(
        row,
        design,
        table.name,
        lambda: _more_rim(design, table),
        compared=(rim, least),
        beyond=-rim,
        inner="outside" if table.internal else "keyway" if table.keyway_depth else "bore",
        keyway=", with its keyway," if table.keyway_depth else "",
        depths=said(rim / gear.whole_depth),
        least=said(LEAST_RIM),
    )


def _more_rim(design: Design, table: GearTable) -> Iterator[Iterator[Way]]:
    if table.internal:
        yield _wider_ring(design, table)
        return
    yield _standard_depth(design, table)
    yield _bore_alone(design, table)
    yield _thinner_shaft(design, table)
    for standing in standings(design):
        if table.name in standing.names:
            yield more_teeth(standing)


def _bore_alone(design: Design, table: GearTable) -> Iterator[Way]:
    """A bore that was typed wrong: the shaft's own size."""
    diameter = design.shaft_of(table.name).diameter
    if diameter < table.bore:
        says = f"Bore it to {said(diameter, design.unit)}, as its shaft is"
        yield Way(says, hub_edit(design, table, bore=diameter))


def _wider_ring(design: Design, table: GearTable) -> Iterator[Way]:
    gear, unit = design.toothed[table.name], design.unit
    for depths in (2.0, LEAST_RIM):
        size = up(gear.root_diameter + 2 * depths * gear.whole_depth, unit)
        edit = {"gear": {table.name: {"rim_diameter": size}}}
        yield Way(f"Make the ring {said(size, unit)} wide outside", edit)
