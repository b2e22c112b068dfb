"""Formulas of motion: ratio, speeds and directions, turns, angles, repeats."""

from sympy import pi

from ..functions import common_factor
from .relation import Relation

_MOTT = "R. L. Mott, Machine Elements in Mechanical Design, 4th ed., section 8-7"
_ARITHMETIC = "arithmetic of the whole tooth counts"

TRAIN_RELATIONS = (
    Relation("ratio", lambda q: q.driven_teeth / q.driver_teeth,
             "Equal numbers of teeth pass the mesh, so the driver turns as many times per driven turn as the driven gear has teeth per driver tooth.", _MOTT, of="pair"),
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
    Relation("mesh_frequency", lambda q: q.teeth * q.speed, "In each revolution every tooth passes the mesh once.", _MOTT, of="driver"),
    Relation("common_factor", lambda q: common_factor(q.driver_teeth, q.driven_teeth), "The greatest whole number that divides both tooth counts.",
             _ARITHMETIC, of="pair", one_way=True),
    Relation("driver_teeth_lowest", lambda q: q.driver_teeth / q.common_factor, "In lowest whole numbers, the common factor is taken out.", _ARITHMETIC, of="pair"),
    Relation("driven_teeth_lowest", lambda q: q.driven_teeth / q.common_factor, "In lowest whole numbers, the common factor is taken out.", _ARITHMETIC, of="pair"),
    Relation("driven_teeth_lowest", lambda q: q.driver_teeth_lowest * q.ratio, "The two parts stand in the ratio of the teeth.", _ARITHMETIC, of="pair"),
    Relation("driver_turns_to_repeat", lambda q: q.driven_teeth / q.common_factor,
             "The same two teeth meet again when both gears have made whole turns: the driver as many as the driven gear has teeth, over the common factor.", _ARITHMETIC, of="pair"),
    Relation("driven_turns_to_repeat", lambda q: q.driver_teeth / q.common_factor,
             "In that time the driven gear makes as many turns as the driver has teeth, over the common factor.", _ARITHMETIC, of="pair"),
    Relation("driven_turns_to_repeat", lambda q: q.driver_turns_to_repeat / q.ratio, "Both counts of turns stand in the ratio of the teeth.", _ARITHMETIC, of="pair"),
    Relation("spaces_met", lambda q: q.driven_teeth / q.common_factor, "One driver tooth meets every space whose number differs by the common factor.", _ARITHMETIC, of="pair"),
    Relation("share_of_spaces", lambda q: q.spaces_met / q.driven_teeth, "The share is the spaces met out of all spaces.", _ARITHMETIC, of="pair"),
)
