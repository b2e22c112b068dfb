"""What can be wrong with two gears that are to mesh: where they stand, play, tight spots."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from itertools import chain

from ..design import Design
from ..gear import Gear
from ..rolled import freeing_distance
from .advice import Way
from .finding import PLACES, Held, Outcome, said, up
from .ledger import Checks
from .moves import spaced, told
from .refit import as_they_stand, other_play, set_apart, stands_far, thinner_teeth
from .sentences import finding, unmade
from .standings import SLACK, USUAL_PLAY, Standing, standings

RING_OVER_PINION = 10  # teeth, at full depth and 20 degrees (common practice)
CHECKS = Checks()


def meshes(what: str, turning: bool = True) -> Callable[[Design], Iterator[Outcome | Standing]]:
    """How the gears of each mesh stand; or why not, where their teeth do not fit each other or do not turn.

    what: is looked at. turning: whether it takes gears whose teeth find room where they stand.
    """

    def standing_gears(design: Design) -> Iterator[Outcome | Standing]:
        for standing in standings(design):
            if standing.mismatch:
                yield unmade("teeth that do not fit", design, standing.where, what=what)
            elif turning and not _turns(standing):
                yield unmade("gears that do not turn", design, standing.where, what=what)
            else:
                yield standing

    return standing_gears


def _turns(standing: Standing) -> bool:
    play = standing.play
    return standing.mesh is not None and play is not None and play.value >= -standing.rounded - play.unseen


def _by(standing: Standing) -> str:
    return ", measured" if standing.spacing.by == "measured" else ""


# -- where they stand --------------------------------------------------------------------------------------
@CHECKS.row(
    "reach", "Do the teeth of each mesh reach each other?", "tips-do-not-reach", of=meshes("reach", False)
)
def _reach(design: Design, standing: Standing) -> Outcome:
    distance, limit = standing.spacing.value, standing.tips_meet
    if standing.sense * distance < standing.sense * limit - SLACK * standing.scale:
        what = f"the tips reach each other; the spacing {standing.spacing.by}"
        return Held(standing.where, what, distance, limit, standing.unit, least=standing.internal)
    return finding(
        "tips-do-not-reach",
        design,
        standing.where,
        lambda: as_they_stand(standing),
        compared=(distance, limit),
        by=_by(standing),
        side="above" if standing.internal else "below",
    )


@CHECKS.row(
    "room for the teeth",
    "Are the shafts of each mesh far enough apart?",
    "shafts-too-near",
    "pinion-into-ring",
    of=meshes("room for the teeth", False),
)
def _near(design: Design, standing: Standing) -> Outcome:
    """Whether the teeth find room: a pair that does not reach is said already."""
    where, play, slack = standing.where, standing.play, standing.rounded
    apart, natural = standing.spacing.value, standing.natural
    if standing.sense * apart >= standing.sense * standing.tips_meet:
        return Held(where, "the teeth are clear of each other")
    if play is not None and play.value >= -slack:
        what = f"room for the teeth, {play.by}: play"
        return Held(where, what, max(play.value, 0.0), 0.0, standing.unit)
    if play is not None and play.value >= -slack - play.unseen:
        return unmade("room for the teeth", design, where, play=play.value, unseen=play.unseen)
    if standing.internal:
        limit = natural.centre_distance if natural is not None else math.nan
        if abs(apart - limit) <= SLACK * standing.scale:
            return _fouled(design, standing)
        row = "pinion-into-ring"
    elif _on_roots_anyway(standing):
        return unmade("room for the teeth, on roots anyway", design, where)
    elif play is None and apart > sum(gear.base_diameter for gear in standing.gears) / 2:
        (driver, driven), row = standing.gears, "shafts-too-near, into roots"
        tips = driver.outside_diameter + driven.root_diameter, driver.root_diameter + driven.outside_diameter
        limit = max(tips) / 2
    else:
        assert natural is not None
        row, limit = "shafts-too-near", freeing_distance(natural)
    return finding(
        row, design, where, lambda: as_they_stand(standing), compared=(apart, limit), by=_by(standing)
    )


def _on_roots_anyway(standing: Standing) -> bool:
    """Whether there is no room below the tips however right the spacing."""
    natural, slack = standing.natural, SLACK * standing.scale
    if natural is None or standing.internal:
        return False
    driver, driven = (gear.tooth for gear in standing.gears)
    touch = (
        max(driver.tip_radius + driven.root_radius, driver.root_radius + driven.tip_radius) * standing.scale
    )
    return natural.centre_distance <= touch + slack and standing.spacing.value >= touch - slack


def _fouled(design: Design, standing: Standing) -> Outcome:
    """A pinion nearly as large as its ring: however right the spacing, the tips run into each other."""
    pinion, ring = sorted(gear.teeth for gear in standing.gears)
    most, least = ring - RING_OVER_PINION, pinion + RING_OVER_PINION
    return finding(
        "pinion-into-ring, however it stands",
        design,
        standing.where,
        list,
        apart=standing.spacing.value,
        pinion=pinion,
        ring=ring,
        more=RING_OVER_PINION,
        instead=f"a pinion of at most {most} teeth, or a ring of at least {least}"
        if most >= Gear.fewest_teeth
        else f"a ring of at least {least} teeth",
    )


# -- play --------------------------------------------------------------------------------------------------
@CHECKS.row(
    "play",
    "Have the teeth the play that is wanted?",
    "loose-mesh",
    "too-little-play",
    "no-play",
    of=meshes("play"),
)
def _play(design: Design, standing: Standing) -> Outcome:
    play, where, slack = standing.play, standing.where, SLACK * standing.scale
    assert play is not None
    least, most = standing.least_play, standing.most_play
    for over, limit in ((play.value - most, most), (least - play.value, least)):
        if slack < over <= play.unseen:
            value, unseen = play.value, play.unseen
            return unmade("play", design, where, play=value, by=play.by, limit=limit, unseen=unseen)
    by = f", {play.by}" if play.by != "as drawn" else ""
    if play.value > most + slack:
        row = "loose-mesh" if standing.pair.most_backlash is not None else "loose-mesh, of a kit"
        return finding(row, design, where, lambda: _less_play(standing), compared=(play.value, most), by=by)
    if least > 0 and play.value < least - slack:
        row = "too-little-play"
    elif play.value > slack:
        return Held(where, f"play, {play.by},", play.value, most, standing.unit, least=False)
    else:
        row = "no-play, less than none" if play.value < -slack else "no-play"
    return finding(
        row,
        design,
        where,
        lambda: [set_apart(standing), chain(thinner_teeth(standing), other_play(standing))],
        compared=(play.value, least),
        by=by,
        usual=USUAL_PLAY * standing.scale,
        lacking=-play.value,
    )


def _less_play(standing: Standing) -> Iterator[Iterator[Way]]:
    mended = (
        thinner_teeth(standing)
        if standing.teeth_too_thin and not stands_far(standing)
        else set_apart(standing)
    )
    yield chain(mended, other_play(standing))


# -- tight spots -------------------------------------------------------------------------------------------
@CHECKS.row(
    "tight spots", "Do bores off centre leave play all round?", "tight-spot", of=meshes("tight spots")
)
def _tight_spots(design: Design, standing: Standing) -> Outcome:
    mesh, where, unit, play = standing.mesh, standing.where, standing.unit, standing.play
    assert mesh is not None and play is not None
    off = [design.of(name).bore_offset for name in standing.pair.gears]
    if max(off) == 0:
        return Held(where, "both bores are drawn in the middle of their gears")
    # at worst both gears turn their thick side to each other: the offsets add up
    slope = 2 * math.tan(math.radians(mesh.operating_pressure_angle))
    swing = 2 * slope * sum(off)
    if swing / 2 <= play.value + SLACK * standing.scale:
        return Held(where, "half the swing of the play", swing / 2, play.value, unit, least=False)
    two = min(off) > 0
    return finding(
        "tight-spot, of two" if two else "tight-spot",
        design,
        where if two else standing.pair.gears[off.index(max(off))],
        lambda: [_true_bores(standing, off), _play_for_swing(standing, swing)],
        compared=(swing / 2, max(play.value, 0.0)),
        first=off[0],
        second=off[1],
        off=max(off),
        swing=swing,
    )


def _true_bores(standing: Standing, offsets: list[float]) -> Iterator[Way]:
    names = [name for name, off in zip(standing.pair.gears, offsets) if off > 0]
    edit = {"gear": {name: {"bore_offset": 0.0} for name in names}}
    yield Way(f"Bore {' and '.join(names)} true", edit)


def _play_for_swing(standing: Standing, swing: float) -> Iterator[Way]:
    distance = standing.with_play(swing / 2 + 0.25 * USUAL_PLAY * standing.scale)
    if distance is not None:
        distance = up(distance, standing.unit, PLACES)
        edit = spaced(standing.design, *standing.pair.gears, distance)
        more = told(standing.design, edit)
        yield Way(f"Set the holes {said(distance, standing.unit)} apart{more}", edit)
