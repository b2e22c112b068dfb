"""Formulas of the whole drive: from the crank by gears and rack to the vent."""

from sympy import asin, pi

from ..relation import Relation
from . import ways

_CHAIN = "chain of the relations of pair and rack"
_TEACHING = "for teaching: wind loads come from the local code and a licensed engineer"

# A row is read as a row.
# fmt: off
DRIVE_RELATIONS = (
    Relation("vent_shaft_turns", lambda q: q.rack_travel / (pi * q.module * q.vent_pinion_teeth), "In one turn the pinion moves the rack on by the distance around its pitch circle.", _CHAIN, of="drive"),
    Relation("crank_turns", lambda q: q.vent_shaft_turns * q.ratio, "The crank turns as many times more often as the ratio says; a mitre pair leaves the turns as they are.", _CHAIN, of="drive"),
    Relation("opening_time", lambda q: q.crank_turns / q.crank_speed, "Turns over turns in a unit of time.", "definition", of="drive"),
    Relation("vent_torque", lambda q: q.design_force * q.module * q.vent_pinion_teeth / 2, "The rack's force acts at the pitch radius of its pinion.", _CHAIN, of="drive"),
    Relation("crank_torque", lambda q: q.vent_torque / (q.ratio * q.efficiency**q.meshes), "The crank needs the torque over the ratio, and more for what each mesh loses.", _CHAIN, of="drive"),
    Relation("hand_force", lambda q: q.crank_torque / q.crank_radius, "The hand acts at the radius of the crank.", "statics", of="drive"),
    Relation("opening_angle", lambda q: 2 * asin(q.rack_travel / (2 * q.joint_distance)), "The rack joins two places of the joint on its circle round the hinge: a chord.", "geometry", of="drive", way=ways.VENT),
    Relation("hinge_moment", lambda q: q.gust_pressure * q.panel_width * q.panel_length**2 / 2, "An even pressure acts as if in the middle of the panel.", "statics", _TEACHING, of="drive"),
    Relation("gust_force", lambda q: q.hinge_moment / q.joint_distance, "The rack holds the moment at the distance of its joint.", "statics", _TEACHING, of="drive"),
    Relation("gust_factor", lambda q: q.gust_force / q.design_force, "More than one means more than the drive is designed for.", "definition", _TEACHING, of="drive"),
)
# fmt: on
