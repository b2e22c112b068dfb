"""A derivation: the way from givens to what is asked, with its closed form and its numbers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from math import pi

import numpy as np
import sympy as sp

from .faults import check_range, check_result, in_degrees, in_radians, listed
from .functions import ARRAY_TWINS
from .quantities import QUANTITIES, quantity
from .relation import Relation
from .rendering import Rendering
from .scope import FULL_TURN, Scope, symbol
from .solving import evaluate, tidy


@dataclass(frozen=True)
class Step:
    """One step of a derivation.

    Parameters
    ----------
    quantity : str
        Word of the quantity found [-].
    relation : Relation or None
        The formula it comes from; None where a letter is merely carried along.
    expression : sympy.Expr
        The formula rearranged for the quantity, in symbols by word (angles in radians).
    role : str
        "direct", "rearranged", "carried" or "closed" [-].

    Examples
    --------
    >>> from gearlab.theory import derive
    >>> derive("outside_diameter", given=["teeth", "diametral_pitch"]).steps[0].quantity
    'pitch_diameter'
    """

    quantity: str
    relation: Relation | None
    expression: sp.Expr
    role: str

    @cached_property
    def inputs(self) -> tuple[str, ...]:
        """Words of the quantities that go in [-]."""
        return tuple(sorted(s.name for s in self.expression.free_symbols - {FULL_TURN}))


@dataclass(frozen=True, eq=False, repr=False)
class Derivation(Rendering):
    """The way from givens to what is asked; made by :func:`derive` or by ``explain`` of a part.

    Parameters
    ----------
    asked : str
        Word of the quantity asked [-].
    given : tuple of str
        Words of what was given [-].
    steps : tuple of Step
        In order, each resting on the givens and the steps before it.
    scope : Scope
        The relations it was found in.
    notation : str
        "inch" or "iso" [-].
    numbers : dict
        Values put in, by word [theory units, angles in degrees]; empty without values.
    notes : tuple of str
        What a reader should be told, such as a tooth count that is not whole [-].

    Examples
    --------
    >>> from gearlab.theory import derive
    >>> way = derive("pitch_diameter", given={"N": 18, "P": 10})
    >>> way.result, way.unit
    (1.8, 'in')
    >>> print(way.text())
    pitch diameter: d = N/P = 18/10 = 1.8 in
    sources: in print: R. L. Mott, Machine Elements in Mechanical Design, 4th ed., table 8-2.
    """

    asked: str
    given: tuple[str, ...]
    steps: tuple[Step, ...]
    scope: Scope = field(repr=False)
    notation: str = "inch"
    numbers: Mapping[str, float] = field(default_factory=dict, repr=False)
    notes: tuple[str, ...] = ()

    # -- the closed form ------------------------------------------------------------------------
    @cached_property
    def _form(self) -> sp.Expr:
        # The size of the tooth, carried and cancelling, may be any: one keeps the algebra short.
        known: dict[sp.Symbol, sp.Expr] = {symbol(word): sp.Integer(1) for word in self.cancelling & {"diametral_pitch", "module"}}
        found: dict[sp.Symbol, sp.Expr] = {}
        for step in self.steps:
            if step.role == "closed":
                found[symbol(step.quantity)] = step.expression
            elif step.role != "carried":
                known[symbol(step.quantity)] = step.expression.subs(known)
        asked = symbol(self.asked)
        return found[asked] if asked in found else known.get(asked, asked).subs(found)

    @cached_property
    def raw(self) -> sp.Expr:
        """Closed form in symbols of the givens by word (angles in radians), not tidied further than that takes."""
        # Another carried letter may cancel only once like terms are gathered; who compiles this form knows the givens alone.
        return self.tidy if self._form.free_symbols & {symbol(word) for word in self.cancelling} else self._form

    @property
    def cancelling(self) -> frozenset[str]:
        """Words of the letters that are carried along and cancel [-]."""
        closed = {step.quantity for step in self.steps if step.role == "closed"}
        return frozenset(step.quantity for step in self.steps if step.role == "carried") - closed

    @cached_property
    def tidy(self) -> sp.Expr:
        """Closed form in symbols by word (angles in radians), in its shortest shape."""
        return tidy(self._form)

    @cached_property
    def formula(self) -> sp.Expr:
        """Closed form over plain symbols of the notation; angles in degrees, going in and coming out."""
        expression = self.tidy.subs(FULL_TURN, 2 * sp.pi)
        put = {}
        for one in expression.free_symbols:
            entry = QUANTITIES[one.name]
            plain = sp.Symbol(entry.symbol(self.notation))
            put[one] = plain * sp.pi / 180 if entry.dimension == "angle" else plain
        expression = expression.xreplace(put)
        return sp.expand_mul(expression * 180 / sp.pi) if QUANTITIES[self.asked].dimension == "angle" else expression

    @cached_property
    def used(self) -> tuple[str, ...]:
        """Words of the givens that the closed form rests on [-]; a given that cancels is not among them."""
        free = {s.name for s in self.tidy.free_symbols}
        return tuple(word for word in self.given if word in free)

    # -- numbers --------------------------------------------------------------------------------
    def value(self, **numbers):
        """The asked quantity for numbers of the givens.

        Parameters
        ----------
        **numbers : float or array
            By word or by symbol of the notation [theory units: in or mm, 1/in, rpm, min; angles in deg].

        Returns
        -------
        float or array
            In theory's unit of the asked quantity, angles in degrees [``self.unit``]. Arrays give an
            array of their broadcast shape, NaN where there is no real value, or a negative one of a
            quantity that cannot be negative.

        Raises
        ------
        ValueError
            For a missing or unknown name, a value outside its range, or no real result.

        Examples
        --------
        >>> from gearlab.theory import derive
        >>> derive("C", given=["P", "N1", "N2"]).value(P=10, N1=18, N2=45)
        3.15
        >>> derive("C", given=["P", "N1", "N2"]).value(P=10, N1=[18, 20], N2=45).tolist()
        [3.15, 3.25]
        """
        return self._value(self._named(numbers))

    def _named(self, numbers: Mapping) -> dict[str, object]:
        found = {}
        for name, number in numbers.items():
            word = quantity(name, self.notation).word
            if word not in self.given:
                raise ValueError(f"{name!r} is not one of the givens of this derivation: {', '.join(self.given)}")
            found[word] = number
        missing = [word for word in self.used if word not in found]
        if missing:
            raise ValueError(f"no value for {listed(missing)}: give every quantity that {QUANTITIES[self.asked].meaning} rests on")
        return found

    def _value(self, numbers: Mapping[str, object]):
        plain = {word: in_radians(QUANTITIES[word], number, several=True) for word, number in numbers.items()}
        for word, number in plain.items():
            check_range(QUANTITIES[word], number)
        if all(np.ndim(number) == 0 for number in plain.values()):
            values = {symbol(word): float(number) for word, number in plain.items()} | {FULL_TURN: 2 * pi}
            try:
                result = evaluate(self.tidy, values)
            except ValueError as error:
                raise ValueError(f"{QUANTITIES[self.asked].meaning} has no real value for these numbers: "
                                 f"check {listed(self.used)}") from error
            check_result(QUANTITIES[self.asked], result, self.used)
        else:
            arrays = [np.asarray(plain[word], dtype=float) for word in self.used]
            with np.errstate(all="ignore"):
                result = np.asarray(self._array_function(*arrays), dtype=float) + np.zeros(np.broadcast_shapes(*(a.shape for a in arrays)))
                result = np.where((result < 0) & (not QUANTITIES[self.asked].signed), np.nan, result)
        return in_degrees(QUANTITIES[self.asked], result)

    @cached_property
    def _array_function(self):
        expression = self.tidy.subs(FULL_TURN, 2 * sp.pi)
        return sp.lambdify([symbol(word) for word in self.used], expression, modules=[ARRAY_TWINS, "numpy"])

    @property
    def result(self) -> float:
        """The number asked, where values were given [``self.unit``]."""
        if not self.numbers:
            raise ValueError("this derivation was made without values: use value(...), or give a mapping with values")
        return self.numbers[self.asked]

    def all_numbers(self, numbers: Mapping[str, float]) -> dict[str, float]:
        """Every number of the way, by word [theory units, angles in degrees], for numbers of the givens."""
        values = {symbol(word): float(in_radians(QUANTITIES[word], number)) for word, number in numbers.items()} | {FULL_TURN: 2 * pi}
        closed = [step for step in self.steps if step.role == "closed"]
        for step in closed + [step for step in self.steps if step.role in ("direct", "rearranged")]:
            if step.expression.free_symbols <= values.keys():
                values[symbol(step.quantity)] = evaluate(step.expression, values)
        if symbol(self.asked) not in values:  # a letter was carried and cancels
            values[symbol(self.asked)] = evaluate(self.tidy, values)
        return {one.name: in_degrees(QUANTITIES[one.name], number) for one, number in values.items() if one != FULL_TURN}
