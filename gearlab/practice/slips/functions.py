"""Mistakes with the functions of an angle: the wrong one, turned over, left out; rounding and counting."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import sympy as sp

from gearlab.practice.slips.change import Change, is_quantity, spoken
from gearlab.theory.functions import common_factor, inv, next_multiple, odd_factor, remainder

__all__ = ["FUNCTION_MAKERS"]


def _involute_mistaken(node: sp.Expr, place: str, top: bool) -> Iterator[Change]:
    if not isinstance(node, inv):
        return
    sentence = (
        "The involute function is the tangent less the angle itself, in radians: you took the tangent alone"
        f" {place}."
    )
    title = "took the tangent for the involute function"
    yield Change(1.7, "tangent alone", title, sentence, 0.25, sp.tan(node.args[0]))
    sentence = f"The angle is taken off the tangent, not added to it, {place}."
    put = sp.tan(node.args[0]) + node.args[0]
    yield Change(1.9, "angle added", "added the angle to the tangent", sentence, 0.25, put)
    sentence = f"The involute function takes the tangent of the angle, not the sine, {place}."
    put = node.args[0] - sp.sin(node.args[0])
    yield Change(2.2, "sine in the involute", "took the sine", sentence, 0.25, put)
    degrees = node.args[0] * 180 / sp.pi
    sentence = "Your calculator read the angle as radians: switch it to degrees."
    for angle in (degrees, node.args[0]) if top else ():
        put = sp.tan(degrees) - angle
        yield Change(2.1, "radian mode", "calculator in radian mode", sentence, 0.5, put)


def _counts_mistaken(node: sp.Expr, place: str, _top: bool) -> Iterator[Change]:
    if isinstance(node, odd_factor):
        # one of the two is the right way, by the count of the draw: only the other gives another number
        sentence = f"The count is odd: no two teeth, or spaces, lie straight across from each other {place}."
        yield Change(1.7, "even count", "worked as for an even count", sentence, 0.5, sp.Integer(1))
        sentence = f"The count is even: teeth, and spaces, lie straight across from each other {place}."
        put = sp.cos(sp.pi / 2 / node.args[0])
        yield Change(1.7, "odd count", "worked as for an odd count", sentence, 0.5, put)
    if isinstance(node, next_multiple):
        sentence = f"Rounded the other way {place}: ask which of the two still does what is wanted."
        yield Change(1.4, "rounded down", "rounded the other way", sentence, 0.5, node - node.args[1])
    if isinstance(node, remainder):
        sentence = f"That is how often it goes, not what is left over, {place}."
        whole, parts = node.args
        yield Change(1.8, "quotient", "took the quotient", sentence, 0.25, whole / parts)
        yield Change(1.8, "whole quotient", "took the quotient", sentence, 0.25, (whole - node) / parts)
    if isinstance(node, common_factor):
        sentence = "The two tooth counts share a factor, which has to be taken out."
        yield Change(1.6, "common factor", "left out the common factor", sentence, 0.5, sp.Integer(1))


def _function_mistaken(node: sp.Expr, place: str, _top: bool) -> Iterator[Change]:
    if not isinstance(node, (sp.cos, sp.sin, sp.tan)):
        return
    angle, mine = node.args[0], spoken(node)
    for other in (sp.sin, sp.cos, sp.tan):
        if not isinstance(node, other):
            name = spoken(other(sp.Symbol("angle")))
            sentence = f"You took the {name} where the {mine} belongs {place}."
            yield Change(1.9, name, f"took the {name}", sentence, 0.0, other(angle))
    sentence = "Your calculator read the angle as radians: switch it to degrees."
    put = type(node)(angle * 180 / sp.pi)
    yield Change(1.9, "radian mode", "calculator in radian mode", sentence, 0.5, put)
    sentence = f"You left out the {mine} {place}."
    yield Change(1.95, "function left out", f"left out the {mine}", sentence, 0.25, sp.Integer(1))
    sentence = f"The {mine} has to stand on the other side of the line {place}."
    yield Change(2.4, "inverted function", "divided by it", sentence, 0.25, 1 / node)
    if isinstance(node, sp.tan):
        sentence = f"You took the involute function where the tangent belongs {place}."
        yield Change(2.1, "involute for tangent", "took the involute function", sentence, 0.25, inv(angle))


def _legs_added(node: sp.Expr, place: str, _top: bool) -> Iterator[Change]:
    """The long side of a right triangle taken for the sum of the other two: x (1 + tan) for x / cos."""
    if node.is_Pow and node.exp == -1 and isinstance(node.base, sp.cos):
        sentence = f"The sides of a right triangle are not added: their squares are, {place}."
        put = 1 + sp.tan(node.base.args[0])
        yield Change(1.9, "legs added", "added the sides of a right triangle", sentence, 0.25, put)


def _inverse_mistaken(node: sp.Expr, place: str, top: bool) -> Iterator[Change]:
    if not isinstance(node, (sp.acos, sp.asin, sp.atan)):
        return
    inside, mine = node.args[0], spoken(node)
    upper, lower = inside.as_numer_denom()
    for other in (sp.asin, sp.acos, sp.atan):
        if not isinstance(node, other):
            name = spoken(other(sp.Symbol("inside")))
            sentence = f"You took the {name} where the {mine} belongs {place}."
            yield Change(1.95, name, f"took the {name}", sentence, 0.25, other(inside))
            if lower != 1:
                sentence = f"Another pair of sides, and with it the {mine}, belongs there {place}."
                put = other(lower / upper)
                yield Change(2.6, f"{name}, turned over", f"took the {name}", sentence, 0.0, put)
    sentence = f"You took the ratio of the sides for the angle itself: its {mine} is needed {place}."
    yield Change(2.0, "inverse left out", f"left out the {mine}", sentence, 0.25, inside)
    if top:  # as a plain number, no angle at all
        yield Change(2.0, "inside alone", f"left out the {mine}", sentence, 0.25, inside * sp.pi / 180)
    if lower != 1:
        sentence = f"What stands inside the {mine} is upside down {place}."
        yield Change(
            1.95, "inside turned over", "a fraction turned over", sentence, 0.25, type(node)(lower / upper)
        )
    sides = [part for part in (upper, lower) if part != 1]
    if isinstance(node, sp.atan) and all(map(is_quantity, sides)):
        sentence = f"An angle is not shared out in proportion to the sides: its tangent is {place}."
        title, put = "took it in proportion", sp.pi / 2 * upper / (upper + lower)
        yield Change(2.1, "in proportion", title, sentence, 0.25, put)
    if isinstance(node, sp.acos) and upper.is_Add and len(upper.args) == 3:  # the law of cosines
        sides = [sp.sqrt(term) for term in upper.args if not term.could_extract_minus_sign()]
        sentence = f"There is no right angle in this triangle: it needs all three sides {place}."
        for side, other in itertools.permutations(sides, 2):
            yield Change(
                2.0, "right angle assumed", "assumed a right angle", sentence, 0.25, sp.acos(side / other)
            )
    functions = [part for part in inside.atoms(sp.Function) if isinstance(part, (sp.cos, sp.sin, sp.tan))]
    if len(functions) == 1:  # the angle in proportion: phi x for acos(x cos(phi))
        angle = functions[0].args[0]
        for share in (inside / functions[0], functions[0] / inside):
            sentence = f"The angle does not grow in proportion: its {spoken(functions[0])} changes {place}."
            title = "took it in proportion"
            yield Change(2.1, "in proportion", title, sentence, 0.25, angle * share)


def _half_the_triangle(node: sp.Expr, place: str, _top: bool) -> Iterator[Change]:
    """A chord taken for a leg: one inverse function of all of it in place of twice that of its half."""
    if not (node.is_Mul and len(node.args) == 2 and node.args[0] == 2 and isinstance(node.args[1], sp.asin)):
        return
    inside = 2 * node.args[1].args[0]
    sentence = f"A chord and two equal sides make no right angle: halve the triangle first {place}."
    for function in (sp.asin, sp.atan):
        put = function(inside)
        yield Change(1.9, "right angle assumed", "assumed a right angle", sentence, 0.25, put)


FUNCTION_MAKERS = (
    _half_the_triangle,
    _involute_mistaken,
    _counts_mistaken,
    _function_mistaken,
    _legs_added,
    _inverse_mistaken,
)
