"""Answers by a formula of the bank's own: numbers, proof, solution, slips and what is carried on."""

import math

import pytest

from gearlab.practice import check_bank, load_bank
from gearlab.practice.typed.reading import in_unit, read_number
from gearlab.practice.typed.units import OWN_SPELLINGS

BANK = """
[bank]
title = "Blanks"
lesson = "own"

[[question]]
id = "blank"
of = "gear"
title = "Mass of the blank"
prompt = "A disc of {outside_diameter} mm, {face_width} wide, of {density} g/cm³, bored {bore}: mass, weight?"
hints = ["a", "b", "c"]

[question.givens]
outside_diameter = { from = 60, to = 120, step = 5 }
face_width = { one_of = [8, 10, 12] }
bore = { one_of = [0, 10, 12], local = true, unit = "mm", symbol = "d_b" }
density = { one_of = [7.85, 2.7], local = true, unit = "g/cm^3", label = "density", symbol = "rho" }

[[question.answers]]
id = "mass"
label = "mass of the blank"
symbol = "M"
formula = "density * pi / 4 * (outside_diameter^2 - bore^2) * face_width / 1e6"
proof = "outside_diameter == sqrt(4e6 * mass / (pi * density * face_width) + bore^2)"
unit = "kg"
range = { from = 0.02, to = 2 }
rule = "Mass is density times volume."
points = 2

[[question.answers]]
id = "weight"
label = "weight of the blank"
symbol = "W"
formula = "9.81 * mass"
proof = "mass == weight / 9.81"
unit = "N"
range = { from = 0.2, to = 20 }
"""


@pytest.fixture
def blank(bank_file):
    return load_bank(bank_file(text=BANK))["blank"]


# EN 10060, round steel bars at 7.85 kg/dm³: 100 mm weighs 61.7 kg for a metre (from memory), 10 mm 0.617 kg
STEEL = {"outside_diameter": "100", "face_width": "10", "bore": "0", "density": "7.85"}


def test_numbers_units_and_solution(bank_file, blank):
    assert check_bank(bank_file(text=BANK), draws=40) == []
    draw = blank.draw_with(STEEL)
    assert draw.keys[0] == pytest.approx(0.617, abs=0.0005)
    assert draw.keys[1] == pytest.approx(0.617 * 9.81, abs=0.005)
    for typed in ("0.617 kg", "617 g", "0,6165", "1.359 lb"):  # 1 lb = 0.45359237 kg (NIST SP 811)
        assert blank.judge(draw, {"mass": typed})["mass"].right, typed
    assert blank.judge(draw, {"mass": "617 mm"})["mass"].kind == "wrong unit"
    text = blank.solution(draw, "text")
    # the formula, the numbers with their units, the result
    assert "M = π·ρ·F·(d_o^2 - d_b^2)/4000000" in text and "(7.85 g/cm³)·10 mm" in text and "W = 9.81" in text
    assert "0.616538 kg" in text and "Mass is density times volume." in blank.solution(draw, "html")
    assert blank.sheet(draw)["answers"][1]["asked"] == "weight"
    assert [(given.label, given.shown) for given in draw.givens][2:] == [
        ("bore, d_b", "0 mm"),
        ("density, ρ", "7.85 g/cm³"),
    ]
    assert "_own_" not in repr([blank.solution(draw, form) for form in ("text", "markdown", "html")])


def test_slips_are_edits_of_the_formula_and_a_wrong_mass_is_carried_on(blank):
    draw = blank.draw_with({**STEEL, "bore": "15", "face_width": "12"})
    rho, outside, width, bore = 7.85e-6, 100, 12, 15
    for wrong, name in (
        (rho * math.pi / 2 * (outside**2 - bore**2) * width, "twice"),
        (rho * math.pi / 4 * (outside**2 + bore**2) * width, "sign (mass)"),
        (rho * math.pi / 4 * (outside**2 - bore**2), "without face_width (mass)"),
        (math.pi / 4 * (outside**2 - bore**2) * width / 1e6, "without density (mass)"),
    ):
        verdict = blank.judge(draw, {"mass": f"{wrong:.6g}", "weight": f"{9.81 * wrong:.6g}"})
        assert [cause.name for cause in verdict["mass"].causes] == [name]
        assert "density times volume" in verdict["mass"].sentence
        assert verdict["weight"].right and verdict["weight"].carried


def spoiled(old, new):
    assert old in BANK
    return BANK.replace(old, new, 1)


@pytest.mark.parametrize(
    "old, new, says",
    [
        (
            "face_width / 1e6",
            "face_width / 1e5",
            ["answers.mass", "proof", "outside_diameter = ", "mend the"],
        ),
        ("pi / 4 *", "pi *", ["proof", "face_width = "]),
        (
            'proof = "mass == weight / 9.81"',
            'proof = "mass * 9.81"',
            ["weight", "once more", "proves nothing"],
        ),
        ('proof = "mass == weight / 9.81"', 'proof = "weight == weight"', ["holds for other answers too"]),
        ('proof = "mass == weight / 9.81"', 'proof = "mass / (bore - bore)"', ["has no value", "density = "]),
        ('proof = "mass == weight / 9.81"\n', "", ["answers.weight: proof: a second formula"]),
        ("to = 2 }\nrule", "to = 0.1 }\nrule", ["range", "outside 0.02 to 0.1", "where"]),
        ("range = { from = 0.2, to = 20 }", "", ["answers.weight: range", "from = 0.1"]),
        ("9.81 * mass", "9.81 * mas", ["answers.weight: formula", "near: mass"]),
        ("9.81 * mass", "nearest(9.81 * mass)", ["nearest(...)", "whole ="]),
        ('symbol = "W"', 'symbol = "M"', ["symbol", "mass", "weight", "another symbol"]),
        ('unit = "kg"', 'unit = "kilo gramm"', ["unit: 'kilo gramm'", "'kg'"]),
        ('label = "weight of the blank"\n', "", ["answers.weight: label"]),
        ('id = "weight"', 'id = "bore"', ["id", "no given"]),
        ('unit = "N"', 'unit = "N"\nuses = ["mass"]', ["uses", "the formula names"]),
    ],
    ids=range(15),
)
def test_a_wrong_formula_is_refused_with_the_draw(bank_file, old, new, says):
    lines = check_bank(bank_file(text=spoiled(old, new)), draws=20)
    assert any(all(word in line for word in ("question 'blank'", *says)) for line in lines), lines


# A formula for what theory derives too is proved by theory; torque in N·m, an angle, a count, inches.
OTHERS = """
[bank]
title = "Others"
lesson = "own"

[[question]]
id = "power"
of = "load"
title = "T"
prompt = "{driver_torque} N·m at {driver_speed} rpm"
hints = ["a", "b", "c"]
[question.givens]
driver_torque = { from = 2, to = 9, step = 1, unit = "N*m" }
driver_speed = { from = 100, to = 200, step = 10 }
[[question.answers]]
id = "power"
asked = "power"
unit = "W"
formula = "driver_torque * driver_speed * pi / 30"
range = { from = 1, to = 500 }

[[question]]
id = "lead"
of = "gear"
length_unit = "in"
title = "T"
prompt = "A thread of {lead} in lead on {pitch_line} in, {load} lbf on an arm of {arm_angle} degrees"
hints = ["a", "b", "c"]
[question.givens]
lead = { one_of = [0.1, 0.125, 0.2], local = true, unit = "in", symbol = "L" }
pitch_line = { one_of = [0.5, 0.75, 1], local = true, unit = "in", symbol = "D" }
load = { one_of = [10, 20, 30], local = true, unit = "lbf", symbol = "Q" }
arm_angle = { from = 20, to = 60, step = 5, local = true, unit = "deg", symbol = "beta" }
[[question.answers]]
id = "lead_angle"
label = "lead angle"
unit = "deg"
symbol = "lambda"
formula = "atan(lead / (pi * pitch_line))"
proof = "lead == pi * pitch_line * tan(lead_angle)"
range = { from = 1, to = 20 }
[[question.answers]]
id = "part"
label = "part of the load across the arm"
unit = "lbf"
symbol = "Q_t"
formula = "load * sin(arm_angle)"
proof = "load * cos(90 - arm_angle)"
range = { from = 1, to = 30 }
[[question.answers]]
id = "bolts"
label = "bolts needed"
formula = "part / 4.5 + 1"
proof = "part == 4.5 * (bolts - 1)"
whole = "up"
range = { from = 2, to = 9 }
"""


def test_theory_proves_a_formula_and_angles_counts_and_inches_go_in(bank_file):
    assert check_bank(bank_file(text=OTHERS), draws=30) == []
    bank = load_bank(bank_file(text=OTHERS))
    # 5 N·m at 150 rev/min: 5 * 150 * 2 pi / 60 = 78.54 W (definition)
    assert bank["power"].draw_with({"driver_torque": "5", "driver_speed": "150"}).keys[0] == pytest.approx(
        78.54, abs=0.005
    )
    thread = bank["lead"]
    draw = thread.draw_with({"lead": "0.2", "pitch_line": "0.5", "load": "20", "arm_angle": "30"})
    # arc tangent of 0.2/(0.5 pi) = 0.12732 is 7.256 degrees; half of 20 lbf; 10/4.5 + 1 = 3.2, so 4 bolts
    assert draw.keys == pytest.approx((7.256, 10, 4), abs=0.001)
    text = thread.solution(draw, "text")
    assert "20 lbf" in text and "sin(30°)" in text and "7.25" in text and "rounded up: 4" in text
    assert "·" in thread.solution(draw, "markdown") or thread.solution(draw, "markdown")
    lines = check_bank(bank_file(text=OTHERS.replace("pi / 30", "pi / 60")), draws=10)
    assert any("theory to" in line and "driver_torque = " in line for line in lines)


def test_units_that_only_such_answers_have():
    # NIST SP 811, appendix B.8: lb/in³ 2.767 990 E+04 kg/m³, in³ 1.638 706 4 E-05 m³, kWh 3.6 E+06 J
    for text, unit, number in (
        ("1 lb", "g", 453.59237),
        ("1 in^3", "cm^3", 16.387064),
        ("1 in2", "cm^2", 6.4516),
        ("1 lb/in³", "kg/m^3", 27679.90),
        ("1 g/cm3", "kg/m^3", 1000),
        ("1 kWh", "J", 3.6e6),
        ("2 litres", "cm^3", 2000),
        ("1 t", "kg", 1000),
        ("3 kg m^2", "g*cm^2", 3e7),
        ("5 N/mm", "N/m", 5000),
    ):
        assert in_unit(read_number(text, unit), unit) == pytest.approx(number, rel=2e-7), text
    for name, spellings in OWN_SPELLINGS.items():
        for spelling in spellings:
            reading = read_number(f"12 {spelling}", name)
            assert (reading.value, reading.unit) == (12, name), spelling
