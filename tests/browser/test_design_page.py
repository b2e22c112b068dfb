"""A question with many right answers in a real browser: several fields, and what became of each condition.

The choice (worked in tests/practice/test_design.py): 19 and 45 teeth meet every condition for a ratio of 2.5,
18 and 45 share the factor 9.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from test_answerbox_page import show  # noqa: F401  (the fixture)

from gearlab.widgets.answerbox import ask
from gearlab.widgets.handin import hand_in, hand_in_box

BANK = Path(__file__).parent.parent / "practice" / "data" / "16_choosing" / "bank.toml"


@pytest.fixture
def box(tmp_path, monkeypatch):
    monkeypatch.setenv("GEARLAB_ANSWERS", str(tmp_path))
    for number in range(40):
        made = ask(BANK, "hunting-pair", number=number)
        if made.draw.values["wanted_ratio"] == 2.5:
            return made
    raise AssertionError("no draw of 2.5")


def test_chosen_with_the_keyboard_alone(show, box):  # noqa: F811
    page = show(box)
    page.keyboard.press("Tab")
    named = page.get_by_role("textbox", name="teeth of the crank gear teeth", exact=True)
    assert named.evaluate("node => node === document.activeElement"), "label and unit as they are seen"
    page.keyboard.type("18")
    page.keyboard.press("Tab")
    named = page.get_by_role("textbox", name="teeth of the wheel teeth", exact=True)
    assert named.evaluate("node => node === document.activeElement")
    page.keyboard.type("45")
    page.keyboard.press("Enter")
    page.wait_for_selector(".gearlab-condition")
    rows = page.locator(".gearlab-condition")
    assert rows.count() == 4
    assert rows.nth(0).inner_text().split("\n") == [
        "✓",
        "ratio near the wanted one: met",
        "Ratio comes out as 2.5; wanted: within 6 % of 2.5.",
    ]
    assert rows.nth(3).inner_text().split("\n") == [
        "✗",
        "no common factor: not met",
        (
            "Greatest common factor of the tooth counts comes out as 9; wanted: exactly 1. The two counts"
            " share a factor."
        ),
    ]
    said = page.get_by_role("status").inner_text()
    assert "no common factor: not met. Greatest common factor" in said and "2 of 3 tries left" in said
    assert page.get_by_role("list", name="what was asked of your choice").count() == 1

    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Control+A")
    page.keyboard.type("19")
    # what was said no longer holds
    page.wait_for_function("document.querySelectorAll('.gearlab-condition').length === 0")
    page.keyboard.press("Enter")
    page.wait_for_function("document.querySelectorAll('.gearlab-condition[data-tone=right]').length === 4")
    assert box.done and page.locator(".gearlab-input").first.get_attribute("readonly") is not None


def test_what_cannot_be_taken_is_said_under_its_field(show, box):  # noqa: F811
    page = show(box)
    page.locator(".gearlab-input").first.fill("3.5")
    page.wait_for_function(
        "document.querySelector('.gearlab-echo').textContent === 'A whole number is needed here.'"
    )
    page.locator(".gearlab-input").nth(1).fill("450")
    page.wait_for_function(
        "document.querySelectorAll('.gearlab-echo')[1].textContent === 'A number from 4 to 400 teeth is"
        " needed here.'"
    )
    page.get_by_role("button", name="Check").click()
    page.wait_for_selector(".gearlab-condition[data-tone=wrong]")
    assert box.tries_left == 3  # nothing was judged yet


@pytest.mark.parametrize("dark", [False, True])
def test_it_is_legible_and_fits(show, box, dark):  # noqa: F811
    page = show(box, width=380, dark=dark)
    page.locator(".gearlab-input").first.fill("18")
    page.locator(".gearlab-input").nth(1).fill("45")
    page.get_by_role("button", name="Check").click()
    page.wait_for_selector(".gearlab-condition")
    page.get_by_role("button", name="Give up: show the solution").click()
    page.wait_for_selector(".gearlab-solution .worked")
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert "others are right too" in page.inner_text(".gearlab-solution")


def test_handed_in(show, tmp_path):  # noqa: F811
    fields = [
        {
            "id": "driver_teeth",
            "label": "teeth of the crank gear",
            "unit": "teeth",
            "asked": "driver_teeth",
            "symbols": [],
            "from": 4,
            "to": 400,
            "whole": True,
        }
    ]
    sheet = hand_in(
        {
            "gearlab": "hand-out",
            "edition": 1,
            "set": "trial",
            "student": "00123",
            "file": "HAND-IN_trial_00123.json",
            "questions": [
                {
                    "id": "hunting-pair",
                    "kind": "design",
                    "title": "A hunting pair",
                    "prompt": "Choose.",
                    "answers": fields,
                }
            ],
        },
        tmp_path,
    )
    page = show(hand_in_box(sheet, "hunting-pair"))
    page.locator(".gearlab-input").fill("18.5")
    page.wait_for_function(
        "document.querySelector('.gearlab-echo').textContent === 'A whole number is needed here.'"
    )
    assert sheet.missing() == [
        "A hunting pair, teeth of the crank gear: cannot be read (A whole number is needed here.)"
    ]
    page.locator(".gearlab-input").fill("18 teeth")
    page.wait_for_function("document.querySelector('.gearlab-echo').textContent === 'read as 18 teeth'")
    page.wait_for_function("document.querySelector('.gearlab-saved').textContent.includes('saved in')")
    assert sheet.answers == {"hunting-pair": {"driver_teeth": "18 teeth"}} and sheet.missing() == []
    assert page.locator(".gearlab-condition").count() == 0  # no verdict before the marks
