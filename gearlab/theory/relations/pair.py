"""Formulas of two gears in mesh: distance, contact, backlash, interference."""

from sympy import acos, cos, pi, sin, sqrt, tan

from .. import ranges
from ..functions import arcinv, best_ratio_error, even_factor, inv, opened_angle, remainder
from ..relation import Relation
from . import ways

_MOTT = "R. L. Mott, Machine Elements in Mechanical Design, 4th ed., chapter 8"
_ISO = "ISO 21771:2007, Gears: cylindrical involute gears and gear pairs"
_SHIGLEY = "Shigley's Mechanical Engineering Design, section 13-7 (interference)"
_PRACTICE = "common practice"
_BEVAN = "T. Bevan, The Theory of Machines, 3rd ed., chapter 10"

# A row is read as a row.
# fmt: off
PAIR_RELATIONS = (
    Relation("reference_centre_distance", lambda q: (q.driver_pitch_diameter + q.driven_pitch_diameter) / 2,
             "When the pitch circles touch, the shafts are one pitch radius plus one pitch radius apart.", _MOTT, of="side by side", way=ways.CENTRES),
    Relation("reference_centre_distance", lambda q: (q.driven_pitch_diameter - q.driver_pitch_diameter) / 2,
             "Inside a ring, the shafts are the ring's pitch radius less the pinion's apart.", _MOTT, of="internal"),
    Relation("tooth_difference", lambda q: q.driven_teeth - q.driver_teeth, "How many more teeth the driven gear has.", "definition", of="pair"),
    Relation("operating_pressure_angle", lambda q: acos(q.reference_centre_distance * cos(q.pressure_angle) / q.centre_distance),
             "The base circles stay, so the pressure angle opens with the centre distance.", _ISO,
             ranges.APART, of="external", needs=("set distance",), way=ways.APART),
    Relation("operating_pressure_angle", lambda q: opened_angle(inv(q.pressure_angle), q.backlash / (2 * q.reference_centre_distance * cos(q.pressure_angle))),
             "Of all operating angles one gives this backlash; it is found by trying, as no formula undoes the involute function and the cosine together.", _ISO,
             "for full teeth without profile shift", of="external", needs=("set distance",), unless=("profile_shift", "tooth_thinning"), one_way=True),
    Relation("operating_pressure_angle", lambda q: arcinv(inv(q.pressure_angle) + 2 * tan(q.pressure_angle)
             * (q.driver_profile_shift + q.driven_profile_shift) / (q.driver_teeth + q.driven_teeth)),
             "Profile shift makes the teeth thicker; without backlash the gears then run further apart, at a larger pressure angle.",
             _ISO, "for teeth without thinning", of="external", needs=("profile_shift",), unless=("set distance",), way=ways.SHIFTED),
    Relation("centre_distance", lambda q: q.reference_centre_distance * cos(q.pressure_angle) / cos(q.operating_pressure_angle),
             "The base circles stay, so the centre distance grows as the operating pressure angle opens.", _ISO,
             of="external", needs=("profile_shift",), unless=("set distance",), way=ways.APART),
    Relation("driver_operating_pitch_diameter", lambda q: 2 * q.centre_distance / (1 + q.ratio),
             "The operating pitch circles touch at the point that divides the centre distance in the ratio of the teeth.", _ISO, of="external"),
    Relation("driven_operating_pitch_diameter", lambda q: 2 * q.centre_distance * q.ratio / (1 + q.ratio),
             "The operating pitch circles touch at the point that divides the centre distance in the ratio of the teeth.", _ISO, of="external"),
    Relation("driver_operating_pitch_radius", lambda q: q.centre_distance / (1 + q.ratio),
             "The centre distance is divided in the ratio of the teeth: the smaller gear takes the smaller part.", _ISO, of="external"),
    Relation("driven_operating_pitch_radius", lambda q: q.centre_distance - q.driver_operating_pitch_radius,
             "The operating pitch circles touch, so both radii together are the centre distance.", _ISO, of="external"),
    Relation("operating_circular_pitch", lambda q: pi * q.driver_operating_pitch_diameter / q.driver_teeth,
             "On the operating pitch circles teeth follow one another at the operating circular pitch.", _ISO, of="external"),
    Relation("driver_operating_thickness", lambda q: q.driver_operating_pitch_diameter
             * (q.driver_tooth_thickness / q.driver_pitch_diameter + inv(q.pressure_angle) - inv(q.operating_pressure_angle)),
             "An involute tooth grows thinner outwards by the difference of the involute functions.", _ISO, of="external"),
    Relation("driven_operating_thickness", lambda q: q.driven_operating_pitch_diameter
             * (q.driven_tooth_thickness / q.driven_pitch_diameter + inv(q.pressure_angle) - inv(q.operating_pressure_angle)),
             "An involute tooth grows thinner outwards by the difference of the involute functions.", _ISO, of="external"),
    Relation("backlash", lambda q: q.operating_circular_pitch - q.driver_operating_thickness - q.driven_operating_thickness,
             "Backlash is the amount by which a space is wider than the tooth in it, along the operating pitch circles.", _ISO, ranges.PLAY, of="external"),
    Relation("backlash", lambda q: 2 * q.centre_distance * (inv(q.operating_pressure_angle) - inv(q.pressure_angle)),
             "Opened from the reference distance, full teeth grow thinner at the operating circles by the difference of the involute functions; both together leave this play.",
             _ISO, ranges.PLAY, of="external", needs=("set distance",), unless=("profile_shift", "tooth_thinning"), one_way=True, way=ways.BACKLASH),
    Relation("length_of_recess", lambda q: sqrt(q.driver_outside_radius**2 - q.driver_base_radius**2) - q.driver_base_radius * tan(q.operating_pressure_angle),
             "Contact ends where the driver's outside circle crosses the line of action.", _MOTT + "; " + _ISO, ranges.RECESS, of="external", way=ways.RECESS),
    Relation("length_of_approach", lambda q: sqrt(q.driven_outside_radius**2 - q.driven_base_radius**2) - q.driven_base_radius * tan(q.operating_pressure_angle),
             "Contact begins where the driven gear's outside circle crosses the line of action.", _MOTT + "; " + _ISO, ranges.APPROACH, of="external", way=ways.APPROACH),
    Relation("length_of_action", lambda q: q.length_of_approach + q.length_of_recess, "The length of action is approach and recess together.", _ISO, of="external", way=ways.OVERLAP),
    Relation("contact_ratio", lambda q: q.length_of_action / q.base_pitch,
             "The contact ratio tells how many pairs of teeth share the length of action, on average.", _MOTT, of="external"),
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
             "Sliding over the driver's own rolling speed is largest where its flank is nearest to the base circle: where contact begins.", _ISO, of="external"),
    Relation("driven_specific_sliding", lambda q: q.ratio * (q.driver_base_radius * tan(q.operating_pressure_angle) + q.length_of_recess)
             / (q.driven_base_radius * tan(q.operating_pressure_angle) - q.length_of_recess) - 1,
             "Sliding over the driven gear's own rolling speed is largest where its flank is nearest to the base circle: where contact ends.", _ISO, of="external"),
    Relation("driver_interference_margin", lambda q: (q.driver_base_radius + q.driven_base_radius) * tan(q.operating_pressure_angle)
             - sqrt(q.driven_outside_radius**2 - q.driven_base_radius**2),
             "The driven tips must cross the line of action before the point where it touches the driver's base circle.", _SHIGLEY, of="external"),
    Relation("driven_interference_margin", lambda q: (q.driver_base_radius + q.driven_base_radius) * tan(q.operating_pressure_angle)
             - sqrt(q.driver_outside_radius**2 - q.driver_base_radius**2),
             "The driver tips must cross the line of action before the point where it touches the driven gear's base circle.", _SHIGLEY, of="external"),
    Relation("least_teeth_with_rack", lambda q: 2 * q.addendum_factor / sin(q.pressure_angle) ** 2,
             "With fewer teeth, the tips of a rack reach past the tangent point of the line of action.", _SHIGLEY, "without profile shift", of="external",
             unless=("profile_shift", "tip_shortening"), way=ways.RACK_LIMIT),
    Relation("least_teeth_with_equal", lambda q: 2 * q.addendum_factor / (3 * sin(q.pressure_angle) ** 2) * (1 + sqrt(1 + 3 * sin(q.pressure_angle) ** 2)),
             "With fewer teeth, two equal gears interfere.", _SHIGLEY, "without profile shift", of="external", unless=("profile_shift", "tip_shortening")),
    Relation("least_teeth_for_ratio", lambda q: 2 * q.addendum_factor / ((1 + 2 * q.ratio) * sin(q.pressure_angle) ** 2)
             * (q.ratio + sqrt(q.ratio**2 + (1 + 2 * q.ratio) * sin(q.pressure_angle) ** 2)),
             "With fewer pinion teeth, the wheel of this ratio interferes with the pinion.", _SHIGLEY,
             ranges.RATIO_FROM_1, of="external", unless=("profile_shift", "tip_shortening")),
    Relation("largest_mate_teeth", lambda q: (q.driver_teeth**2 * sin(q.pressure_angle) ** 2 - 4 * q.addendum_factor**2)
             / (4 * q.addendum_factor - 2 * q.driver_teeth * sin(q.pressure_angle) ** 2),
             "A larger mate reaches past the tangent point on the driver; where the result is negative, every mate and the rack will do.",
             _SHIGLEY, ranges.MATE_LIMITED, of="external", unless=("profile_shift", "tip_shortening")),
    Relation("clearance", lambda q: q.reference_centre_distance - q.driver_outside_radius - q.driven_root_radius,
             "What is left on the line of centres between the driver's tips and the bottom of the driven gear's spaces.", "definition",
             of="external", unless=("profile_shift", "tip_shortening", "set distance", "tooth_thinning")),
    Relation("two_pair_share", lambda q: q.contact_ratio - 1, "Of each base pitch, what the contact ratio has above one is the share in which a second pair touches.",
             _MOTT, ranges.TWO_PAIRS, of="external"),
    Relation("driver_contact_angle", lambda q: q.full_turn * q.contact_ratio / q.driver_teeth,
             "A pair of teeth stays together for as many tooth pitches as the contact ratio says.", _MOTT, of="external"),
    Relation("action_angle_to_centres", lambda q: pi / 2 - q.operating_pressure_angle,
             "The common tangent is square to the line of centres; the line of action leans from it by the pressure angle.", _BEVAN, of="external"),
    Relation("tangent_point_distance", lambda q: q.centre_distance * sin(q.operating_pressure_angle),
             "Between the base circles the line of action is the side of a right triangle whose long side is the centre distance.", _BEVAN, of="external"),
    Relation("driver_limit_radius", lambda q: sqrt(q.driver_base_radius**2 + q.tangent_point_distance**2),
             "The driver's tips may reach to where the line of action touches the driven gear's base circle, no further.", _SHIGLEY, of="external"),
    Relation("driven_limit_radius", lambda q: sqrt(q.driven_base_radius**2 + q.tangent_point_distance**2),
             "The driven tips may reach to where the line of action touches the driver's base circle, no further.", _SHIGLEY, of="external"),
    Relation("driver_tip_margin", lambda q: q.driver_limit_radius - q.driver_outside_radius, "What is left between the tips and their limit.", "definition", of="external"),
    Relation("driven_tip_margin", lambda q: q.driven_limit_radius - q.driven_outside_radius, "What is left between the tips and their limit.", "definition", of="external"),
    Relation("driver_start_radius", lambda q: sqrt(q.driver_base_radius**2 + (q.tangent_point_distance - sqrt(q.driven_outside_radius**2 - q.driven_base_radius**2)) ** 2),
             "The driven tips touch the driver first where their circle crosses the line of action: below that point the flank is never used.", _ISO,
             ranges.APPROACH, of="external"),
    Relation("driven_start_radius", lambda q: sqrt(q.driven_base_radius**2 + (q.tangent_point_distance - sqrt(q.driver_outside_radius**2 - q.driver_base_radius**2)) ** 2),
             "The driver's tips leave the driven gear where their circle crosses the line of action: below that point the flank is never used.", _ISO,
             ranges.RECESS, of="external"),
    Relation("shortening_for_clearance", lambda q: (q.driver_profile_shift + q.driven_profile_shift) * q.driver_module - (q.centre_distance - q.reference_centre_distance),
             "Shifted teeth grow outwards by their shifts, but the shafts move apart by less: the difference would eat up the clearance.", _ISO,
             of="external", needs=("profile_shift",)),
    Relation("distance_opening", lambda q: q.centre_distance - q.reference_centre_distance, "By how much the shafts are further apart than where the pitch circles touch.",
             "definition", of="external", needs=("set distance",)),
    Relation("quick_backlash", lambda q: 2 * q.distance_opening * tan(q.pressure_angle),
             "Both flanks of a tooth move back by the opening times the tangent of the pressure angle.", _PRACTICE, "for full teeth without profile shift", of="external",
             needs=("set distance",), unless=("profile_shift", "tooth_thinning"), way=ways.QUICK),
    Relation("quick_backlash_shortfall", lambda q: 1 - q.quick_backlash / q.backlash, "What the estimate lacks, as a share of the exact backlash.", "definition", of="external",
             needs=("set distance",), unless=("profile_shift", "tooth_thinning")),
    Relation("backlash_along_action", lambda q: q.backlash * cos(q.operating_pressure_angle), "Along the line of action the same play is shorter by the cosine of the pressure angle.",
             _ISO, of="external"),
    Relation("pitch_circle_backlash", lambda q: q.backlash * q.reference_centre_distance / q.centre_distance,
             "The same turn of a gear is a shorter arc on the smaller circle: the pitch circles are to the operating ones as the centre distances.", _ISO, of="external"),
    Relation("driver_play_angle", lambda q: q.full_turn * q.backlash / (pi * q.driver_operating_pitch_diameter),
             "The backlash is an arc of the operating pitch circle; as an angle it is that share of one turn.", _ISO, of="external"),
    Relation("driven_play_angle", lambda q: q.full_turn * q.backlash / (pi * q.driven_operating_pitch_diameter),
             "The backlash is an arc of the operating pitch circle; as an angle it is that share of one turn.", _ISO, of="external"),
    Relation("length_of_action", lambda q: sqrt(q.driver_outside_radius**2 - q.driver_base_radius**2) - sqrt((q.inside_diameter / 2) ** 2 - q.driven_base_radius**2)
             + q.centre_distance * sin(q.pressure_angle),
             "Inside a ring contact runs along the line of action from the ring's tips to the pinion's tips.", _ISO, ranges.IN_RING,
             of="internal"),
    Relation("contact_ratio", lambda q: q.length_of_action / q.base_pitch, "The contact ratio tells how many pairs of teeth share the length of action, on average.", _ISO, of="internal"),
    # Lining up the teeth: both gears drawn with a tooth along the same direction.
    Relation("driven_mark_angle", lambda q: remainder(q.line_angle * (1 + 1 / q.ratio) + q.full_turn / 2 + q.driven_pitch_angle / 2 - q.driver_mark_angle / q.ratio, q.driven_pitch_angle),
             "Turn the driver's mark to the line of centres, carry that over to the driven gear by the ratio, look back along the line (half a turn), and go half a pitch on: a space, not a tooth.",
             "geometry of two gears; checked against the cut teeth", "for a marked tooth on each gear, angles from the same direction", of="external", one_way=True, way=ways.MARKS),
    Relation("mesh_turn", lambda q: even_factor(q.driven_teeth) * q.driven_pitch_angle / 2,
             "Half a turn from a tooth is a space if the tooth count is odd, and a tooth if it is even: then half a pitch is still to turn.", "geometry of whole tooth counts",
             "for a level line of centres, both gears drawn with a tooth towards the same side", of="external", one_way=True),
    # Choosing counts.
    Relation("ideal_driven_teeth", lambda q: q.wanted_ratio * q.driver_teeth, "The driven gear needs as many times the driver's teeth as the ratio says; a count must then be made whole.",
             _MOTT, of="pair"),
    Relation("ratio_error", lambda q: (q.ratio - q.wanted_ratio) / q.wanted_ratio, "The error is what the ratio has too much, as a share of the wanted one.", "definition", of="pair"),
    Relation("smallest_ratio_error", lambda q: best_ratio_error(q.wanted_ratio), "Every pair of whole counts within the limits is tried; the nearest counts.",
             "search over whole counts: drivers of 18 to 30 teeth, driven gears of up to 72", "for drivers of 18 to 30 and driven gears of up to 72 teeth", of="pair", one_way=True),
)
# fmt: on
