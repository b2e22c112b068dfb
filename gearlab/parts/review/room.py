"""Whether what stands on the plate has room, in three dimensions.

Gears and hubs that are not to mesh, the hub of a gear and the face of its mate, shafts, the plate below.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from itertools import combinations
from typing import NamedTuple

from ..design import Design, GearTable, ShaftTable
from .advice import Advised, Way
from .finding import Finding, Held, Outcome, Unmade, down, said, up
from .ledger import Check
from .moves import driven_along, places_told, raised, ring_rim, swung, told
from .refit import longer_or_more_teeth, set_apart
from .standings import standings

SAME = 1e-6  # shafts nearer than this share an axis [unit]
#: What must be left between a turning gear and the plate, of a washer or a collar (common practice) [unit].
LEAST_GAP = {"mm": 0.1, "in": 0.004}
WASHER = {"mm": 1.0, "in": 1 / 32}  # a thin one that is sold [unit]
CLEAR = {"mm": 0.5, "in": 0.02}  # what advice leaves between parts that turn [unit]


class Body(NamedTuple):
    """What a gear takes up: its kind, lower and upper height above the plate, radii [unit]."""

    kind: str
    low: float
    high: float
    radius: float
    inner: float = 0.0


def bodies(design: Design, name: str) -> list[Body]:
    """What a gear takes up: "face", or "rim" of a ring, and "hub"."""
    table, middle = design.of(name), design.face_height(name)
    low, high = middle - table.face_width / 2, middle + table.face_width / 2
    if table.internal:
        pieces = [Body("rim", low, high, ring_rim(design, name) / 2, design.rings[name].inside_diameter / 2)]
    else:
        pieces = [Body("face", low, high, design.gears[name].outside_diameter / 2)]
    if table.hub_diameter is not None and table.hub_projection > 0:
        ends = (
            (low - table.hub_projection, low)
            if table.hub_side == "plate"
            else (high, high + table.hub_projection)
        )
        pieces.append(Body("hub", *ends, table.hub_diameter / 2))
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


def _one_unit(design: Design) -> bool:
    return all(gear.unit == design.unit for gear in design.toothed.values())


# -- gears beside one another ------------------------------------------------------------------------------
def _gears(design: Design) -> Iterator[Outcome]:
    meshing = {frozenset((pair.driver, pair.driven)) for pair in design.mesh}
    for gear, other in combinations([gear.name for gear in design.gear], 2):
        if design.of(gear).shaft == design.of(other).shaft or frozenset((gear, other)) in meshing:
            continue
        if design.toothed[gear].unit != design.unit or design.toothed[other].unit != design.unit:
            yield _other_unit(f"{gear} and {other}", "room between them")
            continue
        yield _beside(design, gear, other)


def _other_unit(where: str, what: str) -> Unmade:
    return Unmade(
        where,
        what,
        "sizes in millimetres and inches are mixed",
        "give every gear its size in the unit of the file",
    )


def _beside(design: Design, gear: str, other: str) -> Outcome:
    apart, where, unit = design.distance(gear, other), f"{gear} and {other}", design.unit
    pairs = [(first, second) for first in bodies(design, gear) for second in bodies(design, other)]
    level = [(across(*pair, apart), *pair) for pair in pairs if along(*pair) > SAME]
    deepest = max(level, key=lambda pair: pair[0], default=None)
    if deepest is None:
        gap = min(-along(*pair) for pair in pairs)
        return Held(where, "they stand at different heights, clear by", max(gap, 0.0), 0.0, unit)
    overlap, first, second = deepest
    if overlap <= SAME:
        return Held(where, "they stand beside each other, clear by", max(-overlap, 0.0), 0.0, unit)
    return Advised(
        "gears-collide",
        "will not work",
        where,
        f"{first.kind} and {second.kind} stand at one height and overlap by {said(overlap, unit)}.",
        "Gears that do not mesh must clear each other.",
        "They strike each other, or lock the train.",
        "geometry",
        design=design,
        ways=lambda: _out_of_the_way(design, gear, other),
        otherwise="Put them at different heights by gaps, or change the layout.",
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
            names = " and ".join(mates)
            ways.append(
                Way(f"Raise {names} by {said(by, design.unit)} with washers{told(design, edit)}", edit)
            )
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
        for pair in design.mesh:
            if name in (pair.driver, pair.driven):
                mate = pair.driven if pair.driver == name else pair.driver
                company += [mate] if mate not in company and mate != other else []
    yield tuple(company)
    yield tuple(dict.fromkeys(_lowest(design, name) for name in company))


def _lowest(design: Design, gear: str) -> str:
    return design.on(design.of(gear).shaft)[0].name


# -- hubs of gears that mesh ------------------------------------------------------------------------------
def _hubs_of_mates(design: Design) -> Iterator[Outcome]:
    """Hub against hub; a hub against the mate's face is asked of the hub."""
    for pair in design.mesh:
        if any(design.toothed[name].unit != design.unit for name in (pair.driver, pair.driven)):
            yield _other_unit(pair.name, "room between the hubs")
            continue
        first, second = (
            next((body for body in bodies(design, name) if body.kind == "hub"), None)
            for name in (pair.driver, pair.driven)
        )
        if first is None or second is None:
            continue
        overlap = across(first, second, design.distance(pair.driver, pair.driven))
        if min(overlap, along(first, second)) <= SAME:
            yield Held(pair.name, "the hubs are clear of each other")
            continue
        room = design.distance(pair.driver, pair.driven) - CLEAR[design.unit]
        yield Advised(
            "hubs-collide",
            "will not work",
            pair.name,
            f"their hubs stand at one height and overlap by {said(overlap, design.unit)}.",
            f"Both radii must stay below the {said(room + CLEAR[design.unit], design.unit)} between the"
            " shafts.",
            "The gears cannot be brought into mesh.",
            "geometry",
            design=design,
            ways=partial(_smaller_hubs, design, pair.driver, pair.driven, room),
            otherwise="Make the hubs smaller, or turn one of them round.",
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


def _shafts(design: Design) -> Iterator[Outcome]:
    if not _one_unit(design):
        yield from (_other_unit(gear.name, "room beside other shafts") for gear in design.gear)
        return
    for table in design.gear:
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
        yield from (_strikes_shaft(design, table, *strike) for strike in strikes)
        if not strikes and math.isfinite(nearest):
            yield Held(table.name, "clear of every other shaft by", nearest, 0.0, design.unit)


def _strikes_shaft(
    design: Design, table: GearTable, shaft: ShaftTable, body: Body, overlap: float
) -> Finding:
    unit = design.unit
    return Advised(
        "gear-strikes-shaft",
        "will not work",
        f"{table.name} and shaft {shaft.name}",
        f"the gear reaches {said(overlap, unit)} into the shaft beside it.",
        f"The shaft must end below {said(body.low, unit)} above the plate, or stand further off.",
        "The gear cannot be put on, or rubs on the shaft.",
        "geometry",
        design=design,
        ways=lambda: _clear_of_shaft(design, table, shaft, body, overlap),
        otherwise="Shorten that shaft, lower its gears, or change the layout.",
    )


def _clear_of_shaft(
    design: Design, table: GearTable, shaft: ShaftTable, body: Body, overlap: float
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


def _in_one_place(design: Design) -> Iterator[Outcome]:
    """Shafts on one axis: a planetary set's may be, and a thin one in a hollow one; two rods cannot."""
    joined = [set(table.shafts.values()) for table in design.planetary]
    for shaft, other in combinations(design.standing, 2):
        if math.dist(shaft.place, other.place) > SAME:
            continue
        where = f"shafts {shaft.name} and {other.name}"
        if any({shaft.name, other.name} <= shafts for shafts in joined):
            yield Held(where, "on one axis, as members of a planetary set")
        elif abs(shaft.diameter - other.diameter) > SAME:
            yield Unmade(
                where,
                "whether the thicker one is hollow",
                "they stand in one place, and the file cannot say which is a sleeve",
                "check that the thick one is a sleeve, or give one of them another place",
            )
        else:
            yield Finding(
                "shafts-in-one-place",
                "will not work",
                where,
                f"both are {said(shaft.diameter, design.unit)} thick and stand in one place.",
                "Two rods need 1 place each.",
                "Both go through the plate there: only one of them can.",
                "Give one of them another place, or let one gear run loose on the other's shaft.",
                decision="Which of the two keeps its place; a gear may run loose on the other's shaft.",
            )
    if len(design.standing) > 1:
        apart = [
            math.dist(shaft.place, other.place) - (shaft.diameter + other.diameter) / 2
            for shaft, other in combinations(design.standing, 2)
        ]
        if min(apart) > SAME:
            yield Held("the shafts", "clear of one another by", min(apart), 0.0, design.unit)


# -- the plate below ---------------------------------------------------------------------------------------
def _on_plate(design: Design) -> Iterator[Outcome]:
    unit = design.unit
    for shaft in design.standing:
        gears = design.on(shaft.name)
        if not gears:
            continue
        lowest = gears[0]
        if lowest.gap >= LEAST_GAP[unit] - 1e-9:
            yield Held(lowest.name, "clear of the plate by", lowest.gap, LEAST_GAP[unit], unit)
            continue
        end = "hub" if lowest.hub_side == "plate" and lowest.hub_projection > 0 else "face"
        lies = "lies on the plate" if lowest.gap == 0 else f"stands {said(lowest.gap, unit)} above the plate"
        yield Advised(
            "gear-rubs-on-plate",
            "will trouble",
            lowest.name,
            f"its {end} {lies}.",
            f"A washer or collar of {said(WASHER[unit], unit)} or so keeps it off;"
            f" {said(LEAST_GAP[unit], unit)} at least.",
            "It rubs on the plate, grinds dust into the teeth and turns hard.",
            design=design,
            ways=partial(_washers, design, lowest),
            otherwise="Put a washer under it, and one as thick under every gear that meshes with it.",
        )


def _washers(design: Design, lowest: GearTable) -> Iterator[list[Way]]:
    """A washer under a gear alone where its faces stay in mesh, or under every gear of the drive."""
    unit, ways = design.unit, []
    together_with = dict.fromkeys(_lowest(design, name) for name in [*_companies(design, lowest.name, "")][1])
    for company in (
        [lowest.name],
        list(together_with),
        [design.on(s.name)[0].name for s in design.standing if design.on(s.name)],
    ):
        edit = raised(design, {name: design.of(name).gap + WASHER[unit] for name in company})
        under = " and ".join(company) if len(company) < 4 else "every gear"
        ways.append(
            Way(f"Put a washer of {said(WASHER[unit], unit)} under {under}{told(design, edit)}", edit)
        )
    yield ways


CHECKS = (
    Check(
        "room between gears",
        "Are gears that do not mesh clear of each other?",
        ("gears-collide",),
        _gears,
    ),
    Check(
        "room between hubs",
        "Are the hubs of gears in mesh clear of each other?",
        ("hubs-collide",),
        _hubs_of_mates,
    ),
    Check("room for shafts", "Is every gear clear of the other shafts?", ("gear-strikes-shaft",), _shafts),
    Check("places of shafts", "Has every shaft a place of its own?", ("shafts-in-one-place",), _in_one_place),
    Check(
        "clear of the plate",
        "Does anything keep the gears off the plate?",
        ("gear-rubs-on-plate",),
        _on_plate,
    ),
)
