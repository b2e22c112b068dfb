"""A given as a reader states it.

A number with its unit, such as "2 hp", "1725 rev/min", "78.75 mm", "3/4 in" or "14.5 N·m".

A unit is read as a product of a few dozen names with powers, so that "lbf·in", "in-lb", "lb in" and "lbf in"
are one unit, and "N/mm^2" is a stress like "MPa". Nothing but these names is known: what cannot be read is
refused, never guessed.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from math import pi

from .units import MM_PER_INCH, NEWTON_PER_POUND, UNITS

# Powers of length, force, time, temperature, turns, radians, cycles, teeth.
_Powers = tuple[int, ...]
_NOTHING: _Powers = (0,) * 8
_LONGEST = 60  # characters


def _powers(**given: int) -> _Powers:
    return tuple(
        given.get(name, 0)
        for name in ("length", "force", "time", "warmth", "turn", "radian", "cycle", "tooth")
    )


_LENGTH, _FORCE, _TIME, _WARMTH = _powers(length=1), _powers(force=1), _powers(time=1), _powers(warmth=1)
_TORQUE, _STRESS, _POWER = (
    _powers(length=1, force=1),
    _powers(length=-2, force=1),
    _powers(length=1, force=1, time=-1),
)
_TURN, _RADIAN, _CYCLE, _TOOTH = _powers(turn=1), _powers(radian=1), _powers(cycle=1), _powers(tooth=1)
_POUND_INCH = UNITS["lbf*in"].size

# spellings; size in theory's millimetre units; powers; the system of units it belongs to
_NAMES: dict[str, tuple[float, _Powers, str]] = {}
for _spellings, _size, _of, _system in (
    ("mm millimetre millimetres millimeter millimeters", 1.0, _LENGTH, "mm"),
    ("cm centimetre centimetres centimeter centimeters", 10.0, _LENGTH, "mm"),
    ("m metre metres meter meters", 1000.0, _LENGTH, "mm"),
    ("km kilometre kilometres kilometer kilometers", 1e6, _LENGTH, "mm"),
    ("um micron microns micrometre micrometres micrometer micrometers", 0.001, _LENGTH, "mm"),
    ('in inch inches " \u2033', MM_PER_INCH, _LENGTH, "in"),
    ("ft foot feet", UNITS["ft"].size, _LENGTH, "in"),
    ("thou mil mils", MM_PER_INCH / 1000, _LENGTH, "in"),
    ("uin", MM_PER_INCH / 1e6, _LENGTH, "in"),
    ("N newton newtons", 1.0, _FORCE, "mm"),
    ("kN kilonewton kilonewtons", 1000.0, _FORCE, "mm"),
    ("kgf kp", 9.80665, _FORCE, "mm"),
    ("lbf lb lbs pound pounds", NEWTON_PER_POUND, _FORCE, "in"),
    ("ozf oz ounce ounces", NEWTON_PER_POUND / 16, _FORCE, "in"),
    ("min mins minute minutes", 1.0, _TIME, ""),
    ("s sec secs second seconds", UNITS["s"].size, _TIME, ""),
    ("h hr hrs hour hours", 60.0, _TIME, ""),
    ("Nm", 1000.0, _TORQUE, "mm"),
    ("Nmm", 1.0, _TORQUE, "mm"),
    ("Ncm", 10.0, _TORQUE, "mm"),
    ("kNm", 1e6, _TORQUE, "mm"),
    ("J joule joules", 1000.0, _TORQUE, "mm"),
    ("lbfin lbin inlbf inlb inlbs", _POUND_INCH, _TORQUE, "in"),
    ("lbfft lbft ftlbf ftlb ftlbs", UNITS["lbf*ft"].size, _TORQUE, "in"),
    ("ozin inoz", _POUND_INCH / 16, _TORQUE, "in"),
    ("Pa pascal pascals", 1e-6, _STRESS, "mm"),
    ("kPa", 1e-3, _STRESS, "mm"),
    ("MPa megapascal megapascals", 1.0, _STRESS, "mm"),
    ("GPa", 1e3, _STRESS, "mm"),
    ("bar", 0.1, _STRESS, "mm"),
    ("psi", UNITS["psi"].size, _STRESS, "in"),
    ("ksi", 1000 * UNITS["psi"].size, _STRESS, "in"),
    ("W watt watts", UNITS["W"].size, _POWER, "mm"),
    ("mW milliwatt milliwatts", UNITS["W"].size / 1000, _POWER, "mm"),
    ("kW kilowatt kilowatts", UNITS["kW"].size, _POWER, "mm"),
    ("MW megawatt megawatts", 1000 * UNITS["kW"].size, _POWER, "mm"),
    ("PS", 75 * 9.80665 * UNITS["W"].size, _POWER, "mm"),
    ("hp horsepower", UNITS["hp"].size, _POWER, "in"),
    ("K kelvin kelvins \u00b0C degC celsius", 1.0, _WARMTH, ""),
    ("\u00b0F degF fahrenheit", 5 / 9, _WARMTH, ""),
    ("rev revs r revolution revolutions turn turns", 1.0, _TURN, ""),
    ("rad rads radian radians", 1.0, _RADIAN, ""),
    ("deg degs degree degrees \u00b0", pi / 180, _RADIAN, ""),
    ("cycle cycles", 1.0, _CYCLE, ""),
    ("tooth teeth pitch pitches", 1.0, _TOOTH, ""),
    ("rpm r.p.m. r.p.m", 1.0, _powers(turn=1, time=-1), ""),
    ("rps", 60.0, _powers(turn=1, time=-1), ""),
    ("Hz hertz", 60.0, _powers(cycle=1, time=-1), ""),
    ("fpm sfm", UNITS["ft/min"].size, _powers(length=1, time=-1), "in"),
    ("ipm", UNITS["in/min"].size, _powers(length=1, time=-1), "in"),
    ("%", 0.01, _NOTHING, ""),
    ("ppm", 1e-6, _NOTHING, ""),
):
    for _name in _spellings.split():
        _NAMES[_name] = _size, _of, _system
# Written in capitals these can mean nothing else; of others a capital may change the size (mW and MW).
_EITHER_CASE = frozenset(
    ["rpm", "hp", "psi", "ksi", "in", "ft", "lbf", "lb", "kw", "deg", "rev", "kpa", "mpa"]
)

# What each dimension is, the powers that are read as it (with what turns their size into that of the
# dimension), units to write.
_READ: dict[str, tuple[str, dict[_Powers, float], str]] = {
    "length": ("a length", {_LENGTH: 1.0}, "mm, cm, m, um, in or ft"),
    "pitch": (
        "a pitch in teeth per inch",
        {_powers(length=-1): 1.0, _powers(length=-1, tooth=1): 1.0},
        "1/in",
    ),
    "angle": ("an angle", {_RADIAN: 1.0, _TURN: 2 * pi}, "deg or rad"),
    "count": ("a count", {_TOOTH: 1.0}, "nothing, or teeth"),
    "turns": ("a number of turns", {_TURN: 1.0, _RADIAN: 0.5 / pi}, "nothing, or turns"),
    "number": ("a plain number", {_NOTHING: 1.0}, "nothing, or %"),
    "speed": (
        "a speed of turning",
        {_powers(turn=1, time=-1): 1.0, _powers(radian=1, time=-1): 0.5 / pi, _powers(time=-1): 1.0},
        "rpm, rev/min, rev/s or rad/s",
    ),
    "angular speed": (
        "an angular speed",
        {_powers(radian=1, time=-1): 1.0, _powers(turn=1, time=-1): 2 * pi},
        "rad/s, deg/s or rpm",
    ),
    "linear speed": ("a linear speed", {_powers(length=1, time=-1): 1.0}, "m/s, mm/s, ft/min or in/s"),
    "frequency": (
        "a frequency",
        {_powers(time=-1): 1.0, _powers(cycle=1, time=-1): 1.0, _powers(tooth=1, time=-1): 1.0},
        "Hz, 1/s or 1/min",
    ),
    "time": ("a time", {_TIME: 1.0}, "s or min"),
    "force": ("a force", {_FORCE: 1.0}, "N, kN or lbf"),
    "torque": ("a torque", {_TORQUE: 1.0}, "N*m, N*mm, lbf*in or lbf*ft"),
    "stress": ("a stress", {_STRESS: 1.0}, "MPa, N/mm^2 or psi"),
    "power": ("a power", {_POWER: 1.0}, "W, kW or hp"),
    "temperature": ("a difference of temperature", {_WARMTH: 1.0}, "K, degC or degF"),
    "expansion": ("an expansion per kelvin", {_powers(warmth=-1): 1.0}, "1/K, 1e-6/K or um/(m*K)"),
}


@dataclass(frozen=True)
class Stated:
    """A number with the unit it was stated in.

    number: as it stands in the text [``unit``].
    unit: as it stands in the text.
    size: of the unit, among those of :data:`gearlab.theory.units.UNITS` [mm, N, min, rad, rev, K].
    system: "mm" or "in" where the unit belongs to one system alone, else "".
    """

    number: float
    unit: str
    size: float
    system: str


def read(text: str, meaning: str, dimension: str) -> Stated:
    """Read a number with its unit, of a given dimension.

    text: such as "2 hp", "1 1/2 in", "1.5e3 N*mm", "20°"; a decimal point, no comma.
    meaning: what it is the size of, for the messages.
    dimension: one of those of :data:`gearlab.theory.units.USUAL`.
    ValueError for what cannot be read, a missing or unknown unit, or a unit that measures something else.

    >>> read("14.5 N·m", "torque", "torque").size, read("1725 r/min", "speed", "speed").number
    (1000.0, 1725.0)
    >>> read("3 in", "power", "power")
    Traceback (most recent call last):
    ValueError: power '3 in' is a length, not a power: give it in W, kW or hp
    """
    if len(text) > _LONGEST:
        raise ValueError(
            f"{meaning} {text[:20]!r}... is too long to be a number with a unit: give something like"
            f" {_example(dimension)!r}"
        )
    number, rest = _number(text, meaning, dimension)
    what, ways, units = _READ[dimension]
    if not rest:
        bare = (
            f"write the number without quotes, {text.strip()}"
            if dimension in ("number", "count", "turns")
            else f"write it behind the number, in {units}, as in {_example(dimension)!r}"
        )
        raise ValueError(f"{meaning} {text!r} is text without a unit: {bare}")
    try:
        size, powers, system = _unit(rest)
    except KeyError as unknown:
        raise ValueError(
            f"{meaning} {text!r}: unit {unknown.args[0]!r} is unknown; give it in {units}"
        ) from None
    if powers not in ways:
        others = [name for name, measured, _ in _READ.values() if powers in measured]
        raise ValueError(
            f"{meaning} {text!r} is {others[0] if others else 'no quantity known here'}, not {what}: give it"
            f" in {units}"
        )
    return Stated(number, rest, size * ways[powers], system)


def _example(dimension: str) -> str:
    return {
        "length": "78.75 mm",
        "pitch": "10 1/in",
        "angle": "20 deg",
        "count": "18 teeth",
        "turns": "3 turns",
        "number": "92 %",
        "speed": "1725 rpm",
        "angular speed": "3 rad/s",
        "linear speed": "0.5 m/s",
        "frequency": "50 Hz",
        "time": "30 s",
        "force": "90 N",
        "torque": "14.5 N*m",
        "stress": "20 MPa",
        "power": "2 hp",
        "temperature": "20 K",
        "expansion": "70e-6/K",
    }[dimension]


_RAISED = str.maketrans("\u207b\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079", "-0123456789")
_LIKE = str.maketrans(
    {
        "\u2212": "-",
        "\u2013": "-",
        "\u00a0": " ",
        "\u2009": " ",
        "\u202f": " ",
        "\u00b7": "*",
        "\u22c5": "*",
        "\u2022": "*",
        "\u00d7": "*",
        "\u00b5": "u",
        "\u03bc": "u",
        "\u00ba": "\u00b0",
        "\u2044": "/",
    }
)
_NUMBER = re.compile(
    r"([+-]?)(?:(?:(\d+)["
    r" -])?(\d+)/(\d+)(?![\d.])|(\d+\.?\d*|\.\d+)(?:[eE]([+-]?\d{1,3})|\s*\*\s*10\^([+-]?\d{1,3}))?)"
)


def _number(text: str, meaning: str, dimension: str) -> tuple[float, str]:
    plain = re.sub(
        "[\u207b\u2070\u00b9\u00b2\u00b3\u2074-\u2079]+",
        lambda match: "^" + match.group().translate(_RAISED),
        text.translate(_LIKE),
    ).strip()
    match = _NUMBER.match(plain)
    if match is None:
        raise ValueError(
            f"{meaning} {text!r} does not begin with a number: give something like {_example(dimension)!r}"
        )
    rest = plain[match.end() :].strip()
    if (
        rest[:1] in (",", ".", "'")
        or rest[:1].isdigit()
        and not rest.startswith(("1/", "1e-6/", "10^-6/", "1 /"))
    ):
        raise ValueError(
            f"{meaning} {text!r} cannot be read: write one number with a decimal point and nothing between"
            f" its digits, as in {_example(dimension)!r}"
        )
    sign, whole, over, under, decimal, power, ten = match.groups()
    if under is not None and int(under) == 0:
        raise ValueError(
            f"{meaning} {text!r} divides by nothing: give something like {_example(dimension)!r}"
        )
    number = (
        int(over) / int(under) + int(whole or 0)
        if decimal is None
        else float(f"{decimal}e{power or ten or 0}")
    )
    return -number if sign == "-" else number, rest


_TOKEN = re.compile(
    r"(?P<ten>10\^-6|1e-6)|(?P<one>1(?![\d.]))|(?P<name>r\.p\.m\.?|[A-Za-z\u00b0%\"\u2033]+)(?:\^?(?P<power>-?[1-4]))?|(?P<mark>[*/().\s-])"
)


@lru_cache(maxsize=256)
def _unit(text: str) -> tuple[float, _Powers, str]:
    """Size, powers and system of a unit; a KeyError with the name that is unknown."""
    size, powers, systems = 1.0, list(_NOTHING), set()
    sign, inside, place = 1, 0, 0
    text = re.sub(r"\bper\b", "/", text)
    if text[-1] in "/*(-":
        raise KeyError(text)
    while place < len(text):
        match = _TOKEN.match(text, place)
        if match is None:
            raise KeyError(text)
        place = match.end()
        mark = match["mark"]
        if mark == "/":
            sign = -1  # what stands behind a stroke is below it: m/s/s, um/m/K
        elif mark == "(":
            inside += 1
        elif mark == ")":
            inside -= 1
            if inside < 0:
                raise KeyError(text)
        elif match["ten"]:
            size *= 1e-6
        elif match["name"]:
            unit_size, of, system = _known(match["name"])
            power = sign * int(match["power"] or 1)
            size *= unit_size**power
            powers = [total + power * part for total, part in zip(powers, of)]
            systems |= {system} - {""}
    if inside:
        raise KeyError(text)
    return size, tuple(powers), systems.pop() if len(systems) == 1 else ""


def _known(name: str) -> tuple[float, _Powers, str]:
    if name in _NAMES:
        return _NAMES[name]
    low = name.lower()
    if low in _EITHER_CASE or len(low) > 3 and low in _NAMES:
        return _NAMES[{"kw": "kW", "kpa": "kPa", "mpa": "MPa"}.get(low, low)]
    raise KeyError(name)
