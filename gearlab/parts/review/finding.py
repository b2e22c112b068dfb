"""What a check of a design comes to: it holds, it fails, or it could not be made."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ...digits import placed_text

#: From worst to mildest.
GRADES = ("will not work", "will trouble", "worth knowing")

#: Changes to a design as ``Design.with_`` takes them: by table, name of the member, field.
Edit = Mapping[str, Any]


@dataclass(frozen=True)
class Finding:
    """A check that fails: what is the case, its limit, why it matters, what to change.

    name: what it is called, in words with hyphens, one of ``NAMES``.
    grade: one of ``GRADES``.
    where: the part or pair it concerns.
    what: what is the case, as a sentence with its number.
    limit: the limit, with its number.
    why: why it matters.
    change: what to change.
    source: publication, or 'common practice'.
    edits: the change as edits of the design, one of which is to be chosen; each is proved by a test to take
        the finding away and to bring none that is as bad. Empty where a person has to decide:
    decision: what has to be decided, where no edit can say it.
    """

    name: str
    grade: str
    where: str
    what: str
    limit: str
    why: str
    change: str
    source: str = "common practice"
    edits: tuple[Edit, ...] = ()
    decision: str = ""

    def __post_init__(self):
        if self.grade not in GRADES:
            raise ValueError(f"grade {self.grade!r} is unknown: use one of {', '.join(GRADES)}")

    def __hash__(self) -> int:
        return hash((self.name, self.where, self.what))

    def __str__(self) -> str:
        return (
            f"{self.grade}: {self.where}: {self.what} {self.limit} {self.why} {self.change} ({self.source})"
        )

    @property
    def bad(self) -> bool:
        """Whether it is worse than worth knowing."""
        return self.grade != GRADES[-1]


@dataclass(frozen=True)
class Held:
    """A check that holds: of which part, what was looked at, its number and limit.

    number, limit: [unit], left out where the check is no comparison of numbers; least: whether the limit is
    the least that is allowed, and not the most.
    """

    where: str
    what: str
    number: float | None = None
    limit: float | None = None
    unit: str = ""
    least: bool = True

    @property
    def margin(self) -> float | None:
        """How far the number is from its limit, as a share of the limit [-]; None without both."""
        if self.number is None or self.limit is None or self.limit == 0:
            return None
        return (self.number - self.limit) / abs(self.limit) * (1 if self.least else -1)

    def __str__(self) -> str:
        if self.number is None:
            return f"{self.where}: {self.what}."
        text = f"{self.where}: {self.what} {said(self.number, self.unit)}"
        if self.limit is not None:
            number, limit = both(self.number, self.limit, self.unit)
            text = f"{self.where}: {self.what} {number}, {'at least' if self.least else 'at most'} {limit}"
        if self.margin is not None:
            text += f", {100 * self.margin:.0f} % to spare"
        return text + "."


@dataclass(frozen=True)
class Unmade:
    """A check that could not be made: of which part, what is missing, how to give it.

    decisive: whether the design claims something that hangs on it, so that it cannot pass without.
    """

    where: str
    what: str
    why: str
    give: str
    decisive: bool = False

    def __str__(self) -> str:
        return f"{self.where}: {self.what}: not checked, because {self.why}; {self.give}."


Outcome = Finding | Held | Unmade


#: Units of what is reckoned roughly: three digits are as many as it has.
_ROUGH = ("m/s", "W", "K")


def said(value: float, unit: str = "") -> str:
    """A number for a sentence, as a workshop writes it, with its unit.

    >>> said(78.7500001, "mm"), said(0.25, "in"), said(1.633), said(17114.21, "psi"), said(0.057, "N·m")
    ('78.75 mm', '0.25 in', '1.63', '17,100 psi', '0.057 N·m')
    """
    if unit not in ("", "mm", "in") and abs(value) >= (10 if unit in _ROUGH else 100):
        value = float(f"{value:.3g}")
    return f"{_plain(value, _places(value, unit))} {unit}".rstrip()


def _places(value: float, unit: str) -> int:
    """Digits after the point: as a workshop reads lengths, and two that count of any small number."""
    if unit in ("mm", "in"):
        return 3 if unit == "mm" else 4
    return max(2, 1 - math.floor(math.log10(abs(value)))) if 1e-9 < abs(value) < 1 else 2


def both(value: float, limit: float, unit: str = "") -> tuple[str, str]:
    """A number and its limit, with as many digits as it takes to tell them apart.

    >>> both(1.86938, 1.86942, "in"), both(3.0, 5.0, "mm")
    (('1.86938 in', '1.86942 in'), ('3 mm', '5 mm'))
    """
    texts = said(value, unit), said(limit, unit)
    places = max(_places(value, unit), _places(limit, unit))
    while texts[0] == texts[1] and value != limit and places < 12:
        places += 1
        texts = f"{_plain(value, places)} {unit}".rstrip(), f"{_plain(limit, places)} {unit}".rstrip()
    return texts


def _plain(value: float, places: int) -> str:
    text = placed_text(value, places)
    whole, point, part = text.partition(".")
    return f"{int(whole):,}{point}{part}" if abs(value) >= 10_000 else text


#: Steps in which a workshop chooses sizes, and in which it sets out places.
SIZES, PLACES = {"mm": 0.5, "in": 1 / 16}, {"mm": 0.01, "in": 0.001}


def up(value: float, unit: str, steps: Mapping[str, float] = SIZES) -> float:
    """A size that a workshop would write, not below the value [unit].

    >>> up(33.21, "mm"), up(1.3, "in"), up(78.7512, "mm", PLACES)
    (33.5, 1.3125, 78.76)
    """
    return _stepped(math.ceil(value / steps[unit] - 1e-9), steps[unit])


def down(value: float, unit: str, steps: Mapping[str, float] = SIZES) -> float:
    """A size that a workshop would write, not above the value [unit].

    >>> down(33.21, "mm"), down(1.3, "in")
    (33.0, 1.25)
    """
    return _stepped(math.floor(value / steps[unit] + 1e-9), steps[unit])


def two_digits(value: float, upwards: bool) -> float:
    """A number of two digits that is not below a value, or not above it.

    >>> two_digits(61.2, True), two_digits(0.0476, False)
    (62.0, 0.047)
    """
    if value <= 0:
        return 0.0
    digits = 1 - math.floor(math.log10(value))
    step = 10.0**-digits
    count = value / step
    whole = math.ceil(count - 1e-9) if upwards else math.floor(count + 1e-9)
    return round(whole * step, max(digits, 0) + 1)


def _stepped(count: int, step: float) -> float:
    return round(count * step, 6)
