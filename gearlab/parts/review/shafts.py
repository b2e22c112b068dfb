"""Shafts: long enough for what stands on them, and strong enough for what they carry.

Strength is that of a shaft held by the plate and bent by the forces of all teeth beyond it, twisted by its
torque: the largest shear stress (Guest), an estimate for teaching.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from gearlab.care import hazard
from gearlab.theory.scope import scope_for

from ..design import Design, ShaftTable
from ..working import worked_out
from .advice import Way
from .finding import Held, Outcome, said
from .ledger import Checks
from .making import diameters, lengths_read, level, needed_length, peak, same_unit, thicker, torque_on
from .sentences import finding, unit_of, unmade

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
CHECKS = Checks()


# -- length --------------------------------------------------------------------------------------------
@CHECKS.row(
    "length of shafts",
    "Is each shaft as long as it should be?",
    "shaft-too-short",
    "shaft-too-long",
    of="shaft",
)
def _length(design: Design, shaft: ShaftTable) -> Outcome | None:
    if not design.on(shaft.name) or design.plate is None:
        return None
    where, needed = f"shaft {shaft.name}", needed_length(design, shaft)
    reading = design.reading(shaft.name, "length")
    if shaft.length is None and reading is None:
        return unmade("length", design, where, decisive=True, needed=needed)
    length = reading.value if reading is not None else shaft.length or 0.0
    sees = reading.reads_to if reading is not None else 0.0
    sees += sum(piece.reads_to for piece in lengths_read(design, shaft))
    measured, spare, most = (
        ", as measured" if reading is not None else "",
        length - needed,
        TOO_LONG[design.unit],
    )
    if spare + sees >= -1e-6 and spare - sees <= most + 1e-9:
        return Held(where, f"its length{measured}", length, needed, design.unit)
    return finding(
        "shaft-too-short" if spare < 0 else "shaft-too-long",
        design,
        where,
        lambda: [_stock(design, shaft, needed)],
        compared=(spare, most),
        length=length,
        short=-spare,
        needed=needed,
        measured=measured,
        harm=hazard("shafts"),
    )


def _stock(design: Design, shaft: ShaftTable, needed: float) -> Iterator[Way]:
    rod, unit = design.rods.get(shaft.name), design.unit
    if rod is None:
        return
    measured = design.reading(shaft.name, "length") is not None
    again: dict = {"measured": {f"{shaft.name} length": None}} if measured else {}
    for length in (rod.next_stock(needed), round(needed, 6)):
        says = f"Take {said(length, unit)}{', and measure it again' if measured else ''}"
        yield Way(says, {"shaft": {shaft.name: {"length": length}}} | again)


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
        along = design.line_angle(*pair.gears) + (180.0 if driven.internal else 0.0)
        x, y = _push(design, pair.driver, torque, along)
        way, name = (1.0, pair.driven) if shaft == driven.shaft else (-1.0, pair.driver)
        pushes.append((design.face_height(name), way * x, way * y))
    for rack in design.rack:
        if rack.pinion is None or design.of(rack.pinion).shaft != shaft:
            continue
        torque = design.torques.get(shaft)
        if torque is not None and not design.of(rack.pinion).internal:
            x, y = _push(design, rack.pinion, torque, rack.angle)
            pushes.append((design.face_height(rack.pinion), -x, -y))
    return pushes


def _push(design: Design, driver: str, torque: float, angle: float) -> tuple[float, float]:
    """The push of a driver's teeth on its mate at a point of contact in some direction [deg]."""
    gear, along = design.toothed[driver], math.radians(angle)
    given = {
        "driver_pitch_diameter": gear.pitch_diameter,
        "pressure_angle": gear.pressure_angle,
        "driver_torque": torque,
    }
    numbers = worked_out(scope_for("load", design.unit, (gear.system, gear.system)), given)
    tangential = numbers["tangential_force"]
    separating = numbers["separating_force"] * (-1 if gear.internal else 1)
    way = 1.0 if design.turns.get(design.of(driver).shaft, 1.0) >= 0 else -1.0
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


def _loaded(design: Design) -> Iterator[Outcome | tuple[ShaftTable, float, float]]:
    """Shafts with the bending moment and the torque on them [N mm, or lbf in]; or why those are not known."""
    if not all(same_unit(design, table) for table in design.gear):
        yield unmade("strength in two units", design, "the shafts", unit=design.unit)
        return
    for shaft in design.shaft:
        torque, pushes = torque_on(design, shaft.name), forces(design, shaft.name)
        if torque is not None and (torque or pushes):
            yield shaft, bending_moment(pushes), level(torque, design.unit)
        elif design.load is None:
            yield unmade("strength", design, f"shaft {shaft.name}", decisive=bool(design.mesh))
        elif design.on(shaft.name):
            yield unmade("strength, not reached", design, f"shaft {shaft.name}")


@CHECKS.row(
    "strength of shafts", "Does each shaft withstand its torque and bending?", "shaft-overloaded", of=_loaded
)
def _strength(design: Design, shaft: ShaftTable, moment: float, torque: float) -> Outcome:
    """Running and at a stall; what its flats take beyond the usual is not there."""
    gears, unit = design.on(shaft.name), unit_of(design, "stress")
    allowed, taken = shaft.allowable_shear, "as stated"
    if allowed is None:
        allowed, taken = SHEAR[design.unit], "taken for plain steel"
    if any(table.keyway_depth > 0 for table in gears):
        allowed, taken = allowed * SHARE_WITH_KEYWAY, f"{taken}, a quarter less for its keyway"
    flat = max((table.flat for table in gears), default=0.0)
    left = shaft.diameter - max(0.0, flat - SMALL_FLAT * shaft.diameter)
    running, stall = shear_stress(moment, torque, left), peak(design)
    cases = [("", running, allowed)]
    if stall is not None:
        cases.append((" at stall", running * stall, allowed * AT_STALL))
    when, stress, limit = max(cases, key=lambda case: case[1] / case[2])
    over, needed = stress / limit, shaft.diameter - left + left * (stress / limit) ** (1 / 3)
    if stress <= limit * (1 + 1e-9):
        return Held(
            f"shaft {shaft.name}", f"its shear stress{when} (limit {taken})", stress, limit, unit, False
        )
    if shaft.allowable_shear is None and over <= BETTER_STEEL:
        row = "shaft-overloaded, by plain steel"  # it hangs on the steel, which is not stated
    else:
        row = "shaft-overloaded, by far" if over > AT_STALL else "shaft-overloaded"
    return finding(
        row,
        design,
        f"shaft {shaft.name}",
        lambda: [_thicker(design, shaft, needed)],
        compared=(stress, limit),
        unit=unit,
        how="bent by its teeth and twisted" if forces(design, shaft.name) else "twisted",
        when=when,
        taken=taken,
        harm="It bends or breaks at the plate, unless it is of a better steel."
        if gears
        else "It is twisted off.",
        needed=needed,
    )


def _thicker(design: Design, shaft: ShaftTable, needed: float) -> Iterator[Way]:
    for size in diameters(design, needed):
        says = f"Take a shaft of {said(size, design.unit)}, with hole, bores and hubs to suit"
        yield Way(says, thicker(design, shaft, size))
