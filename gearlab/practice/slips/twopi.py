"""The two pi radians of a turn, as a factor of a formula, and what comes of leaving them out."""

from __future__ import annotations

from collections.abc import Iterator

import sympy as sp

from gearlab.practice.slips.change import Change


def power_of_two_pi(expression: sp.Expr) -> int:
    """The power in which two pi is a factor of an expression; 0 where it is none."""
    number, rest = expression.as_coeff_Mul()
    power = rest.as_powers_dict().get(sp.pi, 0)
    if power in (1, -1) and abs(number) == sp.Integer(2) ** power:
        return int(power)
    return 0


def two_pi_left_out(node: sp.Expr, place: str, top: bool) -> Iterator[Change]:
    """Power for torque times speed in turns: the change of leaving them out of a whole formula."""
    power = power_of_two_pi(node) if top and node.is_Mul else 0
    if power:
        sentence = f"You left out the two pi radians of a turn {place}."
        yield Change(1.65, "two pi left out", "left out 2 pi", sentence, 0.25, node / (2 * sp.pi) ** power)
