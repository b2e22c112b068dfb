"""When a question comes again: a stated schedule, replayed from what was recorded.

A question that was right at the first try comes again after 1 day, then after 3, 7, 16 and 35 days, as long
as
it stays right. After a wrong try, or when the solution was shown, it is back to 1 day; right with a hint
keeps
the time it had. What is answered before its day moves nothing forwards. Days are those of the reader's clock;
where a time of today is needed it is given, never asked of the machine.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta, tzinfo

from gearlab.practice.verdict import SETTLED, UNMARKED

#: Days until a question comes again, the first time it was right, the second time, and so on [d].
STEPS = (1, 3, 7, 16, 35)
RULE = (
    "A question that was right at the first try comes again after 1 day, then after 3, 7, 16 and 35 days, as"
    " long as it stays right. After a wrong try, or when the solution was shown, it is back to 1 day; right"
    " with a hint keeps the time it had. It comes with new numbers, and what went wrong comes first."
)
_OPEN = {"not answered", "cannot read", UNMARKED}  # verdicts that cost nothing


@dataclass(frozen=True)
class Go:
    """What became of one draw of a question on one day.

    right: whether it was right in the end.
    slips: wrong answers on that day [-].
    helped: whether a hint had been shown.
    shown: whether the solution was.
    """

    day: date
    draw: int
    right: bool
    slips: int = 0
    helped: bool = False
    shown: bool = False

    @property
    def wrong(self) -> bool:
        """Whether it goes back to the first step."""
        return self.slips > 0 or self.shown


@dataclass(frozen=True)
class Memory:
    """How a question stands after all its goes.

    step: place in ``STEPS``, -1 where the last thing was wrong.
    due: the day on which it comes again.
    """

    goes: tuple[Go, ...] = ()
    step: int = -1
    due: date | None = None

    @property
    def ever_right(self) -> bool:
        """Whether it was right in the end at least once."""
        return any(go.right for go in self.goes)

    @property
    def last_wrong(self) -> bool:
        """Whether the last thing that counted was wrong."""
        return bool(self.goes) and self.step < 0

    @property
    def slips(self) -> int:
        """Wrong answers altogether [-]."""
        return sum(go.slips for go in self.goes)

    def after(self, go: Go) -> Memory:
        """How it stands after one more go."""
        goes = (*self.goes, go)
        if go.wrong:
            return Memory(goes, -1, go.day + timedelta(days=STEPS[0]))
        if self.due is not None and go.day < self.due:
            return replace(self, goes=goes)  # before its day: it was fresh in the mind
        step = max(self.step, 0) if go.helped else min(self.step + 1, len(STEPS) - 1)
        return Memory(goes, step, go.day + timedelta(days=STEPS[step]))


def memories(
    events: Iterable[Mapping], questions: Mapping[str, tuple[int, int]], zone: tzinfo | None = None
) -> dict[str, Memory]:
    """How each question stands, by its name "bank/question", out of what ``attempts`` hands over.

    questions: the version of each question today, and how many answers it has; what was recorded of another
        version, or of a question that there is no more, tells nothing.
    zone: where the reader's days begin; default: the machine's.
    """
    events_of: dict[str, list[Mapping]] = {}
    for event in events:
        name = f"{event.get('bank', '')}/{event.get('question', '')}"
        version = questions.get(name, (None, 0))[0]
        counts = event["event"] in ("answer", "solution") and event.get("version", version) == version
        if counts and name in questions:
            events_of.setdefault(name, []).append(event)
    return {name: _replayed(several, questions[name][1], zone) for name, several in events_of.items()}


def day_of(at: str, zone: tzinfo | None = None) -> date:
    """The reader's day of a recorded time.

    >>> day_of("2026-11-29T23:30:00Z", UTC)
    datetime.date(2026, 11, 29)
    """
    return datetime.strptime(at, "%Y-%m-%dT%H:%M:%SZ").replace(tzinfo=UTC).astimezone(zone).date()


def _replayed(events: list[Mapping], parts: int, zone: tzinfo | None) -> Memory:
    days: dict[tuple[date, int], list[Mapping]] = {}
    for event in sorted(events, key=lambda event: event["at"]):
        days.setdefault((day_of(event["at"], zone), event.get("draw", 0)), []).append(event)
    memory = Memory()
    last: dict[int, dict[str, str]] = {}  # the last verdict on each answer of a draw, whatever the day
    for (day, draw), several in sorted(days.items()):
        go = _go(day, draw, several, parts, last.setdefault(draw, {}))
        if go.right or go.wrong:
            memory = memory.after(go)
    return memory


def _go(day: date, draw: int, events: list[Mapping], parts: int, verdicts: dict[str, str]) -> Go:
    """One draw on one day. An answer that was right before and is left as it is need not be told again."""
    answers = [event for event in events if event["event"] == "answer"]
    verdicts |= {event.get("answer", ""): event.get("verdict", "") for event in answers}
    settled = sum(verdict in SETTLED for verdict in verdicts.values())
    right = bool(answers) and settled >= max(parts, len(verdicts))
    slips = sum(event.get("verdict") not in ("right", *_OPEN) for event in answers)
    shown = any(event["event"] == "solution" or event.get("solution") for event in events)
    # the solution may be looked at when all is right: that is no help
    return Go(day, draw, right, slips, any(event.get("hints", 0) for event in answers), shown and not right)


def due(standing: Mapping[str, Memory], today: date) -> list[str]:
    """The questions that are due, in the order in which they are asked.

    What went wrong comes first, then what has waited longest for its length; lessons are mixed, so that no
    two neighbours are of one lesson where it can be helped.
    """

    def urgency(name: str) -> tuple:
        memory = standing[name]
        waited = (today - memory.due).days / STEPS[max(memory.step, 0)] if memory.due else 0.0
        return not memory.last_wrong, -waited, name

    waiting = sorted(
        (name for name, memory in standing.items() if memory.due and memory.due <= today), key=urgency
    )
    wrong = [name for name in waiting if standing[name].last_wrong]
    return _mixed(wrong) + _mixed([name for name in waiting if name not in set(wrong)])


def _mixed(names: list[str]) -> list[str]:
    """The same order, but the next of another lesson is taken before one of the lesson just asked."""
    left = list(names)
    mixed: list[str] = []
    while left:
        last = mixed[-1].split("/")[0] if mixed else ""
        chosen = next((name for name in left if name.split("/")[0] != last), left[0])
        left.remove(chosen)
        mixed.append(chosen)
    return mixed
