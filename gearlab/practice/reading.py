"""What was understood of a typed answer: a number, an expression or a choice."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from gearlab.practice.expression import Expression, ExpressionError, parse, spellings
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import written

__all__ = ["LONGEST", "Reading", "cut", "number_text", "read_choice", "read_expression"]

LONGEST = 200  # characters looked at; a longer text is no answer


def cut(text: str | None) -> str:
    """A typed text, not longer than is looked at: a longer one stays too long."""
    return "" if text is None else str(text)[: LONGEST + 1]


@dataclass(frozen=True, slots=True)
class Reading:
    """What was understood of a typed number.

    Attributes
    ----------
    value : float or None
        The number in the unit typed, or in the unit asked when none was typed; None when it could not be
        read.
    unit : str
        Name of the typed unit, "" when none was typed.
    asked_unit : str
        Name of the unit asked for, "" for a plain number.
    problem : str
        A sentence that says what to write instead; "" when the number was read.
    last_place : float
        Size of one unit in the last typed place (0.01 for 78.75); 0 for a fraction, which is exact.
    signed : bool
        Whether a sign or a direction was typed.
    alternatives : tuple of Reading
        Two readings, decimal comma first, when one comma stands before exactly three digits; otherwise empty.
    empty : bool
        Whether nothing was typed.
    expression : Expression or None
        What was read where an expression was asked.
    choices : tuple of int
        Options ticked, counted from 0, where a choice was asked.
    """

    value: float | None
    unit: str = ""
    asked_unit: str = ""
    problem: str = ""
    last_place: float = 0.0
    signed: bool = False
    alternatives: tuple[Reading, ...] = ()
    empty: bool = False
    expression: Expression | None = None
    choices: tuple[int, ...] = ()
    shown: str = ""

    @property
    def ok(self) -> bool:
        """Whether something was read."""
        return not self.problem

    @property
    def echo(self) -> str:
        """What to show before judging: "read as 78.75 mm", or "" when nothing was read."""
        if self.value is None:
            return f"read as {self.shown}" if self.shown else ""
        unit = self.unit or self.asked_unit
        return f"read as {number_text(self.value)}{'' if unit in ('', '1') else ' ' + written(unit)}"

    @property
    def mathml(self) -> str:
        """An expression as it was read, typeset; "" for anything else."""
        return self.expression.mathml() if self.expression is not None else ""


def number_text(value: float, digits: int = 12) -> str:
    """A number as plain text.

    At most `digits` significant digits, no trailing zeros, no power of ten where avoidable.

    >>> number_text(78.75), number_text(18.0), number_text(1234567.0), number_text(-0.0)
    ('78.75', '18', '1234567', '0')
    """
    text = f"{value:.{digits}g}"
    if "e" not in text:  # no trailing zeros in this form
        return "0" if text == "-0" else text
    if 1e-5 <= abs(value) < 1e15:
        text = f"{value:.0f}" if abs(value) >= 1 else f"{value:.{digits + 4}f}"
        return text.rstrip("0").rstrip(".") if "." in text else text
    return text


def read_expression(text: str, symbols: Iterable) -> Reading:
    """Read a typed expression.

    Parameters
    ----------
    text : str
        Anything at all [-].
    symbols : iterable
        What may stand in it: quantity words, or (symbol, word, ...) as in ``Answer.symbols`` [-].

    Examples
    --------
    >>> symbols = [("N1", "driver_teeth"), ("N2", "driven_teeth"), ("P", "diametral_pitch")]
    >>> read_expression("(N1+N2)/(2P)", symbols).echo
    'read as (N1 + N2)/(2*P)'
    """
    pairs = {}
    for one in symbols:
        if isinstance(one, str):
            pairs[one] = QUANTITIES[one].symbol("inch") if one in QUANTITIES else one
        else:
            pairs[str(one[1])] = str(one[0])
    if not text.strip():
        return Reading(None, problem="Nothing was typed.", empty=True)
    try:
        expression = parse(text, spellings(pairs))
    except ExpressionError as error:
        return Reading(None, problem=str(error))
    expression = replace(expression, symbols=tuple(pairs.items()))
    return Reading(None, expression=expression, shown=expression.text())


def read_choice(text: str, count: int) -> Reading:
    """Read which options were ticked: letters or numbers from 1, with commas or spaces between.

    >>> read_choice("b) ", 4).choices, read_choice("1, 3", 4).choices
    ((1,), (0, 2))
    """
    if len(text) > LONGEST:
        return Reading(None, problem="This is too long for a choice.")
    pieces = (
        text.lower()
        .replace(",", " ")
        .replace(";", " ")
        .replace(")", " ")
        .replace(".", " ")
        .replace("(", " ")
        .replace(" and ", " ")
        .split()
    )
    if not pieces:
        return Reading(None, problem="Nothing was chosen.", empty=True)
    chosen = set()
    for piece in pieces:
        place = (
            int(piece) - 1
            if piece.isascii() and piece.isdigit() and len(piece) < 3
            else ord(piece) - 97
            if len(piece) == 1
            else -1
        )
        if not 0 <= place < count:
            return Reading(None, problem=f"Choose one of a to {chr(96 + count)}.")
        chosen.add(place)
    choices = tuple(sorted(chosen))
    return Reading(None, choices=choices, shown=", ".join(chr(97 + place) for place in choices))
