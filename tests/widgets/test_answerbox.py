"""Answer boxes in Python: what a report of the front end leads to, and what is found on disk afterwards."""

from __future__ import annotations

import json
import os
import re
import threading

import pytest

from gearlab.practice.workbook.attempts import attempts
from gearlab.widgets.answerbox import ask
from gearlab.widgets.box import Box
from gearlab.widgets.handin import hand_in, hand_in_box
from gearlab.widgets.prediction import look_back, predict

BANK = """
[bank]
title = "Bench"
lesson = "03"

[[question]]
id = "spacing"
version = 1
kind = "number"
of = "pair"
length_unit = "mm"
notation = "inch"
level = 1
minutes = 4
title = "Spacing"
prompt = "{driver_teeth} and {driven_teeth} teeth, module {module} mm. <b>How far</b> apart?"
hints = ["Which circles touch?", "Add the radii."]

[question.givens]
driver_teeth = { from = 18, to = 30, step = 1 }
driven_teeth = { from = 40, to = 60, step = 1 }
module = { one_of = [2, 2.5, 3] }

[[question.answers]]
id = "centre_distance"
label = "centre distance"
asked = "centre_distance"
unit = "mm"
tolerance = { relative = 0.001, absolute = 0.005 }
points = 1

[[question.answers.slips]]
name = "nohalf"
title = "added diameters instead of radii"
formula = "(driver_teeth+driven_teeth)*module"
says = "You added whole diameters; the shafts are one radius plus one radius apart."
credit = 0.5

[[question]]
id = "formula"
version = 1
kind = "expression"
of = "pair"
length_unit = "mm"
notation = "inch"
level = 2
minutes = 3
title = "Spacing, the formula"
prompt = "Write C with N1, N2 and m."
hints = []

[question.givens]
driver_teeth = { from = 18, to = 30, step = 1 }
driven_teeth = { from = 40, to = 60, step = 1 }
module = { one_of = [2, 2.5, 3] }

[[question.answers]]
id = "centre_distance"
label = "C ="
asked = "centre_distance"
unit = "mm"
points = 1
symbols = ["driver_teeth", "driven_teeth", "module"]

[[question]]
id = "side"
version = 1
kind = "choice"
level = 1
minutes = 2
title = "Which side?"
prompt = "From which side is a direction given?"
hints = []

[[question.options]]
text = "the gear side"
right = true
says = "Yes."

[[question.options]]
text = "any side"
says = "Then the arrow says nothing."

[[question.options]]
text = "behind the plate"
says = "Nobody stands there."
"""


@pytest.fixture
def bank(tmp_path, monkeypatch):
    folder = tmp_path / "exercises" / "bench"
    folder.mkdir(parents=True)
    (folder / "bank.toml").write_text(BANK, encoding="utf-8")
    monkeypatch.setenv("GEARLAB_ANSWERS", str(tmp_path))
    return folder / "bank.toml"


@pytest.fixture
def numbers(monkeypatch):
    """The same numbers in every run: 123 and the like are then wrong, and no slip."""
    monkeypatch.setattr("secrets.token_hex", lambda size: "bench")


def say(box: Box, act: str | None = None, **texts: str) -> None:
    """Report as the front end does: the texts of the fields, and perhaps a button."""
    number = box.status.get("seen", 0) + 1
    report = {"n": number, "key": box.view["key"], "texts": {**box.texts, **texts}}
    box.set_state({"action": {**report, "act": act}} if act else {"draft": report})
    assert box.status["seen"] == number


def distance(box) -> float:
    """C = m (N1 + N2) / 2 (Mott, Machine Elements in Mechanical Design, 4th ed., sec. 8-5)."""
    values = box.draw.values
    return values["module"] * (values["driver_teeth"] + values["driven_teeth"]) / 2


def test_shows_the_question_and_a_stable_name(bank):
    box = ask(bank, "spacing")
    assert repr(box) == "AnswerBox('bench/spacing')"
    assert box.view["prompt"] == [box.draw.prompt] and "{" not in box.draw.prompt
    assert [field["unit"] for field in box.view["fields"]] == ["mm"]
    assert box.status["tries"] == "3 of 3 tries left"


def test_the_question_stands_as_text_before_the_widget(bank):
    twin = ask(bank, "spacing")._twin()
    assert box_text(twin) and "centre distance [mm]: ____" in twin["text/plain"]
    assert "&lt;b&gt;How far&lt;/b&gt;" in twin["text/html"] and "<b>" not in twin["text/html"]


def box_text(twin: dict) -> bool:
    return set(twin) == {"text/html", "text/plain"}


@pytest.mark.parametrize(
    "typed, echo",
    [("78.75", "read as 78.75 mm"), ("78,75 mm", "read as 78.75 mm"), ("315/4", "read as 78.75 mm")],
)
def test_says_what_it_read_before_any_verdict(bank, typed, echo):
    box = ask(bank, "spacing")
    say(box, centre_distance=typed)
    assert box.status["echoes"]["centre_distance"]["text"] == echo
    assert not box.status["verdicts"]


def test_offers_both_readings_of_an_ambiguous_comma(bank):
    box = ask(bank, "spacing")
    say(box, centre_distance="1,234")
    readings = box.status["echoes"]["centre_distance"]["readings"]
    assert [reading["label"] for reading in readings] == ["1.234 mm", "1234 mm"]
    for reading, value in zip(readings, (1.234, 1234.0)):
        understood = box.question.read("centre_distance", reading["text"])
        assert understood.value == value and not understood.alternatives, (
            "what a button writes is read in one way only"
        )


def test_an_ambiguous_comma_is_never_judged(bank):
    box = ask(bank, "spacing")
    say(box, "check", centre_distance="1,234")
    assert not box.verdicts and box.tries_left == 3
    assert box.status["verdicts"]["centre_distance"]["title"] == "Which number do you mean?"
    say(box, "check", centre_distance="1.234")
    assert box.verdicts and box.tries_left == 2


def test_says_why_a_text_cannot_be_read_and_takes_no_try(bank):
    box = ask(bank, "spacing")
    say(box, centre_distance="about seventy")
    assert box.status["echoes"]["centre_distance"]["tone"] == "problem"
    say(box, "check")
    assert box.verdicts["centre_distance"].kind == "cannot read" and box.tries_left == 3
    say(box, "check", centre_distance="")
    assert box.verdicts["centre_distance"].kind == "not answered" and box.tries_left == 3


def test_right_closes_the_question(bank):
    box = ask(bank, "spacing")
    say(box, "check", centre_distance=f"{distance(box)} mm")
    verdict = box.status["verdicts"]["centre_distance"]
    assert (verdict["tone"], verdict["symbol"], verdict["title"]) == ("right", "✓", "Right.")
    assert box.done and box.status["locked"] and not box.status["solution"]
    say(box, "solve")
    assert "<math" in box.status["solution"] and box.done


def wrong(box, share: float) -> str:
    """A wrong number that no slip leads to, and that is none of the others."""
    return f"{distance(box) * share:.5f}"


def test_three_tries_ask_then_tell_the_step_then_the_way(bank, numbers):
    box = ask(bank, "spacing")
    told = []
    for left, typed in ((2, 2 * distance(box)), (1, distance(box) / 2), (0, 10 * distance(box))):
        assert not box.status["solution"]
        say(box, "check", centre_distance=str(typed))
        assert box.tries_left == left
        told.append(box.status["verdicts"]["centre_distance"]["says"])
    assert told[0] == ["Did you add diameters instead of radii?"]
    assert told[1][0].startswith("Your number is half the centre distance: a radius for a diameter")
    assert "ten times too large" in told[2][0] and told[2][1].startswith("The way: ")
    assert not any(f"{distance(box):g}" in text for texts in told for text in texts)
    # the solution is offered, and a right answer still welcome
    assert not box.status["locked"] and not box.status["solution"]
    assert box.status["buttons"]["solve"]["words"] == "Show the solution"
    assert "worked solution" in box.status["tries"] and box.status["tries"] in box.status["said"]
    say(box, "check", centre_distance=str(distance(box)))
    assert box.done


def test_an_unrecognised_answer_starts_at_the_first_hint(bank, numbers):
    box = ask(bank, "spacing")
    for number, share in enumerate((1.8371, 1.7313), 1):
        say(box, "check", centre_distance=wrong(box, share))
        assert box.verdicts["centre_distance"].kind == "not recognised"
        assert box.status["verdicts"]["centre_distance"]["says"] == ["We do not recognise this mistake."]
        assert box.status["hints"] == ["Which circles touch?", "Add the radii."][:number]
        assert f"Hint {number}: {box.question.hints[number - 1]}" in box.status["said"]
        assert len(box.status["said"].split()) < 40
    say(box, "check", centre_distance=wrong(box, 1.6137))
    assert box.status["verdicts"]["centre_distance"]["says"][0].startswith("The way: ")


def test_a_hint_that_was_asked_for_is_not_told_again(bank, numbers):
    box = ask(bank, "spacing")
    say(box, "hint")
    say(box, "check", centre_distance=wrong(box, 1.8371))
    assert box.status["hints"] == ["Which circles touch?", "Add the radii."]


@pytest.mark.parametrize("write", ["{:.4f}", "{:.6f} mm", "{:.3e}", "+{:.4f}", "{:.4f}0 millimetres"])
def test_the_same_number_again_costs_nothing_and_is_told_so(bank, numbers, write):
    box = ask(bank, "spacing")
    say(box, "check", centre_distance="123")
    say(box, "check", centre_distance="124")
    assert box.tries_left == 1
    before = box.status["hints"]
    say(box, "check", centre_distance=write.format(123))
    assert box.tries_left == 1 and box.status["hints"] == before
    said = "You have already tried 123 mm: it does not count as a try."
    assert box.status["verdicts"]["centre_distance"]["says"][0] == said and said in box.status["said"]
    say(box, "check", centre_distance="12.3 cm")
    assert box.tries_left == 1, "the same length in another unit"
    again = ask(bank, "spacing")
    say(again, "check", centre_distance="123.0")
    assert again.tries_left == 1, "nor after a new start"


def test_the_same_formula_again_in_another_writing(bank):
    box = ask(bank, "formula")
    say(box, "check", centre_distance="m*(N1+N2)")
    assert box.tries_left == 2
    say(box, "check", centre_distance="N1*m + m*N2")
    assert box.tries_left == 2 and "already" in box.status["said"]


def test_a_right_answer_gets_the_idea(bank, numbers):
    box = ask(bank, "spacing")
    say(box, "check", centre_distance=str(distance(box)))
    [text] = box.status["verdicts"]["centre_distance"]["says"]
    assert "pitch circles touch" in text and text.count(".") == 1
    bank.write_text(BANK.replace('hints = ["Which', 'idea = "Circles that roll."\nhints = ["Which'))
    box = ask(bank, "spacing", number=1)
    say(box, "check", centre_distance=str(distance(box)))
    assert box.status["verdicts"]["centre_distance"]["says"] == ["Circles that roll."]


def test_without_a_lesson_the_notebook_tells_which(monkeypatch, numbers, tmp_path):
    monkeypatch.setenv("GEARLAB_ANSWERS", str(tmp_path))
    monkeypatch.setenv("JPY_SESSION_NAME", "/home/reader/workbook/07_contact.ipynb")
    assert ask().name == "07_contact"
    for name in ("/home/reader/workbook/00_start_here.ipynb", ""):
        monkeypatch.setenv("JPY_SESSION_NAME", name)
        with pytest.raises(ValueError, match=r'name the lesson: ask\("01_teeth_and_diameter"\).*07_contact'):
            ask()
    with pytest.raises(ValueError, match="lesson '3': .* did you mean 03_centre_distance"):
        ask(3)


TWO = """[[question.answers]]
id = "ratio"
label = "driver turns per driven turn"
asked = "ratio"
tolerance = { relative = 0.001 }
points = 1

[[question]]
id = "formula"
"""


def test_what_stood_there_before_is_said_in_short_and_an_idea_once(bank, numbers):
    text = BANK.replace('hints = ["Which', 'idea = "Circles that roll."\nhints = ["Which', 1)
    bank.write_text(text.replace('[[question]]\nid = "formula"\n', TWO, 1))
    box = ask(bank, "spacing")
    values = box.draw.values
    right = f"{values['driven_teeth'] / values['driver_teeth']:.4f}"  # turns: N2 / N1
    say(box, "check", centre_distance="123", ratio=right)
    assert "driver turns per driven turn: Right. Circles that roll." in box.status["said"]
    say(box, "check", centre_distance="124")
    said, looks = box.status["said"], box.status["verdicts"]
    assert looks["ratio"]["says"] == ["Circles that roll."], "it still stands there"
    assert "driver turns per driven turn: Right." in said and "roll" not in said, "and is not new"
    assert " ".join(looks["centre_distance"]["says"]) in said
    say(box, "check")
    assert "already" in box.status["said"] and "Circles that roll." in box.status["said"], "asked again: all"
    say(box, "check", centre_distance=str(distance(box)))
    says = [look["says"] for look in box.status["verdicts"].values()]
    assert says == [["Circles that roll."], []] and box.status["said"].count("roll") == 1
    assert ask(bank, "spacing").status["verdicts"]["ratio"]["says"] == [], "nor when it is opened again"


def test_what_is_said_is_what_is_seen(bank, numbers):
    box = ask(bank, "spacing")
    for typed in (2 * distance(box), -distance(box), 1.7313 * distance(box), distance(box)):
        say(box, "check", centre_distance=str(typed))
        look = box.status["verdicts"]["centre_distance"]
        seen = ["centre distance:", look["title"], look["note"], *look["says"], box.status["tries"]]
        rest = box.status["said"]
        for text in filter(None, seen):
            assert text in rest
            rest = rest.replace(text, "", 1)
        for number, hint in enumerate(box.status["hints"], 1):
            rest = rest.replace(f"Hint {number}: {hint}", "")
        assert not rest.strip(), "nothing is said that is not seen"


def test_all_draws_stay_with_their_answers(bank, numbers):
    box = ask(bank, "spacing")
    for number in range(3):
        say(box, "check", centre_distance=str(100 + number))
        say(box, "renew")
    assert box.number == 3
    for number in range(3):
        again = ask(bank, "spacing", number=number)
        assert again.texts == {"centre_distance": str(100 + number)} and again.tries_left == 2
    say(again, "renew")
    assert again.number == 4, "numbers that were not had before"
    stored = json.loads(box.answers.path.read_text(encoding="utf-8"))["answers"]["bench/spacing"]
    assert set(stored["draws"]) == {"0", "1", "2", "3", "4"} and stored["number"] == 4


def test_an_older_answers_file_is_read(bank, numbers):
    box = ask(bank, "spacing")
    typed = {"centre_distance": str(2 * distance(box))}
    old = {"version": 1, "number": 0, "texts": typed, "checked": typed, "tries": 1, "shown": 1}
    box.answers.clear("bench/spacing")
    box.answers.put("bench/spacing", done=False, solved=False, **old)
    again = ask(bank, "spacing")
    assert again.texts == typed and again.tries_left == 2 and len(again.status["hints"]) == 1
    assert again.status["verdicts"]["centre_distance"]["says"] == ["Did you add diameters instead of radii?"]
    say(again, "renew")
    assert ask(bank, "spacing", number=0).texts == typed


def test_answers_to_a_changed_question_stay_kept(bank):
    say(ask(bank, "spacing"), "check", centre_distance="80")
    bank.write_text(BANK.replace('id = "spacing"\nversion = 1', 'id = "spacing"\nversion = 2'))
    box = ask(bank, "spacing")
    say(box, centre_distance="90")
    stored = json.loads(box.answers.path.read_text(encoding="utf-8"))["answers"]["bench/spacing"]
    assert stored["earlier"]["1"]["0"]["texts"] == {"centre_distance": "80"}
    assert stored["draws"]["0"]["texts"] == {"centre_distance": "90"}


def test_tries_hints_and_causes_are_recorded(bank, numbers, tmp_path):
    box = ask(bank, "spacing")
    say(box, "check", centre_distance=str(2 * distance(box)))
    say(box, "check", centre_distance=str(2 * distance(box)) + " mm")
    say(box, "hint")
    say(box, "check", centre_distance="abc")
    say(box, "check", centre_distance=str(distance(box)))
    say(box, "solve")
    say(box, "renew")
    lines = attempts(tmp_path)
    assert [line["event"] for line in lines] == ["answer", "hint", "answer", "solution", "new numbers"]
    assert {(line["bank"], line["question"], line["version"]) for line in lines} == {("bench", "spacing", 1)}
    first, _, last = lines[:3]
    assert (first["answer"], first["verdict"], first["cause"]) == ("centre_distance", "listed slip", "nohalf")
    assert (first["share"], first["try"], first["hints"], first["solution"]) == (0.5, 1, 0, False)
    assert (last["verdict"], last["cause"], last["share"], last["try"], last["hints"]) == (
        "right",
        "",
        1,
        2,
        1,
    )
    assert [line["draw"] for line in lines] == [0, 0, 0, 0, 1]


def test_a_verdict_goes_when_the_answer_is_changed(bank):
    box = ask(bank, "spacing")
    say(box, "check", centre_distance="1")
    assert box.status["verdicts"]
    say(box, centre_distance="12")
    assert not box.status["verdicts"]


def test_hints_come_one_at_a_time(bank):
    box = ask(bank, "spacing")
    assert box.status["buttons"]["hint"]["words"] == "Hint 1 of 2" and not box.status["hints"]
    say(box, "hint")
    assert (
        box.status["hints"] == ["Which circles touch?"]
        and box.status["buttons"]["hint"]["words"] == "Hint 2 of 2"
    )
    say(box, "hint")
    say(box, "hint")
    assert len(box.status["hints"]) == 2 and box.status["buttons"]["hint"]["off"]
    assert ask(bank, "formula").status["buttons"]["hint"]["hidden"]


def test_giving_up_shows_the_solution(bank):
    box = ask(bank, "spacing")
    assert box.status["buttons"]["solve"]["words"] == "Give up: show the solution"
    say(box, "solve")
    assert box.status["locked"] and f"{distance(box):g}" in box.status["solution"]


def test_new_numbers_start_afresh(bank, monkeypatch):
    # another reader might draw the same numbers twice
    monkeypatch.setattr("secrets.token_hex", lambda size: "bench")
    box = ask(bank, "spacing")
    before, key = box.draw.prompt, box.view["key"]
    say(box, "check", centre_distance="1")
    say(box, "renew")
    assert box.number == 1 and box.draw.prompt != before and box.view["key"] != key
    assert box.tries_left == 3 and not any(box.view["texts"].values()) and not box.status["verdicts"]


def test_everything_is_back_after_a_new_start(bank, numbers):
    box = ask(bank, "spacing")
    say(box, "renew")
    say(box, "hint")
    say(box, "check", centre_distance="1")
    say(box, centre_distance="7")
    again = ask(bank, "spacing")
    assert again.number == 1 and again.draw.prompt == box.draw.prompt
    assert (
        again.view["texts"] == {"centre_distance": "7"}
        and again.tries_left == 2
        and len(again.status["hints"]) == 2  # the one asked for, and the next one at the wrong try
    )
    assert again.status["saved"] == "✓ your earlier answer is back"
    say(box, "check", centre_distance=str(distance(box)))
    again = ask(bank, "spacing")
    assert again.done and again.status["verdicts"]["centre_distance"]["kind"] == "right"


def test_a_file_somebody_edited_does_no_harm(bank):
    box = ask(bank, "spacing")
    box.answers.put("bench/spacing", number=-4, texts=["?"], tries="many", shown=99, checked=3, done=0)
    again = ask(bank, "spacing")
    assert again.number == 0 and again.tries_left == 3 and len(again.status["hints"]) == 2


def test_a_damaged_answers_file_is_set_aside_and_said(bank, tmp_path):
    (tmp_path / "gearlab-answers.json").write_text('{"answers": {"bench/sp')
    box = ask(bank, "spacing")
    assert "set aside as" in box.status["trouble"]
    say(box, centre_distance="80")
    assert not box.status["trouble"] and ask(bank, "spacing").texts["centre_distance"] == "80"


def test_a_changed_question_starts_afresh(bank):
    box = ask(bank, "spacing")
    say(box, centre_distance="80")
    bank.write_text(
        BANK.replace('id = "spacing"\nversion = 1', 'id = "spacing"\nversion = 2'), encoding="utf-8"
    )
    assert not any(ask(bank, "spacing").texts.values())


def test_reports_are_data_not_trusted(bank):
    box = ask(bank, "spacing")
    box.set_state(
        {
            "draft": {
                "n": 1,
                "key": box.view["key"],
                "texts": {"centre_distance": "9" * 9999, "done": "yes", "tries": 5},
            }
        }
    )
    assert set(box.texts) == {"centre_distance"} and len(box.texts["centre_distance"]) == 80
    box.set_state({"draft": {"n": 2, "key": "another question", "texts": {"centre_distance": "5"}}})
    assert box.status["seen"] == 2 and box.texts["centre_distance"] != "5"
    for broken in (
        {},
        {"n": "3"},
        {"n": 3, "key": box.view["key"], "texts": None},
        {"n": 4, "key": box.view["key"], "texts": {"centre_distance": 5}},
    ):
        box.set_state({"draft": broken})
    box.set_state({"action": {"n": 5, "key": box.view["key"], "texts": {}, "act": "_save"}})
    assert box.status["seen"] == 5 and box.tries_left == 3


def test_a_folder_that_cannot_be_written_is_said(bank, monkeypatch):
    box = ask(bank, "spacing")

    def refuse(*_args, **_fields):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(box.answers, "put", refuse)
    say(box, centre_distance="80")
    assert box.status["trouble"].startswith("not saved:") and "cannot be written" in box.status["trouble"]


def test_reports_from_several_threads_lose_nothing(bank):
    boxes = [ask(bank, "spacing"), ask(bank, "formula")]
    threads = [
        threading.Thread(target=lambda box=box: [say(box, centre_distance=str(n)) for n in range(40)])
        for box in boxes
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert [ask(bank, name).texts["centre_distance"] for name in ("spacing", "formula")] == ["39", "39"]


def test_an_expression_is_shown_as_it_was_typed(bank):
    box = ask(bank, "formula")
    say(box, centre_distance="2*m*(N1+N2)/4")
    html = box.status["echoes"]["centre_distance"]["html"]
    assert "<mfrac>" in html and "<mn>4</mn>" in html, "not tidied up"
    say(box, "check")
    assert box.done
    assert box.status["buttons"]["renew"] == {"words": "Start again", "off": False}
    say(ask(bank, "formula", number=1), centre_distance="<img src=x onerror=alert(1)>")


def test_what_a_reader_typed_never_becomes_markup(bank):
    box = ask(bank, "formula")
    say(box, "check", centre_distance="<img src=x>")
    assert "html" not in box.status["echoes"]["centre_distance"]


def test_a_choice_has_two_tries_and_room_for_a_reason(bank):
    box = ask(bank, "side")
    assert [field["kind"] for field in box.view["fields"]] == ["choice", "text"]
    right = next(letter for letter, text in box.draw.options if text == "the gear side")
    wrong = next(letter for letter, text in box.draw.options if text == "any side")
    say(box, "check", choice=wrong, reason="no idea")
    assert box.tries_left == 1 and box.status["verdicts"]["choice"]["says"] == [
        "Then the arrow says nothing."
    ]
    say(box, "check", choice=wrong)
    assert box.tries_left == 1, "the same choice again"
    say(box, "check", choice=right)
    assert box.done and ask(bank, "side").texts["reason"] == "no idea"
    assert box.status["verdicts"]["choice"]["says"] == ["Yes."]


def test_two_wrong_choices_close_a_question_that_can_be_guessed(bank, tmp_path):
    box = ask(bank, "side")
    for text in ("any side", "behind the plate"):
        say(box, "check", choice=next(letter for letter, option in box.draw.options if option == text))
    assert box.closed and not box.done and box.status["solution"] and box.status["locked"]
    assert [line["event"] for line in attempts(tmp_path)] == ["answer", "answer", "solution"]
    assert ask(bank, "side").status["solution"]


def test_a_hint_that_the_tutor_opens_is_recorded_after_its_try(bank, numbers, tmp_path):
    box = ask(bank, "spacing")
    say(box, "check", centre_distance=wrong(box, 1.8371))
    answer, hint = attempts(tmp_path)
    assert (answer["hints"], answer["verdict"], answer["cause"]) == (0, "not recognised", "")
    assert (hint["event"], hint["hints"]) == ("hint", 1)


@pytest.mark.parametrize(
    "lesson, question, number, words",
    [
        ("03_centre_distanze", "spacing-metric", None, "03_centre_distance"),
        ("03_centre_distance", "spacing-metrik", None, "did you mean spacing-metric"),
        ("07_contact", "contact_ratio", None, "did you mean contact-ratio"),
        ("07_contact", "ratio", None, "did you mean contact-ratio"),
        ("03_centre_distance", "zzz", None, 'ask("03_centre_distance") lists'),
        ("contact", None, None, "did you mean 07_contact?"),
        ("03_centre_distance", "spacing-metric", -1, "0 to 999999"),
        ("03_centre_distance", "spacing-metric", True, "whole number"),
    ],
)
def test_a_wrong_name_gets_a_helpful_error(bank, lesson, question, number, words):
    with pytest.raises(ValueError, match=re.escape(words)):
        ask(lesson, question, number=number)


def test_without_a_question_those_of_the_lesson_are_listed(bank, numbers):
    say(ask(bank, "spacing"), "check", centre_distance=str(distance(ask(bank, "spacing"))))
    say(ask(bank, "formula"), "check", centre_distance="m*N1")
    listed = ask(bank)
    assert listed.rows == (
        ("spacing", "Spacing", "1", "4", "done"),
        ("formula", "Spacing, the formula", "2", "3", "tried"),
        ("side", "Which side?", "1", "2", ""),
    )
    assert "3 questions of bench" in str(listed) and 'ask("bench", "spacing")' in str(listed)
    html = listed._repr_html_()
    assert html.count("<tr>") == 4 and html.count('scope="row"') == 3
    say(ask(bank, "spacing"), "renew")
    assert ask(bank).rows[0][-1] == "done", "though another draw is on the screen"


def test_why_a_design_cannot_be_judged_is_told_once(bank):
    box = ask("16_choosing_tooth_counts", "design-a-hunting-pair")
    say(box, "check", driver_teeth="eighteen", driven_teeth="47")
    rows = box.status["conditions"]
    assert len(rows) == 4 and all("could not be read" in row["title"] for row in rows)
    assert sum("write one in digits" in row["says"] for row in rows) == 1
    assert box.tries_left == 3
    say(box, "check", driver_teeth="", driven_teeth="")
    assert [row["says"] for row in box.status["conditions"]] == ["Nothing was typed here.", "", "", ""]


def test_the_solution_of_several_ticks_says_what_is_to_be_ticked(bank):
    """16 teeth are undercut, the hub is too large and the screw stands out of a wall of 11 mm."""
    box = ask("18_design_review", "which-lines-fail")
    say(box, "solve")
    items = re.findall(r"<li><strong>.\) (.*?)</strong>: (.*?)\.", box.status["solution"])
    ticked = {text for text, state in items if state == "to be ticked"}
    assert ticked == {"no undercut", "hub below the root circle", "screw below the surface"}
    assert {state for text, state in items if text not in ticked} == {"not to be ticked"}


# -- predictions --


def test_a_prediction_is_recorded_once_and_shown_again(bank):
    box, later = predict("bench/turn", "Which way?", ["left", "right"]), look_back("bench/turn")
    assert "No prediction" in later.view["prompt"][0]
    say(box, "record")
    assert not box.recorded and "guess is welcome" in box.status["said"]
    say(box, text="2", because="I turned a pencil")
    say(box, "record")
    assert box.recorded and box.status["locked"] and "verdicts" not in box.status
    assert later.view["prompt"] == ["Which way?", "You predicted: right", "Because: I turned a pencil"]
    say(box, text="1")
    assert look_back("bench/turn").view["prompt"][1] == "You predicted: right"
    say(later, seen="it was left")
    assert look_back("bench/turn").texts["seen"] == "it was left"
    assert predict("bench/turn", "Which way?", ["left", "right"]).status["locked"]


def test_a_prediction_in_words(bank):
    box = predict("bench/free", "What happens?", because=False)
    say(box, "record", text="it rattles")
    assert look_back("bench/free").view["prompt"][1] == "You predicted: it rattles"


@pytest.mark.parametrize(
    "key, question, options",
    [("", "?", None), ("a", " ", None), ("a", "?", ["one"]), ("a", "?", ["one", "one"])],
)
def test_a_prediction_needs_words_and_options(bank, key, question, options):
    with pytest.raises(ValueError):
        predict(key, question, options)


# -- marked work --


def sheet(**changes) -> dict:
    questions = [
        {
            "id": "spacing-inch",
            "version": 2,
            "kind": "number",
            "title": "Spacing",
            "prompt": "How far?",
            "points": 2,
            "givens": {"driver_teeth": "18"},
            "answers": [
                {
                    "id": "centre_distance",
                    "label": "centre distance",
                    "unit": "in",
                    "asked": "centre_distance",
                    "symbols": [],
                }
            ],
        },
        {
            "id": "formula",
            "version": 1,
            "kind": "expression",
            "title": "Formula",
            "prompt": "Write C.",
            "points": 1,
            "givens": {},
            "answers": [
                {
                    "id": "centre_distance",
                    "label": "C",
                    "unit": "in",
                    "asked": "centre_distance",
                    "symbols": ["N1", "N2", "P"],
                }
            ],
        },
        {
            "id": "side",
            "version": 1,
            "kind": "choice",
            "title": "Side",
            "prompt": "Which side?",
            "points": 1,
            "givens": {},
            "reason": True,
            "answers": [{"id": "choice", "label": "your choice", "unit": "", "asked": ""}],
            "options": ["gear side", "behind"],
        },
    ]
    return {
        "gearlab": "hand-out",
        "edition": 1,
        "set": "homework-1",
        "title": "Homework 1",
        "student": "00123",
        "packet": "7QK2-M9XD",
        "file": "HAND-IN_homework-1_00123.json",
        "questions": questions,
        **changes,
    }


def kept(tmp_path) -> dict:
    return json.loads((tmp_path / "HAND-IN_homework-1_00123.json").read_text(encoding="utf-8"))


def test_marked_work_is_echoed_and_saved_and_never_judged(bank, tmp_path):
    work = hand_in(json.dumps(sheet()))
    box = hand_in_box(work, "spacing-inch")
    say(box, centre_distance="3,15")
    assert box.status["echoes"]["centre_distance"]["text"] == "read as 3.15 in"
    assert "verdicts" not in box.status and not box.view["buttons"]
    say(hand_in_box(work, "side"), choice="2", reason="because")
    file = kept(tmp_path)
    assert file["answers"] == {
        "spacing-inch": {"centre_distance": "3,15"},
        "side": {"choice": "2", "reason": "because"},
    }
    assert (file["gearlab"], file["edition"], file["set"], file["student"], file["packet"]) == (
        "hand-in",
        1,
        "homework-1",
        "00123",
        "7QK2-M9XD",
    )
    assert (
        file["saved"] == 2
        and file["versions"]["spacing-inch"] == 2
        and file["givens"]["spacing-inch"] == {"driver_teeth": "18"}
    )
    assert "How far?" in box.view["name"] and box.view["prompt"] == []


def test_marked_work_is_back_after_a_new_start(bank, tmp_path):
    say(hand_in_box(hand_in(sheet()), "spacing-inch"), centre_distance="3.15")
    again = hand_in(sheet())
    assert hand_in_box(again, "spacing-inch").texts == {"centre_distance": "3.15"} and again.saved == 1
    assert kept(tmp_path)["saved"] == 1, "looking does not save"


def test_the_last_cell_lists_what_is_missing(bank):
    work = hand_in(sheet())
    status = work.status()
    assert status.status["items"] == [
        "Spacing, centre distance: still empty",
        "Formula, C: still empty",
        "Side: still empty",
    ]
    assert "HAND-IN_homework-1_00123.json" in status._twin()["text/plain"]
    say(hand_in_box(work, "spacing-inch"), centre_distance="abc")
    assert "cannot be read" in status.status["items"][0]
    say(hand_in_box(work, "spacing-inch"), centre_distance="3.15")
    say(hand_in_box(work, "formula"), centre_distance="(N1+N2)/(2*P)")
    say(hand_in_box(work, "side"), choice="1")
    assert status.status["items"] == [] and "nothing is missing" in status.status["summary"]


def test_a_file_of_another_sheet_is_never_overwritten(bank, tmp_path):
    say(hand_in_box(hand_in(sheet()), "spacing-inch"), centre_distance="3.15")
    with pytest.raises(ValueError, match="belongs to another sheet"):
        hand_in(sheet(packet="ANOTHER"))
    assert kept(tmp_path)["answers"]["spacing-inch"] == {"centre_distance": "3.15"}


def test_a_damaged_file_is_set_aside(bank, tmp_path):
    (tmp_path / "HAND-IN_homework-1_00123.json").write_text('{"gearlab": "hand-in", "answ')
    work = hand_in(sheet())
    assert work.answers == {} and len(list(tmp_path.glob("HAND-IN_*_damaged_*.json"))) == 1


def test_a_reader_without_rights_is_told(bank, tmp_path, monkeypatch):
    box = hand_in_box(hand_in(sheet()), "spacing-inch")

    def refuse(*_args):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "replace", refuse)
    say(box, centre_distance="3")
    assert box.status["trouble"].startswith("not saved:")
    assert [path.name for path in tmp_path.glob(".*")] == [], "no temporary file is left behind"


@pytest.mark.parametrize(
    "change",
    [
        {"gearlab": "something"},
        {"edition": 2},
        {"student": ""},
        {"file": "../HAND-IN_x.json"},
        {"file": "notes.json"},
        {"questions": []},
        {"questions": [{"id": "a", "title": "A", "prompt": "?", "kind": "essay", "answers": [{"id": "x"}]}]},
        {
            "questions": [
                {"id": "a", "title": "A", "prompt": "?", "kind": "choice", "answers": [{"id": "choice"}]}
            ]
        },
    ],
)
def test_a_damaged_sheet_is_refused(bank, change):
    with pytest.raises(ValueError, match="damaged"):
        hand_in(sheet(**change))


def test_text_that_is_no_sheet_is_refused(bank):
    with pytest.raises(ValueError, match="damaged"):
        hand_in("[" * 100_000)
    with pytest.raises(ValueError, match="is not on this sheet"):
        hand_in_box(hand_in(sheet()), "spacing-ich")


def test_what_a_box_saves_is_what_marking_reads(bank, tmp_path):
    from gearlab.practice.handin import RETURNED_NAME, read_hand_in

    work = hand_in(sheet())
    say(hand_in_box(work, "spacing-inch"), centre_distance="3.15 in")
    say(hand_in_box(work, "side"), choice="2", reason="seen from the gears")
    read = read_hand_in(work.path.read_bytes())
    assert RETURNED_NAME.fullmatch(work.path.name)["id"] == "00123"
    assert (read.set, read.student, read.packet, read.saved) == ("homework-1", "00123", "7QK2-M9XD", 2)
    assert (
        read.answers["spacing-inch"]["centre_distance"] == "3.15 in"
        and read.answers["side"]["reason"] == "seen from the gears"
    )


def test_every_reader_has_numbers_of_their_own_and_finds_them_again(bank, tmp_path, monkeypatch):
    mine = ask(bank, "spacing").draw.prompt
    assert ask(bank, "spacing").draw.prompt == mine
    prompts = {mine}
    for bench in range(6):
        monkeypatch.setenv("GEARLAB_ANSWERS", str(tmp_path / f"bench-{bench}"))
        prompts.add(ask(bank, "spacing").draw.prompt)
    assert len(prompts) > 3  # seven readers; equal draws are possible, seven equal ones are not
