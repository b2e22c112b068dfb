"""A rack as an outline: one tooth between the middles of two spaces, straight flanks, rounded at the root."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from gearlab.shape.form import Form
    from gearlab.shape.rack import Rack


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
