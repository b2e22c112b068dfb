"""Measuring a cut tooth: thickness on a circle, span over teeth, base pitch.

Like a gauge, these know only the curves: they look for the points at which a circle or a pair of
parallel plates touches the flanks, and take the distance. No formula of gear theory is used, so
that theory can be held against them.

Lengths are in modules, angles in radians.
"""

from __future__ import annotations

import math
from numbers import Real
from typing import TYPE_CHECKING

import numpy as np

from gearlab.shape.curves import direction, find_zero
from gearlab.shape.given import number
from gearlab.shape.side import side_of

if TYPE_CHECKING:
    from gearlab.shape.form import Form

# A flank's end may be asked for to within this much, from rounding [modules].
_ROUNDING = 1e-12


def flank_point(form: Form, radius: float, side: int = 1) -> np.ndarray:
    """Point of tooth 0's flank on a circle about the gear's centre.

    radius: radius of the circle [modules], from the form radius to the tip radius.
    side: 1 for the left (counter-clockwise) flank, -1 for the right [-].
    Returns the point [modules], shape (2,).
    ValueError if the circle misses the flank.

    >>> from gearlab.shape import Rack, ToothForm
    >>> form = ToothForm(12, Rack(math.radians(20), 1.0, 1.25, 0.38), profile_shift=0.3)
    >>> x, y = flank_point(form, 6.0)
    >>> round(math.degrees(math.atan2(y, x)), 4)                     # half tooth angle
    8.5427

    Source: Elements of Metric Gear Technology, table 10-1 (z = 12, x = +0.3).
    """
    low, high = sorted(form.flank_range)
    least, most = sorted((form.form_radius, form.tip_radius))
    if not least - _ROUNDING <= number("radius", radius) <= most + _ROUNDING:
        raise ValueError(
            f"A circle of radius {radius:g} modules misses the flank, which runs from {least:.6f} "
            f"to {most:.6f} modules. Give a radius in that range."
        )

    def excess(u: float) -> float:
        return math.hypot(*form.flank(u, side)[0]) - radius

    if excess(low) >= 0.0:
        u = low
    elif excess(high) <= 0.0:
        u = high
    else:
        u = find_zero(excess, low, high)
    return form.flank(u, side)[0]


def thickness(form: Form, radius: float) -> float:
    """Thickness of a tooth along a circle about the gear's centre.

    radius: radius of the circle [modules], from the form radius to the tip radius.
    Returns length of the arc between the two flanks [modules].
    ValueError if the circle misses the flanks.

    >>> from gearlab.shape import Rack, ToothForm
    >>> form = ToothForm(12, Rack(math.radians(20), 1.0, 1.25, 0.38), profile_shift=0.3)
    >>> round(thickness(form, 6.0), 5)
    1.78918

    Source: Elements of Metric Gear Technology, table 10-1 (17.8918 mm at module 10).
    """
    right, left = flank_point(form, radius, -1), flank_point(form, radius, 1)
    return radius * math.atan2(right[0] * left[1] - right[1] * left[0], float(right @ left))


def breadth(form: Form, radius: float) -> float:
    """Breadth of a tooth along any circle about the gear's centre that cuts it, on its flanks or on its
    fillets.

    radius: radius of the circle [modules], between root and tip circle.
    Returns length of the arc from side to side [modules].
    ValueError if the circle misses the tooth.

    >>> from gearlab.shape import Rack, ToothForm
    >>> form = ToothForm(12, Rack(math.radians(20), 1.0, 1.25, 0.38), profile_shift=0.3)
    >>> abs(breadth(form, 6.0) - thickness(form, 6.0)) < 1e-12, breadth(form, 5.1) > breadth(form, 6.0)
    (True, True)

    Source: the curves of the side.
    """
    radius = number("radius", radius, above=0.0)
    side = side_of(form)
    if not side.low <= radius <= side.high:
        raise ValueError(
            f"radius = {radius:.6g} modules misses the tooth, which reaches from {side.low:.6g} to"
            f" {side.high:.6g} modules. Give a radius between them."
        )
    return 2.0 * radius * float(side.evaluate(side.at_radius(np.array([radius]))).angle[0])


def span(form: Form, teeth: int) -> float:
    """Span over several teeth between parallel plates that touch the two outer flanks.

    The plates are set even on both sides, so that they touch at equal heights.

    teeth: number of teeth between the plates [-].
    Returns distance of the plates [modules].
    ValueError if parallel plates over that many teeth touch no flank; the counts that do are named.

    >>> from gearlab.shape import Rack, ToothForm
    >>> round(span(ToothForm(26, Rack(math.radians(20), 1.0, 1.25, 0.38)), 3), 4)
    7.7445

    Source: internal gear pair calculation sheet (unit span, z = 26, k = 3).
    """
    if form.internal:
        raise ValueError(
            "A caliper's jaws cannot reach round the teeth of an internal gear, which stand inside. Measure"
            " between pins with over_pins."
        )
    contact = _plate_contact(form, teeth)
    if contact is None:
        usable = span_counts(form)
        counts = (
            f"Possible here: {', '.join(map(str, usable))}."
            if usable
            else "No count is possible on this gear."
        )
        raise ValueError(
            f"span over teeth = {teeth!r}: parallel plates do not touch two flanks of this "
            f"{form.teeth}-tooth gear. {counts}"
        )
    left, right, facing = contact
    return float((left - right) @ facing)


def span_counts(form: Form) -> list[int]:
    """The numbers of teeth over which parallel plates touch two flanks.

    Returns numbers of teeth, rising [-]; empty where there are none.

    >>> from gearlab.shape import Rack, ToothForm
    >>> 3 in span_counts(ToothForm(26, Rack(math.radians(20), 1.0, 1.25, 0.38)))
    True

    Source: internal gear pair calculation sheet (unit span, z = 26, k = 3).
    """
    return [count for count in range(1, form.teeth) if _plate_contact(form, count) is not None]


def base_pitch(form: Form) -> float:
    """Distance between neighbouring like flanks along their common normal [modules].

    The normal is chosen so that its two feet lie even on the flank.

    ValueError if the flank is too short for a common normal of two neighbours.

    >>> from gearlab.shape import Rack, ToothForm
    >>> round(base_pitch(ToothForm(26, Rack(math.radians(20), 1.0, 1.25, 0.38))), 4)
    2.9521

    Source: pi cos(20 degrees) = 2.9521, base-tangent length note, constants for 20 degrees.
    """
    low, high = form.flank_range

    def neighbour_foot(u: float) -> float | None:
        """Parameter on the next tooth's left flank where the normal at u meets it; None if it misses."""
        points, normals = form.flank(u)

        def beside(v: float) -> float:
            foot = _turned(form.flank(v)[0], form.pitch_angle) - points
            return normals[0] * foot[1] - normals[1] * foot[0]

        if beside(low) * beside(high) > 0.0:
            return None
        return find_zero(beside, low, high)

    def unevenness(u: float) -> float:
        foot = neighbour_foot(u)
        return high - low if foot is None else (u - low) - (high - foot)

    # The lowest foot has the lowest neighbour: if even that one misses, the flank is too short.
    if neighbour_foot(low) is None:
        raise ValueError(
            f"The flank of this {form.teeth}-tooth gear, from radius {form.form_radius:.4f} to "
            f"{form.tip_radius:.4f} modules, is shorter than one base pitch: two neighbours have no common "
            "normal. Measure a gear with more teeth or less undercut."
        )
    u = find_zero(unevenness, low, high)
    mate = neighbour_foot(u)
    assert mate is not None  # an uneven foot would have been none
    point, normal = form.flank(u)
    foot = _turned(form.flank(mate)[0], form.pitch_angle)
    return float((foot - point) @ normal)


def _plate_contact(form: Form, teeth: int) -> tuple[np.ndarray, np.ndarray, np.ndarray] | None:
    """Left and right touching points and the plates' normal, or None where plates touch no two flanks."""
    if (
        not isinstance(teeth, Real)
        or isinstance(teeth, bool)
        or not math.isfinite(teeth)
        or teeth != int(teeth)
        or not 1 <= teeth < form.teeth
    ):
        return None
    turn = (teeth - 1) * form.pitch_angle
    facing = direction(turn / 2 + math.pi / 2)  # square to the middle line of the group of teeth
    ahead = direction(turn / 2)

    def tilt(u: float) -> float:
        return float(_turned(form.flank(u)[1], turn) @ ahead)

    low, high = form.flank_range
    if not (tilt(low) <= 0.0 <= tilt(high)):
        return None
    u = find_zero(tilt, low, high)
    return _turned(form.flank(u)[0], turn), form.flank(u, -1)[0], facing


def _turned(vector: np.ndarray, angle: float) -> np.ndarray:
    cosine, sine = math.cos(angle), math.sin(angle)
    return np.array((cosine * vector[0] - sine * vector[1], sine * vector[0] + cosine * vector[1]))
