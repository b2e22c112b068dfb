"""Boring a ring: the numbers that fix an internal tooth, and what stops one from existing.

The space of the ring is the tooth of its external counterpart, so everything is reckoned from the
middle of a space. Lengths are in modules, angles in radians.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, NamedTuple

from gearlab.shape.curves import find_zero
from gearlab.shape.given import remedy
from gearlab.shape.involute import inv

if TYPE_CHECKING:
    from gearlab.shape.rack import Rack


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
