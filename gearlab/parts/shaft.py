"""A shaft and what is stacked on it: collar, plate, gap, gear, end."""

from __future__ import annotations

import math
from dataclasses import dataclass

from gearlab.theory import system
from gearlab.theory.scope import scope_for

from . import naming
from .checks import within
from .working import worked_out

STOCK_STEP = {"mm": 5.0, "in": 0.25}  # shafts are cut to steps of this (common practice)


@dataclass(frozen=True)
class Shaft:
    """A shaft.

    diameter, length: above 0 [unit].
    unit: "mm" or "in".

    >>> shaft = Shaft(10, 45)
    >>> (
    ...     shaft.needed(behind=8.5, plate=6, gap=1.5, gear=25, end=3),
    ...     shaft.spare(behind=8.5, plate=6, gap=1.5, gear=25, end=3),
    ... )
    (44.0, 1.0)
    >>> shaft.next_stock(44.0), shaft.name
    (45.0, 'shaft_d10_L45')
    """

    diameter: float
    length: float
    unit: str = "mm"

    def __post_init__(self):
        if self.unit not in ("mm", "in"):
            raise ValueError(f"unit {self.unit!r} is unknown: give 'mm' or 'in'")
        for name in ("diameter", "length"):
            within(name, getattr(self, name), 0.0, math.inf, self.unit, above=True)

    @property
    def name(self) -> str:
        """A name that tells its size; an inch shaft ends in ``in``."""
        return f"shaft_d{naming.digits(self.diameter)}_L{naming.digits(self.length)}" + (
            "in" if self.unit == "in" else ""
        )

    @classmethod
    def from_name(cls, name: str) -> Shaft:
        """The shaft of a :attr:`name`.

        A name that does not follow the pattern raises ValueError with the pattern.

        >>> Shaft.from_name("shaft_d0p375_L1p5in")
        Shaft(diameter=0.375, length=1.5, unit='in')
        """
        pattern = f"shaft_d{naming.NUMBER}_L{naming.NUMBER}(in)?"
        match = naming.matched(pattern, name, "shaft_d10_L50, or shaft_d0p375_L1p5in for inches")
        return cls(naming.number(match[1]), naming.number(match[2]), match[3] or "mm")

    def needed(self, *, behind: float, plate: float, gap: float, gear: float, end: float = 0.0) -> float:
        """Length that the pieces along the shaft take [unit].

        Behind the plate, plate, gap, whole gear, bare end.
        """
        for name, value in (("behind", behind), ("plate", plate), ("gap", gap), ("gear", gear), ("end", end)):
            within(name, value, 0.0, math.inf, self.unit)
        givens = {
            "behind_plate": behind,
            "plate_thickness": plate,
            "axial_gap": gap,
            "overall_length": gear,
            "end_length": end,
        }
        return worked_out(scope_for("stack", self.unit, (system(),)), givens)["shaft_length"]

    def spare(self, **pieces: float) -> float:
        """What the shaft has more than its pieces need [unit].

        Below 0 it is too short. Pieces as for :meth:`needed`.
        """
        return self.length - self.needed(**pieces)

    def next_stock(self, length: float) -> float:
        """The next stock length that is long enough for a length above 0 [unit]."""
        givens = {
            "shaft_length": within("length", length, 0.0, math.inf, self.unit, above=True),
            "stock_step": STOCK_STEP[self.unit],
        }
        return worked_out(scope_for("stack", self.unit, (system(),)), givens)["stock_length"]

    def reach(self, *, behind: float, plate: float, gap: float, gear: float) -> float:
        """How far the shaft reaches inside the gear's bore [unit], from 0 to the gear's length."""
        within("gear", gear, 0.0, math.inf, self.unit)
        return min(gear, max(0.0, self.length - self.needed(behind=behind, plate=plate, gap=gap, gear=0.0)))


def face_height(
    gap: float, overall_length: float, face_width: float, hub_side: str, unit: str = "mm"
) -> float:
    """Height of the middle of a gear's face above the plate [unit].

    gap, overall_length, face_width: 0 or more; the face is not wider than the gear is long [unit].
    hub_side: "plate" or "away": which way the hub points.
    unit: "mm" or "in".

    >>> face_height(1.5, 27, 14, "plate"), face_height(1.5, 27, 14, "away")
    (21.5, 8.5)
    """
    if hub_side not in ("plate", "away"):
        raise ValueError(f"hub_side {hub_side!r} is unknown: give 'plate' or 'away'")
    for name, value in (("gap", gap), ("overall_length", overall_length), ("face_width", face_width)):
        within(name, value, 0.0, math.inf, unit)
    if face_width > overall_length:
        raise ValueError(
            f"face_width = {face_width:g} {unit} is more than the overall length of the gear"
            f" ({overall_length:g} {unit}): the face is part of that length"
        )
    heights = worked_out(
        scope_for("stack", unit, (system(),)),
        {"axial_gap": gap, "overall_length": overall_length, "face_width": face_width},
    )
    return heights["face_height" if hub_side == "plate" else "outward_face_height"]
