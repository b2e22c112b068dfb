"""What decisions do to one student's marks: verdicts first, then the points of a question, then those in all.

Everything here is a function of plain data; nothing is remembered between students but compiled formulas.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from gearlab.course.decisions.tables import (
    AlsoRight,
    Decision,
    Decisions,
    FullPoints,
    LeaveOut,
    LookAgain,
    WrongKey,
)
from gearlab.course.files import one_line
from gearlab.course.pages import amount
from gearlab.practice import Draw, HomeworkSet, Question, Reading, Verdict
from gearlab.practice.answer import derivation
from gearlab.practice.formulas.expression import compile_formula
from gearlab.practice.formulas.formula import compile_outputs
from gearlab.practice.judging import judge_number
from gearlab.practice.typed.reading import in_unit
from gearlab.practice.verdict import Cause
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import factor, theory_unit

if TYPE_CHECKING:
    from collections.abc import Callable

ALIKE = 1e-6  # relative: two expressions that come so near at every point of comparison are one
_BY_OLD_KEY = "Right by the key that was handed out; it stands."


@dataclass(frozen=True, slots=True)
class Told:
    """A decision as a student reads it: what, by whom, why.

    change: points that no answer's verdict shows, added to (or taken off) the sum of the answers [-].
    """

    kind: str
    title: str
    words: str
    by: str
    why: str
    when: str = ""
    question: str = ""
    answer: str = ""
    change: float = 0.0


def told_as(decision: Decision, title: str, words: str, answer: str = "", change: float = 0.0) -> Told:
    by, why = shown(decision.table.by), shown(decision.table.why)
    return Told(decision.kind, title, words, by, why, decision.when, decision.question, answer, change)


def shown(text: str) -> str:
    """A person's own words in one paragraph: line ends as blanks, other control characters as codes."""
    return one_line(" ".join(text.split()))


# -- what a question is worth --------------------------------------------------------------------------
@dataclass(frozen=True, slots=True)
class Share:
    """What is left of a question for a student.

    weight: factor on the points of its answers, where those left out were spread [-].
    """

    weight: float = 1.0
    left_out: frozenset[str] = frozenset()


_WHOLE = Share()


def shares(homework: HomeworkSet, decisions: Decisions, student: str) -> dict[str, Share]:
    """What is left of each question where some are left out for a student; {} where none is."""
    left: dict[str, dict[str, str]] = {}
    for decision in decisions.of(student, LeaveOut.kind):
        assert isinstance(decision.table, LeaveOut)
        for answer in decision.answers:
            left.setdefault(decision.question, {})[answer] = decision.table.points
    if not left:
        return {}
    pool, rest = 0.0, 0.0
    inner: dict[str, float] = {}
    for entry in homework.entries:
        gone = left.get(entry.question.id, {})
        worth = {answer.id: answer.points * entry.scale for answer in entry.question.answers}
        stays = sum(points for answer, points in worth.items() if answer not in gone)
        spread = sum(worth[answer] for answer, way in gone.items() if way == "spread")
        if stays:
            inner[entry.question.id] = (stays + spread) / stays
            rest += stays + spread
        else:
            pool += spread
    outer = (rest + pool) / rest if rest else 1.0
    return {
        entry.question.id: Share(
            inner.get(entry.question.id, 1.0) * outer, frozenset(left.get(entry.question.id, ()))
        )
        for entry in homework.entries
    }


def out_of(homework: HomeworkSet, parts: Mapping[str, Share], question: str | None = None) -> float:
    """Points that can be reached with what is left, of one question or of the whole set [-]."""
    total = 0.0
    for entry in homework.entries:
        if question in (None, entry.question.id):
            part = parts.get(entry.question.id, _WHOLE)
            points = sum(a.points for a in entry.question.answers if a.id not in part.left_out)
            total += points * entry.scale * part.weight
    return round(total, 6)


# -- verdicts ------------------------------------------------------------------------------------------
@lru_cache(maxsize=256)
def compiled(text: str, names: tuple[str, ...]) -> Callable[..., float]:
    """A formula of a decision, read by the project's own parser."""
    return compile_formula(text, names)


@lru_cache(maxsize=64)
def derived(question: Question, word: str, unit: str) -> Callable[[tuple], float]:
    """A quantity as theory derives it from the givens of a question, from the shown numbers to a unit.

    ValueError where the givens do not determine it.
    """
    given = question.known_names
    way = derivation(question.table, word, given)
    function = compile_outputs({word: way.raw}, {name: question.factor(name) for name in given})
    out = factor(theory_unit(QUANTITIES[word].dimension, question.table.length_unit), unit)
    places = [question.shown_names.index(name) for name in given]
    return lambda shown: float(function(*[shown[place] for place in places])[0] * out)


def right_number(table: AlsoRight | WrongKey, question: Question, draw: Draw, answer_id: str) -> float | None:
    """The number a decision calls right, in the unit asked; None where it has none for these givens."""
    answer = question.answer(answer_id)
    if table.value is not None:
        reading = answer.read(table.value)
        return None if reading.value is None else in_unit(reading, answer.shown_unit)
    try:
        if table.quantity is not None:
            return derived(question, table.quantity, answer.shown_unit)(draw.shown)
        number = compiled(table.formula or "0", question.shown_names)(*draw.shown)
    except (ArithmeticError, ValueError, TypeError):
        return None
    return float(number) if isinstance(number, (int, float)) and math.isfinite(number) else None


def accepts(
    table: AlsoRight | WrongKey, question: Question, draw: Draw, answer_id: str, read: Mapping[str, Reading]
) -> bool:
    """Whether what was read is what a decision calls right."""
    if question.kind == "design":
        numbers = [field.number(read[field.id]) for field in question.fields]
        if None in numbers:
            return False
        names = (*(field.id for field in question.fields), *question.shown_names)
        try:
            return bool(compiled(table.formula or "0", names)(*numbers, *draw.shown))
        except (ArithmeticError, ValueError, TypeError):
            return False
    reading = read[answer_id]
    if reading.empty:
        return False
    if question.kind == "choice":
        ticked = {draw.order[place] for place in reading.choices}
        options = question.table.options
        right = {place for place, option in enumerate(options) if option.right}
        place = [option.text for option in options].index(table.option or "")
        if not question.answer(answer_id).several:
            return ticked == {place}
        if isinstance(table, WrongKey):
            return ticked == right ^ {place}
        return bool(ticked) and ticked - {place} == right - {place}
    if question.kind == "expression":
        wanted = question.answer(answer_id).read(table.formula or "").expression
        return (
            wanted is not None
            and reading.expression is not None
            and _alike(question.points_of_comparison, wanted, reading.expression)
        )
    number = right_number(table, question, draw, answer_id)
    if number is None or reading.value is None:
        return False
    answer = question.answer(answer_id)
    keys = tuple(number if place == answer.place else key for place, key in enumerate(draw.keys))
    verdict, _ = judge_number(replace(draw, keys=keys), answer, reading, listed=False)
    return verdict.right


def _alike(points: Iterable[dict[str, float]], expression, other) -> bool:
    for point in points:
        mine, theirs = expression.value(point), other.value(point)
        if mine is None or theirs is None or not math.isclose(mine, theirs, rel_tol=ALIKE, abs_tol=1e-9):
            return False
    return True


class Judgement:
    """The verdicts on one question of one student with what was decided about it.

    plain: as the answers were found right or wrong, for statistics; `verdicts` carry what people granted too.
    told: what was decided, as the student reads it.
    """

    def __init__(
        self,
        question: Question,
        draw: Draw,
        read: dict[str, Reading],
        verdicts: dict[str, Verdict],
        decisions: list[Decision],
    ):
        self._question, self._draw, self._read = question, draw, read
        self.verdicts, self.told = dict(verdicts), list[Told]()
        self._correct([(d, d.table) for d in decisions if isinstance(d.table, WrongKey)])
        for decision in decisions:
            if isinstance(decision.table, AlsoRight):
                self._allow(decision, decision.table)
        self.plain = dict(self.verdicts)
        for decision in decisions:
            if isinstance(decision.table, FullPoints):
                self._grant(decision)
        for decision in decisions:
            if isinstance(decision.table, LeaveOut):
                self._leave_out(decision, decision.table)
            elif isinstance(decision.table, LookAgain) and not decision.table.settled:
                words = "Somebody is to look at this again; the points may still change."
                self._tell(decision, "To be looked at again", words)

    def _tell(self, decision: Decision, title: str, words: str, answer: str = "") -> None:
        """Note a decision; `answer`: the one it is about, by itself the one that it names."""
        about = answer or getattr(decision.table, "answer", None) or ""
        self.told.append(told_as(decision, title, words, about))

    def _correct(self, decisions: list[tuple[Decision, WrongKey]]) -> None:
        """Judge again by corrected keys; where the old one stands, nobody loses."""
        if not decisions:
            return
        question = self._question
        if question.numbers:
            falls = any(table.old == "falls" for _, table in decisions)
            again = question.judge_read(self._redrawn(decisions), self._read, True, {})
            for identity, verdict in again.items():
                before = self.verdicts[identity]
                if falls or verdict.points >= before.points:
                    self.verdicts[identity] = verdict
                elif before.right and not before.carried and identity in {d.answers[0] for d, _ in decisions}:
                    self.verdicts[identity] = replace(before, sentence=_BY_OLD_KEY)
        for decision, table in decisions:
            identity = decision.answers[0]
            if not question.numbers:
                self._correct_other(identity, table)
            words = _key_words(question, self._draw, table, identity)
            self._tell(decision, "The key was corrected", words, identity)

    def _correct_other(self, identity: str, table: WrongKey) -> None:
        """The same for an answer that is no number."""
        before = self.verdicts[identity]
        if accepts(table, self._question, self._draw, identity, self._read):
            self.verdicts[identity] = _full(before, "Right, by the corrected key.")
        elif before.right and table.old == "stands":
            self.verdicts[identity] = replace(before, sentence=_BY_OLD_KEY)
        elif before.right:
            words = "Right by the key that was handed out, which was wrong."
            cause = Cause("old key", "by the old key", words, 0.0, "listed slip")
            self.verdicts[identity] = Verdict(
                "listed slip", False, 0.0, before.out_of, before.read, causes=(cause,), sentence=words
            )

    def _redrawn(self, decisions: list[tuple[Decision, WrongKey]]) -> Draw:
        """The draw with its corrected keys, and those of later answers that build on them."""
        question, draw = self._question, self._draw
        keys = list(draw.keys)
        corrected = {
            decision.answers[0]: right_number(table, question, draw, decision.answers[0])
            for decision, table in decisions
        }
        for place, answer in enumerate(question.answers):
            number = corrected.get(answer.id)
            if number is not None:
                keys[place] = number
            elif any(keys[used] != draw.keys[used] for used in answer.carried_places):
                keys[place] = next(iter(answer.consistent(draw.shown, keys)), keys[place])
        return replace(draw, keys=tuple(keys))

    def _allow(self, decision: Decision, table: AlsoRight) -> None:
        """Count another answer as right, or in part."""
        identity = decision.answers[0]
        before = self.verdicts[identity]
        points = table.credit * before.out_of
        if before.points >= points or not accepts(table, self._question, self._draw, identity, self._read):
            return
        if table.credit == 1:
            self.verdicts[identity] = _full(before, "Right, by a decision.")
            for later, verdict in self.verdicts.items():
                if verdict.carried:
                    self.verdicts[later] = replace(verdict, sentence="Right with your own earlier number.")
            words = "Your answer counts as right too."
        else:
            sentence = "Counted in part, by a decision."
            cause = Cause("decided", "counted in part, by a decision", sentence, table.credit, "listed slip")
            self.verdicts[identity] = replace(
                before, kind="listed slip", points=points, causes=(cause,), sentence=sentence
            )
            words = f"Your answer earns {100 * table.credit:g} % of its points."
        self._tell(decision, "Another answer counts", words, identity)

    def _grant(self, decision: Decision) -> None:
        for identity in decision.answers:
            verdict = self.verdicts[identity]
            self.verdicts[identity] = replace(verdict, right=True, points=verdict.out_of)
        who = "Everybody gets" if decision.who is None else "You get"
        self._tell(decision, "Full points", f"{who} full points here, whatever was answered.")

    def _leave_out(self, decision: Decision, table: LeaveOut) -> None:
        for identity in decision.answers:
            self.verdicts[identity] = replace(self.verdicts[identity], points=0.0, out_of=0.0)
        whole = set(decision.answers) == {answer.id for answer in self._question.answers}
        what, over = ("question", "other questions") if whole else ("answer", "rest of the question")
        whom = "counts for nobody" if decision.who is None else "does not count for you"
        how = "taken out of what can be reached" if table.points == "fall" else f"spread over the {over}"
        self._tell(decision, "Left out", f"This {what} {whom}: its points are {how}.")


def _key_words(question: Question, draw: Draw, table: WrongKey, identity: str) -> str:
    right = ""
    if question.numbers:
        number, unit = right_number(table, question, draw, identity), question.answer(identity).unit
        if number is not None:
            right = f" Right with your numbers is {amount(number, unit)}."
    elif table.option and question.answer(identity).several:
        was = next(option.right for option in question.table.options if option.text == table.option)
        right = f" “{shown(table.option)}” {'does not fit' if was else 'fits too'}."
    else:
        right = f" Right is: {shown(table.option or table.formula or '')}."
    stands = "Answers by the old key keep their points."
    if table.old == "falls":
        stands = "The old key no longer counts."
    return (
        f"The key that was handed out was wrong.{right} {stands} The worked solution below shows the old key."
    )


def _full(before: Verdict, sentence: str) -> Verdict:
    points = before.out_of
    return Verdict("right", True, points, points, before.read, before.note, sentence=sentence)
