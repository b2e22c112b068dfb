"""What a reader's folder opens on: the course page with the page of today, glossary and formula sheet."""

from __future__ import annotations

import json
from datetime import date

import pytest

from gearlab.contents import content_folder
from gearlab.course import landing, workbook
from gearlab.course.workbook import bring_up_to_date, lab_command
from gearlab.practice.workbook.attempts import record
from gearlab.practice.workbook.lessons import lessons

TODAY = date(2026, 11, 29)


@pytest.fixture
def own(tmp_path, monkeypatch):
    monkeypatch.delenv("GEARLAB_ANSWERS", raising=False)
    monkeypatch.setattr(landing, "pages", lambda: {"glossary.md": "# Glossary\n", "glossary.html": "<p>"})
    return tmp_path / "own"


def page(folder) -> str:
    notebook = json.loads((folder / landing.COURSE).read_text())
    (cell,) = (cell for cell in notebook["cells"] if cell.get("id") == landing.CELL)
    return cell["outputs"][0]["data"]["text/plain"]


def test_the_folder_opens_on_the_course_page_and_it_is_of_today(own):
    done = bring_up_to_date(own, TODAY)
    assert str(own / landing.COURSE) in lab_command(done) and str(done.lesson("3")) in lab_command(done, "3")
    assert "29 November 2026" in page(own) and "Begin with lesson 0" in page(own)
    record(own, event="read", lesson=lessons()[0].name)
    bring_up_to_date(own, date(2026, 11, 30))
    assert "30 November 2026" in page(own) and "next: lesson 1" in page(own)


def test_the_committed_course_page_has_no_outputs():
    notebook = json.loads((content_folder("notebooks") / landing.COURSE).read_text())
    assert all(not cell.get("outputs") for cell in notebook["cells"])
    assert sum(cell.get("id") == landing.CELL for cell in notebook["cells"]) == 1


def test_a_newer_course_page_takes_its_place_unless_the_reader_wrote_in_it(own, tmp_path, monkeypatch):
    source = tmp_path / "source"
    source.mkdir()
    first = json.loads((content_folder("notebooks") / landing.COURSE).read_text())
    (source / landing.COURSE).write_text(json.dumps(first))
    for room in (workbook, landing):
        monkeypatch.setattr(room, "content_folder", lambda name: source)
    bring_up_to_date(own, TODAY)
    first["cells"][0]["source"] = "# Second edition"
    (source / landing.COURSE).write_text(json.dumps(first))
    assert bring_up_to_date(own, TODAY).beside == ()
    assert "Second edition" in (own / landing.COURSE).read_text() and "Begin with lesson 0" in page(own)

    written = json.loads((own / landing.COURSE).read_text())
    written["cells"][0]["source"] = "# Mine"
    (own / landing.COURSE).write_text(json.dumps(written))
    first["cells"][0]["source"] = "# Third edition"
    (source / landing.COURSE).write_text(json.dumps(first))
    assert bring_up_to_date(own, TODAY).beside == ("course (edition 2026-11-29).ipynb",)
    assert "# Mine" in (own / landing.COURSE).read_text() and "Begin with lesson 0" in page(own)


def test_a_course_page_that_cannot_be_read_is_left_alone(own):
    own.mkdir()
    (own / landing.COURSE).write_text("something of mine")
    bring_up_to_date(own, TODAY)
    assert (own / landing.COURSE).read_text() == "something of mine"


def test_pages_are_made_once_and_a_changed_one_is_kept(own, monkeypatch):
    names = ("glossary.md", "glossary.html")
    bring_up_to_date(own, TODAY)
    assert all((own / name).exists() for name in names)
    (own / "glossary.md").write_text("my own words")
    monkeypatch.setattr(landing, "made_of", lambda: "newer")
    monkeypatch.setattr(landing, "pages", lambda: {"glossary.md": "# New\n", "glossary.html": "<b>"})
    assert bring_up_to_date(own, TODAY).beside == ("glossary (edition 2026-11-29).md",)
    assert (own / "glossary.md").read_text() == "my own words"
    assert (own / "glossary.html").read_text() == "<b>"
