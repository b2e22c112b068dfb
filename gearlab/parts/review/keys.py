"""Keys: whether their keyways are those of the standard, and whether they bear the torque.

Each strength is an estimate for teaching.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..design import Design, GearTable
from .advice import Way, together
from .fastening import by_key
from .finding import Held, Outcome, said, up
from .ledger import Checks
from .making import diameters, held, level, no_load, peak, raised, standard_key, thicker, torque_on
from .moves import told
from .sentences import finding, unit_of, unmade

#: How far a keyway may be from the standard's, as a share of its depth and width.
KEYWAY_DEPTH, KEYWAY_WIDTH = (0.7, 1.5), (0.7, 1.5)
#: Keys of plain cold-drawn steel, yield 352 MPa (51,000 psi), a third of it in bearing and half of that in
#: shear: Mott, section 11-4 (from memory) [MPa, psi].
KEY_SHEAR, KEY_BEARING = {"mm": 58.0, "in": 8500.0}, {"mm": 117.0, "in": 17000.0}
#: What a stall may take of the three-fold safety against yield that these allow.
AT_STALL = 2.0
BETTER_STEEL = 1.5  # what a key of a better steel bears, in times of the plain one
CHECKS = Checks()


@CHECKS.row(
    "keyways",
    "Is each keyway that of the standard?",
    "keyway-too-deep",
    "keyway-too-shallow",
    "keyway-too-wide",
    "keyway-too-narrow",
    "key-longer-than-gear",
    of="gear",
)
def _keyway(design: Design, table: GearTable) -> Outcome | None:
    if table.keyway_depth <= 0:
        return None
    whole = design.overall_length(table.name)
    if table.key_length is not None and table.key_length > whole * (1 + 1e-9):
        return _too_long(design, table, table.key_length, whole)
    shaft = design.shaft_of(table.name).diameter
    standard = standard_key(shaft, design.unit)
    if standard is None:
        return unmade("keyway against the standard", design, table.name, shaft=shaft)
    width, depth = table.keyway_width or standard.width, table.keyway_depth
    shallow, deep = (share * standard.hub_depth for share in KEYWAY_DEPTH)
    narrow, wide = (share * standard.width for share in KEYWAY_WIDTH)
    for row, size, limit, usual, over in (
        ("keyway-too-deep", depth, deep, standard.hub_depth, depth - deep),
        ("keyway-too-shallow", depth, shallow, standard.hub_depth, shallow - depth),
        ("keyway-too-wide", width, wide, standard.width, width - wide),
        ("keyway-too-narrow", width, narrow, standard.width, narrow - width),
    ):
        if over > 1e-9:
            return finding(
                row,
                design,
                table.name,
                lambda: [_standard_keyway(design, table)],
                compared=(size, limit),
                shaft=shaft,
                standard=usual,
            )
    return Held(table.name, "depth of its keyway", depth, deep, design.unit, False)


def _too_long(design: Design, table: GearTable, length: float, whole: float) -> Outcome:
    """A key that stands out of its gear; worse where the shaft has no room for it."""
    room = whole + table.gap + design.shaft_of(table.name).end
    return finding(
        "key-longer-than-gear" if length <= room + 1e-9 else "key-longer-than-gear, without room",
        design,
        table.name,
        lambda: [
            [Way(f"Use a key {said(whole, design.unit)} long", {"gear": {table.name: {"key_length": whole}}})]
        ],
        compared=(length, whole),
        room=room,
    )


def _standard_keyway(design: Design, table: GearTable) -> Iterator[Way]:
    fasten, cut = "Fasten it by the standard's key, its keyway", "Cut the standard's keyway,"
    for way in by_key(design, table):
        yield Way(way.says.replace(fasten, cut), way.edit)


def key_stresses(design: Design, table: GearTable, torque: float) -> tuple[float, float]:
    """Shear and bearing stress of the key of a gear under a torque [MPa, or psi]; theory's formulas.

    As high as the standard's, it bears on half of its height, or on the keyway in the hub where that is less;
    as long as it is said to be, or as the gear.
    Source: Mott, section 11-4.
    """
    shaft, unit = design.shaft_of(table.name), design.unit
    standard = standard_key(shaft.diameter, unit)
    width = table.keyway_width or (standard.width if standard else shaft.diameter / 4)
    height = standard.height if standard and abs(standard.width - width) < 1e-6 else width
    length = min(table.key_length or math.inf, design.overall_length(table.name))
    force = level(torque, unit) / (shaft.diameter / 2)
    return force / (width * length), force / (min(height / 2, table.keyway_depth) * length)


@CHECKS.row("strength of keys", "Do the keys withstand the torque?", "key-overloaded", of=held)
def _key(design: Design, table: GearTable) -> Outcome | None:
    """In shear and bearing, running and at a stall."""
    if table.keyway_depth <= 0:
        return None
    torque, unit = torque_on(design, table.shaft), unit_of(design, "stress")
    if torque is None:
        return no_load(design, table.name, "the strength of its key")
    assumed = {"in shear": KEY_SHEAR[design.unit], "in bearing": KEY_BEARING[design.unit]}
    stated = {"in shear": table.allowable_shear, "in bearing": table.allowable_bearing}
    factors = [("", 1.0, 1.0)] + ([(" at stall", peak(design) or 0.0, AT_STALL)] if peak(design) else [])
    used, kind, when, stress, more = max(
        (stress * factor / ((stated[kind] or assumed[kind]) * more), kind, when, stress * factor, more)
        for when, factor, more in factors
        for kind, stress in zip(assumed, key_stresses(design, table, torque))
    )
    limit = (stated[kind] or assumed[kind]) * more
    taken = "as stated" if stated[kind] else "taken for plain steel"
    if used <= 1 + 1e-9:
        return Held(table.name, f"stress of its key {kind}{when} (limit {taken})", stress, limit, unit, False)
    if not stated[kind] and used <= BETTER_STEEL:
        row = "key-overloaded, by plain steel"  # it hangs on the steel, which is not stated
    else:
        row = "key-overloaded, by far" if used > (1.5 if when else 3.0) else "key-overloaded"
    return finding(
        row,
        design,
        table.name,
        lambda: _stronger_key(design, table, used),
        compared=(stress, limit),
        unit=unit,
        length=min(table.key_length or math.inf, design.overall_length(table.name)),
        how=f"{kind}{when}",
        taken=taken,
        harm="It is sheared off."
        if kind == "in shear"
        else "It is crushed, or crushes the keyway: the gear works loose.",
    )


def _stronger_key(design: Design, table: GearTable, used: float) -> Iterator[Iterator[Way]]:
    yield _longer_key(design, table)
    yield _standard_keyway(design, table)
    yield _thicker_shaft(design, table)
    yield _longer_gear(design, table, used)


def _longer_key(design: Design, table: GearTable) -> Iterator[Way]:
    whole = design.overall_length(table.name)
    if table.key_length is not None and table.key_length < whole:
        for length in (up(table.key_length * 1.5, design.unit), whole):
            if length <= whole:
                yield Way(
                    f"Use a key {said(length, design.unit)} long",
                    {"gear": {table.name: {"key_length": length}}},
                )


def _longer_gear(design: Design, table: GearTable, used: float) -> Iterator[Way]:
    """A longer hub, or face where there is none, for a key that must be so many times as long."""
    length, unit = design.overall_length(table.name), design.unit
    hub = table.hub_projection > 0
    field, what, long = ("hub_projection", "hub", "long") if hub else ("face_width", "face", "wide")
    for share in (1.0, 1.15, 1.3):
        by = up(length * (used * share - 1), unit)
        whole: dict = {} if table.key_length is None else {"key_length": round(length + by, 6)}
        size = round(getattr(table, field) + by, 6)
        for edit in raised(design, table, by, {field: size, **whole}):
            says = f"Make the {what} of {table.name} {said(size, unit)} {long}, and its key with it"
            yield Way(f"{says}{told(design, edit)}", edit)


def _thicker_shaft(design: Design, table: GearTable) -> Iterator[Way]:
    shaft = design.shaft_of(table.name)
    for size in diameters(design, shaft.diameter * 1.05):
        whole: dict = (
            {"key_length": design.overall_length(table.name)} if table.key_length is not None else {}
        )
        yield Way(
            f"Make the shaft {said(size, design.unit)}, with bore, hub and key to suit",
            together(thicker(design, shaft, size), {"gear": {table.name: whole}}),
        )
