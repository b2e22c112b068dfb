"""A course for the tests: the roof-vent drive of a school greenhouse, seven questions with ten answers.

Right and wrong answers are worked out here by hand from the numbers on a sheet (the plain definitions:
d = m N, d_o = m (N + 2), C = m (N1 + N2) / 2, p = pi m, N1 n1 = -N2 n2,
ratio = N2 / N1), never by the package.
"""

import json
import math
from pathlib import Path

# What every result holds.
WRITTEN = (
    "digests.txt",
    "evidence.json",
    "feedback",
    "gradebook.csv",
    "pairs.html",
    "problems.csv",
    "report.html",
)

# A question whose answer people mark.
WHY_PLAY = """
[[question]]
id = "why-play"
kind = "reason"
title = "Why leave backlash"
prompt = "Why does the vent drive need backlash? Say in two or three sentences."
hints = ["What grows when it is warm?", "Which flanks touch?", "Heat and errors need room."]
model = "Warm gears grow, and holes are never exactly placed.\\nWithout backlash both flanks touch and jam."
longest = 300
[[question.guide]]
points = 1
earns = "names a cause: growth by heat, or errors of making"
[[question.guide]]
points = 1
earns = "says that teeth would touch on both flanks"
"""

BANK = """
[bank]
title = "The vent drive"
lesson = "03"

[[question]]
id = "shafts"
title = "Where the shafts go"
prompt = "The crank's pinion has {driver_teeth} teeth, the wheel on the vent shaft {driven_teeth}, module {module} mm. How far apart are the two shafts?"
hints = ["Which circles touch?", "Half of each, added.", "C = m (N1 + N2) / 2"]
[question.givens]
driver_teeth = { from = 18, to = 30, step = 1 }
driven_teeth = { from = 40, to = 64, step = 1 }
module = { one_of = [2, 2.5, 3, 4] }
[[question.answers]]
label = "centre distance"
asked = "centre_distance"
unit = "mm"
tolerance = { relative = 0.001 }
points = 2
[[question.answers.slips]]
name = "tips"
title = "added the outside radii"
formula = "module*(driver_teeth+driven_teeth+4)/2"
says = "The tips reach into the spaces of the other gear: which circles only touch?"
credit = 0.25

[[question]]
id = "pinion"
of = "gear"
title = "Three circles of the pinion"
hints = ["What is asked?", "What is given?", "Put one into the other."]
prompt = "A pinion has {teeth} teeth of module {module} mm, full depth, pressure angle {pressure_angle} degrees."
[question.givens]
teeth = { from = 18, to = 36, step = 1 }
module = { one_of = [2, 2.5, 3, 4] }
pressure_angle = { one_of = [20] }
[[question.answers]]
label = "pitch diameter"
asked = "pitch_diameter"
unit = "mm"
tolerance = { relative = 0.001 }
[[question.answers]]
label = "outside diameter"
asked = "outside_diameter"
unit = "mm"
given = ["module", "teeth"]
uses = []
tolerance = { relative = 0.001 }
[[question.answers]]
label = "base diameter"
asked = "base_diameter"
unit = "mm"
tolerance = { relative = 0.001 }

[[question]]
id = "pitch"
of = "gear"
title = "Along the pitch circle"
hints = ["What is asked?", "What is given?", "Put one into the other."]
prompt = "Module {module} mm: how far is it from one tooth to the next along the pitch circle?"
[question.givens]
module = { from = 2, to = 8, step = 0.25 }
[[question.answers]]
label = "circular pitch"
asked = "circular_pitch"
unit = "mm"
tolerance = { relative = 0.001 }

[[question]]
id = "inch-shafts"
length_unit = "in"
title = "The inch twin"
hints = ["What is asked?", "What is given?", "Put one into the other."]
prompt = "The twin drive is cut in inches: {driver_teeth} and {driven_teeth} teeth, diametral pitch {diametral_pitch}. How far apart are its shafts?"
[question.givens]
driver_teeth = { from = 18, to = 30, step = 1 }
driven_teeth = { from = 40, to = 64, step = 1 }
diametral_pitch = { one_of = [8, 10, 12] }
[[question.answers]]
label = "centre distance"
asked = "centre_distance"
unit = "in"
tolerance = { relative = 0.001 }
[[question.answers.slips]]
name = "nohalf"
title = "added diameters instead of radii"
formula = "(driver_teeth+driven_teeth)/diametral_pitch"
says = "Each shaft sits in the middle of its circle: how much of a diameter lies between them?"
credit = 0.5

[[question]]
id = "speed"
title = "How fast the vent shaft turns"
hints = ["What is asked?", "What is given?", "Put one into the other."]
prompt = "The motor turns the {driver_teeth}-tooth pinion at {driver_speed} rpm counter-clockwise. At what speed does the {driven_teeth}-tooth wheel turn? Counter-clockwise is positive."
[question.givens]
driver_teeth = { from = 18, to = 30, step = 1 }
driven_teeth = { from = 40, to = 64, step = 1 }
driver_speed = { from = 10, to = 40, step = 5 }
[[question.answers]]
label = "speed of the wheel"
asked = "driven_speed"
unit = "rpm"
given = ["driver_teeth", "driven_teeth", "driver_speed"]
tolerance = { relative = 0.005 }
points = 2
[[question.answers]]
label = "ratio, turns of the pinion for one turn of the wheel"
asked = "ratio"
unit = "1"
given = ["driver_teeth", "driven_teeth"]
tolerance = { relative = 0.002 }

[[question]]
id = "formula"
kind = "expression"
notation = "iso"
title = "Write it down"
hints = ["What is asked?", "What is given?", "Put one into the other."]
prompt = "Write the distance of the shafts with z1, z2 and m."
[question.givens]
driver_teeth = { from = 18, to = 30, step = 1 }
driven_teeth = { from = 40, to = 64, step = 1 }
module = { one_of = [2, 2.5, 3, 4] }
[[question.answers]]
label = "centre distance a"
asked = "centre_distance"
symbols = ["driver_teeth", "driven_teeth", "module"]

[[question]]
id = "direction"
kind = "choice"
title = "Which way"
hints = ["What is asked?", "What is given?", "Put one into the other."]
prompt = "The crank of the pinion is turned clockwise. How does the wheel turn?"
[[question.options]]
text = "Counter-clockwise"
right = true
says = "Where they touch, both rims move the same way."
[[question.options]]
text = "Clockwise"
says = "Follow one tooth through the point where the gears touch."
[[question.options]]
text = "It depends on the tooth counts"
says = "The counts set how fast, not which way."
"""  # noqa: E501

SET = """
[set]
name = "homework-1"
title = "Homework 1: the vent drive"
use = "marked"
""" + "".join(
    f'[[question]]\nbank = "../vent/bank.toml"\nid = "{name}"\n'
    for name in ("shafts", "pinion", "pitch", "inch-shafts", "speed", "formula", "direction")
)
ANSWERS = 10
POINTS = 12


def write_course(folder: Path) -> Path:
    """The bank and the set, written below a folder; gives the set's file."""
    (folder / "vent").mkdir(parents=True)
    (folder / "sets").mkdir()
    (folder / "vent" / "bank.toml").write_text(BANK, encoding="utf-8")
    (folder / "sets" / "homework_1.toml").write_text(SET, encoding="utf-8")
    return folder / "sets" / "homework_1.toml"


def sheet_of(notebook: Path) -> dict:
    """The sheet's data out of a handed-out notebook."""
    cells = json.loads(notebook.read_text(encoding="utf-8"))["cells"]
    source = "".join(next(cell["source"] for cell in cells if cell["id"] == "sheet"))
    return json.loads(source.split("r'''")[1].split("'''")[0])


def right_answers(sheet: dict) -> dict:
    """What a student who gets everything right types, worked out from the numbers on the sheet."""
    givens = {q["id"]: {name: float(text) for name, text in q["givens"].items()} for q in sheet["questions"]}
    shafts, pinion, pitch, inch, speed = (
        givens[name] for name in ("shafts", "pinion", "pitch", "inch-shafts", "speed")
    )
    options = next(q["options"] for q in sheet["questions"] if q["id"] == "direction")
    d = pinion["module"] * pinion["teeth"]
    return {
        "shafts": {
            "centre_distance": (
                f"{shafts['module'] * (shafts['driver_teeth'] + shafts['driven_teeth']) / 2:.4f} mm"
            )
        },
        "pinion": {
            "pitch_diameter": f"{d:.4f}",
            "outside_diameter": f"{d + 2 * pinion['module']:.4f} mm",
            "base_diameter": f"{d * math.cos(math.radians(pinion['pressure_angle'])):.5f}",
        },
        "pitch": {"circular_pitch": f"{math.pi * pitch['module']:.5f}"},
        "inch-shafts": {
            "centre_distance": (
                f"{(inch['driver_teeth'] + inch['driven_teeth']) / 2 / inch['diametral_pitch']:.5f} in"
            )
        },
        "speed": {
            "driven_speed": (
                f"{-speed['driver_speed'] * speed['driver_teeth'] / speed['driven_teeth']:.5f} rpm"
            ),
            "ratio": f"{speed['driven_teeth'] / speed['driver_teeth']:.5f}",
        },
        "formula": {"centre_distance": "m*(z1+z2)/2"},
        "direction": {"choice": str(options.index("Counter-clockwise") + 1)},
    }


def hand_in(sheet: dict, answers: dict, saved: int = 3, **changes) -> str:
    """The file that a student's notebook saves."""
    return json.dumps(
        {
            "gearlab": "hand-in",
            "edition": 1,
            "set": sheet["set"],
            "student": sheet["student"],
            "packet": sheet["packet"],
            "saved": saved,
            "time": "2026-11-25T09:10:11Z",
            "library": "0.1.0",
            "givens": {q["id"]: q["givens"] for q in sheet["questions"]},
            "versions": {q["id"]: q["version"] for q in sheet["questions"]},
            "answers": answers,
        }
        | changes,
        ensure_ascii=False,
    )


def long_answers_come(folder: Path) -> None:
    """Hand-ins of 007 and 012 in `came`, right but for a long wrong number and a longer word.

    What a page makes of them is looked at in a browser; `out` beside it holds what was handed out.
    """
    (folder / "came").mkdir()
    for identity, spacing in (("007", "12345.678 mm"), ("012", "W" * 300)):
        sheet = sheet_of(folder / "out" / "notebooks" / f"homework-1_{identity}.ipynb")
        answers = right_answers(sheet)
        answers["shafts"]["centre_distance"] = spacing
        (folder / "came" / sheet["file"]).write_text(hand_in(sheet, answers))
