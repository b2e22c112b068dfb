"""Where a reader stands in the course: lessons, skills, what is due today and what is next, as plain data.

Pure functions: what was kept (``progress.Answers``), what was tried (``attempts``) and the day go in, and
the same
three always give the same page.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, tzinfo

from .lessons import Lesson, Listed, lessons
from .repeating import Memory, due, memories
from .skills import by_skill

#: How a question stands, with the words a reader sees.
STATES = {
    "new": "not tried yet",
    "begun": "begun",
    "right": "right",
    "wrong": "not right yet",
    "due": "due today",
}


@dataclass(frozen=True)
class Asked:
    """A question with how it stands, one of ``STATES``, and the day on which it comes again."""

    question: Listed
    state: str
    memory: Memory

    @property
    def was_right(self) -> bool:
        """Whether it was right in the end at least once."""
        return self.memory.ever_right or self.state == "right"


@dataclass(frozen=True)
class Lessoned:
    """A lesson: how many of the questions in it are answered, and how many of its bank are to repeat."""

    lesson: Lesson
    predicted: bool
    read: bool
    answered: int
    standing: int
    repeat: int
    begun: bool

    @property
    def done(self) -> bool:
        """Read (see ``coursepage.READ``), or every question of it right."""
        return self.read or (self.standing > 0 and self.answered == self.standing)


@dataclass(frozen=True)
class Skilled:
    """A skill with its questions; right, tried and repeat are counts of questions [-]."""

    skill: str
    questions: tuple[Asked, ...]

    @property
    def right(self) -> int:
        return sum(asked.was_right for asked in self.questions)

    @property
    def tried(self) -> int:
        return sum(asked.state != "new" for asked in self.questions)

    @property
    def repeat(self) -> int:
        return sum(asked.state == "due" for asked in self.questions)


@dataclass(frozen=True)
class Standing:
    """The whole page. ``due`` is in the order in which the questions are asked."""

    today: date
    lessons: tuple[Lessoned, ...]
    skills: tuple[Skilled, ...]
    due: tuple[Asked, ...]

    @property
    def begun(self) -> bool:
        """Whether anything was done at all."""
        return any(lesson.begun for lesson in self.lessons)

    @property
    def next(self) -> Lesson | None:
        """The lesson to go on with: the first one begun and not done, else the first one not done after the
        last done.

        None where every lesson is done.
        """
        open_ = [lesson for lesson in self.lessons if not lesson.done]
        begun = [lesson for lesson in open_ if lesson.begun]
        last = max((place for place, lesson in enumerate(self.lessons) if lesson.done), default=-1)
        behind = [lesson for lesson in self.lessons[last + 1 :] if not lesson.done]
        chosen = next(iter(begun or behind or open_), None)
        return chosen.lesson if chosen else None

    @property
    def due_minutes(self) -> int:
        """How long the questions that are due take [min]."""
        return round(sum(asked.question.minutes for asked in self.due))

    @property
    def comes_next(self) -> date | None:
        """The next day after today on which a question is due; None where none is."""
        days = [
            asked.memory.due
            for skill in self.skills
            for asked in skill.questions
            if asked.memory.due and asked.memory.due > self.today
        ]
        return min(days, default=None)


def standing(
    kept: Mapping[str, Mapping], events: Iterable[Mapping], today: date, zone: tzinfo | None = None
) -> Standing:
    """Where a reader stands on a day.

    kept: the answers file's content, ``Answers(...).all()``.
    events: what ``attempts`` hands over.
    zone: where the reader's days begin; default: the machine's.

    >>> page = standing({}, [], date(2026, 11, 29))
    >>> page.next.name, page.begun, len(page.due)
    ('00_start_here', False, 0)
    """
    events = list(events)
    questions = {question.name: question for lesson in lessons() for question in lesson.questions}
    known = {name: (question.version, question.parts) for name, question in questions.items()}
    remembered = memories(events, known, zone)
    waiting = due(remembered, today)
    asked = {
        name: _asked(question, kept.get(name, {}), remembered.get(name, Memory()), name in set(waiting))
        for name, question in questions.items()
    }
    return Standing(
        today,
        tuple(_lessoned(lesson, kept, events, asked) for lesson in lessons()),
        tuple(
            Skilled(skill, tuple(asked[question.name] for question in several))
            for skill, several in by_skill().items()
        ),
        tuple(asked[name] for name in waiting),
    )


def _asked(question: Listed, kept: Mapping, memory: Memory, waits: bool) -> Asked:
    kept = kept if kept.get("version", question.version) == question.version else {}
    if waits:
        state = "due"
    elif memory.last_wrong:
        state = "wrong"
    elif memory.goes or kept.get("done") is True:
        state = "right"
    else:
        texts = kept.get("texts")
        state = "begun" if isinstance(texts, Mapping) and any(texts.values()) else "new"
    return Asked(question, state, memory)


def _lessoned(lesson: Lesson, kept: Mapping, events: list[Mapping], asked: Mapping[str, Asked]) -> Lessoned:
    names = [f"{bank}/{question}" for bank, question in lesson.asked if f"{bank}/{question}" in asked]
    predictions = [
        entry
        for key, entry in kept.items()
        if key.startswith(f"predict/{lesson.name}/") and isinstance(entry, Mapping)
    ]
    told = {
        event["event"]
        for event in events
        if lesson.name in (event.get("lesson"), event.get("bank", "").split("/")[0])
    }
    predicted = "predicted" in told or any(entry.get("recorded") for entry in predictions)
    read = "read" in told or any(entry.get("read") or entry.get("seen") for entry in predictions)
    answered = sum(asked[name].was_right for name in names)
    # lesson 0 borrows questions of later ones: answered there, they do not begin it
    own = [asked[name] for name in names if asked[name].question.lesson == lesson.name]
    begun = predicted or read or "opened" in told or any(question.state != "new" for question in own)
    repeat = sum(asked[question.name].state == "due" for question in lesson.questions)
    return Lessoned(lesson, predicted, read, answered, len(names), repeat, begun)
