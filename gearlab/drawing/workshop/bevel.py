"""The drawings of a bevel gear: its section with its cones, and its developed back cone to cut and roll."""

from __future__ import annotations

import math
from functools import partial

import numpy as np

from ...parts.made import BevelPart
from ...parts.made.otherdata import Cone, bevel_data, cone_of
from .. import numerals
from ..scene import Scene
from ..shapes import Arc, Dimension, Dot, Label, Line, Outline, Shape, Strokes, cross
from ..views.cones import half_profile
from .block import (
    SPACING,
    Picture,
    block,
    block_height,
    cut_through,
    data_rows,
    on_pages,
    one_page,
    paper,
    said_width,
)

TAB = 9.0  # width of the tab that is glued [mm on paper]
BAND = 3.0  # of paper below the roots [modules]
COLUMNS = (58.0, 88.0)  # of the block [mm on paper]


def bevel_drawing(part: BevelPart, paper_name: str = "A4") -> list[Scene | Picture]:
    """A bevel gear in section with its cones and its data, then its back cone as a pattern in true size.

    >>> from gearlab.parts import BevelPair
    >>> section, pattern = bevel_drawing(BevelPart("driver", BevelPair(20, 20, module=2.5), 0, 10.0))
    >>> pattern.text
    'driver, developed back cone: a sector of 254.56 deg with a pitch radius of 35.355 mm and 20 teeth.'
    """
    section = on_pages(partial(_picture, part), None, None, paper_name)
    pattern = back_cone(part)
    return [*section, pattern if one_page(pattern, paper_name) else back_cone(part, notes=False)]


def _picture(part: BevelPart, factor: float = 1.0) -> Scene:
    unit, mm, cone, pair = part.unit, paper(part.unit) * factor, cone_of(part), part.pair
    rows = data_rows(bevel_data(part), unit)
    shapes, tall, end = _section(part, cone, mm)
    low = -tall - 20 * mm
    shapes += block(rows, (0.0, low), mm, COLUMNS)
    text = (
        f"{part.name}: bevel gear, {part.teeth} teeth, {numerals.pitch_name(pair)}, pitch cone"
        f" {pair.cone_angles[part.side]:.2f} deg."
    )
    # the cone distance stands to the left of its line, which lies beside the cone
    beside = (cone.addendum + 14 * mm) * math.sin(cone.angle) - cone.distance * math.cos(cone.angle) / 2
    beside += (said_width(numerals.plain(cone.distance, 4), bold=True) + 4) * mm
    bounds = (
        -max(beside, 26 * mm),
        low - (block_height(rows, COLUMNS) + 3) * mm,
        max(end + 26 * mm, sum(COLUMNS) * mm),
        max(tall, cone.radius + (cone.addendum + 14 * mm) * math.cos(cone.angle)) + 12 * mm,
    )
    return Scene(tuple(shapes), text, unit, title=part.name, bounds=bounds)


def _section(part: BevelPart, cone: Cone, mm: float) -> tuple[list[Shape], float, float]:
    """The section along the axis, the apex on the left; how high and how far it reaches [unit]."""
    say = partial(numerals.size, unit=part.unit)
    tip, root = np.array(cone.at(cone.addendum)), np.array(cone.at(-cone.dedendum))
    pitch = np.array(cone.at(0.0))
    near_tip, near_root = (np.array(cone.at(h, cone.small)) for h in (cone.addendum, -cone.dedendum))
    inner = min(part.bore / 2 if part.bore is not None else 0.0, 0.9 * near_root[1])
    back = max(root[0], near_root[0] + 2 * mm)
    shapes: list[Shape] = []
    for way in (1, -1):
        flip = np.array([1.0, way])
        body = np.array([[near_root[0], inner], near_root, root, [back, root[1]], [back, inner]])
        if back - root[0] < 1e-9:
            body = body[[0, 1, 2, 4]]
        shapes += cut_through(body * flip, SPACING * mm)
        # teeth are not hatched: the cut goes beside them (ISO 2203)
        shapes.append(Outline(np.array([near_root, near_tip, tip, root]) * flip, "outline", "gear"))
        shapes.append(Line((0.0, 0.0), tuple(1.04 * pitch * flip), "pitch circle", "gear"))
    reach = [near_root, near_tip]
    shapes += [Line((0.0, 0.0), (float(end[0]), float(end[1])), "construction") for end in reach]
    shapes += [
        Line((-4 * mm, 0.0), (back + 6 * mm, 0.0), "line of centres"),
        Dot((0.0, 0.0), "centre"),
    ]
    tall, end = float(tip[1]), float(max(back, tip[0]))
    pair, side = part.pair, part.side
    across, mount, crown = pair.outside_diameters[side], pair.apex_distances[side], pair.crown_distances[side]
    shapes += [
        Dimension((tip[0], -tall), (tip[0], tall), "", -(end - tip[0] + 10 * mm)),
        Label((end + 13 * mm, 0.0), f"\u2300 {say(across)}", align="start", role="dimension"),
        Dimension((0.0, -tall), (crown, -tall), say(crown), -7 * mm),
        Dimension((0.0, -tall), (mount, -tall), f"{say(mount)} mounting", -15 * mm),
        Dimension((0.0, 0.0), (pitch[0], pitch[1]), say(cone.distance), (cone.addendum + 14 * mm)),
    ]
    if part.face_width is not None:
        near = cone.small * pitch
        words, off = say(part.face_width), cone.addendum + 6 * mm
        shapes.append(Dimension((near[0], near[1]), (pitch[0], pitch[1]), words, off, text_at=1))
    degrees = math.degrees(cone.angle)
    at = 0.5 * cone.small * cone.distance
    shapes.append(Arc((0.0, 0.0), at, 0.0, degrees, "dimension"))
    shapes.append(Label((-7 * mm, -5 * mm), f"{degrees:.2f}\u00b0", align="end", size="small"))
    if part.bore is not None:
        words = f"bore \u2300 {say(part.bore)}, as its shaft"
        shapes.append(Label((end + 13 * mm, -8 * mm), words, align="start", size="small"))
        end += (said_width(words) - 12) * mm
    return shapes, tall, max(end, end + (said_width(f"\u2300 {say(across)}", bold=True) - 12) * mm)


def back_cone(part: BevelPart, notes: bool = True) -> Scene:
    """The developed back cone in true size: cut it out, roll it, glue the tab; teeth by Tredgold.

    The pitch arc of the sector is as long as the large pitch circle, so that it closes on it. Flanks are
    involutes of the virtual gear, down to its base circle and straight to the roots from there.

    notes: whether its size and what to do with it stand below.

    >>> from gearlab.parts import BevelPair
    >>> back_cone(BevelPart("driven", BevelPair(16, 48, diametral_pitch=8), 1)).title
    'driven, developed back cone'

    Source: Tredgold's construction (standard texts on bevel gears).
    """
    unit, mm, cone, pair = part.unit, paper(part.unit), cone_of(part), part.pair
    radius, root = cone.back_radius, cone.back_radius - cone.dedendum
    inner = max(0.2 * root, root - BAND * pair.scale)
    sector = 360.0 * math.cos(cone.angle)
    start, end = 90.0 + sector / 2, 90.0 - sector / 2  # from the left edge to the right one [deg]
    step = sector / part.teeth
    tooth = _half_tooth(part, cone)
    profile = np.vstack([tooth, tooth[::-1] * (1, -1)])
    edge = [[root, start]]
    for k in range(part.teeth):
        middle = start - (k + 0.5) * step
        edge += [[r, middle + turn] for r, turn in profile]
    edge.append([root, end])
    arc = np.linspace(end, start, max(24, int(abs(sector))))
    edge += [[inner, turn] for turn in arc]
    shapes: list[Shape] = [
        Outline(_round(edge), "outline", "gear"),
        Strokes(
            _round([[radius, turn] for turn in np.linspace(start, end, 241)])[None], "pitch circle", "gear"
        ),
    ]
    tab = min(math.degrees(TAB * mm / radius), 0.7 * (360.0 - sector))
    far, near = root - 0.15 * (root - inner), inner + 0.15 * (root - inner)
    glue = _round([[root, end], [far, end - tab], [near, end - tab], [inner, end]])
    shapes.append(Outline(glue, "hidden outline", "gear", closed=False))
    shapes += cross((0.0, 0.0), 4 * mm)
    text = (
        f"{part.name}, developed back cone: a sector of {sector:.2f} deg with a pitch radius of"
        f" {numerals.size(radius, unit)} {unit} and {part.teeth} teeth."
    )
    spots = np.vstack([_round(edge), glue, [[-4 * mm, -4 * mm], [4 * mm, 4 * mm]]])
    (x0, y0), (x1, y1) = spots.min(0), spots.max(0)
    rows = [
        (
            "developed back cone",
            "cut it out, roll it, glue the tab behind: it lies on the large ends of the teeth",
        ),
        ("sector, pitch radius", f"{sector:.2f} deg, {numerals.size(radius, unit)} {unit}"),
        (
            "pitch arc",
            f"{numerals.size(math.radians(sector) * radius, unit)} {unit}, as the large pitch circle",
        ),
        ("teeth", f"{part.teeth}, of {pair.virtual_teeth[part.side]:.2f} on the full circle"),
    ]
    low, left, right = y0 - 4 * mm, x0, x1
    if notes:
        left = (x0 + x1 - sum(COLUMNS) * mm) / 2
        right = left + sum(COLUMNS) * mm
        shapes += block(rows, (left, low), mm, COLUMNS)
        low -= (block_height(rows, COLUMNS) + 3) * mm
    bounds = (min(x0, left) - 2 * mm, low, max(x1, right) + 2 * mm, y1 + 2 * mm)
    return Scene(tuple(shapes), text, unit, title=f"{part.name}, developed back cone", bounds=bounds)


def _half_tooth(part: BevelPart, cone: Cone) -> np.ndarray:
    """Half a tooth of the virtual gear from the root to its middle at the tip: radius [unit], angle [deg]."""
    return half_profile(
        cone.back_radius,
        math.pi * part.pair.scale / 2,
        cone.addendum,
        cone.dedendum,
        part.pair.pressure_angle,
    )


def _round(places: list[list[float]]) -> np.ndarray:
    """Points of a sector from radius [unit] and angle [deg]."""
    radii, turns = np.array(places).T
    return np.column_stack([radii * np.cos(np.radians(turns)), radii * np.sin(np.radians(turns))])
