"""Shafts: long enough for what stands on them, and strong enough for what they carry.

Strength is that of a shaft held by the plate and bent by the forces of all teeth beyond it, twisted by its
torque: the largest shear stress (Guest), an estimate for teaching.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from gearlab.care import hazard

from ..design import Design, ShaftTable
from .advice import Advised, Way
from .finding import Finding, Held, Outcome, Unmade, both, said
from .ledger import Check
from .making import diameters, level, needed_length, peak, same_unit, thicker, torque_on, words

TOO_LONG = {"mm": 12.0, "in": 0.5}  # bare shaft beyond what is needed
#: Shear that plain shafting steel is allowed, 8000 psi, and a quarter less with a keyway: the old shafting
#: code (from memory) [MPa, psi].
SHEAR, SHARE_WITH_KEYWAY = {"mm": 55.0, "in": 8000.0}, 0.75
SMALL_FLAT = 0.1  # of the diameter: so deep a flat lies under its hub, which stiffens the shaft there
#: At a stall nothing turns and nothing tires: up to the yield of plain steel in shear, half of that in
#: tension (235 MPa, EN 10025), some twice what the code allows.
AT_STALL = 2.0
#: Cold-drawn bar bears so much more than plain steel: 80 MPa, 0.18 of its strength, by the same code.
BETTER_STEEL = 80 / 55
_SOURCE = (
    "maximum shear theory, Khurmi & Gupta, chapter 14; shafting code (from memory); an estimate for teaching"
)


# -- length --------------------------------------------------------------------------------------------
def lengths(design: Design) -> Iterator[Outcome]:
    """Whether each shaft that carries gears is long enough, and no longer."""
    for shaft in design.shaft:
        if not design.on(shaft.name) or design.plate is None:
            continue
        where, unit = f"shaft {shaft.name}", design.unit
        needed = needed_length(design, shaft)
        reading = design.reading(shaft.name, "length")
        if shaft.length is None and reading is None:
            yield Unmade(
                where,
                "whether it is long enough",
                "its length is not given",
                f"give length; collar, plate, gap, gear and end need {said(needed, unit)}",
                decisive=True,
            )
            continue
        length = reading.value if reading is not None else shaft.length or 0.0
        sees = reading.reads_to if reading is not None else 0.0
        yield _long_enough(design, shaft, length, needed, sees)


def _long_enough(design: Design, shaft: ShaftTable, length: float, needed: float, sees: float) -> Outcome:
    where, unit, spare = f"shaft {shaft.name}", design.unit, length - needed
    told = ", as measured" if sees else ""
    if spare + sees < -1e-6:
        return Advised(
            "shaft-too-short",
            "will not work",
            where,
            f"it is {said(length, unit)} long{told}, {said(-spare, unit)} short.",
            f"Collar, plate, gap, gear and end need {said(needed, unit)}.",
            "The gear has no hold at its end, or the shaft none in the plate.",
            design=design,
            ways=lambda: [_stock(design, shaft, needed)],
            otherwise="Take a longer shaft.",
        )
    if spare - sees > TOO_LONG[unit] + 1e-9:
        over, plenty = both(spare, TOO_LONG[unit], unit)
        return Advised(
            "shaft-too-long",
            "will trouble",
            where,
            f"it stands out {over} more than needed{told}.",
            f"Some {plenty} are plenty.",
            f"It bends easily, and {hazard('shafts')}.",
            design=design,
            ways=lambda: [_stock(design, shaft, needed)],
            otherwise="Take a shorter shaft, or cover the end.",
        )
    return Held(where, f"its length{told}", length, needed, unit)


def _stock(design: Design, shaft: ShaftTable, needed: float) -> Iterator[Way]:
    rod, unit = design.rods.get(shaft.name), design.unit
    if rod is None:
        return
    measured: dict = (
        {"measured": {f"{shaft.name} length": None}}
        if design.reading(shaft.name, "length") is not None
        else {}
    )
    again = ", and measure it again" if measured else ""
    for length in (rod.next_stock(needed), round(needed, 6)):
        yield Way(f"Take {said(length, unit)}{again}", {"shaft": {shaft.name: {"length": length}}} | measured)


# -- strength ------------------------------------------------------------------------------------------
def forces(design: Design, shaft: str) -> list[tuple[float, float, float]]:
    """What teeth push a shaft with: height above the plate [unit], the push along x and y [N or lbf].

    Along the line of action at the reference circles, from the torques of the drive; teeth whose torque is
    not known are left out.
    """
    pushes: list[tuple[float, float, float]] = []
    for pair in design.mesh:
        driver, driven = design.of(pair.driver), design.of(pair.driven)
        torque = design.torques.get(driver.shaft)
        if shaft not in (driver.shaft, driven.shaft) or torque is None:
            continue
        along = math.radians(
            design.line_angle(pair.driver, pair.driven) + (180.0 if driven.internal else 0.0)
        )
        gear = design.toothed[pair.driver]
        x, y = _push(gear, level(torque, design.unit), along, design.turns.get(driver.shaft, 1.0))
        if driver.internal:
            x, y = _push(
                gear, level(torque, design.unit), along, design.turns.get(driver.shaft, 1.0), inward=True
            )
        way, name = (1.0, pair.driven) if shaft == driven.shaft else (-1.0, pair.driver)
        pushes.append((design.face_height(name), way * x, way * y))
    for rack in design.rack:
        if rack.pinion is None or design.of(rack.pinion).shaft != shaft:
            continue
        torque = design.torques.get(shaft)
        if torque is not None and not design.of(rack.pinion).internal:
            gear = design.toothed[rack.pinion]
            x, y = _push(
                gear, level(torque, design.unit), math.radians(rack.angle), design.turns.get(shaft, 1.0)
            )
            pushes.append((design.face_height(rack.pinion), -x, -y))
    return pushes


def _push(gear, torque: float, along: float, turn: float, inward: bool = False) -> tuple[float, float]:
    """The push of a driver's teeth on its mate at a point of contact in some direction; statics."""
    tangential = torque / (gear.pitch_diameter / 2)
    separating = tangential * math.tan(math.radians(gear.pressure_angle)) * (-1 if inward else 1)
    way = 1.0 if turn >= 0 else -1.0
    return (
        separating * math.cos(along) - way * tangential * math.sin(along),
        separating * math.sin(along) + way * tangential * math.cos(along),
    )


def bending_moment(pushes: list[tuple[float, float, float]]) -> float:
    """The largest bending moment of a shaft that the plate holds at height 0 [N mm, or lbf in]."""
    return max(
        (
            math.hypot(
                sum(x * (height - foot) for height, x, _ in pushes if height > foot),
                sum(y * (height - foot) for height, _, y in pushes if height > foot),
            )
            for foot in (0.0, *(height for height, _, _ in pushes))
        ),
        default=0.0,
    )


def shear_stress(moment: float, torque: float, diameter: float) -> float:
    """Largest shear stress of a round shaft, bent and twisted; moment, torque [N mm] or [lbf in].

    >>> round(shear_stress(3000e3, 10000e3, 86.0), 1)  # Khurmi & Gupta, example 14.5 (from memory): 83.3 MPa
    83.6

    Source: maximum shear theory (Guest); Khurmi & Gupta, section 14.11 (from memory).
    """
    return 16 * math.hypot(moment, torque) / (math.pi * diameter**3)


def strengths(design: Design) -> Iterator[Outcome]:
    """Whether each shaft bears its torque and the bending of its teeth, running and at a stall."""
    if not all(same_unit(design, table) for table in design.gear):
        why, give = "the teeth are measured in two units", f"give every size in {design.unit}"
        yield Unmade("the shafts", "their strength", why, give)
        return
    for shaft in design.shaft:
        where, torque = f"shaft {shaft.name}", torque_on(design, shaft.name)
        pushes = forces(design, shaft.name)
        if torque is None or (torque == 0 and not pushes):
            if design.on(shaft.name) or design.load is None:
                why = "no load is stated" if design.load is None else "the load does not reach it"
                give = "add [load] with torque, that on the first shaft"
                yield Unmade(where, "its strength", why, give, bool(design.load is None and design.mesh))
            continue
        yield _strong(design, shaft, bending_moment(pushes), level(torque, design.unit))


def _weakened(design: Design, shaft: ShaftTable) -> tuple[float, float, str]:
    """Diameter of a shaft, less what its flats take beyond the usual [unit]; the shear it is allowed [MPa or
    psi], and in words where that comes from.
    """
    gears = design.on(shaft.name)
    keyed = any(table.keyway_depth > 0 for table in gears)
    allowed, taken = shaft.allowable_shear, "as stated"
    if allowed is None:
        allowed, taken = (
            SHEAR[design.unit],
            "taken for plain steel",
        )
    flat = max((table.flat for table in gears), default=0.0)
    left = shaft.diameter - max(0.0, flat - SMALL_FLAT * shaft.diameter)
    if keyed:
        allowed, taken = allowed * SHARE_WITH_KEYWAY, taken + ", a quarter less for its keyway"
    return left, allowed, taken


def _strong(design: Design, shaft: ShaftTable, moment: float, torque: float) -> Outcome:
    left, allowed, taken = _weakened(design, shaft)
    running = shear_stress(moment, torque, left)
    cases = [("", running, allowed)]
    stall = peak(design)
    if stall is not None:
        cases.append((" at stall", running * stall, allowed * AT_STALL))
    when, stress, limit = max(cases, key=lambda case: case[1] / case[2])
    unit = words(design)[2]
    if stress > limit * (1 + 1e-9):
        return _too_thin(design, shaft, (when, taken), stress, limit)
    return Held(f"shaft {shaft.name}", f"its shear stress{when} (limit {taken})", stress, limit, unit, False)


def _too_thin(
    design: Design, shaft: ShaftTable, told: tuple[str, str], stress: float, limit: float
) -> Finding:
    when, taken = told
    number, most = both(stress, limit, words(design)[2])
    left = _weakened(design, shaft)[0]
    needed = shaft.diameter - left + left * (stress / limit) ** (1 / 3)
    over = stress / limit
    if shaft.allowable_shear is None and over <= BETTER_STEEL:
        grade = "worth knowing"  # it hangs on the steel, which is not stated
    else:
        grade = "will not work" if over > AT_STALL else "will trouble"
    return Advised(
        "shaft-overloaded",
        grade,
        f"shaft {shaft.name}",
        f"{'bent by its teeth and twisted' if forces(design, shaft.name) else 'twisted'}, it comes to about"
        f" {number} of shear{when}.",
        f"It can withstand {most}, {taken}.",
        "It bends or breaks at the plate, unless it is of a better steel."
        if design.on(shaft.name)
        else "It is twisted off.",
        _SOURCE,
        design=design,
        ways=lambda: [_thicker(design, shaft, needed)],
        otherwise=f"Take a shaft of about {said(needed, design.unit)}, or a bearing beyond its gears.",
    )


def _thicker(design: Design, shaft: ShaftTable, needed: float) -> Iterator[Way]:
    for size in diameters(design, needed):
        yield Way(
            f"Take a shaft of {said(size, design.unit)}, with hole, bores and hubs to suit",
            thicker(design, shaft, size),
        )


CHECKS = (
    Check(
        "length of shafts",
        "Is each shaft as long as it should be?",
        ("shaft-too-short", "shaft-too-long"),
        lengths,
    ),
    Check(
        "strength of shafts", "Does each shaft bear its torque and bending?", ("shaft-overloaded",), strengths
    ),
)
