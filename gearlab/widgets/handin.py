"""Marked work: the boxes of a hand-out notebook echo what they read and keep it in the hand-in file.

No verdicts here.
"""

from __future__ import annotations

import json
import os
import threading
import weakref
from dataclasses import dataclass, field
from datetime import UTC, datetime
from html import escape
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any

from gearlab.practice import QUESTION_KINDS, Reading
from gearlab.practice.handin import EDITION, FILE_LIMIT, FILE_NAME, HAND_OUT, SHEET_LIMIT, hand_in_content
from gearlab.practice.workbook.attempts import attempts, practised
from gearlab.writing import write_json

from .box import Box, echo_of, told


def _library() -> str:
    try:
        return version("gearlab")
    except PackageNotFoundError:
        return ""


@dataclass(eq=False)
class Sheet:
    """One student's sheet and the answers typed so far: :func:`hand_in` makes it.

    ``path`` is the hand-in file, ``answers`` what was typed, by question id and answer id.
    """

    data: dict
    path: Path
    answers: dict[str, dict[str, str]] = field(default_factory=dict)
    saved: int = 0
    _lock: threading.RLock = field(default_factory=threading.RLock, repr=False)
    _boxes: weakref.WeakSet = field(default_factory=weakref.WeakSet, repr=False)
    _read: dict[tuple[str, str], tuple[str, Reading | None]] = field(default_factory=dict, repr=False)

    def __repr__(self) -> str:
        return (
            f"{self.data['title']}: sheet of {self.data['student']}, {_count(self.data['questions'])};"
            f" answers go to {self.path.name}"
        )

    def _repr_html_(self) -> str:
        return (
            f"<p><strong>{escape(self.data['title'])}</strong>: sheet of"
            f" <strong>{escape(self.data['student'])}</strong>, {_count(self.data['questions'])}. Your"
            f" answers go to <code>{escape(self.path.name)}</code> in this folder.</p>"
        )

    def question(self, question_id: str) -> dict:
        """The question of that id, as it stands on the sheet [-].

        ValueError if the sheet has none; those it has are listed.
        """
        for question in self.data["questions"]:
            if question["id"] == question_id:
                return question
        raise ValueError(
            f"question {question_id!r} is not on this sheet; it has"
            f" {', '.join(q['id'] for q in self.data['questions'])}"
        )

    def keep(self, question_id: str, texts: dict[str, str]) -> None:
        """Write the texts of one question to the hand-in file, whole or not at all.

        OSError if the folder cannot be written.
        """
        with self._lock:
            self.answers[question_id] = dict(texts)
            self.saved += 1
            now = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
            content = hand_in_content(
                self.data, self.answers, self.saved, now, _library(), **self._practised()
            )
            # a lab's board reads it from another account
            write_json(self.path, content, 0o644 if self.data.get("shared") is True else 0o600)
        for box in list(self._boxes):
            box.refresh()

    def _practised(self) -> dict:
        """How the questions were practised in this folder, where the set keeps attempts."""
        if self.data.get("attempts") != "kept":
            return {}
        questions = {q["id"]: q.get("version", 1) for q in self.data["questions"]}
        try:
            return {"practice": practised(attempts(self.path.parent), questions)}
        except OSError:
            return {}  # the answers are what has to be saved

    def reading(self, question: dict, answer: dict, text: str) -> Reading | None:
        """What is understood of a text, read once for the echo and the list of what is missing."""
        place = question["id"], answer["id"]
        if place not in self._read or self._read[place][0] != text:
            kind, asked = QUESTION_KINDS[question["kind"]], answer | {"prompt": question.get("prompt")}
            self._read[place] = text, kind.read_on_sheet(asked, text)
        return self._read[place][1]

    def missing(self) -> list[str]:
        """What is still empty or cannot be read, a sentence each [-]."""
        lines = []
        for question in self.data["questions"]:
            kind, typed = QUESTION_KINDS[question["kind"]], self.answers.get(question["id"], {})
            for answer in question["answers"]:
                text = typed.get(answer["id"], "")
                label = kind.label_on_sheet(question, answer)
                if not text.strip():
                    lines.append(f"{label}: still empty")
                    continue
                reading = self.reading(question, answer, text)
                if reading is not None and not reading.ok:
                    lines.append(f"{label}: cannot be read ({reading.problem})")
                elif reading is not None and reading.alternatives:
                    lines.append(f"{label}: two readings, choose one")
        return lines

    def status(self) -> StatusBox:
        """A live list of what is still empty, with the name of the file to hand in [-]."""
        return StatusBox(self)


class HandInBox(Box):
    """The fields of one marked question: :func:`hand_in_box` makes it."""

    def __init__(self, sheet: Sheet, question: dict, prompt: bool):
        super().__init__(f"{sheet.data['set']}/{question['id']}")
        self.sheet, self.question = sheet, question
        self.texts = dict(sheet.answers.get(question["id"], {}))
        self.note = "✓ your earlier answer is back" if any(self.texts.values()) else ""
        points = question.get("points")
        self._build(
            question["title"],
            question["prompt"] if prompt else "",
            f"{points:g} point{'' if points == 1 else 's'}" if points else "",
            "hand-in",
            key=self.name,
        )
        self.view = {**self.view, "name": f"Question: {question['title']}. {question['prompt']}"}

    def _fields(self) -> list[dict]:
        question = self.question
        fields = QUESTION_KINDS[question["kind"]].sheet_form(question)
        contracts = _contracts(question)
        for shown in fields:
            asked = contracts.get(shown["id"], {}).get("asked")
            if isinstance(asked, str):
                shown["asked"] = asked
        if question.get("reason"):
            label = (
                question["reason"]
                if isinstance(question["reason"], str)
                else "Your reason, in a sentence or two"
            )
            fields.append({"id": "reason", "kind": "text", "lines": 3, "label": label})
        return fields

    def _contract(self) -> list[dict]:
        contracts = _contracts(self.question)
        labels = {answer["id"]: answer.get("label") or answer["id"] for answer in self.question["answers"]}
        return [
            {"label": labels.get(name, "") if len(contracts) > 1 else "", "says": told(contract)}
            for name, contract in contracts.items()
        ]

    def _state(self) -> dict:
        return {
            "echoes": {
                answer["id"]: echo_of(reading, text)
                for answer in self.question["answers"]
                if (text := self.texts.get(answer["id"], ""))
                and (reading := self.sheet.reading(self.question, answer, text)) is not None
            }
        }

    def _typed(self) -> None:
        try:
            self.sheet.keep(self.question["id"], self.texts)
        except OSError as error:
            self.trouble = (
                f"not saved: {self.sheet.path.parent} cannot be written ({error.strerror or error})"
            )
        else:
            self.trouble, self.note = "", f"✓ saved in {self.sheet.path.name}"


def _contracts(question: dict) -> dict[str, dict]:
    """How the answers of a question are marked; sheets that were handed out earlier do not say it."""
    contracts = question.get("contracts")
    if not isinstance(contracts, dict):
        return {}
    return {name: contract for name, contract in contracts.items() if isinstance(contract, dict)}


class StatusBox(Box):
    """What a sheet still lacks, kept up to date while the reader types: ``sheet.status()`` makes it."""

    def __init__(self, sheet: Sheet):
        super().__init__(sheet.path.name)
        self.sheet = sheet
        self._build(
            "Before you hand in", f"Hand in this one file: {sheet.path.name}", "", "status", key=self.name
        )
        sheet._boxes.add(self)

    def refresh(self) -> None:
        """Look at the sheet again."""
        self._show()

    def _fields(self) -> list[dict]:
        return []

    def _state(self) -> dict:
        missing = self.sheet.missing()
        total = sum(len(question["answers"]) for question in self.sheet.data["questions"])
        done = f"{total - len(missing)} of {total} answers are complete"
        return {
            "items": missing,
            "summary": f"{done}; still to do:" if missing else f"{done}: nothing is missing.",
        }


def _count(questions: list) -> str:
    return f"{len(questions)} question{'' if len(questions) == 1 else 's'}"


def hand_in(sheet: str | dict | Path, folder: str | Path | None = None) -> Sheet:
    """The sheet of a hand-out notebook, with what was typed into it before.

    sheet: the sheet as JSON text, as data, or the file it stands in.
    folder: where the hand-in file lies; by default the notebook's folder.
    Returns the sheet; it names the hand-in file.
    ValueError if the sheet is damaged, or a hand-in file of another sheet bears its name; the message says
        what to do.

    >>> question = {"id": "span", "title": "Span", "prompt": "How wide?", "kind": "number",
    ...             "answers": [{"id": "span", "label": "span", "unit": "mm"}]}
    >>> hand_in({"gearlab": "hand-out", "edition": 1, "set": "trial", "student": "00123",
    ...          "file": "HAND-IN_trial_00123.json", "questions": [question]})
    trial: sheet of 00123, 1 question; answers go to HAND-IN_trial_00123.json
    """
    content: Any = sheet.read_text(encoding="utf-8") if isinstance(sheet, Path) else sheet
    if isinstance(content, str):
        if len(content) > SHEET_LIMIT:
            raise ValueError(
                f"this sheet has {len(content)} characters, the limit is {SHEET_LIMIT}; fetch the hand-out"
                " again"
            )
        try:
            content = json.loads(content)
        except (json.JSONDecodeError, RecursionError):
            raise ValueError("this sheet is damaged (not JSON); fetch the hand-out notebook again") from None
    fault = _fault(content)
    if fault:
        raise ValueError(f"this sheet is damaged ({fault}); fetch the hand-out notebook again")
    place = Path(folder) if folder is not None else Path(os.environ.get("GEARLAB_ANSWERS") or ".")
    opened = Sheet({"title": content["set"], "packet": "", **content}, place.resolve() / content["file"])
    _load(opened)
    return opened


def _fault(sheet) -> str:
    """What is wrong with a sheet's data, "" if nothing."""
    if not isinstance(sheet, dict) or sheet.get("gearlab") != HAND_OUT or sheet.get("edition") != EDITION:
        return f"it is not a hand-out of edition {EDITION}"
    for name in ("set", "student", "file"):
        if not isinstance(sheet.get(name), str) or not sheet[name]:
            return f"{name} is missing"
    if not FILE_NAME.fullmatch(sheet["file"]):
        return f"file {sheet['file']!r} is not named HAND-IN_...json"
    questions = sheet.get("questions")
    if not isinstance(questions, list) or not questions:
        return "it has no questions"
    for question in questions:
        if not isinstance(question, dict) or not all(
            isinstance(question.get(name), str) for name in ("id", "title", "prompt")
        ):
            return "a question lacks its id, title or prompt"
        kind = question.get("kind")
        if kind not in QUESTION_KINDS:
            return f"question {question['id']}: kind {kind!r} is none of {', '.join(QUESTION_KINDS)}"
        answers = question.get("answers")
        if (
            not isinstance(answers, list)
            or not answers
            or not all(isinstance(a, dict) and isinstance(a.get("id"), str) for a in answers)
        ):
            return f"question {question['id']}: it has no answers"
        fault = QUESTION_KINDS[kind].fault_on_sheet(question)
        if fault:
            return f"question {question['id']}: {fault}"
    return ""


def _load(sheet: Sheet) -> None:
    """Take over what an earlier session saved.

    A damaged file is set aside, one of another sheet is never overwritten.
    """
    if not sheet.path.exists():
        return
    try:
        content = sheet.path.read_bytes()
        data = json.loads(content) if len(content) <= FILE_LIMIT else None
    except (ValueError, RecursionError):
        data = None
    if not isinstance(data, dict) or not isinstance(data.get("answers"), dict):
        aside = sheet.path.with_name(f"{sheet.path.stem}_damaged_{datetime.now():%Y%m%d-%H%M%S}.json")
        sheet.path.rename(aside)
        return
    if (data.get("set"), data.get("student"), data.get("packet", "")) != (
        sheet.data["set"],
        sheet.data["student"],
        sheet.data["packet"],
    ):
        raise ValueError(
            f"{sheet.path.name} in this folder belongs to another sheet (packet {data.get('packet')!r}, this"
            f" one is {sheet.data['packet']!r}): move that file to another folder and run this cell again"
        )
    known = {q["id"]: {a["id"] for a in q["answers"]} | {"reason"} for q in sheet.data["questions"]}
    for question_id, texts in data["answers"].items():
        if question_id in known and isinstance(texts, dict):
            sheet.answers[question_id] = {
                name: text
                for name, text in texts.items()
                if name in known[question_id] and isinstance(text, str)
            }
    sheet.saved = data["saved"] if isinstance(data.get("saved"), int) and data["saved"] >= 0 else 0


def hand_in_box(sheet: Sheet, question_id: str, prompt: bool = False) -> HandInBox:
    """The fields of one question of a sheet.

    They echo what was read and save it; the verdict comes with the marks.

    sheet: what :func:`hand_in` returned.
    question_id: name of the question on the sheet.
    prompt: whether the box repeats the question's text.
    Returns the box; the last value of a cell shows itself.
    ValueError if the sheet has no such question.

    >>> question = {"id": "span", "title": "Span", "prompt": "How wide?", "kind": "number",
    ...             "answers": [{"id": "span", "label": "span", "unit": "mm"}]}
    >>> sheet = hand_in({"gearlab": "hand-out", "edition": 1, "set": "trial", "student": "00123",
    ...                  "file": "HAND-IN_trial_00123.json", "questions": [question]})
    >>> hand_in_box(sheet, "span")
    HandInBox('trial/span')
    """
    if not isinstance(sheet, Sheet):
        raise ValueError(
            f"sheet = {type(sheet).__name__}: give what hand_in(...) returned; run the first code cell again"
        )
    return HandInBox(sheet, sheet.question(question_id), prompt)
