"""Formulas of rack and pinion: travel, speed, force, height, length."""

from sympy import pi, tan

from ..functions import next_multiple
from ..relation import Relation

_MOTT = "R. L. Mott, Machine Elements in Mechanical Design, 4th ed., section 8-11"
_PRACTICE = "common practice"

# A row is read as a row.
# fmt: off
RACK_RELATIONS = (
    Relation("travel_per_turn", lambda q: pi * q.pitch_diameter, "The rack rolls on the pitch circle: one turn is the distance around it.", _MOTT, of="rack"),
    Relation("travel", lambda q: q.travel_per_turn * q.turns, "Every turn moves the rack on by the same length.", _MOTT, of="rack"),
    Relation("rack_speed", lambda q: q.travel_per_turn * q.speed, "Every revolution moves the rack on by the same length.", _MOTT, of="rack"),
    Relation("rack_force", lambda q: q.pinion_torque / q.pitch_radius, "The torque acts on the rack at the pitch radius.", _MOTT, of="rack"),
    Relation("power", lambda q: 2 * pi * q.pinion_torque * q.speed, "Power is torque times the angle turned in a unit of time.", "definition", of="rack"),
    Relation("power", lambda q: q.rack_force * q.rack_speed, "Power is force times speed: the force along the rack moves with the rack.", "definition", of="rack"),
    Relation("rack_separating_force", lambda q: q.rack_force * tan(q.pressure_angle), "The flanks press along the line of action, which leans from the rack by the pressure angle.", _MOTT, of="rack"),
    Relation("mounting_height", lambda q: q.pitch_radius + q.rack_pitch_height + q.profile_shift * q.module, "The pitch circle rolls on the rack; a shifted pinion is further away by its shift.", _MOTT, of="rack"),
    Relation("rack_teeth", lambda q: next_multiple(q.travel / q.circular_pitch, 1) + q.spare_teeth, "Every pitch of travel needs a tooth, and some more must stay in mesh.", _PRACTICE, of="rack", one_way=True),
    Relation("toothed_length", lambda q: q.rack_teeth * q.circular_pitch, "So many teeth are so many pitches long.", "definition", of="rack"),
    Relation("largest_travel", lambda q: (q.rack_teeth - q.spare_teeth) * q.circular_pitch, "The teeth that must stay in mesh take no part in the travel; the stops are where it ends.", _PRACTICE, of="rack"),
    Relation("rack_direction", lambda q: q.pinion_side, "While a pinion turns counter-clockwise, its lowest point moves to the right and its highest point to the left.", "kinematics of a rolling circle", of="rack"),
    Relation("rack_move", lambda q: q.rack_direction * q.travel, "The travel, with the sign of its direction.", "definition", of="rack", one_way=True),
    Relation("double_travel", lambda q: 2 * q.travel, "A rolling pinion moves on by the travel, and its far side by the same once more.", "kinematics of a rolling circle", of="rack"),
)
# fmt: on
