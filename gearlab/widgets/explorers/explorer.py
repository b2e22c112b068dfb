"""What all explorers share: declared controls, pure states, numbers that explain themselves.

An explorer is declared by lines (``controls``): each is an argument and, unless it is fixed, a control. The
arguments of the class, their checks, the page's panel and the help follow from the lines. What is shown is
a ``State``, a pure function of the inputs: it can be worked out ahead, in any order, by any thread, and kept.
"""

from __future__ import annotations

import inspect
import threading
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import lru_cache
from html import escape
from types import MappingProxyType
from typing import Any, ClassVar

from ...drawing.svg import living_svg
from ...parts import Gear, Mesh
from ...parts.design import Design
from ...theory.derivation import Derivation, explain
from ...theory.quantities import NOTATION
from ...theory.scope import Scope
from ..ahead import Ahead
from . import manual
from .controls import Line, ToothSize, sizes
from .part import Part, as_cut, standing, used
from .stage import Staged
from .state import Inputs, cells_of, check_class, check_state, check_words, near_word, stop
from .state import State as State

WARM = 0.25  # for working out first touches once the picture is alive [s]


@lru_cache(maxsize=128)
def cut(teeth: int, **shape: Any) -> Gear:
    """A gear, worked out once: the one that did not change keeps its numbers and its teeth."""
    return Gear(teeth, **shape)


class Explorer(Staged):
    """A living picture with controls. A subclass declares its lines and gives ``state(inputs)``.

    A setting that cannot be built leaves the last picture, and says in ``warnings`` why.
    """

    speed: ClassVar[float] = 0.0  # of the driver at first [rpm]; a still picture has none
    plays: ClassVar[bool] = False  # whether it turns by itself at first
    positional: ClassVar[int] = 0  # how many arguments may be given by their place
    broad: ClassVar[bool] = False  # whether the readout stands under the picture
    judged: ClassVar[bool] = False  # whether the remarks are a panel beside the controls
    counting: ClassVar[bool] = False  # whether it says turns instead of degrees
    words: ClassVar[
        tuple[str, ...]
    ] = ()  # of the readout that theory does not know; "error of *" for several
    panelled: ClassVar[tuple[str, ...]] = ()  # the controls in the order of the panel, if it is not theirs
    part_of_design: ClassVar[Part | None] = None  # what it takes from a design, and gives back
    first: Inputs  # as it was made
    __signature__: ClassVar[inspect.Signature]

    ahead: Ahead
    part = ""  # the member of the design that is shown
    _design: Design | None = None
    _stood: Inputs  # the inputs at which the design stands
    _of_design: Mapping[str, Any] = MappingProxyType({})  # what was taken from it, by line
    _cut_as: Mapping[str, dict[str, Any]] = MappingProxyType({})  # what its gears are beside count and size
    _opening = 0.0  # of its shafts, beyond where the pitch circles touch [in or mm]
    settling = 0  # the thread that brings the controls to where a state has them
    _settled = Inputs()  # the inputs that were answered last

    def __init_subclass__(cls, **options: Any):
        super().__init_subclass__(**options)
        own = {name: line for name, line in vars(cls).items() if isinstance(line, Line)}
        cls.declared = cls.declared | own
        controls = [name for name, line in cls.declared.items() if not line.fixed]
        asked = ("asked_for",) if cls.secrets else ()
        cls.inputs = (*controls, *(("driver_speed",) if cls.speed else ()), *asked)
        check_class(cls, Explorer)
        designed = cls.part_of_design is not None
        cls.__signature__ = manual.signature(cls.declared, cls.positional, cls.speed, cls.plays, designed)
        cls.__doc__ = manual.help_of(cls.__doc__ or "", cls.__signature__, cls.declared)

    def __init__(self, *places: Any, **named: Any):
        self._guard = threading.RLock()
        self._beside_design: dict[str, Any] = {}  # of the design, where something else was given
        given = self._taken(manual.bound(type(self), places, named))
        try:
            self._make(given)
        except ValueError as error:
            if self._design is None:
                raise
            raise ValueError(
                f"{type(self).__name__} cannot show {self.part!r} of the design: {error}"
            ) from None
        self.ahead = Ahead(self)
        self.observe(self._changed, names=list(self.inputs))
        self.observe(self._explain, names=["asked"])

    def _make(self, given: dict[str, Any]) -> None:
        self._stand_at(Inputs(**{name: line.default_value for name, line in self.declared.items()}))
        self._set_stage(given)
        behind = bool(given.pop("behind", None))
        playing, speed = given.pop("playing", self.plays), given.pop("driver_speed", self.speed)
        self.length_unit = "mm"
        if any(isinstance(line, ToothSize) for line in self.declared.values()):
            self.length_unit, module, pitch = sizes(given.get("module"), given.get("diametral_pitch"))
            given |= {"module": module, "diametral_pitch": pitch}
        self._set(given, fixed=True)
        self.prepare()
        self._set(given, fixed=False)
        self.driver_speed = speed
        self._settled = self.now()
        inputs = self.tidied(self._settled, None)
        self._stand_at(inputs)
        self.first = inputs
        self._stood = inputs.but(**self._beside_design)
        state = self.state(inputs)
        check_state(type(self), state)
        self._check_stage(state)
        if self.remembering(state) != inputs:
            self._stand_at(self.remembering(state))
            state = self.state(self.remembering(state))
        first = self._beside(state) | {"playing": playing, "wide": self.broad, "counts": self.counting}
        first["behind"] = behind
        first["reviewed"] = self.judged
        first["designed"] = self.of_a_design
        super().__init__(self.as_shown(state).scene, driver_speed=self.driver_speed, **first)
        self.shown = state

    def _taken(self, given: dict[str, Any]) -> dict[str, Any]:
        """The arguments, with those that a design gives; a control that is given beside it stands."""
        if self.part_of_design is None:
            return given
        design, name = given.pop("design", None), given.pop("part", None)
        if design is None:
            if name is not None:
                raise ValueError(f"part = {name!r} is that of a design: give design=..., too")
            return given
        if not isinstance(design, Design):
            raise ValueError(  # noqa: TRY004 (every explorer refuses what it is given in this way)
                f"design is {design!r}: give a Design, such as read_design(...) returns"
            )
        self.part, taken = self.part_of_design.taken(design, name)
        self._design = design
        if self.part_of_design.kind == "mesh":
            self._cut_as, self._opening = standing(design, self.part)
        elif self.part_of_design.kind == "gear":
            self._cut_as = {"teeth": as_cut(design, self.part)}
        names = {
            line.argument if isinstance(line.argument, str) else name: name
            for name, line in self.declared.items()
        }
        self._of_design = {names.get(word, word): value for word, value in taken.items() if value is not None}
        for word, value in given.items():
            own = names.get(word, word)
            if value is None or own not in self._of_design or self._of_design[own] == value:
                continue
            if own in self.declared and self.declared[own].fixed:
                raise ValueError(
                    f"{word} = {value!r} is given beside a design, of which it is {self._of_design[own]!r};"
                    " change it there: design.with_(...)"
                )
            self._beside_design[own] = self._of_design[own]
        return {**taken, **given}

    @property
    def of_a_design(self) -> bool:
        """Whether it shows a part of a design, and gives it back."""
        return self._design is not None

    @property
    def design(self) -> Design:
        """The design as it was given, or with the numbers that were used in it last (``use``)."""
        if self._design is None:
            raise ValueError(f"{type(self).__name__} was made without a design: give design=...")
        return self._design

    def use(self) -> Design:
        """Put the numbers that are shown into the design, and return it; as the button of the page does.

        ValueError where the design cannot take them; it stays as it was.
        """
        before = self.design
        assert self.part_of_design is not None
        edits = self.part_of_design.edits(self.shown.inputs, self._stood, before, self.part)
        after = before.with_(**edits) if edits else before
        other = any(  # what was asked for changes no number
            self._stood.settings()[name] != value
            for name, value in self.shown.inputs.settings().items()
            if name != "asked_for"
        )
        self.used = used(before, after, edits, other)
        self._design, self._stood = after, self.shown.inputs
        return self._design

    def _use(self) -> None:
        try:
            self.use()
        except ValueError as error:
            self.used = f"Your design cannot take these numbers: {error}"

    def __setattr__(self, name: str, value: Any) -> None:
        # a control is set by its name: one that does not exist would change nothing and say nothing
        if self.shown is not None and not name.startswith("_") and not hasattr(self, name):
            known = (*self.declared, "driver_speed", "playing", "angle", "asked", "behind", "asked_for")
            raise AttributeError(
                f"{type(self).__name__} has no control {name!r}{near_word(name, known)}"
                f" (it has: {', '.join(self.inputs)})"
            )
        super().__setattr__(name, value)

    def _set(self, given: dict[str, Any], fixed: bool) -> None:
        # the size of the teeth first: limits of others may follow from it
        for name, line in sorted(self.declared.items(), key=lambda item: not isinstance(item[1], ToothSize)):
            if line.fixed == fixed:
                key = line.argument if isinstance(line.argument, str) else name
                value = given.get(key)
                setattr(self, name, line.usual(self, self.now()) if value is None else value)

    # supplied by the subclasses
    def prepare(self) -> None:
        """Make, from what is fixed, what every state needs: here alone an explorer keeps something."""

    def state(self, inputs: Inputs) -> State:
        """What is shown for these inputs: worked out from them and what is fixed, written nowhere.

        Raises ValueError if they cannot be built.
        """
        raise NotImplementedError

    def tidied(self, inputs: Inputs, before: Inputs | None) -> Inputs:
        """The inputs with those in line that depend on one that was changed; before is None at first."""
        return inputs

    def following(self, wished: Inputs, before: Inputs) -> Inputs:
        """The inputs that follow a change: tidied, and with what they tell remembered as asked for."""
        inputs = self.tidied(wished, before)
        return self.remembering(self.ahead.worked_out(inputs).state) if self._secrets else inputs

    def unit_of(self, inputs: Inputs) -> str:
        """Unit of lengths, "mm" or "in"."""
        return self.length_unit

    def reason(self, word: str, state: State) -> Derivation:
        """How the number of a word is worked out in a state."""
        if state.subject is None:
            raise ValueError(f"{word} is not explained here")
        return state.subject.explain(word, **self.extra(word, state))

    def extra(self, word: str, state: State) -> dict[str, Any]:
        """Givens of a reason beside those of the thing."""
        return {}

    # what follows from the lines
    def now(self) -> Inputs:
        """The settings of the controls at this moment."""
        return Inputs(**{name: getattr(self, name) for name in self.inputs})

    def size_of(self, inputs: Inputs) -> dict[str, Any]:
        """The size of the teeth, as the argument that makes gears of it."""
        name = "module" if self.unit_of(inputs) == "mm" else "diametral_pitch"
        return {name: getattr(inputs if name in self.inputs else self, name)}

    def scale_of(self, inputs: Inputs) -> float:
        """The size of the teeth: the module, or one over the diametral pitch [mm or in]."""
        ((name, size),) = self.size_of(inputs).items()
        return size if name == "module" else 1 / size

    def pair_of(self, inputs: Inputs, apart: float | None = None, **shape: Any) -> Mesh:
        """Its driver and its driven gear in mesh, cut as those of its design.

        apart: how much further apart than where the pitch circles touch; as those of its design if left out
            [in or mm].
        shape: what both gears are beside counts and size, such as ``pressure_angle``.
        """
        apart = self._opening if apart is None else apart
        driver, driven = (
            cut(
                getattr(inputs if name in self.inputs else self, name),
                **self.size_of(inputs),
                **{**self._cut_as.get(name, {}), **shape},
            )
            for name in ("driver_teeth", "driven_teeth")
        )
        mesh = Mesh(driver, driven)
        set_apart = apart or driver.profile_shift or driven.profile_shift
        return Mesh(driver, driven, mesh.reference_centre_distance + apart) if set_apart else mesh

    def panel(self, inputs: Inputs) -> list[dict]:
        """The controls as the page shows them."""
        lines = [self.declared[name] for name in self.panelled or self.declared]
        specs = (line.spec(self, inputs) for line in lines if not line.fixed)
        return [spec for spec in specs if spec]

    def drawn(self, state: State) -> dict[str, Any]:
        """The traits that the page draws of a state, as plain data."""
        beside, scene = self._beside(state), self.as_shown(state).scene
        return {"picture": living_svg(scene), "text": scene.text} | beside

    def _beside(self, state: State) -> dict[str, Any]:
        check_state(type(self), state)
        check_words(type(self), state.readout)
        told = self.as_shown(state)
        return {
            "heading": state.heading,
            "readout": self.rows_on_stage(told.readout),
            "warnings": told.remarks,
            "controls": self.specs_on_stage(self.panel(state.inputs)),
        }

    def show_state(self, state: State, drawn: dict[str, Any] | None = None) -> None:
        """Show a state that was worked out: the controls stand at its inputs, all in one message."""
        with self._guard, self.ahead.answering():
            self._stand_at(state.inputs)
            self.shown, self.scene = state, self.as_shown(state).scene
            for name, value in (drawn or self.drawn(state)).items():
                setattr(self, name, value)
            self._explain(None)

    def _stand_at(self, inputs: Inputs) -> None:
        """Bring the controls that differ to these inputs, without answering to it.

        What a cell has set meanwhile stays, and is answered next.
        """
        before = self._settled.settings()
        self._settled, self.settling = inputs, threading.get_ident()
        try:
            for name, value in inputs.settings().items():
                if before.get(name) != value:
                    setattr(self, name, value)
        finally:
            self.settling = 0

    def _changed(self, _change: Any) -> None:
        with self._guard:
            if self.settling:
                return
            wished, before = self.now(), self._settled
            with self.ahead.answering():
                self.seen += 1
                if wished == before:
                    return  # there and back before anybody looked
                self._settled = wished
                try:
                    inputs = self.following(wished, before)
                    if inputs == before:
                        self._stand_at(inputs)
                    else:
                        kept = self.ahead.worked_out(inputs)
                        self.ahead.showing(kept)
                        self.show_state(kept.state, kept.drawn)
                except ValueError as error:
                    self.warnings = [stop(str(error))]

    def explain(self, word: str) -> Derivation:
        """How a number of the readout is worked out, by its word."""
        return self.reason(word, self.shown)

    def _explain(self, _change: Any) -> None:
        with self._guard:
            if not self.asked or self.asked in self.kept_back(self.shown):
                return
            try:
                html = explained(self.explain(self.asked))
            except ValueError as error:
                html = f"<p>{escape(str(error))}</p>"
            self.explanation = {"word": self.asked, "html": html}

    def _warm(self) -> None:
        """Work out what the first touch of each control will ask for, as far as the time allows."""
        start, now = time.perf_counter(), self.now()
        for wanted in self._nearby(now):
            if time.perf_counter() - start > WARM:
                return
            with suppress(ValueError):
                self.state(wanted())

    def _nearby(self, now: Inputs) -> Iterator[Callable[[], Inputs]]:
        """The settings a step away, by each control; those on the stage first."""
        controls = [name for name, line in self.declared.items() if not line.fixed]
        for name in dict.fromkeys([*(self._controls_staged or ()), *controls]):
            yield lambda name=name: self.tidied(  # type: ignore[misc]
                now.but(**{name: self.declared[name].next(self, now)}), now
            )

    def _met_nearby(self, state: State) -> Iterator[str]:
        for wanted in self._nearby(state.inputs):
            with suppress(ValueError):
                yield from (cell["word"] for cell in cells_of(self.state(wanted()).readout))

    def __repr__(self) -> str:
        return f"{type(self).__name__}({self._named()})"

    def _named(self) -> str:
        return self.scene.title


@dataclass(frozen=True)
class Explained:
    """Numbers that follow from givens in a scope of theory, and their reasons."""

    scope: Scope
    givens: dict[str, float]

    def explain(self, word: str, **extra: float) -> Derivation:
        return explain(self.scope, self.givens | extra, word, NOTATION[self.scope.length_unit])


def explained(derivation: Derivation) -> str:
    """A derivation as the page shows it: MathML with sentences and sources; for a given, that it was set."""
    if not derivation.steps:
        return "<p>This number is not worked out: it is what you set.</p>"
    lines = derivation.lines("mathml")
    answer = ""
    if len(lines) > 4:  # a long way: where it leads stands first
        answer = f"<p>{escape(lines[-1].sentence)} {lines[-1].math}</p><p>Step by step:</p>"
    return answer + derivation.mathml()
