"""What came in: hand-in files found in a folder, its subfolders, or a learning system's zip.

Nothing that came in is unpacked to disk, followed or run; every read is bounded.
"""

import csv
import io
import os
import re
import unicodedata
import zipfile
import zlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from gearlab.course.intake.uploader import Uploaders
from gearlab.course.roster import Roster, Student, file_name
from gearlab.course.shelf import Shelf
from gearlab.practice.handin import FILE_LIMIT, RETURNED_NAME, HandIn, read_hand_in
from gearlab.quoting import one_line, text_of
from gearlab.writing import kind_of

INNER_ZIP_LIMIT = 5_000_000  # bytes of a zip that lies inside what came in
ENTRY_LIMIT = 200_000  # files in all
DEPTH_LIMIT = 8  # folders below the one given
ZIP = re.compile(r"\.zip(?:\.zip|\.download|[ _]*\(\d+\))*$", re.IGNORECASE)
PACKED = re.compile(r"\.(rar|7z|tar|gz|tgz|bz2|xz)$", re.IGNORECASE)  # what is not opened
SKIPPED = re.compile(r"(^|/)(\.(?!\.?/)|__MACOSX/|__pycache__/|Thumbs\.db$|desktop\.ini$)")


class Problem(NamedTuple):
    """Something the instructor should look at.

    kind: one of ``KINDS``.
    student: id of the student concerned, or empty.
    file: the file concerned, or empty.
    reason: what happened and what was done about it.
    """

    kind: str
    student: str
    file: str
    reason: str


KINDS = {
    "missing": "nothing handed in",
    "notebook only": "a notebook came without its answers file",
    "unreadable": "a file could not be read",
    "foreign": "a file belongs to somebody else",
    "other spelling": "an id is spelt differently in the roster",
    "saved anew": "a file was saved anew by another program, and was read",
    "altered": "a file was changed outside the workbook",
    "duplicate": "several files from one student",
    "other set": "a file belongs to another set",
    "look again": "somebody is to look at it again",
    "decision": "a decision does not fit what came",
    "edited": "a mark was edited by hand: make it a decision",
    "other file": "a file is no hand-in and was left alone",
}

# Kinds after which somebody has something to do; a student who handed nothing in is no work of the marker's.
TO_DO = ("notebook only", "unreadable", "foreign", "other set", "look again", "decision", "edited")

PROBLEMS = "problems.csv"  # the list of them, among the results


def problem_rows(results: Path) -> list[dict[str, str]]:
    """The list of problems of some results, row by row; none where it cannot be read."""
    try:
        with open(results / PROBLEMS, encoding="utf-8-sig", errors="replace", newline="") as file:
            return list(csv.DictReader(file))
    except (OSError, csv.Error):
        return []


# Between the steps of a path, and between paths: no file name holds these.
_STEP, _FILE = "\0", "\0\0"


@dataclass(frozen=True, slots=True)
class Item:
    """One file that came in: its path below the folder, or inside zips.

    steps: the path; each zip on the way starts a new step.
    """

    steps: tuple[str, ...]

    @property
    def shown(self) -> str:
        """The path as it may be shown."""
        return one_line(" > ".join(self.steps))[:300]

    @property
    def names(self) -> tuple[str, str]:
        """What a person may call it: its name alone, or the path as it is shown."""
        return self.steps[-1].rpartition("/")[2], self.shown


class Intake:
    """All files that came in for one set, sorted by student.

    place: a folder or a zip file.
    code: the sheet code of an id, by which a file is known whose id the roster spells differently.
    ValueError if the place is neither a folder nor a zip file.
    """

    def __init__(self, place: Path, set_name: str, roster: Roster, code: Callable[[str], str] | None = None):
        self.place = Path(place)
        self.set_name = set_name
        self.problems: list[Problem] = []
        self.received = 0
        self._items = Shelf()  # id to paths
        self._notebooks: dict[str, Item] = {}
        self._open_zip = lru_cache(maxsize=4)(self._load_zip)
        self._roster = roster
        self._code = code
        self._respelt: dict[str, str] = {}  # id in the roster to id as handed out
        self._in_roster: dict[str, str] = {}  # and the other way
        self._unnamed: list[tuple[Item, str]] = []  # what cannot be read, and who sent it
        self._aside: list[Item] = []  # what is nobody's
        self._uploaders = Uploaders(roster)
        # Ids that a file name holds in another spelling; all others are found in the roster itself.
        self._spelt = {
            name: student.id for student in roster if (name := file_name(student.id).casefold()) != student.id
        }
        if self.place.is_dir():
            items = self._folder("", 0)
        elif self.place.is_file() and zipfile.is_zipfile(self.place):
            items = self._zip((str(self.place),))
        else:
            raise ValueError(
                f"hand-ins {place}: is neither a folder nor a zip file; give the folder or the zip you"
                " downloaded"
            )
        for item in items:
            self._sort(item)
        # Who sent a file is sure only when all are seen: then it is theirs, whatever its name says.
        for steps, named, sender in self._uploaders.settled():
            self._put(Item(steps), self._respelt.get(sender or named, sender or named))
        self._drop_doubles()
        for item, sender in self._unnamed:
            self._put(item, self._respelt.get(sender, sender))

    def items(self, student: str) -> list[Item]:
        """The hand-in files of one student.

        Returns them in the order of their names; empty if none came.
        """
        paths = self._items.get(student)
        return [Item(tuple(path.split(_STEP))) for path in paths.split(_FILE)] if paths else []

    def everything(self) -> Iterator[tuple[Item, str]]:
        """Every file that may be a hand-in, with whose it is so far: "" where it was set aside."""
        yield from ((item, "") for item in self._aside)
        for student in self._items:
            yield from ((item, student) for item in self.items(student))

    def give(self, item: Item, before: str, student: str) -> None:
        """Put a file to a student, as a person decided, and take back what was said of it."""
        if before:
            left = [other for other in self.items(before) if other != item]
            del self._items[before]
            for other in left:
                self._put(other, before)
        else:
            self._aside.remove(item)
        self._put(item, student)
        self.problems = [
            problem for problem in self.problems if (problem.kind, problem.file) != ("foreign", item.shown)
        ]

    def _student(self, spelling: str) -> str | None:
        """The id that a file name or a file spells, or None."""
        # as the roster is read: some disks part letters from their accents
        spelling = unicodedata.normalize("NFC", spelling)
        known = self._spelt.get(spelling.casefold())
        return known or (spelling if spelling in self._roster else None)

    def _exactly(self, spelling: str) -> str | None:
        """The id that is spelt so, or None; capitals count."""
        student = self._student(spelling)
        spelling = unicodedata.normalize("NFC", spelling)
        return student if student is not None and spelling in (student, file_name(student)) else None

    def notebook(self, student: str) -> Item | None:
        """A notebook of a student, if one came.

        Returns the notebook; it is never opened.
        """
        return self._notebooks.get(student)

    def read(self, item: Item, limit: int = FILE_LIMIT) -> bytes:
        """The content of a file, at most one byte more than the limit.

        limit: most bytes that are wanted [byte].
        ValueError if it cannot be read; the message says why, in words for the instructor.
        """
        *zips, name = item.steps
        try:
            if not zips:
                handle = os.open(
                    os.path.join(self.place, name),
                    os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0),
                )
                with open(handle, "rb", buffering=0) as file:
                    return file.read(limit + 1)
            archive = self._open_zip(tuple(zips))
            with archive.open(name) as file:
                return file.read(limit + 1)
        except OSError as error:
            raise ValueError(f"the file cannot be opened ({error.strerror})") from None
        except (zipfile.BadZipFile, zlib.error, EOFError, KeyError):
            raise ValueError("the file inside the zip is damaged") from None
        except (RuntimeError, NotImplementedError):
            raise ValueError("the file inside the zip is encrypted or packed in an unusual way") from None

    def _load_zip(self, steps: tuple[str, ...]) -> zipfile.ZipFile:
        *outer, last = steps
        if not outer:
            return zipfile.ZipFile(last if last == str(self.place) else self.place / last)
        content = self.read(Item(steps), INNER_ZIP_LIMIT)
        if len(content) > INNER_ZIP_LIMIT:
            raise ValueError(f"the zip is larger than {INNER_ZIP_LIMIT // 1_000_000} MB")
        return zipfile.ZipFile(io.BytesIO(content))

    def _folder(self, below: str, depth: int) -> Iterator[Item]:
        """The files of a folder in the order of their names; links are listed, never followed."""
        try:
            with os.scandir(self.place / below) as scan:
                entries = sorted(f"{entry.name}\0{kind_of(entry)}" for entry in scan)  # small: they are many
        except OSError as error:
            return self._problem(
                "unreadable", Item((below or ".",)), f"is a folder that cannot be opened ({error.strerror})"
            )
        for name, _, kind in (entry.partition("\0") for entry in entries):
            path = f"{below}{name}"
            if SKIPPED.search(path):
                continue
            if kind == "folder":
                if depth == DEPTH_LIMIT:
                    self._problem(
                        "other file",
                        Item((path,)),
                        f"is more than {DEPTH_LIMIT} folders deep; it was not opened",
                    )
                else:
                    yield from self._folder(path + "/", depth + 1)
            elif kind != "file":
                self._problem(
                    "unreadable", Item((path,)), "is a link or a device, not a file; it was not followed"
                )
            elif ZIP.search(name):
                yield from self._zip((path,))
            else:
                yield Item((path,))

    def _zip(self, steps: tuple[str, ...]) -> Iterator[Item]:
        """The files of a zip, and of zips in it; nothing is unpacked."""
        item = Item(steps)
        if len(steps) > 3:
            return self._problem("unreadable", item, "is a zip inside a zip inside a zip; it was not opened")
        try:
            entries = sorted(self._open_zip(steps).infolist(), key=lambda entry: entry.filename)
        except (ValueError, OSError, zipfile.BadZipFile, NotImplementedError):
            return self._problem(
                "unreadable", item, "is not a zip that can be read (damaged, encrypted or too large)"
            )
        if len(entries) > ENTRY_LIMIT:
            return self._problem("unreadable", item, f"holds more than {ENTRY_LIMIT} files; it was not read")
        seen = set()
        for entry in entries:
            inner = Item((*steps, entry.filename))
            if entry.is_dir() or SKIPPED.search(entry.filename):
                continue
            if entry.external_attr >> 16 & 0o170000 == 0o120000:
                self._problem("unreadable", inner, "is a link, not a file; it was not followed")
            elif entry.filename in seen:
                self._problem("unreadable", inner, "is in the zip twice under one name; the last one is read")
            elif ZIP.search(entry.filename):
                yield from self._zip(inner.steps)
            else:
                seen.add(entry.filename)
                yield inner

    def _sort(self, item: Item) -> None:
        """Put a file to its student, by its name or, where that says nothing, by what stands in it."""
        self.received += 1
        if self.received > ENTRY_LIMIT:
            raise ValueError(
                f"hand-ins {self.place}: more than {ENTRY_LIMIT} files; mark them in several folders"
            )
        name = item.steps[-1].rpartition("/")[2]
        if name.lower().endswith(".ipynb"):
            match = re.search(
                re.escape(self.set_name) + r"_([^\s./\\]+?)(?:[ _]*\(\d+\)|[ _-]*copy\d*)?\.ipynb$",
                name,
                re.IGNORECASE,
            )
            student = self._student(match[1]) if match else None
            if student is None:
                return self._problem(
                    "other file", item, "is a notebook; answers are read from the HAND-IN file only"
                )
            self._notebooks.setdefault(student, item)
        elif (match := RETURNED_NAME.search(name)) or name.lower().endswith(".json"):
            self._sort_hand_in(item, match)
        else:
            self._sort_other(item, name)

    def _sort_hand_in(self, item: Item, match: re.Match | None) -> None:
        """Put what may be a hand-in to the student it is named after, or that stands in it."""
        student = self._exactly(match["id"]) if match and match["set"].casefold() == self.set_name else None
        problem = None
        if student is None:
            student, problem = self._look_inside(item)
        outside = self._outside(item, match)
        if outside and student is None and problem is not None and problem.kind != "foreign":
            sender = self._uploaders.sender(outside)
            if sender is not None:  # whoever sent what cannot be marked is told so
                self._unnamed.append((item, sender))
                return
        elif outside and student is not None:
            owner = self._in_roster.get(student, student)
            if self._uploaders.note(item.steps, outside, owner):
                return  # sent by somebody else, as it seems: settled when all are seen
        if student is not None:
            self._put(item, student)
        else:
            self._aside.append(item)
        if problem is not None:
            self.problems.append(problem)

    def _outside(self, item: Item, match: re.Match | None) -> list[str]:
        """What folders, zips and the beginning of a name say beside the hand-in's own name."""
        *above, name = item.steps
        if above and above[0] == str(self.place):
            del above[0]
        folders, _, file = name.rpartition("/")
        texts = [part for step in (*above, folders) for part in step.split("/")]
        return [text for text in (*texts, file[: match.start()] if match else file) if text]

    def _put(self, item: Item, student: str) -> None:
        self._items.append(student, _STEP.join(item.steps), _FILE)

    def _sort_other(self, item: Item, name: str) -> None:
        """A file of another kind: a hand-in under another name is taken, all else is told and left alone."""
        if PACKED.search(name):
            return self._problem(
                "other file", item, "is an archive that is not opened: unpack it, mark again"
            )
        if "hand-in" in name.casefold() or self._says_hand_in(item):
            self._sort_hand_in(item, RETURNED_NAME.search(f"{name}.json"))
        else:
            sender = self._uploaders.sender(self._outside(item, None)) or ""
            self._aside.append(item)
            reason = "is no hand-in file; it was left alone"
            self.problems.append(Problem("other file", sender, item.shown, reason))

    def _says_hand_in(self, item: Item) -> bool:
        """Whether a file of any name is the text that a workbook saves."""
        try:
            text, _ = text_of(self.read(item))
        except ValueError:
            return False
        return text.lstrip("\ufeff \t\r\n").startswith("{") and '"hand-in"' in text

    def _look_inside(self, item: Item) -> tuple[str | None, Problem | None]:
        """The student named in a file that was renamed, and what there is to say about it."""
        try:
            hand_in = read_hand_in(self.read(item))
        except ValueError as error:
            return None, Problem("unreadable", "", item.shown, str(error))
        if hand_in.set != self.set_name:
            reason = f"holds answers to {one_line(hand_in.set)!r}; it was not marked"
            return None, Problem("other set", "", item.shown, reason)
        return self._whose(item, hand_in)

    def _whose(self, item: Item, hand_in: HandIn) -> tuple[str | None, Problem | None]:
        """The student whose id stands in a hand-in, also where the roster spells it differently by now."""
        student, inside = self._exactly(hand_in.student), unicodedata.normalize("NFC", hand_in.student)
        if student is not None:
            return student, None
        like, shown, file = self._roster.like(inside), one_line(inside), item.shown
        if like is None:
            reason = f"id {shown!r} in it is not in the roster; it was not marked"
            return None, Problem("foreign", "", file, reason)
        spelt = f"id {shown} in it, {one_line(like.id)} in the roster"
        if self._code is not None and hand_in.packet == self._code(inside):
            # the sheet was made for that spelling: no doubt whose it is, and its numbers hang on it
            self._respelt[like.id], self._in_roster[inside] = inside, like.id
            reason = f"{spelt}: it was marked as handed out; write {shown} in the roster"
            return inside, Problem("other spelling", inside, file, reason)
        if inside.casefold() == like.id.casefold():
            reason = f"{spelt}: capitals make no difference, it was marked"
            return like.id, Problem("other spelling", like.id, file, reason)
        reason = (
            f"{spelt}, which differs by blanks or leading zeros (a spreadsheet drops them), and the sheet"
            " code does not tell; it was not marked. Write the right id in the roster and mark again"
        )
        return None, Problem("foreign", like.id, file, reason)

    def _drop_doubles(self) -> None:
        """Where a file came for the roster's id of today, one made for the id of before is not marked."""
        for identity, inside in list(self._respelt.items()):
            if identity in self._items:
                del self._respelt[identity]
                self._aside += self.items(inside)
                self._items.pop(inside, None)
                reason = (
                    f"was made for id {one_line(inside)}, and another file came for id"
                    f" {one_line(identity)} of the roster: that one counts"
                )
                self.problems = [
                    Problem("foreign", identity, problem.file, reason)
                    if (problem.kind, problem.student) == ("other spelling", inside)
                    else problem
                    for problem in self.problems
                ]

    def as_handed_out(self) -> Roster:
        """The roster with the ids that the sheets were made for, where somebody changed them since."""
        if not self._respelt:
            return self._roster
        students = (
            Student(self._respelt.get(student.id, student.id), student.name, student.email, student.section)
            for student in self._roster
        )
        return Roster(students, self._roster.remarks)

    def _problem(self, kind: str, item: Item, reason: str) -> None:
        self.problems.append(Problem(kind, "", item.shown, reason))
