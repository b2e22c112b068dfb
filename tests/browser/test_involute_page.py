"""String, line of action, strip of contact and rack cutter in a real Chromium.

By keys, by hand, in motion, at every width.
"""

import math

import pytest

from gearlab.widgets import ContactStrip, LineOfAction, RackCutter, StringUnwinding


def where(page, x, y):
    """A point of the scene (y upwards) as a place in the window."""
    return page.evaluate(
        """([x, y]) => { const svg = document.querySelector('.gl-picture');
        const p = new DOMPoint(x, -y).matrixTransform(svg.getScreenCTM()); return [p.x, p.y]; }""",
        [x, y],
    )


def handle(page, name):
    return page.locator(f"[role=slider][aria-label^='{name}']")


def test_the_string_is_unwound_by_keys_and_by_hand(page_with_widget):
    shown = page_with_widget(StringUnwinding(18, module=2.5, roll_angle=10.0))
    page = shown.page
    end = handle(page, "End of the string")
    end.focus()
    for key, roll in (("ArrowRight", 10.5), ("PageUp", 15.5), ("Shift+ArrowLeft", 15.45), ("Home", 0.0)):
        page.keyboard.press(key)
        page.wait_for_function("r => Math.abs(model.get('roll_angle') - r) < 1e-9", arg=roll)
    assert end.get_attribute("aria-valuetext") == "0.0 degrees"
    assert page.evaluate("() => document.activeElement.getAttribute('aria-label')").startswith(
        "End of the string"
    ), "the focus has stayed"
    shown.widget.roll_angle = 10.0
    shown.push()
    # pulled from where it is to the pitch circle; the hand need not be exactly on the flank: only the taut
    # direction counts
    turn = math.tan(math.radians(20))
    from gearlab.drawing.views.generation import involute

    base, start = shown.widget.gear.base_diameter / 2, math.pi / 2 - math.pi / 36 - (turn - math.radians(20))
    page.mouse.move(*where(page, *involute(base, start, math.radians(10.0))))
    page.mouse.down()
    page.mouse.move(*where(page, *involute(base, start, 0.3)), steps=4)
    page.mouse.move(*where(page, *involute(base, start, turn)), steps=4)
    page.mouse.up()
    # by hand in half degrees: 21, the nearest to tan 20 = 20.85 degrees
    page.wait_for_selector(".gl-is-good")
    assert abs(shown.widget.roll_angle - 21.0) < 1e-9


def test_the_line_is_tilted_and_contact_runs_along_it(page_with_widget):
    shown = page_with_widget(LineOfAction(18, 45, module=2.5, tilt=0.0))
    page = shown.page
    assert page.locator(".r-contact-point").count() == 0
    grip = handle(page, "Line through the pitch point")
    grip.focus()
    for _ in range(4):
        page.keyboard.press("PageUp")
    page.wait_for_selector(".gl-is-good")
    assert shown.widget.tilt == 20.0 and grip.get_attribute("aria-valuetext") == "20.0 degrees"
    # by hand, on the grip, back to 12 degrees
    far = 0.355 * 78.75
    place = [
        (22.5 + far * math.sin(math.radians(tilt)), far * math.cos(math.radians(tilt)))
        for tilt in (20, 16, 12)
    ]
    page.mouse.move(*where(page, *place[0]))
    page.mouse.down()
    for at in place[1:]:
        page.mouse.move(*where(page, *at), steps=3)
    page.mouse.up()
    page.wait_for_function("() => Math.abs(model.get('tilt') - 12) < 0.51")
    shown.widget.tilt = 20.0
    shown.push()
    page.wait_for_selector(".gl-is-good")
    before = len(shown.messages)
    page.get_by_role("button", name="Play turning").click()
    page.wait_for_function("() => document.querySelector('.gl').living.frames > 20")
    offs = page.evaluate(
        """() => [...document.querySelectorAll('.gl-slides')].map(el => el.getAttribute('transform')).filter(Boolean)
        .map(t => t.match(/-?\\d+(\\.\\d+)?(e-?\\d+)?/g).map(Number)).filter(([x, y]) => Math.hypot(x, y) > 1e-6)"""  # noqa: E501
    )
    assert offs and all(abs(math.degrees(math.atan2(x, -y)) % 180 - 20) < 0.01 for x, y in offs), (
        "contact keeps to the line"
    )
    page.get_by_role("button", name="Pause turning").click()
    assert len(shown.messages) - before <= 3, "playing, and the angle where it came to rest"


def test_the_shade_is_carried_and_the_cursor_follows_the_gears(page_with_widget):
    shown = page_with_widget(ContactStrip(18, 45, module=2.5, shade=20))
    page = shown.page
    edge = handle(page, "Edge of the shade")
    edge.focus()
    for key, shade in (("ArrowRight", 21), ("PageUp", 31), ("Shift+ArrowRight", 31.1)):
        page.keyboard.press(key)
        page.wait_for_function("s => Math.abs(model.get('shade') - s) < 1e-9", arg=shade)
    box = page.locator(".r-shade").bounding_box()
    whole = box["width"] / 0.311
    page.mouse.move(box["x"] + box["width"], box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(box["x"] + 0.5 * whole, box["y"], steps=3)
    page.mouse.move(box["x"] + 0.633 * whole, box["y"], steps=3)
    page.mouse.up()
    page.wait_for_selector(".gl-is-good")
    assert abs(shown.widget.shade - 63.3) <= 3 and shown.widget.value("two_pair_share") == pytest.approx(
        63.3, abs=0.05
    )
    cursor = "() => document.querySelectorAll('.gl-slides .r-line-of-action')[0].getBoundingClientRect().x"
    at = page.evaluate(cursor)
    # a quarter of the pinion's pitch, a quarter of the strip
    page.evaluate("() => document.querySelector('.gl').living.turnBy(5)")
    assert (page.evaluate(cursor) - at) / whole == pytest.approx(0.25, abs=0.01)


def test_two_points_of_contact_are_seen_on_the_shaded_part_only(page_with_widget):
    shown = page_with_widget(ContactStrip(18, 45, module=2.5))
    page = shown.page
    seen = page.evaluate("""() => { const out = [], living = document.querySelector('.gl').living;
        for (let k = 0; k < 100; k++) { living.turnBy(0.2);
            out.push([...document.querySelectorAll('.gl-slides')].filter(el => el.style.display !== 'none' && el.querySelector('.r-contact-point')
                && !el.querySelector('.r-line-of-action')).length); }
        return out; }""")  # noqa: E501
    # a pitch of 20 degrees in a hundred steps: two pairs on 63 %, one on the rest (contact ratio 1.63:
    # vent-drive data)
    assert set(seen) == {1, 2} and abs(seen.count(2) - 63) <= 1


def test_teeth_are_taken_away_until_the_cutter_undercuts(page_with_widget):
    shown = page_with_widget(RackCutter(21))
    page = shown.page
    page.focus("input[type=range][aria-label='Number of teeth']")
    for _ in range(3):
        page.keyboard.press("ArrowLeft")
    page.wait_for_selector(".gl-is-good")
    assert shown.widget.teeth == 18 and "18 teeth are left whole, 17 are not" in page.inner_text(
        ".gl-is-good"
    )
    page.keyboard.press("ArrowLeft")
    page.wait_for_function("() => document.querySelector('.gl-heading').textContent.includes('17 teeth')")
    assert page.locator(".gl-is-good").count() == 0 and "undercut" in page.inner_text(".gl-is-note")
    page.focus("input[type=range][aria-label='Cutter further out by']")
    page.keyboard.press("Shift+ArrowRight")
    page.keyboard.press("Shift+ArrowRight")
    page.wait_for_selector(".gl-is-good")
    assert shown.widget.profile_shift == pytest.approx(0.01)


def test_cutter_and_pinion_move_together_without_a_message(page_with_widget):
    shown = page_with_widget(RackCutter(12, playing=True, driver_speed=6.0))
    page = shown.page
    page.wait_for_function("() => document.querySelector('.gl').living.frames > 30")
    angle, rack = page.evaluate(
        """() => { const living = document.querySelector('.gl').living;
        return [living.angle, document.querySelector('.gl-slides .r-cutter').parentNode.getAttribute('transform')]; }"""  # noqa: E501
    )
    pitch = math.pi * 2.5
    x = float(rack.split("(")[1].split()[0])
    # the cutter moves on by the arc of the pitch circle, to the left; it comes again with every pitch
    rest = (x + 15.0 * math.radians(angle)) / pitch
    assert rest == pytest.approx(round(rest), abs=1e-6) and shown.messages == []


def test_the_direction_of_a_taut_string(page_with_widget):
    page = page_with_widget(StringUnwinding()).page

    def angle(x, y, circle, sense):
        return page.evaluate(
            "([x, y, c, s]) => widgetModule.swingAngle({ x, y: -y }, [0, 0, c, s])", [x, y, circle, sense]
        )

    # from twice the radius the tangent point lies 60 degrees off (arc cosine of a half), ahead or behind;
    # from the rim and inside: none
    assert angle(2, 0, 1, 1) == pytest.approx(60) and angle(2, 0, 1, -1) == pytest.approx(-60)
    assert angle(0, 1, 1, 1) == pytest.approx(90) and angle(0, 0.5, 1, 1) == pytest.approx(90)
    assert angle(0, 5, 0, 1) - angle(5, 0, 0, 1) == pytest.approx(90), "with no circle it is the ray"


@pytest.mark.parametrize("width", [320, 1300])
@pytest.mark.parametrize("make", [StringUnwinding, LineOfAction, ContactStrip, RackCutter])
def test_they_fit_every_width(page_with_widget, make, width):
    shown = page_with_widget(make(), width=width, dark=width == 320)
    page = shown.page
    assert page.evaluate("() => document.documentElement.scrollWidth") <= width
    small = page.evaluate(
        """() => [...document.querySelectorAll('.gl button, .gl select, .gl input')].filter(el => el.offsetParent)
        .map(el => [el.textContent || el.ariaLabel, el.getBoundingClientRect().height]).filter(([, h]) => h < 23.5)"""  # noqa: E501
    )
    assert small == [], "WCAG 2.2, 2.5.8: 24 points at least"
    assert (
        page.inner_text(".gl-is-task").startswith("Task: ")
        and page.text_content(".gl-caption") == shown.widget.text  # in little room behind "All numbers"
    )
