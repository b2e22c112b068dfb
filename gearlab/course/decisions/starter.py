"""A file of decisions to begin with: every kind as a commented example, with the names of its set."""

from __future__ import annotations

import os
from pathlib import Path

from gearlab.course.gradebook import points_text
from gearlab.course.pages import part
from gearlab.practice import HomeworkSet, Question
from gearlab.practice.handin import file_name as hand_in_name
from gearlab.quoting import one_line
from gearlab.toml import toml_text


def begin(path: Path, homework: HomeworkSet) -> None:
    """Write a new file of decisions about a set, readable by its owner only.

    ValueError if the file is there already.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o600)
    except FileExistsError:
        raise ValueError(f"decisions {path}: is there already; it is never written over") from None
    with os.fdopen(handle, "wb") as file:
        file.write(starter(homework).encode("utf-8"))


def starter(homework: HomeworkSet) -> str:
    """The text of a new file of decisions about a set; in it nothing is decided yet."""
    rows = []
    for entry in homework.entries:
        answers = ", ".join(
            f"{answer.id} {points_text(answer.points * entry.scale)}" for answer in entry.question.answers
        )
        rows.append(f"#   {entry.question.id} ({points_text(entry.points)}): {answers}")
    first = next((e.question for e in homework.entries if e.question.numbers), homework.entries[0].question)
    answer = f"\n# answer = {toml_text(first.answers[0].id)}" if len(first.answers) > 1 else ""
    return part("decisions.toml").format(
        title=one_line(homework.title),
        name=toml_text(homework.name),
        questions="\n".join(rows),
        question=toml_text(first.id),
        last=toml_text(homework.entries[-1].question.id),
        answer=answer,
        right=_right(first),
        file=hand_in_name(homework.name, "ID2"),
    )


def _right(question: Question) -> str:
    """An answer that may be called right, as an example of the form."""
    if question.kind == "choice":
        wrong = next(option.text for option in question.table.options if not option.right)
        return f"option = {toml_text(wrong)}"
    if question.numbers and question.shown_names:
        return f"formula = {toml_text(f'{question.shown_names[0]} * 2')}"
    return 'formula = "..."'
