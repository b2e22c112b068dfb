"""RackAndPinion, TwoCones and SunPlanetsRing in a page.

Worked by keys alone, to the stops and back, planets carried round.
"""

import math

from gearlab.widgets import RackAndPinion, SunPlanetsRing, TwoCones


def transform(page, selector):
    return page.evaluate("s => document.querySelector(s).getAttribute('transform')", selector)


def type_into(page, fields):
    """Type a number into each field, found by the name of its control, and confirm it."""
    for name, value in fields.items():
        page.locator(f"[role=group][aria-label='{name}'] .gl-field").focus()
        page.keyboard.press("Control+a")
        page.keyboard.type(value)
        page.keyboard.press("Enter")


def test_the_rack_by_keys_and_to_its_stop(page_with_widget):
    shown = page_with_widget(RackAndPinion(20))
    page = shown.page
    page.focus("[data-name^='Pinion']")
    for _ in range(69):
        page.keyboard.press("ArrowRight")
    page.wait_for_selector(".gl-is-good")
    assert "69.0 degrees counter-clockwise" in page.inner_text(".gl-is-good")
    # the rack has slid by pi d 69/360, as the page itself draws it
    slid = float(transform(page, ".gl-slides").split("(")[1].split()[0])
    assert abs(slid - math.pi * 50 * 69 / 360) < 1e-3
    assert page.input_value("input[aria-describedby][type=text] >> nth=0") in (
        "69",
        "69.0",
    ), "the field follows the picture"
    # on past the stop: it stays there
    for _ in range(8):
        page.keyboard.press("PageUp")
    # 17 pitches of travel, half of it, on 20 teeth
    assert abs(page.evaluate("() => document.querySelector('.gl').living.angle") - 153) < 1e-6
    # playing, it turns back at the stop
    page.evaluate("() => { model.set('driver_speed', 30); model.save_changes(); }")
    page.click("button[aria-label='Play turning']")
    page.wait_for_function("() => document.querySelector('.gl').living.angle < 140")
    page.click("button[aria-label='Pause turning']")


def test_the_rack_is_typed(page_with_widget):
    shown = page_with_widget(RackAndPinion(20, side="below"))
    page = shown.page
    field = page.locator(".gl-field").first
    field.fill("-68,8")
    field.press("Enter")
    page.wait_for_selector(".gl-is-good")
    assert abs(page.evaluate("() => document.querySelector('.gl').living.angle") + 68.8) < 1e-6
    assert shown.widget.angle == -68.8


def test_cones_by_keys_alone(page_with_widget):
    shown = page_with_widget(TwoCones(20, 30))
    page = shown.page
    assert not page.is_visible(".gl-bar"), "nothing rolls yet"
    type_into(page, {"Cone angle of the driver": "33.7", "Cone angle of the driven gear": "56.3"})
    page.wait_for_selector(".gl-is-good")
    assert page.is_visible(".gl-play")
    drawn = (
        "() => [...document.querySelectorAll('[data-round] path.r-tooth-end')].filter(path =>"
        " path.getAttribute('d')).length"
    )
    seen = page.evaluate(drawn)
    assert 24 <= seen <= 30  # about half of 50 teeth are on the near side
    first = page.evaluate("() => document.querySelector('[data-round] path').getAttribute('d')")
    page.focus("[data-name^='Driver A']")
    page.keyboard.press("PageUp")
    assert page.evaluate("() => document.querySelector('[data-round] path').getAttribute('d')") != first
    assert page.evaluate("() => document.querySelector('.gl').living.angle") == 18
    # the other side: the output is told to turn the other way
    page.select_option("select", "below")
    page.wait_for_function(
        "() => document.querySelector('.gl-warnings').innerText.includes('below the axis, its shaft seen from"
        " above turns counter-clockwise')"
    )


def test_the_planetary_set_by_keys_alone(page_with_widget):
    shown = page_with_widget(SunPlanetsRing(20, 15))
    page = shown.page
    assert (
        page.locator(".gl-is-stop").count() == 1
        and page.locator(".r-clash").count() >= 2
        and not page.is_visible(".gl-bar")
    )
    type_into(page, {"Teeth of the sun": "24", "Teeth of a planet": "18"})
    page.wait_for_selector(".gl-is-good")
    page.focus("[data-name^='Sun']")
    for _ in range(3):
        page.keyboard.press("PageUp")  # a tooth: 15 degrees
    shown.rest()
    carrier = page.get_attribute("[data-name='Carrier']", "aria-valuenow")
    assert abs(float(carrier) - 45 / 3.5) < 0.01
    # a planet is carried by the carrier, and spins on it: -(24/18) (45 - 45/3.5) seen from the carrier
    moved = page.evaluate(
        "() => [...document.querySelectorAll('[data-turn]')].map(el => el.getAttribute('transform')).find(t"
        " => t.split('rotate').length === 3)"
    )
    orbit, spin = (float(part.split("(")[1].split()[0]) for part in moved.strip().split(") "))
    assert abs(orbit + 45 / 3.5) < 1e-3 and abs(spin - (24 / 18) * (45 - 45 / 3.5)) < 1e-3
    page.select_option("select", "carrier")
    page.wait_for_function(
        "() => !document.querySelector(\"[data-name='Carrier']\") &&"
        " document.querySelector(\"[data-name^='Ring']\")"
    )
