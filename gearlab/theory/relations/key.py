"""Rules of thumb for a parallel key.

Width, height, depth of its seats, length. The standards' steps stand in tables, and are not a formula.
"""

from ..relation import Relation

_WIDTH = (
    "R. L. Mott, Machine Elements in Mechanical Design, 4th ed., section 11-4 (from memory); what the"
    " standards say stands in ANSI B17.1 and DIN 6885 (gearlab.key_size)"
)
_FLAT = "R. S. Khurmi and J. K. Gupta, A Textbook of Machine Design, chapter 13 (from memory)"

# A row is read as a row.
# fmt: off
KEY_RELATIONS = (
    Relation("rule_key_width", lambda q: q.bore_diameter / 4, "By rule of thumb a key is about a quarter of the shaft wide; then the standard's nearest width is taken.", _WIDTH,
             "roughly: the standards go by steps, and metric shafts get from a quarter up to some four tenths of their diameter", of="key"),
    Relation("rule_square_height", lambda q: q.rule_key_width, "A square key is as high as it is wide.", "ANSI B17.1, table 1 (square keys)", "for a square key", of="key"),
    Relation("rule_flat_height", lambda q: 2 * q.rule_key_width / 3, "A flat key is about two thirds as high as it is wide.", _FLAT, "roughly: for a flat key", of="key"),
    Relation("half_key_depth", lambda q: q.key_height / 2, "Half of the key lies in the shaft, half in the hub.", "ANSI B17.1: depth of a keyseat is H/2",
             "for the inch standard; DIN 6885 puts a little more of it into the shaft", of="key"),
    Relation("rule_key_length", lambda q: 3 * q.bore_diameter / 2, "By rule of thumb a key, and its hub, are about one and a half shafts long.",
             "Sadhu Singh, Machine Design-I, examples 7.1 and 7.2", "roughly: a calculated length comes first", of="key"),
    Relation("shaft_over_keyway", lambda q: q.bore_diameter - q.shaft_keyway_depth, "Measured across the shaft, from the bottom of its keyway to the far side.", "definition", of="key"),
    Relation("bore_over_keyway", lambda q: q.bore_diameter + q.keyway_depth, "Measured across the bore, from the far side to the bottom of the keyway in the hub.", "definition", of="key"),
)
# fmt: on
