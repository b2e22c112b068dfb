"""Files of a design that a machine follows, paths to cut and solids to print; and how files are written."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from gearlab.drawing.cutting import CutFile, gear_cut, plate_cut, rack_cut, ring_cut, sector_cut
from gearlab.drawing.solids import Solid, solid_of
from gearlab.parts.internal import InternalGear
from gearlab.parts.made import GearPart, Part, PlatePart, RackPart
from gearlab.writing import write_whole


@dataclass(frozen=True)
class Making:
    """How parts are cut or printed.

    cut_width: width that the beam takes away [unit of the design].
    clearance: what each surface of a printed part is set back [unit of the design].
    tolerance: largest distance of a path from the exact curve; None for the usual one [unit of the design].
    colours: of layers, such as {"mark": "#3f9c8a"}.
    sectors: gears of which a part is made, by name: from which angle to which [deg].
    solids: whether parts are wanted as solids, too.
    """

    cut_width: float = 0.0
    clearance: float = 0.0
    tolerance: float | None = None
    colours: Mapping[str, str] = field(default_factory=dict)
    sectors: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    solids: bool = False


def pairs_of(option: str, texts: Iterable[str], example: str) -> dict[str, str]:
    """What an option that may stand several times says: NAME=VALUE; ValueError for anything else.

    >>> pairs_of("--colour", ["mark=#3f9c8a"], "mark=#3f9c8a")
    {'mark': '#3f9c8a'}
    """
    told = {}
    for text in texts:
        name, sign, value = text.rpartition("=")
        if not (name and sign and value):
            raise ValueError(f"{option} {text!r} cannot be read: write it such as {option} {example}")
        told[name] = value
    return told


def sectors_of(texts: Iterable[str]) -> dict[str, tuple[float, float]]:
    """Angles of sectors from NAME=FROM:TO [deg]; ValueError for anything else.

    >>> sectors_of(["wheel=-44:44"])
    {'wheel': (-44.0, 44.0)}
    """
    sectors = {}
    for name, angles in pairs_of("--sector", texts, "wheel=-45:45").items():
        try:
            start, end = map(float, angles.split(":"))
        except ValueError:
            raise ValueError(
                f"--sector {name}={angles} cannot be read: give two angles in degrees, such as"
                f" --sector {name}=-45:45"
            ) from None
        sectors[name] = (start, end)
    return sectors


def cut_parts(parts: Iterable[Part], making: Making) -> list[GearPart | PlatePart | RackPart]:
    """The parts that are cut from a sheet; ValueError for a sector of what is no gear of theirs."""
    cut = [part for part in parts if isinstance(part, (GearPart, PlatePart, RackPart))]
    gears = [
        part.name for part in cut if isinstance(part, GearPart) and not isinstance(part.toothed, InternalGear)
    ]
    for name in making.sectors:
        if name not in gears:
            raise ValueError(
                f"--sector: there is no gear {name!r} of which a part could be cut; there are"
                f" {', '.join(gears) or 'none'}"
            )
    return cut


def cut_file(part: GearPart | PlatePart | RackPart, making: Making, verdict: str) -> CutFile:
    """The cut file of a part, with the verdict of its design [unit of the part].

    ValueError for a part that cannot be cut, which names it.
    """
    try:
        path = _cut(part, making)
    except ValueError as error:
        raise ValueError(f"{part.kind} {part.name!r}: {error}") from None
    note = path.note + (f"; make {part.quantity} of it" if part.quantity > 1 else "")
    return replace(path, note=note, verdict=verdict).with_colours(making.colours)


def solid_files(file: str, solid: Solid) -> dict[str, bytes]:
    """A solid as STL, whose name says its unit, and as 3MF, by name of file."""
    return {f"{file}_{solid.unit}.stl": solid.stl(), f"{file}.3mf": solid.threemf()}


def part_solid(part: GearPart | PlatePart | RackPart, making: Making, verdict: str) -> Solid:
    """The solid of a part, with the verdict of its design; ValueError for one that cannot be."""
    return solid_of(
        part,
        clearance=making.clearance,
        tolerance=making.tolerance,
        sector=making.sectors.get(part.name),
        verdict=verdict,
    )


def _cut(part: GearPart | PlatePart | RackPart, making: Making) -> CutFile:
    if isinstance(part, PlatePart):
        holes = [(hole.x, hole.y, hole.diameter) for hole in part.holes]
        plate = plate_cut(
            part.length,
            part.height,
            holes,
            part.unit,
            name=part.name,
            cut_width=making.cut_width,
            tolerance=making.tolerance,
        )
        open_ = [hole.name for hole in part.holes if not hole.stated]
        if open_:
            as_wide = f"as wide as the shaft, since the design states no hole: {', '.join(open_)}"
            return replace(plate, note=f"{plate.note}; {as_wide}")
        return plate
    how: dict[str, Any] = {
        "cut_width": making.cut_width,
        "clearance": making.clearance,
        "tolerance": making.tolerance,
        "name": part.name,
    }
    if isinstance(part, RackPart):
        return rack_cut(part.rack, **how)
    toothed = part.toothed
    if isinstance(toothed, InternalGear):
        return ring_cut(toothed, rim_diameter=part.rim_diameter, **how)
    bored: dict[str, Any] = {
        "bore": part.bore.nominal if part.bore is not None else None,
        "keyway": part.keyway,
    }
    if part.name in making.sectors:
        start, end = making.sectors[part.name]
        return sector_cut(toothed, start, end, hub_diameter=part.hub_diameter, **bored, **how)
    return gear_cut(toothed, **bored, **how)


def write_files(folder: Path, content: Mapping[str, str | bytes]) -> None:
    """Write files into a folder by their names, each whole or not at all; ValueError where one cannot be."""
    for name, data in content.items():
        try:
            write_whole(folder / name, data)
        except OSError as error:
            raise ValueError(
                f"{folder / name} cannot be written: {error.strerror or error}; give a folder that you may"
                " write to"
            ) from None
