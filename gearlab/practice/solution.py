"""Worked solutions: theory's derivation with a student's numbers put in.

The derivation is typeset once per question, with a mark in the place of every number; after that a solution
is put together from strings.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from html import escape
from typing import TYPE_CHECKING

from gearlab.digits import number_text, number_texts
from gearlab.practice.formulas.formula import compile_steps, source
from gearlab.theory.boundary import unit_of
from gearlab.theory.printing import quantity_text
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import factor, theory_unit, written
from gearlab.theory.way import Derivation

if TYPE_CHECKING:
    from gearlab.practice.answer import Answer
    from gearlab.practice.designs.design import Derived
    from gearlab.practice.question import Question
    from gearlab.practice.verdict import Verdict

__all__ = [
    "DIGITS",
    "FORMS",
    "Worked",
    "joined",
    "method",
    "points_in_words",
    "said_above",
    "templates",
    "told_once",
    "way_after",
    "way_in_words",
]

FORMS = ("markdown", "html", "text")
_OPEN, _SHUT = "\ue000", "\ue001"  # private characters: nothing else in a page uses them
_NUMBER, _MINUS = "<mn>", "<mo>−</mo><mn>"
DIGITS = 6


def templates(answers: Sequence[Answer | Derived], form: str) -> list[Worked]:
    """The solutions of answers that are told one after the other: what was said is not said again."""
    return [Worked(answer, form, above) for answer, above in zip(answers, said_above(answers), strict=True)]


def said_above(answers: Sequence[Answer | Derived]) -> list[frozenset[str]]:
    """Which steps of each answer were said for an answer before it, by the words of what they find.

    A step was said where it is the same formula of the same numbers: of givens, of the same earlier answer,
    or of what such a step came to.
    """
    told: set[tuple] = set()
    above = []
    for answer in answers:
        sources: dict[str, tuple] = {}
        for other in getattr(answer, "used", ()):
            sources[answer.input_of(other)] = ("answer", other.id)  # type: ignore[union-attr]  # it has `used`
        mine, again = [], set()
        for step in answer.way.steps if _plain(answer.way) else ():
            inputs = tuple(sources.get(word, (word,)) for word in step.inputs)
            sources[step.quantity] = ("step", step.quantity, step.expression, inputs)
            mine.append(sources[step.quantity])
            if mine[-1] in told:
                again.add(step.quantity)
        told.update(mine)
        above.append(frozenset(again))
    return above


def _plain(way: Derivation) -> bool:
    """Whether every step has its number when it is told: no letter is carried along."""
    return all(step.role in ("direct", "rearranged") for step in way.steps)


class Worked:
    """The worked solution of one answer in one form, as a template.

    above: words of the steps that the reader has seen in the solution of an answer before it.
    """

    def __init__(self, answer: Answer | Derived, form: str, above: frozenset[str] = frozenset()):
        self.answer, self.form = answer, form
        question = answer.question
        way = answer.way
        self.length_unit = question.table.length_unit
        self.steps = [step for step in way.steps if step.role in ("direct", "rearranged", "closed")]
        self.plain = _plain(way)
        self.words = tuple(answer.inputs)
        self.step_words: list[str] = []
        self._numbers = self._compile()
        self.values_of = [*self.words, *self.step_words]
        places = {word: i for i, word in enumerate(self.values_of)}
        self._asked = places[answer.asked]
        marks = {word: f"{_OPEN}{i}{_SHUT}" for word, i in places.items()} if question.shows_numbers else {}
        body = {"markdown": way.markdown, "html": way.mathml, "text": way.text}[form](marks or None, above)
        if form == "html":
            body = body.replace("<mo>-</mo>", "<mo>−</mo>")
            body = body.replace(f"{_NUMBER}-", _MINUS) if question.shows_numbers else body
        self.pieces = re.split(f"{_OPEN}|{_SHUT}", body)  # text, number, text, number, ..., text
        self._places = [int(number) for number in self.pieces[1::2]]  # among the values
        used = frozenset(self.values_of[place] for place in self._places)
        # What stands behind a number in a line of text or Markdown: its unit, which goes into the brackets of
        # a negative number.
        self._behind = {
            word: (
                ""
                if form == "html"
                else quantity_text(
                    "0", {"markdown": "latex"}.get(form, form), unit_of(word, self.length_unit)
                )[1:]
            )
            for word in used
        }
        # (place among the inputs, unit shown, place among the values, theory's unit) of every given that is
        # shown in another unit than it is used in
        self._converted = [
            (i, written(question.unit(word)), places[word], written(unit_of(word, self.length_unit)))
            for i, word in enumerate(self.words)
            if word in used
            and word in question.table.givens
            and unit_of(word, self.length_unit) not in ("", question.unit(word))
        ]
        self.asked_unit = unit_of(answer.asked, self.length_unit)
        self.scale = (
            factor(self.asked_unit or "1", answer.unit or "1") if self.asked_unit != answer.unit else 1.0
        )
        self.label = answer.label[0].upper() + answer.label[1:]
        heads = {
            "html": (f"<h4>{escape(self.label)}</h4>", "<p>", "</p>", "<p><strong>", "</strong></p>", ""),
            "markdown": (f"#### {self.label}\n\n", "", "\n\n", "**", "**", "\n\n"),
            "text": (f"{self.label}:\n", "", "\n", "", "", "\n"),
        }
        self.head, self.open, self.shut, self.bold, self.unbold, self.between = heads[form]
        self.safe_label = escape(self.label) if form == "html" else self.label
        self.safe_unit = escape(written(answer.unit)) if form == "html" else written(answer.unit)

    def _compile(self):
        """A function of the inputs (units shown) giving every number of the way, in the units the derivation
        shows.
        """
        way = self.answer.way
        names = {word: f"t_{word}" for word in self.words}
        lines = [
            f"t_{word} = v{i}" + ("" if f == 1.0 else f" * {f!r}")
            for i, (word, f) in enumerate(self.answer.inputs.items())
        ]
        if self.plain:
            for step in self.steps:
                lines.append(f"t_{step.quantity} = {source(step.expression, names)}")
                names[step.quantity] = f"t_{step.quantity}"
                self.step_words.append(step.quantity)
        else:
            lines.append(f"t_{way.asked} = {source(way.raw, names)}")
            self.step_words.append(way.asked)
        results = []
        for word in [*self.words, *self.step_words]:
            entry, shown = QUANTITIES[word], unit_of(word, self.length_unit)
            scale = 1.0  # also of what a question brings along: it has one unit
            if shown and not entry.unit:
                scale = factor(theory_unit(entry.dimension, self.length_unit), shown)
            results.append(f"t_{word}" if scale == 1.0 else f"t_{word} * {scale!r}")
        return compile_steps([f"v{i}" for i in range(len(self.words))], lines, results)

    def value(self, numbers: list[float]) -> float:
        """What comes out for numbers of the inputs [unit asked]."""
        return self._numbers(*numbers)[self._asked] * self.scale

    def filled(self, numbers: list[float], key: float, period: float = 0.0) -> str:
        """The solution for numbers of the inputs, in the units shown, the right answer, and what may be added
        to it any number of times.
        """
        values = self._numbers(*numbers)
        *texts, result = number_texts((*values, key), DIGITS)
        first = ""
        if self._converted:
            same = ", ".join(
                f"{number_text(numbers[i], DIGITS)} {unit} = {texts[place]} {mine}"
                for i, unit, place, mine in self._converted
            )
            first = f"{self.open}In one unit: {same}.{self.shut}"
        if self.safe_unit:
            result = f"{result} {self.safe_unit}"
        end = self._end(values[self._asked], key, result)
        if period:
            end = (
                f"{end} Numbers that differ from this by a whole multiple of {number_text(period, DIGITS)}"
                f" {self.safe_unit} are right too.".strip()
            )
        end = f"{self.open}{end}{self.shut}" if end else ""
        return (
            f"{self.head}{first}{self._body(texts)}{self.between}{end}{self.bold}{self.safe_label}: {result}"
            f"{self.unbold}"
        )

    def _body(self, texts: list[str]) -> str:
        """The derivation with the values' texts in their places."""
        pieces = self.pieces.copy()
        pieces[1::2] = [texts[place] for place in self._places]
        if "-" in "".join(texts):
            self._write_negatives(pieces, texts)
        return "".join(pieces)

    def _write_negatives(self, pieces: list[str], texts: list[str]) -> None:
        """Bring each negative number with its unit into brackets, but for the result of the way."""
        for at, place in zip(range(1, len(pieces), 2), self._places):
            text = texts[place]
            if text[0] != "-":
                continue
            if place != self._asked:
                after, behind = pieces[at + 1], self._behind[self.values_of[place]]
                unit = behind if after.startswith(behind) else ""
                pieces[at : at + 2] = f"({text}{unit})", after[len(unit) :]
            elif pieces[at - 1].endswith(_NUMBER):
                pieces[at - 1 : at + 1] = pieces[at - 1].removesuffix(_NUMBER) + _MINUS, text[1:]

    def _end(self, exact: float, key: float, result: str) -> str:
        """How theory's number becomes the one asked: another unit, a whole number, a preferred size."""
        answer = self.answer
        if self.asked_unit and answer.unit and self.asked_unit != answer.unit:
            return f"{number_text(exact, DIGITS)} {written(self.asked_unit)} = {result}"
        if answer.table.preferred:
            return f"The preferred size next to it is {result}."
        if answer.whole and abs(exact - key) > 1e-9:
            return (
                "As a whole"
                f" number{', rounded ' + answer.table.whole if answer.table.whole in ('up', 'down') else ''}:"
                f" {result}."
            )
        if answer.table.size_only and exact < 0:
            return f"Only the size is asked: {result}."
        return f"{number_text(exact, DIGITS)} = {result}" if answer.unit == "%" else ""


def joined(parts: list[str], form: str) -> str:
    return f'<div class="worked">{"".join(parts)}</div>' if form == "html" else "\n\n".join(parts)


def way_in_words(answer: Answer | Derived) -> str:
    """The method as sentences: what each step rests on, no numbers."""
    return " ".join(_sentences(answer))


def way_after(answer: Answer, before: Sequence[Answer]) -> str:
    """The same where the ways of other answers have just been told: what stands in them is as above."""
    above = {sentence for other in before for sentence in _sentences(other)}
    own = _sentences(answer)
    rest = [sentence for sentence in own if sentence not in above]
    if len(rest) == len(own):
        return way_in_words(answer)
    return " ".join(["as above, and:" if rest else "as above.", *rest])


def told_once(question: Question, verdicts: Mapping[str, Verdict]) -> dict[str, str]:
    """The sentences of verdicts that are read one after the other: a way that two share is told once."""
    sentences = {identity: verdict.sentence for identity, verdict in verdicts.items()}
    unknown = [identity for identity, verdict in verdicts.items() if verdict.kind == "not recognised"]
    before: list[Answer] = []
    for identity in unknown if len(unknown) > 1 else ():
        answer = question.answer(identity)
        whole = f"The way: {question.way_in_words(answer)}"
        if whole in sentences[identity]:
            once = f"The way: {way_after(answer, before)}"
            sentences[identity] = sentences[identity].replace(whole, once)
            before.append(answer)
    return sentences


def _sentences(answer: Answer | Derived) -> tuple[str, ...]:
    return tuple(dict.fromkeys(step.relation.says for step in answer.way.steps if step.relation is not None))


def method(answers: Sequence[Answer], form: str) -> str:
    """The method of every answer, without numbers."""
    parts = []
    for answer in answers:
        label = answer.label[0].upper() + answer.label[1:]
        way = answer.way
        if form == "html":
            parts.append(f"<h4>{escape(label)}</h4>{way.mathml()}")
        elif form == "markdown":
            parts.append(f"#### {label}\n\n{way.markdown()}")
        else:
            parts.append(f"{label}: {way_in_words(answer)}")
    return joined(parts, form)


def points_in_words(points: float) -> str:
    """Points as they are told.

    >>> points_in_words(1), points_in_words(0.5)
    ('1 point', '0.5 points')
    """
    return f"{number_text(points)} point{'' if points == 1 else 's'}"
