"""A typed answer is read once on its way from the box to the verdict."""

import pytest

from gearlab.contents import content_folder
from gearlab.course.handout.edition import SheetMaker, Task
from gearlab.course.marking.feedback import Section
from gearlab.course.marks import MarkedTask, Marker
from gearlab.course.report.tally import wrong_value
from gearlab.practice import SetEntry, load_bank
from gearlab.practice.designs import design
from gearlab.practice.kinds import choice, expression, number
from gearlab.practice.workbook.progress import Answers
from gearlab.widgets.answerbox import AnswerBox
from gearlab.widgets.handin import hand_in


@pytest.fixture
def counted(monkeypatch):
    """Texts that went through a reader, in order."""
    texts = []
    for file, name in (
        (number, "read_number"),
        (expression, "read_expression"),
        (choice, "read_choice"),
        (design, "read_within"),
    ):
        reader = getattr(file, name)

        def count(text, *more, reader=reader):
            texts.append(text)
            return reader(text, *more)

        monkeypatch.setattr(file, name, count)
    return texts


def of_kind(kind):
    from gearlab.contents import content_folder

    for path in sorted(content_folder("exercises").glob("*/bank.toml")):
        for question in load_bank(path):
            if question.kind == kind:
                return question
    raise AssertionError(kind)


@pytest.mark.parametrize("kind, text", [("number", "12.5"), ("expression", "1 + 2"), ("choice", "b")])
def test_a_text_is_read_once_for_echo_question_and_verdict(kind, text, tmp_path, counted):
    question = of_kind(kind)
    box = AnswerBox(question, f"trial/{kind}", Answers(tmp_path), 0)
    counted.clear()
    for shown in range(3):  # what is typed is echoed again and again
        box.texts = {field.id: text for field in question.fields}
        box._typed()
        assert "echoes" in box._state(), shown
    box._act("check")
    box._state()
    assert box.verdicts and counted == [text] * len(question.fields)
    box.texts = {field.id: "" for field in question.fields}
    box._state()
    assert all(verdict.kind != "not answered" for verdict in box.verdicts.values())


def test_judging_reads_each_text_once(counted):
    question = of_kind("number")
    draw = question.draw("once")
    question.judge(draw, {answer.id: "12.5" for answer in question.answers})
    assert counted == ["12.5"] * len(question.answers)
    read = question.readings({answer.id: "7" for answer in question.answers})
    counted.clear()
    assert question.judge(draw, {}, read=read).keys() == read.keys()
    assert counted == []


@pytest.mark.parametrize(
    "kind, text", [("number", "12.5"), ("expression", "1 + 2"), ("choice", "b"), ("design", "20")]
)
def test_marking_and_the_feedback_page_read_each_text_once(kind, text, counted):
    question = of_kind(kind)
    draw, texts = question.draw("marked"), {field.id: text for field in question.fields}
    read, verdicts = Marker._of_one(question, draw, texts)
    entry = SetEntry(question, question.points, question.path)
    task = MarkedTask(entry, draw, texts, read, verdicts, 0.0)
    pieces: list[bytes] = []
    Section(1, entry).fill(task, pieces)
    page = b"".join(pieces).decode()
    assert (dict(draw.options)[text] if kind == "choice" else text) in page
    assert len([wrong_value(task, answer.id) for answer in question.answers]) == len(verdicts)
    assert counted == [text] * len(question.fields)


@pytest.mark.parametrize(
    "path", sorted(content_folder("exercises").glob("[0-9]*/bank.toml")), ids=lambda p: p.parent.name
)
def test_what_a_hand_in_echoes_is_what_is_marked(path, tmp_path):
    """Which words may stand around a number, and whether a ratio has an order, hangs on label and prompt."""
    for question in load_bank(path):
        if not question.numbers:
            continue
        draw = question.draw("echo", 0)
        asked = SheetMaker._question(Task(SetEntry(question, 1.0, path), draw))
        data = {"gearlab": "hand-out", "edition": 1, "set": "trial", "student": "7", "questions": [asked]}
        sheet = hand_in({**data, "file": "HAND-IN_trial_7.json"}, tmp_path)
        for answer, row in zip(question.answers, asked["answers"], strict=True):
            for text in (
                "5:2",
                "2.5 to 1",
                f"{answer.label} = 3",
                f"3 {answer.label}",
                "about 3",
                "3 mm apart",
            ):
                marked, echoed = question.read(answer.id, text), sheet.reading(asked, row, text)
                assert (echoed.value, echoed.problem) == (marked.value, marked.problem), (answer.id, text)
