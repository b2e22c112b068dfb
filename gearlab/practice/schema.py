"""The form of a question bank: its tables, and what has to fit together in a question.

The tables (`gearlab.practice.tables`) check types and ranges; `check` looks at what they cannot: words that
theory does not know, givens without values, formulas that name what is not shown.
"""

from __future__ import annotations

from gearlab.practice.designcheck import check_design
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
    tables = {
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


# -- checks beyond the form ----------------------------------------------------------------------------
def check(question: QuestionTable) -> list[str]:  # noqa: C901
    """Problems of one question beyond the types of its fields: "field: what is expected"."""
    problems = _check_subject(question)
    if problems:
        return problems
    shown = [name for name, given in question.givens.items() if not given.hidden]
    for name, given in question.givens.items():
        problems += [f"givens.{name}: {problem}" for problem in _check_given(name, given, question)]
    for place, text in [("prompt", question.prompt)] + [
        (f"options.{i + 1}.text", o.text) for i, o in enumerate(question.options)
    ]:
        for name in BRACES.findall(text):
            if name not in shown:
                problems.append(f"{place}: {{{name}}} is not a shown given{near(name, shown)}")
            elif question.kind == "expression":
                problems.append(
                    f"{place}: an expression question shows no numbers; write the symbol in place of"
                    f" {{{name}}}"
                )
    problems += check_formulas("where", question.where, question.givens)
    if question.kind == "design":
        return problems + check_design(question, shown)
    for name in ("fields", "conditions", "design", "example", "bad_example"):
        if getattr(question, name):
            problems.append(
                f"{name}: only a question of kind 'design' has them, this one is of kind {question.kind!r}"
            )
    if question.kind == "choice":
        if question.answers:
            problems.append("answers: a choice question has options, not answers")
        if len(question.options) < 2:
            problems.append("options: at least two are needed")
        elif not any(option.right for option in question.options):
            problems.append("options: at least one needs right = true")
        elif all(option.right for option in question.options):
            problems.append("options: at least one must be wrong")
        return problems
    if question.options:
        problems.append(f"options: only a choice question has options, this one is of kind {question.kind!r}")
    if not question.answers:
        problems.append("answers: at least one is needed")
    before: list[str] = []
    for number, answer in enumerate(question.answers, start=1):
        name = answer.id or answer.asked
        place = f"answers.{name}"
        if name in before or name in ("choice", "reason"):
            problems.append(
                f"answers.{number}: id: {name!r} stands twice or is reserved; give this answer an id of"
                " its own"
            )
        problems += [f"{place}: {problem}" for problem in _check_answer(answer, question, shown, before)]
        before.append(name)
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


def _check_given(name: str, given: GivenTable, question: QuestionTable) -> list[str]:  # noqa: C901
    problems = []
    ways = [
        given.one_of is not None,
        given.derived,
        given.start is not None or given.stop is not None or given.step is not None,
    ]
    if sum(ways) != 1:
        return ["give either one_of = [...], or from, to and step, or derived = true"]
    if ways[0] and not 1 <= len(given.one_of) <= MOST_STEPS:
        problems.append("one_of: needs at least one value")
    if ways[2]:
        if None in (given.start, given.stop, given.step):
            problems.append("from, to and step are all needed")
        elif given.step <= 0 or given.stop < given.start:
            problems.append(
                f"from {given.start} to {given.stop} in steps of {given.step} has no values; step must be"
                " positive and to not below from"
            )
        elif (given.stop - given.start) / given.step > MOST_STEPS:
            problems.append(f"more than {MOST_STEPS} values; make the step larger")
        elif (given.stop - given.start) % given.step:
            last = given.start + (given.stop - given.start) // given.step * given.step
            problems.append(
                f"from {given.start} no whole number of steps of {given.step} leads to {given.stop}; the last"
                f" value before it is {last}"
            )
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


def _check_answer(  # noqa: C901
    answer: AnswerTable, question: QuestionTable, shown: list[str], before: list[str]
) -> list[str]:
    problems = []
    if answer.asked not in QUANTITIES:
        return [f"asked: {answer.asked!r} is not a quantity of theory{near(answer.asked, QUANTITIES)}"]
    problems += check_unit(answer.unit, answer.asked, question)
    usable = [name for name in shown if not question.givens[name].local]
    for name in answer.given or ():
        if name not in usable:
            problems.append(f"given: {name!r} is not a shown given of this question{near(name, usable)}")
    for name in answer.uses:
        if name not in before:
            problems.append(
                f"uses: {name!r} is not an answer that stands before this one{near(name, before)}"
            )
    if answer.carry is not None:
        problems += check_formulas("carry", [answer.carry], [*before, *shown])
    if question.kind == "expression":
        for name in answer.symbols:
            if name not in usable:
                problems.append(f"symbols: {name!r} is not a given of this question{near(name, usable)}")
        if not answer.symbols:
            problems.append(
                "symbols: an expression question names the quantities that may stand in the answer"
            )
        for used, name in (
            (answer.whole, "whole"),
            (answer.preferred, "preferred"),
            (answer.uses, "uses"),
            (answer.tolerance, "tolerance"),
        ):
            if used:
                problems.append(f"{name}: does not go with an expression question")
    elif answer.symbols:
        problems.append(
            f"symbols: belong to expression questions only, this one is of kind {question.kind!r}"
        )
    if answer.modulo is not None:
        problems += _check_modulo(answer, question, shown)
    if answer.whole and answer.preferred:
        problems.append("whole and preferred exclude each other")
    names = [slip.name for slip in answer.slips]
    for slip in answer.slips:
        if names.count(slip.name) > 1:
            problems.append(f"slips.{slip.name}: name stands twice")
        allowed = answer.symbols if question.kind == "expression" else shown
        problems += check_formulas(f"slips.{slip.name}.formula", [slip.formula], allowed)
        problems += check_formulas(f"slips.{slip.name}.where", slip.where, allowed)
    return problems


def _check_modulo(answer: AnswerTable, question: QuestionTable, shown: list[str]) -> list[str]:
    if question.kind != "number":
        return [f"modulo: does not go with a question of kind {question.kind!r}"]
    problems = check_formulas("modulo", [answer.modulo], shown)
    for used, name in (
        (answer.whole, "whole"),
        (answer.preferred, "preferred"),
        (answer.size_only, "size_only"),
    ):
        if used:
            problems.append(f"modulo: does not go with {name}")
    if answer.tolerance is None or answer.tolerance.relative or not answer.tolerance.absolute:
        problems.append(
            "modulo: needs tolerance = { absolute = ... } and no relative one: numbers a whole period apart"
            " are the same answer"
        )
    return problems
