"""A pinion under the rack cutter that makes it.

How the cutter's edge rolls through a space, and what it takes from the flank.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from ...parts import Gear
from .. import numerals
from ..motion import Point, Slide, Turn
from ..scene import Scene
from ..shapes import Dimension, Dot, Label, Line, Outline, Shape, Strokes, points_turned
from .centres import SIDES, OnCentre

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
