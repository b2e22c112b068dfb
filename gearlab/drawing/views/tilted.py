"""A line through the pitch point, tilted until it touches both base circles: the line of action."""

from __future__ import annotations

import math

from .. import numerals
from ..scene import Circle, Dot, Label, Line, Scene, Swing, Teeth, Turn
from .action import action
from .body import middle, tooth_outline

#: Tilts the picture has room for [deg], either way.
MOST_TILT = 60.0


def tilted(
    mesh, angle: float, *, contact: bool = False, control: str = "tilt", width: float = 720.0
) -> Scene:
    """A pair with its base circles and a line through the pitch point, right or wrong.

    Parameters
    ----------
    mesh : Mesh
        The pair.
    angle : float
        Tilt of the line from the common tangent of the pitch circles, clockwise positive, -60 to 60 [deg].
    contact : bool
        Whether the points of contact are shown; they run on as the driver turns [-].
    control : str
        Name of the number that tilting the line changes [-].
    width : float
        Width the picture is made for [points of the picture, 96 to the inch; -].

    Returns
    -------
    Scene
        Lengths in the unit of the gears [in or mm].

    Raises
    ------
    ValueError
        If the angle is outside its limits.

    Examples
    --------
    >>> from gearlab.parts import Gear, Mesh
    >>> tilted(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), 20.0).text[-68:]
    'it touches the base circle of A and it touches the base circle of B.'
    """
    if not abs(angle) <= MOST_TILT:
        raise ValueError(
            f"angle is {angle:g} deg; the line tilts by -{MOST_TILT:g} to {MOST_TILT:g} deg: give an angle in"
            " these limits"
        )
    driver, driven, distance, unit = mesh.driver, mesh.driven, mesh.centre_distance, mesh.unit
    first, second = (size / 2 for size in mesh.operating_pitch_diameters)
    place, half = (distance, 0.0), 0.40 * distance
    bounds = (-0.33 * distance, -half, 1.06 * distance, half)
    scale = (width - 24) / (bounds[2] - bounds[0])
    way = -1.0 if angle < 0 else 1.0
    start = mesh.alignment(0.0) + way * math.degrees(max(mesh.backlash, 0.0) / 2 / second)
    turns = {
        "driver": Turn(
            (0.0, 0.0),
            1.0,
            f"Driver A, {driver.teeth} teeth",
            360 / driver.teeth,
            driver.outside_diameter / 2,
        ),
        "driven": Turn(
            place,
            -driver.teeth / driven.teeth,
            f"Driven B, {driven.teeth} teeth",
            360 / driven.teeth,
            driven.outside_diameter / 2,
        ),
    }
    shapes = [
        Teeth(tooth_outline(driver), driver.teeth, (0.0, 0.0), 0.0, "driver", motion=turns["driver"]),
        Teeth(tooth_outline(driven), driven.teeth, place, start, "driven", motion=turns["driven"]),
    ]
    shapes.append(Line((-0.2 * distance, 0.0), (1.1 * distance, 0.0), "line of centres"))
    for role, gear, centre, pitch in (
        ("driver", driver, (0.0, 0.0), first),
        ("driven", driven, place, second),
    ):
        shapes += [
            Circle(centre, pitch, "pitch circle", role),
            Circle(centre, gear.base_diameter / 2, "base circle", role),
        ]
        shapes += middle(gear, role, centre, scale, 0.0)
    turn = math.radians(angle)
    along = (math.sin(turn), math.cos(turn))

    def on_line(s):
        return first + s * along[0], s * along[1]

    feet = on_line(-first * along[0]), on_line(second * along[0])
    for centre, foot in zip(((0.0, 0.0), place), feet):
        shapes.append(Line(centre, foot, "construction"))
    grip = 0.355 * distance
    swing = Swing(
        control, (first, 0.0), "Line through the pitch point: tilt", on_line(grip), 22 / scale, sense=-1.0
    )
    reach = 1.2 * half / max(along[1], 0.4)
    shapes.append(Line(on_line(-reach), on_line(reach), "line of action", motion=swing))
    shapes.append(Dot(on_line(grip), "hole", motion=swing))
    shapes += [Dot(foot, "mark") for foot in feet]
    shapes.append(Dot((first, 0.0), "pitch point"))
    gaps = clearances(mesh, angle)
    said = [beside(gap, letter, unit) for gap, letter in zip(gaps, "AB")]
    text = (
        f"Driver A with {driver.teeth} teeth and driven B with {driven.teeth} teeth,"
        f" {numerals.pitch_name(driver)}, and a line through the pitch point, tilted by"
        f" {numerals.number(angle, 1)} degrees from the common tangent of the pitch circles: it {said[0]} and"
        f" it {said[1]}."
    )
    shapes.append(
        Label(
            (first, -half),
            f"tilt {numerals.number(angle, 1)}\u00b0",
            (0, 16),
            size="normal",
            role="line of action",
        )
    )
    if contact:
        shapes += action(mesh, way).contacts()
    return Scene(
        tuple(shapes),
        text,
        unit,
        title=(
            f"{driver.teeth} and {driven.teeth} teeth, {numerals.pitch_name(driver)}, "
            f"line at {numerals.number(angle, 1)}\u00b0"
        ),
        focus=(first, 0.0, 12 * driver.scale),
        width=width,
        bounds=bounds,
    )


def clearances(mesh, angle: float) -> tuple[float, float]:
    """How far a line through the pitch point, tilted by an angle [deg], passes outside the base circles of
    driver and driven [unit].
    """
    lean = math.cos(math.radians(angle))
    return tuple(
        size / 2 * lean - gear.base_diameter / 2
        for size, gear in zip(mesh.operating_pitch_diameters, (mesh.driver, mesh.driven))
    )


def beside(gap: float, letter: str, unit: str) -> str:
    """How a line passes a base circle, in words, from its gap [unit].

    >>> beside(0.4, "A", "mm"), beside(-0.2, "B", "mm")
    ('misses the base circle of A by 0.400 mm', 'cuts 0.200 mm into the base circle of B')
    """
    if abs(gap) < (0.005 if unit == "mm" else 0.0002):
        return f"touches the base circle of {letter}"
    size = numerals.length(abs(gap), unit)
    return (
        f"misses the base circle of {letter} by {size}"
        if gap > 0
        else f"cuts {size} into the base circle of {letter}"
    )
