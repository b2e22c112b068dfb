"""An expression as a student types it, read by a tokenizer and a recursive parser of our own.

The same small language serves the question banks (formulas of wrong answers, conditions on a draw).  Nothing
typed is ever handed to Python or to sympy's own parser: the text becomes a tree of a few node kinds, and the
tree is evaluated with floats, or turned into a sympy expression to be shown.

Angles are degrees.  The argument of sin, cos, tan and inv is taken in degrees unless ``rad(...)`` or ``pi``
stands in it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from html import escape

from gearlab.practice import tree as trees
from gearlab.practice.grammar import Parser
from gearlab.practice.tree import ENVIRONMENT, ExpressionError, Node

__all__ = ["Expression", "ExpressionError", "compile_formula", "parse", "spellings"]


@dataclass(frozen=True)
class Expression:
    """A parsed expression.

    Attributes
    ----------
    tree : tuple
        The nodes.
    words : frozenset of str
        Every name that stands in it, as a word.
    symbols : tuple of (str, str)
        Word and symbol of the quantities that may stand in it.
    """

    tree: Node
    words: frozenset
    symbols: tuple = ()

    def value(self, numbers: Mapping[str, float]) -> float | None:
        """Its value for numbers by word (angles in degrees), or None where it has none (a division by zero,
        say).
        """
        try:
            value = trees.worked_out(self.tree, numbers)
        except (ArithmeticError, ValueError):
            return None
        return value if isinstance(value, (int, float)) and math.isfinite(value) else None

    def sympy(self, symbols: Mapping[str, str]):
        """As a sympy expression over plain symbols; `symbols` gives the symbol to show for each word."""
        return trees.as_sympy(self.tree, symbols)

    def text(self) -> str:
        """The expression as it was read, in plain text with every * and parenthesis written."""
        return trees.as_text(self.tree, dict(self.symbols))

    def mathml(self) -> str:
        """The expression as it was read, typeset; nothing in it is worked out."""
        spoken = escape(self.text(), quote=True)
        return f'<math aria-label="{spoken}">{trees.as_mathml(self.tree, dict(self.symbols))}</math>'


def parse(text: str, names: Mapping[str, str], *, bank: bool = False) -> Expression:
    """Read an expression.

    Parameters
    ----------
    text : str
        At most 200 characters, nested at most 20 deep [-].
    names : mapping
        Every spelling that may stand in it, to its word (see `spellings`).
    bank : bool
        Whether lcm, mod, floor, ceil, nearest, min, max and comparisons are understood as well: for question
        banks [-].

    Raises
    ------
    ExpressionError
        With a sentence for the student.

    Examples
    --------
    >>> names = spellings({"driver_teeth": "N1", "driven_teeth": "N2", "diametral_pitch": "P"})
    >>> parse("(N1+N_2)/(2P)", names).value({"driver_teeth": 18, "driven_teeth": 45, "diametral_pitch": 10})
    3.15
    >>> parse("N1/2P", names)
    Traceback (most recent call last):
    gearlab.practice.tree.ExpressionError: “/2P” can be meant in two ways: write /(2*P) or /2*P.
    """
    return Expression(*Parser(text, names, bank).read())


@cache
def _spellings(items: tuple[tuple[str, str], ...]) -> dict[str, str]:
    table: dict[str, str] = {}
    clashes = set()
    for word, symbol in items:  # the symbol first: it is what messages show
        for spelling in (symbol, symbol.replace("_", ""), symbol.replace("_", "").replace(" ", ""), word):
            if table.setdefault(spelling, word) != word:
                clashes.add(spelling)
    for spelling in clashes:
        del table[spelling]
    return table


def spellings(symbols: Mapping[str, str]) -> dict[str, str]:
    """The spellings of some quantities: `symbols` gives each word its symbol.

    >>> sorted(spellings({"driver_outside_diameter": "d_o1"}))
    ['d_o1', 'do1', 'driver_outside_diameter']
    """
    return dict(_spellings(tuple(symbols.items())))


def compile_formula(text: str, words: Iterable[str]) -> Callable[..., float]:
    """A formula of a question bank as a fast function of the given words, in that order.

    The text goes through the same parser; only its tree is turned into code, and a word becomes a numbered
    variable.

    >>> compile_formula("(driver_teeth + driven_teeth)/2", ["driver_teeth", "driven_teeth"])(18, 45)
    31.5
    """
    order = list(words)
    tree = parse(text, {word: word for word in order}, bank=True).tree
    places = {word: place for place, word in enumerate(order)}
    arguments = ", ".join(f"v{place}" for place in range(len(order)))
    return eval(f"lambda {arguments}: {trees.as_source(tree, places)}", ENVIRONMENT)  # noqa: S307 (our own source, from the tree)
