"""Ids that look alike, and names that would change a page: each student's file stays their own."""

import unicodedata

import pytest
from greenhouse import hand_in, right_answers, sheet_of, write_course

from gearlab.course.coursekey import make_key
from gearlab.course.handout.making import hand_out
from gearlab.course.marking.whole import mark
from gearlab.course.roster import Roster, Student

ACCENT = "A\u00f1b"  # one character for the letter and its accent
IDS = ("001", "01", "1", ACCENT, "=1+1")
FULL = 12  # points of the set in greenhouse.py


@pytest.fixture
def course(tmp_path):
    set_file, key = write_course(tmp_path / "exercises"), make_key(tmp_path / "private" / "key")
    roster = Roster(
        [Student(identity, "\u202eevil" if identity == "1" else "<i>Ada</i>") for identity in IDS]
    )
    hand_out(set_file, roster, key, tmp_path / "out")
    sheets = {
        sheet["student"]: sheet for sheet in map(sheet_of, (tmp_path / "out" / "notebooks").glob("*.ipynb"))
    }
    (tmp_path / "in").mkdir()

    def marked(files):
        for name, text in files.items():
            (tmp_path / "in" / name).write_text(text, encoding="utf-8")
        points = {}
        marking = mark(
            tmp_path / "in",
            set_file,
            roster,
            key,
            tmp_path / "results",
            each=lambda s, p: points.__setitem__(s.id, p),
        )
        return points, marking, tmp_path / "results"

    return sheets, marked


def file_of(sheets, identity, **changes):
    return hand_in(sheets[identity], right_answers(sheets[identity]), **changes)


def test_leading_zeros_keep_students_apart(course):
    sheets, marked = course
    points, _, _ = marked(
        {
            "HAND-IN_homework-1_001.json": file_of(sheets, "001"),
            "HAND-IN_homework-1_01 (1).json": file_of(sheets, "01"),
        }
    )
    assert points == {"001": FULL, "01": FULL, "1": None, ACCENT: None, "=1+1": None}


def test_somebody_elses_file_under_a_like_name_is_marked_for_nobody(course):
    sheets, marked = course
    points, marking, _ = marked({"HAND-IN_homework-1_1.json": file_of(sheets, "001")})
    assert set(points.values()) == {None}
    assert ("foreign", "1") in {(problem.kind, problem.student) for problem in marking.problems}


@pytest.mark.parametrize("inside", [ACCENT, unicodedata.normalize("NFD", ACCENT)])
def test_a_name_whose_accents_a_disk_parted_is_the_same_student(course, inside):
    sheets, marked = course
    name = unicodedata.normalize("NFD", f"HAND-IN_homework-1_{ACCENT}.json")
    points, _, _ = marked({name: file_of(sheets, ACCENT, student=inside)})
    assert points[ACCENT] == FULL


def test_a_renamed_file_of_a_formula_id_counts_and_stays_inert(course):
    sheets, marked = course
    points, _, results = marked({"answers.json": file_of(sheets, "=1+1")})
    assert points["=1+1"] == FULL
    assert "\n'=1+1,<i>Ada</i>,12,12," in (results / "gradebook.csv").read_text(encoding="utf-8")


def test_a_name_that_turns_text_round_is_shown_as_its_code(course):
    _, marked = course
    _, _, results = marked({})
    report = (results / "report.html").read_text(encoding="utf-8")
    assert "\u202e" not in report and "\\u202eevil" in report and "<i>Ada" not in report
