"""The still form of a widget: an output of its own before it, for a notebook opened without its kernel.

It is hidden while the widget lives (each page script sees to that) and follows what the reader does: what
stands in the
saved notebook tomorrow is what was on the screen today. Where the widget's Python half is gone, JupyterLab
says "model not
found" in its place; a rule that comes with the still form takes that line away, and nothing else.
"""

from __future__ import annotations

from collections.abc import Mapping

from IPython.display import publish_display_data

MARK = "gearlab-still"
#: Hides the output behind a still form while nothing lives in it: then it holds a line of text and no
#: element. A picture
#: cannot bring a rule along (JupyterLab shows it as an image), so the boxes of the notebook bring it for the
#: pictures too.
QUIET = (
    f'<style class="{MARK}">.jp-OutputArea-child:has(.{MARK}, img[src*="{MARK}"]) + .jp-OutputArea-child:has('
    "> .jupyter-widgets.jp-OutputArea-output):not(:has(.jp-OutputArea-output > *)) { display: none }</style>"
)


def show(still: Mapping[str, str], place: str, metadata: Mapping | None = None, again: bool = False) -> None:
    """Put the still form out, or change what stands there.

    still: by kind of content, "text/plain" among them.
    place: what the output is called; the same name is changed by ``again``.
    """
    publish_display_data(dict(still), dict(metadata or {}), transient={"display_id": place}, update=again)


def in_picture(svg: str) -> str:
    """The same picture, marked as a still form.

    >>> in_picture("<svg><g/></svg>")
    '<svg><g/><!--gearlab-still--></svg>'
    """
    head, end, tail = svg.rpartition("</svg>")
    return f"{head}<!--{MARK}-->{end}{tail}"
