"""A reading of one's own: plausible or not and why, against the computed value, carried into what follows.

Numbers are worked out here by hand: d_o = m (N + 2), d = m N for full-depth teeth (ISO 53); 1 in = 25.4 mm by
definition. That an instrument shows whole steps only, and that half a step is the best anybody can read, is
common practice.
"""

import json

import pytest
from typer.testing import CliRunner

from gearlab.cli import app
from gearlab.course.handout.edition import SheetMaker, Task
from gearlab.practice import BankError, SetEntry, check_bank, load_bank
from gearlab.practice.workbook.progress import Answers
from gearlab.widgets.answerbox import AnswerBox
from gearlab.widgets.handin import HandInBox, hand_in

BANK = """
[bank]
title = "Bench"
lesson = "01"
[[question]]
id = "tips"
kind = "reading"
of = "gear"
length_unit = "mm"
notation = "iso"
title = "Over the tips"
prompt = "A gear of your kit has {teeth} teeth, module {module} mm. Close a caliper over two opposite tips."
hints = ["Which circle?", "One addendum on each side.", "Take two modules off."]
[question.givens]
teeth = { one_of = [18, 20] }
module = { one_of = [2.5] }
[[question.answers]]
id = "over"
label = "over the tips"
asked = "outside_diameter"
unit = "mm"
instrument = "caliper"
resolution = 0.05
plausible = { relative = 0.15 }
bands = [{ within = 0.1, points = 2 }, { within = 0.3, points = 1 }]
[[question.answers]]
id = "pitch"
label = "pitch diameter"
asked = "pitch_diameter"
unit = "mm"
given = ["module"]
uses = ["over"]
proof = "over - 2 * module"
tolerance = { absolute = 0.03 }
[[question]]
id = "turns"
kind = "reading"
title = "Count the turns"
prompt = "{driver_teeth} teeth drive {driven_teeth}. Turn the wheel {driven_turns} times; count the crank's."
hints = ["Count whole turns.", "Mark a tooth.", "Ratio times turns."]
[question.givens]
driver_teeth = { one_of = [18] }
driven_teeth = { one_of = [45] }
driven_turns = { one_of = [4, 8] }
[[question.answers]]
label = "turns of the crank, without a sign"
asked = "driver_turns"
size_only = true
instrument = "mark on the rim"
resolution = 1
plausible = { from = 1, to = 60 }
bands = [{ within = 0.5, points = 1 }]
"""

HOW = "your own reading: caliper, to 0.05 mm"
TERMS = [
    "Right is a number within 0.1 mm of the computed value.",
    "Within 0.3 mm of it, half of the points.",
    "Any other reading earns nothing.",
]


@pytest.fixture
def path(tmp_path):
    file = tmp_path / "bank.toml"
    file.write_text(BANK, encoding="utf-8")
    return file


@pytest.fixture
def tips(path):
    return load_bank(path)["tips"]


def judged(question, over, pitch="", teeth="18"):
    return question.judge(question.draw_with({"teeth": teeth}), {"over": over, "pitch": pitch})


# 18 teeth, module 2.5: 2.5 * 20 = 50 mm over the tips
@pytest.mark.parametrize(
    "typed, kind, points, said",
    [
        ("50", "right", 2, "Right. Measured minus computed: 0 mm."),
        ("49.95 mm", "right", 2, "Measured minus computed: -0.05 mm, 1 step of the caliper."),
        ("50,10", "right", 2, "+0.1 mm, 2 steps of the caliper."),
        ("49.85", "close", 1, "-0.15 mm, 3 steps of the caliper; within 0.1 mm earns all the points."),
        ("50.30", "close", 1, "+0.3 mm, 6 steps"),
        ("50.35", "outside the bands", 0, "+0.35 mm, 7 steps of the caliper"),
        ("45", "outside the bands", 0, "-5 mm, 100 steps of the caliper"),
        ("50.03", "right", 2, "(Finer than the caliper shows: read it to 0.05 mm.)"),
        ("50.0", "right", 2, "Measured minus computed: 0 mm."),
        ("1.969 in", "right", 2, "+0.013 mm, 0.3 steps of the caliper. (Converted from in.)"),
        ("1.97", "wrong unit", 0, "not plausible. That fits if you read it in inches"),
        ("1270", "wrong unit", 0, "multiplied by 25.4"),
        ("5", "not plausible", 0, "ten times too small: was it in centimetres"),
        ("5.0 cm", "right", 2, "Measured minus computed: 0 mm"),
        ("500", "not plausible", 0, "ten times too large"),
        ("25", "not plausible", 0, "half of what it can be: was it a radius"),
        ("100", "not plausible", 0, "twice what it can be"),
        ("33", "not plausible", 0, "It can lie between 42.5 and 57.5 mm. Look at the instrument's zero"),
        ("-50", "not plausible", 0, "between 42.5 and 57.5 mm"),
        ("50 deg", "wrong unit", 0, "“over the tips” is asked in mm"),
        ("50,051", "right", 2, "(The comma was taken as a decimal comma.)"),
        ("wide", "cannot read", 0, ""),
        ("", "not answered", 0, ""),
    ],
)
def test_a_reading_is_judged(tips, typed, kind, points, said):
    verdict = judged(tips, typed)["over"]
    assert (verdict.kind, verdict.points, verdict.out_of) == (kind, points, 2), verdict
    assert said in verdict.sentence and verdict.right == (kind == "right")
    assert not verdict.causes or kind in ("not plausible", "wrong unit")


def test_what_follows_goes_on_from_the_own_reading(tips):
    # 49.8 over the tips: 49.8 - 2 * 2.5 = 44.8 mm
    own = judged(tips, "49.8", "44.8")
    assert own["over"].kind == "close" and own["pitch"].right and own["pitch"].carried
    assert own["pitch"].sentence == "Right with your own reading."
    assert judged(tips, "49.8", "45")["pitch"].right  # who takes 18 * 2.5 is right as well
    assert not judged(tips, "49.8", "44.3")["pitch"].right
    assert not judged(tips, "50", "44.8")["pitch"].right
    assert judged(tips, "", "45")["pitch"].right and not judged(tips, "", "44.8")["pitch"].right
    # a slip of the hand is a slip once: 500 - 5 = 495 earns the second step, and its sentence says so
    slipped = judged(tips, "500", "495")["pitch"]
    assert slipped.right and "your own earlier number, which was not right" in slipped.sentence
    assert judged(tips, "1.96 in", "44.784")["pitch"].right  # 1.96 * 25.4 = 49.784


def test_counted_turns(path):
    question = load_bank(path)["turns"]
    draw = question.draw_with({"driven_turns": "8"})  # 8 * 45 / 18 = 20 turns
    told = {
        text: question.judge(draw, {"driver_turns": text})["driver_turns"]
        for text in ("20", "21", "20.5", "80")
    }
    assert told["20"].right and told["80"].kind == "not plausible"
    assert "Counted minus computed: +1 turn" in told["21"].sentence and told["21"].kind == "outside the bands"
    assert "a count is a whole number" in told["20.5"].note


@pytest.mark.parametrize(
    "old, new, says",
    [
        ("resolution = 0.05\n", "", "instrument: goes with a reading: give its resolution too"),
        ('instrument = "caliper"\n', "", "instrument: is needed"),
        ("within = 0.1,", "within = 0.02,", "within 0.02 is less than half a step of the instrument (0.025)"),
        ("within = 0.3, points = 1", "within = 0.05, points = 1", "bands: go from the narrowest"),
        ("within = 0.3, points = 1", "within = 0.3, points = 3", "bands: go from the narrowest"),
        ("plausible = { relative = 0.15 }", "", "plausible: is needed"),
        ("plausible = { relative = 0.15 }", "plausible = { from = 3 }", "plausible: give either"),
        (
            "plausible = { relative = 0.15 }",
            "plausible = { from = 60, to = 40 }",
            "from 60 to 40 holds no reading",
        ),
        (
            "resolution = 0.05\n",
            "resolution = 0.05\ntolerance = { absolute = 1 }\n",
            "tolerance: does not go with a reading",
        ),
        ('kind = "reading"', 'kind = "number"', "resolution: is not a field known here"),
        ('uses = ["over"]', 'uses = ["under"]', "uses: 'under' is not an answer that stands before"),
    ],
)
def test_tables_that_do_not_fit(path, old, new, says):
    path.write_text(BANK.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(BankError) as raised:
        load_bank(path)
    assert any(says in line for line in raised.value.problems), raised.value.problems


@pytest.mark.parametrize(
    "old, new, says",
    [
        (
            "plausible = { relative = 0.15 }",
            "plausible = { from = 1, to = 2000 }",
            "times the computed value passes",
        ),
        (
            "plausible = { relative = 0.15 }",
            "plausible = { absolute = 0.2 }",
            "does not reach as far as the widest band",
        ),
        ("over - 2 * module", "over - module", "proof: comes to"),
    ],
)
def test_draws_that_do_not_hold(path, old, new, says):
    assert check_bank(path, draws=10) == []
    path.write_text(BANK.replace(old, new, 1), encoding="utf-8")
    assert any(says in line for line in check_bank(path, draws=10))


def test_in_a_practice_box(tips, tmp_path):
    box = AnswerBox(tips, "trial/tips", Answers(tmp_path / "answers.json"), 0)
    teeth = int(box.draw.texts["teeth"])
    tip, inch = 2.5 * (teeth + 2), 2.5 * (teeth + 2) / 25.4
    assert box.view["fields"][0]["asked"] == HOW and box.view["contract"][0]["says"] == TERMS
    assert "reading" not in box.view["fields"][1]["asked"]
    box.texts = {"over": f"{inch:.2f}", "pitch": ""}
    box._act("check")
    look = box._state()["verdicts"]["over"]
    assert look["title"] == "Wrong unit." and "1 in is 25.4 mm" in look["says"][0] and box.tries == 1
    box.texts = {"over": f"{tip - 0.2:.2f}", "pitch": f"{tip - 5.2:.2f}"}
    box._act("check")
    shown = box._state()["verdicts"]
    assert shown["over"]["title"] == "Close." and not shown["over"]["note"]  # the sentence tells it
    assert "-0.2 mm, 4 steps of the caliper" in shown["over"]["says"][0]
    assert shown["pitch"]["tone"] == "right"
    box.texts["over"] = f"{tip - 0.1:.2f}"
    box._act("check")
    assert box.verdicts["over"].right


def test_on_a_hand_out(tips, path, tmp_path):
    draw = tips.draw(key=b"k" * 16, set="trial", student="7")
    asked = SheetMaker._question(Task(SetEntry(tips, 3.0, path), draw))
    assert "caliper" in json.dumps(asked["contracts"]["over"])
    assert "caliper" not in json.dumps(asked["contracts"]["pitch"])
    # neither range nor computed value: 2.5 * 20 or 2.5 * 22, and 15 % of it
    assert not any(word in json.dumps(asked) for word in ("plausible", "bands", "47.5", "55"))
    data = {"gearlab": "hand-out", "edition": 1, "set": "trial", "student": "7", "questions": [asked]}
    sheet = hand_in({**data, "file": "HAND-IN_trial_7.json"}, tmp_path)
    box = HandInBox(sheet, sheet.question("tips"), False)
    assert box.view["fields"][0]["asked"] == HOW and box.view["contract"][0]["says"] == TERMS
    box.texts = {"over": "49,95", "pitch": "44.95"}
    box._typed()
    assert box._state()["echoes"]["over"]["text"] == "read as 49.95 mm" and sheet.missing() == []


def test_in_the_terminal(path):
    run = CliRunner().invoke(
        app, ["try", str(path), "tips", "--given", "teeth=18", "--answer", "49.8", "--answer", "44.8"]
    )
    assert "-0.2 mm" in run.output and "Right with your own reading." in run.output


BLANK = """
[bank]
title = "Bench"
lesson = "01"
[[question]]
id = "weigh"
kind = "reading"
of = "gear"
title = "Weigh the blank"
prompt = "A disc of {outside_diameter} mm, {face_width} mm thick, of {density} g/cm³. Weigh it; weight in N?"
hints = ["Volume?", "Volume times density.", "g is 9.81 m/s²."]
[question.givens]
outside_diameter = { one_of = [100] }
face_width = { one_of = [10] }
density = { one_of = [7.85], local = true, unit = "g/cm^3", label = "density", symbol = "rho" }
[[question.answers]]
id = "mass"
label = "reading of the scales"
formula = "density * pi / 4 * outside_diameter^2 * face_width / 1000"
proof = "outside_diameter == sqrt(4000 * mass / (pi * density * face_width))"
unit = "g"
range = { from = 100, to = 2000 }
instrument = "scales"
resolution = 1
plausible = { relative = 0.3 }
bands = [{ within = 10, points = 2 }]
[[question.answers]]
id = "weight"
label = "weight of the blank"
symbol = "W"
formula = "9.81 * mass / 1000"
proof = "mass == 1000 * weight / 9.81"
unit = "N"
range = { from = 1, to = 20 }
"""


def test_what_theory_does_not_derive_is_read_and_worked_out(path):
    # EN 10060: a round steel bar of 100 mm weighs 61.7 kg for a metre (from memory); 10 mm of it 617 g
    path.write_text(BLANK, encoding="utf-8")
    assert check_bank(path, draws=5) == []
    question = load_bank(path)["weigh"]
    draw = question.draw("x", 0)
    read = question.judge(draw, {"mass": "620", "weight": "6.08"})  # 0.62 * 9.81 = 6.0822
    assert read["mass"].right and "+3.5" in read["mass"].sentence and read["weight"].right
    assert read["weight"].sentence == "Right with your own reading."
    assert question.judge(draw, {"mass": "0.620 kg"})["mass"].right
    assert question.judge(draw, {"mass": "640"})["mass"].kind == "outside the bands"
    assert "scales, to 1 g" in question.contracts["mass"].sentence
    assert question.contracts["weight"].asked == "to three significant figures"
    path.write_text(BLANK.replace("9.81 * mass / 1000", "9.8 * mass / 1000"), encoding="utf-8")
    assert any("answers.weight: proof" in line for line in check_bank(path, draws=5))
