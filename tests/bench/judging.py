"""How fast answers are drawn, judged and explained.

    python tests/bench/judging.py [set.toml | bank.toml ...] [--students 2000]

For each student every question is drawn from a key, ten answers are judged (seven right, two wrong, one
missing, as in an ordinary class), and, separately, the worked solution is put together as HTML.  Times are
processor time of one core, so that other programs on the machine do not count.
"""

from __future__ import annotations

import argparse
import time
from pathlib import Path

from gearlab.practice import load_bank

ROOT = Path(__file__).parents[2]


def ten_answers(paths):
    """Number questions with ten answers in all."""
    questions, count = [], 0
    for path in paths:
        for question in load_bank(path):
            if question.kind == "number" and count + len(question.answers) <= 10 and (count < 10):
                questions.append(question)
                count += len(question.answers)
    return questions, count


def typed(draw, number):
    """What a student types: mostly right, some twice or 1.17 times too much, some nothing."""
    texts = {}
    for place, answer in enumerate(draw.question.answers):
        turn = (number + place + len(draw.question.id)) % 10
        factor = 1.0 if turn < 7 else 2.0 if turn == 7 else 1.17
        if turn != 9:
            texts[answer.id] = f"{draw.keys[place] * factor:.6g} {answer.unit}".strip()
    return texts


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("banks", nargs="*", type=Path, default=sorted(ROOT.glob("exercises/*/bank.toml")))
    parser.add_argument("--students", type=int, default=2000)
    arguments = parser.parse_args()
    questions, count = ten_answers(arguments.banks)
    key = b"a course key for measuring"
    start = time.process_time()
    for question in questions:  # the first of each compiles
        draw = question.draw(key=key, set="bench", student="warm")
        question.judge(
            draw, {answer.id: f"{value * 1.17:.6g}" for answer, value in zip(question.answers, draw.keys)}
        )
        question.solution(draw, "html")
    print(f"{len(questions)} questions, {count} answers; made ready in {time.process_time() - start:.2f} s")
    students = range(arguments.students)
    start = time.process_time()
    draws = [
        [question.draw(key=key, set="bench", student=str(one)) for question in questions] for one in students
    ]
    drawn = time.process_time() - start
    texts = [[typed(draw, one + i) for i, draw in enumerate(row)] for one, row in zip(students, draws)]
    start = time.process_time()
    for row, words in zip(draws, texts):
        for draw, text in zip(row, words):
            draw.question.judge(draw, text)
    judged = time.process_time() - start
    start = time.process_time()
    for row in draws:
        for draw in row:
            draw.question.solution(draw, "html")
    solved = time.process_time() - start
    for name, seconds in (
        ("draw", drawn),
        ("judge", judged),
        ("solutions in HTML", solved),
        ("all three", drawn + judged + solved),
    ):
        print(
            f"{name}: {seconds / len(students) * 1000:.3f} ms for {count} answers;"
            f" {len(students) / seconds:,.0f} sheets a second, {count * len(students) / seconds:,.0f} answers"
            " a second"
        )


if __name__ == "__main__":
    main()
