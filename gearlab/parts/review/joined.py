"""What joins the members of a drive: whether each is driven, and whether closed rings can turn."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from typing import Any

from ..design import Design, GearTable, MeshTable
from ..design.drive import Ring, rings, turning
from ..mesh import Mesh
from .advice import Advised, Way, together
from .finding import Finding, Held, Outcome, Unmade, both
from .ledger import Check

_ARITHMETIC = "arithmetic of the meshes"


def _has_drive(design: Design) -> bool:
    return bool(design.links) or any(rack.pinion is not None for rack in design.rack)


# -- what is joined ------------------------------------------------------------------------------------
def _joined(design: Design) -> Iterator[Outcome]:
    """Whether every member is joined to the first shaft."""
    if not _has_drive(design):
        return
    for gear in design.gear:
        shaft = turning(design, gear)
        meets = [pair for pair in design.mesh if gear.name in (pair.driver, pair.driven)]
        if gear.loose and shaft == gear.shaft and len(meets) == 1 and shaft in design.turns:
            yield _hands_nothing(design, gear)
        elif shaft in design.turns:
            yield Held(gear.name, "it is joined to the first shaft")
        else:
            yield _not_joined(design, gear, shaft)
    yield from _members_joined(design)


def _hands_nothing(design: Design, gear: GearTable) -> Finding:
    """A gear that runs loose and has one mesh only: an idler has two."""
    return Advised(
        "not-joined",
        "will trouble",
        gear.name,
        f"it runs loose on {gear.shaft}, and meshes with one gear only.",
        "A gear that is loose hands its motion on by a second mesh, as an idler does.",
        "It turns, and moves nothing.",
        _ARITHMETIC,
        design=design,
        ways=lambda: [
            [
                Way(f"Fasten it on {gear.shaft}: loose = false", {"gear": {gear.name: {"loose": False}}}),
                _taken_out(design, gear.name),
            ]
        ],
        otherwise=f"Fasten it on {gear.shaft}, or let it mesh with a second gear.",
    )


def _not_joined(design: Design, gear: GearTable, shaft: str) -> Finding:
    def ways() -> Iterator[Iterator[Way]]:
        yield (
            Way(
                f"Let {other.name} drive {gear.name}: add their mesh",
                {"mesh": {f"{other.name} with {gear.name}": {"driver": other.name, "driven": gear.name}}},
            )
            for other in design.gear
            if turning(design, other) in design.turns and _reach(design, other, gear)
        )
        if gear.loose:
            yield iter([Way(f"Fasten {gear.name} on its shaft", {"gear": {gear.name: {"loose": False}}})])
        yield iter([_taken_out(design, gear.name)])

    return Advised(
        "not-joined",
        "will trouble",
        gear.name,
        f"nothing joins {shaft} to {design.first_shaft}, the first shaft.",
        "Every member of a drive must be driven.",
        "It stands still while the drive turns.",
        _ARITHMETIC,
        design=design,
        ways=ways,
        otherwise="Say which gear drives it, or take it out.",
    )


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
    meshes = [pair for pair in design.mesh if gear in (pair.driver, pair.driven)]
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


def _members_joined(design: Design) -> Iterator[Outcome]:
    for bevel in design.bevels:
        if bevel.driver is None or bevel.driven is None:
            yield Unmade(
                f"the {bevel.name}",
                "whether it is joined to the drive",
                "the file does not say between which shafts it stands",
                "give driver and driven, the names of its two shafts",
            )
        elif bevel.driver in design.turns and bevel.driven in design.turns:
            yield Held(f"the {bevel.name}", "it is joined to the first shaft")
        else:
            yield _apart(design, f"the {bevel.name}")
    for table in design.planetary:
        shafts = [shaft for member, shaft in table.shafts.items() if member != table.held]
        if len(shafts) < 2:
            yield Unmade(
                f"the {table.name}",
                "whether it is joined to the drive",
                "the file does not say on which shafts its members turn",
                f"give the shafts of the two that turn: {_turning_members(table.held)}",
            )
        elif all(shaft in design.turns for shaft in shafts):
            yield Held(f"the {table.name}", "it is joined to the first shaft")
        else:
            yield _apart(design, f"the {table.name}")
    for rack in design.rack:
        if rack.pinion is None:
            yield Unmade(
                f"the {rack.name}",
                "whether it is joined to the drive",
                "the file does not say which gear moves it",
                'give pinion = "...", the name of that gear',
            )


def _turning_members(held: str) -> str:
    return " and ".join(f"{member}_shaft" for member in ("sun", "carrier", "ring") if member != held)


def _apart(design: Design, where: str) -> Finding:
    decision = f"Name shafts that the first one, {design.first_shaft}, reaches, or take it out."
    return Finding(
        "not-joined",
        "will trouble",
        where,
        f"its shafts are not joined to {design.first_shaft}, the first one.",
        "Every member of a drive must be driven.",
        "It stands still while the drive turns.",
        decision,
        _ARITHMETIC,
        decision=decision,
    )


# -- rings ---------------------------------------------------------------------------------------------
def _rings(design: Design) -> Iterator[Outcome]:
    """Closed rings: round them each shaft must come back to itself with one turn, the same way round."""
    for number, ring in enumerate(rings(design)):
        where = "the meshes" if number == 0 else f"the meshes, ring {number + 1}"
        size = abs(ring.turns)
        if abs(size - 1) > 1e-9:
            yield _locked(design, ring, where)
        elif not ring.signed:
            yield Unmade(
                where,
                "which way round the ring turns",
                "the second axis of a bevel pair has no side of its own",
                "look which way each shaft of the ring turns",
            )
        elif ring.turns < 0:
            yield _odd(design, ring, where)
        else:
            yield Held(where, f"the ring through {', '.join(_shafts(ring))} is free to turn")


def _shafts(ring: Ring) -> list[str]:
    return list(dict.fromkeys(shaft for link in ring.links for shaft in (link.driver, link.driven)))


def _odd(design: Design, ring: Ring, where: str) -> Finding:
    closing = ring.links[0]
    return Advised(
        "odd-ring-locks",
        "will not work",
        where,
        f"shafts {closing.driver} and {closing.driven} close a ring with an odd number of gears.",
        "A ring of external gears needs an even number.",
        "Each mesh reverses the direction: the last gear would have to turn against the first. The ring"
        " locks.",
        _ARITHMETIC,
        design=design,
        ways=lambda: _opened(design, ring),
        otherwise="Open the ring, or put another gear in.",
    )


def _locked(design: Design, ring: Ring, where: str) -> Finding:
    closing = ring.links[0]
    others = abs(closing.turns / ring.turns)
    ratios = both(abs(1 / closing.turns), 1 / others)
    return Advised(
        "ratios-lock",
        "will not work",
        where,
        f"{closing.name} joins {closing.driver} and {closing.driven} by {ratios[0]} to 1, what else joins"
        f" them by {ratios[1]} to 1.",
        "Two ways between the same two shafts must have one ratio.",
        "Neither shaft can turn: the teeth of one way hold those of the other.",
        _ARITHMETIC,
        design=design,
        ways=lambda: _opened(design, ring),
        otherwise="Take one of the two ways out, or let one of its gears run loose.",
    )


def _opened(design: Design, ring: Ring) -> Iterator[Iterator[Way]]:
    """Ways to open a ring: a gear that runs loose, a gear taken out, both of a mesh, the mesh alone."""
    names = [link.name for link in ring.links if link.kind == "mesh"]
    pairs = [pair for pair in design.mesh if pair.name in names]
    gears = list(dict.fromkeys(chain.from_iterable((pair.driven, pair.driver) for pair in pairs)))
    yield chain(
        (
            Way(
                f"Let {gear} run loose on its shaft, without screw or key",
                {
                    "gear": {
                        gear: {
                            "loose": True,
                            "set_screw": None,
                            "screw_length": None,
                            "drill_depth": None,
                            "flat": None,
                            "keyway_depth": None,
                        }
                    }
                },
            )
            for gear in gears
            if len(design.on(design.of(gear).shaft)) > 1
        ),
        (_taken_out(design, gear) for gear in gears),
    )
    yield (_pair_out(design, pair) for pair in pairs)
    yield (Way(f"Take the mesh {pair.name} out", {"mesh": {pair.name: None}}) for pair in pairs)


def _pair_out(design: Design, pair: MeshTable) -> Way:
    """Take both gears of a mesh out."""
    outs = [_taken_out(design, gear).edit for gear in (pair.driver, pair.driven)]
    return Way(f"Take {pair.driver} and {pair.driven} out", together(*outs))


# -- which way meshes are written -------------------------------------------------------------------------
def _away_from_first(design: Design) -> dict[str, int]:
    """How many meshes lie between the first shaft and each that it reaches by meshes."""
    away = {design.first_shaft or "": 0}
    for shaft in (reached := [design.first_shaft or ""]):
        for pair in design.mesh:
            ends = [design.of(name).shaft for name in (pair.driver, pair.driven)]
            for other in ends if shaft in ends else ():
                if other not in away:
                    away[other] = away[shaft] + 1
                    reached.append(other)
    return away


def _ways_round(design: Design) -> Iterator[Outcome]:
    """Whether the driver of each mesh is the one that the first shaft reaches first."""
    if not design.mesh or len(design.links) != len(design.mesh) or any(table.loose for table in design.gear):
        return
    away = _away_from_first(design)
    for pair in design.mesh:
        driver, driven = (away.get(design.of(name).shaft) for name in (pair.driver, pair.driven))
        if driver is None or driven is None or driver <= driven:
            yield Held(pair.name, "it is driven from the first shaft's side")
        else:
            yield _turned_round(design, pair)


def _turned_round(design: Design, pair: MeshTable) -> Finding:
    turned = {"mesh": {pair.name: {"driver": pair.driven, "driven": pair.driver}}}
    wanted = design.design.ratio is not None or design.design.direction is not None
    return Advised(
        "mesh-turned-round",
        "will trouble" if wanted else "worth knowing",
        pair.name,
        f"{pair.driver} is named as the driver, but {pair.driven} is nearer to the first shaft,"
        f" {design.first_shaft}.",
        "The motion goes from the first shaft on: of two gears the one that it reaches first is the driver.",
        "Ratio, direction and load are told of another last shaft than the one that is meant.",
        _ARITHMETIC,
        design=design,
        ways=lambda: [[Way(f"Let {pair.driven} drive {pair.driver}", turned)]],
        otherwise=f"Let {pair.driven} drive {pair.driver}, or name the first shaft under [load].",
    )


CHECKS = (
    Check("ways of meshes", "Is each mesh driven from its driver?", ("mesh-turned-round",), _ways_round),
    Check("joined members", "Is every member joined to the drive?", ("not-joined",), _joined),
    Check("closed rings", "Can every closed ring turn?", ("odd-ring-locks", "ratios-lock"), _rings),
)
