"""How motion and load run through a design, from its first shaft to its last member.

Counter-clockwise is positive, seen from the gear side of the plate; on the second axis of a bevel pair seen
from outside, looking towards the apex.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .design import Design


@dataclass(frozen=True)
class Link:
    """What joins two shafts: turns of the driven one for one of the driver [-], the share of power it hands
    on.

    kind: "mesh", "bevel" or "planetary"; name: of the member or the mesh.
    """

    kind: str
    name: str
    driver: str
    driven: str
    turns: float
    efficiency: float = 1.0


def links(design: Design) -> tuple[Link, ...]:
    """The links of a design in the order of the file; a set that cannot turn has none."""
    return (*_meshes(design), *_bevels(design), *_sets(design))


def _meshes(design: Design) -> Iterator[Link]:
    for pair in design.mesh:
        driver, driven = design.of(pair.driver), design.of(pair.driven)
        way = 1 if driver.internal or driven.internal else -1
        yield Link(
            "mesh", pair.name, driver.shaft, driven.shaft, way * driver.teeth / driven.teeth, pair.efficiency
        )


def _bevels(design: Design) -> Iterator[Link]:
    for bevel in design.bevels:
        if bevel.driver is not None and bevel.driven is not None:
            first, second = bevel.teeth
            yield Link("bevel", bevel.name, bevel.driver, bevel.driven, -first / second, bevel.efficiency)


def _sets(design: Design) -> Iterator[Link]:
    for table in design.planetary:
        shafts = {member: shaft for member, shaft in table.shafts.items() if member != table.held}
        if len(shafts) != 2:
            continue
        driver, driven = shafts
        try:
            turns = 1 / design.set_of(table).ratio(driver, driven)
        except (ValueError, ZeroDivisionError):
            continue  # it cannot turn: the review says why
        yield Link("planetary", table.name, shafts[driver], shafts[driven], turns, table.efficiency)


def first_shaft(design: Design) -> str | None:
    """The shaft that drives: that of the load, or the driver of the first link."""
    if design.load is not None and design.load.shaft is not None:
        return design.load.shaft
    if design.links:
        drivers, driven = [link.driver for link in design.links], {link.driven for link in design.links}
        if design.mesh:
            return drivers[0]
        return next((shaft for shaft in drivers if shaft not in driven), drivers[0])
    return next((design.of(rack.pinion).shaft for rack in design.rack if rack.pinion is not None), None)


def last_shaft(design: Design) -> str | None:
    """The shaft driven last: of the last link from which none goes on; the last mesh's where they all do."""
    if not design.links:
        return None
    if len({link.kind for link in design.links}) == 1:
        return design.links[-1].driven
    drivers = {link.driver for link in design.links}
    return next((link.driven for link in reversed(design.links) if link.driven not in drivers), None)


def turns(design: Design) -> dict[str, float]:
    """Turns of every shaft that the first one reaches, for one turn of it [-]."""
    first = design.first_shaft
    reached = {} if first is None else {first: 1.0}
    for _ in design.shaft:
        for link in design.links:
            if link.driver in reached and link.driven not in reached:
                reached[link.driven] = reached[link.driver] * link.turns
            elif link.driven in reached and link.driver not in reached and link.turns:
                reached[link.driver] = reached[link.driven] / link.turns
    return reached


def torques(design: Design) -> dict[str, float]:
    """Torque on every shaft as if it took the whole of the power, less what the links before it lose."""
    if design.load is None or design.first_shaft is None:
        return {}
    share = {design.first_shaft: 1.0}
    for _ in design.shaft:
        for link in design.links:
            if link.driver in share and link.driven not in share:
                share[link.driven] = share[link.driver] * link.efficiency
            elif link.driven in share and link.driver not in share:
                share[link.driver] = share[link.driven] * link.efficiency
    return {
        shaft: design.load.torque * share.get(shaft, 1.0) / abs(turn)
        for shaft, turn in design.turns.items()
        if turn
    }
