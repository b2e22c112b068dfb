"""A gear that cannot be cut, and the numbers nearest to its own with which it can."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..design import Design, GearTable
from .advice import Way, together
from .finding import Edit, Finding, said, up
from .moves import after, spaced, told
from .sentences import finding
from .standings import standings

USUAL_ANGLES = (20.0, 14.5, 25.0)
FEWEST = 12
FULL = "full depth"
FINE = {"mm": 0.01, "in": 0.0005}  # steps of a thinning


def cannot_be(design: Design, table: GearTable) -> Iterator[Finding]:
    """The finding for a gear that cannot be cut; nothing for one that can."""
    try:
        design.cut(table)
    except ValueError as error:
        text = str(error)
        searches = (_systems, _angles, _shifts, _teeth)
        yield finding(
            "gear-cannot-be",
            design,
            table.name,
            lambda: [search(design, table) for search in searches],
            why=text if text.endswith((".", ".)")) else f"{text}.",
        )


def _joined(design: Design, name: str) -> list[str]:
    """A gear and all that mesh with it, or with those."""
    company = [name]
    for gear in company:
        for pair in design.meshes_of(gear):
            company += [other for other in pair.gears if other not in company]
    return company


def _systems(design: Design, table: GearTable) -> Iterator[Way]:
    """Full-depth teeth, on it and on all that mesh."""
    names = [name for name in _joined(design, table.name) if design.of(name).tooth_system != FULL]
    for some in dict.fromkeys(((table.name,), tuple(names))) if table.name in names else ():
        edit = {"gear": {name: {"tooth_system": FULL} for name in some}}
        yield from _spaced(design, f"Cut full-depth teeth on {' and '.join(some)}", edit, table.name)


def _angles(design: Design, table: GearTable) -> Iterator[Way]:
    """A usual pressure angle: the mates' own, or one for all that mesh."""
    names = _joined(design, table.name)
    own = [design.of(name).pressure_angle for name in names if name != table.name]
    for angle in dict.fromkeys([*own, *sorted(USUAL_ANGLES, key=lambda usual: usual != 20.0)]):
        if angle == table.pressure_angle:
            continue
        others = [name for name in names if design.of(name).pressure_angle != angle]
        edit = {"gear": {name: {"pressure_angle": angle} for name in others}}
        if others:
            yield from _spaced(design, f"Cut {' and '.join(others)} at {said(angle)} deg", edit, table.name)


def _shifts(design: Design, table: GearTable) -> Iterator[Way]:
    """The cutter moved less, and teeth thinned less."""
    if table.tooth_thinning:
        module = table.module or (1 / table.diametral_pitch if table.diametral_pitch else 1.0)
        thin = up(0.02 * module, design.unit, FINE)
        if thin < table.tooth_thinning:
            edit: dict[str, Any] = {"gear": {table.name: {"tooth_thinning": thin}}}
            says = f"Thin the teeth of {table.name} by {said(thin, design.unit)}"
            yield from _spaced(design, says, edit, table.name)
    count = round(abs(table.profile_shift) / 0.05)
    sign = 1 if table.profile_shift > 0 else -1
    steps = [*range(count, max(count - 16, -1), -1), 0]
    for step in dict.fromkeys(steps):
        shift = round(sign * step * 0.05, 2)
        if abs(shift) < abs(table.profile_shift):
            edit = {"gear": {table.name: {"profile_shift": shift}}}
            says = f"Move the cutter by {said(shift)} modules on {table.name}"
            yield from _spaced(design, says, edit, table.name)


def _teeth(design: Design, table: GearTable) -> Iterator[Way]:
    for teeth in range(max(table.teeth + 1, FEWEST), max(table.teeth, FEWEST) + 8):
        edit = {"gear": {table.name: {"teeth": teeth}}}
        yield from _spaced(design, f"Take {teeth} teeth", edit, table.name)


def _spaced(design: Design, says: str, edit: dict[str, Any], name: str) -> Iterator[Way]:
    """An edit where the gear can be cut after it: as the holes stand, and with those of its meshes set."""
    try:
        then = after(design, edit)
        then.cut(then.of(name))
    except ValueError:
        return
    yield Way(says, edit)
    moved: Edit = edit
    try:
        for standing in standings(then):
            if name in standing.names and standing.wanted_distance is not None:
                moved = together(moved, spaced(then, *standing.pair.gears, standing.wanted_distance))
    except ValueError:
        return
    if moved is not edit:
        yield Way(f"{says}, and set its holes to suit{told(then, moved)}", moved)
