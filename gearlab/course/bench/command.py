"""What `gearlab bench` does: bench sheets, or the test piece that comes before them, told on the screen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

from gearlab.course.bench.files import Making, solid_files, write_files
from gearlab.course.bench.sheets import CARE, REVIEW, SHORT_CARE, bench_sheets
from gearlab.drawing import sheets
from gearlab.drawing.cutting import Piece, piece_drawing, trial_pieces
from gearlab.drawing.solids import piece_solid
from gearlab.parts.design import Design, read_design
from gearlab.parts.review import moved, review

Tell = Callable[[str], Any]


def run(
    source: Path,
    to: Path,
    making: Making,
    *,
    anyway: bool,
    test_piece: bool,
    against: Path | None,
    say: Tell,
    tell: Tell,
) -> bool:
    """Write what is asked for and say what was written; whether the design passes its review.

    say: prints a paragraph; tell: shows what is being made.
    ValueError for a design or an option that cannot be read; nothing is written then.
    """
    design = read_design(source)
    if test_piece:
        for path, piece in written_pieces(design, to, making, tell):
            say(str(path))
            if piece is not None:
                say(f"{piece.says}\n")
        return True
    before = read_design(against) if against is not None else None
    sheets = bench_sheets(
        design,
        to,
        cut_width=making.cut_width,
        clearance=making.clearance,
        tolerance=making.tolerance,
        colours=making.colours,
        sectors=making.sectors,
        solids=making.solids,
        anyway=anyway,
        tell=tell,
    )
    for file in sheets.files:
        say(str(file))
    say("")
    if before is not None:
        say(f"Moved since {against}:\n{moved(before, design)}\n")
    say(sheets.findings.brief)
    if sheets.findings.holds:
        say(f"What holds stands with its margins in {to / REVIEW}.")
    if not sheets.findings.passes and not anyway:
        say("The review comes first: sheets and files are written when it passes, or with --anyway.")
    say(CARE)
    return sheets.findings.passes


def written_pieces(
    design: Design, folder: Path, making: Making, tell: Tell = lambda what: None
) -> list[tuple[Path, Piece | None]]:
    """Write the two test pieces of a design, one for a beam and one for a printer, each with its sheets.

    Returns the files; beside the last one of each piece the piece itself, with its sentence.
    ValueError for a shaft too thin for one.
    """
    tell("test piece")
    verdict = f"a test piece, no part; its design: {review(design).verdict}"
    files: dict[str, tuple[str | bytes, Piece | None]] = {}
    shafts = [shaft.diameter for shaft in design.shaft]
    for piece in trial_pieces(design.unit, shafts, making.tolerance):
        cut = replace(piece.file, verdict=verdict).with_colours(making.colours)
        name = cut.name
        files |= {f"{name}.svg": (cut.svg(), None), f"{name}.dxf": (cut.dxf(), None)}
        if making.solids and name.endswith("print"):
            files |= {
                file: (data, None)
                for file, data in solid_files(name, piece_solid(piece, verdict=verdict)).items()
            }
        for paper in sheets.PAPERS:
            block = sheets.TitleBlock(design.name, name, design.unit, verdict, care=SHORT_CARE)
            page = sheets.bound(sheets.pages(piece_drawing(piece), paper, block))
            files[f"{name}_{paper}.pdf"] = (page, None)
        files[f"{name}_{paper}.pdf"] = (page, piece)
    write_files(folder, {name: data for name, (data, _) in files.items()})
    return [(folder / name, says) for name, (_, says) in files.items()]
