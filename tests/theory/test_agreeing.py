"""A student's own line against the formula."""

import pytest
from sympy import Eq, Rational, Symbol, acos, cos, pi, sin, solve, sqrt, symbols, tan

from gearlab import derive
from gearlab.theory import symbols_of

PAIR = derive("centre_distance", ["driver_teeth", "driven_teeth", "diametral_pitch"])
LIMIT = derive("least_teeth_with_rack", ["pressure_angle"])


def test_what_solve_gives_agrees():
    a, z1, z2, m = symbols_of("a z1 z2 m", "iso")
    way = derive.using(notation="iso")("driven_teeth", ["centre_distance", "driver_teeth", "module"])
    by_hand = Eq(a, m * (z1 + z2) / 2)
    assert way.agrees(solve(by_hand, z2)) and way.agrees(solve(by_hand, z2)[0]) and way.agrees(by_hand)
    assert way.agrees(solve(by_hand, z2, dict=True))
    assert not way.agrees(solve(Eq(a, m * (z1 + z2)), z2))


def test_either_notation_and_plain_symbols_do():
    n1, n2, p = symbols("N1 N2 P")
    z1, z2 = symbols("z1 z2")
    assert PAIR.agrees((n1 + n2) / (2 * p)) and PAIR.agrees(0.5 * n1 / p + n2 / p / 2)
    assert PAIR.agrees((z1 + z2) / (2 * p)) and PAIR.agrees(PAIR.formula)


def test_angles_may_be_radians_or_degrees():
    phi, alpha = Symbol("phi"), Symbol("alpha")
    assert LIMIT.agrees(2 / sin(phi) ** 2) and LIMIT.agrees(2 / sin(alpha) ** 2)
    assert LIMIT.agrees(2 / sin(phi * pi / 180) ** 2) and LIMIT.agrees(LIMIT.formula)
    assert not LIMIT.agrees(2 / sin(phi)) and not LIMIT.agrees(2 / tan(phi) ** 2)
    opened = derive(
        "operating_pressure_angle", ["reference_centre_distance", "centre_distance", "pressure_angle"]
    )
    c, c0 = symbols("C C_0")
    assert opened.agrees(acos(c0 * cos(phi) / c)) and opened.agrees(opened.formula)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (..., "Not answered yet"),
        (None, "Not answered yet"),
        ((Symbol("N1") + Symbol("N2")) / Symbol("P"), "the formula gives 3."),
        (Symbol("N1") * Symbol("d2"), "pitch diameter of the driven gear"),
        (Symbol("qqq"), "letter qqq"),
        (Symbol("C"), "solve for it"),
        (Eq(Symbol("N1"), Symbol("N2")), "no centre distance"),
        (Eq(Symbol("C"), Symbol("N2")), "two sides are unlike"),
        ([], "no formula"),
        ("N1/P", "no formula"),
        (object(), "no formula"),
        (True, "no formula"),
        (3, "your line 3"),
        (
            1 / (Symbol("N1") - Symbol("N1") + 0 * Symbol("P")) if False else sqrt(-(Symbol("P") ** 2)),
            "no real number",
        ),
        (float("nan"), "Your line"),
    ],
)
def test_a_wrong_line_is_told_and_never_an_error(line, words):
    answer = PAIR.agrees(line)
    assert not answer and words in repr(answer)


def test_the_numbers_at_which_a_line_differs_are_told():
    n1, n2, p = symbols_of("N1 N2 P")
    told = repr(PAIR.agrees((n1 + n2) / p))
    stated = dict(part.split(" = ") for part in told.split("with ")[1].split(" the formula")[0].split(", "))
    half = (float(stated["N1"]) + float(stated["N2"])) / float(stated["P"].split()[0]) / 2
    assert abs(float(told.split("gives ")[1].split()[0]) - half) < 1e-3 * half
    assert abs(float(told.split("your line ")[1].split()[0]) - 2 * half) < 2e-3 * half


def test_a_sign_and_a_constant_are_seen():
    speed = derive("driven_speed", ["driver_teeth", "driven_teeth", "driver_speed"])
    n1, z1, z2 = symbols_of("n1 N1 N2")
    assert speed.agrees(-n1 * z1 / z2) and not speed.agrees(n1 * z1 / z2)
    depth = derive("whole_depth", ["module"])
    m = symbols_of("m")
    assert depth.agrees(Rational(9, 4) * m) and depth.agrees(2.25 * m) and not depth.agrees(2.2 * m)


def test_symbols_know_what_they_stand_for():
    assert symbols_of("m").is_positive and symbols_of("n1").is_real and symbols_of("n1").is_positive is None
    with pytest.raises(ValueError, match="unknown"):
        symbols_of("qqq")
