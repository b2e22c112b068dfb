"""Two pitches side by side: rows of teeth laid out straight along their pitch lines."""

from __future__ import annotations

import math

import numpy as np

from .. import numerals
from ..scene import Scene
from ..shapes import Dimension, Label, Line, Outline, Shape


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
