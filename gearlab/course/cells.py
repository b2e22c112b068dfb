"""Notebooks that are handed out, made cell by cell: of a student's sheet, and of a bench's."""

import json

_KERNEL = {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"}


def markdown(identity: str, text: str) -> dict:
    """A cell of text."""
    return {"cell_type": "markdown", "id": identity, "metadata": {}, "source": text.splitlines(keepends=True)}


def code(identity: str, text: str, hidden: bool = False) -> dict:
    """A cell of code without outputs."""
    return {
        "cell_type": "code",
        "id": identity,
        "metadata": {"jupyter": {"source_hidden": True}} if hidden else {},
        "execution_count": None,
        "outputs": [],
        "source": text.splitlines(keepends=True),
    }


def sheet_cell(sheet: dict, more: str = "") -> dict:
    """The cell in which a sheet lies, plain data; `more` is what else `hand_in` is told."""
    data = json.dumps(sheet, ensure_ascii=True).replace("'", "\\u0027")
    text = f"from gearlab.widgets import hand_in, hand_in_box\n\nsheet = hand_in(r'''{data}'''{more})\nsheet"
    return code("sheet", text, hidden=True)


def notebook_of(cells: list[dict]) -> str:
    """The file of a notebook, JSON."""
    metadata = {"kernelspec": _KERNEL, "language_info": {"name": "python"}}
    content = {"cells": cells, "metadata": metadata, "nbformat": 4, "nbformat_minor": 5}
    return json.dumps(content, indent=1, ensure_ascii=False) + "\n"


def plain(text: str) -> str:
    """Text as it stands, in Markdown: nothing in it makes a link, a formula or a tag."""
    return "".join(f"\\{c}" if c in "\\`*_{}[]<>#|$~&" else c for c in text)
