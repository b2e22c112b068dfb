"""What was handed out stays marked as it was: a frozen course against the code of today.

The expected points and verdicts are our own output, on purpose and only here: they are what students were
told on the day the course was frozen. Whether they are right is proved elsewhere, against published values. A
verdict that an issue changes on purpose is listed in changes.toml, question by question; DEVELOPERS.md says
how.
"""

import gc
import hashlib
import json
import tomllib
from collections import Counter

import frozencourse as frozen
import pytest

from gearlab.practice import KINDS
from gearlab.widgets.handin import hand_in, hand_in_box

# The archive and the records as they were committed. A new course gets a folder and a row of its own; no row
# ever changes.
COURSES = {
    "2026-11-29": {
        "course.zip": "46bf62be071da65aefd6abff2ec3d819fb0ad6ca29ba2aea8940b84fb7c66a7d",
        "marks.json": "4db3cb2e1db57d66d81a1bd726491e6a7cd0f454c485cf4408dacc9b5d17d20a",
        "rest.json": "c28fa25980c2a985203e48d74539f6e7fca47656d0d35ed291ed28ada37f22a8",
    },
}
DATES = list(COURSES)
GONE = ""  # in changes.toml: what was told then is not told any more
SETS = [
    (date, name)
    for date in DATES
    for name in json.loads((frozen.FOLDER / date / "marks.json").read_text(encoding="utf-8"))
]


@pytest.fixture(scope="module", autouse=True)
def no_collecting():
    """A third of the time would go into looking for garbage among the expressions of 277 questions."""
    gc.disable()
    yield
    gc.enable()


@pytest.fixture(scope="module")
def laid_out(tmp_path_factory):
    """Every frozen course, unpacked when it is first asked for."""
    places = {}

    def place(date):
        if date not in places:
            places[date] = frozen.lay_out(frozen.FOLDER / date / "course.zip", tmp_path_factory.mktemp(date))
        return places[date]

    return place


def recorded(date, file="marks.json"):
    return json.loads((frozen.FOLDER / date / file).read_text(encoding="utf-8"))


def listed(date):
    """(set, question > answer, student) to what is told now, for every change on purpose."""
    path = frozen.FOLDER / date / "changes.toml"
    found = {}
    for change in tomllib.loads(path.read_text(encoding="utf-8")).get("change", []):
        assert set(change) == {
            "issue",
            "set",
            "question",
            "answer",
            "reason",
            "now",
        }, f"{path}: each change has these fields: {change}"
        assert isinstance(change["issue"], int) and len(change["reason"]) > 20 and change["now"], (
            f"{path}: say why: {change}"
        )
        for student, now in change["now"].items():
            place = change["set"], f"{change['question']} > {change['answer']}", student
            assert place not in found, f"{path}: {place} stands twice"
            found[place] = now
    return found


def compare(date, name, was, now):
    """Every difference is listed, and everything listed is different."""
    expected, wrong = {place: value for place, value in listed(date).items() if place[0] == name}, []
    assert not {place[1] for place in expected} - set(was), (
        f"changes.toml of {date} names questions that are not in {name}"
    )
    for answer in was.keys() | now.keys():
        old, new = was.get(answer, {}), now.get(answer, {})
        for student in old.keys() | new.keys():
            change = expected.pop((name, answer, student), None)
            given = new.get(student, GONE)
            if change is not None and change == old.get(student, GONE):
                wrong.append(
                    f"{name} > {answer}, {student}: listed in changes.toml, but that is what was told then"
                )
            elif given != (old.get(student, GONE) if change is None else change):
                wrong.append(
                    f"{name} > {answer}, {student}: then {json.dumps(old.get(student, GONE))}, now"
                    f" {json.dumps(given)}"
                    + ("" if change is None else f", listed in changes.toml as {json.dumps(change)}")
                )
    wrong += [f"{place}: listed in changes.toml, but there is no such answer" for place in expected]
    assert not wrong, "marked otherwise than when it was handed out:\n" + "\n".join(sorted(wrong))


def flat(marks):
    return {
        f"{question} > {answer}": verdicts
        for question, answers in marks.items()
        for answer, verdicts in answers.items()
    }


@pytest.mark.parametrize("date", DATES)
def test_nothing_frozen_was_made_again(date):
    for file, digest in COURSES[date].items():
        found = hashlib.sha256((frozen.FOLDER / date / file).read_bytes()).hexdigest()
        assert found == digest, (
            f"{file} of {date} was changed: bring the committed one back, and list changed verdicts in"
            " changes.toml"
        )


@pytest.mark.parametrize("date, name", SETS)
def test_every_hand_in_is_marked_as_then(laid_out, date, name):
    place = laid_out(date)
    if name != frozen.HOMEWORK:
        marks, moved = frozen.marks_of_bank(place, name)
        assert not moved, f"other numbers are drawn than were handed out: {moved}"
        compare(date, name, recorded(date)[name], flat(marks))
        return
    marks, lists = frozen.marks_of_homework(place)
    compare(date, name, recorded(date)[name], flat(marks))
    was = recorded(date, "rest.json")["homework"]
    assert {kind: lists[kind] for kind in was} == was
    book = {row["id"]: float(row["points"]) for row in lists["book"] if row["points"]}
    # the gradebook holds what the answers earned
    assert book == pytest.approx(lists["totals"], abs=0.005 + 1e-9)
    assert len(book) == was["marked"] and len(lists["book"]) == 30


@pytest.mark.parametrize("date", DATES)
def test_every_sheet_is_drawn_as_then(laid_out, date):
    place = laid_out(date)
    maker = frozen.maker_of(place, frozen.HOMEWORK)
    sheets = json.loads((place / "sheets.json").read_text(encoding="utf-8"))
    students = {one.id: one for one in frozen.read_roster(place / "own" / "roster.csv")}
    assert len(sheets) == 30
    for identity, sheet in sheets.items():
        again = json.loads(json.dumps(maker.sheet(students[identity], maker.tasks(identity))))
        assert frozen.sheet_bones(again) == frozen.sheet_bones(sheet), identity


@pytest.mark.parametrize("date", DATES)
def test_a_notebook_of_then_still_works(laid_out, date):
    """The sheet in a student's notebook opens with what was typed before, and saves a hand-in that is marked."""  # noqa: E501
    place = laid_out(date)
    notebooks = sorted((place / "notebooks").glob("*.ipynb"))
    assert notebooks
    for path in notebooks:
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
        source = "".join(next(cell["source"] for cell in cells if cell["id"] == "sheet"))
        data = json.loads(source.split("r'''")[1].split("'''")[0])
        sheet = hand_in(data, folder=place / "came in" / frozen.HOMEWORK)
        saved = json.loads(sheet.path.read_text(encoding="utf-8"))
        assert sheet.saved == saved["saved"] and sheet.answers == saved["answers"]
        for question in data["questions"]:
            box = hand_in_box(sheet, question["id"])
            assert box.texts == saved["answers"][question["id"]] and "back" in box.note


@pytest.mark.parametrize("date", DATES)
def test_saved_practice_answers_are_judged_as_then(laid_out, date):
    was, now = recorded(date, "rest.json")["answers on disk"], frozen.answers_on_disk(laid_out(date))
    assert set(was) == set(now)
    told = {
        name: {f"verdicts > {answer}": {"reader": verdict} for answer, verdict in one.pop("verdicts").items()}
        for name, one in was.items()
    }
    for name, one in now.items():
        compare(
            date,
            name,
            told[name],
            {f"verdicts > {answer}": {"reader": verdict} for answer, verdict in one.pop("verdicts").items()},
        )
    assert now == was


def within(was, now):
    """Whether all that was read is read the same; a table of a later day may have more fields.

    Since 2026-11-29 a design may have several racks and planetary sets: what was one or none is a list.
    """
    if isinstance(now, list) and not isinstance(was, list):
        return not now if was is None else len(now) == 1 and within(was, now[0])
    if isinstance(was, dict):
        return isinstance(now, dict) and all(
            name in now and within(value, now[name]) for name, value in was.items()
        )
    if isinstance(was, list):
        return isinstance(now, list) and len(was) == len(now) and all(map(within, was, now))
    return type(was) is type(now) and (
        was == pytest.approx(now, rel=1e-12) if isinstance(was, float) else was == now
    )


@pytest.mark.parametrize("date", DATES)
def test_designs_are_read_and_reviewed_as_then(laid_out, date):
    was, now = recorded(date, "rest.json")["designs"], frozen.designs(laid_out(date))
    assert set(was) == set(now) and len(was) > 2
    for file in was:
        findings = [
            {
                "findings > review": {
                    " | ".join((name, where)): grade for name, grade, where in one.pop("findings")
                }
            }
            for one in (was[file], now[file])
        ]
        compare(date, file, *findings)
        assert within(was[file]["read"], now[file]["read"]), f"{file} is read otherwise"
        assert now[file]["gears"] == was[file]["gears"]


# Kinds of verdict of questions that no course of then could ask: reasons and readings came with issue 13.
NEWER = {"marked", "not marked", "not plausible", "outside the bands"}


@pytest.mark.parametrize("date", DATES)
def test_the_course_holds_all_there_is(laid_out, date):
    """Every question of the banks of then, with every kind of verdict, right and wrong."""
    place, marks = laid_out(date), recorded(date)
    kinds = Counter(
        verdict[0]
        for answers in marks.values()
        for verdicts in answers.values()
        for verdict in verdicts.values()
    )
    assert set(kinds) == set(KINDS) - NEWER and min(kinds.values()) >= 20, kinds
    # carried on
    assert (
        sum(
            verdict[3]
            for answers in marks.values()
            for verdicts in answers.values()
            for verdict in verdicts.values()
        )
        > 50
    )
    questions = Counter()
    for name, answers in marks.items():
        if name != frozen.HOMEWORK:
            students = {}
            for answer, verdicts in answers.items():
                for student, verdict in verdicts.items():
                    students.setdefault(answer.split(" > ")[0], {}).setdefault(student, []).append(
                        verdict[0] == "right"
                    )
            questions[name] = len(students)
            for question, results in students.items():
                assert (
                    sum(map(all, results.values())) and sum(not all(one) for one in results.values()) >= 2
                ), f"{name} {question}"
    assert questions.total() == 277 and len(questions) == 18
    assert {
        task["kind"]
        for sheet in json.loads((place / "sheets.json").read_text(encoding="utf-8")).values()
        for task in sheet["questions"]
    } == {"number", "expression", "choice", "design"}


def test_the_comparison_sees_a_difference_and_a_stale_listing(monkeypatch):
    """The rule itself: an unlisted change, a listed one that is none, and a listed one that is as listed."""
    was, now = (
        {"q > a": {"1": ["right", 1.0, [], False], "2": ["close", 0.75, ["close"], False]}},
        {"q > a": {"1": ["close", 0.75, ["close"], False], "2": ["close", 0.75, ["close"], False]}},
    )
    for changes, fails in (
        ({}, True),
        ({("s", "q > a", "1"): ["close", 0.75, ["close"], False]}, False),
        (
            {
                ("s", "q > a", "1"): ["close", 0.75, ["close"], False],
                ("s", "q > a", "2"): ["close", 0.75, ["close"], False],
            },
            True,
        ),
        (
            {
                ("s", "q > a", "1"): ["close", 0.75, ["close"], False],
                ("s", "q > a", "3"): ["right", 1.0, [], False],
            },
            True,
        ),
        ({("s", "other > a", "1"): ["right", 1.0, [], False]}, True),
    ):
        monkeypatch.setattr(f"{__name__}.listed", lambda date, changes=changes: changes)
        if fails:
            with pytest.raises(AssertionError):
                compare("", "s", was, now)
        else:
            compare("", "s", was, now)
