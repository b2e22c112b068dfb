"""A field of a question with many right answers: what a student chooses, read and held against its range."""

from __future__ import annotations

from dataclasses import replace

from gearlab.practice.number import read_number
from gearlab.practice.reading import Reading, number_text
from gearlab.practice.tables import FieldTable
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import UNITS, factor, shown_unit, theory_unit

__all__ = ["Field", "in_unit", "read_within"]

_COUNTING = {"count", "number", "turns"}


def in_unit(reading: Reading, unit: str) -> float | None:
    """A number that was read, in the unit asked [unit]; None where the unit typed measures something else."""
    if reading.value is None or not reading.unit or reading.unit == unit:
        return reading.value
    typed, asked = UNITS[reading.unit], UNITS[unit or "1"]
    if typed.dimension != asked.dimension and not {typed.dimension, asked.dimension} <= _COUNTING:
        return None
    return reading.value * typed.size / asked.size


def read_within(text: str, unit: str, low: float, high: float, whole: bool = False) -> Reading:
    """Read a number that has to lie within a range.

    Parameters
    ----------
    text : str
        What was typed, anything at all [-].
    unit : str
        The unit asked, "" or "1" for a plain number [-].
    low, high : float
        Least and greatest number allowed [unit].
    whole : bool
        Whether only whole numbers are allowed [-].

    Returns
    -------
    Reading
        With a problem where the number does not fit.

    Examples
    --------
    >>> read_within("18 teeth", "teeth", 4, 400, True).echo
    'read as 18 teeth'
    >>> read_within("18.5", "teeth", 4, 400, True).problem
    'A whole number is needed here.'
    >>> read_within("1,234", "mm", 0.5, 10).echo
    'read as 1.234 mm'
    """
    reading = read_number(text, unit)
    if reading.value is None:
        return reading
    fitting = [one for one in reading.alternatives if not _misfit(one, unit, low, high, whole)]
    if len(fitting) == 1:  # only one meaning of the comma is possible here
        return replace(fitting[0], alternatives=())
    problem = "" if fitting else _misfit(reading, unit, low, high, whole)
    return Reading(None, "", unit, problem) if problem else reading


def _misfit(reading: Reading, unit: str, low: float, high: float, whole: bool) -> str:
    value = in_unit(reading, unit)
    shown = "" if unit in ("", "1") else f" {unit}"
    if value is None:
        return f"{reading.unit} is not a unit for this: {unit if shown else 'a plain number'} is asked."
    if whole and abs(value - round(value)) > 1e-9:
        return "A whole number is needed here."
    if not low - 1e-9 <= value <= high + 1e-9:
        return f"A number from {number_text(low)} to {number_text(high)}{shown} is needed here."
    return ""


class Field:
    """One number a student chooses.

    Attributes
    ----------
    id, label, unit, asked, kind : str
        Word, label beside the field, unit ("" for none), quantity word ("" for a name of the bank's own),
        "number".
    low, high : float
        Range of what may be typed [unit].
    whole : bool
        Whether only whole numbers may be typed.
    """

    kind, several, symbols = "number", False, ()

    def __init__(self, table: FieldTable, length_unit: str):
        quantity = None if table.local else QUANTITIES[table.word]
        self.id = table.word
        self.asked = "" if quantity is None else table.word
        self.label = table.label or (quantity.meaning if quantity else table.word.replace("_", " "))
        self.shown_unit = table.unit or (shown_unit(quantity.dimension, length_unit) if quantity else "1")
        self.unit = "" if self.shown_unit == "1" else self.shown_unit
        self.low, self.high = float(table.start), float(table.stop)
        self.whole = bool(quantity and quantity.whole)
        self.factor = (
            factor(self.shown_unit, theory_unit(quantity.dimension, length_unit)) if quantity else 1.0
        )

    def __repr__(self) -> str:
        return f"Field({self.id!r})"

    def read(self, text: str) -> Reading:
        """What is understood of a typed text, within the field's range."""
        return read_within(text, self.shown_unit, self.low, self.high, self.whole)

    def number(self, reading: Reading) -> float | None:
        """A number that was read [unit of the field]."""
        return None if reading.value is None else in_unit(reading, self.shown_unit)
