"""Gears that touch each other, each with an arrow for the reader to set."""

from __future__ import annotations

import math

from ..scene import Arc, Circle, Label, Line, Press, Scene
from .body import rim
from .train import Seen, bodies, count_word, extent, seen, turning_arrow

WAYS = {0: "no arrow yet", 1: "counter-clockwise", -1: "clockwise"}


def arrows(gears, touching, given, *, still: bool = True, wrong=(), width: float = 860.0) -> Scene:
    """Gears that touch, with an arrow on each that is pressed round: counter-clockwise, clockwise.

    Parameters
    ----------
    gears : sequence of Seen
        The gears and where they stand; see ``row_of`` and ``triangle_of``.
    touching : sequence of (int, int)
        Which gears mesh, by number [-].
    given : sequence of int
        Arrow of each gear [-]: 1 counter-clockwise, -1 clockwise, 0 none yet.
    still : bool
        True while the gears do not turn [-].
    wrong : sequence of (int, int)
        Meshes to mark, by the numbers of their gears [-].
    width : float
        Width the picture is made for [points of the picture, 96 to the inch; -].

    Returns
    -------
    Scene
        Lengths in the unit of the gears [in or mm].

    Examples
    --------
    >>> from gearlab.parts import Train
    >>> gears = row_of(Train.of(18, 24, 45, module=2.5))
    >>> arrows(gears, [(1, 2), (2, 3)], (1, -1, 0)).text
    'A row of three gears that mesh one with the next: gear 1, 18 teeth, counter-clockwise; gear 2, 24 teeth, clockwise; gear 3, 45 teeth, no arrow yet.'
    """  # noqa: E501
    low, high = extent(gears)
    scale = (width - 24) / (high - low)
    module = gears[0].gear.scale
    shapes = bodies(gears, scale, still, marked=not still)
    by_number = {one.number: one for one in gears}
    # what a gear tells stands above all teeth, in the order of the numbers, so that Tab goes along the row
    for one, way in zip(gears, given):
        radius = rim(one.gear)[0]
        press = Press(
            f"arrow_{one.number}",
            f"Gear {one.number}, {one.gear.teeth} teeth: {WAYS[way]}",
            one.centre,
            radius,
            (0, 1, -1),
        )
        roomy = radius * scale > 34
        middle = (one.centre[0], one.centre[1] - (0.16 if way else 0.2) * radius)
        shapes.append(
            Label(
                middle,
                str(one.number),
                size="letter" if roomy else "large",
                role="letter",
                of=one.role,
                motion=press,
            )
        )
        if way:
            arrow = turning_arrow(one, 0.72 * radius, way, 62.0)
            shapes.append(
                Arc(arrow.centre, arrow.radius, arrow.start, arrow.end, arrow.role, arrow.of, True, press)
            )
        else:
            shapes.append(
                Label(
                    (one.centre[0], one.centre[1] + 0.42 * radius),
                    "?",
                    size="large",
                    role="speed",
                    of=one.role,
                    motion=press,
                )
            )
    for numbers in wrong:
        shapes += _clash(*(by_number[number] for number in numbers), module)
    ring = len(touching) == len(gears)
    told = "; ".join(
        f"gear {one.number}, {one.gear.teeth} teeth, {WAYS[way]}" for one, way in zip(gears, given)
    )
    how = (
        f"{count_word(len(gears)).capitalize()} gears in a triangle, each in mesh with both others: "
        if ring
        else f"A row of {count_word(len(gears))} gears that mesh one with the next: "
    )
    return Scene(
        tuple(shapes),
        how + told + ".",
        gears[0].gear.unit,
        title=f"{count_word(len(gears))} gears {'in a triangle' if ring else 'in a row'}",
        margin=(14.0, 14.0, 14.0, 14.0),
        width=width,
    )


def row_of(train) -> list[Seen]:
    """The gears of a train with one gear on each shaft; the first one drives, the last one is driven."""
    return seen(train)


def triangle_of(pair) -> list[Seen]:
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
        Seen(k + 1, gear, place, angle, 0.0, "gear" if k else "driver", 0, k)
        for k, (place, angle) in enumerate(zip(places, (0.0, second, third)))
    ]


def _clash(one: Seen, two: Seen, module: float) -> list:
    """A ring round a mesh whose gears are told to run against each other, and a stroke between them."""
    share = one.gear.teeth / (one.gear.teeth + two.gear.teeth)
    (x, y), (u, v) = one.centre, two.centre
    at = (x + share * (u - x), y + share * (v - y))
    across = (-(v - y), u - x)
    size = 4.2 * module / math.hypot(*across)
    return [
        Circle(at, 3.2 * module, "clash"),
        Line(
            (at[0] - size * across[0], at[1] - size * across[1]),
            (at[0] + size * across[0], at[1] + size * across[1]),
            "clash",
        ),
    ]
