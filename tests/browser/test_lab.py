"""The living pair in JupyterLab.

It turns without messages, a tooth count changes the picture, the keyboard is guarded.
"""

import json

CELLS = [
    "from gearlab.widgets import PairExplorer\nexplorer = PairExplorer(60, 120, module=2.5)\nexplorer",
    "'the cell below'",
]


def test_living_pair_in_jupyterlab(lab):
    page = lab.open(CELLS)
    page.wait_for_selector(".gl .gl-turns", timeout=40_000)
    frames = "() => document.querySelector('.gl').living.frames"
    page.wait_for_function("() => document.querySelector('.gl').living.frames > 5")
    # the still picture in the output before it is hidden while it lives
    outputs = page.locator(".jp-Cell").first.locator(".jp-OutputArea-child")
    page.wait_for_function("() => document.querySelector('.jp-OutputArea-child').style.display === 'none'")
    assert outputs.count() == 2 and outputs.nth(1).is_visible()

    page.wait_for_timeout(2500)  # the PNG of the still picture is still being made
    before, drawn = len(page.traffic), page.evaluate(frames)
    page.wait_for_timeout(1500)
    assert page.evaluate(frames) > drawn + 10, "it turns"
    assert len(page.traffic) == before, "and says nothing to the kernel"

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
    page.wait_for_timeout(200)
    assert page.locator(".jp-CodeCell").count() == cells == 2

    page.click(".gl-play")
    page.wait_for_function("() => !document.querySelector('.gl').living.playing")
    page.evaluate("() => jupyterapp.commands.execute('docmanager:save')")
    page.wait_for_timeout(800)
    saved = json.loads(page.notebook.read_text())
    still, alive = saved["cells"][0]["outputs"]
    assert {"image/png", "image/svg+xml"} <= set(
        still["data"]
    ) and "application/vnd.jupyter.widget-view+json" in alive["data"]
    assert "".join(alive["data"]["text/plain"]) == "PairExplorer(60 and 120 teeth, module 2.5)"
    lab.close(page)
