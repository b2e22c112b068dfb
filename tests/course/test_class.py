"""A class of thirty, from hand-out to marks: they answer as students do, and the bank is edited in between.

Points and verdicts are expected from the bank's own credits and the textbook formulas in greenhouse.py.
"""

import csv
import io
import json
import re
import zipfile
from collections import Counter
from html.parser import HTMLParser

import greenhouse
import pytest
from greenhouse import WRITTEN, hand_in, right_answers, sheet_of, write_course

from gearlab.course.coursekey import make_key
from gearlab.course.handout.making import hand_out
from gearlab.course.marking.whole import mark
from gearlab.course.roster import Roster, Student, file_name

NAMES = ["Ada", "=HYPERLINK(1)", "<b>Bo</b> & Co", "Chidi", "Dana", "Émile", "Fatma", "Goro", "Hana", "Ines"]
IDS = [f"00{i:02d}" for i in range(1, 29)] + ["g/29 ö", "con"]
ROSTER = Roster(
    [Student(identity, NAMES[i % 10] + (f" {i}" if i > 9 else "")) for i, identity in enumerate(IDS)]
)


def change(answers, question, answer, text):
    return answers | {question: answers[question] | {answer: text}}


def givens(sheet, question):
    return {
        name: float(text)
        for name, text in next(q["givens"] for q in sheet["questions"] if q["id"] == question).items()
    }


def tips(sheet):
    """The outside radii added: m (N1 + 2 + N2 + 2) / 2."""
    g = givens(sheet, "shafts")
    return f"{g['module'] * (g['driver_teeth'] + g['driven_teeth'] + 4) / 2} mm"


def number(text):
    return float(re.match(r"-?[\d.]+", text)[0])


HOSTILE = [
    "__import__('os').system('touch pwned')",
    "9**9**9",
    "<script>alert(1)</script>",
    "{{ 7*7 }}",
    "m.__class__",
    "(" * 5000,
    "=cmd|' /C calc'!A0",
    # read as the number it is: one that no slip of any draw leads to
    "\u202e8675309",
]

# What a student does: (sheet) -> (answers, changes of the file), points expected or None, kinds expected.
STUDENTS = {
    "right": (lambda s, a: a, 12, {}),
    "commas": (
        lambda s, a: {q: {k: t.replace(".", ",") for k, t in v.items()} for q, v in a.items()},
        12,
        {},
    ),
    "tips": (lambda s, a: change(a, "shafts", "centre_distance", tips(s)), 10.5, {"listed slip": 1}),
    "nohalf": (
        lambda s, a: change(
            a, "inch-shafts", "centre_distance", f"{2 * number(a['inch-shafts']['centre_distance']):.5f}"
        ),
        11.5,
        {"listed slip": 1},
    ),
    "sign": (
        lambda s, a: change(a, "speed", "driven_speed", a["speed"]["driven_speed"].lstrip("-")),
        11,
        {"wrong sign": 1},
    ),
    "minus": (
        lambda s, a: change(a, "speed", "driven_speed", a["speed"]["driven_speed"].replace("-", "\u2212")),
        12,
        {},
    ),
    "millimetres": (
        lambda s, a: change(
            a,
            "inch-shafts",
            "centre_distance",
            f"{25.4 * number(a['inch-shafts']['centre_distance']):.4f} mm",
        ),
        12,
        {},
    ),
    "unit name": (
        lambda s, a: change(
            a, "shafts", "centre_distance", a["shafts"]["centre_distance"].replace("mm", "in")
        ),
        11.5,
        {"wrong unit": 1},
    ),
    "outside": (
        lambda s, a: change(a, "pinion", "pitch_diameter", a["pinion"]["outside_diameter"]),
        None,
        {"another quantity": 1},
    ),
    "empty": (lambda s, a: {}, 0, {"not answered": 10}),
    "blanks": (lambda s, a: {q: dict.fromkeys(v, "  ") for q, v in a.items()}, 0, {"not answered": 10}),
    "half": (lambda s, a: {q: a[q] for q in ("shafts", "pinion", "pitch")}, 6, {"not answered": 5}),
    "nonsense": (lambda s, a: change(a, "pitch", "circular_pitch", "about the same"), 11, {"cannot read": 1}),
    "random": (
        lambda s, a: change(
            a, "pitch", "circular_pitch", f"{1.2345678 * number(a['pitch']['circular_pitch']):.5f}"
        ),
        11,
        {"not recognised": 1},
    ),
    "wrong way": (
        lambda s, a: change(a, "direction", "choice", str(int(a["direction"]["choice"]) % 3 + 1)),
        11,
        {"listed slip": 1},
    ),
    "formula": (lambda s, a: change(a, "formula", "centre_distance", "m*(z1+z2)"), None, {"right": 9}),
}
ORDINARY = list(STUDENTS)


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    """Handed out, answered, collected and marked; the bank edited between hand-out and marking."""
    folder = tmp_path_factory.mktemp("course")
    set_file = write_course(folder / "exercises")
    key = make_key(folder / "own" / "course.key")
    hand_out(set_file, ROSTER, key, folder / "handed out")
    bank = folder / "exercises" / "vent" / "bank.toml"
    bank.write_text(
        bank.read_text().replace("to = 30", "to = 40").replace("relative = 0.001", "relative = 0.2")
    )

    came, expected = folder / "came in", {}
    (came / "late").mkdir(parents=True)
    sheets = {}
    for identity in IDS:
        sheets[identity] = sheet_of(
            folder / "handed out" / "notebooks" / f"homework-1_{file_name(identity)}.ipynb"
        )
    files = {}
    for identity, behaviour in zip(IDS, ORDINARY):
        sheet = sheets[identity]
        answers, points, kinds = STUDENTS[behaviour]
        files[f"HAND-IN_homework-1_{file_name(identity)}.json"] = hand_in(
            sheet, answers(sheet, right_answers(sheet))
        )
        expected[identity] = points, kinds
    rest = dict(
        zip(
            (
                "hostile",
                "scores",
                "altered",
                "packet",
                "foreign",
                "truncated",
                "missing",
                "notebook",
                "twice",
                "renamed",
                "not json",
                "reason",
                "framed",
            ),
            IDS[len(ORDINARY) :],
        )
    )

    def own(name, **changes):
        sheet = sheets[rest[name]]
        return hand_in(sheet, right_answers(sheet), **changes)

    def place(name, text, prefix="", suffix=""):
        files[f"{prefix}HAND-IN_homework-1_{file_name(rest[name])}{suffix}.json"] = text

    hostile = {q: dict.fromkeys(v, "") for q, v in right_answers(sheets[rest["hostile"]]).items()}
    slots = [(q, k) for q, v in hostile.items() for k in v]
    for (q, k), text in zip(slots, HOSTILE):
        hostile[q][k] = text[:3000]
    place("hostile", hand_in(sheets[rest["hostile"]], hostile))
    place("scores", own("scores", score=0, attempts=99, verdicts={"shafts": "wrong"}, points={"shafts": -5}))
    changed = {q["id"]: q["givens"] for q in sheets[rest["altered"]]["questions"]} | {
        "shafts": {"driver_teeth": "18", "driven_teeth": "40", "module": "2"}
    }
    place("altered", own("altered", givens=changed))
    place("packet", own("packet", packet=sheets[IDS[0]]["packet"], versions={"shafts": 99}))
    place("foreign", hand_in(sheets[IDS[0]], right_answers(sheets[IDS[0]])))
    place("truncated", own("truncated")[:-200])
    files[f"homework-1_{file_name(rest['notebook'])}.ipynb"] = "{}"
    place("twice", hand_in(sheets[rest["twice"]], {}, saved=2))
    place("twice", own("twice", saved=7), suffix=" (1)")
    files["my answers.json"] = own("renamed")
    # Somebody else writes a file in this student's name, with a high count of saves but without the sheet's
    # code.
    place("framed", own("framed"))
    files["from another.json"] = hand_in(sheets[rest["framed"]], {}, saved=999_999, packet="AAAA-AAAA-AAAA")
    place("not json", "print('all right')")
    reason = right_answers(sheets[rest["reason"]])
    reason["direction"] |= {"reason": "Both rims move <i>down</i> where they touch."}
    place("reason", hand_in(sheets[rest["reason"]], reason))
    files["stranger_HAND-IN_homework-1_9999.json"] = hand_in(sheets[IDS[0]], {}, student="9999")

    # Half lies in folders, half in a zip as a learning system gives it, with its own prefixes.
    zipped = io.BytesIO()
    with zipfile.ZipFile(zipped, "w") as archive:
        for i, (name, text) in enumerate(files.items()):
            if i % 2:
                archive.writestr(f"some_one_{4000 + i}_file_{name}", text)
            else:
                (came / ("late" if i % 4 else "") / name).write_text(text, encoding="utf-8")
    (came / "download.zip").write_bytes(zipped.getvalue())

    results = folder / "results"
    marking = mark(came, set_file, ROSTER, key, results)
    return {
        "folder": folder,
        "key": key,
        "set": set_file,
        "came": came,
        "results": results,
        "marking": marking,
        "expected": expected,
        "rest": rest,
        "sheets": sheets,
    }


@pytest.fixture(scope="module")
def evidence(course):
    return json.loads((course["results"] / "evidence.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def grades(course):
    with open(course["results"] / "gradebook.csv", encoding="utf-8", newline="") as file:
        return {row["id"].removeprefix("'"): row for row in csv.DictReader(file)}


@pytest.mark.parametrize("behaviour", ORDINARY)
def test_every_kind_of_student_gets_the_points_and_the_reason(course, evidence, grades, behaviour):
    identity = IDS[ORDINARY.index(behaviour)]
    points, kinds = course["expected"][identity]
    records = [record for record in evidence["records"] if record["student"] == identity]
    assert len(records) == greenhouse.ANSWERS
    found = Counter(record["verdict"] for record in records)
    for kind, count in kinds.items():
        assert found[kind] == count, records
    if points is not None:
        assert float(grades[identity]["points"]) == points, records
    if points == 12:
        assert found == {"right": 10}


def test_causes_are_named_on_the_page_and_in_the_evidence(course, evidence):
    for behaviour, cause, words in (
        ("tips", "tips", "The tips reach into the spaces"),
        ("nohalf", "nohalf", "how much of a diameter"),
        ("outside", None, "outside diameter"),
    ):
        identity = IDS[ORDINARY.index(behaviour)]
        page = (course["results"] / "feedback" / f"{file_name(identity)}.html").read_text(encoding="utf-8")
        assert words in page
        if cause:
            assert any(
                record["causes"] == [cause] for record in evidence["records"] if record["student"] == identity
            )


def test_what_a_disk_says_never_changes_a_mark(course, grades):
    for name in ("scores", "altered", "packet", "renamed", "twice", "reason", "framed"):
        assert grades[course["rest"][name]]["points"] == "12", name


def test_hostile_answers_are_text(course, evidence, grades):
    identity = course["rest"]["hostile"]
    records = [record for record in evidence["records"] if record["student"] == identity]
    assert not any(record["verdict"] == "right" for record in records)
    assert grades[identity]["points"] == "0"
    page = (course["results"] / "feedback" / f"{file_name(identity)}.html").read_text(encoding="utf-8")
    assert "<script>" not in page and "&lt;script&gt;" in page
    assert not list(course["folder"].rglob("pwned"))


def test_the_list_of_problems_names_each_with_its_reason(course):
    rest = course["rest"]
    found = {(problem.kind, problem.student): problem for problem in course["marking"].problems}
    assert found["altered", rest["altered"]].reason.startswith("givens differ from the sheet (shafts: ")
    assert f"is that of {IDS[0]} (Ada)" in found["altered", rest["packet"]].reason
    assert "versions differ from the sheet (shafts: version)" in found["altered", rest["packet"]].reason
    assert f"the id in it is {IDS[0]} (Ada)" in found["foreign", rest["foreign"]].reason
    assert "cut off" in found["unreadable", rest["truncated"]].reason
    assert "not JSON" in found["unreadable", rest["not json"]].reason
    assert ("missing", rest["missing"]) in found
    assert "HAND-IN file" in found["notebook only", rest["notebook"]].reason
    assert "saved last (save number 7)" in found["duplicate", rest["twice"]].reason
    assert "it alone has the code" in found["duplicate", rest["framed"]].reason
    assert "'9999' in it is not in the roster" in found["foreign", ""].reason
    others = {
        rest[name]
        for name in (
            "altered",
            "packet",
            "foreign",
            "truncated",
            "not json",
            "missing",
            "notebook",
            "twice",
            "framed",
        )
    } | {""}
    others |= set(IDS[len(ORDINARY) + len(rest) :])  # nothing came from the last ones
    assert {student for _, student in found} == others
    with open(course["results"] / "problems.csv", encoding="utf-8", newline="") as file:
        assert len(list(csv.DictReader(file))) == len(course["marking"].problems)


def test_the_gradebook_has_one_inert_row_for_each_student(course, grades):
    assert list(grades) == IDS
    for name in ("foreign", "truncated", "missing", "notebook", "not json"):
        assert grades[course["rest"][name]]["points"] == ""
    assert grades[IDS[1]]["name"] == "'=HYPERLINK(1)"
    assert grades[IDS[0]]["out of"] == "12"
    assert all(len(row["comment"]) <= 500 and "\n" not in row["comment"] for row in grades.values())
    others = "|".join(re.escape(identity) for identity in IDS[1:])
    assert not re.search(others, grades[IDS[0]]["comment"])


def test_the_totals_add_up(evidence, grades, course):
    total = 0.0
    for identity in IDS:
        records = [record for record in evidence["records"] if record["student"] == identity]
        if records:
            reached = sum(record["points"] for record in records)
            assert float(grades[identity]["points"]) == pytest.approx(reached, abs=0.005)
            assert sum(record["out_of"] for record in records) == pytest.approx(greenhouse.POINTS)
            total += reached
        else:
            assert grades[identity]["points"] == ""
    assert evidence["totals"] == {"students": course["marking"].marked, "points": pytest.approx(total)}


def test_editing_the_bank_afterwards_changes_nobodys_sheet_and_is_said(course, evidence):
    for record in evidence["records"]:
        if record["question"] == "shafts":
            sheet = course["sheets"][record["student"]]
            assert record["givens"] == next(q["givens"] for q in sheet["questions"] if q["id"] == "shafts")
            g = {name: float(text) for name, text in record["givens"].items()}
            assert record["key"] == pytest.approx(g["module"] * (g["driver_teeth"] + g["driven_teeth"]) / 2)
            assert record["tolerance"] == pytest.approx(0.001 * record["key"])
    assert any("edited after the hand-out" in note for note in course["marking"].notes)


def test_marking_twice_gives_the_same_bytes(course):
    again = course["folder"] / "again"
    mark(course["came"], course["set"], ROSTER, course["key"], again)
    first = {
        path.relative_to(course["results"]): path.read_bytes()
        for path in course["results"].rglob("*")
        if path.is_file()
    }
    second = {path.relative_to(again): path.read_bytes() for path in again.rglob("*") if path.is_file()}
    assert first == second
    assert sorted(path.name for path in again.iterdir()) == list(WRITTEN)
    (again / "my notes.txt").write_text("keep")
    (again / "feedback" / "stale.html").write_text("old")
    mark(course["came"], course["set"], ROSTER, course["key"], again)
    assert (again / "my notes.txt").exists() and not (again / "feedback" / "stale.html").exists()
    assert not [path for path in course["folder"].iterdir() if path.name.startswith(".")]


class Page(HTMLParser):
    """Checks that tags close in order and that nothing is fetched or run."""

    VOID = {"meta", "br", "hr", "img", "input", "link", "col", "rect", "path", "circle", "line"}

    def __init__(self):
        super().__init__()
        self.open, self.text = [], []

    def handle_starttag(self, tag, attributes):
        assert tag not in ("script", "iframe", "object", "embed", "form", "base", "link", "img", "b-o")
        for name, value in attributes:
            assert not name.startswith("on") and name not in ("src", "srcset", "action"), (tag, name)
            assert name != "href" or value.startswith("#")
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        if tag not in self.VOID:
            assert self.open.pop() == tag

    def handle_data(self, data):
        self.text.append(data)


def test_pages_are_self_contained_and_well_formed(course):
    pages = sorted(course["results"].rglob("*.html")) + sorted(
        (course["folder"] / "handed out").rglob("*.html")
    )
    assert len(pages) > 50
    for path in pages:
        text = path.read_text(encoding="utf-8")
        page = Page()
        page.feed(text)
        assert page.open == [], path
        assert (
            "http:" not in text.replace("http://www.w3.org", "")
            and "https:" not in text
            and "@import" not in text
            and "url(h" not in text
        )
    one = (course["results"] / "feedback" / f"{file_name(IDS[2])}.html").read_text(encoding="utf-8")
    assert "&lt;b&gt;Bo&lt;/b&gt; &amp; Co" in one and "<math" in one
    others = [
        student.name for student in ROSTER if student.id not in (IDS[0], IDS[2]) and len(student.name) > 4
    ]
    assert not [name for name in others if name in one]


def test_nothing_that_is_handed_out_holds_the_key_or_an_answer(course):
    secret = course["key"].secret.hex()
    for path in (course["folder"] / "handed out").rglob("*"):
        if path.is_file():
            text = path.read_text(encoding="utf-8")
            assert secret not in text and "tolerance" not in text and "slip" not in text, path
    for _identity, sheet in course["sheets"].items():
        text = json.dumps(sheet)
        for answers in right_answers(sheet).values():
            for answer in answers.values():
                digits = answer.split()[0].rstrip("0")
                if len(digits) >= 6:  # 78.75 may stand there by chance, 62.8319 does not
                    assert digits not in text
    for path in course["results"].rglob("*"):
        if path.is_file():
            assert secret not in path.read_text(encoding="utf-8")
    frozen = course["key"].frozen_path("homework-1")
    assert frozen.stat().st_mode & 0o077 == 0


def test_the_reason_is_kept_shown_and_not_marked(course, evidence):
    identity = course["rest"]["reason"]
    page = (course["results"] / "feedback" / f"{file_name(identity)}.html").read_text(encoding="utf-8")
    assert "Both rims move &lt;i&gt;down&lt;/i&gt;" in page
    (record,) = [
        record
        for record in evidence["records"]
        if record["student"] == identity and record["question"] == "direction"
    ]
    assert record["reason"].startswith("Both rims")


def test_a_wrong_choice_says_what_was_chosen(course):
    """An option's text alone would read as the reason."""
    told = re.compile(r"No points: “(Clockwise|It depends on the tooth counts)” was chosen\.")
    pages = [path.read_text(encoding="utf-8") for path in (course["results"] / "feedback").glob("*.html")]
    assert any(told.search(page) for page in pages)
    book = (course["results"] / "gradebook.csv").read_text(encoding="utf-8")
    assert re.search(r"7: -1 “[^”]+” was chosen", book)


def test_the_report_counts_the_class(course):
    report = (course["results"] / "report.html").read_text(encoding="utf-8")
    marked = course["marking"].marked
    assert f"<b>{marked}</b>of 30 marked" in report
    assert "added the outside radii" in report and "added diameters instead of radii" in report
    for kind in (
        "nothing handed in",
        "a file was changed outside the workbook",
        "several files from one student",
    ):
        assert kind in report
