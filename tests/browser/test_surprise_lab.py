"""A surprise in a real JupyterLab: it waits for the prediction, appears in its place, and is saved."""

from __future__ import annotations

import json

import nbformat
import pytest

KEY = "07_contact/ten-teeth"
CELLS = [
    f'from gearlab.widgets import RackCutter, look_back, predict, surprise\npredict("{KEY}")',
    "def measured():\n    print('on the cut teeth: 1.09')\n    return {10: 1.09}\n"
    f'cut = surprise("{KEY}", measured)',
    f'surprise("{KEY}", RackCutter(teeth=12, module=2.5), text="undercut")',
    "print(f'a later cell finds {cut[10]}')",
    f'look_back("{KEY}")',
]
TOLD = "With 10 teeth, 1.09 is left of the 1.55"
WHY = "its tip takes away flank that it has just made"


def texts(page) -> list[str]:
    """What is to be read under each cell."""
    return page.evaluate(
        "() => [...document.querySelectorAll('.jp-CodeCell')].map("
        "cell => cell.querySelector('.jp-Cell-outputWrapper')?.innerText || '')"
    )


def wait_for(page, place: int, words: str) -> None:
    """Wait until these words are to be read under a cell."""
    page.wait_for_function(
        """([place, words]) => (document.querySelectorAll('.jp-CodeCell')[place]
        ?.querySelector('.jp-Cell-outputWrapper')?.innerText || '').includes(words)""",
        arg=[place, words],
        timeout=60_000,
    )


def waiting(page) -> None:
    """A later cell finds what a function gave, and nothing is told yet."""
    wait_for(page, 1, "Your prediction comes first")
    wait_for(page, 2, "More of the surprise: it appears here when the surprise opens.")
    assert page.get_by_role("button", name="Show me without a prediction").count() == 1
    wait_for(page, 3, "a later cell finds 1.09")
    wait_for(page, 4, "No prediction is recorded yet")
    lab_texts = texts(page)
    for place in (1, 2, 4):
        assert "1.09" not in lab_texts[place] and "flank" not in lab_texts[place]
    assert "held" not in lab_texts[4] and page.locator(".gl-picture").count() == 0


def opened(page) -> list[str]:
    """What is to be read once it is open."""
    wait_for(page, 1, TOLD)
    wait_for(page, 2, WHY)
    wait_for(page, 4, "What held: It is much smaller")
    page.wait_for_selector(".gl-picture", timeout=60_000)
    lab_texts = texts(page)
    assert "on the cut teeth: 1.09" in lab_texts[1] and TOLD not in lab_texts[2]
    return lab_texts


@pytest.fixture(autouse=True)
def nothing_answered_before(lab):
    for file in lab.root.glob("gearlab-a*"):
        file.unlink()


def test_a_notebook_opened_again_tells_of_no_lost_widget(lab):
    """Neither where the surprise still waits nor where it has opened."""
    page = lab.open(CELLS, height=3000)
    try:
        waiting(page)
        reopened(lab, page, "comes first")
        name = page.notebook.name
    finally:
        lab.close(page)
    page = lab.open_file(name, run=True, height=3000)
    try:
        waiting(page)
        page.locator("input[type=radio]").first.check()
        page.click("[data-act=record]")
        opened(page)
        lab.finished(page)
        reopened(lab, page, TOLD)
    finally:
        lab.close(page)


def reopened(lab, page, words: str) -> None:
    """Save, close and open the notebook again, without its kernel's widgets; see what is read there."""
    path = page.notebook.name
    page.evaluate("() => jupyterapp.commands.execute('docmanager:save')")
    page.wait_for_function("!jupyterapp.shell.currentWidget.context.model.dirty", timeout=20_000)
    page.evaluate(
        """async () => { await jupyterapp.shell.currentWidget.sessionContext.shutdown();
        await jupyterapp.commands.execute('application:close') }"""
    )
    page.wait_for_function("!jupyterapp.shell.currentWidget?.context")
    page.evaluate(
        "path => { jupyterapp.commands.execute('docmanager:open', { path, factory: 'Notebook' }) }", path
    )
    wait_for(page, 1, words)
    # JupyterLab says so in place of each widget; what hides it comes with the outputs
    page.wait_for_function(
        "() => [...document.querySelectorAll('.jupyter-widgets')].filter("
        "at => /model not found/.test(at.textContent)).length >= 4",
        timeout=40_000,
    )
    lost = [each for each in page.get_by_text("model not found").all() if each.is_visible()]
    assert not lost, f"{len(lost)} lines for lost widgets are to be read"


def test_a_surprise_opens_when_the_prediction_is_recorded(lab):
    page = lab.open(CELLS, height=3000)
    try:
        waiting(page)
        page.locator("input[type=radio]").first.check()
        page.click("[data-act=record]")
        wait_for(page, 0, "Your prediction is recorded.")
        lab_texts = opened(page)
        assert (
            "You predicted: It is 1.55" in lab_texts[4]
            and "That did not hold. It is tempting" in lab_texts[4]
        )
        assert "What held: It is much smaller" in lab_texts[4]

        page.evaluate("() => jupyterapp.commands.execute('docmanager:save')")
        page.wait_for_function("!jupyterapp.shell.currentWidget.context.model.dirty", timeout=20_000)
        saved = nbformat.read(page.notebook, as_version=4)
        outputs = [json.dumps(cell.outputs, ensure_ascii=False) for cell in saved.cells]
        assert TOLD in outputs[1] and "on the cut teeth: 1.09" in outputs[1] and WHY in outputs[2]
        assert "image/svg+xml" in outputs[2] and "comes first" not in outputs[1] + outputs[2]
        nbformat.validate(saved)
    finally:
        lab.close(page)


def test_without_a_prediction_it_opens_when_asked(lab):
    page = lab.open(CELLS, height=3000)
    try:
        waiting(page)
        button = page.locator("[data-act=open]").first
        button.focus()
        page.keyboard.press("Enter")
        lab_texts = opened(page)
        assert "You looked without a prediction." in lab_texts[4] and "What held: It is much" in lab_texts[4]
        assert page.evaluate("document.activeElement.dataset.act") == "open", "the focus is not lost"
        rows = (lab.root / "gearlab-attempts.jsonl").read_text(encoding="utf-8").splitlines()
        assert [json.loads(row)["event"] for row in rows] == ["opened"], "a cell that ran reads nothing"
        page.click("[data-act=read]")
        page.wait_for_function(
            "() => /Recorded as read/.test(document.querySelector('[data-act=read]').textContent)"
        )
        rows = (lab.root / "gearlab-attempts.jsonl").read_text(encoding="utf-8").splitlines()
        assert [json.loads(row)["event"] for row in rows] == ["opened", "read"]
    finally:
        lab.close(page)
