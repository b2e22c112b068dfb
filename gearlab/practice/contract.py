"""The marking contract: what is asked of an answer, what counts as right, and how points are given, in words.

One place makes these sentences; sheet, answer box, hand-in box and feedback page show them. Nothing in them
hangs on the right number, but for what `within` tells on a feedback page.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from gearlab.digits import number_text
from gearlab.practice.typed.units import unit_in_words
from gearlab.practice.verdict import NAMES, Verdict
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import written

if TYPE_CHECKING:
    from gearlab.practice.answer import Answer
    from gearlab.practice.question import Question

__all__ = [
    "CLOSE",
    "CLOSE_CREDIT",
    "NEAR_CREDIT",
    "OTHER_UNIT_CREDIT",
    "SIGN_CREDIT",
    "UNIT_CREDIT",
    "Contract",
    "choice_contract",
    "design_contract",
    "expression_contract",
    "margin_text",
    "number_contract",
    "precision",
    "reason_of",
    "rules",
    "share_text",
    "why",
    "within",
]

CLOSE = 3.0  # times as far off as a right number may be: within it a wrong one is called close
CLOSE_CREDIT = 0.75
SIGN_CREDIT = 0.5
UNIT_CREDIT = 0.75  # the right number with a wrong unit typed
OTHER_UNIT_CREDIT = 0.5  # the right number in a unit nobody asked for, none typed
NEAR_CREDIT = 0.5  # of a condition that is only nearly met

_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight")
_ORDINAL = {
    1: "first",
    2: "second",
    3: "third",
    4: "fourth",
    5: "fifth",
    6: "sixth",
    7: "seventh",
    8: "eighth",
}
_COUNTED = ("count", "number", "turns")  # whole of these, whose unit goes without saying
_PREFERRED = {"module": "modules", "diametral_pitch": "diametral pitches"}
_SHARES = {0.0: "no", 0.1: "a tenth", 0.2: "a fifth", 0.25: "a quarter", 1 / 3: "a third", 0.4: "two fifths"}
_SHARES |= {
    0.5: "half",
    0.6: "three fifths",
    2 / 3: "two thirds",
    0.75: "three quarters",
    0.8: "four fifths",
    1.0: "all",
}


@dataclass(frozen=True, slots=True)
class Contract:
    """What is asked of an answer, and how it earns its points.

    unit: "in millimetres", "" for none.
    asked: the precision or form, a few words: "to two decimal places".
    accepts: how far off is right still, a few words: "within 0.03 mm"; "" where there is nothing to say.
    more: how points are given, a sentence each.
    """

    unit: str
    asked: str
    accepts: str
    more: tuple[str, ...]

    @property
    def line(self) -> str:
        """What to give: "in millimetres, to two decimal places"."""
        return ", ".join(part for part in (self.unit, self.asked) if part)

    @property
    def sentence(self) -> str:
        """What to give and what is right: "In millimetres, to two decimal places; right within 0.03 mm."."""
        text = "; right ".join(part for part in (self.line, self.accepts) if part)
        return text and f"{text[0].upper()}{text[1:]}."

    def to_json(self) -> dict:
        """The contract as plain data, for a sheet."""
        return {"asked": self.asked, "accepts": self.accepts, "more": list(self.more)}


@lru_cache(maxsize=1024)  # a class's answers earn the same few shares
def share_text(share: float) -> str:
    """A share of the points [-] in words.

    >>> share_text(0.75), share_text(0.3), share_text(0)
    ('three quarters', '30 %', 'no')
    """
    near = min(_SHARES, key=lambda named: abs(named - share))
    return _SHARES[near] if abs(near - share) < 1e-3 else f"{number_text(100 * share, 3)} %"


def _count(number: int, noun: str) -> str:
    return f"{_WORDS[number] if number < len(_WORDS) else number} {noun}{'' if number == 1 else 's'}"


def precision(answer: Answer) -> str:
    """To which precision a number is asked, in words."""
    if answer.table.preferred:
        return "one of the preferred " + _PREFERRED[answer.table.preferred]
    if answer.whole:
        return "a whole number"
    if answer.places is not None:
        return f"to {_count(answer.places, 'decimal place')}" if answer.places else "to the nearest whole"
    return f"to {_count(answer.figures, 'significant figure')}"


def _exact(answer: Answer) -> bool:
    return bool(answer.table.preferred or (answer.whole and not answer.relative and answer.absolute < 1))


def _margin(answer: Answer, sizes: Sequence[float]) -> str:
    """How far off a right number may be, in words that do not hang on it.

    `sizes` of right answers tell which of several limits ever decides; the others are left out.
    """
    if _exact(answer):
        return ""
    unit = " percentage points" if answer.unit == "%" else f" {written(answer.unit)}" if answer.unit else ""
    half = answer.half_step(1.0) if answer.places is not None else 0.0
    figures = answer.figures if answer.places is None and not answer.whole else 0
    fixed = max(answer.absolute, half)
    of_it = " of the number" if answer.unit == "%" else ""
    limits = {
        f"{number_text(100 * answer.relative, 4)} %{of_it}": [answer.relative * size for size in sizes],
        f"{number_text(fixed, 4)}{unit}": [fixed] * len(sizes),
        f"half a unit of the {_ORDINAL.get(figures)} figure": [
            answer.half_step(size) if figures else 0.0 for size in sizes
        ],
    }
    decides, widest = [], [0.0] * len(sizes)
    for words, row in limits.items():
        if any(limit > 1.001 * most for limit, most in zip(row, widest)):
            decides.append(words)
            widest = [max(pair) for pair in zip(row, widest)]
    return f"within {' or '.join(decides)}" if decides else ""


def number_contract(answer: Answer) -> Contract:
    """The contract of an answer that is a number."""
    exact, asked = _exact(answer), precision(answer)
    draws = answer.question.draws_of_slips
    keys = [draw.keys[answer.place] for draw in draws]
    # of all that may have a sign, or of none: else the words would tell which one is negative
    signed = [other.place for other in answer.question.answers if other.signed]
    if answer.signed and any(draw.keys[place] < 0 for draw in draws for place in signed):
        asked += ", with its sign"
    margin = _margin(answer, [abs(key) for key in keys])
    more = ["Only the number itself is right."] if exact else ["More figures than asked do no harm."]
    if " or " in margin:
        more[0] = "Of two limits the wider holds. " + more[0]
    more += [f"So near that it counts too: the {QUANTITIES[word].meaning}." for word in answer.table.same_as]
    if answer.modular:
        more.append("Whole periods more or less are the same answer.")
    if answer.unit:
        more.append("A number with another unit of the same kind behind it is converted.")
    if answer.carries:
        more.append("Worked out rightly from an earlier number of yours that was wrong, it earns all points.")
    earns = []
    if not exact:
        earns.append(f"up to {_WORDS[int(CLOSE)]} times as far off, {share_text(CLOSE_CREDIT)} of the points")
    elif answer.whole:
        earns.append(f"less than 1 off and not whole, {share_text(SIGN_CREDIT)} of the points")
    if not answer.table.size_only:
        earns.append(f"the right size with the wrong sign, {share_text(SIGN_CREDIT)}")
    if answer.unit:
        earns.append(f"the right number with a wrong unit behind it, {share_text(UNIT_CREDIT)}")
        earns.append(f"in another unit without saying so, {share_text(OTHER_UNIT_CREDIT)}")
    if earns:
        text = "; ".join(earns)
        more.append(f"{text[0].upper()}{text[1:]}.")
    most = max((slip.credit for slip in answer.table.slips), default=0.0)
    more.append(_slips(most))
    counted = answer.whole and answer.dimension in _COUNTED
    return Contract(
        "" if counted or not answer.unit else unit_in_words(answer.shown_unit), asked, margin, tuple(more)
    )


def _slips(most: float) -> str:
    if not most:
        return "Anything else earns nothing."
    return f"A wrong answer whose cause is known earns at most {share_text(most)}; any other nothing."


def expression_contract(answer: Answer) -> Contract:
    """The contract of an answer that is a formula."""
    more = ["Every form counts that is equal for all values: nothing has to be simplified."]
    if answer.signed:
        more.append(f"The right size with the wrong sign earns {share_text(SIGN_CREDIT)} of the points.")
    more.append(_slips(max((slip.credit for slip in answer.table.slips), default=0.0)))
    return Contract("", "any equal form", "", tuple(more))


def choice_contract(several: bool) -> Contract:
    """The contract of a choice."""
    if several:
        says = "All points for exactly the options that fit; one too many or one too few earns nothing."
        return Contract("", "all or nothing", "", (says,))
    return Contract(
        "", "", "", ("All points for the right option; another, or more than one, earns nothing.",)
    )


def design_contract() -> Contract:
    """The contract of numbers of the student's own choice."""
    more = (
        "There is more than one right answer: each condition that your numbers meet earns its own points,"
        " whatever becomes of the others.",
        f"A condition that is nearly met earns {share_text(NEAR_CREDIT)} of its points.",
    )
    return Contract("", "", "", more)


def rules(questions: Iterable[Question]) -> list[str]:
    """How the answers of a sheet are marked, a sentence each, for the kinds of answers that stand on it."""
    questions = list(questions)
    kinds = {question.kind for question in questions}
    numbers = [answer for question in questions if question.numbers for answer in question.answers]
    answers = [answer for answer in numbers if not answer.measured]
    says = []
    if any(not _exact(answer) for answer in answers):
        says.append(
            "A number is right within the limit that is given after its line, the wider limit where there are"
            " two; more figures than asked do no harm. Up to"
            f" {_WORDS[int(CLOSE)]} times as far off it earns {share_text(CLOSE_CREDIT)} of the points."
        )
    if answers:
        says.append(
            f"The right number with the wrong sign earns {share_text(SIGN_CREDIT)}; with a wrong unit behind"
            f" it, {share_text(UNIT_CREDIT)}; in another unit without saying so,"
            f" {share_text(OTHER_UNIT_CREDIT)}. A number with another unit of the same kind behind it is"
            " converted."
        )
    if any(answer.carries for answer in answers):
        says.append(
            "What is worked out rightly from an earlier number of yours that was wrong earns all points."
        )
    if len(answers) < len(numbers):
        says.append(
            "A reading of your own earns its points by how near it is to the computed value; what you go on"
            " to work out is judged from your reading."
        )
    formulas = [
        answer for question in questions if question.kind == "expression" for answer in question.answers
    ]
    if formulas:
        says.append("A formula counts in every form that is equal for all values.")
    most = max((slip.credit for answer in (*answers, *formulas) for slip in answer.table.slips), default=0.0)
    if most:
        says.append(
            f"A wrong answer whose cause is known earns at most {share_text(most)}, and your feedback names"
            " the cause; any other earns nothing."
        )
    choices = [answer for question in questions if question.kind == "choice" for answer in question.answers]
    if any(answer.several for answer in choices):
        says.append("Tick all that fit: all points for exactly those, else none.")
    if any(not answer.several for answer in choices):
        says.append("Choose one: all points for the right one, else none.")
    if "design" in kinds:
        says.append(
            "Where numbers are yours to choose, each condition that they meet earns its points; nearly met,"
            f" {share_text(NEAR_CREDIT)} of them."
        )
    if any(question.for_people for question in questions):
        says.append("A text is read by people, who give its points.")
    return says


def within(answer: Answer, key: float) -> str:
    """How far off a right number might be: "within 0.05 mm". For pages where the right number is told."""
    if _exact(answer):
        return ""
    unit = f" {written(answer.unit)}" if answer.unit else ""
    return f"within {margin_text(answer, key)}{unit}"


def margin_text(answer: Answer, key: float) -> str:
    """The number in that [unit asked]."""
    return number_text(answer.allowed(key), 3)


def reason_of(verdict: Verdict, causes: str) -> str:
    """What an answer that lost points is called: by its causes, where some are known."""
    if verdict.kind == "not recognised":
        return (
            "the sign is right, the number is not" if verdict.points else "not right, mistake not recognised"
        )
    return causes or NAMES[verdict.kind]


def why(verdict: Verdict, causes: str = "") -> str:
    """Why an answer earned the share of its points that it did, "" where it earned all.

    causes: its causes in words; by default any of them.

    >>> why(Verdict("close", False, 1.5, 2.0))
    'three quarters of the points: close'
    """
    if verdict.points >= verdict.out_of:
        return ""
    reason = reason_of(verdict, causes or " or ".join(cause.title for cause in verdict.causes))
    best = max((cause.credit for cause in verdict.causes), default=0.0)
    if verdict.causes and verdict.share > best + 1e-9:
        reason += "; the sign is right"
    return f"{share_text(verdict.share)} {'of the points' if verdict.share else 'points'}: {reason}"
