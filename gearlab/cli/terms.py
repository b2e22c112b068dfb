"""`gearlab term`: the marks of the sets added up to the mark of the term."""

from pathlib import Path
from typing import Annotated

import typer

from gearlab.cli.places import CourseFolder, at, say
from gearlab.cli.root import app, plain_errors, screen


@app.command("term")
@plain_errors
def term_of_course(
    course: CourseFolder = None,
    section: Annotated[str | None, typer.Option(help="This section only, into results apart.")] = None,
    template: Annotated[
        Path | None, typer.Option(help="Your own gradebook file, to be filled in as gradebook_filled.csv.")
    ] = None,
    column: Annotated[
        str | None, typer.Option(help="Points column in it; default: the term's title.")
    ] = None,
    to: Annotated[
        Path | None, typer.Option(help="Folder for the results; default: results/term in the course.")
    ] = None,
) -> None:
    """Add up the term: gradebook, a page for each student, report."""
    from gearlab.course.folder import find_course, read_course, rows_to_do
    from gearlab.course.gradebook import Template, filled_in
    from gearlab.course.intake.came import PROBLEMS
    from gearlab.course.roster import Roster
    from gearlab.course.term.results import make_term

    place = read_course(course) if course else find_course()
    if place is None:
        raise ValueError(
            "term: needs a course folder, which says where the results of the sets lie and how they count;"
            " none is here or above. `gearlab course FOLDER` begins one: put the class list, the key with"
            " the frozen sets beside it, and the results of each set as results/SET into it"
        )
    if template:
        Template(template)  # refused before anything is written
    lines: list[str] = []

    def fill(fresh: Path, term) -> None:
        if template is None:
            return
        points = {s.student.id: float(s.total) for s in term.sums if s.total is not None}
        students = Roster(s.student for s in term.sums)
        lines.extend(filled_in(template, fresh, points, students, column or term.rules.title))

    with screen.status("adding up the term"):
        done = make_term(place, section, to, fill)
    results = {marks.name: place.results(marks.name) for marks in done.sets}
    _show(done, {name: path / PROBLEMS for name, path in results.items() if rows_to_do(path)})
    for line in lines:
        say(line)


def _show(done, to_do: dict[str, Path]) -> None:
    """What came of adding up; `to_do`: the lists of problems that wait for somebody, by set."""
    from gearlab.course.term.pages import number

    for marks in done.sets:
        count = sum(mark.points is not None for mark in marks.marks.values())
        state = "not marked yet" if marks.marked is None else f"marked {marks.marked:%Y-%m-%d at %H:%M}"
        say(f"  {marks.name}: {state}" + (f", {count} with points" if marks.marked else ""))
    totals = done.totals
    mean = ""
    if totals:
        most = {sum_.out_of for sum_ in done.sums}
        of = f" of {number(most.pop())}" if len(most) == 1 else ""
        mean = f", mean {number(sum(totals) / len(totals), 1)}{of}"
    say(f"{len(totals)} of {len(done.sums)} students have a mark{mean}")
    waiting = sum(bool(sum_.open) for sum_ in done.sums)
    if waiting:
        say(f"{waiting} marks are not final: see the column open")
    missing = sum(bool(sum_.missing) for sum_ in done.sums)
    if missing:
        say(f"{missing} students miss a set: see the report")
    for note in done.notes:
        say(f"Note: {note}")
    for name in to_do:
        say(f"Note: {name}: what {at(to_do[name])} names is not settled; its marks may still change")
    say(f"Results in {at(done.folder)}: gradebook.csv, students, term.html")
    say("Next: read term.html, and give each student their page: students/ID.html.")
