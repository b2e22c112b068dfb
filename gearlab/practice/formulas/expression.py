"""An expression as a student types it, read by a tokenizer and a recursive parser of our own.

The same small language serves the question banks (formulas of wrong answers, conditions on a draw).  Nothing
typed is ever handed to Python or to sympy's own parser: the text becomes a tree of a few node kinds, and the
tree is evaluated with floats, or written out to be shown.

Angles are degrees.  The argument of sin, cos, tan and inv is taken in degrees unless ``rad(...)`` or ``pi``
stands in it.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from html import escape

from gearlab.practice.formulas.formula import (
    ANGLE_FUNCTIONS,
    BANK_FUNCTIONS,
    COMPARISONS,
    ENVIRONMENT,
    GREEK,
    LOGIC,
    PLAIN_FUNCTIONS,
    ExpressionError,
    Node,
    as_mathml,
    as_source,
    as_text,
    in_radians,
    words_in,
    worked_out,
)
from gearlab.quoting import short

__all__ = ["Expression", "ExpressionError", "Parser", "compile_formula", "parse", "spellings"]


@dataclass(frozen=True)
class Expression:
    """A parsed expression: its nodes, the words in it, and word and symbol of what may stand in it."""

    tree: Node
    words: frozenset
    symbols: tuple = ()

    def value(self, numbers: Mapping[str, float]) -> float | None:
        """Its value for numbers by word (angles in degrees), or None where it has none (a division by zero,
        say).
        """
        try:
            value = worked_out(self.tree, numbers)
        except (ArithmeticError, ValueError):
            return None
        return value if isinstance(value, (int, float)) and math.isfinite(value) else None

    def text(self) -> str:
        """The expression as it was read, in plain text with every * and parenthesis written."""
        return as_text(self.tree, dict(self.symbols))

    def mathml(self) -> str:
        """The expression as it was read, typeset; nothing in it is worked out."""
        spoken = escape(self.text(), quote=True)
        return f'<math aria-label="{spoken}">{as_mathml(self.tree, dict(self.symbols))}</math>'


def parse(text: str, names: Mapping[str, str], *, bank: bool = False) -> Expression:
    """Read an expression of at most 200 characters, nested at most 20 deep; `names` as of `spellings`.

    A question bank may use lcm, mod, floor, ceil, nearest, min, max and comparisons too. ExpressionError with
    a sentence for the student.

    >>> names = spellings({"driver_teeth": "N1", "driven_teeth": "N2", "diametral_pitch": "P"})
    >>> parse("(N1+N_2)/(2P)", names).value({"driver_teeth": 18, "driven_teeth": 45, "diametral_pitch": 10})
    3.15
    >>> parse("N1/2P", names)
    Traceback (most recent call last):
    gearlab.practice.formulas.formula.ExpressionError: “/2P” can mean two things: write /(2*P) or /2*P.
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
    return eval(f"lambda {arguments}: {as_source(tree, places)}", ENVIRONMENT)  # noqa: S307 (our own source, from the tree)


# -- the grammar ------------------------------------------------------------------------------------
LONGEST = 200  # characters of a student's text
LONGEST_IN_BANK = 500
DEEPEST = 20  # levels of nesting
LARGEST_POWER = 20

_LOWERED = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")
_RAISED = {raised: digit for digit, raised in enumerate("⁰¹²³⁴⁵⁶⁷⁸⁹")}
_SAME = str.maketrans(
    {
        **dict.fromkeys("−‐‑–—", "-"),
        **dict.fromkeys("×·⋅∙", "*"),
        "÷": "/",
        "∕": "/",
        "⁄": "/",
        "√": "sqrt",
        "Φ": "φ",
        **dict.fromkeys("\u00a0\u2009\u202f\u2007\t\n\r", " "),
        "[": "(",
        "]": ")",
        "π": " pi ",
        "½": "(1/2)",
        "¼": "(1/4)",
        "¾": "(3/4)",
        "°": " ",
    }
)
_LEFT = r"[A-Za-z\u0370-\u03ff∆][A-Za-z0-9_\u0370-\u03ff∆₀-₉]{0,30}"
_RESULT = re.compile(rf"^\s*(?:\|\s*{_LEFT}\s*\||{_LEFT}(?: [A-Za-z][A-Za-z0-9_]{{0,20}}){{0,4}})\s*=(?!=)")
# What students type and a bank does not: a formula out of LaTeX, a decimal comma, a colon or an x between.
_FRACTION = re.compile(r"\\[dt]?frac\s*\{([^{}]*)\}\s*\{([^{}]*)\}")
_COMMAND = re.compile(r"\\([A-Za-z]+|[,;! ])")
_COMMANDS = {"cdot": "*", "times": "*", "left": "", "right": "", **dict.fromkeys(",;! ", " ")}
_BRACES = str.maketrans("{}", "()")
_INDEX = re.compile(r"([_^])\{([A-Za-z0-9]{1,9})\}")
_CAPITAL = re.compile(r"\\(Delta) ?_?(?=[A-Za-z])")
_COMMA = re.compile(r"(?<![A-Za-z0-9_.,])([0-9]+),([0-9]+)(?![0-9.,])")
_X_BETWEEN = re.compile(r"(?<=[A-Za-z0-9_)]) [xX] (?=[A-Za-z0-9(\u0370-\u03ff])")
_TOKEN = re.compile(
    r"\s*(?:(?P<number>(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,2}(?![0-9A-Za-z_]))?)"
    r"|(?P<name>[A-Za-z\u0370-\u03ff∆][A-Za-z0-9_\u0370-\u03ff∆₀-₉]*)"
    r"|(?P<raised>⁻?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)"
    r"|(?P<sign>\*\*|<=|>=|==|!=|[-+*/^(),<>]))"
)


class Parser:
    """Reads one text; see `gearlab.practice.formulas.expression.parse`."""

    def __init__(self, text: str, names: Mapping[str, str], bank: bool):
        longest = LONGEST_IN_BANK if bank else LONGEST
        if len(text) > longest:
            raise ExpressionError(f"This is too long: at most {longest} characters.")
        self.names, self.bank = names, bank
        self.folded: dict[str, set[str]] = {}
        for spelling, word in names.items():
            self.folded.setdefault(spelling.lower(), set()).add(word)
        self.words: set[str] = set()
        self.tokens: list[tuple[str, str]] = []
        text = text.translate(_SAME)
        if not bank:
            text = _as_typed(text, names)
        place = 0
        while place < len(text):
            match = _TOKEN.match(text, place)
            if match is None or match.lastgroup is None:
                if not text[place:].strip():
                    break
                raise ExpressionError(f"“{short(text[place:].strip()[0])}” cannot be read in an expression.")
            kind = match.lastgroup
            piece = match[kind]
            if kind == "name":
                self._name(piece)
            elif kind == "raised":
                digits = "".join(str(_RAISED[raised]) for raised in piece.lstrip("⁻"))
                below = [("sign", "-")] if piece[0] == "⁻" else []
                self.tokens += [("sign", "^"), *below, ("number", digits)]
            else:
                self.tokens.append((kind, piece))
            place = match.end()
        self.place = 0
        self.depth = 0

    # -- names -----------------------------------------------------------------------------------------
    def _name(self, piece: str) -> None:
        """Put the tokens of one run of letters.

        A known name, a function, or several names written together.
        """
        token = self._known(piece)
        if token:
            self.tokens.append(token)
            return
        parts = self._split(piece)
        if parts is None:
            first: dict[str, str] = {}
            for spelling, word in self.names.items():  # the symbol comes first
                first.setdefault(word, spelling)
            allowed = ", ".join(first.values())
            raise ExpressionError(
                f"“{short(piece)}” is not one of the quantities here; write it with"
                f" {allowed or 'numbers only'}.",
                piece,
            )
        self.tokens += parts

    def _known(self, piece: str) -> tuple[str, str] | None:
        spelled = _plain_name(piece)
        if self.bank and (piece in LOGIC or piece in BANK_FUNCTIONS):
            return ("sign" if piece in LOGIC else "function"), piece
        if piece in self.names or spelled in self.names:
            return "word", self.names.get(piece) or self.names[spelled]
        if spelled in ("pi", "Pi", "PI"):
            return "pi", "pi"
        lower = "sqrt" if spelled.lower() == "root" else spelled.lower()
        if lower in PLAIN_FUNCTIONS or lower in ANGLE_FUNCTIONS:
            return "function", lower
        folded = self.folded.get(lower, ())
        return ("word", next(iter(folded))) if len(folded) == 1 else None

    def _split(self, piece: str) -> list[tuple[str, str]] | None:
        """The only way to part a run of letters into known names ("N1N2"), or None when there is none or more
        than one.
        """
        length = len(piece)
        ways = [0] * length + [1]
        first: list[int] = [0] * length
        for start in range(length - 1, -1, -1):
            for end in range(start + 1, min(length, start + 30) + 1):
                part = piece[start:end]
                if ways[end] and (
                    part in self.names
                    or _plain_name(part) in self.names
                    or part == "pi"
                    or part in ANGLE_FUNCTIONS
                    or part == "sqrt"
                ):
                    ways[start] = min(2, ways[start] + ways[end])
                    first[start] = end
        if ways[0] != 1:
            return None
        parts: list[tuple[str, str]] = []
        start = 0
        while start < length:
            token = self._known(piece[start : first[start]])
            assert token is not None  # only what is known was parted off above
            parts.append(token)
            start = first[start]
        return parts

    # -- grammar ---------------------------------------------------------------------------------------
    def read(self) -> tuple[Node, frozenset]:
        """The tree, and the words that stand in it."""
        if not self.tokens:
            raise ExpressionError("Nothing was typed.")
        if ("sign", ",") in self.tokens and not any(kind == "function" for kind, _ in self.tokens):
            raise ExpressionError("Write decimals with a point in an expression, not with a comma.")
        tree = self.whole()
        kind, piece = self.next()
        if kind != "end":
            if piece == ")":
                raise ExpressionError("There is a closing parenthesis too many.")
            if piece in COMPARISONS:
                raise ExpressionError("Write the expression alone, without comparison signs.")
            raise ExpressionError(f"“{short(piece)}” is not expected there.")
        return tree, frozenset(self.words)

    def next(self) -> tuple[str, str]:
        """Kind and text of the token to come."""
        return self.tokens[self.place] if self.place < len(self.tokens) else ("end", "")

    def whole(self) -> Node:
        """What may stand between parentheses: in a question bank also conditions joined by and, or."""
        if not self.bank:
            return self.sum()
        tree = self.both()
        while self.next()[1] == "or":
            self.place += 1
            tree = ("or", tree, self.both())
        return tree

    def both(self) -> Node:
        """Conditions joined by and."""
        tree = self.condition()
        while self.next()[1] == "and":
            self.place += 1
            tree = ("and", tree, self.condition())
        return tree

    def condition(self) -> Node:
        """A comparison, or a sum alone."""
        if self.next()[1] == "not":
            self.place += 1
            return ("not", self.condition())
        tree = self.sum()
        if self.next()[1] in COMPARISONS:
            operator = self.next()[1]
            self.place += 1
            tree = (operator, tree, self.sum())
        return tree

    def sum(self) -> Node:
        """Products with + and - between them."""
        self.depth += 1
        if self.depth > DEEPEST:
            raise ExpressionError(f"This is nested too deeply: at most {DEEPEST} levels.")
        tree = self.product()
        while self.next()[1] in ("+", "-"):
            operator = self.next()[1]
            self.place += 1
            tree = (operator, tree, self.product())
        self.depth -= 1
        return tree

    def product(self) -> Node:
        """Factors with *, / or nothing between them."""
        tree = self.signed()
        divided = False  # whether the factor just read stands below a line without parentheses
        while True:
            kind, piece = self.next()
            if piece in ("*", "/"):
                self.place += 1
                tree = (piece, tree, self.signed())
                divided = piece == "/"
            elif kind in ("word", "pi", "function", "number") or piece == "(":
                before, (_, after) = self.tokens[self.place - 1], self.next()
                if kind == "number":
                    left = short(_symbol_of(self.names, before), 20)
                    raise ExpressionError(f"Write a * between “{left}” and “{short(after, 20)}”.")
                if divided:
                    shown = _symbol_of(self.names, before), _symbol_of(self.names, (kind, after))
                    raise ExpressionError(
                        f"“/{shown[0]}{shown[1]}” can mean two things: write "
                        f"/({shown[0]}*{shown[1]}) or /{shown[0]}*{shown[1]}."
                    )
                tree = ("*", tree, self.power())
            else:
                return tree

    def signed(self) -> Node:
        """A power with any number of signs before it."""
        negative = False
        while self.next()[1] in ("+", "-"):
            negative ^= self.next()[1] == "-"
            self.place += 1
        tree = self.power()
        return ("negative", tree) if negative else tree

    def power(self) -> Node:
        """An atom, raised to a plain number or not."""
        base = self.atom()
        if self.next()[1] not in ("^", "**"):
            return base
        self.place += 1
        negative = self.next()[1] == "-"
        if negative:
            self.place += 1
        exponent = self.atom()
        if self.next()[1] in ("^", "**"):
            raise ExpressionError("A power of a power needs parentheses.")
        size = _constant(exponent)
        if size is None or abs(size) > LARGEST_POWER:
            raise ExpressionError(f"A power must be a plain number, at most {LARGEST_POWER}.")
        if not words_in(base):
            value = _constant(("^", base, exponent))
            if value is None or abs(value) > 1e100:
                raise ExpressionError("This power has no value, or one that is too large.")
        return ("^", base, ("negative", exponent) if negative else exponent)

    def atom(self) -> Node:
        """A number, a name, a function with its arguments, or parentheses."""
        kind, piece = self.next()
        self.place += 1
        if kind == "number":
            if math.isinf(value := float(piece)):
                raise ExpressionError(f"The number “{short(piece)}” is too large.")
            return ("number", value, piece)
        if kind == "pi":
            return ("pi",)
        if kind == "word":
            self.words.add(piece)
            return ("name", piece)
        if kind == "function":
            return self.call(piece)
        if piece == "(":
            tree = self.whole()
            self.close()
            return tree
        if kind == "end":
            raise ExpressionError("The expression stops too early.")
        raise ExpressionError(f"“{short(piece)}” is not expected there.")

    def call(self, function: str) -> Node:
        """The arguments of a function."""
        count = (PLAIN_FUNCTIONS.get(function) or BANK_FUNCTIONS.get(function) or (1,))[0]
        exponent = self._power_of(function) if self.next()[1] in ("^", "**") else None
        if self.next()[1] == "(":
            self.place += 1
            arguments = [self.sum()]
            while self.next()[1] == ",":
                self.place += 1
                arguments.append(self.sum())
            self.close()
        elif self.next()[0] in ("word", "number", "pi"):
            arguments = [self.atom()]
            if self.next()[0] in ("word", "number", "pi", "function") or self.next()[1] == "(":
                raise ExpressionError(f"Put what belongs to {function} in parentheses.")
        else:
            raise ExpressionError(f"Write {function}(...), with parentheses.")
        if len(arguments) != count:
            raise ExpressionError(
                f"{function} takes {count} value{'s' if count > 1 else ''}, not {len(arguments)}."
            )
        if function in ANGLE_FUNCTIONS and not in_radians(arguments[0]):
            arguments = [("call", "rad", tuple(arguments))]
        called = ("call", function, tuple(arguments))
        return called if exponent is None else ("^", called, exponent)

    def _power_of(self, function: str) -> Node:
        """The square in sin²(phi); sin^-1 may be the inverse function, and any other power stands behind."""
        kind, piece = self.tokens[self.place + 1] if self.place + 1 < len(self.tokens) else ("end", "")
        if function not in ANGLE_FUNCTIONS or kind != "number" or piece not in ("2", "3"):
            raise ExpressionError(f"Write the power behind the parenthesis: {function}(...)^2.")
        self.place += 2
        return ("number", float(piece), piece)

    def close(self) -> None:
        """The parenthesis that has to come."""
        if self.next()[1] != ")":
            raise ExpressionError("A closing parenthesis is missing.")
        self.place += 1


def _as_typed(text: str, names: Mapping[str, str]) -> str:
    """A student's text without what says nothing: a name before the equals sign, marks around a formula."""
    text = text.strip()
    if len(text) > 2 and text[0] == text[-1] == "$":
        text = text[1:-1]
    text = _INDEX.sub(r"\1\2", text)
    if "\\" in text:
        text = _CAPITAL.sub(r"\1_", text)
        for _ in range(DEEPEST):
            text, fractions = _FRACTION.subn(r"((\1)/(\2))", text)
            if not fractions:
                break
        text = _COMMAND.sub(lambda match: f" {_COMMANDS.get(match[1], match[1])} ", text)
    text = text.translate(_BRACES)
    if "," in text and "gcd" not in text:
        text = _COMMA.sub(r"\1.\2", text)
    if "x" not in names and "X" not in names:
        text = _X_BETWEEN.sub("*", text)
    return _RESULT.sub("", text.replace(":", "/"), count=1)  # "C = ..." says the same as "..."


def _symbol_of(names: Mapping[str, str], token: tuple[str, str]) -> str:
    if token[0] == "word":
        return next((spelling for spelling, word in names.items() if word == token[1]), token[1])
    return token[1]


def _plain_name(piece: str) -> str:
    piece = piece.translate(_LOWERED)
    for letter, name in GREEK.items():
        piece = piece.replace(letter, name)
    return piece.replace("_", "")


def _constant(tree: Node) -> float | None:
    """The value of a tree without names, or None."""
    if words_in(tree):
        return None
    try:
        value = worked_out(tree, {})
    except (ArithmeticError, ValueError):
        return None
    return value if math.isfinite(value) else None
