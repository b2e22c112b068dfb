"""All that is held about one student: shown with its places, or removed, completely or not at all."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from gearlab.course.coursekey import HEADER
from gearlab.course.heldin import Held, Person, held_in
from gearlab.course.results import DIGESTS, digest, digest_again
from gearlab.course.roster import read_roster
from gearlab.schema import near
from gearlab.writing import write_whole

ROSTER = "roster.csv"
FILES_LIMIT = 1_000_000
_DOUBTFUL = ("names the student", "a mention in")  # of an id that nobody has, it may be any number


@dataclass(frozen=True)
class Holdings:
    """What is held about a student, file by file; the class list comes last."""

    person: Person
    files: tuple[Held, ...]

    @property
    def left(self) -> list[str]:
        """What could not be removed, with its place and the reason."""
        return [f"{held.path}: {reason}" for held in self.files for reason in held.left]


def held(student: str, places: Iterable[Path], roster: Path | None = None) -> Holdings:
    """Everything that files and folders hold about a student.

    places: files, zips and folders that are looked through; links in them are not followed.
    roster: the class list, which tells name and address.
    ValueError if a place is not there, or nothing of these places tells of the student: for an id that is not
        in the class list, pages that may mean any number do not tell of one.
    """
    person, doubt = Person(student), ""
    if roster is not None:
        students = read_roster(roster)
        if student in students:
            known = students.find(student)
            person = Person(known.id, known.name, known.email)
        else:
            doubt = f"{student!r} is not in the class list{near(student, (other.id for other in students))}"
    holdings: dict[Path, Held] = {}
    looked = 0
    for path in _files([*places, *([roster] if roster else [])]):
        looked += 1
        real = path.resolve()
        if real not in holdings and (holding := held_in(path, person)):
            holdings[real] = holding
    if not holdings:
        raise ValueError(f"nothing about id {student!r} in the {looked} files that were looked through")
    if doubt and all(what.startswith(_DOUBTFUL) for holding in holdings.values() for what in holding.what):
        raise ValueError(
            f"{doubt}. No hand-in, mark or decision has this id; what pages of the class hold of it may be"
            " any number"
        )
    last = roster.resolve() if roster else None
    files = sorted(holdings, key=lambda real: (real == last, str(real)))
    return Holdings(person, tuple(holdings[real] for real in files))


def remove(holdings: Holdings) -> None:
    """Remove everything that is held about a student.

    ValueError, before anything is touched, if something would be left; the message lists it.
    """
    if holdings.left:
        raise ValueError("nothing was removed, for something would be left:\n" + "\n".join(holdings.left))
    results: dict[Path, dict[Path, str]] = {}  # folders with a record of what they hold, and what goes
    for holding in holdings.files:
        for folder in holding.path.parents:
            if (folder / DIGESTS).is_file():
                results.setdefault(folder, {})[holding.path] = digest(holding.path)
                break
    for holding in holdings.files:
        if holding.whole:
            holding.path.unlink(missing_ok=True)
        elif holding.stays is not None:
            rights = os.stat(holding.path).st_mode & 0o777
            write_whole(holding.path, holding.stays, rights=rights, safe=True)
    for folder, before in results.items():
        digest_again(folder, before)
    again = [held_in(holding.path, holdings.person) for holding in holdings.files if holding.path.exists()]
    left = [f"{still.path}: {what}" for still in again if still for what in (*still.what, *still.left)]
    if left:
        raise ValueError("some of it is still there; run the command again:\n" + "\n".join(left))


def _files(places: Iterable[Path]) -> Iterator[Path]:
    """Every file of the places in order; keys, frozen sets and what is no file of a person's are left out."""
    count = 0
    for place in places:
        if not place.exists():
            raise ValueError(f"{place}: is not there; check the name")
        walk = os.walk(place) if place.is_dir() else [(str(place.parent), [], [place.name])]
        for folder, below, names in walk:
            below.sort()
            for name in sorted(names):
                path = Path(folder, name)
                count += 1
                if count > FILES_LIMIT:
                    raise ValueError(
                        f"{place}: holds more than {FILES_LIMIT} files; give its folders one by one"
                    )
                if path.is_file() and not path.is_symlink() and not _of_the_course(path):
                    yield path


def _of_the_course(path: Path) -> bool:
    """Whether a file is the key, a frozen set or a bank: they hold nothing of a student."""
    if path.name.endswith(".frozen.json") or path.name in ("course.toml", "bank.toml", DIGESTS):
        return True
    with open(path, "rb") as file:
        return file.read(len(HEADER)) == HEADER.encode()
