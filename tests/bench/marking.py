"""How fast a class is marked, and how much memory it takes.

Run `python tests/bench/marking.py [COUNT ...] [usual] [mixed] [--quick]`.

Two classes: the usual one (two thirds of the answers right), and a mixed one with many answers that no cause
explains, which are dearer. Each hand-in has twelve answers to seven questions; its numbers are drawn again,
every answer is judged, and its feedback page, gradebook row and evidence are written: by one process, by two
processes, and by the two workers of a cluster on this machine (`--quick`: by one process only). Memory is the
greatest that the marking process itself had, and a process of those that mark. On a machine that does other
things too, the best hundred hand-ins in a row show what it can do. For comparison, in the same run: executing
one such notebook with nbclient, which is what marking by running notebooks costs.
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
from greenhouse import hand_in, right_answers, write_course  # noqa: E402
from simulated import spoilt as usual  # noqa: E402

from gearlab.course.coursekey import make_key, read_key  # noqa: E402
from gearlab.course.handout.edition import (
    SheetMaker,  # noqa: E402
    edition_of,  # noqa: E402
)
from gearlab.course.handout.making import hand_out  # noqa: E402
from gearlab.course.marking.whole import mark  # noqa: E402
from gearlab.course.roster import Roster, Student, read_roster  # noqa: E402

WAYS = {"one process": {}, "two processes": {"cores": 2}, "two workers": {"cluster": ""}}


def collect(folder: Path, count: int, spoilt) -> None:
    """A class that hands in, its answers spoilt in a way."""
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


def mixed(text: str, chance: random.Random) -> str:
    """An answer of a class in which a quarter of the numbers have no cause that anybody knows."""
    dice = chance.random()
    number, _, unit = text.partition(" ")
    try:
        value = float(number)
    except ValueError:
        return "" if dice < 0.06 else "no idea" if dice < 0.10 else text
    if dice < 0.26:
        return f"{value * chance.uniform(0.6, 1.7):.4f} {unit}"
    if dice < 0.34:
        return f"{2 * value:.4f} {unit}"
    if dice < 0.38:
        return f"{value / 25.4:.5f}"
    return (
        "" if dice < 0.44 else "no idea" if dice < 0.48 else text.replace(".", ",") if dice < 0.58 else text
    )


def of_workers() -> float:
    """The greatest memory a process begun from this one has had so far [MB]; 0 where the system hides it."""
    parents, peaks = {}, {}
    for place in Path("/proc").glob("[0-9]*/status"):
        try:
            fields = dict(line.split(":", 1) for line in place.read_text().splitlines())
            parents[int(fields["Pid"])] = int(fields["PPid"])
            peaks[int(fields["Pid"])] = int(fields["VmHWM"].split()[0]) / 1024
        except (OSError, KeyError, ValueError):  # ended meanwhile, or one of the system's
            continue
    ours, grown = {os.getpid()}, True
    while grown:
        more = {process for process, parent in parents.items() if parent in ours} - ours
        ours, grown = ours | more, bool(more)
    return max((peaks.get(process, 0.0) for process in ours - {os.getpid()}), default=0.0)


def measured(folder: Path, way: str, address: str) -> None:
    """Mark a class twice and print what it took (run in a process of its own).

    The first marking also reads the set and derives its answers, which takes the same time for any class.
    """
    options = WAYS[way] | ({"cluster": address} if address else {})
    took, ticks, others = [], [], 0.0

    def each(student, points):
        nonlocal others
        if int(student.id) % 100 == 0:
            ticks.append(time.perf_counter())
        if int(student.id) % 200 == 0 and len(took) == 1 and options.get("cores"):
            others = max(others, of_workers())

    for name in ("results", "again"):
        started = time.perf_counter(), time.process_time()
        done = mark(
            folder / "came",
            folder / "exercises/sets/homework_1.toml",
            read_roster(folder / "class.csv"),
            read_key(folder / "course.key"),
            folder / f"{name} {way}",
            each,
            **options,
        )
        took.append((time.perf_counter() - started[0], time.process_time() - started[1]))
    own = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    best = min(later - sooner for sooner, later in zip(ticks, ticks[1:]) if later > sooner)
    print(json.dumps({"best": 100 / best, "took": took, "memory": [own, others], "marked": done.marked}))


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


def run(folder: Path, way: str) -> dict:
    """Measure one way in processes of its own."""
    cluster, address = None, ""
    if way == "two workers":
        from distributed import LocalCluster

        cluster = LocalCluster(
            n_workers=2, threads_per_worker=1, dashboard_address=None, scheduler_port=0, silence_logs=50
        )
        address = cluster.scheduler_address
    output = subprocess.run(
        [sys.executable, __file__, "--measure", str(folder), way, address],
        check=True,
        capture_output=True,
        text=True,
    ).stdout
    if cluster:
        cluster.close()
    return json.loads(output)


def main(arguments: list[str]) -> None:
    counts = [int(text) for text in arguments if text.isdigit()] or [1000, 20_000]
    ways = list(WAYS)[:1] if "--quick" in arguments else list(WAYS)
    table = Table(title="Marking hand-ins of twelve answers")
    for heading in (
        "class",
        "hand-ins",
        "by",
        "first marking [s]",
        "again [s]",
        "a second",
        "a second in the best hundred",
        "peak memory [MB]",
        "of a process that marks [MB]",
    ):
        table.add_column(heading, justify="right")
    with tempfile.TemporaryDirectory() as place:
        for kind in [kind for kind in (usual, mixed) if kind.__name__ in arguments] or (usual, mixed):
            for count in counts:
                folder = Path(place, f"{kind.__name__} {count}")
                folder.mkdir()
                collect(folder, count, kind)
                for way in ways:
                    found = run(folder, way)
                    assert found["marked"] == count
                    (first, _), (again, _) = found["took"]
                    own, others = found["memory"]
                    table.add_row(
                        kind.__name__,
                        f"{count}",
                        way,
                        f"{first:.2f}",
                        f"{again:.2f}",
                        f"{count / again:.0f}",
                        f"{found['best']:.0f}",
                        f"{own:.0f}",
                        f"{others:.0f}" if way == "two processes" else "",
                    )
                    Console(stderr=True).print(kind.__name__, count, way, found)
        Console(width=120).print(table)
        seconds = executed(Path(place, "one"))
        Console().print(
            f"Executing one such notebook with nbclient: {seconds:.2f} s, {1 / seconds:.2f} a second"
        )


if __name__ == "__main__":
    if sys.argv[1:2] == ["--measure"]:
        measured(Path(sys.argv[2]), sys.argv[3], sys.argv[4])
    else:
        main(sys.argv[1:])
