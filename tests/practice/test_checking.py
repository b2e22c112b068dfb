"""Checking a bank finds what is wrong with it."""

import math

import pytest

from gearlab.practice import check_bank
from gearlab.practice.checks.keys import solved_numerically
from gearlab.theory.derivation import derive


def found(path):
    return check_bank(path, draws=12)


def test_a_good_bank_has_no_problems(bank_file):
    assert found(bank_file()) == []


SLIP = 'formula = "module * (driver_teeth + driven_teeth)"'
PLANTED = [
    ([('hints = ["a", "b", "c"]', 'hints = ["a"]')], "hints: there are 1; write 3"),
    ([("to = 30, step = 1", "to = 30, step = 5")], "no whole number of steps"),
    ([(SLIP, 'formula = "module * sqrt(driver_teeth - driven_teeth)"')], "none of 6000 draws is fair"),
    ([("credit = 0.5", 'credit = 0.5\nwhere = ["module > 5"]')], "the slip never applies"),
    ([("credit = 0.5", "credit = 1")], "credit must be below 1"),
    (
        [("[question.givens]", 'where = ["driver_teeth > driven_teeth"]\n[question.givens]')],
        "none of 6000 draws is fair",
    ),
    ([(SLIP, 'formula = "module * (driver_teeth + driven_teeth) / 2"')], "none of 6000 draws is fair"),
    (
        [
            ("module = { one_of = [1.5, 2, 2.5, 3] }\n", ""),
            (" of module {module} mm", ""),
            ("module * (driver_teeth", "2 * (driver_teeth"),
        ],
        "cannot be derived",
    ),
    (
        [
            (
                "[question.givens]",
                'where = ["driver_teeth == 18 and driven_teeth < 35 and module == 2"]\n[question.givens]',
            )
        ],
        "draws are needed for fair numbers",
    ),
]


@pytest.mark.parametrize("changes, says", PLANTED, ids=range(len(PLANTED)))
def test_a_planted_fault_is_found(bank_file, changes, says):
    assert any(says in line and "spacing" in line for line in found(bank_file(*changes)))


def test_a_key_that_does_not_solve_its_relations_is_found(bank_file, monkeypatch):
    from gearlab.practice.answer import Answer

    plain = Answer.unrounded
    monkeypatch.setattr(Answer, "unrounded", lambda self, *numbers: plain(self, *numbers) * 1.000001)
    assert any("does not solve the relations" in line and "module = " in line for line in found(bank_file()))


def test_faults_of_expression_and_choice_questions(bank_file):
    text = """
[bank]
title = "T"
lesson = "1"
[[question]]
id = "formula"
kind = "expression"
of = "gear"
title = "T"
prompt = "P"
[question.givens]
teeth = { from = 18, to = 30, step = 1 }
module = { one_of = [2, 3] }
pressure_angle = { one_of = [20, 25] }
[[question.answers]]
asked = "pitch_diameter"
symbols = ["teeth", "module", "pressure_angle"]
[[question.answers.slips]]
name = "same"
title = "T"
formula = "module * teeth"
says = "S"
[[question]]
id = "twins"
kind = "choice"
title = "T"
prompt = "P"
[[question.options]]
text = "one"
right = true
[[question.options]]
text = "one"
"""
    lines = found(bank_file(text=text))
    assert any("formula" in line and "pressure_angle does not stand in the answer" in line for line in lines)
    assert any("slips.same" in line and "'right'" in line for line in lines)
    assert any("twins" in line and "same text" in line for line in lines)


def test_relations_solved_without_the_closed_form():
    # 18 and 45 teeth, module 2.5: 78.75 mm; backwards, 45 teeth from the distance; an angle from an arc
    # cosine.
    forward = derive("centre_distance", ["driver_teeth", "driven_teeth", "module"], length_unit="mm")
    assert solved_numerically(
        forward, {"driver_teeth": 18, "driven_teeth": 45, "module": 2.5}
    ) == pytest.approx(78.75, rel=1e-9)
    back = derive("driven_teeth", ["centre_distance", "driver_teeth", "module"], length_unit="mm")
    assert solved_numerically(
        back, {"centre_distance": 78.75, "driver_teeth": 18, "module": 2.5}
    ) == pytest.approx(45, rel=1e-9)
    base = derive("base_pitch", ["module", "pressure_angle"], length_unit="mm")
    # 2.5 pi cos 20
    assert solved_numerically(base, {"module": 2.5, "pressure_angle": math.radians(20)}) == pytest.approx(
        7.380328585, rel=1e-9
    )
    letter = derive("module", ["whole_depth"], kind="gear", length_unit="mm")
    assert solved_numerically(letter, {"whole_depth": 5.625}) == pytest.approx(2.5, rel=1e-9)  # 2.25 modules
