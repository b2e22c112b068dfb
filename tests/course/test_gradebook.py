"""The gradebook: inert in a spreadsheet, and an instructor's own file filled without other changes."""

import csv
import io

import pytest

from gearlab.course.gradebook import COLUMNS, Template, fill_template, gradebook_line, harmless, points_text
from gearlab.course.roster import Roster, Student

ROSTER = Roster(
    [
        Student("007", "Ada", "ada@school.example"),
        Student("012", "Ben", "ben@school.example"),
        Student("100", "Cy", "cy@school.example"),
    ]
)


@pytest.mark.parametrize("risky", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "  =1", "\n=1", "\uff1d1"])
def test_text_that_a_spreadsheet_would_run_is_made_inert(risky):
    cell = harmless(risky)
    assert cell.startswith("'") and "\n" not in cell and "\t" not in cell


def test_plain_gradebook_keeps_ids_numbers_and_blanks():
    lines = [
        ",".join(COLUMNS) + "\n",
        gradebook_line("007", "=Ada", 7.5, 12, 'said "hello", then left'),
        gradebook_line("012", "Ben", None, 12, "nothing handed in"),
        gradebook_line("100", "Cy", 0.0, 12, "x" * 900),
    ]
    rows = list(csv.reader(io.StringIO("".join(lines), newline="")))
    assert rows[1] == ["007", "'=Ada", "7.5", "12", 'said "hello", then left']
    assert rows[2][2] == ""  # blank, not zero: nobody has decided yet
    assert rows[3][2] == "0" and len(rows[3][4]) == 500


def test_points_have_a_point_and_two_places():
    assert [points_text(x) for x in (1 / 3, 2 / 3, 10.0, 0.5)] == ["0.33", "0.67", "10", "0.5"]


LAYOUTS = {
    # id column first, a quoted name, the points column is there and has an old value
    "plain": (
        'Student id,Name,Homework 1 (12),Total\r\n"007","Ada, L.",,80\r\n012,Ben,3,70\r\n',
        'Student id,Name,Homework 1 (12),Total\r\n"007","Ada, L.",7.5,80\r\n012,Ben,9,70\r\n',
    ),
    # addresses instead of ids, semicolons, a line of maxima below the header, no points column, no last line
    # feed
    "addresses": (
        "Name;Mail;Group\nMaximum;;\nAda;ADA@school.example;A\nBen;ben@school.example;B",
        "Name;Mail;Group;Homework 1\nMaximum;;;\nAda;ADA@school.example;A;7.5\nBen;ben@school.example;B;9",
    ),
    # byte order mark, tabs, every cell quoted, a line break inside a cell, someone without points
    "quoted": (
        '\ufeff"Homework 1"\t"Login"\t"Note"\n""\t"007"\t"two\nlines"\n"4"\t"100"\t"said ""no"""\n',
        '\ufeff"Homework 1"\t"Login"\t"Note"\n"7.5"\t"007"\t"two\nlines"\n"4"\t"100"\t"said ""no"""\n',
    ),
}


@pytest.mark.parametrize("layout", LAYOUTS)
def test_template_is_filled_and_nothing_else_changes(tmp_path, layout):
    before, after = LAYOUTS[layout]
    template, filled = tmp_path / "down.csv", tmp_path / "up.csv"
    template.write_bytes(before.encode("utf-8"))
    changes, unmatched = fill_template(template, filled, {"007": 7.5, "012": 9.0}, ROSTER, "Homework 1")
    assert filled.read_bytes().decode("utf-8") == after
    assert template.read_bytes().decode("utf-8") == before
    assert "007: (blank) becomes 7.5" in changes
    assert any("no line in the gradebook" in line for line in unmatched)
    if layout == "plain":
        assert "012: 3 becomes 9" in changes
        assert Template(filled).fill({"007": 7.5, "012": 9.0}, ROSTER, "Homework 1")[0] == after.encode()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("id,Homework 1\n007,\n007,\n", "line 2 and in line 3"),
        ("id,Homework 1 a,Homework 1 b\n007,,\n", "2 columns"),
        ("id,Homework 1\n555,\n", "no column holds ids"),
        ("one,two,Homework 1\n007,012,\n012,007,\n", "different students"),
        ("id,Homework 1\n", "no line below"),
        ('id,Homework 1\n"007,\n', "quotation mark"),
    ],
)
def test_nothing_is_written_where_the_file_is_not_clear(tmp_path, text, words):
    template = tmp_path / "down.csv"
    template.write_text(text)
    with pytest.raises(ValueError, match=words):
        fill_template(template, tmp_path / "up.csv", {"007": 1.0}, ROSTER, "Homework 1")
    assert not (tmp_path / "up.csv").exists()
