"""What a typed number is made of: tokens, digits with points and commas, and units behind them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from gearlab.digits import number_text
from gearlab.practice.typed.lookalikes import RAISED
from gearlab.practice.typed.units import BY_SPELLING, UNITS

__all__ = [
    "FUNCTIONS",
    "NUMBER",
    "Token",
    "Tokens",
    "Typed",
    "Unread",
    "canonical",
    "decimal",
    "likeliest",
    "unit_named",
]

FUNCTIONS = frozenset({"sqrt", "sin", "cos", "tan", "inv", "abs"})
_LONGEST_UNIT = 12  # tokens


class Unread(ValueError):
    """What was typed cannot be read; the sentence says what to write."""


@dataclass(slots=True)
class Typed:
    """What was understood.

    value, unit: the number and the unit typed behind it, "" for none.
    place: size of its last typed place; 0 where it is exact.
    signed: whether a sign or a direction was typed.
    how: how it was read, where that is not plain.
    other: value and last place where its one comma may part thousands.
    plain: whether it is digits alone, without any working.
    inner: whether units stand inside the working.
    tight: whether a minus without spaces was taken for a subtraction.
    """

    value: float
    unit: str = ""
    place: float = 0.0
    signed: bool = False
    how: str = ""
    other: tuple[float, float] | None = None
    plain: bool = False
    inner: bool = False
    tight: bool = False
    text: str = ""


@dataclass(slots=True)
class Token:
    kind: str  # "number", "mixed", "hyphened", "word", "sign"
    text: str
    spaced: bool  # whether a space stands before it


NUMBER = (
    r"[0-9]{1,3}(?: [0-9]{3})+(?![0-9])(?:[.,][0-9]*)?|[0-9]+(?:[.,][0-9]+)*[.,]?|[.,][0-9]+(?![.,]?[0-9])"
)
_TOKEN = re.compile(
    r"(?P<space> ?)(?:"
    r"(?P<mixed>[0-9]{1,15} [0-9]{1,15} ?/ ?[0-9]{1,15}(?![0-9.,]))"
    r"|(?P<hyphened>[0-9]{1,15}-[0-9]{1,15}/[0-9]{1,15}(?![0-9.,/]))"
    rf"|(?P<number>(?:{NUMBER})(?:[eE][+-]?[0-9]{{1,3}}(?![0-9.,]))?)"
    r"|(?P<word>[^\W\d_]\w*)"
    r"|(?P<sign>\*\*|.))",
    re.DOTALL,
)


class Tokens(list[Token]):
    """The tokens of one side, and what can begin at one of them."""

    @classmethod
    def of(cls, text: str) -> Tokens:
        """The tokens of a plain text."""
        tokens = cls()
        for match in _TOKEN.finditer(text):
            kind = match.lastgroup
            assert kind is not None  # the last alternative takes any character
            tokens.append(Token(kind, "pi" if match[kind] == "π" else match[kind], bool(match["space"])))
        return tokens

    def text(self, start: int = 0, end: int | None = None) -> str:
        """What was typed from one token to another."""
        return "".join(" " * token.spaced + token.text for token in self[start:end]).strip()

    def starts(self, place: int) -> bool:
        """Whether a number can begin at a token."""
        while place < len(self) and self[place].kind == "sign" and self[place].text in "+-(":
            place += 1
        if place >= len(self):
            return False
        token = self[place]
        if token.kind == "word":
            return token.text.lower() == "pi" or self.function(place)
        return token.kind != "sign"

    def function(self, place: int) -> bool:
        """Whether a token is a function with something behind it."""
        if self[place].kind != "word" or self[place].text.lower() not in FUNCTIONS or place + 1 == len(self):
            return False
        after = self[place + 1]
        return after.text == "(" or after.kind == "number" or after.text.lower() == "pi"

    def unit_at(self, start: int, asked: str) -> tuple[str, int]:
        """The longest unit that begins at a token, and where it ends; "" where none does."""
        for end in range(min(len(self), start + _LONGEST_UNIT), start, -1):
            if self[end - 1].text in ("*", "-", "/", "(", "^", "**", ".", ","):
                continue
            unit = unit_named("".join(token.text for token in self[start:end]), asked)
            if unit:
                return unit, end
        return "", start


# -- digits ------------------------------------------------------------------------------------------
def canonical(text: str) -> str:
    """A number as the expression reader takes it."""
    value = decimal(text)[0][0]
    return number_text(value, 17, 1e-30, 1e31)


def decimal(text: str) -> list[tuple[float, float]]:
    """Readings (value, size of the last place) of digits with points, commas, spaces and an exponent."""
    digits, _, exponent = text.lower().partition("e")
    if not exponent:
        return _plain_decimal(digits)
    if abs(int(exponent)) > 30:
        raise Unread("This power of ten is too large to be part of an answer here.")
    scale = 10.0 ** int(exponent)
    return [(value * scale, place * scale) for value, place in _plain_decimal(digits)[:1]]


def _plain_decimal(text: str) -> list[tuple[float, float]]:
    if len(text) > 40:
        raise Unread("This number has too many digits.")
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
            raise Unread("Several points or commas in one number; write it with one decimal point only.")
        return [_number("".join(groups), tail)]
    mark = "," if commas else "."
    whole, _, tail = text.partition(mark)
    readings = [_number(whole, tail)]
    if commas and len(tail) == 3 and not spaced and 1 <= len(whole) <= 3 and whole[0] != "0":
        readings.append(_number(whole + tail, ""))
    return readings


def _number(whole: str, tail: str) -> tuple[float, float]:
    return float(f"{whole or '0'}.{tail or '0'}"), 10.0 ** -len(tail)


# -- units -------------------------------------------------------------------------------------------
def likeliest(names: Sequence[str], asked: str) -> str:
    """Of several units with one spelling the one asked for, or one of the same dimension.

    600 1/min may be a frequency.
    """
    if asked in names or len(names) == 1:
        return asked if asked in names else names[0]
    dimension = UNITS[asked].dimension if asked in UNITS else ""
    return next((name for name in names if UNITS[name].dimension == dimension), names[0])


def unit_named(text: str, asked: str) -> str:
    """The unit with that spelling, or ""."""
    spelling = text.lower().translate(RAISED).replace(" ", "").replace("**", "^").replace("^(-1)", "^-1")
    spelling = re.sub(r"\*(?!\d)", "", spelling)  # N*m; but in * 3 is working, no cubic inch
    if spelling.startswith("-") and len(spelling) > 1 and spelling[1].isalpha():
        spelling = spelling[1:]  # "3-inch"
    if spelling.endswith("-1") and spelling[:-2].isalpha():
        spelling = spelling[:-2] + "^-1"  # min-1
    names = BY_SPELLING.get(spelling) or BY_SPELLING.get(
        spelling.replace("per", "/").replace("minute", "min").replace("second", "s")
    )
    return likeliest(names, asked) if names else ""
