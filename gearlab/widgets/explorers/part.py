"""An explorer that shows a part of a design: what it takes from it, and what it gives back."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from typing import Any

from ...parts.design import Design
from ...parts.review import moved
from .inputs import Inputs, near_word

#: How many changed numbers are told beside the button; the rest are counted.
TOLD = 3
_NONE = object()  # no value at all


@dataclass(frozen=True)
class Part:
    """Which members of a design an explorer can show.

    kind: "mesh", "gear", "shaft", "rack", "bevel", "planetary", or "drive" for all of it.
    take: from a design and the name of a member, the arguments of the explorer; ValueError for one it cannot
        show.
    give: from the inputs, the design and the name, the edits that bring the design to them. Only what differs
        from the edits of the inputs at which the design stands is changed in it.
    """

    kind: str
    take: Callable[[Design, str], Mapping[str, Any]]
    give: Callable[[Inputs, Design, str], Mapping[str, Any]]

    def taken(self, design: Design, name: str | None) -> tuple[str, dict[str, Any]]:
        """The member to show, the one that is named or else the first that can be, and the arguments for it.

        ValueError where there is none, or it cannot be shown.
        """
        known = members(design, self.kind)
        if name is not None:
            if name not in known:
                raise ValueError(
                    f"part = {name!r} is no {self.kind} of the design{near_word(name, known)}; there are"
                    f" {', '.join(known) or 'none'}"
                )
            return name, dict(self.take(design, name))
        if not known:
            raise ValueError(
                f"the design {design.name!r} has no {self.kind} to show; give one that has, or add"
                f" [[{self.kind}]]"
            )
        first: ValueError | None = None
        for member in known:
            try:
                return member, dict(self.take(design, member))
            except ValueError as error:
                first = first or error
        assert first is not None
        raise first

    def edits(self, inputs: Inputs, stood: Inputs, design: Design, name: str) -> dict[str, Any]:
        """What brings a design to these inputs, where it stands at others."""
        if inputs == stood:
            return {}
        wanted = self.give(inputs, design, name)
        try:
            there = self.give(stood, design, name)
        except ValueError:  # such as jaws that did not touch
            there = {}
        news = {kind: _news(edit, there.get(kind, {}), _named(design, kind)) for kind, edit in wanted.items()}
        return {kind: edit for kind, edit in news.items() if edit}


def _news(edit: Any, before: Any, known: Collection[str]) -> Any:
    """The fields of an edit that were not so before; of a member that is not there yet all of them."""
    if not isinstance(edit, Mapping) or not isinstance(before, Mapping):
        return edit
    if all(isinstance(value, Mapping) for value in edit.values()):
        news = {
            member: {
                word: value for word, value in fields.items() if value != before[member].get(word, _NONE)
            }
            if member in known and member in before
            else fields
            for member, fields in edit.items()
            if fields != before.get(member)
        }
        return {member: fields for member, fields in news.items() if fields}
    return {word: value for word, value in edit.items() if value != before.get(word, _NONE)}


def _named(design: Design, kind: str) -> list[str]:
    tables = getattr(design, kind, None)
    return [table.name for table in tables] if isinstance(tables, tuple) else []


def members(design: Design, kind: str) -> list[str]:
    """Names of a design's members of a kind."""
    if kind == "drive":
        return [design.name]
    tables: Any = design.bevels if kind == "bevel" else getattr(design, kind)
    return [table.name for table in tables]


def nothing(_inputs: Inputs, _design: Design, _name: str) -> dict[str, Any]:
    """The edits of an explorer that asks something of a part and sets none of its numbers."""
    return {}


def in_its_unit(design: Design, table: Any) -> dict[str, float]:
    """The size of a member's teeth; ValueError where it is not stated, or not in the design's unit."""
    word = "module" if design.unit == "mm" else "diametral_pitch"
    if word not in table.size:
        raise ValueError(
            f"{table.name!r} has no {word}, and lengths of the design are in {design.unit}; give it {word}"
        )
    return table.size


def spur(design: Design, name: str) -> dict[str, Any]:
    """What an explorer of one gear takes: its teeth and their size; ValueError for a ring."""
    table = design.of(name)
    if table.internal:
        raise ValueError(f"{name!r} is a ring, and here a spur gear is shown; name one: part = ...")
    return {"teeth": table.teeth, **in_its_unit(design, table)}


def as_cut(design: Design, name: str) -> dict[str, Any]:
    """What the teeth of a gear are beside count and size, as arguments of a ``Gear``."""
    table = design.of(name)
    return {
        word: getattr(table, word)
        for word in ("pressure_angle", "tooth_system", "profile_shift", "tooth_thinning")
    }


def used(before: Design, after: Design, edits: Mapping[str, Any], other: bool) -> str:
    """What was changed in a design, in a sentence for the page.

    edits: what was put into it.
    other: whether what is shown is other than what the design had.
    """
    fields = _fields(before, edits)
    if not fields:
        return (
            "Nothing has moved: what you changed is no number of your design."
            if other
            else "Nothing has moved: your design has these numbers already."
        )
    change = moved(before, after)
    text = "In your design: " + "; ".join(fields[:TOLD])
    text += f"; {len(fields) - TOLD} more." if len(fields) > TOLD else "."
    if change.numbers:
        # one of the whole drive says more than the first of a gear's many
        name = next(
            (name for name in change.numbers if name.startswith("the drive")), next(iter(change.numbers))
        )
        was, now = change.numbers[name]
        text += (
            f" Numbers moved: {len(change.numbers)}, such as {_spaced(name)} {_plain(was)} to {_plain(now)}."
        )
    for word, findings in (("came", change.came), ("went", change.went)):
        if findings:
            text += f" Findings {word}: {len(findings)}; {findings[0].where}: {findings[0].what.rstrip('.')}."
    return text


def _fields(before: Design, edits: Mapping[str, Any]) -> list[str]:
    """The fields that were set, each with what it was and what it is."""
    told = []
    for kind, edit in edits.items():
        tables = getattr(before, kind)
        by_name = {table.name: table for table in tables} if isinstance(tables, tuple) else {"": tables}
        members = edit if isinstance(tables, tuple) else {"": edit}
        for name, fields in members.items():
            there = by_name.get(name)
            if there is None:
                told.append(f"new: {_spaced(name)}")
                continue
            for word, value in fields.items():
                was = getattr(there, word)
                if was != value:
                    of = name or kind
                    told.append(f"{_spaced(word)} of {_spaced(of)} {_plain(was)} to {_plain(value)}")
    return told


def _spaced(name: str) -> str:
    return name.replace("_", " ")


def _plain(value: Any) -> str:
    if isinstance(value, tuple):
        return " and ".join(map(_plain, value))
    return f"{value:.5g}" if isinstance(value, float) else "none" if value is None else str(value)
