"""Functions of the trade that sympy lacks: the involute function, its inverse, the common factor.

Each is a sympy function with a numeric twin for floats (``math``) and arrays (``numpy``); sympy's
own ``solve`` fails on the involute function, so its inverse is a function in its own right.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import sympy as sp
from sympy.printing.latex import LatexPrinter

# So near a whole number, a count is taken for it: the rest is rounding of the givens, or of floats.
WHOLE = 2e-3


def whole_number(count: float) -> int | None:
    """The whole number that a count is, but for rounding [-]; None where it is none.

    >>> whole_number(44.99999999), whole_number(44.9)
    (45, None)
    """
    return round(count) if math.isfinite(count) and abs(count - round(count)) <= WHOLE else None


class _Numeric(sp.Function):
    """A function of our own that has a number only where all its arguments have one.

    By its twin for floats.
    """

    def _eval_evalf(self, prec: int) -> sp.Expr | None:
        numbers = [argument.evalf() for argument in self.args]
        return (
            sp.Float(FLOAT_TWINS[type(self).__name__](*map(float, numbers)))
            if all(number.is_number for number in numbers)
            else None
        )


class inv(sp.Function):
    """Involute function inv(x) = tan(x) - x of an angle x [rad], result [rad].

    >>> round(inv_number(math.radians(20)), 9)
    0.014904384
    """

    nargs = 1

    @classmethod
    def eval(cls, x: sp.Expr) -> sp.Expr | None:
        return x.args[0] if isinstance(x, arcinv) else None

    def fdiff(self, argindex: int = 1) -> sp.Expr:
        return sp.tan(self.args[0]) ** 2

    def _eval_is_positive(self) -> bool | None:
        return self.args[0].is_positive

    def _eval_evalf(self, prec: int) -> sp.Expr | None:
        x = self.args[0]._eval_evalf(prec)
        return (sp.tan(x) - x)._eval_evalf(prec) if x is not None and x.is_number else None

    def _latex(self, printer: LatexPrinter, exp: str | None = None) -> str:
        text = (
            rf"\operatorname{{inv}} {printer.parenthesize(self.args[0], 70)}"
            if self.args[0].is_Symbol
            else rf"\operatorname{{inv}}\left({printer._print(self.args[0])}\right)"
        )
        return text if exp is None else rf"\left({text}\right)^{{{exp}}}"


class arcinv(_Numeric):
    """Inverse involute function: the angle [rad] in 0 to pi/2 whose involute function is x [rad].

    >>> round(math.degrees(arcinv_number(0.014904384)), 4)
    20.0
    """

    nargs = 1

    @classmethod
    def eval(cls, x: sp.Expr) -> sp.Expr | None:
        return x.args[0] if isinstance(x, inv) else None

    def fdiff(self, argindex: int = 1) -> sp.Expr:
        return 1 / sp.tan(arcinv(self.args[0])) ** 2

    def _eval_is_positive(self) -> bool | None:
        return self.args[0].is_positive

    def _latex(self, printer: LatexPrinter, exp: str | None = None) -> str:
        return rf"\operatorname{{arcinv}}\left({printer._print(self.args[0])}\right)"


class common_factor(_Numeric):
    """Greatest common factor of two tooth counts [-] (sympy's own gcd of two symbols is 1).

    >>> common_factor_number(18, 45)
    9.0
    """

    nargs = 2

    def _eval_is_positive(self) -> bool | None:
        return True

    @classmethod
    def eval(cls, first: sp.Expr, second: sp.Expr) -> sp.Expr | None:
        whole = first.is_Integer and second.is_Integer
        return sp.Integer(math.gcd(int(first), int(second))) if whole else None

    def _latex(self, printer: LatexPrinter, exp: str | None = None) -> str:
        return rf"\gcd\left({', '.join(printer._print(a) for a in self.args)}\right)"


class odd_factor(_Numeric):
    """1 for an even tooth count, cos(90 deg / N) for an odd one [-]: two pins are never quite opposite then.

    >>> odd_factor_number(18), round(odd_factor_number(19), 5)
    (1.0, 0.99658)
    """

    nargs = 1

    def _eval_is_positive(self) -> bool | None:
        return True

    def _latex(self, printer: LatexPrinter, exp: str | None = None) -> str:
        n = printer._print(self.args[0])
        return rf"\left[\cos\frac{{90^\circ}}{{{n}}} \text{{ for an odd count, 1 for an even one}}\right]"


class common_multiple(_Numeric):
    """Least common multiple of two counts [-].

    >>> common_multiple_number(5, 15)
    15.0
    """

    nargs = 2

    def _eval_is_positive(self) -> bool | None:
        return True

    def _latex(self, printer: LatexPrinter, exp: str | None = None) -> str:
        return rf"\operatorname{{lcm}}\left({', '.join(printer._print(a) for a in self.args)}\right)"


class even_factor(_Numeric):
    """1 for an even tooth count, 0 for an odd one [-]: half a turn from a tooth stands a tooth, or a space.

    >>> even_factor_number(46), even_factor_number(45)
    (1.0, 0.0)
    """

    nargs = 1

    def _eval_is_nonnegative(self) -> bool | None:
        return True

    def _latex(self, printer: LatexPrinter, exp: str | None = None) -> str:
        return rf"\left[1 \text{{ for even }} {printer._print(self.args[0])}\text{{, else }} 0\right]"


class remainder(_Numeric):
    """What is left of the first number after taking away the second as often as it goes [their unit].

    0 up to the second.

    >>> remainder_number(9.5, 4.0), remainder_number(-1.0, 4.0)
    (1.5, 3.0)
    """

    nargs = 2

    def _eval_is_nonnegative(self) -> bool | None:
        return True

    def _latex(self, printer: LatexPrinter, exp: str | None = None) -> str:
        first, second = (printer._print(a) for a in self.args)
        return rf"\left({first}\right) \bmod {second}"


class next_multiple(_Numeric):
    """The number, or the next whole multiple of the step above it [their unit].

    >>> next_multiple_number(44.0, 5.0), next_multiple_number(45.0, 5.0)
    (45.0, 45.0)
    """

    nargs = 2

    def _eval_is_positive(self) -> bool | None:
        return True

    def _latex(self, printer: LatexPrinter, exp: str | None = None) -> str:
        if self.args[1] == 1:
            return rf"\left[{printer._print(self.args[0])} \text{{ rounded up}}\right]"
        return rf"\operatorname{{up}}\left({', '.join(printer._print(a) for a in self.args)}\right)"


class smaller(_Numeric):
    """The smaller of two numbers [their unit].

    >>> smaller_number(15.0, 25.0)
    15.0
    """

    nargs = 2

    def _eval_is_positive(self) -> bool | None:
        return True

    def _latex(self, printer: LatexPrinter, exp: str | None = None) -> str:
        return rf"\min\left({', '.join(printer._print(a) for a in self.args)}\right)"


class best_ratio_error(_Numeric):
    """Smallest error, as a share, with which whole counts give a ratio.

    Drivers of 18 to 30, driven gears of 18 to 72 teeth [-].

    >>> round(best_ratio_error_number(22 / 7), 12)
    0.0
    """

    nargs = 1

    def _eval_is_nonnegative(self) -> bool | None:
        return True

    def _latex(self, printer: LatexPrinter, exp: str | None = None) -> str:
        return (
            rf"\min_{{18 \le N_1 \le 30}} \left|\frac{{N_2/N_1}}{{{printer._print(self.args[0])}}} - 1\right|"
        )


class opened_angle(_Numeric):
    """Operating pressure angle x [rad] for which inv(x) - inv(phi) = k cos(x), given inv(phi) [rad] and k
    [-].

    k is a backlash over twice the reference centre distance times cos(phi).

    >>> round(math.degrees(opened_angle_number(inv_number(math.radians(20)), 0.0)), 9)
    20.0
    """

    nargs = 2

    def _eval_is_positive(self) -> bool | None:
        return True

    def _latex(self, printer: LatexPrinter, exp: str | None = None) -> str:
        start, share = (printer._print(a) for a in self.args)
        return rf"\left[x \text{{ with }} \operatorname{{inv}} x - {start} = {share} \cdot \cos x\right]"


class flank_start(_Numeric):
    """Where a cut tooth's flank begins, along the line of action from the tangent point on the base circle
    [modules].

    Of the number of teeth N [-], the pressure angle phi [rad], the thickness of the tooth on the pitch circle
    s, how deep the middle of the rack's rounded tip runs below the pitch line h, the radius of that round
    rho, and how far it stands from the middle of the tooth c, all in modules. Without undercut it is N/2
    sin(phi) - (h + rho sin(phi))/sin(phi).

    >>> # 9 sin(phi) - (0.87 + 0.38 sin(phi))/sin(phi)
    >>> round(flank_start_number(18.0, math.radians(20), math.pi / 2, 0.87, 0.38, 1.2), 6)
    0.154471
    """

    nargs = 6

    def _eval_is_nonnegative(self) -> bool | None:
        return True

    def _latex(self, printer: LatexPrinter, exp: str | None = None) -> str:
        return rf"\operatorname{{start}}\left({', '.join(printer._print(a) for a in self.args)}\right)"


# Coefficients of the series of tan x from x^3 on (Maclaurin; Abramowitz and Stegun 4.3.67 with the Bernoulli
# numbers of table 23.2).
_TAN = (
    1 / 3,
    2 / 15,
    17 / 315,
    62 / 2835,
    1382 / 155925,
    21844 / 6081075,
    929569 / 638512875,
    6404582 / 10854718875,
    443861162 / 1856156927625,
    18888466084 / 194896477400625,
    113927491862 / 2900518163668125,
    58870668456604 / 3698160658676859375,
    8374643517010684 / 1298054391195577640625,
)
_SWITCH = 0.3  # [rad]; below, tan x and x agree in so many digits that their difference would lose them


def inv_number(x: float) -> float:
    """inv(x) of a float x [rad] to a relative 1e-14 up to 89 degrees, by series where tan(x) - x cancels.

    Result [rad].
    """
    if abs(x) >= _SWITCH:
        return math.tan(x) - x
    y, total = x * x, 0.0
    for coefficient in reversed(_TAN):
        total = total * y + coefficient
    return x * y * total


def arcinv_number(y: float) -> float:
    """Angle [rad] whose involute function is y [rad], to a relative 1e-14.

    NaN below 0 (no tooth flank has it).
    """
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


def common_factor_number(first: float, second: float) -> float:
    """Greatest common factor [-] of two counts; 1 if they are not whole."""
    counts = whole_number(first), whole_number(second)
    return 1.0 if counts[0] is None or counts[1] is None else float(math.gcd(counts[0], counts[1]))


def odd_factor_number(n: float) -> float:
    """1 for an even count, cos(pi/(2 n)) for an odd one [-]; NaN for a count that is not whole."""
    whole = whole_number(n)
    return math.nan if whole is None else 1.0 if whole % 2 == 0 else math.cos(math.pi / (2 * whole))


def common_multiple_number(first: float, second: float) -> float:
    """Least common multiple [-] of two counts; their product if they are not whole."""
    counts = whole_number(first), whole_number(second)
    return first * second if counts[0] is None or counts[1] is None else float(math.lcm(counts[0], counts[1]))


def even_factor_number(n: float) -> float:
    """1 for an even count, 0 for an odd one [-]; NaN for a count that is not whole."""
    whole = whole_number(n)
    return math.nan if whole is None else float(whole % 2 == 0)


def remainder_number(number: float, step: float) -> float:
    """Remainder of a number after whole steps [their unit], from 0 up to the step.

    A last bit short of a step is none.
    """
    left = number % step
    return 0.0 if step - left < 1e-12 * max(abs(number), step) else left


def next_multiple_number(number: float, step: float) -> float:
    """Next whole multiple of the step [their unit]; a last bit above a multiple counts as that multiple."""
    return math.ceil(number / step - 1e-9) * step


def smaller_number(first: float, second: float) -> float:
    """The smaller of two numbers [their unit]."""
    return min(first, second)


def best_ratio_error_number(ratio: float) -> float:
    """Smallest relative error [-] of a ratio by 18 to 30 driver teeth and 18 to 72 driven teeth."""
    return min(abs(min(72, max(18, round(ratio * teeth))) / teeth / ratio - 1) for teeth in range(18, 31))


def opened_angle_number(start: float, share: float) -> float:
    """Angle x [rad] with inv(x) - start [rad] = share [-] * cos(x).

    NaN where even touching base circles are too far apart.
    """
    low, high = 0.0, math.pi / 2
    if not inv_number(low) - start <= share:
        return math.nan
    for _ in range(200):  # the left side grows, the right side falls: halving finds the one crossing
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if inv_number(middle) - start < share * math.cos(middle):
            low = middle
        else:
            high = middle
    return middle


def flank_start_number(
    teeth: float, phi: float, thickness: float, depth: float, round_radius: float, aside: float
) -> float:
    """Length from the tangent point to the start of the flank [modules].

    Of an undercut tooth, to where the path of the rack's rounded tip leaves it.

    The round touches the tooth where the line from the pitch point through its middle leaves it; turned with
    the tooth, these points are its fillet.
    """
    radius = teeth / 2
    base = radius * math.cos(phi)
    end = radius * math.sin(phi) - (depth + round_radius * math.sin(phi)) / math.sin(phi)
    if end >= 0:
        return end
    # angle from the middle of the tooth to where its flank would leave the base circle
    half = thickness / teeth + inv_number(phi)

    def fillet(u: float) -> tuple[float, float]:
        """Radius and angle from the middle of the tooth of the point touched when the round stands u beside
        the pitch point.
        """
        stretch = 1 + round_radius / math.hypot(u, depth)
        x, y = u * stretch, radius - depth * stretch
        return math.hypot(x, y), math.atan2(x, y) - (u - aside) / radius

    def beyond(u: float) -> float:
        """How far the fillet point lies outside the flank that would be there [rad].

        Inside the base circle, as at it.
        """
        at, angle = fillet(u)
        pressure = math.acos(min(1.0, base / at))
        return angle - (half - inv_number(pressure))

    far, near = -depth / math.tan(phi), 0.0
    for _ in range(60):  # where the round passes the base circle
        middle = (far + near) / 2
        far, near = (middle, near) if fillet(middle)[0] > base else (far, middle)
    low, high = -depth / math.tan(phi), far
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if beyond(middle) > 0 else (low, middle)
    at = fillet((low + high) / 2)[0]
    return math.sqrt(max(0.0, at * at - base * base))


FLOAT_TWINS: dict[str, Callable[..., float]] = {
    "flank_start": flank_start_number,
    "inv": inv_number,
    "arcinv": arcinv_number,
    "common_factor": common_factor_number,
    "odd_factor": odd_factor_number,
    "common_multiple": common_multiple_number,
    "even_factor": even_factor_number,
    "remainder": remainder_number,
    "opened_angle": opened_angle_number,
    "next_multiple": next_multiple_number,
    "smaller": smaller_number,
    "best_ratio_error": best_ratio_error_number,
}
ARRAY_TWINS = {name: np.vectorize(twin, otypes=[float]) for name, twin in FLOAT_TWINS.items()}
