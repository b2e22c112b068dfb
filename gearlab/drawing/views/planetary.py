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
from ..shapes import Arc, Circle, Dot, Label, Line, Outline, Shape
from .body import rim
from .centres import OnCentre

# rim of the ring beyond its root, half width of an arm, radius of a pin [modules]
RIM, ARM, PIN = 1.6, 1.15, 0.9


def planetary(
    made: Planetary, *, input_speed: float | None = None, turning: float = 1.0, width: float = 640.0
) -> Scene:
    """A planetary set.

    The picture turns by the angle of its input: the sun, or the ring where the sun is held.

    A set that does not go together stands still, and the planets that find tooth against tooth are marked.

    input_speed: signed speed of the input for the arrows and the sentence, counter-clockwise positive [rpm].
    turning: which way the input turns where no speed is given, +1 counter-clockwise or -1 clockwise [-].
    width: of the picture [points].
    Lengths in the unit of the set [in or mm]; its axis is at (0, 0).

    >>> from gearlab.parts import Planetary
    >>> planetary(Planetary(24, 18, module=2.5)).text[-88:]
    'ng held: the sun turns 3.5 times for each turn of the carrier, which turns the same way.'
    """
    if made.held is None:
        raise ValueError(
            f"{made!r} has no member held: this picture turns by one input, so hold the sun, the carrier or"
            " the ring"
        )
    rim_radius = made.ring.root_diameter / 2 + RIM * made.sun.scale
    scale = (width - 28) / (2 * rim_radius)
    speeds = dict.fromkeys(("sun", "carrier", "ring", "planet"), 0.0)
    if made.fits:
        speeds = made.speeds(**{input_of(made): 1.0})
    turns = _turns(made, speeds, rim_radius)
    angles, ring_angle = made.alignment()
    ring = OnCentre(made.ring, "driven", angle=ring_angle)
    sun = OnCentre(made.sun, "driver")
    shapes: list[Shape] = [
        Circle((0.0, 0.0), rim_radius, "driven", motion=turns["ring"]),
        replace(ring.teeth("paper", turns["ring"]), of=""),
        ring.teeth("outline", turns["ring"]),
        _mark(made, rim_radius, turns["ring"]),
    ]
    shapes += sun.body(scale, turns["sun"], round(made.sun_teeth / 6))
    astray = set(misfits(made))
    for number, (place, angle) in enumerate(zip(made.planet_places, angles)):
        planet = OnCentre(made.planet, "gear", place, angle)
        spin = Turn(place, speeds["planet"] - speeds["carrier"], around=(0.0, 0.0), orbit=speeds["carrier"])
        shapes += planet.body(scale, spin)
        if number in astray:
            shapes.append(replace(planet.teeth("clash", spin), of=""))
    shapes += [sun.circle(), ring.circle(), *_carrier(made, turns["carrier"])]
    if made.fits:
        way = math.copysign(1.0, input_speed) if input_speed else math.copysign(1.0, turning)
        shapes += _arrows(made, speeds, way, rim_radius, scale)
    shapes += _names(made, rim_radius, scale)
    return Scene(
        tuple(shapes),
        sentence(made, input_speed),
        made.unit,
        title=(
            f"{made.sun_teeth}, {made.planets} \u00d7 {made.planet_teeth} and {made.ring_teeth} teeth,"
            f" {numerals.pitch_name(made.sun)}, {made.held} held"
        ),
        margin=(32.0, 14.0, 32.0, 14.0),
        width=width,
    )


def _turns(made: Planetary, speeds: Mapping[str, float], rim_radius: float) -> dict[str, Turn]:
    """How sun, ring and carrier turn about the axis; what stands still is no handle."""
    members = {
        "sun": (f"Sun, {made.sun_teeth} teeth", 360 / made.sun_teeth, made.sun.outside_diameter / 2),
        "ring": (f"Ring, {made.ring_teeth} teeth", 360 / made.ring_teeth, rim_radius),
        "carrier": ("Carrier", 0.0, made.carrier_radius),
    }
    return {
        member: Turn((0.0, 0.0), speeds[member], name if speeds[member] else "", pitch, reach)
        for member, (name, pitch, reach) in members.items()
    }


def input_of(made: Planetary) -> str:
    """The member that is driven from outside in the picture: the sun, or the ring where the sun is held."""
    return "ring" if made.held == "sun" else "sun"


def output_of(made: Planetary) -> str:
    """The third member."""
    return next(member for member in ("carrier", "ring") if member not in (made.held, input_of(made)))


def misfits(made: Planetary) -> list[int]:
    """Numbers of the planets, from 0, whose teeth do not meet spaces of the ring when the first one's do.

    >>> from gearlab.parts import Planetary
    >>> misfits(Planetary(24, 18, module=2.5)), misfits(Planetary(20, 15, module=2.5, must_fit=False))
    ([], [1, 2])
    """
    # Round the middle, sun and ring together repeat after 360/(sun + ring) degrees: a planet fits at such
    # places only.
    total = made.sun_teeth + made.ring_teeth
    return [k for k in range(made.planets) if (k * total) % made.planets]


def _mark(made: Planetary, ring: float, motion: Turn) -> Outline:
    """A wedge in the ring's rim, by which its turning is seen."""
    inner, outer, half = made.ring.root_diameter / 2 + 0.25 * made.ring.scale, ring, math.radians(1.6)
    points = [
        (radius * math.cos(math.pi / 4 + side * half), radius * math.sin(math.pi / 4 + side * half))
        for radius, side in ((inner, 0), (outer, -1), (outer, 1))
    ]
    return Outline(np.array(points), "marked tooth", "driven", motion=motion)


def _carrier(made: Planetary, motion: Turn) -> list[Shape]:
    """Arms from the middle to the pins, and the pins."""
    module = made.sun.scale
    shapes: list[Shape] = []
    half, inner = ARM * module, 0.9 * rim(made.sun)[0]
    for k, place in enumerate(made.planet_places):
        turn = 2 * math.pi * k / made.planets
        cos, sin = math.cos(turn), math.sin(turn)
        points = np.array(
            [(inner, -half), (made.carrier_radius, -half), (made.carrier_radius, half), (inner, half)]
        ) @ np.array([[cos, sin], [-sin, cos]])
        shapes += [
            Outline(points, "shade", motion=motion),
            Circle(place, 1.5 * half, "shade", motion=motion),
            Circle(place, PIN * module, "hole", motion=motion),
        ]
    shapes.append(Circle((0.0, 0.0), inner, "shade", motion=motion))
    return shapes


def _arrows(
    made: Planetary, speeds: Mapping[str, float], way: float, ring: float, scale: float
) -> list[Shape]:
    """Which way sun, carrier and ring turn; the carrier's arrow runs between two planets."""
    axis, module = (0.0, 0.0), made.sun.scale
    radii = {
        "sun": (0.72 * rim(made.sun)[0] + 0.28 * made.sun.root_diameter / 2, "driver", 270.0, 55.0),
        "ring": (ring + 9.0 / scale, "driven", 45.0, 14.0),
        "carrier": (made.carrier_radius, "", 180.0 / made.planets, 20.0),
    }
    shapes: list[Shape] = []
    for member, (radius, of, middle, reach) in radii.items():
        if abs(speeds[member]) > 1e-12:
            if member == "ring":
                reach = min(reach, math.degrees(9 * module / radius))
            half = math.copysign(reach, way * speeds[member])
            shapes.append(Arc(axis, radius, middle - half, middle + half, "turning arrow", of, head=True))
    return shapes


def _names(made: Planetary, ring: float, scale: float) -> list[Shape]:
    held = {member: " (held)" if member == made.held else "" for member in ("sun", "carrier", "ring")}
    shapes: list[Shape] = [
        Label(at, words, (0, math.copysign(8, at[1])), align, "large", role, of)
        for at, words, align, role, of in (
            ((-ring, ring), f"ring {made.ring_teeth}{held['ring']}", "start", "driven", "driven"),
            ((-ring, -ring), f"sun {made.sun_teeth}{held['sun']}", "start", "driver", "driver"),
            ((ring, -ring), f"{made.planets} planets of {made.planet_teeth}", "end", "gear", "gear"),
            ((ring, ring), f"carrier{held['carrier']}", "end", "shade", ""),
        )
    ]
    if made.held == "ring":  # a clamp at both sides of what is held
        shapes += [
            Line((side * ring, y * ring * 0.09), (side * (ring + 8 / scale), y * ring * 0.09), "mark")
            for side in (-1, 1)
            for y in (-1, 1)
        ]
        shapes += [
            Line((side * (ring + 8 / scale), -ring * 0.14), (side * (ring + 8 / scale), ring * 0.14), "mark")
            for side in (-1, 1)
        ]
    if made.held == "sun":
        shapes.append(Dot((0.0, 0.0), "mark"))
    return shapes


def sentence(made: Planetary, input_speed: float | None) -> str:
    """What the set does, with the numbers."""
    text = (
        f"A planetary set, {numerals.pitch_name(made.sun)}: sun with {made.sun_teeth} teeth, {made.planets}"
        f" planet{'s' if made.planets > 1 else ''} with {made.planet_teeth} teeth, ring with"
        f" {made.ring_teeth} teeth; {made.held} held: "
    )
    if not made.fits:
        return (
            text + f"it does not go together, because {made.sun_teeth} + {made.ring_teeth} teeth leave"
            f" {made.assembly_remainder:.0f} over when shared among {made.planets} planets."
        )
    first, last = input_of(made), output_of(made)
    ratio = made.ratio(first, last)
    same = "the same way" if ratio > 0 else "the other way"
    text += (
        f"the {first} turns {numerals.plain(abs(ratio), 4)} times for each turn of the {last}, which turns"
        f" {same}"
    )
    if input_speed:
        text += "; " + ", ".join(
            f"{member} {numerals.speed(speed)}"
            for member, speed in made.speeds(**{first: input_speed}).items()
        )
    return text + "."
