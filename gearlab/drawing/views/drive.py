"""A whole design: its gears on the plate, turning true, and from the side every piece on its shaft."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ...parts.alignment import aligned
from ...parts.design import Design, ShaftTable
from ...parts.made import gear_part
from .. import numerals
from ..behind import by_depth
from ..motion import Turn
from ..scene import Scene
from ..shapes import Arc, Box, Circle, Dimension, Dot, Label, Line, Outline, Shape, Strokes, Teeth, rectangle
from . import driven
from .centres import SLOPE, above_root, hatch, rim, tooth_outline
from .driven import alone, outlines

LETTER, LEAD = (
    7.0,
    20.0,
)  # of the names of the pieces of a shaft, and the line to them [points of the picture]
LINE = 15.0  # between two names [points of the picture]
LETTERS = 26.0  # from one letter to the next above a shaft [points of the picture]
BETWEEN = 30.0  # between plate and side view, and between two shafts [points of the picture]
WIDEST = 0.5  # of the length of the plate: what radii may take up from the side; beyond, gears are cut short


@dataclass(frozen=True)
class Piece:
    """A piece on a shaft, from the side: its words, lower and upper end above the plate, radius, its look."""

    words: str
    low: float
    high: float
    radius: float
    role: str


def drive(
    design: Design,
    *,
    width: float = 980.0,
    scale: float | None = None,
    marked: str = "",
    listed: bool = False,
    turning: float = 1.0,
    sides: bool = True,
) -> Scene:
    """The drive from the gear side and from the side of its shafts.

    scale: points of the picture per unit; left out, so that it has the width. marked: a gear to stand out.
    listed: whether the gears are named by their letters below the side view.
    turning: which way the arrow of the first shaft points, +1 counter-clockwise or -1 clockwise [-].
    sides: whether the shafts are shown from their side, too.
    A design without gears shows its first member; one with a gear that cannot be cut, plate and circles.
    """
    if design.plate is None or not design.gear:
        return alone(design, _sentence(design), turning=turning, width=min(width, 640.0))
    try:
        return _whole(design, width, scale, marked, listed, turning, sides)
    except ValueError as error:
        return outlines(design, _sentence(design), str(error))


def _whole(
    design: Design,
    width: float,
    scale: float | None,
    marked: str,
    listed: bool,
    turning: float,
    sides: bool,
) -> Scene:
    length = design.on_plate.length
    shafts = [shaft for shaft in design.standing if sides and design.on(shaft.name)]
    columns = [_pieces(design, shaft) for shaft in shafts]
    radii = [max(piece.radius for piece in pieces) for pieces in columns]
    cap = max(radii, default=0.0) if sum(radii) < WIDEST * length else WIDEST * length / len(radii)
    radii = [min(cap, radius) for radius in radii]
    names = [LEAD + LETTER * max(len(piece.words) for piece in pieces) for pieces in columns]
    low, high = _extent(design)
    across = high[0] - low[0] + 2 * sum(radii)
    if scale is None:
        scale = max(0.2, (width - 40 - sum(names) - len(shafts) * BETWEEN) / across)
    shapes = _front(design, scale, marked, turning)
    x = start = high[0] + BETWEEN / scale
    base = (low[1] + high[1]) / 2 - (_middle(columns) if columns else 0.0)
    for shaft, pieces, radius, room in zip(shafts, columns, radii, names):
        shapes += _side(design, shaft, pieces, (x + radius, base), radius, scale)
        x += 2 * radius + (room + BETWEEN) / scale
    lowest = low[1] - 44 / scale
    if listed:
        rows = list(driven.listed(design))
        foot = base + min(piece.low for pieces in columns for piece in pieces) - 60 / scale
        foot = min(foot, lowest + len(rows) * LINE / scale)
        for number, row in enumerate(rows):
            shapes.append(Label((start, foot - number * LINE / scale), row, align="start", size="small"))
        lowest = min(lowest, foot - len(rows) * LINE / scale)
        x = max(x, start + max(map(len, rows)) * 7.2 / scale + BETWEEN / scale)
    bounds: Box = (low[0], lowest, x - BETWEEN / scale, high[1])
    return Scene(
        tuple(shapes),
        _sentence(design),
        design.unit,
        title=design.name,
        margin=(20.0, 20.0, 14.0, 20.0),
        width=(x - BETWEEN / scale - low[0]) * scale + 40,
        bounds=bounds,
        focus=_gears(design),
        limits=driven.limits(design),
    )


def _gears(design: Design) -> tuple[float, float, float, float]:
    """The gears from the front, as the part that a close-up shows."""
    spots = [(design.shaft_of(table.name).place, _reach(design, table.name)) for table in design.gear]
    left, right = min(x - r for (x, _), r in spots), max(x + r for (x, _), r in spots)
    low, high = min(y - r for (_, y), r in spots), max(y + r for (_, y), r in spots)
    return (left + right) / 2, (low + high) / 2, 1.02 * (right - left), 1.02 * (high - low)


def _extent(design: Design) -> tuple[tuple[float, float], tuple[float, float]]:
    """Corners of what plate and gears take up, seen along the shafts."""
    left, down, right, up = 0.0, 0.0, design.on_plate.length, design.on_plate.height
    for table in design.gear:
        (x, y), radius = design.shaft_of(table.name).place, _reach(design, table.name)
        left, down = min(left, x - radius), min(down, y - radius)
        right, up = max(right, x + radius), max(up, y + radius)
    for rack in design.rack:
        _, (x0, y0, x1, y1) = driven.rack(design, rack, 0.0, 1.0)
        left, down, right, up = min(left, x0), min(down, y0), max(right, x1), max(up, y1)
    return (left, down), (right, up)


def _reach(design: Design, name: str) -> float:
    return max(body.radius for body in gear_part(design, design.of(name)).bodies)


def angles(design: Design) -> dict[str, float]:
    """Where tooth 0 of every gear stands while the first one's stands at +x, teeth in spaces [deg]."""
    turned: dict[str, float] = {}
    for _ in design.mesh:
        for pair in design.mesh:
            for first, second in (pair.gears, pair.gears[::-1]):
                gear, other = design.of(first), design.of(second)
                if second in turned or (first not in turned and turned) or gear.internal:
                    continue
                start = turned.setdefault(first, 0.0)
                line = design.line_angle(first, second)
                turned[second] = aligned(gear.teeth, other.teeth, start, line, other.internal)
    return turned


def role_of(design: Design, name: str) -> str:
    """How a gear looks: the first driver, the last driven gear, or one between."""
    if design.mesh and name == design.mesh[0].driver:
        return "driver"
    if design.mesh and name == design.mesh[-1].driven:
        return "driven"
    return "gear"


def _front(design: Design, scale: float, marked: str, turning: float) -> list[Shape]:
    length, height, unit = design.on_plate.length, design.on_plate.height, design.unit
    plate = rectangle(0, 0, length, height)
    shapes: list[Shape] = [Outline(plate, "gear", "gear")]
    stands, named = angles(design), driven.letters(design)
    order = sorted((table.name for table in design.gear), key=design.face_height)
    planes = _planes(design, order)
    for name in order:
        shapes += _gear(design, name, stands.get(name, 0.0), scale, name == marked, planes[name])
    shapes = by_depth(shapes)
    for rack in design.rack:
        shapes += driven.rack(design, rack, stands.get(rack.pinion or "", 0.0), scale)[0]
    shapes += driven.circles(design)
    for shaft in design.standing:
        shapes += [Circle(shaft.place, shaft.diameter / 2, "hole"), Dot(shaft.place, "centre")]
    for name in order:
        role, place = role_of(design, name), design.shaft_of(name).place
        beside = [other for other in order if design.of(other).shaft == design.of(name).shaft]
        off = LETTERS * (beside.index(name) - (len(beside) - 1) / 2)
        shapes.append(Label(place, named[name], (off, 18.0), size="letter", role="letter", of=role))
    for name in order:
        turn = design.turns.get(design.of(name).shaft, 0.0)
        if turn and name == _outermost(design, name):
            shapes.append(_arrow(design, name, turning * turn, scale))
    places = 2 if unit == "mm" else 4
    for pair in design.mesh:
        first, second = (design.shaft_of(name).place for name in pair.gears)
        shapes.append(Line(first, second, "line of centres"))
    low = _extent(design)[0][1]
    size = f"plate {numerals.plain(length, places)} x {numerals.plain(height, places)} {unit}"
    shapes.append(Dimension((0.0, low), (length, low), size, -24 / scale))
    return shapes


def _planes(design: Design, order: Sequence[str]) -> dict[str, int]:
    """Planes of the gears, the lower first: what is in mesh lies in one."""
    planes: dict[str, int] = {}
    for name in order:
        mates = [pair.mate_of(name) for pair in design.meshes_of(name)]
        met = [planes[mate] for mate in mates if mate in planes]
        planes[name] = met[0] if met else len(set(planes.values()))
    return planes


def _outermost(design: Design, name: str) -> str:
    """The largest gear on the same shaft: one arrow a shaft is enough."""
    mates = design.on(design.of(name).shaft)
    return max(mates, key=lambda table: table.teeth / (table.diametral_pitch or 1 / (table.module or 1))).name


def _gear(design: Design, name: str, angle: float, scale: float, marked: bool, plane: int) -> list[Shape]:
    gear, role = design.toothed[name], role_of(design, name)
    place, shaft = design.shaft_of(name).place, design.of(name).shaft
    motion = Turn(
        place,
        design.turns.get(shaft, 0.0),
        f"{driven.letters(design)[name]}, {name}, {gear.teeth} teeth",
        360 / gear.teeth,
        _reach(design, name),
        plane=plane,
    )
    shapes: list[Shape] = []
    if gear.internal:
        shapes.append(Circle(place, _reach(design, name), "outline", role, motion))
    shapes.append(
        Teeth(
            tooth_outline(gear),
            gear.teeth,
            place,
            angle,
            "outline" if gear.internal else role,
            role if gear.internal else "",
            motion,
        )
    )
    if not gear.internal:
        strokes = hatch(place, *rim(gear), SLOPE[role], 8.0 / scale)
        if len(strokes):
            shapes.append(Strokes(strokes, "hatch", role, motion=motion))
        turn = math.radians(angle)
        cos, sin = math.cos(turn), math.sin(turn)
        tooth = above_root(tooth_outline(gear), gear.root_diameter / 2)
        shapes.append(
            Outline(
                tooth @ np.array([[cos, sin], [-sin, cos]]) + np.asarray(place),
                "marked tooth",
                role,
                motion=motion,
            )
        )
    shapes.append(Circle(place, gear.pitch_diameter / 2, "pitch circle", role, motion))
    if marked:
        shapes.append(Circle(place, _reach(design, name) + 4 / scale, "clash", motion=motion))
    return shapes


def _arrow(design: Design, name: str, turn: float, scale: float) -> Shape:
    role, place = role_of(design, name), design.shaft_of(name).place
    gear, way = design.toothed[name], math.copysign(1.0, turn)
    radius = gear.pitch_diameter / 2 - 3.4 * gear.scale
    if radius * scale < 34:
        radius = _reach(design, name) + 9 / scale
    return Arc(place, radius, 90 - way * 50, 90 + way * 50, "turning arrow", role, head=True)


def _pieces(design: Design, shaft: ShaftTable) -> list[Piece]:
    """What stands on a shaft, from behind the plate to its end."""
    unit, named = design.unit, driven.letters(design)
    thick = design.on_plate.thickness

    def say(low: float, high: float) -> str:
        return numerals.size(high - low, unit)

    pieces = []
    if shaft.behind:
        words = f"collar {say(0, shaft.behind)}"
        pieces.append(Piece(words, -thick - shaft.behind, -thick, 0.9 * shaft.diameter, "gear"))
    pieces.append(Piece(f"plate {say(0, thick)}", -thick, 0.0, 1.6 * shaft.diameter, "gear"))
    for table in design.on(shaft.name):
        part, foot = gear_part(design, table), design.foot(table.name)
        if table.gap:
            words = f"washers {say(0, table.gap)}"
            pieces.append(Piece(words, foot - table.gap, foot, 0.8 * shaft.diameter, "gear"))
        for body in part.bodies:
            words = f"{body.what} of {named[table.name]} {say(body.low, body.high)}"
            role = role_of(design, table.name)
            pieces.append(Piece(words, foot + body.low, foot + body.high, body.radius, role))
    return pieces


def _middle(columns: Sequence[Sequence[Piece]]) -> float:
    ends = [end for pieces in columns for piece in pieces for end in (piece.low, piece.high)]
    return (min(ends) + max(ends)) / 2


def _side(
    design: Design,
    shaft: ShaftTable,
    pieces: Sequence[Piece],
    at: tuple[float, float],
    cap: float,
    scale: float,
) -> list[Shape]:
    """A shaft upright with its pieces, their names beside it in their order: no line crosses another."""
    x, base = at
    top = max(piece.high for piece in pieces)
    low = pieces[0].low
    length = shaft.length if shaft.length is not None else top - low + shaft.end
    half = shaft.diameter / 2
    rod = np.array(
        [
            [x - half, base + low],
            [x + half, base + low],
            [x + half, base + low + length],
            [x - half, base + low + length],
        ]
    )
    shapes: list[Shape] = []
    for piece in pieces:
        radius = min(piece.radius, cap)
        y0, y1 = base + piece.low, base + piece.high
        box = rectangle(x - radius, y0, x + radius, y1)
        shapes.append(Outline(box, piece.role, piece.role))
    shapes.append(Outline(rod, "hidden outline", "gear"))
    middles = [base + (piece.low + piece.high) / 2 for piece in pieces]
    stands = spread(middles, LINE / scale)
    column = x + cap + 16 / scale
    for piece, middle, stand in zip(pieces, middles, stands):
        edge = x + min(piece.radius, cap)
        shapes += [
            Line((edge, middle), (x + cap + 3 / scale, middle), "construction"),
            Line((x + cap + 3 / scale, middle), (column - 3 / scale, stand), "construction"),
            Label((column, stand), piece.words, align="start", size="small"),
        ]
    words = numerals.size(length, design.unit) if shaft.length is not None else "length open"
    shapes.append(Label((x, base + low), f"{shaft.name}\n{words}", (0.0, -20.0), size="small"))
    return shapes


@lru_cache(maxsize=64)
def _spread(wanted: tuple[float, ...], step: float) -> tuple[float, ...]:
    places = list(wanted)
    for _ in range(len(places)):
        for i in range(1, len(places)):
            over = step - (places[i] - places[i - 1])
            if over > 1e-12:
                places[i - 1] -= over / 2
                places[i] += over / 2
    for i in range(1, len(places)):
        places[i] = max(places[i], places[i - 1] + step)
    return tuple(places)


def spread(wanted: Sequence[float], step: float) -> list[float]:
    """Places as near as can be to the wanted ones, in order and at least a step apart.

    >>> spread([0.0, 0.1, 5.0], 1.0)
    [-0.45, 0.55, 5.0]
    """
    return [round(place, 9) for place in _spread(tuple(wanted), step)]


def _sentence(design: Design) -> str:
    members = "; ".join(driven.listed(design))
    ratio = design.ratio
    turned = (
        f" The last shaft, {design.last_shaft}, turns once for {numerals.plain(ratio, 4)} turns of"
        f" {design.first_shaft}, {'with' if design.turns[design.last_shaft or ''] > 0 else 'against'} it."
        if ratio
        else ""
    )
    seen = ", seen along its shafts and from their side" if design.gear else ""
    return f"{design.name}{seen}: {members}.{turned}"
