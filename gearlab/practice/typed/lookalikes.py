"""A typed text brought to plain characters: one minus sign, one space, one fraction, digits on the line."""

from __future__ import annotations

import re
import unicodedata

__all__ = ["RAISED", "plain_text"]

# Look-alikes brought to one character.  Digits of other scripts are left alone and therefore not read.
_SAME = {
    **dict.fromkeys("\u2212\u2010\u2011\u2012\u2013\u2014\u2015\ufe63\uff0d\u207b\u02d7", "-"),
    **dict.fromkeys("\uff0b\ufe62\u207a", "+"),
    **dict.fromkeys(
        "\t\n\r\x0b\x0c\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000",
        " ",
    ),
    **dict.fromkeys(
        "\u200b\u200c\u200d\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2060\u2066\u2067\u2068\u2069\ufeff\u00ad",
        "",
    ),
    **dict.fromkeys("\u00d7\u00b7\u22c5\u2219\u2022\u2062\u2217\u2715", "*"),
    **dict.fromkeys("\u2044\u2215\uff0f\u00f7", "/"),
    **dict.fromkeys("\u2033\u201d\u201c\u201f\uff02\u02ba", '"'),
    **dict.fromkeys("\u2032\u2019\u2018\u02b9\u00b4`\uff07", "'"),
    **dict.fromkeys("\u00ba\u02da", "°"),
    **dict.fromkeys("\u2248\u2245\u2243\u223c\u2242\uff5e~", "≈"),
    **dict.fromkeys("\u2236\ufe55\u02d0", ":"),
    **dict.fromkeys("[\uff3b", "("),
    **dict.fromkeys("]\uff3d", ")"),
    **dict.fromkeys("Øø⌀", " diameter "),
    "√": " sqrt ",
}
_TABLE = str.maketrans({**{chr(0xFF01 + i): chr(0x21 + i) for i in range(94)}, **_SAME})
_FRACTIONS = {
    mark: f"{top}/{bottom}"
    for mark, top, bottom in zip("½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞", "112131234151357", "233445555668888")
}
_FRACTION = re.compile("([0-9]?)([" + "".join(_FRACTIONS) + "])")
_FRACTION_RUN = re.compile(f"(?<=[{''.join(_FRACTIONS)}])(?=[{''.join(_FRACTIONS)}0-9])")
RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹", "0123456789")
_LOWERED = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")
_RAISED_FRACTION = re.compile(r"([0-9]?)([⁰¹²³⁴⁵⁶⁷⁸⁹]{1,9}) ?/ ?([₀₁₂₃₄₅₆₇₈₉]{1,9})")
_RAISED_POWER = re.compile(r"([0-9)])([+-]?)([⁰¹²³⁴⁵⁶⁷⁸⁹]+)")
_TIMES = re.compile(r"(?<=[0-9)])(?<!\b0) ?[xX] ?(?=[0-9.(])")  # but not in 0x1F
_TO_ONE = re.compile(r"(?<=[0-9])(?:-to-(?=[0-9])|[ -]to[ -](one)\b)", re.IGNORECASE)  # 2.5-to-1, 2.5 to one
_AND = re.compile(r"(?<![0-9.,])([0-9]{1,9}) (?:and|&) (?=[0-9]{1,9} ?/ ?[0-9])")  # 1 and 7/8
_ARROW = re.compile(r" ?(?:=>|->|→|⇒) ?")
# Units in one character, as some keyboards have them: mm, MPa, kW.
_SQUARED = re.compile("[\u3371-\u33df]")
# What a spreadsheet, a note or a formula puts around an answer, and no part of it.
_WRAPPED = re.compile(r"\s*(?:\"([^\"]*)\"|'([^']*)'|'(?=[-+=.0-9])([^']*)|\$([^$]*)\$|\*\*([^*]*)\*\*)\s*")
# A power of ten whose raised exponent was lost on the way: 5×10-2; with a "*" it is working.
_LOST_POWER = re.compile(
    r"(?<![0-9.,])([1-9](?:[.,][0-9]{1,9})?) ?[xX\u00d7] ?10[-\u2212\u2013]([0-9]{1,2})(?![0-9.,/^*])"
)
_GIVE_OR_TAKE = re.compile(r"(?<=\S) ?\+/?-(?= ?[0-9.])")
_SIGN_IN_WORDS = re.compile(r"(^|[=≈(] ?)(?:(minus|negative)|plus|positive) (?=[0-9.])", re.IGNORECASE)
_GROUPED = re.compile(r"(?<![0-9.,'])[0-9]{1,3}(?:'[0-9]{3})+(?![0-9'])")


def _apart(whole: str, fraction: str) -> str:
    return f"{whole} {fraction}" if whole else fraction


def plain_text(text: str) -> str:
    """The text in plain characters, with single spaces.

    >>> plain_text("1\u2009234,5\u202fmm"), plain_text("3½\u2033"), plain_text("7,9 × 10²")
    ('1 234,5 mm', '3 1/2"', '7,9 * 10^2')
    """
    if "10" in text:
        text = _LOST_POWER.sub(r"\1*10^-\2", text)
    text = text.translate(_TABLE)
    if wrapped := _WRAPPED.fullmatch(text):
        text = next(inner for inner in wrapped.groups() if inner is not None)
    if not text.isascii():
        text = _SQUARED.sub(lambda match: unicodedata.normalize("NFKC", match[0]), text)
        text = _FRACTION_RUN.sub(" ", text)
        text = _FRACTION.sub(lambda match: _apart(match[1], _FRACTIONS[match[2]]), text)
        text = _RAISED_FRACTION.sub(
            lambda match: _apart(match[1], f"{match[2].translate(RAISED)}/{match[3].translate(_LOWERED)}"),
            text,
        )
        text = text.translate(_LOWERED).replace("-¹", "^-1")
        text = _RAISED_POWER.sub(lambda match: f"{match[1]}^{match[2]}{match[3].translate(RAISED)}", text)
    text = " ".join(text.split())
    if "x" in text or "X" in text:
        text = _TIMES.sub("*", text)
    if ">" in text or "→" in text or "⇒" in text:
        text = _ARROW.sub(" = ", text).strip()
    if "and" in text or "&" in text:
        text = _AND.sub(r"\1 ", text)
    if "to" in text or "TO" in text or "To" in text:
        text = _TO_ONE.sub(lambda match: f" to {1 if match[1] else ''}", text)
    if "us " in text or "ive " in text or "US " in text or "IVE " in text:  # minus 45 rpm
        text = _SIGN_IN_WORDS.sub(lambda match: f"{match[1]}{'-' if match[2] else '+'}", text)
    if "+-" in text or "+/-" in text:
        text = _GIVE_OR_TAKE.sub("±", text)
    if "'" in text:
        text = _GROUPED.sub(lambda match: match[0].replace("'", ""), text).replace("''", '"')
    return text
