"""Pins, balls and jaws on a cut gear: size over or between two pins, and the reading across the tips.

A pin is laid into a space and its centre sought on the space's middle line, where it touches both
flanks; jaws close on the outermost points. Lengths are in modules, angles in radians.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from gearlab.shape.curves import direction, find_zero
from gearlab.shape.given import number

if TYPE_CHECKING:
    from gearlab.shape.form import Form


def pin_centre(form: Form, pin_diameter: float) -> float:
    """Distance from the gear's centre to that of a pin or ball that touches both flanks of a space [modules].

    pin_diameter: diameter of the pin [modules], more than 0.
    ValueError if the pin does not touch both flanks, or touches the root first; the pins that do are named.

    >>> from gearlab.shape import Rack, ToothForm
    >>> form = ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38))
    >>> # 24.135 in the source
    >>> round(math.degrees(math.acos(form.base_radius / pin_centre(form, 1.7))), 2)
    24.13

    Source: a metric gear technical reference, size over pins, z = 20, pin 1.7 (from memory).
    """
    return _laid(form, pin_diameter, reached=False)


def _laid(form: Form, pin_diameter: float, reached: bool) -> float:
    """Where the centre of a pin comes to lie.

    The pins named instead are those that jaws also reach if `reached`.
    """
    least, most = pin_range(form, reached=False)
    if not least <= number("pin_diameter", pin_diameter, above=0.0) <= most:
        good = pin_range(form, reached)
        raise ValueError(
            f"A pin of pin_diameter = {pin_diameter:g} modules does not touch both flanks of a space of this"
            f" {form.teeth}-tooth gear: {_instead(pin_diameter < least)}."
            f" Give a pin between {_up(good[0]):.4f} and {_down(good[1]):.4f} modules."
        )
    low, high = sorted(form.flank_range)
    u = find_zero(lambda roll: _beside(form, roll, pin_diameter), low, high)
    return _centre(form, u, pin_diameter)


def pin_range(form: Form, reached: bool = True) -> tuple[float, float]:
    """The pins that measure a gear: from the least to the largest.

    reached: true for pins that also stand out beyond the tips of an external gear, where jaws reach them.
    Returns least, most: diameters [modules] of pins that touch both flanks of a space and clear its root.
    ValueError if there are none.

    >>> from gearlab.shape import Rack, ToothForm
    >>> least, most = pin_range(ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38)))
    >>> least < 1.7245 < most  # the ideal pin in the source
    True

    Source: a metric gear technical reference, size over pins, z = 20 (from memory).
    """
    low, high = sorted(form.flank_range)

    def clear(u: float) -> float:
        """How far the pin that touches at u stays off the root."""
        size = _fitting(form, u)
        centre = _centre(form, u, size)
        return form.root_radius - centre - size / 2 if form.internal else centre - size / 2 - form.root_radius

    def out(u: float) -> float:
        """How far the pin that touches at u stands out beyond the tips."""
        size = _fitting(form, u)
        return _centre(form, u, size) + size / 2 - form.tip_radius

    # From the root outwards pins grow, and rise from the root; in a ring the other way round.
    deep, shallow = (high, low) if form.internal else (low, high)
    for stands in (clear, out) if reached and not form.internal else (clear,):
        if stands(deep) < 0.0:
            if stands(shallow) <= 0.0:
                lacks = "clears the root" if stands is clear else "stands out beyond its tips"
                raise ValueError(
                    f"No pin measures this {form.teeth}-tooth gear: none that touches its flanks {lacks}. "
                    "Measure a gear with a longer flank, or the span over teeth."
                )
            deep = find_zero(stands, *sorted((deep, shallow)))
    least, most = _fitting(form, deep), _fitting(form, shallow)
    if not most > max(least, 0.0):
        raise ValueError(
            f"No pin measures this {form.teeth}-tooth gear: the normals of its two flanks meet inside the"
            " teeth. Measure the span over teeth."
        )
    return max(least, 0.0), most


def _middle(form: Form) -> np.ndarray:
    return direction(form.pitch_angle / 2)


def _beside(form: Form, u: float, diameter: float) -> float:
    """How far the pin that touches at u stands beyond the middle line of the space."""
    point, normal = form.flank(u)
    centre, middle = point + diameter / 2 * normal, _middle(form)
    return float(middle[0] * centre[1] - middle[1] * centre[0])


def _fitting(form: Form, u: float) -> float:
    """Diameter of the pin that touches at u with its centre on the middle line."""
    normal, middle = form.flank(u)[1], _middle(form)
    return -2.0 * _beside(form, u, 0.0) / float(middle[0] * normal[1] - middle[1] * normal[0])


def _centre(form: Form, u: float, diameter: float) -> float:
    """How far out the centre of a pin stands that touches at u."""
    point, normal = form.flank(u)
    return float((point + diameter / 2 * normal) @ _middle(form))


def _up(size: float) -> float:
    return math.ceil(size * 1e4) / 1e4  # a limit as printed must work itself


def _down(size: float) -> float:
    return math.floor(size * 1e4) / 1e4


def _instead(small: bool) -> str:
    """What a pin does that does not touch both flanks."""
    return "it drops to the bottom of the space" if small else "it rests on the corners of the tips"


def over_pins(form: Form, pin_diameter: float) -> float:
    """Size over two pins (external) or between them (internal), in spaces as nearly opposite as the count
    allows.

    pin_diameter: diameter of the pins or balls [modules].
    Returns external: over the pins; internal: between them [modules].
    ValueError if the pins do not touch both flanks, or those of an external gear do not stand out beyond the
        tips.

    >>> from gearlab.shape import Rack, ToothForm
    >>> round(over_pins(ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38)), 1.7), 4)
    22.2941

    Source: a metric gear technical reference, size over pins, z = 20, pin 1.7 (from memory).
    """
    radius = _laid(form, pin_diameter, reached=True)
    out = radius + pin_diameter / 2 - form.tip_radius
    # In a ring the usual pins lie below the tips: they stick out sideways, or the gauge has balls on stems.
    if out <= 0.0 and not form.internal:
        least, most = pin_range(form)
        raise ValueError(
            f"Pins of pin_diameter = {pin_diameter:g} modules lie {-out:.4f} modules below the tips of this"
            f" {form.teeth}-tooth gear, where no jaw reaches them. Give pins between {_up(least):.4f} and"
            f" {_down(most):.4f} modules."
        )
    first, opposite = radius * direction(0.0), radius * direction(form.teeth // 2 * form.pitch_angle)
    apart = math.dist(first, opposite)
    return apart - pin_diameter if form.internal else apart + pin_diameter


def chord(form: Form, radius: float) -> tuple[float, float]:
    """Chordal thickness of a tooth on a circle, and the height of the tip above that chord.

    radius: radius of the circle [modules], within the flanks.
    Returns thickness, height: straight distance of the flanks, and distance from the middle of the tip arc to
        the chord [modules].
    ValueError if the circle misses the flanks.

    >>> from gearlab.shape import Rack, ToothForm
    >>> thickness, height = chord(
    ...     ToothForm(12, Rack(math.radians(20), 1.0, 1.25, 0.38), profile_shift=0.3), 6.0
    ... )
    >>> round(thickness, 5), round(height, 5)
    (1.78256, 1.36657)

    Source: Elements of Metric Gear Technology, table 10-2 (17.8256 and 13.6657 mm at module 10).
    """
    u_low, u_high = sorted(form.flank_range)
    low, high = sorted((form.form_radius, form.tip_radius))
    if not low - 1e-12 <= number("radius", radius) <= high + 1e-12:
        raise ValueError(
            f"A circle of radius {radius:g} modules misses the flank, which runs from {low:.6f} to {high:.6f}"
            " modules. Give a radius in that range."
        )

    def excess(u: float) -> float:
        return math.hypot(*form.flank(u)[0]) - radius

    u = (
        u_low
        if excess(u_low) >= 0.0
        else u_high
        if excess(u_high) <= 0.0
        else find_zero(excess, u_low, u_high)
    )
    left, right = form.flank(u, 1)[0], form.flank(u, -1)[0]
    return math.dist(left, right), abs(form.tip_radius - float(left[0]))


def across_tips(form: Form) -> float:
    """Reading of a caliper with flat jaws over the tips, one jaw square on a tooth.

    Returns distance of the jaws [modules]: the outside diameter for an even count; less for an odd one, whose
        second jaw rests on the nearer corners of two tip lands.
    ValueError if the gear is internal.

    >>> from gearlab.shape import Rack, ToothForm
    >>> rack = Rack(math.radians(20), 1.0, 1.25, 0.38)
    >>> across_tips(ToothForm(20, rack)), across_tips(ToothForm(19, rack)) < 21.0
    (22.0, True)

    Source: outermost points of the outline; common practice for the even count.
    """
    if form.internal:
        raise ValueError(
            "A caliper cannot close over the tips of an internal gear. Measure between pins with over_pins."
        )
    opposite = form.teeth // 2 * form.pitch_angle
    # corner, middle, corner: the outermost point of an arc is one of these here
    lands = np.linspace(*form.tip_range, 3)
    second = form.tip(lands)[0] @ direction(math.pi - opposite)
    return form.tip_radius + float(second.max())
