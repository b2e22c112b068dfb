"""A first design from what is wanted: counts, size of tooth and load become plate, shafts, gears and hubs.

The proportions are those of a teaching kit (common practice): every one of them is a number of the design,
there to be changed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import accumulate
from typing import Any

from ..gear import Gear
from ..published.fastening import LENGTHS, SetScrew, set_screw
from .design import Design

#: Proportions of the kit by unit: steps of sizes, gap under a gear, end of a shaft, margin round the gears.
_KIT: dict[str, dict[str, Any]] = {
    "mm": {"step": 0.5, "gap": 1.5, "end": 3.0, "margin": 20.0, "plate": 10.0, "thick": 6.0, "free": 0.05},
    "in": {
        "step": 1 / 16,
        "gap": 1 / 16,
        "end": 1 / 8,
        "margin": 0.75,
        "plate": 0.5,
        "thick": 0.25,
        "free": 0.002,
    },
}
ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX")  # names of the shafts
#: Set screws of a bench from the thinnest to the thickest, by unit.
SCREWS = {
    "mm": ("M3", "M4", "M5", "M6", "M8", "M10"),
    "in": ("#4", "#6", "#8", "#10", "1/4", "5/16", "3/8", "1/2"),
}
_FACE = 5.0  # face of a gear [modules]
_THINNED = 0.02  # what every tooth is thinned by, so that a pair has twice as much play [modules]
_PLAY = (0.024, 0.064)  # least and most play that is wanted [modules]
_HUB = (2.8, 1.8)  # widest and narrowest hub [bores]
_SCREW = 0.5  # thread of the set screw at most [shaft diameters]
_ROOM = 0.5  # left between hub and root circle [modules]


def begin(
    name: str,
    stages: Sequence[tuple[int, int]],
    *,
    module: float | None = None,
    diametral_pitch: float | None = None,
    shaft_diameter: float,
    torque: float,
    allowable_stress: float,
    speed: float | None = None,
    material: str = "acrylic",
    thickness: float | None = None,
) -> Design:
    """A first design: spur gears stage by stage on shafts in line, fastened by set screws on flats.

    name: what the design is called.
    stages: teeth of driver and driven gear of every stage.
    module, diametral_pitch: one of them [mm, 1/in]; it settles the unit of the design.
    shaft_diameter: of all shafts, and of their bores [mm or in].
    torque: on the first shaft [N m, or lbf in].
    allowable_stress: what the material of the teeth can withstand [MPa, or psi].
    speed: of the first shaft [rpm].
    material, thickness: of the plate [mm or in].
    ValueError for no stage, for a gear that cannot be, or one too small for a hub on such a shaft.

    >>> drive = begin("vent", [(18, 45)], module=2.5, shaft_diameter=10, torque=1.9, allowable_stress=20)
    >>> drive.ratio, drive.distance("pinion 1", "wheel 1"), drive.plate.length
    (2.5, 78.75, 210.0)
    """
    if not stages:
        raise ValueError(
            "stages is empty: give the teeth of driver and driven gear of a stage, such as [(18, 45)]"
        )
    if len(stages) >= len(ROMAN):
        raise ValueError(f"stages: {len(stages)} of them are too many: give at most {len(ROMAN) - 1}")
    size = {"module": module} if module is not None else {"diametral_pitch": diametral_pitch}
    pairs = [tuple(Gear(count, **size) for count in stage) for stage in stages]
    unit, scale = pairs[0][0].unit, pairs[0][0].scale
    kit = _KIT[unit]
    face = _stepped(max(_FACE * scale, kit["step"]), kit["step"])
    screw = _screw(shaft_diameter, unit)
    projection = _stepped(max(1.6 * screw.diameter, 1.2 * shaft_diameter), kit["step"])
    gears: list[dict[str, Any]] = []
    names = [(f"pinion {k}", f"wheel {k}") for k in range(1, len(stages) + 1)]
    shafts = [ROMAN[k] for k in range(len(stages) + 1)]
    # a stage stands above the one before it: the wheel on its hub, the next pinion on top, its hub away
    low = kit["gap"] + projection
    for k, (pair, (pinion, wheel)) in enumerate(zip(pairs, names)):
        foot = low + k * (face + kit["gap"])
        first = {"shaft": shafts[k], "gap": kit["gap"] if k else foot - projection}
        hubs = {"hub_side": "away"} if k else {}
        gears.append(_gear(pinion, pair[0], size, face, shaft_diameter, projection, screw) | first | hubs)
        below = {"shaft": shafts[k + 1], "gap": round(foot - projection, 6)}
        gears.append(_gear(wheel, pair[1], size, face, shaft_diameter, projection, screw) | below)
    tables = _laid_out(pairs, shafts, shaft_diameter, kit) | {
        "design": {"name": name, "unit": unit, "ratio": math.prod(b / a for a, b in stages)},
        "gear": [gear | {"allowable_stress": allowable_stress} for gear in gears],
        "mesh": [
            {
                "driver": pinion,
                "driven": wheel,
                "least_backlash": round(_PLAY[0] * scale, 4),
                "most_backlash": round(_PLAY[1] * scale, 4),
            }
            for pinion, wheel in names
        ],
        "load": {"torque": torque, **({"speed": speed} if speed is not None else {})},
    }
    tables["plate"] |= {"thickness": kit["thick"] if thickness is None else thickness, "material": material}
    design = Design(**tables)
    return design.with_(
        shaft={shaft.name: {"length": _length(design, shaft.name, kit["step"])} for shaft in design.shaft}
    )


def _laid_out(
    pairs: Sequence[tuple[Gear, ...]], names: Sequence[str], diameter: float, kit: dict[str, Any]
) -> dict[str, Any]:
    """The shafts in line, and the plate around what they carry."""
    spacings = [(driver.pitch_diameter + driven.pitch_diameter) / 2 for driver, driven in pairs]
    reach = [max(gear.outside_diameter for gear in on) / 2 for on in _on_shafts(pairs)]
    places = list(accumulate(spacings, initial=0.0))
    left = max(radius - place for radius, place in zip(reach, places))
    right = max(radius + place for radius, place in zip(reach, places))
    length = _stepped(left + right + 2 * kit["margin"], kit["plate"])
    height = _stepped(2 * max(reach) + 2 * kit["margin"], kit["plate"])
    start = (length - left - right) / 2 + left
    shafts = [
        {
            "name": shaft,
            "x": round(start + place, 4),
            "y": height / 2,
            "diameter": diameter,
            "hole": round(diameter + kit["free"], 6),
            "behind": _stepped(0.8 * diameter, kit["step"]),
            "end": kit["end"],
        }
        for shaft, place in zip(names, places)
    ]
    return {"plate": {"length": length, "height": height}, "shaft": shafts}


def _on_shafts(pairs: Sequence[tuple[Gear, ...]]) -> list[list[Gear]]:
    """The gears on each shaft."""
    shafts: list[list[Gear]] = [[] for _ in range(len(pairs) + 1)]
    for k, (driver, driven) in enumerate(pairs):
        shafts[k].append(driver)
        shafts[k + 1].append(driven)
    return shafts


def _stepped(value: float, step: float) -> float:
    return round(math.ceil(value / step - 1e-9) * step, 6)


def _screw(shaft: float, unit: str) -> SetScrew:
    """The thickest set screw that suits a shaft; the smallest for a thin one."""
    screws = [set_screw(size) for size in SCREWS[unit]]
    return max(
        (screw for screw in screws if screw.diameter <= _SCREW * shaft),
        default=screws[0],
        key=lambda s: s.diameter,
    )


def _gear(
    name: str, gear: Gear, size: dict, face: float, bore: float, projection: float, screw: SetScrew
) -> dict[str, Any]:
    """The table of a gear, with a hub as wide as its root circle leaves room for."""
    step = _KIT[gear.unit]["step"]
    widest = math.floor((gear.root_diameter - 2 * _ROOM * gear.scale) / step + 1e-9) * step
    hub = round(min(_stepped(_HUB[0] * bore, step), widest), 6)
    if hub < _HUB[1] * bore:
        raise ValueError(
            f"{name}: {gear.teeth} teeth leave room for a hub of {max(hub, 0):g} {gear.unit}, and a bore of"
            f" {bore:g} {gear.unit} wants {_HUB[1] * bore:g} {gear.unit}: take more teeth, larger ones, or a"
            " thinner shaft"
        )
    wall, flat = (hub - bore) / 2, round(0.05 * bore, 4)
    # the screw stays below the surface and has a diameter of thread
    lengths = [length for length in LENGTHS[gear.unit] if screw.diameter <= length <= wall + flat]
    fastened = {"set_screw": screw.size, "drill_depth": round(wall + bore / 2, 4), "flat": flat}
    if lengths:
        fastened["screw_length"] = lengths[-1]
    return {
        "name": name,
        "teeth": gear.teeth,
        **size,
        "tooth_thinning": round(_THINNED * gear.scale, 5),
        "face_width": face,
        "bore": bore,
        "fit": "sliding",
        "hub_diameter": hub,
        "hub_projection": projection,
        **fastened,
    }


def _length(design: Design, shaft: str, step: float) -> float:
    """Length of a shaft for what stands on it, in stock steps."""
    table = next(each for each in design.shaft if each.name == shaft)
    reach = max(design.foot(gear.name) + design.overall_length(gear.name) for gear in design.on(shaft))
    return _stepped(table.behind + design.on_plate.thickness + reach + table.end, step)
