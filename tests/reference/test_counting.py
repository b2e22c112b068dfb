"""How sure we are, told where the number is read.

The sentences in lessons, README and DEVELOPERS.md say what the rows say.
"""

import json
import re
from pathlib import Path

import pytest
from counting import LESSONS, TABLES, counted, in_words, of_lesson, rows, sentence
from every_row import every

from gearlab.theory.relations import ALL
from gearlab.theory.sources import HOW_SURE, how_sure, told

ROOT = Path(__file__).resolve().parents[2]
NOTEBOOKS = sorted(path for path in (ROOT / "notebooks").glob("[0-9]*.ipynb") if path.stem[:2] != "00")
WIDE = 0.1  # of a number; a wider tolerance checks nothing
# What cannot be looked up.
NOWHERE = re.compile(
    r"forum|course[- ]project|\breport on\b|\(document|lecture note|believed to"
    r" be|extract$|unknown|anonymous",
    re.IGNORECASE,
)


@pytest.mark.parametrize("notebook", NOTEBOOKS, ids=lambda path: path.stem)
def test_a_lesson_says_how_sure_its_values_are(notebook):
    text = "\n".join(
        "".join(cell["source"])
        for cell in json.loads(notebook.read_text(encoding="utf-8"))["cells"]
        if cell["cell_type"] == "markdown"
    )
    told_there = text.split("## Sources")[1].split("## Next")[0]
    assert f"- {sentence(notebook.stem[:2])}\n" in told_there


def test_every_lesson_has_its_rows_and_every_row_a_lesson():
    assert set(LESSONS) == {path.stem[:2] for path in NOTEBOOKS}
    told_of = {row["id"] for lesson in LESSONS for row in of_lesson(lesson)}
    assert told_of == {row["id"] for row in rows()}


@pytest.mark.parametrize("file", ["README.md", "DEVELOPERS.md"])
def test_the_readme_counts_right(file):
    text = " ".join((ROOT / file).read_text(encoding="utf-8").split())
    checked = len(rows()) - counted(rows())["tables"]
    assert f"{checked} published values ({in_words(rows())})" in text


def test_the_counts_add_up():
    count = counted(rows())
    assert (
        count.total() == len(rows()) > 600
        and count["read in print"] > 50
        and count["tables"] == sum(row["method"] in TABLES for row in rows())
    )
    assert {row["method"] for row in rows()} >= TABLES


@every(rows(), lambda row: row["id"])
def test_a_row_can_be_looked_up_and_is_narrow(row):
    assert not NOWHERE.search(row["source"]), "name a publication that somebody can find, or drop the row"
    value = row["expected"]["value"]
    if isinstance(value, (int, float)) and value:
        assert row["tolerance"] < WIDE * abs(value), (
            "half a unit in the last printed place; a number printed whole is exact, or the row shows nothing"
        )


# -- what an explanation says --------------------------------------------------------------------------
@every(sorted({relation.source for relation in ALL}))
def test_every_relation_says_how_sure_it_is(source):
    sure = how_sure(source)
    assert sure in HOW_SURE
    assert ("from memory" in source) == (sure == "from memory")
    if sure == "in print":  # a publication: somebody's name, a standard, or a handbook
        assert re.search(r"\b(ISO|DIN|ANSI|[A-Z]\. |Shigley|Sadhu Singh|handbook)", source), source


def test_a_source_is_told_once_the_surest_first():
    line = told(
        [
            "geometry",
            "Mott, table 8-2; with profile shift: ISO 21771",
            "Mott, table 8-2",
            "DIN 3960 (from memory)",
            "common practice",
            "geometry",
        ]
    )
    assert (
        line
        == "Sources: in print: Mott, table 8-2; with profile shift: ISO 21771. From memory: DIN 3960. Common"
        " practice. By geometry."
    )
    assert told([]) == ""
