"""What joins the members of a drive: whether each is driven, and whether closed rings can turn."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from typing import Any

from ..design import Design, GearTable, MeshTable
from ..design.drive import Ring, rings, turning
from ..mesh import Mesh
from .advice import Way, together
from .finding import Held, Outcome
from .ledger import Checks
from .sentences import finding, unmade

CHECKS = Checks()


# -- which way meshes are written -------------------------------------------------------------------------
def _away_from_first(design: Design) -> dict[str, int]:
    """How many meshes lie between the first shaft and each that it reaches by meshes."""
    away = {design.first_shaft or "": 0}
    for shaft in (reached := [design.first_shaft or ""]):
        for pair in design.mesh:
            ends = [design.of(name).shaft for name in pair.gears]
            for other in ends if shaft in ends else ():
                if other not in away:
                    away[other] = away[shaft] + 1
                    reached.append(other)
    return away


def _one_way(design: Design) -> Iterator[tuple[MeshTable, list[int | None]]]:
    """The meshes of a drive in which the motion has one way to go, and how far away their gears are."""
    if len(design.links) == len(design.mesh) and not any(table.loose for table in design.gear):
        away = _away_from_first(design)
        for pair in design.mesh:
            yield pair, [away.get(design.of(name).shaft) for name in pair.gears]


@CHECKS.row("ways of meshes", "Is each mesh driven from its driver?", "mesh-turned-round", of=_one_way)
def _way_round(design: Design, pair: MeshTable, away: list[int | None]) -> Outcome:
    """The driver is the one that the first shaft reaches first."""
    driver, driven = away
    if driver is None or driven is None or driver <= driven:
        return Held(pair.name, "it is driven from the first shaft's side")
    turned = {"mesh": {pair.name: {"driver": pair.driven, "driven": pair.driver}}}
    wanted = design.design.ratio is not None or design.design.direction is not None
    return finding(
        "mesh-turned-round" if wanted else "mesh-turned-round, nothing wanted",
        design,
        pair.name,
        lambda: [[Way(f"Let {pair.driven} drive {pair.driver}", turned)]],
        driver=pair.driver,
        driven=pair.driven,
        first=design.first_shaft,
    )


# -- what is joined ------------------------------------------------------------------------------------
@CHECKS.row("joined members", "Is every member joined to the drive?", "not-joined")
def _joined(design: Design) -> Iterator[Outcome]:
    if not design.links and not any(rack.pinion is not None for rack in design.rack):
        return
    for gear in design.gear:
        shaft = turning(design, gear)
        idle = gear.loose and shaft == gear.shaft and len(design.meshes_of(gear.name)) == 1
        if shaft not in design.turns or idle:
            yield _not_joined(design, gear, shaft)
        else:
            yield Held(gear.name, "it is joined to the first shaft")
    for bevel in design.bevels:
        shafts = [shaft for shaft in (bevel.driver, bevel.driven) if shaft is not None]
        yield _apart(design, bevel.name, shafts, "bevel pair not joined")
    for table in design.planetary:
        shafts = [shaft for member, shaft in table.shafts.items() if member != table.held]
        turns = " and ".join(
            f"{member}_shaft" for member in ("sun", "carrier", "ring") if member != table.held
        )
        yield _apart(design, table.name, shafts, "set not joined", turns=turns)
    for rack in design.rack:
        if rack.pinion is None:
            yield unmade("rack not joined", design, f"the {rack.name}")


def _not_joined(design: Design, gear: GearTable, shaft: str) -> Outcome:
    """A gear on a shaft that is not reached, or a loose one with one mesh only: an idler has two."""
    idle = shaft in design.turns

    def ways() -> Iterator[list[Way] | Iterator[Way]]:
        fastened, out = {"gear": {gear.name: {"loose": False}}}, _taken_out(design, gear.name)
        if idle:
            yield [Way(f"Fasten it on {gear.shaft}: loose = false", fastened), out]
            return
        yield (
            Way(
                f"Let {other.name} drive {gear.name}: add their mesh",
                {"mesh": {f"{other.name} with {gear.name}": {"driver": other.name, "driven": gear.name}}},
            )
            for other in design.gear
            if turning(design, other) in design.turns and _reach(design, other, gear)
        )
        if gear.loose:
            yield [Way(f"Fasten {gear.name} on its shaft", fastened)]
        yield [out]

    row = "not-joined, hands nothing on" if idle else "not-joined"
    return finding(row, design, gear.name, ways, on=gear.shaft, shaft=shaft, first=design.first_shaft)


def _reach(design: Design, first: GearTable, second: GearTable) -> bool:
    """Whether two gears stand as those do that mesh: within half a module of their usual distance."""
    try:
        pair = Mesh(design.gears[first.name], design.gears[second.name])
    except (KeyError, ValueError):
        return False
    return (
        abs(design.distance(first.name, second.name) - pair.centre_distance)
        < design.gears[first.name].scale / 2
        and abs(design.face_height(first.name) - design.face_height(second.name)) < first.face_width
    )


def _taken_out(design: Design, gear: str) -> Way:
    """Take a gear out of a design, with its meshes, its racks' pinion and what was measured of it."""
    edit: dict[str, Any] = {"gear": {gear: None}}
    meshes = design.meshes_of(gear)
    gone = {gear, *(pair.name for pair in meshes)}
    if meshes:
        edit["mesh"] = {pair.name: None for pair in meshes}
    readings = [reading.name for reading in design.measured if reading.part in gone]
    if readings:
        edit["measured"] = dict.fromkeys(readings)
    racks = [rack.name for rack in design.rack if rack.pinion == gear]
    if racks:
        edit["rack"] = dict.fromkeys(racks)
    return Way(f"Take {gear} out", edit)


def _apart(design: Design, name: str, shafts: list[str], row: str, **words: Any) -> Outcome:
    """Whether a bevel pair or a set is joined by its two shafts."""
    if len(shafts) < 2:
        return unmade(row, design, f"the {name}", **words)
    if all(shaft in design.turns for shaft in shafts):
        return Held(f"the {name}", "it is joined to the first shaft")
    return finding("not-joined, by its shafts", design, f"the {name}", first=design.first_shaft)


# -- rings ---------------------------------------------------------------------------------------------
def _rings(design: Design) -> Iterator[tuple[Ring, str]]:
    for number, ring in enumerate(rings(design)):
        yield ring, "the meshes" if number == 0 else f"the meshes, ring {number + 1}"


@CHECKS.row("closed rings", "Can every closed ring turn?", "odd-ring-locks", "ratios-lock", of=_rings)
def _ring(design: Design, ring: Ring, where: str) -> Outcome:
    """Round it each shaft must come back to itself with one turn, the same way round."""
    closing, locked = ring.links[0], abs(abs(ring.turns) - 1) > 1e-9
    if not locked and not ring.signed:
        return unmade("ring with a bevel pair", design, where)
    if not locked and ring.turns > 0:
        shafts = dict.fromkeys(shaft for link in ring.links for shaft in (link.driver, link.driven))
        return Held(where, f"the ring through {', '.join(shafts)} is free to turn")
    return finding(
        "ratios-lock" if locked else "odd-ring-locks",
        design,
        where,
        lambda: _opened(design, ring),
        compared=(abs(1 / closing.turns), 1 / abs(closing.turns / ring.turns)),
        unit="",
        closing=closing.name,
        driver=closing.driver,
        driven=closing.driven,
    )


def _opened(design: Design, ring: Ring) -> Iterator[Iterator[Way]]:
    """Ways to open a ring: a gear that runs loose, a gear taken out, both of a mesh, the mesh alone."""
    names = [link.name for link in ring.links if link.kind == "mesh"]
    pairs = [pair for pair in design.mesh if pair.name in names]
    gears = list(dict.fromkeys(chain.from_iterable((pair.driven, pair.driver) for pair in pairs)))
    fastened = ("set_screw", "screw_length", "drill_depth", "flat", "keyway_depth")
    loose = {"loose": True} | dict.fromkeys(fastened)
    yield chain(
        (
            Way(f"Let {gear} run loose on its shaft, without screw or key", {"gear": {gear: loose}})
            for gear in gears
            if len(design.on(design.of(gear).shaft)) > 1
        ),
        (_taken_out(design, gear) for gear in gears),
    )
    yield (_pair_out(design, pair) for pair in pairs)
    yield (Way(f"Take the mesh {pair.name} out", {"mesh": {pair.name: None}}) for pair in pairs)


def _pair_out(design: Design, pair: MeshTable) -> Way:
    """Take both gears of a mesh out."""
    outs = [_taken_out(design, gear).edit for gear in pair.gears]
    return Way(f"Take {pair.driver} and {pair.driven} out", together(*outs))
