"""Tab completes words of gearlab inside the quotes of a call, such as ``derive("cen``.

A function offers its words here; nothing of IPython is loaded, and nothing happens outside of it.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterable
from typing import Any

#: What a function offers for the text in its quotes: it gets what stands before in the call.
Offer = Callable[[str], Iterable[str]]
_OFFERS: dict[str, Offer] = {}
# the last call that is still open, its name, what stands before the quote, and what was typed behind it
_OPEN = re.compile(
    r"(?:^|[^\w.])(?P<name>\w+)(?:\.(?:using\([^()]*\)|explain|\w+))?\((?P<before>(?:[^()]|\([^()]*\))*?)"
    r"(?P<quote>[\"'])(?P<typed>[\w\-/ .]*)$"
)


def offer(name: str, words: Offer) -> None:
    """Offer words inside the quotes of a function, and make sure that a notebook knows."""
    _OFFERS[name] = words
    _register()


def offered(text: str) -> tuple[str, list[str]]:
    """What was typed last in a line of code, and the words that complete it; none where nothing is offered.

    >>> offer("turn", lambda before: ["driver_speed", "driven_speed", "teeth"])
    >>> offered('x = turn("driv')
    ('driv', ['driver_speed', 'driven_speed'])
    >>> offered('other("driv')
    ('', [])
    """
    for match in _matches(text):
        if match["name"] in _OFFERS and match["before"].count(match["quote"]) % 2 == 0:
            typed = match["typed"]
            words = list(dict.fromkeys(_OFFERS[match["name"]](match["before"])))
            starting = [word for word in words if word.startswith(typed)]
            return typed, starting or [word for word in words if typed in word]
    return "", []


def _matches(text: str) -> Iterable[re.Match[str]]:
    line = text[-2000:]
    for start in sorted((call.start() for call in re.finditer(r"\b\w+(?:\.\w+)?\(", line)), reverse=True):
        if match := _OPEN.match(line[max(0, start - 1) :] if start else line):
            yield match


def _register() -> None:
    shell_of = getattr(sys.modules.get("IPython"), "get_ipython", None)
    shell = shell_of() if shell_of else None
    completer: Any = getattr(shell, "Completer", None)
    module = sys.modules.get("IPython.core.completer")
    if (
        completer is None
        or module is None
        or any(getattr(each, "of_gearlab", False) for each in completer.custom_matchers)
    ):
        return

    @module.context_matcher(identifier="gearlab words", priority=200)
    def matcher(context: Any) -> dict[str, Any]:
        typed, words = offered(context.full_text[: _position(context)])
        completions = [module.SimpleCompletion(text=word, type="word") for word in words]
        return {"completions": completions, "matched_fragment": typed, "suppress": bool(words)}

    matcher.of_gearlab = True
    completer.custom_matchers.append(matcher)


def _position(context: Any) -> int:
    lines = context.full_text.split("\n")
    return sum(len(line) + 1 for line in lines[: context.cursor_line]) + context.cursor_position
