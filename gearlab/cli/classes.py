"""`gearlab hand-out` and `gearlab mark`: a course with its class."""

from pathlib import Path
from typing import Annotated

import typer
from rich.markup import escape

from gearlab.cli.root import app, plain_errors, screen, set_of

SET_HELP = "The set: its file, or the name of one that comes with the exercises."
SetFile = Annotated[Path, typer.Argument(metavar="SET.toml", help=SET_HELP)]
RosterFile = Annotated[Path, typer.Option(help="Class list, CSV with the columns id and name.")]
KeyFile = Annotated[Path, typer.Option(help="Key of the course; keep it private.")]


@app.command("hand-out")
@plain_errors
def hand_out_set(
    set_file: SetFile,
    roster: RosterFile,
    key: KeyFile,
    to: Annotated[Path, typer.Option(help="Folder for the notebooks and sheets.")],
    again: Annotated[
        bool, typer.Option("--again", help="Hand out the edition that was frozen before.")
    ] = False,
) -> None:
    """Write a notebook and a printed sheet for each student, with their own numbers."""
    from gearlab.course.coursekey import make_key, read_key, refuse_inside
    from gearlab.course.handout import hand_out
    from gearlab.course.roster import read_roster

    refuse_inside(roster, to)
    refuse_inside(key, to)
    students = read_roster(roster)
    made = not key.exists()
    course_key = make_key(key) if made else read_key(key)
    try:
        with screen.status(f"sheets for {len(students)} students"):
            done = hand_out(set_of(set_file), students, course_key, to, again)
    except (ValueError, OSError):
        if made:
            key.unlink()  # nothing was drawn from it
        raise
    if made:
        screen.print(
            f"New course key: {escape(str(key))}. Keep it, and a copy in a safe place: without it nothing can"
            " be marked.",
            soft_wrap=True,
        )
        if any((folder / ".git").exists() for folder in key.resolve().parents):
            screen.print("The key lies in a git project: never commit it.", soft_wrap=True)
    screen.print(
        f"{done.students} students: {escape(str(done.folder))}/notebooks and /sheets; to print for all:"
        " all_sheets.html",
        soft_wrap=True,
    )
    screen.print(
        f"{done.written} files are new. The set is frozen in {escape(str(done.frozen))}", soft_wrap=True
    )


@app.command("mark")
@plain_errors
def mark_class(
    folder: Annotated[
        Path,
        typer.Argument(metavar="FOLDER", help="Folder, or the learning system's zip, of what was handed in."),
    ],
    set_file: Annotated[Path, typer.Option("--set", metavar="SET.toml", help=SET_HELP)],
    roster: RosterFile,
    key: KeyFile,
    to: Annotated[Path, typer.Option(help="Folder for the results.")],
    template: Annotated[
        Path | None, typer.Option(help="Your own gradebook file, to be filled in as gradebook_filled.csv.")
    ] = None,
    column: Annotated[str | None, typer.Option(help="Points column in it; default: the set's title.")] = None,
    decisions: Annotated[
        Path | None, typer.Option(help="File of decisions about the marks; default: the one beside the key.")
    ] = None,
    show_changes: Annotated[
        bool, typer.Option("--show-changes", help="Show which points would change, and write nothing.")
    ] = False,
) -> None:
    """Mark what came in: gradebook, feedback pages, class report, evidence, and what to look at."""
    from gearlab.course.coursekey import read_key
    from gearlab.course.gradebook import Template, fill_template
    from gearlab.course.marking import mark
    from gearlab.course.roster import read_roster

    students = read_roster(roster)
    if template:
        Template(template)  # refused before an hour of marking, not after it
    points: dict[str, float] = {}

    with screen.status(f"hand-ins of {len(students)} students") as status:
        count = 0

        def keep(student, reached):
            nonlocal count
            count += 1
            if not count % 50:
                status.update(f"{count} of {len(students)} students")
            if template and reached is not None:
                points[student.id] = reached

        done = mark(
            folder, set_of(set_file), students, read_key(key), to, keep, decisions, only_show=show_changes
        )
    if show_changes:
        _show_changes(done, 200)
        if done.changes is None:
            screen.print("There are no results of this set to compare with.")
        screen.print(f"Nothing was written; {escape(str(to))} is as it was.", soft_wrap=True)
        return
    _show_marking(done)
    _show_changes(done, 12)
    if template:
        changes, unmatched = fill_template(
            template, to / "gradebook_filled.csv", points, students, column or done.title
        )
        screen.print(f"\ngradebook_filled.csv: {len(changes)} cells filled", soft_wrap=True)
        for line in unmatched:
            screen.print(f"  not matched: {escape(line)}", soft_wrap=True)


def _show_marking(done) -> None:
    from gearlab.course.gradebook import points_text
    from gearlab.course.intake import KINDS

    mean = (
        f", mean {points_text(done.points / done.marked)} of {points_text(done.out_of)} points"
        if done.marked
        else ""
    )
    screen.print(f"{done.marked} of {done.students} marked{mean}", soft_wrap=True)
    for note in done.notes:
        screen.print(f"Note: {escape(note)}", soft_wrap=True)
    for kind, words in KINDS.items():
        count = sum(problem.kind == kind for problem in done.problems)
        if count:
            screen.print(f"  {count:>4}  {words}")
    screen.print(
        f"Results in {escape(str(done.folder))}: gradebook.csv, feedback, report.html, evidence.json,"
        " problems.csv",
        soft_wrap=True,
    )


def _show_changes(done, most: int) -> None:
    """Points that are others than before, and marks typed by hand."""
    from gearlab.course.changes import CHANGES, EDITED, ready_lines
    from gearlab.course.files import one_line

    if done.decisions:
        screen.print(f"{done.decisions} decisions were applied.", soft_wrap=True)
    if done.changes is not None:
        students = len({change.student for change in done.changes})
        screen.print(
            f"Against the results before: {len(done.changes)} changes for {students} students"
            f"{f' ({CHANGES})' if done.changes else ''}",
            soft_wrap=True,
        )
        for change in done.changes[:most]:
            screen.print(
                escape(
                    f"  {one_line(change.student)}  {change.question}: {change.before or 'blank'} of"
                    f" {change.out_of_before or '-'} becomes {change.after or 'blank'} of"
                    f" {change.out_of_after or '-'} ({one_line(change.why)})"
                ),
                soft_wrap=True,
            )
        if len(done.changes) > most:
            screen.print(f"  and {len(done.changes) - most} more", soft_wrap=True)
    if done.edited:
        screen.print(
            f"{len(done.edited)} marks were edited by hand in gradebook.csv: make them decisions. The lines"
            f" to paste stand in {EDITED}:\n",
            soft_wrap=True,
        )
        screen.print(escape(ready_lines(done.edited[:3])), soft_wrap=True)
