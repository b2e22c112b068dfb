"""Further ways in which right answers are written: minutes of arc, kilohertz."""

import math

import pytest

from gearlab.practice.typed.reading import in_unit, read_number


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("90 arcmin", "deg", 1.5),  # sixty to a degree
        ("90 minutes of arc", "deg", 1.5),
        ("20 mrad", "deg", math.degrees(0.02)),
        ("0.065 kHz", "Hz", 65),
        ("0.065 kilohertz", "Hz", 65),
    ],
)
def test_small_angles_and_high_frequencies(text, unit, value):
    reading = read_number(text, unit)
    assert reading.ok, reading.problem
    assert in_unit(reading, unit) == pytest.approx(value)
