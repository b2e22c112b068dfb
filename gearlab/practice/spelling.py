"""How students write units: every unit by its own name, with the spellings that are read as it."""

from __future__ import annotations

__all__ = ["BY_SPELLING", "SPELLINGS"]


def _products(forces: tuple[str, ...], arms: tuple[str, ...]) -> tuple[str, ...]:
    """Force times arm in either order, with nothing, a point or a hyphen between ("*" and spaces are taken
    out before).
    """
    return tuple(
        mark.join(pair)
        for force in forces
        for arm in arms
        for pair in ((force, arm), (arm, force))
        for mark in ("", ".", "-")
    )


# Every unit by its own name, with the spellings students use.  Compared without regard to case and spaces.
SPELLINGS: dict[str, tuple[str, ...]] = {
    "in": ("in", "inch", "inches", '"'),
    "mm": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    "cm": ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
    "m": ("m", "metre", "metres", "meter", "meters"),
    "ft": ("ft", "foot", "feet"),
    "1/in": (
        "1/in",
        "/in",
        "in^-1",
        "1/inch",
        "/inch",
        "perinch",
        "perin",
        "teethperinch",
        "teeth/in",
        "teeth/inch",
        '1/"',
        '/"',
    ),
    "1/mm": ("1/mm", "/mm", "mm^-1", "permm", "teeth/mm"),
    "deg": ("deg", "degs", "degree", "degrees", "°"),
    "rad": ("rad", "rads", "radian", "radians"),
    "rpm": (
        "rpm",
        "rev/min",
        "revs/min",
        "r/min",
        "1/min",
        "/min",
        "min^-1",
        "turns/min",
        "turn/min",
        "r.p.m",
        "revperminute",
        "revpermin",
        "revolutionsperminute",
        "turnsperminute",
        "perminute",
    ),
    "rev/s": (
        "rev/s",
        "revs/s",
        "r/s",
        "rps",
        "rev/sec",
        "turns/s",
        "revpersecond",
        "turnspersecond",
        "revolutionspersecond",
    ),
    "rad/s": (
        "rad/s",
        "rad/sec",
        "radians/s",
        "radianspersecond",
        "radpersecond",
        "rads^-1",
        "1/s",
        "/s",
        "s^-1",
    ),
    "rad/min": ("rad/min", "radians/min", "radiansperminute"),
    "deg/s": ("deg/s", "°/s", "degrees/s", "degreespersecond", "deg/sec"),
    "m/s": ("m/s", "m/sec", "ms^-1", "metrespersecond", "meterspersecond"),
    "mm/s": ("mm/s", "mm/sec", "mms^-1", "millimetrespersecond", "millimeterspersecond"),
    "ft/min": ("ft/min", "fpm", "feet/min", "feetperminute", "ftpermin", "ft/minute", "feet/minute"),
    "in/min": ("in/min", "ipm", "inches/min", "inchesperminute", '"/min'),
    "in/s": ("in/s", "ips", "inches/s", "inchespersecond", "in/sec", '"/s'),
    "m/min": ("m/min", "metresperminute", "metersperminute"),
    "mm/min": ("mm/min", "millimetresperminute", "millimetersperminute"),
    "1/min": ("1/min", "/min", "min^-1", "perminute", "teeth/min", "teethperminute"),
    "Hz": (
        "hz",
        "hertz",
        "1/s",
        "/s",
        "s^-1",
        "persecond",
        "teeth/s",
        "teethpersecond",
        "teeth/sec",
        "1/sec",
        "/sec",
    ),
    "s": ("s", "sec", "secs", "second", "seconds"),
    "min": ("min", "mins", "minute", "minutes"),
    "um": ("um", "µm", "μm", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"),
    "N": ("n", "newton", "newtons"),
    "kN": ("kn", "kilonewton", "kilonewtons"),
    "lbf": (
        "lbf",
        "lb",
        "lbs",
        "pound",
        "pounds",
        "poundforce",
        "pounds-force",
        "pound-force",
        "lb-f",
        "lb.f",
    ),
    "N*m": (
        "nm",
        "n.m",
        "n-m",
        "newtonmetre",
        "newtonmetres",
        "newtonmeter",
        "newtonmeters",
        "newton-metre",
        "newton-metres",
        "newton-meter",
        "newton-meters",
    ),
    "N*mm": (
        "nmm",
        "n.mm",
        "n-mm",
        "newtonmillimetre",
        "newtonmillimetres",
        "newtonmillimeter",
        "newtonmillimeters",
    ),
    "lbf*in": (
        *_products(("lbf", "lb", "lbs"), ("in",)),
        *_products(("pound", "pounds"), ("inch", "inches")),
    ),
    "lbf*ft": (*_products(("lbf", "lb", "lbs"), ("ft",)), *_products(("pound", "pounds"), ("foot", "feet"))),
    "Pa": ("pa", "n/m^2", "n/m2", "pascal", "pascals"),
    "kPa": ("kpa", "kilopascal", "kilopascals"),
    "MPa": ("mpa", "n/mm^2", "n/mm2", "megapascal", "megapascals"),
    "psi": ("psi", "lbf/in^2", "lb/in^2", "lbf/in2", "lb/in2"),
    "W": ("w", "watt", "watts", "nm/s", "j/s"),
    "kW": ("kw", "kilowatt", "kilowatts"),
    "N*mm/min": ("nmm/min",),
    "lbf*in/min": ("lbfin/min",),
    "hp": ("hp", "horsepower"),
    "K": ("k", "kelvin", "kelvins", "degc", "°c"),
    "1e-6/K": (
        "1e-6/k",
        "10^-6/k",
        "e-6/k",
        "ppm/k",
        "ppm/°c",
        *(f"{um}/{rest}" for um in ("um", "µm", "μm") for rest in ("m/k", "(mk)", "mk")),
    ),
    "1/K": ("1/k", "/k", "k^-1", "perkelvin", "1/°c", "/°c"),
    "teeth": ("teeth", "tooth", "t"),
    "1": ("spaces", "space", "times"),
    "pitches": ("pitches", "pitch"),
    "turns": ("turns", "turn", "rev", "revs", "revolution", "revolutions"),
    "%": ("%", "percent", "pct"),
}

BY_SPELLING: dict[str, list[str]] = {}
for _unit, _spellings in SPELLINGS.items():
    for _spelling in _spellings:
        BY_SPELLING.setdefault(_spelling, []).append(_unit)
