"""Single mistakes: every wrong way to write one expression, from a table of small makers of changes."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

import sympy as sp

from gearlab.practice.slips.change import (
    Change,
    across,
    is_quantity,
    meaning_of,
    plain_number,
    power_of_two_pi,
)
from gearlab.practice.slips.functions import FUNCTION_MAKERS
from gearlab.theory.functions import smaller
from gearlab.theory.quantities import QUANTITIES, known, split_side

__all__ = ["varied"]


@lru_cache(maxsize=2000)  # the same steps come in many questions
def varied(expression: sp.Expr, place: str) -> tuple[Change, ...]:
    """Every single mistake in an expression; `place` says where ("when working out the addendum")."""
    return tuple(_changes(expression, place))


def _changes(expression: sp.Expr, place: str) -> Iterator[Change]:
    functions = expression.atoms(sp.cos, sp.sin, sp.tan)
    angles = {part for function in functions for part in sp.preorder_traversal(function.args[0])}
    for node in sp.preorder_traversal(expression):
        top = node == expression
        for maker in _MAKERS:
            for change in maker(node, place, top):
                if node in angles and change.name == "pi left out":
                    continue  # who types 180 degrees by the count meets no pi
                yield change if top else replace(change, put=expression.xreplace({node: change.put}))


# -- sums ----------------------------------------------------------------------------------------------
def _coefficients_left_out(node: sp.Expr, place: str, _top: bool) -> Iterator[Change]:
    if not node.is_Add:
        return
    parted = [(term, *term.as_coeff_Mul()) for term in node.args]
    sizes = [abs(size) for _, size, _ in parted]
    shared = [
        (term, size, bare)
        for term, size, bare in parted
        if abs(size) != 1 and sizes.count(abs(size)) > 1 and bare != 1
    ]
    if not shared or len(shared) == len(parted):
        return
    what = " and the ".join(meaning_of(bare) for _, _, bare in shared)
    once = node + sum(sp.sign(size) * bare - term for term, size, bare in shared)
    yield Change(1.6, "coefficients", "left out a factor", _once(what, abs(shared[0][1]), place), 0.5, once)


def _once(what: str, size: sp.Expr, place: str) -> str:
    if size < 1:
        return f"Take only {'half' if 2 * size == 1 else 'a part'} of the {what}, not all of it, {place}."
    times = {2: "twice", 3: "three times", 4: "four times"}.get(size, "more than once")
    return f"Take the {what} {times}, not once, {place}."


def _sign_exchanged(node: sp.Expr, place: str, _top: bool) -> Iterator[Change]:
    if not node.is_Add:
        return
    for term in node.args:
        rest = node - term
        # the same size: d - 2a is said of the addendum, and of d only where the sign tells them apart
        large = across(term) and len(node.args) == 2 and not across(rest)
        sentence = f"You exchanged plus and minus at the {meaning_of(term)} {place}."
        rank = 1.75 if large else 1.7
        yield Change(rank, "sign", "plus and minus exchanged", sentence, 0.25, rest - term)


def _term_left_out(node: sp.Expr, place: str, _top: bool) -> Iterator[Change]:
    for term in node.args if node.is_Add else ():
        what = meaning_of(term)
        sentence, rest = f"You left out the {what} {place}.", node - term
        yield Change(1.9, "dropped", f"left out the {what}", sentence, 0.5, rest)
        if not rest.is_Add and rest.could_extract_minus_sign():  # 1 - x without the 1: nobody writes -x
            yield Change(1.95, "dropped, positive", f"left out the {what}", sentence, 0.5, -rest)


def _terms_left_out(node: sp.Expr, place: str, _top: bool) -> Iterator[Change]:
    """Two of several terms left out, or all but one."""
    if not node.is_Add or not 3 <= len(node.args) <= 6:
        return
    for two in itertools.combinations(node.args, 2):
        if len(node.args) == 3 and not is_quantity(node - sum(two)):
            continue
        what = " and the ".join(dict.fromkeys(meaning_of(term) for term in two))
        alike = len({frozenset(split_side(s.name)[1] for s in term.free_symbols) for term in two}) == 1
        sentence = f"You left out the {what} {place}."
        yield Change(
            2.25 - 0.3 * alike, "dropped two", f"left out the {what}", sentence, 0.25, node - sum(two)
        )
    for term in node.args if len(node.args) > 3 else ():
        what = meaning_of(term)
        sentence = f"You took the {what} alone {place}: more is added to it or taken off."
        yield Change(2.5, "one part alone", f"took the {what} alone", sentence, 0.25, term)


def _coefficient_wrong(node: sp.Expr, place: str, _top: bool) -> Iterator[Change]:
    for term in node.args if node.is_Add else ():
        rest, what = node - term, meaning_of(term)
        size, bare = term.as_coeff_Mul()
        if size in (1, -1):
            sentence = f"You counted the {what} twice {place}."
            yield Change(2.2, "counted twice", f"counted the {what} twice", sentence, 0.25, rest + 2 * term)
            sentence = f"You took only half of the {what} {place}."
            yield Change(3.1, "counted half", f"took half the {what}", sentence, 0.25, rest + term / 2)
        elif bare == 1:
            sentence = f"The number {plain_number(abs(size))} belongs there, not 1, {place}."
            yield Change(1.6, "coefficient", "a wrong number", sentence, 0.5, rest + sp.sign(size))
        else:
            once = rest + sp.sign(size) * bare
            turn = f"Take a {what}, not half a turn, {place}."
            sentence = turn if bare == sp.pi else _once(what, abs(size), place)
            yield Change(1.6, "coefficient", f"counted the {what} once", sentence, 0.5, once)
            if abs(size) == 2:
                sentence = f"Take the {what} twice {place}: at worst both add up, they do not partly cancel."
                put = rest + sp.sign(size) * sp.sqrt(2) * bare
                yield Change(2.6, "root of two", "combined like two sides", sentence, 0.25, put)


def _doubled_alike(node: sp.Expr, place: str, _top: bool) -> Iterator[Change]:
    """The terms of both gears counted twice: a diameter for each radius."""
    if not node.is_Add:
        return
    groups: dict[tuple, list] = {}
    for term in node.args:
        size, bare = term.as_coeff_Mul()
        if is_quantity(bare) and split_side(bare.name)[0]:
            groups.setdefault((size, split_side(bare.name)[1]), []).append(term)
    for (size, base), terms in groups.items():
        if len(terms) < 2 or len(terms) == len(node.args):
            continue
        what = QUANTITIES[terms[0].as_coeff_Mul()[1].name].meaning.split(" of ")[0]
        if abs(size) == 1:
            sentence = f"You counted each {what} twice {place}."
            put = node + sum(terms)
            yield Change(2.0, "counted both twice", f"counted each {what} twice", sentence, 0.25, put)
        if len(terms) > 2 or len(node.args) <= 2:
            continue
        sentence = f"You left out each {what} {place}."
        yield Change(2.0, f"dropped {base}", f"left out each {what}", sentence, 0.25, node - sum(terms))


def _like_a_triangle(node: sp.Expr, place: str, top: bool) -> Iterator[Change]:
    if node.is_Add and top and all(term.is_Symbol for term in node.args):
        sentence = f"You took the root of the sum of the squares: here they simply add up {place}."
        put = sp.sqrt(sum(term**2 for term in node.args))
        title = "combined like the sides of a right triangle"
        yield Change(1.95, "root of squares", title, sentence, 0.25, put)


def _product_for_sum(node: sp.Expr, place: str, top: bool) -> Iterator[Change]:
    """Sum, difference, mean and product of two like quantities exchanged."""
    if not (node.is_Add and len(node.args) == 2):
        return
    parts = [term.as_coeff_Mul() for term in node.args]
    sizes, bare = [size for size, _ in parts], [part for _, part in parts]
    if not all(map(is_quantity, bare)) or abs(sizes[0]) != abs(sizes[1]):
        return
    if QUANTITIES[bare[0].name].dimension == QUANTITIES[bare[1].name].dimension == "number":
        sentence = (
            f"You multiplied the {meaning_of(bare[0])} and the {meaning_of(bare[1])}; they add up {place}."
        )
        put = sizes[0] * bare[0] * bare[1]
        yield Change(2.0, "multiplied", "multiplied what has to be added", sentence, 0.25, put)
    if abs(sizes[0]) == 1 and sizes[0] == sizes[1]:
        sentence = f"You took the mean of the {meaning_of(bare[0])} and the {meaning_of(bare[1])} {place}."
        yield Change(2.4, "mean", "took the mean for the sum", sentence, 0.25, node / 2)


# -- products ------------------------------------------------------------------------------------------
def _factor_mistaken(node: sp.Expr, place: str, top: bool) -> Iterator[Change]:
    if node.is_Mul:
        factors = node.args
    elif top and (node.is_Pow or is_quantity(node)):
        factors = (node,)
    else:
        return
    for factor in factors:
        if factor.is_Rational:
            yield from _number_mistaken(node, factor, place)
        elif factor == sp.pi or factor == 1 / sp.pi:
            sentence = f"You left out the factor pi {place}."
            yield Change(1.6, "pi left out", "left out pi", sentence, 0.25, node / factor)
        else:
            yield from _quantity_mistaken(node, factor, place, top)


def _two_pi_left_out(node: sp.Expr, place: str, top: bool) -> Iterator[Change]:
    """Power for torque times speed in turns: the change of leaving them out of a whole formula."""
    power = power_of_two_pi(node) if top and node.is_Mul else 0
    if power:
        sentence = f"You left out the two pi radians of a turn {place}."
        yield Change(1.65, "two pi left out", "left out 2 pi", sentence, 0.25, node / (2 * sp.pi) ** power)


def _limit_mistaken(node: sp.Expr, place: str, _top: bool) -> Iterator[Change]:
    """The larger of two limits taken, where the smaller counts."""
    if isinstance(node, smaller):
        sentence = f"Two limits hold, and the smaller one counts: you took the larger {place}."
        yield Change(1.5, "larger limit", "took the larger limit", sentence, 0.25, sum(node.args) - node)


def _number_mistaken(node: sp.Expr, factor: sp.Expr, place: str) -> Iterator[Change]:
    size = abs(factor)
    if size == 1:
        return
    called = f"factor {plain_number(size)}"
    sentence = f"You left out the {called} {place}."
    without = node / factor * sp.sign(factor)
    yield Change(1.7, "number left out", "left out a number factor", sentence, 0.5, without)
    sentence = f"The {called} stands on the wrong side of the line {place}."
    plain = factor.p in (1, 2) and factor.q in (1, 2)
    title = "a number on the wrong side of the line"
    yield Change(2.35 if plain else 2.0, "number inverted", title, sentence, 0.25, node / factor / factor)
    for wrong in _OTHER_NUMBERS.get(size, ()):
        sentence = f"The factor there is {plain_number(size)}, not {plain_number(wrong)}, {place}."
        put = node / factor * wrong * sp.sign(factor)
        yield Change(
            2.3, f"{plain_number(wrong)} for {plain_number(size)}", "another number", sentence, 0.25, put
        )


# numbers of neighbouring rules: the height above the pitch circle for the depth below it, a half for a third
_HALF = sp.Rational(1, 2)
_OTHER_NUMBERS = {
    sp.Rational(5, 4): (sp.Integer(1),),
    sp.Rational(5, 2): (sp.Integer(2),),
    sp.Rational(9, 4): (sp.Integer(2),),
    sp.Integer(2): (sp.Rational(5, 2),),
    sp.Rational(1, 3): (_HALF,),
}


def _quantity_mistaken(node: sp.Expr, factor: sp.Expr, place: str, top: bool) -> Iterator[Change]:
    base = factor.base if factor.is_Pow else factor
    if base.is_Symbol and not known(base.name):
        sentence = "One turn is 360 degrees, or two pi radians."
        yield Change(2.4, "turn left out", "left out the full turn", sentence, 0.5, node / factor)
    if not is_quantity(base):
        return
    what = QUANTITIES[base.name].meaning
    nested = 0.0 if top else 0.6  # beside other terms the result would be of no one dimension
    below = factor.is_Pow and factor.exp.is_negative
    halved = node.is_Mul and len(node.args) == 2 and any(abs(part) in (2, _HALF) for part in node.args)
    lone = not top and node.is_Mul and len([part for part in node.args if not part.is_Number]) == 1
    if node.is_Symbol:
        sentence = f"You left out the {what} {place}."
        yield Change(1.9, f"without {base.name}", f"left out the {what}", sentence, 0.25, sp.Integer(1))
    elif not (halved or lone):  # half a diameter, a length of a sum: nobody turns these over
        title = f"{'multiplied' if below else 'divided'} by the {what}"
        does, did = ("Divide", "multiply") if below else ("Multiply", "divide")
        sentence = f"{does} by the {what}, do not {did} by it, {place}."
        put = node / factor / factor
        yield Change(1.6 + nested, f"inverted {base.name}", title, sentence, 0.25, put)
    if not (node.is_Symbol or halved):
        sentence = f"You left out the {what} {place}."
        put = node / factor
        yield Change(1.9 + nested, f"without {base.name}", f"left out the {what}", sentence, 0.25, put)


def _turned_over(node: sp.Expr, place: str, top: bool) -> Iterator[Change]:
    """A fraction of two like quantities upside down."""
    if not node.is_Mul:
        return
    above = [part for part in node.args if is_quantity(part)]
    below = [part.base for part in node.args if part.is_Pow and part.exp == -1 and is_quantity(part.base)]
    for upper, lower in itertools.product(above, below):
        alike = QUANTITIES[upper.name].dimension == QUANTITIES[lower.name].dimension
        if alike and (len(node.args) > 2 or not top):
            names = QUANTITIES[upper.name].meaning, QUANTITIES[lower.name].meaning
            sentence = f"The {names[0]} belongs above the line and the {names[1]} below it {place}."
            put = node / upper / upper * lower * lower
            yield Change(1.55, "turned over", "a fraction turned over", sentence, 0.5, put)


def _multiplied_for_divided(node: sp.Expr, place: str, _top: bool) -> Iterator[Change]:
    """The whole denominator put into the numerator."""
    if not node.is_Mul:
        return
    below = [part for part in node.args if part.is_Pow and part.exp.is_Number and part.exp < 0]
    if below and node.as_numer_denom()[1].free_symbols:
        whole = node.as_numer_denom()
        what = meaning_of(whole[1])
        sentence = f"Divide by the {what} with all that goes with it, do not multiply, {place}."
        put = whole[0] * whole[1]
        yield Change(2.2, "multiplied by all", "multiplied instead of dividing", sentence, 0.25, put)


def _numbers_left_out(node: sp.Expr, place: str, top: bool) -> Iterator[Change]:
    """Every number factor of a step left out at once."""
    if not top or node.is_Add:
        return
    plain = node.replace(
        lambda part: part.is_Mul and part.args[0].is_Rational,
        lambda part: part / abs(part.args[0]),
    )
    if plain != node:
        sentence = f"You left out the number factors {place}."
        yield Change(2.15, "numbers left out", "left out the number factors", sentence, 0.25, plain)


def _added_for_multiplied(node: sp.Expr, place: str, _top: bool) -> Iterator[Change]:
    if not (node.is_Mul and len(node.args) == 2 and all(map(is_quantity, node.args))):
        return
    if all(QUANTITIES[part.name].dimension == "number" for part in node.args):
        names = [meaning_of(part) for part in node.args]
        sentence = f"You added the {names[0]} and the {names[1]}; they multiply, {place}."
        yield Change(1.6, "added", "added what has to be multiplied", sentence, 0.25, sum(node.args))


# -- powers and roots ----------------------------------------------------------------------------------
def _power_mistaken(node: sp.Expr, place: str, _top: bool) -> Iterator[Change]:
    if not node.is_Pow or node.base.is_Number:
        return
    if node.exp in (2, -2):
        sentence = f"You left out the square {place}."
        put = sp.Pow(node.base, node.exp / 2)
        yield Change(1.75, "square left out", "left out the square", sentence, 0.5, put)
        sentence = f"The square belongs there, not the cube, {place}."
        put = sp.Pow(node.base, node.exp * 3 / 2)
        yield Change(2.3, "cube for square", "took the cube", sentence, 0.25, put)
    if node.exp in (3, -3):
        sentence = f"The cube belongs there, not the square, {place}."
        put = sp.Pow(node.base, node.exp * 2 / 3)
        yield Change(2.0, "square for cube", "took the square", sentence, 0.5, put)


def _root_mistaken(node: sp.Expr, place: str, _top: bool) -> Iterator[Change]:
    if not (node.is_Pow and node.exp == _HALF):
        return
    if node.base.is_Add and len(node.base.args) == 2:
        parted = [term.as_coeff_Mul() for term in node.base.args]
        legs = [sp.sign(size) * sp.sqrt(abs(size) * bare) for size, bare in parted]
        sentence = f"The sides of a right triangle are not added: their squares are, {place}."
        title = "added the sides of a right triangle"
        yield Change(1.85, "added the sides", title, sentence, 0.25, sum(legs))
    if node.base.is_Add and len(node.base.args) > 2 and all(term.is_Pow for term in node.base.args):
        legs = [sp.sqrt(term) for term in node.base.args]
        sentence = f"Square each of them, add the squares and take the root of the sum {place}: you took the"
        for called, put in (("mean", sum(legs) / len(legs)), ("root of the sum", sp.sqrt(sum(legs)))):
            yield Change(2.4, called, f"took the {called}", f"{sentence} {called}.", 0.25, put)
    sentence = f"You left out the square root {place}."
    yield Change(1.9, "root left out", "left out the square root", sentence, 0.5, node.base)
    sentence = f"The square root of a number is not half of it {place}."
    yield Change(2.0, "half for the root", "took half for the root", sentence, 0.25, node.base / 2)


# -- shares -------------------------------------------------------------------------------------------
def _wrong_base(node: sp.Expr, place: str, top: bool) -> Iterator[Change]:
    """A change as a share of the other one of the two: 1 - b/a for a/b - 1, and the reverse."""
    if not (top and node.is_Add and len(node.args) == 2 and node.args[0] in (1, -1)):
        return
    less = node.args[0] == 1
    if less and not node.args[1].could_extract_minus_sign():
        return  # one more, no share
    share = 1 - node if less else node + 1
    sentence = f"That is a share of the other one of the two {place}: of which one is it asked?"
    put = 1 / share - 1 if less else 1 - 1 / share
    yield Change(1.8, "wrong base", "took the share of the other one", sentence, 0.5, put)


_MAKERS = (
    *FUNCTION_MAKERS,
    _wrong_base,
    _coefficients_left_out,
    _sign_exchanged,
    _term_left_out,
    _coefficient_wrong,
    _doubled_alike,
    _terms_left_out,
    _product_for_sum,
    _factor_mistaken,
    _two_pi_left_out,
    _limit_mistaken,
    _turned_over,
    _multiplied_for_divided,
    _power_mistaken,
    _root_mistaken,
    _added_for_multiplied,
    _like_a_triangle,
    _numbers_left_out,
)
