"""Two gears in mesh, side by side or one inside a ring: distance, ratio, contact, backlash, alignment."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, overload

import numpy as np

from gearlab.shape.rolling import Rolling
from gearlab.theory import Derivation, quantity
from gearlab.theory.boundary import Number
from gearlab.theory.numbers import Told
from gearlab.theory.quantities import NOTATION
from gearlab.theory.ranges import Refusal
from gearlab.theory.scope import Scope, scope_for
from gearlab.theory.units import N

from . import rolled, standing
from .alignment import aligned
from .checks import finite, within
from .explained import ByTheory, Explained
from .gear import Gear
from .working import pair_givens, worked_out

if TYPE_CHECKING:
    pass


@dataclass(frozen=True, repr=False)
class Mesh(Explained):
    """A driver and a driven gear in mesh, side by side or the driver inside a ring.

    The numbers of an external pair come from theory where its formulas hold; with undercut, or where tips
    reach past the flank of the mate, contact and backlash are measured by rolling the cut teeth on each
    other. Inside a ring, theory tells of plain teeth at their reference distance; backlash, and everything
    about other pairs, is measured as well. ``measured`` names the words, ``refused`` tells why.

    driver: the gear that drives.
    driven: of the same pitch and pressure angle; a ring has more teeth than its pinion.
    centre_distance: [``unit``], above the sum of the base radii and below the sum of the outside radii (in a
        ring above their difference, and as far as tips and roots allow); by default the distance at which the
        pitch circles touch (with profile shift: at which the teeth run without backlash).
    ValueError if the gears cannot mesh (both base pitches are given) or the distance is out of range.

    >>> drive = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
    >>> drive.centre_distance, drive.ratio, drive.speed(15)
    (78.75, 2.5, -6.0)
    >>> # eight teeth are undercut: the pair does not run
    >>> tight = Mesh(Gear(8, module=2.5), Gear(45, module=2.5))
    >>> round(tight.contact_ratio, 3), "contact_ratio" in tight.measured
    (0.913, True)
    >>> Mesh(Gear(18, module=2.5), Gear(45, diametral_pitch=10))
    Traceback (most recent call last):
    ValueError: these gears cannot mesh: the base pitch of the driver is 7.38033 mm, that of the driven gear
    7.49841 mm; give both the same module or diametral pitch and the same pressure angle
    """

    driver: Gear
    driven: Gear
    # None, the distance at which the teeth run without backlash, is put in as a number when it is made
    centre_distance: float = None  # type: ignore[assignment]

    def __post_init__(self):
        standing.check_match(self.driver, self.driven)
        natural = self._natural_distance
        distance = (
            natural
            if self.centre_distance is None
            else within("centre_distance", self.centre_distance, 0.0, math.inf, self.unit, above=True)
        )
        standing.check_distance(self.driver, self.driven, distance, natural)
        object.__setattr__(
            self, "centre_distance", natural if math.isclose(distance, natural, rel_tol=1e-14) else distance
        )

    def __repr__(self) -> str:
        return f"Mesh({self.driver!r}, {self.driven!r}, centre_distance={self.centre_distance:g})"

    @property
    def unit(self) -> str:
        """Unit of every length, "in" or "mm"."""
        return self.driver.unit

    @property
    def internal(self) -> bool:
        """True if the driven gear is a ring."""
        return self.driven.internal

    @property
    def direction(self) -> int:
        """Which way the driven gear turns: +1 with the driver (in a ring), -1 against it [-]."""
        return 1 if self.internal else -1

    # -- numbers ---------------------------------------------------------------------------------------
    @property
    def _features(self) -> frozenset[str]:
        return self.driver.features | self.driven.features

    @property
    def plain(self) -> bool:
        """True for teeth without profile shift, thinning or shortening at their reference distance."""
        return not self._features and self.centre_distance == self._natural_distance

    @cached_property
    def measured(self) -> frozenset[str]:
        """Words of the numbers that are measured on the cut teeth, because theory does not tell them of such
        a pair.
        """
        return rolled.measured_words(self)

    @property
    def refused(self) -> Mapping[str, Refusal]:
        """Why theory does not tell some numbers of this pair, by word.

        Those in ``measured`` are measured instead.
        """
        return MappingProxyType(self.told.refused)

    def _scope_of(self, features: frozenset[str]) -> Scope:
        kind, told = ("internal pair", frozenset()) if self.internal else ("pair", features)
        return scope_for(kind, self.unit, (self.driver.system, self.driven.system), told)

    @cached_property
    def _natural_distance(self) -> float:
        """Where the teeth run without backlash, but for their thinning; NaN if they nowhere do."""
        distance = worked_out(self._scope_of(self._features), pair_givens(self.driver, self.driven)).get(
            "centre_distance", math.nan
        )
        if self.internal and self.driver.profile_shift != self.driven.profile_shift:
            try:
                driver, driven = (replace(gear, tooth_thinning=0.0) for gear in (self.driver, self.driven))
                return rolled.tight_distance(driver, driven, distance)
            except ValueError:
                return math.nan
        return distance

    @cached_property
    def _scope(self) -> Scope:
        return self._scope_of(
            self._features | ({"set distance"} if self.centre_distance != self._natural_distance else set())
        )

    @property
    def givens(self) -> dict[str, float]:
        """The independent numbers, by word [``unit``, 1/in, deg, modules].

        All others follow from them (inside a ring: those that theory tells).
        """
        return pair_givens(self.driver, self.driven) | (
            {"centre_distance": self.centre_distance}
            if not self.internal and "set distance" in self._scope.features
            else {}
        )

    @property
    def cut_numbers(self) -> dict[str, float]:
        """What only the cut teeth tell, by word [``unit``]: where the flanks of a ring end."""
        return (
            {"driven_form_radius": self.driven.tooth.form_radius * self.driven.scale} if self.internal else {}
        )

    @cached_property
    def told(self) -> Told:
        """What theory tells of the pair, by word [``unit``, 1/``unit``, deg], and why it does not tell the
        rest.
        """
        told = worked_out(self._scope, self.givens | self.cut_numbers)
        # In a pair at its reference distance several quantities coincide: each is found under its own word
        # all the same.
        for word, same in self._scope.coincide.items() if not self.internal else ():
            same = self._scope.word(same, "driver" if word.startswith("driver") else "driven")
            if same in told:
                told.setdefault(word, told[same])
        return told

    @cached_property
    def numbers(self) -> Mapping[str, float]:
        """Every number of the pair by the word of its quantity [``unit``, 1/``unit``, deg].

        What is measured, when it is asked for.

        >>> Mesh(Gear(18, module=2.5), Gear(45, module=2.5)).numbers["driven_outside_diameter"]
        117.5
        """
        return rolled.numbers_inside(self) if self.internal else rolled.numbers_beside(self)

    @cached_property
    def rolling(self) -> Rolling:
        """The pair on its exact curves, turned until the teeth touch.

        Lengths in modules, angles in radians.
        """
        return rolled.rolling(self.driver, self.driven, self.centre_distance)

    def by_formula(self, word: str) -> float:
        """What the formula gives for a number, also where it does not hold and the number is not true
        [``unit``, deg]; to show the difference.

        >>> pair = Mesh(Gear(10, module=2.5), Gear(45, module=2.5))
        >>> round(pair.by_formula("contact_ratio"), 2), round(pair.contact_ratio, 2)
        (1.55, 1.09)
        """
        return self.told.beyond[word] if word in self.told.beyond else self._number(word)

    def _number(self, word: str) -> float:
        if word not in self.numbers:
            why = f": {self.refused[word].reason(self.unit)}" if word in self.refused else ""
            raise ValueError(
                f"{quantity(word).meaning} has no value for {self.driver.name} with {self.driven.name} at"
                f" {self.centre_distance:g} {self.unit}{why}"
            )
        return self.numbers[word]

    ratio = ByTheory("Driver turns per driven turn (driven teeth over driver teeth) [-].")
    reference_centre_distance = ByTheory("Distance at which the pitch circles touch [``unit``].")
    operating_pressure_angle = ByTheory("Pressure angle at this centre distance [deg].")

    @property
    def operating_pitch_diameters(self) -> tuple[float, float]:
        """Diameters of the circles that roll on each other, driver and driven [``unit``]."""
        return self._number("driver_operating_pitch_diameter"), self._number(
            "driven_operating_pitch_diameter"
        )

    @property
    def contact_ratio(self) -> float:
        """Pairs of teeth in contact flank on flank, on average [-].

        Below 1 the pair does not run, at 0 the flanks never meet.
        """
        return self._number("contact_ratio")

    length_of_action = ByTheory("Length of the path along which two teeth touch [``unit``].")

    @property
    def backlash(self) -> float:
        """Circumferential backlash on the operating pitch circles [``unit``].

        Negative: the teeth would overlap.
        """
        return round(self._number("backlash"), 13) + 0.0

    @property
    def interference(self) -> bool:
        """True if a tip reaches past the tangent point of the line of action on the mate's base circle.

        In a ring, if tips foul when the cut teeth roll.
        """
        if self.internal:
            return self.rolling.interference() > 0.0
        slack = -1e-9 * self.centre_distance
        return (
            self._number("driver_interference_margin") < slack
            or self._number("driven_interference_margin") < slack
        )

    @property
    def undercut(self) -> bool:
        """True if either gear is undercut."""
        return self.driver.undercut or self.driven.undercut

    @property
    def turns(self) -> Fraction:
        """Signed turns of the driven gear for one of the driver, exactly [-]."""
        return Fraction(self.direction * self.driver.teeth, self.driven.teeth)

    def speed(self, driver_rpm: N) -> N:
        """Speed of the driven gear, signed: counter-clockwise is positive.

        driver_rpm: speed of the driver [rpm].
        Returns the same shape [rpm]; the sign is the opposite one, inside a ring the same.

        >>> Mesh(Gear(30, diametral_pitch=24), Gear(60, diametral_pitch=24)).speed(100)
        -50.0
        """
        speeds = finite("driver_rpm", driver_rpm, "rpm")
        rpm: Any = speeds if np.ndim(driver_rpm) else float(speeds)
        return self.direction * rpm / self.ratio

    @overload
    def alignment(self, driver_angle: float = 0.0, line_angle: float = 0.0) -> float: ...
    @overload
    def alignment(self, driver_angle: Number = 0.0, line_angle: Number = 0.0) -> Number: ...
    def alignment(self, driver_angle: Number = 0.0, line_angle: Number = 0.0) -> Number:
        """Angle of the driven gear that puts its teeth in the middle of the driver's spaces.

        The driver stands at the origin with tooth 0 at ``driver_angle``; the driven gear stands one centre
        distance away in the direction ``line_angle``, with its tooth 0 at the angle returned. All angles
        are counter-clockwise from the +x axis.

        driver_angle: angle of the driver [deg]; any value.
        line_angle: direction from the driver's shaft to the driven gear's [deg]; any value.
        Returns it from 0 to one tooth pitch of the driven gear [deg].

        >>> pinion = Gear(18, module=2.5)
        >>> (
        ...     Mesh(pinion, Gear(45, module=2.5)).alignment(),
        ...     round(Mesh(pinion, Gear(46, module=2.5)).alignment(), 3),
        ... )
        (0.0, 3.913)
        """
        return aligned(self.driver.teeth, self.driven.teeth, driver_angle, line_angle, self.internal)

    def free_window(self, driver_angle: float = 0.0) -> float:
        """Whole angle through which the driven gear can be turned, the driver held, without touching it.

        It lies half to either side of :meth:`alignment`. Where teeth are undercut or in each other's way it
        is measured by rolling the cut teeth, and may lie aside of that.

        driver_angle: where the driver is held, the driven gear level on its right [deg]; matters only where
            measured.
        Returns 0 without backlash [deg].
        ValueError if the teeth are thicker than the spaces: the pair jams.

        >>> pair = Mesh(Gear(18, module=2.5), Gear(45, module=2.5), centre_distance=79.0)
        >>> round(pair.free_window(), 4), Mesh(Gear(18, module=2.5), Gear(45, module=2.5)).free_window()
        (0.1876, 0.0)
        """
        return rolled.free_window(self, driver_angle)

    def overlaps(self, driver_angle: float, driven_angle: float, line_angle: float = 0.0) -> list[np.ndarray]:
        """The pieces that lie in both gears at given angles, each a closed line, (n, 2) [``unit``].

        For pictures.

        driver_angle, driven_angle: angle of tooth 0 of each gear, counter-clockwise from the +x axis [deg].
        line_angle: direction from the driver's shaft, at the origin, to the driven gear's [deg].

        >>> pair = Mesh(Gear(18, module=2.5), Gear(46, module=2.5))
        >>> len(pair.overlaps(0.0, 0.0)) > 0, pair.overlaps(0.0, pair.alignment())
        (True, [])
        """
        from gearlab.shape.overlap import overlaps

        return [
            piece * self.driver.scale
            for piece in overlaps(*self._standing(driver_angle, driven_angle, line_angle))
        ]

    def overlap_area(self, driver_angle: float, driven_angle: float, line_angle: float = 0.0) -> float:
        """Area in which the two gears overlap at given angles, as for :meth:`overlaps` [``unit`` squared].

        It keeps within 1e-4 of a square module.

        >>> Mesh(Gear(18, module=2.5), Gear(45, module=2.5)).overlap_area(0.0, 0.0)
        0.0
        """
        from gearlab.shape.overlap import overlap_area

        return overlap_area(*self._standing(driver_angle, driven_angle, line_angle)) * self.driver.scale**2

    def _standing(self, *angles: float) -> tuple:
        turned = (
            math.radians(within(word, angle, -math.inf, math.inf, "deg"))
            for word, angle in zip(("driver_angle", "driven_angle", "line_angle"), angles)
        )
        return self.driver.tooth, self.driven.tooth, self.centre_distance / self.driver.scale, *turned

    def explain(self, word: str, notation: str | None = None, **extra: float) -> Derivation:
        """Show where a number comes from, as every part does.

        A number that was measured on the cut teeth raises ValueError.

        >>> drive = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
        >>> print(drive.explain("driven_speed", driver_speed=15).lines("text")[-1].math)
        n2 = -n1·z1/z2 = -15 rpm·18/45 = -6 rpm
        """
        word = quantity(word, notation or NOTATION[self.unit]).word
        if word in self.refused:
            how = (
                "is measured on the cut teeth; read it in .numbers"
                if word in self.numbers
                else "has no value"
            )
            raise ValueError(
                f"{quantity(word).meaning} of this pair {how}: {self.refused[word].reason(self.unit)}"
            )
        if self.internal and word in self.measured:
            raise ValueError(
                f"{quantity(word).meaning} of this pair is measured on the cut teeth; read it in .numbers: of"
                " a ring theory tells plain teeth at their reference distance only, and no backlash"
            )
        return super().explain(
            self._scope.word(word, word[:6] if word[:6] in ("driver", "driven") else ""),
            notation,
            **self.cut_numbers,
            **extra,
        )
