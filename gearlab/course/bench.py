"""Bench sheets of a design: true-size pages to print, files to cut, a list of parts, and the review."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass, replace
from pathlib import Path

from gearlab.course.files import RESERVED
from gearlab.course.gradebook import harmless
from gearlab.drawing import sheets
from gearlab.drawing.cutting import gear_cut, plate_cut
from gearlab.drawing.views.bench import paper_gear, plate_sheet, stack_sheet
from gearlab.parts.design import Design, read_design
from gearlab.parts.review import Findings, review
from gearlab.writing import write_whole

CARE = (
    "Laser cutters are run by those who are allowed to, lid closed, exhaust on, somebody watching. Gears"
    " pinch: turn by hand, power off and locked, guards in place. Local rules and licensed practice come"
    " first. Numbers here are for teaching, no release of a machine."
)


@dataclass(frozen=True)
class BenchSheets:
    """What was written: the files, and what the review found."""

    files: tuple[Path, ...]
    findings: Findings


def bench_sheets(
    source: Design | str | Path, folder: Path, *, cut_width: float = 0.0, clearance: float = 0.0
) -> BenchSheets:
    """Write the bench sheets of a design.

    source: the design, or its TOML file.
    folder: where the files go; made if missing, files of the same names are replaced.
    cut_width: width that the beam takes away [unit of the design].
    clearance: what each flank of a printed part is drawn back [unit of the design].
    Returns ``sheets_A4.pdf`` and ``sheets_Letter.pdf`` (gears, plate, side views, in true size), one SVG and
        one DXF for each gear and the plate, ``parts.csv`` and ``review.txt``.
    ValueError for a design that cannot be read, that has a hole through an edge or a bore that leaves no
        gear (such parts cannot be drawn), or for a folder that cannot be written; nothing is written then.

    Source: ISO 216 and ANSI/ASME Y14.1 for the papers; a kerf of half a width on either side of the path is
    common practice.
    """
    design = source if isinstance(source, Design) else read_design(source)
    found = review(design)
    # all of it is made before any of it is written: a folder holds the whole set, or what it held
    made: dict[str, str | bytes] = {}
    gears = {one.name: design.gears[one.name] for one in design.gear}
    plate, named = design.board, part_files([design.board.name, *gears])
    cuts = [
        plate_cut(
            plate.length,
            plate.height,
            [(hole.x, hole.y, hole.diameter) for hole in design.holes],
            design.unit,
            name=plate.name,
            cut_width=cut_width,
        )
    ]
    for name, gear in gears.items():
        try:
            cuts.append(
                gear_cut(gear, bore=design.of(name).bore, cut_width=cut_width, clearance=clearance, name=name)
            )
        except ValueError as error:
            raise ValueError(f"gear {name!r}: {error}") from None
    scenes = [plate_sheet(design.board, design.holes)]
    scenes += [_named(paper_gear(gear, bore=design.of(name).bore), name) for name, gear in gears.items()]
    scenes += [stack_sheet(design, shaft) for shaft in design.shaft]
    for paper in sheets.PAPERS:
        made[f"sheets_{paper}.pdf"] = sheets.pdf(scenes, paper)
    for file, cut in zip(named, cuts):
        made |= {f"{file}.svg": cut.svg(), f"{file}.dxf": cut.dxf()}
    made |= {
        "parts.csv": parts_table(design),
        "review.txt": f"Review of {design.design.name}\n\n{found}\n\n{CARE}\n",
    }
    for name, content in made.items():
        try:
            write_whole(folder / name, content)
        except OSError as error:
            raise ValueError(
                f"{folder / name} cannot be written: {error.strerror or error}; give a folder that you may"
                " write to"
            ) from None
    return BenchSheets(tuple(folder / name for name in made), found)


def part_files(names: list[str]) -> list[str]:
    """Names of files for parts, without their endings.

    Safe on every disk and no two alike, also where capitals do not count.

    >>> part_files(["wheel 45/2", "../Wheel", "wheel", "WHEEL", "sheets_A4"])
    ['wheel 45_2', '_Wheel', 'wheel', 'WHEEL-2', 'sheets_A4']
    """
    found: list[str] = []
    for name in names:
        plain = re.sub(r"[^\w ()+-]", "_", re.sub(r"[.][.]+", "", name)).strip()[:60].rstrip() or "part"
        plain += "_" if RESERVED.fullmatch(plain) else ""
        taken, file, number = {one.casefold() for one in found}, plain, 2
        while file.casefold() in taken:
            file, number = f"{plain}-{number}", number + 1
        found.append(file)
    return found


def _named(scene, name: str):
    return replace(scene, title=name)


def parts_table(design: Design) -> str:
    """The parts of a design as CSV: what, how many, its sizes, where it goes [unit of the design]."""
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\n")

    def put(*cells) -> None:
        # names come from a file that somebody wrote
        rows.writerow([harmless(str(one)) for one in cells])

    put("part", "count", "size", "where")
    unit = design.unit
    put(
        design.board.name,
        1,
        f"{design.plate.length:g} x {design.plate.height:g} x {design.plate.thickness:g} {unit}",
        design.plate.material,
    )
    for shaft in design.shaft:
        rod = design.rod(shaft)
        put(
            rod.name if rod else f"shaft {shaft.name}",
            1,
            f"diameter {shaft.diameter:g} {unit}"
            + (f", length {shaft.length:g} {unit}" if shaft.length else ""),
            f"{shaft.name} at ({shaft.x:g}, {shaft.y:g}) {unit}",
        )
    for one in design.gear:
        gear = design.gears[one.name]
        put(
            one.name,
            1,
            f"{gear.teeth} teeth, pitch diameter {gear.pitch_diameter:.4g} {unit}, face {one.face_width:g},"
            f" {design.overall_length(one.name):g} over all, bore {one.bore:g} {unit}",
            f"on {one.shaft}, gap {one.gap:g} {unit}",
        )
        if one.set_screw:
            put(
                f"set screw {one.set_screw}" + (f" x {one.screw_length:g}" if one.screw_length else ""),
                1,
                "",
                f"in the hub of {one.name}",
            )
        if one.gap:
            put("washers", 1, f"{one.gap:g} {unit} in all", f"under {one.name}")
    return text.getvalue()
