"""What was changed in a design, one change after another, as plain data: an input like any other.

A history is a text (JSON): the changes, and how many of them stand; the rest were undone. Undoing, doing
again and taking a piece of advice are other histories, so that a button needs to give one alone.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from typing import Any, NamedTuple

import traitlets

from ...parts.design import Design
from .controls import Line
from .findings import edit_words
from .state import Inputs

BEGIN = '{"changes":[],"stand":0}'


class History(NamedTuple):
    """The changes that were made, each an edit as ``Design.with_`` takes it, as text; how many stand."""

    changes: tuple[str, ...] = ()
    stand: int = 0

    @property
    def text(self) -> str:
        """As plain data."""
        return json.dumps(
            {"changes": [json.loads(change) for change in self.changes], "stand": self.stand},
            separators=(",", ":"),
        )

    @property
    def standing(self) -> tuple[str, ...]:
        """The changes that stand."""
        return self.changes[: self.stand]

    def to(self, edit: Mapping[str, Any], instead: bool = False) -> History:
        """With one more change, or another in place of the last; what was undone is gone."""
        before = self.standing[:-1] if instead else self.standing
        changes = (*before, json.dumps(edit, separators=(",", ":")))
        return History(changes, len(changes))

    @property
    def back(self) -> History | None:
        """With the last change undone."""
        return self._replace(stand=self.stand - 1) if self.stand else None

    @property
    def on(self) -> History | None:
        """With the change done again that was undone last."""
        return self._replace(stand=self.stand + 1) if self.stand < len(self.changes) else None


@lru_cache(maxsize=256)
def history(text: str) -> History:
    """A history from plain data; ValueError for what is none.

    >>> history('{"changes":[{"plate":{"length":240}}],"stand":1}').back.stand
    0
    """
    try:
        data = json.loads(text)
        changes = tuple(json.dumps(edit, separators=(",", ":")) for edit in data["changes"])
        stand = data["stand"]
        if not 0 <= stand <= len(changes) or not all(isinstance(edit, dict) for edit in data["changes"]):
            raise ValueError
    except (ValueError, KeyError, TypeError):
        raise ValueError(
            f"history = {text[:60]!r} is none: give one that a DriveExplorer had, or {BEGIN}"
        ) from None
    return History(changes, stand)


class Beginning:
    """The design that changes begin with; known by itself, so that what follows from it can be kept."""

    def __init__(self, design: Design):
        self.written = design  # with the text of its file
        self.design = Design(**design.tables)  # changed without it, which is quicker


@lru_cache(maxsize=256)
def changed(began: Beginning, changes: tuple[str, ...]) -> Design:
    """The design after these changes; ValueError for one that does not fit."""
    if not changes:
        return began.design
    return changed(began, changes[:-1]).with_(**json.loads(changes[-1]))


def written(began: Beginning, changes: tuple[str, ...]) -> Design:
    """The same with the text of the file: comments and order stay."""
    design = began.written
    for change in changes:
        design = design.with_(**json.loads(change))
    return design


class Changes(Line, traitlets.Unicode):
    """The history of a design, as an input; on the page a row of buttons that give another one.

    buttons: from the explorer and its inputs, the rows (text, name, history or none).
    """

    kind = "str"

    def __init__(self, label: str, buttons: Callable[[Any, Inputs], list[tuple[str, str, str | None]]]):
        super().__init__(BEGIN)
        self.preset, self.buttons = BEGIN, buttons
        self._line(label, argument=False)

    def validate(self, obj: Any, value: Any) -> Any:
        if self._checks(obj):
            history(value)
        return super().validate(obj, value)

    def _spec(self, maker: Any, inputs: Inputs) -> dict | None:
        buttons = [
            {"text": text, "title": title, "value": value}
            for text, title, value in self.buttons(maker, inputs)
        ]
        return {"kind": "buttons", "name": self.name, "label": self.label, "buttons": buttons}

    def next(self, maker: Any, inputs: Inputs) -> str:
        values = [value for _, _, value in self.buttons(maker, inputs) if value is not None]
        return values[0] if values else getattr(inputs, str(self.name))


def titled(word: str, change: Iterable[str]) -> str:
    return "; ".join([f"{word}: {edit_words(edit_of(each))}" for each in change]) or word


def edit_of(change: str) -> dict[str, Any]:
    """A change of a history as an edit."""
    return json.loads(change)


def touched(change: str) -> tuple[str, str] | None:
    """The member and the field that a change is of; none where it is of several members."""
    edit = edit_of(change)
    if len(edit) != 1:
        return None
    ((table, fields),) = edit.items()
    if not isinstance(fields, Mapping) or not fields:
        return None
    name, inner = next(iter(fields.items()))
    if not isinstance(inner, Mapping):
        return table, name
    return (f"{table} {name}", next(iter(inner))) if len(fields) == 1 and inner else None


def same_number(change: str, edit: Mapping[str, Any]) -> bool:
    """Whether a change is of the very number of an edit, and of no other."""

    def path(value: Any) -> Any:
        return {key: path(inner) for key, inner in value.items()} if isinstance(value, Mapping) else None

    return path(edit_of(change)) == path(edit)
