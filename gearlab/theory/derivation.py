"""From givens to what is asked: ordered steps, a closed form, numbers; as Markdown, MathML and text.

>>> derive("C", given=["P", "N1", "N2"]).formula
(N1 + N2)/(2*P)
>>> derive("N1", given={"C": 3.15, "P": 10, "ratio": 2.5}).result
18.0
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache, partial
from itertools import chain

import numpy as np
import sympy as sp

from . import search
from .boundary import check_number, inward, take, take_values
from .faults import (
    Missing,
    NoSuchGears,
    NotOfThisKind,
    check_given,
    check_result,
    check_turning,
    contradictions,
    gave_up,
    listed,
    missing,
    notes_on,
)
from .kinds import FACTS, kind_of, part_facts, place_of, rows_of
from .quantities import QUANTITIES, as_symbol, check_notation, place, quantity, side_order, split_side
from .scope import KINDS, Scope, scope_for, symbol
from .settled import ANY_ROW, OF_A_ROW, RowChoice, at_row
from .systems import ToothSystem, system
from .units import MM_PER_INCH, factor
from .way import Derivation, Step


def derive(
    asked: str,
    given: Iterable[str] | Mapping[str, float | str],
    notation: str = "inch",
    tooth_system: str | ToothSystem = "full depth",
    kind: str | None = None,
    length_unit: str | None = None,
    features: Iterable[str] = (),
) -> Derivation:
    """Find the way from what is given to what is asked, in any direction.

    asked: a quantity's word, or its symbol in the notation.
    given: words or symbols; with values the numbers are worked out too. A value is text with its unit, such
        as "2 hp", "1725 rev/min", "3 in" or "20°", or a bare number: of a diametral pitch [1/in], of a module
        [mm], of an angle [deg], a speed [rpm], a time [s] and what else has one unit in ``units.USUAL``; of a
        length, force, torque, stress, power or linear speed only where the tooth size or ``length_unit``
        settles the unit [mm, N, N*m, MPa, W, m/s; in, lbf, lbf*in, psi, hp, ft/min].
    notation: "inch" (P, N, d, C; default) or "iso" (m, z, d, a).
    tooth_system: "full depth", "stub" or "fine pitch"; the proportions of the tooth come from its row. By
        name, the pressure angle chooses the row, also one put into ``value`` or one that follows from the
        givens; a ``ToothSystem`` stays as it is.
    kind: "gear", "pair", "internal pair" ...; by default the smallest in which all words exist.
    length_unit: in which lengths, and all that goes with them, are told: "in" or "mm"; by default that of the
        tooth size, or of the units stated. Givens stated in other units, and the other tooth size, are
        converted.
    features: what goes beyond the plain case, such as "set distance": the centre distance is then a number of
        its own. Found from the words by default. What no word tells may stand among the givens as a fact:
        "reverted", "ring held", "internal pair" (with the value True in a mapping).
    Returns the way, with steps, closed form and, for a mapping, numbers.
    ValueError when something is missing (it names what), when givens contradict each other (it names which
        and by how much, or which way the gears turn), when no formula is found within the budget of steps (it
        names givens that help), when two answers fit, when a value is out of range, has the wrong unit or
        none that is settled, or for an unknown name.

    >>> derive("driven_speed", given=["driver_pitch_diameter", "centre_distance", "driver_speed"]).formula
    -d1*n1/(2*C - d1)
    >>> derive("N", given={"outside_diameter": 2.05, "P": 10}).notes
    ('number of teeth comes out as 18.5, which is not whole: 18 and 19 are near',)
    >>> way = derive("driver_torque", given={"power": "2 hp", "driver_speed": "1725 rev/min"})
    >>> round(way.result, 2), way.unit, derive("C", {"P": 10, "N1": 20, "N2": 40}, length_unit="mm").result
    (73.07, 'lbf*in', 76.2)
    >>> derive("C", given=["N1", "N2"])
    Traceback (most recent call last):
    ValueError: centre distance cannot be derived from number of teeth of the driver and number of teeth of
    the driven gear: it also needs one of diametral_pitch, module, driver_pitch_diameter,
    driven_pitch_diameter, circular_pitch, addendum
    """
    check_notation(notation)
    if isinstance(given, str):
        given = (given,)
    asked, given = as_symbol(asked, notation), _symbols_of(given, notation)
    named_kind, facts = part_facts(given)
    if named_kind or facts:
        given = _without_facts(given)
    # words need no looking up
    found_here = kind is None and not features
    kind, features = kind or named_kind, frozenset(features) | facts
    names = (asked, *given)

    def read(among: tuple[str, ...]) -> Derivation:
        return _read(
            asked, given, among, notation, tooth_system, (kind, features, found_here or not kind), length_unit
        )

    first = _looked_through_first(names, notation, kind)
    way, refusal = None, None
    for among in chain((first,), _other_readings(names, notation, kind, first)):
        try:
            reading = read(among)
        except ValueError as error:
            # "P_w is no word of a train" says less than what stands in the way among the words of a load
            if refusal is None or _tells(error) > _tells(refusal):
                refusal = error
            continue
        # a letter that is one number whatever is given (a play without any) may mean another quantity
        if asked in QUANTITIES or asked in given or reading.tidy.free_symbols:
            return reading
        way = way or reading
    if way is None:
        assert refusal is not None
        if isinstance(refusal, Missing):
            raise ValueError(str(refusal))
        raise refusal
    return way


def _read(
    asked: str,
    given: Iterable[str] | Mapping[str, float | str],
    among: tuple[str, ...],
    notation: str,
    tooth_system: str | ToothSystem,
    where: tuple[str, frozenset[str], bool],
    length_unit: str | None,
) -> Derivation:
    """The way from what is given to what is asked, with letters that mean the words of ``among`` first.

    where: the kind and the features that are named, and whether they are to be found.
    """
    kind, features, find = where
    values = (
        {quantity(name, notation, among).word: number for name, number in given.items()}
        if isinstance(given, Mapping)
        else {}
    )
    words = tuple(values) or tuple(dict.fromkeys(quantity(name, notation, among).word for name in given))
    target = quantity(asked, notation, among).word
    taken = take(words, values, target, notation, length_unit)
    values, length_unit = taken.values, taken.length_unit
    for word, number in values.items():
        check_given(word, number, length_unit)
    if {"module", "diametral_pitch"} <= values.keys():
        raise ValueError(
            "give the module or the diametral pitch, not both: theory works in one length unit, and P ="
            f" {values['diametral_pitch']:g} 1/in is a module of"
            f" {MM_PER_INCH / values['diametral_pitch']:.6g} mm, against"
            f" {values['module'] * factor(length_unit, 'mm'):g} mm given"
        )
    angle = values.get("pressure_angle", 20.0)
    if isinstance(tooth_system, str):
        named, proportions = tooth_system, system(tooth_system, 20.0 if np.ndim(angle) else float(angle))
    else:
        named, proportions = "", tooth_system
    if find:
        kind, features = _place(target, frozenset(words), notation, proportions, kind, length_unit, features)
    way = _derivation(
        target, frozenset(words), notation, rows_of(kind, proportions), kind, length_unit, features
    )
    row = (
        RowChoice(
            named,
            partial(_with_row, target, frozenset(words), notation, kind, length_unit, features),
        )
        if named
        else None
    )
    return with_values(way.with_changes(bare=taken.bare, converted=taken.converted, row=row), words, values)


def _symbols_of(
    given: Iterable[str] | Mapping[str, float | str], notation: str
) -> tuple[str, ...] | dict[str, float | str]:
    """Givens with their symbols as the notation writes them; ValueError for one that stands twice."""
    names = tuple(name if name in FACTS else as_symbol(name, notation) for name in given)
    if not isinstance(given, Mapping):
        return names
    if len({*names}) < len(names):
        twice = next(name for name in names if names.count(name) > 1)
        raise ValueError(
            f"{QUANTITIES[quantity(twice, notation).word].meaning} is given twice: leave one out"
        )
    return dict(zip(names, given.values()))


def _tells(refusal: ValueError) -> int:
    """How much a refusal helps: least that a word is of another kind, more what is missing, most what is
    wrong with the givens.
    """
    if isinstance(refusal, Missing):
        return 2 if refusal.near else 1
    return 0 if isinstance(refusal, NotOfThisKind) else 3


def _looked_through_first(names: Iterable[str], notation: str, kind: str) -> tuple[str, ...]:
    """The words that symbols mean first: those of the kind, named or told by the other names (N1 beside N4 is
    the first gear's count of a train); empty where every name is a word.
    """
    names = dict.fromkeys(names)  # in order: the first that is none is told
    if names.keys() <= QUANTITIES.keys():
        return ()
    if not kind:
        kind = kind_of(quantity(name, notation).word for name in names)
        if kind in ("gear", "pair"):  # their letters are looked up first anyway
            return ()
    return words_of(kind)


def _other_readings(
    names: Iterable[str], notation: str, kind: str, first: tuple[str, ...]
) -> Iterator[tuple[str, ...]]:
    """Words of the other kinds in whose theory every name is a word or a letter: T_1 beside P_w is the
    torque of a load. None where a kind is named, or no name is a letter.
    """
    names = set(names)
    if kind or names <= QUANTITIES.keys():
        return
    for other in KINDS:
        words = words_of(other)
        known = {*words, *(QUANTITIES[word].symbol(notation) for word in words)}
        if words != first and names <= known:
            yield words


def _without_facts(given: Iterable[str] | Mapping[str, float | str]) -> list[str] | dict[str, float | str]:
    if not isinstance(given, Mapping):
        return [name for name in given if name not in FACTS]
    for name, value in given.items():
        if name in FACTS and value is not True:
            raise ValueError(f"{name!r} is a fact, not a number: write {name!r}: True, or leave it out")
    return {name: value for name, value in given.items() if name not in FACTS}


#: What two gears at the reference distance settle by themselves: that distance, and no play.
_SETTLED_IN_PLACE = frozenset(
    {
        "centre_distance",
        "backlash",
        "backlash_along_action",
        "pitch_circle_backlash",
        "driver_play_angle",
        "driven_play_angle",
    }
)


@lru_cache(maxsize=2048)
def _place(
    asked: str,
    given: frozenset[str],
    notation: str,
    row: ToothSystem,
    kind: str,
    length_unit: str,
    features: frozenset[str],
) -> tuple[str, frozenset[str]]:
    """The kind and the features in which a question is answered."""

    def formula(other: str, more: frozenset[str]) -> sp.Expr | None:
        try:
            return _derivation(asked, given, notation, rows_of(other, row), other, length_unit, more).tidy
        except ValueError:
            return None

    def follows(word: str, others: frozenset[str], kind: str, features: frozenset[str]) -> bool:
        scope = scope_for(kind, length_unit, rows_of(kind, row), features)
        with scope.lock:
            return search.forward(scope, [symbol(other) for other in others], symbol(word)) is not None

    kind, features = place_of(given | {asked}, length_unit, row, kind, features, formula)
    own = features | {"set distance"}
    if own == features or not own <= KINDS[kind].features:
        return kind, features
    # A distance, or a play, that a plain mounting settles already would be taken for a contradiction, or for
    # nothing. Given beside all that settles it, it is a number of its own where the answer hangs on it.
    idle = [
        word for word in sorted(given & _SETTLED_IN_PLACE) if follows(word, given - {word}, kind, features)
    ]
    form = formula(kind, own) if idle else None
    meant = form is not None and any(symbol(word) in form.free_symbols for word in idle)
    return kind, own if meant else features


def _with_row(
    asked: str,
    given: frozenset[str],
    notation: str,
    kind: str,
    length_unit: str,
    features: frozenset[str],
    row: ToothSystem,
) -> Derivation:
    """The same way with another row of the tooth system.

    The row of letters adds its letters to the givens.
    """
    rows = rows_of(kind, row)
    if row is ANY_ROW:
        given |= OF_A_ROW.keys() & {
            letter.name for letter in scope_for(kind, length_unit, rows, features).symbols
        }
    return _derivation(asked, given, notation, rows, kind, length_unit, features)


def explain(scope: Scope, givens: Mapping[str, float], asked: str, notation: str) -> Derivation:
    """The way from a part's own givens to one of its numbers, with the numbers put in.

    scope: the relations that hold for the part.
    givens: its independent numbers by word, bare [usual units of the scope's length unit] or as text with a
        unit.
    asked: word.
    notation: "inch" or "iso".
    """
    words = tuple(givens)
    texts, converted = take_values(
        {word: value for word, value in givens.items() if isinstance(value, str)},
        scope.length_unit,
        scope.length_unit,
    )
    givens = {**givens, **texts}
    for word, number in givens.items():
        check_number(word, number, several=False)
        if number or word in texts:  # a part may have none of something: a hub without keyway
            check_given(word, number, scope.length_unit)
    check_turning(scope.kind, givens)
    way = _derivation(
        asked,
        frozenset(words),
        notation,
        scope.systems if len(scope.about.sides) == 2 else scope.systems[:1],
        scope.kind,
        scope.length_unit,
        scope.features,
    )
    way.check_holds({word: inward(word, number, scope.length_unit) for word, number in givens.items()})
    numbers = way.all_numbers(givens)
    return way.with_changes(
        given=words,
        numbers=numbers,
        notes=notes_on(numbers, givens, scope.length_unit),
        bare=scope.length_unit,
        converted=converted,
    )


def with_values(way: Derivation, words: tuple[str, ...], values: Mapping[str, float]) -> Derivation:
    """The same way with the givens in the reader's order and, where there are values, the numbers."""
    if not values:
        return way.with_changes(given=words)
    if any(np.ndim(number) for number in values.values()):
        several = listed([word for word, number in values.items() if np.ndim(number)])
        raise ValueError(
            f"derive takes single values, {several} has more; for arrays give names, then use .value(...)"
            " with arrays"
        )
    check_turning(way.scope.kind, values)
    if way._row_matters:
        at_its_row = at_row(
            way,
            {
                symbol(word): float(inward(word, number, way.scope.length_unit))
                for word, number in values.items()
            },
        )
        way = (
            at_its_row
            if at_its_row is way
            else at_its_row.with_changes(row=way.row, bare=way.bare, converted=way.converted)
        )
    contradictions(way.scope, values)
    way.check_holds({word: inward(word, number, way.scope.length_unit) for word, number in values.items()})
    try:
        numbers = way.all_numbers(values)
    except NoSuchGears:
        raise
    except (ValueError, OverflowError) as error:
        raise ValueError(
            f"{QUANTITIES[way.asked].meaning} has no real value for these givens: check {listed(words)}"
        ) from error
    # a negative diameter on the way makes a sound-looking centre distance
    for word in (way.asked, *numbers.keys() - {way.asked, *values}):
        check_result(
            QUANTITIES[word], numbers[word] if word == way.asked or numbers[word] < -1e-9 else 0.0, words
        )
    return way.with_changes(
        given=words, numbers=numbers, notes=notes_on(numbers, values, way.scope.length_unit)
    )


@lru_cache(maxsize=2048)
def _derivation(
    asked: str,
    given: frozenset[str],
    notation: str,
    systems: tuple[ToothSystem, ...],
    kind: str,
    length_unit: str,
    features: frozenset[str],
) -> Derivation:
    scope = scope_for(kind, length_unit, systems, features)
    words = tuple(sorted(given, key=side_order))
    with scope.lock:
        known = [symbol(word) for word in words]
        for word in (*words, asked):
            # measured: conditions ask for it
            if symbol(word) not in scope.symbols and not (
                word in given and split_side(word)[1] == "form_radius"
            ):
                near = [s.name for s in scope.symbols if quantity(s.name).inch == quantity(word).inch] or [
                    s.name for s in scope.symbols if s.name.endswith(word) or word.endswith(s.name)
                ]
                hint = f"; did you mean {listed(sorted(near))}?" if near else ""
                article = "an" if kind[0] in "aeiou" else "a"
                raise NotOfThisKind(f"{word!r} does not occur in the theory of {article} {kind}{hint}")
        try:
            links = [] if asked in given else search.find(scope, known, symbol(asked))
        except search.GaveUp:
            raise ValueError(gave_up(scope, known, words, asked)) from None
        if links is None:
            raise missing(scope, known, words, asked)
        steps = tuple(map(Step.of, links))
        way = Derivation(asked, words, steps, scope, notation)
        if {
            letter.name for letter in way.tidy.free_symbols
        } & way.cancelling:  # worked out once, under the lock
            raise ValueError(gave_up(scope, known, words, asked))
        return way


@lru_cache(maxsize=256)
def reach(
    given: tuple[str, ...],
    kind: str,
    length_unit: str = "in",
    tooth_system: str = "full depth",
    notation: str = "inch",
    pressure_angle: float = 20.0,
    features: tuple[str, ...] = (),
) -> dict[str, Derivation]:
    """Every quantity that the givens determine, with the way to it, by word.

    Without those for which no formula is found within the budget.

    given: words.
    kind, length_unit, tooth_system, notation: as for :func:`derive`.
    pressure_angle: chooses the row of the tooth system [deg].
    features: what goes beyond the plain case.

    >>> reach(("circular_pitch",), "gear", "mm")["module"].formula
    p/pi
    """
    scope = scope_for(
        kind, length_unit, rows_of(kind, system(tooth_system, pressure_angle)), frozenset(features)
    )
    with scope.lock:
        ways = search.reach(scope, [symbol(word) for word in given])
        return {
            unknown.name: Derivation(
                unknown.name, tuple(given), tuple(map(Step.of, links)), scope, notation, bare=length_unit
            )
            for unknown, links in ways.items()
        }


@lru_cache(maxsize=16)
def words_of(kind: str) -> tuple[str, ...]:
    """Words that occur in the theory of a kind, in the order they are taught.

    Its symbols mean these first.

    >>> "third_teeth" in words_of("idler train"), "centre_distance" in words_of("gear")
    (True, False)
    """
    if kind not in KINDS:
        raise ValueError(f"kind {kind!r} is unknown: use one of {', '.join(KINDS)}")
    row = system("full depth", 20.0)
    scopes = [
        scope_for(kind, "mm", rows_of(kind, row), frozenset(features))
        for features in ((), *((feature,) for feature in sorted(KINDS[kind].features)))
    ]
    return tuple(sorted({letter.name for scope in scopes for letter in scope.symbols}, key=place))
