"""Internal gears: a ring whose spaces have the shape of an external gear's teeth.

The ring's flanks are the involutes of its external counterpart, seen from the space. Its tip circle
lies inside, its root circle outside. How a ring's root is rounded depends on the tool (a pinion-like
cutter of some tooth count); no standard fixes it. Here it is an arc tangent to flank and root circle.

The space of the ring is the tooth of its external counterpart, so boring one is reckoned from the middle
of a space. Lengths are in modules, angles in radians. Tooth 0 is centred on the +x axis.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from numbers import Real
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np  # noqa: F401 (the examples below use it)

from gearlab.shape.curves import arc_angles, direction, find_zero
from gearlab.shape.form import Form, inside, on_side
from gearlab.shape.given import number, remedy
from gearlab.shape.involute import inv, unwind
from gearlab.shape.rack import Rack
from gearlab.shape.tooth import MOST_TEETH

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


class RingCut(NamedTuple):
    """An internal tooth in numbers."""

    base_radius: float
    tip_radius: float
    root_radius: float
    # polar angle, from the middle of a space, at which its left involute leaves the base circle [rad]
    base_angle: float
    form_roll: float  # unwound angle where flank and fillet meet [rad]
    tip_roll: float  # unwound angle at the tip circle [rad]
    tip_angle: float  # half the angle of the tip land [rad]
    round_radius: float  # radius of the root fillet
    round_angle: float  # polar angle of the fillet's centre from the middle of the space [rad]
    fillet_turn: float  # angle of the fillet's arc [rad]


def bore_ring(
    teeth: int,
    rack: Rack,
    profile_shift: float,
    thinning: float,
    tip_shortening: float,
    fillet_radius: float | None = None,
) -> RingCut:
    """Find where the curves of an internal tooth begin and end.

    teeth: tooth count [-].
    rack: basic rack of the tooth system (lengths in modules).
    profile_shift: distance by which the teeth are moved outward [modules].
    thinning: amount by which the tooth is thinner at the reference circle [modules].
    tip_shortening: amount by which the tip circle's radius is larger [modules].
    fillet_radius: radius of the root fillet [modules]; by default the rack's tip radius or, where that is
        smaller, the full round.
    Returns the numbers of the tooth [modules, rad].
    ValueError if there is no such tooth. The message says why, the limit, and what to change.

    >>> from gearlab.shape.rack import Rack
    >>> cut = bore_ring(72, Rack(math.radians(20), 1.0, 1.25, 0.38), 0.0, 0.0, 0.0)
    >>> cut.tip_radius, cut.root_radius, cut.round_radius
    (35.0, 37.25, 0.38)

    Source: ISO 21771:2007 (internal gears); the arc at the root is our own choice.
    """
    cut = _bored(teeth, rack, profile_shift, thinning, tip_shortening, fillet_radius)
    if isinstance(cut, RingCut):
        return cut

    def works(**other: Any) -> bool:
        try:
            return isinstance(_bored(rack=rack, fillet_radius=fillet_radius, **other), RingCut)
        except ValueError:  # the fillet would be too full there
            return False

    given = {
        "teeth": teeth,
        "profile_shift": profile_shift,
        "thinning": thinning,
        "tip_shortening": tip_shortening,
    }
    remedies = [
        sentence
        for name in ("profile_shift", "tip_shortening", "thinning")
        if (sentence := remedy(given, name, works))
    ]
    remedies += [
        f"teeth must be at least {count}"
        for count in range(teeth + 1, 501)
        if works(**{**given, "teeth": count})
    ][:1]
    remedies = remedies or [
        "no other single value would help: go back to profile_shift = 0, thinning = 0, tip_shortening = 0 and"
        " a rack of usual depth"
    ]
    raise ValueError(
        f"An internal gear of teeth = {teeth}, profile_shift = {profile_shift:g}, thinning = {thinning:g},"
        f" tip_shortening = {tip_shortening:g} (modules) cannot be cut: {cut}. To get a ring,"
        f" {'; or '.join(remedies)}."
    )


def _blank_fault(base: float, tip: float, root: float, thickness: float) -> str:
    """Why radii and thickness [modules] leave no tooth, "" if they do."""
    if thickness <= 0.0:
        return f"no tooth is left: it would be {thickness:.4f} modules thick on the reference circle"
    if tip < base:
        return (
            f"its tip circle (radius {tip:.4f} modules) lies inside the base circle ({base:.4f} modules),"
            " where there is no involute to cut"
        )
    if root <= tip:
        return f"its root circle (radius {root:.4f} modules) lies inside its tip circle ({tip:.4f} modules)"
    return ""


def _bored(
    teeth: int,
    rack: Rack,
    profile_shift: float,
    thinning: float,
    tip_shortening: float,
    fillet_radius: float | None,
) -> RingCut | str:
    """The numbers of a ring's tooth [modules, rad], or what stops it from existing."""
    phi = rack.pressure_angle
    r = teeth / 2.0
    base = r * math.cos(phi)
    tip, root = r - rack.addendum + profile_shift + tip_shortening, r + rack.dedendum + profile_shift
    base_angle = (math.pi / 2 + 2.0 * profile_shift * math.tan(phi) + thinning) / teeth + inv(phi)
    thickness = math.pi / 2 - 2.0 * profile_shift * math.tan(phi) - thinning
    if fault := _blank_fault(base, tip, root, thickness):
        return fault

    def roll_at(radius: float) -> float:
        return math.sqrt(max(0.0, (radius - base) * (radius + base))) / base

    def half_space(radius: float) -> float:
        roll = roll_at(radius)
        return base_angle - (roll - math.atan(roll))

    tip_roll, tip_angle = roll_at(tip), math.pi / teeth - half_space(tip)
    if tip_angle <= 0.0:
        return f"its teeth come to a point before their tip circle (radius {tip:.4f} modules)"
    if half_space(root) <= 0.0:
        return f"the flanks of a space meet before its root circle (radius {root:.4f} modules)"

    def form_roll(rounding: float) -> float:
        """Where an arc leaves the flank.

        Its centre lies on a parallel involute, shorter by the arc's radius.
        """
        return rounding / base + roll_at(root - rounding)

    def centre_angle(rounding: float) -> float:
        roll = form_roll(rounding)
        return base_angle - roll + math.atan(roll - rounding / base)

    deepest = root - base
    largest = deepest if centre_angle(deepest) >= 0.0 else find_zero(centre_angle, 0.0, deepest)
    if fillet_radius is not None and not 0.0 < fillet_radius <= largest + 1e-12:
        raise ValueError(
            f"fillet_radius = {fillet_radius!r} modules is outside 0 to {largest:.6f} modules, the full round"
            " that touches both flanks and the root circle. Give more than 0 and at most"
            f" {math.floor(largest * 1000) / 1000:.3f}."
        )
    # A rack with a sharp tip has no round to hand on: a corner is an arc of no length.
    rounding = float(fillet_radius) if fillet_radius is not None else min(max(rack.tip_radius, 1e-6), largest)
    roll = form_roll(rounding)
    if roll <= tip_roll:
        return (
            f"its root fillet of radius {rounding:.4f} modules reaches in to radius"
            f" {base * math.hypot(1.0, roll):.4f} modules, inside the tip circle ({tip:.4f} modules), so no"
            " involute is left"
        )
    at, turn = max(0.0, centre_angle(rounding)), math.pi / 2 - math.atan(roll - rounding / base)
    return RingCut(base, tip, root, base_angle, roll, tip_roll, tip_angle, rounding, at, turn)


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
