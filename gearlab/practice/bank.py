"""Question banks and homework sets: TOML files, validated, with messages an instructor can act on.

A bank holds questions; the numbers asked for are not written in it (theory derives them).  A set names questions of
banks and gives them points.  Loading checks the form of the file, every quantity word and every formula; deriving the
answers is left to the question itself (`gearlab.practice.checking.check_bank` does all of it).
"""

from __future__ import annotations

import difflib
import re
import tomllib
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from gearlab.practice.expression import ExpressionError, compile_formula
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import UNITS, shown_unit

__all__ = ["Bank", "BankError", "HomeworkSet", "SetEntry", "load_bank", "load_set"]

LARGEST_FILE = 2_000_000  # bytes
MOST_STEPS = 100_000  # values one given may take

Name = Annotated[str, Field(min_length=1, max_length=80, pattern=r"^[A-Za-z][A-Za-z0-9_.-]*$")]
Kebab = Annotated[str, Field(min_length=1, max_length=80, pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]
Text = Annotated[str, Field(min_length=1, max_length=4000)]


class BankError(ValueError):
    """Problems of a bank or set file, one line each: file, question, field, what is expected."""

    def __init__(self, problems: list[str]):
        self.problems = problems
        super().__init__("\n".join(problems))


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", populate_by_name=True, frozen=True, arbitrary_types_allowed=True)


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
    whole: Literal["nearest", "down", "up"] | None = None
    preferred: Literal["module", "diametral_pitch"] | None = None
    size_only: bool = False
    tolerance: ToleranceTable | None = None
    points: float = Field(1, gt=0, le=100)
    symbols: list[str] = []
    slips: list[SlipTable] = []


class OptionTable(_Table):
    text: Text
    right: bool = False
    says: str = ""


class QuestionTable(_Table):
    id: Kebab
    version: int = Field(1, ge=1)
    kind: Literal["number", "expression", "choice"] = "number"
    of: Literal["gear", "pair", "internal pair"] = "pair"
    length_unit: Literal["in", "mm"] = "mm"
    notation: Literal["inch", "iso"] = "inch"
    tooth_system: str = "full depth"
    title: Text
    prompt: Text
    blueprint: str = ""
    level: int = Field(1, ge=1, le=5)
    minutes: float = Field(5, gt=0, le=120)
    points: float = Field(1, gt=0, le=100)  # choice questions; the others carry points on their answers
    hints: list[Text] = []
    where: list[str] = []
    givens: dict[str, GivenTable] = {}
    answers: list[AnswerTable] = []
    options: list[OptionTable] = []
    keep_order: bool = False


class _BankHead(_Table):
    title: Text
    lesson: str


class _BankFile(_Table):
    bank: _BankHead
    question: list[QuestionTable] = Field(min_length=1)


class _SetHead(_Table):
    name: Kebab
    title: Text
    use: Literal["marked", "practice"]


class _SetQuestion(_Table):
    bank: Annotated[str, Field(min_length=1, max_length=300)]
    id: Kebab
    points: float | None = Field(None, gt=0, le=1000)


class _SetFile(_Table):
    set: _SetHead
    question: list[_SetQuestion] = Field(min_length=1)


# -- what is handed out ----------------------------------------------------------------------------------------------------
@dataclass(frozen=True)
class Bank:
    """A question bank: a title and its questions by id."""

    title: str
    lesson: str
    path: Path
    questions: dict = field(repr=False)

    @property
    def name(self) -> str:
        """Name of the folder the bank lies in ("03_centre_distance")."""
        return self.path.parent.name

    def __len__(self) -> int:
        return len(self.questions)

    def __iter__(self):
        return iter(self.questions.values())

    def __contains__(self, question_id: str) -> bool:
        return question_id in self.questions

    def __getitem__(self, question_id: str):
        try:
            return self.questions[question_id]
        except KeyError:
            raise KeyError(f"no question {question_id!r} in {self.path}{_near(question_id, self.questions)}") from None


@dataclass(frozen=True)
class SetEntry:
    """One question of a set, with the points it carries there [-]."""

    question: object
    points: float
    bank_path: Path

    @property
    def scale(self) -> float:
        """What a verdict's points are multiplied with [-]."""
        return self.points / self.question.points


@dataclass(frozen=True)
class HomeworkSet:
    """Questions handed out together; "marked" or for "practice"."""

    name: str
    title: str
    use: str
    path: Path
    entries: tuple[SetEntry, ...]

    @property
    def points(self) -> float:
        """Points of the whole set [-]."""
        return sum(entry.points for entry in self.entries)

    def files(self) -> tuple[Path, ...]:
        """The set file and every bank file it needs."""
        return (self.path, *dict.fromkeys(entry.bank_path for entry in self.entries))

    def __len__(self) -> int:
        return len(self.entries)

    def __iter__(self):
        return iter(self.entries)

    def __getitem__(self, question_id: str) -> SetEntry:
        for entry in self.entries:
            if entry.question.id == question_id:
                return entry
        raise KeyError(f"no question {question_id!r} in {self.path}{_near(question_id, [e.question.id for e in self.entries])}")


# -- loading -----------------------------------------------------------------------------------------------------------------
def load_bank(path) -> Bank:
    """Read a question bank.

    Parameters
    ----------
    path : str or path
        A ``bank.toml``, or the folder it lies in [-].

    Raises
    ------
    BankError
        Listing every problem found: file, question, field, what is expected.
    """
    path = Path(path)
    path = path / "bank.toml" if path.is_dir() else path
    data = _toml(path)
    try:
        table = _BankFile.model_validate(data)
    except ValidationError as error:
        raise BankError(_problems(path, data, error)) from None
    problems = []
    seen: set[str] = set()
    for question in table.question:
        where = f"{path}: question {question.id!r}"
        if question.id in seen:
            problems.append(f"{where}: id: each question needs an id of its own; this one stands twice")
        seen.add(question.id)
        problems += [f"{where}: {problem}" for problem in _check(question)]
    if problems:
        raise BankError(problems)
    from gearlab.practice.question import Question  # a question needs the tables above

    return Bank(table.bank.title, table.bank.lesson, path, {one.id: Question(one, path) for one in table.question})


def load_set(path) -> HomeworkSet:
    """Read a homework set and the banks it names (paths relative to the set file).

    Raises
    ------
    BankError
        As for `load_bank`; also for a question that is not in its bank, or stands in the set twice.
    """
    path = Path(path)
    data = _toml(path)
    try:
        table = _SetFile.model_validate(data)
    except ValidationError as error:
        raise BankError(_problems(path, data, error)) from None
    problems, entries, banks = [], [], {}
    seen: set[str] = set()
    for one in table.question:
        where = f"{path}: question {one.id!r}"
        bank_path = (path.parent / one.bank).resolve()
        if bank_path not in banks:
            try:
                banks[bank_path] = load_bank(bank_path)
            except BankError as error:
                banks[bank_path] = None
                problems += error.problems
        bank = banks[bank_path]
        if one.id in seen:
            problems.append(f"{where}: id: a question may stand in a set once only")
        seen.add(one.id)
        if bank is None:
            continue
        if one.id not in bank:
            problems.append(f"{where}: id: not in {bank_path}{_near(one.id, bank.questions)}")
            continue
        question = bank[one.id]
        entries.append(SetEntry(question, float(question.points if one.points is None else one.points), bank.path))
    if problems:
        raise BankError(problems)
    return HomeworkSet(table.set.name, table.set.title, table.set.use, path, tuple(entries))


def _toml(path: Path) -> dict:
    try:
        data = path.read_bytes()
    except OSError as error:
        raise BankError([f"{path}: cannot be read: {error.strerror or error}"]) from None
    if len(data) > LARGEST_FILE:
        raise BankError([f"{path}: is {len(data)} bytes long, at most {LARGEST_FILE} are read"])
    try:
        return tomllib.loads(data.decode("utf-8"), parse_float=Decimal)
    except (UnicodeDecodeError, tomllib.TOMLDecodeError, ValueError) as error:
        raise BankError([f"{path}: is not valid TOML: {error}"]) from None


# -- messages ------------------------------------------------------------------------------------------------------------------
def _near(word: str, words) -> str:
    near = difflib.get_close_matches(word, list(words), 3, 0.55)
    return f"; near: {', '.join(near)}" if near else ""


def _problems(path: Path, data: dict, error: ValidationError) -> list[str]:
    """pydantic's findings as one line each, with the question's id in place of its number."""
    lines = []
    for one in error.errors():
        place = list(one["loc"])
        where = str(path)
        if len(place) > 1 and place[0] == "question" and isinstance(place[1], int):
            question = data["question"][place[1]]
            name = question.get("id") if isinstance(question, dict) else None
            where += f": question {name!r}" if name else f": question number {place[1] + 1}"
            place = place[2:]
        spot = ".".join(str(part + 1) if isinstance(part, int) else part for part in place if part != "function-after")
        message = one["msg"][0].lower() + one["msg"][1:]
        if one["type"] == "extra_forbidden":
            message = f"is not a field known here{_near(str(place[-1]), _fields_near(place))}"
        elif one["type"] == "missing":
            message = "is missing"
        elif "input" in one and isinstance(one["input"], (str, int, float, Decimal, bool)):
            message += f" (it is {one['input']!r})"
        lines.append(f"{where}: {spot or 'file'}: {message}")
    return lines


def _fields_near(place: list) -> list[str]:
    tables = {"givens": GivenTable, "answers": AnswerTable, "slips": SlipTable, "options": OptionTable, "tolerance": ToleranceTable}
    table = next((tables[part] for part in reversed(place[:-1]) if part in tables), QuestionTable)
    return [field.alias or name for name, field in table.model_fields.items()]


# -- checks beyond the form -------------------------------------------------------------------------------------------------------
_BRACES = re.compile(r"\{([^{}]*)\}")


def _check(question: QuestionTable) -> list[str]:
    problems: list[str] = []
    shown = [name for name, given in question.givens.items() if not given.hidden]
    for name, given in question.givens.items():
        problems += [f"givens.{name}: {problem}" for problem in _check_given(name, given, question)]
    for place, text in [("prompt", question.prompt)] + [(f"options.{i + 1}.text", o.text) for i, o in enumerate(question.options)]:
        for name in _BRACES.findall(text):
            if name not in shown:
                problems.append(f"{place}: {{{name}}} is not a shown given{_near(name, shown)}")
            elif question.kind == "expression":
                problems.append(f"{place}: an expression question shows no numbers; write the symbol in place of {{{name}}}")
    problems += _check_formulas("where", question.where, question.givens)
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
            problems.append(f"answers.{number}: id: {name!r} stands twice or is reserved; give this answer an id of its own")
        problems += [f"{place}: {problem}" for problem in _check_answer(answer, question, shown, before)]
        before.append(name)
    return problems


def _check_given(name: str, given: GivenTable, question: QuestionTable) -> list[str]:
    problems = []
    ways = [given.one_of is not None, given.derived, given.start is not None or given.stop is not None or given.step is not None]
    if sum(ways) != 1:
        return ["give either one_of = [...], or from, to and step, or derived = true"]
    if ways[0] and not 1 <= len(given.one_of) <= MOST_STEPS:
        problems.append("one_of: needs at least one value")
    if ways[2]:
        if None in (given.start, given.stop, given.step):
            problems.append("from, to and step are all needed")
        elif given.step <= 0 or given.stop < given.start:
            problems.append(f"from {given.start} to {given.stop} in steps of {given.step} has no values; step must be positive and to not below from")
        elif (given.stop - given.start) / given.step > MOST_STEPS:
            problems.append(f"more than {MOST_STEPS} values; make the step larger")
        elif (given.stop - given.start) % given.step:
            last = given.start + (given.stop - given.start) // given.step * given.step
            problems.append(f"from {given.start} no whole number of steps of {given.step} leads to {given.stop}; the last value before it is {last}")
    if given.local:
        if name in QUANTITIES:
            problems.append(f"local = true, but {name!r} is a quantity of theory; choose another name")
        if given.derived:
            problems.append("a local given cannot be derived")
    elif name not in QUANTITIES:
        problems.append(f"is not a quantity of theory{_near(name, QUANTITIES)} (or mark it local = true)")
    else:
        problems += _check_unit(given.unit, name, question)
    if given.derived:
        earlier = list(question.givens)[: list(question.givens).index(name)]
        if given.places is None:
            problems.append("places: a derived given needs the number of decimals shown")
        if given.plus is not None and given.plus not in earlier:
            problems.append(f"plus: {given.plus!r} is not a given that stands before{_near(given.plus, earlier)}")
    elif given.places is not None or given.plus is not None:
        problems.append("places and plus belong to derived givens only")
    return problems


def _check_unit(unit: str | None, word: str, question: QuestionTable) -> list[str]:
    if unit is None:
        return []
    dimension = QUANTITIES[word].dimension
    if unit not in UNITS:
        return [f"unit: {unit!r} is not known{_near(unit, UNITS)}"]
    counting = {"count", "number", "turns"}
    if UNITS[unit].dimension != dimension and not {UNITS[unit].dimension, dimension} <= counting:
        usual = shown_unit(dimension, question.length_unit)
        return [f"unit: {unit!r} measures a {UNITS[unit].dimension}, but {word} is a {dimension} (for example {usual!r})"]
    return []


def _check_answer(answer: AnswerTable, question: QuestionTable, shown: list[str], before: list[str]) -> list[str]:
    problems = []
    if answer.asked not in QUANTITIES:
        return [f"asked: {answer.asked!r} is not a quantity of theory{_near(answer.asked, QUANTITIES)}"]
    problems += _check_unit(answer.unit, answer.asked, question)
    usable = [name for name in shown if not question.givens[name].local]
    for name in answer.given or ():
        if name not in usable:
            problems.append(f"given: {name!r} is not a shown given of this question{_near(name, usable)}")
    for name in answer.uses:
        if name not in before:
            problems.append(f"uses: {name!r} is not an answer that stands before this one{_near(name, before)}")
    if answer.carry is not None:
        problems += _check_formulas("carry", [answer.carry], [*before, *shown])
    if question.kind == "expression":
        for name in answer.symbols:
            if name not in usable:
                problems.append(f"symbols: {name!r} is not a given of this question{_near(name, usable)}")
        if not answer.symbols:
            problems.append("symbols: an expression question names the quantities that may stand in the answer")
        for used, name in ((answer.whole, "whole"), (answer.preferred, "preferred"), (answer.uses, "uses"), (answer.tolerance, "tolerance")):
            if used:
                problems.append(f"{name}: does not go with an expression question")
    elif answer.symbols:
        problems.append(f"symbols: belong to expression questions only, this one is of kind {question.kind!r}")
    if answer.whole and answer.preferred:
        problems.append("whole and preferred exclude each other")
    names = [slip.name for slip in answer.slips]
    for slip in answer.slips:
        if names.count(slip.name) > 1:
            problems.append(f"slips.{slip.name}: name stands twice")
        allowed = answer.symbols if question.kind == "expression" else shown
        problems += _check_formulas(f"slips.{slip.name}.formula", [slip.formula], allowed)
        problems += _check_formulas(f"slips.{slip.name}.where", slip.where, allowed)
    return problems


def _check_formulas(place: str, formulas: list[str], names) -> list[str]:
    problems = []
    for formula in formulas:
        try:
            compile_formula(formula, names)
        except ExpressionError as error:
            problems.append(f"{place}: {formula!r}: {error}")
    return problems
