"""What an external gear's tooth and a ring's tooth have in common: radii, ranges and the outline.

The outline is a polygon laid on the curves of a tooth and repeated round the gear: every vertex lies on a
curve, and between two of them the chord keeps within the tolerance. Lengths are in modules, angles in
radians.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING, ClassVar

import numpy as np  # noqa: F401 (the examples below use it)

from gearlab.shape.curves import arc_angles, chord_parameters, direction
from gearlab.shape.given import is_number, number, numbers
from gearlab.shape.rack import Rack

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from gearlab.shape.generation import Cut
    from gearlab.shape.internal import RingCut

# Parameters may miss the end of their range by this much, from rounding [rad].
_ROUNDING = 1e-12


class Form:
    """A tooth form cut from a basic rack; a subclass has ``teeth`` [-], ``_cut`` and the curves.

    Lengths are in modules, angles in radians. In a ring the tip circle is the inner one, the root
    circle the outer one.
    """

    internal: ClassVar[bool]

    if TYPE_CHECKING:  # what each of the two has

        @property
        def teeth(self) -> int: ...

        @property
        def rack(self) -> Rack: ...

        @property
        def profile_shift(self) -> float: ...

        @property
        def _cut(self) -> Cut | RingCut: ...

        @property
        def flank_range(self) -> tuple[float, float]: ...

        @property
        def fillet_range(self) -> tuple[float, float]: ...

        @property
        def root_range(self) -> tuple[float, float]: ...

        def flank(self, u: ArrayLike, side: int = 1) -> tuple[np.ndarray, np.ndarray]: ...

        def fillet(self, u: ArrayLike, side: int = 1) -> tuple[np.ndarray, np.ndarray]: ...

        def tip(self, angle: ArrayLike) -> tuple[np.ndarray, np.ndarray]: ...

        def root(self, angle: ArrayLike) -> tuple[np.ndarray, np.ndarray]: ...

        def _fillet_places(self, tolerance: float) -> np.ndarray: ...

    def _take_proportions(self) -> None:
        """Rack, shift, thinning and shortening as numbers; ValueError for what is none or out of range."""
        if not isinstance(self.rack, Rack):
            raise ValueError(
                f"rack = {self.rack!r} is no basic rack. Give a Rack: the tooth system's proportions."
            )
        for name, least in (("profile_shift", -math.inf), ("thinning", 0.0), ("tip_shortening", 0.0)):
            value = number(name, getattr(self, name))
            if value < least:
                raise ValueError(f"{name} = {value:g} modules is out of range. Give 0 modules or more.")
            object.__setattr__(self, name, value)

    @property
    def pitch_angle(self) -> float:
        """Angle from one tooth to the next [rad]."""
        return 2.0 * math.pi / self.teeth

    @property
    def reference_radius(self) -> float:
        """Radius of the reference circle, on which the rack rolls: half the tooth count [modules]."""
        return self.teeth / 2.0

    @property
    def base_radius(self) -> float:
        """Radius of the circle from which the flanks unwind [modules]."""
        return self._cut.base_radius

    @property
    def tip_radius(self) -> float:
        """Radius of the tip circle [modules]."""
        return self._cut.tip_radius

    @property
    def root_radius(self) -> float:
        """Radius of the root circle [modules]."""
        return self._cut.root_radius

    @property
    def form_radius(self) -> float:
        """Radius at which flank and fillet meet [modules]."""
        return self.base_radius * math.hypot(1.0, self._cut.form_roll)

    @property
    def tip_range(self) -> tuple[float, float]:
        """Polar angles of the right and left end of the tip arc of tooth 0 (two floats) [rad]."""
        return -self._cut.tip_angle, self._cut.tip_angle

    def tooth_points(self, tolerance: float = 1e-4) -> np.ndarray:
        """One pitch of the outline, from the middle of one space over tooth 0 to the middle of the next.

        tolerance: largest distance between chord and curve [modules], 1e-9 to 0.05.
        Returns points in counter-clockwise order [modules], shape (n, 2); the last is the first, one pitch
            on.
        ValueError if the tolerance is out of range.

        >>> from gearlab.shape.tooth import Rack, ToothForm
        >>> points = ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38)).tooth_points()
        >>> bool(np.allclose(points[::-1] * (1, -1), points, rtol=0, atol=1e-12))
        True

        Source: the curves above, chords spaced by their sagitta.
        """
        return lay_tooth(self, tolerance)

    def outline(self, tolerance: float = 1e-4) -> np.ndarray:
        """Outline of the whole gear, closed, counter-clockwise; for a ring, of the hole inside it.

        tolerance: largest distance between chord and curve [modules], 1e-9 to 0.05.
        Returns points [modules], shape (n, 2); the last point is the first again. It starts in the middle of
            the space on the clockwise side of tooth 0.
        ValueError if the tolerance is out of range.

        >>> from gearlab.shape.tooth import Rack, ToothForm
        >>> ToothForm(6, Rack(math.radians(20), 1.0, 1.25, 0.38)).outline().shape[1]
        2

        Source: one tooth, turned by each multiple of the pitch angle.
        """
        return lay_outline(self, tolerance)


def inside(name: str, value: ArrayLike, limits: tuple[float, float]) -> np.ndarray:
    """The value [rad] as an array, or ValueError if it leaves the limits [rad]."""
    value = numbers(name, value)
    outside = ~((value >= limits[0] - _ROUNDING) & (value <= limits[1] + _ROUNDING))
    if outside.any():
        raise ValueError(
            f"{name} = {float(value[outside].flat[0])!r} rad leaves the curve, which runs from "
            f"{limits[0]!r} to {limits[1]!r} rad. Give a value in that range."
        )
    return value


def on_side(points: np.ndarray, normals: np.ndarray, side: int) -> tuple[np.ndarray, np.ndarray]:
    """Points [modules] and normals [-] of the left side, or mirrored for the right one (side -1 [-])."""
    if is_number(side) and side == 1:
        return points, normals
    if is_number(side) and side == -1:
        return points * (1.0, -1.0), normals * (1.0, -1.0)
    raise ValueError(
        f"side = {side!r} is neither 1 (left, counter-clockwise) nor -1 (right). Give one of the two."
    )


FINEST, COARSEST = 1e-9, 0.05  # chord tolerances [modules]
# A root arc shorter than this is no arc: the fillets meet, to rounding [modules].
_NO_ARC = 1e-9


def lay_tooth(form: Form, tolerance: float) -> np.ndarray:
    """One pitch of outline, from the middle of one space over tooth 0 to the middle of the next.

    tolerance: largest distance between chord and curve [modules], 1e-9 to 0.05.
    Returns points in counter-clockwise order [modules], shape (n, 2), a copy of the caller's own.
    ValueError if the tolerance is out of range.

    >>> import math
    >>> from gearlab.shape import Rack, ToothForm
    >>> form = ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38))
    >>> len(lay_tooth(form, 1e-3)) < len(lay_tooth(form, 1e-5))
    True

    Source: the exact curves of the form.
    """
    return _laid(form, chord_tolerance(tolerance)).copy()


def lay_outline(form: Form, tolerance: float) -> np.ndarray:
    """Closed outline of the whole gear, counter-clockwise.

    tolerance: largest distance between chord and curve [modules], 1e-9 to 0.05.
    Returns points [modules], shape (n, 2); the last is the first again.
    ValueError if the tolerance is out of range.

    >>> import math
    >>> from gearlab.shape import Rack, ToothForm
    >>> form = ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38))
    >>> len(lay_outline(form, 1e-4)) == 20 * (len(lay_tooth(form, 1e-4)) - 1) + 1
    True

    Source: one tooth, turned by each multiple of the pitch angle.
    """
    tooth = _laid(form, chord_tolerance(tolerance))[:-1]
    turns = np.arange(form.teeth) * form.pitch_angle
    # A point as the complex number x + iy is turned by one product, for all teeth at once.
    turned = np.exp(1j * turns)[:, None] * (tooth[:, 0] + 1j * tooth[:, 1])
    closed = np.empty(turned.size + 1, dtype=complex)
    closed[:-1] = turned.ravel()
    closed[-1] = closed[0]
    return closed.view(float).reshape(-1, 2)


@lru_cache(maxsize=64)
def _laid(form: Form, tolerance: float) -> np.ndarray:
    """Points of one pitch; kept for the teeth drawn last, since a picture asks for the same ones again."""
    middle = form.pitch_angle / 2
    tip = form.tip(arc_angles(0.0, form.tip_range[1], form.tip_radius, tolerance))[0]
    form_roll, tip_roll = form.flank_range
    # The speed of an involute is base_radius * u, and it turns by 1 per unit of u.
    rolls = chord_parameters(tip_roll, form_roll, lambda u: np.sqrt(form.base_radius * u), tolerance)
    parts = [tip, form.flank(rolls)[0][1:], form.fillet(form._fillet_places(tolerance))[0][1:]]
    root_angle = form.root_range[0]
    if (middle - root_angle) * form.root_radius > _NO_ARC:
        parts.append(form.root(arc_angles(root_angle, middle, form.root_radius, tolerance)[1:])[0])
    left = np.concatenate(parts)
    left[-1] = form.root_radius * direction(middle)  # where the next tooth takes over, to the last digit
    return np.concatenate((left[:0:-1] * (1.0, -1.0), left))


def chord_tolerance(tolerance: float) -> float:
    """The largest chord error a reader accepts [modules], or ValueError with the limits."""
    if not FINEST <= number("tolerance", tolerance) <= COARSEST:
        raise ValueError(
            f"tolerance = {tolerance!r} modules is outside {FINEST:g} to {COARSEST:g} modules. "
            "Give the largest chord error you accept; 1e-4 is usual."
        )
    return float(tolerance)
