"""The living pair in JupyterLab.

It turns without messages, a tooth count changes the picture, the keyboard is guarded.
"""

import json

CELLS = [
    "from gearlab.widgets import PairExplorer\nexplorer = PairExplorer(60, 120, module=2.5)\nexplorer",
    "'the cell below'",
]


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
    # a word of our own to the kernel and back: by then a command of the notebook would have been done
    page.evaluate("() => jupyterapp.shell.currentWidget.sessionContext.session.kernel.requestKernelInfo()")
    assert page.locator(".jp-CodeCell").count() == cells == 2

    page.click(".gl-play")
    page.wait_for_function("() => !document.querySelector('.gl').living.playing")
    page.evaluate("() => jupyterapp.commands.execute('docmanager:save')")
    page.wait_for_function("() => !jupyterapp.shell.currentWidget.context.model.dirty")
    saved = json.loads(page.notebook.read_text())
    still, alive = saved["cells"][0]["outputs"]
    assert {"image/png", "image/svg+xml"} <= set(
        still["data"]
    ) and "application/vnd.jupyter.widget-view+json" in alive["data"]
    assert "".join(alive["data"]["text/plain"]) == "PairExplorer(60 and 120 teeth, module 2.5)"
    lab.close(page)
