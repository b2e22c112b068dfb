"""Functions of the trade that sympy lacks: the involute function, its inverse, the common factor.

Each is a sympy function with a numeric twin for floats (``math``) and arrays (``numpy``); sympy's
own ``solve`` fails on the involute function, so its inverse is a function in its own right.
"""

from __future__ import annotations

import math

import numpy as np
import sympy as sp


class inv(sp.Function):
    """Involute function inv(x) = tan(x) - x of an angle x [rad], result [rad].

    >>> round(inv_number(math.radians(20)), 9)
    0.014904384
    """

    nargs = 1

    @classmethod
    def eval(cls, x):
        if isinstance(x, arcinv):
            return x.args[0]

    def fdiff(self, argindex=1):
        return sp.tan(self.args[0]) ** 2

    def _eval_is_positive(self):
        return self.args[0].is_positive

    def _eval_evalf(self, prec):
        x = self.args[0]._eval_evalf(prec)
        return (sp.tan(x) - x)._eval_evalf(prec) if x is not None and x.is_number else None

    def _latex(self, printer, exp=None):
        text = rf"\operatorname{{inv}} {printer.parenthesize(self.args[0], 70)}" if self.args[0].is_Symbol \
            else rf"\operatorname{{inv}}\left({printer._print(self.args[0])}\right)"
        return text if exp is None else rf"\left({text}\right)^{{{exp}}}"


class arcinv(sp.Function):
    """Inverse involute function: the angle [rad] in 0 to pi/2 whose involute function is x [rad].

    >>> round(math.degrees(arcinv_number(0.014904384)), 4)
    20.0
    """

    nargs = 1

    @classmethod
    def eval(cls, x):
        if isinstance(x, inv):
            return x.args[0]

    def fdiff(self, argindex=1):
        return 1 / sp.tan(arcinv(self.args[0])) ** 2

    def _eval_is_positive(self):
        return self.args[0].is_positive

    def _eval_evalf(self, prec):
        x = self.args[0]._eval_evalf(prec)
        return sp.Float(arcinv_number(float(x))) if x is not None and x.is_number else None

    def _latex(self, printer, exp=None):
        return rf"\operatorname{{arcinv}}\left({printer._print(self.args[0])}\right)"


class common_factor(sp.Function):
    """Greatest common factor of two tooth counts [-] (sympy's own gcd of two symbols is 1).

    >>> common_factor_number(18, 45)
    9.0
    """

    nargs = 2

    def _eval_is_positive(self):
        return True

    @classmethod
    def eval(cls, one, two):
        if one.is_Integer and two.is_Integer:
            return sp.Integer(math.gcd(int(one), int(two)))

    def _eval_evalf(self, prec):
        if all(a.is_number for a in self.args):
            return sp.Float(common_factor_number(*(float(a) for a in self.args)))

    def _latex(self, printer, exp=None):
        return rf"\gcd\left({', '.join(printer._print(a) for a in self.args)}\right)"


class odd_factor(sp.Function):
    """1 for an even tooth count, cos(90 deg / N) for an odd one [-]: two pins are never quite opposite then.

    >>> odd_factor_number(18), round(odd_factor_number(19), 5)
    (1.0, 0.99658)
    """

    nargs = 1

    def _eval_is_positive(self):
        return True

    def _eval_evalf(self, prec):
        if self.args[0].is_number:
            return sp.Float(odd_factor_number(float(self.args[0])))

    def _latex(self, printer, exp=None):
        n = printer._print(self.args[0])
        return rf"\left[1 \text{{ or, for odd }} {n}\text{{, }} \cos\frac{{90^\circ}}{{{n}}}\right]"


def inv_number(x: float) -> float:
    """inv(x) of a float x [rad], by series where tan(x) - x cancels; result [rad]."""
    if abs(x) < 0.1:
        y = x * x
        # Coefficients of the series of tan x (Abramowitz and Stegun 4.3.67).
        return x * y * (1 / 3 + y * (2 / 15 + y * (17 / 315 + y * (62 / 2835 + y * (1382 / 155925 + y * 21844 / 6081075)))))
    return math.tan(x) - x


def arcinv_number(y: float) -> float:
    """Angle [rad] whose involute function is y [rad]; NaN below 0 (no tooth flank has it)."""
    if not y >= 0:
        return math.nan
    if y == 0:
        return 0.0
    # Two starts: the series for small angles, the asymptote near 90 degrees; Newton does the rest.
    x = (3 * y) ** (1 / 3)
    x = x / (1 + 0.4 * x * x) ** 0.5 if y < 1.8 else math.atan(y + math.pi / 2)
    for _ in range(60):
        step = (inv_number(x) - y) / math.tan(x) ** 2
        x -= step
        if abs(step) <= 1e-16 * x:
            break
    return x


def common_factor_number(one: float, two: float) -> float:
    """Greatest common factor [-] of two counts; 1 if they are not whole."""
    if one != round(one) or two != round(two):
        return 1.0
    return float(math.gcd(round(one), round(two)))


def odd_factor_number(n: float) -> float:
    """1 for an even count, cos(pi/(2 n)) for an odd one [-]."""
    return 1.0 if round(n) % 2 == 0 else math.cos(math.pi / (2 * n))


FLOAT_TWINS = {"inv": inv_number, "arcinv": arcinv_number, "common_factor": common_factor_number, "odd_factor": odd_factor_number}
ARRAY_TWINS = {name: np.vectorize(twin, otypes=[float]) for name, twin in FLOAT_TWINS.items()}
