"""The tables of a question bank and of a homework set, and what has to fit together in a question.

The tables say what fields there are, of which type, in which range; `check` looks at what they cannot: words
that theory does not know, givens without values, formulas that name what is not shown.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from functools import lru_cache
from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import AliasChoices, BaseModel, ConfigDict, Field

from gearlab.care import refused
from gearlab.practice.bankwords import (
    check_formulas,
    check_unit,
    no_quantity,
    unknown_unit,
)
from gearlab.practice.typed.units import UNITS
from gearlab.quoting import plain_lines
from gearlab.schema import near
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.scope import KINDS
from gearlab.theory.systems import NAMES

if TYPE_CHECKING:
    from gearlab.practice.question import Question

__all__ = [
    "AnswerTable",
    "BRACES",
    "BandTable",
    "BankError",
    "BankFile",
    "ConditionTable",
    "FieldTable",
    "GivenTable",
    "GuideTable",
    "OptionTable",
    "PlausibleTable",
    "QuestionTable",
    "SetFile",
    "SlipTable",
    "ToleranceTable",
    "check",
    "split_at_braces",
]

Name = Annotated[str, Field(min_length=1, max_length=80, pattern=r"^[A-Za-z][A-Za-z0-9_.-]*$")]
Kebab = Annotated[str, Field(min_length=1, max_length=80, pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]
Text = Annotated[str, Field(min_length=1, max_length=4000)]
Letter = Annotated[str, Field(max_length=20, pattern=r"^[A-Za-z][A-Za-z0-9]*(_[A-Za-z0-9]+)?$")]


class BankError(ValueError):
    """Problems of a bank or set file, one line each: file, question, field, what is expected."""

    def __init__(self, problems: list[str]):
        self.problems = [plain_lines(problem) for problem in problems]
        super().__init__("\n".join(self.problems))


class _Table(BaseModel):
    model_config = ConfigDict(
        extra="forbid", populate_by_name=True, frozen=True, arbitrary_types_allowed=True
    )


class GivenTable(_Table):
    """A given: on a grid (from, to, step), from a list (one_of), or derived from the ones before it."""

    start: Decimal | None = Field(None, alias="from")
    stop: Decimal | None = Field(None, alias="to")
    step: Decimal | None = None
    one_of: list[Decimal] | None = None
    derived: bool = False
    places: int | None = Field(None, ge=0, le=8)
    plus: str | None = None
    hidden: bool = False
    local: bool = False
    unit: str | None = None
    label: Text | None = None  # what it is called on the sheet, where its quantity's word could mislead
    symbol: Letter | None = None  # of a local given: its letter in a printed solution


class SlipTable(_Table):
    name: Name
    title: Text
    formula: Annotated[str, Field(min_length=1, max_length=500)]
    says: Text
    credit: float = Field(0.0, ge=0, le=1)
    where: list[str] = []


class ToleranceTable(_Table):
    relative: float = Field(0.0, ge=0, le=0.2)
    absolute: float = Field(0.0, ge=0)


class RangeTable(_Table):
    start: float = Field(alias="from")
    stop: float = Field(alias="to")


class AnswerTable(_Table):
    asked: str = ""
    # What theory does not derive: the bank's own formula in the units shown, its letter, the range it may
    # come out in, its rule as a sentence, and where it stands
    formula: Annotated[str, Field(min_length=1, max_length=500)] | None = None
    symbol: Letter | None = None
    range: RangeTable | None = None
    rule: Text | None = None
    source: Annotated[str, Field(min_length=1, max_length=300)] | None = None
    id: Name | None = None
    label: Text | None = None
    unit: str | None = None
    given: list[str] | None = None
    uses: list[str] = []
    carry: str | None = None
    # The answer from earlier ones and the shown givens by another formula, or an equation that it solves, for
    # `gearlab check` alone
    proof: str | None = None
    whole: Literal["nearest", "down", "up"] | None = None
    preferred: Literal["module", "diametral_pitch"] | None = None
    size_only: bool = False
    copied: bool = False  # the right answer may be a number of the question
    modulo: str | None = None
    tolerance: ToleranceTable | None = None
    # The precision asked: decimal places or significant figures; three figures where neither is stated.
    # Numbers are drawn by the tolerance alone: stating a precision changes no draw and needs no new version.
    places: int | None = Field(None, ge=0, le=8)
    figures: int | None = Field(None, ge=2, le=8)
    same_as: list[str] = []  # other quantities so near that they count as right, knowingly
    points: float = Field(1, gt=0, le=100)
    symbols: list[str] = []
    slips: list[SlipTable] = []


class OptionTable(_Table):
    text: Text
    right: bool = False
    says: str = ""


class FieldTable(_Table):
    """What a student chooses freely, in a question with many right answers."""

    word: Name
    label: Text | None = None
    unit: str | None = None
    start: Decimal = Field(alias="from")
    stop: Decimal = Field(alias="to")
    local: bool = False


class ConditionTable(_Table):
    """What the chosen numbers have to meet: a formula, or what the review of the question's design says."""

    title: Annotated[str, Field(min_length=1, max_length=120)]
    formula: Annotated[str, Field(min_length=1, max_length=500)] | None = None
    review: bool = False
    finding: Annotated[str, Field(min_length=1, max_length=80)] | None = None
    hangs_on: list[str] = []  # fields that decide a finding, where not all do
    says: Text
    id: Name | None = None
    shows: Annotated[str, Field(min_length=1, max_length=500)] | None = None
    unit: str | None = None
    wanted: Annotated[str, Field(min_length=1, max_length=200)] | None = None
    near: Annotated[str, Field(min_length=1, max_length=500)] | None = None
    fails_for: dict[str, Decimal | str] = {}
    points: float = Field(1, gt=0, le=100)


class GuideTable(_Table):
    """A line of a marking guide: what earns so many points of a text."""

    points: float = Field(gt=0, le=100)
    earns: Annotated[str, Field(min_length=1, max_length=400)]


class PlausibleTable(_Table):
    """What a reading can be at all: from, to; or how far (absolute, relative) from the computed value."""

    low: float | None = Field(None, alias="from")
    high: float | None = Field(None, alias="to")
    absolute: float | None = Field(None, gt=0)
    relative: float | None = Field(None, gt=0, lt=1)


class BandTable(_Table):
    """What a reading earns that lies so near the computed value, in its unit."""

    within: float = Field(gt=0)
    points: float = Field(gt=0, le=100)


class QuestionTable(_Table):
    id: Kebab
    version: int = Field(1, ge=1)
    kind: str = "number"
    of: str = "pair"
    features: list[str] = []
    length_unit: Literal["in", "mm"] = "mm"
    notation: Literal["inch", "iso"] = "inch"
    tooth_system: str = "full depth"
    title: Text
    prompt: Text
    # its row among the answers worked apart from theory; "blueprint" in banks frozen with older hand-outs
    worked: str = Field("", validation_alias=AliasChoices("worked", "blueprint"))
    level: int = Field(1, ge=1, le=5)
    minutes: float = Field(5, gt=0, le=120)
    # choice questions; the others carry points on their answers or conditions
    points: float = Field(1, gt=0, le=100)
    hints: list[Text] = []
    # what a right answer is told, in one sentence; without it the rule of the last step
    idea: Annotated[str, Field(min_length=1, max_length=300)] | None = None
    care: list[str] = []  # acts of gearlab/care.py, said before the question
    where: list[str] = []
    givens: dict[str, GivenTable] = {}
    answers: list[AnswerTable] = []
    options: list[OptionTable] = []
    keep_order: bool = False
    fields: list[FieldTable] = []
    conditions: list[ConditionTable] = []
    design: Annotated[str, Field(min_length=1, max_length=8000)] | None = None
    example: dict[str, Decimal | str] = {}
    bad_example: dict[str, Decimal | str] = {}


class _BankHead(_Table):
    title: Text
    lesson: str


class BankFile(_Table):
    bank: _BankHead
    question: list[Any] = Field(min_length=1)  # each read by the table of its kind


class _SetHead(_Table):
    name: Kebab
    title: Text
    use: Literal["marked", "practice"]
    # hand-ins tell the instructor how the questions were practised; no mark is worked out from it
    attempts: Literal["kept"] | None = None


class _SetQuestion(_Table):
    bank: Annotated[str, Field(min_length=1, max_length=300)]
    id: Kebab
    points: float | None = Field(None, gt=0, le=1000)


class SetFile(_Table):
    set: _SetHead
    question: list[_SetQuestion] = Field(min_length=1)


# -- what has to fit together ------------------------------------------------------------------------
BRACES = re.compile(r"\{([^{}]*)\}")

MOST_STEPS = 100_000  # values one given may take


@lru_cache(maxsize=4096)
def split_at_braces(text: str) -> tuple[str, ...]:
    """Text, name of a given, text, ..., text.

    >>> split_at_braces("{teeth} teeth")
    ('', 'teeth', ' teeth')
    """
    return tuple(BRACES.split(text))


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
    problems += [f"care: {fault}" for act in question.care if (fault := refused(act))]
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
    problems = (
        []
        if question.tooth_system in NAMES
        else [
            f"tooth_system: {question.tooth_system!r} is not a tooth system"
            f"{near(question.tooth_system, NAMES)}; use one of {', '.join(NAMES)}"
        ]
    )
    return problems + [
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
    if not given.local and given.symbol:
        problems.append("symbol: belongs to local givens; theory has one for this quantity")
    if given.local:
        if given.unit not in (None, *UNITS):
            problems.append(unknown_unit(given.unit or ""))
        if name in QUANTITIES:
            problems.append(
                f"local = true, but {name!r} is a quantity of theory ({QUANTITIES[name].meaning}); choose"
                f" another name, such as own_{name}"
            )
        if given.derived:
            problems.append("a local given cannot be derived")
    elif name not in QUANTITIES:
        problems.append(f"{no_quantity(name)} (or mark it local = true)")
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
