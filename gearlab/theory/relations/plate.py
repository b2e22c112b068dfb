"""Formulas of the pair on a plate.

Where the holes go, what is left to the edges, the check line of a print.
"""

from sympy import cos, sin, sqrt

from ..relation import Relation

_PRACTICE = "common practice (laying out shaft holes from one corner of the plate)"

# A row is read as a row.
# fmt: off
PLATE_RELATIONS = (
    Relation("other_hole_x", lambda q: q.hole_x + q.reference_centre_distance * cos(q.line_angle), "From the first hole go the centre distance along the line of centres: this is the part to the side.",
             _PRACTICE, of="plate"),
    Relation("other_hole_y", lambda q: q.hole_y + q.reference_centre_distance * sin(q.line_angle), "From the first hole go the centre distance along the line of centres: this is the part upwards.",
             _PRACTICE, of="plate"),
    Relation("centre_distance", lambda q: sqrt((q.other_hole_x - q.hole_x) ** 2 + (q.other_hole_y - q.hole_y) ** 2),
             "Between two holes, the differences of the coordinates are the short sides of a right triangle.", "geometry (Pythagoras)", of="plate", one_way=True),
    Relation("end_margin", lambda q: (q.plate_length - q.reference_centre_distance - q.driver_outside_radius - q.driven_outside_radius) / 2,
             "The outline of the pair, tip to tip, is the centre distance and both outside radii; what the plate has more is shared by both ends.", _PRACTICE,
             "for a level line of centres, the outline centred", of="plate"),
    Relation("hole_x", lambda q: q.end_margin + q.driver_outside_radius, "The first hole is one outside radius further in than the margin.", _PRACTICE,
             "for a level line of centres, the outline centred", of="plate"),
    Relation("material_left", lambda q: q.edge_distance - q.hole_diameter / 2, "From the centre to the edge, less the hole's own radius.", "definition", of="plate"),
    Relation("material_ratio", lambda q: q.material_left / q.hole_diameter, "Holes should keep about one diameter of material to the edge.", _PRACTICE, of="plate"),
    Relation("print_scale", lambda q: q.check_line / q.check_line_measured, "A line that is too short on the print calls for a larger scale, in the same measure.", "definition", of="plate"),
)
# fmt: on
