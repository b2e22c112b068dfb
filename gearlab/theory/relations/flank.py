"""Formulas of the flank: the unwinding string, a point of the involute, the tip."""

from sympy import acos, atan, cos, sin, sqrt, tan

from .. import ranges
from ..functions import inv
from ..relation import Relation
from . import ways

_ISO = "ISO 21771:2007, Gears: cylindrical involute gears and gear pairs"
_BUCKINGHAM = "E. Buckingham, Analytical Mechanics of Gears, chapter 4 (the involute)"

# A row is read as a row.
# fmt: off
FLANK_RELATIONS = (
    Relation("free_string", lambda q: q.base_radius * q.roll_angle,
             "A taut string unwound from the base circle is as long as the arc it has left; it is the radius of curvature of the flank there.", _BUCKINGHAM, of="single"),
    Relation("point_radius", lambda q: q.base_radius * sqrt(1 + q.roll_angle**2),
             "The string is square to the radius at which it leaves the base circle, so the distance to its end is the long side of a right triangle.", _BUCKINGHAM, of="single", way=ways.POINT),
    Relation("point_pressure_angle", lambda q: atan(q.roll_angle), "The free string over the base radius is the tangent of the pressure angle at the point.", _BUCKINGHAM, of="single"),
    Relation("point_pressure_angle", lambda q: acos(q.base_radius / q.point_radius),
             "At each point of the flank the base radius is the radius times the cosine of the pressure angle there.", _ISO, ranges.OUTSIDE_BASE, of="single"),
    Relation("point_thickness", lambda q: 2 * q.point_radius * (q.tooth_thickness / q.pitch_diameter + inv(q.pressure_angle) - inv(q.point_pressure_angle)),
             "An involute tooth grows thinner outwards by the difference of the involute functions.", _ISO, ranges.POINT_ON_FLANK, of="single"),
    Relation("involute_angle", lambda q: inv(q.pressure_angle), "The involute function is the angle from where the flank starts on the base circle to where it crosses the pitch circle: tan less arc.",
             _BUCKINGHAM, of="single", way=ways.INVOLUTE),
    Relation("pitch_roll_angle", lambda q: tan(q.pressure_angle), "At the pitch circle the roll angle is the tangent of the pressure angle.", _BUCKINGHAM, of="single", way=ways.ROLL_AT_PITCH),
    Relation("pitch_curvature_radius", lambda q: q.pitch_radius * sin(q.pressure_angle), "At the pitch circle the free string is the pitch radius times the sine of the pressure angle.",
             _BUCKINGHAM, of="single"),
    Relation("tip_pressure_angle", lambda q: acos(q.base_diameter / q.outside_diameter), "At the tip the base diameter is the outside diameter times the cosine of the pressure angle there.",
             _ISO, of="single"),
    Relation("tip_roll_angle", lambda q: tan(q.tip_pressure_angle), "At the tip the roll angle is the tangent of the pressure angle there.", _BUCKINGHAM, of="single"),
    Relation("tip_thickness", lambda q: q.outside_diameter * (q.tooth_thickness / q.pitch_diameter + inv(q.pressure_angle) - inv(q.tip_pressure_angle)),
             "An involute tooth grows thinner outwards by the difference of the involute functions; where nothing is left it is pointed.", _ISO, ranges.NOT_POINTED, of="single"),
    Relation("form_radius", lambda q: sqrt(q.base_radius**2 + ranges.flank_end(q) ** 2),
             "The straight flank of the rack ends where its tip is rounded; the last point it cuts lies on the line of action at that depth.", _ISO + "; rack generation",
             ranges.NO_UNDERCUT, of="single"),
    Relation("rack_contact_ratio", lambda q: (sqrt(q.outside_radius**2 - q.base_radius**2) - q.base_radius * tan(q.pressure_angle)
             + (q.addendum_factor - q.profile_shift) * q.module / sin(q.pressure_angle)) / q.base_pitch,
             "With a rack contact begins where its tip line crosses the line of action, and ends at the gear's outside circle; a shifted gear is further away by its shift.", _ISO,
             ranges.RACK_CONTACT, of="single"),
    Relation("teeth_root_outside_base", lambda q: 2 * q.dedendum_factor / (1 - cos(q.pressure_angle)),
             "Root and base circle grow with the count; from here on the root circle, two dedenda smaller than the pitch circle, is the larger of the two.",
             "geometry of the two circles; 2.5 / (1 - cos phi) of the textbooks for full depth", of="single", unless=("profile_shift",)),
)
# fmt: on
