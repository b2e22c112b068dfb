"""Classes that hand in the greenhouse's set without files: two thirds right, slips, scribbles and gaps.

Answers are spoilt by chance with a seed; of twins the second types what the first typed.
"""

import random
from collections.abc import Iterator

from greenhouse import hand_in, right_answers

from gearlab.course.handout.edition import SheetMaker
from gearlab.course.marks import MarkedTask, Marker
from gearlab.course.roster import Student
from gearlab.practice.handin import read_hand_in


def spoilt(text: str, chance: random.Random) -> str:
    """An answer as a student may type it."""
    dice = chance.random()
    try:
        number, _, unit = text.partition(" ")
        if dice < 0.08:
            return f"{2 * float(number):.4f} {unit}"
        if dice < 0.14:
            return f"{float(number) / 25.4:.5f}"
        if dice < 0.20:
            return f"{float(number) * chance.uniform(0.6, 1.7):.4f} {unit}"
    except ValueError:
        pass
    return "" if dice < 0.24 else "no idea" if dice < 0.26 else text.replace(".", ",") if dice < 0.4 else text


def marked_class(
    maker: SheetMaker, students: list[Student], seed: int, twins: tuple[int, int] | None = None, change=None
) -> Iterator[tuple[Student, list[MarkedTask]]]:
    """Every student with their marks.

    twins: places in the list; the second types what the first typed.
    change: what else becomes of a student's answers: (place, sheet, right answers, answers) -> answers.
    """
    chance, marker, copied = random.Random(seed), Marker(maker), None
    for place, student in enumerate(students):
        sheet = maker.sheet(student, maker.tasks(student.id))
        right = right_answers(sheet)
        answers = {
            q: {name: spoilt(text, chance) for name, text in texts.items()} for q, texts in right.items()
        }
        if change:
            answers = change(place, sheet, right, answers)
        if twins and place == twins[0]:
            copied = answers
        if twins and place == twins[1]:
            answers = copied
        yield student, marker.mark(student.id, read_hand_in(hand_in(sheet, answers).encode("utf-8")))
