"""What somebody else wrote, as it may stand in a message, a list or a table.

This module stands below all the others and imports none of them.
"""

import unicodedata

__all__ = ["one_line", "short"]

# Control, format, surrogate and private characters, and the two that part lines and paragraphs.
_HIDDEN = ("Cc", "Cf", "Cs", "Co", "Zl", "Zp")


def one_line(text: str) -> str:
    """Text as it may stand in a list or a table: one line, control and format characters as their codes.

    So no text steers a terminal, or turns round the line in which it is quoted.

    >>> one_line("a\\nb"), one_line("Müller ½"), one_line("\\u202egnp.exe")
    ('a\\\\u000ab', 'Müller ½', '\\\\u202egnp.exe')
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(f"\\u{ord(c):04x}" if unicodedata.category(c) in _HIDDEN else c for c in text)


def short(text: str, longest: int = 30) -> str:
    """A text to quote in a sentence: one line, its beginning where it is longer.

    >>> short("78.75 mm"), short("a" * 40, 12)
    ('78.75 mm', 'aaaaaaaaa...')
    """
    return one_line(text if len(text) <= longest else text[: longest - 3] + "...")
