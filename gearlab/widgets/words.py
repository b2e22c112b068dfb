"""What Tab completes inside the quotes of an answer box: lessons, and the questions of their banks."""

from __future__ import annotations

import re
from functools import lru_cache

from .. import completing
from ..contents import content_folder, lesson_bank
from ..practice import load_bank


@lru_cache(maxsize=1)
def lessons() -> tuple[str, ...]:
    """Lessons that have a bank.

    >>> "03_centre_distance" in lessons()
    True
    """
    return tuple(sorted(path.parent.name for path in content_folder("exercises").glob("*/bank.toml")))


@lru_cache(maxsize=32)
def questions(lesson: str) -> tuple[str, ...]:
    """Questions of a lesson's bank; none where there is no such lesson."""
    return tuple(q.id for q in load_bank(lesson_bank(lesson))) if lesson in lessons() else ()


def _words(before: str) -> tuple[str, ...]:
    first = re.match(r"\s*[\"']([\w\-]+)[\"']\s*,", before)
    return questions(first[1]) if first else lessons()


for _name in ("ask", "check", "given", "lesson_bank"):
    completing.offer(_name, _words)
