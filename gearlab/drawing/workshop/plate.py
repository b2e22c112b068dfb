"""The drawing of the plate for the workshop: size, holes, edges, and the spacings as such.

Where its words have no room on it, the holes are numbered and a list says the rest.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from itertools import combinations

import numpy as np

from ...parts.made import PlateHole, PlatePart
from .. import numerals
from ..scene import Scene
from ..shapes import Box, Circle, Dimension, Dot, Label, Line, Outline, Shape, cross, rectangle
from .block import Picture, Row, block, block_height, fitting, on_pages, one_page, paper, said_width

BETWEEN = 8.0  # between two level dimension lines [mm on paper]
BESIDE = 14.0  # between two upright ones: their words stand beside them [mm on paper]


#: Columns of the lists [mm on paper]: number, whose hole, diameter, across, up, to the nearest edge.
HOLES = (10.0, 62.0, 38.0, 24.0, 24.0, 24.0)
SMALL = 5.0  # times smaller: words that have room there have it on any page that shows the whole
SPACINGS = (24.0, 44.0, 114.0)  # which holes, how far, whose mesh


def plate_drawings(part: PlatePart, paper_name: str = "A4") -> list[Scene | Picture]:
    """The plate with all its words where they have room on one page; else numbered holes, and lists of them.

    A plate that is larger than a page comes in tiles and, with its dimensions, small on one page.
    """
    if not crowded(part, paper(part.unit)):
        scene = plate_drawing(part)
        if one_page(scene, paper_name):
            return [scene]
    numbered = partial(_numbered, part)
    pages = on_pages(partial(numbered, True, True), partial(numbered, True, False), None, paper_name)
    if len(pages) == 1:
        return pages
    small = fitting(partial(numbered, True, True), paper_name)
    return [pages[0], partial(plate_drawing, part) if not crowded(part, SMALL * paper(part.unit)) else small]


def plate_drawing(part: PlatePart, factor: float = 1.0) -> Scene:
    """The plate in true size when put on a sheet.

    Level dimensions stand within it and upright ones beside it, so that it keeps to its page.

    factor: how many times smaller it is to be drawn.

    >>> from gearlab.parts.made import PlateHole
    >>> crank = PlateHole("crank", 53.75, 80, 10.05, True, 53.75)
    >>> plate_drawing(PlatePart("plate_220x160x6", 220, 160, 6, "mm", (crank,))).text
    'plate_220x160x6, 220 x 160 x 6 mm: crank at (53.75, 80) mm, diameter 10.05 mm, from the lower left
    corner.'
    """
    unit, mm = part.unit, paper(part.unit) * factor
    say = partial(numerals.size, unit=unit)
    length, height = part.length, part.height
    shapes: list[Shape] = [Outline(rectangle(0, 0, length, height), "outline", "gear")]
    for hole in part.holes:
        shapes += _hole(hole, mm)
        shapes += [Label(at, words, size="small") for at, words in _words(hole, mm, say)]
    shapes += _from_the_edges(part, mm, say)
    for row, spacing in enumerate(part.spacings):
        first, second = (next(hole for hole in part.holes if hole.name == name) for name in spacing.holes)
        words = f"{say(spacing.distance)} \u00b1 {say(spacing.within)}"
        left, right = sorted(((first.x, first.y), (second.x, second.y)))
        shapes.append(Dimension(left, right, words, (18 + BETWEEN * row) * mm))
    material = f", {part.material}" if part.material else ""
    shapes.append(
        Label(
            (6 * mm, height - 14 * mm),
            f"{part.name}{material}, {say(part.thickness)} {unit} thick",
            size="small",
            align="start",
        )
    )
    told = "; ".join(
        f"{hole.name} at ({say(hole.x)}, {say(hole.y)}) {unit}, diameter {say(hole.diameter)} {unit}"
        for hole in part.holes
    )
    text = f"{part.name}, {say(length)} x {say(height)} x {say(part.thickness)} {unit}: {told or 'no holes'}"
    text += ", from the lower left corner." if told else "."
    bounds = (0.0, 0.0, length + (BESIDE * len(_heights(part)) + 1) * mm, height)
    return Scene(tuple(shapes), text, unit, title=part.name, bounds=bounds)


def _hole(hole: PlateHole, mm: float) -> list[Shape]:
    reach = hole.diameter / 2 + 4 * mm
    return [
        Circle((hole.x, hole.y), hole.diameter / 2, "hole"),
        *cross((hole.x, hole.y), reach),
        Dot((hole.x, hole.y), "centre"),
    ]


def _words(hole: PlateHole, mm: float, say: Callable[[float], str]) -> list[tuple[tuple[float, float], str]]:
    """The words above and below a hole, and where they stand."""
    away = hole.diameter / 2 + 7 * mm
    words = f"{hole.name} \u2300 {say(hole.diameter)}{'' if hole.stated else ' (as its shaft)'}"
    aside = (2.0 + said_width(words) / 2) * mm  # beside the line that goes up to a spacing
    return [
        ((hole.x + aside, hole.y + away), words),
        ((hole.x, hole.y - away), f"{say(hole.edge)} from the edge"),
    ]


def crowded(part: PlatePart, mm: float) -> bool:
    """Whether the words of the plate's drawing would lie on each other or run over its edge.

    mm: a millimetre on paper [unit].
    """
    say = partial(numerals.size, unit=part.unit)
    boxes: list[Box] = []

    def put(at: tuple[float, float], words: str, bold: bool = False) -> None:
        half = said_width(words, bold) / 2 * mm
        boxes.append((at[0] - half, at[1] - 2.2 * mm, at[0] + half, at[1] + 2.2 * mm))

    for hole in part.holes:
        for at, words in _words(hole, mm, say):
            put(at, words)
        reach = hole.diameter / 2
        boxes.append((hole.x - reach, hole.y - reach, hole.x + reach, hole.y + reach))
    by_name = {hole.name: hole for hole in part.holes}
    for row, spacing in enumerate(part.spacings):
        ends = sorted((by_name[name].x, by_name[name].y) for name in spacing.holes)
        first, last = np.array(ends)
        along = (last - first) / np.hypot(*(last - first))
        if abs(along[1]) > 0.5:
            return True  # steep: its words would stand beside it
        middle = (first + last) / 2 + (18 + BETWEEN * row + 3) * mm * np.array([-along[1], along[0]])
        put((middle[0], middle[1]), f"{say(spacing.distance)} \u00b1 {say(spacing.within)}", bold=True)
    across = sorted({hole.x for hole in part.holes if hole.x > 0})
    if across:  # the rows of level dimensions, each with its words over its middle
        boxes.append((0.0, 0.0, across[-1], (12 + BETWEEN * (len(across) - 1)) * mm))
        if any(said_width(say(place), bold=True) * mm > place for place in across):
            return True
    title = said_width(f"{part.name}, {part.material}, {say(part.thickness)} {part.unit} thick") * mm
    boxes.append((4 * mm, part.height - 17 * mm, 7 * mm + title, part.height - 0.3 * mm))
    upright = sorted({hole.y for hole in part.holes if hole.y > 0} | {part.height})
    if upright and upright[0] < 7 * mm:
        return True
    over = any(x0 < 0 or y0 < 0 or x1 > part.length or y1 > part.height for x0, y0, x1, y1 in boxes)
    return over or any(_meet(first, second) for first, second in combinations(boxes, 2))


def _meet(first: Box, second: Box) -> bool:
    across = first[0] < second[2] and second[0] < first[2]
    return across and first[1] < second[3] and second[1] < first[3]


def _numbered(part: PlatePart, face: bool, lists: bool, factor: float = 1.0) -> Scene:
    """The plate with its holes numbered, and the lists of holes and spacings below it, or one of the two."""
    unit, mm = part.unit, paper(part.unit) * factor
    say = partial(numerals.size, unit=unit)
    length, height = part.length, part.height
    shapes: list[Shape] = []
    low, right, top = 0.0, 0.0, 0.0
    if face:
        shapes.append(Outline(rectangle(0, 0, length, height), "outline", "gear"))
        by_name = {hole.name: hole for hole in part.holes}
        for spacing in part.spacings:
            first, last = (by_name[name] for name in spacing.holes)
            shapes.append(Line((first.x, first.y), (last.x, last.y), "line of centres"))
        for number, hole in enumerate(part.holes, 1):
            away = hole.diameter / 2 * 0.8 + 2.5 * mm
            shapes += _hole(hole, mm)
            shapes.append(Label((hole.x + away, hole.y + away), f"{number}", role="dimension"))
        shapes += [
            Dimension((0.0, height), (length, height), say(length), 8 * mm),
            Dimension(
                (length, 0.0), (length, height), say(height), -(9 + said_width(say(height), True)) * mm
            ),
        ]
        right, top, low = length + (12 + said_width(say(height), True)) * mm, height + 14 * mm, -4 * mm
    if lists:
        holes, spacings = _lists(part, say)
        shapes += block(holes, (0.0, low), mm, HOLES)
        low -= (block_height(holes, HOLES) + 6) * mm
        if spacings:
            shapes += block(spacings, (0.0, low), mm, SPACINGS)
            low -= (block_height(spacings, SPACINGS) + 4) * mm
        right = max(right, sum(HOLES) * mm)
    text = (
        f"{part.name}, {say(length)} x {say(height)} x {say(part.thickness)} {unit}: {len(part.holes)} holes."
    )
    return Scene(tuple(shapes), text, unit, title=part.name, bounds=(-2 * mm, low, right, top))


def _lists(part: PlatePart, say: Callable[[float], str]) -> tuple[list[Row], list[Row]]:
    """Its holes and its spacings, in rows under their heads."""
    unit = part.unit
    holes: list[Row] = [
        ("", f"hole [{unit}]; {say(part.thickness)} thick", "diameter", "across", "up", "to edge")
    ]
    numbers = {}
    for number, hole in enumerate(part.holes, 1):
        numbers[hole.name] = number
        size = say(hole.diameter) + ("" if hole.stated else ", as its shaft")
        holes.append((f"{number}", hole.name, size, say(hole.x), say(hole.y), say(hole.edge)))
    spacings: list[Row] = [
        (
            " to ".join(str(numbers[name]) for name in spacing.holes),
            f"{say(spacing.distance)} \u00b1 {say(spacing.within)}",
            spacing.mesh,
        )
        for spacing in part.spacings
    ]
    return holes, [("holes", f"spacing [{unit}]", "mesh"), *spacings] if spacings else []


def _from_the_edges(part: PlatePart, mm: float, say: Callable[[float], str]) -> list[Shape]:
    """Size of the plate, and where its holes stand from the lower left corner."""
    length, height = part.length, part.height
    shapes: list[Shape] = [Dimension((0.0, height), (length, height), say(length), -8 * mm)]
    for row, place in enumerate(sorted({hole.x for hole in part.holes if hole.x > 0})):
        shapes.append(Dimension((0.0, 0.0), (place, 0.0), say(place), (6 + BETWEEN * row) * mm))
    for row, place in enumerate(_heights(part)):
        shapes.append(Dimension((length, 0.0), (length, place), say(place), -BESIDE * (row + 1) * mm))
    return shapes


def _heights(part: PlatePart) -> list[float]:
    """Heights of holes above the lower edge, then that of the plate."""
    return [*sorted({hole.y for hole in part.holes if hole.y > 0}), part.height]
