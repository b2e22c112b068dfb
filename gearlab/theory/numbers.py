"""All numbers of a part at once: a scope's equations compiled into one plain function."""

from __future__ import annotations

import math
from collections.abc import Callable
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
