"""One thing wrong wherever it stands: a step written wrongly, a given misused in every step, a function."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

import sympy as sp

from gearlab.practice.slips.change import Change, power_of_two_pi
from gearlab.practice.slips.mistake import varied
from gearlab.practice.slips.variation import USUAL_ANGLE, Slip, Step, Way, slip
from gearlab.theory.functions import arcinv, inv
from gearlab.theory.quantities import QUANTITIES, SIDES, split_side
from gearlab.theory.scope import symbol

__all__ = ["misused_givens", "steps_varied", "unconverted"]


# -- steps ---------------------------------------------------------------------------------------------
def steps_varied(way: Way) -> Iterator[Slip]:
    """Every single mistake in a step; the same step of both gears is done wrongly for both."""
    together: dict[tuple, list[Step]] = {}
    for step in way.steps:
        together.setdefault((split_side(step.word)[1], id(step.relation)), []).append(step)
    groups = list(together.values())
    alike: dict[sp.Expr, list[Step]] = {}  # approach and recess: one formula with the gears exchanged
    for steps in groups:
        if len(steps) == 1:
            alike.setdefault(_of_any_gear(steps[0].expression), []).append(steps[0])
    twins = [steps for steps in alike.values() if len(steps) > 1 and len(steps[0].words) > 1]
    for steps in twins:
        yield from _group_varied(way, steps)
    halves = {step.word for steps in twins for step in steps}
    for steps in groups:
        for wrong in _group_varied(way, steps):
            yield replace(wrong, rank=wrong.rank + 0.3) if steps[0].word in halves else wrong
    yield from _functions_everywhere(way)


@lru_cache(maxsize=20_000)
def _of_any_gear(expression: sp.Expr) -> sp.Expr:
    return expression.xreplace(
        {part: sp.Symbol(split_side(part.name)[1]) for part in expression.free_symbols}
    )


def _group_varied(way: Way, steps: list[Step]) -> Iterator[Slip]:
    first = steps[0]
    base = split_side(first.word)[1]
    bases = list(dict.fromkeys(split_side(step.word)[1] for step in steps))
    if len(steps) == 1:
        called = QUANTITIES[first.word].meaning
    elif len(bases) == 1:
        called = f"{QUANTITIES[base].meaning}s"
    else:
        called = " and the ".join(QUANTITIES[word].meaning for word in bases)
    place = f"when working out the {called}"
    others: list[dict[tuple, sp.Expr]] = []
    for step in steps[1:]:
        changes = varied(step.expression, place)
        others.append({(change.name, _of_any_gear(change.put)): change.put for change in changes})
    for change in varied(first.expression, place):
        if change.name == "inside alone" and first.word != way.asked:
            continue  # what goes on from it is worked out from an angle
        edits = {first.word: change.put}
        twin = change.name, _of_any_gear(change.put)
        for step, known in zip(steps[1:], others):
            put = known.get(twin) or known.get((_turned(change.name), twin[1]))
            if put is not None:
                edits[step.word] = put
        yield _of_change(way, change, base, edits, first)


def _turned(name: str) -> str:
    """The name of a change at the other gear."""
    return name.replace("driver_", "\0").replace("driven_", "driver_").replace("\0", "driven_")


def _of_change(way: Way, change: Change, base: str, edits: dict, first: Step) -> Slip:
    title, sentence = change.title, change.sentence
    if len(edits) > 1:
        title, sentence = _of_both(title), _of_both(sentence)
    last = (
        len(way.steps) > 1
        and first.word == way.asked
        and change.name in ("dropped", "counted twice", "added the sides")
    )
    name, sentence = f"{change.name} ({base})", f"{sentence} {first.says}"
    return slip(change.rank - 0.55 * last, name, title, sentence, change.credit, edits, steps=way.steps)


def _of_both(text: str) -> str:
    for _, of in SIDES.values():
        text = text.replace(f" of {of}", "")
    return text


_EVERYWHERE = (
    (inv, "the involute function", lambda angle: angle, "the angle itself"),
    (inv, "the involute function", sp.tan, "the tangent"),
    (arcinv, "the inverse of the involute function", lambda inside: inside, "what is inside"),
    (sp.cos, "the cosine", lambda angle: sp.Integer(1), "nothing"),
    (sp.cos, "the cosine", sp.sin, "the sine"),
    (sp.sin, "the sine", sp.cos, "the cosine"),
    (sp.tan, "the tangent", sp.sin, "the sine"),
    (sp.tan, "the tangent", lambda angle: angle, "the angle in radians"),
    (sp.sin, "the sine", lambda angle: angle, "the angle in radians"),
)


def _functions_everywhere(way: Way) -> Iterator[Slip]:
    """A function taken for another wherever it stands."""
    for function, mine, put, other in _EVERYWHERE:
        edits = {
            step.word: step.expression.replace(
                lambda part, f=function: isinstance(part, f), lambda part, p=put: p(part.args[0])
            )
            for step in way.steps
            if step.expression.has(function)
        }
        if edits:
            sentence = f"You took {other} wherever {mine} belongs. {way.says(next(iter(edits)))}"
            name, title = f"{other} for {mine}", f"took {other} for {mine}"
            yield slip(2.25, name, title, sentence, 0.25, edits, steps=way.steps)


# -- givens --------------------------------------------------------------------------------------------
def misused_givens(way: Way) -> Iterator[Slip]:
    """One given misused in every step."""
    used = set().union(*(step.words for step in way.steps))
    words = [word for word in way.inputs if word in used]
    for maker in (_another_given, _both_for_one, _left_out, _turned_over, _one_off, _not_converted):
        slips = [wrong for word in words for wrong in maker(way, word)]
        rarer = 0.12 * math.log2(max(1.0, len(slips) / 4))  # of many possible ones each is the less likely
        yield from (replace(wrong, rank=wrong.rank + rarer) for wrong in slips)
    yield from _needless_angle(way, used)
    yield from _usual_angle(way)
    yield from _whole_diameters(way)


def _again(way: Way, word: str, edits: dict, rank: float, name: str, title: str, sentence: str) -> Slip:
    return slip(rank, name, title, f"{sentence} {way.says_using(word)}", 0.25, edits, steps=way.steps)


def _another_given(way: Way, word: str) -> Iterator[Slip]:
    what, mine = QUANTITIES[word].meaning, QUANTITIES[word]
    for other in way.given:
        if other == word or other == way.asked or QUANTITIES[other].dimension != mine.dimension:
            continue
        twin = QUANTITIES[other].meaning
        sentence = f"You used the {twin} where the {what} belongs."
        near = split_side(word)[1] == split_side(other)[1] or other not in way.inputs
        rank = 1.95 if near else 2.4
        name, title = f"{other} for {word}", f"used the {twin}"
        yield _again(way, word, {word: symbol(other)}, rank, name, title, sentence)


def _both_for_one(way: Way, word: str) -> Iterator[Slip]:
    """Sum, difference or mean of two counts, or of two other like givens, where one of them belongs."""
    side, base = split_side(word)
    for other in way.given:
        if other == word or split_side(other)[1] != base or not side and not base.endswith("teeth"):
            continue
        names = f"the {QUANTITIES[word].meaning} and the {QUANTITIES[other].meaning}"
        both = {
            "difference": symbol(other) - symbol(word),
            "sum": symbol(other) + symbol(word),
            "mean": (symbol(other) + symbol(word)) / 2,
        }
        for called, put in both.items():
            sentence = f"You used the {called} of {names} where the {QUANTITIES[word].meaning} belongs."
            rank = 2.6 if called == "mean" else 2.3
            if called == "difference":
                put = sp.Abs(put)
            yield _again(way, word, {word: put}, rank, f"{called} for {word}", f"used the {called}", sentence)


def _left_out(way: Way, word: str) -> Iterator[Slip]:
    what, dimension = QUANTITIES[word].meaning, QUANTITIES[word].dimension
    if dimension == "count" and word.endswith("teeth"):
        return
    sentence = f"You left out the {what}."
    for put in (0, 1) if dimension in ("length", "angle", "count") else (1,):
        rank = 2.05 if put == 0 else 2.3
        name, title = f"no {word}" if put == 0 else f"without {word}", f"left out the {what}"
        yield _again(way, word, {word: sp.Integer(put)}, rank, name, title, sentence)


def _turned_over(way: Way, word: str) -> Iterator[Slip]:
    what, dimension = QUANTITIES[word].meaning, QUANTITIES[word].dimension
    if dimension == "number":
        sentence = f"You took the {what} upside down: what is to be divided by what?"
        title = f"turned the {what} over"
        yield _again(way, word, {word: 1 / symbol(word)}, 1.9, f"{word} turned over", title, sentence)
    if word.endswith(("diameter", "radius", "distance", "height", "width", "length")):
        for size, called, asked in (
            (sp.Rational(1, 2), "half", "was it halved once too often?"),
            (sp.Integer(2), "twice", "was it doubled, or a half forgotten?"),
        ):
            sentence = f"You worked with {called} the {what} that is given: {asked}"
            edits = {word: symbol(word) * size}
            yield _again(way, word, edits, 2.3, f"{called} {word}", f"took {called} the {what}", sentence)


def _one_off(way: Way, word: str) -> Iterator[Slip]:
    """A count that is one off: the ends counted or one forgotten; an earlier answer rounded the other way."""
    if not QUANTITIES[word].whole and word not in [
        earlier.used_as for earlier in way.answer.used if earlier.whole
    ]:
        return
    earlier = word not in way.question.known_names and way.numbers
    teeth = word.endswith("teeth")
    reach = word in ("span_teeth", "spare_teeth")  # of a span, or in reserve: not the count of a gear
    if teeth and not earlier and not reach and way.answer.dimension != "angle":
        return
    what = QUANTITIES[word].meaning
    for change, title in ((1, "one too many"), (-1, "one too few")):
        if earlier:
            sentence = f"That follows from {title} as the {what}."
        elif teeth:
            sentence = f"You took the {what} as {title}."
        else:
            sentence = f"You took the {what} as {title}: are marks to be counted here, or the steps between?"
        name = f"{word} {'+' if change > 0 else '-'} 1"
        rank = 2.5 if teeth and not earlier else 2.2
        yield slip(
            rank,
            name,
            f"{what}: {title}",
            f"{sentence} {way.says()}",
            0.25,
            {word: symbol(word) + change},
            steps=way.steps,
        )


def _not_converted(way: Way, word: str) -> Iterator[Slip]:
    factor = way.factors[word]
    if factor == 1.0 or QUANTITIES[word].dimension == "angle":
        return
    what = QUANTITIES[word].meaning
    sentence = f"You used the {what} as it is given: bring it to the unit of the others first."
    edits = {word: symbol(word) / factor}
    title = f"did not convert the {what}"
    yield _again(way, word, edits, 2.3, f"{word} not converted", title, sentence)


def _needless_angle(way: Way, used: set[str]) -> Iterator[Slip]:
    """The cosine, sine or tangent of an angle that does not come in."""
    for word in way.given:
        if word in used or QUANTITIES[word].dimension != "angle" or way.answer.dimension == "angle":
            continue
        angle, what = symbol(word), QUANTITIES[word].meaning
        last = way.steps[-1]
        if last.word != way.asked:
            continue
        for factor, called in (
            (sp.cos(angle), "multiplied by the cosine"),
            (1 / sp.cos(angle), "divided by the cosine"),
            (sp.sin(angle), "multiplied by the sine"),
            (1 / sp.sin(angle), "divided by the sine"),
            (sp.tan(angle), "multiplied by the tangent"),
            (1 / sp.tan(angle), "divided by the tangent"),
        ):
            sentence = f"You {called} of the {what}, which does not come in here. {way.says()}"
            edits = {way.asked: last.expression * factor}
            name, title = f"{called} of {word}", f"{called} of the {what}"
            rank = 2.1 if "tangent" not in called and called != "divided by the sine" else 2.5
            yield slip(rank, name, title, sentence, 0.25, edits, steps=way.steps)


def _usual_angle(way: Way) -> Iterator[Slip]:
    """The pressure angle that most gears have, whatever the question says."""
    angles = way.question.grids.get("pressure_angle")
    if "pressure_angle" not in way.inputs or angles is None or set(angles.values) == {USUAL_ANGLE}:
        return
    sentence = f"You worked with {USUAL_ANGLE:g} degrees: look at the pressure angle that is given."
    edits: dict[str, sp.Expr] = {"pressure_angle": sp.pi * sp.Rational(int(USUAL_ANGLE), 180)}
    name, title = "usual pressure angle", "took the usual pressure angle"
    yield _again(way, "pressure_angle", edits, 2.15, name, title, sentence)


def _whole_diameters(way: Way) -> Iterator[Slip]:
    """Diameters where radii belong, in every step at once."""
    edits: dict[str, sp.Expr] = {}
    halves = 0
    for step in way.steps:
        terms = step.expression.args if step.expression.is_Add else (step.expression,)
        parted = [term.as_coeff_Mul() for term in terms]
        wide = [
            abs(size) == sp.Rational(1, 2) and bare.is_Symbol and bare.name.endswith("diameter")
            for size, bare in parted
        ]
        halves += sum(wide)
        if any(wide):
            edits[step.word] = sum(
                (size * 2 if half else size) * bare for (size, bare), half in zip(parted, wide)
            )
    if len(edits) > 1 and halves > 1:
        sentence = f"You took whole diameters where half of each belongs. {way.says()}"
        title = "took diameters for radii"
        yield slip(1.45, "diameters for radii", title, sentence, 0.5, edits, steps=way.steps)


# -- units ---------------------------------------------------------------------------------------------
def unconverted(way: Way) -> Iterator[Slip]:
    """The numbers worked out as they stand, no unit converted; and one mistake more on the way."""
    factors = [
        factor
        for word, factor in way.factors.items()
        if QUANTITIES[word].dimension != "angle" and factor != 1.0
    ]
    out = way.answer.out_factor != 1.0 and way.answer.dimension != "angle"
    if not (factors or out) or way.answer.modular:
        return
    sentence = f"The units were left as they are given: convert them first. {way.says()}"
    title = "no unit converted"
    yield slip(2.2, title, title, sentence, 0.5, steps=way.steps, unconverted=True)
    for step in way.steps[-1:]:
        place = f"when working out the {QUANTITIES[step.word].meaning}"
        without = step.expression / (2 * sp.pi) ** power_of_two_pi(step.expression)
        if without != step.expression:
            both = f"You left out the two pi radians of a turn {place}, and the units as they are given."
            name, both = "no two pi, no unit converted", f"{both} {step.says}"
            edits = {step.word: without}
            yield slip(2.3, name, title, both, 0.25, edits, steps=way.steps, unconverted=True)
        for change in varied(step.expression, place):
            if change.name.startswith(("inverted", "turned over", "multiplied by all")):
                yield slip(
                    2.7,
                    f"{change.name}, no unit converted",
                    change.title,
                    f"{change.sentence} And the units were left as they are given. {step.says}",
                    0.0,
                    {step.word: change.put},
                    steps=way.steps,
                    unconverted=True,
                )
