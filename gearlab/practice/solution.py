"""Worked solutions: theory's derivation with a student's numbers put in.

The derivation is typeset once per question, with a mark in the place of every number; after that a solution is put
together from strings.
"""

from __future__ import annotations

import re
from html import escape

from gearlab.practice.formula import compile_steps, source
from gearlab.practice.number import number_text
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.rendering import unit_of
from gearlab.theory.units import factor, theory_unit

__all__ = ["FORMS", "method", "way_in_words", "worked"]

FORMS = ("markdown", "html", "text")
_OPEN, _SHUT = "\ue000", "\ue001"  # private characters: nothing else in a page uses them
_DIGITS = 6


class Worked:
    """The worked solution of one answer in one form, as a template."""

    def __init__(self, answer, form: str):
        self.answer, self.form = answer, form
        question = answer.question
        way = answer.way
        self.length_unit = question.table.length_unit
        self.steps = [step for step in way.steps if step.role in ("direct", "rearranged", "closed")]
        self.plain = all(step.role in ("direct", "rearranged") for step in way.steps)
        self.words = tuple(answer.inputs)
        self._numbers = self._compile()
        self.values_of = [*self.words, *self.step_words]
        marks = {word: f"{_OPEN}{i}{_SHUT}" for i, word in enumerate(self.values_of)} if question.kind == "number" else {}
        body = {"markdown": way.markdown, "html": way.mathml, "text": way.text}[form](marks or None)
        self.pieces = re.split(f"{_OPEN}|{_SHUT}", body)  # text, word, text, word, ..., text
        self.pieces[1::2] = [self.values_of[int(number)] for number in self.pieces[1::2]]
        self.used = frozenset(self.pieces[1::2])
        if form == "html":  # a negative result needs its own minus
            self.negative = re.compile(r"<mn>-([^<]*)</mn>")

    def _compile(self):
        """A function of the inputs (units shown) giving every number of the way, in the units the derivation shows."""
        way = self.answer.way
        names = {word: f"t_{word}" for word in self.words}
        lines = [f"t_{word} = v{i}" + ("" if f == 1.0 else f" * {f!r}") for i, (word, f) in enumerate(self.answer.inputs.items())]
        self.step_words = []
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
            dimension = QUANTITIES[word].dimension
            shown = unit_of(word, self.length_unit)
            scale = factor(theory_unit(dimension, self.length_unit), shown) if shown else 1.0
            results.append(f"t_{word}" if scale == 1.0 else f"t_{word} * {scale!r}")
        return compile_steps([f"v{i}" for i in range(len(self.words))], lines, results)

    def filled(self, numbers: list[float], key: float) -> str:
        """The solution for numbers of the inputs, in the units shown, and the right answer."""
        values = dict(zip(self.values_of, self._numbers(*numbers)))
        texts = {word: number_text(value, _DIGITS) for word, value in values.items()}
        pieces = list(self.pieces)
        asked = self.answer.asked
        for place in range(1, len(pieces), 2):
            text = texts[pieces[place]]
            if text[0] == "-" and pieces[place] != asked:
                text = f"({text})"
            pieces[place] = text
        body = "".join(pieces)
        if self.form == "html" and "<mn>-" in body:
            body = self.negative.sub(r"<mo>−</mo><mn>\1</mn>", body)
        return self._with_conversions(body, numbers, values, key)

    def _with_conversions(self, body: str, numbers: list[float], values: dict, key: float) -> str:
        question, answer = self.answer.question, self.answer
        before = []
        for word, number in zip(self.words, numbers):
            unit, shown = (question.unit(word) if word in question.table.givens else None), unit_of(word, self.length_unit)
            if unit and shown and unit != shown and word in self.used:
                before.append(f"{number_text(number, 8)} {unit} = {number_text(values[word], 8)} {shown}")
        result = f"{number_text(key, _DIGITS)} {answer.unit}".strip()
        exact = values[answer.asked]
        unit = unit_of(answer.asked, self.length_unit)
        end = ""
        if unit and answer.unit and unit != answer.unit:
            end = f"{number_text(exact, _DIGITS)} {unit} = {result}"
        elif answer.table.preferred:
            end = f"The preferred size next to it is {result}."
        elif answer.whole and abs(exact - key) > 1e-9:
            end = f"As a whole number{', rounded ' + answer.table.whole if answer.table.whole in ('up', 'down') else ''}: {result}."
        elif answer.table.size_only and exact < 0:
            end = f"Only the size is asked: {result}."
        elif answer.unit == "%":
            end = f"{number_text(exact, _DIGITS)} = {result}"
        label = answer.label[0].upper() + answer.label[1:]
        first = f"In one unit: {', '.join(before)}." if before else ""
        if self.form == "html":
            parts = [f"<h4>{escape(label)}</h4>", f"<p>{escape(first)}</p>" if first else "", body, f"<p>{escape(end)}</p>" if end else "",
                     f"<p><strong>{escape(label)}: {escape(result)}</strong></p>"]
            return "".join(parts)
        if self.form == "markdown":
            return "\n\n".join(part for part in (f"#### {label}", first, body, end, f"**{label}: {result}**") if part)
        return "\n".join(part for part in (f"{label}:", first, body, end, f"{label}: {result}") if part)


def worked(question, draw, form: str) -> str:
    """The worked solution of a question with a draw's numbers; form "markdown", "html" or "text"."""
    if form not in FORMS:
        raise ValueError(f"form {form!r} is unknown: use one of {', '.join(FORMS)}")
    if question.kind == "choice":
        return _choice(question, draw, form)
    parts = []
    for answer in question.answers:
        made = question.worked(answer, form)
        if question.kind == "expression":
            parts.append(_expression(answer, made, form))
        else:
            parts.append(made.filled(answer.numbers(draw.shown, draw.keys), draw.keys[question.answers.index(answer)]))
    return _joined(parts, form)


def _joined(parts: list[str], form: str) -> str:
    return f'<div class="worked">{"".join(parts)}</div>' if form == "html" else ("\n\n" if form == "markdown" else "\n\n").join(parts)


def _expression(answer, made: Worked, form: str) -> str:
    label = answer.label[0].upper() + answer.label[1:]
    body = "".join(made.pieces)
    if form == "html":
        return f"<h4>{escape(label)}</h4>{body}"
    return f"#### {label}\n\n{body}" if form == "markdown" else f"{label}:\n{body}"


def _choice(question, draw, form: str) -> str:
    rows = []
    for place, (letter, text) in zip(draw.order, draw.options):
        option = question.table.options[place]
        says = question.filled(option.says, draw)
        rows.append((letter, text, "right" if option.right else "wrong", says))
    if form == "html":
        items = "".join(f"<li><strong>{escape(letter)}) {escape(text)}</strong>: {escape(state)}. {escape(says)}</li>" for letter, text, state, says in rows)
        return f'<div class="worked"><ul>{items}</ul></div>'
    bold = "**" if form == "markdown" else ""
    return "\n".join(f"- {bold}{letter}) {text}{bold}: {state}. {says}".rstrip() for letter, text, state, says in rows)


def way_in_words(answer) -> str:
    """The method as sentences: what each step rests on, no numbers."""
    said = dict.fromkeys(step.relation.says for step in answer.way.steps if step.relation is not None)
    return " ".join(said)


def method(question, form: str) -> str:
    """The method of every answer of a question, without numbers."""
    if question.kind == "choice":
        return ""
    parts = []
    for answer in question.answers:
        label = answer.label[0].upper() + answer.label[1:]
        way = answer.way
        if form == "html":
            parts.append(f"<h4>{escape(label)}</h4>{way.mathml()}")
        elif form == "markdown":
            parts.append(f"#### {label}\n\n{way.markdown()}")
        else:
            parts.append(f"{label}: {way_in_words(answer)}")
    return _joined(parts, form)
