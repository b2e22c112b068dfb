"""Further ways to write right answers: minutes of arc, kilohertz, feet, signs in words, shares."""

import math

import pytest

from gearlab.practice.typed.reading import in_unit, read_number
from gearlab.practice.typed.wording import naming


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


# a foot has 12 inches, a mil is a thousandth of an inch, a kilogram-force 9.80665 N (NIST SP 811, appendix B)
@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("3' 4 1/2\"", "in", 40.5),
        ("3'-4 1/2\"", "in", 40.5),
        ("3'-4-1/2\"", "in", 40.5),
        ("3 ft 4 1/2 in", "in", 40.5),
        ("3' 1/2\"", "in", 36.5),
        ("0.5'", "in", 6.0),
        ("30'", "deg", 0.5),  # of arc
        ("125 mils", "in", 0.125),
        ("minus 45.5 rpm", "rpm", -45.5),
        ("n2 = negative 45.5", "rpm", -45.5),
        ("plus 45.5", "rpm", 45.5),
        ("10 kgf", "N", 98.0665),
        ("1500 mN*m", "N*m", 1.5),
        ("150 cm/s", "m/s", 1.5),
        ("1.5 meters/second", "m/s", 1.5),
        ("12 newtons per square millimetre", "MPa", 12.0),
        ("2.5x", "1", 2.5),
    ],
)
def test_feet_signs_in_words_and_units_in_words(text, unit, value):
    reading = read_number(text, unit)
    assert reading.ok, reading.problem
    assert in_unit(reading, unit) == pytest.approx(value)


@pytest.mark.parametrize("text", ["1 in 4", "1 out of 4", "2 of 8", "1 in every 4"])
def test_a_share_of_a_whole(text):
    reading = read_number(text, "%", naming("share_of_spaces"))
    assert reading.ok, reading.problem
    assert in_unit(reading, "%") == pytest.approx(25)


@pytest.mark.parametrize(
    ("text", "unit", "words"),
    [
        ("46.5 mm ± 0.1", "mm", "what it may be off by"),
        ("46.5 +/- 0.1 mm", "mm", "what it may be off by"),
        ("1 in 2.5", "1", "with a colon"),  # of a ratio: which way round?
        ("3' 14\"", "in", "too large"),
        ("11° -15'", "deg", ""),
        ("minus 45 cw", "rpm", "not both"),
        ("46.5x", "mm", "not a unit"),
    ],
)
def test_what_cannot_be_read_is_told(text, unit, words):
    reading = read_number(text, unit, naming("ratio") if unit == "1" else naming("centre_distance"))
    assert not reading.ok
    assert words in reading.problem
