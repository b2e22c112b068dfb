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


def finite(name: str, value, unit: str) -> np.ndarray:
    """Finite numbers as an array [unit], or ValueError.

    Parameters
    ----------
    name : str
        What they are called in a message [-].
    value : float or array
        [unit]
    unit : str
        As a message writes it [-].

    Examples
    --------
    >>> finite("driver_angle", "east", "deg")
    Traceback (most recent call last):
    ValueError: driver_angle = 'east' is not a number: give one in deg
    """
    try:
        found = np.asarray(value, dtype=float)
    except (TypeError, ValueError):
        raise ValueError(f"{name} = {value!r} is not a number: give one in {unit}") from None
    if not np.isfinite(found).all():
        raise ValueError(f"{name} = {found[~np.isfinite(found)].flat[0]} {unit} is out of range: give a finite number")
    return found


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
    ValueError: face_width = 0 mm is out of range: give a finite number above 0 mm
    """
    try:
        number = float(value)
    except (TypeError, ValueError):
        raise ValueError(f"{name} = {value!r} is not a number: give one in {unit}") from None
    if not math.isfinite(number) or not low <= number <= high or (above and number == low):
        space = f" {unit}" if unit else ""
        start = f"above {low:g}" if above else f"from {low:g}"
        limits = "finite number" if low == -math.inf else f"finite number {start}{space}{'' if above else ' up'}" if high == math.inf else f"number {start} to {high:g}{space}"
        raise ValueError(f"{name} = {number:g}{space} is out of range: give a {limits}")
    return number
