"""Verdicts: what happened to a typed answer, from a short fixed list, with its causes."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "CONDITION_NAMES",
    "KINDS",
    "NAMES",
    "SETTLED",
    "STATES",
    "UNMARKED",
    "Cause",
    "Award",
    "Verdict",
]

KINDS = (
    "not answered",
    "cannot read",
    "right",
    "wrong sign",
    "wrong unit",
    "close",
    "another quantity",
    "listed slip",
    "ordinary slip",
    "not met",
    "not recognised",
    "marked",
    "not marked",
    "not plausible",
    "outside the bands",
)
UNMARKED = "not marked"  # a text that nobody has read yet: its points are open, not lost
SETTLED = ("right", UNMARKED)  # in practice nothing is left to do: nobody marks a text there

#: What a kind of verdict is called wherever people read it: box, terminal, feedback, gradebook, report.
NAMES = {
    "not answered": "not answered",
    "cannot read": "could not be read",
    "right": "right",
    "wrong sign": "right size, wrong sign",
    "wrong unit": "wrong unit",
    "close": "close",
    "another quantity": "another quantity",
    "listed slip": "not right",
    "ordinary slip": "not right",
    "not met": "not met",
    "not recognised": "not right",
    "marked": "marked by a reader",
    "not marked": "not marked yet",
    "not plausible": "not plausible",
    "outside the bands": "too far from the computed value",
}
#: The same of a condition of a design question, where it has a name of its own.
CONDITION_NAMES = {**NAMES, "right": "met", "close": "nearly met"}
#: The states that pages and charts count, and what they are called; "open" only where people mark texts.
STATES = {
    "right": "right",
    "partly": "partly right",
    "wrong": "not right",
    "empty": "not answered",
    "open": "not marked yet",
}

# How near a number must come to a wrong answer to be recognised as it: half a unit in its last typed place,
# but at least the first share of it (students round on the way) and at most the second (else any number would
# have a cause).
NEAREST, FURTHEST = 0.0005, 0.002


@dataclass(frozen=True, slots=True)
class Cause:
    """Why a wrong answer came out as it did.

    name, title: short name ("nohalf", "driver_outside_diameter", "twice") and title.
    sentence: what to tell the student; never the number.
    credit: share of the points, 0 to 1 [-].
    kind: the kind of verdict it makes.
    step: word of the step of the way in which it happened, "" where none is known.
    rule: what holds in that step; it stands in the sentence too.
    """

    name: str
    title: str
    sentence: str
    credit: float
    kind: str = "ordinary slip"
    step: str = ""
    rule: str = ""

    def __hash__(self) -> int:
        return hash(self.sentence)  # which is remembered: verdicts are looked up by their causes all the time


@dataclass(frozen=True, slots=True)
class Award:
    """What people gave for a text.

    points: what counts, in the question's own points [-]; None while readers differ.
    by: who gave it.
    remark: what they wrote to the student.
    """

    points: float | None
    by: str
    remark: str = ""


# Nothing writes to a verdict once it is made. It is not frozen, because that makes it five times as dear, and
# a class's answers are judged by the ten thousand.
@dataclass(slots=True)
class Verdict:
    """What happened to one answer.

    kind: one of `KINDS`.
    points, out_of: earned and possible [-]; `right` where it earned all.
    read: echo of what was understood, "" if nothing.
    note: what else to tell: a unit converted, a comma that could be read two ways.
    sentence: all there is to show, in one paragraph of plain text; never the right number.
    carried: right with the student's own wrong earlier number.
    """

    kind: str
    right: bool
    points: float
    out_of: float
    read: str = ""
    note: str = ""
    causes: tuple[Cause, ...] = ()
    sentence: str = ""
    carried: bool = False

    @property
    def settled(self) -> bool:
        """Whether nothing is left to do about it in practice."""
        return self.kind in SETTLED

    @property
    def open(self) -> float:
        """Points that nobody has given or refused yet [-]."""
        return self.out_of if self.kind == UNMARKED else 0.0

    @property
    def share(self) -> float:
        """Share of its points that the answer earned [-]."""
        return self.points / self.out_of if self.out_of else 0.0

    def to_json(self) -> dict:
        """The verdict as plain data."""
        return {
            "kind": self.kind,
            "right": self.right,
            "points": self.points,
            "out_of": self.out_of,
            "read": self.read,
            "note": self.note,
            "causes": [
                {"name": c.name, "title": c.title, "sentence": c.sentence, "credit": c.credit}
                for c in self.causes
            ],
            "sentence": self.sentence,
            "carried": self.carried,
        }
