"""How often twins are found, and others taken for twins: `python tests/bench/pairs.py [CLASSES [COUNT]]`.

Simulated classes of the greenhouse's set, a third of the answers spoilt. In half of them one student types
all that another one typed, who gets as much wrong as anybody; the other half has no twins.
"""

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "course"))
from greenhouse import write_course  # noqa: E402
from simulated import marked_class  # noqa: E402

from gearlab.course.coursekey import CourseKey  # noqa: E402
from gearlab.course.handout.edition import (
    SheetMaker,  # noqa: E402
    edition_of,  # noqa: E402
)
from gearlab.course.report.pairs import Traces  # noqa: E402
from gearlab.course.roster import Student  # noqa: E402


def main(classes: int, count: int) -> None:
    """Print what was found in so many classes with twins and in as many without."""
    students, twins = [Student(f"{i:06d}") for i in range(count)], (count // 20, 2 * count // 3)
    with tempfile.TemporaryDirectory() as folder:
        edition = edition_of(write_course(Path(folder) / "exercises"))
        for told, two in (("with twins", twins), ("without", None)):
            hits, false = 0, []
            for seed in range(classes):
                maker = SheetMaker(edition, CourseKey(Path(folder) / "key", seed.to_bytes(32, "big")))
                traces = Traces(maker.set, Path(folder) / f"{told}-{seed}")
                for number, (_, marked) in enumerate(marked_class(maker, students, seed, two)):
                    traces.add(number, marked)
                who = [(pair.first, pair.second) for pair in traces.pairs()[0]]
                hits += twins in who
                false.append(len(who) - (twins in who))
            print(f"{classes} classes of {count} {told}: twins found in {hits}; other pairs {sum(false)}")


if __name__ == "__main__":
    given = [int(word) for word in sys.argv[1:3]]
    main(*(given + [20, 300][len(given) :]))
