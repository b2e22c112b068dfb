"""The lessons as data: title, minutes, the questions that stand in each, and the quantities that it uses.

All of it is read from the notebooks and the banks beside them; nothing is written down twice.
"""

from __future__ import annotations

import ast
import json
import re
import tomllib
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from gearlab.contents import content_folder
from gearlab.theory.quantities import QUANTITIES, split_side
from gearlab.theory.scope import KINDS

_ASKED = re.compile(r"\bask\(\s*\"([^\"]+)\",\s*\"([^\"]+)\"")


@dataclass(frozen=True)
class Listed:
    """A question as a list names it; its numbers and answers are read only when it is asked.

    lesson: name of its lesson, which is that of its bank.
    asked: the quantities it asks for.
    parts: how many answers, or conditions of a design, it has [-].
    minutes: how long it takes [min].
    """

    lesson: str
    id: str
    title: str
    kind: str
    level: int
    minutes: float
    version: int
    asked: tuple[str, ...] = ()
    parts: int = 1

    @property
    def name(self) -> str:
        """Its name everywhere, as in the answers file: "07_contact/contact-ratio"."""
        return f"{self.lesson}/{self.id}"


@dataclass(frozen=True)
class Lesson:
    """One lesson: its notebook, and what of it stands elsewhere under its name.

    name: of its notebook and of its folder among the exercises ("07_contact").
    title: the question it asks, without its number.
    minutes: how long it takes, 0 where it does not say [min].
    asked: the questions that stand in it, as (bank, question).
    words: the quantities it works with, without the words driver and driven: its questions give or ask
        them, or its code derives them.
    named: those it only names, in its text or in its code.
    kinds: what its questions are about, kinds of ``scope.KINDS``.
    questions: all of its bank.
    """

    name: str
    title: str
    minutes: int
    asked: tuple[tuple[str, str], ...] = ()
    words: frozenset[str] = field(default=frozenset(), repr=False)
    named: frozenset[str] = field(default=frozenset(), repr=False)
    kinds: frozenset[str] = frozenset()
    questions: tuple[Listed, ...] = field(default=(), repr=False)

    @property
    def number(self) -> int:
        """Its number: 7 for "07_contact"."""
        return int(self.name[:2])

    @property
    def file(self) -> str:
        """Name of its notebook."""
        return f"{self.name}.ipynb"


@cache
def lessons() -> tuple[Lesson, ...]:
    """Every lesson, in the order in which they are taught.

    >>> [lesson.name for lesson in lessons()][:2]
    ['00_start_here', '01_teeth_and_diameter']
    """
    return tuple(_lesson(path) for path in sorted(content_folder("notebooks").glob("[0-9][0-9]_*.ipynb")))


def lesson(name: str) -> Lesson:
    """A lesson by its name, or by its number ("7", "07").

    ValueError if there is none; the message lists those there are.

    >>> lesson("7").name
    '07_contact'
    """
    for lesson in lessons():
        if name in (lesson.name, str(lesson.number), f"{lesson.number:02d}"):
            return lesson
    raise ValueError(
        f"lesson {name!r}: there is none; choose one of {', '.join(lesson.name for lesson in lessons())}"
    )


def _lesson(path: Path) -> Lesson:
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    code, prose = (
        "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == kind)
        for kind in ("code", "markdown")
    )
    title = re.search(r"^# \d+ · (.+)$", prose, re.M)
    minutes = re.search(r"\*\*About (\d+) minutes\.\*\*", prose)
    bank = content_folder("exercises") / path.stem / "bank.toml"
    questions = tomllib.loads(bank.read_text(encoding="utf-8"))["question"] if bank.is_file() else []
    return Lesson(
        path.stem,
        title[1] if title else path.stem[3:].replace("_", " "),
        int(minutes[1]) if minutes else 0,
        tuple(dict.fromkeys(_ASKED.findall(code))),
        frozenset(_in_code(code, derived=True) | _in_bank(questions)),
        frozenset(_in_code(code, derived=False) | _in_prose(prose)),
        frozenset(question["of"] for question in questions if question.get("of") in KINDS),
        tuple(_listed(path.stem, question) for question in questions),
    )


def _listed(name: str, question: dict) -> Listed:
    answers = question.get("answers", [])
    asked = (answer.get("asked", "") for answer in answers)
    return Listed(
        name,
        question["id"],
        question["title"],
        question["kind"],
        question["level"],
        float(question["minutes"]),
        question["version"],
        tuple(word for word in asked if word),
        len(answers) or len(question.get("conditions", [])) or 1,
    )


def _in_code(code: str, derived: bool) -> set[str]:
    """Quantities in code: those that it derives or explains, or those that it names in any other way."""
    try:
        tree = ast.parse(code)
    except SyntaxError:  # a reader's own line, not finished yet
        return set()
    names: list = []
    for node in ast.walk(tree):
        if not derived:
            names += [getattr(node, part, None) for part in ("id", "attr", "arg", "value")]
        elif isinstance(node, ast.Call):
            called = getattr(node.func, "id", getattr(node.func, "attr", ""))
            if called in ("derive", "explain"):
                names += [getattr(part, "value", None) for part in ast.walk(node)]
    return {split_side(name)[1] for name in names if isinstance(name, str) and name in QUANTITIES}


def _in_bank(questions: list[dict]) -> set[str]:
    """Quantities that a lesson's questions give or ask for."""
    words: set[str] = set()
    for question in questions:
        words |= set(question.get("givens", {})) | {
            answer.get("asked", "") for answer in question.get("answers", [])
        }
    return {split_side(word)[1] for word in words if word in QUANTITIES}


def _in_prose(prose: str) -> set[str]:
    """Quantities of several words that the text names: one word alone may be an everyday one."""
    plain = " ".join(prose.lower().replace("*", "").split())
    return {word for word in QUANTITIES if "_" in word and word.replace("_", " ") in plain}


@cache
def first_uses() -> dict[str, str]:
    """The first lesson that works with a quantity, else that names it, by its word without its side.

    >>> first_uses()["contact_ratio"]
    '07_contact'
    """
    first: dict[str, str] = {}
    for words in ("words", "named"):
        for lesson in lessons():
            for word in getattr(lesson, words):
                first.setdefault(word, lesson.name)
    return first
