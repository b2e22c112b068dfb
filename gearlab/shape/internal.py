"""Internal gears: a ring whose spaces have the shape of an external gear's teeth.

The ring's flanks are the involutes of its external counterpart, seen from the space. Its tip circle
lies inside, its root circle outside. How a ring's root is rounded depends on the tool (a pinion-like
cutter of some tooth count); no standard fixes it. Here it is an arc tangent to flank and root circle.

Lengths are in modules, angles in radians. Tooth 0 is centred on the +x axis.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from numbers import Real
from typing import TYPE_CHECKING

import numpy as np  # noqa: F401 (the examples below use it)

from gearlab.shape.boring import RingCut, bore_ring
from gearlab.shape.curves import arc_angles, direction
from gearlab.shape.form import Form, inside, on_side
from gearlab.shape.given import number
from gearlab.shape.involute import unwind
from gearlab.shape.rack import Rack
from gearlab.shape.tooth import MOST_TEETH

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


@dataclass(frozen=True)
class InternalToothForm(Form):
    """A tooth of an internal gear (ring).

    teeth: tooth count [-], up to 500; the least count is that at which the tip circle leaves the base circle.
    rack: basic rack of the tooth system, lengths in modules.
    profile_shift: distance by which the teeth are moved outward from the standard place [modules]: the spaces
        grow by 2 profile_shift tan(pressure angle), as the teeth of the external counterpart would.
    thinning: amount by which the tooth is thinner at the reference circle [modules], 0 or more.
    tip_shortening: amount by which the tip circle's radius is larger [modules], 0 or more.
    fillet_radius: radius of the root fillet, an arc [modules], more than 0 and up to the full round of the
        space. By default the rack's tip radius, or the full round where that is smaller.
    ValueError if a value is out of range, the tip circle lies inside the base circle, or no tooth is left.

    >>> ring = InternalToothForm(72, Rack(math.radians(20), 1.0, 1.25, 0.38))
    >>> ring.tip_radius, ring.root_radius
    (35.0, 37.25)

    Source: ISO 21771:2007 (internal gears: the tooth as the counterpart's space); the arc at the root is
    our own choice: a cutter's true fillet is a trochoid that depends on its tooth count.
    """

    teeth: int
    rack: Rack
    profile_shift: float = 0.0
    thinning: float = 0.0
    tip_shortening: float = 0.0
    fillet_radius: float | None = None
    _cut: RingCut = field(init=False, repr=False, compare=False)

    internal = True  # the teeth point inward

    def __post_init__(self) -> None:
        countable = isinstance(self.teeth, Real) and not isinstance(self.teeth, bool)
        if not countable or not 1 <= self.teeth <= MOST_TEETH or self.teeth != int(self.teeth):
            raise ValueError(
                f"teeth = {self.teeth!r} of an internal gear is not a whole number up to {MOST_TEETH}. Give a"
                " tooth count in that range."
            )
        object.__setattr__(self, "teeth", int(self.teeth))
        self._take_proportions()
        if self.fillet_radius is not None:
            object.__setattr__(self, "fillet_radius", number("fillet_radius", self.fillet_radius))
        given = (
            self.teeth,
            self.rack,
            self.profile_shift,
            self.thinning,
            self.tip_shortening,
            self.fillet_radius,
        )
        object.__setattr__(self, "_cut", bore_ring(*given))

    @property
    def undercut(self) -> bool:
        """False: a ring cut with this fillet keeps its whole involute."""
        return False

    @property
    def flank_range(self) -> tuple[float, float]:
        """Unwound angles at the form circle and at the tip circle, the larger first (two floats) [rad]."""
        return self._cut.form_roll, self._cut.tip_roll

    @property
    def fillet_range(self) -> tuple[float, float]:
        """Angles along the fillet's arc at the root circle and at the form circle (two floats) [rad]."""
        return 0.0, self._cut.fillet_turn

    @property
    def root_range(self) -> tuple[float, float]:
        """Polar angles of the ends of the root arc left of tooth 0, equal where there is none (two floats)
        [rad].
        """
        middle, half = self.pitch_angle / 2, self._cut.round_angle
        return middle - half, middle + half

    def flank(self, u: ArrayLike, side: int = 1) -> tuple[np.ndarray, np.ndarray]:
        """Involute flank of tooth 0.

        u: unwound angle, the tangent of the pressure angle at the point [rad], within `flank_range`.
        side: 1 for the left (counter-clockwise) flank, -1 for the right [-].
        Returns points, normals: points [modules] and unit normals pointing out of the tooth into the space
            [-], shape of u + (2,).
        ValueError if u leaves the flank or side is neither 1 nor -1.

        >>> ring = InternalToothForm(72, Rack(math.radians(20), 1.0, 1.25, 0.38))
        >>> round(float(np.hypot(*ring.flank(math.tan(math.radians(20)))[0])), 12)
        36.0

        Source: string construction of the involute; the counterpart's right flank, one half pitch on.
        """
        u = inside("flank u", u, (self._cut.tip_roll, self._cut.form_roll))
        points, normals = unwind(self.base_radius, u, self._cut.base_angle - self.pitch_angle / 2)
        return on_side(points * (1.0, -1.0), normals * (-1.0, 1.0), side)

    def fillet(self, u: ArrayLike, side: int = 1) -> tuple[np.ndarray, np.ndarray]:
        """Root fillet beside tooth 0, an arc.

        u: angle along the arc [rad], within `fillet_range`: 0 is at the root circle.
        side: 1 for the left (counter-clockwise) side of the tooth, -1 for the right [-].
        Returns points, normals: points [modules] and unit normals pointing out of the tooth into the space
            [-], shape of u + (2,).
        ValueError if u leaves the arc or side is neither 1 nor -1.

        >>> ring = InternalToothForm(72, Rack(math.radians(20), 1.0, 1.25, 0.38))
        >>> round(float(np.hypot(*ring.fillet(0.0)[0])), 12)
        37.25

        Source: arc tangent to the flank and to the root circle.
        """
        u = inside("fillet u", u, self.fillet_range)
        at = self.pitch_angle / 2 - self._cut.round_angle
        normals = direction(at + math.pi - u)
        points = (self.root_radius - self._cut.round_radius) * direction(
            at
        ) - self._cut.round_radius * normals
        return on_side(points, normals, side)

    def _fillet_places(self, tolerance: float) -> np.ndarray:
        """Angles from flank to root, no chord of the arc further off than a tolerance [modules]."""
        radius = self._cut.round_radius
        return arc_angles(self.fillet_range[1], 0.0, radius, min(tolerance, radius))

    def tip(self, angle: ArrayLike) -> tuple[np.ndarray, np.ndarray]:
        """Tip arc of tooth 0.

        angle: polar angle [rad], within `tip_range`.
        Returns points, normals: points [modules] and unit normals pointing to the ring's centre [-], of the
            shape of angle + (2,).
        ValueError if the angle leaves the arc.

        >>> InternalToothForm(72, Rack(math.radians(20), 1.0, 1.25, 0.38)).tip(0.0)[0].tolist()
        [35.0, 0.0]

        Source: the blank is bored to the tip circle.
        """
        outward = direction(inside("tip angle", angle, self.tip_range))
        return self.tip_radius * outward, -outward

    def root(self, angle: ArrayLike) -> tuple[np.ndarray, np.ndarray]:
        """Root arc in the space left (counter-clockwise) of tooth 0.

        angle: polar angle [rad], within `root_range`.
        Returns points, normals: points [modules] and unit normals pointing to the ring's centre [-], of the
            shape of angle + (2,).
        ValueError if the angle leaves the arc.

        >>> ring = InternalToothForm(72, Rack(math.radians(20), 1.0, 1.25, 0.38))
        >>> round(float(np.hypot(*ring.root(math.pi / 72)[0])), 12)
        37.25

        Source: the tip of the cutter leaves the root circle.
        """
        outward = direction(inside("root angle", angle, self.root_range))
        return self.root_radius * outward, -outward
