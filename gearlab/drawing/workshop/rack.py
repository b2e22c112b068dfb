"""The drawing of a rack for the workshop: its teeth in true size, its ends and heights, its data."""

from __future__ import annotations

from functools import partial

from ...parts.made import RackPart
from ...parts.made.otherdata import rack_data
from .. import numerals
from ..scene import Scene
from ..shapes import Arc, Dimension, Dot, Label, Line, Outline, Shape, rectangle
from .block import SPACING, TWO, Picture, block, block_height, cut_open, data_rows, on_pages, paper

AXIS = 70.0  # up to here above the pitch line the pinion's axis is drawn [mm on paper]
BESIDE = 16.0  # from the rack to its section [mm on paper]


def rack_drawing(part: RackPart, paper_name: str = "A4") -> list[Scene | Picture]:
    """A rack as it is made, in true size: on one page where that has room, else tiled, its data apart.

    >>> from gearlab.parts import Rack
    >>> page = rack_drawing(RackPart("rack", Rack(12, module=2.5), 10.0, mounting_height=35.0))[0]
    >>> page.text
    'rack: 12 teeth, module 2.5, 94.248 mm long, pitch line 12.5 mm above the back, face width 10 mm.'
    """
    whole = partial(_picture, part, True, True)
    return on_pages(
        whole, partial(_picture, part, True, False), partial(_picture, part, False, True), paper_name
    )


def _picture(part: RackPart, face: bool, data: bool, factor: float = 1.0) -> Scene:
    rack, unit, mm = part.rack, part.unit, paper(part.unit) * factor
    say = partial(numerals.size, unit=unit)
    addendum, high = rack.basic.addendum * rack.scale, rack.pitch_height
    left, right = -rack.circular_pitch / 2, rack.toothed_length - rack.circular_pitch / 2
    shapes: list[Shape] = []
    top = addendum + 3 * mm
    low = -high - 3 * mm
    x = left
    if face:
        more, top = _teeth(part, mm)
        shapes += more
        low = -high - 12 * mm
        x = right + BESIDE * mm
    end = right if face else left
    if part.face_width is not None and data:
        end = x + part.face_width
        shapes += cut_open(
            (x, -high, end, addendum - rack.basic.addendum * rack.scale - _depth(part)), SPACING * mm
        )
        shapes += [
            Outline(rectangle(x, -_depth(part), end, addendum), "outline", "gear"),
            Line((x - 2 * mm, 0.0), (end + 2 * mm, 0.0), "pitch circle", "gear"),
            Dimension((x, -high), (end, -high), say(part.face_width), -7 * mm),
        ]
        low = -high - 12 * mm
    wide = end if data else right
    if data:
        rows = data_rows(rack_data(part), unit)
        shapes += block(rows, (left, low - 2 * mm), mm)
        low -= (block_height(rows) + 5) * mm
        wide = max(end, left + sum(TWO) * mm)
    face_words = f", face width {say(part.face_width)} {unit}" if part.face_width else ""
    text = (
        f"{part.name}: {rack.teeth} teeth, {numerals.pitch_name(rack)},"
        f" {say(rack.toothed_length)} {unit} long, pitch line"
        f" {say(high)} {unit} above the back{face_words}."
    )
    bounds = (left - (24 if face else 3) * mm, low, wide + 4 * mm, top)
    return Scene(tuple(shapes), text, unit, title=part.name, bounds=bounds)


def _depth(part: RackPart) -> float:
    """How far the spaces reach below the pitch line [unit]."""
    return part.rack.basic.dedendum * part.rack.scale


def _teeth(part: RackPart, mm: float) -> tuple[list[Shape], float]:
    """The rack from the side with its dimensions, and how high they reach."""
    rack, unit = part.rack, part.unit
    say = partial(numerals.size, unit=unit)
    pitch, high, addendum = rack.circular_pitch, rack.pitch_height, rack.basic.addendum * rack.scale
    left, right = -pitch / 2, rack.toothed_length - pitch / 2
    top = addendum + 14 * mm
    shapes: list[Shape] = [
        Outline(rack.outline()[:-1], "outline", "gear"),
        Line((left - 3 * mm, 0.0), (right + 3 * mm, 0.0), "pitch circle", "gear"),
        Dimension((left, -high), (right, -high), say(rack.toothed_length), -7 * mm),
        Dimension((left, -high), (left, 0.0), say(high), 8 * mm),
    ]
    count = min(10, rack.teeth - 1)
    if count > 1:
        words = f"{count} x {say(pitch)} = {say(count * pitch)}"
        shapes.append(Dimension((0.0, addendum), (count * pitch, addendum), words, 7 * mm))
    above = part.mounting_height - high if part.mounting_height is not None else None
    if above is not None and addendum + 16 * mm < above < AXIS * mm:
        middle = (left + right) / 2 if rack.teeth < 24 else right - 6 * pitch
        middle = max(middle, min(count * pitch + 14 * mm, right - 4 * mm))
        words = f"{say(part.mounting_height or 0.0)} to the axis of {part.pinion or 'its pinion'}"
        shapes += [
            Line((middle - 8 * mm, above), (middle + 8 * mm, above), "line of centres"),
            Arc((middle, above), above, 240.0, 300.0, "pitch circle", "gear"),
            Dot((middle, above), "centre"),
            Dimension((middle, -high), (middle, above), ""),
            Label((middle - 3 * mm, above + 5 * mm), words, align="end", size="small"),
        ]
        top = above + 9 * mm
    return shapes, top
