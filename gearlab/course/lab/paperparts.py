"""True-size parts of a lab: paper gears to cut out, plates good and bad, the gear that does not belong.

On paper, two plates of a kit are x and y: which of them is wrong stands in the answer book alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

import numpy as np

from gearlab.care import short
from gearlab.course.bench.files import Making, cut_file
from gearlab.course.lab.runsheet import Bad, Kit, RunSheet
from gearlab.drawing import sheets
from gearlab.drawing.scene import Scene
from gearlab.drawing.shapes import Circle, Dot, Label, Line, Outline, Shape
from gearlab.drawing.workshop import Picture, plate_drawings
from gearlab.parts import Gear
from gearlab.parts.made import GearPart, Limits, PlateHole, PlatePart, Spacing
from gearlab.theory.units import convert

CARE = short("turning", "drilling")
GAP = 6.0  # between two gears on a page [mm]
FACE = 6.0  # of a cut gear, as thick as its sheet [mm]
BENCH_ONLY = "for the lab bench only, never for a drive"


def gears(kit: Kit) -> tuple[Gear, Gear]:
    """Pinion and wheel of a kit."""
    return Gear(kit.driver_teeth, module=kit.module), Gear(kit.driven_teeth, module=kit.module)


def bad_gear(kit: Kit, bad: Bad) -> Gear | None:
    """The gear of a kit that does not belong, None for a bad plate."""
    if bad.what == "plate":
        return None
    teeth = kit.driver_teeth if bad.what == "driver" else kit.driven_teeth
    if bad.diametral_pitch is not None:
        return Gear(teeth, diametral_pitch=bad.diametral_pitch)
    return Gear(teeth, module=bad.module)


def which_is_bad(sheet: RunSheet, kit: Kit) -> str:
    """The letter of a kit's bad plate, "x" or "y": not the same in neighbouring kits."""
    return "xy"[[each.name for each in sheet.table.kit].index(kit.name) % 2]


def plates(sheet: RunSheet, kit: Kit) -> list[PlatePart]:
    """The plates x and y of a kit, one of them drilled wrong on purpose; one plate where none is bad."""
    bad = next((bad for bad in sheet.table.bad if bad.what == "plate"), None)
    if bad is None:
        return [_plate(sheet, kit, "", 0.0)]
    return [_plate(sheet, kit, name, bad.by if name == which_is_bad(sheet, kit) else 0.0) for name in "xy"]


def _plate(sheet: RunSheet, kit: Kit, name: str, by: float) -> PlatePart:
    table = sheet.table.plate
    spacing = kit.centre_distance + by
    tips = [(teeth + 2) * kit.module / 2 for teeth in (kit.driver_teeth, kit.driven_teeth)]
    left = (table.length - (tips[0] + spacing + tips[1])) / 2 + tips[0]
    # a plate that is smaller than its gears keeps its holes in the middle
    left = max(left, table.hole * 1.5)
    up = table.height / 2
    holes = []
    for word, place in (("pinion", left), ("wheel", left + spacing)):
        edge = min(place, table.length - place, up)
        holes.append(PlateHole(word, round(place, 3), up, table.hole, True, round(edge, 3)))
    return PlatePart(
        f"plate {kit.name}{name}",
        table.length,
        table.height,
        table.thickness,
        "mm",
        tuple(holes),
        (Spacing(("pinion", "wheel"), spacing, 0.1, f"kit {kit.name}"),),
        table.material,
    )


def paper_gears(sheet: RunSheet, paper: str, copies: dict[str, int]) -> Iterator:
    """The gears of every kit on a page, then those that do not belong, as figures in true size.

    copies: how often each page is wanted, by kit.
    """
    for kit in sheet.table.kit:
        times = _times(copies.get(kit.name, 0))
        pair = gears(kit)
        yield from sheets.pages(
            _cut_outs(sheet, kit, pair), paper, _block(sheet, f"paper gears, kit {kit.name}: {times}")
        )
        for bad in sheet.table.bad:
            gear = bad_gear(kit, bad)
            if gear is not None:
                scene = _cut_outs(sheet, kit, (gear,), marked=True)
                yield from sheets.pages(scene, paper, _block(sheet, f"gear {kit.name}z: {times}"))


def _times(copies: int) -> str:
    """How often a page is wanted, in words."""
    if not copies:
        return "no bench has it"
    return "print it once" if copies == 1 else f"print it {copies} times"


def _block(sheet: RunSheet, part: str) -> sheets.TitleBlock:
    care = f"Glue it on card; scissors cut away from the hand. {short('turning')}"
    return sheets.TitleBlock(sheet.lab.title, part, "mm", f"none; {BENCH_ONLY}", "1 : 1", "card", 0, care)


def _cut_outs(sheet: RunSheet, kit: Kit, pair: tuple[Gear, ...], marked: bool = False) -> Scene:
    """Gears to cut out: outline, pitch circle, bore, tooth 0 marked, cross of the centre."""
    shapes: list[Shape] = []
    level, told, wide = 0.0, [], 0.0
    for gear in pair:
        per = convert(1.0, gear.unit, "mm")
        radius = gear.outside_diameter * per / 2
        centre = np.array([0.0, level - radius])
        pitch = gear.pitch_diameter * per / 2
        x, y = float(centre[0]), float(centre[1])
        shapes += [
            Outline(np.asarray(gear.outline()[:-1]) * per + centre, "outline", "gear"),
            Circle((x, y), pitch, "pitch circle", "gear"),
            Circle((x, y), sheet.table.plate.bore / 2, "hole"),
            Line((x - 7.5, y), (x + 7.5, y), "construction"),
            Line((x, y - 7.5), (x, y + 7.5), "construction"),
            Line((x + radius - 5.0, y), (x + radius - 1.5, y), "mark"),
            Dot((x, y), "centre"),
        ]
        words = f"{kit.name}z" if marked else f"{kit.name}: {gear.teeth} teeth"
        shapes.append(Label((x, y - sheet.table.plate.bore / 2 - 5.0), words, size="small"))
        told.append(f"{gear.teeth} teeth, {2 * radius:.2f} mm over the tips")
        level, wide = level - 2 * radius - GAP, max(wide, radius)
    text = f"Kit {kit.name} in true size: {'; '.join(told)}."
    return Scene(tuple(shapes), text, "mm", title=f"kit {kit.name}", bounds=(-wide, level + GAP, wide, 0.0))


def plate_sheets(sheet: RunSheet, paper: str) -> Iterator:
    """The plates of every kit in true size, as figures."""
    for kit in sheet.table.kit:
        for plate in plates(sheet, kit):
            for drawing in plate_drawings(plate, paper):
                block = sheets.TitleBlock(
                    sheet.lab.title,
                    plate.name,
                    "mm",
                    f"none; {BENCH_ONLY}",
                    material=plate.material,
                    care=CARE,
                )
                if isinstance(drawing, Scene):
                    yield from sheets.pages(drawing, paper, block)
                else:
                    yield from sheets.fitted(partial(_smaller, drawing), paper, block)


def _smaller(picture: Picture, scale: float) -> Scene:
    return picture(sheets.smaller(scale))


def cut_files(sheet: RunSheet, cut_width: float = 0.0) -> dict[str, str]:
    """SVG and DXF of every plate and gear that a beam cuts, by name of file."""
    parts: dict[str, GearPart | PlatePart] = {}
    bore = Limits(sheet.table.plate.bore)
    for kit in sheet.table.kit:
        for plate in plates(sheet, kit):
            parts[plate.name.replace(" ", "_")] = plate
        for gear in gears(kit):
            parts[f"gear_{gear.teeth}_module_{kit.module:g}"] = GearPart(
                f"gear {gear.teeth}", gear, FACE, bore
            )
        for bad in sheet.table.bad:
            wrong = bad_gear(kit, bad)
            if wrong is not None:
                per = convert(1.0, "mm", wrong.unit)
                own = Limits(bore.nominal * per)
                parts[f"gear_{kit.name}z"] = GearPart(f"gear {kit.name}z", wrong, FACE * per, own)
    files: dict[str, str] = {}
    for name, part in parts.items():
        cut = cut_file(part, Making(cut_width * convert(1.0, "mm", part.unit)), BENCH_ONLY)
        files |= {f"{name}.svg": cut.svg(), f"{name}.dxf": cut.dxf()}
    return files
