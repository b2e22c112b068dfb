"""Whether the formulas of a derivation hold for the numbers put in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from math import pi
from typing import TYPE_CHECKING

import sympy as sp

from . import search
from .ranges import Refusal
from .scope import Equation, Scope, symbol
from .solving import evaluate

if TYPE_CHECKING:
    from .way import Derivation


def refusal(way: Derivation, numbers: Mapping[sp.Symbol, float]) -> Refusal | None:
    """The first bound that the numbers of a derivation break.

    None where all hold, or cannot be told from them.

    way: its steps name the formulas.
    numbers: numbers of the givens, and of whatever else is known [theory units, rad].

    >>> from gearlab.theory import derive
    >>> derive("contact_ratio", {"module": 2, "driver_teeth": 8, "driven_teeth": 45, "pressure_angle": 20})
    Traceback (most recent call last):
    ValueError: contact ratio: this formula holds while the driven tips meet the flank of the driver, outside
    its fillet or undercut. Here the tips of the driven gear reach past the flank of the driver, into its
    fillet or undercut: where they meet it, from its tangent point along the line of action, is -2.38829 mm,
    and would have to be at least 1.20531 mm. Ask Mesh(...), which measures it by rolling the cut teeth; or
    take more teeth or a larger profile shift
    """
    size = _any_size(way, numbers)
    broken = first_broken(
        way.scope, (step.equation for step in way.steps if step.equation is not None), {**numbers, **size}
    )
    return replace(broken, in_modules=True) if broken is not None and size else broken


def _any_size(way: Derivation, numbers: Mapping[sp.Symbol, float]) -> dict[sp.Symbol, float]:
    """The size of the tooth, where it is carried along and cancels: any will do, so that of one module."""
    sizes = {"module": 1.0, "diametral_pitch": 1.0, "circular_pitch": pi}
    return {
        symbol(word): sizes[word]
        for word in sorted(way.cancelling & sizes.keys())
        if symbol(word) not in numbers
    }


def first_broken(
    scope: Scope, equations: Iterable[Equation], numbers: Mapping[sp.Symbol, float]
) -> Refusal | None:
    """The first bound of some equations that numbers break, as for :func:`refusal`."""
    given = frozenset(letter.name for letter in numbers)
    bounds = [
        (equation, bound)
        for equation in equations
        if equation.relation.range
        for bound in scope.bounds(equation, given)
    ]
    if not bounds:
        return None
    known = dict(numbers)
    needed = {letter for _, bound in bounds for letter in bound.symbols} - known.keys()
    _follow(scope, known, needed)
    for equation, bound in bounds:
        try:
            number, limit, where = (
                evaluate(part, known) for part in (bound.number, bound.limit, bound.where)
            )
        except (KeyError, ValueError, OverflowError):
            continue  # what is not known cannot be checked: the sentence stands beside the result
        if bound.broken(number, limit, where):
            return Refusal(bound, equation.relation.condition, number, limit)
    return None


def _follow(scope: Scope, known: dict[sp.Symbol, float], needed: set[sp.Symbol]) -> None:
    """Work out what more the bounds need, as far as it follows by one equation after another."""
    if not needed & scope.symbols:
        return
    with scope.lock:
        links = search.forward_to(
            scope, [letter for letter in known if letter in scope.symbols], needed & scope.symbols
        )
    for link in links:
        if link.unknown in known:
            continue
        try:
            known[link.unknown] = evaluate(link.expression, known)
        except (KeyError, ValueError, OverflowError):
            continue
