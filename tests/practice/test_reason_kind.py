"""A reason: a short text that people mark by a guide; what the box, the sheet and the terminal make of it."""

import json

import pytest
from typer.testing import CliRunner

from gearlab.cli import app
from gearlab.course.handout.edition import SheetMaker, Task
from gearlab.practice import BankError, SetEntry, check_bank, load_bank
from gearlab.practice.verdict import Award
from gearlab.practice.workbook.attempts import attempts
from gearlab.practice.workbook.progress import Answers
from gearlab.practice.workbook.repeating import memories
from gearlab.widgets.answerbox import HELD, AnswerBox
from gearlab.widgets.handin import HandInBox, hand_in

# Why two external gears turn opposite ways: where the rims touch they run the same way (common practice).
BANK = """
[bank]
title = "Roof-vent drive"
lesson = "04"
[[question]]
id = "why-opposite"
kind = "reason"
title = "Why the other way"
prompt = "The crank gear has {teeth} teeth and turns clockwise. Why does its mate turn the other way?"
hints = ["Look at the rims.", "Where do they touch?", "Both rims run the same way there."]
longest = 120
points = 3
model = "Where the rims of the {teeth} teeth and the mate touch, both run the same way."
[[question.guide]]
points = 2
earns = "speaks of the place where the rims touch"
[[question.guide]]
points = 1
earns = "says that both run the same way there"
[question.givens]
teeth = { one_of = [18, 20] }
"""
TEXT = "At the touching place both rims go <b>down</b> together.\n\nSo the turns differ."


@pytest.fixture
def path(tmp_path):
    file = tmp_path / "bank.toml"
    file.write_text(BANK, encoding="utf-8")
    return file


@pytest.fixture
def question(path):
    return load_bank(path)["why-opposite"]


def test_open_until_people_give_points(question):
    draw = question.draw("reason")
    assert question.points == 3 and question.for_people
    verdict = question.judge(draw, {"text": TEXT})["text"]
    assert (verdict.kind, verdict.points, verdict.out_of, verdict.open) == ("not marked", 0, 3, 3)
    empty = question.judge(draw, {"text": " \n "})
    assert empty["text"].kind == "not answered" and empty["text"].open == 0
    verdicts = question.judge(draw, {"text": TEXT})
    part = question.judged_by(verdicts, {"text": Award(1.5, "J. Baker", "Where?")})["text"]
    assert (part.kind, part.right, part.points, part.open) == ("marked", False, 1.5, 0)
    assert part.sentence == "Marked by J. Baker. Where?"
    full = question.judged_by(verdicts, {"text": Award(3, "J. Baker")})["text"]
    assert full.kind == "right" and full.right and full.points == 3
    none = question.judged_by(verdicts, {"text": Award(0, "J. Baker")})["text"]
    assert none.kind == "marked" and none.points == 0 == none.open
    differ = question.judged_by(verdicts, {"text": Award(None, "J. Baker and M. Lind")})["text"]
    assert differ.open == 3 and "J. Baker and M. Lind" in differ.sentence
    assert question.judged_by(empty, {"text": Award(3, "J. Baker")}) == empty
    assert question.judged_by(verdicts, {}) == verdicts


def test_longer_than_asked_is_not_read_and_longer_than_a_number_is(question):
    assert question.to_mark({"text": "x" * 119 + "yz"}) == {"text": "x" * 119 + "y"}
    assert question.to_mark({"text": " \r\n "}) == {} == question.to_mark({})
    assert question.readings({"text": "word " * 60})[
        "text"
    ].ok  # 300 characters: a number would be cut at 200


def test_guide_and_model_answer_are_told(question):
    draw = question.draw_with({"teeth": "18"})
    for form, bold in (
        ("text", "What earns points"),
        ("markdown", "**2 points**"),
        ("html", "<strong>2 points"),
    ):
        told = question.solution(draw, form)
        assert bold in told and "1 point" in told and "the rims of the 18 teeth" in told
    assert (
        question.keys(draw)["text"].text.startswith("Where the rims of the 18 teeth")
        and not question.method()
    )


@pytest.mark.parametrize(
    "old, new, says",
    [
        ("points = 3\n", "points = 4\n", "points: 4 are stated, but the lines of the guide add up to 3"),
        ("points = 2\nearns", "points = 2.3\nearns", "guide: 2.3 points cannot be given in steps of 0.5"),
        ("longest = 120", "longest = 80", "model: has 78 characters"),
        ("longest = 120", "longest = 5000", "longest: should be less than or equal to 2000"),
        ("The {teeth} teeth", "", ""),
        (
            "of the {teeth} teeth and",
            "of the {tooth} teeth and",
            "model: {tooth} is not a shown given; near: teeth",
        ),
        ("speaks of the place", "speaks of {teeth} teeth", "guide: is the same for all students"),
        ('model = "', 'model = ""\n# "', "model: a model answer is needed"),
        ('title = "Why the', 'idea = "They roll."\ntitle = "Why the', "idea: does not go with"),
        ('kind = "reason"', 'kind = "choice"', "guide: is not a field known here"),
        ("earns =", "earn =", "guide"),
    ],
)
def test_what_does_not_fit_is_told(path, old, new, says):
    if not says:
        assert check_bank(path, draws=5) == []
        return
    text = BANK.replace(old, new, 1)
    if "78" in says:
        text = text.replace("both run the same way.", "both run the same way, as one.").replace("78", "78")
        says = "characters, but an answer may have 80: shorten it"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BankError) as raised:
        load_bank(path)
    assert any(says in line for line in raised.value.problems), raised.value.problems


def test_in_a_practice_box_it_is_held_against_the_guide(question, tmp_path, answers_folder):
    answers = Answers(tmp_path / "answers.json")
    box = AnswerBox(question, "trial/why-opposite", answers, 0)
    (field,) = box.view["fields"]
    assert field["kind"] == "text" and field["longest"] == 120 and field["count"] and field["lines"] > 1
    box._act("check")
    assert not box.done and box._state()["verdicts"]["text"]["title"] == "Not answered."
    box.texts = {"text": TEXT}
    box._act("check")
    look = box._state()["verdicts"]["text"]
    assert look["title"] == HELD and look["tone"] == "quiet"
    assert look["says"][1:] == [
        "2 points: speaks of the place where the rims touch.",
        "1 point: says that both run the same way there.",
    ]
    assert "rims touch" in box.said and box.done and box.closed and not box._state()["solution"]
    assert "Where the rims" not in json.dumps(box._state())  # the model answer comes when it is asked for
    box._act("solve")
    assert "Where the rims of the" in box._state()["solution"]
    again = AnswerBox(question, "trial/why-opposite", answers, 0)
    assert again.texts == {"text": TEXT} and again.closed
    # on the course page it counts as done, and comes again like any other
    lines = [line | {"bank": "trial"} for line in attempts(tmp_path)]
    assert [(line["event"], line.get("verdict")) for line in lines] == [
        ("answer", "not marked"),
        ("solution", None),
    ]
    memory = memories(lines, {"trial/why-opposite": (1, 1)})["trial/why-opposite"]
    assert memory.ever_right and not memory.last_wrong and memory.slips == 0


def test_on_a_hand_out(question, path, tmp_path):
    draw = question.draw(key=b"k" * 16, set="trial", student="7")
    asked = SheetMaker._question(Task(SetEntry(question, 3.0, path), draw))
    assert asked["answers"][0]["longest"] == 120
    assert not any(word in json.dumps(asked) for word in ("guide", "model", "place where", "Where the rims"))
    data = {"gearlab": "hand-out", "edition": 1, "set": "trial", "student": "7", "questions": [asked]}
    sheet = hand_in({**data, "file": "HAND-IN_trial_7.json"}, tmp_path)
    assert sheet.missing() == ["Why the other way: still empty"]
    box = HandInBox(sheet, sheet.question("why-opposite"), False)
    assert box.view["fields"][0]["longest"] == 120 and box.view["fields"][0]["count"]
    box.texts = {"text": TEXT}
    box._typed()
    assert sheet.missing() == [] and not box._state()["echoes"]
    saved = json.loads((tmp_path / "HAND-IN_trial_7.json").read_text(encoding="utf-8"))
    assert saved["answers"] == {"why-opposite": {"text": TEXT}}  # the format is that of all answers
    for longest in (-5, 10**9, "many", None):  # a sheet that somebody edited
        asked["answers"][0]["longest"] = longest
        assert type(question).sheet_form(asked)[0]["longest"] == 2000


def test_in_the_terminal(path):
    told = CliRunner().invoke(app, ["try", str(path), "why-opposite", "--answer", "They touch."]).output
    assert "not marked yet" in told and "speaks of the place where the rims touch" in told
    data = json.loads(
        CliRunner()
        .invoke(app, ["try", str(path), "why-opposite", "--answer", "They touch.", "--json"])
        .output
    )
    assert (
        data["verdict"] == "not marked" and data["key"].startswith("Where the rims") and data["out_of"] == 3
    )
    assert CliRunner().invoke(app, ["check", str(path), "--draws", "5"]).exit_code == 0
