"""A number worked out as it was typed: signs, brackets, fractions, mixed numbers, powers, functions, pi.

A hyphen without spaces between a whole number and a proper fraction makes a mixed number; a subtraction has
spaces. What is scanned here is worked out by the expression reader.
"""

from __future__ import annotations

import re

from gearlab.practice.formulas.expression import ExpressionError, parse
from gearlab.practice.typed.tokens import Token, Tokens, Typed, Unread, canonical, decimal
from gearlab.quoting import short

__all__ = ["Working"]

_THREE = re.compile(r"[0-9]{1,15}")


class Working:
    """Scans a number or a working from a token on, as far as it goes."""

    def __init__(self, tokens: Tokens, asked: str, start: int):
        self.tokens, self.asked, self.place = tokens, asked, start
        self.pieces: list[str] = []
        self.numbers: list[Token] = []
        self.depth, self.brackets, self.hyphened = 0, 0, 0
        self.operators: list[str] = []
        self.inner = self.tight = False
        self.tight_places: list[bool] = []

    def read(self) -> tuple[Typed, int]:
        """What it comes to, and the token behind it."""
        tokens = self.tokens
        while True:
            self._operand()
            if not self._operator():
                break
            if self.place >= len(tokens):
                raise Unread("The working stops too early; write one number.")
        if self.depth:
            raise Unread("A bracket is not closed; write the number alone.")
        return self._worked_out(), self.place

    def _operand(self) -> None:
        """Signs, opening brackets, functions, and one number."""
        tokens, signs = self.tokens, 0
        while self.place < len(tokens):
            token = tokens[self.place]
            if token.kind == "sign" and token.text in "+-" and not signs:
                signs += 1
                self.pieces.append(token.text)
            elif token.text == "(":
                signs, self.depth, self.brackets = 0, self.depth + 1, self.brackets + 1
                self.pieces.append("(")
            elif self.tokens.function(self.place):
                signs = 0
                self.operators.append("function")
                self.pieces.append(" " + token.text.lower())
                if tokens[self.place + 1].kind == "number":  # cos 20°
                    self.pieces += ["(", canonical(tokens[self.place + 1].text), ")"]
                    self.numbers.append(tokens[self.place + 1])
                    self.place += 2
                    self._degrees()
                    return
            else:
                break
            self.place += 1
        if (
            self.place == len(tokens)
            or not self.tokens.starts(self.place)
            or tokens[self.place].kind == "sign"
        ):
            raise Unread("Something is missing or too much; write one number, with its unit behind it.")
        self._number(tokens[self.place])
        self.place += 1
        if self.depth:
            self._degrees()

    def _degrees(self) -> None:
        tokens = self.tokens
        if self.place < len(tokens) and tokens[self.place].text.lower() in ("°", "deg"):
            self.place += 1

    def _number(self, token: Token) -> None:
        self.numbers.append(token)
        if token.kind == "word":
            self.operators.append("pi")
            self.pieces.append(" pi ")
        elif token.kind == "number":
            self.pieces.append(canonical(token.text))
        else:
            whole, top, bottom = map(int, _THREE.findall(token.text))
            if bottom == 0:
                raise Unread("The fraction has a zero below the line.")
            tight = token.kind == "hyphened"
            if top >= bottom:
                raise Unread(
                    f"“{short(token.text)}” is no mixed number, its fraction is not below one: write a"
                    " subtraction with spaces around the minus, or write one number."
                    if tight
                    else "Two numbers were typed; write one number only, or a mixed number."
                )
            if self.pieces and self.pieces[-1] in ("/", "^") or tight and self.operators:
                raise Unread(
                    f"“{short(token.text)}” can be read two ways in a working; put a mixed number in brackets"
                    " with a space, a subtraction with spaces around its minus."
                )
            self.hyphened += tight
            self.pieces.append(f"({whole}+{top}/{bottom})")

    def _operator(self) -> bool:
        """What stands between two numbers; False where the working ends."""
        tokens = self.tokens
        while self.place < len(tokens):
            token = tokens[self.place]
            text = token.text
            if text == ")" and self.depth:
                self.depth -= 1
                self.pieces.append(")")
                self.place += 1
            elif token.kind == "word" and text.lower() == "pi":
                self._pi(token)
                self.place += 1
            elif (
                tokens.function(self.place) or text == "(" and not token.spaced and tokens.starts(self.place)
            ):
                self.operators.append("*")
                self.pieces.append("*")
                return True
            elif text in ("*", "/", "^", "**", "+", "-"):
                if not tokens.starts(self.place + 1):
                    return False
                self._sign(token, tokens[self.place + 1])
                self.place += 1
                return True
            elif not self._inner_unit():
                return False
        return False

    def _pi(self, token: Token) -> None:
        """Times pi: 5/2 π is five halves of pi, while 5/2π can be meant in two ways."""
        fraction = len(self.pieces) > 2 and self.pieces[-2] == "/" and len(self.numbers) > 1
        if fraction and token.spaced and not self.numbers[-1].spaced:
            self.pieces[-3:] = ["(", *self.pieces[-3:], ")"]
        self.operators.append("pi")
        self.pieces.append(" pi ")

    def _sign(self, token: Token, after: Token) -> None:
        text = "^" if token.text == "**" else token.text
        if text == "-":
            if token.spaced != after.spaced:
                raise Unread(
                    "A minus with a space on one side only can be read two ways; write a subtraction with"
                    " spaces on both sides, a mixed number with none."
                )
            if self.hyphened:
                raise Unread("A mixed number with a hyphen stands alone; in a working write it in brackets.")
            self.tight_places.append(not token.spaced)
        elif self.hyphened:
            raise Unread("A mixed number with a hyphen stands alone; in a working write it in brackets.")
        self.operators.append(text)
        self.pieces.append(text)

    def _inner_unit(self) -> bool:
        """Step over a unit that stands inside the working."""
        tokens = self.tokens
        unit, end = tokens.unit_at(self.place, self.asked)
        if not unit or end >= len(self.tokens):
            return False
        text = self.tokens[end].text
        if (text == ")" and self.depth) or (text in ("*", "/", "+", "-") and tokens.starts(end + 1)):
            self.inner, self.place = True, end
            return True
        return False

    def _worked_out(self) -> Typed:
        pieces, numbers = self.pieces, self.numbers
        signed = pieces[0] in "+-"
        negative = pieces[0] == "-"
        bare = pieces[1:] if signed else pieces
        if len(numbers) == 1 and numbers[0].kind == "number" and not self.operators:
            readings = decimal(numbers[0].text)
            (value, place), *others = [(-value if negative else value, place) for value, place in readings]
            if self.brackets:
                others = []
            return Typed(value, "", place, signed, "", others[0] if others else None, True, self.inner)
        power = _power(bare, numbers)
        if power is not None:
            value, place = power
            return Typed(-value if negative else value, "", place, signed, inner=self.inner)
        if any(len(decimal(number.text)) > 1 for number in numbers if number.kind == "number"):
            raise Unread(
                "A comma in a fraction or a working can be read two ways; write decimals with a point."
            )
        if self.operators == ["/", "/"] and len(bare) == 5 and all("." not in piece for piece in bare):
            raise Unread("Two fraction lines can be read two ways, or as a date; write one number.")
        plain = all(number.kind == "number" for number in numbers)
        if self.operators == ["-"] and len(bare) == 3 and plain:
            first, second = float(bare[0]), float(bare[2])
            if first < second <= 2 * first and not negative:
                raise Unread("This can be a range; write one number only.")
        return self._evaluated(signed, negative, bare)

    def _evaluated(self, signed: bool, negative: bool, bare: list[str]) -> Typed:
        try:
            tree = parse("".join(self.pieces), {})
        except ExpressionError as error:
            numbers = re.findall(r"[0-9]+", str(error))  # no limit of ours may stand where a number is asked
            own = all(number in self.tokens.text() for number in numbers)
            told = str(error) if own else "This working goes too far."
            raise Unread(f"{told} Or work it out and write one number.") from None
        value = tree.value({})
        if value is None:
            zero = "/" in self.operators
            raise Unread(
                "The working has no value: is there a zero below a line? Write one number."
                if zero
                else "The working has no value; write one number."
            )
        tight = bool(self.tight_places) and all(self.tight_places) and set(self.operators) == {"-"}
        typed = Typed(
            value, "", 0.0, signed and not {"+", "-"} & set(self.operators), inner=self.inner, tight=tight
        )
        if self.hyphened:
            whole, top, bottom = _THREE.findall(self.numbers[0].text)
            typed.how = f"a mixed number, {'minus ' * negative}{whole} and {top}/{bottom}"
        elif self.operators.count("-") == 1 and set(self.operators) <= {"-", "/"} and not self.brackets:
            typed.how = f"a subtraction, {tree.text()}"
        elif self.operators and (self.operators != ["/"] or self.brackets or len(bare) != 3):
            typed.how = f"worked out from {tree.text()}"
        return typed


def _power(pieces: list[str], numbers: list[Token]) -> tuple[float, float] | None:
    """A number times a power of ten, with its last place; None where it is something else."""
    text = "".join(pieces[1:])
    match = re.fullmatch(r"\*10\^(?:\(?([+-]?[0-9]{1,3})\)?)", text) if len(pieces) > 3 else None
    if match is None or numbers[0].kind != "number":
        return None
    exponent = int(match[1])
    if abs(exponent) > 30:
        raise Unread("This power of ten is too large to be part of an answer here.")
    value, place = decimal(numbers[0].text)[0]
    return value * 10.0**exponent, place * 10.0**exponent
