"""How many right answers lose points because they were rounded as a question asks.

    python tests/bench/rounding.py [set.toml ...] [--draws 40] [--banks]

Every number question of the sets is drawn, and its right answers are typed to the precision that it states,
or to three significant figures where it states none. A right answer typed so has to earn full points: what
does not is counted by the verdict it got. `--banks` takes every question of every bank instead of the sets.
"""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

from gearlab.practice import Question, load_bank, load_set

ROOT = Path(__file__).parents[2]


def as_asked(value: float, places: int | None, figures: int = 3) -> str:
    """A number rounded as a student rounds it: the half goes up."""
    exact = Decimal(f"{value:.12g}")
    if places is None:
        places = figures - 1 - exact.adjusted() if exact else 0
    step = Decimal(1).scaleb(-places)
    return f"{(exact / step).quantize(Decimal(1), ROUND_HALF_UP) * step:f}"


def typed(question: Question, keys: tuple[float, ...]) -> dict[str, str]:
    """The right answers as students write them who do what is asked."""
    texts = {}
    for answer, key in zip(question.answers, keys):
        if answer.whole or answer.table.preferred:
            texts[answer.id] = f"{key:.12g}"
            continue
        table = answer.table
        places, figures = getattr(table, "places", None), getattr(table, "figures", None)
        texts[answer.id] = as_asked(key, places, figures or 3)
    return texts


def lost(question: Question, draws: int) -> Iterator[tuple[str, str, str, float, float, str]]:
    """(question, answer, typed, key, share of the points, kind) of every right answer that lost points."""
    for number in range(draws):
        draw = question.draw("rounding", number)
        texts = typed(question, draw.keys)
        verdicts = question.judge(draw, texts)
        for answer, key in zip(question.answers, draw.keys):
            verdict = verdicts[answer.id]
            if verdict.points < verdict.out_of or verdict.carried:
                yield (
                    question.id,
                    answer.id,
                    texts[answer.id],
                    key,
                    verdict.points / verdict.out_of,
                    verdict.kind,
                )


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument(
        "sets", nargs="*", type=Path, default=sorted(ROOT.glob("exercises/sets/homework_*.toml"))
    )
    parser.add_argument("--draws", type=int, default=40)
    parser.add_argument("--banks", action="store_true")
    arguments = parser.parse_args()
    if arguments.banks:
        questions = [one for path in sorted(ROOT.glob("exercises/*/bank.toml")) for one in load_bank(path)]
    else:
        questions = [entry.question for path in arguments.sets for entry in load_set(path).entries]
    kinds, answers, count = Counter(), Counter(), 0
    for question in questions:
        if question.kind != "number":
            continue
        count += arguments.draws * len(question.answers)
        for row in lost(question, arguments.draws):
            kinds[row[-1]] += 1
            answers[row[:2]] += 1
            if answers[row[:2]] == 1:
                print(
                    f"{row[0]}: {row[1]}: {row[3]:.8g} typed {row[2]}: {row[-1]}, {row[4]:.2f} of the points"
                )
    print(f"{count} right answers typed as asked, {sum(kinds.values())} lost points: {dict(kinds)}")


if __name__ == "__main__":
    main()
