"""The gap at the pitch point and the lined-up teeth in a bare page: by keys, by typing and by mouse."""

import pytest

from gearlab.widgets import AlignmentNudge, BacklashGauge


def near(page, trait, value, by=1e-6):
    page.wait_for_function("([t, v, by]) => Math.abs(model.get(t) - v) < by", arg=[trait, value, by])


def test_the_spacing_is_set_by_keys_until_the_task_is_met(page_with_widget):
    shown = page_with_widget(BacklashGauge(centre_distance=78.75))
    page = shown.page
    assert page.inner_text(".gl-is-task").startswith("Task: set the centre distance for 0.100 mm of backlash")
    wheel = page.locator("[role=slider][aria-label^='Driven B']")
    wheel.focus()
    for key, distance in (
        ("PageUp", 78.85),
        ("ArrowRight", 78.86),
        ("Shift+ArrowRight", 78.861),
        ("Home", 78.75),
    ):
        page.keyboard.press(key)
        near(page, "centre_distance", distance)
    for _ in range(14):
        page.keyboard.press("ArrowRight")
    page.wait_for_selector(".gl-is-good")
    assert shown.widget.centre_distance == pytest.approx(78.89)
    assert (
        page.inner_text(".gl-is-good")
        == "Right: 0.103 mm of backlash at a centre distance of 78.89 mm. The ratio is still 2.5."
    )
    assert wheel.get_attribute("aria-valuetext") == "78.89 millimetres"
    assert page.evaluate("() => document.activeElement.getAttribute('aria-label')").startswith("Driven B"), (
        "the focus has stayed"
    )
    page.wait_for_function(
        "() => document.querySelector('.gl-picture').getAttribute('aria-label').includes('backlash 0.103 mm')"
    )


def test_the_wheel_is_carried_by_mouse_in_true_size(page_with_widget):
    shown = page_with_widget(BacklashGauge(centre_distance=79.0))
    page = shown.page
    box = page.locator(".gl-stage svg").bounding_box()
    per_millimetre = page.evaluate(
        "() => { const s = document.querySelector('.gl-stage svg'); return s.getBoundingClientRect().width /"
        " s.viewBox.baseVal.width; }"
    )
    x, y = box["x"] + 0.9 * box["width"], box["y"] + 0.5 * box["height"]
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + per_millimetre, y, steps=4)
    page.mouse.up()
    near(page, "centre_distance", 80.0, 0.011)
    page.wait_for_function(
        "() => /0\\.9[678]. mm/.test(document.querySelector(\"button[aria-label^='backlash, on the operating"
        " pitch circles']\").textContent)"
    )


def test_the_play_says_why(page_with_widget):
    page = page_with_widget(BacklashGauge(centre_distance=80.0)).page
    page.click("button[aria-label^='can rock by, B driven']")
    page.wait_for_selector(".gl-why:visible math")
    assert "share of one turn" in page.inner_text(".gl-why:visible")
    field = page.locator(".gl-field")
    field.fill("78,70")
    field.press("Enter")
    page.wait_for_selector(".gl-is-stop")
    assert "jams" in page.inner_text(".gl-is-stop")


def test_the_gear_is_turned_by_keys_until_no_teeth_overlap(page_with_widget):
    shown = page_with_widget(AlignmentNudge(18, 46))
    page = shown.page
    assert page.locator(".r-overlap").count() > 0
    gear = page.locator("[role=slider][aria-label^='Driven B']")
    gear.focus()
    for key, angle in (("ArrowRight", 0.1), ("Shift+ArrowLeft", 0.09), ("Home", 0.0), ("PageUp", 3.913)):
        page.keyboard.press(key)
        near(page, "driven_angle", angle)
    page.wait_for_selector(".gl-is-good")
    assert page.locator(".r-overlap").count() == 0
    assert "the teeth overlap nowhere, 0.000 mm\u00b2" in page.inner_text(".gl-caption")
    assert gear.get_attribute("aria-valuetext") == "3.91 degrees"
    page.keyboard.press("PageUp")
    page.wait_for_selector(".r-overlap", state="attached")
    assert page.locator(".gl-is-good").count() == 0


def test_the_gear_is_swung_by_mouse_about_its_shaft(page_with_widget):
    shown = page_with_widget(AlignmentNudge(18, 46))
    page = shown.page
    ring = page.locator("[aria-label^='Driven B'] .gl-ring").bounding_box()
    cx, cy, radius = ring["x"] + ring["width"] / 2, ring["y"] + ring["height"] / 2, 0.4 * ring["width"]
    page.mouse.move(cx + radius, cy)
    page.mouse.down()
    import math

    for angle in (1, 2, 3, 3.9):
        page.mouse.move(
            cx + radius * math.cos(math.radians(angle)), cy - radius * math.sin(math.radians(angle))
        )
    page.mouse.up()
    near(page, "driven_angle", 3.9, 0.21)
    page.wait_for_selector(".gl-is-good")


def test_any_counts_and_any_line_of_centres(page_with_widget):
    shown = page_with_widget(AlignmentNudge(18, 45))
    page = shown.page
    for label, typed in (
        ("Line of centres, from A to B", "30"),
        ("Marked tooth of A", "4"),
        ("Marked tooth of B", "0,4"),
    ):
        field = page.locator(f"[aria-label='{label}'] .gl-field")
        field.fill(typed)
        field.press("Enter")
    page.wait_for_function("() => document.querySelector('.gl-caption').textContent.includes('at 30\u00b0')")
    page.wait_for_selector(".gl-is-good")
    page.focus("input[type=range][aria-label='Teeth of the driven gear']")
    page.keyboard.press("ArrowRight")
    page.wait_for_function(
        "() => document.querySelector('.gl-heading').textContent === '18 and 46 teeth, module 2.5'"
    )
    assert shown.widget.driven_teeth == 46


@pytest.mark.parametrize("width", [320, 700, 1300])
@pytest.mark.parametrize("make", [BacklashGauge, AlignmentNudge], ids=["gauge", "nudge"])
def test_they_fit_every_width(page_with_widget, make, width):
    page = page_with_widget(make(), width=width).page
    assert page.evaluate("() => document.documentElement.scrollWidth") <= width


def test_the_whole_scale_of_angles_is_seen_and_every_angle_fits_its_field(page_with_widget):
    page = page_with_widget(
        AlignmentNudge(18, 45, line_angle=-160, driver_angle=-178.5, driven_angle=-100.25), width=1000
    ).page
    for line in ("-160", "90"):
        field = page.locator("[aria-label='Line of centres, from A to B'] .gl-field")
        field.fill(line)
        field.press("Enter")
        page.wait_for_function(
            "t => document.querySelector('.gl-caption').textContent.includes(t)",
            arg=f"at {line.replace('-', chr(0x2212))}\u00b0",
        )
        inside = page.evaluate(
            """() => { const box = document.querySelector('.gl-picture').getBoundingClientRect();
            return [...document.querySelectorAll('.gl-picture text')].every(t => { const b = t.getBoundingClientRect(); return b.bottom <= box.bottom + 0.5 && b.left >= box.left - 0.5 && b.right <= box.right + 0.5; }); }"""  # noqa: E501
        )
        assert inside
    cut = page.evaluate(
        "() => [...document.querySelectorAll('.gl-field')].filter(f => f.scrollWidth > f.clientWidth +"
        " 1).map(f => f.value)"
    )
    assert cut == []


def test_both_in_jupyterlab_by_keyboard(lab):
    page = lab.open(
        [
            (
                "from gearlab.widgets import AlignmentNudge, BacklashGauge\ngauge ="
                " BacklashGauge(centre_distance=78.85)\ngauge"
            ),
            "nudge = AlignmentNudge(18, 46)\nnudge",
        ]
    )
    page.wait_for_selector(".gl input[aria-label='Marked tooth of B']", timeout=40_000)
    assert page.locator(".gl").count() == 2
    page.focus(".gl input[aria-label='Centre distance']")
    for _ in range(4):
        page.keyboard.press("ArrowRight")
    page.wait_for_selector(".gl-is-good")
    page.focus(".gl input[aria-label='Marked tooth of B']")
    page.keyboard.press("PageUp")
    page.wait_for_function("() => document.querySelectorAll('.gl-is-good').length === 2")
    assert page.evaluate("() => jupyterapp.shell.currentWidget.content.widgets.length") == 2, (
        "no key has inserted or deleted a cell"
    )
    lab.close(page)
