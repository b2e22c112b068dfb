"""How the faces of gears in mesh stand along their shafts, and what an idler's shaft takes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from ..design import Design, GearTable, MeshTable
from ..gear import Gear
from ..load import Load
from ..mesh import Mesh
from ..train import Train
from .advice import Way, together
from .finding import Held, Outcome, down, said
from .ledger import Checks
from .making import same_unit
from .moves import places_told, raised, swung, told
from .room import LEAST_GAP
from .sentences import finding, unit_of, unmade

# Width of a face in modules up to which gears of a machine are usual, and what is advised instead (common
# practice: 8/P to 16/P, 12/P where nothing speaks against it; a gear of card or of a thin sheet is narrower).
WIDEST, ADVISED = 16.0, 12.0
LEAST_FACES = 0.9  # share of the narrower face that should be in mesh (common practice)
CHECKS = Checks()


def in_mesh(design: Design, pair: MeshTable) -> float:
    """Width over which the faces of two gears are in mesh [unit]; below 0 they miss each other."""
    ends = []
    for name in pair.gears:
        middle, half = design.face_height(name), _width(design, name) / 2
        ends.append((middle - half, middle + half))
    return min(end[1] for end in ends) - max(end[0] for end in ends)


def _width(design: Design, name: str) -> float:
    """Face width, measured where it was [unit]."""
    reading = design.reading(name, "face_width")
    return reading.value if reading is not None else design.of(name).face_width


@CHECKS.row(
    "faces in mesh",
    "Are the faces of each mesh at one height?",
    "faces-miss",
    "faces-partly-miss",
    of="mesh",
)
def _faces(design: Design, pair: MeshTable) -> Outcome:
    narrow = min(_width(design, name) for name in pair.gears)
    common, least = in_mesh(design, pair), LEAST_FACES * narrow
    measured = any(design.reading(name, "face_width") for name in pair.gears)
    if common >= least - 1e-9:
        what = f"face in mesh, {'measured' if measured else 'as drawn'},"
        return Held(pair.name, what, common, least, design.unit)
    return finding(
        "faces-miss" if common <= 1e-9 else "faces-partly-miss",
        design,
        pair.name,
        lambda: _levelled(design, pair),
        compared=(common, least),
        apart=abs(design.face_height(pair.driver) - design.face_height(pair.driven)),
        face=narrow,
        share=said(LEAST_FACES * 100),
    )


def _levelled(design: Design, pair: MeshTable) -> Iterator[Iterable[Way]]:
    yield _as_wide(design, pair)
    low, high = sorted(pair.gears, key=design.face_height)
    by = design.face_height(high) - design.face_height(low)
    yield [Way(*_turned(design, name)) for name in (low, high) if design.of(name).hub_projection > 0]
    yield [*_washers(design, low, by), *_lowered(design, high, by), *_both(design, low, high, by)]
    yield [
        way
        for name, other in ((low, high), (high, low))
        if design.of(name).hub_projection > 0
        for way in _turned_and_levelled(design, name, other)
    ]


def _as_wide(design: Design, pair: MeshTable) -> Iterator[Way]:
    """A face that is several times as wide as its mate's made as wide as that."""
    for name in pair.gears:
        mate = pair.mate_of(name)
        width = design.of(mate).face_width
        if design.of(name).face_width > 2 * width:
            says = f"Make the face of {name} {said(width, design.unit)} wide, as its mate's"
            yield Way(says, {"gear": {name: {"face_width": width}}})


def _washers(design: Design, name: str, by: float) -> Iterator[Way]:
    """A gear raised, alone and with what stands above it, or with that left where it is."""
    says = f"Make the gap under {name} {said(round(design.of(name).gap + by, 6), design.unit)} with washers"
    for edit in _rising(design, name, by):
        yield Way(f"{says}{_others(design, name, edit)}{told(design, edit)}", edit)


def _above(design: Design, name: str) -> list[str]:
    on_shaft = [table.name for table in design.on(design.of(name).shaft)]
    return on_shaft[on_shaft.index(name) + 1 :]


def _rising(design: Design, name: str, by: float) -> Iterator[dict]:
    above = _above(design, name)
    gap = design.of(name).gap + by
    if above and design.of(above[0]).gap - by >= LEAST_GAP[design.unit]:
        yield dict(raised(design, {name: gap, above[0]: design.of(above[0]).gap - by}))
    yield dict(raised(design, {name: gap}))
    # all that meshes with what stands above goes up as well
    mates = {
        mesh.mate_of(upper): design.of(mesh.mate_of(upper)).gap + by
        for upper in above
        for mesh in design.meshes_of(upper)
    }
    if mates:
        yield dict(raised(design, {name: gap, **mates}))


def _others(design: Design, name: str, edit: dict) -> str:
    gaps = [
        f"{said(fields['gap'], design.unit)} under {other}"
        for other, fields in edit.get("gear", {}).items()
        if other != name and "gap" in fields
    ]
    return "".join(f", {text}" for text in gaps)


def _lowered(design: Design, name: str, by: float) -> Iterator[Way]:
    gap = round(design.of(name).gap - by, 6)
    if gap < LEAST_GAP[design.unit]:
        return
    above = _above(design, name)
    gaps = {name: gap} | ({above[0]: design.of(above[0]).gap + by} if above else {})
    edit = dict(raised(design, gaps))
    says = f"Make the gap under {name} {said(gap, design.unit)}"
    yield Way(f"{says}{_others(design, name, edit)}{told(design, edit)}", edit)


def _both(design: Design, low: str, high: str, by: float) -> Iterator[Way]:
    """The higher one as low as it goes, the other raised by what is left."""
    down = design.of(high).gap - LEAST_GAP[design.unit] * 10
    if 0 < down < by:
        gaps = {high: round(design.of(high).gap - down, 6), low: round(design.of(low).gap + by - down, 6)}
        edit = raised(design, gaps)
        text = " and ".join(f"{said(gap, design.unit)} under {name}" for name, gap in gaps.items())
        yield Way(f"Make the gap {text}{told(design, edit)}", edit)


def _turned(design: Design, name: str) -> tuple[str, dict]:
    side = "away" if design.of(name).hub_side == "plate" else "plate"
    where = "away from the plate" if side == "away" else "towards the plate"
    return f"Turn {name} round, its hub {where}", {"gear": {name: {"hub_side": side}}}


def _turned_and_levelled(design: Design, name: str, other: str) -> Iterator[Way]:
    says, edit = _turned(design, name)
    turned = type(design)(**design.tables).with_(**edit)
    low, high = sorted((name, other), key=turned.face_height)
    by = turned.face_height(high) - turned.face_height(low)
    for way in (*_washers(turned, low, by), *_lowered(turned, high, by)):
        more = way.says[0].lower() + way.says[1:]
        yield Way(f"{says}, and {more}", together(edit, way.edit))


# -- widths ------------------------------------------------------------------------------------------------
@CHECKS.row(
    "width of the faces",
    "Are the faces of each mesh as wide as their teeth call for?",
    "face-too-wide",
    of="mesh",
)
def _widths(design: Design, pair: MeshTable) -> Iterator[Outcome]:
    """A face that is too wide for its teeth bears at one end alone."""
    if not all(same_unit(design, design.of(name)) for name in pair.gears):
        yield unmade("width in another unit", design, pair.name, unit=design.unit)
        return
    scale = design.toothed[pair.driver].scale
    face = min(_width(design, name) for name in pair.gears)
    if face <= WIDEST * scale * (1 + 1e-9):
        what = "width of its faces in modules"
        yield Held(pair.name, what, face / scale, WIDEST, "modules", least=False)
        yield from _idle_face(design, pair, scale)
        return
    yield finding(
        "face-too-wide",
        design,
        pair.name,
        lambda: [_narrowed(design, pair.gears, scale)],
        compared=(face, WIDEST * scale),
        modules=said(face / scale),
    )


def _idle_face(design: Design, pair: MeshTable, scale: float) -> Iterator[Outcome]:
    """A face that is too wide for its teeth, of which most is not in mesh."""
    wide = max(pair.gears, key=lambda name: _width(design, name))
    face, mate = _width(design, wide), min(_width(design, name) for name in pair.gears)
    if face > WIDEST * scale * (1 + 1e-9):
        yield finding(
            "face-too-wide, of one",
            design,
            wide,
            lambda: [_as_its_mate(design, wide, mate)],
            compared=(face, WIDEST * scale),
            modules=said(face / scale),
            mate=mate,
        )


def _as_its_mate(design: Design, name: str, face: float) -> Iterator[Way]:
    """A face made as wide as its mate's, on a shaft that is shorter by as much, or as long as it is."""
    shaft, by = design.shaft_of(name), design.of(name).face_width - face
    gear = {"gear": {name: {"face_width": face}}}
    shorter = {} if shaft.length is None else {"shaft": {shaft.name: {"length": round(shaft.length - by, 6)}}}
    for edit in (gear | shorter, gear):
        says = f"Make the face of {name} {said(face, design.unit)} wide, as its mate's"
        yield Way(f"{says}{told(design, edit)}", edit)


def _narrowed(design: Design, names: tuple[str, ...], scale: float) -> Iterator[Way]:
    """Both faces narrower by as much, on shafts that are shorter by as much."""
    narrow = min(names, key=lambda name: design.of(name).face_width)
    for modules in (ADVISED, WIDEST):
        face = down(modules * scale, design.unit)
        by = design.of(narrow).face_width - face
        gears = {name: {"face_width": round(design.of(name).face_width - by, 6)} for name in names}
        text = " and ".join(
            f"{said(edit['face_width'], design.unit)} on {name}" for name, edit in gears.items()
        )
        for shafts in (True, False):
            shorter = {
                shaft.name: {"length": round(shaft.length - by, 6)}
                for name in names
                for shaft in (design.shaft_of(name),)
                if shafts and shaft.length is not None and shaft.length > by
            }
            edit = {"gear": gears, "shaft": shorter} if shorter else {"gear": gears}
            yield Way(f"Make the faces narrower, {text}{told(design, edit)}", edit)


# -- idlers ------------------------------------------------------------------------------------------------
def _idlers(design: Design) -> Iterator[tuple[GearTable, str, str]]:
    """Gears that are driven by one other and drive one, with those two."""
    for table in design.gear:
        before = [pair.driver for pair in design.mesh if pair.driven == table.name]
        after = [pair.driven for pair in design.mesh if pair.driver == table.name]
        if len(before) == len(after) == 1:
            yield table, before[0], after[0]


@CHECKS.row("idlers", "What does the shaft of an idler take?", "idler-takes-both-meshes", of=_idlers)
def _idler(design: Design, table: GearTable, before: str, after: str) -> Outcome:
    """The push of both meshes, whatever torque it hands on."""
    torque = design.torques.get(design.of(before).shaft)
    gears = [design.toothed[name] for name in (before, table.name, after)]
    if torque is None:
        return unmade("push", design, table.name)
    if not all(isinstance(gear, Gear) for gear in gears):
        return unmade("push, in a ring", design, table.name)
    try:
        force = Load(Mesh(gears[0], gears[1]), torque).tangential_force
        angles = design.line_angle(before, table.name), design.line_angle(table.name, after)
        push = math.hypot(*Train(tuple(gears), angles).idler_load(force))
    except ValueError:
        return unmade("push, no mesh", design, table.name)
    unit = unit_of(design, "force")
    if push <= 1.5 * force:
        return Held(table.name, "push of both meshes on its shaft", push, 1.5 * force, unit, least=False)
    return finding(
        "idler-takes-both-meshes",
        design,
        table.name,
        lambda: [_out_of_line(design, table.name, after)],
        push=f"{said(push)} {unit}",
        times="twice" if abs(push / force - 2) < 0.005 else f"{said(push / force)} times",
        force=f"{said(force)} {unit}",
    )


_STOUT = "Give it a stout shaft and a short lever, or a second bearing"


def _out_of_line(design: Design, idler: str, driven: str) -> Iterator[Way]:
    """What an idler drives swung round it, out of the line in which the pushes add up."""
    shaft = design.of(driven).shaft
    for turn in (60, -60, 75, -75, 90, -90, 105, -105):
        edit = swung(design, idler, driven, turn)
        moved = [name for name in edit.get("shaft", {}) if name == shaft]
        others = " and what hangs on it with it" if len(edit.get("shaft", {})) > 1 else ""
        says = f"{_STOUT}; or, out of the line, set shaft {places_told(design, edit, moved)}{others}"
        yield Way(f"{says}{told(design, edit)}", edit)
