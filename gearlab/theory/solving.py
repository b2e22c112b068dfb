"""Rearranging one equation for one unknown, and working out a number from an expression.

sympy's general ``solve`` is slow and stumbles over the involute function. A teaching formula is
nearly always undone by hand: take the unknown's side and peel off one operation after another.
Roots are chosen by a *world*: numbers of a real gear pair for which every relation holds, so that
a root outside the quantity's range (an angle from a cosine, say) falls away.

No algebra is unbounded: before sympy expands, solves or factors, the size of what it is given, and of what
may come out, is counted, and each search has so many steps to spend (``Effort``). Steps are counted, never
timed, so that every machine gives up at the same place.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable

import sympy as sp

from .functions import FLOAT_TWINS, arcinv, inv

_FUNCTIONS: dict[type[sp.Function], Callable[..., float]] = {
    sp.sin: math.sin,
    sp.cos: math.cos,
    sp.tan: math.tan,
    sp.acos: math.acos,
    sp.asin: math.asin,
    sp.atan: math.atan,
    sp.Abs: abs,
    sp.exp: math.exp,
    sp.log: math.log,
}
_LONG = 45  # operations
# Sizes are counted in nodes of an expression, as ``size`` does; none of the ways that were ever found needed
# half of these.
_LARGEST = 240  # of an equation that is to be solved for an unknown that stands in it more than once
_WIDEST = 150  # terms, of what an expansion may come to
_LONGEST_ROOT = 400
#: Steps that one search may take: about 2 s at the slowest set of givens that was found, on the machine of
#: DEVELOPERS.md.
STEPS = 10_000
# No formula of the trade is written with these; sympy makes them of tan(90 deg - x) and the like.
_UNTAUGHT = {
    sp.cot: lambda x: 1 / sp.tan(x),
    sp.sec: lambda x: 1 / sp.cos(x),
    sp.csc: lambda x: 1 / sp.sin(x),
    sp.acot: lambda x: sp.atan(1 / x),
    sp.asec: lambda x: sp.acos(1 / x),
    sp.acsc: lambda x: sp.asin(1 / x),
}
_UNDO = {
    sp.sin: sp.asin,
    sp.cos: sp.acos,
    sp.tan: sp.atan,
    sp.acos: sp.cos,
    sp.asin: sp.sin,
    sp.atan: sp.tan,
    inv: arcinv,
    arcinv: inv,
}


class OutOfSteps(Exception):
    """A search has taken all its steps."""


class Effort:
    """Steps that a search may still take; the same on every machine.

    >>> effort = Effort(100)
    >>> effort.spend(60)
    >>> effort.left
    40
    """

    def __init__(self, steps: int = STEPS):
        self.left = steps

    def spend(self, steps: int) -> None:
        """Take so many steps; :class:`OutOfSteps` when there are none left."""
        self.left -= steps
        if self.left < 0:
            raise OutOfSteps


def size(expression: sp.Basic) -> int:
    """Nodes of an expression [-].

    >>> size(sp.Symbol("a") * sp.Symbol("b") + 1)
    5
    """
    return 1 + sum(map(size, expression.args))


def size_with(expression: sp.Basic, sizes: dict[sp.Basic, int]) -> int:
    """Nodes of an expression once symbols are replaced by expressions of the given sizes [-], without
    replacing them.
    """
    return (
        sizes[expression]
        if expression in sizes
        else 1 + sum(size_with(part, sizes) for part in expression.args)
    )


def put_in(expression: sp.Expr, known: dict[sp.Symbol, sp.Expr]) -> sp.Expr:
    """An expression with symbols replaced, in functions that are taught [its own unit].

    >>> x, y = sp.symbols("x y", positive=True)
    >>> put_in(sp.tan(x), {x: sp.pi / 2 - y})
    1/tan(y)
    """
    return taught(expression.xreplace(known))


def taught(expression: sp.Expr) -> sp.Expr:
    """The same with sine, cosine and tangent in place of cotangent, secant and cosecant [its own unit]."""
    if not _untaught(expression):
        return expression
    return expression.replace(
        lambda part: part.func in _UNTAUGHT, lambda part: _UNTAUGHT[part.func](*part.args)
    )


def _untaught(expression: sp.Basic) -> bool:
    return type(expression) in _UNTAUGHT or any(map(_untaught, expression.args))


def evaluate(expression: sp.Expr, values: dict[sp.Symbol, float]) -> float:
    """Work out an expression in floats [its own unit]; far quicker than sympy's evalf.

    KeyError for a symbol without a value.
    ValueError where there is no real value (arc cosine of 1.2, root of a negative number, a division by
        zero).

    >>> x = sp.Symbol("x", positive=True)
    >>> evaluate(sp.sqrt(x) + sp.pi, {x: 4.0}) - math.pi
    2.0
    """
    if expression.is_Symbol:
        return values[expression]
    parts, kind = expression.args, type(expression)
    if not parts:
        return _float(expression)
    if kind in _UNTAUGHT:
        return evaluate(taught(expression), values)
    numbers = [evaluate(part, values) for part in parts]
    if expression.is_Add:
        return math.fsum(numbers)
    if expression.is_Mul:
        return math.prod(numbers)
    if expression.is_Pow:
        base, power = numbers
        if base == 0 and power < 0:
            raise ValueError("division by zero")
        if base < 0 and power != int(power):
            raise ValueError("root of a negative number")
        return base**power
    twin = _FUNCTIONS.get(kind) or FLOAT_TWINS.get(kind.__name__)
    if twin is None:
        raise ValueError(f"{kind.__name__} is no function that theory works out")
    result = twin(*numbers)
    if math.isnan(result):
        raise ValueError(f"{kind.__name__} has no real value there")
    return result


def _float(number: sp.Expr) -> float:
    if number.is_Rational:
        return number.p / number.q  # sympy's own way of making a float goes through its big numbers
    if number is sp.pi:
        return math.pi
    if not (number.is_Number or number.is_NumberSymbol):
        raise ValueError(f"{number} is no real number")
    return float(number)


def occurrences(expression: sp.Expr, symbol: sp.Symbol) -> int:
    """How often a symbol stands in an expression [-]."""
    if expression == symbol:
        return 1
    return sum(occurrences(part, symbol) for part in expression.args)


def isolate(
    left: sp.Expr,
    right: sp.Expr,
    symbol: sp.Symbol,
    worlds: list[dict[sp.Symbol, float]],
    effort: Effort | None = None,
) -> sp.Expr | None:
    """Rearrange ``left = right`` for a symbol; None where no closed form is found.

    left, right: the two sides [any one unit].
    symbol: the unknown.
    worlds: consistent numbers for every symbol; a root that does not give the unknown's number in each of
        them is dropped.
    effort: the steps of the search it is done for; without, those of one equation alone.

    >>> d, n, m = sp.symbols("d n m", positive=True)
    >>> isolate(d, n * m, n, [{d: 45.0, n: 18.0, m: 2.5}])
    d/m
    """
    solutions = roots(left, right, symbol, worlds, effort)
    return solutions[0] if solutions else None


def roots(
    left: sp.Expr,
    right: sp.Expr,
    symbol: sp.Symbol,
    worlds: list[dict[sp.Symbol, float]],
    effort: Effort | None = None,
) -> tuple[sp.Expr, ...]:
    """As :func:`isolate`, with what else solves the equation after it.

    For some numbers that may be the right one [-].

    >>> x, b, c = sp.symbols("x b c", positive=True)
    >>> roots(x**2 + c, b * x, x, [{x: 3.0, b: 5.0, c: 6.0}])
    (b/2 + sqrt(b**2 - 4*c)/2, b/2 - sqrt(b**2 - 4*c)/2)
    """
    if left == symbol and not right.has(symbol):
        return (right,)
    for side, other in ((left, right), (right, left)):
        if occurrences(side, symbol) == 1 and not other.has(symbol):
            bare = _peel(side, other, symbol)
            return (taught(bare),) if bare is not None and _fits(bare, symbol, worlds) else ()
    solutions = _roots(left - right, symbol, effort or Effort())
    fitting = next((place for place, root in enumerate(solutions) if _fits(root, symbol, worlds)), None)
    if fitting is None:
        return ()
    return (
        taught(solutions[fitting]),
        *(taught(root) for place, root in enumerate(solutions) if place != fitting),
    )


def _peel(side: sp.Expr, other: sp.Expr, symbol: sp.Symbol) -> sp.Expr | None:
    while side != symbol:
        inner = [part for part in side.args if part.has(symbol)][0]
        rest = [part for part in side.args if part is not inner]
        if side.is_Add:
            other = other - sp.Add(*rest)
        elif side.is_Mul:
            other = other / sp.Mul(*rest)
        elif side.is_Pow and side.base is inner:
            other = other ** (1 / side.exp)
        elif side.func in _UNDO:
            other = _UNDO[side.func](other)
        else:
            return None
        side = inner
    return other


def _roots(residual: sp.Expr, symbol: sp.Symbol, effort: Effort) -> list[sp.Expr]:
    nodes = size(residual)
    if nodes > _LARGEST or not may_be_solved(residual, symbol):
        return []
    effort.spend(8 * nodes)
    numerator = _numerator(residual)
    if numerator is None:
        return []
    if not numerator.is_polynomial(symbol):
        # A square root that holds the unknown: bring it to one side and square.
        radicals = [
            term
            for term in sp.Add.make_args(numerator)
            if any(p.is_Pow and p.exp == sp.Rational(1, 2) and p.has(symbol) for p in sp.Mul.make_args(term))
        ]
        if (
            len(radicals) != 1
            or not (rest := numerator - radicals[0]).is_polynomial(symbol)
            or terms(rest) ** 2 > _WIDEST
        ):
            return []
        effort.spend(8 * terms(rest) ** 2)
        numerator = sp.expand(rest**2 - radicals[0] ** 2)
        if not numerator.is_polynomial(symbol):
            return []
    coefficients = sp.Poly(numerator, symbol).all_coeffs()
    if len(coefficients) == 2:
        return [-coefficients[1] / coefficients[0]]
    if len(coefficients) == 3:
        a, b, c = coefficients
        wide = terms(b) ** 2 + terms(a) * terms(c)
        effort.spend(8 * wide)
        root = _unsigned(sp.sqrt(sp.factor(b**2 - 4 * a * c) if wide <= _WIDEST else b**2 - 4 * a * c))
        solutions = (-b + root) / (2 * a), (-b - root) / (2 * a)
        return [solution for solution in solutions if size(solution) <= _LONGEST_ROOT]
    return []


def _numerator(residual: sp.Expr) -> sp.Expr | None:
    """What must be zero where a residual is, expanded; None where that would be too long."""
    numerator = sp.fraction(sp.together(residual))[0]
    return numerator.expand() if terms(numerator) <= _WIDEST else None


def terms(expression: sp.Expr) -> int:
    """At most so many terms has an expression once it is expanded [-].

    >>> a, b = sp.symbols("a b")
    >>> terms((a + b) ** 2 * (a - 1))
    8
    """
    if expression.is_Add:
        return sum(map(terms, expression.args))
    if expression.is_Mul:
        return math.prod(map(terms, expression.args))
    if expression.is_Pow and expression.exp.is_Integer and expression.exp > 0:
        return min(terms(expression.base) ** min(int(expression.exp), 64), 10**9)
    return 1


def may_be_solved(residual: sp.Expr, symbol: sp.Symbol) -> bool:
    """False where an unknown stands in a sine or the like, or under two different roots.

    Nothing here solves that [-].
    """
    roots: set[sp.Expr] = set()
    return _algebraic(residual, symbol, roots) and len(roots) < 2


def _algebraic(expression: sp.Expr, symbol: sp.Symbol, roots: set[sp.Expr]) -> bool:
    if expression == symbol or not expression.has(symbol):
        return True
    if expression.is_Pow and not expression.exp.is_Integer:
        if not (2 * expression.exp).is_Integer:
            return False
        roots.add(expression.base)
        return _algebraic(expression.base, symbol, roots)
    if expression.is_Add or expression.is_Mul or expression.is_Pow:
        return all(_algebraic(part, symbol, roots) for part in expression.args)
    return False


def _unsigned(root: sp.Expr) -> sp.Expr:
    # The functions of our angles are positive, which sympy cannot know; a wrong guess would not fit the
    # worlds.
    return root.replace(
        lambda part: part.func is sp.Abs and part.args[0].func in (sp.sin, sp.cos, sp.tan),
        lambda part: part.args[0],
    )


def _fits(root: sp.Expr, symbol: sp.Symbol, worlds: list[dict[sp.Symbol, float]]) -> bool:
    for world in worlds:
        try:
            number = evaluate(root, world)
        except (ValueError, OverflowError, KeyError):
            return False
        if not abs(number - world[symbol]) <= 1e-8 * max(1.0, abs(world[symbol])):
            return False
    return True


def tidy(expression: sp.Expr) -> sp.Expr:
    """The shortest of a few exact rewritings of an expression [its own unit].

    >>> n1, n2, p = sp.symbols("N1 N2 P", positive=True)
    >>> tidy((n1 / p + n2 / p) / 2)
    (N1 + N2)/(2*P)
    """
    if sp.count_ops(expression) > _LONG:
        return expression  # no rewriting makes it readable, and the algebra would take seconds
    forms = [expression]
    for rewrite in (sp.together, sp.cancel, sp.factor, sp.expand):
        try:
            forms.append(rewrite(forms[-1]))
        except (sp.PolynomialError, NotImplementedError, AttributeError):
            continue
    return _spread_fraction(_shortest(dict.fromkeys(forms)))


def _shortest(forms: Iterable[sp.Expr]) -> sp.Expr:
    # A denominator may blow a decimal up into large whole numbers (2.2/P + 0.002 in): nobody wants to read
    # those. Printing is slow: only forms with equally few operations are compared as text.
    counted = [
        ((sum(abs(int(number)) >= 1000 for number in form.atoms(sp.Integer)), sp.count_ops(form)), form)
        for form in forms
    ]
    least = min(count for count, _ in counted)
    short = [form for count, form in counted if count == least]
    return short[0] if len(short) == 1 else min(short, key=lambda form: (len(text := str(form)), text))


def _spread_fraction(expression: sp.Expr) -> sp.Expr:
    """m (z - 5/2) rather than m (2 z - 5)/2: that is how it is taught, and how it is remembered."""
    if not expression.is_Mul:
        return expression
    coefficient, rest = expression.as_coeff_Mul()
    if not coefficient.is_Rational or coefficient.is_Integer:
        return expression
    for part in sp.Mul.make_args(rest):
        if (
            part.is_Add
            and any(term.is_Rational for term in part.args)
            and all(
                (term.as_coeff_Mul()[0] * coefficient).is_Integer
                for term in part.args
                if not term.is_Rational
            )
        ):
            return sp.Add(*(term * coefficient for term in part.args)) * (rest / part)
    return expression
