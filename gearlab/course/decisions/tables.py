"""Decisions of people about the marks of one set: the tables of their file, read and frozen.

A decision never changes the frozen set: marking applies it on top. What a file names is checked against set
and class list in `checks.py`; what it does to points stands in `marks.py`.
"""

from __future__ import annotations

import datetime
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Annotated, ClassVar, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from gearlab.quoting import one_line

MOST_STUDENTS = 20_000  # named in one decision

Id = Annotated[str, StringConstraints(min_length=1, max_length=64)]
Word = Annotated[str, StringConstraints(min_length=1, max_length=100)]
By = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=100)]
Why = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=1000)]
Formula = Annotated[str, StringConstraints(min_length=1, max_length=500)]
Points = Annotated[float, Field(ge=0, le=10_000, allow_inf_nan=False)]
PerCent = Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)]
Days = Annotated[float, Field(ge=0, le=366, allow_inf_nan=False)]
Moment = datetime.datetime | datetime.date


class Table(BaseModel):
    """What every decision says: who decided, why, when, and whom it concerns (nobody named: everybody)."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)
    kind: ClassVar[str]
    needs_who: ClassVar[bool] = False  # it is about named students or sections only

    by: By
    why: Why
    when: Moment | Annotated[str, StringConstraints(max_length=60)] = ""
    student: Id | None = None
    students: Annotated[tuple[Id, ...], Field(max_length=MOST_STUDENTS, strict=False)] = ()
    sections: Annotated[tuple[Id, ...], Field(max_length=500, strict=False)] = ()

    @property
    def named(self) -> tuple[str, ...]:
        """Every student it names."""
        named = ((self.student,) if self.student is not None else ()) + self.students
        return tuple(unicodedata.normalize("NFC", name) for name in named)  # as the class list is read

    def faults(self) -> Iterator[str]:
        """What does not fit together in this table: "field: what is expected"."""
        if self.needs_who and not (self.named or self.sections):
            yield (
                'student: is missing; say whom it concerns: student = "ID", students = [...] or'
                " sections = [...]"
            )


class OfQuestion(Table):
    """About a question, or one answer of it."""

    question: Word
    answer: Word | None = None


class LeaveOut(OfQuestion):
    """Left out: its points fall out of what can be reached, or are spread over the rest."""

    kind = "leave_out"
    points: Literal["fall", "spread"] = "fall"


class _Key(OfQuestion):
    value: Formula | None = None
    formula: Formula | None = None
    quantity: Word | None = None
    option: Formula | None = None

    def faults(self) -> Iterator[str]:
        yield from super().faults()
        ways = (self.value, self.formula, self.quantity, self.option)
        if sum(way is not None for way in ways) != 1:
            yield "value, formula, quantity, option: write exactly one of them"


class AlsoRight(_Key):
    """Another answer is right too, or earns a share of the points."""

    kind = "also_right"
    credit: Annotated[float, Field(gt=0, le=1, allow_inf_nan=False)] = 1.0


class WrongKey(_Key):
    """The key was wrong: another one holds for everybody; who had the old one keeps the points, or not."""

    kind = "wrong_key"
    old: Literal["stands", "falls"] = "stands"

    def faults(self) -> Iterator[str]:
        yield from super().faults()
        if self.named or self.sections:
            yield "student: a key is corrected for everybody; use [[also_right]] for some students"


class FullPoints(OfQuestion):
    """Full points to everybody who handed in."""

    kind = "full_points"


class LookAgain(OfQuestion):
    """Somebody is to look at it again; listed until it is settled."""

    kind = "look_again"
    settled: bool = False


class SetPoints(Table):
    """The points of a student, for a question or in all, set by a person."""

    kind = "set_points"
    needs_who = True
    question: Word | None = None
    points: Points


class Late(Table):
    """Handed in late, with a deduction."""

    kind = "late"
    needs_who = True
    due: Moment | None = None
    came: Moment | None = None
    days: Days | None = None
    points: Points | None = None
    per_cent: PerCent | None = None
    points_a_day: Points | None = None
    per_cent_a_day: PerCent | None = None
    at_most: Points | None = None
    of: Literal["reached", "possible"] = "reached"

    @property
    def by_the_day(self) -> bool:
        """Whether the deduction grows with the days."""
        return self.points_a_day is not None or self.per_cent_a_day is not None

    @property
    def in_points(self) -> bool:
        """Whether the deduction, and its ceiling, are points and no per cent."""
        return self.points is not None or self.points_a_day is not None

    def faults(self) -> Iterator[str]:
        yield from super().faults()
        ways = (self.points, self.per_cent, self.points_a_day, self.per_cent_a_day)
        if sum(way is not None for way in ways) != 1:
            yield (
                "points, per_cent, points_a_day, per_cent_a_day: write exactly one of them (0 for no"
                " deduction)"
            )
        if (self.due is None) != (self.came is None):
            yield "due, came: write both, or neither"
        elif self.due is not None and self.days is not None:
            yield "days: is beside due and came, which tell the days already; leave one out"
        elif self.due is not None and self.came is not None:
            if isinstance(self.due, datetime.datetime) != isinstance(self.came, datetime.datetime):
                yield "due, came: write both as dates, or both with the time of the day"
            elif _zoned(self.due) != _zoned(self.came):
                yield "due, came: write both with an offset from universal time, or both without"
        if self.by_the_day and self.days is None and self.due is None:
            yield "days: is missing; a deduction by the day needs days, or due and came"
        if self.at_most is not None and not self.by_the_day:
            yield "at_most: is the ceiling of a deduction by the day; without one it says nothing"
        if self.per_cent_a_day is not None and self.at_most is not None and self.at_most > 100:
            yield f"at_most: is {self.at_most:g} per cent; at most 100"


class ExtraTime(Table):
    """More time: days are taken off the days a late hand-in counts; minutes are told on the page."""

    kind = "extra_time"
    needs_who = True
    days: Days | None = None
    minutes: Annotated[float, Field(gt=0, le=100_000, allow_inf_nan=False)] | None = None

    def faults(self) -> Iterator[str]:
        yield from super().faults()
        if (self.days is None) == (self.minutes is None):
            yield "days, minutes: write exactly one of them"


class Excused(Table):
    """Excused: no mark, whatever came in."""

    kind = "excused"
    needs_who = True


class Absent(Table):
    """Absent without an excuse: 0 points."""

    kind = "absent"
    needs_who = True


class Attempt(Table):
    """Which of several hand-ins of a student counts."""

    kind = "attempt"
    counts: Literal["first", "last", "best"] | None = None
    file: Annotated[str, StringConstraints(min_length=1, max_length=300)] | None = None

    def faults(self) -> Iterator[str]:
        yield from super().faults()
        if (self.counts is None) == (self.file is None):
            yield (
                'counts, file: write exactly one of them: counts = "first", "last" or "best", or the'
                " file's name"
            )
        if self.file is not None and (len(set(self.named)) != 1 or self.sections):
            yield "file: names the hand-in of one student; say which with student"


class FileOf(Table):
    """A file that was set aside, or came under another name, is the hand-in of a student, and counts."""

    kind = "file_of"
    file: Annotated[str, StringConstraints(min_length=1, max_length=300)]
    numbers: Literal["file", "own"] = "file"  # those of the sheet it was made from, or of the student's own

    def faults(self) -> Iterator[str]:
        yield from super().faults()
        if len(set(self.named)) != 1 or self.sections:
            yield "file: is the hand-in of one student; say which with student"


KINDS: dict[str, type[Table]] = {
    table.kind: table
    for table in (
        LeaveOut,
        AlsoRight,
        WrongKey,
        FullPoints,
        LookAgain,
        SetPoints,
        Late,
        ExtraTime,
        Excused,
        Absent,
        Attempt,
        FileOf,
    )
}


def _zoned(moment: Moment) -> bool:
    return isinstance(moment, datetime.datetime) and moment.tzinfo is not None


@dataclass(frozen=True, slots=True)
class Decision:
    """One decision, checked.

    line: where it stands in its file, 0 where that cannot be told [-].
    who: ids it concerns; None for everybody.
    answers: ids of the answers it concerns; () where it is about none.
    """

    table: Table
    line: int = 0
    who: frozenset[str] | None = None
    answers: tuple[str, ...] = ()

    @property
    def kind(self) -> str:
        return self.table.kind

    @property
    def question(self) -> str:
        """Id of the question it is about, "" for none."""
        return getattr(self.table, "question", None) or ""

    @property
    def when(self) -> str:
        """When it was decided, as it may be shown."""
        when = self.table.when
        return one_line(when if isinstance(when, str) else str(when).removesuffix(" 00:00:00"))

    @property
    def words(self) -> str:
        """The decision in one line, for the instructor."""
        whom = "everybody" if self.who is None else ", ".join(sorted(self.who)[:5])
        if self.who is not None and len(self.who) > 5:
            whom += f" and {len(self.who) - 5} more"
        common = set(Table.model_fields) | {"question", "answer"}
        own = [
            f"{name} = {value}"
            for name, value in self.table.model_dump(exclude_defaults=True).items()
            if name not in common
        ]
        place = " > ".join(filter(None, (self.question, getattr(self.table, "answer", None))))
        parts = ", ".join(filter(None, (place, *own)))
        why = " ".join(self.table.why.split())
        return one_line(f"{self.kind} for {whom}{f' ({parts})' if parts else ''}, by {self.table.by}: {why}")

    def concerns(self, student: str) -> bool:
        """Whether it is about a student."""
        return self.who is None or student in self.who


@dataclass(frozen=True)
class Decisions:
    """All decisions about one set: plain data that never changes and can be sent to another process."""

    all: tuple[Decision, ...] = ()
    _everybody: tuple[int, ...] = field(init=False, repr=False, compare=False)
    _named: dict[str, tuple[int, ...]] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        named: dict[str, list[int]] = {}
        for place, decision in enumerate(self.all):
            for student in decision.who or ():
                named.setdefault(student, []).append(place)
        everybody = tuple(place for place, decision in enumerate(self.all) if decision.who is None)
        object.__setattr__(self, "_everybody", everybody)
        object.__setattr__(self, "_named", {student: tuple(places) for student, places in named.items()})

    def __bool__(self) -> bool:
        return bool(self.all)

    def __len__(self) -> int:
        return len(self.all)

    def of(self, student: str, *kinds: str) -> list[Decision]:
        """What was decided about a student, in the order of the file; of some kinds only, if named."""
        places = sorted((*self._everybody, *self._named.get(student, ())))
        mine = [self.all[place] for place in places]
        return [decision for decision in mine if decision.kind in kinds] if kinds else mine

    def different(self) -> list[str]:
        """A named student for each different lot of decisions; the others fare like one of them."""
        lots: dict[tuple[int, ...], str] = {}
        for student in sorted(self._named):
            lots.setdefault(self._named[student], student)
        return list(lots.values())

    def open(self) -> list[Decision]:
        """What somebody is still to look at."""
        return [d for d in self.all if isinstance(d.table, LookAgain) and not d.table.settled]


NONE = Decisions()
