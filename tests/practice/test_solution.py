"""Worked solutions."""

import re
from html import unescape
from xml.etree import ElementTree

import pytest

from gearlab.contents import content_folder
from gearlab.practice import load_bank, number_text

FOLDERS = [
    "01_teeth_and_diameter",
    "02_pitch_and_proportions",
    "03_centre_distance",
    "04_ratio_speed_direction",
]


@pytest.mark.parametrize("folder", FOLDERS)
def test_every_solution_ends_on_the_right_answer(folder):
    for question in load_bank(content_folder("exercises") / folder):
        for number in range(2):
            draw = question.draw("worked", number)
            html, markdown, text = (question.solution(draw, form) for form in ("html", "markdown", "text"))
            ElementTree.fromstring(html.replace("&nbsp;", " "))  # well formed
            for made in (html, markdown, text):
                assert "\ue000" not in made
                # no field of a template is left; braces stand in formulas alone
                assert "{" not in re.sub(r"\$\$.*?\$\$|\$[^$]*\$", "", made, flags=re.S)
            if question.kind == "number":
                for answer, key in zip(question.answers, draw.keys):
                    last = f"{answer.label[0].upper()}{answer.label[1:]}: {number_text(key, 6)} {answer.unit}".strip()  # noqa: E501
                    assert (
                        last in text
                        and f"**{last}**" in markdown
                        and f"<strong>{last}</strong>" in unescape(html)
                    )


def test_the_spacing_of_the_vent_drive(vent, bank_file):
    question = load_bank(
        bank_file(
            ("from = 18, to = 30, step = 1", "one_of = [18]"),
            ("from = 32, to = 72, step = 1", "one_of = [45]"),
            ("[1.5, 2, 2.5, 3]", "[2.5]"),
        )
    )["spacing"]
    text = question.solution(question.draw("x"), "text")
    assert text.splitlines() == [
        "Centre distance:",
        "pitch diameter of the driver: d1 = N1·m = 18·2.5 mm = 45 mm",
        "pitch diameter of the driven gear: d2 = N2·m = 45·2.5 mm = 112.5 mm",
        "centre distance: C = (d1 + d2)/2 = (45 mm + 112.5 mm)/2 = 78.75 mm",
        "in one formula: C = m·(N1 + N2)/2 = 2.5 mm·(18 + 45)/2 = 78.75 mm",
        (
            "sources: in print: R. L. Mott, Machine Elements in Mechanical Design, 4th ed., table 8-2; R. L."
            " Mott, Machine Elements in Mechanical Design, 4th ed., chapter 8."
        ),
        "Centre distance: 78.75 mm",
    ]


def test_units_are_converted_in_sight():
    bank = load_bank(content_folder("exercises") / "03_centre_distance")
    question = bank["inch-gears-metric-plate"]
    draw = question.draw("x")
    inches = (draw.values["driver_teeth"] + draw.values["driven_teeth"]) / 2 / draw.values["diametral_pitch"]
    assert f"{number_text(inches, 6)} in = {number_text(25.4 * inches, 6)} mm" in question.solution(
        draw, "text"
    )
    timed = load_bank(content_folder("exercises") / "04_ratio_speed_direction")["angle-after-a-time"]
    draw = timed.draw("x")
    # Rev/min times seconds are no turns: the line says what stands between (NIST SP 811, appendix B: a minute
    # is 60 s).
    assert f"rpm·{draw.texts['duration']} s = " in timed.solution(
        draw, "text"
    ) and "units: 1 min = 60 s" in timed.solution(draw, "text")
    assert number_text(draw.values["driver_speed"] / 60 * draw.values["duration"], 6) in timed.solution(
        draw, "text"
    )
    html = timed.solution(draw, "html")
    assert "<mn>-" not in html and "<mo>−</mo><mn>" in html  # a negative angle with a minus sign of its own


def test_negative_numbers_stand_in_parentheses(bank_file):
    path = bank_file(
        ("module = { one_of = [1.5, 2, 2.5, 3] }", "driver_speed = { one_of = [-40] }"),
        (" of module {module} mm", ""),
        ('asked = "centre_distance"\nunit = "mm"', 'asked = "driven_speed"'),
        ("module * (driver_teeth + driven_teeth)", "driver_speed"),
    )
    question = load_bank(path)["spacing"]
    draw = question.draw("x")
    assert (
        f"n2 = -n1/i = -(-40 rpm)/{number_text(draw.values['driven_teeth'] / draw.values['driver_teeth'], 6)}"
        f" = {number_text(draw.keys[0], 6)} rpm" in question.solution(draw, "text")
    )
    assert (
        draw.keys[0] > 0
        and question.solution(draw, "markdown")
        and ElementTree.fromstring(question.solution(draw, "html")) is not None
    )


def test_the_method_shows_no_number_of_the_draw():
    for folder in FOLDERS:
        for question in load_bank(content_folder("exercises") / folder):
            if question.kind == "number":
                assert (
                    question.method("text")
                    and ElementTree.fromstring(question.method("html")) is not None
                    and "$$" in question.method("markdown")
                )
                key = f"{question.draw('m').keys[0]:.5g}"
                assert len(key) < 4 or key not in question.method("text")


def test_labels_are_escaped(bank_file):
    question = load_bank(bank_file(("points = 2", 'points = 2\nlabel = "<script>alert(1)</script> & more"')))[
        "spacing"
    ]
    html = question.solution(question.draw("x"), "html")
    assert "<script>" not in html and "&lt;script&gt;" in html and "&amp; more" in html


def test_unknown_form(vent):
    with pytest.raises(ValueError, match="markdown, html, text"):
        vent.solution(vent.draw("x"), "pdf")
