"""Formulas of the measured gear.

Chord, span, size over pins, tips of an odd count, an indicator on the pitch circle.
"""

import sympy as sp
from sympy import Rational, acos, cos, pi, sin, tan

from .. import ranges
from ..functions import arcinv, inv, odd_factor
from ..ranges import Terms
from ..relation import Relation
from . import ways

_DUDLEY = "E. Buckingham, Analytical Mechanics of Gears, chapter 4 (tooth measurement); ISO 21771:2007"
_PRACTICE = "common practice"


def _shifted(q: Terms) -> sp.Expr:
    """Tangent of the pressure angle on the circle that the profile shift has moved outwards."""
    return tan(acos(q.teeth * cos(q.pressure_angle) / (q.teeth + 2 * q.profile_shift)))


# A row is read as a row.
# fmt: off
MEASURING_RELATIONS = (
    Relation("chordal_thickness", lambda q: q.pitch_diameter * sin(q.tooth_thickness / q.pitch_diameter),
             "The chord across the tooth on the pitch circle is a little shorter than the arc.", _DUDLEY, ranges.PITCH_ON_FLANK, of="toothed outside"),
    Relation("chordal_addendum", lambda q: q.addendum + q.pitch_diameter / 2 * (1 - cos(q.tooth_thickness / q.pitch_diameter)),
             "The chord lies a little below the pitch circle, so its height to the tip is a little more than the addendum.", _DUDLEY, ranges.PITCH_ON_FLANK, of="toothed outside"),
    Relation("ideal_span_teeth", lambda q: q.teeth * q.pressure_angle / pi + Rational(1, 2),
             "The jaws touch near the pitch circle when they take in the share of the teeth that the pressure angle is of half a turn.", _DUDLEY,
             "without profile shift", unless=("profile_shift",), of="toothed outside"),
    Relation("ideal_span_teeth", lambda q: q.teeth / pi * (_shifted(q) - inv(q.pressure_angle))
             - 2 * q.profile_shift * tan(q.pressure_angle) / pi + Rational(1, 2),
             "With profile shift the jaws should touch near the circle that the shift has moved outwards.", _DUDLEY, needs=("profile_shift",), of="toothed outside"),
    Relation("span", lambda q: (pi * (q.span_teeth - Rational(1, 2)) + q.teeth * inv(q.pressure_angle)) * q.module * cos(q.pressure_angle)
             + 2 * q.profile_shift * q.module * sin(q.pressure_angle) - q.tooth_thinning * cos(q.pressure_angle),
             "Two parallel jaws over k teeth span k - 1 base pitches and one tooth thickness on the base circle.", _DUDLEY, ranges.JAWS_ON_FLANK, of="toothed outside", way=ways.SPAN),
    Relation("space_half_angle", lambda q: pi / q.teeth - q.tooth_thickness / q.pitch_diameter - inv(q.pressure_angle),
             "On the base circle a space is narrower than on the pitch circle by the involute function on either side.", _DUDLEY, of="toothed outside"),
    Relation("ideal_pin", lambda q: q.base_diameter * (tan(tan(q.pressure_angle) + q.space_half_angle) - tan(q.pressure_angle)),
             "The pin whose normals meet the flanks on the pitch circle touches them at mid-height.", _DUDLEY, "without profile shift", unless=("profile_shift",), of="toothed outside"),
    Relation("ideal_pin", lambda q: q.base_diameter * (tan(_shifted(q) + q.space_half_angle) - _shifted(q)),
             "With profile shift the pin should touch at the circle that the shift has moved outwards.", _DUDLEY, needs=("profile_shift",), of="toothed outside"),
    Relation("pin_angle", lambda q: arcinv(q.tooth_thickness / q.pitch_diameter + q.pin_diameter / q.base_diameter + inv(q.pressure_angle) - pi / q.teeth),
             "A pin in a space touches both flanks; its centre lies on the involute that is half a pin further out.", _DUDLEY, of="toothed outside"),
    Relation("pin_parity", lambda q: odd_factor(q.teeth), "With an odd count two pins are never quite opposite.", _DUDLEY, one_way=True, of="toothed outside"),
    Relation("over_pins", lambda q: q.base_diameter / cos(q.pin_angle) * q.pin_parity + q.pin_diameter,
             "The size over two pins is the distance of their centres plus one pin diameter.", _DUDLEY, ranges.PIN_ON_FLANK, of="toothed outside"),
    Relation("next_span", lambda q: q.span + q.base_pitch, "Each tooth more in the span adds one base pitch.", _DUDLEY, of="single"),
    Relation("thinning_by_span", lambda q: q.span_shortfall / cos(q.pressure_angle),
             "The jaws measure square to the flanks; on the pitch circle the thinning is larger by the cosine of the pressure angle.", _DUDLEY, of="single"),
    Relation("across_tip_middles", lambda q: q.outside_radius * (1 + cos(pi / q.teeth)),
             "With an odd count a tip is opposite a space: the middles of the two tips beside that space are half a pitch to either side, and so a little nearer.", "geometry",
             of="single"),
    Relation("tip_reading_shortfall", lambda q: q.outside_diameter - q.across_tip_middles, "What the reading lacks to the outside diameter.", "definition",
             ranges.ODD, of="single"),
    Relation("across_tips", lambda q: q.outside_radius * (1 + cos(pi / q.teeth - q.tip_thickness / q.outside_diameter)),
             "Flat jaws do not rest on the middles of the two tips opposite, but on the corners nearest to the line of measurement: half a tip thickness nearer to it.", "geometry",
             ranges.ODD, of="single"),
    Relation("indicator_swing", lambda q: 2 * q.bore_offset, "In one turn the pitch circle comes nearer and goes away again by the offset.", _PRACTICE, of="single"),
    Relation("backlash_swing", lambda q: 4 * q.bore_offset * tan(q.pressure_angle),
             "The centre distance in effect swings by twice the offset, and each bit of it opens the backlash by twice the tangent of the pressure angle.", _PRACTICE,
             ranges.small("offsets small beside the module", lambda q: q.bore_offset, "module", Rational(1, 10), lambda q: q.module), of="single"),
    Relation("fitting_diameter", lambda q: q.plate_height - 2 * q.edge_margin, "What the margins on both sides leave of the height.", "definition", of="single"),
    Relation("fitting_teeth", lambda q: q.fitting_diameter / q.module - 2 * q.addendum_factor, "The tips take one addendum on each side; the rest is the pitch diameter.",
             _PRACTICE, of="single"),
)
# fmt: on
