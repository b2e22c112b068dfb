"""Plate, stack, hub and tooth force in a real Chromium: by keys and by hand."""

from gearlab.widgets import HubSection, PlateLayout, ShaftStack, ToothForces


def test_the_hole_is_made_deeper_by_keys(page_with_widget):
    shown = page_with_widget(HubSection(drill_depth=13.5, screw_length=8.0))
    page = shown.page
    grip = page.locator("[role=slider][aria-label^='Bottom of the hole']")
    grip.focus()
    page.keyboard.press("ArrowRight")
    page.wait_for_function("() => model.get('drill_depth') === 14")
    page.wait_for_selector(".gl-is-good")
    assert "14.0 millimetres" in grip.get_attribute("aria-valuetext")


def test_the_gears_are_carried_along_the_plate(page_with_widget):
    shown = page_with_widget(PlateLayout(hole_x=60.0))
    page = shown.page
    grip = page.locator("[role=slider][aria-label^='Both gears']").first
    grip.focus()
    for _ in range(25):
        page.keyboard.press("ArrowLeft")
    page.wait_for_function("() => Math.abs(model.get('hole_x') - 53.75) < 1e-9")
    page.wait_for_selector(".gl-is-good")


def test_a_longer_shaft_and_the_hub_turned_round(page_with_widget):
    shown = page_with_widget(ShaftStack())
    page = shown.page
    page.get_by_role("combobox", name="The gear's hub points").select_option("outwards")
    page.wait_for_function("() => model.get('hub_points') === 'outwards'")
    shown.widget.shaft_length = 45.0
    shown.push()
    page.wait_for_selector(".gl-is-good")


def test_the_force_is_taken_apart(page_with_widget):
    shown = page_with_widget(ToothForces(91.5), dark=True)
    page = shown.page
    assert page.locator(".gl-is-good").count() == 0
    shown.widget.along, shown.widget.apart = 86.0, 31.5
    shown.push()
    page.wait_for_selector(".gl-is-good")
