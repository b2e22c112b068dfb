"""A printed sheet's pages: whole questions in order, each student on a front side, numbers from 1."""

import re
from pathlib import Path

import pytest
from greenhouse import write_course

from gearlab.contents import set_file
from gearlab.course.coursekey import make_key
from gearlab.course.handout.edition import SheetMaker, edition_of
from gearlab.course.handout.leaves import FOOT, HEAD, HEIGHT, leaves
from gearlab.course.handout.making import hand_out
from gearlab.course.roster import Roster, Student

ROSTER = Roster([Student("007", "Ada"), Student("012", "Ben"), Student("g/29 ö", "Chidi")])


@pytest.mark.parametrize("number", range(1, 9))
def test_questions_stay_whole_and_in_order_on_as_few_pages_as_hold_them(tmp_path, number):
    maker = SheetMaker(edition_of(set_file(f"homework_{number}")), make_key(tmp_path / "course.key"))
    for student in ("007", "012"):
        tasks = maker.tasks(student)
        pages = leaves(Student(student), tasks)
        assert [task.entry.question.id for page in pages for task in page.tasks] == [
            task.entry.question.id for task in tasks
        ]
        assert [page.first for page in pages] == [
            1 + sum(len(page.tasks) for page in pages[:i]) for i in range(len(pages))
        ]
        assert [page.number for page in pages] == list(range(1, len(pages) + 1))
        assert {page.of for page in pages} == {len(pages)} and len(pages) <= (len(tasks) + 2) * 2 / 3


def test_the_box_of_a_page_fits_both_papers():
    """ISO 216: A4 is 210 mm by 297 mm; US letter is 8.5 in by 11 in."""
    css = (Path(leaves.__globals__["__file__"]).parent.parent / "templates" / "sheet.css").read_text(
        encoding="utf-8"
    )
    (margin,) = re.findall(r"@page \{ margin: (\d+)mm", css)
    assert f"min-height: {HEIGHT:g}mm" in css and HEAD + FOOT < HEIGHT / 3
    for paper in (297.0, 11 * 25.4):
        assert paper - 2 * float(margin) - HEIGHT >= 5, "no room for a browser that rounds"


def test_each_student_begins_on_a_front_side_and_each_page_says_whose_it_is(tmp_path):
    key = make_key(tmp_path / "own" / "course.key")
    hand_out(write_course(tmp_path / "exercises"), ROSTER, key, tmp_path / "out")
    everybody = (tmp_path / "out" / "all_sheets.html").read_text(encoding="utf-8")
    sheets = everybody.split('<article class="sheet">')[1:]
    assert len(sheets) == 3
    for student, text in zip(ROSTER, sheets):
        sides = text.split('<section class="leaf')[1:]
        assert len(sides) % 2 == 0
        printed = [side for side in sides if not side.startswith(" back")]
        assert len(sides) - len(printed) <= 1
        for number, side in enumerate(printed, start=1):
            assert f"page {number} of {len(printed)}</span>" in side and f"id <b>{student.id}</b>" in side
    alone = (tmp_path / "out" / "sheets" / "homework-1_007.html").read_text(encoding="utf-8")
    assert 'class="leaf back"' not in alone
