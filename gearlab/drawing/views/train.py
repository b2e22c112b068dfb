"""A train seen along its shafts.

Driver, idlers and driven gear, each with its number and its way of turning.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from .. import numerals
from ..scene import Arc, Dimension, Dot, Label, Line, Scene, Teeth, Turn
from .body import body, rim, tooth_outline

ROLES = ("driver", "gear", "driven")
#: Hatching of gears between the ends, by plane [deg]: told apart from driver (45) and driven (-45) without
#: colour.
BETWEEN = (0.0, 90.0)


class Seen(NamedTuple):
    """One gear of a picture.

    Its number, the gear, where it stands, its angle [deg], its speed against the first, its role and its
    plane.
    """

    number: int
    gear: object
    centre: tuple[float, float]
    angle: float
    speed: float
    role: str
    plane: int
    shaft: int


def seen(train, first_angle: float = 0.0) -> list[Seen]:
    """The gears of a train, aligned, with their roles."""
    angles, speeds, last = train.alignment(first_angle), train.speeds(1.0), len(train.shafts) - 1
    return [
        Seen(
            one.number,
            one.gear,
            train.positions[one.shaft],
            angles[one.shaft],
            speeds[one.shaft],
            ROLES[(one.shaft > 0) + (one.shaft == last)],
            one.plane,
            one.shaft,
        )
        for one in train.gears
    ]


def train(
    train,
    *,
    first_speed: float | None = None,
    turning: float = 1.0,
    arrows: bool = True,
    width: float = 720.0,
) -> Scene:
    """A train seen from its gear side.

    Gears of a nearer plane cover those behind, whose outline is then dashed.

    Parameters
    ----------
    train : Train
        What to show.
    first_speed : float, optional
        Signed speed of the first shaft for the labels, counter-clockwise positive [rpm]; left out, no speeds
        are written.
    turning : float
        Which way the first gear turns where no speed is given, +1 counter-clockwise or -1 clockwise [-].
    arrows : bool
        Whether every shaft shows its way of turning [-].
    width : float
        Width the picture is made for [points of the picture, 96 to the inch; -].

    Returns
    -------
    Scene
        Lengths in the unit of the gears [in or mm].

    Examples
    --------
    >>> from gearlab.parts import Train
    >>> train(Train.of(18, 24, 45, module=2.5)).text
    'A train of three gears seen along its shafts, module 2.5: gear 1 with 18 teeth drives gear 2 with 24 teeth (an idler), which drives gear 3 with 45 teeth; gear 1 turns 2.5 times for each turn of gear 3, which turns the same way.'
    """  # noqa: E501
    if first_speed:
        turning = math.copysign(1.0, first_speed)
    gears = seen(train)
    unit, low, high = train.unit, *extent(gears)
    scale = (width - 24) / (high - low)
    shapes = bodies(gears, scale)
    places = train.positions
    shapes += [
        Line(one, two, "line of centres")
        for one, two in zip(places, places[1:] + places[:1] if train.ring else places[1:])
    ]
    shapes += [Dot(pitch_point(train, k), "pitch point") for k in range(len(train.meshes))]
    shapes += middles(gears, scale, turning if arrows else 0.0)
    told = names(gears, scale, first_speed)
    shapes += told
    below = any(label.offset[1] < 0 for label in told)
    if all(abs(y) < 1e-9 for _, y in places) and not train.ring:
        shapes += spacings(train, gears, scale)
    elif not train.ring and abs(places[-1][1]) < 1e-9 * places[-1][0]:  # bent, its ends on one level
        lowest = min(one.centre[1] - one.gear.outside_diameter / 2 for one in gears)
        shapes.append(
            Dimension(
                places[0],
                (places[-1][0], 0.0),
                f"first to last shaft {numerals.length(places[-1][0], unit)}",
                lowest - (70 if below else 34) / scale,
            )
        )
    return Scene(
        tuple(shapes),
        sentence(train, first_speed),
        unit,
        title=f"{train.teeth_in_words} teeth",
        margin=(50.0 + 18 * (first_speed is not None), 14.0, 54.0 if below else 16.0, 14.0),
        width=width,
    )


def extent(gears) -> tuple[float, float]:
    """Leftmost and rightmost reach of some gears [unit]."""
    return (
        min(one.centre[0] - one.gear.outside_diameter / 2 for one in gears),
        max(one.centre[0] + one.gear.outside_diameter / 2 for one in gears),
    )


def pitch_point(train, mesh: int) -> tuple[float, float]:
    """Where the pitch circles of a mesh touch [unit]."""
    (x, y), (u, v) = train.positions[mesh], train.positions[(mesh + 1) % len(train.positions)]
    pair = train.meshes[mesh]
    share = pair.driver.teeth / (pair.driver.teeth + pair.driven.teeth)
    return x + share * (u - x), y + share * (v - y)


def bodies(gears, scale: float, still: bool = False, marked: bool = True) -> list:
    """Teeth and hatching, farther planes first; what a nearer gear covers of an outline is dashed above it.

    ``still`` gears keep a motion that moves nothing, so that a living picture may set them turning later.
    """
    shapes, by_shaft = [], {}
    for one in gears:
        by_shaft.setdefault(one.shaft, []).append(one)
    for one in sorted(gears, key=lambda one: (one.plane, one.number)):
        mates = by_shaft[one.shaft]
        motion = Turn(one.centre, 0.0)
        if not still:
            # the larger gear of a shaft is its handle; the smaller one lets the hand through to it
            handle = one == max(mates, key=lambda mate: mate.gear.teeth)
            motion = Turn(
                one.centre,
                one.speed,
                spoken(mates) if handle else "",
                360 / one.gear.teeth,
                one.gear.outside_diameter / 2,
            )
        slope = BETWEEN[min(one.plane, 1)] if one.role == "gear" else None
        shapes += body(one.gear, one.role, one.centre, one.angle, motion, scale, 0 if marked else None, slope)
    for one in gears:
        if any(covers(near, one) for near in gears):
            motion = Turn(one.centre, 0.0 if still else one.speed)
            shapes.append(
                Teeth(
                    tooth_outline(one.gear),
                    one.gear.teeth,
                    one.centre,
                    one.angle,
                    "hidden outline",
                    one.role,
                    motion,
                )
            )
    return shapes


def covers(near: Seen, far: Seen) -> bool:
    """Whether a gear in a nearer plane covers part of another one's outline [-]."""
    apart = math.dist(near.centre, far.centre)
    r_near, r_far = near.gear.outside_diameter / 2, far.gear.outside_diameter / 2
    return near.plane > far.plane and apart < r_near + r_far and apart + r_near > far.gear.root_diameter / 2


def spoken(mates) -> str:
    """What a screen reader calls the gears of one shaft."""
    numbers, teeth = (
        " and ".join(str(value) for value in values)
        for values in zip(*((one.number, one.gear.teeth) for one in mates))
    )
    return f"Gear{'s' if len(mates) > 1 else ''} {numbers}, {teeth} teeth"


def _by_place(gears, near: float) -> list[list[Seen]]:
    """Gears whose axes are the same, or nearer to each other than their numbers could stand apart.

    The smallest first.
    """
    groups: list[list[Seen]] = []
    for one in sorted(gears, key=lambda one: (one.gear.outside_diameter, one.number)):
        group = next((group for group in groups if math.dist(group[0].centre, one.centre) < near), None)
        if group is None:
            groups.append([one])
        else:
            group.append(one)
    return groups


def middles(gears, scale: float, turning: float) -> list:
    """Numbers in the middle of the gears and an arrow for each shaft.

    Where two stand on one axis, the larger one's stand further out.
    """
    shapes = []
    for group in _by_place(gears, 40 / scale):
        inner, told = 0.0, set()
        for one in group:
            plain = rim(one.gear)[0]
            roomy = plain * scale > 34
            if inner == 0.0:
                shapes.append(
                    Label(
                        one.centre,
                        str(one.number),
                        size="letter" if roomy else "large",
                        role="letter",
                        of=one.role,
                    )
                )
                radius = 0.80 * plain if plain * scale > 24 else one.gear.outside_diameter / 2 + 9.0 / scale
            else:
                radius = max((inner + plain) / 2, inner + 9 / scale)
                shapes.append(
                    Label(
                        _clear_place(one, radius, gears),
                        str(one.number),
                        size="large",
                        role="letter",
                        of=one.role,
                    )
                )
            if turning and one.shaft not in told:
                shapes.append(
                    turning_arrow(one, radius, turning * one.speed, 60.0 if roomy or inner else 48.0)
                )
                told.add(one.shaft)
            inner = one.gear.outside_diameter / 2
    return shapes


def _clear_place(one: Seen, radius: float, gears) -> tuple[float, float]:
    """A place so far from the middle of a gear, clear of its arrow, where other outlines are farthest."""

    def reach(at):
        return min(
            [
                abs(math.dist(at, other.centre) - other.gear.outside_diameter / 2)
                for other in gears
                if other is not one
            ],
            default=0.0,
        )

    turns = [math.radians(angle) for angle in (215.0, 325.0, 0.0, 180.0)]
    return max(
        (
            (one.centre[0] + radius * math.cos(turn), one.centre[1] + radius * math.sin(turn))
            for turn in turns
        ),
        key=reach,
    )


def turning_arrow(one: Seen, radius: float, turning: float, reach: float = 60.0) -> Arc:
    """The arrow over the middle of a gear: counter-clockwise for positive, clockwise for negative turning."""
    side = math.copysign(1.0, turning)
    return Arc(
        one.centre, radius, 90.0 - side * reach, 90.0 + side * reach, "turning arrow", one.role, head=True
    )


def names(gears, scale: float, first_speed: float | None) -> list:
    """Teeth and speed over each axis (below it where another gear is in the way).

    A gear with others on its axis says its number too.
    """
    shapes = []
    for group in _by_place(gears, 1e-6):
        x, y = group[0].centre
        top = max(one.gear.outside_diameter / 2 for one in group)
        lines = [
            (f"{one.number}: " if len(group) > 1 else "") + f"{one.gear.teeth} teeth" for one in sorted(group)
        ]
        speeds = (
            []
            if first_speed is None
            else list(dict.fromkeys(turning_words(first_speed * one.speed) for one in sorted(group)))
        )
        role = group[0].role if len(group) == 1 else ""
        wide, high = 4.2 * max(map(len, lines)) / scale, (24 + 18 * len(lines + speeds)) / scale
        others = [one for one in gears if one not in group]
        side = -1 if any(_touches(one, x - wide, x + wide, y + top, y + top + high) for one in others) else 1
        for k, line in enumerate((lines + speeds)[::-side]):
            shapes.append(
                Label(
                    (x, y + side * top),
                    line,
                    (0, side * (15 + 18 * k)),
                    size="normal" if line in lines else "small",
                    role=role or "dimension",
                    of=role,
                )
            )
    return shapes


def _touches(one: Seen, left: float, right: float, low: float, high: float) -> bool:
    x, y = one.centre
    return math.hypot(max(left - x, 0, x - right), max(low - y, 0, y - high)) < one.gear.outside_diameter / 2


def turning_words(speed: float) -> str:
    """A signed speed as size and turning arrow [rpm].

    >>> turning_words(-11.25)
    '11.25 rpm ↻'
    """
    return numerals.speed(speed, direction=False) + (
        " \u21ba" if speed > 0 else " \u21bb" if speed < 0 else ""
    )


def spacings(train, gears, scale: float) -> list:
    """The centre distances of shafts in one line, and below them the length of the whole row."""
    below = max(one.gear.outside_diameter for one in gears) / 2
    xs, unit = [x for x, _ in train.positions], train.unit
    row = len(xs) > 2 and all(b > a for a, b in pairwise(xs))
    shapes = []
    for k, distance in enumerate(train.centre_distances):
        level = -below - (34 + (0 if row else 44 * k)) / scale
        low, high = sorted(xs[k : k + 2])
        words = numerals.length(distance, unit)
        if not row:
            one, two = (
                max((one for one in gears if one.shaft == k), key=lambda one: one.number),
                min((one for one in gears if one.shaft == k + 1), key=lambda one: one.number),
            )
            words = f"gears {one.number} and {two.number}: {words}"
        shapes.append(Dimension((low, 0.0), (high, 0.0), words, level))
    if row:
        shapes.append(
            Dimension(
                (xs[0], 0.0),
                (xs[-1], 0.0),
                f"first to last shaft {numerals.length(xs[-1], unit)}",
                -below - 78 / scale,
            )
        )
    return shapes


_COUNTS = {2: "two", 3: "three", 4: "four", 5: "five", 6: "six", 7: "seven", 8: "eight", 9: "nine"}


def count_word(count: int) -> str:
    """A small number as a word [-]."""
    return _COUNTS.get(count, str(count))


def sentence(train, first_speed: float | None) -> str:
    """What a train's picture shows, with the numbers."""

    def called(one):
        return f"gear {one.number} with {one.gear.teeth} teeth"

    told = called(train.gears[0])
    for one in train.gears[1:]:
        before = train.gears[one.number - 2]
        idler = " (an idler)" if one.shaft in train.idlers and not train.ring else ""
        if one.shaft == before.shaft:
            told += f"; on its shaft {called(one)}"
        elif before.number == 1 or train.gears[before.number - 2].shaft == before.shaft:
            told += f" drives {called(one)}{idler}"
        else:
            told += f", which drives {called(one)}{idler}"
    last = train.gears[-1].number
    text = (
        f"A train of {count_word(last)} gears seen along its shafts,"
        f" {numerals.pitch_name(train.gears[0].gear)}: {told}; gear 1 turns"
        f" {'once' if train.ratio == 1 else numerals.plain(train.ratio, 4) + ' times'} for each turn of gear"
        f" {last}, which turns the {'same' if train.direction > 0 else 'other'} way"
    )
    if train.reverted:
        text += ", on the axis of gear 1"
    if first_speed is not None:
        text += "; " + ", ".join(
            f"shaft {k} {numerals.speed(speed)}" for k, speed in enumerate(train.speeds(first_speed), 1)
        )
    return text + "."


def without_names(shapes) -> list:
    """The same shapes, their gears no handles."""
    return [
        replace(shape, motion=replace(shape.motion, name="")) if isinstance(shape.motion, Turn) else shape
        for shape in shapes
    ]
