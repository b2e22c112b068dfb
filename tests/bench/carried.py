"""How many later answers earn their points when they follow consistently from a wrong earlier one.

    python tests/bench/carried.py [--draws 6] [--all]

For each carry of the banks (tests/practice/data/carries.toml: formulas of the worked answers,
written apart from theory) the earlier answer is changed as a student would change it: a few per cent or
a fifth off, twice or half of it, a factor pi, the wrong sign, one count more, a slip that the bank
lists, a given of its unit copied. The consistent later answer is worked out by the formula, typed with
five significant digits, and has to be credited as carried. Left out are cases where nothing is carried:
the later answer comes out right, or as no number that the answer can have (a negative one where no sign
is asked, a fraction of a tooth), or as the earlier number once more.
"""

from __future__ import annotations

import argparse
import math
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

from gearlab.contents import content_folder
from gearlab.practice import load_bank

sys.path.insert(0, str(Path(__file__).parent.parent / "practice"))
from algebra import worked_out  # noqa: E402  (the algebra the formulas are written in)

DATA = Path(__file__).parent.parent / "practice" / "data" / "carries.toml"
CARRIES = tomllib.loads(DATA.read_text(encoding="utf-8"))["carry"]
GOAL = 0.95

SHARES = {
    "4 % more": 1.04,
    "3 % less": 0.97,
    "a fifth more": 1.2,
    "a seventh less": 6 / 7,
    "twice": 2.0,
    "half": 0.5,
    "pi times": math.pi,
    "by pi": 1 / math.pi,
    "wrong sign": -1.0,
}


def typed(value: float, digits: int = 9) -> str:
    return f"{value:.{digits}g}" if 1e-4 <= abs(value) < 10**digits else f"{value:.12f}"


def wrong_numbers(question, answer, draw) -> Iterator[tuple[str, float]]:
    """(what a student did, the wrong number) for an answer of a draw."""
    key = draw.keys[question.answers.index(answer)]
    for name, share in SHARES.items():
        if share > 0 or answer.signed:
            number = key * share
            yield name, float(round(number)) if answer.whole else number
    if answer.whole:
        yield "one more", key + 1
        yield "one less", key - 1
    for cause, formula, conditions in question.slips_of(answer).listed:
        if all(condition(*draw.shown) for condition in conditions):
            yield f"slip {cause.name}", formula(*draw.shown)
    for given in question.known_names:
        if question.unit(given) == answer.shown_unit:
            yield f"copied {given}", draw.values[given]


def follows(carry: dict, draw, own: dict[str, float]) -> float | None:
    """The later answer by the worked answer's formula; None where it has none."""
    space = {symbol: draw.values[word] for symbol, word in carry["symbols"].items()}
    space |= {symbol: own[one] for symbol, one in carry["earlier"].items()}
    try:
        number = worked_out(carry["formula"], space)
    except (ArithmeticError, ValueError):
        return None
    return number if isinstance(number, (int, float)) and math.isfinite(number) else None


def cases(carry: dict, question, draws: int) -> Iterator[tuple[str, object, dict[str, str], float]]:
    """(what a student did, draw, what is typed, the consistent later number), worth crediting."""
    later = question.answer(carry["answer"])
    ids = [answer.id for answer in question.answers]
    earlier = sorted(carry["earlier"].values(), key=ids.index)
    for number in range(draws):
        draw = question.draw("carried", number)
        keys = dict(zip(ids, draw.keys))
        for changed in earlier:
            answer = question.answer(changed)
            for name, wrong in wrong_numbers(question, answer, draw):
                if not wrong or answer.accepts(wrong, keys[changed], answer.period(draw.shown)):
                    continue
                own = {one: keys[one] for one in earlier} | {changed: wrong}
                for after in earlier[earlier.index(changed) + 1 :]:  # consistent on the way too
                    between = next(
                        (c for c in CARRIES if (c["question"], c["answer"]) == (question.id, after)), None
                    )
                    if between is not None and set(between["earlier"].values()) <= set(own):
                        told = follows(between, draw, own)
                        own[after] = own[after] if told is None else told
                own = {one: float(typed(value)) for one, value in own.items()}
                later_number = follows(carry, draw, own)
                if later_number is None or not later_number or later_number in own.values():
                    continue
                if later_number < 0 and not later.signed or later.whole and later_number % 1:
                    continue
                if later.accepts(later_number, keys[later.id], later.period(draw.shown)):
                    continue
                texts = {one: typed(value) for one, value in own.items()}
                texts[later.id] = typed(later_number, 5)
                yield f"{changed}: {name}", draw, texts, later_number


def credited(carries=CARRIES, draws: int = 6) -> dict[tuple[str, str, str], list[bool]]:
    """(question, later answer, what was done to which earlier one) -> whether it was credited, by draw."""
    found: dict[tuple[str, str, str], list[bool]] = {}
    banks: dict[str, object] = {}
    for carry in carries:
        folder = carry["bank"]
        bank = banks.setdefault(folder, load_bank(content_folder("exercises") / folder))
        question = bank[carry["question"]]
        for name, draw, texts, _ in cases(carry, question, draws):
            verdict = question.judge(draw, texts)[carry["answer"]]
            found.setdefault((question.id, carry["answer"], name), []).append(
                verdict.right and verdict.carried
            )
    return found


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--draws", type=int, default=6)
    parser.add_argument("--all", action="store_true", help="list what is not always credited")
    arguments = parser.parse_args()
    found = credited(draws=arguments.draws)
    every = [hit for hits in found.values() for hit in hits]
    by_sort: dict[str, list[bool]] = {}
    for (_, _, name), hits in found.items():
        sort = name.partition(": ")[2]
        by_sort.setdefault(sort.split()[0] if sort.startswith(("slip", "copied")) else sort, []).extend(hits)
    for sort, hits in by_sort.items():
        print(f"{sort:16} {len(hits):6} {sum(hits) / len(hits):8.1%}")
    print(
        f"{'all':16} {len(every):6} {sum(every) / len(every):8.1%}   goal {GOAL:.0%}, {len(CARRIES)} carries"
    )
    for key, hits in sorted(found.items()) if arguments.all else ():
        if not all(hits):
            print(f"  {sum(hits) / len(hits):5.0%}  {'  '.join(key)}")


if __name__ == "__main__":
    main()
