"""All numbers of a part at once: a scope's equations compiled into one plain function."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache

import sympy as sp
from sympy.printing.pycode import PythonCodePrinter

from .functions import FLOAT_TWINS
from .scope import FULL_TURN, Scope, symbol
from .search import everything_forward

_PRINTER = PythonCodePrinter({"fully_qualified_modules": False, "allow_unknown_functions": True,
                              "user_functions": {name: f"{name}_number" for name in FLOAT_TWINS}})


def _real(twin: Callable[..., float]) -> Callable[..., float]:
    """A function that raises where its twin has no real value, as those of ``math`` do."""
    def function(*numbers: float) -> float:
        result = twin(*numbers)
        if math.isnan(result):
            raise ValueError("no real value")
        return result

    return function


# The words of quantities are names in the compiled function too (common_factor): the functions are called otherwise.
_NAMES = ({name: getattr(math, name) for name in ("sin", "cos", "tan", "asin", "acos", "atan", "sqrt", "pi", "log", "exp")}
          | {f"{name}_number": _real(twin) for name, twin in FLOAT_TWINS.items()})


@lru_cache(maxsize=128)
def all_numbers(scope: Scope, given: tuple[str, ...]) -> Callable[..., dict[str, float]]:
    """A function of the givens (floats, in order; angles in radians) to every number they determine.

    Parameters
    ----------
    scope : Scope
        The relations.
    given : tuple of str
        Words [-].

    Returns
    -------
    callable
        Takes the values [theory units, rad], gives a dict of word to value [theory units, rad]. A
        quantity without a real value (pointed teeth, say) is left out with all that rests on it.

    Examples
    --------
    >>> from gearlab.theory.scope import scope_for
    >>> from gearlab.theory.systems import system
    >>> numbers = all_numbers(scope_for("gear", "in", (system(),)), ("teeth", "diametral_pitch", "pressure_angle"))
    >>> numbers(20.0, 10.0, math.radians(20))["outside_diameter"]
    2.2
    """
    with scope.lock:
        links = everything_forward(scope, [symbol(word) for word in given])
    lines = [f"def numbers({', '.join(given)}):", "    found = {" + ", ".join(f"{word!r}: {word}" for word in given) + "}"]
    for link in links:
        name = link.unknown.name
        code = _PRINTER.doprint(link.expression.subs(FULL_TURN, 2 * sp.pi))
        lines += ["    try:", f"        {name} = found[{name!r}] = {code}", "    except (ValueError, ZeroDivisionError, UnboundLocalError):", "        pass"]
    lines.append("    return found")
    space: dict = dict(_NAMES)
    # Our own text, made from our own relations: nothing a reader wrote is in it.
    exec(compile("\n".join(lines), f"<numbers of a {scope.kind}>", "exec"), space)  # noqa: S102
    return space["numbers"]


def compile_formulas(formulas: Mapping[str, sp.Expr], inputs: Iterable[str]):
    """One fast function for many closed forms.

    Parameters
    ----------
    formulas : mapping of str to sympy.Expr
        In symbols by word, angles in radians (``Derivation.raw`` or ``.tidy``).
    inputs : iterable of str
        Words, in the order the function takes their floats [theory units, rad].

    Returns
    -------
    callable
        Takes floats, gives a tuple of floats in the order of ``formulas`` [theory units, rad].

    Examples
    --------
    >>> from gearlab.theory.derivation import derive
    >>> way = derive("pitch_diameter", given=["teeth", "diametral_pitch"])
    >>> compile_formulas({"d": way.raw}, ["teeth", "diametral_pitch"])(18.0, 10.0)
    (1.8,)
    """
    expressions = [sp.sympify(f).subs(FULL_TURN, 2 * sp.pi) for f in formulas.values()]
    return sp.lambdify([symbol(word) for word in inputs], tuple(expressions), modules=[FLOAT_TWINS, "math"], cse=True)
