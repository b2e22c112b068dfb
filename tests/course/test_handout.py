"""Handing out: individual, repeatable, and never over something else."""

import json
import re

import nbformat
import pytest
from greenhouse import right_answers, sheet_of, write_course

from gearlab.course.coursekey import make_key
from gearlab.course.handout.making import hand_out
from gearlab.course.roster import Roster, Student

ROSTER = Roster([Student("007", "Ada"), Student("012", "Ben <Q>"), Student("x/9", "Cy")])


@pytest.fixture
def course(tmp_path):
    return write_course(tmp_path / "exercises"), make_key(tmp_path / "own" / "course.key"), tmp_path / "out"


def files_of(folder):
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def test_each_student_has_a_notebook_and_a_sheet_with_their_own_numbers(course):
    set_file, key, folder = course
    done = hand_out(set_file, ROSTER, key, folder)
    assert done.students == 3 and done.written == 8 and done.frozen.is_file()
    assert set(files_of(folder)) == {"all_sheets.html", "hand-out.json"} | {
        f"{kind}/homework-1_{name}.{end}"
        for kind, end in (("notebooks", "ipynb"), ("sheets", "html"))
        for name in ("007", "012", "x~2f~9")
    }
    sheets = [sheet_of(path) for path in sorted((folder / "notebooks").iterdir())]
    assert len({json.dumps(sheet["questions"]) for sheet in sheets}) == 3
    assert len({sheet["packet"] for sheet in sheets}) == 3
    assert sheets[2]["file"] == "HAND-IN_homework-1_x~2f~9.json"
    printed = (folder / "sheets" / "homework-1_012.html").read_text(encoding="utf-8")
    assert "Ben &lt;Q&gt;" in printed and sheets[1]["packet"] in printed
    for question in sheets[1]["questions"]:
        for text in question["givens"].values():
            assert re.search(rf"\b{re.escape(text)}\b", printed)
    assert sheets[0]["packet"] not in printed


def test_the_notebook_is_valid_short_and_names_what_to_hand_in(course):
    set_file, key, folder = course
    hand_out(set_file, ROSTER, key, folder)
    text = (folder / "notebooks" / "homework-1_007.ipynb").read_text(encoding="utf-8")
    notebook = nbformat.reads(text, as_version=4)
    nbformat.validate(notebook)
    code = [cell.source for cell in notebook.cells if cell.cell_type == "code"]
    assert (
        code[0].startswith("from gearlab.widgets import hand_in, hand_in_box\n")
        and code[-1] == "sheet.status()"
    )
    assert code[1:-1] == [
        f"hand_in_box(sheet, {name!r})"
        for name in ("shafts", "pinion", "pitch", "inch-shafts", "speed", "formula", "direction")
    ]
    assert "HAND-IN_homework-1_007.json" in notebook.cells[0].source
    assert "Ada" not in text  # the name stays with the instructor
    assert not any(cell.get("outputs") for cell in notebook.cells)


def test_the_sheet_prints_on_its_own(course):
    set_file, key, folder = course
    hand_out(set_file, ROSTER, key, folder)
    printed = (folder / "sheets" / "homework-1_007.html").read_text(encoding="utf-8")
    assert "@page" in printed and "12pt" in printed and "<script" not in printed and "http" not in printed
    everybody = (folder / "all_sheets.html").read_text(encoding="utf-8")
    assert everybody.count('<article class="sheet"') == 3 and "break-before: page" in everybody


def test_handing_out_again_gives_the_same_bytes_and_late_students_theirs(course, tmp_path):
    set_file, key, folder = course
    hand_out(set_file, ROSTER, key, folder)
    before = files_of(folder)
    assert hand_out(set_file, ROSTER, key, folder).written == 0
    assert files_of(folder) == before
    hand_out(set_file, ROSTER, key, tmp_path / "second")
    assert files_of(tmp_path / "second") == before
    longer = Roster([*ROSTER, Student("late", "Dee")])
    assert hand_out(set_file, longer, key, folder).written == 3
    after = files_of(folder)
    assert {name: after[name] for name in before if name != "all_sheets.html"} == {
        name: text for name, text in before.items() if name != "all_sheets.html"
    }
    assert after["all_sheets.html"].count(b'<article class="sheet"') == 4


def test_one_section_after_the_other_comes_to_the_same_as_all_at_once(course, tmp_path):
    set_file, key, folder = course
    sections = dict(zip(("007", "012", "x/9"), ("A", "B 2", "A"), strict=True))
    roster = Roster([Student(s.id, s.name, section=sections[s.id]) for s in ROSTER])
    first = hand_out(set_file, roster, key, folder, section="a")
    assert first.students == 2 and first.to_print.name == "all_sheets_A.html"
    assert {path.stem for path in (folder / "notebooks").iterdir()} == {"homework-1_007", "homework-1_x~2f~9"}
    printed = first.to_print.read_text(encoding="utf-8")
    assert printed.count('<article class="sheet"') == 2 and "Ben" not in printed and "Ada" in printed
    assert not (folder / "all_sheets.html").exists()
    second = hand_out(set_file, roster, key, folder, section="B 2")
    assert second.students == 1 and second.written == 3  # a notebook, a sheet, a page to print
    assert hand_out(set_file, roster, key, folder).written == 1  # nothing but the page of all
    hand_out(set_file, roster, key, tmp_path / "at-once")
    apart = {"all_sheets_A.html", second.to_print.name}
    after = files_of(folder)
    assert {name: after[name] for name in after if name not in apart} == files_of(tmp_path / "at-once")
    # one who came late is in the page of the section as well
    longer = Roster([*roster, Student("late", "Dee", section="A")])
    assert hand_out(set_file, longer, key, folder, section="A").written == 3
    assert "Dee" in first.to_print.read_text(encoding="utf-8")


def test_a_section_that_is_none_is_refused_before_anything_is_written(course):
    set_file, key, folder = course
    roster = Roster([Student("007", section="Monday"), Student("7", section="Friday")])
    with pytest.raises(ValueError, match="section 'Mondy': .*near: Monday; there are Friday, Monday"):
        hand_out(set_file, roster, key, folder, section="Mondy")
    assert not folder.exists()
    # an id of another section that differs in leading zeros only is another student's
    hand_out(set_file, roster, key, folder, section="Friday")
    assert hand_out(set_file, roster, key, folder, section="Monday").students == 1


def test_a_different_hand_out_is_never_overwritten(course, tmp_path):
    set_file, key, folder = course
    hand_out(set_file, ROSTER, key, folder)
    before = files_of(folder)
    other = make_key(tmp_path / "own" / "other.key")
    with pytest.raises(ValueError, match="is there already and is different.*--to"):
        hand_out(set_file, ROSTER, other, folder)
    assert files_of(folder) == before and not other.frozen_path("homework-1").exists()
    notebook = folder / "notebooks" / "homework-1_007.ipynb"
    notebook.write_text("worked on")
    with pytest.raises(ValueError, match="homework-1_007.ipynb"):
        hand_out(set_file, ROSTER, key, folder)
    assert notebook.read_text() == "worked on"
    assert not [path for path in tmp_path.iterdir() if path.name.startswith(".")]


def test_an_edited_bank_is_said_and_again_uses_the_frozen_edition(course, tmp_path):
    set_file, key, folder = course
    hand_out(set_file, ROSTER, key, folder)
    before = files_of(folder)
    bank = set_file.parent.parent / "vent" / "bank.toml"
    bank.write_text(bank.read_text().replace("to = 64", "to = 80"))
    with pytest.raises(ValueError, match=r"vent/bank.toml; add --again .* new name"):
        hand_out(set_file, ROSTER, key, tmp_path / "new")
    assert not (tmp_path / "new").exists()
    hand_out(set_file, ROSTER, key, tmp_path / "new", again=True)
    assert files_of(tmp_path / "new") == before


def test_numbers_hang_on_key_set_and_student_only(course, tmp_path):
    set_file, key, folder = course
    hand_out(set_file, ROSTER, key, folder)
    hand_out(set_file, Roster([Student("012")]), key, tmp_path / "alone")
    assert (tmp_path / "alone" / "notebooks" / "homework-1_012.ipynb").read_bytes() == (
        folder / "notebooks" / "homework-1_012.ipynb"
    ).read_bytes()
    hand_out(set_file, ROSTER, make_key(tmp_path / "own" / "other.key"), tmp_path / "other")
    mine, other = (
        right_answers(sheet_of(place / "notebooks" / "homework-1_012.ipynb"))
        for place in (folder, tmp_path / "other")
    )
    assert mine != other


def test_what_must_not_be_handed_out_is_refused(course, tmp_path):
    set_file, key, folder = course
    with pytest.raises(ValueError, match="handed out"):
        hand_out(set_file, ROSTER, key, key.path.parent)
    set_file.write_text(set_file.read_text().replace('"marked"', '"practice"'))
    with pytest.raises(ValueError, match="for practice"):
        hand_out(set_file, ROSTER, key, folder)
    assert not folder.exists()
