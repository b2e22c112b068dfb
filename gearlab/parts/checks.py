"""Checking what a part is given: each number is named with its limits, and nothing is clamped."""

from __future__ import annotations

import math

import numpy as np


def whole(name: str, value, low: int, high: int) -> int:
    """A whole number within limits [-], or ValueError with the limits.

    Parameters
    ----------
    name : str
        What it is called in a message [-].
    value : int or float
        [-]; a float is taken if it is whole.
    low, high : int
        Limits, both allowed [-].

    Examples
    --------
    >>> whole("teeth", 18.0, 6, 500)
    18
    >>> whole("teeth", 18.5, 6, 500)
    Traceback (most recent call last):
    ValueError: teeth = 18.5 is out of range: give a whole number from 6 to 500
    """
    if isinstance(value, bool) or not isinstance(value, (int, float, np.integer, np.floating)) or not low <= value <= high or value != int(value):
        raise ValueError(f"{name} = {value!r} is out of range: give a whole number from {low} to {high}")
    return int(value)


def within(name: str, value, low: float, high: float, unit: str, above: bool = False) -> float:
    """A finite number within limits [unit], or ValueError with the limits.

    Parameters
    ----------
    name : str
        What it is called in a message [-].
    value : float
        [unit]
    low, high : float
        Limits, both allowed [unit]; ``math.inf`` for none.
    unit : str
        As a message writes it [-].
    above : bool
        True if the lower limit itself is not allowed [-].

    Examples
    --------
    >>> within("face_width", 14, 0.0, math.inf, "mm", above=True)
    14.0
    >>> within("face_width", 0, 0.0, math.inf, "mm", above=True)
    Traceback (most recent call last):
    ValueError: face_width = 0 mm is out of range: give a number above 0 mm
    """
    try:
        number = float(value)
    except (TypeError, ValueError):
        raise ValueError(f"{name} = {value!r} is not a number: give one in {unit}") from None
    if not math.isfinite(number) or not low <= number <= high or (above and number == low):
        limits = f"above {low:g}" if high == math.inf and above else f"{low:g} or more" if high == math.inf else f"from {low:g} to {high:g}"
        raise ValueError(f"{name} = {number:g} {unit} is out of range: give a number {limits} {unit}")
    return number
