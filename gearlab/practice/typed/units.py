"""Units as students write them and as they are told of them, and which are taken for one another."""

from __future__ import annotations

import math
from functools import cache

from gearlab.theory.units import MM_PER_INCH, SPOKEN, Unit, convertible, written
from gearlab.theory.units import UNITS as OF_THEORY

__all__ = [
    "A_DIMENSION",
    "BY_SPELLING",
    "OWN_SPELLINGS",
    "SPELLINGS",
    "UNITS",
    "other_units",
    "unit_in_words",
]


def _products(forces: str, arms: str) -> str:
    """Force times arm in either order, with nothing, a point or a hyphen between ("*" and spaces are taken
    out before).
    """
    return " ".join(
        mark.join(pair)
        for force in forces.split()
        for arm in arms.split()
        for pair in ((force, arm), (arm, force))
        for mark in ("", ".", "-")
    )


# Every unit by its own name, with the spellings students use, parted by spaces.  Compared without regard to
# case and spaces.
SPELLINGS: dict[str, tuple[str, ...]] = {
    unit: tuple(words.split())
    for unit, words in {
        "in": 'in inch inches "',
        "mm": "mm millimetre millimetres millimeter millimeters",
        "cm": "cm centimetre centimetres centimeter centimeters",
        "km": "km kilometre kilometres kilometer kilometers",
        "m": "m metre metres meter meters",
        "ft": "ft foot feet '",
        "1/in": '1/in /in in^-1 1/inch /inch perinch perin teethperinch teeth/in teeth/inch 1/" /" dp',
        "1/mm": "1/mm /mm mm^-1 permm teeth/mm",
        "deg": "deg degs degree degrees °",
        "rad": "rad rads radian radians",
        "rpm": "rpm rev/min revs/min r/min u/min 1/min /min min^-1 turns/min turn/min r.p.m revperminute "
        "revpermin revolutionsperminute turnsperminute perminute",
        "rev/s": "rev/s revs/s r/s rps rev/sec turns/s revpersecond turnspersecond revolutionspersecond "
        "1/s /s s^-1",
        "rad/s": "rad/s rad/sec radians/s radianspersecond radpersecond rads^-1 1/s /s s^-1",
        "rad/min": "rad/min radians/min radiansperminute",
        "deg/s": "deg/s °/s degrees/s degreespersecond deg/sec",
        "m/s": "m/s m/sec ms^-1 mps metrespersecond meterspersecond metres/s meters/s metre/s meter/s",
        "mm/s": "mm/s mm/sec mms^-1 millimetrespersecond millimeterspersecond millimetres/s millimeters/s",
        "ft/min": "ft/min fpm sfm sfpm feet/min feetperminute ftpermin ft/minute feet/minute",
        "in/min": 'in/min ipm inches/min inchesperminute "/min',
        "in/s": 'in/s ips inches/s inchespersecond in/sec "/s',
        "m/min": "m/min metresperminute metersperminute",
        "km/h": "km/h kph kmh km/hour kmperhour kilometresperhour kilometersperhour kilometres/hour "
        "kilometers/hour",
        "mm/min": "mm/min millimetresperminute millimetersperminute",
        "1/min": "1/min /min min^-1 perminute teeth/min teethperminute",
        "Hz": "hz hertz 1/s /s s^-1 persecond teeth/s teethpersecond teeth/sec 1/sec /sec",
        "s": "s sec secs second seconds",
        "min": "min mins minute minutes",
        "h": "h hr hrs hour hours",
        "um": "um µm μm micron microns micrometre micrometres micrometer micrometers",
        "N": "n newton newtons",
        "kN": "kn kilonewton kilonewtons",
        "lbf": "lbf lb lbs pound pounds poundforce pounds-force pound-force lb-f lb.f lb_f",
        "N*m": "nm n.m n-m newtonmetre newtonmetres newtonmeter newtonmeters newton-metre newton-metres "
        "newton-meter newton-meters",
        "N*mm": "nmm n.mm n-mm newtonmillimetre newtonmillimetres newtonmillimeter newtonmillimeters",
        "lbf*in": _products("lbf lb lbs", "in") + " " + _products("pound pounds", "inch inches"),
        "lbf*ft": _products("lbf lb lbs", "ft") + " " + _products("pound pounds", "foot feet"),
        "Pa": "pa n/m^2 n/m2 pascal pascals",
        "kPa": "kpa kilopascal kilopascals",
        "MPa": "mpa n/mm^2 n/mm2 megapascal megapascals newtonspersquaremillimetre newtons/mm^2 newtons/mm2 "
        "newtonspersquaremillimeter",
        "GPa": "gpa gigapascal gigapascals kn/mm^2 kn/mm2",
        "ksi": "ksi",
        "psi": "psi lbf/in^2 lb/in^2 lbf/in2 lb/in2 lbs/in^2 lbs/in2 poundspersquareinch",
        "W": "w watt watts nm/s j/s",
        "kW": "kw kilowatt kilowatts",
        "N*mm/min": "nmm/min",
        "lbf*in/min": "lbfin/min",
        "hp": "hp h.p horsepower",
        "K": "k kelvin kelvins degc °c",
        "1e-6/K": "1e-6/k 10^-6/k e-6/k ppm/k ppm/°c um/m/k um/(mk) um/mk µm/m/k µm/(mk) µm/mk μm/m/k "
        "μm/(mk) μm/mk",
        "1/K": "1/k /k k^-1 perkelvin 1/°c /°c",
        "teeth": "teeth tooth t",
        "1": "spaces space times",
        "pitches": "pitches pitch",
        "turns": "turns turn rev revs revolution revolutions",
        "%": "% percent pct",
    }.items()
}

_POUND = 0.45359237  # kg, exact by definition (NIST SP 811, appendix B)
_GRAVITY = 9.80665  # m/s^2, exact by definition (NIST SP 811, appendix B)
#: Every unit that a bank may name: those of theory, and some for what only a question's own formula asks for
#: [mm^2, mm^3, kg, kg/mm^3, J, kg*mm^2].
UNITS: dict[str, Unit] = OF_THEORY | {
    name: Unit(name, dimension, size)
    for dimension, sizes in {
        "length": {"thou": MM_PER_INCH / 1000},
        "angle": {"arcmin": math.pi / 10_800, "mrad": 1e-3},
        "frequency": {"kHz": 60_000.0},
        "linear speed": {"cm/s": 600.0, "cm/min": 10.0},
        "force": {"kgf": _GRAVITY},
        "torque": {"kN*m": 1e6, "mN*m": 1.0, "N*cm": 10.0, "ozf*in": _POUND * _GRAVITY * MM_PER_INCH / 16},
        "area": {"mm^2": 1.0, "cm^2": 1e2, "m^2": 1e6, "in^2": MM_PER_INCH**2},
        "volume": {"mm^3": 1.0, "cm^3": 1e3, "l": 1e6, "m^3": 1e9, "in^3": MM_PER_INCH**3},
        "mass": {"kg": 1.0, "g": 1e-3, "t": 1e3, "lb": _POUND},
        "density": {
            "kg/m^3": 1e-9,
            "g/cm^3": 1e-6,
            "kg/dm^3": 1e-6,
            "lb/in^3": _POUND / MM_PER_INCH**3,
        },
        "energy": {"J": 1.0, "kJ": 1e3, "Wh": 3600.0, "kWh": 3.6e6},
        "moment of inertia": {"kg*m^2": 1e6, "kg*mm^2": 1.0, "g*cm^2": 1e-1},
        "stiffness": {"N/mm": 1.0, "N/m": 1e-3, "kN/mm": 1e3},
    }.items()
    for name, size in sizes.items()
}


def _raised(spelling: str) -> set[str]:
    """A spelling with its power written ^3, 3 or ³."""
    return {spelling, spelling.replace("^", ""), spelling.replace("^2", "²").replace("^3", "³")}


_IN_WORDS = {
    "thou": "mil mils thous thousandth thousandths thousandthsofaninch thousandthofaninch",
    "arcmin": "' arcmins arcminute arcminutes minofarc minsofarc minuteofarc minutesofarc",
    "mrad": "mrads milliradian milliradians",
    "kHz": "kilohertz",
    "kN*m": "kn.m kn-m",
    "N*cm": "n.cm n-cm",
    "ozf*in": _products("oz ozf", "in") + " " + _products("ounce ounces", "inch inches"),
    "mm^2": "sqmm squaremillimetres squaremillimeters",
    "cm^2": "sqcm squarecentimetres squarecentimeters",
    "m^2": "sqm squaremetres squaremeters",
    "in^2": "sqin squareinches",
    "cm^3": "cc cubiccentimetres cubiccentimeters",
    "l": "litre litres liter liters dm^3 dm3 dm³",
    "in^3": "cuin cubicinches",
    "kg": "kgs kilogram kilograms kilogramme kilogrammes kilo kilos",
    "g": "gram grams gramme grammes",
    "t": "tonne tonnes",
    "lb": "lbm lbs pound pounds",
    "J": "joule joules",
    "kJ": "kilojoule kilojoules",
    "Wh": "watthour watthours",
    "kWh": "kilowatthour kilowatthours kw-h",
}
OWN_SPELLINGS: dict[str, tuple[str, ...]] = {
    name: tuple(
        sorted(_raised(name.lower().replace("*", "")), reverse=True) + _IN_WORDS.get(name, "").split()
    )
    for name in UNITS
    if name not in OF_THEORY
}

BY_SPELLING: dict[str, list[str]] = {}
for _unit, _spellings in (SPELLINGS | OWN_SPELLINGS).items():
    for _spelling in _spellings:
        BY_SPELLING.setdefault(_spelling, []).append(_unit)


# Units in which the right number is worth recognising although another was asked.
_OTHERS = {
    "length": ("in", "mm", "cm", "m", "ft", "um"),
    "pitch": ("1/in", "1/mm"),
    "angle": ("deg", "rad"),
    "speed": ("rpm", "rev/s", "rad/s"),
    "angular speed": ("rad/s", "rad/min", "deg/s"),
    "linear speed": ("m/s", "mm/s", "m/min", "mm/min", "ft/min", "in/min", "in/s"),
    "frequency": ("Hz", "1/min"),
    "time": ("s", "min"),
    "number": ("1", "%"),
    "force": ("N", "kN", "lbf"),
    "torque": ("N*m", "N*mm", "lbf*in", "lbf*ft"),
    "stress": ("MPa", "psi", "ksi"),
    "power": ("W", "kW", "hp"),
    "mass": ("kg", "g", "lb"),
    "area": ("mm^2", "cm^2", "m^2", "in^2"),
    "volume": ("mm^3", "cm^3", "l", "m^3", "in^3"),
    "density": ("kg/m^3", "g/cm^3", "lb/in^3"),
    "energy": ("J", "kJ", "Wh", "kWh"),
}
#: What a unit of a dimension measures, in words.
A_DIMENSION = {
    "length": "a length",
    "pitch": "a pitch in teeth per length",
    "angle": "an angle",
    "speed": "a speed of turning",
    "angular speed": "an angular speed",
    "linear speed": "a linear speed",
    "frequency": "a frequency",
    "time": "a time",
    "count": "a count",
    "number": "a plain number",
    "turns": "a number of turns",
    "force": "a force",
    "torque": "a torque",
    "temperature": "a difference of temperature",
    "stress": "a stress",
    "power": "a power",
    "expansion": "a coefficient of expansion",
    "area": "an area",
    "volume": "a volume",
    "mass": "a mass",
    "density": "a density",
    "energy": "an energy",
    "moment of inertia": "a moment of inertia",
    "stiffness": "a stiffness",
}
# As a question asks for them, where that is not as they are read out.
_ASKED = {
    "1": "as a plain number",
    "1/in": "in teeth per inch",
    "1/mm": "in teeth per millimetre",
    "%": "in percent",
    "lbf": "in pounds-force",
    "lbf*in": "in pound-force inches",
    "lbf*ft": "in pound-force feet",
}
# Known by their signs: written so in a sentence too.
_BY_SIGN = {
    "rpm",
    "rad/s",
    "m/s",
    "mm/s",
    "ft/min",
    "Hz",
    "MPa",
    "GPa",
    "psi",
    "ksi",
    "km/h",
    "W",
    "hp",
    "1/K",
}


def unit_in_words(name: str) -> str:
    """A unit as a question asks for it: "in millimetres", "in teeth per inch"."""
    return _ASKED.get(name) or f"in {name if name in _BY_SIGN else SPOKEN.get(name, written(name))}"


@cache
def other_units(dimension: str, asked: str) -> tuple[tuple[str, float], ...]:
    """Units in which a right number is recognised besides the one asked, and how many of it each is."""
    return tuple(
        (name, scale)
        for name in _OTHERS.get(dimension, ())
        if (scale := convertible(UNITS[name], UNITS[asked])) is not None and not 0.9999 < scale < 1.0001
    )
