"""What drawings of the workshop share: how many pages one takes, sections with hatching, words in rows."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

import numpy as np

from gearlab.theory.units import convert

from ...parts.made import ToothData
from .. import style
from ..scene import Scene
from ..shapes import Box, Label, Line, Outline, Shape, Strokes, rectangle
from ..sheets import tiles
from ..style import width_of, wrapped

#: A drawing made for a page that is so many times smaller than true size.
Picture = Callable[[float], Scene]


def on_pages(
    whole: Picture, face: Picture | None, rest: Picture | None, paper_name: str
) -> list[Scene | Picture]:
    """The whole in true size on one page, else its face in true size, tiled, and the rest by itself.

    A picture in place of a scene is put on one page by ``sheets.fitted``, as small as that takes.
    """
    scene = whole(1.0)
    if one_page(scene, paper_name):
        return [scene]
    pages: list[Scene | Picture] = [face(1.0)] if face is not None else []
    return [*pages, fitting(rest if rest is not None else whole, paper_name)]


def fitting(picture: Picture, paper_name: str) -> Scene | Picture:
    """A drawing in true size where it has room on a page, else as a picture that ``fitted`` makes small."""
    scene = picture(1.0)
    return scene if one_page(scene, paper_name) else picture


def one_page(scene: Scene, paper_name: str) -> bool:
    """Whether a scene in true size has room on one page."""
    return len(tiles(scene, paper_name)[1]) == 1


SPACING = 2.2  # between the strokes of a hatching [mm on paper]


def paper(unit: str) -> float:
    """A millimetre on paper in the unit of a true-size scene.

    >>> paper("mm"), round(paper("in"), 4)
    (1.0, 0.0394)
    """
    return convert(1.0, "mm", unit)


def cut_open(box: Box, spacing: float, slope: float = 1.0) -> list[Shape]:
    """A rectangle of material that the section cuts: left, low, right, high; its edge and its hatching."""
    shapes: list[Shape] = [Outline(rectangle(*box), "outline", "gear")]
    strokes = hatching(box, spacing, slope)
    return [*shapes, Strokes(strokes, "hatch", "gear")] if len(strokes) else shapes


def cut_through(corners: np.ndarray, spacing: float, slope: float = 1.0) -> list[Shape]:
    """A convex piece of material that the section cuts, (n, 2): its edge and its hatching."""
    step, strokes = spacing * 2**0.5, []
    offsets = corners[:, 1] - slope * corners[:, 0]
    for k in range(int(np.floor(offsets.min() / step)) + 1, int(np.ceil(offsets.max() / step))):
        ends = []
        for (start, off), (end, far) in zip(
            zip(corners, offsets), zip(np.roll(corners, -1, 0), np.roll(offsets, -1))
        ):
            if (off - k * step) * (far - k * step) < 0:
                ends.append(start + (end - start) * (k * step - off) / (far - off))
        if len(ends) == 2:
            strokes.append(ends)
    shapes: list[Shape] = [Outline(corners, "outline", "gear")]
    return [*shapes, Strokes(np.array(strokes), "hatch", "gear")] if strokes else shapes


def hatching(box: Box, spacing: float, slope: float = 1.0) -> np.ndarray:
    """Strokes at 45 degrees within a rectangle, (n, 2, 2); they go on where a neighbour's leave off.

    >>> hatching((0, 0, 2, 1), 1.0).shape
    (2, 2, 2)
    """
    x0, y0, x1, y1 = box
    step = spacing * 2**0.5
    # lines y = slope * x + c, counted from the origin, so that two boxes side by side share them
    cs = sorted(y - slope * x for x in (x0, x1) for y in (y0, y1))
    strokes = []
    for k in range(int(np.floor(cs[0] / step)) + 1, int(np.ceil(cs[-1] / step))):
        ends = _within(k * step, slope, box)
        if ends is not None:
            strokes.append(ends)
    return np.array(strokes).reshape(-1, 2, 2)


def _within(c: float, slope: float, box: Box) -> Sequence[tuple[float, float]] | None:
    x0, y0, x1, y1 = box
    low, high = sorted(((y0 - c) / slope, (y1 - c) / slope))
    left, right = max(x0, low), min(x1, high)
    return None if right - left < 1e-9 else ((left, slope * left + c), (right, slope * right + c))


ROW = 4.9  # height of a line of words [mm on paper]
WORDS = 66.0  # width of the column of words [mm on paper]
VALUES = 84.0  # width of the column of values [mm on paper]
TYPE = convert(style.TYPE["small"] / 96, "in", "mm")  # height of small type [mm on paper]
BOLD = 1.12  # how much wider bold type is
NORMAL = convert(style.TYPE["normal"] / 96, "in", "mm")  # height of the type of dimensions [mm on paper]

Row = Sequence[str]
TWO = (WORDS, VALUES)


def data_rows(data: ToothData, unit: str) -> list[Row]:
    """The rows of tooth data, then the measures with their limits, and which of them to take."""
    places = 3 if unit == "mm" else 4
    rows: list[Row] = list(data.rows)
    for measure in data.measures:
        text = f"{measure.nominal:.{places}f} {unit}"
        if measure.low is not None and measure.high is not None:
            text = f"{measure.low:.{places}f} to {measure.high:.{places}f} {unit}"
        rows.append((measure.how + (" (take this)" if measure.how == data.take else ""), text))
    if data.why or (data.take and data.take not in [measure.how for measure in data.measures]):
        take = data.take if data.take not in [measure.how for measure in data.measures] else ""
        rows.append(("at the bench", "; ".join(words for words in (take, data.why) if words)))
    return rows


def said_width(text: str, bold: bool = False) -> float:
    """Width of the widest line of small words, or of a dimension's bold ones [mm on paper]."""
    size = BOLD * NORMAL if bold else TYPE
    return max((width_of(line, size) for line in text.split("\n")), default=0.0)


def block_height(rows: Iterable[Row], columns: Sequence[float] = TWO) -> float:
    """Height of a block of rows [mm on paper]."""
    return ROW * sum(max(map(len, _lines(row, columns))) for row in rows)


def block(
    rows: Iterable[Row], corner: tuple[float, float], mm: float, columns: Sequence[float] = TWO
) -> list[Shape]:
    """Rows of words below a corner, each closed by a line; long words go on in the next line.

    corner: upper left [unit]; mm: a millimetre on paper [unit]; columns: their widths [mm on paper].
    """
    shapes: list[Shape] = []
    (x, y), wide = corner, sum(columns) * mm
    for row in rows:
        lines = _lines(row, columns)
        left = x
        for cell, width in zip(lines, columns):
            shapes += [
                Label((left, y - (number + 1) * ROW * mm), words, align="start", size="small")
                for number, words in enumerate(cell)
            ]
            left += width * mm
        y -= max(map(len, lines)) * ROW * mm
        shapes.append(Line((x, y - 2.2 * mm), (x + wide, y - 2.2 * mm), "construction"))
    return shapes


def _lines(row: Row, columns: Sequence[float]) -> list[list[str]]:
    return [wrapped(cell, width - 2.0, TYPE) or [""] for cell, width in zip(row, columns)]
