"""The pages of a printed sheet: which questions stand on one, so that none is cut and no page half empty.

A page is a box of fixed height that both A4 and US letter hold. How much room a question needs is reckoned
generously from its text; what is left over goes to the boxes for working, which fill the page.
"""

from dataclasses import dataclass
from itertools import pairwise
from math import ceil, inf

from gearlab.course.handout.edition import Task
from gearlab.course.pages import wanted_work
from gearlab.course.roster import Student

HEIGHT = 246.0  # of a page's box [mm]; US letter between its margins of 12 mm leaves 255, A4 leaves 273
HEAD, FOOT = 46.0, 8.0  # title, name, id and the note on the first page; the line below each page [mm]
LINE, ACROSS = 6.0, 82  # height of a line of text [mm], characters in it [-]
LEAST_WORK = 20.0  # room to work in [mm]


@dataclass(frozen=True)
class Leaf:
    """One page of a sheet.

    first: number of its first question [-].
    number, of: of the page and of all pages of the student [-].
    closing: whether what closes the sheet stands on it.
    """

    tasks: list[Task]
    first: int
    number: int
    of: int
    closing: bool

    @property
    def works(self) -> bool:
        """Whether a question on it has a box for working, which takes what is left over."""
        return any(not task.draw.options for task in self.tasks)


def leaves(student: Student, tasks: list[Task], closing: str = "") -> list[Leaf]:
    """The pages of a student's sheet, in the order of the questions: as few as there can be.

    closing: what stands below the last question, in small type.
    """
    needs = [_needs(task) for task in tasks]
    works = [not task.draw.options for task in tasks]
    if closing:
        needs.append(14.0 + 4.8 * _lines(closing, 88))
        works.append(False)
    room = HEIGHT - FOOT - 4.0 * (_lines(student.id, 20) - 1)
    head = HEAD + LINE * (_lines(student.name, 55) + _lines(student.id, 20) - 2)
    pages = list(pairwise(_cuts(needs, works, room, head)))
    return [
        Leaf(tasks[first:last], first + 1, number, len(pages), bool(closing) and last == len(needs))
        for number, (first, last) in enumerate(pages, start=1)
    ]


def _cuts(needs: list[float], works: list[bool], room: float, head: float) -> list[int]:
    """Where the pages begin and end; as few pages as there can be, with the least left over in one place.

    works: whether a question has a box for working, which takes what is left over.
    room, head: on a page, and of the head on the first one [mm].
    """
    best: list[tuple[float, float, list[int]]] = [(0, 0.0, [0])]
    for last in range(1, len(needs) + 1):
        choices = []
        for first in range(last):
            spare = room - (head if first == 0 else 0.0) - sum(needs[first:last])
            if spare >= 0 or last - first == 1:  # a question that no page holds gets a page of its own
                pages, left, cuts = best[first]
                boxes = sum(works[first:last])
                choices.append((pages + 1, left + spare**2 / (boxes or 0.25), [*cuts, last]))
        best.append(min(choices, default=(inf, inf, [])))
    return best[-1][2]


def _lines(text: str, across: int = ACROSS) -> int:
    return max(1, ceil(len(text) / across))


def _needs(task: Task) -> float:
    """How much of a page a question needs [mm]: its text as it stands on a sheet, and room to work in."""
    question, draw = task.entry.question, task.draw
    height = 10.0 + LINE * _lines(question.title, 60) + LINE * _lines(draw.prompt)
    if draw.options:
        height += sum(LINE * _lines(text, 74) + 2.0 for _, text in draw.options)
        return height + 26.0
    if not question.shows_numbers:
        shown = [f"{word} {meaning}" for _, word, meaning in question.answers[0].symbols]
    else:
        shown = [f"{given.label} {given.shown} = mm" for given in draw.givens]
    height += 3.0 + (LINE + 0.5) * _lines("".join(f"{text}     " for text in shown)) if shown else 0.0
    for field in question.fields:
        height += 7.0 + LINE * _lines(field.label, 40)
    return height + max(LEAST_WORK, 0.45 * wanted_work(question.minutes))
