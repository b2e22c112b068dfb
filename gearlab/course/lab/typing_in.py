"""A paper card typed in by the instructor: which answers there are, and what was typed for them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from gearlab.course.lab.folder import LabFolder
from gearlab.course.lab.numbers import Bench
from gearlab.course.lab.readings import reading_id
from gearlab.practice.handin import LONGEST_TYPED
from gearlab.schema import near


@dataclass(frozen=True)
class Asked:
    """A bench and the questions of its sheet."""

    bench: Bench
    questions: tuple[dict, ...]


def questions_of(lab: LabFolder, name: str) -> Asked:
    """The questions of a bench by its number ("7", "07", "bench-07") or of a make-up sheet ("M1").

    ValueError where there is none of that name.
    """
    text = name.strip().casefold()
    wanted = text.zfill(2) if text.isdecimal() else text
    for bench in lab.numbers.by_id.values():
        if wanted in (bench.short.casefold(), bench.id):
            return Asked(bench, tuple(lab.numbers.hand_out(bench, lab.minutes)["questions"]))
    shorts = [bench.short for bench in lab.numbers.by_id.values()]
    raise ValueError(f"bench {name!r}: there is none; there are {shorts[0]} to {shorts[-1]}")


def taken(asked: Asked, typed: Mapping[str, str]) -> dict[str, dict[str, str]]:
    """Typed texts by question and answer, as a hand-in holds them.

    typed: by "question" where it has one answer, or "question.answer"; options of a choice by their letters.
    ValueError for a question or an answer that is not on the sheet, or an option that does not exist.
    """
    sheet = {question["id"]: question for question in asked.questions}
    rows: dict[str, dict[str, str]] = {}
    for name, text in typed.items():
        question, _, answer = name.partition(".")
        if question not in sheet:
            raise ValueError(
                f"answer {name!r}: {asked.bench.title} has no question {question!r}"
                + (near(question, sheet) or f"; it has {', '.join(sheet)}")
            )
        ids = [each["id"] for each in sheet[question]["answers"]]
        if not answer and len(ids) > 1:
            raise ValueError(f"answer {name!r}: it has {len(ids)} answers; write {question}.{ids[0]}=TEXT")
        answer = answer or ids[0]
        if answer not in ids:
            raise ValueError(f"answer {name!r}: question {question!r} has {', '.join(ids)}")
        if len(text) > LONGEST_TYPED:
            raise ValueError(f"answer {name!r}: has {len(text)} characters, at most {LONGEST_TYPED} are kept")
        options = sheet[question].get("options")
        rows.setdefault(question, {})[answer] = (
            _numbers(name, text, len(options)) if options else text.strip()
        )
    return rows


def readings_told(
    lab: LabFolder, bench: Bench, typed: Mapping[str, Mapping[str, str]]
) -> Iterator[tuple[str, str]]:
    """What is to be said of the readings that were typed: title, and measured minus computed in words."""
    for step in lab.sheet.table.step:
        for table in step.reading:
            text = typed.get(reading_id(table), {}).get("reading", "")
            if text and (told := lab.numbers.reading(bench, table).told(text)):
                yield table.title, told


def _numbers(name: str, text: str, count: int) -> str:
    """Letters of options as the numbers that a hand-in holds.

    >>> _numbers("q", "a, C", 3)
    '1, 3'
    """
    letters = [
        piece.strip().rstrip(")").casefold() for piece in text.replace(";", ",").split(",") if piece.strip()
    ]
    places = [ord(piece) - 96 if len(piece) == 1 else 0 for piece in letters]
    if not letters or any(not 1 <= place <= count for place in places):
        raise ValueError(f"answer {name}={text!r}: choose from a to {chr(96 + count)}, such as a or a, c")
    return ", ".join(map(str, sorted(set(places))))
