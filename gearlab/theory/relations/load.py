"""Formulas of load.

Power, torque, tooth force and the plain beam formula. Estimates for teaching, no design rules.
"""

from sympy import pi

from ..relation import Relation
from . import ways

_MOTT = "R. L. Mott, Machine Elements in Mechanical Design, 4th ed., chapter 9"
_LEWIS = "W. Lewis, 1893, as in Shigley's Mechanical Engineering Design, section 14-1"
_ESTIMATE = "with no stress concentration, wear, heat or creep counted"

# A row is read as a row.
# fmt: off
LOAD_RELATIONS = (
    Relation("power", lambda q: 2 * pi * q.driver_torque * q.driver_speed, "Power is torque times the angle turned in a unit of time.", "definition", of="load"),
    Relation("pitch_line_speed", lambda q: pi * q.driver_pitch_diameter * q.driver_speed, "In each revolution the pitch line moves on by the distance around the pitch circle.", _MOTT, of="load"),
    Relation("pitch_speed", lambda q: q.pitch_line_speed, "Here only the size of the pitch-line speed counts.", "definition", of="load"),
    Relation("power", lambda q: q.tangential_force * q.pitch_line_speed, "Power is force times speed: on the pitch line the tangential force moves with the pitch-line speed.", _MOTT, of="load", detour=True),  # the torque first
    Relation("driven_speed", lambda q: q.driver_speed / q.ratio, "The driven gear is slower by the ratio; of speeds only the size counts here.", _MOTT, of="load"),
    Relation("driven_torque", lambda q: q.driver_torque * q.ratio * q.efficiency, "What the speed loses the torque gains, less the losses of the mesh.", _MOTT, of="load"),
    Relation("tangential_force", lambda q: q.driver_torque / q.driver_pitch_radius, "The torque acts on the teeth at the pitch radius.", _MOTT, of="load"),
    Relation("bending_stress", lambda q: q.tangential_force / (q.face_width * q.module * q.form_factor), "The tooth is taken for a beam held at its foot; the form factor holds its shape. An estimate for teaching.",
             _LEWIS, _ESTIMATE, of="load", way=ways.BENDING),
    Relation("speed_factor", lambda q: (q.speed_constant + q.pitch_speed) / q.speed_constant, "Teeth that run faster knock harder. An estimate for teaching.", "C. G. Barth, as in Shigley, section 14-2", _ESTIMATE, of="load"),
    Relation("stress_with_speed", lambda q: q.bending_stress * q.speed_factor, "The speed factor raises the stress. An estimate for teaching.", _LEWIS, _ESTIMATE, of="load"),
    Relation("utilisation", lambda q: q.bending_stress / q.allowable_stress, "More than one means more than the material can withstand. An estimate for teaching.", "definition", _ESTIMATE, of="load"),
    Relation("stress_change", lambda q: 1 / q.size_factor**2, "With the same torque, teeth and face, the force falls as the pitch diameter grows, and the tooth grows thicker at once. An estimate for teaching.", _LEWIS, _ESTIMATE, of="load"),
)
# fmt: on
