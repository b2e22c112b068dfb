"""The drawing of a gear for the workshop: face, section, dimensions, and the block of tooth data."""

from __future__ import annotations

import math
from functools import partial

import numpy as np

from ...parts import Gear, InternalGear
from ...parts.made import GearPart, Limits, ToothData
from .. import numerals
from ..scene import Scene
from ..shapes import Circle, Dimension, Dot, Label, Line, Outline, Shape, cross, points_turned, rectangle
from .block import (
    SPACING,
    TWO,
    Picture,
    Row,
    block,
    block_height,
    cut_open,
    data_rows,
    on_pages,
    paper,
    said_width,
)

GAP = 18.0  # between face and section [mm on paper]
RIM = 1.2  # thickness of a rim that the file leaves open [depths of a tooth]; common practice


def gear_drawing(part: GearPart, data: ToothData, paper_name: str = "A4") -> list[Scene | Picture]:
    """A gear as it is made, in true size when put on a sheet: its face, its section, its tooth data.

    On one page where that has room; else the face on pages of its own, section and data on another.

    ValueError for a bore that leaves no gear.

    >>> from gearlab.parts import Gear
    >>> from gearlab.parts.made import Limits
    >>> wheel = GearPart("wheel", Gear(24, module=2.5, face_width=12), 12.0, Limits(10.0))
    >>> print(gear_drawing(wheel, ToothData((), (), ""))[0].text)
    wheel: 24 teeth, module 2.5, face width 12 mm, 12 mm overall, bore 10 mm.
    """
    gear, unit, bore = part.toothed, part.unit, part.bore
    if bore is not None and isinstance(gear, Gear) and bore.nominal >= gear.root_diameter:
        raise ValueError(
            f"gear {part.name!r}: bore {bore.nominal:g} {unit} is out of range: give more than 0 and less"
            f" than the root diameter {gear.root_diameter:.4g} {unit}"
        )
    return on_pages(
        partial(_page, part, data, True),
        partial(_face_alone, part),
        partial(_page, part, data, False),
        paper_name,
    )


def _face_alone(part: GearPart, factor: float = 1.0) -> Scene:
    mm, radius = paper(part.unit) * factor, _radius(part)
    bounds = (-radius - 2 * mm, -radius - 9 * mm, radius + 2 * mm, radius + 2 * mm)
    shapes = tuple(_face(part, radius, mm))
    return Scene(shapes, _sentence(part), part.unit, title=f"{part.name}, face", bounds=bounds)


def _radius(part: GearPart) -> float:
    """The largest radius: over the tips, or over the rim of a ring [unit]."""
    gear = part.toothed
    if isinstance(gear, Gear):
        return gear.outside_diameter / 2
    if part.rim_diameter is not None:
        return part.rim_diameter / 2
    return gear.root_diameter / 2 + RIM * gear.whole_depth


def _page(part: GearPart, data: ToothData, face: bool, factor: float = 1.0) -> Scene:
    """Section and tooth data, beside the face or without it."""
    unit, mm, radius = part.unit, paper(part.unit) * factor, _radius(part)
    left = radius + GAP * mm if face else 24 * mm
    tall = max([body.radius for body in part.bodies] + [radius])
    rows = [*data_rows(data, unit), *_made_rows(part)]
    shapes = [*(_face(part, radius, mm) if face else ()), *_section(part, left, mm)]
    low, high = -tall - 19 * mm, tall + (12 if part.screw is not None else 3) * mm
    beside = said_width(_diameter(part.bore, unit), bold=True) if part.bore is not None else 0.0
    wide = left + part.overall_length + (10 + beside) * mm
    if part.screw is not None:
        wide = max(wide, left - 8 * mm + said_width(_screw_words(part)) * mm)
    # below face and section; beside a section by itself, which is narrow and may be tall
    x, y = (-radius, low) if face else (wide + 6 * mm, high)
    shapes += block(rows, (x, y), mm)
    bounds = (
        (-radius if face else 0.0) - 2 * mm,
        min(low, y - (block_height(rows) + 3) * mm),
        max(wide, x + sum(TWO) * mm),
        high,
    )
    return Scene(tuple(shapes), _sentence(part), unit, title=part.name, bounds=bounds)


def _made_rows(part: GearPart) -> list[Row]:
    """What is made of it besides its teeth: bore, hub, keyway, screw hole, rim, in words."""
    unit, say = part.unit, partial(numerals.size, unit=part.unit)
    rows: list[Row] = []
    ring = isinstance(part.toothed, InternalGear)
    if ring and part.rim_diameter is not None:
        rows.append(("rim diameter", f"{say(part.rim_diameter)} {unit}"))
    elif ring:
        rows.append(("rim", f"not stated; drawn {RIM:g} tooth depths thick (common practice)"))
    if part.bore is not None and not ring:
        rows.append(
            ("bore", f"{_size(part.bore, unit)}{f', {part.fit} fit' if part.fit else ', no fit stated'}")
        )
    if part.hub_diameter is not None and part.hub_projection:
        side = "towards the plate" if part.hub_side == "plate" else "away from the plate"
        rows.append(("hub", f"{say(part.hub_diameter)} x {say(part.hub_projection)} {unit}, {side}"))
    if part.keyway is not None and part.bore is not None:
        key = part.keyway
        under = f", under a {key.on}" if key.on else ""
        over = say(part.bore.nominal + key.depth)
        rows.append(("keyway", f"{say(key.width)} wide, {over} {unit} over bore and keyway{under}"))
    if part.screw is not None:
        rows.append(("set screw hole", f"{_screw_words(part)}, {say(part.screw.place)} from the lower end"))
    return rows


def _sentence(part: GearPart) -> str:
    unit, bore = part.unit, part.bore
    words = [f"{part.toothed.teeth} teeth", numerals.pitch_name(part.toothed)]
    if part.face_width is not None:
        words.append(f"face width {part.face_width:g} {unit}")
        words.append(f"{part.overall_length:g} {unit} overall")
    if bore is not None:
        words.append(f"bore {_size(bore, unit)}")
    if part.hub_diameter is not None:
        words.append(f"hub {part.hub_diameter:g} {unit}")
    if part.screw is not None:
        words.append(f"{part.screw.count} set screw {part.screw.size}")
    if part.keyway is not None:
        words.append(f"keyway {part.keyway.width:g} wide and {part.keyway.depth:g} {unit} deep")
    return f"{part.name}: {', '.join(words)}."


def _size(size: Limits, unit: str) -> str:
    if size.low is None or size.high is None:
        return f"{numerals.size(size.nominal, unit)} {unit}"
    return f"{numerals.size(size.low, unit)} to {numerals.size(size.high, unit)} {unit}"


def _face(part: GearPart, radius: float, mm: float) -> list[Shape]:
    """The face: outline, pitch circle, bore with its keyway, hub behind it, tooth 0 marked.

    A keyway stands up; the teeth are turned so that it has above it what the file wants.
    """
    gear, unit = part.toothed, part.unit
    shapes: list[Shape] = []
    if isinstance(gear, InternalGear):
        stated = part.rim_diameter is not None
        shapes.append(Circle((0.0, 0.0), radius, "outline" if stated else "hidden outline", "gear"))
    on = part.keyway.on if part.keyway is not None else None
    turn = {"tooth": 90.0, "space": 90.0 - 180.0 / gear.teeth}.get(on or "", 0.0)
    shapes += [
        Outline(points_turned(gear.outline()[:-1], turn), "outline", "gear"),
        Circle((0.0, 0.0), gear.pitch_diameter / 2, "pitch circle", "gear"),
    ]
    if not isinstance(gear, InternalGear):
        mark = np.array([[radius - 1.9 * gear.scale, 0.0], [radius - 0.6 * gear.scale, 0.0]])
        first, last = points_turned(mark, turn)
        shapes.append(Line((first[0], first[1]), (last[0], last[1]), "mark"))
    if part.hub_diameter is not None:
        shapes.append(Circle((0.0, 0.0), part.hub_diameter / 2, "hidden outline", "gear"))
    if part.bore is not None and not isinstance(gear, InternalGear):
        shapes.append(Outline(bore_outline(part), "hole"))
    shapes += [*cross((0.0, 0.0), 3 * mm), Dot((0.0, 0.0), "centre")]
    if isinstance(gear, InternalGear) and part.rim_diameter is None:
        return shapes
    words = f"\u2300 {numerals.size(2 * radius, unit)}"
    return [*shapes, Dimension((-radius, 0.0), (radius, 0.0), words, -(radius + 7 * mm))]


def bore_outline(part: GearPart) -> np.ndarray:
    """The bore with its keyway as one closed outline, (n, 2); the keyway stands up [unit]."""
    if part.bore is None:
        raise ValueError(f"{part.name!r} has no bore")
    radius, turns = part.bore.nominal / 2, np.linspace(0, 2 * np.pi, 181)[:-1]
    if part.keyway is None:
        return radius * np.column_stack([np.cos(turns), np.sin(turns)])
    half = min(part.keyway.width / 2, 0.95 * radius)
    edge = math.asin(half / radius)
    arc = np.linspace(math.pi / 2 + edge, math.pi / 2 - edge + 2 * math.pi, 161)
    top = radius + part.keyway.depth
    return np.vstack([radius * np.column_stack([np.cos(arc), np.sin(arc)]), [[half, top], [-half, top]]])


def _section(part: GearPart, left: float, mm: float) -> list[Shape]:
    """The section along the axis, from the lower end on the left, with its dimensions."""
    gear, unit = part.toothed, part.unit
    if part.face_width is None:
        return []
    shapes: list[Shape] = []
    inner = part.bore.nominal / 2 if part.bore is not None else 0.0
    top = inner + (part.keyway.depth if part.keyway is not None else 0.0)
    for body in part.bodies:
        x0, x1 = left + body.low, left + body.high
        if isinstance(gear, InternalGear):
            ends = gear.root_diameter / 2, _radius(part)
            teeth = gear.inside_diameter / 2, gear.root_diameter / 2
        else:
            solid = gear.root_diameter / 2 if body.what == "face" else body.radius
            ends, teeth = (inner, solid), (solid, body.radius)
        for way in (1, -1):
            near = top if way > 0 and not isinstance(gear, InternalGear) else ends[0]
            box = (x0, *sorted((way * near, way * ends[1])), x1)
            shapes += cut_open((box[0], box[1], box[3], box[2]), SPACING * mm)
            if body.what == "face":  # teeth are not hatched: the cut goes beside them (ISO 2203)
                low, high = sorted((way * teeth[0], way * teeth[1]))
                shapes.append(Outline(rectangle(x0, low, x1, high), "outline", "gear"))
                pitch = way * gear.pitch_diameter / 2
                shapes.append(Line((x0 - 2 * mm, pitch), (x1 + 2 * mm, pitch), "pitch circle", "gear"))
    end = left + part.overall_length
    shapes.append(Line((left - 4 * mm, 0.0), (end + 4 * mm, 0.0), "line of centres"))
    shapes += _screw(part, left, mm)
    widest = max([body.radius for body in part.bodies] + [_radius(part)])
    for row, (low, high) in enumerate(_lengths(part)):
        text = numerals.size(high - low, unit)
        shapes.append(Dimension((left + low, -widest), (left + high, -widest), text, -(7 + 7 * row) * mm))
    if part.bore is not None and not isinstance(gear, InternalGear):
        shapes += [
            Dimension((end, -inner), (end, inner), "", -6 * mm),
            Label((end + 8 * mm, 0.0), _diameter(part.bore, unit), align="start", role="dimension"),
        ]
    if part.hub_diameter is not None:
        hub = next(body for body in part.bodies if body.what == "hub")
        side = left if hub.low == 0 else end
        shapes.append(
            Dimension(
                (side, -hub.radius),
                (side, hub.radius),
                f"\u2300 {numerals.size(part.hub_diameter, unit)}",
                (9 if hub.low == 0 else -16) * mm,
                text_at=-1,
            )
        )
    return shapes


def _lengths(part: GearPart) -> list[tuple[float, float]]:
    bodies = [(body.low, body.high) for body in part.bodies]
    return bodies if len(bodies) == 1 else [bodies[0], (0.0, part.overall_length)]


def _diameter(size: Limits, unit: str) -> str:
    text = f"\u2300 {numerals.size(size.nominal, unit)}"
    if size.low is None or size.high is None:
        return text
    up, down = (numerals.size(limit - size.nominal, unit) for limit in (size.high, size.low))
    return f"{text}\n{'+' if not up.startswith(numerals.MINUS) else ''}{up}\n{down}"


def _screw(part: GearPart, left: float, mm: float) -> list[Shape]:
    """The hole of the set screw through the upper wall of the hub, and what to drill and tap."""
    screw = part.screw
    if screw is None or part.hub_diameter is None or part.bore is None:
        return []
    top, x, half = part.hub_diameter / 2, left + screw.place, screw.diameter / 2
    bottom = max(top - screw.depth, -part.bore.nominal / 2)
    drill = screw.tap_drill / 2
    edge = np.array([[x - half, top], [x - half, bottom], [x + half, bottom], [x + half, top]])
    above = max(body.radius for body in part.bodies) + 8 * mm
    return [
        Outline(edge, "hole"),
        Line((x - drill, top), (x - drill, bottom), "construction"),
        Line((x + drill, top), (x + drill, bottom), "construction"),
        Line((x, top + 3 * mm), (x, bottom - 2 * mm), "line of centres"),
        Line((x, top + 3 * mm), (x, above - 2 * mm), "construction"),
        Label((left - 8 * mm, above), _screw_words(part), align="start", size="small"),
    ]


def _screw_words(part: GearPart) -> str:
    screw, places = part.screw, 2 if part.unit == "mm" else 4
    if screw is None:
        return ""
    count = f"{screw.count} x " if screw.count > 1 else ""
    drill, depth = numerals.plain(screw.tap_drill, places), numerals.plain(screw.depth, places)
    return f"{count}{screw.size}, drill {drill}, {depth} deep"
