"""A scene: shapes with the sentence that says what they show, framed, and as a still picture on a page.

A still picture is drawn in the colours of light paper. A style sheet inside its SVG, which reaches nothing
outside it, exchanges them for those of the dark theme where the page is dark. In a notebook it is an image
with alternative text, and JupyterLab's theme, which the image cannot see, is told to it by ``color-scheme``.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cache
from html import escape
from typing import TypeVar, overload
from urllib.parse import quote

from .shapes import ROLES, Box, Shape, bounds_of
from .style import THEMES
from .svg import svg

_FOLLOWS = (
    "<style>[data-jp-theme-light='true'] img.gl-still{color-scheme:light}"
    "[data-jp-theme-light='false'] img.gl-still{color-scheme:dark}</style>"
)


@cache
def _exchange() -> str:
    """Rules that put each colour of the dark theme for the one of the light theme that is written."""
    rules = []
    for name, light in THEMES["light"].items():
        dark = THEMES["dark"][name]
        for what in ("fill", "stroke"):
            # as an attribute (scenes) and inside a style (charts)
            rules.append(f"[{what}='{light}'],[style*='{what}: {light}']{{{what}:{dark}!important}}")
    return "<style>@media (prefers-color-scheme:dark){" + "".join(rules) + "}</style>"


def themed(picture: str) -> str:
    """SVG text drawn in the light theme, which turns dark where the page around it is dark.

    >>> themed('<svg xmlns="http://www.w3.org/2000/svg"><path fill="#ffffff"/></svg>')[:60]
    '<svg xmlns="http://www.w3.org/2000/svg"><style>@media (prefe'
    """
    start = picture.index("<svg")
    end = picture.index(">", start) + 1
    return picture[:end] + _exchange() + picture[end:]


def still_html(picture: str, text: str, width: float) -> str:
    """A picture as an image with its sentence of alternative text, at most ``width`` wide [points]."""
    source = quote(themed(picture), safe=" =:/,;()!*@[]'")
    return (
        f'{_FOLLOWS}<img class="gl-still" alt="{escape(text)}" width="{width:g}"'
        f' style="max-width:100%;height:auto" src="data:image/svg+xml,{source}">'
    )


Kind = TypeVar("Kind")
UNFRAMED: Box = (0.0, 0.0, 0.0, 0.0)  # bounds that are still to be taken from the shapes


@dataclass(frozen=True)
class Scene:
    """Shapes in drawing order (the later lie above), with one sentence that says what they show.

    text: the sentence of alternative text, with the numbers.
    unit: "mm" or "in".
    title: a few words for a heading or a file name.
    margin: room for type around the shapes: top, right, bottom, left [points of the picture].
    focus: (x, y, width) of the part a close-up shows [unit of the scene], or None; with a height that must be
        in it, too, a picture too small for its teeth begins so.
    width: the width the picture is made for [points of the picture].
    limits: least and largest angle of the driver [deg]; a living picture turns back there.
    """

    shapes: tuple[Shape, ...]
    text: str
    unit: str = "mm"
    title: str = ""
    margin: tuple[float, float, float, float] = (12.0, 12.0, 12.0, 12.0)
    focus: tuple[float, ...] | None = None
    width: float = 720.0
    limits: tuple[float, float] | None = None
    bounds: Box = field(default=UNFRAMED, compare=False)

    def __post_init__(self):
        for shape in self.shapes:
            if shape.role not in ROLES:
                raise ValueError(
                    f"role {shape.role!r} of a {type(shape).__name__} is not known; "
                    f"roles are: {', '.join(ROLES)}"
                )
        if not self.text.strip():
            raise ValueError(
                "a scene needs a sentence of alternative text: give text with the numbers it shows"
            )
        if self.bounds == UNFRAMED:
            object.__setattr__(self, "bounds", bounds_of(self.shapes))

    @property
    def points_per_unit(self) -> float:
        """Scale of the picture at its own width [points of the picture per unit of the scene]."""
        x0, _, x1, _ = self.bounds
        return (self.width - self.margin[1] - self.margin[3]) / (x1 - x0)

    @overload
    def having(self, role: str) -> list[Shape]: ...
    @overload
    def having(self, role: str, kind: type[Kind]) -> list[Kind]: ...
    def having(self, role, kind=object):
        """The shapes of one role (and of one kind, such as ``Circle``), in drawing order."""
        return [shape for shape in self.shapes if shape.role == role and isinstance(shape, kind)]

    def with_shapes(self, *shapes: Shape) -> Scene:
        """The same scene with further shapes on top; its bounds grow if they must."""
        return replace(self, shapes=self.shapes + shapes, bounds=UNFRAMED)

    def _repr_html_(self) -> str:
        return still_html(svg(self), self.text, self.width)

    def __repr__(self) -> str:
        return f"Scene({self.text!r})"
