"""Numbers written for people: to so many figures or so many places, without zeros that say nothing.

This module stands below all the others and imports none of them.
"""

from collections.abc import Sequence

__all__ = ["number_text", "number_texts", "placed_text"]


def number_text(value: float, digits: int = 12, least: float = 1e-5, most: float = 1e15) -> str:
    """A number [its own unit] as plain text: at most `digits` significant digits, no trailing zeros.

    No power of ten from `least` up to `most`.

    >>> number_text(78.75), number_text(18.0), number_text(1234567.0, 6), number_text(-0.0)
    ('78.75', '18', '1234567', '0')
    """
    text = f"{value:.{digits}g}"
    if "e" not in text:  # no trailing zeros in this form
        return "0" if text == "-0" else text
    if least <= abs(value) < most:
        text = f"{value:.0f}" if abs(value) >= 1 else f"{value:.{digits + 4}f}"
        return text.rstrip("0").rstrip(".") if "." in text else text
    return text


def number_texts(values: Sequence[float], digits: int = 12) -> list[str]:
    """Several numbers [each in its own unit], every one as `number_text` writes it, in one go.

    >>> number_texts([78.75, -0.0, 1234567.0], 6)
    ['78.75', '0', '1234567']
    """
    row = f"%.{digits}g " * len(values) % tuple(values)
    if "e" in row or "-0 " in row:  # a power of ten, perhaps to be written out, or a negative zero
        return [number_text(value, digits) for value in values]
    return row.split()


def placed_text(value: float, places: int) -> str:
    """A number [its own unit] with at most so many decimal places, no trailing zeros and no negative zero.

    >>> placed_text(78.7500001, 3), placed_text(10.0, 2), placed_text(-0.0001, 2)
    ('78.75', '10', '0')
    """
    text = f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text
