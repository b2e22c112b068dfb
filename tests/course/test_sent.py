"""Files as they really come: saved anew, renamed, packed, and sent by somebody else.

That browsers add `(1)` and `.txt`, editors save UTF-16 or Windows-1252, and learning systems put a name or an
id before each file or into folders is common practice.
"""

import io
import json
import zipfile

import pytest

from gearlab.course.intake.came import Intake
from gearlab.course.roster import Roster, Student
from gearlab.practice.handin import read_hand_in

ROSTER = Roster(
    [
        Student("s017", "Green, Ada Maria", "ada@school.example"),
        Student("s018", "Ben Pané"),
        Student("0042", "Cy"),
        Student("101", "Di Rack"),
        Student("2026", "Eva Shaft"),
    ]
)


def content(student="s017", answer="78.75 mm", **changes):
    data = {
        "gearlab": "hand-in",
        "edition": 1,
        "set": "homework-1",
        "student": student,
        "packet": f"code of {student}",
        "answers": {"shafts": {"a": answer}},
    }
    return json.dumps(data | changes, sort_keys=True, ensure_ascii=False, indent=1)


def zipped(files):
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w") as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return whole.getvalue()


def came(folder, files, roster=ROSTER):
    """The intake of these files: students to the files that are theirs, and the intake."""
    for name, data in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data if isinstance(data, bytes) else data.encode())
    intake = Intake(folder, "homework-1", roster, lambda identity: f"code of {identity}")
    found = {s.id: [item.shown for item in intake.items(s.id)] for s in intake.as_handed_out()}
    return {identity: files for identity, files in found.items() if files}, intake


@pytest.mark.parametrize(
    "name",
    [
        "HAND-IN_homework-1_s017.json",
        "HAND-IN_homework-1_s017.json.txt",
        "HAND-IN_homework-1_s017.json (1)",
        "HAND-IN_homework-1_s017 (2).json",
        "HAND-IN_homework-1_s017 copy 3.json",
        "HAND-IN_homework-1_s017.json.json",
        "hand-in_homework-1_S017.JSON",
        "HAND-IN_homework-1_s017",
        "HAND-IN_homework-1_s017.txt",
        "my answers.txt",
        "answers.json",
        "answers.json.html",
    ],
)
@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252", "utf-32"]
)
def test_a_file_counts_whatever_was_done_to_its_name_and_encoding(tmp_path, name, encoding):
    found, intake = came(tmp_path, {name: content(answer="20° ½").encode(encoding)})
    assert list(found) == ["s017"] and not intake.problems
    hand_in = read_hand_in(intake.read(intake.items("s017")[0]))
    assert hand_in.answers["shafts"]["a"] == "20° ½"
    assert ("saved anew" in hand_in.met) == (not encoding.startswith("utf-8"))


def test_zips_of_any_name_and_depth(tmp_path):
    inner = zipped({"HAND-IN_homework-1_s017.json": content()})
    for name in ("a.zip", "a.ZIP", "a.zip (1)", "a.zip.download"):
        found, _ = came(tmp_path / name.replace(".", "_"), {name: zipped({"in.zip": inner})})
        assert list(found) == ["s017"], name
    _, intake = came(tmp_path / "other", {"a.rar": b"Rar!", "b.tar.gz": b"\x1f\x8b"})
    assert [problem.reason for problem in intake.problems] == [
        "is an archive that is not opened: unpack it, mark again"
    ] * 2


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "file is empty"),
        (b"\0" * 512, "512 zero bytes"),
        (content()[:-40].encode(), "stops in the middle"),
        (content()[:-40].encode("utf-16"), "stops in the middle"),
        (b"\n <!DOCTYPE html><html>sign in", "web page"),
        ("<html>".encode("utf-16"), "web page"),
        (zipped({"a": "b"}), "a zip or an office document"),
        (b"%PDF-1.7", "a PDF"),
        (b"{\\rtf1 {}}", "fonts"),
        (b"\x89PNG\r\n", "a picture"),
        (json.dumps({"cells": [], "nbformat": 4}).encode(), "the notebook itself"),
        ("Zürich ".encode() + b"\xff" + content().encode(), "not JSON"),
    ],
)
def test_what_is_none_says_what_it_is_and_what_to_ask_for(data, words):
    with pytest.raises(ValueError, match=f"{words}.*; ask the student for the file HAND-IN_"):
        read_hand_in(data)


def test_no_file_says_of_itself_that_it_was_saved_anew():
    assert read_hand_in(content(_met="x", met="x").encode()).met == ""


NAMED = [  # where a learning system writes who sent a file
    "Green Ada Maria_83112_assign/{}",
    "83112_ada-maria-green_{}",
    "GREEN, Ada Maria (83112)/{}",
    "greenadamaria_late_83112_{}",
    "ada@school.example/{}",
    "s017/{}",
]


@pytest.mark.parametrize("place", NAMED)
def test_who_sent_a_file_is_held_against_the_id_inside(tmp_path, place):
    own, others = "HAND-IN_homework-1_s017.json", "HAND-IN_homework-1_s018.json"
    found, intake = came(tmp_path / "own", {place.format(own): content()})
    assert list(found) == ["s017"] and not intake.problems
    # somebody else's file is held against the sender, who did not write it: `Taking` names both
    found, _ = came(tmp_path / "other", {place.format(others): content("s018")})
    assert list(found) == ["s017"]
    # renamed after somebody else, and one's own inside
    found, _ = came(tmp_path / "renamed", {place.format(others): content()})
    assert list(found) == ["s017"]
    # what cannot be read belongs to the sender, under any name
    found, _ = came(tmp_path / "broken", {place.format("answers.json"): b"{"})
    assert list(found) == ["s017"]


def test_accents_and_the_order_of_words_do_not_matter(tmp_path):
    found, _ = came(tmp_path, {"pane-ben_1/HAND-IN_homework-1_s017.json": content()})
    assert list(found) == ["s018"]


@pytest.mark.parametrize(
    "name",
    [
        "section 101/HAND-IN_homework-1_{}.json",  # 101 is a student's id as well
        "2026-11-25_{}/HAND-IN_homework-1_{}.json",  # and 2026, too
        "Di Rack's group/HAND-IN_homework-1_{}.json",  # an assistant of a student's name, many files
    ],
)
def test_numbers_and_names_that_are_no_senders_change_nothing(tmp_path, name):
    ids = ["s017", "s018", "0042", "2026"]
    found, intake = came(tmp_path, {name.format(i, i): content(i) for i in ids})
    assert found.keys() == set(ids) and not intake.problems


def test_a_name_that_is_part_of_a_longer_one(tmp_path):
    roster = Roster([Student("1", "Ana Silva"), Student("2", "Silva Costa, Ana"), Student("3", "Ana Silva")])
    sent = {"Ana Silva Costa_7/HAND-IN_homework-1_2.json": content("2")}
    assert came(tmp_path / "own", sent, roster)[0].keys() == {"2"}
    sent = {"Ana Silva Costa_7/HAND-IN_homework-1_1.json": content("1")}
    assert came(tmp_path / "other", sent, roster)[0].keys() == {"2"}
    # two of one name: nobody can tell which of them sent it, and each file counts
    sent = {f"Ana Silva_{i}0/HAND-IN_homework-1_{i}.json": content(i) for i in "13"}
    assert came(tmp_path / "both", sent, roster)[0].keys() == {"1", "3"}


def test_nobody_of_a_large_class_is_taken_for_another(tmp_path):
    """Every two share first or last name with many, ids look like the system's own numbers."""
    first, last = (
        ["Ana", "Bo", "Cy Lee", "Di", "Eva-May", "Fay"],
        ["Li", "Green", "de Vries", "O'Neil", "Lee"],
    )
    roster = Roster(
        Student(str(40000 + 7 * i), f"{a} {b}")
        for i, (a, b) in enumerate((a, b) for a in first for b in last)
    )
    files = {}
    for i, student in enumerate(roster):
        folder = f"{student.name}_{40000 + 7 * ((11 * i + 3) % 30)}_sent"
        files[f"{folder}/HAND-IN_homework-1_{student.id}.json"] = content(student.id)
    found, intake = came(tmp_path, files, roster)
    assert found == {s.id: [f] for s, f in zip(roster, files)} and not intake.problems


def test_an_id_alone_counts_where_it_agrees_for_others(tmp_path):
    files = {f"{i}_x/HAND-IN_homework-1_{i}.json": content(i) for i in ("s017", "s018", "2026")}
    found, _ = came(tmp_path, files | {"101_x/HAND-IN_homework-1_0042.json": content("0042")})
    assert found["101"] == ["101_x/HAND-IN_homework-1_0042.json"] and "0042" not in found


def test_one_who_sends_for_a_partner_too_has_both(tmp_path):
    files = {f"Di Rack_7/HAND-IN_homework-1_{i}.json": content(i) for i in ("101", "s018")}
    found, _ = came(tmp_path, files)
    assert len(found["101"]) == 2 and "s018" not in found


def test_ids_that_the_roster_spells_differently(tmp_path):
    """Spreadsheets drop leading zeros, people change capitals; the sheet's code says what it was made for."""
    roster = Roster([Student("42", "Cy"), Student("S017", "Ada"), Student("7", "Gil"), Student("007", "Hal")])
    found, intake = came(
        tmp_path,
        {
            "HAND-IN_homework-1_0042.json": content("0042"),
            "HAND-IN_homework-1_s017.json": content("s017"),
            "HAND-IN_homework-1_07.json": content("07"),  # 7 or 007? Nobody's
        },
        roster,
    )
    assert found == {"0042": ["HAND-IN_homework-1_0042.json"], "s017": ["HAND-IN_homework-1_s017.json"]}
    assert [(p.kind, p.student) for p in intake.problems] == [
        ("other spelling", "0042"),
        ("foreign", ""),
        ("other spelling", "s017"),
    ]
    assert [student.id for student in intake.as_handed_out()] == ["0042", "s017", "7", "007"]


def test_without_its_code_an_id_with_other_zeros_is_marked_for_nobody(tmp_path):
    roster = Roster([Student("42", "Cy"), Student("S017", "Ada")])
    found, intake = came(
        tmp_path,
        {"a.json": content("0042", packet=""), "b.json": content(" s017 ", packet="")},
        roster,
    )
    assert found == {"S017": ["b.json"]}  # capitals and blanks leave no doubt
    assert [(p.kind, p.student) for p in intake.problems] == [("foreign", "42"), ("other spelling", "S017")]
    assert "Write the right id in the roster" in intake.problems[0].reason


def test_a_sheet_of_before_does_not_hide_the_one_of_now(tmp_path):
    roster = Roster([Student("42", "Cy")])
    found, intake = came(
        tmp_path,
        {
            "HAND-IN_homework-1_0042.json": content("0042"),
            "HAND-IN_homework-1_42.json": content("42"),
        },
        roster,
    )
    assert found == {"42": ["HAND-IN_homework-1_42.json"]}
    assert [(p.kind, p.student) for p in intake.problems] == [("foreign", "42")]
