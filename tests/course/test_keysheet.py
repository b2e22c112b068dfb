"""The key sheet for office hours: all right answers, found by id, and written in private places only."""

import os
import re

import pytest
from greenhouse import right_answers, sheet_of, write_course
from typer.testing import CliRunner

from gearlab.cli import app
from gearlab.course.coursekey import make_key
from gearlab.course.handout.keysheet import write_key_sheet
from gearlab.course.handout.making import hand_out
from gearlab.course.roster import Roster, Student

ROSTER = Roster(
    [Student("007", "Ada <b>"), Student("012", "Ben"), Student("=g/29 ö", "\u202eChidi", section="B")]
)


@pytest.fixture
def course(tmp_path):
    set_file = write_course(tmp_path / "exercises")
    key = make_key(tmp_path / "own" / "course.key")
    hand_out(set_file, ROSTER, key, tmp_path / "out")
    return set_file, key, tmp_path / "out"


def test_each_student_finds_their_own_numbers_and_keys(course):
    """The keys by the textbook formulas in greenhouse.py, from the numbers on each student's sheet."""
    set_file, key, folder = course
    # an edition after the hand-out changes no key: the sheet tells what was handed out
    bank = set_file.parent.parent / "vent" / "bank.toml"
    bank.write_text(bank.read_text(encoding="utf-8").replace("to = 64", "to = 80"), encoding="utf-8")
    path = key.path.with_name("keys.html")
    assert write_key_sheet(set_file, ROSTER, key, path) == 3
    text = path.read_text(encoding="utf-8")
    parts = text.split('<section class="student">')[1:]
    assert len(parts) == 3 and "Private" in text and "<script" not in text
    assert "Ada &lt;b&gt;" in parts[0] and "\u202e" not in text
    if os.name == "posix":
        assert path.stat().st_mode & 0o077 == 0
    for part, name in zip(parts, ("007", "012")):
        sheet = sheet_of(folder / "notebooks" / f"homework-1_{name}.ipynb")
        right, lines = right_answers(sheet), part.split("<li>")[1:]
        assert f'<span class="code">{name}</span>' in part and sheet["packet"] in part and len(lines) == 7
        for question, line in zip(sheet["questions"], lines):
            for text in question["givens"].values() if question["id"] not in ("formula", "direction") else ():
                assert re.search(rf"&nbsp;{re.escape(text)}\b", line), (name, question["id"])
            shown = [rest.split("<")[0] for rest in line.split('<span class="key">')[1:]]
            typed = list(right[question["id"]].values())
            assert len(shown) == len(typed)
            for one, other in zip(shown, typed):
                if question["id"] not in ("formula", "direction"):
                    assert float(one.split()[0]) == pytest.approx(float(other.split()[0]), rel=1e-4)
        place = int(right["direction"]["choice"]) - 1
        assert shown == ["abc"[place]]


def test_in_a_course_it_has_a_place_and_is_refused_among_what_is_handed_out(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    run = CliRunner().invoke
    assert run(app, ["course", "vents"]).exit_code == 0
    (tmp_path / "vents" / "roster.csv").write_text("id,name\n007,Ada\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path / "vents")
    told = run(app, ["hand-out", "homework-1"]).output
    assert "hand-ins/homework-1, then `gearlab mark homework-1`" in " ".join(told.split())
    done = run(app, ["key-sheet", "homework-1"])
    assert done.exit_code == 0 and "homework-1.keys.html" in done.output
    assert (tmp_path / "vents" / "homework-1.keys.html").is_file()
    for place in ("handed-out/keys.html", "handed-out/homework-1/keys.html"):
        refused = run(app, ["key-sheet", "homework-1", "--to", place])
        assert refused.exit_code == 2 and "is handed out" in refused.output
        assert not (tmp_path / "vents" / place).exists()


def test_of_one_section_it_holds_nobody_else(course):
    """The roster says who is in section B; a page of their own beside that of all."""
    set_file, key, folder = course
    roster = folder.parent / "class.csv"
    roster.write_text("id,name,section\n007,Ada,A\n012,Ben,B 2\n", encoding="utf-8")
    common = ["key-sheet", str(set_file), "--roster", str(roster), "--key", str(key.path)]
    assert CliRunner().invoke(app, common).exit_code == 0
    done = CliRunner().invoke(app, [*common, "--section", "b 2"])
    assert done.exit_code == 0, done.output
    assert "Section B 2 only: 1 of 2 students" in " ".join(done.output.split())
    whole, part = (key.path.with_name(f"homework_1.keys{end}.html") for end in ("", "_B~20~2"))
    theirs = part.read_text(encoding="utf-8").split('<section class="student">')[1:]
    everybodys = whole.read_text(encoding="utf-8").split('<section class="student">')[1:]
    assert len(everybodys) == 2 and len(theirs) == 1 and theirs[0] == everybodys[1]
    assert "1 student of section <bdi>B 2</bdi>" in part.read_text(encoding="utf-8")
    refused = CliRunner().invoke(app, [*common, "--section", "C"])
    assert refused.exit_code == 2 and "there are A, B 2" in " ".join(refused.output.split())


@pytest.mark.parametrize(
    "place", ["out/keys.html", "out/sheets/keys.html", "keys.html", "own/keys.txt", "open/keys.html"]
)
def test_it_is_not_written_where_it_might_be_handed_out(course, place):
    set_file, key, folder = course
    path = folder.parent / place
    with pytest.raises(ValueError, match=r"key|handed out"):
        write_key_sheet(set_file, ROSTER, key, path)
    assert not path.exists()


def test_the_command_writes_it_beside_the_key_or_among_results(course):
    set_file, key, folder = course
    roster = folder.parent / "class.csv"
    roster.write_text("id,name\n007,Ada\n012,Ben\n", encoding="utf-8")
    (folder.parent / "results").mkdir()
    (folder.parent / "results" / "gradebook.csv").write_text("id\n", encoding="utf-8")
    common = ["key-sheet", str(set_file), "--roster", str(roster), "--key", str(key.path), "--to"]
    for place in ("own/keys.html", "results/keys.html"):
        done = CliRunner().invoke(app, [*common, str(folder.parent / place)])
        assert done.exit_code == 0 and "2 students" in done.output and "Private" in done.output, done.output
        assert (folder.parent / place).is_file()
    refused = CliRunner().invoke(app, [*common, str(folder / "keys.html")])
    assert refused.exit_code == 2 and not (folder / "keys.html").exists()
