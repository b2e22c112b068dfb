"""A field of a question with many right answers: what a student chooses, read and held against its range."""

from __future__ import annotations

from gearlab.practice.reading import Reading, in_unit, read_within
from gearlab.practice.tables import FieldTable
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import factor, shown_unit, theory_unit

__all__ = [
    "Field",
]


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
