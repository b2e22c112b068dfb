"""What was understood of a typed answer: a number, an expression or a choice.

A number is read by a small grammar of our own. Understood are point and comma decimals, spaces (also thin and
no-break ones) between thousands, fractions and mixed numbers, powers of ten, every kind of minus sign, one
unit behind the number, and a direction of turning for speeds and angles (clockwise counts negative).
Everything else gets a sentence that says what to write instead.  Reading takes time linear in the length of
the text and never raises.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from gearlab.digits import number_text
from gearlab.practice.expression import Expression, ExpressionError, parse, spellings
from gearlab.practice.handin import letter
from gearlab.practice.units import BY_SPELLING, UNITS
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import alike, written

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


def read_expression(text: str, symbols: Iterable) -> Reading:
    """Read a typed expression; `symbols` may stand in it: words of quantities, or (symbol, word, ...).

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
        return Reading(None, problem=_NOTHING_TYPED, empty=True)
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
_DIRECTIONS = {
    "cw": -1,
    "clockwise": -1,
    "ccw": 1,
    "acw": 1,
    "counterclockwise": 1,
    "counter-clockwise": 1,
    "anticlockwise": 1,
    "anti-clockwise": 1,
}
# units whose quantity has a direction
_TURNING = {"rpm", "rev/s", "rad/s", "rad/min", "deg/s", "deg", "rad", "turns"}

# Look-alikes brought to one character.  Digits of other scripts are left alone and therefore not read.
_SAME = {
    **dict.fromkeys("\u2212\u2010\u2011\u2012\u2013\u2014\u2015\ufe63\uff0d\u207b\u02d7", "-"),
    **dict.fromkeys("\uff0b\ufe62\u207a", "+"),
    **dict.fromkeys(
        "\t\n\r\x0b\x0c\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000",
        " ",
    ),
    **dict.fromkeys(
        "\u200b\u200c\u200d\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2060\u2066\u2067\u2068\u2069\ufeff\u00ad",
        "",
    ),
    **dict.fromkeys("\u00d7\u00b7\u22c5\u2219\u2022\u2062", "*"),
    **dict.fromkeys("\u2044\u2215\uff0f\u00f7", "/"),
    **dict.fromkeys("\u2033\u201d\u201c\u201f\uff02\u02ba", '"'),
    **dict.fromkeys("\u00ba\u02da", "°"),
    **{chr(0xFF01 + i): chr(0x21 + i) for i in range(94)},
    **{
        fraction: f" {top}/{bottom}"
        for fraction, top, bottom in zip("½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞", "112131234151357", "233445555668888")
    },
}
_TABLE = str.maketrans(_SAME)
_RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹", "0123456789")
_LOWERED = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")

_PLAIN = re.compile(r"(-?[0-9]{1,15}(?:\.[0-9]{1,15})?)(?: ?([A-Za-z]{1,8}(?:/[A-Za-z]{1,4})?|[%°]))?")
# A symbol, a ratio of two, or a few words, before the equals sign.
_NAMED = re.compile(
    r"(?:[A-Za-z\u0370-\u03ff][A-Za-z0-9_\u0370-\u03ff -]{0,39}(?:/ ?[A-Za-z][A-Za-z0-9_]{0,15} ?)?)?= ?"
)
_SIGN = re.compile(r"([+-]?) ?")
_MIXED = re.compile(r"([0-9]{1,15}) ([0-9]{1,15}) ?/ ?([0-9]{1,15})(?![0-9.,])")
_DECIMAL = re.compile(
    r"[0-9]{1,3}(?: [0-9]{3})+(?![0-9])(?:[.,][0-9]*)?|[0-9]+(?:[.,][0-9]+)*[.,]?|[.,][0-9]+"
)
_POWER = re.compile(
    r"[eE]([+-]?[0-9]{1,3})(?![0-9.,])| ?[*xX] ?10 ?(?:\^|\*\*) ?\(?([+-]?[0-9]{1,3})\)?(?![0-9.,])"
)
_RAISED_RUN = re.compile(r"10([+-]?)([⁰¹²³⁴⁵⁶⁷⁸⁹]+)")
_DIVISION = re.compile(r" ?/ ?")
_HYPHENED = re.compile(r"- ?[0-9]{1,15} ?/ ?[0-9]{1,15}")  # 3-1/2: a mixed number or a difference


def read_number(text: str, unit: str = "") -> Reading:
    """Read a number a student typed, where `unit` is asked ("" or "1" for a plain number).

    The unit is echoed when none was typed and decides between units with the same spelling ("1/s").

    >>> read_number("78,75 mm", "mm").echo
    'read as 78.75 mm'
    >>> read_number("3 1/2", "in").value
    3.5
    >>> read_number("6 rpm cw", "rpm").value
    -6.0
    >>> [one.value for one in read_number("1,234", "mm").alternatives]
    [1.234, 1234.0]
    >>> read_number("1:2").problem
    'Write the ratio as one number, for example 2.5.'
    """
    plain = _PLAIN.fullmatch(text)  # nearly every answer
    if plain:
        digits, spelling = plain.groups()
        names = BY_SPELLING.get(spelling.lower()) if spelling else ("",)
        if names:
            point = digits.find(".")
            return Reading(
                float(digits) + 0.0,
                names[0] if len(names) == 1 else _likeliest(names, unit),
                unit,
                "",
                1.0 if point < 0 else 10.0 ** (point + 1 - len(digits)),
                digits[0] == "-",
            )
    if not text:
        return Reading(None, "", unit, _NOTHING_TYPED, empty=True)
    if len(text) > LONGEST:
        return _no(unit, f"This is too long for a number (at most {LONGEST} characters).")
    text = _RAISED_RUN.sub(
        lambda found: f"10^{found[1]}{found[2].translate(_RAISED)}", text.translate(_TABLE)
    )
    text = " ".join(text.translate(_LOWERED).replace("-¹", "^-1").split())
    if not text:
        return Reading(None, "", unit, _NOTHING_TYPED, empty=True)
    if text[-1] in ".,;" and not text[-2:-1].isdigit():
        text = text[:-1].rstrip()  # the stop behind "in." or behind a sentence
    text, direction, problem = _without_direction(text, unit)
    if problem:
        return _no(unit, problem)
    named = _NAMED.match(text)
    if named:
        text = text[named.end() :]
    sign = _SIGN.match(text)
    assert sign is not None  # no sign is a match too
    start = sign.end()
    if sign[1] and direction and sign[1] == "-":
        return _no(unit, "Write either a minus sign or a direction, not both.")
    readings, end, problem = _value(text, start)
    if problem:
        return _no(unit, problem)
    if not readings:
        return _no(unit, _why_no_number(text))
    typed, problem = _unit(text[end:], unit)
    if problem:
        return _no(unit, problem)
    if direction and (typed or unit) not in _TURNING:
        return _no(unit, "A direction of turning belongs to a speed or an angle only.")
    factor = (-1.0 if sign[1] == "-" else 1.0) * (direction or 1)
    made = tuple(
        Reading(value * factor + 0.0, typed, unit, "", place, bool(sign[1]) or direction != 0)
        for value, place in readings
    )
    if any(abs(one.value or 0.0) > 1e30 for one in made):
        return _no(unit, "This number is too large to be an answer here.")
    return made[0] if len(made) == 1 else replace(made[0], alternatives=made)


def _no(unit: str, problem: str) -> Reading:
    return Reading(None, "", unit, problem)


def _without_direction(text: str, unit: str) -> tuple[str, int, str]:
    """The text without a direction word at its end or start, and the sign of that direction (0: none)."""
    lower = text.lower()
    if "w" not in lower:  # every direction word has one
        return text, 0, ""
    if lower.endswith("w)") or lower.endswith("wise)"):  # 6 rpm (cw)
        text = text[:-1].replace("(", " ", 1)
        lower = text.lower()
    for word, sign in sorted(_DIRECTIONS.items(), key=lambda item: -len(item[0])):
        for form in (word, word.replace("-", " ")):
            if (
                lower.endswith(form)
                and not lower[: -len(form)][-1:].isalpha()
                and not lower[: -len(form)].endswith("-")
            ):
                return text[: -len(form)].rstrip(" ,"), sign, ""
            if lower.startswith(form + " "):
                return text[len(form) :].lstrip(" ,"), sign, ""
    return text, 0, ""


def _value(text: str, start: int) -> tuple[list[tuple[float, float]], int, str]:
    """The readings (value, size of the last place) of the number that starts there, where it ends, and a
    problem.
    """
    mixed = _MIXED.match(text, start)
    if mixed:
        whole, top, bottom = (int(part) for part in mixed.groups())
        if bottom == 0:
            return [], start, "The fraction has a zero below the line."
        if top >= bottom:
            return [], start, "Two numbers were typed; write one number, or a mixed number such as 3 1/2."
        return [(whole + top / bottom, 0.0)], mixed.end(), ""
    first = _DECIMAL.match(text, start)
    if not first:
        return [], start, ""
    readings, problem = _decimal(first[0])
    if problem:
        return [], start, problem
    end = first.end()
    power = _POWER.match(text, end)
    if power:
        exponent = int(power[1] or power[2])
        if abs(exponent) > 30:
            return [], start, "This power of ten is too large to be part of an answer here."
        scale = 10.0**exponent
        readings = [(value * scale, place * scale) for value, place in readings[:1]]
        end = power.end()
    division = _DIVISION.match(text, end)
    second = _DECIMAL.match(text, division.end()) if division else None
    if second:
        below, problem = _decimal(second[0])
        if problem:
            return [], start, problem
        if len(readings) > 1 or len(below) > 1:
            return [], start, "A comma in a fraction can be read two ways; write one decimal number."
        if below[0][0] == 0:
            return [], start, "The fraction has a zero below the line."
        readings, end = [(readings[0][0] / below[0][0], 0.0)], second.end()
    return readings, end, ""


def _decimal(text: str) -> tuple[list[tuple[float, float]], str]:
    """Readings of digits with points, commas and spaces in them."""
    if len(text) > 40:
        return [], "This number has too many digits."
    spaced = " " in text
    text = text.replace(" ", "")
    points, commas = text.count("."), text.count(",")
    if points + commas > 1:  # several marks: all but the last must part thousands, and be of one kind
        last = max(text.rfind("."), text.rfind(","))
        mark = "," if text[last] == "." else "."
        head, tail = text[:last], text[last + 1 :]
        if text[last] in head:  # 1,234,567
            mark, head, tail = text[last], text, ""
        groups = head.split(mark)
        proper = 1 <= len(groups[0]) <= 3 and all(len(group) == 3 and group.isdigit() for group in groups[1:])
        if spaced or not groups[0].isdigit() or len(groups) < 2 or not proper:
            return [], "Several points or commas in one number; write it with one decimal point only."
        return [_number("".join(groups), tail)], ""
    mark = "," if commas else "."
    whole, _, tail = text.partition(mark)
    readings = [_number(whole, tail)]
    if commas and len(tail) == 3 and not spaced and 1 <= len(whole) <= 3 and whole[0] != "0":
        readings.append(_number(whole + tail, ""))
    return readings, ""


def _number(whole: str, tail: str) -> tuple[float, float]:
    return float(f"{whole or '0'}.{tail or '0'}"), 10.0 ** -len(tail)


def _likeliest(names: tuple[str, ...] | list[str], asked: str) -> str:
    """Of several units with one spelling the one asked for, or one of the same dimension.

    600 1/min may be a frequency.
    """
    if asked in names or len(names) == 1:
        return asked if asked in names else names[0]
    dimension = UNITS[asked].dimension if asked in UNITS else ""
    return next((name for name in names if UNITS[name].dimension == dimension), names[0])


def _unit(rest: str, asked: str) -> tuple[str, str]:
    """The unit named by what stands behind the number, and a problem."""
    if not rest:
        return "", ""
    spelling = (
        rest.lower()
        .translate(_RAISED)
        .replace(" ", "")
        .replace("**", "^")
        .replace("^(-1)", "^-1")
        .replace("*", "")
    )
    if spelling.startswith("-") and len(spelling) > 1 and spelling[1].isalpha():
        spelling = spelling[1:]  # "3-inch"
    if spelling.endswith("-1") and spelling[:-2].isalpha():
        spelling = spelling[:-2] + "^-1"  # min-1
    names = BY_SPELLING.get(spelling) or BY_SPELLING.get(
        spelling.replace("per", "/").replace("minute", "min").replace("second", "s")
    )
    if names:
        return _likeliest(names, asked), ""
    shown = rest.strip()
    shown = shown if len(shown) <= 30 else shown[:27] + "..."
    if ":" in rest:
        return "", "Write the ratio as one number, for example 2.5."
    if not shown:
        return "", ""
    if _HYPHENED.match(shown):
        return "", "Write a mixed number with a space, such as 3 1/2, or work it out and write one number."
    if any(character.isdigit() for character in rest) and shown[0] in "*x^/+-":
        return "", "Work it out and write one number."
    if any(character.isdigit() for character in rest):
        return "", "More than one number was typed; write one number only."
    known = f" The unit here is {asked}." if asked not in ("", "1") else " This answer has no unit."
    return "", f"“{shown}” is not a unit that can be read.{known}"


def _why_no_number(text: str) -> str:
    lower = text.lower()
    if any(
        lower.startswith(word)
        for word in ("about", "approx", "ca", "circa", "roughly", "~", "≈", "<", ">", "around")
    ):
        return "Write the number alone, without “about” or a comparison sign."
    if lower in ("nan", "inf", "infinity", "∞"):
        return "An ordinary number is needed here."
    if any(character.isdigit() for character in text):
        return "Write the number first and the unit behind it, for example 12.5 mm."
    return "No number was found; write one, for example 12.5."


# -- a number within a range -------------------------------------------------------------------------
def in_unit(reading: Reading, unit: str) -> float | None:
    """A number that was read, in the unit asked [unit]; None where the unit typed measures something else."""
    if reading.value is None or not reading.unit or reading.unit == unit:
        return reading.value
    typed, asked = UNITS[reading.unit], UNITS[unit or "1"]
    return reading.value * typed.size / asked.size if alike(typed.dimension, asked.dimension) else None


def read_within(text: str, unit: str, low: float, high: float, whole: bool = False) -> Reading:
    """Read a number that has to lie from `low` to `high` [unit]; with a problem where it does not fit.

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
