"""Care before the act: what the table says is what lessons, questions, notes, sheets and files say."""

import json
import re
import tomllib
from pathlib import Path

import pytest

from gearlab import care
from gearlab.course.bench.sheets import CARE, SHORT_CARE
from gearlab.drawing import cutting
from gearlab.parts.review import ledger

ROOT = Path(__file__).parents[1]
LESSONS = sorted((ROOT / "notebooks").glob("[0-9]*.ipynb"))
BANKS = sorted((ROOT / "exercises").glob("*/bank.toml"))
#: The house's own notices: OSHA 1910.212 (guards at points of operation and nip points), 1910.147 (lock-out),
#: 1910.219 (projecting shaft ends, keys and set screws), from memory. Each hazard named there has a row.
NAMED_BY_RULES = {
    "turning": "pinch", "powering": "guard", "shafts": "projecting", "set-screws": "locked off",
    "drilling": "goggles", "cutting": "exhaust",
}  # fmt: skip


def _texts(lesson):
    for number, cell in enumerate(json.loads(lesson.read_text(encoding="utf-8"))["cells"]):
        yield number, cell["cell_type"], "".join(cell["source"])


def test_each_row_is_whole():
    for row in care.TABLE:
        assert re.fullmatch(r"[a-z]+(-[a-z]+)*", row.act) and row.words and row.hazard
        assert row.sentence.endswith(".") and row.sentence[0].isupper() and not row.hazard.endswith(".")
        assert care.LOCAL in care.line(row.act) and care.MARK in care.block(row.act)
    assert len(set(care.ACTS)) == len(care.ACTS)


@pytest.mark.parametrize(("act", "word"), NAMED_BY_RULES.items())
def test_hazards_of_the_workplace_rules_have_their_row(act, word):
    assert word in care.line(act)


def test_an_unknown_act_is_refused_with_the_nearest():
    with pytest.raises(ValueError, match="did you mean 'drilling'"):
        care.block("driling")
    with pytest.raises(ValueError, match="names its acts"):
        care.block()


def test_signs_find_work_and_leave_talk_alone():
    assert care.named_in("Before you cut, drill the plate.") == ("drilling", "cutting")
    assert care.named_in("Turn the crank with a drill driver") == ("turning", "powering")
    for talk in (
        "The laser-cut wheel has 45 teeth.",
        "Which tap drill does the rule give?",
        "It does not matter, laser cutters cut exactly",
        "Someone has drilled the plate at 80.00 mm.",
    ):
        assert care.named_in(talk) == (), talk


@pytest.mark.parametrize("lesson", LESSONS, ids=lambda path: path.stem)
def test_the_mark_stands_on_blocks_of_the_table_and_nowhere_else(lesson):
    for number, kind, text in _texts(lesson):
        if care.MARK not in text:
            continue
        assert kind == "markdown", f"cell {number}: {care.MARK} in code"
        acts = care.acts_of(text)
        assert acts and text.strip() == care.block(*acts), f"cell {number} is not care.block{acts}"


@pytest.mark.parametrize("lesson", LESSONS, ids=lambda path: path.stem)
def test_care_comes_before_the_act(lesson):
    cared = set()
    for number, _, text in _texts(lesson):
        if number == 0:
            continue  # the heading tells what the lesson is about; nobody begins there
        cared |= set(care.acts_of(text)) if care.MARK in text else set()
        late = set(care.named_in(text)) - cared
        assert not late, f"cell {number} asks for {sorted(late)} without its care before it"


@pytest.mark.parametrize("bank", BANKS, ids=lambda path: path.parent.name)
def test_a_question_with_work_in_it_begins_with_its_care(bank):
    for question in tomllib.loads(bank.read_text(encoding="utf-8"))["question"]:
        missing = set(care.named_in(question["prompt"])) - set(question.get("care", []))
        assert not missing, f"{question['id']}: care = {sorted(missing)}"


def test_notes_begin_their_part_on_safety_with_the_same_sentence():
    for notes in (ROOT / "exercises").glob("[0-9]*/notes.md"):
        assert care.NOTES in " ".join(notes.read_text(encoding="utf-8").split()), notes.parent.name


def test_sheets_files_and_review_say_the_table_s_sentences():
    for act in ("cutting", "turning", "powering", "strength", "review"):
        assert care.of(act).sentence in CARE
    assert care.short("turning", "powering") == SHORT_CARE and "\n" not in SHORT_CARE
    assert care.acts_of(cutting.CARE) == ("cutting", "printing", "turning", "powering")
    assert care.of("review").sentence in ledger.CARE


def test_a_question_of_a_bank_shows_its_care_first(tmp_path):
    from gearlab.practice import load_bank
    from gearlab.practice.tables import BankError

    text = BANKS[0].read_text(encoding="utf-8")
    first = re.search(r'^title = "', text[text.index("[[question]]") :], re.MULTILINE).start()
    place = text.index("[[question]]") + first
    good = text[:place] + 'care = ["drilling", "turning"]\n' + text[place:]
    (tmp_path / "bank.toml").write_text(good, encoding="utf-8")
    question = next(iter(load_bank(tmp_path / "bank.toml").questions.values()))
    shown, _, prompt = question.draw("anna").prompt.partition("\n\n")
    assert shown == care.page_text("drilling", "turning") and prompt
    (tmp_path / "bank.toml").write_text(good.replace('"drilling"', '"driling"'), encoding="utf-8")
    with pytest.raises(BankError, match="did you mean 'drilling'"):
        load_bank(tmp_path / "bank.toml")
