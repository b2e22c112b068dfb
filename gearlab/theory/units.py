"""Units and their conversion: the only place where 25.4, 12, 60 and 1000 stand.

Theory works in one length unit at a time (inches or millimetres), with minutes, radians and
revolutions per minute. Values enter and leave it through ``boundary``.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import pi
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    import numpy as np

MM_PER_INCH = 25.4  # exact by definition (NIST SP 811, appendix B)

NEWTON_PER_POUND = 4.4482216152605  # pound-force, exact by definition (NIST SP 811, appendix B)

#: A number, or an array of them: what goes in comes out.
N = TypeVar("N", bound="float | np.ndarray")

_LENGTHS = {
    "mm": 1.0,
    "um": 0.001,
    "cm": 10.0,
    "m": 1000.0,
    "km": 1e6,
    "in": MM_PER_INCH,
    "ft": 12 * MM_PER_INCH,
}
_FORCES = {"N": 1.0, "kN": 1000.0, "lbf": NEWTON_PER_POUND}
_TIMES = {"min": 1.0, "s": 1.0 / 60.0, "h": 60.0}  # in minutes


@dataclass(frozen=True)
class Unit:
    """A unit: its name, dimension and size in millimetres, minutes, radians, revolutions [-].

    >>> UNITS["ft/min"].dimension, UNITS["1/in"].dimension
    ('linear speed', 'pitch')
    """

    name: str
    dimension: str
    size: float
    length_power: int = 0


UNITS: dict[str, Unit] = {}
for _name, _size in _LENGTHS.items():
    UNITS[_name] = Unit(_name, "length", _size, 1)
for _name in ("in", "mm"):
    UNITS[f"1/{_name}"] = Unit(f"1/{_name}", "pitch", 1.0 / _LENGTHS[_name], -1)
for _length, _time in (
    ("m", "s"),
    ("km", "h"),
    ("mm", "s"),
    ("in", "s"),
    ("m", "min"),
    ("mm", "min"),
    ("in", "min"),
    ("ft", "min"),
):
    UNITS[f"{_length}/{_time}"] = Unit(
        f"{_length}/{_time}", "linear speed", _LENGTHS[_length] / _TIMES[_time], 1
    )
for _name, _size in _FORCES.items():
    UNITS[_name] = Unit(_name, "force", _size)
for _force, _length in (("N", "m"), ("N", "mm"), ("lbf", "in"), ("lbf", "ft")):
    UNITS[f"{_force}*{_length}"] = Unit(
        f"{_force}*{_length}", "torque", _FORCES[_force] * _LENGTHS[_length], 1
    )
for _unit in (
    # theory's stress is its force on a square of its length unit (N/mm^2 is MPa), its power a torque times
    # radians a minute
    Unit("Pa", "stress", 1e-6),
    Unit("kPa", "stress", 1e-3),
    Unit("MPa", "stress", 1.0),
    Unit("GPa", "stress", 1000.0),
    Unit("ksi", "stress", 1000 * NEWTON_PER_POUND / MM_PER_INCH**2),
    Unit("psi", "stress", NEWTON_PER_POUND / MM_PER_INCH**2),
    Unit("W", "power", 1000.0 * 60),
    Unit("kW", "power", 1e6 * 60),
    Unit("hp", "power", 33000 * 12 * MM_PER_INCH * NEWTON_PER_POUND),
    Unit("N*mm/min", "power", 1.0),
    Unit("lbf*in/min", "power", MM_PER_INCH * NEWTON_PER_POUND),
    Unit("K", "temperature", 1.0),
    Unit("1e-6/K", "expansion", 1e-6),
    Unit("1/K", "expansion", 1.0),
    Unit("rad", "angle", 1.0),
    Unit("deg", "angle", pi / 180),
    Unit("rpm", "speed", 1.0),
    Unit("rev/s", "speed", 60.0),
    Unit("rad/min", "angular speed", 1.0),
    Unit("rad/s", "angular speed", 60.0),
    Unit("deg/s", "angular speed", 60 * pi / 180),
    Unit("1/min", "frequency", 1.0),
    Unit("Hz", "frequency", 60.0),
    Unit("min", "time", 1.0),
    Unit("s", "time", 1.0 / 60.0),
    Unit("h", "time", 60.0),
    Unit("teeth", "count", 1.0),
    Unit("pitches", "count", 1.0),
    Unit("turns", "turns", 1.0),
    Unit("1", "number", 1.0),
    Unit("%", "number", 0.01),
):
    UNITS[_unit.name] = _unit

# What theory computes in, for each dimension; {0} is the length unit, {1} the force that goes with it, {2}
# the arm of a torque, {3} the stress, {4} the power.
_WITH_LENGTH = {"mm": ("N", "m", "MPa", "W"), "in": ("lbf", "in", "psi", "hp")}
_THEORY = {
    "length": "{0}",
    "pitch": "1/{0}",
    "angle": "rad",
    "count": "teeth",
    "number": "1",
    "turns": "turns",
    "speed": "rpm",
    "angular speed": "rad/min",
    "linear speed": "{0}/min",
    "frequency": "1/min",
    "time": "min",
    "force": "{1}",
    "torque": "{1}*{0}",
    "stress": "{3}",
    "power": "{1}*{0}/min",
    "temperature": "K",
    "expansion": "1/K",
}
# What a question of a bank means where it states no unit; courses that are handed out rest on it. Everything
# else goes by USUAL.
_SHOWN = {
    **_THEORY,
    "angle": "deg",
    "angular speed": "rad/s",
    "frequency": "Hz",
    "time": "s",
    "torque": "{1}*{2}",
    "expansion": "1e-6/K",
    "power": "{4}",
}
#: The unit in which each dimension is given and told, everywhere outside theory: for a metric and for an inch
#: design. A diametral pitch is teeth per inch in both. Where both are the same, a bare number needs nothing
#: else to settle its unit.
USUAL: dict[str, tuple[str, str]] = {
    "length": ("mm", "in"),
    "pitch": ("1/in", "1/in"),
    "angle": ("deg", "deg"),
    "count": ("teeth", "teeth"),
    "number": ("1", "1"),
    "turns": ("turns", "turns"),
    "speed": ("rpm", "rpm"),
    "angular speed": ("rad/s", "rad/s"),
    "linear speed": ("m/s", "ft/min"),
    "frequency": ("Hz", "Hz"),
    "time": ("s", "s"),
    "force": ("N", "lbf"),
    "torque": ("N*m", "lbf*in"),
    "stress": ("MPa", "psi"),
    "power": ("W", "hp"),
    "temperature": ("K", "K"),
    "expansion": ("1/K", "1/K"),
}
_COUNTING = {"count", "number", "turns"}

LENGTH_UNITS = ("in", "mm")


def unit(name: str) -> Unit:
    """The unit of that name.

    ValueError if there is none: with the one that is meant, or all there are.

    >>> unit("deg").dimension
    'angle'
    >>> unit("inch")
    Traceback (most recent call last):
    ValueError: unit 'inch' is unknown: write 'in'
    """
    try:
        return UNITS[name]
    except (KeyError, TypeError):
        meant = str(name).lower().replace("meter", "metre")
        near = [
            short
            for short, spoken in SPOKEN.items()
            if meant == short.lower() or len(meant) > 2 and spoken.startswith(meant)
        ]
        told = f": write {near[0]!r}" if near else f"; known units: {', '.join(UNITS)}"
        raise ValueError(f"unit {name!r} is unknown{told}") from None


_WRITTEN = {name: name.replace("*", "\u00b7") for name in UNITS} | {
    "um": "\u00b5m",
    "1e-6/K": "10\u207b\u2076/K",
}


@lru_cache(maxsize=1024)
def written(name: str) -> str:
    """A unit as a reader sees it: N\u00b7m for N*m, \u00b5m for um; others as they are.

    >>> written("N*m"), written("um"), written("mm")
    ('N\u00b7m', '\u00b5m', 'mm')
    """
    return _WRITTEN.get(name) or name.replace("*", "\u00b7").replace("^2", "\u00b2").replace("^3", "\u00b3")


#: Units as they are read out [-].
SPOKEN = {
    "mm": "millimetres",
    "in": "inches",
    "cm": "centimetres",
    "m": "metres",
    "ft": "feet",
    "deg": "degrees",
    "rad": "radians",
    "rpm": "turns per minute",
    "rad/s": "radians per second",
    "m/s": "metres per second",
    "mm/s": "millimetres per second",
    "ft/min": "feet per minute",
    "1/in": "per inch",
    "Hz": "hertz",
    "s": "seconds",
    "min": "minutes",
    "%": "per cent",
    "N": "newtons",
    "kN": "kilonewtons",
    "lbf": "pounds of force",
    "N*m": "newton metres",
    "N*mm": "newton millimetres",
    "lbf*in": "pound inches",
    "MPa": "megapascals",
    "psi": "pounds per square inch",
    "W": "watts",
    "hp": "horsepower",
    "um": "micrometres",
    "K": "kelvins",
    "1/K": "per kelvin",
}


def theory_unit(dimension: str, length_unit: str) -> str:
    """The unit in which theory computes a dimension, for a length unit "in" or "mm".

    >>> theory_unit("pitch", "in"), theory_unit("linear speed", "mm")
    ('1/in', 'mm/min')
    """
    return _lookup(_THEORY, dimension, length_unit)


def shown_unit(dimension: str, length_unit: str) -> str:
    """The unit that a question of a bank means where it states none.

    For everything else see :func:`usual_unit`.

    >>> shown_unit("angle", "in"), shown_unit("count", "mm")
    ('deg', 'teeth')
    """
    return _lookup(_SHOWN, dimension, length_unit)


def usual_unit(dimension: str, length_unit: str) -> str:
    """The unit in which a dimension is given and told, for a design in "mm" or "in".

    One for each in the whole package.

    >>> (
    ...     usual_unit("torque", "mm"),
    ...     usual_unit("torque", "in"),
    ...     usual_unit("linear speed", "in"),
    ...     usual_unit("pitch", "mm"),
    ... )
    ('N*m', 'lbf*in', 'ft/min', '1/in')
    """
    _lookup(_THEORY, dimension, length_unit)
    return USUAL[dimension][LENGTH_UNITS[::-1].index(length_unit)]


def _lookup(table: dict[str, str], dimension: str, length_unit: str) -> str:
    if length_unit not in LENGTH_UNITS:
        raise ValueError(f"length unit {length_unit!r} is not one theory works in: use 'in' or 'mm'")
    if dimension not in table:
        raise ValueError(f"dimension {dimension!r} is unknown; known: {', '.join(table)}")
    return table[dimension].format(length_unit, *_WITH_LENGTH[length_unit])


def alike(dimension: str, other: str) -> bool:
    """Whether two dimensions are the same, or both count without a unit and may stand for one another."""
    return dimension == other or {dimension, other} <= _COUNTING


def convertible(unit_from: str | Unit, unit_to: str | Unit) -> float | None:
    """How many `unit_to` make one `unit_from` where a reader may state either [-]; None where they measure
    different things.

    Beyond `factor`, turns may be told as an angle and rpm in rad/s: a turn is 2 pi radians (definition).

    >>> round(convertible("rad/s", "rpm"), 4), convertible("mm", "rpm")
    (9.5493, None)
    """
    source, target = (side if isinstance(side, Unit) else unit(side) for side in (unit_from, unit_to))
    if alike(source.dimension, target.dimension):
        return 1.0 if source.size == target.size else source.size / target.size
    pair = (source.dimension, target.dimension)
    if pair in _IN_TURNS:
        return source.size * 2 * pi / target.size
    return source.size / (2 * pi * target.size) if pair[::-1] in _IN_TURNS else None


# A number of turns, and the angle or angular speed that says the same.
_IN_TURNS = {("speed", "angular speed"), ("turns", "angle")}


def _sizes(unit_from: str, unit_to: str) -> tuple[float, float]:
    source, target = unit(unit_from), unit(unit_to)
    if not alike(source.dimension, target.dimension):
        raise ValueError(
            f"cannot convert {unit_from} ({source.dimension}) into {unit_to} ({target.dimension}): "
            "they measure different things"
        )
    return source.size, target.size


def factor(unit_from: str, unit_to: str) -> float:
    """How many ``unit_to`` [-] make one ``unit_from`` [-].

    ValueError if the two measure different things.

    >>> factor("in", "mm")
    25.4
    """
    return convert(1.0, unit_from, unit_to)


def convert(value: N, unit_from: str, unit_to: str) -> N:
    """Convert a value [unit_from] (float or array) into another unit of the same dimension [unit_to].

    >>> round(convert(3.15, "in", "mm"), 9)
    80.01
    >>> round(convert(2.5, "mm", "in"), 6)
    0.098425
    """
    size_from, size_to = _sizes(unit_from, unit_to)
    converted: Any = value * 1.0 if size_from == size_to else value * size_from / size_to
    return converted
