"""What parts have in common: one size of tooth, and numbers that theory works out and explains."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from gearlab.shape.rack import Rack as BasicRack
from gearlab.theory import Derivation, ToothSystem, quantity, system
from gearlab.theory.derivation import explain, words_of
from gearlab.theory.quantities import NOTATION
from gearlab.theory.scope import Scope

from .checks import within
from .slips import Named
from .working import worked_out


class Sized(Named):
    """A part with teeth of one size.

    It has a ``module`` [mm] or a ``diametral_pitch`` [1/in], the other is None.
    """

    if TYPE_CHECKING:  # what each part has

        @property
        def module(self) -> float | None: ...

        @property
        def diametral_pitch(self) -> float | None: ...

    @property
    def unit(self) -> str:
        """Unit of every length: "in" with a diametral pitch, "mm" with a module."""
        return "in" if self.diametral_pitch is not None else "mm"

    @property
    def scale(self) -> float:
        """Length of one module [``unit``]: 1/P in inches, or the module in millimetres."""
        (size,) = self.tooth_size.values()
        return size if self.module is not None else 1.0 / size

    @property
    def tooth_size(self) -> dict[str, float]:
        """Its module [mm] or diametral pitch [1/in], by word.

        >>> from gearlab import Gear
        >>> Gear(18, module=2.5).tooth_size, Gear(18, diametral_pitch=10).tooth_size
        ({'module': 2.5}, {'diametral_pitch': 10.0})
        """
        if self.module is not None:
            return {"module": self.module}
        if self.diametral_pitch is not None:
            return {"diametral_pitch": self.diametral_pitch}
        raise ValueError(f"{self!r} has no tooth size: give its module or diametral_pitch")


class OfASystem(Sized):
    """A part whose teeth are those of a tooth system, of one size and pressure angle."""

    if TYPE_CHECKING:  # what each part has

        @property
        def pressure_angle(self) -> float: ...

        @property
        def tooth_system(self) -> str: ...

    def _check_size(self, more: str = "") -> None:
        """Exactly one size of tooth, and sizes above 0, put in as numbers."""
        if (self.diametral_pitch is None) == (self.module is None):
            raise ValueError(
                "give exactly one of diametral_pitch [1/in] and module [mm];"
                f" {'neither was' if self.module is None else 'both were'} given{more}"
            )
        for name, unit in (("diametral_pitch", "1/in"), ("module", "mm"), ("face_width", self.unit)):
            value = vars(self).get(name)  # a rack has no face
            if value is not None:
                object.__setattr__(self, name, within(name, value, 0.0, math.inf, unit, above=True))

    def _check_angle(self) -> None:
        angle = within("pressure_angle", self.pressure_angle, -math.inf, math.inf, "deg")
        object.__setattr__(self, "pressure_angle", angle)

    def _named_size(self) -> str:
        (word, size), *_ = self.tooth_size.items()
        return f"{word}={size:g}"

    @cached_property
    def system(self) -> ToothSystem:
        """The row of the tooth system, with its source."""
        return system(self.tooth_system, self.pressure_angle)

    @cached_property
    def basic(self) -> BasicRack:
        """The basic rack of its teeth, in modules."""
        row, angle = self.system, math.radians(self.pressure_angle)
        dedendum = row.dedendum + row.extra(self.unit) / self.scale
        return BasicRack(angle, row.addendum, dedendum, row.tip_radius)


class ByTheory(property):
    """A number of a part as an attribute: what it is [unit], and theory's word for it if not its own name."""

    if TYPE_CHECKING:

        def __get__(self, part: Any, owner: type | None = None) -> float: ...  # type: ignore[override]

    def __init__(self, says: str, word: str = ""):
        def told(part: Explained) -> float:
            return part._number(self.word)

        told.__doc__, self.word = says, word
        super().__init__(told)

    def __set_name__(self, owner: type, name: str) -> None:
        self.word = self.word or name


class Explained(Named):
    """A part whose numbers theory tells.

    It has a ``unit``, its ``givens``, and the scope of the relations that hold for it.
    """

    if TYPE_CHECKING:  # what each part has

        @property
        def unit(self) -> str: ...

        @property
        def givens(self) -> dict[str, float]: ...

        @property
        def _scope(self) -> Scope: ...

    @cached_property
    def numbers(self) -> Mapping[str, float]:
        """Every number of the part by the word of its quantity [usual units.

        ``unit``, deg, N*m or lbf*in, ...].

        >>> from gearlab import RackDrive, Gear, Rack
        >>> round(RackDrive(Gear(20, module=2.5), Rack(54, module=2.5)).numbers["travel_per_turn"], 2)
        157.08
        """
        return MappingProxyType(worked_out(self._scope, self.givens))

    def _number(self, word: str) -> float:
        return self.numbers[word]

    def explain(self, word: str, notation: str | None = None, **extra: float) -> Derivation:
        """Show where a number comes from: steps with this part's numbers, units and sources.

        word: word of a quantity, or its symbol in the notation.
        notation: "inch" or "iso"; by default inch notation for inches, ISO for millimetres.
        **extra: further givens by word, such as a speed [rpm], ``turns`` [-] or a torque [N*m or lbf*in]; or
            text with a unit, "2 hp".
        ValueError if the number does not follow from what the part is made from and these givens; the message
            names what is missing.

        >>> from gearlab import BevelPair, Gear, Planetary, Rack, RackDrive
        >>> print(
        ...     RackDrive(Gear(20, module=2.5), Rack(54, module=2.5))
        ...     .explain("travel_per_turn")
        ...     .lines("text")[-1]
        ...     .math
        ... )
        s_1 = π·m·z = π·2.5 mm·20 = 157.08 mm
        >>> print(BevelPair(20, 30, module=2.5).explain("driver_apex_distance").lines("text")[-1].math)
        X_1 = z2·m/2 = 30·2.5 mm/2 = 37.5 mm
        >>> print(Planetary(24, 18, module=2.5).explain("ring_teeth").lines("text")[-1].math)
        z_r = z_s + 2·z_p = 24 + 2·18 = 60
        """
        notation = notation or NOTATION[self.unit]
        return explain(
            self._scope,
            self.givens | extra,
            quantity(word, notation, words_of(self._scope.kind)).word,
            notation,
        )
