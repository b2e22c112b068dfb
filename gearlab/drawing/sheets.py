"""Scenes on paper in true size: PDF pages for A4 and Letter, tiled where a part is larger than the page.

Every page carries two check lines, 100 mm and 4 in. A printer that fits a page to its paper spoils the size:
a check line shows it. Neighbouring tiles overlap and share registration crosses.
"""

from __future__ import annotations

import io
import math
import textwrap
from collections.abc import Iterable
from dataclasses import dataclass, replace

from ..theory.units import convert
from .axes import draw
from .scene import Scene

#: Paper by name, width and height [mm]: ISO 216:2007 and ANSI/ASME Y14.1.
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
MARGIN = 11.0  # what printers leave white [mm]
FOOT = 17.0  # room for the check lines and words below the picture [mm]
OVERLAP = 10.0  # shared by neighbouring tiles [mm]
_LETTERS = 52  # of a name that stand beside the check lines
_DOTS = convert(96, "1/in", "1/mm")  # points of a picture to one millimetre in true size


@dataclass(frozen=True)
class Tile:
    """Part of a scene on one page.

    The corner of its window and where it stands in the row and column of tiles.
    """

    left: float
    bottom: float
    width: float
    height: float
    column: int
    row: int
    columns: int
    rows: int

    @property
    def name(self) -> str:
        """Name of the tile, such as B2: columns by letter from the left, rows by number from the top."""
        return f"{chr(ord('A') + self.column)}{self.row + 1}"


def paper(name: str) -> tuple[float, float]:
    """Width and height of a paper [mm].

    >>> paper("A4")
    (210.0, 297.0)
    """
    if name not in PAPERS:
        raise ValueError(f"paper {name!r} is unknown: use {' or '.join(PAPERS)}")
    return PAPERS[name]


def tiles(scene: Scene, paper_name: str = "A4") -> tuple[tuple[float, float], list[Tile]]:
    """The page [mm], upright or across, and the tiles that show a scene on it with the fewest pages [mm].

    Examples
    --------
    >>> from gearlab.drawing.shapes import Circle
    >>> page, parts = tiles(Scene((Circle((0, 0), 117.5, "hole"),), "A hole of 235 mm."))
    >>> page, [tile.name for tile in parts]
    ((210.0, 297.0), ['A1', 'B1'])
    """
    x0, y0, x1, y1 = (convert(value, scene.unit, "mm") for value in scene.bounds)
    pad = 4.0  # so that an outline does not lie on the edge of the window
    x0, y0, x1, y1 = x0 - pad, y0 - pad, x1 + pad, y1 + pad
    choices = []
    for page in (paper(paper_name), paper(paper_name)[::-1]):
        room = page[0] - 2 * MARGIN, page[1] - 2 * MARGIN - FOOT
        columns, rows = (
            max(1, math.ceil((span - OVERLAP) / (inner - OVERLAP) - 1e-9))
            for span, inner in ((x1 - x0, room[0]), (y1 - y0, room[1]))
        )
        choices.append((page, room, columns, rows))
    page, room, columns, rows = min(choices, key=lambda choice: choice[2] * choice[3])
    # the tiles share what is left over, so that the picture stands in the middle of them
    left = (x0 + x1) / 2 - (columns * (room[0] - OVERLAP) + OVERLAP) / 2
    top = (y0 + y1) / 2 + (rows * (room[1] - OVERLAP) + OVERLAP) / 2
    found = [
        Tile(
            left + column * (room[0] - OVERLAP),
            top - row * (room[1] - OVERLAP) - room[1],
            *room,
            column,
            row,
            columns,
            rows,
        )
        for row in range(rows)
        for column in range(columns)
    ]
    return page, found


def pages(scene: Scene, paper_name: str = "A4") -> list:
    """A scene in true size on as many pages as it takes, as matplotlib Figures.

    Parameters
    ----------
    scene : Scene
        What to draw [its unit].
    paper_name : str
        "A4" or "Letter".

    Returns
    -------
    list of matplotlib Figure
        Of the paper's size; save them without any fitting.

    Raises
    ------
    ValueError
        For an unknown paper.

    Examples
    --------
    >>> from gearlab.drawing.shapes import Circle
    >>> page, = pages(Scene((Circle((0, 0), 5.0, "hole"),), "A hole of 10 mm."), "Letter")
    >>> [round(float(inch), 2) for inch in page.get_size_inches()]
    [8.5, 11.0]
    """
    size, parts = tiles(scene, paper_name)
    x0, _, x1, _ = scene.bounds
    true_size = replace(
        scene,
        width=convert(x1 - x0, scene.unit, "mm") * _DOTS + scene.margin[1] + scene.margin[3],
        focus=None,
    )
    return [_page(true_size, size, tile) for tile in parts]


def pdf(scenes: Iterable[Scene], paper_name: str = "A4") -> bytes:
    """Scenes in true size as one PDF file; the same scenes give the same bytes.

    Parameters
    ----------
    scenes : iterable of Scene
        One after another, each on pages of its own.
    paper_name : str
        "A4" or "Letter".

    Returns
    -------
    bytes
        The file.
    """
    from matplotlib import rc_context
    from matplotlib.backends.backend_pdf import PdfPages

    buffer = io.BytesIO()
    # Type 42 keeps words as words: they can be searched and read out
    with (
        rc_context({"pdf.fonttype": 42}),
        PdfPages(
            buffer, metadata={"CreationDate": None, "Producer": "gearlab", "Creator": "gearlab"}
        ) as file,
    ):
        for scene in scenes:
            for figure in pages(scene, paper_name):
                file.savefig(figure)
    return buffer.getvalue()


def _page(scene: Scene, size: tuple[float, float], tile: Tile):
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    width, height = size
    figure = Figure(figsize=(convert(width, "mm", "in"), convert(height, "mm", "in")), facecolor="white")
    FigureCanvasAgg(figure)
    window = (MARGIN / width, (MARGIN + FOOT) / height, tile.width / width, tile.height / height)
    ax = draw(scene, figure.add_axes(window))
    ax.set_xlim(*(convert(value, "mm", scene.unit) for value in (tile.left, tile.left + tile.width)))
    ax.set_ylim(*(convert(value, "mm", scene.unit) for value in (tile.bottom, tile.bottom + tile.height)))
    for child in (*ax.patches, *ax.texts):
        child.set_clip_path(ax.patch)  # words have none of their own: they would run on beyond the tile
        child.set_clip_on(True)
    foot = figure.add_axes((0, 0, 1, 1))
    foot.set_xlim(0, width)
    foot.set_ylim(0, height)
    foot.set_axis_off()
    foot.patch.set_alpha(0)
    _check_line(foot, MARGIN + 3, MARGIN + 3, 100.0, "100 mm")
    _check_line(foot, MARGIN + 3, MARGIN + 10, convert(4.0, "in", "mm"), "4 in")
    # a name may be long: it is broken rather than run off the page
    words = "\n".join(textwrap.wrap(scene.title, _LETTERS)) or "gearlab"
    if tile.columns * tile.rows > 1:
        words += f"\ntile {tile.name} of {tile.columns} x {tile.rows}: lay the crosses on each other"
        _registration(foot, tile)
    words += "\nprint at 100 %, not fitted to the page; measure a check line"
    foot.text(
        MARGIN + 3 + convert(4.0, "in", "mm") + 5,
        MARGIN + 7,
        words,
        fontsize=6.5,
        va="center",
        linespacing=1.35,
        parse_math=False,
    )
    return figure


def _check_line(ax, x: float, y: float, length: float, words: str) -> None:
    from matplotlib.lines import Line2D

    ax.add_line(Line2D([x, x + length], [y, y], color="black", linewidth=0.7, solid_capstyle="butt"))
    for end in (x, x + length):
        ax.add_line(
            Line2D([end, end], [y - 1.6, y + 1.6], color="black", linewidth=0.7, solid_capstyle="butt")
        )
    ax.text(x + length / 2, y + 0.6, f"check line {words}", fontsize=6.5, ha="center", va="bottom")


def _registration(ax, tile: Tile) -> None:
    """Two crosses in the middle of each strip that neighbouring tiles share.

    Both tiles print the same ones.
    """
    from matplotlib.lines import Line2D

    left, bottom, half = MARGIN, MARGIN + FOOT, OVERLAP / 2
    across, up = (
        [left + part * tile.width for part in (0.2, 0.8)],
        [bottom + part * tile.height for part in (0.2, 0.8)],
    )
    places = [
        (x, y)
        for x, shown in (
            (left + half, tile.column > 0),
            (left + tile.width - half, tile.column < tile.columns - 1),
        )
        if shown
        for y in up
    ]
    places += [
        (x, y)
        for y, shown in (
            (bottom + half, tile.row < tile.rows - 1),
            (bottom + tile.height - half, tile.row > 0),
        )
        if shown
        for x in across
    ]
    for x, y in places:
        ax.add_line(Line2D([x - 3, x + 3], [y, y], color="black", linewidth=0.5))
        ax.add_line(Line2D([x, x], [y - 3, y + 3], color="black", linewidth=0.5))
