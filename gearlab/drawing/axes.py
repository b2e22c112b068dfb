"""A scene on matplotlib Axes: for PNG and PDF, and beside charts.

matplotlib is loaded when something is drawn, not before.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from . import style
from .motion import Round
from .scene import Scene
from .shapes import Arc, Circle, Dimension, Dot, Label, Line, Outline, Strokes, Teeth, points_turned
from .svg import LEADING, TYPE_WIDTH, dimension_parts

POINT = 0.75  # points of type to one point of the picture (1/96 in to 1/72 in)


def draw(scene: Scene, ax=None, theme: str = "light"):
    """Draw a scene in true proportions.

    ax: left out, a new figure of the scene's own size is made (no pyplot, no window).
    theme: "light" or "dark".
    Returns the axes: equal scales, lengths in ``scene.unit`` [in or mm], no frame.
    ValueError if the theme is not known.

    >>> from gearlab.drawing.scene import Scene
    >>> from gearlab.drawing.shapes import Circle
    >>> ax = draw(Scene((Circle((0, 0), 5.0, "hole"),), "A hole of 10 mm.", margin=(0, 0, 0, 0)))
    >>> [round(float(x), 6) for x in ax.get_xlim()]
    [-5.0, 5.0]
    """
    x0, y0, x1, y1 = scene.bounds
    top, right, bottom, left = scene.margin
    own = 1 / scene.points_per_unit
    if ax is None:
        from matplotlib.backends.backend_agg import FigureCanvasAgg
        from matplotlib.figure import Figure

        height = (y1 - y0) / own + top + bottom
        figure = Figure(figsize=(scene.width / 96, height / 96), facecolor=style.THEMES[theme]["paper"])
        FigureCanvasAgg(figure)
        ax = figure.add_axes((0, 0, 1, 1))
    ax.set_xlim(x0 - left * own, x1 + right * own)
    ax.set_ylim(y0 - bottom * own, y1 + top * own)
    ax.set_aspect("equal")
    ax.set_axis_off()
    pen = _Pen(ax, theme, own)
    for shape in scene.shapes:
        if not (isinstance(shape.motion, Round) and shape.motion.hidden):
            pen.shape(shape)
    return ax


def png(scene: Scene, theme: str = "light", scale: float = 2.0) -> bytes:
    """A scene as a PNG picture.

    theme: "light" or "dark".
    scale: pixels to a point of the picture [-].
    """
    import io

    buffer = io.BytesIO()
    ax = draw(scene, theme=theme)
    ax.figure.savefig(
        buffer, dpi=96 * scale, facecolor=ax.figure.get_facecolor(), metadata={"Software": None}
    )
    return buffer.getvalue()


class _Pen:
    # Patches are added as artists: ``add_patch`` would work out how far each reaches, for limits that are set
    # already, and that is half the time of a page.
    def __init__(self, ax, theme: str, own: float):
        self.ax, self.theme, self.own = ax, theme, own

    def look(self, role: str, of: str) -> dict[str, Any]:
        look = style.LOOKS[role]
        out: dict[str, Any] = {"linewidth": look.width * POINT, "zorder": 2}
        if look.dash:
            out["linestyle"] = (0, tuple(d / look.width for d in look.dash))
        out["edgecolor"] = style.colour(look.line, of, self.theme) if look.line else "none"
        out["facecolor"] = style.colour(look.fill, of, self.theme) if look.fill else "none"
        if look.opacity != 1:
            out["alpha"] = look.opacity
        return out

    def add(self, points, role: str, of: str, closed: bool) -> None:
        from matplotlib.patches import Polygon

        self.ax.add_artist(Polygon(points, closed=closed, joinstyle="round", **self.look(role, of)))

    def shape(self, shape) -> None:
        of = shape.of or (shape.role if shape.role in ("driver", "driven", "gear") else "")
        if isinstance(shape, Teeth):
            self.add(shape.points()[:-1], shape.role, of, True)
        elif isinstance(shape, Outline):
            self.add(shape.points, shape.role, of, shape.closed)
        elif isinstance(shape, Strokes):
            for pair in shape.points:
                self.add(pair, shape.role, of, False)
        elif isinstance(shape, Line):
            self.add(np.array([shape.start, shape.end]), shape.role, of, False)
        elif isinstance(shape, Circle):
            from matplotlib.patches import Circle as Patch

            self.ax.add_artist(Patch(shape.centre, shape.radius, **self.look(shape.role, of)))
        elif isinstance(shape, Arc):
            self.arc(shape, of)
        elif isinstance(shape, Dot):
            self.dot(shape, of)
        elif isinstance(shape, Label):
            self.label(shape, of)
        elif isinstance(shape, Dimension):
            self.dimension(shape, of)

    def arc(self, shape: Arc, of: str) -> None:
        turns = np.radians(np.linspace(shape.start, shape.end, 60))
        points = np.asarray(shape.centre) + shape.radius * np.column_stack([np.cos(turns), np.sin(turns)])
        self.add(points, shape.role, of, False)
        if shape.head:
            way = math.copysign(1.0, shape.end - shape.start)
            ahead = way * math.degrees(8 * self.own / shape.radius)
            end = math.radians(shape.end + ahead)
            tip = np.asarray(shape.centre) + shape.radius * np.array([math.cos(end), math.sin(end)])
            self.head(tip, shape.end + ahead / 2 + 90 * way, shape.role, of, 1.5)

    def head(self, tip, angle: float, role: str, of: str, scale: float = 1.0) -> None:
        from matplotlib.patches import Polygon

        long, half = 10.0 * scale * self.own, 3.4 * scale * self.own
        shape = points_turned(np.array([[0, 0], [-long, half], [-long, -half]]), angle) + tip
        self.ax.add_artist(
            Polygon(
                shape,
                closed=True,
                linewidth=0,
                zorder=2,
                facecolor=style.colour(style.LOOKS[role].line, of, self.theme),
            )
        )

    def dot(self, shape: Dot, of: str) -> None:
        from matplotlib.patches import Circle as Patch

        if shape.role == "centre":
            reach, (x, y) = 7 * self.own, shape.at
            for ends in ([(x - reach, y), (x + reach, y)], [(x, y - reach), (x, y + reach)]):
                self.add(np.array(ends), shape.role, of, False)
        else:
            self.ax.add_artist(Patch(shape.at, 5 * self.own, **self.look(shape.role, of)))

    def label(self, shape: Label, of: str) -> None:
        from matplotlib.patheffects import withStroke

        size = style.TYPE[shape.size]
        if max(map(len, shape.text.split("\n"))) * size * TYPE_WIDTH * self.own > shape.room:
            return
        look = style.LOOKS[shape.role]
        align = {"start": "left", "middle": "center", "end": "right"}[shape.align]
        text = self.ax.annotate(
            shape.text.replace("\u27e8", r"$_{\mathrm{").replace("\u27e9", "}}$"),
            shape.at,
            (shape.offset[0] * POINT, shape.offset[1] * POINT),
            textcoords="offset points",
            ha=align,
            va="center",
            linespacing=LEADING,
            fontsize=size * POINT,
            color=style.colour(look.text, of, self.theme),
            zorder=3,
            annotation_clip=False,
            parse_math=False,
            fontweight="bold" if look.weight >= 600 else "normal",
        )
        if look.halo:
            text.set_path_effects(
                [withStroke(linewidth=3, foreground=style.colour(look.halo, of, self.theme))]
            )

    def dimension(self, shape: Dimension, of: str) -> None:
        lines, heads, label = dimension_parts(shape, 1 / self.own, of)
        for start, end, role in lines:
            self.add(np.array([start, end]), role, of, False)
        for tip, angle in heads:
            self.head(tip, angle, shape.role, of)
        self.label(label, of)
