"""Question banks and homework sets: TOML files, validated, with messages an instructor can act on.

A bank holds questions; the numbers asked for are not written in it (theory derives them).  A set names
questions of banks and gives them points.  Loading checks the form of the file, every quantity word and every
formula; deriving the answers is left to the question itself (`gearlab.practice.checking.check_bank` does all
of it).
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path

from pydantic import ValidationError

from gearlab.practice.question import Question
from gearlab.practice.schema import BankFile, SetFile, check, fields_near, near
from gearlab.practice.tables import BankError

__all__ = ["Bank", "BankError", "HomeworkSet", "SetEntry", "is_set", "load_bank", "load_set"]

LARGEST_FILE = 2_000_000  # bytes


# -- what is handed out --------------------------------------------------------------------------------
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
            raise KeyError(
                f"no question {question_id!r} in {self.path}{near(question_id, self.questions)}"
            ) from None


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
        raise KeyError(
            f"no question {question_id!r} in"
            f" {self.path}{near(question_id, [e.question.id for e in self.entries])}"
        )


# -- loading -------------------------------------------------------------------------------------------
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
        table = BankFile.model_validate(data)
    except ValidationError as error:
        raise BankError(_problems(path, data, error)) from None
    problems = []
    seen: set[str] = set()
    for question in table.question:
        where = f"{path}: question {question.id!r}"
        if question.id in seen:
            problems.append(f"{where}: id: each question needs an id of its own; this one stands twice")
        seen.add(question.id)
        problems += [f"{where}: {problem}" for problem in check(question)]
    if problems:
        raise BankError(problems)
    return Bank(
        table.bank.title, table.bank.lesson, path, {one.id: Question(one, path) for one in table.question}
    )


def is_set(path) -> bool:
    """Whether a file means to be a homework set, not a bank.

    It has a table ``[set]``; no where it cannot be read [-].
    """
    path = Path(path)
    try:
        return path.is_file() and "set" in _toml(path)
    except BankError:
        return False


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
        table = SetFile.model_validate(data)
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
            problems.append(f"{where}: id: not in {bank_path}{near(one.id, bank.questions)}")
            continue
        question = bank[one.id]
        entries.append(
            SetEntry(question, float(question.points if one.points is None else one.points), bank.path)
        )
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
        spot = ".".join(
            str(part + 1) if isinstance(part, int) else part for part in place if part != "function-after"
        )
        message = one["msg"][0].lower() + one["msg"][1:]
        if one["type"] == "extra_forbidden":
            message = f"is not a field known here{near(str(place[-1]), fields_near(place))}"
        elif one["type"] == "missing":
            message = "is missing"
        elif "input" in one and isinstance(one["input"], (str, int, float, Decimal, bool)):
            message += f" (it is {one['input']!r})"
        lines.append(f"{where}: {spot or 'file'}: {message}")
    return lines
