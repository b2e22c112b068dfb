"""The format of sheets and hand-ins: names, limits, and the letters of a choice."""

from __future__ import annotations

import re

__all__ = [
    "ANSWERS_LIMIT",
    "EDITION",
    "FILE_LIMIT",
    "FILE_NAME",
    "HAND_IN",
    "HAND_OUT",
    "LONGEST_TYPED",
    "QUESTIONS_LIMIT",
    "REASON",
    "RETURNED_NAME",
    "SHEET_LIMIT",
    "file_name",
    "letter",
    "letters",
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
