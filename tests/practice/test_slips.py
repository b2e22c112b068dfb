"""Every wrong answer that the project has collected is recognised in the banks of the lessons.

Source of every wrong formula: collection of wrong answers of the project, each formula verified by a second
evaluator (tests/practice/data/slips_*.toml).
"""

import tomllib
from pathlib import Path

import pytest
from algebra import worked_out

FOLDER = Path(__file__).parent / "data"
SLIPS = [
    slip
    for path in sorted(FOLDER.glob("slips_*.toml"))
    for slip in tomllib.loads(path.read_text(encoding="utf-8"))["slip"]
]
QUESTIONS = {
    b["id"]: b
    for path in sorted(FOLDER.glob("worked_*.toml"))
    for b in tomllib.loads(path.read_text(encoding="utf-8"))["worked"]
}
DRAWS = 12


@pytest.mark.parametrize("slip", SLIPS, ids=[f"{s['worked']}-{s['answer']}-{s['name']}" for s in SLIPS])
def test_a_wrong_answer_is_named(slip, banks):
    place = QUESTIONS[slip["worked"]]
    question = banks[place["bank"]][place["question"]]
    index = [answer.id for answer in question.answers].index(slip["answer"])
    tried = 0
    for number in range(DRAWS):
        draw = question.draw(seed="slips", number=number)
        numbers = {symbol: draw.values[word] for symbol, word in slip["symbols"].items()}
        if not all(worked_out(condition, numbers) for condition in slip.get("where", [])):
            continue
        wrong, key = worked_out(slip["closed_form"], numbers), draw.keys[index]
        tried += 1
        verdict = question.judge(draw, {slip["answer"]: f"{wrong:.7g}"})[slip["answer"]]
        assert verdict.kind in (
            "listed slip",
            "another quantity",
            "ordinary slip",
            "wrong sign",
            "wrong unit",
        ), (draw.values, wrong, key, verdict)
        assert verdict.kind in ("wrong sign", "wrong unit") or slip["name"] in [
            cause.name for cause in verdict.causes
        ], (draw.values, wrong, verdict)
        assert not verdict.right and verdict.points < verdict.out_of
    assert tried >= DRAWS // 3
