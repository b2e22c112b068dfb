"""Preferred sizes of teeth: what cutters and stock gears are made in.

A size measured on a worn gear is rounded to the preferred size next to it. These are tables of the
standards, not formulas.
"""

from __future__ import annotations

# ISO 54:1996, modules from 1 mm up [mm]: first choice, and second choice (6.5 is to be avoided where
# possible).
MODULES = (1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0)
MODULES_SECOND_CHOICE = (
    1.125,
    1.375,
    1.75,
    2.25,
    2.75,
    3.5,
    4.5,
    5.5,
    6.5,
    7.0,
    9.0,
    11.0,
    14.0,
    18.0,
    22.0,
    28.0,
    36.0,
    45.0,
)
# Shigley's Mechanical Engineering Design, table 13-2, preferred diametral pitches [1/in]: coarse and fine.
COARSE_PITCHES = (2.0, 2.25, 2.5, 3.0, 4.0, 6.0, 8.0, 10.0, 12.0, 16.0)
FINE_PITCHES = (20.0, 24.0, 32.0, 40.0, 48.0, 64.0, 80.0, 96.0, 120.0, 150.0, 200.0)
# Kept in stock besides the preferred ones: Mott, Machine Elements in Mechanical Design, 4th ed., table 8-2
# (from memory) [1/in].
STOCK_PITCHES = (5.0,)

PREFERRED: dict[str, tuple[float, ...]] = {
    "module": MODULES,
    "diametral_pitch": tuple(sorted(COARSE_PITCHES + STOCK_PITCHES + FINE_PITCHES)),
}
