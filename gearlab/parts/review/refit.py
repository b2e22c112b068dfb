"""How two gears are set right: their holes, how thick their teeth are, other teeth; and what goes along."""

from __future__ import annotations

import math
from collections.abc import Iterator

from gearlab.theory.functions import common_factor_number

from .advice import Way, together
from .finding import PLACES, Edit, said, two_digits
from .moves import after, at_distances, places_told, spaced, told
from .recount import FEWEST, MOST
from .standings import SLACK, Standing, standings

NEAR_COUNT = 0.25  # teeth by which play may let a spacing differ from that of a whole count
#: Readings that are void once holes or teeth are made anew.
_OF_HOLES, _OF_TEETH = ("hole_spacing", "spacing_over_pins", "backlash"), ("span", "over_pins", "backlash")


def set_apart(standing: Standing) -> Iterator[Way]:
    """The holes at the spacing with the wanted play; where the teeth are too thin for that, thicker ones."""
    distance, design = standing.wanted_distance, standing.design
    if distance is None:
        return
    thinned = _thinned(standing, standing.wanted_play) if standing.teeth_too_thin else None
    edit = spaced(design, *standing.pair.gears, distance)
    if thinned is not None:
        more = f", and thin the teeth less: {said(thinned, standing.unit)} each"
        edit = together(edit, _thinning(standing, thinned))
    else:
        more = ""
    readings, words = again(standing, *_OF_HOLES, *(_OF_TEETH if thinned is not None else ()))
    says = f"Set the holes {said(distance, standing.unit)} apart{more}{told(design, edit)}{words}"
    yield Way(says, together(edit, readings))


def again(standing: Standing, *quantities: str) -> tuple[Edit, str]:
    """What is made again is measured again: the readings of it taken out, and that in words."""
    parts = {standing.where, *standing.names}
    gone = {
        reading.name: None
        for reading in standing.design.measured
        if reading.part in parts and reading.quantity in quantities
    }
    return ({"measured": gone}, ", and measure again") if gone else ({}, "")


def _thinned(standing: Standing, play: float) -> float | None:
    """How much thinner each tooth is to be for some play where the teeth call for [unit]; None if it cannot.

    All play beyond that of the thinning comes from elsewhere, and stays.
    """
    if standing.natural is None:
        return None
    now = [gear.tooth_thinning for gear in standing.gears]
    each = (sum(now) + play - standing.natural_play - standing.thinner.value) / 2
    return round(each, 4 if standing.unit == "mm" else 5) if each >= 0 else None


def _thinning(standing: Standing, each: float) -> Edit:
    return {"gear": {name: {"tooth_thinning": each} for name in standing.names}}


def thinner_teeth(standing: Standing) -> Iterator[Way]:
    """The teeth thinned for the wanted play where they stand."""
    play = standing.play
    if play is None:
        return
    each = sum(gear.tooth_thinning for gear in standing.gears) / 2 + (standing.wanted_play - play.value) / 2
    if each < 0:
        return
    step = PLACES[standing.unit]
    while step > 0.1 * standing.wanted_play:
        step /= 10
    each = round(round(each / step) * step, 8)
    words = "less" if play.value > standing.most_play else "more"
    says = (
        f"Thin the teeth {words}: {said(each, standing.unit)} each, the shafts are"
        f" {said(standing.spacing.value, standing.unit)} apart"
    )
    readings, words = again(standing, *_OF_TEETH)
    yield Way(f"{says}{words}", together(_thinning(standing, each), readings))


def other_play(standing: Standing) -> Iterator[Way]:
    """A wanted play that the teeth as they stand do have: for limits that no teeth can keep."""
    pair, play = standing.pair, standing.play
    if play is None or play.value <= 0:
        return
    if pair.least_backlash is not None and play.value < pair.least_backlash:
        least = two_digits(0.75 * play.value, False)
        says = f"Ask for a play of {said(least, standing.unit)} or more"
        yield Way(says, {"mesh": {pair.name: {"least_backlash": least}}})
    elif pair.most_backlash is not None and play.value > pair.most_backlash:
        most = two_digits(1.5 * play.value, True)
        says = f"Allow a play of up to {said(most, standing.unit)}"
        yield Way(says, {"mesh": {pair.name: {"most_backlash": most}}})


def as_they_stand(standing: Standing) -> Iterator[Iterator[Way]]:
    """Ways for teeth that do not reach each other or find no room: the spacing set, one shaft alone put where
    it meshes with all its mates, or the count that the spacing calls for."""
    counts = list(counted(standing))
    wanted, within = standing.design.design.ratio, standing.design.design.ratio_within
    fitting = [
        way
        for way in counts
        if wanted is not None
        and abs((after(standing.design, way.edit).ratio or 0.0) / wanted - 1) <= within + 1e-9
    ]
    yield iter(fitting)
    yield set_apart(standing)
    yield put_back(standing)
    yield iter(counts if not fitting else ())


def counted(standing: Standing) -> Iterator[Way]:
    """The count of one of them for which the shafts stand right as they are."""
    if standing.mismatch:
        return
    (driver, driven), total = (
        (gear.teeth for gear in standing.gears),
        2 * standing.spacing.value / standing.scale,
    )
    for name, now, teeth in zip(
        standing.names,
        (driver, driven),
        (total - driven, total - driver) if not standing.internal else (driven - total, driver + total),
    ):
        count = round(teeth)
        if count != now and FEWEST <= count <= MOST and abs(teeth - count) <= NEAR_COUNT:
            yield Way(f"Give {name} {count} teeth", {"gear": {name: {"teeth": count}}})


def put_back(standing: Standing) -> Iterator[Way]:
    """One of their shafts alone put where it meshes right with all its mates."""
    design = standing.design
    wanted = [(each, each.wanted_distance) for each in standings(design)]
    for shaft in dict.fromkeys(design.of(name).shaft for name in reversed(standing.pair.gears)):
        distances: dict[str, float] = {}
        for each, distance in wanted:
            shafts = [design.of(name).shaft for name in each.names]
            if shaft in shafts and distance is not None:
                distances[shafts[1 - shafts.index(shaft)]] = distance
        for edit in at_distances(design, shaft, distances):
            readings, words = again(standing, *_OF_HOLES)
            edit = together(edit, readings)
            if place := places_told(design, edit, [shaft]):  # not drawn right and drilled wrong
                yield Way(f"Put shaft {place}{told(design, edit)}{words}", edit)


def stands_far(standing: Standing) -> bool:
    natural = standing.natural
    return (
        natural is not None
        and standing.sense * (standing.spacing.value - natural.centre_distance) > SLACK * standing.scale
    )


def reset(standing: Standing, says: str, edit: Edit) -> Iterator[Way]:
    """Gears changed, and their holes set to what the new teeth call for."""
    design = standing.design
    try:
        other = design.with_(**edit) if design._text is None else type(design)(**design.tables).with_(**edit)
        new = next(after for after in standings(other) if after.where == standing.where)
        distance = new.wanted_distance
    except (ValueError, StopIteration):
        return
    if distance is None:
        return
    moved = spaced(other, *standing.pair.gears, distance)
    readings, words = again(standing, *_OF_HOLES, *_OF_TEETH, "outside_diameter")
    whole = together(edit, moved, readings)
    yield Way(
        f"{says}, and set the holes {said(distance, standing.unit)} apart{told(design, whole)}{words}", whole
    )


def longer_or_more_teeth(standing: Standing) -> Iterator[Way]:
    """Longer teeth where they are short, and then more of them, in the same ratio."""
    names = standing.names
    if any(gear.tooth_system == "stub" for gear in standing.gears):
        longer = {"gear": {name: {"tooth_system": "full depth"} for name in names}}
        yield from reset(standing, "Cut full-depth teeth on both gears", longer)
    for factor in (1.25, 1.5, 2.0, 2.5, 3.0) if not standing.internal else ():  # rolling takes long
        teeth = [gear.teeth * factor for gear in standing.gears]
        if any(count != round(count) for count in teeth):
            continue
        more = {"gear": {name: {"teeth": round(count)} for name, count in zip(names, teeth)}}
        says = f"Take more teeth, {round(teeth[0])} and {round(teeth[1])}"
        for tooth_system in ("", "full depth"):
            named = {"gear": {name: {"tooth_system": tooth_system} for name in names}} if tooth_system else {}
            yield from reset(
                standing, f"{says}{f', {tooth_system}' if tooth_system else ''}", together(more, named)
            )


def shifted(standing: Standing, side: int) -> Iterator[Way]:
    """The cutter moved out on one of them, by steps of 0.05 modules, and the holes set for it."""
    if standing.internal:
        return
    name, gear = standing.names[side], standing.gears[side]
    least = max(gear.numbers["least_shift"], 0.0)
    for step in range(7):
        shift = round(math.ceil(least / 0.05 - 1e-9) * 0.05 + 0.05 * step, 2)
        if shift > gear.profile_shift:
            edit: Edit = {"gear": {name: {"profile_shift": shift}}}
            yield from reset(standing, f"Move the cutter out by {said(shift)} modules on {name}", edit)


def more_teeth(standing: Standing) -> Iterator[Way]:
    """More teeth on both, in the same ratio, until the pinion's are whole."""
    driver, driven = (gear.teeth for gear in standing.gears)
    common = int(common_factor_number(driver, driven)) if not standing.internal else 0
    for factor in range(common + 1, 4 * common + 1):
        counts = driver // common * factor, driven // common * factor
        if min(counts) <= 1.02 * min(driver, driven):
            continue
        edit: Edit = {"gear": {name: {"teeth": count} for name, count in zip(standing.names, counts)}}
        yield from reset(standing, f"Take more teeth, {counts[0]} and {counts[1]}", edit)
