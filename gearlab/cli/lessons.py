"""`gearlab open` and `gearlab copy`: the lessons, on a copy of one's own."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from gearlab.cli.places import say
from gearlab.cli.root import app, plain_errors

if TYPE_CHECKING:
    from gearlab.course.workbook import Workbook

WorkbookFolder = Annotated[
    Path | None,
    typer.Option("--folder", help="Folder for your copy; default: gearlab-workbook in your home folder."),
]


@app.command("open")
@plain_errors
def open_lessons(
    lesson: Annotated[
        str | None, typer.Argument(help="Number or name of the lesson; default: the course page.")
    ] = None,
    folder: WorkbookFolder = None,
    browser: Annotated[bool, typer.Option("--browser/--no-browser", help="Open a browser window.")] = True,
) -> None:
    """Open the lessons in JupyterLab; your work is never overwritten."""
    from gearlab.course.workbook import DEFAULT_FOLDER, bring_up_to_date, lab_command, open_lab

    workbook = bring_up_to_date(folder or DEFAULT_FOLDER)
    command = lab_command(workbook, lesson, browser)
    _tell(workbook)
    say("Stop with Ctrl+C.")
    raise typer.Exit(open_lab(command))


@app.command("copy")
@plain_errors
def copy_lessons(folder: WorkbookFolder = None) -> None:
    """Copy the lessons, or bring your copy up to date; start nothing."""
    from gearlab.course.workbook import DEFAULT_FOLDER, bring_up_to_date

    _tell(bring_up_to_date(folder or DEFAULT_FOLDER))


def _tell(workbook: "Workbook") -> None:
    say(f"Your lessons are in {workbook.folder}")
    for name in workbook.copied:
        say(f"  copied {name}")
    for name in workbook.beside:
        say(f"  there is a newer edition; it was put beside yours as {name}")
