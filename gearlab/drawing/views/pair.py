"""Two gears in mesh, or at a spacing that may be wrong."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from ...parts import Gear, Mesh
from .. import numerals
from ..scene import Scene
from ..shapes import Circle, Dimension, Dot, Label, Line, Shape
from .action import action
from .centres import (
    BELOW,
    SIDES,
    Couple,
    at_distance,
    both,
    centre_distance,
    check_units,
    counts,
    extent,
    fitted,
    in_mesh,
    lowest_tip,
    pitch_point,
)
from .centres import centre_distance as dimension

SHOWN = ("pitch circles", "base circles", "line of action")


def pair(
    mesh: Mesh,
    *,
    driver_speed: float | None = None,
    turning: float = 1.0,
    show: Sequence[str] = ("pitch circles",),
    width: float = 720.0,
) -> Scene:
    """Driver A on the left, driven B on its right, teeth in mesh, pitch circles touching, centre distance.

    The driver's flank touches the driven one where it drives; any backlash lies behind it.

    driver_speed: signed speed of the driver for the labels, counter-clockwise positive [rpm]; left out, no
        speeds are written.
    turning: which way the driver turns where no speed is given, +1 counter-clockwise or -1 clockwise [-].
    show: what to add of "pitch circles", "base circles", "line of action".
    width: of the picture [points].
    Lengths in the unit of the gears [in or mm].
    ValueError if ``show`` has a name that is not known.

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
    gears, touching = in_mesh(mesh, turning), pitch_point(mesh)
    scale = fitted(gears, width)
    shapes = _bodies(mesh, gears, turning, scale)
    shapes.append(_line_of_centres(gears))
    for names in ("pitch circles", "base circles"):
        if names in show:
            shapes += [seen.circle(names.removesuffix("s")) for seen in gears]
    shapes.append(centre_distance(gears, scale))
    for seen, way, words in zip(gears, (turning, -turning), _speeds(mesh, driver_speed)):
        shapes += seen.middle(scale, way, words)
    if "line of action" in show:
        line = action(mesh, turning)
        shapes += [line.line(), *line.contacts()]
    shapes.append(Dot(touching, "pitch point"))
    shapes += _close_up_names(mesh, touching[0], turning, show)
    shapes += _names(gears, scale)
    small = min(seen.gear.root_diameter for seen in gears) * scale < 122
    return Scene(
        tuple(shapes),
        _sentence(mesh, driver_speed),
        mesh.unit,
        title=counts(mesh.driver, mesh.driven),
        margin=(50.0, 26.0 if small else 12.0, 14.0, 26.0 if small else 12.0),
        focus=(*touching, 10.0 * mesh.driver.scale),
        width=width,
    )


def wished(mesh: Mesh, centre_distance: float, *, turning: float = 1.0, width: float = 720.0) -> Scene:
    """Two gears in mesh, and below their centre distance the one that is wanted.

    centre_distance: the wanted spacing, above 0 [unit of the gears, in or mm].
    turning: which way the driver turns, +1 counter-clockwise or -1 clockwise [-].
    width: of the picture [points].
    Lengths in the unit of the gears [in or mm].
    ValueError if the wanted spacing is not above 0.

    >>> from gearlab.parts import Gear, Mesh
    >>> wished(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), 80.0).text[-78:]
    'The wanted centre distance is 80.00 mm: this pair is 1.250 mm nearer together.'
    """
    if not centre_distance > 0:
        raise ValueError(
            f"centre_distance is {centre_distance:g} {mesh.unit}; it must be above 0 {mesh.unit}"
        )
    scene = pair(mesh, turning=turning, width=width)
    lowest = min(shape.offset for shape in scene.having("dimension", Dimension))
    wanted = numerals.length(centre_distance, mesh.unit)
    added = scene.with_shapes(
        Dimension((0.0, 0.0), (centre_distance, 0.0), f"wanted {wanted}", lowest - 44 / scene.points_per_unit)
    )
    off = mesh.centre_distance - centre_distance
    stands = (
        f": this pair is {numerals.length(abs(off), mesh.unit)}"
        f" {'nearer together' if off < 0 else 'further apart'}"
    )
    if numerals.vanishes(off, mesh.unit):
        stands = ", which this pair has"
    text = f"{scene.text} The wanted centre distance is {wanted}{stands}."
    return replace(added, text=text, margin=(50.0, 26.0, 14.0, 26.0))


def pitch_circles(mesh: Mesh, *, driver_speed: float | None = None, width: float = 720.0) -> Scene:
    """The pair as two circles that roll on each other without slip: no teeth, only the idea.

    mesh: the pair; its operating pitch circles are drawn, which touch at any centre distance.
    driver_speed: signed speed of the driver for the labels [rpm].
    width: of the picture [points].
    Lengths in the unit of the gears [in or mm].

    >>> from gearlab.parts import Gear, Mesh
    >>> pitch_circles(Mesh(Gear(18, module=2.5), Gear(45, module=2.5))).having("pitch point")[0].at
    (22.5, 0.0)
    """
    radii = tuple(size / 2 for size in mesh.operating_pitch_diameters)
    distance, unit = mesh.centre_distance, mesh.unit
    scale = (width - SIDES) / (radii[0] + distance + radii[1])
    turning = math.copysign(1.0, driver_speed) if driver_speed else 1.0
    gears, touching = in_mesh(mesh), pitch_point(mesh)
    shapes: list[Shape] = []
    for seen, radius in zip(gears, radii):
        motion = replace(seen.turn(), radius=radius)
        shapes += [
            Circle(seen.centre, radius, seen.role, seen.role, motion),
            Line(seen.centre, touching, "pitch circle", seen.role, motion),
        ]
    level = -max(radii) - BELOW / scale
    words = [numerals.length(size, unit) for size in (*radii, distance)]
    shapes += [
        Dimension(gears[0].centre, touching, words[0], level, of="driver"),
        Dimension(touching, gears[1].centre, words[1], level, of="driven"),
        Dimension(gears[0].centre, gears[1].centre, f"centre distance {words[2]}", level - 48 / scale),
    ]
    for seen, way, speed in zip(gears, (turning, -turning), _speeds(mesh, driver_speed)):
        shapes += seen.middle(scale, way, speed)
    shapes.append(Dot(touching, "pitch point"))
    text = (
        f"Two pitch circles touching: driver A, {mesh.driver.teeth} teeth, radius {words[0]}; driven B,"
        f" {mesh.driven.teeth} teeth, radius {words[1]}; their radii add up to the centre distance"
        f" {words[2]}."
    )
    return Scene(
        tuple(shapes), text, unit, title="pitch circles", margin=(14.0, 12.0, 14.0, 12.0), width=width
    )


def _bodies(mesh: Mesh, gears: Couple, turning: float, scale: float) -> list[Shape]:
    """Both gears; of the driven one the tooth is marked that the driver's marked tooth pushes."""
    driver, driven = gears
    step = 360 / mesh.driven.teeth
    pushed = round((180 - math.copysign(step / 2, turning) - driven.angle) / step)
    shapes = driver.body(scale, driver.turn()) + driven.body(scale, driven.turn(), pushed)
    # the driver's outline once more, above the wheel: where the teeth overlap, both are seen
    if mesh.backlash < 0:
        shapes.append(driver.teeth("outline", driver.turn(named=False)))
    return shapes


def _line_of_centres(gears: Couple) -> Line:
    driver, driven = gears
    left, right = 0.3 * driver.gear.pitch_diameter, 0.3 * driven.gear.pitch_diameter
    return Line((driver.centre[0] - left, 0.0), (driven.centre[0] + right, 0.0), "line of centres")


def _speeds(mesh: Mesh, driver_speed: float | None) -> tuple[str, str]:
    """Speeds of driver and driven gear without their directions, as arrows show those [rpm]."""
    if driver_speed is None:
        return "", ""
    return numerals.speed(driver_speed, False), numerals.speed(mesh.speed(driver_speed), False)


def _names(gears: Couple, scale: float) -> list[Shape]:
    """Teeth and pitch diameter over each gear; the smaller one's words keep clear of the larger gear."""
    shapes: list[Shape] = []
    distance = gears[1].centre[0] - gears[0].centre[0]
    for seen, other in (gears, gears[::-1]):
        height = seen.tip
        over = other.tip**2 - max(distance - 72 / scale, 0.0) ** 2
        if over > 0 and other.tip > seen.tip:
            height = max(height, math.sqrt(over))
        at = (seen.centre[0], height)
        size = numerals.length(seen.gear.pitch_diameter, seen.gear.unit)
        shapes += [
            Label(at, f"{seen.gear.teeth} teeth", (0, 34), size="normal", role=seen.role, of=seen.role),
            Label(at, f"pitch \u2300 {size}", (0, 16), size="small", role="note", of=seen.role),
        ]
    return shapes


def _close_up_names(mesh: Mesh, at: float, turning: float, show: Sequence[str]) -> list[Shape]:
    """Names of lines near the mesh, with so little room that they are seen in a close-up only."""
    module, way = mesh.driver.scale, math.copysign(1.0, turning)
    room = 3.0 * module
    shapes: list[Shape] = []
    for role, gear, side, align in (
        ("driver", mesh.driver, 1.0, "end"),
        ("driven", mesh.driven, -1.0, "start"),
    ):
        centre = 0.0 if side > 0 else mesh.centre_distance
        for kind, down in (("pitch", 3.0), ("base", 2.4)):
            if f"{kind} circles" in show:
                name, height = f"{kind} circle", -down * way * module
                radius = getattr(gear, f"{kind}_diameter") / 2
                place = (centre + side * math.sqrt(max(radius**2 - height**2, 0.0)), height)
                shapes.append(Label(place, name, (-8 * side, 0), align, "small", name, role, room))
    if "line of action" in show:
        lean = math.tan(math.radians(mesh.operating_pressure_angle))
        place = (at + 2.9 * module * lean, way * 2.9 * module)
        name = "line of action"
        shapes.append(Label(place, name, (9, 0), "start", "small", name, room=room))
    return shapes


def _sentence(mesh: Mesh, driver_speed: float | None) -> str:
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


def spaced(
    driver: Gear,
    driven: Gear,
    centre_distance: float,
    *,
    reach: tuple[float, float] | None = None,
    control: str = "centre_distance",
    width: float = 720.0,
) -> Scene:
    """Two gears with their reference pitch circles, their shafts some distance apart, right or wrong.

    driver, driven: the gears, of one unit.
    centre_distance: distance of the shafts, above 0 [unit of the gears, in or mm].
    reach: least and greatest distance the picture has room for [in or mm]; then its scale stays the same.
    control: name of the number that carrying the driven gear changes.
    width: of the picture [points].
    Lengths in the unit of the gears [in or mm].
    ValueError if the units differ or the distance is not above 0.

    >>> from gearlab.parts import Gear
    >>> spaced(Gear(18, module=2.5), Gear(45, module=2.5), 78.7).text[-38:]
    'the pitch circles overlap by 0.050 mm.'
    """
    check_units(driver, driven)
    if not centre_distance > 0:
        raise ValueError(
            f"centre_distance is {centre_distance:g} {driver.unit}; it must be above 0 {driver.unit}"
        )
    unit, gears = driver.unit, at_distance(driver, driven, centre_distance)
    # room for the greatest distance
    left, right = extent(at_distance(driver, driven, reach[1] if reach else centre_distance))
    scale, below = (width - SIDES) / (right - left), lowest_tip(gears)
    first, second = gears
    shapes = first.body(scale, marked=None) + second.body(scale, second.carry(control), marked=None)
    # the driver's outline once more, above the wheel: where the teeth overlap, both are seen
    shapes += [first.teeth("outline"), Line((left, 0.0), (right, 0.0), "line of centres")]
    shapes += [seen.circle() for seen in gears]
    shapes.append(dimension(gears, scale))
    shapes += first.middle(scale) + second.middle(scale)
    inner, outer = driver.pitch_diameter / 2, centre_distance - driven.pitch_diameter / 2
    gap = outer - inner
    shapes.append(_gap(inner, outer, below, scale, unit))
    distance = numerals.length(centre_distance, unit)
    return Scene(
        tuple(shapes),
        f"{both(driver, driven)}, centres {distance} apart: the pitch circles {meeting(gap, unit)}.",
        unit,
        title=f"{counts(driver, driven)}, {distance}",
        margin=(46.0, 12.0, 14.0, 12.0),
        focus=(inner, 0.0, 10 * driver.scale),
        width=width,
        bounds=(left, -below - BELOW / scale, right, below),
    )


def _gap(inner: float, outer: float, above: float, scale: float, unit: str) -> Shape:
    """How far the two pitch circles reach past each other or stay apart, as a dimension or in words."""
    gap = outer - inner
    if abs(gap) * scale <= 1.5:
        words = "pitch circles " + meeting(gap, unit)
        return Label((inner, above), words, (0, 31), size="normal", role="dimension")
    words = f"{numerals.length(abs(gap), unit)} {'overlap' if gap < 0 else 'apart'}"
    return Dimension((min(inner, outer), 0.0), (max(inner, outer), 0.0), words, above + 20 / scale)


def meeting(gap: float, unit: str) -> str:
    """How two pitch circles stand, in words, from the gap between them [unit].

    Half a hundredth of a millimetre counts as touching.

    >>> meeting(0.0, "mm"), meeting(-0.05, "mm"), meeting(4.25, "mm")
    ('touch', 'overlap by 0.050 mm', 'are 4.250 mm apart')
    """
    if numerals.vanishes(gap, unit):
        return "touch"
    return (
        f"overlap by {numerals.length(-gap, unit)}" if gap < 0 else f"are {numerals.length(gap, unit)} apart"
    )
