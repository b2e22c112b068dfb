"""Published tables typed a second time, apart from gearlab, and held against what its functions hand out.

Two typings of one table find a slip of the finger, not a wrong print: such checks are counted apart ("printed
table"). Where a law stands behind a table (ISO 1328's formulas, the number rule of screws, exact definitions
of units) the law is written out instead. A limit of a range is looked at from both sides.
"""

import math

from gearlab import Gear, InternalGear
from gearlab.parts.epicyclic import members
from gearlab.parts.published import fastening, fits, quality, recommended, strength
from gearlab.parts.review import contact as review_contact
from gearlab.parts.review import guards as review_guards
from gearlab.parts.review import hub as review_hub
from gearlab.parts.tolerances import EXPANSION
from gearlab.theory import faults, sizes, stated, system, units

PRINTED = {}


def printed(*modules):
    """A check of the tables of some modules."""

    def enter(function):
        PRINTED[function.__name__.replace("_", " ")] = (
            tuple(f"gearlab.{module}" for module in modules),
            function,
        )
        return function

    return enter


def same(told, expected, what):
    assert told == expected or (
        isinstance(expected, float) and math.isclose(told, expected, rel_tol=1e-12)
    ), f"{what}: gearlab tells {told!r}, printed {expected!r}"


def told(function, *given):
    """What is told, or that it is refused."""
    try:
        return function(*given)
    except ValueError:
        return "refused"


# ISO 53:1998 profile A; ANSI B6.1-1932 (dedendum 1.157 and tip radius 0.209 of its 14.5 degree rack; stub),
# ANSI B6.7, AGMA 201.02; tip radii 0.30 and 0.25 from memory.
@printed("theory.systems")
def tooth_systems():
    for name, angle, *proportions in (
        ("full depth", 14.5, 1, 1.157, 0.209, 0),
        ("full depth", 20, 1, 1.25, 0.38, 0),
        ("full depth", 25, 1, 1.25, 0.30, 0),
        ("stub", 20, 0.8, 1, 0.30, 0),
        ("fine pitch", 20, 1, 1.2, 0.25, 0.002),
    ):
        row = told(system, name, angle)
        assert row != "refused", f"{name} at {angle} deg is refused"
        same(
            [row.addendum, row.dedendum, row.tip_radius, row.extra_dedendum],
            proportions,
            f"{name} at {angle} deg",
        )
        same(row.pressure_angle, angle, name)


# ISO 54:1996 from 1 mm up; Shigley, table 13-2; 5 DP: Mott, table 8-2 (from memory).
@printed("theory.sizes")
def preferred_sizes():
    same(
        sizes.MODULES,
        (1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16, 20, 25, 32, 40, 50),
        "modules, first choice",
    )
    same(
        sizes.MODULES_SECOND_CHOICE,
        (1.125, 1.375, 1.75, 2.25, 2.75, 3.5, 4.5, 5.5, 6.5, 7, 9, 11, 14, 18, 22, 28, 36, 45),
        "modules, second choice",
    )
    same(sizes.COARSE_PITCHES, (2, 2.25, 2.5, 3, 4, 6, 8, 10, 12, 16), "coarse pitches")
    same(sizes.FINE_PITCHES, (20, 24, 32, 40, 48, 64, 80, 96, 120, 150, 200), "fine pitches")
    same(sizes.STOCK_PITCHES, (5,), "stock pitches")
    same(sizes.PREFERRED["module"], sizes.MODULES, "preferred modules")
    same(
        sizes.PREFERRED["diametral_pitch"],
        tuple(sorted((*sizes.COARSE_PITCHES, 5, *sizes.FINE_PITCHES))),
        "preferred pitches",
    )


# exact (NIST SP 811, appendix B): metre, newton (a pound times standard gravity), second
INCH, POUND, MINUTE = 0.0254, 0.45359237 * 9.80665, 60.0
# What each unit is in metres, newtons, seconds, radians, revolutions.
EXACT = {
    "mm": 1e-3,
    "um": 1e-6,
    "cm": 1e-2,
    "m": 1.0,
    "in": INCH,
    "ft": 0.3048,
    "1/in": 1 / INCH,
    "1/mm": 1e3,
    "N": 1.0,
    "kN": 1e3,
    "lbf": POUND,
    "m/s": 1.0,
    "mm/s": 1e-3,
    "in/s": INCH,
    "km": 1e3,
    "km/h": 1e3 / 3600,
    "h": 3600.0,
    "m/min": 1 / MINUTE,
    "mm/min": 1e-3 / MINUTE,
    "in/min": INCH / MINUTE,
    "ft/min": 0.3048 / MINUTE,
    "N*m": 1.0,
    "N*mm": 1e-3,
    "lbf*in": POUND * INCH,
    "lbf*ft": POUND * 0.3048,
    "Pa": 1.0,
    "kPa": 1e3,
    "MPa": 1e6,
    "GPa": 1e9,
    "ksi": 1e3 * POUND / INCH**2,
    "psi": POUND / INCH**2,
    "W": 1.0,
    "kW": 1e3,
    "hp": 550 * POUND * 0.3048,
    "N*mm/min": 1e-3 / MINUTE,
    "lbf*in/min": POUND * INCH / MINUTE,
    "K": 1.0,
    "1/K": 1.0,
    "1e-6/K": 1e-6,
    "rad": 1.0,
    "deg": math.pi / 180,
    "rpm": 1 / MINUTE,
    "rev/s": 1.0,
    "rad/min": 1 / MINUTE,
    "rad/s": 1.0,
    "deg/s": math.pi / 180,
    "1/min": 1 / MINUTE,
    "Hz": 1.0,
    "min": MINUTE,
    "s": 1.0,
    "teeth": 1.0,
    "pitches": 1.0,
    "turns": 1.0,
    "1": 1.0,
    "%": 0.01,
}


@printed("theory.units")
def units_of_measure():
    """Each against the first of its dimension, by the exact definitions.

    A unit that is missing here gets its row in EXACT.
    """
    same(units.MM_PER_INCH, 25.4, "inch [mm]")
    same(units.NEWTON_PER_POUND, 4.4482216152605, "pound-force [N]")
    first = {}
    for name, unit in units.UNITS.items():
        if name not in EXACT:
            continue
        other = first.setdefault(unit.dimension, name)
        told_share, exact = units.UNITS[name].size / units.UNITS[other].size, EXACT[name] / EXACT[other]
        assert math.isclose(told_share, exact, rel_tol=1e-11), (
            f"{name} is {told_share!r} {other}, by definition {exact!r}"
        )
    # and the first of each by what theory computes in: millimetres, minutes, radians, revolutions, newtons
    theory = {
        "length": ("mm", 1.0),
        "pitch": ("1/mm", 1.0),
        "linear speed": ("mm/min", 1.0),
        "force": ("N", 1.0),
        "torque": ("N*mm", 1.0),
        "stress": ("MPa", 1.0),
        "power": ("N*mm/min", 1.0),
        "temperature": ("K", 1.0),
        "expansion": ("1/K", 1.0),
        "angle": ("rad", 1.0),
        "speed": ("rpm", 1.0),
        "angular speed": ("rad/min", 1.0),
        "frequency": ("1/min", 1.0),
        "time": ("min", 1.0),
        "count": ("teeth", 1.0),
        "turns": ("turns", 1.0),
        "number": ("1", 1.0),
    }
    for dimension, (name, size) in theory.items():
        same(units.UNITS[name].size, size, f"{name}, in which theory computes a {dimension}")


# NIST SP 811, appendix B.8, where a unit is no power of ten: what each spelling means in metres, newtons,
# seconds, radians, turns, kelvins.
_OUNCE, _KILOPOND = POUND / 16, 9.80665
SPELT = {
    "length": {
        "mm millimetre millimetres millimeter millimeters": 1e-3,
        "cm centimetre centimetres centimeter centimeters": 1e-2,
        "m metre metres meter meters": 1.0,
        "km kilometre kilometres kilometer kilometers": 1e3,
        "um micron microns micrometre micrometres micrometer micrometers": 1e-6,
        'in inch inches " \u2033': INCH,
        "ft foot feet": 0.3048,
        "thou mil mils": INCH / 1000,
        "uin": INCH / 1e6,
    },
    "force": {
        "N newton newtons": 1.0,
        "kN kilonewton kilonewtons": 1e3,
        "kgf kp": _KILOPOND,
        "lbf lb lbs pound pounds": POUND,
        "ozf oz ounce ounces": _OUNCE,
    },
    "time": {
        "min mins minute minutes": MINUTE,
        "s sec secs second seconds": 1.0,
        "h hr hrs hour hours": 3600.0,
    },
    "torque": {
        "Nm J joule joules": 1.0,
        "Nmm": 1e-3,
        "Ncm": 1e-2,
        "kNm": 1e3,
        "lbfin lbin inlbf inlb inlbs": POUND * INCH,
        "lbfft lbft ftlbf ftlb ftlbs": POUND * 0.3048,
        "ozin inoz": _OUNCE * INCH,
    },
    "stress": {
        "Pa pascal pascals": 1.0,
        "kPa": 1e3,
        "MPa megapascal megapascals": 1e6,
        "GPa": 1e9,
        "bar": 1e5,
        "psi": POUND / INCH**2,
        "ksi": 1e3 * POUND / INCH**2,
    },
    "power": {
        "W watt watts": 1.0,
        "mW milliwatt milliwatts": 1e-3,
        "kW kilowatt kilowatts": 1e3,
        "MW megawatt megawatts": 1e6,
        "PS": 735.49875,
        "hp horsepower": 550 * POUND * 0.3048,
    },
    "temperature": {"K kelvin kelvins \u00b0C degC celsius": 1.0, "\u00b0F degF fahrenheit": 5 / 9},
    "turns": {
        "rev revs r revolution revolutions turn turns": 1.0,
        "rad rads radian radians": 0.5 / math.pi,
        "deg degs degree degrees \u00b0": 1 / 360,
    },
    "angle": {
        "rev revs r revolution revolutions turn turns": math.tau,
        "rad rads radian radians": 1.0,
        "deg degs degree degrees \u00b0": math.pi / 180,
    },
    "count": {"tooth teeth pitch pitches": 1.0},
    "number": {"%": 0.01, "ppm": 1e-6},
    "pitch": {"1/in teeth/in": 1 / INCH, "1/mm": 1e3},
    "speed": {"rps rev/s": 1.0, "rpm r.p.m. r.p.m rev/min": 1 / MINUTE, "rad/s": 0.5 / math.pi, "1/s": 1.0},
    "angular speed": {"rad/s": 1.0, "rpm": math.tau / MINUTE, "rev/s": math.tau},
    "linear speed": {"m/s": 1.0, "fpm sfm ft/min": 0.3048 / MINUTE, "ipm in/min": INCH / MINUTE},
    "frequency": {"Hz hertz cycle/s cycles/s tooth/s 1/s": 1.0, "1/min": 1 / MINUTE},
    "expansion": {"1/K": 1.0, "1e-6/K um/m/K": 1e-6, "1/degF": 9 / 5},
}


@printed("theory.stated")
def units_as_they_are_written():
    """Each spelling against the exact definitions, among theory's units.

    Every name that is read stands here.
    """
    theory = {
        "length": 1e-3,
        "pitch": 1e3,
        "force": 1.0,
        "time": MINUTE,
        "torque": 1e-3,
        "stress": 1e6,
        "power": 1e-3 / MINUTE,
        "temperature": 1.0,
        "turns": 1.0,
        "angle": 1.0,
        "count": 1.0,
        "number": 1.0,
        "speed": 1 / MINUTE,
        "angular speed": 1 / MINUTE,
        "linear speed": 1e-3 / MINUTE,
        "frequency": 1 / MINUTE,
        "expansion": 1.0,
    }
    for dimension, spellings in SPELT.items():
        for names, exact in spellings.items():
            for name in names.split():
                size = stated.read(f"3 {name}", "a size", dimension).size
                assert math.isclose(size, exact / theory[dimension], rel_tol=1e-11), (
                    f"1 {name} is read as {size!r}, by definition {exact / theory[dimension]!r}"
                )
    read = {
        part
        for spellings in SPELT.values()
        for names in spellings
        for name in names.split()
        for part in (name, *name.split("/"))
    }
    assert not (left := stated._NAMES.keys() - read), (
        f"these spellings stand in no row of SPELT: {', '.join(sorted(left))}"
    )


@printed("theory.faults", "parts.epicyclic.members")
def ways_of_turning():
    """Touching points of two wheels go the same way.

    Outside each other they turn opposite ways, in a ring the same way.
    """
    # a point on the right of one wheel goes up; it lies on the left of the other, or on the right of the ring
    outside, inside = -1, 1
    same(
        faults._TURNING,
        {
            "pair": {"driver": 1, "driven": outside},
            "internal pair": {"driver": 1, "driven": inside},
            "idler train": {"first": 1, "second": outside, "third": outside * outside},
            "compound train": {"first": 1, "second": outside, "third": outside, "fourth": outside * outside},
        },
        "ways of turning",
    )
    # Two bevel gears on either side of a planet turn opposite ways; on which side the sign is plus is agreed
    # on.
    same(
        members.SIGNS,
        {"external": outside, "internal": inside, "bevel left": -1, "bevel right": 1},
        "signs of meshes",
    )


# ISO 286-2:2010 (from memory): upper limit of the size, IT6, IT7, IT8, upper deviations of f and g, lower
# ones of k and p [um].
LIMITS = (
    (3, 6, 10, 14, -6, -2, 0, 6),
    (6, 8, 12, 18, -10, -4, 1, 12),
    (10, 9, 15, 22, -13, -5, 1, 15),
    (18, 11, 18, 27, -16, -6, 1, 18),
    (30, 13, 21, 33, -20, -7, 2, 22),
    (50, 16, 25, 39, -25, -9, 2, 26),
)


# ISO 286-2:2010 (from memory), limits of shafts as a table of shafts prints them, upper and lower [um], at
# sizes 3, 6, 10, 18, 24, 30, 40 and 50 mm; one size where the ranges are not finer than those above.
SHAFTS = {
    "c11": "-60/-120 -70/-145 -80/-170 -95/-205 -110/-240 -110/-240 -120/-280 -130/-290",
    "d9": "-20/-45 -30/-60 -40/-76 -50/-93 -65/-117 -65/-117 -80/-142 -80/-142",
    "e8": "-14/-28 -20/-38 -25/-47 -32/-59 -40/-73 -40/-73 -50/-89 -50/-89",
    "f7": "-6/-16 -10/-22 -13/-28 -16/-34 -20/-41 -20/-41 -25/-50 -25/-50",
    "g6": "-2/-8 -4/-12 -5/-14 -6/-17 -7/-20 -7/-20 -9/-25 -9/-25",
    "h9": "0/-25 0/-30 0/-36 0/-43 0/-52 0/-52 0/-62 0/-62",
    "h10": "0/-40 0/-48 0/-58 0/-70 0/-84 0/-84 0/-100 0/-100",
    "h11": "0/-60 0/-75 0/-90 0/-110 0/-130 0/-130 0/-160 0/-160",
    "js5": "2/-2 2.5/-2.5 3/-3 4/-4 4.5/-4.5 4.5/-4.5 5.5/-5.5 5.5/-5.5",
    "k6": "6/0 9/1 10/1 12/1 15/2 15/2 18/2 18/2",
    "m6": "8/2 12/4 15/6 18/7 21/8 21/8 25/9 25/9",
    "n6": "10/4 16/8 19/10 23/12 28/15 28/15 33/17 33/17",
    "r6": "16/10 23/15 28/19 34/23 41/28 41/28 50/34 50/34",
    "s6": "20/14 27/19 32/23 39/28 48/35 48/35 59/43 59/43",
    "u6": "24/18 31/23 37/28 44/33 54/41 61/48 76/60 86/70",
}
# The same of holes at 10 and 25 mm.
HOLES = {
    "D9": "76/40 117/65",
    "E8": "47/25 73/40",
    "F8": "35/13 53/20",
    "G7": "20/5 28/7",
    "JS7": "7.5/-7.5 10.5/-10.5",
}


def every_letter():
    sizes = (3, 6, 10, 18, 24, 30, 40, 50)
    for shaft, printed_limits in SHAFTS.items():
        least = 0.5
        for most, limits in zip(sizes, printed_limits.split(), strict=True):
            for size in (least, most):
                told_fit = told(fits.fit, f"H7/{shaft}", size)
                assert told_fit != "refused", f"{shaft} of {size} mm is refused"
                same(
                    [round(1000 * limit, 6) for limit in (told_fit.shaft_upper, told_fit.shaft_lower)],
                    [float(limit) for limit in limits.split("/")],
                    f"{shaft} of {size} mm",
                )
            least = most + 0.001
    for hole, printed_limits in HOLES.items():
        for size, limits in zip((10, 25), printed_limits.split(), strict=True):
            told_fit = told(fits.fit, f"{hole}/h6", size)
            assert told_fit != "refused", f"{hole} of {size} mm is refused"
            same(
                [round(1000 * limit, 6) for limit in (told_fit.hole_upper, told_fit.hole_lower)],
                [float(limit) for limit in limits.split("/")],
                f"{hole} of {size} mm",
            )


@printed("parts.published.fits")
def limits_and_fits():
    least = 0.5
    for most, six, seven, eight, f, g, k, p in LIMITS:
        for size in (least, most):
            for name, hole, shaft_limits in (
                ("H7/f7", seven, (f, f - seven)),
                ("H8/g6", eight, (g, g - six)),
                ("H6/h8", six, (0, -eight)),
                ("H7/k6", seven, (k + six, k)),
                ("H7/p6", seven, (p + six, p)),
            ):
                found = told(fits.fit, name, size)
                assert found != "refused", f"{name} of {size} mm is refused"
                same(
                    [
                        round(1000 * one, 6)
                        for one in (found.hole_upper, found.hole_lower, found.shaft_upper, found.shaft_lower)
                    ],
                    [hole, 0, *shaft_limits],
                    f"{name} of {size} mm",
                )
        least = most + 0.001
    same(told(fits.fit, "H7/h6", 50.01), "refused", "sizes above 50 mm")
    every_letter()
    # ANSI B4.2 preferred metric fits (from memory): close running H8/f7 and H7/g6, locational clearance
    # H7/h6, locational interference H7/p6; f7 in H7 runs too.
    same(
        {name: fits.fit(name, 10).name for name in ("running", "close running", "sliding", "press")},
        {"running": "H7/f7", "close running": "H7/g6", "sliding": "H7/h6", "press": "H7/p6"},
        "named fits",
    )


@printed("parts.review.guards")
def reaching_through_a_guard():
    """ISO 13857:2008, table 4, slots, persons of 14 years and above (from memory): above, up to, least
    distance [mm]; above 120 no distance will do."""
    for above, most, least in (
        (0, 4, 2),
        (4, 6, 10),
        (6, 8, 20),
        (8, 10, 80),
        (10, 12, 100),
        (12, 20, 120),
        (20, 30, 850),
        (30, 40, 850),
        (40, 120, 850),
    ):
        for opening in (above + 0.001, most):
            same(review_guards.least_distance(opening), least, f"behind a slot of {opening} mm")
    same(review_guards.least_distance(120.001), None, "behind a slot above 120 mm")


# DIN 6885-1 / ISO 773: shaft up to; width, height, depth in the shaft and in the hub [mm]. ANSI B17.1-1967,
# table 1: shaft up to, square key [in].
METRIC_KEYS = (
    (8, 2, 2, 1.2, 1.0),
    (10, 3, 3, 1.8, 1.4),
    (12, 4, 4, 2.5, 1.8),
    (17, 5, 5, 3.0, 2.3),
    (22, 6, 6, 3.5, 2.8),
    (30, 8, 7, 4.0, 3.3),
    (38, 10, 8, 5.0, 3.3),
    (44, 12, 8, 5.0, 3.3),
    (50, 14, 9, 5.5, 3.8),
    (58, 16, 10, 6.0, 4.3),
)
INCH_KEYS = (
    (7 / 16, 3 / 32),
    (9 / 16, 1 / 8),
    (7 / 8, 3 / 16),
    (1.25, 1 / 4),
    (1.375, 5 / 16),
    (1.75, 3 / 8),
    (2.25, 1 / 2),
    (2.75, 5 / 8),
    (3.25, 3 / 4),
    (3.75, 7 / 8),
    (4.5, 1.0),
)


@printed("parts.published.fastening")
def keys():
    least = 6.0
    for most, *expected in METRIC_KEYS:
        for size in (least, most):
            found = told(fastening.key, size)
            assert found != "refused", f"a shaft of {size} mm is refused"
            same(
                [found.width, found.height, found.shaft_depth, found.hub_depth],
                expected,
                f"key of a {size} mm shaft",
            )
        least = math.nextafter(most, math.inf)
    least = math.nextafter(5 / 16, 1)
    for most, width in INCH_KEYS:
        for size in (least, most):
            found = told(fastening.key, size, "in")
            assert found != "refused", f"a shaft of {size} in is refused"
            same(
                [found.width, found.height, found.shaft_depth],
                [width, width, width / 2],
                f"key of a {size} in shaft",
            )
        least = math.nextafter(most, math.inf)
    for size, unit in ((5.99, "mm"), (58.01, "mm"), (5 / 16, "in"), (4.51, "in")):
        same(told(fastening.key, size, unit), "refused", f"a shaft of {size} {unit}")


# ASME B18.3 diameters and Unified coarse threads (fine for #0), Shigley, table 7-4: seating torque [lbf in]
# and holding power [lbf] (from memory).
INCH_SCREWS = {
    "#0": (0.060, 80, 1.0, 50),
    "#1": (0.073, 64, 1.8, 65),
    "#2": (0.086, 56, 1.8, 85),
    "#3": (0.099, 48, 5, 120),
    "#4": (0.112, 40, 5, 160),
    "#5": (0.125, 40, 10, 200),
    "#6": (0.138, 32, 10, 250),
    "#8": (0.164, 32, 20, 385),
    "#10": (0.190, 24, 36, 540),
    "1/4": (1 / 4, 20, 87, 1000),
    "5/16": (5 / 16, 18, 165, 1500),
    "3/8": (3 / 8, 16, 290, 2000),
    "7/16": (7 / 16, 14, 430, 2500),
    "1/2": (1 / 2, 13, 620, 3000),
    "5/8": (5 / 8, 11, 1325, 4000),
    "3/4": (3 / 4, 10, 2400, 5000),
}
# ISO 261 coarse threads (from memory), seating torque of a maker (seen) [N m].
METRIC_SCREWS = {
    "M3": (3, 0.5, 0.92),
    "M4": (4, 0.7, 2.2),
    "M5": (5, 0.8, 4.0),
    "M6": (6, 1.0, 7.2),
    "M8": (8, 1.25, 17.0),
    "M10": (10, 1.5, 33.0),
}


@printed("parts.published.fastening")
def set_screws():
    for size, (diameter, threads, torque, power) in INCH_SCREWS.items():
        screw = fastening.set_screw(size)
        same(
            [screw.diameter, round(1 / screw.pitch, 9), screw.seating_torque],
            [diameter, threads, torque],
            f"screw {size}",
        )
        least, most = screw.holding_force()
        same(round((least + most) / 2 / fastening.SOFT_SHAFT, 6), power, f"holding power of {size}")
        same(
            round((most - least) / (most + least), 9),
            0.3,
            "scatter of the holding power: about 30 % (Shigley, section 7-8, from memory)",
        )
        if size.startswith("#"):
            same(round(screw.diameter, 9), round(0.060 + 0.013 * int(size[1:]), 9), f"number rule of {size}")
    for size, expected in METRIC_SCREWS.items():
        screw = fastening.set_screw(size)
        same([screw.diameter, screw.pitch, screw.seating_torque], list(expected), f"screw {size}")
    # ANSI B17.1 (from memory): set screws over square keys.
    for width, size in (
        (3 / 32, "#10"),
        (1 / 8, "#10"),
        (3 / 16, "1/4"),
        (1 / 4, "5/16"),
        (5 / 16, "3/8"),
        (3 / 8, "3/8"),
        (1 / 2, "1/2"),
    ):
        found = told(fastening.set_screw_over, fastening.Key(width, width, width / 2, width / 2, "in"))
        same(getattr(found, "size", found), size, f"screw over a key of {width} in")
    # ISO 4026 and ASME B18.3, lengths of set screws (from memory).
    same(
        fastening.LENGTHS,
        {
            "mm": (4, 5, 6, 8, 10, 12, 16, 20),
            "in": (1 / 8, 3 / 16, 1 / 4, 5 / 16, 3 / 8, 1 / 2, 5 / 8, 3 / 4),
        },
        "lengths of set screws",
    )


# ASME B1.1, fine series (UNF), threads to the inch, and ISO 261, fine pitches [mm] (from memory).
FINE_INCH = {
    **{"#1": 72, "#2": 64, "#3": 56, "#4": 48, "#5": 44, "#6": 40, "#8": 36, "#10": 32},
    **{"1/4": 28, "5/16": 24, "3/8": 24, "7/16": 20, "1/2": 20, "5/8": 18, "3/4": 16},
}
FINE_METRIC = [("M5", 0.5), ("M6", 0.75), ("M8", 1.0), ("M10", 1.0), ("M10", 1.25)]


@printed("parts.published.fastening")
def fine_threads():
    for size, threads in FINE_INCH.items():
        if size in INCH_SCREWS:
            screw = told(fastening.set_screw, f"{size}-{threads}")
            same(getattr(screw, "pitch", screw), 1 / threads, f"fine thread of {size}")
    for size, pitch in FINE_METRIC:
        screw = told(fastening.set_screw, f"{size}x{pitch:g}")
        same(getattr(screw, "pitch", screw), pitch, f"fine thread of {size}")


# Shigley, table 14-2 (from memory), and a maker's engineering information (from memory).
TEXTBOOK = {
    12: 0.245,
    13: 0.261,
    14: 0.277,
    15: 0.290,
    16: 0.296,
    17: 0.303,
    18: 0.309,
    19: 0.314,
    20: 0.322,
    21: 0.328,
    22: 0.331,
    24: 0.337,
    26: 0.346,
    28: 0.353,
    30: 0.359,
    34: 0.371,
    38: 0.384,
    43: 0.397,
    50: 0.409,
    60: 0.422,
    75: 0.435,
    100: 0.447,
    150: 0.460,
    300: 0.472,
    400: 0.480,
    math.inf: 0.485,
}
MAKER = {
    10: (0.176, 0.201),
    11: (0.192, 0.226),
    12: (0.210, 0.245),
    13: (0.223, 0.264),
    14: (0.236, 0.276),
    15: (0.245, 0.289),
    16: (0.255, 0.295),
    17: (0.264, 0.302),
    18: (0.270, 0.308),
    19: (0.277, 0.314),
    20: (0.283, 0.320),
    22: (0.292, 0.330),
    24: (0.302, 0.337),
    26: (0.308, 0.344),
    28: (0.314, 0.352),
    30: (0.318, 0.358),
    34: (0.325, 0.370),
    38: (0.332, 0.383),
    45: (0.340, 0.399),
    50: (0.346, 0.408),
    60: (0.355, 0.421),
    75: (0.361, 0.433),
    100: (0.368, 0.446),
    150: (0.375, 0.458),
    300: (0.382, 0.471),
    math.inf: (0.390, 0.484),
}


@printed("parts.published.strength")
def form_factors_and_stresses():
    for count, factor in TEXTBOOK.items():
        same(told(strength.form_factor, count), factor, f"form factor of {count} teeth")
    for count, factors in MAKER.items():
        same(
            (
                told(strength.form_factor, count, 14.5, "maker"),
                told(strength.form_factor, count, 20.0, "maker"),
            ),
            factors,
            f"the maker's form factors of {count} teeth",
        )
    # A maker's static stresses [psi] (seen).
    for material, stress in {
        "plastic": 5000,
        "bronze": 10000,
        "cast iron": 12000,
        "0.20 C untreated": 20000,
        "0.20 C case-hardened": 25000,
        "0.40 C untreated": 25000,
        "0.40 C heat-treated": 30000,
        "0.40 C alloy heat-treated": 40000,
    }.items():
        same(strength.static_stress(material, "psi"), stress, material)
    # C. G. Barth's constants, Shigley, section 14-2 [ft/min].
    same(
        [round(strength.speed_constant(made, "in"), 9) for made in ("cast", "cut")],
        [600, 1200],
        "speed constants",
    )


# AGMA 236.04 and 390.02, as tabulated by a gear maker (seen) [in]: quality, tooth-to-tooth and total
# composite tolerance by size.
COMPOSITE = {
    (18, 1.0): {5: (0.0037, 0.0052), 6: (0.0027, 0.0037), 7: (0.0019, 0.0027), 8: (0.0014, 0.0019)},
    (30, 1.5): {5: (0.0027, 0.0052), 6: (0.0019, 0.0037), 7: (0.0014, 0.0027)},
    (60, 3.0): {6: (0.0019, 0.0044), 7: (0.0014, 0.0032)},
    (90, 4.5): {7: (0.0014, 0.0037)},
}


@printed("parts.published.quality")
def composite_and_trade_classes():
    for (teeth, diameter), rows in COMPOSITE.items():
        for number in (5, 6, 7, 8):
            same(
                told(quality.composite_tolerance, number, teeth, diameter),
                rows.get(number, "refused"),
                f"quality {number} of {teeth} teeth",
            )
    same(
        quality.TRADE_CLASSES,
        {
            "commercial 1": (0.002, 0.006),
            "commercial 2": (0.0015, 0.004),
            "commercial 3": (0.001, 0.002),
            "commercial 4": (0.0007, 0.0015),
            "precision 1": (0.0004, 0.001),
            "precision 2": (0.0003, 0.0005),
            "precision 3": (0.0002, 0.00025),
        },
        "trade classes",
    )


# ISO 2768-1, class m (from memory): from 0.5 up to 6, 30, 120 and 400 mm.
@printed("parts.published.quality")
def general_tolerances():
    for length, off in (
        (0.5, 0.1),
        (6, 0.1),
        (6.01, 0.2),
        (30, 0.2),
        (30.01, 0.3),
        (120, 0.3),
        (120.01, 0.5),
        (400, 0.5),
        (400.01, "refused"),
    ):
        same(told(quality.general_tolerance, length), off, f"a length of {length} mm")


# ISO 1328-1:1995, annex A (from memory): formulas at grade 5 with the geometric means of the ranges, each
# grade the square root of 2 wider.
@printed("parts.published.quality")
def ranges_of_iso_1328():
    diameters, modules = (5, 20, 50, 125, 280, 560, 1000), (0.5, 2, 3.5, 6, 10, 16, 25)

    def expected(m, d, grade):
        total = (0.3 * m + 1.25 * math.sqrt(d) + 7) * math.sqrt(2) ** (grade - 5)
        profile, single = 3.2 * math.sqrt(m) + 0.22 * math.sqrt(d) + 0.7, 0.3 * (m + 0.4 * math.sqrt(d)) + 4
        return total, 0.8 * total, *(one * math.sqrt(2) ** (grade - 5) for one in (profile, single))

    for low, high in zip(diameters, diameters[1:], strict=False):
        for m_low, m_high in zip(modules, modules[1:], strict=False):
            for d, m in ((low + 0.001, m_low + 0.001), (high, m_high)):
                found = told(quality.tooth_tolerances, m, d, 9)
                assert found != "refused", f"module {m}, diameter {d} is refused"
                for word, number in zip(
                    ("total pitch", "runout", "profile", "single pitch"),
                    expected(math.sqrt(m_low * m_high), math.sqrt(low * high), 9),
                    strict=True,
                ):
                    # at grade 9 the steps of rounding (1 um) are finer than what a range moved by one does
                    assert abs(found[word] - number) <= 0.5, (
                        f"{word} of module {m}, diameter {d}: {found[word]} against {number}"
                    )
    for m, d in ((0.49, 50), (25.1, 50), (2, 4.9), (2, 1000.1), (0.5, 5), (25, 1000)):
        same(
            told(quality.tooth_tolerances, m, d, 9) == "refused",
            not (0.5 <= m <= 25 and 5 <= d <= 1000),
            f"module {m}, diameter {d}",
        )


# ISO/TR 10064-2:1996 and ANSI/AGMA 2002-B88 (from memory): the sums behind the printed tables, and the
# corners of these.
@printed("parts.published.recommended")
def recommended_backlash():
    sums = {
        "ISO/TR 10064-2": (
            lambda m, a: math.ceil(round(2 / 3 * (0.06 + 0.0005 * a + 0.03 * m) / 0.01, 9)) * 0.01,
            (1.5, 8),
            (50, 800),
        ),
        "AGMA 2002, metric": (
            lambda m, a: round(round((0.06 + 0.0005 * a + 0.03 * m) / 0.01, 9)) * 0.01,
            (1.5, 8),
            (50, 800),
        ),
        "AGMA 2002, inch": (
            lambda m, a: math.floor(round((0.002 + 0.0005 * a + 0.03 * m) / 0.001, 9) + 0.5) * 0.001,
            (1 / 18, 1 / 1.25),
            (2, 32),
        ),
    }
    for name, (law, modules, distances) in sums.items():
        table = recommended.RECOMMENDED_BACKLASH[name]
        for share in range(41):
            m, a = (
                modules[0] + share / 40 * (modules[1] - modules[0]),
                distances[0] + share**2 / 1600 * (distances[1] - distances[0]),
            )
            same(told(table.backlash, m, a), round(law(m, a), 6), f"{name}, module {m}, distance {a}")
        m, a = sum(modules) / 2, sum(distances) / 2
        for one, two in (
            (modules[0] - 1e-6, a),
            (modules[1] + 1e-6, a),
            (m, distances[0] - 1e-3),
            (m, distances[1] + 1e-3),
        ):
            same(told(table.backlash, one, two), "refused", f"{name}, module {one}, distance {two}")


# Common handbook tables (from memory) [1e-6/K].
@printed("parts.tolerances")
def thermal_expansion():
    same(
        {name: round(number * 1e6, 6) for name, number in EXPANSION.items()},
        {
            "acrylic": 70,
            "acetal": 110,
            "nylon": 90,
            "printed polylactide": 68,
            "aluminium": 23,
            "brass": 19,
            "steel": 12,
            "birch plywood": 6,
        },
        "expansion",
    )


# Van Keuren pins: 1.728/P for external gears, 1.44/P between pins (from memory).
@printed("parts.gauging", "parts.internal")
def usual_pins():
    gear, ring = Gear(18, module=2), InternalGear(60, module=2)
    same(gear.over_pins(), gear.over_pins(3.456), "usual pin of a gear")
    same(ring.between_pins(), ring.between_pins(2.88), "usual pin of a ring")


# Mott, Machine Elements in Mechanical Design: rim of 1.2 whole depths (section 9-9), contact ratio of at
# least 1.2 (section 8-4), both from memory; one pair at least must touch.
@printed("parts.review.hub", "parts.review.contact")
def limits_of_the_textbooks():
    same(
        (review_hub.LEAST_RIM, review_contact.WANTED_CONTACT, review_contact.LEAST_CONTACT),
        (1.2, 1.2, 1.0),
        "rim and contact ratio",
    )


# Numbers of our own making, which nobody printed; each says so where it stands.
OURS = {
    (
        "gearlab.parts.published.fastening",
        "SOFT_SHAFT",
    ): "half of the table's holding power on a soft shaft is called a guess where it stands",
    ("gearlab.parts.shaft", "STOCK_STEP"): "lengths to which a school workshop cuts its shafts",
    (
        "gearlab.parts.review.hub",
        "LEAST_HUB",
    ): "below the usual 1.8 bores on purpose: what is let pass without a word",
}
