"""A single wrong way to write an expression, and how the parts of one are called."""

from __future__ import annotations

from dataclasses import dataclass

import sympy as sp

from gearlab.theory.quantities import QUANTITIES, known

__all__ = ["Change", "across", "is_quantity", "meaning_of", "plain_number", "power_of_two_pi", "spoken"]


@dataclass(frozen=True)
class Change:
    """One wrong way to write an expression; the lower its rank, the likelier."""

    rank: float
    name: str
    title: str
    sentence: str
    credit: float
    put: sp.Expr


def meaning_of(expression: sp.Expr) -> str:
    """What a part of an expression is, to be read after "the": its quantities, or its number.

    >>> from gearlab.theory.scope import symbol
    >>> meaning_of(2 * symbol("addendum")), meaning_of(sp.pi / 2), meaning_of(sp.Rational(5, 2))
    ('addendum', 'right angle', '2.5')
    """
    words = sorted(s.name for s in expression.free_symbols if known(s.name))
    if words:
        return " and the ".join(QUANTITIES[word].meaning for word in words)
    if expression.free_symbols:
        return "full turn"
    turns = {sp.pi / 2: "right angle", sp.pi: "half turn", 2 * sp.pi: "full turn"}
    return turns.get(abs(expression), plain_number(abs(expression)))


def plain_number(size: sp.Expr) -> str:
    """A number for a sentence: 1/2 as a fraction, others in decimals."""
    return f"{size}" if size.is_Rational and size.p == 1 else f"{float(size):.4g}"


def spoken(node: sp.Expr) -> str:
    """The name of a function, to be read after "the"."""
    names = {
        "sin": "sine",
        "cos": "cosine",
        "tan": "tangent",
        "asin": "inverse sine",
        "acos": "inverse cosine",
        "atan": "inverse tangent",
        "inv": "involute function",
        "arcinv": "inverse of the involute function",
    }
    return names[type(node).__name__]


def across(expression: sp.Expr) -> bool:
    """Whether it is a diameter, a radius or a centre distance, to which smaller lengths are added."""
    return any(s.name.endswith(("diameter", "radius", "centre_distance")) for s in expression.free_symbols)


def is_quantity(part: sp.Expr) -> bool:
    """Whether it is the letter of a quantity of theory, or of one that a question brings along."""
    return part.is_Symbol and known(part.name)


def power_of_two_pi(expression: sp.Expr) -> int:
    """The power in which two pi is a factor of an expression; 0 where it is none."""
    number, rest = expression.as_coeff_Mul()
    power = rest.as_powers_dict().get(sp.pi, 0)
    if power in (1, -1) and abs(number) == sp.Integer(2) ** power:
        return int(power)
    return 0
