"""What is refused of a class of explorers and of its states, by name and with the near word."""

from __future__ import annotations

import dis
from types import CodeType
from typing import Any

from ...drawing.scene import Scene
from ...theory.quantities import QUANTITIES
from .inputs import Inputs, near_word
from .readout import cells_of, check_readout, shape_of
from .state import State


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
