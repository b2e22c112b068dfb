"""Formulas of two gears in mesh: distance, contact, backlash, interference."""

from sympy import acos, cos, pi, sin, sqrt, tan

from ..functions import arcinv, inv
from .relation import Relation

_MOTT = "R. L. Mott, Machine Elements in Mechanical Design, 4th ed., chapter 8"
_ISO = "ISO 21771:2007, Gears: cylindrical involute gears and gear pairs"
_SHIGLEY = "Shigley's Mechanical Engineering Design, section 13-7 (interference)"
_BEVAN = "T. Bevan, The Theory of Machines, 3rd ed., chapter 10"

PAIR_RELATIONS = (
    Relation("reference_centre_distance", lambda q: (q.driver_pitch_diameter + q.driven_pitch_diameter) / 2,
             "When the pitch circles touch, the shafts are one pitch radius plus one pitch radius apart.", _MOTT, of="external"),
    Relation("reference_centre_distance", lambda q: (q.driven_pitch_diameter - q.driver_pitch_diameter) / 2,
             "Inside a ring, the shafts are the ring's pitch radius less the pinion's apart.", _MOTT, of="internal"),
    Relation("tooth_difference", lambda q: q.driven_teeth - q.driver_teeth, "How many more teeth the driven gear has.", "definition", of="pair"),
    Relation("operating_pressure_angle", lambda q: acos(q.reference_centre_distance * cos(q.pressure_angle) / q.centre_distance),
             "The base circles stay, so the pressure angle opens with the centre distance.", _ISO,
             "for a centre distance above the sum of the base radii", of="external", needs=("set distance",)),
    Relation("operating_pressure_angle", lambda q: arcinv(inv(q.pressure_angle) + 2 * tan(q.pressure_angle)
             * (q.driver_profile_shift + q.driven_profile_shift) / (q.driver_teeth + q.driven_teeth)),
             "Profile shift makes the teeth thicker; without backlash the gears then run further apart, at a larger pressure angle.",
             _ISO, "for teeth without thinning", of="external", needs=("profile_shift",), unless=("set distance",)),
    Relation("centre_distance", lambda q: q.reference_centre_distance * cos(q.pressure_angle) / cos(q.operating_pressure_angle),
             "The base circles stay, so the centre distance grows as the operating pressure angle opens.", _ISO,
             of="external", needs=("profile_shift",), unless=("set distance",)),
    Relation("driver_operating_pitch_diameter", lambda q: 2 * q.centre_distance / (1 + q.ratio),
             "The operating pitch circles touch at the point that divides the centre distance in the ratio of the teeth.", _ISO, of="external"),
    Relation("driven_operating_pitch_diameter", lambda q: 2 * q.centre_distance * q.ratio / (1 + q.ratio),
             "The operating pitch circles touch at the point that divides the centre distance in the ratio of the teeth.", _ISO, of="external"),
    Relation("operating_circular_pitch", lambda q: pi * q.driver_operating_pitch_diameter / q.driver_teeth,
             "On the operating pitch circles teeth follow one another at the operating circular pitch.", _ISO, of="external"),
    Relation("driver_operating_thickness", lambda q: q.driver_operating_pitch_diameter
             * (q.driver_tooth_thickness / q.driver_pitch_diameter + inv(q.pressure_angle) - inv(q.operating_pressure_angle)),
             "An involute tooth grows thinner outwards by the difference of the involute functions.", _ISO, of="external"),
    Relation("driven_operating_thickness", lambda q: q.driven_operating_pitch_diameter
             * (q.driven_tooth_thickness / q.driven_pitch_diameter + inv(q.pressure_angle) - inv(q.operating_pressure_angle)),
             "An involute tooth grows thinner outwards by the difference of the involute functions.", _ISO, of="external"),
    Relation("backlash", lambda q: q.operating_circular_pitch - q.driver_operating_thickness - q.driven_operating_thickness,
             "Backlash is what a space is wider than the tooth in it, along the operating pitch circles.", _ISO, of="external"),
    Relation("length_of_recess", lambda q: sqrt(q.driver_outside_radius**2 - q.driver_base_radius**2) - q.driver_base_radius * tan(q.operating_pressure_angle),
             "Contact ends where the driver's outside circle crosses the line of action.", _MOTT + "; " + _ISO, "without undercut or interference", of="external"),
    Relation("length_of_approach", lambda q: sqrt(q.driven_outside_radius**2 - q.driven_base_radius**2) - q.driven_base_radius * tan(q.operating_pressure_angle),
             "Contact begins where the driven gear's outside circle crosses the line of action.", _MOTT + "; " + _ISO, "without undercut or interference", of="external"),
    Relation("length_of_action", lambda q: q.length_of_approach + q.length_of_recess, "The length of action is approach and recess together.", _ISO, of="external"),
    Relation("contact_ratio", lambda q: q.length_of_action / q.base_pitch,
             "The contact ratio tells how many pairs of teeth share the length of action, on average.", _MOTT, "without undercut or interference", of="external"),
    Relation("arc_of_contact", lambda q: q.length_of_action / cos(q.operating_pressure_angle),
             "While two teeth touch along the line of action, the pitch circles roll on by that length over the cosine of the pressure angle.", _BEVAN, of="external"),
    Relation("driver_contact_angle", lambda q: q.length_of_action / q.driver_base_radius,
             "The line of action unwinds from the base circle like a string: its length over the base radius is the angle turned.", _BEVAN, of="external"),
    Relation("driven_contact_angle", lambda q: q.length_of_action / q.driven_base_radius,
             "The line of action winds onto the base circle like a string: its length over the base radius is the angle turned.", _BEVAN, of="external"),
    Relation("sliding_speed_at_start", lambda q: q.length_of_approach * q.driver_angular_speed * (1 + 1 / q.ratio),
             "Seen from one gear, the other turns about the pitch point with both angular speeds together; the sliding is that times the distance from it.",
             _BEVAN, of="external"),
    Relation("sliding_speed_at_end", lambda q: q.length_of_recess * q.driver_angular_speed * (1 + 1 / q.ratio),
             "Seen from one gear, the other turns about the pitch point with both angular speeds together; the sliding is that times the distance from it.",
             _BEVAN, of="external"),
    Relation("driver_specific_sliding", lambda q: (q.driven_base_radius * tan(q.operating_pressure_angle) + q.length_of_approach)
             / (q.ratio * (q.driver_base_radius * tan(q.operating_pressure_angle) - q.length_of_approach)) - 1,
             "Sliding over the driver's own rolling speed is largest where its flank is nearest to the base circle: where contact begins.", _ISO,
             "without undercut or interference", of="external"),
    Relation("driven_specific_sliding", lambda q: q.ratio * (q.driver_base_radius * tan(q.operating_pressure_angle) + q.length_of_recess)
             / (q.driven_base_radius * tan(q.operating_pressure_angle) - q.length_of_recess) - 1,
             "Sliding over the driven gear's own rolling speed is largest where its flank is nearest to the base circle: where contact ends.", _ISO,
             "without undercut or interference", of="external"),
    Relation("driver_interference_margin", lambda q: (q.driver_base_radius + q.driven_base_radius) * tan(q.operating_pressure_angle)
             - sqrt(q.driven_outside_radius**2 - q.driven_base_radius**2),
             "The driven tips must cross the line of action before the point where it touches the driver's base circle.", _SHIGLEY, of="external"),
    Relation("driven_interference_margin", lambda q: (q.driver_base_radius + q.driven_base_radius) * tan(q.operating_pressure_angle)
             - sqrt(q.driver_outside_radius**2 - q.driver_base_radius**2),
             "The driver tips must cross the line of action before the point where it touches the driven gear's base circle.", _SHIGLEY, of="external"),
    Relation("least_teeth_with_rack", lambda q: 2 * q.addendum_factor / sin(q.pressure_angle) ** 2,
             "With fewer teeth, the tips of a rack reach past the tangent point of the line of action.", _SHIGLEY, "without profile shift", of="external",
             unless=("profile_shift", "tip_shortening")),
    Relation("least_teeth_with_equal", lambda q: 2 * q.addendum_factor / (3 * sin(q.pressure_angle) ** 2) * (1 + sqrt(1 + 3 * sin(q.pressure_angle) ** 2)),
             "With fewer teeth, two equal gears interfere.", _SHIGLEY, "without profile shift", of="external", unless=("profile_shift", "tip_shortening")),
    Relation("least_teeth_for_ratio", lambda q: 2 * q.addendum_factor / ((1 + 2 * q.ratio) * sin(q.pressure_angle) ** 2)
             * (q.ratio + sqrt(q.ratio**2 + (1 + 2 * q.ratio) * sin(q.pressure_angle) ** 2)),
             "With fewer pinion teeth, the wheel of this ratio interferes with the pinion.", _SHIGLEY,
             "for ratios of 1 and more (the pinion drives), without profile shift", of="external", unless=("profile_shift", "tip_shortening")),
    Relation("largest_mate_teeth", lambda q: (q.driver_teeth**2 * sin(q.pressure_angle) ** 2 - 4 * q.addendum_factor**2)
             / (4 * q.addendum_factor - 2 * q.driver_teeth * sin(q.pressure_angle) ** 2),
             "A larger mate reaches past the tangent point on the driver; where the result is negative, every mate and the rack will do.",
             _SHIGLEY, "without profile shift", of="external", unless=("profile_shift", "tip_shortening")),
    Relation("clearance", lambda q: q.reference_centre_distance - q.driver_outside_radius - q.driven_root_radius,
             "What is left on the line of centres between the driver's tips and the bottom of the driven gear's spaces.", "definition",
             of="external", unless=("profile_shift", "tip_shortening", "set distance", "tooth_thinning")),
)
