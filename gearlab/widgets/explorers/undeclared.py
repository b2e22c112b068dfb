"""What all explorers share: controls as data, a readout whose numbers explain themselves, remarks in words.

A control is a trait of the explorer; the page sets it, Python answers with the new picture, the new
numbers and the remarks in one message. The page may call from a thread of its own, so an answer is
worked out from the traits alone, one at a time.
"""

from __future__ import annotations

import threading
from dataclasses import dataclass, field
from html import escape

from ...drawing import numerals
from ...drawing.scene import Scene
from ...drawing.svg import living_svg
from ..box import SPOKEN
from ..living import Living


@dataclass
class State:
    """What an explorer shows at one setting of its controls."""

    scene: Scene
    heading: str
    readout: list[dict] = field(default_factory=list)
    remarks: list[dict] = field(default_factory=list)
    controls: list[dict] = field(default_factory=list)


class Explorer(Living):
    """A living picture with controls. Subclasses name their ``inputs`` and give a ``State``.

    A setting that cannot be built leaves the last picture, and says in ``warnings`` why.
    """

    inputs: tuple[str, ...] = ()

    def __init__(self, *, playing: bool, driver_speed: float, **controls):
        self._guard = threading.RLock()
        self._inputs_shown = None
        # the controls first (each is checked as it is set), then the state that follows from them
        for name, value in {**controls, "driver_speed": driver_speed}.items():
            setattr(self, name, value)
        state = self._state()
        super().__init__(
            state.scene,
            playing=playing,
            driver_speed=self.driver_speed,
            heading=state.heading,
            readout=state.readout,
            warnings=state.remarks,
            controls=state.controls,
        )
        self._inputs_shown = self._now()
        self.observe(self._changed, names=list(self.inputs))
        self.observe(self._explain, names=["asked"])

    # supplied by the subclasses
    def _state(self) -> State:
        raise NotImplementedError

    def _derivation(self, word: str):
        raise ValueError(f"{word} is not explained here")

    def _tidy(self) -> None:
        """Bring controls into line that depend on another one that has just changed."""

    def _now(self) -> tuple:
        return tuple(getattr(self, name) for name in self.inputs)

    def _changed(self, _change) -> None:
        with self._guard:
            if self._now() == self._inputs_shown:
                self.seen += 1  # there and back before anybody looked
                return
            self._tidy()
            now = self._now()
            if now == self._inputs_shown:
                return
            self._inputs_shown = now
            try:
                state = self._state()
            except ValueError as error:
                with self.hold_sync():
                    self.warnings = [remark("stop", str(error))]
                    self.seen += 1
                return
            with self.hold_sync():
                self.seen += 1
                self.scene = state.scene
                self.picture, self.text = living_svg(state.scene), state.scene.text
                self.heading, self.readout = state.heading, state.readout
                self.warnings, self.controls = state.remarks, state.controls
            if self.asked:
                self._explain(None)

    def _explain(self, _change) -> None:
        with self._guard:
            word = self.asked
            if not word:
                return
            try:
                html = explained(self._derivation(word))
            except ValueError as error:
                html = f"<p>{escape(str(error))}</p>"
            self.explanation = {"word": word, "html": html}

    def __repr__(self) -> str:
        return f"{type(self).__name__}({self._named()})"

    def _named(self) -> str:
        return self.scene.title


def explained(derivation) -> str:
    """A derivation as the page shows it: MathML with sentences and sources; for a given, that it was set."""
    if not derivation.steps:
        return "<p>This number is not worked out: it is what you set.</p>"
    lines = derivation.lines("mathml")
    answer = ""
    if len(lines) > 4:  # a long way: where it leads stands first
        answer = f"<p>{escape(lines[-1].sentence)} {lines[-1].math}</p><p>Step by step:</p>"
    return answer + derivation.mathml()


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


def row(label: str, *cells: dict) -> dict:
    """A row of a readout; two cells stand under driver and driven."""
    return {"label": label, "cells": list(cells)}


def group(title: str, rows: list[dict], columns: tuple[str, ...] = ()) -> dict:
    """A table of a readout."""
    return {"title": title, "columns": list(columns), "rows": rows}


def remark(kind: str, text: str) -> dict:
    """A remark under the picture: "task", "note", "warning", "stop" or "good"."""
    return {"kind": kind, "text": text}


def whole(
    name: str, label: str, low: int, high: int, *, page: int = 10, of: str = "", spoken: str = ""
) -> dict:
    """A control for a whole number."""
    return {
        "kind": "number",
        "name": name,
        "label": label,
        "low": low,
        "high": high,
        "step": 1,
        "page": page,
        "places": 0,
        "of": of,
        "spoken": spoken,
        "unit": "",
        "fine": False,
    }


def measure(
    name: str,
    label: str,
    low: float,
    high: float,
    step: float,
    *,
    page: float,
    places: int,
    unit: str,
    spoken: str = "",
    of: str = "",
    home: float | None = None,
) -> dict:
    """A control for a number with a unit; Shift with an arrow key is a tenth of a step."""
    spec = {
        "kind": "number",
        "name": name,
        "label": label,
        "low": low,
        "high": high,
        "step": step,
        "page": page,
        "places": places,
        "of": of,
        "spoken": spoken,
        "unit": unit,
        "fine": True,
    }
    return spec if home is None else spec | {"home": home}


def limited(name: str, label: str, limits: tuple, unit: str, home: float | None = None) -> dict:
    """A control for a number by its limits: lowest, highest, step, page, places."""
    low, high, step, page, places = limits
    return measure(
        name, label, low, high, step, page=page, places=places, unit=unit, spoken=SPOKEN[unit], home=home
    )


def choice(name: str, label: str, options: list[tuple]) -> dict:
    """A control for one of a list: (value, words)."""
    return {"kind": "choice", "name": name, "label": label, "options": [list(option) for option in options]}


def switch(name: str, label: str) -> dict:
    """A control that is on or off."""
    return {"kind": "switch", "name": name, "label": label}


#: Limits of the controls for the size of teeth.
SIZES = {"module": (0.5, 10.0, "mm"), "diametral_pitch": (2.0, 64.0, "1/in")}


def size_control(unit: str) -> dict:
    """The control for the size of the teeth, by module [mm] or diametral pitch [1/in]."""
    if unit == "mm":
        return measure(
            "module",
            "Module",
            *SIZES["module"][:2],
            0.25,
            page=1.0,
            places=2,
            unit="mm",
            spoken="millimetres",
        )
    return measure(
        "diametral_pitch",
        "Diametral pitch P",
        *SIZES["diametral_pitch"][:2],
        1.0,
        page=4.0,
        places=0,
        unit="per in",
        spoken="teeth per inch",
    )


def within(name: str, value, low: float, high: float, unit: str = "") -> None:
    """Refuse a value outside its control's limits."""
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not low <= value <= high:
        raise ValueError(
            f"{name} = {value!r} is out of range: give a number from {numerals.plain(low)} to"
            f" {numerals.plain(high)}{' ' + unit if unit else ''}"
        )


def one_of(name: str, value, options) -> None:
    """Refuse a value that is not on the control's list."""
    if value not in options:
        raise ValueError(f"{name} = {value!r} is not known: choose from {', '.join(map(str, options))}")


def sizes(module, diametral_pitch, default: float = 2.5) -> tuple[str, float, float]:
    """Which size of tooth was given.

    Unit, module [mm], diametral pitch [1/in]; the other keeps a usual value.
    """
    if module is not None and diametral_pitch is not None:
        raise ValueError(
            f"both module = {module!r} [mm] and diametral_pitch = {diametral_pitch!r} [1/in] were given: give"
            " one of them"
        )
    if diametral_pitch is not None:
        within("diametral_pitch", diametral_pitch, *SIZES["diametral_pitch"])
        return "in", default, float(diametral_pitch)
    module = default if module is None else module
    within("module", module, *SIZES["module"])
    return "mm", float(module), 10.0


def tooth_size(module, diametral_pitch) -> tuple[str, dict[str, float]]:
    """As ``sizes``, for an explorer whose teeth keep their size.

    The unit, and the argument that makes gears of it.
    """
    unit, module, diametral_pitch = sizes(module, diametral_pitch)
    return unit, {"module": module} if unit == "mm" else {"diametral_pitch": diametral_pitch}


def or_usual(usual: dict[str, float], **given: float | None) -> dict[str, float]:
    """What was given, and the usual number for what was left out."""
    return {name: usual[name] if value is None else value for name, value in given.items()}
