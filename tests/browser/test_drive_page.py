"""The drive explorer in a real Chromium, by keyboard alone: a number found, changed, undone, advice taken;
and the review in sight beside every control at 1366 x 768.

Number by hand: along the vent shaft 8.5 + 6 + 2.5 + 25 + 3 = 45 mm.
"""

from pathlib import Path

import pytest

from gearlab import read_design
from gearlab.parts.review import Finding, Held, Ledger
from gearlab.widgets import DriveExplorer, ReviewChecklist
from gearlab.widgets.explorers import compared

FOLDER = Path(__file__).parents[2] / "notebooks"
METRIC, INCH = (read_design(FOLDER / f"{name}.toml") for name in ("vent_drive", "vent_drive_inch"))
SEEN = """names => { const inside = node => { const r = node.getBoundingClientRect();
  return r.top >= 0 && r.left >= 0 && r.bottom <= innerHeight + 1 && r.right <= innerWidth + 1 };
  return names.map(name => [name, inside(document.querySelector(name))]) }"""


@pytest.mark.parametrize(
    "make",
    [
        lambda: DriveExplorer(METRIC),
        lambda: DriveExplorer(INCH),
        ReviewChecklist,
        lambda: ReviewChecklist(design=INCH),
    ],
    ids=["drive", "inch drive", "checklist", "inch checklist"],
)
def test_the_review_is_in_sight_beside_every_control(page_with_widget, make):
    page = page_with_widget(make(), width=1366, height=768).page
    inputs = page.locator(".gl-controls").locator("input, select, button")
    assert inputs.count() >= 8
    for place in range(inputs.count()):
        inputs.nth(place).focus()
        page.evaluate("() => document.activeElement.id ||= 'at-hand'")
        seen = page.evaluate(SEEN, [".gl-review", f"#{page.evaluate('document.activeElement.id')}"])
        assert all(inside for _, inside in seen), seen
        page.evaluate("() => { if (document.activeElement.id === 'at-hand') document.activeElement.id = '' }")
    # side by side: neither covers the other
    panel, review = (page.locator(name).bounding_box() for name in (".gl-controls", ".gl-review"))
    assert panel["x"] + panel["width"] <= review["x"]


@pytest.mark.parametrize("dark", [False, True])
def test_a_number_is_found_changed_and_undone_by_keys(page_with_widget, dark):
    shown = page_with_widget(DriveExplorer(METRIC), width=1366, height=768, dark=dark)
    page = shown.page
    member = page.get_by_label("Member", exact=True)
    member.focus()
    page.keyboard.press("ArrowUp")
    page.wait_for_function("() => model.get('member') === 'shaft vent'")
    page.get_by_label("Its number").select_option("length")
    page.wait_for_function("() => model.get('amount') === 45")
    for _ in range(2):  # its number, the slider
        page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "Length of vent"
    page.keyboard.press("ArrowDown")  # half a millimetre
    page.wait_for_function("() => model.get('amount') === 44.5")
    page.wait_for_selector(".gl-review .gl-is-warning")
    grip = page.get_by_role("slider", name="Length of vent")
    assert grip.get_attribute("aria-valuetext") == "44.50 millimetres"
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "Length of vent"
    page.wait_for_function("() => document.querySelector('.gl-status').textContent.includes('Will not work')")
    field = page.get_by_role("textbox", name="Length of vent")
    field.fill("400")  # beyond the slider, not beyond what can be
    field.press("Enter")
    page.wait_for_function("() => model.get('amount') === 400")
    undo = page.get_by_role("button", name="Undo: vent: length 400")
    undo.focus()
    page.keyboard.press("Enter")
    page.wait_for_function("() => model.get('amount') === 44.5")
    # the hand stays on the button, which now undoes the step before
    assert page.evaluate("document.activeElement.textContent") == "Undo"
    page.keyboard.press("Enter")
    page.wait_for_function("() => model.get('amount') === 45")
    assert page.evaluate("document.activeElement.getAttribute('aria-disabled')") == "true"
    sent = len(shown.messages)
    page.keyboard.press("Enter")  # there is nothing to undo, and nothing is sent
    assert len(shown.messages) == sent and shown.widget.design == METRIC


def test_what_cannot_be_is_said_beside_the_control(page_with_widget):
    page = page_with_widget(DriveExplorer(METRIC), width=1366, height=768).page
    field = page.get_by_role("textbox", name="Teeth of pinion_18T_m2p5_bore10_L27")
    field.fill("2")
    field.press("Enter")
    page.wait_for_function("() => document.querySelector('.gl-note').textContent.includes('too small')")
    field.fill("18.5")
    field.press("Enter")
    page.wait_for_function("() => document.querySelector('.gl-note').textContent.includes('not whole')")


def test_advice_is_taken_with_one_key_and_undone(page_with_widget, monkeypatch):
    """Of a review that says one thing alone, so that the test does not hang on what others are found."""

    def judged(design):
        if design.shaft[1].length >= 45:
            return Ledger([(None, Held("shaft vent", "its length", 45.0, 45.0, "mm"))])
        edits = ({"shaft": {"vent": {"length": 45}}},)
        short = "it is short.", "It needs 45 mm.", "No hold.", "Take 45 mm."
        return Ledger([(None, Finding("shaft-too-short", "will not work", "vent", *short, edits=edits))])

    monkeypatch.setattr(compared, "review", judged)
    shown = page_with_widget(
        DriveExplorer(METRIC.with_(shaft={"vent": {"length": 40}})), width=1366, height=768
    )
    page = shown.page
    do = page.get_by_role("button", name="Do this: vent: length 45")
    do.focus()
    page.keyboard.press("Enter")
    page.wait_for_selector(".gl-review .gl-is-good")
    assert shown.widget.design.shaft[1].length == 45 and do.count() == 0
    # the hand is still in the review
    assert page.evaluate("document.querySelector('.gl-review').contains(document.activeElement)")
    assert page.get_by_role("slider", name="Length of vent").count() == 1
    page.get_by_role("button", name="Undo: vent: length 45").click()
    page.wait_for_selector(".gl-review .gl-do")
    assert shown.widget.design.shaft[1].length == 40


def test_two_designs_stand_side_by_side(page_with_widget):
    page = page_with_widget(DriveExplorer(METRIC), width=1366, height=768).page
    page.get_by_label("Beside the first").check()
    page.wait_for_function("() => document.querySelectorAll('.gl-table').length > 4")
    heads = page.locator(".gl-table").nth(1).locator("thead th")
    assert heads.all_inner_texts() == ["at first", "now"]
    page.get_by_role("button", name="pitch diameter, now: 45.00 mm. Why?").click()
    page.wait_for_function("() => document.querySelector('.gl-why:not([hidden]) math')")
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
