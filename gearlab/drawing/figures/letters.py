"""Letters on a figure: the symbols of theory, in the notation chosen, beside what they name."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from ...theory import quantity
from ...theory.printing import symbol_text
from ...theory.smallsteps import LETTERS
from ..scene import Scene
from ..shapes import Arc, Dimension, Dot, Label, Line, Point, Shape
from ..svg import lowered

XY = tuple[float, float]


@dataclass(frozen=True)
class Letters:
    """The symbols of one notation.

    notation: "inch" or "iso".
    same: words that coincide here with others, whose symbols then stand.
    """

    notation: str = "inch"
    same: Mapping[str, str] = field(default_factory=dict)

    def of(self, word: str) -> str:
        """The symbol of a word, what is written lower marked for the drawing.

        >>> from gearlab.drawing.svg import lowered
        >>> Letters("iso").of("driver_base_radius") == "r" + lowered("b1")
        True
        """
        word = self.same.get(word, word)
        if word in LETTERS:
            text = symbol_text(word, "text", self.notation)
        else:
            entry = quantity(word)
            text = symbol_text(word, "text", self.notation)
            if entry.index and "_" not in text:
                text = f"{text[: -len(entry.index)]}_{entry.index}"
        head, _, tail = text.partition("_")
        return head + (lowered(tail) if tail else "")

    def at(
        self, place: XY, word: str, right: float = 0.0, up: float = 0.0, role: str = "dimension", of: str = ""
    ) -> Label:
        """A symbol beside a point, so far to the right and up [points of the picture]."""
        return Label(place, self.of(word), (right, up), _align(right), "normal", role, of)

    def length(
        self, start: XY, end: XY, word: str, offset: float = 0.0, of: str = "", text_at: int = 0
    ) -> Dimension:
        """A dimension line with a symbol."""
        return Dimension(start, end, self.of(word), offset, "dimension", of, text_at)

    def line(
        self,
        start: XY,
        end: XY,
        word: str,
        right: float = 0.0,
        up: float = 0.0,
        role: str = "outline",
        of: str = "",
    ) -> list[Shape]:
        """A straight line with a symbol beside its middle."""
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        return [Line(start, end, role, of), self.at(middle, word, right, up, of=of)]

    def angle(
        self,
        centre: XY,
        radius: float,
        start: float,
        end: float,
        word: str,
        out: float = 12.0,
        head: bool = False,
        of: str = "",
    ) -> list[Shape]:
        """An angle with a symbol outside its arc [deg; ``out`` in points of the picture]."""
        half = (start + end) / 2
        right, up = out * math.cos(math.radians(half)), out * math.sin(math.radians(half))
        return [
            Arc(centre, radius, start, end, "dimension", of, head),
            Label(
                polar(centre, radius, half), self.of(word), (right, up), "middle", "normal", "dimension", of
            ),
        ]


def _align(right: float) -> str:
    return "start" if right > 0 else "end" if right < 0 else "middle"


def polar(centre: XY, radius: float, angle: float) -> Point:
    """The point of a circle at an angle [deg]."""
    return (
        centre[0] + radius * math.cos(math.radians(angle)),
        centre[1] + radius * math.sin(math.radians(angle)),
    )


def named(at: XY, text: str, right: float = 0.0, up: float = 0.0, role: str = "note", of: str = "") -> Label:
    """Words beside a point."""
    return Label(at, text, (right, up), _align(right), "small", role, of)


def dot(at: XY, text: str = "", right: float = 8.0, up: float = 10.0) -> list[Shape]:
    """A point with its name."""
    return [Dot(at, "pitch point"), *([named(at, text, right, up)] if text else [])]


def right_angle(at: XY, first: float, size: float) -> list[Shape]:
    """The mark of a right angle whose legs go off at ``first`` and a quarter turn on [deg]."""
    start, corner = polar(at, size, first), polar(at, size * math.sqrt(2), first + 45)
    end = polar(at, size, first + 90)
    return [Line(start, corner, "dimension"), Line(corner, end, "dimension")]


def scene(
    shapes: list[Shape], text: str, margin: float = 34.0, width: float = 620.0, unit: str = "mm"
) -> Scene:
    """The scene of a figure, with room for its letters."""
    return Scene(tuple(shapes), text, unit, margin=(margin, margin, margin, margin), width=width)
