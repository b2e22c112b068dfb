"""A question with many right answers, handed out, handed in and marked.

With an angle that counts up to whole tooth pitches beside it.

The choices are worked by hand in tests/practice/test_design.py: 19 and 45 teeth do for a ratio of 2.5, 18 and
45 share the factor 9.  The mark of a wheel of N2 teeth to the right of a driver of N1 teeth that stands at an
angle a: 180 + 180/N2 - a N1/N2, up to whole pitches of 360/N2 (a space has to face the driver's tooth; see
tests/practice/test_kinds.py).
"""

import csv
import json
import re
import shutil
from pathlib import Path

import pytest
from greenhouse import hand_in, sheet_of

from gearlab.course import Roster, Student, hand_out, make_key, mark, read_key

BANK = Path(__file__).parent.parent / "practice" / "data" / "16_choosing" / "bank.toml"
MARKS = """
[[question]]
id = "marks"
of = "pair"
title = "The mark of the wheel"
hints = ["What is asked?", "What is given?", "Put one into the other."]
prompt = "Counts {driver_teeth} and {driven_teeth}; the driver's mark stands at {driver_mark_angle} degrees, the line of centres at {line_angle}."
where = ["mod(driver_mark_angle * driver_teeth, 180) > 8 and mod(driver_mark_angle * driver_teeth, 180) < 172"]  # else the mirror image is right too
[question.givens]
driver_teeth = { from = 18, to = 30, step = 1 }
driven_teeth = { from = 32, to = 72, step = 1 }
line_angle = { one_of = [0] }
driver_mark_angle = { from = 1, to = 15, step = 0.5 }
[[question.answers]]
label = "angle of the wheel's mark"
asked = "driven_mark_angle"
unit = "deg"
modulo = "360 / driven_teeth"
tolerance = { absolute = 0.05 }
points = 3
"""  # noqa: E501
SET = """
[set]
name = "homework-5"
title = "Homework 5: choosing"
use = "marked"
[[question]]
bank = "16_choosing/bank.toml"
id = "hunting-pair"
points = 10
[[question]]
bank = "16_choosing/bank.toml"
id = "marks"
"""
ROSTER = Roster(
    [
        Student("001", "Ada Lind"),
        Student("002", "Ben Oak"),
        Student("003", "Cy"),
        Student("004", "Di"),
        Student("005", "Ed"),
    ]
)


def mark_of_the_wheel(givens: dict) -> float:
    driver, driven, angle = (
        float(givens[name]) for name in ("driver_teeth", "driven_teeth", "driver_mark_angle")
    )
    return 180 + 180 / driven - angle * driver / driven


@pytest.fixture(scope="module")
def marked(tmp_path_factory):
    """Five students: all right.

    A common factor; an unreadable count; nothing but the mark; nothing handed in.
    """
    folder = tmp_path_factory.mktemp("course")
    (folder / "exercises" / "16_choosing").mkdir(parents=True)
    (folder / "exercises" / "16_choosing" / "bank.toml").write_text(
        BANK.read_text().replace("one_of = [2.5, 2.75]", "one_of = [2.5]") + MARKS
    )
    (folder / "exercises" / "homework_5.toml").write_text(SET)
    key = make_key(folder / "own.key")
    hand_out(folder / "exercises" / "homework_5.toml", ROSTER, key, folder / "out")
    (folder / "came").mkdir()
    for identity in ("001", "002", "003", "004"):
        sheet = sheet_of(folder / "out" / "notebooks" / f"homework-5_{identity}.ipynb")
        givens = {question["id"]: question["givens"] for question in sheet["questions"]}
        pair = {
            "001": ("19", "45 teeth"),
            "002": ("18", "45"),
            "003": ("18.5", "<b>45</b>"),
            "004": ("", ""),
        }[identity]
        turn, pitch = mark_of_the_wheel(givens["marks"]), 360 / float(givens["marks"]["driven_teeth"])
        angle = {
            "001": f"{turn:.3f}",
            "002": f"{turn % pitch:.3f} deg",
            "003": f"{-turn:.3f}",
            "004": f"{turn % pitch - pitch:.3f}°",
        }[identity]
        answers = {
            "hunting-pair": {"driver_teeth": pair[0], "driven_teeth": pair[1]},
            "marks": {"driven_mark_angle": angle},
        }
        (folder / "came" / sheet["file"]).write_text(hand_in(sheet, answers))
    mark(folder / "came", folder / "exercises" / "homework_5.toml", ROSTER, key, folder / "results")
    return folder


def test_the_notebook_knows_the_fields_and_nothing_of_the_conditions(marked):
    sheet = sheet_of(marked / "out" / "notebooks" / "homework-5_001.ipynb")
    question = sheet["questions"][0]
    assert question["kind"] == "design" and [field["id"] for field in question["answers"]] == [
        "driver_teeth",
        "driven_teeth",
    ]
    assert question["answers"][0] == {
        "id": "driver_teeth",
        "label": "teeth of the crank gear",
        "unit": "teeth",
        "asked": "driver_teeth",
        "symbols": [],
        "from": 4,
        "to": 400,
        "whole": True,
    }
    assert not re.search("common_factor|formula|example|modulo", json.dumps(sheet))
    paper = (marked / "out" / "sheets" / "homework-5_001.html").read_text()
    assert (
        "teeth of the crank gear =" in paper
        and "teeth of the wheel =" in paper
        and "common factor" not in paper
    )


def points(marked):
    with open(marked / "results" / "gradebook.csv", encoding="utf-8-sig") as file:
        return {row["id"]: row for row in csv.DictReader(file)}


def test_points_and_gradebook(marked):
    # 10 points for conditions worth 2 + 1 + 1 + 1 of 5, and 3 for the angle; the mirrored angle earns half of
    # them
    rows = points(marked)
    assert [rows[f"00{number}"]["points"] for number in range(1, 6)] == ["13", "11", "1.5", "3", ""]
    assert rows["002"]["comment"] == "4 right, 1 not right; 1: -2 no common factor: not met"
    assert rows["003"]["comment"].startswith(
        "1 partly right, 4 not right; 1: -10 could not be read; 2: -1.5 "
    )


def test_the_page_shows_choice_conditions_and_an_example(marked):
    page = (marked / "results" / "feedback" / "002.html").read_text()
    for said in (
        "<dt>teeth of the crank gear</dt><dd><bdi>18</bdi>",
        "distance between the shafts: met</span>",
        "no common factor: not met</span>",
        "0 of 2</span>",
        "comes out as",
        "The two counts share a factor.",
        "One choice that will do; others are right too.",
    ):
        assert said in page, said
    assert "whole multiple of" in page
    unread = (marked / "results" / "feedback" / "003.html").read_text()
    assert (
        "<b>45</b>" not in unread
        and "&lt;b&gt;45&lt;/b&gt;" in unread
        and "could not be read" in unread
        and "A whole number is needed here." in unread
    )
    empty = (marked / "results" / "feedback" / "004.html").read_text()
    assert "not answered" in empty and "(nothing)" in empty


def test_the_report_counts_each_condition(marked):
    report = (marked / "results" / "report.html").read_text()
    table = report[report.index("no common factor</caption>") :]
    rows = dict(re.findall(r'<tr><td>(.*?)</td><td class="n">(\d+)</td>', table[: table.index("</table>")]))
    assert rows == {"right": "1", "not met": "1", "could not be read": "1", "not answered": "1"}


def test_the_evidence_names_what_was_typed_and_the_condition(marked):
    records = json.loads((marked / "results" / "evidence.json").read_text())["records"]
    one = next(record for record in records if record["student"] == "002" and record["answer"] == "hunting")
    assert (one["key"], one["verdict"], one["causes"], one["points"], one["out_of"]) == (
        "common_factor == 1",
        "not met",
        ["hunting"],
        0,
        2,
    )
    assert (
        one["typed"].startswith("driver_teeth = 18, driven_teeth = 4") and one["asked"] == "no common factor"
    )
    assert sum(record["points"] for record in records) == 13 + 11 + 1.5 + 3


def test_marked_again_it_is_the_same(marked, tmp_path):
    before = {path.name: path.read_bytes() for path in (marked / "results").rglob("*") if path.is_file()}
    shutil.copytree(marked / "came", tmp_path / "came")
    mark(
        tmp_path / "came",
        marked / "exercises" / "homework_5.toml",
        ROSTER,
        read_key(marked / "own.key"),
        tmp_path / "again",
    )
    assert {
        path.name: path.read_bytes() for path in (tmp_path / "again").rglob("*") if path.is_file()
    } == before
