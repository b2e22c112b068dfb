"""The living picture in a bare page.

Turning, keys, dragging, reduced motion, clean-up; the real Python object answers.
"""

import math

import pytest

from gearlab import drawing
from gearlab.parts import Gear, Mesh
from gearlab.widgets import living

DRIVE = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
SCENE = drawing.pair(DRIVE, show=("pitch circles", "line of action"))
DRIVER, DRIVEN = "[role=slider][aria-label^=Driver]", "[role=slider][aria-label^=Driven]"
ANGLE = "() => document.querySelector('.gl').living.angle"
FRAMES = "() => document.querySelector('.gl').living.frames"


def still(**options):
    return living(SCENE, playing=False, **options)


def test_it_turns_without_a_message(page_with_widget):
    shown = page_with_widget(living(SCENE, playing=True, driver_speed=15.0))
    shown.page.wait_for_function("() => document.querySelector('.gl').living.frames > 5")
    before, at = shown.page.evaluate(FRAMES), shown.page.evaluate(ANGLE)
    shown.page.wait_for_function(
        "([frames, angle]) => { const picture = document.querySelector('.gl').living;"
        " return picture.frames > frames + 20 && picture.angle > angle }",
        arg=[before, at],
    )
    assert shown.messages == []
    # both gears have really moved, the driven one the other way at 18/45 of the angle
    driver, driven = shown.page.evaluate(
        "names => names.map(name => document.querySelector(name).getAttribute('transform'))", [DRIVER, DRIVEN]
    )
    angles = [float(text.split("(")[1].split()[0]) for text in (driver, driven)]
    assert angles[0] < 0 < angles[1] and angles[1] == pytest.approx(-angles[0] * 18 / 45, abs=1e-6)


def test_the_speed_is_the_speed_it_says(page_with_widget):
    shown = page_with_widget(living(SCENE, playing=True, driver_speed=10.0), clock=False)
    shown.run_clock(200)
    before = shown.page.evaluate(ANGLE)
    shown.run_clock(900)
    # 10 rpm are 60 degrees a second, 1 degree a frame; a frame at either end may be pending
    assert shown.page.evaluate(ANGLE) - before == pytest.approx(60.0 * 0.9, abs=2.1)


def test_keys_turn_a_gear_and_are_told_when_it_rests(page_with_widget):
    shown = page_with_widget(still(), clock=False)
    page = shown.page
    page.focus(DRIVER)
    for key, angle in (
        ("ArrowRight", 1.0),
        ("ArrowUp", 2.0),
        ("ArrowLeft", 1.0),
        ("Shift+ArrowRight", 1.1),
        ("Shift+ArrowDown", 1.0),
        ("PageUp", 21.0),
        ("PageDown", 1.0),
    ):
        page.keyboard.press(key)
        assert page.evaluate(ANGLE) == pytest.approx(angle), key
    assert shown.messages == [], "nothing is told before it has come to rest"
    shown.run_clock(1000)
    shown.rest()
    assert shown.messages == [{"angle": 1.0}] and shown.widget.angle == 1.0
    page.keyboard.press("Home")
    shown.run_clock(1000)
    shown.rest()
    assert page.evaluate(ANGLE) == 0.0 and shown.widget.angle == 0.0


def test_keys_on_the_driven_gear_turn_that_gear(page_with_widget):
    shown = page_with_widget(still())
    page = shown.page
    page.focus(DRIVEN)
    page.keyboard.press("ArrowRight")
    assert page.evaluate(ANGLE) == pytest.approx(-45 / 18)
    page.keyboard.press("PageUp")
    shown.rest()
    assert shown.widget.angle == pytest.approx(-9 * 45 / 18)  # 1 degree and one tooth of 8 degrees
    assert page.get_attribute(DRIVEN, "aria-valuetext") == "9.0 degrees, 1.13 teeth"
    assert float(page.get_attribute(DRIVER, "aria-valuenow")) == pytest.approx(-22.5)


def test_space_plays_and_pauses(page_with_widget):
    shown = page_with_widget(still())
    page = shown.page
    page.focus(DRIVER)
    page.keyboard.press(" ")
    page.wait_for_function("() => document.querySelector('.gl').living.frames > 3")
    assert page.inner_text(".gl-play") == "Pause" and shown.widget.playing
    page.keyboard.press(" ")
    page.wait_for_function("() => !document.querySelector('.gl').living.playing")
    shown.rest()
    frames = page.evaluate(FRAMES)
    shown.pass_frames()
    assert page.evaluate(FRAMES) == frames and page.inner_text(".gl-play") == "Play"
    assert shown.widget.angle == pytest.approx(page.evaluate(ANGLE), abs=1e-5)


def test_the_mouse_turns_a_gear(page_with_widget):
    shown = page_with_widget(still())
    page = shown.page
    box = page.evaluate(
        """() => { const c = document.querySelector(".r-pitch-circle.of-driven").getBoundingClientRect();
        return [c.left + c.width / 2, c.top + c.height / 2, c.width / 2]; }"""
    )
    x, y, radius = box

    def at(degrees):
        return (
            x + 0.8 * radius * math.cos(math.radians(degrees)),
            y - 0.8 * radius * math.sin(math.radians(degrees)),
        )

    page.mouse.move(*at(0))
    page.mouse.down()
    for degrees in range(0, 41, 5):
        page.mouse.move(*at(degrees))
    assert shown.messages == []
    page.mouse.up()
    shown.rest()
    # the driven gear follows the pointer: 40 degrees counter-clockwise, so the driver 40 * 45 / 18 the other
    # way
    assert page.evaluate(ANGLE) == pytest.approx(-100.0, abs=1.5)
    assert shown.widget.angle == pytest.approx(-100.0, abs=1.5)
    assert page.evaluate("() => document.activeElement.getAttribute('aria-label')").startswith("Driven B")


def test_reduced_motion_starts_paused_and_play_becomes_a_step(page_with_widget):
    shown = page_with_widget(living(SCENE, playing=True, driver_speed=20.0), reduced=True)
    page = shown.page
    shown.pass_frames()
    assert page.evaluate(FRAMES) == 0 and page.evaluate(ANGLE) == 0
    assert page.inner_text(".gl-play") == "Step 1\u00b0"
    page.click(".gl-play")
    assert page.evaluate(ANGLE) == 1.0 and page.evaluate(FRAMES) == 0
    shown.widget.playing = True
    shown.push()
    shown.pass_frames()
    assert page.evaluate(FRAMES) == 0, "Python cannot start it either"


def test_out_of_sight_nothing_is_drawn(page_with_widget):
    shown = page_with_widget(living(SCENE, playing=True), height=500)
    page = shown.page
    page.wait_for_function("() => document.querySelector('.gl').living.frames > 3")
    page.evaluate("() => { document.body.style.paddingTop = '3000px'; window.scrollTo(0, 0); }")
    shown.pass_frames()  # the page tells the picture that it is out of sight within a frame or two
    frames = page.evaluate(FRAMES)
    shown.pass_frames()
    assert page.evaluate(FRAMES) == frames
    page.evaluate("() => { document.body.style.paddingTop = '0'; }")
    page.wait_for_function(f"() => document.querySelector('.gl').living.frames > {frames + 3}")


def test_python_sets_the_angle(page_with_widget):
    shown = page_with_widget(still())
    shown.widget.angle = 33.0
    shown.push()
    assert shown.page.evaluate(ANGLE) == 33.0 and "rotate(-33 " in shown.page.get_attribute(
        DRIVER, "transform"
    )
    assert shown.messages == []


def test_every_control_is_reached_by_tab_with_a_name_and_a_ring(page_with_widget):
    shown = page_with_widget(still())
    page = shown.page
    seen = []
    for _ in range(20):
        page.keyboard.press("Tab")
        found = page.evaluate(
            """() => { const el = document.activeElement; if (!el || el === document.body) return null;
            const ring = el.querySelector?.(":scope > .gl-ring"), style = getComputedStyle(ring || el);
            return { name: el.getAttribute("aria-label") || el.textContent, role: el.getAttribute("role") || el.tagName,
                     ring: ring ? style.stroke !== "none" && parseFloat(style.strokeWidth) > 0 : parseFloat(style.outlineWidth) >= 3 && style.outlineStyle !== "none",
                     guard: el.dataset.lmSuppressShortcuts === "true" }; }"""  # noqa: E501
        )
        if found is None or (seen and found["name"] == seen[0]["name"]):
            break
        seen.append(found)
    names = [one["name"] for one in seen]
    assert all(one["name"] and one["ring"] and one["guard"] for one in seen), seen
    assert {
        "Driver A, 18 teeth",
        "Driven B, 45 teeth",
        "Play turning",
        "Driver speed",
    } <= set(names)
    # the buttons that turn are one stop, with arrow keys inside; the gears come first
    assert names[0].startswith("Driver A") and not any("on one degree" in name for name in names)
    page.focus(".gl-play")
    for key, name in (
        ("ArrowRight", "+\u20091°: on one degree"),
        ("Home", "−\u2009tooth: back one tooth"),
        ("End", "0°: back to the start"),
        ("ArrowLeft", "+\u2009tooth: on one tooth"),
    ):
        page.keyboard.press(key)
        assert page.evaluate("document.activeElement.getAttribute('aria-label')") == name


def test_accessibility_tree(page_with_widget):
    shown = page_with_widget(still())
    tree = shown.page.locator(".gl").aria_snapshot()
    assert 'slider "Driver A, 18 teeth"' in tree and 'slider "Driven B, 45 teeth"' in tree
    assert f'group "{SCENE.text}"' in tree
    assert "status" in tree and 'button "Play turning"' in tree


def test_keys_stay_in_the_widget_and_shortcuts_pass(page_with_widget):
    shown = page_with_widget(still())
    page = shown.page
    page.evaluate(
        "() => { window.escaped = []; document.addEventListener('keydown', e => escaped.push(e.key)); }"
    )
    page.focus(DRIVER)
    for key in ("d", "d", "b", "ArrowDown", "x"):
        page.keyboard.press(key)
    assert page.evaluate("() => escaped") == []
    page.keyboard.press("Control+s")
    assert "s" in page.evaluate("() => escaped")


def test_clean_up_leaves_nothing(page_with_widget):
    shown = page_with_widget(living(SCENE, playing=True))
    page = shown.page
    page.wait_for_function("() => document.querySelector('.gl').living.frames > 3")
    page.evaluate(
        "() => { window.kept = document.querySelector('.gl').living; window.frames0 = 0; cleanup();"
        " window.frames0 = kept.frames; }"
    )
    shown.pass_frames()
    assert page.evaluate(
        "() => [kept.frames - frames0, model.listeners, document.getElementById('place').children.length]"
    ) == [0, 0, 0]
    page.evaluate("() => { model.set('driver_speed', 9); window.dispatchEvent(new Event('resize')); }")


def test_close_up_shows_the_mesh_and_comes_back(page_with_widget):
    shown = page_with_widget(still())
    page = shown.page
    whole = page.get_attribute(".gl-picture", "viewBox")
    # the way there takes its time
    wide = "wanted => Math.abs(document.querySelector('.gl-picture').viewBox.baseVal.width - wanted) < 1e-3"
    page.click("text=Close-up")
    page.wait_for_function(wide, arg=25.0)
    x, y, w, h = map(float, page.get_attribute(".gl-picture", "viewBox").split())
    # ten modules around the pitch point
    assert (
        w == pytest.approx(25.0, abs=1e-3)
        and x + w / 2 == pytest.approx(22.5, abs=0.01)
        and y + h / 2 == pytest.approx(0, abs=0.01)
    )
    page.click("text=Close-up")
    page.wait_for_function(wide, arg=float(whole.split()[2]))
    assert [float(v) for v in page.get_attribute(".gl-picture", "viewBox").split()] == pytest.approx(
        [float(v) for v in whole.split()]
    )


def test_outlines_in_the_page_are_the_outlines_of_python(page_with_widget):
    """Independent route: Python's own repetition of the tooth, against the path the page has drawn."""
    import numpy as np
    from shapely.geometry import LineString

    shown = page_with_widget(still())
    for role in ("driver", "driven"):
        shape = SCENE.having(role)[0]
        data = shown.page.get_attribute(f"path.r-{role}", "d")
        drawn = np.array([[float(v) for v in pair.split(",")] for pair in data.strip("MZ").split()]) * (1, -1)
        turn = math.radians(shape.angle)
        drawn = (
            drawn @ np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
            + shape.centre
        )
        u = float(
            shown.page.evaluate("() => document.querySelector('.gl-picture').style.getPropertyValue('--u')")
        )
        far = LineString(np.vstack([drawn, drawn[:1]])).hausdorff_distance(LineString(shape.points()))
        assert far < 0.15 * u, "nowhere off by as much as a seventh of a pixel"


@pytest.mark.parametrize(("width", "scale"), [(320, 1.0), (360, 2.0), (640, 1.0), (1400, 1.0)])
def test_it_fits_every_width(page_with_widget, width, scale):
    shown = page_with_widget(still(), width=width, scale=scale)
    assert shown.page.evaluate("() => document.documentElement.scrollWidth") <= width
    left, right = shown.page.evaluate(
        "() => { const b = document.querySelector('.gl-picture').getBoundingClientRect(); return [b.left,"
        " b.right]; }"
    )
    assert left >= 0 and right <= width
    cut = shown.page.evaluate(
        """() => { const b = document.querySelector('.gl-picture').getBoundingClientRect();
        return [...document.querySelectorAll('.gl-picture text')].filter(t => getComputedStyle(t).visibility !== 'hidden').filter(t => { const r = t.getBoundingClientRect();
            return r.left < b.left - 1 || r.right > b.right + 1 || r.top < b.top - 1 || r.bottom > b.bottom + 1; }).map(t => t.textContent); }"""  # noqa: E501
    )
    assert cut == [], "words cut off by the edge"


@pytest.mark.parametrize("dark", [False, True])
def test_colours_follow_the_page(page_with_widget, dark):
    shown = page_with_widget(still(), dark=dark)
    fill, paper = shown.page.evaluate(
        """() => [getComputedStyle(document.querySelector('.gl-edge.r-driver path')).stroke, getComputedStyle(document.querySelector('.gl')).backgroundColor]
        """  # noqa: E501
    )
    # the default pair, and its lighter twin
    assert fill == ("rgb(92, 179, 234)" if dark else "rgb(0, 114, 178)")
    assert paper == ("rgb(17, 20, 24)" if dark else "rgb(255, 255, 255)")


def test_pure_functions(page_with_widget):
    page = page_with_widget(still()).page
    calls = page.evaluate(
        """() => { const m = widgetModule; return {
        comma: m.readNumber(" 2,5 "), minus: m.readNumber("\u22123"), words: Number.isNaN(m.readNumber("2 mm")), power: Number.isNaN(m.readNumber("1e5")),
        slide: [m.slideOffset(0, [0, 1, 1, 10, -2, 3]), m.slideOffset(9, [0, 1, 1, 10, -2, 3]), m.slideOffset(5, [0, 1, 1, 10, -2, 3])],
        say: [m.say(-0.001, 1), m.say(-2.5, 1)],
        simple: m.simplify([0, 0, 1, 0.001, 2, 0, 2, 1], 0.01), kept: m.simplify([0, 0, 1, 0.1, 2, 0], 0.01).length,
        repeated: m.repeatTooth([1, 0], 4).split(" ").length, narrow: m.typeScale(320, false), wide: m.typeScale(900, true) }; }"""  # noqa: E501
    )
    assert (calls["comma"], calls["minus"], calls["words"], calls["power"]) == (2.5, -3, True, True)
    assert calls["slide"] == [0, -1, None]
    assert calls["say"] == ["0.0", "\u22122.5"]
    assert calls["simple"] == [0, 0, 2, 0, 2, 1] and calls["kept"] == 6 and calls["repeated"] == 4
    assert calls["narrow"] == 0.74 and calls["wide"] == pytest.approx(1.6)
