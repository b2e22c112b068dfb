"""The lessons as documents: their anatomy, and that a warning in one of them fails.

That they run is tested by nbval, which collects ``notebooks/*.ipynb`` in the same test command.
"""

from __future__ import annotations

import ast
import json
import os
import re
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest

from gearlab.practice.workbook.predictions import prediction_of

NOTEBOOKS = Path(__file__).resolve().parents[1] / "notebooks"
LESSONS = sorted(NOTEBOOKS.glob("[0-9][0-9]_*.ipynb"))
PARTS = [
    "Predict",
    "Turn it",
    "The surprise",
    "Derive",
    "Compute",
    "Check",
    "Try",
    "Back to your prediction",
    "What we showed",
    "In practice",
    "Sources",
    "Next",
]
FIRST_PARTS = [
    "Is everything installed?",
    "How a lesson works",
    "Predict",
    "Turn it",
    "The surprise",
    "Try",
    "Back to your prediction",
    "What we showed",
    "In practice",
    "Next",
]  # lesson 00 derives nothing
WITHOUT_MINUTES = {"How a lesson works", "What we showed", "In practice", "Sources", "Next"}
MOST_LINES = 15
BY_SHAPE = (".outline()", ".overlap_area(", ".rolling.", "roll(")  # what reads the cut teeth, and no formula


@pytest.fixture(params=LESSONS, ids=lambda path: path.stem)
def lesson(request):
    return request.param, nbformat.read(request.param, as_version=4)


def markdown(notebook) -> str:
    return "\n\n".join(cell.source for cell in notebook.cells if cell.cell_type == "markdown")


def code(notebook) -> list[str]:
    return [cell.source for cell in notebook.cells if cell.cell_type == "code"]


def calls(notebook, name: str) -> list[ast.Call]:
    return [
        node
        for source in code(notebook)
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == name
    ]


def test_the_lessons_of_the_first_chapter_are_there():
    assert [path.stem[:2] for path in LESSONS][:5] == ["00", "01", "02", "03", "04"]


def test_parts_in_order_and_minutes_add_up(lesson):
    path, notebook = lesson
    headings = re.findall(r"^## (.+)$", markdown(notebook), re.M)
    names = [heading.split(" · ")[0] for heading in headings]
    assert names == (FIRST_PARTS if path.stem.startswith("00") else PARTS)
    minutes = {name: re.search(r" · (\d+) minutes?$", heading) for name, heading in zip(names, headings)}
    assert {name for name, found in minutes.items() if not found} <= WITHOUT_MINUTES
    stated = int(re.search(r"\*\*About (\d+) minutes\.\*\*", markdown(notebook))[1])
    assert 20 <= stated <= 60
    total = sum(int(found[1]) for found in minutes.values() if found)
    assert total <= stated <= total + 10, f"the parts take {total} minutes; reading takes a few more"


def test_title_asks_a_question_and_says_what_for(lesson):
    _, notebook = lesson
    first = notebook.cells[0].source
    assert re.match(r"# \d+ · .+\?$", first.splitlines()[0])
    assert all(word in first for word in ("**You will do**", "**You will learn**", "**You need**"))


def test_no_outputs_and_short_cells(lesson):
    _, notebook = lesson
    for cell in notebook.cells:
        if cell.cell_type == "code":
            assert not cell.outputs and cell.execution_count is None, (
                "a printed answer would spoil the prediction"
            )
            assert len(cell.source.splitlines()) <= MOST_LINES, cell.source
            assert not cell.source.rstrip().endswith(";"), "nbval shows the value all the same"
    assert "widgets" not in notebook.metadata, "saved widget state would come back without its Python half"


def test_predicts_once_and_looks_back_at_it(lesson):
    path, notebook = lesson
    predictions, returns = calls(notebook, "predict"), calls(notebook, "look_back")
    assert len(predictions) == len(returns) == 1
    key = predictions[0].args[0].value
    assert key == returns[0].args[0].value and key.startswith(path.stem + "/")
    # what waits for a prediction is this one's, and its words are in the lesson's file
    prediction = prediction_of(key)
    for call in calls(notebook, "surprise"):
        assert call.args[0].value == key
        for text in (word.value.value for word in call.keywords if word.arg == "text"):
            assert not text or prediction.text(text)
            told = prediction.text(text).strip() if text else ""
            assert not told or told not in markdown(notebook), "told before the prediction"
    if calls(notebook, "surprise"):
        assert prediction.surprise.strip() not in markdown(notebook), "told before the prediction"


def test_asks_three_questions_of_its_bank_of_rising_level(lesson):
    from gearlab.contents import lesson_bank
    from gearlab.practice.bank import load_bank

    path, notebook = lesson
    everything = [(call.args[0].value, call.args[1].value) for call in calls(notebook, "ask")]
    in_words = [load_bank(lesson_bank(bank))[question].for_people for bank, question in everything]
    assert not any(in_words[:-1])  # one to answer in words may come last, for those with time left
    asked = everything[: len(in_words) - sum(in_words)]
    levels = [load_bank(lesson_bank(bank))[question].level for bank, question in asked]
    assert len(asked) == 3 and levels == sorted(levels)
    if not path.stem.startswith("00"):
        assert {bank for bank, _ in asked} == {path.stem} and len(set(levels)) == 3
    for bank, question in re.findall(r'`ask\("([^"]+)", "([^"]+)"\)`', markdown(notebook)):
        assert load_bank(lesson_bank(bank))[question].id == question


def _entries(sources: str) -> list[str]:
    """The entries of a list in Markdown, each on one line, up to the next heading."""
    listed = sources.split("\n## ")[0]
    return [" ".join(entry.split()) for entry in re.split(r"^- ", listed, flags=re.M)[1:]]


def test_checks_assert_and_name_published_sources(lesson):
    path, notebook = lesson
    if path.stem.startswith("00"):
        pytest.skip("lesson 00 computes nothing")
    asserts = sum(
        isinstance(node, ast.Assert) for source in code(notebook) for node in ast.walk(ast.parse(source))
    )
    # the rows of agree([...]) are numbers held against the text, too
    asserts += sum(len(call.args[0].elts) for call in calls(notebook, "agree"))
    assert asserts >= 6
    assert any(call in source for source in code(notebook) for call in BY_SHAPE), (
        "the shape is the second, independent route"
    )
    assert calls(notebook, "derive"), "formulas are derived, not typed"
    sources = markdown(notebook).split("## Sources")[1]
    # a publication by name (in slanted type) with the place in it that can be looked up
    place = r"(?:Problem|Example|Illustration|sec\.|section|table|chapter|p\.) \d"
    assert any(re.search(rf"\*[^*]{{8,}}\*.*{place}", line) for line in _entries(sources)), sources


def test_links_lead_to_lessons(lesson):
    path, notebook = lesson
    for target in re.findall(r"\]\(([^)#]+\.ipynb)\)", markdown(notebook)):
        assert (path.parent / target).is_file(), target


def test_code_is_read_without_leaving_the_project(lesson):
    _, notebook = lesson
    for source in code(notebook):
        for word in ("%", "!"):
            assert not source.lstrip().startswith(word), "no shell and no magics: plain Python"


def _notebook_with(sources: list[str], path: Path) -> None:
    cells = [
        {
            "cell_type": "code",
            "execution_count": None,
            "id": f"cell-{number}",
            "metadata": {},
            "outputs": [],
            "source": source,
        }
        for number, source in enumerate(sources)
    ]
    path.write_text(
        json.dumps(
            {
                "cells": cells,
                "metadata": {
                    "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"}
                },
                "nbformat": 4,
                "nbformat_minor": 5,
            }
        )
    )


def test_a_warning_in_a_notebook_fails(tmp_path):
    """One notebook that sums, warns and sums again: its second cell fails, and no other."""
    warns = "import warnings\nwarnings.warn('old call', DeprecationWarning, stacklevel=1)"
    _notebook_with(["1 + 1", warns, "2 + 2"], tmp_path / "one.ipynb")
    run = subprocess.run(
        [
            sys.executable,
            "-m",
            "pytest",
            "--nbval",
            "-q",
            "-rA",
            "-p",
            "no:cacheprovider",
            "-c",
            os.devnull,
            "one.ipynb",
        ],
        cwd=tmp_path,
        env={**os.environ, "PYTHONWARNINGS": "error"},
        capture_output=True,
        text=True,
        timeout=120,
    )
    cells = {cell: kind for kind, cell in re.findall(r"^([A-Z]+) \S*::Cell (\d)", run.stdout, re.M)}
    assert (cells.get("0"), cells.get("1")) == ("PASSED", "FAILED"), run.stdout
    assert run.returncode == 1 and "old call" in run.stdout


def test_the_kernels_of_this_run_treat_warnings_as_errors():
    assert os.environ.get("PYTHONWARNINGS") == "error", "set by the conftest of the project"
    assert os.environ.get("GEARLAB_ANSWERS"), "answers of a test run must not lie beside the lessons"
