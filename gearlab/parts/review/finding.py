"""What a review finds: one thing that is wrong or worth knowing, with its number and what to do."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape

from ...digits import placed_text

#: From worst to mildest.
GRADES = ("will not work", "will trouble", "worth knowing")

#: Names of everything a review can find.
NAMES = (
    "undercut",
    "teeth-do-not-match",
    "tips-do-not-reach",
    "tight-spot",
    "shafts-too-near",
    "interference",
    "little-contact",
    "loose-mesh",
    "no-play",
    "keys-do-not-line-up",
    "units-look-mixed",
    "hole-breaks-edge",
    "hole-near-edge",
    "tips-over-edge",
    "shaft-too-short",
    "shaft-too-long",
    "fit-unknown",
    "bore-is-not-the-shaft",
    "press-fit-with-screw",
    "bore-tighter-than-shaft",
    "bore-looser-than-shaft",
    "fit-not-named",
    "faces-miss",
    "faces-partly-miss",
    "hub-thinner-than-bore",
    "hub-fills-spaces",
    "hub-near-root",
    "thin-wall",
    "keyway-breaks-through",
    "thin-over-keyway",
    "bore-reaches-spaces",
    "thin-rim",
    "screw-unknown",
    "hole-short-of-shaft",
    "hole-into-far-wall",
    "chuck-hits-teeth",
    "screw-stands-out",
    "screw-too-short",
    "no-thread-runout",
    "no-fastening",
    "slips-on-shaft",
    "odd-ring-locks",
    "ratio-missed",
    "wrong-direction",
    "common-factor",
    "load-falls-back",
    "plate-jams-the-mesh",
    "rack-too-short",
    "rack-too-high",
    "rack-too-low",
    "rack-without-stops",
    "mitre-unequal",
    "mitre-pushed-off",
    "ring-does-not-fit",
    "planets-uneven",
    "planets-collide",
    "ring-creeps",
    "name-tells-another-part",
    "teeth-overloaded",
    "teeth-break-at-stall",
    "gear-cannot-be",
    "holes-meet",
    "gears-collide",
    "gear-strikes-shaft",
    "idler-takes-both-meshes",
    "screw-without-hub",
    "hub-too-short-for-screw",
)


@dataclass(frozen=True)
class Finding:
    """One finding.

    name: what it is called, in words with hyphens, one of ``NAMES``.
    grade: one of ``GRADES``.
    where: the part or pair it concerns.
    what: what is the case, as a sentence with its number.
    limit: the limit, with its number.
    why: why it matters.
    change: what to change.
    source: publication, or 'common practice'.
    """

    name: str
    grade: str
    where: str
    what: str
    limit: str
    why: str
    change: str
    source: str = "common practice"

    def __post_init__(self):
        if self.grade not in GRADES:
            raise ValueError(f"grade {self.grade!r} is unknown: use one of {', '.join(GRADES)}")
        if self.name not in NAMES:
            raise ValueError(f"finding {self.name!r} is not in the list of names in finding.py: add it there")

    def __str__(self) -> str:
        return (
            f"{self.grade}: {self.where}: {self.what} {self.limit} {self.why} {self.change} ({self.source})"
        )


class Findings(tuple):
    """Findings, worst first; prints and shows as a list. It is empty for a design without fault."""

    @property
    def passes(self) -> bool:
        """Whether nothing is worse than worth knowing."""
        return all(one.grade == GRADES[-1] for one in self)

    @property
    def names(self) -> tuple[str, ...]:
        """Names of all findings, worst first."""
        return tuple(one.name for one in self)

    def of(self, grade: str) -> Iterator[Finding]:
        """The findings of one grade."""
        return (one for one in self if one.grade == grade)

    def __str__(self) -> str:
        if not self:
            return (
                "Nothing found: the design passes. (A review of numbers for teaching, no release of a"
                " machine.)"
            )
        return "\n".join(
            f"[{one.grade}] {one.where}: {one.what}\n    limit: {one.limit}\n    why: {one.why}\n    change:"
            f" {one.change}  ({one.source})"
            for one in self
        )

    def _repr_html_(self) -> str:
        if not self:
            return (
                "<p>Nothing found: the design passes. <em>A review of numbers for teaching, no release of a"
                " machine.</em></p>"
            )
        items = "".join(
            f"<li><strong>{escape(one.grade)}</strong>, {escape(one.where)}: {escape(one.what)}<br>Limit:"
            f" {escape(one.limit)} {escape(one.why)}<br>Change: {escape(one.change)}"
            f" <small>({escape(one.source)})</small></li>"
            for one in self
        )
        return f"<ol>{items}</ol>"


def said(value: float, unit: str = "") -> str:
    """A number for a sentence, with its unit.

    >>> said(78.7500001, "mm"), said(0.25, "in"), said(1.633)
    ('78.75 mm', '0.25 in', '1.63')
    """
    places = {"mm": 3, "in": 4}.get(unit, 2)
    return f"{placed_text(value, places)} {unit}".rstrip()
