"""How gears are held on their shafts: by a screw on a round shaft or a flat, by a key or a press fit.

Each strength is an estimate for teaching.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from gearlab.theory.units import convert

from ..design import Design, GearTable
from ..design.beginning import SCREWS
from ..published.fastening import SetScrew, set_screw
from .advice import Way
from .finding import Held, Outcome, said, up
from .ledger import Checks
from .making import (
    converted,
    diameters,
    given_hub,
    held,
    hub_edit,
    hub_fields,
    hub_widths,
    key_fields,
    no_load,
    on_a_pin,
    peak,
    pressed,
    screw_of,
    thicker,
    torque_on,
    works,
)
from .sentences import finding, unit_of, unmade

SAFE_HOLD = 3.0  # times the torque that a set screw on a round shaft should hold: holding forces scatter
SAFE_FLAT = 1.5  # times the torque that one on a flat should hold: the flat has to push it out first
MORE_SCREWS = {"round": 0.3, "flat": 1.0}  # what each further screw adds, as a share of the first
POINT = 0.5  # cup point of a set screw, in thread diameters (DIN 916, from memory)
FLAT_POINT = 0.65  # flat point, in thread diameters (DIN 913, from memory)
PROOF = 580.0  # stress that a hardened screw bears [MPa]: class 8.8, ISO 898-1 (from memory)
DEEPEST_FLAT = 0.2  # of the shaft's diameter; shafts with flats are sold with a tenth to a sixth
LEAST_D = 0.03  # of the shaft's diameter, for a flat that fits into a bore of its own shape
_FLATS = {"mm": 0.1, "in": 0.005}  # steps in which a flat is filed [unit]
CHECKS = Checks()


# -- none ----------------------------------------------------------------------------------------------
@CHECKS.row("fastening", "Is each gear fastened to its shaft?", "no-fastening", of="gear")
def _fastened(design: Design, table: GearTable) -> Outcome | None:
    if not works(design, table):
        return None
    if on_a_pin(design, table):
        how = "it runs on its shaft and hands its torque on"
    elif table.keyway_depth > 0:
        how = "a key holds it"
    elif table.set_screw is not None:
        how = f"a set screw {'on a flat ' if table.flat > 0 else ''}holds it"
    elif table.flat > 0:
        how = "a flat holds it"
    elif pressed(design, table):
        how = "a press fit holds it"
    else:
        return finding("no-fastening", design, table.name, lambda: _fastenings(design, table))
    return Held(table.name, how)


def _fastenings(design: Design, table: GearTable) -> Iterator[Iterator[Way] | list[Way]]:
    yield _by_screw(design, table) if table.hub_diameter is not None else _by_screw_and_hub(design, table)
    yield by_key(design, table)
    fields = {"fit": "press", "bore": design.shaft_of(table.name).diameter}
    yield [Way('Press it on, fit = "press"', {"gear": {table.name: fields}})]


def _flat_for(design: Design, table: GearTable, screw: SetScrew) -> float:
    """A flat as wide as the point of a screw, or a twentieth of the shaft if that is more [unit]."""
    radius = design.shaft_of(table.name).diameter / 2
    half = min(FLAT_POINT * screw.diameter / 2, 0.95 * radius)
    depth = radius - math.sqrt(radius**2 - half**2)
    return up(max(depth, 0.1 * radius), design.unit, _FLATS)


def _suited(design: Design, table: GearTable) -> list[SetScrew]:
    """Screws for a bore, from about half as thick on down, and then the thicker ones."""
    screws = [converted(set_screw(size), design.unit) for size in SCREWS[design.unit]]
    usual = [screw for screw in reversed(screws) if screw.diameter <= 0.52 * table.bore]
    return [*usual, *(screw for screw in screws if screw not in usual)]


def _by_screw(design: Design, table: GearTable) -> Iterator[Way]:
    for screw in _suited(design, table):
        flat = max(table.flat, _flat_for(design, table, screw))
        on = f"{screw.size} on a flat {said(flat, design.unit)} deep"
        fields: dict[str, Any] = {"set_screw": screw.size, "flat": flat}
        if table.keyway_depth:
            fields |= {"keyway_depth": None, "keyway_width": None}
        if table.screws <= 1:
            yield Way(f"Fasten it by a set screw {on}", hub_edit(design, table, **fields))
        if table.screws <= 2:
            yield Way(f"Fasten it by two set screws {on}", hub_edit(design, table, **fields, screws=2))


def _by_screw_and_hub(design: Design, table: GearTable) -> Iterator[Way]:
    for screw in _suited(design, table)[:2]:
        fields = {"set_screw": screw.size, "flat": _flat_for(design, table, screw)}
        with_screw = f" with a set screw {screw.size} on a flat"
        yield from given_hub(design, table, screw, 2, with_screw, **fields)


def by_key(design: Design, table: GearTable) -> Iterator[Way]:
    keyed = key_fields(design, table)
    if keyed is None:
        return
    fields = keyed | ({"flat": None} if table.flat else {})
    wide, deep = (said(keyed[word], design.unit) for word in ("keyway_width", "keyway_depth"))
    says = f"Fasten it by the standard's key, its keyway {wide} wide and {deep} deep in the hub"
    yield Way(says, {"gear": {table.name: fields}})
    if table.hub_diameter is not None:
        for width in hub_widths(design, table):
            if width > table.hub_diameter:
                edit = {"gear": {table.name: hub_fields(design, table, hub_diameter=width, **fields)}}
                yield Way(f"{says}, in a hub of {said(width, design.unit)}", edit)


def _other_shaft(design: Design, table: GearTable) -> Iterator[Way]:
    """A shaft as thick as the bore where that was meant, or a thicker one."""
    shaft = design.shaft_of(table.name)
    sizes = [table.bore] if table.bore > shaft.diameter + 1e-6 else []
    for size in (*sizes, *diameters(design, 1.1 * shaft.diameter)):
        says = f"Take a shaft of {said(size, design.unit)}, with hole, bores and hubs to suit"
        yield Way(says, thicker(design, shaft, size))


# -- screw ---------------------------------------------------------------------------------------------
def holds(design: Design, table: GearTable, screw: SetScrew) -> float:
    """The least torque that the set screws of a gear may be expected to hold [N m, or lbf in].

    On a round shaft by their grip (table of holding forces). A flat has to push a screw outwards before the
    shaft can turn under it: it bears on the rim of the point, with up to what the hardened thread bears.
    """
    diameter = design.shaft_of(table.name).diameter
    if table.flat <= 0:
        return screw.holding_torque(diameter)[0] * (1 + MORE_SCREWS["round"] * (table.screws - 1))
    unit = design.unit
    lever = max(0.0, diameter / 2 - table.flat)
    rim = min(FLAT_POINT * screw.diameter / 2, flat_width(diameter, table.flat) / 2)
    area = math.pi / 4 * (screw.diameter - 0.9382 * screw.pitch) ** 2  # tensile stress area, ISO 898-1
    proof = area * (PROOF if unit == "mm" else convert(PROOF, "MPa", "psi"))
    torque = proof * rim + screw.holding_force()[0] * lever
    torque = convert(torque, "N*mm", "N*m") if unit == "mm" else torque
    return torque * (1 + MORE_SCREWS["flat"] * (table.screws - 1))


def flat_width(diameter: float, depth: float) -> float:
    """Width of a flat of some depth on a round shaft [unit of both]; Pythagoras.

    >>> flat_width(10.0, 1.0)
    6.0
    """
    return 2 * math.sqrt(max(0.0, depth * (diameter - depth)))


@CHECKS.row("hold of set screws", "Do the set screws hold the torque?", "slips-on-shaft", of=held)
def _screws_hold(design: Design, table: GearTable) -> Outcome | None:
    if table.set_screw is None or table.keyway_depth > 0 or pressed(design, table):
        return None
    screw, torque = screw_of(design, table), torque_on(design, table.shaft)
    if screw is None:
        return None  # its size is not known: said elsewhere
    if torque is None:
        return no_load(design, table.name, "how firmly its set screw holds")
    try:
        least = holds(design, table, screw)
    except ValueError as error:
        return unmade("holding torque", design, table.name, why=error)
    flat, unit = table.flat > 0, unit_of(design, "torque")
    safe = SAFE_FLAT if flat else SAFE_HOLD
    stall = torque * (peak(design) or 0.0)
    needed = max(safe * torque, stall)
    if least >= needed * (1 - 1e-9):
        what = f"what its set screw holds on the {'flat' if flat else 'round'} shaft"
        return Held(table.name, what, least, needed, unit)
    # where it slips at a stall only, the teeth may be glad of it
    how = "" if least < torque else ", not safely" if least < safe * torque else ", at stall"
    return finding(
        f"slips-on-shaft{how}",
        design,
        table.name,
        lambda: [_by_screw(design, table), by_key(design, table), _other_shaft(design, table)],
        screws=f"{('one', 'two', 'three', 'four')[table.screws - 1]} {table.set_screw}",
        on="its flat" if flat else "a round shaft",
        s="s" if table.screws == 1 else "",
        held=said(least, unit),
        carried=said(torque, unit) + (f", {said(stall, unit)} at stall" if stall > safe * torque else ""),
        safe=said(safe),
        change="Use a key, or a thicker shaft with larger screws; or let a clutch slip first."
        if flat
        else "File a flat on the shaft, or use a key.",
    )


# -- flats ---------------------------------------------------------------------------------------------
@CHECKS.row("flats", "Is each flat deep and wide enough?", "flat-too-deep", "flat-too-shallow", of="gear")
def _flat(design: Design, table: GearTable) -> Outcome | None:
    """Wide enough for what presses on it, and enough of the shaft left."""
    if table.flat <= 0:
        return None
    diameter, unit = design.shaft_of(table.name).diameter, design.unit
    screw = screw_of(design, table) if table.set_screw is not None else None
    if table.flat > DEEPEST_FLAT * diameter + 1e-9:
        return finding(
            "flat-too-deep, by far" if table.flat > 0.35 * diameter else "flat-too-deep",
            design,
            table.name,
            lambda: [_flat_depths(design, table, screw), _other_shaft(design, table)],
            compared=(table.flat, DEEPEST_FLAT * diameter),
            shaft=diameter,
        )
    if screw is None:
        size, least, what = table.flat, LEAST_D * diameter, "depth of its flat"
    else:
        size, least, what = flat_width(diameter, table.flat), POINT * screw.diameter, "width of its flat"
    if size >= least - 1e-9:
        return Held(table.name, what, size, least, unit)
    return finding(
        "flat-too-shallow" if screw is not None else "flat-too-shallow, without a screw",
        design,
        table.name,
        lambda: [_flat_depths(design, table, screw)],
        compared=(size, least),
        deep=table.flat if table.flat >= 1e-4 else f"{table.flat:g} {unit}",
        shaft=diameter,
    )


def _flat_depths(design: Design, table: GearTable, screw: SetScrew | None) -> Iterator[Way]:
    unit, diameter = design.unit, design.shaft_of(table.name).diameter
    depths = [0.1 * diameter, 0.06 * diameter, 0.15 * diameter, DEEPEST_FLAT * diameter]
    if screw is not None:
        depths.insert(0, _flat_for(design, table, screw))
    for depth in dict.fromkeys(up(depth, unit, _FLATS) for depth in depths):
        if depth <= DEEPEST_FLAT * diameter + 1e-9:
            yield Way(f"File the flat {said(depth, unit)} deep", hub_edit(design, table, flat=depth))
