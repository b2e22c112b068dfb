"""`gearlab bench`: what is cut, printed and looked up at the bench."""

from pathlib import Path
from typing import Annotated

import typer
from rich.markup import escape

from gearlab.cli.places import say
from gearlab.cli.root import app, plain_errors, screen


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
    from gearlab.course.bench.sheets import CARE, REVIEW, written_pieces, written_sheets
    from gearlab.parts.design import read_design
    from gearlab.parts.review import moved

    colours = pairs_of("--colour", colour or (), "mark=#3f9c8a")
    making = Making(cut_width, clearance, tolerance, colours, sectors_of(sector or ()), solids)
    with screen.status("") as status:

        def tell(what: str) -> None:
            status.update(escape(what))

        made_of = read_design(design)
        if test_piece:
            for path, piece in written_pieces(made_of, to, making, tell):
                say(str(path))
                if piece is not None:
                    say(f"{piece.says}\n")
            return
        before = read_design(against) if against is not None else None
        written = written_sheets(made_of, to, making, anyway, tell)
    for file in written.files:
        say(str(file))
    say("")
    if before is not None:
        say(f"Moved since {against}:\n{moved(before, made_of)}\n")
    findings = written.findings
    say(findings.brief)
    if findings.holds:
        say(f"What holds stands with its margins in {to / REVIEW}.")
    if not findings.passes and not anyway:
        say("The review comes first: sheets and files are written when it passes, or with --anyway.")
    say(CARE)
    if not findings.passes:
        raise typer.Exit(1)
