"""What can be wrong on the plate and along the shafts: edges, margins, heights."""

from __future__ import annotations

from collections.abc import Iterator

from ..design import Design
from .finding import Finding, said
from .ledger import Check

LEAST_FACES = 0.9  # share of the narrower face that should be in mesh


def findings(design: Design) -> Iterator[Finding]:
    """Findings about plate and faces."""
    yield from _units(design)
    yield from _plate(design)
    for pair in design.mesh:
        yield from _faces(design, pair.driver, pair.driven)


def _units(design: Design) -> Iterator[Finding]:
    largest = max(
        gear.outside_diameter if gear.unit == design.unit else 0.0 for gear in design.gears.values()
    )
    alien = [name for name, gear in design.gears.items() if gear.unit != design.unit]
    size = max(design.on_plate.length, design.on_plate.height)
    if largest and (size < largest / 5 or size > 60 * largest):
        yield Finding(
            "units-look-mixed",
            "will not work",
            "the plate",
            f"it measures {said(size, design.unit)}, the largest gear {said(largest, design.unit)}.",
            "A plate is usually one to ten gears long.",
            "Somewhere inches and millimetres were exchanged: a factor of 25.4.",
            "Check the unit of the file against a line of known length.",
        )
    for name in alien:
        yield Finding(
            "units-look-mixed",
            "will not work",
            name,
            f"its size is given as {_size(design.gears[name])}, the file is in {design.unit}.",
            "A file has one unit.",
            "A module and a diametral pitch never mesh, and sizes are off by 25.4.",
            "Give the gear's size in the unit of the file.",
        )


def _size(gear) -> str:
    return (
        f"module {said(gear.module, 'mm')}"
        if gear.module is not None
        else f"a diametral pitch of {said(gear.diametral_pitch)} to the inch"
    )


def _plate(design: Design) -> Iterator[Finding]:
    board, unit = design.board, design.unit
    for hole in design.holes:
        left = board.edge_distance(hole) - hole.diameter / 2
        if left <= 0:
            yield Finding(
                "hole-breaks-edge",
                "will not work",
                f"hole {hole.name}",
                f"it comes {said(-left, unit)} over the edge of the plate.",
                f"A diameter, {said(hole.diameter, unit)}, should be left.",
                "There is no hole any more.",
                "Move the hole inwards, or take a larger plate.",
            )
        elif left < hole.diameter:
            yield Finding(
                "hole-near-edge",
                "will trouble",
                f"hole {hole.name}",
                f"{said(left, unit)} of material are left to the edge.",
                f"A diameter, {said(hole.diameter, unit)}, should be left.",
                "The plate splits there; acrylic and wood do so easily.",
                f"Move the hole {said(hole.diameter - left, unit)} inwards.",
            )
    for one in design.gear:
        gear, shaft = design.gears[one.name], design.shaft_of(one.name)
        if gear.unit != unit:
            continue
        tip, (x, y) = gear.outside_diameter / 2, shaft.place
        over = {
            "left": tip - x,
            "right": x + tip - board.length,
            "lower": tip - y,
            "upper": y + tip - board.height,
        }
        side = max(over, key=lambda edge: over[edge])
        if over[side] > 0 and over[side] < 2 * tip:
            yield Finding(
                "tips-over-edge",
                "will trouble",
                one.name,
                f"its tips stand {said(over[side], unit)} over the {side} edge.",
                "They should stay within the plate, with a margin.",
                "They meet the bench, the guard or a hand.",
                "Centre the outline of the pair, not its holes, or take a larger plate.",
            )


def _faces(design: Design, driver: str, driven: str) -> Iterator[Finding]:
    one, two, unit = design.of(driver), design.of(driven), design.unit
    heights = design.face_height(driver), design.face_height(driven)
    ends = [
        (height - table.face_width / 2, height + table.face_width / 2)
        for height, table in zip(heights, (one, two))
    ]
    common = min(end[1] for end in ends) - max(end[0] for end in ends)
    narrow = min(one.face_width, two.face_width)
    where = f"{driver} with {driven}"
    needed = f"washers that make {said(max(heights), unit)} of both"
    if common <= 1e-9:
        yield Finding(
            "faces-miss",
            "will not work",
            where,
            f"the middles of the faces stand {said(abs(heights[0] - heights[1]), unit)} apart in height.",
            "The faces must meet.",
            "Not one tooth touches, however right the centre distance.",
            f"Turn a hub round, or use {needed}.",
        )
    elif common < LEAST_FACES * narrow:
        yield Finding(
            "faces-partly-miss",
            "will trouble",
            where,
            f"only {said(common, unit)} of the {said(narrow, unit)} face are in mesh.",
            f"At least {said(LEAST_FACES * 100)} % should be.",
            "The load sits on the ends of the teeth.",
            f"Use {needed}.",
        )


CHECKS = (
    Check(
        "plate and shafts",
        "Does everything stand where it should, and fit?",
        (
            "units-look-mixed",
            "hole-breaks-edge",
            "hole-near-edge",
            "tips-over-edge",
            "faces-miss",
            "faces-partly-miss",
        ),
        findings,
    ),
)
