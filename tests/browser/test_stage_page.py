"""The stage of an explorer in a bare page: disclosures, a number that is asked for, the view from behind."""

import pytest

from gearlab.drawing import behind
from gearlab.drawing.shapes import Teeth
from gearlab.parts import Gear, Mesh
from gearlab.widgets import living
from gearlab.widgets.explorers import ContactStrip, HubSection, PairExplorer, TrainBuilder

CENTRES = """() => ['Driver', 'Driven'].map(name => {
    const box = document.querySelector(`[role=slider][aria-label^=${name}] .gl-ring`).getBoundingClientRect();
    return box.left + box.width / 2 })"""
UPRIGHT = (
    """() => [...document.querySelectorAll('.gl-picture text')].every(text => text.getScreenCTM().a > 0)"""
)


def test_the_stage_shows_what_it_names_and_remembers_what_was_opened(page_with_widget):
    shown = page_with_widget(
        PairExplorer(playing=False, controls=["driven_teeth", "driver_teeth"], readout=["ratio"])
    )
    page = shown.page
    labels = """() => [...document.querySelectorAll('.gl-controls label')]
        .filter(label => label.checkVisibility()).map(label => label.textContent)"""
    assert page.evaluate(labels) == ["BTeeth of the driven gear", "ATeeth of the driver"]
    numbers = page.locator(".gl-value")
    assert [number.is_visible() for number in numbers.all()].count(True) == 1
    page.get_by_text("More controls").click()
    page.get_by_text("All numbers").click()
    assert len(page.evaluate(labels)) > 4 and all(number.is_visible() for number in numbers.all())
    page.wait_for_function("() => model.get('disclosed') === 'controls readout'")
    # a change that builds the tables anew leaves them open
    field = page.locator("[aria-label='Centre distance, off by'] .gl-field")
    field.fill("0.5")
    field.press("Enter")
    page.wait_for_function("() => document.querySelector('.gl-readout').textContent.includes('79.25 mm')")
    assert page.evaluate("() => [...document.querySelectorAll('.gl-more')].every(box => box.open)")
    assert shown.widget.value("centre_distance") == 79.25


def test_a_number_kept_back_is_shown_when_asked_for_and_explains_itself(page_with_widget):
    shown = page_with_widget(ContactStrip(18, 45, module=2.5))
    page = shown.page
    assert "1.63" not in page.text_content(".gl") and "1.63" not in page.get_attribute(
        "svg.gl-picture", "aria-label"
    )
    button = page.get_by_role("button", name="Show the number: contact ratio")
    button.focus()
    page.keyboard.press("Enter")
    page.wait_for_selector("button[aria-label^='contact ratio: 1.633']")
    assert page.evaluate("() => document.activeElement.getAttribute('aria-label')").startswith(
        "contact ratio: 1.633"
    )
    assert shown.widget.asked_for == "contact_ratio" and "1.63" in page.text_content(".gl-caption")
    page.keyboard.press("Enter")
    page.wait_for_selector(".gl-why math")
    assert page.get_by_role("button", name="Show the number: two pairs touch").is_visible()


@pytest.mark.parametrize(
    "make",
    [
        lambda: living(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), playing=False),
        lambda: PairExplorer(playing=False, driver_speed=15.0),
    ],
)
def test_from_behind_the_picture_is_turned_over_and_the_words_are_not(page_with_widget, make):
    shown = page_with_widget(make())
    page = shown.page
    driver, driven = page.evaluate(CENTRES)
    assert driver < driven
    words = page.evaluate(
        "() => [...document.querySelectorAll('.gl-picture text')].map(text => text.textContent)"
    )
    page.get_by_role("button", name="From behind").click()
    page.wait_for_selector(".gl-behind")
    driver, driven = page.evaluate(CENTRES)
    assert driver > driven and page.evaluate(UPRIGHT)
    seen = page.evaluate(
        "() => [...document.querySelectorAll('.gl-picture text')].map(text => text.textContent)"
    )
    assert len(seen) == len(words)
    assert page.get_attribute("svg.gl-picture", "aria-label").startswith("Seen from behind: ")
    assert page.text_content(".gl-caption").startswith("Seen from behind: ")
    assert "seen from the gear side" in page.inner_text(".gl-signs")
    assert page.get_attribute(".gl-speed", "aria-valuetext").endswith(" clockwise")
    assert shown.widget.behind and shown.widget.seen_scene.text == page.text_content(".gl-caption")
    # a gear is still turned by the hand: the point under the pointer stays under it
    box = page.locator("[role=slider][aria-label^=Driver] .gl-ring").first.bounding_box()
    middle = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(middle[0] + 40, middle[1])
    page.mouse.down()
    page.mouse.move(middle[0], middle[1] - 40)  # a quarter, counter-clockwise as it is seen now
    page.mouse.up()
    page.wait_for_function("() => Math.abs(model.get('angle') + 90) < 1.5")
    page.get_by_role("button", name="From behind").click()
    page.wait_for_selector(".gl-behind", state="detached")
    assert page.evaluate(CENTRES)[0] < page.evaluate(CENTRES)[1]


def test_a_picture_that_shows_no_gears_has_no_view_from_behind(page_with_widget):
    page = page_with_widget(HubSection()).page
    assert not page.get_by_role("button", name="From behind").is_visible()


def test_from_behind_a_compound_shaft_shows_the_gear_that_was_covered(page_with_widget):
    """In the page as ``drawing.behind`` has it: the same gears in the same order, the same ones dashed."""
    builder = TrainBuilder(18, 36, 24, 48, module=2.5, playing=False)
    page = page_with_widget(builder).page
    drawn = (
        "() => [...document.querySelectorAll('.gl-sheet:not(.gl-under) path[data-tooth]')].map(path =>"
        " [Number(path.dataset.count), path.classList.contains('r-hidden-outline')])"
    )

    def as_python(scene):
        teeth = [shape for shape in scene.shapes if isinstance(shape, Teeth)]
        return [[shape.count, shape.role == "hidden outline"] for shape in teeth]

    assert page.evaluate(drawn) == as_python(builder.scene)
    page.get_by_role("button", name="From behind").click()
    page.wait_for_selector(".gl-behind")
    turned = page.evaluate(drawn)
    assert turned == as_python(behind(builder.scene)) != as_python(builder.scene)
    assert [count for count, dashed in turned if not dashed] == [24, 48, 18, 36]
    # what was added turns with its gear
    before = page.evaluate(
        "() => document.querySelector('.gl-turns:has(>.r-hidden-outline)').getAttribute('transform')"
    )
    page.evaluate("() => document.querySelector('.gl').living.turnBy(10)")
    assert before != page.evaluate(
        "() => document.querySelector('.gl-turns:has(>.r-hidden-outline)').getAttribute('transform')"
    )
