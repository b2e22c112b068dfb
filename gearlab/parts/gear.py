"""A spur gear: what it is called, what its numbers are, what it looks like."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from gearlab.shape.tooth import ToothForm
from gearlab.theory import Derivation, quantity
from gearlab.theory.numbers import Told
from gearlab.theory.quantities import NOTATION
from gearlab.theory.scope import Scope, scope_for

from . import gauging
from .explained import ByTheory
from .gauging import on_cut_tooth
from .toothed import Toothed
from .working import worked_out


@dataclass(frozen=True, repr=False)
class Gear(Toothed):
    """An external spur gear with involute teeth.

    teeth: number of teeth [-], 6 to 500.
    diametral_pitch: teeth per inch of pitch diameter [1/in], above 0; then every length is in inches. Exactly
        one of diametral pitch and module is given.
    module: millimetres of pitch diameter per tooth [mm], above 0; then every length is in millimetres.
    pressure_angle: [deg], 10 to 32; usual are 14.5, 20 and 25.
    profile_shift: shift of the rack in modules [-], -2 to 3.
    face_width: width of the toothed face [in or mm].
    tooth_system: "full depth", "stub" or "fine pitch"; chosen by name, never guessed from the pitch.
    tooth_thinning: what the tooth is thinner on the pitch circle [in or mm], 0 and up.
    tip_shortening: what the tip circle's radius is smaller [in or mm], 0 and up.
    ValueError if a value is outside its range or leaves no tooth; the message says what would work.

    >>> pinion = Gear(teeth=20, diametral_pitch=10)
    >>> pinion.pitch_diameter, pinion.outside_diameter, pinion.unit
    (2.0, 2.2, 'in')
    >>> print(pinion.explain("pitch_diameter"))
    pitch diameter: d = N/P = 20/(10/in) = 2 in
    sources: in print: R. L. Mott, Machine Elements in Mechanical Design, 4th ed., table 8-2.
    """

    @cached_property
    def tooth(self) -> ToothForm:
        """The tooth as the rack cuts it, in modules: the independent route to every measurement."""
        return self._cut(ToothForm)

    # -- numbers ---------------------------------------------------------------------------------------
    @cached_property
    def _scope(self) -> Scope:
        return scope_for("gear", self.unit, (self.system,), self.features)

    def numbers_with(self, **extra: float) -> Told:
        """Every number that follows when more is given by word, such as ``span_teeth`` [``unit``, deg].

        What theory does not tell of such a tooth is measured on the cut one, where it can be (``measured``),
        or left out (``refused`` says why).
        """
        told = worked_out(self._scope, self.givens | extra)
        if told.refused:
            on_cut_tooth(self, told)
        return told

    @property
    def measured(self) -> frozenset[str]:
        """Words of the numbers that are measured on the cut tooth, because theory does not tell them of such
        a one.

        >>> (
        ...     Gear(18, module=2.5).measured,
        ...     Gear(12, module=2.5).measured == {"form_radius", "rack_contact_ratio"},
        ... )
        (frozenset(), True)
        """
        return frozenset(self.refused.keys() & self.numbers.keys())

    outside_diameter = ByTheory("Outside diameter [``unit``].")
    root_diameter = ByTheory("Root diameter [``unit``].")
    chordal_thickness = ByTheory("Tooth thickness as a chord on the pitch circle [``unit``].")
    chordal_addendum = ByTheory("Height of the tip above the chord of the tooth thickness [``unit``].")

    @property
    def undercut(self) -> bool:
        """True if the rack that cuts the gear also cuts away part of its involute."""
        return self.teeth < self._number("least_teeth")

    def span(self, teeth: int | None = None) -> float:
        """Span measurement over several teeth, by parallel jaws [``unit``].

        teeth: teeth in the span [-], 2 to fewer than half the count plus one; by default the number at which
            the jaws touch near mid-flank.
        ValueError if the jaws would not touch the flanks at this number of teeth.

        >>> round(Gear(19, module=2.5).span(3), 2)  # by hand: W = m cos(phi) (pi (k - 1/2) + N inv(phi))
        19.12
        """
        return gauging.span(self, teeth)

    @property
    def span_teeth(self) -> int:
        """Number of teeth in the span at which the jaws touch near mid-flank [-], at least 2."""
        return gauging.span_teeth(self)

    def over_pins(self, pin_diameter: float | None = None) -> float:
        """Size over two pins in opposite spaces (nearly opposite for an odd count) [``unit``].

        pin_diameter: [``unit``], above 0; by default 1.728 modules.
        ValueError if the pin would not touch the flanks, or would not stand out beyond the tips.

        >>> round(Gear(18, module=2.5).over_pins(4.5), 2)
        51.56
        """
        return gauging.over_pins(self, pin_diameter)

    def explain(self, word: str, notation: str | None = None, **extra: float) -> Derivation:
        """Show where a number comes from, as every part does.

        Without them given, a span takes in the usual teeth, a measure over pins the usual pin.

        >>> print(Gear(18, module=2.5).explain("root_diameter").lines("text")[-1].math)
        d_f = m·(z - 2.5) = 2.5 mm·(18 - 2.5) = 38.75 mm
        """
        word = quantity(word, notation or NOTATION[self.unit]).word
        if word in self.measured:
            raise ValueError(
                f"{quantity(word).meaning} of {self.name} is measured on the cut tooth; read it in .numbers:"
                f" {self.refused[word].reason(self.unit)}"
            )
        if word == "span":
            extra = {"span_teeth": float(self.span_teeth)} | extra
            # jaws that touch no flank measure nothing, and are refused
            gauging.span(self, extra["span_teeth"])
        if word in ("over_pins", "pin_angle"):
            extra = {"pin_diameter": gauging.USUAL_PIN * self.scale} | extra
            gauging.over_pins(self, extra["pin_diameter"])
        return super().explain(word, notation, **extra)
