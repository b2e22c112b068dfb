"""How a number is written beside a picture: places, unit, a true minus sign."""

from __future__ import annotations

import math

from gearlab.digits import placed_text
from gearlab.parts.explained import Sized

MINUS = "\u2212"


def number(value: float, places: int) -> str:
    """A number with a true minus sign and never a negative zero.

    >>> number(-0.0001, 2), number(-2.5, 1)
    ('0.00', '−2.5')
    """
    text = f"{value:.{places}f}"
    if float(text) == 0:
        text = text.lstrip("-")
    return text.replace("-", MINUS)


def length(value: float, unit: str, with_unit: bool = True) -> str:
    """A length [mm] or [in]: inches to four places, millimetres to two (three below 10 mm).

    >>> length(78.75, "mm"), length(0.625, "mm"), length(3.15, "in")
    ('78.75 mm', '0.625 mm', '3.1500 in')
    """
    places = 4 if unit == "in" else (3 if abs(value) < 9.995 else 2)
    return number(value, places) + (f" {unit}" if with_unit else "")


def vanishes(value: float, unit: str) -> bool:
    """Whether a length [mm] or [in] counts as none: under half a hundredth of a millimetre.

    >>> vanishes(-0.004, "mm"), vanishes(0.004, "in")
    (True, False)
    """
    return abs(value) < (0.005 if unit == "mm" else 0.0002)


def plain(value: float, places: int = 6) -> str:
    """A number with no more places than it needs.

    >>> plain(2.5), plain(10.0), plain(16.933333333, 3)
    ('2.5', '10', '16.933')
    """
    return placed_text(value, places).replace("-", MINUS)


def size(value: float, unit: str) -> str:
    """A length on a drawing as a workshop reads it: millimetres to three places, inches to four.

    >>> size(78.75, "mm"), size(0.0333333, "in")
    ('78.75', '0.0333')
    """
    return plain(value, 3 if unit == "mm" else 4)


def speed(value: float, direction: bool = True) -> str:
    """A turning speed [rpm] with its direction in words.

    >>> speed(-6.0), speed(15.0), speed(0.0)
    ('6 rpm clockwise', '15 rpm counter-clockwise', '0 rpm, at rest')
    """
    turning = plain(abs(value), 3) + " rpm"
    if not direction:
        return turning
    if value == 0 or not math.isfinite(value):
        return turning + ", at rest"
    return turning + (" counter-clockwise" if value > 0 else " clockwise")


def turning(value: float) -> str:
    """A turning speed [rpm] as its size and a turning arrow.

    >>> turning(-6.0), turning(15.0), turning(0.0)
    ('6 rpm ↻', '15 rpm ↺', '0 rpm')
    """
    return speed(value, direction=False) + (" \u21ba" if value > 0 else " \u21bb" if value < 0 else "")


def pitch_name(gear: Sized) -> str:
    """How a gear's size of tooth is named: its module [mm] or its diametral pitch [1/in].

    >>> from types import SimpleNamespace
    >>> pitch_name(SimpleNamespace(unit="mm", scale=2.5)), pitch_name(SimpleNamespace(unit="in", scale=0.1))
    ('module 2.5', 'P 10')
    """
    return f"module {plain(gear.scale, 4)}" if gear.unit == "mm" else f"P {plain(1 / gear.scale, 4)}"
