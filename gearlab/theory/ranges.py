"""Where a formula holds: conditions that run, each with its sentence.

A range is a sentence and the conditions behind it: numbers that must not lie below, above or off a limit.
Number and limit are written once, like a relation, over the quantities; so the same range is read to a
student, checked as soon as numbers stand in, and asked by the parts, which then measure what theory may not
tell.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import degrees
from typing import Protocol

import sympy as sp
from sympy import Rational, cos, pi, sin, sqrt, tan

from .functions import even_factor, flank_start
from .units import written

AT_LEAST, AT_MOST, EXACTLY = "at least", "at most", "exactly"
# Rounding may bring a number so near to its limit [share of the limit; for a limit of 0 an absolute number].
_ROUNDING, _NEAR_ZERO = 1e-9, 1e-12


class Terms(Protocol):
    """What a formula is written over: the symbol, or the fixed number, of each quantity by its word."""

    def __getattr__(self, word: str) -> sp.Expr: ...


@dataclass(frozen=True)
class Condition:
    """One number and its limit.

    what: the number in words, as "teeth of the driver"; ``{gear}`` stands for the gear it is asked of.
    number, limit: take a namespace ``q`` of sympy symbols by word, like a relation [one unit, angles in rad].
    sense: ``AT_LEAST``, ``AT_MOST`` or ``EXACTLY``.
    otherwise: what is the case where it does not hold: "the driver is undercut".
    dimension: of number and limit, for their unit in a message.
    where: gives a number; only where it is not below 0 does the condition matter.

    >>> ODD.conditions[0].sense
    'at most'
    """

    what: str
    number: Callable
    limit: Callable
    sense: str
    otherwise: str
    dimension: str = "number"
    where: Callable | None = None


@dataclass(frozen=True)
class Range:
    """Where a relation holds.

    says: as it goes on after "It holds": "without undercut".
    conditions: all of them must hold.
    instead: what to do or ask where they do not.
    alone: true where only this number goes by the range: what rests on it uses it as a nominal size.

    >>> str(ODD)
    'for an odd count'
    """

    says: str
    conditions: tuple[Condition, ...]
    instead: str
    alone: bool = False

    def __str__(self) -> str:
        return self.says


@dataclass(frozen=True)
class Bound:
    """A condition put into a scope: number and limit in symbols, the gear by name."""

    condition: Condition
    what: str
    otherwise: str
    number: sp.Expr
    limit: sp.Expr
    where: sp.Expr = sp.Integer(0)

    @property
    def symbols(self) -> set[sp.Symbol]:
        """What must be known to check it."""
        return self.number.free_symbols | self.limit.free_symbols | self.where.free_symbols

    def broken(self, number: float, limit: float, where: float = 0.0) -> bool:
        """True if a number lies on the wrong side of its limit [all in one unit, rad].

        A last bit does not count.

        >>> from gearlab.theory.scope import scope_for
        >>> from gearlab.theory.systems import system
        >>> plain = scope_for("gear", "mm", (system(),))
        >>> plain.bounds(plain.equation("form_radius"))[0].broken(12.0, 17.1)
        True
        """
        if where < -_NEAR_ZERO:
            return False
        slack = _ROUNDING * abs(limit) + _NEAR_ZERO
        sense = self.condition.sense
        return (sense != AT_MOST and not number >= limit - slack) or (
            sense != AT_LEAST and not number <= limit + slack
        )


@dataclass(frozen=True)
class Refusal:
    """Why a formula does not tell a number: which bound is broken, and by what numbers [one unit, rad].

    in_modules: whether they are those of one module, where the size of the tooth cancels.
    """

    bound: Bound
    span: Range
    number: float
    limit: float
    in_modules: bool = False

    def reason(self, length_unit: str) -> str:
        """What is the case, with the number and its limit.

        >>> from gearlab import Gear
        >>> print(Gear(12, module=2.5).refused["across_tips"].reason("mm"))
        the count is even, and a tip is opposite a tip: the factor of an even count is 1, and would have
        to be at most 0
        """
        unit = self._unit(length_unit)
        shown = [
            degrees(x) if self.bound.condition.dimension == "angle" else x for x in (self.number, self.limit)
        ]
        number, limit = (f"{x:.6g}" for x in shown)
        if number == limit:  # never alike on paper where they differ
            number, limit = (f"{x:.12g}" for x in shown)
        return (
            f"{self.bound.otherwise}: {self.bound.what} is {number}{unit}, and would have to be "
            f"{self.bound.condition.sense} {limit}{unit}"
        )

    def sentence(self, meaning: str, length_unit: str) -> str:
        """The whole refusal for a quantity of a meaning: range, reason, limit, and what to do instead."""
        return (
            f"{meaning}: this formula holds {self.span.says}. Here {self.reason(length_unit)}."
            f" {self.span.instead}"
        )

    def _unit(self, length_unit: str) -> str:
        dimension = self.bound.condition.dimension
        if dimension == "length" and self.in_modules:
            return " modules"
        name = {"length": length_unit, "angle": "deg"}.get(dimension, "")
        return f" {written(name)}" if name else ""


# -- what the ranges are made of -----------------------------------------------------------------------
def _own(word: str) -> Callable:
    return lambda q: getattr(q, word)


def _zero(q: Terms) -> sp.Expr:
    return sp.Integer(0)


def flank_end(q: Terms) -> sp.Expr:
    """Where the straight flank of the rack stops cutting, along the line of action from the tangent point on
    the base circle outwards [one length unit]; below 0 the rack undercuts the tooth."""
    depth = (
        q.dedendum_factor
        + q.extra_dedendum / q.module
        - q.rack_tip_radius * (1 - sin(q.pressure_angle))
        - q.profile_shift
    )
    return q.pitch_radius * sin(q.pressure_angle) - q.module / sin(q.pressure_angle) * depth


def cut_form_radius(q: Terms) -> sp.Expr:
    """The form radius of a tooth, undercut or not [one length unit].

    The formula of ``form_radius`` with the flank's start as cut.
    """
    phi, radius = q.pressure_angle, q.rack_tip_radius
    # of the middle of the rack's rounded tip
    depth = q.dedendum_factor + q.extra_dedendum / q.module - radius
    aside = pi / 4 - q.tooth_thinning / q.module / 2 + depth * tan(phi) + radius / cos(phi)
    thickness = pi / 2 + 2 * q.profile_shift * tan(phi) - q.tooth_thinning / q.module
    start = flank_start(q.teeth, phi, thickness, depth - q.profile_shift, radius, aside)
    return sqrt(q.base_radius**2 + (start * q.module) ** 2)


def _called(side: str) -> str:
    return {"driver": "the driver", "driven": "the driven gear"}[side]


def _meets_flank(side: str, where: Callable | None = None) -> Condition:
    """The mate's tip circle crosses the line of action where this gear has its flank, outside fillet and
    undercut.
    """
    mate = "driven" if side == "driver" else "driver"

    def tip(q: Terms) -> sp.Expr:
        reach = sqrt(getattr(q, f"{mate}_outside_radius") ** 2 - getattr(q, f"{mate}_base_radius") ** 2)
        return (q.driver_base_radius + q.driven_base_radius) * tan(q.operating_pressure_angle) - reach

    def end(q: Terms) -> sp.Expr:
        return sqrt(getattr(q, f"{side}_form_radius") ** 2 - getattr(q, f"{side}_base_radius") ** 2)

    return Condition(
        "where they meet it, from its tangent point along the line of action,",
        tip,
        end,
        AT_LEAST,
        f"the tips of {_called(mate)} reach past the flank of {_called(side)}, into its fillet or undercut",
        "length",
        where,
    )


def _keeps_clear(side: str) -> Condition:
    """This gear's tips keep off the mate's roots by half of what the rack leaves.

    Nearer they run into its fillets before its flanks close.
    """
    mate = "driven" if side == "driver" else "driver"

    def clear(q: Terms) -> sp.Expr:
        return q.centre_distance - getattr(q, f"{side}_outside_radius") - getattr(q, f"{mate}_root_radius")

    def half(q: Terms) -> sp.Expr:
        dedendum, addendum = getattr(q, f"{mate}_dedendum_factor"), getattr(q, f"{mate}_addendum_factor")
        return ((dedendum - addendum) * q.module + getattr(q, f"{mate}_extra_dedendum")) / 2

    return Condition(
        f"the clearance of {_called(side)}'s tips to the mate's roots",
        clear,
        half,
        AT_LEAST,
        f"the tips of {_called(side)} come too near to the roots of {_called(mate)}",
        "length",
        _own("backlash"),
    )


_MEASURE_PAIR = (
    "Ask Mesh(...), which measures it by rolling the cut teeth; or take more teeth or a larger profile shift"
)
_MEASURE_GEAR = (
    "Ask Gear(...), which measures it on the cut tooth; or take more teeth or a larger profile shift"
)

#: Of the approach, which the driven tips begin, and of the recess, which the driver's end.
# A range is read as a row.
# fmt: off
APPROACH = Range("while the driven tips meet the flank of the driver, outside its fillet or undercut", (_meets_flank("driver"),), _MEASURE_PAIR)
RECESS = Range("while the driver's tips meet the flank of the driven gear, outside its fillet or undercut", (_meets_flank("driven"),), _MEASURE_PAIR)
#: Teeth that are thicker than the spaces are so whatever their tips meet.
PLAY = Range("while the flanks drive without a break, at a contact ratio of 1 or more, and the tips keep half their clearance to the roots", (
    _meets_flank("driver", _own("backlash")), _meets_flank("driven", _own("backlash")), _keeps_clear("driver"), _keeps_clear("driven"),
    Condition("the contact ratio", _own("contact_ratio"), lambda q: sp.Integer(1), AT_LEAST,
              "one pair of teeth lets go before the next takes over", where=_own("backlash"))), _MEASURE_PAIR)
TWO_PAIRS = Range("for contact ratios from 1 to 2", (
    Condition("the contact ratio", _own("contact_ratio"), lambda q: sp.Integer(1), AT_LEAST,
              "at times no pair of teeth touches"),
    Condition("the contact ratio", _own("contact_ratio"), lambda q: sp.Integer(2), AT_MOST,
              "two pairs always touch, and at times three")),
    "Below 1 there is no second pair; above 2 ask for the share of three pairs, the contact ratio less 2")

NO_UNDERCUT = Range("without undercut", (
    Condition("its number of teeth", _own("teeth"), _own("least_teeth"), AT_LEAST, "the gear is undercut", "count"),), _MEASURE_GEAR)


def _on_flank(what: str, radius: Callable, inner: str, outer: str) -> tuple[Condition, ...]:
    return (Condition(what, radius, _own("form_radius"), AT_LEAST, inner, "length"),
            Condition(what, radius, _own("outside_radius"), AT_MOST, outer, "length"))


#: The pitch circle lies on the flank: the nominal thickness is there to be measured.
PITCH_ON_FLANK = Range("while the pitch circle crosses the flank", (
    Condition("the pitch radius", _own("pitch_radius"), _own("form_radius"), AT_LEAST,
              "the flank ends outside the pitch circle", "length"),
    Condition("the pitch radius", _own("pitch_radius"), _own("outside_radius"), AT_MOST,
              "the tips do not reach the pitch circle", "length")),
    "Measure the tooth where its flank is: span over several teeth, size over pins, or its thickness at another radius", alone=True)
POINT_ON_FLANK = Range("on the flank, between its fillet and its tip", _on_flank(
    "the radius of the point", _own("point_radius"), "the point lies inside the flank, on the fillet",
    "the point lies outside the tip"), "Give a point of the flank")
OUTSIDE_BASE = Range("from the base circle outwards", (
    Condition("the radius of the point", _own("point_radius"), _own("base_radius"), AT_LEAST,
              "inside the base circle there is no involute", "length"),), "Give a radius outside the base circle")
NOT_POINTED = Range("while the flanks do not meet below the tip", (
    Condition("the tooth thickness at the tip", _own("tip_thickness"), _zero, AT_LEAST, "there is no such tooth, it is pointed below its tip circle", "length"),),
    "Take less profile shift, less thinning, or shorten the tip")
JAWS_ON_FLANK = Range("where both jaws touch flanks", _on_flank(
    "the radius at which the jaws touch", lambda q: sqrt(q.base_radius**2 + (q.span / 2) ** 2),
    "the jaws would be off the flanks, below them", "the jaws would be off the flanks, beyond the tips"),
    "Take another number of teeth into the span; Gear(...).span_teeth tells one that works")


def _pin_roll(q: Terms) -> sp.Expr:
    return q.base_radius * tan(q.pin_angle) - q.pin_diameter / 2


PIN_ON_FLANK = Range("where the pin touches both flanks and projects beyond the tips", (
    *_on_flank("the radius at which the pin touches", lambda q: sqrt(q.base_radius**2 + _pin_roll(q) ** 2),
               "the pin would be off the flanks, below them", "the pin would be off the flanks, on the tips"),
    Condition("its way from the base circle along the normal", _pin_roll, _zero, AT_LEAST, "the pin would drop to the bottom of the space", "length"),
    Condition("the radius to which the pin reaches", lambda q: q.base_radius / cos(q.pin_angle) + q.pin_diameter / 2,
              _own("outside_radius"), AT_LEAST, "the pin would not project beyond the tips", "length")),
    "Take another pin; Gear(...).over_pins tells which do")
ODD = Range("for an odd count", (
    Condition("the factor of an even count", lambda q: even_factor(q.teeth), _zero, AT_MOST, "the count is even, and a tip is opposite a tip"),),
    "Over the tips of an even count the caliper reads the outside diameter")
FULL_20 = Range("at 20 deg, full depth", (
    Condition("the pressure angle", _own("pressure_angle"), lambda q: pi / 9, EXACTLY, "it is another pressure angle", "angle"),
    Condition("the addendum factor", _own("addendum_factor"), lambda q: sp.Integer(1), EXACTLY, "it is another tooth system"),
    Condition("the dedendum factor", _own("dedendum_factor"), lambda q: Rational(5, 4), EXACTLY, "it is another tooth system")),
    "Ask for the minimum shift without undercut instead, which holds for every rack")
RACK_CONTACT = Range("while the rack's tips meet the flank of the gear, outside its fillet or undercut, and the gear's tips the straight flank of the rack", (
    Condition("where the rack's tips meet it, from its tangent point along the line of action,",
              lambda q: q.pitch_radius * sin(q.pressure_angle) - (q.addendum_factor - q.profile_shift) * q.module / sin(q.pressure_angle),
              # The standard's rounded tip radius leaves a rack's tips 0.00003 modules of fillet: too little
              # to matter.
              lambda q: sqrt(q.form_radius**2 - q.base_radius**2) - q.module / 1000, AT_LEAST,
              "the rack's tips reach past the flank of the gear, into its fillet or undercut", "length"),
    Condition("how far the gear's tips reach below the rack's pitch line",
              lambda q: (sqrt(q.outside_radius**2 - q.base_radius**2) - q.base_radius * tan(q.pressure_angle)) * sin(q.pressure_angle) - q.profile_shift * q.module,
              lambda q: (q.dedendum_factor - q.rack_tip_radius * (1 - sin(q.pressure_angle))) * q.module + q.extra_dedendum, AT_MOST,
              "the gear's tips run into the rack's fillet", "length")),
    "Ask RackDrive(...), which measures it on the cut tooth; or take more teeth")
RATIO_FROM_1 = Range("for ratios of 1 and more (the pinion drives), without profile shift", (
    Condition("the ratio", _own("ratio"), lambda q: sp.Integer(1), AT_LEAST, "the driver is the larger gear"),),
    "Name the pinion as driver: which gear drives makes no difference to interference")
MATE_LIMITED = Range("for a driver that not every mate will do for, without profile shift", (
    Condition("its number of teeth", _own("driver_teeth"), lambda q: 2 * q.addendum_factor / sin(q.pressure_angle) ** 2, AT_MOST,
              "every mate and even a rack will do for the driver", "count"),
    Condition("its number of teeth", _own("driver_teeth"), lambda q: 2 * q.addendum_factor / sin(q.pressure_angle), AT_LEAST,
              "no mate will do for the driver", "count")),
    "Ask for the fewest teeth that run with a rack, or with an equal gear")
APART = Range("for a centre distance above the sum of the base radii", (
    Condition("the centre distance", _own("centre_distance"), lambda q: q.driver_base_radius + q.driven_base_radius, AT_LEAST,
              "the base circles overlap, so no line of action exists", "length"),), "Move the shafts apart")


def _ring_flank(q: Terms) -> sp.Expr:
    """Where a ring's tips meet the pinion, from its tangent point along the line of action."""
    return sqrt((q.inside_diameter / 2) ** 2 - q.driven_base_radius**2) - q.centre_distance * sin(q.pressure_angle)


IN_RING = Range("while the ring's tips lie outside its base circle and meet the flank of the pinion, and the pinion's tips that of the ring", (
    Condition("the ring's inside radius", lambda q: q.inside_diameter / 2, _own("driven_base_radius"), AT_LEAST,
              "the ring's tips reach inside its base circle", "length"),
    Condition("where they meet it, from its tangent point along the line of action,", _ring_flank,
              lambda q: sqrt(q.driver_form_radius**2 - q.driver_base_radius**2), AT_LEAST,
              "the ring's tips reach past the flank of the pinion, into its fillet or undercut", "length"),
    Condition("where they meet it, from its tangent point along the line of action,",
              lambda q: sqrt(q.driver_outside_radius**2 - q.driver_base_radius**2) + q.centre_distance * sin(q.pressure_angle),
              lambda q: sqrt(q.driven_form_radius**2 - q.driven_base_radius**2), AT_MOST,
              "the pinion's tips reach past the flank of the ring", "length")), _MEASURE_PAIR)
IN_LINE = Range("for three shafts in line", (
    Condition("the distance of the outer shafts", _own("shaft_spacing"), lambda q: q.first_centre_distance + q.second_centre_distance,
              EXACTLY, "the three shafts are not in line", "length"),),
    "Ask for the force on the idler one way and the other way, which hold wherever the shafts are")
NOT_HOLLOW = Range("while neither cone is hollow", (
    Condition("the cone angle of the driven gear", _own("driven_cone_angle"), lambda q: pi / 2, AT_MOST, "the wheel's cone would be hollow", "angle"),
    Condition("the cone angle of the driver", _own("driver_cone_angle"), lambda q: pi / 2, AT_MOST, "the driver's cone would be hollow", "angle")),
    "Take a smaller shaft angle, or a ratio nearer to 1")
# fmt: on


def small(what: str, number: Callable, of: str, share: Rational, limit: Callable) -> Range:
    """A range for a formula that takes small changes as straight: up to a share of another length."""
    return Range(
        f"for {what}, up to {float(share * 100):g} % of the {of}",
        (
            Condition(
                "the change",
                lambda q: sp.Abs(number(q)),
                lambda q: share * limit(q),
                AT_MOST,
                "the change is too large for a straight line",
                "length",
            ),
        ),
        "Work out both ends with the involute function instead",
    )
