"""`gearlab decide` and `gearlab student`: decisions about marks, and all that is held about one student."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from gearlab.cli.places import (
    CourseFolder,
    KeyFile,
    SetFile,
    at,
    class_list,
    course_of,
    key_file,
    many,
    say,
    set_in,
)
from gearlab.cli.root import app, plain_errors

if TYPE_CHECKING:
    from gearlab.course.coursekey import CourseKey
    from gearlab.course.decisions.tables import Decisions
    from gearlab.course.folder import Course
    from gearlab.course.handout.edition import Edition
    from gearlab.course.roster import Roster


@app.command("decide")
@plain_errors
def decide(
    set_name: SetFile,
    key: KeyFile = None,
    roster: Annotated[
        Path | None, typer.Option(help="Class list; with it the ids are checked too; default: the course's.")
    ] = None,
    course: CourseFolder = None,
    to: Annotated[Path | None, typer.Option(help="File of decisions; default: beside the key.")] = None,
) -> None:
    """Begin the decisions about a set, or check and list them."""
    from gearlab.course.coursekey import read_key
    from gearlab.course.decisions.checks import decisions_of, decisions_place
    from gearlab.course.decisions.starter import begin
    from gearlab.course.marking.changes import to_look_at
    from gearlab.course.marking.whole import handed_out

    place = course_of(course, key=key)
    course_key = read_key(key_file(place, key))
    edition, _ = handed_out(set_in(place, set_name), course_key)
    homework = edition.load()
    file = to or decisions_place(course_key, homework.name)
    if not file.exists():
        begin(file, homework)
        say(
            f"New file of decisions: {at(file)}. Nothing is decided in it yet; take away the # in front of"
            f" the lines you need.\nNext: `gearlab decide {set_name}` checks and lists what you decided,"
            " `gearlab mark` with --show-changes tells which points change by it, and without it marks."
        )
        return
    students = class_list(place, roster) if roster or place else None
    decisions = decisions_of(course_key, homework, students, file)
    say(f"{at(file)}: {many(len(decisions), 'decision') if len(decisions) else 'no decisions'}")
    for decision in decisions.all:
        say(f"  line {decision.line}: {decision.words}")
    still = to_look_at(decisions)
    if still:
        say(f"{len(still)} to be looked at again:")
    for row in still:
        say(f"  {row.student + ': ' if row.student else ''}{row.reason}")
    if place and students:
        for words in _files_that_do_not_fit(place, edition, course_key, students, decisions):
            say(words)
    if students is None:
        say("Ids were not checked: give the class list with --roster.")


def _files_that_do_not_fit(
    place: Course, edition: Edition, key: CourseKey, students: Roster, decisions: Decisions
) -> Iterator[str]:
    """Files that are to count for a student, held against what came in so far."""
    from gearlab.course.decisions.tables import FileOf
    from gearlab.course.handout.edition import SheetMaker
    from gearlab.course.intake.came import Intake
    from gearlab.course.intake.taking import give_files

    if not any(decision.kind == FileOf.kind for decision in decisions.all):
        return
    try:
        hand_ins = place.hand_ins(edition.set_name)
    except ValueError as reason:
        yield f"Files of [[{FileOf.kind}]] were not looked for: {reason}"
        return
    maker = SheetMaker(edition, key)
    for problem in give_files(Intake(hand_ins, maker.set.name, students, maker.packet), decisions, maker)[2]:
        yield f"  {problem.student}: {problem.reason}"


@app.command("student")
@plain_errors
def student(
    identity: Annotated[str, typer.Argument(metavar="ID", help="The student's id, as in the class list.")],
    show: Annotated[
        bool, typer.Option("--show", help="List what is held about the student, and where.")
    ] = False,
    remove: Annotated[bool, typer.Option("--remove", help="Remove all of it, after you confirm.")] = False,
    course: Annotated[
        Path | None,
        typer.Option(help="Course folder, all of it looked through; default: the one you are in."),
    ] = None,
    roster: Annotated[Path | None, typer.Option(help="Class list; default: the one of the course.")] = None,
    place: Annotated[
        list[Path] | None,
        typer.Option(help="A file or folder to look through: hand-ins, results, decisions. May be repeated."),
    ] = None,
    yes: Annotated[bool, typer.Option("--yes", help="Remove without asking, for scripts.")] = False,
) -> None:
    """Show, or remove, all that is held about one student.

    Looked through are class list, hand-outs, hand-ins, results and decisions.
    """
    from gearlab.course.folder import find_course
    from gearlab.course.onestudent import ROSTER, held
    from gearlab.course.onestudent import remove as remove_all
    from gearlab.quoting import one_line

    if show == remove:
        raise ValueError("say --show or --remove")
    if course is None and not place and roster is None and (here := find_course()) is not None:
        course, roster = here.folder, here.roster_path if here.roster_path.is_file() else None
    places = [*(place or []), *([course] if course else [])]
    if roster is None and course is not None and (course / ROSTER).is_file():
        roster = course / ROSTER
    if not places and roster is None:
        raise ValueError(
            "nothing to look through: no course folder is here or above;"
            " give --course FOLDER, or --roster and --place"
        )
    holdings = held(identity, places, roster)
    say(f"{one_line(holdings.person.id)} {one_line(holdings.person.name)}".strip())
    for holding in holdings.files:
        told = (*holding.what, *(f"LEFT: {reason}" for reason in holding.left))
        alone = len(told) == 1 and len(told[0]) <= 90
        where = f"  {one_line(at(holding.path))}"
        say(f"{where}: {told[0]}" if alone else where)
        for what in () if alone else told:
            say(f"      {what}")
    if show:
        return
    if holdings.left:
        remove_all(holdings)  # refuses
    if not yes:
        typed = typer.prompt(
            f"Type {one_line(identity)} to remove all of this for good", default="", show_default=False
        )
        if typed.strip() != identity:
            say("Nothing was removed.")
            raise typer.Exit(1)
    remove_all(holdings)
    say(f"Removed from {len(holdings.files)} files. The frozen set needs no change.")
