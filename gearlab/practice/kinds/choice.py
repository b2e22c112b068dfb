"""Questions answered by choosing among options."""

from __future__ import annotations

from functools import cached_property, lru_cache
from html import escape

from gearlab.practice.answer import Key
from gearlab.practice.checks.keys import numbers_shown
from gearlab.practice.contract import Contract, choice_contract
from gearlab.practice.draw import Draw, Stream
from gearlab.practice.handin import REASON, letter, letters
from gearlab.practice.judging import wrong
from gearlab.practice.question import Question
from gearlab.practice.tables import QuestionTable
from gearlab.practice.typed.reading import Reading, read_choice
from gearlab.practice.verdict import Cause, Verdict

__all__ = ["ChoiceQuestion"]

CHOICE = "choice"  # the id of the only answer
_escaped = lru_cache(maxsize=1024)(escape)  # nearly every option is the same for a whole class
_TICK = {True: "Tick all that fit", False: "Choose one"}


class ChoiceAnswer:
    """The one thing a choice asks for; of `several` options more than one may be ticked."""

    id, label, unit, asked, dimension, kind = CHOICE, "your choice", "", "", "", "choice"
    table, symbols, whole, signed, modular = None, (), False, False, False

    def __init__(self, table: QuestionTable):
        self.count = len(table.options)
        self.points = float(table.points)
        self.several = sum(option.right for option in table.options) > 1

    def __repr__(self) -> str:
        return f"Answer({self.id!r})"

    def read(self, text: str) -> Reading:
        """What is understood of letters or numbers of options."""
        return read_choice(text, self.count)


class ChoiceQuestion(Question):
    """A question with options; more tries than two would be guessing."""

    kind, tries, guessable, echoes = "choice", 2, True, False
    own_fields, has_own = ("options",), "a choice question has options"

    def _answers(self) -> tuple[ChoiceAnswer, ...]:
        return (ChoiceAnswer(self.table),)

    @classmethod
    def faults(cls, table: QuestionTable, shown: list[str]) -> list[str]:
        """Right and wrong options are needed."""
        problems = ["answers: a choice question has options, not answers"] if table.answers else []
        if len(table.options) < 2:
            problems.append("options: at least two are needed")
        elif not any(option.right for option in table.options):
            problems.append("options: at least one needs right = true")
        elif all(option.right for option in table.options):
            problems.append("options: at least one must be wrong")
        return problems

    def order(self, stream: Stream) -> tuple[int, ...]:
        count = len(self.table.options)
        return tuple(range(count)) if self.table.keep_order else tuple(stream.shuffled(count))

    def judge_read(
        self, draw: Draw, read: dict[str, Reading], listed: bool, chosen: dict[str, int]
    ) -> dict[str, Verdict]:
        return {CHOICE: self._judged(draw, self.answers[0], read[CHOICE])}

    @cached_property
    def _right(self) -> frozenset[int]:
        """Places of the right options in the bank."""
        return frozenset(place for place, option in enumerate(self.table.options) if option.right)

    def _judged(self, draw: Draw, answer: ChoiceAnswer, reading: Reading) -> Verdict:
        if reading.empty:
            return Verdict("not answered", False, 0.0, answer.points, sentence="Nothing was chosen here.")
        if reading.problem:
            return Verdict("cannot read", False, 0.0, answer.points, sentence=reading.problem)
        options = self.table.options
        ticked = [draw.order[place] for place in reading.choices]
        right, echo = self._right, reading.echo
        if set(ticked) == right:
            says = self.filled(" ".join(options[place].says for place in ticked if options[place].says), draw)
            return Verdict(
                "right", True, answer.points, answer.points, echo, sentence=f"Right. {says}".strip()
            )
        if len(ticked) > 1 and not answer.several:
            return Verdict(
                "cannot read",
                False,
                0.0,
                answer.points,
                echo,
                sentence="More than one option was chosen; choose one.",
            )
        misfits = [place for place in ticked if place not in right]
        if misfits:
            option = options[misfits[0]]
            says = self.filled(option.says or "This one does not fit.", draw)
            cause = Cause(f"option {misfits[0] + 1}", option.text, says, 0.0, "listed slip")
        else:
            says = "What you chose fits, but it is not all that fits."
            cause = Cause("incomplete", "not all that fit", says, 0.0, "listed slip")
        return wrong("listed slip", answer, echo, "", (cause,))

    def keys(self, draw: Draw) -> dict[str, Key]:
        right = ", ".join([letter(place) for place, option in enumerate(draw.order) if option in self._right])
        return {CHOICE: Key(None, right, "", 0.0)}

    def as_typed(self, texts: dict[str, str]) -> dict[str, str]:
        """Letters for the numbers of options that a notebook saves."""
        count = len(self.table.options)
        return {name: letters(text, count) if name == CHOICE else text for name, text in texts.items()}

    def in_words(self, draw: Draw, text: str, reading: Reading) -> str:
        """The words of the options chosen."""
        return "; ".join(draw.options[place][1] for place in reading.choices) or text

    def _solution(self, draw: Draw, form: str) -> str:
        rows = []
        # of several that are ticked, "wrong" would be read as said of what the option says
        states = ("not to be ticked", "to be ticked") if self.answers[0].several else ("wrong", "right")
        for place, (name, text) in zip(draw.order, draw.options):
            option = self.table.options[place]
            rows.append((name, text, states[option.right], self.filled(option.says, draw)))
        if form == "html":
            items = "".join(
                f"<li><strong>{name}) {_escaped(text)}</strong>: {state}. {_escaped(says)}</li>"
                for name, text, state, says in rows
            )
            return f'<div class="worked"><ul>{items}</ul></div>'
        bold = "**" if form == "markdown" else ""
        return "\n".join(
            f"- {bold}{name}) {text}{bold}: {state}. {says}".rstrip() for name, text, state, says in rows
        )

    def method(self, form: str = "text") -> str:
        """A choice has no way."""
        return ""

    @cached_property
    def contracts(self) -> dict[str, Contract]:
        return {CHOICE: choice_contract(self.answers[0].several)}

    def form(self, draw: Draw) -> list[dict]:
        several = self.answers[0].several
        return [
            {
                "id": CHOICE,
                "kind": "choice",
                "label": _TICK[several],
                "several": several,
                "lettered": True,
                "options": [{"id": name, "text": text} for name, text in draw.options],
            },
            {
                "id": "reason",
                "kind": "text",
                "lines": 2,
                "label": "Why? (if you like: kept for you, not judged)",
            },
        ]

    def sheet(self, draw: Draw) -> dict:
        """With the options in this draw's order; the reason is for the instructor to read."""
        return super().sheet(draw) | {
            "options": [text for _, text in draw.options],
            "several": self.answers[0].several,
            "reason": REASON,
        }

    @classmethod
    def sheet_form(cls, sheet: dict) -> list[dict]:
        several = bool(sheet.get("several"))
        options = [{"id": str(number), "text": text} for number, text in enumerate(sheet["options"], 1)]
        return [
            {
                "id": answer["id"],
                "kind": "choice",
                "label": _TICK[several],
                "several": several,
                "options": options,
            }
            for answer in sheet["answers"]
        ]

    @classmethod
    def label_on_sheet(cls, sheet: dict, answer: dict) -> str:
        """There is one answer only: the question's title says which."""
        return sheet["title"]

    @classmethod
    def fault_on_sheet(cls, sheet: dict) -> str:
        return "" if isinstance(sheet.get("options"), list) and sheet["options"] else "it has no options"

    def remark(self, verdict: Verdict) -> str:
        """What the bank says of the right option."""
        return verdict.sentence.removeprefix("Right.").strip()

    @classmethod
    def read_on_sheet(cls, answer: dict, text: str) -> Reading | None:
        """What was ticked is seen, and not echoed."""
        return None

    def check_draws(self, drawn: list[Draw]) -> list[str]:
        """The right choice is judged right and every wrong one is not; no option stands twice."""
        problems = []
        for draw in drawn[:5]:
            right = self.keys(draw)[CHOICE].text
            if not self.judge(draw, {CHOICE: right})[CHOICE].right:
                problems.append(f"the right choice {right} is not judged right")
            for (name, text), place in zip(draw.options, draw.order):
                if not self.table.options[place].right and self.judge(draw, {CHOICE: name})[CHOICE].right:
                    problems.append(f"the wrong option {text!r} is judged right")
            texts = [text for _, text in draw.options]
            if len(set(texts)) < len(texts):
                problems.append(f"options: two have the same text for {numbers_shown(draw)}")
        return list(dict.fromkeys(problems))
