"""The questions of a lesson as a table: what :func:`ask` shows where no question is named."""

from __future__ import annotations

import difflib
import os
from html import escape
from pathlib import Path

from gearlab.contents import lessons_with_bank
from gearlab.practice.bank import Bank
from gearlab.practice.workbook.progress import Answers

_HEADS = ("question", "title", "level", "minutes", "so far")


class QuestionList:
    """The questions of a bank with their level [-], minutes [min], and how far the reader has come."""

    def __init__(self, bank: Bank, answers: Answers):
        self.name = bank.name
        kept = answers.all()
        self.rows = tuple(
            (
                question.id,
                question.title,
                f"{question.level}",
                f"{question.minutes:g}",
                so_far(kept.get(f"{bank.name}/{question.id}", {}), question.version),
            )
            for question in bank
        )

    def __repr__(self) -> str:
        rows = [_HEADS, *self.rows]
        widths = [max(len(row[place]) for row in rows) for place in range(len(_HEADS))]
        lines = ["  ".join(text.ljust(width) for text, width in zip(row, widths)).rstrip() for row in rows]
        return "\n".join([self._opening(), *lines])

    def _opening(self) -> str:
        first = self.rows[0][0]
        return f'{len(self.rows)} questions of {self.name}; ask("{self.name}", "{first}") opens the first.'

    def _repr_html_(self) -> str:
        head = "".join(f'<th scope="col" style="text-align: left">{escape(text)}</th>' for text in _HEADS)
        body = "".join(
            f'<tr><th scope="row" style="text-align: left"><code>{escape(row[0])}</code></th>'
            + "".join(f'<td style="text-align: left">{escape(text)}</td>' for text in row[1:])
            + "</tr>"
            for row in self.rows
        )
        return (
            f"<table><caption>{escape(self._opening())}</caption><thead><tr>{head}</tr></thead>"
            f"<tbody>{body}</tbody></table>"
        )


def notebook_lesson() -> str:
    """The lesson whose notebook runs this code, as JupyterLab tells its kernels.

    ValueError elsewhere, or in a notebook that is no lesson with questions.
    """
    name, lessons = Path(os.environ.get("JPY_SESSION_NAME", "")).stem, lessons_with_bank()
    if name in lessons:
        return name
    raise ValueError(
        f'name the lesson: ask("{lessons[0]}") lists its questions; the others are {", ".join(lessons[1:])}'
    )


def so_far(kept: dict, version: int) -> str:
    """How far a reader has come with a question, from what its box keeps: "done", "tried" or "".

    >>> so_far({"version": 1, "draws": {"0": {"done": True}, "1": {"tries": 1}}}, 1), so_far({}, 1)
    ('done', '')
    """
    draws = kept.get("draws")
    draws = [draw for draw in draws.values() if isinstance(draw, dict)] if isinstance(draws, dict) else [kept]
    if kept.get("version", version) != version:
        return ""  # another question stood there
    if any(draw.get("done") for draw in draws):
        return "done"
    return "tried" if any(draw.get("tries") or draw.get("solved") for draw in draws) else ""


def like(word: str, names: list[str]) -> list[str]:
    """Names like a wrong one: those that hold its words, then those of like letters.

    >>> like("ratio", ["contact-ratio", "base-pitch"]), like("base-pich", ["contact-ratio", "base-pitch"])
    (['contact-ratio'], ['base-pitch'])
    """
    wanted = word.lower().replace("_", "-").replace(" ", "-").strip("-")
    holding = [name for name in names if wanted and wanted in name]
    return list(dict.fromkeys([*holding, *difflib.get_close_matches(wanted, names, 3, 0.55)]))[:3]
