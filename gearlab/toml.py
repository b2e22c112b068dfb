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


def tables_of(text: str, parse_float: Callable[[str], Any] = float) -> dict[str, Any]:
    """The tables of a TOML text; `parse_float` makes a number of what has a point or a power of ten.

    ValueError where it is none, or is nested or named so deeply that reading it has no end: the message says
    why and, where it can, in which line and column.

    >>> tables_of("teeth = 18")
    {'teeth': 18}
    >>> tables_of("teeth = ")
    Traceback (most recent call last):
    ValueError: Invalid value (at end of document)
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
            raise ValueError(one_line(str(error))) from None
        raise ValueError("a number in it has no end") from None


def toml_text(text: str) -> str:
    """A text as it may stand in a TOML file.

    >>> print(toml_text('say "no"'))
    "say \\"no\\""
    """
    return json.dumps(text, ensure_ascii=True).replace("\x7f", "\\u007f")
