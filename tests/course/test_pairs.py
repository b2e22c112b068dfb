"""Pairs with equal wrong numbers: twins are found, others are not, and no student's page says a word of it.

The classes are simulated; how many pairs are expected follows from how they were made.
"""

import json
import random

import pytest
from greenhouse import hand_in, right_answers, write_course
from simulated import marked_class

from gearlab.course.coursekey import CourseKey
from gearlab.course.handout.edition import SheetMaker, edition_of
from gearlab.course.marking.whole import mark
from gearlab.course.report import pairs as course_pairs
from gearlab.course.report.pairs import ENOUGH, Traces, pairs_page
from gearlab.course.roster import Roster, Student
from gearlab.practice.typed.reading import read_number

COUNT, TWINS = 300, (17, 203)
STUDENTS = [Student(f"{i:04d}", f"Student <{i}>") for i in range(COUNT)]


def wrong_throughout(place, sheet, right, answers):
    """The first twin gets all that is a number wrong, by factors of chance that nobody else has."""
    if place != TWINS[0]:
        return answers
    chance = random.Random(1)
    factors = iter([chance.uniform(0.6, 1.7) for _ in range(20)])
    return answers | {
        q: {name: f"{float(text.split()[0]) * next(factors):.5f}" for name, text in right[q].items()}
        for q in ("shafts", "pinion", "pitch", "inch-shafts", "speed")
    }


@pytest.fixture(scope="module")
def maker(tmp_path_factory):
    folder = tmp_path_factory.mktemp("pairs")
    key = CourseKey(folder / "course.key", bytes(range(32)))  # the same class at every run
    return SheetMaker(edition_of(write_course(folder / "exercises")), key)


@pytest.fixture(scope="module")
def marks(maker):
    return list(marked_class(maker, STUDENTS, 5, TWINS, wrong_throughout))


def traced(maker, folder, some):
    traces = Traces(maker.set, folder)
    for student, marked in some:
        traces.add(int(student.id), marked)
    return traces


def test_a_twin_pair_among_three_hundred_is_found_and_nobody_else(maker, marks, tmp_path):
    found, count = traced(maker, tmp_path / "typed", marks).pairs()
    assert [(pair.first, pair.second) for pair in found] == [TWINS] and count == 1
    (pair,) = found
    # seven numbers of four figures and more that these two alone typed, in five questions
    assert len(pair.shared) >= 7 and pair.weight >= 5
    assert all(same.wrong == (True, True) for same in pair.shared if same.holders == 2)
    text = pairs_page(maker.set, Roster(STUDENTS), found, count)
    assert "A hint for a talk, not a verdict." in text and "Student &lt;17&gt;" in text and "<17>" not in text
    none, count = traced(maker, tmp_path / "typed", [m for m in marks if m[0].id != "0203"]).pairs()
    assert (none, count) == ([], 0)


def test_parts_in_any_order_in_memory_or_on_disk_give_the_same_pairs(maker, marks, tmp_path, monkeypatch):
    whole = traced(maker, tmp_path / "one", marks).pairs()
    monkeypatch.setattr(course_pairs, "HELD", 2000)
    mixed = list(marks)
    random.Random(2).shuffle(mixed)
    first, *others = [traced(maker, tmp_path / f"part-{i}", mixed[i::3]) for i in range(3)]
    assert (tmp_path / "part-1").is_dir(), "little is held in memory"
    for other in others:
        first.merge(other)
    assert first.pairs() == whole
    assert not (tmp_path / "part-0").exists()


def test_a_slip_that_many_share_and_an_equal_number_on_equal_givens_are_no_pair(maker, tmp_path):
    """Twenty students who all type the same two numbers: common ones. And two of the same sheet."""

    def many(place, sheet, right, answers):
        return {q: dict(texts) for q, texts in right.items()} | {
            "shafts": {"centre_distance": "123.456"},
            "pitch": {"circular_pitch": "7.65432"},
        }

    marks = list(marked_class(maker, STUDENTS[:20], 1, change=many))
    assert traced(maker, tmp_path / "typed", marks).pairs() == ([], 0)
    two = Traces(maker.set, tmp_path / "typed")
    two.add(0, marks[0][1])
    two.add(1, marks[0][1])
    assert two.pairs() == ([], 0)
    three = traced(maker, tmp_path / "typed", marks[:2]).pairs()[0]
    assert [(pair.first, pair.second) for pair in three] == [(0, 1)] and three[0].weight == pytest.approx(2.0)


def test_one_equal_number_is_never_enough(maker, tmp_path):
    def once(place, sheet, right, answers):
        return {q: dict(texts) for q, texts in right.items()} | {"pitch": {"circular_pitch": "7.65432"}}

    marks = list(marked_class(maker, STUDENTS[:2], 1, change=once))
    assert ENOUGH > 1 and traced(maker, tmp_path / "typed", marks).pairs() == ([], 0)


def test_pairs_stand_on_a_page_of_their_own_and_on_no_students_page(tmp_path):
    # a key of its own: by one of chance the two may get the same givens, and equal numbers say nothing then
    set_file, key = write_course(tmp_path / "exercises"), CourseKey(tmp_path / "course.key", b"p" * 32)
    edition = edition_of(set_file)
    edition.write(key.frozen_path(edition.set_name))
    maker = SheetMaker(edition, key)
    roster = Roster(
        [Student(f"{i}", name, section="AB"[i % 2]) for i, name in enumerate(("Ada", "Ben", "Chidi", "Dana"))]
    )
    (tmp_path / "came").mkdir()
    for student in roster:
        sheet = maker.sheet(student, maker.tasks(student.id))
        answers = right_answers(sheet)
        if student.name in ("Ada", "Dana"):
            answers["pitch"]["circular_pitch"] = "7.65432"
            answers["shafts"]["centre_distance"] = "98.7654 mm"
        (tmp_path / "came" / sheet["file"]).write_text(hand_in(sheet, answers), encoding="utf-8")
    results = tmp_path / "results"
    mark(tmp_path / "came", set_file, roster, key, results)
    page = (results / "pairs.html").read_text(encoding="utf-8")
    assert "Ada" in page and "Dana" in page and "Ben" not in page and "98.7654" in page
    report = (results / "report.html").read_text(encoding="utf-8")
    assert "a hint for a talk, not a verdict" in report and "1 pair of students" in report
    assert "Ada" not in report and "Dana" not in report
    others = [*results.glob("feedback/*"), *results.glob("sections/*"), results / "gradebook.csv"]
    assert len(others) == 7
    for path in others:
        assert "hint for a talk" not in path.read_text(encoding="utf-8"), path
    assert not [path for path in results.iterdir() if path.name.startswith(".")]
    assert json.loads((results / "evidence.json").read_text(encoding="utf-8"))["totals"]["students"] == 4


def test_a_number_in_another_unit_is_the_same_number():
    """Units that only a bank's own formula asks for are compared as well: 1 kg is 1000 g."""
    for one, other, unit in (("0.61653 kg", "616.53 g", "kg"), ("2.5 in", "63.5 mm", "in")):
        assert course_pairs._number(read_number(one, unit)) == course_pairs._number(read_number(other, unit))
    assert course_pairs._number(read_number("616.53 mm", "kg")) is None
