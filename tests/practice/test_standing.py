"""The course page after a month of answers, held against what the stated schedule gives by hand."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from month import FIRST, Student

from gearlab.practice.workbook.attempts import attempts
from gearlab.practice.workbook.coursepage import READ, page_html, page_text, still_page
from gearlab.practice.workbook.lessons import lessons
from gearlab.practice.workbook.progress import Answers
from gearlab.practice.workbook.skills import by_skill, skill_of, skill_rows
from gearlab.practice.workbook.standing import standing
from gearlab.widgets.prediction import READ as BUTTON


@pytest.fixture
def student(tmp_path, monkeypatch):
    monkeypatch.delenv("GEARLAB_ANSWERS", raising=False)
    return lambda slips=0: Student(tmp_path, slips)


def test_an_empty_folder_says_begin_with_lesson_0(student):
    page = student().page()
    assert not page.begun and page.next.number == 0 and page.due == () and page.comes_next is None
    assert "Begin with lesson 0" in page_html(page) and "Begin with lesson 0" in page_text(page)
    assert all(one.answered == one.repeat == 0 and not one.read for one in page.lessons)


def test_a_diligent_student(student):
    """Lessons 1, 2 and 3 on the first three days; everything due is done each day."""
    diligent, done = student(), {}
    one, two, three = (len(Student.numbers(number)) for number in (1, 2, 3))
    assert one and two and three
    for day in range(31):
        done[day] = len(diligent.review())
        if day < 3:
            diligent.lesson(day + 1)
        diligent.wait()
    # by hand: what was first right on day d is due on d + 1, d + 4, d + 11, d + 27 and d + 62
    expected = dict.fromkeys(range(31), 0)
    for first, count in ((0, one), (1, two), (2, three)):
        for later in (1, 4, 11, 27):
            expected[first + later] += count
    assert done == expected

    page = diligent.page()  # on day 31
    assert page.due == () and page.comes_next == FIRST + timedelta(days=62)
    assert [lesson.read and lesson.predicted for lesson in page.lessons[:5]] == [
        False,
        True,
        True,
        True,
        False,
    ]
    assert [lesson.answered for lesson in page.lessons[1:4]] == [one, two, three]
    assert page.next.number == 4, "the lesson after the last one done"
    assert sum(skill.right for skill in page.skills) == one + two + three
    assert sum(one.memory.slips for skill in page.skills for one in skill.questions) == 0


def test_a_student_who_stops(student):
    stopped = student()
    stopped.lesson(1)
    stopped.wait()
    stopped.lesson(2)
    stopped.wait(29)
    page = stopped.page()
    waiting = len(Student.numbers(1)) + len(Student.numbers(2))
    assert len(page.due) == waiting and page.next.number == 3
    assert page.due_minutes == round(sum(one.question.minutes for one in page.due))
    neighbours = [one.question.lesson for one in page.due]
    if len(Student.numbers(1)) == len(Student.numbers(2)):
        assert all(a != b for a, b in zip(neighbours, neighbours[1:])), "lessons are mixed"
    assert f"Due today: {waiting} questions" in page_html(page, live=True)
    assert page_html(page, live=True).count("data-ask=") >= 335
    # done now, they are as fresh as after a second right answer: 3 days
    stopped.review()
    assert stopped.page().due == () and stopped.page().comes_next == stopped.today + timedelta(days=3)


def test_a_student_with_a_slip_each_time_gets_everything_again_the_next_day(student):
    slipping = student(slips=1)
    slipping.lesson(1)
    count = len(Student.numbers(1))
    for _ in range(10):
        slipping.wait()
        page = slipping.page()
        assert len(page.due) == count and all(one.memory.last_wrong for one in page.due)
        assert "went wrong last time" in page_html(page)
        assert page.lessons[1].answered == count and page.lessons[1].repeat == count
        slipping.review()
    # the day on which it goes well for the first time
    slipping.slips = 0
    slipping.wait()
    slipping.review()
    assert slipping.page().comes_next == slipping.today + timedelta(days=1)


def test_what_went_wrong_stands_first(student):
    mixed = student()
    mixed.lesson(1)
    mixed.slips = 1
    mixed.lesson(3)
    mixed.wait()
    due = [one.question.lesson for one in mixed.page().due]
    wrong, right = len(Student.numbers(3)), len(Student.numbers(1))
    assert due == ["03_centre_distance"] * wrong + ["01_teeth_and_diameter"] * right


def test_answers_of_an_older_folder_count_without_any_record(student, tmp_path):
    bank, name = Student.numbers(1)[0]
    version = next(question.version for question in lessons()[1].questions if question.id == name)
    Answers(tmp_path).put(f"{bank}/{name}", version=version, done=True, texts={"x": "1"})
    Answers(tmp_path).put(f"predict/{lessons()[1].name}/holes", recorded="2026-11-02 08:00", seen="")
    page = student().page()
    assert page.lessons[1].answered == 1 and page.lessons[1].predicted and not page.lessons[1].read
    assert page.next.number == 1, "begun, and not done"
    Answers(tmp_path).put(f"{bank}/{name}", version=version + 1)
    assert student().page().lessons[1].answered == 0, "a changed question is a new one"


def test_running_every_cell_reads_nothing(answers_folder):
    """What "Run all" does: each box of a lesson is made, and nobody handles it."""
    from gearlab.widgets import ask, look_back, predict, surprise

    def page():
        return standing(Answers().all(), attempts(answers_folder), date(2026, 11, 29))

    (lesson,) = (one for one in lessons() if one.number == 7)
    key = "07_contact/ten-teeth"
    predict(key), surprise(key, lambda: None, text=""), look_back(key)
    for bank, name in lesson.asked:
        ask(bank, name)
    assert not page().begun and page().next.number == 0
    assert READ in page_html(page()).replace("&quot;", '"') and "\u201c" + BUTTON in READ
    box = look_back(key)
    box.set_state({"action": {"n": 1, "key": box.view["key"], "texts": {}, "act": "read"}})
    (row,) = (row for row in page().lessons if row.lesson is lesson)
    assert row.read and row.done and box.status["buttons"]["read"]["off"]
    assert look_back(key).status["buttons"]["read"]["words"].startswith("Recorded as read")
    read = [line for line in attempts(answers_folder) if line["event"] == "read"]
    assert [line["lesson"] for line in read] == ["07_contact"]


def test_a_line_written_in_the_last_box_counts_as_reading_once(answers_folder):
    from gearlab.widgets import look_back

    box = look_back("07_contact/ten-teeth")
    for number, text in enumerate((" ", "1", "1.0", "1.09"), 1):
        box.set_state({"draft": {"n": number, "key": box.view["key"], "texts": {"seen": text}}})
        lines = attempts(answers_folder)
        assert [line["event"] for line in lines] == ["read"] * (number > 1)


def test_foreign_data_in_the_answers_file_breaks_nothing():
    kept = {
        "predict/": {"recorded": 3},
        "07_contact/contact-ratio": {"texts": 5, "done": "yes"},
        "reader": {"seed": 1},
    }
    page = standing(
        kept, [{"event": "read", "at": "2026-11-02T08:00:00Z", "lesson": "gone"}], date(2026, 11, 29)
    )
    assert not page.begun


def test_every_question_of_every_bank_has_a_skill_and_every_row_is_used():
    questions = [question for one in lessons() for question in one.questions]
    assert sum(map(len, by_skill().values())) == len(questions)
    assert {skill_of(question) for question in questions} == {skill for _, skill, _ in skill_rows()}
    for number, skill, words in skill_rows():
        asked = {
            word for question in questions if int(question.lesson[:2]) == number for word in question.asked
        }
        stripped = asked | {word.partition("_")[2] for word in asked}
        assert words <= stripped, (skill, words - stripped)


def test_a_page_escapes_and_a_still_page_has_no_buttons(student):
    done = student()
    done.lesson(1)
    done.wait()
    told = still_page(done.page())
    assert "<button" not in told["text/html"] and len(told["text/html"]) < 25_000
    assert 'href="02_pitch_and_proportions.ipynb"' in told["text/html"]
    assert "due today" in told["text/plain"]


def test_a_list_knows_how_many_answers_a_question_has():
    from gearlab.contents import lesson_bank
    from gearlab.practice import load_bank

    for name in ("05_idlers_and_trains", "07_contact"):
        bank = load_bank(lesson_bank(name))
        (one,) = (one for one in lessons() if one.name == name)
        assert {question.id: question.parts for question in one.questions} == {
            question.id: len(question.answers) for question in bank
        }
