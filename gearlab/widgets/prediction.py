"""Predictions: recorded before the picture turns, never judged, looked at again at the lesson's end.

What they ask and what is said of each choice afterwards stands in the lesson's file
(`practice/workbook/predictions.py`); the surprise that waits for them is :mod:`gearlab.widgets.surprise`.
"""

from __future__ import annotations

import weakref
from datetime import datetime

from gearlab.practice.tables import BankError
from gearlab.practice.workbook.predictions import Prediction, prediction_of
from gearlab.practice.workbook.progress import Answers

from .box import Box

READ = "I have read this lesson"

# the boxes that wait for a prediction or look back at it, so that one recorded later reaches them
_waiting: weakref.WeakSet = weakref.WeakSet()
_asked: set[str] = set()  # keys of predictions asked in this kernel, from a file or not


def stamp() -> str:
    """The time as it is kept with a prediction."""
    return datetime.now().astimezone().strftime("%Y-%m-%d %H:%M")


def await_prediction(box: Box) -> None:
    """Let a box be refreshed when the prediction of its name is recorded, or its surprise opened."""
    _waiting.add(box)


def tell_waiting(name: str) -> None:
    """Refresh every box that waits for the prediction of that name."""
    for box in list(_waiting):
        if box.name == name:
            box.refresh()


class PredictionBox(Box):
    """A prediction to record: :func:`predict` makes it. Once recorded it stays as it is."""

    def __init__(self, key: str, question: str, options: tuple[str, ...], because: bool, answers: Answers):
        super().__init__(f"predict/{key}")
        self.question, self.options, self.because, self.answers = question, options, because, answers
        kept = answers.get(self.name)
        kept = kept if kept.get("question", question) == question else {}
        self.recorded = str(kept.get("recorded") or "")
        self.texts = {name: str(kept.get(name) or "") for name in ("text", "because")}
        # The file holds the words of the choice, so that it still says what was meant when the options
        # change.
        if options:
            self.texts["text"] = (
                str(options.index(self.texts["text"]) + 1) if self.texts["text"] in options else ""
            )
        self._build(
            "Predict",
            question,
            "no verdict: only what you think",
            "prediction",
            [("record", "Record my prediction", "main")],
        )

    @property
    def choice(self) -> str:
        """The prediction in words, as chosen or typed so far [-]."""
        text = self.texts.get("text", "")
        if not self.options:
            return text.strip()
        return self.options[int(text) - 1] if text.isdigit() and 1 <= int(text) <= len(self.options) else ""

    def _fields(self) -> list[dict]:
        if self.options:
            fields = [
                {
                    "id": "text",
                    "kind": "choice",
                    "label": "What do you think?",
                    "several": False,
                    "options": [{"id": str(i), "text": text} for i, text in enumerate(self.options, 1)],
                }
            ]
        else:
            fields = [{"id": "text", "kind": "text", "lines": 1, "label": "What do you think?"}]
        if self.because:
            fields.append({"id": "because", "kind": "text", "lines": 1, "label": "Because … (if you like)"})
        return fields

    def _state(self) -> dict:
        words = f"Recorded {self.recorded}" if self.recorded else "Record my prediction"
        return {
            "locked": bool(self.recorded),
            "summary": self.said,
            "buttons": {"record": {"off": bool(self.recorded), "words": words}},
        }

    def _typed(self) -> None:
        if not self.recorded:
            self._save()

    def _act(self, act: str) -> None:
        if act != "record" or self.recorded:
            return
        if not self.choice:
            act, acted = ("Choose an option", "chosen") if self.options else ("Write something", "written")
            self.said = f"{act} first: a guess is welcome."
            self.note = f"⚠ nothing {acted} yet"
            return
        self.recorded = stamp()
        self.said = "Your prediction is recorded."
        self._save()
        lesson, _, name = self.name.removeprefix("predict/").rpartition("/")
        self._add_attempt(self.answers, event="predicted", bank=lesson, question=name, typed=self.choice)
        tell_waiting(self.name)

    def _save(self) -> None:
        self._keep(
            self.answers,
            self.name,
            question=self.question,
            options=list(self.options),
            text=self.choice,
            because=self.texts.get("because", ""),
            recorded=self.recorded,
        )


class LookBackBox(Box):
    """The recorded prediction again, which option held and why, and a line for what was seen.

    :func:`look_back` makes it. Nothing is told before a prediction is recorded or the surprise is opened.
    The lesson counts as read when its reader has handled this box: run alone it says nothing of a reader.
    """

    def __init__(self, key: str, answers: Answers, prediction: Prediction | None = None):
        super().__init__(f"predict/{key}")
        self.answers, self.prediction = answers, prediction
        kept = answers.get(self.name)
        self.texts = {"seen": str(kept.get("seen") or "")}
        self.read = str(kept.get("read") or "")
        self.refresh()
        await_prediction(self)

    def refresh(self) -> None:
        """Show what the answers file holds now."""
        kept = self.answers.get(self.name)
        recorded, opened = str(kept.get("recorded") or ""), str(kept.get("opened") or "")
        asked = str(kept.get("question") or "") or (self.prediction.question if self.prediction else "")
        about = ""
        if recorded:
            lines = [asked, f"You predicted: {kept.get('text', '')}"]
            if kept.get("because"):
                lines.append(f"Because: {kept['because']}")
            about = f"recorded {recorded}"
        elif opened:
            lines = [asked, "You looked without a prediction."]
        else:
            lines = [
                "No prediction is recorded yet: go back to “Predict”, choose, and press “Record my"
                " prediction”."
            ]
        if self.prediction and (recorded or opened):
            lines += self.prediction.told(str(kept.get("text") or "") if recorded else "")
        self._build(
            "Back to your prediction",
            "\n\n".join(lines),
            about,
            "look back",
            [("read", READ, "main")],
            key=f"{self.name}#{recorded or opened}",
        )

    def _fields(self) -> list[dict]:
        return [
            {
                "id": "seen",
                "kind": "text",
                "lines": 2,
                "label": "What did you see, and what do you think now?",
            }
        ]

    def _state(self) -> dict:
        words = f"Recorded as read {self.read}" if self.read else READ
        return {"summary": self.said, "buttons": {"read": {"off": bool(self.read), "words": words}}}

    def _typed(self) -> None:
        self._keep(self.answers, self.name, seen=self.texts.get("seen", ""))
        if self.texts.get("seen", "").strip():
            self._count_as_read()

    def _act(self, act: str) -> None:
        if act == "read":
            self._count_as_read()
            self.said = "This lesson counts as read on your course page."

    def _count_as_read(self) -> None:
        if self.read:
            return
        self.read = stamp()
        self._keep(self.answers, self.name, read=self.read)
        lesson = self.name.removeprefix("predict/").partition("/")[0]
        self._add_attempt(self.answers, event="read", lesson=lesson)


def predict(
    key: str, question: str | None = None, options: list[str] | None = None, *, because: bool = True
) -> PredictionBox:
    """A question to answer before looking. The prediction is recorded and gets no verdict.

    key: its name, lesson first, such as ``"07_contact/ten-teeth"``.
    question: the question as the reader sees it; left out, the lesson's ``predictions.toml`` has question and
        options.
    options: what to choose from, two or more; without them the reader writes freely.
    because: whether a line for the reason is shown.
    Returns the box; the last value of a cell shows itself.
    ValueError if the key or the question is empty, the lesson's file has no prediction of that name (near
        names are listed), or there is only one option.

    >>> predict("07_contact/ten-teeth").question[:29]
    'A pinion of 10 teeth is cut w'
    >>> predict("06_direction/idler", "Does the third gear turn with the first?", ["yes", "no"])
    PredictionBox('predict/06_direction/idler')
    """
    if not isinstance(key, str) or not key.strip():
        raise ValueError(f"key of a prediction = {key!r}: give some words")
    if question is None:
        if options is not None:
            raise ValueError(
                "options of a prediction without its question: give both, or the key alone for a prediction"
                " of the lesson's file"
            )
        prediction = prediction_of(key)
        question, options = prediction.question, list(prediction.choices)
    if not isinstance(question, str) or not question.strip():
        raise ValueError(f"question of a prediction = {question!r}: give some words")
    choices = tuple(options or ())
    if len(choices) == 1 or len(set(choices)) != len(choices):
        raise ValueError(
            f"options = {list(choices)!r}: give at least two different ones, or none for a free answer"
        )
    _asked.add(key)
    return PredictionBox(key, question, choices, because, Answers())


def look_back(key: str) -> LookBackBox:
    """The prediction recorded under that key, which option held and why, and a line for what was seen.

    key: the name given to :func:`predict`.
    Returns the box; it fills itself when the prediction is recorded, or the surprise opened, later.
    ValueError if the key is empty, or no such prediction was asked and the lesson's file has none.

    >>> look_back("07_contact/ten-teeth")
    LookBackBox('predict/07_contact/ten-teeth')
    """
    if not isinstance(key, str) or not key.strip():
        raise ValueError(f"key of a prediction = {key!r}: give the name used in predict(...)")
    answers, prediction = Answers(), None
    try:
        prediction = prediction_of(key)
    except BankError:
        raise  # the lesson's own file is at fault
    except ValueError:
        if key not in _asked and not answers.get(f"predict/{key}"):
            raise
    return LookBackBox(key, answers, prediction)
