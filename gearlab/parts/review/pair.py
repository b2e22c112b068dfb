"""What can be wrong with two gears that are to mesh: where they stand, play, contact, tight spots, phase."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from ..design import Design
from ..rolled import freeing_distance
from .advice import Advised, Way, together
from .finding import PLACES, Held, Outcome, Unmade, both, said, up
from .ledger import Check
from .moves import spaced, told
from .standings import SLACK, USUAL_PLAY, Standing, standings

LEAST_CONTACT, WANTED_CONTACT = 1.0, 1.2  # Mott, section 8-4: at least 1.2 (from memory)
_MORE_TEETH = "Use more teeth, or longer ones: full depth in place of stub, a smaller pressure angle."


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
    return (
        standing.mesh is not None and play is not None and play.value >= -SLACK * standing.scale - play.unseen
    )


# -- where they stand --------------------------------------------------------------------------------------
def _reach(standing: Standing) -> Iterator[Outcome]:
    distance, unit = standing.spacing.value, standing.unit
    one, two = (gear.tooth.tip_radius * standing.scale for gear in standing.gears)
    limit = two - one if standing.internal else one + two
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
        ways=lambda: [_set_apart(standing)],
        otherwise="Set the holes half of module times the sum of the teeth apart.",
    )


def _by(standing: Standing) -> str:
    return ", measured" if standing.spacing.by == "measured" else ""


def _set_apart(standing: Standing) -> Iterator[Way]:
    """The holes at the spacing with the wanted play; where the teeth are too thin for it, thicker ones too."""
    distance, design = standing.wanted_distance, standing.design
    if distance is None:
        return
    thinned = _thinned(standing, standing.wanted_play) if standing.teeth_too_thin else None
    edit = spaced(design, *_driver_first(standing), distance)
    if thinned is not None:
        more = f", and thin the teeth less: {said(thinned, standing.unit)} each"
        edit = together(edit, _thinning(standing, thinned))
    else:
        more = ""
    yield Way(f"Set the holes {said(distance, standing.unit)} apart{more}{told(design, edit)}", edit)


def _driver_first(standing: Standing) -> tuple[str, str]:
    return standing.pair.driver, standing.pair.driven


def _thinned(standing: Standing, play: float) -> float | None:
    """How much thinner each tooth is to be for some play where the teeth call for [unit]; None if it cannot.

    All play beyond that of the thinning comes from elsewhere, and stays.
    """
    if standing.natural is None:
        return None
    now = [gear.tooth_thinning for gear in standing.gears]
    each = (sum(now) + play - standing.natural.backlash - standing.thinner.value) / 2
    return round(each, 4 if standing.unit == "mm" else 5) if each >= 0 else None


def _thinning(standing: Standing, each: float) -> dict:
    return {"gear": {name: {"tooth_thinning": each} for name in standing.names}}


def _near(standing: Standing) -> Iterator[Outcome]:
    """Whether the teeth find room: a pair that does not reach is said already."""
    play, slack = standing.play, SLACK * standing.scale
    if not standing.internal and standing.spacing.value >= sum(
        gear.tooth.tip_radius * standing.scale for gear in standing.gears
    ):
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
    elif play is None and standing.spacing.value > sum(gear.base_diameter for gear in standing.gears) / 2:
        yield _into_roots(standing)
    else:
        yield _too_near(standing)


def _into_roots(standing: Standing) -> Outcome:
    (one, two), unit = standing.gears, standing.unit
    least = max(one.outside_diameter + two.root_diameter, one.root_diameter + two.outside_diameter) / 2  # type: ignore[union-attr]
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
        ways=lambda: [_set_apart(standing)],
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
        ways=lambda: [_set_apart(standing)],
        otherwise="Set the holes further apart.",
    )


def _out_of_ring(standing: Standing) -> Outcome:
    usual = standing.natural.centre_distance if standing.natural is not None else math.nan
    apart, needed = both(standing.spacing.value, usual, standing.unit)
    return Advised(
        "pinion-into-ring",
        "will not work",
        standing.where,
        f"the shafts stand {apart} apart{_by(standing)}.",
        f"In a ring of such teeth the pinion stands about {needed} from its middle.",
        "Further out its teeth are pressed into those of the ring.",
        "geometry of the tip and root circles; rolled on the cut teeth",
        design=standing.design,
        ways=lambda: [_set_apart(standing)],
        otherwise="Set the pinion nearer to the middle of its ring, or take fewer teeth.",
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
    value, limit = both(play.value, most, unit)
    if play.value > most + slack:
        wanted = standing.pair.most_backlash is not None
        yield Advised(
            "loose-mesh",
            "will trouble",
            standing.where,
            f"the play is {value}{_of_play(standing)}.",
            f"At most {limit} is wanted." if wanted else f"A teaching kit has up to about {limit}.",
            "The gears clatter, and what they drive rattles at every turn of the load.",
            design=standing.design,
            ways=lambda: _less_play(standing),
            otherwise="Bring the shafts nearer, or thin the teeth less.",
        )
    elif play.value < least - slack:
        value, limit = both(play.value, least, unit)
        yield _no_play(
            standing,
            "too-little-play",
            "will trouble",
            f"the play is {value}{_of_play(standing)}.",
            f"At least {limit} is wanted.",
        )
    elif play.value <= slack:
        about = f"About {said(USUAL_PLAY * scale, unit)} is usual."
        yield _no_play(standing, "no-play", "worth knowing", "the teeth have no play at all.", about)
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
        ways=lambda: [_set_apart(standing), _thinner(standing)],
        otherwise="Thin the teeth, or set the shafts a little further apart.",
    )


def _less_play(standing: Standing) -> Iterator[Iterator[Way]]:
    yield (
        _thinner(standing) if standing.teeth_too_thin and not _stands_far(standing) else _set_apart(standing)
    )


def _thinner(standing: Standing) -> Iterator[Way]:
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
        f"Thin the teeth {words}: {said(each, standing.unit)} each, the shafts stand"
        f" {said(standing.spacing.value, standing.unit)} apart"
    )
    yield Way(says, _thinning(standing, each))


def _stands_far(standing: Standing) -> bool:
    natural = standing.natural
    return (
        natural is not None
        and standing.sense * (standing.spacing.value - natural.centre_distance) > SLACK * standing.scale
    )


# -- contact -----------------------------------------------------------------------------------------------
def _contact(standing: Standing) -> Iterator[Outcome]:
    mesh = standing.mesh
    assert mesh is not None
    ratio = mesh.contact_ratio
    if ratio >= WANTED_CONTACT:
        by = "measured on the cut teeth" if "contact_ratio" in mesh.measured else "by formula"
        yield Held(
            standing.where, f"contact ratio, {by}, spacing {standing.spacing.by},", ratio, WANTED_CONTACT
        )
        return
    hardly = ratio >= LEAST_CONTACT
    value, limit = both(ratio, WANTED_CONTACT if hardly else LEAST_CONTACT)
    yield Advised(
        "little-contact",
        "will trouble" if hardly else "will not work",
        standing.where,
        f"the contact ratio is {value}.",
        f"It should be at least {limit}." if hardly else f"It must be above {limit}.",
        "There is hardly anything in reserve when one pair hands over to the next: the motion stutters."
        if hardly
        else "One pair of teeth lets go before the next has taken hold.",
        "Mott, section 8-4 (from memory)" if hardly else "ISO 21771:2007",
        design=standing.design,
        ways=lambda: _more_contact(standing),
        otherwise=_MORE_TEETH,
    )


def _more_contact(standing: Standing) -> Iterator[Iterator[Way] | list[Way]]:
    if _stands_far(standing):
        yield _set_apart(standing)
    yield _other_teeth(standing)


def _other_teeth(standing: Standing) -> Iterator[Way]:
    """Longer teeth where they are short, and then more of them, in the same ratio."""
    names = standing.names
    if any(gear.tooth_system == "stub" for gear in standing.gears):
        longer = {"gear": {name: {"tooth_system": "full depth"} for name in names}}
        yield from reset(standing, "Cut full-depth teeth on both gears", longer)
    for factor in (1.25, 1.5, 2.0, 2.5, 3.0):
        teeth = [gear.teeth * factor for gear in standing.gears]
        if any(count != round(count) for count in teeth):
            continue
        more = {"gear": {name: {"teeth": round(count)} for name, count in zip(names, teeth)}}
        says = f"Take {round(teeth[0])} and {round(teeth[1])} teeth"
        for tooth_system in ("", "full depth"):
            named = {"gear": {name: {"tooth_system": tooth_system} for name in names}} if tooth_system else {}
            yield from reset(
                standing, f"{says}{f', {tooth_system}' if tooth_system else ''}", together(more, named)
            )


def reset(standing: Standing, says: str, edit: dict) -> Iterator[Way]:
    """Gears changed, and their holes set to what the new teeth call for."""
    design = standing.design
    try:
        other = design.with_(**edit) if design._text is None else type(design)(**design.tables).with_(**edit)
        new = next(one for one in standings(other) if one.where == standing.where)
        distance = new.wanted_distance
    except (ValueError, StopIteration):
        return
    if distance is None:
        return
    moved = spaced(other, standing.pair.driver, standing.pair.driven, distance)
    whole = together(edit, moved)
    yield Way(f"{says}, and set the holes {said(distance, standing.unit)} apart{told(design, whole)}", whole)


def _interference(standing: Standing) -> Iterator[Outcome]:
    mesh = standing.mesh
    assert mesh is not None
    if not mesh.interference:
        yield Held(standing.where, "the tips stay on the flanks of the mate")
        return
    pinion = min(standing.gears, key=lambda gear: gear.teeth)
    larger, smaller = ("ring", "pinion") if standing.internal else ("larger gear", "smaller one")
    yield Advised(
        "interference",
        "will not work" if not pinion.undercut else "will trouble",
        standing.where,
        f"the tips of the {larger} reach below the {smaller}'s flanks.",
        "Contact must end before the line of action touches the base circle.",
        "The tips dig into the roots and the gears bind.",
        "Shigley, section 13-7",
        design=standing.design,
        ways=lambda: _no_interference(standing),
        otherwise="Use more teeth on the pinion, fewer on the wheel, a larger pressure angle, or profile shift.",
    )


def _no_interference(standing: Standing) -> Iterator[Iterator[Way]]:
    yield shifted(standing, min(range(2), key=lambda side: standing.gears[side].teeth))
    yield _more_teeth(standing)


def shifted(standing: Standing, side: int) -> Iterator[Way]:
    """The cutter moved out on one of them, by steps of 0.05 modules, and the holes set for it."""
    if standing.internal:
        return
    name, gear = standing.names[side], standing.gears[side]
    least = max(gear.numbers["least_shift"], 0.0)
    for step in range(7):
        shift = round(math.ceil(least / 0.05 - 1e-9) * 0.05 + 0.05 * step, 2)
        if shift > gear.profile_shift:
            edit = {"gear": {name: {"profile_shift": shift}}}
            yield from reset(standing, f"Move the cutter out by {said(shift)} modules on {name}", edit)


def _more_teeth(standing: Standing) -> Iterator[Way]:
    """More teeth on both, in the same ratio, until the pinion's are whole."""
    one, two = (gear.teeth for gear in standing.gears)
    common = math.gcd(one, two)
    for factor in range(common + 1, 4 * common + 1):
        counts = one // common * factor, two // common * factor
        if min(counts) <= 1.02 * min(one, two):
            continue
        edit = {"gear": {name: {"teeth": count} for name, count in zip(standing.names, counts)}}
        yield from reset(standing, f"Take {counts[0]} and {counts[1]} teeth", edit)


# -- tight spots -------------------------------------------------------------------------------------------
def _tight_spots(standing: Standing) -> Iterator[Outcome]:
    mesh, design, unit, play = standing.mesh, standing.design, standing.unit, standing.play
    assert mesh is not None and play is not None
    eccentric = [design.of(name).bore_offset for name in _driver_first(standing)]
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
        standing.where if two else _driver_first(standing)[worse],
        f"{off}, so the play swings by {said(swing, unit)}{' at worst' if two else ' in one turn'}.",
        f"The play is {limit}; half the swing, {half}, must be less.",
        "The teeth jam where both come nearest." if two else "At one place of every turn the teeth jam.",
        "geometry; ISO 21771:2007",
        design=design,
        ways=lambda: [_true_bores(standing, eccentric), _play_for_swing(standing, swing)],
        otherwise=f"Bore {'them' if two else 'it'} true, or give more play.",
    )


def _true_bores(standing: Standing, eccentric: list[float]) -> Iterator[Way]:
    names = [name for name, off in zip(_driver_first(standing), eccentric) if off > 0]
    edit = {"gear": {name: {"bore_offset": 0.0} for name in names}}
    yield Way(f"Bore {' and '.join(names)} true", edit)


def _play_for_swing(standing: Standing, swing: float) -> Iterator[Way]:
    distance = standing.with_play(swing / 2 + 0.25 * USUAL_PLAY * standing.scale)
    if distance is not None:
        distance = up(distance, standing.unit, PLACES)
        edit = spaced(standing.design, *_driver_first(standing), distance)
        more = told(standing.design, edit)
        yield Way(f"Set the holes {said(distance, standing.unit)} apart{more}", edit)


# -- phase of the keys -------------------------------------------------------------------------------------
def _phase(standing: Standing) -> Iterator[Outcome]:
    design, mesh = standing.design, standing.mesh
    assert mesh is not None
    driver, driven = _driver_first(standing)
    tables = design.of(driver), design.of(driven)
    if not any(table.keyway_depth > 0 or table.keyway_on for table in tables):
        return  # gears on screws are turned as they have to be
    unsaid = [table.name for table in tables if table.keyway_depth > 0 and table.keyway_on is None]
    if unsaid and all(table.keyway_depth > 0 or table.keyway_on for table in tables):
        yield Unmade(
            standing.where,
            "how the keys line up",
            f"the file does not say over what the keyway of {' and '.join(unsaid)} is cut",
            'give keyway_on = "tooth" or "space"',
        )
        return
    if any(table.keyway_on is None for table in tables):
        yield Held(standing.where, "one of the two is held without a key, and turned as it has to be")
        return
    # tooth 0 stands over the keyway, or half a pitch beside it
    angles = [
        design.shaft_of(table.name).key_angle + (0.0 if table.keyway_on == "tooth" else 180.0 / table.teeth)
        for table in tables
    ]
    if standing.names[0] != driver:  # the ring drives: its pinion is lined up with it
        angles.reverse()
    wanted = mesh.alignment(angles[0], design.line_angle(*standing.names))
    pitch = 360.0 / mesh.driven.teeth
    off, free = math.remainder(angles[1] - wanted, pitch), mesh.free_window() / 2
    if abs(off) <= free + 1e-6:
        yield Held(
            standing.where,
            "with both keys in place the teeth stand off by",
            abs(off),
            free,
            "deg",
            least=False,
        )
        return
    value, limit = both(abs(off), free, "deg")
    space = "space" if tables[1].keyway_on == "tooth" else "tooth"
    turned = (design.shaft_of(standing.names[1]).key_angle - off) % 360
    yield Advised(
        "keys-do-not-line-up",
        "will not work",
        standing.where,
        f"with both keys in place the teeth stand {value} off.",
        f"They are free within {limit}.",
        "Tooth meets tooth: the second gear cannot be pushed on.",
        "geometry of the tooth counts",
        design=design,
        ways=lambda: [
            [Way(f"Cut the keyway of {driven} over a {space}", {"gear": {driven: {"keyway_on": space}}})],
            [
                Way(
                    f"Put the keyway of shaft {design.of(standing.names[1]).shaft} at {said(round(turned, 3))} deg",
                    {"shaft": {design.of(standing.names[1]).shaft: {"key_angle": round(turned, 4)}}},
                )
            ],
        ],
        otherwise=f"Cut the keyway of {driven} elsewhere, or leave one gear on a set screw.",
    )


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
        "contact",
        "Does a pair of teeth take hold before the last lets go?",
        ("little-contact",),
        of_meshes("contact", _contact),
    ),
    Check(
        "interference",
        "Do the tips stay on the flanks?",
        ("interference",),
        of_meshes("interference", _interference),
    ),
    Check(
        "tight spots",
        "Do bores off centre leave play all round?",
        ("tight-spot",),
        of_meshes("tight spots", _tight_spots),
    ),
    Check(
        "phase of keys",
        "Do the teeth line up with the keys in place?",
        ("keys-do-not-line-up",),
        of_meshes("how the keys line up", _phase),
    ),
)
