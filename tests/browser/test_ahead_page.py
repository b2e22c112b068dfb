"""A step whose state the page holds is drawn at once; Python takes it over; nothing older is ever drawn.

The page is a real Chromium with a stand-in model; Python works ahead only when a test lets it.
"""

import io

import pytest
from PIL import Image, ImageChops

from gearlab.widgets import PairExplorer, PlateLayout

TEETH = "input[type=range][aria-label='Teeth of the driver']"
STEPS = "document.querySelector('.gl').steps"
SEEN = """() => ({ heading: document.querySelector('.gl-heading').textContent, caption: document.querySelector('.gl-caption').textContent,
    driver: document.querySelector('path.r-driver').getAttribute('d'), distance: document.querySelector("button[aria-label^='centre distance:']").textContent,
    warnings: [...document.querySelectorAll('.gl-warnings li')].map(item => item.textContent), turn: document.querySelector('.gl').steps.turn })"""  # noqa: E501
# Python does not answer until it is let: the questions wait in line. From then on those that come later go
# through too, in their turn: what the page tells after its frame may come when the line was empty already
HOLD_BACK = """() => {
    const push = window.gearlabPush;
    let held = true, going = null;
    const empty = async () => { await null; while (line.length) await line.shift()(); going = null; };
    const go = () => going ??= empty();
    window.line = [];
    window.gearlabPush = text => new Promise(done => {
      line.push(() => push(text).then(done));
      if (!held) go();
    });
    window.letThrough = () => { held = false; return go(); };
}"""


@pytest.fixture(autouse=True)
def time_enough(monkeypatch):
    """On a busy machine as much is worked out as on an idle one."""
    monkeypatch.setattr("gearlab.widgets.ahead.REST", 600.0)
    monkeypatch.setattr("gearlab.widgets.ahead.SLOW", 60.0)


def opened(page_with_widget, explorer, focus=TEETH, key="ArrowRight"):
    """An explorer whose next states are held, one step after it was opened."""
    shown = page_with_widget(explorer)
    page = shown.page
    page.focus(focus)
    page.keyboard.press(key)
    page.wait_for_function(f"() => {STEPS}.turn === 1")
    shown.work_ahead()
    return shown


def teeth_shown(page, teeth):
    page.wait_for_function(
        "text => document.querySelector('.gl-heading').textContent === text",
        arg=f"{teeth} and 45 teeth, module 2.5",
    )


def fresh(page_with_widget, teeth):
    """What a page shows that was opened with this number of teeth."""
    return page_with_widget(PairExplorer(teeth, 45, playing=False)).page.evaluate(SEEN) | {"turn": None}


def test_a_held_step_is_drawn_before_python_has_heard_of_it(page_with_widget):
    shown = opened(page_with_widget, PairExplorer(18, 45, playing=False))
    page = shown.page
    page.evaluate(HOLD_BACK)
    page.keyboard.press("ArrowRight")
    seen = page.evaluate(SEEN)
    assert shown.widget.driver_teeth == 19, "Python has not heard of it"
    # (20 + 45) * 2.5 / 2
    assert seen["distance"] == "81.25 mm" and seen["heading"] == "20 and 45 teeth, module 2.5"
    assert page.get_attribute(TEETH, "aria-valuetext") == "20 teeth"
    assert seen | {"turn": None} == fresh(page_with_widget, 20), "all of it is that state"


def test_python_takes_a_held_state_over_without_sending_it(page_with_widget):
    shown = opened(page_with_widget, PairExplorer(18, 45, playing=False))
    page = shown.page
    page.keyboard.press("ArrowRight")
    page.wait_for_function("() => model.get('answer').turn === 2")
    assert shown.widget.driver_teeth == 20 and shown.widget.value("centre_distance") == pytest.approx(81.25)
    assert "picture" in shown.widget.ahead.unsent
    assert page.evaluate("() => model.get('heading')") == "19 and 45 teeth, module 2.5", "not sent again"
    # the next one that is not held brings everything, also what is the same as two steps ago
    field = page.locator("[aria-label='Teeth of the driver'] .gl-field")
    field.fill("60")
    field.press("Enter")
    teeth_shown(page, 60)
    assert shown.widget.ahead.unsent == frozenset()
    assert page.evaluate(SEEN) | {"turn": None} == fresh(page_with_widget, 60)


def test_an_answer_that_is_older_than_the_screen_is_not_drawn(page_with_widget):
    shown = opened(page_with_widget, PairExplorer(18, 45, playing=False))
    page = shown.page
    page.evaluate(HOLD_BACK)
    page.evaluate(
        "() => { window.headings = []; const h = document.querySelector('.gl-heading');"
        " const note = () => headings.push(h.textContent);"
        " new MutationObserver(note).observe(h, { childList: true, characterData: true, subtree: true }); }"
    )
    field = page.locator("[aria-label='Teeth of the driver'] .gl-field")
    field.fill("60")  # not held: Python is asked
    field.press("Enter")
    field.fill("20")  # held
    field.press("Enter")
    page.wait_for_function("() => headings.length === 1 && line.length === 2")
    page.evaluate("() => letThrough()")
    page.wait_for_function("() => model.get('answer').turn === 3")
    assert page.evaluate("() => headings") == ["20 and 45 teeth, module 2.5"]
    assert shown.widget.driver_teeth == 20
    assert page.evaluate(SEEN) | {"turn": None} == fresh(page_with_widget, 20)


def test_a_step_back_needs_no_answer(page_with_widget):
    shown = opened(page_with_widget, PairExplorer(18, 45, playing=False))
    page = shown.page
    page.evaluate(HOLD_BACK)
    for key, teeth in (("ArrowRight", 20), ("ArrowRight", 21), ("ArrowLeft", 20), ("ArrowLeft", 19)):
        page.keyboard.press(
            key
        )  # of several between two frames the last is drawn, so it may come a frame later
        page.wait_for_function(
            f"() => document.querySelector('.gl-heading').textContent === '{teeth} and 45 teeth, module 2.5'"
        )
    page.wait_for_function("() => line.length > 0")
    page.evaluate("() => letThrough()")
    page.wait_for_function("() => model.get('answer').turn === 5")
    assert shown.widget.driver_teeth == 19 and page.inner_text(".gl-heading") == "19 and 45 teeth, module 2.5"


def test_what_is_held_stays_within_two_megabytes(page_with_widget):
    shown = opened(page_with_widget, PairExplorer(18, 45, playing=False))
    page = shown.page
    sent = 0
    field = page.locator(".gl-controls .gl-field").first
    for teeth in range(25, 158, 7):
        field.fill(str(teeth))
        field.press("Enter")
        page.wait_for_function(
            f"() => {STEPS}.turn === model.get('turn').n && model.get('answer').turn === {STEPS}.turn"
        )
        sent += sum(len(str(message["drawn"])) for message in shown.work_ahead())
        page.wait_for_function(f"() => {STEPS}.ready > 0")
        assert 0 < page.evaluate(f"() => {STEPS}.bytes") <= 2_000_000
    assert sent > 2_000_000, "otherwise the limit was not tried"


def test_the_oldest_goes_out_first(page_with_widget):
    page = page_with_widget(PairExplorer(playing=False)).page
    kept = page.evaluate(
        """() => { const held = widgetModule.heldStates(100);
        for (const name of ["a", "b", "c"]) held.put(name, { size: 40 });
        held.put("huge", { size: 101 });
        return [["a", "b", "c", "huge"].filter(held.get), held.size]; }"""
    )
    assert kept == [["b", "c"], 80]


def test_a_reason_that_is_open_follows_a_held_step(page_with_widget):
    shown = opened(page_with_widget, PairExplorer(18, 45, playing=False))
    page = shown.page
    page.click("button[aria-label^='centre distance:']")
    page.wait_for_selector(".gl-why math")
    page.focus(TEETH)
    page.keyboard.press("ArrowRight")
    page.wait_for_function(
        "() => document.querySelector('.gl-why:not([hidden])').textContent.includes('81.25')"
    )
    assert "picture" in shown.widget.ahead.unsent, "the step was held"


def test_a_held_step_is_announced_and_a_silent_kernel_noticed(page_with_widget):
    shown = opened(page_with_widget, PairExplorer(18, 45, playing=False))
    page = shown.page
    page.evaluate("() => { window.gearlabPush = () => new Promise(() => {}); }")
    page.clock.install()
    page.keyboard.press("ArrowRight")
    page.clock.run_for(1000)
    assert "driver turns per driven turn 2.25" in page.inner_text(".gl-status")  # 45 / 20
    assert page.locator(".gl-silent").is_hidden()
    page.clock.run_for(4200)
    assert "run this cell again" in page.inner_text(".gl-silent")


def test_the_value_is_told_before_the_hand_leaves(page_with_widget):
    """Two changes wait behind an answer; leaving the widget says the last one at once, and only once."""
    shown = opened(page_with_widget, PairExplorer(18, 45, playing=False))
    page = shown.page
    page.evaluate(HOLD_BACK)
    page.keyboard.press("End")
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("Shift+Enter")
    page.wait_for_function("() => window.gearlabSeen > 1")
    assert [message["kind"] for message in shown.heard][-1] == "now" and shown.widget.driver_teeth == 159
    # what was on its way comes late: a cell has set another value meanwhile
    shown.widget.driver_teeth = 30
    page.evaluate("() => letThrough()")
    assert shown.widget.driver_teeth == 30


def test_another_view_gets_what_the_first_one_drew(page_with_widget):
    shown = opened(page_with_widget, PairExplorer(18, 45, playing=False))
    page = shown.page
    page.keyboard.press("ArrowRight")
    page.wait_for_function("() => model.get('answer').turn === 2")
    page.evaluate(
        "async () => { const el = document.createElement('div'); el.id = 'second'; document.body.append(el);"
        " window.cleanSecond = await widgetModule.default.render({ model, el }); }"
    )
    page.wait_for_function(
        "() => document.querySelector('#second .gl-heading').textContent === '20 and 45 teeth, module 2.5'"
    )
    # and follows a step that the first one holds
    shown.work_ahead()
    page.keyboard.press("ArrowRight")
    page.wait_for_function(
        "() => document.querySelector('#second .gl-heading').textContent === '21 and 45 teeth, module 2.5'"
    )
    page.evaluate("() => cleanSecond()")


def test_another_window_hears_of_a_change_with_its_answer(page_with_widget):
    """What a page sets is not echoed; a second window has a model of its own, and shows what was set too."""
    widget = PairExplorer(18, 45, playing=False)
    here, there = page_with_widget(widget), page_with_widget(widget)
    here.page.focus(TEETH)
    here.page.keyboard.press("ArrowRight")
    teeth_shown(here.page, 19)
    told = {name: value for name, value in here.state().items() if name not in (*widget.inputs, "turn")}
    there.page.evaluate("state => model.receive(state)", told)
    teeth_shown(there.page, 19)
    field = "[aria-label='Teeth of the driver'] .gl-field"
    assert there.page.input_value(field) == there.page.input_value(TEETH) == "19"
    # and a change of its own goes on from there
    there.page.focus(TEETH)
    there.page.keyboard.press("ArrowRight")
    teeth_shown(there.page, 20)
    assert widget.driver_teeth == 20


def test_no_change_of_a_control_is_echoed():
    widget = PairExplorer(18, 45, playing=False)
    echoed = {name for name in (*widget.inputs, "turn") if widget.trait_metadata(name, "echo_update", True)}
    assert echoed <= {"driver_speed"}, "which turns in the page, without an answer"


def test_a_stepped_control_moves_with_its_picture_or_soon(page_with_widget):
    """It waits for the answer, so that both are one frame, but no longer than a hand would notice."""
    shown = page_with_widget(PairExplorer(18, 45, playing=False))
    page = shown.page
    page.evaluate(HOLD_BACK)
    page.focus(TEETH)
    at_once = page.evaluate(
        "teeth => { const slider = document.querySelector(teeth);"
        " slider.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight', bubbles: true }));"
        " return [slider.value, model.get('driver_teeth')]; }",
        TEETH,
    )
    assert at_once == ["18", 19]
    page.keyboard.press("ArrowRight")
    page.wait_for_function("teeth => document.querySelector(teeth).value === '20'", arg=TEETH)
    assert page.inner_text(".gl-heading").startswith("18 and"), "nobody has answered"
    page.evaluate("() => letThrough()")
    teeth_shown(page, 20)


def test_nothing_is_held_when_the_kernel_has_gone(page_with_widget):
    shown = opened(page_with_widget, PairExplorer(18, 45, playing=False))
    page = shown.page
    assert page.evaluate(f"() => {STEPS}.holds") > 0
    page.evaluate("() => { for (const act of model.acts['comm_live_update']) act(); }")
    page.evaluate(HOLD_BACK)
    page.keyboard.press("ArrowRight")
    assert page.evaluate(f"() => {STEPS}.holds") == 0
    assert page.inner_text(".gl-heading") == "19 and 45 teeth, module 2.5", "nobody would answer for it"


def test_a_handle_in_the_picture_goes_by_held_steps(page_with_widget):
    handle = "[data-control][role=slider]"
    shown = opened(page_with_widget, PlateLayout(), handle)
    page = shown.page
    page.evaluate(HOLD_BACK)
    page.keyboard.press("ArrowRight")
    assert page.evaluate(f"() => {STEPS}.counts.held") == 1
    assert page.evaluate("() => document.activeElement.hasAttribute('data-control')"), "the focus has stayed"
    value = page.evaluate("() => model.get('hole_x')")
    assert float(page.get_attribute(handle, "aria-valuenow")) == value == shown.widget.hole_x + 0.25


UNDER = "document.querySelectorAll('.gl-under').length"
LAID = f"() => {STEPS}.laid"


def test_the_next_picture_lies_painted_under_the_one_that_is_seen(page_with_widget):
    shown = opened(page_with_widget, PairExplorer(18, 45, playing=False))
    page = shown.page
    page.wait_for_function(f"() => {UNDER} === 2")
    under = page.query_selector(".gl-under svg")
    page.keyboard.press("ArrowRight")
    assert under.evaluate("svg => svg === document.querySelector('.gl-stage svg')"), (
        "what covered it has gone"
    )
    assert page.evaluate(LAID) == 1
    assert page.locator(".gl-stage").evaluate("stage => stage.firstChild.inert") is False
    other = page_with_widget(PairExplorer(20, 45, playing=False)).page
    assert page.evaluate(SEEN) | {"turn": None} == other.evaluate(SEEN) | {"turn": None}
    page.wait_for_function("() => model.get('answer').turn === 2")
    seen, wanted = (
        Image.open(io.BytesIO(p.locator(".gl-stage").screenshot())).convert("RGB") for p in (page, other)
    )
    assert seen.size == wanted.size and ImageChops.difference(seen, wanted).getbbox() is None


def test_nobody_meets_a_picture_that_lies_ready(page_with_widget):
    shown = opened(page_with_widget, PairExplorer(18, 45, playing=False))
    page = shown.page
    page.wait_for_function(f"() => {UNDER} === 2")
    told = page.locator(".gl-stage").aria_snapshot()
    assert (
        told
        == page_with_widget(PairExplorer(19, 45, playing=False)).page.locator(".gl-stage").aria_snapshot()
    ), "a screen reader hears of one picture"
    page.focus(".gl-tools button >> nth=-1")
    for _ in range(40):
        page.keyboard.press("Tab")
        assert not page.evaluate("() => !!document.activeElement.closest('.gl-under')")
    box = page.locator(".gl-stage").bounding_box()
    for across in (0.2, 0.4, 0.6, 0.8):
        place = [box["x"] + across * box["width"], box["y"] + box["height"] / 2]
        assert not page.evaluate("([x, y]) => !!document.elementFromPoint(x, y).closest('.gl-under')", place)


def test_nothing_lies_under_a_picture_that_turns(page_with_widget):
    shown = opened(page_with_widget, PairExplorer(18, 45, playing=False))
    page = shown.page
    page.wait_for_function(f"() => {UNDER} === 2")
    page.click(".gl-play")
    page.wait_for_function(f"() => {UNDER} === 0 && document.querySelector('.gl').living.frames > 3")
    page.click(".gl-play")
    page.wait_for_function(f"() => {UNDER} === 2")
    # as it stands now, not as it stood when it was made ready
    page.focus(TEETH)
    page.keyboard.press("ArrowRight")
    assert page.evaluate(LAID) == 1
    angle, turned = page.evaluate(
        "() => [document.querySelector('.gl').living.angle,"
        " parseFloat(document.querySelector('.gl-turns').getAttribute('transform').split('(')[1])]"
    )
    assert angle > 0 and turned == pytest.approx(-angle)


def test_a_handle_with_the_focus_stays_when_a_picture_lies_ready(page_with_widget):
    handle = "[data-control][role=slider]"
    shown = opened(page_with_widget, PlateLayout(), ".gl-controls input[type=range]")
    page = shown.page
    page.wait_for_function(f"() => {UNDER} === 2")
    page.evaluate(
        "words => { window.handle = document.querySelector(words); window.handle.focus(); }",
        handle,
    )
    page.keyboard.press("ArrowRight")
    assert page.evaluate("() => document.activeElement === window.handle && handle.isConnected")
    assert page.evaluate(LAID) == 0 and page.evaluate(f"() => {UNDER}") == 0
    assert float(page.get_attribute(handle, "aria-valuenow")) == page.evaluate(
        "() => model.get(handle.dataset.control)"
    )


def test_keys_between_two_frames_are_drawn_once_and_the_last_is_seen(page_with_widget):
    shown = opened(page_with_widget, PairExplorer(18, 45, playing=False))
    page = shown.page
    headings = page.evaluate(
        """teeth => new Promise(done => { const seen = [], slider = document.querySelector(teeth);
        const note = () => seen.push(document.querySelector('.gl-heading').textContent);
        requestAnimationFrame(() => {
          for (let i = 0; i < 4; i++) {
            slider.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight' }));
            note();
          }
          requestAnimationFrame(() => { note(); done(seen); });
        }); })""",
        TEETH,
    )
    assert headings == [f"{teeth} and 45 teeth, module 2.5" for teeth in (20, 20, 20, 20, 23)]
    page.wait_for_function(f"() => model.get('answer').turn === {STEPS}.turn")
    assert shown.widget.driver_teeth == 23
    assert page.evaluate(SEEN) | {"turn": None} == fresh(page_with_widget, 23)
