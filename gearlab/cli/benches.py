"""`gearlab bench`: what is cut, printed and looked up at the bench."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from rich.markup import escape

from gearlab.cli.places import say
from gearlab.cli.root import app, plain_errors, screen

if TYPE_CHECKING:
    from gearlab.course.bench.files import Making
    from gearlab.parts.design import Design


@app.command("bench")
@plain_errors
def bench(
    design: Annotated[Path, typer.Argument(metavar="DESIGN.toml", help="The design's file.")],
    to: Annotated[Path, typer.Option(help="Folder for the sheets, cut files, parts table and review.")],
    cut_width: Annotated[
        float, typer.Option(help="What the beam takes away [unit of the design]; --test-piece tells it.")
    ] = 0.0,
    clearance: Annotated[
        float,
        typer.Option(help="How far each flank of a printed part is set back [unit]; --test-piece tells it."),
    ] = 0.0,
    tolerance: Annotated[
        float | None, typer.Option(help="Largest distance from the exact curve: 0.005 mm or 0.0002 in.")
    ] = None,
    colour: Annotated[
        list[str] | None, typer.Option(metavar="LAYER=#RRGGBB", help="Colour of mark, hole or outline.")
    ] = None,
    sector: Annotated[
        list[str] | None, typer.Option(metavar="GEAR=FROM:TO", help="Make part of a gear, angles in deg.")
    ] = None,
    test_piece: Annotated[
        bool, typer.Option("--test-piece", help="Write the test piece for --cut-width and --clearance alone.")
    ] = False,
    solids: Annotated[
        bool, typer.Option("--solids", help='STL and 3MF, too; needs: pip install "gearlab[solids]".')
    ] = False,
    anyway: Annotated[
        bool, typer.Option("--anyway", help="Write the files of a design that does not pass its review, too.")
    ] = False,
    against: Annotated[
        Path | None, typer.Option(metavar="OLD.toml", help="An earlier file: tell what moved since.")
    ] = None,
) -> None:
    """Review a design and write its bench sheets.

    True-size PDF, SVG and DXF for the cutter, and a table of parts to make or to order.

    Begin with --test-piece: push its peg into the slots and a shaft into the holes; the number at the one
    that is just filled is the --cut-width of a beam or the --clearance of a printer.
    """
    from gearlab.course.bench.files import Making, pairs_of, sectors_of
    from gearlab.parts.design import read_design

    colours = pairs_of("--colour", colour or (), "mark=#3f9c8a")
    making = Making(cut_width, clearance, tolerance, colours, sectors_of(sector or ()), solids)
    design_read = read_design(design)
    if test_piece:
        _write_pieces(design_read, to, making)
    elif not _write_sheets(design_read, to, making, anyway, against):
        raise typer.Exit(1)


def _write_pieces(design: "Design", to: Path, making: "Making") -> None:
    from gearlab.course.bench.sheets import written_pieces

    with screen.status("") as status:
        written = written_pieces(design, to, making, lambda what: status.update(escape(what)))
    for path, piece in written:
        say(str(path))
        if piece is not None:
            say(f"{piece.says}\n")


def _write_sheets(design: "Design", to: Path, making: "Making", anyway: bool, against: Path | None) -> bool:
    """Write the sheets and tell what was written; whether the design passes its review."""
    from gearlab.course.bench.sheets import CARE, REVIEW, written_sheets
    from gearlab.parts.design import read_design
    from gearlab.parts.review import moved

    before = read_design(against) if against is not None else None
    with screen.status("") as status:
        written = written_sheets(design, to, making, anyway, lambda what: status.update(escape(what)))
    for file in written.files:
        say(str(file))
    say("")
    if before is not None:
        say(f"Moved since {against}:\n{moved(before, design)}\n")
    findings = written.findings
    say(findings.brief)
    if findings.holds:
        say(f"What holds is in {to / REVIEW}, with its margins.")
    if not findings.passes and not anyway:
        say("The review comes first: sheets and files are written when it passes, or with --anyway.")
    say(CARE)
    return findings.passes
