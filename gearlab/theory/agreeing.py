"""A student's own line of algebra, compared with the formula: by numbers, in either notation."""

from __future__ import annotations

import math
import random
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from types import EllipsisType
from typing import TYPE_CHECKING, Any, TypeAlias

import sympy as sp

from .boundary import outward, told
from .printing import show_number
from .quantities import NOTATIONS, QUANTITIES, Quantity, quantity
from .scope import FULL_TURN, symbol

if TYPE_CHECKING:
    from .way import Derivation

#: What a student hands over: an expression, an equation, what ``solve`` gives, a number; ``...`` for nothing.
Line: TypeAlias = (
    sp.Basic | Mapping[sp.Basic, sp.Basic] | Collection[sp.Basic] | complex | str | EllipsisType | None
)

_SAME = 1e-6  # share by which two numbers may differ: a student's own decimals are seldom longer
_TRIES, _ENOUGH = 40, 4


@dataclass(frozen=True)
class Agreement:
    """Whether a line agrees with a formula, and the sentence that says so.

    agrees: True, False, or None where nothing was answered yet.
    """

    agrees: bool | None
    sentence: str

    def __bool__(self) -> bool:
        return bool(self.agrees)

    def __repr__(self) -> str:
        return self.sentence


def symbols_of(names: str, notation: str | None = None) -> Any:
    """Sympy symbols by the letters of the trade, with what is known of them (positive, or only real).

    names: symbols or words, with spaces between, such as "N P" or "z1 z2 m".
    notation: "inch" or "iso"; by default whichever knows the letter.
    Returns one symbol, or a tuple of several.
    ValueError for a letter that neither notation has.

    >>> from sympy import Eq, solve
    >>> d, N, P = symbols_of("d N P")
    >>> solve(Eq(d, N / P), N)
    [P*d]
    """
    letters = tuple(
        sp.Symbol(name, real=True) if _quantity(name, notation).signed else sp.Symbol(name, positive=True)
        for name in names.replace(",", " ").split()
    )
    return letters[0] if len(letters) == 1 else letters


def _quantity(name: str, notation: str | None, among: tuple[str, ...] = ()) -> Quantity:
    for each in (notation, *NOTATIONS):
        if each is not None:
            try:
                return quantity(name, each, among)
            except ValueError as error:
                fault = error
    raise fault


def agreement(way: Derivation, expression: Line) -> Agreement:
    """Compare what a student wrote with the formula of a derivation; see ``Derivation.agrees``."""
    meaning = QUANTITIES[way.asked].meaning
    if expression is None or expression is Ellipsis:
        return Agreement(None, "Not answered yet.")
    lines = _lines(expression)
    if not lines:
        return Agreement(False, "There is no formula in this: write one line of algebra.")
    answers = [_compared(way, line, meaning) for line in lines]
    right = next((answer for answer in answers if answer), None)
    if right is None:
        return answers[0]
    if len(lines) > 1:
        return Agreement(True, f"One of your {len(lines)} solutions agrees: {right.sentence}")
    return right


def _lines(expression: Line) -> list[sp.Basic]:
    """The expressions in what a student hands over: one, or what ``solve`` gives (a list, a set, a dict)."""
    if isinstance(expression, dict):
        return [sp.Eq(letter, value, evaluate=False) for letter, value in expression.items()]
    if isinstance(expression, (list, tuple, set, frozenset, sp.FiniteSet)):
        return [line for each in expression for line in _lines(each)]
    if isinstance(expression, str):  # never read as code
        return []
    try:
        line = sp.sympify(expression, strict=True)
    except (sp.SympifyError, TypeError, ValueError):
        return []
    return [line] if isinstance(line, (sp.Expr, sp.Equality)) else []


def _compared(way: Derivation, line: sp.Basic, meaning: str) -> Agreement:
    among = tuple(letter.name for letter in way.scope.symbols)
    words: dict[sp.Symbol, str] = {}
    for letter in line.free_symbols:
        assert isinstance(letter, sp.Symbol)
        try:
            words[letter] = _quantity(letter.name, way.notation, among).word
        except ValueError:
            return Agreement(False, f"The letter {letter.name} is none of the quantities here.")
    if isinstance(line, sp.Equality) and way.asked not in words.values():
        return Agreement(False, f"There is no {meaning} in your equation: it should be there.")
    beyond = set(words.values()) - set(way.given) - {way.asked}
    if beyond:
        names = ", ".join(sorted(QUANTITIES[word].meaning for word in beyond))
        return Agreement(False, f"Your line still has {names} in it: write it with what is given alone.")
    if not isinstance(line, sp.Equality) and way.asked in words.values():
        return Agreement(False, f"Your line has the {meaning} itself in it: solve for it.")
    met, far = 0, ""
    for degrees in (False, True):  # a student's angle may be in either: sin(phi), or sin(phi*pi/180)
        met, miss = 0, ""
        for numbers in _numbers(way):
            miss = _miss(way, line, words, numbers, degrees)
            if miss:
                break
            met += 1
        if met and not miss:
            return Agreement(True, f"Your line agrees with the formula of the {meaning}.")
        far = far or miss
    if not far:
        return Agreement(False, "No numbers were found at which both can be compared.")
    return Agreement(False, f"Your line differs from the formula of the {meaning}: {far}.")


def _numbers(way: Derivation) -> Iterator[dict[str, float]]:
    """Numbers at which the formula holds, by word [theory units, rad], the asked one among them."""
    chance, met = random.Random(way.asked), 0
    for _ in range(_TRIES):
        world = way.scope.worlds[chance.randrange(2)]
        numbers = {
            word: world[symbol(word)] * chance.uniform(0.93, 1.12)
            for word in way.given
            if symbol(word) in world
        }
        for word in numbers:
            if QUANTITIES[word].whole:
                numbers[word] = float(max(1, round(numbers[word])))
        try:
            numbers[way.asked] = float(way._number(numbers))
        except (ValueError, KeyError, ArithmeticError, TypeError):
            continue
        yield numbers
        met += 1
        if met == _ENOUGH:
            return


def _miss(
    way: Derivation, line: sp.Basic, words: dict[sp.Symbol, str], numbers: dict[str, float], degrees: bool
) -> str:
    """Where a line differs from the formula, in words; "" where it agrees at these numbers."""
    unit = way.scope.length_unit

    def size(word: str) -> float:
        number = numbers[word]
        return math.degrees(number) if degrees and QUANTITIES[word].dimension == "angle" else number

    put = {letter: sp.Float(size(word), 17) for letter, word in words.items()}
    try:
        if isinstance(line, sp.Equality):
            left, right = (complex(side.subs(put).subs(FULL_TURN, 2 * sp.pi).evalf()) for side in line.args)
        else:
            left, right = complex(line.subs(put).evalf()), complex(size(way.asked))
    except (TypeError, ValueError, OverflowError, ZeroDivisionError):
        return "it gives no number there"
    if abs(left - right) <= _SAME * max(abs(left), abs(right), 1e-12):
        return ""
    stated = ", ".join(_stated(way, word, numbers[word]) for word in way.used)
    asked = told(way.asked, float(show_number(float(outward(way.asked, numbers[way.asked], unit)), 5)), unit)
    if isinstance(line, sp.Equality):
        return f"with {stated} the {QUANTITIES[way.asked].meaning} is {asked}, and your two sides are unlike"
    if abs(left.imag) > _SAME:
        return f"with {stated} the formula gives {asked}, and your line no real number"
    own = left.real
    if QUANTITIES[way.asked].dimension == "angle":
        own = own if degrees else math.degrees(own)
    else:
        own = float(outward(way.asked, own, unit))
    mine = told(way.asked, float(show_number(own, 5)), unit)
    return f"with {stated} the formula gives {asked}, your line {mine}"


def _stated(way: Derivation, word: str, number: float) -> str:
    unit = way.scope.length_unit
    size = told(word, round(float(outward(word, number, unit)), 4), unit)
    return f"{quantity(word).symbol(way.notation)} = {size}"
