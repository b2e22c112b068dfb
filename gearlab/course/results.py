"""Results of a marking: written whole into a fresh folder and switched as one; the earlier ones are kept.

Beside a folder DIR of results lie `earlier/DIR/DATE_TIME` and, while a program writes, a lock and a folder
whose names begin with a full stop.
"""

import contextlib
import hashlib
import os
import re
import secrets
import shutil
import stat
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from glob import escape
from itertools import zip_longest
from pathlib import Path

from gearlab.course.lock import Lock
from gearlab.quoting import one_line
from gearlab.writing import kind_of, put_in_place, write_whole

DIGESTS = "digests.txt"  # what was written, with its digest; the last file of a folder that is whole
EARLIER = "earlier"
CHANGES = "changes.csv"  # tells how these results differ from those before them
EDITED = "edited"  # where a file lies that a person edited after it was written
CARRIED_LIMIT = 2000  # files of a person's own that go with the results
SMALL = 1_000_000  # bytes of a file that is read at once
_END = ("", "")  # of a record
# What a system or a program that looks at a folder leaves in it.
PASSING = re.compile(r"(^|/)(\.DS_Store|Thumbs\.db|desktop\.ini|~\$[^/]*|\.~lock\.[^/]*#)$")


@dataclass
class Renewal:
    """One writing of new results: made by `Results.renewed`.

    fresh: the folder to write into.
    told: what the instructor should know about it, a sentence each; complete when the results are switched.
    digests: of files that were written, by their paths; those of the others are read again.
    """

    fresh: Path
    told: list[str] = field(default_factory=list)
    digests: Mapping[str, str] = field(default_factory=dict)


class Results:
    """A folder of results.

    folder: the present results; there or not.
    ValueError if such a folder cannot be switched as one.
    """

    def __init__(self, folder: Path):
        self.folder = Path(folder).resolve()
        self.earlier = self.folder.parent / EARLIER / self.folder.name
        self._fresh_names = f".{self.folder.name}.new-"
        if self.folder.name == EARLIER or self.folder.parent == self.folder:
            raise ValueError(
                f"results folder {folder}: earlier results lie beside it in {EARLIER!r}; choose another name"
            )
        if self.folder.exists() and not self.folder.is_dir():
            raise ValueError(f"results folder {folder}: is a file; choose another name")

    def refuse_around(self, paths: Iterable[Path]) -> None:
        """Refuse to switch a folder in which something else lies: the working folder, a key, a roster.

        ValueError if one of the paths, or the working folder, is the folder or lies in it.
        """
        for path in paths:
            if Path(path).resolve().is_relative_to(self.folder):
                raise ValueError(
                    f"results folder {self.folder}: {path} is in it; results need a folder of their own,"
                    " which is switched as one: name it with --to"
                )
        if Path.cwd().is_relative_to(self.folder):
            raise ValueError(
                f"results folder {self.folder}: you are in it, and it is switched as one; go out of it (cd"
                " ..), or choose another with --to"
            )

    @contextlib.contextmanager
    def renewed(self) -> Iterator[Renewal]:
        """A fresh folder to write into; it takes the place of the present results when the block ends well.

        ValueError if another program is writing these results now, or the folder cannot be switched.
        """
        self.folder.parent.mkdir(parents=True, exist_ok=True)
        with Lock(self.folder.parent / f".{self.folder.name}.lock", f"results {self.folder}") as lock:
            told = self._repair()
            if lock.taken_over and not told:
                told.append(f"A marking begun {lock.taken_over} was stopped in the middle; it left nothing.")
            self._refuse_foreign_places()
            fresh = self.folder.parent / f"{self._fresh_names}{secrets.token_hex(4)}"
            fresh.mkdir()
            renewal = Renewal(fresh, told)
            try:
                yield renewal
                self._switch(renewal)
            finally:
                shutil.rmtree(fresh, ignore_errors=True)

    # What was there before

    def _repair(self) -> list[str]:
        """Finish or clear away what a killed program left; the lock is held."""
        told = []
        for left in sorted(self.folder.parent.glob(f"{escape(self._fresh_names)}*")):
            if left.is_file():
                left.unlink()
            elif not self.folder.exists() and (left / DIGESTS).is_file():
                put_in_place(left, self.folder)
                told.append(
                    f"A marking was stopped while it switched its results: they were complete, and are now in"
                    f" {self.folder}."
                )
            else:
                shutil.rmtree(left, ignore_errors=True)
                told.append("A marking was stopped in the middle; what it had begun was cleared away.")
        return told

    def _refuse_foreign_places(self) -> None:
        """Refuse a folder that holds much else: it would be copied with every marking."""
        if not self.folder.is_dir():
            return
        with os.scandir(self.folder) as scan:
            own = {entry.name for entry in scan if not entry.is_symlink()} - self._tops()
        count = 0
        for name in own - {"feedback"}:
            path = self.folder / name
            for _ in _walk(path) if path.is_dir() else (name,):
                count += 1
                if count > CARRIED_LIMIT:
                    raise ValueError(
                        f"results folder {self.folder}: holds more than {CARRIED_LIMIT} other files; choose a"
                        " folder for results alone"
                    )

    def _tops(self) -> set[str]:
        """The names that the present results have in their folder."""
        return {_top(path) for path, _ in self._record()} | {DIGESTS}

    def _record(self) -> Iterator[tuple[str, str]]:
        """What the present results say they hold: path and digest, in order; a damaged record ends early."""
        before: list[str] = []
        try:
            with open(self.folder / DIGESTS, encoding="utf-8") as file:
                for line in file:
                    match = re.fullmatch(r"([0-9a-f]{64})  ([^\n]+)\n", line)
                    steps = match[2].split("/") if match else []
                    if match is None or steps <= before:
                        return
                    before = steps
                    yield match[2], match[1]
        except (OSError, UnicodeDecodeError):
            return

    def differing(self) -> Iterator[tuple[str, str]]:
        """Files that are not as they were written: path, and "edited", "foreign" or "gone"."""
        record = self._record()
        known = next(record, _END)
        for path in _walk(self.folder):
            if path == DIGESTS:
                continue
            while known[0] and known[0].split("/") < path.split("/"):
                yield known[0], "gone"
                known = next(record, _END)
            if known[0] == path:
                if digest(f"{self.folder}/{path}") != known[1]:
                    yield path, "edited"
                known = next(record, _END)
            elif not PASSING.search(path):
                yield path, "foreign"
        while known[0]:
            yield known[0], "gone"
            known = next(record, _END)

    def made(self) -> datetime | None:
        """When the present results were written; None if there are none."""
        try:
            return datetime.fromtimestamp((self.folder / DIGESTS).stat().st_mtime)
        except OSError:
            return None

    def earlier_states(self) -> list[str]:
        """The names of the earlier results, the oldest first."""
        return sorted(path.name for path in self.earlier.glob("*") if path.is_dir())

    # The switch

    def _switch(self, renewal: Renewal) -> None:
        fresh = renewal.fresh
        record = fresh.with_name(f"{fresh.name}.txt")
        try:
            with open(record, "w", encoding="utf-8", newline="\n") as file:
                file.writelines(
                    f"{renewal.digests.get(path) or digest(f'{fresh}/{path}')}  {path}\n"
                    for path in _walk(fresh)
                )
            there = self.folder.is_dir() and any(self.folder.iterdir())
            if there:
                differing, tops = list(self.differing()), self._tops()
                recorded = (self.folder / DIGESTS).is_file()
                if (
                    recorded
                    and _alike(record, self.folder / DIGESTS)
                    and all(state == "foreign" and _top(path) not in tops for path, state in differing)
                ):
                    os.utime(self.folder / DIGESTS)  # made now, so no decision is newer than they are
                    renewal.told.append("The results are the same as before; they were left as they are.")
                    return
                renewal.told += self._carry(fresh, differing, recorded)
                shutil.copymode(self.folder, fresh)
            put_in_place(record, fresh / DIGESTS)  # the last file: what has it is whole
        finally:
            record.unlink(missing_ok=True)
        if not there:
            with contextlib.suppress(FileNotFoundError):
                self.folder.rmdir()
            return self._move(fresh, self.folder)
        kept = self._place_for_earlier()
        self._move(self.folder, kept)
        try:
            self._move(fresh, self.folder)
        except BaseException:
            put_in_place(kept, self.folder)  # as it was
            raise
        renewal.told.append(f"The results before are kept in {kept}.")

    def _move(self, source: Path, target: Path) -> None:
        try:
            put_in_place(source, target)
        except OSError as error:
            raise ValueError(
                f"results {self.folder}: cannot be switched ({error.strerror}): a file in it may be open in"
                " another program, or the folder is not yours to move; close it and mark again. The results"
                " of before stand as they were"
            ) from None

    def _place_for_earlier(self) -> Path:
        """A name that tells when the present results were written."""
        stamp = (self.made() or datetime.now()).strftime("%Y-%m-%d_%H-%M-%S")
        self.earlier.mkdir(parents=True, exist_ok=True)
        place, count = self.earlier / stamp, 1
        while place.exists():
            count += 1
            place = self.earlier / f"{stamp}_{count}"
        return place

    def _carry(self, fresh: Path, differing: list[tuple[str, str]], recorded: bool) -> list[str]:
        """Take over what a person put into the results; what they edited is laid aside and told."""
        told, aside = [], []
        with os.scandir(fresh) as scan:
            new = {entry.name for entry in scan}
        tops = new | self._tops()
        for path, state in differing:
            if state == "foreign" and _top(path) not in tops:
                told += self._copied(path, fresh / path)
            elif state == "edited" or (state == "foreign" and recorded):
                aside.append(path)
        if not recorded and any(_top(path) in new for path, _ in differing):
            told.append("The results there were written by an earlier gearlab; they are kept as they were.")
        place = fresh / EDITED
        while place.is_file():
            place = place.with_name(f"{place.name}-by-hand")
        for path in aside:
            target = place / path
            count = 1
            while target.exists() and digest(str(target)) != digest(f"{self.folder}/{path}"):
                count += 1
                target = (place / path).with_stem(f"{Path(path).stem} ({count})")
            if target.exists():
                continue
            told += self._copied(path, target) or [
                f"{one_line(path)} was edited or put there by hand; it is kept as"
                f" {one_line(target.relative_to(fresh).as_posix())}. Points and remarks that are to stand"
                " belong in the decisions."
            ]
        return told

    def _copied(self, path: str, target: Path) -> list[str]:
        """Copy one file of a person's; says so where it cannot be read."""
        try:
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(self.folder / path, target, follow_symlinks=False)
        except OSError as error:
            return [
                f"{one_line(path)} cannot be copied ({error.strerror}); it is kept with the earlier results."
            ]
        return []


def as_written(folder: Path, name: str) -> bool:
    """Whether a file of a result is as it was written; False where that cannot be told."""
    try:
        with open(folder / DIGESTS, encoding="utf-8") as file:
            return f"{digest(folder / name)}  {name}\n" in file
    except (OSError, UnicodeDecodeError):
        return False


def digest_again(folder: Path, before: dict[Path, str]) -> None:
    """Bring the record of a result up to date for files of it that were taken away or changed on purpose.

    before: those files with their digests as they were; one that a person had edited before stays edited.
    """
    record = folder / DIGESTS
    lines = []
    for line in record.read_text(encoding="utf-8").splitlines():
        path = folder / line[66:]
        if path in before and not path.exists():
            continue
        if path in before and before[path] == line[:64]:
            line = f"{digest(path)}  {line[66:]}"
        lines.append(line)
    write_whole(record, "".join(f"{line}\n" for line in lines))


def _alike(record: Path, other: Path) -> bool:
    """Whether two records tell of the same results; what changed on the way to them makes no difference."""
    with (
        open(record, encoding="utf-8", errors="replace") as mine,
        open(other, encoding="utf-8", errors="replace") as theirs,
    ):
        pairs = zip_longest(*(filter(lambda line: line[66:-1] != CHANGES, lines) for lines in (mine, theirs)))
        return all(line == other_line for line, other_line in pairs)


def _top(path: str) -> str:
    return path.split("/", 1)[0]


def digest(path: str | Path) -> str:
    """A digest of a file; of a link, of where it points; "" of what cannot be read."""
    try:
        status = os.lstat(path)
        if stat.S_ISLNK(status.st_mode):
            return hashlib.sha256(os.fsencode(os.readlink(path))).hexdigest()
        with open(path, "rb", buffering=0) as file:
            if status.st_size < SMALL:  # the short way, for thousands of pages
                return hashlib.sha256(file.read()).hexdigest()
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return ""


def _walk(folder: Path, below: str = "") -> Iterator[str]:
    """The files and links of a folder and those below it, in the order of their steps."""
    try:
        with os.scandir(folder / below) as scan:
            entries = sorted(f"{entry.name}\0{kind_of(entry)}" for entry in scan)
    except OSError:
        return
    for name, _, kind in (entry.partition("\0") for entry in entries):
        if kind == "folder":
            yield from _walk(folder, f"{below}{name}/")
        elif kind in ("file", "link"):
            yield f"{below}{name}"
