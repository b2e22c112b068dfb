"""The marking contract: what is asked of an answer, what counts as right, and how points are given, in words.

One place makes these sentences; sheet, answer box, hand-in box and feedback page show them. Nothing in them hangs on the
right number, but for what `within` tells on a feedback page.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gearlab.digits import number_text
from gearlab.practice.units import OTHER_UNIT_CREDIT, UNIT_CREDIT
from gearlab.practice.verdict import NAMES, Verdict
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import written

if TYPE_CHECKING:
    from gearlab.practice.answer import Answer

__all__ = [
    "CLOSE",
    "CLOSE_CREDIT",
    "NEAR_CREDIT",
    "SIGN_CREDIT",
    "Contract",
    "choice_contract",
    "design_contract",
    "expression_contract",
    "number_contract",
    "precision",
    "share_text",
    "why",
    "within",
]

CLOSE = 3.0  # times as far off as a right number may be: within it a wrong one is called close
CLOSE_CREDIT = 0.75
SIGN_CREDIT = 0.5
NEAR_CREDIT = 0.5  # of a condition that is only nearly met

_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight")
_ORDINAL = {1: "first", 2: "second", 3: "third", 4: "fourth", 5: "fifth", 6: "sixth", 7: "seventh", 8: "eighth"}
_SHARES = {0.0: "no", 0.1: "a tenth", 0.2: "a fifth", 0.25: "a quarter", 1 / 3: "a third", 0.4: "two fifths"}
_SHARES |= {0.5: "half", 0.6: "three fifths", 2 / 3: "two thirds", 0.75: "three quarters", 0.8: "four fifths", 1.0: "all"}


@dataclass(frozen=True, slots=True)
class Contract:
    """What is asked of an answer, and how it earns its points.

    line: what to give, a few words: "in mm, to two decimal places".
    more: what counts as right and what earns a part of the points, a sentence each.
    """

    line: str
    more: tuple[str, ...]

    def to_json(self) -> dict:
        """The contract as plain data, for a sheet."""
        return {"line": self.line, "more": list(self.more)}


def share_text(share: float) -> str:
    """A share of the points [-] in words.

    >>> share_text(0.75), share_text(0.3), share_text(0)
    ('three quarters', '30 %', 'no')
    """
    near = min(_SHARES, key=lambda one: abs(one - share))
    return _SHARES[near] if abs(near - share) < 1e-3 else f"{number_text(100 * share, 3)} %"


def _count(number: int, noun: str) -> str:
    return f"{_WORDS[number] if number < len(_WORDS) else number} {noun}{'' if number == 1 else 's'}"


def precision(answer: Answer) -> str:
    """To which precision a number is asked, in words."""
    if answer.table.preferred:
        return f"one of the preferred values of the {answer.table.preferred.replace('_', ' ')}"
    if answer.whole:
        return "a whole number"
    if answer.places is not None:
        return f"to {_count(answer.places, 'decimal place')}" if answer.places else "to the nearest whole"
    return f"to {_count(answer.figures, 'significant figure')}"


def _in_unit(answer: Answer) -> str:
    return f"in {written(answer.unit)}" if answer.unit else ""


def _margin(answer: Answer) -> str:
    """How far off a right number may be, in words that do not hang on it."""
    if answer.table.preferred or (answer.whole and not answer.relative and answer.absolute < 1):
        return "only the number itself is right"
    unit = f" {written(answer.unit)}" if answer.unit else ""
    half = answer.half_step(1.0) if answer.places is not None else 0.0
    coarsest = 0.5 * 10.0 ** (1 - answer.figures) if answer.places is None and not answer.whole else 0.0
    parts = []
    if answer.relative and not (answer.relative <= 1e-6 and (half or coarsest)):
        parts.append(f"{number_text(100 * answer.relative, 4)} % of the right number")
    if answer.absolute and answer.absolute > half * (1 + 1e-9):
        parts.append(f"{number_text(answer.absolute, 4)}{unit}")
    elif half:
        parts.append(f"{number_text(half, 4)}{unit}, half a unit of the last place asked")
    if coarsest > answer.relative * (1 + 1e-9):
        parts.append(f"half a unit of the {_ORDINAL[answer.figures]} figure")
    most = "" if len(parts) == 1 else ", whichever is more"
    return f"a number is right when it is off by no more than {' or '.join(parts)}{most}"


def number_contract(answer: Answer) -> Contract:
    """The contract of an answer that is a number."""
    asked = precision(answer)
    line = ", ".join(part for part in (_in_unit(answer), asked) if part)
    if answer.signed:
        line += ", with its sign" if answer.either_sign else ""
    more = [f"{_upper(_margin(answer))}; more figures do no harm."]
    if answer.whole or answer.table.preferred:
        more = [f"{_upper(_margin(answer))}."]
    for word in answer.table.same_as:
        more.append(f"So near that it counts too: the {QUANTITIES[word].meaning}.")
    if answer.modular:
        more.append("Whole periods more or less are the same answer.")
    earn = []
    if not (answer.whole or answer.table.preferred):
        earn.append(f"a number up to {CLOSE:g} times as far off, {share_text(CLOSE_CREDIT)}")
    elif answer.whole:
        earn.append(f"a number less than 1 off that is not whole, {share_text(SIGN_CREDIT)}")
    if not answer.table.size_only:
        earn.append(f"the right size with the wrong sign, {share_text(SIGN_CREDIT)}")
    if answer.unit:
        more.append("A number with another unit of the same kind behind it is converted.")
        earn.append(
            f"the right number with a wrong unit behind it, {share_text(UNIT_CREDIT)}, or in another unit without"
            f" saying so, {share_text(OTHER_UNIT_CREDIT)}"
        )
    if answer.carries:
        more.append("Worked out rightly from your own earlier number, though that was wrong, it earns all points.")
    if earn:
        more.append(f"Of the points earn: {'; '.join(earn)}.")
    most = max((slip.credit for slip in answer.table.slips), default=0.0)
    more.append(
        f"A known slip earns what its mistake leaves, at most {share_text(most)}; anything else nothing."
        if most
        else "Any other wrong number earns nothing."
    )
    return Contract(line, tuple(more))


def expression_contract(answer: Answer) -> Contract:
    """The contract of an answer that is a formula."""
    more = ["Every form counts that is equal to the right one for all values: nothing has to be simplified."]
    most = max((slip.credit for slip in answer.table.slips), default=0.0)
    sign = f"The right size with the wrong sign earns {share_text(SIGN_CREDIT)} of the points; a" if answer.signed else "A"
    more.append(
        f"{sign} known slip earns what its mistake leaves, at most {share_text(most)}; anything else nothing."
        if most
        else f"{sign} wrong formula earns nothing."
    )
    return Contract("a formula in the symbols named, any equal form", tuple(more))


def choice_contract(several: bool) -> Contract:
    """The contract of a choice."""
    if several:
        return Contract(
            "tick all that fit, all or nothing",
            ("All points for exactly the options that fit; one too many or one too few earns nothing.",),
        )
    return Contract("choose one", ("All points for the right option, nothing for another or for more than one.",))


def design_contract() -> Contract:
    """The contract of numbers of the student's own choice."""
    return Contract(
        "every choice that meets the conditions is right",
        (
            "Each condition earns its own points, whatever becomes of the others.",
            f"A condition that is nearly met earns {share_text(NEAR_CREDIT)} of its points.",
        ),
    )


def _upper(text: str) -> str:
    return text[0].upper() + text[1:]


def within(answer: Answer, key: float) -> str:
    """How far off a right number might be, with this right number: "right within ± 0.05 mm".

    For the feedback page, where the right number is told.
    """
    if answer.table.preferred or (answer.whole and not answer.relative and answer.absolute < 1):
        return "exactly"
    unit = f" {written(answer.unit)}" if answer.unit else ""
    return f"within ± {number_text(answer.allowed(key), 3)}{unit}"


def why(verdict: Verdict) -> str:
    """Why an answer earned the share of its points that it did, "" where it earned all.

    >>> why(Verdict("close", False, 1.5, 2.0))
    'three quarters of the points: close'
    """
    if verdict.points >= verdict.out_of:
        return ""
    share = verdict.points / verdict.out_of if verdict.out_of else 0.0
    reason = " or ".join(cause.title for cause in verdict.causes) or NAMES[verdict.kind]
    if verdict.kind == "not recognised":
        reason = "the right sign, the number not" if share else "not right, and no known slip"
    best = max((cause.credit for cause in verdict.causes), default=0.0)
    if verdict.causes and share > best + 1e-9:
        reason += "; the sign is right"
    return f"{share_text(share)} {'points' if not share else 'of the points'}: {reason}"
