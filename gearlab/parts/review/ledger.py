"""The ledger of a design: every check that was made of it, and every one that could not be."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from html import escape
from typing import Any, TypeVar

from gearlab.care import line

from ..design import Design
from .finding import GRADES, Finding, Held, Outcome, Unmade

CARE = line("review")
_Look = TypeVar("_Look", bound=Callable[..., Outcome | Iterable[Outcome] | None])


@dataclass(frozen=True, eq=False)  # each is itself alone: a ledger need not look into it to tell it apart
class Check:
    """A row of the table of checks.

    name: what it is called; asks: the question, as a person would put it.
    finds: names of the findings that it can come to.
    look: yields an outcome for each part that it concerns; none where a design has no such part.
    """

    name: str
    asks: str
    finds: tuple[str, ...]
    look: Callable[[Design], Iterable[Outcome]]

    def made(self, design: Design) -> Iterator[Outcome]:
        """Its outcomes for a design."""
        for outcome in self.look(design):
            if isinstance(outcome, Finding) and outcome.name not in self.finds:
                raise ValueError(
                    f"check {self.name!r} came to {outcome.name!r}, which is not among its finds: add it"
                )
            yield outcome


class Checks(list[Check]):
    """The checks of a subject, in order; each is declared above the function that looks."""

    def row(
        self, name: str, asks: str, *finds: str, of: str | Callable[[Design], Iterable[Any]] | None = None
    ) -> Callable[[_Look], _Look]:
        """A check, as a decorator: its function tells what it comes to at a design, or at a part of it.

        of: the parts to look at: those of one of the design's tables, or what a function gives, which may
            tell of a part why it cannot be looked at; the design as a whole if left out.
        """

        def declared(look: _Look) -> _Look:
            self.append(Check(name, asks, finds, partial(_outcomes, look, of)))
            return look

        return declared


def _outcomes(
    look: _Look, of: str | Callable[[Design], Iterable[Any]] | None, design: Design
) -> Iterator[Outcome]:
    parts: Iterable[Any] = [()]
    if of is not None:
        parts = getattr(design, of) if isinstance(of, str) else of(design)
    for part in parts:
        if not isinstance(part, (Finding, Held, Unmade)):
            part = look(design, *(part if type(part) is tuple else (part,)))
        if isinstance(part, (Finding, Held, Unmade)):
            yield part
        elif part is not None:
            yield from part


class Ledger(tuple):
    """What a review comes to. As a sequence it holds the findings, worst first: none for a sound design.

    outcomes: (check, outcome) of every check in the order of the table.
    """

    outcomes: tuple[tuple[Check | None, Outcome], ...]

    def __new__(cls, outcomes: Iterable[tuple[Check | None, Outcome]] = ()) -> Ledger:
        kept = tuple(dict.fromkeys(outcomes))
        findings = [outcome for _, outcome in kept if isinstance(outcome, Finding)]
        ledger = super().__new__(cls, sorted(findings, key=lambda finding: GRADES.index(finding.grade)))
        ledger.outcomes = kept
        return ledger

    @property
    def holds(self) -> tuple[Held, ...]:
        """The checks that hold."""
        return tuple(outcome for _, outcome in self.outcomes if isinstance(outcome, Held))

    @property
    def unmade(self) -> tuple[Unmade, ...]:
        """The checks that could not be made."""
        return tuple(outcome for _, outcome in self.outcomes if isinstance(outcome, Unmade))

    @property
    def undecided(self) -> tuple[Unmade, ...]:
        """Those that could not be made, though the design's own claims hang on them."""
        return tuple(unmade for unmade in self.unmade if unmade.decisive)

    @property
    def fails(self) -> tuple[Finding, ...]:
        """The findings that are worse than worth knowing."""
        return tuple(finding for finding in self if finding.bad)

    @property
    def passes(self) -> bool:
        """Whether nothing fails, and nothing that the design's own claims hang on is unchecked."""
        return not self.fails and not self.undecided

    @property
    def names(self) -> tuple[str, ...]:
        """Names of all findings, worst first."""
        return tuple(finding.name for finding in self)

    def of(self, grade: str) -> Iterator[Finding]:
        """The findings of one grade."""
        return (finding for finding in self if finding.grade == grade)

    @property
    def verdict(self) -> str:
        """The verdict in a line, as a title block says it."""
        counted = [f"{_count(self.holds, 'check')} hold{'s' if len(self.holds) == 1 else ''}"]
        if self.unmade:
            counted.append(f"{len(self.unmade)} could not be made")
        if self.fails:
            worst = self.fails[0].grade
            return f"{worst}: {_count(self.fails, 'finding')}; {', '.join(counted)}"
        if self.undecided:
            return f"cannot be judged: {self.undecided[0].what} is not checked; {', '.join(counted)}"
        return f"sound as far as checked: {', '.join(counted)}"

    @property
    def brief(self) -> str:
        """The review as it is told on a screen: all but the checks that hold."""
        lines = [f"{self.verdict[0].upper()}{self.verdict[1:]}. ({CARE})"]
        lines += [
            f"[{finding.grade}] {finding.where}: {finding.what}\n    limit: {finding.limit}\n    why:"
            f" {finding.why}\n    change: {finding.change}  ({finding.source})"
            for finding in self
        ]
        if self.unmade:
            lines += ["Not checked:", *(f"  {unmade}" for unmade in self.unmade)]
        return "\n".join(lines)

    def __str__(self) -> str:
        holds = ["Holds:", *(f"  {held}" for held in self.holds)] if self.holds else []
        return "\n".join([self.brief, *holds])

    def _repr_html_(self) -> str:
        items = "".join(
            f"<li><strong>{escape(finding.grade)}</strong>, {escape(finding.where)}: {escape(finding.what)}"
            f"<br>Limit: {escape(finding.limit)} {escape(finding.why)}<br>Change: {escape(finding.change)}"
            f" <small>({escape(finding.source)})</small></li>"
            for finding in self
        )
        html = f"<p>{escape(self.verdict)}. <em>{CARE}</em></p>"
        html += f"<ol>{items}</ol>" if items else ""
        for title, rows in (("Not checked", self.unmade), ("Holds", self.holds)):
            if rows:
                listed = "".join(f"<li>{escape(str(row))}</li>" for row in rows)
                html += f"<details><summary>{title}: {len(rows)}</summary><ul>{listed}</ul></details>"
        return html


def _count(counted: Sequence, word: str) -> str:
    return f"{len(counted)} {word}{'' if len(counted) == 1 else 's'}"
