"""Counts over a class: added up student by student, or from parts of the class that were marked apart."""

from __future__ import annotations

import pickle
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import partial
from hashlib import blake2b
from itertools import chain
from operator import itemgetter
from typing import Any, Generic, NamedTuple, TypeVar

from gearlab.course.marks import MarkedTask, cause_words
from gearlab.course.pages import amount
from gearlab.course.roster import Roster, Student
from gearlab.digits import number_text
from gearlab.practice import HomeworkSet
from gearlab.practice.typed.reading import in_unit
from gearlab.practice.verdict import NAMES
from gearlab.quoting import one_line

STEPS = 200  # into which the points of a set are cut to part a class in two halves
LONGEST_SHOWN = 60  # characters of a typed text in a report
LONGEST_TIME = 600  # minutes to a first right answer that are told apart
MOST_SECTIONS = 50  # sections that are reported apart

KEPT = 300  # wrong answers to one answer of a set that are looked at

Place = tuple[str, str]  # question and answer
Drawn = TypeVar("Drawn")


class Sample(Generic[Drawn]):
    """What a class typed wrong, in bounded room: of all that was offered the ones with the smallest numbers.

    The number comes from what names the thing and from nothing else. So the sample is the same in whatever
    order things come, and of parts that were gathered apart and then merged; and each has the same chance.

    count: how many were offered [-].
    most: how many are kept [-].
    bound: numbers from here on are not kept: what is gathered elsewhere holds enough smaller ones (`limit`).

    >>> sample = Sample(most=2)
    >>> for name in "abcd":
    ...     sample.offer(name, lambda: name.upper())
    >>> sample.count, len(sample.kept())
    (4, 2)
    """

    def __init__(self, most: int = KEPT, bound: int = 2**64):
        self.count = 0
        self.most, self.bound = most, bound
        self.limit = bound  # numbers from here on are not drawn: enough smaller ones are known
        self._kept: list[tuple[int, Drawn]] = []

    def offer(self, name: str, content: Callable[[], Drawn]) -> None:
        """Count a thing and keep it if it is drawn.

        name: no two things have the same.
        content: what is kept of it, asked for only then.
        """
        self.count += 1
        number = int.from_bytes(blake2b(name.encode("utf-8", "surrogatepass"), digest_size=8).digest(), "big")
        if number < self.limit:
            self._kept.append((number, content()))
            self._cut_if_many()

    def merge(self, other: Sample[Drawn]) -> None:
        """Add what another one was offered; no thing may have been offered to both."""
        self.count += other.count
        self._kept += [item for item in other._kept if item[0] < self.limit]
        self._cut_if_many()

    def kept(self) -> list[Drawn]:
        """What was drawn, in the order of the draw."""
        self._cut()
        return [content for _, content in self._kept]

    def _cut_if_many(self) -> None:
        if 4 * len(self._kept) >= 5 * self.most + 4:
            self._cut()

    def _cut(self) -> None:
        self._kept.sort(key=itemgetter(0))
        del self._kept[self.most :]
        if len(self._kept) == self.most:
            self.limit = self._kept[-1][0] + 1


class WrongValue(NamedTuple):
    """One wrong answer as a report shows it.

    by: how it is held against those of others, whose numbers are different: by its "cause", by its "ratio" to
        the key, by its "value" (as read), or by its "text" (as typed).
    same: what it shares with those that are counted with it.
    typed, read, key: as typed, as read in the unit asked, and the right answer for these numbers.
    """

    by: str
    same: str
    typed: str
    read: str
    key: str


@dataclass
class Outcome:
    """What came of one answer of a set.

    kinds: how often each kind of verdict, with its cause in words.
    halves: how often each state, by the points reached in the other questions (in steps of the whole).
    """

    kinds: Counter[tuple[str, str]] = field(default_factory=Counter)
    halves: Counter[tuple[int, str]] = field(default_factory=Counter)
    wrong: Sample[WrongValue] = field(default_factory=Sample)

    @property
    def states(self) -> Counter[str]:
        """How often each state."""
        counts: Counter[str] = Counter()
        for (_, how), count in self.halves.items():
            counts[how] += count
        return counts

    def merge(self, other: Outcome) -> None:
        """Add what came of the answer in another part of the class."""
        self.kinds.update(other.kinds)
        self.halves.update(other.halves)
        self.wrong.merge(other.wrong)


class Tally:
    """Counts over a class or a part of it. Plain data whose size does not grow with the class.

    The order in which students are added makes no difference, nor whether they are added to one tally or to
    several that are merged.

    points: points one student can reach: fewer than in the set where something is left out [-].
    marked: hand-ins that were counted [-].
    totals: how many students reached how many points.
    outcomes: by question and answer.
    minutes, tries: how many students needed so many to their first right answer in practice, by question;
        empty where the set keeps no attempts.
    """

    def __init__(self, homework: HomeworkSet, points: float | None = None):
        self.points = homework.points if points is None else points
        self.marked = 0
        self.totals: Counter[float] = Counter()
        self.outcomes: dict[Place, Outcome] = {
            (entry.question.id, answer.id): Outcome()
            for entry in homework.entries
            for answer in entry.question.answers
        }
        self.minutes: dict[str, Counter[int]] = {entry.question.id: Counter() for entry in homework.entries}
        self.tries: dict[str, Counter[int]] = {entry.question.id: Counter() for entry in homework.entries}
        self._step = self.points / STEPS or 1.0  # a set of which everything is left out

    def add(self, student: str, marked: list[MarkedTask], total: float, practice: Any = None) -> None:
        """Count one student's marks.

        practice: what the hand-in says of practice, of any form.
        """
        self.marked += 1
        self.totals[round(total, 2)] += 1
        reached = sum([task.points for task in marked])
        for task in marked:
            question, step = task.entry.question.id, round((reached - task.points) / self._step)
            for identity, gist in task.plain_gists.items():
                outcome, how, kind = self.outcomes[question, identity], gist.state, gist.found
                # not "+= 1": a counter asks Python for what it does not hold yet, which is most of a block
                outcome.halves[step, how] = outcome.halves.get((step, how), 0) + 1
                outcome.kinds[kind] = outcome.kinds.get(kind, 0) + 1
                if how in ("partly", "wrong"):
                    name = f"{student}\0{question}\0{identity}"
                    outcome.wrong.offer(name, partial(wrong_value, task, identity))
        if isinstance(practice, Mapping):
            for question in self.minutes:
                row = practice.get(question)
                if isinstance(row, Mapping):
                    _count(self.minutes[question], row.get("first_right_minutes"))
                    _count(self.tries[question], row.get("first_right_tries"))

    @property
    def samples(self) -> list[Sample[WrongValue]]:
        """What was typed wrong, answer by answer."""
        return [outcome.wrong for outcome in self.outcomes.values()]

    def merge(self, other: Tally) -> None:
        """Add the counts of another part of the class, of the same set."""
        self.marked += other.marked
        self.totals.update(other.totals)
        for place, outcome in self.outcomes.items():
            outcome.merge(other.outcomes[place])
        for question in self.minutes:
            self.minutes[question].update(other.minutes[question])
            self.tries[question].update(other.tries[question])


class SectionTallies:
    """A tally for each section of a course; one for all where there are no sections.

    sections: their names, in the order in which they are reported.
    """

    def __init__(self, homework: HomeworkSet, sections: Iterable[str] = (), points: float | None = None):
        self.sections = {section: Tally(homework, points) for section in sections or ("",)}

    def add(self, student: Student, marked: list[MarkedTask], total: float, practice: Any = None) -> None:
        """Count one student's marks in the student's section."""
        section = student.section if student.section in self.sections else next(iter(self.sections))
        self.sections[section].add(student.id, marked, total, practice)

    def merge(self, other: SectionTallies) -> None:
        """Add the counts of another part of the class, with the same sections."""
        for section, tally in self.sections.items():
            if other.sections[section].marked:
                tally.merge(other.sections[section])

    @property
    def limits(self) -> list[int]:
        """From which numbers on wrong values are not drawn, those of a part that is added later included."""
        return [sample.limit for sample in self._samples()]

    def bounded(self, limits: Iterable[int]) -> SectionTallies:
        """The same, still empty, without the wrong values beyond the limits of what it will be added to."""
        for sample, limit in zip(self._samples(), limits):
            sample.bound = sample.limit = limit
        return self

    def takes(self, other: SectionTallies) -> bool:
        """Whether another part may be added: nothing was left out of it that may still be drawn here."""
        pairs = zip(self._samples(), other._samples(), strict=True)
        return all(mine.limit <= theirs.bound for mine, theirs in pairs)

    def _samples(self) -> Iterator[Sample[WrongValue]]:
        return chain.from_iterable(tally.samples for tally in self.sections.values())

    @property
    def marked(self) -> int:
        """Hand-ins that were counted [-]."""
        return sum(tally.marked for tally in self.sections.values())

    def whole(self) -> Tally:
        """The counts of all sections together."""
        first, *others = self.sections.values()
        if not others:
            return first
        whole: Tally = pickle.loads(pickle.dumps(first))  # a copy: ten times as quick as `deepcopy`
        for tally in others:
            whole.merge(tally)
        return whole


def sections_of(roster: Roster) -> list[str]:
    """The sections of a class list in the order of their names; none where it names less than two.

    More than `MOST_SECTIONS` are no sections of a course (a column with something else in it): none either.
    """
    names = sorted({student.section for student in roster}, key=lambda name: (name == "", name))
    return names if 2 <= len(names) <= MOST_SECTIONS else []


def wrong_value(task: MarkedTask, identity: str) -> WrongValue:
    """A wrong answer as it is held against those of others.

    Students' numbers are different. A named cause is the same for all of them; where there is none, a number
    is compared by how many times the key it is, to three figures, and what is no number as it stands.
    """
    question, reading = task.entry.question, task.read.get(identity)
    typed = one_line(" ".join(question.typed(task.texts, identity).split()))
    if len(typed) > LONGEST_SHOWN:
        typed = typed[: LONGEST_SHOWN - 1] + "…"
    key = task.keys[identity]
    right = key.text if key.value is None else amount(key.value, key.unit)
    if not question.judges_fields or reading is None:
        words = cause_words(task, identity) or NAMES[task.verdicts[identity].kind]
        return WrongValue("cause", words, typed, "", "")
    if task.verdicts[identity].kind == "cannot read":
        return WrongValue("text", typed.casefold(), typed, "", right)
    if reading.value is None:
        words = one_line(question.in_words(task.draw, typed, reading))
        return WrongValue("value", words[:200], words[:200], one_line(reading.shown)[:200], right)
    value = reading.value
    answer = question.answer(identity)
    unit = reading.unit or answer.unit
    converted = in_unit(reading, answer.unit)
    if converted is not None:  # a unit that measures something else stays as it is
        value, unit = converted, answer.unit
    read = amount(value, unit)
    cause = cause_words(task, identity)
    if cause:
        return WrongValue("cause", cause, typed, read, right)
    times = question.times_key(task.draw, identity, reading)
    if times is not None:
        return WrongValue("ratio", number_text(float(f"{times:.3g}"), 3), typed, read, right)
    return WrongValue("value", read, typed, read, right)


def _count(counter: Counter[int], value: Any) -> None:
    """Count a number that a student's own disk told, if it may be one."""
    if isinstance(value, int) and not isinstance(value, bool) and value >= 0:
        counter[min(value, LONGEST_TIME)] += 1
