"""Stated numbers against their values: rounding as one does on paper, and the first that does not agree."""

from __future__ import annotations

import math

import numpy as np
import pytest
import sympy

from gearlab import agree


@pytest.mark.parametrize(
    "row",
    [
        (math.pi, 3.14),
        (math.pi, 3.142),
        (2.675, 2.68),  # half way: either way is how one rounds
        (2.675, 2.67),
        (0.499999, "0.50"),
        (31.5, 31.5),
        (5.0 + 1e-12, 5),
        (np.float64(2.5), 2.5),
        (np.int64(9), 9),
        (sympy.Rational(1, 3), 0.333),
        (sympy.sqrt(2), 1.4142),
        (-6.0, -6.0),
        (17.097, 17.1, 1),
        (52.33, 52.3, 0.05),
        (95.4, 95, 0),
        (True, True),
        (np.bool_(True), True),
        ("right", "right"),
        (1e-7, 1e-7),
    ],
)
def test_what_agrees(row, capsys):
    agree([row])
    assert capsys.readouterr().out == "1 number of this lesson agrees.\n"


@pytest.mark.parametrize(
    "row, told",
    [
        ((3.136, 3.14), None),
        ((math.pi, 3.15), "the lesson states 3.15, and it is 3.141592654"),
        ((0.494, "0.50"), "the lesson states 0.50, and it is 0.494"),
        ((95.4, 95), "the lesson states 95, and it is 95.4"),
        ((95.6, 95, 0), "the lesson states 95 to 0 decimal places, and it is 95.6"),
        ((52.36, 52.3, 0.05), "within 0.05"),
        ((6.0, -6.0), "states -6.0, and it is 6"),
        ((math.nan, 1.0), "it is nan"),
        ((math.inf, 1.0), "it is inf"),
        ((False, True), "states True, and it is False"),
        ((1, True), "states True"),
        ((0, False), "states False"),
    ],
)
def test_what_does_not(row, told):
    if told is None:
        agree([row])
        return
    with pytest.raises(AssertionError, match="^number 2 of 2: ") as caught:
        agree([(1, 1), row])
    assert told in str(caught.value)


@pytest.mark.parametrize(
    "rows", [[], [1.5], [(1.5,)], [(1, 1, 1, 1)], [(1.5, "x")], [(1.5, 1.5, -1)], [(1.5, 1.5, True)]]
)
def test_what_is_no_row(rows):
    with pytest.raises(ValueError):
        agree(rows)


def test_the_line(capsys):
    agree((number, number) for number in range(14))
    assert capsys.readouterr().out == "14 numbers of this lesson agree.\n"
