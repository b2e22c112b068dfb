"""The README: what stands in it of lessons, pictures, care and licence is so."""

import re
import sys
import tomllib
from pathlib import Path

import pytest

from gearlab import care

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests" / "bench"))
import pictures  # noqa: E402
import readme  # noqa: E402

TEXT = (ROOT / "README.md").read_text(encoding="utf-8")


def test_three_lines_come_first_and_then_the_job():
    lines = [line for line in TEXT.splitlines() if line]
    assert [re.match(r"- \*\*(You \w+)", line)[1] for line in lines[1:4]] == [
        "You learn",
        "You lead",
        "You mark",
    ]
    assert lines[4].startswith("**gearlab** is a teaching workbook")


def test_every_lesson_has_its_row_with_its_title_and_minutes():
    rows = [found.groups()[:4] for found in readme.ROW.finditer(TEXT)]
    assert rows == readme.lessons(), "run python tests/bench/readme.py --write"
    assert readme.brought_up_to_date(TEXT) == TEXT


@pytest.mark.parametrize("name", pictures.PICTURES)
def test_pictures_are_what_the_program_makes_today(name):
    kept = (ROOT / "notebooks" / name).read_text(encoding="utf-8")
    assert kept == pictures.PICTURES[name](), "run python tests/bench/pictures.py"
    assert f"(notebooks/{name})" in TEXT


def test_no_line_of_the_source_is_a_paragraph():
    """But a row of a table, a link, a command and the three first lines."""
    whole = re.compile(r"\||!?\[|    |- \*\*You ")
    long = [line for line in TEXT.splitlines() if len(line) > 130 and not whole.match(line)]
    assert not long, long[0]


def test_links_lead_to_files():
    for target in re.findall(r"\]\(([^)#:]+)\)", TEXT):
        assert (ROOT / target).is_file(), target


def test_care_is_that_of_the_table():
    text = " ".join(TEXT.split())
    assert care.line("turning", "powering", "strength", "review") in text
    for act in ("cutting", "printing"):
        assert f"**{act.capitalize()}:** {care.of(act).sentence}" in text


def test_the_licence_is_named_where_it_is_looked_for():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    licence = (ROOT / "gearlab" / "LICENSE").read_text(encoding="utf-8")
    assert project["license-files"] == ["gearlab/LICENSE"] and project["license"] in TEXT
    assert "the gearlab contributors" in licence and "the gearlab contributors" in TEXT
    assert licence.startswith("BSD 3-Clause License")
