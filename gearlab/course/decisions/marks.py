"""What decisions do to one student's marks: verdicts first, then the points of a question, then those in all.

Everything here is a function of plain data; nothing is remembered between students but compiled formulas.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from gearlab.course.decisions.tables import (
    AlsoRight,
    Attempt,
    Decision,
    Decisions,
    ExtraTime,
    FileOf,
    FullPoints,
    Late,
    LeaveOut,
    LookAgain,
    SetPoints,
    WrongKey,
)
from gearlab.course.gradebook import points_text
from gearlab.course.pages import amount, points_words
from gearlab.practice import Draw, HomeworkSet, Question, Reading, Verdict
from gearlab.practice.answer import derivation
from gearlab.practice.formulas.expression import compile_formula
from gearlab.practice.formulas.formula import compile_outputs
from gearlab.practice.judging import judge_number
from gearlab.practice.typed.reading import in_unit
from gearlab.practice.verdict import Cause
from gearlab.quoting import one_line
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


# -- the mark in all ----------------------------------------------------------------------------------
@dataclass(frozen=True, slots=True)
class Settled:
    """What a student gets in all, after every decision.

    points: None where there is no mark.
    told: what was decided about the mark in all, in words for the student.
    """

    points: float | None
    out_of: float
    told: tuple[Told, ...] = ()

    @property
    def comment(self) -> str:
        """The decisions in a few words, for a cell of the gradebook."""
        return "; ".join(
            f"{told.title.lower()}: {told.words.rstrip('.')} ({told.by}: {told.why})" for told in self.told
        )


def set_points(decision: Decision, before: float | None, possible: float) -> Told:
    """A decision that sets points, told with what they were."""
    table = decision.table
    assert isinstance(table, SetPoints)
    was = "nothing was marked" if before is None else f"the marking had given {points_text(before)}"
    words = f"Set to {points_text(table.points)} of {points_words(possible)}; {was}."
    change = round(table.points - (before or 0.0), 6)
    return told_as(decision, "Points set by hand", words, change=change)


def settle(decisions: Decisions, student: str, reached: float | None, possible: float) -> Settled:
    """The mark in all: excused, absent, extra time, late, set by hand.

    reached: sum over the questions [-]; None where nothing is to be marked.
    """
    told: list[Told] = []
    mine = decisions.of(student)
    points = reached
    for decision in mine:
        table = decision.table
        if decision.kind == "excused":
            words = "There is no mark for this set, and it counts neither for nor against you."
            return Settled(None, possible, (told_as(decision, "Excused", words),))
        if decision.kind == "absent":
            return Settled(0.0, possible, (told_as(decision, "Absent", "Counted as 0 points."),))
        if isinstance(table, ExtraTime):
            much = (
                f"{table.minutes:g} minutes" if table.minutes is not None else _days_words(table.days or 0.0)
            )
            told.append(told_as(decision, "Extra time", f"You had {much} more."))
        elif (
            isinstance(table, Attempt) and decision.who is not None
        ):  # a rule for all is told of several files
            which = f"the {table.counts}" if table.counts else f"the file {shown(table.file or '')}"
            told.append(told_as(decision, "Which hand-in counts", f"Of several hand-ins {which} counts."))
        elif isinstance(table, FileOf):
            words = f"The file {shown(table.file)} counts as yours."
            told.append(told_as(decision, "Which hand-in counts", words))
    for decision in mine:
        if isinstance(decision.table, Late) and points is not None:
            off, words = deduction(decision.table, _extra_days(mine), points, possible)
            told.append(told_as(decision, "Late", words, change=-off))
            points = round(points - off, 6)
    for decision in mine:
        if isinstance(decision.table, SetPoints) and not decision.question:
            told.append(set_points(decision, points, possible))
            points = decision.table.points
    return Settled(points, possible, tuple(told))


def without_hand_in(decisions: Decisions, student: str, homework: HomeworkSet) -> Settled:
    """The mark in all of a student from whom nothing came that could be marked."""
    parts = shares(homework, decisions, student)
    set_by_hand = []
    for decision in decisions.of(student, SetPoints.kind):
        if decision.question:
            told = set_points(decision, None, out_of(homework, parts, decision.question))
            title = homework[decision.question].question.title
            set_by_hand.append(replace(told, words=f"“{title}”: {told.words}"))
    reached = round(sum(told.change for told in set_by_hand), 6) if set_by_hand else None
    settled = settle(decisions, student, reached, out_of(homework, parts))
    away = settled.told and settled.told[0].kind in ("excused", "absent")
    return settled if away else replace(settled, told=(*set_by_hand, *settled.told))


def _extra_days(decisions: list[Decision]) -> float:
    return sum(d.table.days or 0.0 for d in decisions if isinstance(d.table, ExtraTime))


def _days_words(days: float) -> str:
    return f"{days:g} day{'' if days == 1 else 's'}"


def days_late(table: Late, extra: float = 0.0) -> int | None:
    """Days begun after the day due, extra time taken off; None where no days are told."""
    if table.days is not None:
        days: float = table.days
    elif table.due is not None and table.came is not None:
        apart: datetime.timedelta = table.came - table.due  # type: ignore[operator]  # both of one kind
        days = apart.total_seconds() / 86400
    else:
        return None
    return max(0, math.ceil(days - extra - 1e-9))


def deduction(table: Late, extra: float, reached: float, possible: float) -> tuple[float, str]:
    """What is taken off for being late, and how it comes about, in words."""
    days = days_late(table, extra)
    base, of = (reached, "the points reached") if table.of == "reached" else (possible, "all points")
    if days == 0:
        return 0.0, "Within the extra time: nothing is taken off."
    if table.points is not None:
        off, rule = table.points, "as decided"
    elif table.per_cent is not None:
        off, rule = table.per_cent * base / 100, f"{table.per_cent:g} % of {of}"
    else:
        a_day = table.points_a_day if table.points_a_day is not None else table.per_cent_a_day or 0.0
        most = math.inf if table.at_most is None else table.at_most
        size = min(a_day * (days or 0), most)
        off = size if table.in_points else min(size, 100.0) * base / 100
        much = points_words(a_day) if table.in_points else f"{a_day:g} % of {of}"
        ceiling = f", at most {points_words(most) if table.in_points else f'{most:g} %'}"
        rule = f"{much} a day{'' if math.isinf(most) else ceiling}"
    off = round(min(off, reached), 6)
    late = f"{_days_words(days)} late" if days is not None else "Handed in late"
    return off, f"{late}: {points_words(off)} taken off ({rule})."
