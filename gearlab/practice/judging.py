"""Judging a number: right, carried on, or why not; and what every kind of verdict shares."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Protocol

from gearlab.practice.answer import Answer
from gearlab.practice.contract import (
    CLOSE,
    CLOSE_CREDIT,
    OTHER_UNIT_CREDIT,
    SIGN_CREDIT,
    UNIT_CREDIT,
    precision,
)
from gearlab.practice.draw import Draw
from gearlab.practice.precision import apart
from gearlab.practice.typed.reading import Reading
from gearlab.practice.typed.units import A_DIMENSION, UNITS, other_units, unit_in_words
from gearlab.practice.verdict import FURTHEST, NEAREST, Cause, Verdict
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import alike, convertible, written

if TYPE_CHECKING:
    from gearlab.practice.question import Question

__all__ = [
    "NOT_ANSWERED",
    "NOT_EXACT",
    "NO_FORMULA",
    "RIGHT",
    "judge_number",
    "judge_numbers",
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
    """A number that was typed for an answer, in the unit asked, and what it is held against.

    key, period, limit: the right number, the period, how far a right one may be off.
    listed: whether the bank's own slips are recognised too.
    fine: half the last place typed; note: what else to tell.
    scale: how many of the unit asked one of the unit typed is [-].
    """

    draw: Draw
    answer: Answer
    key: float
    period: float
    listed: bool
    reading: Reading
    value: float
    fine: float
    note: str = ""
    scale: float = 1.0
    limit: float = 0.0

    def right(self, sentence: str, carried: bool = False) -> Verdict:
        points, echo, note = self.answer.points, self.reading.echo, self.note
        return Verdict("right", True, points, points, echo, note, (), _say(sentence, note), carried)

    def wrong(self, kind: str, causes: Sequence[Cause]) -> Verdict:
        return wrong(kind, self.answer, self.reading.echo, self.note, causes)


def judge_numbers(
    question: Question, draw: Draw, read: dict[str, Reading], listed: bool, chosen: dict[str, int]
) -> dict[str, Verdict]:
    """The verdicts on numbers that may go on from one another; see `Question.judge`."""
    verdicts: dict[str, Verdict] = {}
    numbers: list[float] = []  # the student's own, or the right ones where none was given
    own_wrong = False
    for place, answer in enumerate(question.answers):
        earlier = numbers if own_wrong and answer.carries else None
        verdict, number = judge_number(
            draw, answer, read[answer.id], listed, chosen.get(answer.id, 0), earlier
        )
        verdicts[answer.id] = verdict
        numbers.append(draw.keys[place] if number is None else number)
        own_wrong = own_wrong or (number is not None and not (verdict.right and not verdict.carried))
    return verdicts


def judge_number(
    draw: Draw,
    answer: Answer,
    reading: Reading,
    listed: bool,
    which: int = 0,
    earlier: list[float] | None = None,
) -> tuple[Verdict, float | None]:
    """The verdict on a number, and the number in the unit asked.

    `which` reading of an ambiguous comma is meant; `earlier` are the student's own numbers, where one of them
    is wrong.
    """
    if reading.value is None:
        if reading.empty:
            return Verdict("not answered", False, 0.0, answer.points, sentence=NOT_ANSWERED), None
        return Verdict("cannot read", False, 0.0, answer.points, sentence=reading.problem), None
    value, key = abs(reading.value) if answer.table.size_only else reading.value, draw.keys[answer.place]
    period = answer.period(draw.shown) if answer.modular else 0.0
    as_asked = not reading.alternatives and (not reading.unit or reading.unit == answer.shown_unit)
    if as_asked and answer.accepts(value, key, period):  # nearly every answer
        return Verdict("right", True, answer.points, answer.points, reading.echo, sentence=RIGHT), value
    typed = _Typed(draw, answer, key, period, listed, reading, value, reading.last_place / 2)
    if not as_asked and (fault := _to_asked_unit(typed, which)):
        return fault, None
    value = typed.value
    if answer.accepts(value, key, period):
        return typed.right(RIGHT), value
    limit = typed.limit = answer.limit(key, period, typed.scale)
    if apart(value, key, period) <= limit and _right_as_asked(typed):
        return typed.right(RIGHT), value
    if earlier is not None:
        follows = answer.consistent(draw.shown, earlier) if _earned(answer, draw, value, earlier) else []
        if any(
            answer.accepts(value, number, period) or answer.rounds_to(value, number, period)
            for number in follows
        ):
            return typed.right(_CARRIED, carried=True), value
    if not answer.table.size_only and apart(-value, key, period) <= limit:
        return typed.wrong("wrong sign", _listed(typed) or [_sign_cause(answer)]), value
    return _not_right(typed), value


def _right_as_asked(typed: _Typed) -> bool:
    """Whether a number outside the tolerance, but within half a unit of what is asked, is right.

    The right number rounded so is right. Another number as near to it is right unless it is that of a listed
    slip or of another quantity: banks that were handed out before precisions were stated have such numbers.
    """
    answer, value = typed.answer, typed.value
    if typed.scale != 1.0 or answer.rounds_to(value, typed.key, typed.period):
        return True
    if _listed(typed):
        return False
    others = answer.question.slips_of(answer).matching(typed.draw, value, typed.fine, False)
    return not any(cause.kind == "another quantity" for cause in others)


def _to_asked_unit(typed: _Typed, which: int) -> Verdict | None:
    """Bring a number to the unit asked; the verdict on a unit that measures something else."""
    answer, notes = typed.answer, []
    if typed.reading.alternatives:
        if which == 1:
            typed.reading = typed.reading.alternatives[1]
        else:
            notes.append("the comma was taken as a decimal comma")
    reading = typed.reading
    value, typed.fine = reading.value or 0.0, reading.last_place / 2
    typed.value = abs(value) if answer.table.size_only else value
    if reading.unit and reading.unit != answer.shown_unit:
        scale = _stated_scale(answer, reading.unit)
        if scale is None:
            causes = [_dimension_cause(answer, reading, answer.accepts(typed.value, typed.key, typed.period))]
            return wrong("wrong unit", answer, reading.echo, "; ".join(notes), causes)
        typed.value, typed.fine, typed.scale = typed.value * scale, typed.fine * scale, scale
        if scale != 1.0:
            notes.append(
                f"converted from {written(reading.unit)} to {written(answer.unit) or 'a plain number'}"
            )
    typed.note = "; ".join(notes)
    return None


def _not_right(typed: _Typed) -> Verdict:
    """The verdict on a number that is neither right nor carried, with its causes."""
    answer, value, key = typed.answer, typed.value, typed.key
    units, causes = _unit_causes(typed), _causes(typed)
    nearest = max(typed.fine * (1 + 1e-9), NEAREST * abs(value))
    if causes and units and not _unit_causes(typed, nearest):
        # a slip to the digit, and a unit that comes near it: the losses of three meshes, and foot-pounds
        causes = tuple(replace(cause, credit=max(cause.credit, units[0].credit)) for cause in causes)
        units = ()
    if units and not any(cause.kind == "listed slip" for cause in causes):  # the bank's own words come first
        return typed.wrong("wrong unit", units)
    if units and typed.fine and not _listed(replace(typed, listed=True), to_the_digit=True):
        # another unit, or a listed slip that is near it: 9550 for 9549.3 newton-millimetres
        return typed.wrong("wrong unit", (*units, *causes))
    near = _near_cause(typed, causes)
    if near is not None:
        # rounding on the way is likelier than a slip that happens to come so near
        causes = (*(cause for cause in causes if cause.kind in ("listed slip", "another quantity")), near)
    if causes:
        kinds = [cause.kind for cause in causes]
        verdict = typed.wrong(next(kind for kind in _FIRST_TOLD if kind in kinds), causes)
    else:
        sentence = _say(_rounded_too_far(typed) or unknown(answer), typed.note)
        echo = typed.reading.echo
        verdict = Verdict("not recognised", False, 0.0, answer.points, echo, typed.note, sentence=sentence)
    # The sign earns its half where there was one to find: a key that is always positive asks for none.
    if (
        answer.signed
        and not answer.modular
        and verdict.points < SIGN_CREDIT * answer.points
        and key * value > 0
        and (key < 0 or (typed.reading.signed and answer.either_sign))
    ):
        verdict.points = SIGN_CREDIT * answer.points
        verdict.note = "; ".join(filter(None, (verdict.note, "the sign is right and earns its half")))
        verdict.sentence = f"{verdict.sentence} The sign is right."
    return verdict


def _near_cause(typed: _Typed, causes: Sequence[Cause]) -> Cause | None:
    """Near the right number: little more off than is allowed, or, where nothing else fits, not of the form.

    Beyond three tolerances, where the precision asked decides, a listed slip or another quantity goes before.
    """
    answer, value, key = typed.answer, typed.value, typed.key
    exact, off = answer.whole or answer.table.preferred, apart(value, key, typed.period)
    likelier = any(cause.kind in ("listed slip", "another quantity") for cause in causes)
    if not exact and off <= CLOSE * (answer.tolerance(key) if likelier else typed.limit):
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


def _sign_cause(answer: Answer) -> Cause:
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
            f" positive{gears.get(answer.question.table.of, '')}."
        )
    elif answer.asked in _DIRECTIONS:
        sentence = "The size is right, the direction is not: follow it from one part to the next."
    elif _is_difference(answer):
        sentence = "The size is right, the sign is not: think about the order in which the two are taken."
    else:
        sentence = "The size is right, the sign is not: nothing here turns it round."
    return Cause("sign", "right size, wrong sign", sentence, SIGN_CREDIT, "wrong sign")


_COARSEST = 0.05  # of the right number; a coarser rounding is no rounding any more


def _rounded_too_far(typed: _Typed) -> str:
    """What to say of a number that is the right one, but rounded to too few digits; "" of any other."""
    answer, key, fine = typed.answer, typed.key, typed.fine
    if answer.whole or answer.table.preferred or not 0 < fine <= _COARSEST * abs(key):
        return ""
    if apart(typed.value, key, typed.period) > fine * (1 + 1e-9):
        return ""
    return (
        f"{NOT_EXACT} for “{answer.label}”: it may be the right number rounded too far. It is asked"
        f" {precision(answer)}: keep all digits on the way and round once at the end."
    )


def unknown(answer: Answer) -> str:
    """That nothing is known of an answer, and the way in words."""
    return (
        f"“{answer.label}” is not right, and we do not recognise the mistake. The way:"
        f" {answer.question.way_in_words(answer)}"
    )


def _say(sentence: str, note: str) -> str:
    return f"{sentence} ({note[0].upper()}{note[1:]}.)" if note else sentence


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
def _causes(typed: _Typed) -> tuple[Cause, ...]:
    """Every listed slip, other quantity and ordinary slip that gives this number."""
    causes = _listed(typed)
    slips = typed.answer.question.slips_of(typed.answer)
    others = slips.matching(typed.draw, typed.value, typed.fine, bool(causes))
    if causes:  # the bank's own judgement of what the slip is worth goes before a general one
        worth = max(cause.credit for cause in causes)
        others = [replace(cause, credit=max(worth, cause.credit)) for cause in others]
    return tuple([*causes, *others][:MOST_CAUSES])


def _listed(typed: _Typed, *, to_the_digit: bool = False) -> list[Cause]:
    """The listed slips that give this number, or that give it to its last typed digit."""
    answer, shown, fine, causes = typed.answer, typed.draw.shown, typed.fine, list[Cause]()
    absolute, relative = answer.absolute, answer.relative
    for cause, formula, conditions in answer.question.slips_of(answer).listed if typed.listed else ():
        try:
            number = formula(*shown)
            size = abs(number)
            width = min(max(absolute, relative * size), max(fine, FURTHEST * size))
            width = fine * (1 + 1e-9) if to_the_digit else width
            near = apart(typed.value, number, typed.period) <= width
            if near and all(condition(*shown) for condition in conditions):
                causes.append(cause)
        except (ArithmeticError, ValueError):
            continue
    return causes


# -- units ---------------------------------------------------------------------------------------------
def _stated_scale(answer: Answer, unit: str) -> float | None:
    """How many units asked make one unit typed [-]; None where it measures something else.

    A speed may be told in rad/s and an angle in turns, but not where the question gives one of that kind:
    then going from one to the other is part of what is asked.
    """
    dimension = UNITS[unit].dimension
    if not alike(dimension, answer.dimension):
        question = answer.question
        if any(UNITS[question.unit(name)].dimension == dimension for name in question.known_names):
            return None
    return convertible(UNITS[unit], UNITS[answer.shown_unit])


def _dimension_cause(answer: Answer, reading: Reading, right: bool) -> Cause:
    """A unit of another dimension was typed; `right` says whether the number would be right."""
    measures, unit = A_DIMENSION[UNITS[reading.unit].dimension], reading.unit
    first = (
        f"The number is right, but {unit} is a unit of {measures.split(' ', 1)[1]}:"
        if right
        else f"{unit} measures {measures}, but"
    )
    sentence = (
        f"{first} the {QUANTITIES[answer.asked].meaning} is {A_DIMENSION[answer.dimension]},"
        f" {unit_in_words(answer.shown_unit)}."
    )
    return Cause("dimension", "a unit of another kind", sentence, UNIT_CREDIT if right else 0.0, "wrong unit")


def _unit_causes(typed: _Typed, nearest: float = math.inf) -> tuple[Cause, ...]:
    """The number would be right in another unit of the same dimension, within the limit.

    nearest: how far off the number itself may be at most, in the unit it is taken for.
    """
    answer, reading, value, key = typed.answer, typed.reading, typed.value, typed.key
    if reading.unit and reading.unit != answer.shown_unit:  # typed a unit: was it only the wrong name?
        number = reading.value or 0.0
        if not answer.reaches(abs(number) if answer.table.size_only else number, key, typed.period):
            return ()
        title, sentence = (
            "right number, wrong unit typed",
            (
                f"The number is right {unit_in_words(answer.shown_unit)}, but the unit typed behind it is"
                f" “{reading.unit}”."
            ),
        )
        return (Cause("unit name", title, sentence, UNIT_CREDIT, "wrong unit"),)
    if answer.accepts(0.0, key, typed.period):
        return ()  # in a unit that is small enough any number is near a key of zero
    for name, scale in other_units(answer.dimension, answer.shown_unit):
        within = min(typed.limit, nearest * scale)
        turned = answer.signed and abs(value * scale + key) <= within
        if turned or abs(value * scale - key) <= within:
            shown, credit = unit_in_words(name), UNIT_CREDIT if reading.unit else OTHER_UNIT_CREDIT
            wanted = unit_in_words(answer.shown_unit)
            sentence = (
                f"Your number is the {QUANTITIES[answer.asked].meaning} {shown}; the question asks"
                f" for it {wanted}.{' And the sign is not right.' if turned else ''}"
            )
            return (Cause(f"in {name}", f"answer {shown}", sentence, credit, "wrong unit"),)
    return ()
