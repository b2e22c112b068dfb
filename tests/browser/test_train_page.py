"""TrainArrows and TrainBuilder in a page.

Arrows pressed by key and by hand, gears that turn when the arrows agree, counts that build a train.
"""

from gearlab.widgets import TrainArrows, TrainBuilder


def label(page, number):
    return page.get_attribute(f"[data-press=arrow_{number}]", "aria-label")


def settled(page, number, words):
    page.wait_for_function(
        "([name, words]) =>"
        " document.querySelector(`[data-press=${name}]`)?.getAttribute('aria-label').endsWith(words)",
        arg=[f"arrow_{number}", words],
    )


def remarks(page):
    return page.locator(".gl-warnings li").all_inner_texts()


def test_arrows_by_keyboard_and_by_hand(page_with_widget):
    shown = page_with_widget(TrainArrows())
    page = shown.page
    assert (
        label(page, 1) == "Gear 1, 18 teeth: no arrow yet"
        and page.get_attribute("[data-press=arrow_1]", "role") == "button"
    )
    assert not page.is_visible(".gl-bar"), "nothing turns yet"
    # with the keyboard along the row: Tab to each gear, Space until its arrow is right
    # the picture comes first
    for number, way in enumerate(("counter-clockwise", "clockwise", "clockwise"), 1):
        page.keyboard.press("Tab")
        assert page.evaluate("() => document.activeElement.dataset.press") == f"arrow_{number}"
        for _ in range(1 if way == "counter-clockwise" else 2):
            page.keyboard.press("Space")
            settled(page, number, "clockwise")
        settled(page, number, f": {way}")
        assert page.evaluate("() => document.activeElement.dataset.press") == f"arrow_{number}", (
            "the focus has stayed"
        )
    page.wait_for_function("() => document.querySelectorAll('.gl-warnings li').length === 2")
    assert remarks(page)[1].startswith("Stop: gears 2 and 3 are both told to turn clockwise")
    assert page.locator(".r-clash").count() == 2
    # on with the mouse: 3 round to counter-clockwise, 4 and 5
    for number, ways in (
        (3, ("no arrow yet", ": counter-clockwise")),
        (4, (": counter-clockwise", ": clockwise")),
        (5, (": counter-clockwise",)),
    ):
        for way in ways:
            page.locator(f"[data-press=arrow_{number}]").click()
            settled(page, number, way)
    page.wait_for_selector(".gl-is-good")
    assert "five gears have four meshes" in page.inner_text(".gl-is-good").lower()
    assert page.locator("[data-name^='Gear']").count() == 5 and page.is_visible(".gl-play")
    page.wait_for_function(
        "words => document.querySelector('.gl-status').textContent.toLowerCase().includes(words)",
        arg="five gears have four meshes",  # the verdict that stands on the screen is said
    )
    # all agree: they turn in the page, with no message
    sent = len(shown.messages)
    page.click("button[aria-label='Play turning']")
    page.wait_for_function("() => document.querySelector('.gl').living.angle > 20")
    assert len(shown.messages) <= sent + 1, "only that it plays"
    page.click("button[aria-label='Pause turning']")
    shown.rest()
    first, last = (
        page.evaluate(
            "() => Number(document.querySelector(\"[data-name^='Gear"
            f" {number}']\").getAttribute('aria-valuenow'))"
        )
        for number in (1, 5)
    )
    assert first > 0 and abs(last - first * 18 / 22) < 0.02


def test_the_triangle_locks(page_with_widget):
    shown = page_with_widget(TrainArrows())
    page = shown.page
    page.select_option("select", "triangle")
    page.wait_for_function("() => document.querySelectorAll('[data-press]').length === 3")
    for number, presses in ((1, 1), (2, 2), (3, 1)):
        for _ in range(presses):
            before = label(page, number)
            page.locator(f"[data-press=arrow_{number}]").click()
            page.wait_for_function(
                "([name, before]) =>"
                " document.querySelector(`[data-press=${name}]`).getAttribute('aria-label') !== before",
                arg=[f"arrow_{number}", before],
            )
    page.wait_for_selector(".gl-is-stop")
    assert "three external gears in a ring lock" in page.inner_text(".gl-is-stop")
    assert not page.is_visible(".gl-bar")


def test_a_train_is_built_by_keys_alone(page_with_widget):
    shown = page_with_widget(TrainBuilder(18, 45, 18, 36, playing=False))
    page = shown.page
    assert page.locator(".gl-is-good").count() == 0
    page.focus("input[type=range][aria-label='Teeth of gear 3']")
    for _ in range(3):
        page.keyboard.press("ArrowRight")
    page.focus("input[type=range][aria-label='Teeth of gear 4']")
    for _ in range(6):
        page.keyboard.press("ArrowUp")
    page.wait_for_selector(".gl-is-good")
    assert shown.widget.done and page.inner_text(".gl-heading") == "18 drives 45, 21 drives 42"
    assert page.inner_text("button[aria-label^='turns in per turn out']") == "5"
    assert page.inner_text("button[aria-label^='centre distance, 3 drives 4']") == "78.75 mm"
    page.click("button[aria-label^='speed out']")
    page.wait_for_selector(".gl-why math")
    # what turns in front does not keep the hand from the gear behind: one handle for a shaft
    assert page.locator("[data-name]").count() == 3
    gear = page.locator("[data-name^='Gears 2 and 3']")
    gear.focus()
    page.keyboard.press("PageUp")
    shown.rest()
    assert abs(float(gear.get_attribute("aria-valuenow")) - 360 / 45) < 0.02
    assert (
        abs(float(page.get_attribute("[data-name^='Gear 4']", "aria-valuenow")) + 360 / 45 * 21 / 42) < 0.02
    )
