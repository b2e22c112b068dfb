"""The practice box: a question with numbers, what was read, verdicts that say why, hints and the solution."""

from __future__ import annotations

import secrets
from pathlib import Path

from gearlab.contents import lesson_bank
from gearlab.practice import Question, Reading, Verdict, load_bank
from gearlab.practice.progress import Answers
from gearlab.practice.verdict import CONDITION_NAMES, NAMES

from .box import Box, echo_of

READER = "reader"  # where a folder's own seed stands in the answers file
# Verdict kind -> tone, symbol; its name is in practice/verdict.py. The colour only helps those two.
WRONG = ("wrong", "✗")
LOOKS = {
    "right": ("right", "✓"),
    "close": ("near", "≈"),
    "wrong sign": ("near", "≈"),
    "wrong unit": ("near", "≈"),
    "cannot read": ("wrong", "?"),
    "not answered": ("quiet", "–"),
}
ASKING = {
    "kind": "cannot read",
    "tone": "near",
    "symbol": "?",
    "title": "Which number do you mean?",
    "note": "",
    "causes": [],
}


def reader_seed(answers: Answers) -> str:
    """The seed from which a reader's practice numbers are drawn [-].

    Made on first use, kept with the answers.

    So two benches have different numbers, and the same reader finds the same ones again.
    """
    kept = answers.get(READER).get("seed")
    if isinstance(kept, str) and kept:
        return kept
    seed = secrets.token_hex(4)
    try:
        answers.put(READER, seed=seed)
    except OSError:
        return "practice"  # nothing can be kept here: at least the numbers stay the same
    return seed


class AnswerBox(Box):
    """A practice question in a notebook: :func:`ask` makes it.

    ``texts`` holds what stands in the fields, ``verdicts`` the last verdicts by answer id, ``draw`` the
    question with its numbers, ``tries_left`` [-] and ``done`` [-] how far the reader has come.
    """

    def __init__(self, question: Question, name: str, answers: Answers, number: int | None = None):
        super().__init__(name)
        self.question, self.answers = question, answers
        kept = self._kept()
        self.number = number if number is not None else _whole(kept.get("number"))
        self._start(kept if _whole(kept.get("number")) == self.number else {})

    # -- one draw from the beginning, or as it was left --

    def _kept(self) -> dict:
        kept = self.answers.get(self.name)
        if self.answers.damaged:
            self.trouble = (
                f"the file with your answers was damaged; it was set aside as {self.answers.damaged.name}"
            )
        # A changed question is a new one: its old answers belong to other words and numbers.
        return kept if kept.get("version", self.question.version) == self.question.version else {}

    def _start(self, kept: dict) -> None:
        question = self.question
        self.draw = question.draw(seed=reader_seed(self.answers), number=self.number)
        texts = kept.get("texts")
        self.texts = {str(name): str(text) for name, text in texts.items()} if isinstance(texts, dict) else {}
        self.tries, self.shown = (
            _whole(kept.get("tries")),
            min(_whole(kept.get("shown")), len(question.hints)),
        )
        self.done, self.solved = bool(kept.get("done")), bool(kept.get("solved"))
        self.checked: dict[str, str] = {}
        self._read: dict[str, tuple[str, Reading]] = {}
        self.verdicts: dict[str, Verdict] = {}
        self.said, self.asking = "", ()
        self.note = "✓ your earlier answer is back" if any(self.texts.values()) else ""
        checked = kept.get("checked")
        if isinstance(checked, dict):
            self._judge({str(name): str(text) for name, text in checked.items()})
        level = f"level {question.level}, about {question.minutes:g} min"
        buttons = [
            ("check", "Check", "main"),
            ("hint", "Hint", "plain"),
            ("solve", "Show the solution", "plain"),
            ("renew", "New numbers", "plain"),
        ]
        self._build(
            question.title, self.draw.prompt, level, "practice", buttons, key=f"{self.name}#{self.number}"
        )

    @property
    def tries_allowed(self) -> int:
        """How often an answer may be checked before the solution is shown [-]."""
        return self.question.tries

    @property
    def tries_left(self) -> int:
        """How many checks are left [-]."""
        return max(0, self.tries_allowed - self.tries)

    @property
    def closed(self) -> bool:
        """Whether the question is over: right, out of tries, or given up [-]."""
        return self.done or self.solved or self.tries_left == 0

    # -- what the front end shows --

    def _fields(self) -> list[dict]:
        return self.question.form(self.draw)

    def _reading(self, field: str, texts: dict[str, str]) -> Reading:
        """What is understood of a field's text, read once for what is echoed, asked and judged."""
        text = texts.get(field, "")
        read = self._read.get(field)
        if read is None or read[0] != text:
            read = self._read[field] = text, self.question.read(field, text)
        return read[1]

    def _state(self) -> dict:
        question = self.question
        echoes = {}
        for answer in question.fields if question.echoes else ():
            text = self.texts.get(answer.id, "")
            echoes[answer.id] = echo_of(self._reading(answer.id, self.texts), text, ask=not self.closed)
        fresh = {
            field.id
            for field in question.fields
            if self.texts.get(field.id, "") == self.checked.get(field.id, "")
        }
        # a verdict speaks of what was checked
        verdicts = {
            name: self._look(verdict, echoes.get(name))
            for name, verdict in self.verdicts.items()
            if name in fresh
        }
        verdicts |= dict.fromkeys(self.asking, ASKING)
        hints = len(question.hints)
        solved = self.solved or (self.tries_left == 0 and not self.done)
        return {
            "echoes": echoes,
            "verdicts": verdicts,
            "conditions": [] if question.judges_fields else self._conditions(fresh),
            "locked": self.closed,
            "open": ["reason"],
            "hints": list(question.hints[: self.shown]),
            "tries": "" if self.closed else f"{self.tries_left} of {self.tries_allowed} tries left",
            "solution": question.solution(self.draw, form="html") if solved else "",
            "buttons": {
                "check": {"off": self.closed},
                "hint": {
                    "hidden": hints == 0,
                    "off": self.shown == hints or self.closed,
                    "words": f"Hint {min(self.shown + 1, hints)} of {hints}",
                },
                "solve": {
                    "off": solved,
                    "words": "Show the solution" if self.closed else "Give up: show the solution",
                },
                "renew": (
                    {"words": "New numbers"}
                    if self.draw.givens
                    else {"words": "Start again", "off": not self.closed}
                ),
            },
        }

    def _conditions(self, fresh: set[str]) -> list[dict]:
        """What became of each condition; one that hangs on a field changed since is not shown."""
        rows = []
        for condition in self.question.answers:
            verdict = self.verdicts.get(condition.id)
            if verdict is not None and all(field.id in fresh for field in condition.rests_on):
                tone, symbol = LOOKS.get(verdict.kind, WRONG)
                says = verdict.sentence.removeprefix("Met.").strip()
                rows.append(
                    {
                        "tone": tone,
                        "symbol": symbol,
                        "title": f"{condition.label}: {CONDITION_NAMES[verdict.kind]}",
                        "says": says,
                    }
                )
        return rows

    def _look(self, verdict, echo: dict | None) -> dict:
        tone, symbol = LOOKS.get(verdict.kind, WRONG)
        title = f"{NAMES[verdict.kind].capitalize()}."
        if verdict.kind == "right" and verdict.carried:
            title = "Right, carried on from your number above."
        causes, note = [cause.sentence for cause in verdict.causes], verdict.note
        if verdict.kind == "right":
            causes = [text for text in [self.question.remark(verdict)] if text]
        # once is enough
        elif not causes and tone in ("wrong", "near") and verdict.sentence != (echo or {}).get("text"):
            causes, note = [verdict.sentence], ""
        return {
            "kind": verdict.kind,
            "tone": tone,
            "symbol": symbol,
            "title": title,
            "note": note,
            "causes": causes,
        }

    # -- what the reader does --

    def _typed(self) -> None:
        self.said, self.asking = "", ()
        self._save()

    def _act(self, act: str) -> None:
        if act == "check" and not self.closed:
            self._check()
        elif act == "hint" and self.shown < len(self.question.hints):
            self.shown += 1
            self.said = f"Hint {self.shown}: {self.question.hints[self.shown - 1]}"
        elif act == "solve":
            self.solved = True
            self.said = "The worked solution is shown below."
        elif act == "renew":
            self.number += 1
            self._start({})
            self.said = "New numbers." if self.draw.givens else "Start again."
        else:
            return
        self._save()

    def _check(self) -> None:
        self.asking = tuple(
            answer.id for answer in self.question.fields if self._reading(answer.id, self.texts).alternatives
        )
        if self.asking:
            self.said = f"{ASKING['title']} Choose one of the two readings."
            return
        self._judge(dict(self.texts))
        kinds = [verdict.kind for verdict in self.verdicts.values()]
        self.done = all(kind == "right" for kind in kinds)
        # A text nobody can read, or an empty field beside right ones, costs no try.
        if self.done or any(kind not in ("right", "not answered", "cannot read") for kind in kinds):
            self.tries += 1
        labels = {answer.id: answer.label for answer in self.question.answers}
        parts = []
        for name, verdict in self.verdicts.items():
            if self.question.judges_fields:
                title = f"{NAMES[verdict.kind].capitalize()}."
                says = "" if verdict.right else " ".join(cause.sentence for cause in verdict.causes)
            else:
                title = f"{CONDITION_NAMES[verdict.kind]}."
                says = verdict.sentence.removeprefix("Met.")
            parts.append(f"{labels[name]}: {title} {says}".strip())
        if self.closed and not self.done:
            parts.append("That was the last try: the worked solution is shown below.")
        elif not self.closed:
            parts.append(f"{self.tries_left} of {self.tries_allowed} tries left.")
        self.said = " ".join(parts)

    def _judge(self, texts: dict[str, str]) -> None:
        self.checked = texts
        read = {field.id: self._reading(field.id, texts) for field in self.question.fields}
        self.verdicts = self.question.judge(self.draw, texts, read=read)

    def _save(self) -> None:
        self._keep(
            self.answers,
            self.name,
            version=self.question.version,
            number=self.number,
            texts=dict(self.texts),
            checked=dict(self.checked) if self.verdicts else None,
            tries=self.tries,
            shown=self.shown,
            done=self.done,
            solved=self.solved,
        )

    @property
    def path(self) -> Path:
        """The file in which the answers are kept [-]."""
        return self.answers.path


def _whole(value) -> int:
    """A count from the answers file, which anybody may have edited: anything else than a small count is 0."""
    return value if isinstance(value, int) and 0 <= value < 10**6 else 0


def ask(lesson: str | Path, question_id: str, *, number: int | None = None) -> AnswerBox:
    """A practice question as an answer box.

    The box shows the question with its numbers, says what it read while you type, and on "Check" says not
    only whether the answer is right but what happened if it is not. Hints come one at a time, the worked
    solution after the last try or when asked for. Everything typed is kept in the notebook's folder.

    lesson: folder of the lesson's exercises, such as ``"03_centre_distance"``, or the path of a question
        bank.
    question_id: name of the question in that bank.
    number: number of the draw, 0 or more [-]; without it the draw you had last, at first number 0. The same
        number gives the same numbers everywhere.
    Returns the box; the last value of a cell shows itself.
    ValueError if there is no such lesson or question (near names are listed), or the number is not a whole
        number of 0 or more.

    >>> box = ask("03_centre_distance", "spacing-metric", number=0)
    >>> box
    AnswerBox('03_centre_distance/spacing-metric')
    >>> box.tries_left
    3
    """
    if number is not None and (
        isinstance(number, bool) or not isinstance(number, int) or not 0 <= number < 10**6
    ):
        raise ValueError(
            f"number = {number!r}: the number of a draw is a whole number from 0 to 999999; leave it out for"
            " your own last one"
        )
    if isinstance(lesson, Path) or Path(str(lesson)).suffix == ".toml":
        bank = load_bank(Path(lesson))
    else:
        bank = load_bank(lesson_bank(lesson))
    try:
        question = bank[question_id]
    except KeyError as error:
        raise ValueError(f"question {question_id!r} is not in {bank.path}: {error.args[0]}") from None
    return AnswerBox(question, f"{bank.name}/{question.id}", Answers(), number)
