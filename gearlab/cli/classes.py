"""`gearlab course`, `hand-out` and `mark`: a course with its class."""

from collections.abc import Callable
from pathlib import Path
from typing import Annotated

import typer
from rich.markup import escape

from gearlab.cli.root import app, plain_errors, screen, set_of

SET_HELP = "The set: its file, or the name of one of the course's or of those that come with the exercises."
SetFile = Annotated[str, typer.Argument(metavar="SET", help=SET_HELP)]
RosterFile = Annotated[
    Path | None, typer.Option(help="Class list, CSV with the columns id and name; default: the course's.")
]
KeyFile = Annotated[Path | None, typer.Option(help="Key; keep it private; default: the course's.")]
CourseFolder = Annotated[
    Path | None, typer.Option("--course", help="Course folder; default: the one you are in.")
]


def say(text: str) -> None:
    """A sentence on the screen, as it is."""
    screen.print(escape(text), soft_wrap=True)


@app.command("course")
@plain_errors
def course_folder(
    folder: Annotated[
        Path | None, typer.Argument(metavar="FOLDER", help="The course folder; default: the one you are in.")
    ] = None,
) -> None:
    """Begin a course folder; of one that is there, say how it stands and what is next."""
    from gearlab.course.folder import FILE, begin_course, course_lines, find_course, read_course

    if folder is None:
        course = find_course()
        if course is None:
            raise ValueError(f"no {FILE} here or above; name a folder for the course: gearlab course FOLDER")
    else:
        new = [] if (folder / FILE).is_file() else begin_course(folder)
        for path in new:
            say(f"new: {path}")
        course = read_course(folder)
    for line in course_lines(course):
        say(line)


def _course_of(folder: Path | None, **options: object):
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


@app.command("hand-out")
@plain_errors
def hand_out_set(
    set_file: SetFile,
    roster: RosterFile = None,
    key: KeyFile = None,
    to: Annotated[
        Path | None,
        typer.Option(help="Folder for the notebooks and sheets; default: handed-out/SET in the course."),
    ] = None,
    course: CourseFolder = None,
    again: Annotated[
        bool, typer.Option("--again", help="Hand out the edition that was frozen before.")
    ] = False,
) -> None:
    """Write a notebook and a printed sheet for each student, with their own numbers."""
    from gearlab.course.coursekey import make_key, read_key, refuse_inside, unfinished
    from gearlab.course.handout import hand_out
    from gearlab.course.roster import SECTION, read_roster

    place = _course_of(course, roster=roster, key=key, to=to)
    path = place.set_file(set_file) if place else set_of(Path(set_file))
    roster, key = roster or place.roster_path, key or place.key_path
    to = to or place.hand_out_folder(place.set_name(set_file))
    refuse_inside(roster, to)
    refuse_inside(key, to)
    students = read_roster(roster, place.section if place else SECTION)
    for remark in students.remarks:
        say(remark)
    made = not key.exists() or unfinished(key)
    course_key = make_key(key) if made else read_key(key)
    try:
        with screen.status(f"sheets for {len(students)} students"):
            done = hand_out(path, students, course_key, to, again)
    except (ValueError, OSError):
        if made and not list(key.parent.glob(f"{key.name}.*.frozen.json")):
            key.unlink()  # nothing was drawn from it
        raise
    if made:
        say(f"New course key: {key}. Keep it, and a copy in a safe place: without it nothing can be marked.")
        if any((folder / ".git").exists() for folder in key.resolve().parents):
            say("The key lies in a git project: never commit it.")
    say(f"{done.students} students: {done.folder}/notebooks and /sheets; to print for all: all_sheets.html")
    say(f"{done.written} files are new. The set is frozen in {done.frozen}")


@app.command("mark")
@plain_errors
def mark_class(
    what: Annotated[
        str | None,
        typer.Argument(
            metavar="[FOLDER|SET]",
            help="Folder, or the learning system's zip, of what was handed in, with --set; or, in a course,"
            " the set whose hand-ins lie there.",
        ),
    ] = None,
    set_name: Annotated[str | None, typer.Option("--set", metavar="SET", help=SET_HELP)] = None,
    roster: RosterFile = None,
    key: KeyFile = None,
    to: Annotated[
        Path | None, typer.Option(help="Folder for the results; default: results/SET in the course.")
    ] = None,
    course: CourseFolder = None,
    section: Annotated[str | None, typer.Option(help="Mark this section only, into results apart.")] = None,
    template: Annotated[
        Path | None, typer.Option(help="Your own gradebook file, to be filled in as gradebook_filled.csv.")
    ] = None,
    column: Annotated[str | None, typer.Option(help="Points column in it; default: the set's title.")] = None,
    mark_anyway: Annotated[
        bool, typer.Option("--mark-anyway", help="Mark although no sheet code fits the key.")
    ] = False,
) -> None:
    """Mark what came in: gradebook, feedback pages, class report, evidence, and what to look at."""
    from gearlab.course.coursekey import read_key
    from gearlab.course.gradebook import Template
    from gearlab.course.marking import mark
    from gearlab.course.roster import SECTION, read_roster

    given = what if set_name is not None else None
    place = _course_of(course, FOLDER=given, roster=roster, key=key, to=to)
    students = read_roster(roster or place.roster_path, place.section if place else SECTION)
    if section:
        section = students.section(section).sections[0]
    hand_ins, set_path, to = _places(place, given, set_name or what, to, section)
    if template:
        Template(template)  # refused before an hour of marking, not after it
    with screen.status(f"hand-ins of {len(students)} students") as status:
        filling = _Filling(
            template, column, lambda count: status.update(f"{count} of {len(students)} students")
        )
        done = mark(
            hand_ins,
            set_path,
            students,
            read_key(key or place.key_path),
            to,
            filling.keep,
            filling.write,
            section,
            mark_anyway,
        )
    for remark in students.remarks:
        say(remark)
    _show_marking(done)
    filling.show()


def _places(place, given, wanted, to, section) -> tuple[Path, Path, Path]:
    """Where the hand-ins lie, the set, and where the results go: as given, or as the course says."""
    if place is None:
        return Path(given), set_of(Path(wanted)), to
    if wanted is None:
        names = place.handed_out()
        if len(names) != 1:
            raise ValueError(
                f"which set? Say one of {', '.join(names)}" if names else "no set was handed out yet"
            )
        wanted = names[0]
    name = place.set_name(wanted)
    try:
        path = place.set_file(wanted)
    except ValueError:
        path = Path(name)  # its file is gone: it is frozen under that name
    return Path(given) if given else place.hand_ins(name), path, to or place.results(name, section)


class _Filling:
    """The points as they come, filled into the instructor's own gradebook, which lies with the results."""

    def __init__(self, template: Path | None, column: str | None, each_fifty: Callable[[int], None]):
        self._template, self._column, self._each_fifty = template, column, each_fifty
        self._students: list = []
        self._points: dict[str, float] = {}
        self._lines: list[str] = []
        self._trouble: ValueError | None = None

    def keep(self, student, reached: float | None) -> None:
        """Keep one student's points."""
        self._students.append(student)
        if not len(self._students) % 50:
            self._each_fifty(len(self._students))
        if reached is not None:
            self._points[student.id] = reached

    def write(self, fresh: Path, title: str) -> None:
        """Fill the template into the fresh results; what hinders that is told when these are in place."""
        from gearlab.course.gradebook import fill_template
        from gearlab.course.roster import Roster

        if self._template is None:
            return
        target, column = fresh / "gradebook_filled.csv", self._column or title
        try:
            changes, unmatched = fill_template(
                self._template, target, self._points, Roster(self._students), column
            )
        except ValueError as error:
            self._trouble = error
            return
        self._lines = [f"\ngradebook_filled.csv: {len(changes)} cells filled"]
        self._lines += [f"  not matched: {line}" for line in unmatched]

    def show(self) -> None:
        """Say what was filled in.

        ValueError if the template could not be filled.
        """
        for line in self._lines:
            say(line)
        if self._trouble:
            raise self._trouble


def _show_marking(done) -> None:
    from gearlab.course.gradebook import points_text
    from gearlab.course.intake import KINDS

    mean = (
        f", mean {points_text(done.points / done.marked)} of {points_text(done.out_of)} points"
        if done.marked
        else ""
    )
    say(f"{done.marked} of {done.students} marked{mean}")
    for note in done.notes:
        say(f"Note: {note}")
    for kind, words in KINDS.items():
        count = sum(problem.kind == kind for problem in done.problems)
        if count:
            screen.print(f"  {count:>4}  {words}")
    say(f"Results in {done.folder}: gradebook.csv, feedback, report.html, evidence.json, problems.csv")
