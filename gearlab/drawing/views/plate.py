"""Gears on a plate: its holes and edges, and two gears where a design puts them, right or wrong."""

from __future__ import annotations

import math

import numpy as np

from ...parts import Gear, Mesh
from ...parts.alignment import aligned
from .. import numerals, style
from ..motion import Carry, Point
from ..scene import Scene
from ..shapes import Circle, Dimension, Label, Line, Outline, Shape
from ..svg import TYPE_WIDTH
from .centres import Couple, OnCentre, check_units, counts, extent


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
