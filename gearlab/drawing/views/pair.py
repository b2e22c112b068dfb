"""Two gears in mesh."""

from __future__ import annotations

import math
from dataclasses import replace

from .. import numerals
from ..scene import Circle, Dimension, Dot, Label, Line, Scene, Teeth, Turn
from .action import action
from .body import body, middle, tooth_outline

SHOWN = ("pitch circles", "base circles", "line of action")


def pair(
    mesh,
    *,
    driver_speed: float | None = None,
    turning: float = 1.0,
    show=("pitch circles",),
    width: float = 720.0,
) -> Scene:
    """Driver A on the left, driven B on its right, teeth in mesh, pitch circles touching, centre distance.

    The driver's flank touches the driven one where it drives; any backlash lies behind it.

    Parameters
    ----------
    mesh : Mesh
        The pair.
    driver_speed : float, optional
        Signed speed of the driver for the labels, counter-clockwise positive [rpm]; left out, no speeds are
        written.
    turning : float
        Which way the driver turns where no speed is given, +1 counter-clockwise or -1 clockwise [-].
    show : sequence of str
        What to add of "pitch circles", "base circles", "line of action" [-].
    width : float
        Width the picture is made for [points of the picture, 96 to the inch; -].

    Returns
    -------
    Scene
        Lengths in the unit of the gears [in or mm].

    Raises
    ------
    ValueError
        If ``show`` has a name that is not known.

    Examples
    --------
    >>> from gearlab.parts import Gear, Mesh
    >>> scene = pair(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)))
    >>> [circle.radius for circle in scene.having("pitch circle", Circle)]
    [22.5, 56.25]
    """
    for name in show:
        if name not in SHOWN:
            raise ValueError(f"show has {name!r}, which is not known; it may have: {', '.join(SHOWN)}")
    if driver_speed:
        turning = math.copysign(1.0, driver_speed)
    driver, driven, distance, unit = mesh.driver, mesh.driven, mesh.centre_distance, mesh.driver.unit
    extent = driver.outside_diameter / 2 + distance + driven.outside_diameter / 2
    scale = (width - 24) / extent
    place = (distance, 0.0)
    pitch_point = distance * driver.teeth / (driver.teeth + driven.teeth)
    # with play, the driving flanks touch; without, teeth stand in the middle of the spaces
    start = mesh.alignment(0.0) + math.copysign(
        math.degrees(max(mesh.backlash, 0.0) / 2 / (distance - pitch_point)), turning
    )
    motions = {
        "driver": Turn(
            (0.0, 0.0),
            1.0,
            f"Driver A, {driver.teeth} teeth",
            360 / driver.teeth,
            driver.outside_diameter / 2,
        ),
        "driven": Turn(
            place,
            -driver.teeth / driven.teeth,
            f"Driven B, {driven.teeth} teeth",
            360 / driven.teeth,
            driven.outside_diameter / 2,
        ),
    }
    step = 360 / driven.teeth
    neighbour = round((180 - math.copysign(step / 2, turning) - start) / step)
    shapes = body(driver, "driver", (0.0, 0.0), 0.0, motions["driver"], scale)
    shapes += body(driven, "driven", place, start, motions["driven"], scale, neighbour)

    # the driver's outline once more, above the wheel: where the teeth overlap, both are seen
    if mesh.backlash < 0:
        shapes.append(
            Teeth(
                tooth_outline(driver),
                driver.teeth,
                (0.0, 0.0),
                0.0,
                "outline",
                "driver",
                replace(motions["driver"], name=""),
            )
        )

    speeds = {"driver": "", "driven": ""}
    if driver_speed is not None:
        speeds = {
            "driver": numerals.speed(driver_speed, direction=False),
            "driven": numerals.speed(mesh.speed(driver_speed), direction=False),
        }
    shapes.append(
        Line(
            (-0.3 * driver.pitch_diameter, 0.0),
            (distance + 0.3 * driven.pitch_diameter, 0.0),
            "line of centres",
        )
    )
    shapes += _circles(mesh, place, show)
    below = max(driver.outside_diameter, driven.outside_diameter) / 2
    shapes.append(
        Dimension(
            (0.0, 0.0), place, f"centre distance {numerals.length(distance, unit)}", -below - 34 / scale
        )
    )
    shapes += middle(driver, "driver", (0.0, 0.0), scale, turning, speeds["driver"])
    shapes += middle(driven, "driven", place, scale, -turning, speeds["driven"])
    if "line of action" in show:
        line = action(mesh, turning)
        shapes += [line.line(), *line.contacts()]
    shapes.append(Dot((pitch_point, 0.0), "pitch point"))
    shapes += _close_up_names(mesh, pitch_point, turning, show)
    shapes += _names(mesh, place, scale)
    small = min(driver.root_diameter, driven.root_diameter) * scale < 122
    return Scene(
        tuple(shapes),
        _sentence(mesh, driver_speed),
        unit,
        title=f"{driver.teeth} and {driven.teeth} teeth",
        margin=(50.0, 26.0 if small else 12.0, 14.0, 26.0 if small else 12.0),
        focus=(pitch_point, 0.0, 10.0 * driver.scale),
        width=width,
    )


def pitch_circles(mesh, *, driver_speed: float | None = None, width: float = 720.0) -> Scene:
    """The pair as two circles that roll on each other without slip: no teeth, only the idea.

    Parameters
    ----------
    mesh : Mesh
        The pair; its operating pitch circles are drawn, which touch at any centre distance.
    driver_speed : float, optional
        Signed speed of the driver for the labels [rpm].
    width : float
        Width the picture is made for [points of the picture, 96 to the inch; -].

    Returns
    -------
    Scene
        Lengths in the unit of the gears [in or mm].

    Examples
    --------
    >>> from gearlab.parts import Gear, Mesh
    >>> pitch_circles(Mesh(Gear(18, module=2.5), Gear(45, module=2.5))).having("pitch point")[0].at
    (22.5, 0.0)
    """
    driver, driven, distance, unit = mesh.driver, mesh.driven, mesh.centre_distance, mesh.driver.unit
    first, second = (size / 2 for size in mesh.operating_pitch_diameters)
    scale = (width - 24) / (first + distance + second)
    turning = math.copysign(1.0, driver_speed) if driver_speed else 1.0
    place = (distance, 0.0)
    shapes = []
    for role, gear, centre, radius, speed in (
        ("driver", driver, (0.0, 0.0), first, 1.0),
        ("driven", driven, place, second, -driver.teeth / driven.teeth),
    ):
        letter = "A" if role == "driver" else "B"
        motion = Turn(
            centre, speed, f"{role.capitalize()} {letter}, {gear.teeth} teeth", 360 / gear.teeth, radius
        )
        inward = centre[0] + (radius if role == "driver" else -radius)
        shapes += [
            Circle(centre, radius, role, role, motion),
            Line(centre, (inward, 0.0), "pitch circle", role, motion),
        ]
    below = max(first, second)
    shapes += [
        Dimension((0.0, 0.0), (first, 0.0), numerals.length(first, unit), -below - 34 / scale, of="driver"),
        Dimension((first, 0.0), place, numerals.length(second, unit), -below - 34 / scale, of="driven"),
        Dimension(
            (0.0, 0.0), place, f"centre distance {numerals.length(distance, unit)}", -below - 82 / scale
        ),
    ]
    for role, gear, centre, way in (
        ("driver", driver, (0.0, 0.0), turning),
        ("driven", driven, place, -turning),
    ):
        words = (
            ""
            if driver_speed is None
            else numerals.speed(driver_speed if role == "driver" else mesh.speed(driver_speed), False)
        )
        shapes += middle(gear, role, centre, scale, way, words)
    shapes.append(Dot((first, 0.0), "pitch point"))
    text = (
        f"Two pitch circles touching: driver A, {driver.teeth} teeth, radius {numerals.length(first, unit)};"
        f" driven B, {driven.teeth} teeth, radius {numerals.length(second, unit)}; their radii add up to the"
        f" centre distance {numerals.length(distance, unit)}."
    )
    return Scene(
        tuple(shapes), text, unit, title="pitch circles", margin=(14.0, 12.0, 14.0, 12.0), width=width
    )


def _circles(mesh, place, show) -> list:
    shapes = []
    for name, role in (("pitch circles", "pitch circle"), ("base circles", "base circle")):
        if name in show:
            size = role.split()[0] + "_diameter"
            shapes += [
                Circle((0.0, 0.0), getattr(mesh.driver, size) / 2, role, "driver"),
                Circle(place, getattr(mesh.driven, size) / 2, role, "driven"),
            ]
    return shapes


def _names(mesh, place, scale: float) -> list:
    """Teeth and pitch diameter over each gear; the smaller one's words keep clear of the larger gear."""
    shapes = []
    gears = (("driver", mesh.driver, (0.0, 0.0)), ("driven", mesh.driven, place))
    for role, gear, centre in gears:
        other = mesh.driven if role == "driver" else mesh.driver
        height = gear.outside_diameter / 2
        clear = mesh.centre_distance - 72 / scale
        over = (other.outside_diameter / 2) ** 2 - max(clear, 0.0) ** 2
        if over > 0 and other.outside_diameter > gear.outside_diameter:
            height = max(height, math.sqrt(over))
        at = (centre[0], height)
        size = numerals.length(gear.pitch_diameter, gear.unit)
        shapes += [
            Label(at, f"{gear.teeth} teeth", (0, 34), size="normal", role=role, of=role),
            Label(at, f"pitch \u2300 {size}", (0, 16), size="small", role="note", of=role),
        ]
    return shapes


def _close_up_names(mesh, pitch_point: float, turning: float, show) -> list:
    """Names of lines near the mesh, with so little room that they are seen in a close-up only."""
    module, way = mesh.driver.scale, math.copysign(1.0, turning)
    room = 3.0 * module
    shapes = []

    def on_circle(gear, kind: str, height: float, side: float):
        radius = getattr(gear, f"{kind}_diameter") / 2
        centre = 0.0 if side > 0 else mesh.centre_distance
        return centre + side * math.sqrt(max(radius**2 - height**2, 0.0)), height

    for role, gear, side, align in (
        ("driver", mesh.driver, 1.0, "end"),
        ("driven", mesh.driven, -1.0, "start"),
    ):
        if "pitch circles" in show:
            shapes.append(
                Label(
                    on_circle(gear, "pitch", -3.0 * way * module, side),
                    "pitch circle",
                    (-8 * side, 0),
                    align,
                    "small",
                    "pitch circle",
                    role,
                    room,
                )
            )
        if "base circles" in show:
            shapes.append(
                Label(
                    on_circle(gear, "base", -2.4 * way * module, side),
                    "base circle",
                    (-8 * side, 0),
                    align,
                    "small",
                    "base circle",
                    role,
                    room,
                )
            )
    if "line of action" in show:
        angle = math.radians(mesh.operating_pressure_angle)
        shapes.append(
            Label(
                (pitch_point + 2.9 * module * math.tan(angle), way * 2.9 * module),
                "line of action",
                (9, 0),
                "start",
                "small",
                "line of action",
                room=room,
            )
        )
    return shapes


def _sentence(mesh, driver_speed: float | None) -> str:
    driver, driven, unit = mesh.driver, mesh.driven, mesh.driver.unit
    text = (
        f"Two spur gears in mesh, {numerals.pitch_name(driver)}: driver A with {driver.teeth} teeth, pitch"
        f" diameter {numerals.length(driver.pitch_diameter, unit)}; driven B with {driven.teeth} teeth, pitch"
        f" diameter {numerals.length(driven.pitch_diameter, unit)}; centre distance"
        f" {numerals.length(mesh.centre_distance, unit)}; the driver turns {numerals.plain(mesh.ratio, 4)}"
        " times for each turn of the driven gear, which turns the other way"
    )
    if driver_speed is not None:
        text += f"; driver {numerals.speed(driver_speed)}, driven {numerals.speed(mesh.speed(driver_speed))}"
    return text + "."
