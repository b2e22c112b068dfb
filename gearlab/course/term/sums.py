"""The mark of a term: each student's sets added up by the course's rules, exactly, a step after the other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from gearlab.course.roster import Roster, Student
from gearlab.course.term.marks import SetMark, SetMarks
from gearlab.course.termrules import Group, Rules

#: What became of a set in a student's term, and what it is called everywhere.
STATES = {
    "counts": "counts",
    "dropped": "dropped",
    "missing": "missing, counts 0",
    "left out": "missing, left out",
    "excused": "excused",
    "not marked": "not marked yet",
    "nothing": "nothing to reach",
}


@dataclass(frozen=True, slots=True)
class Step:
    """One set in a student's term.

    state: one of `STATES`.
    out_of: points that could be reached; of a missing set those of the class [-].
    share: points reached of them, from 0 to 1 [-]; None where it does not count.
    """

    name: str
    state: str
    mark: SetMark
    out_of: Fraction
    weight: Fraction
    share: Fraction | None = None

    @property
    def counts(self) -> bool:
        """Whether it goes into the sum."""
        return self.state in ("counts", "missing")

    @property
    def lacking(self) -> bool:
        """Whether nothing was handed in and the student is not excused."""
        return self.mark.points is None and self.state in ("missing", "left out", "dropped")

    @property
    def came(self) -> str:
        """What came and could not be marked, where it counts as missing."""
        return self.mark.came if self.lacking else ""

    @property
    def words(self) -> str:
        """What became of it."""
        return ("missing, " if self.state == "dropped" and self.lacking else "") + STATES[self.state]

    @property
    def points(self) -> Fraction:
        """Points that go into the sum; 0 of a missing set."""
        return self.mark.points or Fraction(0)


@dataclass(frozen=True, slots=True)
class GroupSum:
    """The sets of a group, and what they come to.

    share: of what could be reached, from 0 to 1 [-]; None where nothing counts.
    """

    group: Group
    steps: tuple[Step, ...]
    share: Fraction | None

    @property
    def counting(self) -> list[Step]:
        """The sets that go into the sum."""
        return [step for step in self.steps if step.counts]


@dataclass(frozen=True, slots=True)
class Sum:
    """A student's term.

    exact: the mark before it is rounded [-]; None where nothing counts.
    total: the mark [-].
    out_of: what it is out of [-].
    """

    student: Student
    groups: tuple[GroupSum, ...]
    exact: Fraction | None
    total: Fraction | None
    out_of: Fraction

    @property
    def steps(self) -> list[Step]:
        """Every set, in the order of the groups."""
        return [step for group in self.groups for step in group.steps]

    @property
    def open(self) -> list[str]:
        """What may still change the mark, in words."""
        words = []
        for step in self.steps:
            if step.state == "not marked":
                words.append(f"{step.name} is not marked yet")
            elif step.mark.open and step.state != "excused":
                words.append(f"{step.name}: {_plain(step.mark.open)} points still open")
            elif step.came:
                words.append(f"{step.name}: {step.came}")
        return words

    @property
    def missing(self) -> list[str]:
        """Sets that were not handed in and are not excused, with what came instead."""
        told = []
        for step in (step for step in self.steps if step.lacking):
            more = ", ".join(filter(None, ["dropped" if step.state == "dropped" else "", step.came]))
            told.append(f"{step.name} ({more})" if more else step.name)
        return told


def _plain(number: Fraction) -> str:
    return f"{float(number):.2f}".rstrip("0").rstrip(".")


def rounded(number: Fraction, rules: Rules) -> Fraction:
    """A number rounded as the rules say; of two nearest ones the upper.

    >>> from types import SimpleNamespace
    >>> rounded(Fraction("81.25"), SimpleNamespace(places=1, rounding="nearest"))
    Fraction(813, 10)
    """
    step = 10**rules.places
    scaled = number * step
    way = {"nearest": lambda x: math.floor(x + Fraction(1, 2)), "up": math.ceil, "down": math.floor}
    return Fraction(way[rules.rounding](scaled), step)


def sums(rules: Rules, roster: Roster, sets: Sequence[SetMarks]) -> list[Sum]:
    """The terms of all students, in the order of the class list."""
    by_name = {marks.name: marks for marks in sets}
    worth = {marks.name: _possible(marks) for marks in sets}
    return [summed(rules, student, by_name, worth) for student in roster]


def _possible(marks: SetMarks) -> Fraction:
    """Points that the class could reach in a set: what most students have."""
    counts: dict[Fraction, int] = {}
    for mark in marks.marks.values():
        if mark.points is not None:
            counts[mark.out_of] = counts.get(mark.out_of, 0) + 1
    return max(counts, key=lambda out_of: (counts[out_of], out_of), default=Fraction(0))


def summed(rules: Rules, student: Student, sets: dict[str, SetMarks], worth: dict[str, Fraction]) -> Sum:
    """One student's term.

    worth: points that could be reached in each set, for those who did not hand in [-].
    """
    groups = []
    for group in rules.groups:
        steps = [
            _step(group, student, sets[name], weight, worth[name])
            for name, weight in zip(group.sets, group.weights, strict=True)
        ]
        steps = _best(group, steps)
        groups.append(GroupSum(group, tuple(steps), _share(rules, steps)))
    exact, out_of = _total(rules, groups)
    total = None if exact is None else rounded(exact, rules)
    return Sum(student, tuple(groups), exact, total, out_of)


def _step(group: Group, student: Student, marks: SetMarks, weight: Fraction, worth: Fraction) -> Step:
    mark = marks.of(student.id)
    if mark.excused:
        return Step(marks.name, "excused", mark, mark.out_of, weight)
    if marks.marked is None or (mark.points is None and student.section in marks.waiting):
        return Step(marks.name, "not marked", mark, worth, weight)
    if mark.points is None:
        if not group.zero:
            return Step(marks.name, "left out", mark, worth, weight)
        return Step(marks.name, "missing", mark, worth, weight, Fraction(0))
    if not mark.out_of:
        return Step(marks.name, "nothing", mark, mark.out_of, weight)
    return Step(marks.name, "counts", mark, mark.out_of, weight, mark.points / mark.out_of)


def _best(group: Group, steps: list[Step]) -> list[Step]:
    """The steps with those dropped that are not among the best; of equal ones the later goes."""
    counting = [step for step in steps if step.share is not None and step.weight]
    if group.best is None or len(counting) <= group.best:
        return steps
    order = sorted(counting, key=lambda step: step.share or 0, reverse=True)  # stable: the earlier stays
    dropped = {step.name for step in order[group.best :]}
    return [replace(step, state="dropped") if step.name in dropped else step for step in steps]


def _of_possible(steps: Sequence[Step]) -> tuple[Fraction | None, Fraction]:
    """The share of the points that could be reached in some sets (None of none), and those points."""
    possible = sum((step.out_of for step in steps), Fraction(0))
    return sum((step.points for step in steps), Fraction(0)) / possible if possible else None, possible


def _weighted(parts: Sequence[tuple[Fraction, Fraction | None]]) -> Fraction | None:
    """The mean of shares by their weights; None where nothing weighs."""
    weight = sum((weight for weight, _ in parts), Fraction(0))
    return sum((weight * (share or 0) for weight, share in parts), Fraction(0)) / weight if weight else None


def _share(rules: Rules, steps: Sequence[Step]) -> Fraction | None:
    counting = [step for step in steps if step.counts and step.share is not None]
    if rules.by_points:
        return _of_possible(counting)[0]
    return _weighted([(step.weight, step.share) for step in counting])


def _total(rules: Rules, groups: Sequence[GroupSum]) -> tuple[Fraction | None, Fraction]:
    """The mark before rounding, and what it is out of."""
    if rules.grouped:
        possible = Fraction(100)
        share = _weighted([(group.group.weight, group.share) for group in groups if group.share is not None])
    else:
        share, possible = _of_possible([step for group in groups for step in group.counting])
    out_of = possible if rules.out_of is None else rules.out_of
    return (None if share is None else share * out_of), out_of
