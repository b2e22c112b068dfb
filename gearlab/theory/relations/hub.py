"""Formulas of the hub: walls, drill depths, threads, key and set screw."""

from sympy import pi

from ..relation import Relation

_PRACTICE = "common practice"
_MOTT = "R. L. Mott, Machine Elements in Mechanical Design, 4th ed., chapter 11 (keys)"

# A row is read as a row.
# fmt: off
HUB_RELATIONS = (
    Relation("hub_wall", lambda q: (q.hub_diameter - q.bore_diameter) / 2, "Half the difference of hub diameter and bore diameter.", "definition", of="hub"),
    Relation("hub_ratio", lambda q: q.hub_diameter / q.bore_diameter, "By rule of thumb a hub is about 1.8 bores in diameter, or more.", _PRACTICE, of="hub"),
    Relation("largest_hub", lambda q: q.root_diameter - 2 * q.hub_room, "A hub larger than the root circle would cover the tooth spaces.", _PRACTICE, of="hub"),
    Relation("wall_over_keyway", lambda q: q.hub_wall - q.keyway_depth, "The keyway takes its depth from the wall.", "definition", of="hub"),
    Relation("rim_over_keyway", lambda q: (q.root_diameter - q.bore_diameter) / 2 - q.keyway_depth, "Under a tooth space the material ends at the root circle.", "definition",
             "for a gear without hub", of="hub"),
    Relation("rim_ratio", lambda q: q.rim_over_keyway / q.whole_depth, "Rims are compared with the depth of the teeth they carry.", _PRACTICE, of="hub"),
    Relation("least_drill_depth", lambda q: q.hub_wall, "The hole must go just through the wall to reach the bore.", _PRACTICE, of="hub"),
    Relation("greatest_drill_depth", lambda q: (q.hub_diameter + q.bore_diameter) / 2, "Beyond the wall and the bore the drill would cut into the far wall.", _PRACTICE, of="hub"),
    Relation("screw_room", lambda q: q.hub_wall + q.flat_depth, "From the hub's surface to the flat on the shaft.", _PRACTICE, of="hub"),
    Relation("tap_drill", lambda q: q.screw_diameter - q.screw_pitch, "A tap drill is one pitch smaller than the thread.", "common practice (ISO metric threads, about 75 to 80 % of full thread)", of="hub"),
    Relation("tapped_depth", lambda q: q.thread_length + q.runout_pitches * q.screw_pitch, "A tap cuts its last pitches only in part: the hole goes deeper than the full thread.", _PRACTICE, of="hub"),
    Relation("chuck_reach", lambda q: q.outside_radius - q.hub_diameter / 2 + q.drill_depth, "The chuck must clear the tips while the drill reaches its depth below the hub's surface.", _PRACTICE, of="hub"),
    Relation("shaft_shear", lambda q: 16 * q.shaft_torque / (pi * q.bore_diameter**3), "A round shaft is sheared hardest at its surface; twice the diameter carries eight times the torque. An estimate for teaching.",
             "C. A. Coulomb, 1784, as in R. L. Mott, Machine Elements in Mechanical Design, 4th ed., section 3-8", "for a solid shaft without keyway", of="hub"),
    Relation("key_force", lambda q: q.shaft_torque / (q.bore_diameter / 2), "The torque acts on the key at the radius of the shaft.", _MOTT, of="hub"),
    Relation("key_shear", lambda q: q.key_force / (q.key_width * q.key_length), "The force shears the key along the shaft's surface. An estimate for teaching.", _MOTT, of="hub"),
    Relation("key_bearing", lambda q: q.key_force / (q.key_height / 2 * q.key_length), "Half the key's height presses against the hub. An estimate for teaching.", _MOTT, of="hub"),
    Relation("power", lambda q: 2 * pi * q.shaft_torque * q.speed, "Power is torque times the angle turned in a unit of time.", "definition", of="hub"),
    Relation("holding_torque", lambda q: q.holding_force * q.bore_diameter / 2, "The screw holds at the radius of the shaft. An estimate for teaching.", _PRACTICE, "roughly: holding forces scatter widely", of="hub"),
    Relation("holding_safety", lambda q: q.holding_torque / q.shaft_torque, "How many times the torque is held.", "definition", of="hub"),
)
# fmt: on
