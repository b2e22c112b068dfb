"""The lines that an explorer is declared by: each is a trait that knows its limits, its words and its help.

What is ``fixed`` is an argument only; anything else is a control as well, which the reader handles. Limits
may differ by unit, or follow from what the explorer was made with and from its other controls.
"""

from __future__ import annotations

import math
import threading
from collections.abc import Callable, Iterable, Mapping
from typing import Any, NamedTuple, Protocol

import traitlets

from ...drawing import numerals
from ...theory.units import SPOKEN
from .state import Inputs, near_word, one_of, within

#: How a unit stands beside a control, and how it is spoken, where that is not its usual way.
SHOWN = {"deg": "°", "degrees": "°", "1/in": "per in", "teeth": "", "turns per turn": ""}
FORCES = {"mm": "N", "in": "lbf"}
WORDS = {"degrees": "degrees", "teeth": "teeth", "turns per turn": "turns per turn", "modules": ""} | SPOKEN
SIDES = ("", "driver", "driven")


class Scale(NamedTuple):
    """The range of a number: usual value, limits, step and page of the keys, places, and where Home goes."""

    usual: float
    low: float
    high: float
    step: float = 1.0
    page: float = 10.0
    places: int = 0
    home: float | None = None


def widened(scale: Scale, value: Any) -> Scale:
    """A range in which a value lies, with room about one that it did not hold.

    >>> widened(Scale(40.0, 20.0, 80.0, 5.0), 95)[:3], widened(Scale(0.0, 0.0, 0.5, 0.1), 0.2)[2]
    ((40.0, 20.0, 145.0), 0.5)
    """
    if value is None or scale.low <= value <= scale.high:
        return scale
    if value > scale.high:
        return scale._replace(
            high=round(scale.step * math.ceil((1.5 if value > 0 else 0.5) * value / scale.step), 6)
        )
    low = round(scale.step * math.floor((0.5 if value > 0 else 1.5) * value / scale.step), 6)
    return scale._replace(low=low or value)


class Maker(Protocol):
    """What a line asks of its explorer."""

    first: Inputs

    def unit_of(self, inputs: Inputs) -> str: ...
    def now(self) -> Inputs: ...


class Line:
    """What all lines of an explorer share."""

    name: str | None
    default_value: Any
    preset: Any  # what the signature shows
    kind = "any"  # in the help

    def _line(
        self,
        label: str,
        *,
        about: str = "",
        argument: str | bool = True,
        fixed: bool = False,
        shown: bool = True,
        when: Callable[[Any, Inputs], bool] | None = None,
        called: str = "",
    ):
        self.label, self.about, self.fixed = label, about or label, fixed
        self.shown, self.when = shown, when
        self.argument, self.called = argument, called
        self.tag(sync=not fixed, echo_update=False)  # type: ignore[attr-defined]

    def usual(self, maker: Maker, inputs: Inputs) -> Any:
        """Its value where none is given."""
        return self.preset

    def spec(self, maker: Maker, inputs: Inputs) -> dict | None:
        """Its control as the page is told of it; none while it is not shown."""
        hidden = not self.shown or (self.when and not self.when(maker, inputs))
        return None if hidden else self._spec(maker, inputs)

    def _spec(self, maker: Maker, inputs: Inputs) -> dict | None:
        return None

    def next(self, maker: Maker, inputs: Inputs) -> Any:
        """A setting beside that of these inputs."""
        return getattr(inputs, str(self.name))

    def told(self) -> str:
        """A sentence of the help."""
        return f"{self.about}."

    def _checks(self, maker: Any) -> bool:
        """Whether a value set now is to be checked: not while a state that was worked out is being shown."""
        if self.fixed and getattr(maker, "shown", None) is not None:
            name = type(maker).__name__
            raise ValueError(f"{self.name} of a {name} is fixed when it is made: make another {name}")
        return getattr(maker, "settling", 0) != threading.get_ident()


class Given(Line, traitlets.Any):
    """An argument that is checked by the part that is made of it; ``told`` says its limits."""

    def __init__(self, default: Any, about: str, kind: str, argument: str | bool = True):
        super().__init__(default)
        self.preset, self.kind = default, kind
        self._line("", about=about, fixed=True, argument=argument)

    def validate(self, obj: Any, value: Any) -> Any:
        self._checks(obj)
        return value


class _Number(Line):
    scale: Scale | Mapping[str, Scale] | Callable[[Any, Inputs], Scale]
    fine = True

    def _number(
        self, scale, unit: str, *, of="", spoken: str | None = None, free=False, home=None, page=None
    ):
        if unit not in WORDS and unit not in ("", "length", "force"):
            raise ValueError(f"unit {unit!r} is not known{near_word(unit, WORDS)}")
        if of not in SIDES:
            raise ValueError(f"of = {of!r} is no gear{near_word(of, SIDES)}")
        self.scale, self.unit, self.of, self.spoken = scale, unit, of, spoken
        self.free, self.home, self.page = free, home, page
        self.preset = self._usual(scale.usual) if isinstance(scale, Scale) else None

    def _usual(self, value: float) -> Any:
        return float(value)

    def scale_for(self, maker: Maker, inputs: Inputs | None = None) -> Scale:
        """Its range as things stand; one that is always the same is wide enough for a design's own number."""
        scale = self.scale
        if not isinstance(scale, Scale):
            inputs = maker.now() if inputs is None else inputs
            if callable(scale):
                return scale(maker, inputs)
            scale = scale[maker.unit_of(inputs)]
        return widened(scale, getattr(maker, "_of_design", {}).get(str(self.name)))

    def usual(self, maker: Maker, inputs: Inputs) -> Any:
        return self._usual(self.scale_for(maker, inputs).usual)

    def _unit(self, maker: Maker, inputs: Inputs) -> str:
        if self.unit in ("length", "force"):
            unit = maker.unit_of(inputs)
            return unit if self.unit == "length" else FORCES[unit]
        return self.unit

    def _check(self, maker: Any, value: Any) -> None:
        if self._checks(maker) and not self.free:
            inputs = maker.now()
            scale, unit = self.scale_for(maker, inputs), self._unit(maker, inputs)
            within(self.called or str(self.name), value, scale.low, scale.high, unit)

    def _spec(self, maker: Maker, inputs: Inputs) -> dict | None:
        scale, unit = self.scale_for(maker, inputs), self._unit(maker, inputs)
        spec = {
            "kind": "number",
            "name": self.name,
            "label": self.label,
            "low": scale.low,
            "high": scale.high,
            "step": scale.step,
            "page": self.page(inputs) if callable(self.page) else scale.page,
            "places": scale.places,
            "of": self.of,
            "spoken": WORDS.get(unit, "") if self.spoken is None else self.spoken,
            "unit": SHOWN.get(unit, unit),
            "fine": self.fine,
        }
        home = getattr(maker.first, str(self.name)) if self.home == "first" else scale.home
        return spec if home is None else spec | {"home": home}

    def next(self, maker: Maker, inputs: Inputs) -> Any:
        scale, value = self.scale_for(maker, inputs), getattr(inputs, str(self.name))
        value += scale.step if value + scale.step <= scale.high else -scale.step
        return round(value, 6)

    def told(self) -> str:
        unit = self.unit
        if isinstance(self.scale, Scale):
            return f"{self.about}, {_span(self.scale)}{f' [{unit}]' if unit not in ('', 'teeth') else ''}."
        by_unit = FORCES if unit == "force" else {"mm": "mm", "in": "in"}
        if callable(self.scale):
            return f"{self.about} [{' or '.join(by_unit.values())}]."
        spans, usual = (
            " or ".join(f"{write(self.scale[system])} {words}" for system, words in by_unit.items())
            for write in (_span, lambda scale: numerals.plain(scale.usual))
        )
        left_out = f"; {usual} if left out" if self.preset is None else ""
        return f"{self.about}, {spans}{left_out}."


class Whole(_Number, traitlets.Int):
    """A whole number between limits."""

    kind, fine = "int", False

    def __init__(
        self,
        usual: int,
        low: int,
        high: int,
        label: str = "",
        *,
        page: int = 10,
        unit: str = "teeth",
        of: str = "",
        spoken: str | None = None,
        **line: Any,
    ):
        super().__init__(usual)
        self._number(Scale(usual, low, high, 1, page), unit, of=of, spoken=spoken)
        self._line(label, **line)

    def _usual(self, value: float) -> int:
        return int(value)

    def validate(self, obj: Any, value: Any) -> int:
        self._check(obj, value)
        if not isinstance(value, int):
            raise ValueError(f"{self.name} = {value!r} is no whole number: give a whole number")
        return value


class WholeWithin(Whole):
    """A whole number whose limits follow from what the explorer was made with."""

    def __init__(self, scale: Callable[[Any, Inputs], Scale], label: str = "", **line: Any):
        super().__init__(0, 0, 0, label, **line)
        self.scale, self.preset = scale, None


class Measure(_Number, traitlets.Float):
    """A number with a unit between limits; Shift with an arrow key is a tenth of a step."""

    kind = "float"

    def __init__(
        self,
        usual: float,
        low: float,
        high: float,
        label: str = "",
        *,
        unit: str,
        step: float = 1.0,
        page: float | Callable[[Inputs], float] = 10.0,
        places: int = 0,
        home: float | str | None = None,
        of: str = "",
        spoken: str | None = None,
        free: bool = False,
        **line: Any,
    ):
        super().__init__(float(usual))
        scale = Scale(
            usual,
            low,
            high,
            step,
            step if callable(page) else page,
            places,
            None if isinstance(home, str) else home,
        )
        self._number(scale, unit, of=of, spoken=spoken, free=free, home=home, page=page)
        self._line(label, **line)

    def validate(self, obj: Any, value: Any) -> float:
        if isinstance(value, int) and not isinstance(value, bool) and not self.fixed:
            value = float(value)
        self._check(obj, value)
        return float(value)


class Length(Measure):
    """A measure whose range differs by unit, or follows from what the explorer was made with."""

    def __init__(
        self,
        label: str = "",
        scale: Callable[[Any, Inputs], Scale] | None = None,
        *,
        mm: Scale | None = None,
        inch: Scale | None = None,
        unit: str = "length",
        **line: Any,
    ):
        super().__init__(0.0, 0.0, 0.0, label, unit=unit, **line)
        self.scale = {"mm": mm, "in": inch} if mm and inch else scale  # type: ignore[assignment]
        self.preset = mm.usual if mm and inch and mm.usual == inch.usual else None


class Choice(Line, traitlets.Any):
    """One of a list, value by words; a list of values alone is said as it is."""

    def __init__(
        self,
        usual: Any,
        options: Mapping[Any, str] | Iterable | Callable[[Any, Inputs], Mapping[Any, str]],
        label: str = "",
        *,
        unit: str = "",
        first: Callable[[Any, Inputs], Any] | None = None,
        kind: str = "",
        words: Callable[[Any, Inputs], Mapping[Any, str]] | None = None,
        **line: Any,
    ):
        super().__init__(usual)
        self.preset, self.unit, self.first, self.words = usual, unit, first, words
        self.options = options if callable(options) or isinstance(options, Mapping) else _said(options)
        self.kind = kind or type(usual).__name__
        self._line(label, **line)

    def usual(self, maker: Maker, inputs: Inputs) -> Any:
        return self.first(maker, inputs) if self.first else self.preset

    def options_for(self, maker: Maker, inputs: Inputs | None = None) -> Mapping[Any, str]:
        """What there is to choose from as things stand."""
        if not callable(self.options):
            return self.options
        return self.options(maker, maker.now() if inputs is None else inputs)

    def validate(self, obj: Any, value: Any) -> Any:
        if not self._checks(obj):
            return value
        options = list(self.options_for(obj))
        one_of(self.called or str(self.name), value, options, self.unit)
        return options[options.index(value)]  # 20.0 for 20

    def _spec(self, maker: Maker, inputs: Inputs) -> dict | None:
        known = self.words(maker, inputs) if self.words else self.options_for(maker, inputs)
        options = [list(option) for option in known.items()]
        return {"kind": "choice", "name": self.name, "label": self.label, "options": options}

    def next(self, maker: Maker, inputs: Inputs) -> Any:
        options = list(self.options_for(maker, inputs))
        return options[(options.index(getattr(inputs, str(self.name))) + 1) % len(options)]

    def told(self) -> str:
        if callable(self.options):
            return f"{self.about}."
        options = [numerals.plain(o) if isinstance(o, float) else repr(o) for o in self.options]
        listed = f"{', '.join(options[:-1])} or {options[-1]}"
        return f"{self.about}: {listed}{f' [{self.unit}]' if self.unit else ''}."


class Open(Choice):
    """A list from which other values may be given too; the part that is made of them checks them."""

    def validate(self, obj: Any, value: Any) -> Any:
        self._checks(obj)
        return float(value) if isinstance(value, int) and not isinstance(value, bool) else value


class Switch(Line, traitlets.Bool):
    """On or off."""

    kind = "bool"

    def __init__(self, usual: bool = False, label: str = "", **line: Any):
        super().__init__(usual)
        self.preset = usual
        self._line(label, **line)

    def validate(self, obj: Any, value: Any) -> bool:
        self._checks(obj)
        return bool(super().validate(obj, value))

    def _spec(self, maker: Maker, inputs: Inputs) -> dict | None:
        return {"kind": "switch", "name": self.name, "label": self.label}

    def next(self, maker: Maker, inputs: Inputs) -> Any:
        return not getattr(inputs, str(self.name))


#: The size of teeth, by module or by diametral pitch.
MODULE = Scale(2.5, 0.5, 10.0, 0.25, 1.0, 2)
DIAMETRAL_PITCH = Scale(10.0, 2.0, 64.0, 1.0, 4.0, 0)


class ToothSize(Measure):
    """The module or the diametral pitch; the page shows the one in use."""

    def __init__(self, by: str, scale: Scale, unit: str, label: str, about: str, fixed: bool):
        words = "teeth per inch" if unit == "1/in" else None
        super().__init__(*scale[:3], label, unit=unit, spoken=words, about=about, fixed=fixed)
        self.scale, self.preset, self.by = scale, None, by

    def spec(self, maker: Maker, inputs: Inputs) -> dict | None:
        return self._spec(maker, inputs) if maker.unit_of(inputs) == self.by else None

    def told(self) -> str:
        return f"{self.about}."


def tooth_size(control: bool = False) -> tuple[Any, Any]:
    """The lines of an explorer for module and diametral pitch, fixed or a control."""
    metric = f"Size of the teeth, {_span(MODULE)}; {MODULE.usual} if neither is given [mm]"
    inch = (
        f"In place of the module, teeth in an inch of pitch diameter, {_span(DIAMETRAL_PITCH)}; then lengths"
        " are inches [1/in]"
    )
    return (
        ToothSize("mm", MODULE, "mm", "Module", metric, not control),
        ToothSize("in", DIAMETRAL_PITCH, "1/in", "Diametral pitch P", inch, not control),
    )


def shafts_apart(step: float) -> Measure:
    """How much further apart the shafts are than where the pitch circles touch [modules]."""
    about = "How much further apart the shafts are than where the pitch circles touch"
    label = "Shafts further apart by"
    return Measure(0.0, 0.0, 0.5, label, unit="modules", step=step, page=0.1, places=2, home=0.0, about=about)


def angles(*options: float) -> dict[float, str]:
    """Options of a choice, as angles [deg]."""
    return {angle: f"{numerals.plain(angle)}°" for angle in options}


def _said(options: Iterable) -> dict[Any, str]:
    return {option: str(option) for option in options}


def _span(scale: Scale) -> str:
    return f"{numerals.plain(scale.low)} to {numerals.plain(scale.high)}"


def sizes(module: float | None, diametral_pitch: float | None) -> tuple[str, float, float]:
    """Which size of tooth was given.

    Unit, module [mm], diametral pitch [1/in]; the other keeps a usual value.
    """
    if module is not None and diametral_pitch is not None:
        raise ValueError(
            f"both module = {module!r} [mm] and diametral_pitch = {diametral_pitch!r} [1/in] were given: give"
            " one of them"
        )
    if diametral_pitch is not None:
        within("diametral_pitch", diametral_pitch, *DIAMETRAL_PITCH[1:3])
        return "in", MODULE.usual, float(diametral_pitch)
    module = MODULE.usual if module is None else module
    within("module", module, *MODULE[1:3], "mm")
    return "mm", float(module), DIAMETRAL_PITCH.usual
