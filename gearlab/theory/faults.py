"""What can be wrong with givens: out of range, missing, contradicting each other, not whole."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import pairwise
from math import ceil, degrees, floor, inf, pi

import numpy as np
import sympy as sp

from . import search
from .boundary import Number, check_number, check_plausible, inward, outward, told, unit_of
from .functions import WHOLE
from .quantities import QUANTITIES, Quantity, place, split_side
from .scope import FULL_TURN, Scope, symbol
from .search import Link
from .solving import evaluate
from .units import MM_PER_INCH, written

# Rounded givens may disagree a little; more than this share is a contradiction.
_ROUNDING = 2e-4


def check_given(word: str, number: Number, length_unit: str) -> None:
    """Raise ValueError with the limits if a given [usual unit], or any of an array, lies outside its
    quantity's range or is no plausible size.
    """
    entry = QUANTITIES[word]
    check_number(word, number)
    mine = inward(word, np.asarray(number, dtype=float) if np.ndim(number) else float(number), length_unit)
    check_range(entry, mine)
    check_plausible(entry, mine, length_unit)


def check_range(entry: Quantity, number: Number) -> None:
    """Raise ValueError with the limits if a value [theory unit, rad] or any of an array lies outside the
    quantity's range.
    """
    low, high = entry.low, entry.high
    numbers = np.asarray(number, dtype=float)
    if (
        np.all(np.isfinite(numbers))
        and np.all((numbers >= low) & (numbers <= high))
        and (entry.zero or not np.any(numbers == 0))
    ):
        return
    worst = (
        float(numbers.flat[int(np.argmax(~((numbers >= low) & (numbers <= high))))])
        if numbers.ndim
        else float(numbers)
    )
    unit = " deg" if entry.dimension == "angle" else ""
    shown = [degrees(x) if entry.dimension == "angle" and abs(x) != inf else x for x in (worst, low, high)]
    hint = "; it looks like radians, give degrees" if entry.dimension == "angle" and 0 < shown[0] < 1 else ""
    limits = f"above {shown[1]:g}{unit}" if high == inf else f"between {shown[1]:g} and {shown[2]:g}{unit}"
    raise ValueError(f"{entry.meaning} {shown[0]:g}{unit} is out of range: give a value {limits}{hint}")


class NotOfThisKind(ValueError):
    """A word that the theory of a kind does not know."""


class Missing(ValueError):
    """Too little is given.

    near: whether one more quantity would do, which the message names.
    """

    def __init__(self, message: str, near: bool = False):
        super().__init__(message)
        self.near = near


class NoSuchGears(ValueError):
    """A refusal that already says why numbers make no gears."""


def check_result(entry: Quantity, number: float, words: Iterable[str]) -> None:
    """Raise ValueError if a result is negative though the quantity cannot be.

    ``words`` are what it rests on [-].
    """
    if number < 0 and not entry.signed and entry.dimension in ("power", "torque", "force"):
        raise NoSuchGears(
            f"{entry.meaning} comes out as {number:.6g}, below zero: it is told as a size; give"
            f" {listed(words)} as sizes too, without the sign of a direction"
        )
    if number < 0 and not entry.signed:
        raise NoSuchGears(
            f"{entry.meaning} comes out as {number:.6g}, below zero: no such gears exist; check"
            f" {listed(words)}"
        )
    if entry.dimension == "number" and number > entry.high * (1 + 1e-9):
        raise NoSuchGears(
            f"{entry.meaning} comes out as {number:.6g}, above {entry.high:g}: that cannot be; check"
            f" {listed(words)}"
        )


def listed(words: Iterable[str]) -> str:
    """Words in a row: a, b and c."""
    words = list(words)
    return (
        words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1] if words else "nothing"
    )


# What a reader most likely has at hand comes first.
_LIKELY = (
    "diametral_pitch",
    "module",
    "teeth",
    "driver_teeth",
    "driven_teeth",
    "pitch_diameter",
    "driver_pitch_diameter",
    "driven_pitch_diameter",
    "pressure_angle",
    "centre_distance",
    "ratio",
    "driver_speed",
    "speed",
    "outside_diameter",
    "circular_pitch",
)


def missing(scope: Scope, known: list[sp.Symbol], words: tuple[str, ...], asked: str) -> Missing:
    """The refusal that says what else is needed to derive what is asked."""
    what, have = QUANTITIES[asked].meaning, listed(QUANTITIES[w].meaning for w in words)
    start = (
        f"{what} cannot be derived from {have}: " if words else f"{what} cannot be derived without givens: "
    )
    one_more = sorted((s.name for s in search.lacking(scope, known, symbol(asked))), key=_likely)
    lossless = (
        " (1 where no losses are counted)" if {"efficiency", "mesh_efficiency"} & {*one_more[:6]} else ""
    )
    also = f"{start}it also needs one of {', '.join(one_more[:6])}{lossless}"
    if one_more and one_more[0] in _LIKELY:
        return Missing(also, near=True)
    for first in (w for w in _LIKELY if w not in words and symbol(w) in scope.symbols):
        more = sorted(
            (s.name for s in search.lacking(scope, [*known, symbol(first)], symbol(asked))), key=_likely
        )
        if more and more[0] in _LIKELY:
            return Missing(f"{start}it needs two more quantities, such as {first} and {more[0]}")
    return Missing(also, near=True) if one_more else Missing(f"{start}more than two quantities are missing")


def gave_up(scope: Scope, known: list[sp.Symbol], words: tuple[str, ...], asked: str) -> str:
    """The sentence that says that no formula was found in the steps a search has, and which givens would help
    .
    """
    start = (
        f"derive gave up on {QUANTITIES[asked].meaning} from {listed(QUANTITIES[w].meaning for w in words)}:"
        " it found no formula within its budget of steps; "
    )
    helpful = sorted((s.name for s in search.lacking(scope, known, symbol(asked))), key=_likely)
    if helpful:
        return (
            f"{start}with one of {', '.join(helpful[:6])} given as well, or in place of one of these, there"
            " is a straight way"
        )
    return (
        f"{start}give what the teeth are made from: their number, the module or diametral pitch, and the"
        " pressure angle"
    )


def _likely(word: str) -> tuple[int, str]:
    return _LIKELY.index(word) if word in _LIKELY else 99, word


def notes_on(numbers: Mapping[str, float], values: Mapping[str, float], length_unit: str) -> tuple[str, ...]:
    """What a reader should be told of the numbers [usual units].

    Counts that are not whole, with the whole ones near [-].
    """
    notes = []
    for word, number in numbers.items():
        if QUANTITIES[word].whole and abs(number - round(number)) > WHOLE:
            notes.append(
                f"{QUANTITIES[word].meaning} {'is given' if word in values else 'comes out'} as {number:.6g},"
                f" which is not whole: {floor(number)} and {ceil(number)} are near"
            )
    if length_unit == "mm" and "diametral_pitch" in values:
        notes.append(
            f"a diametral pitch of {values['diametral_pitch']:.6g}/in is a module of"
            f" {MM_PER_INCH / values['diametral_pitch']:.6g} mm: an inch has {MM_PER_INCH:g} mm"
        )
    elif "module" in numbers and "module" not in values and "diametral_pitch" in values:
        notes.append(f"a module of {numbers['module']:.6g} in is {numbers['module'] * MM_PER_INCH:.6g} mm")
    return tuple(notes)


def contradictions(scope: Scope, values: Mapping[str, float]) -> None:
    """Raise ValueError if a given [usual units] follows otherwise from the others.

    It names them and by how much they differ.
    """
    if len(values) < 2:
        return
    numbers = {
        symbol(word): inward(word, float(number), scope.length_unit) for word, number in values.items()
    }
    with scope.lock:
        for word in values:
            others = [letter for letter in numbers if letter.name != word]
            links = search.forward(scope, others, symbol(word))
            if links is None:
                continue
            known = {letter: numbers[letter] for letter in others} | {FULL_TURN: 2 * pi}
            try:
                for link in links:
                    known[link.unknown] = evaluate(link.expression, known)
            except ValueError:
                continue
            follows, stated = known[symbol(word)], numbers[symbol(word)]
            if abs(follows - stated) > _ROUNDING * max(abs(follows), abs(stated)):
                raise ValueError(_describe(scope, links, word, stated, follows, values))


# How each gear turns against the first one of its kind: +1 the same way, -1 opposite ways.
_TURNING = {
    "pair": {"driver": 1, "driven": -1},
    "internal pair": {"driver": 1, "driven": 1},
    "idler train": {"first": 1, "second": -1, "third": 1},
    "compound train": {"first": 1, "second": -1, "third": -1, "fourth": 1},
}
_MOTION = ("speed", "turns", "angle", "angular_speed")


def _motions(kind: str, values: Mapping[str, Number]) -> dict[str, int]:
    sides = _TURNING.get(kind, {})
    return {
        word: sides[side]
        for word in sorted(values, key=place)
        for side, base in [split_side(word)]
        if base in _MOTION and side in sides
    }


def turned_wrongly(kind: str, values: Mapping[str, Number]) -> bool | np.ndarray:
    """Where given speeds, turns and angles go against the meshes between them.

    True or False, or an array of these [-].
    """
    ways = _motions(kind, values)
    if not ways:
        return False
    first, wrong = next(iter(ways)), np.asarray(False)
    for word in ways:
        wrong = wrong | (np.sign(values[first]) * np.sign(values[word]) * ways[first] * ways[word] < 0)
    return wrong


def check_turning(kind: str, values: Mapping[str, Number]) -> None:
    """Raise ValueError where given speeds, turns or angles go against the meshes between them [any units].

    It says how the gears turn.
    """
    ways = _motions(
        kind, {word: number for word, number in values.items() if np.ndim(number) == 0 and number}
    )
    for first, word in pairwise(ways):
        if np.sign(values[first]) * np.sign(values[word]) * ways[first] * ways[word] < 0:
            same = ways[first] == ways[word]
            raise ValueError(
                f"the givens contradict each other: {QUANTITIES[first].meaning} {values[first]:g} and"
                f" {QUANTITIES[word].meaning} {values[word]:g} have"
                f" {'opposite signs' if same else 'the same sign'}, but"
                f" {_why(kind, split_side(first)[0], split_side(word)[0])} (counter-clockwise is positive):"
                " turn one sign round, or leave one of them out"
            )


def _why(kind: str, first: str, second: str) -> str:
    """How two gears turn against each other, as a sentence."""
    if first == second:
        return "speed, turns and angle of one gear go the same way"
    if kind == "internal pair":
        return "a gear and the ring around it turn the same way"
    meshes = {
        "first": 0,
        "second": 1,
        "third": 2 if kind == "idler train" else 1,
        "fourth": 2,
        "driver": 0,
        "driven": 1,
    }
    between = abs(meshes[first] - meshes[second])
    return (
        "two gears on one shaft turn the same way",
        "two external gears turn opposite ways",
        (
            "two external gears turn opposite ways, so that after two meshes the direction is the first one"
            " again"
        ),
    )[between]


def _describe(
    scope: Scope, links: Iterable[Link], word: str, stated: float, follows: float, values: Mapping[str, float]
) -> str:
    entry = QUANTITIES[word]
    rests = [
        w for w in values if w != word and any(symbol(w) in link.expression.free_symbols for link in links)
    ]
    stated, follows = (outward(word, number, scope.length_unit) for number in (stated, follows))
    unit = unit_of(word, scope.length_unit)
    unit = f" {unit if unit == 'deg' else written(unit)}" if unit else ""
    share = f", {abs(stated - follows) / abs(follows) * 100:.2g} %" if follows else ""
    apart = "centre_distance" in {word, *rests} and "set distance" in scope.about.features - scope.features
    return (
        f"the givens contradict each other: {entry.meaning} is given as {stated:.6g}{unit}, but"
        f" {listed(f'{QUANTITIES[w].meaning} {told(w, values[w], scope.length_unit)}' for w in rests)} make"
        f" it {follows:.6g}{unit} ({abs(stated - follows):.3g}{unit}{share} apart): leave one of them"
        " out or correct it"
        + (
            ', or put "set distance" among them where the shafts are set at a distance of their own'
            if apart
            else ""
        )
    )
