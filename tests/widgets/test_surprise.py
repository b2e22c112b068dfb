"""The surprise waits for the prediction, and what is said afterwards comes from the lesson's file."""

from __future__ import annotations

import json

import pytest
from IPython.core.interactiveshell import InteractiveShell
from IPython.utils.capture import capture_output

from gearlab import Gear, Mesh
from gearlab.practice.workbook.attempts import attempts
from gearlab.practice.workbook.predictions import prediction_of
from gearlab.practice.workbook.progress import Answers
from gearlab.widgets import living, look_back, predict, surprise
from gearlab.widgets.surprise import SurpriseBox

KEY = "07_contact/ten-teeth"
FILE = prediction_of(KEY)
TOLD = "With 10 teeth, 1.09 is left"


@pytest.fixture
def reader(answers_folder, monkeypatch):
    """A reader in a notebook: nothing recorded yet, and no test that opens every surprise."""
    monkeypatch.delenv("GEARLAB_TEST", raising=False)
    InteractiveShell.instance()
    yield answers_folder
    InteractiveShell.clear_instance()


def press(box, act, **texts):
    number = box.status.get("seen", 0) + 1
    box.set_state(
        {"action": {"n": number, "key": box.view["key"], "texts": {**box.texts, **texts}, "act": act}}
    )


def shown_by(call, *given, **named):
    """What a call gives back, everything it publishes (data, place, whether it replaces), what it prints."""
    published = []
    shell = InteractiveShell.instance()

    def publish(data, metadata=None, source=None, *, transient=None, update=False, **_rest):
        published.append((data, (transient or {}).get("display_id"), update))

    with capture_output() as taken, pytest.MonkeyPatch.context() as patch:
        patch.setattr(shell.display_pub, "publish", publish)
        value = call(*given, **named)
    return value, published, taken.stdout


def measured():
    print("1.55 and 1.09")
    return {10: 1.09}


def test_it_waits_and_gives_its_value_at_once(reader):
    value, published, printed = shown_by(surprise, KEY, measured)
    assert value == {10: 1.09} and "1.09" not in printed
    words = json.dumps([data for data, _, _ in published], ensure_ascii=False)
    assert "Your prediction comes first" in words and "1.09" not in words
    assert [data for data, _, _ in published][-2:] == [{}, {}], "a place each for the print and the words"


def test_a_reason_alone_is_no_prediction_where_there_are_options(reader):
    box = predict(KEY)
    press(box, "record", because="17.77")
    assert not box.recorded and "Choose an option first" in box.said
    free = predict("07_contact/own", "How many pairs of teeth touch?")
    press(free, "record")
    assert not free.recorded and "Write something first" in free.said


def test_it_opens_when_the_prediction_is_recorded(reader):
    box = predict(KEY)
    assert box.question == FILE.question and box.options == FILE.choices
    _, waiting, _ = shown_by(surprise, KEY, measured)
    _, published, _ = shown_by(press, box, "record", text="1")
    places = [place for data, place, _ in waiting if data == {}]
    opened = {place: data for data, place, update in published if update}
    assert [list(opened[place].values())[0].strip() for place in places][0] == "1.55 and 1.09"
    assert opened[places[1]]["text/markdown"] == FILE.surprise and TOLD in FILE.surprise
    gates = [data for data, place, _ in published if place == waiting[0][1]]
    assert gates and not any(data["text/plain"] or "<p>" in data["text/html"] for data in gates), (
        "the gate's text goes"
    )
    assert all("<style" in data["text/html"] for data in gates), "what hides the line of a lost widget stays"
    [predicted] = attempts(reader)
    assert (predicted["event"], predicted["bank"], predicted["question"]) == (
        "predicted",
        "07_contact",
        "ten-teeth",
    )

    value, published, printed = shown_by(surprise, KEY, measured)
    assert value == {10: 1.09} and printed == "1.55 and 1.09\n", "from now on nothing waits"
    assert not any(update for *_, update in published) and published[0][0]["text/markdown"] == FILE.surprise


def test_it_opens_without_a_prediction_when_asked(reader):
    surprises = []
    boxes = SurpriseBox.__init__

    def remember(self, *given, **named):
        boxes(self, *given, **named)
        surprises.append(self)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(SurpriseBox, "__init__", remember)
        shown_by(surprise, KEY, measured)
        shown_by(surprise, KEY, text="undercut")
    later = look_back(KEY)
    assert "No prediction" in later.view["prompt"][0] and "held" not in " ".join(later.view["prompt"])
    _, published, _ = shown_by(press, surprises[0], "open")
    words = json.dumps([data for data, _, _ in published], ensure_ascii=False)
    assert TOLD in words and "undercut" in words, "all that wait for this prediction open"
    assert surprises[0].status["summary"] == surprises[0].status["said"] != ""
    assert surprises[0].status["buttons"]["open"] == {"off": True, "hidden": False}, "the focus is on it"
    assert surprises[1].status["buttons"]["open"]["hidden"]
    assert [row["event"] for row in attempts(reader)] == ["opened"], "and nobody has read the end yet"
    assert later.view["prompt"][1:] == ["You looked without a prediction.", *FILE.told()]
    press(surprises[0], "open")
    assert len(attempts(reader)) == 1, "it is opened once"


def test_one_surprise_a_lesson(reader, monkeypatch):
    """The gates after the first are a line; a cell that is run again keeps its own."""

    def shown_in(cell: str, call, *given, **named) -> str:
        shell = InteractiveShell.instance()
        message = {"metadata": {"cellId": cell}}
        monkeypatch.setattr(shell, "get_parent", lambda: message, raising=False)
        _, published, _ = shown_by(call, *given, **named)
        return json.dumps([data for data, _, _ in published if data], ensure_ascii=False)

    for _ in range(2):
        assert "Your prediction comes first" in shown_in("cell-4", surprise, KEY, measured)
        later = shown_in("cell-5", surprise, KEY, text="undercut")
        assert "More of the surprise" in later and "Your prediction" not in later
    box = predict(KEY)
    _, published, _ = shown_by(press, box, "record", text="1")
    words = json.dumps([data for data, _, _ in published], ensure_ascii=False)
    assert TOLD in words and prediction_of(KEY).text("undercut").split()[0] in words


def pictured(data):
    return "gl-still" in data.get("text/html", "")


def test_pictures_wait_too(reader):
    picture = living(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), playing=False)
    box = predict(KEY)
    for what in (picture, lambda: picture):
        value, published, _ = shown_by(surprise, KEY, what, text="")
        assert value is None and not any(pictured(data) for data, _, _ in published)
    _, published, _ = shown_by(press, box, "record", text="2")
    assert sum(pictured(data) for data, *_ in published) == 2


def test_a_run_as_a_test_opens_it(reader, monkeypatch):
    monkeypatch.setenv("GEARLAB_TEST", "1")
    value, published, printed = shown_by(surprise, KEY, measured)
    assert value == {10: 1.09} and "1.09" in printed and published[0][0]["text/markdown"] == FILE.surprise
    assert not attempts(reader) and not Answers().all()


def test_an_error_in_the_function_is_not_hidden(reader):
    with pytest.raises(ZeroDivisionError):
        shown_by(surprise, KEY, lambda: 1 / 0)


@pytest.mark.parametrize("option", FILE.options, ids=lambda option: option.text[:20])
def test_look_back_says_what_held_and_why_the_other_tempts(reader, option):
    box, later = predict(KEY), look_back(KEY)
    press(box, "record", text=str(FILE.choices.index(option.text) + 1), because="I guess")
    told = later.view["prompt"]
    assert told[:3] == [FILE.question, f"You predicted: {option.text}", "Because: I guess"]
    assert told[3:] == FILE.told(option.text) and option.says in told[3]
    assert told[3].startswith("That held." if option.held else "That did not hold.")
    assert any(text.startswith("What held: It is much smaller") for text in told) is not option.held
    assert look_back(KEY).view["prompt"] == told, "and so it is found again"
    press(later, "", seen="1.09 it was")
    assert look_back(KEY).texts["seen"] == "1.09 it was"


@pytest.mark.parametrize(
    "call, told",
    [
        (lambda: predict("07_contact/ten-tooth"), "near: ten-teeth"),
        (lambda: surprise("07_contact/ten-tooth"), "near: ten-teeth"),
        (lambda: look_back("07_contact/ten-tooth"), "near: ten-teeth"),
        (lambda: surprise(KEY, text="undercuts"), "near: undercut"),
        (lambda: predict("07_contacts/ten-teeth"), "did you mean 07_contact"),
        (lambda: predict("a/b", options=["x", "y"]), "without its question"),
    ],
)
def test_a_near_name_is_told(reader, call, told):
    with pytest.raises(ValueError, match=told):
        call()


def test_a_folder_that_cannot_be_written_opens_it_all_the_same(reader, monkeypatch):
    box = predict(KEY)

    def refuse(*_given, **_named):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Answers, "put", refuse)
    shown_by(press, box, "record", text="1")
    assert "cannot be written" in box.status["trouble"] and box.status["locked"]
