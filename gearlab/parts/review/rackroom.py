"""Where a rack lies: along its pinion's face, and clear of everything else on its way between the stops."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..design import Design, RackTable
from .advice import Way
from .finding import PLACES, Held, Outcome, said, up
from .ledger import Checks
from .sentences import finding, unmade

LEAST_BACK = 0.5  # of a rack behind its roots, in modules (common practice)
LEAST_FACES = 0.9  # share of the narrower face that should be in mesh, as of two gears
CHECKS = Checks()


def span(design: Design, table: RackTable) -> tuple[float, float] | None:
    """From where to where a rack lies above the plate [unit]; None where its foot is not stated."""
    if table.foot is None or table.pinion is None:
        return None
    return table.foot, table.foot + (table.face_width or design.of(table.pinion).face_width)


def face_of(design: Design, table: RackTable) -> float:
    """The face that a rack and its pinion have in common [unit]; the narrower one without the rack's foot."""
    pinion = design.of(table.pinion or "")
    lies = span(design, table)
    if lies is None:
        return min(pinion.face_width, table.face_width or pinion.face_width)
    low, high = design.face_ends(pinion.name)
    return max(0.0, min(high, lies[1]) - max(low, lies[0]))


# -- back --------------------------------------------------------------------------------------------------
@CHECKS.row("back of the rack", "Is enough left behind the teeth?", "rack-back-thin", of="rack")
def _back(design: Design, table: RackTable) -> Outcome | None:
    try:
        rack = design.rack_of(table)
    except ValueError:
        return None  # said of its teeth
    unit = design.unit
    left, least = rack.pitch_height - rack.basic.dedendum * rack.scale, LEAST_BACK * rack.scale
    if left >= least - 1e-9 * rack.scale:
        return Held(f"the {table.name}", "material behind its roots", left, least, unit)
    wide = up(table.pitch_height - left + 2 * least, unit)
    mounted = round(table.mounting_height - table.pitch_height + wide, 6)
    edit = {"rack": {table.name: {"pitch_height": wide, "mounting_height": mounted}}}
    thicker = Way(f"Let its pitch line be {said(wide, unit)} above its back", edit)
    return finding("rack-back-thin", design, f"the {table.name}", lambda: [[thicker]], compared=(left, least))


# -- along its pinion --------------------------------------------------------------------------------------
@CHECKS.row("rack face", "Is the rack along its pinion?", "faces-miss", "faces-partly-miss", of="rack")
def _face(design: Design, table: RackTable) -> Outcome | None:
    where, unit = f"the {table.name}", design.unit
    if table.pinion is None:
        return None
    if table.foot is None:
        return unmade("foot", design, where, unit=unit)
    pinion = design.of(table.pinion)
    narrow, common = min(pinion.face_width, table.face_width or pinion.face_width), face_of(design, table)
    if common >= LEAST_FACES * narrow * (1 - 1e-9):
        return Held(where, "its face in mesh is", common, LEAST_FACES * narrow, unit)
    level = max(0.0, design.face_height(pinion.name) - (table.face_width or narrow) / 2)
    foot = up(level, unit, PLACES)
    says = f"Let it lie {said(foot, unit)} above the plate"
    return finding(
        f"faces-{'miss' if common <= 1e-9 else 'partly-miss'}, of a rack",
        design,
        where,
        lambda: [[Way(says, {"rack": {table.name: {"foot": foot}}})]],
        compared=(common, narrow),
        pinion=pinion.name,
        share=said(LEAST_FACES * 100),
    )


@CHECKS.row("rack's way", "Does the rack clear everything on its way?", "rack-strikes", of="rack")
def _way(design: Design, table: RackTable) -> Outcome | None:
    """The gears and shafts beside its pinion, wherever it stands between its stops."""
    if span(design, table) is None:
        return None  # that its foot is missing is told where its face is looked at
    where, struck = f"the {table.name}", sorted(_struck(design, table), key=lambda each: each[1])
    if not struck:
        return Held(where, "it clears the other gears and shafts on all its way")
    name, clear = struck[0]
    return finding("rack-strikes", design, where, lambda: [_other_sides(table)], by=-clear, name=name)


def _other_sides(table: RackTable) -> Iterator[Way]:
    for angle in (-90.0, 90.0, 180.0, 0.0):
        if angle != table.angle:
            says = f"Lay it on the side of the pinion at {said(angle)} deg"
            yield Way(says, {"rack": {table.name: {"angle": angle}}})


def _struck(design: Design, table: RackTable) -> Iterator[tuple[str, float]]:
    """What a rack strikes, and how far it clears it [unit], below 0."""
    lies, pinion = span(design, table), table.pinion or ""
    try:
        part = design.rack_of(table)
    except ValueError:
        return
    assert lies is not None
    own, (x, y) = design.shaft_of(pinion).name, design.shaft_of(pinion).place
    tips = table.mounting_height - table.pitch_height - part.basic.addendum * part.scale
    half = (part.toothed_length + table.travel) / 2
    turned = math.radians(table.angle)
    towards = math.cos(turned), math.sin(turned)
    for name, place, radius, (low, high) in _beside(design, own):
        if min(high, lies[1]) - max(low, lies[0]) <= 1e-9:
            continue
        across, upwards = place[0] - x, place[1] - y
        out = across * towards[0] + upwards * towards[1]
        along = abs(upwards * towards[0] - across * towards[1])
        outside = max(tips - out, out - table.mounting_height, 0.0), max(along - half, 0.0)
        clear = math.hypot(*outside) - radius
        if clear < -1e-6:
            yield name, clear


def _beside(
    design: Design, own: str
) -> Iterator[tuple[str, tuple[float, float], float, tuple[float, float]]]:
    """Gears and shafts on other axes: name, place, radius, and from where to where above the plate [unit]."""
    for gear in design.gear:
        if gear.shaft != own and not gear.internal:
            radius = design.toothed[gear.name].outside_diameter / 2
            yield gear.name, design.shaft_of(gear.name).place, radius, design.face_ends(gear.name)
    for shaft in design.standing:
        if shaft.name != own and shaft.length is not None and design.plate is not None:
            top = shaft.length - shaft.behind - design.plate.thickness
            yield f"shaft {shaft.name}", shaft.place, shaft.diameter / 2, (0.0, top)
