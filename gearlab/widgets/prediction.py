"""Predictions: recorded before the picture turns, never judged, looked at again at the lesson's end."""

from __future__ import annotations

import weakref
from datetime import datetime

from gearlab.practice.progress import Answers

from .box import Box

# the boxes that look back, so that a prediction recorded later reaches them
_shown: weakref.WeakSet = weakref.WeakSet()


def _stamp() -> str:
    return datetime.now().astimezone().strftime("%Y-%m-%d %H:%M")


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
            "buttons": {"record": {"off": bool(self.recorded), "words": words}},
        }

    def _typed(self) -> None:
        if not self.recorded:
            self._save()

    def _act(self, act: str) -> None:
        if act != "record" or self.recorded:
            return
        if not self.choice:
            self.said = "Choose or write something first: a guess is welcome."
            self.note = "⚠ nothing chosen yet"
            return
        self.recorded = _stamp()
        self.said = "Your prediction is recorded."
        self._save()
        for box in list(_shown):
            if box.name == self.name:
                box.refresh()

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
    """The recorded prediction again, with a line for what was seen: :func:`look_back` makes it."""

    def __init__(self, key: str, answers: Answers):
        super().__init__(f"predict/{key}")
        self.answers = answers
        self.texts = {"seen": str(answers.get(self.name).get("seen") or "")}
        self.refresh()
        _shown.add(self)

    def refresh(self) -> None:
        """Show what the answers file holds now."""
        kept = self.answers.get(self.name)
        if kept.get("recorded"):
            lines = [str(kept.get("question", "")), f"You predicted: {kept.get('text', '')}"]
            if kept.get("because"):
                lines.append(f"Because: {kept['because']}")
            about = f"recorded {kept['recorded']}"
        else:
            lines, about = (
                [
                    "No prediction is recorded yet: go back to “Predict”, choose, and press “Record my"
                    " prediction”."
                ],
                "",
            )
        self._build(
            "Back to your prediction",
            "\n\n".join(lines),
            about,
            "look back",
            key=f"{self.name}#{kept.get('recorded', '')}",
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

    def _typed(self) -> None:
        self._keep(self.answers, self.name, seen=self.texts.get("seen", ""))


def predict(
    key: str, question: str, options: list[str] | None = None, *, because: bool = True
) -> PredictionBox:
    """A question to answer before looking. The prediction is recorded and gets no verdict.

    key: its name, lesson first, such as ``"03_centre_distance/holes"``.
    question: the question as the reader sees it.
    options: what to choose from, two or more; without them the reader writes freely.
    because: whether a line for the reason is shown.
    Returns the box; the last value of a cell shows itself.
    ValueError if the key or the question is empty, or there is only one option.

    >>> predict("06_direction/idler", "Does the third gear turn with the first?", ["yes", "no"])
    PredictionBox('predict/06_direction/idler')
    """
    for word, text in (("key", key), ("question", question)):
        if not isinstance(text, str) or not text.strip():
            raise ValueError(f"{word} of a prediction = {text!r}: give some words")
    choices = tuple(options or ())
    if len(choices) == 1 or len(set(choices)) != len(choices):
        raise ValueError(
            f"options = {list(choices)!r}: give at least two different ones, or none for a free answer"
        )
    return PredictionBox(key, question, choices, because, Answers())


def look_back(key: str) -> LookBackBox:
    """The prediction recorded under that key, with a line for what was really seen.

    key: the name given to :func:`predict`.
    Returns the box; it fills itself when the prediction is recorded later.
    ValueError if the key is empty.

    >>> look_back("06_direction/idler")
    LookBackBox('predict/06_direction/idler')
    """
    if not isinstance(key, str) or not key.strip():
        raise ValueError(f"key of a prediction = {key!r}: give the name used in predict(...)")
    return LookBackBox(key, Answers())
