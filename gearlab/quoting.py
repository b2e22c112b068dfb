"""What somebody else wrote: read in its encoding, and as a message, a list, a table or a page may show it.

This module stands below all the others and imports none of them.
"""

import codecs
import re
import unicodedata
from html import escape

__all__ = ["in_css", "one_line", "parting", "plain_lines", "safe", "safe_utf8", "short", "steady", "text_of"]

# Control, format, surrogate and private characters, and the two that part lines and paragraphs.
_HIDDEN = ("Cc", "Cf", "Cs", "Co", "Zl", "Zp")
# What steers a terminal or turns a line round, and is no line feed and no tab.
_STEERS = re.compile(
    "[\\x00-\\x08\\x0b-\\x1f\\x7f-\\x9f\\u061c\\u200e\\u200f\\u202a-\\u202e\\u2066-\\u2069\\ud800-\\udfff]"
)


def one_line(text: str) -> str:
    """Text as it may stand in a list or a table: one line, control and format characters as their codes.

    So no text steers a terminal, or turns round the line in which it is quoted.

    >>> one_line("a\\nb"), one_line("Müller ½"), one_line("\\u202egnp.exe")
    ('a\\\\u000ab', 'Müller ½', '\\\\u202egnp.exe')
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(f"\\u{ord(c):04x}" if unicodedata.category(c) in _HIDDEN else c for c in text)


def plain_lines(text: str) -> str:
    """Text of several lines, each as `one_line` has it.

    >>> plain_lines("one\\ntwo\\x1b")
    'one\\ntwo\\\\u001b'
    """
    if text.isascii() and text.isprintable():
        return text
    return "\n".join(map(one_line, text.split("\n")))


def short(text: str, longest: int = 30) -> str:
    """A text to quote in a sentence: one line, its beginning where it is longer.

    >>> short("78.75 mm"), short("a" * 40, 12)
    ('78.75 mm', 'aaaaaaaaa...')
    """
    return one_line(text if len(text) <= longest else text[: longest - 3] + "...")


def steady(text: str) -> str:
    """Text of a page: what steers a terminal or turns a line round as its code; lines, tabs, joiners stay.

    >>> steady("one\\n\\u202etwo")
    'one\\n\\\\u202etwo'
    """
    if text.isascii() and text.isprintable():
        return text
    return _STEERS.sub(lambda steers: one_line(steers[0]), text)


def in_css(text: str) -> str:
    """Text as it may stand between the quotes of a style sheet, in ASCII.

    >>> in_css("s-17"), in_css('"é')
    ('s-17', '\\\\22 \\\\e9 ')
    """
    if text.isascii() and text.replace("-", "").replace("_", "").isalnum():
        return text
    return "".join(c if c.isascii() and c.isalnum() else f"\\{ord(c):x} " for c in text)


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
