"""Bench sheets of a design: drawings to work from, files to cut, a list of parts, and the review."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any

from gearlab.care import line, short
from gearlab.course.bench.files import Making, cut_file, cut_parts, part_solid, solid_files, write_files
from gearlab.course.bench.partstable import parts_table
from gearlab.course.roster import RESERVED
from gearlab.drawing import sheets
from gearlab.drawing.cutting import Piece, piece_drawing, trial_pieces
from gearlab.drawing.scene import Scene
from gearlab.drawing.solids import piece_solid
from gearlab.drawing.views.drive import drive
from gearlab.drawing.workshop import (
    Picture,
    bevel_drawing,
    fitting,
    gear_drawing,
    plate_drawings,
    rack_drawing,
    shaft_drawing,
)
from gearlab.parts.design import Design, read_design
from gearlab.parts.made import (
    BevelPart,
    GearPart,
    Part,
    PartsList,
    PlatePart,
    RackPart,
    ShaftPart,
    parts_of,
    tooth_data,
)
from gearlab.parts.review import Ledger, review
from gearlab.theory.units import convert

REVIEW = "review.txt"
CARE = line("cutting", "turning", "powering", "strength", "review")
SHORT_CARE = short("turning", "powering")


@dataclass(frozen=True)
class BenchSheets:
    """What was written: the files, and what the review came to."""

    files: tuple[Path, ...]
    findings: Ledger


def bench_sheets(
    source: Design | str | Path,
    folder: Path,
    *,
    cut_width: float = 0.0,
    clearance: float = 0.0,
    tolerance: float | None = None,
    colours: Mapping[str, str] | None = None,
    sectors: Mapping[str, tuple[float, float]] | None = None,
    solids: bool = False,
    anyway: bool = False,
    tell: Callable[[str], Any] = lambda what: None,
) -> BenchSheets:
    """Write the bench sheets of a design: drawings for A4 and Letter, cut files, the parts table, the review.

    source: the design, or its TOML file.
    folder: where the files go; made if missing, files of the same names are replaced.
    cut_width: width that the beam takes away [unit of the design].
    clearance: what each surface of a printed part is set back [unit of the design].
    tolerance: largest distance of a cut path from the exact curve; left out, 0.005 mm or 0.0002 in [unit of
        the design].
    colours: of the layers of cut files, such as {"mark": "#3f9c8a"}.
    sectors: gears of which only a part is cut, by name: from which angle to which, tooth 0 at 0 [deg].
    solids: whether gears, rings, racks and the plate are wanted as STL and 3MF; takes the extra ``solids``.
    anyway: whether the files of a design that does not pass its review are wanted; else it gets its review
        alone.
    tell: called with what is being made, for a line of progress.
    ValueError for a design that cannot be read, that has a hole through an edge or a bore that leaves no gear
        (such parts cannot be drawn), or for a folder that cannot be written; nothing is written then.

    Source: ISO 216 and ANSI/ASME Y14.1 for the papers; a kerf of half a width on either side of the path is
    common practice.
    """
    design = source if isinstance(source, Design) else read_design(source)
    making = Making(cut_width, clearance, tolerance, colours or {}, sectors or {}, solids)
    return written_sheets(design, folder, making, anyway, tell)


def written_sheets(
    design: Design, folder: Path, making: Making, anyway: bool, tell: Callable[[str], Any]
) -> BenchSheets:
    """The same for a design that is read, with its ways of making at hand."""
    tell("review")
    findings = review(design)
    # all of it is made before any of it is written: a folder holds the whole set, or what it held
    content: dict[str, str | bytes] = {REVIEW: f"Review of {design.name}\n\n{findings}\n\n{CARE}\n"}
    if findings.passes or anyway:
        content |= _files(design, findings, making, tell)
    write_files(folder, content)
    return BenchSheets(tuple(folder / name for name in content), findings)


def _files(
    design: Design, findings: Ledger, making: Making, tell: Callable[[str], Any]
) -> dict[str, str | bytes]:
    """The files beside the review, by name."""
    parts = parts_of(design)
    cut = cut_parts(parts.parts, making)
    names = part_files([part.name for part in cut])
    content: dict[str, str | bytes] = {}
    for file, part in zip(names, cut):
        tell(f"cut file of {part.name}")
        path = cut_file(part, making, findings.verdict)
        content |= {f"{file}.svg": path.svg(), f"{file}.dxf": path.dxf()}
        if making.solids:
            tell(f"solid of {part.name}")
            content |= solid_files(file, part_solid(part, making, findings.verdict))
    for paper in sheets.PAPERS:
        tell(f"sheets for {paper}")
        content[f"sheets_{paper}.pdf"] = sheets.bound(pages(design, parts, findings, paper))
    return content | {"parts.csv": parts_table(parts)}


def written_pieces(
    design: Design, folder: Path, making: Making, tell: Callable[[str], Any]
) -> list[tuple[Path, Piece | None]]:
    """Write the two test pieces of a design, one for a beam and one for a printer, each with its sheets.

    Returns the files; beside the last one of each piece the piece itself, with its sentence.
    ValueError for a shaft too thin for one.
    """
    tell("test piece")
    verdict = f"a test piece, no part; its design: {review(design).verdict}"
    content: dict[str, str | bytes] = {}
    last: dict[str, Piece] = {}  # by the last file of each
    for piece in trial_pieces(design.unit, [shaft.diameter for shaft in design.shaft], making.tolerance):
        cut = replace(piece.file, verdict=verdict).with_colours(making.colours)
        content |= {f"{cut.name}.svg": cut.svg(), f"{cut.name}.dxf": cut.dxf()}
        if making.solids and cut.name.endswith("print"):
            content |= solid_files(cut.name, piece_solid(piece, verdict=verdict))
        for paper in sheets.PAPERS:
            block = sheets.TitleBlock(design.name, cut.name, design.unit, verdict, care=SHORT_CARE)
            content[f"{cut.name}_{paper}.pdf"] = sheets.bound(
                sheets.pages(piece_drawing(piece), paper, block)
            )
        last[next(reversed(content))] = piece
    write_files(folder, content)
    return [(folder / name, last.get(name)) for name in content]


def pages(design: Design, parts: PartsList, findings: Ledger, paper: str) -> Iterator[Any]:
    """The sheets of a design, page by page: the assembly first, then each part in true size."""

    def block(part: str, quantity: int = 0, material: str = "") -> sheets.TitleBlock:
        return sheets.TitleBlock(
            design.name,
            part,
            design.unit,
            findings.verdict,
            material=material,
            quantity=quantity,
            care=SHORT_CARE,
        )

    if design.plate is not None and design.gear:
        yield from _assembly(design, paper, block("assembly"))
    for part in parts.parts:
        for drawing in drawings(design, part, paper):
            scene = drawing if isinstance(drawing, Scene) else drawing(1.0)
            of = block(scene.title, part.quantity, part.material)
            yield from _on_paper(drawing, paper, of)


def _on_paper(drawing: Scene | Picture, paper: str, block: sheets.TitleBlock) -> list[Any]:
    if isinstance(drawing, Scene):
        return sheets.pages(drawing, paper, block)
    return sheets.fitted(lambda scale: drawing(sheets.smaller(scale)), paper, block)


def _assembly(design: Design, paper: str, block: sheets.TitleBlock) -> list[Any]:
    """The assembly on one page; of very many pieces without their list, none if even that is too large."""
    per_unit = convert(1.0, design.unit, "mm")
    for listed in (True, False):

        def picture(scale: float, listed: bool = listed) -> Scene:
            return drive(design, scale=scale * per_unit, listed=listed)

        try:
            return sheets.fitted(picture, paper, block)
        except ValueError:
            continue
    return []


def drawings(design: Design, part: Part, paper: str = "A4") -> list[Scene | Picture]:
    """The drawings of a part, in true size or as small as one page takes; none of a piece that is bought."""
    if isinstance(part, PlatePart):
        return plate_drawings(part, paper)
    if isinstance(part, ShaftPart):
        return [fitting(partial(shaft_drawing, part), paper)]
    if isinstance(part, RackPart):
        return rack_drawing(part, paper)
    if isinstance(part, BevelPart):
        return bevel_drawing(part, paper)
    if isinstance(part, GearPart):
        return gear_drawing(part, tooth_data(design, part.name), paper)
    return []


def part_files(names: list[str]) -> list[str]:
    """Names of files for parts, without their endings.

    Safe on every disk and no two alike, also where capitals do not count.

    >>> part_files(["wheel 45/2", "../Wheel", "wheel", "WHEEL", "sheets_A4"])
    ['wheel 45_2', '_Wheel', 'wheel', 'WHEEL-2', 'sheets_A4']
    """
    files: list[str] = []
    for name in names:
        plain = re.sub(r"[^\w ()+-]", "_", re.sub(r"[.][.]+", "", name)).strip()[:60].rstrip() or "part"
        plain += "_" if RESERVED.fullmatch(plain) else ""
        taken, file, number = {file.casefold() for file in files}, plain, 2
        while file.casefold() in taken:
            file, number = f"{plain}-{number}", number + 1
        files.append(file)
    return files
