"""A student's own line of code, judged like a typed answer: the givens of a question, and the check."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from numbers import Integral, Real
from typing import Any

import sympy

from gearlab.contents import lesson_bank
from gearlab.digits import number_text
from gearlab.practice import Draw, Question, Verdict, load_bank
from gearlab.practice.attempts import attempts, record
from gearlab.practice.progress import Answers
from gearlab.schema import near
from gearlab.theory.quantities import QUANTITIES

from .answerbox import LOOKS, OF_CONDITIONS, reader_seed

NOT_YET = "Not answered yet: write your own line in place of the three dots, and run this cell again."
_COUNTED = ("right", "not answered", "cannot read")  # of these only the first is a try
_OF_A_TRY = ("bank", "question", "version", "draw")


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
        return "\n".join([self._prompt, "", *lines] if self._prompt else lines)


def given(lesson: str, question_id: str, *, number: int | None = None) -> Givens:
    """The numbers of a question, as its answer box shows them.

    lesson, question_id, number: as for :func:`ask`.
    Returns them by word: teeth as whole numbers, the others in the unit that the question shows. As the last
        value of a cell it shows the question, and each number with its unit.
    ValueError as for :func:`ask`.

    >>> sorted(given("03_centre_distance", "spacing-metric"))
    ['driven_teeth', 'driver_teeth', 'module']
    """
    question, draw, _ = _drawn(lesson, question_id, number)
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
        rows[row.name] = (int(row.value) if whole else row.value, row.shown)
    return Givens(rows, draw.prompt)


def check(lesson: str, question_id: str, value: Any, *, number: int | None = None) -> None:
    """Judge what a line of your own code gave, with the numbers of the question, and print the verdict.

    lesson, question_id, number: as for :func:`ask`; the numbers are those of its box, and of :func:`given`.
    value: a number, a text such as ``"78.75 mm"``, or an expression in symbols where one is asked; for a
        question with several answers a dictionary by their ids. ``...`` is not answered yet.
    Each new value is kept as a try, as in a box; the same value again is none.
    ValueError as for :func:`ask`, or if the value is of no such kind.

    >>> check("03_centre_distance", "spacing-metric", ...)
    Not answered yet: write your own line in place of the three dots, and run this cell again.
    """
    question, draw, answers = _drawn(lesson, question_id, number)
    name = _bank(lesson).name
    values = _by_field(question, value)
    if all(one is ... for one in values.values()):
        print(NOT_YET)
        return
    texts = {field: _text(question, field, one) for field, one in values.items()}
    verdicts = question.judge(draw, texts)
    again = _keep(answers, name, question, draw, texts, verdicts)
    labels = {answer.id: answer.label for answer in question.answers}
    for field, verdict in verdicts.items():
        lead = f"{labels[field]}: " if len(verdicts) > 1 else ""
        print(lead + _said(question, verdict))
    if again and not all(verdict.right for verdict in verdicts.values()):
        print("This is the value of your last try: it does not count again.")


# -- what is asked -------------------------------------------------------------------------------------
def _bank(lesson: str):
    return load_bank(lesson_bank(lesson))


def _drawn(lesson: str, question_id: str, number: int | None) -> tuple[Question, Draw, Answers]:
    """The question with the numbers that its box has, or had last."""
    bank, answers = _bank(lesson), Answers()
    try:
        question = bank[question_id]
    except KeyError as error:
        raise ValueError(f"question {question_id!r} is not in {bank.path}: {error.args[0]}") from None
    if number is None:
        kept = answers.get(f"{bank.name}/{question.id}")
        number = kept.get("number") if kept.get("version", question.version) == question.version else 0
    if isinstance(number, bool) or not isinstance(number, int) or not 0 <= number < 10**6:
        number = 0
    return question, question.draw(seed=reader_seed(answers), number=number), answers


# -- what was worked out -------------------------------------------------------------------------------
def _by_field(question: Question, value: Any) -> dict[str, Any]:
    """The values by the fields of the question; those left out are not answered."""
    names = [field.id for field in question.fields]
    if isinstance(value, Mapping):
        for word in value:
            if word not in names:
                raise ValueError(
                    f"answer {word!r}: question {question.id!r} has {', '.join(names)}{near(str(word), names)}"
                )
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


def _said(question: Question, verdict: Verdict) -> str:
    """A verdict in words, as the box has them."""
    _, symbol, title = LOOKS[verdict.kind]
    if not question.judges_fields:
        met = OF_CONDITIONS[verdict.kind]
        return f"{symbol} {met}. {verdict.sentence.removeprefix('Met.').strip()}".strip()
    if verdict.kind == "right" and verdict.carried:
        title = "Right, carried on from your number above."
    if verdict.kind == "right":
        parts = [title, verdict.note, question.remark(verdict)]
    elif len(verdict.causes) > 1:
        parts = [title, "Each of these would give that answer:"]
        parts += [f"\n  - {cause.sentence}" for cause in verdict.causes]
    else:
        parts = [title, verdict.causes[0].sentence if verdict.causes else verdict.sentence]
    return f"{symbol} " + " ".join(part for part in parts if part)


def _keep(
    answers: Answers,
    bank: str,
    question: Question,
    draw: Draw,
    texts: dict[str, str],
    verdicts: dict[str, Verdict],
) -> bool:
    """Record a try; whether it is the last one again, which is none."""
    counted = any(verdict.kind not in _COUNTED[1:] for verdict in verdicts.values())
    if not counted:
        return False
    about = dict(zip(_OF_A_TRY, (bank, question.id, question.version, draw.number)))
    earlier = [
        entry
        for entry in attempts(answers.folder)
        if entry["event"] == "answer" and all(entry.get(word) == about[word] for word in _OF_A_TRY)
    ]
    tries = max((entry.get("try", 0) for entry in earlier), default=0)
    last = {
        entry["answer"]: entry.get("typed", "")
        for entry in earlier
        if entry.get("try") == tries and "answer" in entry
    }
    typed = {name: texts.get(name, "") if question.judges_fields else repr(texts) for name in verdicts}
    if earlier and last == {name: text[:500] for name, text in typed.items()}:
        return True
    kept = answers.get(f"{bank}/{question.id}")
    hints = kept.get("shown")
    try:
        for name, verdict in verdicts.items():
            record(
                answers.folder,
                event="answer",
                **about,
                answer=name,
                typed=typed[name],
                verdict=verdict.kind,
                cause=verdict.causes[0].name if verdict.causes else "",
                share=verdict.points / verdict.out_of if verdict.out_of else 0.0,
                hints=hints if isinstance(hints, int) and 0 <= hints < 10 else 0,
                solution=bool(kept.get("solved")),
                **{"try": tries + 1},
            )
    except OSError as error:
        print(f"(not kept: {answers.folder} cannot be written: {error.strerror or error})")
    return False
