"""How a drive runs under its load: motor and clutch, speeds, heat, what holds a load that is lifted."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import partial

from gearlab.theory.units import convert, usual_unit

from ..design import Design, MeshTable
from ..design.drive import turning
from .advice import Advised, Way
from .finding import Finding, Held, Outcome, Unmade, both, said, two_digits
from .ledger import Check
from .load import unit_of

#: Pitch-line speed [m/s] up to which plainly cut teeth run, and carefully cut ones at most: 2000 and 4000
#: ft/min, as old handbooks state beside Barth's speed factor (from memory).
CUT_SPEED, MOST_SPEED = 10.16, 20.32
_SPEED_SOURCE = "handbooks beside C. G. Barth's speed factor: 2000 ft/min, finely cut 4000 (from memory)"
#: Speed at which a shaft rubs in a plain dry hole at most [m/s]: 1200 ft/min of oil-filled bronze (makers'
#: tables, from memory); plastic and wood bear less.
RUBBING_SPEED = 6.1
_RUBBING_SOURCE = "makers of oil-filled bronze bushes: 1200 ft/min (from memory)"
#: Heat that still air takes from a surface [W/(m2 K)], by how much gears may warm up [K], and the share of
#: power a mesh loses where the file does not say.
_STILL_AIR, MOST_WARMING, USUAL_LOSS = 10.0, 50.0, 0.02


# -- motor and clutch ----------------------------------------------------------------------------------
def _motor(design: Design) -> Iterator[Outcome]:
    """Whether motor and clutch can pull the working torque."""
    load = design.load
    if load is None or not (design.links or design.rack):
        return
    unit = unit_of(design, "torque")
    for word, name, what, why in (
        ("stall_torque", "stall-below-running", "the motor stalls at", "It stops before the load moves."),
        ("slip_torque", "clutch-slips", "the clutch slips at", "It slips before the load moves, and wears."),
    ):
        torque = getattr(load, word)
        if torque is None:
            yield Unmade(
                "the drive",
                f"whether {what} more than the working torque",
                f"the file gives no {word}",
                f"give {word} in {unit} under [load], if there is such a thing",
            )
        elif torque <= load.torque * (1 + 1e-9):
            numbers = both(torque, load.torque, unit)
            yield Advised(
                name,
                "will not work",
                "the drive",
                f"{what} {numbers[0]}.",
                f"It works with {numbers[1]}, and must have more.",
                why,
                "balance of torques",
                design=design,
                ways=partial(_more_pull, design, word, torque),
                otherwise=f"Choose one of more than {said(load.torque, unit)}.",
            )
        else:
            yield Held("the drive", what, torque, load.torque, unit)


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
    """Circles that move: what they belong to, their diameter [unit], the speed of their shaft [rpm]."""
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


def _speeds(design: Design) -> Iterator[Outcome]:
    """Pitch-line speeds, and the speed at which shafts rub in their holes."""
    load = design.load
    if load is None or not (design.links or design.rack):
        return
    if load.speed is None:
        yield Unmade(
            "the drive",
            "its speeds",
            "the file does not say how fast the first shaft turns",
            "give speed in rpm under [load]",
        )
        return
    for where, line in _lines(design):
        limit = CUT_SPEED if line <= MOST_SPEED * (1 + 1e-9) else MOST_SPEED
        yield _judged(design, where, ("its pitch lines run at", line, limit), _SPEED_SOURCE)
    for where, speed in _rubbing(design):
        yield _judged(design, where, ("it rubs in its hole at", speed, RUBBING_SPEED), _RUBBING_SOURCE)


def _lines(design: Design) -> Iterator[tuple[str, float]]:
    """Pitch-line speeds of what meshes [m/s]."""
    for where, diameter, speed in _rates(design):
        yield where, _metres(design, diameter, speed)


def _rubbing(design: Design) -> Iterator[tuple[str, float]]:
    """Speeds of shafts in their holes in the plate [m/s]."""
    for shaft in design.standing:
        if shaft.name in design.speeds:
            yield f"shaft {shaft.name}", _metres(design, shaft.diameter, abs(design.speeds[shaft.name]))


def _judged(design: Design, where: str, speed: tuple[str, float, float], source: str) -> Outcome:
    """A speed [m/s] held against its limit, in the usual unit."""
    what, number, limit = speed
    usual, shown = usual_unit("linear speed", design.unit), unit_of(design, "linear speed")
    fast, most = (convert(value, "m/s", usual) for value in (number, limit))
    if number <= limit * (1 + 1e-9):
        return Held(where, what, fast, most, shown, least=False)
    numbers = both(fast, most, shown)
    return Advised(
        "runs-too-fast",
        "will trouble" if limit == CUT_SPEED else "will not work",
        where,
        f"{what} {numbers[0]}.",
        f"{numbers[1]} is the most.",
        "Teeth hammer, grease is thrown off, and plain holes and plastics melt.",
        source,
        design=design,
        ways=partial(_slower, design),
        otherwise="Turn it slower.",
    )


def _metres(design: Design, diameter: float, speed: float) -> float:
    """Speed of a circle [m/s], from its diameter [unit] and its turns [rpm]."""
    return math.pi * convert(diameter, design.unit, "mm") / 1000 * speed / 60


def _slower(design: Design) -> Iterator[Iterable[Way]]:
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


def _heat(design: Design) -> Iterator[Outcome]:
    """How warm the gears of a mesh become by what is lost in it."""
    for pair, lost, warming in _warmings(design):
        stated = "efficiency" in pair.model_fields_set
        how = "" if stated else f", {said(100 * USUAL_LOSS)} % of the power taken as lost (common practice)"
        if warming > MOST_WARMING * (1 + 1e-9):
            yield _hot(design, pair.name, lost, warming, how)
        else:
            what = f"what is lost in it{how}, warms its gears by"
            yield Held(pair.name, what, warming, MOST_WARMING, "K", least=False)


def _warmings(design: Design) -> Iterator[tuple[MeshTable, float, float]]:
    """Of each mesh the power that is lost in it [W], and by how much still air lets its gears warm [K]."""
    for pair in design.mesh:
        driver = turning(design, design.of(pair.driver))
        if driver not in design.torques or driver not in design.speeds:
            continue  # that the speed is missing is told where speeds are looked at
        torque = convert(design.torques[driver], usual_unit("torque", design.unit), "N*m")
        power = torque * abs(design.speeds[driver]) * 2 * math.pi / 60
        lost = power * (1 - pair.efficiency if "efficiency" in pair.model_fields_set else USUAL_LOSS)
        surface = sum(_surface(design, name) for name in (pair.driver, pair.driven))
        yield pair, lost, lost / (_STILL_AIR * surface)


def _surface(design: Design, name: str) -> float:
    """Both sides and the rim of a gear [m2]."""
    diameter, face = (
        convert(size, design.unit, "mm") / 1000
        for size in (design.toothed[name].pitch_diameter, design.of(name).face_width)
    )
    return math.pi * diameter * (diameter / 2 + face)


def _hot(design: Design, where: str, lost: float, warming: float, how: str) -> Finding:
    numbers = both(warming, MOST_WARMING, "K")
    return Advised(
        "runs-hot",
        "will trouble",
        where,
        f"{said(lost, 'W')} are lost in it{how}, and warm its gears by {numbers[0]} in still air.",
        f"{numbers[1]} is the most.",
        "Plastic softens, grease runs out, and the play closes.",
        "free convection, about 10 W/(m2 K) (handbooks of heat, from memory)",
        design=design,
        ways=partial(_slower, design),
        otherwise="Turn it slower, or cool it.",
    )


# -- brake ---------------------------------------------------------------------------------------------
def _brake(design: Design) -> Iterator[Outcome]:
    if design.load is None or not design.load.lifts:
        return
    if design.load.brake:
        yield Held("the drive", "a brake or pawl holds the load that it lifts")
        return
    yield Finding(
        "load-falls-back",
        "will trouble",
        "the drive",
        "it lifts a load, and no brake or pawl is stated.",
        "Spur gears and racks can be driven backwards.",
        "When the crank is let go the vent falls, and the crank strikes.",
        "Add a brake, a pawl or a self-locking stage, and state it: brake = true; prop the vent before hands"
        " go near.",
        "common practice; local code",
        ({"load": {"brake": True}},),
    )


CHECKS = (
    Check("motor and clutch", "Can they pull the load?", ("stall-below-running", "clutch-slips"), _motor),
    Check("speeds", "Do teeth and shafts run slowly enough?", ("runs-too-fast",), _speeds),
    Check("heat", "Do the gears stay cool?", ("runs-hot",), _heat),
    Check("brake", "Is a load that is lifted held?", ("load-falls-back",), _brake),
)
