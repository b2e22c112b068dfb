"""Formulas of one gear: circles, pitches and the proportions of its teeth."""

from sympy import Rational, cos, pi, sin, tan

from .. import ranges
from ..relation import Relation
from . import ways

_MOTT = "R. L. Mott, Machine Elements in Mechanical Design, 4th ed., table 8-2"
_ISO = "ISO 21771:2007, Gears: cylindrical involute gears and gear pairs"
_DEFINITION = "definition"

# A row is read as a row.
# fmt: off
GEAR_RELATIONS = (
    Relation("module", lambda q: 1 / q.diametral_pitch, "The module is the diameter that one tooth takes up: one over the diametral pitch.",
             _MOTT, "in one length unit; inches and millimetres are converted apart"),
    Relation("pitch_diameter", lambda q: q.teeth * q.module, "Every tooth adds one module (or 1/P) to the pitch diameter.", _MOTT),
    Relation("pitch_circumference", lambda q: pi * q.pitch_diameter, "The distance around a circle is pi times its diameter.", "geometry"),
    Relation("circular_pitch", lambda q: pi * q.module, "The circular pitch is the share of the pitch circle that one tooth and one space take.", _MOTT),
    Relation("base_pitch", lambda q: q.circular_pitch * cos(q.pressure_angle),
             "Along the line of action, teeth follow one another at the circular pitch times the cosine of the pressure angle.", _ISO, way=ways.BASE_PITCH),
    Relation("base_diameter", lambda q: q.pitch_diameter * cos(q.pressure_angle),
             "The base circle is the pitch circle times the cosine of the pressure angle.", _ISO, way=ways.BASE_CIRCLE),
    Relation("addendum", lambda q: (q.addendum_factor + q.profile_shift) * q.module - q.tip_shortening,
             "The addendum is the height of the tooth outside the pitch circle.", _MOTT + "; with profile shift: " + _ISO),
    Relation("dedendum", lambda q: (q.dedendum_factor - q.profile_shift) * q.module + q.extra_dedendum,
             "The dedendum is the depth of the space inside the pitch circle.", _MOTT + "; with profile shift: " + _ISO),
    Relation("clearance", lambda q: q.dedendum - q.addendum, "The clearance is what the dedendum has more than the addendum of the mate.",
             _MOTT, "for two gears of one tooth system without profile shift", unless=("profile_shift", "tip_shortening", "mixed systems")),
    Relation("clearance", lambda q: (q.dedendum_factor - q.addendum_factor) * q.module + q.extra_dedendum,
             "The clearance of the tooth system is what its dedendum has more than its addendum.", _ISO,
             "with a mate of the same tooth system", needs=("profile_shift",), unless=("mixed systems",)),
    Relation("clearance", lambda q: (q.dedendum_factor - q.addendum_factor) * q.module + q.extra_dedendum,
             "The clearance of the tooth system is what its dedendum has more than its addendum.", _ISO,
             "with a mate of the same tooth system", needs=("tip_shortening",), unless=("profile_shift", "mixed systems")),
    Relation("whole_depth", lambda q: q.addendum + q.dedendum, "The whole depth runs from the tip to the bottom of the space.", _MOTT),
    Relation("working_depth", lambda q: 2 * q.addendum, "The working depth is the depth to which two gears reach into each other: both addenda.",
             _MOTT, "for two gears of one tooth system without profile shift", unless=("profile_shift", "tip_shortening", "mixed systems")),
    Relation("working_depth", lambda q: q.whole_depth - q.clearance, "The working depth is the whole depth less the clearance.", _ISO,
             "with a mate of the same tooth system", needs=("profile_shift",), unless=("mixed systems",)),
    Relation("working_depth", lambda q: q.whole_depth - q.clearance, "The working depth is the whole depth less the clearance.", _ISO,
             "with a mate of the same tooth system", needs=("tip_shortening",), unless=("profile_shift", "mixed systems")),
    Relation("outside_diameter", lambda q: q.pitch_diameter + 2 * q.addendum, "The outside circle lies one addendum outside the pitch circle, on both sides.", _MOTT, of="toothed outside"),
    Relation("root_diameter", lambda q: q.pitch_diameter - 2 * q.dedendum, "The root circle lies one dedendum inside the pitch circle, on both sides.", _MOTT, of="toothed outside"),
    Relation("tooth_thickness", lambda q: q.circular_pitch / 2 + 2 * q.profile_shift * q.module * tan(q.pressure_angle) - q.tooth_thinning,
             "On the pitch circle a tooth takes half the circular pitch.", _MOTT + "; with profile shift: " + _ISO, ranges.PITCH_ON_FLANK),
    Relation("tooth_space", lambda q: q.circular_pitch - q.tooth_thickness, "Tooth and space share the circular pitch.", _DEFINITION),
    Relation("pitch_radius", lambda q: q.pitch_diameter / 2, "A radius is half a diameter.", _DEFINITION),
    Relation("base_radius", lambda q: q.base_diameter / 2, "A radius is half a diameter.", _DEFINITION),
    Relation("outside_radius", lambda q: q.outside_diameter / 2, "A radius is half a diameter.", _DEFINITION, of="toothed outside"),
    Relation("root_radius", lambda q: q.root_diameter / 2, "A radius is half a diameter.", _DEFINITION, of="toothed outside"),
    Relation("least_teeth", lambda q: 2 * (q.dedendum_factor + q.extra_dedendum / q.module - q.rack_tip_radius * (1 - sin(q.pressure_angle)) - q.profile_shift)
             / sin(q.pressure_angle) ** 2,
             "A rack cutter undercuts the tooth when the straight part of its flank reaches below the tangent point of the line of action.",
             "rack generation; with dedendum - tip radius (1 - sin phi) = 1 it is the 17.1 teeth of the textbooks at 20 deg (Mott, section 8-6)", of="toothed outside"),
    Relation("practical_least_shift", lambda q: (14 - q.teeth) / 17, "Fourteen teeth in place of seventeen: a trace of undercut that never meets the mate's tips is accepted.",
             "DIN 3960, practical limit (from memory)", ranges.FULL_20, of="single"),
    Relation("least_shift", lambda q: q.dedendum_factor + q.extra_dedendum / q.module - q.rack_tip_radius * (1 - sin(q.pressure_angle))
             - q.teeth * sin(q.pressure_angle) ** 2 / 2,
             "A rack moved outwards by this many modules just leaves the tooth of this count whole.",
             "rack generation; with dedendum - tip radius (1 - sin phi) = 1 it is 1 - N sin^2(phi)/2 of the handbooks", of="toothed outside"),
    Relation("least_shift_for_rack", lambda q: q.addendum_factor - q.teeth * sin(q.pressure_angle) ** 2 / 2,
             "Moved outwards by this many modules, a rack whose tips lie one addendum below its pitch line just reaches the tangent point.",
             "handbook form 1 - N sin^2(phi)/2 of the no-undercut shift (JGMA and metric gear handbooks)", of="toothed outside", way=ways.RACK_SHIFT),
    Relation("pitch_angle", lambda q: q.full_turn / q.teeth, "The teeth share out one turn among them.", _DEFINITION),
    Relation("inside_diameter", lambda q: q.pitch_diameter - 2 * q.addendum, "A ring's teeth point inwards: its tips lie one addendum inside the pitch circle, on both sides.",
             _ISO, of="ring"),
    Relation("ring_root_diameter", lambda q: q.pitch_diameter + 2 * q.dedendum, "A ring's spaces reach outwards: their bottoms lie one dedendum outside the pitch circle, on both sides.",
             _ISO, of="ring"),
    # A rack rubbing, and two pitches that nearly agree.
    Relation("counted_length", lambda q: q.pitches_counted * q.circular_pitch, "So many pitches are so many times one pitch.", _DEFINITION, of="single"),
    Relation("mate_module", lambda q: 1 / q.mate_diametral_pitch, "The module of the other gear is one over its diametral pitch.", _MOTT, of="single"),
    Relation("mate_circular_pitch", lambda q: pi * q.mate_module, "The circular pitch of the other gear is pi times its module.", _MOTT, of="single"),
    Relation("pitch_mismatch", lambda q: abs(q.circular_pitch - q.mate_circular_pitch),
             "Two pitches that differ get out of step by their difference at every tooth.", _DEFINITION, of="single", one_way=True),
    Relation("pitches_out_of_step", lambda q: Rational(1, 2) * q.tooth_thickness / q.pitch_mismatch,
             "After so many pitches the mismatch has grown to half a tooth thickness.", _DEFINITION, of="single"),
)
# fmt: on
