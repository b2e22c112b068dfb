"""What can be wrong with two gears that are to mesh: where they stand, play, tight spots."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from itertools import chain

from ..design import Design
from ..gear import Gear
from ..rolled import freeing_distance
from .advice import Advised, Way
from .finding import PLACES, Held, Outcome, Unmade, both, said, up
from .ledger import Check
from .moves import spaced, told
from .refit import as_they_stand, driver_first, other_play, set_apart, stands_far, thinner_teeth
from .standings import SLACK, USUAL_PLAY, Standing, standings

RING_OVER_PINION = 10  # teeth, at full depth and 20 degrees (common practice)


def of_meshes(
    what: str, look: Callable[[Standing], Iterator[Outcome]], turning: bool = True
) -> Callable[[Design], Iterator[Outcome]]:
    """A look at every mesh of a design; not made where the teeth do not fit each other, or do not turn.

    turning: whether it takes gears whose teeth find room where they stand.
    """

    def looked(design: Design) -> Iterator[Outcome]:
        for standing in standings(design):
            if standing.mismatch:
                why, give = "the teeth do not fit each other", "give both gears the same teeth first"
                yield Unmade(standing.where, what, why, give)
            elif turning and not _turns(standing):
                why, give = "the gears do not turn where they stand", "set the spacing of their holes first"
                yield Unmade(standing.where, what, why, give)
            else:
                yield from look(standing)

    return looked


def _turns(standing: Standing) -> bool:
    play = standing.play
    return standing.mesh is not None and play is not None and play.value >= -standing.rounded - play.unseen


def _by(standing: Standing) -> str:
    return ", measured" if standing.spacing.by == "measured" else ""


# -- where they stand --------------------------------------------------------------------------------------
def _reach(standing: Standing) -> Iterator[Outcome]:
    distance, unit = standing.spacing.value, standing.unit
    tip, other = (gear.tooth.tip_radius * standing.scale for gear in standing.gears)
    limit = other - tip if standing.internal else tip + other
    if standing.sense * distance < standing.sense * limit - SLACK * standing.scale:
        yield Held(
            standing.where,
            f"the tips reach each other; the spacing {standing.spacing.by}",
            distance,
            limit,
            unit,
            least=standing.internal,
        )
        return
    apart, reach = both(distance, limit, unit)
    yield Advised(
        "tips-do-not-reach",
        "will not work",
        standing.where,
        f"the shafts stand {apart} apart{_by(standing)}.",
        f"The tips reach each other {'above' if standing.internal else 'below'} {reach}.",
        "Nothing is driven.",
        "ISO 21771:2007",
        design=standing.design,
        ways=lambda: as_they_stand(standing),
        otherwise="Set the holes half of module times the sum of the teeth apart.",
    )


def _near(standing: Standing) -> Iterator[Outcome]:
    """Whether the teeth find room: a pair that does not reach is said already."""
    play, slack = standing.play, standing.rounded
    tip, other = (gear.tooth.tip_radius * standing.scale for gear in standing.gears)
    if standing.sense * standing.spacing.value >= standing.sense * (other + standing.sense * tip):
        yield Held(standing.where, "the teeth are clear of each other")
        return
    if play is not None and play.value >= -slack:
        yield Held(
            standing.where, f"room for the teeth, {play.by}: play", max(play.value, 0.0), 0.0, standing.unit
        )
    elif play is not None and play.value >= -slack - play.unseen:
        yield Unmade(
            standing.where,
            "room for the teeth",
            f"the play comes to {said(play.value, standing.unit)}, and what was measured leaves"
            f" {said(play.unseen, standing.unit)} of it open",
            "measure the spacing with a finer instrument, or the play itself",
        )
    elif standing.internal:
        yield _out_of_ring(standing)
    elif _on_roots_anyway(standing):
        yield Unmade(
            standing.where,
            "room for the teeth",
            "the tips stand on the roots at the spacing that the teeth call for",
            "cut teeth that leave room below the tips first",
        )
    elif play is None and standing.spacing.value > sum(gear.base_diameter for gear in standing.gears) / 2:
        yield _into_roots(standing)
    else:
        yield _too_near(standing)


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


def _into_roots(standing: Standing) -> Outcome:
    (driver, driven), unit = standing.gears, standing.unit
    least = (
        max(driver.outside_diameter + driven.root_diameter, driver.root_diameter + driven.outside_diameter)
        / 2
    )
    apart, needed = both(standing.spacing.value, least, unit)
    return Advised(
        "shafts-too-near",
        "will not work",
        standing.where,
        f"the shafts stand {apart} apart{_by(standing)}.",
        f"They need more than {needed}.",
        "The tips run into the roots: the gears will not go on.",
        "geometry of the tip and root circles",
        design=standing.design,
        ways=lambda: as_they_stand(standing),
        otherwise="Set the holes further apart, or shorten the tips.",
    )


def _too_near(standing: Standing) -> Outcome:
    natural = standing.natural
    assert natural is not None
    apart, needed = both(standing.spacing.value, freeing_distance(natural), standing.unit)
    return Advised(
        "shafts-too-near",
        "will not work",
        standing.where,
        f"the shafts stand {apart} apart{_by(standing)}.",
        f"They need at least {needed}.",
        "The teeth are thicker than the spaces: the gears will not go on, or jam.",
        "ISO 21771:2007",
        design=standing.design,
        ways=lambda: as_they_stand(standing),
        otherwise="Set the holes further apart.",
    )


def _out_of_ring(standing: Standing) -> Outcome:
    usual = standing.natural.centre_distance if standing.natural is not None else math.nan
    apart, needed = both(standing.spacing.value, usual, standing.unit)
    if abs(standing.spacing.value - usual) <= SLACK * standing.scale:
        return _fouled(standing, apart)
    return Advised(
        "pinion-into-ring",
        "will not work",
        standing.where,
        f"the shafts stand {apart} apart{_by(standing)}.",
        f"In a ring of such teeth the pinion stands about {needed} from its middle.",
        "Further out its teeth are pressed into those of the ring.",
        "geometry of the tip and root circles; rolled on the cut teeth",
        design=standing.design,
        ways=lambda: as_they_stand(standing),
        otherwise="Set the pinion nearer to the middle of its ring, or take fewer teeth.",
    )


def _fouled(standing: Standing, apart: str) -> Outcome:
    """A pinion nearly as large as its ring: however right the spacing, the tips run into each other."""
    pinion, ring = sorted(gear.teeth for gear in standing.gears)
    return Advised(
        "pinion-into-ring",
        "will not work",
        standing.where,
        f"the shafts stand right, {apart} apart, but {pinion} teeth foul those of a ring of {ring}.",
        f"A ring has some {RING_OVER_PINION} teeth more than its pinion, at full depth.",
        "The tips run into each other away from the line of centres.",
        "common practice; rolled on the cut teeth",
        design=standing.design,
        ways=lambda: [],
        otherwise=(
            f"Take a pinion of at most {ring - RING_OVER_PINION} teeth, or a ring of at least"
            f" {pinion + RING_OVER_PINION}, and set the shafts for it."
            if ring - RING_OVER_PINION >= Gear.fewest_teeth
            else f"Take a ring of at least {pinion + RING_OVER_PINION} teeth, and set the shafts for it."
        ),
    )


# -- play --------------------------------------------------------------------------------------------------
def _play(standing: Standing) -> Iterator[Outcome]:
    play, unit, scale = standing.play, standing.unit, standing.scale
    assert play is not None
    least, most, slack = standing.least_play, standing.most_play, SLACK * standing.scale
    for over, limit in ((play.value - most, most), (least - play.value, least)):
        if slack < over <= play.unseen:
            yield Unmade(
                standing.where,
                "play",
                f"{said(play.value, unit)} {play.by} is as near to the limit of {said(limit, unit)} as the"
                f" instrument can tell ({said(play.unseen, unit)})",
                "measure the play itself, or with a finer instrument",
            )
            return
    if play.value > most + slack:
        value, limit_told = both(play.value, most, unit)
        wanted = standing.pair.most_backlash is not None
        yield Advised(
            "loose-mesh",
            "will trouble",
            standing.where,
            f"the play is {value}{_of_play(standing)}.",
            f"At most {limit_told} is wanted." if wanted else f"A teaching kit has up to about {limit_told}.",
            "The gears clatter, and what they drive rattles at every turn of the load.",
            design=standing.design,
            ways=lambda: _less_play(standing),
            otherwise="Bring the shafts nearer, or thin the teeth less.",
        )
    elif least > 0 and play.value < least - slack:
        value, limit_told = both(play.value, least, unit)
        yield _no_play(
            standing,
            "too-little-play",
            "will trouble",
            f"the play is {value}{_of_play(standing)}.",
            f"At least {limit_told} is wanted.",
        )
    elif play.value <= slack:
        about = f"About {said(USUAL_PLAY * scale, unit)} is usual."
        lacking = (
            f": {said(-play.value, unit)} are lacking, no more than coordinates are rounded by"
            if play.value < -slack
            else ""
        )
        yield _no_play(
            standing, "no-play", "worth knowing", f"the teeth have no play at all{lacking}.", about
        )
    else:
        yield Held(standing.where, f"play, {play.by},", play.value, most, unit, least=False)


def _of_play(standing: Standing) -> str:
    play = standing.play
    return f", {play.by}" if play is not None and play.by != "as drawn" else ""


def _no_play(standing: Standing, name: str, grade: str, what: str, limit: str) -> Outcome:
    return Advised(
        name,
        grade,
        standing.where,
        what,
        limit,
        "Warm, dirty or a little off, they bind.",
        design=standing.design,
        ways=lambda: [set_apart(standing), chain(thinner_teeth(standing), other_play(standing))],
        otherwise="Thin the teeth, or set the shafts a little further apart.",
    )


def _less_play(standing: Standing) -> Iterator[Iterator[Way]]:
    mended = (
        thinner_teeth(standing)
        if standing.teeth_too_thin and not stands_far(standing)
        else set_apart(standing)
    )
    yield chain(mended, other_play(standing))


# -- contact -----------------------------------------------------------------------------------------------
# -- tight spots -------------------------------------------------------------------------------------------
def _tight_spots(standing: Standing) -> Iterator[Outcome]:
    mesh, design, unit, play = standing.mesh, standing.design, standing.unit, standing.play
    assert mesh is not None and play is not None
    eccentric = [design.of(name).bore_offset for name in driver_first(standing)]
    # at worst both gears turn their thick side to each other: the offsets add up
    slope = 2 * math.tan(math.radians(mesh.operating_pressure_angle))
    swing = 2 * slope * sum(eccentric)
    if max(eccentric) == 0 or swing / 2 <= play.value + SLACK * standing.scale:
        if max(eccentric) == 0:
            yield Held(standing.where, "both bores are drawn in the middle of their gears")
        else:
            yield Held(standing.where, "half the swing of the play", swing / 2, play.value, unit, least=False)
        return
    two = min(eccentric) > 0
    worse = eccentric.index(max(eccentric))
    off = (
        f"the bores are {said(eccentric[0], unit)} and {said(eccentric[1], unit)} off centre"
        if two
        else f"its bore is {said(max(eccentric), unit)} off centre"
    )
    half, limit = both(swing / 2, max(play.value, 0.0), unit)
    yield Advised(
        "tight-spot",
        "will trouble",
        standing.where if two else driver_first(standing)[worse],
        f"{off}, so the play swings by {said(swing, unit)}{' at worst' if two else ' in one turn'}.",
        f"The play is {limit}; half the swing, {half}, must be less.",
        "The teeth jam where both come nearest." if two else "At one place of every turn the teeth jam.",
        "geometry; ISO 21771:2007",
        design=design,
        ways=lambda: [_true_bores(standing, eccentric), _play_for_swing(standing, swing)],
        otherwise=f"Bore {'them' if two else 'it'} true, or give more play.",
    )


def _true_bores(standing: Standing, eccentric: list[float]) -> Iterator[Way]:
    names = [name for name, off in zip(driver_first(standing), eccentric) if off > 0]
    edit = {"gear": {name: {"bore_offset": 0.0} for name in names}}
    yield Way(f"Bore {' and '.join(names)} true", edit)


def _play_for_swing(standing: Standing, swing: float) -> Iterator[Way]:
    distance = standing.with_play(swing / 2 + 0.25 * USUAL_PLAY * standing.scale)
    if distance is not None:
        distance = up(distance, standing.unit, PLACES)
        edit = spaced(standing.design, *driver_first(standing), distance)
        more = told(standing.design, edit)
        yield Way(f"Set the holes {said(distance, standing.unit)} apart{more}", edit)


# -- phase of the keys -------------------------------------------------------------------------------------
CHECKS = (
    Check(
        "reach",
        "Do the teeth of each mesh reach each other?",
        ("tips-do-not-reach",),
        of_meshes("reach", _reach, False),
    ),
    Check(
        "room for the teeth",
        "Are the shafts of each mesh far enough apart?",
        ("shafts-too-near", "pinion-into-ring"),
        of_meshes("room for the teeth", _near, False),
    ),
    Check(
        "play",
        "Have the teeth the play that is wanted?",
        ("loose-mesh", "too-little-play", "no-play"),
        of_meshes("play", _play),
    ),
    Check(
        "tight spots",
        "Do bores off centre leave play all round?",
        ("tight-spot",),
        of_meshes("tight spots", _tight_spots),
    ),
)
