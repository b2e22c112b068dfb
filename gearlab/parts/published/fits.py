"""Fits of bores and shafts by name, with their limits.

The tables hold the sizes that a school workshop meets, up to 50 mm; inch sizes are converted.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from dataclasses import dataclass

from gearlab.theory import system
from gearlab.theory.scope import scope_for
from gearlab.theory.units import convert

from ..checks import within
from ..working import worked_out

# ISO 286-1 and -2, from memory. Sizes up to [mm]; by grade, the tolerance in each of these ranges [um].
_SIZES = (3.0, 6.0, 10.0, 18.0, 30.0, 50.0)
_GRADES = {
    5: (4, 5, 6, 8, 9, 11),
    6: (6, 8, 9, 11, 13, 16),
    7: (10, 12, 15, 18, 21, 25),
    8: (14, 18, 22, 27, 33, 39),
    9: (25, 30, 36, 43, 52, 62),
    10: (40, 48, 58, 70, 84, 100),
    11: (60, 75, 90, 110, 130, 160),
}
# Deviation of a shaft nearest to its nominal size [um]: the upper one of d to h, the lower one of k to s.
_NEAREST = {
    "d": (-20, -30, -40, -50, -65, -80),
    "e": (-14, -20, -25, -32, -40, -50),
    "f": (-6, -10, -13, -16, -20, -25),
    "g": (-2, -4, -5, -6, -7, -9),
    "h": (0, 0, 0, 0, 0, 0),
    "k": (0, 1, 1, 1, 2, 2),
    "m": (2, 4, 6, 7, 8, 9),
    "n": (4, 8, 10, 12, 15, 17),
    "p": (6, 12, 15, 18, 22, 26),
    "r": (10, 15, 19, 23, 28, 34),
    "s": (14, 19, 23, 28, 35, 43),
}
# The same where the ranges are finer; the last one is above all of these sizes.
_FINER_SIZES = (3.0, 6.0, 10.0, 18.0, 24.0, 30.0, 40.0)
_FINER = {
    "c": (-60, -70, -80, -95, -110, -110, -120, -130),
    "u": (18, 23, 28, 33, 41, 48, 60, 70),
}
#: Names that a drawing may use in place of the letters.
NAMED = {"running": "H7/f7", "close running": "H7/g6", "sliding": "H7/h6", "press": "H7/p6"}
_PATTERN = re.compile(r"(D|E|F|G|H|JS)([6-9]|1[01])/(c|d|e|f|g|h|js|k|m|n|p|r|s|u)([5-9]|1[01])")
_LETTERS = (
    "holes D, E, F, G, H, JS of grades 6 to 11, shafts c to h, js, k, m, n, p, r, s, u of grades 5 to 11"
)


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

    name: "running", "close running", "sliding", "press", or letters such as "H7/h6": holes D to H and JS of
        grades 6 to 11, shafts c to h, js, k, m, n, p, r, s and u of grades 5 to 11.
    size: nominal diameter, above 0 up to 50 mm [unit].
    unit: "mm" or "in".
    ValueError for a name or size that the tables do not hold.

    >>> loose = fit("sliding", 10.0)
    >>> loose.name, round(loose.largest_clearance, 4), loose.least_clearance
    ('H7/h6', 0.024, 0.0)

    Source: ISO 286-1 and -2, from memory.
    """
    match = _PATTERN.fullmatch(NAMED.get(name, name)) if isinstance(name, str) else None
    if not match:
        raise ValueError(
            f"fit {name!r} is unknown: use one of {', '.join(NAMED)}, or letters such as H7/h6 ({_LETTERS})"
        )
    if unit not in ("mm", "in"):
        raise ValueError(f"unit {unit!r} is unknown: give 'mm' or 'in'")
    number = within("size", size, 0.0, convert(_SIZES[-1], "mm", unit), unit, above=True)
    millimetres = round(convert(number, unit, "mm"), 9)
    hole, hole_grade, shaft, shaft_grade = match.groups()
    # a hole lies above the nominal size by as much as the shaft of its letter lies below
    low, high = _limits(hole.lower(), int(hole_grade), millimetres)
    limits = (-low, -high, *reversed(_limits(shaft, int(shaft_grade), millimetres)))
    hole_high, hole_low, shaft_high, shaft_low = (convert(limit, "um", unit) for limit in limits)
    return Fit(match.group(), hole_high, hole_low, shaft_high, shaft_low, unit)


def _limits(letter: str, grade: int, size: float) -> tuple[float, float]:
    """Lower and upper deviation of a shaft [um]; size [mm]."""
    row = bisect_left(_SIZES, size)
    tolerance = _GRADES[grade][row]
    if letter == "js":
        return -tolerance / 2, tolerance / 2
    nearest = _FINER[letter][bisect_left(_FINER_SIZES, size)] if letter in _FINER else _NEAREST[letter][row]
    if letter == "k" and grade > 7:  # from grade 8 on, k starts at the nominal size
        nearest = 0
    return (nearest - tolerance, nearest) if letter in "cdefgh" else (nearest, nearest + tolerance)
