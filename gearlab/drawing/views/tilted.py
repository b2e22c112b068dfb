"""A line through the pitch point, tilted until it touches both base circles: the line of action."""

from __future__ import annotations

import math

from ...parts import Mesh
from .. import numerals
from ..motion import Point, Swing
from ..scene import Scene
from ..shapes import Dot, Label, Line, Shape
from .action import action
from .centres import SIDES, both, counts, in_mesh, pitch_point

#: Tilts the picture has room for [deg], either way.
MOST_TILT = 60.0


def tilted(
    mesh: Mesh, angle: float, *, contact: bool = False, control: str = "tilt", width: float = 720.0
) -> Scene:
    """A pair with its base circles and a line through the pitch point, right or wrong.

    angle: tilt of the line from the common tangent of the pitch circles, clockwise positive, -60 to 60
        [deg].
    contact: whether the points of contact are shown; they run on as the driver turns.
    control: name of the number that tilting the line changes.
    width: of the picture [points].
    Lengths in the unit of the gears [in or mm].
    ValueError if the angle is outside its limits.

    >>> from gearlab.parts import Gear, Mesh
    >>> tilted(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), 20.0).text[-68:]
    'it touches the base circle of A and it touches the base circle of B.'
    """
    if not abs(angle) <= MOST_TILT:
        raise ValueError(
            f"angle is {angle:g} deg; the line tilts by -{MOST_TILT:g} to {MOST_TILT:g} deg: give an angle in"
            " these limits"
        )
    distance, unit, way = mesh.centre_distance, mesh.unit, -1.0 if angle < 0 else 1.0
    gears, touching = in_mesh(mesh, way), pitch_point(mesh)
    half = 0.40 * distance
    bounds = (-0.33 * distance, -half, 1.06 * distance, half)
    scale = (width - SIDES) / (bounds[2] - bounds[0])
    shapes: list[Shape] = [seen.teeth(motion=seen.turn()) for seen in gears]
    shapes.append(Line((-0.2 * distance, 0.0), (1.1 * distance, 0.0), "line of centres"))
    for seen, size in zip(gears, mesh.operating_pitch_diameters):
        shapes += [seen.circle("pitch circle", size), seen.circle("base circle"), *seen.middle(scale)]
    shapes += _circle_names(mesh, half, scale)
    shapes += _line(mesh, angle, control, half, scale)
    tilt = numerals.number(angle, 1)
    shapes.append(
        Label((touching[0], -half), f"tilt {tilt}\u00b0", (0, 16), size="normal", role="line of action")
    )
    if contact:
        shapes += action(mesh, way).contacts()
    passing = [beside(gap, letter, unit) for gap, letter in zip(clearances(mesh, angle), "AB")]
    return Scene(
        tuple(shapes),
        f"{both(mesh.driver, mesh.driven)}, and a line through the pitch point, tilted by {tilt} degrees from"
        f" the common tangent of the pitch circles: it {passing[0]} and it {passing[1]}.",
        unit,
        title=(
            f"{counts(mesh.driver, mesh.driven)}, {numerals.pitch_name(mesh.driver)}, line at {tilt}\u00b0"
        ),
        focus=(*touching, 12 * mesh.driver.scale),
        width=width,
        bounds=bounds,
    )


def _circle_names(mesh: Mesh, half: float, scale: float) -> list[Shape]:
    """The names of both circles of either gear: above the driver, or inside where it reaches out of sight."""
    first, second = (size / 2 for size in mesh.operating_pitch_diameters)
    base_1, base_2 = mesh.driver.base_diameter / 2, mesh.driven.base_diameter / 2
    names = [
        ("driver", first, 97.0, "pitch circle", (0.0, 26.0), "middle"),
        ("driver", base_1, 104.0, "base circle", (0.0, -22.0), "middle"),
        ("driven", second, 154.0, "pitch circle", (-54.0, 8.0), "end"),
        ("driven", base_2, 206.0, "base circle", (14.0, 0.0), "start"),
    ]
    if first + 44.0 / scale > half:
        beside = math.degrees(math.asin(0.5 * half / first))
        names[0] = ("driver", first, beside, "pitch circle", (-40.0, 0.0), "end")
        names[1] = ("driver", base_1, -beside, "base circle", (-14.0, 0.0), "end")
        names[2] = ("driven", second, 180.0 - beside, "pitch circle", (40.0, 0.0), "start")
    shapes: list[Shape] = []
    for of, radius, angle, kind, offset, align in names:
        x = mesh.centre_distance if of == "driven" else 0.0
        at = (x + radius * math.cos(math.radians(angle)), radius * math.sin(math.radians(angle)))
        shapes.append(Label(at, kind, offset, align, "small", kind, of))
    return shapes


def _line(mesh: Mesh, angle: float, control: str, half: float, scale: float) -> list[Shape]:
    """The tilted line with its grip, and the feet of the perpendiculars from both shafts on it."""
    first, second = (size / 2 for size in mesh.operating_pitch_diameters)
    along = (math.sin(math.radians(angle)), math.cos(math.radians(angle)))

    def on_line(s: float) -> Point:
        return first + s * along[0], s * along[1]

    feet = on_line(-first * along[0]), on_line(second * along[0])
    grip, reach = on_line(0.355 * mesh.centre_distance), 1.2 * half / max(along[1], 0.4)
    swing = Swing(control, (first, 0.0), "Line through the pitch point: tilt", grip, 22 / scale, sense=-1.0)
    return [
        Line((0.0, 0.0), feet[0], "construction"),
        Line((mesh.centre_distance, 0.0), feet[1], "construction"),
        Line(on_line(-reach), on_line(reach), "line of action", motion=swing),
        Dot(grip, "hole", motion=swing),
        *(Dot(foot, "mark") for foot in feet),
        Dot((first, 0.0), "pitch point"),
    ]


def clearances(mesh: Mesh, angle: float) -> tuple[float, float]:
    """How far a line through the pitch point, tilted by an angle [deg], passes outside the base circles of
    driver and driven [unit].
    """
    lean = math.cos(math.radians(angle))
    first, second = mesh.operating_pitch_diameters
    return (first * lean - mesh.driver.base_diameter) / 2, (second * lean - mesh.driven.base_diameter) / 2


def beside(gap: float, letter: str, unit: str) -> str:
    """How a line passes a base circle, in words, from its gap [unit].

    >>> beside(0.4, "A", "mm"), beside(-0.2, "B", "mm")
    ('misses the base circle of A by 0.400 mm', 'cuts 0.200 mm into the base circle of B')
    """
    if numerals.vanishes(gap, unit):
        return f"touches the base circle of {letter}"
    size = numerals.length(abs(gap), unit)
    return (
        f"misses the base circle of {letter} by {size}"
        if gap > 0
        else f"cuts {size} into the base circle of {letter}"
    )
