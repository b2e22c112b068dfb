"""`gearlab course`, `hand-out`, `mark` and `key-sheet`: a course with its class."""

import time
from collections.abc import Callable
from pathlib import Path
from typing import Annotated

import typer

from gearlab.cli.places import (
    SET_HELP,
    CourseFolder,
    KeyFile,
    RosterFile,
    SetFile,
    at,
    class_list,
    course_of,
    key_file,
    many,
    say,
    set_in,
)
from gearlab.cli.root import app, plain_errors, screen

# What `gearlab mark` is told, beside what other commands are told too.
_HandInsOrSet = Annotated[
    str | None,
    typer.Argument(
        metavar="[FOLDER|SET]",
        help="Folder, or the learning system's zip, of what was handed in, with --set; or, in a course,"
        " the set whose hand-ins lie there.",
    ),
]
_Template = Annotated[
    Path | None, typer.Option(help="Your own gradebook file, to be filled in as gradebook_filled.csv.")
]
_Decisions = Annotated[
    Path | None, typer.Option(help="File of decisions about the marks; default: the one beside the key.")
]
_Reasons = Annotated[
    Path | None,
    typer.Option(help="List of the texts that people mark; default: SET.reasons.csv beside the key."),
]
_Cores = Annotated[
    int, typer.Option(help="Processes that mark; 0: one a core of this machine, for a large class.")
]
_Cluster = Annotated[
    str | None,
    typer.Option(
        metavar="ADDRESS", help="Mark on the workers of a dask scheduler, such as tcp://10.0.0.5:8786."
    ),
]
_ShowChanges = Annotated[
    bool, typer.Option("--show-changes", help="Show which points would change, and write nothing.")
]
_MarkAnyway = Annotated[bool, typer.Option("--mark-anyway", help="Mark although no sheet code fits the key.")]
_Column = Annotated[str | None, typer.Option(help="Points column in it; default: the set's title.")]
_Section = Annotated[str | None, typer.Option(help="Mark this section only, into results apart.")]


@app.command("course")
@plain_errors
def course_folder(
    folder: Annotated[
        Path | None, typer.Argument(metavar="FOLDER", help="The course folder; default: the one you are in.")
    ] = None,
) -> None:
    """Begin a course folder, or say how it stands and what is next."""
    from gearlab.course.folder import FILE, begin_course, course_lines, find_course, read_course

    if folder is None:
        course = find_course()
        if course is None:
            raise ValueError(f"no {FILE} here or above; name a folder for the course: gearlab course FOLDER")
    else:
        new = [] if (folder / FILE).is_file() else begin_course(folder)
        for path in new:
            say(f"new: {at(path)}")
        course = read_course(folder)
    for line in course_lines(course):
        say(line)


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
    section: Annotated[str, typer.Option(metavar="NAME", help="Hand out to this section only.")] = "",
) -> None:
    """Write each student a notebook and a sheet with own numbers."""
    from gearlab.course.coursekey import make_key, read_key, refuse_inside, unfinished
    from gearlab.course.handout.making import hand_out
    from gearlab.quoting import one_line

    place = course_of(course, roster=roster, key=key, to=to)
    path = place.set_file(set_file) if place else set_in(None, set_file)
    key = key_file(place, key)
    if place is not None:
        roster, to = roster or place.roster_path, to or place.hand_out_folder(place.set_name(set_file))
    assert roster is not None and to is not None  # course_of has seen to it
    refuse_inside(roster, to)
    refuse_inside(key, to)
    students = class_list(place, roster)
    chosen = students.section(section) if section else students
    new_key = not key.exists() or unfinished(key)
    course_key = make_key(key) if new_key else read_key(key)
    try:
        with screen.status(f"sheets for {len(chosen)} students"):
            done = hand_out(path, students, course_key, to, again, section)
    except (ValueError, OSError):
        if new_key and not list(key.parent.glob(f"{key.name}.*.frozen.json")):
            key.unlink()  # nothing was drawn from it
        raise
    if new_key:
        say(
            f"New course key: {at(key)}. Keep it, and a copy in a safe place: without it nothing can be"
            " marked."
        )
        if any((folder / ".git").exists() for folder in key.resolve().parents):
            say("The key is in a git project: never commit it.")
    whom = f"{done.students} students"
    if section:
        whom = f"Section {one_line(chosen.sections[0])} only: {done.students} of {len(students)} students"
    say(
        f"{whom}; {at(done.folder)} holds a notebook for each in notebooks, a page to print for each in"
        f" sheets, and all of them to print in {done.to_print.name}"
    )
    say(f"{done.written} files are new. The set is frozen in {at(done.frozen)}")
    if place is not None:
        name = place.set_name(set_file)
        (place.folder / "hand-ins" / name).mkdir(parents=True, exist_ok=True)
        say(
            f"Next: give each student the file notebooks/{name}_ID.ipynb with their id; put what they hand in"
            f" into {at(place.folder / 'hand-ins' / name)}, then `gearlab mark {name}`."
        )


@app.command("mark")
@plain_errors
def mark_class(
    what: _HandInsOrSet = None,
    set_name: Annotated[str | None, typer.Option("--set", metavar="SET", help=SET_HELP)] = None,
    roster: RosterFile = None,
    key: KeyFile = None,
    to: Annotated[
        Path | None, typer.Option(help="Folder for the results; default: results/SET in the course.")
    ] = None,
    course: CourseFolder = None,
    section: _Section = None,
    template: _Template = None,
    column: _Column = None,
    decisions: _Decisions = None,
    show_changes: _ShowChanges = False,
    reasons: _Reasons = None,
    mark_anyway: _MarkAnyway = False,
    cores: _Cores = 0,
    cluster: _Cluster = None,
) -> None:
    """Mark what came in: gradebook, feedback pages, report, evidence."""
    from gearlab.course.coursekey import read_key
    from gearlab.course.gradebook import Template
    from gearlab.course.marking.whole import mark

    given = what if set_name is not None else None
    place = course_of(course, FOLDER=given, roster=roster, key=key, to=to)
    students = class_list(place, roster)
    if section:
        section = students.section(section).sections[0]
    hand_ins, set_path, to = _places(place, given, set_name or what, to, section)
    if template:
        Template(template)  # refused before an hour of marking, not after it
    with screen.status(f"hand-ins of {len(students)} students") as status:
        filling = _Filling(template, column, _pace(status, len(students)))
        done = mark(
            hand_ins,
            set_path,
            students,
            read_key(key_file(place, key)),
            to,
            filling.keep,
            filling.write,
            section,
            mark_anyway,
            decisions=decisions,
            reasons=reasons,
            only_show=show_changes,
            cores=cores,
            cluster=cluster,
        )
    if show_changes:
        _show_changes(done, 200, only_shown=True)
        if done.changes is None:
            say("There are no results of this set to compare with.")
        say(f"Nothing was written; {at(to)} is as it was.")
        return
    _show_marking(done)
    _show_changes(done, 12)
    filling.show()
    _show_next(done)


def _places(place, given, wanted, to, section) -> tuple[Path, Path, Path]:
    """Where the hand-ins lie, the set, and where the results go: as given, or as the course says."""
    if place is None:
        return Path(given), set_in(None, wanted), to
    if wanted is None:
        names = place.handed_out()
        if len(names) != 1:
            raise ValueError(
                f"which set? Say one of {', '.join(names)}" if names else "no set was handed out yet"
            )
        wanted = names[0]
    name, path = place.set_name(wanted), set_in(place, wanted)
    return Path(given) if given else place.hand_ins(name), path, to or place.results(name, section)


def _pace(status, of: int) -> Callable[[int], None]:
    """Says how far a marking is, how fast it goes and how long it may take."""
    begun = time.monotonic()

    def tell(count: int) -> None:
        pace = count / max(time.monotonic() - begun, 1e-3)
        left = (of - count) / pace
        rest = f", {left:.0f} s to go" if left < 100 else f", {left / 60:.0f} min to go"
        status.update(f"{count} of {of} students, {pace:.0f} a second{rest}")

    return tell


class _Filling:
    """The points as they come, filled into the instructor's own gradebook, which lies with the results."""

    def __init__(self, template: Path | None, column: str | None, each_fifty: Callable[[int], None]):
        self._template, self._column, self._each_fifty = template, column, each_fifty
        self._students: list = []
        self._count = 0
        self._points: dict[str, float] = {}
        self._lines: list[str] = []
        self._trouble: ValueError | None = None

    def keep(self, student, reached: float | None) -> None:
        """Keep one student's points."""
        self._count += 1
        if not self._count % 50:
            self._each_fifty(self._count)
        if self._template is None:
            return
        self._students.append(student)
        if reached is not None:
            self._points[student.id] = reached

    def write(self, fresh: Path, title: str) -> None:
        """Fill the template into the fresh results; what hinders that is told when these are in place."""
        from gearlab.course.gradebook import filled_in
        from gearlab.course.roster import Roster

        if self._template is None:
            return
        try:
            students = Roster(self._students)
            self._lines = filled_in(self._template, fresh, self._points, students, self._column or title)
        except ValueError as error:
            self._trouble = error

    def show(self) -> None:
        """Say what was filled in.

        ValueError if the template could not be filled.
        """
        if self._lines:
            say("")
        for line in self._lines:
            say(line)
        if self._trouble:
            raise self._trouble


@app.command("key-sheet")
@plain_errors
def key_sheet_of_set(
    set_name: SetFile,
    to: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE.html", help="The page; default: SET.keys.html beside the key; or among results."
        ),
    ] = None,
    roster: RosterFile = None,
    key: KeyFile = None,
    course: CourseFolder = None,
    section: Annotated[str, typer.Option(metavar="NAME", help="For this section only.")] = "",
) -> None:
    """Write a private page of everybody's givens and right answers."""
    from gearlab.course.coursekey import read_key
    from gearlab.course.handout.keysheet import check_place, key_sheet_file, write_key_sheet
    from gearlab.quoting import one_line

    place = course_of(course, roster=roster, key=key)
    course_key, path = read_key(key_file(place, key)), set_in(place, set_name)
    name = place.set_name(set_name) if place else path.stem
    students = class_list(place, roster)
    if section:
        section = students.section(section).sections[0]
    to = to or course_key.path.with_name(key_sheet_file(name, section))
    check_place(to, course_key)
    with screen.status(f"keys of {len(students)} students"):
        count = write_key_sheet(path, students, course_key, to, section)
    whom = f"Section {one_line(section)} only: {count} of {len(students)}" if section else f"{count}"
    say(f"{whom} students: {at(to)}. Private: never hand it out.")


def _show_marking(done) -> None:
    from gearlab.course.gradebook import points_text
    from gearlab.course.intake.came import KINDS

    mean = (
        f", mean {points_text(done.points / done.marked)} of {points_text(done.out_of)} points"
        if done.marked
        else ""
    )
    say(f"{done.marked} of {done.students} marked{mean}")
    for note in done.notes:
        say(f"Note: {note}")
    if done.texts:
        say(f"Texts that people mark: {at(done.texts)}")
    for kind, words in KINDS.items():
        count = sum(problem.kind == kind for problem in done.problems)
        if count:
            say(f"  {count:>4}  {words}")
    say(
        f"Results in {at(done.folder)}: gradebook.csv, feedback, report.html, pairs.html, evidence.json,"
        " problems.csv"
    )


def _show_next(done) -> None:
    """What an instructor does after a marking."""
    from gearlab.course.intake.came import TO_DO
    from gearlab.course.marking.reasons import still_open

    texts = still_open(done.texts) if done.texts else 0
    waiting = sum(problem.kind in TO_DO for problem in done.problems)
    if waiting:
        say(
            f"Next: {many(waiting, 'row')} of {at(done.folder)}/problems.csv"
            f" {'waits' if waiting == 1 else 'wait'} for you: what happened, and what to do, is in each."
            " Then mark again."
        )
    elif texts:
        say(
            f"Next: fill in points and by for {many(texts, 'text')} in {at(done.texts)} (what earns points"
            f" is in {done.texts.stem}.guide.txt), then mark again."
        )
    else:
        say("Next: read report.html, and give each student their page: feedback/ID.html.")


def _show_changes(done, most: int, only_shown: bool = False) -> None:
    """Points that are others than before, and marks typed by hand."""
    from gearlab.course.marking.changes import EDITED, ready_lines
    from gearlab.course.results import CHANGES
    from gearlab.quoting import one_line

    if done.decisions:
        say(f"{many(done.decisions, 'decision')} {'was' if done.decisions == 1 else 'were'} applied.")
    if (changes := done.changes) is not None:
        say(
            f"Against the results before: {many(changes.count, 'change')} for"
            f" {many(changes.students, 'student')}{f' ({CHANGES})' if not only_shown else ''}"
            if changes.count
            else "Against the results before: no points changed"
        )
        # many: what becomes of each student's mark tells more than all the questions of the first student
        lines = changes.kept if changes.count <= most else changes.in_all
        for change in lines[:most]:
            say(
                f"  {one_line(change.id)}  {change.question}: {change.before or 'blank'} of"
                f" {change.out_of_before or '-'} becomes {change.after or 'blank'} of"
                f" {change.out_of_after or '-'} ({one_line(change.why)})"
            )
        if changes.count > most:
            say(f"  and {changes.count - len(lines[:most])} more")
    if done.edited:
        say(
            f"{len(done.edited)} marks were edited by hand in gradebook.csv: make them decisions. The lines"
            f" to paste stand in {EDITED}:\n\n{ready_lines(done.edited[:3])}"
        )
