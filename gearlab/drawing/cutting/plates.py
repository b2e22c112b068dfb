"""The paths that cut a plate with its holes, and a rack."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from gearlab.parts.rack import Rack

from .cutfile import CutFile, Path, Round, path_tolerance
from .lettering import Words, width_of
from .offsets import check_moves, laid, note, points_within


def plate_cut(
    width: float,
    height: float,
    holes: Iterable[tuple[float, float, float]],
    unit: str,
    *,
    name: str = "plate",
    cut_width: float = 0.0,
    tolerance: float | None = None,
) -> CutFile:
    """The paths that cut a plate with its holes, its lower left corner at the origin.

    width, height: size of the plate, above 0 [unit].
    holes: x, y and diameter of each, measured from the lower left corner; each lies within the plate [unit].
    unit: "mm" or "in".
    cut_width: width that the beam takes away, from 0 to less than the smallest hole [unit].
    tolerance: largest distance of the letters' paths from their curves [unit]; holes are circles in the file.
    ValueError for a hole that leaves the plate, or a cut wider than a hole.

    >>> plate_cut(220, 160, [(53.75, 80, 10), (132.5, 80, 10)], "mm", cut_width=0.2).bounds
    (-0.1, -0.1, 220.1, 160.1)
    """
    if not (width > 0 and height > 0):
        raise ValueError(
            f"plate {width:g} x {height:g} {unit} is out of range: give a width and a height above 0"
        )
    holes = list(holes)
    for x, y, diameter in holes:
        if not 0 <= cut_width < diameter:
            raise ValueError(
                f"cut_width {cut_width:g} {unit} is out of range: give 0 up to less than the hole of"
                f" {diameter:g} {unit}"
            )
        if not (diameter / 2 < x < width - diameter / 2 and diameter / 2 < y < height - diameter / 2):
            raise ValueError(
                f"a hole of {diameter:g} {unit} at ({x:g}, {y:g}) {unit} breaks through the edge of a plate"
                f" of {width:g} x {height:g} {unit}: keep its centre more than {diameter / 2:g} {unit} inside"
            )
    half = cut_width / 2
    edge = np.array(
        [[-half, -half], [width + half, -half], [width + half, height + half], [-half, height + half]]
    )
    rounds = tuple(
        Round((float(x), float(y)), (diameter - cut_width) / 2, "hole") for x, y, diameter in holes
    )
    size = min(min(width, height) / 24, 0.9 * width / max(1.0, width_of(name)))
    return CutFile(
        name,
        unit,
        (Path(edge, "outline"),),
        rounds,
        (Words((width / 2, 1.2 * size), name, size),),
        note(unit, cut_width, 0.0),
        path_tolerance(tolerance, unit),
    )


def rack_cut(
    rack: Rack,
    *,
    cut_width: float = 0.0,
    clearance: float = 0.0,
    tolerance: float | None = None,
    name: str | None = None,
) -> CutFile:
    """The paths that cut a rack, its pitch line on y = 0, the middle of its first tooth at x = 0.

    cut_width: width that the beam takes away, from 0 up to half a tooth thickness [rack.unit].
    clearance: what each surface is set back for a printed part, up to a quarter of it [rack.unit].
    tolerance: largest distance of the path from the exact curve [rack.unit].
    ValueError for a value outside its limits.

    >>> cut = rack_cut(Rack(4, module=2.5), cut_width=0.2)
    >>> [round(x, 3) for x in cut.bounds]  # 4 pitches of 7.854, from 12.5 below to 2.5 above, and the cut
    [-4.027, -12.6, 27.589, 2.6]
    """
    unit = rack.unit
    check_moves(rack.circular_pitch / 2, unit, cut_width, clearance)
    within = points_within(tolerance, rack)
    name = name or f"rack_{rack.teeth}T"
    low, length = rack.basic.dedendum * rack.scale, rack.toothed_length
    room = rack.pitch_height - low
    size = min(0.5 * room, 0.9 * length / max(1.0, width_of(name)))
    middle = (length - rack.circular_pitch) / 2
    return CutFile(
        name,
        unit,
        (Path(laid(rack, cut_width / 2 - clearance, within), "outline"),),
        (),
        (Words((middle, -low - room / 2), name, size),),
        note(unit, cut_width, clearance, within),
        within,
    )
