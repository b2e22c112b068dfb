"""The whole outline of a spur gear, cut from the basic rack as exact curves.

A tooth is made of an involute flank on either side, the tip arc, a generated root fillet on either
side and, where the tool's tip has a flat, an arc of the root circle. Each is available as a curve
with points and normals; `tooth_points` and `outline` lay a polygon on them within a chord tolerance.

Lengths are in modules, angles in radians. Tooth 0 is centred on the +x axis; counter-clockwise is
positive.
"""

from __future__ import annotations

import math  # noqa: F401 (the examples below use it)
from dataclasses import dataclass, field
from numbers import Real
from typing import TYPE_CHECKING

import numpy as np  # noqa: F401 (the examples below use it)

from gearlab.shape.curves import chord_parameters, direction
from gearlab.shape.form import Form, inside, on_side
from gearlab.shape.generation import Cut, cut_tooth, explain_fault
from gearlab.shape.involute import unwind
from gearlab.shape.rack import Rack

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


LEAST_TEETH, MOST_TEETH = 6, 500


@dataclass(frozen=True)
class ToothForm(Form):
    """A gear's tooth as the rack cuts it.

    teeth: tooth count [-], 6 to 500.
    rack: basic rack of the tooth system, lengths in modules.
    profile_shift: distance by which the rack is moved outward from the standard place [modules].
    thinning: amount by which the tooth is thinner at the reference circle [modules], 0 or more. The tool's
        teeth are that much wider, alike on both sides; the depth of cut stays the same. The thickness is pi/2
        + 2 profile_shift tan(pressure angle) - thinning.
    tip_shortening: amount by which the tip circle's radius is smaller [modules], 0 or more.
    ValueError if a value is out of range, or the cut leaves no tooth: pointed below its tip circle, its
        involute cut away, or cut off by undercut. The message says which, the limit, and a value that works.

    >>> form = ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38))
    >>> form.tip_radius, form.root_radius, form.undercut
    (11.0, 8.75, False)
    >>> outline = form.outline()
    >>> bool((outline[0] == outline[-1]).all())
    True

    Source: ISO 53:1998 (rack); law of gearing (rolling).
    """

    teeth: int
    rack: Rack
    profile_shift: float = 0.0
    thinning: float = 0.0
    tip_shortening: float = 0.0
    _cut: Cut = field(init=False, repr=False, compare=False)
    internal = False  # the teeth point outward

    def __post_init__(self) -> None:
        countable = isinstance(self.teeth, Real) and not isinstance(self.teeth, bool)
        if not countable or not LEAST_TEETH <= self.teeth <= MOST_TEETH or self.teeth != int(self.teeth):
            raise ValueError(
                f"teeth = {self.teeth!r} is not a whole number from {LEAST_TEETH} to {MOST_TEETH}. "
                "Give a tooth count in that range."
            )
        object.__setattr__(self, "teeth", int(self.teeth))
        self._take_proportions()
        self.rack.check_round(self.thinning)
        given = (self.teeth, self.rack, self.profile_shift, self.thinning, self.tip_shortening)
        cut = cut_tooth(*given)
        if cut.fault:
            raise ValueError(explain_fault(*given))
        object.__setattr__(self, "_cut", cut)

    @property
    def undercut(self) -> bool:
        """Whether the fillet cuts into the involute (bool)."""
        return self._cut.limit_roll < 0.0

    @property
    def flank_range(self) -> tuple[float, float]:
        """Unwound angles at the form circle and at the tip circle (two floats) [rad]."""
        return self._cut.form_roll, self._cut.tip_roll

    @property
    def fillet_range(self) -> tuple[float, float]:
        """Tilts of the fillet's normal at the root circle and at the form circle (two floats) [rad]."""
        return 0.0, self._cut.form_tilt

    @property
    def root_range(self) -> tuple[float, float]:
        """Polar angles of the ends of the root arc left of tooth 0, equal where there is none (two floats)
        [rad].
        """
        middle = self.pitch_angle / 2
        start = min(self._cut.root_angle, middle)  # a full round ends in the middle, to rounding
        return start, 2 * middle - start

    def flank(self, u: ArrayLike, side: int = 1) -> tuple[np.ndarray, np.ndarray]:
        """Involute flank of tooth 0.

        u: unwound angle, the tangent of the pressure angle at the point [rad], within `flank_range`.
        side: 1 for the left (counter-clockwise) flank, -1 for the right [-].
        Returns points, normals: points [modules] and unit normals pointing out of the tooth [-], of the shape
            of u + (2,).
        ValueError if u leaves the flank or side is neither 1 nor -1.

        >>> form = ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38))
        >>> points, normals = form.flank(math.tan(math.radians(20)))
        >>> round(float(np.hypot(*points)), 12)           # 20 degrees is at the reference circle
        10.0

        Source: string construction of the involute.
        """
        u = inside("flank u", u, self.flank_range)
        return on_side(*unwind(self.base_radius, u, self._cut.base_angle), side)

    def fillet(self, u: ArrayLike, side: int = 1) -> tuple[np.ndarray, np.ndarray]:
        """Root fillet beside tooth 0.

        u: tilt of the normal [rad], within `fillet_range`: 0 is at the root circle.
        side: 1 for the left (counter-clockwise) side of the tooth, -1 for the right [-].
        Returns points, normals: points [modules] and unit normals pointing out of the gear [-], of the shape
            of u + (2,).
        ValueError if u leaves the fillet or side is neither 1 nor -1.

        >>> points, normals = ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38)).fillet(0.0)
        >>> round(float(np.hypot(*points)), 12)
        8.75

        Source: law of gearing, the rack's rounded tip rolled through the space.
        """
        u = inside("fillet u", u, self.fillet_range)
        return on_side(*self._cut.fillet.evaluate(u), side)

    def _fillet_places(self, tolerance: float) -> np.ndarray:
        """Tilts from flank to root, no chord of the fillet further off than a tolerance [modules]."""
        return chord_parameters(self.fillet_range[1], 0.0, self._cut.fillet.chord_density, tolerance)

    def tip(self, angle: ArrayLike) -> tuple[np.ndarray, np.ndarray]:
        """Tip arc of tooth 0.

        angle: polar angle [rad], within `tip_range`.
        Returns points, normals: points [modules] and unit normals pointing outward [-], of the shape of angle
            + (2,).
        ValueError if the angle leaves the arc.

        >>> ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38)).tip(0.0)[0].tolist()
        [11.0, 0.0]

        Source: the blank is turned to the tip circle.
        """
        normals = direction(inside("tip angle", angle, self.tip_range))
        return self.tip_radius * normals, normals

    def root(self, angle: ArrayLike) -> tuple[np.ndarray, np.ndarray]:
        """Root arc in the space left (counter-clockwise) of tooth 0.

        angle: polar angle [rad], within `root_range`.
        Returns points, normals: points [modules] and unit normals pointing outward [-], of the shape of angle
            + (2,).
        ValueError if the angle leaves the arc.

        >>> form = ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38))
        >>> round(float(np.hypot(*form.root(math.pi / 20)[0])), 12)
        8.75

        Source: the flat of the tool's tip envelopes the root circle.
        """
        normals = direction(inside("root angle", angle, self.root_range))
        return self.root_radius * normals, normals
