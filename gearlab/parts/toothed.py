"""What an external gear and a ring have in common.

What they are made from, how they are checked and named, their shared numbers.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, fields
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, ClassVar, Self, TypeVar

import numpy as np

from gearlab.shape.form import Form
from gearlab.shape.tooth import MOST_TEETH
from gearlab.theory import quantity
from gearlab.theory.numbers import Told
from gearlab.theory.ranges import Refusal

from . import naming
from .checks import whole, within
from .explained import ByTheory, Explained, OfASystem

if TYPE_CHECKING:
    from gearlab.theory.scope import Scope

AnyForm = TypeVar("AnyForm", bound=Form)


@dataclass(frozen=True, repr=False)
class Toothed(OfASystem, Explained):
    """A body with involute teeth of one size; ``Gear`` and ``InternalGear`` are two of them."""

    teeth: int
    diametral_pitch: float | None = field(default=None, kw_only=True)
    module: float | None = field(default=None, kw_only=True)
    pressure_angle: float = field(default=20.0, kw_only=True)
    profile_shift: float = field(default=0.0, kw_only=True)
    face_width: float | None = field(default=None, kw_only=True)
    tooth_system: str = field(default="full depth", kw_only=True)
    tooth_thinning: float = field(default=0.0, kw_only=True)
    tip_shortening: float = field(default=0.0, kw_only=True)

    if TYPE_CHECKING:  # what each of the two has

        @property
        def tooth(self) -> Form: ...

        @property
        def _scope(self) -> Scope: ...

        def numbers_with(self, **extra: float) -> Told: ...

    #: True for a ring: the teeth point inwards [-].
    internal: ClassVar[bool] = False
    #: The fewest teeth that can be asked for [-].
    fewest_teeth: ClassVar[int] = 6

    def __post_init__(self):
        put = object.__setattr__
        put(self, "teeth", whole("teeth", self.teeth, self.fewest_teeth, MOST_TEETH))
        self._check_size(". With the diametral pitch all lengths are inches, with the module millimetres")
        self._check_angle()
        put(self, "profile_shift", within("profile_shift", self.profile_shift, -2.0, 3.0, "modules"))
        put(self, "tooth_thinning", within("tooth_thinning", self.tooth_thinning, 0.0, math.inf, self.unit))
        put(self, "tip_shortening", within("tip_shortening", self.tip_shortening, 0.0, math.inf, self.unit))
        self.system  # noqa: B018 (an unknown system or angle is refused here)
        self.tooth  # noqa: B018 (no tooth, no gear)

    def __repr__(self) -> str:
        given = [
            f"{item.name}={getattr(self, item.name)!r}"
            for item in fields(self)
            if item.kw_only and getattr(self, item.name) != item.default
        ]
        return f"{type(self).__name__}({', '.join([str(self.teeth), *given])})"

    # -- what it is ------------------------------------------------------------------------------------
    def _cut(self, form: Callable[..., AnyForm]) -> AnyForm:
        """The tooth of a class of shape, in modules."""
        try:
            return form(
                self.teeth,
                self.basic,
                self.profile_shift,
                self.tooth_thinning / self.scale,
                self.tip_shortening / self.scale,
            )
        except ValueError as error:
            if self.scale == 1.0:
                raise
            raise ValueError(
                f"{error} (One module is {self.scale:g} {self.unit} here; tooth_thinning and tip_shortening"
                f" are given in {self.unit}.)"
            ) from None

    @property
    def name(self) -> str:
        """A name that explains itself, readable back with :meth:`from_name`.

        >>> from gearlab import Gear
        >>> Gear(18, module=2.5, face_width=14).name, Gear(45, diametral_pitch=10, pressure_angle=14.5).name
        ('gear_18T_m2p5_f14', 'gear_45T_P10_a14p5')
        """
        return naming.write(self)

    @classmethod
    def from_name(cls, name: str) -> Self:
        """The gear of a :attr:`name`.

        A name that does not follow the pattern raises ValueError with the pattern.

        >>> from gearlab import Gear
        >>> Gear.from_name("gear_18T_m2p5") == Gear(18, module=2.5)
        True
        """
        given: dict[str, Any] = naming.read(name, "ring" if cls.internal else "gear")
        return cls(**given)

    # -- numbers ---------------------------------------------------------------------------------------
    @cached_property
    def features(self) -> frozenset[str]:
        """What goes beyond a plain gear: profile shift, tooth thinning, tip shortening."""
        return frozenset(
            word
            for word in ("profile_shift", "tooth_thinning", "tip_shortening")
            if getattr(self, word) != 0.0
        )

    @property
    def givens(self) -> dict[str, float]:
        """The independent numbers, by word [``unit``, 1/in, deg, modules]; all others follow from them."""
        size = "module" if self.module is not None else "diametral_pitch"
        words = ("teeth", size, "pressure_angle", *sorted(self.features))
        return {word: float(getattr(self, word)) for word in words}

    @cached_property
    def numbers(self) -> Mapping[str, float]:
        """Every number of the gear by the word of its quantity [``unit``, 1/``unit``, deg].

        >>> from gearlab import Gear
        >>> Gear(18, module=2.5).numbers["root_diameter"]
        38.75
        """
        return MappingProxyType(self._told)

    @cached_property
    def _told(self) -> Told:
        return self.numbers_with()

    @property
    def refused(self) -> Mapping[str, Refusal]:
        """Why theory does not tell some numbers of this gear, by word.

        Those in ``measured`` are measured instead.
        """
        return MappingProxyType(self._told.refused)

    def _number(self, word: str) -> float:
        if word not in self.numbers:
            why = (
                self.refused[word].reason(self.unit)
                if word in self.refused
                else "such a tooth does not reach it"
            )
            raise ValueError(f"{quantity(word).meaning} has no value for {self.name}: {why}")
        return self.numbers[word]

    pitch_diameter = ByTheory("Pitch diameter [``unit``].")
    base_diameter = ByTheory("Base diameter [``unit``].")
    circular_pitch = ByTheory("Circular pitch [``unit``].")
    base_pitch = ByTheory("Base pitch [``unit``].")
    addendum = ByTheory("Addendum [``unit``].")
    dedendum = ByTheory("Dedendum [``unit``].")
    whole_depth = ByTheory("Whole depth [``unit``].")
    working_depth = ByTheory("Working depth with a mate of the same tooth system [``unit``].")
    clearance = ByTheory("Clearance with a mate of the same tooth system [``unit``].")
    tooth_thickness = ByTheory("Tooth thickness, an arc on the pitch circle [``unit``].")

    # -- shape -----------------------------------------------------------------------------------------
    def outline(self, tolerance: float = 1e-4) -> np.ndarray:
        """Outline of the whole gear, cut from the basic rack; of a ring, the outline of its hole.

        tolerance: largest distance of a chord from the true curve [modules], above 0.
        Returns shape (n, 2), closed (the last point repeats the first), counter-clockwise, tooth 0 on the +x
            axis [``unit``].

        >>> from gearlab import Gear
        >>> outline = Gear(18, module=2.5).outline()
        >>> bool((outline[0] == outline[-1]).all()), outline.shape[1]
        (True, 2)
        """
        return self.tooth.outline(tolerance) * self.scale
