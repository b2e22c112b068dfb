"""A pair beside the spacing that it was wished for."""

from __future__ import annotations

from dataclasses import replace

from ...parts import Mesh
from .. import numerals
from ..scene import Scene
from ..shapes import Dimension
from .pair import pair


def wished(mesh: Mesh, centre_distance: float, *, turning: float = 1.0, width: float = 720.0) -> Scene:
    """Two gears in mesh, and below their centre distance the one that is wanted.

    centre_distance: the wanted spacing, above 0 [unit of the gears, in or mm].
    turning: which way the driver turns, +1 counter-clockwise or -1 clockwise [-].
    width: of the picture [points].
    Lengths in the unit of the gears [in or mm].
    ValueError if the wanted spacing is not above 0.

    >>> from gearlab.parts import Gear, Mesh
    >>> wished(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), 80.0).text[-63:]
    'Wanted are 80.00 mm: this pair stands 1.250 mm nearer together.'
    """
    if not centre_distance > 0:
        raise ValueError(
            f"centre_distance is {centre_distance:g} {mesh.unit}; it must be above 0 {mesh.unit}"
        )
    scene = pair(mesh, turning=turning, width=width)
    lowest = min(shape.offset for shape in scene.having("dimension", Dimension))
    wanted = numerals.length(centre_distance, mesh.unit)
    added = scene.with_shapes(
        Dimension((0.0, 0.0), (centre_distance, 0.0), f"wanted {wanted}", lowest - 44 / scene.points_per_unit)
    )
    off = mesh.centre_distance - centre_distance
    stands = (
        f"this pair stands {numerals.length(abs(off), mesh.unit)}"
        f" {'nearer together' if off < 0 else 'further apart'}"
    )
    if numerals.vanishes(off, mesh.unit):
        stands = "which this pair has"
    return replace(
        added, text=f"{scene.text} Wanted are {wanted}: {stands}.", margin=(50.0, 26.0, 14.0, 26.0)
    )
