"""How typed numbers are read."""

import itertools
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlab.digits import number_text, number_texts
from gearlab.practice.typed import reading
from gearlab.practice.typed.reading import in_unit, read_number
from gearlab.practice.typed.units import SPELLINGS
from gearlab.practice.typed.wording import naming
from gearlab.theory.units import UNITS

# What the grammar promises, typed by hand: text, unit asked, value, unit typed.
READ = [
    ("78.75", "mm", 78.75, ""),
    ("78,75", "mm", 78.75, ""),
    ("47,6 mm", "mm", 47.6, "mm"),
    ("1 234.5", "mm", 1234.5, ""),
    ("1\u2009234,5\u202fmm", "mm", 1234.5, "mm"),
    ("1\u00a0234\u00a0567", "1", 1234567, ""),
    ("1,234.5", "mm", 1234.5, ""),
    ("1.234,5", "mm", 1234.5, ""),
    ("315/4", "mm", 78.75, ""),
    ("3 1/2 in", "in", 3.5, "in"),
    ("-3 1/2", "in", -3.5, ""),
    ("3½\u2033", "in", 3.5, "in"),
    ("7.875e1", "mm", 78.75, ""),
    ("7.9·10^1", "mm", 79, ""),
    ("7.9x10^2", "mm", 790, ""),
    ("7,9 × 10²", "mm", 790, ""),
    ("2*10**3", "mm", 2000, ""),
    ("\u22126", "rpm", -6, ""),
    ("6 rpm cw", "rpm", -6, "rpm"),
    ("6 rpm clockwise", "rpm", -6, "rpm"),
    ("6 rpm counter-clockwise", "rpm", 6, "rpm"),
    ("6 rpm counter clockwise", "rpm", 6, "rpm"),
    ("6cw", "rpm", -6, ""),
    ("ccw 6 rpm", "rpm", 6, "rpm"),
    ("+6 rpm", "rpm", 6, "rpm"),
    ("10 1/in", "1/in", 10, "1/in"),
    ("10/in", "1/in", 10, "1/in"),
    ("10 in^-1", "1/in", 10, "1/in"),
    ("12.5 1/s", "Hz", 12.5, "Hz"),
    ("12.5 1/s", "rad/s", 12.5, "rad/s"),
    ("40 1/min", "rpm", 40, "rpm"),
    ("5 rev/min", "rpm", 5, "rpm"),
    ("20°", "deg", 20, "deg"),
    ("40 %", "%", 40, "%"),
    ("45T", "teeth", 45, "teeth"),
    ("2 turns", "turns", 2, "turns"),
    ("300 fpm", "ft/min", 300, "ft/min"),
    ("0.08 m", "mm", 0.08, "m"),
    ("12 inches.", "in", 12, "in"),
    ("C = 78.75 mm", "mm", 78.75, "mm"),
    ("n1/n2 = 2.5", "1", 2.5, ""),
    (".5", "mm", 0.5, ""),
    ("78.", "mm", 78, ""),
    ("０．５", "mm", 0.5, ""),
    ("12 345", "mm", 12345, ""),
    ("14÷5", "in", 2.8, ""),
    ("z₂ = 52", "teeth", 52, ""),
    ("centre distance = 78.75 mm", "mm", 78.75, "mm"),
    ("78.75 mm,", "mm", 78.75, "mm"),
    ("78.75 mm;", "mm", 78.75, "mm"),
    ("6 rpm (cw)", "rpm", -6, "rpm"),
    ("6 (counter-clockwise)", "rpm", 6, ""),
    ("206 ft per minute", "ft/min", 206, "ft/min"),
    ("10 teeth per inch", "1/in", 10, "1/in"),
    ("600 1/min", "Hz", 600, "1/min"),
    ("600 1/min", "rpm", 600, "rpm"),
    ("10 in⁻¹", "1/in", 10, "1/in"),
    ("15 min⁻¹", "rpm", 15, "rpm"),
    ("15 min-1", "rpm", 15, "rpm"),
    ("15.2 rad·s⁻¹", "rad/s", 15.2, "rad/s"),
    # what was refused before: working, brackets, about, mixed numbers with a hyphen
    ("about 78", "mm", 78, ""),
    ("~78", "mm", 78, ""),
    ("10²+1", "mm", 101, ""),
    ("3+4", "mm", 7, ""),
    ("(78.75)", "mm", 78.75, ""),
    ("3-1/2 in", "in", 3.5, "in"),
    ("5:2", "1", 2.5, ""),
    ("1'234.5", "mm", 1234.5, ""),
    ("1¹⁄₈", "in", 1.125, ""),
    ("-3-1/2", "in", -3.5, ""),
    ("5 - 3", "mm", 2, ""),
    ("20° 30′", "deg", 20.5, "deg"),
    ("1 ft 6 in", "in", 1.5, "ft"),
    ("1 min 30 s", "s", 1.5, "min"),
    ("1 h 30 min", "min", 1.5, "h"),
    ("2.5 pi", "mm", 7.853981633974483, ""),
    ("sqrt(2)/2", "mm", 0.7071067811865476, ""),
    ("6 cw rpm", "rpm", -6, "rpm"),
    ("36 km/h", "m/s", 36, "km/h"),
    ("0.2 GPa", "MPa", 0.2, "GPa"),
]


@pytest.mark.parametrize("text, unit, value, typed", READ)
def test_read(text, unit, value, typed):
    reading = read_number(text, unit)
    assert reading.problem == ""
    assert reading.value == pytest.approx(value, rel=1e-15)
    assert reading.unit == typed


REFUSED = [
    ("", "Nothing"),
    ("   ", "Nothing"),
    ("18 45", "one number"),
    ("18 and 45", "one number"),
    ("1:2", "one number"),
    ("2 : 5", "one number"),
    ("nan", "ordinary number"),
    ("inf", "ordinary number"),
    ("∞", "ordinary number"),
    ("9**9**9", "one number"),
    ("9" * 201, "too long"),
    ("9" * 60, "too many digits"),
    ("1e99", "too large"),
    ("1e999", "too large"),
    ("__import__('os')", "No number"),
    ("78.75 furlong", "furlong"),
    ("٣٫٥", "number"),
    ("1/0", "zero"),
    ("2 1/0", "zero"),
    ("5 6/3", "one number"),
    ("--5", "number"),
    ("1.2.3", "decimal point"),
    ("1,23,456", "decimal point"),
    ("1 2345", "one number"),
    ("-6 rpm cw", "not both"),
    ("6 mm cw", "direction"),
    ("½ of it", "not a unit"),
    ("78.75 mm mm", "not a unit"),
    ("1e", "not a unit"),
    ("0x1F", "one number"),
    ("2:5:1", "one number"),
    ("30/16 = 1.7", "do not agree"),
    ("30/16 =", "missing"),
    ("2 in * 3", "inside the working"),
    ("5/2π", "two things"),
    ("2*(1-7/8)", "two ways"),
    ("29/11/2026", "date"),
    ("sqrt(0-1)", "no value"),
    ("6 rpm cw ccw", "direction"),
    ("1_000", "one number"),
    ("\x00", "No number"),
    ("0/.:", "one number"),
    ("5/", "not a unit"),
    ("3 -1/2 in", "with spaces"),
    ("3-3/2 in", "with spaces"),
    ("78-79", "one number"),
    ("78-179", "with spaces"),
    ("(6 cw", "number"),
    ("78.75 = 78.75", "one number"),
    ("2 = C", "not a unit"),
]


@pytest.mark.parametrize("text, says", REFUSED)
def test_refused_with_a_sentence(text, says):
    reading = read_number(text, "mm")
    assert reading.value is None and not reading.ok and reading.echo == ""
    assert says in reading.problem and reading.problem.endswith(".")


def test_comma_before_three_digits_has_two_readings():
    for text, both in (
        ("1,234", [1.234, 1234]),
        ("-12,345 mm", [-12.345, -12345]),
        ("123,000", [123, 123000]),
    ):
        reading = read_number(text, "mm")
        assert [one.value for one in reading.alternatives] == pytest.approx(both)
        assert reading.value == pytest.approx(both[0])
    for text in ("0,234", "1234,567", "1,23", "1,2345", "1 234,567", "1.234", "1,234e1"):
        assert read_number(text, "mm").alternatives == ()


def test_echo_says_what_was_understood():
    assert read_number("78,75", "mm").echo == "read as 78.75 mm"
    assert read_number("3 1/8 in", "mm").echo == "read as 3.125 in"
    assert read_number("2.5", "1").echo == "read as 2.5"
    assert read_number("6 rpm cw", "rpm").echo == "read as -6 rpm"
    for text, unit, how in (
        ("1-7/8", "in", "1.875 in (a mixed number, 1 and 7/8)"),
        ("1 - 7/8", "in", "0.125 in (a subtraction, 1 - 7/8)"),
        ("5:2", "1", "2.5 (5 : 2, first over second)"),
        ("20°30'", "deg", "20.5 deg (20° 30′)"),
        ("5*3/2", "mm", "7.5 mm (worked out from 5*3/2)"),
        ("15/2 = 7.5 mm", "mm", "7.5 mm (“15/2” agrees)"),
        ("≈ 7.5", "mm", "7.5 mm (a rounded number)"),
        ("ans 7.5", "mm", "7.5 mm (without “ans”)"),
    ):
        assert read_number(text, unit).echo == f"read as {how}"
    ratio = naming("ratio", "ratio n_driver/n_driven")
    assert read_number("45:18", "1", ratio).echo == "read as 2.5 (45 : 18, driver turns : driven turns)"
    # where the question does not say which is taken over which, or asks for no ratio
    for names in (naming("ratio", "ratio", "What is the ratio?"), naming("contact_ratio")):
        assert "one number" in read_number("45:18", "1", names).problem


def test_last_place():
    assert [
        read_number(text, "mm").last_place for text in ("78.75", "78", "7.8e2", "315/4", "0,5", "1 234.50")
    ] == pytest.approx([0.01, 1, 10, 0, 0.1, 0.01])


def test_every_unit_of_theory_can_be_typed():
    spelled = set(SPELLINGS)
    assert spelled == set(UNITS)
    for name, forms in SPELLINGS.items():
        for form in forms:
            reading = read_number(f"12 {form}", name)
            assert (reading.value, reading.unit) == (12, name), form


@pytest.mark.parametrize(
    "text, asked, value, unit",
    [
        # forces: newtons of SI, pounds-force as the trade writes them
        ("304 N", "N", 304, "N"),
        ("304N", "N", 304, "N"),
        ("0,3 kN", "N", 0.3, "kN"),
        ("12 lbs", "lbf", 12, "lbf"),
        ("12 pounds", "lbf", 12, "lbf"),
        # torques: a product may be written with a point, a dot, a hyphen, a space or nothing between, pounds in  # noqa: E501
        # either order
        *[
            (f"7.24 {unit}", "N*m", 7.24, "N*m")
            for unit in ("N*m", "Nm", "N m", "N·m", "N⋅m", "N-m", "N.m", "newton metres", "newton-meters")
        ],
        ("7240 N·mm", "N*m", 7240, "N*mm"),
        ("7240 Nmm", "N*m", 7240, "N*mm"),
        *[
            (f"3 {unit}", "lbf*in", 3, "lbf*in")
            for unit in ("lbf·in", "lb in", "in-lb", "in lbf", "lb-in", "inch pounds", "pound-inches")
        ],
        *[
            (f"3 {unit}", "lbf*in", 3, "lbf*ft")
            for unit in ("lbf·ft", "ft-lbs", "ft·lbf", "lb-ft", "foot-pounds", "foot pounds")
        ],
        # micrometres with either mu, the sign U+00B5 and the letter U+03BC
        ("12.5 \u00b5m", "um", 12.5, "um"),
        ("12.5 \u03bcm", "um", 12.5, "um"),
        ("12.5 um", "mm", 12.5, "um"),
        ("12 microns", "mm", 12, "um"),
        # a warming of 20 degrees Celsius is one of 20 kelvins
        ("20 K", "K", 20, "K"),
        ("20 °C", "K", 20, "K"),
        ("20 deg C", "K", 20, "K"),
        # 70e-6 per kelvin, as a number of millionths or written out
        ("70", "1e-6/K", 70, ""),
        ("70 1e-6/K", "1e-6/K", 70, "1e-6/K"),
        ("70 µm/(m K)", "1e-6/K", 70, "1e-6/K"),
        ("70 ppm/K", "1e-6/K", 70, "1e-6/K"),
        ("70·10⁻⁶ /K", "1e-6/K", 70e-6, "1/K"),
        ("70e-6 1/K", "1e-6/K", 70e-6, "1/K"),
        ("7×10^-5 K⁻¹", "1e-6/K", 7e-5, "1/K"),
        # stresses and powers
        ("30 N/mm²", "MPa", 30, "MPa"),
        ("30 N/mm^2", "MPa", 30, "MPa"),
        ("4000 psi", "MPa", 4000, "psi"),
        ("0.5 kW", "W", 0.5, "kW"),
        ("1/2 hp", "hp", 0.5, "hp"),
        # a share
        ("2.5 %", "%", 2.5, "%"),
        ("2.5 percent", "%", 2.5, "%"),
    ],
)
def test_units_as_students_write_them(text, asked, value, unit):
    reading = read_number(text, asked)
    assert (reading.value, reading.unit, reading.problem) == (pytest.approx(value), unit, "")


@given(
    st.floats(min_value=-1e9, max_value=1e9, allow_nan=False),
    st.sampled_from(["mm", "in", "rpm", "1/in", "deg"]),
)
@settings(deadline=None, max_examples=300)
def test_round_trip(value, unit):
    text = number_text(value, 15)
    reading = read_number(f"{text} {unit}", unit)
    if "e" not in text:  # tiny numbers are not written by students
        assert reading.value == pytest.approx(value, rel=1e-12, abs=1e-12)


@given(st.text(max_size=250))
@settings(deadline=None, max_examples=700)
def test_any_text_is_read_or_refused(text):
    reading = read_number(text, "mm")
    assert (reading.value is None) == bool(reading.problem)


@given(st.text(alphabet="0123456789.,/ eE+-x*^()½mincwrp\u2212\u2009:'\"°", max_size=60))
@settings(deadline=None, max_examples=700)
def test_number_like_text_is_read_or_refused(text):
    reading = read_number(text, "rpm")
    assert (reading.value is None) == bool(reading.problem)
    if reading.value is not None:
        assert abs(reading.value) < 1e31


def test_never_slow(processor_time):
    for piece in (
        "9",
        " ",
        "1,",
        "1.",
        "(",
        "- ",
        "1 234 ",
        "w",
        "clockwise",
        "1/",
        "e1",
        "*10^",
        "\u2009",
        "½",
        "(",
        "((1)",
        "1 1/2",
        "1-1/2",
        "2:",
        "1=",
        "≈",
        "1 mm*",
        "sqrt(",
        "sin 1*",
        "pi",
        "1+",
        "1°1'",
        "1 in/",
        "to 1 ",
        "x1",
        "'111",
        "¹/₂",
        "a b",
    ):
        text = (piece * 250)[:200]
        assert processor_time(lambda: [read_number(text, "mm") for _ in range(20)]) < 0.2, piece
    endless = "9" * 5_000_000
    assert processor_time(lambda: read_number(endless, "mm")) < 0.1


def test_what_is_read_at_once_is_what_the_grammar_reads(monkeypatch):
    digits = (
        "0",
        "7",
        "18",
        "-18",
        "1234",
        "0.5",
        "0,5",
        "12,50",
        "12,3456",
        "1234,5",
        "12,345",
        "0,125",
        "9,",
    )
    units = ("", " mm", "mm", " in", "in", " rpm", "%", "°", " deg", " m/s", " N", " teeth", " x", " e")
    texts = ["".join(parts) for parts in itertools.product(digits, units, ("", " "))]
    asked = ("mm", "in", "rpm", "1", "deg")
    assert sum(bool(reading._PLAIN.fullmatch(text)) for text in texts) > len(texts) / 2
    at_once = [read_number(text, unit) for text in texts for unit in asked]
    monkeypatch.setattr(reading, "_PLAIN", re.compile("(?!)"))
    by_grammar = [read_number(text, unit) for text in texts for unit in asked]
    assert at_once == by_grammar


@settings(max_examples=200)
@given(st.lists(st.floats(-1e20, 1e20) | st.floats(-1e-3, 1e-3), min_size=1, max_size=6), st.integers(1, 15))
def test_several_numbers_are_written_as_each_alone(values, digits):
    assert number_texts(values, digits) == [number_text(value, digits) for value in values]


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("125 thou", "in", 0.125),  # a thousandth of an inch, as a machine shop says it (common practice)
        ("3125 thousandths", "in", 3.125),
        ("10 DP", "1/in", 10),
        ("1500 U/min", "rpm", 1500),  # Umdrehungen, as German name plates have it (common practice)
        ("157 sfm", "ft/min", 157),
        ("0.005 kN m", "N*m", 5),
        ("500 Ncm", "N*m", 5),
        ("400 oz-in", "lbf*in", 25),  # 16 ounces are a pound
        ("85 lb_f", "lbf", 85),
        ("2 h.p.", "hp", 2),
        ("78.75㎜", "mm", 78.75),
        ("1.5 ㎾", "W", 1500),
        ('"78.75"', "mm", 78.75),  # a cell of a CSV file
        ("'78.75", "mm", 78.75),  # text in a spreadsheet
        ("$78.75$", "mm", 78.75),
        ("**78.75 mm**", "mm", 78.75),
        ("5x10-2 mm", "mm", 0.05),  # the raised exponent was lost when it was copied
        ("5×10−2", "mm", 0.05),
        ("11½ in", "in", 11.5),
    ],
)
def test_shops_spreadsheets_and_copied_powers_are_read(text, unit, value):
    """What stands around a number, and the units of workshops (SP 811, appendix B, for their sizes)."""
    assert in_unit(read_number(text, unit), unit) == pytest.approx(value, rel=1e-9)


@pytest.mark.parametrize("text", ["1½½", "3½2", "78.75+-0.05", "78.75 +- 0.05", "5+-3", '"78.75', "$78.75"])
def test_a_tolerance_and_two_fractions_are_no_number(text):
    """78.75 give or take 0.05 is no subtraction, and half of a wrapping is none."""
    assert not read_number(text, "mm").ok


def test_working_is_no_lost_power():
    """A star, or a number that is no mantissa, is working."""
    assert read_number("5*10-2", "mm").value == 48
    assert read_number("12x10-2", "mm").value == 118
