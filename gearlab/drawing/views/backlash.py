"""The gap behind the driving flanks, much enlarged, and what errors of the holes do to it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from ...parts import Gear, Mesh
from .. import numerals
from ..motion import Carry, Motion, Point
from ..scene import Scene
from ..shapes import LETTERS, Dimension, Dot, Label, Line, Outline, Shape, Strokes, points_turned
from .centres import SIDES, SLOPE, Couple, OnCentre, counts, hatch, in_mesh, pitch_point, tooth_outline

# left, low, right, high of what is seen, about the pitch point [modules]
WINDOW = (-2.8, -1.75, 2.8, 2.25)
TOUCHING = 1e-9  # backlash that counts as none [modules]


def backlash(mesh: Mesh, *, control: str | None = None, width: float = 720.0) -> Scene:
    """Where two gears mesh, enlarged.

    A driver's tooth touches on its upper flank, and the gap lies behind it.

    The driver A stands on the left and pushes counter-clockwise. Its lower flank crosses the line of centres
    at the pitch point, so the gap can be seen and measured there, along the operating pitch circles.

    mesh: the pair, at its centre distance; teeth that would overlap are drawn overlapping.
    control: name of the number that carrying the driven gear changes.
    width: of the picture [points].
    Lengths in the unit of the gears [in or mm].

    >>> from gearlab.parts import Gear, Mesh
    >>> backlash(Mesh(Gear(18, module=2.5), Gear(45, module=2.5), 80.0)).having("dimension")[0].text
    'backlash 0.977 mm'
    """
    size, unit = mesh.driver.scale, mesh.unit
    gears, touching = _enlarged(mesh), pitch_point(mesh)
    first, second = (diameter / 2 for diameter in mesh.operating_pitch_diameters)
    # the window stays where it is while the shafts move
    middle = mesh.driver.pitch_diameter / 2
    left, low, right, high = (edge * size for edge in WINDOW)
    scale = (width - SIDES) / (right - left)
    shapes: list[Shape] = []
    for seen, motion in zip(gears, (None, gears[1].carry(control))):
        shapes.append(seen.teeth(motion=motion))
        shapes += _hatching(seen, middle, 1.8 * (right - left), scale, motion)
    # the driver's outline once more, above the wheel: where the teeth overlap, both are seen
    if mesh.backlash < 0:
        shapes.append(gears[0].teeth("outline"))
    between = gap(mesh, gears[0].angle, gears[1].angle)
    if not _closed(mesh) and len(between) > 2:
        shapes.append(Outline(between, "shade"))
    shapes.append(Line((middle + left, 0.0), (middle + right, 0.0), "line of centres"))
    shapes += [seen.circle("pitch circle", 2 * radius) for seen, radius in zip(gears, (first, second))]
    shapes += _touching(mesh, first)
    shapes.append(Dot(touching, "pitch point"))
    shapes += _measured(mesh, first, second, scale)
    shapes += _letters(mesh, middle, first, second, scale)
    shapes += _scale_bar((middle + left + 10 / scale, low + 14 / scale), nice(0.4 * size), unit, scale)
    return Scene(
        tuple(shapes),
        _sentence(mesh),
        unit,
        title=f"{counts(mesh.driver, mesh.driven)} at {numerals.length(mesh.centre_distance, unit)}",
        margin=(0.0, 12.0, 0.0, 12.0),
        width=width,
        bounds=(middle + left, low, middle + right, high),
    )


def _closed(mesh: Mesh) -> bool:
    """Whether the pair has neither play nor overlap that could be seen."""
    return abs(mesh.backlash) <= TOUCHING * mesh.driver.scale


def _enlarged(mesh: Mesh) -> Couple:
    """Both gears, the driver's lower flank crossing the line of centres at the pitch point."""
    first, second = (diameter / 2 for diameter in mesh.operating_pitch_diameters)
    thick = mesh.numbers["driver_operating_thickness"], mesh.numbers["driven_operating_thickness"]
    own = math.degrees(thick[0] / 2 / first)
    facing = 180.0 + math.degrees((thick[1] / 2 + mesh.backlash) / second)
    driver, driven = in_mesh(mesh)
    return replace(driver, angle=own), replace(driven, angle=facing)


def _hatching(seen: OnCentre, middle: float, near: float, scale: float, motion: Motion) -> list[Shape]:
    """The strokes of a gear's hatching that are near the window."""
    size = seen.gear.scale
    outer = seen.gear.root_diameter / 2 - 0.35 * size
    strokes = hatch(seen.centre, max(outer - 1.6 * size, 0.2 * outer), outer, SLOPE[seen.role], 12.0 / scale)
    strokes = strokes[np.all(np.abs(strokes - [middle, 0.0]) < near, axis=(1, 2))]
    return [Strokes(strokes, "hatch", seen.role, motion=motion)] if len(strokes) else []


def _sentence(mesh: Mesh) -> str:
    words = f"backlash {numerals.length(mesh.backlash, mesh.unit)}"
    if _closed(mesh):
        words = "no backlash"
    elif mesh.backlash < 0:
        words = f"teeth overlapping by {numerals.length(-mesh.backlash, mesh.unit)}"
    return (
        f"The mesh of {counts(mesh.driver, mesh.driven)}, {numerals.pitch_name(mesh.driver)}, much enlarged:"
        f" centre distance {numerals.length(mesh.centre_distance, mesh.unit)}, {words}, operating pressure"
        f" angle {numerals.number(mesh.operating_pressure_angle, 2)}\u00b0, contact ratio"
        f" {numerals.number(mesh.contact_ratio, 2)}."
    )


def gap(mesh: Mesh, driver_angle: float, driven_angle: float) -> np.ndarray:
    """The space between the driver's lower flank and the driven flank that faces it, closed, (n, 2) [unit of
    the gears].

    ``driver_angle`` and ``driven_angle`` [deg] are those of the two teeth, the line of centres along +x.
    Where the teeth overlap, it is the overlap.
    """
    x_driver, y_driver = _flank(mesh.driver, driver_angle).T
    x_driven, y_driven = (_flank(mesh.driven, driven_angle)[::-1] + (mesh.centre_distance, 0.0)).T
    # where both flanks stand beside each other
    x = np.linspace(max(x_driver[0], x_driven[0]), min(x_driver[-1], x_driven[-1]), 121)
    upper, lower = np.interp(x, x_driver, y_driver), np.interp(x, x_driven, y_driven)
    if mesh.backlash < 0:
        inside = upper < lower
        x, upper, lower = x[inside], upper[inside], lower[inside]
    return np.vstack([np.column_stack([x, upper]), np.column_stack([x, lower])[::-1]])


def _flank(gear: Gear, angle: float) -> np.ndarray:
    """The clockwise involute flank of the tooth at an angle [deg], from foot to tip, about the gear's own
    centre.
    """
    tooth = tooth_outline(gear)
    half = tooth[: len(tooth) // 2 + 1]
    radius = np.hypot(*half.T)
    flank = half[(radius < radius.max() * (1 - 1e-7)) & (radius > gear.tooth.form_radius * gear.scale)]
    return points_turned(flank, angle)


def _touching(mesh: Mesh, first: float) -> list[Shape]:
    """Where the driving flanks touch, if they still do at this tooth."""
    along = mesh.numbers["driver_operating_thickness"] * math.cos(math.radians(mesh.operating_pressure_angle))
    if along > mesh.numbers["length_of_recess"] or mesh.backlash < -TOUCHING * mesh.driver.scale:
        return []
    angle = math.radians(mesh.operating_pressure_angle)
    at = (first + along * math.sin(angle), along * math.cos(angle))
    return [Dot(at, "contact point"), Label(at, "touching", (12, 0), "start", "small", "contact point")]


def _measured(mesh: Mesh, first: float, second: float, scale: float) -> list[Shape]:
    """The gap as a dimension, from the driver's flank at the pitch point to the driven flank on its operating
    pitch circle.
    """
    play, unit, size = mesh.backlash, mesh.unit, mesh.driver.scale
    if abs(play) * scale < 1.0:
        words = "no gap" if _closed(mesh) else f"backlash {numerals.length(play, unit)}"
        return [Label((first, 0.0), words, (-14, -22), "end", "normal", "dimension")]
    near = (first, 0.0)
    far = (mesh.centre_distance - second * math.cos(play / second), -second * math.sin(play / second))
    words = f"{'backlash' if play > 0 else 'overlap'} {numerals.length(abs(play), unit)}"
    ends = (near, far) if play > 0 else (far, near)
    return [Dimension(*ends, words, -1.6 * size, text_at=1)]


def _letters(mesh: Mesh, middle: float, first: float, second: float, scale: float) -> list[Shape]:
    """Letters of the gears and names of their circles."""
    size = mesh.driver.scale
    shapes: list[Shape] = [
        Label((middle + side * size, size), LETTERS[role], size="letter", role="letter", of=role)
        for role, side in (("driver", -2.5), ("driven", 2.5))
    ]
    height = WINDOW[3] * size - 20 / scale
    for role, radius, centre, sign, align in (
        ("driver", first, 0.0, 1, "end"),
        ("driven", second, mesh.centre_distance, -1, "start"),
    ):
        place = (centre + sign * math.sqrt(radius**2 - height**2), height)
        words, kind = f"operating pitch circle {LETTERS[role]}", "pitch circle"
        shapes.append(Label(place, words, (-8 * sign, 0), align, "small", kind, role, room=2.2 * size))
    return shapes


def _scale_bar(start: Point, length: float, unit: str, scale: float) -> list[Shape]:
    """A bar of a round length, in tenths."""
    x, y = start
    ticks = [[start, (x + length, y)]]
    for tenth in range(11):
        at = x + length * tenth / 10
        ticks.append([(at, y), (at, y + (9 if tenth % 5 == 0 else 5) / scale)])
    words = f"{numerals.plain(length)} {unit}, in tenths"
    return [
        Strokes(np.array(ticks), "mark"),
        Label((x + length, y), words, (10, 4), "start", "small", "note"),
    ]


def nice(length: float) -> float:
    """The nearest of 1, 2, 5, 10 ... below a length, for a scale bar [unit of the length].

    >>> nice(1.2), nice(0.04), nice(0.7)
    (1.0, 0.02, 0.5)
    """
    ten = 10.0 ** math.floor(math.log10(length))
    return max(step for step in (ten, 2 * ten, 5 * ten) if step <= length * (1 + 1e-9))


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
