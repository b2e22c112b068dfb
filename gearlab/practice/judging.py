"""Judging: what happened to the typed answers of a question."""

from __future__ import annotations

from dataclasses import replace

from gearlab.practice.answer import apart
from gearlab.practice.cause import Cause
from gearlab.practice.number import read_number
from gearlab.practice.otherunit import dimension_cause, unit_causes
from gearlab.practice.reading import LONGEST, read_choice, read_expression
from gearlab.practice.verdict import FURTHEST, Verdict
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import UNITS, written

__all__ = ["judge"]

CLOSE = 3.0  # tolerances within which a wrong number is called close
CLOSE_CREDIT = 0.75
SIGN_CREDIT = 0.5
# how many times too large or too small an own earlier number may be and still be carried on
FARTHEST_CARRIED = 100.0
MOST_CAUSES = 3


# -- judging -------------------------------------------------------------------------------------------
def judge(question, draw, texts: dict, listed: bool, chosen: dict) -> dict[str, Verdict]:
    """Judge the typed answers of one question; see `Question.judge`."""
    if question.kind == "design":
        return question.design.judge(draw, texts, chosen)
    if question.kind == "choice":
        return {"choice": _choice(question, draw, _text(texts, "choice"))}
    if question.kind == "expression":
        return {
            answer.id: _expression(question, answer, place, _text(texts, answer.id), listed)
            for place, answer in enumerate(question.answers)
        }
    verdicts: dict[str, Verdict] = {}
    numbers: list[float] = []  # the student's own, or the right ones where none was given
    own_wrong = False
    for place, answer in enumerate(question.answers):
        text = _text(texts, answer.id)
        verdict, number = _number(
            question,
            draw,
            answer,
            place,
            text,
            listed,
            chosen.get(answer.id, 0),
            numbers if own_wrong and answer.carries else None,
        )
        verdicts[answer.id] = verdict
        numbers.append(draw.keys[place] if number is None else number)
        own_wrong = own_wrong or (number is not None and not (verdict.right and not verdict.carried))
    return verdicts


def _text(texts: dict, name: str) -> str:
    text = texts.get(name)
    if text is None:
        return ""
    return text if isinstance(text, str) else str(text)[: LONGEST + 1]


_NOT_ANSWERED = "Nothing was typed here."
_RIGHT = "Right."


def _number(  # noqa: C901
    question, draw, answer, place: int, text: str, listed: bool, which: int, earlier: list | None
) -> tuple[Verdict, float | None]:
    """The verdict on a number, and the number in the unit asked."""
    asked = answer.shown_unit
    reading = read_number(text, asked)
    if reading.value is None:
        if reading.empty:
            return Verdict("not answered", False, 0.0, answer.points, sentence=_NOT_ANSWERED), None
        return Verdict("cannot read", False, 0.0, answer.points, sentence=reading.problem), None
    notes = []
    if reading.alternatives:
        if which == 1:
            reading = reading.alternatives[1]
        else:
            notes.append("the comma was taken as a decimal comma")
    key, period = draw.keys[place], answer.period(draw.shown)
    value, fine = reading.value, reading.last_place / 2
    if reading.unit and reading.unit != asked:
        typed, wanted = UNITS[reading.unit], UNITS[asked]
        if typed.dimension != wanted.dimension and not ({typed.dimension, wanted.dimension} <= _COUNTING):
            right = answer.accepts(abs(value) if answer.table.size_only else value, key, period)
            return (
                _wrong(
                    "wrong unit",
                    answer,
                    reading.echo,
                    "; ".join(notes),
                    (dimension_cause(answer, reading, right),),
                ),
                None,
            )
        scale = typed.size / wanted.size
        value, fine = value * scale, fine * scale
        if scale != 1.0:
            notes.append(
                f"converted from {written(reading.unit)} to {written(answer.unit) or 'a plain number'}"
            )
    if answer.table.size_only:
        value = abs(value)
    read = reading.echo
    note = "; ".join(notes)
    if answer.accepts(value, key, period):
        return (
            Verdict("right", True, answer.points, answer.points, read, note, sentence=_say(_RIGHT, note)),
            value,
        )
    if not answer.table.size_only and answer.accepts(-value, key, period):
        said = _listed(question, draw, answer, value, fine) if listed else []
        return _wrong("wrong sign", answer, read, note, said or (_sign_cause(question, answer),)), value
    if earlier is not None:
        carried = _carried(answer, draw, earlier)
        if (
            carried is not None
            and _earned(answer, value, earlier, draw.keys)
            and answer.accepts(value, carried, period)
        ):
            return (
                Verdict(
                    "right",
                    True,
                    answer.points,
                    answer.points,
                    read,
                    note,
                    carried=True,
                    sentence=_say(
                        "Right with your own earlier number, which was not right: this step earns its"
                        " points.",
                        note,
                    ),
                ),
                value,
            )
    units = unit_causes(answer, reading, value, key, period)
    causes = _causes(question, draw, answer, place, value, fine, listed)
    if units and not any(cause.kind == "listed slip" for cause in causes):  # the bank's own words come first
        return _wrong("wrong unit", answer, read, note, units), value
    if apart(value, key, period) <= CLOSE * answer.tolerance(key) and not (
        answer.whole or answer.table.preferred
    ):
        causes = (
            *causes,
            Cause(
                "close",
                "close",
                "Close, but outside the tolerance: keep more digits on the way and round once at the end.",
                CLOSE_CREDIT,
                "close",
            ),
        )
    elif not causes and answer.table.preferred and answer.rounded(value) == key:
        causes = (
            Cause(
                "not preferred",
                "not a preferred size",
                "Nearly there, but one of the preferred sizes is asked.",
                SIGN_CREDIT,
                "close",
            ),
        )
    elif not causes and answer.whole and abs(value - key) < 1 and abs(value - round(value)) > 1e-9:
        causes = (
            Cause(
                "not whole",
                "not a whole number",
                "Nearly there, but this answer has to be a whole number"
                f"{'' if answer.table.whole in (None, 'nearest') else ': round it ' + answer.table.whole}.",
                SIGN_CREDIT,
                "close",
            ),
        )
    if causes:
        kind = next(
            kind
            for kind in ("listed slip", "another quantity", "ordinary slip", "close")
            if any(c.kind == kind for c in causes)
        )
        verdict = _wrong(kind, answer, read, note, causes)
    else:
        verdict = Verdict(
            "not recognised",
            False,
            0.0,
            answer.points,
            read,
            note,
            sentence=_say(_unknown(question, answer), note),
        )
    # The sign earns its half where there was one to find: a key that is always positive asks for none.
    if (
        answer.signed
        and not answer.modular
        and verdict.points < SIGN_CREDIT * answer.points
        and key * value > 0
        and (key < 0 or (reading.signed and answer.either_sign))
    ):
        verdict = replace(
            verdict,
            points=SIGN_CREDIT * answer.points,
            note=_join(verdict.note, "the sign is right and earns its half"),
            sentence=f"{verdict.sentence} The sign is right.",
        )
    return verdict, value


_COUNTING = {"count", "number", "turns"}
_TURNING = {"speed", "angle", "turns", "angular speed"}


def _earned(answer, value: float, earlier: list, keys: tuple) -> bool:
    """Whether going on from wrong numbers shows anything.

    Noughts, numbers of no likely size and one number everywhere do not.
    """
    used = answer.used_places or range(len(earlier))
    likely = all(
        abs(keys[place]) / FARTHEST_CARRIED <= abs(earlier[place]) <= abs(keys[place]) * FARTHEST_CARRIED
        for place in used
    )
    return (
        bool(value)
        and likely
        and (answer.signed or value > 0)
        and not any(value == earlier[place] for place in used)
    )


def _carried(answer, draw, earlier: list) -> float | None:
    try:
        return answer.carried(draw.shown, earlier)
    except (ArithmeticError, ValueError):
        return None


def _sign_cause(question, answer) -> Cause:
    if answer.modular:
        sentence = "The size is right, the direction is not: counter-clockwise counts positive."
    elif not answer.signed:
        sentence = f"The size is right, but the {QUANTITIES[answer.asked].meaning} has no sign."
    elif answer.dimension in _TURNING:
        gears = {
            "pair": ", and two external gears turn opposite ways",
            "internal pair": ", and a gear turns the same way as the ring around it",
            "idler train": ", and every mesh turns the direction round",
            "compound train": ", and every mesh turns the direction round",
        }
        sentence = (
            "The size is right, the direction is not: counter-clockwise counts"
            f" positive{gears.get(question.table.of, '')}."
        )
    else:
        sentence = "The size is right, the sign is not: think about the order in which the two are taken."
    return Cause("sign", "right size, wrong sign", sentence, SIGN_CREDIT, "wrong sign")


def _unknown(question, answer) -> str:
    return (
        f"Not right for “{answer.label}”, and it matches no known slip. The way:"
        f" {question.way_in_words(answer)}"
    )


def _say(sentence: str, note: str) -> str:
    return f"{sentence} ({note[0].upper()}{note[1:]}.)" if note else sentence


def _join(one: str, two: str) -> str:
    return f"{one}; {two}" if one else two


def _wrong(kind: str, answer, read: str, note: str, causes) -> Verdict:
    """A verdict with causes: several are all named, and the smallest credit counts."""
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
        min(cause.credit for cause in causes) * answer.points,
        answer.points,
        read,
        note,
        causes,
        _say(sentence, note),
    )


# -- causes --------------------------------------------------------------------------------------------
def _causes(question, draw, answer, place: int, value: float, fine: float, listed: bool) -> tuple[Cause, ...]:
    """Every listed slip, other quantity and ordinary slip that gives this number."""
    slips = question.slips_of(answer)
    found = _listed(question, draw, answer, value, fine) if listed else []
    if found:  # the bank's own judgement of what the slip is worth goes before a general one
        worth = min(cause.credit for cause in found)
        return tuple(
            [
                *found,
                *(
                    replace(cause, credit=max(worth, cause.credit))
                    for cause in slips.matching(draw, value, fine, True)
                ),
            ][:MOST_CAUSES]
        )
    found += slips.matching(draw, value, fine, False)
    return tuple(found[:MOST_CAUSES])


def _listed(question, draw, answer, value: float, fine: float) -> list[Cause]:
    """The listed slips that give this number."""
    shown, found, period = draw.shown, [], answer.period(draw.shown)
    for cause, formula, conditions in question.slips_of(answer).listed:
        try:
            wrong = formula(*shown)
            width = min(answer.tolerance(wrong), max(fine, FURTHEST * abs(wrong)))
            if apart(value, wrong, period) <= width and all(condition(*shown) for condition in conditions):
                found.append(cause)
        except (ArithmeticError, ValueError):
            continue
    return found


# -- expressions and choices ---------------------------------------------------------------------------
def _expression(question, answer, place: int, text: str, listed: bool) -> Verdict:
    reading = read_expression(text, answer.symbols)
    if reading.empty:
        return Verdict("not answered", False, 0.0, answer.points, sentence=_NOT_ANSWERED)
    if reading.problem:
        return Verdict("cannot read", False, 0.0, answer.points, sentence=reading.problem)
    points = question.points_of_comparison
    mine = [reading.expression.value(point) for point in points]
    read = reading.echo
    if None in mine:
        return Verdict(
            "cannot read",
            False,
            0.0,
            answer.points,
            read,
            sentence="This expression has no value for ordinary numbers: is something divided by zero?",
        )
    slips = question.slips_of(answer)
    for kind, causes in slips.agreeing(points, mine, listed):
        if kind == "right":
            return Verdict("right", True, answer.points, answer.points, read, sentence=_RIGHT)
        return _wrong(kind, answer, read, "", tuple(causes))
    return Verdict("not recognised", False, 0.0, answer.points, read, sentence=_unknown(question, answer))


def _choice(question, draw, text: str) -> Verdict:
    answer = question.answers[0]
    reading = read_choice(text, len(draw.order))
    if reading.empty:
        return Verdict("not answered", False, 0.0, answer.points, sentence="Nothing was chosen here.")
    if reading.problem:
        return Verdict("cannot read", False, 0.0, answer.points, sentence=reading.problem)
    options = question.table.options
    chosen = [draw.order[place] for place in reading.choices]
    right = {place for place, option in enumerate(options) if option.right}
    read = reading.echo
    if set(chosen) == right:
        said = " ".join(options[one].says for one in chosen if options[one].says)
        return Verdict(
            "right",
            True,
            answer.points,
            answer.points,
            read,
            sentence=f"Right. {question.filled(said, draw)}".strip(),
        )
    if len(chosen) > 1 and not answer.several:
        return Verdict(
            "cannot read",
            False,
            0.0,
            answer.points,
            read,
            sentence="More than one option was chosen; choose one.",
        )
    wrong = [one for one in chosen if one not in right]
    if wrong:
        said = options[wrong[0]].says or "This one does not fit."
        cause = Cause(
            f"option {wrong[0] + 1}", options[wrong[0]].text, question.filled(said, draw), 0.0, "listed slip"
        )
    else:
        cause = Cause(
            "incomplete",
            "not all that fit",
            "What you chose fits, but it is not all that fits.",
            0.0,
            "listed slip",
        )
    return _wrong("listed slip", answer, read, "", (cause,))
