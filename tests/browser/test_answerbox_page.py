"""The answer boxes in a real browser.

The front end behind a stand-in model, the real Python object behind that.
"""

from __future__ import annotations

import json

import pytest

from gearlab.widgets.box import Box

PAGE = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>box</title>
<style>body { margin: 8px; }</style><style id="css"></style></head><body><main id="here"></main>
<script type="module">
import widget from "/box.js";
class Model {
  constructor(state) { this.state = state; this.changed = {}; this.heard = {}; this.answers = true; this.waiting = 0; }
  get(name) { return this.state[name]; }
  set(name, value) { this.state[name] = value; this.changed[name] = value; this.tell(name); }
  tell(name) { for (const call of [...(this.heard["change:" + name] || [])]) call(); }
  on(name, call) { (this.heard[name] ||= []).push(call); }
  off(name, call) { this.heard[name] = (this.heard[name] || []).filter((one) => one !== call); }
  listeners() { return Object.values(this.heard).reduce((sum, list) => sum + list.length, 0); }
  async save_changes() {
    const changed = this.changed; this.changed = {};
    if (!this.answers) return;
    this.waiting += 1;
    this.receive(await window.python(changed));
    this.waiting -= 1;
  }
  receive(state) {
    const fresh = Object.keys(state).filter((name) => JSON.stringify(state[name]) !== JSON.stringify(this.state[name]));
    for (const name of fresh) this.state[name] = state[name];
    for (const name of fresh) this.tell(name);
  }
}
window.start = (state) => { window.model = new Model(state); window.done = widget.render({ model: window.model, el: document.getElementById("here") }); };
window.ready = true;
</script></body></html>"""  # noqa: E501


@pytest.fixture
def show(tabs):
    """Put a box on an empty page: show(box) returns the page."""

    def put(box: Box, width: int = 900, dark: bool = False, reduced: bool = False):
        page = tabs(width, 900, reduced=reduced)

        def state() -> dict:
            return json.loads(
                json.dumps({name: getattr(box, name) for name in ("view", "status", "draft", "action")})
            )

        def python(changed: dict) -> dict:
            box.set_state(changed)
            return state()

        page.serve = lambda url: (box._esm, "text/javascript") if url.endswith(".js") else (PAGE, "text/html")
        page.calls = {"python": python}
        page.goto("http://gearlab.test/")
        page.wait_for_function("window.ready")
        page.evaluate("css => { document.getElementById('css').textContent = css }", box._css)
        if dark:
            page.evaluate("document.body.setAttribute('data-jp-theme-light', 'false')")
        page.evaluate("state => window.start(state)", state())
        return page

    return put


@pytest.fixture
def practice(tmp_path, monkeypatch):
    """A practice box of the lesson on centre distance, its answers in a folder of the test.

    Its numbers are the same in every run: which slips a wrong number may be depends on what was drawn.
    """
    from gearlab.widgets import answerbox

    monkeypatch.setenv("GEARLAB_ANSWERS", str(tmp_path))
    monkeypatch.setattr(answerbox, "reader_seed", lambda answers: "greenhouse")
    ask = answerbox.ask
    return lambda question="spacing-metric", bank="03_centre_distance": ask(bank, question)


def right_answer(box) -> float:
    """C = m (N1 + N2) / 2 (Mott, Machine Elements in Mechanical Design, 4th ed., sec. 8-5)."""
    values = box.draw.values
    return values["module"] * (values["driver_teeth"] + values["driven_teeth"]) / 2


def saved(page) -> None:
    """Wait until Python has answered every report and the box says that it is kept."""
    page.wait_for_function(
        "!model.waiting && document.querySelector('.gearlab-saved').textContent === '✓ saved'"
    )


def test_answered_with_the_keyboard_alone(show, practice):
    box = practice()
    page = show(box)
    page.keyboard.press("Tab")
    field = page.get_by_role("textbox", name=box.view["fields"][0]["label"] + " mm", exact=True)
    assert field.evaluate("node => node === document.activeElement")
    assert field.evaluate("node => parseFloat(getComputedStyle(node).outlineWidth)") >= 2
    page.keyboard.type(f"{right_answer(box)} mm")
    page.wait_for_function("document.querySelector('.gearlab-echo').textContent.startsWith('read as')")
    page.keyboard.press("Enter")
    page.wait_for_selector(".gearlab-verdict[data-tone=right]")
    said = page.get_by_role("status").inner_text()
    verdict = page.inner_text(".gearlab-verdict").removeprefix("✓").split()
    assert verdict[0] == "Right." and said.split() == [
        *box.view["fields"][0]["label"].split()[:-1],
        box.view["fields"][0]["label"].split()[-1] + ":",
        *verdict,
    ], "what is seen is what is said"
    assert box.done
    assert page.get_by_role("group", name="Question: Centre distance, metric").count() == 1


def test_a_wrong_answer_says_why_beside_the_field(show, practice):
    box = practice()
    page = show(box)
    page.fill(".gearlab-input", str(2 * right_answer(box)))
    page.click("[data-act=check]")
    page.wait_for_selector(".gearlab-verdict[data-tone=wrong]")
    field = page.locator(".gearlab-input")
    assert field.get_attribute("aria-invalid") == "true"
    described = " ".join(
        page.inner_text("#" + name) for name in field.get_attribute("aria-describedby").split()
    )
    assert "Did you add diameters instead of radii?" in described
    assert "2 of 3 tries left" in page.inner_text(".gearlab-tries")
    page.click("[data-act=hint]")
    page.wait_for_selector(".gearlab-hints li")
    page.click("[data-act=solve]")
    page.wait_for_selector(".gearlab-solution math")
    assert page.locator(".gearlab-input").evaluate("node => node.readOnly")
    page.click("[data-act=renew]")
    page.wait_for_function("!document.querySelector('.gearlab-solution').children.length")
    assert page.inner_text(".gearlab-prompt").strip() == box.draw.prompt and box.number == 1


def test_three_tries_one_help_after_another(show, practice):
    box = practice()
    page = show(box)
    told = []
    for left, share in (("2 of 3", 2), ("1 of 3", 0.5), ("there when you want it", 10)):
        page.fill(".gearlab-input", str(share * right_answer(box)))
        page.click("[data-act=check]")
        page.wait_for_function(
            "left => document.querySelector('.gearlab-tries').textContent.includes(left)", arg=left
        )
        lines = page.locator(".gearlab-cause").all_inner_texts()
        told.append(lines)
        said = page.get_by_role("status").inner_text()
        assert all(line in said for line in lines) and page.inner_text(".gearlab-tries") in said
    assert told[0] == ["Did you add diameters instead of radii?"]
    # where the module drawn is 2, that is half the sum of the teeth as well, which is named before it
    assert "Your number is half the centre distance" in told[1][0]
    assert told[2][-1].startswith("The way:")
    assert page.locator(".gearlab-solution math").count() == 0
    # the first number again, in another writing: no try, and said so
    page.fill(".gearlab-input", f"{2 * right_answer(box) / 10:g} cm")
    page.click("[data-act=check]")
    page.wait_for_function("document.querySelector('.gearlab-cause').textContent.includes('already')")
    assert page.inner_text(".gearlab-cause >> nth=0") in page.get_by_role("status").inner_text()
    page.get_by_role("button", name="Show the solution", exact=True).click()
    page.wait_for_selector(".gearlab-solution math")


def test_an_ambiguous_comma_is_asked(show, practice):
    box = practice()
    page = show(box)
    page.fill(".gearlab-input", "1,234")
    page.wait_for_selector(".gearlab-reading")
    assert page.locator(".gearlab-reading").all_inner_texts() == ["1.234 mm", "1234 mm"]
    page.click(".gearlab-reading >> nth=1")
    page.wait_for_function("document.querySelector('.gearlab-echo').textContent === 'read as 1234 mm'")
    assert page.locator(".gearlab-input").evaluate("node => node === document.activeElement")
    assert box.texts["centre_distance"].startswith("1234")


def test_saved_is_said_only_when_the_kernel_says_so(show, practice):
    box = practice()
    page = show(box)
    page.fill(".gearlab-input", "78")
    saved(page)
    page.evaluate("window.model.answers = false")  # the kernel is gone
    page.fill(".gearlab-input", "78.7")
    assert page.inner_text(".gearlab-saved") == "saving …"
    page.wait_for_function(
        "document.querySelector('.gearlab-saved').textContent === '⚠ not saved: run this cell again'",
        timeout=4000,
    )
    assert box.answers.get(box.name)["texts"]["centre_distance"] == "78"
    page.evaluate("window.model.answers = true")  # it was only busy
    page.fill(".gearlab-input", "78.75")
    saved(page)
    assert box.answers.get(box.name)["texts"]["centre_distance"] == "78.75"


def test_no_key_reaches_the_notebook_but_saving_does(show, practice):
    page = show(practice())
    page.evaluate(
        "window.heard = []; document.addEventListener('keydown', (event) => window.heard.push(event.key))"
    )
    for target in (".gearlab-input", "[data-act=check]"):
        page.focus(target)
        for key in ("d", "d", "b", "ArrowDown", "Enter"):
            page.keyboard.press(key)
    assert page.evaluate("window.heard") == []
    page.keyboard.press("Control+s")
    assert "s" in page.evaluate("window.heard")
    assert page.locator("button, input, textarea").evaluate_all(
        "nodes => nodes.every(node => node.dataset.lmSuppressShortcuts === 'true')"
    )


def test_choices_are_a_group_of_radio_buttons(show, practice):
    box = practice("which-circles-touch")
    page = show(box)
    radios = page.get_by_role("radio")
    assert radios.count() == len(box.draw.options) >= 3
    assert page.get_by_role("group", name="Choose one").count() == 1
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    page.keyboard.press("ArrowDown")
    saved(page)
    assert box.texts["choice"] == box.draw.options[1][0]
    page.get_by_role("textbox", name="Why?").fill("rolling")
    saved(page)
    assert box.texts["reason"] == "rolling"


def test_several_may_be_ticked(show, practice):
    box = practice("eighty-millimetre-plate")
    page = show(box)
    page.check("input >> nth=0")
    page.check("input >> nth=2")
    saved(page)
    assert page.get_by_role("group", name="Tick all that fit").count() == 1
    assert box.texts["choice"] == ", ".join(box.draw.options[place][0] for place in (0, 2))


def test_an_expression_is_typeset_while_typing(show, practice):
    box = practice("spacing-metric-formula")
    page = show(box)
    page.fill(".gearlab-input", "m*(N1+N2)/2")
    page.wait_for_selector(".gearlab-echo math mfrac")
    page.fill(".gearlab-input", "<img src=x onerror=window.bad=1>")
    page.wait_for_selector(".gearlab-echo[data-tone=problem]")
    assert page.locator(".gearlab-box img").count() == 0 and not page.evaluate("window.bad")


@pytest.mark.parametrize("question", ["spacing-metric", "eighty-millimetre-plate", "diameters-then-spacing"])
def test_fits_320_pixels_with_targets_of_24(show, practice, question):
    page = show(practice(question), width=320)
    (
        page.fill(".gearlab-input", "1,234")
        if question != "eighty-millimetre-plate"
        else page.check("input >> nth=1")
    )
    page.click("[data-act=solve]")
    page.wait_for_selector(".gearlab-solution:not(:empty)")
    assert page.evaluate("document.documentElement.scrollWidth <= 320")
    for node in page.locator("button:visible, input[type=text], textarea, label.gearlab-option").all():
        size = node.bounding_box()
        assert size["height"] >= 24 and size["width"] >= 24


DARK = {
    "--jp-layout-color0": "#111111",
    "--jp-layout-color1": "#212121",
    "--jp-layout-color2": "#424242",
    "--jp-content-font-color1": "#ffffff",
    "--jp-content-font-color2": "rgba(255,255,255,0.7)",
    "--jp-border-color1": "#616161",
    "--jp-brand-color1": "#2196f3",
}
CONTRAST = """nodes => nodes.filter(node => node.textContent.trim()).map(node => {
  const parse = (text) => { const found = text.match(/[\\d.]+/g).map(Number); return found.length > 3 ? found : [...found, 1]; };
  const over = (top, below) => below.map((value, i) => i < 3 ? top[i] * top[3] + value * (1 - top[3]) : 1);
  const stack = []; for (let at = node; at; at = at.parentElement) stack.push(parse(getComputedStyle(at).backgroundColor));
  const paper = stack.reverse().reduce((below, top) => over(top, below), [255, 255, 255, 1]);
  const ink = over(parse(getComputedStyle(node).color), paper);
  const light = (colour) => colour.slice(0, 3).map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
    .reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
  const [a, b] = [light(ink), light(paper)].sort((x, y) => y - x);
  return [node.className, (a + 0.05) / (b + 0.05)];
})"""  # noqa: E501


@pytest.mark.parametrize("dark", [False, True])
def test_text_stands_out_in_light_and_dark(show, practice, dark):
    """At least 4.5 : 1, WCAG 2.2, success criterion 1.4.3."""
    box = practice("diameters-then-spacing")
    page = show(box, dark=dark)
    if dark:
        page.evaluate(
            "values => { for (const [name, value] of Object.entries(values))"
            " document.body.style.setProperty(name, value) }",
            DARK,
        )
    page.fill(
        ".gearlab-input >> nth=0", str(box.draw.values["driver_teeth"] / box.draw.values["diametral_pitch"])
    )
    page.fill(".gearlab-input >> nth=1", "seventy")
    page.fill(".gearlab-input >> nth=2", "1")
    page.click("[data-act=hint]")
    page.click("[data-act=check]")
    page.wait_for_selector(".gearlab-verdict[data-tone=wrong]")
    page.wait_for_function("() => document.getAnimations().every(motion => motion.playState === 'finished')")
    found = page.locator(".gearlab-box :is(p, span, label, li, button, b)").evaluate_all(CONTRAST)
    assert {"right", "wrong"} <= {
        node.get_attribute("data-tone") for node in page.locator(".gearlab-verdict").all()
    }
    assert len(found) > 15 and min(ratio for _, ratio in found) >= 4.5, sorted(
        found, key=lambda pair: pair[1]
    )[:3]


def test_nothing_moves_for_those_who_ask(show, practice):
    page = show(practice(), reduced=True)
    assert page.locator("button").first.evaluate("node => getComputedStyle(node).transitionDuration") == "0s"


def test_nothing_is_left_after_clean_up(show, practice):
    page = show(practice())
    assert page.evaluate("window.model.listeners()") > 0
    page.evaluate("window.done()")
    assert page.evaluate("window.model.listeners()") == 0 and page.locator(".gearlab-box").count() == 0


def test_a_reload_with_a_living_kernel_keeps_what_was_typed(show, practice):
    box = practice()
    page = show(box)
    page.fill(".gearlab-input", "78.75")
    saved(page)
    page = show(box)
    assert page.input_value(".gearlab-input") == "78.75"
    page.fill(".gearlab-input", "78.8")
    saved(page)
    assert box.texts["centre_distance"] == "78.8"


def test_a_prediction_is_locked_once_recorded(show, practice):
    from gearlab.widgets.prediction import predict

    box = predict("browser/turn", "Which way?", ["left", "right"])
    page = show(box)
    page.click("[data-act=record]")
    page.wait_for_function("document.querySelector('[role=status]').textContent.includes('guess')")
    page.click("text=right")
    page.click("[data-act=record]")
    page.wait_for_function("document.querySelector('[data-act=record]').textContent.startsWith('Recorded')")
    assert page.locator("input[type=radio]:disabled").count() == 1 and box.choice == "right"
    assert page.locator("[data-act=record]").get_attribute("aria-disabled") == "true"


def test_a_reason_counts_its_characters(show, practice):
    """How much of a text is used up is seen at every key, is read out with the field, and is kept."""
    box = practice("why-they-overlap", "09_lining_up_the_teeth")
    page = show(box)
    field = page.get_by_role("textbox", name="your reason", exact=True)
    assert page.inner_text(".gearlab-count") == "0 of 600 characters"
    assert (
        page.locator(".gearlab-count").get_attribute("id") in field.get_attribute("aria-describedby").split()
    )
    field.fill("A tooth needs a space.")
    assert page.inner_text(".gearlab-count") == "22 of 600 characters"
    field.fill("x" * 700)
    assert page.inner_text(".gearlab-count") == "600 of 600 characters"
    field.fill("A tooth needs a space.")
    saved(page)
    assert box.texts["text"] == "A tooth needs a space."
    page.get_by_role("button", name="Check", exact=True).click()
    page.wait_for_selector(".gearlab-verdict[data-tone=quiet]")
    assert "180 degrees over its tooth count" in page.inner_text(".gearlab-verdict")
    assert field.evaluate("node => node.readOnly && node.getAttribute('aria-invalid') === null")
