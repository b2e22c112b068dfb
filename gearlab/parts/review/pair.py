"""What can be wrong with two gears that are to mesh: size, distance, contact, undercut, phase."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..design import Design
from ..gear import Gear
from ..mesh import Mesh
from ..rolled import freeing_distance
from .finding import Finding, said
from .ledger import Check

LEAST_CONTACT, WANTED_CONTACT = 1.0, 1.2  # Mott, section 8-4: at least 1.2 (from memory)
MOST_PLAY = 0.12  # backlash that a teaching kit has at most [modules]
# opening that gives about 0.04 modules of play at 20 degrees [modules]
USUAL_OPENING = 0.055
MORE_TEETH = "Use more teeth, or longer ones: full depth in place of stub, a smaller pressure angle."
SLACK = 1e-6  # of a module: what rounding of a drawing leaves


def findings(design: Design) -> Iterator[Finding]:
    """Findings about every mesh of a design."""
    for one in design.gear:
        yield from _gear(design, one.name)
    for pair in design.mesh:
        if pair.driver in design.gears and pair.driven in design.gears:
            yield from _mesh(design, pair.driver, pair.driven)


def _gear(design: Design, name: str) -> Iterator[Finding]:
    gear = design.gears[name]
    if gear.undercut:
        least = math.ceil(gear.numbers["least_teeth"] - 1e-9)
        yield Finding(
            "undercut",
            "will trouble",
            name,
            f"{gear.teeth} teeth at {said(gear.pressure_angle)} deg are undercut.",
            f"From {least} teeth on they are whole.",
            "An undercut tooth is thin at its foot and lacks part of its flank: it breaks sooner and contact"
            " is shorter.",
            f"Use {least} teeth or more, or move the cutter out by {said(gear.numbers['least_shift'])}"
            " modules.",
            "rack generation; Mott, section 8-6",
        )


def _mesh(design: Design, driver: str, driven: str) -> Iterator[Finding]:
    one, two, unit = design.gears[driver], design.gears[driven], design.unit
    where = f"{driver} with {driven}"
    pitches = [_in(gear, gear.base_pitch, unit) for gear in (one, two)]
    if abs(pitches[0] - pitches[1]) > 1e-6 * pitches[0] or one.unit != two.unit:
        yield Finding(
            "teeth-do-not-match",
            "will not work",
            where,
            f"the base pitches are {said(pitches[0], unit)} and {said(pitches[1], unit)}.",
            "They must be equal.",
            f"At every tooth the gears get {said(abs(pitches[0] - pitches[1]), unit)} out of step: they"
            " click, then jam.",
            "Give both gears the same module or diametral pitch, and the same pressure angle.",
            "ISO 21771:2007",
        )
        return
    yield from _distance(design, where, one, two, driver, driven)


def _in(gear: Gear, value: float, unit: str) -> float:
    from gearlab.theory.units import convert

    return convert(value, gear.unit, unit)


def _distance(
    design: Design, where: str, one: Gear, two: Gear, driver: str, driven: str
) -> Iterator[Finding]:
    unit, distance = design.unit, design.distance(driver, driven)
    natural = Mesh(one, two).centre_distance
    tips, bases = (
        (one.outside_diameter + two.outside_diameter) / 2,
        (one.base_diameter + two.base_diameter) / 2,
    )
    if distance >= tips:
        yield Finding(
            "tips-do-not-reach",
            "will not work",
            where,
            f"the shafts stand {said(distance, unit)} apart.",
            f"The tips reach each other below {said(tips, unit)}.",
            "Nothing is driven.",
            f"Set the holes {said(natural, unit)} apart: half of module times the sum of the teeth.",
            "ISO 21771:2007",
        )
        return
    mesh = Mesh(one, two, centre_distance=distance) if distance > bases else None
    scale = one.scale
    if mesh is not None and "backlash" not in mesh.numbers:
        yield _into_roots(one, two, where, distance, unit)
        return
    if mesh is None or mesh.backlash < -SLACK * scale:
        yield _too_near(one, two, where, distance, unit)
        return
    yield from _contact(mesh, where, unit, natural)
    yield from _play(mesh, where, unit, natural)
    yield from _phase(design, mesh, where, driver, driven)
    eccentric = [design.of(name).bore_offset for name in (driver, driven)]
    # at worst both gears turn their thick side to each other: the offsets add up
    swing = 4 * sum(eccentric) * math.tan(math.radians(mesh.operating_pressure_angle))
    if swing / 2 > mesh.backlash + SLACK * scale and max(eccentric) > 0:
        both = min(eccentric) > 0
        off = (
            f"its bore is {said(max(eccentric), unit)} off centre"
            if not both
            else f"the bores are {said(eccentric[0], unit)} and {said(eccentric[1], unit)} off centre"
        )
        yield Finding(
            "tight-spot",
            "will trouble",
            where if both else (driver, driven)[eccentric.index(max(eccentric))],
            f"{off}, so the play swings by {said(swing, unit)}{' at worst' if both else ' in one turn'}.",
            f"The play is {said(mesh.backlash, unit)}; half the swing must be less.",
            "The teeth jam where both come nearest." if both else "At one place of every turn the teeth jam.",
            f"Bore {'them' if both else 'it'} true, or give more play.",
        )


def _into_roots(one: Gear, two: Gear, where: str, distance: float, unit: str) -> Finding:
    least = max(one.outside_diameter + two.root_diameter, one.root_diameter + two.outside_diameter) / 2
    return Finding(
        "shafts-too-near",
        "will not work",
        where,
        f"the shafts stand {said(distance, unit)} apart.",
        f"They need more than {said(least, unit)}.",
        "The tips run into the roots: the gears will not go on.",
        f"Set the holes {said(Mesh(one, two).centre_distance + USUAL_OPENING * one.scale, unit)} apart, "
        "or shorten the tips.",
        "geometry of the tip and root circles",
    )


def _too_near(one: Gear, two: Gear, where: str, distance: float, unit: str) -> Finding:
    natural = Mesh(one, two)
    more = (
        ", or a little more for play"
        if natural.backlash <= SLACK * one.scale
        else ", and thin the teeth less"
        if natural.backlash > MOST_PLAY * one.scale
        else ""
    )
    return Finding(
        "shafts-too-near",
        "will not work",
        where,
        f"the shafts stand {said(distance, unit)} apart.",
        f"They need at least {said(freeing_distance(natural), unit)}.",
        "The teeth are thicker than the spaces: the gears will not go on, or jam.",
        f"Set the holes {said(natural.centre_distance, unit)} apart{more}.",
        "ISO 21771:2007",
    )


def _stands_far(mesh: Mesh, natural: float) -> bool:
    return mesh.centre_distance > natural + SLACK * mesh.driver.scale


def _contact(mesh: Mesh, where: str, unit: str, natural: float) -> Iterator[Finding]:
    ratio = mesh.contact_ratio
    if mesh.interference:
        gears = mesh.driver, mesh.driven
        pinion = min(gears, key=lambda gear: gear.teeth)
        yield Finding(
            "interference",
            "will not work" if not pinion.undercut else "will trouble",
            where,
            "the tips of the larger gear reach below the smaller one's flanks.",
            "Contact must end before the line of action touches the base circle.",
            "The tips dig into the roots and the gears bind.",
            "Use more teeth on the pinion, fewer on the wheel, a larger pressure angle, or profile shift.",
            "Shigley, section 13-7",
        )
    # at their usual distance short teeth gain nothing by standing nearer
    far = _stands_far(mesh, natural)
    nearer = f"Bring the shafts nearer, towards {said(natural, unit)}" if far else ""
    if ratio < LEAST_CONTACT:
        yield Finding(
            "little-contact",
            "will not work",
            where,
            f"the contact ratio is {said(ratio)}.",
            "It must be above 1.",
            "One pair of teeth lets go before the next has taken hold.",
            f"{nearer}, or use more or longer teeth." if nearer else MORE_TEETH,
            "ISO 21771:2007",
        )
    elif ratio < WANTED_CONTACT:
        yield Finding(
            "little-contact",
            "will trouble",
            where,
            f"the contact ratio is {said(ratio)}.",
            f"It should be at least {said(WANTED_CONTACT)}.",
            "There is hardly anything in reserve when one pair hands over to the next: the motion stutters.",
            f"{nearer}." if nearer else MORE_TEETH,
            "Mott, section 8-4 (from memory)",
        )


def _play(mesh: Mesh, where: str, unit: str, natural: float) -> Iterator[Finding]:
    scale = mesh.driver.scale
    if mesh.backlash > MOST_PLAY * scale:
        yield Finding(
            "loose-mesh",
            "will trouble",
            where,
            f"the play is {said(mesh.backlash, unit)}.",
            f"A teaching kit has up to about {said(MOST_PLAY * scale, unit)}.",
            "The gears clatter, and the vent rattles in every gust.",
            (
                f"Bring the shafts nearer: without play they stand {said(freeing_distance(mesh), unit)}"
                " apart."
                if _stands_far(mesh, natural)
                else (
                    "Thin the teeth less: the shafts are no further apart than the usual"
                    f" {said(natural, unit)}."
                )
            ),
        )
    elif mesh.backlash <= SLACK * scale:
        yield Finding(
            "no-play",
            "worth knowing",
            where,
            "the teeth have no play at all.",
            f"About {said(0.04 * scale, unit)} is usual.",
            "Warm, dirty or a little off, they bind.",
            f"Thin the teeth, or set the shafts {said(USUAL_OPENING * scale, unit)} further apart.",
        )


def _phase(design: Design, mesh: Mesh, where: str, driver: str, driven: str) -> Iterator[Finding]:
    tables = design.of(driver), design.of(driven)
    if any(one.keyway_on is None for one in tables):
        return
    # tooth 0 stands over the keyway, or half a pitch beside it
    angles = [
        design.shaft_of(one.name).key_angle + (0.0 if one.keyway_on == "tooth" else 180.0 / one.teeth)
        for one in tables
    ]
    wanted = mesh.alignment(angles[0], design.line_angle(driver, driven))
    off = math.remainder(angles[1] - wanted, 360.0 / mesh.driven.teeth)
    if abs(off) > mesh.free_window() / 2 + 1e-6:
        yield Finding(
            "keys-do-not-line-up",
            "will not work",
            where,
            f"with both keys in place the teeth stand {said(abs(off))} deg off.",
            f"They are free within {said(mesh.free_window() / 2)} deg.",
            "Tooth meets tooth: the second gear cannot be pushed on.",
            f"Cut the keyway of {driven} over a {'space' if tables[1].keyway_on == 'tooth' else 'tooth'}, or"
            " leave one gear on a set screw.",
            "geometry of the tooth counts",
        )


CHECKS = (
    Check(
        "teeth and meshes",
        "Do the gears mesh, with play and contact enough?",
        (
            "undercut",
            "teeth-do-not-match",
            "tips-do-not-reach",
            "tight-spot",
            "shafts-too-near",
            "interference",
            "little-contact",
            "loose-mesh",
            "no-play",
            "keys-do-not-line-up",
        ),
        findings,
    ),
)
