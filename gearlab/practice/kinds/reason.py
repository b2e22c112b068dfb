"""Questions answered by a short text, which people mark by a guide."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape
from typing import Annotated

from pydantic import Field

from gearlab.digits import number_text
from gearlab.practice.answer import Key
from gearlab.practice.contract import Contract
from gearlab.practice.draw import Draw
from gearlab.practice.question import Question
from gearlab.practice.solution import points_in_words
from gearlab.practice.tables import BRACES, GuideTable, QuestionTable
from gearlab.practice.typed.reading import Reading
from gearlab.practice.verdict import UNMARKED, Award, Verdict
from gearlab.schema import near

__all__ = ["STEP", "TEXT", "ReasonQuestion"]

TEXT = "text"  # the id of the only answer
STEP = 0.5  # points are given in steps of this [-]
LONGEST = 2000  # characters of an answer, at most
_GUIDE, _MODEL = "What earns points ({} in all)", "An answer that earns all of them"
_ON_A_LINE = 70  # characters that a ruled line of a sheet takes


class ReasonTable(QuestionTable):
    """A question whose answer is a short text."""

    guide: list[GuideTable] = []
    longest: int = Field(600, ge=80, le=LONGEST)
    model: Annotated[str, Field(max_length=LONGEST)] = ""


class ReasonAnswer:
    """The text that is asked for, of at most so many characters."""

    id, label, unit, asked, dimension, kind = TEXT, "your reason", "", "", "", "text"
    table, symbols, whole, signed, modular = None, (), False, False, False

    def __init__(self, table: ReasonTable):
        self.longest = table.longest
        self.points = sum(line.points for line in table.guide)

    def __repr__(self) -> str:
        return f"Answer({self.id!r})"

    def read(self, text: str) -> Reading:
        """A text as it is; nothing of it is understood."""
        if not text.strip():
            return Reading(None, problem="Nothing was typed.", empty=True)
        return Reading(None, shown=f"{len(text)} characters")


class ReasonQuestion(Question):
    """A question that people mark: who is asked why cannot be judged by a number."""

    kind, Table, tries, echoes, for_people, prose = "reason", ReasonTable, 0, False, True, True
    own_fields, has_own = ("guide", "model"), "a question of kind 'reason' has a guide and a model answer"
    table: ReasonTable

    def _answers(self) -> tuple[ReasonAnswer, ...]:
        return (ReasonAnswer(self.table),)

    @classmethod
    def faults(cls, table: QuestionTable, shown: list[str]) -> list[str]:
        """A guide whose points add up, a model answer that fits, givens that are shown."""
        assert isinstance(table, ReasonTable)
        problems = ["answers: a question of kind 'reason' asks for one text"] if table.answers else []
        if not table.guide:
            problems.append('guide: at least one line { points = ..., earns = "..." } is needed')
        total = sum(line.points for line in table.guide)
        if "points" in table.model_fields_set and table.guide and abs(total - table.points) > 1e-9:
            problems.append(
                f"points: {table.points:g} are stated, but the lines of the guide add up to {total:g}"
            )
        problems += [
            f"guide: {line.points:g} points cannot be given in steps of {STEP:g}"
            for line in table.guide
            if line.points / STEP % 1
        ]
        if not table.model.strip():
            problems.append("model: a model answer is needed; students see it with their points")
        elif len(table.model) > table.longest:
            problems.append(
                f"model: has {len(table.model)} characters, but an answer may have {table.longest}: shorten"
                " it or raise longest"
            )
        if table.idea:
            problems.append("idea: does not go with a question of kind 'reason': the guide is what is told")
        problems += [
            f"model: {{{name}}} is not a shown given{near(name, shown)}"
            for name in BRACES.findall(table.model)
            if name not in shown
        ]
        if any(BRACES.search(line.earns) for line in table.guide):
            problems.append("guide: is the same for all students: no {given} may stand in it")
        return problems

    # -- judging --
    def read(self, answer_id: str, text: str) -> Reading:
        return self.answer(answer_id).read(str(text or ""))

    def readings(self, texts: Mapping[str, str | None]) -> dict[str, Reading]:
        return {TEXT: self.read(TEXT, texts.get(TEXT) or "")}

    def judge_read(
        self, draw: Draw, read: dict[str, Reading], listed: bool, chosen: dict[str, int]
    ) -> dict[str, Verdict]:
        if read[TEXT].empty:
            return {
                TEXT: Verdict("not answered", False, 0.0, self.points, sentence="Nothing was typed here.")
            }
        sentence = "Not marked yet: people read it. Its points are open, not lost."
        return {TEXT: Verdict(UNMARKED, False, 0.0, self.points, sentence=sentence)}

    def to_mark(self, texts: Mapping[str, str]) -> dict[str, str]:
        """The text as it is read: not longer than was asked for."""
        text = texts.get(TEXT, "").strip()[: self.table.longest]
        return {TEXT: text} if text else {}

    def judged_by(self, verdicts: dict[str, Verdict], given: Mapping[str, Award]) -> dict[str, Verdict]:
        """With who gave them and what they remark."""
        if TEXT not in given or verdicts[TEXT].kind != UNMARKED:
            return verdicts
        award, out_of = given[TEXT], self.points
        if award.points is None:
            sentence = f"Not marked yet: its readers ({award.by}) differ and are to agree."
            return {TEXT: Verdict(UNMARKED, False, 0.0, out_of, sentence=sentence)}
        points, full = min(award.points, out_of), award.points >= out_of
        note = f"marked by {award.by}" + (f": {award.remark}" if award.remark else "")
        sentence = f"Marked by {award.by}." + (f" {award.remark}" if award.remark else "")
        return {
            TEXT: Verdict(
                "right" if full else "marked", full, points, out_of, note=note, sentence=sentence.strip()
            )
        }

    def keys(self, draw: Draw) -> dict[str, Key]:
        return {TEXT: Key(None, self.filled(self.table.model, draw), "", 0.0)}

    # -- on a page --
    def _solution(self, draw: Draw, form: str) -> str:
        """The guide, and an answer that earns all its points."""
        model = self.filled(self.table.model, draw)
        rows = [(points_in_words(line.points), line.earns) for line in self.table.guide]
        guide = _GUIDE.format(number_text(self.points))
        if form == "html":
            items = "".join(f"<li><strong>{points}</strong>: {escape(earns)}</li>" for points, earns in rows)
            text = "".join(f"<p>{escape(part)}</p>" for part in model.split("\n") if part.strip())
            return f'<div class="worked"><h4>{guide}</h4><ul>{items}</ul><h4>{_MODEL}</h4>{text}</div>'
        bold = "**" if form == "markdown" else ""
        lines = "\n".join(f"- {bold}{points}{bold}: {earns}" for points, earns in rows)
        return f"{bold}{guide}{bold}\n\n{lines}\n\n{bold}{_MODEL}{bold}\n\n{model}"

    def method(self, form: str = "text") -> str:
        """A text has no way."""
        return ""

    @property
    def contracts(self) -> dict[str, Contract]:
        """What is asked of the text, and who gives its points."""
        asked = f"in your own words, at most {self.table.longest} characters"
        given = f"People read it and give its points, in steps of {number_text(STEP)}."
        return {self.answers[0].id: Contract("", asked, "", (given,))}

    def form(self, draw: Draw) -> list[dict]:
        return [_box(self.answers[0].label, self.table.longest)]

    def sheet(self, draw: Draw) -> dict:
        """With the greatest length."""
        sheet = super().sheet(draw)
        sheet["answers"][0]["longest"] = self.table.longest
        return sheet

    @property
    def ruled(self) -> int:
        """Lines for what may be typed, in handwriting [-]."""
        return min(max(3, -(-self.table.longest // _ON_A_LINE)), 16)

    @classmethod
    def sheet_form(cls, sheet: dict) -> list[dict]:
        return [
            _box(answer.get("label") or answer["id"], _longest(answer)) | {"id": answer["id"]}
            for answer in sheet["answers"]
        ]

    @classmethod
    def label_on_sheet(cls, sheet: dict, answer: dict) -> str:
        """There is one answer only: the question's title says which."""
        return sheet["title"]

    @classmethod
    def read_on_sheet(cls, answer: dict, text: str) -> Reading | None:
        """A text is seen, and not echoed."""
        return None

    # -- in a practice box --
    def remark(self, verdict: Verdict) -> str:
        """Nobody marks in practice: the guide is told, to hold one's own text against it."""
        rows = [f"{points_in_words(line.points)}: {line.earns}." for line in self.table.guide]
        return "\n".join(["Does your text say this?", *rows])


def _longest(answer: dict) -> int:
    longest = answer.get("longest")
    return longest if isinstance(longest, int) and 0 < longest <= LONGEST else LONGEST


def _box(label: str, longest: int) -> dict:
    lines = min(max(3, -(-longest // 90)), 12)
    return {"id": TEXT, "kind": "text", "lines": lines, "label": label, "longest": longest, "count": True}
