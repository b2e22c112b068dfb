"""A planetary set seen along its axis.

Sun, planets on their carrier, ring; what is held is marked as held.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from ...parts import Planetary
from .. import numerals
from ..motion import Turn
from ..scene import Scene
from ..shapes import Arc, Circle, Dot, Label, Line, Outline, Shape, points_turned
from .centres import OnCentre, rim

# rim of the ring beyond its root, half width of an arm, radius of a pin [modules]
RIM, ARM, PIN = 1.3, 1.15, 0.9


def planetary(
    gears: Planetary, *, input_speed: float | None = None, turning: float = 1.0, width: float = 640.0
) -> Scene:
    """A planetary set.

    The picture turns by the angle of its input: the sun, or the ring where the sun is held.

    A set that cannot be assembled stands still, and the planets that find tooth against tooth are marked.

    input_speed: signed speed of the input for the arrows and the sentence, counter-clockwise positive [rpm].
    turning: which way the input turns where no speed is given, +1 counter-clockwise or -1 clockwise [-].
    width: of the picture [points].
    Lengths in the unit of the set [in or mm]; its axis is at (0, 0).

    >>> from gearlab.parts import Planetary
    >>> planetary(Planetary(24, 18, module=2.5)).text[-88:]
    'ng held: the sun turns 3.5 times for each turn of the carrier, which turns the same way.'
    """
    if gears.held is None:
        raise ValueError(
            f"{gears!r} has no member held: this picture turns by one input, so hold the sun, the carrier or"
            " the ring"
        )
    rim_radius = gears.ring.root_diameter / 2 + RIM * gears.sun.scale
    scale = (width - 10) / (2 * rim_radius)
    speeds = dict.fromkeys(("sun", "carrier", "ring", "planet"), 0.0)
    if gears.fits:
        speeds = gears.speeds(**{input_of(gears): 1.0})
    turns = _turns(gears, speeds, rim_radius)
    angles, ring_angle = gears.alignment()
    ring = OnCentre(gears.ring, "driven", angle=ring_angle)
    sun = OnCentre(gears.sun, "driver")
    shapes: list[Shape] = [
        Circle((0.0, 0.0), rim_radius, "driven", motion=turns["ring"]),
        replace(ring.teeth("paper", turns["ring"]), of=""),
        ring.teeth("outline", turns["ring"]),
        _mark(gears, rim_radius, turns["ring"]),
    ]
    shapes += sun.body(scale, turns["sun"], round(gears.sun_teeth / 6))
    astray = set(misfits(gears))
    for number, (place, angle) in enumerate(zip(gears.planet_places, angles)):
        planet = OnCentre(gears.planet, "gear", place, angle)
        spin = Turn(place, speeds["planet"] - speeds["carrier"], around=(0.0, 0.0), orbit=speeds["carrier"])
        shapes += planet.body(scale, spin)
        if number in astray:
            shapes.append(replace(planet.teeth("clash", spin), of=""))
    shapes += [sun.circle(), ring.circle(), *_carrier(gears, turns["carrier"])]
    if gears.fits:
        way = math.copysign(1.0, input_speed) if input_speed else math.copysign(1.0, turning)
        shapes += _arrows(gears, speeds, way, rim_radius, scale)
    shapes += _names(gears, rim_radius, scale)
    return Scene(
        tuple(shapes),
        sentence(gears, input_speed),
        gears.unit,
        title=(
            f"{gears.sun_teeth}, {gears.planets} \u00d7 {gears.planet_teeth} and {gears.ring_teeth} teeth,"
            f" {numerals.pitch_name(gears.sun)}, {gears.held} held"
        ),
        margin=(20.0, 5.0, 20.0, 5.0),
        width=width,
        focus=_close_up(gears),
    )


def _close_up(gears: Planetary) -> tuple[float, float, float]:
    """Where a planet meets the ring: the first that does not fit, or the one at the right."""
    x, y = gears.planet_places[min(misfits(gears), default=0)]
    further = gears.ring.pitch_diameter / 2 / gears.carrier_radius
    return x * further, y * further, 10 * gears.sun.scale


def _turns(gears: Planetary, speeds: Mapping[str, float], rim_radius: float) -> dict[str, Turn]:
    """How sun, ring and carrier turn about the axis; what stands still is no handle."""
    members = {
        "sun": (f"Sun, {gears.sun_teeth} teeth", 360 / gears.sun_teeth, gears.sun.outside_diameter / 2),
        "ring": (f"Ring, {gears.ring_teeth} teeth", 360 / gears.ring_teeth, rim_radius),
        "carrier": ("Carrier", 0.0, gears.carrier_radius),
    }
    return {
        member: Turn((0.0, 0.0), speeds[member], name if speeds[member] else "", pitch, reach)
        for member, (name, pitch, reach) in members.items()
    }


def input_of(gears: Planetary) -> str:
    """The member that is driven from outside in the picture: the sun, or the ring where the sun is held."""
    return "ring" if gears.held == "sun" else "sun"


def output_of(gears: Planetary) -> str:
    """The third member."""
    return next(member for member in ("carrier", "ring") if member not in (gears.held, input_of(gears)))


def misfits(gears: Planetary) -> list[int]:
    """Numbers of the planets, from 0, whose teeth do not meet spaces of the ring when the first one's do.

    >>> from gearlab.parts import Planetary
    >>> misfits(Planetary(24, 18, module=2.5)), misfits(Planetary(20, 15, module=2.5, must_fit=False))
    ([], [1, 2])
    """
    # Round the middle, sun and ring together repeat after 360/(sun + ring) degrees: a planet fits at such
    # places only.
    total = gears.sun_teeth + gears.ring_teeth
    return [k for k in range(gears.planets) if (k * total) % gears.planets]


def _mark(gears: Planetary, ring: float, motion: Turn) -> Outline:
    """A wedge in the ring's rim, by which its turning is seen."""
    inner, outer, half = gears.ring.root_diameter / 2 + 0.25 * gears.ring.scale, ring, math.radians(1.6)
    points = [
        (radius * math.cos(math.pi / 4 + side * half), radius * math.sin(math.pi / 4 + side * half))
        for radius, side in ((inner, 0), (outer, -1), (outer, 1))
    ]
    return Outline(np.array(points), "marked tooth", "driven", motion=motion)


def _carrier(gears: Planetary, motion: Turn) -> list[Shape]:
    """Arms from the middle to the pins, and the pins."""
    module = gears.sun.scale
    shapes: list[Shape] = []
    half, inner = ARM * module, 0.9 * rim(gears.sun)[0]
    arm = np.array(
        [(inner, -half), (gears.carrier_radius, -half), (gears.carrier_radius, half), (inner, half)]
    )
    for k, place in enumerate(gears.planet_places):
        shapes += [
            Outline(points_turned(arm, 360 * k / gears.planets), "shade", motion=motion),
            Circle(place, 1.5 * half, "shade", motion=motion),
            Circle(place, PIN * module, "hole", motion=motion),
        ]
    shapes.append(Circle((0.0, 0.0), inner, "shade", motion=motion))
    return shapes


def _arrows(
    gears: Planetary, speeds: Mapping[str, float], way: float, ring: float, scale: float
) -> list[Shape]:
    """Which way sun, carrier and ring turn; the carrier's arrow runs between two planets."""
    axis, module = (0.0, 0.0), gears.sun.scale
    radii = {
        "sun": (0.72 * rim(gears.sun)[0] + 0.28 * gears.sun.root_diameter / 2, "driver", 270.0, 55.0),
        "ring": (ring + 9.0 / scale, "driven", 45.0, 14.0),
        "carrier": (gears.carrier_radius, "", 180.0 / gears.planets, 20.0),
    }
    shapes: list[Shape] = []
    for member, (radius, of, middle, reach) in radii.items():
        if abs(speeds[member]) > 1e-12:
            if member == "ring":
                reach = min(reach, math.degrees(9 * module / radius))
            half = math.copysign(reach, way * speeds[member])
            shapes.append(Arc(axis, radius, middle - half, middle + half, "turning arrow", of, head=True))
    return shapes


def _names(gears: Planetary, ring: float, scale: float) -> list[Shape]:
    held = {member: " (held)" if member == gears.held else "" for member in ("sun", "carrier", "ring")}
    shapes: list[Shape] = [
        Label(at, words, (0, math.copysign(5, at[1])), align, "large", role, of)
        for at, words, align, role, of in (
            ((-ring, ring), f"ring {gears.ring_teeth}{held['ring']}", "start", "driven", "driven"),
            ((-ring, -ring), f"sun {gears.sun_teeth}{held['sun']}", "start", "driver", "driver"),
            ((ring, -ring), f"{gears.planets} planets of {gears.planet_teeth}", "end", "gear", "gear"),
            ((ring, ring), f"carrier{held['carrier']}", "end", "shade", ""),
        )
    ]
    if gears.held == "ring":  # a clamp at both sides of what is held
        shapes += [
            Line((side * ring, y * ring * 0.09), (side * (ring + 8 / scale), y * ring * 0.09), "mark")
            for side in (-1, 1)
            for y in (-1, 1)
        ]
        shapes += [
            Line((side * (ring + 8 / scale), -ring * 0.14), (side * (ring + 8 / scale), ring * 0.14), "mark")
            for side in (-1, 1)
        ]
    if gears.held == "sun":
        shapes.append(Dot((0.0, 0.0), "mark"))
    return shapes


def sentence(gears: Planetary, input_speed: float | None) -> str:
    """What the set does, with the numbers."""
    text = (
        f"A planetary set, {numerals.pitch_name(gears.sun)}: sun with {gears.sun_teeth} teeth,"
        f" {gears.planets} planet{'s' if gears.planets > 1 else ''} with {gears.planet_teeth} teeth,"
        f" ring with {gears.ring_teeth} teeth; {gears.held} held: "
    )
    if not gears.fits:
        return (
            text + f"it cannot be assembled, because {gears.sun_teeth} + {gears.ring_teeth} teeth leave"
            f" {gears.assembly_remainder:.0f} over when shared among {gears.planets} planets."
        )
    first, last = input_of(gears), output_of(gears)
    ratio = gears.ratio(first, last)
    same = "the same way" if ratio > 0 else "the other way"
    text += (
        f"the {first} turns {numerals.plain(abs(ratio), 4)} times for each turn of the {last}, which turns"
        f" {same}"
    )
    if input_speed:
        text += "; " + ", ".join(
            f"{member} {numerals.speed(speed)}"
            for member, speed in gears.speeds(**{first: input_speed}).items()
        )
    return text + "."
