"""The reader's copy of the lessons: made once, never overwritten."""

import datetime
import json
import pathlib
import shutil

import pytest
from greenhouse import BANK, POINTS, right_answers, sheet_of, write_course

from gearlab.course import workbook
from gearlab.course.coursekey import make_key
from gearlab.course.handout.making import hand_out
from gearlab.course.marking.whole import mark
from gearlab.course.roster import Roster, Student
from gearlab.course.workbook import bring_up_to_date, lab_command
from gearlab.widgets import ask, hand_in

TODAY = datetime.date(2026, 11, 25)


@pytest.fixture
def lessons(tmp_path, monkeypatch):
    """Two short lessons in a place of their own."""
    folder = tmp_path / "source"
    folder.mkdir()
    for name in ("01_teeth_and_diameter", "03_centre_distance"):
        (folder / f"{name}.ipynb").write_text(
            json.dumps({"cells": [], "nbformat": 4, "nbformat_minor": 5, "metadata": {"n": name}})
        )
    monkeypatch.setattr(workbook, "content_folder", lambda name: folder)
    return folder


def test_first_use_copies_and_second_use_changes_nothing(tmp_path, lessons):
    own = tmp_path / "own"
    first = bring_up_to_date(own, TODAY)
    assert first.copied == ("01_teeth_and_diameter.ipynb", "03_centre_distance.ipynb") and first.beside == ()
    (own / "03_centre_distance.ipynb").write_text("my own work")
    again = bring_up_to_date(own, TODAY)
    assert again.copied == again.beside == ()
    assert (own / "03_centre_distance.ipynb").read_text() == "my own work"


def test_a_newer_edition_is_put_beside_and_told_once(tmp_path, lessons):
    own = tmp_path / "own"
    bring_up_to_date(own, TODAY)
    (own / "03_centre_distance.ipynb").write_text("my own work")
    (lessons / "03_centre_distance.ipynb").write_text("second edition")
    (lessons / "04_ratio_speed_direction.ipynb").write_text("new lesson")
    done = bring_up_to_date(own, TODAY)
    assert done.copied == ("04_ratio_speed_direction.ipynb",)
    assert done.beside == ("03_centre_distance (edition 2026-11-25).ipynb",)
    assert (own / done.beside[0]).read_text() == "second edition"
    assert (own / "03_centre_distance.ipynb").read_text() == "my own work"
    assert bring_up_to_date(own, TODAY).beside == ()
    (own / done.beside[0]).write_text("work in the second edition")
    (lessons / "03_centre_distance.ipynb").write_text("third edition")
    third = bring_up_to_date(own, TODAY)
    assert third.beside == ("03_centre_distance (edition 2026-11-25, 2).ipynb",)
    assert (own / done.beside[0]).read_text() == "work in the second edition"


def test_a_foreign_file_of_that_name_and_a_damaged_record_are_left_alone(tmp_path, lessons):
    own = tmp_path / "own"
    own.mkdir()
    (own / "01_teeth_and_diameter.ipynb").write_text("something of mine")
    (own / workbook.RECORD).write_text("{ damaged")
    done = bring_up_to_date(own, TODAY)
    assert done.copied == ("03_centre_distance.ipynb",)
    assert done.beside == ("01_teeth_and_diameter (edition 2026-11-25).ipynb",)
    assert (own / "01_teeth_and_diameter.ipynb").read_text() == "something of mine"


def test_pictures_come_along_and_follow_the_edition_unless_they_were_changed(tmp_path, lessons):
    (lessons / "drive.svg").write_text("<svg>1</svg>")
    own = tmp_path / "own"
    assert "drive.svg" in bring_up_to_date(own, TODAY).copied
    (lessons / "drive.svg").write_text("<svg>2</svg>")
    assert bring_up_to_date(own, TODAY).beside == ()
    assert (own / "drive.svg").read_text() == "<svg>2</svg>"
    (own / "drive.svg").write_text("<svg>mine</svg>")
    (lessons / "drive.svg").write_text("<svg>3</svg>")
    assert bring_up_to_date(own, TODAY).beside == ("drive (edition 2026-11-25).svg",)
    assert (own / "drive.svg").read_text() == "<svg>mine</svg>"


def test_the_lessons_themselves_are_no_place_for_a_copy(lessons, tmp_path):
    with pytest.raises(ValueError, match="folder of your own"):
        bring_up_to_date(lessons, TODAY)
    file = tmp_path / "file"
    file.write_text("")
    with pytest.raises(ValueError, match="choose another with --folder"):
        bring_up_to_date(file, TODAY)


def test_lessons_are_found_by_number_or_name(tmp_path, lessons):
    done = bring_up_to_date(tmp_path / "own", TODAY)
    for wanted in ("3", "03", "03_centre", "03_centre_distance.ipynb"):
        assert done.lesson(wanted).name == "03_centre_distance.ipynb"
    for wanted in ("0", "9", "centre"):
        with pytest.raises(ValueError, match="01_teeth_and_diameter, 03_centre_distance"):
            done.lesson(wanted)
    command = lab_command(done, "3", browser=False)
    assert str(done.lesson("3")) in command and "--no-browser" in command
    (settings,) = [
        part.partition("=")[2] for part in command if part.startswith("--LabApp.app_settings_dir=")
    ]
    overrides = json.loads((pathlib.Path(settings) / "overrides.json").read_text())
    # nothing is asked, nothing is fetched
    assert overrides["@jupyterlab/apputils-extension:notification"]["fetchNews"] == "false"


def test_a_new_edition_in_mid_term_keeps_answers_and_drafts(tmp_path, lessons, monkeypatch):
    """A bank reworded, with a question more and one less, and new lessons, while a hand-out is being done."""
    monkeypatch.delenv("GEARLAB_ANSWERS", raising=False)
    set_file, key = write_course(tmp_path / "exercises"), make_key(tmp_path / "private" / "key")
    roster = Roster([Student("007", "Ada")])
    hand_out(set_file, roster, key, tmp_path / "out")
    own, bank = tmp_path / "own", tmp_path / "exercises" / "vent" / "bank.toml"
    bring_up_to_date(own, TODAY)
    monkeypatch.chdir(own)
    shutil.copy(tmp_path / "out" / "notebooks" / "homework-1_007.ipynb", own)
    sheet = sheet_of(own / "homework-1_007.ipynb")
    answers = right_answers(sheet)
    started = hand_in(sheet, own)
    for question in ("shafts", "pinion", "formula"):
        started.keep(question, answers[question])
    box = ask(bank, "pitch", number=0)  # practised beside it, from the same bank
    typed = {"circular_pitch": "12.5664 mm"}  # reported as the page reports it
    box.set_state({"action": {"n": 1, "key": box.view["key"], "texts": typed, "act": "check"}})
    (own / "01_teeth_and_diameter.ipynb").write_text("worked through")
    before = {path.name: path.read_bytes() for path in own.iterdir() if path.name != workbook.RECORD}

    added = BANK[BANK.rindex("[[question]]\nid = ") :].replace('"direction"', '"way-of-turning"')
    reworded = BANK.replace("The crank of the pinion is turned", "One turns the crank of the pinion", 1)
    bank.write_text(reworded.replace('"inch-shafts"', '"inch-centres"') + added, encoding="utf-8")
    for lesson in lessons.glob("*.ipynb"):
        lesson.write_text("second edition")
    done = bring_up_to_date(own, TODAY)
    assert len(done.beside) == 2
    assert {name: (own / name).read_bytes() for name in before} == before

    again = ask(bank, "pitch")
    assert again.texts["circular_pitch"] == "12.5664 mm" and "is back" in again.note
    sheet = sheet_of(own / "homework-1_007.ipynb")  # the notebook goes on with its own edition
    resumed = hand_in(sheet, own)
    assert resumed.answers == {name: answers[name] for name in ("shafts", "pinion", "formula")}
    for question in answers.keys() - resumed.answers.keys():
        resumed.keep(question, answers[question])
    marking = mark(own, set_file, roster, key, tmp_path / "results")
    assert marking.points == POINTS and "edited after the hand-out" in marking.notes[0]
    assert not [problem for problem in marking.problems if problem.kind == "altered"]
