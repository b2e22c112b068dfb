"""What an explorer shows at one setting of its controls: inputs, numbers, words, and what it may not be."""

from __future__ import annotations

import difflib
import dis
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from types import CodeType
from typing import Any, NoReturn

from ...drawing import numerals
from ...drawing.scene import Scene
from ...theory.quantities import QUANTITIES


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


KINDS = ("task", "note", "warning", "stop", "good")


class Cells:
    """Cells of a readout from the numbers of a thing, by their words; a number given is one's own.

    >>> Cells({"centre_distance": 78.75}, "mm").length("centre_distance")["text"]
    '78.75 mm'
    """

    def __init__(self, numbers: Mapping[str, float], unit: str):
        self.numbers, self.unit = numbers, unit

    def __getitem__(self, word: str) -> float:
        try:
            return self.numbers[word]
        except KeyError:
            near = near_word(word, self.numbers)
            raise LookupError(
                f"a readout has no word {word!r}{near}; give the number with it if it is your own"
            ) from None

    def _cell(
        self, word: str, value: float | None, write: Callable[[float], str], options: dict[str, Any]
    ) -> dict:
        number = self[word] if value is None else value
        return cell(word, number, write(number), **{"explained": value is None} | options)

    def length(self, word: str, value: float | None = None, **options: Any) -> dict:
        """A length [unit]."""
        return self._cell(word, value, lambda number: numerals.length(number, self.unit), options)

    def plain(self, word: str, value: float | None = None, places: int = 4, **options: Any) -> dict:
        """A number with no more places than it needs."""
        return self._cell(word, value, lambda number: numerals.plain(number, places), options)

    def number(
        self, word: str, value: float | None = None, places: int = 3, unit: str = "", **options: Any
    ) -> dict:
        """A number with fixed places."""
        tail = f" {unit}" if unit else ""
        return self._cell(word, value, lambda number: numerals.number(number, places) + tail, options)

    def angle(
        self, word: str, value: float | None = None, places: int = 2, *, plain: bool = False, **options: Any
    ) -> dict:
        """An angle [deg]."""
        size = (numerals.plain if plain else numerals.number)(self[word] if value is None else value, places)
        return self._cell(word, value, lambda _: f"{size}\u00b0", {"spoken": f"{size} degrees"} | options)

    def distance(self, word: str, value: float) -> dict:
        """A length of one's own, written without its sign [unit]."""
        return self.said(word, value, numerals.length(abs(value), self.unit))

    def said(self, word: str, value: float, text: str, **options: Any) -> dict:
        """A number of one's own, written in one's own way."""
        return cell(word, value, text, **{"explained": False} | options)


def cell(
    word: str, value: float, text: str, *, explained: bool = True, alarm: bool = False, spoken: str = ""
) -> dict:
    """One number of a readout.

    Its quantity's word, its value, how it is written and, if not the same, spoken.
    """
    return {
        "word": word,
        "value": value,
        "text": text,
        "explained": explained,
        "alarm": alarm,
        "spoken": spoken or text,
    }


def speed_cell(word: str, speed: float, **options: Any) -> dict:
    """A signed speed of a readout: an arrow for the eye, words for the ear [rpm]."""
    return cell(word, speed, numerals.turning(speed), spoken=numerals.speed(speed), **options)


def row(label: str, *cells: dict) -> dict:
    """A row of a readout; two cells stand under driver and driven."""
    return {"label": label, "cells": list(cells)}


def group(title: str, rows: list[dict], columns: tuple[str, ...] = (), *, sides: bool = True) -> dict:
    """A table of a readout; two columns have the looks of driver and driven gear, without ``sides`` none."""
    plain = {} if sides else {"sides": False}
    return {"title": title, "columns": list(columns), "rows": rows} | plain


def cells_of(readout: Iterable[dict]) -> list[dict]:
    """Every cell of a readout, in order."""
    return [cell for table in readout for line in table["rows"] for cell in line["cells"]]


def shape_of(given: Any) -> str:
    """What a thing is that stands where it does not belong."""
    marks = {"rows": "a group", "cells": "a row", "word": "a cell", "kind": "a remark"}
    named = [name for mark, name in marks.items() if isinstance(given, dict) and mark in given]
    return named[0] if named else repr(given)[:60]


_LEVELS = (("rows", "group(title, rows)"), ("cells", "row(label, cell, ...)"), ("word", "a cell"))


def check_readout(name: str, readout: Any, remarks: Any) -> None:
    """Refuse a readout that is no list of groups of rows of cells, and remarks that are none."""

    def check(items: Any, depth: int) -> None:
        key, wanted = _LEVELS[depth]
        whole = "write it as [group(title, [row(label, cell, ...), ...]), ...]"
        if not isinstance(items, (list, tuple)):
            raise TypeError(f"the readout of {name} is {shape_of(items)} where a list belongs: {whole}")
        for item in items:
            if not isinstance(item, dict) or key not in item:
                raise TypeError(
                    f"the readout of {name} holds {shape_of(item)} where {wanted} belongs: {whole}"
                )
            if depth + 1 < len(_LEVELS):
                check(item[key], depth + 1)

    check(readout, 0)
    for item in remarks if isinstance(remarks, (list, tuple)) else [remarks]:
        if not isinstance(item, dict) or "kind" not in item:
            raise TypeError(
                f"the remarks of {name} hold {shape_of(item)}: write them as a list, such as [note(text)]"
            )


def remark(
    kind: str,
    text: str,
    *,
    lead: str = "",
    advice: str = "",
    does: Iterable[dict] = (),
    more: Iterable[str] = (),
) -> dict:
    """A remark under the picture: "task", "note", "warning", "stop" or "good".

    lead: the word before it in place of that of its kind; advice: what to do, on a line of its own.
    does: buttons that do it (``button``); more: rows that are shown when they are asked for.
    """
    if kind not in KINDS:
        raise ValueError(f"remark of kind {kind!r} is not known: {', '.join(KINDS)}{near_word(kind, KINDS)}")
    beside = {"lead": lead, "advice": advice, "does": list(does), "more": list(more)}
    return {"kind": kind, "text": text} | {name: value for name, value in beside.items() if value}


def button(text: str, name: str, value: Any, title: str = "") -> dict:
    """A button of a remark: it gives a control, by its name, a value."""
    return {"text": text, "name": name, "value": value, "title": title or text}


def task(text: str) -> dict:
    """What the reader is asked to reach."""
    return remark("task", text)


def note(text: str) -> dict:
    """What is the case."""
    return remark("note", text)


def warning(text: str) -> dict:
    """What will give trouble."""
    return remark("warning", text)


def caution(text: str) -> dict:
    """What can do harm; the one remark that is led by "Caution"."""
    return {**remark("warning", text), "lead": "Caution"}


def stop(text: str) -> dict:
    """What cannot work."""
    return remark("stop", text)


def good(text: str) -> dict:
    """That the task is done."""
    return remark("good", text)


@dataclass
class State:
    """What an explorer shows at one setting of its controls; ``subject`` is what the numbers are of."""

    inputs: Inputs
    scene: Scene
    heading: str
    readout: list[dict] = field(default_factory=list)
    remarks: list[dict] = field(default_factory=list)
    subject: Any = None


def check_class(cls: Any, base: type) -> None:
    """Refuse a class that could not work, by name, before one is made."""
    name = cls.__name__
    if cls.state is base.state:  # type: ignore[attr-defined]
        raise TypeError(f"{name} has no state: give it state(self, inputs), which returns a State")
    if not any(not line.fixed for line in cls.declared.values()):
        raise TypeError(f"{name} has no control: declare one, such as teeth = Whole(18, 6, 120, 'Teeth')")
    for several in ("words", "panelled"):
        names = getattr(cls, several)
        if isinstance(names, str) or not all(isinstance(each, str) for each in names):
            raise TypeError(
                f"{several} of {name} is {names!r}: write a tuple of names, for one of them with a comma:"
                f" {several} = ({names if isinstance(names, str) else 'rim_room'!r},)"
            )
    for hidden in cls.declared.keys() & vars(base).keys():
        raise TypeError(f"{name} cannot have a line called {hidden!r}: every explorer has that already")
    for wanted in cls.panelled:
        if wanted not in cls.declared:
            raise TypeError(f"{name} has no control {wanted!r}{near_word(wanted, cls.declared)}")
    for attribute in vars(cls).values():
        for inside in ("fget", "__func__", "func"):  # of a property, a static method, a cached property
            attribute = getattr(attribute, inside, attribute)
        code = getattr(attribute, "__code__", None)
        for wanted in _asked_of_inputs(code) if code else ():
            if wanted not in cls.inputs and not hasattr(Inputs, wanted):
                raise TypeError(f"{name} has no control {wanted!r}{near_word(wanted, cls.inputs)}")


def _asked_of_inputs(code: CodeType) -> list[str]:
    """Names in ``inputs.name`` of a function and the functions inside it."""
    names, before = [], None
    if "inputs" in code.co_varnames + code.co_freevars:
        for step in dis.get_instructions(code):
            if step.opname in ("LOAD_ATTR", "LOAD_METHOD") and before == "inputs":
                names.append(str(step.argval).rpartition(" ")[2])
            before = step.argval if step.opname.startswith("LOAD_") else None
    for inner in code.co_consts:
        if isinstance(inner, CodeType):
            names += _asked_of_inputs(inner)
    return names


def check_state(cls: type, state: Any) -> None:
    """Refuse what is no state, and a readout or remarks that the page could not read."""
    name = cls.__name__
    if not isinstance(state, State):
        raise TypeError(f"state of {name} gives {shape_of(state)}: return State(inputs, scene, heading, ...)")
    if not isinstance(state.scene, Scene):
        raise TypeError(f"the scene of {name} is {shape_of(state.scene)}: give what a view returns, a Scene")
    check_readout(name, state.readout, state.remarks)


def check_words(cls: Any, readout: list[dict]) -> None:
    """Refuse a word of a readout that neither theory nor the explorer knows."""
    several = tuple(word[:-1] for word in cls.words if word.endswith("*"))
    for cell in cells_of(readout):
        word = cell["word"]
        if not (
            word in QUANTITIES
            or word in cls.words
            or word in cls.inputs
            or word.startswith(several or ("\0",))
        ):
            known = [*QUANTITIES, *cls.words, *cls.inputs]
            raise LookupError(
                f"the readout of {cls.__name__} has the word {word!r}, which theory does not know and words"
                f" does not name{near_word(word, known)}"
            )
