"""Numbers by name with their unit beside them, and the strict reading of a number that a caller gives."""

from __future__ import annotations

import math
from collections.abc import Mapping
from numbers import Real
from typing import Any

#: No shaft of a bench turns faster [rpm], no torque is larger [N*m or lbf*in]: beyond lies a slip.
FASTEST, STRONGEST = 1e9, 1e12


class Amounts(dict):
    """Numbers by name, as a dict, with the ``unit`` they are all in [-].

    >>> torques = Amounts({"sun": 1.5}, "N*m")
    >>> torques, torques.unit
    ({'sun': 1.5}, 'N*m')
    """

    def __init__(self, numbers: Mapping[Any, float], unit: str):
        super().__init__(numbers)
        self.unit = unit


def real(name: str, value: float, unit: str, limit: float) -> float:
    """A plain finite number of a size up to the limit [unit]; no truth value and no text is taken for one.

    ValueError for anything else; it names the quantity, the value and the limits.

    >>> real("speed of the sun", float("nan"), "rpm", FASTEST)
    Traceback (most recent call last):
    ValueError: speed of the sun = nan rpm is out of range: give a finite number from -1e+09 to 1e+09 rpm
    >>> real("speed of the sun", "35", "rpm", FASTEST)
    Traceback (most recent call last):
    ValueError: speed of the sun = '35' is not a number: give a plain one in rpm
    """
    if isinstance(value, bool) or not isinstance(value, Real):
        raise ValueError(f"{name} = {value!r} is not a number: give a plain one in {unit}")
    if abs(value) > limit or not math.isfinite(value):
        try:
            shown = f"{float(value):g}"
        except OverflowError:
            shown = "a number of hundreds of digits"
        limits = f"from {-limit:g} to {limit:g} {unit}".rstrip()
        given = f"{shown} {unit}".rstrip()
        raise ValueError(f"{name} = {given} is out of range: give a finite number {limits}")
    return float(value)
