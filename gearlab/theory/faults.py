"""What can be wrong with givens: out of range, missing, contradicting each other, not whole."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import ceil, degrees, floor, inf, pi, radians
from numbers import Real

import numpy as np
import sympy as sp

from . import search
from .quantities import QUANTITIES, Quantity
from .scope import FULL_TURN, Scope, symbol
from .solving import evaluate
from .units import MM_PER_INCH, shown_unit

# Rounded givens may disagree a little; more than this share is a contradiction.
_ROUNDING = 2e-4
# So near a whole number, a count is taken for it: the rest is rounding of the givens.
_WHOLE = 2e-3


# No length, force, speed or stress of a machine is larger, even in theory's small units (N mm, mm/min); its cube is still a number.
LARGEST = 1e18


def check_number(entry: Quantity, number, several: bool = False) -> None:
    """Raise ValueError for anything but a finite real number (``several``: or an array of them): texts, truth values, complex numbers, None [theory unit, deg]."""
    if type(number) is float and -LARGEST <= number <= LARGEST:
        return
    if isinstance(number, (Real, np.integer, np.floating)) and not isinstance(number, (bool, np.bool_)):
        sound = abs(number) <= LARGEST
    else:
        try:
            numbers = np.asarray(number)
        except ValueError:      # rows of unlike length
            numbers = np.asarray(None)
        if numbers.dtype.kind not in "iuf" or not (several and numbers.ndim):
            raise ValueError(f"{entry.meaning} ({entry.word} = {number!r}) is not a number: give a plain one")
        sound = bool(np.all(np.abs(numbers) <= LARGEST))
    if not sound:
        raise ValueError(f"{entry.meaning} ({entry.word} = {number!s:.80}) is out of range: give a finite number from {-LARGEST if entry.low < 0 else entry.low:g} to {min(entry.high, LARGEST):g}"
                         if entry.dimension != "angle" else f"{entry.meaning} ({entry.word} = {number!s:.80} deg) is out of range: give a finite angle in degrees")


def in_radians(entry: Quantity, number, several: bool = False):
    """A value of a quantity with angles turned from degrees [deg] to radians [rad]; others as they are; ValueError for what is no number."""
    check_number(entry, number, several)
    return np.radians(number) if entry.dimension == "angle" and np.ndim(number) else radians(number) if entry.dimension == "angle" else number


def in_degrees(entry: Quantity, number):
    """A value of a quantity with angles turned from radians [rad] to degrees [deg]; others as they are."""
    if entry.dimension == "angle":
        number = np.degrees(number) if np.ndim(number) else degrees(number)
    return number if np.ndim(number) else round(float(number), 13)


def check_range(entry: Quantity, number) -> None:
    """Raise ValueError with the limits if a value [theory unit, rad] or any of an array lies outside the quantity's range."""
    low, high = entry.low, entry.high
    numbers = np.asarray(number, dtype=float)
    if np.all(np.isfinite(numbers)) and np.all((numbers >= low) & (numbers <= high)) and (entry.zero or not np.any(numbers == 0)):
        return
    worst = float(numbers.flat[int(np.argmax(~((numbers >= low) & (numbers <= high))))]) if numbers.ndim else float(numbers)
    unit = {"angle": " deg", "length": "", "count": ""}.get(entry.dimension, "")
    shown = [degrees(x) if entry.dimension == "angle" and abs(x) != inf else x for x in (worst, low, high)]
    hint = "; it looks like radians, give degrees" if entry.dimension == "angle" and 0 < shown[0] < 1 else ""
    limits = f"above {shown[1]:g}{unit}" if high == inf else f"between {shown[1]:g} and {shown[2]:g}{unit}"
    raise ValueError(f"{entry.meaning} {shown[0]:g}{unit} is out of range: give a value {limits}{hint}")


def check_result(entry: Quantity, number: float, words: Iterable[str]) -> None:
    """Raise ValueError if a result is negative though the quantity cannot be; ``words`` are what it rests on [-]."""
    if number < 0 and not entry.signed:
        raise ValueError(f"{entry.meaning} comes out as {number:.6g}, below zero: no such gears exist; check {listed(words)}")


def listed(words: Iterable[str]) -> str:
    """Words in a row: a, b and c [-]."""
    words = list(words)
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1] if words else "nothing"


# What a reader most likely has at hand comes first.
_LIKELY = ("diametral_pitch", "module", "teeth", "driver_teeth", "driven_teeth", "pitch_diameter", "driver_pitch_diameter", "driven_pitch_diameter",
           "pressure_angle", "centre_distance", "ratio", "driver_speed", "speed", "outside_diameter", "circular_pitch")


def missing(scope: Scope, known: list[sp.Symbol], words: tuple[str, ...], asked: str) -> str:
    """The sentence that says what else is needed to derive what is asked [-]."""
    def likely(word: str) -> tuple[int, str]:
        return _LIKELY.index(word) if word in _LIKELY else 99, word

    what, have = QUANTITIES[asked].meaning, listed(QUANTITIES[w].meaning for w in words)
    start = f"{what} cannot be derived from {have}: " if words else f"{what} cannot be derived without givens: "
    one_more = sorted((s.name for s in search.lacking(scope, known, symbol(asked))), key=likely)
    also = f"{start}it also needs one of {', '.join(one_more[:6])}"
    if one_more and one_more[0] in _LIKELY:
        return also
    for first in (w for w in _LIKELY if w not in words and symbol(w) in scope.symbols):
        more = sorted((s.name for s in search.lacking(scope, [*known, symbol(first)], symbol(asked))), key=likely)
        if more and more[0] in _LIKELY:
            return f"{start}it needs two more quantities, such as {first} and {more[0]}"
    return also if one_more else f"{start}more than two quantities are missing"


def notes_on(numbers: Mapping[str, float], values: Mapping[str, float]) -> tuple[str, ...]:
    """What a reader should be told of the numbers: counts that are not whole, with the whole ones near [-]."""
    notes = []
    for word, number in numbers.items():
        if QUANTITIES[word].whole and abs(number - round(number)) > _WHOLE:
            notes.append(f"{QUANTITIES[word].meaning} {'is given' if word in values else 'comes out'} as {number:.6g}, which is not whole: {floor(number)} and {ceil(number)} are near")
    if "module" in numbers and "module" not in values and "diametral_pitch" in values:
        notes.append(f"a module of {numbers['module']:.6g} in is {numbers['module'] * MM_PER_INCH:.6g} mm")
    return tuple(notes)


def contradictions(scope: Scope, values: Mapping[str, float]) -> None:
    """Raise ValueError if a given follows otherwise from the others; it names them and by how much they differ."""
    if len(values) < 2:
        return
    numbers = {symbol(word): float(in_radians(QUANTITIES[word], number)) for word, number in values.items()}
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
                raise ValueError(_describe(scope, links, word, stated, follows, values))


def _describe(scope: Scope, links, word: str, stated: float, follows: float, values: Mapping[str, float]) -> str:
    entry = QUANTITIES[word]
    rests = [w for w in values if w != word and any(symbol(w) in link.expression.free_symbols for link in links)]
    stated, follows = in_degrees(entry, stated), in_degrees(entry, follows)
    unit = {"1": "", "teeth": ""}.get(shown_unit(entry.dimension, scope.length_unit), " " + shown_unit(entry.dimension, scope.length_unit))
    share = abs(stated - follows) / abs(follows) * 100 if follows else inf
    return (f"the givens contradict each other: {entry.meaning} is given as {stated:.6g}{unit}, but {listed(f'{QUANTITIES[w].meaning} {values[w]:g}' for w in rests)} "
            f"make it {follows:.6g}{unit} ({abs(stated - follows):.3g}{unit or ''}, {share:.2g} % apart): leave one of them out or correct it")
