"""TOML that somebody else wrote: read in bounded time, or refused in words.

This module stands below all the others and imports none of them but `quoting`.
"""

import json
import re
import tomllib
from collections.abc import Callable
from typing import Any

from gearlab.quoting import one_line

__all__ = ["tables_of", "toml_text"]

PARTS = 60  # of a dotted name: thousands of them take the reader minutes
_DOTTED = re.compile(rf"""(?<![\w-])(?:(?:[\w-]+|"[^"\n]*"|'[^'\n]*')[ \t]*\.[ \t]*){{{PARTS}}}""")
_LONGEST = 300  # characters of a line that are looked at for what was meant
# How people write what TOML writes otherwise: what the line looks like, and how it is written.
_MEANT = tuple(
    (re.compile(pattern), says)
    for pattern, says in (
        ("[\u2018\u2019\u201a-\u201f\u00ab\u00bb]", 'quotation marks are straight ones: "text"'),
        (
            r"^\s*(\[\[[^\[\]]*\]\s*(#.*)?|\[[^\[\]]*\]\].*|\[+[^\[\]]*)$",
            "a table begins with as many brackets before its name as behind it",
        ),
        (
            r"=\s*(?!\d{4}-\d\d-\d\d\b)\d{1,4}\s*[-./]\s*\d{1,2}\s*[-./]\s*\d{1,4}\b",
            "a date is written 2026-11-20",
        ),
        (r"=\s*[+-]?0\d", 'a number has no zero in front; an id is a text in quotation marks: "00123"'),
        (r"=\s*[+-]?\d+,\d", "a number has a decimal point, no comma: 1.5"),
        (r"=\s*[+-]?[\d.]+\s*%", "a number stands without % behind it"),
        (r"=\s*[+-]?[\d.]+\s*[^\W\d_]+\s*(#|$)", 'a text stands in quotation marks: "78.5 mm"'),
        (r"=\s*(True|False|TRUE|FALSE|yes|no)\b", "yes and no are written true and false"),
        (r'=\s*"[^"]*$', 'a text ends in its line; one of several lines stands between """ and """'),
        (r'=\s*"[^"]*\\', r"a backslash in a text is written twice: \\"),
        (r'=\s*"[^"]*"\s*\w', "a text holds no quotation mark like those around it"),
        (r"=\s*(\[\s*)?[^\W\d]", 'a text stands in quotation marks: name = "text"'),
        (r"=.*\s[\w-]+\s*=", "each name with its value stands on a line of its own"),
        (r"^\s*[\w-]+\s*:", "a name and its value have = between them: name = value"),
    )
)


def _as_it_is_written(text: str, complaint: str) -> str:
    """How what stands in the line of a complaint is written, as the end of a message; "" if unknown."""
    place = re.search(r"at line (\d+), column", complaint)
    if place is None:
        return ""
    line = text.split("\n")[int(place[1]) - 1][:_LONGEST]
    if complaint.startswith(("Cannot overwrite", "Cannot declare")):
        if line.lstrip().startswith("["):
            return (
                "; a table of this name stands above: of several, each is headed [[name]], with two brackets"
            )
        return "; the name before the = stands twice in its table: leave one of them out"
    return next((f"; {says}" for pattern, says in _MEANT if pattern.search(line)), "")


def tables_of(text: str, parse_float: Callable[[str], Any] = float) -> dict[str, Any]:
    """The tables of a TOML text; `parse_float` makes a number of what has a point or a power of ten.

    ValueError where it is none, or is nested or named so deeply that reading it has no end: the message says
    why and, where it can, in which line and column.

    >>> tables_of("teeth = 18")
    {'teeth': 18}
    >>> tables_of("teeth = ")
    Traceback (most recent call last):
    ValueError: Invalid value (at end of document)
    >>> tables_of("teeth = many")
    Traceback (most recent call last):
    ValueError: Invalid value (at line 1, column 9); a text stands in quotation marks: name = "text"
    """
    if text.count(".") >= PARTS and (dotted := _DOTTED.search(text)):
        line = text.count("\n", 0, dotted.start()) + 1
        raise ValueError(f"a name of {PARTS} parts or more with dots between (at line {line})")
    try:
        return tomllib.loads(text, parse_float=parse_float)
    except RecursionError:
        raise ValueError("lists or tables lie too deep in each other") from None
    except (ValueError, ArithmeticError) as error:
        if isinstance(error, tomllib.TOMLDecodeError):
            raise ValueError(one_line(f"{error}{_as_it_is_written(text, str(error))}")) from None
        raise ValueError("a number in it has no end") from None


def toml_text(text: str) -> str:
    """A text as it may stand in a TOML file.

    >>> print(toml_text('say "no"'))
    "say \\"no\\""
    """
    return json.dumps(text, ensure_ascii=True).replace("\x7f", "\\u007f")
