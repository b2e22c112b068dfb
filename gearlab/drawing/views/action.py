"""The line of action of a pair: where teeth touch, the path of contact, a line tilted until it is the one."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ...parts import Mesh
from .. import numerals
from ..motion import Carry, Point, Slide, Swing
from ..scene import Scene
from ..shapes import Dot, Label, Line, Outline, Shape, rectangle
from .centres import SIDES, both, counts, in_mesh, pitch_point


@dataclass(frozen=True)
class Action:
    """The line of action, measured from the pitch point along it, in the direction in which contact runs.

    pitch_point: x of the pitch point; the driver stands at the origin [unit of the gears].
    along: unit vector of the line [-].
    low, high: where contact begins and ends [unit].
    to_first, to_second: from the pitch point to the tangent points on the base circles [unit].
    start: where the driving flank of the driver's tooth 0 touches while the driver's angle is 0 [unit].
    period: the base pitch, from one contact to the next [unit].
    per_degree: how far contact runs for a degree of the driver [unit].
    """

    pitch_point: float
    along: tuple[float, float]
    low: float
    high: float
    to_first: float
    to_second: float
    start: float
    period: float
    per_degree: float

    def at(self, s: float) -> tuple[float, float]:
        """The point of the line at ``s`` from the pitch point [unit]."""
        return self.pitch_point + s * self.along[0], s * self.along[1]

    def line(self) -> Line:
        """The line between its tangent points on both base circles [unit]."""
        return Line(self.at(-self.to_first), self.at(self.to_second), "line of action")

    def contacts(self) -> list[Dot]:
        """One dot for each pair of teeth that may touch at once.

        They run along the line as the driver turns [unit].
        """
        first = math.ceil((self.low - self.start) / self.period)
        count = math.ceil((self.high - self.low) / self.period) + 1
        dots = []
        for k in range(first, first + count):
            s = self.start + k * self.period
            motion = Slide(self.along, self.per_degree, count * self.period, self.low - s, self.high - s)
            dots.append(Dot(self.at(s), "contact point", motion=motion))
        return dots


def action(mesh: Mesh, turning: float = 1.0) -> Action:
    """The line of action of a pair.

    turning: its sign is the direction of the driver, positive for counter-clockwise [-].
    Lengths in the unit of the gears [in or mm].

    >>> from gearlab.parts import Gear, Mesh
    >>> line = action(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)))
    >>> round(line.to_first + line.to_second, 2), round(line.high - line.low, 2)
    (26.93, 12.05)
    """
    driver = mesh.driver
    angle, way = math.radians(mesh.operating_pressure_angle), math.copysign(1.0, turning)
    pitch_point, other = (diameter / 2 for diameter in mesh.operating_pitch_diameters)
    base_1 = driver.base_diameter / 2
    to_first, to_second = pitch_point * math.sin(angle), other * math.sin(angle)
    # Where the flanks nowhere meet, there is no length of approach and none of recess.
    low, high = -mesh.numbers.get("length_of_approach", 0.0), mesh.numbers.get("length_of_recess", 0.0)
    half = mesh.numbers["driver_operating_thickness"] / mesh.numbers["driver_operating_pitch_diameter"]
    return Action(
        pitch_point,
        (math.sin(angle), way * math.cos(angle)),
        low,
        high,
        to_first,
        to_second,
        base_1 * half,
        driver.base_pitch,
        way * base_1 * math.pi / 180,
    )


WIDE, HIGH = 8.2, 3.4  # half width and half height of the window on the teeth [modules]
LONG = 12.0  # length of the strip [modules]


def contact(
    mesh: Mesh,
    shade: float | None = None,
    *,
    shown: bool = False,
    control: str = "shade",
    width: float = 720.0,
) -> Scene:
    """A pair's teeth where they touch, with the path of contact, over a strip that is one base pitch long.

    mesh: the pair; its contact ratio is from 1 to 2.
    shade: share of the strip that is shaded, from its left end, 0 to 100 [%]; left out, there is no shade.
    shown: whether the lines are drawn that tell how long each pair touches.
    control: name of the number that carrying the edge of the shade changes.
    width: of the picture [points].
    Lengths in the unit of the gears [in or mm]; the strip is drawn enlarged.
    ValueError if the contact ratio is outside 1 to 2 or the share outside 0 to 100.

    >>> from gearlab.parts import Gear, Mesh
    >>> contact(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), 40.0).text[-69:]
    'contact ratio 1.63. Of one base pitch 40 % are shaded from its start.'
    """
    ratio, unit, module = mesh.contact_ratio, mesh.unit, mesh.driver.scale
    if ratio < 1:
        raise ValueError(
            f"the contact ratio is {ratio:.2f}, below 1: for a part of each base pitch no teeth touch at all,"
            " and the strip has nothing to show; bring the shafts closer together, or take more teeth"
        )
    if ratio > 2:
        raise ValueError(
            f"the contact ratio is {ratio:.2f}, above 2; the strip tells one pair from two: give a larger"
            " pressure angle or fewer teeth"
        )
    if shade is not None and not 0 <= shade <= 100:
        raise ValueError(f"shade is {shade:g} %; give a share from 0 to 100 %")
    line = action(mesh)
    centre = line.pitch_point
    scale = (width - SIDES) / (2 * WIDE * module)
    strip = _Strip(centre - LONG / 2 * module, -(HIGH + 2.9) * module, LONG * module, 1.0 * module, line)
    shapes = _window(mesh, line, scale)
    # the ground of the strip covers the gears below their window
    floor = strip.bottom - 0.95 * module
    shapes.append(
        Outline(
            _box(centre - 40 * WIDE * module, 20 * floor, 80 * WIDE * module, -HIGH * module - 20 * floor),
            "paper",
        )
    )
    shapes += strip.shapes(ratio, shade, shown, control, scale)
    text = (
        f"The teeth of driver A, {mesh.driver.teeth} teeth, and driven B, {mesh.driven.teeth} teeth, where"
        f" they touch: the path of contact is {numerals.length(line.high - line.low, unit)} long, a base"
        f" pitch {numerals.length(line.period, unit)} long: contact ratio {numerals.plain(ratio, 2)}."
    )
    if shade is not None:
        text += f" Of one base pitch {numerals.plain(shade, 1)} % are shaded from its start."
    return Scene(
        tuple(shapes),
        text,
        unit,
        title=f"{counts(mesh.driver, mesh.driven)}, {numerals.pitch_name(mesh.driver)}",
        width=width,
        bounds=(centre - WIDE * module, floor, centre + WIDE * module, HIGH * module),
    )


def _window(mesh: Mesh, line: Action, scale: float) -> list[Shape]:
    """Teeth, circles, line of action, path of contact with its ends, and the running points of contact."""
    module, gears = mesh.driver.scale, in_mesh(mesh)
    shapes: list[Shape] = [seen.teeth(motion=seen.turn()) for seen in gears]
    shapes += [seen.circle("outside circle") for seen in gears]
    ends = line.at(line.low), line.at(line.high)
    shapes += [line.line(), Line(*ends, "string"), *(Dot(end, "hole") for end in ends), *line.contacts()]
    shapes += [
        Label(ends[0], "begins at the tips of B", (-14, -6), "end", "small", "line of action"),
        Label(ends[1], "ends at the tips of A", (14, 6), "start", "small", "line of action"),
        Label((line.pitch_point - WIDE * module, 0.0), "A", (16, 0), "start", "letter", "letter", "driver"),
        Label((line.pitch_point + WIDE * module, 0.0), "B", (-16, 0), "end", "letter", "letter", "driven"),
    ]
    return shapes


class _Strip:
    """One base pitch laid out: from where a new pair meets to where the next one does."""

    def __init__(self, left: float, bottom: float, long: float, high: float, line: Action):
        self.left, self.bottom, self.long, self.high, self.line = left, bottom, long, high, line

    def at(self, share: float, up: float = 0.0) -> tuple[float, float]:
        """The point at a share of the strip (0 to 1), ``up`` heights above its bottom."""
        return self.left + share * self.long, self.bottom + up * self.high

    def shapes(
        self, ratio: float, shade: float | None, shown: bool, control: str, scale: float
    ) -> list[Shape]:
        line = self.line
        shapes: list[Shape] = [Outline(_box(self.left, self.bottom, self.long, self.high), "outline")]
        if shade is not None:
            shapes.append(Outline(_box(self.left, self.bottom, shade / 100 * self.long, self.high), "shade"))
        if shown:
            both = ratio - 1
            shapes += [
                Line(self.at(0, 2.55), self.at(both, 2.55), "string"),
                Line(self.at(0, 1.5), self.at(1, 1.5), "string"),
                Label(self.at(both, 2.55), "the pair that leaves", (8, 0), "start", "small", "string"),
                Label(self.at(0, 1.5), "the new pair", (2, 10), "start", "small", "string"),
            ]
        for share, words in ((0, "a new pair meets"), (1, "the next pair meets")):
            shapes += [
                Line(self.at(share, -0.25), self.at(share, 1.25), "mark"),
                Label(self.at(share, -0.25), words, (0, -12), "middle", "small"),
            ]
        shapes.append(Label(self.at(0.5, -0.25), "one base pitch", (0, -12), "middle", "small"))
        if shade is not None:
            edge = self.at(shade / 100, 0.5)
            carry = Carry(control, (1.0, 0.0), "Edge of the shade", edge, 22 / scale, self.long / 100)
            shapes += [
                Line(self.at(shade / 100, 0), self.at(shade / 100, 1), "mark", motion=carry),
                Dot(edge, "hole", motion=carry),
            ]
        # the cursor stands where the newest contact is, and runs as the gears turn
        phase = ((line.start - line.low) / line.period) % 1.0
        stretch = self.long / line.period
        motion = Slide(
            (1.0, 0.0), line.per_degree * stretch, self.long, -phase * self.long, (1 - phase) * self.long
        )
        shapes += [
            Line(self.at(phase, -0.12), self.at(phase, 1.12), "line of action", motion=motion),
            Dot(self.at(phase, 1.12), "contact point", motion=motion),
        ]
        return shapes


def _box(x: float, y: float, wide: float, high: float) -> np.ndarray:
    return rectangle(x, y, x + wide, y + high)


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
