"""Where two gears overlap: polygons of the teeth near the line of centres, cut with each other by shapely.

Polygons serve pictures and areas; contact is worked out on the exact curves (``rolling``). The driver
stands at the origin, the other gear one centre distance away in the direction of the line of centres; a
pinion meshes with its ring on the far side. Lengths are in modules, angles in radians. shapely is loaded
when first needed.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from gearlab.shape.curves import direction
from gearlab.shape.form import lay_outline, lay_tooth
from gearlab.shape.given import external, number

if TYPE_CHECKING:
    from shapely import Polygon

    from gearlab.shape.form import Form

# Chord tolerance at which areas keep within 1e-4 square modules, and what chords alone can seem to overlap
# by.
AREA_TOLERANCE, SLIVER = 1e-6, 1e-5
# How far the rim of a ring reaches beyond its root circle [modules].
_RIM = 1.0


def overlaps(
    driver: Form,
    driven: Form,
    distance: float,
    driver_angle: float,
    driven_angle: float,
    line_angle: float = 0.0,
    tolerance: float = 1e-4,
    least: float = 2e-5,
) -> list[np.ndarray]:
    """The pieces that lie in both gears at given angles.

    driver: the gear at the origin, external (lengths in modules).
    driven: the other gear (lengths in modules).
    distance: centre distance [modules].
    driver_angle, driven_angle: angles of tooth 0 of each gear, counter-clockwise from the +x axis [rad].
    line_angle: direction from the driver's centre to the other one's [rad].
    tolerance: largest distance between chord and curve of the outlines [modules], 1e-9 to 0.05.
    least: pieces of no larger area are left out [modules squared]: the chords alone make such slivers.
    Returns each a closed line without its last point, shape (n, 2) [modules].
    ValueError if the tolerance is out of range.

    >>> from gearlab.shape import Rack, ToothForm
    >>> rack = Rack(math.radians(20), 1.0, 1.25, 0.38)
    >>> one, two = ToothForm(18, rack), ToothForm(45, rack)
    >>> len(overlaps(one, two, 31.5, 0.0, 0.0)), len(overlaps(one, two, 31.5, 0.0, math.pi / 45)) > 0
    (0, True)

    Source: intersection of polygons.
    """
    pieces = _common(driver, driven, distance, driver_angle, driven_angle, line_angle, tolerance, least)
    return [np.asarray(piece.exterior.coords)[:-1] for piece in pieces]


def overlap_area(
    driver: Form,
    driven: Form,
    distance: float,
    driver_angle: float,
    driven_angle: float,
    line_angle: float = 0.0,
) -> float:
    """Area in which the two gears overlap at given angles.

    driver, driven, distance, driver_angle, driven_angle, line_angle: as for `overlaps` [modules, rad].
    Returns area [modules squared], to 1e-4; touching without overlap gives exactly 0.

    >>> from gearlab.shape import Rack, ToothForm
    >>> rack = Rack(math.radians(20), 1.0, 1.25, 0.38)
    >>> one, two = ToothForm(18, rack), ToothForm(45, rack)
    >>> overlap_area(one, two, 31.5, 0.0, 0.0), overlap_area(one, two, 31.5, 0.0, math.pi / 45) > 1.0
    (0.0, True)

    Source: intersection of polygons.
    """
    return math.fsum(
        piece.area
        for piece in _common(
            driver, driven, distance, driver_angle, driven_angle, line_angle, AREA_TOLERANCE, SLIVER
        )
    )


def _common(
    driver: Form,
    driven: Form,
    distance: float,
    driver_angle: float,
    driven_angle: float,
    line_angle: float,
    tolerance: float,
    least: float,
) -> list[Polygon]:
    """Polygons of what lies in both gears."""
    external("driver", driver)
    distance = number("centre_distance", distance)
    driver_angle, driven_angle, line_angle = (
        number(name, angle, "rad")
        for name, angle in (
            ("driver_angle", driver_angle),
            ("driven_angle", driven_angle),
            ("line_angle", line_angle),
        )
    )
    reach = _reaches(driver.tip_radius, driven.tip_radius, distance, driven.internal)
    if reach is None:
        return []
    # Seen from the driver's centre, and from the driven one's, the teeth reach each other in these
    # directions.
    meet, back = (line_angle + math.pi,) * 2 if driven.internal else (line_angle, line_angle + math.pi)
    driver_body = _body(driver, driver_angle, meet, reach[0], np.zeros(2), tolerance)
    driven_body = _body(driven, driven_angle, back, reach[1], distance * direction(line_angle), tolerance)
    both = driver_body.intersection(driven_body)
    return [
        piece
        for piece in getattr(both, "geoms", [both])
        if piece.geom_type == "Polygon" and piece.area > least
    ]


def _reaches(
    driver_tip: float, driven_tip: float, distance: float, internal: bool
) -> tuple[float, float] | None:
    """Half the angles within which the tips of either gear are inside the other's reach [rad].

    None if they are nowhere.
    """
    if (driver_tip + distance <= driven_tip) if internal else (driver_tip + driven_tip <= distance):
        return None
    if distance == 0.0:
        return math.pi, math.pi
    sides = ((driver_tip, driven_tip), (driven_tip, driver_tip))
    cosines = [(own**2 + distance**2 - other**2) / (2.0 * distance * own) for own, other in sides]
    if internal:
        cosines[0] = -cosines[0]
    driver_angle, driven_angle = (math.acos(min(1.0, max(-1.0, cosine))) for cosine in cosines)
    return driver_angle, driven_angle


def _body(
    form: Form, angle: float, facing: float, reach: float, centre: np.ndarray, tolerance: float
) -> Polygon:
    """The part of a gear that is within reach of a direction, or all of it, as a shapely polygon."""
    from shapely import Polygon

    pitch = form.pitch_angle
    beside = math.ceil(reach / pitch) + 1
    if (2 * beside + 1) * pitch > math.pi:
        outline = _turned(lay_outline(form, tolerance), angle) + centre
        return (
            Polygon(_circle(form.root_radius + _RIM) + centre, [outline])
            if form.internal
            else Polygon(outline)
        )
    first = round((facing - angle) / pitch)
    places = angle + pitch * (first + np.arange(-beside, beside + 1))
    tooth = lay_tooth(form, tolerance)[:-1]
    teeth = np.concatenate([_turned(tooth, place) for place in places])
    if form.internal:
        rim = (form.root_radius + _RIM) * direction(
            np.append(places[::-1] + pitch / 2, places[0] - pitch / 2)
        )
    else:
        rim = np.zeros((1, 2))
    return Polygon(np.concatenate((teeth, rim)) + centre)


def _circle(radius: float) -> np.ndarray:
    return radius * direction(np.linspace(0.0, 2.0 * math.pi, 721))


def _turned(points: np.ndarray, angle: float) -> np.ndarray:
    cosine, sine = math.cos(angle), math.sin(angle)
    return points @ np.array(((cosine, sine), (-sine, cosine)))
