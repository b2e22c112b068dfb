"""Small steps: each true, each short, and together they fix what they lead to."""

import math
import random
from functools import lru_cache

import pytest
import sympy as sp

from gearlab import derive
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.relations import ALL
from gearlab.theory.scope import FULL_TURN, KINDS, scope_for, symbol
from gearlab.theory.smallsteps import LETTERS, letter
from gearlab.theory.solving import evaluate
from gearlab.theory.systems import system

WITH_A_WAY = [relation for relation in ALL if relation.way]


def _scopes(relation):
    row = system("full depth", 20.0)
    for kind, about in KINDS.items():
        for features in (
            frozenset(),
            *({feature} for feature in sorted(about.features)),
            set(relation.needs),
        ):
            if features <= about.features:
                rows = (row, row) if len(about.sides) == 2 else (row,)
                for unit in ("mm", "in"):
                    scope = scope_for(kind, unit, rows, frozenset(features))
                    for equation in scope.equations:
                        if equation.relation is relation:
                            yield scope, equation


def _follow(scope, equation, numbers):
    """How far the steps are from true, with the letters of their own found on the way."""
    known, misses = dict(numbers), []
    waiting = [(left, right) for _, left, right in scope.small_steps(equation)]
    while waiting:
        unknown = [
            [s for s in (left.free_symbols | right.free_symbols) if s not in known] for left, right in waiting
        ]
        place = next((n for n, letters in enumerate(unknown) if len(letters) <= 1), None)
        assert place is not None, f"nothing fixes {unknown}"
        left, right = waiting.pop(place)
        if unknown[place]:
            values = [evaluate(root, known) for root in _roots(left, right, unknown[place][0])]
            positive = unknown[place][0].is_positive
            known[unknown[place][0]] = next(value for value in values if value > 0 or positive is None)
        else:
            ends = evaluate(left, known), evaluate(right, known)
            misses.append(abs(ends[0] - ends[1]) / max(1e-12, abs(ends[0]), abs(ends[1])))
    return misses


@lru_cache
def _roots(left, right, unknown):
    return sp.solve(sp.Eq(left, right), unknown)


def _numbers(scope, equation, chance):
    world = scope.worlds[0]
    if equation.relation.way.replaces:  # steps over other words: numbers of a real pair, which fit together
        return dict(world)
    for _ in range(50):
        numbers = {FULL_TURN: 2 * math.pi}
        for s in sorted(equation.right.free_symbols - {FULL_TURN}, key=str):
            numbers[s] = world[s] * chance.uniform(0.95, 1.1)
            if QUANTITIES[s.name].whole:
                numbers[s] = float(round(numbers[s]))
        try:
            numbers[equation.left] = evaluate(equation.right, numbers)
        except (ValueError, OverflowError):
            continue
        if isinstance(numbers[equation.left], float) and math.isfinite(numbers[equation.left]):
            return numbers
    raise AssertionError(f"no numbers for {equation.key}")


@pytest.mark.parametrize("relation", WITH_A_WAY, ids=lambda r: f"{r.left} {r.of}")
def test_small_steps_lead_to_their_relation_and_to_no_other(relation):
    chance, met = random.Random(relation.left), set()
    for scope, equation in _scopes(relation):
        if equation in met:
            continue
        met.add(equation)
        numbers = _numbers(scope, equation, chance)
        for word in relation.way.takes:
            term = scope.term(word, equation.side) if word not in LETTERS else letter(word)
            for s in sp.sympify(term).free_symbols - numbers.keys():
                numbers[s] = scope.worlds[0].get(s, 2.0) * chance.uniform(0.9, 1.2)
        misses = _follow(scope, equation, numbers)
        assert max(misses, default=0.0) < 1e-9, equation.key
        wrong = numbers | {equation.left: numbers[equation.left] * 1.01 + 1e-3}
        assert max(_follow(scope, equation, wrong), default=0.0) > 1e-6, f"any {equation.left} fits"
    assert met, f"no scope holds {relation.left}"


def test_every_step_is_short_enough_to_write_down():
    for relation in WITH_A_WAY:
        for scope, equation in _scopes(relation):
            for small, left, right in scope.small_steps(equation):
                assert sp.count_ops(left) + sp.count_ops(right) <= 22, (relation.left, left, right)
                assert small.says.endswith((".", ":")) and not small.asks or small.asks.endswith("?")


def test_a_letter_of_small_steps_is_no_symbol_of_another_thing():
    taken = {entry.symbol(notation) for entry in QUANTITIES.values() for notation in ("inch", "iso")}
    assert not taken & {entry.symbol for entry in LETTERS.values()}
    assert not QUANTITIES.keys() & LETTERS.keys()


def test_what_is_replaced_is_a_word_of_theory():
    for relation in WITH_A_WAY:
        assert all(symbol(word) for word in relation.way.replaces)
    assert derive("length_of_action", ["driver_teeth", "driven_teeth", "module", "pressure_angle"])
