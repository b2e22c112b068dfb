"""A term of thirty students from beginning to end, and the rules of `[term]`.

Truth and checks: simulatedterm.py, termchecks.py; the same with 300 students is `tests/bench/term.py`.
"""

import html
import os
import re
import time
from datetime import datetime
from fractions import Fraction as F

import pytest
import termchecks
from greenhouse import hand_in, right_answers, sheet_of
from simulatedterm import SETS, VENT, Term, run

from gearlab.course.pages import part
from gearlab.course.roster import Roster, Student
from gearlab.course.term.marks import Decided, SetMark, SetMarks
from gearlab.course.term.pages import TermPages
from gearlab.course.term.sums import sums
from gearlab.course.termrules import read_rules


@pytest.fixture(scope="module")
def term(tmp_path_factory):
    """A term handed out, handed in, marked, decided, marked again and added up."""
    term = Term(tmp_path_factory.mktemp("term"))
    term.begin()
    term.hand_in()
    term.mark()
    termchecks.marks_are_true(term, decided=False)
    term.read_texts()
    term.decide()
    term.mark()
    term.said = run("term", "--course", term.course)
    return term


def test_every_mark_is_the_true_one(term):
    assert termchecks.marks_are_true(term, decided=True) == 120


def test_every_mark_is_explained_by_its_page_alone(term):
    assert termchecks.pages_explain(term) > 400


def test_what_changed_is_listed_before_and_after(term):
    assert termchecks.changes_are_listed(term) > 30


def test_twins_and_uploaders_are_named(term):
    assert termchecks.twins_are_named(term) == 1
    assert termchecks.uploaders_are_named(term) == 1


def test_the_term_is_the_true_one_and_can_be_recomputed_from_its_pages(term):
    assert termchecks.term_is_true(term) == 30
    assert termchecks.term_pages_explain(term) == 90


def test_a_learning_systems_gradebook_is_filled(term, tmp_path):
    assert termchecks.template_is_filled(term, tmp_path) == 30


# -- the rules -----------------------------------------------------------------------------------------
NAMES = ("homework-1", "homework-2", "homework-3", "lab-1")


def rules_of(folder, text, handed_out=NAMES, others=()):
    path = folder / "course.toml"
    path.write_text(f'[course]\ntitle = "Vents"\n{text}', encoding="utf-8")
    return read_rules(path, handed_out, others)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('[term]\nsets = ["homework-9"]', ["sets: 'homework-9' is no set", "near: homework-"]),
        ('[term]\nsets = ["homework-1", "homework_1"]', ["'homework-1' is there twice"]),
        ("[term]\nbest = 9", ["best: is 9, but there are 4 sets"]),
        ("[term]\nbest = 0", ["best", "greater than or equal to 1", "it is 0"]),
        ("[term]\nweights = { lab-2 = 1 }", ["weights: 'lab-2' is none of its sets", "near: lab-1"]),
        ("[term]\nweights = { lab-1 = -1 }", ["weights > lab-1", "greater than or equal to 0"]),
        ('[term]\nsets = ["lab-1"]\nweights = { lab-1 = 0 }', ["all are 0", "a weight above 0"]),
        ('[term]\ncount = "point"', ["count", "near: points"]),
        ('[term]\nmising = "zero"', ["mising", "near: missing"]),
        (
            '[term]\ncount = "points"\nweights = { lab-1 = 2 }',
            ["weights: say nothing where", "leave them out"],
        ),
        (
            '[term]\nbest = 2\n[[term.group]]\nname = "a"\nsets = ["lab-1"]',
            ["best: is beside [[term.group]]"],
        ),
        ('[[term.group]]\nname = "a"', ["group 'a': sets: is missing"]),
        (
            '[[term.group]]\nname = "a"\nsets = ["lab-1"]\nweight = 3\n'
            '[[term.group]]\nname = "b"\nsets = ["homework-1"]',
            ["group 'b': weight: is missing"],
        ),
        (
            '[[term.group]]\nname = "a"\nsets = ["lab-1"]\n[[term.group]]\nname = "b"\nsets = ["lab-1"]',
            ["group 'b': sets: 'lab-1' is there twice"],
        ),
        ("[term]\nplaces = 3", ["places", "less than or equal to 2", "it is 3"]),
        ("[term]\nout_of = 0", ["out_of", "greater than 0"]),
        ("[term\n", ["is not TOML"]),
    ],
)
def test_what_is_wrong_in_the_rules_is_named_with_the_way(tmp_path, text, words):
    with pytest.raises(ValueError) as told:
        rules_of(tmp_path, text)
    for word in words:
        assert word in str(told.value)


def test_the_starter_holds_once_its_comments_are_taken_away(tmp_path):
    starter = part("course.toml").partition("section = ")[2].partition("\n\n")[2]  # the table of the term
    lines = [line.removeprefix("# ") for line in starter.splitlines()]
    group = next(n for n, line in enumerate(lines) if line.startswith("[[term.group]]"))
    term = next(n for n, line in enumerate(lines) if line == "[term]")
    end = next(n for n, line in enumerate(lines) if line.startswith("Groups of sets"))
    plain = rules_of(tmp_path, "\n".join(lines[term : end - 1]))
    assert plain.groups[0].best == 2 and plain.groups[0].weights == (1, 1, 2) and plain.sections == ("A", "B")
    grouped = rules_of(tmp_path, "\n".join(lines[group:]))
    assert [(own.name, own.weight, own.best, own.zero) for own in grouped.groups] == [
        ("homework", 60, 2, True),
        ("lab", 40, None, False),
    ]
    # without a table every set that was handed out counts the same, and a missing one counts 0
    bare = rules_of(tmp_path, "")
    assert bare.sets == NAMES and set(bare.groups[0].weights) == {1} and bare.groups[0].zero


# What each set gave one student, with what each could reach: a textbook of sums, worked out beside each case.
GOT = {"homework-1": (9, 12), "homework-2": (4, 8), "homework-3": None, "lab-1": (6, 6)}


def total_of(folder, text, got=GOT, excused=(), unmarked=()):
    rules = rules_of(folder, text)
    sets = []
    for name in rules.sets:
        marks = SetMarks(name, name, None if name in unmarked else datetime(2026, 11, 29))
        marks.marks["other"] = SetMark(F(1), F((got[name] or (0, 10))[1]), F(1), F(0))
        if name in excused:
            marks.marks["s"] = SetMark(None, F(10), F(0), F(0), (Decided("excused", "", "", "", 0.0),))
        elif got[name] and name not in unmarked:
            marks.marks["s"] = SetMark(F(got[name][0]), F(got[name][1]), F(got[name][0]), F(0))
        sets.append(marks)
    return sums(rules, Roster([Student("s")]), sets)[0]


@pytest.mark.parametrize(
    ("text", "total", "out_of"),
    [
        ("", F("56.3"), 100),  # (75 + 50 + 0 + 100) / 4 = 56.25, a half goes up
        ('[term]\nrounding = "down"', F("56.2"), 100),
        ("[term]\nplaces = 2", F("56.25"), 100),
        ("[term]\nout_of = 20\nplaces = 2", F("11.25"), 20),
        ('[term]\nmissing = "left out"', F(75), 100),  # (75 + 50 + 100) / 3
        ("[term]\nbest = 2", F("87.5"), 100),  # (75 + 100) / 2
        ("[term]\nweights = { lab-1 = 3 }", F("70.8"), 100),  # (75 + 50 + 0 + 300) / 6 = 70.83
        ('[term]\ncount = "points"', F(19), 36),  # 9 + 4 + 0 + 6 of 12 + 8 + 10 + 6
        ('[term]\ncount = "points"\nmissing = "left out"', F(19), 26),
        ('[term]\ncount = "points"\nbest = 2', F(15), 18),  # the best two by per cent: 9 of 12, 6 of 6
        ('[term]\ncount = "points"\nout_of = 100', F("52.8"), 100),  # 19 / 36
        ('[term]\nsets = ["homework-3"]\nmissing = "left out"', None, 100),
        (  # 75 % and 100 %, by 1 and 3: 93.75
            '[[term.group]]\nname = "a"\nsets = ["homework-1", "homework-2"]\nbest = 1\nweight = 1\n'
            '[[term.group]]\nname = "b"\nsets = ["lab-1"]\nweight = 3',
            F("93.8"),
            100,
        ),
        (  # points within the groups: 13 / 20 = 65 % and 100 %: 82.5
            '[term]\ncount = "points"\n[[term.group]]\nname = "a"\nsets = ["homework-1", "homework-2"]\n'
            'weight = 5\n[[term.group]]\nname = "b"\nsets = ["lab-1"]\nweight = 5',
            F("82.5"),
            100,
        ),
        (  # nothing counts in a: b alone
            '[[term.group]]\nname = "a"\nsets = ["homework-3"]\nmissing = "left out"\nweight = 9\n'
            '[[term.group]]\nname = "b"\nsets = ["homework-2"]\nweight = 1',
            F(50),
            100,
        ),
    ],
)
def test_sums_by_hand(tmp_path, text, total, out_of):
    done = total_of(tmp_path, text)
    assert (done.total, done.out_of) == (total, out_of)
    # the page of each way of counting can be made and tells the mark
    rules = rules_of(tmp_path, text)
    page = TermPages(rules, "Vents", {name: name for name in NAMES}).page(done)
    shown = re.search(r'class="total"><b>([^<]+)</b>', page)[1]
    assert shown == "no mark" if total is None else F(shown) == total


def test_excused_and_unmarked_sets_do_not_count_and_are_told(tmp_path):
    done = total_of(tmp_path, "[term]\nbest = 3", excused=["homework-2"], unmarked=["lab-1"])
    assert done.total == F("37.5")  # (75 + 0) / 2
    assert [step.state for step in done.steps] == ["counts", "excused", "missing", "not marked"]
    assert done.open == ["lab-1 is not marked yet"] and done.missing == ["homework-3"]


def test_without_a_course_folder_the_way_is_told(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    said = " ".join(run("term", code=2).split())
    assert "needs a course folder" in said and "`gearlab course FOLDER` begins one" in said


def test_what_came_and_could_not_be_marked_is_told_on_page_and_report(tmp_path):
    """Of six one is marked; four are told what became of theirs; who sent nothing is only missing."""
    course, name = tmp_path / "vents", "homework-3"
    run("course", course)
    sent = {
        "right": "",
        "cut": "a file came that could not be read",
        "other": "the file that came holds answers to another set",
        "foreign": "the file that came has somebody else's id in it",
        "book": "a notebook came without its HAND-IN file",
        "none": "",
    }
    lines = "".join(f"{student},{student.title()}\n" for student in sent)
    (course / "roster.csv").write_text(f"id,name\n{lines}", encoding="utf-8")
    with open(course / "course.toml", "a", encoding="utf-8") as file:
        file.write(f'[term]\nsets = ["{name}"]\n')
    (course / "sets" / "vent.toml").write_text(VENT, encoding="utf-8")
    for each in (name, "homework-1"):
        rows = "".join(
            f'[[question]]\nbank = "vent.toml"\nid = "{one}"\n' for one in SETS["homework-1"][1].split()
        )
        text = f'[set]\nname = "{each}"\ntitle = "Sizes"\nuse = "marked"\n{rows}'
        (course / "sets" / f"{each}.toml").write_text(text, encoding="utf-8")
        run("hand-out", each, "--course", course)

    def file_of(student, each=name):
        sheet = sheet_of(course / "handed-out" / each / "notebooks" / f"{each}_{student}.ipynb")
        return hand_in(sheet, right_answers(sheet))

    came = course / "hand-ins" / name
    for student, content in (
        ("right", file_of("right")),
        ("cut", file_of("cut")[:-40]),
        ("other", file_of("other", "homework-1")),
        ("foreign", file_of("right")),
    ):
        (came / student).mkdir()
        (came / student / f"HAND-IN_homework_3_{student}.json").write_text(content, encoding="utf-8")
    (came / f"{name}_book.ipynb").write_text("{}", encoding="utf-8")
    run("mark", name, "--course", course)
    said = " ".join(run("term", "--course", course).split())
    assert (
        "4 count as missing, but something came that could not be marked (book, cut, foreign, other)" in said
    )
    pages = course / "results" / "term" / "students"
    report = (course / "results" / "term" / "term.html").read_text(encoding="utf-8")
    rows = termchecks.table(course / "results" / "term" / "gradebook.csv")
    for student, words in sent.items():
        page = html.unescape((pages / f"{student}.html").read_text(encoding="utf-8"))
        told = html.unescape(report)
        assert ("missing, counts 0" in page) == (student != "right")
        assert ("ask your instructor about it now" in page) == bool(words)
        assert rows[student]["open"] == (f"{name}: {words}" if words else "")
        if words:
            assert page.count(words) == 2, "in the row of the set and above"
            assert f"{name} ({words})" in told and f"{name}: {words}: {student}" in told
        else:
            assert "could not be" not in page
    # what is sent again and marked is told no more
    (came / "cut" / "HAND-IN_homework_3_cut.json").write_text(file_of("cut"), encoding="utf-8")
    run("mark", name, "--course", course)
    run("term", "--course", course)
    assert "could not be" not in (pages / "cut.html").read_text(encoding="utf-8")


def test_marks_older_than_decisions_and_typed_marks_are_told(term):
    decisions = term.course / "decisions" / "lab-1.toml"
    before = decisions.read_bytes()
    book = term.course / "results" / "lab-1" / "gradebook.csv"
    marks = book.read_text(encoding="utf-8")
    student = term.roles["open"][0]
    points = termchecks.table(term.course / "results" / "lab-1" / "gradebook.csv")[student]["points"]
    try:
        decisions.write_bytes(before + b"\n# looked at again\n")
        later = time.time() + 60
        os.utime(decisions, (later, later))
        old = next(line for line in marks.splitlines() if line.startswith(student))
        typed = old.replace(f",{points},", ",4.75,")
        book.write_text(marks.replace(old, typed), encoding="utf-8")
        said = " ".join(run("term", "--course", term.course).split())
        assert "lab-1: its marks are older than its decisions" in said
        assert f"1 mark was typed into gradebook.csv ({student})" in said
        assert termchecks.term_is_true(term) == 30
    finally:
        decisions.write_bytes(before)
        book.write_text(marks, encoding="utf-8")
    # a student who is removed leaves the term as well: page, rows and the report that names them
    missing = term.roles["missing"][0]
    said = run("student", missing, "--show", "--course", term.course)
    for name in (f"students/{missing}.html", "term/gradebook.csv", "term/term.html"):
        assert name in said


def test_a_section_alone_and_points_as_they_are(term):
    file = term.course / "course.toml"
    before = file.read_text(encoding="utf-8")
    try:
        file.write_text(before.split("\n[term]")[0] + '\n[term]\ncount = "points"\n', encoding="utf-8")
        said = run("term", "--course", term.course, "--section", "b")
        assert "with out_of = 100" in " ".join(said.split())  # one of the section is excused
        rows = termchecks.table(term.course / "results" / "term_B" / "gradebook.csv")
        assert list(rows) == [student for student in term.ids if term.section[student] == "B"]
        for student, row in rows.items():
            got = [term.set_points(name, student) for name in SETS]
            assert F(row["points"]) == sum(points or 0 for points, _, _ in got)
            assert F(row["out of"]) == sum(out_of for _, out_of, why in got if why != "excused")
    finally:
        file.write_text(before, encoding="utf-8")
