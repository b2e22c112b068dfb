"""Tooth systems: the proportions of the tooth, one sourced row each, chosen by name.

All proportions are in modules (or, the same, in units of 1/P). An undercut limit depends on the
tip radius of the rack, so each row carries one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import cos, pi, radians, sin, tan
from numbers import Real

from .units import MM_PER_INCH


@dataclass(frozen=True)
class ToothSystem:
    """Proportions of a tooth system, with the source of its row.

    name: "full depth", "stub" or "fine pitch".
    pressure_angle: pressure angle [deg].
    addendum, dedendum, tip_radius: proportions of the basic rack [modules].
    extra_dedendum: a length added to the dedendum whatever the pitch [in].
    source: where the row stands, and how sure it is.

    >>> system("full depth", 20).dedendum
    1.25
    """

    name: str
    pressure_angle: float
    addendum: float
    dedendum: float
    tip_radius: float
    extra_dedendum: float
    source: str

    def extra(self, unit: str) -> float:
        """The extra dedendum in a length unit, "in" or "mm" [unit]."""
        return self.extra_dedendum * (MM_PER_INCH if unit == "mm" else 1.0)


_FULL = "full depth"
# fmt: off
ROWS = (
    ToothSystem(_FULL, 14.5, 1.0, 1.157, 0.209, 0.0,
                "ANSI B6.1-1932 (withdrawn), 14.5 degree full-depth system; tip radius 0.209: from memory"),
    ToothSystem(_FULL, 20.0, 1.0, 1.25, 0.38, 0.0,
                "ISO 53:1998, basic rack profile A (addendum 1, dedendum 1.25, root fillet radius 0.38)"),
    ToothSystem(_FULL, 25.0, 1.0, 1.25, 0.30, 0.0,
                "25 degree full-depth system in the proportions of AGMA 201.02 (addendum 1, dedendum 1.25); tip radius 0.30: from memory"),
    ToothSystem("stub", 20.0, 0.8, 1.0, 0.30, 0.0,
                "20 degree stub system, ANSI B6.1-1932 (withdrawn): addendum 0.8, dedendum 1.0; tip radius 0.30: from memory"),
    ToothSystem("fine pitch", 20.0, 1.0, 1.2, 0.25, 0.002,
                "ANSI B6.7, fine pitch from 20 DP up: addendum 1.000/P, dedendum 1.200/P + 0.002 in; tip radius 0.25: from memory"),
)
# fmt: on
NAMES = tuple(dict.fromkeys(row.name for row in ROWS))
# above 32.1 degrees a rack tooth with dedendum 1.25 comes to a point
LOWEST_ANGLE, HIGHEST_ANGLE = 10.0, 32.0


def full_round(pressure_angle: float, dedendum: float) -> float:
    """Tip radius of a rack whose tooth ends in one full round [modules].

    pressure_angle: pressure angle of the rack [deg], above 0 and below 45.
    dedendum: height of the rack tooth below its pitch line [modules].
    Returns the largest radius the rack's tip land allows [modules].

    >>> round(full_round(20, 1.25), 4)
    0.4719
    """
    phi = radians(pressure_angle)
    half_land = pi / 4 - dedendum * tan(phi)  # half the rack tooth at its tip line
    return half_land * cos(phi) / (1 - sin(phi))


def system(name: str = _FULL, pressure_angle: float = 20.0) -> ToothSystem:
    """The row of a tooth system, by name and pressure angle.

    name: "full depth" (any pressure angle; 14.5, 20 and 25 degrees have rows of their own), "stub" or "fine
        pitch" (20 degrees only).
    pressure_angle: pressure angle [deg], 10 to 32.
    Returns for a full-depth pressure angle without a row of its own: addendum 1, dedendum 1.25 and the
        smaller of 0.38 and the full round of that rack [modules].
    ValueError for an unknown name, an angle outside 10 to 32 degrees, or an angle the system lacks.

    >>> system("fine pitch").extra_dedendum
    0.002
    >>> system("stub", 14.5)
    Traceback (most recent call last):
    ValueError: the tooth system 'stub' has no pressure angle of 14.5 deg: it is defined at 20 deg only
    """
    if name not in NAMES:
        raise ValueError(f"tooth system {name!r} is unknown: choose one of {', '.join(map(repr, NAMES))}")
    # numpy's floats are Real, its truth values are not
    if isinstance(pressure_angle, (bool, str)) or not isinstance(pressure_angle, Real):
        raise ValueError(
            f"pressure angle (pressure_angle = {pressure_angle!r}) is not a number: give one in deg"
        )
    pressure_angle = min(pressure_angle, 1e12)  # a whole number of any length is not written out
    if not LOWEST_ANGLE <= pressure_angle <= HIGHEST_ANGLE:
        hint = "; it looks like radians, give degrees" if 0 < pressure_angle < 1 else ""
        raise ValueError(
            f"pressure angle {pressure_angle:g} deg is outside {LOWEST_ANGLE:g} to {HIGHEST_ANGLE:g}"
            f" deg{hint}; the usual ones are 14.5, 20 and 25 deg"
        )
    for row in ROWS:
        if row.name == name and abs(row.pressure_angle - pressure_angle) < 1e-12:
            return row
    if name != _FULL:
        raise ValueError(
            f"the tooth system {name!r} has no pressure angle of {pressure_angle:g} deg: "
            "it is defined at 20 deg only"
        )
    basis = next(row for row in ROWS if row.pressure_angle == 20.0 and row.name == _FULL)
    radius = min(basis.tip_radius, full_round(pressure_angle, basis.dedendum))
    return replace(
        basis,
        pressure_angle=float(pressure_angle),
        tip_radius=radius,
        source=f"proportions of {basis.source}, at {pressure_angle:g} deg",
    )
