"""Attempts in a hand-in: for a set that asks for them only, told to the instructor, and never a mark."""

import csv
import json

import pytest
from greenhouse import hand_in as content_of
from greenhouse import right_answers, sheet_of, write_course

from gearlab.course.coursekey import make_key
from gearlab.course.handout.making import hand_out
from gearlab.course.marking.whole import mark
from gearlab.course.roster import Roster, Student
from gearlab.practice import load_set
from gearlab.practice.workbook.attempts import record
from gearlab.widgets.handin import hand_in, hand_in_box

ROSTER = Roster([Student("007", "Ada"), Student("=012", "Ben")])


@pytest.fixture
def course(tmp_path, monkeypatch):
    monkeypatch.delenv("GEARLAB_ANSWERS", raising=False)
    set_file = write_course(tmp_path / "exercises")
    key = make_key(tmp_path / "own" / "course.key")
    return set_file, key, tmp_path / "out"


def keeping(set_file):
    text = set_file.read_text(encoding="utf-8")
    set_file.write_text(text.replace('use = "marked"', 'use = "marked"\nattempts = "kept"'), encoding="utf-8")


def type_in(sheet, folder):
    box = hand_in_box(hand_in(sheet, folder), "shafts")
    report = {"n": 1, "key": box.view["key"], "texts": {"centre_distance": "78.75 mm"}}
    box.set_state({"draft": report})
    return json.loads((folder / sheet["file"]).read_text(encoding="utf-8"))


def practise(folder, version=1):
    about = {"bank": "homework", "question": "shafts", "version": version}
    told = {"answer": "centre_distance", "typed": "1", "hints": 0, "solution": False}
    for number, verdict, cause in ((0, "listed slip", "tips"), (0, "right", ""), (1, "listed slip", "tips")):
        record(folder, event="answer", draw=number, verdict=verdict, cause=cause, share=0.0, **about, **told)
    record(folder, event="hint", draw=1, **about)
    record(folder, event="solution", draw=1, **about)
    record(folder, event="answer", draw=0, verdict="right", **{**about, "question": "elsewhere"}, **told)
    record(folder, event="answer", draw=0, verdict="right", **{**about, "version": version + 1}, **told)


def test_a_set_that_does_not_ask_says_nothing_of_them(course, tmp_path):
    set_file, key, folder = course
    hand_out(set_file, ROSTER, key, folder)
    sheet = sheet_of(folder / "notebooks" / "homework-1_007.ipynb")
    assert "attempts" not in sheet and not load_set(set_file).attempts
    practise(tmp_path)
    content = type_in(sheet, tmp_path)
    assert set(content) == {
        *("gearlab", "edition", "set", "student", "packet", "saved", "time", "library"),
        *("givens", "versions", "answers"),
    }


def test_a_set_that_asks_tells_the_student_and_counts_what_was_practised(course, tmp_path):
    set_file, key, folder = course
    keeping(set_file)
    assert load_set(set_file).attempts
    hand_out(set_file, ROSTER, key, folder)
    path = folder / "notebooks" / "homework-1_007.ipynb"
    assert "no mark is worked out from it" in path.read_text(encoding="utf-8")
    sheet = sheet_of(path)
    version = next(q["version"] for q in sheet["questions"] if q["id"] == "shafts")
    assert type_in(sheet, tmp_path)["practice"] == {}
    practise(tmp_path, version)
    # three lines written one after the other: the second try was right, within the minute
    counted = {"draws": 2, "tries": 3, "right": 1, "hints": 1, "solutions": 1, "causes": {"tips": 2}}
    counted |= {"first_right_tries": 2, "first_right_minutes": 0}
    assert type_in(sheet, tmp_path)["practice"] == {}, "nothing new was typed, nothing is saved"
    box = hand_in_box(hand_in(sheet, tmp_path), "shafts")
    box.set_state({"draft": {"n": 9, "key": box.view["key"], "texts": {"centre_distance": "79 mm"}}})
    assert json.loads((tmp_path / sheet["file"]).read_text(encoding="utf-8"))["practice"] == {
        "shafts": counted
    }


@pytest.mark.parametrize(
    "practice, row",
    [
        (
            {"shafts": {"draws": 2, "tries": 3, "right": 1, "causes": {"=tips": 2}}},
            ["2", "3", "1", "", "", "'=tips: 2"],
        ),
        ({"shafts": {"draws": -1, "tries": "9", "right": True, "hints": 1e99, "causes": [1]}}, [""] * 6),
        ({"shafts": {"tries": 10**9, "causes": {"a": "b", "c": 4}}}, ["", "", "", "", "", "c: 4"]),
        ({"shafts": 3, "other": {"tries": 1}}, None),
        ([1, 2], None),
        ("many", None),
        (None, None),
    ],
)
def test_the_instructor_gets_a_table_and_the_marks_stay_the_same(course, tmp_path, practice, row):
    set_file, key, folder = course
    keeping(set_file)
    hand_out(set_file, ROSTER, key, folder)
    sheet = sheet_of(folder / "notebooks" / "homework-1_007.ipynb")
    answers = right_answers(sheet)
    points = []
    for more in ({}, {"practice": practice}):
        place = tmp_path / f"in-{len(points)}"
        place.mkdir()
        (place / sheet["file"]).write_text(json.dumps({**json.loads(content_of(sheet, answers)), **more}))
        marking = mark(place, set_file, ROSTER, key, tmp_path / "results")
        points.append(marking.points)
    assert points[0] == points[1] > 0
    with open(tmp_path / "results" / "practice.csv", encoding="utf-8", newline="") as file:
        head, *rows = csv.reader(file)
    assert head == ["id", "question", "draws", "tries", "right", "hints", "solutions", "causes"]
    assert rows == ([] if row is None else [["007", "shafts", *row]])
