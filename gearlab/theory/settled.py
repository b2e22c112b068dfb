"""What only numbers can settle.

Which of two roots is meant, and which row of the tooth system a pressure angle calls for.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from math import degrees, inf
from typing import TYPE_CHECKING

import numpy as np
import sympy as sp

from . import search
from .boundary import Number, outward
from .faults import NoSuchGears, check_result, listed
from .quantities import QUANTITIES, split_side
from .relation import Relation
from .scope import FULL_TURN, symbol
from .solving import evaluate
from .systems import ROWS, ToothSystem, system

if TYPE_CHECKING:
    from .way import Derivation

#: Words of the proportions that a row of a tooth system gives.
OF_A_ROW = {
    "addendum_factor": "addendum",
    "dedendum_factor": "dedendum",
    "rack_tip_radius": "tip_radius",
    "extra_dedendum": "extra_dedendum",
}
# So near the angle of a row [deg], a pressure angle that follows from rounded givens is that of the row.
_NEAR = 0.05
_MOST = 16  # choices of roots that are tried


# -- which of two roots --------------------------------------------------------------------------------
def numbers_of(way: Derivation, values: dict[sp.Symbol, float]) -> dict[sp.Symbol, float]:
    """Every number of a way [theory units, rad], of its roots those that make gears.

    ValueError where no choice of roots makes gears, or where two do and lead to different numbers.
    """
    chains: list[dict[sp.Symbol, float]] = []
    error: Exception | None = None
    for choice in list(product(*((step.expression, *step.others) for step in way.steps)))[:_MOST]:
        try:
            chains.append(_chain(way, values, choice))
        except (ValueError, OverflowError) as caught:
            error = error or caught
    if error and not chains:
        raise error
    asked = symbol(way.asked)
    answers = sorted({float(f"{chain[asked]:.9g}") for chain in chains if asked in chain})
    if len(answers) > 1:
        entry = QUANTITIES[way.asked]
        told = [f"{outward(way.asked, number, way.scope.length_unit):.6g}" for number in answers]
        raise NoSuchGears(
            f"{entry.meaning} has more than one answer for these givens, as an equation of the way has two"
            f" roots: {listed(told)}; give one more quantity, or another one in place of one of them, to tell"
            " which is meant"
        )
    return chains[0]


def _chain(
    way: Derivation, values: dict[sp.Symbol, float], choice: tuple[sp.Expr, ...]
) -> dict[sp.Symbol, float]:
    """The numbers of a way for one choice of its roots; ValueError where they are no numbers of gears."""
    known = dict(values)
    letters = {step.quantity for step in way.steps if step.role == "carried"} - {
        step.quantity for step in way.steps if step.role == "closed"
    }
    known |= {symbol(word): 1.0 for word in letters}  # they cancel, so any size will do
    steps = list(zip(way.steps, choice, strict=True))
    ordered = [pair for pair in steps if pair[0].role == "closed"] + [
        pair for pair in steps if pair[0].role in ("direct", "rearranged")
    ]
    for step, expression in ordered:
        if expression.free_symbols <= known.keys():
            number = known[symbol(step.quantity)] = evaluate(expression, known)
            check_result(QUANTITIES[step.quantity], number, way.given)
            if step.others and not _allowed(step.quantity, number):
                raise NoSuchGears(
                    f"{QUANTITIES[step.quantity].meaning} comes out as {number:.6g}, out of its range: no"
                    f" such gears exist; check {listed(way.given)}"
                )
    for step in way.steps:
        if step.others and step.equation and all(letter in known for letter in step.equation.symbols):
            left, right = known[step.equation.left], evaluate(step.equation.right, known)
            if abs(left - right) > 1e-6 * max(abs(left), abs(right)):  # squaring has made a root that is none
                raise NoSuchGears(f"no such gears exist; check {listed(way.given)}")
    return {letter: number for letter, number in known.items() if letter.name not in letters}


def _allowed(word: str, number: float) -> bool:
    entry = QUANTITIES[word]
    slack = 1e-9 * max(1.0, abs(number))
    return entry.low - slack <= number <= (entry.high + slack if entry.high < inf else inf) and (
        entry.zero or number != 0
    )


# -- which row of the tooth system ---------------------------------------------------------------------
#: A row whose proportions are letters, so that one formula serves every angle; systems with a length
#: added to the dedendum have one angle only.
ANY_ROW = ToothSystem(
    "any",
    20.0,
    addendum=symbol("addendum_factor"),
    dedendum=symbol("dedendum_factor"),
    tip_radius=symbol("rack_tip_radius"),
    extra_dedendum=0.0,
    source="proportions as letters",
)


@dataclass(frozen=True)
class RowChoice:
    """The name of a tooth system [-], and what finds the same way with another of its rows."""

    name: str
    make: Callable[[ToothSystem], Derivation]


@lru_cache(maxsize=1024)
def _words(relation: Relation) -> frozenset[str]:
    """The words that a relation's right-hand side asks for, without the gear they belong to."""
    noted: set[str] = set()

    class Noting:
        def __getattr__(self, word: str) -> sp.Symbol:
            noted.add(split_side(word)[1])
            return sp.Symbol(word, positive=True)

    relation.right(Noting())
    return frozenset(noted)


def row_words(way: Derivation) -> frozenset[str]:
    """The proportions of the tooth system that stand in the formulas of a way, as a ``ToothSystem`` calls
    them.
    """
    used = frozenset().union(*(_words(step.relation) for step in way.steps if step.relation))
    return frozenset(OF_A_ROW[word] for word in used & (OF_A_ROW.keys() - way.scope.features))


def angle_links(way: Derivation) -> list[search.Link] | None:
    """The way to the pressure angle from the givens, where it is not given but follows from them."""
    if "pressure_angle" in way.given or symbol("pressure_angle") not in way.scope.symbols:
        return None
    with way.scope.lock:
        return search.forward(way.scope, [symbol(word) for word in way.given], symbol("pressure_angle"))


def at_row(way: Derivation, values: Mapping[sp.Symbol, float]) -> Derivation:
    """The way with the row that the numbers call for; the same one where that is its own.

    A pressure angle that is given chooses the row; so does one that follows from the givens, if the row it
    chooses bears it out.
    """
    angle = values.get(symbol("pressure_angle"))
    if angle is not None:
        return _with_row(way, system(_choice(way).name, degrees(angle)))
    worked_angle = _followed(way, values)
    if worked_angle is None:
        return way
    row = next(
        (
            row
            for row in ROWS
            if row.name == _choice(way).name and abs(row.pressure_angle - worked_angle) < _NEAR
        ),
        None,
    ) or system(_choice(way).name, worked_angle)
    other = _with_row(way, row)
    again = _followed(other, values) if other is not way else worked_angle
    if again is None or abs(again - worked_angle) > _NEAR:
        raise NoSuchGears(
            f"the pressure angle that follows from {listed(way.given)} hangs on the row of the tooth system,"
            " and the row on the angle: give the pressure angle"
        )
    return other


def _followed(way: Derivation, values: Mapping[sp.Symbol, float]) -> float | None:
    links = way._angle_links
    if links is None:
        return None
    known = dict(values) | {FULL_TURN: 2 * np.pi}
    try:
        for link in links:
            known[link.unknown] = evaluate(link.expression, known)
    except (ValueError, KeyError, OverflowError):
        return None
    return degrees(known[symbol("pressure_angle")])


def _choice(way: Derivation) -> RowChoice:
    if way.row is None:
        raise ValueError(f"no tooth system stands behind {way!r}: only its givens tell its numbers")
    return way.row


def _with_row(way: Derivation, row: ToothSystem) -> Derivation:
    own = way.scope.systems[0]
    # A range may hang on any proportion of the tooth: where a formula has one, the whole row must be the
    # same.
    names = OF_A_ROW.values() if way.holds else way.row_words
    return way if all(getattr(row, name) == getattr(own, name) for name in names) else _choice(way).make(row)


def over_rows(way: Derivation, numbers: Mapping[str, Number]) -> np.ndarray | None:
    """The asked quantity for arrays of pressure angles that call for different rows.

    An array [theory units, rad]; None where one row serves all.
    """
    angles = np.asarray(numbers["pressure_angle"], dtype=float)
    rows = {angle: system(_choice(way).name, degrees(angle)) for angle in np.unique(angles)}
    if all(_with_row(way, row) is way for row in rows.values()):
        return None
    lettered = _choice(way).make(ANY_ROW)
    proportions = {
        word: np.vectorize(lambda angle, name=name: getattr(rows[angle], name), otypes=[float])(angles)
        for word, name in OF_A_ROW.items()
        if word in lettered.given and word not in numbers
    }
    return lettered._array({**numbers, **proportions})
