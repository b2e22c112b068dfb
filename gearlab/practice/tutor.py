"""What a tutor says at the first, second and third wrong try of an answer, and of a right one.

First the cause as a question, then the step in which it happened, then the way. All its wording stands here.
"""

from __future__ import annotations

import re
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gearlab.practice.draw import Draw
from gearlab.practice.judging import NO_FORMULA, NOT_EXACT
from gearlab.practice.typed.reading import Reading
from gearlab.practice.typed.units import UNITS
from gearlab.practice.verdict import UNMARKED, Cause, Verdict
from gearlab.theory.quantities import QUANTITIES

if TYPE_CHECKING:
    from gearlab.practice.question import Question

__all__ = [
    "FIRST_WORDS",
    "SECOND_WORDS",
    "Check",
    "Help",
    "Tries",
    "as_question",
    "first",
    "help_with",
    "idea",
    "second",
    "third",
    "tried_already",
]

FIRST_WORDS, SECOND_WORDS = 30, 60  # words of the first and the second help, at most
FREE = ("right", "not answered", "cannot read", UNMARKED)  # kinds of verdict that cost no try
_MOST_CHECKS = 100  # of one draw that are kept

# Titles of ordinary slips that are no "did this", and what is asked at the first wrong try instead. Where the
# title would tell the right number (half of it, ten times), the reason is asked for.
_ASKED = {
    "twice as much": "Did you take a diameter for a radius, or count something twice?",
    "half as much": "Did you take a radius for a diameter, or one of two equal parts?",
    "a quarter of it": "Which way does each factor of two go?",
    "four times as much": "Which way does each factor of two go?",
    "upside down": "What has to be above the line, and what below?",
    "a fraction turned over": "In each fraction, what has to be above the line, and what below?",
    "a number on the wrong side of the line": "Is every number factor on its side of the line?",
    "divided by it": "Is the function of the angle on its side of the line?",
    "another number": "Is every number factor in your formula the right one?",
    "a wrong number": "Is every number in your formula the right one?",
    "left out a factor": "Does something come in more than once, or only in part?",
    "plus and minus exchanged": "Is every plus and every minus in its place?",
    "a factor pi too much": "Did you measure along the circle or across it: does pi come in?",
    "a factor pi is missing": "Did you measure along the circle or across it: does pi come in?",
    "divided by pi": "Does pi come in here, and on which side of the line?",
    "divided by pi twice": "How often does pi come in here?",
    "a factor of ten": "Is the decimal point in its place, and every number in the unit you meant?",
    "a factor of one hundred": "Is the decimal point in its place, and every number in the unit you meant?",
    "a factor of one thousand": "Is the decimal point in its place, and every number in the unit you meant?",
    "inches and millimetres": "Did you convert between inches and millimetres, once and the right way?",
    "minutes and seconds": "Is your number per minute or per second?",
    "degrees and minutes of arc": "Is your number in degrees or in minutes of arc?",
    "took the larger limit": "Two limits hold here: which of them counts?",
    "feet and inches": "Is your number in feet or in inches?",
    "turns and radians": "Did you count in turns or in radians?",
    "turns and degrees": "Did you count in turns or in degrees?",
    "no unit converted": "Are all your numbers in one unit?",
    "calculator in radian mode": "Is your calculator set to degrees?",
    "angle read as radians": "Is your calculator set to degrees?",
    "as if nothing changed": "Does really nothing change here?",
    "took nothing for the cosine": "Did you leave out the cosine?",
    "used the sum": "Did you use the sum of two numbers where one of them belongs?",
    "used the difference": "Did you use the difference of two numbers where one of them belongs?",
    "used the mean": "Did you use the mean of two numbers where one of them belongs?",
    "gave nothing": "Can it really come to nothing?",
    "close": "Did you round on the way?",
    "not a preferred size": "Is that one of the preferred sizes?",
    "not a whole number": "Can there be a part of one?",
    "a unit of another kind": "Which unit did you type, and what does it measure?",
    "right number, wrong unit typed": "Which unit did you type behind your number?",
    "not all that fit": "Is that all that fits?",
}
# Past tenses that are not their verb and "ed".
_BASE = {
    **{"took": "take", "left": "leave", "forgot": "forget", "went": "go", "kept": "keep", "let": "let"},
    **{"said": "say", "made": "make", "put": "put", "set": "set", "read": "read", "chose": "choose"},
    **{"found": "find", "cut": "cut", "began": "begin", "drew": "draw", "gave": "give", "wrote": "write"},
    **{"stood": "stand", "thought": "think", "held": "hold", "saw": "see", "brought": "bring", "did": "do"},
    **{"used": "use", "divided": "divide", "exchanged": "exchange", "measured": "measure", "ran": "run"},
    **{"removed": "remove", "compared": "compare", "averaged": "average", "scaled": "scale", "met": "meet"},
    **{"combined": "combine", "reversed": "reverse", "shared": "share", "ignored": "ignore", "lost": "lose"},
    **{"assumed": "assume", "moved": "move", "halved": "halve", "doubled": "double", "closed": "close"},
    **{"centred": "centre", "squared": "square", "multiplied": "multiply", "copied": "copy", "spun": "spin"},
    **{"swapped": "swap", "stopped": "stop", "skipped": "skip", "levelled": "level", "applied": "apply"},
    **{"dropped": "drop", "replaced": "replace", "stated": "state", "reduced": "reduce", "chosen": "choose"},
}
_NAMED = ("the ", "a ", "an ", "one ", "half ", "twice ", "what ", "only ", "all ")
_NOTHING_KNOWN = "Which step of your way could be another one?"


@dataclass(frozen=True)
class Help:
    """What is told at a wrong try: texts to show, and the number of the bank's hint to open (0 for none)."""

    texts: tuple[str, ...]
    hint: int = 0


# -- the three helps -----------------------------------------------------------------------------------
def help_with(
    question: Question, draw: Draw, answer_id: str, verdict: Verdict, level: int, shown: int = 0
) -> Help:
    """What is told at the `level`-th wrong value of an answer (1 is the first).

    Of an answer without a known cause the bank's hints tell, the next one after the `shown` first ones; after
    the last of them the way does.
    """
    answer = question.answer(answer_id)
    causes = [cause.sentence for cause in verdict.causes]
    if not question.judges_fields:  # a condition says what came out; from the second try on the hints help
        return Help((verdict.sentence,), _next_hint(question, shown) if level > 1 else 0)
    if question.tells_at_once(answer_id):  # from the second try on the hints help too
        return Help((verdict.sentence,), _next_hint(question, shown) if level > 1 else 0)
    if answer.table is None:  # a choice: what the bank says of the option
        return Help((_cut(" ".join(causes), FIRST_WORDS),))
    if not causes and verdict.sentence.startswith((NOT_EXACT, NO_FORMULA)):
        return Help((verdict.sentence,), _next_hint(question, shown) if level > 1 else 0)
    if not causes:
        hint = _next_hint(question, shown)
        if hint:
            return Help(("We do not recognise this mistake.",), hint)
        return Help((third(question, answer_id),))
    if level <= 1:
        return Help((first(question, draw, answer_id, verdict),))
    if level == 2:
        return Help((second(question, answer_id, verdict),))
    return Help((second(question, answer_id, verdict), third(question, answer_id)))


def _next_hint(question: Question, shown: int) -> int:
    return shown + 1 if shown < len(question.hints) else 0


def first(question: Question, draw: Draw, answer_id: str, verdict: Verdict) -> str:
    """The cause as a question, in at most 30 words; never the right number or the way."""
    questions: list[str] = []
    for cause in verdict.causes:
        text = as_question(question, answer_id, cause)
        if text not in questions and not _tells(question, draw, answer_id, text):
            longer = " Or: ".join([*questions, text])
            if len(longer.split()) <= FIRST_WORDS:
                questions.append(text)
    return " Or: ".join(questions) or _NOTHING_KNOWN


def second(question: Question, answer_id: str, verdict: Verdict) -> str:
    """The step in which it happened and what happened there, in at most 60 words."""
    told: list[str] = []
    for cause in verdict.causes:
        text = _cut(_happened(question, answer_id, cause), SECOND_WORDS)
        if text not in told and (not told or len(" Or: ".join([*told, text]).split()) <= SECOND_WORDS):
            told.append(text)
    return " Or: ".join(told)


def _happened(question: Question, answer_id: str, cause: Cause) -> str:
    what = " ".join(cause.sentence.replace(cause.rule, "").split()) if cause.rule else cause.sentence
    step, where = _place(question, answer_id, cause)
    if not where:
        return f"{step} {what}".strip()
    what = re.sub(rf",? when working out {re.escape(where)}(?=[ ,.:?])", "", what)
    whole = f"{step}, where {where} is worked out: {what}"
    return whole if len(whole.split()) <= SECOND_WORDS else f"{step}: {what}"


def third(question: Question, answer_id: str) -> str:
    """The way in words."""
    return f"The way: {question.way_in_words(question.answer(answer_id))}"


def idea(question: Question, answer_id: str, verdict: Verdict) -> str:
    """One sentence that holds the idea of a right answer; "" where there is none to tell.

    The bank's own `idea`; else what a choice's option says, or the rule of the last step.
    """
    if question.table.idea:
        return question.table.idea
    answer = question.answer(answer_id)
    if answer.table is None:
        return question.remark(verdict)
    if not question.judges_fields:
        return ""
    rules = [step.relation.says for step in answer.way.steps if step.relation is not None]
    return _sentences(rules[-1])[0] if rules else ""


# -- a cause as a question -----------------------------------------------------------------------------
def as_question(question: Question, answer_id: str, cause: Cause) -> str:
    """A cause asked, not told."""
    title = cause.title
    if cause.kind == "another quantity" and cause.name in QUANTITIES:
        return f"Is that the {QUANTITIES[cause.name].meaning}?"
    if cause.name == "sign":
        turning = "direction" in cause.sentence
        return (
            "Which way does it turn, and which way counts as positive?"
            if turning
            else "Which is taken from which: has it a sign, and which one?"
        )
    if title in _ASKED:
        return _ASKED[title]
    if cause.kind == "wrong unit":
        return "In which unit is your number, and in which one is it asked?"
    if title.startswith(("gave ", "wrote ")):
        what = title.split(" ", 1)[1]
        return f"{'Is that' if what.startswith(_NAMED) else 'Did you give'} {what}?"
    if title.startswith("did not "):
        return f"Did you forget to {title.removeprefix('did not ')}?"
    if title.endswith((" added", " taken off")):
        return f"Does the {title.removesuffix(' added').removesuffix(' taken off')} come in here?"
    if ": one too " in title or title.startswith("one too "):
        return f"Did you count one too {title.rsplit(' ', 1)[1]}?"
    if title.startswith("as for "):
        return f"Did you work it out {title}?"
    verb, _, rest = title.partition(" ")
    base = _BASE.get(verb) or (verb[:-2] if verb.endswith("ed") else "")
    return f"Did you {base} {rest}".rstrip() + "?" if base else f"Was it this: {title}?"


def _tells(question: Question, draw: Draw, answer_id: str, text: str) -> bool:
    """Whether a text has the right number in it."""
    if not draw.keys or not question.judges_fields:
        return False
    answer = question.answer(answer_id)
    key = draw.keys[question.answers.index(answer)]
    numbers = [float(number) for number in re.findall(r"\d+(?:\.\d+)?", text)]
    return any(answer.accepts(number, abs(key)) for number in numbers)


def _place(question: Question, answer_id: str, cause: Cause) -> tuple[str, str]:
    """Which step of the way it was, and what is worked out there; "" for the only one or none known."""
    answer = question.answer(answer_id)
    words = [step.quantity for step in answer.way.steps if step.relation is not None]
    count = f"of {len(words)}"
    if cause.kind == "another quantity":
        place = words.index(cause.name) + 1 if cause.name in words else 0
        return (f"You stopped after step {place} {count}." if 0 < place < len(words) else ""), ""
    if len(words) < 2 or cause.step not in words:
        return "", ""
    return f"Step {words.index(cause.step) + 1} {count}", f"the {QUANTITIES[cause.step].meaning}"


def _sentences(text: str) -> list[str]:
    return re.split(r"(?<=[.!?])\s+(?=[A-Z“])", text)


def _cut(text: str, words: int) -> str:
    """As many whole sentences as fit into so many words, at least one, cut where it is longer."""
    kept: list[str] = []
    for sentence in _sentences(text):
        if kept and len(" ".join([*kept, sentence]).split()) > words:
            break
        kept.append(sentence)
    parts = " ".join(kept).split()
    return " ".join(parts) if len(parts) <= words else " ".join(parts[: words - 1]) + " …"


# -- which tries there were ----------------------------------------------------------------------------
@dataclass(frozen=True)
class Check:
    """What one check brought: answers newly right, with a new wrong value, and with one tried before."""

    right: tuple[str, ...]
    wrong: tuple[str, ...]
    again: tuple[str, ...]
    counts: bool  # as a try: something wrong is new, or all is right


class Tries:
    """The tries at one draw of a question. The same number again, in any writing, is none."""

    def __init__(self, question: Question, draw: Draw, checks: Sequence[Mapping[str, str]] = ()):
        self.question, self.draw = question, draw
        self.checks: list[dict[str, str]] = []  # the texts of each check that brought something new
        self._right: set[str] = set()
        self._wrong: dict[str, list[Hashable]] = {answer.id: [] for answer in question.answers}
        for texts in checks[:_MOST_CHECKS]:
            self.add(texts)

    def level(self, answer_id: str) -> int:
        """How many different wrong values there were for an answer."""
        return len(self._wrong[answer_id])

    def add(
        self,
        texts: Mapping[str, str],
        read: Mapping[str, Reading] | None = None,
        verdicts: Mapping[str, Verdict] | None = None,
    ) -> Check:
        """Take a check in: the texts, what was read of them and the verdicts, where these are there."""
        question = self.question
        read = question.readings(texts) if read is None else read
        verdicts = question.judge(self.draw, texts, read=dict(read)) if verdicts is None else verdicts
        right: list[str] = []
        wrong: list[str] = []
        again: list[str] = []
        for answer_id, verdict in verdicts.items():
            if verdict.settled:
                right += [answer_id] if answer_id not in self._right else []
            elif verdict.kind not in FREE:
                value, before = self._value(answer_id, read), self._wrong[answer_id]
                (again if value in before else wrong).append(answer_id)
                before += [value] if value not in before else []
        self._right.update(right)
        if (right or wrong) and len(self.checks) < _MOST_CHECKS:
            self.checks.append(dict(texts))
        everything = all(verdict.settled for verdict in verdicts.values())
        return Check(tuple(right), tuple(wrong), tuple(again), bool(wrong) or everything)

    def _value(self, answer_id: str, read: Mapping[str, Reading]) -> Hashable:
        if self.question.judges_fields:
            return _same_in_any_writing(self.question, read[answer_id])
        return tuple(_same_in_any_writing(self.question, reading) for reading in read.values())


def _same_in_any_writing(question: Question, reading: Reading) -> Hashable:
    if reading.choices:
        return tuple(sorted(reading.choices))
    if reading.expression is not None:
        numbers = [reading.expression.value(point) for point in question.points_of_comparison]
        return tuple(None if number is None else f"{number:.9g}" for number in numbers)
    if reading.value is None:
        return reading.problem
    unit = UNITS.get(reading.unit or reading.asked_unit or "1", UNITS["1"])
    return unit.dimension, f"{reading.value * unit.size:.9g}"


def tried_already(readings: Sequence[Reading]) -> str:
    """That what was typed was tried before.

    >>> from gearlab.practice.typed.reading import Reading
    >>> tried_already([Reading(30.0, asked_unit="mm")])
    'You have already tried 30 mm: it does not count as a try.'
    """
    what = [reading.echo.removeprefix("read as ") for reading in readings if reading.echo]
    return f"You have already tried {' and '.join(what) or 'this'}: it does not count as a try."
