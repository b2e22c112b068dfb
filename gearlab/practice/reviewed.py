"""A whole design with numbers put in, reviewed: what conditions of a design question are decided by.

The design stands in the bank as TOML with ``{...}`` in the place of numbers: a field, a given, or a formula
over both. It is read once, with marks in those places; what a student typed is a number by the time it takes
the place of a mark, and is never part of a text that is read.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Container

from gearlab.practice.expression import compile_formula

__all__ = ["ReviewedDesign", "names_in", "with_marks"]

_BRACES = re.compile(r"\{([^{}\n]*)\}")
_MARK = "\ue000"  # a private character: nothing else in a bank uses it
_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
# reviews kept: of the same numbers one is asked for by each condition, and by many students for the bank's
# own choice
_KEPT = 256


def with_marks(text: str) -> tuple[dict, list[str]]:
    """A design's tables with a mark in the place of each ``{...}``, and what stands in the braces, by the
    number of the mark.

    Examples
    --------
    >>> data, formulas = with_marks("[plate]\\nlength = {plate_length}\\nheight = 160\\n")
    >>> formulas, data["plate"]["height"]
    (['plate_length'], 160)
    """
    formulas: list[str] = []

    def mark(found) -> str:
        formulas.append(found[1].strip())
        return f'"{_MARK}{len(formulas) - 1}"'

    return tomllib.loads(_BRACES.sub(mark, text)), formulas


def names_in(formulas: list[str], known: Container[str]) -> set[str]:
    """Which of the known names stand in formulas."""
    return {name for formula in formulas for name in _NAME.findall(formula) if name in known}


class ReviewedDesign:
    """The design of a question, with numbers put in and reviewed.

    Attributes
    ----------
    names : tuple of str
        What a formula in braces may name: fields, then the givens shown.
    used : set of str
        The names it hangs on.
    """

    def __init__(self, text: str, names: tuple[str, ...]):
        self.names = names
        self._data, formulas = with_marks(text)
        self._functions = [compile_formula(formula, names) for formula in formulas]
        self.used = names_in(formulas, names)
        self._places = [names.index(name) for name in names if name in self.used]
        self._kept: dict[tuple, object] = {}

    def design(self, numbers: list[float]):
        """The design for numbers of all names; raises ValueError where it does not fit."""
        from gearlab.parts.design import design_of  # parts are needed by such questions only

        values = [function(*numbers) for function in self._functions]
        return design_of(_filled(self._data, values))

    def findings(self, numbers: list[float]):
        """What the review finds for numbers of all names."""
        from gearlab.parts.review import Finding, Ledger, review

        key = tuple(numbers[place] for place in self._places)
        if key not in self._kept:
            try:
                found = review(self.design(numbers))
            except (ArithmeticError, ValueError) as error:
                impossible = Finding(
                    "gear-cannot-be",
                    "will not work",
                    "the design",
                    " ".join(str(error).split()) + ".",
                    "Each number must be one that a part can have.",
                    "There is no such part.",
                    "Change the number.",
                    "the design's own limits",
                )
                found = Ledger([(None, impossible)])
            if len(self._kept) >= _KEPT:
                self._kept.pop(next(iter(self._kept)))
            self._kept[key] = found
        return self._kept[key]


def _filled(part, values: list[float]):
    """A copy of tables with numbers in the place of marks."""
    if isinstance(part, dict):
        return {name: _filled(one, values) for name, one in part.items()}
    if isinstance(part, list):
        return [_filled(one, values) for one in part]
    if isinstance(part, str) and part.startswith(_MARK):
        return values[int(part[1:])]
    return part
