"""Formulas as trees and as plain functions of floats.

A typed expression and a formula of a bank is a tree: its value, its source, and how it is written. A node is
("number", float, text), ("name", word), ("pi",), ("call", function, (nodes)), ("negative", node),
("not", node) or (operator, left, right) with + - * / ^, a comparison, "and" or "or".

A formula of theory is a sympy expression over symbols that are quantity words, in theory's units (angles in
radians). Both are written out as source once; then there is only float arithmetic.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import lru_cache
from html import escape
from typing import Any, cast

import sympy as sp

from gearlab.theory.functions import FLOAT_TWINS, arcinv_number

__all__ = [
    "ANGLE_FUNCTIONS",
    "BANK_FUNCTIONS",
    "COMPARISONS",
    "ENVIRONMENT",
    "ExpressionError",
    "GREEK",
    "LOGIC",
    "Node",
    "PLAIN_FUNCTIONS",
    "Program",
    "as_mathml",
    "as_source",
    "as_text",
    "compile_outputs",
    "compile_steps",
    "in_radians",
    "source",
    "words_in",
    "worked_out",
]

Node = tuple


class ExpressionError(ValueError):
    """A text that is not an expression here; the message says what to write instead.

    unknown: the name in it that stands for nothing, "" where that is not what is wrong.
    """

    def __init__(self, message: str, unknown: str = ""):
        self.unknown = unknown
        super().__init__(message)


GREEK = {
    "φ": "phi",
    "ϕ": "phi",
    "α": "alpha",
    "ω": "omega",
    "θ": "theta",
    "ϑ": "theta",
    "ρ": "rho",
    "ε": "epsilon",
    "ϵ": "epsilon",
    "τ": "tau",
    "Δ": "Delta",
    "∆": "Delta",
    "η": "eta",
    "δ": "delta",
    "β": "beta",
    "γ": "gamma",
    "μ": "mu",
    "µ": "mu",
    "σ": "sigma",
    "Σ": "Sigma",
    "ψ": "psi",
    "ξ": "xi",
    "ζ": "zeta",
}


def _inv(angle: float) -> float:
    return math.tan(angle) - angle


def _whole(value: float) -> int:
    nearest = round(value)
    if abs(value - nearest) > 1e-6 * max(1.0, abs(value)):
        raise ValueError("whole numbers only")
    return nearest


PLAIN_FUNCTIONS: dict[str, tuple[int, Callable]] = {
    "sqrt": (1, math.sqrt),
    "abs": (1, abs),
    "rad": (1, math.radians),
    "deg": (1, math.degrees),
    "gcd": (2, lambda a, b: float(math.gcd(_whole(a), _whole(b)))),
}
ANGLE_FUNCTIONS: dict[str, Callable] = {"sin": math.sin, "cos": math.cos, "tan": math.tan, "inv": _inv}
BANK_FUNCTIONS: dict[str, tuple[int, Callable]] = {
    "lcm": (2, lambda a, b: float(math.lcm(_whole(a), _whole(b)))),
    "mod": (2, lambda a, b: a % b),
    "floor": (1, lambda a: float(math.floor(a + 1e-9))),
    "ceil": (1, lambda a: float(math.ceil(a - 1e-9))),
    "down": (1, lambda a: float(math.floor(a + 1e-9))),
    "up": (1, lambda a: float(math.ceil(a - 1e-9))),
    "acos": (1, lambda a: math.degrees(math.acos(a))),
    "asin": (1, lambda a: math.degrees(math.asin(a))),
    "atan": (1, lambda a: math.degrees(math.atan(a))),
    "arcinv": (1, lambda a: math.degrees(arcinv_number(a))),
    "sin_rad": (1, math.sin),
    "cos_rad": (1, math.cos),
    "tan_rad": (1, math.tan),
    "nearest": (1, lambda a: float(math.floor(a + 0.5))),
    "min": (2, min),
    "max": (2, max),
}
COMPARISONS = {"<", ">", "<=", ">=", "==", "!="}
LOGIC = {"and", "or", "not"}


def _parts(tree: Node) -> tuple:
    if tree[0] == "call":
        return tree[2]
    return tree[1:] if tree[0] not in ("number", "name", "pi") else ()


def words_in(tree: Node) -> bool:
    """Whether any name stands in it."""
    return tree[0] == "name" or any(words_in(part) for part in _parts(tree))


def in_radians(tree: Node) -> bool:
    """Whether an angle written like this is in radians.

    Rad(...) or pi stands in it, and no acos(...) or the like, which give degrees, round it.
    """
    if tree[0] == "call" and tree[1] in ("acos", "asin", "atan", "arcinv"):
        return False
    return (
        tree[0] == "pi"
        or (tree[0] == "call" and tree[1] == "rad")
        or any(in_radians(part) for part in _parts(tree))
    )


def worked_out(tree: Node, numbers: Mapping[str, float]):
    """Its value; ArithmeticError or ValueError where it has none."""
    kind = tree[0]
    if kind == "number":
        return tree[1]
    if kind == "name":
        return float(numbers[tree[1]])
    if kind == "pi":
        return math.pi
    if kind == "negative":
        return -worked_out(tree[1], numbers)
    if kind == "not":
        return not worked_out(tree[1], numbers)
    if kind == "call":
        arguments = [worked_out(part, numbers) for part in tree[2]]
        if tree[1] in ANGLE_FUNCTIONS:
            return ANGLE_FUNCTIONS[tree[1]](*arguments)
        return (PLAIN_FUNCTIONS.get(tree[1]) or BANK_FUNCTIONS[tree[1]])[1](*arguments)
    left, right = worked_out(tree[1], numbers), worked_out(tree[2], numbers)
    if kind == "+":
        return left + right
    if kind == "-":
        return left - right
    if kind == "*":
        return left * right
    if kind == "/":
        return left / right
    if kind == "^":
        power = left**right
        if isinstance(power, complex):
            raise ValueError("no real value")
        return power
    if kind in LOGIC:
        return (left and right) if kind == "and" else (left or right)
    return {
        "<": left < right,
        ">": left > right,
        "<=": left <= right + 1e-9,
        ">=": left >= right - 1e-9,
        "==": abs(left - right) <= 1e-9,
        "!=": abs(left - right) > 1e-9,
    }[kind]


_RANK = {"+": 1, "-": 1, "negative": 1, "*": 2, "/": 2, "^": 3}


def as_text(tree: Node, symbols: Mapping[str, str], above: int = 0) -> str:
    """As plain text, with every sign written; `above` is the rank of the operator around it."""
    kind = tree[0]
    if kind == "number":
        return tree[2]
    if kind == "pi":
        return "π"
    if kind == "name":
        return symbols.get(tree[1], tree[1])
    if kind == "call":
        if tree[1] == "rad" and above == -1:  # degrees are understood
            return as_text(tree[2][0], symbols)
        inner = -1 if tree[1] in ANGLE_FUNCTIONS else 0
        return f"{tree[1]}({', '.join(as_text(part, symbols, inner) for part in tree[2])})"
    rank = _RANK[kind]
    if kind == "negative":
        text = "-" + as_text(tree[1], symbols, 2)
    else:
        sign = f" {kind} " if rank == 1 else kind
        text = (
            as_text(tree[1], symbols, rank + (kind == "^"))
            + sign
            + as_text(tree[2], symbols, rank + (kind in "-/^"))
        )
    return f"({text})" if rank < above else text


def as_mathml(tree: Node, symbols: Mapping[str, str], above: int = 0) -> str:
    """As presentation MathML, nothing worked out."""
    kind = tree[0]
    if kind == "number":
        return f"<mn>{escape(tree[2])}</mn>"
    if kind == "pi":
        return "<mi>π</mi>"
    if kind == "name":
        head, _, tail = symbols.get(tree[1], tree[1]).partition("_")
        if not tail and head[-1:].isdigit() and head.rstrip("0123456789"):
            tail = head[len(head.rstrip("0123456789")) :]
            head = head[: -len(tail)]
        head = next((letter for letter, name in GREEK.items() if name == head), head)
        return (
            f"<msub><mi>{escape(head)}</mi><mi>{escape(tail)}</mi></msub>"
            if tail
            else f"<mi>{escape(head)}</mi>"
        )
    if kind == "call":
        if tree[1] == "rad" and above == -1:
            return as_mathml(tree[2][0], symbols)
        if tree[1] == "sqrt":
            return f"<msqrt>{as_mathml(tree[2][0], symbols)}</msqrt>"
        inner = -1 if tree[1] in ANGLE_FUNCTIONS else 0
        parts = "<mo>,</mo>".join(as_mathml(part, symbols, inner) for part in tree[2])
        return f"<mrow><mi>{escape(tree[1])}</mi><mo>(</mo>{parts}<mo>)</mo></mrow>"
    rank = _RANK[kind]
    if kind == "/":
        return f"<mfrac>{as_mathml(tree[1], symbols)}{as_mathml(tree[2], symbols)}</mfrac>"
    if kind == "^":
        return f"<msup>{as_mathml(tree[1], symbols, 4)}{as_mathml(tree[2], symbols)}</msup>"
    if kind == "negative":
        text = f"<mrow><mo>−</mo>{as_mathml(tree[1], symbols, 2)}</mrow>"
    else:
        sign = {"*": "⋅", "-": "−"}.get(kind, kind)
        left, right = as_mathml(tree[1], symbols, rank), as_mathml(tree[2], symbols, rank + (kind == "-"))
        text = f"<mrow>{left}<mo>{sign}</mo>{right}</mrow>"
    return f"<mrow><mo>(</mo>{text}<mo>)</mo></mrow>" if rank < above else text


def as_source(tree: Node, places: Mapping[str, int]) -> str:
    """As Python source over the variables v0, v1, ... and the functions of `ENVIRONMENT`."""
    kind = tree[0]
    if kind == "number":
        return repr(tree[1])
    if kind == "pi":
        return repr(math.pi)
    if kind == "name":
        return f"v{places[tree[1]]}"
    parts = [as_source(part, places) for part in _parts(tree)]
    if kind in ("negative", "not"):
        return f"({'-' if kind == 'negative' else 'not '}{parts[0]})"
    if kind == "call":
        return f"f_{tree[1]}({', '.join(parts)})"
    operator = "**" if kind == "^" else kind
    if kind in ("<=", ">="):
        return f"({parts[0]} {kind} {parts[1]} {'+' if kind == '<=' else '-'} 1e-9)"
    if kind in ("==", "!="):
        return f"(abs({parts[0]} - {parts[1]}) {'<=' if kind == '==' else '>'} 1e-9)"
    return f"({parts[0]} {operator} {parts[1]})"


# -- formulas of theory -----------------------------------------------------------------------------
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
#: What the sources may call: functions of trees as f_name, those of theory by their own names.
ENVIRONMENT: dict[str, Any] = {
    "__builtins__": {},
    **{f"f_{name}": function for name, (_, function) in {**PLAIN_FUNCTIONS, **BANK_FUNCTIONS}.items()},
    **{f"f_{name}": function for name, function in ANGLE_FUNCTIONS.items()},
    "abs": abs,
    "max": max,
    "min": min,
    "floor": math.floor,
    "ceil": math.ceil,
    **{
        name: getattr(math, name)
        for name in ("sin", "cos", "tan", "asin", "acos", "atan", "sqrt", "gcd", "isfinite")
    },
    "NoValue": (ArithmeticError, ValueError, TypeError),
    **FLOAT_TWINS,
}
_FULL_TURN = repr(2 * math.pi)


def source(expression: sp.Expr, names: Mapping[str, str]) -> str:
    """Python source of an expression; `names` gives the variable for each quantity word.

    KeyError for a word without a variable, ValueError for a sympy function that has no float twin.
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


@lru_cache(maxsize=20_000)
def _pattern(expression: sp.Expr) -> tuple[str, tuple[str, ...]]:
    """Source of an expression with a %s for each of some words: the same steps come in hundreds of slips."""
    words = [part.name for part in expression.free_symbols if part.name != "full_turn"]
    marks = {word: f"<{place}>" for place, word in enumerate(words)}
    pieces = _MARK.split(source(expression, marks))
    return "%s".join(pieces[::2]), tuple([words[int(place)] for place in pieces[1::2]])


_MARK = re.compile("<([0-9]+)>")
_LINE = re.compile(r"\bn[0-9]+\b")


# A line that may have no value; the first is compiled in half the time, and nearly always enough.
_LINE_BY_LINE = "try: {name} = {text}\n    except NoValue: {name} = None"
_ONLY_FINITE = (
    "try:\n        {name} = {text}\n        if not isfinite({name}): {name} = None\n"
    "    except NoValue: {name} = None"
)


def _all_finite(numbers: Iterable[float | None]) -> bool:
    try:
        return all(math.isfinite(number) for number in numbers if number is not None)
    except (TypeError, OverflowError):  # a complex number, or a whole one that no float holds
        return False


class Program:
    """Lines of float arithmetic over the inputs ``v0``, ``v1``, ...; the same line is never written twice."""

    def __init__(self) -> None:
        self._names: dict[str, str] = {}  # source of a line to its variable
        self._all: dict[tuple[int, str], Callable[..., tuple]] = {}  # of so many lines: all their values

    def line(self, text: str) -> str:
        """The variable that holds the value of a source."""
        if text.isidentifier():
            return text
        return self._names.setdefault(text, f"n{len(self._names)}")

    def put(self, expression: sp.Expr, names: Mapping[str, str]) -> str:
        """The variable that holds the value of an expression; errors as of `source`."""
        if "full_turn" in names:
            return self.line(source(expression, names))
        text, words = _pattern(expression)
        return self.line(text % tuple([names[word] for word in words]))

    def values(self, inputs: Sequence[float]) -> dict[str, float]:
        """The value of every variable that has a finite one."""
        numbers = self._worked_out(_LINE_BY_LINE, inputs)
        if not _all_finite(numbers):  # lines that follow went on with it
            numbers = self._worked_out(_ONLY_FINITE, inputs)
        table = {f"v{place}": number for place, number in enumerate(inputs)}
        return table | {
            name: number for name, number in zip(self._names.values(), numbers) if number is not None
        }

    def _worked_out(self, form: str, inputs: Sequence[float]) -> tuple:
        """The value of every line, written in a form that survives a line without a value: None for that."""
        key = len(self._names), form
        if key not in self._all:
            variables = [f"v{place}" for place in range(len(inputs))]
            lines = [form.format(name=name, text=text) for text, name in self._names.items()]
            self._all = {kept: function for kept, function in self._all.items() if kept[0] == key[0]}
            self._all[key] = compile_steps(variables, lines, self._names.values())
        return self._all[key](*inputs)

    def function(self, inputs: int, results: Sequence[str]) -> Callable[..., tuple]:
        """A function of so many inputs to the values of some variables, with the lines that they need."""
        wanted, kept = set(results), []
        for text, name in reversed(self._names.items()):
            if name in wanted:
                kept.append(f"{name} = {text}")
                wanted.update(_LINE.findall(text))
        return compile_steps([f"v{place}" for place in range(inputs)], kept[::-1], results)


def compile_outputs(
    expressions: Mapping[str, sp.Expr], inputs: Mapping[str, float], scale: float = 1.0
) -> Callable[..., tuple]:
    """A function giving the value of each expression in theory's units, times a scale.

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
    results = [source(expression, names) for expression in expressions.values()]
    return compile_steps(
        arguments, lines, results if scale == 1.0 else [f"({it}) * {scale!r}" for it in results]
    )
