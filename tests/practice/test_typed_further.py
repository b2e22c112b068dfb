"""Further ways in which right answers are written: the stop of a sentence, minutes of arc, kilohertz."""

import math

import pytest

from gearlab.practice.typed.reading import in_unit, read_number


@pytest.mark.parametrize("text", ["3.75.", "= 3.75.", "It is 3.75.", "3.75 in.", ".75 * 5."])
def test_a_stop_behind_a_decimal_ends_a_sentence(text):
    assert read_number(text, "in").value == 3.75


@pytest.mark.parametrize("text", ["3.7.5", "3..75", "3.75..", "1.234.567,", "3.7.5."])
def test_two_points_within_a_number_stay_unread(text):
    reading = read_number(text, "in")
    assert not reading.ok or reading.value > 1000  # 1.234.567 parts thousands


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
