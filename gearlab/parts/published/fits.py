"""Fits of bores and shafts by name, with their limits.

The tables hold the sizes that a school workshop meets, up to 50 mm; inch sizes are converted.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from gearlab.theory import system
from gearlab.theory.scope import scope_for
from gearlab.theory.units import convert

from ..checks import within
from ..working import worked_out

# ISO 286-1 and -2, from memory: size up to [mm]; grades 6, 7, 8 [um]; deviations of g, f (upper, negative),
# k, p (lower, positive) [um].
_ROWS = (
    (3.0, {6: 6, 7: 10, 8: 14}, {"g": -2, "f": -6, "k": 0, "p": 6}),
    (6.0, {6: 8, 7: 12, 8: 18}, {"g": -4, "f": -10, "k": 1, "p": 12}),
    (10.0, {6: 9, 7: 15, 8: 22}, {"g": -5, "f": -13, "k": 1, "p": 15}),
    (18.0, {6: 11, 7: 18, 8: 27}, {"g": -6, "f": -16, "k": 1, "p": 18}),
    (30.0, {6: 13, 7: 21, 8: 33}, {"g": -7, "f": -20, "k": 2, "p": 22}),
    (50.0, {6: 16, 7: 25, 8: 39}, {"g": -9, "f": -25, "k": 2, "p": 26}),
)
#: Names that a drawing may use in place of the letters.
NAMED = {"running": "H7/f7", "close running": "H7/g6", "sliding": "H7/h6", "press": "H7/p6"}
_PATTERN = re.compile(r"H([678])/([fghkp])([678])")


@dataclass(frozen=True)
class Fit:
    """A fit of a bore and a shaft: deviations from the nominal size.

    name: such as "H7/h6".
    hole_upper, hole_lower, shaft_upper, shaft_lower: deviations [unit].
    unit: "mm" or "in".
    """

    name: str
    hole_upper: float
    hole_lower: float
    shaft_upper: float
    shaft_lower: float
    unit: str

    @property
    def largest_clearance(self) -> float:
        """Largest hole on smallest shaft [unit]."""
        return self._worked_out()["largest_clearance"]

    @property
    def least_clearance(self) -> float:
        """Smallest hole on largest shaft [unit]; below 0 it may press."""
        return self._worked_out()["least_clearance"]

    def _worked_out(self) -> dict[str, float]:
        return worked_out(
            scope_for("workshop", self.unit, (system(),)),
            {
                word: getattr(self, word)
                for word in ("hole_upper", "hole_lower", "shaft_upper", "shaft_lower")
            },
        )

    @property
    def kind(self) -> str:
        """ "clearance", "transition" or "interference"."""
        return (
            "clearance"
            if self.least_clearance >= 0
            else "interference"
            if self.largest_clearance <= 0
            else "transition"
        )


def fit(name: str, size: float, unit: str = "mm") -> Fit:
    """The limits of a named fit.

    The names are those of German workshops (common practice); ANSI B4.2 calls H7/g6 sliding and H7/h6
    locational clearance: where it matters, give the letters.

    name: "running", "close running", "sliding", "press", or letters such as "H7/h6" (holes H6 to H8, shafts
        f, g, h, k, p).
    size: nominal diameter, above 0 up to 50 mm [unit].
    unit: "mm" or "in".
    ValueError for a name or size that the tables do not hold.

    >>> loose = fit("sliding", 10.0)
    >>> loose.name, round(loose.largest_clearance, 4), loose.least_clearance
    ('H7/h6', 0.024, 0.0)

    Source: ISO 286-1 and -2, from memory.
    """
    letters = NAMED.get(name, name)
    match = _PATTERN.fullmatch(letters)
    if not match:
        raise ValueError(
            f"fit {name!r} is unknown: use one of {', '.join(NAMED)}, or letters such as H7/h6 (holes H6 to"
            " H8, shafts f, g, h, k, p of grades 6 to 8)"
        )
    if unit not in ("mm", "in"):
        raise ValueError(f"unit {unit!r} is unknown: give 'mm' or 'in'")
    number = within("size", size, 0.0, convert(_ROWS[-1][0], "mm", unit), unit, above=True)
    millimetres = round(convert(number, unit, "mm"), 9)
    _, grades, deviations = next(row for row in _ROWS if millimetres <= row[0])
    hole, shaft, letter = grades[int(match[1])], grades[int(match[3])], match[2]
    if letter in ("k", "p"):
        # from grade 8 on, k starts at the nominal size
        lower = 0 if letter == "k" and int(match[3]) > 7 else deviations[letter]
        limits = (hole, 0, lower + shaft, lower)
    else:
        upper = deviations.get(letter, 0)
        limits = (hole, 0, upper, upper - shaft)
    hole_high, hole_low, shaft_high, shaft_low = (convert(limit, "um", unit) for limit in limits)
    return Fit(letters, hole_high, hole_low, shaft_high, shaft_low, unit)
