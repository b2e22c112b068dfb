"""The reader's copy of the lessons: made once, never overwritten."""

import datetime
import json
import pathlib

import pytest

from gearlab.course import workbook
from gearlab.course.workbook import bring_up_to_date, lab_command

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
