"""What can be wrong with hubs, with the keyways in them, and with the rim between bore and teeth."""

from __future__ import annotations

from collections.abc import Iterator

from ..design import Design, GearTable
from .advice import Advised, Way, stepped
from .finding import SIZES, Held, Outcome, Unmade, both, down, said, up
from .ledger import Check
from .making import LEAST_HUB, LEAST_ROOM, RULE_HUB, hub_edit, hub_widths, same_unit, standard_key, thicker
from .refit import more_teeth
from .standings import standings

# material under a tooth, in whole depths: below, a thin-rim check is due (Mott, section 9-9, from memory)
LEAST_RIM = 1.2
#: From here on the rim takes its share and is no trouble: 1.6 ln(2.242 / 1.0) = 1.29 times the stress; rim
#: thickness factor of AGMA 2001, Mott section 9-9 (from memory) [whole depths].
POOR_RIM = 1.0
LEAST_OVER_KEYWAY = 0.2  # wall above a keyway, in bores: a hub of 1.8 bores keeps it with any standard key
TIP_CLEARANCE = 0.25  # between tips and the mate's root circle [modules]; nearer than that they graze
END_PLAY = {"mm": 1.5, "in": 0.06}  # how far gears may wander along their shafts; common practice


def _with_hubs(design: Design) -> Iterator[tuple[GearTable, float]]:
    for table in design.gear:
        if table.hub_diameter is not None and same_unit(design, table):
            yield table, table.hub_diameter


def _wider(design: Design, table: GearTable) -> Iterator[Way]:
    for width in hub_widths(design, table):
        yield Way(
            f"Make the hub {said(width, design.unit)} wide" + _follows(table),
            hub_edit(design, table, hub_diameter=width),
        )


def _wall_ways(design: Design, table: GearTable):
    return lambda: [_wider(design, table), _thinner_shaft(design, table)]


def _follows(table: GearTable) -> str:
    follows = [
        word
        for word, value in (("hole", table.drill_depth), ("length of the screw", table.screw_length))
        if table.set_screw is not None and value is not None
    ]
    return f", with {' and '.join(follows)} to suit" if follows else ""


def _thinner_shaft(design: Design, table: GearTable) -> Iterator[Way]:
    shaft, step = design.shaft_of(table.name), 1.0 if design.unit == "mm" else 1 / 16
    for size in stepped(down(min(table.bore, shaft.diameter) - step, design.unit), -step, 12):
        yield Way(
            f"Make bore and shaft {said(size, design.unit)}",
            thicker(design, shaft, size),
        )


# -- wall ----------------------------------------------------------------------------------------------
def walls(design: Design) -> Iterator[Outcome]:
    """Whether each hub has a wall."""
    for table in design.gear:
        if not same_unit(design, table):
            yield Unmade(
                table.name,
                "its hub, rim and set screw",
                f"its teeth are not measured in {design.unit}",
                f"give its size in {design.unit}",
            )
    for table, width in _with_hubs(design):
        unit = design.unit
        if width <= table.bore:
            yield Advised(
                "hub-thinner-than-bore",
                "will not work",
                table.name,
                f"a hub of {said(width, unit)} cannot hold a bore of {said(table.bore, unit)}.",
                "A hub is 1.8 to 2 bores wide.",
                "There is no wall.",
                design=design,
                ways=_wall_ways(design, table),
                otherwise=f"Make the hub about {said(up(RULE_HUB * table.bore, unit), unit)}, and the teeth"
                " large enough for it.",
            )
        elif width < LEAST_HUB * table.bore - 1e-9:
            ratio, least = both(width / table.bore, LEAST_HUB)
            yield Advised(
                "thin-wall",
                "will trouble",
                table.name,
                f"its hub is only {ratio} bores wide.",
                f"At least {least}; 1.8 to 2 bores is the rule of thumb.",
                "The wall has no room for threads, and may crack.",
                "common practice; Khurmi & Gupta (from memory)",
                design=design,
                ways=_wall_ways(design, table),
                otherwise=f"Make the hub about {said(up(RULE_HUB * table.bore, unit), unit)}, and the teeth"
                " large enough for it.",
            )
        else:
            yield Held(table.name, "its hub is in bores", width / table.bore, LEAST_HUB)


# -- below the teeth -----------------------------------------------------------------------------------
def below_teeth(design: Design) -> Iterator[Outcome]:
    """Whether each hub stays below the root circle, and clear of the mate's face."""
    for table, width in _with_hubs(design):
        if table.internal or table.hub_projection <= 0:
            continue
        gear, unit = design.toothed[table.name], design.unit
        room = (gear.root_diameter - width) / 2
        if room < -1e-9:
            yield _over_root(design, table, width)
        elif room < LEAST_ROOM * gear.scale - 1e-9:
            left, wanted = both(room, LEAST_ROOM * gear.scale, unit)
            yield Advised(
                "hub-near-root",
                "worth knowing",
                table.name,
                f"its hub ends {left} below the root circle.",
                f"About {wanted} are wanted.",
                "The mate's tips pass close by.",
                design=design,
                ways=_narrower_ways(design, table),
                otherwise="Make the hub a little smaller.",
            )
        else:
            yield Held(table.name, "room between hub and root circle", room, LEAST_ROOM * gear.scale, unit)


def _over_root(design: Design, table: GearTable, width: float) -> Outcome:
    """A hub wider than the root circle: how much depends on what stands beside it along the axis."""
    unit, gear = design.unit, design.toothed[table.name]
    beside = _beside_mate(design, table, width)
    if beside is None:
        grade, why = "worth knowing", "No mate's face stands beside it, but no cutter can run out there."
    elif beside[1] < -1e-9:
        mate, by = beside
        grade = "will not work"
        why = f"The tips of {mate} strike it: its face reaches {said(-by, unit)} over the hub."
    elif beside[1] < END_PLAY[unit]:
        mate, by = beside
        grade = "will trouble"
        why = (
            f"It covers the bottoms of the tooth spaces, and the face of {mate} stands only"
            f" {said(by, unit)} beside it: with a little end play the tips strike it."
        )
    else:
        grade = "worth knowing"
        mate, by = beside
        why = f"The face of {mate} stands {said(by, unit)} clear of it; no cutter can run out there."
    hub, root = both(width, gear.root_diameter, unit)
    return Advised(
        "hub-fills-spaces",
        grade,
        table.name,
        f"its hub of {hub} is wider than the root circle of {root}.",
        f"A hub stays below {said(gear.root_diameter - 2 * LEAST_ROOM * gear.scale, unit)}, or well clear of"
        " the mate's face.",
        why,
        "geometry",
        design=design,
        ways=_narrower_ways(design, table),
        otherwise="Make the hub narrower, or the gear larger.",
    )


def _beside_mate(design: Design, table: GearTable, width: float) -> tuple[str, float] | None:
    """The mate whose tips reach over a hub, and how far its face stands beside it along the axis [unit].

    Returns the nearest one, below 0 where they meet; None where no mate reaches over it.
    """
    middle = design.face_height(table.name)
    low, high = middle - table.face_width / 2, middle + table.face_width / 2
    hub = (
        (low - table.hub_projection, low)
        if table.hub_side == "plate"
        else (high, high + table.hub_projection)
    )
    nearest: tuple[str, float] | None = None
    for pair in design.mesh:
        if table.name not in (pair.driver, pair.driven):
            continue
        mate = design.of(pair.driven if pair.driver == table.name else pair.driver)
        if mate.internal:
            continue
        reach = design.toothed[mate.name].outside_diameter / 2 + width / 2
        graze = TIP_CLEARANCE * design.toothed[mate.name].scale
        if reach <= design.distance(table.name, mate.name) - graze:
            continue
        height, half = design.face_height(mate.name), mate.face_width / 2
        apart = max(hub[0] - (height + half), height - half - hub[1])
        if nearest is None or apart < nearest[1]:
            nearest = mate.name, apart
    return nearest


def _narrower_ways(design: Design, table: GearTable):
    return lambda: [_narrower(design, table)]


def _narrower(design: Design, table: GearTable) -> Iterator[Way]:
    gear, unit = design.toothed[table.name], design.unit
    most = down(gear.root_diameter - 2 * LEAST_ROOM * gear.scale, unit)
    sizes = [*stepped(most, -SIZES[unit], 4), up(RULE_HUB * table.bore, unit), LEAST_HUB * table.bore]
    for width in sizes:
        if table.bore < width < (table.hub_diameter or 0.0):
            yield Way(
                f"Make the hub {said(width, unit)} wide" + _follows(table),
                hub_edit(design, table, hub_diameter=width),
            )


# -- keyway --------------------------------------------------------------------------------------------
def over_keyways(design: Design) -> Iterator[Outcome]:
    """Whether each keyway leaves enough of the wall."""
    for table, width in _with_hubs(design):
        if table.keyway_depth == 0 or width <= table.bore:
            continue  # a hub without a wall is said above
        unit, wall = design.unit, (width - table.bore) / 2
        left, least = wall - table.keyway_depth, max(table.keyway_depth, LEAST_OVER_KEYWAY * table.bore)
        if left <= 1e-9:
            deep, high = both(table.keyway_depth, wall, unit)
            yield Advised(
                "keyway-breaks-through",
                "will not work",
                table.name,
                f"the keyway is {deep} deep, the wall {high}.",
                "The wall must be deeper than the keyway.",
                "The keyway comes out of the hub.",
                design=design,
                ways=_keyway_ways(design, table),
                otherwise="Make the hub wider, and the gear large enough for it.",
            )
        elif left < least - 1e-9:
            rest, wanted = both(left, least, unit)
            yield Advised(
                "thin-over-keyway",
                "will trouble",
                table.name,
                f"{rest} of wall are left above the keyway.",
                f"At least the keyway's depth and {LEAST_OVER_KEYWAY} of the bore, {wanted}.",
                "The hub cracks from the corner of the keyway.",
                design=design,
                ways=_keyway_ways(design, table),
                otherwise="Make the hub wider, or the bore smaller.",
            )
        else:
            yield Held(table.name, "wall above the keyway", left, least, unit)


def _keyway_ways(design: Design, table: GearTable):
    return lambda: [
        _standard_depth(design, table),
        _wider(design, table),
        _thinner_shaft(design, table),
    ]


def _standard_depth(design: Design, table: GearTable) -> Iterator[Way]:
    standard = standard_key(design.shaft_of(table.name).diameter, design.unit)
    if standard is not None and table.keyway_depth > standard.hub_depth:
        yield Way(
            f"Cut the keyway as deep as the standard has it, {said(standard.hub_depth, design.unit)}",
            {"gear": {table.name: {"keyway_depth": standard.hub_depth}}},
        )


# -- rim -----------------------------------------------------------------------------------------------
def rims(design: Design) -> Iterator[Outcome]:
    """Whether enough is left between bore (of a ring: its outside) and root circle."""
    for table in design.gear:
        if not same_unit(design, table):
            continue
        if table.internal and table.rim_diameter is None:
            yield Unmade(
                table.name,
                "the rim of the ring",
                "its outside is not given",
                "give rim_diameter",
            )
            continue
        gear, unit = design.toothed[table.name], design.unit
        rim = (
            ((table.rim_diameter or 0.0) - gear.root_diameter) / 2
            if table.internal
            else (gear.root_diameter - table.bore) / 2 - table.keyway_depth
        )
        depth = gear.whole_depth
        if rim <= 1e-9:
            yield _open_rim(design, table, rim)
        elif rim < LEAST_RIM * depth - 1e-9:
            left, wanted = both(rim, LEAST_RIM * depth, unit)
            inner = "outside" if table.internal else "keyway" if table.keyway_depth else "bore"
            yield Advised(
                "thin-rim",
                "will trouble" if rim < POOR_RIM * depth else "worth knowing",
                table.name,
                f"{left} are left between {inner} and root circle, {said(rim / depth)} whole depths.",
                f"About {said(LEAST_RIM)} whole depths, {wanted}.",
                "A thin rim bends and breaks through a tooth space."
                if rim < POOR_RIM * depth
                else "It bends a little: the stress at the roots is up to a third higher than reckoned.",
                "Mott, section 9-9 (from memory)",
                design=design,
                ways=_rim_ways(design, table),
                otherwise="Use a smaller bore, more teeth, or put the keyway under a tooth.",
            )
        else:
            yield Held(table.name, "material under the teeth", rim, LEAST_RIM * depth, unit)


def _open_rim(design: Design, table: GearTable, rim: float) -> Outcome:
    return Advised(
        "bore-reaches-spaces",
        "will not work",
        table.name,
        (
            f"the ring is {said(-rim, design.unit)} smaller outside than its root circle."
            if table.internal
            else f"its bore{_keyway(table)} reaches {said(-rim, design.unit)} beyond the root circle."
        ),
        f"About {said(LEAST_RIM)} whole depths should be left.",
        "There is nothing under the tooth spaces."
        if table.internal
        else "The bore opens into the tooth spaces.",
        design=design,
        ways=_rim_ways(design, table),
        otherwise="Use a smaller bore or more teeth.",
    )


def _keyway(table: GearTable) -> str:
    return ", with its keyway," if table.keyway_depth else ""


def _rim_ways(design: Design, table: GearTable):
    if table.internal:
        return lambda: [_wider_ring(design, table)]
    return lambda: [
        _standard_depth(design, table),
        _bore_alone(design, table),
        _thinner_shaft(design, table),
        *(more_teeth(standing) for standing in standings(design) if table.name in standing.names),
    ]


def _bore_alone(design: Design, table: GearTable) -> Iterator[Way]:
    """A bore that was typed wrong: the shaft's own size."""
    diameter = design.shaft_of(table.name).diameter
    if diameter < table.bore:
        yield Way(
            f"Bore it to {said(diameter, design.unit)}, as its shaft is",
            hub_edit(design, table, bore=diameter),
        )


def _wider_ring(design: Design, table: GearTable) -> Iterator[Way]:
    gear, unit = design.toothed[table.name], design.unit
    for depths in (2.0, LEAST_RIM):
        size = up(gear.root_diameter + 2 * depths * gear.whole_depth, unit)
        yield Way(
            f"Make the ring {said(size, unit)} wide outside", {"gear": {table.name: {"rim_diameter": size}}}
        )


CHECKS = (
    Check("hub wall", "Has each hub a wall?", ("hub-thinner-than-bore", "thin-wall"), walls),
    Check(
        "hub below the teeth",
        "Does each hub stay below the teeth?",
        ("hub-fills-spaces", "hub-near-root"),
        below_teeth,
    ),
    Check(
        "wall above the keyway",
        "Is enough of the hub left above each keyway?",
        ("keyway-breaks-through", "thin-over-keyway"),
        over_keyways,
    ),
    Check("rim", "Is enough left under the teeth?", ("bore-reaches-spaces", "thin-rim"), rims),
)
