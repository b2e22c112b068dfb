"""Gauging a gear: span over several teeth and size over pins, where jaws and pins really touch the flanks."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from gearlab.shape.measuring import breadth, span_counts
from gearlab.shape.pins import pin_range
from gearlab.shape.rack import rack_contact
from gearlab.theory.numbers import Told

from .checks import takes_parts, whole, within

if TYPE_CHECKING:
    from .gear import Gear
    from .toothed import Toothed

# A measuring pin of 1.728/P touches near the pitch circle for most counts (common practice).
USUAL_PIN = 1.728


def on_cut_tooth(gear: Toothed, told: Told) -> None:
    """Measure on the cut tooth what theory does not tell of it [``gear.unit``].

    Where its flank ends, contact with its rack; breadth, chord and height at the pitch circle."""
    radius, scale = told["pitch_radius"], gear.scale
    if "form_radius" in told.refused:
        told["form_radius"] = gear.tooth.form_radius * scale
    if "rack_contact_ratio" in told.refused:
        told["rack_contact_ratio"] = (
            max(0.0, rack_contact(gear.tooth, gear.tooth.rack)) * scale / told["base_pitch"]
        )
    if (
        "tooth_thickness" not in told.refused
        or not gear.tooth.root_radius * scale < radius < gear.tooth.tip_radius * scale
    ):
        return
    thickness = breadth(gear.tooth, radius / scale) * scale
    half = thickness / (2 * radius)
    told |= {
        "tooth_thickness": thickness,
        "tooth_space": told["circular_pitch"] - thickness,
        "chordal_thickness": 2 * radius * math.sin(half),
        "chordal_addendum": told["outside_radius"] - radius * math.cos(half),
    }
    # it shares the pitch circle with the thickness
    told.refused.setdefault("tooth_space", told.refused["tooth_thickness"])


@takes_parts
def span(gear: Gear, teeth: float | None = None) -> float:
    """Span over several teeth of a gear; see ``Gear.span`` [``gear.unit``].

    gear: what is measured.
    teeth: teeth in the span [-].
    ValueError if the jaws would not touch the flanks at this number of teeth.
    """
    k = gear.span_teeth if teeth is None else whole("teeth in the span", teeth, 1, gear.teeth)
    told = gear.numbers_with(span_teeth=float(k))
    if "span" in told:
        return told["span"]
    counts = span_counts(gear.tooth)
    good = gear.span_teeth if gear.span_teeth in counts else ", ".join(map(str, counts))
    instead = f"use {good} teeth" if counts else "no count of teeth has its flanks there; measure over pins"
    why = told.refused["span"].reason(gear.unit) if "span" in told.refused else "theory gives none"
    raise ValueError(f"no span over {k} teeth of {gear.name}: {why}; {instead}")


def span_teeth(gear: Gear) -> int:
    """Number of teeth at which jaws touch near mid-flank [-]; see ``Gear.span_teeth``."""
    ideal = gear.numbers.get("ideal_span_teeth")
    if ideal is not None:
        return max(2, math.floor(ideal + 0.5))
    # The shift has moved the middle of the flank inside the base circle: what is left to touch tells.
    counts = span_counts(gear.tooth) or [2]
    return counts[len(counts) // 2]


@takes_parts
def over_pins(gear: Toothed, pin_diameter: float | None = None) -> float:
    """Size over two pins in opposite spaces of a gear; see ``Gear.over_pins`` [``gear.unit``].

    gear: what is measured.
    pin_diameter: [``gear.unit``], by default 1.728 modules.
    ValueError if the pin would not touch the flanks, or would not stand out beyond the tips.
    """
    usual = USUAL_PIN * gear.scale
    pin = within(
        "pin_diameter", usual if pin_diameter is None else pin_diameter, 0.0, math.inf, gear.unit, above=True
    )
    told = gear.numbers_with(pin_diameter=pin)
    if "over_pins" in told:
        return told["over_pins"]
    why = (
        told.refused["over_pins"].reason(gear.unit)
        if "over_pins" in told.refused
        else "the pin would drop to the bottom of the space"
    )
    raise ValueError(
        f"pin_diameter {pin:.5g} {gear.unit} does not measure {gear.name}: {why}. {_good_pins(gear, usual)}"
    )


def _good_pins(gear: Toothed, usual: float) -> str:
    """Which pins do measure a gear, found on its cut flanks."""
    try:
        least, most = (size * gear.scale for size in pin_range(gear.tooth))
    except ValueError as error:
        return str(error)
    good = usual if least <= usual <= most else (least + most) / 2
    return f"Give a pin between {least:.5g} and {most:.5g} {gear.unit}, such as {good:.4g} {gear.unit}"
