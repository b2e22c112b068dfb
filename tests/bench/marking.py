"""How fast a class is marked, and how much memory it takes: run `python tests/bench/marking.py [COUNT ...]`.

Each hand-in has ten answers; its numbers are drawn again, every answer is judged, and its feedback page,
gradebook row and evidence are written, in one process on one core. On a machine that does other things
too, the best hundred hand-ins in a row show what it can do. For comparison, in the same run: executing one
such notebook with nbclient, which is what marking by running notebooks costs.
"""

import json
import os
import random
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from rich.console import Console
from rich.table import Table

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "course"))
from greenhouse import ANSWERS, hand_in, right_answers, write_course  # noqa: E402

from gearlab.course.coursekey import make_key, read_key  # noqa: E402
from gearlab.course.edition import edition_of  # noqa: E402
from gearlab.course.handout import hand_out  # noqa: E402
from gearlab.course.marking import mark  # noqa: E402
from gearlab.course.roster import Roster, Student, read_roster  # noqa: E402
from gearlab.course.sheet import SheetMaker  # noqa: E402


def collect(folder: Path, count: int) -> None:
    """A class that hands in: about two thirds of the answers right, the others slips, scribbles and gaps."""
    set_file = write_course(folder / "exercises")
    key = make_key(folder / "course.key")
    edition = edition_of(set_file)
    edition.write(key.frozen_path(edition.set_name))
    maker = SheetMaker(edition, key)
    chance = random.Random(count)
    (folder / "came").mkdir()
    with open(folder / "class.csv", "w", encoding="utf-8") as roster:
        roster.write("id,name\n")
        for i in range(count):
            student = Student(f"{i:06d}", f"Student {i}")
            roster.write(f"{student.id},{student.name}\n")
            sheet = maker.sheet(student, maker.tasks(student.id))
            answers = {
                question: {name: spoilt(text, chance) for name, text in texts.items()}
                for question, texts in right_answers(sheet).items()
            }
            (folder / "came" / sheet["file"]).write_text(hand_in(sheet, answers), encoding="utf-8")


def spoilt(text: str, chance: random.Random) -> str:
    """An answer as a student may type it."""
    dice = chance.random()
    try:
        number, _, unit = text.partition(" ")
        if dice < 0.08:
            return f"{2 * float(number):.4f} {unit}"
        if dice < 0.14:
            return f"{float(number) / 25.4:.5f}"
        if dice < 0.20:
            return f"{float(number) * chance.uniform(0.6, 1.7):.4f} {unit}"
    except ValueError:
        pass
    return "" if dice < 0.24 else "no idea" if dice < 0.26 else text.replace(".", ",") if dice < 0.4 else text


def measured(folder: Path) -> None:
    """Mark a class twice in one process and print what it took (run in a process of its own).

    The first marking also reads the set and derives its answers, which takes the same time for any class.
    """
    took, ticks = [], []

    def each(student, points):
        if int(student.id) % 100 == 0:
            ticks.append(time.perf_counter())

    for name in ("results", "again"):
        started, busy = time.perf_counter(), time.process_time()
        done = mark(
            folder / "came",
            folder / "exercises/sets/homework_1.toml",
            read_roster(folder / "class.csv"),
            read_key(folder / "course.key"),
            folder / name,
            each,
        )
        took.append((time.perf_counter() - started, time.process_time() - busy))
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    best = min(later - sooner for sooner, later in zip(ticks, ticks[1:]) if later > sooner)
    print(
        json.dumps(
            {"best": 100 / best, "first": took[0], "second": took[1], "memory": memory, "marked": done.marked}
        )
    )


def executed(folder: Path) -> float:
    """Seconds to execute one handed-out notebook."""
    import nbclient
    import nbformat

    hand_out(
        write_course(folder / "exercises"),
        Roster([Student("007")]),
        make_key(folder / "own.key"),
        folder / "out",
    )
    notebook = nbformat.read(folder / "out/notebooks/homework-1_007.ipynb", as_version=4)
    os.environ["GEARLAB_ANSWERS"] = str(folder)
    started = time.perf_counter()
    nbclient.NotebookClient(notebook, timeout=120, resources={"metadata": {"path": str(folder)}}).execute()
    return time.perf_counter() - started


def main(counts: list[int]) -> None:
    table = Table(title=f"Marking {ANSWERS} answers a hand-in, one core")
    for heading in (
        "hand-ins",
        "first marking [s]",
        "again [s]",
        "hand-ins a second",
        "a second of computing",
        "a second in the best hundred",
        "peak memory [MB]",
    ):
        table.add_column(heading, justify="right")
    with tempfile.TemporaryDirectory() as place:
        for count in counts:
            folder = Path(place, str(count))
            folder.mkdir()
            collect(folder, count)
            output = subprocess.run(
                [sys.executable, __file__, "--measure", str(folder)],
                check=True,
                capture_output=True,
                text=True,
            ).stdout
            found = json.loads(output)
            assert found["marked"] == count
            seconds, busy = found["second"]
            row = (
                f"{count}",
                f"{found['first'][0]:.2f}",
                f"{seconds:.2f}",
                f"{count / seconds:.0f}",
                f"{count / busy:.0f}",
                f"{found['best']:.0f}",
                f"{found['memory']:.0f}",
            )
            table.add_row(*row)
        Console().print(table)
        seconds = executed(Path(place, "one"))
        Console().print(
            f"Executing one such notebook with nbclient: {seconds:.2f} s, {1 / seconds:.2f} a second"
        )


if __name__ == "__main__":
    if sys.argv[1:2] == ["--measure"]:
        measured(Path(sys.argv[2]))
    else:
        main([int(text) for text in sys.argv[1:]] or [1000, 20_000])
