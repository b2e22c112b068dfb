"""Lesson 03 in a real browser by keyboard alone.

Predict, move the wheel, answer wrongly twice, be told why, answer rightly.
"""

import json
import re
import shutil

from gearlab.contents import content_folder

LESSON = "03_centre_distance.ipynb"


def focused(page) -> str:
    return page.evaluate(
        "() => { const at = document.activeElement; return at.getAttribute('aria-label') ||"
        " at.labels?.[0]?.textContent || at.textContent || '' }"
    )


class Reader:
    """Somebody at the keyboard: nothing here clicks or sets a focus."""

    def __init__(self, page):
        self.page = page

    def press(self, *keys: str) -> None:
        for key in keys:
            self.page.keyboard.press(key)

    def active(self) -> int:
        return self.page.evaluate("jupyterapp.shell.currentWidget.content.activeCellIndex")

    def run_to(self, text: str) -> None:
        """Run cells one after another, up to and with the code cell that holds a text, and stay on it."""
        for _ in range(40):
            cell = self.page.evaluate(
                "i => { const m = jupyterapp.shell.currentWidget.content.widgets[i].model; return [m.type,"
                " m.sharedModel.getSource()] }",
                self.active(),
            )
            if cell[0] == "code" and text in cell[1]:
                self.press("Control+Enter")
                return
            at = self.active()
            self.press("Shift+Enter")
            self.page.wait_for_function(
                "at => jupyterapp.shell.currentWidget.content.activeCellIndex > at", arg=at
            )
        raise AssertionError(f"no cell holds {text!r}")

    def tab_to(self, name: str) -> None:
        for _ in range(30):
            self.press("Tab")
            if re.search(name, focused(self.page)):
                return
        raise AssertionError(f"Tab does not reach {name!r}; it stopped at {focused(self.page)!r}")

    def back_to_the_cell(self) -> None:
        self.press("Escape")
        assert "jp-Cell" in self.page.evaluate("document.activeElement.className"), (
            "Escape leads back to the cell"
        )
        self.press("ArrowDown")


def test_lesson_03_by_keyboard_alone(lab):
    own = lab.root / "by-keyboard"  # a folder of its own: no earlier answers in it
    own.mkdir()
    shutil.copy(content_folder("notebooks") / LESSON, own / LESSON)
    page = lab.open_file(f"{own.name}/{LESSON}")
    reader = Reader(page)

    reader.run_to("predict(")
    page.wait_for_selector(".gearlab-box input[type=radio]", timeout=40_000)
    reader.tab_to("stands still")
    reader.press("ArrowDown", "ArrowDown")  # the third: exactly as before, only with more play
    reader.tab_to("Record my prediction")
    reader.press("Enter")
    page.wait_for_function("() => document.querySelector('.gearlab-box input[type=radio]').disabled")
    reader.back_to_the_cell()

    reader.run_to("SpacingExplorer(")
    page.wait_for_selector(".gl .gl-controls input[type=range]", timeout=40_000)
    reader.tab_to("^Centre distance$")
    reader.press(*["PageDown"] * 4, *["ArrowLeft"] * 2, *["Shift+ArrowLeft"] * 5)
    # 83.00 - 4 - 0.2 - 0.05 = 78.75 mm, where the pitch circles touch: (18 + 45) 2.5 / 2
    page.wait_for_function("() => /78\\.75 mm/.test(document.querySelector('.gl').textContent)")
    reader.back_to_the_cell()

    reader.run_to('ask("03_centre_distance", "spacing-metric")')
    page.wait_for_selector(".gearlab-box [data-act=check]", timeout=40_000)
    box = page.locator(".gearlab-box", has=page.locator("[data-act=check]")).first
    driver, driven, module = (
        float(n)
        for n in re.search(
            r"(\d+)\D+(\d+)\D+module ([\d.]+)", box.locator(".gearlab-prompt").inner_text()
        ).groups()
    )
    reader.tab_to("^centre distance$")
    for wrong, cause in (
        (module * (driver + driven), "half|twice|radi"),
        (module * (driver + driven + 4) / 2, "outside|tip"),
    ):
        reader.press("Control+a")
        page.keyboard.type(f"{wrong:.3f}".rstrip("0").rstrip("."))
        reader.press("Enter")
        # some draws give a number that two slips lead to; then both stand there, under a line of their own
        page.wait_for_function(
            "text => new RegExp(text,"
            " 'i').test(document.querySelector('.gearlab-cause')?.closest('.gearlab-verdict').textContent"
            " || '')",
            arg=cause,
        )
    reader.press("Control+a")
    # C = m (N1 + N2)/2: Mott, section 8-5
    page.keyboard.type(f"{module * (driver + driven) / 2:.2f}".replace(".", ",") + " mm")
    reader.press("Enter")
    page.wait_for_function(
        "() => /Right/.test(document.querySelector('.gearlab-verdict-line')?.textContent || '')"
    )

    cells = len(json.loads((content_folder("notebooks") / LESSON).read_text(encoding="utf-8"))["cells"])
    assert page.evaluate("jupyterapp.shell.currentWidget.content.widgets.length") == cells, (
        "no key has inserted or deleted a cell"
    )
    lab.close(page)
