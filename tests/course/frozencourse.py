"""A course as it was handed out, and what came of it.

Read from an archive, marked with the code of today, put on record.

Used by test_frozen.py (which compares) and frozen/make.py (which made the archive once).
"""

import csv
import json
import os
import zipfile
from pathlib import Path

from gearlab.course import mark, read_key, read_roster
from gearlab.course.handout.edition import SheetMaker, frozen_edition, shown_givens
from gearlab.course.marks import Marker
from gearlab.parts.design import read_design
from gearlab.parts.review import review
from gearlab.practice.handin import read_hand_in
from gearlab.widgets.answerbox import ask

FOLDER = Path(__file__).parent / "frozen"
HOMEWORK = "vent-drive"  # the set of thirty students; the other sets hold every question of every bank


def lay_out(archive: Path, place: Path) -> Path:
    """Unpack an archive as the files lay on an instructor's disk."""
    with zipfile.ZipFile(archive) as packed:
        packed.extractall(place)
    os.chmod(place / "own" / "course.key", 0o600)
    return place


def sets_of(place: Path) -> list[str]:
    return sorted(path.stem for path in (place / "sets").glob("*.toml"))


def maker_of(place: Path, name: str) -> SheetMaker:
    key = read_key(place / "own" / "course.key")
    return SheetMaker(frozen_edition(key, name), key)


def on_record(verdict, scale: float = 1.0) -> list:
    """What must stay of a verdict.

    Its kind, its points, the names of its causes, whether it was carried on.
    """
    return [
        verdict.kind,
        round(verdict.points * scale, 6),
        [cause.name for cause in verdict.causes],
        verdict.carried,
    ]


def sheet_bones(sheet: dict) -> dict:
    """What must stay of a sheet: all but labels and titles in words."""
    kept = ("id", "version", "kind", "prompt", "points", "givens", "options", "several")
    questions = [
        {name: one[name] for name in kept if name in one}
        | {
            "answers": [
                {name: value for name, value in answer.items() if name != "label"}
                for answer in one["answers"]
            ]
        }
        for one in sheet["questions"]
    ]
    return {name: sheet[name] for name in ("gearlab", "edition", "set", "student", "packet", "file")} | {
        "questions": questions
    }


def hand_ins(place: Path, name: str) -> dict[str, object]:
    """The hand-ins of a set over a whole bank, by student; each is one line of a file."""
    came = [
        read_hand_in(line) for line in (place / "came in" / name / "hand-ins.jsonl").read_bytes().splitlines()
    ]
    return {one.student: one for one in came}


def marks_of_bank(place: Path, name: str) -> tuple[dict, list[str]]:
    """question > answer > student > verdict for a set over a whole bank.

    And which givens are no longer drawn as they were.
    """
    maker = maker_of(place, name)
    marker, marks, moved = Marker(maker), {}, []
    for student, hand_in in hand_ins(place, name).items():
        marked = marker.mark(student, hand_in)
        for task in marked:
            if hand_in.givens[task.entry.question.id] != shown_givens(task):
                moved.append(f"{student} {task.entry.question.id}")
            for answer, verdict in task.verdicts.items():
                marks.setdefault(task.entry.question.id, {}).setdefault(answer, {})[student] = on_record(
                    verdict, task.entry.scale
                )
    return marks, moved


def marks_of_homework(place: Path) -> tuple[dict, dict]:
    """The same for the homework of thirty, by the whole way of `gearlab mark`; and its lists."""
    roster = read_roster(place / "own" / "roster.csv")
    results = place / "results"
    marking = mark(
        place / "came in" / HOMEWORK,
        place / "sets" / f"{HOMEWORK}.toml",
        roster,
        read_key(place / "own" / "course.key"),
        results,
    )
    marks, totals = {}, {}
    for one in json.loads((results / "evidence.json").read_text(encoding="utf-8"))["records"]:
        verdict = [one["verdict"], one["points"], one["causes"], one["carried"]]
        marks.setdefault(one["question"], {}).setdefault(one["answer"], {})[one["student"]] = verdict
        totals[one["student"]] = totals.get(one["student"], 0.0) + one["points"]
    with open(results / "gradebook.csv", encoding="utf-8", newline="") as file:
        book = list(csv.DictReader(file))
    lists = {
        "problems": sorted([problem.kind, problem.student] for problem in marking.problems),
        "marked": marking.marked,
        "out_of": marking.out_of,
    }
    return marks, lists | {
        "totals": totals,
        "book": book,
        "feedback": sorted(path.name for path in (results / "feedback").iterdir()),
    }


def answers_on_disk(place: Path) -> dict:
    """What a student finds again in the practice boxes.

    Question > answer > verdict, with the numbers drawn and what was typed.
    """
    kept = json.loads((place / "notebook" / "gearlab-answers.json").read_text(encoding="utf-8"))["answers"]
    before = os.environ.get("GEARLAB_ANSWERS")
    os.environ["GEARLAB_ANSWERS"] = str(place / "notebook")
    try:
        found = {}
        for name, entry in kept.items():
            if name.startswith("predict/") or name == "reader":
                continue
            box = ask(*name.split("/"))
            found[name] = {
                "givens": dict(box.draw.texts),
                "texts": dict(box.texts),
                "tries": box.tries,
                "done": box.done,
                "number": box.number,
                "verdicts": {answer: on_record(verdict) for answer, verdict in box.verdicts.items()},
            }
            assert box.texts == entry["texts"]
        return found
    finally:
        (
            os.environ.pop("GEARLAB_ANSWERS")
            if before is None
            else os.environ.__setitem__("GEARLAB_ANSWERS", before)
        )


def designs(place: Path) -> dict:
    """file > what is read in it, and name, grade and place of every finding of the review."""
    found = {}
    for path in sorted((place / "designs").glob("*.toml")):
        design = read_design(path)
        found[path.name] = {
            "read": design.model_dump(mode="json"),
            "gears": {name: gear.name for name, gear in design.gears.items()},
            "findings": [[one.name, one.grade, one.where] for one in review(design)],
        }
    return found
