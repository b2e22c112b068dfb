"""The grammar of a typed number: tokens, working, ratios, degrees with minutes, and the words around them.

    answer   = [names "="] side {("=" | "≈") side}            all sides have to agree; the last one counts
    side     = {word} (quantity | ratio | parts) {unit | word}
    quantity = number | mixed number | working                working goes through the expression reader
    ratio    = quantity (":" | "to") quantity
    parts    = number "°" number "'" ..., also hours and minutes, feet and inches (3' 4 1/2")
    share    = number "in" number                         where a share is asked

Nothing is guessed: what can be meant in two ways is refused with a sentence that says how to write either.
Sentences hold no number but the student's own, so that none can be the right one by chance.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from gearlab.practice.typed.lookalikes import plain_text
from gearlab.practice.typed.parts import family_of, part_at
from gearlab.practice.typed.simplenumber import names_a_share, simple
from gearlab.practice.typed.tokens import (
    FUNCTIONS,
    Token,
    Tokens,
    Typed,
    Unread,
    decimal,
)
from gearlab.practice.typed.units import UNITS
from gearlab.practice.typed.wording import Naming, direction
from gearlab.practice.typed.working import Working
from gearlab.quoting import short
from gearlab.theory.units import convertible

__all__ = ["understand"]

_ONE = "write one number only"
_MANY = f"More than one number was typed; {_ONE}."
# units whose quantity has a direction
_TURNING = {"speed", "angular speed", "angle", "turns"}
_LARGEST = 1e30
_DEEPEST = 12  # brackets around a side


def understand(text: str, asked: str, names: Naming) -> Typed | None:
    """What was understood of a text where the unit `asked` is asked; None where nothing was typed.

    Unread, with a sentence for the student, where it cannot be read.
    """
    text = plain_text(text)
    if text and text[-1] in ".,;" and not text[-2:-1].isdigit():
        text = text[:-1].rstrip()  # the stop behind "in." or behind a sentence
    if not text:
        return None
    if asked in ("", "1") and text[-1] in "xX*" and text[:-1].rstrip()[-1:].isdigit():
        text = text[:-1].rstrip()  # 2.5x as large
    try:
        text, turned = direction(text)
    except ValueError as error:
        raise Unread(str(error)) from None
    typed = simple(text, asked, names) or _by_grammar(text, asked, names)
    if turned:
        if typed.signed and text.lstrip("=≈ ").startswith("-"):
            raise Unread("Write either a minus sign or a direction, not both.")
        if UNITS[typed.unit or asked or "1"].dimension not in _TURNING:
            raise Unread("A direction of turning belongs to a speed or an angle only.")
        other = typed.other and (typed.other[0] * turned, typed.other[1])
        typed = replace(typed, value=typed.value * turned, signed=True, other=other)
    if not abs(typed.value) <= _LARGEST:
        raise Unread("This number is too large to be an answer here.")
    return typed


def _by_grammar(text: str, asked: str, names: Naming) -> Typed:
    """What the sides of the equals signs come to."""
    sides, about = _sides(text)
    sides, unit = _without_names(sides, asked, names)
    read = [_Side(tokens, asked, names).read() for tokens in sides]
    typed = read[0] if len(read) == 1 else _agreed(read, asked)
    if len(read) == 1:
        if typed.inner:
            raise Unread("There are units inside the working: write the result with its unit.")
        if typed.tight:
            raise Unread(
                "A minus without spaces can be a range: write a subtraction with spaces around the minus,"
                " or work it out and write one number."
            )
    if unit and not typed.unit:
        typed = replace(typed, unit=unit, other=None if unit != asked else typed.other)
    if about:
        typed = replace(typed, how=_joined("a rounded number", typed.how))
    return typed


def _joined(first: str, second: str) -> str:
    return "; ".join(part for part in (first, second) if part)


# -- sides of an equals sign -------------------------------------------------------------------------
def _sides(text: str) -> tuple[list[Tokens], bool]:
    """The sides of the equals signs, and whether a sign for "about" stands first."""
    sides: list[Tokens] = [Tokens()]
    about = False
    for token in Tokens.of(text):
        if token.kind == "sign" and token.text in "=≈":
            if token.text == "≈" and not any(sides):
                about = True
            if sides[-1] or len(sides) > 1:
                sides.append(Tokens())
            else:
                sides = [Tokens(), Tokens()]
        else:
            sides[-1].append(token)
    if len(sides) > 1 and not sides[0]:
        del sides[0]
    if any(not side for side in sides):
        raise Unread("Something is missing beside the equals sign; write one number, with its unit.")
    return sides, about


def _without_names(sides: list[Tokens], asked: str, names: Naming) -> tuple[list[Tokens], str]:
    """The sides that are numbers: names and formulas before them are left out.

    With the unit that stands in brackets behind the name, as over a column of a table: C (mm) = 78.75.
    """
    named, unit = False, ""
    while len(sides) > 1:
        name, stated = _column(sides[0], asked)
        if not _is_name(name):
            break
        words = [token.text for token in name if token.kind == "word"]
        if max(map(len, words)) > 3 and not names.fits(words, strict=False):
            raise _other_quantity(" ".join(words), names)
        sides, named, unit = sides[1:], True, stated or unit
    if len(sides) > 1 and _is_name(sides[-1]):
        shown = short(sides[-1].text())
        raise Unread(f"“= {shown}” behind a number is not a unit that can be read; write the number last.")
    while len(sides) > 1 and (named or len(sides) > 2) and _is_formula(sides[0]):
        sides = sides[1:]
    return sides, unit


def _column(side: Tokens, asked: str) -> tuple[Tokens, str]:
    """A name without its unit in brackets, and that unit."""
    for place, token in enumerate(side):
        if token.text == "(" and place:
            unit, end = side.unit_at(place + 1, asked)
            if unit and end == len(side) - 1 and side[end].text == ")":
                return Tokens(side[:place]), unit
    return side, ""


def _is_name(side: Sequence[Token]) -> bool:
    """A symbol, a ratio of two, or a few words."""
    signs = [token.text for token in side if token.kind == "sign"]
    return (
        side[0].kind == side[-1].kind == "word"
        and all(token.kind in ("word", "sign") for token in side)
        and all(sign in "/-_" for sign in signs)
        and signs.count("/") < 2
        and side[0].text.lower() not in ("pi", *FUNCTIONS)
    )


def _is_formula(side: Sequence[Token]) -> bool:
    """Whether letters stand where a number is needed."""
    before = "("
    for token in side:
        if token.kind == "word" and before in ("(", "*", "+", "-", "/", "^", "**", "pi"):
            symbol = token.text.lower() not in ("pi", *FUNCTIONS)
            if symbol:
                return before != "/" or token.text not in UNITS
        before = token.text
    return False


def _other_quantity(words: str, names: Naming) -> Unread:
    asked = f": the {names.short} is asked" if names.short else ""
    return Unread(f"“{short(words)}” is not what is asked here{asked}. Write the number and its unit alone.")


def _agreed(read: list[Typed], asked: str) -> Typed:
    """The number that all sides come to: the last one, or the one in the unit asked."""
    last = read[-1]
    if last.inner:
        raise Unread("There are units inside the working: write the result with its unit.")
    if any(side.other for side in read):
        raise Unread("A comma in a working can be read two ways; write decimals with a point.")
    for before, after in zip(read, read[1:]):
        if before.plain and after.plain and before.text == after.text and before.unit == after.unit:
            raise Unread(_MANY)
        if not _same(before, after):
            raise Unread(
                f"The two sides of the equals sign do not agree: “{short(before.text)}” does not come to"
                f" “{short(after.text)}”. Write one number."
            )
    chosen = next((side for side in read if side.unit and side.unit == asked and not side.inner), last)
    unit = chosen.unit
    if not chosen.how:
        others = [side for side in read if side is not chosen]
        beside = next((side for side in others if not side.plain), others[0])
        chosen = replace(chosen, how=f"“{short(beside.text)}” agrees")
    return replace(chosen, unit=unit)


def _same(left: Typed, right: Typed) -> bool:
    scales = [1.0]
    if left.unit and right.unit and left.unit != right.unit and not left.inner:
        scale = convertible(UNITS[left.unit], UNITS[right.unit])
        if scale is None:
            return False
        scales = [scale]
    elif "%" in (left.unit, right.unit) and left.unit != right.unit:
        scales = [1.0, 100.0 if right.unit == "%" else 0.01]
    return any(
        _rounded(left.value * scale, left.place * scale, right.value, right.place)
        or _rounded(right.value, right.place, left.value * scale, left.place * scale)
        for scale in scales
    )


def _rounded(exact: float, fine: float, value: float, place: float) -> bool:
    """Whether a value is a number rounded to its last place, or cut off there."""
    apart = abs(exact - value)
    if apart <= 0.5 * (place + fine) * (1 + 1e-9) + 1e-9 * abs(exact):
        return True
    return bool(place) and abs(math.floor(abs(exact) / place) * place - abs(value)) < 1e-6 * place


# -- one side ----------------------------------------------------------------------------------------
class _Side:
    """Reads one side."""

    def __init__(self, tokens: Tokens, asked: str, names: Naming, depth: int = 0):
        self.tokens, self.asked, self.names, self.depth = tokens, asked, names, depth
        self.left_out: list[str] = []

    def read(self) -> Typed:
        """The number of this side with its unit."""
        start = self._front()
        if start == len(self.tokens):
            raise self._no_number()
        typed = self._in_brackets(start) or self._share(start) or self._ratio(start) or self._parts(start)
        if typed is None:
            typed, end = Working(self.tokens, self.asked, start).read()
            typed = self._back(typed, end)
        if self.left_out:
            typed.how = _joined(typed.how, f"without “{short(' '.join(self.left_out))}”")
        typed.text = self.tokens.text(start)
        return typed

    def _front(self) -> int:
        """Where the number begins; what stands before it has to be words that may stand there."""
        words: list[str] = []
        colon = False
        for place, token in enumerate(self.tokens):
            if self.tokens.starts(place):
                self._check_front(words, colon)
                return place
            if token.kind == "word":
                words.append(token.text.lower())
            elif token.text == ":":
                colon = True
            elif token.text not in ",.≈" or not words:
                raise self._no_number()
        raise self._no_number()

    def _check_front(self, words: list[str], colon: bool) -> None:
        symbol = len(words) == 1 and len(words[0]) <= 3 and colon
        if not words or symbol or words == ["c"]:
            return
        if not self.names.fits(words):
            raise (
                _other_quantity(" ".join(words), self.names)
                if self.names.meaning and not self.names.fits(words, strict=False)
                else self._no_number()
            )
        self._leave_out(words)

    def _leave_out(self, words: list[str]) -> None:
        self.left_out += [word for word in words if word not in ("the", "is", "in")]

    def _no_number(self) -> Unread:
        kinds = {token.kind for token in self.tokens}
        if self.tokens.text().lower() in ("nan", "inf", "infinity", "∞"):
            return Unread("An ordinary number is needed here.")
        if self.tokens and self.tokens[0].text in ("<", ">", "≤", "≥", "±"):
            return Unread("Write the number alone, without a comparison sign.")
        if kinds & {"number", "mixed", "hyphened"}:
            return Unread("Write the number first and the unit behind it.")
        return Unread("No number was found; write one in digits, with its unit behind it.")

    def _close(self, start: int) -> int:
        """Where the bracket that opens at a token is closed; -1 where it is not."""
        depth = 0
        for place in range(start, len(self.tokens)):
            sign = self.tokens[place].text
            depth += (sign == "(") - (sign == ")")
            if depth == 0:
                return place
        return -1

    def _in_brackets(self, start: int) -> Typed | None:
        """A whole number with its unit in brackets: (1.875 in) diameter."""
        if self.tokens[start].text != "(":
            return None
        end = self._close(start)
        if end < 0:
            raise Unread("A bracket is not closed; write the number alone.")
        after = self.tokens[end + 1] if end + 1 < len(self.tokens) else None
        if after is not None and (
            after.kind != "word" and after.text not in "°%\"'(.,/" or after.text.lower() == "pi"
        ):
            return None
        if after is not None and after.text in ("/", "(") and self.tokens.starts(end + 2):
            return None
        if self.depth >= _DEEPEST:
            raise Unread("This has too many brackets; write the number alone.")
        inside = _Side(Tokens(self.tokens[start + 1 : end]), self.asked, self.names, self.depth + 1)
        typed = inside.read()
        return self._back(typed, end + 1)

    # -- behind the number --
    def _back(self, typed: Typed, place: int) -> Typed:
        """Take in the unit and the words behind a number."""
        tokens = self.tokens
        if place == len(tokens):
            return typed
        bracket = tokens[place].text == "("
        unit, end = tokens.unit_at(place + bracket, self.asked)
        if unit and bracket:
            if end < len(tokens) and tokens[end].text == ")":
                end += 1
            else:
                unit, end = "", place
        if unit and unit == "in" and tokens[end - 1].text == "in":  # in mm: a word, not inches
            other, last = tokens.unit_at(end, self.asked)
            alone = other and last == len(tokens) and tokens[end].text != "in"
            if alone and UNITS[other].dimension == UNITS[self.asked or "1"].dimension:
                unit, end = other, last
        if unit:
            if typed.unit:
                raise Unread("Two units were typed; write the number with one.")
            typed.unit = unit
        rest = tokens[end if unit else place :]
        words = [token.text.lower() for token in rest if token.kind == "word"]
        others = [token.text for token in rest if token.kind != "word"]
        shown = short(tokens.text(end if unit else place))
        numbers = ("number", "mixed", "hyphened")
        if "±" in others:
            raise Unread("Write the number alone, without what it may be off by.")
        if any(token.kind in numbers or any(map(str.isdecimal, token.text)) for token in rest):
            if rest[0].text in "*^/+-" or ":" in others or rest[0].kind == "word" and rest[0].text[0] in "xX":
                raise Unread("Work it out and write one number.")
            raise Unread(_MANY)
        ratio = " : " in typed.how
        if ":" in others and not ratio:
            raise Unread("Write the ratio as one number, or both of its sides.")
        fine = all(sign in ("(),.;-!:" if ratio else "(),.;-!") for sign in others) and others.count(
            "("
        ) == others.count(")")
        if words and fine and self.names.behind(words):
            self._leave_out(words)
            return typed
        if not rest or (not words and all(sign in ",.;!" for sign in others)):
            return typed
        if words and fine and self.names.meaning and not self.names.fits(words, strict=False):
            raise _other_quantity(shown, self.names)
        known = (
            f" The unit here is {self.asked}." if self.asked not in ("", "1") else " This answer has no unit."
        )
        raise Unread(f"“{shown}” is not a unit that can be read.{known}")

    # -- a share --
    def _share(self, start: int) -> Typed | None:
        """1 in 3, or 2 out of 3, where a share is asked."""
        shared = names_a_share(self.asked, self.names)
        if len(self.tokens) < start + 3 or self.tokens[start].kind != "number":
            return None
        words = ("in",), ("of",), ("out", "of"), ("in", "every")
        for link in words:
            end = start + 1 + len(link)
            if tuple(token.text.lower() for token in self.tokens[start + 1 : end]) != link:
                continue
            if end == len(self.tokens) or self.tokens[end].kind != "number":
                continue
            if not shared and self.names.order and link[0] == "in":
                raise Unread("Write the ratio as one number, or both of its sides with a colon between them.")
            part, whole = (decimal(self.tokens[place].text) for place in (start, end))
            if not shared or len(part) > 1 or len(whole) > 1 or not whole[0][0]:
                return None
            how = self.tokens.text(start, end + 1)
            typed = self._back(Typed(part[0][0] / whole[0][0], how=how), end + 1)
            typed.unit = typed.unit or "1"
            return typed
        return None

    # -- a ratio --
    def _ratio(self, start: int) -> Typed | None:
        """45:18, or 2.5 to 1."""
        marks = [
            place
            for place in range(start, len(self.tokens))
            if (self.tokens[place].text == ":" and self.tokens.starts(place + 1))
            or (self.tokens[place].kind == "word" and self.tokens[place].text.lower() == "to")
        ]
        if len(marks) != 1 or not self.tokens.starts(marks[0] + 1):
            return None
        mark = marks[0]
        order = self.names.order
        if self.asked not in ("", "1") or order == ():
            if self.tokens[mark].text != ":":
                raise Unread(f"Two numbers with “to” between them are a range; {_ONE}.")
            raise Unread("A ratio with a colon does not fit here; work it out and write one number.")
        sides = []
        for first, last in ((start, mark), (mark + 1, len(self.tokens))):
            part = _Side(Tokens(self.tokens[first:last]), "teeth" if last == mark else self.asked, self.names)
            typed, end = Working(part.tokens, self.asked, 0).read()
            typed.text = part.tokens.text(0, end)
            unit, after = part.tokens.unit_at(end, self.asked)
            if unit and (after == len(part.tokens) or last != mark):
                typed.unit, end = unit, after
            if last == mark and end != len(part.tokens):
                raise Unread("Write a ratio as two numbers with a colon between them.")
            sides.append((typed, part, end))
        (top, _, _), (bottom, part, end) = sides
        if bottom.value == 0:
            raise Unread("The ratio has a zero on its second side.")
        if top.other or bottom.other:
            raise Unread("A comma in a ratio can be read two ways; write decimals with a point.")
        if top.inner or bottom.inner or top.unit != bottom.unit or top.tight or bottom.tight:
            raise Unread("Write a ratio as two plain numbers with a colon between them.")
        told = ", ".join(
            [f"{top.text} : {bottom.text}", f"{order[0]} : {order[1]}" if order else "first over second"]
        )
        place = top.place if bottom.value == 1 else 0.0
        ratio = Typed(top.value / bottom.value, "", place, top.signed or bottom.signed, told)
        typed = part._back(ratio, end)
        self.left_out += part.left_out
        return typed

    # -- degrees with minutes, feet with inches, hours with minutes --
    def _parts(self, start: int) -> Typed | None:
        negative, place = False, start
        if self.tokens[place].text in "+-":
            negative, place = self.tokens[place].text == "-", place + 1
        parts: list[tuple[float, str, str]] = []
        while (piece := part_at(self.tokens, place, bool(parts))) is not None:
            value, text, mark, place = piece
            parts.append((value, mark.text.lower(), text))
        family = family_of([mark for _, mark, _ in parts], UNITS[self.asked or "1"].dimension)
        if family is None:
            return None
        unit, steps, marks = family
        total, shown = 0.0, []
        for number, (value, _, text) in enumerate(parts):
            step = steps[number]
            if number and not value < steps[number - 1] / step:
                raise Unread(
                    f"Behind {marks[number - 1].strip()} the next part is too large: “{short(text)}”."
                )
            if number + 1 < len(parts) and (value != round(value) or not text.isdigit()):
                raise Unread("Only the last part may have decimals; write one number.")
            total += value * step / steps[0]
            shown.append(f"{text}{marks[number]}")
        typed = Typed(
            -total if negative else total, unit, 0.0, place > start and self.tokens[start].text in "+-"
        )
        typed.how = ("minus " if negative else "") + " ".join(shown)
        return self._back(typed, place)
