"""Numbers that a text states, held against what is worked out: one line where all agree."""

from __future__ import annotations

import math
from collections.abc import Iterable
from decimal import Decimal
from numbers import Real
from typing import Any

__all__ = ["agree"]

_SAME = 1e-9  # relative; between two ways to one number


def agree(rows: Iterable[tuple]) -> None:
    """Print how many stated numbers agree with their values, or name the first that does not.

    rows: (value, stated) or (value, stated, closeness) each. A stated decimal agrees when the value, rounded
        to as many places, gives it; write it as a text to keep its last zero ("0.50"). A whole number, a
        word or a truth value must be equal. The closeness is a number of decimal places (an int), or how far
        the value may be off (a float, in the value's unit).
    AssertionError for the first row that does not agree: its number, what is stated and what came out.
    ValueError if there is no row, or one is not of this form.

    >>> agree([(1.0927, 1.09), (95.0, 95), (31.5, "31.50"), (17.097, 17.1, 1), (9.8696, 9.9, 0.05)])
    5 numbers of this lesson agree.
    >>> agree([(1.0927, 1.09), (1.5527, 1.54)])
    Traceback (most recent call last):
        ...
    AssertionError: number 2 of 2: the lesson states 1.54, and it is 1.5527
    """
    listed = [tuple(row) if isinstance(row, (list, tuple)) else row for row in rows]
    for place, row in enumerate(listed, 1):
        where = f"row {place} of {len(listed)}"
        if not isinstance(row, tuple) or len(row) not in (2, 3):
            raise ValueError(f"{where} is {row!r}: give (value, stated) or (value, stated, closeness)")
        value, stated, closeness = row if len(row) == 3 else (*row, None)
        if not _agrees(value, stated, closeness, where):
            shown = f"{float(value):.10g}" if _is_number(value) else repr(value)
            within = "" if closeness is None else _within(closeness)
            raise AssertionError(
                f"number {place} of {len(listed)}: the lesson states {stated}{within}, and it is {shown}"
            )
    if not listed:
        raise ValueError("there is no row: give (value, stated) for each number that the lesson states")
    count = len(listed)
    print(f"{count} numbers of this lesson agree." if count > 1 else "1 number of this lesson agrees.")


def _agrees(value: Any, stated: Any, closeness: Any, where: str) -> bool:
    if isinstance(stated, str) and _is_number(value):
        try:
            places = _places(stated)
        except ArithmeticError:
            raise ValueError(
                f"{where}: the value is a number, and {stated!r} is stated; state a number"
            ) from None
        closeness, stated = places if closeness is None else closeness, float(stated)
    if not (_is_number(value) and _is_number(stated)):
        if closeness is not None:
            raise ValueError(f"{where}: a closeness belongs to two numbers, not to {value!r} and {stated!r}")
        return _is_truth(value) == _is_truth(stated) and bool(value == stated)
    value, whole = float(value), closeness is None and not isinstance(stated, float)
    if not math.isfinite(value):
        return False
    if whole:
        return math.isclose(value, float(stated), rel_tol=_SAME, abs_tol=_SAME)
    if closeness is None:
        closeness = _places(repr(float(stated)))
    if isinstance(closeness, bool) or not isinstance(closeness, (int, float)) or not 0 <= closeness < 16:
        raise ValueError(
            f"{where}: closeness = {closeness!r}: give a number of decimal places (such as 2), or how far"
            " the value may be off (such as 0.05)"
        )
    if isinstance(closeness, int):
        # a value that is half way, but for the last bits, may be rounded either way
        return abs(value - float(stated)) <= 0.5 * 10.0**-closeness * (1 + 1e-9) + abs(value) * 1e-12
    return abs(value - float(stated)) <= closeness


def _is_truth(value: Any) -> bool:
    """Whether it is a truth value, Python's or numpy's."""
    return isinstance(value, bool) or type(value).__name__ in ("bool", "bool_")


def _is_number(value: Any) -> bool:
    """Whether it is a real number: Python's, numpy's, or an exact one of sympy."""
    if _is_truth(value):
        return False
    return isinstance(value, Real) or bool(
        getattr(value, "is_real", False) and getattr(value, "is_number", False)
    )


def _places(text: str) -> int:
    """Decimal places of a number as it is written."""
    exponent = Decimal(text).as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0


def _within(closeness: Any) -> str:
    if isinstance(closeness, int):
        return f" to {closeness} decimal place{'s' if closeness != 1 else ''}"
    return f" within {closeness:g}"
