"""The standard basic rack: the straight-sided tooth from which every gear of a system is cut.

All lengths are in modules, all angles in radians. The rack stands as in the standards: its teeth
and spaces are equally wide on the datum line. The tool that cuts a gear is its counterpart: the
tool's teeth reach to the gear's root, and their tips carry the round `tip_radius`. As an outline
a rack is one tooth between the middles of two spaces, straight flanks, rounded at the root.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np

from gearlab.shape.given import number

if TYPE_CHECKING:
    from gearlab.shape.form import Form

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


def rack_contact(form: Form, rack: Rack) -> float:
    """Length along the line of action over which a gear and a rack touch flank on flank, the flanks as they
    are cut.

    The rack stands so that its pitch line rolls on the gear's reference circle, moved out by the gear's
    shift.

    form: the gear (lengths in modules).
    rack: the basic rack of the straight one (lengths in modules).
    Returns length [modules]; below 0 where they nowhere touch flank on flank.

    >>> from gearlab.shape import Rack, ToothForm
    >>> basic = Rack(math.radians(20), 1.0, 1.25, 0.38)
    >>> round(rack_contact(ToothForm(20, basic), basic) / (math.pi * math.cos(basic.pressure_angle)), 2)
    1.77

    Source: the base circle's tangent as line of action; the ends of both flanks on it.
    """
    sine = math.sin(rack.pressure_angle)
    # along the line of action, from the tangent point on the base circle
    pitch_point = form.reference_radius * sine
    near, far = (form.base_radius * roll for roll in form.flank_range)
    straight = rack.dedendum - rack.tip_radius * (1.0 - sine)
    first = pitch_point - (rack.addendum - form.profile_shift) / sine
    last = pitch_point + (straight + form.profile_shift) / sine
    return min(far, last) - max(near, first)


def rack_tooth(rack: Rack, thinning: float = 0.0, tolerance: float = 1e-4) -> np.ndarray:
    """One pitch of a rack's outline, its tooth pointing along +y, the datum line on y = 0.

    rack: the basic rack (lengths in modules).
    thinning: what the tooth is thinner on the datum line [modules], 0 and up.
    tolerance: largest distance between chord and round at the root [modules], above 0.
    Returns points from the middle of one space to the middle of the next, from left to right, shape (n, 2)
        [modules].

    >>> from gearlab.shape import Rack
    >>> points = rack_tooth(Rack(math.radians(20), 1.0, 1.25, 0.38))
    >>> [round(float(v), 4) for v in (*points[0], *points[-1])], round(float(points[:, 1].max()), 4)
    ([-1.5708, -1.25, 1.5708, -1.25], 1.0)

    Source: ISO 53:1998, figure 1 (basic rack tooth profile).
    """
    angle, radius = rack.pressure_angle, rack.tip_radius
    slope, half = math.tan(angle), math.pi / 4 - thinning / 2
    # the round touches the root line and the flank; its middle lies one radius from both
    depth = rack.dedendum - radius
    middle = half + depth * slope + radius / math.cos(angle), -depth
    swing = math.pi / 2 - angle
    steps = max(2, math.ceil(swing / (2 * math.acos(max(1 - tolerance / radius, -1.0))))) if radius else 1
    turns = np.linspace(math.pi + angle, 1.5 * math.pi, steps + 1)
    fillet = np.column_stack([middle[0] + radius * np.cos(turns), middle[1] + radius * np.sin(turns)])
    right = np.vstack(
        [[(half - rack.addendum * slope, rack.addendum)], fillet, [(math.pi / 2, -rack.dedendum)]]
    )
    return np.vstack([right[::-1] * (-1, 1), right])
