"""Drawing numbers.

The same ones for the same key, set, question, version, student and draw number, on every system.

The numbers come from HMAC-SHA256 in blocks; each grid value is picked from whole bytes without bias, and
grids are exact decimals, so nothing depends on the platform's floating point or on the order of a dictionary.
"""

from __future__ import annotations

import math
import struct
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from functools import lru_cache
from hashlib import sha256
from typing import TYPE_CHECKING

from gearlab.care import page_text
from gearlab.digits import number_text
from gearlab.practice.handin import letter
from gearlab.practice.typed.reading import read_number
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import written

if TYPE_CHECKING:
    from hashlib import _Hash as Hash

    from gearlab.practice.question import Question

__all__ = ["Draw", "Given", "Grid", "MOST_TRIES", "Stream", "beginning", "message", "rounded", "set_by_hand"]

MOST_TRIES = 6000
PRACTICE_KEY = b"gearlab practice numbers"
_WORDS = struct.Struct(">8I")  # a block as whole numbers of four bytes


def message(*parts: str | int) -> bytes:
    """Several texts and whole numbers as bytes, each with its length before it.

    No two lists give the same bytes.

    >>> message("ab", 7)
    b'2:ab,1:7,'
    """
    return "".join([f"{len(text)}:{text}," for text in map(str, parts)]).encode("utf-8", "surrogatepass")


@lru_cache(maxsize=1024)
def beginning(*parts: str | int) -> bytes:
    """The same, for what many messages have in common: the question, or the student."""
    return message(*parts)


@lru_cache(maxsize=16)
def _begun(key: bytes) -> tuple[Hash, Hash]:
    """The two hashes of an HMAC-SHA256 with the key in them, before the message comes (RFC 2104)."""
    block = (sha256(key).digest() if len(key) > 64 else key).ljust(64, b"\0")
    return sha256(bytes(byte ^ 0x36 for byte in block)), sha256(bytes(byte ^ 0x5C for byte in block))


def _hmac(key: bytes, message: bytes) -> bytes:
    """What `hmac.digest` gives, in half its time: the key goes in once for a whole class."""
    inner, outer = _begun(key)
    inner, outer = inner.copy(), outer.copy()
    inner.update(message)
    outer.update(inner.digest())
    return outer.digest()


class Stream:
    """Whole numbers without bias from HMAC-SHA256 of a key and what the numbers depend on (see `message`).

    >>> Stream(b"key", message("a", 1)).below(10) == Stream(b"key", message("a", 1)).below(10)
    True
    """

    __slots__ = ("_key", "_message", "_block", "_numbers")

    def __init__(self, key: bytes, message: bytes):
        self._key = key
        self._message = message
        self._block = 0
        self._numbers: Iterator[int] = iter(())  # what is left of the block

    def below(self, count: int) -> int:
        """A whole number from 0 up to, not including, `count` (at most 2**32)."""
        limit = 0x1_0000_0000 - 0x1_0000_0000 % count
        while True:
            for number in self._numbers:
                if number < limit:
                    return number % count
            block = _hmac(self._key, self._message + b"#%d" % self._block)
            self._numbers = iter(_WORDS.unpack(block))
            self._block += 1

    def shuffled(self, count: int) -> list[int]:
        """0 up to `count` - 1 in a random order."""
        order = list(range(count))
        for last in range(count - 1, 0, -1):
            other = self.below(last + 1)
            order[last], order[other] = order[other], order[last]
        return order


class Grid:
    """The values a given may take, as texts and as numbers.

    >>> Grid.steps(Decimal("2.01"), Decimal("2.15"), Decimal("0.07")).texts
    ('2.01', '2.08', '2.15')
    """

    __slots__ = ("texts", "values")

    def __init__(self, decimals: Iterable[Decimal]):
        self.texts = tuple(_plain(decimal) for decimal in decimals)
        self.values = tuple(float(text) for text in self.texts)

    @classmethod
    def steps(cls, start: Decimal, stop: Decimal, step: Decimal) -> Grid:
        return cls([start + step * i for i in range(int((stop - start) / step) + 1)])

    def __len__(self) -> int:
        return len(self.texts)


def _plain(number: Decimal) -> str:
    text = f"{number:f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


_PLACES = [Decimal(1).scaleb(-places) for places in range(9)]


def rounded(value: float, places: int) -> str:
    """A number as shown with so many decimals; a half goes away from zero.

    The number is taken to 12 significant digits first, so that the last bits of floating point do not decide.

    >>> rounded(142.87499999999997, 2), rounded(1.8, 4)
    ('142.88', '1.8000')
    """
    text = str(Decimal(f"{value:.12g}").quantize(_PLACES[places], ROUND_HALF_UP))
    return text[1:] if text[0] == "-" and not text.strip("-0.") else text


def set_by_hand(question: Question, name: str, text: str) -> tuple[str, float]:
    """A given set by hand, as text and number [unit shown].

    ValueError where there is none of that name or the number does not fit.
    """
    if name not in question.grids:
        why = "is worked out from the others" if name in question.names else "is not there"
        raise ValueError(
            f"given {name!r} of question {question.id!r} {why}; there are"
            f" {', '.join(question.grids) or 'none'}"
        )
    unit = question.unit(name)
    reading = read_number(text, unit)
    if reading.value is None or reading.unit not in ("", unit):
        raise ValueError(
            f"given {name}={text!r} is not read as a number{'' if unit == '1' else ' in ' + unit}; write it"
            f" plainly, such as {name}={question.grids[name].texts[0]}"
        )
    quantity, value = QUANTITIES.get(name), reading.value
    if quantity is not None:
        scale = question.factor(name)
        if not quantity.low <= value * scale <= quantity.high or (quantity.whole and value != round(value)):
            whole = "a whole number " if quantity.whole else ""
            low, high = quantity.low / scale, quantity.high / scale
            limits = f"{low:g} or more" if high == math.inf else f"from {low:g} to {high:g}"
            raise ValueError(
                f"given {name}={text}: it must be {whole}{limits} {'' if unit == '1' else unit}".rstrip()
            )
    return number_text(value, 12), value


@dataclass(frozen=True, slots=True)
class Given:
    """A given as a student sees it: the number as text exactly as shown, and its unit, "" for none."""

    name: str
    label: str
    symbol: str
    text: str
    unit: str
    value: float

    @property
    def shown(self) -> str:
        """Number and unit, "2.5 mm"."""
        return f"{self.text} {written(self.unit)}" if self.unit else self.text


# Nothing writes to a draw once it is made; not frozen for the reason of `Verdict`.
@dataclass(slots=True, eq=False)
class Draw:
    """The numbers of one question for one student.

    tries: how many draws it took until the numbers were fair [-].
    texts, values: every drawn given (hidden ones too) by name, as text and as a number [unit shown].
    keys: the right answers [units asked], in the order of the answers. Instructor's eyes only.
    order: of the options of a choice question.
    shown: the numbers shown, in the order of the bank.
    """

    question: Question = field(repr=False)
    number: int
    tries: int
    texts: dict
    values: dict
    keys: tuple = field(repr=False)
    order: tuple = ()
    shown: tuple = ()

    @property
    def givens(self) -> tuple[Given, ...]:
        """What the student sees, in the order of the bank."""
        return self.question.shown_givens(self)

    @property
    def prompt(self) -> str:
        """The question with its numbers, as plain text; a question with work in it begins with its care."""
        prompt = self.question.filled(self.question.table.prompt, self)
        care = page_text(*self.question.table.care)
        return f"{care}\n\n{prompt}" if care else prompt

    @property
    def options(self) -> tuple[tuple[str, str], ...]:
        """Letters and texts of a choice question, in this draw's order."""
        options = self.question.table.options
        return tuple(
            (letter(place), self.question.filled(options[option].text, self))
            for place, option in enumerate(self.order)
        )

    def to_json(self) -> dict:
        """What a hand-out file says about it: question, version, number and the givens shown."""
        question = self.question
        return {
            "question": question.id,
            "version": question.version,
            "number": self.number,
            "givens": {name: self.texts[name] for name in question.shown_names},
        }
