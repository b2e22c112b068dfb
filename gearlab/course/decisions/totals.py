"""A student's mark in all, after every decision: set by hand, late, extra time, excused, absent."""

from __future__ import annotations

import datetime
import math
from dataclasses import dataclass, replace

from gearlab.course.decisions.marks import Told, out_of, shares, shown, told_as
from gearlab.course.decisions.tables import Attempt, Decision, Decisions, ExtraTime, FileOf, Late, SetPoints
from gearlab.course.gradebook import points_text
from gearlab.course.pages import points_words
from gearlab.practice import HomeworkSet


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
