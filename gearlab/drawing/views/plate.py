"""A pair of gears on its plate, with what a drawing of the plate states.

Holes from one corner, margins beyond the tips.
"""

from __future__ import annotations

import math

import numpy as np

from .. import numerals, style
from ..scene import Carry, Circle, Dimension, Dot, Label, Line, Outline, Scene
from ..svg import TYPE_WIDTH
from .body import body

LETTERS = {"driver": "A", "driven": "B"}


def margins(
    mesh, hole: tuple[float, float], line_angle: float, plate: tuple[float, float]
) -> dict[str, float]:
    """What is left of the plate beyond the tips of both gears, on each side.

    Below 0 they stand over [mesh.unit].

    Parameters
    ----------
    mesh : Mesh
        The pair.
    hole : (float, float)
        First hole, from the lower left corner [mesh.unit, in or mm].
    line_angle : float
        Direction from the first hole to the second, counter-clockwise from the lower edge [deg].
    plate : (float, float)
        Length and height of the plate [mesh.unit].

    Examples
    --------
    >>> from gearlab.parts import Gear, Mesh
    >>> margins(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), (53.75, 80.0), 0.0, (220.0, 160.0))
    {'left': 28.75, 'right': 28.75, 'bottom': 21.25, 'top': 21.25}
    """
    holes = second_hole(mesh, hole, line_angle)
    tips = (mesh.driver.outside_diameter / 2, mesh.driven.outside_diameter / 2)
    low = [min(one[axis] - tip for one, tip in zip((hole, holes), tips)) for axis in (0, 1)]
    high = [max(one[axis] + tip for one, tip in zip((hole, holes), tips)) for axis in (0, 1)]
    return {"left": low[0], "right": plate[0] - high[0], "bottom": low[1], "top": plate[1] - high[1]}


def second_hole(mesh, hole: tuple[float, float], line_angle: float) -> tuple[float, float]:
    """Where the second hole goes, (x, y) [mesh.unit]; parameters as for :func:`margins`."""
    turn = math.radians(line_angle)
    return hole[0] + mesh.centre_distance * math.cos(turn), hole[1] + mesh.centre_distance * math.sin(turn)


def plate(
    mesh,
    hole: tuple[float, float],
    line_angle: float = 0.0,
    *,
    size: tuple[float, float],
    hole_diameter: float = 10.0,
    control: str = "",
    width: float = 720.0,
) -> Scene:
    """The plate with both gears; holes are measured from the lower left corner.

    Parameters
    ----------
    mesh : Mesh
        The pair; its centre distance is that of the holes.
    hole : (float, float)
        The driver's hole [mesh.unit, in or mm].
    line_angle : float
        Direction from the driver's hole to the other, counter-clockwise from the lower edge [deg].
    size : (float, float)
        Length and height of the plate [mesh.unit].
    hole_diameter : float
        Of both holes [mesh.unit].
    control : str
        Name of the number that carrying the pair along changes, the driver's x; none if empty [-].
    width : float
        Width the picture is made for [points of the picture, 96 to the inch; -].

    Returns
    -------
    Scene
        In true proportions [mesh.unit].

    Examples
    --------
    >>> from gearlab.parts import Gear, Mesh
    >>> plate(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), (53.75, 80.0), size=(220.0, 160.0)).text
    'A plate of 220 by 160 mm with holes at (53.75, 80) and (132.5, 80) mm from the lower left corner; beyond the tips it leaves 28.75 mm left, 28.75 mm right, 21.25 mm bottom, 21.25 mm top.'
    """  # noqa: E501
    unit, places = mesh.unit, 2 if mesh.unit == "mm" else 4
    other = second_hole(mesh, hole, line_angle)
    left = margins(mesh, hole, line_angle, size)
    low = [min(0.0, left["left"]), min(0.0, left["bottom"])]
    high = [max(size[0], size[0] - left["right"]), max(size[1], size[1] - left["top"])]
    scale = (width - 166) / (high[0] - low[0])
    reach = mesh.driven.outside_diameter / 2
    carry = Carry(control, (1.0, 0.0), "Both gears", other, reach) if control else None
    shapes = [Outline(np.array([[0, 0], [size[0], 0], [size[0], size[1]], [0, size[1]]]), "gear", "gear")]
    angles = 0.0, mesh.alignment(0.0, line_angle)
    for role, gear, centre, angle in (
        ("driver", mesh.driver, hole, angles[0]),
        ("driven", mesh.driven, other, angles[1]),
    ):
        shapes += body(gear, role, centre, angle, carry, scale, marked=None)
        shapes += [
            Circle(centre, gear.outside_diameter / 2, "outside circle", role),
            Circle(centre, hole_diameter / 2, "hole"),
            Dot(centre, "centre"),
            Label(
                centre,
                LETTERS[role],
                (0, 20 if gear.root_diameter * scale > 70 else 15),
                size="large",
                role="letter",
                of=role,
            ),
        ]
    shapes.append(Line(hole, other, "line of centres"))
    for axis, names in ((0, ("left", "right")), (1, ("bottom", "top"))):
        for name, at_edge in zip(names, (True, False)):
            if abs(left[name]) < 1e-9:
                continue
            edge = 0.0 if at_edge else size[axis]
            tip = left[name] if at_edge else size[axis] - left[name]
            gear = mesh.driven if name in ("bottom", "top") or not at_edge else mesh.driver
            centre = other if gear is mesh.driven else hole
            ends = sorted((edge, tip))
            across = centre[1 - axis]
            points = [(value, across) if axis == 0 else (across, value) for value in ends]
            said = numerals.plain(left[name], places)
            # words wider than their line stand outside the plate: to the left of it stand dimensions of holes
            wide = (
                name == "right"
                and len(said) * style.TYPE["normal"] * TYPE_WIDTH + 24 > abs(left[name]) * scale
            )
            shapes.append(Dimension(*points, said, 0.0, text_at=int(wide)))
    shapes.append(Dimension((0.0, 0.0), (hole[0], 0.0), f"{numerals.plain(hole[0], places)}", -26 / scale))
    shapes.append(Dimension((0.0, 0.0), (other[0], 0.0), f"{numerals.plain(other[0], places)}", -62 / scale))
    shapes.append(Dimension((0.0, 0.0), (0.0, hole[1]), f"{numerals.plain(hole[1], places)}", 26 / scale))
    said = ", ".join(f"{numerals.plain(value, places)} {unit} {name}" for name, value in left.items())
    text = (
        f"A plate of {numerals.plain(size[0])} by {numerals.plain(size[1])} {unit} with holes at"
        f" ({numerals.plain(hole[0], places)}, {numerals.plain(hole[1], places)}) and"
        f" ({numerals.plain(other[0], places)}, {numerals.plain(other[1], places)}) {unit} from the lower"
        f" left corner; beyond the tips it leaves {said}."
    )
    return Scene(
        tuple(shapes),
        text,
        unit,
        title="plate",
        margin=(16.0, 56.0, 20.0, 90.0),
        width=width,
        bounds=(low[0], low[1] - 62 / scale, high[0], high[1]),
    )
