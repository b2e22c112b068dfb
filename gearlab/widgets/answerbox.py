"""The practice box: a question with numbers, what was read, verdicts with a tutor's help, the solution."""

from __future__ import annotations

import contextlib
import secrets
from pathlib import Path

from gearlab.contents import lesson_bank
from gearlab.practice import Question, Reading, Verdict, load_bank
from gearlab.practice.tutor import Check, Tries, help_with, idea, tried_already
from gearlab.practice.verdict import CONDITION_NAMES, NAMES, UNMARKED
from gearlab.practice.workbook.attempts import record
from gearlab.practice.workbook.progress import Answers

from .box import Box, echo_of, told
from .questionlist import QuestionList, like, notebook_lesson

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
    UNMARKED: ("quiet", "○"),
}
HELD = "Kept here; nobody marks it in practice."
ASKING = {
    "kind": "cannot read",
    "tone": "near",
    "symbol": "?",
    "title": "Which number do you mean?",
    "note": "",
    "says": [],
}
MOST_DRAWS = 400  # of one question that are kept; what came before stands in the attempts


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
        self.draws = _draws(kept)
        self.number = number if number is not None else _whole(kept.get("number"))
        self._start(self.draws.get(str(self.number), {}))

    # -- one draw from the beginning, or as it was left --

    def _kept(self) -> dict:
        kept = self.answers.get(self.name)
        if self.answers.damaged:
            self.trouble = (
                f"the file with your answers was damaged; it was set aside as {self.answers.damaged.name}"
            )
        # A changed question is a new one: its old answers belong to other words and numbers, and stay kept.
        earlier, version = kept.get("earlier"), kept.get("version", self.question.version)
        self.earlier: dict[str, dict] = dict(earlier) if isinstance(earlier, dict) else {}
        if version == self.question.version:
            return kept
        self.earlier[str(version)] = _draws(kept)
        return {}

    def _start(self, kept: dict) -> None:
        question = self.question
        self.draw = question.draw(seed=reader_seed(self.answers), number=self.number)
        self.texts = _texts(kept.get("texts"))
        self.tries, self.shown = (
            _whole(kept.get("tries")),
            min(_whole(kept.get("shown")), len(question.hints)),
        )
        self.done, self.solved = bool(kept.get("done")), bool(kept.get("solved"))
        self.checked: dict[str, str] = {}
        self._read: dict[str, tuple[str, Reading]] = {}
        self.verdicts: dict[str, Verdict] = {}
        checks, told = kept.get("checks"), kept.get("told")
        self.tried = Tries(
            question, self.draw, [_texts(row) for row in checks or ()] if isinstance(checks, list) else ()
        )
        self.told = {name: _lines(rows) for name, rows in told.items()} if isinstance(told, dict) else {}
        self.said, self.asking, self.notice = "", (), ""
        self.note = "✓ your earlier answer is back" if any(self.texts.values()) else ""
        checked = kept.get("checked")
        if isinstance(checked, dict):
            self._judge(_texts(checked))
            if not self.tried.checks:  # kept by a version that told nothing
                check = self.tried.add(self.checked, self._readings(self.checked), self.verdicts)
                self.told = {name: self._tell(name, check, self.shown, {})[0] for name in self.verdicts}
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
        """How many tries there are before the solution is offered [-]."""
        return self.question.tries

    @property
    def tries_left(self) -> int:
        """How many tries are left until then [-]."""
        return max(0, self.tries_allowed - self.tries)

    @property
    def closed(self) -> bool:
        """Whether the question is over: right, its solution shown, or nothing left but guessing [-]."""
        return self.done or self.solved or (self.question.guessable and self.tries_left == 0)

    # -- what the front end shows --

    def _fields(self) -> list[dict]:
        fields, contracts = self.question.form(self.draw), self.question.contracts
        for field in fields:
            if field["id"] in contracts:
                field["asked"] = contracts[field["id"]].asked
        return fields

    def _contract(self) -> list[dict]:
        """How each answer is marked, for the fold below the fields."""
        question = self.question
        labels = {field.id: field.label for field in question.fields} if len(question.contracts) > 1 else {}
        return [
            {"label": labels.get(name, ""), "says": told(contract.to_json())}
            for name, contract in question.contracts.items()
        ]

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
            name: self._look(name, verdict) for name, verdict in self.verdicts.items() if name in fresh
        }
        verdicts |= dict.fromkeys(self.asking, ASKING)
        hints = len(question.hints)
        solved = self.solved or (self.closed and not self.done)
        return {
            "echoes": echoes,
            "verdicts": verdicts,
            "conditions": [] if question.judges_fields else self._conditions(fresh),
            "locked": self.closed,
            "open": ["reason"],
            "summary": self.notice,
            "hints": list(question.hints[: self.shown]),
            "tries": self._tries_in_words(),
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
                    "words": "Give up: show the solution"
                    if self.tries_left and not self.closed
                    else "Show the solution",
                },
                "renew": (
                    {"words": "New numbers"}
                    if self.question.shown_names
                    else {"words": "Start again", "off": not self.closed}
                ),
            },
        }

    def _hint(self, number: int) -> str:
        return f"Hint {number}: {self.question.hints[number - 1]}"

    def _tries_in_words(self) -> str:
        if self.closed:
            return ""
        if self.tries_left == 0:
            return "The worked solution is there when you want it."
        return f"{self.tries_left} of {self.tries_allowed} tries left"

    def _conditions(self, fresh: set[str]) -> list[dict]:
        """What became of each condition; one that hangs on a field changed since is not shown."""
        return self._rows(
            condition
            for condition in self.question.answers
            if condition.id in self.verdicts and all(field.id in fresh for field in condition.rests_on)
        )

    def _rows(self, conditions) -> list[dict]:
        """Rows of conditions; why nothing can be said of several is told once."""
        rows: list[dict] = []
        for condition in conditions:
            row = self._row(condition)
            unjudged = self.verdicts[condition.id].kind in ("cannot read", "not answered")
            if unjudged and any(row["says"] == other["says"] for other in rows):
                row["says"] = ""
            rows.append(row)
        return rows

    def _row(self, condition) -> dict:
        verdict = self.verdicts[condition.id]
        tone, symbol = LOOKS.get(verdict.kind, WRONG)
        title, says = f"{condition.label}: {CONDITION_NAMES[verdict.kind]}", verdict.sentence
        return {"tone": tone, "symbol": symbol, "title": title, "says": says.removeprefix("Met.").strip()}

    def _look(self, name: str, verdict: Verdict) -> dict:
        """A verdict as it is shown, and as it is read out."""
        tone, symbol = LOOKS.get(verdict.kind, WRONG)
        title = f"{NAMES[verdict.kind].capitalize()}."
        if verdict.kind == "right" and verdict.carried:
            title = "Right, carried on from your number above."
        if verdict.kind == UNMARKED:
            title = HELD
        says = self.told.get(name, [])
        if verdict.kind == "cannot read" and not self._reading(name, self.checked).problem:
            says = [verdict.sentence]  # what the echo does not say yet
        note = f"{verdict.note[0].upper()}{verdict.note[1:]}." if verdict.note else ""
        look = {"kind": verdict.kind, "tone": tone, "symbol": symbol, "title": title, "note": note}
        return {**look, "says": list(says)}

    # -- what the reader does --

    def _typed(self) -> None:
        self.said, self.asking, self.notice = "", (), ""
        self._save()

    def _act(self, act: str) -> None:
        if act == "check" and not self.closed:
            self._check()
        elif act == "hint" and self.shown < len(self.question.hints) and not self.closed:
            self.shown += 1
            self.said = self._hint(self.shown)
            self._record("hint")
        elif act == "solve" and not self.solved:
            self.solved = True
            self.said = "Worked solution"
            self._record("solution")
        elif act == "renew" and (self.question.shown_names or self.closed):
            self._renew()
        else:
            return
        self._save()

    def _renew(self) -> None:
        """The next numbers that the reader has not had yet; those had stay kept."""
        self._save()
        while str(self.number) in self.draws:
            self.number += 1
        self._start({})
        self.said = "New numbers" if self.question.shown_names else "Start again"
        self._record("new numbers")

    def _check(self) -> None:
        self.asking = tuple(
            answer.id for answer in self.question.fields if self._reading(answer.id, self.texts).alternatives
        )
        if self.asking:
            self.said = f"{ASKING['title']} Choose one of the two readings."
            return
        before = self.checked
        looks = self._looks().items()
        stood = {name: look for name, look in looks if self.texts.get(name) == before.get(name)}
        self._judge(dict(self.texts))
        check = self.tried.add(self.checked, self._readings(self.checked), self.verdicts)
        self.done = all(verdict.settled for verdict in self.verdicts.values())
        self.tries += check.counts
        shown, hints, ideas = self.shown, self.shown, list[str]()
        for answer in self.question.answers:
            told, hint = self._tell(answer.id, check, shown, before)
            if self.verdicts[answer.id].settled:  # an idea is told once
                told = [text for text in told if text not in ideas]
                ideas += told
            self.told[answer.id], hints = told, max(hints, hint)
        self.shown = hints
        for name in (*check.right, *check.wrong):
            self._record_answer(name, name in check.right, shown)
        new = [self._hint(number) for number in range(shown + 1, hints + 1)]
        for _ in new:
            self._record("hint")
        closing = ""
        if self.closed and not self.done:
            self.solved, closing = True, "Worked solution"
            self._record("solution")
        spoken = self._spoken(stood if check.counts else {})
        self.said = " ".join([*spoken, *new, self._tries_in_words(), closing]).strip()

    def _tell(self, name: str, check: Check, shown: int, before: dict[str, str]) -> tuple[list[str], int]:
        """What a tutor says of an answer, and up to which hint it opens them."""
        question, verdict = self.question, self.verdicts[name]
        if verdict.settled:
            return idea(question, name, verdict).splitlines(), 0
        if name in check.wrong:
            advice = help_with(question, self.draw, name, verdict, self.tried.level(name), shown)
            return list(advice.texts), advice.hint
        if name not in check.again:
            return [], 0
        # one that was left as it was, while another one is new, is not spoken of again
        same = check.counts and self.texts.get(name, "") == before.get(name, "")
        advice = help_with(question, self.draw, name, verdict, self.tried.level(name), len(question.hints))
        texts = list(advice.texts) if verdict.causes else self.told.get(name, [])[-1:]
        if question.judges_fields:
            return (texts if same else [tried_already([self._reading(name, self.texts)]), *texts]), 0
        self.notice = tried_already(list(self._readings(self.texts).values()))
        return texts, 0

    def _looks(self) -> dict[str, dict]:
        verdicts = self.verdicts if self.question.judges_fields else {}
        return {name: self._look(name, verdict) for name, verdict in verdicts.items()}

    def _spoken(self, stood: dict[str, dict]) -> list[str]:
        """Every verdict in the words that are seen; in short what stood there before."""
        if not self.question.judges_fields:
            rows = self._rows(self.question.answers)
            return [*(f"{row['title']}. {row['says']}".strip() for row in rows), self.notice]
        parts = []
        for answer in self.question.answers:
            look = self._look(answer.id, self.verdicts[answer.id])
            more = [look["note"], *look["says"]] if stood.get(answer.id) != look else []
            parts.append(" ".join([f"{answer.label}: {look['title']}", *more]))
        return [" ".join(part.split()) for part in parts]

    # -- what is recorded --

    def _record_answer(self, name: str, right: bool, hints: int) -> None:
        """A try; `hints` were there before it."""
        verdict = self.verdicts[name]
        self._record(
            "answer",
            answer=name,
            typed=self.question.typed(self.texts, name),
            verdict=verdict.kind,
            cause=verdict.causes[0].name if verdict.causes else "",
            share=verdict.share,
            hints=hints,
            solution=self.solved,
            **{"try": self.tried.level(name) + right},
        )

    def _record(self, event: str, **fields) -> None:
        """A line in the attempts beside the answers; a folder that cannot be written is said by `_save`."""
        bank = self.name.rpartition("/")[0]
        version = self.question.version
        fields.setdefault("hints", self.shown)
        with contextlib.suppress(OSError):
            record(
                self.answers.folder,
                event=event,
                bank=bank,
                question=self.question.id,
                version=version,
                draw=self.number,
                **fields,
            )

    def _readings(self, texts: dict[str, str]) -> dict[str, Reading]:
        return {field.id: self._reading(field.id, texts) for field in self.question.fields}

    def _judge(self, texts: dict[str, str]) -> None:
        self.checked = texts
        self.verdicts = self.question.judge(self.draw, texts, read=self._readings(texts))

    def _save(self) -> None:
        """Every draw with its answers; the one on the screen also beside them, where older versions look."""
        draw = {
            "texts": dict(self.texts),
            "checked": dict(self.checked) if self.verdicts else None,
            "checks": self.tried.checks,
            "told": self.told,
            "tries": self.tries,
            "shown": self.shown,
            "done": self.done,
            "solved": self.solved,
        }
        self.draws.pop(str(self.number), None)  # the last one that was touched stands last
        self.draws[str(self.number)] = draw
        for oldest in list(self.draws)[:-MOST_DRAWS]:
            del self.draws[oldest]
        now = {name: value for name, value in draw.items() if name not in ("checks", "told")}
        more = {"earlier": self.earlier} if self.earlier else {}
        version, number = self.question.version, self.number
        self._keep(self.answers, self.name, version=version, number=number, draws=self.draws, **now, **more)


def _whole(value) -> int:
    """A count from the answers file, which anybody may have edited: anything else than a small count is 0."""
    return value if isinstance(value, int) and 0 <= value < 10**6 else 0


def _texts(value) -> dict[str, str]:
    return {str(name): str(text) for name, text in value.items()} if isinstance(value, dict) else {}


def _lines(value) -> list[str]:
    return [str(text) for text in value] if isinstance(value, list) else []


def _draws(kept: dict) -> dict[str, dict]:
    """Every draw kept of a question, by its number; a file of an older version holds the last one only."""
    draws = kept.get("draws")
    known = draws.items() if isinstance(draws, dict) else ()
    by_number = {str(number): draw for number, draw in known if isinstance(draw, dict)}
    if not by_number and kept:
        by_number[str(_whole(kept.get("number")))] = {
            name: kept.get(name) for name in ("texts", "checked", "tries", "shown", "done", "solved")
        }
    return by_number


def ask(
    lesson: str | Path | None = None, question_id: str | None = None, *, number: int | None = None
) -> AnswerBox | QuestionList:
    """A practice question as an answer box; without a question, those that the lesson has.

    The box shows the question with its numbers, says what it read while you type, and on "Check" says not
    only whether the answer is right but helps if it is not: first a question, then the step in which it
    happened, then the way. Then the worked solution is there when you want it. Everything typed is kept in
    the notebook's folder.

    lesson: folder of the lesson's exercises, such as ``"03_centre_distance"``, or the path of a question
        bank; without it the lesson whose notebook is open in JupyterLab.
    question_id: name of the question in that bank; without it a table of all of them.
    number: number of the draw, 0 or more [-]; without it the draw you had last, at first number 0. The same
        number gives the same numbers everywhere.
    Returns the box or the table; the last value of a cell shows itself.
    ValueError if there is no such lesson or question (near names are listed), or the number is not a whole
        number of 0 or more.

    >>> box = ask("03_centre_distance", "spacing-metric", number=0)
    >>> box
    AnswerBox('03_centre_distance/spacing-metric')
    >>> box.tries_left
    3
    >>> type(ask("03_centre_distance")).__name__
    'QuestionList'
    """
    if number is not None and (
        isinstance(number, bool) or not isinstance(number, int) or not 0 <= number < 10**6
    ):
        raise ValueError(
            f"number = {number!r}: the number of a draw is a whole number from 0 to 999999; leave it out for"
            " your own last one"
        )
    lesson = notebook_lesson() if lesson is None else lesson
    by_path = isinstance(lesson, Path) or Path(str(lesson)).suffix == ".toml"
    bank = load_bank(Path(lesson) if by_path else lesson_bank(str(lesson)))
    if question_id is None:
        return QuestionList(bank, Answers())
    if question_id not in bank.questions:
        near = like(str(question_id), list(bank.questions))
        there = f"did you mean {' or '.join(near)}?" if near else f'ask("{bank.name}") lists those there are'
        raise ValueError(f"question {question_id!r} is not in {bank.name}: {there}")
    question = bank[question_id]
    return AnswerBox(question, f"{bank.name}/{question.id}", Answers(), number)
