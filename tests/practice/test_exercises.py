"""The banks, sets and notes of the lessons as a whole."""

import re

import pytest

from gearlab.contents import content_folder
from gearlab.practice import check_bank, load_bank, load_set

EXERCISES = content_folder("exercises")
FOLDERS = sorted(path.parent.name for path in EXERCISES.glob("[0-9][0-9]_*/bank.toml"))
FIRST = FOLDERS[:4]  # lessons 01 to 04
# Two length units may meet only where the question is about changing from one to the other.
CONVERSIONS = {
    "equivalent-module",
    "equivalent-pitch",
    "near-miss-pitches",
    "inch-gears-metric-plate",
    "ratio-two-units",
}
INCH, METRIC = {"in", "1/in", "ft/min"}, {"mm", "m/s"}


@pytest.mark.parametrize("folder", FOLDERS)
def test_a_bank_has_no_problems(folder):
    assert check_bank(EXERCISES / folder, draws=30) == []


@pytest.mark.parametrize("folder", FOLDERS)
def test_every_question_has_three_hints_and_minutes(folder):
    for question in load_bank(EXERCISES / folder):
        assert len(question.hints) == 3, question.id
        assert 1 <= question.minutes <= 12 and 1 <= question.level <= 5, question.id


@pytest.mark.parametrize("folder", FOLDERS)
def test_hints_never_hold_a_number_of_the_key(folder):
    for question in load_bank(EXERCISES / folder):
        if question.kind != "number":
            continue
        for number in range(20):
            keys = [f"{abs(key):.4g}" for key in question.draw(seed="hints", number=number).keys]
            for hint in question.hints:
                assert not set(re.findall(r"\d+(?:\.\d+)?", hint)) & set(keys), (question.id, hint)


@pytest.mark.parametrize("folder", FOLDERS)
def test_one_unit_system_in_a_question(folder):
    for question in load_bank(EXERCISES / folder):
        if question.kind == "choice":
            continue
        units = {answer.unit for answer in question.answers} | {
            given.unit for given in question.draw(seed="units").givens
        }
        assert (bool(units & INCH) and bool(units & METRIC)) == (question.id in CONVERSIONS), (
            question.id,
            units,
        )


@pytest.mark.parametrize("folder", FOLDERS)
def test_fine_pitches_stay_out(folder):
    # Common practice: from P = 20 on, inch gears have fine-pitch proportions, so a full-depth key would be
    # wrong.
    for question in load_bank(EXERCISES / folder):
        for number in range(30):
            values = question.draw(seed="pitch", number=number).values if question.kind != "choice" else {}
            assert values.get("diametral_pitch", 0) < 20 and values.get("mate_diametral_pitch", 0) < 20, (
                question.id
            )


def test_homework_1():
    homework = load_set(EXERCISES / "sets" / "homework_1.toml")
    assert (homework.name, homework.use, len(homework), homework.points) == ("homework-1", "marked", 10, 20)
    assert {entry.bank_path.parent.name for entry in homework} == set(FIRST)
    kinds = [entry.question.kind for entry in homework]
    assert kinds.count("expression") >= 1 and kinds.count("choice") >= 1
    assert any(len(entry.question.answers) > 1 for entry in homework)
    assert not {entry.question.id for entry in homework} & CONVERSIONS
    assert 40 <= sum(entry.question.minutes for entry in homework) <= 90


def test_practice_1():
    practice = load_set(EXERCISES / "sets" / "practice_1.toml")
    assert (practice.name, practice.use, len(practice)) == ("practice-1", "practice", 12)
    assert {entry.bank_path.parent.name for entry in practice} == set(FIRST)


# number of the homework: questions, points, lessons
HOMEWORKS = {
    2: (9, 19, {"05_idlers_and_trains"}),
    3: (10, 20, {"06_why_the_involute", "07_contact"}),
    4: (9, 20, {"08_backlash", "09_lining_up_the_teeth"}),
    5: (9, 20, {"16_choosing_tooth_counts", "17_measuring"}),
    6: (10, 20, {"10_on_the_plate", "11_hub_bore_key", "12_power_and_tooth_load"}),
    7: (10, 20, {"13_rack_and_pinion", "14_mitre_and_bevel", "15_planetary_sets"}),
    8: (7, 20, {"18_design_review"}),
}


@pytest.mark.parametrize("number", HOMEWORKS)
def test_later_homeworks(number):
    questions, points, lessons = HOMEWORKS[number]
    homework = load_set(EXERCISES / "sets" / f"homework_{number}.toml")
    assert (homework.name, homework.use, len(homework), homework.points) == (
        f"homework-{number}",
        "marked",
        questions,
        points,
    )
    assert {entry.bank_path.parent.name for entry in homework} == lessons
    kinds = [entry.question.kind for entry in homework]
    assert kinds.count("expression") >= 1 and kinds.count("choice") >= 1
    assert any(len(entry.question.answers) > 1 for entry in homework)
    assert 40 <= sum(entry.question.minutes for entry in homework) <= 90


@pytest.mark.parametrize("folder", FOLDERS)
def test_notes_name_only_questions_that_exist(folder):
    text = (EXERCISES / folder / "notes.md").read_text(encoding="utf-8")
    bank = load_bank(EXERCISES / folder)
    named = re.findall(r"`([a-z0-9]+(?:-[a-z0-9]+)+)`", text) + re.findall(r'\["([a-z0-9-]+)"\]', text)
    assert named
    for name in named:
        assert name in bank, name
