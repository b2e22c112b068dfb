"""Theory's expressions as plain functions of floats: written out as source once, then only float arithmetic.

An expression here is a sympy expression over symbols that are quantity words, in theory's units (angles in
radians).
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import cast

import sympy as sp

from gearlab.theory.functions import FLOAT_TWINS

__all__ = ["Program", "compile_outputs", "compile_steps", "source"]

_FUNCTIONS = {
    "sin": "sin",
    "cos": "cos",
    "tan": "tan",
    "asin": "asin",
    "acos": "acos",
    "atan": "atan",
    "Abs": "abs",
    "floor": "floor",
    "ceiling": "ceil",
    "Max": "max",
    "Min": "min",
    **{name: name for name in FLOAT_TWINS},
}
ENVIRONMENT: dict[str, object] = {
    "__builtins__": {},
    "abs": abs,
    "max": max,
    "min": min,
    "floor": math.floor,
    "ceil": math.ceil,
    **{name: getattr(math, name) for name in ("sin", "cos", "tan", "asin", "acos", "atan", "sqrt", "gcd")},
    **FLOAT_TWINS,
}
_FULL_TURN = repr(2 * math.pi)


def source(expression: sp.Expr, names: Mapping[str, str]) -> str:
    """Python source of an expression; `names` gives the variable for each quantity word.

    Raises
    ------
    KeyError
        For a word without a variable.
    ValueError
        For a sympy function that has no float twin.
    """
    if expression.is_Symbol:
        return (
            _FULL_TURN
            if expression.name == "full_turn" and "full_turn" not in names
            else names[expression.name]
        )
    if expression.is_Integer:
        return f"{int(expression)}.0" if expression >= 0 else f"({int(expression)}.0)"
    if expression.is_Number or expression.is_NumberSymbol:
        return f"({float(expression)!r})"
    if expression.is_Add:
        return "(" + " + ".join(source(part, names) for part in expression.args) + ")"
    if expression.is_Mul:
        above, below = [], []
        for part in expression.args:
            if part.is_Pow and part.exp.is_Number and part.exp < 0:
                below.append(source(sp.Pow(part.base, -part.exp), names))
            elif part.is_Rational and part.q != 1:
                if part.p != 1:
                    above.append(source(sp.Integer(part.p), names))
                below.append(f"{part.q}.0")
            else:
                above.append(source(part, names))
        text = " * ".join(above) or "1.0"
        return f"({text})" if not below else f"({text} / ({' * '.join(below)}))"
    if expression.is_Pow:
        base = source(expression.base, names)
        if expression.exp == sp.Rational(1, 2):
            return f"sqrt({base})"
        if expression.exp == -1:
            return f"(1.0 / {base})"
        if expression.exp == 2:
            return f"({base} * {base})"
        return f"({base} ** {source(expression.exp, names)})"
    name = type(expression).__name__
    if name not in _FUNCTIONS:
        raise ValueError(f"{name} cannot be worked out with plain floats")
    return f"{_FUNCTIONS[name]}({', '.join(source(part, names) for part in expression.args)})"


def compile_steps(
    inputs: Iterable[str], lines: Iterable[str], results: Iterable[str]
) -> Callable[..., tuple]:
    """A function of the inputs that runs the lines and returns the results as a tuple (all of it our own
    source).
    """
    body = "\n    ".join([*lines, f"return ({''.join(result + ', ' for result in results)})"])
    space = dict(ENVIRONMENT)
    exec(f"def worked_out({', '.join(inputs)}):\n    {body}\n", space)  # noqa: S102
    return cast("Callable[..., tuple]", space["worked_out"])


_LINE = re.compile(r"\bn[0-9]+\b")


class Program:
    """Lines of float arithmetic over the inputs ``v0``, ``v1``, ...; the same line is never written twice."""

    def __init__(self) -> None:
        self._names: dict[str, str] = {}  # source of a line to its variable
        self._codes: list = []

    def line(self, text: str) -> str:
        """The variable that holds the value of a source."""
        if text.isidentifier():
            return text
        return self._names.setdefault(text, f"n{len(self._names)}")

    def put(self, expression: sp.Expr, names: Mapping[str, str]) -> str:
        """The variable that holds the value of an expression; errors as of `source`."""
        return self.line(source(expression, names))

    def values(self, inputs: Sequence[float]) -> dict[str, float]:
        """The value of every variable that has a finite one."""
        texts = list(self._names)
        for text in texts[len(self._codes) :]:
            self._codes.append(compile(text, "<line>", "eval"))
        space = {**ENVIRONMENT, **{f"v{place}": number for place, number in enumerate(inputs)}}
        known: dict[str, float] = {f"v{place}": number for place, number in enumerate(inputs)}
        for code, name in zip(self._codes, self._names.values()):
            try:
                value = eval(code, space)  # noqa: S307 (our own source)
            except (ArithmeticError, ValueError, TypeError, NameError):
                continue
            if not isinstance(value, complex) and math.isfinite(value):
                space[name] = known[name] = value
        return known

    def function(self, inputs: int, results: Sequence[str]) -> Callable[..., tuple]:
        """A function of so many inputs to the values of some variables, with no line that they do not need."""
        wanted, kept = set(results), []
        for text, name in reversed(self._names.items()):
            if name in wanted:
                kept.append(f"{name} = {text}")
                wanted.update(_LINE.findall(text))
        return compile_steps([f"v{place}" for place in range(inputs)], kept[::-1], results)


def compile_outputs(expressions: Mapping[str, sp.Expr], inputs: Mapping[str, float]) -> Callable[..., tuple]:
    """A function giving the value of each expression in theory's units.

    `inputs` gives, for each quantity word in the order of the arguments, the factor that takes the argument's
    unit to theory's unit.

    >>> teeth, module = sp.symbols("teeth module")
    >>> compile_outputs({"pitch_diameter": teeth * module}, {"teeth": 1.0, "module": 25.4})(18, 0.1)
    (45.72,)
    """
    names = {word: f"t{place}" for place, word in enumerate(inputs)}
    arguments = [f"v{place}" for place in range(len(names))]
    lines = [
        f"t{place} = v{place}" + ("" if factor == 1.0 else f" * {factor!r}")
        for place, factor in enumerate(inputs.values())
    ]
    return compile_steps(arguments, lines, [source(expression, names) for expression in expressions.values()])
