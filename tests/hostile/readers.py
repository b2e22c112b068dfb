"""What reads text that somebody else wrote, and what must hold of it whatever the text is.

Each reader takes bytes, as they may come, and returns what may be shown of what it read. It may refuse by
ValueError with a sentence; any other exception is a fault, and so are a number that is not finite, a
control or direction character in what is shown, and more than `SLOWEST` seconds of processor.
"""

import ast
import math
import random
import re
import sys
import time
import traceback
import unicodedata
from collections.abc import Callable
from functools import cache
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "course"))
sys.path.insert(0, str(Path(__file__).resolve().parent))
from coursereaders import COURSE_READERS  # noqa: E402
from greenhouse import BANK  # noqa: E402

import gearlab
from gearlab.course.gradebook import harmless
from gearlab.parts.design import read_design
from gearlab.practice import bank as banks
from gearlab.practice.handin import read_hand_in
from gearlab.practice.typed.reading import Reading, read_choice, read_expression, read_number, read_within
from gearlab.quoting import one_line, safe
from gearlab.theory.stated import read as read_quantity

PACKAGE = Path(gearlab.__file__).parent
SLOWEST = 1.0  # of processor, for one text [s]
LONGEST = 20_000  # bytes of a text that is tried
UNITS = ("", "mm", "in", "deg", "rpm", "N*m", "teeth", "1/in", "m/s", "psi", "1")
SYMBOLS = (("N1", "driver_teeth"), ("N2", "driven_teeth"), ("P", "diametral_pitch"), ("m", "module"))
QUANTITIES = (
    ("power", "power"),
    ("speed", "speed"),
    ("module", "length"),
    ("angle", "angle"),
    ("torque", "torque"),
)


class Fault(AssertionError):
    """A reader did what it must not do."""


def hidden(text: str) -> list[str]:
    """Characters of a text that steer a terminal or turn a line round, or are no characters at all."""
    return [
        c
        for c in text
        if unicodedata.category(c) in ("Cc", "Cs")
        or c in "\u200e\u200f\u061c"
        or "\u202a" <= c <= "\u202e"
        or "\u2066" <= c <= "\u2069"
    ]


def _told(reading: Reading) -> list[str]:
    if reading.value is not None and not math.isfinite(reading.value):
        raise Fault(f"a number that is not finite: {reading.value}")
    return [reading.echo, reading.problem, reading.mathml]


def number(data: bytes) -> list[str]:
    text = data.decode("utf-8", "replace")
    shown = []
    for unit in {UNITS[len(text) % len(UNITS)], UNITS[sum(data[:8]) % len(UNITS)]}:
        shown += _told(read_number(text, unit))
        shown += _told(read_within(text, unit, -1e3, 1e3, whole=unit == "teeth"))
    return shown


def expression(data: bytes) -> list[str]:
    return _told(read_expression(data.decode("utf-8", "replace"), SYMBOLS))


def choice(data: bytes) -> list[str]:
    return _told(read_choice(data.decode("utf-8", "replace"), 5))


def hand_in(data: bytes) -> list[str]:
    came = read_hand_in(data)
    typed = [text or "" for texts in came.answers.values() for text in texts.values()]
    return [one_line(came.student), one_line(came.set), *(one_line(text) for text in typed[:20])]


@cache
def _questions() -> dict:
    return {question.id: question for question in banks._bank(Path("greenhouse.toml"), BANK.encode())}


def verdict(data: bytes) -> list[str]:
    """A typed answer up to its verdict, in each kind of question."""
    text, shown = data.decode("utf-8", "replace"), []
    for question in _questions().values():
        draw = _draws(question.id)
        texts = question.as_typed({field.id: text for field in question.fields})
        for told in question.judge(draw, texts).values():
            shown += [told.read, told.sentence, told.note, *(cause.title for cause in told.causes)]
    return shown


@cache
def _draws(name: str):
    return _questions()[name].draw("hostile")


def design(data: bytes) -> list[str]:
    kit = read_design(data.decode("utf-8", "replace") + "\n")
    return [one_line(kit.name)]


def bank(data: bytes) -> list[str]:
    return [one_line(question.title) for question in banks._bank.__wrapped__(Path("b.toml"), data)]


def quantity(data: bytes) -> list[str]:
    """Text with a unit, as theory takes it."""
    meaning, dimension = QUANTITIES[sum(data[:8]) % len(QUANTITIES)]
    read_quantity(data.decode("utf-8", "replace"), meaning, dimension)
    return []


def cell(data: bytes) -> list[str]:
    """Text on its way into a table and a page."""
    text = data.decode("utf-8", "replace")
    in_table, in_page = harmless(text), safe(text)
    if in_table[:1] in ("=", "+", "-", "@") or "<" in in_page:
        raise Fault("a cell that runs, or a page with a tag of the student's")
    return [in_table]


READERS: dict[str, Callable[[bytes], list[str]]] = {
    "number": number,
    "expression": expression,
    "choice": choice,
    "verdict": verdict,
    "hand-in": hand_in,
    "design": design,
    "bank": bank,
    "quantity": quantity,
    "cell": cell,
    **COURSE_READERS,
}


def _ours(refused: ValueError) -> bool:
    """Whether a line of the package refused the text, and not a library under it in its own words."""
    *_, (frame, _) = traceback.walk_tb(refused.__traceback__)
    return Path(frame.f_code.co_filename).is_relative_to(PACKAGE)


def read(name: str, data: bytes) -> bool:
    """One text through one reader: whether it was read; Fault if it did what it must not do."""
    begun = time.process_time()
    try:
        shown = READERS[name](data[:LONGEST])
        accepted = True
    except ValueError as refused:
        shown, accepted = [str(refused)], False
        if not _ours(refused) or not shown[0].strip():
            raise Fault(f"refused without a sentence of ours: {refused!r}") from refused
    took = time.process_time() - begun
    if took > SLOWEST:
        raise Fault(f"took {took:.1f} s of processor")
    for text in shown:
        # a message of several lines is set line by line
        if found := hidden(text.replace("\n", "")):
            raise Fault(f"shows {found[0]!r} raw in {text[:200]!r}")
    return accepted


def seeds(name: str) -> list[bytes]:
    """The corpus of a reader: each text of its file, parted by lines of four dashes; b"..." are its bytes."""
    file = Path(__file__).parent / "corpus" / f"{name}.txt"
    parts = file.read_bytes().split(b"\n----\n")
    return [
        ast.literal_eval(part.decode("ascii")) if re.match(rb"b[\"'].*[\"']\s*$", part) else part
        for part in parts
    ]


def generated(name: str, count: int, seed: int):
    """Texts made from the corpus: spoilt, joined, nested, repeated, with what is odd put in."""
    chance, stock = random.Random(f"{name} {seed}"), seeds(name)
    for _ in range(count):
        data = bytearray(chance.choice(stock))
        for _ in range(chance.choice((1, 1, 2, 3, 8))):
            _spoil(data, chance, stock)
        yield bytes(data[:LONGEST])


ODD = [
    *(b"\x00", b"\xff", b"\xed\xa0\x80", b"\x1b[2J", b"\r", b"\t", b"'", b'"""', b"<script>", b"${7*7}"),
    *(b"%s%n", b"{}", b"{0.__class__}", b"\\u0000", b"=cmd", b"[[", b"]]", b"null", b"true", b"1979-05-27"),
    *(b"NaN", b"inf", b"1e999", b"-0", b"9" * 400, b"1e-400", b"0x10", b"1_000", b"^^", b"**"),
    *(text.encode() for text in ("\u202e", "\u2066", "\ufeff", "٣٫٥", "½", "∞", "π", "𝟜", "\u0301" * 50)),
]


def _spoil(data: bytearray, chance: random.Random, stock: list[bytes]) -> None:
    place = chance.randrange(len(data) + 1)
    match chance.randrange(9):
        case 0 if data:
            data[place % len(data)] = chance.randrange(256)
        case 1:
            del data[place : place + chance.choice((1, 2, 5, 40, 400))]
        case 2:
            data[place:place] = data[place : place + chance.choice((1, 3, 10, 60))]
        case 3 | 4:
            data[place:place] = chance.choice(ODD)
        case 5:
            other = chance.choice(stock)
            data[place:] = other[chance.randrange(len(other) + 1) :]
        case 6:  # nested
            way = chance.choice((b"(", b"[", b"{", b'{"a":', b"-", b"1/", b"a.", b"[[", b"sin("))
            data[place:place] = way * chance.choice((3, 30, 900))
        case 7:  # repeated
            piece = bytes(data[place : place + chance.choice((1, 2, 4, 20))])
            data[place:place] = piece * chance.choice((5, 50, 500))
        case 8:  # a number made another
            digits = [i for i, byte in enumerate(data) if 48 <= byte <= 57]
            if digits:
                spot = chance.choice(digits)
                data[spot : spot + 1] = chance.choice(
                    (b"0", b"-1", b"1e308", b"99999999999999999999", b"0.0000001")
                )
