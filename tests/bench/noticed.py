"""Which check from outside notices that a relation of theory is wrong: every relation, one at a time.

    python tests/bench/noticed.py                   the table, and how many are noticed by what (some minutes)
    python tests/bench/noticed.py --only bevel      relations whose name holds this text python
    tests/bench/noticed.py --deep            each letter and each written number of each relation too (a
    minute or two) python tests/bench/noticed.py --write           puts what was found into
    tests/noticed/noticed_by.toml

A relation is made 2 % wrong (tests/noticed/wrong.py), everything worked out before is forgotten, and the
checks whose numbers rest on it run again until one of each kind fails: published rows first, the surest
first.
"""

import argparse
import sys
import time
from collections import Counter
from pathlib import Path

ROOM = Path(__file__).resolve().parents[1] / "noticed"
sys.path.insert(0, str(ROOM))

import outside  # noqa: E402
import wrong  # noqa: E402

MAP = ROOM / "noticed_by.toml"
SURE = (
    "seen",
    "seen (solution transcription)",
    "seen (formula only; number is its evaluation)",
    "common practice",
    "from memory",
)


def surest(check):
    """Printed and seen before copied, copied before remembered; then what rests on few relations."""
    return SURE.index(check.confidence) if check.confidence in SURE else len(SURE), len(check.uses)


def found(checks, name):
    """The first check of each kind that notices a relation, by kind."""
    relation, by = wrong.KEYS[name], {}
    touching = sorted((check for check in checks.values() if relation in check.uses), key=surest)
    with wrong.told_by(wrong.with_mutant(name)):  # all of them in one wrong world
        for check in touching:
            if check.kind not in by:
                try:
                    check.run()
                except AssertionError:
                    by[check.kind] = check.name
                except Exception:  # noqa: BLE001 - refused on the way: does not count
                    pass
    return by


def deep(checks, names):
    """Mutants in one letter or one written number that nothing notices, of closed forms and measurements."""
    enough = {
        check.name: wrong.enough(check.uses) for check in checks.values() if check.kind != outside.PRINT
    }
    count, missed = 0, []
    for name in names:
        relation = wrong.KEYS[name]
        touching = sorted(
            (check for check in checks.values() if check.kind != outside.PRINT and relation in check.uses),
            key=lambda check: len(check.uses),
        )
        for part in (*wrong.letters(relation), *wrong.figures(relation)):
            count += 1
            if not any(wrong.noticed_by(check, name, part, enough[check.name]) for check in touching):
                missed.append(
                    f"{name}:"
                    f" {part if isinstance(part, str) else 'the number ' + str(relation.right.__code__.co_consts[part])}"  # noqa: E501
                )
    return count, missed


def written(by):
    """The map as it is committed."""
    lines = [
        "# Which check notices each relation when it is wrong: written by `python tests/bench/noticed.py"
        " --write`, read by test_noticed.py."
    ]
    for name, kinds in by.items():
        cells = ", ".join(
            f'"{kind}" = "{kinds[kind]}"'
            for kind in (outside.PRINT, outside.MEASURED, outside.CLOSED, outside.DEFINITION)
            if kind in kinds
        )
        lines.append(f'"{name}" = {{ {cells} }}')
    return "\n".join(lines) + "\n"


def main():
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--only", default="")
    asked.add_argument("--deep", action="store_true")
    asked.add_argument("--write", action="store_true")
    given = asked.parse_args()
    if given.write and given.only:
        asked.error("--write puts down all relations: leave --only away")
    start, checks = time.perf_counter(), outside.load()
    for check in checks.values():
        outside.traced(check)
    names = [name for name in wrong.KEYS if given.only in name]
    if given.deep:
        count, missed = deep(checks, names)
        print(
            f"{count} letters and numbers made wrong, {count - len(missed)} noticed,"
            f" {time.perf_counter() - start:.0f} s"
        )
        print("\n".join(missed))
        return
    by = {}
    for name in names:
        by[name] = kinds = found(checks, name)
        print(
            f"{name:75} {kinds.get(outside.PRINT, '-'):10} {kinds.get(outside.MEASURED, '-'):32}"
            f" {kinds.get(outside.CLOSED) or kinds.get(outside.DEFINITION, '-' if kinds else 'NOTHING')}",
            flush=True,
        )
    print(f"\n{len(by)} relations, {time.perf_counter() - start:.0f} s")
    for kind, number in Counter(
        next(
            (
                kind
                for kind in (outside.PRINT, outside.MEASURED, outside.CLOSED, outside.DEFINITION)
                if kind in kinds
            ),
            "NOTHING",
        )
        for kinds in by.values()
    ).most_common():
        print(f"  {number:4} by {kind} first")
    sure = Counter(checks[kinds[outside.PRINT]].confidence for kinds in by.values() if outside.PRINT in kinds)
    print("  of the published values: " + ", ".join(f"{number} {how}" for how, number in sure.most_common()))
    if given.write:
        MAP.write_text(written(by), encoding="utf-8")


if __name__ == "__main__":
    main()
