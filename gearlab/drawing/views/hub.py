"""A hub seen from its end: the bore with its shaft, the hole for the set screw, the screw in it."""

from __future__ import annotations

import numpy as np

from .. import numerals
from ..motion import Carry
from ..scene import Scene
from ..shapes import Circle, Dimension, Dot, Label, Line, Outline, Shape


def hub(
    hub_diameter: float,
    bore_diameter: float,
    drill_depth: float,
    screw_length: float,
    *,
    screw_diameter: float = 5.0,
    flat_depth: float = 0.0,
    window: tuple[float, float] | None = None,
    unit: str = "mm",
    control: str = "",
    width: float = 600.0,
) -> Scene:
    """A hub from its end, cut through the set screw; beside it the depths that are right.

    Parameters
    ----------
    hub_diameter, bore_diameter : float
        Hub and bore [unit].
    drill_depth : float
        Depth of the hole from the hub's surface, full diameter [unit].
    screw_length : float
        Length of the set screw; it is drawn resting on the shaft, or on the bottom of a hole that does not
        reach it [unit].
    screw_diameter : float
        Thread diameter [unit].
    flat_depth : float
        Depth of the flat on the shaft [unit].
    window : pair of float, optional
        Least and greatest depth that are right, shown as a band [unit].
    unit : str
        "mm" or "in" [-].
    control : str
        Name of the number that dragging the bottom of the hole changes; none if empty [-].
    width : float
        Width the picture is made for [points of the picture, 96 to the inch; -].

    Returns
    -------
    Scene
        In true proportions [unit].

    Examples
    --------
    >>> hub(28.0, 10.0, 14.0, 8.0, flat_depth=0.5).text
    'A hub of 28 mm with a bore of 10 mm, seen from its end: the hole is 14 mm deep and opens into the bore; a set screw of 8 mm ends 1.5 mm below the surface.'
    """  # noqa: E501
    places = 2 if unit == "mm" else 4
    outer, inner, half = hub_diameter / 2, bore_diameter / 2, screw_diameter / 2
    scale = (width - 270) / (hub_diameter * 1.05)
    bottom = outer - drill_depth
    reaches = drill_depth >= outer - inner
    rest = inner - flat_depth if reaches else max(bottom, inner)
    top = rest + screw_length
    carry = Carry(control, (0.0, -1.0), "Bottom of the hole", (0.0, bottom), half) if control else None
    turns = np.radians(np.linspace(0, 360, 181))
    ring = outer * np.column_stack([np.cos(turns), np.sin(turns)])
    # the hole first, the bore over it: what the drill took away of the air in the bore is not seen
    drilled = np.array(
        [[-half, outer + 1.2 * half], [-half, bottom], [half, bottom], [half, outer + 1.2 * half]]
    )
    shapes: list[Shape] = [
        Outline(ring[:-1], "gear", "gear"),
        Outline(drilled, "hole", motion=carry),
        Circle((0.0, 0.0), inner, "hole"),
        Outline(_shaft(inner, flat_depth), "driver"),
    ]
    shapes.append(
        Outline(np.array([[-half, rest], [half, rest], [half, top], [-half, top]]) * [0.86, 1.0], "driven")
    )
    shapes.append(Dot((0.0, 0.0), "centre"))
    shapes.append(
        Label((0.0, -0.45 * inner), "shaft", role="letter", size="small", of="driver", room=1.5 * inner)
    )
    shapes.append(
        Dimension(
            (-half, outer),
            (-half, bottom),
            f"depth {numerals.plain(drill_depth, places)} {unit}",
            -(outer - half + 30 / scale),
            text_at=0,
        )
    )
    shapes.append(
        Dimension(
            (-outer, 0.0),
            (outer, 0.0),
            f"hub {numerals.plain(hub_diameter, places)} {unit}",
            -(outer + 26 / scale),
        )
    )
    right = outer + 34 / scale
    shapes.append(Line((right, outer), (right, -outer), "construction"))
    if window:
        box = np.array(
            [
                [right - 7 / scale, outer - window[0]],
                [right + 7 / scale, outer - window[0]],
                [right + 7 / scale, outer - window[1]],
                [right - 7 / scale, outer - window[1]],
            ]
        )
        shapes.append(Outline(box, "shade"))
        shapes += [
            Label(
                (right, outer - depth),
                f"{numerals.plain(depth, places)}",
                (14, 0),
                align="start",
                size="small",
            )
            for depth in window
        ]
    shapes.append(Line((half, bottom), (right, bottom), "construction"))
    opens = (
        "opens into the bore"
        if reaches
        else f"ends {numerals.plain(outer - inner - drill_depth, places)} {unit} short of the bore"
    )
    if drill_depth > outer + inner:
        opens = f"bites {numerals.plain(drill_depth - outer - inner, places)} {unit} into the far wall"
    below = outer - top
    ends = (
        f"ends {numerals.plain(below, places)} {unit} below the surface"
        if below > 1e-9
        else (
            "ends flush with the surface"
            if below > -1e-9
            else f"stands {numerals.plain(-below, places)} {unit} out of the hub"
        )
    )
    text = (
        f"A hub of {numerals.plain(hub_diameter, places)} {unit} with a bore of"
        f" {numerals.plain(bore_diameter, places)} {unit}, seen from its end: the hole is"
        f" {numerals.plain(drill_depth, places)} {unit} deep and {opens}; a set screw of"
        f" {numerals.plain(screw_length, places)} {unit} {ends}."
    )
    highest = max(outer, top) + 6 / scale
    return Scene(
        tuple(shapes),
        text,
        unit,
        title="hub",
        margin=(12.0, 46.0 if unit == "mm" else 60.0, 44.0, 166.0),
        width=width,
        bounds=(-outer, -outer, right, highest),
    )


def _shaft(radius: float, flat: float) -> np.ndarray:
    """The shaft's section with its flat on top."""
    angle = np.arccos(min(1.0, max(-1.0, (radius - flat) / radius)))
    turns = np.linspace(np.pi / 2 + angle, np.pi / 2 - angle + 2 * np.pi, 121)
    return radius * np.column_stack([np.cos(turns), np.sin(turns)])
