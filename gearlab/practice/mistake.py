"""Single mistakes: in one step of a derivation, or with its result."""

from __future__ import annotations

from dataclasses import dataclass, field

import sympy as sp

from gearlab.practice.cause import Cause
from gearlab.theory.functions import common_factor, inv, odd_factor
from gearlab.theory.quantities import QUANTITIES, Quantity

__all__ = ["Variation", "varied_result", "varied_steps"]

_NUMBER = "number"  # a term without any quantity in it


@dataclass(frozen=True)
class Variation:
    """One way to go wrong.

    Attributes
    ----------
    cause : Cause
        What to say about it.
    rank : float
        Lower is likelier.
    lines : tuple of (str, str)
        Name and source of each variable worked out anew; "@" stands for the number of the variation.
    result : str
        Source of the number that comes out.
    needs : frozenset of str
        Variables of the right derivation and of other quantities it rests on.
    scaled : bool
        Whether the result is in theory's unit (else in the unit asked).
    """

    cause: Cause
    rank: float
    lines: tuple = ()
    result: str = ""
    needs: frozenset = field(default=frozenset())
    scaled: bool = True


def _term(expression: sp.Expr) -> str:
    words = sorted(s.name for s in expression.free_symbols if s.name in QUANTITIES)
    return " and the ".join(QUANTITIES[word].meaning for word in words) or _NUMBER


def varied_steps(expression: sp.Expr, place: str):  # noqa: C901
    """Every single variation of a step: (rank, name, title, sentence, credit, expression)."""
    for node in sp.preorder_traversal(expression):
        if node.is_Add:
            parted = [(term, *term.as_coeff_Mul()) for term in node.args]
            shared = [
                (term, size, bare)
                for term, size, bare in parted
                if abs(size) != 1 and [abs(one[1]) for one in parted].count(abs(size)) > 1
            ]
            if shared and len(shared) < len(parted):
                what = " and the ".join(_term(bare) for _, _, bare in shared)
                all_once = node + sum(sp.sign(size) * bare - term for term, size, bare in shared)
                yield (
                    1.6,
                    "coefficients",
                    "left out a factor",
                    _once(what, abs(shared[0][1]), place),
                    0.5,
                    _swap(expression, node, all_once),
                )
            for term in node.args:
                rest = node - term
                what = _term(term)
                # the same size: d - 2a is said of the addendum, not of d
                if not (_across(term) and len(node.args) == 2 and not _across(rest)):
                    yield (
                        1.7,
                        "sign",
                        "plus and minus exchanged",
                        f"You exchanged plus and minus at the {what} {place}.",
                        0.25,
                        _swap(expression, node, rest - term),
                    )
                yield (
                    1.9,
                    "dropped",
                    f"left out the {what}",
                    f"You left out the {what} {place}.",
                    0.5,
                    _swap(expression, node, rest),
                )
                coefficient, bare = term.as_coeff_Mul()
                if coefficient not in (1, -1):
                    yield (
                        1.6,
                        "coefficient",
                        f"counted the {what} once",
                        _once(what, abs(coefficient), place),
                        0.5,
                        _swap(expression, node, rest + sp.sign(coefficient) * bare),
                    )
                else:
                    yield (
                        2.2,
                        "counted twice",
                        f"counted the {what} twice",
                        f"You counted the {what} twice {place}.",
                        0.25,
                        _swap(expression, node, rest + 2 * term),
                    )
                    yield (
                        3.1,
                        "counted half",
                        f"took half the {what}",
                        f"You took only half of the {what} {place}.",
                        0.25,
                        _swap(expression, node, rest + term / 2),
                    )
        elif node.is_Mul:
            for factor in node.args:
                yield from _factor_mistaken(expression, node, factor, place)
            yield from _turned_over(expression, node, place)
        elif node.is_Symbol and node == expression and node.name in QUANTITIES:
            what = QUANTITIES[node.name].meaning
            yield (
                1.9,
                f"without {node.name}",
                f"left out the {what}",
                f"You left out the {what} {place}.",
                0.25,
                sp.Integer(1),
            )
        elif node.is_Pow and node == expression:
            yield from _factor_mistaken(expression, node, node, place)
        if node.is_Pow and node.exp in (2, -2) and not node.base.is_Number:
            yield (
                1.75,
                "square left out",
                "left out the square",
                f"You left out the square {place}.",
                0.5,
                _swap(expression, node, sp.Pow(node.base, node.exp / 2)),
            )
        if node.is_Pow and node.exp == sp.Rational(1, 2) and node.base.is_Add and len(node.base.args) == 2:
            legs = [
                sp.sign(term.as_coeff_Mul()[0])
                * sp.sqrt(abs(term.as_coeff_Mul()[0]) * term.as_coeff_Mul()[1])
                for term in node.base.args
            ]
            yield (
                1.85,
                "added the sides",
                "added the sides of a right triangle",
                f"The sides of a right triangle are not added: their squares are, {place}.",
                0.25,
                _swap(expression, node, sum(legs)),
            )
        if node.is_Pow and node.exp == sp.Rational(1, 2):
            yield (
                1.9,
                "root left out",
                "left out the square root",
                f"You left out the square root {place}.",
                0.5,
                _swap(expression, node, node.base),
            )
        if (
            node.is_Mul
            and len(node.args) == 2
            and all(
                part.is_Symbol and part.name in QUANTITIES and QUANTITIES[part.name].dimension == "number"
                for part in node.args
            )
        ):
            yield (
                1.6,
                "added",
                "added what has to be multiplied",
                f"You added the {_term(node.args[0])} and the {_term(node.args[1])}; they multiply, {place}.",
                0.25,
                _swap(expression, node, sum(node.args)),
            )
        if isinstance(node, inv):
            yield (
                1.7,
                "tangent alone",
                "took the tangent for the involute function",
                (
                    "The involute function is the tangent less the angle itself, in radians: you took the"
                    f" tangent alone {place}."
                ),
                0.25,
                _swap(expression, node, sp.tan(node.args[0])),
            )
        if node.is_Add and node == expression and all(term.is_Symbol for term in node.args):
            yield (
                1.95,
                "root of squares",
                "combined like the sides of a right triangle",
                f"You took the root of the sum of the squares: here they simply add up {place}.",
                0.25,
                sp.sqrt(sum(term**2 for term in node.args)),
            )
        if isinstance(node, odd_factor):
            yield (
                1.7,
                "even count",
                "worked as for an even count",
                f"The count is odd: no two teeth, or spaces, lie straight across from each other {place}.",
                0.5,
                _swap(expression, node, sp.Integer(1)),
            )
        if isinstance(node, common_factor):
            yield (
                1.6,
                "common factor",
                "left out the common factor",
                "The two tooth counts share a factor, which has to be taken out.",
                0.5,
                _swap(expression, node, sp.Integer(1)),
            )
        elif isinstance(node, (sp.cos, sp.sin, sp.tan)):
            angle = node.args[0]
            for other, name in ((sp.sin, "sine"), (sp.cos, "cosine"), (sp.tan, "tangent")):
                if not isinstance(node, other):
                    yield (
                        1.9,
                        name,
                        f"took the {name}",
                        f"You took the {name} where the {_spoken(node)} belongs {place}.",
                        0.0,
                        _swap(expression, node, other(angle)),
                    )
            yield (
                1.9,
                "radian mode",
                "calculator in radian mode",
                "Your calculator read the angle as radians: switch it to degrees.",
                0.5,
                _swap(expression, node, type(node)(angle * 180 / sp.pi)),
            )
            yield (
                1.95,
                "function left out",
                f"left out the {_spoken(node)}",
                f"You left out the {_spoken(node)} {place}.",
                0.25,
                _swap(expression, node, sp.Integer(1)),
            )
            yield (
                2.4,
                "inverted function",
                "divided by it",
                f"The {_spoken(node)} has to stand on the other side of the line {place}.",
                0.25,
                _swap(expression, node, 1 / node),
            )


def _spoken(node) -> str:
    return {"sin": "sine", "cos": "cosine", "tan": "tangent"}[type(node).__name__]


def _across(expression: sp.Expr) -> bool:
    """Whether a diameter, a radius or a centre distance stands in it.

    What smaller lengths are added to or taken from.
    """
    return any(s.name.endswith(("diameter", "radius", "centre_distance")) for s in expression.free_symbols)


def _once(what: str, size, place: str) -> str:
    """What to say when a coefficient of that size was left out."""
    if what == _NUMBER:
        return f"A number that is added or taken off is not right {place}."
    return (
        f"Take the {what} {_times(size)}, not once, {place}."
        if size > 1
        else f"Take only {'half' if 2 * size == 1 else 'a part'} of the {what}, not all of it, {place}."
    )


def _times(size) -> str:
    return {2: "twice", 3: "three times", 4: "four times"}.get(size, "more than once")


def _factor_mistaken(expression, node, factor, place):
    if factor.is_Rational and abs(factor) != 1:
        yield (
            1.7,
            "number left out",
            "left out a number factor",
            f"You left out a number factor {place}.",
            0.5,
            _swap(expression, node, node / factor * sp.sign(factor)),
        )
        if factor.p not in (1, 2) or factor.q not in (1, 2):
            yield (
                2.0,
                "number inverted",
                "a number on the wrong side of the line",
                f"A number factor stands on the wrong side of the line {place}.",
                0.25,
                _swap(expression, node, node / factor / factor),
            )
        return
    if factor == sp.pi:
        yield (
            1.6,
            "pi left out",
            "left out pi",
            f"You left out a factor pi {place}.",
            0.25,
            _swap(expression, node, node / sp.pi),
        )
        return
    base = factor.base if factor.is_Pow else factor
    if not base.is_Symbol or base.name not in QUANTITIES:
        if base.is_Symbol:  # a full turn
            yield (
                2.4,
                "turn left out",
                "left out the full turn",
                "One turn is 360 degrees, or two pi radians.",
                0.5,
                _swap(expression, node, node / factor),
            )
        return
    if (
        node.is_Mul
        and len(node.args) == 2
        and any(part in (2, sp.Rational(1, 2), -sp.Rational(1, 2), -2) for part in node.args)
    ):
        return  # half a diameter, twice an addendum: nobody turns these over
    what = QUANTITIES[base.name].meaning
    nested = 0.0 if node == expression else 0.6  # beside other terms the result would be of no one dimension
    below = factor.is_Pow and factor.exp.is_negative
    yield (
        1.6 + nested,
        f"inverted {base.name}",
        f"{'multiplied by' if below else 'divided by'} the {what}",
        (
            f"{'Divide' if below else 'Multiply'} by the {what}, do not {'multiply' if below else 'divide'}"
            f" by it, {place}."
        ),
        0.25,
        _swap(expression, node, node / factor / factor),
    )
    yield (
        1.9 + nested,
        f"without {base.name}",
        f"left out the {what}",
        f"You left out the {what} {place}.",
        0.25,
        _swap(expression, node, node / factor),
    )


def _turned_over(expression, node, place):
    """A fraction of two like quantities upside down."""
    above = [part for part in node.args if part.is_Symbol and part.name in QUANTITIES]
    below = [
        part.base
        for part in node.args
        if part.is_Pow and part.exp == -1 and part.base.is_Symbol and part.base.name in QUANTITIES
    ]
    for one in above:
        for two in below:
            if QUANTITIES[one.name].dimension == QUANTITIES[two.name].dimension and (
                len(node.args) > 2 or node != expression
            ):
                names = QUANTITIES[one.name].meaning, QUANTITIES[two.name].meaning
                yield (
                    1.55,
                    "turned over",
                    "a fraction turned over",
                    f"The {names[0]} belongs above the line and the {names[1]} below it {place}.",
                    0.5,
                    _swap(expression, node, node / one / one * two * two),
                )


def _swap(expression, old, new):
    return new if expression == old else expression.xreplace({old: new})


def varied_result(mine: Quantity, key: str, out_factor: float, says: str, teeth: list[str]):
    """(rank, name, title, sentence, credit, source, whether in theory's unit) of every single mistake with
    the result.

    `key` is the variable of the right answer in theory's unit, `out_factor` takes it to the unit asked,
    `says` is the sentence of the last step, and `teeth` are the tooth counts among the givens.
    """
    name = mine.meaning

    def row(rank, short, title, sentence, credit, result, scaled=True):
        return rank, short, title, sentence, credit, result, scaled

    counted = 1.2 if mine.whole else 0.0  # a count is rarely upside down or off by pi
    yield row(
        1.1 + counted / 2,
        "twice",
        "twice as much",
        f"Your number is twice the {name}: a diameter for a radius, or something counted twice? {says}",
        0.5,
        f"({key} * 2.0)",
    )
    yield row(
        1.1 + counted / 2,
        "half",
        "half as much",
        f"Your number is half the {name}: a radius for a diameter, or one of two equal parts? {says}",
        0.5,
        f"({key} / 2.0)",
    )
    yield row(
        1.3 + counted,
        "upside down",
        "upside down",
        f"The {name} came out upside down: what has to stand above the line and what below? {says}",
        0.5,
        f"(1.0 / ({key} * {out_factor!r}))",
        False,
    )
    yield row(
        1.4 + counted,
        "pi too many",
        "a factor pi too much",
        f"There is a factor pi too many: along the circle or across it? {says}",
        0.25,
        f"({key} * 3.141592653589793)",
    )
    yield row(
        1.4 + counted,
        "pi missing",
        "a factor pi is missing",
        f"A factor pi is missing: along the circle or across it? {says}",
        0.25,
        f"({key} / 3.141592653589793)",
    )
    for power, much in ((10.0, "ten"), (100.0, "one hundred"), (1000.0, "one thousand")):
        yield row(
            2.6,
            f"times {power:g}",
            f"a factor of {much}",
            f"Your number is {much} times too large: look at the decimal point and the units.",
            0.5,
            f"({key} * {power})",
        )
        yield row(
            2.6,
            f"over {power:g}",
            f"a factor of {much}",
            f"Your number is {much} times too small: look at the decimal point and the units.",
            0.5,
            f"({key} / {power})",
        )
    if mine.dimension in ("length", "pitch", "linear speed"):
        yield row(
            2.4,
            "times 25.4",
            "inches and millimetres",
            "Your number looks as if inches had been converted the wrong way, or once too often: 25.4 times"
            " too large.",
            0.5,
            f"({key} * 25.4)",
        )
        yield row(
            2.4,
            "over 25.4",
            "inches and millimetres",
            "Your number looks as if inches and millimetres had been exchanged: 25.4 times too small.",
            0.5,
            f"({key} / 25.4)",
        )
    if mine.dimension in ("speed", "angular speed", "linear speed", "frequency", "angle", "turns", "time"):
        yield row(
            2.4,
            "times 60",
            "minutes and seconds",
            "Your number is sixty times too large: per minute or per second?",
            0.5,
            f"({key} * 60.0)",
        )
        yield row(
            2.4,
            "over 60",
            "minutes and seconds",
            "Your number is sixty times too small: per minute or per second?",
            0.5,
            f"({key} / 60.0)",
        )
    if mine.dimension == "linear speed":
        yield row(
            2.5,
            "times 12",
            "feet and inches",
            "Your number is twelve times too large: feet or inches?",
            0.5,
            f"({key} * 12.0)",
        )
    if mine.dimension in ("angle", "angular speed", "turns", "speed"):
        yield row(
            2.5,
            "over 2 pi",
            "turns and radians",
            "One turn is two pi radians: a factor of two pi is missing.",
            0.5,
            f"({key} / 6.283185307179586)",
        )
        yield row(
            2.5,
            "times 2 pi",
            "turns and radians",
            "One turn is two pi radians: there is a factor of two pi too many.",
            0.5,
            f"({key} * 6.283185307179586)",
        )
    if mine.dimension in ("angle", "turns"):
        yield row(2.5, "over 360", "turns and degrees", "One turn is 360 degrees.", 0.5, f"({key} / 360.0)")
    if mine.dimension == "number" and not mine.whole and "ratio" in mine.word:
        yield row(
            2.9,
            "one more",
            "one too many",
            "Your number is one too many: adding one belongs to a gear that is carried round another."
            f" {says}",
            0.0,
            f"({key} + 1.0)",
        )
        yield row(
            3.0, "one less", "one too few", f"Your number is one too few. {says}", 0.0, f"({key} - 1.0)"
        )
    for word in teeth if mine.dimension in ("count", "turns", "frequency") else ():
        what = QUANTITIES[word].meaning
        yield row(
            2.7,
            f"times {word}",
            f"multiplied by the {what}",
            f"Your number is the {name} multiplied by the {what}. {says}",
            0.5,
            f"({key} * t_{word})",
        )
        yield row(
            2.7,
            f"over {word}",
            f"divided by the {what}",
            f"Your number is the {name} divided by the {what}. {says}",
            0.5,
            f"({key} / t_{word})",
        )
    if mine.whole:
        yield row(
            2.9, "one more", "one too many", f"Your number is one too many. {says}", 0.25, f"({key} + 1.0)"
        )
        yield row(
            2.9, "one less", "one too few", f"Your number is one too few. {says}", 0.25, f"({key} - 1.0)"
        )
