"""The surprise of a lesson: it opens when the prediction is recorded, or without one when asked for.

What is shown is worked out at once either way, so that the cells after it find its results; only its
showing waits. It waits in outputs of its own, which are filled when it opens: so the cell need not be run
again, and a notebook that is saved afterwards holds what was shown.
"""

from __future__ import annotations

import contextlib
import io
import os
import sys
import uuid
from collections.abc import Iterator
from typing import Any

from IPython.core.displaypub import CapturingDisplayPublisher
from IPython.core.getipython import get_ipython
from IPython.display import Markdown, display, publish_display_data

from gearlab.practice.workbook.predictions import SURPRISE, prediction_of
from gearlab.practice.workbook.progress import Answers

from . import still
from .box import Box
from .prediction import await_prediction, stamp, tell_waiting

TEST_VARIABLE = "GEARLAB_TEST"  # set where notebooks are run as tests: nobody is there to predict
CLOSED = (
    "Your prediction comes first: go back to “Predict”, choose, and press “Record my prediction”. What there"
    " is to see then appears here."
)
MORE = "More of the surprise: it appears here when the surprise opens."
OPENED = "What there was to see is shown below."
_SHOWING = (
    "_ipython_display_",
    "_repr_mimebundle_",
    "_repr_html_",
    "_repr_svg_",
    "_repr_markdown_",
    "_repr_latex_",
)


class SurpriseBox(Box):
    """The gate before a surprise: :func:`surprise` makes it, with the outputs that wait behind it.

    A lesson has one surprise: where more cells show parts of it, the gates after the first are one line.
    """

    def __init__(self, key: str, answers: Answers, outputs: list[dict], more: bool = False):
        super().__init__(f"predict/{key}")
        self.answers, self.outputs, self.more = answers, outputs, more
        self.mark = uuid.uuid4().hex
        self.open = self.pressed = False
        self._build(
            "The surprise",
            "",
            mode="more" if more else "surprise",
            buttons=[] if more else [("open", "Show me without a prediction", "plain")],
            key=f"{self.name}#surprise",
        )
        await_prediction(self)

    def _fields(self) -> list[dict]:
        return []

    def _state(self) -> dict:
        if self.more:
            return {"summary": "" if self.open else MORE}
        # the button stays where it was pressed, since the keyboard's focus is on it
        return {
            "summary": self.said or CLOSED,
            "buttons": {"open": {"off": self.open, "hidden": self.open and not self.pressed}},
        }

    def _act(self, act: str) -> None:
        if act != "open" or self.open:
            return
        self.pressed = True
        self._keep(self.answers, self.name, opened=stamp())
        lesson, _, name = self.name.removeprefix("predict/").rpartition("/")
        self._add_attempt(self.answers, event="opened", bank=lesson, question=name)
        self.refresh(True)
        tell_waiting(self.name)

    def refresh(self, asked: bool = False) -> None:
        """Open where the prediction is recorded or the surprise `asked` for; once open it stays so."""
        if self.open or not (asked or is_open(self.answers, self.name)):
            return
        self.open, self.said = True, "" if self.more else OPENED
        self._show()
        # an output of no words: where the notebook is opened again it hides the line for a lost widget
        self._publish({"text/html": still.QUIET, "text/plain": ""}, "gate", update=True)
        for place, output in enumerate(self.outputs):
            self._publish(output["data"], place, output["metadata"], update=True)

    def _twin(self) -> dict:
        if self.more:
            html = f'<div class="gearlab-twin"><p>{MORE}</p></div>'
            return {"text/html": still.QUIET + html, "text/plain": MORE}
        title = "The surprise"
        html = f'<div class="gearlab-twin"><p><strong>{title}</strong></p><p>{CLOSED}</p></div>'
        return {"text/html": still.QUIET + html, "text/plain": f"{title}\n{CLOSED}"}

    def _publish(self, data: dict, place: int | str, metadata: dict | None = None, update: bool = False):
        spot = {"display_id": f"gearlab-surprise-{self.mark}-{place}"}
        publish_display_data(data, metadata or {}, transient=spot, update=update)

    def _ipython_display_(self, **_options) -> None:
        """The gate, in words and as a box, and an empty output for each that waits."""
        self._publish(self._twin(), "gate")
        shown = self._repr_mimebundle_()
        if shown is not None:
            data, metadata = shown if isinstance(shown, tuple) else (shown, {})
            publish_display_data(data, metadata)
        for place in range(len(self.outputs)):
            self._publish({}, place)


_first_cells: dict[str, str] = {}  # in which cell of the notebook the gate of a prediction stands in full


def _comes_later(name: str) -> bool:
    """Whether another cell of this notebook has shown the gate of that prediction first.

    A front end that does not say which cell is run gets every gate in full.
    """
    shell = get_ipython()
    asked = shell.get_parent() if shell is not None and hasattr(shell, "get_parent") else {}
    cell = str(((asked or {}).get("metadata") or {}).get("cellId") or "")
    return bool(cell) and _first_cells.setdefault(name, cell) != cell


def is_open(answers: Answers, name: str) -> bool:
    """Whether the surprise of a prediction may be shown."""
    kept = answers.get(name)
    return bool(kept.get("recorded") or kept.get("opened"))


class _Recorder(CapturingDisplayPublisher):
    """Takes what is displayed and printed, in its order, in place of the notebook."""

    def __init__(self) -> None:
        super().__init__()
        self.outputs: list[dict] = []

    def publish(self, data, metadata=None, source=None, *, transient=None, update=False, **_rest) -> None:
        place = (transient or {}).get("display_id")
        entry = {"data": dict(data), "metadata": dict(metadata or {}), "place": place}
        known = [i for i, output in enumerate(self.outputs) if place and output["place"] == place]
        for i in known if update else ():
            self.outputs[i] = entry
        if not update:
            self.outputs.append(entry)

    def clear_output(self, wait=False) -> None:
        self.outputs.clear()


class _Printed(io.TextIOBase):
    """Where prints go meanwhile: one output of text until something else is displayed."""

    def __init__(self, recorder: _Recorder):
        self.recorder = recorder

    def writable(self) -> bool:
        return True

    def write(self, text: str) -> int:
        outputs = self.recorder.outputs
        if not outputs or outputs[-1]["place"] != "print":
            outputs.append({"data": {"text/plain": ""}, "metadata": {}, "place": "print"})
        outputs[-1]["data"]["text/plain"] += text
        return len(text)


@contextlib.contextmanager
def _kept_back() -> Iterator[list[dict]]:
    """Everything displayed or printed meanwhile, as a list of outputs."""
    shell, recorder, stdout = get_ipython(), _Recorder(), sys.stdout
    publisher: Any = shell.display_pub if shell is not None else None
    try:
        sys.stdout = _Printed(recorder)
        if shell is not None:
            shell.display_pub = recorder
        yield recorder.outputs
    finally:
        sys.stdout = stdout
        if shell is not None:
            shell.display_pub = publisher


def _shown(what: Any) -> Any:
    """Show a thing, or what a function gives; hand back what a function gave that is no picture."""
    calls = isinstance(what, type) or (callable(what) and not _shows_itself(what))
    value = what() if calls else what
    if value is None or (calls and not _shows_itself(value)):
        return value
    if isinstance(value, str):
        print(value)
    else:
        display(value)
    return None


def _shows_itself(value: Any) -> bool:
    return any(hasattr(type(value), name) for name in _SHOWING)


def surprise(key: str, what: Any = None, *, text: str = SURPRISE) -> Any:
    """Show something, and the words that go with it, once the prediction is recorded.

    Before that a box says so, with a button to look without a prediction; when either happens the surprise
    appears at once. A function is run at once anyway, so that later cells can use what it returns;
    what it prints and draws waits. Where notebooks are run as tests (GEARLAB_TEST is set) nothing waits.

    key: the name of the prediction in the lesson's ``predictions.toml``.
    what: a picture or explorer, a function that returns one, or a function that prints, draws or returns
        numbers; without it the words alone are shown.
    text: the name of the words in the lesson's file; "" shows none.
    Returns what a function gave that is no picture, such as ``cut = surprise(key, measured)``; else None.
    ValueError if the lesson's file has no prediction or words of that name; near names are listed.

    >>> surprise("07_contact/ten-teeth", lambda: 1.09, text="")
    1.09
    """
    words = prediction_of(key).text(text) if text else ""
    answers = Answers()
    if os.environ.get(TEST_VARIABLE) or is_open(answers, f"predict/{key}"):
        value = _shown(what)
        if words:
            display(Markdown(words))
        return value
    with _kept_back() as outputs:
        value = _shown(what)
        if words:
            display(Markdown(words))
    box = SurpriseBox(key, answers, outputs, more=_comes_later(f"predict/{key}"))
    if get_ipython() is None:
        print(box._twin()["text/plain"])
    else:
        display(box)
    return value
