"""Rules for keys, against the standard's rows in which they come out even, and places on a line across shaft
and hub.
"""

from outside import closed_form, expect

# ANSI B17.1-1967, table 1 (from memory): shaft, square key, height of the rectangular key of that width [in].
ROWS = (
    (0.5, 1 / 8, None),
    (0.75, 3 / 16, 1 / 8),
    (1.0, 1 / 4, None),
    (1.5, 3 / 8, 1 / 4),
    (2.0, 1 / 2, None),
    (2.5, 5 / 8, None),
    (3.0, 3 / 4, 1 / 2),
)


@closed_form(
    "ANSI B17.1-1967, table 1 (from memory): keys of the shafts in the middle of their ranges, square and"
    " rectangular; keyseats are half a key deep"
)
def keys_by_rule():
    for shaft, width, flat in ROWS:
        expect(
            "key", {"bore_diameter": shaft}, {"rule_key_width": width, "rule_square_height": width}, unit="in"
        )
        if flat is not None:
            expect("key", {"bore_diameter": shaft}, {"rule_flat_height": flat}, unit="in")
    for half in (1 / 16, 3 / 32, 1 / 8):
        expect("key", {"key_height": half + half}, {"half_key_depth": half}, unit="in")
    for shaft in (42.0, 50.0):  # one shaft, and half of one more
        expect("key", {"bore_diameter": shaft}, {"rule_key_length": shaft + shaft / 2})


@closed_form(
    "bottom of the keyway and the far side, by places on a line through the axis (12 mm shaft, DIN 6885-1:"
    " 2.5 in the shaft, 1.8 in the hub)"
)
def across_a_keyway():
    top, far = 6.0, -6.0
    expect("key", {"bore_diameter": 12, "shaft_keyway_depth": 2.5}, {"shaft_over_keyway": (top - 2.5) - far})
    expect("key", {"bore_diameter": 12, "keyway_depth": 1.8}, {"bore_over_keyway": (top + 1.8) - far})
