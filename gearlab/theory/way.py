"""A derivation: the way from givens to what is asked, with its closed form and its numbers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from math import nan, pi

import numpy as np
import sympy as sp

from .agreeing import Agreement, Line, agreement, symbols_of
from .boundary import Given, Number, check_number, inward, outward, take_values
from .faults import check_given, check_result, check_turning, listed, turned_wrongly
from .functions import ARRAY_TWINS, arcinv, opened_angle
from .holding import refusal
from .quantities import QUANTITIES, quantity
from .ranges import Refusal
from .relation import Relation
from .scope import FULL_TURN, Equation, Scope, symbol
from .search import Link
from .settled import RowChoice, angle_links, at_row, numbers_of, over_rows, row_words
from .showing import Showing
from .solving import evaluate, put_in, taught, terms, tidy

# an angle that such a function gives keeps its letter inside others
_ANGLES = (sp.acos, sp.asin, sp.atan, arcinv, opened_angle)
_WIDEST = 150  # terms; a longer formula is not spread out


@dataclass(frozen=True)
class Step:
    """One step of a derivation.

    quantity: word of the quantity found.
    relation: the formula it comes from; None where a letter is merely carried along.
    expression: the formula rearranged for the quantity, in symbols by word (angles in radians).
    role: "direct", "rearranged", "carried" or "closed".
    equation: the formula as an equation of the scope.
    others: what else solves it: numbers tell which root is meant.

    >>> from gearlab.theory import derive
    >>> derive("outside_diameter", given=["teeth", "diametral_pitch"]).steps[0].quantity
    'pitch_diameter'
    """

    quantity: str
    relation: Relation | None
    expression: sp.Expr
    role: str
    equation: Equation | None = field(default=None, repr=False)
    others: tuple[sp.Expr, ...] = field(default=(), repr=False)

    @classmethod
    def of(cls, link: Link) -> Step:
        """The step that a link of a search is."""
        return cls(
            link.unknown.name,
            link.equation.relation if link.equation else None,
            link.expression,
            link.role,
            link.equation,
            link.others,
        )

    @cached_property
    def inputs(self) -> tuple[str, ...]:
        """Words of the quantities that go in."""
        return tuple(sorted(s.name for s in self.expression.free_symbols - {FULL_TURN}))


@dataclass(frozen=True, eq=False, repr=False)
class Derivation(Showing):
    """The way from givens to what is asked; made by :func:`derive` or by ``explain`` of a part.

    asked: word of the quantity asked.
    given: words of what was given.
    steps: in order, each resting on the givens and the steps before it.
    scope: the relations it was found in.
    notation: "inch" or "iso".
    numbers: values put in and worked out, by word [usual units]; empty without values.
    notes: what a reader should be told, such as a tooth count that is not whole.
    bare: the system in which bare numbers are read, "in" or "mm"; "" where nothing settles it, "both" where
        two things do.
    converted: how givens stated in another unit read in the usual one, such as "3 in = 76.2 mm".
    row: where the pressure angle chooses the row of the tooth system: how.
    one_by_one: true where a notebook shows each step only when asked.

    >>> from gearlab.theory import derive
    >>> way = derive("pitch_diameter", given={"N": 18, "P": 10})
    >>> way.result, way.unit
    (1.8, 'in')
    >>> print(way.text())
    pitch diameter: d = N/P = 18/(10/in) = 1.8 in
    sources: in print: R. L. Mott, Machine Elements in Mechanical Design, 4th ed., table 8-2.
    """

    asked: str
    given: tuple[str, ...]
    steps: tuple[Step, ...]
    scope: Scope = field(repr=False)
    notation: str = "inch"
    numbers: Mapping[str, float] = field(default_factory=dict, repr=False)
    notes: tuple[str, ...] = ()
    bare: str = ""
    converted: tuple[str, ...] = ()
    # where the pressure angle chooses the row of the tooth system
    row: RowChoice | None = field(default=None, repr=False)
    one_by_one: bool = False

    def hidden(self) -> Derivation:
        """The same, each step hidden in a notebook until it is asked for."""
        return self.with_changes(one_by_one=True)

    def with_changes(self, **changes) -> Derivation:
        """A copy with other fields; algebra already done stays done."""
        copy = replace(self, **changes)
        for name in ("raw", "tidy", "formula"):
            if name in self.__dict__:
                copy.__dict__[name] = self.__dict__[name]
        return copy

    # -- the closed form -------------------------------------------------------------------------------
    @cached_property
    def _form(self) -> sp.Expr:
        # The size of the tooth, carried and cancelling, may be any: one keeps the algebra short.
        known: dict[sp.Symbol, sp.Expr] = {
            symbol(word): sp.Integer(1) for word in self.cancelling & {"diametral_pitch", "module"}
        }
        closed: dict[sp.Symbol, sp.Expr] = {}
        for step in self.steps:
            if step.role == "closed":
                closed[symbol(step.quantity)] = step.expression
            elif step.role != "carried":
                known[symbol(step.quantity)] = put_in(step.expression, known)
        asked = symbol(self.asked)
        return closed[asked] if asked in closed else put_in(known.get(asked, asked), closed)

    @cached_property
    def raw(self) -> sp.Expr:
        """Closed form in symbols of the givens by word (angles in radians), not tidied further than that
        takes.
        """
        # Another carried letter may cancel only once like terms are gathered; who compiles this form knows
        # the givens alone.
        return (
            self.tidy if self._form.free_symbols & {symbol(word) for word in self.cancelling} else self._form
        )

    @property
    def cancelling(self) -> frozenset[str]:
        """Words of the letters that are carried along and cancel."""
        closed = {step.quantity for step in self.steps if step.role == "closed"}
        return frozenset(step.quantity for step in self.steps if step.role == "carried") - closed

    @cached_property
    def tidy(self) -> sp.Expr:
        """Closed form in symbols by word (angles in radians), in its shortest shape."""
        return tidy(self._form)

    @cached_property
    def told(self) -> sp.Expr:
        """The closed form for reading.

        M z cos(delta), where delta was found on the way, instead of m z/sqrt(1 + z^2/z2^2).

        >>> from gearlab.theory import derive
        >>> derive(
        ...     "driver_cone_outside_diameter",
        ...     ["module", "driver_teeth", "driven_teeth"],
        ...     kind="bevel pair",
        ...     notation="iso",
        ... ).told
        module*(driver_teeth + 2*cos(driver_cone_angle))
        """
        angles = {
            step.quantity
            for step in self.steps
            if step.expression.func in _ANGLES
            and QUANTITIES[step.quantity].dimension == "angle"
            and step.quantity != self.asked
        }
        if not angles or any(step.role in ("carried", "closed") for step in self.steps):
            return self.tidy

        def form(kept: set[str]) -> sp.Expr:
            known: dict[sp.Symbol, sp.Expr] = {}
            for step in self.steps:
                if step.quantity not in kept:
                    known[symbol(step.quantity)] = put_in(step.expression, known)
            return known[symbol(self.asked)]

        # An angle that stands by itself, outside a sine or the like, is better told by where it comes from.
        expression = form(angles)
        inside = set().union(*(part.free_symbols for part in expression.atoms(sp.Function)))
        outside = expression.xreplace(
            {part: sp.Dummy() for part in expression.atoms(sp.Function)}
        ).free_symbols
        kept = {word for word in angles if symbol(word) in inside and symbol(word) not in outside}
        if not kept:
            return self.tidy
        lettered = tidy(expression if kept == angles else form(kept))
        # a plain m z2/2 stays
        return lettered if sp.count_ops(lettered) + 2 < sp.count_ops(self.tidy) else self.tidy

    @cached_property
    def formula(self) -> sp.Expr:
        """Closed form over plain symbols of the notation; angles in degrees, going in and coming out."""
        expression = self.tidy.subs(FULL_TURN, 2 * sp.pi)
        put = {}
        for letter in expression.free_symbols:
            entry = QUANTITIES[letter.name]
            plain = sp.Symbol(entry.symbol(self.notation))
            put[letter] = plain * sp.pi / 180 if entry.dimension == "angle" else plain
        expression = taught(expression.xreplace(put))
        if QUANTITIES[self.asked].dimension != "angle":
            return expression
        wide = max(map(terms, sp.preorder_traversal(expression)))
        return sp.expand_mul(expression * 180 / sp.pi) if wide <= _WIDEST else expression * 180 / sp.pi

    @cached_property
    def used(self) -> tuple[str, ...]:
        """Words of the givens that the closed form rests on; a given that cancels is not among them."""
        free = {s.name for s in self.tidy.free_symbols}
        return tuple(word for word in self.given if word in free)

    @property
    def symbols(self) -> dict[str, sp.Symbol]:
        """The letters of the givens and of what is asked, by name: sympy symbols to work with.

        >>> from gearlab.theory import derive
        >>> list(derive("d", given=["N", "P"]).symbols)
        ['d', 'N', 'P']
        """
        names = [QUANTITIES[word].symbol(self.notation) for word in (self.asked, *self.given)]
        return {name: symbols_of(name, self.notation) for name in names}

    def agrees(self, expression: Line) -> Agreement:
        """Whether a line of a student's own algebra agrees with the formula; never an error.

        expression: an expression, an equation (``Eq``), what ``solve`` gives, or ``...`` for no answer yet;
            letters of either notation, angles in radians or turned into degrees.
        Returns a sentence that is true where it agrees.

        >>> from gearlab.theory import derive
        >>> way = derive("C", given=["N1", "N2", "P"])
        >>> C, N1, N2, P = way.symbols.values()
        >>> way.agrees((N1 + N2) / P / 2)
        Your line agrees with the formula of the centre distance.
        >>> bool(way.agrees((N1 + N2) / P)), bool(way.agrees(...))
        (False, False)
        """
        return agreement(self, expression)

    # -- numbers ---------------------------------------------------------------------------------------
    def value(self, **numbers: Given) -> Number:
        """The asked quantity for numbers of the givens.

        **numbers: by word or by symbol of the notation: bare, or as text with a unit, read as those of
            :func:`derive` [usual unit of each]. A given with a value keeps it where none is named.
        Returns it in the usual unit of the asked quantity [``self.unit``]. Arrays give an array of their
            broadcast shape, NaN where there is no real value, where a formula of the way does not hold
            (``holds``), or for a negative one of a quantity that cannot be negative.
        ValueError for a missing or unknown name, a value outside its range, of the wrong unit or without a
            settled one, no real result, or numbers for which a formula of the way does not hold.

        >>> from gearlab.theory import derive
        >>> derive("C", given=["P", "N1", "N2"]).value(P=10, N1=18, N2=45)
        3.15
        >>> derive("C", given=["P", "N1", "N2"]).value(P=10, N1=[18, 20], N2=45).tolist()
        [3.15, 3.25]
        >>> derive("C", given={"P": 10, "N1": 18, "N2": 45}).value(N1=20)
        3.25
        """
        return self._value(self._named(numbers))

    def _named(self, numbers: Mapping) -> dict[str, Given]:
        named = {}
        for name, number in numbers.items():
            word = quantity(name, self.notation).word
            if word not in self.given:
                raise ValueError(
                    f"{name!r} is not one of the givens of this derivation: {', '.join(self.given)}"
                )
            named[word] = number
        missing = [word for word in self.used if word not in named and word not in self.numbers]
        if missing:
            raise ValueError(
                f"no value for {listed(missing)}: give every quantity that {QUANTITIES[self.asked].meaning}"
                " rests on"
            )
        return named

    def _value(self, numbers: Mapping[str, Given]):
        unit = self.scope.length_unit
        named, _ = take_values(numbers, unit, self.bare)
        numbers = {word: self.numbers[word] for word in self.given if word in self.numbers} | named
        for word, number in numbers.items():
            check_given(word, number, unit)
        for word, number in numbers.items():
            check_number(word, number)
        plain = {
            word: inward(word, np.asarray(number, dtype=float) if np.ndim(number) else float(number), unit)
            for word, number in numbers.items()
        }
        if all(np.ndim(number) == 0 for number in plain.values()):
            check_turning(self.scope.kind, numbers)
            return _rounded(
                outward(
                    self.asked, self._number({word: float(number) for word, number in plain.items()}), unit
                )
            )
        if self._row_matters and np.ndim(plain.get("pressure_angle", 0.0)):
            result = over_rows(self, plain)
            if result is not None:
                return outward(self.asked, result, unit)
        return outward(self.asked, self._array(plain), unit)

    def _number(self, numbers: Mapping[str, float]) -> float:
        """The asked quantity for one number of each given [theory units, rad]."""
        values = {symbol(word): number for word, number in numbers.items()}
        if self._row_matters and (other := at_row(self, values)) is not self:
            return other._number(numbers)
        self.check_holds(numbers)
        values[FULL_TURN] = 2 * pi
        if self._two_rooted:
            return numbers_of(self, values)[symbol(self.asked)]
        try:
            result = evaluate(self.tidy, values)
        except (ValueError, OverflowError) as error:
            raise ValueError(
                f"{QUANTITIES[self.asked].meaning} has no real value for these numbers: "
                f"check {listed(self.used)}"
            ) from error
        check_result(QUANTITIES[self.asked], result, self.used)
        return result

    def _array(self, plain: Mapping[str, Number]) -> np.ndarray:
        """The asked quantity for arrays [theory units, rad], NaN where there is no real value or gears would
        turn the wrong way.
        """
        words = [word for word in self.given if word in plain]
        arrays = np.broadcast_arrays(*(np.asarray(plain[word], dtype=float) for word in words))
        if self._two_rooted or self._row_matters and "pressure_angle" not in self.given:
            result = np.vectorize(
                lambda *numbers: self._or_nan(dict(zip(words, map(float, numbers), strict=True))),
                otypes=[float],
            )(*arrays)
        else:
            with np.errstate(all="ignore"):
                result = np.asarray(
                    self._array_function(
                        *(array for word, array in zip(words, arrays, strict=True) if word in self.used)
                    ),
                    dtype=float,
                ) + np.zeros(arrays[0].shape)
            result = np.where(
                ~np.isfinite(result) | (result < 0) & (not QUANTITIES[self.asked].signed), np.nan, result
            )
            result = self._where_it_holds(plain, result)
        return np.where(
            turned_wrongly(self.scope.kind, dict(zip(words, arrays, strict=True))), np.nan, result
        )

    def _or_nan(self, numbers: Mapping[str, float]) -> float:
        try:
            return self._number(numbers)
        except ValueError:
            return nan

    @cached_property
    def _two_rooted(self) -> bool:
        return any(step.others for step in self.steps)

    @cached_property
    def row_words(self) -> frozenset[str]:
        """The proportions of the tooth system that the way has in it, as a ``ToothSystem`` calls them."""
        return row_words(self)

    @cached_property
    def _row_matters(self) -> bool:
        return (
            self.row is not None
            and bool(self.row_words or self.holds)
            and ("pressure_angle" in self.given or self._angle_links is not None)
        )

    @cached_property
    def _angle_links(self):
        return angle_links(self)

    @property
    def holds(self) -> tuple[str, ...]:
        """Where the formulas of the way hold, each range once, as it goes on after "It holds".

        Empty if always.

        >>> from gearlab.theory import derive
        >>> derive("across_tips", ["teeth", "module", "pressure_angle"]).holds[-1]
        'for an odd count'
        """
        return tuple(
            dict.fromkeys(
                step.relation.range
                for step in self.steps
                if step.relation is not None and step.relation.range
            )
        )

    def refusal(self, numbers: Mapping[str, float]) -> Refusal | None:
        """The first bound that numbers of the givens break, by word [theory units, rad].

        None where all hold.
        """
        return refusal(
            self, {symbol(word): float(number) for word, number in numbers.items()} | {FULL_TURN: 2 * pi}
        )

    def check_holds(self, numbers: Mapping[str, float]) -> None:
        """Raise ValueError with range, reason and limit if a formula of the way does not hold for numbers
        [theory units, rad].
        """
        refused = self.refusal(numbers)
        if refused is not None:
            raise ValueError(refused.sentence(QUANTITIES[self.asked].meaning, self.scope.length_unit))

    def _where_it_holds(self, numbers: Mapping[str, Number], result: np.ndarray) -> np.ndarray:
        if not self.holds:
            return result
        words = list(numbers)
        shape = np.broadcast_shapes(result.shape, *(np.shape(number) for number in numbers.values()))
        spread = [np.broadcast_to(np.asarray(numbers[word], dtype=float), shape) for word in words]
        result = np.array(np.broadcast_to(result, shape))
        for place in np.ndindex(shape):
            if (
                self.refusal(
                    {word: float(numbers[place]) for word, numbers in zip(words, spread, strict=True)}
                )
                is not None
            ):
                result[place] = np.nan
        return result

    @cached_property
    def _array_function(self):
        expression = taught(self.tidy.subs(FULL_TURN, 2 * sp.pi))
        return sp.lambdify([symbol(word) for word in self.used], expression, modules=[ARRAY_TWINS, "numpy"])

    @property
    def result(self) -> float:
        """The number asked, where values were given [``self.unit``]."""
        if not self.numbers:
            raise ValueError(
                "this derivation was made without values: use value(...), or give a mapping with values"
            )
        return self.numbers[self.asked]

    def all_numbers(self, numbers: Mapping[str, float]) -> dict[str, float]:
        """Every number of the way, by word [usual units], for numbers of the givens [usual units]."""
        for word, number in numbers.items():
            check_number(word, number, several=False)
        values = {
            symbol(word): float(inward(word, number, self.scope.length_unit))
            for word, number in numbers.items()
        } | {FULL_TURN: 2 * pi}
        if self._two_rooted:
            return self._shown(numbers_of(self, values), numbers)
        closed = [step for step in self.steps if step.role == "closed"]
        for step in closed + [step for step in self.steps if step.role in ("direct", "rearranged")]:
            if step.expression.free_symbols <= values.keys():
                values[symbol(step.quantity)] = evaluate(step.expression, values)
        if symbol(self.asked) not in values:  # a letter was carried and cancels
            values[symbol(self.asked)] = evaluate(self.tidy, values)
        return self._shown(values, numbers)

    def _shown(self, values: Mapping[sp.Symbol, float], given: Mapping[str, float]) -> dict[str, float]:
        shown = {
            letter.name: _rounded(outward(letter.name, number, self.scope.length_unit))
            for letter, number in values.items()
            if letter != FULL_TURN
        }
        return shown | {word: float(number) for word, number in given.items()}


def _rounded(number: float) -> float:
    return number if np.ndim(number) else round(float(number), 13)
