"""Files of a folder that is being made, and names that every disk can hold."""

import os
import re
import unicodedata
from html import escape

PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,63}")
# Names that a Windows disk keeps for devices.
RESERVED = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])", re.IGNORECASE)


def write_new(path: str, data: bytes) -> None:
    """Write a file into a folder that is not in its place yet: the short way, for thousands of them.

    path: the file; none of that name is there.
    data: what stands in it.
    """
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o644)
    try:
        while data:
            data = data[os.write(handle, data) :]
    finally:
        os.close(handle)


def file_name(identity: str) -> str:
    """A student's id as part of a file name: safe on every disk, and no two ids alike.

    Letters, digits, ``-`` and ``_`` stay; any other character becomes ``~`` and its code point, and a
    name that a disk keeps for itself gets a ``~`` at its end.

    >>> file_name("00123"), file_name("a/b"), file_name("con")
    ('00123', 'a~2f~b', 'con~')
    """
    if PLAIN.fullmatch(identity):
        return identity + "~" if RESERVED.fullmatch(identity) else identity
    return "".join(c if PLAIN.fullmatch(c) or c in "-_" else f"~{ord(c):x}~" for c in identity)


_MARKUP = re.compile("[&<>\"']").search


def safe(text: str) -> str:
    """Text as it may stand in HTML, also inside quotes.

    >>> safe("a < b"), safe("78.75 mm")
    ('a &lt; b', '78.75 mm')
    """
    # most texts are numbers: looking is quicker than replacing
    return escape(text) if _MARKUP(text) else text


def one_line(text: str) -> str:
    """Text as it may stand in a list or a table: one line, no control characters.

    text: any text, also a student's.
    Returns the text with each control or format character shown as its code.

    >>> one_line("a\\nb")
    'a\\\\u000ab'
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(
        f"\\u{ord(c):04x}" if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Co", "Zl", "Zp") else c
        for c in text
    )
