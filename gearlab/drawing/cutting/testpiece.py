"""The test piece: cut or printed and tried before a gear is, it tells the width of cut or the clearance.

Everything is drawn in its nominal size, nothing taken into account. A beam of width k makes a peg k narrower
and a slot k wider: the peg fills the slot that was drawn 2k narrower; a shaft fills the hole drawn k less.
A print whose surfaces grow by g makes the peg 2g wider and the slot 2g narrower: the peg fills the slot drawn
4g wider, the shaft the hole drawn 2g wider (geometry). Each slot and hole bears its k or g.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from textwrap import wrap

import numpy as np

from .. import numerals
from ..scene import Scene
from ..shapes import Label, Line, Outline, Shape, point
from .cutfile import CutFile, Path, Round, path_tolerance
from .lettering import Words, width_of
from .offsets import circle

STRIPS = 10  # between the lines of the window: the gap is one width of cut more than there are strips


@dataclass(frozen=True)
class Sizes:
    """Sizes of a test piece [unit]."""

    peg: float
    wall: float
    depth: float
    wide: float
    type: float
    strip: float
    cut: tuple[float, ...]
    clearance: tuple[float, ...]
    places: int


#: Slots and holes stand for widths of cut and for clearances about the usual ones of a school's machines.
SIZES = {
    "mm": Sizes(
        4.0,
        7.0,
        9.0,
        165.0,
        2.0,
        5.0,
        tuple(k / 40 for k in range(2, 13)),
        tuple(k / 40 for k in range(11)),
        3,
    ),
    "in": Sizes(
        0.16,
        0.28,
        0.36,
        6.4,
        0.08,
        0.2,
        tuple(k / 1000 for k in range(2, 13)),
        tuple(k / 1000 for k in range(11)),
        3,
    ),
}

CUT_SAYS = (
    "Cut it, push the peg into the slots and the shaft into the holes: the number at the one that it just"
    f" fills is the width of cut. Finer: push the {STRIPS} strips to one side, measure the gap and divide it"
    f" by {STRIPS + 1}. Give that number to every cut file: --cut-width NUMBER"
)
PRINT_SAYS = (
    "Print it, push the peg into the slots and the shaft into the holes: the number at the one that it just"
    " fills is what each surface has grown. Where slot and hole differ, the larger one leaves both their"
    " room. Give that number to every file for the printer: --clearance NUMBER"
)


@dataclass(frozen=True)
class Piece:
    """A test piece: its paths, and the sentence that turns the reading into an option."""

    file: CutFile
    says: str


def trial_pieces(unit: str, shafts: Sequence[float], tolerance: float | None = None) -> tuple[Piece, Piece]:
    """The test piece for a beam and the one for a printer.

    unit: "mm" or "in"; shafts: their diameters, a row of holes for each [unit].
    tolerance: largest distance of the letters from their curves [unit].
    ValueError for a shaft that is no wider than what its holes are narrower.

    >>> cut, printed = trial_pieces("mm", [10.0])
    >>> [round(2 * hole.radius, 3) for hole in cut.file.rounds][:3], printed.file.name
    ([9.95, 9.925, 9.9], 'test_piece_print')
    """
    sizes, within = SIZES[unit], path_tolerance(tolerance, unit)
    for shaft in shafts:
        if shaft <= 4 * max(sizes.cut):
            raise ValueError(
                f"a shaft of {shaft:g} {unit} has no test piece: its holes would be nothing; give shafts"
                f" above {4 * max(sizes.cut):g} {unit}"
            )
    note = f"lengths in {unit}; drawn in its nominal size, nothing taken into account"
    pieces = []
    for name, says, values, slot, hole in (
        ("test_piece_cut", CUT_SAYS, sizes.cut, -2, -1),
        ("test_piece_print", PRINT_SAYS, sizes.clearance, 4, 2),
    ):
        paths, rounds, words = _laid_out(unit, shafts, values, (slot, hole), name == "test_piece_cut")
        file = CutFile(name, unit, tuple(paths), tuple(rounds), tuple(words), f"{note}. {says}", within)
        pieces.append(Piece(file, says))
    return pieces[0], pieces[1]


def _laid_out(
    unit: str, shafts: Sequence[float], values: Sequence[float], times: tuple[int, int], strips: bool
) -> tuple[list[Path], list[Round], list[Words]]:
    """Comb, peg, rows of holes from the top down, and for a beam the window of strips."""
    sizes = SIZES[unit]
    gap, pitch = sizes.wall, sizes.peg + sizes.wall
    rounds: list[Round] = []
    words: list[Words] = []
    paths: list[Path] = []
    low = -sizes.depth - 1.2 * gap
    for k, value in enumerate(values):
        words.append(
            Words((gap + (k + 0.5) * pitch, -sizes.depth - 0.6 * gap), _says(value, unit), sizes.type)
        )
    comb = 2 * gap + len(values) * pitch
    wide = comb
    low -= 0.2 * gap
    words.append(_heading(f"slots for the peg of {numerals.plain(sizes.peg)} {unit}", gap, low, sizes))
    for shaft in sorted(set(shafts)):
        low -= 0.6 * gap
        step = max(shaft + max(0.0, times[1] * max(values)) + gap, pitch)
        lines = math.ceil(len(values) / max(1, int((sizes.wide - gap) / step)))
        a_line = math.ceil(len(values) / lines)
        wide = max(wide, 2 * gap + a_line * step)
        for first in range(0, len(values), a_line):
            middle = low - step / 2
            for k, value in enumerate(values[first : first + a_line]):
                x = gap + (k + 0.5) * step
                rounds.append(Round((x, middle), (shaft + times[1] * value) / 2, "hole"))
                words.append(Words((x, low - step - 0.2 * gap), _says(value, unit), sizes.type))
            low -= step + 0.7 * gap
        low -= 0.2 * gap
        words.append(_heading(f"holes for the shaft of {numerals.plain(shaft)} {unit}", gap, low, sizes))
        low -= 0.4 * gap
    if strips:
        high, low = low - 0.6 * gap, low - 0.6 * gap - 3 * sizes.strip
        paths += _strips(gap, low, high, sizes.strip)
        at = gap + STRIPS * sizes.strip + 0.5 * gap
        words.append(_heading(f"{STRIPS} strips: gap / {STRIPS + 1}", at, (low + high) / 2, sizes))
        low -= 0.6 * gap
    low -= 0.4 * gap
    teeth = [(0.0, 0.0)]
    for k, value in enumerate(values):
        x, half = gap + (k + 0.5) * pitch, (sizes.peg + times[0] * value) / 2
        teeth += [(x - half, 0.0), (x - half, -sizes.depth), (x + half, -sizes.depth), (x + half, 0.0)]
    paths.append(Path(np.array([*teeth, (wide, 0.0), (wide, low), (0.0, low)]), "outline"))
    paths.append(Path(_peg(sizes), "outline"))
    return paths, rounds, words


def _says(value: float, unit: str) -> str:
    return f"{value:.{SIZES[unit].places}f}"


def _heading(text: str, left: float, y: float, sizes: Sizes) -> Words:
    """Words that begin at a place."""
    return Words((left + width_of(text) * sizes.type / 2, y), text, sizes.type)


def _peg(sizes: Sizes) -> np.ndarray:
    """The peg, above the comb, its tongue downwards."""
    half, grip, low = sizes.peg / 2, 1.5 * sizes.peg, sizes.wall
    root, top = low + sizes.depth + sizes.wall / 2, low + sizes.depth + sizes.wall / 2 + 3 * sizes.peg
    middle = sizes.wall + grip
    right = [(half, low), (half, root), (grip, root), (grip, top)]
    return np.array([(middle + x, y) for x, y in right] + [(middle - x, y) for x, y in reversed(right)])


def _strips(left: float, low: float, high: float, strip: float) -> list[Path]:
    """A window and the lines that part it into strips."""
    lines = [
        Path(np.array([[left + k * strip, low], [left + k * strip, high]]), "hole", closed=False)
        for k in range(1, STRIPS)
    ]
    right = left + STRIPS * strip
    return [Path(np.array([[left, low], [right, low], [right, high], [left, high]]), "hole"), *lines]


def piece_drawing(piece: Piece) -> Scene:
    """The test piece in true size for a sheet, with the sentence that turns the reading into an option."""
    cut = piece.file
    x0, y0, x1, y1 = cut.bounds
    shapes: list[Shape] = []
    for path in cut.paths:
        if path.closed:
            shapes.append(Outline(path.points, path.layer))
        else:
            shapes.append(Line(point(path.points[0]), point(path.points[1]), "outline"))
    shapes += [
        Outline(circle(round_cut.radius, cut.tolerance)[:-1] + np.asarray(round_cut.centre), "hole")
        for round_cut in cut.rounds
    ]
    row = {"mm": 5.0, "in": 0.2}[cut.unit]
    for words in cut.words:
        left = words.at[0] - width_of(words.text) * words.height / 2
        shapes.append(Label((left, words.at[1]), words.text, align="start", size="small"))
    lines = wrap(piece.says, 84)
    shapes += [
        Label((x0, y0 - (k + 1.5) * row), line, align="start", size="small") for k, line in enumerate(lines)
    ]
    bounds = (x0, y0 - (len(lines) + 2) * row, max(x1, x0 + 32 * row), y1)
    return Scene(tuple(shapes), f"{cut.name}: {piece.says}.", cut.unit, title=cut.name, bounds=bounds)
