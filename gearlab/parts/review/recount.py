"""Edits that change the teeth of gears: spacing and play follow, and the plate grows with them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

from gearlab.theory.functions import common_factor_number

from ..design import Design, GearTable, MeshTable
from ..mesh import Mesh
from .advice import Way, together
from .finding import PLACES, SIZES, Edit, said, up

FEWEST, MOST = 12, 400  # counts that are advised
THINNED = 0.02  # what a tooth is thinned by for play [modules] (common practice)
_DIGITS = {"mm": 4, "in": 5}


def recounted(design: Design, counts: Mapping[str, int]) -> Iterator[Way]:
    """Ways to give gears other counts and to move the shafts beyond their meshes, so that the play stays.

    First on the plate as it is, then on one that grows as much; none in a closed ring, nor of rings.

    counts: teeth by the name of the gear.
    """
    after: dict[str, Any] = dict(design.toothed)
    for name, teeth in counts.items():
        if not FEWEST <= teeth <= MOST or after[name].internal:
            return
        try:
            after[name] = design.cut(design.of(name).model_copy(update={"teeth": teeth}))
        except ValueError:
            return
    changed: Edit = {"gear": {name: {"teeth": teeth} for name, teeth in counts.items()}}
    for away in (True, False):
        moves: dict[str, tuple[float, float]] = {}
        most = 0.0
        for pair in design.mesh:
            if not counts.keys() & pair.gears:
                continue
            try:
                by = _reference(after, pair) - _reference(design.toothed, pair)
            except ValueError:
                return
            # the driven side moves away from the driver, or the driver's side from the driven gear
            step = moved_apart(design, pair, *(pair.gears if away else pair.gears[::-1]), by)
            if step is None:
                return
            for shaft, (across, upwards) in step.items():
                before = moves.get(shaft, (0.0, 0.0))
                moves[shaft] = before[0] + across, before[1] + upwards
            most = max(most, by)
        edit = together(changed, _moved(design, moves))
        yield Way(_told(design, edit), edit)
        grown = larger_plate(design, most + max(after[name].scale for name in counts), moves)
        yield Way(_told(design, together(edit, grown)), together(edit, grown))


def _reference(gears: Mapping[str, Any], pair: MeshTable) -> float:
    mesh = Mesh(gears[pair.driver], gears[pair.driven])
    return mesh.reference_centre_distance if mesh.internal else mesh.centre_distance


def moved_apart(
    design: Design, pair: MeshTable, fixed: str, moving: str, by: float
) -> dict[str, tuple[float, float]] | None:
    """How a gear's shaft, and all beyond it, moves away from its mate [unit]; None in a closed ring.

    by: how much further they stand [unit]; a step is rounded so that no play is lost.
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
    angle = math.radians(design.line_angle(fixed, moving))
    step = up(by, design.unit, PLACES)
    return {shaft: (step * math.cos(angle), step * math.sin(angle)) for shaft in beyond}


def _moved(design: Design, moves: Mapping[str, tuple[float, float]], side: float = 0.0) -> Edit:
    digits = _DIGITS[design.unit]
    places = {
        shaft.name: tuple(
            round(place + step + side, digits)
            for place, step in zip(shaft.place, moves.get(shaft.name, (0.0, 0.0)))
        )
        for shaft in design.standing
    }
    changed = {
        shaft.name: {"x": places[shaft.name][0], "y": places[shaft.name][1]}
        for shaft in design.standing
        if places[shaft.name] != shaft.place
    }
    return {"shaft": changed} if changed else {}


def larger_plate(design: Design, by: float, moves: Mapping[str, tuple[float, float]]) -> Edit:
    """An edit, beside moves of shafts, that lets the plate grow by so much [unit] on every side."""
    if design.plate is None or by <= 0:
        return {}
    side, digits = up(by, design.unit, SIZES), _DIGITS[design.unit]
    sizes = {word: round(getattr(design.plate, word) + 2 * side, digits) for word in ("length", "height")}
    return {"plate": sizes, **_moved(design, moves, side)}


def counts(design: Design, pair: MeshTable, factor: float, within: float) -> Iterator[Way]:
    """Ways to make the ratio of a mesh so many times larger, the sum of the counts kept where it can be.

    within: how far the ratio may be off, as a share [-].
    """
    driver, driven = design.of(pair.driver), design.of(pair.driven)
    wanted = driven.teeth / driver.teeth * factor
    total = driver.teeth + driven.teeth
    near = round(total / (1 + wanted))
    tries = [
        (near, total - near),
        (driver.teeth, round(driver.teeth * wanted)),
        (round(driven.teeth / wanted), driven.teeth),
    ]
    tries += [(teeth, round(teeth * wanted)) for teeth in range(18, 41)]
    for new_driver, new_driven in tries:
        if min(new_driver, new_driven) >= FEWEST and abs(new_driven / new_driver / wanted - 1) <= within:
            yield from recounted(design, _different(design, pair, new_driver, new_driven))


def hunting(design: Design, pair: MeshTable, within: float) -> Iterator[Way]:
    """Ways to give a mesh counts that share no factor, its ratio kept within a share [-]."""
    driver, driven = design.of(pair.driver).teeth, design.of(pair.driven).teeth
    near = sorted(
        (
            (abs(new_driver - driver) + abs(new_driven - driven), new_driver, new_driven)
            for new_driver in range(max(FEWEST, driver - 6), driver + 9)
            for new_driven in range(max(FEWEST, driven - 12), driven + 16)
            if common_factor_number(new_driver, new_driven) == 1
            and abs(new_driven / new_driver / (driven / driver) - 1) <= within
        ),
    )
    for _, new_driver, new_driven in near:
        yield from recounted(design, _different(design, pair, new_driver, new_driven))


def thinned_as_usual(design: Design, table: GearTable) -> Iterator[Way]:
    """Teeth that are thinned by too much thinned for the usual play."""
    scale = _scale(table)
    if scale is not None and table.tooth_thinning > THINNED * scale:
        thin = round(THINNED * scale, 4)
        says = f"Thin the teeth of {table.name} by {said(thin, design.unit)}"
        yield Way(says, {"gear": {table.name: {"tooth_thinning": thin}}})


def _scale(table: GearTable) -> float | None:
    return table.module or (1 / table.diametral_pitch if table.diametral_pitch else None)


def _different(design: Design, pair: MeshTable, driver: int, driven: int) -> dict[str, int]:
    """The counts that differ from those that the gears have."""
    wanted = {pair.driver: driver, pair.driven: driven}
    return {name: teeth for name, teeth in wanted.items() if design.of(name).teeth != teeth}


def _told(design: Design, edit: Edit) -> str:
    """What such an edit does, in words."""
    unit, places = design.unit, edit.get("shaft", {})
    words = [
        "give " + " and ".join(f"{name} {fields['teeth']} teeth" for name, fields in edit["gear"].items())
    ]
    words += [
        f"move shaft {name} to {said(place['x'], unit)}, {said(place['y'], unit)}"
        for name, place in places.items()
    ]
    if plate := edit.get("plate"):
        words.append(f"make the plate {said(plate['length'], unit)} by {said(plate['height'], unit)}")
    text = "; ".join(words)
    return text[0].upper() + text[1:]
