"""The course page as a widget, and the still form of every box."""

from __future__ import annotations

from datetime import date

import pytest

from gearlab.practice.workbook.attempts import attempts
from gearlab.practice.workbook.progress import Answers
from gearlab.widgets import ask, course_page, still
from gearlab.widgets.prediction import predict


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    monkeypatch.setenv("GEARLAB_ANSWERS", str(tmp_path))
    return tmp_path


def act(box, what, **texts):
    box.action = {"n": box.status["seen"] + 1, "key": box.view["key"], "texts": texts, "act": what}


def test_an_empty_folder_begins_with_lesson_0():
    page = course_page(date(2026, 11, 29))
    assert "Begin with lesson 0" in page.now.html and page.rest.html.count("data-ask=") > 300


def test_a_click_asks_a_question_and_the_page_follows_what_is_answered(folder):
    page = course_page()
    page.now.asked = {"question": "03_centre_distance/spacing-metric", "n": 1}
    box = page.box
    assert page.place.children == (box,) and box.number == 0
    right = box.question.keys(box.draw)[
        "answer" if "answer" in box.texts else box.question.answers[0].id
    ].value
    act(box, "check", **{box.question.fields[0].id: repr(right)})
    assert box.done and [event["verdict"] for event in attempts(folder)] == ["right"]
    assert "1 of 13 right" in page.rest.html and "Begin with lesson" not in page.now.html
    again = page.ask_here("03_centre_distance", "spacing-metric")
    assert again.number == 1 and not again.closed, "a repeated question comes with new numbers"


def test_a_question_that_is_not_there_is_passed_over():
    page = course_page()
    for name in ("03_centre_distance/gone", "gone/gone", "", 5, "../x"):
        page.now.asked = {"question": name}
        assert page.box is None


@pytest.fixture
def shown(monkeypatch):
    seen = []
    monkeypatch.setattr(still, "publish_display_data", lambda data, *_, **more: seen.append((data, more)))
    return seen


def test_the_still_form_of_a_box_holds_answer_and_verdict(shown):
    box = ask("03_centre_distance", "spacing-metric", number=0)
    box._ipython_display_()
    assert "____" in shown[0][0]["text/plain"] and not shown[0][1]["update"]
    (field,) = box.question.fields
    act(box, "check", **{field.id: "12 <b>"})
    act(box, "check", **{field.id: "12"})
    data, more = shown[-1]
    assert more["update"] and more["transient"] == shown[0][1]["transient"]
    assert f"{field.label} [mm]: 12" in data["text/plain"] and "✗" in data["text/plain"]
    assert "As you left it" in data["text/plain"] and all("<b>" not in one["text/html"] for one, _ in shown)
    assert still.QUIET in data["text/html"]


def test_the_still_form_of_a_prediction_says_what_was_chosen(shown):
    box = predict("03_centre_distance/holes-here", "Which?", ["a first", "a second"])
    box._ipython_display_()
    act(box, "record", text="2", because="")
    assert "a second  ← chosen" in shown[-1][0]["text/plain"] and "Recorded" in shown[-1][0]["text/plain"]


def test_the_still_form_of_the_page_is_short_and_follows(shown):
    page = course_page()
    page._ipython_display_()
    size = len(shown[0][0]["text/html"])
    Answers().put("predict/00_start_here/two-sides", recorded="2026-11-29 10:00")
    page.refresh()
    assert size < 25_000 and "<button" not in shown[-1][0]["text/html"]
    assert "Go on with lesson 0" in shown[-1][0]["text/html"]
