"""How many wrong answers get a cause, and how many random numbers do.

    python tests/bench/causes.py [--lessons 05] [--draws 20] [--listed] [--all]
    python tests/bench/causes.py bank.toml ... [--draws 20] [--listed] [--all]

The wrong answers are closed forms from a collection (the one of the test data, which was written before and
apart from the library: a line of the table for each of its files), or the slips of question banks.  They are
worked out for each draw, typed with four significant digits, and judged with the banks' listed slips switched
off, so that only what the library works out by itself is measured (--listed switches them on).  Beside it
stands the share of random numbers that get a cause: numbers spread evenly in their logarithm over a factor of
four to both sides of the right answer, typed with two, three and four digits and in full; where numbers count
up to a period, spread evenly over one period.  Naming a cause for a random number is a fault.
"""

from __future__ import annotations

import argparse
import math
import random
import sys
import tomllib
from pathlib import Path

from gearlab.contents import content_folder
from gearlab.practice import load_bank

sys.path.insert(0, str(Path(__file__).parent.parent / "practice"))
from algebra import worked_out  # noqa: E402  (the algebra the collection is written in)

DATA = Path(__file__).parent.parent / "practice" / "data"
CAUSE_KINDS = {"another quantity", "listed slip", "ordinary slip", "wrong unit", "wrong sign"}


def collected(slips: Path, questions: Path):
    """(question, answer id, name, wrong number for a draw or None) of every collected wrong answer."""
    places = {one["id"]: one for one in tomllib.loads(questions.read_text(encoding="utf-8"))["worked"]}
    banks = {}
    for one in tomllib.loads(slips.read_text(encoding="utf-8"))["slip"]:
        place = places[one["worked"]]
        bank = banks.setdefault(place["bank"], load_bank(content_folder("exercises") / place["bank"]))

        def wrong(draw, one=one):
            numbers = {symbol: draw.values[word] for symbol, word in one["symbols"].items()}
            if all(worked_out(text, numbers) for text in one.get("where", [])):
                return worked_out(one["closed_form"], numbers)

        yield bank[place["question"]], one["answer"], one["name"], wrong


def of_banks(banks):
    """The same for the slips that stand in question banks."""
    for bank in banks:
        for question in bank:
            for answer in question.answers if question.kind == "number" else ():
                for cause, formula, conditions in question.slips_of(answer).listed:

                    def wrong(draw, formula=formula, conditions=conditions):
                        return (
                            formula(*draw.shown)
                            if all(condition(*draw.shown) for condition in conditions)
                            else None
                        )

                    yield question, answer.id, cause.name, wrong


def typed(value: float, digits: int) -> str:
    text = f"{value:.{digits}g}"
    return (
        text
        if "e" not in text
        else f"{float(text):.12f}".rstrip("0").rstrip(".")
        if abs(value) < 1
        else f"{float(text):.0f}"
    )


def named(verdict) -> bool:
    return verdict.kind in CAUSE_KINDS


def slips_named(cases, draws: int, listed: bool = False, digits: int = 4):
    """(question, answer, slip) -> share of its draws in which a cause was named."""
    shares = {}
    for question, answer_id, name, wrong in cases:
        for number in range(draws):
            draw = question.draw("causes", number)
            value = wrong(draw)
            if value is None:
                continue
            text = typed(value, max(digits, len(str(int(abs(value))))))
            verdict = question.judge(draw, {answer_id: text}, listed_slips=listed)[answer_id]
            if not verdict.right:
                shares.setdefault((question.id, answer_id, name), []).append(named(verdict))
    return {key: sum(one) / len(one) for key, one in shares.items()}


def random_named(questions, draws: int, each: int = 60, listed: bool = False, seed: int = 7):
    """Share of random numbers that get a cause: by way of typing, and by answer."""
    source = random.Random(seed)
    ways = {"2 digits": [], "3 digits": [], "4 digits": [], "in full": [], "whole": []}
    by_answer = {}
    for question in questions:
        if question.kind == "number":
            for number in range(draws):
                draw = question.draw("random", number)
                for place, answer in enumerate(question.answers):
                    key = draw.keys[place]
                    for _ in range(each if key or answer.modular else 0):
                        period = answer.period(draw.shown)
                        value = (
                            source.uniform(0, period)
                            if period
                            else key * math.exp(source.uniform(-math.log(4), math.log(4)))
                        )
                        texts = {
                            "2 digits": typed(value, 2),
                            "3 digits": typed(value, 3),
                            "4 digits": typed(value, 4),
                            "in full": repr(value),
                        }
                        if answer.whole:
                            texts["whole"] = str(max(1, round(value)))
                        for way, text in texts.items():
                            verdict = question.judge(draw, {answer.id: text}, listed_slips=listed)[answer.id]
                            if not verdict.right:
                                ways[way].append(named(verdict))
                                if way not in ("whole", "2 digits"):
                                    by_answer.setdefault((question.id, answer.id), []).append(named(verdict))
    return (
        {way: sum(one) / len(one) for way, one in ways.items() if one},
        {key: sum(one) / len(one) for key, one in by_answer.items()},
    )


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("banks", nargs="*", type=Path)
    parser.add_argument("--lessons", help="one file of the collection, such as 05")
    parser.add_argument("--draws", type=int, default=20)
    parser.add_argument("--listed", action="store_true")
    parser.add_argument("--all", action="store_true", help="list every slip that is not always named")
    arguments = parser.parse_args()
    if arguments.banks:
        groups = {"banks": of_banks([load_bank(path) for path in arguments.banks])}
    else:
        files = sorted(DATA.glob(f"slips_{arguments.lessons or '*'}.toml"))
        groups = {
            path.stem.removeprefix("slips_"): collected(
                path, path.with_name(path.name.replace("slips", "worked"))
            )
            for path in files
        }
    print(f"{'lessons':10} {'wrong answers':>14} {'named':>7} {'random named':>13}   by way of typing")
    total, some, by_way = [], [], {}
    for name, cases in groups.items():
        cases = list(cases)
        shares = slips_named(cases, arguments.draws, arguments.listed)
        ways, by_answer = random_named(
            {id(case[0]): case[0] for case in cases}.values(),
            max(2, arguments.draws // 4),
            listed=arguments.listed,
        )
        plain = [share for way, share in ways.items() if way not in ("whole", "2 digits")]
        total += shares.values()
        some.append(sum(plain) / len(plain))
        for way, share in ways.items():
            by_way.setdefault(way, []).append(share)
        print(
            f"{name:10} {len(shares):>14}"
            f" {sum(share >= 0.5 for share in shares.values()) / len(shares):>7.1%} {some[-1]:>13.2%}   "
            + ", ".join(f"{way} {share:.2%}" for way, share in ways.items())
        )
        if arguments.all:
            print(
                "  most random numbers named:",
                ", ".join(
                    f"{question}/{answer} {share:.1%}"
                    for (question, answer), share in sorted(by_answer.items(), key=lambda i: -i[1])[:6]
                ),
            )
            for key, share in sorted(shares.items()):
                if share < 1:
                    print(f"  {share:5.0%}  {'  '.join(key)}")
    print(
        f"{'all':10} {len(total):>14} {sum(share >= 0.5 for share in total) / len(total):>7.1%}"
        f" {sum(some) / len(some):>13.2%}   "
        + ", ".join(f"{way} {sum(shares) / len(shares):.2%}" for way, shares in by_way.items())
    )
    print(
        f"named: wrong answers with a cause in at least half of {arguments.draws} draws, listed slips"
        f" {'on' if arguments.listed else 'off'}"
    )


if __name__ == "__main__":
    main()
