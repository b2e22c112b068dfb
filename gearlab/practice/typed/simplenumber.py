"""Most answers beyond plain digits, read in one go: a name, one number in any writing, one unit.

What it leaves is for the grammar of `typednumber`, which would read the same of what is read here.
"""

from __future__ import annotations

import re

from gearlab.practice.typed.tokens import NUMBER, Typed, decimal, unit_named
from gearlab.practice.typed.wording import Naming

__all__ = ["names_a_share", "simple"]

_SIMPLE = re.compile(
    r"(?:(?P<name>[A-Za-z\u0370-\u03ff][A-Za-z0-9_\u0370-\u03ff -]{0,39}"
    r"(?:/ ?[A-Za-z][A-Za-z0-9_]{0,15} ?)?)?= ?)?(?P<sign>[+-]?) ?"
    r"(?:(?P<whole>[0-9]{1,15}) (?P<top>[0-9]{1,15}) ?/ ?(?P<bottom>[0-9]{1,15})(?![0-9.,])"
    rf"|(?P<number>(?:{NUMBER})(?:[eE][+-]?[0-9]{{1,3}}(?![0-9.,]))?)"
    r"(?: ?\* ?10 ?(?:\^|\*\*) ?(?P<power>[+-]?[0-9]{1,2})(?![0-9.,])"
    rf"| ?/ ?(?P<below>{NUMBER})(?![eE0-9.,]))?)"
    r"(?P<unit>.*)",
    re.DOTALL,
)


def simple(text: str, asked: str, names: Naming) -> Typed | None:
    """The number, where it is a simple one; None where it is for the grammar to say."""
    match = _SIMPLE.fullmatch(text)
    if match is None:
        return None
    name, sign, whole, top, bottom, number, power, below, rest = match.groups()
    if rest.startswith(" in ") and names_a_share(asked, names):
        return None  # 1 in 3
    unit = unit_named(rest, asked) if rest and rest[-1] not in "*-/(^.," else ""
    if rest and not unit or name and not _plainly_named(name, names):
        return None
    signed, factor = bool(sign), -1.0 if sign == "-" else 1.0
    if whole:
        if int(top) >= int(bottom):
            return None
        return Typed(factor * (int(whole) + int(top) / int(bottom)), unit, 0.0, signed)
    readings = decimal(number)
    value, place = readings[0]
    if power:
        scale = 10.0 ** int(power)
        return Typed(factor * (value * scale), unit, place * scale, signed) if abs(int(power)) < 31 else None
    if below:
        under = decimal(below)
        if len(readings) > 1 or len(under) > 1 or not under[0][0]:
            return None
        return Typed(factor * (value / under[0][0]), unit, 0.0, signed)
    other = (factor * readings[1][0], readings[1][1]) if len(readings) > 1 else None
    return Typed(factor * value, unit, place, signed, "", other)


def names_a_share(asked: str, names: Naming) -> bool:
    """Whether a share of a whole is asked."""
    return asked == "%" or "share" in names.meaning


def _plainly_named(name: str, names: Naming) -> bool:
    words = name.replace("/", " ").replace("-", " ").split()
    return max(map(len, words)) <= 3 or names.fits([word for word in words if word.isalpha()], strict=False)
