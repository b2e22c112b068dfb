"""The format of sheets and hand-ins: names, limits, letters of a choice; a hand-in as it is written and read.

A hand-in is read as data and never run.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, PrivateAttr, StringConstraints, ValidationError

from gearlab.quoting import text_of
from gearlab.schema import spot, told

__all__ = [
    "ANSWERS_LIMIT",
    "EDITION",
    "FILE_LIMIT",
    "FILE_NAME",
    "HAND_IN",
    "HAND_OUT",
    "HandIn",
    "LONGEST_TYPED",
    "QUESTIONS_LIMIT",
    "REASON",
    "RETURNED_NAME",
    "SHEET_LIMIT",
    "file_name",
    "hand_in_content",
    "letter",
    "letters",
    "read_hand_in",
]

HAND_OUT, HAND_IN, EDITION = "hand-out", "hand-in", 1  # what files say of themselves
SHEET_LIMIT = 2_000_000  # characters; a sheet of thirty questions has about 20,000
FILE_LIMIT = 200_000  # bytes of a hand-in; thirty answers take about 10,000
QUESTIONS_LIMIT, ANSWERS_LIMIT, LONGEST_TYPED = 200, 60, 4000
FILE_NAME = re.compile(r"HAND-IN_[A-Za-z0-9._~-]{1,200}\.json")
# As it may come back: with what browsers, systems and editors add to the name of a copy.
_COPY = r"(?:[ _]*\(\d+\)|[ _-]*copy[ _]*\d*)"
RETURNED_NAME = re.compile(
    rf"HAND-IN_(?P<set>[a-z0-9-]+)_(?P<id>[^\s./\\]+?){_COPY}?\.json(?:\.json|\.txt|\.download|{_COPY})*$",
    re.IGNORECASE,
)
# A choice alone can be guessed or computed; the reason is for the instructor to read.
REASON = "why? (one or two sentences)"


def file_name(set_name: str, student: str) -> str:
    """Name of a student's hand-in file; `student` as files are named.

    >>> file_name("shafts", "s-017")
    'HAND-IN_shafts_s-017.json'
    """
    return f"HAND-IN_{set_name}_{student}.json"


def letter(place: int) -> str:
    """The letter of the option at a place, counted from 0.

    >>> letter(0), letter(3)
    ('a', 'd')
    """
    return chr(97 + place)


def letters(text: str, count: int) -> str:
    """A choice as letters; the notebook saves the numbers of the options.

    A text that names no options of `count` stays as it is.

    >>> letters("1, 3", 3), letters("1, 4", 3)
    ('a, c', '1, 4')
    """
    parts = [part.strip() for part in text.split(",")]
    if all(part.isascii() and part.isdigit() and len(part) < 3 and 1 <= int(part) <= count for part in parts):
        return ", ".join(letter(int(part) - 1) for part in parts)
    return text


def hand_in_content(
    sheet: Mapping[str, Any],
    answers: Mapping[str, Mapping[str, str | None]],
    saved: int,
    time: str,
    library: str,
    **more: Any,
) -> dict[str, Any]:
    """The content of a hand-in file, in its order.

    sheet: as it was handed out, whatever version of gearlab did it.
    answers: what was typed, by question id and answer id.
    saved: how often it has been saved, this time included [-].
    time: of saving, in UTC, such as ``"2026-11-25T09:10:11Z"``.
    library: the version of gearlab that saves it, or what else does.
    **more: what only some sets ask for.

    >>> sheet = {"set": "trial", "student": "007", "packet": "", "questions": [{"id": "span"}]}
    >>> content = hand_in_content(sheet, {"span": {"span": "3 mm"}}, 1, "2026-11-25T09:10:11Z", "0.1.0")
    >>> content["versions"], content["answers"]
    ({'span': 1}, {'span': {'span': '3 mm'}})
    """
    questions = sheet["questions"]
    return {
        "gearlab": HAND_IN,
        "edition": EDITION,
        **{name: sheet[name] for name in ("set", "student", "packet")},
        "saved": saved,
        "time": time,
        "library": library,
        "givens": {question["id"]: question.get("givens", {}) for question in questions},
        "versions": {question["id"]: question.get("version", 1) for question in questions},
        "answers": answers,
        **more,
    }


# -- a hand-in as it comes back ------------------------------------------------------------------------
# How other files begin that come in a hand-in's place: what they are, in words.
_OTHERS = (
    (b"PK\x03\x04", "a zip or an office document"),
    (b"%PDF", "a PDF"),
    (b"{\\rtf", "a text with fonts (RTF)"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"\x1f\x8b", "a packed file"),
)
_ASK = "ask the student for the file HAND-IN_... that is beside the notebook"
Short = Annotated[str, StringConstraints(max_length=64)]
Word = Annotated[str, StringConstraints(max_length=100)]
Typed = Annotated[str, StringConstraints(max_length=LONGEST_TYPED)]


class HandIn(BaseModel):
    """The answers of one student to one set, as they were typed: question id to answer id to text.

    The givens as they stood on the sheet, and the versions of its questions, are compared, never used.
    `practice` is what a set that keeps attempts asks for, of any form, and is told to the instructor. What
    else the file says (verdicts, scores) is not read. None of it ever changes a mark.
    """

    model_config = ConfigDict(extra="ignore", frozen=True, cache_strings="keys")

    gearlab: Literal["hand-in"]
    edition: Literal[1]
    set: Short
    student: Annotated[str, StringConstraints(max_length=64, strip_whitespace=True)]
    packet: Short = ""
    saved: Annotated[int, Field(ge=0, lt=10**9)] = 0
    practice: Any = None
    givens: Annotated[dict[Word, dict[str, Any]], Field(max_length=QUESTIONS_LIMIT)] = {}
    versions: Any = None
    answers: Annotated[
        dict[Word, Annotated[dict[Word, Typed | None], Field(max_length=ANSWERS_LIMIT)]],
        Field(max_length=QUESTIONS_LIMIT),
    ]

    _met: str = PrivateAttr("")

    @property
    def met(self) -> str:
        """What another program did to the file, "" if it is as the workbook saved it."""
        return self._met

    def answered(self) -> int:
        """How many answers are not empty."""
        return sum(1 for texts in self.answers.values() for text in texts.values() if text and text.strip())


def read_hand_in(content: bytes) -> HandIn:
    """Read the content of a hand-in file, at most ``FILE_LIMIT`` bytes of JSON.

    ValueError if it is none; the message says why, in words for the instructor.
    """
    if len(content) > FILE_LIMIT:
        raise ValueError(
            f"the file is larger than {FILE_LIMIT // 1000} kB; a hand-in is much smaller: {_ASK}"
        )
    plain, met = content.removeprefix(b"\xef\xbb\xbf"), ""
    hand_in, fault = _validated(plain)
    if fault.get("type") == "json_invalid":
        _refuse_others(content)
        plain, met = _as_utf8(content)
        hand_in, fault = _validated(plain)
    if hand_in is not None:
        hand_in._met = met
        return hand_in
    if fault["type"] == "json_invalid":
        raise ValueError(f"{_no_json(plain, fault['msg'])}; {_ASK}")
    if fault["loc"] and fault["loc"][0] in ("gearlab", "edition"):
        notebook = b'"nbformat"' in plain
        raise ValueError(
            f"the file is not a hand-in of this workbook{', it is the notebook itself' if notebook else ''};"
            f" {_ASK}"
        )
    raise ValueError(
        f"the field {spot(fault['loc'], ' > ')[:120] or '(whole file)'} is not as the workbook saves it"
        f" ({told(fault, HandIn)}); {_ASK}"
    )


def _validated(content: bytes) -> tuple[HandIn | None, Any]:
    """The hand-in, or the first thing that is wrong with it."""
    try:
        return HandIn.model_validate_json(content), {}
    except ValidationError as error:
        return None, error.errors(include_url=False, include_input=False, include_context=False)[0]


def _refuse_others(content: bytes) -> None:
    """Refuse an empty file, and one whose beginning says that it is something else."""
    if not content.strip(b" \t\r\n\0"):
        was = f" ({len(content)} zero bytes)" if b"\0" in content else ""
        raise ValueError(f"the file is empty{was}; {_ASK}")
    begins = content[:300].lstrip()
    for start, what in _OTHERS:
        if begins.startswith(start):
            raise ValueError(f"the file is {what}, whatever its name says; {_ASK}")


def _as_utf8(content: bytes) -> tuple[bytes, str]:
    """The bytes as the workbook saves them, and what another program did to them; "" if nothing."""
    try:
        plain = content.removeprefix(b"\xef\xbb\xbf")
        if b"\0" not in plain[:4]:
            plain.decode("utf-8")
            return plain, ""
    except UnicodeDecodeError:
        pass
    try:
        text, encoding = text_of(content)
    except ValueError:
        return content, ""  # what is wrong with it is told by the reading
    return text.encode("utf-8", "replace"), f"was saved anew as {encoding} by another program"


def _no_json(content: bytes, reason: str) -> str:
    """Why a text is no JSON, in words for the instructor."""
    if re.match(rb"\s*<(!doctype|html|head|body|\?xml)", content, re.IGNORECASE):
        return "the file is a web page (a log-in or error page, saved in its place)"
    if "EOF" in reason:
        return "the file stops in the middle (it was cut off while saving or sending)"
    return "the file is not JSON text as the workbook saves it"
