"""What an idler feels: the pushes of both its neighbours, and what its shaft has to bear."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from ...parts import Mesh, Train
from ...parts import idler as idler_shaft
from .. import numerals
from ..motion import Point
from ..scene import Scene
from ..shapes import Arc, Label, Line, Outline, Shape, turned
from .centres import OnCentre
from .train import seen, turning_arrow

Force = tuple[float, float]  # to the right and up, in the unit of the force
NAMES = {"driver": "driver", "driven": "driven gear"}


def idler_push(
    train: Train,
    tangential_force: float,
    *,
    idler: int = 1,
    unit: str = "N",
    turning: float = 1.0,
    width: float = 560.0,
) -> Scene:
    """An idler by itself with the tooth forces on it as arrows, and the sum of them on its shaft.

    Lengths of arrows follow the forces.

    train: the row that the idler belongs to.
    tangential_force: tooth force along the pitch circle, the same in both meshes, above 0 [N, or the unit
        named].
    idler: number of its shaft, from 0 [-].
    unit: unit of the force for the labels.
    turning: which way the first gear turns, +1 counter-clockwise or -1 clockwise [-].
    width: of the picture [points].
    Lengths in the unit of the gears [in or mm].

    >>> from gearlab.parts import Train
    >>> print(idler_push(Train.of(18, 24, 45, module=2.5), 86).text)
    An idler of 24 teeth by itself: along the pitch circle the driver pushes it with 86 N and the
    driven gear holds it back with 86 N; its shaft carries 172 N in all.
    """
    way = 1 if turning > 0 else -1
    parts = idler_shaft.pushes(train, tangential_force, idler, way)
    total = idler_shaft.load(train, tangential_force, idler, way)
    gear = next(gear for gear in seen(train) if gear.shaft == idler)
    radius = gear.gear.pitch_diameter / 2
    per = 0.8 * radius / tangential_force
    shapes: list[Shape] = [
        gear.teeth(),
        turning_arrow(gear, 0.45 * radius, way * train.directions[idler], 50.0),
    ]
    for number, role, pushes in ((idler - 1, "driver", parts[:2]), (idler, "driven", parts[2:])):
        mesh, angle = train.meshes[number], train.line_angles[number]
        direction = angle + 180.0 if role == "driver" else angle  # from the idler to its neighbour
        shapes += _neighbour(gear, mesh, direction, role)
        at = turned((gear.centre[0] + radius, gear.centre[1]), gear.centre, direction)
        shapes += _pushes(at, pushes, per, 0.075 * radius, unit, role, direction)
    if math.hypot(*total) > 0.02 * tangential_force:
        words, below = f"{_size(total, unit)}\non the shaft", math.copysign(30, -total[1])
        shapes += [
            _arrow(gear.centre, total, per, 0.1 * radius, "mark", ""),
            Label(gear.centre, words, (0, below), "middle", "normal", "dimension"),
        ]
    text = (
        f"An idler of {gear.gear.teeth} teeth by itself: along the pitch circle the driver pushes it with"
        f" {_size(parts[0], unit)} and the driven gear holds it back with {_size(parts[2], unit)}; its shaft"
        f" carries {_size(total, unit)} in all."
    )
    return Scene(
        tuple(shapes),
        text,
        train.unit,
        title=f"push on an idler of {gear.gear.teeth} teeth",
        margin=(30.0, 90.0, 30.0, 90.0),
        width=width,
    )


def _neighbour(gear: OnCentre, mesh: Mesh, direction: float, role: str) -> list[Shape]:
    """A bit of the pitch circle of the gear it meshes with, and the way to it [deg]."""
    (x, y), radius = gear.centre, gear.gear.pitch_diameter / 2
    mate = (mesh.driver if role == "driver" else mesh.driven).pitch_diameter / 2
    middle = turned((x + mesh.centre_distance, y), gear.centre, direction)
    half = math.degrees(0.55 * radius / mate)
    end = turned((x + 1.25 * radius, y), gear.centre, direction)
    return [
        Arc(middle, mate, direction + 180 - half, direction + 180 + half, "pitch circle", role),
        Line(gear.centre, end, "line of centres"),
    ]


def _pushes(
    at: Point,
    pushes: Sequence[Force],
    per: float,
    thick: float,
    unit: str,
    role: str,
    direction: float,
) -> list[Shape]:
    """The two parts of a tooth force, along the pitch circle and towards the centre, with their sizes."""
    along, towards = pushes
    inner = (at[0] + per * towards[0], at[1] + per * towards[1])
    tip = (at[0] + per * along[0], at[1] + per * along[1])
    cos = math.cos(math.radians(direction))
    side = math.copysign(1.0, cos) if abs(cos) > 0.3 else 0.0
    beside = (14 * side, 0 if side else math.copysign(26, along[1]))
    align = {1.0: "start", -1.0: "end", 0.0: "middle"}[side]
    words, away = _size(towards, unit), math.copysign(17, -along[1])
    return [
        _arrow(at, along, per, thick, "marked tooth", role),
        _arrow(at, towards, per, thick, "marked tooth", role),
        Label(inner, words, (0, away), "middle", "small", role, role),
        Label(tip, f"{NAMES[role]}\n{_size(along, unit)}", beside, align, "small", role, role),
    ]


def _size(force: Force, unit: str) -> str:
    return f"{numerals.plain(math.hypot(*force), 1)} {unit}"


def _arrow(start: Point, force: Force, per: float, thick: float, role: str, of: str) -> Outline:
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
