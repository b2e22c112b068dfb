"""Bench sheets of a design: true-size pages to print, files to cut, a list of parts, and the review."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from pathlib import Path

from gearlab.course.files import write_whole
from gearlab.drawing import sheets
from gearlab.drawing.cutting import gear_cut, plate_cut
from gearlab.drawing.views.bench import paper_gear, plate_sheet, stack_sheet
from gearlab.parts.design import Design, read_design
from gearlab.parts.review import Findings, review

CARE = ("Laser cutters are run by those who are allowed to, lid closed, exhaust on, somebody watching. Gears pinch: turn by hand, power off and locked, guards in place. "
        "Local rules and licensed practice come first. Numbers here are for teaching, no release of a machine.")


@dataclass(frozen=True)
class BenchSheets:
    """What was written: the files, and what the review found."""

    files: tuple[Path, ...]
    findings: Findings


def bench_sheets(source: Design | str | Path, folder: Path, *, cut_width: float = 0.0, clearance: float = 0.0) -> BenchSheets:
    """Write the bench sheets of a design.

    Parameters
    ----------
    source : Design, str or Path
        The design, or its TOML file [-].
    folder : Path
        Where the files go; made if missing, files of the same names are replaced [-].
    cut_width : float
        Width that the beam takes away [unit of the design].
    clearance : float
        What each flank of a printed part is drawn back [unit of the design].

    Returns
    -------
    BenchSheets
        ``sheets_A4.pdf`` and ``sheets_Letter.pdf`` (gears, plate, side views, in true size), one SVG and one DXF for each gear and
        the plate, ``parts.csv`` and ``review.txt``.

    Raises
    ------
    ValueError
        For a design that cannot be read, or that has a hole through an edge: such a plate cannot be drawn.

    Source: ISO 216 and ANSI/ASME Y14.1 for the papers; a kerf of half a width on either side of the path is common practice.
    """
    design = source if isinstance(source, Design) else read_design(source)
    found = review(design)
    written: list[Path] = []

    def put(name: str, content: str | bytes) -> None:
        write_whole(folder / name, content)
        written.append(folder / name)

    gears = {one.name: design.gears[one.name] for one in design.gear}
    scenes = [plate_sheet(design.board, design.holes)]
    scenes += [_named(paper_gear(gear, bore=design.of(name).bore), name) for name, gear in gears.items()]
    scenes += [stack_sheet(design, shaft) for shaft in design.shaft]
    for paper in sheets.PAPERS:
        put(f"sheets_{paper}.pdf", sheets.pdf(scenes, paper))
    cuts = [(name, gear_cut(gear, bore=design.of(name).bore, cut_width=cut_width, clearance=clearance)) for name, gear in gears.items()]
    plate = design.board
    cuts.append((plate.name, plate_cut(plate.length, plate.height, [(hole.x, hole.y, hole.diameter) for hole in design.holes], design.unit, name=plate.name, cut_width=cut_width)))
    for name, cut in cuts:
        put(f"{name}.svg", cut.svg())
        put(f"{name}.dxf", cut.dxf())
    put("parts.csv", parts_table(design))
    put("review.txt", f"Review of {design.design.name}\n\n{found}\n\n{CARE}\n")
    return BenchSheets(tuple(written), found)


def _named(scene, name: str):
    from dataclasses import replace
    return replace(scene, title=name)


def parts_table(design: Design) -> str:
    """The parts of a design as CSV: what, how many, its sizes, where it goes [unit of the design]."""
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\n")
    rows.writerow(["part", "count", "size", "where"])
    unit = design.unit
    rows.writerow([design.board.name, 1, f"{design.plate.length:g} x {design.plate.height:g} x {design.plate.thickness:g} {unit}", design.plate.material])
    for shaft in design.shaft:
        rod = design.rod(shaft)
        rows.writerow([rod.name if rod else f"shaft {shaft.name}", 1, f"diameter {shaft.diameter:g} {unit}" + (f", length {shaft.length:g} {unit}" if shaft.length else ""),
                       f"{shaft.name} at ({shaft.x:g}, {shaft.y:g}) {unit}"])
    for one in design.gear:
        gear = design.gears[one.name]
        rows.writerow([one.name, 1, f"{gear.teeth} teeth, pitch diameter {gear.pitch_diameter:.4g} {unit}, face {one.face_width:g}, {design.overall_length(one.name):g} over all, bore {one.bore:g} {unit}",
                       f"on {one.shaft}, gap {one.gap:g} {unit}"])
        if one.set_screw:
            rows.writerow([f"set screw {one.set_screw}" + (f" x {one.screw_length:g}" if one.screw_length else ""), 1, "", f"in the hub of {one.name}"])
        if one.gap:
            rows.writerow(["washers", 1, f"{one.gap:g} {unit} in all", f"under {one.name}"])
    return text.getvalue()
