"""A train seen along its shafts, and what one of its idlers feels."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from ...parts import Mesh, Train
from ...parts import idler as idler_shaft
from ...parts.train import Placed
from .. import numerals
from ..behind import by_depth
from ..motion import Point, Turn
from ..scene import Scene
from ..shapes import Arc, Dimension, Dot, Label, Line, Outline, Shape, turned
from .centres import BELOW, OnCentre, extent, fitted, lowest_tip, pitch_point, rim

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
            speeds = list(dict.fromkeys(numerals.turning(first_speed * gear.speed) for gear in along))
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


Force = tuple[float, float]  # to the right and up, in the unit of the force
NAMES = {"driver": "driver", "driven": "driven gear"}


def idler_push(
    train: Train,
    tangential_force: float,
    *,
    idler: int = 1,
    unit: str = "N",
    turning: float = 1.0,
    width: float = 560.0,
) -> Scene:
    """An idler by itself with the tooth forces on it as arrows, and the sum of them on its shaft.

    Lengths of arrows follow the forces.

    train: the row that the idler belongs to.
    tangential_force: tooth force along the pitch circle, the same in both meshes, above 0 [N, or the unit
        named].
    idler: number of its shaft, from 0 [-].
    unit: unit of the force for the labels.
    turning: which way the first gear turns, +1 counter-clockwise or -1 clockwise [-].
    width: of the picture [points].
    Lengths in the unit of the gears [in or mm].

    >>> from gearlab.parts import Train
    >>> print(idler_push(Train.of(18, 24, 45, module=2.5), 86).text)
    An idler of 24 teeth by itself: along the pitch circle the driver pushes it with 86 N and the
    driven gear holds it back with 86 N; its shaft carries 172 N in all.
    """
    way = 1 if turning > 0 else -1
    parts = idler_shaft.pushes(train, tangential_force, idler, way)
    total = idler_shaft.load(train, tangential_force, idler, way)
    gear = next(gear for gear in seen(train) if gear.shaft == idler)
    radius = gear.gear.pitch_diameter / 2
    per = 0.8 * radius / tangential_force
    shapes: list[Shape] = [
        gear.teeth(),
        turning_arrow(gear, 0.45 * radius, way * train.directions[idler], 50.0),
    ]
    for number, role, pushes in ((idler - 1, "driver", parts[:2]), (idler, "driven", parts[2:])):
        mesh, angle = train.meshes[number], train.line_angles[number]
        direction = angle + 180.0 if role == "driver" else angle  # from the idler to its neighbour
        shapes += _neighbour(gear, mesh, direction, role)
        at = turned((gear.centre[0] + radius, gear.centre[1]), gear.centre, direction)
        shapes += _pushes(at, pushes, per, 0.075 * radius, unit, role, direction)
    if math.hypot(*total) > 0.02 * tangential_force:
        words, below = f"{_size(total, unit)}\non the shaft", math.copysign(30, -total[1])
        shapes += [
            _arrow(gear.centre, total, per, 0.1 * radius, "mark", ""),
            Label(gear.centre, words, (0, below), "middle", "normal", "dimension"),
        ]
    text = (
        f"An idler of {gear.gear.teeth} teeth by itself: along the pitch circle the driver pushes it with"
        f" {_size(parts[0], unit)} and the driven gear holds it back with {_size(parts[2], unit)}; its shaft"
        f" carries {_size(total, unit)} in all."
    )
    return Scene(
        tuple(shapes),
        text,
        train.unit,
        title=f"push on an idler of {gear.gear.teeth} teeth",
        margin=(30.0, 90.0, 30.0, 90.0),
        width=width,
    )


def _neighbour(gear: OnCentre, mesh: Mesh, direction: float, role: str) -> list[Shape]:
    """A bit of the pitch circle of the gear it meshes with, and the way to it [deg]."""
    (x, y), radius = gear.centre, gear.gear.pitch_diameter / 2
    mate = (mesh.driver if role == "driver" else mesh.driven).pitch_diameter / 2
    middle = turned((x + mesh.centre_distance, y), gear.centre, direction)
    half = math.degrees(0.55 * radius / mate)
    end = turned((x + 1.25 * radius, y), gear.centre, direction)
    return [
        Arc(middle, mate, direction + 180 - half, direction + 180 + half, "pitch circle", role),
        Line(gear.centre, end, "line of centres"),
    ]


def _pushes(
    at: Point,
    pushes: Sequence[Force],
    per: float,
    thick: float,
    unit: str,
    role: str,
    direction: float,
) -> list[Shape]:
    """The two parts of a tooth force, along the pitch circle and towards the centre, with their sizes."""
    along, towards = pushes
    inner = (at[0] + per * towards[0], at[1] + per * towards[1])
    tip = (at[0] + per * along[0], at[1] + per * along[1])
    cos = math.cos(math.radians(direction))
    side = math.copysign(1.0, cos) if abs(cos) > 0.3 else 0.0
    beside = (14 * side, 0 if side else math.copysign(26, along[1]))
    align = {1.0: "start", -1.0: "end", 0.0: "middle"}[side]
    words, away = _size(towards, unit), math.copysign(17, -along[1])
    return [
        _arrow(at, along, per, thick, "marked tooth", role),
        _arrow(at, towards, per, thick, "marked tooth", role),
        Label(inner, words, (0, away), "middle", "small", role, role),
        Label(tip, f"{NAMES[role]}\n{_size(along, unit)}", beside, align, "small", role, role),
    ]


def _size(force: Force, unit: str) -> str:
    return f"{numerals.plain(math.hypot(*force), 1)} {unit}"


def _arrow(start: Point, force: Force, per: float, thick: float, role: str, of: str) -> Outline:
    """A filled arrow from a point, as long as its force [unit of the scene]."""
    long = per * math.hypot(*force)
    head, half = min(3.2 * thick, 0.8 * long), thick / 2
    shape = np.array(
        [
            (0, half),
            (long - head, half),
            (long - head, 1.3 * thick),
            (long, 0),
            (long - head, -1.3 * thick),
            (long - head, -half),
            (0, -half),
        ]
    )
    cos, sin = force[0] * per / long, force[1] * per / long
    return Outline(shape @ np.array([[cos, sin], [-sin, cos]]) + np.asarray(start), role, of)
