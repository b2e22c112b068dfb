"""What can be wrong with teeth: cut away at the foot, pointed, of two kinds, without room at the bottom."""

from __future__ import annotations

import math
from collections.abc import Iterator

from gearlab.shape.measuring import thickness

from ..design import Design, GearTable
from ..internal import InternalGear
from .advice import Way
from .finding import Held, Outcome, both, said
from .ledger import Checks
from .making import same_unit
from .pair import meshes
from .recount import thinned_as_usual
from .refit import again, reset, shifted
from .sentences import finding, unmade
from .standings import Standing, standings

#: What the cutter may take of the flank, measured on the cut tooth, without harm [modules]: at 20 degrees,
#: full depth, 16 teeth lose 0.0006 and no contact, 15 lose 0.002 and a thirtieth of their contact.
HARMLESS_LOSS = 0.001
LEAST_LAND = 0.2  # width of a tip [modules]; common practice (Niemann & Winter, from memory)
LEAST_CLEARANCE = 0.1  # between tip and root [modules]; DIN 867 has 0.1 to 0.4 (from memory)
_HAIR = 1e-6  # of a module
CHECKS = Checks()


# -- each gear ---------------------------------------------------------------------------------------------
@CHECKS.row("whole teeth", "Have the teeth of each gear their whole flanks?", "undercut", of="gear")
def _whole(design: Design, table: GearTable) -> Outcome:
    gear = design.toothed[table.name]
    if not gear.undercut:
        return Held(table.name, f"{gear.teeth} teeth have their whole flanks")
    lost = gear.tooth.form_radius - gear.tooth.base_radius
    return finding(
        "undercut" if lost > HARMLESS_LOSS else "undercut, harmless",
        design,
        table.name,
        lambda: _not_undercut(design, table.name),
        teeth=gear.teeth,
        angle=said(gear.pressure_angle),
        lost=_fine(lost * gear.scale, gear.unit),
        harmless=_fine(HARMLESS_LOSS * gear.scale, gear.unit),
        least=math.ceil(gear.numbers["least_teeth"] - 1e-9),
        shift=said(gear.numbers["least_shift"]),
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


@CHECKS.row("tips", "Are the tips of each gear wide enough?", "teeth-nearly-pointed", of="gear")
def _pointed(design: Design, table: GearTable) -> Outcome:
    if not same_unit(design, table):
        return unmade("tips in another unit", design, table.name)
    gear = design.toothed[table.name]
    land, least = gear.numbers.get("tip_thickness"), LEAST_LAND * gear.scale
    if land is None:  # theory does not tell of such teeth: the cut ones do
        land = thickness(gear.tooth, gear.tooth.tip_radius) * gear.scale
    if land >= least - _HAIR * gear.scale:
        return Held(table.name, "width of a tooth at its tip", land, least, gear.unit)
    return finding(
        "teeth-nearly-pointed",
        design,
        table.name,
        lambda: _blunter(design, table),
        compared=(land, least),
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
@CHECKS.row("same teeth", "Do the teeth of each mesh fit each other?", "teeth-do-not-match", of=standings)
def _match(design: Design, standing: Standing) -> Outcome:
    (driver, driven), unit = standing.gears, standing.unit
    pitches = standing.base_pitch(0), standing.base_pitch(1)
    if not standing.mismatch:
        return Held(standing.where, "both have the base pitch", pitches[0], None, unit)
    gap, first, second = abs(pitches[0] - pitches[1]), *both(*pitches, unit)
    if gap > 1e-6 * pitches[0] or driver.unit != driven.unit:
        row = "teeth-do-not-match"
    elif driver.pressure_angle != driven.pressure_angle:
        row = "teeth-do-not-match, in their angles"
        first, second = both(driver.pressure_angle, driven.pressure_angle, "deg")
    else:
        row, first, second = "teeth-do-not-match, in a ring", str(driver.teeth), str(driven.teeth)
    return finding(
        row,
        design,
        standing.where,
        lambda: _matched(standing),
        first=first,
        second=second,
        gap=said(gap, unit),
    )


def _matched(standing: Standing) -> Iterator[list[Way]]:
    """Each given the teeth of the other; first the one whose holes then stand better."""
    design, ways = standing.design, []
    for name, mate in (standing.names, standing.names[::-1]):
        size = design.of(mate).model_dump(include={"module", "diametral_pitch", "pressure_angle"})
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


@CHECKS.row(
    "room below the tips",
    "Is there room between the tips and the roots of the mate?",
    "no-bottom-clearance",
    of=meshes("room below the tips", False),
)
def _bottom(design: Design, standing: Standing) -> Outcome:
    distance, scale, where = standing.spacing.value, standing.scale, standing.where
    left, least = clearance(standing, distance), LEAST_CLEARANCE * scale
    if left >= least - _HAIR * scale:
        what = f"room below the tips, spacing {standing.spacing.by},"
        return Held(where, what, left, least, standing.unit)
    usual = standing.natural.centre_distance if standing.natural is not None else distance
    if standing.sense * (distance - usual) < 0 and clearance(standing, usual) >= least:
        return unmade("room below the tips", design, where)
    systems = sorted({gear.tooth_system for gear in standing.gears})
    row = "no-bottom-clearance" if left > _HAIR * scale else "no-bottom-clearance, none"
    return finding(
        row if left >= 0 else "no-bottom-clearance, none, into the roots",
        design,
        where,
        lambda: _one_system(standing),
        compared=(max(left, 0.0), least),
        into=-left,
        kinds=f" ({' with '.join(systems)} teeth)" if len(systems) > 1 else "",
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
