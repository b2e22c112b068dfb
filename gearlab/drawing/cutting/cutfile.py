"""A cut file: paths by layer in true size, written as SVG or DXF."""

from __future__ import annotations

import io
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from html import escape
from types import MappingProxyType

import numpy as np

from gearlab.care import line
from gearlab.digits import placed_text

from .lettering import Words, letters

#: Layers in the order in which a cutter takes them: what falls out first, then the part itself; marks are not
#: cut through.
LAYERS = ("mark", "hole", "outline")

#: Colours of the layers where none are given: told apart by hue and by lightness, on light and dark screens.
COLOURS: Mapping[str, str] = MappingProxyType({"mark": "#3f9c8a", "hole": "#c8662b", "outline": "#7d6fd0"})

#: Largest distance of a path from the exact curve where none is given [unit].
TOLERANCE = {"mm": 0.005, "in": 0.0002}

#: What stands in every file.
CARE = line("cutting", "printing", "turning", "powering")


@dataclass(frozen=True)
class Path:
    """A path: points (n, 2), closed or open, on a layer [unit of the file]."""

    points: np.ndarray
    layer: str
    closed: bool = True


@dataclass(frozen=True)
class Round:
    """A full circle on a layer [unit of the file]."""

    centre: tuple[float, float]
    radius: float
    layer: str


@dataclass(frozen=True)
class CutFile:
    """Paths for one part, in true size.

    name: of the part; unit: "mm" or "in".
    paths, rounds, words: what is followed, by layer [unit].
    note: what has been taken into account.
    tolerance: largest distance of a path from the exact curve [unit].
    verdict: what the review of its design says; care: a line of it.
    colours: of the layers, such as "#3f9c8a".
    """

    name: str
    unit: str
    paths: tuple[Path, ...]
    rounds: tuple[Round, ...] = ()
    words: tuple[Words, ...] = ()
    note: str = ""
    tolerance: float = 0.005
    verdict: str = "not reviewed: a part by itself"
    care: str = CARE
    colours: Mapping[str, str] = field(default_factory=lambda: COLOURS)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top [unit]."""
        points = np.vstack(
            [path.points for path in self.paths]
            + [
                np.asarray(round_cut.centre) + round_cut.radius * np.array([[-1, -1], [1, 1]])
                for round_cut in self.rounds
            ]
        )
        return (*points.min(axis=0).tolist(), *points.max(axis=0).tolist())

    @cached_property
    def lettering(self) -> tuple[Path, ...]:
        """The words as closed paths on the layer of marks [unit]."""
        return tuple(
            Path(line, "mark") for words in self.words for line in letters(words, 2 * self.tolerance)
        )

    def with_colours(self, colours: Mapping[str, str]) -> CutFile:
        """The same file with other colours for some layers, each "#rrggbb"; ValueError for anything else.

        >>> CutFile("plate", "mm", ()).with_colours({"hole": "#aa0000"}).colours["hole"]
        '#aa0000'
        """
        for layer, colour in colours.items():
            if layer not in LAYERS:
                raise ValueError(
                    f"layer {layer!r} of a colour is not known: give one of {', '.join(LAYERS)}, such as"
                    " mark=#3f9c8a"
                )
            if not re.fullmatch("#[0-9a-fA-F]{6}", colour):
                raise ValueError(
                    f"colour {colour!r} of the layer {layer} cannot be read: give # and six hexadecimal"
                    f" digits, such as {COLOURS[layer]}"
                )
        return replace(self, colours=MappingProxyType({**self.colours, **colours}))

    def svg(self) -> str:
        """The file as SVG text, in true size: its width and height carry the unit."""
        return _svg(self)

    def dxf(self) -> str:
        """The file as DXF text (R2010), its unit stated in the header; one layer a role."""
        return _dxf(self)


def path_tolerance(tolerance: float | None, unit: str) -> float:
    """The tolerance of points, or the usual one where none is given [unit]; ValueError for one that is none.

    >>> path_tolerance(None, "mm"), path_tolerance(0.02, "mm")
    (0.005, 0.02)
    """
    if tolerance is None:
        return TOLERANCE[unit]
    if not (math.isfinite(tolerance) and tolerance > 0):
        raise ValueError(
            f"tolerance {tolerance:g} {unit} is out of range: give the largest distance of a path from the"
            f" exact curve, above 0; {TOLERANCE[unit]:g} {unit} is usual here"
        )
    return float(tolerance)


def _number(value: float) -> str:
    return placed_text(value, 5)


def _steps(points: np.ndarray, closed: bool) -> str:
    steps = " ".join(f"{_number(x)},{_number(-y)}" for x, y in points)
    return f"M {steps}{' Z' if closed else ''}"


def _svg(cut: CutFile) -> str:
    x0, y0, x1, y1 = cut.bounds
    hair = 0.01 * max(x1 - x0, y1 - y0) / 10
    left, top, width, height = x0 - hair, -y1 - hair, x1 - x0 + 2 * hair, y1 - y0 + 2 * hair
    lines = [
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{_number(width)}{cut.unit}"'
            f' height="{_number(height)}{cut.unit}" viewBox="{_number(left)} {_number(top)} {_number(width)}'
            f' {_number(height)}">'
        ),
        f"<title>{escape(cut.name)}</title>",
        f"<desc>{escape(cut.note)}. Review: {escape(cut.verdict)}. {escape(cut.care)}</desc>",
    ]
    for layer in LAYERS:
        lines.append(
            f'<g id="{layer}" fill="none" stroke="{cut.colours[layer]}" stroke-width="{_number(hair)}">'
        )
        lines += [
            f'<path d="{_steps(path.points, path.closed)}"/>' for path in cut.paths if path.layer == layer
        ]
        lines += [
            f'<circle cx="{_number(round_cut.centre[0])}" cy="{_number(-round_cut.centre[1])}"'
            f' r="{_number(round_cut.radius)}"/>'
            for round_cut in cut.rounds
            if round_cut.layer == layer
        ]
        if layer == "mark":
            for words in cut.words:
                outlines = (_steps(line, True) for line in letters(words, 2 * cut.tolerance))
                lines.append(f'<path aria-label="{escape(words.text)}" d="{" ".join(outlines)}"/>')
        lines.append("</g>")
    return "\n".join(lines) + "\n</svg>\n"


def _dxf(cut: CutFile) -> str:
    import ezdxf

    before = ezdxf.options.write_fixed_meta_data_for_testing
    # no date and no new ids: the same part gives the same bytes
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        return _dxf_document(cut, ezdxf)
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _dxf_document(cut: CutFile, ezdxf) -> str:
    document = ezdxf.new("R2010", units={"mm": ezdxf.units.MM, "in": ezdxf.units.IN}[cut.unit])
    document.header["$MEASUREMENT"] = 1 if cut.unit == "mm" else 0
    for name in LAYERS:
        red, green, blue = (int(cut.colours[name][k : k + 2], 16) for k in (1, 3, 5))
        layer = document.layers.add(name, color=_index_colour((red, green, blue), ezdxf))
        layer.rgb = (red, green, blue)
    space = document.modelspace()
    for path in (*cut.paths, *cut.lettering):
        space.add_lwpolyline(
            [tuple(point) for point in path.points.tolist()],
            close=path.closed,
            dxfattribs={"layer": path.layer},
        )
    for round_cut in cut.rounds:
        space.add_circle(round_cut.centre, round_cut.radius, dxfattribs={"layer": round_cut.layer})
    for word, text in (
        ("part", cut.name),
        ("note", cut.note),
        ("verdict", cut.verdict),
        ("care", cut.care),
    ):
        document.header.custom_vars.append(word, text)
    # else they come in the order of a set, which another process has otherwise
    for kind in sorted(document.entitydb.dxf_types_in_use()):
        document.classes.add_class(kind)
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue()


def _index_colour(wanted: tuple[int, int, int], ezdxf) -> int:
    """The nearest of the numbered colours, for readers that know no others; never 0 and 7, which change with
    the background.
    """

    def far(number: int) -> int:
        return sum((ours - theirs) ** 2 for ours, theirs in zip(ezdxf.colors.aci2rgb(number), wanted))

    return min((number for number in range(1, 256) if number != 7), key=far)
