"""A hub seen from its end: the bore with its shaft, the hole for the set screw, the screw in it."""

from __future__ import annotations

from collections.abc import Callable

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

    hub_diameter, bore_diameter: hub and bore [unit].
    drill_depth: depth of the hole from the hub's surface, full diameter [unit].
    screw_length: length of the set screw; it is drawn resting on the shaft, or on the bottom of a hole that
        does not reach it [unit].
    screw_diameter: thread diameter [unit].
    flat_depth: depth of the flat on the shaft [unit].
    window: least and greatest depth that are right, shown as a band [unit].
    unit: "mm" or "in".
    control: name of the number that dragging the bottom of the hole changes; none if empty.
    width: of the picture [points].
    In true proportions [unit].

    >>> print(hub(28.0, 10.0, 14.0, 8.0, flat_depth=0.5).text)
    A hub of 28 mm with a bore of 10 mm, seen from its end: the hole is 14 mm deep and opens into
    the bore; a set screw of 8 mm ends 1.5 mm below the surface.
    """
    places = 2 if unit == "mm" else 4
    outer, inner, half = hub_diameter / 2, bore_diameter / 2, screw_diameter / 2
    scale = (width - 270) / (hub_diameter * 1.05)
    bottom = outer - drill_depth
    # the screw rests on the shaft, or on the bottom of a hole that does not reach it
    rest = inner - flat_depth if drill_depth >= outer - inner else max(bottom, inner)
    top = rest + screw_length
    carry = Carry(control, (0.0, -1.0), "Bottom of the hole", (0.0, bottom), half) if control else None

    def say(length: float) -> str:
        return f"{numerals.plain(length, places)} {unit}"

    shapes = _section(outer, inner, half, bottom, flat_depth, carry)
    screw = np.array([[-half, rest], [half, rest], [half, top], [-half, top]]) * [0.86, 1.0]
    shapes += [
        Outline(screw, "driven"),
        Dot((0.0, 0.0), "centre"),
        Label((0.0, -0.45 * inner), "shaft", role="letter", size="small", of="driver", room=1.5 * inner),
    ]
    beside, below = -(outer - half + 30 / scale), -(outer + 26 / scale)
    shapes += [
        Dimension((-half, outer), (-half, bottom), f"depth {say(drill_depth)}", beside),
        Dimension((-outer, 0.0), (outer, 0.0), f"hub {say(hub_diameter)}", below),
    ]
    right = outer + 34 / scale
    shapes.append(Line((right, outer), (right, -outer), "construction"))
    if window:
        shapes += _band(window, right, outer, 7 / scale, places)
    shapes.append(Line((half, bottom), (right, bottom), "construction"))
    text = (
        f"A hub of {say(hub_diameter)} with a bore of {say(bore_diameter)}, seen from its end: the hole is"
        f" {say(drill_depth)} deep and {_opens(drill_depth, outer, inner, say)}; a set screw of"
        f" {say(screw_length)} {_ends(outer - top, say)}."
    )
    return Scene(
        tuple(shapes),
        text,
        unit,
        title="hub",
        margin=(12.0, 46.0 if unit == "mm" else 60.0, 44.0, 166.0),
        width=width,
        bounds=(-outer, -outer, right, max(outer, top) + 6 / scale),
    )


def _section(
    outer: float, inner: float, half: float, bottom: float, flat_depth: float, carry: Carry | None
) -> list[Shape]:
    """The hub, the hole for the screw, the bore and the shaft in it."""
    turns = np.radians(np.linspace(0, 360, 181))
    ring = outer * np.column_stack([np.cos(turns), np.sin(turns)])
    open_end = outer + 1.2 * half
    drilled = np.array([[-half, open_end], [-half, bottom], [half, bottom], [half, open_end]])
    # the hole first, the bore over it: what the drill took away of the air in the bore is not seen
    return [
        Outline(ring[:-1], "gear", "gear"),
        Outline(drilled, "hole", motion=carry),
        Circle((0.0, 0.0), inner, "hole"),
        Outline(_shaft(inner, flat_depth), "driver"),
    ]


def _band(window: tuple[float, float], right: float, outer: float, half: float, places: int) -> list[Shape]:
    """The depths that are right, as a band beside the hub with both its ends."""
    high, low = outer - window[0], outer - window[1]
    box = [[right - half, high], [right + half, high], [right + half, low], [right - half, low]]
    return [
        Outline(np.array(box), "shade"),
        *(
            Label((right, outer - depth), numerals.plain(depth, places), (14, 0), align="start", size="small")
            for depth in window
        ),
    ]


def _opens(drill_depth: float, outer: float, inner: float, say: Callable[[float], str]) -> str:
    """Where a hole from the surface ends."""
    if drill_depth > outer + inner:
        return f"bites {say(drill_depth - outer - inner)} into the far wall"
    if drill_depth >= outer - inner:
        return "opens into the bore"
    return f"ends {say(outer - inner - drill_depth)} short of the bore"


def _ends(below: float, say: Callable[[float], str]) -> str:
    """Where the screw ends, from how far below the surface."""
    if below > 1e-9:
        return f"ends {say(below)} below the surface"
    return "ends flush with the surface" if below > -1e-9 else f"projects {say(-below)} from the hub"


def _shaft(radius: float, flat: float) -> np.ndarray:
    """The shaft's section with its flat on top."""
    angle = np.arccos(min(1.0, max(-1.0, (radius - flat) / radius)))
    turns = np.linspace(np.pi / 2 + angle, np.pi / 2 - angle + 2 * np.pi, 121)
    return radius * np.column_stack([np.cos(turns), np.sin(turns)])
