"""A fifth kind of question, made here: one class and one line in the table take it from the bank to the page.

A question answered by a word: which way a gear turns. Two external gears in mesh turn opposite ways, so the
third gear of a row of three turns as the first does (common practice).
"""

from html import escape

import pytest

from gearlab.course.handout.edition import SheetMaker, Task
from gearlab.practice import BankError, Question, Reading, SetEntry, Verdict, check_bank, load_bank
from gearlab.practice.answer import Key
from gearlab.practice.kinds import QUESTION_KINDS
from gearlab.practice.tables import QuestionTable
from gearlab.practice.verdict import Cause
from gearlab.practice.workbook.progress import Answers
from gearlab.widgets.answerbox import AnswerBox
from gearlab.widgets.handin import HandInBox, hand_in

WORDS = ("clockwise", "counter-clockwise")
BANK = """
[bank]
title = "Roof-vent drive"
lesson = "05"
[[question]]
id = "which-way"
kind = "word"
title = "Which way?"
hints = ["What is asked?", "What is given?", "Put one into the other."]
prompt = "The crank gear turns clockwise. Which way does gear {number} of the row turn?"
right = { odd = "clockwise", even = "counter-clockwise" }
[question.givens]
number = { one_of = [2, 3, 4, 5], local = true }
"""


class WordTable(QuestionTable):
    right: dict[str, str] = {}


class WordAnswer:
    id, label, unit, asked, symbols, table, points = "way", "way it turns", "", "", (), None, 1.0

    def read(self, text: str) -> Reading:
        word = text.strip().lower()
        if not word:
            return Reading(None, problem="Nothing was typed.", empty=True)
        return Reading(None, shown=word) if word in WORDS else Reading(None, problem=f"Write {WORDS[0]}.")


class WordQuestion(Question):
    kind, Table, own_fields, has_own = "word", WordTable, ("right",), "a word question has a right word"

    def _answers(self):
        return (WordAnswer(),)

    @classmethod
    def faults(cls, table, shown):
        return [f"right: {word!r} is no word" for word in table.right.values() if word not in WORDS]

    def _right(self, draw):
        return self.table.right["odd" if draw.values["number"] % 2 else "even"]

    def judge_read(self, draw, read, listed, chosen):
        reading, right = read["way"], self._right(draw)
        if not reading.ok:
            kind = "not answered" if reading.empty else "cannot read"
            return {"way": Verdict(kind, False, 0.0, 1.0, sentence=reading.problem)}
        if reading.shown == right:
            return {"way": Verdict("right", True, 1.0, 1.0, reading.echo, sentence="Right.")}
        cause = Cause("turned", "turned round", "Every mesh turns the direction round.", 0.0)
        return {"way": Verdict("ordinary slip", False, 0.0, 1.0, reading.echo, "", (cause,), cause.sentence)}

    def keys(self, draw):
        return {"way": Key(None, self._right(draw), "", 0.0)}

    def _solution(self, draw, form):
        text = f"Gear {draw.texts['number']} turns {self._right(draw)}."
        return f"<p>{escape(text)}</p>" if form == "html" else text

    def method(self, form="text"):
        return "Every mesh turns the direction round."

    def form(self, draw):
        return [{"id": "way", "kind": "text", "label": "way it turns"}]

    @classmethod
    def sheet_form(cls, sheet):
        return [{"id": "way", "kind": "text", "label": sheet["answers"][0]["label"]}]

    @classmethod
    def read_on_sheet(cls, answer, text):
        return WordAnswer().read(text)

    def check_draws(self, drawn):
        return [
            f"{draw.texts['number']}: the right word is not judged right"
            for draw in drawn
            if not self.judge(draw, {"way": self._right(draw)})["way"].right
        ]


@pytest.fixture
def path(tmp_path, monkeypatch):
    monkeypatch.setitem(QUESTION_KINDS, "word", WordQuestion)
    file = tmp_path / "bank.toml"
    file.write_text(BANK, encoding="utf-8")
    return file


def test_from_the_bank_to_the_verdict_and_the_solution(path):
    question = load_bank(path)["which-way"]
    assert isinstance(question, WordQuestion) and question.points == 1
    seen = set()
    for number in range(12):
        draw = question.draw("fifth", number)
        gear = int(draw.texts["number"])
        right, other = WORDS if gear % 2 else reversed(WORDS)
        seen.add(gear)
        assert f"gear {gear}" in draw.prompt
        assert question.judge(draw, {"way": f" {right.upper()} "})["way"].kind == "right"
        assert [c.name for c in question.judge(draw, {"way": other})["way"].causes] == ["turned"]
        assert question.judge(draw, {"way": "sideways"})["way"].kind == "cannot read"
        assert question.judge(draw, {})["way"].kind == "not answered"
        assert question.keys(draw)["way"].text == right
        assert question.solution(draw, "text") == f"Gear {gear} turns {right}."
    assert len(seen) > 1
    with pytest.raises(ValueError, match="form 'paper' is unknown"):
        question.solution(draw, "paper")


def test_its_tables_and_its_draws_are_checked(path):
    assert check_bank(path, draws=20) == []
    good = path.read_text()
    for old, new, says in (
        ('even = "counter-clockwise"', 'even = "left"', "right: 'left' is no word"),
        ('kind = "word"', 'kind = "wordy"', "kind: 'wordy' is not a kind of question; near: word"),
        ("right = {", "answers = 3\nright = {", "answers: should be a list"),
        ('kind = "word"', 'kind = "number"', "right: is not a field known here"),
    ):
        path.write_text(good.replace(old, new))
        with pytest.raises(BankError) as raised:
            load_bank(path)
        assert any(says in line for line in raised.value.problems), raised.value.problems


def test_on_the_page(path, tmp_path):
    question = load_bank(path)["which-way"]
    box = AnswerBox(question, "trial/which-way", Answers(tmp_path / "answers.json"), 0)
    assert [field["kind"] for field in box.view["fields"]] == ["text"]
    box.texts = {"way": WORDS[0] if int(box.draw.texts["number"]) % 2 else WORDS[1]}
    assert box._state()["echoes"]["way"]["text"] == f"read as {box.texts['way']}"
    box._act("check")
    assert box.done and box.verdicts["way"].right and box._state()["verdicts"]["way"]["tone"] == "right"


def test_on_a_hand_out(path, tmp_path):
    question = load_bank(path)["which-way"]
    draw = question.draw(key=b"k" * 16, set="trial", student="7")
    asked = SheetMaker._question(Task(SetEntry(question, 1.0, path), draw))
    assert asked["kind"] == "word" and [answer["id"] for answer in asked["answers"]] == ["way"]
    data = {"gearlab": "hand-out", "edition": 1, "set": "trial", "student": "7", "questions": [asked]}
    sheet = hand_in({**data, "file": "HAND-IN_trial_7.json"}, tmp_path)
    box = HandInBox(sheet, sheet.question("which-way"), False)
    box.texts = {"way": "Clockwise"}
    box._typed()
    assert box._state()["echoes"]["way"]["text"] == "read as clockwise"
    assert sheet.missing() == []
