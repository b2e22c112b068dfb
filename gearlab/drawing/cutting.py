"""What a laser cutter or a printer follows.

Paths by layer, with the width of the cut already taken into account.

A beam takes away half its width on either side of its path. So the path of an outer edge lies half a width
outside the wanted edge, that of a hole half a width inside. A part that is printed grows instead: its flanks
are drawn back by a clearance. Files are made by ``dxf`` here and ``svg`` here; both state their unit.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from gearlab.digits import placed_text

from . import numerals

#: Layers in the order in which a cutter takes them: what falls out first, then the part itself; marks are not
#: cut through.
LAYERS = ("mark", "hole", "outline")

#: Width of a letter in heights of type, on the safe side: plain cutter type is about as wide as high.
LETTER = 1.0

#: Height of a capital letter in SVG type sizes; DXF measures type by its capitals.
CAPITAL = 0.72


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
class Words:
    """Words to be marked, centred at a point, with the height of their capitals [unit of the file]."""

    at: tuple[float, float]
    text: str
    height: float


@dataclass(frozen=True)
class CutFile:
    """Paths for one part, in true size.

    Parameters
    ----------
    name : str
        Name of the part.
    unit : str
        "mm" or "in".
    paths, rounds, words : tuple
        What is followed, by layer [unit].
    note : str
        What has been taken into account.
    """

    name: str
    unit: str
    paths: tuple[Path, ...]
    rounds: tuple[Round, ...] = ()
    words: tuple[Words, ...] = ()
    note: str = ""

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top [unit]."""
        points = np.vstack(
            [path.points for path in self.paths]
            + [np.asarray(one.centre) + one.radius * np.array([[-1, -1], [1, 1]]) for one in self.rounds]
        )
        return (*points.min(axis=0).tolist(), *points.max(axis=0).tolist())

    def svg(self) -> str:
        """The file as SVG text, in true size: its width and height carry the unit."""
        return _svg(self)

    def dxf(self) -> str:
        """The file as DXF text (R2010), its unit stated in the header; one layer a role."""
        return _dxf(self)


def gear_cut(
    gear,
    *,
    bore: float | None = None,
    cut_width: float = 0.0,
    clearance: float = 0.0,
    tolerance: float = 1e-4,
    name: str | None = None,
) -> CutFile:
    """The paths that cut a gear with its bore; tooth 0 carries a mark.

    Parameters
    ----------
    bore : float, optional
        Diameter of the bore, above 0 and below the root diameter; left out, a centre cross is marked instead
        [gear.unit, in or mm].
    cut_width : float
        Width that the beam takes away, from 0 up to half a tooth thickness [gear.unit].
    clearance : float
        What each flank is drawn back for a printed part, from 0 up to a quarter of a tooth thickness
        [gear.unit].
    tolerance : float
        Largest distance of the path from the exact curve [modules].
    name : str, optional
        What is marked on the part and stands in the file; left out, the gear's own name.

    Returns
    -------
    CutFile

    Raises
    ------
    ValueError
        For a value outside its limits; the message names them.

    Examples
    --------
    >>> cut = gear_cut(__import__("gearlab").Gear(18, module=2.5), bore=10.0, cut_width=0.18)
    >>> round(cut.rounds[0].radius, 6), cut.note
    (4.91, 'lengths in mm; cut width 0.18 mm taken into account')
    """
    thickness = gear.tooth_thickness
    for word, value, most in (
        ("cut_width", cut_width, thickness / 2),
        ("clearance", clearance, thickness / 4),
    ):
        if not 0 <= value <= most:
            raise ValueError(
                f"{word} {value:g} {gear.unit} is out of range: give 0 to {most:.4g} {gear.unit}; the teeth"
                f" are {thickness:.4g} {gear.unit} thick"
            )
    if bore is not None and not cut_width < bore < gear.root_diameter:
        raise ValueError(
            f"bore {bore:g} {gear.unit} is out of range: give more than the cut width {cut_width:g}"
            f" {gear.unit} and less than the root diameter {gear.root_diameter:.4g} {gear.unit}"
        )
    edge = _moved(gear.outline(tolerance)[:-1], cut_width / 2 - clearance, tolerance * gear.scale)
    tip, scale = gear.outside_diameter / 2, gear.scale
    paths = [
        Path(np.array([[tip - 1.9 * scale, 0.0], [tip - 0.6 * scale, 0.0]]), "mark", closed=False),
        Path(edge, "outline"),
    ]
    rounds, inner = [], 0.0
    if bore is None:
        reach = 0.2 * gear.root_diameter / 2
        paths[:0] = [
            Path(np.array(ends), "mark", closed=False)
            for ends in ([[-reach, 0.0], [reach, 0.0]], [[0.0, -reach], [0.0, reach]])
        ]
    else:
        inner = bore / 2
        rounds.append(Round((0.0, 0.0), (bore - cut_width) / 2 + clearance, "hole"))
    name = gear.name if name is None else name
    return CutFile(
        name,
        gear.unit,
        tuple(paths),
        tuple(rounds),
        _name_on(name, gear.root_diameter / 2, inner),
        _note(gear.unit, cut_width, clearance),
    )


def plate_cut(
    width: float, height: float, holes, unit: str, *, name: str = "plate", cut_width: float = 0.0
) -> CutFile:
    """The paths that cut a plate with its holes, its lower left corner at the origin.

    Parameters
    ----------
    width, height : float
        Size of the plate, above 0 [unit].
    holes : sequence of (x, y, diameter)
        Holes, measured from the lower left corner; each lies within the plate [unit].
    unit : str
        "mm" or "in".
    name : str
        Name of the plate.
    cut_width : float
        Width that the beam takes away, from 0 to less than the smallest hole [unit].

    Returns
    -------
    CutFile

    Raises
    ------
    ValueError
        For a hole that leaves the plate, or a cut wider than a hole.

    Examples
    --------
    >>> plate_cut(220, 160, [(53.75, 80, 10), (132.5, 80, 10)], "mm", cut_width=0.2).bounds
    (-0.1, -0.1, 220.1, 160.1)
    """
    if not (width > 0 and height > 0):
        raise ValueError(
            f"plate {width:g} x {height:g} {unit} is out of range: give a width and a height above 0"
        )
    for x, y, diameter in holes:
        if not 0 <= cut_width < diameter:
            raise ValueError(
                f"cut_width {cut_width:g} {unit} is out of range: give 0 up to less than the hole of"
                f" {diameter:g} {unit}"
            )
        if not (diameter / 2 < x < width - diameter / 2 and diameter / 2 < y < height - diameter / 2):
            raise ValueError(
                f"a hole of {diameter:g} {unit} at ({x:g}, {y:g}) {unit} breaks through the edge of a plate"
                f" of {width:g} x {height:g} {unit}: keep its centre more than {diameter / 2:g} {unit} inside"
            )
    half = cut_width / 2
    edge = np.array(
        [[-half, -half], [width + half, -half], [width + half, height + half], [-half, height + half]]
    )
    rounds = tuple(
        Round((float(x), float(y)), (diameter - cut_width) / 2, "hole") for x, y, diameter in holes
    )
    size = min(width, height) / 24
    return CutFile(
        name,
        unit,
        (Path(edge, "outline"),),
        rounds,
        (Words((width / 2, 1.2 * size), name, size),),
        _note(unit, cut_width, 0.0),
    )


def _name_on(name: str, root: float, inner: float) -> tuple[Words, ...]:
    """A name between bore and teeth, as large as fits.

    Neither the bore nor the root circle cuts through it; none where nothing fits.
    """
    room, reach = root - inner, 0.96 * root
    middle = inner + room / 2
    if middle >= reach:
        return ()
    # the lower corners are nearest to the teeth: (middle + h)^2 + (half a width of h)^2 may be as much as the
    # reach squared
    half = len(name) * LETTER / 2
    height = (math.sqrt(middle**2 + (1 + half**2) * (reach**2 - middle**2)) - middle) / (1 + half**2)
    return (Words((0.0, -middle), name, min(room / 4, root / 7, height)),)


def _note(unit: str, cut_width: float, clearance: float) -> str:
    parts = [f"lengths in {unit}"]
    if cut_width:
        parts.append(f"cut width {numerals.plain(cut_width)} {unit} taken into account")
    if clearance:
        parts.append(f"flanks drawn back by {numerals.plain(clearance)} {unit} for a printed part")
    return "; ".join(parts)


def _moved(points: np.ndarray, by: float, tolerance: float) -> np.ndarray:
    """A closed outline moved outwards (or, below 0, inwards), square to itself."""
    if by == 0:
        return points
    from shapely import Polygon

    segments = max(4, int(np.ceil(np.pi / 4 / np.arccos(max(0.0, 1 - min(1.0, tolerance / abs(by)))))))
    moved = Polygon(points).buffer(by, quad_segs=segments).simplify(tolerance / 4)
    if moved.geom_type != "Polygon" or moved.interiors:
        raise ValueError(
            f"moved inwards by {abs(by):g} the outline falls apart: the teeth are too thin for that; use"
            " larger teeth or a smaller clearance"
        )
    # shapely goes clockwise, and closes by repeating the first point
    return np.asarray(moved.exterior.coords)[-2::-1]


def _number(value: float) -> str:
    return placed_text(value, 5)


def _svg(cut: CutFile) -> str:
    from html import escape

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
        f"<desc>{escape(cut.note)}</desc>",
    ]
    for layer in LAYERS:
        lines.append(f'<g id="{layer}" fill="none" stroke="black" stroke-width="{_number(hair)}">')
        for path in cut.paths:
            if path.layer == layer:
                steps = " ".join(f"{_number(x)},{_number(-y)}" for x, y in path.points)
                lines.append(f'<path d="M {steps}{" Z" if path.closed else ""}"/>')
        for one in cut.rounds:
            if one.layer == layer:
                lines.append(
                    f'<circle cx="{_number(one.centre[0])}" cy="{_number(-one.centre[1])}"'
                    f' r="{_number(one.radius)}"/>'
                )
        if layer == "mark":
            lines += [
                f'<text x="{_number(words.at[0])}" y="{_number(-words.at[1])}" font-family="sans-serif"'
                f' font-size="{_number(words.height / CAPITAL)}" text-anchor="middle"'
                f' dominant-baseline="central">{escape(words.text)}</text>'
                for words in cut.words
            ]
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
    import io

    document = ezdxf.new("R2010", units={"mm": ezdxf.units.MM, "in": ezdxf.units.IN}[cut.unit])
    document.header["$MEASUREMENT"] = 1 if cut.unit == "mm" else 0
    for layer in LAYERS:
        document.layers.add(layer)
    space = document.modelspace()
    for path in cut.paths:
        space.add_lwpolyline(
            [tuple(point) for point in path.points.tolist()],
            close=path.closed,
            dxfattribs={"layer": path.layer},
        )
    for one in cut.rounds:
        space.add_circle(one.centre, one.radius, dxfattribs={"layer": one.layer})
    for words in cut.words:
        space.add_text(words.text, height=words.height, dxfattribs={"layer": "mark"}).set_placement(
            words.at, align=ezdxf.enums.TextEntityAlignment.MIDDLE_CENTER
        )
    document.header.custom_vars.append("part", cut.name)
    document.header.custom_vars.append("note", cut.note)
    text = io.StringIO()
    document.write(text)
    return text.getvalue()
