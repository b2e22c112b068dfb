"""Published values of choosing counts, of the basic rack, and of tolerances."""

import math
from fractions import Fraction

from methods import given

from gearlab import derive
from gearlab.parts.convergents import continued_fraction, convergents
from gearlab.parts.published import quality
from gearlab.shape import Rack, ToothForm
from gearlab.theory.systems import full_round


def expansion(row):
    number = Fraction(*given(row, "num", "den"))
    if row["output"] == "cf":
        return list(continued_fraction(number))[: len(row["expected"]["value"])]
    return [f"{one.numerator}/{one.denominator}" for one in convergents(number)]


def one_convergent(row):
    num, den, k = given(row, "num", "den", "k")
    one = list(convergents(Fraction(num, den)))[k - 1]
    return [f"{one.numerator}/{one.denominator}"]


def rack_fillet(row):
    """The tip radius that leaves the basic rack's straight flank its working depth.

    The straight part of the cut rack ends one module below the pitch line.
    """
    angle, clearance = math.radians(given(row, "alpha")[0]), given(row, "c")[0]
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = (low + high) / 2
        if 1 + clearance - middle * (1 - math.sin(angle)) > 1:  # depth of the straight part
            low = middle
        else:
            high = middle
    ToothForm(40, Rack(angle, 1.0, 1 + clearance, low))  # it can be cut
    return low


def round_bottom(row):
    """The largest tip radius that a rack of that dedendum has room for."""
    return full_round(*given(row, "alpha", "hf"))


def root_on_base(row):
    return derive("teeth_root_outside_base", {"pressure_angle": 20.0}).result


def tooth_tolerance(row):
    names = {"fpt": "single pitch", "Fp": "total pitch", "Falpha": "profile", "Fr": "runout"}
    m, d, grade = (
        (given(row, "m_lo")[0] + given(row, "m_hi")[0]) / 2,
        (given(row, "d_lo")[0] + given(row, "d_hi")[0]) / 2,
        given(row, "grade")[0],
    )
    return quality.tooth_tolerances(m, d, grade)[names[row["output"]]]


def trade_class(row):
    return list(quality.TRADE_CLASSES[given(row, "cls")[0].lower()])


def composite(row):
    number, size = given(row, "quality", "size")
    teeth, diameter = {
        "<=20T": (18, 1.0),
        ">20T to 1.999 in": (30, 1.5),
        ">20T 2 to 3.999 in": (60, 3.0),
        ">20T 4 in and over": (90, 4.5),
    }[size]
    return list(quality.composite_tolerance(number, teeth, diameter))


def general(row):
    return [quality.general_tolerance(length) for length in (3.0, 20.0, 78.75, 220.0)]


METHODS = {
    "convergents": expansion,
    "convergent_k": one_convergent,
    "basic_rack_fillet": rack_fillet,
    "basic_rack_full_round": round_bottom,
    "root_on_base": root_on_base,
    "iso1328": tooth_tolerance,
    "trade_class": trade_class,
    "composite": composite,
    "general_tolerance": general,
}
