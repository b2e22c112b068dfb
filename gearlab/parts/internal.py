"""A ring: an internal gear, whose teeth point inwards and mesh with a pinion inside it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar

from gearlab.shape.internal import InternalToothForm
from gearlab.shape.measuring import thickness as tooth_thickness
from gearlab.shape.pins import over_pins
from gearlab.theory import Derivation, quantity
from gearlab.theory.derivation import explain
from gearlab.theory.numbers import Told
from gearlab.theory.quantities import NOTATION, split_side
from gearlab.theory.scope import CHANGED_BY_CUT, Scope, scope_for

from .checks import within
from .explained import ByTheory
from .toothed import Toothed
from .working import worked_out

#: What profile shift, thinning and shortening change in a ring; theory tells of plain rings only.
CHANGED = CHANGED_BY_CUT | {"inside_diameter", "ring_root_diameter"}
# A pin of 1.44/P lies low enough in a ring's space to touch both flanks (Van Keuren's constant, from memory).
USUAL_PIN = 1.44


@dataclass(frozen=True, repr=False)
class InternalGear(Toothed):
    """An internal gear (ring) with involute teeth.

    Its numbers come from theory for a plain ring. With profile shift, thinning or shortening, the ones that
    these change are measured on the cut teeth; ``measured`` tells which.

    teeth: number of teeth [-], up to 500; the least count is that at which the tip circle leaves the base
        circle (34 at full depth and 20 degrees).
    diametral_pitch: teeth per inch of pitch diameter [1/in], above 0; then every length is in inches. Exactly
        one of diametral pitch and module is given.
    module: millimetres of pitch diameter per tooth [mm], above 0; then every length is in millimetres.
    pressure_angle: [deg], 10 to 32; usual are 14.5, 20 and 25.
    profile_shift: how far the teeth are moved outwards, in modules [-], -2 to 3.
    face_width: width of the toothed face [in or mm].
    tooth_system: "full depth", "stub" or "fine pitch".
    tooth_thinning: what the tooth is thinner on the pitch circle [in or mm], 0 and up.
    tip_shortening: what the tip circle's radius is larger [in or mm], 0 and up: a pinion of few teeth needs a
        ring of shorter teeth.
    ValueError if a value is outside its range or leaves no tooth; the message says what would work.

    >>> ring = InternalGear(72, module=2.5)
    >>> ring.pitch_diameter, ring.inside_diameter, ring.root_diameter
    (180.0, 175.0, 186.25)
    >>> print(ring.explain("inside_diameter").lines("text")[-1].math)
    d_i = m·(z2 - 2) = 2.5 mm·(72 - 2) = 175 mm
    >>> InternalGear(72, module=2.5, tip_shortening=0.75).inside_diameter
    176.5
    """

    internal: ClassVar[bool] = True
    fewest_teeth: ClassVar[int] = 1

    @cached_property
    def tooth(self) -> InternalToothForm:
        """The tooth of the ring, in modules: the independent route to every measurement."""
        return self._cut(InternalToothForm)

    # -- numbers ---------------------------------------------------------------------------------------
    @property
    def _scope(self) -> Scope:
        return scope_for("internal pair", self.unit, (self.system, self.system))

    @property
    def _plain(self) -> dict[str, float]:
        return {
            {"teeth": "driven_teeth"}.get(word, word): number
            for word, number in self.givens.items()
            if word not in self.features
        }

    @property
    def measured(self) -> frozenset[str]:
        """Words of the numbers that are measured on the cut teeth, because theory tells of plain rings only
        .
        """
        return CHANGED - {"working_depth", "clearance"} if self.features else frozenset()

    def numbers_with(self, **extra: float) -> Told:
        """Every number that follows when more is given by word [``unit``, deg]."""
        told = worked_out(self._scope, self._plain | extra)
        numbers = Told(
            {split_side(word)[1]: number for word, number in told.items() if split_side(word)[0] != "driver"}
        )
        numbers.beyond = {}
        numbers.refused = {
            split_side(word)[1]: why for word, why in told.refused.items() if split_side(word)[0] != "driver"
        }
        if not self.features:
            return numbers
        for word in CHANGED:
            numbers.pop(word, None)
        numbers |= self.givens
        form, scale = self.tooth, self.scale
        reach, root, middle = form.tip_radius * scale, form.root_radius * scale, form.reference_radius * scale
        numbers |= {
            "inside_diameter": 2 * reach,
            "ring_root_diameter": 2 * root,
            "addendum": middle - reach,
            "dedendum": root - middle,
            "whole_depth": root - reach,
        }
        if form.tip_radius <= form.reference_radius <= form.form_radius:
            thickness = tooth_thickness(form, form.reference_radius) * scale
            numbers |= {"tooth_thickness": thickness, "tooth_space": numbers["circular_pitch"] - thickness}
        return numbers

    inside_diameter = ByTheory("Diameter of the tip circle, which lies inside [``unit``].")
    root_diameter = ByTheory(
        "Diameter of the root circle, which lies outside [``unit``].", "ring_root_diameter"
    )

    @property
    def undercut(self) -> bool:
        """False: a ring keeps its whole involute."""
        return self.tooth.undercut

    def between_pins(self, pin_diameter: float | None = None) -> float:
        """Size between two pins or balls in opposite spaces (nearly opposite for an odd count), measured on
        the cut teeth [``unit``].

        pin_diameter: [``unit``], above 0; by default 1.44 modules.
        ValueError if the pin would not touch both flanks; the pins that do are named.

        >>> # inv(angle) = pi/2z + inv(phi) - pin/d_b (Machinery's Handbook)
        >>> round(InternalGear(72, module=2.5).between_pins(4.2), 3)
        174.258
        """
        pin = within(
            "pin_diameter",
            USUAL_PIN * self.scale if pin_diameter is None else pin_diameter,
            0.0,
            math.inf,
            self.unit,
            above=True,
        )
        try:
            return over_pins(self.tooth, pin / self.scale) * self.scale
        except ValueError as error:
            raise ValueError(
                f"pin_diameter {pin:.5g} {self.unit} does not measure {self.name}: {error} One module is"
                f" {self.scale:g} {self.unit} here."
            ) from None

    def explain(self, word: str, notation: str | None = None, **extra: float) -> Derivation:
        """Show where a number [``unit``, deg] comes from, as every part does.

        One that was measured on the cut teeth raises ValueError.
        """
        notation = notation or NOTATION[self.unit]
        word = quantity(word, notation).word
        word = {"root_diameter": "ring_root_diameter"}.get(word, word)  # theory's word for a ring's
        if word in ("outside_diameter", "outside_radius", "root_radius"):
            raise ValueError(
                f"a ring has no {word}: its tips lie inside; ask for inside_diameter or ring_root_diameter"
            )
        if word in self.measured:
            raise ValueError(
                f"{quantity(word).meaning} of {self.name} is measured on the cut teeth: theory tells of rings"
                f" without {', '.join(sorted(self.features))}; read it in .numbers"
            )
        return explain(self._scope, self._plain | extra, self._scope.word(word, "driven"), notation)
