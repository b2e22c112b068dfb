"""What can be wrong with the drive as a whole.

Ratio, direction, rings, load, names.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from gearlab.theory.functions import common_factor_number

from ..design import Design
from ..load import Load
from ..mesh import Mesh
from ..naming import read_mounted
from ..tolerances import EXPANSION, warmed
from .finding import Finding, said
from .ledger import Check


def findings(design: Design) -> Iterator[Finding]:
    """Findings about the whole drive."""
    yield from _ring(design)
    yield from _wanted(design)
    yield from _load(design)
    yield from _warm(design)
    yield from _names(design)


def _ring(design: Design) -> Iterator[Finding]:
    """A closed ring with an odd number of external meshes: some shaft would have to turn both ways."""
    side: dict[str, int] = {}
    links = [(design.of(pair.driver).shaft, design.of(pair.driven).shaft) for pair in design.mesh]
    for start in (one for link in links for one in link):
        if start in side:
            continue
        side[start], waiting = 1, [start]
        while waiting:
            here = waiting.pop()
            for one, two in links:
                if here not in (one, two):
                    continue
                other = two if here == one else one
                if other not in side:
                    side[other] = -side[here]
                    waiting.append(other)
                elif side[other] == side[here]:
                    yield Finding(
                        "odd-ring-locks",
                        "will not work",
                        "the meshes",
                        f"shafts {one} and {two} close a ring with an odd number of gears.",
                        "A ring of external gears needs an even number.",
                        "Each mesh turns the direction round: the last gear would have to turn against the"
                        " first. The ring locks.",
                        "Open the ring, or put another gear in.",
                        "arithmetic of the meshes",
                    )
                    return


def _wanted(design: Design) -> Iterator[Finding]:
    head, found = design.design, design.turns
    if not found or not design.mesh:
        return
    last = found.get(design.of(design.mesh[-1].driven).shaft)
    if last is None:
        return
    ratio = abs(1 / last)
    if head.ratio is not None and abs(ratio / head.ratio - 1) > head.ratio_within + 1e-12:
        upside = abs(1 / ratio / head.ratio - 1) <= head.ratio_within
        yield Finding(
            "ratio-missed",
            "will not work",
            "the train",
            f"its ratio, driver turns per last turn, comes out as {said(ratio)}.",
            f"Wanted: {said(head.ratio)} within {said(100 * head.ratio_within)} %.",
            "The output runs too fast or too slow."
            + (" Driver and driven gear are exchanged." if upside else ""),
            "Change a tooth count; the ratio is driven teeth over driver teeth, stage by stage.",
            "Mott, section 8-7",
        )
    if head.direction is not None and (last > 0) != (head.direction == "same"):
        yield Finding(
            "wrong-direction",
            "will not work",
            "the train",
            f"the last shaft turns {'with' if last > 0 else 'against'} the first.",
            f"Wanted: the {head.direction} direction.",
            "The vent closes when it should open.",
            "Add or take away one mesh, such as an idler.",
            "Mott, section 8-7",
        )
    if head.hunting:
        for pair in design.mesh:
            one, two = design.of(pair.driver).teeth, design.of(pair.driven).teeth
            factor = round(common_factor_number(one, two))
            if factor > 1:
                yield Finding(
                    "common-factor",
                    "will trouble",
                    f"{pair.driver} with {pair.driven}",
                    f"{one} and {two} teeth share the factor {factor}.",
                    "A hunting pair shares none.",
                    f"The same two teeth meet again after {two // factor} turns, and wear each other.",
                    "Give one gear a tooth more or less.",
                    "arithmetic of the counts",
                )


def _load(design: Design) -> Iterator[Finding]:
    load, unit = design.load, design.unit
    if load is None:
        return
    carried = design.torques
    for one in design.gear:
        torque = carried.get(one.shaft)
        if torque is None or one.allowable_stress is None or design.gears[one.name].unit != unit:
            continue
        factors = {"running": 1.0}
        if load.stall_torque is not None:
            most = load.stall_torque if load.slip_torque is None else min(load.stall_torque, load.slip_torque)
            factors["stall"] = most / load.torque
        for kind, factor in factors.items():
            try:
                stress = bending_stress(design, one, torque * factor)
            except ValueError:
                break  # teeth that cannot be measured: nothing is said of their strength
            if stress > one.allowable_stress:
                word = "MPa" if unit == "mm" else "psi"
                name, grade = (
                    ("teeth-overloaded", "will not work")
                    if kind == "running"
                    else ("teeth-break-at-stall", "will trouble")
                )
                yield Finding(
                    name,
                    grade,
                    one.name,
                    f"the bending stress comes out as about {said(stress)}"
                    f" {word}{'' if kind == 'running' else ' at stall'}.",
                    f"The material may bear {said(one.allowable_stress)} {word}.",
                    "Teeth break" + ("." if kind == "running" else " when the vent jams at its stop."),
                    "Use larger teeth, a wider face or a stronger material"
                    + ("." if kind == "running" else ", or let something slip first."),
                    "W. Lewis, 1893; an estimate for teaching",
                )
                break
    if load.lifts and not load.brake:
        yield Finding(
            "load-falls-back",
            "will trouble",
            "the drive",
            "it lifts a load, and no brake or pawl is stated.",
            "Spur gears and racks can be driven backwards.",
            "When the crank is let go the vent falls, and the crank strikes.",
            "Add a brake, a pawl or a self-locking stage; prop the vent before hands go near.",
            "common practice; local code",
        )


def bending_stress(design: Design, one, torque: float) -> float:
    """Bending stress of a gear's teeth by the plain beam formula [MPa, or psi]; an estimate for teaching.

    The form factor is the published one where the table holds such teeth, else the one measured on the cut
    tooth.
    """
    gear = design.gears[one.name]
    published = (
        gear.tooth_system == "full depth"
        and gear.pressure_angle in (14.5, 20.0)
        and gear.profile_shift == 0
        and gear.teeth >= 12
    )
    plain = replace(gear, tooth_thinning=0.0, tip_shortening=0.0)
    return (
        Load(Mesh(plain, plain), torque)
        .bending(face_width=one.face_width, form="table" if published else "measured")
        .stress
    )


def _warm(design: Design) -> Iterator[Finding]:
    load, material = design.load, design.plate.material if design.plate else ""
    if load is None or load.warming is None or material not in EXPANSION:
        return
    for pair in design.mesh:
        one, two = design.gears[pair.driver], design.gears[pair.driven]
        distance = design.distance(pair.driver, pair.driven)
        try:
            cold = Mesh(one, two, centre_distance=distance)
            change = warmed(cold, load.warming, plate=material)
            play = change.backlash
        except ValueError:
            continue
        if cold.backlash >= 0 > play + 1e-9:
            yield Finding(
                "plate-jams-the-mesh",
                "will trouble",
                f"{pair.driver} with {pair.driven}",
                f"at {said(load.warming)} K the plate changes the play to {said(play, design.unit)}.",
                "It must stay above 0.",
                f"The gears jam when the house is {'cold' if load.warming < 0 else 'hot'}.",
                f"Give {said(-play, design.unit)} more play.",
                "thermal expansion from memory of handbook tables",
            )


def _names(design: Design) -> Iterator[Finding]:
    for one in design.gear:
        try:
            told = read_mounted(one.name)
        except ValueError:
            continue
        gear = design.gears[one.name]
        is_so = {
            "teeth": one.teeth,
            "module": gear.module,
            "diametral_pitch": gear.diametral_pitch,
            "bore": one.bore,
            "length": design.overall_length(one.name),
        }
        wrong = [
            (word, value, is_so[word])
            for word, value in told.items()
            if word in is_so and abs((is_so[word] or 0.0) - value) > 1e-6
        ]
        if wrong:
            word, value, true = wrong[0]
            yield Finding(
                "name-tells-another-part",
                "will trouble",
                one.name,
                f"its name tells {word.replace('_', ' ')} {said(value)}, the design"
                f" {said(true) if true is not None else 'none'}.",
                "A name and its part must agree.",
                "The wrong part is cut, or not found.",
                "Change the name, or the number that was typed over.",
            )


CHECKS = (
    Check(
        "drive",
        "Does the drive as a whole do what is wanted?",
        (
            "odd-ring-locks",
            "ratio-missed",
            "wrong-direction",
            "common-factor",
            "teeth-overloaded",
            "teeth-break-at-stall",
            "load-falls-back",
            "plate-jams-the-mesh",
            "name-tells-another-part",
        ),
        findings,
    ),
)
