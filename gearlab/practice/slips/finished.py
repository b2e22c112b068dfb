"""Mistakes with the finished number: twice of it, upside down, a unit too much, a fixed number instead."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

import sympy as sp

from gearlab.practice.slips.variation import FINISHED, Slip, Way, shown, slip
from gearlab.theory.functions import arcinv, next_multiple
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.scope import FULL_TURN, symbol

__all__ = ["finished"]


def finished(way: Way) -> Iterator[Slip]:
    """Every mistake with the finished number of an answer."""
    if way.answer.modular:
        return  # twice an angle or half of it means nothing where whole turns do not count
    for maker in (
        _factors_of_two,
        _factors_of_pi,
        _turned_over,
        _turned_round,
        _units,
        _one_off,
        _by_the_teeth,
        _fixed,
    ):
        yield from maker(way)


def _rare(way: Way) -> float:
    return 1.2 if QUANTITIES[way.asked].whole else 0.0  # a count is rarely upside down or off by pi


def _factors_of_two(way: Way) -> Iterator[Slip]:
    name, says, rare = QUANTITIES[way.asked].meaning, way.says(), _rare(way) / 2
    sentence = f"Your number is twice the {name}: a diameter for a radius, or something counted twice? {says}"
    yield slip(1.1 + rare, "twice", "twice as much", sentence, 0.5, turn=2 * FINISHED)
    sentence = f"Your number is half the {name}: a radius for a diameter, or one of two equal parts? {says}"
    yield slip(1.1 + rare, "half", "half as much", sentence, 0.5, turn=FINISHED / 2)
    sentence = f"Your number is a quarter of the {name}: two factors of two went the wrong way. {says}"
    yield slip(2.35 + rare, "a quarter", "a quarter of it", sentence, 0.25, turn=FINISHED / 4)
    sentence = f"Your number is four times the {name}: two factors of two went the wrong way. {says}"
    yield slip(2.45 + rare, "four times", "four times as much", sentence, 0.25, turn=4 * FINISHED)


def _power_of_pi(way: Way) -> int | None:
    """Whether pi, in the units shown, is a factor of the right way (1), divides it (-1) or neither (0).

    An angle in degrees or a speed in turns brings a pi of its own: an arc is r a pi/180. None where pi stands
    in one part of a sum, or may stand behind an earlier answer, so that neither can be said.
    """
    if way.answer.used:
        return None  # it may have come in before
    shown = {symbol(word): symbol(word) * _pi_of(factor) for word, factor in way.factors.items()}
    raw = sp.sympify(way.answer.way.raw).xreplace({FULL_TURN: 2 * sp.pi}).xreplace(shown)
    # the pi of an angle under a cosine is the calculator's, and so is that of an inverse cosine; an involute
    # function is worked out with it
    for functions, power in (((sp.acos, sp.asin, sp.atan, arcinv), 1), ((sp.cos, sp.sin, sp.tan), 0)):
        raw = raw.replace(
            lambda part, f=functions: isinstance(part, f), lambda part, n=power: _calculated(part, n)
        )
    whole = sp.factor_terms(raw * _pi_of(way.answer.out_factor))
    power = whole.as_coeff_Mul()[1].as_powers_dict().get(sp.pi, 0)
    return int(sp.sign(power)) if power or not whole.has(sp.pi) else None


def _calculated(function: sp.Expr, power: int) -> sp.Expr:
    """What a calculator gives in one go, degrees in and out, as a letter of its own."""
    return sp.Dummy() * sp.pi**power


def _pi_of(size: float) -> sp.Expr:
    """The power of pi in a factor between units: pi/180 has one, 25.4 has none."""
    for power in (0, 1, -1):
        rest = size / math.pi**power
        near = Fraction(rest).limit_denominator(1000)
        if near and abs(near - Fraction(rest)) <= Fraction(rest) / 10**12:
            return sp.pi**power
    return sp.Integer(1)


def _factors_of_pi(way: Way) -> Iterator[Slip]:
    says, power, name = way.says(), _power_of_pi(way), QUANTITIES[way.asked].meaning
    along = "along the circle or across it?"
    many = "pi too many", "a factor pi too much", f"There is a factor pi too many: {along}"
    belongs = f"Your number is the {name} divided by pi: follow pi through your working."
    much = {-1: ("pi left out", "left out pi", "You left out pi: it belongs in the denominator.")}
    little = {
        None: ("divided by pi", "divided by pi", belongs),
        1: ("pi missing", "a factor pi is missing", f"A factor pi is missing: {along}"),
        0: ("divided by pi", "divided by pi", "You divided by pi, which does not come in here."),
        -1: ("divided by pi twice", "divided by pi twice", "You divided by pi once too often."),
    }
    both = ((much.get(power or 0, many), FINISHED * sp.pi), (little[power], FINISHED / sp.pi))
    for (short, title, sentence), turn in both:
        yield slip(1.4 + _rare(way), short, title, f"{sentence} {says}", 0.25, turn=turn)


def _turned_over(way: Way) -> Iterator[Slip]:
    name = QUANTITIES[way.asked].meaning
    sentence = f"The {name} came out upside down: what has to be above the line and what below? {way.says()}"
    # a share in per cent turns over as a share: 80 % becomes 125 %
    hundred = 10_000 if way.answer.shown_unit == "%" else 1
    yield slip(1.3 + _rare(way), "upside down", "upside down", sentence, 0.5, turn=hundred / FINISHED)


def _turned_round(way: Way) -> Iterator[Slip]:
    """A formula used the wrong way round: divided by all that multiplies the given, or the reverse."""
    mine, raw = QUANTITIES[way.asked], sp.sympify(way.answer.way.raw)
    if way.answer.used or mine.whole:
        return
    alike = [word for word in way.inputs if QUANTITIES[word].dimension == mine.dimension]
    words = way.inputs if len(way.inputs) == 1 else alike if len(alike) == 1 else ()
    for word in words:
        share = raw / symbol(word)
        if word not in way.table.givens or share.has(symbol(word)):
            continue
        if len(way.inputs) > 1 and way.question.unit(word) != way.answer.shown_unit:
            continue
        what = QUANTITIES[word].meaning
        sentence = (
            f"You went the other way round, as if the {mine.meaning} were given and the {what} asked."
            f" {way.says()}"
        )
        turn = shown(word) ** 2 / FINISHED
        yield slip(
            2.3 + _rare(way), "turned round", "used the formula turned round", sentence, 0.25, turn=turn
        )


_LENGTHS = ("length", "pitch", "linear speed")
_TIMES = ("speed", "angular speed", "linear speed", "frequency", "angle", "turns", "time")
_RATES = ("speed", "angular speed", "linear speed", "frequency", "time")
_TURNS = ("angle", "angular speed", "turns", "speed")

_INCHES, _MINUTES, _RADIANS = "inches and millimetres", "minutes and seconds", "turns and radians"
_POWERS = {10: "ten", 100: "one hundred", 1000: "one thousand"}

# Of each factor that comes of units: rank, factor, title, dimensions (none: every one); and what it says.
_UNITS: dict[str, tuple[float, sp.Expr, str, tuple[str, ...]]] = {}
for _power, _words in _POWERS.items():
    _UNITS[f"times {_power}"] = (2.6, sp.Integer(_power), f"a factor of {_words}", ())
    _UNITS[f"over {_power}"] = (2.6, sp.Rational(1, _power), f"a factor of {_words}", ())
_UNITS |= {
    "times 25.4": (2.4, sp.Rational(254, 10), _INCHES, _LENGTHS),
    "over 25.4": (2.4, sp.Rational(10, 254), _INCHES, _LENGTHS),
    "times 60": (2.4, sp.Integer(60), _MINUTES, _TIMES),
    "over 60": (2.4, sp.Rational(1, 60), _MINUTES, _TIMES),
    "times 12": (2.5, sp.Integer(12), "feet and inches", ("linear speed",)),
    "over 2 pi": (2.5, 1 / (2 * sp.pi), _RADIANS, _TURNS),
    "times 2 pi": (2.5, 2 * sp.pi, _RADIANS, _TURNS),
    "over 360": (2.5, sp.Rational(1, 360), "turns and degrees", ("angle", "turns")),
    "times 360": (2.5, sp.Integer(360), "turns and degrees", ("turns",)),
}
_POINT = "look at the decimal point and the units."
_SAID = {
    **{f"times {n}": f"Your number is {w} times too large: {_POINT}" for n, w in _POWERS.items()},
    **{f"over {n}": f"Your number is {w} times too small: {_POINT}" for n, w in _POWERS.items()},
    "times 25.4": "Your number looks as if inches had been converted the wrong way, or once too often: 25.4"
    " times too large.",
    "over 25.4": "Your number looks as if inches and millimetres had been exchanged: 25.4 times too small.",
    "times 60": "Your number is sixty times too large: per minute or per second?",
    "over 60": "Your number is sixty times too small: per minute or per second?",
    "times 12": "Your number is twelve times too large: feet or inches?",
    "over 2 pi": "One turn is two pi radians: your number is smaller by that factor.",
    "times 2 pi": "One turn is two pi radians: your number is larger by that factor.",
    "over 360": "One turn is 360 degrees.",
    "times 360": "Those are degrees: one turn is 360 of them.",
}


def _units(way: Way) -> Iterator[Slip]:
    dimension = QUANTITIES[way.asked].dimension
    timeless = not any(QUANTITIES[word].dimension in _RATES for word in way.inputs)
    for name, (rank, factor, title, dimensions) in _UNITS.items():
        sentence = _SAID[name]
        if dimensions and dimension not in dimensions:
            continue
        if dimensions == _TIMES and timeless and dimension in ("angle", "turns"):
            if dimension == "turns" or way.answer.shown_unit != "deg":
                continue
            # where nothing runs, sixty is the minutes of arc in a degree
            title = "degrees and minutes of arc"
            sentence = sentence.replace("per minute or per second", "degrees or minutes of arc")
        yield slip(rank, name, title, sentence, 0.5, turn=FINISHED * factor)


def _one_off(way: Way) -> Iterator[Slip]:
    mine, says = QUANTITIES[way.asked], way.says()
    out = way.answer.out_factor
    if mine.dimension == "number" and not mine.whole and "ratio" in mine.word:
        sentence = (
            f"Your number is one too many: adding one belongs to a gear that is carried round another. {says}"
        )
        yield slip(2.9, "one more", "one too many", sentence, 0.0, turn=FINISHED + out)
        sentence = f"Your number is one too few. {says}"
        yield slip(3.0, "one less", "one too few", sentence, 0.0, turn=FINISHED - out)
    if mine.word.endswith("driven_angle") and way.answer.shown_unit == "deg":
        sentence = f"A whole turn was added or taken off: here all that was turned counts. {says}"
        for turn in (FINISHED + 360, FINISHED - 360):
            name, title = "whole turn", "a whole turn more or less"
            yield slip(2.6, name, title, sentence, 0.5, turn=turn)
    if mine.whole:
        sentence = f"Your number is one too many. {says}"
        yield slip(2.9, "one more", "one too many", sentence, 0.25, turn=FINISHED + 1)
        sentence = f"Your number is one too few. {says}"
        yield slip(2.9, "one less", "one too few", sentence, 0.25, turn=FINISHED - 1)
    whole = way.answer.table.whole
    if whole == "nearest":
        sentence = f"Rounded the other way: the nearest whole number is meant. {says}"
        for turn in (next_multiple(FINISHED, 1), -next_multiple(-FINISHED, 1)):  # the count above and below
            name, title = "rounded the other way", "rounded the other way"
            yield slip(2.6, name, title, sentence, 0.5, turn=turn)
    if whole in ("up", "down"):
        sentence = (
            "Rounded the other way: ask whether the number below or the one above still does what is wanted."
            f" {says}"
        )
        turn = FINISHED + (1 if whole == "down" else -1)
        yield slip(0.9, "rounded the other way", "rounded the other way", sentence, 0.5, turn=turn)


def _by_the_teeth(way: Way) -> Iterator[Slip]:
    mine = QUANTITIES[way.asked]
    if mine.dimension not in ("count", "turns", "frequency"):
        return
    for side in way.sides:
        word = f"{side}teeth"
        if word in way.given and word != way.asked:
            what = QUANTITIES[word].meaning
            sentence = f"Your number is the {mine.meaning} multiplied by the {what}. {way.says()}"
            turn = FINISHED * sp.Symbol(word)
            yield slip(2.7, f"times {word}", f"multiplied by the {what}", sentence, 0.5, turn=turn)
            sentence = f"Your number is the {mine.meaning} divided by the {what}. {way.says()}"
            turn = FINISHED / sp.Symbol(word)
            yield slip(2.7, f"over {word}", f"divided by the {what}", sentence, 0.5, turn=turn)


def _fixed(way: Way) -> Iterator[Slip]:
    """A number that anybody would say without working anything out."""
    mine = QUANTITIES[way.asked]
    what = f"the {mine.meaning}"
    if mine.dimension == "angle" and way.answer.shown_unit == "deg":
        for size, called in ((45, "half a right angle"), (90, "a right angle")):
            sentence = f"You took {called}, whatever is given; {what} follows from the givens. {way.says()}"
            turn = sp.Integer(size)
            yield slip(2.3, f"always {size}", f"took {called}", sentence, 0.0, turn=turn)
    if mine.dimension == "number" and not mine.whole and not mine.signed:
        size = 100 if way.answer.shown_unit == "%" else 1
        sentence = f"You took {what} as if nothing changed it; it follows from the givens. {way.says()}"
        turn = sp.Integer(size)
        yield slip(2.3, f"always {size}", "as if nothing changed", sentence, 0.0, turn=turn)
