"""Killed at any moment: answering, handing out and marking, each again and again, and what stands then.

    python tests/bench/kills.py [--times 200] [--seed 1]

A process does one of the three without an end and is killed (SIGKILL) at a random moment; after each kill is
looked at what a student or an instructor would find:

- answering: the hand-in file is whole, and holds everything that was told to be saved before the kill;
- handing out: every file that is there is as an undisturbed hand-out writes it, and none is out before the
  set is frozen; handing out again completes it;
- marking: the present results, and all earlier ones, are those of one undisturbed run, never of two; marking
  again clears away what was left.

Needs fork (POSIX).
"""

from __future__ import annotations

import argparse
import itertools
import os
import random
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "course"))
from greenhouse import hand_in as filled  # noqa: E402
from greenhouse import right_answers, sheet_of, write_course  # noqa: E402

from gearlab.course.coursekey import make_key, read_key  # noqa: E402
from gearlab.course.handout.making import hand_out  # noqa: E402
from gearlab.course.marking.whole import mark  # noqa: E402
from gearlab.course.results import Results  # noqa: E402
from gearlab.course.roster import Roster, Student  # noqa: E402
from gearlab.practice.handin import read_hand_in  # noqa: E402
from gearlab.widgets import hand_in  # noqa: E402

CLASS = Roster([Student(f"{number:03d}", f"Student {number}") for number in range(12)])
LONGEST = 0.25  # seconds until the kill


def killed(act: Callable[[], None], begun: Path, chance: random.Random, longest: float = LONGEST) -> None:
    """Let a process do something without an end, and kill it at a random moment after it has begun."""
    begun.unlink(missing_ok=True)
    child = os.fork()
    if child == 0:
        try:
            act()
        finally:
            os._exit(1)
    while not begun.exists():
        if os.waitpid(child, os.WNOHANG) != (0, 0):
            raise SystemExit("it refused to go on after a kill")
        time.sleep(0.001)
    time.sleep(chance.random() * longest)
    os.kill(child, signal.SIGKILL)
    if os.waitpid(child, 0)[1] != signal.SIGKILL:
        raise SystemExit("it ended by itself")


def files_of(folder: Path) -> dict[str, bytes]:
    """What a folder holds; of results without what tells how they differ from those before."""
    files = {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}
    if files.pop("changes.csv", None) is not None:
        lines = files["digests.txt"].splitlines(keepends=True)
        files["digests.txt"] = b"".join(line for line in lines if not line.endswith(b"changes.csv\n"))
    return files


def answering(folder: Path, times: int, chance: random.Random) -> list[str]:
    """Type into the boxes of one sheet; each text that was saved is told in a file of its own."""
    set_file, key = write_course(folder / "exercises"), make_key(folder / "own" / "key")
    hand_out(set_file, Roster([Student("007")]), key, folder / "out")
    sheet = sheet_of(folder / "out" / "notebooks" / "homework-1_007.ipynb")
    desk, told = folder / "desk", folder / "told"
    desk.mkdir()

    def act() -> None:
        opened = hand_in(sheet, desk)
        first = int(told.read_text()) + 1 if told.exists() else 1
        (folder / "begun").touch()
        handle = os.open(told, os.O_CREAT | os.O_WRONLY)
        for number in itertools.count(first):
            opened.keep("shafts", {"centre_distance": f"{number} mm"})
            os.pwrite(handle, str(number).encode(), 0)

    faults = []
    for _ in range(times):
        killed(act, folder / "begun", chance)
        saved = desk / sheet["file"]
        last = int(told.read_text()) if told.exists() and told.read_text() else 0
        try:
            typed = read_hand_in(saved.read_bytes()).answers["shafts"]["centre_distance"] if last else "0 mm"
        except (OSError, ValueError, KeyError) as error:
            faults.append(f"answering: {error}")
            continue
        if int(str(typed).split()[0]) not in (last, last + 1):
            faults.append(f"answering: {last} was saved, {typed} stands there")
        if list(desk.glob("*damaged*")):
            faults.append("answering: a file was found damaged")
    return faults


def handing_out(folder: Path, times: int, chance: random.Random) -> list[str]:
    """Hand out into an empty folder, again and again."""
    set_file, key = write_course(folder / "exercises"), make_key(folder / "own" / "key")
    hand_out(set_file, CLASS, key, folder / "expected")
    expected, frozen = files_of(folder / "expected"), key.frozen_path("homework-1")
    out = folder / "handed-out" / "homework-1"

    def act() -> None:
        (folder / "begun").touch()
        while True:
            hand_out(set_file, CLASS, read_key(key.path), out)
            shutil.rmtree(out)
            frozen.unlink()

    faults = []
    for _ in range(times):
        shutil.rmtree(out, ignore_errors=True)
        frozen.unlink(missing_ok=True)
        killed(act, folder / "begun", chance, 0.1)
        there = files_of(out)
        if not there.items() <= expected.items():
            faults.append(
                f"handing out: {sorted(set(there) - set(expected)) or 'a file'} is not as it should be"
            )
        if there and not frozen.exists():
            faults.append("handing out: sheets are out and nothing is frozen")
        hand_out(set_file, CLASS, key, out)
        if files_of(out) != expected or sorted(path.name for path in out.parent.iterdir()) != ["homework-1"]:
            faults.append("handing out: again does not complete it")
    return faults


def marking(folder: Path, times: int, chance: random.Random) -> list[str]:
    """Mark two states of what came in, in turn, into one folder."""
    set_file, key = write_course(folder / "exercises"), make_key(folder / "own" / "key")
    hand_out(set_file, CLASS, key, folder / "out")
    expected = []
    for state in ("right", "empty"):
        (folder / state).mkdir()
        for notebook in (folder / "out" / "notebooks").glob("*.ipynb"):
            sheet = sheet_of(notebook)
            answers = right_answers(sheet) if state == "right" else {}
            (folder / state / sheet["file"]).write_text(filled(sheet, answers))
        mark(folder / state, set_file, CLASS, key, folder / f"expected-{state}")
        expected.append(files_of(folder / f"expected-{state}"))
    results = Results(folder / "results" / "homework-1")

    def act() -> None:
        for state in itertools.cycle(("right", "empty")):
            mark(folder / state, set_file, CLASS, key, results.folder)
            (folder / "begun").touch()

    faults, between = [], 0
    for _ in range(times):
        killed(act, folder / "begun", chance)
        if not results.folder.exists():
            between += (
                1  # between two renames: both results are there, and the next marking puts one in place
            )
        elif files_of(results.folder) not in expected:
            faults.append("marking: the results are of no one run")
        for state in results.earlier_states():
            if files_of(results.earlier / state) not in expected:
                faults.append(f"marking: the earlier results {state} are of no one run")
        shutil.rmtree(results.earlier, ignore_errors=True)  # or the disk fills
    mark(folder / "right", set_file, CLASS, key, results.folder)
    if any(path.name.startswith(".") for path in results.folder.parent.iterdir()):
        faults.append("marking: something was left")
    print(f"  killed between the two renames of the switch: {between}")
    return faults


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--times", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    faults = []
    for work in (answering, handing_out, marking):
        started = time.perf_counter()
        with tempfile.TemporaryDirectory(prefix="gearlab-kills-") as folder:
            met = work(Path(folder), options.times, random.Random(options.seed))
        took = time.perf_counter() - started
        print(f"{work.__name__}: {options.times} kills, {len(met)} faults ({took:.0f} s)")
        faults += met
    print("\n".join(faults[:20]))
    sys.exit(bool(faults))


if __name__ == "__main__":
    main()
