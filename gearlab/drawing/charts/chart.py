"""What all charts share.

A matplotlib figure that shows itself in a notebook and says in a sentence what it shows.
"""

from __future__ import annotations

import base64
import io
from typing import Any

from matplotlib import rc_context
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from .. import style
from ..scene import still_html


class Chart(Figure):
    """A figure with a sentence of alternative text; it needs no pyplot and no magic to be seen.

    size: width and height [points of the picture].
    theme: "light" or "dark".
    ValueError if the theme is not known or there is no sentence.

    >>> Chart("A line that falls from 2 to 1.", size=(300.0, 200.0))
    Chart('A line that falls from 2 to 1.')
    """

    def __init__(self, text: str, *, size: tuple[float, float] = (760.0, 480.0), theme: str = "light"):
        if not text.strip():
            raise ValueError(
                "a chart needs a sentence of alternative text: give text with the numbers it shows"
            )
        super().__init__(
            figsize=(size[0] / 96, size[1] / 96),
            facecolor=style.colour("paper", "", theme),
            layout="constrained",
        )
        FigureCanvasAgg(self)
        self.theme = theme
        self.text = text  # type: ignore[method-assign, assignment]  # a figure's own way to write is not used

    def colour(self, name: str) -> str:
        """A colour of the theme by its name in ``style.THEMES``, as #rrggbb."""
        return style.colour(name, "", self.theme)

    def box(self, pad: float = 1.5) -> dict[str, Any]:
        """A plain ground for words that lie on lines [points]."""
        return {"facecolor": self.colour("paper"), "edgecolor": "none", "pad": pad}

    def dress(self, ax: Axes) -> None:
        """Give axes the colours and type of the theme; no frame but the two scales."""
        ink, muted = self.colour("ink"), self.colour("muted")
        ax.set_facecolor(self.colour("paper"))
        ax.tick_params(colors=muted, labelsize=10)
        for side in ("top", "right"):
            ax.spines[side].set_visible(False)
        for side in ("bottom", "left"):
            ax.spines[side].set_color(muted)
        ax.xaxis.label.set(color=ink, fontsize=11)
        ax.yaxis.label.set(color=ink, fontsize=11)
        ax.grid(color=self.colour("faint"), alpha=0.35, linewidth=0.6)
        ax.set_axisbelow(True)

    def png(self, scale: float = 2.0) -> bytes:
        """The chart as a PNG file, ``scale`` pixels to a point of the picture [-]."""
        buffer = io.BytesIO()
        self.savefig(buffer, dpi=96 * scale, facecolor=self.get_facecolor(), metadata={"Software": None})
        return buffer.getvalue()

    def svg(self) -> str:
        """The chart as SVG text, the same on every machine; its words stay words."""
        buffer = io.StringIO()
        with rc_context({"svg.fonttype": "none", "svg.hashsalt": "gearlab", "font.family": "sans-serif"}):
            self.savefig(buffer, format="svg", metadata={"Date": None, "Creator": None})
        text = buffer.getvalue()
        return text[text.index("<svg") :]

    def __repr__(self) -> str:
        return f"Chart({self.text!r})"

    def _repr_mimebundle_(self, **_):
        picture = base64.b64encode(self.png()).decode()
        width = int(self.get_figwidth() * 96)
        kinds = {"image/png": picture, "text/plain": repr(self)}
        if (
            self.theme == "light"
        ):  # drawn in light colours it follows the page; a theme that is asked for stays
            kinds["text/html"] = still_html(self.svg(), str(self.text), width)
        return kinds, {"image/png": {"alt": self.text, "width": width}}
