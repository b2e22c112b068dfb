"""What an idler feels: the pushes of both its neighbours, and what its shaft has to bear."""

from __future__ import annotations

import math

import numpy as np

from ...parts import idler as idler_shaft
from .. import numerals
from ..scene import Arc, Label, Line, Outline, Scene, Teeth
from .body import tooth_outline
from .train import seen, turning_arrow

NAMES = {"driver": "driver", "driven": "driven gear"}


def idler_push(
    train,
    tangential_force: float,
    *,
    idler: int = 1,
    unit: str = "N",
    turning: float = 1.0,
    width: float = 560.0,
) -> Scene:
    """An idler by itself with the tooth forces on it as arrows, and the sum of them on its shaft.

    Lengths of arrows follow the forces.

    Parameters
    ----------
    train : Train
        The row that the idler belongs to.
    tangential_force : float
        Tooth force along the pitch circle, the same in both meshes, above 0 [N, or the unit named].
    idler : int
        Number of its shaft, from 0 [-].
    unit : str
        Unit of the force for the labels [-].
    turning : float
        Which way the first gear turns, +1 counter-clockwise or -1 clockwise [-].
    width : float
        Width the picture is made for [points of the picture, 96 to the inch; -].

    Returns
    -------
    Scene
        Lengths in the unit of the gears [in or mm].

    Examples
    --------
    >>> from gearlab.parts import Train
    >>> idler_push(Train.of(18, 24, 45, module=2.5), 86).text
    'An idler of 24 teeth by itself: along the pitch circle the driver pushes it with 86 N and the driven gear holds it back with 86 N; its shaft bears 172 N in all.'
    """  # noqa: E501
    way = 1 if turning > 0 else -1
    parts = idler_shaft.pushes(train, tangential_force, idler, way)
    total = idler_shaft.load(train, tangential_force, idler, way)
    one = next(one for one in seen(train) if one.shaft == idler)
    gear, radius = one.gear, one.gear.pitch_diameter / 2
    per = 0.8 * radius / tangential_force
    x, y = one.centre
    shapes: list = [Teeth(tooth_outline(gear), gear.teeth, one.centre, one.angle, "gear")]
    shapes.append(turning_arrow(one, 0.45 * radius, way * train.directions[idler], 50.0))
    for number, role, (along, towards) in ((idler - 1, "driver", parts[:2]), (idler, "driven", parts[2:])):
        mesh, angle = train.meshes[number], train.line_angles[number]
        direction = angle + 180.0 if role == "driver" else angle  # from the idler to its neighbour
        mate = mesh.driver if role == "driver" else mesh.driven
        cos, sin = math.cos(math.radians(direction)), math.sin(math.radians(direction))
        point = (x + radius * cos, y + radius * sin)
        middle = (x + mesh.centre_distance * cos, y + mesh.centre_distance * sin)
        half = math.degrees(0.55 * radius / (mate.pitch_diameter / 2))
        shapes.append(
            Arc(
                middle,
                mate.pitch_diameter / 2,
                direction + 180 - half,
                direction + 180 + half,
                "pitch circle",
                role,
            )
        )
        shapes.append(Line(one.centre, (x + 1.25 * radius * cos, y + 1.25 * radius * sin), "line of centres"))
        shapes += [
            _arrow(point, along, per, 0.075 * radius, "marked tooth", role),
            _arrow(point, towards, per, 0.075 * radius, "marked tooth", role),
        ]
        inner = (point[0] + per * towards[0], point[1] + per * towards[1])
        shapes.append(
            Label(
                inner, _size(towards, unit), (0, math.copysign(17, -along[1])), "middle", "small", role, role
            )
        )
        tip = (point[0] + per * along[0], point[1] + per * along[1])
        side = math.copysign(1.0, cos) if abs(cos) > 0.3 else 0.0
        shapes.append(
            Label(
                tip,
                f"{NAMES[role]}\n{_size(along, unit)}",
                (14 * side, 0 if side else math.copysign(26, along[1])),
                {1.0: "start", -1.0: "end", 0.0: "middle"}[side],
                "small",
                role,
                role,
            )
        )
    if math.hypot(*total) > 0.02 * tangential_force:
        shapes.append(_arrow(one.centre, total, per, 0.1 * radius, "mark", ""))
        shapes.append(
            Label(
                one.centre,
                f"{_size(total, unit)}\non the shaft",
                (0, math.copysign(30, -total[1])),
                "middle",
                "normal",
                "dimension",
            )
        )
    text = (
        f"An idler of {gear.teeth} teeth by itself: along the pitch circle the driver pushes it with"
        f" {_size(parts[0], unit)} and the driven gear holds it back with {_size(parts[2], unit)}; its shaft"
        f" bears {_size(total, unit)} in all."
    )
    return Scene(
        tuple(shapes),
        text,
        train.unit,
        title=f"push on an idler of {gear.teeth} teeth",
        margin=(30.0, 90.0, 30.0, 90.0),
        width=width,
    )


def _size(force: tuple[float, float], unit: str) -> str:
    return f"{numerals.plain(math.hypot(*force), 1)} {unit}"


def _arrow(
    start: tuple[float, float], force: tuple[float, float], per: float, thick: float, role: str, of: str
) -> Outline:
    """A filled arrow from a point, as long as its force [unit of the scene]."""
    long = per * math.hypot(*force)
    head, half = min(3.2 * thick, 0.8 * long), thick / 2
    shape = np.array(
        [
            (0, half),
            (long - head, half),
            (long - head, 1.3 * thick),
            (long, 0),
            (long - head, -1.3 * thick),
            (long - head, -half),
            (0, -half),
        ]
    )
    cos, sin = force[0] * per / long, force[1] * per / long
    return Outline(shape @ np.array([[cos, sin], [-sin, cos]]) + np.asarray(start), role, of)
