"""A student's own line of code, judged like a typed answer: the givens of a question, and the check."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from fractions import Fraction
from numbers import Integral, Real
from typing import Any

import sympy

from gearlab.digits import number_text
from gearlab.practice import Draw, Question
from gearlab.practice.tutor import idea
from gearlab.schema import near
from gearlab.theory.quantities import QUANTITIES

from .answerbox import AnswerBox, ask

NOT_YET = "Not answered yet: write your own line in place of the three dots, and run this cell again."


class Givens(Mapping):
    """The numbers of a question, by their words: ``numbers["driver_teeth"]`` or ``numbers.driver_teeth``.

    Of a question that asks for an expression they are symbols.
    """

    def __init__(self, rows: dict[str, tuple[Any, str]], prompt: str = ""):
        self._rows, self._prompt = rows, prompt

    def __getitem__(self, word: str) -> Any:
        if word not in self._rows:
            raise KeyError(f"no given {word!r}; there are {', '.join(self._rows)}{near(word, self._rows)}")
        return self._rows[word][0]

    def __getattr__(self, word: str) -> Any:
        if word.startswith("_"):
            raise AttributeError(word)
        try:
            return self[word]
        except KeyError as error:
            raise AttributeError(error.args[0]) from None

    def __iter__(self) -> Iterator[str]:
        return iter(self._rows)

    def __len__(self) -> int:
        return len(self._rows)

    def __dir__(self) -> list[str]:
        return [*super().__dir__(), *self._rows]

    def __repr__(self) -> str:
        width = max((len(word) for word in self._rows), default=0)
        lines = [f"{word:{width}}  {shown}" for word, (_, shown) in self._rows.items()]
        # in lines of its own: a notebook breaks a long one in the middle of a word
        asked = [part for line in self._prompt.splitlines() for part in textwrap.wrap(line, 88) or [""]]
        return "\n".join([*asked, "", *lines] if asked else lines)


def given(lesson: str, question_id: str, *, number: int | None = None) -> Givens:
    """The numbers of a question, as its answer box shows them.

    lesson, question_id, number: as for :func:`ask`.
    Returns them by word: teeth as whole numbers, the others in the unit that the question shows. As the last
        value of a cell it shows the question, and each number with its unit.
    ValueError as for :func:`ask`.

    >>> sorted(given("03_centre_distance", "spacing-metric"))
    ['driven_teeth', 'driver_teeth', 'module']
    """
    question, draw = _drawn(lesson, question_id, number)
    if not question.shows_numbers:
        return Givens(
            {
                word: (sympy.Symbol(symbol), f"{symbol}, {meaning}")
                for answer in question.fields
                for symbol, word, meaning in answer.symbols
            },
            draw.prompt,
        )
    rows = {}
    for row in draw.givens:
        quantity = QUANTITIES.get(row.name)
        whole = quantity is not None and quantity.whole and row.value == int(row.value)
        # planets, unlike teeth, are counted in no unit
        shown = row.text if row.unit == "teeth" and "teeth" not in row.name else row.shown
        rows[row.name] = (int(row.value) if whole else row.value, shown)
    return Givens(rows, draw.prompt)


def check(lesson: str, question_id: str, value: Any, *, number: int | None = None) -> None:
    """Judge what a line of your own code gave, with the numbers of the question, and print the verdict.

    lesson, question_id, number: as for :func:`ask`; the numbers are those of its box, and of :func:`given`.
    value: a number, a text such as ``"78.75 mm"``, or an expression in symbols where one is asked; for a
        question with several answers a dictionary by their ids. ``...`` is not answered yet.
    It is a try as in a box, with the same help at a first, second and third wrong value; the same value again
    is none.
    ValueError as for :func:`ask`, or if the value is of no such kind.

    >>> check("03_centre_distance", "spacing-metric", ...)
    Not answered yet: write your own line in place of the three dots, and run this cell again.
    """
    box = ask(lesson, question_id, number=number)
    assert isinstance(box, AnswerBox)  # a question is named, so no list of them
    values = _by_field(box.question, value)
    if all(line is ... for line in values.values()):
        print(NOT_YET)
    else:
        print(
            *_checked(box, {name: _text(box.question, name, line) for name, line in values.items()}), sep="\n"
        )
    box.close()


# -- what is asked -------------------------------------------------------------------------------------
def _drawn(lesson: str, question_id: str, number: int | None) -> tuple[Question, Draw]:
    """The question with the numbers that its box has, or had last."""
    box = ask(lesson, question_id, number=number)
    assert isinstance(box, AnswerBox)
    box.close()
    return box.question, box.draw


def _checked(box: AnswerBox, texts: dict[str, str]) -> list[str]:
    """Check texts as if they were typed in the box; what it says, line by line.

    Once the question is over they are judged, and nothing is counted.
    """
    box.texts = dict(texts)
    question, shown, over = box.question, box.shown, box.closed
    if over:
        box._judge(dict(texts))
        box.told = {
            name: [idea(question, name, verdict) if verdict.right else verdict.sentence]
            for name, verdict in box.verdicts.items()
        }
    else:
        box._check()
        box._save()
    if box.asking:
        return [box.said]
    if question.judges_fields:
        looks = [(answer.label, box._look(answer.id, box.verdicts[answer.id])) for answer in question.answers]
        rows = [
            [
                look["symbol"],
                f"{label}: {look['title']}",
                f"({look['note']})" * bool(look["note"]),
                *look["says"],
            ]
            for label, look in looks
        ]
    else:
        rows = [[row["symbol"], row["title"], row["says"]] for row in map(box._row, question.answers)]
    hints = [box._hint(number) for number in range(shown + 1, box.shown + 1)]
    rest = [box.notice, *hints, "" if over else box._tries_in_words()]
    return [" ".join(part for part in row if part) for row in rows] + [line for line in rest if line]


# -- what was worked out -------------------------------------------------------------------------------
def _by_field(question: Question, value: Any) -> dict[str, Any]:
    """The values by the fields of the question; those left out are not answered."""
    names = [field.id for field in question.fields]
    if isinstance(value, Mapping):
        for word in value:
            if word not in names:
                there = f"{', '.join(names)}{near(str(word), names)}"
                raise ValueError(f"answer {word!r}: question {question.id!r} has {there}")
        return {name: value.get(name, ...) for name in names}
    if len(names) == 1:
        return {names[0]: value}
    if value is ...:
        return dict.fromkeys(names, ...)
    raise ValueError(
        f"question {question.id!r} has {len(names)} answers: give them by name, such as"
        f" {{{', '.join(f'{name!r}: ...' for name in names)}}}"
    )


def _text(question: Question, field: str, value: Any) -> str:
    """A value as a student would type it."""
    if value is ...:
        return ""
    if isinstance(value, str):
        return value
    of_symbols = question.answer(field).kind == "expression"
    if hasattr(value, "item") and getattr(value, "shape", None) == ():
        value = value.item()  # a scalar of numpy
    if isinstance(value, sympy.Expr):
        if of_symbols:
            return str(value)
        if value.free_symbols:
            names = ", ".join(sorted(str(symbol) for symbol in value.free_symbols))
            raise ValueError(
                f"your line gives {value}, which still holds {names}: put the numbers in, for example with"
                " .subs({symbol: number}), or work the number out"
            )
        if not value.is_real:
            raise ValueError(f"your line gives {value}, which is no real number: look at it step by step")
        value = float(value)
    if isinstance(value, bool) or not isinstance(value, (Real, Fraction)):
        kind = "an expression or a text" if of_symbols else "a number or a text"
        raise ValueError(f"your line gives {value!r}, of type {type(value).__name__}: give {kind}")
    if isinstance(value, Integral):
        return str(int(value))
    return number_text(float(value), 15)
