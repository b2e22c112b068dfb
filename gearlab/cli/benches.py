"""`gearlab bench`: what is cut, printed and looked up at the bench."""

from pathlib import Path
from typing import Annotated

import typer
from rich.markup import escape

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
    from gearlab.course.bench.command import run
    from gearlab.course.bench.files import Making, pairs_of, sectors_of

    colours = pairs_of("--colour", colour or (), "mark=#3f9c8a")
    making = Making(cut_width, clearance, tolerance, colours, sectors_of(sector or ()), solids)
    with screen.status("") as status:
        passes = run(
            design,
            to,
            making,
            anyway=anyway,
            test_piece=test_piece,
            against=against,
            say=lambda text: screen.print(escape(text), soft_wrap=True),
            tell=lambda what: status.update(escape(what)),
        )
    if not passes:
        raise typer.Exit(1)
