"""Question banks and homework sets: TOML files, validated, with messages an instructor can act on.

A bank holds questions; the numbers asked for are not written in it (theory derives them).  A set names
questions of banks and gives them points.  Loading checks the form of the file, every quantity word and every
formula; deriving the answers is left to the question itself (`check_bank` does all of it, as an instructor
would: every draw, every key by a second way, every listed slip).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from functools import lru_cache
from itertools import islice
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError

from gearlab.contents import lesson_bank, lessons_with_bank
from gearlab.practice.kinds import QUESTION_KINDS
from gearlab.practice.question import Question
from gearlab.practice.tables import BankError, BankFile, QuestionTable, SetFile, check
from gearlab.schema import near, spot, told
from gearlab.toml import tables_of

__all__ = [
    "Bank",
    "BankError",
    "HomeworkSet",
    "SetEntry",
    "check_bank",
    "check_set",
    "is_set",
    "load_bank",
    "load_set",
    "read_toml",
]

LARGEST_FILE = 2_000_000  # bytes
_BANKS_KEPT = 40
_MOST_AROUND = 200  # files looked at for one that is near a mistyped name


# -- what is handed out --------------------------------------------------------------------------------
@dataclass(frozen=True)
class Bank:
    """A question bank: a title and its questions by id."""

    title: str
    lesson: str
    path: Path
    questions: dict[str, Question] = field(repr=False)

    @property
    def name(self) -> str:
        """Name of the folder the bank lies in ("03_centre_distance")."""
        return self.path.parent.name

    def __len__(self) -> int:
        return len(self.questions)

    def __iter__(self) -> Iterator:
        return iter(self.questions.values())

    def __contains__(self, question_id: str) -> bool:
        return question_id in self.questions

    def __getitem__(self, question_id: str) -> Question:
        try:
            return self.questions[question_id]
        except KeyError:
            raise KeyError(
                f"no question {question_id!r} in {self.path}{near(question_id, self.questions)}"
            ) from None


@dataclass(frozen=True)
class SetEntry:
    """One question of a set, with the points it carries there [-].

    lesson: the lesson of gearlab by whose name the set names the bank; "" where it names a file.
    """

    question: Question
    points: float
    bank_path: Path
    lesson: str = ""

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
    attempts: bool = False  # hand-ins tell how the questions were practised

    @property
    def points(self) -> float:
        """Points of the whole set [-]."""
        return sum(entry.points for entry in self.entries)

    def files(self) -> tuple[Path, ...]:
        """The set file and every bank file it needs."""
        return (self.path, *dict.fromkeys(entry.bank_path for entry in self.entries))

    def __len__(self) -> int:
        return len(self.entries)

    def __iter__(self) -> Iterator:
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
def load_bank(path: str | Path) -> Bank:
    """Read a question bank: a ``bank.toml``, or the folder it lies in.

    As long as its bytes stay the same it is read once in a process: its questions keep what they worked out.
    BankError lists every problem found: file, question, field, what is expected.
    """
    path = Path(path)
    path = path / "bank.toml" if path.is_dir() else path
    return _bank(path, _content(path))


@lru_cache(maxsize=_BANKS_KEPT)
def _bank(path: Path, content: bytes) -> Bank:
    data = _read(path, content)
    problems: list[str] = []
    try:
        head = BankFile.model_validate(data)
    except ValidationError as error:
        problems += _problems(path, data, BankFile, error.errors())
    questions = data.get("question")
    tables = [
        _question(path, data, place, problems)
        for place in range(len(questions) if isinstance(questions, list) else 0)
    ]
    if problems:
        raise BankError(problems)
    owners = {name: kind for kind in QUESTION_KINDS.values() for name in kind.own_fields}
    seen: set[str] = set()
    for table in tables:
        where = f"{path}: question {table.id!r}"
        if table.id in seen:
            problems.append(f"{where}: id: each question needs an id of its own; this one stands twice")
        seen.add(table.id)
        problems += [f"{where}: {problem}" for problem in check(table, QUESTION_KINDS[table.kind], owners)]
    if problems:
        raise BankError(problems)
    return Bank(
        head.bank.title,
        head.bank.lesson,
        path,
        {table.id: QUESTION_KINDS[table.kind](table, path) for table in tables},
    )


def _question(path: Path, data: dict, place: int, problems: list[str]) -> QuestionTable:
    """The tables of one question, read by its kind; what is wrong with them goes to the problems."""
    question, where = data["question"][place], _where(path, data, place)
    kind = question.get("kind", "number") if isinstance(question, dict) else "number"
    if kind not in QUESTION_KINDS:
        problems.append(
            f"{where}: kind: {kind!r} is not a kind of question"
            f"{near(str(kind), QUESTION_KINDS)}; use one of {', '.join(QUESTION_KINDS)}"
        )
        return QuestionTable.model_construct()
    table = QUESTION_KINDS[kind].Table
    try:
        return table.model_validate(question)
    except ValidationError as error:
        problems += [
            f"{where}: {spot(fault['loc']) or 'file'}: {told(fault, table)}" for fault in error.errors()
        ]
        return QuestionTable.model_construct()


def _where(path: Path, data: dict, place: int) -> str:
    """The file, and the question by its id, or by its number where it has none."""
    question = data["question"][place]
    name = question.get("id") if isinstance(question, dict) else None
    return f"{path}: question {name!r}" if name else f"{path}: question number {place + 1}"


def is_set(path: str | Path) -> bool:
    """Whether a file means to be a homework set, not a bank.

    It has a table ``[set]``; no where it cannot be read [-].
    """
    path = Path(path)
    try:
        return path.is_file() and "set" in read_toml(path)
    except BankError:
        return False


def load_set(path: str | Path) -> HomeworkSet:
    """Read a homework set and the banks it names (paths relative to the set file, or names of lessons).

    BankError as for `load_bank`; also for a question that is not in its bank, or stands in the set twice.
    """
    path = Path(path)
    data = read_toml(path)
    try:
        table = SetFile.model_validate(data)
    except ValidationError as error:
        raise BankError(_problems(path, data, SetFile, error.errors())) from None
    problems: list[str] = []
    entries: list[SetEntry] = []
    banks: dict[Path, Bank | None] = {}
    seen: set[str] = set()
    for entry in table.question:
        where = f"{path}: question {entry.id!r}"
        bank_path, there = _on_disk(path.parent / entry.bank)
        lesson = "" if there else entry.bank
        if lesson:
            bank_path, there = _of_lesson(lesson, bank_path)
        if bank_path not in banks and not there:
            banks[bank_path] = None
            problems.append(
                f"{where}: bank: {entry.bank!r} cannot be read: no such file, seen from the set's folder, and"
                " no lesson of that name"
                + near(entry.bank, [*_banks_around(path.parent), *lessons_with_bank()])
            )
        if bank_path not in banks:
            try:
                banks[bank_path] = load_bank(bank_path)
            except BankError as error:
                banks[bank_path] = None
                problems += error.problems
        bank = banks[bank_path]
        if entry.id in seen:
            problems.append(f"{where}: id: a question may stand in a set once only")
        seen.add(entry.id)
        if bank is None:
            continue
        if entry.id not in bank:
            problems.append(f"{where}: id: not in {bank_path}{near(entry.id, bank.questions)}")
            continue
        question = bank[entry.id]
        points = float(question.points if entry.points is None else entry.points)
        entries.append(SetEntry(question, points, bank.path, lesson))
    if problems:
        raise BankError(problems)
    head = table.set
    return HomeworkSet(head.name, head.title, head.use, path, tuple(entries), head.attempts == "kept")


def _of_lesson(name: str, path: Path) -> tuple[Path, bool]:
    """The bank of a lesson of gearlab by its name; the path as it is where there is no such lesson."""
    return _on_disk(lesson_bank(name)) if name in lessons_with_bank() else (path, False)


def _banks_around(folder: Path) -> list[str]:
    """TOML files beside a set, in the folders beside it and in those beside its own, as a set names them."""
    steps = (("", folder, "*.toml"), ("", folder, "*/*.toml"), ("../", folder.parent, "*/*.toml"))
    return [
        before + path.relative_to(place).as_posix()
        for before, place, pattern in steps
        for path in islice(place.glob(pattern), _MOST_AROUND)
    ]


def read_toml(path: Path) -> dict:
    """What a TOML file holds; BankError where it cannot be read."""
    return _read(path, _content(path))


def _content(path: Path) -> bytes:
    try:
        content = path.read_bytes()
    except OSError as error:
        raise BankError([f"{path}: cannot be read: {error.strerror or error}"]) from None
    if len(content) > LARGEST_FILE:
        raise BankError([f"{path}: is {len(content)} bytes long, at most {LARGEST_FILE} are read"])
    return content


def _read(path: Path, content: bytes) -> dict:
    try:
        return tables_of(content.decode("utf-8"), parse_float=Decimal)
    except ValueError as error:
        raise BankError([f"{path}: is not valid TOML: {error}"]) from None


def _problems(
    path: Path, data: dict, model: type[BaseModel], errors: Sequence[Mapping[str, Any]]
) -> list[str]:
    """What does not fit in a file, one line each, with a question's id in place of its number."""
    lines = []
    for error in errors:
        place, where = tuple(error["loc"]), str(path)
        if len(place) > 1 and place[0] == "question":
            where, place = _where(path, data, place[1]), place[2:]
        lines.append(f"{where}: {spot(place) or 'file'}: {told(error, model)}")
    return lines


def _on_disk(path: Path) -> tuple[Path, bool]:
    """A path without detours, and whether a file is there; none is where no disk can hold the name."""
    try:
        return path.resolve(), path.exists()
    except (OSError, ValueError):
        return path, False


# -- checking ------------------------------------------------------------------------------------------
def check_bank(path: str | Path, draws: int = 200) -> list[str]:
    """Problems of a bank with so many draws of each question, one line each; none where all is well.

    Checked are the form of the file; that theory derives every answer; that fair numbers can be drawn; that
    each key solves the relations it comes from (by Newton's method, without the closed form); that each
    listed slip applies, is recognised and is worth less than the right answer; and that right answers, as
    typed by a student, are judged right.  Of a question with many right answers, that the example meets every
    condition for every draw, that the bad one does not, and that each condition can fail alone.
    """
    try:
        bank = load_bank(path)
    except BankError as error:
        return error.problems
    return [problem for question in bank for problem in _told(bank.path, question, draws)]


def check_set(path: str | Path, draws: int = 200) -> list[str]:
    """Problems of a homework set: of its form and its banks, and of its questions as by `check_bank`."""
    try:
        homework = load_set(path)
    except BankError as error:
        return error.problems
    return [
        problem for entry in homework.entries for problem in _told(entry.bank_path, entry.question, draws)
    ]


def _told(path: Path, question: Question, draws: int) -> list[str]:
    try:
        return [f"{path}: question {question.id!r}: {problem}" for problem in question.check(draws)]
    except BankError as error:
        return error.problems
