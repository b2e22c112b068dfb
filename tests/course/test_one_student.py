"""One student's data is shown, and removed: completely, or not at all, and never another's.

What has to be gone is looked for with the plainest means: the id and the name as bytes in every file.
"""

import csv
import json
import shutil
import zipfile

import pytest
from decidedcourse import DECISIONS, ROSTER, marked, write_class
from greenhouse import hand_in, sheet_of
from typer.testing import CliRunner

from gearlab.cli import main
from gearlab.course.onestudent import held, remove

WHO = '\nby = "B. Instructor"\nwhy = "because"\n'
SHARED = f"""
# a remark of the assistants
[[excused]]
students = ["0003", "0009",
            "0012"]{WHO}
# about one student alone
[[full_points]]
student = "0003"
question = "pitch"
by = "A. Assistant"
why = \"\"\"two
[[lines]]\"\"\"

[[late]]   # stays
student = "0004"
points = 1{WHO}"""


@pytest.fixture(scope="module")
def handed_out(tmp_path_factory):
    """A course folder, marked twice, with an earlier result, a zip of hand-ins and a foreign file."""
    folder = tmp_path_factory.mktemp("one") / "course"
    folder.mkdir()
    place, set_file, roster, key = course = write_class(folder)
    sheet = sheet_of(folder / "out" / "notebooks" / "homework-1_0009.ipynb")
    (place / "HAND-IN_homework-1_0003 (2).json").write_text(hand_in(sheet, {}))  # 0009 inside: foreign
    marked(course, folder / "results" / "homework-1", "")
    shutil.copytree(
        folder / "results" / "homework-1", folder / "results" / "earlier" / "homework-1" / "2026-11-20"
    )
    marked(course, folder / "results" / "homework-1", DECISIONS)
    rows = "".join(f'{s.id},"{s.name}",a@example.org\n' for s in ROSTER)
    (folder / "roster.csv").write_bytes(
        b"\xef\xbb\xbfid,name,email\r\n" + rows.replace("\n", "\r\n").encode()
    )
    with zipfile.ZipFile(folder / "late.zip", "w") as archive:
        for path in sorted(place.glob("*_000[34].json")):
            archive.write(path, f"Late/{path.name}")
    return folder


@pytest.fixture
def course(handed_out, tmp_path):
    folder = tmp_path / "course"
    shutil.copytree(handed_out, folder)
    (folder / "in" / "HAND-IN_homework-1_0003 (2).json").unlink()
    return folder


def table(path):
    with open(path, encoding="utf-8", newline="") as file:
        return list(csv.reader(file))


def holding(folder, student, name):
    """Files whose name or bytes hold the id of the class list or the name, by brute force."""
    found = set()
    for path in folder.rglob("*"):
        if path.is_file():
            content = path.read_bytes()
            if path.suffix == ".zip":
                with zipfile.ZipFile(path) as archive:
                    content = b"".join(
                        [*(archive.read(e) for e in archive.infolist()), str(archive.namelist()).encode()]
                    )
            signs = (name.encode(), f'"{student}"'.encode(), f"\n{student},".encode())
            if student in path.name or any(sign in content for sign in signs):
                found.add(str(path.relative_to(folder)))
    return found


def test_everything_about_a_student_is_found_and_goes(course):
    by_force = holding(course, "0003", "Cleo Ford")
    holdings = held("0003", [course], course / "roster.csv")
    found = {str(h.path.relative_to(course)) for h in holdings.files}
    assert by_force <= found and len(by_force) > 12
    assert {"roster.csv", "late.zip", "homework-1.decisions.toml"} & found == {"roster.csv", "late.zip"}
    others = {s.id: holding(course, s.id, s.name) for s in ROSTER if s.id != "0003"}
    book = table(course / "results/homework-1/gradebook.csv")
    frozen = {path: path.read_bytes() for path in course.glob("course.key*")}
    remove(holdings)
    assert not holding(course, "0003", "Cleo Ford")
    with pytest.raises(ValueError, match="nothing about id '0003'"):
        held("0003", [course], course / "roster.csv")
    # nobody else loses anything but the page with all sheets, which a command makes anew
    anew = {path for path in by_force | found if path.endswith("all_sheets.html")}
    about_both = ("problems.csv", "report.html")  # the row about the file of 0003 with 0009 inside
    anew |= {path for path in others["0009"] if path.endswith(about_both)}
    assert {s: files - anew for s, files in others.items()} == {
        s.id: holding(course, s.id, s.name) - anew for s in ROSTER if s.id != "0003"
    }
    assert table(course / "results/homework-1/gradebook.csv") == [row for row in book if row[0] != "0003"]
    assert frozen == {path: path.read_bytes() for path in frozen} and len(frozen) == 2
    assert (course / "roster.csv").read_bytes().startswith(b"\xef\xbb\xbfid,name,email\r\n0001,")
    for path in course.rglob("evidence.json"):
        evidence = json.loads(path.read_text())
        assert evidence["totals"]["students"] == 9
        assert sum(r["points"] for r in evidence["records"]) == pytest.approx(evidence["totals"]["points"])


def test_decisions_about_several_stay_for_the_others(course):
    file = course / "d.toml"
    file.write_text(SHARED)
    remove(held("0003", [file]))
    text = file.read_text()
    assert "0003" not in text and "full_points" not in text and "two" not in text
    assert 'students = ["0009", "0012"]' in text and "[[late]]   # stays" in text and "a remark" in text
    file.write_text(SHARED.replace("because", "as agreed with Cleo Ford", 1))
    before = file.read_bytes()
    with pytest.raises(ValueError, match="line 6 mentions"):
        remove(held("0003", [file], course / "roster.csv"))
    assert file.read_bytes() == before and b"0003" in (course / "roster.csv").read_bytes()


def test_what_cannot_be_told_is_refused_and_nothing_is_touched(handed_out):
    """A file with this student's id in its name and another's inside is somebody else's as much."""
    everything = {path: path.read_bytes() for path in handed_out.rglob("*") if path.is_file()}
    holdings = held("0003", [handed_out], handed_out / "roster.csv")
    assert any("'0009' inside" in reason for reason in holdings.left)
    with pytest.raises(ValueError, match=r"nothing was removed[^\0]*'0009' inside"):
        remove(holdings)
    assert everything == {path: path.read_bytes() for path in handed_out.rglob("*") if path.is_file()}


def test_a_zip_in_a_zip_and_a_note_are_told(course):
    with zipfile.ZipFile(course / "outer.zip", "w") as archive:
        archive.write(course / "late.zip", "late.zip")
    (course / "notes.txt").write_text("Cleo Ford was ill\nkept for 0003-1\n")
    left = held("0003", [course], course / "roster.csv").left
    assert any("outer.zip: late.zip in it is a zip as well" in reason for reason in left)
    assert [reason for reason in left if "notes.txt" in reason] == [
        f"{course}/notes.txt: line 1 mentions the student: Cleo Ford was ill"
    ]


def test_ids_that_look_alike_are_kept_apart(tmp_path):
    (tmp_path / "roster.csv").write_text("id,name\n1,Jo\n01,Al\n11,Bo\na_1,Cy\n")
    (tmp_path / "gradebook.csv").write_text("id,name,points\n1,Jo,1\n01,Al,1\n11,Bo,11\n")
    for name in ("set_1.ipynb", "set_01.ipynb", "set_a_1.ipynb", "set_11 (1).ipynb"):
        (tmp_path / name).write_text("{}")
    remove(held("1", [tmp_path], tmp_path / "roster.csv"))
    assert (tmp_path / "roster.csv").read_text() == "id,name\n01,Al\n11,Bo\na_1,Cy\n"
    assert (tmp_path / "gradebook.csv").read_text() == "id,name,points\n01,Al,1\n11,Bo,11\n"
    assert sorted(path.name for path in tmp_path.glob("*.ipynb")) == [
        "set_01.ipynb",
        "set_11 (1).ipynb",
        "set_a_1.ipynb",
    ]


def test_the_command_shows_asks_and_removes(course):
    run = CliRunner().invoke
    common = ["student", "0004", "--course", str(course)]
    (course / "notes.txt").unlink(missing_ok=True)
    shown = run(main, [*common, "--show"])
    assert shown.exit_code == 0 and "0004 Dan Hill" in shown.output and "row: 0004, Dan Hill" in shown.output
    assert "a decision: [[late]]" in shown.output
    assert run(main, common).exit_code == 2
    kept = run(main, [*common, "--remove"], input="0003\n")
    assert (
        kept.exit_code == 1 and "Nothing was removed" in kept.output and holding(course, "0004", "Dan Hill")
    )
    gone = run(main, [*common, "--remove"], input="0004\n")
    assert gone.exit_code == 0, gone.output
    assert not holding(course, "0004", "Dan Hill")
    script = run(main, ["student", "0009", "--course", str(course), "--remove", "--yes"])
    assert script.exit_code == 0 and not holding(course, "0009", "Ivo Dale")
    assert run(main, ["student", "0009", "--course", str(course), "--show"]).exit_code == 2


def test_an_id_that_nobody_has_takes_no_page_of_the_class_away(course):
    """A mistyped number may stand on any page: as a count, or in a colour."""
    report = next(course.rglob("report.html"))
    report.write_text(report.read_text(encoding="utf-8").replace("</body>", "<p>977 of 1000</p></body>"))
    before = report.read_bytes()
    roster = next(course.rglob("roster.csv"))
    with pytest.raises(ValueError, match="'977' is not in the class list. No hand-in"):
        held("977", [course], roster)
    with pytest.raises(ValueError, match="near: 0004|nothing about id '00004'"):
        held("00004", [course], roster)
    assert report.read_bytes() == before
