"""The drawing of a shaft for the workshop: its length, diameter with limits, flats and keyways."""

from __future__ import annotations

import numpy as np

from ...parts.made import ShaftPart
from .. import numerals
from ..scene import Scene
from ..shapes import Circle, Dimension, Label, Line, Outline, Shape
from .section import paper


def shaft_drawing(part: ShaftPart) -> Scene:
    """A shaft from the side, in true size when put on a sheet, beside it from its end.

    A length that the design does not state is said to be open; it is drawn as long as what stands on it.

    >>> from gearlab.parts.made import Flat, Limits
    >>> crank = ShaftPart("crank", Limits(10.0), 50.0, "mm", 8.5, (Flat(16, 43, 0.5),))
    >>> shaft_drawing(crank).text
    'shaft crank: diameter 10 mm, length 50 mm; a flat 0.5 mm deep from 16 to 43 mm.'
    """
    unit, mm, places = part.unit, paper(part.unit), 3 if part.unit == "mm" else 4

    def say(value: float) -> str:
        return numerals.plain(value, places)

    size, radius = part.diameter, part.diameter.nominal / 2
    ends = [flat.high for flat in part.flats] + [part.behind + 4 * radius]
    length = part.length if part.length is not None else max(ends) + 2 * radius
    body = np.array([[0, -radius], [length, -radius], [length, radius], [0, radius]])
    shapes: list[Shape] = [
        Outline(body, "outline", "gear"),
        Line((-4 * mm, 0.0), (length + 4 * mm, 0.0), "line of centres"),
    ]
    told = [f"diameter {say(size.nominal)} {unit}"]
    told.append(f"length {say(length)} {unit}" if part.length is not None else "length not stated")
    more = []
    for flat in part.flats:
        low, high = max(0.0, flat.low), min(length, flat.high)
        floor = radius - flat.depth
        cut = np.array([[low, radius], [low, floor], [high, floor], [high, radius]])
        shapes.append(Outline(cut, "hole"))
        more.append(f"a flat {say(flat.depth)} {unit} deep from {say(low)} to {say(high)} {unit}")
    for keyway in part.keyways:
        more.append(
            f"a keyway {say(keyway.width)} wide, {say(keyway.depth)} deep, {say(keyway.length)} {unit} long"
        )
    if part.behind:
        shapes.append(Line((part.behind, -radius - 4 * mm), (part.behind, radius + 3 * mm), "construction"))
    words = "length not stated" if part.length is None else say(length)
    rows = sorted({place for flat in part.flats for place in (flat.low, flat.high) if 0 < place < length})
    for row, place in enumerate(rows):
        shapes.append(Dimension((0.0, -radius), (place, -radius), say(place), -(7 + 8 * row) * mm))
    shapes.append(Dimension((0.0, -radius), (length, -radius), words, -(7 + 8 * len(rows)) * mm))
    limits = ""
    if size.low is not None and size.high is not None:
        limits = f", {say(size.low)} to {say(size.high)}"
    notes = [f"\u2300 {say(size.nominal)}{limits} {unit}", *more]
    if part.behind:
        notes.append(f"{say(part.behind)} {unit} stand behind the plate")
    for row, note in enumerate(notes):
        at = (0.0, radius + (6 + 6 * (len(notes) - 1 - row)) * mm)
        shapes.append(Label(at, note, align="start", size="small"))
    shapes += _end(part, length + radius + 18 * mm, radius)
    bounds = (
        -4 * mm,
        -radius - (10 + 8 * len(rows)) * mm,
        max(length + 2 * radius + 20 * mm, 96 * mm),
        radius + (9 + 6 * len(notes)) * mm,
    )
    text = f"shaft {part.name}: {', '.join(told)}" + "".join(f"; {each}" for each in more) + "."
    return Scene(tuple(shapes), text, unit, title=f"shaft {part.name}", bounds=bounds)


def _end(part: ShaftPart, x: float, radius: float) -> list[Shape]:
    """From its end: the round, and how much a flat or a keyway takes of it."""
    shapes: list[Shape] = [Circle((x, 0.0), radius, "outline", "gear")]
    for flat in part.flats[:1]:
        at = radius - flat.depth
        half = max(0.0, radius**2 - at**2) ** 0.5
        shapes.append(Line((x - half, at), (x + half, at), "outline", "gear"))
    for keyway in part.keyways[:1]:
        half, low = keyway.width / 2, radius - keyway.depth
        cut = np.array([[x - half, radius], [x - half, low], [x + half, low], [x + half, radius]])
        shapes.append(Outline(cut, "outline", "gear", closed=False))
    return shapes
