"""Words of a drawing in rows: the block of tooth data, lists of holes; nothing runs out of its column."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from gearlab.theory.units import convert

from ...parts.made import ToothData
from .. import style
from ..shapes import Label, Line, Shape
from ..typewidth import width_of, wrapped

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
