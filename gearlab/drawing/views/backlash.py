"""The mesh at the pitch point, much enlarged: the gap behind the driving flanks."""

from __future__ import annotations

import math

import numpy as np

from .. import numerals
from ..scene import LETTERS, Carry, Circle, Dimension, Dot, Label, Line, Outline, Scene, Strokes, Teeth
from .body import SLOPE, hatch, tooth_outline

# left, low, right, high of what is seen, about the pitch point [modules]
WINDOW = (-2.8, -1.75, 2.8, 2.25)
TOUCHING = 1e-9  # backlash that counts as none [modules]


def backlash(mesh, *, control: str | None = None, width: float = 720.0) -> Scene:
    """Where two gears mesh, enlarged.

    A driver's tooth touches on its upper flank, and the gap lies behind it.

    The driver A stands on the left and pushes counter-clockwise. Its lower flank crosses the line of centres
    at the pitch point, so the gap can be seen and measured there, along the operating pitch circles.

    Parameters
    ----------
    mesh : Mesh
        The pair, at its centre distance; teeth that would overlap are drawn overlapping.
    control : str, optional
        Name of the number that carrying the driven gear changes [-].
    width : float
        Width the picture is made for [points of the picture, 96 to the inch; -].

    Returns
    -------
    Scene
        Lengths in the unit of the gears [in or mm].

    Examples
    --------
    >>> from gearlab.parts import Gear, Mesh
    >>> backlash(Mesh(Gear(18, module=2.5), Gear(45, module=2.5), 80.0)).having("dimension")[0].text
    'backlash 0.977 mm'
    """
    driver, driven, unit, size = mesh.driver, mesh.driven, mesh.unit, mesh.driver.scale
    distance, play = mesh.centre_distance, mesh.backlash
    first, second = (diameter / 2 for diameter in mesh.operating_pitch_diameters)
    pitch_point, place = (first, 0.0), (distance, 0.0)
    numbers = mesh.numbers
    # the window stays where it is while the shafts move
    middle = mesh.reference_centre_distance * driver.teeth / (driver.teeth + driven.teeth)
    left, low, right, high = (edge * size for edge in WINDOW)
    bounds = (middle + left, low, middle + right, high)
    scale = (width - 24) / (right - left)
    own = math.degrees(numbers["driver_operating_thickness"] / 2 / first)
    facing = 180.0 + math.degrees((numbers["driven_operating_thickness"] / 2 + play) / second)
    carry = None
    if control:
        carry = Carry(
            control,
            (1.0, 0.0),
            f"Driven B, {driven.teeth} teeth: place along the line of centres",
            place,
            driven.outside_diameter / 2,
        )

    shapes = []
    for role, gear, centre, angle, motion in (
        ("driver", driver, (0.0, 0.0), own, None),
        ("driven", driven, place, facing, carry),
    ):
        shapes.append(Teeth(tooth_outline(gear), gear.teeth, centre, angle, role, motion=motion))
        outer = gear.root_diameter / 2 - 0.35 * size
        strokes = hatch(centre, max(outer - 1.6 * size, 0.2 * outer), outer, SLOPE[role], 12.0 / scale)
        near = np.all(np.abs(strokes - [middle, 0.0]) < 1.8 * (right - left), axis=(1, 2))
        if np.any(near):
            shapes.append(Strokes(strokes[near], "hatch", role, motion=motion))
    between = gap(mesh, own, facing)
    # the driver's outline once more, above the wheel: where the teeth overlap, both are seen
    if play < 0:
        shapes.append(Teeth(tooth_outline(driver), driver.teeth, (0.0, 0.0), own, "outline", "driver"))
    if abs(play) > TOUCHING * size and len(between) > 2:
        shapes.append(Outline(between, "shade"))
    shapes.append(Line((middle + left, 0.0), (middle + right, 0.0), "line of centres"))
    shapes += [
        Circle((0.0, 0.0), first, "pitch circle", "driver"),
        Circle(place, second, "pitch circle", "driven"),
    ]
    shapes += _touching(mesh, first)
    shapes.append(Dot(pitch_point, "pitch point"))
    shapes += _measured(play, first, second, distance, unit, size, scale)
    shapes += _words(mesh, middle, first, second, scale)
    words = (
        f"teeth overlapping by {numerals.length(-play, unit)}"
        if play < 0
        else f"backlash {numerals.length(play, unit)}"
    )
    if abs(play) <= TOUCHING * size:
        words = "no backlash"
    text = (
        f"The mesh of {driver.teeth} and {driven.teeth} teeth, {numerals.pitch_name(driver)}, much enlarged:"
        f" centre distance {numerals.length(distance, unit)}, {words}, operating pressure angle"
        f" {numerals.number(mesh.operating_pressure_angle, 2)}\u00b0, contact ratio"
        f" {numerals.number(mesh.contact_ratio, 2)}."
    )
    return Scene(
        tuple(shapes),
        text,
        unit,
        title=f"{driver.teeth} and {driven.teeth} teeth at {numerals.length(distance, unit)}",
        margin=(0.0, 12.0, 0.0, 12.0),
        width=width,
        bounds=bounds,
    )


def gap(mesh, driver_angle: float, driven_angle: float) -> np.ndarray:
    """The space between the driver's lower flank and the driven flank that faces it, closed, (n, 2) [unit of
    the gears].

    ``driver_angle`` and ``driven_angle`` [deg] are those of the two teeth, the line of centres along +x.
    Where the teeth overlap, it is the overlap.
    """
    x_one, y_one = _flank(mesh.driver, driver_angle).T
    x_other, y_other = (_flank(mesh.driven, driven_angle)[::-1] + (mesh.centre_distance, 0.0)).T
    # where both flanks stand beside each other
    x = np.linspace(max(x_one[0], x_other[0]), min(x_one[-1], x_other[-1]), 121)
    upper, lower = np.interp(x, x_one, y_one), np.interp(x, x_other, y_other)
    if mesh.backlash < 0:
        inside = upper < lower
        x, upper, lower = x[inside], upper[inside], lower[inside]
    return np.vstack([np.column_stack([x, upper]), np.column_stack([x, lower])[::-1]])


def _flank(gear, angle: float) -> np.ndarray:
    """The clockwise involute flank of the tooth at an angle [deg], from foot to tip, about the gear's own
    centre.
    """
    tooth = tooth_outline(gear)
    half = tooth[: len(tooth) // 2 + 1]
    radius = np.hypot(*half.T)
    flank = half[(radius < radius.max() * (1 - 1e-7)) & (radius > gear.tooth.form_radius * gear.scale)]
    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    return flank @ np.array([[cos, sin], [-sin, cos]])


def _touching(mesh, first: float) -> list:
    """Where the driving flanks touch, if they still do at this tooth."""
    along = mesh.numbers["driver_operating_thickness"] * math.cos(math.radians(mesh.operating_pressure_angle))
    if along > mesh.numbers["length_of_recess"] or mesh.backlash < -TOUCHING * mesh.driver.scale:
        return []
    angle = math.radians(mesh.operating_pressure_angle)
    at = (first + along * math.sin(angle), along * math.cos(angle))
    return [Dot(at, "contact point"), Label(at, "touching", (12, 0), "start", "small", "contact point")]


def _measured(
    play: float, first: float, second: float, distance: float, unit: str, size: float, scale: float
) -> list:
    """The gap as a dimension, from the driver's flank at the pitch point to the driven flank on its operating
    pitch circle.
    """
    if abs(play) * scale < 1.0:
        words = "no gap" if abs(play) <= TOUCHING * size else f"backlash {numerals.length(play, unit)}"
        return [Label((first, 0.0), words, (-14, -22), "end", "normal", "dimension")]
    far = (distance - second * math.cos(play / second), -second * math.sin(play / second))
    words = (
        f"backlash {numerals.length(play, unit)}" if play > 0 else f"overlap {numerals.length(-play, unit)}"
    )
    ends = ((first, 0.0), far) if play > 0 else (far, (first, 0.0))
    return [Dimension(*ends, words, -1.6 * size, text_at=1)]


def _words(mesh, middle: float, first: float, second: float, scale: float) -> list:
    """Letters of the gears, names of the circles, and a scale bar."""
    size, unit, distance = mesh.driver.scale, mesh.unit, mesh.centre_distance
    left, low, high = WINDOW[0] * size, WINDOW[1] * size, WINDOW[3] * size
    shapes = [
        Label((middle + side * size, size), LETTERS[role], size="letter", role="letter", of=role)
        for role, side in (("driver", -2.5), ("driven", 2.5))
    ]
    height = high - 20 / scale
    for role, radius, centre, sign, align in (
        ("driver", first, 0.0, 1, "end"),
        ("driven", second, distance, -1, "start"),
    ):
        x = centre + sign * math.sqrt(radius**2 - height**2)
        shapes.append(
            Label(
                (x, height),
                f"operating pitch circle {LETTERS[role]}",
                (-8 * sign, 0),
                align,
                "small",
                "pitch circle",
                role,
                room=2.2 * size,
            )
        )
    length = nice(0.4 * size)
    start = (middle + left + 10 / scale, low + 14 / scale)
    ticks = [[start, (start[0] + length, start[1])]]
    ticks += [
        [
            (start[0] + length * k / 10, start[1]),
            (start[0] + length * k / 10, start[1] + (9 if k % 5 == 0 else 5) / scale),
        ]
        for k in range(11)
    ]
    shapes.append(Strokes(np.array(ticks), "mark"))
    return shapes + [
        Label(
            (start[0] + length, start[1]),
            f"{numerals.plain(length)} {unit}, in tenths",
            (10, 4),
            "start",
            "small",
            "note",
        )
    ]


def nice(length: float) -> float:
    """The nearest of 1, 2, 5, 10 ... below a length, for a scale bar [unit of the length].

    >>> nice(1.2), nice(0.04), nice(0.7)
    (1.0, 0.02, 0.5)
    """
    ten = 10.0 ** math.floor(math.log10(length))
    return max(step for step in (ten, 2 * ten, 5 * ten) if step <= length * (1 + 1e-9))
