"""How exact an answer is asked and judged: its precision, its tolerance, and which numbers keep to them."""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal
from functools import cached_property

from gearlab.digits import number_text
from gearlab.practice.formulas.expression import compile_formula
from gearlab.practice.tables import AnswerTable

__all__ = ["Precision", "apart"]

_USUAL_TOLERANCE = 0.005  # relative; used where a bank states none
_PARTS_OF_A_PERIOD = 12.0  # of which half a figure may be one at most, where numbers repeat
_USUAL_FIGURES = 3  # accepted where a bank states no precision


def apart(value: float, other: float, period: float = 0.0) -> float:
    """How far two numbers lie apart, with a period: up to whole multiples of it.

    >>> apart(8.5, 0.25), apart(8.5, 0.25, 8.0)
    (8.25, 0.25)
    """
    size = abs(value - other)
    return abs(size - period * round(size / period)) if period else size


class Precision:
    """What an answer's table says of precision and tolerance, and whether a number keeps to it.

    relative, absolute: the tolerance, as a share of the right number [-] and in the unit asked.
    modular: whether numbers that differ by a whole multiple of a period are the same answer.
    places, figures: precision asked, as decimal places or (None for places) as significant figures [-].
    """

    whole = False  # whether only a whole number can be right
    measured = False  # read from an instrument, or counted

    def _state_precision(self, table: AnswerTable, shown_names: tuple[str, ...]) -> None:
        self.modular = table.modulo is not None
        self._modulo = table.modulo or "0", shown_names
        stated = table.tolerance
        if self.whole:
            self.relative, self.absolute = (
                (stated.relative, max(stated.absolute, 1e-6)) if stated else (0.0, 0.01)
            )
        else:
            self.relative, self.absolute = (
                (stated.relative, stated.absolute) if stated else (_USUAL_TOLERANCE, 0.0)
            )
        if not self.relative and not self.absolute:
            self.relative = 1e-6
        self.places, self.figures = table.places, table.figures or _USUAL_FIGURES
        # half a unit of the last place; None where it hangs on the number, for figures are asked
        self._half = 0.0 if self.whole or table.preferred else None
        if self._half is None and self.places is not None:
            self._half = 0.5 * 10.0**-self.places

    @cached_property
    def _period(self):
        return compile_formula(*self._modulo)

    def period(self, shown: tuple) -> float:
        """Multiples of this [unit] may be added to a right answer; 0 where only one number is right."""
        return self._period(*shown) if self.modular else 0.0

    def tolerance(self, value: float) -> float:
        """How far an answer may be from a value and still count as that value [unit]."""
        share = self.relative * abs(value)
        return share if share > self.absolute else self.absolute

    def accepts(self, value: float, key: float, period: float = 0.0) -> bool:
        """Whether a number counts as the key, both in the unit asked."""
        return apart(value, key, period) <= self.tolerance(key) * (1 + 1e-9)

    def half_step(self, value: float) -> float:
        """Half a unit of the last place or figure that is asked of a number of this size [unit].

        0 where only one number is right.
        """
        if self._half is not None:
            return self._half
        if not value:
            return 0.0
        return 0.5 * 10.0 ** (math.floor(math.log10(abs(value)) + 1e-12) + 1 - self.figures)

    def as_asked(self, value: float) -> str:
        """A number [unit asked] as a student types it who does what is asked: the half goes up."""
        if self._half == 0.0 or not value:
            return number_text(value)
        exact = Decimal(f"{value:.12g}")
        places = self.places if self.places is not None else self.figures - 1 - exact.adjusted()
        step = Decimal(1).scaleb(-places)
        return f"{(exact / step).quantize(Decimal(1), ROUND_HALF_UP) * step:f}"

    def allowed(self, value: float) -> float:
        """How far an answer may be from the right one and still be right [unit]."""
        return max(self.tolerance(value), self.half_step(value))

    def limit(self, key: float, period: float = 0.0, scale: float = 1.0) -> float:
        """How far a number may be from the key [unit], the rounding of floats counted in.

        `scale` is how many of the unit asked one of the unit typed is: figures are counted as typed.
        """
        half = self.half_step(key)
        if scale != 1.0 and self.places is None:
            half = max(half, scale * self.half_step(key / scale))
        if period:
            half = min(half, period / _PARTS_OF_A_PERIOD)
        size = abs(key)
        return max(self.absolute, self.relative * size, half) * (1 + 1e-9) + 1e-12 * size

    def reaches(self, value: float, key: float, period: float = 0.0) -> bool:
        """Whether a number is the key to the precision asked or within its tolerance, in the unit asked."""
        return apart(value, key, period) <= self.limit(key, period)

    def rounds_to(self, value: float, key: float, period: float = 0.0) -> bool:
        """Whether a number is the key rounded to the precision asked, or to a finer one."""
        step = 2.0 * self.half_step(key)
        if not step:
            return False
        if period:
            key += period * round((value - key) / period)
        while step > 1e-9 * abs(key):
            near = abs(value - key)
            if near > step / 2 * (1 + 1e-9) + 1e-12 * abs(key):
                return False
            if abs(value / step - round(value / step)) < 1e-6:
                return True
            step /= 10
        return True
