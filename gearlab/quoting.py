"""What somebody else wrote, as it may stand in a message, a list or a table.

This module stands below all the others and imports none of them.
"""

import re
import unicodedata

__all__ = ["in_css", "one_line", "plain_lines", "short", "steady"]

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
