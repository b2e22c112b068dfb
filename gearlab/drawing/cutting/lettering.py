"""Words as paths: letters that look the same on every machine, whatever type it has."""

from __future__ import annotations

import math
import warnings
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

#: The type that is engraved; matplotlib brings it along, so every machine has the same one.
TYPE = "DejaVu Sans"


@dataclass(frozen=True)
class Words:
    """Words to be marked, centred at a point, with the height of their capitals [unit of the file]."""

    at: tuple[float, float]
    text: str
    height: float


def letters(words: Words, tolerance: float) -> list[np.ndarray]:
    """The outlines of the letters, each a closed path without its first point again, (n, 2) [unit].

    tolerance: largest distance of the path from the curve of the letter [unit].

    >>> [len(letters(Words((0.0, 0.0), text, 5.0), 0.01)) for text in ("I", "O", "i", "")]
    [1, 2, 2, 0]
    """
    if not words.text.strip():
        return []
    path, box, capital = _path(words.text)
    scale = words.height / capital
    middle = np.array([(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2])
    outlines: list[list[np.ndarray]] = []
    for corners, code in path.iter_segments(simplify=False):
        points = (corners.reshape(-1, 2) - middle) * scale + words.at
        if code == path.MOVETO:
            outlines.append([points[0]])
        elif code != path.CLOSEPOLY:
            outlines[-1] += _bend(np.vstack([outlines[-1][-1], points]), tolerance)
    closed = (np.array(outline) for outline in outlines)
    return [line[:-1] if np.allclose(line[0], line[-1]) else line for line in closed if len(line) > 2]


def width_of(text: str) -> float:
    """How wide words are [heights of a capital].

    >>> width_of("I") < 0.3 < 1.0 < width_of("W") < 1.6
    True
    """
    if not text.strip():
        return 0.0
    _, box, capital = _path(text)
    return float(box.width / capital)


@lru_cache(maxsize=512)  # the same few words stand on every part, and are measured before they are marked
def _path(text: str):
    """The words as a path of the type's own curves, the box around it, and how high a capital is in it."""
    # late: loads matplotlib, which `import gearlab` does not
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextPath

    prop = FontProperties(family=TYPE)
    with warnings.catch_warnings():
        # a sign that the type lacks is engraved as an empty box
        warnings.filterwarnings("ignore", message="Glyph .* missing")
        # a dollar stays a dollar: it begins no formula
        path = TextPath((0, 0), text.replace("$", r"\$"), size=100, prop=prop)
    return path, path.get_extents(), TextPath((0, 0), "H", size=100, prop=prop).get_extents().height


def _bend(corners: np.ndarray, tolerance: float) -> list[np.ndarray]:
    """Points along a straight line or a Bezier curve of second or third order, without the first."""
    if len(corners) == 2:
        return [corners[1]]
    # largest second difference bounds how far a chord leaves the curve: order (order - 1) / 8 of it
    order = len(corners) - 1
    second = np.hypot(*(corners[:-2] - 2 * corners[1:-1] + corners[2:]).T).max()
    parts = max(1, math.ceil(math.sqrt(order * (order - 1) / 8 * second / tolerance)))
    steps = np.linspace(0, 1, parts + 1)[1:, None]
    return list(
        sum(
            math.comb(order, k) * steps**k * (1 - steps) ** (order - k) * corners[k] for k in range(order + 1)
        )
    )
