"""What follows from the lines of an explorer for who makes one: signature, arguments by name, help."""

from __future__ import annotations

import inspect
from collections.abc import Mapping
from textwrap import fill, indent
from typing import Any

from .controls import Line
from .state import near_word

#: Arguments of every explorer that turns.
TURNING = {
    "driver_speed": ("float", "Signed speed of the driver, counter-clockwise positive, -30 to 30 [rpm]."),
    "playing": ("bool", "Whether it starts turning by itself."),
}
#: Arguments of every explorer that shows a part of a design.
DESIGNED = {
    "design": ("Design", "A design of which it shows a part; its numbers are those of that part."),
    "part": ("str", "The name of the part, the first of its kind if left out."),
}
#: Arguments of every explorer: what a lesson shows of it.
STAGE = {
    "controls": (
        "list of str",
        "The controls that are on the stage, in this order; others one press away.",
    ),
    "readout": (
        "list of str",
        "The numbers on the stage, by their words, in this order; others one press away.",
    ),
    "hidden": ("list of str", "Numbers kept back until the task is done or they are asked for."),
    "behind": ("bool", "Whether the picture is seen from behind at first."),
}
RAISES = """Raises
------
ValueError
    If a value is outside its limits; the message names them."""


def signature(
    lines: Mapping[str, Line], positional: int, speed: float, plays: bool, designed: bool = False
) -> inspect.Signature:
    """The arguments of an explorer."""
    arguments: list[inspect.Parameter] = []
    for name, line in lines.items():
        if line.argument:
            place = len(arguments) < positional
            kind = inspect.Parameter.POSITIONAL_OR_KEYWORD if place else inspect.Parameter.KEYWORD_ONLY
            called = line.argument if isinstance(line.argument, str) else name
            arguments.append(inspect.Parameter(called, kind, default=line.preset))
    turning = {"driver_speed": speed, "playing": plays} if speed else {}
    only = inspect.Parameter.KEYWORD_ONLY
    arguments += [inspect.Parameter(name, only, default=value) for name, value in turning.items()]
    arguments += [inspect.Parameter(name, only, default=None) for name in (DESIGNED if designed else ())]
    arguments += [inspect.Parameter(name, only, default=None) for name in STAGE]
    return inspect.Signature(arguments)


def bound(cls: Any, places: tuple, named: Mapping[str, Any]) -> dict[str, Any]:
    """What was given, by the name of its argument."""
    known = cls.__signature__.parameters
    if len(places) > cls.positional:
        placed, value = " and ".join(list(known)[: cls.positional]), places[cls.positional]
        size = "module" in known and isinstance(value, (int, float))
        raise TypeError(
            f"{cls.__name__} takes {f'only {placed}' if placed else 'nothing'} by place; write {value!r} with"
            f" its name: {f'module={value:g} or diametral_pitch={value:g}' if size else ', '.join(known)}"
        )
    for name in named:
        if name not in known:
            raise TypeError(
                f"{cls.__name__} has no argument {name!r}{near_word(name, known)}"
                f" (it has: {', '.join(known)})"
            )
    return dict(cls.__signature__.bind(*places, **named).arguments)


def help_of(own: str, arguments: inspect.Signature, lines: Mapping[str, Line]) -> str:
    """The help of an explorer: its own words, with every argument and its limits in their place."""
    by_argument = {
        line.argument if isinstance(line.argument, str) else name: line for name, line in lines.items()
    }
    rows = []
    for name, argument in arguments.parameters.items():
        if name in by_argument:
            kind, words = by_argument[name].kind, by_argument[name].told()
        else:
            kind, words = (TURNING | DESIGNED | STAGE)[name]
        left_out = ", optional" if argument.default is None else f", default {argument.default!r}"
        rows += [f"{name} : {kind}{left_out}", indent(fill(words, 100), "    ")]
    parts = ["Parameters\n----------\n" + "\n".join(rows), RAISES] if rows else [RAISES]
    before, examples, after = inspect.cleandoc(own).partition("Examples\n--------")
    return "\n\n".join([before.rstrip(), *parts, examples + after]).rstrip() + "\n"
