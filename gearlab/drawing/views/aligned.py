"""Two gears at any angles, lined up or not.

Where their teeth overlap, and the angles at which nothing does.
"""

from __future__ import annotations

import math

import numpy as np

from .. import numerals
from ..scene import LETTERS, Arc, Circle, Dot, Label, Line, Outline, Scene, Strokes, Swing, Teeth
from .body import body, tooth_outline

OVER = 0.125  # how far the scale of angles goes on beyond one pitch, at either end [pitches]
# height of the two gears at the most, for the sizes of the scale below them [points of the picture]
TALLEST = 500.0
BAND = 15.0  # height of the scale's band [points of the picture]


def aligned(
    mesh,
    driver_angle: float,
    driven_angle: float,
    *,
    line_angle: float = 0.0,
    window: tuple[float, float] | None = None,
    controls: tuple[str, str] | None = None,
    width: float = 720.0,
) -> Scene:
    """Driver A and driven B with their marked teeth at given angles.

    Below, a scale of one pitch with the free window.

    Parameters
    ----------
    mesh : Mesh
        The pair.
    driver_angle, driven_angle : float
        Where the marked teeth stand, counter-clockwise from +x [deg].
    line_angle : float
        Direction from the driver's shaft to the driven gear's, counter-clockwise from +x [deg].
    window : pair of float, optional
        Middle and width of the angles of the driven gear at which nothing overlaps [deg]; no scale if left
        out.
    controls : pair of str, optional
        Names of the numbers that turning the driver and the driven gear by hand changes [-].
    width : float
        Width the picture is made for [points of the picture, 96 to the inch; -].

    Returns
    -------
    Scene
        Lengths in the unit of the gears [in or mm]; the scale of angles below is not to be measured.

    Examples
    --------
    >>> from gearlab.parts import Gear, Mesh
    >>> aligned(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), 0.0, 0.0).text[-37:]
    'the teeth overlap nowhere, 0.000 mm².'
    """
    driver, driven, unit, size = mesh.driver, mesh.driven, mesh.unit, mesh.driver.scale
    turn = math.radians(line_angle)
    along = np.array([math.cos(turn), math.sin(turn)])
    place = tuple(float(value) for value in mesh.centre_distance * along)
    reach = {"driver": driver.outside_diameter / 2, "driven": driven.outside_diameter / 2}
    x0, y0 = (min(-reach["driver"], value - reach["driven"]) for value in place)
    x1, y1 = (max(reach["driver"], value + reach["driven"]) for value in place)
    # a picture of shafts above each other is limited by its height
    scale = min((width - 24) / (x1 - x0), TALLEST / (y1 - y0))
    shapes = []
    gears = (("driver", driver, (0.0, 0.0), driver_angle), ("driven", driven, place, driven_angle))
    for (role, gear, centre, angle), control in zip(gears, controls or (None, None), strict=True):
        name = f"{role.capitalize()} {LETTERS[role]}, {gear.teeth} teeth: turn by hand"
        shapes += body(
            gear,
            role,
            centre,
            angle,
            Swing(control, centre, name, centre, reach[role]) if control else None,
            scale,
        )
    area = mesh.overlap_area(driver_angle, driven_angle, line_angle)
    if area:
        pieces = mesh.overlaps(driver_angle, driven_angle, line_angle)
        shapes.append(
            Teeth(tooth_outline(driver), driver.teeth, (0.0, 0.0), driver_angle, "outline", "driver")
        )
        shapes += [Outline(piece, "overlap") for piece in pieces]
    end = (np.asarray(place) + 0.3 * driven.pitch_diameter * along, -0.3 * driver.pitch_diameter * along)
    shapes.append(Line(tuple(end[1]), tuple(end[0]), "line of centres"))
    shapes += [
        Circle((0.0, 0.0), mesh.operating_pitch_diameters[0] / 2, "pitch circle", "driver"),
        Circle(place, mesh.operating_pitch_diameters[1] / 2, "pitch circle", "driven"),
    ]
    pitch_point = tuple(float(value) for value in mesh.operating_pitch_diameters[0] / 2 * along)
    shapes.append(Dot(pitch_point, "pitch point"))
    for role, gear, centre, angle in gears:
        shapes += _turned(gear, role, centre, angle, scale)
    low = y0
    if window:
        strip, low = _scale(driven, driven_angle, window, (x0, x1), y0, scale)
        shapes += strip
    at = (
        "on a level line of centres"
        if line_angle % 360 == 0
        else f"on a line of centres at {numerals.plain(line_angle, 2)}\u00b0"
    )
    said = (
        f"the teeth overlap by {area_words(area, unit)}"
        if area
        else f"the teeth overlap nowhere, {area_words(0.0, unit)}"
    )
    text = (
        f"Driver A with {driver.teeth} teeth, its marked tooth at {numerals.number(driver_angle, 2)}\u00b0,"
        f" and driven B with {driven.teeth} teeth, its marked tooth at"
        f" {numerals.number(driven_angle, 2)}\u00b0, {numerals.pitch_name(driver)}, {at}: {said}."
    )
    return Scene(
        tuple(shapes),
        text,
        unit,
        title=f"{driver.teeth} and {driven.teeth} teeth",
        margin=(12.0, 12.0, 56.0 if window else 12.0, 12.0),
        focus=(*pitch_point, 10 * size),
        width=width,
        bounds=(x0, low, x1, y1),
    )


def area_words(area: float, unit: str) -> str:
    """An area with its unit; less than the drawn chords can tell is none [mm2 or in2].

    >>> area_words(1.23456, "mm"), area_words(0.0, "in")
    ('1.235 mm²', '0.00000 in²')
    """
    return f"{numerals.number(area, 3 if unit == 'mm' else 5)} {unit}\u00b2"


def free_window(mesh, driver_angle: float = 0.0, line_angle: float = 0.0) -> tuple[float, float]:
    """Middle (from 0 to one pitch) and width of the driven gear's angles at which nothing overlaps, measured
    on the cut teeth [deg].

    A width below 0 means that the teeth overlap at every angle, by at least that much.
    """
    middle, width = mesh.rolling.free_window(math.radians(driver_angle - line_angle))
    pitch = 360.0 / mesh.driven.teeth
    middle = (math.degrees(middle) + line_angle) % pitch
    width = math.degrees(width)
    return (0.0 if pitch - middle < 1e-9 else middle), (0.0 if abs(width) < 1e-9 else width)


def _turned(gear, role: str, centre, angle: float, scale: float) -> list:
    """The gear's letter, and how far its marked tooth has turned from +x."""
    inner = 0.66 * gear.root_diameter / 2
    shapes = [
        Label(centre, LETTERS[role], (0, 9), size="letter", role="letter", of=role),
        Label(
            centre,
            f"{numerals.number(angle, 2)}\u00b0",
            (0, -14),
            size="small",
            role="speed",
            of=role,
            room=1.6 * inner,
        ),
    ]
    shown = math.remainder(angle, 360.0)
    shapes.append(
        Line(
            (centre[0] + 0.5 * inner, centre[1]),
            (centre[0] + gear.root_diameter / 2, centre[1]),
            "construction",
        )
    )
    if abs(shown) * math.pi / 180 * inner * scale > 12.0:
        shapes.append(Arc(centre, inner, 0.0, shown, "turning arrow", role, head=True))
    return shapes


def _scale(
    gear, angle: float, window: tuple[float, float], across: tuple[float, float], top: float, scale: float
) -> tuple[list, float]:
    """A straight scale of angles within one pitch, the free window as a band, the present angle as a pointer.

    And how low it reaches.
    """
    pitch, (middle, free) = 360.0 / gear.teeth, window
    left, right = across[0] + 30 / scale, across[1] - 30 / scale
    floor = top - 74 / scale
    roof = floor + BAND / scale

    def at(degrees: float) -> float:
        return left + (right - left) * (degrees / pitch + OVER) / (1 + 2 * OVER)

    def box(first: float, last: float) -> np.ndarray:
        return np.array([[at(first), floor], [at(last), floor], [at(last), roof], [at(first), roof]])

    low, high = -OVER * pitch, (1 + OVER) * pitch
    shapes = [Outline(box(low, high), "construction")]
    for turns in (-1, 0, 1):
        first, last = (
            max(low, min(high, middle + turns * pitch + side * max(free, 0.0) / 2)) for side in (-1, 1)
        )
        if last > first:
            shapes.append(Outline(box(first, last), "shade"))
        elif low < middle + turns * pitch < high:
            shapes.append(
                Line((at(middle + turns * pitch), floor), (at(middle + turns * pitch), roof), "string")
            )
    step = next(step for step in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0) if pitch * (1 + 2 * OVER) / step <= 14)
    marks = np.arange(math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9) + 1) * step
    shapes.append(
        Strokes(np.array([[[at(mark), floor], [at(mark), floor - 5 / scale]] for mark in marks]), "mark")
    )
    shapes += [
        Label((at(mark), floor), f"{numerals.plain(mark, 1)}\u00b0", (0, -15), size="small", role="note")
        for mark in marks
    ]
    shapes += [
        Line((at(end), floor - 5 / scale), (at(end), roof + 5 / scale), "dimension") for end in (0.0, pitch)
    ]
    now = angle % pitch
    tip = np.array([[0.0, -1.0], [6.0, 10.0], [-6.0, 10.0]]) / scale + [at(now), roof]
    shapes.append(Outline(tip, "marked tooth", "driven"))
    side = "start" if now < 0.8 * pitch else "end"
    shapes.append(
        Label(
            (at(now), roof),
            f"B at {numerals.number(now, 2)}\u00b0",
            (10 if side == "start" else -10, 11),
            side,
            "small",
            "driven",
            "driven",
        )
    )
    words = f"angle of B within one pitch of {numerals.number(pitch, 2)}\u00b0; shaded: no teeth overlap"
    shapes.append(Label(((left + right) / 2, floor), words, (0, -35), size="small", role="note"))
    return shapes, floor
