"""What a review says, as remarks for the panel beside the controls: the verdict, the findings, the rest."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from ...parts.review import Finding, Ledger
from ...parts.review.finding import said
from .controls import Whole
from .numbers import SINGLE
from .state import button, remark

PLACES = ("first", "second", "third", "fourth")  # of ways that the advice names in this order
MOST = 999  # findings that can be asked for
GRADE = {"will not work": "warning", "will trouble": "warning", "worth knowing": "note"}
#: Gives the history in which an edit has been made too, or None where it cannot be taken.
Take = Callable[[Mapping[str, Any]], str | None]


def advised_line() -> Whole:
    """Of which finding the advice is told, worst first: to prove it takes reviews, so not of all at once."""
    return Whole(0, 0, MOST, "Advice", shown=False, argument=False, unit="")


def findings_told(ledger: Ledger, advised: int, take: Take | None = None) -> list[dict]:
    """The findings, worst first; a button at each for its advice, which is told of one."""
    rows = []
    for place, finding in enumerate(ledger):
        if place == advised or place > MOST:
            rows.append(finding_told(finding, take))
        else:
            title = f"What to do: {finding.where}"
            rows.append(_case(finding, does=[button("What to do", "advised", place, title)]))
    return rows


def finding_told(finding: Finding, take: Take | None = None) -> dict:
    """A finding with its advice, which a button takes."""
    does = []
    if take is not None:
        for place, edit in enumerate(finding.edits[: len(PLACES)]):
            value, words = take(edit), edit_words(edit)
            if value is not None:
                text = "Do this" if len(finding.edits) == 1 else f"Do the {PLACES[place]}"
                does.append(button(text, "history", value, f"{text}: {words}"))
    return _case(finding, advice=finding.decision or finding.change, does=does)


def _case(finding: Finding, **beside: Any) -> dict:
    """What is the case, its limit, and why it matters."""
    return remark(
        GRADE[finding.grade],
        f"{finding.where}: {finding.what} {finding.limit} {finding.why}",
        lead=_sentence(finding.grade),
        **beside,
    )


def verdict_told(ledger: Ledger) -> dict:
    """The verdict in a line."""
    kind = "good" if ledger.passes else "warning" if ledger.fails else "note"
    return remark(kind, f"{_sentence(ledger.verdict)}.", lead="Verdict")


def undecided_told(ledger: Ledger) -> list[dict]:
    """What could not be checked though the design's own claims hang on it, and how to give it."""
    return [
        remark(
            "note",
            f"{unmade.where}: {unmade.what}, because {unmade.why}.",
            lead="Cannot be judged",
            advice=f"{_sentence(unmade.give)}.",
        )
        for unmade in ledger.undecided
    ]


def rest_told(ledger: Ledger) -> list[dict]:
    """What could not be checked, with how to give it, and what holds."""
    rows = undecided_told(ledger)
    others = [str(unmade) for unmade in ledger.unmade if not unmade.decisive]
    if others:
        rows.append(_listed("Not checked", others, "could not be made"))
    if ledger.holds:
        words = "holds" if len(ledger.holds) == 1 else "hold"
        rows.append(_listed("Holds", [str(held) for held in ledger.holds], words))
    return rows


def _listed(lead: str, items: Sequence[str], words: str) -> dict:
    count = f"{len(items)} check{'s' if len(items) > 1 else ''} {words}"
    return remark("note", f"{count}.", lead=lead, more=items)


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]


def edit_words(edit: Mapping[str, Any]) -> str:
    """An edit of a design in words.

    >>> edit_words({"shaft": {"vent": {"length": 46.5}}, "plate": {"height": None}})
    'vent: length 46.5; plate: leave height out'
    """
    return "; ".join(_edit_rows(edit))


def _edit_rows(edit: Mapping[str, Any]) -> list[str]:
    rows = []
    for table, members in edit.items():
        if not isinstance(members, Mapping):
            rows.append(f"{'leave out' if members is None else 'other'} {table}")
            continue
        if table in SINGLE or not any(isinstance(each, Mapping) or each is None for each in members.values()):
            members = {table: members}
        for name, fields in members.items():
            if not isinstance(fields, Mapping):
                rows.append(f"leave {name} out")
                continue
            words = ", ".join(_field(word, value) for word, value in fields.items())
            rows.append(f"{name}: {words}")
    return rows


def _field(word: str, value: Any) -> str:
    words = word.replace("_", " ")
    if value is None:
        return f"leave {words} out"
    if isinstance(value, bool):
        return f"{words} {'yes' if value else 'no'}"
    if isinstance(value, (int, float)):
        return f"{words} {said(value, 'in').removesuffix(' in')}"
    return f"{words} {value}"
