"""How motion and load run through a design, from its first shaft to its last member.

Counter-clockwise is positive, seen from the gear side of the plate; on the second axis of a bevel pair seen
from outside, looking towards the apex.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .design import Design
    from .tables import GearTable


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


@dataclass(frozen=True)
class Ring:
    """Links that close: round them every shaft comes back to itself, and must come back with one turn.

    links: that which closes it first. turns: of the first shaft when it is come back to, for one of its own
        [-]; 1 where the ring is free to turn.
    """

    links: tuple[Link, ...]
    turns: float

    @property
    def signed(self) -> bool:
        """Whether it says which way round; the second axis of a bevel pair has no side of its own."""
        return all(link.kind != "bevel" for link in self.links)

    @property
    def free(self) -> bool:
        """Whether it can turn."""
        return math.isclose(self.turns if self.signed else abs(self.turns), 1.0, rel_tol=1e-9)


def turning(design: Design, gear: GearTable) -> str:
    """What a gear turns: its shaft, or only itself where it runs loose on a shaft that carries more."""
    alone = sum(other.shaft == gear.shaft for other in design.gear) == 1
    return f"{gear.name}, loose on {gear.shaft}" if gear.loose and not alone else gear.shaft


def links(design: Design) -> tuple[Link, ...]:
    """The links of a design in the order of the file; a set that cannot turn has none."""
    return (*_meshes(design), *_bevels(design), *_sets(design))


def _meshes(design: Design) -> Iterator[Link]:
    for pair in design.mesh:
        driver, driven = design.of(pair.driver), design.of(pair.driven)
        way = 1 if driver.internal or driven.internal else -1
        yield Link(
            "mesh",
            pair.name,
            turning(design, driver),
            turning(design, driven),
            way * driver.teeth / driven.teeth,
            pair.efficiency,
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
        if design.load is not None and design.load.shaft == shafts[driven]:
            driver, driven = driven, driver  # the load says which one is turned; the sun or the carrier else
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


def _spread(design: Design) -> Iterator[tuple[Link, str, str]]:
    """The links that reach another shaft from the first one on, each with the shaft before and after it."""
    reached = {design.first_shaft}
    waiting = list(design.links)
    while waiting:
        link = next((link for link in waiting if {link.driver, link.driven} & reached), None)
        if link is None:
            return
        waiting.remove(link)
        before, after = (link.driver, link.driven) if link.driver in reached else (link.driven, link.driver)
        if after not in reached and (link.turns or before == link.driver):
            reached.add(after)
            yield link, before, after


def turns(design: Design) -> dict[str, float]:
    """Turns of every shaft that the first one reaches, for one turn of it [-]."""
    first = design.first_shaft
    reached = {} if first is None else {first: 1.0}
    for link, before, after in _spread(design):
        reached[after] = reached[before] * (link.turns if before == link.driver else 1 / link.turns)
    return reached


def torques(design: Design) -> dict[str, float]:
    """Torque on every shaft as if it took the whole of the power, less what the links before it lose."""
    if design.load is None or design.first_shaft is None:
        return {}
    share = {design.first_shaft: 1.0}
    for link, before, after in _spread(design):
        share[after] = share[before] * link.efficiency
    return {
        shaft: design.load.torque * share[shaft] / abs(turn) for shaft, turn in design.turns.items() if turn
    }


def rings(design: Design) -> tuple[Ring, ...]:
    """The rings that the links close, one for every link that joins what others join already."""
    turned: dict[str, float] = {}
    came: dict[str, Link | None] = {}
    closing: list[Link] = []
    for start in (name for link in design.links for name in (link.driver, link.driven)):
        if start in turned:
            continue
        turned[start], came[start], waiting = 1.0, None, [start]
        while waiting:
            here = waiting.pop()
            for link in design.links:
                if here not in (link.driver, link.driven) or link in (came[here], *closing) or not link.turns:
                    continue
                other = link.driven if here == link.driver else link.driver
                if other in turned:
                    closing.append(link)
                    continue
                turned[other] = turned[here] * (link.turns if here == link.driver else 1 / link.turns)
                came[other] = link
                waiting.append(other)
    return tuple(
        Ring(
            (link, *_way_round(came, link)),
            link.turns * turned[link.driver] / turned[link.driven],
        )
        for link in closing
    )


def _way_round(came: dict[str, Link | None], closing: Link) -> list[Link]:
    """The links other than the closing one between its two shafts."""

    def back(here: str) -> list[Link]:
        way = []
        while (link := came[here]) is not None:
            way.append(link)
            here = link.driver if here == link.driven else link.driven
        return way

    from_driver, from_driven = back(closing.driver), back(closing.driven)
    return [link for link in from_driver if link not in from_driven] + [
        link for link in from_driven if link not in from_driver
    ]
