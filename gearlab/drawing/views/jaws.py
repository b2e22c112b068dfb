"""A gear between the jaws of a caliper: over several teeth, over the tips, over two pins."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ...parts import Gear
from .. import numerals
from ..motion import Carry
from ..scene import Scene
from ..shapes import Circle, Dimension, Dot, Line, Outline, Shape, points_turned
from .centres import SIDES, OnCentre, tooth_outline
from .gear import named

WAYS = ("span", "tips", "pins")
NEAR = 0.012  # how far from touching still counts as touching [modules]; 0.03 mm at module 2.5


@dataclass(frozen=True)
class Rest:
    """Where the jaws come to rest on a gear.

    opening: distance of the jaws [gear.unit].
    radius: how far from the gear's centre jaws or pins touch the teeth [gear.unit].
    places: the points they touch, right side first [gear.unit].
    on: "flanks", "tip corners" or "tips".
    """

    opening: float
    radius: float
    places: tuple[tuple[float, float], ...]
    on: str


def rest(gear: Gear, way: str, *, teeth: int = 3, pin_diameter: float | None = None) -> Rest:
    """Where a caliper comes to rest when it is closed.

    way: "span" over several teeth, "tips" over the whole gear, "pins" over two pins in opposite spaces.
    teeth: teeth between the jaws of a span [-].
    pin_diameter: of the pins; 1.728 modules if left out [gear.unit].
    ValueError if the jaws or pins find no place.

    >>> from gearlab.parts import Gear
    >>> place = rest(Gear(19, module=2.5), "span", teeth=3)
    >>> round(place.opening, 3), round(place.radius, 2), place.on
    (19.116, 24.28, 'flanks')
    """
    outside, base = gear.outside_diameter / 2, gear.base_diameter / 2
    if way == "span":
        low, high = span_limits(gear)
        if not low <= teeth <= high:
            raise ValueError(
                f"teeth = {teeth!r} between the jaws is out of range for {gear.teeth} teeth: give {low} to"
                f" {high}"
            )
        try:
            opening = gear.span(teeth)
        except ValueError:  # one tooth too many: the jaws stand on the outer corners of the tips
            half = math.radians((teeth - 1) * 180 / gear.teeth) + _half_land(gear)
            x, y = outside * math.sin(half), outside * math.cos(half)
            return Rest(2 * x, outside, ((x, y), (-x, y)), "tip corners")
        return Rest(
            opening, math.hypot(base, opening / 2), ((opening / 2, base), (-opening / 2, base)), "flanks"
        )
    if way == "tips":
        if gear.teeth % 2 == 0:
            return Rest(2 * outside, outside, ((outside, 0.0), (-outside, 0.0)), "tips")
        turn = math.pi / gear.teeth - _half_land(gear)
        corner = (-outside * math.cos(turn), outside * math.sin(turn))
        return Rest(
            outside - corner[0], outside, ((outside, 0.0), corner, (corner[0], -corner[1])), "tip corners"
        )
    if way != "pins":
        raise ValueError(f"way = {way!r} is not known: choose from {', '.join(WAYS)}")
    pin = 1.728 * gear.scale if pin_diameter is None else pin_diameter
    opening = gear.over_pins(pin)
    centre = _pin_distance(gear, pin)
    # from the foot of the tangent on the base circle to the touching point
    roll = math.sqrt(centre**2 - base**2) - pin / 2
    return Rest(opening, math.hypot(base, roll), ((opening / 2, 0.0), (-opening / 2, 0.0)), "flanks")


def span_limits(gear: Gear) -> tuple[int, int]:
    """Fewest and most teeth the jaws may be set over.

    Those that touch flanks, and one more that does not.

    >>> from gearlab.parts import Gear
    >>> span_limits(Gear(19, module=2.5))
    (1, 5)
    """
    usable: list[int] = []
    for teeth in range(1, gear.teeth):
        try:
            gear.span(teeth)
        except ValueError:
            if usable:
                break
        else:
            usable.append(teeth)
    if not usable:
        raise ValueError(f"no span touches the flanks of {gear.name}: measure it over pins")
    return usable[0], usable[-1] + 1


def jaws(
    gear: Gear,
    opening: float,
    *,
    way: str = "span",
    teeth: int = 3,
    pin_diameter: float | None = None,
    control: str = "opening",
    room: float | None = None,
    width: float = 600.0,
) -> Scene:
    """A gear between the jaws of a caliper.

    opening: distance of the jaws, above 0 [gear.unit, in or mm].
    way, teeth, pin_diameter: as for ``rest`` [-, -, gear.unit].
    control: name of the number that carrying a jaw changes.
    room: widest opening that the picture has room for; then its scale stays the same [gear.unit].
    width: of the picture [points].
    Lengths in the unit of the gear [in or mm].
    ValueError if the opening is not above 0 or the jaws find no place.

    >>> from gearlab.parts import Gear
    >>> print(jaws(Gear(19, module=2.5), 19.12).text)
    A caliper over 3 teeth of a gear with 19 teeth, module 2.5: opening 19.12 mm; the jaws touch the
    flanks at radius 24.28 mm (pitch radius 23.75 mm).
    """
    if not (math.isfinite(opening) and opening > 0):
        raise ValueError(f"opening is {opening:g} {gear.unit}; it must be above 0 {gear.unit}")
    resting = rest(gear, way, teeth=teeth, pin_diameter=pin_diameter)
    caliper = _caliper(gear, opening, way, teeth, pin_diameter, resting)
    outside, top = gear.outside_diameter / 2, caliper.beam + 0.9 * gear.scale
    reach = _reach(gear, caliper, max(room or opening, opening))
    scale = (width - SIDES) / (2 * reach)
    seen = OnCentre(gear, "gear", angle=caliper.start)
    shapes = [*seen.body(scale, marked=None), seen.circle()]
    if way == "span":
        shapes.append(seen.circle("base circle"))
    if way == "pins":
        apart = (resting.opening - caliper.pin) / 2
        shapes += [Circle((side * apart, caliper.drop), caliper.pin / 2, "gauge") for side in (1.0, -1.0)]
    shapes += _jaws(gear, caliper, control)
    pieces = cut_into(gear, way, caliper.start, caliper.right, caliper.left, caliper.low, teeth)
    shapes += [Outline(piece, "overlap") for piece in pieces]
    shapes.append(_beam(gear, caliper))
    if way == "span":
        tangent = gear.base_diameter / 2
        shapes.append(Line((-opening / 2, tangent), (opening / 2, tangent), "line of action"))
    if abs(opening - resting.opening) <= NEAR * gear.scale:
        shapes += [Dot(place, "contact point") for place in resting.places]
    size = numerals.length(opening, gear.unit)
    shapes.append(Dimension((caliper.left, top), (caliper.right, top), f"opening {size}", 26 / scale))
    shapes += named(gear, 0.6)
    floor = -outside
    if way == "tips" and gear.teeth % 2:
        shapes += _scribed(gear, scale)
        floor -= 48 / scale
    x, y = resting.places[0]
    return Scene(
        tuple(shapes),
        f"A caliper {_where(way, teeth)} of a gear with {gear.teeth} teeth, {numerals.pitch_name(gear)}:"
        f" opening {size}; {in_words(gear, resting, opening, way)}.",
        gear.unit,
        title=f"{gear.teeth} teeth in the jaws",
        margin=(26.0, 12.0, 10.0, 12.0),
        focus=(x, y - 0.2 * gear.scale, 6.0 * gear.scale),
        width=width,
        bounds=(-reach, floor, reach, top + 26 / scale),
    )


@dataclass(frozen=True)
class _Caliper:
    """How a caliper stands about a gear.

    way: "span", "tips" or "pins".
    start: where the gear's tooth 0 stands [deg].
    right, left, low, beam: faces of the jaws, their lower end and their beam [gear.unit].
    per: how far a jaw moves for each bit of opening [-].
    blade: width of a jaw [gear.unit].
    pin, drop: diameter of the pins, and how their centres stand above the gear's [gear.unit].
    """

    way: str
    start: float
    right: float
    left: float
    low: float
    beam: float
    per: float
    blade: float
    pin: float = 0.0
    drop: float = 0.0


def _caliper(
    gear: Gear, opening: float, way: str, teeth: int, pin_diameter: float | None, resting: Rest
) -> _Caliper:
    """The caliper at an opening: how the gear is turned in it, and where its jaws stand."""
    size, outside, pitch, half = gear.scale, gear.outside_diameter / 2, 360 / gear.teeth, opening / 2
    beam, wide = outside + 1.6 * size, 2.6 * size
    if way == "span":
        start, foot = 90.0 - (teeth - 1) * pitch / 2, _blade_foot(gear, resting)
        return _Caliper(way, start, half, -half, foot, beam, 0.5, 1.8 * size)
    if way == "tips":
        low = -outside * math.sin(math.pi / gear.teeth) - 0.8 * size
        return _Caliper(way, 0.0, outside, outside - opening, low, beam, 1.0, wide)
    pin = 1.728 * size if pin_diameter is None else pin_diameter
    lean = 90.0 / gear.teeth if gear.teeth % 2 else 0.0  # the pins of an odd gear stand level
    drop = -_pin_distance(gear, pin) * math.sin(math.radians(lean))
    return _Caliper(way, pitch / 2 - lean, half, -half, drop - pin, beam, 0.5, wide, pin, drop)


def _reach(gear: Gear, caliper: _Caliper, widest: float) -> float:
    """Half the width that the picture has room for, with the caliper at its widest [gear.unit]."""
    outside, size = gear.outside_diameter / 2, gear.scale
    if caliper.way == "span":
        return outside + 2.4 * size
    farthest = widest - outside if caliper.way == "tips" else widest / 2
    return max(outside, abs(caliper.right), farthest) + 3.2 * size


def _jaws(gear: Gear, caliper: _Caliper, control: str) -> list[Shape]:
    """Both jaws; the one that the gear is held against while its tips are measured cannot be moved."""
    size, low, beam = gear.scale, caliper.low, caliper.beam
    thin = caliper.way == "span"
    shoulder = gear.outside_diameter / 2 + 0.45 * size if thin else low
    shapes: list[Shape] = []
    for x, side, name in ((caliper.right, 1.0, "Right jaw"), (caliper.left, -1.0, "Left jaw")):
        carry = None
        if caliper.way != "tips" or side < 0:
            middle = (x + side * caliper.blade / 2, (low + beam) / 2)
            ring = 0.55 * (beam - low) + caliper.blade / 2
            words = f"{name}: opening of the caliper"
            carry = Carry(control, (side, 0.0), words, middle, ring, caliper.per)
        points = _blade(x, side, low, shoulder, beam, caliper.blade, size, thin=thin)
        shapes.append(Outline(points, "gauge", motion=carry))
    return shapes


def _beam(gear: Gear, caliper: _Caliper) -> Outline:
    left, right = min(caliper.left, 0.0) - caliper.blade, max(caliper.right, 0.0) + caliper.blade
    low, high = caliper.beam, caliper.beam + 0.9 * gear.scale
    return Outline(np.array([(left, low), (right, low), (right, high), (left, high), (left, low)]), "gauge")


def in_words(gear: Gear, resting: Rest, opening: float, way: str) -> str:
    """What the jaws do at an opening, in words [gear.unit]."""
    unit = gear.unit
    what = {"span": "jaws", "tips": "jaws", "pins": "pins"}[way]
    off = opening - resting.opening
    if off > NEAR * gear.scale:
        return f"there is air between the jaws and the {'pins' if way == 'pins' else 'teeth'}"
    if off < -NEAR * gear.scale:
        return f"the jaws would cut into the {'pins' if way == 'pins' else 'teeth'}"
    where = f"at radius {numerals.length(resting.radius, unit)}"
    if resting.on == "flanks":
        return (
            f"the {what} touch the flanks {where} (pitch radius"
            f" {numerals.length(gear.pitch_diameter / 2, unit)})"
        )
    return f"the jaws rest on the {resting.on}, {where}"


def cut_into(
    gear: Gear, way: str, start: float, right: float, left: float, low: float, teeth: int
) -> list[np.ndarray]:
    """Pieces of the teeth that lie in the jaws, each closed, (n, 2) [gear.unit]."""
    if way == "pins":
        return []
    pieces = []
    pitch = 360 / gear.teeth
    last = (teeth - 1) if way == "span" else gear.teeth - 1
    for face, side in ((right, 1.0), (left, -1.0)):
        for k in range(last + 1):
            angle = start + k * pitch
            if way == "span" and k != (0 if side > 0 else last) or side * math.cos(math.radians(angle)) < 0:
                continue
            outline = points_turned(tooth_outline(gear), angle)
            piece = beyond(beyond(outline, side, face)[:, ::-1], 1.0, low)[:, ::-1]
            if len(piece) > 2 and np.ptp(piece[:, 0]) > 1e-3 * gear.scale:
                pieces.append(np.vstack([piece, piece[:1]]))
    return pieces


def beyond(outline: np.ndarray, side: float, face: float) -> np.ndarray:
    """The part of an outline, (n, 2), on the far side of an upright line x = face, to the right (side 1) or
    left (-1).

    >>> beyond(np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0]]), 1.0, 1.5).tolist()
    [[1.5, 0.0], [2.0, 0.0], [2.0, 1.0], [1.5, 1.0]]
    """
    kept = []
    for here, ahead in zip(outline, np.roll(outline, -1, axis=0)):
        inside, next_inside = side * (here[0] - face) > 0, side * (ahead[0] - face) > 0
        if inside:
            kept.append(here)
        if inside != next_inside:
            share = (face - here[0]) / (ahead[0] - here[0])
            kept.append(here + share * (ahead - here))
    return np.array(kept).reshape(-1, 2)


def _half_land(gear: Gear) -> float:
    """Half the angle that the land of a tooth's tip takes up, seen from the centre [rad]."""
    low, high = gear.tooth.tip_range
    ends = gear.tooth.tip(np.array([low, high]))[0]
    return abs(math.atan2(ends[0][1], ends[0][0]) - math.atan2(ends[-1][1], ends[-1][0])) / 2


def _pin_distance(gear: Gear, pin: float) -> float:
    """How far the centre of a pin stands from the gear's [gear.unit]."""
    return (gear.over_pins(pin) - pin) / 2 / (math.cos(math.pi / 2 / gear.teeth) if gear.teeth % 2 else 1.0)


def _blade_foot(gear: Gear, resting: Rest) -> float:
    """How low the measuring blades reach into the spaces [gear.unit]."""
    x, y = resting.places[0]
    floor = math.sqrt(max((gear.root_diameter / 2) ** 2 - x**2, 0.0))
    return max(y - 1.1 * gear.scale, floor + 0.25 * gear.scale)


def _blade(
    x: float, side: float, low: float, shoulder: float, top: float, blade: float, size: float, *, thin: bool
) -> np.ndarray:
    """One jaw, closed: its face upright at x; a blade for spans is thin where it stands between teeth."""
    heel = (
        ((blade, shoulder + 0.6 * size), (0.75 * size, shoulder), (0.3 * size, low))
        if thin
        else ((blade, low + 0.8 * size), (0.8 * size, low))
    )
    outer = [(x + side * out, up) for out, up in ((blade, top), *heel)]
    return np.array([(x, low), (x, top), *outer, (x, low)])


def _scribed(gear: Gear, scale: float) -> list[Shape]:
    """From the chord of two tip middles to the tip opposite: what can be scribed, not gripped."""
    outside, turn = gear.outside_diameter / 2, math.pi / gear.teeth
    x, y = -outside * math.cos(turn), outside * math.sin(turn)
    words = f"to the line of two tip middles {numerals.length(outside - x, gear.unit)}"
    return [
        Line((x, y), (x, -y), "construction"),
        Dot((x, y), "centre"),
        Dot((x, -y), "centre"),
        Dot((outside, 0.0), "centre"),
        Dimension((x, -outside), (outside, -outside), words, -44 / scale),
    ]


def _where(way: str, teeth: int) -> str:
    return {
        "span": f"over {teeth} teeth" if teeth > 1 else "over one tooth",
        "tips": "over the tips",
        "pins": "over two pins in the spaces",
    }[way]
