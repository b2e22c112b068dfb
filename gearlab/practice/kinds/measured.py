"""Judging a reading: whether it is plausible, and how far it lies from the computed value."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from gearlab.digits import number_text
from gearlab.practice.draw import Draw
from gearlab.practice.judging import NOT_ANSWERED, wrong
from gearlab.practice.typed.reading import Reading, in_unit
from gearlab.practice.verdict import Cause, Verdict
from gearlab.theory.units import MM_PER_INCH, written

if TYPE_CHECKING:
    from gearlab.practice.kinds.reading import ReadingAnswer

__all__ = ["deviation", "judge_reading", "mistaken"]

# What a reading is multiplied with to be plausible: unit asked ("" for any), factor, title, what is told.
_MISTAKEN = (
    (
        "mm",
        MM_PER_INCH,
        "read in inches",
        "That fits if you read it in inches: 1 in is 25.4 mm. Write the unit behind it.",
    ),
    (
        "mm",
        1 / MM_PER_INCH,
        "converted once too often",
        "That fits if a reading in mm was multiplied by 25.4.",
    ),
    (
        "in",
        1 / MM_PER_INCH,
        "read in millimetres",
        "That fits if you read it in mm: 1 in is 25.4 mm. Write the unit behind it.",
    ),
    ("in", MM_PER_INCH, "converted once too often", "That fits if a reading in inches was divided by 25.4."),
    ("deg", 180 / math.pi, "read in radians", "That fits if it is in radians: 180 degrees are pi of them."),
    ("deg", 360.0, "read in turns", "That fits if it is a part of a turn: a whole turn is 360 degrees."),
    (
        "",
        10.0,
        "ten times too small",
        "It is ten times too small: was it in centimetres, or is the point one place off?",
    ),
    ("", 0.1, "ten times too large", "It is ten times too large: is the decimal point one place off?"),
    ("", 2.0, "half as large", "It is half of what it can be: was it a radius, or one side only?"),
    (
        "",
        0.5,
        "twice as large",
        "It is twice what it can be: a diameter for a radius, or both sides for one?",
    ),
)


def judge_reading(
    answer: ReadingAnswer, draw: Draw, reading: Reading, which: int
) -> tuple[Verdict, float | None]:
    """The verdict on a reading, and the reading in the unit asked.

    `which` reading of an ambiguous comma is meant.
    """
    if reading.value is None:
        if reading.empty:
            return Verdict("not answered", False, 0.0, answer.points, sentence=NOT_ANSWERED), None
        return Verdict("cannot read", False, 0.0, answer.points, sentence=reading.problem), None
    if reading.alternatives and which == 1:
        reading = reading.alternatives[1]
    comma = bool(reading.alternatives) and which != 1
    key, echo, asked = draw.keys[answer.place], reading.echo, written(answer.unit) or "a plain number"
    value = in_unit(reading, answer.shown_unit)
    if value is None:
        sentence = f"{written(reading.unit)} measures something else; “{answer.label}” is asked in {asked}."
        cause = Cause("another unit", "a unit of another kind", sentence, 0.0, "wrong unit")
        return wrong("wrong unit", answer, echo, "", (cause,)), None
    notes = [f"converted from {written(reading.unit)}"] if reading.unit not in ("", answer.shown_unit) else []
    if comma:
        notes.append("the comma was taken as a decimal comma")
    if not notes and not answer.shows(value) and answer.plausible(value, key):
        whole = answer.counted and answer.resolution == 1
        finer = f"finer than the {answer.instrument} shows: read it to {answer.step}"
        notes.append("a count is a whole number" if whole else finer)
    if not answer.plausible(value, key):
        causes = mistaken(answer, value, key)
        sentence = " ".join(["This reading is not plausible.", *(cause.sentence for cause in causes)])
        if not causes:
            sentence += f" {_limits(answer, key)} Look at the instrument's zero and scale, and read again."
        kind = "wrong unit" if causes and causes[0].kind == "wrong unit" else "not plausible"
        return Verdict(kind, False, 0.0, answer.points, echo, "", causes, _with(sentence, notes)), value
    told = deviation(answer, value, key)
    points = answer.earned(value, key)
    if points >= answer.points:
        sentence = f"Right. {told[0].upper()}{told[1:]}."
        note = "; ".join([told, *notes])
        return Verdict(
            "right", True, points, answer.points, echo, note, sentence=_with(sentence, notes)
        ), value
    kind = "close" if points else "outside the bands"
    band = f"{number_text(answer.bands[0].within)}{answer.behind}"
    sentence = f"{told[0].upper()}{told[1:]}; within {band} earns all the points."
    return Verdict(kind, False, points, answer.points, echo, sentence=_with(sentence, notes)), value


def deviation(answer: ReadingAnswer, value: float, key: float) -> str:
    """By how much a reading is off, in its unit and in steps of the instrument."""
    off, steps = value - key, (value - key) / answer.resolution
    places = max(0, math.ceil(-math.log10(answer.resolution))) + 1
    size = f"{off:+.{places}f}"
    size = size.rstrip("0").rstrip(".") if "." in size else size
    verb = "counted" if answer.counted else "measured"
    if not any(digit in size for digit in "123456789"):
        return f"{verb} minus computed: 0{answer.behind}"
    many = (
        f"{abs(steps):.0f}" if abs(steps) > 9.95 or abs(steps - round(steps)) < 0.05 else f"{abs(steps):.1f}"
    )
    if answer.counted and answer.resolution == 1:
        return f"{verb} minus computed: {size}{answer.behind}"
    steps_of = f"step{'' if many == '1' else 's'} of the {answer.instrument}"
    return f"{verb} minus computed: {size}{answer.behind}, {many} {steps_of}"


def mistaken(answer: ReadingAnswer, value: float, key: float) -> tuple[Cause, ...]:
    """What would make a plausible reading of one that is not: a unit, a decimal point, a radius."""
    causes = [
        Cause(title, title, told, 0.0, "wrong unit" if unit else "ordinary slip")
        for unit, factor, title, told in _MISTAKEN
        if unit in ("", answer.shown_unit) and answer.plausible(value * factor, key)
    ]
    return tuple(causes[:1])


def _limits(answer: ReadingAnswer, key: float) -> str:
    low, high = answer.limits(key)
    return f"It can lie between {number_text(low, 3)} and {number_text(high, 3)}{answer.behind}."


def _with(sentence: str, notes: list[str]) -> str:
    told = "; ".join(notes)
    return f"{sentence} ({told[0].upper()}{told[1:]}.)" if told else sentence
