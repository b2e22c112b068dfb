"""Verdicts: one test for each kind, and what goes with them.

The vent drive of these tests: 18 and 45 teeth of module 2.5 mm, centre distance 2.5 (18 + 45) / 2 = 78.75 mm;
numbers that other mistakes give are worked out by hand beside them.
"""

import functools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlab.contents import content_folder
from gearlab.practice import KINDS, load_bank

HEAD = '[bank]\ntitle = "Vent drive"\nlesson = "03"\n'
PAIR = """
[[question]]
id = "q"
of = "pair"
length_unit = "mm"
title = "T"
prompt = "P"
[question.givens]
driver_teeth = { one_of = [18] }
driven_teeth = { one_of = [45] }
"""
SPACING = (
    HEAD
    + PAIR
    + """
module = { one_of = [2.5] }
[[question.answers]]
asked = "centre_distance"
unit = "mm"
tolerance = { relative = 0.001, absolute = 0.01 }
points = 2
[[question.answers.slips]]
name = "nohalf"
title = "added the diameters"
formula = "module * (driver_teeth + driven_teeth)"
says = "Halve it: one radius of each gear."
credit = 0.5
"""
)
SPEED = (
    HEAD
    + PAIR
    + """
driver_speed = { one_of = [40] }
[[question.answers]]
asked = "driven_speed"
tolerance = { relative = 0.005 }
points = 2
"""
)


@pytest.fixture
def asked(bank_file):
    """Judges one text against a one-question bank."""

    def judge(text, bank=SPACING, answer=None, **options):
        question = load_bank(bank_file(text=bank))["q"]
        answer = answer or question.answers[0].id
        return question.judge(question.draw("x"), {answer: text}, **options)[answer]

    return judge


def test_not_answered(asked):
    for text in ("", "   ", "\u200b"):
        verdict = asked(text)
        assert (verdict.kind, verdict.points, verdict.out_of, verdict.read) == ("not answered", 0, 2, "")


def test_not_answered_when_missing(bank_file):
    question = load_bank(bank_file(text=SPACING))["q"]
    verdicts = question.judge(question.draw("x"), {"unknown": "3"})
    assert {name: verdict.kind for name, verdict in verdicts.items()} == {"centre_distance": "not answered"}


def test_cannot_read(asked):
    verdict = asked("more than 78.75")
    assert (verdict.kind, verdict.points) == ("cannot read", 0) and "number first" in verdict.sentence
    about = asked("about 78.75")
    assert (about.kind, about.read) == ("right", "read as 78.75 mm (without “about”)")
    assert asked("9**9**9").kind == asked("9" * 10_000).kind == "cannot read"


def test_right(asked):
    for text in ("78.75", "78,75 mm", "315/4", "78 3/4", "78.8", "7.875e1", "C = 78.75 mm"):
        verdict = asked(text)
        assert (verdict.kind, verdict.right, verdict.points) == ("right", True, 2), text
    assert asked("78,75").read == "read as 78.75 mm"
    assert asked("78.82").right and not asked("78.84").right  # tolerance 0.001 of 78.75 is 0.079


def test_right_in_another_unit_with_a_note(asked):
    verdict = asked("7.875 cm")
    assert (
        verdict.right
        and verdict.points == 2
        and verdict.note == "converted from cm to mm"
        and "Converted" in verdict.sentence
    )
    assert asked("3.1004 in").right  # 78.75 / 25.4


def test_wrong_sign_earns_half(asked):
    verdict = asked("16", SPEED)  # 40 * 18 / 45 = 16 rpm, the other way round
    assert (verdict.kind, verdict.points, verdict.right) == (
        "wrong sign",
        1,
        False,
    ) and "direction" in verdict.sentence
    assert asked("16 rpm cw", SPEED).kind == asked("-16", SPEED).kind == "right"
    assert asked("16 rpm ccw", SPEED).kind == "wrong sign"


def test_right_sign_earns_half_of_a_wrong_size(asked):
    assert asked("-23.7", SPEED).points == 1 and asked("23.7", SPEED).points == 0
    assert "sign is right" in asked("-23.7", SPEED).sentence


def test_a_sign_nobody_had_to_find_earns_nothing(asked, bank_file):
    bank = SPEED.replace("[40]", "[-40]")  # the driven gear turns at +16 rpm for everybody
    assert asked("+23.7", bank).points == 0 and asked("-16", bank).kind == "wrong sign"
    either = SPEED.replace("[40]", "[-40, 40]")
    question = load_bank(bank_file(text=either))["q"]
    for number in range(6):
        draw = question.draw("x", number)
        sign = "-" if draw.keys[0] < 0 else "+"
        assert question.judge(draw, {"driven_speed": f"{sign}23.7"})["driven_speed"].points == 1
    assert asked("-0", SPEED).points == asked("0", SPEED).points == 0


def test_a_length_has_no_sign(asked):
    verdict = asked("-78.75")
    assert (verdict.kind, verdict.points) == ("wrong sign", 1) and "has no sign" in verdict.sentence


def test_size_only_takes_either_sign(asked):
    bank = SPEED.replace("points = 2", "points = 2\nsize_only = true")
    assert asked("16", bank).right and asked("-16", bank).right and asked("16 rpm cw", bank).right


def test_wrong_unit(asked):
    inches = asked("3.1004")  # the distance in inches, no unit typed
    assert (inches.kind, inches.points, inches.causes[0].name) == (
        "wrong unit",
        1,
        "in in",
    ) and "78" not in inches.sentence
    named = asked("78.75 in")  # the right number with another unit behind it
    assert (named.kind, named.points) == ("wrong unit", 1.5)
    other = asked("78.75 rpm")
    assert (other.kind, other.points) == ("wrong unit", 1.5) and "rpm" in other.sentence
    neither = asked("50 rpm")
    assert (neither.kind, neither.points) == ("wrong unit", 0)


def test_close(asked):
    verdict = asked("78.9")  # 0.15 off, tolerance 0.079
    assert (verdict.kind, verdict.points) == ("close", 1.5) and "keep more digits" in verdict.sentence
    assert asked("79.05").kind != "close"


def test_another_quantity_names_the_gear(asked):
    verdict = asked("112.5")  # 45 * 2.5
    assert (verdict.kind, verdict.points) == ("another quantity", 0.5)
    assert (
        verdict.causes[0].name == "driven_pitch_diameter"
        and "pitch diameter of the driven gear" in verdict.sentence
    )
    assert "outside diameter of the driver" in asked("50").sentence  # 2.5 * 20
    assert "speed of the driver, which was given" in asked("-40", SPEED).sentence


def test_few_digits_in_another_unit_are_enough_for_a_cause(asked):
    assert asked("1.97 in").causes[0].name == "driver_outside_diameter"  # 50 mm are 1.9685 in


def test_listed_slip(asked):
    verdict = asked("157.5")
    assert (verdict.kind, verdict.points) == ("listed slip", 1)
    assert [cause.name for cause in verdict.causes] == [
        "nohalf"
    ] and verdict.sentence == "Halve it: one radius of each gear."
    off = asked("157.5", listed_slips=False)
    assert off.kind == "ordinary slip" and off.causes[0].name == "twice"


def test_listed_slip_comes_before_a_unit(asked):
    bank = SPACING.replace(
        '"module * (driver_teeth + driven_teeth)"', '"module * (driver_teeth + driven_teeth) / 2 / 25.4"'
    )
    assert asked("3.1004", bank).kind == "listed slip"
    assert asked("3.1004", bank, listed_slips=False).kind == "wrong unit"


def test_slip_only_where_it_applies(asked):
    bank = SPACING.replace("credit = 0.5", 'credit = 0.5\nwhere = ["module > 3"]')
    assert asked("157.5", bank).kind == "ordinary slip"


def test_ordinary_slips(asked):
    for text, name in (
        ("157.5", "twice"),
        ("39.375", "half"),
        ("83.75", "outside_diameter for pitch_diameter"),
        ("72.5", "root_diameter for pitch_diameter"),
        ("33.75", "sign (centre_distance)"),
        ("787.5", "times 10"),
        ("247.4", "pi too many"),
        ("12.6", "inverted module (pitch_diameter)"),
        ("31.5", "without module (pitch_diameter)"),
    ):
        # 2.5 (20 + 47) / 2, 2.5 (15.5 + 42.5) / 2, 2.5 (45 - 18) / 2, 10 C, pi C, (18 + 45) / 2 / 2.5, (18 +
        # 45) / 2
        verdict = asked(text, listed_slips=False)
        assert verdict.kind == "ordinary slip" and [cause.name for cause in verdict.causes] == [name], (
            text,
            verdict,
        )
        assert verdict.points < 2


def test_two_causes_are_both_named(asked):
    # 36 / 18 = 2: twice the ratio and the ratio applied twice are both 4.
    bank = HEAD + PAIR.replace("[45]", "[36]") + '[[question.answers]]\nasked = "ratio"\n'
    verdict = asked("4.000", bank)
    assert [cause.name for cause in verdict.causes][:2] == ["twice", "ratio twice"]  # the likelier first
    assert verdict.sentence.startswith("More than one slip leads to this number.")
    first, *more = verdict.sentence.split(" Or: ")
    assert "is twice the ratio" in first and any("applied the ratio twice" in other for other in more)
    assert verdict.points == max(cause.credit for cause in verdict.causes) * verdict.out_of > 0


def test_not_recognised_shows_the_method_and_not_the_number(asked):
    verdict = asked("61.3")
    assert (verdict.kind, verdict.points, verdict.causes) == ("not recognised", 0, ())
    assert "one pitch radius plus one pitch radius" in verdict.sentence and "78" not in verdict.sentence


def test_whole_numbers(asked):
    bank = (
        HEAD
        + PAIR.replace(
            "driven_teeth = { one_of = [45] }",
            "module = { one_of = [2.5] }\ncentre_distance = { one_of = [78.75] }",
        )
        + '[[question.answers]]\nasked = "driven_teeth"\nwhole = "nearest"\npoints = 2\n'
    )
    assert asked("45", bank).right and asked("45 teeth", bank).right and asked("45.0", bank).right
    verdict = asked("44.8", bank)
    assert (verdict.kind, verdict.points) == ("close", 1) and "whole number" in verdict.sentence
    assert asked("45 times", bank).right and asked("45 times", bank).note == ""
    assert asked("46", bank).kind != "right"
    assert asked("81", bank).causes[0].name == "sign (pitch_diameter)"  # 2 * 78.75 / 2.5 + 18


def test_a_comma_before_three_digits(asked):
    bank = SPACING.replace("one_of = [2.5]", "one_of = [50]")  # 50 (18 + 45) / 2 = 1575
    taken = asked("1,575", bank)
    assert not taken.right and "decimal comma" in taken.note
    assert asked("1,575", bank, readings={"centre_distance": 1}).right
    # 1.575
    small = SPACING.replace("one_of = [2.5]", "one_of = [0.05]").replace(
        "absolute = 0.01", "absolute = 0.001"
    )
    verdict = asked("1,575", small)
    assert verdict.right and "decimal comma" in verdict.sentence


def test_preferred_size(asked):
    bank = (
        HEAD
        + """
[[question]]
id = "q"
of = "gear"
title = "T"
prompt = "P"
[question.givens]
teeth = { one_of = [42] }
outside_diameter = { one_of = [110.1] }
[[question.answers]]
id = "estimate"
asked = "module"
unit = "mm"
[[question.answers]]
id = "preferred"
asked = "module"
unit = "mm"
preferred = "module"
tolerance = { absolute = 0.001 }
"""
    )
    assert asked("2.502", bank, "estimate").right  # 110.1 / 44
    assert asked("2.5", bank, "preferred").right
    verdict = asked("2.502", bank, "preferred")
    assert (verdict.kind, verdict.points) == ("close", 0.5) and "preferred sizes" in verdict.sentence
    assert asked("3", bank, "preferred").kind == "not recognised"


STEPS = (
    HEAD
    + PAIR
    + """
module = { one_of = [2.5] }
[[question.answers]]
asked = "driver_pitch_diameter"
unit = "mm"
[[question.answers]]
asked = "driven_pitch_diameter"
unit = "mm"
[[question.answers]]
asked = "centre_distance"
unit = "mm"
given = []
uses = ["driver_pitch_diameter", "driven_pitch_diameter"]
points = 2
"""
)


def test_error_carried_forward(bank_file):
    question = load_bank(bank_file(text=STEPS))["q"]
    draw = question.draw("x")
    verdicts = question.judge(
        draw, {"driver_pitch_diameter": "50", "driven_pitch_diameter": "112.5", "centre_distance": "81.25"}
    )
    assert [verdict.kind for verdict in verdicts.values()] == ["another quantity", "right", "right"]
    last = verdicts["centre_distance"]
    assert last.carried and last.points == 2 and "own earlier number" in last.sentence
    right = question.judge(
        draw, {"driver_pitch_diameter": "50", "driven_pitch_diameter": "112.5", "centre_distance": "78.75"}
    )["centre_distance"]
    assert right.right and not right.carried
    inch = question.judge(
        draw,
        {"driver_pitch_diameter": "1.9685 in", "driven_pitch_diameter": "112.5", "centre_distance": "81.25"},
    )["centre_distance"]
    assert inch.carried  # 50 mm, typed in inches
    missing = question.judge(draw, {"driver_pitch_diameter": "50", "centre_distance": "81.25"})[
        "centre_distance"
    ]
    assert missing.carried
    nothing = question.judge(
        draw, {"driver_pitch_diameter": "45", "driven_pitch_diameter": "112.5", "centre_distance": "81.25"}
    )["centre_distance"]
    assert not nothing.right


def test_earlier_answers_in_another_unit(bank_file):
    bank = STEPS.replace(
        'asked = "driver_pitch_diameter"\nunit = "mm"', 'asked = "driver_pitch_diameter"\nunit = "in"'
    )
    question = load_bank(bank_file(text=bank))["q"]
    draw = question.draw("x")
    assert draw.keys == pytest.approx((45 / 25.4, 112.5, 78.75))
    carried = question.judge(
        draw,
        {"driver_pitch_diameter": "1.9685", "driven_pitch_diameter": "112.5", "centre_distance": "81.25"},
    )["centre_distance"]
    assert carried.carried


def test_error_carried_forward_by_a_formula_of_the_bank(bank_file):
    bank = (
        HEAD
        + PAIR
        + """
[[question.answers]]
id = "first"
asked = "driver_teeth_lowest"
[[question.answers]]
id = "second"
asked = "driven_teeth_lowest"
carry = "first * driven_teeth / driver_teeth"
"""
    )
    question = load_bank(bank_file(text=bank))["q"]
    draw = question.draw("x")
    assert draw.keys == (2, 5)  # 18 : 45
    verdicts = question.judge(draw, {"first": "4", "second": "10"})
    assert not verdicts["first"].right and verdicts["second"].carried


EXPRESSION = (
    HEAD
    + PAIR.replace('title = "T"', 'title = "T"\nkind = "expression"')
    .replace("[18]", "[18, 19, 21, 25]")
    .replace("[45]", "[45, 46, 60]")
    + """
module = { one_of = [2, 2.5, 3] }
[[question.answers]]
asked = "centre_distance"
symbols = ["driver_teeth", "driven_teeth", "module"]
[[question.answers.slips]]
name = "nohalf"
title = "added the diameters"
formula = "module * (driver_teeth + driven_teeth)"
says = "Halve it."
credit = 0.5
"""
)


def test_expressions(asked):
    for text in ("m*(N1+N2)/2", "m N1/2 + m N2/2", "0.5 m (N_1 + N_2)", "(N1^2-N2^2)*m/(2*(N1-N2))"):
        assert asked(text, EXPRESSION).kind == "right", text
    assert asked("m(N1+N2)/2", EXPRESSION).read == "read as m*(N1 + N2)/2"
    assert asked("m*(N1+N2)", EXPRESSION).kind == "listed slip"
    assert asked("m*(N1+N2)", EXPRESSION, listed_slips=False).causes[0].name == "twice"
    assert asked("m*(N1+N2+4)/2", EXPRESSION).causes[0].name == "outside_diameter for pitch_diameter"
    assert asked("m*N2", EXPRESSION).kind == "another quantity"
    assert asked("m*N1*N2", EXPRESSION).kind == "not recognised"
    assert asked("78.75", EXPRESSION).kind == asked("0.5001 m (N1+N2)", EXPRESSION).kind == "not recognised"
    assert (
        asked("C", EXPRESSION).kind
        == asked("m*(N1+N2)/2P", EXPRESSION).kind
        == asked("9^9^9", EXPRESSION).kind
        == "cannot read"
    )
    assert asked("m/(N1-N1)", EXPRESSION).kind == "cannot read"
    assert asked("", EXPRESSION).kind == "not answered"


def test_signed_expressions(asked):
    bank = (
        EXPRESSION.replace("module = { one_of = [2, 2.5, 3] }", "driver_speed = { one_of = [20, 35, 40] }")
        .replace('"centre_distance"', '"driven_speed"')
        .replace('"module"', '"driver_speed"')
        .replace("module * (driver_teeth + driven_teeth)", "driver_speed")
    )
    assert asked("-n1*N1/N2", bank).right
    assert asked("n1*N1/N2", bank).kind == "wrong sign" and asked("n1*N1/N2", bank).points == 0.5
    assert asked("n1*N1/N2", bank.replace("symbols", "size_only = true\nsymbols")).right


CHOICE = (
    HEAD
    + """
[[question]]
id = "q"
kind = "choice"
title = "T"
prompt = "P"
points = 2
[[question.options]]
text = "the pitch circles"
right = true
says = "They roll."
[[question.options]]
text = "the tip circles"
says = "Tips reach past each other."
[[question.options]]
text = "the root circles"
"""
)


def test_choices(bank_file):
    question = load_bank(bank_file(text=CHOICE))["q"]
    orders = set()
    for number in range(12):
        draw = question.draw("x", number)
        orders.add(draw.order)
        by_text = {text: letter for letter, text in draw.options}
        for text in (
            by_text["the pitch circles"],
            by_text["the pitch circles"].upper() + ")",
            str(ord(by_text["the pitch circles"]) - 96),
        ):
            verdict = question.judge(draw, {"choice": text, "reason": "they roll"})["choice"]
            assert (verdict.kind, verdict.points, verdict.sentence) == ("right", 2, "Right. They roll.")
        wrong = question.judge(draw, {"choice": by_text["the tip circles"]})["choice"]
        assert (wrong.kind, wrong.points, wrong.causes[0].name, wrong.sentence) == (
            "listed slip",
            0,
            "option 2",
            "Tips reach past each other.",
        )
        assert (
            question.judge(draw, {"choice": by_text["the root circles"]})["choice"].sentence
            == "This one does not fit."
        )
        assert (
            question.judge(draw, {"choice": "a, b"})["choice"].kind
            == question.judge(draw, {"choice": "f"})["choice"].kind
            == "cannot read"
        )
        assert question.judge(draw, {})["choice"].kind == "not answered"
        assert question.keys(draw)["choice"].text == by_text["the pitch circles"]
    assert len(orders) > 2
    kept = load_bank(bank_file(text=CHOICE.replace("points = 2", "points = 2\nkeep_order = true")))["q"]
    assert {kept.draw("x", number).order for number in range(12)} == {(0, 1, 2)}


def test_several_right_options(bank_file):
    question = load_bank(
        bank_file(
            text=CHOICE.replace('text = "the root circles"', 'text = "the reference circles"\nright = true')
        )
    )["q"]
    assert question.answers[0].several
    draw = question.draw("x")
    letters = {text: letter for letter, text in draw.options}
    both = f"{letters['the pitch circles']}, {letters['the reference circles']}"
    assert question.judge(draw, {"choice": both})["choice"].right
    assert "not all" in question.judge(draw, {"choice": letters["the pitch circles"]})["choice"].sentence
    assert question.judge(draw, {"choice": "a b c"})["choice"].causes[0].name == "option 2"


def test_verdicts_are_plain_data(asked):
    data = asked("157.5").to_json()
    assert data["kind"] == "listed slip" and data["causes"][0]["name"] == "nohalf" and data["points"] == 1


@given(st.text(max_size=220))
@settings(deadline=None, max_examples=400)
def test_any_text_gets_a_verdict(text):
    for question, draw in _drawn():
        for verdict in question.judge(draw, {answer.id: text for answer in question.answers}).values():
            assert verdict.kind in KINDS and verdict.sentence and 0 <= verdict.points <= verdict.out_of
            assert verdict.right == (verdict.kind == "right")


@functools.cache
def _drawn():
    bank = load_bank(content_folder("exercises") / "04_ratio_speed_direction")
    chosen = [next(one for one in bank if one.kind == kind) for kind in ("number", "expression", "choice")]
    return [(question, question.draw("any text")) for question in chosen]


@pytest.mark.parametrize(
    "folder",
    ["01_teeth_and_diameter", "02_pitch_and_proportions", "03_centre_distance", "04_ratio_speed_direction"],
)
def test_feedback_never_holds_the_number_asked(folder):
    import re

    for question in load_bank(content_folder("exercises") / folder):
        if question.kind != "number":
            continue
        for number in range(3):
            draw = question.draw("feedback", number)
            for answer, key in zip(question.answers, draw.keys):
                if abs(key) < 13:
                    # small whole numbers stand in sentences for other reasons ("one addendum", "1/P", "14.5
                    # degree")
                    continue
                for factor in (2, 0.5, 3.14159265, 0.83, 1.27, 25.4, 10, -1):
                    verdict = question.judge(draw, {answer.id: f"{key * factor:.6g}"})[answer.id]
                    if verdict.right or verdict.kind == "cannot read":
                        continue
                    said = verdict.sentence.replace(verdict.read, "")
                    assert not {f"{abs(key):.{digits}g}" for digits in (3, 4, 5, 6)} & set(
                        re.findall(r"\d+(?:\.\d+)?", said)
                    ), (question.id, verdict)
