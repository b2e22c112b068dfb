"""Makes a frozen course: what instructor and students hold of one, and what the code of the day makes of it.

    python tests/course/frozen/make.py tests/course/frozen/DATE

A frozen course is never made again: what is in it was handed out. Where a hand-out gets something new (a kind
of question, a field of the hand-in), a new course is made beside the old ones. So this program writes into a
new folder only.
"""

import csv
import io
import json
import os
import shutil
import sys
import tempfile
import zipfile
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[2]
sys.path.insert(0, str(HERE.parent))

import frozencourse as frozen  # noqa: E402
from students import ODD_HAND_INS, homework_answers, texts_for_bank  # noqa: E402

from gearlab.course import Roster, Student, hand_out  # noqa: E402
from gearlab.course.coursekey import HEADER, read_key  # noqa: E402
from gearlab.course.handout.edition import edition_of, shown_givens  # noqa: E402
from gearlab.course.roster import file_name  # noqa: E402
from gearlab.practice import load_bank  # noqa: E402
from gearlab.practice.workbook.progress import Answers  # noqa: E402
from gearlab.widgets import look_back, predict  # noqa: E402
from gearlab.widgets.answerbox import ask  # noqa: E402

SECRET = "67656172" * 8  # of this course only; nobody else draws from it
NAMES = ["Ada", "Ben", "Chidi", "Dana", "Émile", "Fatma", "Goro", "Hana", "Ines", "=SUM(1)"]
IDS = [f"00{number:02d}" for number in range(1, 29)] + ["g/29 ö", "con"]
OF_BANKS = 8  # students of the sets over whole banks
HOMEWORK = [
    ("04_ratio_speed_direction", "signed-speed"),
    ("03_centre_distance", "diameters-then-spacing"),
    ("03_centre_distance", "spacing-inch"),
    ("03_centre_distance", "spacing-metric-formula"),
    ("02_pitch_and_proportions", "what-may-mesh"),
    ("04_ratio_speed_direction", "which-way"),
    ("01_teeth_and_diameter", "module-of-scrap-gear"),
    ("07_contact", "undercut-limit"),
    ("09_lining_up_the_teeth", "driver-already-turned"),
    ("12_power_and_tooth_load", "motor-to-teeth"),
    ("05_idlers_and_trains", "build-a-reverted-train"),
    ("18_design_review", "design-brief"),
]
PRACTISED = [
    ("01_teeth_and_diameter", "teeth-from-blank"),
    ("02_pitch_and_proportions", "tooth-heights"),
    ("03_centre_distance", "spacing-metric"),
    ("03_centre_distance", "spacing-inch-formula"),
    ("04_ratio_speed_direction", "signed-speed"),
    ("05_idlers_and_trains", "idler-speeds"),
    ("07_contact", "contact-ratio"),
    ("07_contact", "undercut-limit"),
    ("08_backlash", "backlash-from-opening"),
    ("09_lining_up_the_teeth", "driver-already-turned"),
    ("12_power_and_tooth_load", "stall"),
    ("13_rack_and_pinion", "rack-force"),
    ("15_planetary_sets", "will-they-fit"),
    ("18_design_review", "design-brief"),
    ("02_pitch_and_proportions", "what-may-mesh"),
    ("04_ratio_speed_direction", "which-way"),
]


def main(target: Path) -> None:
    if target.exists():
        sys.exit(
            f"{target} is there already. A frozen course is never made again: read the head of this file."
        )
    work = Path(tempfile.mkdtemp(prefix="frozen-"))
    try:
        place = work / "course"
        hand_everything_out(place)
        marks = {}
        for name in frozen.sets_of(place):
            marks[name] = (
                frozen.marks_of_homework(place)
                if name == frozen.HOMEWORK
                else frozen.marks_of_bank(place, name)
            )[0]
        lists = {
            name: value
            for name, value in frozen.marks_of_homework(place)[1].items()
            if name in ("problems", "marked", "out_of", "feedback")
        }
        shutil.rmtree(place / "results")
        target.mkdir(parents=True)
        pack(place, target / "course.zip")
        write_marks(target / "marks.json", marks)
        rest = {
            "homework": lists,
            "answers on disk": frozen.answers_on_disk(place),
            "designs": frozen.designs(place),
        }
        (target / "rest.json").write_text(
            json.dumps(rest, ensure_ascii=False, indent=1) + "\n", encoding="utf-8"
        )
    finally:
        shutil.rmtree(work)


def hand_everything_out(place: Path) -> None:
    own = place / "own"
    own.mkdir(parents=True)
    (own / "course.key").write_text(f"{HEADER}\n{SECRET}\n")
    os.chmod(own / "course.key", 0o600)
    key = read_key(own / "course.key")
    students = [
        Student(identity, NAMES[i % 10] + (f" {i}" if i > 9 else "")) for i, identity in enumerate(IDS)
    ]
    rows = io.StringIO()
    csv.writer(rows, lineterminator="\n").writerows(
        [("id", "name"), *((one.id, one.name) for one in students)]
    )
    (own / "roster.csv").write_text(rows.getvalue(), encoding="utf-8")
    (place / "sets").mkdir()
    # The sets lie beside the banks while they are handed out; afterwards only their names count.
    exercises = place / "exercises"
    shutil.copytree(ROOT / "exercises", exercises)
    banks = {path.parent.name: load_bank(path) for path in sorted(exercises.glob("*/bank.toml"))}
    sets = {frozen.HOMEWORK: HOMEWORK} | {
        f"bank-{name[:2]}": [(name, one.id) for one in bank] for name, bank in banks.items()
    }
    for name, questions in sets.items():
        text = f'[set]\nname = "{name}"\ntitle = "{name}"\nuse = "marked"\n' + "".join(
            f'\n[[question]]\nbank = "../{bank}/bank.toml"\nid = "{one}"\n' for bank, one in questions
        )
        (exercises / "sets" / f"{name}.toml").write_text(text)
        (place / "sets" / f"{name}.toml").write_text(text)
        roster = Roster(students if name == frozen.HOMEWORK else students[:OF_BANKS])
        folder = place.parent / "handed out" / name
        if name == frozen.HOMEWORK:
            hand_out(exercises / "sets" / f"{name}.toml", roster, key, folder)
            (place / "notebooks").mkdir()
            for one in students[:2]:
                shutil.copy(folder / "notebooks" / f"{name}_{file_name(one.id)}.ipynb", place / "notebooks")
        else:
            edition_of(exercises / "sets" / f"{name}.toml").write(key.frozen_path(name))
        maker = frozen.maker_of(place, name)
        came = place / "came in" / name
        came.mkdir(parents=True)
        sheets = {}
        for number, student in enumerate(roster):
            tasks = maker.tasks(student.id)
            sheets[student.id] = sheet = maker.sheet(student, tasks)
            givens = {task.entry.question.id: shown_givens(task) for task in tasks}
            if name == frozen.HOMEWORK:
                answers = homework_answers(tasks, number)
            else:
                answers = {
                    task.entry.question.id: texts_for_bank(task.entry.question, task.draw, number)
                    for task in tasks
                }
            content = hand_in(sheet, givens, answers)
            if name == frozen.HOMEWORK and number >= len(roster) - len(ODD_HAND_INS):
                for file, text in ODD_HAND_INS[number - len(roster) + len(ODD_HAND_INS)](
                    content, sheet, sheets
                ):
                    (came / file).parent.mkdir(parents=True, exist_ok=True)
                    (came / file).write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
            elif name == frozen.HOMEWORK:
                (came / sheet["file"]).write_text(json.dumps(content, ensure_ascii=False), encoding="utf-8")
            else:
                with open(came / "hand-ins.jsonl", "a", encoding="utf-8") as file:
                    file.write(json.dumps(content, ensure_ascii=False) + "\n")
        if name == frozen.HOMEWORK:
            (place / "sheets.json").write_text(json.dumps(sheets, ensure_ascii=False), encoding="utf-8")
    shutil.rmtree(exercises)
    practise(place)
    draw_designs(place)


def hand_in(sheet: dict, givens: dict, answers: dict) -> dict:
    """What a notebook saves (gearlab.widgets.handin.Sheet.keep)."""
    return {
        "gearlab": "hand-in",
        "edition": 1,
        "set": sheet["set"],
        "student": sheet["student"],
        "packet": sheet["packet"],
        "saved": 7,
        "time": "2026-11-29T09:10:11Z",
        "library": "0.1.0",
        "givens": givens,
        "versions": {one["id"]: one["version"] for one in sheet["questions"]},
        "answers": answers,
    }


def practise(place: Path) -> None:
    """A reader's answers file, written by the boxes themselves."""
    folder = place / "notebook"
    folder.mkdir()
    os.environ["GEARLAB_ANSWERS"] = str(folder)
    try:
        Answers().put("reader", seed="5eed5eed")
        for turn, (bank, one) in enumerate(PRACTISED):
            box, number = ask(bank, one), 0
            for texts, act in (
                (texts_for_bank(box.question, box.draw, 2 + turn % 6), None),
                (texts_for_bank(box.question, box.draw, 2 + turn % 6), "check"),
                (texts_for_bank(box.question, box.draw, 0 if turn % 3 else 3), "check"),
            ):
                number += 1  # noqa: SIM113 (counts over both loops)
                box.draft = {"n": number, "key": box.view["key"], "texts": texts} | (
                    {"act": act} if act else {}
                )
        number = ask("03_centre_distance", "find-the-mate")
        number.action = {"n": 1, "key": number.view["key"], "texts": {}, "act": "renew"}
        number.draft = {"n": 2, "key": number.view["key"], "texts": {"driven_teeth": "44"}}
        prediction = predict("03_centre_distance/eighty-plate", "What happens?", ["It jams.", "More play."])
        prediction.action = {
            "n": 1,
            "key": prediction.view["key"],
            "texts": {"text": "2", "because": "room"},
            "act": "record",
        }
        back = look_back("03_centre_distance/eighty-plate")
        back.draft = {"n": 1, "key": back.view["key"], "texts": {"seen": "more play"}}
        for lock in folder.glob(".gearlab*"):
            lock.unlink()
    finally:
        os.environ.pop("GEARLAB_ANSWERS")


def draw_designs(place: Path) -> None:
    """The design of the lessons, and the same one spoilt in several ways."""
    folder = place / "designs"
    folder.mkdir()
    good = (ROOT / "notebooks" / "vent_drive.toml").read_text(encoding="utf-8")
    (folder / "vent_drive.toml").write_text(good, encoding="utf-8")
    spoilt = good
    for old, new in (
        ("x = 132.5", "x = 131"),
        ("teeth = 45", "teeth = 46"),
        ("screw_length = 8", "screw_length = 20"),
        ("stall_torque = 10", "stall_torque = 100"),
        ("height = 160", "height = 120"),
        ("hub_diameter = 32", "hub_diameter = 18"),
        ("brake = true", "brake = false"),
    ):
        assert old in spoilt
        spoilt = spoilt.replace(old, new, 1)
    spoilt += (
        '\n[rack]\npinion = "pinion_18T_m2p5_bore10_L27"\nteeth = 12\ntravel = 150\npitch_height ='
        " 8\nmounting_height = 20\n"
    )
    spoilt += (
        "\n[mitre]\nteeth = [20, 24]\n\n[planetary]\nsun = 20\nplanet = 25\nring = 71\nplanets ="
        " 4\nring_bolted = false\n"
    )
    (folder / "spoilt.toml").write_text(spoilt, encoding="utf-8")
    inches = """[design]
name = "inch twin"
unit = "in"
[plate]
length = 9
height = 6
thickness = 0.25
material = "plywood"
[[shaft]]
name = "A"
x = 2.2
y = 3
diameter = 0.375
length = 1.5
[[shaft]]
name = "B"
x = 5.35
y = 3
diameter = 0.375
[[gear]]
name = "pinion"
shaft = "A"
teeth = 12
diametral_pitch = 10
face_width = 0.5
gap = 0.06
bore = 0.375
hub_diameter = 0.75
hub_projection = 0.4
set_screw = "#8"
[[gear]]
name = "wheel"
shaft = "B"
teeth = 51
diametral_pitch = 10
face_width = 0.5
gap = 0.46
bore = 0.38
[[mesh]]
driver = "pinion"
driven = "wheel"
[load]
torque = 20
speed = 60
"""
    (folder / "inches.toml").write_text(inches, encoding="utf-8")


def pack(place: Path, archive: Path) -> None:
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as packed:
        for path in sorted(path for path in place.rglob("*") if path.is_file()):
            packed.writestr(
                zipfile.ZipInfo(path.relative_to(place).as_posix(), (2026, 11, 29, 0, 0, 0)),
                path.read_bytes(),
                zipfile.ZIP_DEFLATED,
                9,
            )


def write_marks(path: Path, marks: dict) -> None:
    """One line for each answer of a question, so that a difference can be read."""
    lines = []
    for name, questions in marks.items():
        inner = [
            f"  {json.dumps(f'{question} > {answer}', ensure_ascii=False)}:"
            f" {json.dumps(verdicts, ensure_ascii=False, separators=(',', ':'))}"
            for question, answers in questions.items()
            for answer, verdicts in answers.items()
        ]
        lines.append(f" {json.dumps(name)}: {{\n" + ",\n".join(inner) + "\n }")
    path.write_text("{\n" + ",\n".join(lines) + "\n}\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
