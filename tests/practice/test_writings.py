"""One right answer in the ways students write it, and wrong ones that look like it, over every number
question.

The right numbers are the draw's keys, which test_worked_answers.py holds against closed forms by
another route.
"""

from decimal import Decimal

import pytest

from gearlab.contents import content_folder
from gearlab.practice import load_bank
from gearlab.practice.typed.units import SPELLINGS

FOLDERS = sorted(path.parent for path in content_folder("exercises").glob("[0-9]*/bank.toml"))
QUESTIONS = [question for folder in FOLDERS for question in load_bank(folder) if question.kind == "number"]
WIDE = {ord(one): ord(one) + 0xFEE0 for one in "0123456789.,-"}  # full-width forms
RAISED = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
# How many of the second make one of the first (NIST SP 811, appendix B: 1 in = 25.4 mm, 1 ft = 0.3048 m,
# exact).
CONVERSIONS = {
    ("mm", "in"): 1 / 25.4,
    ("mm", "cm"): 0.1,
    ("in", "mm"): 25.4,
    ("rpm", "rev/s"): 1 / 60,
    ("m/s", "mm/s"): 1000,
    ("ft/min", "in/min"): 12,
    ("deg", "rad"): 3.14159265358979 / 180,
    ("Hz", "1/min"): 60,
    ("1/in", "1/mm"): 1 / 25.4,
    ("N*m", "N*mm"): 1000,
    ("N", "kN"): 0.001,
    ("um", "mm"): 0.001,
    ("mm", "um"): 1000,
}


def digits(value, count):
    return f"{Decimal(f'{value:.{count - 1}e}'):f}"


def grouped(text, mark):
    whole, _, tail = text.lstrip("-").partition(".")
    return "-" * text.startswith("-") + f"{int(whole):,}".replace(",", mark) + ("." + tail if tail else "")


def right_writings(value, unit, turning):
    texts = [digits(value, count) for count in (6, 8, 12)]
    plain, exact = texts[0], texts[2]
    whole, power = f"{value:.11e}".split("e")
    texts += [text.replace(".", ",") for text in texts[1:]]
    texts += [
        f"  {plain}\t",
        plain.replace("-", "\u2212"),
        plain.translate(WIDE),
        "\ufeff" + plain,
        f"= {plain}",
        f"C = {plain}",
        f"z₂ = {plain}",
    ]
    texts += [
        f"{whole}e{int(power)}",
        f"{whole}E{int(power):+d}",
        f"{whole}·10^{int(power)}",
        f"{whole} × 10{str(int(power)).translate(RAISED)}",
    ]
    texts += [grouped(exact, mark) for mark in " \u00a0\u2009\u202f"]
    if value > 0:
        texts.append("+" + plain)
    texts += [
        f"about {exact}",
        f"≈ {exact} {unit}",
        f"({exact})",
        f"{exact}*1",
        f"{exact} + 0",
        f"ans: {exact} {unit}",
    ]
    for spelling in SPELLINGS.get(unit, ()):
        texts += [f"{exact} {spelling}", f"{exact}\u00a0{spelling.upper() if unit != 'm' else spelling}"]
    texts += [
        f"{value * factor:.10g} {other}" for (asked, other), factor in CONVERSIONS.items() if asked == unit
    ]
    if turning:
        ways = ("cw", "clockwise") if value < 0 else ("ccw", "counter-clockwise", "anticlockwise")
        texts += [f"{plain.lstrip('-')} {way}" for way in ways] + [
            f"{plain.lstrip('-')} {unit} ({way})" for way in ways
        ]
    return texts


def wrong_writings(value, tolerance, unit):
    """`tolerance` is how far off the contract lets a right number be."""
    texts = [f"{value + side * tolerance * share:.12g}" for side in (-1, 1) for share in (1.01, 1.5, 3)]
    if value:  # of a right 0, twice as much is right too
        texts += [
            f"{value * factor:.12g} {unit}" for factor in (2, 0.5, 3.14159265, 10, 0.1, 1000, 25.4, 60)
        ] + ["0"]
    shown = f"{value:.8g}"
    texts += [
        f"{shown} or {shown}",
        f"{shown} {shown}",
        f"1:{shown}" if abs(value * value - 1) > 0.1 else "1:",
        f"{shown} kg",
        f"{shown}*2" if value else "1/0",
        f"{shown}+{max(tolerance, 1e-9) * 3:.8f}",
        f"{shown}?",
        f"{shown} ± 1",
        "nan",
        "inf",
        "1e999",
        "9**9**9",
        "",
        unit,
        "=",
        f"{shown} = {shown} = {shown}",
        f"{shown} = {value + 5 * tolerance + 1:.8g}",
        f"{shown}/0",
        f"below {shown}",
        f"{shown} to {shown}",
        f"{shown}:{shown}:1",
    ]
    return texts


@pytest.mark.parametrize("question", QUESTIONS, ids=[question.id for question in QUESTIONS])
def test_every_writing_of_the_right_number_is_right_and_no_wrong_one(question):
    for number in range(2):
        draw = question.draw("writings", number)
        for answer, key in zip(question.answers, draw.keys, strict=True):
            for text in right_writings(key, answer.unit, answer.dimension in ("speed", "angle")):
                verdict = question.judge(draw, {answer.id: text})[answer.id]
                assert verdict.kind == "right" and verdict.points == answer.points, (
                    answer.id,
                    key,
                    text,
                    verdict.sentence,
                )
            for text in wrong_writings(key, answer.limit(key, answer.period(draw.shown)), answer.unit):
                verdict = question.judge(draw, {answer.id: text})[answer.id]
                assert not verdict.right and verdict.points < answer.points, (
                    answer.id,
                    key,
                    text,
                    verdict.sentence,
                )


@pytest.mark.parametrize("text", ["+1", "-0", "+0", "+1e9"])
def test_a_typed_plus_earns_nothing_where_no_sign_is_asked(text):
    for question in QUESTIONS:
        if question.id in ("angular-speed", "pitch-line-speed", "tooth-difference"):
            draw = question.draw("plus")
            answer = question.answers[0]
            signed, plain = (
                question.judge(draw, {answer.id: one})[answer.id] for one in (text, text.lstrip("+-"))
            )
            assert signed.points == plain.points and "The sign is right" not in signed.sentence, question.id


def test_exchanged_signs_are_said_of_the_smaller_length():
    """m (N - 2) for m (N + 2): what was taken off instead of added is the addendum."""
    question = next(one for one in QUESTIONS if one.id == "tip-and-root-metric")
    draw = question.draw("signs")
    wrong = draw.values["module"] * (draw.values["teeth"] - 2)
    verdict = question.judge(draw, {"outside_diameter": f"{wrong:.6g}"})["outside_diameter"]
    assert "addendum" in verdict.causes[0].sentence and "at the pitch diameter" not in verdict.sentence


@pytest.mark.parametrize("text", ["0", "-0", "1e9", "7", "1", "-3", "1e-9"])
def test_one_number_typed_everywhere_earns_nothing_by_being_carried_on(text):
    for question in QUESTIONS:
        draw = question.draw("everywhere")
        verdicts = question.judge(draw, {answer.id: text for answer in question.answers})
        assert not any(verdict.carried for verdict in verdicts.values()), (question.id, verdicts)
