"""Rearranging one equation, and working out a number."""

import contextlib
import math

import pytest
import sympy as sp
from hypothesis import given
from hypothesis import strategies as st

from gearlab.theory.functions import arcinv, inv
from gearlab.theory.solving import (
    _UNTAUGHT,
    Effort,
    OutOfSteps,
    evaluate,
    isolate,
    may_be_solved,
    occurrences,
    roots,
    taught,
    terms,
    tidy,
)

a, b, c, x, y = sp.symbols("a b c x y", positive=True)


@pytest.mark.parametrize(
    ("right", "unknown", "expected"),
    [
        (a * b, b, x / a),
        (a + b, a, x - b),
        (a / b, b, a / x),
        (sp.sqrt(a), a, x**2),
        (a**2, a, sp.sqrt(x)),
        (sp.cos(a), a, sp.acos(x)),
        (sp.tan(a), a, sp.atan(x)),
        (inv(a), a, arcinv(x)),
        (a * sp.cos(b) + c, b, sp.acos((x - c) / a)),
    ],
)
def test_one_operation_after_another_is_undone(right, unknown, expected):
    world = {a: 0.7, b: 0.4, c: 0.2}
    world[x] = evaluate(right, world)
    found = isolate(x, right, unknown, [world])
    assert sp.simplify(found - expected) == 0


def test_a_quadratic_gives_the_root_of_the_world():
    residual = a**2 + b * a
    world = {a: 2.0, b: 3.0, x: 10.0}
    found = isolate(x, residual, a, [world])
    assert evaluate(found, world) == pytest.approx(2.0)
    negative = {sp.Symbol("r", real=True): -5.0, b: 3.0, x: 10.0}
    r = sp.Symbol("r", real=True)
    assert evaluate(isolate(x, r**2 + b * r, r, [negative]), negative) == pytest.approx(-5.0)


def test_what_cannot_be_undone_is_none():
    world = {a: 0.7, x: 0.7 + math.cos(0.7)}
    assert isolate(x, a + sp.cos(a), a, [world]) is None


@given(st.floats(0.1, 5), st.floats(0.1, 5), st.floats(0.1, 1.4))
def test_evaluate_against_sympy(one, two, three):
    expression = sp.sqrt(a * b) + sp.tan(c) / (a + b) - inv(c) * sp.Rational(5, 4) + sp.pi
    values = {a: one, b: two, c: three}
    assert evaluate(expression, values) == pytest.approx(
        float(expression.evalf(30, subs={k: sp.Float(v, 30) for k, v in values.items()})), rel=1e-12
    )


@pytest.mark.parametrize(
    ("expression", "values"),
    [(sp.acos(a), {a: 1.2}), (sp.sqrt(a - b), {a: 1.0, b: 2.0}), (1 / (a - b), {a: 1.0, b: 1.0})],
)
def test_no_real_value_raises(expression, values):
    with pytest.raises(ValueError):
        evaluate(expression, values)


def test_a_symbol_without_a_value_raises():
    with pytest.raises(KeyError):
        evaluate(a + b, {a: 1.0})


@given(st.integers(0, 5), st.integers(1, 5))
def test_tidy_changes_no_value(n, m):
    expression = (a / b + c / b) / 2 * n + (a**2 - b**2) / (a + b) * m
    values = {a: 1.3, b: 0.6, c: 2.2}
    assert evaluate(tidy(expression), values) == pytest.approx(evaluate(expression, values), rel=1e-12)
    assert sp.count_ops(tidy(expression)) <= sp.count_ops(expression)


def test_occurrences():
    assert occurrences(a * sp.cos(a) + b, a) == 2 and occurrences(b, a) == 0


# -- no algebra is unbounded ---------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("function", "exact"),
    [
        (sp.cot, 1 / math.tan(0.7)),
        (sp.sec, 1 / math.cos(0.7)),
        (sp.csc, 1 / math.sin(0.7)),
        (sp.acot, math.atan(1 / 0.7)),
        (sp.asec, None),
        (sp.acsc, None),
    ],
)
def test_functions_that_are_not_taught_are_written_otherwise(function, exact):
    expression = b * function(a) + sp.sqrt(function(a) + c)
    assert not taught(expression).atoms(*_UNTAUGHT)
    if exact is None:
        with pytest.raises(ValueError):  # arc cosine of 1/0.7
            evaluate(function(a), {a: 0.7})
    else:
        assert evaluate(function(a), {a: 0.7}) == pytest.approx(exact)
        assert float(taught(function(a)).subs(a, 0.7)) == pytest.approx(exact)


@pytest.mark.parametrize("expression", [sp.zoo, sp.nan, sp.oo * sp.I, sp.I, sp.Function("strange")(a)])
def test_what_is_no_number_is_refused(expression):
    with contextlib.suppress(ValueError):
        assert not math.isfinite(evaluate(expression, {a: 1.0}))


def test_a_long_equation_is_not_begun():
    long = sum((sp.Symbol(f"k{n}", positive=True) * a + b) ** 3 for n in range(40))
    effort = Effort(1000)
    assert isolate(long, x, a, [], effort) is None and effort.left == 1000
    wide = math.prod((a + sp.Symbol(f"k{n}", positive=True)) for n in range(12)) - x
    assert terms(wide) > 4000 and isolate(wide, sp.Integer(0), a, [], Effort()) is None


def test_out_of_steps():
    with pytest.raises(OutOfSteps):
        isolate(a**2 + b * a, x, a, [{a: 1.0, b: 2.0, x: 3.0}], Effort(3))


def test_both_roots_of_a_square_are_handed_on():
    # a^2 - 5 a + 6 = (a - 2)(a - 3)
    found = roots(a**2 + c, b * a, a, [{a: 2.0, b: 5.0, c: 6.0}])
    assert [evaluate(root, {b: 5.0, c: 6.0}) for root in found] == [2.0, 3.0]
    assert roots(a * b, c, a, [{a: 2.0, b: 3.0, c: 6.0}]) == (c / b,)


def test_what_cannot_be_solved_is_seen_beforehand():
    assert may_be_solved(a**2 + b * sp.sqrt(a + c), a) and may_be_solved(sp.sin(b) * a - c, a)
    assert not may_be_solved(sp.sin(a) + a, a) and not may_be_solved(sp.sqrt(a) + sp.sqrt(a + b) - c, a)
