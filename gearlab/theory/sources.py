"""How sure a source is: what a formula rests on, in the words that a reader is told."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

#: How sure a source is, the surest first, and what the word means.
HOW_SURE: Mapping[str, str] = {
    "in print": "a publication is named in which it stands",
    "in a worked solution": "it was read in somebody's worked solution",
    "from memory": "written down from memory of a publication: look it up before you rely on it",
    "common practice": "usual in workshops, without a publication behind it",
    "by definition or geometry": (
        "it needs no publication: it is agreed, or follows from shape, counting or balance"
    ),
}
# Where another publication begins; what goes on small is a remark on the one before.
_NEXT = re.compile(r"; (?=[A-Z])")
_REMARK = re.compile(r"common practice \((.+)\)")
_REASONED = (
    "definition",
    "geometry",
    "arithmetic",
    "statics",
    "balance of",
    "kinematics",
    "chain of",
    "rack generation",
    "search over",
)


def how_sure(source: str) -> str:
    """How sure a source is, one of ``HOW_SURE``.

    source: as a relation or a table states it.

    >>> how_sure("ISO 21771:2007, Gears: cylindrical involute gears and gear pairs"), how_sure("definition")
    ('in print', 'by definition or geometry')
    >>> how_sure("DIN 3960, practical limit (from memory)")
    'from memory'
    """
    text = source.lower()
    if "from memory" in text:
        return "from memory"
    if "worked solution" in text:
        return "in a worked solution"
    if text.startswith(_REASONED):
        return "by definition or geometry"
    return "common practice" if "common practice" in text else "in print"


def told(sources: Iterable[str]) -> str:
    """Sources as one line, each once, the surest first; "" for none.

    >>> told(["definition", "DIN 3960 (from memory)", "ISO 53:1998", "definition"])
    'Sources: in print: ISO 53:1998. From memory: DIN 3960. By definition.'
    >>> told(["common practice (stack-up along a shaft)"])
    'Sources: common practice: stack-up along a shaft.'
    """
    grouped: dict[str, dict[str, None]] = {sure: {} for sure in HOW_SURE}
    for source in (part for several in sources if several for part in _NEXT.split(several)):
        sure = how_sure(source)
        plain = source.replace("(from memory)", "").replace("(worked solution)", "").strip()
        if sure == "common practice" and (remark := _REMARK.fullmatch(plain)):
            plain = remark[1]  # what is in the brackets: the words before them head the group
        grouped[sure][" ".join(plain.split())] = None
    # One that another one begins with is told by that one.
    told_of = {
        sure: [name for name in names if not any(other.startswith(f"{name}; ") for other in names)]
        for sure, names in grouped.items()
    }
    groups = [_group(sure, names) for sure, names in told_of.items() if names]
    return (
        ""
        if not groups
        else "Sources: "
        + ". ".join([groups[0], *(group[0].upper() + group[1:] for group in groups[1:])])
        + "."
    )


def _group(sure: str, names: list[str]) -> str:
    """The sources of one kind, without saying its name twice."""
    if names == [sure]:
        return sure
    if set(names) <= {"definition", "geometry"}:
        return f"by {' and '.join(names)}"
    return f"{sure}: {'; '.join(names)}"
