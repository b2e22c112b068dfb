"""Files of a folder that is being made, and names that every disk can hold."""

import codecs
import os
import re
from html import escape

from gearlab.quoting import one_line as one_line  # what a page shows goes through both
from gearlab.quoting import steady

PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,63}")
# Names that a Windows disk keeps for devices.
RESERVED = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])", re.IGNORECASE)


def write_new(path: str, data: bytes, over: bool = False) -> None:
    """Write a file into a folder that is not in its place yet: the short way, for thousands of them.

    path: the file; none of that name is there.
    data: what stands in it.
    over: whether one of that name may be there, and goes.
    """
    how = os.O_TRUNC if over else os.O_EXCL
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | how | getattr(os, "O_BINARY", 0), 0o644)
    try:
        while data:
            data = data[os.write(handle, data) :]
    finally:
        os.close(handle)


def kind_of(entry: os.DirEntry) -> str:
    """What an entry of a folder is: "folder", "file", "link" or "other"; links are not followed."""
    if entry.is_symlink():
        return "link"
    return "folder" if entry.is_dir() else "file" if entry.is_file() else "other"


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
    """Text as it may stand in HTML, also inside quotes; what steers or turns it round as its code.

    >>> safe("a < b"), safe("78.75 mm"), safe("\\u202e<b>")
    ('a &lt; b', '78.75 mm', '\\\\u202e&lt;b&gt;')
    """
    # most texts are numbers: looking is quicker than replacing
    text = steady(text)
    return escape(text) if _MARKUP(text) else text


def safe_utf8(text: str) -> bytes:
    """The same in UTF-8, for pages that are put together from bytes."""
    # as `safe` has it: nothing has to be replaced in most texts
    if text.isascii() and text.isprintable() and not _MARKUP(text):
        return text.encode("ascii")
    return safe(text).encode("utf-8")


# What begins a text that says its own encoding; the longer mark first, as one begins like the other.
_MARKS = (
    (codecs.BOM_UTF8, "utf-8", "UTF-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le", "UTF-32"),
    (codecs.BOM_UTF32_BE, "utf-32-be", "UTF-32"),
    (codecs.BOM_UTF16_LE, "utf-16-le", "UTF-16"),
    (codecs.BOM_UTF16_BE, "utf-16-be", "UTF-16"),
)


def text_of(content: bytes) -> tuple[str, str]:
    """The text of a file that any program may have saved, and the encoding it was read in.

    UTF-8, UTF-16 or UTF-32 by the mark at its beginning; UTF-16 without a mark by its zero bytes; else UTF-8
    and, where it is none, Windows-1252, of which Latin-1 is a part.
    Returns the text and the name of the encoding.
    ValueError if it is text in none of them.

    >>> text_of("Müller".encode("utf-16")), text_of("Müller".encode("cp1252"))
    (('Müller', 'UTF-16'), ('Müller', 'Windows-1252'))
    """
    ways = [(mark, codec, name) for mark, codec, name in _MARKS if content.startswith(mark)][:1]
    if not ways:
        even, odd = content[:200:2].count(0), content[1:200:2].count(0)
        if even != odd and 4 * max(even, odd) > len(content[:200]):
            ways = [(b"", "utf-16-le" if odd > even else "utf-16-be", "UTF-16")]
        else:
            ways = [(b"", "utf-8", "UTF-8")]
            # with other letters of UTF-8 in it, it is UTF-8 with damaged bytes
            if content.decode("utf-8", "ignore").isascii():
                ways.append((b"", "cp1252", "Windows-1252"))
    for mark, codec, name in ways:
        try:
            return content.removeprefix(mark).decode(codec), name
        except UnicodeDecodeError:
            continue
    raise ValueError("is text in no encoding that is known (UTF-8, UTF-16, Windows-1252); save it as UTF-8")


def parting(text: str) -> str:
    """What parts the columns of a table, by its first line: comma, semicolon or tab.

    >>> parting("id;name\\n7;Ada, B.")
    ';'
    """
    return max(",;\t", key=text.split("\n", 1)[0].count)
