"""The living pair in JupyterLab.

It turns without messages, a tooth count changes the picture, the keyboard is guarded.
"""

import json

CELLS = [
    "from gearlab.widgets import PairExplorer\nexplorer = PairExplorer(60, 120, module=2.5)\nexplorer",
    "'the cell below'",
]


RING = """node => { const style = getComputedStyle(node);
    const root = getComputedStyle(node.closest('.gl'));
    const numbers = text => text.match(/[\\d.]+/g).slice(0, 3).map(Number);
    return { width: parseFloat(style.outlineWidth), style: style.outlineStyle,
             gap: parseFloat(style.outlineOffset),
             colour: numbers(style.outlineColor), paper: numbers(root.backgroundColor) } }"""


def contrast(a, b):
    """Contrast of two colours, 0 to 255 each: WCAG 2.2, contrast ratio and relative luminance."""

    def luminance(colour):
        linear = [
            c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4
            for c in (each / 255 for each in colour)
        ]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    low, high = sorted((luminance(a), luminance(b)))
    return (high + 0.05) / (low + 0.05)


def said(page):
    """Messages between a widget and Python, either way: the comm messages of the kernel's sockets."""
    return [(way, kind, size) for way, kind, size in page.traffic if kind.startswith("comm_")]


def test_living_pair_in_jupyterlab(lab):
    page = lab.open(CELLS)
    page.wait_for_selector(".gl .gl-turns", timeout=40_000)
    frames = "() => document.querySelector('.gl').living.frames"
    page.wait_for_function("() => document.querySelector('.gl').living.frames > 5")
    # the still picture in the output before it is hidden while it lives
    outputs = page.locator(".jp-Cell").first.locator(".jp-OutputArea-child")
    page.wait_for_function("() => document.querySelector('.jp-OutputArea-child').style.display === 'none'")
    assert outputs.count() == 2 and outputs.nth(1).is_visible()

    # it turns, and widget and kernel say nothing to each other meanwhile; a kernel's heartbeat or the word
    # that it is idle may come at any time and is none of it
    lab.finished(page)
    assert said(page), "the widget was made by such messages: they are seen here"
    before, drawn = len(said(page)), page.evaluate(frames)
    page.wait_for_function(
        "drawn => document.querySelector('.gl').living.frames > drawn + 60", arg=drawn, timeout=60_000
    )
    assert said(page)[before:] == []

    slider = "input[type=range][aria-label='Teeth of the driver']"
    path = page.get_attribute("path.r-driver", "d")
    page.focus(slider)
    page.keyboard.press("ArrowRight")
    page.wait_for_function(
        "() => document.querySelector('.gl-heading').textContent === '61 and 120 teeth, module 2.5'"
    )
    assert page.get_attribute("path.r-driver", "d") != path
    # 61 and 120 at module 2.5: (61 + 120) * 2.5 / 2
    assert page.inner_text("button[aria-label^='centre distance:']") == "226.25 mm"

    cells = page.locator(".jp-CodeCell").count()
    for target in (slider, ".gl .gl-turns[tabindex]", ".gl-play"):
        page.focus(target)
        for key in ("d", "d", "b", "a", "x"):
            page.keyboard.press(key)
    # the ring is ours, not the host's, on our own buttons too
    for target in (".gl-play", ".gl .gl-toggle >> nth=0", ".gl-more-readout summary"):
        page.focus(target)
        ring = page.locator(target).evaluate(RING)
        assert ring["width"] >= 2 and ring["style"] == "solid" and ring["gap"] >= 2, ring
        assert contrast(ring["colour"], ring["paper"]) >= 3, ring  # WCAG 2.2, 1.4.11
    # a word of our own to the kernel and back: by then a command of the notebook would have been done
    page.evaluate("() => jupyterapp.shell.currentWidget.sessionContext.session.kernel.requestKernelInfo()")
    assert page.locator(".jp-CodeCell").count() == cells == 2

    page.click(".gl-play")
    page.wait_for_function("() => !document.querySelector('.gl').living.playing")
    page.evaluate("() => jupyterapp.commands.execute('docmanager:save')")
    page.wait_for_function("() => !jupyterapp.shell.currentWidget.context.model.dirty")
    saved = json.loads(page.notebook.read_text())
    still, alive = saved["cells"][0]["outputs"]
    assert {"image/png", "text/html"} <= set(
        still["data"]
    ) and "application/vnd.jupyter.widget-view+json" in alive["data"]
    assert "".join(alive["data"]["text/plain"]) == "PairExplorer(60 and 120 teeth, module 2.5)"
    lab.close(page)


STEPS = "document.querySelector('.gl').steps"
TEETH = "input[type=range][aria-label='Teeth of the driver']"
PAIR = "from gearlab.widgets import PairExplorer\nexplorer = PairExplorer(18, 45, playing=False)\nexplorer"
BELOW = (
    "runs = globals().get('runs', 0) + 1\n"
    "print(runs, explorer.driver_teeth, explorer.value('centre_distance'), explorer.heading)"
)
# keys on the slider and, in the same moment, the hand leaves it and the cell below is run
KEYS_AND_RUN = """([label, keys]) => {
    const slider = document.querySelector(label);
    slider.focus();
    const event = key => new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true });
    for (const key of keys) slider.dispatchEvent(event(key));
    slider.blur();
    jupyterapp.shell.currentWidget.content.activeCellIndex = 1;
    jupyterapp.commands.execute('notebook:run-cell');
}"""


def holding(page):
    """The hand comes to the slider, and the next states are held."""
    page.evaluate("label => document.querySelector(label).blur()", TEETH)
    page.focus(TEETH)
    page.wait_for_function(f"() => {STEPS}.holds > 0 && {STEPS}.ready > 0")


def test_a_step_is_held_and_a_cell_run_right_after_it_sees_it(lab):
    page = lab.open([PAIR, BELOW])
    page.wait_for_selector(".gl .gl-turns", timeout=40_000)
    page.wait_for_function("() => document.querySelector('.jp-Notebook').textContent.includes('1 18 78.75')")
    holding(page)
    page.keyboard.press("ArrowRight")
    assert page.inner_text(".gl-heading") == "19 and 45 teeth, module 2.5"
    assert page.evaluate(f"() => {STEPS}.counts") == {"held": 1, "asked": 0}
    page.wait_for_function(f"() => {STEPS}.ready > 0")
    teeth = 19
    # held steps; one that must be asked for; one behind it that is held; many at once
    for run, (keys, moved) in enumerate(
        (
            (["ArrowRight"], 1),
            (["End"], 160),
            (["Home", "ArrowRight"], 7),
            (["ArrowRight", "PageUp"] * 4, 44),
        ),
        2,
    ):
        teeth = moved if keys[0] in ("End", "Home") else teeth + moved
        page.evaluate(KEYS_AND_RUN, [TEETH, keys])
        page.wait_for_function(
            "run => [...document.querySelectorAll('.jp-Cell')][1].querySelector('.jp-OutputArea-output')"
            "?.textContent.startsWith(run + ' ')",
            arg=str(run),
        )
        told = page.locator(".jp-Cell").nth(1).locator(".jp-OutputArea-output").inner_text().strip()
        assert told == f"{run} {teeth} {(teeth + 45) * 1.25} {teeth} and 45 teeth, module 2.5"
        page.wait_for_function(
            "text => document.querySelector('.gl-heading').textContent === text",
            arg=f"{teeth} and 45 teeth, module 2.5",
        )
    lab.close(page)


def test_nothing_stale_after_a_cell_is_run_again_or_the_kernel_restarted(lab):
    page = lab.open([PAIR.replace("18, 45", "teeth, 45"), "'below'"], run=False)
    run_again = "() => { jupyterapp.commands.execute('notebook:run-all-cells') }"
    execute = """async code => { const kernel = jupyterapp.shell.currentWidget.sessionContext.session.kernel;
        await kernel.requestExecute({ code }).done; }"""
    page.evaluate(execute, "teeth = 18")
    page.evaluate(run_again)
    page.wait_for_selector(".gl .gl-turns", timeout=40_000)
    holding(page)
    # another explorer by the same cell: it holds nothing of the one before
    page.evaluate(execute, "teeth = 30")
    page.evaluate(run_again)
    page.wait_for_function("() => document.querySelector('.gl-heading')?.textContent.startsWith('30 and 45')")
    page.focus(TEETH)
    page.keyboard.press("ArrowRight")
    page.wait_for_function("() => document.querySelector('.gl-heading')?.textContent.startsWith('31 and 45')")
    page.wait_for_function(f"() => {STEPS}.holds > 0")
    # a new kernel knows nothing of the old picture: it is not stepped on, and says so
    page.evaluate(
        "async () => { await jupyterapp.shell.currentWidget.sessionContext.session.kernel.restart(); }"
    )
    page.wait_for_function(f"() => {STEPS}.holds === 0")
    page.keyboard.press("ArrowRight")
    assert page.inner_text(".gl-heading") == "31 and 45 teeth, module 2.5"
    page.wait_for_selector(".gl-silent:visible")
    lab.close(page)
