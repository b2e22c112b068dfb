"""A course folder, from its beginning to marks, by the commands an instructor types in it.

What is expected stands in the issue of the course; points and answers come from greenhouse.py.
"""

import csv
import os
import re
import time
from pathlib import Path

import pytest
from greenhouse import BANK, hand_in, right_answers, sheet_of, write_course
from typer.testing import CliRunner

from gearlab.cli import app
from gearlab.course.coursekey import make_key, read_key
from gearlab.course.folder import FILE, begin_course, find_course, read_course
from gearlab.course.marking.whole import mark
from gearlab.course.pages import part

ROSTER = (
    "id;name;section;email\n001;Ada Green;A;ada@school.example\n002;Ben Pané;B;\n003;Cy Frame;A;\n"
    "004;Di Rack;;\n"
)


def run(*arguments):
    done = CliRunner().invoke(app, [str(argument) for argument in arguments])
    return done.exit_code, done.output


def said(*arguments):
    code, output = run(*arguments)
    assert code == 0, output
    return output


@pytest.fixture
def course(tmp_path, monkeypatch):
    """A course of four with a set of its own; the working folder is below it."""
    folder = tmp_path / "vents"
    said("course", folder)
    (folder / "roster.csv").write_text(ROSTER, encoding="utf-8")
    write_course(tmp_path / "own")
    for name in ("sets", "vent"):
        (tmp_path / "own" / name).rename(folder / "sets" / name)
    monkeypatch.chdir(folder / "hand-ins")
    return folder


def collect(folder, *identities, answers=right_answers):
    came = folder / "hand-ins" / "homework-1"
    came.mkdir(exist_ok=True)
    for identity in identities:
        sheet = sheet_of(folder / "handed-out" / "homework-1" / "notebooks" / f"homework-1_{identity}.ipynb")
        (came / sheet["file"]).write_text(hand_in(sheet, answers(sheet)), encoding="utf-8")
    return came


def points(book):
    with open(book, encoding="utf-8", newline="") as file:
        return {row["id"]: row["points"] for row in csv.DictReader(file)}


def test_a_beginning_is_written_once_and_never_over_anything(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    code, output = run("course")
    assert code == 2 and "gearlab course FOLDER" in output
    folder = tmp_path / 'the "vents" [1]'
    folder.mkdir()
    (folder / "roster.csv").write_text("id,name\n7,Mine\n")
    output = said("course", folder)
    assert "new: " in output and "roster.csv" not in output.split("Next")[0].replace("roster.csv was", "")
    assert (folder / "roster.csv").read_text() == "id,name\n7,Mine\n"
    assert read_course(folder).title == 'the "vents" [1]'
    before = (folder / FILE).read_text()
    assert before.startswith(part("course.toml").split("{", 1)[0]) and begin_course(folder) == []
    assert re.search(r"homework-8 +Homework 8: the design review", output)  # what there is to hand out
    assert "new:" not in said("course", folder) and (folder / FILE).read_text() == before
    with pytest.raises(ValueError, match="is in the course"):
        begin_course(folder / "sets" / "another")
    assert find_course(folder / "sets").folder == folder.resolve() and find_course(tmp_path) is None


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[course\n", "is not TOML"),
        ("[course]\nroster = 5\n", r"\[course\] roster"),
        ("[course]\nrosters = 'a.csv'\n", "rosters"),
        ("[course]\ntitle = '" + "x" * 201 + "'\n", "title"),
        ("course = 1\n", r"\[course\]"),
    ],
)
def test_a_course_file_that_is_not_in_order_is_named(tmp_path, text, words):
    (tmp_path / FILE).write_text(text)
    with pytest.raises(ValueError, match=words):
        read_course(tmp_path)
    with pytest.raises(ValueError, match="writes a beginning"):
        read_course(tmp_path / "none")


def test_other_tables_of_the_file_are_left_to_others(tmp_path):
    (tmp_path / FILE).write_text("[term]\nweights = 1\n[course]\ntitle = 'a\\u202eb'\n")
    assert "\u202e" not in read_course(tmp_path).title


def test_from_the_beginning_to_marks_in_the_shortest_words(course):
    assert "4 students, sections A (2), B (1), without a section (1)" in said("course")
    assert "own sets not handed out yet: homework-1" in said("course")
    assert "New course key" in said("hand-out", "homework-1")
    assert "put what comes in into hand-ins/homework-1/" in said("course")
    code, output = run("mark")
    assert code == 2 and "nothing is in" in output and not (course / "results").exists()
    collect(course, "001", "002")
    assert "from 2 of 4 students" in said("course") and "Next: `gearlab mark homework-1`" in said("course")
    assert "2 of 4 marked, mean 12 of 12 points" in said("mark")
    results = course / "results" / "homework-1"
    assert points(results / "gradebook.csv") == {"001": "12", "002": "12", "003": "", "004": ""}
    # the gradebook for one section, and for all
    assert points(results / "gradebooks" / "A.csv") == {"001": "12", "003": ""}
    assert points(results / "gradebooks" / "B.csv") == {"002": "12"}
    assert "nothing; every set that came in is marked" in said("course")
    collect(course, "003")
    late = time.time() + 5
    os.utime(course / "hand-ins" / "homework-1" / "HAND-IN_homework-1_003.json", (late, late))
    assert "newer than the marks" in said("course")
    assert "3 of 4 marked" in said("mark", "homework-1", "--course", course)
    assert "earlier results kept: 1" in said("course")
    output = said("mark", "--set", "homework-1", "--section", "a")
    assert "2 of 2 marked" in output and "Section A only: 2 of 4 students" in output
    assert points(course / "results" / "homework-1_A" / "gradebook.csv") == {"001": "12", "003": "12"}
    assert "sections marked apart: A" in said("course")
    assert run("mark", "--section", "C")[0] == 2
    # one zip, named, and the old options where they are wanted
    output = said("mark", course / "hand-ins", "--set", "homework-1", "--to", course / "elsewhere")
    assert "3 of 4 marked" in output and points(course / "elsewhere" / "gradebook.csv")["003"] == "12"


def test_a_set_is_handed_out_to_one_section_after_the_other(course):
    code, output = run("hand-out", "homework-1", "--section", "Q")
    assert code == 2 and "section 'Q'" in output and "there are A, B" in output
    assert not list(course.glob("*.key"))  # nothing was begun
    output = said("hand-out", "homework-1", "--section", "a")
    assert "Section A only: 2 of 4 students" in output and "all_sheets_A.html" in output
    assert list((course / "hand-ins" / "homework-1").iterdir()) == []  # what comes in has its place
    sheets = course / "handed-out" / "homework-1" / "sheets"
    assert sorted(path.stem for path in sheets.iterdir()) == ["homework-1_001", "homework-1_003"]
    output = said("course")
    assert "not handed out yet to section B" in output and "1 without a sheet: 004" in output
    assert "Next: `gearlab hand-out homework-1 --section B`" in output
    said("hand-out", "homework-1", "--section", "B")
    assert "not handed out yet" not in said("course")
    # what a section was handed out goes with its student
    assert run("student", "001", "--remove", "--yes")[0] == 0
    assert (
        not (sheets.parent / "all_sheets_A.html").exists() and (sheets.parent / "all_sheets_B.html").exists()
    )


def test_the_instructors_own_gradebook_lies_with_the_results_and_is_switched_with_them(course):
    said("hand-out", "homework-1")
    collect(course, "001")
    template = course / "down.csv"
    template.write_text("Student,Homework 1: the vent drive\n1,\n002,\n")  # a spreadsheet dropped the zeros
    said("mark", "--template", template)
    filled = course / "results" / "homework-1" / "gradebook_filled.csv"
    assert filled.read_text() == "Student,Homework 1: the vent drive\n1,12\n002,\n"
    template.write_text("Student,Homework 1: the vent drive\nnobody,\n")
    code, output = run("mark", "--template", template)
    assert code == 2 and "no column holds ids" in output and "1 of 4 marked" in output
    assert not filled.exists() and (filled.parent / "gradebook.csv").exists()
    (kept,) = (course / "results" / "earlier" / "homework-1").iterdir()
    assert (kept / "gradebook_filled.csv").exists()


def test_a_class_list_that_changes_in_mid_term(course):
    said("hand-out", "homework-1")
    collect(course, "001", "002")
    # one left, one came, and a spreadsheet dropped the zeros of those who stayed
    (course / "roster.csv").write_text("id,name\n1,Ada Green\n3,Cy Frame\n4,Di Rack\n010,Eva Shaft\n")
    output = said("course")
    assert "1 is 001 on the sheet" in output and "1 without a sheet: 010" in output
    assert "(they left): 1" in output and "from 1 of 4 students" in output
    code, output = run("hand-out", "homework-1", "--again")  # or each would have two sheets
    assert code == 2 and "3 ids of the roster are spelt differently" in output
    output = said("mark")
    assert "1 of 4 marked, mean 12 of 12" in output and "spelt differently in the roster" in output
    assert points(course / "results" / "homework-1" / "gradebook.csv")["001"] == "12"
    problems = (course / "results" / "homework-1" / "problems.csv").read_text()
    assert "write 001 in the roster" in problems and "id '002' in it is not in the roster" in problems
    (course / "roster.csv").write_text("id,name\n001,Ada Green\n003,Cy Frame\n004,Di Rack\n010,Eva Shaft\n")
    assert "4 students" in said("hand-out", "homework-1") and "without a sheet" not in said("course")
    assert "1 of 4 marked" in said("mark")


def test_a_wrong_key_is_said_and_nothing_is_marked(course):
    said("hand-out", "homework-1")
    collect(course, "001", "002", "003")
    make_key(course / "other.key")
    frozen = (course / "course.key.homework-1.frozen.json").read_bytes()
    (course / "other.key.homework-1.frozen.json").write_bytes(frozen)
    code, output = run("mark", "--key", course / "other.key")
    assert code == 2 and "no sheet code fits: wrong key? All 3 files" in output
    assert list((course / "results").iterdir()) == []  # nobody is accused, nothing half written
    output = said("mark", "--key", course / "other.key", "--mark-anyway")
    assert "3 of 4 marked" in output and "a file was changed outside the workbook" in output
    # one whose code was edited is not a wrong key: its numbers are those of the sheet
    for name in ("002", "003"):
        (course / "hand-ins" / "homework-1" / f"HAND-IN_homework-1_{name}.json").unlink()
    came = course / "hand-ins" / "homework-1" / "HAND-IN_homework-1_001.json"
    came.write_text(came.read_text().replace('"packet": "', '"packet": "X'))
    assert "1 of 4 marked" in said("mark")


def test_a_new_edition_in_mid_term_changes_no_sheet(course):
    """A question reworded, one added, one removed after the hand-out; the set's file goes at last."""
    said("hand-out", "homework-1")
    collect(course, "001")
    said("mark")
    results = course / "results" / "homework-1"
    before = {name: (results / name).read_bytes() for name in ("gradebook.csv", "evidence.json")}
    bank = course / "sets" / "vent" / "bank.toml"
    reworded = BANK.replace("The crank of the pinion is turned", "One turns the crank of the pinion", 1)
    bank.write_text(reworded + BANK[BANK.rindex("[[question]]\nid = ") :].replace('"direction"', '"again"'))
    own = course / "sets" / "sets" / "homework_1.toml"
    kept = own.read_text()
    own.write_text(kept.replace('id = "pitch"', 'id = "again"'))
    output = said("mark")
    assert "edited after the hand-out" in output
    assert {name: (results / name).read_bytes() for name in before} == before
    # one who came late gets the edition of then
    (course / "roster.csv").write_text(ROSTER + "005;Eva Shaft;B;\n")
    code, output = run("hand-out", "homework-1")
    assert code == 2 and "--again" in output
    said("hand-out", "homework-1", "--again")
    late = sheet_of(course / "handed-out" / "homework-1" / "notebooks" / "homework-1_005.ipynb")
    assert [question["id"] for question in late["questions"]].count("pitch") == 1
    assert late["questions"][-1]["prompt"].startswith("The crank of the pinion is turned")
    own.unlink()
    collect(course, "005")
    assert "2 of 5 marked, mean 12" in said("mark", "homework-1")
    own = read_course(course)
    done = mark(
        own.hand_ins("homework-1"),
        Path("homework-1"),
        own.roster(),
        read_key(own.key_path),
        course / "direct",
    )
    assert (done.marked, done.points) == (2, 24) and "file is gone" in done.notes[0]


def test_a_killed_first_hand_out_is_taken_up_again(course):
    (course / "course.key").touch(mode=0o600)  # killed between making the file and writing it
    left = course / "handed-out" / ".homework-1.new-abc"
    left.mkdir(parents=True)
    assert "New course key" in said("hand-out", "homework-1")
    assert [path.name for path in (course / "handed-out").iterdir()] == ["homework-1"]
    # what was frozen keeps its key, whatever goes wrong later
    (course / "handed-out" / "homework-1" / "notebooks" / "homework-1_001.ipynb").write_text("{}")
    assert run("hand-out", "homework-1")[0] == 2 and (course / "course.key").stat().st_size > 100


def test_what_is_missing_is_named_outside_a_course(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for words in (("mark", "homework-1"), ("hand-out", "homework-1", "--to", "out")):
        code, output = run(*words)
        assert code == 2 and "missing: " in output and "--roster, --key" in output and "--course" in output


def test_a_set_of_the_course_takes_questions_of_a_lesson_by_its_name(tmp_path, monkeypatch):
    """The bank is frozen with the set, and what becomes of the lesson afterwards changes no sheet."""
    monkeypatch.chdir(tmp_path)
    exercises = tmp_path / "exercises"
    write_course(exercises)
    (exercises / "vent").rename(exercises / "03_vent")
    monkeypatch.setattr("gearlab.contents.content_folder", lambda name: tmp_path / name)
    assert run("course", "vents")[0] == 0
    monkeypatch.chdir(tmp_path / "vents")
    Path("roster.csv").write_text("id,name\n001,Ada\n", encoding="utf-8")
    entry = '[[question]]\nbank = "{}"\nid = "shafts"\n'
    head = '[set]\nname = "own"\ntitle = "Own"\nuse = "marked"\n'
    Path("sets/own.toml").write_text(head + entry.format("03_vnt"), encoding="utf-8")
    code, output = run("hand-out", "own")
    assert code == 2 and "no lesson of that name; near: 03_vent" in output
    Path("sets/own.toml").write_text(head + entry.format("03_vent"), encoding="utf-8")
    said("hand-out", "own")
    sheet = sheet_of(Path("handed-out/own/notebooks/own_001.ipynb"))
    bank = exercises / "03_vent" / "bank.toml"
    bank.write_text(bank.read_text(encoding="utf-8").replace("one_of = [2, 2.5, 3, 4]", "one_of = [9]"))
    givens = {name: float(text) for name, text in sheet["questions"][0]["givens"].items()}
    right = givens["module"] * (givens["driver_teeth"] + givens["driven_teeth"]) / 2
    Path("hand-ins/own").mkdir(parents=True, exist_ok=True)
    Path("hand-ins/own", sheet["file"]).write_text(
        hand_in(sheet, {"shafts": {"centre_distance": f"{right} mm"}}), encoding="utf-8"
    )
    assert "mean 2 of 2 points" in said("mark", "own")
