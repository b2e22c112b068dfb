"""Whether what stands on the plate has room.

Gears and hubs that are not to mesh, shafts, holes; and what an idler's shaft takes.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from ..design import Design
from ..load import Load
from ..mesh import Mesh
from ..train import Train
from .finding import Finding, said
from .ledger import Check

SAME = 1e-6  # shafts nearer than this share an axis


def findings(design: Design) -> Iterator[Finding]:
    """Findings about room on the plate."""
    if any(gear.unit != design.unit for gear in design.gears.values()):
        return  # said elsewhere; sizes cannot be compared
    yield from _holes(design)
    yield from _gears(design)
    yield from _shafts(design)
    yield from _idlers(design)


def _holes(design: Design) -> Iterator[Finding]:
    unit = design.unit
    for one, two in combinations(design.holes, 2):
        apart = design.board.spacing(one, two)
        wall = apart - (one.diameter + two.diameter) / 2
        if apart > SAME and wall <= 0:
            yield Finding(
                "holes-meet",
                "will not work",
                f"holes {one.name} and {two.name}",
                f"they stand {said(apart, unit)} apart and meet.",
                f"Their radii make {said(apart - wall, unit)}.",
                "Neither shaft is held.",
                "Look at the coordinates: one of them is wrong.",
            )


def bodies(design: Design, name: str) -> list[tuple[str, float, float, float]]:
    """What a gear takes up.

    "face" and "hub", with lower and upper height above the plate and radius [unit].
    """
    one, middle = design.of(name), design.face_height(name)
    low, high = middle - one.face_width / 2, middle + one.face_width / 2
    found = [("face", low, high, design.gears[name].outside_diameter / 2)]
    if one.hub_diameter is not None and one.hub_projection > 0:
        ends = (
            (low - one.hub_projection, low) if one.hub_side == "plate" else (high, high + one.hub_projection)
        )
        found.append(("hub", *ends, one.hub_diameter / 2))
    return found


def _gears(design: Design) -> Iterator[Finding]:
    unit = design.unit
    meshing = {frozenset((pair.driver, pair.driven)) for pair in design.mesh}
    for one, two in combinations([gear.name for gear in design.gear], 2):
        apart = design.distance(one, two)
        if design.of(one).shaft == design.of(two).shaft or frozenset((one, two)) in meshing:
            continue
        worst = max(
            (
                (first[3] + second[3] - apart, first[0], second[0])
                for first in bodies(design, one)
                for second in bodies(design, two)
                if min(first[2], second[2]) - max(first[1], second[1]) > SAME
            ),
            default=(0.0, "", ""),
        )
        if worst[0] > SAME:
            yield Finding(
                "gears-collide",
                "will not work",
                f"{one} and {two}",
                f"{worst[1]} and {worst[2]} stand at one height and overlap by {said(worst[0], unit)}.",
                "Gears that do not mesh must clear each other.",
                "They strike each other, or lock the train.",
                "Put them at different heights by gaps, or change the layout.",
                "geometry",
            )


def _shafts(design: Design) -> Iterator[Finding]:
    unit = design.unit
    for shaft in design.shaft:
        mine = [gear.name for gear in design.gear if gear.shaft == shaft.name]
        top = max((end for name in mine for _, _, end, _ in bodies(design, name)), default=0.0)
        if shaft.length is not None:
            top = shaft.length - shaft.behind - design.on_plate.thickness
        for gear in design.gear:
            if gear.shaft == shaft.name or not mine:
                continue
            apart = design.distance(gear.name, mine[0])
            for _, low, _, radius in bodies(design, gear.name):
                over = radius + shaft.diameter / 2 - apart
                if apart > SAME and over > SAME and low < top - SAME:
                    yield Finding(
                        "gear-strikes-shaft",
                        "will not work",
                        f"{gear.name} and shaft {shaft.name}",
                        f"the gear reaches {said(over, unit)} into the shaft beside it.",
                        f"The shaft must end below {said(low, unit)} above the plate, or stand further off.",
                        "The gear cannot be put on, or rubs on the shaft.",
                        "Shorten that shaft, lower its gears, or change the layout.",
                        "geometry",
                    )
                    break


def _idlers(design: Design) -> Iterator[Finding]:
    """An idler's shaft takes the push of both meshes, whatever torque it hands on."""
    carried, unit = design.torques, design.unit
    for one in design.gear:
        before = [pair.driver for pair in design.mesh if pair.driven == one.name]
        after = [pair.driven for pair in design.mesh if pair.driver == one.name]
        if len(before) != 1 or len(after) != 1 or one.shaft not in carried:
            continue
        try:
            force = Load(
                Mesh(design.gears[before[0]], design.gears[one.name]), carried[design.of(before[0]).shaft]
            ).tangential_force
            row = Train(
                (design.gears[before[0]], design.gears[one.name], design.gears[after[0]]),
                (design.line_angle(before[0], one.name), design.line_angle(one.name, after[0])),
            )
            x, y = row.idler_load(force)
        except ValueError:
            continue  # a pair that cannot be is said elsewhere
        push, word = (x * x + y * y) ** 0.5, "N" if unit == "mm" else "lbf"
        if push > 1.5 * force:
            yield Finding(
                "idler-takes-both-meshes",
                "worth knowing",
                one.name,
                f"its shaft is pushed with {said(push)} {word}, {said(push / force)} times one tooth's"
                " tangential force.",
                f"One mesh alone would turn it with {said(force)} {word}.",
                "The pushes of both meshes add up: the idler's shaft bends first.",
                "Give it a stout shaft and a short lever, or a second bearing.",
                "statics; an estimate for teaching",
            )


CHECKS = (
    Check(
        "room",
        "Has everything on the plate room?",
        (
            "holes-meet",
            "gears-collide",
            "gear-strikes-shaft",
            "idler-takes-both-meshes",
        ),
        findings,
    ),
)
