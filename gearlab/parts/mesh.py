"""Two external gears in mesh: distance, ratio, contact, backlash, alignment."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np

from gearlab.theory import Derivation, quantity
from gearlab.theory.derivation import explain
from gearlab.theory.scope import Scope, scope_for
from gearlab.theory.units import MM_PER_INCH

from .checks import within
from .gear import Gear
from .working import worked_out

_SLIVER = 2e-5  # less than this is made by the chords of the outlines, not by the teeth [modules squared]


@dataclass(frozen=True, repr=False)
class Mesh:
    """A driver and a driven gear in mesh, both external.

    Parameters
    ----------
    driver, driven : Gear
        Gears of the same pitch and pressure angle.
    centre_distance : float, optional
        [``unit``], above the sum of the base radii and below the sum of the outside radii; by default
        the distance at which the pitch circles touch (with profile shift: at which the teeth run
        without backlash).

    Raises
    ------
    ValueError
        If the gears cannot mesh (both base pitches are given) or the distance is out of range.

    Examples
    --------
    >>> drive = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
    >>> drive.centre_distance, drive.ratio, drive.speed(15)
    (78.75, 2.5, -6.0)
    >>> Mesh(Gear(18, module=2.5), Gear(45, diametral_pitch=10))
    Traceback (most recent call last):
    ValueError: these gears cannot mesh: the base pitch of the driver is 7.38033 mm, that of the driven gear 7.49841 mm; give both the same module or diametral pitch and the same pressure angle
    """

    driver: Gear
    driven: Gear
    centre_distance: float | None = None

    def __post_init__(self):
        one, two = self.driver, self.driven
        if one.unit != two.unit or not math.isclose(one.scale, two.scale, rel_tol=1e-9) or one.pressure_angle != two.pressure_angle:
            pitches = [gear.base_pitch * (MM_PER_INCH if gear.unit == "in" and one.unit != two.unit else 1) for gear in (one, two)]
            unit = one.unit if one.unit == two.unit else "mm"
            raise ValueError(f"these gears cannot mesh: the base pitch of the driver is {pitches[0]:.6g} {unit}, that of the driven gear {pitches[1]:.6g} {unit}; "
                             "give both the same module or diametral pitch and the same pressure angle")
        natural = self._natural_distance
        distance = natural if self.centre_distance is None else within("centre_distance", self.centre_distance, 0.0, math.inf, self.unit, above=True)
        least, most = (one.base_diameter + two.base_diameter) / 2, (one.outside_diameter + two.outside_diameter) / 2
        if not least < distance < most:
            what = "the base circles overlap, so no line of action exists" if distance <= least else "the tips no longer reach each other"
            raise ValueError(f"centre_distance = {distance:.6g} {self.unit} is out of range: {what}; give a distance between {least:.6g} and {most:.6g} "
                             f"{self.unit}, usually {natural:.6g} {self.unit}")
        object.__setattr__(self, "centre_distance", natural if math.isclose(distance, natural, rel_tol=1e-14) else distance)

    def __repr__(self) -> str:
        return f"Mesh({self.driver!r}, {self.driven!r}, centre_distance={self.centre_distance:g})"

    @property
    def unit(self) -> str:
        """Unit of every length, "in" or "mm" [-]."""
        return self.driver.unit

    # -- numbers --------------------------------------------------------------------------------
    @property
    def _features(self) -> frozenset[str]:
        return self.driver.features | self.driven.features

    def _givens(self) -> dict[str, float]:
        shared = {word: number for word, number in self.driver.givens.items() if word in ("diametral_pitch", "module", "pressure_angle")}
        own = {}
        for side, gear in (("driver", self.driver), ("driven", self.driven)):
            own[f"{side}_teeth"] = float(gear.teeth)
            for word in sorted(self._features):
                own[f"{side}_{word}"] = float(getattr(gear, word))
        return shared | own

    def _scope_of(self, features: frozenset[str]) -> Scope:
        return scope_for("pair", self.unit, (self.driver.system, self.driven.system), features)

    @cached_property
    def _natural_distance(self) -> float:
        return worked_out(self._scope_of(self._features), self._givens())["centre_distance"]

    @cached_property
    def _scope(self) -> Scope:
        return self._scope_of(self._features | ({"set distance"} if self.centre_distance != self._natural_distance else set()))

    @property
    def givens(self) -> dict[str, float]:
        """The independent numbers, by word [``unit``, 1/in, deg, modules]; all others follow from them."""
        return self._givens() | ({"centre_distance": self.centre_distance} if "set distance" in self._scope.features else {})

    @cached_property
    def numbers(self) -> Mapping[str, float]:
        """Every number of the pair by the word of its quantity [``unit``, 1/``unit``, deg].

        >>> Mesh(Gear(18, module=2.5), Gear(45, module=2.5)).numbers["driven_outside_diameter"]
        117.5
        """
        found = worked_out(self._scope, self.givens)
        # In a pair at its reference distance several quantities coincide: each is found under its own word all the same.
        for word, same in self._scope.coincide.items():
            same = self._scope.word(same, "driver" if word.startswith("driver") else "driven")
            if same in found:
                found.setdefault(word, found[same])
        return MappingProxyType(found)

    def _number(self, word: str) -> float:
        if word not in self.numbers:
            raise ValueError(f"{quantity(word).meaning} has no value for {self.driver.name} with {self.driven.name} at {self.centre_distance:g} {self.unit}")
        return self.numbers[word]

    @property
    def ratio(self) -> float:
        """Driver turns per driven turn (driven teeth over driver teeth) [-]."""
        return self._number("ratio")

    @property
    def reference_centre_distance(self) -> float:
        """Distance at which the pitch circles touch [``unit``]."""
        return self._number("reference_centre_distance")

    @property
    def operating_pressure_angle(self) -> float:
        """Pressure angle at this centre distance [deg]."""
        return self._number("operating_pressure_angle")

    @property
    def operating_pitch_diameters(self) -> tuple[float, float]:
        """Diameters of the circles that roll on each other, driver and driven [``unit``]."""
        return self._number("driver_operating_pitch_diameter"), self._number("driven_operating_pitch_diameter")

    @property
    def contact_ratio(self) -> float:
        """Pairs of teeth in contact, on average [-]; for teeth without undercut or interference."""
        return self._number("contact_ratio")

    @property
    def length_of_action(self) -> float:
        """Length of the path along which two teeth touch [``unit``]."""
        return self._number("length_of_action")

    @property
    def backlash(self) -> float:
        """Circumferential backlash on the operating pitch circles [``unit``]; negative: the teeth would overlap."""
        return round(self._number("backlash"), 13) + 0.0

    @property
    def interference(self) -> bool:
        """True if a tip reaches past the tangent point of the line of action on the mate's base circle [-]."""
        slack = -1e-9 * self.centre_distance
        return self._number("driver_interference_margin") < slack or self._number("driven_interference_margin") < slack

    @property
    def undercut(self) -> bool:
        """True if either gear is undercut [-]."""
        return self.driver.undercut or self.driven.undercut

    def speed(self, driver_rpm):
        """Speed of the driven gear, signed: counter-clockwise is positive.

        Parameters
        ----------
        driver_rpm : float or array
            Speed of the driver [rpm].

        Returns
        -------
        float or array
            Same shape [rpm]; the sign is the opposite one.

        Examples
        --------
        >>> Mesh(Gear(30, diametral_pitch=24), Gear(60, diametral_pitch=24)).speed(100)
        -50.0
        """
        rpm = np.asarray(driver_rpm, dtype=float) if np.ndim(driver_rpm) else float(driver_rpm)
        return -rpm * self.driver.teeth / self.driven.teeth

    def alignment(self, driver_angle=0.0, line_angle=0.0):
        """Angle of the driven gear that puts its teeth in the middle of the driver's spaces.

        The driver stands at the origin with tooth 0 at ``driver_angle``; the driven gear stands one centre
        distance away in the direction ``line_angle``, with its tooth 0 at the angle returned. All angles
        are counter-clockwise from the +x axis.

        Parameters
        ----------
        driver_angle : float or array
            Angle of the driver [deg]; any value.
        line_angle : float or array
            Direction from the driver's shaft to the driven gear's [deg]; any value.

        Returns
        -------
        float or array
            From 0 to one tooth pitch of the driven gear [deg].

        Examples
        --------
        >>> pinion = Gear(18, module=2.5)
        >>> Mesh(pinion, Gear(45, module=2.5)).alignment(), round(Mesh(pinion, Gear(46, module=2.5)).alignment(), 3)
        (0.0, 3.913)
        >>> round(Mesh(pinion, Gear(45, module=2.5)).alignment(4.0, line_angle=30.0), 6)
        0.4
        """
        n1, n2 = self.driver.teeth, self.driven.teeth
        pitch = 360.0 / n2
        # Seen from the line of centres: a space must face the driver, at 180 degrees; with an odd count one does already.
        start = (n2 + 1) % 2 * 180.0 / n2
        line = np.asarray(line_angle, dtype=float)
        angle = np.mod(start + np.mod(line, pitch) - np.mod(np.asarray(driver_angle, dtype=float) - line, 360.0 / n1) * n1 / n2, pitch)
        angle = np.where(pitch - angle < 1e-12 * pitch, 0.0, angle)
        return angle if np.ndim(driver_angle) or np.ndim(line_angle) else float(angle)

    def free_window(self) -> float:
        """Angle through which the driven gear can be turned, the driver held, without touching it [deg].

        It lies half to either side of :meth:`alignment`; without backlash it is zero.

        Raises
        ------
        ValueError
            If the teeth are thicker than the spaces: the pair jams.

        Examples
        --------
        >>> pair = Mesh(Gear(18, module=2.5), Gear(45, module=2.5), centre_distance=79.0)
        >>> round(pair.free_window(), 4), Mesh(Gear(18, module=2.5), Gear(45, module=2.5)).free_window()
        (0.1876, 0.0)
        """
        play = self.backlash
        if play < 0:
            raise ValueError(f"this pair jams: at {self.centre_distance:.6g} {self.unit} the teeth are {-play:.4g} {self.unit} thicker than the spaces; move the shafts "
                             f"apart, to {self.reference_centre_distance:.6g} {self.unit} for teeth without shift, or thin the teeth")
        return self._number("driven_play_angle") if play else 0.0

    def overlaps(self, driver_angle: float, driven_angle: float, line_angle: float = 0.0) -> list[np.ndarray]:
        """The pieces that lie in both gears at given angles, each a closed line, (n, 2) [``unit``].

        Parameters
        ----------
        driver_angle, driven_angle : float
            Angle of tooth 0 of each gear, counter-clockwise from the +x axis [deg].
        line_angle : float
            Direction from the driver's shaft, at the origin, to the driven gear's [deg].

        Examples
        --------
        >>> pair = Mesh(Gear(18, module=2.5), Gear(46, module=2.5))
        >>> len(pair.overlaps(0.0, 0.0)) > 0, pair.overlaps(0.0, pair.alignment())
        (True, [])
        """
        from ..shape import overlap
        scale, line = self.driver.scale, math.radians(line_angle)
        place = self.centre_distance * np.array([math.cos(line), math.sin(line)])
        near = [overlap.sector(gear.tooth.tooth_points() * gear.scale, gear.teeth, math.radians(angle), facing) + centre for gear, angle, facing, centre in
                ((self.driver, driver_angle, line, 0.0), (self.driven, driven_angle, line + math.pi, place))]
        return overlap.pieces(*near, least=_SLIVER * scale**2)

    def overlap_area(self, driver_angle: float, driven_angle: float, line_angle: float = 0.0) -> float:
        """Area in which the two gears overlap at given angles [``unit`` squared]; see :meth:`overlaps`.

        Examples
        --------
        >>> Mesh(Gear(18, module=2.5), Gear(45, module=2.5)).overlap_area(0.0, 0.0)
        0.0
        """
        from ..shape import overlap
        return math.fsum(overlap.area(piece) for piece in self.overlaps(driver_angle, driven_angle, line_angle))

    def explain(self, word: str, notation: str | None = None, **extra: float) -> Derivation:
        """Show where a number comes from: steps with this pair's numbers, units and sources.

        Parameters
        ----------
        word : str
            Word of a quantity, or its symbol in the notation [-].
        notation : str, optional
            "inch" or "iso" [-]; by default inch notation for a diametral pitch, ISO for a module.
        **extra : float
            Further givens by word, such as ``driver_speed`` [rpm].

        Returns
        -------
        Derivation

        Examples
        --------
        >>> drive = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
        >>> print(drive.explain("driven_speed", driver_speed=15).lines("text")[-1].math)
        n2 = -n1·z1/z2 = -15·18/45 = -6 rpm
        """
        notation = notation or ("inch" if self.unit == "in" else "iso")
        word = quantity(word, notation).word
        word = self._scope.word(word, word[:6] if word[:6] in ("driver", "driven") else "")
        return explain(self._scope, self.givens | extra, word, notation)
