"""Edits that change the teeth of a gear: spacing and play follow, and the plate grows with it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..design import Design, MeshTable
from ..mesh import Mesh
from .advice import Way, together
from .finding import PLACES, SIZES, Edit, said, up

FEWEST, MOST = 12, 400  # counts that are advised


def recounted(design: Design, gear: str, teeth: int) -> Iterator[Edit]:
    """Edits that give a gear another count and move the shafts beyond its meshes, so that the play stays.

    First on the plate as it is, then on one that grows as much; none in a closed ring.
    """
    table = design.of(gear)
    if not FEWEST <= teeth <= MOST or table.internal:
        return
    changed: Edit = {"gear": {gear: {"teeth": teeth}}}
    try:
        after = design.cut(table.model_copy(update={"teeth": teeth}))
    except ValueError:
        return
    for first in (True, False):
        edits, most = [changed], 0.0
        for pair in design.mesh:
            if gear not in (pair.driver, pair.driven):
                continue
            mate = pair.driven if pair.driver == gear else pair.driver
            try:
                grown = _reference(after, design.toothed[mate]) - _reference(
                    design.toothed[gear], design.toothed[mate]
                )
            except ValueError:
                return
            # the first time the mate's side moves away, the second time the gear's own side
            fixed, moving = (gear, mate) if first else (mate, gear)
            edit = moved_apart(design, pair, fixed, moving, grown)
            if edit is None:
                return
            edits.append(edit)
            most = max(most, grown)
        if first or len(edits) == 2:
            edit = together(*edits)
            yield edit
            yield together(edit, larger_plate(design, most + design.toothed[gear].scale, edit))


def _reference(gear, mate) -> float:
    return (
        Mesh(gear, mate).centre_distance if not mate.internal else Mesh(gear, mate).reference_centre_distance
    )


def moved_apart(design: Design, pair: MeshTable, fixed: str, moving: str, by: float) -> Edit | None:
    """An edit that moves a gear's shaft, and all beyond it, away from its mate; None in a closed ring.

    by: how much further they stand [unit]; the spacing is rounded so that no play is lost.
    """
    stay, start = design.of(fixed).shaft, design.of(moving).shaft
    beyond, waiting = {start}, [start]
    while waiting:
        here = waiting.pop()
        for other in design.mesh:
            ends = {design.of(other.driver).shaft, design.of(other.driven).shaft}
            if other is not pair and here in ends:
                waiting += ends - beyond
                beyond |= ends
    if stay in beyond:
        return None
    angle, unit = math.radians(design.line_angle(fixed, moving)), design.unit
    step = math.copysign(up(abs(by), unit, PLACES), by) if by > 0 else by
    along = step * math.cos(angle), step * math.sin(angle)
    digits = {"mm": 4, "in": 5}[unit]
    return {
        "shaft": {
            shaft.name: {
                "x": round(shaft.place[0] + along[0], digits),
                "y": round(shaft.place[1] + along[1], digits),
            }
            for shaft in design.standing
            if shaft.name in beyond
        }
    }


def larger_plate(design: Design, by: float, edit: Edit) -> Edit:
    """An edit, made with another one, that lets the plate grow by so much [unit] on every side."""
    if design.plate is None or by <= 0:
        return {}
    side, digits = up(by, design.unit, SIZES), {"mm": 4, "in": 5}[design.unit]
    moved = edit.get("shaft", {})
    return {
        "plate": {
            "length": round(design.plate.length + 2 * side, digits),
            "height": round(design.plate.height + 2 * side, digits),
        },
        "shaft": {
            shaft.name: {
                word: round(moved.get(shaft.name, {}).get(word, getattr(shaft, word)) + side, digits)
                for word in ("x", "y")
            }
            for shaft in design.standing
        },
    }


def counts(design: Design, pair: MeshTable, factor: float, within: float) -> Iterator[Way]:
    """Ways to make the ratio of a mesh so many times larger, the sum of the counts kept where it can be.

    within: how far the ratio may be off, as a share [-].
    """
    driver, driven = design.of(pair.driver), design.of(pair.driven)
    wanted = driven.teeth / driver.teeth * factor
    total = driver.teeth + driven.teeth
    near = round(total / (1 + wanted))
    if abs((total - near) / near / wanted - 1) <= within and min(near, total - near) >= FEWEST:
        yield Way(
            f"Give {pair.driver} {near} and {pair.driven} {total - near} teeth; the shafts stay",
            {"gear": {pair.driver: {"teeth": near}, pair.driven: {"teeth": total - near}}},
        )
    for name, count, ratio in (
        (pair.driven, round(driver.teeth * wanted), lambda teeth: teeth / driver.teeth),
        (pair.driver, round(driven.teeth / wanted), lambda teeth: driven.teeth / teeth),
    ):
        if count >= FEWEST and abs(ratio(count) / wanted - 1) <= within:
            for edit in recounted(design, name, count):
                yield Way(told(design, name, count, edit), edit)


def told(design: Design, gear: str, teeth: int, edit: Edit) -> str:
    """What such an edit does, in words."""
    moved = "; ".join(
        f"move shaft {name} to {said(place['x'], design.unit)}, {said(place['y'], design.unit)}"
        for name, place in edit.get("shaft", {}).items()
    )
    plate = edit.get("plate")
    grown = (
        f"; make the plate {said(plate['length'], design.unit)} by {said(plate['height'], design.unit)}"
        if plate
        else ""
    )
    return f"Give {gear} {teeth} teeth{'; ' if moved else ''}{moved}{grown}"
