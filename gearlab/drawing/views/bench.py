"""Parts for the bench, drawn to be cut out, drilled or laid beside the real thing.

Nothing in them but what is measured.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from gearlab.theory.units import convert

from ...parts import Gear
from .. import numerals
from ..scene import Scene
from ..shapes import Circle, Dimension, Dot, Label, Line, Outline, Shape
from .stack import stack

_BESIDE = 20.0  # between upright dimension lines: their words stand beside them [mm]
_WIDEST = 140.0  # largest diameter drawn whole from the side [mm]
_DOTS = convert(96, "1/in", "1/mm")  # points of a picture to one millimetre in true size


def paper_gear(gear: Gear, *, bore: float | None = None) -> Scene:
    """A gear to be cut out of paper or card.

    Its outline, its pitch circle, its bore and centre, a marked tooth.

    Parameters
    ----------
    bore : float, optional
        Diameter of the bore, above 0 and below the root diameter [gear.unit, in or mm].

    Returns
    -------
    Scene
        In true size when put on a sheet [gear.unit].

    Raises
    ------
    ValueError
        For a bore that leaves no gear.

    Examples
    --------
    >>> from gearlab.parts import Gear
    >>> print(paper_gear(Gear(18, module=2.5), bore=10.0).text)
    A spur gear with 18 teeth, module 2.5, to be cut out: outside diameter 50.00 mm, pitch diameter
    45.00 mm, bore 10.00 mm.
    """
    if bore is not None and not 0 < bore < gear.root_diameter:
        raise ValueError(
            f"bore {bore:g} {gear.unit} is out of range: give more than 0 and less than the root diameter"
            f" {gear.root_diameter:.4g} {gear.unit}"
        )
    tip, scale = gear.outside_diameter / 2, gear.scale
    shapes: list[Shape] = [
        Outline(gear.outline()[:-1], "outline", "gear"),
        Circle((0.0, 0.0), gear.pitch_diameter / 2, "pitch circle", "gear"),
        Line((tip - 1.9 * scale, 0.0), (tip - 0.6 * scale, 0.0), "mark"),
    ]
    if bore is not None:
        shapes.append(Circle((0.0, 0.0), bore / 2, "hole"))
    shapes.append(Dot((0.0, 0.0), "centre"))
    middle = -((bore or 0.0) / 2 + gear.root_diameter / 2) / 2
    size = numerals.pitch_name(gear).replace("module ", "m ")
    shapes.append(
        Label(
            (0.0, middle),
            f"{gear.teeth}T {size}",
            size="small",
            room=1.7 * (gear.root_diameter / 2 + middle) + (bore or 0.0),
        )
    )
    text = (
        f"A spur gear with {gear.teeth} teeth, {numerals.pitch_name(gear)}, to be cut out: outside diameter"
        f" {numerals.length(gear.outside_diameter, gear.unit)}, pitch diameter"
        f" {numerals.length(gear.pitch_diameter, gear.unit)}"
        + (f", bore {numerals.length(bore, gear.unit)}." if bore else ".")
    )
    return Scene(tuple(shapes), text, gear.unit, title=gear.name)


def plate_sheet(board, holes) -> Scene:
    """A plate to be drilled: its edges, its holes with centre marks, dimensioned from the lower left corner.

    Parameters
    ----------
    board : Plate
        The plate [its unit].
    holes : sequence of Hole
        Its holes [unit of the plate].

    Returns
    -------
    Scene
        In true size when put on a sheet [unit of the plate].

    Examples
    --------
    >>> from gearlab.parts.plate import Hole, Plate
    >>> plate_sheet(Plate(220, 160, 6), (Hole("crank", 53.75, 80, 10),)).text
    'Plate plate_220x160x6 with 1 hole: crank at (53.75, 80) mm, diameter 10 mm, from the lower left corner.'
    """
    unit, places = board.unit, 3 if board.unit == "mm" else 4
    one = convert(1.0, "mm", unit)  # a millimetre on paper
    shapes: list[Shape] = [
        Outline(
            np.array([[0, 0], [board.length, 0], [board.length, board.height], [0, board.height]]),
            "outline",
            "gear",
        )
    ]
    for hole in holes:
        reach = hole.diameter / 2 + 4 * one
        shapes += [
            Circle((hole.x, hole.y), hole.diameter / 2, "hole"),
            Line((hole.x - reach, hole.y), (hole.x + reach, hole.y), "construction"),
            Line((hole.x, hole.y - reach), (hole.x, hole.y + reach), "construction"),
            Dot((hole.x, hole.y), "centre"),
            Label(
                (hole.x, hole.y + reach + 3 * one),
                f"{hole.name}, {numerals.plain(hole.diameter, places)} {unit}",
                size="small",
            ),
        ]
    across, up = sorted({hole.x for hole in holes}), sorted({hole.y for hole in holes})
    for number, place in enumerate(across):
        shapes.append(
            Dimension((0.0, 0.0), (place, 0.0), numerals.plain(place, places), -(6 + 7 * number) * one)
        )
    for number, height in enumerate(up):
        shapes.append(
            Dimension((0.0, 0.0), (0.0, height), numerals.plain(height, places), (6 + _BESIDE * number) * one)
        )
    # in a corner: the middle is where tiles of a large plate meet
    shapes.append(
        Label(
            (4 * one, board.height - 6 * one),
            f"{board.name}{', ' + board.material if board.material else ''}",
            size="small",
            align="start",
        )
    )
    said = "; ".join(
        f"{hole.name} at ({numerals.plain(hole.x, places)}, {numerals.plain(hole.y, places)}) {unit},"
        f" diameter {numerals.plain(hole.diameter, places)} {unit}"
        for hole in holes
    )
    text = (
        f"Plate {board.name} with {len(holes)} hole{'s' if len(holes) != 1 else ''}: {said}, from the lower"
        " left corner."
    )
    low = -(6 + _BESIDE * len(up)) * one, -(8 + 7 * len(across)) * one
    return Scene(
        tuple(shapes),
        text,
        unit,
        title=board.name,
        bounds=(low[0], low[1], board.length + 2 * one, board.height + 2 * one),
    )


def stack_sheet(design, shaft) -> Scene:
    """What is stacked along one shaft of a design, from the side, in true size along the shaft.

    Parameters
    ----------
    design : Design
        The design.
    shaft : ShaftTable
        One of its shafts [unit of the design].
    """
    pieces = [
        ("collar", shaft.behind, 1.8 * shaft.diameter, "collar"),
        ("plate", design.on_plate.thickness, 4 * shaft.diameter, "plate"),
    ]
    for one in design.gear:
        if one.shaft == shaft.name:
            gear = [
                ("hub", one.hub_projection, one.hub_diameter or 1.8 * shaft.diameter, "hub"),
                ("face", one.face_width, design.gears[one.name].outside_diameter, "face"),
            ]
            pieces += [
                ("gap", one.gap, 1.6 * shaft.diameter, "washer"),
                *(gear if one.hub_side == "plate" else gear[::-1]),
            ]
    pieces.append(("end", shaft.end, shaft.diameter, "end"))
    total = sum(length for _, length, _, _ in pieces)
    length = shaft.length or total
    # true size along and across, so that it can be laid beside the real thing; what would need a second page
    # across is broken off
    scene = stack(
        pieces,
        length,
        shaft_diameter=shaft.diameter,
        unit=design.unit,
        width=convert(max(total, length), design.unit, "mm") * _DOTS + 48,
        room=convert(_WIDEST, "mm", design.unit),
    )
    dot = convert(1 / _DOTS, "mm", design.unit)
    top, right, bottom, left = (side * dot for side in scene.margin)
    x0, y0, x1, y1 = scene.bounds
    return replace(
        scene,
        title=f"shaft {shaft.name}, from the side",
        bounds=(x0 - left, y0 - bottom, x1 + right, y1 + top),
    )
