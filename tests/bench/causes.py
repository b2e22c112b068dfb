"""How many wrong answers get a cause, and how many random numbers do.

    python tests/bench/causes.py [bank.toml ...] [--draws 20] [--listed] [--questions]

The wrong answers are the formulas of the banks' slips, worked out for each draw and typed with four significant digits;
they are judged with the listed slips switched off, so that only what the library works out by itself is measured
(--listed switches them on).  Beside it stands the share of random numbers that get a cause: numbers spread evenly in
their logarithm over a factor of four to both sides of the right answer, typed with three digits, four digits and in
full.  Naming a cause for a random number is a fault.
"""

from __future__ import annotations

import argparse
import math
import random
from pathlib import Path

from gearlab.practice import load_bank

DATA = Path(__file__).parent.parent / "practice" / "data" / "blueprints.toml"
CAUSE_KINDS = {"another quantity", "listed slip", "ordinary slip", "wrong unit", "wrong sign"}


def typed(value: float, digits: int) -> str:
    text = f"{value:.{digits}g}"
    return text if "e" not in text else f"{float(text):.12f}".rstrip("0").rstrip(".") if abs(value) < 1 else f"{float(text):.0f}"


def named(verdict) -> bool:
    return verdict.kind in CAUSE_KINDS


def slips_named(banks, draws: int, listed: bool, digits: int = 4):
    """(question, answer, slip) -> share of its draws in which a cause was named."""
    shares = {}
    for bank in banks:
        for question in bank:
            if question.kind != "number":
                continue
            for number in range(draws):
                draw = question.draw("causes", number)
                for place, slip, formula, conditions in question._slips:
                    answer = question.answers[place]
                    if not all(condition(*draw.shown) for condition in conditions):
                        continue
                    wrong = formula(*draw.shown)
                    text = typed(wrong, max(digits, len(str(int(abs(wrong))))))
                    verdict = question.judge(draw, {answer.id: text}, listed_slips=listed)[answer.id]
                    if verdict.right:
                        continue
                    shares.setdefault((question.id, answer.id, slip.name), []).append(named(verdict))
    return {key: sum(one) / len(one) for key, one in shares.items()}


def random_named(banks, draws: int, each: int = 60, listed: bool = False, seed: int = 7):
    """Share of random numbers that get a cause: by way of typing, and for the worst answers."""
    source = random.Random(seed)
    ways = {"3 digits": [], "4 digits": [], "in full": [], "whole": []}
    by_answer = {}
    for bank in banks:
        for question in bank:
            if question.kind != "number":
                continue
            for number in range(draws):
                draw = question.draw("random", number)
                for place, answer in enumerate(question.answers):
                    key = draw.keys[place]
                    for _ in range(each):
                        value = key * math.exp(source.uniform(-math.log(4), math.log(4)))
                        texts = {"3 digits": typed(value, 3), "4 digits": typed(value, 4), "in full": repr(value)}
                        if answer.whole:
                            texts["whole"] = str(max(1, round(value)))
                        for way, text in texts.items():
                            verdict = question.judge(draw, {answer.id: text}, listed_slips=listed)[answer.id]
                            if not verdict.right:
                                ways[way].append(named(verdict))
                                if way != "whole":
                                    by_answer.setdefault((question.id, answer.id), []).append(named(verdict))
    return ({way: sum(one) / len(one) for way, one in ways.items() if one}, {key: sum(one) / len(one) for key, one in by_answer.items()})


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("banks", nargs="*", type=Path, default=[DATA])
    parser.add_argument("--draws", type=int, default=20)
    parser.add_argument("--listed", action="store_true")
    parser.add_argument("--questions", action="store_true", help="list every slip that is not always named")
    arguments = parser.parse_args()
    banks = [load_bank(path) for path in arguments.banks]
    shares = slips_named(banks, arguments.draws, arguments.listed)
    ways, by_answer = random_named(banks, max(2, arguments.draws // 4), listed=arguments.listed)
    print(f"wrong answers: {len(shares)}   named in at least half of {arguments.draws} draws: "
          f"{sum(share >= 0.5 for share in shares.values()) / len(shares):.1%}   mean share named: {sum(shares.values()) / len(shares):.1%}")
    plain = [share for way, share in ways.items() if way != "whole"]
    print(f"random numbers named: {sum(plain) / len(plain):.2%}  (" + ", ".join(f"{way} {share:.2%}" for way, share in ways.items()) + ")")
    print("most random numbers named:", ", ".join(f"{question}/{answer} {share:.1%}" for (question, answer), share in sorted(by_answer.items(), key=lambda i: -i[1])[:6]))
    if arguments.questions:
        for key, share in sorted(shares.items()):
            if share < 1:
                print(f"  {share:5.0%}  {'  '.join(key)}")


if __name__ == "__main__":
    main()
