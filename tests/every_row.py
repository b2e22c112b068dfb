"""One test over many rows.

A thousand rows of a tenth of a millisecond each are a thousand tests to collect, in every worker, which takes
longer than they do.
"""

from collections.abc import Callable, Iterable

import pytest

TOLD = 30  # failures that are written out; the others are counted


def every(rows: Iterable, name_of: Callable = str) -> Callable:
    """Decorate a check of one row: a test of all rows, which goes on after a failure and names each.

    rows: what the check is called with; a tuple is spread over its parameters.
    name_of: what a row is called where it fails.

    >>> test = every([(4, 2), (9, 3), (10, 3), (3, 1)], lambda row: f"square of {row[1]}")(_is_square)
    >>> test()
    Traceback (most recent call last):
    AssertionError: 2 of 4 fail:
    square of 3: AssertionError: 10 is no square of 3
    square of 1: AssertionError: 3 is no square of 1
    >>> every([(4, 2)])(_is_square)()
    >>> every([])
    Traceback (most recent call last):
    ValueError: rows is empty: give what is to be checked, or drop the test
    """
    rows = list(rows)
    if not rows:
        raise ValueError("rows is empty: give what is to be checked, or drop the test")

    def decorated(check: Callable) -> Callable:
        # without functools.wraps: pytest would read the check's parameters as fixtures
        def test() -> None:
            faults = []
            for row in rows:
                try:
                    check(*row) if isinstance(row, tuple) else check(row)
                except (Exception, pytest.fail.Exception) as fault:
                    faults.append(f"{name_of(row)}: {type(fault).__name__}: {fault}")
            if faults:
                more = [f"and {len(faults) - TOLD} more"] if len(faults) > TOLD else []
                raise AssertionError(
                    "\n".join([f"{len(faults)} of {len(rows)} fail:", *faults[:TOLD], *more])
                )

        test.__name__, test.__qualname__ = check.__name__, check.__qualname__
        test.__module__, test.__doc__ = check.__module__, check.__doc__
        return test

    return decorated


def _is_square(number: int, root: int) -> None:
    if root**2 != number:
        raise AssertionError(f"{number} is no square of {root}")
