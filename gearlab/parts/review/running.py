"""How a drive runs under its load: motor and clutch, speeds, heat, what holds a load that is lifted."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import partial

from gearlab.theory.units import convert, usual_unit

from ..design import Design, MeshTable
from ..design.drive import turning
from .advice import Way
from .finding import Held, Outcome, said, two_digits
from .ledger import Checks
from .sentences import finding, unit_of, unmade

#: Pitch-line speed [m/s] up to which plainly cut teeth run, and carefully cut ones at most: 2000 and 4000
#: ft/min, as old handbooks state beside Barth's speed factor (from memory).
CUT_SPEED, MOST_SPEED = 10.16, 20.32
#: Speed at which a shaft rubs in a plain dry hole at most [m/s]: 1200 ft/min of oil-filled bronze (makers'
#: tables, from memory); plastic and wood bear less.
RUBBING_SPEED = 6.1
#: Heat that still air takes from a surface [W/(m2 K)], by how much gears may warm up [K], and the share of
#: power a mesh loses where the file does not say.
_STILL_AIR, MOST_WARMING, USUAL_LOSS = 10.0, 50.0, 0.02
CHECKS = Checks()


# -- motor and clutch ----------------------------------------------------------------------------------
@CHECKS.row("motor and clutch", "Can they pull the load?", "stall-below-running", "clutch-slips")
def _motor(design: Design) -> Iterator[Outcome]:
    if design.load is None or not (design.links or design.rack):
        return
    unit, needed = unit_of(design, "torque"), design.load.torque
    for word, what, row in (
        ("stall_torque", "the motor stalls at", "stall-below-running"),
        ("slip_torque", "the clutch slips at", "clutch-slips"),
    ):
        torque = getattr(design.load, word)
        if torque is None:
            yield unmade("pull", design, "the drive", what=what, word=word, unit=unit)
        elif torque > needed * (1 + 1e-9):
            yield Held("the drive", what, torque, needed, unit)
        else:
            ways, numbers = partial(_more_pull, design, word, torque), (torque, needed)
            shown = said(needed, unit)
            yield finding(row, design, "the drive", ways, compared=numbers, unit=unit, needed=shown)


def _more_pull(design: Design, word: str, torque: float) -> Iterator[Iterable[Way]]:
    load, unit = design.load, unit_of(design, "torque")
    assert load is not None
    what = "motor that stalls" if word == "stall_torque" else "clutch that slips"
    pulls = [two_digits(load.torque * share, True) for share in (2.0, 1.5, 1.25, 1.1)]
    yield (
        Way(f"Take a {what} at {said(pull, unit)}", {"load": {word: pull}})
        for pull in pulls
        if pull > load.torque * (1 + 1e-6)
    )
    less = two_digits(torque * 0.8, False)
    yield [Way(f"Carry no more than {said(less, unit)}", {"load": {"torque": less}})]


# -- speeds and heat -----------------------------------------------------------------------------------
def _rates(design: Design) -> Iterator[tuple[str, float, float]]:
    """Pitch circles that move: what they belong to, their diameter [unit], the speed of their shaft [rpm]."""
    speeds = {name: abs(speed) for name, speed in design.speeds.items()}
    for pair in design.mesh:
        speed = speeds.get(turning(design, design.of(pair.driver)))
        if speed is not None:
            yield pair.name, design.toothed[pair.driver].pitch_diameter, speed
    for rack in design.rack:
        if rack.pinion is not None and (speed := speeds.get(turning(design, design.of(rack.pinion)))):
            yield f"the {rack.name}", design.toothed[rack.pinion].pitch_diameter, speed
    for bevel in design.bevels:
        size = bevel.module if bevel.module is not None else 1 / (bevel.diametral_pitch or math.inf)
        if size and (speed := speeds.get(bevel.driver or "")):
            yield f"the {bevel.name}", bevel.teeth[0] * size, speed
    for table in design.planetary:
        size = table.module if table.module is not None else 1 / (table.diametral_pitch or math.inf)
        if size and (speed := speeds.get(table.sun_shaft or "")):
            yield f"the {table.name}", table.sun * size, speed


def _moving(design: Design) -> Iterator[Outcome | tuple[str, str, float]]:
    """Pitch lines, and shafts in their holes: the row of a finding, where it is, the speed [m/s]."""
    if design.load is None or not (design.links or design.rack):
        return
    if design.load.speed is None:
        yield unmade("speed", design, "the drive")
        return
    for where, line in _lines(design):
        yield "runs-too-fast", where, line
    for where, speed in _rubbing(design):
        yield "runs-too-fast, in its hole", where, speed


@CHECKS.row("speeds", "Do teeth and shafts run slowly enough?", "runs-too-fast", of=_moving)
def _speed(design: Design, row: str, where: str, speed: float) -> Outcome:
    rubs = row == "runs-too-fast, in its hole"
    limit = RUBBING_SPEED if rubs else CUT_SPEED if speed <= MOST_SPEED * (1 + 1e-9) else MOST_SPEED
    usual, unit = usual_unit("linear speed", design.unit), unit_of(design, "linear speed")
    fast, most = (convert(value, "m/s", usual) for value in (speed, limit))
    if speed <= limit * (1 + 1e-9):
        what = "it rubs in its hole at" if rubs else "its pitch lines run at"
        return Held(where, what, fast, most, unit, least=False)
    row += ", even finely cut" if limit == MOST_SPEED else ""
    return finding(row, design, where, lambda: _slower(design), compared=(fast, most), unit=unit)


def _lines(design: Design) -> Iterator[tuple[str, float]]:
    """Pitch-line speeds of what meshes [m/s]."""
    for where, diameter, speed in _rates(design):
        yield where, _metres(design, diameter, speed)


def _rubbing(design: Design) -> Iterator[tuple[str, float]]:
    """Speeds of shafts in their holes in the plate [m/s]."""
    for shaft in design.standing:
        if shaft.name in design.speeds:
            yield f"shaft {shaft.name}", _metres(design, shaft.diameter, abs(design.speeds[shaft.name]))


def _metres(design: Design, diameter: float, speed: float) -> float:
    """Speed of a circle [m/s], from its diameter [unit] and its turns [rpm]."""
    return math.pi * convert(diameter, design.unit, "mm") / 1000 * speed / 60


def _slower(design: Design) -> Iterator[list[Way]]:
    """Speeds of the first shaft at which all that turns is slow and cool enough."""
    assert design.load is not None and design.load.speed is not None
    turned = design.load.speed
    shares = [CUT_SPEED / speed for *_, speed in _lines(design) if speed]
    shares += [RUBBING_SPEED / speed for _, speed in _rubbing(design) if speed]
    shares += [MOST_WARMING / warming for *_, warming in _warmings(design) if warming]
    most = abs(turned) * min([1.0, *shares])
    yield [
        Way(f"Turn the first shaft at {said(speed)} rpm", {"load": {"speed": speed}})
        for share in (1.0, 0.5, 0.1)
        for speed in (math.copysign(two_digits(most * share, False), turned),)
    ]


def _warmings(design: Design) -> Iterator[tuple[MeshTable, float, float]]:
    """Of each mesh the power that is lost in it [W], and by how much still air lets its gears warm [K]."""
    for pair in design.mesh:
        driver = turning(design, design.of(pair.driver))
        if driver not in design.torques or driver not in design.speeds:
            continue  # that the speed is missing is told where speeds are looked at
        torque = convert(design.torques[driver], usual_unit("torque", design.unit), "N*m")
        power = torque * abs(design.speeds[driver]) * 2 * math.pi / 60
        lost = power * (1 - pair.efficiency if "efficiency" in pair.model_fields_set else USUAL_LOSS)
        surface = sum(_surface(design, name) for name in pair.gears)
        yield pair, lost, lost / (_STILL_AIR * surface)


@CHECKS.row("heat", "Do the gears stay cool?", "runs-hot", of=_warmings)
def _heat(design: Design, pair: MeshTable, lost: float, warming: float) -> Outcome:
    """How warm the gears of a mesh become by what is lost in it."""
    stated = "efficiency" in pair.model_fields_set
    how = "" if stated else f", {said(100 * USUAL_LOSS)} % of the power taken as lost (common practice)"
    if warming <= MOST_WARMING * (1 + 1e-9):
        what = f"what is lost in it{how}, warms its gears by"
        return Held(pair.name, what, warming, MOST_WARMING, "K", least=False)
    return finding(
        "runs-hot",
        design,
        pair.name,
        lambda: _slower(design),
        compared=(warming, MOST_WARMING),
        unit="K",
        lost=said(lost, "W"),
        how=how,
    )


def _surface(design: Design, name: str) -> float:
    """Both sides and the rim of a gear [m2]."""
    diameter, face = (
        convert(size, design.unit, "mm") / 1000
        for size in (design.toothed[name].pitch_diameter, design.of(name).face_width)
    )
    return math.pi * diameter * (diameter / 2 + face)


# -- brake ---------------------------------------------------------------------------------------------
@CHECKS.row("brake", "Is a load that is lifted held?", "load-falls-back")
def _brake(design: Design) -> Outcome | None:
    if design.load is None or not design.load.lifts:
        return None
    if design.load.brake:
        return Held("the drive", "a brake or pawl holds the load that it lifts")
    return finding("load-falls-back", design, "the drive", edits=({"load": {"brake": True}},))
