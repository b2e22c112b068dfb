"""Checking questions with many right answers.

What their tables have to say, and what the draws have to prove.
"""

from __future__ import annotations

import itertools
import random
import re
from collections.abc import Container
from typing import TYPE_CHECKING

from gearlab.digits import number_text
from gearlab.practice.answer import derivation
from gearlab.practice.bankwords import check_formulas, check_unit, unknown_unit
from gearlab.practice.checks.keys import numbers_shown
from gearlab.practice.designs.design import NAME, names_in, with_marks
from gearlab.practice.draw import Draw
from gearlab.practice.formulas.formula import ANGLE_FUNCTIONS, BANK_FUNCTIONS, LOGIC, PLAIN_FUNCTIONS
from gearlab.practice.tables import BRACES, ConditionTable, QuestionTable
from gearlab.practice.typed.units import UNITS
from gearlab.schema import near
from gearlab.theory.quantities import QUANTITIES

if TYPE_CHECKING:
    from gearlab.practice.kinds.design import DesignQuestion

__all__ = ["check_design", "proven"]

_FUNCTIONS = {*ANGLE_FUNCTIONS, *BANK_FUNCTIONS, *PLAIN_FUNCTIONS, *LOGIC, "pi"}
_LOOKED_AT = 12  # draws at which a condition is sought that fails alone
_FEW = 8  # of so many numbers of a field's range, one is tried before all of them
_CHANGES = 400  # random choices tried at each of them
_BESIDE = 3  # how far from the example every combination of counts is tried
_STEPS = 60  # values tried along a field with decimals


# -- the tables ----------------------------------------------------------------------------------------
def check_design(question: QuestionTable, shown: list[str]) -> list[str]:
    """Problems of the tables of such a question: "field: what is expected"."""
    problems = []
    if question.answers:
        problems.append("answers: a question of kind 'design' has fields and conditions, not answers")
    problems += [
        f"{name}: at least one is needed" for name in ("fields", "conditions") if not getattr(question, name)
    ]
    words = [field.word for field in question.fields]
    problems += _check_fields(question, words, shown)
    names = [
        condition.id or f"condition-{number}" for number, condition in enumerate(question.conditions, start=1)
    ]
    for name, condition in zip(names, question.conditions):
        if names.count(name) > 1 or name in words:
            problems.append(f"conditions.{name}: id: stands twice, or is the name of a field")
        problems += [f"conditions.{name}: {problem}" for problem in _check_condition(condition, words, shown)]
    problems += _check_reviewed(question, words, shown)
    choices = {"example": question.example, "bad_example": question.bad_example}
    choices |= {
        f"conditions.{name}.fails_for": condition.fails_for
        for name, condition in zip(names, question.conditions)
        if condition.fails_for
    }
    for which, chosen in choices.items():
        if set(chosen) != set(words):
            problems.append(
                f"{which}: gives {', '.join(chosen) or 'nothing'}; it needs one number or formula for each"
                f" field: {', '.join(words)}"
                + "".join(near(name, set(words) - set(chosen)) for name in chosen if name not in words)
            )
        for name, value in chosen.items():
            problems += check_formulas(f"{which}.{name}", [str(value)], question.givens)
    return problems


def _check_fields(question: QuestionTable, words: list[str], shown: list[str]) -> list[str]:
    problems = []
    for field in question.fields:
        place = f"fields.{field.word}"
        if words.count(field.word) > 1 or field.word in shown or field.word == "reason":
            problems.append(
                f"{place}: word: stands twice, is a shown given or is reserved; choose another (a wanted"
                " value is a local given with a name of its own)"
            )
        if field.local and field.word in QUANTITIES:
            problems.append(
                f"{place}: local = true, but {field.word!r} is a quantity of theory; choose another name"
            )
        elif field.local:
            if field.unit and field.unit not in UNITS:
                problems.append(f"{place}: {unknown_unit(field.unit)}")
        elif field.word not in QUANTITIES:
            problems.append(
                f"{place}: word: is not a quantity of theory{near(field.word, QUANTITIES)} (or mark it local"
                " = true)"
            )
        else:
            problems += [f"{place}: {problem}" for problem in check_unit(field.unit, field.word, question)]
        if field.stop <= field.start:
            problems.append(f"{place}: from {field.start} to {field.stop} has no room; to must be above from")
    return problems


def _check_condition(condition: ConditionTable, words: list[str], shown: list[str]) -> list[str]:
    problems = _check_how(condition)
    if problems or condition.formula is None:
        return problems + _check_texts(condition, shown)
    known = {*words, *shown, *QUANTITIES}
    for place, text in (("formula", condition.formula), ("near", condition.near), ("shows", condition.shows)):
        if text is None:
            continue
        unknown = _unknown(text, known)
        if unknown:
            problems += [
                f"{place}: {name!r} is no field, no shown given and no quantity of"
                f" theory{near(name, [*words, *shown, *QUANTITIES])}"
                for name in unknown
            ]
            continue
        problems += check_formulas(
            place, [text], list(dict.fromkeys(name for name in NAME.findall(text) if name in known))
        )
    if not any(sign in condition.formula for sign in ("<", ">", "==", "!=")):
        problems.append(
            f"formula: {condition.formula!r} compares nothing; write a condition such as ratio >= 2"
        )
    if condition.unit is not None:
        if condition.unit not in UNITS:
            problems.append(unknown_unit(condition.unit))
        if condition.shows is None or condition.shows in known:
            problems.append("unit: belongs to a formula in shows only; a single quantity has its own")
    return problems + _check_texts(condition, shown)


def _unknown(formula: str, known: Container[str]) -> list[str]:
    """Names in a formula that stand for nothing, each once."""
    return [
        name
        for name in dict.fromkeys(NAME.findall(formula))
        if name not in known and name not in _FUNCTIONS and not re.fullmatch(r"[eE][0-9]*", name)
    ]


def _check_how(condition: ConditionTable) -> list[str]:
    """Whether it is decided in one way, and by a finding there is."""
    from gearlab.parts.review import NAMES

    ways = [
        name
        for name, given in (
            ("formula", condition.formula),
            ("review = true", condition.review),
            ("finding", condition.finding),
        )
        if given
    ]
    if len(ways) != 1:
        return [
            f"formula: give one of formula, review = true and finding, not {' and '.join(ways) or 'none'}"
        ]
    problems = []
    if condition.formula is None:
        problems += [
            f"{name}: belongs to a condition with a formula; a review tells its own"
            for name in ("near", "shows", "unit", "wanted")
            if getattr(condition, name) is not None
        ]
    if condition.hangs_on and not condition.finding:
        problems.append("hangs_on: belongs to a condition with a finding")
    if condition.finding and condition.finding not in NAMES:
        problems.append(
            f"finding: {condition.finding!r} is not a finding of the review{near(condition.finding, NAMES)}"
        )
    return problems


def _check_texts(condition: ConditionTable, shown: list[str]) -> list[str]:
    return [
        f"{place}: {{{name}}} is not a shown given{near(name, shown)}"
        for place, text in (("says", condition.says), ("wanted", condition.wanted or ""))
        for name in BRACES.findall(text)
        if name not in shown
    ]


def _check_reviewed(question: QuestionTable, words: list[str], shown: list[str]) -> list[str]:
    """Whether the design that conditions have reviewed can be read, and names what there is."""
    reviewing = [condition for condition in question.conditions if condition.review or condition.finding]
    if question.design is None:
        return (
            [
                "design: a condition with review or finding needs the design, as TOML with {field} in the"
                " place of numbers"
            ]
            if reviewing
            else []
        )
    if not reviewing:
        return ["design: no condition has review = true or a finding, so it is never looked at"]
    if sum(condition.review for condition in reviewing) > 1:
        return [
            "conditions: review = true stands twice; once is enough: it tells of all that no other condition"
            " names"
        ]
    try:
        _, formulas = with_marks(question.design)
    except ValueError as error:
        return [
            f"design: is no TOML: {error}; {{...}} stands for a whole number, outside of quotes, and inline"
            " tables cannot be used"
        ]
    known = [*words, *shown]
    problems = []
    for formula in formulas:
        unknown = _unknown(formula, known)
        problems += [
            f"design: {{{formula}}}: {name!r} is no field and no shown given{near(name, known)}"
            for name in unknown
        ] or check_formulas("design", [formula], known)
    problems += [
        f"conditions: hangs_on: {name!r} is no field{near(name, words)}"
        for condition in reviewing
        for name in condition.hangs_on
        if name not in words
    ]
    if not problems:
        idle = [
            word
            for word in words
            if word not in names_in(formulas, words)
            and not any(
                condition.formula and word in NAME.findall(condition.formula)
                for condition in question.conditions
            )
        ]
        problems += [f"fields.{word}: stands neither in the design nor in a formula" for word in idle]
    return problems


# -- the draws -----------------------------------------------------------------------------------------
def proven(question: DesignQuestion, raw: list[Draw]) -> list[str]:
    """Problems that draws bring to light.

    The example must meet every condition, the bad one must not, and each condition must be able to fail
    alone.

    `raw` are draws that meet the question's own conditions on its givens; nothing else was asked of them.
    """
    design, problems = question.design, []
    for name in design.givens:
        try:
            alone = design.question.table.model_copy(update={"givens": {}})
            derivation(alone, name, [word for word in design.of_kind if word not in design.givens])
        except ValueError:
            continue
        problems.append(
            f"givens.{name}: the fields determine it too; a wanted value needs a name of its own (local ="
            " true)"
        )
    for draw in raw:
        values = tuple(draw.values.values())
        failed = [
            condition.id
            for condition in design.conditions
            if not condition.met([*design.example(values), *draw.shown])
        ]
        if failed:
            problems.append(f"example: does not meet {', '.join(failed)} for {numbers_shown(draw)}")
            break
    for draw in raw:
        values = tuple(draw.values.values())
        if all(
            condition.met([*design.example(values, "bad_example"), *draw.shown])
            for condition in design.conditions
        ):
            problems.append(f"bad_example: meets every condition for {numbers_shown(draw)}")
            break
    if problems:
        return problems
    if design.reviewed:
        problems = _reviewable(design, raw[0])
        if problems:
            return problems
    return _typed(question, raw[:20]) + _alone(design, raw[:_LOOKED_AT])


def _reviewable(design, draw) -> list[str]:
    """Whether the example makes a design at all, and whether every choice within a field's range does."""
    values = tuple(draw.values.values())
    example = design.example(values)
    for place, field in enumerate(design.fields):
        for number in (field.low, field.high):
            try:
                design.reviewed.design([*example[:place], number, *example[place + 1 :], *draw.shown])
            except (ArithmeticError, ValueError) as error:
                return [
                    f"fields.{field.id}: with {number_text(number)} no design can be made:"
                    f" {' '.join(str(error).split())}; change from or to"
                ]
    return [
        problem
        for condition in design.conditions
        if condition.table.hangs_on
        for problem in _hangs_on_others(design, condition, draw)
    ]


def _hangs_on_others(design, condition, draw) -> list[str]:
    """Fields beside those a finding is said to hang on that decide it anyway."""
    values, stream = tuple(draw.values.values()), random.Random(2)
    places = [place for place, field in enumerate(design.fields) if field.id not in condition.table.hangs_on]
    for which in ("example", "bad_example"):
        own = design.example(values, which)
        base = condition.met([*own, *draw.shown])
        for place in places:
            field = design.fields[place]
            for number in (
                field.low,
                field.high,
                *(own[place] + (field.high - field.low) * stream.uniform(-0.1, 0.1) for _ in range(6)),
            ):
                number = min(field.high, max(field.low, float(round(number)) if field.whole else number))
                if condition.met([*own[:place], number, *own[place + 1 :], *draw.shown]) != base:
                    return [
                        f"conditions.{condition.id}: hangs_on: {field.id} = {number_text(number)} decides it"
                        " too; name it"
                    ]
    return []


def _typed(question, raw: list) -> list[str]:
    """The examples as a student types them."""
    for draw in raw:
        values = tuple(draw.values.values())
        good, bad = (
            {
                field.id: number_text(number)
                for field, number in zip(question.fields, question.design.example(values, which))
            }
            for which in ("example", "bad_example")
        )
        wrong = [(name, verdict) for name, verdict in question.judge(draw, good).items() if not verdict.right]
        if wrong:
            return [
                f"example: typed as {good} it is judged {wrong[0][1].kind!r} for {wrong[0][0]}:"
                f" {wrong[0][1].sentence}"
            ]
        if not any(verdict.kind in ("not met", "close") for verdict in question.judge(draw, bad).values()):
            return [
                f"bad_example: typed as {bad} no condition is judged 'not met' for {numbers_shown(draw)};"
                " is it within the range of the fields?"
            ]
    return []


def _alone(design, raw: list) -> list[str]:
    """Conditions that never fail alone.

    They add nothing to the others; and `near` formulas that are stricter than what they stand beside.
    """
    missing = {condition.id for condition in design.conditions}
    strict: set[str] = set()
    stream = random.Random(1)
    for draw in raw:
        for numbers in _choices(design, draw, stream):
            held = [(condition, condition.held([*numbers, *draw.shown])) for condition in design.conditions]
            failed = [condition.id for condition, outcome in held if outcome is None or not outcome[0]]
            strict |= {
                condition.id
                for condition, outcome in held
                if outcome and outcome[0] and condition.table.near and not outcome[1]
            }
            if len(failed) == 1:
                missing.discard(failed[0])
            if design.reviewed and not missing:
                break  # a review takes some milliseconds
        if not missing:
            break
    problems = [
        f"conditions.{name}: no choice was found that fails this condition alone: is it implied by the"
        " others? If not, give such a choice as fails_for"
        for name in sorted(missing)
    ]
    return problems + [
        f"conditions.{name}: near: does not hold where the formula does; it must be the wider one"
        for name in sorted(strict)
    ]


def _choices(design, draw, stream: random.Random):
    """Choices near the example: one field anywhere in its range, two fields changed, all of them."""
    values = tuple(draw.values.values())
    example = design.example(values)
    yield design.example(values, "bad_example")
    for condition in design.conditions:
        if condition.table.fails_for:
            yield design.example(values, condition.id)
    ranges = [(place, _along(field)) for place, field in enumerate(design.fields)]
    for place, numbers in ranges:  # a few of each first: most conditions are met or missed by one number
        yield from ([*example[:place], number, *example[place + 1 :]] for number in numbers[::_FEW])
    counts = [place for place, field in enumerate(design.fields) if field.whole][:4]
    for steps in itertools.product(range(-_BESIDE, _BESIDE + 1), repeat=len(counts)):
        numbers = list(example)
        for place, step in zip(counts, steps):
            numbers[place] += step
        yield numbers
    for place, numbers in ranges:
        for number in numbers:
            yield [*example[:place], number, *example[place + 1 :]]
    for turn in range(_CHANGES):
        numbers = list(example)
        for place in stream.sample(range(len(numbers)), min(len(numbers), 2) if turn % 3 else len(numbers)):
            field = design.fields[place]
            spread = (field.high - field.low) * (0.02, 0.1, 1.0)[turn % 3]
            number = min(field.high, max(field.low, numbers[place] + stream.uniform(-spread, spread)))
            numbers[place] = float(round(number)) if field.whole else number
        yield numbers


def _along(field) -> list[float]:
    if field.whole:
        return [float(number) for number in range(int(field.low), int(min(field.high, field.low + 500)) + 1)]
    return [field.low + (field.high - field.low) * step / _STEPS for step in range(_STEPS + 1)]
