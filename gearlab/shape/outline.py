"""Laying a polygon on the curves of a tooth, and repeating it round the gear.

Every vertex lies on a curve; between two of them the chord keeps within the tolerance. One tooth is
laid once and turned to all its places. Lengths are in modules, angles in radians.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from gearlab.shape.curves import arc_angles, chord_parameters, direction
from gearlab.shape.given import number

if TYPE_CHECKING:
    from gearlab.shape.form import Form

FINEST, COARSEST = 1e-9, 0.05  # chord tolerances [modules]
# A root arc shorter than this is no arc: the fillets meet, to rounding [modules].
_NO_ARC = 1e-9


def lay_tooth(form: Form, tolerance: float) -> np.ndarray:
    """One pitch of outline, from the middle of one space over tooth 0 to the middle of the next.

    tolerance: largest distance between chord and curve [modules], 1e-9 to 0.05.
    Returns points in counter-clockwise order [modules], shape (n, 2), a copy of the caller's own.
    ValueError if the tolerance is out of range.

    >>> import math
    >>> from gearlab.shape import Rack, ToothForm
    >>> form = ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38))
    >>> len(lay_tooth(form, 1e-3)) < len(lay_tooth(form, 1e-5))
    True

    Source: the exact curves of the form.
    """
    return _laid(form, chord_tolerance(tolerance)).copy()


def lay_outline(form: Form, tolerance: float) -> np.ndarray:
    """Closed outline of the whole gear, counter-clockwise.

    tolerance: largest distance between chord and curve [modules], 1e-9 to 0.05.
    Returns points [modules], shape (n, 2); the last is the first again.
    ValueError if the tolerance is out of range.

    >>> import math
    >>> from gearlab.shape import Rack, ToothForm
    >>> form = ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38))
    >>> len(lay_outline(form, 1e-4)) == 20 * (len(lay_tooth(form, 1e-4)) - 1) + 1
    True

    Source: one tooth, turned by each multiple of the pitch angle.
    """
    tooth = _laid(form, chord_tolerance(tolerance))[:-1]
    turns = np.arange(form.teeth) * form.pitch_angle
    # A point as the complex number x + iy is turned by one product, for all teeth at once.
    turned = np.exp(1j * turns)[:, None] * (tooth[:, 0] + 1j * tooth[:, 1])
    closed = np.empty(turned.size + 1, dtype=complex)
    closed[:-1] = turned.ravel()
    closed[-1] = closed[0]
    return closed.view(float).reshape(-1, 2)


@lru_cache(maxsize=64)
def _laid(form: Form, tolerance: float) -> np.ndarray:
    """Points of one pitch; kept for the teeth drawn last, since a picture asks for the same ones again."""
    middle = form.pitch_angle / 2
    tip = form.tip(arc_angles(0.0, form.tip_range[1], form.tip_radius, tolerance))[0]
    form_roll, tip_roll = form.flank_range
    # The speed of an involute is base_radius * u, and it turns by 1 per unit of u.
    rolls = chord_parameters(tip_roll, form_roll, lambda u: np.sqrt(form.base_radius * u), tolerance)
    parts = [tip, form.flank(rolls)[0][1:], form.fillet(form._fillet_places(tolerance))[0][1:]]
    root_angle = form.root_range[0]
    if (middle - root_angle) * form.root_radius > _NO_ARC:
        parts.append(form.root(arc_angles(root_angle, middle, form.root_radius, tolerance)[1:])[0])
    left = np.concatenate(parts)
    left[-1] = form.root_radius * direction(middle)  # where the next tooth takes over, to the last digit
    return np.concatenate((left[:0:-1] * (1.0, -1.0), left))


def chord_tolerance(tolerance: float) -> float:
    """The largest chord error a reader accepts [modules], or ValueError with the limits."""
    if not FINEST <= number("tolerance", tolerance) <= COARSEST:
        raise ValueError(
            f"tolerance = {tolerance!r} modules is outside {FINEST:g} to {COARSEST:g} modules. "
            "Give the largest chord error you accept; 1e-4 is usual."
        )
    return float(tolerance)
