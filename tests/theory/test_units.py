"""Conversion of units, against their definitions."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlab.theory.units import UNITS, convert, factor, shown_unit, theory_unit, unit


# NIST Special Publication 811 (2008), appendix B: the inch is 25.4 mm and the foot 0.3048 m, both exact.
@pytest.mark.parametrize(
    ("value", "unit_from", "unit_to", "expected"),
    [
        (1, "in", "mm", 25.4),
        (1, "ft", "m", 0.3048),
        (1, "ft", "in", 12),
        (1, "1/in", "1/mm", 1 / 25.4),
        (1, "m", "cm", 100),
        (1, "ft/min", "m/s", 0.00508),
        (1, "in/min", "mm/s", 25.4 / 60),
        (1, "m/s", "m/min", 60),
        (1, "rpm", "rev/s", 1 / 60),
        (180, "deg", "rad", math.pi),
        (1, "min", "s", 60),
        (1, "Hz", "1/min", 60),
        (1, "rad/s", "rad/min", 60),
        (360, "deg/s", "rad/s", 2 * math.pi),
        (25, "%", "1", 0.25),
    ],
)
def test_conversions(value, unit_from, unit_to, expected):
    assert convert(value, unit_from, unit_to) == pytest.approx(expected, rel=1e-14)
    assert factor(unit_from, unit_to) * value == pytest.approx(expected, rel=1e-14)


@given(st.sampled_from(sorted(UNITS)), st.sampled_from(sorted(UNITS)), st.floats(-1e6, 1e6))
def test_there_and_back_or_refused(one, two, value):
    if UNITS[one].dimension == UNITS[two].dimension:
        assert convert(convert(value, one, two), two, one) == pytest.approx(value, rel=1e-12, abs=1e-300)
    elif not {UNITS[one].dimension, UNITS[two].dimension} <= {"count", "number", "turns"}:
        with pytest.raises(ValueError, match="measure different things"):
            convert(value, one, two)


def test_the_same_unit_changes_nothing():
    assert all(convert(0.1 + 0.2, name, name) == 0.1 + 0.2 for name in UNITS)


def test_arrays_keep_their_shape():
    assert convert(np.array([[1.0, 2.0]]), "in", "mm").tolist() == [[25.4, 50.8]]


def test_in_and_out_of_theory():
    assert convert(30, "s", theory_unit("time", "in")) == pytest.approx(0.5)  # theory counts minutes
    assert convert(1, "m/s", theory_unit("linear speed", "mm")) == pytest.approx(60_000)
    for dimension in (
        "length",
        "pitch",
        "angle",
        "speed",
        "linear speed",
        "angular speed",
        "time",
        "frequency",
    ):
        for length_unit in ("in", "mm"):
            shown = shown_unit(dimension, length_unit)
            inside = theory_unit(dimension, length_unit)
            assert convert(convert(1.7, shown, inside), inside, shown) == pytest.approx(1.7)
            assert unit(inside).dimension == dimension


def test_unknown_units_are_refused():
    with pytest.raises(ValueError, match="unit 'furlong' is unknown; known units: mm"):
        unit("furlong")
    for name, meant in (
        ("inch", "in"),
        ("MM", "mm"),
        ("millimeters", "mm"),
        ("degrees", "deg"),
        ("RPM", "rpm"),
    ):
        with pytest.raises(ValueError, match=f"unit '{name}' is unknown: write '{meant}'"):
            unit(name)
    with pytest.raises(ValueError, match="use 'in' or 'mm'"):
        theory_unit("length", "cm")
    with pytest.raises(ValueError, match="dimension 'colour' is unknown"):
        shown_unit("colour", "mm")
