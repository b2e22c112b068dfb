"""What of an explorer stands on the stage that a lesson sets, and which numbers it keeps back.

Of controls and readout the lesson names those that its task needs; the others wait behind a disclosure
each. A secret is a number that answers the task: in readout, remarks, alternative text and picture a question
mark stands for it until the task is done or the number is asked for. What was asked for, or told because the
task was done, is an input, so that states stay pure.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any, ClassVar

import traitlets

from ...drawing.scene import Scene
from ...drawing.shapes import Dimension, Label, Shape
from ..living import Living
from .controls import Line
from .state import Inputs, State, cells_of, near_word

UNTOLD = "?"  # in place of a number that is kept back
BETWEEN = "; "  # words in ``asked_for``
NUMBER = re.compile(r"(?<![\w.])\d+(?:\.(?P<places>\d+))?")


class Staged(Living):
    """A living picture of which a lesson shows what its task needs."""

    stage_controls: ClassVar[tuple[str, ...]] = ()  # on the stage where a lesson names none; all, if empty
    stage_readout: ClassVar[tuple[str, ...]] = ()  # the same of the readout, by words
    secrets: ClassVar[tuple[str, ...]] = ()  # words that answer its task; "factor of *" for several
    declared: ClassVar[dict[str, Line]] = {}
    inputs: tuple[str, ...] = ()
    asked_for = traitlets.Unicode("").tag(sync=True)  # secrets that the reader asked for, "; " between

    shown: State = None  # type: ignore[assignment]  # the state on the screen
    _controls_staged: tuple[str, ...] | None = None  # all, if none
    _readout_staged: tuple[str, ...] | None = None
    _secrets: tuple[str, ...] = ()
    _readout_wanted: tuple[Any, Any] = (None, None)

    # supplied by the subclasses
    def task_done(self, state: State, word: str) -> bool:
        """Whether the task that a secret answers is done in a state: usually, whether a remark says so."""
        return {"task", "good"} <= {remark["kind"] for remark in state.remarks}

    # what the states ask
    def may_tell(self, inputs: Inputs, *words: str) -> bool:
        """Whether pictures and remarks may tell these numbers before the task is done: all were asked for."""
        asked = _words(inputs.settings().get("asked_for", ""))
        return all(word in asked or not self._is_secret(word) for word in words)

    # the stage
    def _set_stage(self, given: dict[str, Any]) -> None:
        """Take from the arguments what stands on the stage and what is kept back."""
        lines = [name for name, line in self.declared.items() if not line.fixed]
        controls = given.pop("controls", None)
        self._controls_staged = self._of_names("controls", controls, lines, self.stage_controls)
        self._readout_wanted = given.pop("readout", None), given.pop("hidden", None)
        self._secrets = (*self.secrets, *_listed("hidden", self._readout_wanted[1] or ()))
        if self._secrets:
            self.inputs = (*(name for name in self.inputs if name != "asked_for"), "asked_for")

    def _check_stage(self, state: State) -> None:
        """Refuse names of numbers that this explorer never shows; the first state knows most of them."""
        readout, hidden = self._readout_wanted
        known = [cell["word"] for cell in cells_of(state.readout)]
        wanted = [*_listed("readout", readout or ()), *_listed("hidden", hidden or ())]
        if any(word not in known for word in wanted):
            known = list(dict.fromkeys([*known, *self._met_nearby(state)]))
        self._readout_staged = self._of_names("readout", readout, known, self.stage_readout)
        self._of_names("hidden", hidden, known, ())

    def _of_names(
        self, argument: str, names: Any, known: list[str], usual: tuple[str, ...]
    ) -> tuple[str, ...] | None:
        if names is None:
            return usual or None
        for name in _listed(argument, names):
            if name not in known:
                raise ValueError(
                    f"{argument} of this {type(self).__name__} has no {name!r}{near_word(name, known)}"
                    f" (it has: {', '.join(known) or 'none'})"
                )
        return tuple(names)

    def _met_nearby(self, state: State) -> Iterator[str]:
        """Words of the readout that show only at other settings: a step of each control away."""
        raise NotImplementedError

    def specs_on_stage(self, specs: list[dict]) -> list[dict]:
        """The controls of the stage in their order, then the others, which are marked."""
        if self._controls_staged is None:
            return specs
        by_name = {spec["name"]: spec for spec in specs}
        staged = [by_name[name] for name in self._controls_staged if name in by_name]
        return staged + [spec | {"more": True} for spec in specs if spec not in staged]

    def rows_on_stage(self, readout: list[dict]) -> list[dict]:
        """The rows of the stage in their order, then the others, in tables that are marked."""
        if self._readout_staged is None:
            return readout
        rows = [(table, line) for table in readout for line in table["rows"]]
        staged: list[tuple[dict, dict]] = []
        for name in self._readout_staged:
            for table, line in rows:
                own = any(cell["word"] == name for cell in line["cells"])
                if own and not any(line is other for _, other in staged):
                    staged.append((table, line))
        tables: list[dict] = []
        before = None
        for table, line in staged:
            if table is not before:
                tables.append(table | {"rows": []})
            tables[-1]["rows"].append(line)
            before = table
        for table in readout:  # the others
            left = [line for line in table["rows"] if not any(line is other for _, other in staged)]
            if left:
                tables.append(table | {"rows": left, "more": True})
        return tables

    # the secrets
    @traitlets.validate("asked_for")
    def _checked_asked(self, proposal: Any) -> str:
        words = _words(proposal.value)
        for word in words:
            if self.shown is not None and not self._is_secret(word):
                known = ", ".join(self._secrets) or "none"
                raise ValueError(
                    f"{word!r} is no number that this {type(self).__name__} keeps back"
                    f"{near_word(word, self._secrets)} (it keeps back: {known})"
                )
        return BETWEEN.join(words)

    def _is_secret(self, word: str) -> bool:
        return any(
            word.startswith(name[:-1]) if name.endswith("*") else word == name for name in self._secrets
        )

    def kept_back(self, state: State) -> set[str]:
        """The words of the readout whose numbers are not told in a state."""
        if not self._secrets:
            return set()
        asked = _words(state.inputs.settings().get("asked_for", ""))
        secret = {cell["word"] for cell in cells_of(state.readout) if self._is_secret(cell["word"])}
        return {word for word in secret if word not in asked and not self.task_done(state, word)}

    def remembering(self, state: State) -> Inputs:
        """The inputs of a state with the secrets that it tells because their task is done: they stay told."""
        inputs = state.inputs
        asked = _words(inputs.settings().get("asked_for", ""))
        secret = [cell["word"] for cell in cells_of(state.readout) if self._is_secret(cell["word"])]
        told = [word for word in dict.fromkeys(secret) if word not in asked and self.task_done(state, word)]
        return inputs.but(asked_for=BETWEEN.join([*asked, *told])) if told else inputs

    def as_shown(self, state: State) -> State:
        """A state without the numbers that are kept back, wherever they stand in it."""
        back = self.kept_back(state)
        if not back:
            return state
        values = [cell["value"] for cell in cells_of(state.readout) if cell["word"] in back]
        fixed = {name: getattr(self, name) for name, line in self.declared.items() if line.fixed}
        in_sight = set(self._readout_staged or ()) - back
        staged = [cell["value"] for cell in cells_of(state.readout) if cell["word"] in in_sight]
        stated = [*(fixed | state.inputs.settings()).values(), *staged]
        free = {value for value in stated if isinstance(value, (int, float))}

        def veiled(text: str) -> str:
            return without(text, values, free)

        return replace(
            state,
            readout=[_masked(table, back) for table in state.readout],
            remarks=[_veiled_remark(remark, veiled) for remark in state.remarks],
            scene=_veiled_scene(state.scene, veiled),
        )

    def _numbers(self) -> list[dict]:
        return cells_of(self.shown.readout)


def without(text: str, values: Iterable[float], free: Iterable[float] = ()) -> str:
    """A text with a question mark for each number that is one of the values, however far it is rounded.

    Numbers that were set or are read beside it (``free``) are no secret. A whole number tells only a whole
    value.

    >>> without("contact ratio 1.63 of 18 teeth", [1.6334])
    'contact ratio ? of 18 teeth'
    """
    secret, open_values = list(values), list(free)

    def one(match: re.Match[str]) -> str:
        number, places = float(match[0]), len(match["places"] or "")

        def tells(value: float) -> bool:
            return abs(round(abs(value), places) - number) < 1e-9 if places else abs(value) == number

        hides = any(map(tells, secret)) and not any(map(tells, open_values))
        return UNTOLD if hides else match[0]

    return NUMBER.sub(one, text)


def _listed(argument: str, names: Any) -> list[str]:
    if isinstance(names, str) or not all(isinstance(name, str) for name in names):
        raise ValueError(f"{argument} = {names!r} is no list of names: write {argument}=[...]")
    return list(names)


def _words(asked_for: str) -> list[str]:
    return [word for word in asked_for.split(BETWEEN) if word]


def _masked(table: dict, back: set[str]) -> dict:
    def masked(cell: dict) -> dict:
        if cell["word"] not in back:
            return cell
        hidden = {"value": None, "text": UNTOLD, "spoken": "not told yet", "alarm": False}
        return cell | hidden | {"explained": False, "secret": True}

    rows = [line | {"cells": [masked(cell) for cell in line["cells"]]} for line in table["rows"]]
    return table | {"rows": rows}


def _veiled_remark(remark: dict, veiled: Any) -> dict:
    if remark["kind"] == "task":  # what is asked for is no answer
        return remark
    texts = {key: veiled(remark[key]) for key in ("text", "advice") if key in remark}
    more = {"more": [veiled(line) for line in remark["more"]]} if "more" in remark else {}
    return remark | texts | more


def _veiled_scene(scene: Scene, veiled: Any) -> Scene:
    def shape_veiled(shape: Shape) -> Shape:
        return replace(shape, text=veiled(shape.text)) if isinstance(shape, (Label, Dimension)) else shape

    return replace(scene, text=veiled(scene.text), shapes=tuple(map(shape_veiled, scene.shapes)))
