"""Random pairs against their cut teeth, as many as one likes.

Every number that rolling can measure agrees, or is named as measured.

    python tests/bench/ranges.py [pairs] [seed]
"""

import random
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "parts"))

from rolled_pairs import faults, random_pair  # noqa: E402


def main(pairs: int = 2000, seed: int = 1) -> int:
    chance, looked_at, measured, found, slow = random.Random(seed), 0, 0, [], []
    while looked_at < pairs:
        pair = random_pair(chance)
        if pair is None:
            continue
        if "contact_ratio" in pair.refused:
            start = time.perf_counter()
            pair.numbers.get("contact_ratio")
            slow.append(1000 * (time.perf_counter() - start))
            measured += 1
        found += faults(pair)
        looked_at += 1
    slow.sort()
    print(
        f"{pairs} pairs of 6 to 60 teeth: contact measured for {measured}, in {slow[len(slow) // 2]:.1f} ms"
        f" (95 of 100 within {slow[int(0.95 * len(slow))]:.1f})"
    )
    print(
        f"{len(found)} numbers neither agree with the cut teeth nor are named"
        + "".join(f"\n  {fault}" for fault in found[:20])
    )
    return len(found)


if __name__ == "__main__":
    sys.exit(1 if main(*(int(word) for word in sys.argv[1:3])) else 0)
