"""The settings of an explorer at one moment, and how one that cannot be is refused."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from typing import Any, NoReturn

from ...drawing import numerals


def near_word(word: str, known: Iterable[str]) -> str:
    """What may have been meant by a word that does not exist, as the end of a message.

    >>> near_word("driver_teth", ["driver_teeth", "module"]), near_word("x", ["module"])
    ('; did you mean driver_teeth?', '')
    """
    near = difflib.get_close_matches(word, list(known), 1)
    return f"; did you mean {near[0]}?" if near else ""


class Inputs:
    """The settings of an explorer's controls, by name; they never change.

    >>> inputs = Inputs(teeth=18, module=2.5)
    >>> inputs.teeth, inputs.but(teeth=19)
    (18, Inputs(teeth=19, module=2.5))
    """

    __slots__ = ("_settings",)
    _settings: dict[str, Any]

    def __init__(self, **settings: Any):
        object.__setattr__(self, "_settings", settings)

    def __getattr__(self, name: str) -> Any:
        try:
            return object.__getattribute__(self, "_settings")[name]
        except KeyError:
            raise AttributeError(f"no control is called {name!r}{near_word(name, self._settings)}") from None

    def __setattr__(self, name: str, _value: Any) -> NoReturn:
        raise AttributeError(f"{name} of these inputs cannot be set: ask for others by but({name}=...)")

    def but(self, **settings: Any) -> Inputs:
        """The same with some of them changed."""
        for name in settings:
            getattr(self, name)
        return Inputs(**{**self._settings, **settings})

    def settings(self) -> dict[str, Any]:
        """All of them, by name."""
        return dict(self._settings)

    def __eq__(self, other: Any) -> bool:
        return isinstance(other, Inputs) and self._settings == other._settings

    def __hash__(self) -> int:
        return hash(tuple(self._settings.items()))

    def __reduce__(self):
        return _inputs, (self._settings,)

    def __repr__(self) -> str:
        return f"Inputs({', '.join(f'{name}={value!r}' for name, value in self._settings.items())})"


def _inputs(settings: dict[str, Any]) -> Inputs:
    return Inputs(**settings)


def within(name: str, value: Any, low: float, high: float, unit: str = "") -> None:
    """Refuse a value outside its control's limits."""
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not low <= value <= high:
        raise ValueError(
            f"{name} = {value!r} is out of range: give a number from {numerals.plain(low)} to"
            f" {numerals.plain(high)}{' ' + unit if unit else ''}"
        )


def one_of(name: str, value: Any, options: Iterable, unit: str = "") -> None:
    """Refuse a value that is not on the control's list."""
    known = list(options)
    if value not in known:
        told = ", ".join(map(numerals.plain, known)) + f" {unit}" if unit else ", ".join(map(str, known))
        raise ValueError(f"{name} = {value!r} is not known: choose from {told}")
