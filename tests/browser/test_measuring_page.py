"""Ratio finder, caliper jaws and tolerance sliders in a bare page: by keys, by typing and by mouse."""

import pytest

from gearlab.widgets import Jaws, RatioFinder, ToleranceSliders


def near(page, trait, value, by=1e-6):
    page.wait_for_function("([t, v, by]) => Math.abs(model.get(t) - v) < by", arg=[trait, value, by])


def fill(page, label, text):
    field = page.locator(f"[role=group][aria-label='{label}'] .gl-field")
    field.fill(text)
    field.press("Enter")


def test_the_jaws_are_closed_by_keys_until_they_touch(page_with_widget):
    shown = page_with_widget(Jaws(19, module=2.5))
    page = shown.page
    assert (
        page.inner_text(".gl-is-task")
        == "Task: set the span over 3 teeth: close the jaws until they just touch the flanks."
    )
    jaw = page.locator("[role=slider][aria-label^='Right jaw']")
    jaw.focus()
    for key, opening in (("PageDown", 20.4), ("ArrowLeft", 20.39), ("ArrowRight", 20.4), ("Home", 20.5)):
        page.keyboard.press(key)
        near(page, "opening", opening)
    fill(page, "Opening of the caliper", "19,15")
    jaw.focus()
    for _ in range(3):
        page.keyboard.press("ArrowLeft")
    near(page, "opening", 19.12)
    page.wait_for_selector(".gl-is-good")
    assert "at radius 24.28 mm (pitch radius 23.75 mm)" in page.inner_text(".gl-is-good")
    assert jaw.get_attribute("aria-valuetext") == "19.12 millimetres"
    page.click("button[aria-label^='span over 3 teeth']")
    page.wait_for_selector(".gl-why:visible math")
    page.keyboard.press("Escape")
    fill(page, "Opening of the caliper", "18.9")
    page.wait_for_selector(".gl-is-stop")
    assert page.locator(".r-overlap").count() == 2


def test_a_jaw_is_carried_by_mouse_and_the_other_goes_with_it(page_with_widget):
    shown = page_with_widget(Jaws(19, module=2.5))
    page = shown.page
    per_millimetre = page.evaluate(
        "() => { const s = document.querySelector('.gl-stage svg'); return s.getBoundingClientRect().width /"
        " s.viewBox.baseVal.width; }"
    )
    ring = page.locator("[aria-label^='Right jaw'] .gl-ring").bounding_box()
    x, y = ring["x"] + ring["width"] / 2, ring["y"] + ring["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 0.5 * per_millimetre, y, steps=4)
    page.mouse.up()
    near(page, "opening", 19.5, 0.03)  # half a millimetre on each side
    assert shown.widget.opening == pytest.approx(19.5, abs=0.03)


def test_another_way_of_measuring_is_chosen_by_keys(page_with_widget):
    page = page_with_widget(Jaws(19, module=2.5, pin_diameter=4.5)).page
    page.select_option("select", "pins")
    page.wait_for_function(
        "() => document.querySelector('.gl-heading').textContent.endsWith('over two pins')"
    )
    assert page.locator("[role=group][aria-label='Teeth between the jaws']").count() == 0
    fill(page, "Opening of the caliper", "53.9")
    page.wait_for_function(
        "() => document.querySelector('.gl-caption').textContent.includes('the pins touch the flanks')"
    )


def test_a_hunting_pair_is_found_from_the_list_by_keys(page_with_widget):
    shown = page_with_widget(RatioFinder(ratio=2.4, centre_distance=80.0, module=2.5), reduced=True)
    page = shown.page
    assert "find a hunting pair for 80.00 mm with module 2.5" in page.inner_text(".gl-is-task")
    assert page.locator(".gl-is-note").count() == 2
    if page.locator("select").is_hidden():  # the list waits behind this where there is little room
        page.get_by_text("More controls").click()
    page.focus("select")
    page.keyboard.press("Home")  # the best ratio, but not the spacing
    page.wait_for_function(
        "() => document.querySelector('.gl-heading').textContent === '19 and 46 teeth, module 2.5'"
    )
    page.keyboard.press("ArrowDown")
    page.wait_for_selector(".gl-is-good")
    assert page.inner_text(".gl-is-good") == "Right: 19 and 45: 80.00 mm, 2.368, no common factor."
    assert (shown.widget.driver_teeth, shown.widget.driven_teeth) == (19, 45)
    page.click("button[aria-label^='different spaces a tooth meets']")
    page.wait_for_selector(".gl-why:visible math")
    fill(page, "Teeth of the driven gear", "44")
    page.wait_for_function("() => document.querySelector('select').value === '19 44'")
    assert "The wanted centre distance is 80.00 mm" in page.inner_text(".gl-caption")


def test_the_hole_error_is_brought_down_until_no_plate_jams(page_with_widget):
    shown = page_with_widget(ToleranceSliders(hole_error=0.12))
    page = shown.page
    page.wait_for_selector(".gl-is-stop")
    end = page.locator("[role=slider][aria-label^='Lower end']")
    end.focus()
    for _ in range(4):
        page.keyboard.press("ArrowLeft")  # less, as with every slider
    near(page, "hole_error", 0.08)
    page.wait_for_selector(".gl-is-good")
    assert "minimum backlash 0.030 mm" in page.inner_text(".gl-is-good")
    page.focus("input[type=range][aria-label='Design backlash']")
    page.keyboard.press("PageDown")
    page.keyboard.press("PageDown")
    page.wait_for_selector(".gl-is-stop")
    assert shown.widget.design_backlash == pytest.approx(0.046)


@pytest.mark.parametrize("width", [320, 700, 1300])
@pytest.mark.parametrize("make", [Jaws, RatioFinder, ToleranceSliders], ids=["jaws", "finder", "sliders"])
def test_they_fit_every_width(page_with_widget, make, width):
    page = page_with_widget(make(), width=width).page
    assert page.evaluate("() => document.documentElement.scrollWidth") <= width
