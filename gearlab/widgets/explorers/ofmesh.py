"""A mesh of a design as explorers show it: what they take, and the edits that bring it to what they show."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from ...parts.design import Design, MeshTable
from ...theory import derive
from .inputs import Inputs
from .part import as_cut, in_its_unit

ALIKE = ("module", "diametral_pitch", "pressure_angle", "tooth_system")  # what both gears of a mesh share

#: Places of what is shown of a design, and of where a shaft is put so that it is shown again [unit].
TAKEN, PLACES = 7, 9


def mesh_named(design: Design, name: str) -> MeshTable:
    """A mesh of a design by its name, "driver with driven"."""
    return next(pair for pair in design.mesh if pair.name == name)


def pair_taken(design: Design, name: str, *, shifted: bool = True) -> dict[str, Any]:
    """Counts and size of a mesh as the arguments of an explorer.

    shifted: whether the explorer can show gears with a profile shift.
    ValueError for a ring, for teeth that are not of one kind, or of another unit than the design.
    """
    pair = mesh_named(design, name)
    driver, driven = design.of(pair.driver), design.of(pair.driven)
    for table in (driver, driven):
        if table.internal:
            raise ValueError(
                f"{table.name!r} is a ring, and here two spur gears are shown; name another: part = ..."
            )
        if table.profile_shift and not shifted:
            raise ValueError(
                f"profile_shift of {table.name!r} is {table.profile_shift:g}, and here teeth without a shift"
                " are shown; look at this mesh in a PairExplorer"
            )
    for word in ALIKE:
        own, other = getattr(driver, word), getattr(driven, word)
        if own != other:
            raise ValueError(
                f"{word.replace('_', ' ')} of {driver.name!r} is {own}, of {driven.name!r} {other}: they do"
                " not mesh; give both the same"
            )
    size = in_its_unit(design, driver)
    return {"driver_teeth": driver.teeth, "driven_teeth": driven.teeth, **size}


def scale_of(size: dict[str, float]) -> float:
    """The module, or one over the diametral pitch [mm or in]."""
    ((word, value),) = size.items()
    return value if word == "module" else 1 / value


def touching_for(driver_teeth: int, driven_teeth: int, size: dict[str, float]) -> float:
    """Distance at which the pitch circles of two counts touch, as theory tells it [mm or in].

    >>> touching_for(18, 45, {"module": 2.5})
    78.75
    """
    counts = {"driver_teeth": driver_teeth, "driven_teeth": driven_teeth}
    return derive("centre_distance", counts | size).result


def touching(design: Design, name: str) -> float:
    """Distance at which the pitch circles of a mesh touch [unit]."""
    pair = mesh_named(design, name)
    driver, driven = design.of(pair.driver), design.of(pair.driven)
    return touching_for(driver.teeth, driven.teeth, driver.size)


def distance_of(design: Design, name: str) -> float:
    """Distance of the shafts of a mesh, as it is shown [unit]."""
    pair = mesh_named(design, name)
    return round(design.distance(pair.driver, pair.driven), TAKEN)


def line_of(design: Design, name: str) -> float:
    """Direction from the driver of a mesh to its driven gear, as it is shown [deg]."""
    pair = mesh_named(design, name)
    return round(design.line_angle(pair.driver, pair.driven), 5) + 0.0


def opening_of(design: Design, name: str) -> float:
    """How much further apart the shafts of a mesh stand than where its pitch circles touch [unit]."""
    return round(distance_of(design, name) - touching(design, name), TAKEN)


def standing(design: Design, name: str) -> tuple[dict[str, dict[str, Any]], float]:
    """What the gears of a mesh are beside count and size, by argument, and how far apart [unit]."""
    pair = mesh_named(design, name)
    sides = {"driver_teeth": pair.driver, "driven_teeth": pair.driven}
    return {side: as_cut(design, gear) for side, gear in sides.items()}, opening_of(design, name)


def counts_given(
    inputs: Inputs,
    design: Design,
    name: str,
    *,
    size: dict[str, float] | None = None,
    distance: float | None = None,
    **shape: Any,
) -> dict[str, Any]:
    """The edits of a mesh with other counts: both gears, and the shafts with them.

    size: of the teeth, that of the design if left out.
    distance: of the shafts [unit]; left out, as much more than where the pitch circles touch as before.
    shape: what else of both gears is changed, such as ``pressure_angle``.
    """
    pair = mesh_named(design, name)
    size = dict(design.of(pair.driver).size if size is None else size)
    if distance is None:
        apart = touching_for(inputs.driver_teeth, inputs.driven_teeth, size)
        distance = apart + opening_of(design, name)
    teeth = {pair.driver: inputs.driver_teeth, pair.driven: inputs.driven_teeth}
    gears = {gear: {"teeth": count, **size, **shape} for gear, count in teeth.items()}
    return {"gear": gears, "shaft": at_distance(design, name, distance)}


def at_distance(
    design: Design, name: str, distance: float, line_angle: float | None = None
) -> dict[str, dict[str, float]]:
    """The edit of the shafts that sets a mesh at a distance along its line of centres [unit].

    The driven shaft moves, and with it whatever it drives. Another ``line_angle`` turns it about the driver
    [deg].
    """
    pair = mesh_named(design, name)
    return places(design, name, design.shaft_of(pair.driver).place, distance, line_angle)


def places(
    design: Design, name: str, place: tuple[float, float], distance: float, line_angle: float | None = None
) -> dict[str, dict[str, float]]:
    """The edit of the shafts that sets a mesh at a place and a distance [unit].

    Shafts that are joined to the driver or to the driven one, and not through this mesh, move with it.
    """
    pair = mesh_named(design, name)
    driver, driven = design.shaft_of(pair.driver), design.shaft_of(pair.driven)
    line = design.line_angle(pair.driver, pair.driven) if line_angle is None else line_angle
    angle = math.radians(line)
    other = place[0] + distance * math.cos(angle), place[1] + distance * math.sin(angle)
    with_driver, with_driven = (
        joined(design, a.name, b.name) for a, b in ((driver, driven), (driven, driver))
    )
    if with_driver & with_driven:  # a ring of gears: no more than its own two shafts can be moved
        with_driver, with_driven = {driver.name}, {driven.name}
    return _moved(design, with_driver, driver.place, place) | _moved(design, with_driven, driven.place, other)


def joined(design: Design, shaft: str, without: str) -> set[str]:
    """A shaft and all that are joined to it by meshes, however far, but not through another."""
    reached, new = {shaft}, [shaft]
    meshes = [(design.of(pair.driver).shaft, design.of(pair.driven).shaft) for pair in design.mesh]
    while new:
        here = new.pop()
        for ends in meshes:
            if here not in ends or set(ends) == {shaft, without}:
                continue
            there = ends[1] if here == ends[0] else ends[0]
            if there not in reached:
                reached.add(there)
                new.append(there)
    return reached


def _moved(
    design: Design, shafts: Iterable[str], before: tuple[float, float], after: tuple[float, float]
) -> dict[str, dict[str, float]]:
    edits = {}
    for shaft in design.standing:
        if shaft.name in shafts:
            edits[shaft.name] = {
                word: round(at + to - start, PLACES)
                for word, at, start, to in zip("xy", shaft.place, before, after)
            }
    return edits
