"""Formulas of the shaft: what is stacked on it, how high the teeth stand, the moment at the plate."""

from ..functions import next_multiple
from ..relation import Relation

_PRACTICE = "common practice (stack-up along a shaft)"

# A row is read as a row.
# fmt: off
STACK_RELATIONS = (
    Relation("shaft_length", lambda q: q.behind_plate + q.plate_thickness + q.axial_gap + q.overall_length + q.end_length,
             "Along the shaft all pieces follow one another; the face is part of the gear's overall length and is not counted again.", _PRACTICE, of="stack"),
    Relation("stock_length", lambda q: next_multiple(q.shaft_length, q.stock_step), "Shafts are sold in steps: take the next longer one.", _PRACTICE, of="stack", one_way=True),
    Relation("hub_projection", lambda q: q.overall_length - q.face_width, "The hub projects by what the gear is longer than its face.", "definition", "for a hub on one side", of="stack"),
    Relation("face_height", lambda q: q.axial_gap + q.overall_length - q.face_width / 2, "With the hub towards the plate the face is at the far end of the gear.", _PRACTICE, of="stack"),
    Relation("outward_face_height", lambda q: q.axial_gap + q.face_width / 2, "With the hub outwards the face is next to the plate.", _PRACTICE, of="stack"),
    Relation("other_gap", lambda q: q.face_height - (q.other_overall_length - q.other_face_width / 2),
             "Level faces have their middles at one height; the washers make up the difference.", _PRACTICE, "with both hubs towards the plate", of="stack"),
    Relation("overhung_moment", lambda q: q.shaft_force * q.face_height, "A force beyond the last support bends the shaft with its distance as lever arm.", "statics", of="stack"),
    Relation("moment_drop", lambda q: 1 - q.outward_face_height / q.face_height, "The moment goes with the height of the face above the plate.", "statics", of="stack"),
)
# fmt: on
