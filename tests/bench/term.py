"""A simulated term: handed out, handed in, marked, decided, marked again, added up, held against its truth.

    python tests/bench/term.py [--students 300] [--seed 1] [--keep FOLDER]

Four sets, three sections, a question marked by two assistants; late, ill, extra time, absent, two attempts, a
wrong key found after release and corrected for all, one question dropped, twins with equal wrong numbers, an
uploader with another's file: once in every thirty students. The points of everybody are worked out beside it
by plain arithmetic from what was typed (tests/course/simulatedterm.py), and every page is read as its
student reads it (tests/course/termchecks.py). Stops at the first thing that is not as it must be.
"""

import argparse
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "course"))
import termchecks  # noqa: E402
from simulatedterm import SETS, Term, run  # noqa: E402


def main() -> None:
    """Run the term and say what was held against what."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--students", type=int, default=300, help="a multiple of thirty")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--keep", type=Path, help="folder for the course; by default it is thrown away")
    wanted = options.parse_args()
    with tempfile.TemporaryDirectory(prefix="gearlab-term-") as folder:
        place = wanted.keep or Path(folder)
        place.mkdir(parents=True, exist_ok=True)
        term = Term(place, wanted.students, wanted.seed)
        _timed("handed out", term.begin)
        _timed("handed in", term.hand_in)
        _timed("marked", term.mark)
        print(
            f"  {termchecks.marks_are_true(term, decided=False)} marks before the decisions are the true ones"
        )
        term.read_texts()
        term.decide()
        _timed("decided and marked again", term.mark)
        for words, check in (
            ("marks after the decisions are the true ones", lambda: termchecks.marks_are_true(term, True)),
            ("answers on feedback pages explain their marks", lambda: termchecks.pages_explain(term)),
            ("changed marks are listed before and after", lambda: termchecks.changes_are_listed(term)),
            ("twin pairs are named, and nobody else", lambda: termchecks.twins_are_named(term)),
            ("uploaders of another's file are named", lambda: termchecks.uploaders_are_named(term)),
        ):
            print(f"  {check()} {words}")
        _timed("added up", lambda: run("term", "--course", term.course))
        print(f"  {termchecks.term_is_true(term)} marks of the term are the true ones")
        print(f"  {termchecks.term_pages_explain(term)} sums on its pages were worked out again")
        print(
            f"  {termchecks.template_is_filled(term, place)} cells of a learning system's gradebook read back"
        )
        print(f"{wanted.students} students, {len(SETS)} sets: all as it must be.")


def _timed(what, act) -> None:
    begun = time.monotonic()
    act()
    print(f"{what} in {time.monotonic() - begun:.1f} s")


if __name__ == "__main__":
    main()
