"""Least and greatest backlash as bars, much enlarged: what errors of the holes do to the play."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from .. import numerals
from ..motion import Carry
from ..scene import Scene
from ..shapes import Dimension, Label, Line, Outline, Shape, Strokes
from .centres import SIDES

LOW, HIGH = -0.32, 0.74  # what is seen of the scale of backlash [GRADE]
# where things stand above the scale's foot [GRADE]
HEIGHT = {"holes": 0.585, "design": 0.42, "worst": 0.30, "likely": 0.12, "scale": 0.02, "top": 0.46}
THICK = {"worst": 0.036, "likely": 0.026}  # half height of the bars [GRADE]
# in inches the same picture stands for 0.04 in where it stood for 1 mm
GRADE = {"mm": 1.0, "in": 0.04}
LARGEST = {
    "mm": {"design_backlash": 0.4, "hole_error": 0.2},
    "in": {"design_backlash": 0.016, "hole_error": 0.008},
}
PLACES = {"mm": 3, "in": 4}


def limits(
    design_backlash: float,
    hole_error: float,
    *,
    pressure_angle: float = 20.0,
    unit: str = "mm",
    width: float = 720.0,
) -> Scene:
    """The backlash of a pair on a scale, as designed and as the errors of two holes may leave it.

    Above, the band in which each hole may lie, as much enlarged as the scale below; then a bar for the worst
    case, both errors the same way, and one for the likely case, root sum square. What lies below zero is
    teeth that jam.

    design_backlash: backlash with both holes where they should be, 0 to 0.4 mm or 0.016 in [unit].
    hole_error: how far each hole may be off along the line of centres, to either side, above 0 to 0.2 mm or
        0.008 in [unit].
    pressure_angle: 10 to 30 [deg].
    unit: "mm" or "in".
    width: of the picture [points].
    Lengths in the picture's own measure: 1 stands for 1 mm, or for 0.04 in.
    ValueError if a value is outside its limits.

    >>> print(limits(0.146, 0.08).text)
    Hole error 0.080 mm to either side, design backlash 0.146 mm: minimum backlash 0.030 mm, maximum
    0.262 mm; likely 0.064 to 0.228 mm.
    """
    for name, value, low, high, measured in (
        ("design_backlash", design_backlash, 0.0, LARGEST[unit]["design_backlash"], unit),
        ("hole_error", hole_error, 1e-6, LARGEST[unit]["hole_error"], unit),
        ("pressure_angle", pressure_angle, 10.0, 30.0, "degrees"),
    ):
        if not low <= value <= high:
            raise ValueError(
                f"{name} = {value!r} is out of range: give {numerals.plain(low)} to {numerals.plain(high)}"
                f" {measured}"
            )
    # from here on in the picture's own measure
    design, error = design_backlash / GRADE[unit], hole_error / GRADE[unit]
    tangent = math.tan(math.radians(pressure_angle))
    each = 2 * error * tangent
    halves = {"worst": 2 * each, "likely": math.sqrt(2) * each}

    def write(value: float) -> str:
        return numerals.number(value * GRADE[unit], PLACES[unit])

    scale = (width - SIDES) / (HIGH - LOW)
    shapes = _ground(scale, unit) + _holes(error, scale, numerals.length(hole_error, unit))
    for name, half in halves.items():
        shapes += _bar(name, design, half, scale, write)
    shapes += _handles(design, halves["worst"], 4 * tangent, unit, write)
    # what comes and goes stands behind what can be carried: the page then keeps the focus
    for name, half in halves.items():
        if design - half < 0:  # the part that jams is solid
            ends = design - half, min(0.0, design + half)
            middle, thick = HEIGHT[name], THICK[name]
            shapes.append(Outline(_box(ends[0], middle - thick, ends[1], middle + thick), "overlap"))
    if each * scale > 56:  # one step for each hole, where there is room to say so
        shapes += _steps(design, each, scale)
    worst, likely = ([write(design + side * half) for side in (-1, 1)] for half in halves.values())
    text = (
        f"Hole error {numerals.length(hole_error, unit)} to either side, design backlash"
        f" {numerals.length(design_backlash, unit)}: minimum backlash {worst[0]} {unit}, maximum {worst[1]}"
        f" {unit}; likely {likely[0]} to {likely[1]} {unit}."
    )
    return Scene(
        tuple(shapes),
        text,
        unit,
        title="hole error and backlash",
        margin=(8.0, 12.0, 8.0, 12.0),
        width=width,
        bounds=(LOW, -0.07, HIGH, 0.66),
    )


def _steps(design: float, each: float, scale: float) -> list[Shape]:
    """What the error of either hole takes from the design backlash; named where its name has room."""
    level = HEIGHT["worst"] - THICK["worst"]
    shapes: list[Shape] = []
    for k, letter in enumerate("AB"):
        start = design - (k + 1) * each
        middle, name = (start + each / 2, level - 24 / scale), f"hole {letter}"
        shapes += [
            Dimension((start, level), (start + each, level), "", -24 / scale),
            Label(middle, name, (0.0, 11.0), size="small", role="dimension", room=each),
        ]
    return shapes


def _bar(name: str, design: float, half: float, scale: float, write: Callable[[float], str]) -> list[Shape]:
    """The range of one case, with its name and its ends."""
    middle, thick = HEIGHT[name], THICK[name]
    low, high = design - half, design + half
    # beside a lower end near zero its number would stand on the line there: it stands in the bar
    inside = -4 < low * scale < 64 and half * scale > 44
    beside = ((8, -5), "start") if inside else ((-12, -5), "end")
    return [
        Outline(_box(low, middle - thick, high, middle + thick), "shade"),
        Label((design, middle + thick), f"{name} case", (0, 12), size="normal", role="dimension"),
        Label((low, middle), write(low), *beside, "normal", "dimension"),
        Label((high, middle), write(high), (12, -5), "start", "normal", "dimension"),
    ]


def _handles(
    design: float, worst: float, opening: float, unit: str, write: Callable[[float], str]
) -> list[Shape]:
    """What can be carried: the design backlash, and the lower end of the worst case.

    ``opening`` is how far that end moves for each bit of error of the holes [-].
    """
    least, low, level = design - worst, HEIGHT["worst"], HEIGHT["design"]
    mark = Carry("design_backlash", (1.0, 0.0), "Design backlash", (design, level), 0.035, 1 / GRADE[unit])
    name = "Lower end of the worst case: error of the holes"
    handle = Carry("hole_error", (-1.0, 0.0), name, (least, low), 0.045, opening / GRADE[unit])
    words = f"design {write(design)}"
    return [
        Line((design, HEIGHT["scale"]), (design, level - 0.02), "construction"),
        Outline(_box(design - 0.008, level - 0.02, design + 0.008, level + 0.02), "gauge", motion=mark),
        Label((design, level), words, (14, -5), "start", "normal", "gauge"),
        Outline(_box(least - 0.008, low - 0.05, least + 0.008, low + 0.05), "gauge", motion=handle),
    ]


def _box(x0: float, y0: float, x1: float, y1: float) -> np.ndarray:
    return np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)])


def _ground(scale: float, unit: str) -> list[Shape]:
    """The scale, the zero, and the side on which teeth jam."""
    foot, top = HEIGHT["scale"], HEIGHT["top"]
    slants = []
    # strokes of 45 degrees that fill the side below zero
    for x in np.arange(LOW - (top - foot), 0.0, 16 / scale):
        low, high = max(x, LOW), min(x + (top - foot), 0.0)
        if high > low:
            slants.append([(low, foot + low - x), (high, foot + high - x)])
    shapes: list[Shape] = [
        Strokes(np.array(slants), "hatch", "gear"),
        Line((0.0, foot), (0.0, top), "mark"),
        Label((LOW, top), "the teeth jam", (8, 8), "start", "normal", "note", "gear"),
        Label((HIGH, top), "the teeth have backlash", (-8, 8), "end", "normal", "note", "gear"),
    ]
    ticks = [[(LOW, foot), (HIGH, foot)]]
    for tenth in range(-3, 8):
        ticks.append([(tenth / 10, foot), (tenth / 10, foot - 7 / scale)])
        shapes.append(
            Label(
                (tenth / 10, foot - 7 / scale),
                numerals.number(tenth / 10 * GRADE[unit], 1 if unit == "mm" else 3),
                (0, -15),
                size="small",
                role="note",
            )
        )
    shapes.append(Label((HIGH, foot - 7 / scale), f"backlash [{unit}]", (0, -33), "end", "small", "note"))
    return [*shapes, Strokes(np.array(ticks), "mark")]


def _holes(error: float, scale: float, written: str) -> list[Shape]:
    """Where each hole's centre may lie, in the same enlargement as the bars."""
    at = HEIGHT["holes"]
    shapes: list[Shape] = [
        Line((LOW + 0.02, HEIGHT["holes"]), (HIGH - 0.02, HEIGHT["holes"]), "line of centres")
    ]
    for x, letter, role in ((-0.06, "A", "driver"), (0.48, "B", "driven")):
        shapes += [
            Outline(_box(x - error, at - 0.025, x + error, at + 0.025), role),
            Line((x, at - 0.04), (x, at + 0.04), "mark"),
            Label(
                (x, at + 0.04), f"hole {letter} \u00b1 {written}", (0, 8), size="normal", role=role, of=role
            ),
        ]
    return shapes
