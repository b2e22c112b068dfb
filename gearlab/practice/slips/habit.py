"""Slips of the trade: wrong ways that many go with gears, trains and roundings, whatever the question."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import sympy as sp

from gearlab.practice.slips.variation import USUAL_ANGLE, Slip, Step, Way, slip
from gearlab.theory import derive
from gearlab.theory.functions import common_factor, common_multiple
from gearlab.theory.quantities import QUANTITIES, SIDES, split_side
from gearlab.theory.scope import symbol
from gearlab.theory.systems import system

__all__ = ["habits"]

_OLDER_ANGLE = 14.5  # deg; the older full-depth system, with other proportions


def habits(way: Way) -> Iterator[Slip]:
    """Every such slip on the way to an answer."""
    for maker in (
        _gears_exchanged,
        _tips,
        _speeds,
        _middle_gears,
        _one_too_many,
        _older_teeth,
        _half_converted,
        _pi_as_three,
        _opening_shared,
    ):
        yield from maker(way)


def _teeth(way: Way) -> list[str]:
    return [word for word in (f"{side}teeth" for side in way.sides) if word in way.given]


def _gears_exchanged(way: Way) -> Iterator[Slip]:
    for first, second in itertools.combinations(_teeth(way), 2):
        side, opposite = (SIDES[split_side(word)[0]][1] for word in (first, second))
        edits = {
            word: symbol(other) for word, other in ((first, second), (second, first)) if word in way.inputs
        }
        title, sentence = (
            f"exchanged {side[4:]} and {opposite[4:]}",
            f"You exchanged {side} and {opposite}. {way.says()}",
        )
        yield slip(1.5, "gears exchanged", title, sentence, 0.5, edits, steps=way.steps)


def _tips(way: Way) -> Iterator[Slip]:
    if way.table.tooth_system != "full depth":
        return  # two teeth's worth are two addenda of a full-depth tooth
    if any(step.expression.has(common_factor, common_multiple) for step in way.steps):
        return  # which teeth meet is counted, not measured
    edits = {word: symbol(word) + 2 for word in way.inputs if word in _teeth(way)}
    # the tips of a ring lie inside its pitch circle
    rings = {"ring_teeth"} | ({"driven_teeth"} if way.table.of.startswith("internal") else set())
    if not edits or rings & set(edits):
        return
    if len(edits) == 1 and way.answer.dimension == "angle":
        return  # a share of a turn: no circle is wide there
    if any(word.endswith("outside_diameter") for word in way.given):  # the tips it is to be, and two more
        sentence = f"You counted two teeth's worth too many. {way.says()}"
        yield slip(2.0, "tips", "two teeth too many", sentence, 0.25, edits, steps=way.steps)
        return
    s = "s" if len(edits) > 1 else ""
    sentence = (
        f"You used the outside diameter{s}, two teeth's worth too wide; tips do not roll on each other, pitch"
        f" circles do. {way.says()}"
    )
    yield slip(2.0, "tips", f"used the outside diameter{s}", sentence, 0.25, edits, steps=way.steps)
    if way.answer.dimension != "length" or len(edits) == 1:
        return
    for word, put in edits.items():
        of = SIDES[split_side(word)[0]][1]
        title = f"used the outside diameter of {of}"
        sentence = f"You used the outside diameter of {of}, two teeth's worth too wide. {way.says()}"
        yield slip(2.02, "tips of one", title, sentence, 0.25, {word: put}, steps=way.steps)


def _speeds(way: Way) -> Iterator[Slip]:
    teeth = symbol("driven_teeth") - symbol("driver_teeth")
    if way.answer.dimension == "speed" and {"driver_speed", "driver_teeth", "driven_teeth"} <= set(
        way.inputs
    ):
        sentence = f"Speeds do not differ by the difference of the teeth. {way.says()}"
        direction = -1 if way.answer.signed and way.table.of == "pair" else 1
        edits = {way.asked: direction * (symbol("driver_speed") - teeth)}
        yield slip(3.2, "difference", "subtracted the tooth difference", sentence, 0.0, edits)
    ratio = next((step for step in way.steps if step.word == "ratio"), None)
    if ratio is not None:
        sentence = "You applied the ratio twice; one mesh applies it once."
        edits = {"ratio": ratio.expression**2}
        yield slip(1.95, "ratio twice", "applied the ratio twice", sentence, 0.0, edits, steps=way.steps)


def _middle_gears(way: Way) -> Iterator[Slip]:
    """Two gears on one shaft treated as if they were one: only the first and the last count then."""
    if way.table.of == "compound train" and {"second_teeth", "third_teeth"} <= set(way.inputs):
        sentence = (
            "You counted the two gears on the middle shaft as one: they have different counts, and do not"
            f" cancel. {way.says()}"
        )
        edits, title = {"third_teeth": symbol("second_teeth")}, "took the two gears on one shaft for one"
        yield slip(1.55, "middle gears", title, sentence, 0.25, edits, steps=way.steps)


def _one_too_many(way: Way) -> Iterator[Slip]:
    """A given of the same dimension that does not come in, added or taken off."""
    used = set().union(*(step.words for step in way.steps))
    last = way.steps[-1]
    if way.answer.dimension != "length" or last.word != way.asked:
        return
    for word in way.given:
        if word in used or word == way.asked or QUANTITIES[word].dimension != "length":
            continue
        what = QUANTITIES[word].meaning
        for sign, done in ((1, "added"), (-1, "taken off")):
            edits = {way.asked: last.expression + sign * symbol(word)}
            sentence = f"You have {done} the {what}, which does not come in here. {way.says()}"
            yield slip(2.3, f"{done} {word}", f"{what} {done}", sentence, 0.25, edits, steps=way.steps)


def _older_teeth(way: Way) -> Iterator[Slip]:
    """Proportions of the older 14.5 degree full-depth tooth."""
    if way.table.tooth_system != "full depth" or way.answer.dimension not in ("length", "pitch"):
        return
    angles = way.question.grids.get("pressure_angle")
    if angles is not None and set(angles.values) != {USUAL_ANGLE}:
        return  # another tooth than the sentence names may be meant
    known = [word for word in way.given if not way.numbers or word in way.question.known_names]
    steps = way.following(known, _OLDER_ANGLE)
    if way.asked not in {step.word for step in steps}:  # not by one equation after another: theory's way
        try:
            row = system("full depth", _OLDER_ANGLE)
            table = way.table
            older = derive(way.asked, known, table.notation, row, table.of, table.length_unit, table.features)
            steps = (Step(way.asked, older.raw),)
        except (KeyError, ValueError):
            return
    sentence = (
        "These are the proportions of the older 14.5 degree tooth; here the 20 degree full-depth tooth is"
        f" used. {way.says()}"
    )
    title = "used an older tooth system"
    yield slip(2.2, "older tooth system", title, sentence, 0.5, steps=steps)


def _half_converted(way: Way) -> Iterator[Slip]:
    """Only one of two terms converted between inches and millimetres."""
    lengths = {"mm", "in"}
    last = way.steps[-1]
    if (
        way.answer.dimension != "length"
        or way.answer.shown_unit == way.table.length_unit
        or way.answer.shown_unit not in lengths
        or not last.expression.is_Add
    ):
        return
    for term in last.expression.args:
        put = term + (last.expression - term) / way.answer.out_factor
        sentence = "You converted only one part: both must be in the same unit before they are added."
        title = "converted only one part"
        yield slip(2.3, "half converted", title, sentence, 0.25, {way.asked: put}, steps=way.steps)


def _pi_as_three(way: Way) -> Iterator[Slip]:
    edits = {
        step.word: step.expression.xreplace({sp.pi: sp.Integer(3)})
        for step in way.steps
        if step.expression.has(sp.pi)
    }
    if edits:
        sentence = "You took pi as 3: use the calculator's pi."
        yield slip(2.1, "pi as 3", "took pi as 3", sentence, 0.5, edits, steps=way.steps)


def _opening_shared(way: Way) -> Iterator[Slip]:
    """The opening of a centre distance shared equally, or given to one gear, not by the counts."""
    if "centre_distance" not in way.inputs or "operating_pitch" not in way.asked:
        return
    side = split_side(way.asked)[0]
    standard = sum(symbol(f"{gear}_pitch_radius") for gear in ("driver", "driven"))
    for share, called in ((sp.Rational(1, 2), "half of"), (sp.Integer(1), "all of")):
        size = 2 if way.asked.endswith("diameter") else 1
        put = size * (symbol(f"{side}pitch_radius") + share * (symbol("centre_distance") - standard))
        sentence = (
            f"You gave {called} the opening to this gear: both circles grow in proportion. {way.says()}"
        )
        name = f"{called} the opening"
        yield slip(2.0, name, f"added {called} the opening", sentence, 0.25, {way.asked: put})
