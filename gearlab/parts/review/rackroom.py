"""Where a rack lies: along its pinion's face, and clear of everything else on its way between the stops."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import partial

from ..design import Design, RackTable
from .advice import Advised, Way
from .finding import PLACES, Finding, Held, Outcome, Unmade, both, said, up
from .ledger import Check

LEAST_BACK = 0.5  # of a rack behind its roots, in modules (common practice)
LEAST_FACES = 0.9  # share of the narrower face that should be in mesh, as of two gears


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
    middle = design.face_height(pinion.name)
    low, high = middle - pinion.face_width / 2, middle + pinion.face_width / 2
    return max(0.0, min(high, lies[1]) - max(low, lies[0]))


def _faces(design: Design) -> Iterator[Outcome]:
    for table in design.rack:
        where, unit = f"the {table.name}", design.unit
        if table.pinion is None:
            continue
        if table.foot is None:
            yield Unmade(
                where,
                "whether it lies at the height of its pinion, and what stands in its way",
                "the file does not say how high it lies",
                f"give its foot, the height of its lower side above the plate, in {unit}",
            )
            continue
        pinion = design.of(table.pinion)
        narrow = min(pinion.face_width, table.face_width or pinion.face_width)
        common = face_of(design, table)
        if common >= LEAST_FACES * narrow * (1 - 1e-9):
            yield Held(where, "its face in mesh is", common, LEAST_FACES * narrow, unit)
        else:
            yield _misses(design, table, common, narrow)


def _misses(design: Design, table: RackTable, common: float, narrow: float) -> Finding:
    unit, width = design.unit, table.face_width or narrow
    level = max(0.0, design.face_height(table.pinion or "") - width / 2)
    foot = up(level, unit, PLACES)
    numbers = both(common, narrow, unit)
    return Advised(
        "faces-miss" if common <= 1e-9 else "faces-partly-miss",
        "will not work" if common <= 1e-9 else "will trouble",
        f"the {table.name}",
        f"{numbers[0]} of the {numbers[1]} face are in mesh with {table.pinion}.",
        f"At least {said(LEAST_FACES * 100)} % should be.",
        "Not one tooth touches." if common <= 1e-9 else "The load sits on the ends of the teeth.",
        design=design,
        ways=lambda: [
            [Way(f"Let it lie {said(foot, unit)} above the plate", {"rack": {table.name: {"foot": foot}}})]
        ],
        otherwise="Bring the rack to the height of its pinion.",
    )


def _strikes(design: Design) -> Iterator[Outcome]:
    """Whether a rack clears the gears and shafts beside its pinion, wherever it stands between its stops."""
    for table in design.rack:
        if span(design, table) is None:
            continue  # that its foot is missing is told where its face is looked at
        struck = sorted(_struck(design, table), key=lambda each: each[1])
        if not struck:
            yield Held(f"the {table.name}", "it clears the other gears and shafts on all its way")
            continue
        name, clear = struck[0]
        yield Advised(
            "rack-strikes",
            "will not work",
            f"the {table.name}",
            f"on its way it comes {said(-clear, design.unit)} into {name}.",
            "A rack clears everything but its pinion, from stop to stop.",
            "It stops there, or cannot be put in.",
            design=design,
            ways=partial(_other_sides, table),
            otherwise="Lay the rack on another side of the pinion, or at another height.",
        )


def _other_sides(table: RackTable) -> Iterator[Iterable[Way]]:
    yield [
        Way(
            f"Lay it on the side of the pinion at {said(angle)} deg",
            {"rack": {table.name: {"angle": angle}}},
        )
        for angle in (-90.0, 90.0, 180.0, 0.0)
        if angle != table.angle
    ]


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
            middle, half = design.face_height(gear.name), gear.face_width / 2
            radius = design.toothed[gear.name].outside_diameter / 2
            yield gear.name, design.shaft_of(gear.name).place, radius, (middle - half, middle + half)
    for shaft in design.standing:
        if shaft.name != own and shaft.length is not None and design.plate is not None:
            top = shaft.length - shaft.behind - design.plate.thickness
            yield f"shaft {shaft.name}", shaft.place, shaft.diameter / 2, (0.0, top)


# -- back --------------------------------------------------------------------------------------------------
def _backs(design: Design) -> Iterator[Outcome]:
    """Whether enough of each rack is left behind its roots."""
    for table in design.rack:
        try:
            rack = design.rack_of(table)
        except ValueError:
            continue  # said of its teeth
        if rack is None:
            continue
        unit, where = design.unit, f"the {table.name}"
        left, least = rack.pitch_height - rack.basic.dedendum * rack.scale, LEAST_BACK * rack.scale
        if left >= least - 1e-9 * rack.scale:
            yield Held(where, "material behind its roots", left, least, unit)
        else:
            yield _thin_back(design, table, left, least)


def _thin_back(design: Design, table: RackTable, left: float, least: float) -> Finding:
    unit = design.unit
    value, wanted = both(left, least, unit)
    wide = up(table.pitch_height - left + 2 * least, unit)
    edit = {
        "rack": {
            table.name: {
                "pitch_height": wide,
                "mounting_height": round(table.mounting_height - table.pitch_height + wide, 6),
            }
        }
    }
    return Advised(
        "rack-back-thin",
        "will trouble",
        f"the {table.name}",
        f"{value} of it are left behind the roots of its teeth.",
        f"Half a module, {wanted}, is the least; one or more are usual.",
        "It bends away from its pinion, and breaks through a tooth space.",
        "common practice",
        design=design,
        ways=lambda: [[Way(f"Let its pitch line stand {said(wide, unit)} above its back", edit)]],
        otherwise="Take a rack with a thicker back.",
    )


CHECKS = (
    Check("back of the rack", "Is enough left behind the teeth?", ("rack-back-thin",), _backs),
    Check("rack face", "Does the rack lie along its pinion?", ("faces-miss", "faces-partly-miss"), _faces),
    Check("rack's way", "Does the rack clear everything on its way?", ("rack-strikes",), _strikes),
)
