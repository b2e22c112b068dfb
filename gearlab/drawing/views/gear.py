"""One gear by itself: its diameters, the parts of its tooth, the force on it, its teeth laid out straight."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ...parts import Gear
from .. import numerals
from ..motion import Turn
from ..scene import Scene
from ..shapes import Arc, Circle, Dimension, Dot, Label, Line, Outline, Shape, points_turned, turned
from .centres import OnCentre, tooth_outline


def gear(
    gear: Gear,
    *,
    circles: Sequence[str] = ("pitch circle",),
    dimensions: Sequence[str] = ("pitch diameter", "outside diameter"),
    frame: float | None = None,
    width: float = 520.0,
) -> Scene:
    """A gear with its pitch circle and its diameters; tooth 0 is marked and stands on the right.

    circles: which of "pitch circle", "base circle", "outside circle", "root circle" to draw.
    dimensions: which of "pitch diameter", "base diameter", "outside diameter", "root diameter" to write.
    frame: width that the picture has room for [gear.unit, in or mm]; left out, the gear fills it.
    width: of the picture [points].
    Lengths in the unit of the gear [in or mm]; the gear turns with the driver's angle.
    ValueError if a circle or diameter is not known.

    >>> from gearlab.parts import Gear
    >>> print(gear(Gear(46, module=2.5)).text)
    A spur gear with 46 teeth, module 2.5: pitch diameter 115.00 mm, outside diameter 120.00 mm,
    root diameter 108.75 mm.
    """
    for given, ending in ((circles, "circle"), (dimensions, "diameter")):
        known = [f"{kind} {ending}" for kind in ("pitch", "base", "outside", "root")]
        for name in given:
            if name not in known:
                raise ValueError(f"{name!r} is not known; choose from: {', '.join(known)}")
    unit, outside = gear.unit, gear.outside_diameter / 2
    half = max(frame or 0.0, gear.outside_diameter) / 2
    scale = (width - 28) / (2 * half)
    seen = OnCentre(gear, "gear")
    motion = Turn((0.0, 0.0), 1.0, f"Gear with {gear.teeth} teeth", 360 / gear.teeth, outside)
    shapes = seen.body(scale, motion)
    shapes += [replace(seen.circle(name), of="driver") for name in circles]
    shapes += named(gear, 0.62)
    sizes = {name: getattr(gear, name.replace(" ", "_")) for name in dimensions}
    levels = [-outside - (34 + 46 * row) / scale for row in range(len(dimensions))]
    for level, (name, size) in zip(levels, sorted(sizes.items(), key=lambda item: item[1])):
        words = f"{name} {numerals.length(size, unit)}"
        of = "driver" if name == "pitch diameter" else ""
        shapes.append(Dimension((-size / 2, 0.0), (size / 2, 0.0), words, level, of=of))
    text = (
        f"A spur gear with {gear.teeth} teeth, {numerals.pitch_name(gear)}: pitch diameter"
        f" {numerals.length(gear.pitch_diameter, unit)}, outside diameter"
        f" {numerals.length(gear.outside_diameter, unit)}, root diameter"
        f" {numerals.length(gear.root_diameter, unit)}."
    )
    return Scene(
        tuple(shapes),
        text,
        unit,
        title=f"{gear.teeth} teeth",
        margin=(14.0, 14.0, 14.0, 14.0),
        width=width,
        bounds=(-half, levels[-1] if levels else -outside, half, half),
    )


def named(gear: Gear, room: float) -> list[Label]:
    """Teeth and pitch in the middle of a gear; the pitch has room on a share of the root diameter."""
    words, wide = numerals.pitch_name(gear), room * gear.root_diameter
    return [
        Label((0.0, 0.0), f"{gear.teeth} teeth", (0, 13), size="large", role="letter", of="gear"),
        Label((0.0, 0.0), words, (0, -11), size="normal", role="speed", of="gear", room=wide),
    ]


#: What an arrow of the anatomy can show: quantity word and name, in the order of the numbers on the arrows.
ANATOMY = (
    ("addendum", "addendum"),
    ("dedendum", "dedendum"),
    ("whole_depth", "whole depth"),
    ("clearance", "clearance"),
    ("tooth_thickness", "tooth thickness"),
)

CIRCLES = (
    ("outside circle", "outside_diameter"),
    ("pitch circle", "pitch_diameter"),
    ("base circle", "base_diameter"),
    ("root circle", "root_diameter"),
)


def tooth(gear: Gear, *, named: bool = True, width: float = 720.0) -> Scene:
    """Three teeth, enlarged, with their circles, depths and thickness.

    named: True writes name and size on each arrow; False writes the numbers 1 to 5 of ``ANATOMY``.
    width: of the picture [points].
    Lengths in the unit of the gear [in or mm], the middle tooth upright.
    ValueError if the gear is so small that the section would be wider than its root circle.

    >>> from gearlab.parts import Gear
    >>> "whole depth 5.625 mm" in tooth(Gear(18, module=2.5)).text
    True
    """
    pitch = gear.circular_pitch
    left, right = -1.22 * pitch, 1.08 * pitch
    if gear.root_diameter / 2 <= -left:
        raise ValueError(
            f"{gear.teeth} teeth are too few for a section of three teeth: the root diameter is"
            f" {gear.root_diameter:.4g} {gear.unit} and must be above {-2 * left:.4g} {gear.unit}; give"
            " more teeth"
        )
    margins = (104.0, 96.0 if named else 36.0)  # right, left: for the words
    scale = (width - sum(margins)) / (right - left + 0.35 * pitch)
    shapes: list[Shape] = [Outline(_section(gear, left, right), "gear", "gear")]
    shapes += _circles(gear, left, right, scale)
    shapes += _depths(gear, left, scale, named)
    shapes += _thickness(gear, named)
    what = f"Section of the teeth of a gear with {gear.teeth} teeth, {numerals.pitch_name(gear)}"
    if named:
        sizes = [f"{name} {numerals.length(getattr(gear, word), gear.unit)}" for word, name in ANATOMY]
        text = f"{what}: {', '.join(sizes)}."
    else:
        text = (
            f"{what}, with five numbered arrows: 1 from the pitch circle to the outside circle; 2 from the"
            " root circle to the pitch circle; 3 from the root circle to the outside circle; 4 from the root"
            " circle up to where the other gear's tips reach; 5 across the tooth along the pitch circle."
        )
    return Scene(
        tuple(shapes),
        text,
        gear.unit,
        title="tooth anatomy",
        margin=(16.0, margins[0], 14.0, margins[1]),
        width=width,
    )


def _circles(gear: Gear, left: float, right: float, scale: float) -> list[Shape]:
    """The four circles between two upright cuts, with their names on the right."""
    sizes = sorted(CIRCLES, key=lambda row: -getattr(gear, row[1]))
    radii = [getattr(gear, size) / 2 for _, size in sizes]
    at_edge = [math.sqrt(radius**2 - right**2) for radius in radii]
    shapes: list[Shape] = []
    for (role, _), radius, edge, height in zip(sizes, radii, at_edge, _apart(at_edge, 20 / scale)):
        of = "driver" if role == "pitch circle" else ""
        near, far = (math.degrees(math.asin(side / radius)) for side in (left, right))
        tail = (right + 8 / scale, height)
        shapes += [
            Arc((0.0, 0.0), radius, 90 - near, 90 - far, role, of),
            Outline(np.array([[right, edge], tail]), "construction", closed=False),
            Label(tail, role, (4, 0), "start", "small", role, of),
        ]
    return shapes


def _depths(gear: Gear, left: float, scale: float, named: bool) -> list[Shape]:
    """Depths along radii: the dimension lines stand left of the teeth, square to the middle tooth."""
    pitch, radius = gear.circular_pitch, gear.pitch_diameter / 2
    outside, root = gear.outside_diameter / 2, gear.root_diameter / 2

    def tag(number: int, value: float) -> str:
        name = ANATOMY[number][1]
        return f"{name}\n{numerals.length(value, gear.unit)}" if named else str(number + 1)

    near, far = left - 0.13 * pitch, left - 0.35 * pitch
    shapes: list[Shape] = [Dimension((near, outside), (near, root), tag(2, outside - root), text_at=1)]
    for low, high, number in ((radius, outside, 0), (root, radius, 1)):
        shapes.append(Dimension((far, low), (far, high), tag(number, high - low)))
    for level in (outside, radius, root):
        line = np.array([[far - 6 / scale, level], [0.0, level]])
        shapes.append(Outline(line, "construction", closed=False))
    working = root + gear.clearance
    x, y = turned((0.0, 1.0), (0.0, 0.0), -180 / gear.teeth)  # the middle of a space
    return [
        *shapes,
        Arc((0.0, 0.0), working, 90 - 330 / gear.teeth, 90 - 30 / gear.teeth, "construction"),
        Dimension((x * root, y * root), (x * working, y * working), tag(3, gear.clearance), text_at=-1),
    ]


def _thickness(gear: Gear, named: bool) -> list[Shape]:
    """The thickness of the middle tooth as an arc of the pitch circle with two heads."""
    radius, thick = gear.pitch_diameter / 2, gear.tooth_thickness
    half = math.degrees(thick / 2 / radius)
    words = f"tooth\nthickness\n{numerals.length(thick, gear.unit)}" if named else "5"
    below = (0, -34 if named else -16)
    return [
        Arc((0.0, 0.0), radius, 90, 90 + half, "dimension", head=True),
        Arc((0.0, 0.0), radius, 90, 90 - half, "dimension", head=True),
        Label((0.0, radius), words, below, size="normal", role="speed", of="gear", room=thick),
    ]


def _section(gear: Gear, left: float, right: float) -> np.ndarray:
    """The teeth between two upright cuts, tooth 0 upright, with a straight lower edge below the root."""
    outline = tooth_outline(gear)[:-1]
    points = np.vstack([points_turned(outline, 90 + k * 360 / gear.teeth) for k in (-2, -1, 0, 1, 2)])
    inside = (points[:, 0] > left) & (points[:, 0] < right)
    kept = points[inside]
    order = np.flatnonzero(inside)

    def crossing(i, j, x):
        (x0, y0), (x1, y1) = points[i], points[j]
        return [x, y0 + (y1 - y0) * (x - x0) / (x1 - x0)]

    first = crossing(order[0] - 1, order[0], right)
    last = crossing(order[-1], order[-1] + 1, left)
    low = gear.root_diameter / 2 - max(1.4 * gear.scale, 0.0)
    low = min(
        low,
        math.sqrt((gear.root_diameter / 2) ** 2 - min(left**2, 0.9 * (gear.root_diameter / 2) ** 2))
        - 0.8 * gear.scale,
    )
    return np.vstack([[first], kept, [last], [[left, low], [right, low]]])


def _apart(heights: list[float], least: float) -> list[float]:
    """Heights in falling order, moved apart so that words do not lie on each other."""
    moved = list(heights)
    for _ in range(60):
        for i in range(len(moved) - 1):
            lack = least - (moved[i] - moved[i + 1])
            if lack > 1e-12:
                moved[i] += lack / 2
                moved[i + 1] -= lack / 2
    return moved


def forces(
    gear: Gear, normal: float, along: float, apart: float, *, unit: str = "N", width: float = 560.0
) -> Scene:
    """One tooth with the force that the driver's tooth puts on it at the pitch point, and two parts that
    should make it up.

    The tooth stands upright; the driver pushes it to the right. The force leans from the common tangent by
    the pressure angle, towards the gear's centre.

    normal: size of the force along the line of action, above 0 [unit].
    along, apart: the two parts, drawn end to end: along the pitch circle, and towards the centre [unit].
    unit: "N" or "lbf".
    width: of the picture [points].
    Arrows to one scale of force; lengths of the tooth in true proportions [gear.unit].

    >>> from gearlab.parts import Gear
    >>> print(forces(Gear(18, module=2.5), 91.5, 86.0, 31.3).text)
    A tooth is pushed with 91.5 N along the line of action, 20° from the common tangent; 86 N along
    the pitch circle and 31.3 N towards the centre make it up.
    """
    places = 1 if unit == "N" else 2
    phi, size, radius = math.radians(gear.pressure_angle), gear.scale, gear.pitch_diameter / 2
    tooth = tooth_outline(gear)
    upright = np.column_stack([-tooth[:, 1], tooth[:, 0]])
    # the left flank on the pitch circle: half a tooth to the left of the middle
    half = gear.tooth_thickness / gear.pitch_diameter
    point = -radius * math.sin(half), radius * math.cos(half)
    per = 5.2 * size / normal  # the force is drawn five modules long
    turn = half  # the tangent at that point leans by half a tooth
    tangent = np.array([math.cos(turn), math.sin(turn)])
    inward = np.array([math.sin(turn), -math.cos(turn)])
    start = np.array(point)
    force = normal * per * (math.cos(phi) * tangent + math.sin(phi) * inward)
    first = along * per * tangent
    second = apart * per * inward
    low, high = radius - 3.2 * size, radius + 2.4 * size
    shapes: list[Shape] = [
        Outline(np.vstack([upright, [[upright[-1, 0], low], [upright[0, 0], low]]]), "driven")
    ]
    shapes.append(Circle((0.0, 0.0), radius, "pitch circle", "driven"))
    shapes.append(
        Line(tuple(start - 3.2 * size * tangent), tuple(start + 6.4 * size * tangent), "construction")
    )
    action = force / np.hypot(*force)
    shapes.append(
        Line(tuple(start - 3.2 * size * action), tuple(start + 6.6 * size * action), "line of action")
    )
    both = first + second
    for end, begin, role, words, offset in (
        (start + force, start, "driver", f"force {numerals.plain(normal, places)} {unit}", (-10, -28)),
        (start + first, start, "driven", f"along {numerals.plain(along, places)} {unit}", (0, 16)),
        (start + both, start + first, "gear", f"apart {numerals.plain(apart, places)} {unit}", (56, 0)),
    ):
        if np.hypot(*(end - begin)) < 1e-6 * size:
            continue
        shapes += _arrow(begin, end, role, size)
        middle = (begin + end) / 2 if role != "driver" else begin + 0.55 * (end - begin)
        shapes.append(Label(tuple(middle), words, offset, size="small", role="letter", of=role))
    shapes.append(Dot(tuple(start), "pitch point"))
    fits = np.hypot(*(both - force)) <= 0.02 * normal * per
    does = "make it up" if fits else "do not make it up"
    text = (
        f"A tooth is pushed with {numerals.plain(normal, places)} {unit} along the line of action,"
        f" {numerals.plain(gear.pressure_angle, 2)}\u00b0 from the common tangent;"
        f" {numerals.plain(along, places)} {unit} along the pitch circle and {numerals.plain(apart, places)}"
        f" {unit} towards the centre {does}."
    )
    left, right = point[0] - 3.4 * size, point[0] + 7.4 * size
    return Scene(
        tuple(shapes),
        text,
        gear.unit,
        title="force on a tooth",
        margin=(20.0, 20.0, 20.0, 20.0),
        width=width,
        bounds=(left, low, right, high),
    )


def _arrow(begin, end, role: str, size: float) -> list[Shape]:
    """A stout arrow from point to point, as outline."""
    along = (end - begin) / np.hypot(*(end - begin))
    across = np.array([-along[1], along[0]])
    wide, head = 0.09 * size, min(0.7 * size, 0.6 * float(np.hypot(*(end - begin))))
    neck = end - head * along
    points = [
        begin + wide * across,
        neck + wide * across,
        neck + 3.2 * wide * across,
        end,
        neck - 3.2 * wide * across,
        neck - wide * across,
        begin - wide * across,
    ]
    return [Outline(np.array(points), "marked tooth", role)]


def strips(
    first_pitch: float,
    second_pitch: float,
    *,
    names: tuple[str, str] = ("", ""),
    pitch_number: int = 0,
    count: int = 20,
    unit: str = "mm",
    width: float = 960.0,
) -> Scene:
    """Two rows of teeth that start level, drawn straight, and how far they differ at one tooth.

    first_pitch, second_pitch: circular pitches of the upper and the lower row, above 0 [unit, in or mm].
    names: what the rows are called.
    pitch_number: tooth at which the difference is drawn, 0 to ``count`` [-].
    count: number of the last tooth of a row [-].
    unit: "mm" or "in".
    width: of the picture [points].
    Lengths in ``unit`` [in or mm].
    ValueError if a pitch is not above 0 or the rows have no such tooth.

    >>> strips(7.854, 7.980, names=("module 2.5", "P 10"), pitch_number=10).text[-53:]
    'at tooth 10 they are 1.260 mm apart, 0.16 of a pitch.'
    """
    if not (first_pitch > 0 and second_pitch > 0):
        raise ValueError(
            f"circular pitches must be above 0 {unit}; given {first_pitch:g} and {second_pitch:g} {unit}"
        )
    if not 0 <= pitch_number <= count:
        raise ValueError(
            f"pitch_number is {pitch_number}; the rows have teeth 0 to {count}: choose one of these"
        )
    module = first_pitch / math.pi
    # of the pitch lines and of the backs, above and below the middle
    level, back = 1.25 * module, 4.2 * module
    above = back + 1.7 * module  # of the dimension
    rows = (("driver", first_pitch, 1.0), ("driven", second_pitch, -1.0))
    shapes: list[Shape] = []
    for (role, pitch, up), name in zip(rows, names):
        shapes.append(Outline(_row(pitch, count, up * level, up, up * back), role, role))
        at, over = (-first_pitch / 2, above if up > 0 else -back), 28 if up > 0 else -18
        shapes.append(Label(at, name, (0, over), "start", "normal", role, role))
    ends = first_pitch * pitch_number, second_pitch * pitch_number
    for (role, _, _), x in zip(rows, ends):
        shapes.append(Line((x, -back), (x, above + 0.4 * module), "mark", role))
    apart = abs(pitch_number * (second_pitch - first_pitch))
    if apart > 1e-9 * first_pitch:
        side = -1 if pitch_number > 0.35 * count else 1
        words = f"{numerals.length(apart, unit)} apart"
        shapes.append(Dimension((min(ends), above), (max(ends), above), words, text_at=side))
    middle, room = (level + module + back) / 2, back - level - module
    for n in range(0, count + 1, 5):
        for role, pitch, up in rows:
            at = (n * pitch, up * middle)
            shapes.append(Label(at, str(n), size="small", role="speed", of=role, room=room))
    text = (
        f"Two rows of teeth that start level, {names[0]} with circular pitch"
        f" {numerals.length(first_pitch, unit)} above {names[1]} with {numerals.length(second_pitch, unit)}:"
        f" at tooth {pitch_number} they are {numerals.length(apart, unit)} apart,"
        f" {numerals.plain(apart / first_pitch, 3)} of a pitch."
    )
    return Scene(
        tuple(shapes),
        text,
        unit,
        title="two pitches",
        margin=(42.0, 12.0, 34.0, 12.0),
        # between both ends, so that it is filled
        focus=(first_pitch * min(max(pitch_number, 1.5), count - 1.5), 0.0, 4 * first_pitch),
        width=width,
    )


def _row(pitch: float, count: int, level: float, up: float, back: float) -> np.ndarray:
    """Straight teeth that point to the middle, half a pitch thick on the pitch line at ``level``, flanks at
    20 degrees.
    """
    module = pitch / math.pi
    slope = math.tan(math.radians(20))
    tip, root = pitch / 4 - module * slope, pitch / 4 + 1.25 * module * slope
    points = []
    for n in range(count + 1):
        x = n * pitch
        points += [
            (x - root, level + up * 1.25 * module),
            (x - tip, level - up * module),
            (x + tip, level - up * module),
            (x + root, level + up * 1.25 * module),
        ]
    return np.array(points + [(points[-1][0], back), (points[0][0], back)])
