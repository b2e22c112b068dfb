"""Keys: whether their keyways are those of the standard, and whether they bear the torque.

Each strength is an estimate for teaching.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..design import Design, GearTable
from .advice import Advised, Way, together
from .fastening import by_key
from .finding import Finding, Held, Outcome, Unmade, both, said, up
from .ledger import Check
from .making import (
    diameters,
    held,
    level,
    no_load,
    peak,
    raised,
    standard_key,
    thicker,
    torque_on,
    words,
)
from .moves import told

#: How far a keyway may be from the standard's, as a share of its depth and width.
KEYWAY_DEPTH, KEYWAY_WIDTH = (0.7, 1.5), (0.7, 1.5)
#: Keys of plain cold-drawn steel, yield 352 MPa (51,000 psi), a third of it in bearing and half of that in
#: shear: Mott, section 11-4 (from memory) [MPa, psi].
KEY_SHEAR, KEY_BEARING = {"mm": 58.0, "in": 8500.0}, {"mm": 117.0, "in": 17000.0}
#: What a stall may take of the three-fold safety against yield that these allow.
AT_STALL = 2.0
BETTER_STEEL = 1.5  # what a key of a better steel bears, in times of the plain one
_ESTIMATE = "an estimate for teaching"


def keyways(design: Design) -> Iterator[Outcome]:
    """Whether keyways are those of the standard for their shafts."""
    for table in design.gear:
        if table.keyway_depth <= 0:
            continue
        shaft, unit = design.shaft_of(table.name), design.unit
        standard = standard_key(shaft.diameter, unit)
        if standard is None:
            yield Unmade(
                table.name,
                "its keyway against the standard",
                f"the standard has no key for a shaft of {said(shaft.diameter, unit)}",
                "use a flat and a set screw on a shaft that is so thin or thick",
            )
            continue
        width, depth = table.keyway_width or standard.width, table.keyway_depth
        least, most = (share * standard.hub_depth for share in KEYWAY_DEPTH)
        if depth > most + 1e-9:
            yield _keyway(design, table, "keyway-too-deep", depth, most, standard.hub_depth)
        elif depth < least - 1e-9:
            yield _keyway(design, table, "keyway-too-shallow", depth, least, standard.hub_depth)
        elif width > KEYWAY_WIDTH[1] * standard.width + 1e-9:
            yield _keyway(
                design, table, "keyway-too-wide", width, KEYWAY_WIDTH[1] * standard.width, standard.width
            )
        elif width < KEYWAY_WIDTH[0] * standard.width - 1e-9:
            yield _keyway(
                design, table, "keyway-too-narrow", width, KEYWAY_WIDTH[0] * standard.width, standard.width
            )
        else:
            yield Held(table.name, "depth of its keyway", depth, most, unit, False)


_KEYWAYS = {
    "keyway-too-deep": (
        "deep",
        "at most",
        "The standard's key has no hold in it, and the hub cracks from its corner.",
    ),
    "keyway-too-shallow": (
        "deep",
        "at least",
        "The key bears on a narrow strip, is crushed, and the gear slips.",
    ),
    "keyway-too-wide": ("wide", "at most", "The seat of so wide a key takes the strength of the shaft."),
    "keyway-too-narrow": ("wide", "at least", "So narrow a key is sheared."),
}


def _keyway(
    design: Design, table: GearTable, name: str, number: float, limit: float, standard: float
) -> Finding:
    unit = design.unit
    word, bound, why = _KEYWAYS[name]
    size, most = both(number, limit, unit)
    return Advised(
        name,
        "will trouble",
        table.name,
        f"its keyway is {size} {word} on a shaft of {said(design.shaft_of(table.name).diameter, unit)}.",
        f"The standard's is {said(standard, unit)} {word}; {bound} {most}.",
        why,
        "DIN 6885-1, ANSI B17.1",
        design=design,
        ways=lambda: [_standard_keyway(design, table)],
        otherwise="Cut the keyway of the standard for the shaft.",
    )


def _standard_keyway(design: Design, table: GearTable) -> Iterator[Way]:
    yield from (
        Way(
            way.says.replace("Fasten it by the standard's key, its keyway", "Cut the standard's keyway,"),
            way.edit,
        )
        for way in by_key(design, table)
    )


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


def keys_bear(design: Design) -> Iterator[Outcome]:
    """Whether each key bears shear and bearing, running and at a stall."""
    for table in held(design):
        if table.keyway_depth <= 0:
            continue
        torque, unit = torque_on(design, table.shaft), words(design)[2]
        if torque is None:
            yield no_load(design, table.name, "the strength of its key")
            continue
        assumed = {"in shear": KEY_SHEAR[design.unit], "in bearing": KEY_BEARING[design.unit]}
        stated = {"in shear": table.allowable_shear, "in bearing": table.allowable_bearing}
        factors = [("", 1.0, 1.0)] + ([(" at stall", peak(design) or 0.0, AT_STALL)] if peak(design) else [])
        worst = max(
            (stress * factor / ((stated[kind] or assumed[kind]) * more), kind, when, stress * factor, more)
            for when, factor, more in factors
            for kind, stress in zip(assumed, key_stresses(design, table, torque))
        )
        used, kind, when, stress, more = worst
        limit = (stated[kind] or assumed[kind]) * more
        taken = "as stated" if stated[kind] else "taken for plain steel"
        if used > 1 + 1e-9:
            yield _key_fails(design, table, (kind, when, taken), stress, limit, used)
        else:
            yield Held(
                table.name, f"stress of its key {kind}{when} (limit {taken})", stress, limit, unit, False
            )


def _key_fails(
    design: Design, table: GearTable, told: tuple[str, str, str], stress: float, limit: float, used: float
) -> Finding:
    kind, when, taken = told
    number, most = both(stress, limit, words(design)[2])
    length = min(table.key_length or math.inf, design.overall_length(table.name))
    return Advised(
        "key-overloaded",
        (
            "worth knowing"  # it hangs on the steel, which is not stated
            if taken != "as stated" and used <= BETTER_STEEL
            else "will not work"
            if used > (1.5 if when else 3.0)
            else "will trouble"
        ),
        table.name,
        f"its key, {said(length, design.unit)} long, comes to about {number} {kind}{when}.",
        f"It can withstand {most}, {taken}.",
        "It is sheared off."
        if kind == "in shear"
        else "It is crushed, or crushes the keyway: the gear works loose.",
        f"Mott, section 11-4 (from memory); {_ESTIMATE}",
        design=design,
        ways=lambda: [
            _longer_key(design, table),
            _standard_keyway(design, table),
            _thicker_shaft(design, table),
            _longer_gear(design, table, used),
        ],
        otherwise="Use a longer key, a thicker shaft, or a key of a stronger material.",
    )


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


CHECKS = (
    Check("keyways", "Is each keyway that of the standard?", tuple(_KEYWAYS), keyways),
    Check("strength of keys", "Do the keys bear the torque?", ("key-overloaded",), keys_bear),
)
