"""The review checklist in a real Chromium, by keyboard alone: spoiled, repaired, and said aloud."""

import pytest

from gearlab.widgets import ReviewChecklist


@pytest.mark.parametrize("dark", [False, True])
def test_the_failing_design_is_repaired_by_keys(page_with_widget, dark):
    shown = page_with_widget(ReviewChecklist(), dark=dark)
    page = shown.page
    assert page.locator(".gl-is-warning").count() == 1 and page.locator(".gl-is-good").count() == 0
    grip = page.get_by_role("slider", name="Spacing of the holes")
    grip.focus()
    page.keyboard.press("PageDown")  # 5 mm
    page.wait_for_function("() => Math.abs(model.get('hole_spacing') - 78.75) < 1e-9")
    page.wait_for_selector(".gl-is-good")
    assert "Repaired with one change" in page.locator(".gl-is-good").inner_text()
    assert "78.75 millimetres" in grip.get_attribute("aria-valuetext")
    page.wait_for_function(
        "() => document.querySelector('[role=status]').textContent.includes('Repaired with one change')"
    )


def test_a_number_typed_marks_the_number_that_is_wrong(page_with_widget):
    shown = page_with_widget(ReviewChecklist(hole_spacing=78.75))
    page = shown.page
    box = page.get_by_role("spinbutton", name="Washers under the wheel")
    if not box.count():
        box = page.get_by_role("textbox", name="Washers under the wheel")
    box.fill("4")
    box.press("Enter")
    page.wait_for_selector(".gl-is-warning")
    assert "1.5 mm short" in page.locator(".gl-is-warning").first.inner_text()
    marked = page.locator(".gl-given.gl-alarm")
    assert marked.first.inner_text().startswith("46.50")
    plain = page.locator(".gl-given:not(.gl-alarm)").first
    colour = "el => getComputedStyle(el).color"
    assert marked.first.evaluate(colour) != plain.evaluate(colour)
