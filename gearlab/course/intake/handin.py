"""A hand-in: what a student's notebook saved, read as data and never run."""

import re
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, PrivateAttr, StringConstraints, ValidationError

from gearlab.course.files import text_of
from gearlab.practice.handin import (
    ANSWERS_LIMIT,
    FILE_LIMIT,
    LONGEST_TYPED,
    QUESTIONS_LIMIT,
    RETURNED_NAME,
)
from gearlab.schema import spot, told

NAME = RETURNED_NAME  # of a hand-in as it comes back
# How other files begin that come in a hand-in's place: what they are, in words.
_OTHERS = (
    (b"PK\x03\x04", "a zip or an office document"),
    (b"%PDF", "a PDF"),
    (b"{\\rtf", "a text with fonts (RTF)"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"\x1f\x8b", "a packed file"),
)
_ASK = "ask the student for the file HAND-IN_... that lies beside the notebook"
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
