"""Rolling the rack through a blank: the numbers that fix a tooth, and what stops one from existing.

Lengths are in modules, angles in radians. The tooth stands on the +x axis; its left flank is the
counter-clockwise one.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, NamedTuple

from gearlab.shape.fillet import Fillet
from gearlab.shape.given import remedy
from gearlab.shape.involute import arcinv, inv

if TYPE_CHECKING:
    from gearlab.shape.rack import Rack


class Cut(NamedTuple):
    """A tooth as cut, in numbers; `fault` says in words why there is none (else '')."""

    base_radius: float
    tip_radius: float
    root_radius: float
    base_angle: float  # polar angle at which the left involute leaves the base circle [rad]
    limit_roll: float  # unwound angle at the end of the tool's flank; below 0 the tooth is undercut [rad]
    form_roll: float  # unwound angle where flank and fillet meet [rad]
    form_tilt: float  # tilt of the fillet's normal there [rad]
    tip_roll: float  # unwound angle at the tip circle [rad]
    tip_angle: float  # polar angle of the left end of the tip land [rad]
    root_angle: float  # polar angle at which the left fillet reaches the root circle [rad]
    fillet: Fillet
    fault: str


def cut_tooth(teeth: int, rack: Rack, profile_shift: float, thinning: float, tip_shortening: float) -> Cut:
    """Roll the rack through the blank and find where the curves of the tooth begin and end.

    teeth: tooth count [-].
    rack: basic rack of the tooth system (lengths in modules).
    profile_shift: distance by which the rack is moved outward [modules].
    thinning: amount taken off the tooth at the reference circle, by a tool with wider teeth [modules].
    tip_shortening: amount turned off the blank's radius [modules].
    Returns the numbers of the tooth [modules, rad]; `fault` is not empty where the cut leaves no tooth.

    >>> from gearlab.shape.rack import Rack
    >>> cut = cut_tooth(20, Rack(math.radians(20), 1.0, 1.25, 0.38), 0.0, 0.0, 0.0)
    >>> cut.tip_radius, cut.root_radius, cut.fault
    (11.0, 8.75, '')

    Source: ISO 53:1998 (rack), law of gearing (rolling).
    """
    phi = rack.pressure_angle
    r = teeth / 2.0
    base = r * math.cos(phi)
    tip = r + rack.addendum + profile_shift - tip_shortening
    root = r - rack.dedendum + profile_shift
    thickness = math.pi / 2 + 2.0 * profile_shift * math.tan(phi) - thinning
    base_angle = thickness / teeth + inv(phi)
    corner = rack.tool_half_tip(thinning) - rack.tip_radius * math.tan(math.pi / 4 - phi / 2)
    fillet = Fillet(
        reference_radius=r,
        centre_height=profile_shift - rack.dedendum + rack.tip_radius,
        centre_offset=math.pi / 2 - corner,
        round_radius=rack.tip_radius,
        pressure_angle=phi,
    )
    limit_roll = fillet.end_roll

    def failed(fault: str) -> Cut:
        nan = math.nan
        return Cut(base, tip, root, base_angle, limit_roll, nan, nan, nan, nan, nan, fillet, fault)

    if thickness <= 0.0:
        return failed(
            f"no tooth is left: it would be {thickness:.4f} modules thick on the reference circle, so nothing"
            " is left standing"
        )
    if root <= 0.0:
        return failed(f"the rack reaches {-root:.4g} modules past the centre of the gear")
    if tip <= base:
        return failed(
            f"the tip circle (radius {tip:.4f} modules) lies inside the base circle ({base:.4f} modules), "
            "so no involute is left"
        )
    tip_roll = math.sqrt((tip - base) * (tip + base)) / base
    if limit_roll < 0.0:
        form_tilt, form_roll = fillet.meet_involute()
    else:
        form_tilt, form_roll = fillet.last_tilt, limit_roll
    tip_angle = base_angle - (tip_roll - math.atan(tip_roll))
    cut = Cut(
        base,
        tip,
        root,
        base_angle,
        limit_roll,
        form_roll,
        form_tilt,
        tip_roll,
        tip_angle,
        fillet.centre_offset / r,
        fillet,
        "",
    )
    return cut._replace(fault=_fault(cut))


def _fault(cut: Cut) -> str:
    """Why there is no such tooth, as a clause; '' if there is one."""
    if cut.base_angle <= 0.0:
        return "the tool takes more than the whole thickness of the tooth, and nothing is left standing"
    if cut.tip_angle <= 0.0:
        point = cut.base_radius / math.cos(arcinv(cut.base_angle))
        return (
            f"its flanks meet in a point at radius {point:.4f} modules, below the tip circle "
            f"at radius {cut.tip_radius:.4f} modules"
        )
    if cut.form_roll >= cut.tip_roll:
        form = cut.base_radius * math.hypot(1.0, cut.form_roll)
        return (
            f"the root fillet reaches radius {form:.4f} modules, beyond the tip circle at radius "
            f"{cut.tip_radius:.4f} modules, so no involute is left"
        )
    waist, _ = cut.fillet.evaluate(cut.fillet.narrowest_tilt(cut.form_tilt))
    if waist[1] <= 0.0:
        return (
            f"the undercut from both sides meets at radius {math.hypot(*waist):.4f} modules "
            "and cuts the tooth off"
        )
    return ""


def explain_fault(
    teeth: int, rack: Rack, profile_shift: float, thinning: float, tip_shortening: float
) -> str:
    """The message for a tooth that cannot be cut: what happens, the limits, and values that would work.

    teeth: tooth count [-].
    rack: basic rack of the tooth system.
    profile_shift, thinning, tip_shortening: as for `cut_tooth` [modules].
    Returns one or more sentences; every value named as working has been tried.

    >>> from gearlab.shape.rack import Rack
    >>> message = explain_fault(8, Rack(math.radians(20), 1.0, 1.25, 0.38), 0.8, 0.0, 0.0)
    >>> "meet in a point" in message and "works" in message
    True

    Source: `cut_tooth`, tried at other values.
    """
    given: dict[str, Any] = {
        "teeth": teeth,
        "profile_shift": profile_shift,
        "thinning": thinning,
        "tip_shortening": tip_shortening,
    }
    words = (
        f"A tooth of teeth = {teeth}, profile_shift = {profile_shift:g}, thinning = {thinning:g}, "
        f"tip_shortening = {tip_shortening:g} (modules) cannot be cut: {cut_tooth(**given, rack=rack).fault}."
    )

    def works(**other: Any) -> bool:
        return not cut_tooth(**other, rack=rack).fault

    remedies = [remedy(given, name, works) for name in ("profile_shift", "tip_shortening", "thinning")]
    remedies = [remedy for remedy in remedies if remedy]
    if not remedies:
        for count in range(teeth + 1, 501):
            if not cut_tooth(**{**given, "teeth": count}, rack=rack).fault:
                remedies = [f"teeth must be at least {count} here"]
                break
        else:
            remedies = [
                "no other single value would help: go back to profile_shift = 0, thinning = 0,"
                " tip_shortening = 0"
            ]
    return f"{words} To get a tooth, {'; or '.join(remedies)}."
