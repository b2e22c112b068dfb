"""Formulas of motion.

Ratio, speeds and directions, turns, angles, repeats; of a pair, with an idler, in two stages.
"""

from sympy import acos, cos, pi, sin, sqrt, tan

from .. import ranges
from ..functions import common_factor, common_multiple
from ..relation import Relation
from . import ways

_MOTT = "R. L. Mott, Machine Elements in Mechanical Design, 4th ed., section 8-7"
_FORCE = "R. L. Mott, Machine Elements in Mechanical Design, 4th ed., section 9-3"
_ARITHMETIC = "arithmetic of the whole tooth counts"

# A row is read as a row.
# fmt: off
TRAIN_RELATIONS = (
    Relation("ratio", lambda q: q.driven_teeth / q.driver_teeth,
             "Equal numbers of teeth pass the mesh, so the driver turns as many times per driven turn as the driven gear has teeth per driver tooth.", _MOTT, of="meshing"),
    Relation("driven_speed", lambda q: -q.driver_speed / q.ratio, "Two external gears turn in opposite directions, the larger one slower.", _MOTT, of="external"),
    Relation("driven_speed", lambda q: q.driver_speed / q.ratio, "A gear and the ring around it turn in the same direction.", _MOTT, of="internal"),
    Relation("driven_turns", lambda q: -q.driver_turns / q.ratio, "Turns, like speeds, go inversely with the teeth, in opposite directions.", _MOTT, of="external"),
    Relation("driven_turns", lambda q: q.driver_turns / q.ratio, "Turns, like speeds, go inversely with the teeth, in the same direction.", _MOTT, of="internal"),
    Relation("driven_angle", lambda q: -q.driver_angle / q.ratio, "Equal arcs pass the pitch point, so angles go inversely with the teeth, in opposite directions.", _MOTT, of="external"),
    Relation("driven_angle", lambda q: q.driver_angle / q.ratio, "Equal arcs pass the pitch point, so angles go inversely with the teeth.", _MOTT, of="internal"),
    Relation("turns", lambda q: q.speed * q.duration, "Turns are speed times time.", "definition"),
    Relation("angle", lambda q: q.full_turn * q.turns, "One turn is 360 degrees.", "definition"),
    Relation("angular_speed", lambda q: 2 * pi * q.speed, "Each revolution is 2 pi radians.", "definition"),
    Relation("pitch_line_speed", lambda q: pi * q.pitch_diameter * q.speed, "In each revolution the pitch line moves on by the distance around the pitch circle.", _MOTT, of="driver"),
    Relation("action_speed", lambda q: pi * q.base_diameter * q.speed, "The line of action unwinds from the base circle like a string: in each revolution by the distance around it.",
             "E. Buckingham, Analytical Mechanics of Gears, chapter 4", of="driver"),
    Relation("mesh_frequency", lambda q: q.teeth * q.speed, "In each revolution every tooth passes the mesh once.", _MOTT, of="driver"),
    Relation("common_factor", lambda q: common_factor(q.driver_teeth, q.driven_teeth), "The greatest whole number that divides both tooth counts.",
             _ARITHMETIC, of="pair", one_way=True),
    Relation("driver_teeth_lowest", lambda q: q.driver_teeth / q.common_factor, "In lowest whole numbers, the common factor is taken out.", _ARITHMETIC, of="pair"),
    Relation("driven_teeth_lowest", lambda q: q.driven_teeth / q.common_factor, "In lowest whole numbers, the common factor is taken out.", _ARITHMETIC, of="pair"),
    Relation("driven_teeth_lowest", lambda q: q.driver_teeth_lowest * q.ratio, "The two parts are in the ratio of the teeth.", _ARITHMETIC, of="pair"),
    Relation("driver_turns_to_repeat", lambda q: q.driven_teeth / q.common_factor,
             "The same two teeth meet again when both gears have made whole turns: the driver as many as the driven gear has teeth, over the common factor.", _ARITHMETIC, of="pair"),
    Relation("driven_turns_to_repeat", lambda q: q.driver_teeth / q.common_factor,
             "In that time the driven gear makes as many turns as the driver has teeth, over the common factor.", _ARITHMETIC, of="pair"),
    Relation("driven_turns_to_repeat", lambda q: q.driver_turns_to_repeat / q.ratio, "Both counts of turns are in the ratio of the teeth.", _ARITHMETIC, of="pair"),
    Relation("spaces_met", lambda q: q.driven_teeth / q.common_factor, "One driver tooth meets every space whose number differs by the common factor.", _ARITHMETIC, of="pair"),
    Relation("share_of_spaces", lambda q: q.spaces_met / q.driven_teeth, "The share is the spaces met out of all spaces.", _ARITHMETIC, of="pair"),
    # Trains. The idler's teeth stand in both stage ratios and cancel.
    Relation("first_stage_ratio", lambda q: q.second_teeth / q.first_teeth, "The ratio of a stage is its driven teeth over its driving teeth.", _MOTT, of="train"),
    Relation("second_stage_ratio", lambda q: q.third_teeth / q.second_teeth, "The idler drives the third gear with the same teeth by which it is driven.", _MOTT, of="idler train"),
    Relation("second_stage_ratio", lambda q: q.fourth_teeth / q.third_teeth, "The ratio of a stage is its driven teeth over its driving teeth.", _MOTT, of="compound train"),
    Relation("train_ratio", lambda q: q.first_stage_ratio * q.second_stage_ratio, "Stage after stage the ratios multiply.", _MOTT, of="train"),
    Relation("second_speed", lambda q: -q.first_speed / q.first_stage_ratio, "At each external mesh the direction changes.", _MOTT, of="train"),
    Relation("second_turns", lambda q: -q.first_turns / q.first_stage_ratio, "At each external mesh the direction changes.", _MOTT, of="train"),
    Relation("third_speed", lambda q: -q.second_speed / q.second_stage_ratio, "At each external mesh the direction changes.", _MOTT, of="idler train"),
    Relation("third_turns", lambda q: -q.second_turns / q.second_stage_ratio, "At each external mesh the direction changes.", _MOTT, of="idler train"),
    Relation("third_speed", lambda q: q.second_speed, "Two gears on one shaft turn together.", _MOTT, of="compound train"),
    Relation("third_turns", lambda q: q.second_turns, "Two gears on one shaft turn together.", _MOTT, of="compound train"),
    Relation("fourth_speed", lambda q: -q.third_speed / q.second_stage_ratio, "At each external mesh the direction changes.", _MOTT, of="compound train"),
    Relation("fourth_turns", lambda q: -q.third_turns / q.second_stage_ratio, "At each external mesh the direction changes.", _MOTT, of="compound train"),
    Relation("direction_factor", lambda q: (-1) ** (q.gears_in_row - 1), "A row of gears has one mesh less than gears, and each mesh reverses the direction.", _MOTT, of="idler train", one_way=True),
    Relation("first_centre_distance", lambda q: q.first_stage_module * (q.first_teeth + q.second_teeth) / 2,
             "When the pitch circles touch, the shafts are one pitch radius plus one pitch radius apart.", _MOTT, of="train"),
    Relation("second_centre_distance", lambda q: q.second_stage_module * (q.second_teeth + q.third_teeth) / 2,
             "When the pitch circles touch, the shafts are one pitch radius plus one pitch radius apart.", _MOTT, of="idler train"),
    Relation("second_centre_distance", lambda q: q.second_stage_module * (q.third_teeth + q.fourth_teeth) / 2,
             "When the pitch circles touch, the shafts are one pitch radius plus one pitch radius apart.", _MOTT, of="compound train"),
    Relation("row_length", lambda q: q.first_centre_distance + q.second_centre_distance, "In line, both centre distances follow one another.", "geometry", of="train", unless=("reverted",)),
    Relation("idler_angle", lambda q: acos((q.shaft_spacing**2 + q.first_centre_distance**2 - q.second_centre_distance**2) / (2 * q.shaft_spacing * q.first_centre_distance)),
             "The three shafts are at the corners of a triangle whose sides are known: the law of cosines gives its angles.", "geometry (law of cosines)", of="idler train", way=ways.IDLER_ANGLE),
    Relation("idler_x", lambda q: (q.shaft_spacing**2 + q.first_centre_distance**2 - q.second_centre_distance**2) / (2 * q.shaft_spacing),
             "Two circles round the shafts cross where the idler may be; taking one equation from the other leaves its place along the line.", "geometry (two circles)",
             of="idler train", way=ways.IDLER_PLACE),
    Relation("idler_y", lambda q: sqrt(q.first_centre_distance**2 - q.idler_x**2), "With its place along the line known, the height is the other side of a right triangle.",
             "geometry (Pythagoras)", of="idler train"),
    Relation("idler_bend", lambda q: acos((q.first_centre_distance**2 + q.second_centre_distance**2 - q.shaft_spacing**2) / (2 * q.first_centre_distance * q.second_centre_distance)),
             "The three shafts are at the corners of a triangle whose sides are known: the law of cosines gives its angles.", "geometry (law of cosines)", of="idler train"),
    Relation("fourth_teeth", lambda q: q.first_stage_module * (q.first_teeth + q.second_teeth) / q.second_stage_module - q.third_teeth,
             "To come back to the first axis, both stages must have the same centre distance.", _MOTT, "for a train whose last shaft lies on the axis of the first", of="compound train",
             needs=("reverted",), way=ways.REVERTED),
    Relation("equal_stage_ratio", lambda q: sqrt(q.train_ratio), "Two equal stages multiply to the whole: each is its square root.", _MOTT, of="compound train"),
    Relation("mesh_tangential_force", lambda q: q.first_torque / q.first_pitch_radius, "The torque acts on the teeth at the pitch radius; an idler hands the same force on.", _MOTT, "without losses", of="idler train"),
    Relation("first_mesh_separating_force", lambda q: q.mesh_tangential_force * tan(q.pressure_angle), "The part of the tooth force along the line of centres pushes the shafts apart.", _FORCE, of="idler train"),
    Relation("second_mesh_separating_force", lambda q: q.mesh_tangential_force * tan(q.pressure_angle), "The part of the tooth force along the line of centres pushes the shafts apart.", _FORCE, of="idler train"),
    Relation("idler_tangential_push", lambda q: 2 * q.mesh_tangential_force, "The driver pushes one side of the idler, the driven gear holds back the other: on its shaft both act the same way.",
             _FORCE, ranges.IN_LINE, of="idler train"),
    Relation("idler_radial_push", lambda q: q.first_mesh_separating_force - q.second_mesh_separating_force, "In line, the two separating forces push against each other.", _FORCE,
             ranges.IN_LINE, of="idler train", one_way=True),
    Relation("idler_force_one_way", lambda q: 2 * q.mesh_tangential_force / cos(q.pressure_angle) * abs(sin(q.idler_bend / 2 - q.pressure_angle)),
             "The two tooth forces, each along its own line of action, add up as the sides of a parallelogram.", "statics of two equal forces", of="idler train", one_way=True),
    Relation("idler_force_other_way", lambda q: 2 * q.mesh_tangential_force / cos(q.pressure_angle) * abs(sin(q.idler_bend / 2 + q.pressure_angle)),
             "The two tooth forces, each along its own line of action, add up as the sides of a parallelogram.", "statics of two equal forces", of="idler train", one_way=True),
    Relation("last_torque", lambda q: q.first_torque * q.train_ratio * q.mesh_efficiency**2, "What the speed loses the torque gains, less what each mesh loses.", _MOTT, "for two meshes", of="train"),
    Relation("power", lambda q: 2 * pi * q.first_torque * q.first_speed, "Power is torque times the angle turned in a unit of time.", "definition", of="train"),
    Relation("power", lambda q: 2 * pi * q.last_torque * q.fourth_speed / q.mesh_efficiency**2, "The last shaft hands on what goes in, less what each mesh loses.", "definition", of="compound train", detour=True),
    Relation("power", lambda q: 2 * pi * q.last_torque * q.third_speed / q.mesh_efficiency**2, "The last shaft hands on what goes in, less what each mesh loses.", "definition", of="idler train", detour=True),
    Relation("middle_turns_to_repeat", lambda q: q.second_teeth / common_factor(q.first_teeth, q.second_teeth),
             "First and middle shaft are whole together when the teeth passed fill both gears.", _ARITHMETIC, of="train", one_way=True),
    Relation("output_turns_to_repeat", lambda q: q.second_teeth * q.fourth_teeth / common_factor(q.second_teeth * q.fourth_teeth, q.first_teeth * q.third_teeth),
             "The last shaft is whole when the turns over the ratio of the train are whole.", _ARITHMETIC, of="compound train", one_way=True),
    Relation("output_turns_to_repeat", lambda q: q.third_teeth / common_factor(q.first_teeth, q.third_teeth),
             "The last shaft is whole when the turns over the ratio of the train are whole.", _ARITHMETIC, of="idler train", one_way=True),
    Relation("turns_to_line_up", lambda q: common_multiple(q.middle_turns_to_repeat, q.output_turns_to_repeat), "All are as at the start when both have come round: the least common multiple.",
             _ARITHMETIC, of="train", one_way=True),
)
# fmt: on
