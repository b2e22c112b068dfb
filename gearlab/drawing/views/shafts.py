"""Trains shown in other ways: folded back and seen from the side, or with arrows for the reader to set."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from ...parts import Mesh, Train
from .. import numerals
from ..motion import Point, Press
from ..scene import Scene
from ..shapes import Circle, Dimension, Label, Line, Outline, Shape, rectangle
from .centres import fitted, lowest_tip, pitch_point, rim
from .train import Seen, bodies, count_word, middles, pitch_points, seen, turning_arrow

# width of a face, space between planes, length of a shaft's end [modules]
FACE, GAP, END = 12.0, 3.0, 9.0
# round the meshes of a close-up, and how far apart the two may be to be in one [modules]
ROUND, FAR = 38.0, 30.0
# room for a centre distance beside the picture [points of the picture]
BESIDE = 104.0


def shafts(
    train: Train, *, first_speed: float | None = None, turning: float = 1.0, width: float = 820.0
) -> Scene:
    """Left the gears seen along the shafts, right the shafts seen from the side, both at one height.

    train: three shafts, two gears on the middle one, its line of centres straight up and back down
        (``line_angles=(90, 270)``).
    first_speed: signed speed of the first shaft for the arrows and the sentence, counter-clockwise positive
        [rpm].
    turning: which way the first gear turns where no speed is given [-].
    width: of the picture [points].
    Lengths in the unit of the gears [in or mm].
    ValueError if the train has not this form.

    >>> from gearlab.parts import Train
    >>> shafts(Train.of(18, (45, 21), 42, module=2.5, line_angles=(90, 270))).text[-63:]
    'centre distances 78.75 mm and 78.75 mm: out is in line with in.'
    """
    if len(train.gears) != 4 or len(train.shafts) != 3 or tuple(train.line_angles) != (90.0, 270.0):
        raise ValueError(
            "this picture shows two stages folded back, four gears on three shafts with line_angles (90,"
            f" 270); {train!r} has another form"
        )
    if first_speed:
        turning = math.copysign(1.0, first_speed)
    gears, module = seen(train), train.gears[0].gear.scale
    reach = lowest_tip(gears)
    deep = (2 * FACE + GAP + 2 * END) * module
    scale = (width - 34 - 2 * BESIDE) / (2 * reach + deep)
    start = reach + 34 / scale + END * module
    shapes = bodies(gears, scale) + _side(train, gears, start, scale, reach)
    shapes += pitch_points(train)
    shapes += middles(gears, scale, turning)
    return Scene(
        tuple(shapes),
        sentence(train, first_speed),
        train.unit,
        title=f"{train.teeth_in_words} teeth",
        margin=(16.0, BESIDE, 16.0, BESIDE),
        focus=_meshes(train, gears),
        width=width,
    )


def _meshes(train: Train, gears: list[Seen]) -> tuple[float, float, float, float]:
    """Both meshes along the shafts with what is round them; the first alone where they stand far apart."""
    module = gears[0].gear.scale
    places = [dot.at[1] for dot in pitch_points(train)]
    if abs(places[1] - places[0]) > FAR * module:
        places = places[:1]
    tall = max(places) - min(places) + ROUND * module
    return 0.0, (max(places) + min(places)) / 2, ROUND * module, tall


def _side(train: Train, gears: list[Seen], start: float, scale: float, reach: float) -> list[Shape]:
    """The shafts and their gears from the side, the first gear's face beginning at ``start`` [unit]."""
    module = gears[0].gear.scale
    face, end = FACE * module, END * module
    planes = (start, start + face + GAP * module)
    stop = planes[1] + face
    heights = [y for _, y in train.positions]
    # the first shaft comes in from the left, the last one leaves to the right; neither runs through the other
    spans = (
        (start - end, start + face + 0.3 * GAP * module),
        (start - 0.4 * end, stop + 0.4 * end),
        (planes[1] - 0.3 * GAP * module, stop + end),
    )
    shapes: list[Shape] = [
        Line((-reach - 6 / scale, y), (stop + end + 6 / scale, y), "line of centres")
        for y in dict.fromkeys(round(y, 9) for y in heights)
    ]
    shapes += [_block(low, high, y, 1.6 * module, "hole") for (low, high), y in zip(spans, heights)]
    for gear in gears:
        shapes += _face(gear, planes[gear.plane], face)
    shapes += _beside(train, -reach, stop + end, scale)
    for word, x, y, align, of in (
        ("in", start - end, heights[0], "start", "driver"),
        ("out", stop + end, heights[2], "end", "driven"),
    ):
        shapes.append(Label((x, y), word, (0, -23), align, "normal", "dimension", of))
    return shapes


def _face(gear: Seen, low: float, face: float) -> list[Shape]:
    """A gear from the side: its face, its pitch circle, its number and its teeth."""
    role, y, half, pitch = gear.role, gear.centre[1], gear.tip, gear.gear.pitch_diameter / 2
    # its number stands on the side away from the gear it meshes with
    away = 1 if gear.shaft == 1 else -1
    at, teeth = (low + face / 2, y + away * 0.52 * half), f"{gear.gear.teeth} teeth"
    return [
        _block(low, low + face, y, half, role, role),
        *(
            Line((low, y + side * pitch), (low + face, y + side * pitch), "pitch circle", role)
            for side in (1, -1)
        ),
        Label(at, f"{gear.number}", (0, 7), size="large", role="letter", of=role),
        Label(at, teeth, (0, -11), size="small", role="speed", of=role, room=face),
    ]


def _beside(train: Train, left: float, right: float, scale: float) -> list[Shape]:
    """Both centre distances beside the picture, where type has its room at any size."""
    heights = [y for _, y in train.positions]
    first, second = train.centre_distances
    words, off = numerals.length(second, train.unit), 12 / scale
    middle = (right + off, (heights[1] + heights[2]) / 2)
    return [
        Dimension((left, 0.0), (left, first), numerals.length(first, train.unit), off),
        Dimension((right, heights[2]), (right, heights[1]), "", -off),
        Label(middle, words, (9, 0), "start", "normal", "dimension"),
    ]


def _block(low: float, high: float, y: float, half: float, role: str, of: str = "") -> Outline:
    return Outline(rectangle(low, y - half, high, y + half), role, of)


def sentence(train: Train, first_speed: float | None) -> str:
    """What the two views show, with the numbers."""
    n1, n2, n3, n4 = (placed.gear.teeth for placed in train.gears)
    first, second = (numerals.length(distance, train.unit) for distance in train.centre_distances)
    ratios = [numerals.plain(ratio, 4) for ratio in (*train.stage_ratios, train.ratio)]
    speeds = (
        ""
        if first_speed is None
        else "; "
        + ", ".join(
            f"{name} {numerals.speed(speed)}"
            for name, speed in zip(("in", "middle shaft", "out"), train.speeds(first_speed))
        )
    )
    off = train.positions[2][1]
    where = (
        "in line with in"
        if train.reverted
        else f"{numerals.length(abs(off), train.unit)} {'above' if off > 0 else 'below'} in"
    )
    return (
        "A train of two stages seen along its shafts and from the side,"
        f" {numerals.pitch_name(train.gears[0].gear)}: gear 1 with {n1} teeth drives gear 2 with {n2}; on"
        f" its shaft gear 3 with {n3} drives gear 4 with {n4}; stage {ratios[0]} \u00d7 stage"
        f" {ratios[1]} = {ratios[2]}{speeds}; centre distances {first} and {second}: out is {where}."
    )


WAYS = {0: "no arrow yet", 1: "counter-clockwise", -1: "clockwise"}


def arrows(
    gears: list[Seen],
    touching: Sequence[tuple[int, int]],
    given: Sequence[int],
    *,
    still: bool = True,
    wrong: Sequence[tuple[int, int]] = (),
    width: float = 860.0,
) -> Scene:
    """Gears that touch, with an arrow on each that is pressed round: counter-clockwise, clockwise.

    gears: the gears and where they stand; see ``row_of`` and ``triangle_of``.
    touching: which gears mesh, by number.
    given: arrow of each gear [-]: 1 counter-clockwise, -1 clockwise, 0 none yet.
    still: True while the gears do not turn.
    wrong: meshes to mark, by the numbers of their gears.
    width: of the picture [points].
    Lengths in the unit of the gears [in or mm].

    >>> from gearlab.parts import Train
    >>> gears = row_of(Train.of(18, 24, 45, module=2.5))
    >>> print(arrows(gears, [(1, 2), (2, 3)], (1, -1, 0)).text)
    A row of three gears that mesh one with the next: gear 1, 18 teeth, counter-clockwise; gear 2,
    24 teeth, clockwise; gear 3, 45 teeth, no arrow yet.
    """
    scale = fitted(gears, width)
    shapes = bodies(gears, scale, still, marked=not still)
    # what a gear tells stands above all teeth, in the order of the numbers, so that Tab goes along the row
    for gear, way in zip(gears, given):
        shapes += _pressed(gear, way, scale)
    by_number = {gear.number: gear for gear in gears}
    for first, second in wrong:
        shapes += _clash(by_number[first], by_number[second])
    count, ring = count_word(len(gears)), len(touching) == len(gears)
    arrows = "; ".join(
        f"gear {gear.number}, {gear.gear.teeth} teeth, {WAYS[way]}" for gear, way in zip(gears, given)
    )
    how = f"A row of {count} gears that mesh one with the next"
    if ring:
        how = f"{count.capitalize()} gears in a triangle, each in mesh with both others"
    return Scene(
        tuple(shapes),
        f"{how}: {arrows}.",
        gears[0].gear.unit,
        title=f"{count} gears {'in a triangle' if ring else 'in a row'}",
        margin=(14.0, 14.0, 14.0, 14.0),
        width=width,
    )


def _pressed(gear: Seen, way: int, scale: float) -> list[Shape]:
    """A gear's number, and its arrow or a question mark: all of it answers to a press."""
    (x, y), radius = gear.centre, rim(gear.gear)[0]
    name = f"{gear.name}: {WAYS[way]}"
    press = Press(f"arrow_{gear.number}", name, gear.centre, radius, (0, 1, -1))
    size = "letter" if radius * scale > 34 else "large"
    low = (x, y - (0.16 if way else 0.3) * radius)
    number = Label(low, str(gear.number), size=size, role="letter", of=gear.role, motion=press)
    if way:
        return [number, replace(turning_arrow(gear, 0.72 * radius, way, 62.0), motion=press)]
    high = (x, y + 0.5 * radius)
    return [number, Label(high, "?", size="large", role="speed", of=gear.role, motion=press)]


def row_of(train: Train) -> list[Seen]:
    """The gears of a train with one gear on each shaft; the first one drives, the last one is driven."""
    return seen(train)


def folded(teeth: Sequence[int]) -> tuple[float, ...]:
    """Directions from each gear of a row to the next [deg], so that the row takes little room both ways.

    Only neighbours come near each other: between all others four modules are free over the tips. A folded
    row keeps its teeth large enough to be followed where the page is narrow.

    >>> folded((18, 24, 20, 30, 22))
    (120.0, 90.0, 0.0, -75.0)
    """
    radii = [count / 2 for count in teeth]  # [modules]
    if len(radii) < 3:
        return (0.0,) * (len(radii) - 1)
    step = 15 if len(radii) <= 5 else 30
    bends = sorted(range(-120, 121, step), key=lambda bend: (abs(bend), bend))
    best: tuple[float, tuple[float, ...], float] = (math.inf, (), 0.0)

    def go(places: list[Point], angles: list[float], box: tuple[float, float, float, float]) -> None:
        nonlocal best
        room = max(box[1] - box[0], 0.9 * (box[3] - box[2]))  # a page is rather high than wide for it
        if room >= 0.98 * best[0]:
            return
        if len(places) == len(radii):
            best = room, tuple(angles), places[-1][0]
            return
        (x, y), radius = places[-1], radii[len(places)]
        for bend in bends:
            angle = angles[-1] + bend if angles else float(bend)
            if not angles and not 0 <= angle <= 90:
                continue
            apart, turn = radii[len(places) - 1] + radius, math.radians(angle)
            at = x + apart * math.cos(turn), y + apart * math.sin(turn)
            if any(math.dist(at, other) < radius + radii[k] + 6 for k, other in enumerate(places[:-1])):
                continue
            tip = radius + 1
            wider = (
                *(min(box[0], at[0] - tip), max(box[1], at[0] + tip)),
                *(min(box[2], at[1] - tip), max(box[3], at[1] + tip)),
            )
            go([*places, at], [*angles, angle], wider)

    tip = radii[0] + 1
    go([(0.0, 0.0)], [], (-tip, tip, -tip, tip))
    _, angles, end = best
    return angles if end >= 0 else tuple(180.0 - angle for angle in angles)  # on to the right, as one reads


def triangle_of(pair: Mesh) -> list[Seen]:
    """Three gears like the driver of a pair, each in mesh with both others.

    They stand there, and can never turn.

    The teeth fit only where a third of half a turn holds a whole number of teeth and a half, as with 21.
    """
    gear, distance = pair.driver, pair.centre_distance
    if gear.teeth % 6 != 3 or pair.driven != gear:
        raise ValueError(
            "three equal gears fit into a triangle with 9, 15, 21, 27 ... teeth (a sixth of the count is a"
            f" whole number and a half): {gear.teeth} do not"
        )
    places = [(0.0, 0.0), (distance, 0.0), (distance / 2, distance * math.sqrt(3) / 2)]
    second = pair.alignment(0.0)
    third = 120.0 + pair.alignment(second - 120.0)
    return [
        Seen(gear, "gear" if k else "driver", place, angle, 0.0, number=k + 1, shaft=k)
        for k, (place, angle) in enumerate(zip(places, (0.0, second, third)))
    ]


def _clash(first: Seen, second: Seen) -> list[Shape]:
    """A ring round a mesh whose gears are told to run against each other, and a stroke between them."""
    module = first.gear.scale
    x, y = pitch_point(Mesh(first.gear, second.gear), first.centre, second.centre)
    across, up = first.centre[1] - second.centre[1], second.centre[0] - first.centre[0]
    size = 4.2 * module / math.hypot(across, up)
    return [
        Circle((x, y), 3.2 * module, "clash"),
        Line((x - size * across, y - size * up), (x + size * across, y + size * up), "clash"),
    ]
