"""Two gears with their hubs where a design puts them on its plate, right or wrong."""

from __future__ import annotations

import math

import numpy as np

from ...parts import Gear, Mesh
from ...parts.alignment import aligned
from .. import numerals
from ..scene import Scene
from ..shapes import Circle, Dimension, Label, Line, Outline, Shape
from .centres import OnCentre, check_units, counts, extent


def mounted(
    driver: Gear,
    driven: Gear,
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

    driver, driven: the gears, of one unit.
    holes: both holes, from the lower left corner [unit of the gears, in or mm].
    size: length and height of the plate [in or mm].
    bore: diameter of both bores [in or mm].
    hubs: diameters of both hubs, 0 for none [in or mm].
    room: greatest length of plate the picture has room for; then its scale stays the same [in or mm].
    width: of the picture [points].
    In true proportions [unit of the gears].
    ValueError if the units differ.

    >>> from gearlab.parts import Gear
    >>> holes = (53.75, 80.0), (137.5, 80.0)
    >>> print(mounted(Gear(18, module=2.5), Gear(45, module=2.5), holes, size=(220.0, 160.0)).text)
    A plate of 220 by 160 mm; holes 83.75 mm apart carry 18 and 45 teeth, module 2.5: the tips do
    not reach each other.
    """
    check_units(driver, driven)
    unit, (first, second) = driver.unit, holes
    across, up = second[0] - first[0], second[1] - first[1]
    distance, angle = math.hypot(across, up), math.degrees(math.atan2(up, across))
    tips = driver.outside_diameter / 2, driven.outside_diameter / 2
    apart = distance >= sum(tips) - 1e-9
    jammed = not apart and _jammed(driver, driven, distance)
    speed = 0.0 if apart or jammed else Mesh(driver, driven).speed(1.0)
    gears = (
        OnCentre(driver, "driver", first),
        OnCentre(driven, "driven", second, aligned(driver.teeth, driven.teeth, 0.0, angle), speed),
    )
    long = max(room or size[0], size[0], second[0] + tips[1])
    scale = (width - 36) / long
    shapes: list[Shape] = [Outline(np.array([[0, 0], [size[0], 0], size, [0, size[1]]]), "gear", "gear")]
    for seen, hub, marked in zip(gears, hubs, (0, None)):
        shapes += seen.body(scale, None if jammed else seen.turn(), marked)
        # the driver's outline once more: where the teeth overlap, both are seen
        if jammed and seen is gears[1]:
            shapes.append(gears[0].teeth("outline"))
        shapes += [Circle(seen.centre, hub / 2, "flank", seen.role)] if hub else []
        shapes += seen.plate_marks(bore, scale, 90, 13)
    shapes.append(Line(first, second, "line of centres"))
    low = min(0.0, extent(gears, axis=1)[0])
    places = 2 if unit == "mm" else 4
    between = numerals.plain(round(distance, places), places)
    high = max(size[1], extent(gears, axis=1)[1])
    level, tips_low = abs(up) < 1e-9, extent(gears, axis=1)[0]
    inside = tips_low > 34 / scale  # room on the plate below the gears
    under = tips_low if inside else low
    below = (under - first[1]) - 24 / scale if level else 0.0
    shapes.append(Dimension(first, second, f"holes {between}" if level else between, below))
    plate = f"plate {numerals.plain(size[0], places)} \u00d7 {numerals.plain(size[1], places)}"
    corner = min(0.0, first[0] - tips[0]), high
    shapes.append(Label(corner, plate, (10.0, -16.0), "start", "small", "dimension"))
    state = (
        "the tips do not reach each other" if apart else "the teeth overlap" if jammed else "the teeth mesh"
    )
    return Scene(
        tuple(shapes),
        f"A plate of {numerals.plain(size[0])} by {numerals.plain(size[1])} {unit}; holes {between}"
        f" {unit} apart carry {counts(driver, driven)}, {numerals.pitch_name(driver)}: {state}.",
        unit,
        title="mounted pair",
        margin=(6.0, 14.0, 6.0, 14.0),
        width=width,
        focus=((first[0] + tips[0] + second[0] - tips[1]) / 2, (first[1] + second[1]) / 2, 10 * driver.scale),
        bounds=(min(0.0, first[0] - tips[0]), low if inside else low - 30 / scale, long, high),
    )


def _jammed(driver: Gear, driven: Gear, distance: float) -> bool:
    """Whether the teeth are thicker than the spaces at a distance [unit of the gears]."""
    try:
        return Mesh(driver, driven, centre_distance=distance).backlash < -1e-6 * driver.scale
    except ValueError:  # nearer than the base circles let them stand
        return True
