"""Drawing numbers."""

import hashlib
import hmac
import math
from collections import Counter
from decimal import Decimal

import pytest

from gearlab.practice import BankError, load_bank
from gearlab.practice.draw import Grid, Stream, message, rounded

KEY = b"sixteen byte key"


def test_numbers_are_bytes_of_an_hmac():
    # Worked out here with the standard library alone.
    text = b"8:hand-out,10:homework-1,7:spacing,1:1,5:00123,1:0,0"
    block = hmac.new(KEY, text + b"#0", hashlib.sha256).digest()
    first, second = (int.from_bytes(block[i : i + 4], "big") for i in (0, 4))
    stream = Stream(KEY, message("hand-out", "homework-1", "spacing", 1, "00123", 0) + b"0")
    # neither is in the last, uneven part of 2**32
    assert [stream.below(13), stream.below(41)] == [first % 13, second % 41]


def test_a_key_of_any_length_goes_into_the_hmac():
    for key in (b"", b"short", KEY, b"x" * 64, b"y" * 65, bytes(range(200))):
        block = hmac.new(key, b"2:ab,#0", hashlib.sha256).digest()
        numbers = [int.from_bytes(block[i : i + 4], "big") % 2**16 for i in range(0, 32, 4)]
        stream = Stream(key, message("ab"))
        assert [stream.below(2**16) for _ in range(8)] == numbers, key
        block = hmac.new(key, b"2:ab,#1", hashlib.sha256).digest()
        assert stream.below(2**16) == int.from_bytes(block[:4], "big") % 2**16, key


def test_draw_of_a_question_is_that_stream(vent):
    draw = vent.draw(key=KEY, set="homework-1", student="00123")
    stream = Stream(
        KEY, message("hand-out", "homework-1", "spacing", 1, "00123", 0) + b"%d" % (draw.tries - 1)
    )
    assert draw.texts == {
        "driver_teeth": str(18 + stream.below(13)),
        "driven_teeth": str(32 + stream.below(41)),
        "module": ["1.5", "2", "2.5", "3"][stream.below(4)],
    }


def test_values_beyond_the_last_whole_round_are_left_out():
    class Told(Stream):
        def __init__(self, numbers):
            super().__init__(b"k", b"m")
            self._numbers = iter(numbers)

    assert Told([2**32 - 1, 5]).below(3) == 2  # 2**32 - 1 is a multiple of 3: the last value would favour 0
    assert Told([2**32 - 2, 5]).below(3) == (2**32 - 2) % 3


def test_no_value_is_favoured():
    counts = Counter(Stream(KEY, message("bias", number)).below(7) for number in range(14_000))
    # chi square with 6 degrees of freedom: 22.5 is passed once in a thousand (Abramowitz and Stegun, table
    # 26.8)
    assert sum((counts[i] - 2000) ** 2 / 2000 for i in range(7)) < 22.5


def test_messages_keep_their_parts_apart():
    assert (
        message("a", "bc") != message("ab", "c")
        and message("1", 1) == message(1, "1")
        and message("a,1:b") != message("a", "b")
    )
    assert message("é", "\ud800")  # any text at all


def test_shuffles():
    orders = Counter(tuple(Stream(KEY, message(number)).shuffled(3)) for number in range(6000))
    assert set(orders) == {(0, 1, 2), (0, 2, 1), (1, 0, 2), (1, 2, 0), (2, 0, 1), (2, 1, 0)}
    assert all(850 < count < 1150 for count in orders.values())


def test_depends_on_each_part_and_on_nothing_else(vent, bank_file):
    def numbers(question=vent, key=KEY, set="a", student="1", number=0):
        return tuple(question.draw(key=key, set=set, student=student, number=number).texts.values())

    base = numbers()
    assert numbers() == base
    for change in ({"key": b"another key, 16 b"}, {"set": "b"}, {"student": "2"}, {"number": 1}):
        assert numbers(**change) != base, change
    newer = load_bank(bank_file(('id = "spacing"', 'id = "spacing"\nversion = 2')))["spacing"]
    assert numbers(newer) != base
    renamed = load_bank(
        bank_file(
            ('title = "Spacing"', 'title = "Hole spacing"'),
            ("[question.givens]", "minutes = 7\n[question.givens]"),
        )
    )["spacing"]
    assert numbers(renamed) == base
    assert vent.draw(seed="a").texts == vent.draw(seed="a").texts != vent.draw(seed="b").texts


def test_key_must_be_a_key(vent):
    with pytest.raises(ValueError, match="at least 8"):
        vent.draw(key=b"short", set="a", student="1")


def test_grids_are_exact_decimals():
    assert Grid.steps(Decimal("2.01"), Decimal("4.46"), Decimal("0.07")).texts[:4] == (
        "2.01",
        "2.08",
        "2.15",
        "2.22",
    )
    assert Grid.steps(Decimal("-0.06"), Decimal("0.06"), Decimal("0.02")).texts == (
        "-0.06",
        "-0.04",
        "-0.02",
        "0",
        "0.02",
        "0.04",
        "0.06",
    )
    assert len(Grid.steps(Decimal("0.1"), Decimal("0.3"), Decimal("0.1"))) == 3


@pytest.mark.parametrize(
    "value, places, text",
    [
        (142.875, 2, "142.88"),
        (142.87499999999997, 2, "142.88"),
        (0.03125, 4, "0.0313"),
        (-0.125, 2, "-0.13"),
        (1.8, 4, "1.8000"),
        (-0.001, 2, "0.00"),
        (45, 0, "45"),
    ],
)
def test_rounding_a_half_goes_away_from_zero(value, places, text):
    assert rounded(value, places) == text


def test_what_is_shown_is_what_the_key_comes_from(bank_file):
    # A plate that was measured: the wheel's teeth follow from the distance as shown, rounded to one decimal.
    text = """
[bank]
title = "Plate"
lesson = "03"
[[question]]
id = "mate"
title = "Mate"
prompt = "Holes {centre_distance} mm apart, {driver_teeth} teeth of module {module} mm."
where = ["driver_teeth + driven_teeth < 90"]
[question.givens]
driver_teeth = { from = 18, to = 30, step = 1 }
driven_teeth = { from = 32, to = 72, step = 1, hidden = true }
module = { one_of = [1.25, 2.5] }
reading_error = { from = -0.04, to = 0.04, step = 0.02, hidden = true, local = true }
centre_distance = { derived = true, places = 1, plus = "reading_error" }
[[question.answers]]
asked = "driven_teeth"
"""
    question = load_bank(bank_file(text=text))["mate"]
    for number in range(60):
        draw = question.draw("plate", number)
        values = draw.values
        assert values["driver_teeth"] + values["driven_teeth"] < 90
        exact = (
            values["module"] * (values["driver_teeth"] + values["driven_teeth"]) / 2 + values["reading_error"]
        )
        assert (
            abs(values["centre_distance"] - exact) <= 0.0500001 and draw.texts["centre_distance"][-2] == "."
        )
        assert draw.keys[0] == math.floor(
            2 * values["centre_distance"] / values["module"] - values["driver_teeth"] + 0.5
        )
        assert [given.name for given in draw.givens] == ["driver_teeth", "module", "centre_distance"]
        assert set(draw.to_json()["givens"]) == {"driver_teeth", "module", "centre_distance"}
        assert draw.prompt.startswith(
            f"Holes {draw.texts['centre_distance']} mm apart, {draw.texts['driver_teeth']} teeth"
        )


def test_listed_slips_stay_three_tolerances_away(bank_file):
    # With module 1 the tip formula with "two millimetres" is the right one: such a draw must never come.
    path = bank_file(
        ("one_of = [1.5, 2, 2.5, 3]", "one_of = [1, 2]"),
        ('asked = "centre_distance"', 'asked = "driver_outside_diameter"'),
        ('formula = "module * (driver_teeth + driven_teeth)"', 'formula = "module * driver_teeth + 2"'),
    )
    question = load_bank(path)["spacing"]
    drawn = [question.draw("x", number) for number in range(40)]
    assert {draw.texts["module"] for draw in drawn} == {"2"}
    assert any(draw.tries > 1 for draw in drawn)


def test_a_copied_number_is_never_right(bank_file):
    # One driver turn of a pair of equal gears is one driven turn; equal gears are therefore left out.
    path = bank_file(
        ("from = 32, to = 72", "from = 18, to = 30"),
        ("module = { one_of = [1.5, 2, 2.5, 3] }", "driver_turns = { from = 1, to = 4, step = 1 }"),
        (" of module {module} mm", ", {driver_turns} turns"),
        ('asked = "centre_distance"\nunit = "mm"', 'asked = "driven_turns"\nsize_only = true'),
        ('formula = "module * (driver_teeth + driven_teeth)"', 'formula = "driver_teeth * 100"'),
    )
    question = load_bank(path)["spacing"]
    for number in range(60):
        draw = question.draw("x", number)
        assert draw.values["driver_teeth"] != draw.values["driven_teeth"] and draw.keys[0] > 0


def test_impossible_conditions_are_an_error_when_drawn(bank_file):
    path = bank_file(("[question.givens]", 'where = ["driver_teeth > driven_teeth"]\n[question.givens]'))
    with pytest.raises(BankError, match="none of 6000 draws is fair"):
        load_bank(path)["spacing"].draw("x")
