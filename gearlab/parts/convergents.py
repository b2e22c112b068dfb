"""Continued fractions: which fractions come as near to a number as their size allows."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from .checks import whole, within


def continued_fraction(number: Fraction | float, most: int = 24) -> tuple[int, ...]:
    """The partial quotients of a number's continued fraction [-].

    number: 0 or more; a float is taken as the decimal number it is written as [-].
    most: how many at most [-].

    >>> continued_fraction(Fraction(2153, 9277))
    (0, 4, 3, 4, 4, 1, 3, 1, 2, 2)
    """
    most = whole("most", most, 1, 10_000)
    if not isinstance(number, Fraction):
        number = within("number", number, 0.0, math.inf, "")
    left = Fraction(repr(number) if isinstance(number, float) else number)
    if left < 0:
        raise ValueError(f"number = {number} is out of range: give 0 or more")
    quotients: list[int] = []
    while len(quotients) < most:
        quotient = left.numerator // left.denominator
        quotients.append(quotient)
        if left == quotient:
            break
        left = 1 / (left - quotient)
    return tuple(quotients)


def convergents(number: Fraction | float, most: int = 24) -> Iterator[Fraction]:
    """The convergents of a number's continued fraction.

    Each comes nearer than any fraction with a smaller denominator [-].

    >>> [str(fraction) for fraction in convergents(Fraction(191, 23))]
    ['8', '25/3', '83/10', '191/23']
    """
    before, now = (0, 1), (1, 0)
    for quotient in continued_fraction(number, most):
        before, now = now, (quotient * now[0] + before[0], quotient * now[1] + before[1])
        yield Fraction(*now)
