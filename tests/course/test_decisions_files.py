"""A file that was set aside is given to its student by a decision: found, checked, marked, told.

Points are counted by hand from the bank in greenhouse.py: all right is 12.
"""

import csv
import json
import re
import zipfile

import pytest
from greenhouse import hand_in, right_answers, sheet_of, write_course
from typer.testing import CliRunner

from gearlab.cli import main
from gearlab.course.coursekey import make_key
from gearlab.course.folder import begin_course
from gearlab.course.handout.making import hand_out
from gearlab.course.marking.whole import mark
from gearlab.course.roster import Roster, Student

CLASS = Roster([Student("0001", "Ada North"), Student("0002", "Ben West"), Student("0003", "Cleo Ford")])
GUEST = "guest-7"  # the id of the sheet that was printed before the office gave 0002 one
NAME = f"HAND-IN_homework-1_{GUEST}.json"
WHO = '\nby = "B. Instructor"\nwhy = "Came before the <i>office</i> had an id."\n'
GIVEN = f'[[file_of]]\nstudent = "0002"\nfile = "{NAME}"{WHO}'


def rows(path):
    with open(path, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def words(path):
    text = re.sub(r"<style>.*?</style>", "", path.read_text(encoding="utf-8"), flags=re.S)
    return " ".join(re.sub(r"<[^>]*>", " ", text).split())


class Course:
    """Sheets of the class and of a guest; 0001's hand-in and the guest's came, all right."""

    def __init__(self, folder):
        self.folder = folder
        self.set_file = write_course(folder)
        self.key = make_key(folder / "course.key")
        hand_out(self.set_file, Roster([*CLASS, Student(GUEST)]), self.key, folder / "out")
        self.place = folder / "in"
        self.place.mkdir()
        self.put("0001")
        self.put(GUEST)

    def sheet(self, student):
        return sheet_of(self.folder / "out" / "notebooks" / f"homework-1_{student}.ipynb")

    def put(self, student, place="", answers=None, **changes):
        sheet = self.sheet(student)
        path = self.place / place / sheet["file"]
        path.parent.mkdir(exist_ok=True)
        text = hand_in(sheet, right_answers(sheet) if answers is None else answers, **changes)
        path.write_text(text, encoding="utf-8")
        return path

    def mark(self, decided="", results="results"):
        """Marked: gradebook, problems, and the marking itself."""
        self.key.path.with_name("homework-1.decisions.toml").write_text(decided, encoding="utf-8")
        done = mark(self.place, self.set_file, CLASS, self.key, self.folder / results)
        self.results = done.folder
        book = {row["id"]: row for row in rows(done.folder / "gradebook.csv")}
        return book, {(row["kind"], row["id"]): row for row in rows(done.folder / "problems.csv")}, done


@pytest.fixture
def course(tmp_path):
    return Course(tmp_path)


def test_a_file_that_was_set_aside_counts_for_the_student_it_is_given_to(course):
    book, problems, _ = course.mark()
    assert book["0002"]["points"] == "" and ("foreign", "") in problems and ("missing", "0002") in problems
    book, problems, done = course.mark(GIVEN)
    assert book["0002"]["points"] == "12" and done.decisions == 1
    assert "file " + NAME + " counts as yours (B. Instructor: Came before" in book["0002"]["comment"]
    assert {kind for kind, _ in problems} == {"missing"}  # 0003's alone
    page = words(course.results / "feedback" / "0002.html")
    for told in (f"The file {NAME} counts as yours", "B. Instructor", "&lt;i&gt;office", "of that sheet"):
        assert told in page
    records = json.loads((course.results / "evidence.json").read_text(encoding="utf-8"))["records"]
    mine = [record for record in records if record["student"] == "0002"]
    decided = [record["decision"] for record in mine if "decision" in record]
    assert [(one["kind"], one["by"]) for one in decided] == [("file_of", "B. Instructor")]
    shown = next(q["givens"] for q in course.sheet(GUEST)["questions"] if q["id"] == "shafts")
    assert next(record["givens"] for record in mine if record["question"] == "shafts") == shown
    assert "decision: file_of" in (course.results / "changes.csv").read_text(encoding="utf-8")


def test_taken_back_everything_is_as_before(course):
    before = course.mark()[0]
    course.mark(GIVEN)
    assert course.mark()[0] == before


def test_a_file_somebody_else_sent_goes_from_one_to_the_other(course):
    (course.place / "HAND-IN_homework-1_0001.json").unlink()
    path = course.put("0001", "Cleo Ford")
    book, problems, _ = course.mark()
    assert book["0001"]["points"] == "" and ("foreign", "0003") in problems
    where = path.relative_to(course.place).as_posix()
    book, problems, _ = course.mark(f'[[file_of]]\nstudent = "0001"\nfile = "{where}"{WHO}')
    assert book["0001"]["points"] == "12"
    assert "another sheet" not in words(course.results / "feedback" / "0001.html")
    assert "counts for 0001" in problems["missing", "0003"]["reason"]
    # whose it is, is nobody's business but the instructor's
    assert "counts for somebody else" in book["0003"]["comment"] and "0001" not in book["0003"]["comment"]


def test_the_numbers_of_the_students_own_sheet_if_a_person_says_so(course):
    book, problems, _ = course.mark(GIVEN.replace("why", 'numbers = "own"\nwhy'))
    # right on every sheet alike: the formula and the direction; the numbers of the guest are not Ben's
    assert 2 <= float(book["0002"]["points"]) < 12
    assert "numbers of your own, as decided" in words(course.results / "feedback" / "0002.html")
    assert ("altered", "0002") not in problems


def test_a_sheet_code_that_proves_nothing_brings_no_other_numbers(course):
    course.put(GUEST, packet="AAAA-AAAA")
    book, problems, _ = course.mark(GIVEN)
    assert (
        float(book["0002"]["points"]) < 12
        and "none of this hand-out" in problems["altered", "0002"]["reason"]
    )
    assert "changed outside the workbook" in words(course.results / "feedback" / "0002.html")


def test_it_goes_before_the_students_own_files(course):
    course.put("0002", answers={})
    book, problems, _ = course.mark(GIVEN + '[[attempt]]\ncounts = "last"' + WHO)
    assert book["0002"]["points"] == "12" and "decided on" in problems["duplicate", "0002"]["reason"]
    assert "HAND-IN_homework-1_0002.json" in problems["duplicate", "0002"]["reason"]


def test_inside_a_zip_it_is_called_as_the_list_of_problems_calls_it(course):
    (course.place / NAME).unlink()
    sheet = course.sheet(GUEST)
    with zipfile.ZipFile(course.place / "late.zip", "w") as archive:
        archive.writestr(f"x/{NAME}", hand_in(sheet, right_answers(sheet)))
    listed = course.mark()[1]["foreign", ""]["file"]
    assert course.mark(GIVEN.replace(NAME, listed))[0]["0002"]["points"] == "12"


@pytest.mark.parametrize(
    ("file", "content", "told"),
    [
        (NAME[:-6] + ".json", None, f"did not come; near: {NAME}"),
        ("other.json", "set", "answers to 'homework-9'"),
        ("other.json", "{", "other.json"),
        ("notes.pdf", "%PDF", "notes.pdf"),
        (NAME, "twice", "2 files have that name.*again.*whole path"),
    ],
)
def test_a_file_that_cannot_count_is_told_and_counts_for_nobody(course, file, content, told):
    if content == "set":
        sheet = course.sheet(GUEST)
        content = hand_in(sheet, right_answers(sheet), set="homework-9")
    if content == "twice":
        course.put(GUEST, "again")
    elif content:
        (course.place / file).write_text(content, encoding="utf-8")
    book, problems, done = course.mark(GIVEN.replace(NAME, file))
    assert re.search(told, problems["decision", "0002"]["reason"]) and done.decisions == 0
    assert book["0002"]["points"] == "" and "counts as yours" not in book["0002"]["comment"]


def test_one_file_by_two_names_counts_for_neither(course):
    path = course.put(GUEST, "again")
    (course.place / NAME).unlink()
    where = path.relative_to(course.place).as_posix()
    text = GIVEN + f'[[file_of]]\nstudent = "0003"\nfile = "{where}"{WHO}'
    book, problems, _ = course.mark(text)
    assert book["0002"]["points"] == book["0003"]["points"] == ""
    assert "somebody else" in problems["decision", "0002"]["reason"] and ("decision", "0003") in problems


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (GIVEN.replace("0002", "002"), "'002' is not in the roster; near: 0002"),
        (GIVEN + GIVEN.replace("0002", "0003"), "one file for two students.*line 1"),
        (GIVEN + GIVEN.replace(NAME, "b.json"), "two files are to count for '0002'"),
        (GIVEN + '[[attempt]]\nstudent = "0002"\ncounts = "best"' + WHO, "said twice"),
        (GIVEN.replace('student = "0002"', 'students = ["0002", "0003"]'), "one student"),
        (GIVEN.replace('student = "0002"\n', ""), "one student"),
        (GIVEN.replace(f'file = "{NAME}"', ""), "file: is missing"),
        (GIVEN.replace("why", 'numbers = "owm"\nwhy'), "numbers.*own"),
        (GIVEN.replace("file_of", "files_of"), "near: file_of"),
    ],
)
def test_what_does_not_fit_together_is_refused(course, text, told):
    with pytest.raises(ValueError, match=re.compile(told, re.S)):
        course.mark(text)


def test_gearlab_decide_looks_among_what_came(course, monkeypatch):
    folder = course.folder / "term"
    begin_course(folder)
    (folder / "roster.csv").write_text("id,name\n" + "".join(f"{s.id},{s.name}\n" for s in CLASS))
    monkeypatch.chdir(folder)
    run = CliRunner().invoke
    assert run(main, ["hand-out", str(course.set_file)]).exit_code == 0
    assert run(main, ["decide", "homework-1"]).exit_code == 0
    file = folder / "decisions" / "homework-1.toml"
    assert "[[file_of]]" in file.read_text(encoding="utf-8")
    file.write_text(GIVEN, encoding="utf-8")
    assert "nothing is in" in run(main, ["decide", "homework-1"]).output
    place = folder / "hand-ins" / "homework-1"
    place.mkdir(exist_ok=True)
    (place / NAME.replace("7", "8")).write_bytes((course.place / NAME).read_bytes())
    told = " ".join(run(main, ["decide", "homework-1"]).output.split())
    assert "file_of for 0002" in told and "did not come; near: HAND-IN_homework-1_guest-8.json" in told
    (place / NAME).write_bytes((course.place / NAME).read_bytes())
    told = run(main, ["decide", "homework-1"]).output
    assert "file_of for 0002" in told and "did not come" not in told
