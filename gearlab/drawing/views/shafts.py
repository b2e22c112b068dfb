"""A train of two stages in two views.

Along its shafts, and from the side, where its planes and axes are seen.
"""

from __future__ import annotations

import math

from ...parts import Train
from .. import numerals
from ..scene import Scene
from ..shapes import Dimension, Label, Line, Outline, Shape, rectangle
from .centres import lowest_tip
from .train import Seen, bodies, middles, pitch_points, seen

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
