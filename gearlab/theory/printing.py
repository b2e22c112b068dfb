"""Formulas for reading: LaTeX, MathML and plain text, with symbols, numbers or words put in.

A formula is typeset once, with a placeholder for every quantity; symbols or numbers are then put
in as text. That keeps a worked solution for a whole class cheap: sympy typesets no number twice.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from html import escape, unescape
from typing import TYPE_CHECKING

import sympy as sp
from sympy.printing.latex import LatexPrinter
from sympy.printing.mathml import MathMLPresentationPrinter
from sympy.printing.str import StrPrinter

from ..digits import number_text
from .quantities import Quantity, quantity, side_order
from .scope import FULL_TURN
from .smallsteps import LETTERS, Letter
from .units import SPOKEN, written

_OPEN, _SHUT = "\u27e6", "\u27e7"
_PLACE = re.compile(f"{_OPEN}(.*?){_SHUT}")
_ENTITY = re.compile("&(?!lt;|gt;|amp;|quot;|apos;)[A-Za-z]+;")
_BARE = re.compile(f"<mi>({_OPEN}.*?{_SHUT})</mi>")


def show_number(value: float, figures: int = 6) -> str:
    """A number for reading [its own unit]: six significant figures at most, no trailing zeros.

    >>> show_number(78.75), show_number(1 / 3), show_number(-6.0), show_number(0.00001234)
    ('78.75', '0.333333', '-6', '1.234e-05')
    """
    return number_text(float(value), figures, 1e-4, 1e9)


def _decimal(coefficient: sp.Rational) -> str | None:
    """A factor such as 1.25 as it is taught; None for whole numbers, halves and endless decimals."""
    if (
        not coefficient.is_Rational
        or coefficient.is_Integer
        or abs(coefficient) == sp.Rational(1, 2)
        or abs(coefficient.p) == 1
        and not 20 <= coefficient.q < 500
    ):
        return None
    rest = coefficient.q
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    return show_number(float(coefficient)) if rest == 1 else None


if TYPE_CHECKING:  # it stands before any of sympy's printers
    from sympy.printing.str import StrPrinter as _Printer
else:
    _Printer = object


class _Teaching(_Printer):
    """Term order and factors as they are taught: d + 2 a, not 2 a + d; 1.25/P, not 5/(4 P)."""

    def _as_ordered_terms(self, expr: sp.Expr, order: str | None = None) -> list[sp.Expr]:
        def rank(term: sp.Expr) -> tuple:
            coefficient, rest = term.as_coeff_Mul()
            return (
                coefficient.is_negative is True,
                rest == 1,
                coefficient not in (1, -1),
                not rest.is_Symbol,
                side_order(str(rest)),
            )

        return sorted(expr.args, key=rank)

    def _print_Mul(self, expr: sp.Expr) -> str:
        coefficient, rest = expr.as_coeff_Mul()
        decimal = _decimal(coefficient)
        if decimal is None or decimal.startswith("-"):
            return super()._print_Mul(expr)
        return super()._print_Mul(
            sp.Mul(sp.Symbol(decimal), rest, evaluate=False) if rest.is_Add else sp.Symbol(decimal) * rest
        )

    def _print_Rational(self, expr: sp.Rational) -> str:
        decimal = _decimal(expr)
        if decimal is None:
            return super()._print_Rational(expr)
        return decimal if decimal.startswith("-") else self._print(sp.Symbol(decimal))


# How the functions of our own are written, and where plain text has room for more.
_WRITTEN = {
    "inv": "inv",
    "arcinv": "arcinv",
    "common_factor": "gcd",
    "common_multiple": "lcm",
    "even_factor": "even",
    "remainder": "mod",
    "best_ratio_error": "least error",
    "next_multiple": "up",
    "smaller": "min",
}
_IN_TEXT = {
    "Abs": "abs",
    "remainder": "remainder",
    "next_multiple": "next multiple",
    "smaller": "the smaller of",
}


# What no sign of algebra says is said in words: text before, between and after the arguments.
_WORDED = {
    "even_factor": ("[1 for even ", ", else 0]"),
    "odd_factor": ("[cos(90°/", ") for an odd count, 1 for an even one]"),
    "opened_angle": ("[x with inv(x) - ", " = (", ")·cos(x)]"),
}


def _in_words(expr: sp.Expr) -> tuple[str, ...] | None:
    """The words around the arguments that are written, of a function said in words; None for all others."""
    if expr.func.__name__ == "next_multiple" and expr.args[1] == 1:
        return "[", " rounded up]"
    return _WORDED.get(expr.func.__name__)


def _is_number_name(name: str) -> bool:
    return name[:1].isdigit()


class _Latex(_Teaching, LatexPrinter):
    def _print_Symbol(self, expr: sp.Symbol, style: str = "plain"):
        if expr == FULL_TURN:
            return r"360^\circ"
        return expr.name if _is_number_name(expr.name) else f"{_OPEN}{expr.name}{_SHUT}"


class _MathML(_Teaching, MathMLPresentationPrinter):
    def _print_Symbol(self, sym: sp.Symbol, style: str = "plain"):
        name = (
            "360°"
            if sym == FULL_TURN
            else sym.name
            if _is_number_name(sym.name)
            else f"{_OPEN}{sym.name}{_SHUT}"
        )
        element = self.dom.createElement("mn" if name[:1].isdigit() else "mi")
        element.appendChild(self.dom.createTextNode(name))
        return element

    def _print_Function(self, expr: sp.Function):
        name = expr.func.__name__
        if (words := _in_words(expr)) is not None:
            return self._worded(words, expr.args)
        return self._named(_WRITTEN[name], expr.args) if name in _WRITTEN else super()._print_Function(expr)

    def _worded(self, words: Sequence[str], arguments: Sequence[sp.Expr]):
        row = self.dom.createElement("mrow")
        for number, text in enumerate(words):
            mtext = self.dom.createElement("mtext")
            mtext.appendChild(self.dom.createTextNode(text))
            row.appendChild(mtext)
            if number + 1 < len(words):
                row.appendChild(self._print(arguments[number]))
        return row

    def _named(self, name: str, arguments: Sequence[sp.Expr]):
        row = self.dom.createElement("mrow")
        head = self.dom.createElement("mi")
        head.appendChild(self.dom.createTextNode(name))
        row.appendChild(head)
        fence = self.dom.createElement("mrow")
        for position, text in enumerate(("(", ")")):
            mark = self.dom.createElement("mo")
            mark.appendChild(self.dom.createTextNode(text))
            fence.appendChild(mark)
            if position == 0:
                for number, argument in enumerate(arguments):
                    if number:
                        comma = self.dom.createElement("mo")
                        comma.appendChild(self.dom.createTextNode(","))
                        fence.appendChild(comma)
                    fence.appendChild(self._print(argument))
        row.appendChild(fence)
        return row


class _Text(_Teaching, StrPrinter):
    def _print_Symbol(self, expr: sp.Symbol):
        if expr == FULL_TURN:
            return "360°"
        return expr.name if _is_number_name(expr.name) else f"{_OPEN}{expr.name}{_SHUT}"

    def _print_Pi(self, expr: sp.Expr) -> str:
        return "π"

    def _print_Function(self, expr: sp.Function):
        name = expr.func.__name__
        if (words := _in_words(expr)) is not None:
            return words[0] + "".join(
                self._print(argument) + text for argument, text in zip(expr.args, words[1:], strict=False)
            )
        arguments = ", ".join(self._print(part) for part in expr.args)
        return f"{_IN_TEXT.get(name, _WRITTEN.get(name, name))}({arguments})"


def _in_degrees(expression: sp.Expr, form: str) -> sp.Expr:
    """What is left of a part of a turn: 90° less an angle, not half of pi less it."""
    if not expression.is_Add or len(expression.args) != 2:
        return expression
    turned = [part for part in expression.args if (part / sp.pi).is_Rational]
    angle = [
        part
        for part in expression.args
        if isinstance(-part, (sp.atan, sp.acos, sp.asin))
        or ((-part).is_Symbol and (-part).name.endswith("_angle"))
    ]
    if len(turned) != 1 or len(angle) != 1:
        return expression
    sign = r"^{\circ}" if form == "latex" else "\u00b0"
    return sp.Symbol(f"{180 * turned[0] / sp.pi}{sign}") + angle[0]


@lru_cache(maxsize=4096)
def template(expression: sp.Expr, form: str, dots: bool) -> str:
    """An expression typeset with placeholders; form "latex", "mathml" or "text"; dots between factors."""
    expression = _in_degrees(expression, form)
    if expression.is_Add:
        content, rest = expression.primitive()
        if content.p == 1 and content.q > 1:  # (d1 + d2)/2 rather than d1/2 + d2/2
            expression = sp.Mul(content, rest, evaluate=False)
    if form == "latex":
        settings = {"fold_func_brackets": True, "inv_trig_style": "full"}
        if dots:
            settings["mul_symbol"] = "dot"
        return _Latex(settings).doprint(expression)
    if form == "mathml":
        printer = _MathML({"mul_symbol": "dot"} if dots else {})
        # sympy writes some signs as HTML entities, which XML does not know.
        return _BARE.sub(
            r"\1", _ENTITY.sub(lambda entity: unescape(entity.group()), printer._print(expression).toxml())
        )
    text = _Text().doprint(expression).replace("**", "^")
    return text.replace("*", "·")


def fill(text: str, put: Callable[[str], str]) -> str:
    """Put something in for every placeholder of a template."""
    return _PLACE.sub(lambda match: put(match.group(1)), text)


def fill_quantities(text: str, put: Callable[[str, bool], str], form: str) -> str:
    """Put numbers with their units in for every placeholder of a template.

    ``put`` is told whether a number needs brackets there.

    A number with a unit is one thing: it is raised to a power, and divided by, as a whole. In a line of text
    10/in needs them beside a sign of product too.
    """

    def dressed(match: re.Match) -> str:
        before, behind = text[max(0, match.start() - 6) : match.start()], text[match.end() : match.end() + 1]
        inner = put(match.group(1), behind == "^" or before.endswith(("/", "<msup>")))
        crowded = (
            form == "text"
            and "/" in inner
            and not inner.startswith("(")
            and (before.endswith("\u00b7") or behind in ("\u00b7", "/") and behind)
        )
        return f"({inner})" if crowded else inner

    return _PLACE.sub(dressed, text)


def places(text: str) -> list[str]:
    """Words of the placeholders of a template, in order, each once."""
    return list(dict.fromkeys(_PLACE.findall(text)))


def symbol_text(word: str, form: str, notation: str) -> str:
    """The symbol of a quantity in one form.

    >>> symbol_text("driver_pitch_diameter", "latex", "inch"), symbol_text("centre_distance", "text", "iso")
    ('d_{1}', 'a')
    """
    entry: Quantity | Letter = LETTERS[word] if word in LETTERS else quantity(word)
    if isinstance(entry, Letter):
        entry = Quantity(word, entry.meaning, entry.dimension, entry.symbol, entry.symbol)
    if form == "latex":
        return entry.latex(notation)
    if form == "mathml":
        return symbol_mathml(entry, notation)
    return plain_symbol(entry.symbol(notation))


_LETTERS = {
    "phi": "φ",
    "alpha": "α",
    "theta": "θ",
    "omega": "ω",
    "epsilon": "ε",
    "zeta": "ζ",
    "rho": "ρ",
    "tau": "τ",
    "Delta": "Δ",
    "delta": "δ",
    "eta": "η",
    "xi": "ξ",
    "psi": "ψ",
    "beta": "β",
    "gamma": "γ",
    "mu": "μ",
    "nu": "ν",
    "sigma": "σ",
    "Sigma": "Σ",
}


def plain_symbol(symbol: str) -> str:
    """A symbol as plain text, Greek letters as such: rho_b as ρ_b."""
    return "_".join(map(_greek, symbol.split("_")))


def _greek(symbol: str) -> str:
    for name, letter in _LETTERS.items():
        if symbol.startswith(name):
            return letter + symbol[len(name) :].lstrip()
    return symbol


def symbol_mathml(entry: Quantity, notation: str) -> str:
    """The symbol of a quantity as MathML.

    >>> symbol_mathml(quantity("driver_outside_diameter"), "inch")
    '<msub><mi>d</mi><mi>o1</mi></msub>'
    """
    head, _, tail = (entry.inch if notation == "inch" else entry.iso).partition("_")
    head, tail = plain_symbol(head), plain_symbol(tail) + entry.index
    if not tail:
        return f"<mi>{escape(head)}</mi>"
    tag = "mn" if tail.isdigit() else "mi"
    return f"<msub><mi>{escape(head)}</mi><{tag}>{escape(tail)}</{tag}></msub>"


def quantity_text(text: str, form: str, unit: str, bracket: bool = False, result: bool = False) -> str:
    """A number already written out, with its unit, dressed for a form.

    text: the number [unit].
    form: "latex", "mathml", "text" or "spoken".
    unit: name of its unit, "" for none.
    bracket: put brackets around it where it has a unit: it stands where the unit alone would be raised or
        divided by.
    result: it stands alone behind a sign of equality, where a negative number needs no brackets.

    >>> (
    ...     quantity_text("10", "text", "1/in", bracket=True),
    ...     quantity_text("1.9", "text", "N*m"),
    ...     quantity_text("-15", "text", "rpm"),
    ... )
    ('(10/in)', '1.9 N·m', '(-15 rpm)')
    """
    negative = text.startswith("-")
    mantissa, _, power = text.partition("e")
    if form == "spoken":
        spoken = ("minus " if negative else "") + (
            f"{mantissa.lstrip('-')} times 10 to the power {int(power)}" if power else text.lstrip("-")
        )
        return f"{spoken} {SPOKEN.get(unit, written(unit))}".strip()
    if form == "latex":
        dressed = rf"{mantissa} \cdot 10^{{{int(power)}}}" if power else text
        if unit == "deg":
            dressed = rf"{{{dressed}^\circ}}"  # in braces: it may be raised to a power
        elif unit:
            dressed += (
                rf"\ \text{{{written(unit[2:])}}}^{{-1}}"
                if unit.startswith("1/")
                else rf"\ \text{{{written(unit)}}}"
            )
        return (
            rf"\left({dressed}\right)"
            if negative and not result or bracket and unit not in ("", "deg")
            else dressed
        )
    if form == "mathml":
        number = (
            f"<mn>{escape(mantissa.lstrip('-'))}</mn><mo>·</mo><msup><mn>10</mn><mn>{int(power)}</mn></msup>"
            if power
            else f"<mn>{escape(text.lstrip('-'))}</mn>"
        )
        if unit == "deg":
            number = f"<mn>{escape(text.lstrip('-'))}°</mn>"
        elif unit:
            name = f"{written(unit[2:])}⁻¹" if unit.startswith("1/") else written(unit)
            number = f"{number}<mspace width='0.3em'/><mtext>{escape(name)}</mtext>"
        if negative and not result or bracket and unit not in ("", "deg"):
            return f"<mrow><mo>(</mo>{'<mo>−</mo>' if negative else ''}{number}<mo>)</mo></mrow>"
        return (
            f"<mrow>{'<mo>−</mo>' if negative else ''}{number}</mrow>"
            if unit not in ("", "deg") or negative or power or result
            else number
        )
    dressed = f"{mantissa}·10^{int(power)}" if power and unit else text
    dressed += (
        "°" if unit == "deg" else unit[1:] if unit.startswith("1/") else f" {written(unit)}" if unit else ""
    )
    return f"({dressed})" if negative and not result or bracket and unit not in ("", "deg") else dressed
