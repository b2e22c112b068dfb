"""Numbers in parts: degrees with minutes, feet with inches, hours with minutes."""

from __future__ import annotations

import math
import re

from gearlab.practice.typed.tokens import Token, Tokens, decimal

__all__ = ["family_of", "part_at"]


def part_at(tokens: Tokens, place: int, later: bool) -> tuple[float, str, Token, int] | None:
    """One part: its number, what was typed for it, the mark behind it, and where the next one begins.

    A later one may be a fraction, and behind feet a hyphen may stand before it: 3'-4 1/2".
    """
    if later and place < len(tokens) and tokens[place - 1].text.lower() in _FEET:
        place += tokens[place].text == "-" and not tokens[place].spaced
    if place + 1 >= len(tokens) or tokens[place].kind in ("word", "sign"):
        return None
    kinds = [token.kind for token in tokens[place : place + 3]]
    if later and kinds == ["number", "sign", "number"] and tokens[place + 1].text == "/":
        end = place + 3
    elif tokens[place].kind == "number" or later:
        end = place + 1
    else:
        return None
    text = tokens.text(place, end)
    if end >= len(tokens) or tokens[end].kind not in ("word", "sign") or tokens[end].text == ".":
        return None
    value = decimal(text)[0][0] if end == place + 1 and tokens[place].kind == "number" else _fraction(text)
    return value, text, tokens[end], end + 1


def _fraction(text: str) -> float:
    """The value of 4 1/2, 4-1/2 or 1/2; nan over zero."""
    *whole, top, bottom = re.findall("[0-9.,]+", text)
    under = decimal(bottom)[0][0]
    return sum(int(number) for number in whole) + decimal(top)[0][0] / under if under else math.nan


_HOURS = frozenset({"h", "hr", "hrs", "hour", "hours"})
_MINUTES = frozenset({"min", "mins", "minute", "minutes"})
_SECONDS = frozenset({"s", "sec", "secs", "second", "seconds"})
_DEGREES = frozenset({"°", "deg", "degs", "degree", "degrees"})
_FEET, _INCHES = frozenset({"ft", "foot", "feet", "'"}), frozenset({'"', "in", "inch", "inches"})
# What is measured, the unit, the size of each part, how it is shown and how it is typed.
_FAMILIES = (
    ("angle", "deg", (3600.0, 60.0, 1.0), ("°", "′", "″"), (_DEGREES, _MINUTES | {"'"}, _SECONDS | {'"'})),
    ("length", "ft", (12.0, 1.0), (" ft", " in"), (_FEET, _INCHES)),
    ("time", "h", (3600.0, 60.0, 1.0), (" h", " min", " s"), (_HOURS, _MINUTES, _SECONDS)),
    ("time", "min", (60.0, 1.0), (" min", " s"), (_MINUTES, _SECONDS)),
)


def family_of(marks: list[str], dimension: str) -> tuple[str, tuple[float, ...], tuple[str, ...]] | None:
    """Unit, sizes and signs of the parts, where their marks are degrees with minutes and the like."""
    for of, unit, steps, signs, spellings in _FAMILIES:
        if (
            2 <= len(marks) <= len(steps)
            and all(mark in known for mark, known in zip(marks, spellings))
            and (marks[0] != "'" or dimension == of)
        ):
            return unit, steps, signs
    return None
