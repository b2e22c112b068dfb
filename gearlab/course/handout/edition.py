"""The edition of a set that was handed out: frozen beside the course key, and marked from there."""

import hashlib
import json
import os
import re
import tempfile
from dataclasses import dataclass
from functools import lru_cache
from importlib.metadata import version
from pathlib import Path, PurePosixPath

from pydantic import BaseModel, ConfigDict, ValidationError

from gearlab.course.coursekey import CourseKey
from gearlab.practice import HomeworkSet, load_set
from gearlab.writing import write_whole

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
