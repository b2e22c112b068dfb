"""All numbers of a part at once: a scope's equations compiled into one plain function."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Mapping
from functools import lru_cache

import sympy as sp
from sympy.printing.pycode import PythonCodePrinter

from .functions import FLOAT_TWINS
from .holding import first_broken
from .ranges import Bound, Range, Refusal
from .scope import FULL_TURN, Scope, symbol
from .search import Link, everything_forward
from .solving import evaluate

_PRINTER = PythonCodePrinter(
    {
        "fully_qualified_modules": False,
        "allow_unknown_functions": True,
        "user_functions": {name: f"{name}_number" for name in FLOAT_TWINS},
    }
)
_NO_VALUE = "(ValueError, ZeroDivisionError, OverflowError, NameError)"


class Told(dict[str, float]):
    """Numbers by word.

    ``refused`` tells why theory does not give some of the others, ``beyond`` what the formulas would give
    there.

    What stands in ``beyond`` is not true of the part: it is for searches that start outside a range, and for
    showing the difference.

    >>> from gearlab.theory.scope import scope_for
    >>> from gearlab.theory.systems import system
    >>> told = all_numbers(scope_for("gear", "mm", (system(),)), ("teeth", "module", "pressure_angle"))(
    ...     12.0, 2.0, math.radians(20)
    ... )
    >>> "form_radius" in told, told.refused["form_radius"].reason("mm")
    (False, 'the gear is undercut: its number of teeth is 12, and would have to be at least 17.0967')
    """

    refused: dict[str, Refusal]
    beyond: dict[str, float]


def _real(twin: Callable[..., float]) -> Callable[..., float]:
    """A function that raises where its twin has no real value, as those of ``math`` do."""

    def function(*numbers: float) -> float:
        result = twin(*numbers)
        if math.isnan(result):
            raise ValueError("no real value")
        return result

    return function


# The words of quantities are names in the compiled function too (common_factor): the functions are called
# otherwise.
_NAMES = {
    name: getattr(math, name)
    for name in ("sin", "cos", "tan", "asin", "acos", "atan", "sqrt", "pi", "log", "exp")
} | {f"{name}_number": _real(twin) for name, twin in FLOAT_TWINS.items()}


@lru_cache(maxsize=128)
def all_numbers(scope: Scope, given: tuple[str, ...]) -> Callable[..., Told]:
    """A function of the givens (floats, in order; angles in radians) to every number they determine.

    scope: the relations.
    given: words; measured numbers among them (a form radius, say) stand in place of what theory would tell.
    Returns takes the values [theory units, rad], gives a ``Told`` of word to value [theory units, rad]. A
        quantity without a real value (pointed teeth, say), or whose formula does not hold for these numbers,
        is left out with all that rests on it.

    >>> from gearlab.theory.scope import scope_for
    >>> from gearlab.theory.systems import system
    >>> numbers = all_numbers(
    ...     scope_for("gear", "in", (system(),)), ("teeth", "diametral_pitch", "pressure_angle")
    ... )
    >>> numbers(20.0, 10.0, math.radians(20))["outside_diameter"]
    2.2
    """
    words = frozenset(given)
    with scope.lock:
        links = everything_forward(scope, [symbol(word) for word in given])
        ranges = [
            (link.unknown.name, link.equation.relation, scope.bounds(link.equation, words))
            for link in links
            if link.equation
        ]
    lines = [
        f"def numbers({', '.join(given)}):",
        "    found = {" + ", ".join(f"{word!r}: {word}" for word in given) + "}",
    ]
    for link in links:
        name = link.unknown.name
        lines += [
            "    try:",
            f"        {name} = found[{name!r}] = {_code(link.expression)}",
            f"    except {_NO_VALUE}:",
            "        pass",
        ]
    broken: list[tuple[str, Range, Bound]] = []
    for word, relation, bounds in ranges:
        for bound in bounds:
            lines += [
                "    try:",
                (
                    f"        check({len(broken)}, {_code(bound.number)}, {_code(bound.limit)},"
                    f" {_code(bound.where)}, refused)"
                ),
                f"    except {_NO_VALUE}:",
                "        pass",
            ]
            broken.append((word, relation.condition, bound))
    lines.insert(2, "    refused = {}")
    lines.append("    return found, refused")
    space: dict = dict(_NAMES)

    def check(place: int, number: float, limit: float, where: float, refused: dict[str, Refusal]) -> None:
        word, span, bound = broken[place]
        if word not in refused and bound.broken(number, limit, where):
            refused[word] = Refusal(bound, span, number, limit)

    space["check"] = check
    # Our own text, made from our own relations: nothing a reader wrote is in it.
    exec(compile("\n".join(lines), f"<numbers of a {scope.kind}>", "exec"), space)  # noqa: S102
    compiled, resting = space["numbers"], _resting(links)

    def numbers(*values: float) -> Told:
        worked, refused = compiled(*values)
        told = Told(worked)
        told.refused, told.beyond = {}, {}
        for word, why in refused.items():
            for other in (word, *(() if why.span.alone else resting[word])):
                told.refused.setdefault(other, why)
                if other in told:
                    told.beyond[other] = told.pop(other)
        return told

    return numbers


def follow(scope: Scope, known: Mapping[str, float], words: Collection[str]) -> dict[str, float]:
    """Numbers of some words that follow from known ones, formula after formula as written, as far as they
    hold [theory units, rad].
    """
    values = {symbol(word): number for word, number in known.items()} | {FULL_TURN: 2 * math.pi}
    equations = [
        equation
        for equation in scope.equations
        if equation.left.name in words and equation.left.name not in known
    ]
    followed: dict[str, float] = {}
    while ready := [
        equation
        for equation in equations
        if all(letter in values for letter in equation.symbols if letter is not equation.left)
    ]:
        for equation in ready:
            equations.remove(equation)
            try:
                number = evaluate(equation.right, values)
            except (ValueError, OverflowError):
                continue
            if (
                equation.left not in values
                and first_broken(scope, [equation], values | {equation.left: number}) is None
            ):
                values[equation.left] = followed[equation.left.name] = number
    return followed


@lru_cache(maxsize=4096)  # the same formulas and limits come again with every other choice of givens
def _code(expression: sp.Expr) -> str:
    return _PRINTER.doprint(expression.subs(FULL_TURN, 2 * sp.pi))


def _resting(links: list[Link]) -> dict[str, tuple[str, ...]]:
    """What rests on each number, one step or more away, by word."""
    rests: dict[str, set[str]] = {
        link.unknown.name: {s.name for s in link.expression.free_symbols} for link in links
    }
    upon: dict[str, list[str]] = {word: [] for word in rests}
    for link in links:  # each stands after what it needs
        word = link.unknown.name
        deep = set().union(*(rests[need] for need in rests[word] if need in rests)) | rests[word]
        rests[word] = deep
        for need in deep & rests.keys():
            upon[need].append(word)
    return {word: tuple(others) for word, others in upon.items()}
