"""Lessons done by keyboard alone in JupyterLab: Tab stops, keys, and whether every task could be done.

    python tests/bench/keyboard.py [01 03 07 08 09] [--dark] [--large] [--size 800x768] [--words]

Each lesson is opened in a folder of its own, with the file browser open, and gone through cell by cell: a
prediction is chosen and recorded, a gear of each explorer is turned and its first control moved, each hidden
step of a derivation is opened, each question is answered wrongly three times (the first number twice: the
second time it must cost nothing) and then rightly, a line of the student's own is written, the prediction is
looked back at. What there is to do is read from the page, not from cell numbers. Nothing here clicks or sets
a focus. A task that cannot be reached or does not answer is named; each is told on the way, to the standard
error, with ``--words`` what the boxes say as well. Last, the most Tab stops from a cell to what is done in
it. (The right answers are the key's: it is the keyboard that is tried here.)
"""

from __future__ import annotations

import argparse
import os
import re
import shutil
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))
from conftest import ARGUMENTS, Lab  # noqa: E402

from gearlab.contents import content_folder, lesson_bank  # noqa: E402
from gearlab.practice import load_bank  # noqa: E402
from gearlab.practice.workbook.progress import Answers  # noqa: E402
from gearlab.widgets.answerbox import reader_seed  # noqa: E402

ASKED = re.compile(r"""\b(?:ask|check)\(\s*["']([\w-]+)["'],\s*["']([\w-]+)["']""")
MOST_TABS = 60
WAIT = 30_000  # ms for an answer of the kernel, on a busy machine

CELL = """() => { const notebook = jupyterapp.shell.currentWidget.content, i = notebook.activeCellIndex, cell = notebook.widgets[i];
  const outputs = cell.model.outputs ? cell.model.outputs.toJSON() : [];
  return { i, count: notebook.widgets.length, kind: cell.model.type, source: cell.model.sharedModel.getSource(), run: cell.model.executionCount > 0 && notebook.parent.sessionContext.session.kernel.status === 'idle',
    failed: outputs.filter(each => each.output_type === 'error').map(each => each.ename),
    text: cell.node.querySelector('.jp-Cell-outputWrapper')?.innerText ?? '', wanted: outputs.filter(each => each.data?.['application/vnd.jupyter.widget-view+json']).length,
    things: [...cell.node.querySelectorAll('.gl,.gearlab-box,.gearlab-course-page')].map(node => node.classList.contains('gl') ? 'explorer' : node.dataset.mode ?? 'page') }; }"""  # noqa: E501
STEPS = "() => [...jupyterapp.shell.currentWidget.content.activeCell.node.querySelectorAll('.gearlab-derivation details')].filter(step => !step.open).length"  # noqa: E501
FOCUS = """() => { const at = document.activeElement, box = at.closest('.gl,.gearlab-box'), cell = at.closest('.jp-Cell');
  const all = cell ? [...cell.querySelectorAll('.gl,.gearlab-box,.gearlab-course-page')] : [];
  return { thing: all.indexOf(box), step: at.matches('.gearlab-derivation summary') && !at.parentNode.open, tag: at.tagName.toLowerCase(), type: at.type ?? '', act: at.dataset?.act ?? '', field: at.dataset?.field ?? '',
    gear: at.matches('.gl-turns'), control: at.matches('.gl-controls input, .gl-controls select'), name: at.getAttribute('aria-label') ?? at.textContent?.slice(0, 40) ?? '',
    value: at.getAttribute?.('aria-valuenow') ?? at.value ?? '' }; }"""  # noqa: E501


SAID = "place => [...document.activeElement.closest('.jp-Cell').querySelectorAll('.gl,.gearlab-box,.gearlab-course-page')][place].querySelector('.gearlab-said').textContent"  # noqa: E501
HELP = "place => [...[...document.activeElement.closest('.jp-Cell').querySelectorAll('.gl,.gearlab-box,.gearlab-course-page')][place].querySelectorAll('.gearlab-hints li,.gearlab-solution-title')].map(node => node.innerText).join(' | ')"  # noqa: E501
VERDICTS = """place => { const box = [...document.activeElement.closest('.jp-Cell').querySelectorAll('.gl,.gearlab-box,.gearlab-course-page')][place];
  return [...box.querySelectorAll('.gearlab-verdict,.gearlab-conditions,.gearlab-tries')].map(node => node.innerText).join('; ') }"""  # noqa: E501


class NotDone(Exception):
    """A task that the keyboard does not reach, or that does not answer."""


class Reader:
    """Somebody at the keyboard, whose keys are counted."""

    def __init__(self, page, folder: Path, words: bool):
        self.page, self.folder, self.words = page, folder, words
        self.tabs = self.keys = self.done = self.most = 0
        self.left: list[str] = []
        self.large, self.pictures = False, None  # Large type; folder of pictures

    def press(self, *keys: str) -> None:
        for key in keys:
            self.page.keyboard.press(key)
            self.tabs += key.endswith("Tab")
            self.keys += 1

    def type(self, text: str) -> None:
        self.page.keyboard.type(text)
        self.keys += len(text)

    def until(self, script: str, what: str, arg=None) -> None:
        try:
            self.page.wait_for_function(script, arg=arg, timeout=WAIT)
        except Exception:
            raise NotDone(what) from None

    def tab_to(self, what: str, wanted) -> dict:
        """Press Tab until the focus is on what is wanted; at the place where it stands already, do not."""
        at = self.page.evaluate(FOCUS)
        for stops in range(MOST_TABS):
            if wanted(at):
                self.most = max(self.most, stops)
                return at
            self.press("Tab")
            at = self.page.evaluate(FOCUS)
        raise NotDone(f"Tab does not reach {what}; it stands at {at['name']!r}")

    # -- a lesson --
    def lesson(self) -> None:
        """Every cell from the first to the last."""
        while True:
            cell = self.page.evaluate(CELL)
            if cell["kind"] != "code":
                self.press("ArrowDown")
            else:
                self.press("Control+Enter")
                self._run()
                self._tasks(cell["i"])
                self.press("Escape", "ArrowDown")
            try:
                self.page.wait_for_function(
                    "i => jupyterapp.shell.currentWidget.content.activeCellIndex > i",
                    arg=cell["i"],
                    timeout=3000,
                )
            except Exception:
                if cell["i"] < cell["count"] - 1:
                    self.left.append(f"cell {cell['i']}: no way on to the next cell")
                return

    def _run(self) -> None:
        self.until(f"() => ({CELL})().run", "the cell does not come to its end")
        self.until(
            f"() => {{ const cell = ({CELL})(); return cell.things.length >= cell.wanted }}",
            "a widget is not shown",
        )

    def _tasks(self, i: int) -> None:
        cell = self.page.evaluate(CELL)
        if cell["failed"]:
            self.left.append(f"cell {i}: {cell['failed'][0]}")
        asked = ASKED.findall(cell["source"])
        if self.page.evaluate(STEPS):
            self._try(f"cell {i}, hidden steps", self._steps)
        for place, thing in enumerate(cell["things"]):
            question = asked[min(place, len(asked) - 1)] if asked else None
            if thing == "explorer" and self.large:
                self._try(f"cell {i}, Large type", lambda: self._large(place))  # noqa: B023
            self._try(f"cell {i}, {thing}", lambda: self._task(thing, place, question))  # noqa: B023
            if self.pictures:
                self.page.screenshot(path=self.pictures / f"{self.folder.name}_{i:02d}_{place}.png")
        if "check(" in cell["source"] and "..." in cell["source"] and asked:
            self._try(f"cell {i}, own line", lambda: self._own_line(cell, asked[0]))

    def _try(self, what: str, task) -> None:
        try:
            task()
            self.done += 1
            print(f"  {what}: done, {self.tabs} Tab, {self.keys} keys so far", file=sys.stderr, flush=True)
        except NotDone as error:
            self.left.append(f"{what}: {error}")
            print(f"  {what}: NOT DONE, {error}", file=sys.stderr, flush=True)

    def _task(self, thing: str, place: int, question) -> None:
        act = {"explorer": self._explorer, "prediction": self._predict, "look back": self._look_back}.get(
            thing
        )
        if act:
            act(place)
        elif thing == "practice" and question:
            self._answer(place, question)

    # -- tasks --
    def _steps(self) -> None:
        """Open each hidden step of a derivation; a step opens the question before the next."""
        while hidden := self.page.evaluate(STEPS):
            self.tab_to("a hidden step", lambda at: at["step"])
            self.press("Enter")
            self.until(f"hidden => ({STEPS})() < hidden", "a hidden step does not open", hidden)

    def _predict(self, place: int) -> None:
        at = self.tab_to("the prediction", lambda at: at["thing"] == place and at["field"])
        if at["type"] == "radio":
            self.press("ArrowDown", "ArrowDown")
        else:
            self.type("because")
        self.tab_to("its button", lambda at: at["thing"] == place and at["act"] == "record")
        self.press("Enter")
        self._box(place, "Recorded", "the prediction is not recorded")

    def _box(self, place: int, words: str, what: str) -> None:
        """Wait until the box says these words."""
        self.until(
            "([place, words]) => { const cell = document.activeElement.closest('.jp-Cell');"
            " return [...cell.querySelectorAll('.gl,.gearlab-box,.gearlab-course-page')][place].innerText.includes(words) }",  # noqa: E501
            what,
            [place, words],
        )

    def _explorer(self, place: int) -> None:
        gears = self.page.evaluate(
            "place => { const all = [...document.activeElement.closest('.jp-Cell').querySelectorAll('.gl,.gearlab-box')];"  # noqa: E501
            " const shown = which => [...all[place].querySelectorAll(which)].some(node => node.checkVisibility() && node.tabIndex >= 0 && !node.closest('[aria-hidden]'));"  # noqa: E501
            " return [shown('.gl-turns[data-name]'), shown('.gl-controls input, .gl-controls select')] }",
            place,
        )
        for there, kind, key in ((gears[0], "gear", "ArrowRight"), (gears[1], "control", "ArrowRight")):
            if not there:
                continue
            at = self.tab_to(f"a {kind}", lambda at: at["thing"] == place and at[kind])  # noqa: B023
            if at["type"] == "checkbox":
                key = "Space"
            elif at["tag"] == "select":
                key = "ArrowDown"
            self.press(key)
            if at["type"] != "checkbox":
                self.until(
                    "before => { const at = document.activeElement; return (at.getAttribute('aria-valuenow') ?? at.value) !== before }",  # noqa: E501
                    f"{at['name']} does not move",
                    at["value"],
                )

    def _large(self, place: int) -> None:
        """Switch to Large type, which lies behind all else in the Tab order, and come back."""
        names = ("Close-up", "From behind", "Large type")
        at = self.tab_to(
            "Large type", lambda at: at["thing"] == place and at["name"].startswith(names)
        )  # one stop, arrows inside
        for _ in names:
            if at["name"].startswith("Large type"):
                break
            self.press("ArrowRight")
            at = self.page.evaluate(FOCUS)
        self.press("Enter", "Escape")

    def _right(self, question) -> dict[str, str]:
        bank = load_bank(lesson_bank(question[0]))
        asked = bank[question[1]]
        draw = asked.draw(seed=reader_seed(Answers(self.folder)), number=0)
        return {
            field: f"{key.value:.10g}" if key.value is not None else key.text
            for field, key in asked.keys(draw).items()
        }

    def _answer(self, place: int, question) -> None:
        right = self._right(question)
        numbers = all(_number(text) for text in right.values())
        tries = [_wrong(right, factor) for factor in (2, 2, 0.5, 3.7)] if numbers else [_wrong(right, 1)]
        for number, texts in enumerate((*tries, right)):
            self._check(place, texts, right)
            if texts is right:
                self.until(
                    f"place => ({VERDICTS})(place).includes('Right')", f"{right} is not called right", place
                )
            elif number == 1:
                self.until(
                    f"place => /costs no try|tried/.test(({SAID})(place))",
                    "the same number again is not told to cost nothing",
                    place,
                )
            else:
                self.until(f"place => ({SAID})(place)", f"no verdict on {texts}", place)
            if self.words:
                self._tell(place, texts)
            verdicts = self.page.evaluate(VERDICTS, place)
            if "Kept here" in verdicts or ("Right" in verdicts and "Not" not in verdicts):
                return

    def _check(self, place: int, texts: dict[str, str], right: dict[str, str]) -> None:
        """Type an answer and press Check."""
        for _ in range(MOST_TABS):  # back to the fields, the way one came
            at = self.page.evaluate(FOCUS)
            if at["thing"] != place or at["field"] == next(iter(right)):
                break
            self.press("Shift+Tab")
        for field, text in texts.items():
            at = self.tab_to(f"field {field}", lambda at: at["thing"] == place and at["field"] == field)  # noqa: B023
            if at["type"] in ("radio", "checkbox"):
                self._choose(at, right[field] if texts is right else "")
            else:
                self.press("Control+a")
                self.type(text)
        self.tab_to("Check", lambda at: at["thing"] == place and at["act"] == "check")
        if self.page.evaluate(SAID, place):  # what was said of the last try goes when something else is typed
            self.until(f"place => !({SAID})(place)", "what is typed is not taken", place)
        self.press("Enter")

    def _tell(self, place: int, texts: dict[str, str]) -> None:
        for name, script in (("seen", VERDICTS), ("said", SAID), ("help", HELP)):
            print(f"    {texts} {name}: {self.page.evaluate(script, place)!r}", file=sys.stderr, flush=True)

    def _choose(self, at: dict, right: str) -> None:
        wanted = [ord(each.strip()) - ord("a") for each in right.split(",") if each.strip()]
        if at["type"] == "radio":
            # Tab lands on the option that is chosen already, if one is
            begun = self.page.evaluate(
                "() => { const at = document.activeElement, all = [...document.querySelectorAll('input')];"
                " return all.filter(each => each.name === at.name).indexOf(at) }"
            )
            steps = (wanted[0] if wanted else 1) - begun
            self.press("Space", *["ArrowDown" if steps > 0 else "ArrowUp"] * abs(steps))
        else:
            for option in range(max(wanted, default=0) + 1):
                if option in wanted or not wanted:
                    self.press("Space")
                self.press("Tab")

    def _look_back(self, place: int) -> None:
        self.tab_to("the line for what was seen", lambda at: at["thing"] == place and at["field"])
        self.type("as I thought")
        self._box(place, "saved", "what was typed is not saved")

    def _own_line(self, cell: dict, question) -> None:
        (text, *_) = self._right(question).values()
        self.press("Escape", "Enter", "Control+a")  # the notebook's own way into a cell's text
        self.page.keyboard.insert_text(cell["source"].replace("...", text, 1))
        self.keys += len(text)
        self.press("Control+Enter")
        self._run()
        self.until(f"() => ({CELL})().text.includes('Right')", f"no verdict on a line that gives {text}")


def _number(text: str) -> bool:
    try:
        return bool(float(text))
    except ValueError:
        return False


def _wrong(right: dict[str, str], factor: float) -> dict[str, str]:
    """Wrong answers: the numbers times a factor, and something else for what is no number."""
    return {
        field: f"{factor * float(text):.6g}" if _number(text) and factor != 1 else "1.2345"
        for field, text in right.items()
    }


def main() -> None:
    from playwright.sync_api import sync_playwright

    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("lessons", nargs="*", default=["01", "03", "07", "08", "09"])
    parser.add_argument("--dark", action="store_true")
    parser.add_argument("--large", action="store_true", help="Large type in every explorer")
    parser.add_argument("--size", default="1366x768", help="of the window [px]")
    parser.add_argument("--words", action="store_true", help="tell what the boxes say")
    parser.add_argument("--pictures", type=Path, help="folder for a picture of each task done")
    given = parser.parse_args()
    width, height = map(int, given.size.split("x"))
    print(
        f"{'lesson':<32}{'cells':>6}{'tasks':>10}{'Tab':>6}{'keys':>7}{'most':>6}{'minutes':>9}  left undone"
    )
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as folder:
        path = os.environ.get("GEARLAB_CHROMIUM") or "chromium"
        browser = playwright.chromium.launch(executable_path=shutil.which(path), args=ARGUMENTS)
        lab = Lab(Path(folder), browser, keep=True)
        try:
            for lesson in given.lessons:
                (source,) = content_folder("notebooks").glob(f"{lesson}_*.ipynb")
                own = lab.root / source.stem
                own.mkdir()
                shutil.copy(source, own)
                for beside in source.parent.glob("*.toml"):
                    shutil.copy(beside, own)
                page = lab.open_file(f"{own.name}/{source.name}", dark=given.dark, width=width, height=height)
                page.evaluate("() => { jupyterapp.commands.execute('application:toggle-left-area') }")
                page.wait_for_function("() => !jupyterapp.shell.leftCollapsed")
                page.evaluate("() => { jupyterapp.shell.currentWidget.content.activate() }")
                reader, start = Reader(page, own, given.words), time.monotonic()
                reader.large, reader.pictures = given.large, given.pictures
                try:
                    reader.lesson()
                except NotDone as error:
                    reader.left.append(str(error))
                cells = page.evaluate("jupyterapp.shell.currentWidget.content.widgets.length")
                minutes = (time.monotonic() - start) / 60
                tasks = f"{reader.done} of {reader.done + len(reader.left)}"
                print(
                    f"{source.stem:<32}{cells:>6}{tasks:>10}{reader.tabs:>6}{reader.keys:>7}"
                    f"{reader.most:>6}{minutes:>9.1f}"
                    f"  {'; '.join(reader.left) or 'nothing'}",
                    flush=True,
                )
                lab.close(page)
        finally:
            lab.stop()
            browser.close()


if __name__ == "__main__":
    main()
