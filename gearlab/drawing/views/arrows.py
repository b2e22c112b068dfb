"""Gears that touch each other, each with an arrow for the reader to set."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from ...parts import Mesh, Train
from ..motion import Point, Press
from ..scene import Scene
from ..shapes import Circle, Label, Line, Shape
from .body import rim
from .centres import fitted, pitch_point
from .train import Seen, bodies, count_word, seen, turning_arrow

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
