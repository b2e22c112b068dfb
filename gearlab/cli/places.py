"""Where a command finds what it needs: what is given, else what the course folder says."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from rich.markup import escape

from gearlab.cli.root import screen, set_of

if TYPE_CHECKING:
    from gearlab.course.folder import Course
    from gearlab.course.roster import Roster

SET_HELP = "The set: its file, or the name of one of the course's or of those that come with the exercises."
SetFile = Annotated[str, typer.Argument(metavar="SET", help=SET_HELP)]
RosterFile = Annotated[
    Path | None, typer.Option(help="Class list, CSV with the columns id and name; default: the course's.")
]
KeyFile = Annotated[Path | None, typer.Option(help="Key; keep it private; default: the course's.")]
CourseFolder = Annotated[
    Path | None, typer.Option("--course", help="Course folder; default: the one you are in.")
]


def at(path: Path) -> str:
    """A path as it is said: from the folder one is in, where it lies below it."""
    try:
        return str(Path(path).resolve().relative_to(Path.cwd()))
    except ValueError:
        return str(path)


def say(text: str) -> None:
    """A sentence on the screen, as it is."""
    screen.print(escape(text), soft_wrap=True)


def many(count: int, what: str) -> str:
    """So many of something.

    >>> many(1, "row"), many(2, "row")
    ('1 row', '2 rows')
    """
    return f"{count} {what}{'' if count == 1 else 's'}"


def course_of(folder: Path | None, **options: Path | str | None) -> "Course | None":
    """The course that says what the options do not; None if they say it all.

    ValueError if something is missing and there is no course.
    """
    from gearlab.course.folder import find_course, read_course

    if folder is not None:
        return read_course(folder)
    missing = [name.replace("_", " ") for name, value in options.items() if value is None]
    course = find_course() if missing else None
    if missing and course is None:
        raise ValueError(
            f"missing: {', '.join(f'--{name}' if name.islower() else name for name in missing)}; no course"
            " folder is here or above that says it. Give it, or --course FOLDER (`gearlab course FOLDER`"
            " begins one)"
        )
    return course


def set_in(course: "Course | None", wanted: str) -> Path:
    """The file of a set: in the course, or as it is given; a set whose file is gone goes by its name."""
    if course is None:
        return set_of(Path(wanted))
    try:
        return course.set_file(wanted)
    except ValueError:
        return Path(course.set_name(wanted))


def class_list(course: "Course | None", roster: Path | None) -> "Roster":
    """The class list, given or the course's; what was met in reading it is said."""
    from gearlab.course.roster import SECTION, read_roster

    path = roster or (course.roster_path if course else None)
    assert path is not None  # course_of has seen to it
    students = read_roster(path, course.section if course else SECTION)
    for remark in students.remarks:
        say(remark)
    return students


def key_file(course: "Course | None", key: Path | None) -> Path:
    """The file of the key, given or the course's."""
    path = key or (course.key_path if course else None)
    assert path is not None  # course_of has seen to it
    return path
