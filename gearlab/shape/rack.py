"""The standard basic rack: the straight-sided tooth from which every gear of a system is cut.

All lengths are in modules, all angles in radians. The rack stands as in the standards: its teeth
and spaces are equally wide on the datum line. The tool that cuts a gear is its counterpart: the
tool's teeth reach to the gear's root, and their tips carry the round `tip_radius`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, fields

from gearlab.shape.given import number

# Angles outside this range belong to no tooth system in use, and degrees given for radians fall outside.
LEAST_ANGLE, LARGEST_ANGLE = math.radians(5.0), math.radians(45.0)
# Rounding allowance on lengths [modules].
_ROUNDING = 1e-12


@dataclass(frozen=True)
class Rack:
    """Basic rack of a tooth system.

    pressure_angle: angle between the flank and the line square to the datum line [rad], 5 to 45 degrees.
    addendum: height of the gear's tooth above the datum line [modules], more than 0.
    dedendum: depth of the gear's space below the datum line [modules], more than 0.
    tip_radius: radius of the tool's tip round, which shapes the gear's root fillet [modules], from 0 (a sharp
        corner) to the full round, at which the tool's tip has no flat left.
    ValueError if a value is out of range, a rack tooth comes to a point, or the round is fuller than the
        tool's tip has room for.

    >>> rack = Rack(math.radians(20), addendum=1.0, dedendum=1.25, tip_radius=0.38)
    >>> round(rack.full_round(), 2)
    0.47

    Source: ISO 53:1998, profile A (the row above); full round 0.47 m from DIN 867 (from memory).
    """

    pressure_angle: float
    addendum: float
    dedendum: float
    tip_radius: float

    def __post_init__(self) -> None:
        for field in fields(self):
            unit = "rad" if field.name == "pressure_angle" else "modules"
            object.__setattr__(
                self, field.name, number(f"Rack {field.name}", getattr(self, field.name), unit)
            )
        if not LEAST_ANGLE <= self.pressure_angle <= LARGEST_ANGLE:
            hint = (
                " It looks like degrees: convert it with math.radians." if self.pressure_angle > 1.0 else ""
            )
            raise ValueError(
                f"Rack pressure_angle = {self.pressure_angle:g} rad is outside 0.0873 to 0.7854 rad "
                f"(5 to 45 degrees). Usual is 0.3491 rad (20 degrees).{hint}"
            )
        deepest = math.pi / 4 / math.tan(self.pressure_angle)
        for name, where in (("addendum", "rack's teeth"), ("dedendum", "tool's teeth")):
            if not 0.0 < getattr(self, name) < deepest:
                raise ValueError(
                    f"Rack {name} = {getattr(self, name):g} modules is outside 0 to {deepest:.4f} modules: at"
                    f" {deepest:.4f} the {where} come to a point. Usual is"
                    f" {1.0 if name == 'addendum' else 1.25:g}."
                )
        self.check_round()

    def tool_half_tip(self, thinning: float = 0.0) -> float:
        """Half the width of the tool's tooth on its tip line, before the corners are rounded [modules].

        thinning: amount by which the tool's teeth are widened to thin the gear's [modules].

        >>> round(Rack(math.radians(20), 1.0, 1.25, 0.38).tool_half_tip(), 4)
        0.3304

        Source: geometry of ISO 53:1998, figure 1 (pi/4 - dedendum tan(pressure angle)).
        """
        return math.pi / 4 + number("thinning", thinning) / 2 - self.dedendum * math.tan(self.pressure_angle)

    def full_round(self, thinning: float = 0.0) -> float:
        """Largest tip radius: the round that touches both flanks and the tip line [modules].

        thinning: amount by which the tool's teeth are widened to thin the gear's [modules].

        >>> round(Rack(math.radians(20), 1.0, 1.4, 0.39).full_round(), 2)
        0.39

        Source: ISO 53:1998, profile D (dedendum 1.4, tip radius 0.39: a full round).
        """
        return self.tool_half_tip(thinning) / math.tan(math.pi / 4 - self.pressure_angle / 2)

    def check_round(self, thinning: float = 0.0) -> None:
        """Raise if the tip round does not fit on the tool.

        thinning: amount by which the tool's teeth are widened to thin the gear's [modules].
        ValueError if the round is negative or fuller than the full round.

        >>> Rack(math.radians(20), 1.0, 1.25, 0.38).check_round()

        Source: ISO 53:1998 (the fillet radius is limited by the full round).
        """
        largest = self.full_round(thinning)
        if not 0.0 <= self.tip_radius <= largest + _ROUNDING:
            raise ValueError(
                f"Rack tip_radius = {self.tip_radius:g} modules is outside 0 to {largest:.6f} modules: at the"
                " larger limit the round takes the whole tip of the tool between its flanks (a full round)."
                f" Give at most {math.floor(largest * 1000) / 1000:.3f}."
            )
