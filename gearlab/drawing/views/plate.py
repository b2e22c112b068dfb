"""A pair of gears on its plate, with what a drawing of the plate states.

Holes from one corner, margins beyond the tips.
"""

from __future__ import annotations

import math

import numpy as np

from ...parts import Mesh
from .. import numerals, style
from ..motion import Carry, Point
from ..scene import Scene
from ..shapes import Dimension, Line, Outline, Shape
from ..svg import TYPE_WIDTH
from .centres import Couple, OnCentre, extent


def margins(
    mesh: Mesh, hole: tuple[float, float], line_angle: float, plate: tuple[float, float]
) -> dict[str, float]:
    """What is left of the plate beyond the tips of both gears, on each side.

    Below 0 they stand over [mesh.unit].

    hole: first hole, from the lower left corner [mesh.unit, in or mm].
    line_angle: direction from the first hole to the second, counter-clockwise from the lower edge [deg].
    plate: length and height of the plate [mesh.unit].

    >>> from gearlab.parts import Gear, Mesh
    >>> margins(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), (53.75, 80.0), 0.0, (220.0, 160.0))
    {'left': 28.75, 'right': 28.75, 'bottom': 21.25, 'top': 21.25}
    """
    gears = (
        OnCentre(mesh.driver, "driver", hole),
        OnCentre(mesh.driven, "driven", second_hole(mesh, hole, line_angle)),
    )
    (left, right), (low, high) = extent(gears), extent(gears, axis=1)
    return {"left": left, "right": plate[0] - right, "bottom": low, "top": plate[1] - high}


def second_hole(mesh: Mesh, hole: tuple[float, float], line_angle: float) -> tuple[float, float]:
    """Where the second hole goes, (x, y) [mesh.unit]; parameters as for :func:`margins`."""
    turn = math.radians(line_angle)
    return hole[0] + mesh.centre_distance * math.cos(turn), hole[1] + mesh.centre_distance * math.sin(turn)


def plate(
    mesh: Mesh,
    hole: tuple[float, float],
    line_angle: float = 0.0,
    *,
    size: tuple[float, float],
    hole_diameter: float = 10.0,
    control: str = "",
    width: float = 720.0,
) -> Scene:
    """The plate with both gears; holes are measured from the lower left corner.

    mesh: the pair; its centre distance is that of the holes.
    hole: the driver's hole [mesh.unit, in or mm].
    line_angle: direction from the driver's hole to the other, counter-clockwise from the lower edge [deg].
    size: length and height of the plate [mesh.unit].
    hole_diameter: of both holes [mesh.unit].
    control: name of the number that carrying the pair along changes, the driver's x; none if empty.
    width: of the picture [points].
    In true proportions [mesh.unit].

    >>> from gearlab.parts import Gear, Mesh
    >>> pair = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
    >>> print(plate(pair, (53.75, 80.0), size=(220.0, 160.0)).text)
    A plate of 220 by 160 mm with holes at (53.75, 80) and (132.5, 80) mm from the lower left
    corner; beyond the tips it leaves 28.75 mm left, 28.75 mm right, 21.25 mm bottom, 21.25 mm top.
    """
    unit, places = mesh.unit, 2 if mesh.unit == "mm" else 4
    gears = (
        OnCentre(mesh.driver, "driver", hole),
        OnCentre(
            mesh.driven,
            "driven",
            second_hole(mesh, hole, line_angle),
            mesh.alignment(0.0, line_angle),
        ),
    )
    other = gears[1].centre
    left = margins(mesh, hole, line_angle, size)
    low = [min(0.0, left["left"]), min(0.0, left["bottom"])]
    high = [max(size[0], size[0] - left["right"]), max(size[1], size[1] - left["top"])]
    right = 56.0 if unit == "mm" else 84.0  # for words that stand outside: inches have more places
    scale = (width - 110 - right) / (high[0] - low[0])
    carry = Carry(control, (1.0, 0.0), "Both gears", other, gears[1].tip) if control else None
    shapes: list[Shape] = [Outline(np.array([[0, 0], [size[0], 0], size, [0, size[1]]]), "gear", "gear")]
    for seen in gears:
        shapes += seen.body(scale, carry, marked=None)
        shapes += [seen.circle("outside circle"), *seen.plate_marks(hole_diameter, scale, 70, 15)]
    shapes.append(Line(hole, other, "line of centres"))
    shapes += _margins(gears, left, size, places, scale)
    for end, level in (
        ((hole[0], 0.0), -24),
        ((other[0], 0.0), -54),
        ((0.0, hole[1]), 26),
    ):
        words = numerals.plain(max(end, key=abs), places)
        shapes.append(Dimension((0.0, 0.0), end, words, level / scale))

    def place(at: Point) -> str:
        return f"({numerals.plain(at[0], places)}, {numerals.plain(at[1], places)})"

    leaves = ", ".join(f"{numerals.plain(value, places)} {unit} {name}" for name, value in left.items())
    return Scene(
        tuple(shapes),
        f"A plate of {numerals.plain(size[0])} by {numerals.plain(size[1])} {unit} with holes at"
        f" {place(hole)} and {place(other)} {unit} from the lower left corner; beyond the tips it leaves"
        f" {leaves}.",
        unit,
        title="plate",
        margin=(8.0, right, 14.0, 90.0),
        focus=(*_between(hole, other, mesh), 10.0 * mesh.driver.scale),
        width=width,
        bounds=(low[0], low[1] - 54 / scale, high[0], high[1]),
    )


def _between(hole: Point, other: Point, mesh: Mesh) -> Point:
    """Where the pitch circles touch on the line of centres."""
    share = mesh.operating_pitch_diameters[0] / 2 / mesh.centre_distance
    return hole[0] + share * (other[0] - hole[0]), hole[1] + share * (other[1] - hole[1])


def _margins(
    gears: Couple, left: dict[str, float], size: tuple[float, float], places: int, scale: float
) -> list[Shape]:
    """From the tips to each edge, over the gear that comes nearest to it."""
    driver, driven = gears
    shapes: list[Shape] = []
    for name, room in left.items():
        if abs(room) < 1e-9:
            continue
        axis, at_edge = int(name in ("bottom", "top")), name in ("left", "bottom")
        edge, tip = (0.0, room) if at_edge else (size[axis], size[axis] - room)
        across = (driver if name == "left" else driven).centre[1 - axis]
        start, end = ((value, across) if axis == 0 else (across, value) for value in sorted((edge, tip)))
        words = numerals.plain(room, places)
        # words wider than their line stand outside the plate: to the left of it stand dimensions of holes
        wide = name == "right" and len(words) * style.TYPE["normal"] * TYPE_WIDTH + 24 > abs(room) * scale
        shapes.append(Dimension(start, end, words, 0.0, text_at=int(wide)))
    return shapes
