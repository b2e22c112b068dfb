"""What was understood of a typed answer: a number, an expression or a choice.

A number is read by a small grammar of our own (`typednumber`): decimals with point or comma, fractions,
working, ratios, one unit, a direction of turning for speeds and angles (clockwise counts negative).
Everything else gets a sentence that says what to write instead. Reading takes bounded time and never raises.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from gearlab.digits import number_text
from gearlab.practice.formulas.expression import Expression, ExpressionError, parse, spellings
from gearlab.practice.handin import letter
from gearlab.practice.typed.number import understand
from gearlab.practice.typed.tokens import Unread, likeliest
from gearlab.practice.typed.units import BY_SPELLING, UNITS
from gearlab.practice.typed.wording import ANY, Naming
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import convertible, written

__all__ = [
    "LONGEST",
    "Reading",
    "cut",
    "in_unit",
    "read_choice",
    "read_expression",
    "read_number",
    "read_within",
]

LONGEST = 200  # characters looked at; a longer text is no answer
_NOTHING_TYPED = "Nothing was typed."


def cut(text: str | None) -> str:
    """A typed text, not longer than is looked at: a longer one stays too long."""
    return text[: LONGEST + 1] if type(text) is str else "" if text is None else str(text)[: LONGEST + 1]


# Nothing writes to a reading once it is made; not frozen for the reason of `Verdict`.
@dataclass(slots=True)
class Reading:
    """What was understood of a typed text.

    value: the number in the unit typed, or in the unit asked when none was typed; None where none was read.
    unit, asked_unit: the units typed and asked, "" for none.
    problem: a sentence that says what to write instead; "" when something was read.
    last_place: size of one unit in the last typed place (0.01 for 78.75); 0 for a fraction, which is exact.
    signed: whether a sign or a direction was typed.
    alternatives: two readings, decimal comma first, where one comma stands before exactly three digits.
    empty: whether nothing was typed.
    expression, choices: where these were asked; options are counted from 0.
    shown: an expression or a choice as it was read.
    how: how a number was read, where that is not plain: a mixed number, worked out from 5/2*pi.
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
    how: str = ""

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
        number = f"{number_text(self.value)}{'' if unit in ('', '1') else ' ' + written(unit)}"
        return f"read as {number} ({self.how})" if self.how else f"read as {number}"

    @property
    def mathml(self) -> str:
        """An expression as it was read, typeset; "" for anything else."""
        return self.expression.mathml() if self.expression is not None else ""


def read_expression(text: str, symbols: Iterable) -> Reading:
    """Read a typed expression; `symbols` may stand in it: words of quantities, or (symbol, word, ...).

    >>> symbols = [("N1", "driver_teeth"), ("N2", "driven_teeth"), ("P", "diametral_pitch")]
    >>> read_expression("(N1+N2)/(2P)", symbols).echo
    'read as (N1 + N2)/(2*P)'
    """
    pairs = {}
    for symbol in symbols:
        if isinstance(symbol, str):
            pairs[symbol] = QUANTITIES[symbol].symbol("inch") if symbol in QUANTITIES else symbol
        else:
            pairs[str(symbol[1])] = str(symbol[0])
    if not text.strip():
        return Reading(None, problem=_NOTHING_TYPED, empty=True)
    try:
        expression = parse(text, spellings(pairs))
    except ExpressionError as error:
        return Reading(None, problem=str(error))
    expression = replace(expression, symbols=tuple(pairs.items()))
    return Reading(None, expression=expression, shown=expression.text())


@lru_cache(maxsize=1024)  # a class ticks the same few
def read_choice(text: str, count: int) -> Reading:
    """Read which options were ticked: letters or numbers from 1, with commas or spaces between.

    >>> read_choice("b) ", 4).choices, read_choice("1, 3", 4).choices
    ((1,), (0, 2))
    """
    if len(text) > LONGEST:
        return Reading(None, problem="This is too long for a choice.")
    pieces = re.sub("[,;).(]", " ", text.lower()).replace(" and ", " ").split()
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
            return Reading(None, problem=f"Choose one of a to {letter(count - 1)}.")
        chosen.add(place)
    choices = tuple(sorted(chosen))
    return Reading(None, choices=choices, shown=", ".join(map(letter, choices)))


# -- a number ----------------------------------------------------------------------------------------
# digits with a point or a comma that parts no thousands, and a unit
_PLAIN = re.compile(
    r"(-?[0-9]{1,15}(?:\.[0-9]{1,15}|,(?![0-9]{3}(?![0-9]))[0-9]{1,15})?)"
    r"(?: ?([A-Za-z]{1,8}(?:/[A-Za-z]{1,4})?|[%°]))? ?"
)


def read_number(text: str, unit: str = "", names: Naming = ANY) -> Reading:
    """Read a number a student typed, where `unit` is asked ("" or "1" for a plain number).

    The unit is echoed when none was typed and decides between units with the same spelling ("1/s"). `names`
    says what the number may be called, and what the two sides of a ratio are.

    >>> read_number("78,75 mm", "mm").echo
    'read as 78.75 mm'
    >>> read_number("3-1/2", "in").echo
    'read as 3.5 in (a mixed number, 3 and 1/2)'
    >>> read_number("6 rpm cw", "rpm").value
    -6.0
    >>> [meaning.value for meaning in read_number("1,234", "mm").alternatives]
    [1.234, 1234.0]
    >>> read_number("1:2", "mm").problem
    'A ratio with a colon does not fit here; work it out and write one number.'
    """
    plain = _PLAIN.fullmatch(text)  # nearly every answer
    if plain:
        digits, spelling = plain.groups()
        units = BY_SPELLING.get(spelling.lower()) if spelling else ("",)
        if units:
            digits = digits.replace(",", ".")
            point = digits.find(".")
            return Reading(
                float(digits) + 0.0,
                units[0] if len(units) == 1 else likeliest(units, unit),
                unit,
                "",
                1.0 if point < 0 else 10.0 ** (point + 1 - len(digits)),
                digits[0] == "-",
            )
    if not text:
        return Reading(None, "", unit, _NOTHING_TYPED, empty=True)
    if len(text) > LONGEST:
        return _no(unit, "This is too long for a number.")
    return _by_grammar(text, unit, names)


@lru_cache(maxsize=4096)
def _by_grammar(text: str, unit: str, names: Naming) -> Reading:
    """A class writes the same again and again, and a page asks again of what was typed."""
    try:
        typed = understand(text, unit, names)
    except Unread as error:
        return _no(unit, str(error))
    if typed is None:
        return Reading(None, "", unit, _NOTHING_TYPED, empty=True)
    reading = Reading(typed.value + 0.0, typed.unit, unit, "", typed.place, typed.signed, how=typed.how)
    if typed.other is None:
        return reading
    thousands = replace(reading, value=typed.other[0] + 0.0, last_place=typed.other[1])
    return replace(reading, alternatives=(reading, thousands))


def _no(unit: str, problem: str) -> Reading:
    return Reading(None, "", unit, problem)


# -- a number within a range -------------------------------------------------------------------------
def in_unit(reading: Reading, unit: str) -> float | None:
    """A number that was read, in the unit asked [unit]; None where the unit typed measures something else."""
    if reading.value is None or not reading.unit or reading.unit == unit:
        return reading.value
    scale = convertible(UNITS[reading.unit], UNITS[unit or "1"])
    return None if scale is None else reading.value * scale


def read_within(
    text: str, unit: str, low: float, high: float, whole: bool = False, names: Naming = ANY
) -> Reading:
    """Read a number that has to lie from `low` to `high` [unit]; with a problem where it does not fit.

    >>> read_within("18 teeth", "teeth", 4, 400, True).echo
    'read as 18 teeth'
    >>> read_within("18.5", "teeth", 4, 400, True).problem
    'A whole number is needed here.'
    >>> read_within("1,234", "mm", 0.5, 10).echo
    'read as 1.234 mm'
    """
    reading = read_number(text, unit, names)
    if reading.value is None:
        return reading
    fitting = [meaning for meaning in reading.alternatives if not _misfit(meaning, unit, low, high, whole)]
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
