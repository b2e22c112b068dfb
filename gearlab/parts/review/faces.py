"""How the faces of gears in mesh stand along their shafts, and what an idler's shaft takes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import partial

from ..design import Design, GearTable, MeshTable
from ..gear import Gear
from ..load import Load
from ..mesh import Mesh
from ..train import Train
from .advice import Advised, Way, together
from .finding import Held, Outcome, Unmade, both, down, said
from .ledger import Check
from .making import same_unit
from .moves import places_told, raised, swung, told
from .room import LEAST_GAP

# Width of a face in modules up to which gears of a machine are usual, and what is advised instead (common
# practice: 8/P to 16/P, 12/P where nothing speaks against it; a gear of card or of a thin sheet is narrower).
WIDEST, ADVISED = 16.0, 12.0
LEAST_FACES = 0.9  # share of the narrower face that should be in mesh (common practice)


def in_mesh(design: Design, pair: MeshTable) -> float:
    """Width over which the faces of two gears are in mesh [unit]; below 0 they miss each other."""
    ends = []
    for name in (pair.driver, pair.driven):
        middle, half = design.face_height(name), _width(design, name) / 2
        ends.append((middle - half, middle + half))
    return min(end[1] for end in ends) - max(end[0] for end in ends)


def _width(design: Design, name: str) -> float:
    """Face width, measured where it was [unit]."""
    reading = design.reading(name, "face_width")
    return reading.value if reading is not None else design.of(name).face_width


def _faces(design: Design) -> Iterator[Outcome]:
    unit = design.unit
    for pair in design.mesh:
        heights = design.face_height(pair.driver), design.face_height(pair.driven)
        narrow = min(_width(design, pair.driver), _width(design, pair.driven))
        common, least = in_mesh(design, pair), LEAST_FACES * narrow
        by = (
            "measured"
            if any(design.reading(name, "face_width") for name in (pair.driver, pair.driven))
            else "as drawn"
        )
        if common >= least - 1e-9:
            yield Held(pair.name, f"face in mesh, {by},", common, least, unit)
            continue
        missed = common <= 1e-9
        value, limit = both(common, least, unit)
        yield Advised(
            "faces-miss" if missed else "faces-partly-miss",
            "will not work" if missed else "will trouble",
            pair.name,
            f"the middles of the faces stand {said(abs(heights[0] - heights[1]), unit)} apart in height."
            if missed
            else f"only {value} of the {said(narrow, unit)} face are in mesh.",
            "The faces must meet."
            if missed
            else f"At least {said(LEAST_FACES * 100)} %, {limit}, should be.",
            "Not one tooth touches, however right the centre distance."
            if missed
            else "The load sits on the ends of the teeth.",
            design=design,
            ways=partial(_levelled, design, pair),
            otherwise="Turn a hub round, or use washers that bring both to one height.",
        )


def _levelled(design: Design, pair: MeshTable) -> Iterator[Iterable[Way]]:
    yield _as_wide(design, pair)
    low, high = sorted((pair.driver, pair.driven), key=design.face_height)
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
    for name, mate in ((pair.driver, pair.driven), (pair.driven, pair.driver)):
        width = design.of(mate).face_width
        if design.of(name).face_width > 2 * width:
            says = f"Make the face of {name} {said(width, design.unit)} wide, as its mate's"
            yield Way(says, {"gear": {name: {"face_width": width}}})


def _washers(design: Design, name: str, by: float) -> Iterator[Way]:
    """A gear raised, alone and with what stands above it, or with that left where it is."""
    gap = round(design.of(name).gap + by, 6)
    for edit in _rising(design, name, by):
        says = f"Make the gap under {name} {said(gap, design.unit)} with washers"
        yield Way(f"{says}{_others(design, name, edit)}{told(design, edit)}", edit)


def _rising(design: Design, name: str, by: float) -> Iterator[dict]:
    on_shaft = [table.name for table in design.on(design.of(name).shaft)]
    above = on_shaft[on_shaft.index(name) + 1 :]
    gap = design.of(name).gap + by
    if above and design.of(above[0]).gap - by >= LEAST_GAP[design.unit]:
        yield dict(raised(design, {name: gap, above[0]: design.of(above[0]).gap - by}))
    yield dict(raised(design, {name: gap}))
    # all that meshes with what stands above goes up as well
    mates = {
        other: design.of(other).gap + by
        for upper in above
        for mesh in design.mesh
        if upper in (mesh.driver, mesh.driven)
        for other in (mesh.driver, mesh.driven)
        if other != upper
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
    on_shaft = [table.name for table in design.on(design.of(name).shaft)]
    above = on_shaft[on_shaft.index(name) + 1 :]
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
    edit = {"gear": {name: {"hub_side": side}}}
    where = "away from the plate" if side == "away" else "towards the plate"
    return f"Turn {name} round, its hub {where}", edit


def _turned_and_levelled(design: Design, name: str, other: str) -> Iterator[Way]:
    says, edit = _turned(design, name)
    turned = type(design)(**design.tables).with_(**edit)
    low, high = sorted((name, other), key=turned.face_height)
    by = turned.face_height(high) - turned.face_height(low)
    for way in (*_washers(turned, low, by), *_lowered(turned, high, by)):
        more = way.says[0].lower() + way.says[1:]
        yield Way(f"{says}, and {more}", together(edit, way.edit))


# -- widths ------------------------------------------------------------------------------------------------
def _widths(design: Design) -> Iterator[Outcome]:
    """A face that is too wide for its teeth bears at one end alone."""
    unit = design.unit
    for pair in design.mesh:
        names = (pair.driver, pair.driven)
        if not all(same_unit(design, design.of(name)) and name in design.toothed for name in names):
            yield Unmade(
                pair.name,
                "width of its faces in modules",
                "sizes in millimetres and inches are mixed",
                f"give every size in {unit}",
            )
            continue
        scale = design.toothed[pair.driver].scale
        face = min(_width(design, name) for name in names)
        if face > WIDEST * scale * (1 + 1e-9):
            value, limit = both(face, WIDEST * scale, unit)
            yield Advised(
                "face-too-wide",
                "will trouble",
                pair.name,
                f"its faces are {value} wide, {said(face / scale)} modules.",
                f"Up to 16 modules, {limit}, they bear all along.",
                "Teeth as wide touch at one end alone, as soon as the shafts are not quite parallel.",
                "common practice: 8 to 16 modules; Mott, chapter 9 (from memory)",
                design=design,
                ways=partial(_alone, _narrowed(design, names, scale)),
                otherwise="Make the faces narrower, some twelve modules, or take larger teeth.",
            )
        else:
            yield Held(
                pair.name, "width of its faces in modules", face / scale, WIDEST, "modules", least=False
            )
            yield from _idle_face(design, pair, scale)


def _idle_face(design: Design, pair: MeshTable, scale: float) -> Iterator[Outcome]:
    """A face that is too wide for its teeth, of which most is not in mesh."""
    wide = max(pair.driver, pair.driven, key=lambda name: _width(design, name))
    face, mate = _width(design, wide), min(_width(design, name) for name in (pair.driver, pair.driven))
    if face <= WIDEST * scale * (1 + 1e-9):
        return
    value, limit = both(face, WIDEST * scale, design.unit)
    yield Advised(
        "face-too-wide",
        "worth knowing",
        wide,
        f"its face is {value} wide, {said(face / scale)} modules, and its mate's {said(mate, design.unit)}.",
        f"Up to 16 modules, {limit}, are usual.",
        "What is wider than its mate carries nothing, and asks for a longer shaft.",
        "common practice: 8 to 16 modules; Mott, chapter 9 (from memory)",
        design=design,
        ways=partial(_alone, _as_its_mate(design, wide, mate)),
        otherwise="Make it little wider than its mate's, unless its mate slides along it.",
    )


def _as_its_mate(design: Design, name: str, face: float) -> Iterator[Way]:
    """A face made as wide as its mate's, on a shaft that is shorter by as much, or as long as it is."""
    shaft, by = design.shaft_of(name), design.of(name).face_width - face
    gear = {"gear": {name: {"face_width": face}}}
    shorter = {} if shaft.length is None else {"shaft": {shaft.name: {"length": round(shaft.length - by, 6)}}}
    for edit in (gear | shorter, gear):
        says = f"Make the face of {name} {said(face, design.unit)} wide, as its mate's"
        yield Way(f"{says}{told(design, edit)}", edit)


def _alone(way: Iterator[Way]) -> list[Iterator[Way]]:
    return [way]


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
def _idlers(design: Design) -> Iterator[Outcome]:
    """An idler's shaft takes the push of both meshes, whatever torque it hands on."""
    for table in design.gear:
        before = [pair.driver for pair in design.mesh if pair.driven == table.name]
        after = [pair.driven for pair in design.mesh if pair.driver == table.name]
        if len(before) != 1 or len(after) != 1:
            continue
        yield _idler(design, table, before[0], after[0])


def _idler(design: Design, table: GearTable, before: str, after: str) -> Outcome:
    torque, gears = (
        design.torques.get(design.of(before).shaft),
        [design.toothed[n] for n in (before, table.name, after)],
    )
    what = "push of both meshes on its shaft"
    if torque is None:
        return Unmade(
            table.name, what, "the load is not stated", "add [load] with torque, that on the first shaft"
        )
    if not all(isinstance(gear, Gear) for gear in gears):
        return Unmade(
            table.name, what, "one of the three is a ring", "work it out from the forces of both meshes"
        )
    try:
        force = Load(Mesh(gears[0], gears[1]), torque).tangential_force
        angles = design.line_angle(before, table.name), design.line_angle(table.name, after)
        push = math.hypot(*Train(tuple(gears), angles).idler_load(force))
    except ValueError:
        return Unmade(table.name, what, "the gears do not mesh", "mend the mesh first")
    word = "N" if design.unit == "mm" else "lbf"
    if push <= 1.5 * force:
        return Held(table.name, "push of both meshes on its shaft", push, 1.5 * force, word, least=False)
    times = "twice" if abs(push / force - 2) < 0.005 else f"{said(push / force)} times"
    return Advised(
        "idler-takes-both-meshes",
        "worth knowing",
        table.name,
        f"its shaft is pushed with {said(push)} {word}, {times} one tooth's tangential force.",
        f"One mesh alone would turn it with {said(force)} {word}.",
        "The pushes of both meshes add up: the idler's shaft bends first.",
        "statics; an estimate for teaching",
        design=design,
        ways=lambda: [_out_of_line(design, table.name, after)],
        otherwise=f"{_STOUT}.",
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


CHECKS = (
    Check(
        "faces in mesh",
        "Do the faces of each mesh stand at one height?",
        ("faces-miss", "faces-partly-miss"),
        _faces,
    ),
    Check(
        "width of the faces",
        "Are the faces of each mesh as wide as their teeth call for?",
        ("face-too-wide",),
        _widths,
    ),
    Check("idlers", "What does the shaft of an idler take?", ("idler-takes-both-meshes",), _idlers),
)
