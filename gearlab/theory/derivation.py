"""From givens to what is asked: ordered steps, a closed form, numbers; as Markdown, MathML and text.

    >>> derive("C", given=["P", "N1", "N2"]).formula
    (N1 + N2)/(2*P)
    >>> derive("N1", given={"C": 3.15, "P": 10, "ratio": 2.5}).result
    18.0
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from math import ceil, degrees, floor, inf, pi, radians

import numpy as np
import sympy as sp

from . import search
from .functions import ARRAY_TWINS, FLOAT_TWINS
from .quantities import PAIR, QUANTITIES, Quantity, check_notation, quantity, side_order
from .relations import Relation
from .rendering import Rendering
from .scope import FULL_TURN, Scope, scope_for, symbol
from .solving import evaluate, tidy
from .systems import ToothSystem, system
from .units import MM_PER_INCH, shown_unit

# Rounded givens may disagree a little; more than this share is a contradiction.
_ROUNDING = 2e-4
# Motion that a single gear has too.
_PAIR_WORDS = {q.word for q in PAIR} - {"duration", "pitch_line_speed", "mesh_frequency"}


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
    >>> way = derive("pitch_diameter", given={"N": 18, "P": 10})
    >>> way.result, way.unit
    (1.8, 'in')
    >>> print(way.text())
    pitch diameter: d = N/P = 18/10 = 1.8 in
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
    def raw(self) -> sp.Expr:
        """Closed form in symbols by word (angles in radians), not yet tidied."""
        known: dict[sp.Symbol, sp.Expr] = {}
        found: dict[sp.Symbol, sp.Expr] = {}
        for step in self.steps:
            if step.role == "closed":
                found[symbol(step.quantity)] = step.expression
            elif step.role != "carried":
                known[symbol(step.quantity)] = step.expression.subs(known)
        asked = symbol(self.asked)
        return found[asked] if asked in found else known.get(asked, asked).subs(found)

    @cached_property
    def tidy(self) -> sp.Expr:
        """Closed form in symbols by word (angles in radians), in its shortest shape."""
        return tidy(self.raw)

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
            raise ValueError(f"no value for {_list(missing)}: give every quantity that {QUANTITIES[self.asked].meaning} rests on")
        return found

    def _value(self, numbers: Mapping[str, object]):
        plain = {word: _in_radians(QUANTITIES[word], number) for word, number in numbers.items()}
        for word, number in plain.items():
            _check_range(QUANTITIES[word], number)
        if all(np.ndim(number) == 0 for number in plain.values()):
            values = {symbol(word): float(number) for word, number in plain.items()} | {FULL_TURN: 2 * pi}
            try:
                result = evaluate(self.tidy, values)
            except ValueError as error:
                raise ValueError(f"{QUANTITIES[self.asked].meaning} has no real value for these numbers: "
                                 f"check {_list(self.used)}") from error
            _check_result(QUANTITIES[self.asked], result, self.used)
        else:
            arrays = [np.asarray(plain[word], dtype=float) for word in self.used]
            with np.errstate(all="ignore"):
                result = np.asarray(self._array_function(*arrays), dtype=float) + np.zeros(np.broadcast_shapes(*(a.shape for a in arrays)))
                result = np.where((result < 0) & (not QUANTITIES[self.asked].signed), np.nan, result)
        return _in_degrees(QUANTITIES[self.asked], result)

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
        values = {symbol(word): float(_in_radians(QUANTITIES[word], number)) for word, number in numbers.items()} | {FULL_TURN: 2 * pi}
        closed = [step for step in self.steps if step.role == "closed"]
        for step in closed + [step for step in self.steps if step.role in ("direct", "rearranged")]:
            if step.expression.free_symbols <= values.keys():
                values[symbol(step.quantity)] = evaluate(step.expression, values)
        if symbol(self.asked) not in values:  # a letter was carried and cancels
            values[symbol(self.asked)] = evaluate(self.tidy, values)
        return {one.name: _in_degrees(QUANTITIES[one.name], number) for one, number in values.items() if one != FULL_TURN}


# -- making one -----------------------------------------------------------------------------------
def derive(asked: str, given: Iterable[str] | Mapping[str, float], notation: str = "inch", tooth_system: str | ToothSystem = "full depth",
           kind: str | None = None, length_unit: str | None = None) -> Derivation:
    """Find the way from what is given to what is asked, in any direction.

    Parameters
    ----------
    asked : str
        A quantity's word, or its symbol in the notation [-].
    given : iterable of str, or mapping of str to float
        Words or symbols; with values [in or mm, 1/in, rpm, min, deg] the numbers are worked out too.
    notation : str
        "inch" (P, N, d, C; default) or "iso" (m, z, d, a) [-].
    tooth_system : str or ToothSystem
        "full depth", "stub" or "fine pitch" [-]; the proportions of the tooth come from its row.
    kind : str, optional
        "gear", "pair" or "internal pair" [-]; found from the words by default.
    length_unit : str, optional
        "in" or "mm" [-]; by default inches unless the module is given or the notation is ISO.

    Returns
    -------
    Derivation
        With steps, closed form and, for a mapping, numbers.

    Raises
    ------
    ValueError
        When something is missing (it names what), when givens contradict each other (it names which
        and by how much), when a value is out of range, or for an unknown name.

    Examples
    --------
    >>> derive("driven_speed", given=["driver_pitch_diameter", "centre_distance", "driver_speed"]).formula
    -d1*n1/(2*C - d1)
    >>> derive("N", given={"outside_diameter": 2.05, "P": 10}).notes
    ('number of teeth comes out as 18.5, which is not whole: 18 and 19 are near',)
    >>> derive("C", given=["N1", "N2"])
    Traceback (most recent call last):
    ValueError: centre distance cannot be derived from number of teeth of the driver and number of teeth of the driven gear: it also needs one of diametral_pitch, module, driver_pitch_diameter, driven_pitch_diameter, circular_pitch, addendum
    """
    check_notation(notation)
    values = {quantity(name, notation).word: number for name, number in given.items()} if isinstance(given, Mapping) else {}
    words = tuple(values) or tuple(dict.fromkeys(quantity(name, notation).word for name in given))
    target = quantity(asked, notation).word
    for word, number in values.items():
        _check_range(QUANTITIES[word], _in_radians(QUANTITIES[word], number))
    if {"module", "diametral_pitch"} <= values.keys():
        raise ValueError(f"give the module or the diametral pitch, not both: theory works in one length unit, and P = {values['diametral_pitch']:g} 1/in "
                         f"is a module of {MM_PER_INCH / values['diametral_pitch']:.6g} mm, against {values['module']:g} given")
    if length_unit is None:
        length_unit = _length_unit(words, target, notation)
    if isinstance(tooth_system, str):
        tooth_system = system(tooth_system, float(values.get("pressure_angle", 20.0)) if np.ndim(values.get("pressure_angle", 0)) == 0 else 20.0)
    kind = kind or _kind((*words, target))
    way = _derivation(target, frozenset(words), notation, (tooth_system,) if kind == "gear" else (tooth_system, tooth_system), kind, length_unit, frozenset())
    return with_values(way, words, values)


def explain(scope: Scope, givens: Mapping[str, float], asked: str, notation: str) -> Derivation:
    """The way from a part's own givens to one of its numbers, with the numbers put in.

    Parameters
    ----------
    scope : Scope
        The relations that hold for the part.
    givens : mapping of str to float
        Its independent numbers by word [theory units, angles in degrees].
    asked : str
        Word [-].
    notation : str
        "inch" or "iso" [-].
    """
    words = tuple(givens)
    way = _derivation(asked, frozenset(words), notation, scope.systems[:1] if scope.kind == "gear" else scope.systems, scope.kind, scope.length_unit, scope.features)
    numbers = way.all_numbers(givens)
    return _copy(way, given=words, numbers=numbers, notes=_notes(numbers, givens))


def with_values(way: Derivation, words: tuple[str, ...], values: Mapping[str, float]) -> Derivation:
    """The same way with the givens in the reader's order and, where there are values, the numbers."""
    if not values:
        return way if way.given == words else _copy(way, given=words)
    if any(np.ndim(number) for number in values.values()):
        raise ValueError("derive takes single values; for arrays give names, then use .value(...) with arrays")
    _contradictions(way.scope, values)
    try:
        numbers = way.all_numbers(values)
    except ValueError as error:
        raise ValueError(f"{QUANTITIES[way.asked].meaning} has no real value for these givens: check {_list(words)}") from error
    _check_result(QUANTITIES[way.asked], numbers[way.asked], words)
    return _copy(way, given=words, numbers=numbers, notes=_notes(numbers, values))


def _copy(way: Derivation, **changes) -> Derivation:
    fields = {name: getattr(way, name) for name in ("asked", "given", "steps", "scope", "notation", "numbers", "notes")}
    copy = Derivation(**(fields | changes))
    for name in ("raw", "tidy", "formula"):  # algebra already done stays done
        if name in way.__dict__:
            copy.__dict__[name] = way.__dict__[name]
    return copy


@lru_cache(maxsize=2048)
def _derivation(asked: str, given: frozenset[str], notation: str, systems: tuple[ToothSystem, ...], kind: str, length_unit: str,
                features: frozenset[str]) -> Derivation:
    scope = scope_for(kind, length_unit, systems, features)
    words = tuple(sorted(given, key=side_order))
    with scope.lock:
        known = [symbol(word) for word in words]
        for word in (*words, asked):
            if symbol(word) not in scope.symbols:
                near = [s.name for s in scope.symbols if s.name.endswith(word) or word.endswith(s.name)]
                hint = f"; did you mean {_list(sorted(near))}?" if near else ""
                raise ValueError(f"{word!r} does not occur in the theory of a {kind}{hint}")
        links = [] if asked in given else search.find(scope, known, symbol(asked))
        if links is None:
            raise ValueError(_missing(scope, known, words, asked))
        steps = tuple(Step(link.unknown.name, link.equation.relation if link.equation else None, link.expression, link.role) for link in links)
        way = Derivation(asked, words, steps, scope, notation)
        way.tidy  # noqa: B018 (worked out once, under the lock)
        return way


@lru_cache(maxsize=256)
def reach(given: tuple[str, ...], kind: str, length_unit: str = "in", tooth_system: str = "full depth", notation: str = "inch",
          pressure_angle: float = 20.0) -> dict[str, Derivation]:
    """Every quantity that the givens determine, with the way to it, by word.

    Parameters
    ----------
    given : tuple of str
        Words [-].
    kind, length_unit, tooth_system, notation : str
        As for :func:`derive` [-].
    pressure_angle : float
        Chooses the row of the tooth system [deg].

    Returns
    -------
    dict of str to Derivation

    Examples
    --------
    >>> sorted(reach(("teeth", "diametral_pitch"), "gear"))[:4]
    ['addendum', 'chordal_addendum', 'chordal_thickness', 'circular_pitch']
    """
    row = system(tooth_system, pressure_angle)
    scope = scope_for(kind, length_unit, (row,) if kind == "gear" else (row, row))
    with scope.lock:
        ways = search.reach(scope, [symbol(word) for word in given])
        return {one.name: Derivation(one.name, tuple(given), tuple(Step(link.unknown.name, link.equation.relation if link.equation else None, link.expression, link.role)
                                     for link in links), scope, notation) for one, links in ways.items()}


def compile_formulas(formulas: Mapping[str, sp.Expr], inputs: Iterable[str]):
    """One fast function for many closed forms.

    Parameters
    ----------
    formulas : mapping of str to sympy.Expr
        In symbols by word, angles in radians (``Derivation.raw`` or ``.tidy``).
    inputs : iterable of str
        Words, in the order the function takes their floats [theory units, rad].

    Returns
    -------
    callable
        Takes floats, gives a tuple of floats in the order of ``formulas`` [theory units, rad].

    Examples
    --------
    >>> way = derive("pitch_diameter", given=["teeth", "diametral_pitch"])
    >>> compile_formulas({"d": way.raw}, ["teeth", "diametral_pitch"])(18.0, 10.0)
    (1.8,)
    """
    expressions = [sp.sympify(f).subs(FULL_TURN, 2 * sp.pi) for f in formulas.values()]
    return sp.lambdify([symbol(word) for word in inputs], tuple(expressions), modules=[FLOAT_TWINS, "math"], cse=True)


# -- what can be wrong ----------------------------------------------------------------------------
def _kind(words: Iterable[str]) -> str:
    return "pair" if any(w in _PAIR_WORDS or w.startswith(("driver_", "driven_")) for w in words) else "gear"


def _length_unit(words: tuple[str, ...], asked: str, notation: str) -> str:
    if "diametral_pitch" in words:
        return "in"
    if "module" in words:
        return "mm"
    return "mm" if notation == "iso" or asked == "module" else "in"


def _in_radians(entry: Quantity, number):
    return np.radians(number) if entry.dimension == "angle" and np.ndim(number) else radians(number) if entry.dimension == "angle" else number


def _in_degrees(entry: Quantity, number):
    if entry.dimension == "angle":
        number = np.degrees(number) if np.ndim(number) else degrees(number)
    return number if np.ndim(number) else round(float(number), 13)


def _check_range(entry: Quantity, number) -> None:
    low, high = entry.low, entry.high
    numbers = np.asarray(number, dtype=float)
    if np.all(np.isfinite(numbers)) and np.all((numbers >= low) & (numbers <= high)) and not (low == 0 and np.any(numbers == 0) and entry.dimension in ("length", "pitch", "count")):
        return
    worst = float(numbers.flat[int(np.argmax(~((numbers >= low) & (numbers <= high))))]) if numbers.ndim else float(numbers)
    unit = {"angle": " deg", "length": "", "count": ""}.get(entry.dimension, "")
    shown = [degrees(x) if entry.dimension == "angle" and abs(x) != inf else x for x in (worst, low, high)]
    hint = "; it looks like radians, give degrees" if entry.dimension == "angle" and 0 < shown[0] < 1 else ""
    limits = f"above {shown[1]:g}{unit}" if high == inf else f"between {shown[1]:g} and {shown[2]:g}{unit}"
    raise ValueError(f"{entry.meaning} {shown[0]:g}{unit} is out of range: give a value {limits}{hint}")


def _check_result(entry: Quantity, number: float, words: Iterable[str]) -> None:
    if number < 0 and not entry.signed:
        raise ValueError(f"{entry.meaning} comes out as {number:.6g}, below zero: no such gears exist; check {_list(words)}")


def _list(words: Iterable[str]) -> str:
    words = list(words)
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1] if words else "nothing"


# What a reader most likely has at hand comes first.
_LIKELY = ("diametral_pitch", "module", "teeth", "driver_teeth", "driven_teeth", "pitch_diameter", "driver_pitch_diameter", "driven_pitch_diameter",
           "pressure_angle", "centre_distance", "ratio", "driver_speed", "speed", "outside_diameter", "circular_pitch")


def _missing(scope: Scope, known: list[sp.Symbol], words: tuple[str, ...], asked: str) -> str:
    one_more = sorted((s.name for s in search.lacking(scope, known, symbol(asked))), key=lambda w: (_LIKELY.index(w) if w in _LIKELY else 99, w))
    what = QUANTITIES[asked].meaning
    have = _list(QUANTITIES[w].meaning for w in words)
    if one_more:
        return f"{what} cannot be derived from {have}: it also needs one of {', '.join(one_more[:6])}"
    for first in (w for w in _LIKELY if w not in words and symbol(w) in scope.symbols):
        more = sorted((s.name for s in search.lacking(scope, [*known, symbol(first)], symbol(asked))), key=lambda w: (_LIKELY.index(w) if w in _LIKELY else 99, w))
        if more:
            return f"{what} cannot be derived from {have}: it needs two more quantities, such as {first} and {more[0]}"
    return f"{what} cannot be derived from {have}: more than two quantities are missing"


def _notes(numbers: Mapping[str, float], values: Mapping[str, float]) -> tuple[str, ...]:
    notes = []
    for word, number in numbers.items():
        if QUANTITIES[word].whole and abs(number - round(number)) > 1e-9 * max(1.0, abs(number)):
            notes.append(f"{QUANTITIES[word].meaning} {'is given' if word in values else 'comes out'} as {number:.6g}, which is not whole: {floor(number)} and {ceil(number)} are near")
    return tuple(notes)


def _contradictions(scope: Scope, values: Mapping[str, float]) -> None:
    if len(values) < 2:
        return
    numbers = {symbol(word): float(_in_radians(QUANTITIES[word], number)) for word, number in values.items()}
    with scope.lock:
        for word in values:
            others = [one for one in numbers if one.name != word]
            links = search.forward(scope, others, symbol(word))
            if links is None:
                continue
            known = {one: numbers[one] for one in others} | {FULL_TURN: 2 * pi}
            try:
                for link in links:
                    known[link.unknown] = evaluate(link.expression, known)
            except ValueError:
                continue
            follows, stated = known[symbol(word)], numbers[symbol(word)]
            if abs(follows - stated) > _ROUNDING * max(abs(follows), abs(stated)):
                raise ValueError(_contradiction(scope, links, word, stated, follows, values))


def _contradiction(scope: Scope, links, word: str, stated: float, follows: float, values: Mapping[str, float]) -> str:
    entry = QUANTITIES[word]
    rests = [w for w in values if w != word and any(symbol(w) in link.expression.free_symbols for link in links)]
    stated, follows = _in_degrees(entry, stated), _in_degrees(entry, follows)
    unit = {"1": "", "teeth": ""}.get(shown_unit(entry.dimension, scope.length_unit), " " + shown_unit(entry.dimension, scope.length_unit))
    share = abs(stated - follows) / abs(follows) * 100 if follows else inf
    return (f"the givens contradict each other: {entry.meaning} is given as {stated:.6g}{unit}, but {_list(f'{QUANTITIES[w].meaning} {values[w]:g}' for w in rests)} "
            f"make it {follows:.6g}{unit} ({abs(stated - follows):.3g}{unit or ''}, {share:.2g} % apart): leave one of them out or correct it")
