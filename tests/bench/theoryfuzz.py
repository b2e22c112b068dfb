"""Random questions to theory for as long as one likes.

Run `python tests/bench/theoryfuzz.py SECONDS [SEED]`.
"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "theory"))

from fuzzing import fuzz  # noqa: E402


def main():
    seconds, seed = (
        float(sys.argv[1]) if len(sys.argv) > 1 else 60.0,
        (int(sys.argv[2]) if len(sys.argv) > 2 else 1),
    )
    tally = fuzz(seed, seconds)
    for fault in tally.faults:
        print("FAULT", fault)
    print(
        f"seed {seed}: {tally.asked} questions, {tally.answered} answered, {tally.gave_up} given up,"
        f" {tally.compared} numbers compared, {len(tally.faults)} faults"
    )
    print(f"slowest: {tally.slowest[0]:.2f} s, {tally.slowest[1]}")
    sys.exit(1 if tally.faults else 0)


if __name__ == "__main__":
    main()
