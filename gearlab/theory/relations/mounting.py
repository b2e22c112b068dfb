"""Formulas of the mounted pair: hole spacing by caliper."""

from ..relation import Relation

_PRACTICE = "common practice (measuring hole spacing over or between pins)"

# A row is read as a row.
# fmt: off
MOUNTING_RELATIONS = (
    Relation("reading_over_pins", lambda q: q.hole_spacing + (q.hole_pin_1 + q.hole_pin_2) / 2,
             "Over the pins, the caliper reads the spacing and one pin radius at each end.", _PRACTICE, of="pair"),
    Relation("reading_between_pins", lambda q: q.hole_spacing - (q.hole_pin_1 + q.hole_pin_2) / 2,
             "Between the pins, the caliper reads the spacing less one pin radius at each end.", _PRACTICE, of="pair"),
    Relation("spacing_miss", lambda q: q.hole_spacing - q.centre_distance, "The miss is the measured spacing less the wanted one.", "definition", of="pair"),
)
# fmt: on
