"""A notebook opened again when its kernel is gone; the course page with links and keyboard."""

from __future__ import annotations

from pathlib import Path

CELLS = [
    "import os\nos.environ.pop('GEARLAB_ANSWERS', None)\nfrom gearlab.widgets import *\n"
    "predict('03_centre_distance/which', 'Which?', ['a first', 'a second'])",
    "ask('03_centre_distance', 'spacing-metric', number=0)",
    "PairExplorer()",
    "look_back('03_centre_distance/which')",
    "course_page()",
]
LAST = "from gearlab.widgets import course_page\ncourse_page()"
ALIVE = (
    "document.querySelector('.gearlab-course-page .gl-now')"
    " && document.querySelectorAll('.gearlab-box').length === 3"
)


def visible(page, what: str) -> list[bool]:
    return [one.is_visible() for one in page.locator(what).all()]


def test_a_notebook_opened_tomorrow_shows_its_answers(lab):
    page = lab.open(CELLS)
    try:
        page.wait_for_function(ALIVE, timeout=60_000)
        lab.finished(page)
        page.locator(".gearlab-option input").first.click()
        page.locator("[data-act=record]").first.click()
        page.locator(".gearlab-number .gearlab-input").first.fill("12")
        page.locator("[data-act=check]").first.click()
        page.wait_for_function("document.querySelector('.gearlab-verdict [class=gearlab-symbol]')")
        page.wait_for_function(
            "[...document.querySelectorAll('.gearlab-twin')].some(one => one.textContent.includes('✗'))"
        )
        assert visible(page, ".gearlab-twin") == [False] * 4, "while the boxes live"
        page.evaluate("() => jupyterapp.commands.execute('docmanager:save')")
        page.wait_for_function("!jupyterapp.shell.currentWidget.context.model.dirty")
        name = page.notebook.name
        page.evaluate(
            """async () => { await jupyterapp.shell.currentWidget.sessionContext.shutdown();
            await jupyterapp.commands.execute('application:close') }"""
        )
    finally:
        lab.close(page)

    page = lab.open_file(name)
    try:
        page.wait_for_function("document.querySelectorAll('.jupyter-widgets').length === 5")
        page.wait_for_function("document.querySelectorAll('.gearlab-twin').length === 4")
        assert visible(page, ".gearlab-twin") == [True] * 4
        assert visible(page, "img.gl-still") == [True]
        assert not any(visible(page, "text=model not found")), "nobody reads of lost models"
        told = page.locator(".gearlab-twin").all_inner_texts()
        assert "a first ← chosen" in " ".join(told[0].split()) and "Recorded" in told[0]
        assert "12" in told[1] and "✗" in told[1]
    finally:
        lab.close(page)


def test_the_course_page_leads_on_by_keyboard_and_by_link(lab):
    root = Path(lab.root)
    (root / "glossary.md").write_text("### backlash\n\ntext\n", encoding="utf-8")
    page = lab.open([CELLS[0].splitlines()[0] + "\nos.environ.pop('GEARLAB_ANSWERS', None)\n" + LAST])
    try:
        page.locator(".gearlab-course-page .gl-now").wait_for(timeout=60_000)
        summary = page.locator(".gearlab-course-page summary").nth(4)
        summary.focus()
        page.keyboard.press("Enter")
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.dataset.ask").startswith("03_centre_distance/")
        page.keyboard.press("Enter")
        page.wait_for_function("document.activeElement.closest('.gearlab-box') !== null")
        page.keyboard.type("1")
        assert page.evaluate("jupyterapp.shell.currentWidget.content.widgets.length") == 1
        page.get_by_role("link", name="Glossary").first.click()
        page.wait_for_function("jupyterapp.shell.currentWidget.context?.path === 'glossary.md'")
    finally:
        page.evaluate("() => jupyterapp.commands.execute('application:close')")
        lab.close(page)
