"""Quantities that stand near one another in a student's mind, and the slips of taking one for another."""

from __future__ import annotations

from collections.abc import Iterator

import sympy as sp

from gearlab.practice.slips.variation import USUAL_ANGLE, Slip, Step, Way, asked_beside, shown, slip
from gearlab.theory import derive
from gearlab.theory.quantities import QUANTITIES, SIDES, split_side

__all__ = ["alike", "met_early", "neighbours", "siblings"]

# Quantities taken for one another, without the prefix of the gear.
SIBLINGS = (
    ("pitch_diameter", "outside_diameter", "root_diameter", "base_diameter"),
    ("pitch_radius", "outside_radius", "root_radius", "base_radius"),
    ("addendum", "dedendum"),
    ("whole_depth", "working_depth"),
    ("circular_pitch", "base_pitch"),
    ("tooth_thickness", "circular_pitch"),
    ("module", "circular_pitch"),
)
# The same, less often.
COUSINS = (
    ("point_radius", "pitch_radius", "base_radius", "outside_radius"),
    ("module", "pitch_diameter"),
    ("cone_distance", "pitch_diameter", "pitch_radius"),
    ("sun_teeth", "planet_teeth", "ring_teeth"),
    ("base_pitch", "circular_pitch"),
    ("pitch_radius", "pitch_diameter"),
    ("base_radius", "base_diameter"),
    ("outside_radius", "outside_diameter"),
    ("pressure_angle", "operating_pressure_angle"),
    ("centre_distance", "reference_centre_distance"),
)
# Whose rule may be taken for one's own: outside for inside, spur for bevel.
OTHER_KIND = {"internal pair": "pair", "pair": "internal pair", "bevel pair": "pair"}
OTHER_NAME = {"cone_distance": "centre_distance", "ring_outside_diameter": "outside_diameter"}

_SHORT = 3  # steps up to which a quantity of the first lessons may well be given for the one asked

_EARLY = frozenset(
    {
        *("teeth", "pitch_diameter", "base_diameter", "outside_diameter", "root_diameter", "pitch_radius"),
        *("outside_radius", "root_radius", "pitch_circumference", "circular_pitch", "base_pitch", "module"),
        *("diametral_pitch", "addendum", "dedendum", "whole_depth", "working_depth", "clearance"),
        *("tooth_thickness", "centre_distance", "ratio", "speed", "turns", "angle", "angular_speed"),
        *("pitch_line_speed", "mesh_frequency", "common_factor", "tooth_difference", "teeth_lowest"),
        *("turns_to_repeat", "spaces_met", "share_of_spaces"),
    }
)
# between two gears hardly anybody gives these for what is asked
_RARE_OF_A_PAIR = frozenset(
    {"root_diameter", "root_radius", "outside_radius", "pitch_circumference", "base_diameter"}
)


def alike(word: str, other: str) -> bool:
    """Whether two quantities are the same of another gear, or begin with the same two words.

    >>> alike("driver_limit_radius", "driven_limit_radius"), alike("addendum", "module")
    (True, False)
    >>> alike("least_teeth_with_rack", "least_teeth_with_equal")
    True
    """
    parts = [[part for part in name.split("_") if part not in SIDES] for name in (word, other)]
    return parts[0] == parts[1] or (len(parts[0]) > 2 and parts[0][:2] == parts[1][:2])


def _kindred(word: str, other: str) -> bool:
    """Whether two quantities are the same thing of other parts: torque of ring and carrier."""
    return word.split("_")[-1] == other.split("_")[-1]


def met_early(word: str) -> bool:
    """Whether every student meets a quantity in the first lessons, so that a wrong answer may well be it.

    >>> met_early("driven_outside_diameter"), met_early("driver_interference_margin")
    (True, False)
    """
    return split_side(word)[1] in _EARLY


def neighbours(way: Way) -> Iterator[Slip]:
    """Another quantity given as the answer, or the answer of a neighbouring rule."""
    for maker in (_givens_copied, _other_quantities, _misread_givens, _other_rule, _others_asked):
        yield from maker(way)


def _givens_copied(way: Way) -> Iterator[Slip]:
    for word in way.given:
        if word == way.asked:
            continue
        what = f"the {QUANTITIES[word].meaning}"
        if word in way.question.known_names or not way.numbers:
            sentence = f"That is {what}, which was given. {way.says()}"
        else:
            asked = QUANTITIES[way.asked].meaning
            sentence = f"That is {what} again; here the question asks for the {asked}. {way.says()}"
        same = way.like(word, way.asked)
        turn = None if same else shown(word)
        edits = {way.asked: sp.Symbol(word)} if same else {}
        rank = 1.0 if same else 4.5
        yield slip(rank, word, f"gave {what}", sentence, 0.0, edits, turn=turn, kind="another quantity")


def _other_quantities(way: Way) -> Iterator[Slip]:
    asked, steps = QUANTITIES[way.asked].meaning, {step.word for step in way.steps}
    for word in dict.fromkeys([*way.beside, *(step.word for step in way.right)]):
        if word in way.given or word == way.asked or word in way.carried:
            continue
        what = f"the {QUANTITIES[word].meaning}"
        sentence = f"That is {what}; the question asks for the {asked}. {way.says()}"
        if not way.like(word, way.asked):
            if word in steps and not way.answer.modular:
                yield _stopped_early(way, word, sentence)
            continue
        if word in steps:
            rank = 1.02
        elif met_early(word) or alike(word, way.asked):
            rank = 1.05 if len(steps) <= _SHORT else 1.72
            if len(way.sides) > 1 and split_side(word)[1] in _RARE_OF_A_PAIR:
                rank = max(rank, 2.05)
        elif _kindred(word, way.asked):
            rank = 2.1
        else:
            continue
        if "base" in word and "pressure_angle" not in way.given:
            rank += 1.0  # nobody goes to the base circle without an angle
        yield slip(
            rank + way.answer.modular,
            word,
            f"gave {what}",
            sentence,
            0.25,
            {way.asked: sp.Symbol(word)},
            kind="another quantity",
        )


def _stopped_early(way: Way, word: str, sentence: str) -> Slip:
    """A step of another dimension given as the answer, in theory's unit (N, mm, rpm, plain numbers)."""
    what = f"the {QUANTITIES[word].meaning}"
    turn = sp.Symbol(word) * (180 / sp.pi if QUANTITIES[word].dimension == "angle" else 1)
    return slip(3.2, word, f"gave {what}", sentence, 0.25, turn=turn, kind="another quantity")


def siblings(way: Way) -> Iterator[Slip]:
    """A quantity on the way taken for one of its siblings."""
    for group, rank in (*((group, 1.6) for group in SIBLINGS), *((group, 2.35) for group in COUSINS)):
        for base in group:
            for other in group:
                if other != base:
                    yield from _sibling_taken(way, base, other, rank)


def _sibling_taken(way: Way, base: str, other: str, rank: float) -> Iterator[Slip]:
    words = set().union(*(step.words for step in way.steps))
    edits = {
        side + base: sp.Symbol(side + other)
        for side in way.sides
        if side + base in words
        and side + base in (*way.inputs, *(step.word for step in way.steps))
        and (side + base not in way.answer.given or rank > 2)
        and side + other in way.beside
        and side + base != way.asked
    }
    if not edits:
        return
    s = "s" if len(edits) > 1 else ""
    mine, twin = QUANTITIES[base].meaning, QUANTITIES[other].meaning
    first = next(iter(edits))
    if other.startswith("base") and "pressure_angle" not in way.given:
        rank += 1.0
    if other[:7] != "outside" and way.answer.whole:
        rank = max(rank, 2.3)
    title = f"used the {twin}{s}"
    sentence = (
        f"You used the {twin}{s} where the {mine}{s} {'belong' if s else 'belongs'}. {way.says_using(first)}"
    )
    yield slip(rank, f"{other} for {base}", title, sentence, 0.25, edits, steps=way.steps)
    # in one step alone
    using = [step for step in way.steps if step.words & set(edits)]
    for step in using if len(using) > 1 else ():
        put = step.expression.xreplace(
            {part: edits[part.name] for part in step.expression.free_symbols if part.name in edits}
        )
        place = f"when working out the {QUANTITIES[step.word].meaning}"
        sentence = f"You used the {twin} where the {mine} belongs, {place}. {step.says}"
        name = f"{other} for {base} ({step.word})"
        yield slip(rank + 0.7, name, f"used the {twin}", sentence, 0.25, {step.word: put}, steps=way.steps)


def _misread_givens(way: Way) -> Iterator[Slip]:
    """A given taken for a sibling: the depth of the whole tooth for the working depth, say."""
    for group in SIBLINGS:
        for base in group:
            mine = [side + base for side in way.sides if side + base in way.inputs]
            for other in group if mine else ():
                twins = {word: word.replace(base, other) for word in mine}
                if other == base or any(
                    twin in way.given or twin == way.asked or twin not in QUANTITIES
                    for twin in twins.values()
                ):
                    continue
                yield from _misread(way, base, other, twins)


def _misread(way: Way, base: str, other: str, twins: dict[str, str]) -> Iterator[Slip]:
    known = [twins.get(word, word) for word in way.inputs]
    steps = way.following(known, USUAL_ANGLE)
    if way.asked not in {step.word for step in steps}:
        return
    s = "s" if len(twins) > 1 else ""
    names = QUANTITIES[base].meaning, QUANTITIES[other].meaning
    yield slip(
        1.8,
        f"{base} as {other}",
        f"took the {names[0]}{s} for the {names[1]}{s}",
        f"You treated the {names[0]}{s} as if {'they were' if s else 'it were'} the {names[1]}{s}."
        f" {way.says()}",
        0.25,
        steps=(*(Step(twin, sp.Symbol(word)) for word, twin in twins.items()), *steps),
    )


def _other_rule(way: Way) -> Iterator[Slip]:
    """The rule of a neighbouring kind: outside for inside, spur for bevel."""
    kind = OTHER_KIND.get(way.table.of)
    if kind is None:
        return
    known = [word for word in way.inputs if word != "internal"]
    for asked in {way.asked, OTHER_NAME.get(way.asked, way.asked)}:
        try:
            other = derive(
                asked,
                known,
                way.table.notation,
                way.table.tooth_system,
                kind,
                way.table.length_unit,
                (),
            )
            raw = other.raw
        except (KeyError, ValueError):
            continue
        called = {"pair": "two external gears", "internal pair": "a gear inside a ring"}[kind]
        sentence = f"That is worked out as for {called}. {way.says()}"
        yield slip(1.9, f"as of {kind}", f"as for {called}", sentence, 0.25, {way.asked: raw})


def _others_asked(way: Way) -> Iterator[Slip]:
    """The other answers of the same question."""
    for answer in way.others:
        if answer.asked == way.asked or not way.like(answer.asked, way.asked):
            continue
        sentence = (
            f"That is the {answer.label}, which has a field of its own; here the question asks for the"
            f" {QUANTITIES[way.asked].meaning}. {way.says()}"
        )
        turn = asked_beside(answer.id) / answer.out_factor * way.answer.out_factor
        title, kind = f"gave the {answer.label}", "another quantity"
        yield slip(1.04, answer.asked, title, sentence, 0.25, turn=turn, kind=kind)
