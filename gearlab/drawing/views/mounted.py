"""Two gears with their hubs where a design puts them on its plate, right or wrong."""

from __future__ import annotations

import math

import numpy as np

from gearlab.parts.mesh import Mesh

from .. import numerals
from ..scene import Circle, Dimension, Dot, Label, Line, Outline, Scene, Teeth, Turn
from .body import body, tooth_outline


def mounted(
    driver,
    driven,
    holes: tuple[tuple[float, float], tuple[float, float]],
    *,
    size: tuple[float, float],
    bore: float = 10.0,
    hubs: tuple[float, float] = (0.0, 0.0),
    room: float | None = None,
    width: float = 720.0,
) -> Scene:
    """A plate with two gears on it, at any distance.

    They turn where their teeth reach each other without overlapping.

    Parameters
    ----------
    driver, driven : Gear
        The gears, of one unit.
    holes : pair of (x, y)
        Both holes, from the lower left corner [unit of the gears, in or mm].
    size : (float, float)
        Length and height of the plate [in or mm].
    bore : float
        Diameter of both bores [in or mm].
    hubs : (float, float)
        Diameters of both hubs, 0 for none [in or mm].
    room : float, optional
        Greatest length of plate the picture has room for; then its scale stays the same [in or mm].
    width : float
        Width the picture is made for [points of the picture, 96 to the inch; -].

    Returns
    -------
    Scene
        In true proportions [unit of the gears].

    Raises
    ------
    ValueError
        If the units differ.

    Examples
    --------
    >>> from gearlab.parts import Gear
    >>> mounted(Gear(18, module=2.5), Gear(45, module=2.5), ((53.75, 80.0), (137.5, 80.0)), size=(220.0, 160.0)).text
    'A plate of 220 by 160 mm; holes 83.75 mm apart carry 18 and 45 teeth, module 2.5: the tips do not reach each other.'
    """  # noqa: E501
    if driver.unit != driven.unit:
        raise ValueError(
            f"the gears have different units, {driver.unit} and {driven.unit}: give both a module or both a"
            " diametral pitch"
        )
    unit, (first, second) = driver.unit, holes
    across, up = second[0] - first[0], second[1] - first[1]
    distance, angle = math.hypot(across, up), math.degrees(math.atan2(up, across))
    tips = [gear.outside_diameter / 2 for gear in (driver, driven)]
    apart = distance >= sum(tips) - 1e-9
    jammed = not apart and _jammed(driver, driven, distance)
    long = max(room or size[0], size[0], second[0] + tips[1])
    scale = (width - 36) / long
    # a space of the driven gear faces the driver's tooth
    angles = 0.0, angle + 180.0 - 180.0 / driven.teeth + angle * driver.teeth / driven.teeth
    speeds = 1.0, 0.0 if apart else -driver.teeth / driven.teeth
    shapes = [Outline(np.array([[0, 0], [size[0], 0], [size[0], size[1]], [0, size[1]]]), "gear", "gear")]
    for role, gear, centre, start, speed, hub in zip(
        ("driver", "driven"), (driver, driven), holes, angles, speeds, hubs
    ):
        motion = (
            None
            if jammed
            else Turn(
                centre,
                speed,
                f"{role.capitalize()} {'AB'[role == 'driven']}, {gear.teeth} teeth",
                360 / gear.teeth,
                gear.outside_diameter / 2,
            )
        )
        shapes += body(gear, role, centre, start, motion, scale, marked=0 if role == "driver" else None)
        # the driver's outline once more: where the teeth overlap, both are seen
        if jammed and role == "driven":
            shapes.append(Teeth(tooth_outline(driver), driver.teeth, first, angles[0], "outline", "driver"))
        shapes += [Circle(centre, hub / 2, "flank", role)] if hub else []
        shapes += [
            Circle(centre, bore / 2, "hole"),
            Dot(centre, "centre"),
            Label(
                centre,
                "AB"[role == "driven"],
                (0, 20 if gear.root_diameter * scale > 90 else 13),
                size="large",
                role="letter",
                of=role,
            ),
        ]
    shapes.append(Line(first, second, "line of centres"))
    low = min(0.0, min(place[1] - tip for place, tip in zip(holes, tips)))
    places = 2 if unit == "mm" else 4
    shapes += [
        (
            Dimension(
                first,
                second,
                f"holes {numerals.plain(round(distance, places), places)}",
                (low - min(first[1], second[1])) - 26 / scale,
            )
            if abs(up) < 1e-9
            else Dimension(first, second, numerals.plain(round(distance, places), places), 0.0)
        ),
        Dimension((0.0, low), (size[0], low), f"plate {numerals.plain(size[0], places)}", -58 / scale),
    ]
    state = (
        "the tips do not reach each other" if apart else "the teeth overlap" if jammed else "the teeth mesh"
    )
    text = (
        f"A plate of {numerals.plain(size[0])} by {numerals.plain(size[1])} {unit}; holes"
        f" {numerals.plain(round(distance, places), places)} {unit} apart carry {driver.teeth} and"
        f" {driven.teeth} teeth, {numerals.pitch_name(driver)}: {state}."
    )
    return Scene(
        tuple(shapes),
        text,
        unit,
        title="mounted pair",
        margin=(14.0, 18.0, 12.0, 18.0),
        width=width,
        bounds=(
            min(0.0, first[0] - tips[0]),
            low - 62 / scale,
            long,
            max(size[1], max(place[1] + tip for place, tip in zip(holes, tips))),
        ),
    )


def _jammed(driver, driven, distance: float) -> bool:
    """Whether the teeth are thicker than the spaces at a distance [unit of the gears]."""
    try:
        return Mesh(driver, driven, centre_distance=distance).backlash < -1e-6 * driver.scale
    except ValueError:  # nearer than the base circles let them stand
        return True
