"""A pinion and its rack, with the stops at both ends of the travel: the pinion turns, the rack slides."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from ...parts import RackDrive
from .. import numerals
from ..motion import Slide
from ..scene import Scene
from ..shapes import Arc, Dimension, Dot, Label, Line, Outline, Shape, Strokes
from .centres import OnCentre

# width of a stop [pitches], depth of stops and guide [modules]
STOP, DEEP = 0.5, 2.6


def rack(drive: RackDrive, *, angle: float = 0.0, turning: float = 1.0, width: float = 860.0) -> Scene:
    """A pinion on its rack, which lies in a guide; each stop meets the guide where the travel ends.

    drive: pinion and rack; the rack stands in the middle of its travel while the pinion's angle is 0.
    angle: angle of the pinion that the sentence speaks of, counter-clockwise positive [deg].
    turning: which way the pinion's arrow points, +1 counter-clockwise or -1 clockwise [-].
    width: of the picture [points].
    Lengths in the unit of the drive [in or mm]; the pinion's centre is at (0, 0).

    >>> from gearlab.parts import Gear, Rack, RackDrive
    >>> rack(RackDrive(Gear(20, module=2.5), Rack(20, module=2.5)), angle=68.8).text[-70:]
    'ion at 68.8 degrees counter-clockwise, the rack 30.02 mm to the right.'
    """
    pinion, most = drive.pinion, drive.largest_travel / 2
    up = 1.0 if drive.side == "above" else -1.0  # the pinion is drawn up, or everything stands on its head
    level = -(drive.mounting_height - drive.rack.pitch_height)  # pitch line of the rack, pinion above
    back = level - drive.rack.pitch_height
    reach = drive.rack.toothed_length / 2 + most
    scale = (width - 20) / (2 * reach)
    # tooth 0 of the pinion points away from the rack
    seen = OnCentre(pinion, "driver", angle=90.0 * up)
    turn = replace(seen.turn(), name=f"Pinion A, {pinion.teeth} teeth")
    slide = Slide((1.0, 0.0), drive.travel(1.0))
    shapes = _bar(drive, seen.angle, level, up, slide, scale)
    shapes += _scale_line(most, back - DEEP * drive.rack.scale, up, drive.unit, scale, slide)
    shapes += seen.body(scale, turn)
    shapes += [seen.circle(), Line((-reach, up * level), (reach, up * level), "pitch circle", "driven")]
    shapes += seen.middle(scale)
    shapes += _arrows(drive, turning, reach, up * level, up, scale)
    beside, height = -0.62 * reach, numerals.length(drive.mounting_height, drive.unit)
    shapes += [
        Dot((0.0, up * level), "pitch point"),
        Dimension((beside, up * back), (beside, 0.0), height),
        Line((beside - 6 / scale, 0.0), (0.0, 0.0), "line of centres"),
        _letter(drive, seen.angle, up * (back + 0.45 * (level - back)), slide),
    ]
    limit = most / abs(slide.per_degree)
    return Scene(
        tuple(shapes),
        sentence(drive, angle),
        drive.unit,
        title=f"{pinion.teeth} teeth on a rack of {drive.rack.teeth}, {numerals.pitch_name(pinion)}",
        margin=(14.0, 10.0, 34.0, 10.0),
        width=width,
        focus=(0.0, up * level, 12.0 * pinion.scale),
        limits=(-limit, limit),
    )


def _ends(drive: RackDrive, pinion_angle: float) -> tuple[float, float, float]:
    """Place of the rack's first tooth and its two ends; its middle lies under the pinion [unit]."""
    pitch, bar = drive.rack.circular_pitch, drive.rack
    start = _nearest(drive.alignment(pinion_angle), pitch, bar.teeth)
    return start, start - pitch / 2, start - pitch / 2 + bar.toothed_length


def _letter(drive: RackDrive, pinion_angle: float, height: float, slide: Slide) -> Label:
    at = (_ends(drive, pinion_angle)[2] - 1.2 * drive.rack.circular_pitch, height)
    return Label(at, "B", size="large", role="letter", of="driven", motion=slide)


def _bar(
    drive: RackDrive, pinion_angle: float, level: float, up: float, slide: Slide, scale: float
) -> list[Shape]:
    """The rack with its stops, and the guide that they meet at both ends of the travel."""
    bar, module, most = drive.rack, drive.rack.scale, drive.largest_travel / 2
    back, deep, stop = level - bar.pitch_height, DEEP * module, STOP * bar.circular_pitch
    start, left, right = _ends(drive, pinion_angle)

    def block(first: float, last: float, role: str, of: str, motion: Slide | None = None) -> Outline:
        points = [(first, back - deep), (last, back - deep), (last, back), (first, back)]
        return Outline(np.array(points) * (1.0, up), role, of, motion=motion)

    outline = bar.outline()[:-1] + (start, level)
    strokes = _hatch(left, right, back, level - bar.basic.dedendum * module - 0.5 * module, 9.0 / scale)
    near, far = left + stop + most, right - stop - most
    middle = ((near + far) / 2, up * (back - deep / 2))
    return [
        Outline(outline * (1.0, up), "driven", motion=slide),
        Strokes(strokes * (1.0, up), "hatch", "driven", motion=slide),
        block(left, left + stop, "marked tooth", "driven", slide),
        block(right - stop, right, "marked tooth", "driven", slide),
        block(near, far, "gear", "gear"),
        Label(middle, "guide", size="small", role="note", of="gear", room=far - near),
    ]


def _nearest(place: float, pitch: float, teeth: int) -> float:
    """Place of the rack's first tooth, so that the middle of the rack lies nearest to x = 0 [unit]."""
    first = -(teeth - 1) * pitch / 2
    return place + pitch * round((first - place) / pitch)


def _hatch(left: float, right: float, low: float, high: float, spacing: float) -> np.ndarray:
    """Strokes at -45 degrees that fill a level bar, (n, 2, 2)."""
    tall = high - low
    strokes = []
    for x in np.arange(left + spacing, right + tall, spacing):
        first, last = max(x - tall, left), min(x, right)
        if last > first:
            strokes.append([(first, low + (x - first)), (last, low + (x - last))])
    return np.array(strokes) if strokes else np.empty((0, 2, 2))


def _scale_line(most: float, floor: float, up: float, unit: str, scale: float, slide: Slide) -> list[Shape]:
    """A rule of the travel that stands still, and the pointer of the rack on it."""
    tick, level = 6.0 / scale, floor - 14.0 / scale
    steps = (0.5, 1, 2, 5, 10) if unit == "in" else (5, 10, 20, 50, 100, 200)
    step = next((step for step in steps if step * scale > 46), steps[-1])
    count = int(most / step + 1e-9)
    shapes: list[Shape] = [Line((-most, up * level), (most, up * level), "dimension")]
    for k in range(-count, count + 1):
        shapes.append(Line((k * step, up * level), (k * step, up * (level - tick)), "dimension"))
        if k % 2 == 0 or count < 3:  # every second tick has its number: room enough on a narrow page
            place = (k * step, up * (level - tick))
            shapes.append(
                Label(place, numerals.plain(k * step), (0, -10 * up), size="small", role="dimension")
            )
    shapes.append(Label((most, up * level), unit, (9, 0), "start", "small", "dimension"))
    shapes += [
        Line((side * most, up * level), (side * most, up * (level - 1.6 * tick)), "mark") for side in (-1, 1)
    ]
    shapes.append(
        Outline(
            np.array(
                [
                    (0.0, up * level),
                    (-0.7 * tick, up * (level + 1.7 * tick)),
                    (0.7 * tick, up * (level + 1.7 * tick)),
                ]
            ),
            "marked tooth",
            "driven",
            motion=slide,
        )
    )
    return shapes


def _arrows(
    drive: RackDrive, turning: float, reach: float, level: float, up: float, scale: float
) -> list[Shape]:
    """Which way the pinion turns, and which way the rack goes: a long flat arrow at the right."""
    way, module = math.copysign(1.0, turning), drive.rack.scale
    around = 90.0 + 55.0 * up if up > 0 else 235.0
    radius, half = 40 * module, math.degrees(5.0 / 40)
    at, over = (0.72 * reach, level + up * 3.2 * module - up * radius), 90.0 * up
    return [
        Arc(
            (0.0, 0.0),
            drive.pinion.outside_diameter / 2 + 9.0 / scale,
            around - way * 38,
            around + way * 38,
            "turning arrow",
            "driver",
            head=True,
        ),
        Arc(at, radius, over + way * half, over - way * half, "turning arrow", "driven", head=True),
    ]


def sentence(drive: RackDrive, angle: float) -> str:
    """What is shown, with the numbers, for an angle of the pinion [deg]."""
    pinion, unit, way = drive.pinion, drive.unit, drive.travel(angle)
    turned = (
        "at 0 degrees"
        if abs(angle) < 0.05
        else f"at {numerals.plain(abs(angle), 1)} degrees {'counter-clockwise' if angle > 0 else 'clockwise'}"
    )
    moved = (
        "in the middle"
        if abs(way) < 5e-4 * drive.rack.scale
        else f"{numerals.length(abs(way), unit)} to the {'right' if way > 0 else 'left'}"
    )
    return (
        f"A pinion with {pinion.teeth} teeth, {numerals.pitch_name(pinion)}, is {drive.side} a rack with"
        f" {drive.rack.teeth} teeth that slides between two stops,"
        f" {numerals.length(drive.largest_travel, unit)} apart in travel; one turn moves it"
        f" {numerals.length(drive.travel_per_turn, unit)}; the pinion's centre is"
        f" {numerals.length(drive.mounting_height, unit)} from the rack's back; pinion {turned}, the rack"
        f" {moved}."
    )
