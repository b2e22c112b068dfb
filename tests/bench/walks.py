"""Through how many files of gearlab four things go: run `python tests/bench/walks.py [-v]`.

A typed answer (box to verdict), a tooth count (control to picture and readout), a hand-in (file to gradebook
row) and a relation (a question that theory has not had before). Each is done once beforehand, then once more
under a profiler; counted are the files in which a function of ours runs. ``-v`` names them.
"""

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "course"))
sys.path.insert(0, str(Path(__file__).resolve().parent))
from marking import collect, usual  # noqa: E402

import gearlab  # noqa: E402
from gearlab.course.coursekey import read_key  # noqa: E402
from gearlab.course.marking.whole import mark  # noqa: E402
from gearlab.course.roster import read_roster  # noqa: E402
from gearlab.theory import derive  # noqa: E402
from gearlab.widgets import PairExplorer, ask  # noqa: E402

ROOT = Path(gearlab.__file__).parent


def files(act) -> list[str]:
    """The files of gearlab whose functions run while something is done."""
    ran = set()

    def called(frame, event, _):
        if event == "call" and frame.f_code.co_filename.startswith(str(ROOT)):
            ran.add(str(Path(frame.f_code.co_filename).relative_to(ROOT)))

    sys.setprofile(called)
    try:
        act()
    finally:
        sys.setprofile(None)
    return sorted(ran)


def answer():
    """Check a wrong number in the box of a question."""
    box = ask("03_centre_distance", "spacing-metric")
    texts = {field.id: "100" for field in box.question.fields}

    def act(number):
        box.draft = {"n": number, "key": box.view["key"], "texts": texts, "act": "check"}

    act(1)
    return lambda: act(2)


def tooth_count():
    """Change a tooth count of the pair."""
    explorer = PairExplorer(18, 45, module=2.5, playing=False)
    explorer.driver_teeth = 20

    def act():
        explorer.driver_teeth = 23

    return act


def handed_in(folder: Path):
    """Mark one hand-in."""
    collect(folder, 1, usual)

    def act(name):
        mark(
            folder / "came",
            folder / "exercises/sets/homework_1.toml",
            read_roster(folder / "class.csv"),
            read_key(folder / "course.key"),
            folder / name,
        )

    act("results")
    return lambda: act("again")


def relation():
    """Ask theory what it has not been asked before."""
    derive("outside_diameter", ["module", "pitch_diameter"])
    return lambda: derive("outside_diameter", ["module", "root_diameter"])


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        walks = {
            "a typed answer": answer(),
            "a tooth count": tooth_count(),
            "a hand-in": handed_in(Path(folder)),
            "a relation": relation(),
        }
        for name, act in walks.items():
            through = files(act)
            print(f"{name}: {len(through)} files", *(through if "-v" in sys.argv else ()))
