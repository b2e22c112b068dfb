"""Paths moved for the width of the cut or for a printed part, and what a file says of it."""

from __future__ import annotations

import math

import numpy as np

from gearlab.shape.form import COARSEST, FINEST

from .. import numerals
from .cutfile import path_tolerance


def moved(points: np.ndarray, by: float, tolerance: float, corners: str = "round") -> np.ndarray:
    """A closed outline moved outwards (or, below 0, inwards), square to itself; its first point not again.

    tolerance: what moving may add to the distance from the exact curve [unit of the points].
    corners: "round", or "mitre" for a part of straight edges.
    ValueError where nothing whole is left.
    """
    if by == 0:
        return points
    from shapely import Polygon

    sagitta = min(1.0, tolerance / 2 / abs(by))
    segments = max(4, math.ceil(math.pi / 4 / math.acos(1 - sagitta)))
    line = Polygon(points).buffer(by, quad_segs=segments, join_style=corners, mitre_limit=2.0)
    line = line.simplify(tolerance / 2)
    if line.geom_type != "Polygon" or line.interiors or line.is_empty:
        raise ValueError(
            f"moved inwards by {abs(by):g} the outline falls apart: the teeth are too thin for that; use"
            " larger teeth or a smaller clearance"
        )
    # shapely goes clockwise, and closes by repeating the first point
    return np.asarray(line.exterior.coords)[-2::-1]


def laid(toothed, by: float, tolerance: float) -> np.ndarray:
    """The outline of a gear, ring or rack, moved, within the tolerance of the exact one [unit]."""
    share = tolerance if by == 0 else tolerance / 2
    return moved(toothed.outline(share / toothed.scale)[:-1], by, tolerance / 2)


def points_within(tolerance: float | None, toothed) -> float:
    """The tolerance of the points of teeth, or the usual one where none is given [unit].

    The usual one is a fiftieth of a module where that is finer. ValueError for one too fine or too coarse.
    """
    unit, scale = toothed.unit, toothed.scale
    asked = path_tolerance(tolerance, unit)
    if tolerance is None:
        return min(asked, scale / 50)
    least, most = 2 * FINEST * scale, COARSEST * scale
    if not least <= asked <= most:
        raise ValueError(
            f"tolerance {asked:g} {unit} is out of range for {toothed!r}: give {least:.3g} to {most:.3g}"
            f" {unit}, a twentieth of a module at most"
        )
    return asked


def check_moves(thickness: float, unit: str, cut_width: float, clearance: float) -> None:
    """ValueError for a cut width or a clearance that the teeth do not have."""
    for word, value, most in (
        ("cut_width", cut_width, thickness / 2),
        ("clearance", clearance, thickness / 4),
    ):
        if not 0 <= value <= most:
            raise ValueError(
                f"{word} {value:g} {unit} is out of range: give 0 to {most:.4g} {unit}; the teeth"
                f" are {thickness:.4g} {unit} thick"
            )


def note(unit: str, cut_width: float, clearance: float, tolerance: float | None = None, *more: str) -> str:
    """What a file says of its paths."""
    parts = [f"lengths in {unit}"]
    if cut_width:
        parts.append(f"cut width {numerals.plain(cut_width)} {unit} taken into account")
    if clearance:
        parts.append(f"flanks set back by {numerals.plain(clearance)} {unit} for a printed part")
    if tolerance is not None:
        parts.append(f"points within {tolerance:.3g} {unit} of the exact curve")
    return "; ".join([*parts, *(words for words in more if words)])


def circle(radius: float, tolerance: float, start: float = 0.0, end: float = 2 * math.pi) -> np.ndarray:
    """Points along an arc from an angle to another [rad], both with it; (n, 2) [unit]."""
    step = 2 * math.acos(max(0.0, 1 - tolerance / radius))
    turns = np.linspace(start, end, max(3, math.ceil(abs(end - start) / step)) + 1)
    return radius * np.column_stack([np.cos(turns), np.sin(turns)])
