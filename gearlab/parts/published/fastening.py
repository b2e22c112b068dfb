"""Keys and set screws from the published tables: sizes, tap drills, what they hold.

What a set screw holds scatters widely with its point, its seating and the shaft: every holding torque is an
estimate for teaching.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from gearlab.theory.units import convert

from ..checks import within

# ANSI B17.1-1967 (R1998), table 1, as in a shop reference for students (seen): shaft over, up to, square key
# [in].
_INCH_KEYS = (
    (5 / 16, 7 / 16, 3 / 32),
    (7 / 16, 9 / 16, 1 / 8),
    (9 / 16, 7 / 8, 3 / 16),
    (7 / 8, 1.25, 1 / 4),
    (1.25, 1.375, 5 / 16),
    (1.375, 1.75, 3 / 8),
    (1.75, 2.25, 1 / 2),
    (2.25, 2.75, 5 / 8),
    (2.75, 3.25, 3 / 4),
    (3.25, 3.75, 7 / 8),
    (3.75, 4.5, 1.0),
)
# DIN 6885-1 / ISO 773 (seen): shaft over (the first row from), up to; width, height, depth in the shaft,
# depth in the hub [mm].
_METRIC_KEYS = (
    (6, 8, 2, 2, 1.2, 1.0),
    (8, 10, 3, 3, 1.8, 1.4),
    (10, 12, 4, 4, 2.5, 1.8),
    (12, 17, 5, 5, 3.0, 2.3),
    (17, 22, 6, 6, 3.5, 2.8),
    (22, 30, 8, 7, 4.0, 3.3),
    (30, 38, 10, 8, 5.0, 3.3),
    (38, 44, 12, 8, 5.0, 3.3),
    (44, 50, 14, 9, 5.5, 3.8),
    (50, 58, 16, 10, 6.0, 4.3),
)
# Cup-point set screws: size, thread diameter, threads an inch, seating torque [lbf in], axial holding power
# [lbf]. Shigley, table 7-4 (from memory); coarse threads (fine for #0): common practice.
_INCH_SCREWS = {
    "#0": (0.060, 80, 1.0, 50),
    "#1": (0.073, 64, 1.8, 65),
    "#2": (0.086, 56, 1.8, 85),
    "#3": (0.099, 48, 5, 120),
    "#4": (0.112, 40, 5, 160),
    "#5": (0.125, 40, 10, 200),
    "#6": (0.138, 32, 10, 250),
    "#8": (0.164, 32, 20, 385),
    "#10": (0.190, 24, 36, 540),
    "1/4": (0.25, 20, 87, 1000),
    "5/16": (0.3125, 18, 165, 1500),
    "3/8": (0.375, 16, 290, 2000),
    "7/16": (0.4375, 14, 430, 2500),
    "1/2": (0.5, 13, 620, 3000),
    "5/8": (0.625, 11, 1325, 4000),
    "3/4": (0.75, 10, 2400, 5000),
}
# ISO metric coarse threads (from memory): size, thread diameter, pitch [mm]; seating torque of a maker (seen)
# [N m].
_METRIC_SCREWS = {
    "M3": (3.0, 0.5, 0.92),
    "M4": (4.0, 0.7, 2.2),
    "M5": (5.0, 0.8, 4.0),
    "M6": (6.0, 1.0, 7.2),
    "M8": (8.0, 1.25, 17.0),
    "M10": (10.0, 1.5, 33.0),
}
# ANSI B17.1, set screws over square keys (from memory): width of the key [in], size of the screw.
_OVER_KEYS = {
    3 / 32: "#10",
    1 / 8: "#10",
    3 / 16: "1/4",
    1 / 4: "5/16",
    5 / 16: "3/8",
    3 / 8: "3/8",
    1 / 2: "1/2",
}
#: Holding power is reported to scatter by about this share to either side; Shigley, section 7-8 (from
#: memory).
SCATTER = 0.3
#: Share of the table's holding power on the soft shaft of a school bench; the tables are for hard shafts and
#: full seating (common practice, a guess).
SOFT_SHAFT = 0.5
#: Lengths in which small set screws are commonly sold [mm] and [in].
LENGTHS = {
    "mm": (4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0),
    "in": (0.125, 0.1875, 0.25, 0.3125, 0.375, 0.5, 0.625, 0.75),
}


@dataclass(frozen=True)
class Key:
    """A key for a shaft: width and height, and how deep its seat is in shaft and hub [unit]."""

    width: float
    height: float
    shaft_depth: float
    hub_depth: float
    unit: str


def key(shaft_diameter: float, unit: str = "mm") -> Key:
    """The standard key for a shaft: parallel in millimetres, square in inches.

    shaft_diameter: from 6 up to 58 mm, or above 5/16 up to 4 1/2 in [unit].
    unit: "mm" or "in".
    ValueError for a shaft that the table does not hold.

    >>> key(12.0), key(0.5, "in").width
    (Key(width=4, height=4, shaft_depth=2.5, hub_depth=1.8, unit='mm'), 0.125)

    Source: DIN 6885-1 / ISO 773 (seen); ANSI B17.1-1967, table 1 (seen).
    """
    if unit not in ("mm", "in"):
        raise ValueError(f"unit {unit!r} is unknown: give 'mm' or 'in'")
    within("shaft_diameter", shaft_diameter, 0.0, math.inf, unit, above=True)
    if unit == "mm":
        for over, most, width, height, shaft, hub in _METRIC_KEYS:
            if over < shaft_diameter <= most or shaft_diameter == over == _METRIC_KEYS[0][0]:
                return Key(width, height, shaft, hub, unit)
    else:
        for above, limit, side in _INCH_KEYS:
            if above < shaft_diameter <= limit:
                return Key(side, side, side / 2, side / 2, unit)
    table = _METRIC_KEYS if unit == "mm" else _INCH_KEYS
    raise ValueError(
        f"shaft_diameter = {shaft_diameter:g} {unit} is not in the table of keys: it holds shafts"
        f" {'from' if unit == 'mm' else 'above'} {table[0][0]:g} up to {table[-1][1]:g} {unit}; smaller"
        " shafts get a flat and a set screw"
    )


@dataclass(frozen=True)
class SetScrew:
    """A set screw by its size.

    size: "M3" to "M10", or "#0" to "#10" and "1/4" to "3/4".
    diameter, pitch: of the thread [unit].
    seating_torque: torque with which it is tightened [N m, or lbf in].
    unit: "mm" or "in".
    """

    size: str
    diameter: float
    pitch: float
    seating_torque: float
    unit: str

    @property
    def tap_drill(self) -> float:
        """One pitch smaller than the thread [unit]; common practice."""
        return self.diameter - self.pitch

    def holding_force(self) -> tuple[float, float]:
        """Least and greatest force that it may hold at the surface of a soft shaft [N, or lbf].

        An estimate.

        >>> [round(force) for force in set_screw("M5").holding_force()]
        [841, 1561]
        """
        # a metric screw is taken for the largest inch screw that is not thicker
        powers = [
            power
            for thread, _, _, power in _INCH_SCREWS.values()
            if convert(thread, "in", self.unit) <= self.diameter * (1 + 1e-9)
        ]
        if not powers:
            raise ValueError(
                f"diameter = {self.diameter:g} {self.unit} is thinner than the smallest set screw of the"
                " table, #0 of 0.06 in: take a thicker screw"
            )
        force = SOFT_SHAFT * max(powers)
        least, most = (
            convert(force * (1 + side * SCATTER), "lbf", "lbf" if self.unit == "in" else "N")
            for side in (-1, 1)
        )
        return least, most

    def holding_torque(self, shaft_diameter: float) -> tuple[float, float]:
        """Least and greatest torque that it may be expected to hold [N m, or lbf in].

        An estimate for teaching.

        shaft_diameter: above 0 [unit].

        >>> [round(torque, 1) for torque in set_screw("M5").holding_torque(10.0)]
        [4.2, 7.8]
        """
        within("shaft_diameter", shaft_diameter, 0.0, 1e4, self.unit, above=True)
        radius = shaft_diameter / 2
        least, most = (
            convert(force * radius, "N*mm", "N*m") if self.unit == "mm" else force * radius
            for force in self.holding_force()
        )
        return least, most


# Fine threads of the same screws (ISO 261 and ASME B1.1, UNF; from memory): pitch [mm], threads to the inch.
_FINE = {
    "M5": (0.5,),
    "M6": (0.75,),
    "M8": (1.0,),
    "M10": (1.0, 1.25),
    "#1": (72,),
    "#2": (64,),
    "#3": (56,),
    "#4": (48,),
    "#5": (44,),
    "#6": (40,),
    "#8": (36,),
    "#10": (32,),
    "1/4": (28,),
    "5/16": (24,),
    "3/8": (24,),
    "7/16": (20,),
    "1/2": (20,),
    "5/8": (18,),
    "3/4": (16,),
}
# A thread as a workshop writes it: M5, m6x1, #10-24, 1/4-20 UNC.
_THREAD = re.compile(r"(M ?\d+|#\d+|\d+/\d+)(?: ?[x×*-] ?(\d+(?:[.,]\d+)?))?(?: ?UN[CF])?", re.IGNORECASE)


def set_screw(size: str) -> SetScrew:
    """A set screw of the tables, by its size as a workshop writes it; without a thread the coarse one.

    ValueError for a size, or another thread, that they do not hold.

    >>> set_screw("M5").tap_drill, set_screw("#10").diameter, set_screw("1/4-20 UNC").size
    (4.2, 0.19, '1/4')

    Source: ISO metric coarse threads (from memory) with a maker's seating torques (seen); Shigley, table 7-4
    (from memory).
    """
    if not isinstance(size, str):
        raise ValueError(f"set screw {size!r} is no size: give it as a workshop writes it, 'M5' or '#10'")
    thread = _THREAD.fullmatch(size.strip())
    name, stated = (thread[1].upper().replace(" ", ""), thread[2]) if thread else (size, None)
    if name in _METRIC_SCREWS or name in _INCH_SCREWS:
        metric = name in _METRIC_SCREWS
        coarse = _METRIC_SCREWS[name][1] if metric else _INCH_SCREWS[name][1]
        pitch = coarse if stated is None else float(stated.replace(",", "."))
        if pitch not in (coarse, *_FINE.get(name, ())):
            known = " and ".join(
                f"{name}{'x' if metric else '-'}{p:g}" for p in (coarse, *_FINE.get(name, ()))
            )
            raise ValueError(f"set screw {size!r} has a pitch that the tables do not hold: there is {known}")
        if metric:
            diameter, _, torque = _METRIC_SCREWS[name]
            return SetScrew(name, diameter, pitch, torque, "mm")
        diameter, _, torque, _ = _INCH_SCREWS[name]
        return SetScrew(name, diameter, 1 / pitch, torque, "in")
    raise ValueError(
        f"set screw {size!r} is unknown: use one of {', '.join([*_METRIC_SCREWS, *_INCH_SCREWS])}"
    )


def set_screw_over(key: Key) -> SetScrew:
    """The set screw that presses on a square key.

    It keeps the gear from sliding along the shaft, the key takes the torque.

    key: an inch key, 3/32 to 1/2 in wide.
    ValueError for a key that the table does not hold.

    >>> set_screw_over(key(0.5, "in")).size
    '#10'

    Source: ANSI B17.1, set screws over keys (from memory).
    """
    if key.unit != "in" or key.width not in _OVER_KEYS:
        raise ValueError(
            f"a key of {key.width:g} {key.unit} is not in the table of set screws over keys: it holds square"
            " keys of 3/32 to 1/2 in; over a metric key take a screw about as thick as the key is wide, or"
            " one size less"
        )
    return set_screw(_OVER_KEYS[key.width])
