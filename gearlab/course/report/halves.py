"""Which questions of a set look bad: by the strong and the weak half of the class, and by its sections."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import accumulate
from math import sqrt

from gearlab.course.report.tally import Outcome, Sample, WrongValue

FEW_RIGHT = 0.30  # below this share right, a question deserves a look
MANY_UNNAMED = 0.15  # above this share without a named cause, too
MANY_EMPTY = 0.30  # above this share left empty
MANY_UNREAD = 0.10  # above this share that could not be read
CLUSTER = 3  # this many wrong answers off by one factor hint at a cause nobody has listed
SMALLEST_HALF = 5  # students in each half, or section, before it is held against another
BY_PEOPLE = ("marked", "not marked")  # kinds of verdict that people give
# Kinds of verdict that are no wrong number: no cause is looked for.
NOT_WRONG = ("right", "not answered", "cannot read", *BY_PEOPLE)
BEYOND_CHANCE = 2.0  # standard errors of a difference of two shares


@dataclass(frozen=True)
class Halves:
    """Right answers in the two halves of a class.

    strong, weak: students in each half [-].
    strong_right, weak_right: how many of them were right [-].
    """

    strong: int
    strong_right: int
    weak: int
    weak_right: int

    @property
    def turned(self) -> bool:
        """Whether the weak half did better than the strong half, in halves that are large enough to tell."""
        if min(self.strong, self.weak) < SMALLEST_HALF:
            return False
        return self.weak_right * self.strong > self.strong_right * self.weak

    @property
    def beyond_chance(self) -> bool:
        """Whether the two shares are further apart than chance often makes them."""
        return apart_beyond_chance(self.strong_right, self.strong, self.weak_right, self.weak)


def apart_beyond_chance(right: int, of: int, other_right: int, other_of: int) -> bool:
    """Whether two shares lie more than two standard errors of their difference apart.

    The difference of two proportions with pooled variance, as textbooks of statistics have it (from memory).

    >>> apart_beyond_chance(18, 20, 8, 20), apart_beyond_chance(11, 20, 9, 20)
    (True, False)
    """
    if not of or not other_of:
        return False
    pooled = (right + other_right) / (of + other_of)
    spread = sqrt(pooled * (1 - pooled) * (1 / of + 1 / other_of))
    return abs(right / of - other_right / other_of) > BEYOND_CHANCE * spread


def halves(outcome: Outcome) -> Halves | None:
    """The class parted by the points in the other questions, so that a question is not held against itself.

    Students with equal points stay together: the cut is where the halves come nearest to each other in size.
    Returns None where everybody has as many points in the others.
    """
    counts: Counter[int] = Counter()
    for (step, _), count in outcome.halves.items():
        counts[step] += count
    steps = sorted(counts)
    if len(steps) < 2:
        return None
    total = sum(counts.values())
    below = list(accumulate(counts[step] for step in steps))[:-1]
    cut = min(range(len(below)), key=lambda i: (abs(2 * below[i] - total), i))
    weak = set(steps[: cut + 1])
    right = {step: outcome.halves[step, "right"] for step in steps}
    weak_right = sum(right[step] for step in weak)
    return Halves(total - below[cut], sum(right.values()) - weak_right, below[cut], weak_right)


def percent(count: int, total: int) -> str:
    """A share in words.

    >>> percent(1, 4), percent(0, 0)
    ('25 %', 'none')
    """
    return f"{100 * count / total:.0f} %" if total else "none"


def commonest(sample: Sample[WrongValue]) -> list[tuple[int, WrongValue]]:
    """The wrong values of an answer, the commonest first: how often, and one of them as an example."""
    counts: Counter[tuple[str, str]] = Counter()
    example: dict[tuple[str, str], WrongValue] = {}
    for value in sample.kept():
        same = value.by, value.same
        counts[same] += 1
        if same not in example or (len(value.typed), value) < (len(example[same].typed), example[same]):
            example[same] = value
    return [(count, example[same]) for same, count in sorted(counts.items(), key=lambda x: (-x[1], x[0]))]


def remarks(outcome: Outcome, sections: Mapping[str, Outcome]) -> list[tuple[int, str]]:
    """What makes an answer worth a look: how much (the larger the sooner), and why.

    sections: what came of it in each section, where there are several.
    """
    states, total = outcome.states, sum(outcome.states.values())
    if not total:
        return []
    told = [*_of_halves(outcome), *_of_wrong(outcome)]
    by_people = any(kind in BY_PEOPLE for kind, _ in outcome.kinds)
    if states["right"] < FEW_RIGHT * total and not by_people:
        told.append(
            (
                90,
                f"Only {percent(states['right'], total)} right ({states['right']} of {total}): look at the"
                " question, its key and its tolerance before the marks go out.",
            )
        )
    if states["empty"] > MANY_EMPTY * total:
        told.append((40, f"{percent(states['empty'], total)} left it empty ({states['empty']} of {total})."))
    return sorted([*told, *_of_sections(sections)], key=lambda item: (-item[0], item[1]))


def _of_halves(outcome: Outcome) -> list[tuple[int, str]]:
    parted = halves(outcome)
    if parted is None or not parted.turned:
        return []
    how = "" if parted.beyond_chance else " (so small a difference may be chance)"
    words = (
        "The weak half did better than the strong half: look at the question. Right were"
        f" {parted.weak_right} of {parted.weak} in the weak half, "
        f"{parted.strong_right} of {parted.strong} in the strong half{how}."
    )
    return [(100 if parted.beyond_chance else 20, words)]


def _of_wrong(outcome: Outcome) -> list[tuple[int, str]]:
    kinds: Counter[str] = Counter()
    for (kind, _), count in outcome.kinds.items():
        kinds[kind] += count
    total = sum(kinds.values())
    wrong = total - sum(kinds[kind] for kind in NOT_WRONG)
    told = []
    if kinds["cannot read"] > max(1, MANY_UNREAD * total):
        told.append(
            (50, f"{kinds['cannot read']} of {total} could not be read: does the question say what to type?")
        )
    if kinds["not recognised"] > max(1, MANY_UNNAMED * wrong):  # a single one says nothing yet
        told.append((20, f"{kinds['not recognised']} of {wrong} wrong answers have no named cause."))
    looked_at = min(outcome.wrong.count, outcome.wrong.most)
    of = "" if looked_at == outcome.wrong.count else f" of {looked_at} that were looked at"
    for count, value in commonest(outcome.wrong):
        if value.by == "ratio" and count >= CLUSTER:
            words = f"{count}{of} are {value.same} times the key: a slip worth adding to the bank?"
            more = outcome.states["right"] * looked_at < count * outcome.wrong.count
            key = " More students gave this than gave the key: is the key right?" if more else ""
            told.append((110 if more else 25, words + key))
    return told[:6]


def _of_sections(sections: Mapping[str, Outcome]) -> list[tuple[int, str]]:
    """The sections in which fewer were right than chance explains."""
    told = []
    right = {name: outcome.states["right"] for name, outcome in sections.items()}
    counts = {name: sum(outcome.states.values()) for name, outcome in sections.items()}
    for name in sections:
        others_right, others = sum(right.values()) - right[name], sum(counts.values()) - counts[name]
        if (
            min(counts[name], others) >= SMALLEST_HALF
            and right[name] * others < others_right * counts[name]
            and apart_beyond_chance(right[name], counts[name], others_right, others)
        ):
            told.append(
                (
                    60,
                    f"{section_name(name)}: right were {percent(right[name], counts[name])}"
                    f" ({right[name]} of {counts[name]}), in the others {percent(others_right, others)}"
                    f" ({others_right} of {others}).",
                )
            )
    return told


def section_name(name: str) -> str:
    """A section as it is told."""
    return f"Section {name}" if name else "Without a section"
