"""What every answer box shares: traits, the question as plain output, and the way a report is answered.

A box is one anywidget. Its front end (``answerbox.js``) shows what stands in ``view`` and ``status`` and
reports by ``draft`` (every input) and ``action`` (a button). Each report carries a running number, and a box
answers it by ``status["seen"]``: only then does the reader see "saved".
"""

from __future__ import annotations

import re
import threading
from html import escape
from pathlib import Path

import anywidget
import traitlets
from IPython.display import publish_display_data

from gearlab.practice.workbook.attempts import record
from gearlab.theory.units import written

from . import still

HERE = Path(__file__).parent
LONGEST = {"number": 80, "expression": 200, "text": 2000, "choice": 80}  # characters taken from one field
SAVED = "✓ saved"


class Box(anywidget.AnyWidget):
    """A box of fields; the kinds of box below it decide what they mean.

    Front-end messages may arrive in another thread than the cells run in, so a report is dealt with under a
    lock.
    """

    _esm = (HERE / "answerbox.js").read_text(encoding="utf-8")
    _css = (HERE / "answerbox.css").read_text(encoding="utf-8")
    view = traitlets.Dict().tag(sync=True)
    status = traitlets.Dict().tag(sync=True)
    draft = traitlets.Dict().tag(sync=True)
    action = traitlets.Dict().tag(sync=True)

    def __init__(self, name: str):
        super().__init__()
        self.name = name
        self.texts: dict[str, str] = {}
        self.trouble = ""  # why the last change could not be kept
        self.note = ""  # "saved", "your earlier answer is back"
        self.said = ""
        self._place = ""  # what the output of the still form is called; "" before it is shown
        self._standing: dict[str, str] = {}  # what stands in it
        self._lock = threading.RLock()

    def __repr__(self) -> str:
        return f"{type(self).__name__}({self.name!r})"

    # -- what a kind of box supplies --

    def _fields(self) -> list[dict]:
        raise NotImplementedError

    def _contract(self) -> list[dict]:
        """How the answers are marked: "label" and "says", sentences, for a fold below the fields."""
        return []

    def _state(self) -> dict:
        """What the front end shows besides the fields: echoes, verdicts, hints, buttons ..."""
        return {}

    def _typed(self) -> None:
        """The texts have changed: keep them."""

    def _act(self, act: str) -> None:
        """A button was pressed, after the texts were taken over."""

    # -- showing --

    def _build(
        self, title: str, prompt: str, about: str = "", mode: str = "practice", buttons=(), key: str = ""
    ) -> None:
        paragraphs = [part.strip() for part in prompt.split("\n\n") if part.strip()]
        fields = self._fields()
        for field in fields:
            field.setdefault("longest", LONGEST[field["kind"]])
            if field.get("unit"):
                field["unit"] = written(field["unit"])
        view = {
            "key": key or self.name,
            "mode": mode,
            "title": title,
            "name": f"Question: {title}",
            "about": about,
            "prompt": paragraphs,
            "fields": fields,
            "texts": dict(self.texts),
            "contract": self._contract(),
            "buttons": [list(row) for row in buttons],
        }
        with self.hold_sync():
            self.view = view
            self._show()

    def _show(self, seen: int | None = None) -> None:
        now = self.status.get("seen", 0)
        self.status = {
            "key": self.view.get("key", ""),
            "seen": max(now, seen or 0),
            "saved": self.note,
            "trouble": self.trouble,
            "said": self.said,
            **self._state(),
        }

    def _twin(self) -> dict:
        """The question as an output of its own, with what was answered and said of it.

        What a reader sees who opens the notebook without a kernel.
        """
        view, status = self.view, self.status
        lines = [view["title"] + (f" ({view['about']})" if view["about"] else ""), *view["prompt"]]
        items = [item for field in view["fields"] for item in self._twin_items(field)]
        items += [
            f"{row['symbol']} {row['title']} {row['says']}".strip() for row in status.get("conditions", [])
        ]
        items += status.get("items", [])
        items += [f"Hint {number}: {hint}" for number, hint in enumerate(status.get("hints", []), 1)]
        items += [
            wish["words"]
            for wish in status.get("buttons", {}).values()
            if wish.get("words", "").startswith("Recorded")
        ]
        answered = any(text.strip() for text in self.texts.values())
        last = "As it was when this cell was run." if not view["fields"] else "Run this cell to answer."
        last = "As you left it. Run this cell to go on." if view["fields"] and answered else last
        html = "".join(
            f"<p>{'<strong>' if i == 0 else ''}{escape(line)}{'</strong>' if i == 0 else ''}</p>"
            for i, line in enumerate(lines)
        )
        html += "<ul>" + "".join(f"<li>{escape(item)}</li>" for item in items) + "</ul>" if items else ""
        return {
            "text/html": f'{still.QUIET}<div class="gearlab-twin">{html}<p><em>{last}</em></p></div>',
            "text/plain": "\n".join(lines + ["- " + item for item in items] + [last]),
        }

    def _twin_items(self, field: dict) -> list[str]:
        """A field as it stands: what can be chosen or what was typed, and the verdict on it."""
        text = self.texts.get(field["id"], "")
        if field["kind"] == "choice":
            chosen = set(re.split(r"[,;\s]+", text))
            words = [
                f"{option['id']}) {option['text']}" if field.get("lettered") else option["text"]
                for option in field["options"]
            ]
            items = [
                f"{word}  ← chosen" if option["id"] in chosen else word
                for option, word in zip(field["options"], words, strict=True)
            ]
        else:
            unit = f" [{field['unit']}]" if field.get("unit") else ""
            items = [f"{field['label']}{unit}: {text.strip() or '____'}"]
        verdict = self.status.get("verdicts", {}).get(field["id"])
        if verdict:
            items.append(
                " ".join([verdict["symbol"], verdict["title"], verdict["note"], *verdict.get("says", [])])
            )
        return items

    def _ipython_display_(self, **_options) -> None:
        self._place = f"gearlab-box-{self.model_id}"
        self._standing = self._twin()
        still.show(self._standing, self._place)
        shown = self._repr_mimebundle_()
        if shown is not None:
            data, metadata = shown if isinstance(shown, tuple) else (shown, {})
            publish_display_data(data, metadata)

    def _follow(self) -> None:
        """The still form says what the box says; a notebook saved now keeps it."""
        if self._place and (now := self._twin()) != self._standing:
            self._standing = now
            still.show(now, self._place, again=True)

    # -- reports of the front end --

    @traitlets.observe("draft")
    def _on_draft(self, change) -> None:
        self._take(change["new"])

    @traitlets.observe("action")
    def _on_action(self, change) -> None:
        self._take(change["new"])

    def _take(self, report: dict) -> None:
        number = report.get("n")
        if not isinstance(number, int) or not self.view:
            return
        with self._lock, self.hold_sync():
            if report.get("key") == self.view["key"]:
                texts = report.get("texts")
                known = {field["id"]: field["longest"] for field in self.view["fields"]}
                fresh = {
                    name: text[: known[name]]
                    for name, text in (texts or {}).items()
                    if name in known and isinstance(text, str)
                }
                if any(self.texts.get(name, "") != text for name, text in fresh.items()):
                    self.texts.update(fresh)
                    self._typed()
                if isinstance(report.get("act"), str):
                    self._act(report["act"])
            self._show(number)
        self._follow()

    def _add_attempt(self, store, **fields) -> None:
        """Add a line to the attempts beside the answers file; a folder that cannot be written is said."""
        try:
            record(store.folder, **fields)
        except OSError as error:
            self.trouble = f"not saved: {store.folder} cannot be written ({error.strerror or error})"

    def _keep(self, store, key: str, **fields) -> None:
        """Write to the answers file.

        A folder that cannot be written is said in the box, never raised into the void.
        """
        try:
            store.put(key, **fields)
        except OSError as error:
            self.trouble = f"not saved: {store.path.parent} cannot be written ({error.strerror or error})"
        else:
            self.trouble, self.note = "", SAVED


def told(contract: dict) -> list[str]:
    """The sentences of a contract as it stands on a sheet; nothing of what does not fit."""
    accepts, more = contract.get("accepts"), contract.get("more")
    says = (
        [f"Right is a number {accepts}."] if isinstance(accepts, str) and accepts.startswith("within") else []
    )
    return says + [text for text in (more if isinstance(more, list) else []) if isinstance(text, str)]


def echo_of(reading, text: str, ask: bool = True) -> dict | None:
    """What the front end shows under a field while the reader types: what was read, or why it cannot be read.

    Where a comma can be meant in two ways both readings are offered, as long as there is something to
    ``ask``.
    """
    if not text.strip():
        return None
    if not reading.ok:
        return {"tone": "problem", "text": reading.problem}
    if reading.alternatives and ask:
        return {
            "tone": "ask",
            "text": "One comma, three digits: which do you mean?",
            "readings": [
                {"label": other.echo.removeprefix("read as "), "text": _plain(other)}
                for other in reading.alternatives
            ],
        }
    if reading.mathml:
        return {"tone": "read", "text": "read as ", "html": reading.mathml}
    return {"tone": "read", "text": reading.echo}


def _plain(reading) -> str:
    """A reading written so that it can be read in one way only: 1.234 has a point, 1234 no separator."""
    number = repr(float(reading.value))
    return (number.removesuffix(".0") if reading.value == int(reading.value) else number) + (
        f" {reading.unit}" if reading.unit else ""
    )
