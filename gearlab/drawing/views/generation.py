"""How a flank comes about: a taut string draws it, a rack cutter cuts it."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from ...parts import Gear
from ...shape.involute import inv
from .. import numerals
from ..motion import Point, Slide, Swing, Turn
from ..scene import Scene
from ..shapes import Arc, Dimension, Dot, Label, Line, Outline, Shape, Strokes, point, points_turned
from .centres import SIDES, OnCentre


def unwinding(
    gear: Gear,
    roll_angle: float,
    *,
    tooth: bool = False,
    most: float = 50.0,
    control: str = "roll_angle",
    width: float = 720.0,
) -> Scene:
    """A string unwound from a gear's base circle by some angle, and the curve its end has drawn.

    gear: the gear; the curve is the right-hand flank of its tooth at the top.
    roll_angle: angle by which the string has unwound, 0 or more [deg].
    tooth: whether the teeth are drawn as they are cut.
    most: largest roll angle that the picture has room for [deg].
    control: name of the number that carrying the string's end changes.
    width: of the picture [points].
    Lengths in the unit of the gear [in or mm].
    ValueError if the roll angle is outside 0 to ``most``.

    >>> from gearlab.parts import Gear
    >>> unwinding(Gear(18, module=2.5), 20.0).text[-72:]
    'its end is 22.39 mm from the centre, 0.106 mm short of the pitch circle.'
    """
    if not 0 <= roll_angle <= most:
        raise ValueError(
            f"roll_angle is {roll_angle:g} deg; the picture has room for 0 to {most:g} deg: give an angle in"
            " these limits"
        )
    base, pitch, unit = gear.base_diameter / 2, gear.pitch_diameter / 2, gear.unit
    half_tooth = gear.tooth_thickness / gear.pitch_diameter
    start = math.pi / 2 - half_tooth - float(inv(math.radians(gear.pressure_angle)))
    turn = math.radians(roll_angle)
    top = base * math.hypot(1.0, math.radians(most)) + gear.scale
    bounds = (-1.06 * base, -0.05 * base, 0.84 * base, top)
    scale = (width - 36) / (bounds[2] - bounds[0])
    leaves, end = _on(base, start + turn), point(involute(base, start, turn))
    seen = OnCentre(gear, "gear", angle=90.0)
    shapes: list[Shape] = [seen.teeth()] if tooth else []
    shapes += [replace(seen.circle(kind), of="driver") for kind in ("base circle", "pitch circle")]
    shapes += [
        Dot((0.0, 0.0), "centre"),
        Line((0.0, 0.0), _on(base, start), "construction"),
        Line((0.0, 0.0), leaves, "construction"),
    ]
    wound = np.linspace(start + turn, start + math.radians(most) + 1.9, 90)
    drawn = involute(base, start, np.linspace(0.0, turn, 2 + int(roll_angle)))
    swing = Swing(control, (0.0, 0.0), "End of the string: roll angle", end, 20 / scale, base)
    shapes += [
        Outline(base * np.column_stack([np.cos(wound), np.sin(wound)]), "string", closed=False),
        Outline(drawn, "flank", "driver", closed=False),
        Dot(_on(base, start), "hole"),
        Line(leaves, end, "string", motion=swing),
        Dot(end, "contact point", motion=swing),
        *_circle_names(base, pitch),
    ]
    free, distance = numerals.length(base * turn, unit), math.hypot(*end)
    # what comes and goes stands last: the string's end keeps its place in the picture, and the focus with it
    if base * turn * scale > 40:
        middle = ((end[0] + leaves[0]) / 2, (end[1] + leaves[1]) / 2)
        shapes.append(Label(middle, f"free string {free}", (-12, 14), "end", role="string"))
    if roll_angle > 2:
        shapes += _roll_angle(0.46 * base, start, roll_angle, scale)
    return Scene(
        tuple(shapes),
        f"A taut string unwound by {numerals.number(roll_angle, 1)} degrees from a base circle of radius"
        f" {numerals.length(base, unit)}: {free} of it are free, and its end is"
        f" {numerals.length(distance, unit)} from the centre, {standing(distance - pitch, unit)}.",
        unit,
        title=f"{gear.teeth} teeth, {numerals.pitch_name(gear)}, {numerals.plain(gear.pressure_angle)}\u00b0",
        margin=(12.0, 24.0, 12.0, 12.0),
        focus=(*_on(pitch, math.pi / 2), 10 * gear.scale),
        width=width,
        bounds=bounds,
    )


def _circle_names(base: float, pitch: float) -> list[Label]:
    return [
        Label(_on(radius, math.radians(angle)), kind, offset, align, "small", kind, "driver")
        for kind, radius, angle, offset, align in (
            ("base circle", base, 42, (-8, -6), "end"),
            ("pitch circle", pitch, 62, (6, 10), "start"),
        )
    ]


def _roll_angle(radius: float, start: float, roll_angle: float, scale: float) -> list[Shape]:
    """The angle by which the string has unwound, as an arc with its words; its head is taken off the end."""
    words = f"roll angle {numerals.number(roll_angle, 1)}\u00b0"
    end = math.degrees(start + math.radians(roll_angle) - 9 / scale / radius)
    return [
        Label(_on(radius, start), words, (10, -2), "start", role="dimension"),
        Arc((0.0, 0.0), radius, math.degrees(start), end, "dimension", head=roll_angle > 12),
    ]


def involute(base: float, start: float, turn) -> np.ndarray:
    """Ends of the string unwound by angles ``turn`` from ``start`` [rad] on a circle of radius ``base``,
    shape of turn + (2,) [unit of the base].
    """
    angle = start + np.asarray(turn, dtype=float)
    return base * np.stack(
        [np.cos(angle) + turn * np.sin(angle), np.sin(angle) - turn * np.cos(angle)], axis=-1
    )


def standing(past: float, unit: str) -> str:
    """Where the end stands beside the pitch circle, in words, from how far it is past it [unit].

    >>> standing(0.001, "mm"), standing(-0.5, "mm")
    ('on the pitch circle', '0.500 mm short of the pitch circle')
    """
    if numerals.vanishes(past, unit):
        return "on the pitch circle"
    return f"{numerals.length(abs(past), unit)} {'past' if past > 0 else 'short of'} the pitch circle"


def _on(radius: float, angle: float) -> tuple[float, float]:
    return radius * math.cos(angle), radius * math.sin(angle)


# half width, depth and height of the picture about the pitch point [modules]
WIDE, BELOW, ABOVE = 6.2, 3.3, 3.4
STEPS = 11  # traces of the cutter in one space


def generation(gear: Gear, *, traces: bool = False, width: float = 720.0) -> Scene:
    """A pinion as the rack cutter leaves it, with the cutter in it; both move as in the machine.

    gear: the pinion; its profile shift is how far the cutter stands further out.
    traces: whether places of the cutter are drawn that it has passed through, seen from the pinion.
    width: of the picture [points].
    Lengths in the unit of the gear [in or mm]; the pinion's centre lies below the pitch point at (0, 0).

    >>> from gearlab.parts import Gear
    >>> generation(Gear(12, module=2.5)).text[-49:]
    'point by 0.298 modules, so the tooth is undercut.'
    """
    module, pitch = gear.scale, gear.pitch_diameter / 2
    scale = (width - SIDES) / (2 * WIDE * module)
    # a space faces the cutter
    pinion = OnCentre(gear, "driver", (0.0, -pitch), 90.0 + 180.0 / gear.teeth)
    turn = replace(pinion.turn(), name=f"Pinion, {gear.teeth} teeth")
    shapes: list[Shape] = [pinion.teeth(motion=turn)]
    if traces:
        shapes += _traces(gear, pinion.centre, turn)
    shapes += [_cutter(gear), pinion.circle("pitch circle"), pinion.circle("base circle")]
    shapes += _reach(gear, scale)
    moved = (
        f", which is {numerals.plain(abs(gear.profile_shift), 3)} modules further"
        f" {'out' if gear.profile_shift > 0 else 'in'}"
    )
    pressure_angle = numerals.plain(gear.pressure_angle)
    text = (
        f"A pinion with {gear.teeth} teeth, {numerals.pitch_name(gear)}, {pressure_angle} degrees, under its"
        f" rack cutter{moved if gear.profile_shift else ''}: the end of its straight flank"
        f" {reaching(overreach(gear))}, so the tooth is {'undercut' if gear.undercut else 'left whole'}."
    )
    return Scene(
        tuple(shapes),
        text,
        gear.unit,
        title=f"{gear.teeth} teeth, {numerals.pitch_name(gear)}, {pressure_angle}\u00b0",
        focus=(-1.2 * module, -0.6 * module, 4.5 * module),
        width=width,
        bounds=(-WIDE * module, -BELOW * module, WIDE * module, ABOVE * module),
    )


def _cutter(gear: Gear) -> Outline:
    """The cutter, as wide as the picture; it slides as the pinion turns and comes again every pitch."""
    module, edge = gear.scale, cutter(gear)
    step, shift = math.pi * module, gear.profile_shift * module
    count = math.ceil(WIDE / math.pi) + 2
    edges = np.vstack([edge + (k * step, shift) for k in range(-count, count + 1)])
    back = (ABOVE + 2.0) * module
    slide = Slide((1.0, 0.0), -gear.pitch_diameter / 2 * math.pi / 180, step, -step / 2, step / 2)
    return Outline(np.vstack([edges, [(edges[-1, 0], back), (edges[0, 0], back)]]), "cutter", motion=slide)


def _reach(gear: Gear, scale: float) -> list[Shape]:
    """The line of action, and how far the cutter's straight flank reaches beside its tangent point."""
    module, pitch, angle = gear.scale, gear.pitch_diameter / 2, math.radians(gear.pressure_angle)
    # the side on which the flank is finished: contact runs down to the left along the line of action
    past = overreach(gear) * module
    touch = (-pitch * math.sin(angle) * math.cos(angle), -pitch * math.sin(angle) ** 2)
    reach = max(math.hypot(*touch), (1.25 - gear.profile_shift) * module / math.sin(angle))
    x, y = -math.cos(angle), -math.sin(angle)
    start, end = (-3.2 * module * x, -3.2 * module * y), (reach * x, reach * y)
    level, side, top = touch[1] - past, WIDE * module, (0.0, ABOVE * module)
    shapes: list[Shape] = [Line(start, end, "line of action")]
    shapes += [Line((-side, height), (side, height), "construction") for height in (level, touch[1])]
    if abs(past) * scale > 1.0:
        shapes.append(Dimension((-0.86 * side, touch[1]), (-0.86 * side, level), ""))
    words = "its straight flank\n" + reaching(past / module)
    return [
        *shapes,
        Label(top, "rack cutter", (0, -14), size="large", role="cutter"),
        Label(top, words, (0, -47), size="normal", role="cutter"),
        Dot(touch, "mark"),
        Dot((0.0, 0.0), "pitch point"),
    ]


def overreach(gear: Gear) -> float:
    """How far the end of the cutter's straight flank reaches past the tangent point of the line of action.

    Negative short of it [modules].

    >>> from gearlab.parts import Gear
    >>> round(overreach(Gear(17, module=1)), 4), round(overreach(Gear(18, module=1)), 4)
    (0.0057, -0.0528)
    """
    sine = math.sin(math.radians(gear.pressure_angle))
    return straight_depth(gear) - gear.profile_shift - gear.teeth * sine**2 / 2


def straight_depth(gear: Gear) -> float:
    """How deep below its pitch line the cutter's flank is straight, before the round of its tip begins
    [modules].
    """
    rack = gear.tooth.rack
    return rack.dedendum - rack.tip_radius * (1 - math.sin(rack.pressure_angle))


def reaching(past: float) -> str:
    """Where the flank's end reaches beside the tangent point, in words, from how far it is past it [modules].

    >>> reaching(0.0056), reaching(-0.2)
    ('passes the tangent point by 0.006 modules', 'stays 0.200 modules short of the tangent point')
    """
    if abs(past) < 0.0005:
        return "just reaches the tangent point"
    size = numerals.number(abs(past), 3)
    return (
        f"passes the tangent point by {size} modules"
        if past > 0
        else f"stays {size} modules short of the tangent point"
    )


def cutter(gear: Gear, round_points: int = 9) -> np.ndarray:
    """One pitch of the cutter's edge, its tooth pointing down at x = 0, from the middle of one space to the
    next, (n, 2) [gear.unit].

    The pitch line on which tooth and space are equally wide is y = 0.
    """
    rack, module = gear.tooth.rack, gear.scale
    angle, radius = rack.pressure_angle, rack.tip_radius
    thicker = gear.tooth_thinning / module / 2
    depth, slope = straight_depth(gear), math.tan(angle)
    # the round of the tip, about a point that lies one radius inside tip line and flank
    middle = math.pi / 4 + thicker - depth * slope - radius * math.cos(angle), -(rack.dedendum - radius)
    swing = np.linspace(-math.pi / 2, -angle, round_points)
    round_ = np.column_stack([middle[0] + radius * np.cos(swing), middle[1] + radius * np.sin(swing)])
    # the flank ends where the cutter's space has its bottom, or a little before the space would be pointed
    top = min(rack.addendum + 0.25, 0.98 * math.pi / 4 / slope)
    half = np.vstack([round_, [(math.pi / 4 + thicker + top * slope, top), (math.pi / 2, top)]])
    return module * np.vstack([half[::-1] * (-1, 1), half])


def _traces(gear: Gear, centre: Point, turn: Turn) -> list[Shape]:
    """Places of one cutter tooth in the spaces it cuts, carried back to the pinion."""
    module, pitch = gear.scale, gear.pitch_diameter / 2
    edge = cutter(gear, 5)[1:-1] + (0.0, gear.profile_shift * module)
    reach = 1.4 * math.sqrt(2 * (1 + gear.profile_shift + 1.3) / gear.teeth)
    places = np.array(
        [
            points_turned(edge + (-pitch * roll, 0.0) - centre, -math.degrees(roll))
            for roll in np.linspace(-reach, reach, STEPS)
        ]
    )
    return [
        Strokes(points_turned(places, 360 * space / gear.teeth) + centre, "sweep", motion=turn)
        for space in range(gear.teeth)
    ]
