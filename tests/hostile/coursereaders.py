"""Readers of a course's files: what assistants, learning systems, a lab and an earlier run of ours wrote.

Each takes bytes, lays them where the file would lie, and gives what may be shown of what it read.
"""

import atexit
import sys
import tempfile
from functools import cache
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "course"))
from greenhouse import write_course  # noqa: E402

from gearlab.course.coursekey import CourseKey  # noqa: E402
from gearlab.course.decisions.checks import checked  # noqa: E402
from gearlab.course.decisions.file import read_tables  # noqa: E402
from gearlab.course.folder import read_course  # noqa: E402
from gearlab.course.gradebook import Template  # noqa: E402
from gearlab.course.handout.edition import frozen_edition  # noqa: E402
from gearlab.course.lab.folder import open_lab_folder  # noqa: E402
from gearlab.course.lab.making import make_lab  # noqa: E402
from gearlab.course.lab.runsheet import load_run_sheet  # noqa: E402
from gearlab.course.marking import begun as under_way  # noqa: E402
from gearlab.course.marking.blocks import Block, Came  # noqa: E402
from gearlab.course.marking.reasons import OURS, THEIRS, ReasonList, _Table  # noqa: E402
from gearlab.course.roster import Roster, Student, read_roster  # noqa: E402
from gearlab.practice import load_set  # noqa: E402
from gearlab.practice.workbook.attempts import _read as read_attempts  # noqa: E402
from gearlab.practice.workbook.attempts import practised  # noqa: E402
from gearlab.practice.workbook.predictions import load_predictions  # noqa: E402
from gearlab.quoting import one_line  # noqa: E402

NAMES = ("Ada North", "Ben West", "=1+1", "\u202eEva <b>Lake</b>")
ROSTER = Roster([Student(f"00{n:02d}", name, f"s{n}@school.example") for n, name in enumerate(NAMES * 3, 1)])
SECRET = b"hostile" * 5
REASONS = """
[[question]]
id = "why-play"
kind = "reason"
title = "Why leave backlash"
prompt = "Why does the vent drive need backlash? Say in two or three sentences."
hints = ["What grows when it is warm?", "Which flanks touch?", "Heat and errors need room."]
model = "Warm gears grow.\\nWithout backlash both flanks touch and jam."
[[question.guide]]
points = 2
earns = "names a cause: growth by heat, or errors of making"
"""
CODE = "BDCP-MJBW-NPWC"  # of a text in the corpus
REASONS_SET = '[[question]]\nbank = "../vent/bank.toml"\nid = "why-play"\n'


class Place:
    """A course with one question more, in a folder of its own that goes with the process."""

    def __init__(self) -> None:
        self._kept = tempfile.TemporaryDirectory(prefix="gearlab-hostile-")
        # else it goes with a warning, which a run of tests makes an error
        atexit.register(self._kept.cleanup)
        self.folder = Path(self._kept.name)
        self.set_file = write_course(self.folder)
        for path, more in ((self.folder / "vent" / "bank.toml", REASONS), (self.set_file, REASONS_SET)):
            path.write_text(path.read_text(encoding="utf-8") + more, encoding="utf-8")
        self.homework = load_set(self.set_file)
        self.key = CourseKey(self.folder / "course.key", SECRET)

    def put(self, name: str, data: bytes) -> Path:
        """A file with these bytes."""
        path = self.folder / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(data)
        return path


@cache
def place() -> Place:
    return Place()


def decisions(data: bytes) -> list[str]:
    given = checked(read_tables(Path("decisions.toml"), data), place().homework, ROSTER)
    return [words for one in given.all for words in (one.words, one.when)]


def course(data: bytes) -> list[str]:
    course = read_course(place().put("course/course.toml", data).parent)
    return [course.title]


def roster(data: bytes) -> list[str]:
    students = read_roster(place().put("roster.csv", data))
    for student in students:
        students.like(student.id)
    return list(students.remarks)


def reasons(data: bytes) -> list[str]:
    path = place().put("reasons.csv", data)
    listed = ReasonList(path, place().homework, place().key)
    listed.take([dict(zip(OURS, ("why-play", CODE, "", "Heat.", "2"), strict=True))])
    shown, entered = [*listed.notes(), *listed.write()], _entered(path, data)
    for award in listed.marks.given.values():
        shown += [award.by, award.remark]
    if _entered(path, path.read_bytes()) != entered:
        raise AssertionError("what people entered was not kept")
    ReasonList(path, place().homework, place().key)  # what we wrote is read again
    return shown


def _entered(path: Path, data: bytes) -> list[list[str]]:
    return [
        [row[column] for column in ("code", *THEIRS)] for row in _Table.read(path, data).rows if row.filled
    ]


def gradebook(data: bytes) -> list[str]:
    points = {student.id: 7.5 for student in ROSTER}
    content, changes, unmatched = Template(place().put("gradebook.csv", data)).fill(points, ROSTER, "=Vent")
    if b"=Vent" not in data and any(b"," + mark + b"Vent" in content for mark in (b"=", b'"=')):
        raise AssertionError("a column that runs")
    return [*changes, *unmatched]


def run_sheet(data: bytes) -> list[str]:
    sheet = load_run_sheet(place().put("run_sheet.toml", data))
    return [one_line(sheet.lab.title)]


def predictions(data: bytes) -> list[str]:
    return [
        one_line(one.question) for one in load_predictions(place().put("predictions.toml", data)).values()
    ]


def set_file(data: bytes) -> list[str]:
    return [one_line(load_set(place().put("sets/hostile.toml", data)).title)]


@cache
def _block() -> tuple[Block, bytes]:
    """Students who came, and what lies on the disk of them, sealed."""
    block = Block([Came(0, Student("0001", "Ada North"), b"{}", ())])
    kept = under_way.Begun(place().folder / "begun", "recipe", SECRET)
    kept.put(block, b"what came of it")
    return block, (kept.folder / block.name).read_bytes()


def begun(data: bytes) -> list[str]:
    """A foreign file in a block's place, the sealed one with these bytes in it, and a foreign recipe."""
    block, sealed = _block()
    folder = place().folder / "begun"
    start = sum(data) % len(sealed)
    spoilt = sealed[:start] + data + sealed[start + len(data) :]
    for content in {data, sealed[:32] + data, spoilt} - {sealed}:
        kept = under_way.Begun(folder, "recipe", SECRET)
        (folder / block.name).write_bytes(content)
        if kept.get(block) is not None or kept.found:  # what it gives is unpickled
            raise AssertionError("a block that was not sealed here counts")
    (folder / "recipe.txt").write_bytes(data)
    under_way.Begun(folder, "recipe", SECRET)
    return []


def edition(data: bytes) -> list[str]:
    key = place().key
    key.frozen_path("homework-1").write_bytes(data)
    frozen = frozen_edition(key, "homework-1")
    return [one_line(frozen.library), one_line(frozen.load().title)]


def attempts(data: bytes) -> list[str]:
    lines = list(read_attempts(data))
    told = practised(lines, {"shafts": 1, "pitch": 2})
    return [one_line(str(entry.get("question"))) for entry in lines] + list(map(one_line, told))


@cache
def _lab() -> Path:
    folder = place().folder / "lab"
    sheets = Path(__file__).resolve().parents[2] / "exercises" / "labs"
    make_lab(sheets / "lab_1_a_first_pair.toml", folder, 2, make_ups=1, parts=False)
    return folder


def lab(data: bytes) -> list[str]:
    (_lab() / "private" / "lab.json").write_bytes(data)
    opened = open_lab_folder(_lab())
    return [one_line(opened.sheet.lab.title)]


COURSE_READERS = {
    "decisions": decisions,
    "course": course,
    "roster": roster,
    "reasons": reasons,
    "gradebook": gradebook,
    "run-sheet": run_sheet,
    "predictions": predictions,
    "set": set_file,
    "begun": begun,
    "edition": edition,
    "attempts": attempts,
    "lab": lab,
}
