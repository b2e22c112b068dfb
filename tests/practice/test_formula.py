"""Theory's expressions as plain functions of floats, against sympy's own evaluation."""

import math

import pytest
import sympy as sp

from gearlab.practice.formulas.formula import compile_outputs, compile_steps, source
from gearlab.theory.functions import arcinv, common_factor, inv
from gearlab.theory.scope import FULL_TURN, symbol

A, B = symbol("driver_teeth"), symbol("module")
EXPRESSIONS = [
    A * B,
    A / B,
    -A / B,
    (A + 2) * B,
    (A - sp.Rational(5, 2)) * B / 2,
    1 / B,
    A**2 / B**3,
    sp.sqrt(A**2 - B**2),
    sp.pi * A * B / 60000,
    B * sp.cos(sp.pi / 9),
    sp.acos(B / A),
    sp.Abs(B - A),
    sp.sin(B) ** 2,
    sp.Rational(1, 3) * A - sp.Rational(7, 3),
    A ** sp.Rational(3, 2),
    sp.floor(A / B),
    sp.ceiling(A / B),
    sp.tan(B) * 4 / A,
    sp.Max(A, B),
    sp.Float(0.38) * A,
    sp.atan(A),
    sp.asin(B / A),
]


@pytest.mark.parametrize("expression", EXPRESSIONS, ids=str)
def test_source_has_the_value_of_the_expression(expression):
    numbers = {A: 18.0, B: 2.3}
    mine = compile_outputs({"x": expression}, {"driver_teeth": 1.0, "module": 1.0})(18.0, 2.3)[0]
    assert mine == pytest.approx(float(expression.subs(numbers)), rel=1e-13)


def test_functions_of_the_trade():
    angle = symbol("pressure_angle")
    function = compile_outputs(
        {
            "x": inv(angle),
            "y": arcinv(inv(angle) + 0),
            "z": common_factor(A, symbol("driven_teeth")),
            "turn": FULL_TURN,
        },
        {"pressure_angle": math.pi / 180, "driver_teeth": 1.0, "driven_teeth": 1.0},
    )
    involute, back, factor, turn = function(20.0, 18.0, 45.0)
    assert involute == pytest.approx(0.0149043839, rel=1e-8)  # inv 20 deg, in every gear handbook
    assert (back, factor, turn) == (pytest.approx(math.radians(20)), 9, 2 * math.pi)


def test_units_come_in_through_factors():
    assert compile_outputs({"d": A * B}, {"driver_teeth": 1.0, "module": 25.4})(18.0, 0.1) == (
        pytest.approx(45.72),
    )


def test_what_cannot_be_written_is_refused():
    with pytest.raises(ValueError, match="Function"):
        source(sp.Function("Function")(A), {"driver_teeth": "x"})
    with pytest.raises(KeyError):
        source(A * B, {"driver_teeth": "x"})


def test_compiled_lines_see_no_builtins():
    with pytest.raises(NameError):
        compile_steps(["x"], [], ["open(x)"])("/etc/passwd")
