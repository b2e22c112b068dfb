"""Whether a precision is in order: fine enough, kept by right answers, and what the prompt says."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from gearlab.digits import number_text
from gearlab.practice.answer import Answer
from gearlab.practice.contract import precision
from gearlab.practice.draw import Draw
from gearlab.practice.precision import apart
from gearlab.practice.slips.neighbours import neighbours
from gearlab.practice.slips.variation import Way
from gearlab.practice.typed.tokens import unit_named
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import SPOKEN, written

if TYPE_CHECKING:
    from gearlab.practice.question import Question

__all__ = ["check_precision", "check_wording"]

_OFTEN = 0.5  # share of the draws in which a neighbour that counts as right is a fault of the precision
_SAME = 1e-6  # relative; nearer numbers are one and the same quantity, which no precision tells apart


def check_precision(question: Question, answer: Answer, place: int, drawn: list[Draw]) -> list[str]:
    """A right answer given as asked earns all points; a listed slip or a neighbour given so does not."""
    problems: dict[str, str] = {}  # the first of a kind is enough
    for draw in drawn:
        key = draw.keys[place]
        for text in _typings(answer, key):
            verdict = question.judge(draw, {answer.id: text})[answer.id]
            if verdict.points < verdict.out_of:
                problems.setdefault(
                    "lost",
                    f"the right answer {key:.8g}, given as {text!r} ({precision(answer)}), earns"
                    f" {verdict.points:g} of {verdict.out_of:g} ({verdict.kind}): state places or figures, or"
                    " keep such numbers out by a condition (where)",
                )
        if place == 0 and len(question.answers) > 1:  # all of them rounded at once
            texts = {answer.id: answer.as_asked(own) for answer, own in zip(question.answers, draw.keys)}
            from_readings = any(answer.measured for answer in question.answers)
            for name, verdict in question.judge(draw, texts).items():
                if verdict.points < verdict.out_of or (verdict.carried and not from_readings):
                    problems.setdefault(
                        "together", f"all right answers given as asked lose points at {name!r}"
                    )
    if answer.measured:
        return list(problems.values())  # what is worked out instead of read may lie near
    for title, number in _listed_as_right(question, answer, place, drawn):
        problems.setdefault(
            title,
            f"{_too_coarse(answer)}: the listed slip “{title}” ({number:.6g}) counts as right; state places",
        )
    for title, number, share in _neighbours_as_right(question, answer, place, drawn):
        problems.setdefault(
            title,
            f"{_too_coarse(answer)}: the {title} ({number:.6g}) counts as right in {share:.0%} of the draws;"
            " state places (and a tolerance) that tell them apart",
        )
    return list(problems.values())


def _too_coarse(answer: Answer) -> str:
    return f"the precision is too coarse ({precision(answer)})"


def _typings(answer: Answer, key: float) -> Iterator[str]:
    text = answer.as_asked(key)
    yield text
    if answer.unit:
        yield f"{text} {answer.unit}"
    tail = text.partition(".")[2]
    if tail and len(tail) != 3:  # a comma before three digits is asked about
        yield text.replace(".", ",")
    if not answer.whole and not answer.table.preferred:
        yield number_text(key, 6)


def _counts_as_right(answer: Answer, number: float, key: float, period: float) -> bool:
    """Whether a wrong number, or that number rounded as asked, would be right."""
    if apart(number, key, period) <= _SAME * abs(key):
        return False  # the same number: the draw's doing, which `Question.fair` looks after
    return answer.reaches(number, key, period) or answer.reaches(float(answer.as_asked(number)), key, period)


def _listed_as_right(
    question: Question, answer: Answer, place: int, drawn: list[Draw]
) -> Iterator[tuple[str, float]]:
    """(title, number) of every listed slip that would be right in some draw."""
    for cause, formula, conditions in question.slips_of(answer).listed:
        for draw in drawn:
            try:
                number = formula(*draw.shown)
                applies = all(condition(*draw.shown) for condition in conditions)
            except (ArithmeticError, ValueError):
                continue  # `check_slips` tells
            if applies and _counts_as_right(answer, number, draw.keys[place], answer.period(draw.shown)):
                yield cause.title, number
                break


def _neighbours_as_right(
    question: Question, answer: Answer, place: int, drawn: list[Draw]
) -> Iterator[tuple[str, float, float]]:
    """(title, a number, share of the draws) of every other quantity that would be right in most draws."""
    if answer.table.preferred or answer.whole:
        return
    slips = question.slips_of(answer)
    way = Way(question, answer, slips.words)
    variables: dict[str, str] = {}  # variable, meaning
    for wrong in neighbours(way):
        word = wrong.cause.name
        try:
            if wrong.cause.kind == "another quantity" and word not in answer.table.same_as:
                variables.setdefault(
                    way.result(wrong), QUANTITIES[word].meaning if word in QUANTITIES else wrong.cause.title
                )
        except (KeyError, ValueError, TypeError):
            continue  # it has no formula here
    variables.pop(way.key, None)
    hits: dict[str, list[float]] = {}
    for draw in drawn:
        table = way.program.values(slips.arguments(draw))
        for variable in variables:
            number = table.get(variable)
            if number is not None and _counts_as_right(
                answer, answer.rounded(number), draw.keys[place], answer.period(draw.shown)
            ):
                hits.setdefault(variable, []).append(number)
    for variable, numbers in hits.items():
        if len(numbers) > _OFTEN * len(drawn):
            yield variables[variable], numbers[0], len(numbers) / len(drawn)


# -- what the bank says in words -----------------------------------------------------------------------
_NUMBER = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
_COUNT = r"\b(one|two|three|four|five|six|[1-6])\s+"
_PLACES = re.compile(_COUNT + r"(?:decimals?(?:\s+places?)?|places\s+of\s+decimals)\b", re.I)
_FIGURES = re.compile(_COUNT + r"(?:significant\s+)?figures\b", re.I)
# a tenth of a millimetre, thousandths of an inch: places of the unit that is named
_PARTS = re.compile(r"\b(ten-thousandth|thousandth|hundredth|tenth)s? of (?:an?|one) (\w+)", re.I)
_PLACES_OF_PART = {"tenth": 1, "hundredth": 2, "thousandth": 3, "ten-thousandth": 4}


def _stated(pattern: re.Pattern, text: str) -> set[int]:
    return {_NUMBER.get(number.lower()) or int(number) for number in pattern.findall(text)}


def _asks_for(prompt: str) -> str:
    """The sentences of a prompt that ask, for what is given may well be told to the thousandth."""
    sentences = re.split(r"(?<=[.?!;:])\s+", prompt)
    return " ".join(sentence for sentence in sentences if not _GIVEN.search(sentence) or "?" in sentence)


_GIVEN = re.compile(r"\breads?\b|\bmeasured\b|\bmay\b", re.I)


def check_wording(question: Question) -> list[str]:
    """What prompt and labels say against what the answers ask: precision, unit, quantity."""
    prompt = question.table.prompt
    asked = _asks_for(prompt)
    numbers = [
        answer
        for answer in question.answers
        if answer.kind == "number" and not answer.whole and not answer.table.preferred
    ]
    problems = []
    for count in sorted(_stated(_PLACES, prompt)):
        if not any(answer.places == count for answer in numbers):
            problems.append(
                f"prompt: asks for {count} decimal places, which no answer states: places = {count}"
            )
    for count in sorted(_stated(_FIGURES, prompt)):
        if not any(answer.places is None and answer.figures == count for answer in numbers):
            problems.append(f"prompt: asks for {count} figures, which no answer states: figures = {count}")
    for part, unit in _PARTS.findall(asked):
        count = _PLACES_OF_PART[part.lower()]
        of_unit = [answer for answer in numbers if unit_named(unit, answer.unit) == answer.unit]
        if of_unit and not any(answer.places == count for answer in of_unit):
            problems.append(
                f"prompt: asks for a {part.lower()} of {unit}, which no answer states: places = {count}"
            )
    for answer in question.answers:
        problems += [f"answers.{answer.id}: {fault}" for fault in (*_label(answer), *_unit(question, answer))]
    return problems + _labels_together(question)


# Words that exclude one another in what a number is called: a label has those of its quantity, or none.
_OPPOSITES = (
    (("least", "smallest", "minimum", "fewest"), ("largest", "greatest", "maximum", "most")),
    (("outside",), ("root",), ("base",), ("pitch",)),
    (("addendum",), ("dedendum",)),
    (("driver",), ("driven",)),
    (("first",), ("second",), ("third",), ("fourth",)),
    (("sun",), ("planet",), ("ring",), ("carrier",)),
)
# Two words for one distance: where both stand in a question, their labels say which is which.
_ONE_THING = frozenset({"hole_spacing", "centre_distance"})


def _label(answer: Answer) -> Iterator[str]:
    """A label that names another quantity than the one asked."""
    label, own = answer.label.casefold(), answer.quantity.meaning.casefold()
    if label != own and label not in own:  # fewer words for the same are in order
        for quantity in QUANTITIES.values():
            if label == quantity.meaning.casefold():
                yield f"label: {answer.label!r} is another quantity; asked is the {own}: name that"
                return
    words, wanted = set(re.findall(r"[\w-]+", label)), set(re.findall(r"[\w-]+", own))
    for groups in _OPPOSITES:
        mine = [group for group in groups if wanted & {*group}]
        other = [word for group in groups if group not in mine for word in group if word in words]
        if len(mine) == 1 and other and not words & {*mine[0]}:
            yield f"label: {answer.label!r} says “{other[0]}”, but asked is the {own}"
            return


def _labels_together(question: Question) -> list[str]:
    """Two numbers of a question under one name, or the wanted and the measured distance not told apart."""
    givens = {name: question.given_label(name) for name in question.shown_names}
    names = [(f"givens.{name}", label) for name, label in givens.items()]
    names += [(f"answers.{answer.id}", answer.label) for answer in question.answers]
    problems: list[str] = []
    seen: dict[str, str] = {}
    for place, label in names:
        if label.casefold() in seen:
            problems.append(
                f"{place}: label: {label!r} stands for {seen[label.casefold()]} too: tell them apart"
            )
        seen.setdefault(label.casefold(), place)
    asked = {answer.asked for answer in question.answers}
    for name, label in givens.items():
        if name in _ONE_THING and asked & (_ONE_THING - {name}) and label == QUANTITIES[name].meaning:
            problems.append(
                f"givens.{name}: label: {label!r} could be the answer as well: give it a label of its own"
                " that says which distance it is (on the drawing, wanted, measured)"
            )
    return problems


def _unit(question: Question, answer: Answer) -> Iterator[str]:
    """An answer whose unit neither it nor the prompt states."""
    if answer.kind != "number" or not answer.unit or answer.table.unit:
        return
    text = f"{question.table.prompt} {answer.label}".casefold()
    names = {answer.unit, written(answer.unit), SPOKEN.get(answer.unit, answer.unit)}
    if not any(re.search(rf"(?<!\w){re.escape(name.casefold().rstrip('s'))}", text) for name in names):
        yield f"unit: neither prompt nor answer says it ({answer.unit} is taken): state unit = ..."
