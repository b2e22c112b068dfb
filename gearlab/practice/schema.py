"""The form of a question bank: its tables, and what has to fit together in a question.

The tables (`gearlab.practice.tables`) check types and ranges; `check` looks at what they cannot: words that
theory does not know, givens without values, formulas that name what is not shown.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from pydantic import BaseModel

from gearlab.practice.findings import BRACES, check_formulas, check_unit, near
from gearlab.practice.tables import (
    AnswerTable,
    BankFile,
    ConditionTable,
    FieldTable,
    GivenTable,
    OptionTable,
    QuestionTable,
    SetFile,
    SlipTable,
    ToleranceTable,
)
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.scope import KINDS

if TYPE_CHECKING:
    from gearlab.practice.question import Question

__all__ = [
    "AnswerTable",
    "BankFile",
    "GivenTable",
    "OptionTable",
    "QuestionTable",
    "SetFile",
    "SlipTable",
    "check",
    "fields_near",
    "near",
]

MOST_STEPS = 100_000  # values one given may take


def fields_near(place: list) -> list[str]:
    """Fields of the table that a place in a file lies in."""
    tables: dict[str, type[BaseModel]] = {
        "givens": GivenTable,
        "answers": AnswerTable,
        "slips": SlipTable,
        "options": OptionTable,
        "tolerance": ToleranceTable,
        "fields": FieldTable,
        "conditions": ConditionTable,
    }
    table = next((tables[part] for part in reversed(place[:-1]) if part in tables), QuestionTable)
    return [field.alias or name for name, field in table.model_fields.items()]


# -- checks beyond the form --
def check(question: QuestionTable, kind: type[Question], owners: Mapping[str, type[Question]]) -> list[str]:
    """Problems of one question beyond the types of its fields: "field: what is expected".

    `owners` names the kind that a field belongs to, of the fields that only one kind has.
    """
    problems = _check_subject(question)
    if problems:
        return problems
    shown = [name for name, given in question.givens.items() if not given.hidden]
    for name, given in question.givens.items():
        problems += [f"givens.{name}: {problem}" for problem in _check_given(name, given, question)]
    problems += _check_braces(question, kind, shown)
    problems += check_formulas("where", question.where, question.givens)
    problems += [
        f"{name}: only {owner.has_own}, this one is of kind {kind.kind!r}"
        for name, owner in owners.items()
        if owner is not kind and getattr(question, name, None)
    ]
    return problems + kind.faults(question, shown)


def _check_braces(question: QuestionTable, kind: type[Question], shown: list[str]) -> list[str]:
    """Givens named in the texts."""
    texts = {"prompt": question.prompt}
    texts |= {f"options.{number}.text": option.text for number, option in enumerate(question.options, 1)}
    problems = []
    for place, text in texts.items():
        for name in BRACES.findall(text):
            if name not in shown:
                problems.append(f"{place}: {{{name}}} is not a shown given{near(name, shown)}")
            elif not kind.shows_numbers:
                problems.append(
                    f"{place}: an expression question shows no numbers; write the symbol in place of"
                    f" {{{name}}}"
                )
    return problems


def _check_subject(question: QuestionTable) -> list[str]:
    if question.of not in KINDS:
        return [
            f"of: {question.of!r} is not a kind of theory{near(question.of, KINDS)}; use one of"
            f" {', '.join(KINDS)}"
        ]
    possible = sorted(KINDS[question.of].features)
    return [
        f"features: {feature!r} is not a feature of the theory of {question.of!r}{near(feature, possible)};"
        f" possible: {', '.join(possible) or 'none'}"
        for feature in question.features
        if feature not in possible
    ]


def _check_given(name: str, given: GivenTable, question: QuestionTable) -> list[str]:
    ways = [
        given.one_of is not None,
        given.derived,
        given.start is not None or given.stop is not None or given.step is not None,
    ]
    if sum(ways) != 1:
        return ["give either one_of = [...], or from, to and step, or derived = true"]
    problems = _check_values(given)
    if given.local:
        if name in QUANTITIES:
            problems.append(f"local = true, but {name!r} is a quantity of theory; choose another name")
        if given.derived:
            problems.append("a local given cannot be derived")
    elif name not in QUANTITIES:
        problems.append(f"is not a quantity of theory{near(name, QUANTITIES)} (or mark it local = true)")
    else:
        problems += check_unit(given.unit, name, question)
    if given.derived:
        earlier = list(question.givens)[: list(question.givens).index(name)]
        if given.places is None:
            problems.append("places: a derived given needs the number of decimals shown")
        if given.plus is not None and given.plus not in earlier:
            problems.append(
                f"plus: {given.plus!r} is not a given that stands before{near(given.plus, earlier)}"
            )
    elif given.places is not None or given.plus is not None:
        problems.append("places and plus belong to derived givens only")
    return problems


def _check_values(given: GivenTable) -> list[str]:
    """Problems of the list or the grid that a given is drawn from."""
    if given.derived:
        return []
    if given.one_of is not None:
        return [] if 1 <= len(given.one_of) <= MOST_STEPS else ["one_of: needs at least one value"]
    start, stop, step = given.start, given.stop, given.step
    if start is None or stop is None or step is None:
        return ["from, to and step are all needed"]
    if step <= 0 or stop < start:
        return [
            f"from {start} to {stop} in steps of {step} has no values; step must be positive and to not below"
            " from"
        ]
    if (stop - start) / step > MOST_STEPS:
        return [f"more than {MOST_STEPS} values; make the step larger"]
    if (stop - start) % step:
        last = start + (stop - start) // step * step
        return [
            f"from {start} no whole number of steps of {step} leads to {stop}; the last value before it is"
            f" {last}"
        ]
    return []
