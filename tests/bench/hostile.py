"""Texts led by the code they reach, through every reader: `python tests/bench/hostile.py [TEXTS] [NAME ...]`.

TEXTS in all (1,000,000 unless told otherwise) are shared out over the readers of `tests/hostile/readers.py`
by their weight; each reader runs in a process of its own, from its corpus. Told are the texts tried, texts
a second, branches reached, and any fault with the text that caused it (kept in a file, to be put into the
corpus). Ends with 1 if there was a fault.

Needs the extra `fuzz` (`pip install -e '.[test,fuzz]'`: atheris, Linux and macOS).
"""

import re
import subprocess
import sys
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "hostile"))
# The quick ones and those that read what students type most; others: 4.
WEIGHTS = {"number": 25, "expression": 25, "hand-in": 25, "decisions": 15, "roster": 8, "design": 5}
WEIGHTS |= {
    "choice": 8,
    "quantity": 8,
    "cell": 8,
    "attempts": 8,
    "course": 6,
    "gradebook": 6,
    "set": 2,
    "verdict": 3,
}
WEIGHTS |= {"bank": 1, "reasons": 2, "predictions": 2, "edition": 2, "begun": 1, "run-sheet": 0.3, "lab": 0.7}
OTHERS = 4


def one_reader(name: str, arguments: list[str]) -> None:
    """What runs in the process of one reader: never comes back."""
    import atheris

    with atheris.instrument_imports(include=["gearlab"]):
        import readers

    def tried(data: bytes) -> None:
        readers.read(name, data)

    atheris.Setup([sys.argv[0], *arguments], tried)
    atheris.Fuzz()


def tell(name: str, texts: int, folder: Path) -> bool:
    """Run one reader and print its row; whether there was no fault."""
    import readers

    corpus = folder / name
    corpus.mkdir()
    for number, data in enumerate([*readers.seeds(name), *readers.generated(name, 200, seed=2)]):
        (corpus / f"{number}").write_bytes(data)
    begun = time.monotonic()
    run = subprocess.run(
        [
            sys.executable,
            __file__,
            "--reader",
            name,
            f"-runs={texts}",
            "-max_len=4000",
            "-timeout=20",
            "-rss_limit_mb=2000",
            f"-artifact_prefix={folder}/{name}-",
            str(corpus),
        ],
        capture_output=True,
        text=True,
        errors="replace",
    )
    took = time.monotonic() - begun
    done = [int(found) for found in re.findall(r"^#(\d+)", run.stderr, re.MULTILINE)]
    reached = re.findall(r"cov: (\d+)", run.stderr)
    tried = done[-1] if done else 0
    print(
        f"{name:<11} {tried:>9} texts {tried / took:>7.0f} a second, {reached[-1] if reached else '0':>6}"
        f" branches, {'no fault' if not run.returncode else 'FAULT'}",
        flush=True,
    )
    if run.returncode:
        print(run.stderr[-3000:])
    return not run.returncode


def main() -> None:
    import readers

    texts = int(sys.argv[1].replace(",", "").replace("_", "")) if len(sys.argv) > 1 else 1_000_000
    names = sys.argv[2:] or list(readers.READERS)
    weights = {name: WEIGHTS.get(name, OTHERS) for name in names}
    folder = Path(tempfile.mkdtemp(prefix="hostile-"))
    well = [tell(name, int(texts * weights[name] / sum(weights.values())) + 1, folder) for name in names]
    print(f"texts that caused a fault, and what was reached, lie in {folder}")
    sys.exit(0 if all(well) else 1)


if __name__ == "__main__":
    if sys.argv[1:2] == ["--reader"]:
        one_reader(sys.argv[2], sys.argv[3:])
    main()
