"""Decisions about marks, as an instructor of a class of twelve meets them: read, checked, applied, told.

Points are expected by hand from the bank in greenhouse.py (see decidedcourse.py), never from our own output.
"""

import csv
import datetime
import io
import json
import pickle
import random
import re
import time

import pytest
from decidedcourse import DECISIONS, ROSTER, marked, write_class
from greenhouse import WRITTEN
from typer.testing import CliRunner

from gearlab.cli import main
from gearlab.course.decisions.checks import checked, decisions_of, decisions_place
from gearlab.course.decisions.file import read_tables
from gearlab.course.decisions.marks import days_late, deduction
from gearlab.course.decisions.starter import begin, starter
from gearlab.course.decisions.tables import KINDS, Decisions, Late
from gearlab.course.handout.edition import frozen_edition
from gearlab.course.roster import Roster, Student


def rows(path):
    with open(path, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def words(path):
    """A page as it is read: without its style and its markup."""
    text = re.sub(r"<style>.*?</style>", "", path.read_text(encoding="utf-8"), flags=re.S)
    return " ".join(re.sub(r"<[^>]*>", " ", text).split())


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    return write_class(tmp_path_factory.mktemp("decided"))


@pytest.fixture(scope="module")
def walked(course):
    """Marked once without a decision and once with all of them: (results before, results after, marking)."""
    folder = course[0].parent
    marked(course, folder / "results")
    before = {name: (folder / "results" / name).read_bytes() for name in ("gradebook.csv", "evidence.json")}
    done = marked(course, folder / "results", DECISIONS)
    return before, folder / "results", done


@pytest.fixture(scope="module")
def homework(course):
    return frozen_edition(course[3], "homework-1").load()


# -- the walk ------------------------------------------------------------------------------------------
def test_a_class_of_twelve_with_every_kind_of_decision(walked):
    before, results, done = walked
    early = {row["id"]: row for row in csv.DictReader(io.StringIO(before["gradebook.csv"].decode()))}
    late = {row["id"]: row for row in rows(results / "gradebook.csv")}
    # Before, of 12: Ben's distance 0 of 2, Cleo's doubled distance half of 1, Gus' later file 0 of 2, Hana's
    # inverted ratio at most half of 1 (a known slip), Lea's empty choice 0 of 1.
    assert {i: early[i]["points"] for i in ("0001", "0002", "0003", "0005", "0007", "0012")} == {
        "0001": "12",
        "0002": "10",
        "0003": "11.5",
        "0005": "",
        "0007": "10",
        "0012": "11",
    }
    assert float(early["0008"]["points"]) < 12
    # After: 11 can be reached. Dan: two days late after his extra day, 10 % of 11 each.
    after = {i: (row["points"], row["out of"]) for i, row in late.items()}
    full = ("11", "11")
    assert after == {
        **dict.fromkeys(after, full),
        "0002": ("10.5", "11"),
        "0004": ("8.8", "11"),
        "0005": ("", "11"),
        "0006": ("0", "11"),
    }
    assert done.decisions == 12
    for student, sign in (("0005", "excused"), ("0006", "absent"), ("0004", "late"), ("0002", "set by hand")):
        assert sign in late[student]["comment"]


def test_every_mark_is_explained_by_the_students_own_page(walked):
    _, results, _ = walked
    page = {student.id: words(results / "feedback" / f"{student.id}.html") for student in ROSTER}
    left = "This question counts for nobody: its points are taken out of what can be reached."
    for student in ROSTER:
        if student.id not in ("0005", "0006"):
            assert left in page[student.id]
            assert (
                "Decided by A. Assistant , 2026-11-27: The prompt could be read in two ways."
                in page[student.id]
            )
            assert "The key that was handed out was wrong. Right with your numbers is" in page[student.id]
    assert "Set to 1.5 of 2 points; the marking had given 0. Decided by B. Instructor" in page["0002"]
    assert "Your answer counts as right too." in page["0003"]
    assert (
        "2 days late: 2.2 points taken off (10 % of the points reached a day, at most 25 %)." in page["0004"]
    )
    assert "You had 1 day more." in page["0004"] and "The questions come to 11 points" in page["0004"]
    assert "no mark" in page["0005"] and "ill" in page["0005"] and "0 of 11 points" in page["0006"]
    assert "the best counts (11 points)" in page["0007"]
    assert "is z1 the pinion?" in page["0010"]
    assert "You get full points here, whatever was answered." in page["0012"]
    assert "full points by a decision (found: not answered)" in page["0012"]


def test_a_page_shows_only_what_concerns_its_student(walked):
    _, results, _ = walked
    only = {
        "The way was right on paper.": {"0002"},
        "Three days after the hour.": {"0004"},
        "is z1 the pinion?": {"0010"},
        "the drawing was missing": {"0011", "0012"},
        "The sketch showed": {"0003"},
    }
    for words_of_one, students in only.items():
        for student in ROSTER:
            page = (results / "feedback" / f"{student.id}.html").read_text(encoding="utf-8")
            assert (words_of_one in page) == (student.id in students), (words_of_one, student.id)
            assert not any(other.name in page for other in ROSTER if other != student)
    page = (results / "feedback" / "0003.html").read_text(encoding="utf-8")
    assert "&lt;b&gt;diameters&lt;/b&gt;" in page and "<b>diameters" not in page


def test_the_evidence_names_who_and_why_and_adds_up(walked):
    _, results, _ = walked
    evidence = json.loads((results / "evidence.json").read_text(encoding="utf-8"))
    assert sum(record["points"] for record in evidence["records"]) == pytest.approx(
        evidence["totals"]["points"]
    )
    book = rows(results / "gradebook.csv")
    assert evidence["totals"]["points"] == pytest.approx(sum(float(row["points"] or 0) for row in book))
    told = [record["decision"] for record in evidence["records"] if "decision" in record]
    told += [words for record in evidence["records"] for words in record.get("decided", [])]
    assert {words["kind"] for words in told} == set(KINDS)
    assert all(words["by"] and words["why"] for words in told)


def test_changed_points_are_listed_before_and_after(walked):
    _, results, done = walked
    listed = {(row["id"], row["question"]): row for row in rows(results / "changes.csv")}
    ben = listed["0002", "shafts"]
    assert (ben["before"], ben["after"], ben["out of before"]) == ("0", "1.5", "2")
    assert ben["why"] == "decision: set_points (B. Instructor: The way was right on paper.)"
    assert (listed["0002", "in all"]["before"], listed["0002", "in all"]["after"]) == ("10", "10.5")
    assert listed["0007", "shafts"]["why"] == "another hand-in counts"
    assert ("0005", "in all") not in listed  # no mark before, none now
    assert (listed["0006", "in all"]["before"], listed["0006", "in all"]["after"]) == ("", "0")
    assert listed["0001", "pitch"]["out of after"] == "0"
    assert done.changes.count == len(list(done.changes.kept)) == len(listed)
    assert done.changes.students == len({student for student, _ in listed})
    problems = rows(results / "problems.csv")
    assert [row["id"] for row in problems if row["kind"] == "look again"] == ["0010"]
    assert not [row for row in problems if row["kind"] == "missing"]


def test_a_weight_that_changes_is_told_and_all_changes_are_counted(course, tmp_path, monkeypatch):
    # shafts, 2 of 12 points, are spread over the rest: each point counts 12 / 10
    monkeypatch.setattr("gearlab.course.marking.changes.KEPT", 3)
    spread = '[[leave_out]]\nquestion = "shafts"\npoints = "spread"' + WHO
    marked(course, tmp_path / "r", "")
    done = marked(course, tmp_path / "r", spread)
    listed = rows(tmp_path / "r" / "changes.csv")
    why = {(row["id"], row["question"]): row["why"] for row in listed}
    assert why["0001", "pitch"] == "counts 1.2 in place of 1"
    assert why["0001", "shafts"] == "decision: leave_out (B: w)"
    assert {why[key] for key in why if key[1] == "in all"} == {"decision: leave_out (B: w)"}
    assert (done.changes.count, len(done.changes.kept)) == (len(listed), 3)
    assert done.changes.students == len({row["id"] for row in listed}) > 3
    assert len(done.changes.in_all) == min(3, sum(row["question"] == "in all" for row in listed))


def test_marking_again_changes_nothing_and_a_decision_taken_back_is_told(course, tmp_path):
    marked(course, tmp_path / "r", DECISIONS)
    first = {name: (tmp_path / "r" / name).read_bytes() for name in ("gradebook.csv", "evidence.json")}
    assert marked(course, tmp_path / "r").changes.count == 0
    assert first == {name: (tmp_path / "r" / name).read_bytes() for name in first}
    shown = marked(course, tmp_path / "r", "", only_show=True)
    back = next(c for c in shown.changes.kept if (c.id, c.question) == ("0002", "shafts"))
    assert back.why == "taken back: set_points (B. Instructor: The way was right on paper.)"
    assert first == {name: (tmp_path / "r" / name).read_bytes() for name in first}, "nothing is written"
    assert not list(tmp_path.glob(".marking-*"))
    none = marked(course, tmp_path / "plain")
    assert none.changes is None and sorted(p.name for p in (tmp_path / "plain").iterdir()) == list(WRITTEN)


def test_a_mark_typed_into_the_gradebook_is_kept_until_it_is_a_decision(course, tmp_path):
    results = tmp_path / "r"
    marked(course, results, "")
    book = results / "gradebook.csv"
    # a spreadsheet in a country of decimal commas: no leading zeros, semicolons, two marks changed
    table = rows(book)
    for row in table:
        row["id"] = row["id"].lstrip("0")
        row["points"] = {"1": "9,5", "5": "ill"}.get(row["id"], row["points"].replace(".", ","))
    with open(book, "w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, table[0].keys(), delimiter=";")
        writer.writeheader()
        writer.writerows(table)
    done = marked(course, results)
    assert [(mark.student, mark.typed, mark.was) for mark in done.edited] == [
        ("0001", "9,5", "12"),
        ("0005", "ill", ""),
    ]
    section = (*course[:2], Roster(list(ROSTER)[5:]), course[3])  # marked without the two, then with them
    assert marked(section, results).edited == done.edited
    assert {change.id for change in marked(course, results, only_show=True).changes.kept} == {
        student.id for student in list(ROSTER)[:4]
    }
    again = marked(course, results)  # the typed cells are gone from the gradebook by now
    assert again.edited == done.edited and len([p for p in again.problems if p.kind == "edited"]) == 2
    lines = (results / "edited_by_hand.toml").read_text(encoding="utf-8")
    with pytest.raises(ValueError, match=r"line \d+: \[\[set_points\]\] by"):
        marked(course, results, lines)  # nobody has said who decided
    last = marked(course, results, lines.replace('by = ""', 'by = "B. Instructor"'))
    assert last.edited == () and not (results / "edited_by_hand.toml").exists()
    book = {row["id"]: row["points"] for row in rows(book)}
    assert (book["0001"], book["0005"], book["0002"]) == ("9.5", "", "10")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # a question of 1 point spread over the other 11: Ben, 9 of them, has 9 * 12/11
        ('[[leave_out]]\nquestion="pitch"\npoints="spread"', {"0001": ("12", "12"), "0002": ("9.82", "12")}),
        # an answer of 1 spread over the other 2 of its question: 3 points stay in it
        ('[[leave_out]]\nquestion="pinion"\nanswer="base_diameter"\npoints="spread"', {"0002": ("10", "12")}),
        ('[[leave_out]]\nquestion="shafts"\nstudent="0002"', {"0001": ("12", "12"), "0002": ("10", "10")}),
        ('[[also_right]]\nquestion="shafts"\nvalue="39.33 in"', {"0002": ("12", "12")}),  # 999 mm
        ('[[also_right]]\nquestion="shafts"\nvalue="999 mm"\ncredit=0.5', {"0002": ("11", "12")}),
        ('[[also_right]]\nquestion="shafts"\nvalue="998 mm"\nstudent="0001"', {"0002": ("10", "12")}),
        ('[[full_points]]\nquestion="shafts"', {"0002": ("12", "12"), "0005": ("", "12")}),
        ('[[set_points]]\nstudent="0002"\npoints=0', {"0002": ("0", "12"), "0001": ("12", "12")}),
        ('[[set_points]]\nstudent="0005"\nquestion="shafts"\npoints=2', {"0005": ("2", "12")}),
        ('[[attempt]]\ncounts="first"', {"0007": ("12", "12")}),
        ('[[attempt]]\ncounts="last"', {"0007": ("10", "12")}),
        ('[[attempt]]\nstudent="0007"\nfile="HAND-IN_homework-1_0007.json"', {"0007": ("12", "12")}),
        ('[[late]]\nstudent="0001"\npoints=3', {"0001": ("9", "12")}),
        (
            '[[late]]\nstudents=["0001","0002"]\nper_cent=50\nof="possible"',
            {"0001": ("6", "12"), "0002": ("4", "12")},
        ),
        # the old key falls: who typed it has no point for the ratio, Hana has
        (
            '[[wrong_key]]\nquestion="speed"\nanswer="ratio"\nformula="driver_teeth/driven_teeth"\nold="falls"',
            {"0008": ("12", "12")},
        ),
        (
            '[[wrong_key]]\nquestion="direction"\noption="Clockwise"\nold="falls"',
            {"0001": ("11", "12"), "0012": ("11", "12")},
        ),
        ('[[wrong_key]]\nquestion="direction"\noption="Clockwise"', {"0001": ("12", "12")}),
        ('[[wrong_key]]\nquestion="formula"\nformula="m*(z1+z2)"\nold="falls"', {"0001": ("11", "12")}),
        ('[[also_right]]\nquestion="formula"\nformula="(z1+z2)*m/2"', {"0001": ("12", "12")}),
    ],
)
def test_one_decision_at_a_time(course, tmp_path, text, expected):
    marked(course, tmp_path / "r", text + '\nby="B. Instructor"\nwhy="because"\n')
    book = {row["id"]: (row["points"], row["out of"]) for row in rows(tmp_path / "r" / "gradebook.csv")}
    assert {student: book[student] for student in expected} == expected
    evidence = json.loads((tmp_path / "r" / "evidence.json").read_text(encoding="utf-8"))
    assert sum(r["points"] for r in evidence["records"]) == pytest.approx(evidence["totals"]["points"])


# -- late ----------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("fields", "extra", "off"),
    [
        ({"days": 3, "points_a_day": 2.0}, 0, 6),  # 3 x 2
        ({"days": 3, "points_a_day": 2.0, "at_most": 5.0}, 0, 5),
        ({"days": 3, "points_a_day": 2.0}, 2, 2),
        ({"days": 3, "points_a_day": 2.0}, 5, 0),
        ({"days": 30, "points_a_day": 2.0}, 0, 10),  # never below no points: 10 were reached
        ({"days": 2, "per_cent_a_day": 10.0}, 0, 2),  # 20 % of 10
        ({"days": 2, "per_cent_a_day": 10.0, "of": "possible"}, 0, 4),  # 20 % of 20
        ({"days": 90, "per_cent_a_day": 10.0, "at_most": 50.0}, 0, 5),
        ({"per_cent": 100.0}, 0, 10),
        ({"points": 0.5}, 0, 0.5),
    ],
)
def test_what_being_late_costs(fields, extra, off):
    late = Late(by="b", why="w", student="0001", **fields)
    assert deduction(late, extra, 10.0, 20.0)[0] == off


def test_days_are_counted_from_what_a_person_wrote():
    day, hour = datetime.date, datetime.datetime
    for due, came, days in (
        (day(2026, 2, 27), day(2026, 3, 1), 2),
        (hour(2026, 3, 1, 12), hour(2026, 3, 1, 12, 1), 1),  # a day begun
        (hour(2026, 3, 1, 12), hour(2026, 3, 2, 12), 1),
        (hour(2026, 3, 1, 12), hour(2026, 3, 2, 13), 2),
    ):
        assert days_late(Late(by="b", why="w", student="1", due=due, came=came, points=1.0)) == days


# -- what is refused -----------------------------------------------------------------------------------
WHO = '\nby = "B"\nwhy = "w"\n'
EVERYTHING = "".join(
    f'[[leave_out]]\nquestion = "{question}"{WHO}'
    for question in ("shafts", "pinion", "pitch", "inch-shafts", "speed", "formula", "direction")
)
REFUSED = [
    ('[[leave_out]]\nquestion = "pich"' + WHO, r"line 2: \[\[leave_out\]\] question: 'pich'.*near: pitch"),
    ('[[full_points]]\nquestion = "pinion"\nanswer = "pitch_diametre"' + WHO, "line 3.*near: pitch_diameter"),
    ('[[excused]]\nstudent = "7"' + WHO, r"line 2: .*'7' is not in the roster; near: 0007"),
    ('[[excused]]\nsections = ["B"]' + WHO, "'B' is no section"),
    ('[[leave-out]]\nquestion = "pitch"' + WHO, "line 1: 'leave-out' is no decision; near: leave_out"),
    ('[leave_out]\nquestion = "pitch"' + WHO, r"begins with \[\[leave_out\]\]"),
    ('[[leave_out]]\nqestion = "pitch"' + WHO, "qestion.*near: question"),
    ('[[leave_out]]\nquestion = "pitch"\nwhy = "w"\n', "by: is missing"),
    ('[[leave_out]]\nquestion = "pitch"\nby = "B"\nwhy = "  "\n', "line 4.*why"),
    ('set = "homework-2"', "these marks are of 'homework-1'"),
    ('[[set_points]]\nstudent = "0001"\nquestion = "pitch"\npoints = 1.5' + WHO,
        "4.*more than the 1 point "),
    ('[[set_points]]\nstudent = "0001"\npoints = -1' + WHO, "line 3"),
    ('[[set_points]]\nstudent = "0001"\npoints = nan' + WHO, "number"),
    ('[[set_points]]\nstudent = "0001"\npoints = 1e400' + WHO, "number"),
    ('[[set_points]]\npoints = 1' + WHO, "student: is missing"),
    ('[[late]]\nstudent = "0001"' + WHO, "exactly one"),
    ('[[late]]\nstudent = "0001"\nper_cent = 101' + WHO, "100"),
    ('[[late]]\nstudent = "0001"\nper_cent_a_day = 10' + WHO, "needs days"),
    ('[[late]]\nstudent = "0001"\npoints = 1\ndue = 2026-01-02\ncame = 2026-01-01' + WHO, "is not late"),
    ('[[late]]\nstudent = "0001"\npoints = 1\ndue = 2026-01-02\ncame = 2026-01-03T10:00:00' + WHO,
        "both as dates"),
    ('[[late]]\nstudent = "0001"\npoints = 1' + WHO +
        '[[extra_time]]\nstudent = "0001"\ndays = 1' + WHO,
        "write days"),
    ('[[attempt]]\nfile = "x.json"' + WHO, "say which"),
    ('[[also_right]]\nquestion = "pinion"\nvalue = "1 mm"' + WHO, "answer: is missing"),
    ('[[also_right]]\nquestion = "pitch"' + WHO, "exactly one"),
    ('[[also_right]]\nquestion = "pitch"\nvalue = "3"' + WHO, "no unit"),
    ('[[also_right]]\nquestion = "pitch"\nvalue = "3 rpm"' + WHO, "line 3: .*value"),
    ('[[also_right]]\nquestion = "pitch"\nvalue = "about"' + WHO, "value"),
    ('[[also_right]]\nquestion = "pitch"\nformula = "teeth*3"' + WHO, "It may use module"),
    ('[[also_right]]\nquestion = "pitch"\nformula = "1/(module-module)"' + WHO, "no value"),
    ('[[also_right]]\nquestion = "pitch"\noption = "A"' + WHO, "does not fit a question of kind 'number'"),
    ('[[also_right]]\nquestion = "direction"\noption = "Clockwize"' + WHO, "near: Clockwise"),
    ('[[wrong_key]]\nquestion = "direction"\noption = "Counter-clockwise"' + WHO, "right option already"),
    ('[[wrong_key]]\nquestion = "pitch"\nvalue = "1 mm"\nstudent = "0001"'
        + WHO, "for everybody"),
    ('[[leave_out]]\nquestion = "pitch"' + WHO +
        '[[full_points]]\nquestion = "pitch"' + WHO,
        "line 5.*left out and full_points.*line 1"),
    ('[[leave_out]]\nquestion = "pinion"' + WHO +
        '[[also_right]]\nquestion = "pinion"\nanswer = "base_diameter"\nvalue = "1 mm"\nstudent = "0001"'
        + WHO,
        "left out and also_right for '0001'"),
    ('[[leave_out]]\nquestion = "pitch"' + WHO +
        '[[set_points]]\nstudent = "0001"\nquestion = "pitch"\npoints = 0' + WHO,
        "left out, and points are set"),
    ('[[excused]]\nstudent = "0001"' + WHO + '[[absent]]\nstudent = "0001"' + WHO, "excused"),
    ('[[excused]]\nstudent = "0001"' + WHO + '[[set_points]]\nstudent = "0001"\npoints = 1' + WHO, "excused"),
    ('[[late]]\nstudent = "0001"\npoints = 1' + WHO +
        '[[set_points]]\nstudent = "0001"\npoints = 1' + WHO,
        "put the deduction into"),
    ('[[set_points]]\nstudent = "0001"\npoints = 1' + WHO +
        '[[set_points]]\nstudent = "0001"\npoints = 2' + WHO,
        "set twice"),
    ('[[attempt]]\ncounts = "best"' + WHO + '[[attempt]]\ncounts = "first"' + WHO, "said twice"),
    (EVERYTHING, "nothing of the set would be left"),
    ('[[late]]\nstudent = 0001' + WHO, 'not valid TOML.*id is a text in quotation marks: "00123"'),
    ('[[late]]\nstudent = 1001\ndays = 1\npoints = 1' + WHO, "line 2.*a text in quotation marks"),
    ('[[late]]\nstudent = "0001"\ndue = 20.11.2026\ncame = 2026-11-22' + WHO, "a date is written 2026-11-20"),
    ('[[late]]\nstudent = "0001"\npoints_a_day = 1,5' + WHO, "decimal point, no comma"),
    ('[[late]]\nstudent = "0001"\nper_cent_a_day = 10 %' + WHO, "without % behind it"),
    ('[[late]]\nstudent = "0001"' + WHO, r"exactly one of them \(0 for no deduction\)"),
    ('[[late]]\nstudent = "0001"\ndue = 2026-11-22\ncame = 2026-11-20\npoints = 1' + WHO,
        "or mend the dates"),
    ('[[leave_out]\nquestion = "pitch"' + WHO, "as many brackets before its name"),
    ('[[leave_out]]\nquestion = \u201cpitch\u201d' + WHO, "quotation marks are straight"),
    ('[[leave_out]]\nquestion = pitch' + WHO, "a text stands in quotation marks"),
    ('[[leave_out]]\nquestion = "pitch"\nby = "x"\nwhy = "the\nend"', "a text ends in its line"),
    ('[[leave_out]]\nquestion: "pitch"' + WHO, "name = value"),
    ('[[attempt]]\nstudent = "0001"' + WHO, "or the file's name"),
    ('[[excused]]' + WHO, r"or sections = \["),
    ('a = ' + '[' * 5000, "TOML|no end"),
    ('a = 0x' + 'f' * 5000, "larger"),
    ('a = 1' + '0' * 5000, "no end"),
    ('x' * 20_000, "characters"),
    ('[[excused]]\nstudent = "0001"\nby = "\\u202eB"\nwhy = "' + 'w' * 2000 + '"\n', "1000"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "told"), REFUSED)
def test_what_does_not_fit_is_refused_with_its_line(course, homework, text, told):
    with pytest.raises(ValueError, match=re.compile(told, re.S)) as error:
        checked(read_tables("d.toml", text.encode()), homework, ROSTER)
    assert "decisions d.toml" in str(error.value) and len(str(error.value)) < 8000


def test_what_goes_together_is_accepted(homework):
    for text in (
        # one for everybody, another for one student
        '[[attempt]]\ncounts = "best"' + WHO + '[[attempt]]\nstudent = "0001"\ncounts = "first"' + WHO,
        '[[full_points]]\nquestion = "pitch"' + WHO +
        '[[set_points]]\nstudent = "0001"\nquestion = "pitch"\npoints = 0' + WHO,
        '[[leave_out]]\nquestion = "pitch"\nstudent = "0001"' + WHO +
        '[[full_points]]\nquestion = "pitch"\nstudent = "0002"' + WHO,
        '[[late]]\nstudent = "0001"\ndays = 2\npoints_a_day = 1' + WHO +
        '[[set_points]]\nstudent = "0001"\nquestion = "pitch"\npoints = 1' + WHO,
        '\ufeff[[leave_out]]\r\nquestion = "pitch"\r\nby = "B"\r\nwhy = """two\nlines [[late]]\n"""\r\n',
        "",
    ):  # fmt: skip
        checked(read_tables("d.toml", text.encode()), homework, ROSTER)


def test_sections_and_lists_name_students(homework):
    roster = Roster([Student("0001", section="A"), Student("0002"), Student("0003")])
    text = '[[excused]]\nsections = ["A"]\nstudents = ["0003"]' + WHO
    decision = checked(read_tables("d.toml", text.encode()), homework, roster).all[0]
    assert decision.who == {"0001", "0003"}


def test_decisions_are_plain_data(course, homework):
    decisions = checked(read_tables("d.toml", DECISIONS.encode()), homework, ROSTER)
    again = pickle.loads(pickle.dumps(decisions))
    assert again == decisions and [d.kind for d in again.of("0004")] == [d.kind for d in decisions.of("0004")]
    assert isinstance(again, Decisions) and [d.line for d in again.all][:2] == [4, 10]
    with pytest.raises(AttributeError):
        decisions.all = ()
    with pytest.raises(ValueError):
        decisions.all[0].table.by = "somebody else"


def test_control_characters_of_a_person_reach_no_page_raw(course, tmp_path):
    text = (
        '[[leave_out]]\nquestion = "pitch"\nby = "\\u202eevil\\u0007"\nwhy = "one\\ntwo <script> \\u2066x"\n'
    )
    marked(course, tmp_path / "r", text)
    for path in (*(tmp_path / "r").rglob("*.html"), tmp_path / "r" / "gradebook.csv"):
        content = path.read_text(encoding="utf-8")
        assert not set("\u202e\u2066\a") & set(content) and "<script>" not in content
    assert "\\u202eevil\\u0007" in words(tmp_path / "r" / "feedback" / "0001.html")
    assert "one two" in words(tmp_path / "r" / "feedback" / "0001.html")


def test_two_thousand_broken_files_are_refused_quickly(homework):
    """Mutated and random files: read, or a ValueError; never anything else, never slow."""
    chance = random.Random(13)
    pieces = [
        *DECISIONS.split("\n"),
        '"',
        "'''",
        '"""',
        "[",
        "[[",
        "]]",
        "= ",
        "nan",
        "-inf",
        "1e999",
        "0x" + "f" * 400,
        "9" * 400,
        "1979-05-27T00:00:00-25:00",
        "\u202e",
        "\0",
        "a.b.c.d = 1",
        "student = []",
        "points = true",
        "students = [1, {}]",
        "when = {}",
        "[[late]]",
        "due = 07:32:00",
        "{a={b={c={}}}}",
        "answer = 1",
        "\ud7ff",
    ]
    slowest, accepted = 0.0, 0
    for number in range(2000):
        if number % 2:
            lines = DECISIONS.split("\n")
            for _ in range(chance.randint(1, 4)):
                place = chance.randrange(len(lines))
                lines[place] = chance.choice(pieces) + lines[place][chance.randint(0, 3) :]
            content = "\n".join(lines).encode("utf-8")
        else:
            content = "\n".join(chance.choices(pieces, k=chance.randint(0, 30))).encode("utf-8")
        if number % 5 == 0 and content:
            place = chance.randrange(len(content))
            content = content[:place] + bytes([chance.randrange(256)]) + content[place + 1 :]
        start = time.process_time()
        try:
            checked(read_tables("d.toml", content), homework, ROSTER)
            accepted += 1
        except ValueError as error:
            assert str(error).isprintable() or "\n" in str(error)
            assert not set("\u202e\0") & set(str(error))
        slowest = max(slowest, time.process_time() - start)
    assert accepted < 1000
    assert slowest < 2.0


@pytest.mark.parametrize(
    "text",
    [
        ".".join("a" * 4990) + " = 1\n" * 1,
        "[" + ".".join("a" * 4990) + "]\n" * 1,
        "\n".join("[" + ".".join("ab" * 2490) + f".x{n}]" for n in range(90)),
        "a = " + "{a=" * 3000,
        "\n".join(f'[[excused]]\nstudent = "s{n}"\nby = "b"\nwhy = "w"' for n in range(4000)),
        "\n".join('[[leave_out]]\nquestion = "pitch"\nby = "b"\nwhy = "w"' for _ in range(4000)),
        '[[excused]]\nby = "b"\nwhy = "w"\nstudents = [\n'
        + "\n".join(f'"{n}",' for n in range(25_000))
        + "\n]\n",
        '[[excused]]\nby = "b"\nwhy = "w"\nstudents = [\n'
        + "\n".join(f'"n{n}",' for n in range(19_000))
        + "\n]\n",
        "x = '''" + "\n'''" * 100_000,
    ],
)
def test_a_file_that_is_made_to_be_slow_is_refused_in_seconds(homework, text):
    start = time.perf_counter()
    with pytest.raises(ValueError):
        checked(read_tables("d.toml", text.encode()), homework, ROSTER)
    assert time.perf_counter() - start < 10


# -- where it lies, how it begins, what the commands say -----------------------------------------------
def test_where_decisions_lie(course, homework, tmp_path):
    place, set_file, roster, key = course
    key.path.with_name("homework-1.decisions.toml").unlink(missing_ok=True)
    assert decisions_place(key, "homework-1").name == "homework-1.decisions.toml"
    assert not decisions_of(key, homework, roster)
    with pytest.raises(ValueError, match="cannot be read"):
        decisions_of(key, homework, roster, tmp_path / "none.toml")
    folder = key.path.parent / "decisions"
    folder.mkdir()
    (folder / "homework-1.toml").write_text('[[excused]]\nstudent = "0001"' + WHO)
    assert len(decisions_of(key, homework, roster)) == 1
    key.path.with_name("homework-1.decisions.toml").write_text("")
    with pytest.raises(ValueError, match="remove the other"):
        decisions_of(key, homework, roster)
    (folder / "homework-1.toml").unlink()
    folder.rmdir()


def test_the_starter_decides_nothing_and_each_of_its_examples_holds(homework, tmp_path):
    begin(tmp_path / "d.toml", homework)
    with pytest.raises(ValueError, match="never written over"):
        begin(tmp_path / "d.toml", homework)
    assert not checked(read_tables(tmp_path / "d.toml"), homework, ROSTER)
    roster = Roster([Student("ID"), Student("ID2")])
    examples = re.findall(r"(?m)^# \[\[.*\n(?:# .*\n)+", starter(homework))
    kinds = set()
    for example in examples:
        text = re.sub(r"(?m)^# ", "", example)
        kinds |= {d.kind for d in checked(read_tables("d", text.encode()), homework, roster).all}
    assert kinds == set(KINDS) - {"absent"}


def test_the_commands(course, tmp_path):
    place, set_file, _, key = course
    roster = tmp_path / "roster.csv"
    roster.write_text("id,name\n" + "".join(f"{s.id},{s.name}\n" for s in ROSTER))
    file = tmp_path / "d.toml"
    run = CliRunner().invoke
    decide = ["decide", str(set_file), "--key", str(key.path), "--to", str(file)]
    assert "Nothing is decided in it yet" in run(main, decide).output
    file.write_text(DECISIONS)
    listed = run(main, [*decide, "--roster", str(roster)]).output
    assert (
        "12 decisions" in listed
        and "is z1 the pinion?" in listed
        and re.search(r"line \d+: set_points for 0002", listed)
    )
    common = [
        "--set",
        str(set_file),
        "--roster",
        str(roster),
        "--key",
        str(key.path),
        "--to",
        str(tmp_path / "r"),
    ]
    key.path.with_name("homework-1.decisions.toml").unlink(missing_ok=True)
    assert run(main, ["mark", str(place), *common]).exit_code == 0
    before = (tmp_path / "r" / "gradebook.csv").read_bytes()
    shown = run(main, ["mark", str(place), *common, "--decisions", str(file), "--show-changes"]).output
    assert "0002  shafts: 0 of 2 becomes 1.5 of 2" in shown and "Nothing was written" in shown
    assert (tmp_path / "r" / "gradebook.csv").read_bytes() == before
    done = run(main, ["mark", str(place), *common, "--decisions", str(file)]).output
    assert "12 decisions were applied" in done and "changes.csv" in done
    file.write_text('[[excused]]\nstudent = "9"' + WHO)
    refused = run(main, ["mark", str(place), *common, "--decisions", str(file)])
    assert refused.exit_code == 2 and "near: 0009" in refused.output
