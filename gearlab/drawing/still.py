"""Still pictures that follow the theme of the page they stand on.

A still picture is drawn in the colours of light paper. A style sheet inside its SVG, which reaches nothing
outside it, exchanges them for those of the dark theme where the page is dark. In a notebook it is an image
with alternative text, and JupyterLab's theme, which the image cannot see, is told to it by ``color-scheme``.
"""

from __future__ import annotations

from functools import cache
from html import escape
from urllib.parse import quote

from .style import THEMES

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
