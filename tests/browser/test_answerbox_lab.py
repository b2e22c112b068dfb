"""The answer box in a real JupyterLab: saved, lost with the kernel, and back again."""

from __future__ import annotations

import json
from pathlib import Path

SAVED = "document.querySelector('.gearlab-saved')?.textContent === '✓ saved'"
LOST = "document.querySelector('.gearlab-saved')?.textContent === '⚠ not saved: run this cell again'"


def cells(page) -> int:
    return page.evaluate("jupyterapp.shell.currentWidget.content.widgets.length")


def test_an_answer_outlives_its_kernel(lab, monkeypatch):
    page = lab.open(
        [
            (
                "import os\nos.environ.pop('GEARLAB_ANSWERS', None)\nfrom gearlab.widgets import"
                " ask\nask('03_centre_distance', 'spacing-metric')"
            ),
            "1 + 1",
        ]
    )
    try:
        field = page.locator(".gearlab-input")
        field.wait_for(timeout=40_000)
        page.wait_for_selector(".gearlab-twin", state="hidden")
        assert page.locator(".gearlab-twin").count() == 1, "the text twin hides while the box lives"

        field.click()
        page.keyboard.type("78,75")
        page.wait_for_function(SAVED)
        assert page.inner_text(".gearlab-echo") == "read as 78.75 mm"
        page.keyboard.press("Tab")
        for key in ("d", "d", "b", "ArrowDown"):
            page.keyboard.press(key)
        assert cells(page) == 2, "JupyterLab's shortcuts stay away from a focused button"

        # the promise is kept when the kernel is there again
        page.evaluate("jupyterapp.shell.currentWidget.sessionContext.session.kernel.restart()")
        field.fill("79")
        page.wait_for_function(LOST, timeout=15_000)

        page.evaluate("() => { jupyterapp.commands.execute('notebook:run-all-cells') }")
        page.wait_for_function(
            "document.querySelector('.gearlab-saved')?.textContent === '✓ your earlier answer is back'",
            timeout=40_000,
        )
        assert page.input_value(".gearlab-input") == "78,75"
        [file] = Path(lab.root).glob("gearlab-answers.json")
        assert "78,75" in json.dumps(json.loads(file.read_text(encoding="utf-8")))
    finally:
        lab.close(page)
