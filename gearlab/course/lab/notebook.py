"""A bench's notebook: the lab's questions with the bench's numbers; what is typed lies in its folder."""

from __future__ import annotations

import json

__all__ = ["bench_notebook"]


def bench_notebook(sheet: dict, sections: list[tuple[str, str, list[str]]]) -> str:
    """The notebook of a bench, JSON without outputs.

    sheet: what the boxes know, without any key.
    sections: heading, care before it, and ids of the questions of each step.
    """
    data = json.dumps(sheet, ensure_ascii=True).replace("'", "\\u0027")
    questions = {question["id"]: question for question in sheet["questions"]}
    head = (
        f"# {plain(sheet['title'])}\n\nSheet `{sheet['packet']}`. Choose *Run → Run All Cells*, then type"
        " each result with its unit; a box says how it was read and saves it at once, as"
        f" `{sheet['file']}` beside this notebook. The letters are the checkpoints of your card. Predictions"
        " are never judged. Nothing is marked here."
    )
    # in this folder whatever GEARLAB_ANSWERS says: the board looks here
    setup = (
        f"from gearlab.widgets import hand_in, hand_in_box\n\nsheet = hand_in(r'''{data}''', \".\")\nsheet"
    )
    cells = [_markdown("title", head), _code("sheet", setup, hidden=True)]
    for place, (heading, care, names) in enumerate(sections, 1):
        cells.append(_markdown(f"step-{place}", f"## {plain(heading)}"))
        if care:
            cells.append(_markdown(f"care-{place}", care))
        for name in names:
            question = questions[name]
            text = f"### {plain(question['title'])}\n\n{plain(question['prompt'])}"
            cells.append(_markdown(f"ask-{name}"[:64], text))
            cells.append(_code(f"box-{name}"[:64], f"hand_in_box(sheet, {name!r})"))
    cells.append(_markdown("end", "## What is still empty"))
    cells.append(_code("status", "sheet.status()"))
    kernel = {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"}
    content = {
        "cells": cells,
        "metadata": {"kernelspec": kernel, "language_info": {"name": "python"}},
        "nbformat": 4,
        "nbformat_minor": 5,
    }
    return json.dumps(content, indent=1, ensure_ascii=False) + "\n"


def plain(text: str) -> str:
    """Text as it stands, in Markdown: nothing in it makes a link, a formula or a tag."""
    return "".join(f"\\{c}" if c in "\\`*_{}[]<>#|$~&" else c for c in text)


def _markdown(identity: str, text: str) -> dict:
    return {"cell_type": "markdown", "id": identity, "metadata": {}, "source": text.splitlines(keepends=True)}


def _code(identity: str, text: str, hidden: bool = False) -> dict:
    return {
        "cell_type": "code",
        "id": identity,
        "metadata": {"jupyter": {"source_hidden": True}} if hidden else {},
        "execution_count": None,
        "outputs": [],
        "source": text.splitlines(keepends=True),
    }
