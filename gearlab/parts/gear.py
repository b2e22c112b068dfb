"""A spur gear: what it is called, what its numbers are, what it looks like."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from functools import cached_property
from types import MappingProxyType

import numpy as np

from gearlab.shape.rack import Rack
from gearlab.shape.tooth import LEAST_TEETH, MOST_TEETH, ToothForm
from gearlab.theory import Derivation, ToothSystem, quantity, system
from gearlab.theory.derivation import explain
from gearlab.theory.scope import Scope, scope_for

from . import gauging, naming
from .checks import whole, within
from .working import worked_out


@dataclass(frozen=True, repr=False)
class Gear:
    """An external spur gear with involute teeth.

    Parameters
    ----------
    teeth : int
        Number of teeth [-], 6 to 500.
    diametral_pitch : float
        Teeth per inch of pitch diameter [1/in], above 0; then every length is in inches. Exactly one
        of diametral pitch and module is given.
    module : float
        Millimetres of pitch diameter per tooth [mm], above 0; then every length is in millimetres.
    pressure_angle : float
        [deg], 10 to 32; usual are 14.5, 20 and 25.
    profile_shift : float
        Shift of the rack in modules [-], -2 to 3.
    face_width : float, optional
        Width of the toothed face [in or mm].
    tooth_system : str
        "full depth", "stub" or "fine pitch" [-]; chosen by name, never guessed from the pitch.
    tooth_thinning : float
        What the tooth is thinner on the pitch circle [in or mm], 0 and up.
    tip_shortening : float
        What the tip circle's radius is smaller [in or mm], 0 and up.

    Raises
    ------
    ValueError
        If a value is outside its range or leaves no tooth; the message says what would work.

    Examples
    --------
    >>> pinion = Gear(teeth=20, diametral_pitch=10)
    >>> pinion.pitch_diameter, pinion.outside_diameter, pinion.unit
    (2.0, 2.2, 'in')
    >>> print(pinion.explain("pitch_diameter"))
    pitch diameter: d = N/P = 20/10 = 2 in
    """

    teeth: int
    diametral_pitch: float | None = field(default=None, kw_only=True)
    module: float | None = field(default=None, kw_only=True)
    pressure_angle: float = field(default=20.0, kw_only=True)
    profile_shift: float = field(default=0.0, kw_only=True)
    face_width: float | None = field(default=None, kw_only=True)
    tooth_system: str = field(default="full depth", kw_only=True)
    tooth_thinning: float = field(default=0.0, kw_only=True)
    tip_shortening: float = field(default=0.0, kw_only=True)

    def __post_init__(self):
        put = object.__setattr__
        put(self, "teeth", whole("teeth", self.teeth, LEAST_TEETH, MOST_TEETH))
        if (self.diametral_pitch is None) == (self.module is None):
            raise ValueError(f"give exactly one of diametral_pitch [1/in] and module [mm]; {'neither was' if self.module is None else 'both were'} given. "
                             "With the diametral pitch all lengths are inches, with the module millimetres")
        for name, unit in (("diametral_pitch", "1/in"), ("module", "mm"), ("face_width", self.unit)):
            if getattr(self, name) is not None:
                put(self, name, within(name, getattr(self, name), 0.0, math.inf, unit, above=True))
        put(self, "pressure_angle", within("pressure_angle", self.pressure_angle, -math.inf, math.inf, "deg"))
        put(self, "profile_shift", within("profile_shift", self.profile_shift, -2.0, 3.0, "modules"))
        put(self, "tooth_thinning", within("tooth_thinning", self.tooth_thinning, 0.0, math.inf, self.unit))
        put(self, "tip_shortening", within("tip_shortening", self.tip_shortening, 0.0, math.inf, self.unit))
        self.system  # noqa: B018 (an unknown system or angle is refused here)
        self.tooth  # noqa: B018 (no tooth, no gear)

    def __repr__(self) -> str:
        given = [f"{item.name}={getattr(self, item.name)!r}" for item in fields(self) if item.kw_only and getattr(self, item.name) != item.default]
        return f"Gear({', '.join([str(self.teeth), *given])})"

    # -- what it is -----------------------------------------------------------------------------
    @property
    def unit(self) -> str:
        """Unit of every length: "in" with a diametral pitch, "mm" with a module [-]."""
        return "in" if self.diametral_pitch is not None else "mm"

    @property
    def scale(self) -> float:
        """Length of one module [``unit``]: 1/P in inches, or the module in millimetres."""
        return self.module if self.module is not None else 1.0 / self.diametral_pitch

    @cached_property
    def system(self) -> ToothSystem:
        """The row of the tooth system, with its source."""
        return system(self.tooth_system, self.pressure_angle)

    @cached_property
    def tooth(self) -> ToothForm:
        """The tooth as the rack cuts it, in modules: the independent route to every measurement."""
        row = self.system
        rack = Rack(math.radians(self.pressure_angle), row.addendum, row.dedendum + row.extra(self.unit) / self.scale, row.tip_radius)
        return ToothForm(self.teeth, rack, self.profile_shift, self.tooth_thinning / self.scale, self.tip_shortening / self.scale)

    @property
    def name(self) -> str:
        """A name that explains itself, readable back with :meth:`from_name` [-].

        >>> Gear(18, module=2.5, face_width=14).name, Gear(45, diametral_pitch=10, pressure_angle=14.5).name
        ('gear_18T_m2p5_f14', 'gear_45T_P10_a14p5')
        """
        return naming.write(self)

    @classmethod
    def from_name(cls, name: str) -> Gear:
        """The gear of a :attr:`name` [-]; a name that does not follow the pattern raises ValueError with the pattern.

        >>> Gear.from_name("gear_18T_m2p5") == Gear(18, module=2.5)
        True
        """
        return cls(**naming.read(name))

    # -- numbers --------------------------------------------------------------------------------
    @cached_property
    def features(self) -> frozenset[str]:
        """What goes beyond a plain gear: profile shift, tooth thinning, tip shortening [-]."""
        return frozenset(word for word in ("profile_shift", "tooth_thinning", "tip_shortening") if getattr(self, word) != 0.0)

    @cached_property
    def _scope(self) -> Scope:
        return scope_for("gear", self.unit, (self.system,), self.features)

    @property
    def givens(self) -> dict[str, float]:
        """The independent numbers, by word [``unit``, 1/in, deg, modules]; all others follow from them."""
        size = "module" if self.module is not None else "diametral_pitch"
        words = ("teeth", size, "pressure_angle", *sorted(self.features))
        return {word: float(getattr(self, word)) for word in words}

    @cached_property
    def numbers(self) -> Mapping[str, float]:
        """Every number of the gear by the word of its quantity [``unit``, 1/``unit``, deg].

        >>> Gear(18, module=2.5).numbers["root_diameter"]
        38.75
        """
        return MappingProxyType(self.numbers_with())

    def numbers_with(self, **extra: float) -> dict[str, float]:
        """Every number that follows when more is given by word, such as ``span_teeth`` [``unit``, deg]."""
        return worked_out(self._scope, self.givens | extra)

    def _number(self, word: str) -> float:
        if word not in self.numbers:
            raise ValueError(f"{quantity(word).meaning} has no value for {self.name}: such a tooth does not reach it")
        return self.numbers[word]

    @property
    def pitch_diameter(self) -> float:
        """Pitch diameter [``unit``]."""
        return self._number("pitch_diameter")

    @property
    def base_diameter(self) -> float:
        """Base diameter [``unit``]."""
        return self._number("base_diameter")

    @property
    def outside_diameter(self) -> float:
        """Outside diameter [``unit``]."""
        return self._number("outside_diameter")

    @property
    def root_diameter(self) -> float:
        """Root diameter [``unit``]."""
        return self._number("root_diameter")

    @property
    def circular_pitch(self) -> float:
        """Circular pitch [``unit``]."""
        return self._number("circular_pitch")

    @property
    def base_pitch(self) -> float:
        """Base pitch [``unit``]."""
        return self._number("base_pitch")

    @property
    def addendum(self) -> float:
        """Addendum [``unit``]."""
        return self._number("addendum")

    @property
    def dedendum(self) -> float:
        """Dedendum [``unit``]."""
        return self._number("dedendum")

    @property
    def whole_depth(self) -> float:
        """Whole depth [``unit``]."""
        return self._number("whole_depth")

    @property
    def working_depth(self) -> float:
        """Working depth with a mate of the same tooth system [``unit``]."""
        return self._number("working_depth")

    @property
    def clearance(self) -> float:
        """Clearance with a mate of the same tooth system [``unit``]."""
        return self._number("clearance")

    @property
    def tooth_thickness(self) -> float:
        """Tooth thickness, an arc on the pitch circle [``unit``]."""
        return self._number("tooth_thickness")

    @property
    def chordal_thickness(self) -> float:
        """Tooth thickness as a chord on the pitch circle [``unit``]."""
        return self._number("chordal_thickness")

    @property
    def chordal_addendum(self) -> float:
        """Height of the tip above the chord of the tooth thickness [``unit``]."""
        return self._number("chordal_addendum")

    @property
    def undercut(self) -> bool:
        """True if the rack that cuts the gear also cuts away part of its involute [-]."""
        return self.teeth < self._number("least_teeth")

    def span(self, teeth: int | None = None) -> float:
        """Span measurement over several teeth, by parallel jaws.

        Parameters
        ----------
        teeth : int, optional
            Teeth in the span [-], 2 to fewer than half the count plus one; by default the number at
            which the jaws touch near mid-flank.

        Returns
        -------
        float
            [``unit``]

        Raises
        ------
        ValueError
            If the jaws would not touch the flanks at this number of teeth.

        Examples
        --------
        >>> round(Gear(19, module=2.5).span(3), 2)  # by hand: W = m cos(phi) (pi (k - 1/2) + N inv(phi))
        19.12
        """
        return gauging.span(self, teeth)

    @property
    def span_teeth(self) -> int:
        """Number of teeth in the span at which the jaws touch near mid-flank [-], at least 2."""
        return max(2, math.floor(self._number("ideal_span_teeth") + 0.5))

    def over_pins(self, pin_diameter: float | None = None) -> float:
        """Size over two pins in opposite spaces (nearly opposite for an odd count).

        Parameters
        ----------
        pin_diameter : float, optional
            [``unit``], above 0; by default 1.728 modules.

        Returns
        -------
        float
            [``unit``]

        Raises
        ------
        ValueError
            If the pin would not touch the flanks, or would not stand out beyond the tips.

        Examples
        --------
        >>> round(Gear(18, module=2.5).over_pins(4.5), 2)
        51.56
        """
        return gauging.over_pins(self, pin_diameter)

    def explain(self, word: str, notation: str | None = None, **extra: float) -> Derivation:
        """Show where a number comes from: steps with this gear's numbers, units and sources.

        Parameters
        ----------
        word : str
            Word of a quantity, or its symbol in the notation [-].
        notation : str, optional
            "inch" or "iso" [-]; by default inch notation for a diametral pitch, ISO for a module.
        **extra : float
            Further givens by word, such as ``span_teeth`` [-], ``pin_diameter`` [``unit``] or ``speed`` [rpm].

        Examples
        --------
        >>> print(Gear(18, module=2.5).explain("root_diameter").lines("text")[-1].math)
        d_f = m·(z - 2.5) = 2.5·(18 - 2.5) = 38.75 mm
        """
        notation = notation or ("inch" if self.unit == "in" else "iso")
        word = quantity(word, notation).word
        if word == "span":
            extra = {"span_teeth": float(self.span_teeth)} | extra
        if word in ("over_pins", "pin_angle"):
            extra = {"pin_diameter": gauging.USUAL_PIN * self.scale} | extra
        return explain(self._scope, self.givens | extra, word, notation)

    # -- shape ----------------------------------------------------------------------------------
    def outline(self, tolerance: float = 1e-4) -> np.ndarray:
        """Outline of the whole gear, cut from the basic rack.

        Parameters
        ----------
        tolerance : float
            Largest distance of a chord from the true curve [modules], above 0.

        Returns
        -------
        numpy.ndarray
            Shape (n, 2), closed (the last point repeats the first), counter-clockwise, tooth 0 on
            the +x axis [``unit``].

        Examples
        --------
        >>> outline = Gear(18, module=2.5).outline()
        >>> bool((outline[0] == outline[-1]).all()), outline.shape[1]
        (True, 2)
        """
        return self.tooth.outline(tolerance) * self.scale

