"""What can be wrong with a rack and the pinion that moves it: height, travel, stops, teeth, load."""

from __future__ import annotations

from collections.abc import Iterator

from gearlab.theory.scope import scope_for

from ..design import Design, RackTable
from ..working import worked_out
from .finding import Finding, said
from .ledger import Check


def findings(design: Design) -> Iterator[Finding]:
    """Findings about every rack that a gear moves."""
    for rack in design.rack:
        if rack.pinion in design.gears and design.gears[rack.pinion].unit == design.unit:
            yield from _rack(design, rack, rack.pinion)


def _rack(design: Design, rack: RackTable, pinion: str) -> Iterator[Finding]:
    gear, unit = design.gears[pinion], design.unit
    given = gear.givens | {"rack_pitch_height": rack.pitch_height, "spare_teeth": 3.0}
    scope = scope_for("rack and pinion", unit, (gear.system,), gear.features)
    numbers = worked_out(scope, given | {"rack_teeth": float(rack.teeth)})
    reach, height = numbers["largest_travel"], numbers["mounting_height"]
    if reach < rack.travel - 1e-9:
        needed = round(worked_out(scope, given | {"travel": rack.travel})["rack_teeth"])
        yield Finding(
            "rack-too-short",
            "will not work",
            "the rack",
            f"{rack.teeth} teeth travel up to {said(reach, unit)} with three in mesh.",
            f"Wanted: {said(rack.travel, unit)}.",
            "The rack stops early, or leaves the pinion.",
            f"Use {needed} teeth.",
            "Mott, section 8-11",
        )
    if abs(rack.mounting_height - height) > 0.1 * gear.scale:
        yield Finding(
            "rack-too-high" if rack.mounting_height < height else "rack-too-low",
            "will not work",
            "the rack",
            f"the pinion's centre stands {said(rack.mounting_height, unit)} above the rack's back.",
            f"Pitch radius and pitch-line height make {said(height, unit)}.",
            "The teeth jam." if rack.mounting_height < height else "The teeth hardly reach each other.",
            f"Mount it at {said(height, unit)}.",
            "Mott, section 8-11",
        )
    if not rack.stops:
        yield Finding(
            "rack-without-stops",
            "will trouble",
            "the rack",
            "no end stops are stated.",
            "Stops inside the toothed length, at both ends.",
            "The rack runs out of the pinion, and the vent falls.",
            "Add two stops.",
            "common practice; local code",
        )


CHECKS = (
    Check(
        "rack",
        "Does the rack reach as far as it should, at the right height?",
        ("rack-too-short", "rack-too-high", "rack-too-low", "rack-without-stops"),
        findings,
    ),
)
