"""Rolling the rack through a blank: the numbers that fix a tooth, and what stops one from existing.

The root fillet is what the tool's rounded tip leaves as it rolls through the space. While the gear turns by
``theta``, the rack's pitch line rolls on the gear's reference circle. At each moment the tool touches the
gear where the normal of the tool passes through the pitch point (the law of gearing). For a point of the
tip round whose normal is tilted by ``tilt`` from the radius through the pitch point this fixes the roll
angle,

    r theta = centre_offset - centre_height tan(tilt),

and with it the point of the gear. The tilt runs from 0 (the tip line: the bottom of the space) to
``pi/2 - pressure_angle`` (where the round ends and the tool's flank begins), so the fillet is one
closed expression, also for a sharp tool tip and for a round whose centre lies above the pitch line.

Lengths are in modules, angles in radians. The tooth stands on the +x axis; its left flank is the
counter-clockwise one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from gearlab.shape.curves import direction, find_zero
from gearlab.shape.given import remedy
from gearlab.shape.involute import arcinv, inv

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from gearlab.shape.rack import Rack

# Below this roll length the meeting with the involute is known better in closed form than by search.
_NEAR_LIMIT = 1e-6


@dataclass(frozen=True)
class Fillet:
    """Root fillet on the left (counter-clockwise) side of the tooth centred on the +x axis.

    reference_radius: radius of the circle on which the rack rolls, half the tooth count [modules].
    centre_height: height of the centre of the tool's tip round above the pitch line [modules].
    centre_offset: distance of that centre along the pitch line from the middle of the tooth [modules].
    round_radius: radius of the tool's tip round [modules], 0 or more.
    pressure_angle: pressure angle of the rack [rad].

    >>> fillet = Fillet(10.0, -0.87, 1.4, 0.38, math.radians(20))
    >>> points, normals = fillet.evaluate(0.0)
    >>> round(math.hypot(*points), 6), round(float(math.atan2(points[1], points[0])), 6)
    (8.75, 0.14)

    Source: law of gearing; the bottom lies at reference_radius + centre_height - round_radius.
    """

    reference_radius: float
    centre_height: float
    centre_offset: float
    round_radius: float
    pressure_angle: float

    @property
    def last_tilt(self) -> float:
        """Tilt of the normal where the tool's round passes into its flank [rad]."""
        return math.pi / 2 - self.pressure_angle

    @property
    def end_roll(self) -> float:
        """Unwound angle of the involute at the end of the tool's flank.

        Below 0 the tooth is undercut [rad].
        """
        sine, cosine = math.sin(self.pressure_angle), math.cos(self.pressure_angle)
        flank_end = self.centre_height - self.round_radius * sine  # height above the pitch line
        return sine / cosine + flank_end / (sine * cosine * self.reference_radius)

    def roll(self, tilt: ArrayLike) -> float | np.ndarray:
        """Roll angle of the gear when the point of that tilt is cut [rad].

        tilt: tilt of the normal [rad], 0 to last_tilt.

        >>> round(float(Fillet(10.0, -0.87, 1.4, 0.38, math.radians(20)).roll(0.0)), 12)
        0.14

        Source: law of gearing.
        """
        return (self.centre_offset - self.centre_height * np.tan(tilt)) / self.reference_radius

    def evaluate(self, tilt: ArrayLike) -> tuple[np.ndarray, np.ndarray]:
        """Points and normals of the fillet.

        tilt: tilt of the normal [rad], 0 (bottom of the space) to last_tilt.
        Returns points, normals: points [modules] and unit normals pointing out of the gear [-], of the shape
            of tilt + (2,).

        >>> points, normals = Fillet(10.0, -0.87, 1.4, 0.38, math.radians(20)).evaluate([0.0, 0.5])
        >>> points.shape, normals.shape
        ((2, 2), (2, 2))

        Source: law of gearing.
        """
        tilt = np.asarray(tilt, dtype=float)
        theta = self.roll(tilt)
        normals = direction(theta + tilt)
        reach = self.centre_height / np.cos(tilt) - self.round_radius
        return self.reference_radius * direction(theta) + reach[..., None] * normals, normals

    def chord_density(self, tilt: np.ndarray) -> np.ndarray:
        """Square root of arc length times turning per tilt, for equal chord errors [sqrt(modules) per rad].

        tilt: tilt of the normal [rad].

        >>> Fillet(1e9, -0.87, 1.4, 0.36, 0.35).chord_density(np.array([0.0])).round(3).tolist()
        [0.6]

        Source: derivative of `evaluate`; on a rack (endless radius) the fillet is the round itself.
        """
        cosine = np.cos(tilt)
        roll_rate = -self.centre_height / (self.reference_radius * cosine**2)
        reach = self.centre_height / cosine - self.round_radius
        speed = reach * roll_rate - self.round_radius
        return np.sqrt(np.abs(speed * (1.0 + roll_rate)))

    def narrowest_tilt(self, end: float) -> float:
        """Tilt at which the fillet comes nearest to the middle of the tooth.

        end: tilt at which the fillet ends [rad].
        Returns tilt [rad]: where the fillet runs along a radius (the waist of an undercut tooth), or `end`.

        >>> Fillet(20.0, -0.87, 1.4, 0.38, math.radians(20)).narrowest_tilt(1.2)
        1.2

        Source: point and normal are square where r cos(tilt)^2 - round cos(tilt) + height = 0.
        """
        r, rho = self.reference_radius, self.round_radius
        root = rho * rho - 4.0 * r * self.centre_height
        if root <= 0.0:
            return end
        cosine = (rho + math.sqrt(root)) / (2.0 * r)
        return math.acos(cosine) if math.cos(end) < cosine <= 1.0 else end

    def meet_involute(self) -> tuple[float, float]:
        """Where the fillet cuts the involute of an undercut tooth.

        The tool's flank ends at a point that would lie on the continuation of the involute beyond its
        start on the base circle. The fillet comes from inside the base circle, passes through the true
        involute, and touches that continuation. Between the base circle and its end it always crosses
        exactly once: the distance to either branch grows all the way, and the two agree on the circle.
        Near the limit of undercut the crossing closes in on the base circle with the square of
        `end_roll` and the distance with its cube, so everything is written in differences from the
        fillet's end, where no digits cancel. Only for an undercut tooth (`end_roll` below 0).

        Returns tilt, roll: tilt of the fillet [rad] and unwound angle of the involute [rad] at the common
            point.

        >>> r, phi = 5.0, math.radians(20)
        >>> fillet = Fillet(r, -0.87, 1.4, 0.38, phi)
        >>> tilt, roll = fillet.meet_involute()
        >>> points, _ = fillet.evaluate(tilt)
        >>> bool(abs(math.hypot(*points) - r * math.cos(phi) * math.hypot(1.0, roll)) < 1e-14)
        True

        Source: law of gearing; geometry of the string construction.
        """
        r, height, phi = self.reference_radius, self.centre_height, self.pressure_angle
        base = r * math.cos(phi)
        sine = math.sin(phi)
        end_roll = self.end_roll
        if end_roll > -_NEAR_LIMIT:
            # Leading terms: the crossing lies at half the roll length, on the other branch.
            return self.last_tilt - 0.375 * end_roll**2 / math.tan(phi), -end_roll / 2

        def place(back: float) -> tuple[float, float, float]:
            """Along the normal, across it and the roll from the end, for a tilt `back` before the last."""
            cosine = math.sin(phi + back)
            rise = 2.0 * math.cos(phi + back / 2) * math.sin(back / 2)  # cosine - sine
            along = base * end_roll - height * rise / (cosine * sine) + r * rise
            turned = height / r * math.sin(back) / (cosine * sine)
            return along, r * math.cos(phi + back), turned

        def roll_squared(back: float) -> float:
            along, _, _ = place(back)
            return (along**2 - r * r * math.sin(back) * math.sin(2 * phi + back)) / base**2

        def ahead(back: float) -> float:
            """Angle by which the fillet is ahead of (outside) the involute at its radius."""
            along, across, turned = place(back)
            roll = math.sqrt(max(0.0, roll_squared(back)))
            return turned - back + math.atan2(along, across) - end_roll + roll - math.atan(roll)

        on_base = find_zero(roll_squared, 0.0, self.last_tilt)
        back = find_zero(ahead, 0.0, on_base)
        return self.last_tilt - back, math.sqrt(max(0.0, roll_squared(back)))


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
