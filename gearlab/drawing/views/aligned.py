"""Two gears at any angles, lined up or not.

Where their teeth overlap, and the angles at which nothing does.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from ...parts import Gear, Mesh
from .. import numerals
from ..scene import Scene
from ..shapes import Arc, Dot, Label, Line, Outline, Shape, Strokes, point, rectangle
from .centres import SIDES, Couple, OnCentre, counts, extent

OVER = 0.125  # how far the scale of angles goes on beyond one pitch, at either end [pitches]
# height of the two gears at the most, for the sizes of the scale below them [points of the picture]
TALLEST = 500.0
BAND = 15.0  # height of the scale's band [points of the picture]


def aligned(
    mesh: Mesh,
    driver_angle: float,
    driven_angle: float,
    *,
    line_angle: float = 0.0,
    window: tuple[float, float] | None = None,
    banded: bool = True,
    controls: tuple[str, str] | None = None,
    width: float = 720.0,
) -> Scene:
    """Driver A and driven B with their marked teeth at given angles.

    Below, a scale of one pitch with the free window.

    driver_angle, driven_angle: where the marked teeth stand, counter-clockwise from +x [deg].
    line_angle: direction from the driver's shaft to the driven gear's, counter-clockwise from +x [deg].
    window: middle and width of the angles of the driven gear at which nothing overlaps [deg]; no scale if
        left out.
    banded: whether the scale shows that window.
    controls: names of the numbers that turning the driver and the driven gear by hand changes.
    width: of the picture [points].
    Lengths in the unit of the gears [in or mm]; the scale of angles below is not to be measured.

    >>> from gearlab.parts import Gear, Mesh
    >>> aligned(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), 0.0, 0.0).text[-37:]
    'the teeth overlap nowhere, 0.000 mm².'
    """
    driver, driven, unit = mesh.driver, mesh.driven, mesh.unit
    turn = math.radians(line_angle)
    along = np.array([math.cos(turn), math.sin(turn)])
    gears = (
        OnCentre(driver, "driver", angle=driver_angle),
        OnCentre(driven, "driven", point(mesh.centre_distance * along), driven_angle),
    )
    (x0, x1), (y0, y1) = extent(gears), extent(gears, axis=1)
    # a picture of shafts above each other is limited by its height
    scale = min((width - SIDES) / (x1 - x0), TALLEST / (y1 - y0))
    shapes: list[Shape] = []
    for seen, control in zip(gears, controls or ("", ""), strict=True):
        shapes += seen.body(scale, seen.swing(control))
    area = mesh.overlap_area(driver_angle, driven_angle, line_angle)
    if area:
        shapes.append(gears[0].teeth("outline"))
        pieces = mesh.overlaps(driver_angle, driven_angle, line_angle)
        shapes += [Outline(piece, "overlap") for piece in pieces]
    ends = -0.3 * driver.pitch_diameter * along, (mesh.centre_distance + 0.3 * driven.pitch_diameter) * along
    shapes.append(Line(point(ends[0]), point(ends[1]), "line of centres"))
    shapes += [seen.circle("pitch circle", size) for seen, size in zip(gears, mesh.operating_pitch_diameters)]
    touching = point(mesh.operating_pitch_diameters[0] / 2 * along)
    shapes.append(Dot(touching, "pitch point"))
    for seen in gears:
        shapes += _turned(seen, scale)
    low = y0
    if window:
        strip, low = _scale(driven, driven_angle, window if banded else None, (x0, x1), y0, scale)
        shapes += strip
    return Scene(
        tuple(shapes),
        _sentence(gears, line_angle, area),
        unit,
        title=counts(driver, driven),
        margin=(12.0, 12.0, 56.0 if window else 12.0, 12.0),
        focus=(*touching, 10 * driver.scale),
        width=width,
        bounds=(x0, low, x1, y1),
    )


def _sentence(gears: Couple, line_angle: float, area: float) -> str:
    """Where both marked teeth stand, and how far the teeth overlap."""
    driver, driven = gears
    unit = driver.gear.unit
    line = "a level line of centres"
    if line_angle % 360:
        line = f"a line of centres at {numerals.plain(line_angle, 2)}\u00b0"
    overlap = f"by {area_words(area, unit)}" if area else f"nowhere, {area_words(0.0, unit)}"

    def stands(seen: OnCentre) -> str:
        angle = numerals.number(seen.angle, 2)
        return f"{seen.letter} with {seen.gear.teeth} teeth, its marked tooth at {angle}\u00b0,"

    return (
        f"Driver {stands(driver)} and driven {stands(driven)} {numerals.pitch_name(driver.gear)}, on {line}:"
        f" the teeth overlap {overlap}."
    )


def area_words(area: float, unit: str) -> str:
    """An area with its unit; less than the drawn chords can tell is none [mm2 or in2].

    >>> area_words(1.23456, "mm"), area_words(0.0, "in")
    ('1.235 mm²', '0.00000 in²')
    """
    return f"{numerals.number(area, 3 if unit == 'mm' else 5)} {unit}\u00b2"


def free_window(mesh: Mesh, driver_angle: float = 0.0, line_angle: float = 0.0) -> tuple[float, float]:
    """Middle (from 0 to one pitch) and width of the driven gear's angles at which nothing overlaps, measured
    on the cut teeth [deg].

    A width below 0 means that the teeth overlap at every angle, by at least that much.
    """
    middle, width = mesh.rolling.free_window(math.radians(driver_angle - line_angle))
    pitch = 360.0 / mesh.driven.teeth
    middle = (math.degrees(middle) + line_angle) % pitch
    width = math.degrees(width)
    return (0.0 if pitch - middle < 1e-9 else middle), (0.0 if abs(width) < 1e-9 else width)


def _turned(seen: OnCentre, scale: float) -> list[Shape]:
    """The gear's letter, and how far its marked tooth has turned from +x."""
    gear, role, (x, y) = seen.gear, seen.role, seen.centre
    inner = 0.66 * gear.root_diameter / 2
    words = f"{numerals.number(seen.angle, 2)}\u00b0"
    shapes: list[Shape] = [
        Label(seen.centre, seen.letter, (0, 9), size="letter", role="letter", of=role),
        Label(seen.centre, words, (0, -14), size="small", role="speed", of=role, room=1.6 * inner),
        Line((x + 0.5 * inner, y), (x + gear.root_diameter / 2, y), "construction"),
    ]
    shown = math.remainder(seen.angle, 360.0)
    if math.radians(abs(shown)) * inner * scale > 12.0:
        shapes.append(Arc(seen.centre, inner, 0.0, shown, "turning arrow", role, head=True))
    return shapes


def _scale(
    gear: Gear,
    angle: float,
    window: tuple[float, float] | None,
    across: tuple[float, float],
    top: float,
    scale: float,
) -> tuple[list[Shape], float]:
    """A straight scale of angles within one pitch, the free window as a band, the present angle as a pointer.

    And how low it reaches.
    """
    pitch = 360.0 / gear.teeth
    left, right = across[0] + 30 / scale, across[1] - 30 / scale
    floor = top - 74 / scale
    roof = floor + BAND / scale

    def at(degrees: float) -> float:
        return left + (right - left) * (degrees / pitch + OVER) / (1 + 2 * OVER)

    shapes = _bands(at, pitch, window, floor, roof)
    low, high = -OVER * pitch, (1 + OVER) * pitch
    step = next(step for step in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0) if pitch * (1 + 2 * OVER) / step <= 14)
    marks = np.arange(math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9) + 1) * step
    tick = floor - 5 / scale
    shapes.append(Strokes(np.array([[[at(mark), floor], [at(mark), tick]] for mark in marks]), "mark"))
    shapes += [
        Label((at(mark), floor), f"{numerals.plain(mark, 1)}\u00b0", (0, -15), size="small", role="note")
        for mark in marks
    ]
    shapes += [Line((at(end), tick), (at(end), roof + 5 / scale), "dimension") for end in (0.0, pitch)]
    now = angle % pitch
    tip = np.array([[0.0, -1.0], [6.0, 10.0], [-6.0, 10.0]]) / scale + [at(now), roof]
    shapes.append(Outline(tip, "marked tooth", "driven"))
    side, away = ("start", 10) if now < 0.8 * pitch else ("end", -10)
    words = f"B at {numerals.number(now, 2)}\u00b0"
    shapes.append(Label((at(now), roof), words, (away, 11), side, "small", "driven", "driven"))
    words = f"angle of B within one pitch of {numerals.number(pitch, 2)}\u00b0"
    words += "; shaded: no teeth overlap" if window else ""
    shapes.append(Label(((left + right) / 2, floor), words, (0, -35), size="small", role="note"))
    return shapes, floor


def _bands(
    at: Callable[[float], float], pitch: float, window: tuple[float, float] | None, floor: float, roof: float
) -> list[Shape]:
    """The ground of the scale, and the free windows on it: bands, or lines where nothing is free."""
    low, high = -OVER * pitch, (1 + OVER) * pitch

    def box(first: float, last: float) -> np.ndarray:
        return rectangle(at(first), floor, at(last), roof)

    shapes: list[Shape] = [Outline(box(low, high), "construction")]
    if window is None:
        return shapes
    middle, free = window[0], max(window[1], 0.0)
    for here in (middle - pitch, middle, middle + pitch):
        first, last = (max(low, min(high, here + side * free / 2)) for side in (-1, 1))
        if last > first:
            shapes.append(Outline(box(first, last), "shade"))
        elif low < here < high:
            shapes.append(Line((at(here), floor), (at(here), roof), "string"))
    return shapes
