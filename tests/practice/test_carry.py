"""A wrong earlier answer carried on, against formulas written apart from the library.

Source: the worked answers of the project (tests/practice/data/carries.toml), each verified by a second
evaluator. What the student goes on from is wrong by a few per cent or a fifth, or twice too many where it is
a count.
"""

import itertools
import math
import sys
import tomllib
from pathlib import Path

import pytest
from algebra import worked_out

from gearlab.contents import content_folder
from gearlab.practice import check_bank, load_bank

sys.path.insert(0, str(Path(__file__).parents[1] / "bench"))
import carried  # noqa: E402

CARRIES = tomllib.loads((Path(__file__).parent / "data" / "carries.toml").read_text(encoding="utf-8"))[
    "carry"
]


def typed(number):
    return f"{number:.9g}" if abs(number) >= 1e-4 else f"{number:.12f}"


def own_number(question, answer_id, draw, own, share):
    """A wrong earlier number; where it follows from the one before, as it does by the worked answer."""
    for carry in CARRIES:
        mine = (carry["question"], carry["answer"]) == (question.id, answer_id)
        if mine and set(carry["earlier"].values()) <= set(own):
            space = {symbol: own[one] for symbol, one in carry["earlier"].items()}
            space |= {symbol: draw.values[word] for symbol, word in carry["symbols"].items()}
            return worked_out(carry["formula"], space)
    key = draw.keys[[answer.id for answer in question.answers].index(answer_id)]
    return key * 2 if question.answer(answer_id).whole else key * share


@pytest.mark.parametrize("carry", CARRIES, ids=[f"{one['question']}-{one['answer']}" for one in CARRIES])
def test_a_wrong_earlier_answer_is_carried_on_as_the_worked_answer_does(carry, banks):
    question = banks[carry["bank"]][carry["question"]]
    ids = [answer.id for answer in question.answers]
    credited = tried = 0
    for number, share in itertools.product(range(4), (1.04, 0.97, 1.2)):
        draw = question.draw("carry", number)
        keys = dict(zip(ids, draw.keys))
        given = {symbol: draw.values[word] for symbol, word in carry["symbols"].items()}
        own = {}
        for place, answer_id in enumerate(sorted(carry["earlier"].values(), key=ids.index)):
            own[answer_id] = float(typed(own_number(question, answer_id, draw, own, share + place / 20)))
        space = given | {symbol: own[answer_id] for symbol, answer_id in carry["earlier"].items()}
        try:
            follows = worked_out(carry["formula"], space)
        except (ValueError, ZeroDivisionError):
            continue
        answer = question.answer(carry["answer"])
        if answer.accepts(follows, keys[answer.id]) or follows == 0 or follows in own.values():
            continue  # nothing to carry on: it comes to the right number
        if (follows < 0 and not answer.signed) or follows != follows:
            continue
        tried += 1
        texts = {one: typed(value) for one, value in own.items()} | {answer.id: typed(follows)}
        verdict = question.judge(draw, texts)[answer.id]
        credited += verdict.right and verdict.carried
    assert credited == tried, (credited, tried)
    assert tried >= 1


def test_nearly_all_consistent_later_answers_are_credited():
    found = carried.credited(draws=1)
    hits = [hit for these in found.values() for hit in these]
    assert len(hits) > 400 and sum(hits) / len(hits) >= carried.GOAL
    assert {"wrong sign", "twice", "one more"} <= {name.partition(": ")[2] for _, _, name in found}


def test_every_answer_of_the_banks_that_carries_has_a_proof():
    for folder in sorted(path.parent for path in content_folder("exercises").glob("[0-9]*/bank.toml")):
        for question in load_bank(folder):
            for answer in question.answers if question.kind == "number" else ():
                assert not answer.carries or answer.table.proof, (folder.name, question.id, answer.id)


def test_a_wrong_sign_followed_consistently_earns_the_later_points(banks):
    # n3 = -n2 N2 / N3: with the sign of the second gear wrong, the third one's comes out wrong too
    question = banks["05_idlers_and_trains"]["idler-speeds"]
    draw = question.draw("carry", 0)
    second, third = draw.keys
    verdicts = question.judge(draw, {"second_speed": typed(-second), "third_speed": typed(-third)})
    assert verdicts["second_speed"].kind == "wrong sign" and not verdicts["second_speed"].right
    assert verdicts["third_speed"].right and verdicts["third_speed"].carried


def test_an_operating_angle_goes_on_from_the_own_distance_and_the_standard_one(banks):
    # cos phi' = C cos phi / C', C from the counts (textbook relation), C' the student's own
    folder = next(carry["bank"] for carry in CARRIES if carry["question"] == "pulled-apart")
    question = banks[folder]["pulled-apart"]
    draw = question.draw("carry", 1)
    given = draw.values
    standard = given["module"] * (given["driver_teeth"] + given["driven_teeth"]) / 2
    own = round(draw.keys[0] * 1.01, 4)
    angle = math.degrees(math.acos(standard * math.cos(math.radians(given["pressure_angle"])) / own))
    verdicts = question.judge(draw, {"centre_distance": typed(own), "operating_pressure_angle": typed(angle)})
    assert not verdicts["centre_distance"].right
    assert verdicts["operating_pressure_angle"].carried


BANK = """
[bank]
title = "Vent drive"
lesson = "03"
[[question]]
id = "q"
of = "pair"
length_unit = "mm"
title = "T"
prompt = "All in mm."
hints = ["One.", "Two.", "Three."]
[question.givens]
driver_teeth = { one_of = [18, 19] }
driven_teeth = { one_of = [45, 53] }
module = { one_of = [2.5] }
[[question.answers]]
asked = "driver_pitch_diameter"
[[question.answers]]
asked = "driven_pitch_diameter"
[[question.answers]]
asked = "centre_distance"
LINE
"""


@pytest.mark.parametrize(
    "line, says",
    [
        ('uses = ["driver_pitch_diameter", "driven_pitch_diameter"]', None),
        ('carry = "(driver_pitch_diameter + driven_pitch_diameter) / 2"', None),
        ('carry = "driver_pitch_diameter + driven_pitch_diameter"', "mend its carry"),
        ('carry = "module * (driver_teeth + driven_teeth) / 2 + 0 * driver_pitch_diameter"', "does not move"),
        ('proof = "driver_pitch_diameter / 2 + driven_pitch_diameter / 2"', None),
        # right of the right answers alone: the later answer moves otherwise than that
        ('proof = "driver_pitch_diameter / 2 + module * driven_teeth / 2"', "by its proof: mend its carry"),
        ('proof = "driver_pitch_diameter + driven_pitch_diameter"', "proof: comes to"),
        (
            'carry = "driver_pitch_diameter / 2 + module * driven_teeth / 2"\n'
            'proof = "(driver_pitch_diameter + driven_pitch_diameter) / 2"',
            "by its proof: mend its carry",
        ),
    ],
)
def test_checking_proves_each_carry(tmp_path, line, says):
    path = tmp_path / "bank.toml"
    path.write_text(BANK.replace("LINE", line), encoding="utf-8")
    problems = [
        problem
        for problem in check_bank(path, draws=6)
        if any(word in problem for word in ("carr", "move", "proof"))
    ]
    assert (problems == []) if says is None else (len(problems) == 1 and says in problems[0]), problems


def test_earlier_answers_on_the_way_are_cut_into_it_though_the_bank_names_none(tmp_path):
    path = tmp_path / "bank.toml"
    path.write_text(BANK.replace("LINE", ""), encoding="utf-8")
    question = load_bank(path)["q"]
    draw = question.draw("x")
    own = {"driver_pitch_diameter": 50.0, "driven_pitch_diameter": 120.0}
    verdicts = question.judge(
        draw, {name: typed(value) for name, value in own.items()} | {"centre_distance": "85"}
    )
    assert verdicts["centre_distance"].carried  # (50 + 120) / 2
    verdicts = question.judge(draw, {"driver_pitch_diameter": "50", "centre_distance": "85"})
    assert not verdicts["centre_distance"].right
