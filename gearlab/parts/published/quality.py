"""Published tolerances of gears and of what they are mounted with, each table with its source.

They tell how good bought gears are, and what a workshop's drawing may leave unsaid. For fits of bores and
shafts see ``fits``.
"""

from __future__ import annotations

import math

from ..checks import whole, within

#: Tooth-to-tooth and total composite error of the older trade classes [in]; source: AGMA 236.04, as tabulated
#: by a gear maker (seen).
TRADE_CLASSES = {
    "commercial 1": (0.002, 0.006),
    "commercial 2": (0.0015, 0.004),
    "commercial 3": (0.001, 0.002),
    "commercial 4": (0.0007, 0.0015),
    "precision 1": (0.0004, 0.001),
    "precision 2": (0.0003, 0.0005),
    "precision 3": (0.0002, 0.00025),
}

# Tooth-to-tooth and total composite tolerance of fine-pitch gears by quality number and size [in]; source:
# AGMA 236.04 and 390.02, as tabulated by a gear maker (seen).
_COMPOSITE = {
    ("up to 20 teeth", 5): (0.0037, 0.0052),
    ("up to 20 teeth", 6): (0.0027, 0.0037),
    ("up to 20 teeth", 7): (0.0019, 0.0027),
    ("up to 20 teeth", 8): (0.0014, 0.0019),
    ("up to 1.999 in", 5): (0.0027, 0.0052),
    ("up to 1.999 in", 6): (0.0019, 0.0037),
    ("up to 1.999 in", 7): (0.0014, 0.0027),
    ("2 to 3.999 in", 6): (0.0019, 0.0044),
    ("2 to 3.999 in", 7): (0.0014, 0.0032),
    ("4 in and over", 7): (0.0014, 0.0037),
}

# ISO 2768-1 class m, from memory: linear sizes up to the first number may be off by the second [mm].
_GENERAL = ((6.0, 0.1), (30.0, 0.2), (120.0, 0.3), (400.0, 0.5))

# ISO 1328-1:1995, from memory: limits of the ranges of pitch diameter and module [mm].
_DIAMETERS = (5.0, 20.0, 50.0, 125.0, 280.0, 560.0, 1000.0)
_MODULES = (0.5, 2.0, 3.5, 6.0, 10.0, 16.0, 25.0)


def composite_tolerance(quality: int, teeth: int, pitch_diameter: float) -> tuple[float, float]:
    """Tooth-to-tooth and total composite tolerance of a fine-pitch gear [in].

    quality: quality number, 5 to 8; a larger one is better [-].
    teeth: number of teeth, 6 or more [-].
    pitch_diameter: pitch diameter, above 0 [in].
    ValueError for a size and quality that the table does not hold.

    >>> composite_tolerance(7, 36, 1.5)
    (0.0014, 0.0027)

    Source: AGMA 236.04 and 390.02, as tabulated by a gear maker's quality page (seen).
    """
    within("pitch_diameter", pitch_diameter, 0.0, math.inf, "in", above=True)
    quality, teeth = whole("quality", quality, 3, 16), whole("teeth", teeth, 4, 2000)
    size = (
        "up to 20 teeth"
        if teeth <= 20
        else (
            "up to 1.999 in"
            if pitch_diameter < 2
            else "2 to 3.999 in"
            if pitch_diameter < 4
            else "4 in and over"
        )
    )
    if (size, quality) not in _COMPOSITE:
        known = ", ".join(str(number) for name, number in _COMPOSITE if name == size)
        raise ValueError(f"quality = {quality!r} is not in the table for gears of {size}: it holds {known}")
    return _COMPOSITE[size, quality]


def general_tolerance(length: float) -> float:
    """How far a length without a tolerance of its own may be off, to either side [mm].

    length: 0.5 to 400 [mm].

    >>> general_tolerance(78.75)
    0.3

    Source: ISO 2768-1:1989, class m (medium), from memory.
    """
    within("length", length, 0.5, _GENERAL[-1][0], "mm")
    return next(off for most, off in _GENERAL if length <= most)


def tooth_tolerances(module: float, pitch_diameter: float, grade: int) -> dict[str, float]:
    """Tolerances of the teeth by accuracy grade: single pitch, total pitch, profile, runout [um].

    module: 0.5 to 25 [mm].
    pitch_diameter: 5 to 1000 [mm].
    grade: 4 to 12; a smaller one is better [-].
    Returns "single pitch", "total pitch", "profile" and "runout", rounded as the standard does [um].

    >>> tooth_tolerances(2.5, 112.5, 7)["single pitch"]
    12.0

    Source: ISO 1328-1:1995, formulas of annex A, from memory; the geometric means of the ranges stand for the
    sizes in them.
    """
    within("grade", grade, 4, 12, "")
    m, d = (
        _mean(_MODULES, within("module", module, _MODULES[0], _MODULES[-1], "mm")),
        _mean(_DIAMETERS, within("pitch_diameter", pitch_diameter, _DIAMETERS[0], _DIAMETERS[-1], "mm")),
    )
    total = 0.3 * m + 1.25 * math.sqrt(d) + 7
    fifth = {
        "single pitch": 0.3 * (m + 0.4 * math.sqrt(d)) + 4,
        "total pitch": total,
        "profile": 3.2 * math.sqrt(m) + 0.22 * math.sqrt(d) + 0.7,
        "runout": 0.8 * total,
    }
    step = math.sqrt(2) ** (grade - 5)
    return {name: _rounded(value * step) for name, value in fifth.items()}


def _mean(limits: tuple[float, ...], value: float) -> float:
    """Geometric mean of the range that holds a value."""
    low, high = next((low, high) for low, high in zip(limits, limits[1:]) if value <= high)
    return math.sqrt(low * high)


def _rounded(value: float) -> float:
    """To whole micrometres above 10, to halves above 5, to tenths below."""
    step = 1.0 if value > 10 else 0.5 if value > 5 else 0.1
    return round(round(value / step) * step, 6)
