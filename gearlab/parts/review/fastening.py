"""How gears are held on their shafts: by a screw on a round shaft or a flat, by a key or a press fit.

Each strength is an estimate for teaching.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from gearlab.theory.units import convert

from ..design import Design, GearTable
from ..published.fastening import SetScrew
from .advice import Advised, Way
from .finding import Finding, Held, Outcome, Unmade, both, said, up
from .ledger import Check
from .making import (
    SCREWS,
    converted,
    diameters,
    held,
    hub_edit,
    hub_fields,
    hub_widths,
    key_fields,
    no_load,
    on_a_pin,
    peak,
    pressed,
    raised,
    screw_of,
    set_screw,
    thicker,
    torque_on,
    words,
    works,
)

SAFE_HOLD = 3.0  # times the torque that a set screw on a round shaft should hold: holding forces scatter
SAFE_FLAT = 1.5  # times the torque that one on a flat should hold: the flat has to push it out first
MORE_SCREWS = {"round": 0.3, "flat": 1.0}  # what each further screw adds, as a share of the first
POINT = 0.5  # cup point of a set screw, in thread diameters (DIN 916, from memory)
FLAT_POINT = 0.65  # flat point, in thread diameters (DIN 913, from memory)
PROOF = 580.0  # stress that a hardened screw bears [MPa]: class 8.8, ISO 898-1 (from memory)
DEEPEST_FLAT = 0.2  # of the shaft's diameter; shafts with flats are sold with a tenth to a sixth
LEAST_D = 0.03  # of the shaft's diameter, for a flat that fits into a bore of its own shape
_ESTIMATE = "an estimate for teaching"


# -- none ----------------------------------------------------------------------------------------------
def fastened(design: Design) -> Iterator[Outcome]:
    """Whether each gear that hands on a torque is fastened."""
    for table in design.gear:
        if not works(design, table):
            continue
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
            yield Advised(
                "no-fastening",
                "will not work",
                table.name,
                "nothing fastens it to its shaft.",
                "A key, a flat with a set screw, or a press fit.",
                "The shaft turns in the gear.",
                design=design,
                ways=_ways_to_fasten(design, table),
                otherwise="Add a set screw on a flat, or a key.",
            )
            continue
        yield Held(table.name, how)


def _ways_to_fasten(design: Design, table: GearTable):
    return lambda: [
        _by_screw(design, table) if table.hub_diameter is not None else _by_screw_and_hub(design, table),
        by_key(design, table),
        [
            Way(
                'Press it on, fit = "press"',
                {"gear": {table.name: {"fit": "press", "bore": _nominal(design, table)}}},
            )
        ],
    ]


def _nominal(design: Design, table: GearTable) -> float:
    return design.shaft_of(table.name).diameter


def _flat_for(design: Design, table: GearTable, screw: SetScrew) -> float:
    """A flat as wide as the point of a screw, or a twentieth of the shaft if that is more [unit]."""
    radius = _nominal(design, table) / 2
    half = min(FLAT_POINT * screw.diameter / 2, 0.95 * radius)
    depth = radius - math.sqrt(radius**2 - half**2)
    steps = {"mm": 0.1, "in": 0.005}
    return up(max(depth, 0.1 * radius), design.unit, steps)


def _suited(design: Design, table: GearTable) -> list[SetScrew]:
    """Screws for a bore, from about half as thick on down, and then the thicker ones."""
    screws = [converted(set_screw(size), design.unit) for size in SCREWS[design.unit]]
    usual = [screw for screw in reversed(screws) if screw.diameter <= 0.52 * table.bore]
    return [*usual, *(screw for screw in screws if screw not in usual)]


def _by_screw(design: Design, table: GearTable) -> Iterator[Way]:
    for screw in _suited(design, table):
        flat = max(table.flat, _flat_for(design, table, screw))
        for count in (1, 2):
            if count < table.screws:
                continue
            yield Way(
                f"Fasten it by {'a set screw' if count == 1 else 'two set screws'} {screw.size} on a flat"
                f" {said(flat, design.unit)} deep",
                hub_edit(
                    design,
                    table,
                    set_screw=screw.size,
                    flat=flat,
                    keyway_depth=None,
                    keyway_width=None,
                    **({"screws": 2} if count == 2 else {}),
                )
                if table.keyway_depth
                else hub_edit(
                    design, table, set_screw=screw.size, flat=flat, **({"screws": 2} if count == 2 else {})
                ),
            )


def _by_screw_and_hub(design: Design, table: GearTable) -> Iterator[Way]:
    unit = design.unit
    for screw in _suited(design, table)[:2]:
        long = up(2 * screw.diameter, unit)
        for width in hub_widths(design, table)[:2]:
            for side in ("plate", "away"):
                fields = {
                    "hub_diameter": width,
                    "hub_projection": long,
                    "hub_side": side,
                    "set_screw": screw.size,
                    "flat": _flat_for(design, table, screw),
                }
                grown = table.model_copy(update={"hub_side": side})
                for edit in raised(design, grown, long, fields):
                    yield Way(
                        f"Give it a hub {said(width, unit)} wide and {said(long, unit)} long with a set screw"
                        f" {screw.size} on a flat, gaps and shafts to suit",
                        edit,
                    )


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
                yield Way(
                    f"{says}, in a hub of {said(width, design.unit)}",
                    {"gear": {table.name: hub_fields(design, table, hub_diameter=width, **fields)}},
                )


def _other_shaft(design: Design, table: GearTable) -> Iterator[Way]:
    """A shaft as thick as the bore where that was meant, or a thicker one."""
    shaft = design.shaft_of(table.name)
    sizes = [table.bore] if table.bore > shaft.diameter + 1e-6 else []
    for size in (*sizes, *diameters(design, 1.1 * shaft.diameter)):
        yield Way(
            f"Take a shaft of {said(size, design.unit)}, with hole, bores and hubs to suit",
            thicker(design, shaft, size),
        )


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


def screws_hold(design: Design) -> Iterator[Outcome]:
    """Whether set screws that take the torque hold it."""
    for table in held(design):
        if table.set_screw is None or table.keyway_depth > 0 or pressed(design, table):
            continue
        screw, torque = screw_of(design, table), torque_on(design, table.shaft)
        if screw is None:
            continue  # its size is not known: said elsewhere
        if torque is None:
            yield no_load(design, table.name, "how firmly its set screw holds")
            continue
        try:
            least = holds(design, table, screw)
        except ValueError as error:
            yield Unmade(
                table.name, "how firmly its set screw holds", str(error), "take a screw of the table"
            )
            continue
        on = "flat" if table.flat > 0 else "round"
        safe = SAFE_FLAT if on == "flat" else SAFE_HOLD
        stall = torque * (peak(design) or 0.0)
        needed = max(safe * torque, stall)
        unit = words(design)[0]
        if least < needed * (1 - 1e-9):
            yield _slips(design, table, least, torque, stall if stall > safe * torque else None)
        else:
            yield Held(table.name, f"what its set screw holds on the {on} shaft", least, needed, unit)


def _slips(design: Design, table: GearTable, least: float, torque: float, stall: float | None) -> Finding:
    unit, flat = words(design)[0], table.flat > 0
    safe = SAFE_FLAT if flat else SAFE_HOLD
    carries = f"the shaft carries {said(torque, unit)}" + (f", {said(stall, unit)} at stall" if stall else "")
    count = {1: "one", 2: "two", 3: "three", 4: "four"}[table.screws]
    return Advised(
        "slips-on-shaft",
        "will not work"
        if least < torque
        else "will trouble"
        if least < safe * torque
        else "worth knowing",  # it slips only at a stall, and the teeth may be glad of it
        table.name,
        f"{count} {table.set_screw} on {'its flat' if flat else 'a round shaft'}"
        f" hold{'s' if count == 'one' else ''} about {said(least, unit)}, {carries}.",
        f"It should hold {said(safe)} times the torque, and that of a stall: holding forces scatter widely.",
        "The gear slips on its shaft under load.",
        "holding forces: Shigley, table 7-4 (from memory); flat: statics, proof stress of ISO 898-1; "
        + _ESTIMATE,
        design=design,
        ways=lambda: [_by_screw(design, table), by_key(design, table), _other_shaft(design, table)],
        otherwise=(
            "Use a key, or a thicker shaft with larger screws; or let a clutch slip first."
            if flat
            else "File a flat on the shaft, or use a key."
        ),
    )


# -- flats ---------------------------------------------------------------------------------------------
def flats(design: Design) -> Iterator[Outcome]:
    """Whether each flat is wide enough for what presses on it, and leaves enough of the shaft."""
    for table in design.gear:
        if table.flat <= 0:
            continue
        diameter, unit = design.shaft_of(table.name).diameter, design.unit
        screw = screw_of(design, table) if table.set_screw is not None else None
        if table.flat > DEEPEST_FLAT * diameter + 1e-9:
            yield _deep_flat(design, table, diameter)
            continue
        if screw is None:
            width, least, what = table.flat, LEAST_D * diameter, "depth of its flat"
        else:
            width, least, what = flat_width(diameter, table.flat), POINT * screw.diameter, "width of its flat"
        if width < least - 1e-9:
            yield _shallow_flat(design, table, width, least, screw)
        else:
            yield Held(table.name, what, width, least, unit)


def _deep_flat(design: Design, table: GearTable, diameter: float) -> Finding:
    flat, most = both(table.flat, DEEPEST_FLAT * diameter, design.unit)
    return Advised(
        "flat-too-deep",
        "will not work" if table.flat > 0.35 * diameter else "will trouble",
        table.name,
        f"the flat is {flat} deep on a shaft of {said(diameter, design.unit)}.",
        f"At most a fifth of the shaft, {most}; a tenth is usual.",
        "What is left of the shaft twists and breaks, and the bore does not hold it on its centre.",
        "common practice (shafts with flats as they are sold)",
        design=design,
        ways=lambda: [_flat_depths(design, table), _other_shaft(design, table)],
        otherwise="File a shallower flat.",
    )


def _shallow_flat(
    design: Design, table: GearTable, width: float, least: float, screw: SetScrew | None
) -> Finding:
    wide, wanted = both(width, least, design.unit)
    diameter = design.shaft_of(table.name).diameter
    deep = said(table.flat, design.unit) if table.flat >= 1e-4 else f"{table.flat:g} {design.unit}"
    return Advised(
        "flat-too-shallow",
        "will trouble",
        table.name,
        f"a flat {deep} deep on a shaft of {said(diameter, design.unit)} is {wide} wide."
        if screw is not None
        else f"the flat is only {deep} deep on a shaft of {said(diameter, design.unit)}.",
        f"The point of the screw, {wanted}, has to sit on it."
        if screw is not None
        else f"At least {wanted}.",
        "It holds no better than a round shaft: the gear slips.",
        "geometry; cup points: DIN 916 (from memory)",
        design=design,
        ways=lambda: [_flat_depths(design, table)],
        otherwise="File a deeper flat.",
    )


def _flat_depths(design: Design, table: GearTable) -> Iterator[Way]:
    unit, diameter = design.unit, design.shaft_of(table.name).diameter
    screw = screw_of(design, table) if table.set_screw is not None else None
    steps = {"mm": 0.1, "in": 0.005}
    depths = [0.1 * diameter, 0.06 * diameter, 0.15 * diameter, DEEPEST_FLAT * diameter]
    if screw is not None:
        depths.insert(0, _flat_for(design, table, screw))
    for depth in dict.fromkeys(up(depth, unit, steps) for depth in depths):
        if depth <= DEEPEST_FLAT * diameter + 1e-9:
            yield Way(f"File the flat {said(depth, unit)} deep", hub_edit(design, table, flat=depth))


CHECKS = (
    Check("fastening", "Is each gear fastened to its shaft?", ("no-fastening",), fastened),
    Check("hold of set screws", "Do the set screws hold the torque?", ("slips-on-shaft",), screws_hold),
    Check("flats", "Is each flat deep and wide enough?", ("flat-too-deep", "flat-too-shallow"), flats),
)
