"""A train seen along its shafts.

Driver, idlers and driven gear, each with its number and its way of turning.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

from ...parts import Train
from ...parts.train import Placed
from .. import numerals
from ..depth import by_depth
from ..motion import Point, Turn
from ..scene import Scene
from ..shapes import Arc, Dimension, Dot, Label, Line, Shape
from .body import rim
from .centres import BELOW, OnCentre, extent, fitted, lowest_tip, pitch_point

ROLES = ("driver", "gear", "driven")
#: Hatching of gears between the ends, by plane [deg]: told apart from driver (45) and driven (-45) without
#: colour.
BETWEEN = (0.0, 90.0)


@dataclass(frozen=True)
class Seen(OnCentre):
    """One gear of a train's picture.

    number: counted along the train, from 1 [-].
    plane, shaft: counted from 0 [-].
    """

    number: int = 1
    plane: int = 0
    shaft: int = 0

    @property
    def name(self) -> str:
        """What a screen reader calls it."""
        return spoken([self])


def seen(train: Train, first_angle: float = 0.0) -> list[Seen]:
    """The gears of a train, aligned, with their roles."""
    angles, speeds, last = train.alignment(first_angle), train.speeds(1.0), len(train.shafts) - 1
    return [
        Seen(
            placed.gear,
            ROLES[(placed.shaft > 0) + (placed.shaft == last)],
            train.positions[placed.shaft],
            angles[placed.shaft],
            speeds[placed.shaft],
            placed.number,
            placed.plane,
            placed.shaft,
        )
        for placed in train.gears
    ]


def train(
    train: Train,
    *,
    first_speed: float | None = None,
    turning: float = 1.0,
    arrows: bool = True,
    width: float = 720.0,
) -> Scene:
    """A train seen from its gear side.

    Gears of a nearer plane cover those behind, whose outline is then dashed.

    first_speed: signed speed of the first shaft for the labels, counter-clockwise positive [rpm]; left out,
        no speeds are written.
    turning: which way the first gear turns where no speed is given, +1 counter-clockwise or -1 clockwise
        [-].
    arrows: whether every shaft shows its way of turning.
    width: of the picture [points].
    Lengths in the unit of the gears [in or mm].

    >>> from gearlab.parts import Train
    >>> print(train(Train.of(18, 24, 45, module=2.5)).text)
    A train of three gears seen along its shafts, module 2.5: gear 1 with 18 teeth drives gear 2
    with 24 teeth (an idler), which drives gear 3 with 45 teeth; gear 1 turns 2.5 times for each
    turn of gear 3, which turns the same way.
    """
    if first_speed:
        turning = math.copysign(1.0, first_speed)
    gears, places = seen(train), train.positions
    scale = fitted(gears, width)
    shapes = bodies(gears, scale)
    shapes += [
        Line(here, there, "line of centres")
        for here, there in zip(places, places[1:] + places[:1] if train.ring else places[1:])
    ]
    shapes += pitch_points(train)
    shapes += middles(gears, scale, turning if arrows else 0.0)
    labels = names(gears, scale, first_speed)
    shapes += labels
    below = any(label.offset[1] < 0 for label in labels)
    shapes += _lengths(train, gears, scale, below)
    return Scene(
        tuple(shapes),
        sentence(train, first_speed),
        train.unit,
        title=f"{train.teeth_in_words} teeth",
        margin=(50.0 + 18 * (first_speed is not None), 14.0, 54.0 if below else 16.0, 14.0),
        width=width,
    )


def pitch_points(train: Train) -> list[Dot]:
    """Where the pitch circles of each mesh touch."""
    places = train.positions
    following = places[1:] + places[:1]
    return [
        Dot(pitch_point(mesh, here, there), "pitch point")
        for mesh, here, there in zip(train.meshes, places, following)
    ]


def _lengths(train: Train, gears: list[Seen], scale: float, below: bool) -> list[Dimension]:
    """Centre distances of shafts in line, or from the first to the last of a bent row that ends level."""
    places = train.positions
    if train.ring:
        return []
    if all(abs(y) < 1e-9 for _, y in places):
        return spacings(train, gears, scale)
    x, y = places[-1]
    if abs(y) >= 1e-9 * x:
        return []
    words = f"first to last shaft {numerals.length(x, train.unit)}"
    return [
        Dimension(places[0], (x, 0.0), words, extent(gears, axis=1)[0] - (70 if below else BELOW) / scale)
    ]


def bodies(gears: list[Seen], scale: float, still: bool = False, marked: bool = True) -> list[Shape]:
    """Teeth and hatching, farther planes first; what a nearer gear covers of an outline is dashed above it.

    ``still`` gears keep a motion that moves nothing, so that a living picture may set them turning later.
    """
    shapes: list[Shape] = []
    for gear in sorted(gears, key=lambda gear: (gear.plane, gear.number)):
        motion = Turn(gear.centre, 0.0, plane=gear.plane)
        if not still:
            mates = [mate for mate in gears if mate.shaft == gear.shaft]
            # the larger gear of a shaft is its handle; the smaller one lets the hand through to it
            handle = gear == max(mates, key=lambda mate: mate.gear.teeth)
            motion = replace(gear.turn(), name=spoken(mates) if handle else "", plane=gear.plane)
        slope = BETWEEN[min(gear.plane, 1)] if gear.role == "gear" else None
        shapes += gear.body(scale, motion, 0 if marked else None, slope)
    return by_depth(shapes)


def spoken(mates: list[Seen]) -> str:
    """What a screen reader calls the gears of one shaft."""
    numbers = " and ".join(str(gear.number) for gear in mates)
    teeth = " and ".join(str(gear.gear.teeth) for gear in mates)
    return f"Gear{'s' if len(mates) > 1 else ''} {numbers}, {teeth} teeth"


def _by_place(gears: list[Seen], near: float) -> list[list[Seen]]:
    """Gears whose axes are the same, or nearer to each other than their numbers could stand apart.

    The smallest first.
    """
    groups: list[list[Seen]] = []
    for gear in sorted(gears, key=lambda gear: (gear.tip, gear.number)):
        group = next((group for group in groups if math.dist(group[0].centre, gear.centre) < near), None)
        if group is None:
            groups.append([gear])
        else:
            group.append(gear)
    return groups


def middles(gears: list[Seen], scale: float, turning: float) -> list[Shape]:
    """Numbers in the middle of the gears and an arrow for each shaft.

    Where two stand on one axis, the larger one's stand further out.
    """
    shapes: list[Shape] = []
    for group in _by_place(gears, 40 / scale):
        inner, with_arrow = 0.0, set()
        for gear in group:
            plain = rim(gear.gear)[0]
            roomy, size, place = plain * scale > 34, "large", gear.centre
            if inner == 0.0:
                size = "letter" if roomy else "large"
                radius = 0.80 * plain if plain * scale > 24 else gear.tip + 9.0 / scale
            else:
                radius = max((inner + plain) / 2, inner + 9 / scale)
                place = _clear_place(gear, radius, gears)
            shapes.append(Label(place, str(gear.number), size=size, role="letter", of=gear.role))
            if turning and gear.shaft not in with_arrow:
                reach = 60.0 if roomy or inner else 48.0
                shapes.append(turning_arrow(gear, radius, turning * gear.speed, reach))
                with_arrow.add(gear.shaft)
            inner = gear.tip
    return shapes


def _clear_place(gear: Seen, radius: float, gears: list[Seen]) -> Point:
    """A place so far from the middle of a gear, clear of its arrow, where other outlines are farthest."""
    x, y = gear.centre

    def reach(at: Point) -> float:
        others = [other for other in gears if other is not gear]
        return min([abs(math.dist(at, other.centre) - other.tip) for other in others], default=0.0)

    turns = [math.radians(angle) for angle in (215.0, 325.0, 0.0, 180.0)]
    return max(((x + radius * math.cos(turn), y + radius * math.sin(turn)) for turn in turns), key=reach)


def turning_arrow(gear: OnCentre, radius: float, turning: float, reach: float = 60.0) -> Arc:
    """The arrow over the middle of a gear: counter-clockwise for positive, clockwise for negative turning."""
    half = math.copysign(reach, turning)
    return Arc(gear.centre, radius, 90.0 - half, 90.0 + half, "turning arrow", gear.role, head=True)


def names(gears: list[Seen], scale: float, first_speed: float | None) -> list[Label]:
    """Teeth and speed over each axis (below it where another gear is in the way).

    A gear with others on its axis says its number too.
    """
    labels = []
    for group in _by_place(gears, 1e-6):
        x, y = group[0].centre
        top = max(gear.tip for gear in group)
        along = sorted(group, key=lambda gear: gear.number)
        lines = [
            (f"{gear.number}: " if len(group) > 1 else "") + f"{gear.gear.teeth} teeth" for gear in along
        ]
        speeds = []
        if first_speed is not None:
            speeds = list(dict.fromkeys(turning_words(first_speed * gear.speed) for gear in along))
        of = group[0].role if len(group) == 1 else ""
        wide, high = 4.2 * max(map(len, lines)) / scale, (24 + 18 * len(lines + speeds)) / scale
        others = [gear for gear in gears if gear not in group]
        side = (
            -1 if any(_touches(gear, x - wide, x + wide, y + top, y + top + high) for gear in others) else 1
        )
        for k, line in enumerate((lines + speeds)[::-side]):
            at, size = (x, y + side * top), "normal" if line in lines else "small"
            labels.append(
                Label(at, line, (0, side * (15 + 18 * k)), size=size, role=of or "dimension", of=of)
            )
    return labels


def _touches(gear: Seen, left: float, right: float, low: float, high: float) -> bool:
    x, y = gear.centre
    return math.hypot(max(left - x, 0, x - right), max(low - y, 0, y - high)) < gear.tip


def turning_words(speed: float) -> str:
    """A signed speed as size and turning arrow [rpm].

    >>> turning_words(-11.25)
    '11.25 rpm ↻'
    """
    arrow = " \u21ba" if speed > 0 else " \u21bb" if speed < 0 else ""
    return numerals.speed(speed, direction=False) + arrow


def spacings(train: Train, gears: list[Seen], scale: float) -> list[Dimension]:
    """The centre distances of shafts in one line, and below them the length of the whole row."""
    below = lowest_tip(gears)
    xs, unit = [x for x, _ in train.positions], train.unit
    row = len(xs) > 2 and all(b > a for a, b in pairwise(xs))
    shapes = []
    for k, distance in enumerate(train.centre_distances):
        level = -below - (BELOW + (0 if row else 44 * k)) / scale
        low, high = sorted(xs[k : k + 2])
        words = numerals.length(distance, unit)
        if not row:
            first = max(gear.number for gear in gears if gear.shaft == k)
            second = min(gear.number for gear in gears if gear.shaft == k + 1)
            words = f"gears {first} and {second}: {words}"
        shapes.append(Dimension((low, 0.0), (high, 0.0), words, level))
    if row:
        words = f"first to last shaft {numerals.length(xs[-1], unit)}"
        shapes.append(Dimension((xs[0], 0.0), (xs[-1], 0.0), words, -below - 78 / scale))
    return shapes


_COUNTS = {2: "two", 3: "three", 4: "four", 5: "five", 6: "six", 7: "seven", 8: "eight", 9: "nine"}


def count_word(count: int) -> str:
    """A small number as a word."""
    return _COUNTS.get(count, str(count))


def sentence(train: Train, first_speed: float | None) -> str:
    """What a train's picture shows, with the numbers."""

    def called(placed: Placed) -> str:
        return f"gear {placed.number} with {placed.gear.teeth} teeth"

    told = called(train.gears[0])
    for placed in train.gears[1:]:
        before = train.gears[placed.number - 2]
        idler = " (an idler)" if placed.shaft in train.idlers and not train.ring else ""
        if placed.shaft == before.shaft:
            told += f"; on its shaft {called(placed)}"
        elif before.number == 1 or train.gears[before.number - 2].shaft == before.shaft:
            told += f" drives {called(placed)}{idler}"
        else:
            told += f", which drives {called(placed)}{idler}"
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
