"""The edition of a set that is handed out, frozen beside the course key, and each student's sheet of it."""

from __future__ import annotations

import hashlib
import json
import os
import re
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from importlib.metadata import version
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING

from pydantic import BaseModel, ConfigDict, ValidationError

from gearlab.course.coursekey import CourseKey
from gearlab.course.roster import Student, file_name
from gearlab.practice import Draw, HomeworkSet, SetEntry, load_set
from gearlab.practice.handin import EDITION, HAND_OUT
from gearlab.practice.handin import file_name as hand_in_name
from gearlab.writing import write_whole

if TYPE_CHECKING:
    from gearlab.course.marks import MarkedTask

SET_NAME = re.compile(r"[a-z0-9-]{1,80}")


class _Frozen(BaseModel):
    model_config = ConfigDict(extra="forbid")

    gearlab: str
    edition: int
    set: str
    library: str
    set_file: str
    files: dict[str, str]


@dataclass(frozen=True)
class Edition:
    """A set with all its banks, as text.

    set_file: path of the set's file among the files.
    files: path to text: the set and every bank it needs.
    library: version of gearlab it was frozen with.
    """

    set_name: str
    set_file: str
    files: dict[str, str]
    library: str

    @property
    def digest(self) -> str:
        """A digest of the set and its banks, the same on every system."""
        content = json.dumps([self.set_file, self.files], sort_keys=True, ensure_ascii=True)
        return hashlib.sha256(content.encode("ascii")).hexdigest()

    def load(self) -> HomeworkSet:
        """The set, with its questions.

        Returns the set as this edition has it, whatever became of the files since.
        """
        return _loaded(self.set_file, tuple(self.files.items()))

    def write(self, path: Path) -> None:
        """Freeze this edition in a file of the owner's.

        path: the file, beside the key.
        """
        content = _Frozen(
            gearlab="frozen set",
            edition=1,
            set=self.set_name,
            library=self.library,
            set_file=self.set_file,
            files=self.files,
        )
        write_whole(path, content.model_dump_json(indent=1) + "\n", rights=0o600)


@lru_cache(maxsize=4)
def _loaded(set_file: str, files: tuple[tuple[str, str], ...]) -> HomeworkSet:
    """A set from its texts: the same texts are read once, and their questions keep what they worked out."""
    with tempfile.TemporaryDirectory(prefix="gearlab-edition-") as folder:
        try:
            for name, text in files:
                write_whole(Path(folder, name), text)
        except OSError as error:
            raise ValueError(
                f"frozen set: its files cannot be laid out ({error.strerror}); bring back the copy that"
                " hand-out wrote, and see that the disk has room"
            ) from None
        return load_set(Path(folder, set_file))


def edition_of(set_path: Path) -> Edition:
    """The edition of a set as its files stand now.

    A bank that the set names by its lesson lies beside the set in it, in a file of the lesson's name: so it
    is frozen like any other.
    ValueError if the set or one of its banks is not in order.
    """
    homework = load_set(set_path)
    lessons = {entry.bank_path: entry.lesson for entry in homework.entries if entry.lesson}
    paths = [Path(path).resolve() for path in homework.files() if path not in lessons]
    root = Path(os.path.commonpath([path.parent for path in paths]))
    files = {path.relative_to(root).as_posix(): path.read_text(encoding="utf-8") for path in paths}
    set_file = PurePosixPath(Path(set_path).resolve().relative_to(root).as_posix())
    for path, lesson in lessons.items():
        files[str(set_file.with_name(lesson))] = path.read_text(encoding="utf-8")
    return Edition(homework.name, str(set_file), files, version("gearlab"))


def _inside(name: str) -> bool:
    """Whether a path stays in the folder it is written below."""
    parts = PurePosixPath(name).parts
    foreign = "\0" if os.name == "posix" else "\0\\:"  # a drive, or a way of another kind
    return bool(parts) and parts[0] != "/" and ".." not in parts and not set(foreign) & set(name)


def frozen_edition(key: CourseKey, set_name: str) -> Edition | None:
    """The edition of a set that was handed out with a key.

    Returns the frozen edition; None if the set was never handed out with this key.
    ValueError if the frozen copy is damaged.
    """
    path = key.frozen_path(set_name)
    return read_frozen(path, set_name) if path.is_file() else None


def read_frozen(path: Path, set_name: str = "") -> Edition:
    """The edition in a frozen copy.

    set_name: the set that it must be of; "" for any.
    ValueError if the frozen copy is damaged.
    """
    try:
        frozen = _Frozen.model_validate_json(path.read_bytes())
    except ValidationError:
        frozen = None
    if frozen is None or frozen.gearlab != "frozen set" or set_name not in ("", frozen.set):
        raise ValueError(f"frozen set {path}: is damaged; bring back the copy that hand-out wrote")
    if frozen.set_file not in frozen.files:
        raise ValueError(f"frozen set {path}: its set is missing; bring back the copy that hand-out wrote")
    for name in frozen.files:
        if not _inside(name):
            raise ValueError(
                f"frozen set {path}: names the file {name[:80]!r} outside its own folder; bring back the copy"
                " that hand-out wrote"
            )
    return Edition(frozen.set, frozen.set_file, frozen.files, frozen.library)


# -- a sheet of it -------------------------------------------------------------------------------------
@dataclass(frozen=True, slots=True)
class Task:
    """One question of a sheet, drawn for one student.

    entry: the question and what it is worth in this set.
    """

    entry: SetEntry
    draw: Draw


class SheetMaker:
    """Draws the sheets of one edition of a set.

    edition: the edition that is handed out.
    """

    def __init__(self, edition: Edition, key: CourseKey):
        self.set = edition.load()
        self.digest = edition.digest
        self._key = key

    def packet(self, student: str) -> str:
        """The code of a student's sheet."""
        return self._key.packet_code(self.set.name, self.digest, student)

    def tasks(self, student: str) -> list[Task]:
        """The questions with a student's numbers: the same whenever they are drawn.

        They come in the order of the set.
        ValueError if a question has no fair numbers for this student.
        """
        return [Task(entry, self.draws(entry, [student])[0]) for entry in self.set.entries]

    def draws(self, entry: SetEntry, students: Iterable[str]) -> list[Draw]:
        """The numbers of one question for several students.

        ValueError if it has no fair numbers for one of them.
        """
        draw, secret, name = entry.question.draw, self._key.secret, self.set.name
        drawn = []
        for student in students:
            try:
                drawn.append(draw(key=secret, set=name, student=student))
            except ValueError as error:
                # the edition was loaded from a passing folder
                reason = re.sub(r"\S*gearlab-edition-[^/\\]*[/\\]", "", str(error))
                raise ValueError(f"set {name!r}, student {student!r}: {reason}") from None
        return drawn

    def sheet(self, student: Student, tasks: list[Task]) -> dict:
        """What the student's notebook knows: questions and numbers, no key, no tolerance, no slips.

        Returns plain data, ready for JSON.
        """
        return {
            "gearlab": HAND_OUT,
            "edition": EDITION,
            "set": self.set.name,
            "title": self.set.title,
            "student": student.id,
            "packet": self.packet(student.id),
            "file": hand_in_name(self.set.name, file_name(student.id)),
            "questions": [self._question(task) for task in tasks],
            **({"attempts": "kept"} if self.set.attempts else {}),
        }

    @staticmethod
    def _question(task: Task) -> dict:
        question, draw = task.entry.question, task.draw
        return {
            "id": question.id,
            "version": question.version,
            "kind": question.kind,
            "title": question.title,
            "prompt": draw.prompt,
            "points": task.entry.points,
            "givens": {given.name: given.text for given in draw.givens},
            **question.sheet(draw),
            "contracts": {name: contract.to_json() for name, contract in question.contracts.items()},
        }


def shown_givens(task: Task | MarkedTask) -> dict[str, str]:
    """The givens as they stand on the sheet; an expression question shows symbols, no numbers."""
    texts, shown = task.draw.texts, task.entry.question.shown_names
    if len(texts) == len(shown):  # nothing is hidden, in most questions
        return texts
    return {name: texts[name] for name in shown}
