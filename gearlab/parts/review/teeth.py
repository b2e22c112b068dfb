"""What can be wrong with teeth: cut away at the foot, pointed, of two kinds, without room at the bottom."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from typing import Any

from gearlab.shape.measuring import thickness

from ..design import Design, GearTable
from ..internal import InternalGear
from .advice import Advised, Way
from .finding import Finding, Held, Outcome, Unmade, both, said
from .ledger import Check
from .pair import of_meshes
from .recount import thinned_as_usual
from .refit import again, reset, shifted
from .standings import Standing, standings

#: What the cutter may take of the flank, measured on the cut tooth, without harm [modules]: at 20 degrees,
#: full depth, 16 teeth lose 0.0006 and no contact, 15 lose 0.002 and a thirtieth of their contact.
HARMLESS_LOSS = 0.001
LEAST_LAND = 0.2  # width of a tip [modules]; common practice (Niemann & Winter, from memory)
LEAST_CLEARANCE = 0.1  # between tip and root [modules]; DIN 867 has 0.1 to 0.4 (from memory)
_HAIR = 1e-6  # of a module


# -- each gear ---------------------------------------------------------------------------------------------
def _whole(design: Design) -> Iterator[Outcome]:
    for table in design.gear:
        gear = design.toothed[table.name]
        if not gear.undercut:
            yield Held(table.name, f"{gear.teeth} teeth have their whole flanks")
            continue
        lost, scale = gear.tooth.form_radius - gear.tooth.base_radius, gear.scale
        least = math.ceil(gear.numbers["least_teeth"] - 1e-9)
        harmless = lost <= HARMLESS_LOSS
        yield Advised(
            "undercut",
            "worth knowing" if harmless else "will trouble",
            table.name,
            f"{gear.teeth} teeth at {said(gear.pressure_angle)} deg are undercut: the cutter takes"
            f" {_fine(lost * scale, gear.unit)} of the flank, measured on the cut tooth.",
            f"From {least} teeth on they are whole; {_fine(HARMLESS_LOSS * scale, gear.unit)} is no harm.",
            "It is too little to matter."
            if harmless
            else "An undercut tooth is thin at its foot and lacks part of its flank: it breaks sooner and"
            " contact is shorter.",
            "rack generation; Mott, section 8-6",
            design=design,
            ways=partial(_not_undercut, design, table.name),
            otherwise=f"Use {least} teeth or more, or move the cutter out by"
            f" {said(gear.numbers['least_shift'])} modules.",
        )


def _fine(value: float, unit: str) -> str:
    least = {"mm": 1e-3, "in": 1e-4}[unit]
    return f"less than {said(least, unit)}" if value < least else said(value, unit)


def _not_undercut(design: Design, name: str) -> Iterator[Iterator[Way]]:
    meshes = [standing for standing in standings(design) if name in standing.names]
    if not meshes:
        yield iter(_alone(design, name))
    for standing in meshes[:1]:
        yield shifted(standing, standing.names.index(name))
        yield _teeth_for(standing, name)
        yield _steeper(standing)


def _steeper(standing: Standing) -> Iterator[Way]:
    """Both cut at 20 degrees, which takes fewer teeth, where they are not."""
    names = [name for name, gear in zip(standing.names, standing.gears) if gear.pressure_angle < 20.0]
    if names:
        edit = {"gear": {name: {"pressure_angle": 20.0} for name in names}}
        says = f"Cut {' and '.join(names)} at 20 deg"
        yield Way(says, edit)
        yield from reset(standing, says, edit)


def _alone(design: Design, name: str) -> Iterator[Way]:
    gear = design.gears[name]
    shift = round(math.ceil(gear.numbers["least_shift"] / 0.05 - 1e-9) * 0.05, 2)
    says = f"Move the cutter out by {said(shift)} modules"
    yield Way(says, {"gear": {name: {"profile_shift": shift}}})


def _teeth_for(standing: Standing, name: str) -> Iterator[Way]:
    """Whole teeth on a gear, and so many more on its mate that the ratio stays nearest."""
    gear = standing.gears[standing.names.index(name)]
    mate = next(other for other in standing.names if other != name)
    other = standing.gears[standing.names.index(mate)]
    least = math.ceil(gear.numbers["least_teeth"] - 1e-9)
    for teeth in range(least, least + 12):
        exact = other.teeth * teeth / gear.teeth
        edit = {"gear": {name: {"teeth": teeth}, mate: {"teeth": round(exact)}}}
        if abs(exact - round(exact)) < 0.003 * exact:
            yield from reset(standing, f"Take {teeth} teeth, and {round(exact)} on {mate}", edit)


def _pointed(design: Design) -> Iterator[Outcome]:
    for table in design.gear:
        gear = design.toothed[table.name]
        if gear.unit != design.unit:
            give = "give its size in the unit of the file"
            yield Unmade(
                table.name, "width of its tips", "its thinning is in another unit than its size", give
            )
            continue
        form, scale = gear.tooth, gear.scale
        land = gear.numbers.get("tip_thickness")
        if land is None:  # theory does not tell of such teeth: the cut ones do
            land = thickness(form, form.tip_radius) * scale
        if land >= LEAST_LAND * scale - _HAIR * scale:
            yield Held(table.name, "width of a tooth at its tip", land, LEAST_LAND * scale, gear.unit)
            continue
        width, limit = both(land, LEAST_LAND * scale, gear.unit)
        yield Advised(
            "teeth-nearly-pointed",
            "will trouble",
            table.name,
            f"its teeth are {width} wide at the tip.",
            f"At least {limit}, a fifth of a module, should be left.",
            "Such a tip chips, wears and cuts fingers.",
            "common practice; Niemann & Winter (from memory)",
            design=design,
            ways=partial(_blunter, design, table),
            otherwise="Move the cutter out less, or shorten the tips.",
        )


def _blunter(design: Design, table: GearTable) -> Iterator[Iterator[Way]]:
    meshes = [standing for standing in standings(design) if table.name in standing.names]
    if table.tooth_thinning > 0.1 * design.toothed[table.name].scale:  # more than any play needs
        yield thinned_as_usual(design, table)
    yield _less_shift(design, table, meshes)


def _less_shift(design: Design, table: GearTable, meshes: list[Standing]) -> Iterator[Way]:
    for step in range(1, 24):
        shift = round(table.profile_shift - 0.05 * step, 3)
        edit = {"gear": {table.name: {"profile_shift": shift}}}
        says = f"Move the cutter out by {said(shift)} modules only"
        try:
            form = design.cut(table.model_copy(update={"profile_shift": shift})).tooth
        except ValueError:
            continue
        if thickness(form, form.tip_radius) < LEAST_LAND:
            continue
        if meshes:
            yield from reset(meshes[0], says, edit)
        else:
            yield Way(says, edit)


# -- two that mesh -----------------------------------------------------------------------------------------
def _match(design: Design) -> Iterator[Outcome]:
    for standing in standings(design):
        if not standing.mismatch:
            yield Held(standing.where, "both have the base pitch", standing.base_pitch(0), None, design.unit)
            continue
        yield _mismatch(standing)


def _mismatch(standing: Standing) -> Finding:
    (driver, driven), unit = standing.gears, standing.unit
    pitches = standing.base_pitch(0), standing.base_pitch(1)
    if abs(pitches[0] - pitches[1]) > 1e-6 * pitches[0] or driver.unit != driven.unit:
        first, second = both(*pitches, unit)
        what, limit = f"the base pitches are {first} and {second}.", "They must be equal."
        gap = said(abs(pitches[0] - pitches[1]), unit)
        why = f"At every tooth the gears get {gap} out of step: they click, then jam."
    elif driver.pressure_angle != driven.pressure_angle:
        angles = both(driver.pressure_angle, driven.pressure_angle, "deg")
        what, limit = f"the pressure angles are {angles[0]} and {angles[1]}.", "They must be equal."
        why = "The flanks lean differently: they touch at edges only."
    else:
        what, limit = (
            f"a pinion of {driver.teeth} teeth, a ring of {driven.teeth}.",
            "The ring needs about 10 teeth more.",
        )
        why = "The pinion does not go into the ring."
    return Advised(
        "teeth-do-not-match",
        "will not work",
        standing.where,
        what,
        limit,
        why,
        "ISO 21771:2007",
        design=standing.design,
        ways=lambda: _matched(standing),
        otherwise="Give both gears the same module or diametral pitch, and the same pressure angle.",
    )


def _size(table: GearTable) -> dict[str, Any]:
    return {
        "module": table.module,
        "diametral_pitch": table.diametral_pitch,
        "pressure_angle": table.pressure_angle,
    }


def _matched(standing: Standing) -> Iterator[list[Way]]:
    """Each given the teeth of the other; first the one whose holes then stand better."""
    design, ways = standing.design, []
    for name, mate in (standing.names, standing.names[::-1]):
        size = _size(design.of(mate))
        edit = {"gear": {name: size}}
        if size["module"] is not None:
            text = f"module {said(size['module'])} mm"
        else:
            text = f"a diametral pitch of {said(size['diametral_pitch'])}"
        says = f"Give {name} {text} and {said(size['pressure_angle'])} deg, as {mate} has"
        ways.append([Way(says, edit), *reset(standing, says, edit)])
    stands = [_stands_well(standing, way[0]) for way in ways]
    yield from ways if stands[0] >= stands[1] else reversed(ways)


def _stands_well(standing: Standing, way: Way) -> bool:
    try:
        changed = type(standing.design)(**standing.design.tables).with_(**way.edit)
        play = next(new for new in standings(changed) if new.where == standing.where).play
    except (ValueError, StopIteration):
        return False
    return play is not None and play.value >= 0


def _bottom(standing: Standing) -> Iterator[Outcome]:
    distance, scale, unit = standing.spacing.value, standing.scale, standing.unit
    left = clearance(standing, distance)
    least = LEAST_CLEARANCE * scale
    if left >= least - _HAIR * scale:
        yield Held(standing.where, f"room below the tips, spacing {standing.spacing.by},", left, least, unit)
        return
    usual = standing.natural.centre_distance if standing.natural is not None else distance
    if standing.sense * (distance - usual) < 0 and clearance(standing, usual) >= least:
        why, give = "the shafts stand too near", "set the spacing of their holes first"
        yield Unmade(standing.where, "room below the tips", why, give)
        return
    value, limit = both(max(left, 0.0), least, unit)
    systems = sorted({gear.tooth_system for gear in standing.gears})
    kinds = f" ({' with '.join(systems)} teeth)" if len(systems) > 1 else ""
    yield Advised(
        "no-bottom-clearance",
        "will not work" if left <= _HAIR * scale else "will trouble",
        standing.where,
        f"below the tips {value} are left{kinds}."
        if left >= 0
        else f"the tips reach {said(-left, unit)} into the roots{kinds}.",
        f"A tenth of a module, {limit}, is the least.",
        "The tips run on the bottoms of the spaces: the gears grind, and dirt jams them.",
        "DIN 867 (from memory); geometry of the tip and root circles",
        design=standing.design,
        ways=lambda: _one_system(standing),
        otherwise="Cut both gears with teeth of one system.",
    )


def clearance(standing: Standing, distance: float) -> float:
    """What is left between tips and roots on the line of centres at some spacing, the less of both [unit]."""
    driver, driven = (gear.tooth for gear in standing.gears)
    scale = standing.scale
    tips = [_tip(standing, side) for side in range(2)]
    if isinstance(standing.gears[1], InternalGear):
        return min(
            driven.root_radius * scale - distance - tips[0], tips[1] - distance - driver.root_radius * scale
        )
    return distance - max(tips[0] + driven.root_radius * scale, tips[1] + driver.root_radius * scale)


def _tip(standing: Standing, side: int) -> float:
    """Tip radius, measured where it was [unit]."""
    gear = standing.gears[side]
    reading = standing.design.reading(standing.names[side], "outside_diameter")
    if reading is not None and not gear.internal and gear.unit == standing.unit:
        return reading.value / 2
    return gear.tooth.tip_radius * gear.scale


def _one_system(standing: Standing) -> Iterator[list[Way]]:
    readings, words = again(standing, "outside_diameter")
    if readings:
        yield [Way(f"Turn the blanks to the size that is drawn{words}", readings)]
    systems = [gear.tooth_system for gear in standing.gears]
    for kind in dict.fromkeys(("full depth", *systems)):
        names = [name for name, system in zip(standing.names, systems) if system != kind]
        edit = {"gear": {name: {"tooth_system": kind} for name in names}}
        if names:
            says = f"Cut {kind} teeth on {' and '.join(names)}"
            yield [Way(says, edit), *reset(standing, says, edit)]


CHECKS = (
    Check("whole teeth", "Have the teeth of each gear their whole flanks?", ("undercut",), _whole),
    Check("tips", "Are the tips of each gear wide enough?", ("teeth-nearly-pointed",), _pointed),
    Check("same teeth", "Do the teeth of each mesh fit each other?", ("teeth-do-not-match",), _match),
    Check(
        "room below the tips",
        "Is there room between the tips and the roots of the mate?",
        ("no-bottom-clearance",),
        of_meshes("room below the tips", _bottom, False),
    ),
)
