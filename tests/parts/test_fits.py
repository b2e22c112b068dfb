"""Fits against the limits of ISO 286-2, and what is refused."""

import pytest

from gearlab.parts.published.fits import NAMED, fit
from gearlab.theory.units import convert

# ISO 286-2 (from memory): size, fit, upper and lower deviation of the hole, then of the shaft [um].
LIMITS = [
    (2, "H7/g6", 10, 0, -2, -8),
    (5, "H7/g6", 12, 0, -4, -12),
    (8, "H7/h6", 15, 0, 0, -9),
    (10, "H7/h6", 15, 0, 0, -9),
    (10, "H7/g6", 15, 0, -5, -14),
    (10, "H7/f7", 15, 0, -13, -28),
    (10, "H8/f7", 22, 0, -13, -28),
    (10, "H7/k6", 15, 0, 10, 1),
    (10, "H7/p6", 15, 0, 24, 15),
    (12, "H7/h6", 18, 0, 0, -11),
    (18, "H7/p6", 18, 0, 29, 18),
    (20, "H7/k6", 21, 0, 15, 2),
    (25, "H7/g6", 21, 0, -7, -20),
    (25, "H8/h7", 33, 0, 0, -21),
    (25, "H7/p6", 21, 0, 35, 22),
    (40, "H7/f7", 25, 0, -25, -50),
    (40, "H7/g6", 25, 0, -9, -25),
    (50, "H7/p6", 25, 0, 42, 26),
    (20, "H7/k8", 21, 0, 33, 0),
    # ANSI B4.2 preferred fits at 25 mm, tables 2 to 5 (from memory)
    (25, "H11/c11", 130, 0, -110, -240),
    (25, "H9/d9", 52, 0, -65, -117),
    (25, "H8/f7", 33, 0, -20, -41),
    (25, "H7/k6", 21, 0, 15, 2),
    (25, "H7/n6", 21, 0, 28, 15),
    (25, "H7/s6", 21, 0, 48, 35),
    (25, "H7/u6", 21, 0, 61, 48),
    (25, "F8/h7", 53, 20, 0, -21),
    (25, "G7/h6", 28, 7, 0, -13),
]


@pytest.mark.parametrize(("size", "name", "ES", "EI", "es", "ei"), LIMITS)
def test_the_limits_of_the_standard(size, name, ES, EI, es, ei):
    found = fit(name, size)
    assert [
        round(1000 * one, 6)
        for one in (found.hole_upper, found.hole_lower, found.shaft_upper, found.shaft_lower)
    ] == [ES, EI, es, ei]
    assert found.largest_clearance == pytest.approx(
        (ES - ei) / 1000
    ) and found.least_clearance == pytest.approx((EI - es) / 1000)


# ISO 286-1 (from memory): g, f and h leave clearance under an H hole, k may do either, p presses. Up to 3 mm
# H7/p6 may just leave some (a note of ANSI B4.2, from memory).
@pytest.mark.parametrize("size", [2, 5, 8, 10, 15, 25, 45])
def test_the_kind_of_a_fit(size):
    assert {fit(name, size).kind for name in ("running", "close running", "sliding")} == {"clearance"}
    assert fit("H7/k6", size).kind == "transition"
    assert fit("press", size).kind == ("transition" if size <= 3 else "interference")


# By hand for the 10 mm shafts of the roof vent: 15 + 9 = 24 micrometres at most, none at least.
def test_the_sliding_fit_of_the_roof_vent():
    slide = fit("sliding", 10.0)
    assert slide.name == NAMED["sliding"] == "H7/h6"
    assert (round(slide.largest_clearance, 6), slide.least_clearance) == (0.024, 0.0)


def test_inches_are_the_same_limits_converted():
    inch, mm = fit("H7/g6", 0.375, "in"), fit("H7/g6", 9.525)
    assert convert(inch.largest_clearance, "in", "mm") == pytest.approx(mm.largest_clearance)
    # 10 mm is still in the row that ends there
    assert fit("H7/h6", convert(10.0, "mm", "in"), "in").hole_upper == pytest.approx(convert(15, "um", "in"))


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (
            ("loose", 10),
            (
                "fit 'loose' is unknown: use one of running, close running, sliding, press, or letters such"
                " as H7/h6"
            ),
        ),
        (("H12/h12", 10), "fit 'H12/h12' is unknown"),
        (("P9/h9", 10), "fit 'P9/h9' is unknown.*holes D, E, F, G, H, JS of grades 6 to 11, shafts c to h"),
        (("sliding", 51), "size = 51 mm is out of range: give a number above 0 to 50 mm"),
        (("sliding", 0), "size = 0 mm is out of range"),
        (("sliding", 2.5, "in"), "size = 2.5 in is out of range: give a number above 0 to 1.9685 in"),
        (("sliding", 10, "cm"), "unit 'cm' is unknown"),
    ],
)
def test_what_is_refused(arguments, says):
    with pytest.raises(ValueError, match=says):
        fit(*arguments)


def _mean(low, high):
    return (low * high) ** 0.5


# ISO 286-1:1988, annex A (from memory): the formulas from which the tables were rounded; D is the geometric
# mean of a range of sizes, i = 0.45 D^(1/3) + 0.001 D the tolerance unit. A second route beside the table;
# up to 3 mm the standard rounded more freely.
RANGES = {6: (3, 6), 10: (6, 10), 18: (10, 18), 30: (18, 30), 50: (30, 50)}
STEPS = {5: 7, 6: 10, 7: 16, 8: 25, 9: 40, 10: 64, 11: 100}
NEAREST = {
    "d": lambda D: -16 * D**0.44,
    "e": lambda D: -11 * D**0.41,
    "f": lambda D: -5.5 * D**0.41,
    "g": lambda D: -2.5 * D**0.34,
    "n": lambda D: 5 * D**0.34,
}


@pytest.mark.parametrize("size", RANGES)
def test_the_table_is_its_formulas_rounded(size):
    D = _mean(*RANGES[size])
    unit = 0.45 * D ** (1 / 3) + 0.001 * D
    for grade, steps in STEPS.items():
        limits = fit(f"H{max(grade, 6)}/h{grade}", size)
        assert -1000 * limits.shaft_lower == pytest.approx(steps * unit, rel=0.05, abs=1.0)
    for letter, formula in NEAREST.items():
        limits = fit(f"H7/{letter}6", size)
        nearest = limits.shaft_lower if letter == "n" else limits.shaft_upper
        assert 1000 * nearest == pytest.approx(formula(D), rel=0.05, abs=1.0)
    seven, six = (1000 * fit(f"H{grade}/h6", size).hole_upper for grade in (7, 6))
    pressed = {letter: 1000 * fit(f"H7/{letter}6", size).shaft_lower for letter in "mprs"}
    assert pressed["m"] == pytest.approx(seven - six, abs=2.1)  # IT7 - IT6
    assert -4.1 <= pressed["p"] - seven <= 5  # IT7 + 0 to 5, rounded
    assert pressed["r"] == pytest.approx(_mean(pressed["p"], pressed["s"]), abs=1.0)
