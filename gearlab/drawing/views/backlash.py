"""The mesh at the pitch point, much enlarged: the gap behind the driving flanks."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from ...parts import Gear, Mesh
from .. import numerals
from ..motion import Motion, Point
from ..scene import Scene
from ..shapes import LETTERS, Dimension, Dot, Label, Line, Outline, Shape, Strokes, points_turned
from .body import SLOPE, hatch, tooth_outline
from .centres import SIDES, Couple, OnCentre, counts, in_mesh, pitch_point

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
