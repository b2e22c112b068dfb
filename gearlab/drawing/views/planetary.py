"""A planetary set seen along its axis.

Sun, planets on their carrier, ring; what is held is marked as held.
"""

from __future__ import annotations

import math

import numpy as np

from .. import numerals
from ..scene import Arc, Circle, Dot, Label, Line, Outline, Scene, Teeth, Turn
from .body import body, rim, tooth_outline

# rim of the ring beyond its root, half width of an arm, radius of a pin [modules]
RIM, ARM, PIN = 1.6, 1.15, 0.9


def planetary(made, *, input_speed: float | None = None, turning: float = 1.0, width: float = 640.0) -> Scene:
    """A planetary set.

    The picture turns by the angle of its input: the sun, or the ring where the sun is held.

    A set that does not go together stands still, and the planets that find tooth against tooth are marked.

    Parameters
    ----------
    made : Planetary
        The set, with one member held.
    input_speed : float, optional
        Signed speed of the input for the arrows and the sentence, counter-clockwise positive [rpm].
    turning : float
        Which way the input turns where no speed is given, +1 counter-clockwise or -1 clockwise [-].
    width : float
        Width the picture is made for [points of the picture, 96 to the inch; -].

    Returns
    -------
    Scene
        Lengths in the unit of the set [in or mm]; its axis is at (0, 0).

    Examples
    --------
    >>> from gearlab.parts import Planetary
    >>> planetary(Planetary(24, 18, module=2.5)).text[-88:]
    'ng held: the sun turns 3.5 times for each turn of the carrier, which turns the same way.'
    """
    if made.held is None:
        raise ValueError(
            f"{made!r} has no member held: this picture turns by one input, so hold the sun, the carrier or"
            " the ring"
        )
    module, unit = made.sun.scale, made.unit
    ring = made.ring.root_diameter / 2 + RIM * module
    scale = (width - 28) / (2 * ring)
    first = input_of(made)
    speeds = (
        made.speeds(**{first: 1.0}) if made.fits else dict.fromkeys(("sun", "carrier", "ring", "planet"), 0.0)
    )
    names = {
        "sun": f"Sun, {made.sun_teeth} teeth",
        "ring": f"Ring, {made.ring_teeth} teeth",
        "carrier": "Carrier",
    }
    reach = {"sun": made.sun.outside_diameter / 2, "ring": ring, "carrier": made.carrier_radius}
    pitches = {"sun": 360 / made.sun_teeth, "ring": 360 / made.ring_teeth, "carrier": 0.0}
    turns = {
        member: Turn(
            (0.0, 0.0),
            speeds[member],
            names[member] if speeds[member] else "",
            pitches[member],
            reach[member],
        )
        for member in names
    }
    angles, ring_angle = made.alignment()

    hole = tooth_outline(made.ring)
    shapes = [
        Circle((0.0, 0.0), ring, "driven", motion=turns["ring"]),
        Teeth(hole, made.ring_teeth, (0.0, 0.0), ring_angle, "paper", motion=turns["ring"]),
        Teeth(hole, made.ring_teeth, (0.0, 0.0), ring_angle, "outline", "driven", motion=turns["ring"]),
        _mark(made, ring, turns["ring"]),
    ]
    shapes += body(made.sun, "driver", (0.0, 0.0), 0.0, turns["sun"], scale, round(made.sun_teeth / 6))
    astray = set(misfits(made))
    for number, (place, angle) in enumerate(zip(made.planet_places, angles)):
        spin = Turn(place, speeds["planet"] - speeds["carrier"], around=(0.0, 0.0), orbit=speeds["carrier"])
        shapes += body(made.planet, "gear", place, angle, spin, scale)
        if number in astray:
            shapes.append(
                Teeth(tooth_outline(made.planet), made.planet_teeth, place, angle, "clash", motion=spin)
            )
    shapes.append(Circle((0.0, 0.0), made.sun.pitch_diameter / 2, "pitch circle", "driver"))
    shapes.append(Circle((0.0, 0.0), made.ring.pitch_diameter / 2, "pitch circle", "driven"))
    shapes += _carrier(made, turns["carrier"])
    if made.fits:
        way = math.copysign(1.0, input_speed) if input_speed else math.copysign(1.0, turning)
        shapes += _arrows(made, speeds, way, ring, scale)
    shapes += _names(made, ring, scale)
    return Scene(
        tuple(shapes),
        sentence(made, input_speed),
        unit,
        title=(
            f"{made.sun_teeth}, {made.planets} \u00d7 {made.planet_teeth} and {made.ring_teeth} teeth,"
            f" {numerals.pitch_name(made.sun)}, {made.held} held"
        ),
        margin=(32.0, 14.0, 32.0, 14.0),
        width=width,
    )


def input_of(made) -> str:
    """The member that is driven from outside in the picture: the sun, or the ring where the sun is held."""
    return "ring" if made.held == "sun" else "sun"


def output_of(made) -> str:
    """The third member."""
    return next(member for member in ("carrier", "ring") if member not in (made.held, input_of(made)))


def misfits(made) -> list[int]:
    """Numbers of the planets, from 0, whose teeth do not meet spaces of the ring when the first one's do.

    >>> from gearlab.parts import Planetary
    >>> misfits(Planetary(24, 18, module=2.5)), misfits(Planetary(20, 15, module=2.5, must_fit=False))
    ([], [1, 2])
    """
    # Round the middle, sun and ring together repeat after 360/(sun + ring) degrees: a planet fits at such
    # places only.
    total = made.sun_teeth + made.ring_teeth
    return [k for k in range(made.planets) if (k * total) % made.planets]


def _mark(made, ring: float, motion: Turn) -> Outline:
    """A wedge in the ring's rim, by which its turning is seen."""
    inner, outer, half = made.ring.root_diameter / 2 + 0.25 * made.ring.scale, ring, math.radians(1.6)
    points = [
        (radius * math.cos(math.pi / 4 + side * half), radius * math.sin(math.pi / 4 + side * half))
        for radius, side in ((inner, 0), (outer, -1), (outer, 1))
    ]
    return Outline(np.array(points), "marked tooth", "driven", motion=motion)


def _carrier(made, motion: Turn) -> list:
    """Arms from the middle to the pins, and the pins."""
    module, shapes = made.sun.scale, []
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


def _arrows(made, speeds: dict[str, float], way: float, ring: float, scale: float) -> list:
    """Which way sun, carrier and ring turn; the carrier's arrow runs between two planets."""
    module, shapes = made.sun.scale, []
    radii = {
        "sun": (0.72 * rim(made.sun)[0] + 0.28 * made.sun.root_diameter / 2, "driver", 270.0),
        "ring": (ring + 9.0 / scale, "driven", 45.0),
        "carrier": (made.carrier_radius, "", 180.0 / made.planets),
    }
    for member, (radius, of, middle) in radii.items():
        if abs(speeds[member]) > 1e-12:
            side = math.copysign(1.0, way * speeds[member])
            reach = min(
                {"sun": 55.0, "carrier": 20.0, "ring": 14.0}[member],
                math.degrees(9 * module / radius) if member == "ring" else 90.0,
            )
            shapes.append(
                Arc(
                    (0.0, 0.0),
                    radius,
                    middle - side * reach,
                    middle + side * reach,
                    "turning arrow",
                    of,
                    head=True,
                )
            )
    return shapes


def _names(made, ring: float, scale: float) -> list:
    held = {member: " (held)" if member == made.held else "" for member in ("sun", "carrier", "ring")}
    shapes = [
        Label(
            (-ring, ring),
            f"ring {made.ring_teeth}{held['ring']}",
            (0, 8),
            "start",
            "large",
            "driven",
            "driven",
        ),
        Label(
            (-ring, -ring),
            f"sun {made.sun_teeth}{held['sun']}",
            (0, -8),
            "start",
            "large",
            "driver",
            "driver",
        ),
        Label(
            (ring, -ring),
            f"{made.planets} planets of {made.planet_teeth}",
            (0, -8),
            "end",
            "large",
            "gear",
            "gear",
        ),
        Label((ring, ring), f"carrier{held['carrier']}", (0, 8), "end", "large", "shade"),
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


def sentence(made, input_speed: float | None) -> str:
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
