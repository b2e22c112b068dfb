"""Scenes on paper in true size: PDF pages for A4 and Letter, tiled where a part is larger than the page.

Every page carries two check lines, 100 mm and 4 in. A printer that fits a page to its paper spoils the size:
a check line shows it. Neighbouring tiles overlap and share registration crosses.
"""

from __future__ import annotations

import io
import math
import textwrap
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from ..theory.units import convert
from .axes import draw
from .scene import Scene
from .style import wrapped

#: Paper by name, width and height [mm]: ISO 216:2007 and ANSI/ASME Y14.1.
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
MARGIN = 11.0  # what printers leave white [mm]
FOOT = 17.0  # room for the check lines and words below the picture [mm]
OVERLAP = 10.0  # shared by neighbouring tiles [mm]
SCALES = (2.0, 2.5, 4.0, 5.0, 10.0, 20.0, 50.0, 100.0)  # how many times smaller a page may be drawn
_LETTERS = 52  # of a name that stand beside the check lines
_BLOCK_TYPE = 6.0  # of the title block [points]
BLOCK_ROWS = 8  # of words in it
_DOTS = convert(96, "1/in", "1/mm")  # points of a picture to one millimetre in true size


@dataclass(frozen=True)
class TitleBlock:
    """What stands in the corner of a page: of which design, which part, and what its review said.

    scale: such as "1 : 1"; quantity: how many of the part are made, 0 for a page that is no part.
    """

    design: str
    part: str
    unit: str
    verdict: str
    scale: str = "1 : 1"
    material: str = ""
    quantity: int = 1
    care: str = ""


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
    places = [
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
    return page, places


def pages(scene: Scene, paper_name: str = "A4", block: TitleBlock | None = None) -> list:
    """A scene in true size on as many pages as it takes, as matplotlib Figures.

    Parameters
    ----------
    scene : Scene
        What to draw [its unit].
    paper_name : str
        "A4" or "Letter".
    block : TitleBlock, optional
        What stands in the corner; left out, the title of the scene.

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
    return [_page(true_size, size, tile, block) for tile in parts]


def fitted(
    picture: Callable[[float], Scene], paper_name: str = "A4", block: TitleBlock | None = None
) -> list:
    """A picture on one page, in true size or in the largest usual scale below that it has room in.

    The scale stands in its block; a page that is not in true size has no check lines to measure by.

    picture: makes the scene for a scale [points of the picture per mm].
    """
    for factor in (1.0, *SCALES):
        scene = picture(_DOTS / factor)
        for size in (paper(paper_name), paper(paper_name)[::-1]):
            room = size[0] - 2 * MARGIN, size[1] - 2 * MARGIN - FOOT
            x0, y0, x1, y1 = (convert(value, scene.unit, "mm") for value in scene.bounds)
            pads = [sum(scene.margin[side::2]) * factor / _DOTS for side in (1, 0)]
            if (x1 - x0 + pads[0]) / factor <= room[0] and (y1 - y0 + pads[1]) / factor <= room[1]:
                width, height = factor * room[0], factor * room[1]
                tile = Tile((x0 + x1 - width) / 2, (y0 + y1 - height) / 2, width, height, 0, 0, 1, 1)
                across = (x1 - x0) * _DOTS / factor + scene.margin[1] + scene.margin[3]
                shown = replace(scene, width=across, focus=None)
                named = block and replace(block, scale=f"1 : {factor:g}")
                return [_page(shown, size, tile, named, factor)]
    raise ValueError(f"{scene.title!r} is too large for a page even at 1 : {SCALES[-1]:g}")


def smaller(scale: float) -> float:
    """How many times smaller than true size a scale is that ``fitted`` asks a picture for [-].

    >>> round(smaller(96 / 25.4 / 2), 6)
    2.0
    """
    return _DOTS / scale


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
    return bound(figure for scene in scenes for figure in pages(scene, paper_name))


def bound(figures: Iterable) -> bytes:
    """Pages bound to one PDF file; the same pages give the same bytes."""
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
        for figure in figures:
            file.savefig(figure)
    return buffer.getvalue()


def _page(
    scene: Scene, size: tuple[float, float], tile: Tile, block: TitleBlock | None = None, factor: float = 1.0
):
    """One page; ``factor`` is how many times smaller than true size it is drawn."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    width, height = size
    figure = Figure(figsize=(convert(width, "mm", "in"), convert(height, "mm", "in")), facecolor="white")
    FigureCanvasAgg(figure)
    window = (
        MARGIN / width,
        (MARGIN + FOOT) / height,
        tile.width / factor / width,
        tile.height / factor / height,
    )
    ax = draw(scene, figure.add_axes(window))
    ax.set_xlim(*(convert(value, "mm", scene.unit) for value in (tile.left, tile.left + tile.width)))
    ax.set_ylim(*(convert(value, "mm", scene.unit) for value in (tile.bottom, tile.bottom + tile.height)))
    if tile.columns * tile.rows > 1:
        _words_within(figure, ax)
    for text in ax.texts:  # patches have a clip path from the axes; words would run on beyond the tile
        text.set_clip_path(ax.patch)
        text.set_clip_on(True)
    foot = figure.add_axes((0, 0, 1, 1))
    foot.set_xlim(0, width)
    foot.set_ylim(0, height)
    foot.set_axis_off()
    foot.patch.set_alpha(0)
    if factor == 1:
        _check_line(foot, MARGIN + 3, MARGIN + 3, 100.0, "100 mm")
        _check_line(foot, MARGIN + 3, MARGIN + 10, convert(4.0, "in", "mm"), "4 in")
    words = (
        "print at 100 %, not fitted to the page; measure a check line" if factor == 1 else "not in true size"
    )
    if tile.columns * tile.rows > 1:
        words = f"tile {tile.name} of {tile.columns} x {tile.rows}: lay the crosses on each other\n{words}"
        _registration(foot, tile)
    left = MARGIN + 3 + convert(4.0, "in", "mm") + 5
    if block is not None:
        _title_block(foot, block, words, left, width - MARGIN)
        return figure
    # a name may be long: it is broken rather than run off the page
    words = "\n".join([*textwrap.wrap(scene.title, _LETTERS)] or ["gearlab"]) + f"\n{words}"
    foot.text(left, MARGIN + 7, words, fontsize=6.5, va="center", linespacing=1.35, parse_math=False)
    return figure


def _words_within(figure, ax) -> None:
    """Words that a tile's edge would cut move into the tile where their middle lies, and off the others."""
    renderer, window = figure.canvas.get_renderer(), ax.get_window_extent()
    for text in ax.texts:
        box = text.get_window_extent(renderer)
        x, y = (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2
        if not (window.x0 <= x <= window.x1 and window.y0 <= y <= window.y1):
            text.set_visible(False)
            continue
        across = max(0.0, window.x0 + 2 - box.x0) - max(0.0, box.x1 + 2 - window.x1)
        up = max(0.0, window.y0 + 2 - box.y0) - max(0.0, box.y1 + 2 - window.y1)
        if across or up:
            points = 72 / figure.dpi
            text.xyann = (text.xyann[0] + across * points, text.xyann[1] + up * points)


def _title_block(ax, block: TitleBlock, words: str, left: float, right: float) -> None:
    """The block in the corner: the review's verdict over the part, its design, scale, material and number."""
    from matplotlib.patches import Rectangle

    low, high = MARGIN - 4, MARGIN + FOOT - 1
    ax.add_patch(Rectangle((left, low), right - left, high - low, fill=False, linewidth=0.7))
    room, size = right - left - 2.4, _BLOCK_TYPE / convert(1.0, "mm", "in") / 72
    count = f", {block.quantity} of it" if block.quantity else ""
    about = f"unit {block.unit}; scale {block.scale}" + (
        f"; material {block.material}" if block.material else ""
    )
    first = wrapped(f"{block.part}{count}", room / 1.12, size, most=1)  # set in bold, which is wider
    review = wrapped(f"review: {block.verdict}", room, size, most=2)
    review += [row for line in words.split("\n") for row in wrapped(line, room, size, most=1)]
    care = wrapped(block.care, room, size, most=max(1, BLOCK_ROWS - 2 - len(review))) if block.care else []
    free = BLOCK_ROWS - len(first) - len(review) - len(care)
    rows = first + wrapped(
        f"{block.design}; {about}" if block.design else about, room, size, most=max(1, free)
    )
    rows += review + care
    step = (high - low - 1.5) / BLOCK_ROWS
    for number, row in enumerate(rows):
        ax.text(
            left + 1.2,
            high - 0.9 - number * step,
            row,
            fontsize=_BLOCK_TYPE,
            va="top",
            weight="bold" if number == 0 else "normal",
            parse_math=False,
        )


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
