"""Judging a number: right, carried on, or why not; and what every kind of verdict shares."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Protocol

from gearlab.practice.answer import Answer
from gearlab.practice.contract import CLOSE, CLOSE_CREDIT, SIGN_CREDIT, precision
from gearlab.practice.draw import Draw
from gearlab.practice.precision import apart
from gearlab.practice.solution import way_after
from gearlab.practice.typed.reading import Reading
from gearlab.practice.typed.units import dimension_cause, stated_scale, unit_causes
from gearlab.practice.verdict import FURTHEST, NEAREST, Cause, Verdict
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import written

if TYPE_CHECKING:
    from gearlab.practice.question import Question

__all__ = [
    "NOT_ANSWERED",
    "NOT_EXACT",
    "NO_FORMULA",
    "RIGHT",
    "judge_number",
    "told_once",
    "unknown",
    "wrong",
]

# how many times too large or too small an own earlier number may be and still be carried on: a unit that was
# not converted (25.4, 1000, a minute in an inch formula) is a mistake once, not twice
FARTHEST_CARRIED = 2000.0
MOST_CAUSES = 3


class Worth(Protocol):
    """Whatever earns points."""

    points: float


NOT_ANSWERED = "Nothing was typed here."
RIGHT = "Right."
NO_FORMULA = "A formula is asked"  # how the sentence on a number in its place begins
NOT_EXACT = "Not exact enough"  # how the sentence on a number rounded too far begins
_CARRIED = "Right with your own earlier number, which was not right: this step earns its points."


@dataclass(slots=True)
class _Typed:
    """A number that was typed, in the unit asked: what was read, half its last place, what else to tell.

    scale: how many of the unit asked one of the unit typed is [-].
    """

    reading: Reading
    value: float
    fine: float
    note: str
    scale: float = 1.0


def judge_number(
    question: Question,
    draw: Draw,
    answer: Answer,
    reading: Reading,
    listed: bool,
    which: int,
    earlier: list[float] | None,
) -> tuple[Verdict, float | None]:
    """The verdict on a number, and the number in the unit asked.

    `which` reading of an ambiguous comma is meant; `earlier` are the student's own numbers, where one of them
    is wrong.
    """
    if reading.value is None:
        if reading.empty:
            return Verdict("not answered", False, 0.0, answer.points, sentence=NOT_ANSWERED), None
        return Verdict("cannot read", False, 0.0, answer.points, sentence=reading.problem), None
    key = draw.keys[answer.place]
    period = answer.period(draw.shown) if answer.modular else 0.0
    typed = _in_asked_unit(answer, reading, reading.value, key, period, which)
    if isinstance(typed, Verdict):
        return typed, None
    value = typed.value
    if answer.accepts(value, key, period):
        return _full(answer, typed, RIGHT), value
    limit = answer.limit(key, period, typed.scale)
    if apart(value, key, period) <= limit and _right_as_asked(question, draw, answer, typed, key, listed):
        return _full(answer, typed, RIGHT), value
    if earlier is not None:
        follows = answer.consistent(draw.shown, earlier) if _earned(answer, draw, value, earlier) else []
        if any(
            answer.accepts(value, number, period) or answer.rounds_to(value, number, period)
            for number in follows
        ):
            return _full(answer, typed, _CARRIED, carried=True), value
    if not answer.table.size_only and apart(-value, key, period) <= limit:
        causes = _listed(question, draw, answer, value, typed.fine) if listed else []
        causes = causes or [_sign_cause(question, answer)]
        return wrong("wrong sign", answer, reading.echo, typed.note, causes), value
    return _not_right(question, draw, answer, typed, key, limit, listed), value


def _right_as_asked(
    question: Question, draw: Draw, answer: Answer, typed: _Typed, key: float, listed: bool
) -> bool:
    """Whether a number outside the tolerance, but within half a unit of what is asked, is right.

    The right number rounded so is right. Another number as near to it is right unless it is that of a listed
    slip or of another quantity: banks that were handed out before precisions were stated have such numbers.
    """
    value, period = typed.value, answer.period(draw.shown)
    if typed.scale != 1.0 or answer.rounds_to(value, key, period):
        return True
    if listed and _listed(question, draw, answer, value, typed.fine):
        return False
    others = question.slips_of(answer).matching(draw, value, typed.fine, False)
    return not any(cause.kind == "another quantity" for cause in others)


def _full(answer: Answer, typed: _Typed, sentence: str, carried: bool = False) -> Verdict:
    return Verdict(
        "right",
        True,
        answer.points,
        answer.points,
        typed.reading.echo,
        typed.note,
        carried=carried,
        sentence=_say(sentence, typed.note) if typed.note else sentence,
    )


def _in_asked_unit(
    answer: Answer, reading: Reading, value: float, key: float, period: float, which: int
) -> _Typed | Verdict:
    """The number in the unit asked, or the verdict on a unit that measures something else."""
    asked = answer.shown_unit
    if not reading.alternatives and (not reading.unit or reading.unit == asked):  # nearly every answer
        return _Typed(reading, abs(value) if answer.table.size_only else value, reading.last_place / 2, "")
    notes = []
    scale = 1.0
    if reading.alternatives:
        if which == 1:
            reading = reading.alternatives[1]
            value = reading.value if reading.value is not None else value
        else:
            notes.append("the comma was taken as a decimal comma")
    fine = reading.last_place / 2
    if reading.unit and reading.unit != asked:
        stated = stated_scale(answer, reading.unit)
        if stated is None:
            right = answer.accepts(abs(value) if answer.table.size_only else value, key, period)
            causes = [dimension_cause(answer, reading, right)]
            return wrong("wrong unit", answer, reading.echo, "; ".join(notes), causes)
        value, fine, scale = value * stated, fine * stated, stated
        if scale != 1.0:
            notes.append(
                f"converted from {written(reading.unit)} to {written(answer.unit) or 'a plain number'}"
            )
    if answer.table.size_only:
        value = abs(value)
    return _Typed(reading, value, fine, "; ".join(notes), scale)


def _not_right(
    question: Question, draw: Draw, answer: Answer, typed: _Typed, key: float, limit: float, listed: bool
) -> Verdict:
    """The verdict on a number that is neither right nor carried, with its causes."""
    value, note, period = typed.value, typed.note, answer.period(draw.shown)
    echo = typed.reading.echo
    units = unit_causes(answer, typed.reading, value, key, limit, period)
    causes = _causes(question, draw, answer, value, typed.fine, listed)
    nearest = max(typed.fine * (1 + 1e-9), NEAREST * abs(value))
    if causes and units and not unit_causes(answer, typed.reading, value, key, limit, period, nearest):
        # a slip to the digit, and a unit that comes near it: the losses of three meshes, and foot-pounds
        causes = tuple(replace(cause, credit=max(cause.credit, units[0].credit)) for cause in causes)
        units = ()
    if units and not any(cause.kind == "listed slip" for cause in causes):  # the bank's own words come first
        return wrong("wrong unit", answer, echo, note, units)
    if units and typed.fine and not _listed(question, draw, answer, value, typed.fine, to_the_digit=True):
        # another unit, or a listed slip that is near it: 9550 for 9549.3 newton-millimetres
        return wrong("wrong unit", answer, echo, note, (*units, *causes))
    near = _near_cause(answer, value, key, limit, period, causes)
    if near is not None:
        # rounding on the way is likelier than a slip that happens to come so near
        causes = (*(cause for cause in causes if cause.kind in ("listed slip", "another quantity")), near)
    if causes:
        kinds = [cause.kind for cause in causes]
        kind = next(kind for kind in _FIRST_TOLD if kind in kinds)
        verdict = wrong(kind, answer, echo, note, causes)
    else:
        unsaid = rounded_too_far(answer, value, key, period, typed.fine) or unknown(question, answer)
        sentence = _say(unsaid, note)
        verdict = Verdict("not recognised", False, 0.0, answer.points, echo, note, sentence=sentence)
    # The sign earns its half where there was one to find: a key that is always positive asks for none.
    if (
        answer.signed
        and not answer.modular
        and verdict.points < SIGN_CREDIT * answer.points
        and key * value > 0
        and (key < 0 or (typed.reading.signed and answer.either_sign))
    ):
        verdict.points = SIGN_CREDIT * answer.points
        verdict.note = _join(verdict.note, "the sign is right and earns its half")
        verdict.sentence = f"{verdict.sentence} The sign is right."
    return verdict


def _near_cause(
    answer: Answer, value: float, key: float, limit: float, period: float, causes: Sequence[Cause]
) -> Cause | None:
    """Near the right number: little more off than is allowed, or, where nothing else fits, not of the form.

    Beyond three tolerances, where the precision asked decides, a listed slip or another quantity goes before.
    """
    exact, off = answer.whole or answer.table.preferred, apart(value, key, period)
    likelier = any(cause.kind in ("listed slip", "another quantity") for cause in causes)
    if not exact and off <= CLOSE * (answer.tolerance(key) if likelier else limit):
        sentence = (
            "Close, but outside the tolerance: keep more digits on the way and round once at the end; if that"
            " changes nothing, go through the way once more."
        )
        return Cause("close", "close", sentence, CLOSE_CREDIT, "close")
    if causes:
        return None
    if answer.table.preferred and answer.rounded(value) == key:
        sentence = "Nearly there, but one of the preferred sizes is asked."
        return Cause("not preferred", "not a preferred size", sentence, SIGN_CREDIT, "close")
    if answer.whole and abs(value - key) < 1 and abs(value - round(value)) > 1e-9:
        way = "" if answer.table.whole in (None, "nearest") else f": round it {answer.table.whole}"
        sentence = f"Nearly there, but this answer has to be a whole number{way}."
        return Cause("not whole", "not a whole number", sentence, SIGN_CREDIT, "close")
    return None


_FIRST_TOLD = ("listed slip", "another quantity", "ordinary slip", "close")
_TURNING = {"speed", "angle", "turns", "angular speed"}


def _earned(answer: Answer, draw: Draw, value: float, earlier: list[float]) -> bool:
    """Whether going on from wrong numbers shows anything.

    Zeros, numbers of no likely size and one number everywhere do not. A whole number may be zero: what is
    left over, or a no.
    """
    used, keys = answer.carried_places, draw.keys
    may_be_none = {other.place for other in (answer, *answer.used) if _may_be_none(other)}
    likely = all(
        (not earlier[place] and place in may_be_none)
        or abs(keys[place]) / FARTHEST_CARRIED <= abs(earlier[place]) <= abs(keys[place]) * FARTHEST_CARRIED
        or (not keys[place] and place in may_be_none)
        for place in used
    )
    return (
        (bool(value) or answer.place in may_be_none)
        and likely
        and (answer.signed or value >= 0)
        and not any(value == earlier[place] for place in used)
    )


def _may_be_none(answer: Answer) -> bool:
    return answer.whole and answer.dimension == "number"


# What says a direction by its sign, without being a turning.
_DIRECTIONS = {"direction_factor", "rack_direction", "rack_move"}


def _is_difference(answer: Answer) -> bool:
    """Whether a number is one quantity less another, or a share of that."""
    raw = answer.way.raw
    return any(getattr(part, "is_Add", False) for part in (raw, *getattr(raw, "args", ())))


def _sign_cause(question, answer) -> Cause:
    if answer.modular:
        sentence = "The size is right, the direction is not: counter-clockwise is positive."
    elif not answer.signed:
        sentence = f"The size is right, but the {QUANTITIES[answer.asked].meaning} has no sign."
    elif answer.dimension in _TURNING:
        gears = {
            "pair": ", and two external gears turn opposite ways",
            "internal pair": ", and a gear turns the same way as the ring around it",
            "idler train": ", and every mesh reverses the direction",
            "compound train": ", and every mesh reverses the direction",
        }
        sentence = (
            "The size is right, the direction is not: counter-clockwise counts"
            f" positive{gears.get(question.table.of, '')}."
        )
    elif answer.asked in _DIRECTIONS:
        sentence = "The size is right, the direction is not: follow it from one part to the next."
    elif _is_difference(answer):
        sentence = "The size is right, the sign is not: think about the order in which the two are taken."
    else:
        sentence = "The size is right, the sign is not: nothing here turns it round."
    return Cause("sign", "right size, wrong sign", sentence, SIGN_CREDIT, "wrong sign")


_COARSEST = 0.05  # of the right number; a coarser rounding is no rounding any more


def rounded_too_far(answer: Answer, value: float, key: float, period: float, fine: float) -> str:
    """What to say of a number that is the right one, but rounded to too few digits; "" of any other."""
    if answer.whole or answer.table.preferred or not 0 < fine <= _COARSEST * abs(key):
        return ""
    if apart(value, key, period) > fine * (1 + 1e-9):
        return ""
    return (
        f"{NOT_EXACT} for “{answer.label}”: it may be the right number rounded too far. It is asked"
        f" {precision(answer)}: keep all digits on the way and round once at the end."
    )


def unknown(question: Question, answer: Answer) -> str:
    """That nothing is known of an answer, and the way in words."""
    return (
        f"“{answer.label}” is not right, and we do not recognise the mistake. The way:"
        f" {question.way_in_words(answer)}"
    )


def told_once(question: Question, verdicts: Mapping[str, Verdict]) -> dict[str, str]:
    """The sentences of verdicts that are read one after the other: a way that two share is told once."""
    sentences = {identity: verdict.sentence for identity, verdict in verdicts.items()}
    if len(verdicts) == 1:
        return sentences
    unknown_ones = [identity for identity, verdict in verdicts.items() if verdict.kind == "not recognised"]
    before: list[Answer] = []
    for identity in unknown_ones if len(unknown_ones) > 1 else ():
        answer = question.answer(identity)
        whole = f"The way: {question.way_in_words(answer)}"
        if whole in sentences[identity]:
            once = f"The way: {way_after(answer, before)}"
            sentences[identity] = sentences[identity].replace(whole, once)
            before.append(answer)
    return sentences


def _say(sentence: str, note: str) -> str:
    return f"{sentence} ({note[0].upper()}{note[1:]}.)" if note else sentence


def _join(first: str, second: str) -> str:
    return f"{first}; {second}" if first else second


def wrong(kind: str, answer: Worth, read: str, note: str, causes: Sequence[Cause]) -> Verdict:
    """A verdict with causes: several are all named, and the best credit counts."""
    causes = tuple(causes[:MOST_CAUSES])
    if len(causes) == 1:
        sentence = causes[0].sentence
    else:
        parts = [
            cause.sentence if cause.sentence.endswith((".", "?", "!")) else cause.sentence + "."
            for cause in causes
        ]
        sentence = "More than one slip leads to this number. " + " Or: ".join(parts)
    return Verdict(
        kind,
        False,
        max(cause.credit for cause in causes) * answer.points,
        answer.points,
        read,
        note,
        causes,
        _say(sentence, note),
    )


# -- causes --------------------------------------------------------------------------------------------
def _causes(question, draw, answer, value: float, fine: float, listed: bool) -> tuple[Cause, ...]:
    """Every listed slip, other quantity and ordinary slip that gives this number."""
    slips = question.slips_of(answer)
    causes = _listed(question, draw, answer, value, fine) if listed else []
    if causes:  # the bank's own judgement of what the slip is worth goes before a general one
        worth = max(cause.credit for cause in causes)
        return tuple(
            [
                *causes,
                *(
                    replace(cause, credit=max(worth, cause.credit))
                    for cause in slips.matching(draw, value, fine, True)
                ),
            ][:MOST_CAUSES]
        )
    causes += slips.matching(draw, value, fine, False)
    return tuple(causes[:MOST_CAUSES])


def _listed(question, draw, answer, value: float, fine: float, *, to_the_digit: bool = False) -> list[Cause]:
    """The listed slips that give this number, or that give it to its last typed digit."""
    shown, causes, period = draw.shown, [], answer.period(draw.shown)
    absolute, relative = answer.absolute, answer.relative
    for cause, formula, conditions in question.slips_of(answer).listed:
        try:
            wrong = formula(*shown)
            size = abs(wrong)
            width = min(max(absolute, relative * size), max(fine, FURTHEST * size))
            width = fine * (1 + 1e-9) if to_the_digit else width
            if apart(value, wrong, period) <= width and all(condition(*shown) for condition in conditions):
                causes.append(cause)
        except (ArithmeticError, ValueError):
            continue
    return causes
