"""Gauging a gear: span over several teeth and size over pins, where jaws and pins really touch the flanks."""

from __future__ import annotations

import math

from gearlab.shape.measuring import span_counts
from gearlab.shape.pins import pin_range

from .checks import whole, within

# A measuring pin of 1.728/P touches near the pitch circle for most counts (common practice).
USUAL_PIN = 1.728


def span(gear, teeth: int | None = None) -> float:
    """Span over several teeth of a gear; see ``Gear.span``.

    Parameters
    ----------
    gear : Gear
        What is measured.
    teeth : int, optional
        Teeth in the span [-].

    Returns
    -------
    float
        [``gear.unit``]

    Raises
    ------
    ValueError
        If the jaws would not touch the flanks at this number of teeth.
    """
    k = gear.span_teeth if teeth is None else whole("teeth in the span", teeth, 1, gear.teeth)
    size = gear.numbers_with(span_teeth=float(k))["span"]
    low, high = gear.tooth.form_radius * gear.scale, gear.outside_diameter / 2
    touch = math.hypot(gear.base_diameter, size) / 2  # both jaws touch at half the span from the base tangent's foot
    if not low <= touch <= high:
        counts = span_counts(gear.tooth)
        good = gear.span_teeth if gear.span_teeth in counts else ", ".join(map(str, counts))
        instead = f"use {good} teeth" if counts else "no count of teeth has its flanks there; measure over pins"
        raise ValueError(f"a span over {k} teeth of {gear.name} would touch at radius {touch:.5g} {gear.unit}, off the flanks "
                         f"({low:.5g} to {high:.5g} {gear.unit}): {instead}")
    return size


def span_teeth(gear) -> int:
    """Number of teeth at which jaws touch near mid-flank [-]; see ``Gear.span_teeth``."""
    ideal = gear.numbers.get("ideal_span_teeth")
    if ideal is not None:
        return max(2, math.floor(ideal + 0.5))
    # The shift has moved the middle of the flank inside the base circle: what is left to touch tells.
    counts = span_counts(gear.tooth) or [2]
    return counts[len(counts) // 2]


def over_pins(gear, pin_diameter: float | None = None) -> float:
    """Size over two pins in opposite spaces of a gear; see ``Gear.over_pins``.

    Parameters
    ----------
    gear : Gear
        What is measured.
    pin_diameter : float, optional
        [``gear.unit``], by default 1.728 modules.

    Returns
    -------
    float
        [``gear.unit``]

    Raises
    ------
    ValueError
        If the pin would not touch the flanks, or would not stand out beyond the tips.
    """
    usual = USUAL_PIN * gear.scale
    pin = within("pin_diameter", usual if pin_diameter is None else pin_diameter, 0.0, math.inf, gear.unit, above=True)
    low, high = gear.tooth.form_radius * gear.scale, gear.outside_diameter / 2
    numbers = gear.numbers_with(pin_diameter=pin)
    angle = math.radians(numbers.get("pin_angle", math.nan))
    base = gear.base_diameter / 2
    roll = base * math.tan(angle) - pin / 2
    touch, reach = math.hypot(base, roll), base / math.cos(angle) + pin / 2
    if not roll > 0:
        fault = "it would drop to the bottom of the space"
    elif not low <= touch <= high:
        fault = f"it would touch at radius {touch:.5g} {gear.unit}, off the flanks ({low:.5g} to {high:.5g} {gear.unit})"
    elif reach <= high:
        fault = f"it would reach to {reach:.5g} {gear.unit}, not beyond the tips at {high:.5g} {gear.unit}"
    else:
        return numbers["over_pins"]
    raise ValueError(f"pin_diameter {pin:.5g} {gear.unit} does not measure {gear.name}: {fault}. {_good_pins(gear, usual)}")


def _good_pins(gear, usual: float) -> str:
    """Which pins do measure a gear, found on its cut flanks [-]."""
    try:
        least, most = (size * gear.scale for size in pin_range(gear.tooth))
    except ValueError as error:
        return str(error)
    good = usual if least <= usual <= most else (least + most) / 2
    return f"Give a pin between {least:.5g} and {most:.5g} {gear.unit}, such as {good:.4g} {gear.unit}"
