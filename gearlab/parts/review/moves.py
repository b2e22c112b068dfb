"""Edits that move what stands on the plate or along a shaft, and take along what has to go with it.

A shaft is moved with all that it drives; the plate grows where a hole or a tip circle would come too near its
edge; gears that are raised keep their shafts long enough.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from ..design import Design
from ..design.written import changed
from ..shaft import STOCK_STEP
from .advice import together
from .finding import PLACES, Edit, said, up

EDGE = 1.0  # material between a hole and the edge of the plate, in diameters of the hole (common practice)


def after(design: Design, edit: Edit) -> Design:
    """The design after an edit; ValueError where it does not fit any more."""
    return Design(**changed(design.tables, edit))


def driven_along(design: Design, driver: str, driven: str) -> tuple[str, ...]:
    """The shafts that move with the driven gear's when its spacing to the driver changes.

    All that it reaches without the driver's; itself alone where the drive closes to a ring.
    """
    first, start = design.of(driver).shaft, design.of(driven).shaft
    between = {
        frozenset((design.of(pair.driver).shaft, design.of(pair.driven).shaft)) for pair in design.mesh
    }
    reached = [start]
    for shaft in reached:
        for link in between - {frozenset((first, start))}:
            reached += [other for other in link if shaft in link and other not in reached]
    return (start,) if first in reached else tuple(reached)


def spaced(design: Design, driver: str, driven: str, distance: float) -> Edit:
    """Two gears set to a spacing [unit], with what hangs on the driven one, and the plate as large as that
    takes.
    """
    now = design.distance(driver, driven)
    angle = math.radians(design.line_angle(driver, driven)) if now > 0 else 0.0
    (x, y), (left, low) = design.shaft_of(driver).place, design.shaft_of(driven).place
    step = (
        x + distance * math.cos(angle) - left,
        y + distance * math.sin(angle) - low,
    )
    return housed(design, {"shaft": _stepped(design, driven_along(design, driver, driven), step)})


def swung(design: Design, driver: str, driven: str, turn: float) -> Edit:
    """A driven gear, with what hangs on it, swung around its driver by an angle [deg]; no spacing changes."""
    (x, y), (left, low) = design.shaft_of(driver).place, design.shaft_of(driven).place
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    step = (
        x + cos * (left - x) - sin * (low - y) - left,
        y + sin * (left - x) + cos * (low - y) - low,
    )
    return housed(design, {"shaft": _stepped(design, driven_along(design, driver, driven), step)})


def at_distances(design: Design, shaft: str, distances: Mapping[str, float]) -> Iterator[Edit]:
    """One shaft put at distances from one other, or two [unit], nothing else moved; along an axis first.

    distances: by the name of the other shaft.
    """
    places = {each.name: each.place for each in design.standing}
    if shaft not in places or not distances.keys() <= places.keys():
        return
    others = [(*places[name], distance) for name, distance in distances.items()]
    here, step = places[shaft], 0.1 * PLACES[design.unit]
    if len(others) == 1:
        spots = _along_axes(here, others[0])
    elif len(others) == 2:
        spots = _where_circles_meet(others[0], others[1], slack=math.sqrt(step * others[0][2]))
    else:
        return
    near = [[at if abs(at - by) < 5 * step else by for at, by in zip(here, spot)] for spot in spots]
    for x, y in sorted(
        near, key=lambda spot: ((spot[0] != here[0]) + (spot[1] != here[1]), math.dist(spot, here))
    ):
        fields = _placed(design.unit, here, (x - here[0], y - here[1]))
        yield housed(design, {"shaft": {shaft: fields}})


def _along_axes(here: tuple[float, float], circle: tuple[float, float, float]) -> list[tuple[float, float]]:
    """The places on a circle that are left, right, below or above of here."""
    (x, y), (left, low, radius) = here, circle
    spots = []
    if abs(y - low) <= radius:
        half = math.sqrt(radius**2 - (y - low) ** 2)
        spots += [(left + half, y), (left - half, y)]
    if abs(x - left) <= radius:
        half = math.sqrt(radius**2 - (x - left) ** 2)
        spots += [(x, low + half), (x, low - half)]
    return spots


def _where_circles_meet(
    first: tuple[float, float, float], second: tuple[float, float, float], slack: float
) -> list[tuple[float, float]]:
    """Where two circles meet; where they all but touch, between them."""
    apart = math.dist(first[:2], second[:2])
    if apart == 0:
        return []
    along = (apart**2 + first[2] ** 2 - second[2] ** 2) / (2 * apart)
    square = first[2] ** 2 - along**2
    if square < -(slack**2):
        return []
    half = math.sqrt(square) if square > slack**2 else 0.0
    east, north = (second[0] - first[0]) / apart, (second[1] - first[1]) / apart
    x, y = first[0] + along * east, first[1] + along * north
    return [(x - side * half * north, y + side * half * east) for side in (1, -1)]


def _stepped(design: Design, shafts: Iterable[str], step: tuple[float, float]) -> dict[str, Any]:
    moved = {
        shaft.name: _placed(design.unit, shaft.place, step)
        for shaft in design.standing
        if shaft.name in shafts
    }
    return {name: fields for name, fields in moved.items() if fields}


def _placed(unit: str, place: tuple[float, float], step: tuple[float, float]) -> dict[str, float]:
    places = round(-math.log10(PLACES[unit])) + 1
    return {
        axis: round(at + by, places)
        for axis, at, by in zip("xy", place, step)
        if abs(by) > 0.05 * PLACES[unit]
    }


def housed(design: Design, edit: Edit, tips: bool = False) -> Edit:
    """An edit, and with it a plate that keeps material around every hole that it concerns.

    tips: whether the tips of all gears are to stay within the plate as well; those that did, do so anyway.
    """
    then = after(design, edit)
    if then.plate is None or not then.standing:
        return edit
    grown: dict[str, float] = {}
    moved: dict[str, dict[str, float]] = {}
    for axis, word in (("x", "length"), ("y", "height")):
        size = getattr(then.plate, word)
        below, above = _beyond(design, then, axis, size, tips)
        low, high = (up(part, then.unit) if part > 1e-9 else 0.0 for part in (below, above))
        if low or high:
            grown[word] = up(size + low + max(above, 0.0), then.unit)
        if low:
            moved |= {
                shaft.name: moved.get(shaft.name, {}) | {axis: round(getattr(shaft, axis) + low, 6)}
                for shaft in then.standing
            }
    shafts: Edit = {"shaft": moved} if moved else {}
    return together(edit, shafts, {"plate": grown}) if grown else edit


def _beyond(design: Design, then: Design, axis: str, size: float, tips: bool) -> tuple[float, float]:
    """What the plate lacks at its lower and its upper end along an axis [unit]."""
    reaches = [
        (getattr(shaft, axis), (0.5 + EDGE) * (shaft.hole or shaft.diameter)) for shaft in then.standing
    ]
    for name, radius in tip_radii(then).items():
        place = getattr(then.shaft_of(name), axis)
        if tips or _within(design, name, axis):
            reaches.append((place, radius))
    return max(reach - place for place, reach in reaches), max(
        place + reach - size for place, reach in reaches
    )


def _within(design: Design, name: str, axis: str) -> bool:
    radius, place = tip_radii(design).get(name), getattr(design.shaft_of(name), axis)
    size = getattr(design.on_plate, "length" if axis == "x" else "height")
    return radius is not None and place - radius >= -1e-9 and place + radius <= size + 1e-9


def tip_radii(design: Design) -> dict[str, float]:
    """How far each gear reaches from its axis, a ring to its rim [unit of the design]; those in its unit."""
    return {
        table.name: ring_rim(design, table.name) / 2
        if table.internal
        else design.gears[table.name].outside_diameter / 2
        for table in design.gear
        if design.toothed[table.name].unit == design.unit
    }


def ring_rim(design: Design, name: str) -> float:
    """Outer diameter of a ring [unit]; where it is not stated, a rim as thick as its teeth are deep."""
    ring, stated = design.rings[name], design.of(name).rim_diameter
    return stated if stated is not None else 2 * ring.root_diameter - ring.inside_diameter


def raised(design: Design, gaps: Mapping[str, float]) -> Edit:
    """Gears set to other gaps [unit], and their shafts as long as that takes."""
    return long_enough(design, {"gear": {name: {"gap": round(gap, 6)} for name, gap in gaps.items()}})


def long_enough(design: Design, edit: Edit) -> Edit:
    """An edit, and with it shafts of stock length where one has become too short."""
    then, longer = after(design, edit), {}
    for shaft in then.shaft:
        gears = then.on(shaft.name)
        if shaft.length is None or not gears or then.plate is None:
            continue
        needed = shaft.behind + then.plate.thickness + reach(then, gears[-1].name) + shaft.end
        if needed > shaft.length + 1e-9:
            longer[shaft.name] = {"length": up(needed, then.unit, STOCK_STEP)}
    return together(edit, {"shaft": longer}) if longer else edit


def reach(design: Design, gear: str) -> float:
    """Height of a gear's upper end above the plate [unit]."""
    return design.foot(gear) + design.overall_length(gear)


def told(design: Design, edit: Edit) -> str:
    """What an edit does to plate and shafts besides, in words: " and make the plate 232 mm long"."""
    parts = []
    plate = edit.get("plate", {})
    if plate:
        sizes = " and ".join(
            f"{said(plate[word], design.unit)} {how}"
            for word, how in (("length", "long"), ("height", "high"))
            if word in plate
        )
        parts.append(f"make the plate {sizes}")
    for name, fields in edit.get("shaft", {}).items():
        if "length" in fields:
            parts.append(f"take {said(fields['length'], design.unit)} for shaft {name}")
    return "".join(f", {part}" for part in parts[:-1]) + (f" and {parts[-1]}" if parts else "")


def places_told(design: Design, edit: Edit, shafts: Iterable[str]) -> str:
    """Where an edit puts shafts: "vent at x = 133.2 mm"."""
    texts = []
    for name in shafts:
        fields = edit.get("shaft", {}).get(name, {})
        at = ", ".join(f"{axis} = {said(fields[axis], design.unit)}" for axis in "xy" if axis in fields)
        texts += [f"{name} at {at}"] if at else []
    return "; ".join(texts)
