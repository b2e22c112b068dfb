"""How wide words are, before anything is drawn: whether they fit, and where they break.

Widths are those of the face that the sheets are set in (DejaVu Sans), a little on the wide side.
"""

from __future__ import annotations

import unicodedata
from functools import cache

WIDEST = 1.0  # of a letter whose width is not known [heights of type]
_CLASSES = (
    ("ijl.,:;'|!` ", 0.34),
    ('frtI()[]{}"-/\\', 0.43),
    ("MW@%", 1.0),
    ("mw+=<>~\u00b1\u2212\u2300#_^$&", 0.98),
)
_WIDTHS = {letter: width for letters, width in _CLASSES for letter in letters}


def width_of(text: str, size: float) -> float:
    """Width of one line of words in the unit of ``size``, the height of its type.

    >>> round(width_of("face width", 10.0), 1)
    57.2
    """
    return size * sum(map(_letter, text))


@cache
def _letter(letter: str) -> float:
    if letter in _WIDTHS:
        return _WIDTHS[letter]
    if not letter.isascii() and unicodedata.east_asian_width(letter) in "WF":
        return WIDEST
    return 0.76 if letter.isupper() else 0.64


def wrapped(text: str, room: float, size: float, most: int = 0) -> list[str]:
    """Lines of words that each fit a room; a word that is too long for a line is broken.

    most: lines at most, the last one then ends in an ellipsis; 0 for as many as it takes.

    >>> wrapped("a pinion of 18 teeth", 60.0, 10.0)
    ['a pinion of', '18 teeth']
    >>> wrapped("a pinion of 18 teeth", 70.0, 10.0, most=1)
    ['a pinion of…']
    """
    lines: list[str] = []
    for word in text.split():
        if lines and width_of(f"{lines[-1]} {word}", size) <= room:
            lines[-1] += f" {word}"
            continue
        if width_of(word, size) <= room:
            lines.append(word)
            continue
        lines.append("")
        for letter in word:
            if lines[-1] and width_of(lines[-1] + letter, size) > room:
                lines.append("")
            lines[-1] += letter
    if most and len(lines) > most:
        last = lines[most - 1]
        while last and width_of(f"{last}\u2026", size) > room:
            last = last[:-1]
        lines = [*lines[: most - 1], f"{last}\u2026"]
    return lines
