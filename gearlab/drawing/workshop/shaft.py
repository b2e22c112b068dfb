"""The drawing of a shaft for the workshop: length, diameter with limits, flats, keyways, pieces."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import numpy as np

from ...parts.made import ShaftPart
from .. import numerals
from ..scene import Scene
from ..shapes import Circle, Dimension, Label, Line, Outline, Shape, rectangle
from .block import Row, block, block_height, paper, said_width

STEP = 8.0  # between two dimension lines [mm on paper]
COLUMNS = (36.0, 132.0)  # of the words over the shaft [mm on paper]


def shaft_drawing(part: ShaftPart, factor: float = 1.0) -> Scene:
    """A shaft from the side, in true size when put on a sheet, beside it from its end.

    A length that the design does not state is said to be open; it is drawn as long as its pieces take.

    factor: how many times smaller it is to be drawn.

    >>> from gearlab.parts.made import Flat, Limits
    >>> crank = ShaftPart("crank", Limits(10.0), 50.0, "mm", 8.5, (Flat(16, 43, 0.5),))
    >>> shaft_drawing(crank).text
    'shaft crank: diameter 10 mm, length 50 mm; a flat 0.5 mm deep from 16 to 43 mm.'
    """
    unit, mm = part.unit, paper(part.unit) * factor
    say = partial(numerals.size, unit=unit)
    size, radius = part.diameter, part.diameter.nominal / 2
    length, told = _length(part), [f"diameter {say(size.nominal)} {unit}"]
    told.append(f"length {say(length)} {unit}" if part.length is not None else "length not stated")
    shapes: list[Shape] = [
        Outline(rectangle(0, -radius, length, radius), "outline", "gear"),
        Line((-4 * mm, 0.0), (length + 4 * mm, 0.0), "line of centres"),
    ]
    for low, high, depth in _cuts(part, length):
        floor = radius - depth
        shapes.append(Outline(np.array([[low, radius], [low, floor], [high, floor], [high, radius]]), "hole"))
    for place in (part.behind, part.behind + part.plate):
        if 0 < place < length:
            ends = (place, -radius - 3 * mm), (place, radius + 3 * mm)
            shapes.append(Line(*ends, "construction"))
    rows = _places(part, length)
    for row, place in enumerate(rows):
        shapes.append(Dimension((0.0, -radius), (place, -radius), say(place), -(7 + STEP * row) * mm))
    words = "length not stated" if part.length is None else say(length)
    shapes.append(Dimension((0.0, -radius), (length, -radius), words, -(7 + STEP * len(rows)) * mm))
    notes, more = _notes(part, length, say), _cut_words(part, length, say)
    top = radius + (8 + block_height(notes, COLUMNS)) * mm
    shapes += block(notes, (0.0, top), mm, COLUMNS)
    end = length + radius + 18 * mm
    shapes += _end(part, end, radius, mm, say)
    half = said_width(words, bold=True) / 2 * mm
    bounds = (
        min(-4 * mm, length / 2 - half - 2 * mm),
        -radius - (10 + STEP * len(rows)) * mm,
        max(end + radius + 22 * mm, sum(COLUMNS) * mm, length / 2 + half),
        top + 2 * mm,
    )
    text = f"shaft {part.name}: {', '.join(told)}" + "".join(f"; {each}" for each in more) + "."
    return Scene(tuple(shapes), text, unit, title=f"shaft {part.name}", bounds=bounds)


def _length(part: ShaftPart) -> float:
    """Its length, or where that is open what stands on it takes [unit]."""
    if part.length is not None:
        return part.length
    ends = [flat.high for flat in part.flats] + [part.behind + 4 * part.diameter.nominal / 2]
    return part.needed or max(ends) + part.diameter.nominal


def _cuts(part: ShaftPart, length: float) -> list[tuple[float, float, float]]:
    """Flats and keyways along it: from where to where, how deep; no further than the shaft [unit]."""
    cuts = [(flat.low, flat.high, flat.depth) for flat in part.flats]
    cuts += [(key.low, key.low + key.length, key.depth) for key in part.keyways if key.low is not None]
    within = [(max(0.0, low), min(length, high), depth) for low, high, depth in cuts]
    return [cut for cut in within if cut[1] > cut[0]]


def _places(part: ShaftPart, length: float) -> list[float]:
    """What is dimensioned from its lower end [unit]."""
    places = {round(place, 6) for low, high, _ in _cuts(part, length) for place in (low, high)}
    places |= {round(part.behind, 6)}
    return sorted(place for place in places if 0 < place < length - 1e-9)


def _cut_words(part: ShaftPart, length: float, say: Callable[[float], str]) -> list[str]:
    unit = part.unit
    words = [
        f"a flat {say(flat.depth)} {unit} deep from {say(max(0.0, flat.low))} to"
        f" {say(min(length, flat.high))} {unit}"
        for flat in part.flats
    ]
    for key in part.keyways:
        at = f", from {say(max(0.0, key.low))} {unit}" if key.low is not None else ""
        words.append(
            f"a keyway {say(key.width)} wide, {say(key.depth)} deep, {say(key.length)} {unit} long{at}"
        )
    return words


def _notes(part: ShaftPart, length: float, say: Callable[[float], str]) -> list[Row]:
    """What cannot be read off the picture: limits, cuts in words, collar and plate, the bare end."""
    unit = part.unit
    rows: list[Row] = []
    limits = [(name, size) for name, size in part.fits if size.low is not None and size.high is not None]
    for name, size in limits:
        low, high = say(size.low or 0.0), say(size.high or 0.0)
        rows.append(("diameter", f"{low} to {high} {unit}, {name} fit on {say(size.nominal)}"))
    if not limits:
        rows.append(("diameter", f"{say(part.diameter.nominal)} {unit}, no fit stated"))
    rows += [("cut", words.removeprefix("a ")) for words in _cut_words(part, length, say)]
    if part.behind:
        rows.append(("behind the plate", f"{say(part.behind)} {unit}, a collar holds it there"))
    if part.plate:
        rows.append(("in the plate", f"{say(part.plate)} {unit}"))
    if part.end:
        rows.append(("bare end", f"{say(part.end)} {unit} beyond the last gear"))
    if part.length is None and part.needed:
        rows.append(("length", f"not stated; what is on it takes {say(part.needed)} {unit}"))
    return rows


def _end(part: ShaftPart, x: float, radius: float, mm: float, say: Callable[[float], str]) -> list[Shape]:
    """From its end: the round, and how much a flat or a keyway takes of it."""
    shapes: list[Shape] = [Circle((x, 0.0), radius, "outline", "gear")]
    lowest = radius
    for flat in part.flats[:1]:
        at = radius - flat.depth
        half = max(0.0, radius**2 - at**2) ** 0.5
        shapes.append(Line((x - half, at), (x + half, at), "outline", "gear"))
        lowest = at
    for keyway in part.keyways[:1]:
        half, low = keyway.width / 2, radius - keyway.depth
        cut = np.array([[x - half, radius], [x - half, low], [x + half, low], [x + half, radius]])
        shapes.append(Outline(cut, "outline", "gear", closed=False))
        lowest = low
    if lowest < radius and lowest > -radius:
        # over the round and the cut's floor: what a caliper reads
        shapes.append(Dimension((x, -radius), (x, lowest), "", -(radius + 6 * mm)))
        shapes.append(
            Label(
                (x + radius + 8 * mm, (lowest - radius) / 2),
                say(radius + lowest),
                align="start",
                role="dimension",
            )
        )
    return shapes
