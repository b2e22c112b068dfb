"""A scene as SVG text: a picture on its own, or the inside of a living one.

Both come from the same walk over the shapes. A picture on its own carries its looks with it as plain
attributes (no style sheet that could leak into a page, no script). A living one carries class names,
one tooth of each gear and the motions, and the page repeats and turns them.
"""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from collections.abc import Callable
from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from . import style
from .motion import Carry, Press, Round, Slide, Swing, Turn
from .shapes import Arc, Circle, Dimension, Dot, Label, Line, Outline, Strokes, Teeth


def attributes(motion: Turn | Round | Slide | Carry | Swing | Press, fmt: Callable[[float], str]) -> str:
    """Class and data attributes of the group that moves; ``fmt`` writes a coordinate."""

    def numbers(*values: float) -> str:
        return (
            '"'
            + " ".join(fmt(value) if math.isfinite(value) else ("-1e9", "1e9")[value > 0] for value in values)
            + '"'
        )

    if isinstance(motion, Slide):
        return 'class="gl-slides" data-slide=' + numbers(
            *motion.direction, motion.per_degree, motion.period, motion.low, motion.high
        )
    if isinstance(motion, Round):
        return 'class="gl-rounds" data-round=' + numbers(
            *motion.about,
            *motion.direction,
            motion.speed,
            motion.angle,
            *(value for corner in motion.corners for value in corner),
        )
    if isinstance(motion, (Carry, Swing, Press)):
        handle = f"data-handle={quoteattr(motion.name)} data-ring={numbers(motion.radius, *motion.centre)}"
        if isinstance(motion, Press):
            return (
                f'class="gl-pressed" data-press={quoteattr(motion.control)} {handle}'
                f' data-values="{" ".join(map(str, motion.values))}"'
            )
        way = (
            (*motion.direction, motion.per)
            if isinstance(motion, Carry)
            else (*motion.about, motion.circle, motion.sense)
        )
        return (
            f'class="gl-carried" data-control={quoteattr(motion.control)} {handle}'
            f" data-{type(motion).__name__.lower()}={numbers(*way)}"
        )
    carried = () if motion.around is None else (*motion.around, motion.orbit)
    named = f" data-name={quoteattr(motion.name)}" if motion.name else ""
    named += "" if motion.plane is None else f' data-plane="{motion.plane}"'
    return (
        'class="gl-turns"'
        f" data-turn={numbers(*motion.about, motion.speed, motion.pitch, motion.radius, *carried)}{named}"
    )


if TYPE_CHECKING:
    from .scene import Scene

HEAD = (10.0, 3.4)  # length and half width of an arrow head [points]
TYPE_WIDTH = 0.56  # mean width of a letter, in heights of type; used to see whether words fit
LEADING = 1.2  # from line to line of words, in heights of type


def svg(scene: Scene, theme: str = "light", width: float | None = None) -> str:
    """A scene as a complete SVG picture, crisp at any size.

    theme: "light" or "dark".
    width: width of the picture [points of the picture]; the scene's own if left out.
    Returns SVG text whose title is the scene's sentence, lengths in ``scene.unit`` [in or mm].
    ValueError if the theme is not known.

    >>> from gearlab.drawing.scene import Scene
    >>> from gearlab.drawing.shapes import Circle
    >>> svg(Scene((Circle((0, 0), 5.0, "hole"),), "A hole of 10 mm."))[:48]
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox='
    """
    return _Still(scene, theme, scene.width if width is None else width).picture()


def living_svg(scene: Scene) -> str:
    """A scene for the living widget: class names, one tooth of each gear, motions as data attributes."""
    return _Living(scene).picture()


def fmt(value: float) -> str:
    """A coordinate: seven figures, no negative zero, no needless noughts (the same on every machine)."""
    text = f"{float(value):.7g}"
    return "0" if text in ("-0", "0") or abs(float(value)) < 1e-9 else text


def path_data(points: np.ndarray, closed: bool) -> str:
    """Points as path data, y downwards."""
    flat = (np.asarray(points, float) * (1.0, -1.0) + 0.0).ravel().tolist()
    text = ("%.7g,%.7g " * (len(flat) // 2)) % tuple(flat)
    return "M" + text.rstrip() + ("Z" if closed else "")


class _Writer(ABC):
    """Walks over a scene; subclasses say how looks and places are written."""

    scale: float  # points of the picture per unit of the scene

    def __init__(self, scene: Scene):
        self.scene = scene

    # written by the subclasses
    @abstractmethod
    def look(self, role: str, of: str) -> str: ...
    @abstractmethod
    def words(self, role: str, of: str, size: str) -> str: ...
    @abstractmethod
    def place(self, at, turn: float = 0.0) -> str: ...
    @abstractmethod
    def group(self, motion, inside: str) -> str: ...
    @abstractmethod
    def teeth(self, shape: Teeth) -> str: ...
    @abstractmethod
    def fits(self, room: float, width: float) -> str | None: ...

    def body(self) -> str:
        out = []
        for motion, shapes in groupby(self.scene.shapes, key=lambda shape: shape.motion):
            inside = "".join(self.shape(shape) for shape in shapes)
            out.append(inside if motion is None else self.group(motion, inside))
        return "".join(out)

    def shape(self, shape) -> str:
        of = _owner(shape)
        if isinstance(shape, Teeth):
            return self.teeth(shape)
        look = self.look(shape.role, of)
        if isinstance(shape, Outline):
            return f'<path {look} d="{path_data(shape.points, shape.closed)}"/>'
        if isinstance(shape, Strokes):
            # a few strokes to a path: a browser draws in tiles, and skips the paths that miss a tile
            flat = (shape.points * (1.0, -1.0) + 0.0).reshape(len(shape.points), -1).tolist()
            line = "M" + " ".join(["%.7g,%.7g"] * shape.points.shape[1])
            lines = [line % tuple(ends) for ends in flat]
            return "".join(f'<path {look} d="{"".join(lines[i : i + 8])}"/>' for i in range(0, len(lines), 8))
        if isinstance(shape, Circle):
            return (
                f'<circle {look} cx="{fmt(shape.centre[0])}" cy="{fmt(-shape.centre[1])}"'
                f' r="{fmt(shape.radius)}"/>'
            )
        if isinstance(shape, Line):
            return self.line(look, shape.start, shape.end)
        if isinstance(shape, Arc):
            return self.arc(shape, look, of)
        if isinstance(shape, Dot):
            return self.dot(shape, look)
        if isinstance(shape, Label):
            return self.label(shape, of)
        return self.dimension(shape, look, of)

    def line(self, look: str, start, end) -> str:
        return (
            f'<line {look} x1="{fmt(start[0])}" y1="{fmt(-start[1])}" x2="{fmt(end[0])}"'
            f' y2="{fmt(-end[1])}"/>'
        )

    def head(self, role: str, of: str, at, angle: float, scale: float = 1.0) -> str:
        """An arrow head whose tip stands at ``at`` and points along ``angle`` [deg]."""
        long, half = HEAD[0] * scale, HEAD[1] * scale
        return (
            f"<g {self.place(at, angle)}><path {self.filled(role, of)} "
            f'd="M0,0L{fmt(-long)},{fmt(half)}L{fmt(-long)},{fmt(-half)}Z"/></g>'
        )

    @abstractmethod
    def filled(self, role: str, of: str) -> str: ...

    def arc(self, shape: Arc, look: str, of: str) -> str:
        sweep = shape.end - shape.start
        start = _on_circle(shape.centre, shape.radius, shape.start)
        end = _on_circle(shape.centre, shape.radius, shape.end)
        large = 1 if abs(sweep) > 180 else 0
        path = (
            f"<path {look} "
            f'd="M{fmt(start[0])},{fmt(-start[1])}A{fmt(shape.radius)},{fmt(shape.radius)} 0 {large} '
            f'{0 if sweep > 0 else 1} {fmt(end[0])},{fmt(-end[1])}"/>'
        )
        if not shape.head:
            return path
        forward = 90.0 if sweep > 0 else -90.0
        # the head lies on the chord of the arc that it covers, its tip a little beyond the end
        ahead = math.degrees(HEAD[0] * 0.8 / self.scale / shape.radius) * (1 if sweep > 0 else -1)
        tip = _on_circle(shape.centre, shape.radius, shape.end + ahead)
        return path + self.head(shape.role, of, tip, shape.end + ahead / 2 + forward, 1.5)

    def dot(self, shape: Dot, look: str) -> str:
        if shape.role == "centre":
            inside = f'<path {look} {self.fixed("centre")} d="M-7,0H7M0,-7V7"/>'
        else:
            inside = f'<circle {look} {self.fixed(shape.role)} r="5"/>'
        return f"<g {self.place(shape.at)}>{inside}</g>"

    @abstractmethod
    def fixed(self, role: str) -> str: ...

    def label(self, shape: Label, of: str) -> str:
        size = style.TYPE[shape.size]
        lines = shape.text.split("\n")
        fits = self.fits(shape.room, max(map(len, lines)) * size * TYPE_WIDTH)
        if fits is None:
            return ""
        words = self.words(shape.role, of, shape.size)
        first = 0.35 * size - shape.offset[1] - LEADING * size * (len(lines) - 1) / 2
        texts = "".join(
            f'<text {words} text-anchor="{shape.align}" x="{fmt(shape.offset[0])}" '
            f'y="{fmt(first + i * LEADING * size)}">{_with_lowered(line, size)}</text>'
            for i, line in enumerate(lines)
        )
        return f"<g {self.place(shape.at)}{fits}>{texts}</g>"

    def dimension(self, shape: Dimension, look: str, of: str) -> str:
        lines, heads, label = dimension_parts(shape, self.scale, of)
        out = [
            self.line(look if role == shape.role else self.look(role, of), start, end)
            for start, end, role in lines
        ]
        out += [self.head(shape.role, of, tip, angle) for tip, angle in heads]
        return "".join(out) + self.label(label, of)


class _Still(_Writer):
    """Plain attributes, everything at one scale."""

    def __init__(self, scene: Scene, theme: str, width: float):
        super().__init__(scene)
        style.colour("ink", "", theme)  # raises for a theme that is not known
        self.theme, self.width = theme, width
        x0, y0, x1, y1 = scene.bounds
        top, right, bottom, left = scene.margin
        self.scale = (width - left - right) / (x1 - x0)
        self.unit = 1 / self.scale
        self.box = (
            x0 - left * self.unit,
            -y1 - top * self.unit,
            width * self.unit,
            (y1 - y0) + (top + bottom) * self.unit,
        )

    def picture(self) -> str:
        x, y, w, h = self.box
        paper = style.THEMES[self.theme]["paper"]
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{fmt(x)} {fmt(y)} {fmt(w)} {fmt(h)}" '
            f'width="{fmt(self.width)}" height="{fmt(h * self.scale)}" role="img" font-family="{style.FONT}" '
            f'aria-label={quoteattr(self.scene.text)} stroke-linejoin="round" stroke-linecap="butt">'
            f"<title>{escape(self.scene.text)}</title>"
            f'<rect x="{fmt(x)}" y="{fmt(y)}" width="{fmt(w)}" height="{fmt(h)}" fill="{paper}"/>'
            f"{self.body()}</svg>"
        )

    def look(self, role: str, of: str, scale: float | None = None) -> str:
        look, unit = style.LOOKS[role], self.unit if scale is None else scale
        line = style.colour(look.line, of, self.theme) if look.line else "none"
        fill = style.colour(look.fill, of, self.theme) if look.fill else "none"
        out = f'fill="{fill}" stroke="{line}" stroke-width="{fmt(look.width * unit)}"'
        if look.dash:
            out += f' stroke-dasharray="{" ".join(fmt(d * unit) for d in look.dash)}"'
        if look.opacity != 1:
            out += f' stroke-opacity="{look.opacity}"'
        return out

    def filled(self, role: str, of: str) -> str:
        return f'fill="{style.colour(style.LOOKS[role].line, of, self.theme)}"'

    def fixed(self, role: str) -> str:
        return ""

    def dot(self, shape: Dot, look: str) -> str:
        return super().dot(shape, self.look(shape.role, shape.of, 1.0))

    def words(self, role: str, of: str, size: str) -> str:
        look = style.LOOKS[role]
        return (
            f'font-size="{fmt(style.TYPE[size])}" font-weight="{look.weight}" '
            f'fill="{style.colour(look.text, of, self.theme)}"'
            + (
                f' stroke="{style.colour(look.halo, of, self.theme)}" stroke-width="4" paint-order="stroke"'
                if look.halo
                else ""
            )
        )

    def place(self, at, turn: float = 0.0) -> str:
        turning = f" rotate({fmt(-turn)})" if turn else ""
        return f'transform="translate({fmt(at[0])} {fmt(-at[1])}){turning} scale({fmt(self.unit)})"'

    def group(self, motion, inside: str) -> str:
        return "" if isinstance(motion, Round) and motion.hidden else f"<g>{inside}</g>"

    def teeth(self, shape: Teeth) -> str:
        return f'<path {self.look(shape.role, _owner(shape))} d="{path_data(shape.points()[:-1], True)}"/>'

    def fits(self, room: float, width: float) -> str | None:
        return "" if width <= room * self.scale else None


class _Living(_Writer):
    """Class names and data attributes; the page knows the scale and sets it as ``--u``."""

    def __init__(self, scene: Scene):
        super().__init__(scene)
        self.scale = scene.points_per_unit

    def picture(self) -> str:
        scene = self.scene
        focus = f' data-focus="{" ".join(fmt(v) for v in scene.focus)}"' if scene.focus else ""
        focus += f' data-limits="{" ".join(fmt(v) for v in scene.limits)}"' if scene.limits else ""
        return (
            '<svg xmlns="http://www.w3.org/2000/svg" class="gl-picture" role="group" '
            f'data-bounds="{" ".join(fmt(v) for v in scene.bounds)}" '
            f'data-margin="{" ".join(fmt(v) for v in scene.margin)}"{focus} '
            f"aria-label={quoteattr(scene.text)}>{self.body()}</svg>"
        )

    def look(self, role: str, of: str) -> str:
        return _class_names(role, of)

    def filled(self, role: str, of: str) -> str:
        line = style.named(style.LOOKS[role].line, of)
        return f'class="head" style="fill:var({style.key(line)})"'

    def fixed(self, role: str) -> str:
        return f'style="stroke-width:calc({style.LOOKS[role].width}px*1);stroke-dasharray:none"'

    def words(self, role: str, of: str, size: str) -> str:
        return _class_names(role, of, f"t-{size}")

    def place(self, at, turn: float = 0.0) -> str:
        turning = f" rotate({fmt(-turn)}deg)" if turn else ""
        return (
            f'class="pt" style="transform:translate({fmt(at[0])}px,{fmt(-at[1])}px){turning}'
            ' scale(calc(var(--u)*var(--type)))"'
        )

    def group(self, motion, inside: str) -> str:
        return f"<g {attributes(motion, fmt)}>{inside}</g>"

    def teeth(self, shape: Teeth) -> str:
        flat = (shape.tooth * (1.0, -1.0) + 0.0).ravel().tolist()
        tooth = ("%.6g " * len(flat)) % tuple(flat)
        return (
            f'<path {self.look(shape.role, _owner(shape))} data-tooth="{tooth.rstrip()}"'
            f' data-count="{shape.count}" transform="translate({fmt(shape.centre[0])}'
            f' {fmt(-shape.centre[1])}) rotate({fmt(-shape.angle)})"/>'
        )

    def fits(self, room: float, width: float) -> str | None:
        return f' data-fits="{fmt(room)} {fmt(width)}"' if math.isfinite(room) else ""


_OPEN, _SHUT = "\u27e8", "\u27e9"  # around what a symbol has lower than its letter


def lowered(text: str) -> str:
    """What a symbol has lower than its letter, marked for the drawing: r and b1 for the base radius.

    >>> len(lowered("b1"))
    4
    """
    return f"{_OPEN}{text}{_SHUT}"


def _with_lowered(line: str, size: float) -> str:
    """A line of words as SVG, lowered parts smaller and lower."""
    text = escape(line)
    if _OPEN not in text:
        return text
    down = fmt(0.28 * size)
    return text.replace(_OPEN, f'<tspan dy="{down}" font-size="{fmt(0.72 * size)}">').replace(
        _SHUT, f'</tspan><tspan dy="-{down}">\u200b</tspan>'
    )


@lru_cache(maxsize=256)
def _class_names(role: str, of: str, *more: str) -> str:
    return 'class="' + " ".join(filter(None, [style.css_class(role), f"of-{of}" if of else "", *more])) + '"'


def _owner(shape) -> str:
    """The gear whose colours a shape takes: named beside its role, or the role itself."""
    return shape.of or (shape.role if shape.role in ("driver", "driven", "gear") else "")


def _on_circle(centre, radius: float, angle: float):
    return (
        centre[0] + radius * math.cos(math.radians(angle)),
        centre[1] + radius * math.sin(math.radians(angle)),
    )


def dimension_parts(shape: Dimension, scale: float, of: str = ""):
    """A dimension taken apart: lines (start, end, role), heads (tip, direction [deg]) and its words.

    ``scale`` [points of the picture per unit] decides whether the heads stand inside or outside.
    """
    first, last, normal = shape.line()
    along = last - first
    length = math.hypot(*along)
    angle = math.degrees(math.atan2(along[1], along[0]))
    along = along / length
    lines = []
    if shape.offset:
        gap, over = (math.copysign(d / scale, shape.offset) * normal for d in (3.0, 6.0))
        lines += [
            (np.asarray(shape.start) + gap, first + over, "construction"),
            (np.asarray(shape.end) + gap, last + over, "construction"),
        ]
    inside = length * scale > 3.2 * HEAD[0]
    reach = 0.0 if inside else 2.2 * HEAD[0] / scale
    lines.append((first - reach * along, last + reach * along, shape.role))
    heads = [(first, angle + (180 if inside else 0)), (last, angle + (0 if inside else 180))]
    if shape.text_at:
        at = (last if shape.text_at > 0 else first) + shape.text_at * reach * along
        rightward = shape.text_at * along[0]
        if abs(rightward) > 0.7:
            offset, align = (math.copysign(8.0, rightward), 0.0), "start" if rightward > 0 else "end"
        else:
            away = 12.0 + 0.5 * LEADING * style.TYPE["normal"] * shape.text.count("\n")
            offset, align = (0.0, math.copysign(away, shape.text_at * along[1])), "middle"
    elif abs(along[1]) < 0.5:
        at, offset, align = (first + last) / 2, (0.0, 11.0), "middle"
    else:
        at, offset, align = (first + last) / 2, (-9.0, 0.0), "end"
    return lines, heads, Label(tuple(at), shape.text, offset, align, "normal", shape.role, of)
