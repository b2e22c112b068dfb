"""The tables of a question bank and of a homework set.

What fields there are, of which type, in which range.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

__all__ = [
    "AnswerTable",
    "BankError",
    "BankFile",
    "ConditionTable",
    "FieldTable",
    "GivenTable",
    "OptionTable",
    "QuestionTable",
    "SetFile",
    "SlipTable",
    "ToleranceTable",
]

Name = Annotated[str, Field(min_length=1, max_length=80, pattern=r"^[A-Za-z][A-Za-z0-9_.-]*$")]
Kebab = Annotated[str, Field(min_length=1, max_length=80, pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]
Text = Annotated[str, Field(min_length=1, max_length=4000)]


class BankError(ValueError):
    """Problems of a bank or set file, one line each: file, question, field, what is expected."""

    def __init__(self, problems: list[str]):
        self.problems = problems
        super().__init__("\n".join(problems))


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


class AnswerTable(_Table):
    asked: str
    id: Name | None = None
    label: Text | None = None
    unit: str | None = None
    given: list[str] | None = None
    uses: list[str] = []
    carry: str | None = None
    # The answer from earlier ones and the shown givens by a formula of its own, for `gearlab check` alone
    proof: str | None = None
    whole: Literal["nearest", "down", "up"] | None = None
    preferred: Literal["module", "diametral_pitch"] | None = None
    size_only: bool = False
    copied: bool = False  # the right answer may be a number of the question
    modulo: str | None = None
    tolerance: ToleranceTable | None = None
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
    blueprint: str = ""
    level: int = Field(1, ge=1, le=5)
    minutes: float = Field(5, gt=0, le=120)
    # choice questions; the others carry points on their answers or conditions
    points: float = Field(1, gt=0, le=100)
    hints: list[Text] = []
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


class _SetQuestion(_Table):
    bank: Annotated[str, Field(min_length=1, max_length=300)]
    id: Kebab
    points: float | None = Field(None, gt=0, le=1000)


class SetFile(_Table):
    set: _SetHead
    question: list[_SetQuestion] = Field(min_length=1)
