"""Whether what stands on the plate has room, in three dimensions.

Gears and hubs that are not to mesh, the hub of a gear and the face of its mate, shafts, the plate below.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from itertools import combinations
from typing import NamedTuple

from ..design import Design, GearTable, MeshTable, ShaftTable
from .advice import Way
from .finding import Held, Outcome, down, said, up
from .ledger import Checks
from .making import same_unit
from .moves import driven_along, places_told, raised, ring_rim, swung, told
from .refit import longer_or_more_teeth, set_apart
from .sentences import finding, unmade
from .standings import standings

SAME = 1e-6  # shafts nearer than this share an axis [unit]
#: What must be left between a turning gear and the plate, of a washer or a collar (common practice) [unit].
LEAST_GAP = {"mm": 0.1, "in": 0.004}
WASHER = {"mm": 1.0, "in": 1 / 32}  # a thin one that is sold [unit]
CLEAR = {"mm": 0.5, "in": 0.02}  # what advice leaves between parts that turn [unit]
CHECKS = Checks()


class Body(NamedTuple):
    """What a gear takes up: its kind, lower and upper height above the plate, radii [unit]."""

    kind: str
    low: float
    high: float
    radius: float
    inner: float = 0.0


def bodies(design: Design, name: str) -> list[Body]:
    """What a gear takes up: "face", or "rim" of a ring, and "hub"."""
    table, (low, high) = design.of(name), design.face_ends(name)
    if table.internal:
        pieces = [Body("rim", low, high, ring_rim(design, name) / 2, design.rings[name].inside_diameter / 2)]
    else:
        pieces = [Body("face", low, high, design.gears[name].outside_diameter / 2)]
    if table.hub_diameter is not None and table.hub_projection > 0:
        pieces.append(Body("hub", *design.hub_ends(name), table.hub_diameter / 2))
    return pieces


def across(first: Body, second: Body, apart: float) -> float:
    """How far two bodies overlap across their axes, so far apart [unit]; below 0 they are clear."""
    reaches = [first.radius + second.radius - apart]
    reaches += [
        apart + other.radius - ring.inner
        for ring, other in ((first, second), (second, first))
        if ring.inner > 0
    ]
    return min(reaches)


def along(first: Body, second: Body) -> float:
    """How far two bodies overlap along their axes [unit]; below 0 they are clear."""
    return min(first.high, second.high) - max(first.low, second.low)


# -- gears beside one another ------------------------------------------------------------------------------
def _strangers(design: Design) -> Iterator[Outcome | tuple[str, str]]:
    """Gears of different shafts that are not to mesh."""
    meshing = {frozenset(pair.gears) for pair in design.mesh}
    for gear, other in combinations(design.gear, 2):
        names = gear.name, other.name
        if gear.shaft == other.shaft or frozenset(names) in meshing:
            continue
        if same_unit(design, gear) and same_unit(design, other):
            yield names
        else:
            yield unmade("room in another unit", design, " and ".join(names), what="room between them")


@CHECKS.row(
    "room between gears", "Are gears that do not mesh clear of each other?", "gears-collide", of=_strangers
)
def _beside(design: Design, gear: str, other: str) -> Outcome:
    apart, where, unit = design.distance(gear, other), f"{gear} and {other}", design.unit
    pairs = [(first, second) for first in bodies(design, gear) for second in bodies(design, other)]
    level = [(across(*pair, apart), *pair) for pair in pairs if along(*pair) > SAME]
    deepest = max(level, key=lambda pair: pair[0], default=None)
    if deepest is None:
        gap = min(-along(*pair) for pair in pairs)
        return Held(where, "they are at different heights, clear by", max(gap, 0.0), 0.0, unit)
    overlap, first, second = deepest
    if overlap <= SAME:
        return Held(where, "they are beside each other, clear by", max(-overlap, 0.0), 0.0, unit)
    return finding(
        "gears-collide",
        design,
        where,
        lambda: _out_of_the_way(design, gear, other),
        first=first.kind,
        second=second.kind,
        overlap=overlap,
    )


def _out_of_the_way(design: Design, first: str, second: str) -> Iterator[Iterator[Way] | list[Way]]:
    """Each raised above the other, with the gears that mesh with it; else swung round another gear."""
    for gear, other in ((first, second), (second, first)):
        ways = []
        for mates in _companies(design, gear, other):
            low = min(body.low for body in bodies(design, gear))
            high = max(body.high for body in bodies(design, other))
            by = up(high - low + CLEAR[design.unit], design.unit)
            edit = raised(design, {name: design.of(name).gap + by for name in mates})
            says = f"Raise {' and '.join(mates)} by {said(by, design.unit)} with washers"
            ways.append(Way(f"{says}{told(design, edit)}", edit))
        yield ways
    yield from _swings(design, design.of(first).shaft, design.of(second).shaft)


def _swings(design: Design, first: str, second: str) -> Iterator[Iterator[Way]]:
    """Each mesh that lies between two shafts, its driven gear swung round its driver."""
    for pair in reversed(design.mesh):
        if len({first, second} & set(driven_along(design, pair.driver, pair.driven))) == 1:
            yield _swung(design, pair.driver, pair.driven)


def _swung(design: Design, driver: str, driven: str) -> Iterator[Way]:
    shaft = design.of(driven).shaft
    for turn in (30, -30, 60, -60, 90, -90, 45, -45, 15, -15, 120, -120):
        edit = swung(design, driver, driven, turn)
        where = places_told(design, edit, [name for name in edit["shaft"] if name == shaft])
        others = " and what hangs on it with it" if len(edit["shaft"]) > 1 else ""
        says = f"Set shaft {where}{others}; its spacing to {design.of(driver).shaft} stays"
        yield Way(f"{says}{told(design, edit)}", edit)


def _companies(design: Design, gear: str, other: str) -> Iterator[tuple[str, ...]]:
    """A gear alone, with what meshes with it, and with all that hangs on that, but for the one it strikes."""
    yield (gear,)
    company = [gear]
    for name in company:
        mates = [pair.mate_of(name) for pair in design.meshes_of(name)]
        company += [mate for mate in dict.fromkeys(mates) if mate not in company and mate != other]
    yield tuple(company)
    yield tuple(dict.fromkeys(_lowest(design, name) for name in company))


def _lowest(design: Design, gear: str) -> str:
    return design.on(design.of(gear).shaft)[0].name


# -- hubs of gears that mesh ------------------------------------------------------------------------------
@CHECKS.row(
    "room between hubs", "Are the hubs of gears in mesh clear of each other?", "hubs-collide", of="mesh"
)
def _hubs_of_mates(design: Design, pair: MeshTable) -> Outcome | None:
    """Hub against hub; a hub against the mate's face is asked of the hub."""
    if not all(same_unit(design, design.of(name)) for name in pair.gears):
        return unmade("room in another unit", design, pair.name, what="room between the hubs")
    first, second = (
        next((body for body in bodies(design, name) if body.kind == "hub"), None) for name in pair.gears
    )
    if first is None or second is None:
        return None
    apart = design.distance(*pair.gears)
    overlap = across(first, second, apart)
    if min(overlap, along(first, second)) <= SAME:
        return Held(pair.name, "the hubs are clear of each other")
    room = apart - CLEAR[design.unit]
    return finding(
        "hubs-collide",
        design,
        pair.name,
        lambda: _smaller_hubs(design, *pair.gears, room),
        overlap=overlap,
        apart=room + CLEAR[design.unit],
    )


def _smaller_hubs(
    design: Design, first: str, second: str, room: float
) -> Iterator[Iterator[Way] | list[Way]]:
    yield from (
        set_apart(standing) for standing in standings(design) if {first, second} == set(standing.names)
    )
    for gear, other in ((first, second), (second, first)):
        width = down(2 * room - (design.of(other).hub_diameter or 0.0), design.unit)
        if width > design.of(gear).bore:
            says = f"Make the hub of {gear} {said(width, design.unit)} wide"
            yield [Way(says, {"gear": {gear: {"hub_diameter": width}}})]


# -- shafts ------------------------------------------------------------------------------------------------
def _top(design: Design, shaft: ShaftTable) -> float | None:
    """How high a shaft reaches above the plate [unit], at least as far as its gears; None if unknown."""
    if shaft.length is not None:
        return shaft.length - shaft.behind - design.on_plate.thickness
    return max(
        (body.high for gear in design.on(shaft.name) for body in bodies(design, gear.name)), default=None
    )


def _gears_of_one_unit(design: Design) -> Iterator[Outcome | GearTable]:
    one_unit = all(same_unit(design, table) for table in design.gear)
    for table in design.gear:
        if one_unit:
            yield table
        else:
            yield unmade("room in another unit", design, table.name, what="room beside other shafts")


@CHECKS.row(
    "room for shafts", "Is every gear clear of the other shafts?", "gear-strikes-shaft", of=_gears_of_one_unit
)
def _shafts(design: Design, table: GearTable) -> Iterator[Outcome]:
    strikes, nearest = [], math.inf
    for shaft in design.standing:
        if shaft.name == table.shaft:
            continue
        top, apart = _top(design, shaft), math.dist(design.shaft_of(table.name).place, shaft.place)
        if top is None or apart <= SAME:
            continue  # a shaft in the same place is asked for by itself
        for body in bodies(design, table.name):
            rod = Body("shaft", 0.0, max(top, 0.0), shaft.diameter / 2)
            if along(body, rod) > SAME:
                overlap = across(body, rod, apart)
                nearest = min(nearest, -overlap)
                if overlap > SAME:
                    strikes.append((shaft, body, overlap))
                    break
    for shaft, body, overlap in strikes:
        yield finding(
            "gear-strikes-shaft",
            design,
            f"{table.name} and shaft {shaft.name}",
            partial(_clear_of_shaft, design, table, shaft, body),
            overlap=overlap,
            low=body.low,
        )
    if not strikes and math.isfinite(nearest):
        yield Held(table.name, "clear of every other shaft by", nearest, 0.0, design.unit)


def _clear_of_shaft(
    design: Design, table: GearTable, shaft: ShaftTable, body: Body
) -> Iterator[Iterator[Way] | list[Way]]:
    unit = design.unit
    if shaft.length is not None:
        length = down(body.low - CLEAR[unit] + design.on_plate.thickness + shaft.behind, unit)
        if length > 0:
            says = f"Shorten shaft {shaft.name} to {said(length, unit)}"
            yield [Way(says, {"shaft": {shaft.name: {"length": length}}})]
    for standing in standings(design):
        if {design.of(name).shaft for name in standing.names} == {table.shaft, shaft.name}:
            yield set_apart(standing)
            yield longer_or_more_teeth(standing)
    yield from _swings(design, table.shaft, shaft.name)


@CHECKS.row("places of shafts", "Has every shaft a place of its own?", "shafts-in-one-place")
def _in_one_place(design: Design) -> Iterator[Outcome]:
    """Shafts on one axis: a planetary set's may be, and a thin one in a hollow one; two rods cannot."""
    joined = [set(table.shafts.values()) for table in design.planetary]
    clear = []
    for shaft, other in combinations(design.standing, 2):
        apart, where = math.dist(shaft.place, other.place), f"shafts {shaft.name} and {other.name}"
        clear.append(apart - (shaft.diameter + other.diameter) / 2)
        if apart > SAME:
            continue
        if any({shaft.name, other.name} <= shafts for shafts in joined):
            yield Held(where, "on one axis, as members of a planetary set")
        elif abs(shaft.diameter - other.diameter) > SAME:
            yield unmade("sleeve", design, where)
        else:
            yield finding("shafts-in-one-place", design, where, thick=shaft.diameter)
    if clear and min(clear) > SAME:
        yield Held("the shafts", "clear of one another by", min(clear), 0.0, design.unit)


# -- the plate below ---------------------------------------------------------------------------------------
def _lowest_gears(design: Design) -> Iterator[GearTable]:
    return (gears[0] for shaft in design.standing if (gears := design.on(shaft.name)))


@CHECKS.row(
    "clear of the plate",
    "Does anything keep the gears off the plate?",
    "gear-rubs-on-plate",
    of=_lowest_gears,
)
def _on_plate(design: Design, lowest: GearTable) -> Outcome:
    unit, least = design.unit, LEAST_GAP[design.unit]
    if lowest.gap >= least - 1e-9:
        return Held(lowest.name, "clear of the plate by", lowest.gap, least, unit)
    return finding(
        "gear-rubs-on-plate",
        design,
        lowest.name,
        lambda: _washers(design, lowest),
        end="hub" if lowest.hub_side == "plate" and lowest.hub_projection > 0 else "face",
        lies="is on the plate" if lowest.gap == 0 else f"is {said(lowest.gap, unit)} above the plate",
        washer=WASHER[unit],
        least=least,
    )


def _washers(design: Design, lowest: GearTable) -> Iterator[list[Way]]:
    """A washer under a gear alone where its faces stay in mesh, or under every gear of the drive."""
    unit, ways = design.unit, []
    together_with = dict.fromkeys(_lowest(design, name) for name in [*_companies(design, lowest.name, "")][1])
    every = [gear.name for gear in _lowest_gears(design)]
    for company in ([lowest.name], list(together_with), every):
        edit = raised(design, {name: design.of(name).gap + WASHER[unit] for name in company})
        under = " and ".join(company) if len(company) < 4 else "every gear"
        says = f"Put a washer of {said(WASHER[unit], unit)} under {under}{told(design, edit)}"
        ways.append(Way(says, edit))
    yield ways
