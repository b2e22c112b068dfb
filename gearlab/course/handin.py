"""A hand-in: what a student's notebook saved, read as data and never run."""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, ValidationError

from gearlab.practice.handin import (
    ANSWERS_LIMIT,
    FILE_LIMIT,
    LONGEST_TYPED,
    QUESTIONS_LIMIT,
    RETURNED_NAME,
)
from gearlab.schema import spot, told

NAME = RETURNED_NAME  # of a hand-in as it comes back
Short = Annotated[str, StringConstraints(max_length=64)]
Word = Annotated[str, StringConstraints(max_length=100)]
Typed = Annotated[str, StringConstraints(max_length=LONGEST_TYPED)]


class HandIn(BaseModel):
    """The answers of one student to one set, as they were typed: question id to answer id to text.

    The givens as they stood on the sheet are compared, never used. `practice` is what a set that keeps
    attempts asks for, of any form, and is told to the instructor. What else the file says (verdicts, scores)
    is not read. None of it ever changes a mark.
    """

    model_config = ConfigDict(extra="ignore", frozen=True, cache_strings="keys")

    gearlab: Literal["hand-in"]
    edition: Literal[1]
    set: Short
    student: Short
    packet: Short = ""
    saved: Annotated[int, Field(ge=0, lt=10**9)] = 0
    practice: Any = None
    givens: Annotated[dict[Word, dict[str, Any]], Field(max_length=QUESTIONS_LIMIT)] = {}
    answers: Annotated[
        dict[Word, Annotated[dict[Word, Typed | None], Field(max_length=ANSWERS_LIMIT)]],
        Field(max_length=QUESTIONS_LIMIT),
    ]

    def answered(self) -> int:
        """How many answers are not empty."""
        return sum(1 for texts in self.answers.values() for text in texts.values() if text and text.strip())


def read_hand_in(content: bytes) -> HandIn:
    """Read the content of a hand-in file, at most ``FILE_LIMIT`` bytes of JSON.

    ValueError if it is none; the message says why, in words for the instructor.
    """
    if len(content) > FILE_LIMIT:
        raise ValueError(f"the file is larger than {FILE_LIMIT // 1000} kB; a hand-in is much smaller")
    if not content.strip():
        raise ValueError("the file is empty")
    try:
        return HandIn.model_validate_json(content.removeprefix(b"\xef\xbb\xbf"))
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False, include_context=False)[0]
    if first["type"] == "json_invalid":
        if "EOF" in first["msg"]:
            raise ValueError("the file stops in the middle (it was cut off while saving or sending)")
        raise ValueError("the file is not JSON text as the workbook saves it")
    if first["loc"] and first["loc"][0] in ("gearlab", "edition"):
        raise ValueError("the file is not a hand-in of this workbook")
    raise ValueError(
        f"the field {spot(first['loc'], ' > ')[:120] or '(whole file)'} is not as the workbook saves it"
        f" ({told(first, HandIn)})"
    )
